"""Mistakes with sends, returns and ambience."""

from __future__ import annotations

from random import Random

from example_sessions.parts.desk import bus, delay, low_cut, reverb, send
from mixlint.session import Channel, Parameter, Session
from tests.mutation.clean import Clean
from tests.mutation.planting import (
    Planted,
    bands,
    changed,
    effect_sends,
    effects,
    float_of,
    gathering,
    groups,
    mistake,
    pairs,
    parts,
    pick,
    place_of,
    sent,
    with_channels,
    with_insert,
    with_outputs,
    with_send,
    without_insert,
)

DRY = ("part-arrives-once", "parallel-ways-in-time", "stereo-balanced", "pair-even")
"""What dry signal in a return does besides: it is a second way to the mix bus, with the return's filter and pan."""


def effect_place(channel: Channel) -> int:
    """The place of the effect of a return."""
    place = place_of(channel, "reverb", "delay")
    assert place is not None
    return place


@mistake("the mix control of a return not at 100 %", "return-fully-wet", "insert-does-something", *DRY)
def half_wet(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean))
    if target is None:
        return None
    place = effect_place(target)
    effect = target.inserts[place]
    wet = float(rng.choice((0, 15, 30, 50, 60, 75, 90, 95)))
    share = {"Mix": wet, "Dry/Wet": wet / 100.0}
    listed = tuple(p.model_copy(update={"value": share.get(p.name, p.value)}) for p in effect.parameters)
    session = with_insert(clean.session, target, place, wet=wet, parameters=listed)
    return Planted(session, frozenset({target.id}))


@mistake("an effect switched off on its return", "return-fully-wet", "insert-does-something", *DRY)
def effect_off(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean))
    if target is None:
        return None
    return Planted(with_insert(clean.session, target, effect_place(target), on=False), frozenset({target.id}))


@mistake("an effect not loaded on its return", "return-fully-wet", "inserts-loaded", *DRY)
def effect_not_loaded(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean))
    if target is None:
        return None
    return Planted(with_insert(clean.session, target, effect_place(target), loaded=False), frozenset({target.id}))


@mistake("the low cut taken off a return", "return-low-cut")
def no_low_cut(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, gathering(clean))
    place = place_of(target, "equalizer") if target else None
    if target is None or place is None:
        return None
    return Planted(without_insert(clean.session, target, place), frozenset({target.id}))


@mistake("the low cut of a return switched off", "return-low-cut", "insert-does-something")
def low_cut_off(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, gathering(clean))
    place = place_of(target, "equalizer") if target else None
    if target is None or place is None:
        return None
    return Planted(with_insert(clean.session, target, place, on=False), frozenset({target.id}))


@mistake("the low cut of a return turned down", "return-low-cut")
def low_cut_low(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, gathering(clean))
    place = place_of(target, "equalizer") if target else None
    if target is None or place is None:
        return None
    equalizer = target.inserts[place].equalizer
    first, *rest = bands(target.inserts[place])
    lower = first.model_copy(update={"freq_hz": float(rng.choice((20, 30, 45, 60)))})
    settings = equalizer.model_copy(update={"bands": (lower, *rest)}) if equalizer else None
    return Planted(with_insert(clean.session, target, place, equalizer=settings), frozenset({target.id}))


@mistake("the low cut moved from the return to the part", "return-low-cut", "low-cut-leaves-the-body", "pair-even")
def low_cut_at_source(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, gathering(clean))
    place = place_of(target, "equalizer") if target else None
    if target is None or place is None:
        return None
    moved = target.inserts[place]
    session = without_insert(clean.session, target, place)
    for channel in clean.session.channels:
        if channel.kind == "track" and any(s.to == target.id for s in channel.sends):
            session = changed(session, channel, inserts=(moved, *channel.inserts))
    return Planted(session, frozenset({target.id}))


@mistake("a send to an effect before the fader", "effect-follows-fader")
def pre_fader(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, sent=True))
    if target is None:
        return None
    number = rng.choice(effect_sends(clean, target))
    return Planted(with_send(clean.session, target, number, tap="pre"), frozenset({target.id}))


@mistake("a part and its group sent to one effect", "effect-fed-once", "low-parts-stay-dry", survives=with_outputs)
def fed_twice(clean: Clean, rng: Random) -> Planted | None:
    inside = [c for c in parts(clean, sent=True) if c.output in {g.id for g in groups(clean)}]
    target = pick(rng, inside)
    if target is None:
        return None
    to = target.sends[rng.choice(effect_sends(clean, target))].to
    back = {c.id for c in effects(clean) if c.output == target.output}
    if to in back:  # the return comes back into the group: that would be a loop besides
        return None
    group = next(g for g in groups(clean) if g.id == target.output)
    alike = {c.id for c in parts(clean, sent=True) if c.output == group.id and any(s.to == to for s in c.sends)}
    return Planted(sent(clean.session, group, send(str(to), -20.0)), frozenset(alike))


