"""The command: ``python -m tests.importers.fuzz --runs N --seed S [--form F] [--jobs J]``.

The input of a seed is always the same. Each fault is printed once, with the form and the seed that make it again.
"""

from __future__ import annotations

import argparse
import sys

from tests.importers.fuzz.forms import FORMS
from tests.importers.fuzz.running import run_apart


def main() -> None:
    """Run from the command line; the exit status is 1 where there was a fault."""
    parser = argparse.ArgumentParser(prog="python -m tests.importers.fuzz", description=__doc__)
    parser.add_argument("--runs", type=int, default=100_000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--form", choices=FORMS, default="", help="one form alone; all of them by turns unless given")
    parser.add_argument("--jobs", type=int, default=1)
    given = parser.parse_args()
    tally = run_apart(given.runs, given.seed, given.form, given.jobs)
    print(f"{tally.total} inputs, {tally.reviewed} reviewed, {len(tally.faults)} kinds of faults")
    print(tally.table())
    sys.exit(1 if tally.faults else 0)


if __name__ == "__main__":
    main()
