"""One rule's page, like a page of a handbook: what good looks like, why, when it applies, limits, remedy, examples."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from mixlint.reports.plain import Page, neutral, wrapped
from mixlint.reports.words import CAUTION, GRADES, fact_text, says_levels, value_text, with_unit
from mixlint.rulebook.settings import AS_SHIPPED
from mixlint.units import difference_unit

if TYPE_CHECKING:
    from mixlint.facts import Table
    from mixlint.rulebook import Basis, Example, Rule

TRAP = "trap:"
"""An example whose name begins so shows what looks like a finding and is none, or the other way about."""

_JOINTS = {"all": " and ", "any": " or "}
_OPERATORS = {
    "is": "is",
    "is_not": "is not",
    "at_most": "is at most",
    "at_least": "is at least",
    "below": "is below",
    "above": "is above",
    "between": "lies between",
    "one_of": "is one of",
    "matches": "matches",
}
_ECHOES = {"": "", "note": ", how", "where": ", where"}
_MEMBERS = {"every": "each of", "some": "one or more of", "none": "none of", "count": "the number of"}
_FILLED = re.compile(r"\{([\w.]+)\}")


def rule_page(rule: Rule, standard: str, page: Page) -> str:
    """The page of one rule as it is in force under a standard.

    Args:
        rule: the rule.
        standard: the standard's name.
        page: the width, and whether bold and dim can be used.
    """
    units = {name: fact.unit for name, fact in rule.table.facts.items()}
    words = _Wording(rule.limits, units, rule.table)
    lines = [
        *(page.bold(line) for line in wrapped(neutral(rule.title), page.width, "")),
        *page.dims(wrapped(f"{rule.id}, area {rule.area}, held against every {rule.over}", page.width, "")),
        *page.dims(wrapped(f"as it stands in the checklist {neutral(standard)}", page.width, "")),
        "",
    ]
    grade = f"{rule.grade}: {GRADES[rule.grade]}"
    lines += _named(
        "grade", grade if rule.grade_from == "the rule" else f"{grade} (laid down by {rule.grade_from})", page
    )
    for case in rule.file.grades if rule.grades else ():
        said = f"{case.to} where {words.condition(case.when)}: {case.because}"
        lines += wrapped(neutral(said), page.width, " " * 12, " " * 10)
    lines += ["", page.bold("Why"), *_paragraphs(rule.why, page)]
    if rule.file.when is not None:
        lines += [
            "",
            page.bold("When it applies"),
            *wrapped(f"Where {words.condition(rule.file.when)}.", page.width, "    "),
        ]
    if rule.needs:
        lines += wrapped(f"It needs the {' and '.join(rule.needs)} of the session.", page.width, "    ")
    lines += [
        "",
        page.bold("What has to hold"),
        *wrapped(f"{_upper(words.condition(rule.file.must))}.", page.width, "    "),
    ]
    lines += _told(rule, page)
    if rule.limits:
        lines += ["", page.bold("Limits")]
        for name, limit in rule.limits.items():
            source = (
                "the rule's own" if rule.limit_from[name] == "the rule" else f"laid down by {rule.limit_from[name]}"
            )
            said = f"{with_unit(limit.value, limit.unit)}, {source} (limits.{name}). {limit.meaning}".strip()
            lines += wrapped(neutral(said), page.width, "        ", "    ")
    lines += _settings(rule, page)
    lines += ["", page.bold("Remedy"), *_paragraphs(words.filled(rule.remedy.text), page)]
    if rule.needs_ears.text:
        lines += ["", page.bold("Asked when it cannot be seen"), *_paragraphs(words.filled(rule.needs_ears.text), page)]
        lines += wrapped(f"The answer {rule.fine_answer} is fine; the other one flags it.", page.width, "    ")
    lines += ["", page.bold("Basis"), *_paragraphs(_basis(rule.basis), page)]
    lines += _examples(rule.examples(), page)
    if rule.follows:
        lines += ["", page.bold("Can follow from"), *wrapped(", ".join(rule.follows), page.width, "    ")]
    lines += ["", page.bold("Sign-off"), *wrapped(_sign_off(rule), page.width, "    ")]
    if says_levels(f"{rule.remedy.text} {rule.needs_ears.text}"):
        lines += ["", *wrapped(CAUTION, page.width, "")]
    return "\n".join(lines) + "\n"


def _told(rule: Rule, page: Page) -> list[str]:
    """What the facts of both conditions mean, each once."""
    cases = (name for case in rule.file.grades for name in _facts(case.when))
    names = dict.fromkeys([*_facts(rule.file.when or {}), *_facts(rule.file.must), *cases])
    lines = ["", page.bold("What these words mean")]
    facts = [rule.table.facts[name] for name in names]
    conditions = (rule.when, rule.must, *(case.when for case in rule.grades))
    elsewhere = dict.fromkeys(fact for one in conditions if one is not None for fact in one.elsewhere)
    for fact in [*facts, *(one for one in elsewhere if one.name not in names)]:
        said = f"{fact_text(fact.name)}: {fact.meaning}"
        lines += wrapped(neutral(said), page.width, "        ", "    ")
    return lines


def _settings(rule: Rule, page: Page) -> list[str]:
    """The settings that the rule rests on, with who set each."""
    if not rule.settings:
        return []
    lines = ["", page.bold("Settings it shares with other rules")]
    for one in rule.settings:
        setting = one.setting
        source = "as shipped" if one.laid_down_by == AS_SHIPPED else f"laid down by {one.laid_down_by}"
        said = f"{with_unit(one.value, setting.unit)}, {source} ({setting.name}). {setting.meaning}"
        lines += wrapped(neutral(f"{said} Basis: {setting.basis}."), page.width, "        ", "    ")
    return lines


def _facts(condition: Mapping[str, Any]) -> Iterator[str]:
    for key, value in condition.items():
        if key in _JOINTS:
            for one in value:
                yield from _facts(one)
        elif key == "not":
            yield from _facts(value)
        else:
            yield key


class _Wording:
    """Conditions and texts in words, with the limits in force filled in."""

    def __init__(self, limits: Mapping[str, Any], units: Mapping[str, str], table: Table[Any] | None = None) -> None:
        self.limits = limits
        self.units = units
        self.leads = {} if table is None else {fact.name: fact.of for fact in table.facts.values() if fact.of}

    def condition(self, raw: Mapping[str, Any], *, inner: bool = False) -> str:
        """A condition as a clause: ``fed is yes and effect is one of reverb, delay``."""
        parts = []
        for key, value in raw.items():
            if key in _JOINTS:
                parts.append(self._several(value, _JOINTS[key], alone=len(raw) == 1 and not inner))
            elif key == "not":
                parts.append(f"it is not so that {self._kept_together(value)}")
            elif key in self.leads and not set(value) & {*_MEMBERS, "known"}:
                parts.append(f"{fact_text(key)} is such that {self._there(key)._kept_together(value)}")
            elif isinstance(value, Mapping):
                parts += [self._fact(key, operator, against) for operator, against in value.items()]
            else:
                parts.append(f"{fact_text(key)} is {self._value(value, self._unit(key))}")
        return " and ".join(parts)

    def _several(self, conditions: list[Mapping[str, Any]], joint: str, *, alone: bool) -> str:
        said = joint.join(self._kept_together(c) for c in conditions)
        return said if alone or len(conditions) == 1 else f"({said})"

    def _kept_together(self, condition: Mapping[str, Any]) -> str:
        """A condition inside another: in brackets when it has several parts."""
        parts = sum(len(v) if isinstance(v, Mapping) and k != "not" else 1 for k, v in condition.items())
        said = self.condition(condition, inner=True)
        return f"({said})" if parts > 1 else said

    def _fact(self, fact: str, operator: str, against: Any) -> str:
        name = fact_text(fact)
        if operator == "count":
            of = against.get("of")
            tests = " and ".join(self._test("", o, v) for o, v in against.items() if o != "of")
            return f"{_MEMBERS[operator]} {name}{self._which(fact, of)} {tests}"
        if operator in _MEMBERS and fact in self.leads:
            return f"{_MEMBERS[operator]} {name} is such that {self._there(fact)._kept_together(against)}"
        if operator in _MEMBERS:
            inner = against if isinstance(against, Mapping) else {"is": against}
            return f"{_MEMBERS[operator]} {name} {' and '.join(self._test(fact, o, v) for o, v in inner.items())}"
        return f"{name} {self._test(fact, operator, against)}"

    def _which(self, fact: str, of: Any) -> str:
        """Which of several are counted; nothing where all of them are."""
        if of is None:
            return ""
        if fact in self.leads:
            return f" such that {self._there(fact)._kept_together(of)}"
        inner = of if isinstance(of, Mapping) else {"is": of}
        return f" of which each {' and '.join(self._test(fact, o, v) for o, v in inner.items())}"

    def _there(self, fact: str) -> _Wording:
        """Conditions on the rows that a fact leads to."""
        from mixlint.facts import TABLES

        table = TABLES[self.leads[fact]]
        return _Wording(self.limits, {one.name: one.unit for one in table.facts.values()}, table)

    def _test(self, fact: str, operator: str, against: Any) -> str:
        """One operator and what it compares with: ``is at most −40 dB``, ``lies within 0.1 dB of 0 dB``."""
        if operator == "known":
            return "is known" if against else "is not known"
        if operator == "within":
            of, by = (against["of"], against["by"]) if isinstance(against, Mapping) else against
            return f"lies within {self._value(by, self._difference(fact))} of {self._value(of, self._unit(fact))}"
        return f"{_OPERATORS[operator]} {self._value(against, self._unit(fact), operator)}"

    def _unit(self, fact: str) -> str:
        return self.units.get(fact, "")

    def _difference(self, fact: str) -> str:
        """The unit of how far two values of a fact lie apart."""
        return difference_unit(self._unit(fact))

    def _value(self, value: Any, unit: str, operator: str = "") -> str:
        if isinstance(value, str) and value.startswith("limits."):
            limit = self.limits[value.removeprefix("limits.")]
            value, unit = limit.value, limit.unit
        if isinstance(value, Mapping):
            (way,) = set(value) - {"of"}
            return f"{self._value(value['of'], unit)} {way} {self._value(value[way], difference_unit(unit))}"
        if isinstance(value, list | tuple):
            if not value:
                return "empty"
            joint = " and " if operator == "between" else ", "
            return joint.join(self._value(v, unit) for v in value)
        if isinstance(value, str):
            value = _FILLED.sub(lambda found: f"‹{fact_text(found[1].replace('.', ' '))}›", value)
        return with_unit(value, unit)

    def filled(self, text: str) -> str:
        """A text with its limits filled in and its facts as placeholders for a reader: ``‹channel›``."""

        def said(found: re.Match[str]) -> str:
            name = found[1]
            if name.startswith("limits."):
                limit = self.limits[name.removeprefix("limits.")]
                return value_text(limit.value, limit.unit)
            fact, _, echo = name.partition(".")
            return f"‹{fact_text(fact)}{_ECHOES[echo]}›"

        return re.sub(r"\{([a-z_.0-9]+)\}", said, text)


def _named(label: str, said: str, page: Page) -> list[str]:
    return wrapped(said, page.width, " " * 10, f"{label:<10}")


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _paragraphs(text: str, page: Page) -> list[str]:
    lines: list[str] = []
    for number, paragraph in enumerate(re.split(r"\n\s*\n", text.strip())):
        if number:
            lines.append("")
        lines += wrapped(neutral(" ".join(paragraph.split())), page.width, "    ")
    return lines


def _basis(basis: Basis) -> str:
    if basis.kind == "common practice":
        return f"Common practice, no published source. {basis.note}".strip()
    named = ", ".join(part for part in (basis.number, basis.title, basis.clause) if part)
    return f"Published: {named}. {basis.note}".strip()


def _examples(examples: tuple[Example, ...], page: Page) -> list[str]:
    """The examples by what they show: what is flagged, what is clear, and the traps apart."""
    headings = {"flagged": "Flagged", "clear": "Clear", "open": "Cannot be seen", "idle": "Does not apply"}
    groups: dict[str, list[str]] = {}
    for one in examples:
        name = neutral(one.name)
        if name.casefold().startswith(TRAP):
            verdict = headings[one.verdict].lower()
            groups.setdefault("Traps", []).append(f"{_upper(name[len(TRAP) :].strip())}: {verdict}.")
        else:
            groups.setdefault(headings[one.verdict], []).append(f"{_upper(name)}.")
    lines: list[str] = []
    for heading in (*headings.values(), "Traps"):
        if heading in groups:
            lines += ["", page.bold(heading if heading == "Traps" else f"Examples: {heading.lower()}")]
            for said in groups[heading]:
                lines += wrapped(said, page.width, "      ", "    ")
    return lines


def _sign_off(rule: Rule) -> str:
    who = {
        "anyone": "Anyone may sign a finding off",
        "nobody": "No finding of this rule may be signed off",
        "two": "A finding may be signed off by two people together",
    }[rule.may_sign]
    lapses = ", ".join(
        f"{fact_text(n)} worsens by {with_unit(m, difference_unit(rule.table.facts[n].unit))}"
        for n, m in rule.margins.items()
    )
    return f"{who}; it lapses when {lapses}." if lapses and rule.may_sign != "nobody" else f"{who}."