@mistake("a pre-delay too short or too long", "pre-delay-in-range", "pre-delay-no-echo")
def pre_delay(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean, "reverb"))
    bpm = _bpm(clean.session)
    if target is None or bpm is None:
        return None
    place = effect_place(target)
    effect = target.inserts[place]
    between = round(0.88 * 30_000.0 / bpm, 1)  # between a dotted sixteenth and an eighth, so that it is no note value
    wrong = rng.choice((2.0, 7.0, between))
    listed = tuple(
        p.model_copy(update={"value": wrong / 1000.0}) if p.name == "Pre-delay" else p for p in effect.parameters
    )
    session = with_insert(clean.session, target, place, pre_delay_ms=wrong, parameters=listed)
    return Planted(session, frozenset({target.id}))


@mistake("a reverb return with one leg", "return-keeps-two-legs")
def one_leg(clean: Clean, rng: Random) -> Planted | None:
    if "mono" in clean.house.intents:
        return None
    target = pick(rng, [c for c in effects(clean, "reverb") if c.pan == 0.0])
    return None if target is None else Planted(changed(clean.session, target, legs=1), frozenset({target.id}))


@mistake("a reverb in an insert of a part", "ambience-on-its-own-return", "ambience-opposite")
def on_the_part(clean: Clean, rng: Random) -> Planted | None:
    """Such a reverb is ambience on the part's own side, too."""
    if "single-instrument" in clean.house.intents or not effects(clean, "reverb"):
        return None
    target = pick(rng, parts(clean))
    if target is None:
        return None
    room = reverb(rng.choice(("Granary Reverb", "Linden Hall Reverb", "Quarry Plate Reverb")), 20.0)
    return Planted(changed(clean.session, target, inserts=(*target.inserts, room)), frozenset({target.id}))


@mistake("kick or bass sent to a reverb that keeps its low end", "low-parts-stay-dry", "bus-keeps-its-family")
def low_part_wet(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean) if c.name in ("Kick", "Bass")])
    room = pick(rng, effects(clean, "reverb"))
    place = place_of(room, "equalizer") if room else None
    if target is None or room is None:
        return None
    session = clean.session
    if place is not None:  # a low cut that clears the low end of other parts, and leaves that of a bass
        equalizer = room.inserts[place].equalizer
        first, *rest = bands(room.inserts[place])
        lower = first.model_copy(update={"freq_hz": 100.0, "slope_db_per_oct": 12.0})
        settings = equalizer.model_copy(update={"bands": (lower, *rest)}) if equalizer else None
        session = with_insert(session, room, place, equalizer=settings)
    session = sent(session, target, send(room.id, rng.choice((-25.0, -15.0, -8.0))))
    return Planted(session, frozenset({target.id}))


@mistake("a guitar's ambience on its own side", "ambience-opposite", "stereo-balanced", "return-is-fed")
def same_side(clean: Clean, rng: Random) -> Planted | None:
    guitars = [c for pair in pairs(clean) for c in pair if "gtr" in c.name.casefold() and effect_sends(clean, c)]
    target = pick(rng, guitars)
    if target is None:
        return None
    side = 1.0 if float_of(target.pan) > 0.0 else -1.0
    own = bus(
        "own-room", "Gtr Own Verb", "return", output=str(target.output), fader_db=-4.0, pan=55.0 * side,
        inserts=(reverb("Linden Hall Reverb", 100.0), low_cut(160.0)),
    )  # fmt: skip
    session = changed(clean.session, target, sends=(send("own-room", -12.0),))
    return Planted(with_channels(session, own), frozenset({target.id}))


@mistake("a delay out of the song's time", "delay-in-time")
def out_of_time(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean, "delay"))
    bpm = _bpm(clean.session)
    if target is None or bpm is None:
        return None
    eighth = 30_000.0 / bpm
    time = eighth * rng.choice((1.08, 1.24, 0.93))
    place = effect_place(target)
    listed = (
        *target.inserts[place].parameters,
        Parameter(id="5", name="Delay Time", value=round(time / 1000.0, 6), unit="seconds", low=0.0, high=4.0),
    )
    session = with_insert(clean.session, target, place, parameters=listed)
    return Planted(session, frozenset({target.id})) if time > 145.0 else None


def _bpm(session: Session) -> float | None:
    return session.timeline.tempos[0].bpm if hasattr(session.timeline, "tempos") else None


@mistake("a return that nothing is sent to", "return-is-fed")
def unfed(clean: Clean, rng: Random) -> Planted | None:
    """A further return is added, so that the session keeps its other sends."""
    if not effects(clean):
        return None
    extra = bus(
        "spare", rng.choice(("Spare Verb", "Slap Delay")), "return", output=str(effects(clean)[0].output),
        inserts=(rng.choice((reverb("Granary Room", 100.0), delay("Tidewater Delay", 100.0))), low_cut(150.0)),
    )  # fmt: skip
    return Planted(with_channels(clean.session, extra), frozenset({"spare"}))


@mistake("the only sends to a return closed", "return-is-fed", "send-left-off")
def sends_closed(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean)) if len(effects(clean)) > 1 else None
    if target is None:
        return None
    session = clean.session
    for channel in clean.session.channels:
        for number, one in enumerate(channel.sends):
            if one.to == target.id:
                here = session.channel(channel.id)
                assert here is not None
                lanes = tuple(a for a in here.automation if not str(a.target).startswith(f"send:{number}:"))
                session = with_send(changed(session, channel, automation=lanes), here, number, on=False)
    return Planted(session, frozenset({target.id}))
