"""Mistakes in the print of a mix: clipped, cut, short, on one leg, with its sides swapped, of another state."""

from __future__ import annotations

from random import Random

import numpy as np

from mixlint.media.recipe import Recipe
from tests.mutation.in_sound_files import LEVELS
from tests.mutation.in_sound_stems import SUM
from tests.mutation.planting import Planted, changed, heard
from tests.mutation.sounding import LENGTH_S, Sounding

PRINT = ("print",)
MIX = "mix.wav"
CUT = ("print-begins-and-ends-whole", "print-holds-the-song", "first-and-last-note-are-whole", "clip-inside-its-file")
HOUSE = ("print-at-the-loudness-of-the-house", "print-under-the-true-peak-of-the-house",
         "print-agrees-with-the-session")  # fmt: skip


def _in_print(clean: Sounding, recipe: Recipe) -> Planted:
    return Planted(clean.session, frozenset({MIX}), sounds={MIX: recipe})


def _peak_db(clean: Sounding) -> float:
    return 20.0 * float(np.log10(np.abs(clean.made[MIX]).max()))


@heard("a print at another loudness", "print-at-the-loudness-of-the-house", *HOUSE, sound=PRINT)
def loudness(clean: Sounding, rng: Random) -> Planted:
    return _in_print(clean, clean.again(MIX, {"gain_db": rng.uniform(-8.0, -1.5)}))


@heard("a print over the true peak of the house", "print-under-the-true-peak-of-the-house", *HOUSE, sound=PRINT)
def true_peak(clean: Sounding, rng: Random) -> Planted:
    return _in_print(clean, clean.again(MIX, {"gain_db": -rng.uniform(0.2, 0.7) - _peak_db(clean)}))


@heard("a print whose tail is cut", "print-begins-and-ends-whole", *HOUSE, *CUT, sound=PRINT)
def tail(clean: Sounding, rng: Random) -> Planted:
    return _in_print(clean, clean.again(MIX, {"seconds": rng.uniform(9.0, 11.4)}))


@heard("a print whose first note is cut", "print-begins-and-ends-whole", *HOUSE, *CUT, sound=PRINT,
       weakness="a cut near a zero of the wave counts as a beginning by itself")  # fmt: skip
def start(clean: Sounding, rng: Random) -> Planted:
    return _in_print(clean, clean.again(MIX, {"lead_s": -clean.loud_s(MIX, rng, 0.2)}))


@heard("a print that was stopped early", "print-holds-the-song", *HOUSE, *CUT, sound=PRINT)
def short(clean: Sounding, rng: Random) -> Planted:
    end = {"fade_out_s": 0.5} if rng.random() < 0.5 else {"gain_db": 0.0}
    return _in_print(clean, clean.again(MIX, {"seconds": rng.uniform(5.0, 10.5)}, end))


@heard("a print in another format", "print-in-the-format-of-the-session", *HOUSE, "one-sample-rate",
       "speed-as-recorded", "sources-uncompressed", sound=PRINT)  # fmt: skip
def form(clean: Sounding, rng: Random) -> Planted:
    if rng.random() < 0.5:
        return _in_print(clean, clean.again(MIX, stored="16 bit"))
    rate = rng.choice((16_000, 22_050))
    times = clean.recipes[MIX].rate_hz / rate
    return _in_print(clean, clean.again(MIX, {"high_cut_hz": 0.45 * rate * rate / clean.recipes[MIX].rate_hz},
                                        {"stretch": times}, {"seconds": LENGTH_S}, rate_hz=rate))  # fmt: skip


@heard("a print with a dead, turned or doubled leg", "print-keeps-both-legs", *HOUSE, "print-keeps-its-sides",
       "both-sides-sound", "stereo-file-holds-two-sides", "sides-of-a-file-keep-one-polarity", "part-holds-in-mono",
       sound=PRINT)  # fmt: skip
def legs(clean: Sounding, rng: Random) -> Planted:
    mono = [{**part.model_dump(), "pan": 0.0} for part in clean.recipes[MIX].sum]
    recipes = (
        clean.again(MIX, {"drop": rng.choice(("left", "right"))}),
        clean.again(MIX, {"invert": rng.choice(("left", "right"))}),
        clean.again(MIX, sum=mono),
    )
    return _in_print(clean, rng.choice(recipes))


@heard("a print whose sides are swapped", "print-keeps-its-sides", *HOUSE, *SUM, sound=("print", "stems"))
def swapped(clean: Sounding, rng: Random) -> Planted:
    name = MIX if MIX in clean.files else "Mix.wav"
    return Planted(clean.session, frozenset({name}), sounds={name: clean.again(name, {"swap": True})})


@heard("a print that is clipped", "print-unclipped", *HOUSE, "recording-keeps-its-tops", sound=PRINT)
def clipped(clean: Sounding, rng: Random) -> Planted:
    return _in_print(clean, clean.again(MIX, {"gain_db": rng.uniform(3.0, 9.0) - _peak_db(clean)}, {"clip_dbfs": 0.0}))


@heard("a print that was touched, or a fader that was moved since", "print-agrees-with-the-session", *HOUSE, *LEVELS,
       sound=PRINT)  # fmt: skip
def moved_since(clean: Sounding, rng: Random) -> Planted:
    if rng.random() < 0.5:
        return _in_print(clean, clean.again(MIX, {"gain_db": rng.choice((-1.0, 1.0)) * rng.uniform(2.0, 4.0)}))
    up = rng.choice((-7.0, -8.0, 5.0, 6.0))
    session = changed(clean.session, "Lead Vocal", fader_db=-3.0 + up)
    return Planted(session, frozenset({MIX}))


@heard("a print that states the loudness of another", "print-as-loud-as-it-says", sound=PRINT)
def stated(clean: Sounding, rng: Random) -> Planted:
    label = rng.choice(({"lufs": -6.0}, {"true_peak_dbtp": 3.0}, {"momentary_lufs": -40.0}, {"range_lu": 30.0}))
    return _in_print(clean, clean.again(MIX, label=label))
