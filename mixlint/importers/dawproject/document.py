"""Find the project in its container, and read what stands around it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from mixlint.errors import InputError, NotASession, RefusedFile
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.xml_tree import Node, read_tree
from mixlint.media.container import Container, ZipContainer
from mixlint.media.xml_parser import XmlLimits, read_texts

PROJECT = "project.xml"
METADATA = "metadata.xml"
_LIMITS = XmlLimits()
_METADATA_LIMITS = XmlLimits(size=1 << 20)
_METADATA_KEPT = 50


@dataclass(frozen=True, slots=True)
class Document:
    """A project as it was found.

    ``member`` is the project's name in it and ``place`` how messages name it; ``packed`` tells an archive from a
    bare file.
    """

    member: str
    place: str
    packed: bool
    root: Node
    title: str
    metadata: dict[str, str]


def read_document(container: Container, notes: ImportNotes) -> Document:
    """Find the project in its container and read its tree.

    Args:
        container: an archive, or a bare file.
        notes: where assumptions go.

    Raises:
        NotASession: it holds no project.
        BrokenFile: it is damaged.
        RefusedFile: it is refused for safety.
    """
    path = container.path
    packed = isinstance(container, ZipContainer)
    for remark in container.remarks:
        notes.assume(remark)
    member = _find(container, path, notes) if packed else path.name
    place = container.place(member)
    limit = _LIMITS.size
    if container.size(member) > limit:
        raise RefusedFile(f"it holds more than {limit} bytes", where=place, do="export a smaller session")
    with container.open(member) as reader:
        root = read_tree(reader, place, _LIMITS)
    if root.tag != "Project":
        raise NotASession(
            f"it is XML, but its outermost element is {root.tag[:60]!r}, not 'Project'",
            where=place,
            do="export the session in the open interchange format (.dawproject)",
        )
    metadata = _metadata(container, member, notes) if packed else {}
    title = metadata.get("Title", "") or (path.resolve().parent.name if path.name.lower() == PROJECT else path.stem)
    return Document(member.rsplit("/", 1)[-1], place, packed, root, title, metadata)


def _find(container: Container, path: Path, notes: ImportNotes) -> str:
    names = container.names()
    found = [name for name in names if name.lower().rsplit("/", 1)[-1] == PROJECT]
    if len(found) > 1:
        raise RefusedFile(
            f"it holds several {PROJECT}: {', '.join(found[:5])}", where=path.name, do="export the session again"
        )
    if found:
        if found[0] != PROJECT:
            notes.assume(f"The project lies at {found[0]} instead of at the top of the archive.")
        return found[0]
    if any(name.lower().rsplit("/", 1)[-1] == "project.json" for name in names):
        raise NotASession(
            "it holds a project.json, the form used before version 1.0 of the interchange format, which is not read",
            where=path.name,
            do="open it in an application that writes version 1.0 and export it again",
        )
    raise NotASession(
        f"the archive holds no {PROJECT}, so there is no session in it",
        where=path.name,
        do="export the session in the open interchange format (.dawproject)",
    )


def _metadata(container: Container, member: str, notes: ImportNotes) -> dict[str, str]:
    """Title, artist and the like; they are wanted but not needed, so a damaged file is noted and passed over."""
    folder = member[: -len(PROJECT)]
    name = folder + METADATA
    if not container.has(name):
        return {}
    try:
        with container.open(name) as reader:
            texts = read_texts(reader, container.place(name), _METADATA_LIMITS)
    except InputError as fault:
        notes.lose(f"The metadata could not be read: {fault.what}.")
        return {}
    return dict(list(texts.items())[:_METADATA_KEPT])
