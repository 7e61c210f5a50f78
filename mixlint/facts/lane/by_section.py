"""What a lane does in sections that the markers name alike: where it stands elsewhere in one chorus than in all others.

Choruses of one song are mixed alike. The last one may be lifted and the first may be held back, verses differ more, and
a part may be added once; but a control that stands close in two choruses or more, and far off in one, was missed there.
"""

from __future__ import annotations

from math import log2
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from mixlint.analysis.activity import span_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.like_sections import LikeSections, Section, like_sections, marked_sections
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import SILENT, ChannelLane
from mixlint.facts.lane.settling import LOWEST_HZ, UNITS_OF_CLASS, ControlClass, control_class, spans_of
from mixlint.session import Automation, Channel
from mixlint.session.control import ON, is_readable, moves, shown_values
from mixlint.signal.median import median
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[ChannelLane] = Facts()

APART_DB: Final = Setting(
    "like_sections.apart_db", 2.5, "dB", "A level this far from where it is in its like sections is off.", lowest=0.5
)
APART_OCTAVES: Final = Setting(
    "like_sections.apart_octaves", 1.5, "", "The same for the corner of a filter, in octaves.", lowest=0.2
)
APART_PAN: Final = Setting("like_sections.apart_pan", 25.0, "pan distance", "The same for a pan.", lowest=1.0)
APART_PERCENT: Final = Setting(
    "like_sections.apart_percent",
    40.0,
    "%",
    "The same for a share or another parameter, of the range that its lane passes.",
    lowest=1.0,
    highest=100.0,
)
LEAST_HEARD: Final = share_setting(
    "like_sections.least_heard", 50.0, "A section counts for a channel that plays in this share of it."
)
GROWTH: Final = Setting(
    "like_sections.growth",
    2.0,
    "",
    "So many times as far the first section may be held back, the last one lifted, and verses may differ.",
    lowest=1.0,
)
SAME_MOVE: Final = Setting(
    "like_sections.same_move", 3.0, "", "Where so many channels are off in one section, it is arranged so.", lowest=2.0
)
SECTION_SETTINGS: Final = (
    APART_DB, APART_OCTAVES, APART_PAN, APART_PERCENT, LEAST_HEARD, GROWTH, SAME_MOVE, SILENT,
)  # fmt: skip

AGREE: Final = 0.4
"""Sections that lie within this share of what is far agree: no setting, it only keeps far from near."""

EDGES: Final = 0.1
"""This share of a section at either end is left out: moves for the next one begin early, those for this one late."""

STEP_S: Final = 0.25
"""How finely a lane is read: a bound of work."""

CLOSED_DB: Final = -40.0
"""A level under this is closed; how far under says nothing."""

SWITCH_CLASSES: Final = ("mute", "send-switch", "filter-switch", "processor-switch")
"""What a section is one or the other of."""

Place = Literal["first", "middle", "last"]


class OddSection(NamedTuple):
    """The one section of a kind in which a lane stands elsewhere than in all others.

    Args:
        section: which.
        value: where it stands there, in the reader's unit.
        others: the other sections, each with where it stands in it.
        off: how far that lies from the nearest of the others: decibels of levels, octaves, pan, else per cent.
        chorus: they are choruses.
    """

    section: Section
    value: float
    others: tuple[tuple[Section, float], ...]
    off: float
    chorus: bool


@per_session
def odd_section(context: SessionContext, channel: Channel, lane: Automation) -> OddSection | None:
    """The section in which a lane stands elsewhere than in all others of the kind; None where several channels do."""
    found = _odd_alone(context, channel, lane)
    if found is None or len(_odd_channels(context)[found.section.start_s]) >= context.setting(SAME_MOVE):
        return None
    return found


@per_session
def _odd_channels(context: SessionContext) -> dict[float, set[str]]:
    """The start of a section → the channels that stand elsewhere in it than in its like."""
    found: dict[float, set[str]] = {}
    for channel in context.session.channels:
        for lane in channel.automation:
            odd = _odd_alone(context, channel, lane)
            if odd is not None:
                found.setdefault(odd.section.start_s, set()).add(channel.id)
    return found


