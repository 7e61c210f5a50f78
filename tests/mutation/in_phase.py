"""Mistakes with the polarity and the timing of two recordings of one performance."""

from __future__ import annotations

from random import Random

from mixlint.session import Insert, Parameter
from tests.mutation.clean import Clean
from tests.mutation.planting import Planted, changed, mistake, pairs, pick


@mistake("one of a pair turned over by its polarity switch", "polarity-switches-agree")
def turned_over(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, pairs(clean))
    if pair is None:
        return None
    _, moves = rng.sample(pair, 2)
    switch = Parameter(id="polarity", name="Polarity Invert", value=1.0)
    trim = Insert(name="Field Trim", kind="utility", opaque=False, parameters=(switch,))
    session = changed(clean.session, moves, inserts=(*moves.inserts, trim))
    return Planted(session, frozenset(channel.id for channel in pair))


@mistake("all clips of one of a pair moved late", "clips-of-a-take-in-time")
def moved_late(clean: Clean, rng: Random) -> Planted | None:
    pair = pick(rng, pairs(clean))
    if pair is None:
        return None
    _, moves = rng.sample(pair, 2)
    late = rng.choice((0.011, 0.014, 0.021))
    clips = (
        clip.model_copy(update={"start_s": clip.start_s + late, "end_s": clip.end_s + late}) for clip in moves.clips
    )
    return Planted(changed(clean.session, moves, clips=tuple(clips)), frozenset(channel.id for channel in pair))


@mistake(
    "an edge of one of a pair dragged alone",
    "pair-edited-together",
    "counterpart-stays",
    "halves-alike-in-every-clip",
    "stereo-balanced",
)
def edge_dragged(clean: Clean, rng: Random) -> Planted | None:
    found = [pair for pair in pairs(clean) if len(pair[0].clips) == len(pair[1].clips) >= 2]
    pair = pick(rng, found)
    if pair is None:
        return None
    _, moves = rng.sample(pair, 2)
    last = moves.clips[-1]
    short = last.model_copy(update={"end_s": last.end_s - rng.choice((0.6, 1.5, 4.0))})
    if short.end_s <= short.start_s + 1.0:
        return None
    session = changed(clean.session, moves, clips=(*moves.clips[:-1], short))
    return Planted(session, frozenset(channel.id for channel in pair))
