"""Beds that are ridden down under the lines of a speaker, and the one line under which they stay up."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.activity import merged, song_end_s, sounding_clips, span_text
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import SILENT, ChannelLane
from mixlint.facts.lane.openings import entries_of
from mixlint.facts.lane.rides import CLOSED, Readings, readings
from mixlint.session import FADER, Automation, Channel
from mixlint.session.control import is_readable, moves
from mixlint.signal.median import median

FACTS: Facts[ChannelLane] = Facts()

LEAST_DIP: Final = Setting(
    "beds.least_dip", 3.0, "dB", "A bed that lies so far lower under a line than around it is ridden down.", lowest=0.5
)
AROUND: Final = Setting("beds.around", 6.0, "s", "The bed around a line is looked at for so long.", lowest=0.5)
LEAST_DIPS: Final = Setting(
    "beds.least_dips", 2.0, "", "A bed that is ridden down under so many lines is so under all.", lowest=2.0
)
BED_SETTINGS: Final = (LEAST_DIP, AROUND, LEAST_DIPS, CLOSED, SILENT)

LINES_APART_S: Final = 2.0
"""Lines with a shorter rest between them are one: a hand does not bring a bed up for less."""


class Undipped(NamedTuple):
    """A line under which a bed stays up: who speaks, from when to when, and by how much it dips under the others."""

    speaker: Channel
    start_s: float
    end_s: float
    usual_db: float


@per_session
def undipped(context: SessionContext, channel: Channel, lane: Automation) -> Undipped | None:
    """The one line of a speaker under which a bed is not ridden down as under all others; None where there is none."""
    read = readings(context, channel, lane)
    for speaker in context.session.channels:
        if speaker.id == channel.id or context.family(speaker.id) != "speech" or not is_source(context, speaker):
            continue
        lines = entries_of(merged(sounding_clips(speaker)), LINES_APART_S)
        dips = [(line, _dip(context, read, line)) for line in lines]
        known = [(line, dip, level) for line, found in dips if found is not None for dip, level in [found]]
        dipped = [(dip, level) for _, dip, level in known if dip >= context.setting(LEAST_DIP)]
        up = [(line, level) for line, dip, level in known if dip < 1.0]
        if len(up) != 1 or len(dipped) < context.setting(LEAST_DIPS) or len(dipped) + 1 < len(known):
            continue
        line, level = up[0]
        if level - max(low for _, low in dipped) >= context.setting(LEAST_DIP):
            return Undipped(speaker, *line, median([dip for dip, _ in dipped]))
    return None


def _dip(context: SessionContext, read: Readings, line: tuple[float, float]) -> tuple[float, float] | None:
    """How far a fader lies lower in a line than before and after it, and at which level; None where it hardly plays."""
    start, end = line
    inside = (read.times >= start) & (read.times < end)
    heard = inside & read.sounding
    if not inside.any() or 5 * int(heard.sum()) < 4 * int(inside.sum()):
        return None
    around = context.setting(AROUND)
    near = read.sounding & ~inside & (read.times >= start - around) & (read.times < end + around)
    level = median(read.levels[heard])
    if not near.any() or level <= context.setting(CLOSED):
        return None
    return float(read.levels[near].max()) - level, level


@FACTS.fact(
    "number",
    "By how much a fader is ridden down under the lines of a speaker, where it stays up under one of them; 0 where it "
    "stays up under none or several.",
    unit="dB",
    how="derived",
    settings=BED_SETTINGS,
)
def forgotten_dip_db(row: Row[ChannelLane]) -> FactValue:
    lane, context = row.item.lane, row.context
    none = FactValue(0.0, "derived", row.subject.where)
    if lane.target != FADER or not is_readable(lane) or not moves(lane) or song_end_s(context) <= 0.0:
        return none
    if context.family(row.item.channel.id) == "speech":
        return none
    found = undipped(context, row.item.channel, lane)
    if found is None:
        return none
    where = span_text(context, found.start_s, found.end_s)
    return FactValue(found.usual_db, "derived", where, f"{context.name(found.speaker.id)} in {where}")
