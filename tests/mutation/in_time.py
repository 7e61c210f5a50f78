"""Mistakes of time itself: a tempo that is not that of the clips, a delay that does not follow it."""

from __future__ import annotations

from random import Random

from mixlint.session import Parameter, Session, Tempo, Timeline
from tests.mutation.clean import Clean
from tests.mutation.planting import Planted, effects, float_of, mistake, pick, place_of, song_end, with_insert


def _timeline(session: Session) -> Timeline:
    assert isinstance(session.timeline, Timeline)
    return session.timeline


def _starts(session: Session) -> set[float]:
    return {round(c.start_s, 3) for channel in session.channels if channel.mute is False for c in channel.clips}


@mistake("a tempo that is not that of the clips", "tempo-fits-clips", "delay-in-time", written=False)
def other_tempo(clean: Clean, rng: Random) -> Planted | None:
    """Times in files of the open form may be beats, which move with the tempo; in seconds they stay."""
    session = clean.session
    if len(_starts(session)) < 6 or len(_timeline(session).tempos) > 1:
        return None
    bpm = _timeline(session).tempos[0].bpm * rng.choice((0.8, 0.93, 1.07, 1.1, 1.2))
    return Planted(session.model_copy(update={"timeline": Timeline(tempos=(Tempo(bpm=bpm),))}))


@mistake("a delay that stays where it is when the tempo changes", "delay-follows-tempo", "tempo-fits-clips",
         "counterpart-stays", written=False)  # fmt: skip
def delay_stays(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in effects(clean, "delay") if not c.automation and song_end(clean.session) > 60.0])
    place = place_of(target, "delay") if target is not None else None
    if target is None or place is None:
        return None
    bpm = float_of(_timeline(clean.session).tempos[0].bpm)
    time = Parameter(id="time", name="Time", value=45.0 / bpm, unit="s")  # a dotted eighth is 3/4 of a beat
    session = with_insert(clean.session, target, place, parameters=(time,))
    half = round(0.5 * song_end(session) * bpm / 60.0)
    tempos = (Tempo(bpm=bpm), Tempo(beat=half, bpm=bpm * rng.choice((0.95, 1.05))))
    return Planted(session.model_copy(update={"timeline": Timeline(tempos=tempos)}), frozenset({target.id}))
