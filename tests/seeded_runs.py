"""The command of a nightly run over seeds: ``python -m tests.ROOM.NAME --runs N --seed S``."""

from __future__ import annotations

import argparse
import sys
import traceback
from collections import Counter
from collections.abc import Callable


def command(about: str | None, run: Callable[[int, int], Counter[str]], runs: int) -> None:
    """Run from the command line; a fault is printed with its seed and ends with status 1.

    Args:
        about: what the help says.
        run: does so many runs from a first seed on and counts what came of them; an AssertionError is a fault.
        runs: how many unless it is said.
    """
    parser = argparse.ArgumentParser(description=about)
    parser.add_argument("--runs", type=int, default=runs)
    parser.add_argument("--seed", type=int, default=0)
    given = parser.parse_args()
    try:
        outcomes = run(given.runs, given.seed)
    except AssertionError:
        traceback.print_exc()
        sys.exit(1)
    print(f"{given.runs} runs without a fault: {dict(outcomes)}")
