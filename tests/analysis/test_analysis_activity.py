"""Spans of the song, written for a reader."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.analysis.activity import any_within, span_text
from mixlint.facts import SessionContext
from mixlint.session import Session, Tempo, Timeline


@pytest.mark.parametrize("bpm", [71.0, 93.7, 97.0, 120.0, 140.3])
@pytest.mark.parametrize("digits", [6, 15])
def test_a_span_of_whole_bars_names_these_bars(bpm, digits):
    """Times of bar lines as exporters round them, over 400 bars."""
    timeline = Timeline(tempos=(Tempo(bpm=bpm),))
    at = SessionContext(Session(timeline=timeline))
    for bar in range(1, 400, 7):
        start, end = (round(timeline.seconds(4.0 * (b - 1)), digits) for b in (bar, bar + 2))
        assert span_text(at, start, end).startswith(f"bars {bar} to {bar + 1}, ")
        assert timeline.bar(start) == (bar, pytest.approx(1.0, abs=2e-5))


@given(st.lists(st.floats(0.0, 600.0)), st.floats(0.0, 600.0), st.floats(0.0, 30.0))
def test_a_moment_lies_within_a_stretch_as_looking_at_each_tells(moments, start, length):
    """Against the plain search through all of them."""
    plainly = any(start <= one <= start + length for one in moments)
    assert any_within(sorted(moments), start, start + length) is plainly
