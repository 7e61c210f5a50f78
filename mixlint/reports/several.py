"""A report of many sessions put together from the parts of each, so that no more than a few are ever held.

What a part says is written where its session is reviewed (:mod:`mixlint.reports.parts`); here stands what a document
says before, between and behind them, of nothing but what :class:`Told` keeps of each. Where its beginning tells
something that only the end knows, such as how many rows failed, the parts wait on the disk. The text of a document is
the same, byte for byte, as that of :func:`mixlint.runs.report.report` for all sessions at once.

Nothing heavy is imported, since parts that were kept from an earlier run are put together here too.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from mixlint.reports.few_words import CAUTION, SHORT, counts_of
from mixlint.reports.plain import Page, in_columns, neutral, without_orders, wrapped

if TYPE_CHECKING:
    from mixlint.review.findings import BounceOutcome

NUMBERS: Final = (10, 5, 5, 5, 9)
"""The columns of the table of sessions behind the name: outcome, hold, look, notes, questions."""
RIGHTS: Final = frozenset({2, 3, 4, 5})
NARROW: Final = 20
"""Where the name would have fewer columns than this, its numbers stand below it."""

SARIF_SCHEMA: Final = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
LABEL: Final = 80
"""Characters of a session's title in what its parts are called to a reader of several."""


@dataclass(frozen=True, slots=True)
class Told:
    """What a document of several sessions says of one outside its part.

    Args:
        source: the session as it was named.
        title: its title.
        outcome: what it came to.
        counts: its rows, as :class:`mixlint.review.findings.Counts` holds them.
        grades: the same in words.
        cautions: something of what is shown could change how loud something plays.
        tally: its cases, those that failed and those that were skipped, in JUnit.
        row: its lines in the table of sessions, in the text.
        opens: what opens its anchors, on the page.
        drawn: the pictures that are drawn of it, by name.
        page: the name of its page, in a folder of pages.
        balance: its stereo balance in the index: the fields of
            :class:`mixlint.reports.pictures.small_row.SmallBalance`.
    """

    source: str
    title: str
    outcome: BounceOutcome
    counts: dict[str, Any] = field(default_factory=dict)
    grades: str = ""
    cautions: bool = False
    tally: tuple[int, int, int] = (0, 0, 0)
    row: tuple[str, ...] = ()
    opens: str = ""
    drawn: tuple[str, ...] = ()
    page: str = ""
    balance: dict[str, Any] | None = None


class Document:
    """One document of several sessions, written as their parts come in.

    Args:
        version: mixlint's own.
        page: how wide text is, and whether bold and dim can be used.
    """

    waits = False
    """Its beginning can be written only when all parts are there."""

    def __init__(self, version: str, page: Page) -> None:
        self.version, self.page = version, page
        self.told: list[Told] = []

    def joined(self, told: Told, text: str) -> str:
        """What is written when a part comes in, the part itself in it."""
        self.told.append(told)
        return text

    def begun(self) -> str:
        """What stands before the first part, of a document that waits."""
        return ""

    def placed(self, at: int, text: str) -> str:
        """A part in its place, of a document that waits."""
        del at
        return text

    def ended(self) -> str:
        """What stands behind the last part."""
        return ""


class Lines(Document):
    """The form of one line per finding."""


class Text(Document):
    """The text: a blank line between sessions, then the table of them, then the caution."""

    def joined(self, told: Told, text: str) -> str:
        """A part, parted from the one before it."""
        first = not self.told
        super().joined(told, text)
        return text if first else f"\n{text}"

    def ended(self) -> str:
        """The table of several sessions, so that the one that is held is found."""
        lines = ["", *_table(self.told, self.page)] if len(self.told) > 1 else []
        if any(one.cautions for one in self.told):
            lines += ["", *wrapped(CAUTION, self.page.width, "")]
        return without_orders("".join(f"{line}\n" for line in lines))


class Json(Document):
    """The report in JSON."""

    opening = '{{\n  "format": "mixlint-report/1",\n  "version": {version},\n  "sessions": [\n'
    closing = "\n  ]\n}\n"

    def joined(self, told: Told, text: str) -> str:
        """A part behind a comma, or behind the head."""
        first = not self.told
        super().joined(told, text)
        before = self.opening.format(version=json.dumps(self.version)) if first else ",\n"
        return before + text

    def ended(self) -> str:
        """The end of the list and of the document."""
        return self.closing if self.told else ""


class Sarif(Json):
    """A SARIF log: a run per session."""

    opening = f'{{{{\n  "$schema": "{SARIF_SCHEMA}",\n  "version": "2.1.0",\n  "runs": [\n'


