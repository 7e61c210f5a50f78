"""A page for every rule, from the page that ``mixlint rules ID`` prints, and the list of them by area."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from mixlint.reports.plain import Page
from mixlint.reports.rule_page import rule_page
from mixlint.reports.words import GRADES, with_unit
from mixlint.rulebook import Rule, Standard, load_standard, shipped_standards
from mixlint.rulebook.settings import SettingInForce
from tests.handbook.markdown import bullets, code, escaped, table

EVERYTHING = Path(__file__).resolve().parents[1] / "everything.toml"
_PARAGRAPHS = (
    "Why",
    "When it applies",
    "What has to hold",
    "Remedy",
    "Asked when it cannot be seen",
    "Basis",
    "Sign-off",
)
"""Headings under which lines are sentences; under all others they are points of a list."""
_SETTINGS = "Settings it shares with other rules"
_HEADING, _SMALL = "\x01", "\x02"


@dataclass(frozen=True, slots=True)
class _Marked(Page):
    """A page without an end to its lines, whose headings and small print are marked to be found again."""

    width: int = 1 << 30

    def bold(self, text: str) -> str:
        return f"{_HEADING}{text}"

    def dim(self, text: str) -> str:
        return f"{_SMALL}{text}"


@cache
def standards() -> dict[str, Standard]:
    """The standards that come with mixlint, by name."""
    return {name: load_standard(name) for name in sorted(shipped_standards(), key=lambda n: (n != "pre-bounce", n))}


@cache
def every_rule() -> dict[str, Rule]:
    """Every rule that comes with mixlint, as it is written, and those of the shipped standards."""
    found = dict(load_standard(EVERYTHING).rules)
    for standard in standards().values():
        for name, rule in standard.rules.items():
            found.setdefault(name, rule)
    return dict(sorted(found.items()))


def rule_pages() -> dict[str, str]:
    """Page by page: ``rules/ID.md`` and ``rules/index.md``."""
    shipped, rules = standards(), every_rule()
    pages = {f"rules/{name}.md": _page(rule, shipped) for name, rule in rules.items()}
    areas: dict[str, list[Rule]] = defaultdict(list)
    for rule in rules.values():
        areas[rule.area].append(rule)
    said = [
        "# The rules\n\n",
        f"{len(rules)} rules come with mixlint, in {len(areas)} areas. Each has a page: why, when it applies, "
        "what has to hold, limits, remedy, basis, examples. `mixlint rules ID` prints the same page, with what your "
        "standard changed.\n\n",
        bullets(f"**{grade}**: {escaped(text)}" for grade, text in GRADES.items()),
        "\n",
    ]
    for area in sorted(areas):
        rows = ([f"[{escaped(r.id)}]({r.id}.md)", escaped(r.title), r.grade, code(r.over)] for r in areas[area])
        said += [f"## {area}\n\n", table(["rule", "what is right", "grade", "held against every"], rows), "\n"]
    said += ["```{toctree}\n:hidden:\n\n", *(f"{name}\n" for name in rules), "```\n"]
    return {**pages, "rules/index.md": "".join(said)}


def _page(rule: Rule, shipped: dict[str, Standard]) -> str:
    title, small, _, *lines = rule_page(rule, "", _Marked()).splitlines()
    asked = [f"{name} ({s.rules[rule.id].grade})" for name, s in shipped.items() if rule.id in s.rules]
    said = [f"# {escaped(title.removeprefix(_HEADING))}\n\n", f"*{escaped(small.removeprefix(_SMALL))}*\n\n"]
    heading = ""
    for line in lines:
        text = line.removeprefix(_SMALL).strip()
        if line.startswith(_HEADING):
            heading = text.removeprefix(_HEADING)
            said.append(f"\n## {escaped(heading)}\n\n")
            if heading == _SETTINGS:
                said += [_setting(one) for one in rule.settings]
        elif not text:
            continue
        elif not heading:  # the grade, and the cases in which it is another one
            first = line.startswith("grade")
            said.append(
                f"Grade **{rule.grade}**{escaped(text[text.find(':') :])}.\n\n" if first else f"- {escaped(text)}\n"
            )
        elif heading == _SETTINGS:
            continue  # they are told once, on a page of their own
        elif heading in _PARAGRAPHS or not line.startswith(" "):
            said.append(f"{escaped(text)}\n\n")
        else:
            said.append(f"- {escaped(text)}\n")
    said.append(
        f"\n## Asked by\n\n{escaped(', '.join(asked)) or 'No shipped checklist; a standard takes it by name.'}\n\n"
    )
    said.append(
        f"The id is {code(rule.id)}; see [all rules](index.md) and [the facts of its table](../facts/{rule.over}.md).\n"
    )
    return "".join(said)


def _setting(one: SettingInForce) -> str:
    place = one.name.partition(".")[0].replace("_", "-")
    return f"- [{escaped(one.name)}](../settings.md#{place}): {escaped(with_unit(one.value, one.setting.unit))}\n"
