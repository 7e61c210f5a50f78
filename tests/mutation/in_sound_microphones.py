"""Mistakes between microphones on one performance: turned over, late, slipped, and what that costs in mono."""

from __future__ import annotations

from random import Random

from tests.mutation.planting import Planted, heard
from tests.mutation.sounding import Sounding

MICROPHONES = ("microphones",)
TOGETHER = ("microphones-add-up-in-mono", "microphones-stay-in-step", "polarity-of-pairs", "two-mics-in-time",
            "part-holds-in-mono", "mix-holds-in-mono", "mix-has-its-low-end", "recording-without-clicks")  # fmt: skip
BASS = frozenset({"Bass DI", "Bass Amp"})
FILES = {"Snare Bottom": "snare_under.wav", "Kick": "kick.wav", "Drum Room": "room.wav", "Bass Amp": "bass_amp.wav"}


def _about(name: str) -> frozenset[str]:
    return BASS if name in BASS else frozenset({name})


@heard("an amplifier turned over against its direct signal", "microphones-add-up-in-mono", *TOGETHER,
       sound=MICROPHONES)  # fmt: skip
def against(clean: Sounding, rng: Random) -> Planted:
    back = {"delay_ms": rng.uniform(-0.3, 0.3)}
    turned = clean.again("bass_amp.wav", {"invert": "both"}, {"gain_db": rng.uniform(1.0, 4.0)}, back)
    return Planted(clean.session, BASS, sounds={"bass_amp.wav": turned})


@heard("a microphone that is nudged from the middle on", "microphones-stay-in-step", *TOGETHER, sound=MICROPHONES,
       weakness="a step is not always heard in low sounds")  # fmt: skip
def nudged(clean: Sounding, rng: Random) -> Planted:
    part = rng.choice(list(FILES))
    late = clean.again(FILES[part], {"delay_ms": rng.uniform(4.0, 9.0)})
    recipes = clean.partly(FILES[part], late, rng.uniform(4.5, 7.5))
    return Planted(clean.session, _about(part), sounds=recipes, said=part)


@heard("a microphone on a clock of its own", "microphones-stay-in-step", *TOGETHER, sound=MICROPHONES,
       weakness="a clock of its own is not heard in low sounds")  # fmt: skip
def drifts(clean: Sounding, rng: Random) -> Planted:
    part = rng.choice(list(FILES))
    apart = clean.again(FILES[part], {"stretch": rng.choice((0.9996, 0.9997, 1.0003, 1.0004))})
    return Planted(clean.session, _about(part), sounds={FILES[part]: apart}, said=part)


@heard("a microphone that is turned over", "polarity-of-pairs", *TOGETHER, sound=MICROPHONES)
def turned(clean: Sounding, rng: Random) -> Planted:
    part = rng.choice([one for one in FILES if one != "Drum Room"])
    over = clean.again(FILES[part], {"invert": "both"})
    return Planted(clean.session, _about(part), sounds={FILES[part]: over}, said=part)


@heard("a microphone that comes late", "two-mics-in-time", *TOGETHER, sound=MICROPHONES)
def late(clean: Sounding, rng: Random) -> Planted:
    part = rng.choice(("Snare Bottom", "Kick", "Bass Amp"))
    behind = clean.again(FILES[part], {"delay_ms": rng.uniform(5.0, 9.0)})
    return Planted(clean.session, _about(part), sounds={FILES[part]: behind}, said=part)
