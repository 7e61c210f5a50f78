"""JSON Schemas of rule and standard files, made from the models and the vocabulary.

With them an editor completes the facts of the table a rule is over, the operators that fit each fact and the words it
can say. They say no more than the loader checks, and less: limits' units and names are checked by the loader alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from inspect import cleandoc
from math import isfinite
from typing import Any, Final

from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Fact, FactKind, Table
from mixlint.naming import ROLES
from mixlint.rulebook.faults import models_in
from mixlint.rulebook.house_file import StandardFile
from mixlint.rulebook.operators import LISTING, OPERATORS, fitting, member_kind
from mixlint.rulebook.rule_file import ID, RuleFile
from mixlint.rulebook.values import says_roles
from mixlint.session import Session
from mixlint.session.maybe import Frozen
from mixlint.session.processor import PROCESSOR_KINDS
from mixlint.units import UNITS

Json = dict[str, Any]

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_ROLE: Final[Json] = {"anyOf": [{"enum": list(ROLES)}, {"type": "string", "pattern": ID}]}
"""A shipped role, or one that a house defines in its word files, which no schema knows; the loader checks it."""
LIMIT: Final[Json] = {"$ref": "#/$defs/limits.NAME"}
OF_THE_ROW: Final[Json] = {"$ref": "#/$defs/{fact}"}


def rule_schema(tables: Mapping[str, Table[Any]]) -> Json:
    """The schema of a rule file under a vocabulary.

    Args:
        tables: the tables of facts by name.
    """
    schema = model_schema(RuleFile, "A mixlint rule")
    schema["properties"]["over"] = {
        **schema["properties"]["over"],
        "oneOf": [{"const": table.name, "description": table.meaning} for table in tables.values()],
    }
    schema["properties"]["when"] = {"description": schema["properties"]["when"]["description"]}
    schema["properties"]["must"] = {"description": schema["properties"]["must"]["description"]}
    schema["allOf"] = [
        {
            "if": {"properties": {"over": {"const": name}}, "required": ["over"]},
            "then": {"properties": {"when": _condition(name), "must": _condition(name)}},
        }
        for name in tables
    ]
    schema["$defs"]["Limit"]["properties"]["unit"]["enum"] = list(UNITS)
    schema["$defs"]["limits.NAME"] = {
        "type": "string",
        "pattern": r"^limits\.[A-Za-z0-9_-]+$",
        "description": "a limit of this rule, from [limits]",
    }
    schema["$defs"]["{fact}"] = {
        "type": "string",
        "pattern": r"^\{[a-z0-9_.]+\}$",
        "description": "the value of a fact of the row that the rule is over",
    }
    for name, table in tables.items():
        schema["$defs"][f"condition over {name}"] = _conditions(table, schema["$defs"])
    return schema


def standard_schema(rules: Iterable[RuleFile], settings: Iterable[Setting]) -> Json:
    """The schema of a standard file.

    A house's own rules have ids that no schema knows, so other ids are allowed too; the loader checks them.

    Args:
        rules: the shipped rules, whose ids, areas and limits are offered for completion.
        settings: every setting there is; each may be written with its whole name, or under its subject.
    """
    schema = model_schema(StandardFile, "A mixlint standard")
    known = sorted(rules, key=lambda rule: rule.id)
    ids = [rule.id for rule in known]
    areas = sorted({rule.area for rule in known})
    properties = schema["properties"]
    offered = {"anyOf": [{"enum": [*ids, *areas]}, {"type": "string"}]}
    properties["leave_out"]["items"] = offered
    properties["takes"]["anyOf"] = [{"const": "everything"}, {"type": "array", "items": offered}, {"type": "null"}]
    for key in ("grades", "may_sign"):
        each = properties[key]["additionalProperties"]
        properties[key]["properties"] = {
            rule.id: {**each, "description": f"{rule.title}. Written: {getattr(rule, _KEYS[key])}."} for rule in known
        }
    schema["$defs"]["limit of a rule"] = properties["limits"]["additionalProperties"]
    one_of_rule = properties["limits"]["additionalProperties"] = {"$ref": "#/$defs/limit of a rule"}
    properties["limits"]["properties"] = {
        f"{rule.id}.{name}": {**one_of_rule, "description": f"{limit.meaning} Written: {limit.value} {limit.unit}"}
        for rule in known
        for name, limit in rule.limits.items()
    }
    properties["settings"] = _settings(properties["settings"], settings)
    properties["roles"]["additionalProperties"] = _ROLE
    properties["processors"]["additionalProperties"] = {"enum": list(PROCESSOR_KINDS)}
    return schema


def _settings(body: Json, settings: Iterable[Setting]) -> Json:
    """The schema of ``[settings]``: numbers by their whole names, and tables of numbers by their subjects."""
    whole: Json = {}
    subjects: dict[str, Json] = {}
    for setting in settings:
        ends = {"minimum": setting.lowest, "maximum": setting.highest}
        unit = f" {setting.unit}" if setting.unit else ""
        one = {
            "type": "number",
            **{key: end for key, end in ends.items() if isfinite(end)},
            "description": f"{setting.meaning} Shipped: {setting.value:g}{unit}. Basis: {setting.basis}.",
        }
        whole[setting.name] = one
        subject, _, name = setting.name.partition(".")
        subjects.setdefault(subject, {})[name] = one
    tables = {
        name: {"type": "object", "additionalProperties": False, "properties": inner} for name, inner in subjects.items()
    }
    described = {key: said for key, said in body.items() if key == "description"}
    return {**described, "type": "object", "additionalProperties": False, "properties": {**whole, **tables}}


_KEYS: Final = {"grades": "grade", "may_sign": "may_sign"}


def model_schema(model: type[Frozen], title: str) -> Json:
    """The schema of a model, its keys described by the model's own documentation.

    Args:
        model: the model.
        title: the title of the schema.
    """
    schema = model.model_json_schema()
    documented: dict[str, type[Frozen]] = {one.__name__: one for one in _family(model)}
    for name, body in [(model.__name__, schema), *schema.get("$defs", {}).items()]:
        if name in documented:
            _describe(body, documented[name])
    schema.setdefault("$defs", {})
    return {"$schema": DIALECT, **schema, "title": title}


def identified(name: str, schema: Json) -> Json:
    """A schema with its ``$id``: ``urn:mixlint:NAME:VERSION``, the version of the form where it has one, else 1.

    Args:
        name: the name of the schema.
        schema: the schema, whose dialect stands first.
    """
    form = schema["properties"].get("format", {}).get("const", "mixlint/1")
    head = {"$schema": schema["$schema"], "$id": f"urn:mixlint:{name}:{form.rpartition('/')[2]}"}
    return {**head, **schema}


def session_schema() -> Json:
    """The schema of a session in the neutral form.

    A file may say which schema it keeps to, which is no part of the model: editors ask for it, and the reader passes it
    over.
    """
    schema = model_schema(Session, "A mix session in mixlint's neutral form")
    said = {"type": "string", "description": "The schema that an editor holds the file against; it is not read."}
    return {**schema, "properties": {"$schema": said, **schema["properties"]}}


def _family(model: type[Frozen]) -> Iterable[type[Frozen]]:
    """The model and every model it is made of."""
    found: dict[type[Frozen], None] = {}
    todo = [model]
    while todo:
        here = todo.pop()
        if here not in found:
            found[here] = None
            todo += [inner for field in here.model_fields.values() for inner in models_in(field.annotation)]
    return found


def _describe(body: Json, model: type[Frozen]) -> None:
    """Put the first lines of a model's documentation on it, and the line for each key on the key."""
    text = _documentation(model).partition("Args:")[0]
    body["description"] = " ".join(text.split())
    for parent in reversed(model.__mro__):
        keys = _documentation(parent).partition("Args:")[2] if issubclass(parent, Frozen) else ""
        for names, said in re.findall(r"^ {4}([a-z_, ]+): (.+(?:\n {8}.+)*)", keys, re.MULTILINE):
            for name in names.split(", "):
                if name in body.get("properties", {}):
                    body["properties"][name]["description"] = " ".join(said.split())


