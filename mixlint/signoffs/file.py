"""Sign-off files: plain text beside the session, one item a line, in a fixed order.

Every area of the checklist has its heading in every file, whether or not anything stands under it. Two people who
sign off rules of two areas change two places that never touch, so a three-way merge takes both; within one area the
lines are ordered by what they are about. There are no totals and no dates of the file as a whole.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final, get_args

from mixlint.errors import BrokenFile, InputError
from mixlint.plain_files import read_plain, tree_of
from mixlint.rulebook.rule_file import Area
from mixlint.signoffs.line import SignOff, line_text, read_line
from mixlint.signoffs.paths import PROJECT
from mixlint.unseen import MISLEADING, named_unseen, with_unseen_escaped

MOST_BYTES: Final = 16 << 20
AREAS: Final[tuple[str, ...]] = get_args(Area)
OTHER: Final = "rules not on the checklist"
TITLE: Final = "# mixlint sign-offs, one a line; mixlint sign writes them. Merge conflicts: keep both sides."
_CONFLICT: Final = re.compile(r"^(<{7}|={7}|>{7}|\|{7})( |$)")


@dataclass(frozen=True, slots=True)
class FiledSignOff:
    """A sign-off and the file it stands in."""

    item: SignOff
    file: Path


def signoffs_in(files: Iterable[Path]) -> list[FiledSignOff]:
    """Every sign-off of some files, in their order.

    Args:
        files: sign-off files that are there.

    Raises:
        InputError: a sign-off file cannot be read.
    """
    return [FiledSignOff(item, path) for path in files for item in read_signoffs(path)]


def read_signoffs(path: Path) -> list[SignOff]:
    """The sign-offs of one file.

    Args:
        path: the file.

    Raises:
        BrokenFile: a line cannot be read, or the file holds a merge conflict.
        InputError: the file cannot be read.
    """
    try:
        content = read_plain(path, MOST_BYTES, tree_of(path.parent))
    except OSError as fault:
        raise InputError(f"it cannot be read ({fault.strerror})", where=str(path), do="check the path") from fault
    return signoffs_of(content, path)


def signoffs_of(content: bytes, path: Path) -> list[SignOff]:
    """The sign-offs in the content of a file.

    Args:
        content: what the file holds.
        path: the file, for faults; its name tells whether it is a whole project's.

    Raises:
        BrokenFile: a line cannot be read or does not say what it rests on, or the file holds a merge conflict.
    """
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        raise BrokenFile(f"byte {fault.start} is no UTF-8", where=str(path), do="save it as UTF-8") from fault
    found = []
    for number, one in enumerate(re.split(r"\r?\n", text), 1):
        place = f"{path}, line {number}"
        if _CONFLICT.match(one):
            do = "keep the lines of both sides and delete the marks between them"
            raise BrokenFile("a merge conflict is left in the file", where=place, do=do)
        _refuse_hidden(one, place)
        if not one.strip() or one.lstrip().startswith("#"):
            continue
        try:
            item = read_line(one)
        except ValueError as fault:
            raise BrokenFile(f"this is no sign-off: {fault}", where=place, do="write it with mixlint sign") from fault
        _refuse_groundless(item, path, place)
        found.append(item)
    return found


def _refuse_hidden(line: str, place: str) -> None:
    """What a reader of a line cannot see must not say anything."""
    if "\r" in line:
        what = "a carriage return stands alone in this line, and some editors show no new line there"
        raise BrokenFile(what, where=place, do="put what stands behind it on a line of its own, or delete it")
    if found := MISLEADING.search(line.replace("\t", " ")):
        do = f"delete it, or write it as {with_unseen_escaped(found[0])} where it belongs to a name"
        raise BrokenFile(
            f"a character that cannot be seen stands in this line: {named_unseen(found[0])}", where=place, do=do
        )


def _refuse_groundless(item: SignOff, path: Path, place: str) -> None:
    """A line that could never lapse, or that reaches farther than its file, says more than anybody signed."""
    if item.answer is None and not item.rests:
        what = "this sign-off does not say what it rests on, so it would never lapse"
        raise BrokenFile(what, where=place, do="delete the line and sign again with mixlint sign")
    if item.answer is not None and not item.content:
        what = "this answer does not say for which mix it was given"
        raise BrokenFile(what, where=place, do="delete the line and answer again with mixlint sign --answer")
    if item.scope == "project" and path.name != PROJECT:
        what = "a line for the whole project stands in the file of one session"
        raise BrokenFile(what, where=place, do=f"move it to {PROJECT}, or sign for this session alone")


def identity(item: SignOff) -> tuple[str, ...]:
    """What one person can have one line about: what is signed, by whom, and whether as a sign-off or an answer."""
    return (*item.key, item.signer, "answer" if item.answer else "sign")


def with_line(items: Iterable[SignOff], new: SignOff) -> list[SignOff]:
    """``items`` with a new line; what the same person said before about the same thing goes, whatever day it bears."""
    return [*(item for item in items if identity(item) != identity(new)), new]


def signoffs_text(items: Iterable[SignOff], areas: Mapping[str, str]) -> str:
    """The text of a file.

    Args:
        items: the sign-offs; of several by one person about one thing the latest stays.
        areas: rule id to area; a rule without one stands under a heading of its own, last.
    """
    latest: dict[tuple[str, ...], SignOff] = {}
    for item in items:
        key = identity(item)
        if key not in latest or latest[key].on <= item.on:
            latest[key] = item
    groups: dict[str, list[str]] = {area: [] for area in (*AREAS, OTHER)}
    for key in sorted(latest):
        item = latest[key]
        groups[areas.get(item.rule, OTHER)].append(line_text(item))
    lines = [TITLE]
    for area, found in groups.items():
        if area != OTHER or found:
            lines += [f"# {area}", *found]
    return "\n".join(lines) + "\n"
