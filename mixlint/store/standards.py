"""A standard as a store keeps it: its rules in force as they can be asked again, and what tells it from another."""

from __future__ import annotations

import json
from collections.abc import Mapping
from hashlib import sha256
from typing import TYPE_CHECKING, Any, Final, NamedTuple

if TYPE_CHECKING:
    from mixlint.rulebook import Standard
    from mixlint.rulebook.rule import Rule

_DIGITS: Final = 32
"""Hexadecimal digits of the digest of a standard: 128 bits."""


class KeptStandard(NamedTuple):
    """A standard as it is kept.

    Args:
        digest: of its rules in force, its settings and its own roles.
        columns: its rows of the kind ``rules``, column by column.
    """

    digest: str
    columns: Mapping[str, list[Any]]


def kept_standard(standard: Standard) -> KeptStandard:
    """What is kept of a standard."""
    own_roles = _own_roles(standard)
    settings = {name: one.value for name, one in sorted(standard.settings.items())}
    rules = [(rule, definition(rule)) for rule in standard.rules.values()]
    whole = _json(
        {"name": standard.name, "rules": [body for _, body in rules], "settings": settings, "roles": own_roles}
    )
    digest = sha256(whole.encode("utf-8", "replace")).hexdigest()[:_DIGITS]
    columns: dict[str, list[Any]] = {
        "standard_digest": [digest] * len(rules),
        "standard": [standard.name] * len(rules),
        "rule": [rule.id for rule, _ in rules],
        "rule_title": [rule.title for rule, _ in rules],
        "area": [rule.area for rule, _ in rules],
        "over": [rule.over for rule, _ in rules],
        "grade": [rule.grade for rule, _ in rules],
        "limits": [_json({name: limit.value for name, limit in rule.limits.items()}) for rule, _ in rules],
        "definition": [_json(body) for _, body in rules],
        "own_roles": [_json(own_roles)] * len(rules),
    }
    return KeptStandard(digest, columns)


LAID_DOWN: Final = "laid_down"
"""A key beside those of a rule file: a standard laid the grade down, so that the cases of ``grades`` do not count."""


def definition(rule: Rule) -> dict[str, Any]:
    """A rule as its file has it, with the grade, the limits and the signers that a standard laid down."""
    body = rule.file.model_dump(mode="json", exclude={"example"}, exclude_defaults=True)
    limits = {name: limit.model_dump(mode="json") for name, limit in rule.limits.items()}
    body |= {"grade": rule.grade, "may_sign": rule.may_sign}
    if limits:
        body["limits"] = limits
    if rule.file.grades and not rule.grades:
        body[LAID_DOWN] = True
    return body


def _own_roles(standard: Standard) -> dict[str, str]:
    """The house's own roles, each with the shipped one that it is like."""
    return {name: role.like for name, role in sorted(standard.house.vocabulary.own_roles.items())}


def _json(body: Any) -> str:
    # in the order in which it stands: a condition is asked in that order, and stops at the first part that is no
    return json.dumps(body, ensure_ascii=False, separators=(",", ":"))
