"""The form of a store, ``mixlint-store/1``: its kinds of rows, each with its columns, declared once.

A store is a folder. In it each kind of rows has a folder, in that one for each month, and there the files that runs
added: ``findings/2026-11/20261128T101500Z-3f2a9c1b7d5e4f60-0001-8d3b0f6a92c4e517.parquet``, in which the last part is
a hash of its content. The rules of a standard lie in folders by their digest. Nothing that is there is ever changed.
"""

from __future__ import annotations

from hashlib import sha256
from typing import TYPE_CHECKING, Any, Final, Literal, NamedTuple

if TYPE_CHECKING:
    import pyarrow

FORM: Final = 1
"""The version of this form; it is raised when a reader of the one before would go wrong."""

FORM_KEY: Final = b"mixlint-store"
"""Under this key each file says of which version of the form it is, and under the next of which kind."""
KIND_KEY: Final = b"mixlint-kind"

_DIGITS: Final = 16
"""Hexadecimal digits of the hash in a file's name: damage goes unseen once in 2⁶⁴."""


def file_name(name: str, content: bytes) -> str:
    """The name of a file: as it is called, and a hash of its content, by which damage is told."""
    return f"{name}-{sha256(content).hexdigest()[:_DIGITS]}.parquet"


ColumnType = Literal["text", "number", "whole", "truth", "moment", "texts", "wholes"]
"""``whole`` is a number without a fraction, ``moment`` a time in UTC, ``texts`` and ``wholes`` are lists."""


class Column(NamedTuple):
    """One column.

    Args:
        name: what a query calls it.
        type: what stands in it; any of it may be null.
        meaning: what it says, for a reader.
    """

    name: str
    type: ColumnType
    meaning: str


class Kind(NamedTuple):
    """One kind of rows, and the view over all of them.

    Args:
        name: its folder, and the view that a query asks.
        meaning: what one row is.
        columns: its columns.
    """

    name: str
    meaning: str
    columns: tuple[Column, ...]

    def schema(self) -> pyarrow.Schema:
        """The columns as Arrow has them, with the version of the form."""
        import pyarrow as pa

        types: dict[ColumnType, Any] = {
            "text": pa.string(),
            "number": pa.float64(),
            "whole": pa.int64(),
            "truth": pa.bool_(),
            "moment": pa.timestamp("us", tz="UTC"),
            "texts": pa.list_(pa.string()),
            "wholes": pa.list_(pa.int64()),
        }
        marks = {FORM_KEY: str(FORM).encode(), KIND_KEY: self.name.encode()}
        return pa.schema([pa.field(one.name, types[one.type]) for one in self.columns], metadata=marks)


_SESSION: Final = Column("session", "text", "the review of one session, as the table sessions names it")

RUNS: Final = Kind(
    "runs",
    "one run of mixlint review",
    (
        Column("run", "text", "the run: when it began, and 64 random bits"),
        Column("begun", "moment", "when it began"),
        Column("zone", "text", "how far the clock of its machine was from UTC: +01:00"),
        Column("version", "text", "the version of mixlint"),
        Column("audio", "truth", "audio was opened where there was some"),
        Column("only_areas", "texts", "the areas that it was kept to; empty for all"),
        Column("only_rules", "texts", "the rules that it was kept to; empty for all"),
        Column("left_out", "texts", "the rules that it left out"),
        Column("hold_on", "text", "the lightest grade of a flagged row that holds the bounce"),
    ),
)

SESSIONS: Final = Kind(
    "sessions",
    "the review of one session in one run",
    (
        _SESSION,
        Column("run", "text", "its run"),
        Column("done", "moment", "when it was done"),
        Column("zone", "text", "how far the clock of its machine was from UTC"),
        Column("place", "text", "a hash of where the session lies as seen from the store: the same in each review"),
        Column("path", "text", "its file as it was given"),
        Column("title", "text", "its title"),
        Column("importer", "text", "as which form it was read"),
        Column("digest", "text", "of the content of its file"),
        Column("outcome", "text", "held, look, clear"),
        Column("hold_on", "text", "the lightest grade of a flagged row that held the bounce"),
        Column("whole", "truth", "the whole checklist was run, and nothing was left out for a baseline"),
        Column("baseline", "text", "the earlier report that it was held against; null without one"),
        Column("standard", "text", "the name of the standard in force"),
        Column("standard_digest", "text", "of its rules with their limits and grades, and of its settings"),
        Column("engineer", "text", "by the option, the export or the standard; null where none says"),
        Column("client", "text", "likewise"),
        Column("channels", "whole", "how many channels it has"),
        Column("flagged", "whole", "rows that came out so"),
        Column("open", "whole", "likewise"),
        Column("signed", "whole", "likewise"),
        Column("clear", "whole", "likewise"),
        Column("idle", "whole", "likewise"),
        Column("flagged_hold", "whole", "of the flagged rows those at this grade"),
        Column("flagged_look", "whole", "likewise"),
        Column("flagged_note", "whole", "likewise"),
        Column("open_hold", "whole", "of the open rows those at this grade"),
        Column("open_look", "whole", "likewise"),
        Column("open_note", "whole", "likewise"),
    ),
)