def _documentation(model: type) -> str:
    """A docstring without its indentation, which Python keeps before 3.13 and takes away from then on."""
    return cleandoc(model.__doc__ or "")


def _condition(table: str) -> Json:
    return {"$ref": f"#/$defs/condition over {table}"}


def _conditions(table: Table[Any], shared: Json) -> Json:
    """The schema of a condition over one table; what several facts have in common is put into ``shared``."""
    again = _condition(table.name)
    joints: Json = {
        "all": {"type": "array", "minItems": 1, "items": again, "description": "all of these hold"},
        "any": {"type": "array", "minItems": 1, "items": again, "description": "one of these holds, or more"},
        "not": {**again, "description": "this does not hold"},
    }
    facts = {fact.name: _fact(fact, shared) for fact in table.facts.values()}
    return {
        "type": "object",
        "description": table.meaning,
        "minProperties": 1,
        "additionalProperties": False,
        "properties": {**joints, **facts},
    }


def _fact(fact: Fact, shared: Json) -> Json:
    unit = f" In {fact.unit}." if fact.unit else ""
    if fact.of:
        return {"description": fact.meaning, "$ref": f"#/$defs/{_leading(fact, shared)}"}
    operators = {name: _operator(fact, fact.kind, name) for name in fitting(fact.kind)}
    asked = {"anyOf": [_literal(fact, fact.kind), _table(operators)]}
    name = next((known for known, body in shared.items() if body == asked), "")
    if not name:
        # Facts that say the same words share one definition, called after the first of them.
        name = f"{fact.kind} such as {fact.table} {fact.name}"
        shared[name] = asked
    return {"description": f"{fact.meaning}{unit}", "$ref": f"#/$defs/{name}"}


