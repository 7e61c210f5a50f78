"""Many small sessions in one run: what a second run costs, what five changes cost, what JUnit costs, and the memory.

``python -m tests.benchmarks.bench_many`` writes sessions of 12 tracks (100 KB of XML each) into folders of their own,
and prints, of the whole tree of processes (``os.wait4``), for each form:

- the processor time of a first run, and against it that of a second one and of one after five sessions changed,
- the peak memory against that of a quarter of the sessions, and wall clock against processor time;

then the processor time of JUnit against that of the line form. ``--form`` takes single forms, ``--sessions`` fewer.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from mixlint.reports.forms import REVIEW_FORMS
from tests.benchmarks.bench_import import write_session

PARTS = ("Lead Vocal", "Acoustic Gtr", "Bass", "Kick", "Snare", "OH L", "OH R", "Piano", "Violin", "Cello", "Choir",
         "Shaker")  # fmt: skip
POINTS = 85
"""Points of each fader's lane, by which a session has 100 KB."""


class Cost(NamedTuple):
    """What one run took: processor seconds, wall seconds, megabytes at the peak of the largest process."""

    cpu_s: float
    wall_s: float
    peak_mb: float


def write_sessions(top: Path, number: int) -> list[Path]:
    """So many songs, no two alike, each a bare ``project.xml`` in a folder of its own."""
    found = []
    for song in range(number):
        folder = top / f"song {song:04}"
        folder.mkdir(parents=True)
        path = folder / "project.xml"
        write_session(path, len(PARTS), len(PARTS) * POINTS)
        path.with_suffix(".dawproject").unlink()
        text = path.read_text(encoding="utf-8")
        for track, name in enumerate(PARTS):
            text = text.replace(f'name="Part {track}"', f'name="{name}"', 1)
        path.write_text(
            text.replace('value="0.5" id="p1"', f'value="{song % 997 / 997:.4f}" id="p1"'), encoding="utf-8"
        )
        found.append(path)
    return found


def change(sessions: list[Path], number: int = 5) -> None:
    """Move a pan in some sessions that lie apart."""
    for path in sessions[:: max(1, len(sessions) // number)][:number]:
        text = path.read_text(encoding="utf-8")
        path.write_text(text.replace('value="0.5" id="p2"', 'value="0.4" id="p2"'), encoding="utf-8")


def review(sessions: list[Path], form: str, cache: Path, jobs: int | None) -> Cost:
    """One run over all of them."""
    asked = ["--as", form, "--no-audio", *(["--jobs", str(jobs)] if jobs else [])]
    command = [sys.executable, "-m", "mixlint", "review", *map(str, sessions), *asked]
    begun = time.perf_counter()
    process = subprocess.Popen(
        command, env={**os.environ, "MIXLINT_CACHE": str(cache)}, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, used = os.wait4(process.pid, 0)
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        raise SystemExit(f"the review in the form {form} failed")
    return Cost(used.ru_utime + used.ru_stime, time.perf_counter() - begun, used.ru_maxrss / 1024.0)


def measure(form: str, number: int, jobs: int | None, folder: Path) -> Cost:
    """Print the figures of one form.

    Returns:
        What the first run took.
    """
    sessions = write_sessions(folder / "songs", number)
    quarter = review(sessions[: number // 4], form, folder / "quarter", jobs)
    first = review(sessions, form, folder / "kept", jobs)
    time.sleep(4.0)  # files that changed only now are read again, since their times tell nothing yet
    review(sessions, form, folder / "kept", jobs)
    second = review(sessions, form, folder / "kept", jobs)
    change(sessions)
    changed = review(sessions, form, folder / "kept", jobs)
    print(
        f"{form:6} first {first.cpu_s:7.2f} s, second {second.cpu_s / first.cpu_s:.4f} of it, five changed "
        f"{changed.cpu_s / first.cpu_s:.4f}; peak {first.peak_mb:.0f} MB, {first.peak_mb / quarter.peak_mb:.2f} of "
        f"that of {number // 4}; wall {first.wall_s / first.cpu_s:.2f} of the processor time",
        flush=True,
    )
    return first


def main() -> None:
    """Print the figures of each form, and JUnit against the line form."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--sessions", type=int, default=500)
    parser.add_argument("--jobs", type=int, default=None)
    parser.add_argument("--form", choices=list(REVIEW_FORMS), action="append")
    given = parser.parse_args()
    first = {}
    for form in given.form or list(REVIEW_FORMS):
        with tempfile.TemporaryDirectory() as folder:
            first[form] = measure(form, given.sessions, given.jobs, Path(folder))
    if "junit" in first and "line" in first:
        print(f"JUnit {first['junit'].cpu_s / first['line'].cpu_s:.2f} of the line form")


if __name__ == "__main__":
    main()
