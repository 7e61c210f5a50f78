"""The one file of a recording that is longer or shorter than the others by what another clock makes of its length."""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse, duration_s, origin_s, plain_clips
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import is_known
from mixlint.units import number_text

FACTS: Facts[MediaUse] = Facts()

LEAST_AS_LONG: Final = Setting(
    "off_clock.least_as_long",
    3.0,
    "",
    "So many other files that begin at the same places have to be exactly as long as each other, "
    "so that they are seen to be of one recording.",
    lowest=2.0,
)
NEAR: Final = Setting(
    "off_clock.near",
    0.002,
    "%",
    "A length this near to what a pull of one in a thousand makes of that of the others is made by it.",
    lowest=0.0001,
)

PULL: Final = 1.001
"""How much faster a clock runs that was pulled up for the frame rate of film: 1001 in 1000, as it is laid down."""

SAME_S: Final = 1e-3
"""Lengths that differ by no more are one: rounding."""

GRAIN: Final = 100.0
"""Places at which recordings begin are compared to the hundredth of a second: rounding."""


@FACTS.fact(
    "number",
    "How much longer it is than the other files of its recording, which are all of one length, where that is what a "
    "clock pulled by one in a thousand makes of it; 0 for others.",
    unit="s",
    how="derived",
    settings=(LEAST_AS_LONG, NEAR),
)
def off_clock_s(row: Row[MediaUse]) -> FactValue:
    found = _off_clock(row.context).get(row.item.media.id)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    longer, times, length = found
    text = f"the {times} others that were recorded with it last {number_text(length)} s"
    return FactValue(longer, "derived", row.subject.where, text)


@per_session
def _off_clock(context: SessionContext) -> dict[str, tuple[float, int, float]]:
    """Media id → by how much a file is too long, how many others agree, and how long those are, seconds."""
    begun: dict[frozenset[float], dict[str, float]] = {}
    lengths = {one.id: length for one in context.session.media if is_known(length := duration_s(context, one))}
    places: dict[str, set[float]] = {}
    for part in context.session.channels:
        for clip in plain_clips(part) if is_source(context, part) else ():
            places.setdefault(clip.file or "", set()).add(round(origin_s(clip) * GRAIN) / GRAIN)
    for file, at in places.items():
        if file in lengths:
            begun.setdefault(frozenset(at), {})[file] = lengths[file]
    found: dict[str, tuple[float, int, float]] = {}
    for files in begun.values():
        usual, times = Counter(round(one / SAME_S) * SAME_S for one in files.values()).most_common(1)[0]
        if usual <= 0.0 or times < context.setting(LEAST_AS_LONG):
            continue
        near = context.setting(NEAR) / 100.0
        pulled = [
            file
            for file, length in files.items()
            if any(abs(length / usual - ratio) <= near for ratio in (PULL, 1.0 / PULL))
        ]
        if len(pulled) == 1:
            found[pulled[0]] = (files[pulled[0]] - usual, times, usual)
    return found