FINDINGS: Final = Kind(
    "findings",
    "one row that is flagged, open or signed off, as the report has it",
    (
        _SESSION,
        Column("number", "whole", "its place in the report, from 1"),
        Column("rule", "text", "the rule's id"),
        Column("rule_title", "text", "the good state"),
        Column("area", "text", "the part of the checklist"),
        Column("grade", "text", "hold, look, note"),
        Column("grade_because", "text", "why that is not the rule's own"),
        Column("verdict", "text", "flagged, open, signed"),
        Column("of_table", "text", "the table of facts that its row is of"),
        Column("name", "text", "the row: a channel's name, Voice → Plate for a send"),
        Column("channel", "text", "the name of the first channel involved; null where it is no channel's"),
        Column("family", "text", "the family of parts that this channel belongs to, where its name tells"),
        Column("message", "text", "what is wrong, or what cannot be seen"),
        Column("remedy", "text", "what to do"),
        Column("question", "text", "what is asked of your eyes and ears"),
        Column("found_at", "text", "its place in the export or the song"),
        Column("fingerprint", "text", "what it is known by from one review to the next"),
        Column("cause", "text", "the fingerprint of the finding it follows from"),
        Column("evidence", "text", "what it rests on, as JSON, as in the report"),
        Column("reasons", "text", "why it cannot be seen, as JSON, as in the report"),
    ),
)

SIGNED: Final = Kind(
    "signed",
    "one sign-off or answer that a review met",
    (
        _SESSION,
        Column("rule", "text", "the rule's id"),
        Column("of_table", "text", "the table of facts that its row is of"),
        Column("name", "text", "the row"),
        Column("fingerprint", "text", "of the finding that it holds for; null where it holds for none"),
        Column("state", "text", "in force, answered against, lapsed, waiting, unused, ending"),
        Column("signers", "texts", "the initials; two where the rule asks for two"),
        Column("day", "text", "the day of signing, ISO 8601"),
        Column("until", "text", "never, a day, or mix N; null where only the note of the review is left"),
        Column("scope", "text", "finding, part, song, project"),
        Column("because", "text", "the reason"),
        Column("answer", "text", "yes, no or not-applicable where a question was asked"),
        Column("file", "text", "the name of the file that it stands in"),
        Column("why", "text", "why it is lapsed, waiting, unused or about to end"),
    ),
)

JUDGED: Final = Kind(
    "judged",
    "one row under one rule, clear and idle ones too, before sign-offs",
    (
        _SESSION,
        Column("rule", "text", "the rule's id"),
        Column("row", "whole", "the number of the row in this review"),
        Column("of_table", "text", "its table of facts"),
        Column("name", "text", "its name"),
        Column("verdict", "text", "flagged, open, clear, idle"),
        Column("grade", "text", "hold, look, note"),
        Column("fingerprint", "text", "of the finding that it makes"),
    ),
)

FACTS: Final = Kind(
    "facts",
    "one fact that the conditions of a rule name, of one row, once for each limit that it is held against",
    (
        _SESSION,
        Column("rule", "text", "the rule that asks"),
        Column("row", "whole", "the number of the row, which several rules may share"),
        Column("of_table", "text", "its table of facts"),
        Column("name", "text", "its name"),
        Column("fact", "text", "the fact"),
        Column("kind", "text", "number, truth, text, list, rows; unknown where there is no value"),
        Column("number", "number", "its value, in its unit"),
        Column("truth", "truth", "likewise"),
        Column("text", "text", "likewise; a list as JSON"),
        Column("rows", "wholes", "the numbers of the rows that it leads to"),
        Column("unit", "text", "its unit"),
        Column("how", "text", "declared, measured, derived, assumed"),
        Column("unknown", "text", "why it is not known; of rows, why there may be more of them"),
        Column("limit_name", "text", "the limit of the rule that it is held against; null for none, or a fixed one"),
    ),
)

RULES: Final = Kind(
    "rules",
    "one rule as a standard had it in force; written once for each standard",
    (
        Column("standard_digest", "text", "of the standard, as in the table sessions"),
        Column("standard", "text", "its name"),
        Column("rule", "text", "the rule's id"),
        Column("rule_title", "text", "the good state"),
        Column("area", "text", "the part of the checklist"),
        Column("over", "text", "its table of facts"),
        Column("grade", "text", "the grade in force"),
        Column("limits", "text", "its limits in force, as JSON"),
        Column("definition", "text", "all of it, as JSON: what it asks can be asked again of stored facts"),
        Column("own_roles", "text", "the house's own roles, each with the shipped one that it is like, as JSON"),
    ),
)

KINDS: Final[dict[str, Kind]] = {one.name: one for one in (RULES, FACTS, JUDGED, SIGNED, FINDINGS, RUNS, SESSIONS)}
"""All kinds, in the order in which their files are added: a session counts once its own row is there, the last."""
