"""A document of many sessions, piece by piece; what has to wait for the others waits on the disk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from tempfile import TemporaryFile
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mixlint.reports.several import Document, Told


def pieces(document: Document, parts: Iterable[tuple[Told, str]]) -> Iterator[str]:
    """The text of a document, as its parts come in; nothing at all where there are none.

    Args:
        document: puts them together.
        parts: the part of each session, in their order.
    """
    if document.waits:
        yield from _waited(document, parts)
    else:
        for told, text in parts:
            yield document.joined(told, text)
    if document.told:
        yield document.ended()


def _waited(document: Document, parts: Iterable[tuple[Told, str]]) -> Iterator[str]:
    sizes = []
    with TemporaryFile("w+b") as kept:
        for told, text in parts:
            sizes.append(kept.write(document.joined(told, text).encode("utf-8")))
        if not sizes:
            return
        yield document.begun()
        kept.seek(0)
        for at, size in enumerate(sizes):
            yield document.placed(at, kept.read(size).decode("utf-8"))
