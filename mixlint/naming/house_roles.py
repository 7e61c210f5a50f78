"""Roles that a house defines itself: the family each counts to, what its parts may do, and its words by language.

::

    [role.hand-pan]
    family = 'percussion'
    may = 'sit off centre, need no counterpart'
    [role.hand-pan.words]
    en = 'handpan, hand pan'

Every analysis treats a part of such a role as one of the shipped role that it is ``like``: the generic one of its
family (``percussion``, ``guitar``, ``vocal``), unless the house names another. Readers see the house's own word.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence, Set
from pathlib import Path
from typing import Final, NamedTuple

from mixlint.errors import Fault, RefusedFile, near
from mixlint.naming.families import FAMILIES, ROLE_FAMILIES, ROLES, family_of, generic_role
from mixlint.naming.fold import as_read
from mixlint.naming.word_files import ROLE_WORDS, WordFile, listed
from mixlint.naming.word_index import CHANNEL_SECTIONS, Entries, looked_up_as, which_of
from mixlint.plain_files import read_plain
from mixlint.toml_text import MOST_BYTES

OUT_OF_THE_MIX: Final = "stay-out-of-the-mix"
PERMISSIONS: Final = ("sit-off-centre", "need-no-counterpart", OUT_OF_THE_MIX)
"""What a house can let the parts of a role do; in a word file the hyphens may be spaces."""

OF_ROLE: Final = "role:"
"""What the concept of a house's role begins with, so that it meets none of mixlint's own (``loop``, ``lead``)."""

_TAKEN: Final = frozenset(FAMILIES) | {"unread"}
"""Words that facts say in the place of a role or beside one."""

_NAME: Final = re.compile("[a-z0-9]+(-[a-z0-9]+)*")

_HEADING: Final = re.compile(r"""^\s*\[\s*role\s*\.\s*["']?([^\s."'\]]+)""", re.MULTILINE)


_READ_AS: Final = {
    "choir": "backing-vocals",
    "room": "main-pair",
    "mix-print": "board-mix",
    "effect-return": "return",
    "reverb-return": "reverb",
    "delay-return": "delay",
    "modulation-return": "modulation",
    "parallel-bus": "parallel",
    "group": "bus",
}
"""Role to the concept by which names are read as it or as another of its family, where it is not called the same."""


class HouseRole(NamedTuple):
    """A role that a house defines.

    Args:
        name: what the house calls it.
        family: the family it counts to.
        like: the shipped role that its parts are treated as.
        may: what its parts may do, of :data:`PERMISSIONS`.
    """

    name: str
    family: str
    like: str
    may: frozenset[str]


def house_roles(layers: Sequence[Iterable[WordFile]]) -> dict[str, HouseRole]:
    """The roles that a house defines, by name; those with faults are left out.

    Args:
        layers: its word files, one collection for each of its standards, the nearest first, whose role holds in place
            of a farther one's of the same name.
    """
    found: dict[str, HouseRole] = {}
    for layer in reversed(layers):
        for file in layer:
            for name, keys in file.sections.get("role", {}).items():
                family = keys.get("family", "").strip()
                like = keys.get("like", "").strip() or generic_role(family)
                if family in FAMILIES and family_of(like) == family and _is_name(name):
                    may = frozenset(_permission(one) for one in listed(keys.get("may", "")))
                    found[name] = HouseRole(name, family, like, may)
    return found


def read_as(role: str) -> str:
    """The concept by which a name is read as a shipped role, or as another of its family."""
    return _READ_AS.get(role, role)


def roles_named(path: Path, top: Path | None = None) -> list[str]:
    """The names in the headings of roles of a word file, whatever else is wrong with it; none where it is missing."""
    try:
        text = read_plain(path, MOST_BYTES, top).decode("utf-8-sig", errors="replace")
    except (OSError, ValueError, RefusedFile):
        return []
    return _HEADING.findall(text)


def role_entries(files: Iterable[WordFile], roles: Mapping[str, HouseRole]) -> Entries:
    """The words of a house's roles as they are looked up: each stands for a concept of mixlint's and for the role.

    By the first a name is read as it is with a shipped word (``Handpan Bus`` is a group, ``Handpan Verb`` a return);
    the second tells that what is then a part is one of the house's role.
    """
    entries: Entries = {}
    for file in files:
        for (name, code), text in file.texts(ROLE_WORDS):
            if (role := roles.get(name)) is None:
                continue
            meant = ((read_as(role.like), code), (OF_ROLE + name, code))
            for word in listed(text):
                key = looked_up_as(word, ROLE_WORDS)
                entries[key] = entries.get(key, ()) + meant
    return entries


def check_roles(
    layer: Sequence[WordFile], spoken: Mapping[str, Set[str]], codes: Collection[str], faults: list[Fault]
) -> None:
    """Write down what is wrong with the roles of one standard's word files.

    Args:
        layer: the files.
        spoken: the words that they have under other headings, by section.
        codes: the codes of the languages there are.
        faults: where faults go.
    """
    homes: dict[str, str] = {}
    owners: dict[str, str] = {}
    asked = {
        looked_up_as(word, "part")
        for file in layer
        for (subject, word), _ in file.texts("ambiguous")
        if subject == "part"
    }
    for file in layer:
        for name, keys in file.sections.get("role", {}).items():
            _check_name(name, file, homes, faults)
            _check_keys(name, keys, file, faults)
        for (name, code), text in file.texts(ROLE_WORDS):
            key = f"role.{name}.words.{code}"
            if code not in codes:
                faults.append(Fault(file.name, key, f"there is no language {code}", which_of(code, codes)))
            for word in dict.fromkeys(looked_up_as(one, ROLE_WORDS) for one in listed(text)):
                if owners.setdefault(word, name) != name:
                    what = f"{word} stands under the role {owners[word]} too"
                    do = f"leave it under one, or write it under [ambiguous.part]: {word} = '{owners[word]}, {name}'"
                    faults.append(Fault(file.name, key, what, do))
                sections = [section for section in CHANNEL_SECTIONS if word in spoken[section]]
                for section in sections:
                    heading = _heading_of(word, section, layer)
                    faults.append(Fault(file.name, key, f"{word} stands under {heading} too", "leave it in one place"))
                if word in asked:
                    what = f"{word} stands under [ambiguous.part] too"
                    faults.append(Fault(file.name, key, what, "leave it in one place"))


def _heading_of(word: str, section: str, layer: Sequence[WordFile]) -> str:
    """The heading that a word stands under, with the file: ``[strip.reverb] of words/yard-words.toml``."""
    return next(
        f"[{section}.{concept}] of {file.name}"
        for file in layer
        for (concept, _), text in file.texts(section)
        if any(looked_up_as(one, section) == word for one in listed(text))
    )


def _check_name(name: str, file: WordFile, homes: dict[str, str], faults: list[Fault]) -> None:
    key = f"role.{name}"
    if name in ROLES:
        what = f"{name} is a role of mixlint's already, of the family {family_of(name)}"
        section = "part" if any(name in stem for stem in _parts()) else ""
        do = f"give it another name, or add words to that one under [{section}.{name}]" if section else ""
        faults.append(Fault(file.name, key, what, do or "give it another name"))
    elif name in _TAKEN:
        what = f"{name} is {'a family' if name in FAMILIES else 'what is said of a part that no name tells'}"
        faults.append(Fault(file.name, key, what, "give the role a name of its own"))
    elif not _is_name(name):
        kebab = as_read(name).replace(" ", "-")
        do = f"write [role.{kebab}]" if kebab and _is_name(kebab) else "write it as hand-pan"
        faults.append(Fault(file.name, key, "the name of a role is small letters, digits and hyphens", do))
    if homes.setdefault(name, file.name) != file.name:
        faults.append(Fault(file.name, key, f"{name} stands in {homes[name]} already", "put the words there"))


def _parts() -> Iterable[Collection[str]]:
    """The parts that mixlint has words for, a collection for each of its files."""
    from mixlint.naming.word_files import shipped_file
    from mixlint.naming.word_index import FILES

    return (shipped_file(stem).sections["part"] for stem in FILES["part"])


def _check_keys(name: str, keys: Mapping[str, str], file: WordFile, faults: list[Fault]) -> None:
    """See that the family, the role it is like and its permissions are there, and go together."""
    key, family = f"role.{name}", keys.get("family", "").strip()
    if not family:
        do = f"write family = '…' under it, one of {', '.join(FAMILIES)}"
        faults.append(Fault(file.name, key, "it counts to no family", do))
        return
    if family not in FAMILIES:
        do = f"write family = '{ROLE_FAMILIES[family]}'" if family in ROLE_FAMILIES else ""
        do = do or near(family, FAMILIES) or f"there are {', '.join(FAMILIES)}"
        faults.append(Fault(file.name, f"{key}.family", f"there is no family {family}", do))
        return
    like = keys.get("like", "").strip()
    there = [role for role, home in ROLE_FAMILIES.items() if home == family]
    if like and like not in ROLES:
        faults.append(Fault(file.name, f"{key}.like", f"there is no role {like}", near(like, there)))
    elif like and like not in there:
        what = f"{like} is of the family {family_of(like)}, not of {family}"
        faults.append(Fault(file.name, f"{key}.like", what, f"take one of {', '.join(there)}"))
    for one in listed(keys.get("may", "")):
        if _permission(one) not in PERMISSIONS:
            choices = [permission.replace("-", " ") for permission in PERMISSIONS]
            faults.append(Fault(file.name, f"{key}.may", f"there is no permission {one}", near(one, choices)))
        elif _permission(one) == OUT_OF_THE_MIX and family == "utility":
            what = "what serves the session is no part of the mix anyway"
            do = "leave it out, or write like = 'guide' for what must not be heard"
            faults.append(Fault(file.name, f"{key}.may", what, do))


def _is_name(name: str) -> bool:
    return bool(_NAME.fullmatch(name)) and name not in ROLES and name not in _TAKEN


def _permission(said: str) -> str:
    """A permission as it is kept: ``Sit off centre`` is ``sit-off-centre``."""
    return "-".join(said.casefold().replace("-", " ").split())
