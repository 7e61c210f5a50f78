"""Reads quay lists: one strip or send a line, words parted by strokes.

::

    quay list
    title | Rope Song
    track | Lead Vocal | Mix | -3 | 60 | berth B4
    return | Plate | Mix
    send | Lead Vocal | Plate | -12
    master | Mix

Of a track: name, output, fader in dB, length in seconds, comment.
"""

from __future__ import annotations

from typing import Any, Final

from mixlint.errors import BrokenFile
from mixlint.media import Container
from mixlint.session import GAPS, Channel, Clip, Gap, Note, Send, Session, Source

CARRIES: Final[tuple[Gap, ...]] = ("outputs", "sends", "clips", "levels")
LOSES = ("A quay list holds no names of files.",)
LARGEST = 1 << 20


def read(container: Container) -> Session:
    """The session of a quay list; its strips stand in the order of the lines."""
    where = str(container.path)
    text = container.read(container.path.name, LARGEST).decode("utf-8", "replace")
    title, strips, sends = "", list[dict[str, Any]](), dict[str, list[Send]]()
    for number, line in enumerate(text.splitlines()[1:], 2):
        word, *rest = (part.strip() for part in line.split("|"))
        try:
            match word:
                case "title":
                    (title,) = rest
                case "send":
                    source, to, level = rest
                    sends.setdefault(source, []).append(Send(to=to, level_db=float(level), where=f"line {number}"))
                case "track" | "return" | "group" | "master":
                    strips.append(_strip(word, rest) | {"where": f"line {number}"})
                case "":
                    continue
                case _:
                    raise ValueError(f"there are no lines that begin with {word!r}")
        except ValueError as fault:
            raise BrokenFile(f"line {number} cannot be read: {fault}", where=where, do="correct the line") from None
    channels = tuple(Channel(**one, sends=tuple(sends.get(one["id"], ()))) for one in strips)
    return Session(
        title=title,
        source=Source(importer="quay-list", form="a quay list"),
        channels=channels,
        gaps=tuple(one for one in GAPS if one not in CARRIES),
        notes=tuple(Note(text=one, loses=True) for one in LOSES),
    )


def _strip(kind: str, rest: list[str]) -> dict[str, Any]:
    name, output, fader, length, comment = (*rest, *[""] * (5 - len(rest)))
    clips = (Clip(start_s=0.0, end_s=float(length)),) if length else ()
    return {
        "id": name,
        "name": name,
        "kind": kind,
        "output": output or None,
        "fader_db": float(fader or 0.0),
        "clips": clips,
        "comment": comment,
    }
