"""File names as they travel: which systems can hold them, and which files they would run together."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import file_name
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, Row
from mixlint.session import MediaFile, Session
from mixlint.units import few_text

LONGEST_NAME: Final = Setting(
    "file_names.longest",
    64,
    "",
    "Most characters of a file name that is to travel.",
    "common practice of delivery texts, no source",
)

_PORTABLE: Final = re.compile(r"[A-Za-z0-9._][A-Za-z0-9._-]*\Z")
"""The portable file name character set of IEEE Std 1003.1, Base Definitions: letters, digits, full stop, low line and
hyphen, which does not come first (from memory)."""


def is_portable(path: str, longest: float = LONGEST_NAME.value) -> bool:
    """True when every part of a path may stand on any system and its last part has at most ``longest`` characters."""
    parts = [part for part in path.replace("\\", "/").split("/") if part not in ("", ".", "..")]
    return bool(parts) and all(map(_PORTABLE.match, parts)) and len(parts[-1]) <= longest


def run_together(media: tuple[MediaFile, ...]) -> tuple[tuple[str, ...], ...]:
    """Groups of paths that differ only in letter case or in how accents are encoded: one file on many systems."""
    groups: dict[str, list[str]] = {}
    for one in media:
        folded = unicodedata.normalize("NFC", unicodedata.normalize("NFC", one.path.replace("\\", "/")).casefold())
        groups.setdefault(folded, []).append(one.path)
    return tuple(tuple(group) for group in groups.values() if len(set(group)) > 1)


def _unportable(context: SessionContext) -> dict[str, str]:
    """What travels of each path that some systems cannot hold, in the session's order → the file's name.

    Of a path outside the session's folder only the file's name travels.
    """
    longest = context.setting(LONGEST_NAME)
    paths = {(file_name(m.path) if m.place == "outside" else m.path): file_name(m.path) for m in context.session.media}
    return {path: name for path, name in paths.items() if not is_portable(path, longest)}


FACTS: Facts[Session] = Facts()


@FACTS.fact("number", "How many audio files the session refers to.")
def files(row: Row[Session]) -> int:
    return len(row.item.media)


@FACTS.fact(
    "number",
    "How many file names hold characters that not every system can, or are too long.",
    how="derived",
    settings=(LONGEST_NAME,),
)
def unportable(row: Row[Session]) -> int:
    return len(set(_unportable(row.context).values()))


@FACTS.fact(
    "switch",
    "Spaces are all that keeps its file names from every system.",
    how="derived",
    settings=(LONGEST_NAME,),
)
def only_spaces(row: Row[Session]) -> bool:
    longest = row.context.setting(LONGEST_NAME)
    found = _unportable(row.context)
    return bool(found) and all(_has_only_spaces(path, longest) for path in found)


def _has_only_spaces(path: str, longest: float) -> bool:
    """True when spaces are all that keeps a path from every system."""
    return is_portable(path.replace(" ", "_"), longest)


@FACTS.fact(
    "text",
    "Which they are; mere spaces count where there is nothing worse.",
    how="derived",
    settings=(LONGEST_NAME,),
)
def unportable_names(row: Row[Session]) -> str:
    longest = row.context.setting(LONGEST_NAME)
    bad = {path: name for path, name in _unportable(row.context).items() if not _has_only_spaces(path, longest)}
    return few_text(list(dict.fromkeys((bad or _unportable(row.context)).values())))


@FACTS.fact("list", "Files that differ only in letter case or in how accents are encoded.", how="derived")
def alike(row: Row[Session]) -> tuple[str, ...]:
    return tuple(" and ".join(group) for group in run_together(row.item.media))
