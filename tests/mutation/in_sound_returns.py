"""Mistakes in printed ambience: dry signal, another part, another take, another time, another side, cut tails."""

from __future__ import annotations

from random import Random
from typing import Any

from mixlint.media.recipe import Recipe
from tests.mutation.in_sound_files import LEVELS
from tests.mutation.planting import Planted, changed, heard
from tests.mutation.sounding import HALL, LENGTH_S, PLATE, RATES, RIGHT, RINGS_S, Sounding, printed

RETURNS = ("returns",)
PRINTS = ("print-as-its-return-is-set", "print-keeps-its-tail", "print-lies-in-place", "print-of-its-own-part",
          "print-of-this-take", "print-runs-with-its-parts", "print-without-boom", "prints-of-a-pair-alike",
          "stem-of-ambience-fully-wet", "return-fully-wet", "return-low-cut")  # fmt: skip
"""What one mistake in a print can show besides."""

HALLS, PLATES = "Lead Vocal Hall", {"Plate L Print": "plate_l.wav", "Plate R Print": "plate_r.wav"}
FILES = {HALLS: "hall.wav", **PLATES}
FED = {"hall.wav": "vocal.wav", "plate_l.wav": "guitar_r.wav", "plate_r.wav": "guitar_l.wav"}
LEANS: dict[str, tuple[dict[str, Any], ...]] = {"plate_l.wav": ({"right_db": -9.0},), "plate_r.wav": RIGHT}


def _again(name: str, rng: Random, *parts: str, low_cut: bool = True, **room: float) -> Recipe:
    """A print made again, of other parts or through another room."""
    was = HALL if name == "hall.wav" else PLATE
    recipe = printed({**was, **room}, *(parts or (FED[name],)), then=LEANS.get(name, ()), low_cut=low_cut)
    return Recipe.model_validate({"rate_hz": RATES["returns"], "take": rng.randrange(5000, 9000), **recipe})


def _in_print(clean: Sounding, track: str, recipe: Recipe) -> Planted:
    return Planted(clean.session, frozenset({track}), sounds={FILES[track]: recipe})


@heard("a return that was set anew after its print", "print-as-its-return-is-set", *PRINTS, sound=RETURNS)
def set_anew(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(PLATES))
    room = rng.choice(({"decay_s": 0.25}, {"decay_s": 1.6}, {"predelay_ms": 12.0}))
    return _in_print(clean, track, _again(FILES[track], rng, **room))


@heard("a tail that is cut off", "print-keeps-its-tail", *PRINTS, "parts-end-together", "counterpart-stays",
       "entries-complete", "first-and-last-note-are-whole", "notes-keep-both-ends", "pair-edited-together",
       "edges-faded", sound=RETURNS)  # fmt: skip
def tail(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(FILES))
    channel = next(c for c in clean.session.channels if c.name == track)
    end = round(clean.loud_s(FILES[track], rng), 4)
    clip = channel.clips[0].model_copy(update={"end_s": end, "fade_out_s": rng.choice((0.0, 0.01))})
    cut = clean.again(FILES[track], {"seconds": end})
    return Planted(changed(clean.session, channel, clips=(clip,)), frozenset({track}), sounds={FILES[track]: cut})


@heard("a print that lies early", "print-lies-in-place", *PRINTS, sound=RETURNS)
def early(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(FILES))
    return _in_print(clean, track, clean.again(FILES[track], {"delay_ms": rng.uniform(-80.0, -45.0)}))


@heard("a print that lies late", "print-lies-in-place", *PRINTS, sound=RETURNS)
def late(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(PLATES))
    return _in_print(clean, track, clean.again(FILES[track], {"delay_ms": rng.uniform(90.0, 140.0)}))


@heard("the print of another part", "print-of-its-own-part", *PRINTS, sound=RETURNS)
def other_part(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(FILES))
    others = [one for one in FED.values() if one != FED[FILES[track]]]
    return _in_print(clean, track, _again(FILES[track], rng, rng.choice(others)))


@heard("a part that was taken again after its print", "print-of-this-take", *PRINTS, "recording-without-clicks",
       sound=RETURNS,
       weakness="most of the print has to be of the take that plays")  # fmt: skip
def other_take(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(FILES))
    part = FED[FILES[track]]
    what = "voice" if part == "vocal.wav" else "pluck"
    new = clean.played(what, rng.randrange(5000, 9000), {"hiss_dbfs": -84.0}, {"fade_out_s": RINGS_S},
                       hz=clean.recipes[part].hz, peak_dbfs=clean.recipes[part].peak_dbfs)  # fmt: skip
    return Planted(clean.session, frozenset({track}), sounds=clean.partly(part, new, rng.uniform(4.0, 9.0)))


@heard("a print on the other side", "print-on-its-own-side", *PRINTS, sound=RETURNS)
def other_side(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(PLATES))
    lean = 18.0 if track == "Plate L Print" else -18.0
    return _in_print(clean, track, clean.again(PLATES[track], {"right_db": lean}, {"gain_db": -6.0}))


@heard("a print that was stopped early or begun late", "print-runs-with-its-parts", *PRINTS,
       "recording-without-clicks", sound=RETURNS)  # fmt: skip
def stopped(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(FILES))
    at = rng.uniform(4.0, 8.0)
    return _in_print(clean, track, clean.again(FILES[track], {"silence_s": rng.choice(((0.0, at), (at, LENGTH_S)))}))


@heard("a print of nothing", "print-runs-with-its-parts", "recording-is-heard", sound=RETURNS)
def nothing(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(FILES))
    return _in_print(clean, track, clean.again(FILES[track], {"gain_db": -200.0}))


@heard("the bass in the hall", "print-without-boom", *PRINTS, "low-parts-stay-dry", "mix-has-its-low-end",
       sound=RETURNS)  # fmt: skip
def boom(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(FILES))
    both = _again(FILES[track], rng, FED[FILES[track]], "bass.wav", low_cut=False)
    loud = both.sum[1].model_copy(update={"gain_db": rng.uniform(0.0, 4.0)})
    soft = both.sum[0].model_copy(update={"gain_db": -12.0})
    return _in_print(clean, track, both.model_copy(update={"sum": (soft, loud)}))


@heard("prints of a pair that are unlike", "prints-of-a-pair-alike", *PRINTS, sound=RETURNS)
def unlike(clean: Sounding, rng: Random) -> Planted:
    track = rng.choice(list(PLATES))
    room = rng.choice(({"decay_s": 0.3}, {"decay_s": 1.2}, {"predelay_ms": 50.0}))
    return Planted(clean.session, frozenset(PLATES), sounds={FILES[track]: _again(FILES[track], rng, **room)})


@heard("dry signal in a print", "stem-of-ambience-fully-wet", *PRINTS, sound=RETURNS)
def dry(clean: Sounding, rng: Random) -> Planted:
    return _in_print(clean, HALLS, _again("hall.wav", rng, dry_db=rng.uniform(-14.0, 0.0)))


@heard("a print of ambience that is louder than its part", "ambience-under-its-part", *PRINTS, "fader-in-its-range",
       "mix-holds-in-mono", *LEVELS, sound=RETURNS)  # fmt: skip
def drowns(clean: Sounding, rng: Random) -> Planted:
    loud = clean.again("hall.wav", {"gain_db": rng.uniform(6.0, 10.0)})
    session = changed(clean.session, HALLS, fader_db=rng.choice((0.0, 2.0)))
    return Planted(session, frozenset({"Lead Vocal", HALLS}), sounds={"hall.wav": loud})