class Junit(Document):
    """JUnit XML, whose root has the sums."""

    waits = True

    def begun(self) -> str:
        """The root with its sums."""
        tests, failures, skipped = (sum(one.tally[n] for one in self.told) for n in range(3))
        return (
            '<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="mixlint" '
            f'tests="{tests}" failures="{failures}" errors="0" skipped="{skipped}">\n'
        )

    def ended(self) -> str:
        """The end of the root."""
        return "</testsuites>\n"


class Html(Document):
    """One page of several sessions, whose head lists them by outcome."""

    waits = True
    NUMBER: Final = "\x00number\x00"
    NAME: Final = "\x00label\x00"
    """What a part has in place of its number and its label. No text of a session holds these characters."""
    WARNING: Final = "\x00caution\x00"
    """Where the caution stands, on the first session that needs it."""

    def __init__(self, version: str, page: Page) -> None:
        super().__init__(version, page)
        self._taken: set[str] = set()
        self._opens: list[str] = []
        self._end = ""

    def joined(self, told: Told, text: str) -> str:
        """A part, and what opens its anchors kept, so that no two are the same."""
        super().joined(told, text)
        opens, number = told.opens, 1
        while opens in self._taken:
            number += 1
            opens = f"{told.opens.removesuffix('--')}--{number}--"
        self._taken.add(opens)
        self._opens.append(opens)
        return text

    def begun(self) -> str:
        """The head, with the sessions by outcome; the tail is kept for the end."""
        from mixlint.reports.page.around import around

        head, self._end = around(self.told, self._opens, self.version)
        titles = [(one.title or one.source)[:LABEL] for one in self.told]
        met = Counter(titles)
        self._labels = [one if met[one] == 1 else f"{one} ({n})" for n, one in enumerate(titles, 1)]
        self._first = next((n for n, one in enumerate(self.told) if one.cautions), -1)
        return head

    def placed(self, at: int, text: str) -> str:
        """A part with its number, its label and, where it is the first that needs it, the caution."""
        from mixlint.reports.page.around import CAUTIONED, label

        told, opens = self.told[at], self._opens[at]
        if opens != told.opens:
            text = text.replace(told.opens, opens)
        text = text.replace(f"{self.WARNING}\n", f"{CAUTIONED}\n" if at == self._first else "")
        return text.replace(self.NUMBER, str(at + 1)).replace(self.NAME, label(self._labels[at]))

    def ended(self) -> str:
        """The tail."""
        return self._end


DOCUMENTS: Final[dict[str, type[Document]]] = {
    "text": Text,
    "json": Json,
    "sarif": Sarif,
    "junit": Junit,
    "html": Html,
    "line": Lines,
}
"""The forms that are put together from parts, by name. Those of installed packages are written of all at once."""


def _table(told: Sequence[Told], page: Page) -> Iterator[str]:
    heads = ("session", "outcome", "hold", "look", "notes", "questions")
    widths = table_widths(page)
    yield page.line
    if widths[0] >= NARROW:
        yield from page.dims(in_columns(heads, widths, RIGHTS))
    for one in sorted(told, key=lambda s: (*SHORT,).index(s.outcome)):
        yield from one.row
    met = Counter(one.outcome for one in told)
    said_all = ", ".join(f"{met[one]} {SHORT[one]}" for one in SHORT if met[one])
    yield from wrapped(f"{len(told)} sessions: {said_all}.", page.width, "")


def table_widths(page: Page) -> tuple[int, ...]:
    """The columns of the table of sessions."""
    return page.width - sum(NUMBERS) - 2 * len(NUMBERS), *NUMBERS


def table_row(told: Told, page: Page) -> tuple[str, ...]:
    """The lines of one session in the table."""
    name, outcome, widths = neutral(told.source), SHORT[told.outcome], table_widths(page)
    by_grade = told.counts["flagged_by_grade"]
    if widths[0] < NARROW:
        said = wrapped(f"{outcome}: {told.grades}", page.width, " " * 6, " " * 4)
        row = [*wrapped(name, page.width, "  ", ""), *said]
    else:
        numbers = (by_grade["hold"], by_grade["look"], by_grade["note"], told.counts["open"])
        row = in_columns((name, outcome, *map(str, numbers)), widths, RIGHTS)
    return tuple(page.graded(line, told.outcome) if told.outcome == "held" else line for line in row)


def sessions_said(number: int) -> str:
    """How many sessions a page is about."""
    return counts_of(number, "session")
