"""The table of what was planted and found, written between two marks in a file."""

from __future__ import annotations

from pathlib import Path

from mixlint.rulebook import load_standard
from tests.mutation.run import EVERYTHING, Outcome

BEGIN = "<!-- proof by mutation: written by python -m tests.mutation --write -->"
END = "<!-- end of the proof -->"


def table(outcome: Outcome, seed: int) -> str:
    """The table in Markdown: rule, mutants, caught, what else was raised; and the rules that have none."""
    rules = load_standard(EVERYTHING).rules
    lines = [
        f"{outcome.planted} mutants of {len(outcome.kinds)} kinds (seed {seed}): {outcome.caught} caught, "
        f"{len(outcome.missed)} missed, {len(outcome.unexplained)} flagged rows that the mistake does not explain.",
        "",
        "| rule | mutants | caught | also raised |",
        "| --- | ---: | ---: | --- |",
    ]
    for rule in rules:
        row = outcome.rows.get(rule)
        if row is not None:
            lines.append(f"| `{rule}` | {row.planted} | {row.caught} | {', '.join(sorted(row.also)) or '–'} |")
    rest = [rule for rule in rules if rule not in outcome.rows]
    if rest:
        lines += ["", f"Not provoked here, since they need audio: {', '.join(f'`{one}`' for one in rest)}."]
    return "\n".join(lines)


def write_between(path: Path, text: str) -> None:
    """Replace what stands between the two marks in ``path``.

    Raises:
        SystemExit: the marks are not there.
    """
    before, begin, rest = path.read_text(encoding="utf-8").partition(BEGIN)
    _, end, after = rest.partition(END)
    if not begin or not end:
        raise SystemExit(f"{path} has no marks to write between: {BEGIN} and {END}")
    path.write_text(f"{before}{BEGIN}\n\n{text}\n\n{END}{after}", encoding="utf-8")
