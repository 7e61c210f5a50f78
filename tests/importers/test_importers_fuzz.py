"""The short form of the fuzz run; the long one is ``python -m tests.importers.fuzz --runs 100000``."""

from __future__ import annotations

import pytest

from tests.importers.fuzz import run

pytestmark = pytest.mark.slow


def test_damaged_files_are_read_or_refused() -> None:
    outcomes = run(1_000, first_seed=1)
    # The damage must reach deep enough to matter, and not so deep that nothing is ever read.
    assert outcomes["read"] > 100
    assert outcomes["BrokenFile"] > 100
