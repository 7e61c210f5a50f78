"""The short run, ``python -m pytest -m "not slow"``, still tries every room."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parent


@pytest.mark.slow  # it collects all tests once more
def test_every_room_has_tests_in_the_short_run() -> None:
    """A folder of tests whose every test is marked slow would go untried in daily work."""
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "--collect-only", "-q", "-m", "not slow", "-p", "no:cacheprovider"],
        cwd=TESTS.parent, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    short = Counter(line.split("/")[1] for line in done.stdout.splitlines() if line.count("/") > 1 and "::" in line)
    rooms = {path.parent.name for path in TESTS.glob("*/test_*.py")}
    assert rooms
    empty = sorted(room for room in rooms if not short[room])
    assert not empty, f"every test of tests/{', tests/'.join(empty)} is marked slow: leave some in the short run"