def _leading(fact: Fact, shared: Json) -> str:
    """The definition of what can be asked of the rows of a table, made where it is not there yet."""
    name = f"{'one row' if fact.kind == 'row' else 'rows'} of {fact.of}"
    asked: Json = {
        "count": _count(_condition(fact.of)),
        "known": {"description": OPERATORS["known"].meaning, "type": "boolean"},
    }
    asked |= {one: {**_condition(fact.of), "description": OPERATORS[one].meaning} for one in ("every", "some", "none")}
    shared[name] = _table(asked) if fact.kind == "rows" else {"anyOf": [_condition(fact.of), _table(asked)]}
    return name


def _count(of: Json) -> Json:
    """How many of them there are, or of how many something is true."""
    number: Json = {"anyOf": [{"type": "number"}, LIMIT]}
    several: Json = {"type": "array", "items": number}
    two: Json = {**several, "minItems": 2, "maxItems": 2}
    centre = {"type": "object", "properties": {"of": number, "by": number}, "required": ["of", "by"]}
    asked: Json = dict.fromkeys(("is", "is_not", "at_most", "at_least", "below", "above"), number)
    asked |= {
        "one_of": {**several, "minItems": 1},
        "between": {"anyOf": [two, LIMIT]},
        "within": {"anyOf": [centre, two]},
    }
    return {"description": OPERATORS["count"].meaning, **_table({"of": of, **asked})}


def _table(operators: Json) -> Json:
    return {"type": "object", "minProperties": 1, "additionalProperties": False, "properties": operators}


def _operator(fact: Fact, kind: FactKind, name: str) -> Json:
    return {"description": OPERATORS[name].meaning, **_wanted(fact, kind, name)}


def _wanted(fact: Fact, kind: FactKind, name: str) -> Json:
    """What an operator is compared with."""
    one = _literal(fact, kind)
    match OPERATORS[name].need:
        case "value":
            return one
        case "number":
            ways = (
                {"type": "object", "properties": {"of": one, way: {"anyOf": [{"type": "number"}, LIMIT]}},
                 "required": ["of", way], "additionalProperties": False}
                for way in ("plus", "minus")
            )  # fmt: skip
            return {"anyOf": [one, *ways]}
        case "pair":
            return {"anyOf": [{"type": "array", "items": one, "minItems": 2, "maxItems": 2}, LIMIT]}
        case "spread":
            both = {"of": one, "by": one}
            named = {"type": "object", "properties": both, "required": ["of", "by"], "additionalProperties": False}
            return {"anyOf": [named, {"type": "array", "items": one, "minItems": 2, "maxItems": 2}]}
        case "choice":
            return {"anyOf": [{"type": "array", "items": one, "minItems": 1}, LIMIT]}
        case "pattern":
            glob = {"type": "string"}
            return {"anyOf": [glob, {"type": "array", "items": glob, "minItems": 1}]}
        case "switch":
            return {"type": "boolean"}
        case "count":
            return _count(_wanted(fact, kind, "every"))
        case "each":
            inner = member_kind(fact)
            fit = [n for n in fitting(inner) if n != "known" and n not in LISTING]
            return {"anyOf": [_literal(fact, inner), _table({n: _operator(fact, inner, n) for n in fit})]}


def _literal(fact: Fact, kind: FactKind) -> Json:
    """A value of a kind, or a limit that stands for one."""
    if kind == "list":
        return {"type": "array", "items": _literal(fact, member_kind(fact))}
    if kind == "switch":
        return {"anyOf": [{"type": "boolean"}, LIMIT, OF_THE_ROW]}
    if kind == "word" and says_roles(fact):
        return {"anyOf": [{"enum": list(fact.words)}, {"type": "string", "pattern": ID}, LIMIT, OF_THE_ROW]}
    if kind == "word" and fact.words:
        return {"anyOf": [{"enum": list(fact.words)}, LIMIT, OF_THE_ROW]}
    return {"anyOf": [{"type": "number"}, LIMIT, OF_THE_ROW]} if kind == "number" else {"type": "string"}
