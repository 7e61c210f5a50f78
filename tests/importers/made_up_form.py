"""A made-up input form for the tests: a comma-separated list of channels, plain or packed.

Its first line is ``strip,does,into``; each further line is a channel, which has its name for an id.
"""

from __future__ import annotations

import csv

from mixlint.errors import BrokenFile
from mixlint.media import Container
from mixlint.session import Channel, Note, Session, Source

LOSES = ("A list of channels shows no levels, pans or sends.",)
CARRIES = ("outputs",)
HEADING = ["strip", "does", "into"]
PACKED_MEMBER = "strips.lst"


def sniff(head: bytes) -> bool:
    """True for a file that begins with the heading."""
    return head.startswith(",".join(HEADING).encode())


def read(container: Container) -> Session:
    """Read the list."""
    name = container.path.name
    member = name if container.has(name) else PACKED_MEMBER
    heading, *rows = csv.reader(container.read(member, 1 << 20).decode("utf-8").splitlines())
    if heading != HEADING:
        raise BrokenFile("it has no heading", where=container.place(member), do="begin it with strip,does,into")
    return Session(
        title=container.path.stem,
        source=Source(importer="strip-list"),
        channels=tuple(
            Channel.model_validate({"id": channel, "name": channel, "kind": kind, "output": output or None})
            for channel, kind, output in rows
        ),
        notes=tuple(Note(text=text, loses=True) for text in LOSES),
    )
