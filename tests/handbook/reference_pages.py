"""Pages of reference: fact tables, settings, standards, schemas, commands, forms, and what is computed where."""

from __future__ import annotations

import ast
import json
import pkgutil
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from importlib import import_module
from inspect import signature
from math import isfinite
from pathlib import Path
from typing import Any

from typer.testing import CliRunner

import mixlint
from mixlint.cli.app import app
from mixlint.facts import TABLES
from mixlint.importers.registry import IMPORTERS, STEMS
from mixlint.reports.fact_list import FactEntry, fact_list
from mixlint.reports.forms import RESULT_FORMS, REVIEW_FORMS
from mixlint.reports.words import with_unit
from mixlint.resources import folder
from mixlint.rulebook.settings import settings_of
from mixlint.store.columns import FORM, KINDS
from tests.handbook.markdown import block, bullets, code, docstring, escaped, table
from tests.handbook.rule_pages import every_rule, standards

HELP_WIDTH = 88
ROOMS = ("signal", "routing", "analysis", "media", "naming")
"""The rooms whose modules say how something is worked out."""


def toctree(names: Iterable[str]) -> str:
    """The pages below a page, which the contents beside it show."""
    return "```{toctree}\n:hidden:\n\n" + "".join(f"{name}\n" for name in names) + "```\n"


def fact_pages() -> dict[str, str]:
    """A page for every table of facts, and the list of them."""
    asking: dict[str, list[str]] = defaultdict(list)
    for rule in every_rule().values():
        asking[rule.over].append(rule.id)
    said = fact_list(TABLES.values())
    pages = {}
    rows = []
    for entry in said.tables:
        facts = [fact for fact in said.facts if fact.table == entry.name]
        rows.append(
            [f"[{entry.name}]({entry.name}.md)", escaped(entry.meaning), str(len(facts)), str(len(asking[entry.name]))]
        )
        settings = settings_of([TABLES[entry.name]])
        pages[f"facts/{entry.name}.md"] = "".join(
            [
                f"# Facts of every {escaped(entry.name)}\n\n{escaped(entry.meaning)}\n\n",
                f'A rule with `over = "{entry.name}"` asks these; `mixlint facts {entry.name}` prints them.\n\n',
                *(_fact(fact) for fact in facts),
                "## What a house can set\n\n" if settings else "",
                bullets(f"[{escaped(name)}](../settings.md): {escaped(s.meaning)}" for name, s in settings.items()),
                "\n## Rules over this table\n\n",
                bullets(f"[{escaped(name)}](../rules/{name}.md)" for name in asking[entry.name])
                or "No shipped rule; a house's own may ask it.\n",
            ]
        )
    head = (
        "# The facts\n\nA session becomes tables of facts, and a rule is a condition over the rows of one table. What "
        "is not known is a value with a reason. A fact is *declared* in the export, *measured* from audio, *derived* "
        "by computation or *assumed*, and says so where it is shown.\n\n"
    )
    pages["facts/index.md"] = (
        head + table(["table", "its rows", "facts", "rules"], rows) + "\n" + toctree(e.name for e in said.tables)
    )
    return pages


def _fact(fact: FactEntry) -> str:
    kind = f"{fact.kind} in {fact.unit}" if fact.unit else fact.kind
    words = f"\n\nSays: {', '.join(code(word) for word in fact.words)}" if fact.words else ""
    return f"## {escaped(fact.name)}\n\n*{escaped(kind)}, {fact.how}.* {escaped(fact.meaning)}{words}\n\n"


