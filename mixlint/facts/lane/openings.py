"""Mutes and faders that open after what they are there for has begun, where their other openings come in time.

A channel is opened before it plays. Where one opening of several comes after the clips have begun, or after the band
has, the first words or bars are lost.
"""

from __future__ import annotations

from collections import defaultdict
from operator import itemgetter
from typing import Final, NamedTuple

from mixlint.analysis.activity import merged, moment_text, sounding_clips, sounding_spans
from mixlint.analysis.at_one_time import at_one_time
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.rides import CLOSED
from mixlint.session import FADER, MUTE, Automation, Channel, control_of
from mixlint.session.control import ON, is_readable, moves, shown_values

FACTS: Facts[ChannelLane] = Facts()

REST: Final = Setting(
    "openings.rest", 2.0, "s", "A rest of at least this parts one entry of a part from the next.", lowest=0.1
)
IN_TIME: Final = Setting(
    "openings.in_time", 8.0, "s", "An opening up to so long before an entry is made for it.", lowest=0.1
)
LEAST_LATE: Final = Setting(
    "openings.least_late", 0.5, "s", "An opening so long after an entry comes late for it.", lowest=0.05
)
BAND: Final = Setting(
    "openings.band",
    4.0,
    "",
    "So many channels that begin together after a rest are the band, with which one that is always recorded plays.",
    lowest=2.0,
)
BAND_REST: Final = Setting(
    "openings.band_rest", 4.0, "s", "So long they have all rested, where a new song or a new take begins.", lowest=0.5
)
BAND_LATE: Final = Setting(
    "openings.band_late", 4.0, "s", "So long after the band an opening comes late for it.", lowest=0.5
)
LATE_SETTINGS: Final = (REST, IN_TIME, LEAST_LATE, BAND, BAND_REST, BAND_LATE, CLOSED)

TOGETHER_S: Final = 1.0
"""Entries of a band that lie this near to each other are one: no setting, a count-in is longer."""


class LateOpening(NamedTuple):
    """An opening that comes late.

    Args:
        entry_s: when what it is there for begins, seconds.
        opens_s: when it opens.
        with_band: that is the band, and no clip of its own.
    """

    entry_s: float
    opens_s: float
    with_band: bool


@per_session
def late_opening(context: SessionContext, channel: Channel, lane: Automation) -> LateOpening | None:
    """The one opening of a mute or a fader that comes late, where its others come in time; None where none does."""
    opened = _opened(context, lane)
    if not opened:
        return None
    own = entries_of(sounding_spans(context, channel.id), context.setting(REST))
    beside = _late_beside_like(context, channel, lane, opened, own)
    if beside is not None or len(opened) < 2:
        return beside
    late = _late(context, opened, own, context.setting(LEAST_LATE)) if len(own) > 2 else None
    if late is not None:
        return LateOpening(*late, with_band=False)
    # A microphone that is always recorded tells by no clip when its part begins.
    if sum(any(start < at < end for start, end in own) for at, _ in opened) < len(opened):
        return None
    band = _band_entries(context, channel)
    late = _late(context, opened, band, context.setting(BAND_LATE))
    if late is None or not context.session.markers or _at_marker(context, late[1]):
        return None
    return LateOpening(*late, with_band=True)


def _late_beside_like(
    context: SessionContext,
    channel: Channel,
    lane: Automation,
    opened: list[tuple[float, float]],
    own: list[tuple[float, float]],
) -> LateOpening | None:
    """The one opening within an entry that the other side of a part, or two like parts, make in time."""
    if lane.target != MUTE or not is_audible(context, channel):
        return None
    late = [
        (start, at)
        for at, since in opened
        for start, end in own
        if since <= start and context.setting(LEAST_LATE) <= at - start <= context.setting(IN_TIME) and at < end
    ]
    if len(late) != 1:
        return None
    start, at = late[0]
    partner = partners(context).get(channel.id)
    like = [
        other
        for other in context.session.channels
        if other.id != channel.id
        and other.output == channel.output
        and context.role(other.id) is not None
        and context.role(other.id) == context.role(channel.id)
        and any(abs(theirs - start) <= AT_ENTRY_S for theirs, _ in sounding_clips(other))
        and is_audible(context, other)
    ]
    open_then = [other for other in like if control_of(other, MUTE).lane is None]
    enough = partner in open_then or (len(open_then) == len(like) and len(like) >= LEAST_LIKE)
    return LateOpening(start, at, with_band=False) if enough else None


AT_ENTRY_S: Final = 0.1
"""Clips that begin this near to each other begin together: no setting, edges are cut apart by less."""

LEAST_LIKE: Final = 2
"""So many like parts that begin there and are open show that the entry is meant: no setting, one may come in alone."""

AT_MARKER_S: Final = 3.0
"""An opening this near to a marker is made for what it names: no setting, it only keeps sections apart."""