@per_session
def _odd_alone(context: SessionContext, channel: Channel, lane: Automation) -> OddSection | None:
    """The same by the lane alone: the furthest off of all kinds of sections."""
    if not lane.t or not moves(lane) or not is_readable(lane):
        return None
    kind = control_class(channel, lane.target)
    odd = (_odd_of(context, channel, lane, kind, alike) for alike in like_sections(context))
    return max((one for one in odd if one is not None), key=lambda one: one.off, default=None)


def _odd_of(
    context: SessionContext, channel: Channel, lane: Automation, kind: ControlClass, alike: LikeSections
) -> OddSection | None:
    """The odd one of some like sections."""
    spans = spans_of(context, channel, lane)
    stands = [(section, _stands(context, lane, kind, spans, section)) for section in alike.sections]
    heard = [(section, value) for section, value in stands if value is not None]
    if len(heard) < 3:
        return None
    placed = [_placed(kind, lane, value) for _, value in heard]
    far = _far(context, kind)
    ordered = sorted(placed)
    for at, value in enumerate(placed):
        rest = ordered.copy()
        rest.remove(value)
        off = min(abs(value - rest[0]), abs(value - rest[-1]))
        outside = not rest[0] <= value <= rest[-1]
        if not outside or rest[-1] - rest[0] > AGREE * far or off < far:
            continue
        place: Place = "first" if at == 0 else "last" if at == len(placed) - 1 else "middle"
        more = value > rest[-1]
        closed = _closed(kind, rest[0])
        left = place == "last" and kind != "mute" and not closed and _was_left(lane, heard[at][0], context)
        if not left and _is_arranged(kind, place, more, alike.choruses, closed):
            return None
        grows = kind in GROWING and (place == "first" or (place == "last" and more))
        factor = context.setting(GROWTH) ** (int(grows) + int(not alike.choruses))
        if kind not in SWITCH_CLASSES and off < factor * far:
            return None
        others = tuple(one for other, one in enumerate(heard) if other != at)
        return OddSection(heard[at][0], heard[at][1], others, off, alike.choruses)
    return None


GROWING: Final = ("fader", "send-level", "wet", "other", "equalizer-gain", "gain", "threshold")
"""Of what there may be more in the last section and less in the first; a pan or a filter has its place."""

BEFORE_S: Final = 4.0
"""A move so long before a section is made for the one before: no setting, a hand that opens early is seconds early."""


def _was_left(lane: Automation, section: Section, context: SessionContext) -> bool:
    """True where a lane comes into a section from an earlier one, and stays there: it was made for that one."""
    moved = [at for before, at, after in zip(lane.v, lane.t[1:], lane.v[1:], strict=False) if before != after]
    if any(section.start_s - BEFORE_S <= at < section.end_s for at in moved):
        return False
    borders = [one.start_s for one in marked_sections(context)]
    last = max((at for at in moved if at < section.start_s), default=None)
    return last is not None and any(last - BEFORE_S <= border < section.start_s for border in borders)


def _is_arranged(kind: ControlClass, place: Place, more: bool, choruses: bool, closed: bool) -> bool:
    """True for what arrangements do: to come in late, to be added once, or to be taken out of a verse at the end.

    Args:
        kind: what the lane moves.
        place: where in order the odd section comes.
        more: the lane stands higher in it than in the others.
        choruses: the sections are choruses.
        closed: in the others the lane shuts its channel or send.
    """
    if kind == "mute":
        # More of a mute is less of the part; one that opens a part once gives it a place of its own.
        return not more or place == "first" or (place == "last" and not choruses)
    if kind == "fader" and closed:
        return True
    once = kind in SWITCH_CLASSES or closed
    return place != "middle" if not choruses else once and place != "middle"


def _closed(kind: ControlClass, value: float) -> bool:
    """True for a level at which nothing passes."""
    return kind in ("fader", "send-level") and value <= CLOSED_DB


