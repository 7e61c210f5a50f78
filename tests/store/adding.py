"""Adds made-up reviews to a store, one file after another, until it is stopped: ``python adding.py STORE NUMBER``.

A review is made once and kept again and again, so that nearly all of the time goes into writing.
"""

from __future__ import annotations

import sys
from pathlib import Path

from mixlint.rulebook import load_standard
from mixlint.runs.check import check
from mixlint.runs.storing import Asked, Storing


def main(store: Path, song: Path, number: int) -> None:
    """Keep the review of ``song`` so many times, each in a run of its own; say so after each."""
    standard = load_standard(None, song)
    made = check(song, standard=standard, audio=False, keep=True)
    for _ in range(number):
        storing = Storing(store, Asked(audio=False))
        storing.add(song, made, standard)
        storing.write()
        assert storing.fault is None, storing.fault
        print("kept", flush=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), int(sys.argv[3]))
