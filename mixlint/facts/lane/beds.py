"""Beds that are ridden down under the lines of a speaker, and the one line under which they stay up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final, NamedTuple

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

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[ChannelLane] = Facts()

LEAST_DIP: Final = Setting(
    "beds.least_dip", 3.0, "dB", "A bed that lies so far lower under a line than around it is ridden down.", lowest=0.5
)
AROUND: Final = Setting("beds.around", 6.0, "s", "The bed around a line is looked at for so long.", lowest=0.5)
LEAST_DIPS: Final = Setting(
    "beds.least_dips", 2.0, "", "A bed that is ridden down under so many lines is so under all.", lowest=2.0
)
RAISED: Final = Setting(
    "beds.raised",
    6.0,
    "dB",
    "A bed that lies so far above where it lay under the lines before was brought up.",
    lowest=1.0,
)
RAISED_FOR: Final = Setting(
    "beds.raised_for", 10.0, "s", "Under so much speech it stays there, for it to be more than a last word.", lowest=1.0
)
BED_SETTINGS: Final = (LEAST_DIP, AROUND, LEAST_DIPS, RAISED, RAISED_FOR, CLOSED, SILENT)

LINES_APART_S: Final = 2.0
"""Lines with a shorter rest between them are one: a hand does not bring a bed up for less."""


class Undipped(NamedTuple):
    """A line under which a bed stays up: who speaks, from when to when, and by how much it dips under the others."""

    speaker: Channel
    start_s: float
    end_s: float
    usual_db: float


@per_session
def _speakers(context: SessionContext) -> tuple[tuple[Channel, list[tuple[float, float]]], ...]:
    """Those who speak, in desk order, with their lines, (start, end) in seconds."""
    return tuple(
        (speaker, entries_of(merged(sounding_clips(speaker)), LINES_APART_S))
        for speaker in context.session.channels
        if context.family(speaker.id) == "speech" and is_source(context, speaker)
    )


@per_session
def undipped(context: SessionContext, channel: Channel, lane: Automation) -> Undipped | None:
    """The one line of a speaker under which a bed is not ridden down as under all others; None where there is none."""
    read = readings(context, channel, lane)
    for speaker, lines in _speakers(context):
        if speaker.id == channel.id:
            continue
        dips = [(line, _dip(context, read, line)) for line in lines]
        known = [(line, dip, level) for line, found in dips if found is not None for dip, level in [found]]
        dipped = [(dip, level) for _, dip, level in known if dip >= context.setting(LEAST_DIP)]
        up = [(line, level) for line, dip, level in known if dip < 1.0]
        if len(up) != 1 or len(dipped) < context.setting(LEAST_DIPS) or len(dipped) + 1 < len(known):
            continue
        line, level = up[0]
        if level - max(low for _, low in dipped) >= context.setting(LEAST_DIP):
            return Undipped(speaker, *line, median([dip for dip, _ in dipped]))
    return next((one for one in _raised(context, channel, read) if one is not None), None)


def _raised(context: SessionContext, channel: Channel, read: Readings) -> Iterator[Undipped | None]:
    """For each speaker: from which line on a bed stays up that was brought up before it, where the lines rest."""
    for speaker, lines in _speakers(context):
        if speaker.id == channel.id:
            continue
        under = []
        for start, end in lines:
            levels = read.levels[read.sounding & (read.times >= start) & (read.times < end)]
            if levels.size * read.step_s >= LEAST_UNDER_S:
                under.append((start, end, levels))
        yield _first_raised(context, speaker, read, under)


def _first_raised(
    context: SessionContext, speaker: Channel, read: Readings, under: list[tuple[float, float, Floats]]
) -> Undipped | None:
    """The same of one speaker, with the levels of the bed under each of the lines."""
    most = context.setting(RAISED)
    for at in range(1, len(under)):
        before, after = under[:at], under[at:]
        low = max(float(levels.max()) for _, _, levels in before)
        high = min(float(levels.min()) for _, _, levels in after)
        long_s = sum(end - start for start, end, _ in after)
        # A bed that stood as high before its first line dips for lines; one that never did lies low under them.
        if _highest_until(read, before[-1][1]) > low + LOW_DB:
            return None
        if low > context.setting(CLOSED) and high - low >= most and long_s >= context.setting(RAISED_FOR):
            return Undipped(speaker, after[0][0], after[0][1], high - low)
    return None


def _highest_until(read: Readings, end_s: float) -> float:
    return float(read.levels[read.sounding & (read.times < end_s)].max())


LOW_DB: Final = 1.0
"""Within this of its level under the lines a bed is low: no setting, it is brought up by many times as much."""

LEAST_UNDER_S: Final = 5.0
"""A bed that sounds under a line for less begins or ends there: no setting."""


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
