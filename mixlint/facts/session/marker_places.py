"""Markers against each other: the one that stands off the bars, and sections whose numbers run in another order."""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise
from typing import Final

from mixlint.analysis.activity import sounding_clips
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.session.clip_grid import TOLERANCE
from mixlint.naming import section_kind, take_numbers
from mixlint.session import Marker, Session, Timeline, Unknown
from mixlint.units import clock_text, few_text

FACTS: Facts[Session] = Facts()

LEAST_ON_BARS: Final = Setting(
    "marker_places.least_on_bars",
    4.0,
    "",
    "So many other markers, and all of them, have to stand on bars, so that one that does not has slid.",
    lowest=3.0,
)
LEAST_TOGETHER: Final = 3
NEAR_S: Final = 8.0
EDGE_S: Final = 0.5
TOGETHER_S: Final = 0.7
"""A clip that begins or ends this near to a marker keeps it where it stands. So many parts that begin within so short a
time, this near to a marker, show where it may have stood: what is said of it, no verdict rests on these."""


@per_session
def _starts(context: SessionContext) -> list[tuple[float, str]]:
    """When clips of heard parts begin, seconds, and the part, in order of time."""
    return sorted(
        (start, part.id)
        for part in context.session.channels
        if is_source(context, part) and is_heard(context, part)
        for start, _ in sounding_clips(part)
    )


def _parts_from(context: SessionContext, at_s: float) -> list[str]:
    """Ids of the parts of which a clip begins within a short time around a moment, in desk order."""
    starts = _starts(context)
    first = bisect_left(starts, (at_s - TOGETHER_S, ""))
    last = bisect_left(starts, (at_s + TOGETHER_S, ""))
    return sorted({one for _, one in starts[first:last]}, key=lambda one: context.order[one])


@FACTS.fact(
    "text",
    "The one marker that stands between two beats, where all others stand on bars and no clip begins or ends; or none.",
    how="derived",
    settings=(LEAST_ON_BARS, TOLERANCE),
)
def stray_marker(row: Row[Session]) -> FactValue:
    context = row.context
    timeline = context.session.timeline
    markers = sorted(context.session.markers, key=lambda one: one.time_s)[1:-1]
    if isinstance(timeline, Unknown) or len(markers) <= context.setting(LEAST_ON_BARS):
        return FactValue("none", "derived", row.subject.where)
    near_s = context.setting(TOLERANCE) / 1000.0
    off = [one for one in markers if not _on_bar(timeline, one.time_s, near_s)]
    if len(off) != 1 or _on_beat(timeline, off[0].time_s, near_s) or _at_an_edge(context, off[0].time_s):
        return FactValue("none", "derived", row.subject.where)
    stray = off[0]
    text = f"{stray.name} stands at {clock_text(stray.time_s)}, between two beats"
    parts = _entered_near(context, stray)
    if parts:
        text += f"; {few_text([context.name(one) for one in parts[1]])} begin at {clock_text(parts[0])}"
    return FactValue(text, "derived", row.subject.where, f"{len(markers) - 1}")


def _on_bar(timeline: Timeline, at_s: float, near_s: float) -> bool:
    return timeline.bar(at_s - near_s)[0] != timeline.bar(at_s + near_s)[0]


def _on_beat(timeline: Timeline, at_s: float, near_s: float) -> bool:
    beat = timeline.beat(at_s)
    return abs(timeline.seconds(float(round(beat))) - at_s) <= near_s


def _at_an_edge(context: SessionContext, at_s: float) -> bool:
    """True where a clip of a part of the song begins or ends at a moment, heard or not."""
    return any(
        abs(edge - at_s) <= EDGE_S
        for part in context.session.channels
        if is_source(context, part)
        for span in sounding_clips(part)
        for edge in span
    )


def _entered_near(context: SessionContext, stray: Marker) -> tuple[float, list[str]] | None:
    """The moment near a marker, without one of its own, at which the most parts begin together, and these."""
    marked = [one.time_s for one in context.session.markers]
    found: tuple[float, list[str]] | None = None
    for start, _ in _starts(context):
        if abs(start - stray.time_s) <= NEAR_S and not any(abs(start - one) <= TOGETHER_S for one in marked):
            parts = _parts_from(context, start)
            if len(parts) >= LEAST_TOGETHER and (found is None or len(parts) > len(found[1])):
                found = (start, parts)
    return found


@FACTS.fact(
    "text",
    "Two sections of one kind whose numbers run against their order in the song; or none.",
    how="derived",
)
def sections_out_of_order(row: Row[Session]) -> str:
    context = row.context
    kinds: dict[str, list[tuple[Marker, int]]] = {}
    for marker in sorted(context.session.markers, key=lambda one: one.time_s):
        kind, number = section_kind(marker.name, context.house.vocabulary)
        # Numbers of takes and bars tell no order of sections.
        if number is not None and not take_numbers(marker.name, context.house.vocabulary):
            kinds.setdefault(kind, []).append((marker, number))
    for numbered in kinds.values():
        numbers = [number for _, number in numbered]
        if sorted(numbers) != list(range(min(numbers), min(numbers) + len(numbers))) or min(numbers) > 2:
            continue
        for (first, here), (second, then) in pairwise(numbered):
            if here > then:
                text = f"{first.name} at {clock_text(first.time_s)} stands before {second.name} at "
                text += clock_text(second.time_s)
                parts = [context.name(one) for one in _parts_from(context, first.time_s)]
                return f"{text}; {few_text(parts)} begin at the first" if parts else text
    return "none"
