"""``python -m tests.mutation``: plant mistakes in clean sessions, review them, and tell what was found."""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from tests.mutation.run import prove
from tests.mutation.table import table, write_between

SHOWN = 40


def main() -> int:
    """Read the command line, run, and print; 1 when a mistake was missed or a flagged row is unexplained."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--mutants", type=int, default=1200, help="how many mistakes to plant (default: 1200)")
    parser.add_argument("--seed", type=int, default=1, help="makes other sessions and places (default: 1)")
    parser.add_argument("--write", type=Path, metavar="FILE", help="write the table into this file, between its marks")
    parser.add_argument("--kinds", action="store_true", help="tell the counts per kind of mistake, too")
    given = parser.parse_args()
    began = time.perf_counter()
    outcome = prove(given.mutants, given.seed)
    took = time.perf_counter() - began
    if given.kinds:
        for name, row in outcome.kinds.items():
            print(f"{row.caught:4} of {row.planted:4}  {name}")
    for title, lines in (("missed", outcome.missed), ("not explained", outcome.unexplained)):
        for line in lines[:SHOWN]:
            print(f"{title}  {line}")
        if len(lines) > SHOWN:
            print(f"{title}  and {len(lines) - SHOWN} more")
    print(
        f"{outcome.planted} mutants of {len(outcome.kinds)} kinds, {outcome.caught} caught, "
        f"{len(outcome.missed)} missed, {len(outcome.unexplained)} flagged rows not explained; {took:.0f} s"
    )
    if given.write is not None:
        write_between(given.write, table(outcome, given.seed))
    return 1 if outcome.missed or outcome.unexplained else 0


if __name__ == "__main__":
    raise SystemExit(main())
