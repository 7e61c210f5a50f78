"""Mistakes with the mix bus, automation, equalizers, dynamics and stems."""

from __future__ import annotations

from random import Random

from example_sessions.parts.desk import air, bell, compressor, low_cut, part, send
from mixlint.session import Channel, Clip, Dynamics, Equalizer, EqualizerBand, Insert, MediaFile
from tests.mutation.clean import Clean
from tests.mutation.planting import (
    KIT,
    Planted,
    called,
    changed,
    effect_sends,
    float_of,
    groups,
    lane,
    mistake,
    mix_bus,
    parts,
    pick,
    place_of,
    song_end,
    with_channels,
    with_insert,
    with_outputs,
    without_insert,
)

# --- mix bus


@mistake("the fader of the mix bus off 0 dB", "mix-fader-at-unity", "fader-has-room")
def mix_fader(clean: Clean, rng: Random) -> Planted | None:
    bus = mix_bus(clean.session)
    level = rng.choice((-6.0, -2.0, -0.5, 1.5))
    return Planted(changed(clean.session, bus, fader_db=level), frozenset({bus.id}))


@mistake("a limiter on the mix bus", "mix-bus-unlimited")
def limited(clean: Clean, rng: Random) -> Planted | None:
    bus = mix_bus(clean.session)
    limiter = Insert(name=rng.choice(("Brickwall Limiter", "Lower Slate Maximizer", "True Peak Limiter")))
    return Planted(changed(clean.session, bus, inserts=(limiter,)), frozenset({bus.id}))


@mistake("a correction for listening on the mix bus", "monitor-path-clean")
def corrected(clean: Clean, rng: Random) -> Planted | None:
    bus = mix_bus(clean.session)
    monitor = Insert(name=rng.choice(("Room Correction", "Headphone Correction", "Monitor Control")))
    return Planted(changed(clean.session, bus, inserts=(monitor,)), frozenset({bus.id}))


SILENT = ("muted-on-purpose", "send-arrives", "return-is-fed", "stereo-balanced", "reaches-mix-bus")


@mistake("the mix bus muted", "mix-bus-open", *SILENT)
def mix_muted(clean: Clean, rng: Random) -> Planted | None:
    bus = mix_bus(clean.session)
    return Planted(changed(clean.session, bus, mute=True), frozenset({bus.id}))


@mistake("the mix bus panned", "mix-bus-open", "stereo-balanced", "ambience-opposite", "pair-even", "pan-answered")
def mix_panned(clean: Clean, rng: Random) -> Planted | None:
    bus = mix_bus(clean.session)
    return Planted(changed(clean.session, bus, pan=rng.choice((-3.0, 12.0, 40.0))), frozenset({bus.id}))


@mistake("the reference through the processing of the mix bus", "reference-past-mix-bus")
def reference(clean: Clean, rng: Random) -> Planted | None:
    bus = mix_bus(clean.session)
    end = song_end(clean.session)
    file = MediaFile(
        id="audio/ref.wav", path="audio/ref.wav", place="inside", present=True, legs=2,
        sample_rate_hz=float_of(clean.session.sample_rate_hz), duration_s=end,
    )  # fmt: skip
    take = Clip(start_s=0.0, end_s=end, name="ref", file=file.id, fade_in_s=0.01, fade_out_s=0.01)
    track = part("ref", rng.choice(("Reference", "Reference Mix", "Referenz")), output=bus.id, fader_db=-6.0, legs=2,
                 plays=(take,))  # fmt: skip
    track = track.model_copy(update={"mute": True})
    session = changed(with_channels(clean.session, track), bus, inserts=(low_cut(25.0),))
    return Planted(session.model_copy(update={"media": (*session.media, file)}), frozenset({bus.id}))


