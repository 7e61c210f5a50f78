"""Settings of the whole test run."""

from __future__ import annotations

import gc
import os

import pytest
from hypothesis import settings

from mixlint import notices

# The same examples at every run, so that a change is judged by what it changes. To look further afield:
# HYPOTHESIS_PROFILE=wander python -m pytest …
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("wander", deadline=None, max_examples=500, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "steady"))


def pytest_collection_finish() -> None:
    """Keep what was imported and collected out of every later search for garbage: it stays until the end.

    A review makes many small objects that live as long as it does: searched for every 700 of them, as is usual, garbage
    takes a fifth of the time.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(100_000, 10, 10)


@pytest.fixture(autouse=True)
def _heard_by_nobody_yet(monkeypatch: pytest.MonkeyPatch) -> None:
    """A test is a run of its own: what an earlier one left to be told is not told by it."""
    monkeypatch.setattr(notices, "_found", {})
