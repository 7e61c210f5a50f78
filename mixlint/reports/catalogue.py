"""The catalogue of rules in force under one standard, as text and as ``mixlint-rules/1``."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Literal

from mixlint.reports.plain import Page, neutral, wrapped
from mixlint.reports.words import GRADES, Scalars, fact_text, with_unit
from mixlint.rulebook.settings import AS_SHIPPED
from mixlint.session.maybe import Frozen

if TYPE_CHECKING:
    from mixlint.rulebook import Rule


class LimitEntry(Frozen):
    """One limit in force: its value and unit, and which standard laid it down (``the rule`` where none did)."""

    value: Scalars
    unit: str = ""
    laid_down_by: str = "the rule"


class SettingEntry(Frozen):
    """One setting in force that a rule rests on, and which standard laid it down (``mixlint`` where none did)."""

    value: float
    unit: str = ""
    meaning: str
    basis: str
    laid_down_by: str = AS_SHIPPED


class RuleEntry(Frozen):
    """One rule in force."""

    id: str
    title: str
    area: str
    grade: Literal["hold", "look", "note"]
    over: str
    limits: dict[str, LimitEntry]
    settings: dict[str, SettingEntry]


class Catalogue(Frozen):
    """The rules of one standard, area by area: ``mixlint-rules/1``."""

    format: Literal["mixlint-rules/1"] = "mixlint-rules/1"
    standard: str
    rules: tuple[RuleEntry, ...] = ()


def catalogue(standard: str, rules: Iterable[Rule]) -> Catalogue:
    """The catalogue of rules.

    Args:
        standard: the name of the standard they are in force under.
        rules: the rules, in the order they are listed in.
    """
    return Catalogue(
        standard=standard,
        rules=tuple(
            RuleEntry(
                id=rule.id,
                title=rule.title,
                area=rule.area,
                grade=rule.grade,
                over=rule.over,
                limits={
                    name: LimitEntry(value=limit.value, unit=limit.unit, laid_down_by=rule.limit_from[name])
                    for name, limit in rule.limits.items()
                },
                settings={
                    one.name: SettingEntry(
                        value=one.value,
                        unit=one.setting.unit,
                        meaning=one.setting.meaning,
                        basis=one.setting.basis,
                        laid_down_by=one.laid_down_by,
                    )
                    for one in rule.settings
                },
            )
            for rule in rules
        ),
    )


def catalogue_text(said: Catalogue, page: Page) -> str:
    """The catalogue as a checklist, area by area."""
    lines = wrapped(f"checklist {neutral(said.standard)}, {len(said.rules)} rules", page.width, "  ")
    area = ""
    for rule in sorted(said.rules, key=lambda r: [*dict.fromkeys(x.area for x in said.rules)].index(r.area)):
        if rule.area != area:
            area = rule.area
            lines += ["", page.bold(area)]
        limits = ", ".join(f"{fact_text(n)} {with_unit(x.value, x.unit)}" for n, x in rule.limits.items())
        first, *rest = wrapped(neutral(rule.title), page.width, " " * 10, f"    {rule.grade}  ")
        lines += [first.replace(rule.grade, page.graded(rule.grade, rule.grade), 1), *rest]
        lines += page.dims(wrapped(f"{rule.id}{f'; {limits}' if limits else ''}", page.width, " " * 10))
    grades = "; ".join(f"{grade}: {said}" for grade, said in GRADES.items())
    lines += ["", *wrapped(f"{grades}. One rule's page: mixlint rules ID", page.width, "")]
    return "\n".join(lines) + "\n"
