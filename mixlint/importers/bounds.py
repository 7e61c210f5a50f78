"""How long a text of a session may be: names of 100,000 characters make reports that nobody can open, and nothing else.

A longer one is cut where it is read, so that names, findings, files and drawings are all bounded by it. The mark at its
end tells how long it was, and a hash of the whole keeps two apart that begin alike; one text is cut alike wherever it
stands, so that an id still finds its channel.
"""

from __future__ import annotations

import hashlib
from dataclasses import replace
from typing import Any, Final

from pydantic import BaseModel

from mixlint.session import Note, Session
from mixlint.session.target import Target

NAME: Final = 300
"""A name of a file has 255 bytes at the most (limits.h, NAME_MAX, on Linux), and no strip shows as many."""
ID: Final = 1024
PATH: Final = 4096
"""A path has 4096 bytes at the most there (PATH_MAX); so much is kept of remarks and reasons too."""

_MOST: Final = {
    **dict.fromkeys(("id", "to", "parent", "output", "file", "about"), ID),
    **dict.fromkeys(("path", "where", "comment", "text", "unknown", "settle", "ground"), PATH),
}


_PLAIN: Final = frozenset({float, bool, int, type(None)})


def bounded(session: Session) -> Session:
    """The session with every text of a length that can be shown, and a note where one was cut."""
    seen: set[str] = set()
    found: Session = _walked(session, NAME, seen)
    if found is session:
        return session
    longest = max(map(len, seen))
    count = "1 text is" if len(seen) == 1 else f"{len(seen)} texts are"
    said = f"{count} longer than a name or a remark can be, up to {longest:,} characters, and cut"
    return found.model_copy(update={"notes": (*found.notes, Note(text=said, loses=True))})


def shortened(text: str, most: int) -> str:
    """``text`` cut to about ``most`` characters, with how long it was and a hash of it."""
    if len(text) <= most:
        return text
    whole = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:8]
    return f"{text[:most]}… ({len(text):,} characters, {whole})"


def _walked(value: Any, most: int, seen: set[str]) -> Any:
    """``value`` with its texts cut; the very same where none is too long."""
    if isinstance(value, str):
        if len(value) <= most:
            return value
        seen.add(value)
        return shortened(value, most)
    if isinstance(value, BaseModel):
        changed: dict[str, Any] = {}
        for key, held in value.__dict__.items():
            kind = type(held)
            if kind in _PLAIN or (kind is str and len(held) <= _MOST.get(key, NAME)):
                continue  # nearly all there is
            if isinstance(held, str | tuple | dict | BaseModel | Target):
                new = _walked(held, _MOST.get(key, NAME), seen)
                if new is not held:
                    changed[key] = new
        return value.model_copy(update=changed) if changed else value
    if isinstance(value, Target):
        name = _walked(value.name, ID, seen)  # it may be the id of a parameter
        return value if name is value.name else replace(value, name=name)
    if isinstance(value, tuple):
        if not value or isinstance(value[0], int | float) or hasattr(value, "_fields"):
            return value
        items = [_walked(one, most, seen) for one in value]
        return value if all(new is old for new, old in zip(items, value, strict=True)) else tuple(items)
    if isinstance(value, dict):
        pairs = {_walked(key, most, seen): _walked(held, most, seen) for key, held in value.items()}
        same = all(new is old for new, old in zip(pairs.values(), value.values(), strict=False))
        return value if same and pairs.keys() == value.keys() else pairs
    return value
