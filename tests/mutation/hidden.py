"""Things that an export hides: the rule that needs them has to leave its row open, and nothing may be flagged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from mixlint.session import Channel, Insert, SavedSettings, Unknown
from tests.mutation.clean import Clean
from tests.mutation.in_ambience import effect_place
from tests.mutation.planting import (
    Planted,
    changed,
    effect_sends,
    effects,
    gathering,
    mix_bus,
    pairs,
    parts,
    pick,
    place_of,
    with_channels,
    with_insert,
    with_media,
    with_send,
)

WHY = Unknown(unknown="the export does not show it", settle="look at the desk")


@dataclass(frozen=True)
class Hidden:
    """One thing that is hidden, and the rules of which one or more have to be open about it."""

    name: str
    rules: tuple[str, ...]
    plant: Callable[[Clean, Random], Planted | None]


def _channel(field: str, which: Callable[[Clean], list[Channel]]) -> Callable[[Clean, Random], Planted | None]:
    def plant(clean: Clean, rng: Random) -> Planted | None:
        target = pick(rng, which(clean))
        if target is None:
            return None
        return Planted(changed(clean.session, target, **{field: WHY}), frozenset({target.id}))

    return plant


def _media(field: str) -> Callable[[Clean, Random], Planted | None]:
    def plant(clean: Clean, rng: Random) -> Planted | None:
        target = pick(rng, parts(clean))
        if target is None:
            return None
        file = target.clips[0].file
        media = next(m for m in clean.session.media if m.id == file)
        return Planted(with_media(clean.session, media, **{field: WHY}), frozenset({media.id, target.id}))

    return plant


def _wet(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, effects(clean))
    if target is None:
        return None
    session = with_insert(clean.session, target, effect_place(target), wet=WHY, parameters=())
    return Planted(session, frozenset({target.id}))


def _filter(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, gathering(clean))
    place = place_of(target, "equalizer") if target else None
    if target is None or place is None:
        return None
    session = with_insert(clean.session, target, place, equalizer=None, opaque=True)
    return Planted(session, frozenset({target.id}))


def _effect(clean: Clean, rng: Random) -> Planted | None:
    """The return holds a processor whose name says nothing, and neither does the return's own."""
    target = pick(rng, gathering(clean))
    if target is None:
        return None
    session = changed(clean.session, target, name="Wednesday", inserts=(Insert(name="Pfefferkuchen"),))
    return Planted(session, frozenset({target.id}))


def _tap(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, parts(clean, sent=True))
    if target is None:
        return None
    number = rng.choice(effect_sends(clean, target))
    return Planted(with_send(clean.session, target, number, tap=WHY), frozenset({target.id}))


def _still(clean: Clean) -> list[Channel]:
    """Parts whose automation does not say where their fader goes."""
    return [c for c in parts(clean) if not any(str(lane.target) == "fader" for lane in c.automation)]


def _vca(clean: Clean, rng: Random) -> Planted | None:
    """A VCA that is down, in an export that does not tell what it moves."""
    down = rng.choice(({"mute": True}, {"fader_db": -200.0}))
    vca = Channel.model_validate({"id": "vca-down", "name": "Band Fader", "kind": "vca", "output": None, **down})
    return Planted(with_channels(clean.session, vca), frozenset({vca.id}))


def _name(clean: Clean, rng: Random) -> Planted | None:
    target = pick(rng, [c for c in parts(clean, lone=True) if c.parent is None])
    if target is None:
        return None
    return Planted(
        changed(clean.session, target, name=rng.choice(("Gribble", "Zaza", "Moth"))), frozenset({target.id, "session"})
    )


def _settings_file(clean: Clean, rng: Random) -> Planted | None:
    """A plug-in whose file of settings lies outside the session's folder, where nobody looks for it."""
    target = pick(rng, parts(clean, lone=True))
    if target is None:
        return None
    away = Insert(name="Tape Saturator", saved=SavedSettings(path="/presets/tape.vstpreset", place="outside"))
    return Planted(changed(clean.session, target, inserts=(*target.inserts, away)), frozenset({target.id}))


HIDDEN = (
    Hidden("the wet share of an effect", ("return-fully-wet",), _wet),
    Hidden("the settings of a return's filter", ("return-low-cut",), _filter),
    Hidden("what sits on a return", ("return-fully-wet", "return-low-cut"), _effect),
    Hidden("where a send is tapped", ("effect-follows-fader",), _tap),
    Hidden("a solo", ("nothing-soloed",), _channel("solo", parts)),
    Hidden("a mute", ("muted-on-purpose",), _channel("mute", parts)),
    Hidden("a fader", ("fader-has-room",), _channel("fader_db", _still)),
    Hidden("an output", ("reaches-mix-bus",), _channel("output", parts)),
    Hidden("the pan of one of a pair", ("pan-answered",), _channel("pan", lambda c: [x for p in pairs(c) for x in p])),
    Hidden("the fader of the mix bus", ("mix-fader-at-unity",), _channel("fader_db", lambda c: [mix_bus(c.session)])),
    Hidden("the pan of the mix bus", ("mix-bus-open",), _channel("pan", lambda c: [mix_bus(c.session)])),
    Hidden("what a part is, by its name", ("part-told",), _name),
    Hidden("what a VCA moves", ("vca-stands-open",), _vca),
    Hidden("whether a file is there", ("media-present",), _media("present")),
    Hidden("whether the settings of a plug-in are there", ("saved-settings-present",), _settings_file),
    Hidden("a file's sample rate", ("one-sample-rate",), _media("sample_rate_hz")),
    Hidden("a file's length", ("clip-inside-its-file",), _media("duration_s")),
)
