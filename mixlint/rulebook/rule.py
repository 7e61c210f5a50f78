"""A rule ready to be held against rows: its file checked against the vocabulary, a standard's changes made."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NamedTuple

from mixlint.facts.declare import Table
from mixlint.rulebook.conditions import Condition, Reader
from mixlint.rulebook.faults import Faults, FileFaults, near
from mixlint.rulebook.former_names import no_such_fact
from mixlint.rulebook.rule_file import (
    Area,
    Basis,
    Example,
    FineAnswer,
    Grade,
    MaySign,
    RuleFile,
    Written,
    read_rule_file,
)
from mixlint.rulebook.settings import SettingInForce, rested_on
from mixlint.rulebook.values import Limit, LimitValue
from mixlint.rulebook.wording import Wording, read_wording

Tables = Mapping[str, Table[Any]]
"""The vocabulary: tables of facts by name."""

AS_WRITTEN = "the rule"
"""Where a grade or limit stems from when no standard changes it."""


class LimitChange(NamedTuple):
    """A limit as a standard sets it.

    Args:
        value: the value.
        by: the standard's name.
        file: its file, by which faults refer to it.
    """

    value: LimitValue
    by: str
    file: str


@dataclass(slots=True)
class Change:
    """What a chain of standards changes in one rule.

    Args:
        grade: the grade, where one is set.
        grade_by: the name of the standard that set it.
        may_sign: who may sign, where that is set.
        limits: the limits that are set, by name.
    """

    grade: Grade | None = None
    grade_by: str = ""
    may_sign: MaySign | None = None
    limits: dict[str, LimitChange] = field(default_factory=dict)


class GradeInCase(NamedTuple):
    """A grade that holds under a condition, and what it means for the mix."""

    grade: Grade
    when: Condition
    because: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule in force: checked against the vocabulary, with the changes of the standard made.

    Args:
        id: the rule's name: the good state.
        title: the good state as a sentence.
        area: the part of the checklist it belongs to.
        over: the name of the table it is held against.
        table: that table.
        grade: the grade in force, where none of ``grades`` holds.
        grades: the cases in which it is another one; none where a standard lays the grade down.
        may_sign: who may sign a finding off.
        limits: the limits in force, by name.
        settings: the settings that its table, and the facts of its conditions and texts, rest on.
        when: which rows it applies to; all of them without it.
        must: what has to hold.
        says: the message where it does not.
        remedy: what to do about it.
        needs_ears: what to ask when the answer cannot be seen; its text is empty where nothing is asked.
        fine_answer: the answer to it that is fine.
        says_open: the message for that case; its text is empty where the usual one does.
        why: why the rule is on the checklist.
        basis: what it rests on.
        follows: ids of the rules whose findings can cause this one's.
        needs: what it cannot do without.
        margins: by how much each fact must worsen, in its own unit, for a sign-off to lapse.
        grade_from: the standard that the grade stems from; :data:`AS_WRITTEN` where none changed it.
        limit_from: the same of each limit.
        file: the rule as written.
        path: its file.
    """

    id: str
    title: str
    area: Area
    over: str
    table: Table[Any]
    grade: Grade
    grades: tuple[GradeInCase, ...]
    may_sign: MaySign
    limits: Mapping[str, Limit]
    settings: tuple[SettingInForce, ...]
    when: Condition | None
    must: Condition
    says: Wording
    remedy: Wording
    needs_ears: Wording
    fine_answer: FineAnswer
    says_open: Wording
    why: str
    basis: Basis
    follows: tuple[str, ...]
    needs: tuple[str, ...]
    margins: Mapping[str, float]
    grade_from: str
    limit_from: Mapping[str, str]
    file: RuleFile
    path: Path

    def examples(self) -> tuple[Example, ...]:
        """The examples, read from the file when asked for.

        Raises:
            RulebookError: the file has faults.
        """
        faults = Faults()
        written = read_rule_file(self.path, self.path.name, faults, whole=True)
        faults.stop()
        return written.file.example if written else ()


