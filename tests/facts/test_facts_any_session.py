"""Whatever a valid session holds, every fact of every table answers in its declared kind, or says why it cannot."""

from __future__ import annotations

from math import isfinite
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mixlint.facts import TABLES, FactValue, House, SessionContext
from mixlint.facts.declare import Fact
from mixlint.session import Automation, Channel, Clip, Insert, MediaFile, Send, Session, Tempo, Timeline, Unknown

IDS = ("a", "b", "c", "d", "mix")
NAMES = ("Acoustic Gtr L", "Acoustic Gtr R", "Lead Vocal", "Snare Top", "Snare Bottom", "Plate", "Cue 1", "", "Zorp")
TARGETS = ("fader", "pan", "mute", "send:0:level", "send:0:on", "send:0:pan", "insert:0:on", "insert:0:wet", "lost")


def maybe(*values: Any) -> st.SearchStrategy[Any]:
    return st.sampled_from((*values, Unknown(unknown="not told")))


SENDS = st.builds(
    Send,
    to=maybe(*IDS, "nowhere"),
    level_db=maybe(0.0, -200.0, -12.0),
    pan=maybe(0.0, -100.0, 40.0),
    tap=maybe("pre", "post"),
    on=maybe(True, False),
)
INSERTS = st.builds(
    Insert,
    name=st.sampled_from(("Old Hall", "", "Echo", "Filter")),
    kind=maybe("reverb", "delay", "compressor"),
    on=maybe(True, False),
    loaded=maybe(True, False),
    wet=maybe(0.0, 50.0, 100.0),
)
CLIPS = st.builds(
    lambda start, length, **more: Clip(start_s=start, end_s=start + length, **more),
    start=st.sampled_from((-4.0, 0.0, 3.3, 60.0)),
    length=st.sampled_from((0.0, 0.1, 20.0)),
    file=st.sampled_from((None, "m", "lost")),
    plays=st.sampled_from(("audio", "notes", "video", "unknown")),
    offset_s=maybe(0.0, 2.0),
    speed=maybe(1.0, -1.0, 0.0),
    gain_db=maybe(0.0, -200.0),
    on=maybe(True, False),
)
LANES = st.builds(
    lambda points, **more: Automation(t=tuple(t for t, _ in points), v=tuple(v for _, v in points), **more),
    points=st.lists(
        st.tuples(st.sampled_from((-1.0, 0.0, 5.0, 30.0)), st.sampled_from((0.0, 1.0, -6.0))), max_size=3
    ).map(sorted),
    target=st.sampled_from(TARGETS),
    scale=st.sampled_from(("dB", "amplitude", "pan", "switch", "plain")),
    shape=st.sampled_from(("hold", "linear")),
)


def strips(channel_id: str) -> st.SearchStrategy[Channel]:
    return st.builds(
        Channel,
        id=st.just(channel_id),
        name=st.sampled_from(NAMES),
        kind=st.just("master") if channel_id == "mix" else maybe("track", "track", "group", "return", "master", "vca"),
        legs=maybe(1, 2),
        fader_db=maybe(0.0, -200.0, 6.0),
        pan=maybe(0.0, -100.0, 50.0),
        mute=maybe(True, False, False),
        solo=maybe(True, False),
        loaded=maybe(True, False),
        output=maybe(None, "mix", *IDS),
        sends=st.lists(SENDS, max_size=2).map(tuple),
        inserts=st.lists(INSERTS, max_size=2).map(tuple),
        clips=st.lists(CLIPS, max_size=2).map(tuple),
        automation=st.lists(LANES, max_size=2).map(tuple),
    )


SESSIONS = st.builds(
    Session,
    channels=st.lists(st.sampled_from(IDS), unique=True).flatmap(lambda ids: st.tuples(*map(strips, ids))),
    media=st.just((MediaFile(id="m", path="m.wav"),)),
    timeline=maybe(
        Timeline(tempos=(Tempo(bpm=97.0), Tempo(beat=8.0, bpm=60.0, ramp=True), Tempo(beat=9.0, bpm=120.0)))
    ),
)


def fits(fact: Fact, value: object) -> bool:
    if fact.kind == "number":
        return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)
    if fact.kind == "word":
        return isinstance(value, str) and (not fact.words or value in fact.words)
    if fact.of:
        return isinstance(value, tuple) and (fact.kind == "rows" or len(value) <= 1)
    if fact.kind == "list":
        return isinstance(value, tuple) and all(not fact.words or one in fact.words for one in value)
    return isinstance(value, bool if fact.kind == "switch" else str)


@pytest.mark.slow
@given(SESSIONS, st.sampled_from((House(), House(mono_pan="linear", stereo_pan="stereo-panner", cue=("Cue*",)))))
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_every_fact_of_any_session_answers_in_its_kind(session, house):
    context = SessionContext(session, house)
    for table in TABLES.values():
        for row in table.rows(context):
            for name, fact in table.facts.items():
                said = row.value(name)
                assert not isinstance(said, FactValue) or fits(fact, said.value), (table.name, name, said)
                if isinstance(said, Unknown):
                    assert said.unknown, (table.name, name)