@mistake("a VCA left down over what lies inside it", "vca-stands-open", written=False)
def vca_down(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean, lone=True) if c.parent is None])
    if target is None:
        return None
    down = rng.choice(({"mute": True}, {"fader_db": -200.0}))
    vca = Channel.model_validate({"id": "vca-down", "name": "Band Fader", "kind": "vca", "output": None, **down})
    return Planted(with_channels(changed(clean.session, target, parent=vca.id), vca), frozenset({vca.id}))


# --- automation


def _still(clean: Clean) -> list[Channel]:
    return [c for c in parts(clean, lone=True) if not c.automation and c.clips[-1].end_s - c.clips[0].start_s > 40.0]


MOVED = ("stereo-balanced", "fader-agrees-with-automation", "centre-uncluttered", "pan-answered")


@mistake("fader automation parked at the bottom", "automation-settled", *MOVED, "automation-smooth", "phrases-in-line")
def parked(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _still(clean))
    if target is None:
        return None
    at, level = _middle(target), float_of(target.fader_db)
    down = rng.choice((-45.0, -60.0, -200.0))
    points = [(0.0, level), (at, level), (at + 0.1, down)]
    ridden = lane("fader", "dB", "linear", points)
    return Planted(changed(clean.session, target, automation=(ridden,)), frozenset({target.id}))


def _middle(channel: Channel) -> float:
    clip = max(channel.clips, key=lambda c: c.end_s - c.start_s)
    return round(clip.start_s + 0.3 * (clip.end_s - clip.start_s), 3)


@mistake("mute automation left on", "automation-settled", *MOVED)
def mute_parked(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _still(clean))
    if target is None:
        return None
    ridden = lane("mute", "switch", "hold", [(0.0, 0.0), (_middle(target), 1.0)])
    return Planted(changed(clean.session, target, automation=(ridden,)), frozenset({target.id}))


@mistake("a delay or reverb throw left open", "automation-settled")
def throw_open(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in _still(clean) if effect_sends(clean, c)])
    if target is None:
        return None
    number = rng.choice(effect_sends(clean, target))
    base = float_of(target.sends[number].level_db)
    at = target.clips[-1].end_s - 9.0
    if at < _middle(target) + 10.0:
        return None
    ridden = lane(f"send:{number}:level", "dB", "linear", [(0.0, base), (at, base), (at + 0.2, base + 9.0)])
    left = sum(max(0.0, c.end_s - max(c.start_s, at + 0.2)) for c in target.clips)
    return Planted(changed(clean.session, target, automation=(ridden,)), frozenset({target.id})) if left > 4.5 else None


@mistake("a jump in a fader's automation", "automation-smooth", *MOVED, "automation-settled")
def jump(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _still(clean))
    if target is None:
        return None
    at, level = _middle(target), float_of(target.fader_db)
    points = [(0.0, level), (at, level - rng.choice((7.0, 10.0, 20.0))), (at + 3.0, level)]
    ridden = lane("fader", "dB", "hold", points)
    return Planted(changed(clean.session, target, automation=(ridden,)), frozenset({target.id}))


@mistake("a fader that stands away from its automation", "fader-agrees-with-automation", *MOVED)
def stands_away(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _still(clean))
    if target is None or len(parts(clean)) < 4:
        return None
    at, level = _middle(target), float_of(target.fader_db)
    ridden = lane("fader", "dB", "linear", [(0.0, level), (at, level + 1.0), (at + 8.0, level)])
    session = changed(clean.session, target, automation=(ridden,), fader_db=level - rng.choice((1.0, 4.0, 12.0)))
    return Planted(session, frozenset({target.id}))