def ready(
    written: Written,
    tables: Tables,
    faults: Faults,
    change: Change | None = None,
    settings: Mapping[str, SettingInForce] | None = None,
    own_roles: Mapping[str, str] | None = None,
) -> Rule | None:
    """Check a rule file against the vocabulary and make it ready.

    Args:
        written: the rule file.
        tables: the vocabulary.
        faults: where faults and notices go.
        change: what the chain of standards changes in it.
        settings: the settings in force by name; without them each stands as shipped.
        own_roles: the roles of the house's own, by name, each with the shipped one that it is like.

    Returns:
        The rule, or None when a fault was added.
    """
    file, change = written.file, change or Change()
    file_faults = faults.of(written.name)
    table = tables.get(file.over)
    if table is None:
        file_faults.add("over", f"there is no table {file.over}", near(file.over, tables))
        return None
    limits, limit_from, limits_fit = _limits(file, change.limits, written.name, faults)
    reader = Reader(table, limits, file_faults, own_roles, tables)
    when = reader.read(file.when, "when") if file.when is not None else None
    must = reader.read(file.must, "must")
    cases = _grade_cases(file, reader)
    conditions = [one for one in (when, must, *(case.when for case in cases)) if one is not None]
    used = dict.fromkeys(name for one in conditions for name in one.limits)
    texts = {"says": file.says, "remedy": file.remedy, "needs_ears": file.needs_ears, "says_open": file.says_open}
    wordings = {key: read_wording(text, key, table, limits, file_faults, used) for key, text in texts.items()}
    _check_margins(file, table, file_faults)
    sound = must is not None and limits_fit and not file_faults.count
    if sound:  # a fault elsewhere may be why a limit seems unused
        _check_use(limits, used, file_faults)
    if must is None or not sound or file_faults.count:
        return None
    named = [*(name for one in conditions for name in one.facts), *(n for one in wordings.values() for n in one.facts)]
    elsewhere = [fact for one in conditions for fact in one.elsewhere]
    rests_on = rested_on(table, [*(table.facts[name] for name in dict.fromkeys(named)), *elsewhere])
    return Rule(
        id=file.id,
        title=file.title,
        area=file.area,
        over=file.over,
        table=table,
        grade=change.grade or file.grade,
        grades=() if change.grade else cases,
        may_sign=change.may_sign or file.may_sign,
        limits=limits,
        settings=tuple((settings or {}).get(one.name) or SettingInForce(one, one.value) for one in rests_on),
        when=when,
        must=must,
        says=wordings["says"],
        remedy=wordings["remedy"],
        needs_ears=wordings["needs_ears"],
        fine_answer=file.fine_answer,
        says_open=wordings["says_open"],
        why=file.why,
        basis=file.basis,
        follows=file.follows,
        needs=file.needs,
        margins=file.margins,
        grade_from=change.grade_by if change.grade else AS_WRITTEN,
        limit_from=limit_from,
        file=file,
        path=written.path,
    )


def _grade_cases(file: RuleFile, reader: Reader) -> tuple[GradeInCase, ...]:
    """The cases of a rule whose conditions are sound; faults go to the rule's file."""
    read = ((case, reader.read(case.when, f"grades[{n}].when")) for n, case in enumerate(file.grades))
    return tuple(GradeInCase(case.to, when, case.because) for case, when in read if when is not None)


def _limits(
    file: RuleFile, changes: Mapping[str, LimitChange], name: str, faults: Faults
) -> tuple[dict[str, Limit], dict[str, str], bool]:
    """The limits in force, where each stems from, and whether every change fits; faults go to the standard's file."""
    limits, stems = dict(file.limits), dict.fromkeys(file.limits, AS_WRITTEN)
    fits = True
    for limit, change in changes.items():
        known = file.limits.get(limit)
        standard_faults = faults.of(change.file)
        key = f"limits.{file.id}.{limit}"
        if known is None:
            standard_faults.add(key, f"the rule {file.id} has no limit {limit}", near(limit, file.limits))
        elif _sort(change.value) != _sort(known.value):
            standard_faults.add(key, f"it takes {_sort(known.value)}, as in {name}, not {_sort(change.value)}")
        else:
            limits[limit] = known.model_copy(update={"value": change.value})
            stems[limit] = change.by
        fits = fits and not standard_faults.count
    return limits, stems, fits


def _sort(value: LimitValue) -> str:
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, str):
        return "text"
    return "a list" if isinstance(value, tuple) else "a number"


def _check_use(limits: Mapping[str, Limit], used: Mapping[str, None], file_faults: FileFaults) -> None:
    for name in limits:
        if name not in used:
            file_faults.add(f"limits.{name}", "no condition and no text uses this limit")


def _check_margins(file: RuleFile, table: Table[Any], file_faults: FileFaults) -> None:
    for name, margin in file.margins.items():
        fact = table.facts.get(name)
        if fact is None:
            file_faults.add(f"margins.{name}", *no_such_fact(table, name))
        elif fact.kind != "number":
            file_faults.add(f"margins.{name}", f"{name} is a {fact.kind}; only a number can worsen by a margin")
        elif margin <= 0:
            file_faults.add(f"margins.{name}", "a margin is more than 0")
