"""In which form mixlint wrote a file, told by its content: what somebody else wrote or changed is none of ours."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import Final

MARK: Final = "written by mixlint"
"""The last line of a text in a file. On a terminal it is left out."""

_HEAD: Final = 64 << 10
_TAIL: Final = 4 << 10
_FORMAT: Final = re.compile(rb'\{\s*"format": "mixlint-([a-z]+)/\d+"')
_KEPT: Final = frozenset({b"session", b"approval"})
"""What is read again, so that somebody may have worked on it: no output replaces it unasked."""
_OURS: Final[dict[str, re.Pattern[bytes]]] = {
    "schema": re.compile(rb'\{\s*("\$schema": "[^"]*",\s*)?"\$id": "urn:mixlint:'),
    "sarif": re.compile(
        rb'\{\s*"\$schema": "[^"]*",\s*"version": "2\.1\.0",\s*"runs": \[\s*'
        rb'\{\s*"tool": \{\s*"driver": \{\s*"name": "mixlint"'
    ),
    "junit": re.compile(rb'<\?xml version="1\.0" encoding="UTF-8"\?>\n<testsuites name="mixlint"'),
    "html": re.compile(rb'<!DOCTYPE html>\n(?:(?!</head>)[^\n]*\n){1,8}<meta name="generator" content="mixlint '),
}
_TABLES: Final = re.compile(rb"mixlint-survey/\d+[,\t]\d{4}-\d{2}-\d{2}\n")
"""How a survey for a spreadsheet begins."""
_LINE: Final = re.compile(
    rb"[^\t\n]*\toutcome\t(held|look|clear)\t[^\t\n]*\t[^\t\n]*\n"
    rb"([^\t\n]*\t(outcome|hold|look|note|open|signed|clear|idle)\t[^\t\n]*\t[^\t\n]*\t[^\t\n]*\n)*"
)
"""The form of one line per finding (:mod:`mixlint.reports.line`)."""


def written_as(what: Path | str) -> str:
    """The form of mixlint's own that a file, or a text to be written, is in; nothing where it is of somebody else.

    Args:
        what: the file, of which the beginning and the end are read, or the text.

    Raises:
        OSError: the file cannot be read.
    """
    if isinstance(what, str):
        data = what.encode("utf-8")
        head, tail = data[:_HEAD], data[-_TAIL:]
        whole = len(data) <= _HEAD
    else:
        with open(what, "rb") as file:
            head = file.read(_HEAD)
            size = os.fstat(file.fileno()).st_size
            file.seek(max(size - _TAIL, 0))
            tail = file.read(_TAIL)
        whole = size <= _HEAD
    found = _FORMAT.match(head)
    if found:
        return "" if found[1] in _KEPT else f"json {found[1].decode()}"
    for name, pattern in _OURS.items():
        if pattern.match(head):
            return name
    if _TABLES.match(head):
        return "survey for a spreadsheet"
    if tail.endswith(f"\n{MARK}\n".encode()):
        return "text"
    lines = head if whole else head[: head.rfind(b"\n") + 1]
    return "line" if _LINE.fullmatch(lines) else ""


def is_approval(content: bytes) -> bool:
    """Whether the content of a file begins as an approval does."""
    found = _FORMAT.match(content[:1024])
    return found is not None and found[1] == b"approval"
