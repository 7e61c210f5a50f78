"""Mistakes of level: gains left at an extreme, groups pulled down, rides that stay, clips out of line, long fades."""

from __future__ import annotations

from random import Random

from mixlint.session import Channel, Clip, Dynamics, Equalizer, EqualizerBand, Insert
from tests.mutation.clean import Clean
from tests.mutation.planting import (
    KIT,
    Planted,
    called,
    changed,
    effects,
    float_of,
    groups,
    lane,
    mistake,
    mix_bus,
    parts,
    pick,
    song_end,
    with_channels,
)

BALANCE = ("stereo-balanced", "centre-uncluttered", "pan-answered")
"""What a level that is far off can move besides."""
BUSES = ("bus-under-full-scale", "lead-with-the-band", "return-under-its-sources")


def _played(clean: Clean) -> list[Channel]:
    """Parts that belong to no pair, stand still, and play for more than 40 s."""
    return [c for c in parts(clean, lone=True) if not c.automation and c.clips[-1].end_s - c.clips[0].start_s > 40.0]


def _longest(channel: Channel) -> Clip:
    return max(channel.clips, key=lambda c: c.end_s - c.start_s)


def _with_clips(clean: Clean, channel: Channel, *clips: Clip) -> Planted:
    return Planted(changed(clean.session, channel, clips=clips), frozenset({channel.id}))


# --- gains


@mistake("the clips of one part 24 dB up", "clip-gain-in-line", *BALANCE, *BUSES, written=False)
def clip_gain(clean: Clean, rng: Random) -> Planted | None:
    few = [c for c in parts(clean, lone=True) if len(c.clips) < 3]
    target = pick(rng, few)
    if target is None or len(parts(clean)) < 4:
        return None
    gain = rng.choice((-24.0, 20.0, 24.0))
    return _with_clips(clean, target, *(c.model_copy(update={"gain_db": gain}) for c in target.clips))


@mistake("one phrase far out of line", "phrases-in-line", "edit-keeps-the-level", *BALANCE, *BUSES, written=False)
def phrase(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean) if len(c.clips) >= 3])
    if target is None:
        return None
    at, gain = rng.randrange(len(target.clips)), rng.choice((-24.0, -14.0, 14.0, 24.0))
    clips = [c.model_copy(update={"gain_db": gain}) if n == at else c for n, c in enumerate(target.clips)]
    return _with_clips(clean, target, *clips)


@mistake(
    "a step of the clip gain at an edit", "edit-keeps-the-level", "phrases-in-line", *BALANCE, *BUSES, written=False
)
def gain_step(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in _played(clean) if len(c.clips) <= 2])
    if target is None:
        return None
    clip = _longest(target)
    middle = round((clip.start_s + clip.end_s) / 2.0, 3)
    offset = float_of(clip.offset_s) + middle - clip.start_s
    halves = (
        clip.model_copy(update={"end_s": middle, "fade_out_s": 0.01}),
        clip.model_copy(update={"start_s": middle, "offset_s": offset, "gain_db": rng.choice((-9.0, 7.0, 9.0))}),
    )
    return _with_clips(clean, target, *(c for c in target.clips if c is not clip), *halves)


@mistake("an output gain that nobody meant", "processor-gain-in-line", "part-with-the-band", *BALANCE, *BUSES,
         "part-arrives-once",
         written=False)  # fmt: skip
def output_gain(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    own = Dynamics(threshold_db=-12.0, ratio=2.0, output_gain_db=rng.choice((17.0, 20.0, -24.0)))
    squeezed = Insert(name="Desk Compressor", kind="compressor", ground="declared", opaque=False, dynamics=own)
    return Planted(changed(clean.session, target, inserts=(*target.inserts, squeezed)), frozenset({target.id}))


@mistake("a bus pushed far over full scale", "bus-under-full-scale", "part-with-the-band", *BALANCE, *BUSES,
         "fader-has-room",
         "groups-in-line")  # fmt: skip
def pushed(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [g for g in groups(clean) if not g.automation and not g.inserts and _is_plain(clean, g)])
    if target is None:
        return None
    return Planted(changed(clean.session, target, fader_db=30.0), frozenset({target.id}))


def _is_plain(clean: Clean, group: Channel) -> bool:
    """A bus whose members hold nothing but equalizers, so that their peaks are known, and that is no parallel one."""
    members = [c for c in clean.session.channels if c.output == group.id]
    return not _is_parallel(clean, group) and all(i.equalizer for c in members for i in c.inserts)


@mistake("a group left pulled down or pushed up", "groups-in-line", "part-with-the-band", *BALANCE, *BUSES,
         "fader-has-room",
         "fader-in-its-range")  # fmt: skip
def group_down(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [g for g in groups(clean) if not g.automation and not _is_parallel(clean, g)])
    if target is None:
        return None
    return Planted(changed(clean.session, target, fader_db=rng.choice((-30.0, -24.0, 11.5))), frozenset({target.id}))


def _is_parallel(clean: Clean, group: Channel) -> bool:
    """A bus that is mixed in from below on purpose."""
    return group.name in clean.house.parallel or "Crush" in group.name or "Squash" in group.name


@mistake(
    "the lead lost under the band",
    "lead-with-the-band",
    *BALANCE,
    *BUSES,
    "fader-in-its-range",
    "double-under-its-lead",
)
def lead_lost(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in called(clean, "Lead Vocal", "Lead Vox", "Vocal") if not c.automation])
    if target is None or len(parts(clean)) < 4:
        return None
    level = float_of(target.fader_db) - rng.choice((24.0, 28.0))
    return Planted(changed(clean.session, target, fader_db=level), frozenset({target.id}))


