"""The standards that come with mixlint, as text and as ``mixlint-standards/1``."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Literal

from mixlint.reports.plain import Page, wrapped
from mixlint.session.maybe import Frozen

if TYPE_CHECKING:
    from mixlint.rulebook.house_file import StandardFile


class StandardEntry(Frozen):
    """One standard: its name, its title, what it is for, and the standard that it changes.

    ``builds_on`` is empty where it starts from the rules themselves.
    """

    name: str
    title: str
    about: str
    builds_on: str = ""


class StandardList(Frozen):
    """The standards that come with mixlint, the one that holds unasked first: ``mixlint-standards/1``."""

    format: Literal["mixlint-standards/1"] = "mixlint-standards/1"
    standards: tuple[StandardEntry, ...] = ()


def standard_list(files: Iterable[StandardFile]) -> StandardList:
    """The list of standards, as a document.

    Args:
        files: the standards as they are written, in the order they are listed in.
    """
    return StandardList(
        standards=tuple(
            StandardEntry(
                name=one.name,
                title=one.title,
                about="\n\n".join(" ".join(part.split()) for part in one.about.split("\n\n") if part.strip()),
                builds_on=one.builds_on or "",
            )
            for one in files
        )
    )


def standard_list_text(said: StandardList, page: Page) -> str:
    """The standards one by one: name and title, then what each is for."""
    lines: list[str] = []
    for one in said.standards:
        lines += [page.bold(line) for line in wrapped(f"{one.name}: {one.title}", page.width, "  ", "")]
        for part in one.about.split("\n\n"):
            lines += wrapped(part, page.width, " " * 4)
        lines.append("")
    first = said.standards[0].name
    lines += wrapped(
        f"Without a house's standard {first} holds. Another: mixlint review PATH --standard NAME. "
        "Its rules: mixlint rules --standard NAME. A standard of your own: mixlint begin FOLDER.",
        page.width,
        "",
    )
    return "\n".join(lines) + "\n"
