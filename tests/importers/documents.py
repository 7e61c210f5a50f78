"""Small documents written by hand, and the sessions read from them."""

from __future__ import annotations

from pathlib import Path

from mixlint import importers
from mixlint.session import Channel, Session

TRANSPORT = (
    '<Transport><Tempo unit="bpm" value="120" id="tempo"/><TimeSignature numerator="4" denominator="4"/></Transport>'
)
MASTER = '<Track name="Main" contentType="audio notes" id="tm"><Channel id="m" role="master"/></Track>'


def document(structure: str, arrangement: str = "", transport: str = TRANSPORT, master: str = MASTER) -> str:
    """A whole ``project.xml``."""
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n<Project version="1.0">\n<Application name="w" version="1"/>\n'
        f"{transport}\n<Structure>\n{structure}\n{master}\n</Structure>\n"
        f'<Arrangement>\n<Lanes timeUnit="beats">\n{arrangement}\n</Lanes>\n</Arrangement>\n</Project>\n'
    )


def read(folder: Path, text: str) -> Session:
    """The session in a document, read as a bare file."""
    path = folder / "project.xml"
    path.write_text(text, encoding="utf-8")
    return importers.read(path)


def session_of(folder: Path, structure: str, arrangement: str = "", **more: str) -> Session:
    """The session of a document made of these parts."""
    return read(folder, document(structure, arrangement, **more))


def channel(session: Session, name: str) -> Channel:
    """The one channel with this name."""
    (found,) = [one for one in session.channels if one.name == name]
    return found


def told(session: Session, word: str, about: str | None = None) -> bool:
    """True when some note holds ``word``, about that channel."""
    return any(word in note.text and about in (None, note.about) for note in session.notes)


def track(name: str, inside: str = "", *, role: str | None = "regular", to: str | None = "m", more: str = "") -> str:
    """A track with a channel ``c:NAME`` and an id ``t:NAME``."""
    attrs = (f' role="{role}"' if role else "") + (f' destination="{to}"' if to else "")
    return (
        f'<Track id="t:{name}" name="{name}" contentType="audio"><Channel id="c:{name}"{attrs}>{inside}</Channel>'
        f"{more}</Track>"
    )
