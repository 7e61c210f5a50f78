"""The roles a part can have, and the families that count as like parts: the words of ``rules/words/roles.toml``."""

from __future__ import annotations

from typing import Final

from mixlint.errors import Fault, RulebookError
from mixlint.naming.word_files import WordFile, listed, shipped_file


def role_families(file: WordFile) -> dict[str, str]:
    """Role to family, in the file's order.

    Raises:
        RulebookError: a role stands in two families.
    """
    found: dict[str, str] = {}
    faults = []
    for (family,), text in file.texts("family"):
        for role in listed(text):
            if role in found:
                what = f"{role} belongs to {found[role]} already"
                faults.append(Fault(file.name, f"family.{family}", what, "leave it in one family"))
            found[role] = family
    if faults:
        raise RulebookError(faults)
    return found


# Read when the module is, because the vocabulary of facts is declared with these words.
ROLE_FAMILIES: Final[dict[str, str]] = role_families(shipped_file("roles"))
"""Role to family. A ``guitar`` or ``vocal`` is one whose closer kind the name does not tell."""

ROLES: Final = tuple(ROLE_FAMILIES)
FAMILIES: Final = tuple(dict.fromkeys(ROLE_FAMILIES.values()))


GENERIC: Final = {
    "guitars": "guitar",
    "synths": "synth",
    "vocals": "vocal",
    "backing-tracks": "backing-track",
    "room-microphones": "room",
    "returns": "effect-return",
    "buses": "group",
}
"""Family to the role that says least of a part of it, where that role is not called like the family itself."""


def generic_role(family: str) -> str:
    """The role of a part of which the family alone is known: ``percussion`` of percussion, ``guitar`` of guitars."""
    return GENERIC.get(family, family)


def family_of(role: str) -> str | None:
    """The family of like parts a role belongs to, such as ``guitars``; None for a role that is not known."""
    return ROLE_FAMILIES.get(role)
