"""From hostile bytes to a parser's calls: one expat pass that refuses what nothing that is read here needs.

Any DOCTYPE is refused, and with it every entity. Size, token length and the number of names are limited here; depth,
attributes, elements and automation points where they are counted. Sessions are read through it, and the description
that an audio file carries of itself.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, BinaryIO, Final, Protocol
from xml.parsers import expat

from mixlint.errors import BrokenFile, RefusedFile

CHUNK: Final = 1 << 18
"""How many bytes are given to the parser at once."""


@dataclass(frozen=True, slots=True)
class XmlLimits:
    """What an XML document may hold. ``size`` and ``token`` in bytes."""

    size: int = 256 << 20
    token: int = 1 << 20
    depth: int = 256
    attributes: int = 128
    names: int = 20_000
    elements: int = 600_000
    points: int = 2_000_000


class Extractor(Protocol):
    """Takes parts of a document out before the parser sees them."""

    def feed(self, chunk: bytes) -> bytes:
        """What is left of the next piece of the document."""

    def flush(self) -> bytes:
        """What is left of it at its end."""


def read_texts(reader: BinaryIO, where: str, limits: XmlLimits) -> dict[str, str]:
    """The texts of a flat document such as ``metadata.xml``: tag to text, empty ones left out.

    Args:
        reader: the document's bytes.
        where: how messages name the document.
        limits: what it may hold.

    Raises:
        RefusedFile: a DOCTYPE, or a limit is passed.
        BrokenFile: it is not well-formed.
    """
    parser = make_parser(where)
    open_tags: list[str] = []
    texts: dict[str, list[str]] = {}

    def start(tag: str, attrs: dict[str, str]) -> None:
        open_tags.append(tag)
        if len(open_tags) > limits.depth or len(attrs) > limits.attributes or len(texts) > limits.attributes:
            raise refused("the metadata hold more than any session needs", where)

    def end(_: str) -> None:
        open_tags.pop()

    def text(data: str) -> None:
        if len(open_tags) == 2:
            texts.setdefault(open_tags[-1], []).append(data)

    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text
    feed(parser, reader, where, limits)
    joined = {tag: "".join(parts).strip() for tag, parts in texts.items()}
    return {tag: said for tag, said in joined.items() if said}


def make_parser(where: str) -> Any:
    """An expat parser that refuses any DOCTYPE; ``where`` is how messages name the document."""
    parser = expat.ParserCreate()
    parser.buffer_text = True

    def doctype(*_: object) -> None:
        raise refused(
            "it declares a document type, which nothing that is read here needs", f"{where}:{parser.CurrentLineNumber}"
        )

    parser.StartDoctypeDeclHandler = doctype
    return parser


def feed(parser: Any, reader: BinaryIO, where: str, limits: XmlLimits, extractor: Extractor | None = None) -> None:
    """Give the document to the parser piece by piece, watching what it has to remember.

    Args:
        parser: made by ``make_parser``, with its handlers.
        reader: the document's bytes.
        where: how messages name the document.
        limits: what it may hold.
        extractor: takes parts out before the parser sees them; None leaves all to the parser.

    Raises:
        RefusedFile: a DOCTYPE, or a limit is passed.
        BrokenFile: it is not well-formed, or no text.
    """
    fed = size = 0
    read: Callable[[int], bytes] = reader.read
    try:
        while chunk := read(CHUNK):
            size += len(chunk)
            if size > limits.size:
                raise refused(f"it holds more than {limits.size} bytes", where)
            piece = extractor.feed(chunk) if extractor else chunk
            fed += len(piece)
            parser.Parse(piece, False)
            # A token still open after this much input is a giant attribute, comment or tag.
            if fed - max(0, parser.CurrentByteIndex) > limits.token + CHUNK:
                raise refused(f"one token is longer than {limits.token} bytes", where)
            if len(parser.intern) > limits.names:
                raise refused(f"it uses more than {limits.names} different names", where)
        parser.Parse(extractor.flush() if extractor else b"", True)
    except expat.ExpatError as fault:
        raise BrokenFile(
            f"it is not well-formed XML ({expat.errors.messages[fault.code]})",
            where=f"{where}:{fault.lineno}",
            do="export the session again from the application that made it",
        ) from None
    except (ValueError, LookupError) as fault:
        raise BrokenFile(
            f"it cannot be read as text ({fault})", where=where, do="export the session again as UTF-8"
        ) from None


def refused(what: str, where: str) -> RefusedFile:
    """The error for a document that passes a limit: what it passes, and where."""
    return RefusedFile(what, where=where, do="export the session again from the application that made it")
