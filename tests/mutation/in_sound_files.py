"""Mistakes inside files: tops cut off, holes, clicks, hum and hiss, sides that are dead or turned over, cut notes."""

from __future__ import annotations

from random import Random
from typing import Any

from mixlint.media.recipe import Recipe
from mixlint.session import Channel, Clip
from tests.mutation.planting import Planted, changed, heard
from tests.mutation.sounding import LENGTH_S, Sounding

TAKES = ("takes", "print")
STEREO = ("takes", "microphones")
BROAD = ("microphones",)
"""Sessions by what their files are good for: any take, two legs, a spectrum up to its end."""

LEVELS = (
    "phrases-in-line", "pair-even", "mix-has-its-low-end", "lead-with-the-band", "part-with-the-band",
    "part-not-faded-out", "bus-under-full-scale", "limiter-leaves-the-peaks", "pan-answered", "stereo-balanced",
    "recorded-level-holds", "lead-holds-in-every-section", "low-cut-in-place",
    "recording-stays-as-it-was", "print-agrees-with-the-session",
)  # fmt: skip
"""What a file at another level can raise besides."""


def in_file(clean: Sounding, name: str, recipe: Recipe, **more: Recipe) -> Planted:
    """The mistake is in one file."""
    return Planted(clean.session, frozenset({name}), sounds={**more, name: recipe})


def takes(clean: Sounding) -> list[str]:
    """Files of one leg that are no print of the mix."""
    return [name for name in clean.files if clean.made[name].shape[0] == 1]


def with_rests(clean: Sounding) -> list[str]:
    """Files of parts that pause."""
    return [name for name in takes(clean) if name.startswith("vocal")]


def two_legged(clean: Sounding) -> list[str]:
    """Files of two legs."""
    return [name for name in clean.files if clean.made[name].shape[0] == 2]


def _done(clean: Sounding, names: list[str], rng: Random, *steps: dict[str, Any], **more: Any) -> Planted:
    name = rng.choice(names)
    return in_file(clean, name, clean.again(name, *steps, **more))


# --- samples