def settings_page() -> dict[str, str]:
    """Every setting, by subject."""
    subjects: dict[str, list[list[str]]] = defaultdict(list)
    for name, one in sorted(settings_of(TABLES.values()).items()):
        row = [
            code(name),
            escaped(with_unit(one.value, one.unit)),
            _range(one.lowest, one.highest),
            f"{escaped(one.meaning)} *{escaped(one.basis)}*",
        ]
        subjects[name.partition(".")[0]].append(row)
    said = (
        "# The settings\n\nA setting is a number that several rules share. A standard sets it under `[settings]`, by "
        "the name given here; a rule's page lists those that it rests on.\n\n"
    )
    for subject, rows in subjects.items():
        said += f"## {escaped(subject)}\n\n" + table(["setting", "as shipped", "range", "what it decides"], rows) + "\n"
    return {"settings.md": said}


def _range(lowest: float, highest: float) -> str:
    if isfinite(lowest) and isfinite(highest):
        return f"{lowest:g} to {highest:g}"
    return f"from {lowest:g}" if isfinite(lowest) else f"up to {highest:g}" if isfinite(highest) else "any"


def standards_page() -> dict[str, str]:
    """The standards that come with mixlint: what each is for, and what it changes."""
    said = "# The shipped standards\n\n`--standard NAME` takes one of these, and a house's own builds on one.\n\n"
    for name, standard in standards().items():
        file = next(path for path in (folder("rules") / "standards").glob("*.toml") if path.stem == name)
        grades: dict[str, int] = defaultdict(int)
        for rule in standard.rules.values():
            grades[rule.grade] += 1
        counts = ", ".join(f"{grades[grade]} at {grade}" for grade in ("hold", "look", "note"))
        said += (
            f"## {name}\n\n{len(standard.rules)} rules: {counts}.\n\n"
            + block(file.read_text(encoding="utf-8"), "toml")
            + "\n"
        )
    return {"standards.md": said}


def schema_pages() -> dict[str, str]:
    """A page for every JSON Schema, and the list of them."""
    pages, names = {}, []
    rows = []
    for path in sorted(folder("schemas").glob("*.schema.json")):
        schema = json.loads(path.read_text(encoding="utf-8"))
        name = path.name.removesuffix(".schema.json")
        names.append(name)
        rows.append([f"[{name}]({name}.md)", escaped(schema["title"]), code(f"schemas/{path.name}")])
        said = [
            f"# Schema: {escaped(schema['title'])}\n\n",
            f"The file is `schemas/{path.name}`, JSON Schema draft 2020-12.\n\n",
        ]
        said += _schema(schema.get("title", name), schema)
        for inner, body in schema.get("$defs", {}).items():
            if not inner.startswith(
                ("condition over ", "number such as", "word such as", "list such as", "text such as", "switch such as")
            ):
                said += _schema(inner, body)
        if name == "rule":
            said.append(
                "\nThe conditions of `when` and `must` are those of [the facts](../facts/index.md), table by table.\n"
            )
        pages[f"schemas/{name}.md"] = "".join(said)
    head = (
        "# The file forms\n\nWhat mixlint reads and writes as JSON or TOML has a JSON Schema, made from the models of "
        "the program. An editor that knows JSON Schema completes rules and standards with them.\n\n"
    )
    pages["schemas/index.md"] = head + table(["form", "what it is", "file"], rows) + "\n" + toctree(names)
    return pages


def _schema(name: str, body: Mapping[str, Any]) -> Iterator[str]:
    yield f"\n## {escaped(name)}\n\n{escaped(body.get('description', ''))}\n\n"
    if "enum" in body:
        yield f"One of {', '.join(code(str(word)) for word in body['enum'])}.\n\n"
    needed = body.get("required", [])
    rows = [
        [code(key), escaped(_kind(one)), "yes" if key in needed else "", escaped(one.get("description", ""))]
        for key, one in body.get("properties", {}).items()
    ]
    if rows:
        yield table(["key", "value", "needed", "meaning"], rows)


