"""The table of what was planted and found, written between two marks in a file; each half keeps the other's figures."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from mixlint.rulebook import load_standard
from tests.field.by_engineers import BY_ENGINEERS, IN_EXAMPLES_ONLY
from tests.mutation.planting import IN_SOUND
from tests.mutation.run import EVERYTHING, Outcome

BEGIN = "<!-- proof by mutation: written by python -m tests.mutation --write -->"
END = "<!-- end of the proof -->"
HEAD = "| rule | mutants | caught | also raised | in sound | caught | also raised |"
EMPTY = ("", "", "")
ASKED = {"part-told": "it only asks, and is hidden"}
"""Rules that no mistake can be planted for, and why."""


class Half(NamedTuple):
    """One half of the proof: its figures in words; by rule how many were planted, caught, and what else was raised."""

    figures: str
    cells: Mapping[str, tuple[str, str, str]]


NONE = Half("", {})


def half(outcome: Outcome, seed: int, *, sound: bool) -> Half:
    """The half of the table that an outcome makes."""
    figures = (
        f"{outcome.planted} mutants {'in sound ' if sound else ''}of {len(outcome.kinds)} kinds (seed {seed}): "
        f"{outcome.caught} caught, {len(outcome.missed)} missed, {len(outcome.unexplained)} flagged rows that the "
        "mistake does not explain."
    )
    cells = {
        rule: (str(row.planted), str(row.caught), ", ".join(sorted(row.also)) or "–")
        for rule, row in outcome.rows.items()
    }
    return Half(figures, cells)


def halves(text: str) -> tuple[Half, Half]:
    """The halves of a table that was written before, that without sound first; empty where there is none."""
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in text.splitlines() if line[:3] == "| `"]
    found = []
    for place, words in ((1, r"^\d+ mutants of .*"), (4, r"^\d+ mutants in sound .*")):
        figures = re.search(words, text, re.MULTILINE)
        cells = {
            row[0].strip("`"): (row[place], row[place + 1], row[place + 2])
            for row in rows
            if len(row) == 7 and row[place]
        }
        found.append(Half(figures.group() if figures else "", cells))
    return found[0], found[1]


def table(plain: Half, sound: Half) -> str:
    """The table in Markdown: by rule what was planted without sound and in it; and the rules that have none."""
    rules = load_standard(EVERYTHING).rules
    lines = [one for part in (plain, sound) if part.figures for one in (part.figures, "")]
    lines += [HEAD, "| --- | ---: | ---: | --- | ---: | ---: | --- |"]
    for rule in rules:
        if rule in plain.cells or rule in sound.cells:
            cells = (*plain.cells.get(rule, EMPTY), *sound.cells.get(rule, EMPTY))
            lines.append(f"| `{rule}` | {' | '.join(cells)} |".replace("|  |", "| |").replace("|  |", "| |"))
    rest = [rule for rule in rules if rule not in plain.cells and rule not in sound.cells]
    reasons = (
        ("since engineers planted their mistakes in the sessions of `tests/field`", set(BY_ENGINEERS)),
        ("and shown by nothing but their own examples", set(IN_EXAMPLES_ONLY)),
        *((f"since {why}", {rule}) for rule, why in ASKED.items()),
    )
    weak = [f"{kind.name} (`{kind.rule}`): {kind.weakness}" for kind in IN_SOUND if kind.weakness]
    if sound.figures and weak:
        lines += ["", "Of these kinds some are missed.", "", *(f"- {one}." for one in weak)]
    for why, whose in reasons:
        told = [f"`{one}`" for one in rest if one in whose]
        if told:
            lines += ["", f"Not provoked here, {why}: {', '.join(told)}."]
    return "\n".join(lines)


def written(path: Path) -> str:
    """What stands between the two marks in ``path``."""
    _, _, rest = path.read_text(encoding="utf-8").partition(BEGIN)
    return rest.partition(END)[0]


def write_between(path: Path, text: str, marks: tuple[str, str] = (BEGIN, END)) -> None:
    """Replace what stands between two marks in ``path``.

    Raises:
        SystemExit: the marks are not there.
    """
    before, begin, rest = path.read_text(encoding="utf-8").partition(marks[0])
    _, end, after = rest.partition(marks[1])
    if not begin or not end:
        raise SystemExit(f"{path} has no marks to write between: {marks[0]} and {marks[1]}")
    path.write_text(f"{before}{marks[0]}\n\n{text}\n\n{marks[1]}{after}", encoding="utf-8")