@heard("tops cut off flat", "recording-keeps-its-tops", *LEVELS, sound=TAKES)
def tops(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    down = rng.uniform(5.0, 9.0)
    over = ({"gain_db": down - clean.recipes[name].peak_dbfs}, {"clip_dbfs": 0.0})
    behind = rng.choice((0.0, -down, -12.0))  # at full scale, or turned down behind the converter
    return in_file(clean, name, clean.again(name, *over, {"gain_db": behind}))


@heard("a hole in a note", "recording-without-holes", "recording-without-clicks", *LEVELS, sound=TAKES)
def hole(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    lasts = rng.choice((0.003, 0.02, 0.08))
    at = clean.loud_s(name, rng, lasts) - lasts / 2.0
    word = rng.choice(("silence_s", "hold_s"))
    return in_file(clean, name, clean.again(name, {word: (at, at + lasts)}))


@heard("a block that comes twice", "recording-without-holes", "recording-without-clicks", sound=TAKES)
def stutter(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    return in_file(clean, name, clean.again(name, {"repeat_s": clean.loud_s(name, rng)}))


@heard("clicks", "recording-without-clicks", sound=TAKES)
def clicks(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    found = [{"click": {"at_s": clean.loud_s(name, rng), "size": rng.choice((-0.5, 0.3, 0.5))}} for _ in range(3)]
    return in_file(clean, name, clean.again(name, *found[: rng.choice((1, 3))]))


@heard("a sample that is no number", "samples-are-numbers", "recording-without-clicks", sound=TAKES)
def no_number(clean: Sounding, rng: Random) -> Planted:
    return _done(clean, [n for n in takes(clean) if n.endswith(".wav")], rng,
                 {"not_a_number_s": round(rng.uniform(1.0, 11.0), 3)}, stored="float")  # fmt: skip


@heard("a burst of noise", "no-burst-of-noise", "recording-without-clicks", "bands-balanced", *LEVELS, sound=TAKES)
def burst(clean: Sounding, rng: Random) -> Planted:
    at = round(rng.uniform(1.0, 10.0), 3)
    return _done(clean, takes(clean), rng, {"gain_db": -4.0}, {"burst_s": (at, at + rng.uniform(0.03, 0.15))})


@heard("pops and steps", "no-pops-no-rumble", *LEVELS, sound=TAKES)
def pops(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice([n for n in takes(clean) if not n.startswith("bass")])
    at = clean.loud_s(name, rng)
    thump = clean.played("tone", 0, {"fade_in_s": 0.04}, {"fade_out_s": 0.1}, {"lead_s": at}, {"seconds": LENGTH_S},
                         hz=rng.choice((20.0, 28.0)), seconds=0.15, peak_dbfs=-6.0)  # fmt: skip
    both = [{"sound": name}, {"sound": "thump"}]
    return in_file(clean, name, clean.again(name, sum=both), thump=thump)


@heard("a take that does not stand on zero", "recording-stands-on-zero", sound=TAKES)
def offset(clean: Sounding, rng: Random) -> Planted:
    return _done(clean, takes(clean), rng, {"offset": rng.choice((-0.05, -0.008, 0.012, 0.06))})


@heard("hum of the mains", "rests-without-hum", "gate-shuts-in-rests", *LEVELS, sound=TAKES,
       weakness="where no rest lasts much over a third of a second, hum is taken for what rings on")  # fmt: skip
def hum(clean: Sounding, rng: Random) -> Planted:
    return _done(clean, with_rests(clean), rng, {"hum_dbfs": rng.uniform(-58.0, -46.0)})


@heard("hiss", "rests-without-noise", "gate-shuts-in-rests", sound=TAKES)
def hiss(clean: Sounding, rng: Random) -> Planted:
    return _done(clean, with_rests(clean), rng, {"hiss_dbfs": rng.uniform(-52.0, -42.0)})


@heard("16 bits padded to 24", "word-is-used", sound=TAKES)
def padded(clean: Sounding, rng: Random) -> Planted:
    return _done(clean, takes(clean), rng, {"bits": rng.choice((10, 12, 16))})


@heard("drums that went through a coder", "spectrum-goes-to-its-end", sound=BROAD,
       weakness="a spectrum that ends under 9 kHz is taken for that of a dark part")  # fmt: skip
def coded(clean: Sounding, rng: Random) -> Planted:
    names = ["snare_top.wav", "snare_under.wav", "overheads.wav", "room.wav"]
    return _done(clean, names, rng, *[{"high_cut_hz": rng.choice((7_500.0, 9_500.0, 10_000.0))}] * 6)


@heard("a file that was damaged on its way", "media-present", "first-and-last-note-are-whole", *LEVELS,
       "clip-inside-its-file", sound=("takes",))  # fmt: skip
def damaged(clean: Sounding, rng: Random) -> Planted:
    flac = [n for n in takes(clean) if n.endswith(".flac")]
    damage, names = rng.choice((("end-lost", takes(clean)), ("middle-zeroed", flac)))
    return _done(clean, names, rng, damage=damage)


@heard("a guitar out of tune", "parts-in-tune", *LEVELS, sound=TAKES)
def out_of_tune(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice([n for n in takes(clean) if n.startswith("guitar")])
    was, cents = clean.recipes[name], rng.choice((-1.0, 1.0)) * rng.uniform(27.0, 45.0)
    return in_file(clean, name, was.model_copy(update={"hz": was.hz * 2.0 ** (cents / 1200.0)}))


@heard("a metronome in the rests of a voice", "metronome-stays-out", "rests-without-noise", "gate-shuts-in-rests",
       "choruses-alike", "parts-end-together", "entries-complete", *LEVELS, sound=("takes",))  # fmt: skip
def ticking(clean: Sounding, rng: Random) -> Planted:
    ticks = clean.played("metronome", 1, peak_dbfs=rng.uniform(-34.0, -26.0))
    silent = clean.again("vocal.wav", {"silence_s": (rng.uniform(5.0, 7.0), LENGTH_S)})
    both = clean.again("vocal.wav", sum=[{"sound": "silent"}, {"sound": "ticks"}])
    return in_file(clean, "vocal.wav", both, ticks=ticks, silent=silent)


# --- sides


SIDES = ("mix-holds-in-mono", "part-holds-in-mono", "stereo-file-holds-two-sides", "both-sides-sound",
         "sides-of-a-file-keep-one-polarity", "sides-of-a-file-in-time", "stereo-balanced",
         "microphones-add-up-in-mono", "polarity-of-pairs", "two-mics-in-time", "microphones-stay-in-step")  # fmt: skip


@heard("a dead or weak side", "both-sides-sound", *SIDES, "kit-in-the-middle-of-its-pair", sound=STEREO)
def dead_side(clean: Sounding, rng: Random) -> Planted:
    steps = ({"drop": "left"}, {"drop": "right"}, {"right_db": -24.0}, {"right_dies_s": rng.uniform(3.0, 8.0)})
    return _done(clean, two_legged(clean), rng, rng.choice(steps))


@heard("a side that is turned over", "sides-of-a-file-keep-one-polarity", *SIDES, sound=STEREO)
def turned_side(clean: Sounding, rng: Random) -> Planted:
    return _done(clean, two_legged(clean), rng, {"invert": rng.choice(("left", "right"))})


@heard("a side that is turned over from the middle on", "sides-of-a-file-keep-one-polarity", *SIDES,
       "recording-without-clicks",
       "kit-in-the-middle-of-its-pair",  # where arrivals are added up, a side that turns half way cancels in part
       sound=STEREO,
       weakness="two sides that agree now more and now less, as a kit's do, are not told to turn")  # fmt: skip
def turns(clean: Sounding, rng: Random) -> Planted:
    name, side = rng.choice(two_legged(clean)), rng.choice(("left", "right"))
    at = rng.uniform(4.0, 8.0)
    recipes = clean.partly(name, clean.again(name, {"invert": side}), at)
    return Planted(clean.session, frozenset({name}), sounds=recipes)


@heard("one side late", "sides-of-a-file-in-time", *SIDES, sound=("takes",))
def late_side(clean: Sounding, rng: Random) -> Planted:
    alike = clean.played("pluck", rng.randrange(5000, 9000), {"hiss_dbfs": -84.0},
                         {"delay_right_ms": rng.uniform(0.5, 9.0)}, hz=330.0, peak_dbfs=-16.0, legs=2)  # fmt: skip
    return in_file(clean, "piano.wav", alike)


@heard("a mono part in a file of two legs", "stereo-file-holds-two-sides", sound=("takes",))
def mono(clean: Sounding, rng: Random) -> Planted:
    dither = [{"hiss_dbfs": -104.0}] if rng.random() < 0.5 else []
    alike = clean.played("pluck", rng.randrange(5000, 9000), *dither, hz=330.0, peak_dbfs=-16.0, legs=2)
    return in_file(clean, "piano.wav", alike)


@heard("a part that is gone in mono", "part-holds-in-mono", *SIDES, sound=("takes",))
def gone_in_mono(clean: Sounding, rng: Random) -> Planted:
    alike = clean.played("pluck", rng.randrange(5000, 9000), {"hiss_dbfs": -84.0},
                         {"invert": rng.choice(("left", "right"))}, hz=330.0, peak_dbfs=-16.0, legs=2)  # fmt: skip
    return Planted(clean.session, frozenset({"Piano"}), sounds={"piano.wav": alike})


# --- edges


@heard("the first or last note cut in the file", "first-and-last-note-are-whole", "notes-keep-both-ends",
       "parts-end-together", "entries-complete", "counterpart-stays", "pair-edited-together",
       "halves-alike-in-every-clip",
       "recorded-on-one-clock", "edges-faded", *LEVELS, sound=("takes",),
       weakness="a cut near a zero of the wave counts as a beginning or an end by itself")  # fmt: skip
def cut_file(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    at = clean.loud_s(name, rng, 0.3)
    first = rng.random() < 0.5
    step = {"lead_s": -at} if first else {"seconds": at}
    channel = next(c for c in clean.session.channels if any(clip.file == name for clip in c.clips))
    where = {"start_s": at} if first else {"end_s": at}
    clip = channel.clips[0].model_copy(update={**where, "fade_in_s": 0.0, "fade_out_s": 0.0})
    session = changed(clean.session, channel, clips=(clip,))
    return Planted(session, frozenset({name}), sounds={name: clean.again(name, step)})


@heard("the first or last note cut by its clip", "notes-keep-both-ends", "parts-end-together", "entries-complete",
       "counterpart-stays", "pair-edited-together", "edges-faded", *LEVELS, sound=("takes",))  # fmt: skip
def cut_clip(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(with_rests(clean))  # strings are struck so often that a cut lies near a stroke
    at = clean.loud_s(name, rng, 0.3)
    channel = next(c for c in clean.session.channels if any(clip.file == name for clip in c.clips))
    where = rng.choice(({"start_s": at, "offset_s": at}, {"end_s": at}))
    clip = channel.clips[0].model_copy(update={**where, "fade_in_s": 0.005, "fade_out_s": 0.01})
    return Planted(changed(clean.session, channel, clips=(clip,)), frozenset({channel.id}))


@heard("an edge in the middle of a sound without a fade", "edges-faded", *LEVELS, "notes-keep-both-ends",
       "parts-end-together", "entries-complete", "counterpart-stays", "pair-edited-together", "endings-ring-out",
       "halves-alike-in-every-clip", sound=("takes",))  # fmt: skip
def bare_edge(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    at = clean.far_from_zero_s(name, rng)
    channel = next(c for c in clean.session.channels if any(clip.file == name for clip in c.clips))
    where = rng.choice(({"start_s": at, "offset_s": at, "fade_in_s": 0.0}, {"end_s": at, "fade_out_s": 0.0}))
    return _clips(clean, channel, channel.clips[0].model_copy(update=where))


@heard("a join without a crossfade", "joins-crossfaded", *LEVELS, "notes-keep-both-ends", "edges-faded",
       "pair-edited-together", "halves-alike-in-every-clip", "clip-where-it-was", sound=("takes",))  # fmt: skip
def bare_join(clean: Sounding, rng: Random) -> Planted:
    name = rng.choice(takes(clean))
    at, to = clean.far_from_zero_s(name, rng), clean.far_from_zero_s(name, rng, other_way=True)
    channel = next(c for c in clean.session.channels if any(clip.file == name for clip in c.clips))
    whole = channel.clips[0]
    end = at + min(LENGTH_S - at, LENGTH_S - to)
    first = whole.model_copy(update={"end_s": at, "fade_out_s": 0.0})
    second = whole.model_copy(update={"start_s": at, "end_s": end, "offset_s": to, "fade_in_s": 0.0})
    return _clips(clean, channel, first, second)


def _clips(clean: Sounding, channel: Channel, *clips: Clip) -> Planted:
    return Planted(changed(clean.session, channel, clips=clips), frozenset({channel.id}))


# --- what files say of themselves


@heard("a take that states the loudness of another", "file-as-loud-as-it-says", sound=("takes",))
def stated(clean: Sounding, rng: Random) -> Planted:
    label = rng.choice((
        {"lufs": -4.0}, {"range_lu": 40.0}, {"true_peak_dbtp": 6.0}, {"momentary_lufs": -50.0},
        {"short_term_lufs": -50.0},
    ))  # fmt: skip
    return _done(clean, [name for name in takes(clean) if name.endswith(".wav")], rng, label=label)


@heard("a cue point that stands elsewhere than the marker of its name", "cues-stand-at-the-markers", sound=("takes",))
def cue_elsewhere(clean: Sounding, rng: Random) -> Planted:
    marker = rng.choice(clean.session.markers)
    cue = {"at_s": marker.time_s + rng.uniform(0.3, 1.8), "name": marker.name}
    return _done(clean, [name for name in takes(clean) if name.endswith(".wav")], rng, label={"cues": [cue]})


@heard("one microphone of a pass that was nudged against its time stamp", "clips-lie-as-stamped",
       "recording-where-it-was", "clips-of-a-take-in-time", "moved-on-every-clip", "two-mics-in-time",
       "one-clip-of-a-pair-in-time", "microphones-add-up-in-mono", "kit-begins-together", "kit-ends-together",
       "kit-in-the-middle-of-its-pair", "pair-edited-together", "parts-end-together",
       "clips-cut-together-play-together", *LEVELS, sound=("microphones",))  # fmt: skip
def nudged(clean: Sounding, rng: Random) -> Planted:
    late = rng.choice((-1.0, 1.0)) * rng.uniform(0.006, 0.09)
    channel = rng.choice([one for one in clean.session.channels if one.clips])
    clip = channel.clips[0]
    moved = {"start_s": clip.start_s + max(0.0, late), "end_s": clip.end_s + late, "offset_s": max(0.0, -late)}
    session = changed(clean.session, channel, clips=(clip.model_copy(update=moved),))
    sounds = {one: clean.again(one, label={"stamp_s": 36_000.0}) for one in clean.files}
    return Planted(session, frozenset({channel.clips[0].file or ""}), sounds=sounds)