def _kind(body: Mapping[str, Any]) -> str:
    """What a value of a schema is, in a few words."""
    if "$ref" in body:
        return str(body["$ref"]).rpartition("/")[2]
    if "const" in body:
        return json.dumps(body["const"], ensure_ascii=False)
    if "enum" in body:
        words = [str(word) for word in body["enum"]]
        return "one of " + ", ".join(words[:8]) + (f" and {len(words) - 8} more" if len(words) > 8 else "")
    for joint in ("anyOf", "oneOf"):
        if joint in body:
            return " or ".join(dict.fromkeys(_kind(one) for one in body[joint]))
    if body.get("type") == "array":
        inner = body.get("items") or next(iter(body.get("prefixItems", [])), {})
        return f"list of {_kind(inner)}" if inner else "list"
    if body.get("type") == "object" and isinstance(body.get("additionalProperties"), Mapping):
        return f"table of {_kind(body['additionalProperties'])}"
    words = {"object": "table", "null": "nothing", "boolean": "true or false", "string": "text"}
    return words.get(str(body.get("type")), str(body.get("type", "value")))


def command_pages() -> dict[str, str]:
    """A page for every command: its help, word for word."""
    names = [str(one.name or one.callback.__name__) for one in app.registered_commands if one.callback is not None]
    pages = {}
    for name in names:
        about = next(
            o.callback.__doc__
            for o in app.registered_commands
            if o.callback is not None and o.callback.__name__ == name
        )
        pages[f"commands/{name}.md"] = f"# mixlint {name}\n\n{docstring(about)}\n{block(_help(name))}"
    head = (
        "# The commands\n\nEvery command prints its help with `--help`; these pages hold it word for word. Exit "
        "status: 0 clear, look first, or done; 1 held; 2 the input, the standard or the command cannot be used; 130 "
        "stopped.\n\n"
    )
    return {**pages, "commands/index.md": head + block(_help()) + "\n" + toctree(names)}


def _help(*command: str) -> str:
    shown = CliRunner(env={"COLUMNS": str(HELP_WIDTH), "TERM": "dumb"}).invoke(
        app, [*command, "--help"], prog_name="mixlint"
    )
    if shown.exit_code:
        raise RuntimeError(shown.output)
    return shown.stdout


def store_page() -> dict[str, str]:
    """What a store of reviews holds, view by view, from the declaration of its columns."""
    said = (
        f"# The form of a store\n\n[A store of reviews](archive.md) is of the form `mixlint-store/{FORM}`. A query "
        "sees these views; `latest` beside them has the columns of `sessions`. Any value may be null.\n\n"
    )
    for kind in reversed(KINDS.values()):
        rows = ([code(one.name), one.type, escaped(one.meaning)] for one in kind.columns)
        said += f"## {kind.name}\n\nOne row is {escaped(kind.meaning)}.\n\n"
        said += table(["column", "type", "what it says"], rows) + "\n"
    return {"store.md": said}


def forms_page() -> dict[str, str]:
    """What is read and what each form loses, and what is written."""
    said = (
        "# What is read and written\n\nEvery input form becomes the same neutral session. What a form cannot carry is "
        "said with each session read from it, and what rests on it is left open.\n\n## Input\n\n"
    )
    for one in (*IMPORTERS, STEMS):
        known = ", ".join(code(suffix) for suffix in one.suffixes) or "none of its own"
        shared = ", ".join(code(suffix) for suffix in one.shared_suffixes)
        about = import_module(one.module).__doc__
        said += f"### {escaped(' or '.join(title.removeprefix('a ') for title in one.titles))}\n\n{docstring(about)}\n"
        said += f"Reports call it {code(one.name)}. Suffixes: {known}" + (
            f"; {shared} where the first bytes are of this form.\n\n" if shared else ".\n\n"
        )
        said += (
            "It cannot carry:\n\n" + bullets(map(escaped, one.loses))
            if one.loses
            else "It carries all that a session holds.\n"
        )
        said += "\n"
    said += "## Forms of a review\n\n`mixlint review PATH --as FORM`:\n\n"
    said += table(["form", "what it is"], ([code(f.name), escaped(f.says)] for f in REVIEW_FORMS.values()))
    said += (
        "\n## Forms of other results\n\n`sheet`, `trace`, `rules`, `facts`, `compare` and `survey` take `--as` too:\n\n"
    )
    said += table(
        ["form", "what it is", "of which"],
        ([code(f.name), escaped(f.says), ", ".join(map(code, f.commands)) or "all"] for f in RESULT_FORMS.values()),
    )
    return {"forms.md": said}