@mistake("a return far over what feeds it", "return-under-its-sources", *BALANCE, *BUSES, "ambience-opposite",
         "fader-has-room", "low-parts-stay-dry")  # fmt: skip
def return_up(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in effects(clean) if not c.automation])
    if target is None:
        return None
    return Planted(changed(clean.session, target, fader_db=rng.choice((24.0, 30.0))), frozenset({target.id}))


@mistake("one of several namesakes far off", "namesakes-in-line", "fader-like-its-like",
         *BALANCE, "fader-in-its-range", "pair-even",
         "family-in-its-group", "low-cut-in-place", "lead-with-the-band", written=False)  # fmt: skip
def namesake_off(clean: Clean, rng: Random) -> Planted | None:
    whole = Clip(start_s=0.0, end_s=song_end(clean.session), name="oohs", fade_in_s=0.01, fade_out_s=0.05)
    odd, off = rng.randrange(4), rng.choice((-16.0, -20.0, 14.0))
    voices = [
        Channel(
            id=f"ooh-{n}", name=f"Shaker {n + 1}", kind="track", plays=("audio",), legs=1,
            output=mix_bus(clean.session).id, fader_db=-24.0 + (off if n == odd else 0.0), clips=(whole,),
        )
        for n in range(4)
    ]  # fmt: skip
    return Planted(with_channels(clean.session, *voices), frozenset({f"ooh-{odd}"}))


# --- processors at an extreme


def _with_dynamics(clean: Clean, rng: Random, kind: str, **settings: float) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    made = Insert.model_validate(
        {"name": f"Desk {kind.title()}", "kind": kind, "ground": "declared", "opaque": False, "dynamics": settings}
    )
    return Planted(changed(clean.session, target, inserts=(*target.inserts, made)), frozenset({target.id}))


@mistake("a gate that never opens", "gate-opens", "gates-close-gently", written=False)
def shut(clean: Clean, rng: Random) -> Planted | None:
    return _with_dynamics(clean, rng, "gate", threshold_db=rng.choice((0.0, 3.0)), range_db=-80.0, release_ms=300.0)


@mistake("a limiter far down", "limiter-leaves-the-peaks", written=False)
def limited(clean: Clean, rng: Random) -> Planted | None:
    return _with_dynamics(clean, rng, "limiter", threshold_db=rng.choice((-30.0, -36.0, -48.0)))


@mistake("a filter that leaves no part", "filters-leave-the-part", "part-with-the-band", "low-cut-leaves-the-body",
         "low-cut-in-place",
         "low-cut-before-compressor", "high-cut-leaves-the-part", *BALANCE, *BUSES,
         written=False)  # fmt: skip
def filtered(clean: Clean, rng: Random) -> Planted | None:
    target = pick(
        rng,
        [
            c
            for c in parts(clean, lone=True)
            if c.name not in KIT and not any(w in c.name for w in ("Bass", "Synth", "Pad"))
        ],
    )
    if target is None:
        return None
    band = EqualizerBand(kind="low-pass", freq_hz=rng.choice((50.0, 60.0)), slope_db_per_oct=24.0)
    swept = Insert(name="Swept Filter", kind="filter", ground="declared", opaque=False, wet=100.0,
                   equalizer=Equalizer(bands=(band,)))  # fmt: skip
    return Planted(changed(clean.session, target, inserts=(*target.inserts, swept)), frozenset({target.id}))


