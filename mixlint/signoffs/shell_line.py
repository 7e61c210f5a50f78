"""The line for a shell that signs one finding off, exactly as ``mixlint sign`` takes it."""

from __future__ import annotations

import os
import re
import shlex
from pathlib import Path
from typing import Final

from mixlint.naming import fold_name
from mixlint.review.findings import Finding
from mixlint.unseen import UNSEEN

_SAFE: Final = re.compile(r"[\w@%+=:,./-]+", re.ASCII)
"""What a shell takes as it stands (as in the library's ``shlex``)."""


def sign_line(
    finding: Finding, session: Path, *, because: str = "", by: str = "", standard: str | None = None, audio: bool = True
) -> str:
    """The command that signs a finding off, or answers its question, for a POSIX shell.

    What only a person can say is left empty where it is not given: the reason, the initials, and the answer to a
    question. Such a line is refused as it stands, so that nobody signs what nobody said.

    Args:
        finding: a flagged or open finding.
        session: the session, as the reader names it.
        because, by: the reason and the initials.
        standard: the standard as it was named for the review; None for the one beside the session.
        audio: the review opened the audio.

    Returns:
        One line, no character of which is unseen; nothing where the name holds what no command can be told.
    """
    if "\0" in finding.subject.name:
        return ""
    path = os.fspath(session)
    words = ["mixlint", "sign", quoted(path if not path.startswith("-") else f"./{path}"), quoted(finding.rule)]
    if fold_name(finding.subject.name):
        words += _option("--on", finding.subject.name)
    if finding.verdict == "open":
        words += ["--answer", "''"]
    words += [*_option("--because", because), *_option("--by", by)]
    if standard is not None:
        words += _option("--standard", standard)
    if not audio:
        words.append("--no-audio")
    return " ".join(words)


def _option(name: str, value: str) -> list[str]:
    """An option with its value; behind an equals sign where the value would be taken for an option itself."""
    return [f"{name}={quoted(value)}"] if value.startswith("-") else [name, quoted(value)]


def quoted(text: str) -> str:
    """A text as one word of a POSIX shell.

    What is seen stands in single quotes. A text with anything unseen in it, which a terminal might obey when the line
    is pasted, is put together by ``printf`` from the numbers of its bytes (POSIX, *printf*, octal escapes in the
    format); line feeds at its end are lost with that, which make no difference to a name.
    """
    if not UNSEEN.search(text):
        return text if _SAFE.fullmatch(text) else shlex.quote(text)
    try:
        data = text.encode("utf-8", "surrogateescape")  # bytes of a path that are no text
    except UnicodeEncodeError:
        data = text.encode("utf-8", "surrogatepass")
    plain = frozenset(b"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ ,.:/_+=")
    body = "".join(chr(one) if one in plain else f"\\{one:03o}" for one in data)
    return f"\"$(printf '{body}')\""
