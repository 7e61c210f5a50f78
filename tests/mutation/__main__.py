"""``python -m tests.mutation``: plant mistakes in clean sessions, review them, and tell what was found.

With ``--sound`` they are planted in made sound, which takes about a second each. Either half is written into the table
beside what stands there of the other.
"""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from tests.mutation.planting import IN_SOUND
from tests.mutation.run import prove, prove_in_sound
from tests.mutation.table import half, halves, table, write_between, written

SHOWN = 40
PLAIN, SOUND = 1200, 172


def main() -> int:
    """Read the command line, run, and print; 1 when a mistake was missed or a flagged row is unexplained."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__)
    parser.add_argument("--sound", action="store_true", help="plant them in made sound")
    parser.add_argument(
        "--mutants", type=int, help=f"how many mistakes to plant (default: {PLAIN}, or {SOUND} in sound)"
    )
    parser.add_argument("--seed", type=int, default=1, help="makes other sessions and places (default: 1)")
    parser.add_argument("--rule", default="", help="in sound: only mistakes that this rule has to find")
    parser.add_argument("--write", type=Path, metavar="FILE", help="write the table into this file, between its marks")
    parser.add_argument("--kinds", action="store_true", help="tell the counts per kind of mistake, too")
    given = parser.parse_args()
    if given.rule and (given.write is not None or not given.sound):
        parser.error("--rule goes with --sound, and not with --write")
    began = time.perf_counter()
    count = given.mutants or (SOUND if given.sound else PLAIN)
    kinds = [kind for kind in IN_SOUND if given.rule in ("", kind.rule)]
    outcome = prove_in_sound(count, given.seed, kinds) if given.sound else prove(count, given.seed)
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
        plain, sound = halves(written(given.write))
        own = half(outcome, given.seed, sound=given.sound)
        write_between(given.write, table(plain, own) if given.sound else table(own, sound))
    return 1 if outcome.missed or outcome.unexplained else 0


if __name__ == "__main__":
    raise SystemExit(main())