def _stands(
    context: SessionContext, lane: Automation, kind: ControlClass, spans: list[tuple[float, float]], section: Section
) -> float | None:
    """Where a lane stands in a section; None where its channel hardly plays in it, or a switch turns within it."""
    import numpy as np

    trim = EDGES * (section.end_s - section.start_s)
    times = np.arange(section.start_s + trim, section.end_s - trim, STEP_S)
    if not times.size or not spans:
        return None
    starts, ends = np.array(spans).T
    at = np.searchsorted(starts, times, side="right") - 1
    heard = (at >= 0) & (times < ends[np.maximum(at, 0)])
    if 100.0 * heard.sum() < context.setting(LEAST_HEARD) * times.size:
        return None
    values = shown_values(lane, times[heard])
    if kind in SWITCH_CLASSES:
        share = float((values >= ON).mean())
        return round(share) if min(share, 1.0 - share) <= MOSTLY else None
    return median(np.maximum(values, context.setting(SILENT)) if lane.target.is_level else values)


MOSTLY: Final = 0.15
"""A switch that is over in no more than this share of a section is one or the other: no setting, edges of moves."""


def _placed(kind: ControlClass, lane: Automation, value: float) -> float:
    """A value where distances are heard alike: octaves of frequencies, shares of a parameter's own range."""
    if kind in ("low-cut", "high-cut"):
        return log2(max(value, LOWEST_HZ))
    if kind in ("wet", "other"):
        return 100.0 * (value - min(lane.v)) / (max(lane.v) - min(lane.v))
    if kind in ("fader", "send-level"):
        return max(value, CLOSED_DB)
    return value


def _far(context: SessionContext, kind: ControlClass) -> float:
    """From how far on a lane stands elsewhere."""
    if kind in SWITCH_CLASSES:
        return 1.0
    if kind in ("low-cut", "high-cut"):
        return context.setting(APART_OCTAVES)
    if kind in ("wet", "other"):
        return context.setting(APART_PERCENT)
    if kind == "pan":
        return context.setting(APART_PAN)
    # Sends and thresholds are moved by more than faders are before anybody hears it.
    return context.setting(APART_DB) * (2.0 if kind in ("send-level", "threshold") else 1.0)


@FACTS.fact(
    "text",
    "Where it stands in the one section that differs from all others that the markers name alike; or as elsewhere.",
    how="derived",
    settings=SECTION_SETTINGS,
)
def odd_section_text(row: Row[ChannelLane]) -> FactValue:
    found = odd_section(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(AS_ELSEWHERE, "derived", row.subject.where)
    kind = control_class(row.item.channel, row.item.lane.target)
    where = span_text(row.context, found.section.start_s, found.section.end_s)
    here = _value_text(kind, found.value)
    others = list(dict.fromkeys(_value_text(kind, value) for _, value in found.others))
    names = [section.name for section, _ in found.others]
    at = "" if kind in SWITCH_CLASSES else "at "
    text = f"{at}{here} in {found.section.name} ({where}), and {at}{' and '.join(others)} in {' and '.join(names)}"
    return FactValue(text, "derived", where)


AS_ELSEWHERE: Final = "as elsewhere"


def _value_text(kind: ControlClass, value: float) -> str:
    """A value of a control for a reader."""
    if kind in SWITCH_CLASSES:
        return "on" if value >= ON else "off"
    return number_text(value, UNITS_OF_CLASS.get(kind, ""))


@FACTS.fact(
    "number",
    "How far a fader stands off in that section from where it is in its like; 0 where it does not.",
    unit="dB",
    how="derived",
    settings=SECTION_SETTINGS,
)
def odd_section_db(row: Row[ChannelLane]) -> float:
    found = odd_section(row.context, row.item.channel, row.item.lane)
    return found.off if found is not None and row.item.lane.target.kind == "fader" else 0.0


@FACTS.fact(
    "number",
    "The same of a pan.",
    unit="pan distance",
    how="derived",
    settings=SECTION_SETTINGS,
)
def odd_section_pan(row: Row[ChannelLane]) -> float:
    found = odd_section(row.context, row.item.channel, row.item.lane)
    return found.off if found is not None and row.item.lane.target.kind == "pan" else 0.0


@FACTS.fact("switch", "That section is a chorus.", how="derived", settings=SECTION_SETTINGS)
def odd_in_chorus(row: Row[ChannelLane]) -> bool:
    found = odd_section(row.context, row.item.channel, row.item.lane)
    return found is not None and found.chorus
