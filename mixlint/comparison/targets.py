"""Lanes of automation in two revisions: which is which, and what each moves, for a reader and for a hash.

The positions of sends and inserts say nothing from one revision to the next; what stands there does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Final, Literal, TypeAlias

from mixlint.session import FADER, MUTE, PAN, Automation, Channel, Send, Target, control_of, is_known, seen_inserts
from mixlint.session.control import with_controls

Places: TypeAlias = list[tuple[int | None, int | None]]
"""Which send or insert is which: positions then and now; None where it was added or removed."""

Lanes: TypeAlias = dict[Target, Automation]
"""Target to lane."""

ATTRIBUTES: Final = {FADER: "fader_db", PAN: "pan", MUTE: "mute"}
"""The controls of the strip itself: target to the channel's attribute."""

SEND_ATTRIBUTES: Final[dict[Literal["level", "pan"], str]] = {"level": "level_db", "pan": "pan"}
"""The controls of a send that are more than on or off: word to the send's attribute."""


def lanes(channel: Channel) -> Lanes:
    """The lanes of a channel that have a point, by target."""
    return {lane.target: lane for lane in channel.automation if lane.t}


def automated_controls(lanes: Lanes) -> frozenset[str]:
    """The attributes of a channel that are automated."""
    return frozenset(name for target, name in ATTRIBUTES.items() if target in lanes)


def automated_send_controls(lanes: Lanes, number: int) -> frozenset[str]:
    """The attributes of the send at position ``number`` that are automated, its switch aside."""
    return frozenset(name for word, name in SEND_ATTRIBUTES.items() if Target.send(number, word) in lanes)


def send_automation(channel: Channel, number: int) -> Lanes:
    """The lanes of the send at position ``number``, by what they move on it, wherever it stands."""
    found = ((lane.target, lane) for lane in channel.automation if lane.t)
    return {replace(target, place=0): lane for target, lane in found if target.of_send and target.place == number}


def paired_lanes(
    was: Channel, now: Channel, sends: Places, inserts: Places
) -> Iterator[tuple[Target, Automation | None, Automation | None]]:
    """Which lane is which: fader, pan and mute first, then as they stand in the older and in the newer revision.

    Args:
        was, now: the channel in the older and in the newer revision.
        sends, inserts: which of its sends and inserts is which.

    Yields:
        The target as it is now, the lane then and the lane now; None where it was added or removed. Lanes of sends
        and inserts that are gone are left out, since these are told as gone.
    """
    old, new = lanes(was), lanes(now)
    of_sends, of_inserts = dict(sends), dict(inserts)
    older: Lanes = {}
    for target, lane in old.items():
        newer = _newer(target, of_sends if target.of_send else of_inserts)
        if newer is not None:
            older.setdefault(newer, lane)
    for target in dict.fromkeys((*ATTRIBUTES, *older, *new)):
        if target in older or target in new:
            yield target, older.get(target), new.get(target)


def _newer(target: Target, places: dict[int | None, int | None]) -> Target | None:
    """An older target as it is called now, or None where what it moves is gone."""
    if target.place is None or target.place not in places:
        return target
    place = places[target.place]
    return None if place is None else replace(target, place=place)


def static_value(channel: Channel, target: Target) -> float | None:
    """What a control stands at when nothing moves it; None where that is not known."""
    value = control_of(channel, target).static
    return value if is_known(value) else None


def without_automated(was: Channel, now: Channel, sends: Places, inserts: Places) -> Channel:
    """The older channel, where both are automated with what the newer one stores: of these their lanes tell.

    Args:
        was, now: the channel in the older and in the newer revision.
        sends, inserts: which of its sends and inserts is which.
    """
    if not was.automation or not now.automation:
        return was
    new = lanes(now)
    of_sends, of_inserts = dict(sends), dict(inserts)
    newer = {target: _newer(target, of_sends if target.of_send else of_inserts) for target in lanes(was)}
    both = {older: target for older, target in newer.items() if target is not None and target in new}
    return with_controls(was, {older: control_of(now, target).static for older, target in both.items()})


def target_text(target: Target, channel: Channel) -> str:
    """What a lane moves, for a reader: ``the fader``, ``send 2 (level)``, ``Plate (wet)``."""
    if target.place is None:
        return str(target) if ":" in target.name else f"the {target}"
    if target.of_insert and target.place < len(seen_inserts(channel)):
        return f"{seen_inserts(channel)[target.place].name} ({target.spoken})"
    return f"{'send' if target.of_send else 'insert'} {target.place + 1} ({target.word})"


def hashed_target(target: Target, channel: Channel, leads_to: Callable[[Send], str]) -> str:
    """What a lane moves, for the hash of a mix: a send by where it leads, since the order of sends says nothing.

    Args:
        target: the target.
        channel: the channel the lane is on.
        leads_to: the name of what a send leads to, as the hash takes it.
    """
    if target.of_send and target.place is not None and target.place < len(channel.sends):
        return f"send to {leads_to(channel.sends[target.place])} {target.word}"
    return str(target)
