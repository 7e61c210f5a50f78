"""Markdown of what the program says as plain text: escaped, in tables, and docstrings in their parts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from inspect import cleandoc

_SIGNS = re.compile(r"([\\*_{}\[\]<>#|$~])")
_CODE = re.compile(r"(`+)(.+?)\1")
_REFERENCE = re.compile(r":\w+:`~?([^`]+)`")
_PART = re.compile(r"^(Args|Returns|Raises|Yields):$", re.MULTILINE)


def escaped(text: str) -> str:
    """``text`` so that Markdown shows it as it is; what stands between backticks is code."""
    done, at = [], 0
    for found in _CODE.finditer(text):
        done += [_SIGNS.sub(r"\\\1", text[at : found.start()]), code(found[2])]
        at = found.end()
    return "".join([*done, _SIGNS.sub(r"\\\1", text[at:]).replace("`", "\\`")])


def code(text: str) -> str:
    """``text`` as code within a line."""
    return f"`` {text} ``" if "`" in text else f"`{text}`"


def block(text: str, language: str = "text") -> str:
    """``text`` as a block of code."""
    return f"```{language}\n{text.rstrip()}\n```\n"


def cell(text: str) -> str:
    """A cell of a table: Markdown on one line."""
    return " ".join(text.split()).replace("\n", " ")


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table whose cells are Markdown already."""
    lines = [f"| {' | '.join(heads)} |", f"|{' --- |' * len(heads)}"]
    lines += [f"| {' | '.join(cell(one) for one in row)} |" for row in rows]
    return "\n".join(lines) + "\n"


def bullets(points: Iterable[str]) -> str:
    """A list of points, each of them Markdown already."""
    return "".join(f"- {point}\n" for point in points)


def docstring(text: str | None) -> str:
    """A docstring as Markdown: paragraphs, tables as they stand, and what is given, returned and raised as lists."""
    whole = cleandoc(text or "")
    parts = _PART.split(whole)
    said = [_paragraphs(parts[0])]
    for name, body in zip(parts[1::2], parts[2::2], strict=True):
        heading = {"Args": "Takes", "Returns": "Gives", "Raises": "Ends in an error", "Yields": "Gives"}[name]
        inner, _, after = _indented(body)
        if name in ("Args", "Raises"):
            said.append(f"{heading}:\n\n{bullets(_named(inner))}")
        else:
            said.append(f"{heading}: {inline(' '.join(inner.split()))}\n")
        if after.strip():
            said.append(_paragraphs(after))
    return "\n".join(one for one in said if one.strip())


def inline(text: str) -> str:
    """A piece of a docstring: references and code without the marks that only Python's tools read."""
    plain = _REFERENCE.sub(lambda found: f"`{found[1].rpartition('.')[2]}`", text)
    return escaped(plain.replace("``", "`"))


def _paragraphs(text: str) -> str:
    done = []
    for paragraph in re.split(r"\n\s*\n", text.strip()):
        if re.search(r"^={3,}", paragraph, re.MULTILINE) or re.search(r"^ {4}", paragraph, re.MULTILINE):
            done.append(block(cleandoc(paragraph)))
        elif paragraph.lstrip().startswith("- "):
            points = re.split(r"^\s*- ", paragraph, flags=re.MULTILINE)[1:]
            done.append(bullets(inline(" ".join(point.split())) for point in points))
        else:
            done.append(inline(" ".join(paragraph.split())) + "\n")
    return "\n".join(done)


def _indented(body: str) -> tuple[str, str, str]:
    """What is indented under a heading, and what comes after it."""
    kept: list[str] = []
    lines = body.strip("\n").splitlines()
    while lines and (not lines[0].strip() or lines[0].startswith(" ")):
        kept.append(lines.pop(0))
    return cleandoc("\n".join(kept)), "", "\n".join(lines)


def _named(text: str) -> list[str]:
    """``name: what it is`` with its further lines, one point for each name."""
    points = re.split(r"\n(?=\S)", text)
    done = []
    for point in points:
        name, colon, said = " ".join(point.split()).partition(": ")
        done.append(f"{code(name.strip('`'))}: {inline(said)}" if colon else inline(name))
    return done
