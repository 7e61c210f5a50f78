"""The short run, ``python -m pytest -m "not slow"``, still tries every room."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parent
ROOMS = {path.parent.name for path in TESTS.glob("*/test_*.py")}


def short_run(request: pytest.FixtureRequest) -> Iterator[str]:
    """The tests of the short run, as ``tests/room/file.py::name``."""
    items = request.session.items
    rooms = {Path(item.path).parent.name for item in items}
    if rooms >= ROOMS:  # the whole run has collected them already
        for item in items:
            if item.get_closest_marker("slow") is None:
                yield item.nodeid
        return
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "--collect-only", "-q", "-m", "not slow", "-p", "no:cacheprovider"],
        cwd=TESTS.parent, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    yield from done.stdout.splitlines()


@pytest.mark.slow  # alone, it collects all tests
def test_every_room_has_tests_in_the_short_run(request: pytest.FixtureRequest) -> None:
    """A folder of tests whose every test is marked slow would go untried in daily work."""
    short = Counter(line.split("/")[1] for line in short_run(request) if line.count("/") > 1 and "::" in line)
    assert ROOMS
    empty = sorted(room for room in ROOMS if not short[room])
    assert not empty, f"every test of tests/{', tests/'.join(empty)} is marked slow: leave some in the short run"
