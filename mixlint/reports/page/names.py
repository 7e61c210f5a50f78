"""The names of the pages in a folder of several sessions: safe on every system, and the same from run to run."""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Container
from hashlib import sha256
from pathlib import Path
from typing import Final

INDEX: Final = "index.html"

_MOST: Final = 60
"""So many characters of a session's name stand in the name of its page: a name of 100 bytes goes everywhere."""
_DIGITS: Final = 8
"""Hexadecimal digits of what tells two sessions of one name apart."""
_PAGE: Final = re.compile(rf"[a-z0-9-]{{1,{_MOST}}}-[0-9a-f]{{{_DIGITS},64}}\.html")


def page_name(name: str, session: Path, folder: Path, taken: Container[str] = ()) -> str:
    """The name of a session's page: ``evening-harbour-3f2a9c1b.html``.

    Lower-case letters and digits of the session's name, the accents of its letters left out, then a hash of its place
    as it lies from the folder. So the name hangs on no other session and not on their order, stays when the project is
    moved as a whole, is no name that a system keeps for its devices, and does not meet another one where a system makes
    no difference between capitals and small letters.

    Args:
        name: the session's name.
        session: its file.
        folder: where the page goes.
        taken: the names of other sessions' pages, for the one case in four thousand million.
    """
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode("ascii")
    words = re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:_MOST].strip("-") or "session"
    told = sha256(os.fsencode(seen_from(session, folder))).hexdigest()
    digits = _DIGITS
    while (found := f"{words}-{told[:digits]}.html") in taken and digits < len(told):
        digits += 1
    return found


def is_page_name(name: str) -> bool:
    """Whether a file is called like a session's page."""
    return _PAGE.fullmatch(name) is not None


def seen_from(session: Path, folder: Path) -> str:
    """Where a session lies as seen from a folder, with the same signs on every system."""
    whole = os.path.abspath(session)
    try:
        return os.path.relpath(whole, os.path.abspath(folder)).replace(os.sep, "/")
    except ValueError:  # on another drive
        return whole.replace(os.sep, "/")
