"""A rule ready to be held against rows: its file checked against the vocabulary, a standard's changes made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from mixlint.facts.declare import Table
from mixlint.rulebook.conditions import Condition, Reader
from mixlint.rulebook.faults import Faults, Pen, near
from mixlint.rulebook.rule_file import Area, Basis, Example, Grade, MaySign, RuleFile, Written, read_rule_file
from mixlint.rulebook.values import Limit, LimitValue
from mixlint.rulebook.wording import Wording, read_wording

Tables = Mapping[str, Table[Any]]
"""The vocabulary: tables of facts by name."""

AS_WRITTEN = "the rule"
"""Where a grade or limit stems from when no standard changes it."""


@dataclass(frozen=True, slots=True)
class LimitChange:
    """A limit as a standard sets it: the value, the standard's name, and its file, by which faults refer to it."""

    value: LimitValue
    by: str
    file: str


@dataclass(slots=True)
class Change:
    """What a chain of standards changes in one rule."""

    grade: Grade | None = None
    grade_by: str = ""
    may_sign: MaySign | None = None
    limits: dict[str, LimitChange] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule in force: checked against the vocabulary, with the changes of the standard made.

    ``limit_from`` and ``grade_from`` name the standard each stems from; ``the rule`` where none changed it.
    """

    file: RuleFile
    path: Path
    table: Table[Any]
    grade: Grade
    may_sign: MaySign
    limits: Mapping[str, Limit]
    when: Condition | None
    must: Condition
    message: Wording
    cure: Wording
    question: Wording
    open_message: Wording
    grade_from: str
    limit_from: Mapping[str, str]

    @property
    def id(self) -> str:
        """The rule's name: the good state."""
        return self.file.id

    @property
    def title(self) -> str:
        """The good state as a sentence."""
        return self.file.title

    @property
    def area(self) -> Area:
        """The part of the checklist it belongs to."""
        return self.file.area

    @property
    def over(self) -> str:
        """The name of the table it is held against."""
        return self.file.over

    @property
    def says(self) -> str:
        """The message, its placeholders not filled in."""
        return self.file.says

    @property
    def remedy(self) -> str:
        """The remedy, its placeholders not filled in."""
        return self.file.remedy

    @property
    def needs_ears(self) -> str:
        """The question, its placeholders not filled in."""
        return self.file.needs_ears

    @property
    def why(self) -> str:
        """Why the rule is on the checklist."""
        return self.file.why

    @property
    def basis(self) -> Basis:
        """What the rule rests on."""
        return self.file.basis

    @property
    def follows(self) -> tuple[str, ...]:
        """Ids of the rules whose findings can cause this one's."""
        return self.file.follows

    @property
    def needs(self) -> tuple[str, ...]:
        """What the rule cannot do without."""
        return self.file.needs

    @property
    def margins(self) -> Mapping[str, float]:
        """By how much each fact must worsen for a sign-off to lapse."""
        return self.file.margins

    def examples(self) -> tuple[Example, ...]:
        """The examples, read from the file when asked for.

        Raises:
            RulebookError: the file has faults.
        """
        faults = Faults()
        written = read_rule_file(self.path, self.path.name, faults, whole=True)
        faults.stop()
        return written.file.example if written else ()


def ready(written: Written, tables: Tables, faults: Faults, change: Change | None = None) -> Rule | None:
    """Check a rule file against the vocabulary and make it ready; None when faults were written down."""
    file, change = written.file, change or Change()
    pen = faults.of(written.name)
    table = tables.get(file.over)
    if table is None:
        pen("over", f"there is no table {file.over}", near(file.over, tables))
        return None
    limits, limit_from = _limits(file, change.limits, written.name, pen)
    reader = Reader(table, limits, pen)
    when = reader.read(file.when, "when") if file.when is not None else None
    must = reader.read(file.must, "must")
    used = dict.fromkeys([*(when.limits if when else ()), *(must.limits if must else ())])
    texts = {"says": file.says, "remedy": file.remedy, "needs_ears": file.needs_ears, "says_open": file.says_open}
    wordings = {key: read_wording(text, key, table, limits, pen, used) for key, text in texts.items()}
    _check_margins(file, table, pen)
    if must is not None and not pen.count:  # a fault elsewhere may be why a limit seems unused
        _check_use(limits, used, pen)
    if must is None or pen.count:
        return None
    return Rule(
        file=file,
        path=written.path,
        table=table,
        grade=change.grade or file.grade,
        may_sign=change.may_sign or file.may_sign,
        limits=limits,
        when=when,
        must=must,
        message=wordings["says"],
        cure=wordings["remedy"],
        question=wordings["needs_ears"],
        open_message=wordings["says_open"],
        grade_from=change.grade_by if change.grade else AS_WRITTEN,
        limit_from=limit_from,
    )


def _limits(
    file: RuleFile, changes: Mapping[str, LimitChange], name: str, pen: Pen
) -> tuple[dict[str, Limit], dict[str, str]]:
    """The limits in force and where each stems from."""
    limits, stems = dict(file.limits), dict.fromkeys(file.limits, AS_WRITTEN)
    for limit, change in changes.items():
        known = file.limits.get(limit)
        hand = pen.faults.of(change.file)
        key = f"limits.{file.id}.{limit}"
        if known is None:
            hand(key, f"the rule {file.id} has no limit {limit}", near(limit, file.limits))
            pen.count += 1
        elif _sort(change.value) != _sort(known.value):
            hand(key, f"it takes {_sort(known.value)}, as in {name}, not {_sort(change.value)}")
            pen.count += 1
        else:
            limits[limit] = known.model_copy(update={"value": change.value})
            stems[limit] = change.by
    return limits, stems


def _sort(value: LimitValue) -> str:
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, str):
        return "text"
    return "a list" if isinstance(value, tuple) else "a number"


def _check_use(limits: Mapping[str, Limit], used: Mapping[str, None], pen: Pen) -> None:
    for name in limits:
        if name not in used:
            pen(f"limits.{name}", "no condition and no text uses this limit")


def _check_margins(file: RuleFile, table: Table[Any], pen: Pen) -> None:
    for name, margin in file.margins.items():
        fact = table.facts.get(name)
        if fact is None:
            hint = near(name, table.facts) or f"mixlint facts {table.name} lists them"
            pen(f"margins.{name}", f"the table {table.name} has no fact {name}", hint)
        elif fact.kind != "number":
            pen(f"margins.{name}", f"{name} is a {fact.kind}; only a number can worsen by a margin")
        elif margin <= 0:
            pen(f"margins.{name}", "a margin is more than 0")
