"""What a lane left somewhere before it is drawn into the end of the song, and effects that narrow a part.

A filter or a fade that is drawn into the last seconds is an ending, and hides what the control had been left at before:
a filter that was shut for the break and never opened again, a send that stayed up. The lane without its ending tells.
"""

from __future__ import annotations

from math import log2
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.analysis.tone import TELEPHONE, narrows
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ENDING, ChannelLane, content_after_s, last_move_s, without_ending
from mixlint.facts.lane.settling import (
    LEAST_STAY,
    LOWEST_HZ,
    UNITS_OF_CLASS,
    ControlClass,
    control_class,
    settling,
)
from mixlint.naming.setting_reading import says
from mixlint.session import Automation, Channel, Unknown
from mixlint.session.control import is_readable, moves
from mixlint.units import number_text

FACTS: Facts[ChannelLane] = Facts()

LEFT_FOR: Final = Setting(
    "endings.left_for", 20.0, "s", "A control that stands off for so long before its ending was left there.", lowest=1.0
)
LEFT_OCTAVES: Final = Setting("endings.octaves", 1.0, "", "So many octaves off a filter was left.", lowest=0.2)
LEFT_PAN: Final = Setting("endings.pan", 20.0, "pan distance", "So far off a pan was left.", lowest=1.0)
LEFT_WET: Final = Setting("endings.wet", 20.0, "%", "So far off a wet share was left.", lowest=1.0, highest=100.0)
LEFT_DB: Final = Setting("endings.db", 4.0, "dB", "So far off a gain or a send was left.", lowest=0.5)
LEFT_SETTINGS: Final = (ENDING, LEFT_FOR, LEFT_OCTAVES, LEFT_PAN, LEFT_WET, LEFT_DB, LEAST_STAY)

OPEN_HZ: Final = 8000.0
FULL_HZ: Final = 200.0
"""A high cut above the one and a low cut under the other take nothing that is missed: no settings, as the limits of the
rule on processing that comes back."""


class Left(NamedTuple):
    """Where a control was left before its ending: where, what it had kept before, since when, for how long it plays."""

    value: float
    kept: float
    at_s: float
    plays_s: float


@per_session
def left_before_ending(context: SessionContext, channel: Channel, lane: Automation) -> Left | None:
    """Where a control was left before it is drawn into the end; None where it was not, or nothing is drawn."""
    kind = control_class(channel, lane.target)
    if kind not in _LEFT or not is_readable(lane) or not moves(lane):
        return None
    body = without_ending(context, channel, lane)
    if body is None or not moves(body):
        return None
    found, whole = settling(context, channel, body), settling(context, channel, lane)
    if isinstance(found, Unknown) or isinstance(whole, Unknown) or not found.kept:
        return None
    since = last_move_s(body)
    kept = [stay.value for stay in found.kept]
    nearest = min(kept, key=lambda value: abs(_place(kind, value) - _place(kind, found.ends)))
    off = _is_off(context, kind, found.ends, nearest) and _is_off(context, kind, whole.ends, nearest)
    plays = content_after_s(context, channel, since)
    stands = plays - content_after_s(context, channel, body.t[-1])
    if not off or plays < context.setting(LEFT_FOR) or stands < context.setting(LEAST_STAY):
        return None
    return Left(found.ends, nearest, since, plays)


_LEFT: Final = ("low-cut", "high-cut", "pan", "wet", "gain", "equalizer-gain", "send-level")


def _place(kind: ControlClass, value: float) -> float:
    return log2(max(value, LOWEST_HZ)) if kind in ("low-cut", "high-cut") else value


def _is_off(context: SessionContext, kind: ControlClass, value: float, kept: float) -> bool:
    """True where a value lies far from what was kept, to the side on which it is heard."""
    if kind in ("low-cut", "high-cut"):
        if (value > OPEN_HZ or value > kept) if kind == "high-cut" else (value < FULL_HZ or value < kept):
            return False
        return abs(_place(kind, value) - _place(kind, kept)) >= context.setting(LEFT_OCTAVES)
    far = {"pan": LEFT_PAN, "wet": LEFT_WET}.get(kind, LEFT_DB)
    return abs(value - kept) >= context.setting(far)


@FACTS.fact(
    "number",
    "For how long its channel plays on from where it was left before it is drawn into the end; 0 where it came back.",
    unit="s",
    how="derived",
    settings=LEFT_SETTINGS,
)
def left_for_s(row: Row[ChannelLane]) -> FactValue:
    found = left_before_ending(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    unit = UNITS_OF_CLASS.get(control_class(row.item.channel, row.item.lane.target), "")
    where = moment_text(row.context, found.at_s)
    what = f"goes from {number_text(found.kept, unit)} to {number_text(found.value, unit)} at {where}"
    return FactValue(found.plays_s, "derived", where, what)


@FACTS.fact(
    "switch",
    "It turns on an effect that narrows a part to a telephone or a small speaker.",
    how="derived",
    settings=TELEPHONE,
)
def turns_narrow(row: Row[ChannelLane]) -> bool:
    item, place = row.item, row.item.lane.target.place
    if control_class(item.channel, item.lane.target) not in ("processor-switch", "wet"):
        return False
    if place is None or place >= len(item.channel.inserts):
        return False
    insert = item.channel.inserts[place]
    return says(insert.name, "narrowed", row.context.house.vocabulary) or narrows(row.context, insert)
