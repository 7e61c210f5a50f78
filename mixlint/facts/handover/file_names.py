"""File names as they travel: which systems can hold them, and which files they would run together."""

from __future__ import annotations

import re
import unicodedata
from typing import Final

from mixlint.session import MediaFile

LONGEST: Final = 64
"""Most characters of a file name (common practice of delivery texts)."""

_PORTABLE: Final = re.compile(r"[A-Za-z0-9._][A-Za-z0-9._-]*\Z")
"""The portable file name character set of IEEE Std 1003.1, Base Definitions: letters, digits, full stop, low line and
hyphen, which does not come first (from memory)."""


def is_portable(path: str) -> bool:
    """True when every part of a path may stand on any system and its last part has at most 64 characters."""
    parts = [part for part in path.replace("\\", "/").split("/") if part not in ("", ".", "..")]
    return bool(parts) and all(map(_PORTABLE.match, parts)) and len(parts[-1]) <= LONGEST


def run_together(media: tuple[MediaFile, ...]) -> tuple[tuple[str, ...], ...]:
    """Groups of paths that differ only in letter case or in how accents are encoded: one file on many systems."""
    groups: dict[str, list[str]] = {}
    for one in media:
        folded = unicodedata.normalize("NFC", unicodedata.normalize("NFC", one.path.replace("\\", "/")).casefold())
        groups.setdefault(folded, []).append(one.path)
    return tuple(tuple(group) for group in groups.values() if len(set(group)) > 1)
