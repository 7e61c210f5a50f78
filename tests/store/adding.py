"""Adds made-up reviews to a store, one run after another: ``python adding.py STORE SONG RUNS [WRITERS]``.

A review is made once and kept again and again, so that nearly all of the time goes into writing. The writers are forked
when all is imported but what writes: so they are many processes, and take the time of few.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from mixlint.rulebook import load_standard
from mixlint.runs.check import check
from mixlint.runs.storing import Asked, Storing

if TYPE_CHECKING:
    from mixlint.rulebook import Standard
    from mixlint.runs.check import Review


def add(store: Path, song: Path, runs: int, made: Review, standard: Standard) -> None:
    """Keep a review so many times, each in a run of its own; say so after each."""
    for _ in range(runs):
        storing = Storing(store, Asked(audio=False))
        assert made.kept is not None
        storing.add(song, made.result, made.kept, standard)
        storing.write()
        assert storing.fault is None, storing.fault
        os.write(1, b"kept\n")


def main(store: Path, song: Path, runs: int, writers: int = 1) -> None:
    """Let so many processes add at once."""
    standard = load_standard(None, song)
    made = check(song, standard=standard, audio=False, keep=True)
    assert "pyarrow" not in sys.modules  # its threads would not be there in a child
    children = []
    for _ in range(writers if writers > 1 else 0):
        child = os.fork()
        if not child:
            add(store, song, runs, made, standard)
            os._exit(0)
        children.append(child)
    if not children:
        add(store, song, runs, made, standard)
    sys.exit(sum(os.waitpid(one, 0)[1] != 0 for one in children))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), *map(int, sys.argv[3:]))
