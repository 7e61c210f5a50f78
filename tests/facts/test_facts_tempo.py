"""The tempo against the clips and the delays: the table ``session`` on the grid of the clips, ``insert`` on delays.

All expected numbers are arithmetic of tempo: a beat lasts 60 / bpm seconds, a bar of four of them 240 / bpm.
"""

from __future__ import annotations

from random import Random

import pytest

from mixlint.facts import FactValue, House, SessionContext
from mixlint.session import Clip, Insert, Meter, Parameter, Session, Tempo, Timeline, Unknown
from tests.facts.small_sessions import ask as ask_of
from tests.facts.small_sessions import bus, mix, reverb, send, track
from tests.facts.small_sessions import value as value_of


def at(starts, timeline: Timeline | Unknown, *, house: House | None = None) -> SessionContext:
    clips = tuple(Clip(start_s=start, end_s=start + 0.5) for start in starts)
    return SessionContext(
        Session(title="Harrow Gate", channels=(track("Guitar", clips=clips), mix()), timeline=timeline), house
    )


def value(context: SessionContext, fact: str):
    return value_of(context, "session", "Harrow Gate", fact)


def steady(bpm: float, beats: int = 4) -> Timeline:
    return Timeline(tempos=(Tempo(bpm=bpm),), meters=(Meter(beats=beats),))


def bars(bpm: float, *numbers: float) -> list[float]:
    """When bars of four at a tempo begin, counted from 0, seconds."""
    return [number * 240.0 / bpm for number in numbers]


SONG = (0, 4, 5, 8, 12, 14, 16, 24, 28, 29)


@pytest.mark.parametrize(("true", "set_to"), [(92.0, 120.0), (128.0, 126.0), (75.0, 100.0), (140.0, 93.0)])
def test_clips_cut_at_one_tempo_in_a_session_of_another(true, set_to):
    found = at(bars(true, *SONG), steady(set_to))
    assert value(found, "clips_on_bars") < 50.0
    assert value(found, "clips_on_other_bars") == 100.0
    note = ask_of(found, "session", "Harrow Gate", "clips_on_other_bars").note
    assert f"{true:g}" in note.partition("fits ")[2]
    right = at(bars(true, *SONG), steady(true))
    assert value(right, "clips_on_bars") == 100.0


def test_three_beats_to_the_bar_in_a_session_of_four():
    starts = [number * 3 * 0.6 for number in (0, 1, 3, 4, 6, 9, 11, 14, 18)]  # 100 bpm
    found = at(starts, steady(100.0))
    assert value(found, "clips_on_bars") < 50.0
    assert value(found, "clips_on_other_bars") == 100.0
    assert value(at(starts, steady(100.0, 3)), "clips_on_bars") == 100.0


def test_takes_that_start_anywhere_fit_no_grid():
    """Of 200 sets of ten random starts, none lies on the bars of any tempo for nine parts in ten."""
    rng = Random(11)
    for _ in range(200):
        starts = sorted(rng.uniform(0.0, 200.0) for _ in range(10))
        assert value(at(starts, steady(97.0)), "clips_on_other_bars") < 90.0


def test_pickups_on_beats_of_the_session_are_no_other_grid():
    starts = [3 * 0.6, 14 * 0.6, 35 * 0.6, 62 * 0.6, 79 * 0.6, 97 * 0.6, 109 * 0.6]
    assert value(at(starts, steady(100.0)), "clips_on_other_bars") < 90.0


def test_the_house_says_how_near_to_a_bar_is_on_it():
    starts = [start + 0.03 * (n % 2) for n, start in enumerate(bars(100.0, *SONG))]
    assert value(at(starts, steady(100.0)), "clips_on_bars") == 50.0
    wider = House(settings={"clip_grid.tolerance": 40.0})
    assert value(at(starts, steady(100.0), house=wider), "clips_on_bars") == 100.0


def test_a_stretch_of_one_tempo_counts_by_itself():
    """Bars of 2 s throughout; from beat 64 on the map says 133 bpm, bars of 1.805 s."""
    changed = Timeline(tempos=(Tempo(bpm=120.0), Tempo(beat=64.0, bpm=133.0)))
    starts = [2.0 * n for n in (0, 1, 2, 3, 4, 5, 6, 7, 17, 18, 20, 23, 24, 27, 29, 31)]
    found = at(starts, changed)
    assert value(found, "clip_starts") == 8
    assert value(found, "clips_on_bars") < 50.0
    assert value(found, "clips_on_other_bars") == 100.0


def test_whole_seconds_are_told():
    assert value(at([0.0, 10.0, 30.0, 40.0, 60.0, 90.0], steady(110.0)), "clips_on_whole_seconds") is True
    assert value(at([0.0, 10.5, 30.0, 40.0, 60.0, 90.0], steady(110.0)), "clips_on_whole_seconds") is False


def test_without_a_tempo_it_stays_open():
    found = ask_of(at(bars(92.0, *SONG), Unknown(unknown="no tempo")), "session", "Harrow Gate", "clips_on_bars")
    assert isinstance(found, Unknown)


# --- delays


def echoing(time_s: float, timeline: Timeline, *, end: float = 60.0) -> SessionContext:
    time = Parameter(id="1", name="Time", value=time_s, unit="seconds")
    echo = bus("Echo", kind="return", inserts=(Insert(name="Tidewater Delay", kind="delay", parameters=(time,)),))
    voice = track("Vocal", at=(0.0, end), sends=(send("Echo"),))
    return SessionContext(Session(title="Harrow Gate", channels=(voice, echo, mix()), timeline=timeline))


CHANGE = Timeline(tempos=(Tempo(bpm=120.0), Tempo(beat=32.0, bpm=126.0)))


def delay(context: SessionContext, fact: str) -> FactValue | Unknown:
    return ask_of(context, "insert", "Echo: Tidewater Delay", fact)


def test_a_delay_against_each_tempo_it_sounds_at():
    """375 ms is a dotted eighth at 120 bpm; at 126 bpm that lasts 357.14 ms, 5 % less."""
    found = echoing(0.375, CHANGE)
    assert value_of(found, "insert", "Echo: Tidewater Delay", "tempos_heard") == (120.0, 126.0)
    assert value_of(found, "insert", "Echo: Tidewater Delay", "off_tempo_most") == pytest.approx(5.0)
    assert value_of(found, "insert", "Echo: Tidewater Delay", "off_tempo_least") == pytest.approx(0.0)


def test_a_tempo_under_which_nothing_feeds_it_does_not_count():
    """The change comes at 16 s; two seconds of it are less than the four that count."""
    assert value_of(echoing(0.375, CHANGE, end=18.0), "insert", "Echo: Tidewater Delay", "tempos_heard") == (120.0,)


def test_under_a_gliding_tempo_it_stays_open():
    gliding = Timeline(tempos=(Tempo(bpm=120.0, ramp=True), Tempo(beat=32.0, bpm=126.0)))
    assert isinstance(delay(echoing(0.375, gliding), "off_tempo_most"), Unknown)


def test_a_processor_without_a_time_has_none():
    room = bus("Room", kind="return", inserts=(reverb(),))
    voice = track("Vocal", sends=(send("Room"),))
    context = SessionContext(Session(title="Harrow Gate", channels=(voice, room, mix()), timeline=CHANGE))
    assert isinstance(ask_of(context, "insert", "Room: Old Hall", "off_tempo_most"), Unknown)
