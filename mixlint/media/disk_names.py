"""Names of files as text, and back, where the system's encoding for them is not UTF-8 (an ASCII locale).

Python then gives bytes that it cannot decode as lone surrogates (PEP 383), and refuses to look for a name that it
cannot encode. What lies on the disk is nearly always UTF-8 all the same.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path


def as_text(name: str) -> str:
    """A name that the system gave, as the text it stands for; left as it is where its bytes are not UTF-8."""
    if _is_utf_8():
        return name
    try:
        return os.fsencode(name).decode("utf-8")
    except UnicodeDecodeError:
        return name


def on_disk(folder: Path, name: str) -> Path:
    """The place of a name in a folder: as it is written, or as its UTF-8 bytes, whichever is there."""
    if _is_utf_8():
        return folder / name
    try:
        if (folder / name).exists():
            return folder / name
    except ValueError:
        pass  # the system's encoding cannot carry it
    return folder / os.fsdecode(name.encode("utf-8", "surrogateescape"))


def _is_utf_8() -> bool:
    return sys.getfilesystemencoding().replace("-", "").lower() == "utf8"
