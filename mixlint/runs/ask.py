"""Facts of a session, asked by table and name."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mixlint.errors import MixlintError, suggestion
from mixlint.session import Session, Unknown

if TYPE_CHECKING:
    from mixlint.facts import FactValue, Subject, Table
    from mixlint.rulebook import Standard


@dataclass(frozen=True, slots=True, eq=False)
class FactRow(Mapping[str, "FactValue | Unknown"]):
    """One row of a table with what was asked of it: a mapping from the name of a fact to its answer.

    An answer is a ``FactValue`` with ``value`` (a number in the fact's unit, a switch, a text, or a tuple of these),
    ``how`` it is known, its place (``where``) and a ``note``; or an :class:`Unknown` with the reason.

    Args:
        subject: what the row is about: its table, id and name, its place in the export, the channels it stands for.
        answers: the answers by the names of their facts.
    """

    subject: Subject
    answers: Mapping[str, FactValue | Unknown]

    @property
    def name(self) -> str:
        """What a reader calls the row: a channel's name, ``Voice → Plate`` for a send."""
        return self.subject.name

    def value(self, fact: str) -> Any:
        """The plain value of a fact, or None where it is not known."""
        answer = self[fact]
        return None if isinstance(answer, Unknown) else answer.value

    def __getitem__(self, fact: str) -> FactValue | Unknown:
        """The answer to one of the facts that were asked."""
        return self.answers[fact]

    def __iter__(self) -> Iterator[str]:
        """The names of the facts that were asked."""
        return iter(self.answers)

    def __len__(self) -> int:
        """How many facts were asked."""
        return len(self.answers)


def ask(
    what: Session | str | PathLike[str],
    table: str,
    *facts: str,
    standard: Standard | str | PathLike[str] | None = None,
    audio: bool = True,
    files: str | PathLike[str] | None = None,
    workers: int = 0,
) -> tuple[FactRow, ...]:
    """Ask facts of every row of a table, as ``mixlint facts TABLE --of SESSION`` does.

    Args:
        what: a session, or the path of a session file, of a folder with one session in it, or of a folder of stems.
        table: the table, such as ``return``, ``send`` or ``channel`` (``mixlint facts`` prints them).
        facts: the facts to ask; all of the table unless given, which takes longer.
        standard: the standard in force, its file or its name, which says how names are read and how the desk pans.
            Else ``mixlint-standard.toml`` beside the session or in a folder above it, else ``pre-bounce``.
        audio: open the audio; without it what is measured is not known, or estimated.
        files: of a :class:`Session`, the file it was read from, or the folder that the paths of its media start from.
        workers: processes that measure audio; 0 measures in this one.

    Returns:
        The rows in desk order; none where the session has nothing of the kind.

    Raises:
        InputError: the session cannot be used.
        RulebookError: the standard has faults.
        MixlintError: there is no such table or fact.
    """
    from mixlint.analysis.opening import context_for
    from mixlint.importers import read
    from mixlint.rulebook import Standard, load_standard
    from mixlint.runs.check import place_of

    asked = table_called(table)
    names = _known(facts, asked)
    place = place_of(what, files)
    if not isinstance(standard, Standard):
        standard = load_standard(standard, place)
    session = what if isinstance(what, Session) else read(place or Path(what), standard.house.vocabulary)
    with context_for(session, place, standard.house, audio=audio, workers=workers) as context:
        return tuple(FactRow(row.subject, {name: row.value(name) for name in names}) for row in asked.rows(context))


def table_called(name: str) -> Table[Any]:
    """The table with this name, of mixlint or of an installed package.

    Raises:
        MixlintError: there is none.
    """
    from mixlint.facts.installed import vocabulary

    tables = vocabulary()
    if name not in tables:
        near = suggestion(name, tables)
        do = f"perhaps {near} is meant" if near else f"choose one of {', '.join(tables)}"
        raise MixlintError(f"there is no table called {name!r}", do=do)
    return tables[name]


def _known(facts: Collection[str], table: Table[Any]) -> list[str]:
    for name in facts:
        if name not in table.facts:
            near = suggestion(name, table.facts)
            do = f"perhaps {near} is meant" if near else f"see the list that mixlint facts {table.name} gives"
            raise MixlintError(f"the table {table.name} has no fact called {name!r}", do=do)
    return list(facts or table.facts)
