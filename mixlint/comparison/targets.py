"""What a lane of automation moves, as text in the session: the only place of the comparison that takes it apart.

A target is ``fader``, ``pan`` or ``mute``, or ``send:N:…`` or ``insert:N:…`` with the position of the send or insert
on its channel. Positions say nothing from one revision to the next; what stands there does.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, TypeAlias

from mixlint.session import Automation, Channel, Send, is_known

Places: TypeAlias = list[tuple[int | None, int | None]]
"""Which send or insert is which: positions then and now; None where it was added or removed."""

Lanes: TypeAlias = dict[str, Automation]
"""Target to lane."""

ATTRIBUTES: Final = {"fader": "fader_db", "pan": "pan", "mute": "mute"}
"""The controls of the strip itself: target to the channel's attribute."""


def lanes(channel: Channel) -> Lanes:
    """The lanes of a channel that have a point, by target."""
    return {lane.target: lane for lane in channel.automation if lane.t}


def automated_controls(*revisions: Lanes) -> frozenset[str]:
    """The attributes of a channel that are automated in all of these revisions of it."""
    return frozenset(name for target, name in ATTRIBUTES.items() if all(target in one for one in revisions))


def send_level_automated(lanes: Lanes, number: int) -> bool:
    """True when the level of the send at position ``number`` has a lane."""
    return f"send:{number}:level" in lanes


def send_automation(channel: Channel, number: int) -> Lanes:
    """The lanes of the send at position ``number``, by what they move on it: ``level``, ``pan`` or ``on``."""
    head = f"send:{number}:"
    found = {lane.target: lane for lane in channel.automation if lane.t and lane.target.startswith(head)}
    return {target.removeprefix(head): lane for target, lane in found.items()}


def paired_lanes(
    was: Channel, now: Channel, sends: Places, inserts: Places
) -> Iterator[tuple[str, Automation | None, Automation | None]]:
    """Which lane is which: fader, pan and mute first, then as they stand in the older and in the newer revision.

    Args:
        was, now: the channel in the older and in the newer revision.
        sends, inserts: which of its sends and inserts is which.

    Yields:
        The target as it is now, the lane then and the lane now; None where it was added or removed. Lanes of sends
        and inserts that are gone are left out, since these are told as gone.
    """
    old, new = lanes(was), lanes(now)
    newer_names = {**_newer_names("send", sends), **_newer_names("insert", inserts)}
    older: Lanes = {}
    for target, lane in old.items():
        newer = _newer(target, newer_names)
        if newer is not None:
            older.setdefault(newer, lane)
    for target in dict.fromkeys((*ATTRIBUTES, *older, *new)):
        if target in older or target in new:
            yield target, older.get(target), new.get(target)


def _newer_names(what: str, places: Places) -> dict[str, str | None]:
    """``send:0`` then to ``send:2`` now, or to None where it is gone."""
    return {f"{what}:{m}": None if n is None else f"{what}:{n}" for m, n in places if m is not None}


def _newer(target: str, newer_names: dict[str, str | None]) -> str | None:
    """An older target as it is called now, or None where what it moves is gone."""
    numbered = ":".join(target.split(":")[:2])
    newer = newer_names.get(numbered, numbered)
    return None if newer is None else target.replace(numbered, newer, 1)


def static_value(channel: Channel, target: str) -> float | None:
    """What a control of the strip stands at when nothing moves it; None for others, or where it is not known."""
    value = getattr(channel, ATTRIBUTES[target]) if target in ATTRIBUTES else None
    return float(value) if value is not None and is_known(value) else None


def target_text(target: str, channel: Channel) -> str:
    """What a lane moves, for a reader: ``the fader``, ``send 2 (level)``, ``Plate (wet)``."""
    what, *rest = target.split(":")
    if not rest:
        return f"the {target}"
    inserts = channel.inserts
    if what == "insert" and rest[0].isdigit() and int(rest[0]) < len(inserts):
        return f"{inserts[int(rest[0])].name} ({':'.join(rest[1:])})"
    return f"send {int(rest[0]) + 1} ({rest[1]})" if rest[0].isdigit() and len(rest) > 1 else target


def hashed_target(target: str, channel: Channel, leads_to: Callable[[Send], str]) -> str:
    """What a lane moves, for the hash of a mix: a send by where it leads, since the order of sends says nothing.

    Args:
        target: the target.
        channel: the channel the lane is on.
        leads_to: the name of what a send leads to, as the hash takes it.
    """
    what, *rest = target.split(":")
    if what == "send" and len(rest) > 1 and rest[0].isdigit() and int(rest[0]) < len(channel.sends):
        return f"send to {leads_to(channel.sends[int(rest[0])])} {rest[1]}"
    return target
