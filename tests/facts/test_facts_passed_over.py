"""Parts and lanes that are passed over without a close look, against a close look at each."""

from __future__ import annotations

import random

import pytest

from mixlint.analysis import audibility
from mixlint.facts import SessionContext
from mixlint.facts.lane import lane_twins
from mixlint.facts.source import ensemble
from mixlint.session import Automation, Channel, Clip, Marker, Send, Session, Tempo, Timeline


def song(seed: int) -> Session:
    """Voices that sing nearly the same lines, ridden nearly alike, some of them muted, in groups that run anywhere."""
    rng = random.Random(seed)
    found = []
    values = [rng.choice([-6.0, -3.0, 0.0]) for _ in range(8)]
    for n in range(10):
        left_out = {rng.randrange(8)} if rng.random() < 0.5 else set()
        clips = tuple(
            Clip(start_s=20.0 * k + rng.choice([0.0, 0.2]), end_s=20.0 * k + rng.choice([15.0, 17.0]))
            for k in range(8)
            if k not in left_out
        )
        own = [value + (4.0 if rng.random() < 0.06 else 0.0) for value in values]
        late = rng.choice([0.0, 0.0, 1.0])
        kept = [k for k in range(8) if rng.random() < 0.95]
        ride = Automation(
            target="fader",
            scale="dB",
            shape="linear",
            t=tuple(20.0 * k + late for k in kept),
            v=tuple(own[k] for k in kept),
        )
        found.append(
            Channel(
                id=f"c{n}",
                name=f"Backing Vox {n + 1}",
                kind="track",
                output=rng.choice(["g0", "g1", "m"]),
                mute=rng.random() < 0.2,
                clips=clips,
                sends=(Send(to=rng.choice(["g0", "g1"]), level_db=-12.0),),
                automation=(ride,),
            )
        )
    for n in range(2):
        to = rng.choice(["m", f"g{1 - n}"])
        found.append(Channel(id=f"g{n}", name=f"Vocals {n}", kind="group", output=to, mute=rng.random() < 0.3))
    found.append(Channel(id="m", name="Mix Bus", kind="master", output=None))
    markers = tuple(Marker(time_s=20.0 * n, name=f"Verse {n + 1}") for n in range(8))
    timeline = Timeline(tempos=(Tempo(bpm=120.0),))
    return Session(title="Passed over", timeline=timeline, channels=tuple(found), markers=markers)


@pytest.mark.parametrize("seed", range(12))
def test_no_entry_is_lost(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    session = song(seed)
    quick = {c.id: ensemble.missed_entry(context, c) for context in [SessionContext(session)] for c in session.channels}

    def all_of_it(context: SessionContext, channel: Channel, family: str) -> list[Channel]:
        sounding = ensemble._masks(context).parts
        return [part for part in sounding if part.id != channel.id and context.family(part.id) == family]

    monkeypatch.setattr(ensemble, "_nearly_played", all_of_it)
    plain = {c.id: ensemble.missed_entry(context, c) for context in [SessionContext(session)] for c in session.channels}
    assert quick == plain


@pytest.mark.parametrize("seed", range(12))
def test_no_lane_is_lost(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    session = song(seed)

    def told() -> list[str | None]:
        context = SessionContext(session)
        ridden = [(c, lane) for c in session.channels for lane in c.automation]
        return [lane_twins.apart_from_twin(context, channel, lane) for channel, lane in ridden]

    quick = told()
    monkeypatch.setattr(lane_twins._Lanes, "near", lambda lanes, _, __: lanes.lanes)
    assert quick == told()


@pytest.mark.parametrize("seed", range(30))
def test_what_sounds_through_a_channel_is_what_is_lost_without_it(seed: int) -> None:
    context = SessionContext(song(seed))
    silent = audibility._silenced(context)
    for channel in context.session.channels:
        opened = set(audibility._unmuted_to_the_mix(context, silent - {channel.id}))
        closed = set(audibility._unmuted_to_the_mix(context, silent | {channel.id}))
        assert set(audibility.sounding_through(context, channel)) == opened - closed
        assert set(audibility.sounding_without(context, channel)) == closed
