"""How the work of a review grows with its session: counted in calls of functions, which no other program disturbs."""

from __future__ import annotations

import cProfile
import pstats
from math import log
from pathlib import Path

import pytest

from mixlint import importers
from mixlint.facts import SessionContext
from mixlint.review.engine import review
from mixlint.rulebook import load_standard
from tests.benchmarks.scale_sessions import edited, ridden, studio

MOST = 1.05
"""The exponent with which nothing may grow faster, in channels, clips, points or findings."""


def calls(document: str, folder: Path) -> int:
    """How many calls it takes to read and review a session, but for what is done once in a process."""
    path = folder / "project.xml"
    path.write_text(document, encoding="utf-8")
    standard = load_standard(None, None)
    profile = cProfile.Profile()
    profile.enable()
    session = importers.read(path)
    review(SessionContext(session, standard.house), standard, source="", digest="", everything=False)
    profile.disable()
    return int(pstats.Stats(profile).total_calls)  # type: ignore[attr-defined]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("small", "large", "times"),
    [
        (studio(10, (5, 8), 20), studio(40, (5, 8), 20), 4),
        (studio(10, (5, 8), 20, faults=True), studio(40, (5, 8), 20, faults=True), 4),
        (edited(25, 8), edited(100, 8), 4),
        (ridden(50, 8), ridden(200, 8), 4),
    ],
    ids=["channels", "findings", "clips", "points"],
)
def test_nothing_grows_faster(small: str, large: str, times: int, tmp_path: Path) -> None:
    calls(small, tmp_path)  # what is loaded and made once
    first, then = calls(small, tmp_path), calls(large, tmp_path)
    assert log(then / first) / log(times) <= MOST
