"""The table ``lane``: every automation lane of every channel."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.activity import has_arrangement, moment_text, span_text
from mixlint.analysis.audibility import audibility, is_audible
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.groups import vca_members
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.lane import (
    beds,
    borders,
    by_section,
    endings,
    fade_outs,
    lane_twins,
    mute_lengths,
    of_neighbour,
    openings,
    rests,
    settling,
    slides,
    solo_lifts,
    stuck_dips,
    throws,
    towers,
    turns,
)
from mixlint.facts.lane.lanes import (
    KINDS,
    SILENT,
    STEP_SETTINGS,
    ChannelLane,
    content_after_s,
    lane_control,
    largest_level_step,
    last_move_length_s,
    last_move_s,
)
from mixlint.facts.lane.rides import (
    CLOSED,
    DUCK_SETTINGS,
    EXCURSION_SETTINGS,
    RIDE_SETTINGS,
    SUNK_SETTINGS,
    Excursion,
    ducking,
    excursions,
    readings,
    stuck_ride,
    sunk_stretch,
)
from mixlint.facts.shared import UNREAD, UTILITY
from mixlint.naming import ROLES, plays_solo
from mixlint.session import FADER, MUTE, Channel, NotKnown, Unknown, control_of
from mixlint.session.control import ON, moves, shown_values
from mixlint.units import clock_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, ChannelLane]]:
    for channel in context.session.channels:
        for lane in channel.automation:
            if not lane.t:
                continue
            found = lane_control(context, channel, lane)
            name = f"{context.name(channel.id)}: {found.text}"
            where = lane.where or channel.where
            order = context.order[channel.id]
            subject = Subject("lane", f"{channel.id}:{lane.target}", name, where, order, (channel.id,))
            yield subject, ChannelLane(channel, lane, found)


LANE: Table[ChannelLane] = Table(
    "lane",
    "Every automation lane of every channel.",
    _rows,
    (
        settling.FACTS,
        throws.FACTS,
        slides.FACTS,
        by_section.FACTS,
        borders.FACTS,
        stuck_dips.FACTS,
        endings.FACTS,
        fade_outs.FACTS,
        turns.FACTS,
        openings.FACTS,
        rests.FACTS,
        solo_lifts.FACTS,
        of_neighbour.FACTS,
        mute_lengths.FACTS,
        lane_twins.FACTS,
        beds.FACTS,
        towers.FACTS,
    ),
)


@LANE.fact("text", "The channel and what the lane moves.")
def name(row: Row[ChannelLane]) -> str:
    return row.subject.name


@LANE.fact("text", "The channel it is on.")
def on_channel(row: Row[ChannelLane]) -> str:
    return row.context.name(row.item.channel.id)


@LANE.fact("word", "What kind of strip that is.", words=("track", "group", "return", "master", "vca"))
def on_kind(row: Row[ChannelLane]) -> str | Unknown:
    return row.item.channel.kind


@LANE.fact("word", "What kind of control it moves.", words=KINDS)
def kind(row: Row[ChannelLane]) -> str:
    return row.item.control.kind


@LANE.fact("text", "The control it moves.")
def control(row: Row[ChannelLane]) -> str:
    return row.item.control.text


@LANE.fact("switch", "The control it moves is there, and its processor was loaded.", once="control_there")
def control_found(row: Row[ChannelLane]) -> FactValue:
    item = row.item
    return FactValue(not item.control.missing, "declared", row.subject.where, item.control.missing)


LANE.echo("control_how", "control_found.note")


@LANE.fact("switch", "Its values differ.", once="rides")
def moving(row: Row[ChannelLane]) -> bool:
    item = row.item
    return moves(item.lane)


@LANE.fact("number", "How many points it has.")
def points(row: Row[ChannelLane]) -> int:
    return len(row.item.lane.t)


@LANE.fact("switch", UTILITY, once="aside")
def utility(row: Row[ChannelLane]) -> bool:
    return all(is_utility(row.context, one) for one in _moved(row) or (row.item.channel,))


def _moved(row: Row[ChannelLane]) -> tuple[Channel, ...]:
    """The members of a VCA, as far as the export shows them, which is heard by what it moves; nothing of others."""
    channel = row.item.channel
    return vca_members(row.context, channel) if channel.kind == "vca" else ()


@LANE.fact("switch", "Its channel sounds at the mix bus, mute automation aside.", how="derived", settings=GAP_SETTINGS)
def audible(row: Row[ChannelLane]) -> bool | Unknown:
    found = audibility(row.context, row.item.channel)
    if row.item.channel.kind == "vca" and any(is_audible(row.context, one) for one in _moved(row)):
        return True
    return found


def _levels(row: Row[ChannelLane], *times: float) -> list[float]:
    """The levels of a fader or send lane at some times, dB.

    Raises:
        NotKnown: it moves no level, or its unit cannot be read.
    """
    import numpy as np

    item = row.item
    if not item.lane.target.is_level:
        raise NotKnown(Unknown(unknown="it moves no level"))
    if item.lane.scale not in ("dB", "amplitude"):
        raise NotKnown(Unknown(unknown="the unit of its values cannot be read", settle="look at the lane"))
    return [float(value) for value in shown_values(item.lane, np.asarray(times))]


@LANE.fact("number", "The level it ends at.", unit="dB", how="derived")
def ends_at_db(row: Row[ChannelLane]) -> FactValue:
    lane = row.item.lane
    return FactValue(_levels(row, lane.t[-1])[0], "derived", clock_text(last_move_s(lane)))


@LANE.fact("switch", "It ends with the mute on.")
def ends_muted(row: Row[ChannelLane]) -> bool | Unknown:
    item = row.item
    return item.lane.v[-1] >= ON if item.lane.target == MUTE else Unknown(unknown="it moves no mute")


@LANE.fact("number", "Where it makes its last move.", unit="s")
def last_move(row: Row[ChannelLane]) -> float:
    item = row.item
    return last_move_s(item.lane)


@LANE.fact("text", "Where it makes its last move, for a reader.", how="derived")
def last_move_at(row: Row[ChannelLane]) -> str:
    at = last_move_s(row.item.lane)
    return moment_text(row.context, at)


@LANE.fact("number", "How long its last move takes; 0 for a step.", unit="s", how="derived")
def last_move_takes_s(row: Row[ChannelLane]) -> float:
    item = row.item
    return last_move_length_s(item.lane)


@LANE.fact("number", "For how long clips sound through its channel after its last move.", unit="s", how="derived")
def content_after(row: Row[ChannelLane]) -> float | Unknown:
    if not has_arrangement(row.context):
        return NO_CLIPS
    return content_after_s(row.context, row.item.channel, last_move_s(row.item.lane))


NO_CLIPS: Final = Unknown(unknown="the export holds no clips, so that nothing says when the channel plays")


@LANE.fact("number", "Its largest step while its channel sounds.", unit="dB", how="derived", settings=STEP_SETTINGS)
def step_db(row: Row[ChannelLane]) -> FactValue | Unknown:
    _levels(row)
    if not has_arrangement(row.context):
        return NO_CLIPS
    jump = largest_level_step(row.context, row.item.channel, row.item.lane)
    if jump is None:
        return FactValue(0.0, "derived", row.subject.where, "nowhere")
    at = moment_text(row.context, jump.at_s)
    return FactValue(jump.db, "derived", row.subject.where, at)


LANE.echo("step_at", "step_db.note")


@LANE.fact("number", "Where the control stands with its automation switched off.", unit="dB")
def static_db(row: Row[ChannelLane]) -> float | Unknown:
    _levels(row)
    return control_of(row.item.channel, row.item.lane.target).static


@LANE.fact("number", "How far the control stands from all that its automation passes.", unit="dB", how="derived")
def static_off_db(row: Row[ChannelLane]) -> float:
    passed = _levels(row, *row.item.lane.t)
    static = row.need("static_db").number
    return max(0.0, min(passed) - static, static - max(passed))


MIX_SHARE: Final = Setting(
    "automation.mix_share",
    50.0,
    "%",
    "A mix in which this share of the tracks or more has an automated fader is automated.",
)
LEAST_TRACKS: Final = Setting("automation.least_tracks", 3.0, "", "A mix of fewer tracks is not called automated.")


@LANE.fact(
    "switch",
    "So many of the tracks have an automated fader that the mix as a whole is automated.",
    how="derived",
    settings=(MIX_SHARE, LEAST_TRACKS),
)
def mix_is_automated(row: Row[ChannelLane]) -> bool:
    return _mix_is_automated(row.context)


@per_session
def _mix_is_automated(context: SessionContext) -> bool:
    """The same for the session, whichever lane asks."""
    tracks = [c for c in context.session.channels if c.kind == "track" and c.clips]
    moving = sum(control_of(c, FADER).moves for c in tracks)
    enough = len(tracks) >= context.setting(LEAST_TRACKS)
    return enough and 100.0 * moving >= context.setting(MIX_SHARE) * len(tracks)


# --- rides against the lane's own habit


def _need_fader(row: Row[ChannelLane]) -> None:
    """Go on only for a fader that moves, over clips.

    Raises:
        NotKnown: it moves something else, its unit cannot be read, or the export holds no clips.
    """
    if row.item.lane.target != FADER:
        raise NotKnown(Unknown(unknown="it moves no fader"))
    _levels(row)
    if not has_arrangement(row.context):
        raise NotKnown(NO_CLIPS)


@LANE.fact(
    "number",
    "How far a fader ends outside of where it stood before, for the rest of what plays, either way; "
    "0 where a like part goes with it.",
    unit="dB",
    how="derived",
    settings=RIDE_SETTINGS,
)
def stuck_db(row: Row[ChannelLane]) -> FactValue:
    _need_fader(row)
    found = stuck_ride(row.context, row.item.channel, row.item.lane)
    way = "louder" if found.db > 0.0 else "quieter"
    return FactValue(abs(found.db), "derived", clock_text(found.at_s), way)


@LANE.fact("number", "For how long it plays at that last level.", unit="s", how="derived", settings=RIDE_SETTINGS)
def stuck_for_s(row: Row[ChannelLane]) -> float:
    _need_fader(row)
    return stuck_ride(row.context, row.item.channel, row.item.lane).after_s


@LANE.fact("word", "The part that its channel plays, or unread.", how="derived", words=(*ROLES, UNREAD))
def on_part(row: Row[ChannelLane]) -> str:
    return row.context.role_word(row.item.channel.id) or UNREAD


@LANE.fact("switch", "The name of its channel says that it plays or sings a solo.", how="derived")
def soloist(row: Row[ChannelLane]) -> bool:
    return plays_solo(row.item.channel.name, row.context.house.vocabulary)


@LANE.fact(
    "number",
    "The share of the time in which clips sound through its channel that its fader is shut.",
    unit="%",
    how="derived",
    settings=(CLOSED, SILENT),
)
def shut_percent(row: Row[ChannelLane]) -> float:
    _need_fader(row)
    read = readings(row.context, row.item.channel, row.item.lane)
    heard = int(read.sounding.sum())
    shut = int((read.sounding & (read.levels <= row.context.setting(CLOSED))).sum())
    return 100.0 * shut / heard if heard else 0.0


@LANE.fact("switch", "It is open wherever the part that it holds comes in.", how="derived", settings=(CLOSED, SILENT))
def open_where_it_plays(row: Row[ChannelLane]) -> bool | Unknown:
    shut = row.need("shut_percent").number
    if shut in (0.0, 100.0):
        return shut == 0.0
    who = row.context.name(row.item.channel.id)
    return Unknown(
        unknown=f"{who} is opened and shut by its fader, and nothing in the session tells where it comes in",
        settle="follow its lane through the song",
    )


@LANE.fact(
    "number",
    "How far its one sunk stretch lies under the usual level of the fader; 0 where there is none.",
    unit="dB",
    how="derived",
    settings=SUNK_SETTINGS,
)
def sunk_db(row: Row[ChannelLane]) -> FactValue:
    _need_fader(row)
    found = sunk_stretch(row.context, row.item.channel, row.item.lane)
    where = span_text(row.context, found.start_s, found.end_s) if found.db else ""
    return FactValue(found.db, "derived", where, where)


def _excursion(row: Row[ChannelLane], sign: float) -> tuple[Excursion, str]:
    """The greatest excursion of a fader in one direction, and where it is, for a reader."""
    _need_fader(row)
    found = excursions(row.context, row.item.channel, row.item.lane)[sign < 0.0]
    return found, moment_text(row.context, found.at_s)


@LANE.fact(
    "number",
    "The greatest short excursion of a fader over the level around it.",
    unit="dB",
    how="derived",
    settings=EXCURSION_SETTINGS,
)
def spike_db(row: Row[ChannelLane]) -> FactValue:
    found, where = _excursion(row, 1.0)
    return FactValue(found.db, "derived", where, where)


@LANE.fact(
    "number",
    "How many excursions of the fader go at least half as far up.",
    how="derived",
    settings=EXCURSION_SETTINGS,
)
def spikes(row: Row[ChannelLane]) -> int:
    return _excursion(row, 1.0)[0].alike


@LANE.fact(
    "number",
    "The greatest short excursion of a fader under the level around it.",
    unit="dB",
    how="derived",
    settings=EXCURSION_SETTINGS,
)
def dip_db(row: Row[ChannelLane]) -> FactValue:
    found, where = _excursion(row, -1.0)
    return FactValue(found.db, "derived", where, where)


@LANE.fact(
    "number",
    "How many excursions of the fader go at least half as far down.",
    how="derived",
    settings=EXCURSION_SETTINGS,
)
def dips(row: Row[ChannelLane]) -> int:
    return _excursion(row, -1.0)[0].alike


@LANE.fact("number", "How often a fader ducks under other parts.", how="derived", settings=DUCK_SETTINGS)
def ducks(row: Row[ChannelLane]) -> int:
    _need_fader(row)
    return ducking(row.context, row.item.channel, row.item.lane).times


@LANE.fact(
    "number",
    "For how long it plays after its last duck while a part goes on that it may duck for.",
    unit="s",
    how="derived",
    settings=DUCK_SETTINGS,
)
def unducked_s(row: Row[ChannelLane]) -> FactValue:
    _need_fader(row)
    found = ducking(row.context, row.item.channel, row.item.lane)
    names = ", ".join(map(row.context.name, found.for_whom[:3])) or "no part"
    return FactValue(found.after_s, "derived", clock_text(found.last_s), names)


@LANE.fact(
    "number",
    "That time as a multiple of the longest it played between two ducks.",
    how="derived",
    settings=DUCK_SETTINGS,
)
def unducked_gaps(row: Row[ChannelLane]) -> float:
    _need_fader(row)
    found = ducking(row.context, row.item.channel, row.item.lane)
    return found.after_s / found.gap_s if found.gap_s > 0.0 else 0.0