@mistake(
    "a high cut pulled down", "high-cut-leaves-the-part", "filters-leave-the-part", *BALANCE, *BUSES, written=False
)
def walled(clean: Clean, rng: Random) -> Planted | None:
    found = [
        c for c in parts(clean, lone=True) if any(w in c.name for w in ("Vocal", "Guitar", "Gtr", "Piano", "Fiddle"))
    ]
    target = pick(rng, found)
    if target is None:
        return None
    band = EqualizerBand(kind="low-pass", freq_hz=rng.choice((500.0, 800.0)), slope_db_per_oct=12.0)
    dull = Insert(name="Swept Filter", kind="filter", ground="declared", opaque=False, wet=100.0,
                  equalizer=Equalizer(bands=(band,)))  # fmt: skip
    return Planted(changed(clean.session, target, inserts=(*target.inserts, dull)), frozenset({target.id}))


# --- over time


RIDDEN = ("phrases-in-line", "fader-agrees-with-automation", "automation-smooth", *BALANCE, "bus-under-full-scale")


@mistake(
    "a ride left where it went",
    "ride-comes-back",
    *RIDDEN,
    "automation-settled",
    "lead-with-the-band",
    "choruses-alike",
)
def stuck(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _played(clean))
    if target is None:
        return None
    level, start, end = float_of(target.fader_db), target.clips[0].start_s, target.clips[-1].end_s
    at = round(start + 0.6 * (end - start), 2)
    away = level + rng.choice((-12.0, -8.0, 6.5))
    ridden = lane("fader", "dB", "linear", [(0.0, level), (at, level), (at + 1.0, away)])
    return Planted(changed(clean.session, target, automation=(ridden,)), frozenset({target.id}))


def _for_a_moment(clean: Clean, rng: Random, by_db: float) -> Planted | None:
    target = pick(rng, _played(clean))
    if target is None:
        return None
    clip, level = _longest(target), float_of(target.fader_db)
    at = round((clip.start_s + clip.end_s) / 2.0, 2)
    points = [(0.0, level), (at, level), (at + 0.1, level + by_db), (at + 0.7, level + by_db), (at + 0.8, level)]
    ridden = lane("fader", "dB", "linear", points)
    return Planted(changed(clean.session, target, automation=(ridden,)), frozenset({target.id}))


@mistake("a fader that jumps up for a moment", "fader-without-spikes", *RIDDEN, "fader-has-room")
def spiked(clean: Clean, rng: Random) -> Planted | None:
    return _for_a_moment(clean, rng, rng.choice((10.0, 12.0)))


@mistake("a hole in a part", "fader-without-holes", "lanes-keep-step", *RIDDEN)
def holed(clean: Clean, rng: Random) -> Planted | None:
    return _for_a_moment(clean, rng, rng.choice((-20.0, -40.0)))


@mistake("ducking that stops in the middle", "ducking-goes-on", "dip-comes-back",
         "part-with-the-band", *RIDDEN, "fader-without-holes",
         "family-in-its-group",
         "low-cut-in-place", "lead-with-the-band", written=False)  # fmt: skip
def stops_ducking(clean: Clean, rng: Random) -> Planted | None:
    end = song_end(clean.session)
    if end < 60.0:
        return None
    words = Clip(start_s=0.0, end_s=end, name="words", fade_in_s=0.01, fade_out_s=0.05)
    voice = Channel(
        id="narrator", name="Shaker 9", kind="track", plays=("audio",), legs=1, output=mix_bus(clean.session).id,
        fader_db=-28.0, clips=(words,),
    )  # fmt: skip
    drum = voice.model_copy(update={"name": "Kit Mic 9"})
    bed = voice.model_copy(update={"id": "bed", "name": "Pad Bed"})
    points = [(0.0, -28.0)]
    for n in range(8):
        start = 2.0 + 4.0 * n
        points += [(start, -28.0), (start + 0.3, -34.0), (start + 2.0, -34.0), (start + 2.3, -28.0)]
    ridden = bed.model_copy(update={"automation": (lane("fader", "dB", "linear", points),)})
    session = with_channels(clean.session, drum, ridden)
    return Planted(session, frozenset({"bed"}))


# --- fades


@mistake("a fade over the start of a phrase", "fade-leaves-the-start")
def eaten(clean: Clean, rng: Random) -> Planted | None:
    start = min(c.start_s for channel in parts(clean) for c in channel.clips)
    found = [c for c in parts(clean) if c.name in KIT or "Vocal" in c.name or "Gtr" in c.name or c.name == "Bass"]
    target = pick(rng, [c for c in found if c.clips[-1].start_s > start + 5.0 and c.name != "Overheads"])
    if target is None:
        return None
    last = target.clips[-1].model_copy(update={"fade_in_s": rng.choice((2.0, 4.0))})
    return _with_clips(clean, target, *target.clips[:-1], last)
