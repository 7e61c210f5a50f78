"""Mistakes in a folder of stems: one that is late, turned over, softer, missing, doubled, of another version."""

from __future__ import annotations

from random import Random

from mixlint.media.recipe import Recipe
from tests.mutation.planting import Planted, heard
from tests.mutation.sounding import ENDS, SIDES, STAMP_S, Sounding

STEMS = ("stems",)
SUM = ("stems-sum-to-the-print", "stems-at-their-level", "stems-in-polarity", "stems-in-the-print", "stems-in-time",
       "stems-keep-their-sides", "stems-of-one-version", "print-runs-with-its-parts", "print-of-its-own-part",
       "print-lies-in-place", "print-of-this-take", "recording-without-clicks")  # fmt: skip
"""What a stem that is not as in the mix can show besides."""

MIX = "Mix.wav"


def stems(clean: Sounding) -> list[str]:
    """The stems of parts, their ambience left out."""
    return [name for name in clean.files if name not in (MIX, "Drum Reverb.wav")]


def _in_stem(clean: Sounding, name: str, recipe: Recipe, **more: Recipe) -> Planted:
    return Planted(clean.session, frozenset({name}), sounds={**more, name: recipe})


def _in_set(clean: Sounding, name: str, recipe: Recipe | None, said: str = "") -> Planted:
    return Planted(clean.session, frozenset({"stems"}), sounds={name: recipe}, said=said)


@heard("a mix that was printed late", "mix-begins-with-its-stems", *SUM, "print-begins-and-ends-whole", sound=STEMS)
def late_mix(clean: Sounding, rng: Random) -> Planted:
    return _in_set(clean, MIX, clean.again(MIX, {"delay_ms": rng.choice((-1.0, 1.0)) * rng.uniform(2.0, 60.0)}))


@heard("a stem at another level", "stems-at-their-level", *SUM, sound=STEMS)
def level(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(stems(clean))
    return _in_stem(clean, name, clean.again(name, {"gain_db": rng.choice((-6.0, -2.0, 2.0, 4.0))}))


@heard("a stem whose end or beginning is cut", "stems-begin-and-end-in-silence", *SUM, "stems-aligned",
       "first-and-last-note-are-whole", "parts-end-together", "edges-faded", "entries-complete", sound=STEMS,
       weakness="a cut near a zero of the wave counts as a beginning by itself")  # fmt: skip
def cut(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(stems(clean))
    if rng.random() < 0.5:
        return _in_set(clean, name, clean.again(name, {"seconds": clean.loud_s(name, rng, 0.2)}), said=name)
    return _in_set(clean, name, clean.again(name, {"lead_s": -clean.loud_s(name, rng, 0.2)}), said=name)


@heard("one stem under two names", "stems-differ", *SUM, "recording-heard-once", "doubles-are-second-takes",
       "no-pops-no-rumble", "mix-has-its-low-end", "low-end-holds-in-mono", "stereo-file-holds-two-sides",
       sound=STEMS)  # fmt: skip
def doubled(clean: Sounding, rng: Random) -> Planted:
    one, other = rng.sample(stems(clean), 2)
    stored_anew = [{"gain_db": rng.choice((-0.4, 0.0))}, {"hiss_dbfs": -100.0}] if rng.random() < 0.5 else []
    return _in_set(clean, one, clean.again(other, *stored_anew, label=clean.recipes[one].label), said=one)


@heard("a stem that is silent", "stems-hold-sound", *SUM, "recording-is-heard", "mix-has-its-low-end", sound=STEMS)
def silent(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(stems(clean))
    return _in_set(clean, name, clean.again(name, {"gain_db": -200.0}), said=name)


@heard("a stem that is turned over", "stems-in-polarity", *SUM, sound=STEMS)
def turned(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(stems(clean))
    return _in_stem(clean, name, clean.again(name, {"invert": "both"}))


@heard("a stem that the mix leaves out", "stems-in-the-print", *SUM, sound=STEMS)
def left_out(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(stems(clean))
    rest = [{"sound": one} for one in clean.files if one not in (MIX, name)]
    return Planted(clean.session, frozenset({name}), sounds={MIX: clean.again(MIX, sum=rest)})


@heard("a stem that is late or early", "stems-in-time", *SUM, "stems-begin-and-end-in-silence", "edges-faded",
       sound=STEMS)  # fmt: skip
def late(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(stems(clean))
    sample_ms = 1000.0 / clean.recipes[name].rate_hz
    by_ms = rng.choice((-1.0, 1.0)) * sample_ms * rng.choice((1, 20, 400))
    return _in_stem(clean, name, clean.again(name, {"delay_ms": by_ms}))


@heard("a stem on the other side, or in mono", "stems-keep-their-sides", *SUM, "stereo-file-holds-two-sides",
       sound=STEMS)  # fmt: skip
def sides(clean: Sounding, rng: Random) -> Planted:
    part = rng.choice(list(SIDES))
    name = f"{part}.wav"
    mono = clean.again(name, *ENDS, sum=[{"sound": part, "pan": rng.choice((0.0, -SIDES[part] / 2.0))}])
    return _in_stem(clean, name, rng.choice((clean.again(name, {"swap": True}), mono)))


@heard("another take from the middle on", "stems-of-one-version", *SUM, sound=STEMS)
def version(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(stems(clean))
    was = clean.recipes[name.removesuffix(".wav")]
    assert was.plays is not None
    new = clean.played(was.plays, rng.randrange(5000, 9000), *ENDS, hz=was.hz, peak_dbfs=was.peak_dbfs, legs=was.legs)
    placed = {"sound": "new", "pan": SIDES.get(name.removesuffix(".wav"))}
    behind = clean.again(name, sum=[placed])
    recipes = clean.partly(name, behind, rng.uniform(4.0, 8.0))
    return Planted(clean.session, frozenset({name}), sounds={"new": new, **recipes})


@heard("a stem that says something else inside", "stems-say-what-they-are", "stems-aligned", sound=STEMS,
       weakness="guitars are one family, whichever they are")  # fmt: skip
def named_inside(clean: Sounding, rng: Random) -> Planted:
    name, other = rng.sample(stems(clean), 2)
    own = name.removesuffix(".wav")
    label = rng.choice((
        {"track": other.removesuffix(".wav"), "stamp_s": STAMP_S},
        {"track": own, "stamp_s": STAMP_S, "lufs": -8.0},
        {"track": own, "stamp_s": STAMP_S + rng.choice((-2.0, 0.5, 60.0))},
    ))  # fmt: skip
    return _in_stem(clean, name, clean.again(name, label=label))


@heard("a part that no stem holds", "stems-sum-to-the-print", *SUM, sound=STEMS)
def missing(clean: Sounding, rng: Random) -> Planted:
    return _in_set(clean, rng.choice(stems(clean)), None)