def _at_marker(context: SessionContext, at_s: float) -> bool:
    return any(abs(marker.time_s - at_s) <= AT_MARKER_S for marker in context.session.markers)


def _opened(context: SessionContext, lane: Automation) -> list[tuple[float, float]]:
    """When a lane opens its channel, and when it had been shut, seconds."""
    import numpy as np

    times = np.asarray(lane.t)
    values = shown_values(lane, times)
    shut = values >= ON if lane.target == MUTE else values <= context.setting(CLOSED)
    found: list[tuple[float, float]] = []
    since = 0.0
    for at, is_shut in enumerate(shut):
        if is_shut and (at == 0 or not shut[at - 1]):
            since = float(times[at]) if at else 0.0
        if not is_shut and at and shut[at - 1]:
            # A fader that is drawn up opens from where it begins to rise.
            found.append((float(times[at - 1] if lane.shape == "linear" else times[at]), since))
    return found


def entries_of(spans: list[tuple[float, float]], rest_s: float) -> list[tuple[float, float]]:
    """Spans in order, those with a shorter rest between them as one."""
    found: list[tuple[float, float]] = []
    for start, end in spans:
        if found and start - found[-1][1] < rest_s:
            found[-1] = (found[-1][0], max(end, found[-1][1]))
        else:
            found.append((start, end))
    return found


@per_session
def _begin_together(context: SessionContext) -> tuple[tuple[float, float, frozenset[str]], ...]:
    """Where several channels begin to play after a rest: from when, until when the first of them rests, and which."""
    rest = context.setting(BAND_REST)
    starts = sorted(
        (start, end, channel.id)
        for channel in context.session.channels
        if is_source(context, channel)
        for start, end in entries_of(merged(sounding_clips(channel)), rest)
    )
    return tuple(
        (several[0][0], min(end for _, end, _ in several), frozenset(name for _, _, name in several))
        for several in at_one_time(starts, itemgetter(0), TOGETHER_S)
    )


@per_session
def _band_entries(context: SessionContext, channel: Channel) -> list[tuple[float, float]]:
    """The entries of the band, of channels that do not feed this one; the same channels have to begin each time."""
    feeding = context.routing.wiring.upstream([channel.id]) | {channel.id}
    least = context.setting(BAND)
    found = [(start, end, names - feeding) for start, end, names in _begin_together(context)]
    found = [one for one in found if len(one[2]) >= least]
    common: defaultdict[str, int] = defaultdict(int)
    for _, _, names in found:
        for name in names:
            common[name] += 1
    always = [name for name, times in common.items() if times == len(found)]
    return [(start, end) for start, end, _ in found] if len(always) >= least and len(found) >= 2 else []


def _late(
    context: SessionContext, opened: list[tuple[float, float]], entries: list[tuple[float, float]], late_s: float
) -> tuple[float, float] | None:
    """The entry and the opening of the one that comes late; None where none does, several do, or one has no entry."""
    before = context.setting(IN_TIME)
    late: list[tuple[float, float]] = []
    for at, since in opened:
        entry = next((start for start, end in entries if start - before <= at <= end), None)
        if entry is None:
            return None
        if at <= entry + min(0.3, late_s):
            continue
        inside = next((span for span in entries if span[0] < at < span[1]), None)
        if inside is not None and since > inside[0]:
            continue  # what was open when the entry began was shut within it: a hole, and no late opening
        if inside is None or at - inside[0] < late_s or 2.0 * (at - inside[0]) > inside[1] - inside[0]:
            return None
        late.append((inside[0], at))
    return late[0] if len(late) == 1 and len(opened) > 1 else None


@FACTS.fact(
    "number",
    "How long after its clips, or the band, have begun it opens once, where its other openings come in time; 0 where "
    "none comes late.",
    unit="s",
    how="derived",
    settings=LATE_SETTINGS,
)
def opens_late_s(row: Row[ChannelLane]) -> FactValue:
    found = _late_opening_of(row)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    what = "the others begin" if found.with_band else "its clips begin"
    where = moment_text(row.context, found.entry_s)
    return FactValue(found.opens_s - found.entry_s, "derived", where, f"{what} at {where}")


@FACTS.fact("switch", "What it opens late for are clips of its own.", how="derived", settings=LATE_SETTINGS)
def late_for_own_clips(row: Row[ChannelLane]) -> bool:
    found = _late_opening_of(row)
    return found is not None and not found.with_band


def _late_opening_of(row: Row[ChannelLane]) -> LateOpening | None:
    """The late opening of a lane; None for one that is neither a mute nor a fader."""
    lane = row.item.lane
    if lane.target not in (MUTE, FADER) or not is_readable(lane) or not moves(lane):
        return None
    return late_opening(row.context, row.item.channel, lane)
