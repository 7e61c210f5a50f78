"""The table ``lane``: every automation lane of every channel."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mixlint.facts.declare import Answer, Row, Subject, Table
from mixlint.routing.wiring import moves
from mixlint.session import Automation, Channel, Unknown, is_known
from mixlint.study.activity import has_arrangement, stretch_text
from mixlint.study.curves import shown
from mixlint.study.desk import Desk
from mixlint.study.lanes import (
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
from mixlint.study.parts import is_aside, sounds
from mixlint.units import clock_text

LEVELS = ("fader", "send-level")


@dataclass(frozen=True, slots=True)
class LaneOf:
    """One lane with the channel it is on and what it moves."""

    channel: Channel
    lane: Automation
    aim: Aim


def _rows(desk: Desk) -> Iterator[Row]:
    for channel in desk.session.channels:
        for lane in channel.automation:
            if not lane.t:
                continue
            found = aim(desk, channel, lane)
            name = f"{desk.name(channel.id)}: {found.text}"
            where = lane.where or channel.where
            order = desk.order[channel.id]
            subject = Subject("lane", f"{channel.id}:{lane.target}", name, where, order, (channel.id,))
            yield Row(desk, subject, LaneOf(channel, lane, found))


LANE: Table[Row] = Table("lane", "Every automation lane of every channel.", _rows)


@LANE.fact("text", "The channel and what the lane moves.")
def name(row: Row) -> str:
    return row.subject.name


@LANE.fact("text", "The channel it is on.")
def on_channel(row: Row) -> str:
    return row.desk.name(row.item.channel.id)


@LANE.fact("word", "What kind of control it moves.", words=KINDS)
def kind(row: Row) -> str:
    return row.item.aim.kind  # type: ignore[no-any-return]


@LANE.fact("text", "The control it moves.")
def control(row: Row) -> str:
    return row.item.aim.text  # type: ignore[no-any-return]


@LANE.fact("switch", "The control it moves is there, and its processor was loaded.")
def control_there(row: Row) -> Answer:
    item: LaneOf = row.item
    return Answer(not item.aim.missing, "declared", row.subject.where, item.aim.missing)


@LANE.fact("text", "Why the control is not there.")
def control_how(row: Row) -> str:
    return row.item.aim.missing or "it is there"


@LANE.fact("switch", "Its values differ.")
def rides(row: Row) -> bool:
    item: LaneOf = row.item
    return moves(item.lane)


@LANE.fact("number", "How many points it has.")
def points(row: Row) -> int:
    return len(row.item.lane.t)


@LANE.fact("switch", "Its channel is not part of the song: a cue mix, click, guide, reference or utility channel.")
def aside(row: Row) -> bool:
    return is_aside(row.desk, row.item.channel)


@LANE.fact("switch", "Its channel sounds at the mix bus, mute automation aside.", how="derived")
def audible(row: Row) -> bool | Unknown:
    return sounds(row.desk, row.item.channel)


def _level(row: Row) -> Unknown | None:
    """The reason why a lane has no level in dB, or None when it has one."""
    item: LaneOf = row.item
    if item.aim.kind in LEVELS and item.lane.scale in ("dB", "amplitude"):
        return None
    if item.aim.kind in LEVELS:
        return Unknown(unknown="the unit of its values cannot be read", settle="look at the lane")
    return Unknown(unknown="it moves no level")


def _values(row: Row, *times: float) -> list[float]:
    import numpy as np

    return [float(value) for value in shown(row.item.lane, np.asarray(times))]


@LANE.fact("number", "The level it ends at.", unit="dB", how="derived")
def ends_at_db(row: Row) -> Answer | Unknown:
    item: LaneOf = row.item
    return _level(row) or Answer(_values(row, item.lane.t[-1])[0], "derived", clock_text(last_move_s(item.lane)))


@LANE.fact("number", "How far it ends over the level that it keeps half of the time.", unit="dB", how="derived")
def ends_over_db(row: Row) -> Answer | float | Unknown:
    item: LaneOf = row.item
    why = _level(row)
    if why is not None:
        return why
    usual = median_db(row.desk, item.channel, item.lane)
    if usual is None:
        return Unknown(unknown="nothing plays on its channel")
    return _values(row, item.lane.t[-1])[0] - usual


@LANE.fact("switch", "It ends with the mute on.")
def ends_muted(row: Row) -> bool | Unknown:
    item: LaneOf = row.item
    return item.lane.v[-1] >= 0.5 if item.aim.kind == "mute" else Unknown(unknown="it moves no mute")


@LANE.fact("number", "Where it makes its last move.", unit="s")
def last_move(row: Row) -> float:
    item: LaneOf = row.item
    return last_move_s(item.lane)


@LANE.fact("text", "Where it makes its last move, for a reader.", how="derived")
def last_move_at(row: Row) -> str:
    at = last_move_s(row.item.lane)
    return stretch_text(row.desk, at, at).partition(" to ")[0]


@LANE.fact("number", "How long its last move takes; 0 for a step.", unit="s", how="derived")
def last_move_takes_s(row: Row) -> float:
    item: LaneOf = row.item
    return drawn_s(item.lane)


@LANE.fact("number", "For how long clips sound through its channel after its last move.", unit="s", how="derived")
def content_after(row: Row) -> Answer | Unknown:
    item: LaneOf = row.item
    if not has_arrangement(row.desk):
        return Unknown(unknown="the export holds no clips, so that nothing says when the channel plays")
    return Answer(content_after_s(row.desk, item.channel, last_move_s(item.lane)), "derived", row.subject.where)


def _jump(row: Row) -> Jump | Unknown | None:
    item: LaneOf = row.item
    why = _level(row)
    if why is not None:
        return why
    if not has_arrangement(row.desk):
        return Unknown(unknown="the export holds no clips, so that nothing says when the channel plays")
    key = f"jump {row.subject.id}"
    return row.desk.remembered(key, lambda: largest_jump(row.desk, item.channel, item.lane))


@LANE.fact("number", "Its largest step while its channel sounds.", unit="dB", how="derived")
def step_db(row: Row) -> Answer | Unknown:
    jump = _jump(row)
    if isinstance(jump, Unknown):
        return jump
    if jump is None:
        return Answer(0.0, "derived", row.subject.where)
    return Answer(jump.db, "derived", row.subject.where, f"at {clock_text(jump.at_s)}")


@LANE.fact("text", "Where that step is.", how="derived")
def step_at(row: Row) -> str | Unknown:
    jump = _jump(row)
    if isinstance(jump, Unknown):
        return jump
    return stretch_text(row.desk, jump.at_s, jump.at_s).partition(" to ")[0] if jump else "nowhere"


def _static(row: Row) -> float | Unknown:
    """Where the control itself stands, automation aside, dB."""
    item: LaneOf = row.item
    if item.aim.kind == "fader":
        return item.channel.fader_db
    number = int(item.lane.target.split(":")[1])
    if number >= len(item.channel.sends):
        return Unknown(unknown="there is no such send")
    return item.channel.sends[number].level_db


@LANE.fact("number", "Where the control stands with its automation switched off.", unit="dB")
def static_db(row: Row) -> float | Unknown:
    return _level(row) or _static(row)


@LANE.fact("number", "How far the control stands from all that its automation passes.", unit="dB", how="derived")
def static_off_db(row: Row) -> float | Unknown:
    item: LaneOf = row.item
    why = _level(row)
    if why is not None:
        return why
    stands = _static(row)
    if not is_known(stands):
        return stands
    passed = _values(row, *item.lane.t)
    return max(0.0, min(passed) - stands, stands - max(passed))


@LANE.fact("switch", "Half of the tracks or more have an automated fader.", how="derived")
def mix_is_automated(row: Row) -> bool:
    def make() -> bool:
        tracks = [c for c in row.desk.session.channels if c.kind == "track" and c.clips]
        ridden = sum(any(a.target == "fader" and moves(a) for a in c.automation) for c in tracks)
        return ridden * 2 >= len(tracks) and len(tracks) > 2

    return row.desk.remembered("the mix is automated", make)