@mistake("automation that aims at nothing", "automation-finds-its-control", written=False)
def aims_at_nothing(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    aim = rng.choice(("insert:9:on", "send:7:level", "insert:8:4711"))
    ridden = lane(aim, "plain", "hold", [(0.0, 0.0), (10.0, 1.0)])
    return Planted(changed(clean.session, target, automation=(*target.automation, ridden)), frozenset({target.id}))


# --- tone and dynamics


def _equalized(clean: Clean) -> list[Channel]:
    return [c for c in parts(clean, lone=True) if c.name not in KIT and place_of(c, "equalizer") is not None]


def _with_band(clean: Clean, channel: Channel, band: EqualizerBand) -> Planted:
    place = place_of(channel, "equalizer")
    assert place is not None
    equalizer = channel.inserts[place].equalizer
    assert equalizer is not None
    settings = equalizer.model_copy(update={"bands": (*equalizer.bands, band)})
    return Planted(with_insert(clean.session, channel, place, equalizer=settings), frozenset({channel.id}))


@mistake("a large equalizer move", "eq-moves-small", "low-cut-leaves-the-body", "eq-not-fought", "centre-uncluttered")
def large_move(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _equalized(clean))
    if target is None:
        return None
    return _with_band(clean, target, bell(rng.choice((250.0, 1200.0, 3000.0)), rng.choice((-9.0, -7.0, 5.0, 8.0))))


@mistake("a steep high shelf", "eq-shelf-gentle")
def steep_shelf(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, _equalized(clean))
    return None if target is None else _with_band(clean, target, air(9000.0, rng.choice((4.0, 6.0, 9.0))))


@mistake("a part's equalizer against its group's", "eq-not-fought", "eq-moves-small", survives=with_outputs)
def fought(clean: Clean, rng: Random) -> Planted | None:
    ids = {g.id: g for g in groups(clean)}
    target = pick(rng, [c for c in _equalized(clean) if c.output in ids])
    if target is None:
        return None
    one = _with_band(clean, target, bell(1500.0, -4.0))
    against = Insert(
        name="Group EQ", kind="equalizer", ground="declared", opaque=False,
        equalizer=Equalizer(bands=(bell(1500.0, 4.0),)),
    )  # fmt: skip
    group = ids[str(target.output)]
    return Planted(changed(one.session, group, inserts=(*group.inserts, against)), one.about)


@mistake("a processor that does nothing", "insert-does-something")
def flat(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    spare = rng.choice((
        Insert(name="Spare EQ", kind="equalizer", ground="declared", opaque=False,
               equalizer=Equalizer(bands=(bell(900.0, 0.0),))),
        compressor(-20.0, 3.0, 10.0, 100.0).model_copy(update={"on": False}),
    ))  # fmt: skip
    return Planted(changed(clean.session, target, inserts=(*target.inserts, spare)), frozenset({target.id}))


@mistake("a processor that was not loaded", "inserts-loaded")
def not_loaded(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    lost = Insert(name=rng.choice(("Tape Saturator", "Amp Cabinet")), loaded=False)
    return Planted(changed(clean.session, target, inserts=(*target.inserts, lost)), frozenset({target.id}))


@mistake("no low cut on a part without low notes", "low-cut-in-place", "pair-even")
def missing_low_cut(clean: Clean, rng: Random) -> Planted | None:
    names = ("Lead Vocal", "Harmony Vocal", "Snare", "Hat", "Acoustic Gtr", "Shaker")
    guitars = [c for c in parts(clean) if c.name in names or "Gtr" in c.name]
    target = pick(rng, [c for c in guitars if place_of(c, "equalizer") is not None])
    if target is None:
        return None
    place = place_of(target, "equalizer")
    assert place is not None
    return Planted(without_insert(clean.session, target, place), frozenset({target.id}))


@mistake("a low cut behind the compressor", "low-cut-before-compressor")
def cut_behind(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean) if place_of(c, "compressor") == 1])
    if target is None or place_of(target, "equalizer") != 0:
        return None
    inserts = (target.inserts[1], target.inserts[0], *target.inserts[2:])
    return Planted(changed(clean.session, target, inserts=inserts), frozenset({target.id}))


@mistake("a low cut that takes the body", "low-cut-leaves-the-body", "pair-even")
def cut_high(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [*called(clean, "Lead Vocal"), *(c for c in parts(clean) if "Gtr" in c.name)])
    place = place_of(target, "equalizer") if target else None
    if target is None or place is None:
        return None
    return Planted(
        with_insert(clean.session, target, place, equalizer=low_cut(rng.choice((350.0, 500.0))).equalizer),
        frozenset({target.id}),
    )


@mistake("a compressor on a part set as a limiter", "ratios-gentle", "copies-keep-one-chain")
def ratio(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean))
    if target is None:
        return None
    hard = compressor(-20.0, rng.choice((10.0, 20.0)), 5.0, 100.0)
    return Planted(changed(clean.session, target, inserts=(*target.inserts, hard)), frozenset({target.id}))


