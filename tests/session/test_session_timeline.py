"""Seconds to beats to bars and back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from mixlint.session import Meter, Tempo, Timeline


def test_quarter_notes_at_published_tempos():
    """60 000 / bpm milliseconds per quarter note: 500 at 120, 600 at 100, 428.57 at 140 (arithmetic identity)."""
    for bpm, milliseconds in ((120, 500.0), (100, 600.0), (140, 428.571428)):
        assert Timeline(tempos=(Tempo(bpm=bpm),)).seconds(1.0) * 1000 == pytest.approx(milliseconds)


def test_a_step_of_tempo():
    """Four beats at 60 bpm, then 120 bpm: beat 6 stands at 5 s."""
    timeline = Timeline(tempos=(Tempo(bpm=60), Tempo(beat=4, bpm=120)))
    assert timeline.seconds(6.0) == pytest.approx(5.0)
    assert timeline.beat(5.0) == pytest.approx(6.0)


def test_a_ramp_takes_the_integral_of_the_tempo():
    """Tempo linear in beats from 60 to 120 over 8 beats lasts 8 ln 2 seconds (∫ 60 / bpm db)."""
    timeline = Timeline(tempos=(Tempo(bpm=60, ramp=True), Tempo(beat=8, bpm=120)))
    assert timeline.seconds(8.0) == pytest.approx(8 * 0.6931471805599453)


def test_bars_over_a_change_of_metre():
    """Two bars of 4/4, then 3/4: beat 11 begins the second bar of three, which is bar 4."""
    timeline = Timeline(tempos=(Tempo(bpm=60),), meters=(Meter(), Meter(beat=8, beats=3)))
    assert timeline.bar(0.0) == (1, 1.0)
    assert timeline.bar(8.0) == (3, 1.0)
    assert timeline.bar(11.0) == (4, 1.0)
    assert timeline.bar(12.5)[0] == 4


def test_a_bar_of_six_eight_holds_three_quarters():
    assert Meter(beats=6, unit=8).bar_length == 3.0


@pytest.mark.parametrize("tempos", [(), (Tempo(beat=1.0, bpm=100),), (Tempo(bpm=100), Tempo(bpm=90))])
def test_maps_out_of_order_are_refused(tempos):
    with pytest.raises(ValidationError):
        Timeline(tempos=tempos)


@given(
    st.lists(st.tuples(st.floats(0.5, 30), st.floats(20, 400), st.booleans()), min_size=1, max_size=6),
    st.floats(0, 300),
)
def test_beats_come_back_from_seconds(steps, beat):
    """For every tempo map, ``beat(seconds(b))`` is b."""
    at, tempos = 0.0, []
    for gap, bpm, ramp in steps:
        tempos.append(Tempo(beat=at, bpm=bpm, ramp=ramp))
        at += gap
    timeline = Timeline(tempos=tuple(tempos))
    assert timeline.beat(timeline.seconds(beat)) == pytest.approx(beat, abs=1e-6)


@given(
    st.lists(st.tuples(st.floats(0.5, 30), st.floats(20, 400), st.booleans()), min_size=1, max_size=6),
    st.lists(st.tuples(st.integers(1, 40), st.sampled_from([(4, 4), (3, 4), (7, 8), (2, 2)])), max_size=4),
    st.lists(st.floats(-5, 300), min_size=1, max_size=20),
)
def test_bars_of_many_times_are_those_of_each(steps, metres, times):
    """The bars of several times at once are what each time gives by itself."""
    at, tempos = 0.0, []
    for gap, bpm, ramp in steps:
        tempos.append(Tempo(beat=at, bpm=bpm, ramp=ramp))
        at += gap
    at, meters = 0.0, [Meter()]
    for gap, (beats, unit) in metres:
        at += gap
        meters.append(Meter(beat=at, beats=beats, unit=unit))
    timeline = Timeline(tempos=tuple(tempos), meters=tuple(meters))
    assert timeline.bars(np.array(times)).tolist() == [timeline.bar(one)[0] for one in times]
