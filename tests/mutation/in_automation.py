"""Mistakes of automation that is left where its last move put it, whatever control it moves."""

from __future__ import annotations

from random import Random

from mixlint.session import Automation, Channel
from tests.mutation.clean import Clean
from tests.mutation.planting import (
    Planted,
    changed,
    effect_sends,
    effects,
    float_of,
    lane,
    mistake,
    mix_bus,
    parts,
    pick,
    place_of,
    song_end,
)

MOVED = ("stereo-balanced", "centre-uncluttered", "pan-answered", "names-match-pans", "ambience-opposite")


def _long(clean: Clean) -> list[Channel]:
    """Lone parts without automation that sound for more than forty seconds."""
    return [c for c in parts(clean, lone=True) if not c.automation and _sounding(c) > 40.0]


def _sounding(channel: Channel) -> float:
    return sum(clip.end_s - clip.start_s for clip in channel.clips)


def _after(channel: Channel, share: float) -> float:
    """Where a share of a part's playing has gone by, seconds of the song."""
    left = share * _sounding(channel)
    for clip in sorted(channel.clips, key=lambda c: c.start_s):
        if left <= clip.end_s - clip.start_s:
            return round(clip.start_s + left, 3)
        left -= clip.end_s - clip.start_s
    raise AssertionError("a share of at most 1 ends within the clips")


def _left(clean: Clean, channel: Channel, *lanes: Automation) -> Planted:
    return Planted(changed(clean.session, channel, automation=lanes), frozenset({channel.id}))


@mistake("a pan that never comes back", "pan-comes-back", *MOVED, "anchors-centred")
def pan_left(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _long(clean))
    if target is None:
        return None
    at, to = _after(target, rng.choice((0.3, 0.5, 0.7))), rng.choice((-60.0, -25.0, 30.0, 80.0))
    shape = rng.choice(("hold", "linear"))
    points = [(0.0, 0.0), (at, to)] if shape == "hold" else [(0.0, 0.0), (at, 0.0), (at + 1.5, to)]
    return _left(clean, target, lane("pan", "pan", shape, points))


@mistake("a return whose pan never comes back", "pan-comes-back", *MOVED, "return-keeps-two-legs")
def return_pan_left(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in effects(clean) if not c.automation and song_end(clean.session) > 60.0])
    if target is None:
        return None
    stands = float_of(target.pan)
    to = -stands if abs(stands) > 15.0 else rng.choice((-50.0, 50.0))
    at = round(0.5 * song_end(clean.session), 3)
    return _left(clean, target, lane("pan", "pan", "hold", [(0.0, stands), (at, to)]))


@mistake("a throw left open in the first half", "automation-settled", written=False)
def early_throw(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in _long(clean) if effect_sends(clean, c)])
    if target is None:
        return None
    number = rng.choice(effect_sends(clean, target))
    base = float_of(target.sends[number].level_db)
    at = _after(target, rng.choice((0.25, 0.35)))
    return _left(clean, target, lane(f"send:{number}:level", "dB", "hold", [(0.0, base), (at, base + 9.0)]))


@mistake("a send that automation closes for good", "automation-settled", "return-is-fed", written=False)
def send_closed(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in _long(clean) if effect_sends(clean, c)])
    if target is None:
        return None
    number, at = rng.choice(effect_sends(clean, target)), _after(target, rng.choice((0.4, 0.7)))
    base = float_of(target.sends[number].level_db)
    if rng.random() < 0.5:
        return _left(clean, target, lane(f"send:{number}:on", "switch", "hold", [(0.0, 1.0), (at, 0.0)]))
    return _left(clean, target, lane(f"send:{number}:level", "dB", "hold", [(0.0, base), (at, -200.0)]))


TONE = ("low-cut-in-place", "low-cut-leaves-the-body", "pair-even", "return-low-cut", "eq-moves-small")


@mistake("a low cut switched off or swept away halfway", "processing-comes-back", *TONE, written=False)
def low_cut_gone(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in _long(clean) if place_of(c, "equalizer") is not None])
    place = place_of(target, "equalizer") if target is not None else None
    if target is None or place is None:
        return None
    equalizer = target.inserts[place].equalizer
    assert equalizer is not None
    number = next((n for n, band in enumerate(equalizer.bands, 1) if band.kind == "high-pass"), None)
    if number is None:
        return None
    at, corner = _after(target, rng.choice((0.3, 0.6))), float_of(equalizer.bands[number - 1].freq_hz)
    if rng.random() < 0.5:
        return _left(clean, target, lane(f"insert:{place}:band:{number}:on", "switch", "hold", [(0.0, 1.0), (at, 0.0)]))
    swept = [(0.0, corner), (at, corner), (at + 4.0, 20.0)]
    return _left(clean, target, lane(f"insert:{place}:band:{number}:freq", "plain", "linear", swept))


@mistake("a processor bypassed halfway", "processing-comes-back", *TONE, "insert-does-something", written=False)
def bypassed(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in _long(clean) if c.inserts])
    if target is None:
        return None
    place, at = rng.randrange(len(target.inserts)), _after(target, rng.choice((0.3, 0.6)))
    return _left(clean, target, lane(f"insert:{place}:on", "switch", "hold", [(0.0, 1.0), (at, 0.0)]))


@mistake("a wet share that automation leaves", "processing-comes-back", "return-fully-wet", written=False)
def wet_left(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in effects(clean) if not c.automation and song_end(clean.session) > 60.0])
    place = place_of(target, "reverb", "delay") if target is not None else None
    if target is None or place is None:
        return None
    at = round(0.5 * song_end(clean.session), 3)
    return _left(clean, target, lane(f"insert:{place}:wet", "plain", "hold", [(0.0, 100.0), (at, 60.0)]))


@mistake("the mix bus pulled down, or faded out early", "mix-bus-stays-up", "automation-smooth", "phrases-in-line")
def mix_down(clean: Clean, rng: Random) -> Planted | None:
    bus, end = mix_bus(clean.session), song_end(clean.session)
    if bus.automation or end < 60.0:
        return None
    if rng.random() < 0.5:
        at = round(rng.choice((0.4, 0.7)) * end, 3)
        return _left(clean, bus, lane("fader", "dB", "linear", [(0.0, 0.0), (at, 0.0), (at + 0.5, -14.0)]))
    gone = round(end - rng.choice((12.0, 20.0)), 3)
    return _left(clean, bus, lane("fader", "dB", "linear", [(0.0, 0.0), (gone - 10.0, 0.0), (gone, -90.0)]))