@mistake("a gate that shuts at once", "gates-close-gently", "copies-keep-one-chain")
def gate(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean) if c.name not in KIT])
    if target is None:
        return None
    shuts = Insert(
        name="Desk Gate", kind="gate", ground="declared", opaque=False,
        dynamics=Dynamics(threshold_db=-45.0, attack_ms=0.5, release_ms=rng.choice((5.0, 20.0)), range_db=-60.0),
    )  # fmt: skip
    return Planted(changed(clean.session, target, inserts=(*target.inserts, shuts)), frozenset({target.id}))


@mistake(
    "a filter on one of two parallel ways", "parallel-ways-in-time", "part-arrives-once", "pair-even", written=False
)
def filtered_way(clean: Clean, rng: Random) -> Planted | None:
    """A fourth-order high-pass turns the phase by 180 degrees at its corner, so that the two ways cancel there."""
    bus = next((c for c in clean.session.channels if c.id in ("crush", "squash")), None)
    if bus is None:
        return None
    steep = EqualizerBand(kind="high-pass", freq_hz=rng.choice((300.0, 500.0)), q=0.7071, slope_db_per_oct=24.0)
    cut = Insert(name="Bus EQ", kind="equalizer", ground="declared", opaque=False, equalizer=Equalizer(bands=(steep,)))
    session = changed(clean.session, bus, inserts=(cut,), fader_db=0.0)
    feeding = [c for c in session.channels if any(s.to == bus.id for s in c.sends)]
    for channel in feeding:
        sends = tuple(send(bus.id, 0.0) if s.to == bus.id else s for s in channel.sends)
        session = changed(session, channel, sends=sends)
    return Planted(session, frozenset({*(c.id for c in feeding), *(c.id for c in parts(clean))}))


# --- stems


@mistake("a stem shorter than the rest", "stems-aligned", "clip-inside-its-file", "speed-as-recorded", written=False,
         stems=True)  # fmt: skip
def short_stem(clean: Clean, rng: Random) -> Planted | None:
    at = rng.randrange(len(clean.session.media))
    short = rng.choice((0.05, 2.0, 30.0))
    files = tuple(
        m.model_copy(update={"duration_s": 184.0 - short}) if n == at else m for n, m in enumerate(clean.session.media)
    )
    return Planted(clean.session.model_copy(update={"media": files}))


@mistake("a stem at another rate", "stems-one-format", "one-sample-rate", written=False, stems=True)
def stem_rate(clean: Clean, rng: Random) -> Planted | None:
    at = rng.randrange(len(clean.session.media))
    rate = rng.choice((44_100.0, 96_000.0))
    files = tuple(
        m.model_copy(update={"sample_rate_hz": rate}) if n == at else m for n, m in enumerate(clean.session.media)
    )
    return Planted(clean.session.model_copy(update={"media": files}))


@mistake("stems without the ambience", "ambience-in-the-stems", written=False, stems=True)
def dry_stems(clean: Clean, rng: Random) -> Planted | None:
    channels = tuple(
        c.model_copy(update={"name": f"{c.name}_dry"})
        for c in clean.session.channels
        if c.name not in ("Reverbs", "Mix Bus")
    )
    return Planted(clean.session.model_copy(update={"channels": (*channels, mix_bus(clean.session))}))