def computation_pages() -> dict[str, str]:
    """What the modules that compute say of themselves: method, sources, and the numbers they rest on."""
    pages = {}
    home = Path(mixlint.__file__).parent
    for room in ROOMS:
        about = ast.get_docstring(ast.parse((home / room / "__init__.py").read_text(encoding="utf-8")))
        said = [f"# Room by room: {room}\n\n", docstring(about), "\n"]
        for module in pkgutil.iter_modules([str(home / room)]):
            path = home / room / f"{module.name}.py"
            if not module.name.startswith("_") and path.is_file():
                said += _module(module.name, ast.parse(path.read_text(encoding="utf-8")))
        pages[f"computations/{room}.md"] = "".join(said)
    head = (
        "# How it is computed, module by module\n\nThis is what the modules of the program say of their method, their "
        "sources and the numbers they rest on. [How each number is computed](../numbers.md) is the way in.\n\n"
    )
    pages["computations/index.md"] = head + bullets(f"[{room}]({room}.md)" for room in ROOMS) + "\n" + toctree(ROOMS)
    return pages


def _module(name: str, tree: ast.Module) -> Iterator[str]:
    yield f"\n## {escaped(name)}\n\n{docstring(ast.get_docstring(tree))}\n"
    rows = []
    for here, after in zip(tree.body, [*tree.body[1:], None], strict=True):
        match here:
            case ast.AnnAssign(target=ast.Name(id=constant), value=ast.Constant(value=int() | float() as value)) if (
                not isinstance(value, bool)
            ):
                told = (
                    after.value.value if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant) else ""
                )
                if not constant.startswith("_"):
                    rows.append([code(constant), f"{value:g}", docstring(str(told)).strip()])
    if any(row[2] for row in rows):
        yield table(["number", "value", "why"], (row for row in rows if row[2]))


def python_page() -> dict[str, str]:
    """The names that the package offers, with their documentation; few where it offers few."""
    names = list(getattr(mixlint, "__all__", ["__version__"]))
    said = f"# Python interface\n\n{docstring(mixlint.__doc__)}\n"
    said += "The package is typed (`py.typed`). These names are its public face; everything else may change.\n\n"
    for name in names:
        thing = getattr(mixlint, name)
        said += f"## {escaped(name)}\n\n"
        if callable(thing):
            said += block(f"{name}{_signature(thing)}") + "\n" + docstring(thing.__doc__) + "\n"
            said += "".join(_methods(thing)) if isinstance(thing, type) else ""
        elif isinstance(thing, str | int | float | tuple | frozenset):
            said += block(f"{name} = {thing!r}" if name != "__version__" else f"{name}: str") + "\n"
        else:
            said += docstring(type(thing).__doc__) + "\n"
    return {"python.md": said}


def _signature(thing: Any) -> str:
    """What it takes, as Python writes it; of a model its fields."""
    fields = getattr(thing, "__pydantic_fields__", None)
    if fields is not None:
        return "(" + ", ".join(name if one.is_required() else f"{name}=…" for name, one in fields.items()) + ")"
    try:
        return str(signature(thing)).replace("'", "")
    except (TypeError, ValueError):
        return "(…)"


def _methods(thing: type) -> Iterator[str]:
    for name, member in list(vars(thing).items()):
        inner = member.fget if isinstance(member, property) else getattr(member, "__func__", member)
        if not name.startswith("_") and callable(inner) and inner.__doc__ and not isinstance(inner, type):
            shown = name if isinstance(member, property) else f"{name}{_signature(inner)}"
            yield f"### {escaped(name)}\n\n{block(shown)}\n{docstring(inner.__doc__)}\n"
