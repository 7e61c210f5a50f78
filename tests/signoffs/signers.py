"""People who sign at once: each a process that calls what ``mixlint sign`` calls, without a review before it."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

from mixlint.runs.signing import add_signoff
from mixlint.signoffs.file import AREAS
from mixlint.signoffs.line import SignOff


def line(by: str, because: str = "intended sound", day: date = date(2026, 3, 14)) -> SignOff:
    """One line by one person about one and the same row."""
    return SignOff(
        rule="return-fully-wet", table="return", name="Hall", because=because, by=by, on=day, grade="hold",
        rests={"dry_db": -9.5}, limits={"dry_db": -40.0},
    )  # fmt: skip


def start_forks(file: Path, count: int, gate: Path) -> list[int]:
    """Children of this process that all sign as soon as a file is there; their process numbers."""
    children = []
    for number in range(count):
        child = os.fork()
        if not child:
            status = 1
            try:
                while not gate.exists():
                    time.sleep(0.002)
                add_signoff(file, lambda _, who=f"A{number}": line(who), {"return-fully-wet": AREAS[0]})
                status = 0
            finally:
                os._exit(status)
        children.append(child)
    return children


def command(session: Path, by: str) -> subprocess.Popen[str]:
    """``mixlint sign`` by one person, started."""
    words = [
        sys.executable, "-m", "mixlint", "sign", session.name, "return-fully-wet", "--no-audio", "--because", "x",
        "--by", by,
    ]  # fmt: skip
    return subprocess.Popen(words, cwd=session.parent, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
