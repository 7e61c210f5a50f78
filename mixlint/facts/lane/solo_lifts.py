"""Lifts for a solo that a marker announces, and that are still there when the voice or another soloist goes on."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.activity import merged, moment_text, song_end_s, sounding_clips, within_s
from mixlint.analysis.announced_solos import announced_solos
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.like_sections import Section, marked_sections
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.rides import Readings, readings
from mixlint.session import FADER, Automation, Channel
from mixlint.session.control import is_readable, moves
from mixlint.signal.median import median

FACTS: Facts[ChannelLane] = Facts()

LEAST_LIFT: Final = Setting(
    "solo_lifts.least", 2.0, "dB", "A fader so far above all that it was before is lifted for the solo.", lowest=0.5
)
KEPT: Final = Setting(
    "solo_lifts.kept",
    0.5,
    "dB",
    "Behind the solo it is still lifted where it went down by no more than this.",
    lowest=0.0,
)
BEGINS: Final = Setting("solo_lifts.begins", 3.0, "s", "So near to its marker a lift is for the solo.", lowest=0.5)
LIFT_SETTINGS: Final = (LEAST_LIFT, KEPT, BEGINS)


class LeftUp(NamedTuple):
    """A lift for a solo that does not come down behind it.

    Args:
        solo: the solo.
        after: the section behind it.
        db: by how much the fader was lifted.
    """

    solo: Section
    after: Section
    db: float


@per_session
def left_up(context: SessionContext, channel: Channel, lane: Automation) -> LeftUp | None:
    """The lift for a solo of a channel that is still there in the section behind; None where there is none.

    A soloist may play on through an ending; under a voice that comes in, or in the solo of another, they step back.
    """
    if lane.target != FADER or not is_readable(lane) or not moves(lane) or song_end_s(context) <= 0.0:
        return None
    solos = {one.section: one.players | one.named for one in announced_solos(context)}
    if not any(channel.id in players for players in solos.values()):
        return None
    read = readings(context, channel, lane)
    sections = marked_sections(context)
    for at, solo in enumerate(sections[:-1]):
        within = _level_of(read, solo)
        if channel.id not in solos.get(solo, ()) or within is None:
            continue
        # A soloist may rest behind the solo, and comes back in too loud.
        after = next((one for one in sections[at + 1 :] if _level_of(read, one) is not None), None)
        behind = _level_of(read, after) if after is not None else None
        before = _levels(read, 0.0, solo.start_s - context.setting(BEGINS))
        if after is None or behind is None or not before or channel.id in solos.get(after, ()):
            continue
        near = any(abs(point - solo.start_s) <= context.setting(BEGINS) for point in lane.t)
        lifted = within - max(before) >= context.setting(LEAST_LIFT)
        stays = behind >= within - context.setting(KEPT)
        if near and lifted and stays and (solos.get(after) or _is_sung(context, after)):
            return LeftUp(solo, after, within - before[-1])
    return None


def _levels(read: Readings, start_s: float, end_s: float) -> list[float]:
    """Where a fader stands in a stretch while sound passes it, dB, in order of time."""
    heard = read.sounding & (read.times >= start_s) & (read.times < end_s)
    return [float(level) for level in read.levels[heard]]


def _level_of(read: Readings, section: Section) -> float | None:
    """The middle of the levels in a section, its edges left out; None where its channel hardly plays in it."""
    edge = EDGES * (section.end_s - section.start_s)
    levels = _levels(read, section.start_s + edge, section.end_s - edge)
    played_s = len(levels) * read.step_s
    return median(levels) if played_s >= LEAST_PLAYED_S else None


EDGES: Final = 0.15
"""This share of a section at either end is left out: hands move early and late. No setting."""

LEAST_PLAYED_S: Final = 4.0
"""What plays for less is the end of a phrase: no setting."""


def _is_sung(context: SessionContext, section: Section) -> bool:
    """True where a voice sounds in half of a section."""
    for channel in context.session.channels:
        if context.family(channel.id) != "vocals":
            continue
        spans = merged(sounding_clips(channel))
        if 2.0 * within_s(spans, section.start_s, section.end_s) >= section.end_s - section.start_s:
            return True
    return False


@FACTS.fact(
    "number",
    "By how much a fader is lifted for a solo that a marker announces, where it is still so in the section behind, "
    "under a voice or another's solo; 0 where it comes down.",
    unit="dB",
    how="derived",
    settings=LIFT_SETTINGS,
)
def left_up_after_solo_db(row: Row[ChannelLane]) -> FactValue:
    found = left_up(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = moment_text(row.context, found.after.start_s)
    return FactValue(found.db, "derived", where, f"in {found.after.name} ({where}), behind {found.solo.name}")
