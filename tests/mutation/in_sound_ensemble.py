"""Mistakes between parts that play together: another tempo, a late voice, a kit and the picture of its pair."""

from __future__ import annotations

from random import Random

from tests.mutation.in_sound_files import LEVELS, SIDES
from tests.mutation.planting import Planted, changed, heard
from tests.mutation.sounding import Sounding

ENSEMBLE = ("ensemble",)
PAIR = "overheads.wav"
KIT = frozenset({"Hi-Hat", "Snare", "Floor Tom", "Overheads"})
PICTURE = ("pair-hears-the-sides-of-the-desk", "kit-in-the-middle-of-its-pair")


@heard("a part at another tempo", "parts-at-one-tempo", *LEVELS, "parts-end-together", sound=ENSEMBLE,
       weakness="in a dozen seconds two tempos that lie within a hundredth are not told apart")  # fmt: skip
def other_tempo(clean: Sounding, rng: Random) -> Planted:
    part, name = rng.choice((("Shaker", "shaker.wav"), ("Bass", "bass.wav")))
    times = rng.choice((44.1 / 48.0, rng.uniform(0.975, 0.99), rng.uniform(1.01, 1.025)))
    away = clean.again(name, {"stretch": times})
    return Planted(clean.session, frozenset({part}), sounds={name: away})


@heard("a backing vocal that is late on every word", "voices-begin-together", *LEVELS, sound=ENSEMBLE)
def late_voice(clean: Sounding, rng: Random) -> Planted:
    late = clean.again("high.wav", {"delay_ms": rng.uniform(100.0, 260.0)})
    return Planted(clean.session, frozenset({"BV High"}), sounds={"high.wav": late})


@heard("overheads whose sides are exchanged, or two drums that are", "pair-hears-the-sides-of-the-desk", *PICTURE,
       *LEVELS, *SIDES, sound=ENSEMBLE)  # fmt: skip
def crossed(clean: Sounding, rng: Random) -> Planted:
    if rng.random() < 0.5:
        return Planted(
            clean.session, KIT, sounds={PAIR: clean.again(PAIR, {"swap": True}, {"gain_db": rng.uniform(-2.0, 0.0)})}
        )
    wide = rng.choice((40.0, 50.0, 60.0, 70.0))
    session = changed(changed(clean.session, "Hi-Hat", pan=wide), "Floor Tom", pan=-wide)
    return Planted(session, KIT)


@heard("one overhead far softer than the other", "kit-in-the-middle-of-its-pair", *PICTURE, *LEVELS, *SIDES,
       sound=ENSEMBLE)  # fmt: skip
def leans(clean: Sounding, rng: Random) -> Planted:
    by_db = rng.uniform(8.0, 14.0)
    soft = rng.choice(([{"right_db": -by_db}], [{"right_db": by_db}, {"gain_db": -by_db}]))
    return Planted(clean.session, KIT, sounds={PAIR: clean.again(PAIR, *soft)})


@heard("hat and shaker on one side", "bands-balanced", *LEVELS, sound=ENSEMBLE)
def one_sided_highs(clean: Sounding, rng: Random) -> Planted:
    loud = {"pan": rng.uniform(-90.0, -70.0), "fader_db": rng.uniform(1.0, 3.0)}  # some 5 to 7 dB to the left
    session = changed(clean.session, "Shaker", **loud)
    return Planted(session, frozenset({"Mix Bus"}))
