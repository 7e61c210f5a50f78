"""The table ``lane``: every automation lane of every channel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mixlint.analysis.activity import has_arrangement, stretch_text
from mixlint.analysis.audibility import is_aside, sounds
from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.lane.lanes import (
    KINDS,
    Aim,
    Jump,
    aim,
    content_after_s,
    drawn_s,
    largest_jump,
    last_move_s,
    median_db,
)
from mixlint.session import FADER, Automation, Channel, Unknown, control_of, is_known
from mixlint.session.control import moves, shown_values
from mixlint.units import clock_text

LEVELS = ("fader", "send-level")


@dataclass(frozen=True, slots=True)
class LaneOf:
    """One lane with the channel it is on and what it moves."""

    channel: Channel
    lane: Automation
    aim: Aim


def _rows(context: SessionContext) -> Iterator[tuple[Subject, LaneOf]]:
    for channel in context.session.channels:
        for lane in channel.automation:
            if not lane.t:
                continue
            found = aim(context, channel, lane)
            name = f"{context.name(channel.id)}: {found.text}"
            where = lane.where or channel.where
            order = context.order[channel.id]
            subject = Subject("lane", f"{channel.id}:{lane.target}", name, where, order, (channel.id,))
            yield subject, LaneOf(channel, lane, found)


LANE: Table[LaneOf] = Table("lane", "Every automation lane of every channel.", _rows)


@LANE.fact("text", "The channel and what the lane moves.")
def name(row: Row[LaneOf]) -> str:
    return row.subject.name


@LANE.fact("text", "The channel it is on.")
def on_channel(row: Row[LaneOf]) -> str:
    return row.context.name(row.item.channel.id)


@LANE.fact("word", "What kind of control it moves.", words=KINDS)
def kind(row: Row[LaneOf]) -> str:
    return row.item.aim.kind


@LANE.fact("text", "The control it moves.")
def control(row: Row[LaneOf]) -> str:
    return row.item.aim.text


@LANE.fact("switch", "The control it moves is there, and its processor was loaded.")
def control_there(row: Row[LaneOf]) -> FactValue:
    item = row.item
    return FactValue(not item.aim.missing, "declared", row.subject.where, item.aim.missing)


@LANE.fact("text", "Why the control is not there.")
def control_how(row: Row[LaneOf]) -> str:
    return row.item.aim.missing or "it is there"


@LANE.fact("switch", "Its values differ.")
def rides(row: Row[LaneOf]) -> bool:
    item = row.item
    return moves(item.lane)


@LANE.fact("number", "How many points it has.")
def points(row: Row[LaneOf]) -> int:
    return len(row.item.lane.t)


@LANE.fact("switch", "Its channel is not part of the song: a cue mix, click, guide, reference or utility channel.")
def aside(row: Row[LaneOf]) -> bool:
    return is_aside(row.context, row.item.channel)


@LANE.fact("switch", "Its channel sounds at the mix bus, mute automation aside.", how="derived")
def audible(row: Row[LaneOf]) -> bool | Unknown:
    return sounds(row.context, row.item.channel)


def _level(row: Row[LaneOf]) -> Unknown | None:
    """The reason why a lane has no level in dB, or None when it has one."""
    item = row.item
    if item.aim.kind in LEVELS and item.lane.scale in ("dB", "amplitude"):
        return None
    if item.aim.kind in LEVELS:
        return Unknown(unknown="the unit of its values cannot be read", settle="look at the lane")
    return Unknown(unknown="it moves no level")


def _values(row: Row[LaneOf], *times: float) -> list[float]:
    import numpy as np

    return [float(value) for value in shown_values(row.item.lane, np.asarray(times))]


@LANE.fact("number", "The level it ends at.", unit="dB", how="derived")
def ends_at_db(row: Row[LaneOf]) -> FactValue | Unknown:
    item = row.item
    return _level(row) or FactValue(_values(row, item.lane.t[-1])[0], "derived", clock_text(last_move_s(item.lane)))


@LANE.fact("number", "How far it ends over the level that it keeps half of the time.", unit="dB", how="derived")
def ends_over_db(row: Row[LaneOf]) -> FactValue | float | Unknown:
    item = row.item
    why = _level(row)
    if why is not None:
        return why
    usual = median_db(row.context, item.channel, item.lane)
    if usual is None:
        return Unknown(unknown="nothing plays on its channel")
    return _values(row, item.lane.t[-1])[0] - usual


@LANE.fact("switch", "It ends with the mute on.")
def ends_muted(row: Row[LaneOf]) -> bool | Unknown:
    item = row.item
    return item.lane.v[-1] >= 0.5 if item.aim.kind == "mute" else Unknown(unknown="it moves no mute")


@LANE.fact("number", "Where it makes its last move.", unit="s")
def last_move(row: Row[LaneOf]) -> float:
    item = row.item
    return last_move_s(item.lane)


@LANE.fact("text", "Where it makes its last move, for a reader.", how="derived")
def last_move_at(row: Row[LaneOf]) -> str:
    at = last_move_s(row.item.lane)
    return stretch_text(row.context, at, at).partition(" to ")[0]


@LANE.fact("number", "How long its last move takes; 0 for a step.", unit="s", how="derived")
def last_move_takes_s(row: Row[LaneOf]) -> float:
    item = row.item
    return drawn_s(item.lane)


@LANE.fact("number", "For how long clips sound through its channel after its last move.", unit="s", how="derived")
def content_after(row: Row[LaneOf]) -> FactValue | Unknown:
    item = row.item
    if not has_arrangement(row.context):
        return Unknown(unknown="the export holds no clips, so that nothing says when the channel plays")
    return FactValue(content_after_s(row.context, item.channel, last_move_s(item.lane)), "derived", row.subject.where)


def _jump(row: Row[LaneOf]) -> Jump | Unknown | None:
    item = row.item
    why = _level(row)
    if why is not None:
        return why
    if not has_arrangement(row.context):
        return Unknown(unknown="the export holds no clips, so that nothing says when the channel plays")
    return largest_jump(row.context, item.channel, item.lane)


@LANE.fact("number", "Its largest step while its channel sounds.", unit="dB", how="derived")
def step_db(row: Row[LaneOf]) -> FactValue | Unknown:
    jump = _jump(row)
    if isinstance(jump, Unknown):
        return jump
    if jump is None:
        return FactValue(0.0, "derived", row.subject.where)
    return FactValue(jump.db, "derived", row.subject.where, f"at {clock_text(jump.at_s)}")


@LANE.fact("text", "Where that step is.", how="derived")
def step_at(row: Row[LaneOf]) -> str | Unknown:
    jump = _jump(row)
    if isinstance(jump, Unknown):
        return jump
    return stretch_text(row.context, jump.at_s, jump.at_s).partition(" to ")[0] if jump else "nowhere"


def _static(row: Row[LaneOf]) -> float | Unknown:
    """Where the control itself stands, automation aside, dB."""
    return control_of(row.item.channel, row.item.lane.target).static


@LANE.fact("number", "Where the control stands with its automation switched off.", unit="dB")
def static_db(row: Row[LaneOf]) -> float | Unknown:
    return _level(row) or _static(row)


@LANE.fact("number", "How far the control stands from all that its automation passes.", unit="dB", how="derived")
def static_off_db(row: Row[LaneOf]) -> float | Unknown:
    item = row.item
    why = _level(row)
    if why is not None:
        return why
    stands = _static(row)
    if not is_known(stands):
        return stands
    passed = _values(row, *item.lane.t)
    return max(0.0, min(passed) - stands, stands - max(passed))


@LANE.fact("switch", "Half of the tracks or more have an automated fader.", how="derived")
def mix_is_automated(row: Row[LaneOf]) -> bool:
    return _mix_is_automated(row.context)


@per_session
def _mix_is_automated(context: SessionContext) -> bool:
    tracks = [c for c in context.session.channels if c.kind == "track" and c.clips]
    ridden = sum(control_of(c, FADER).moves for c in tracks)
    return ridden * 2 >= len(tracks) and len(tracks) > 2
