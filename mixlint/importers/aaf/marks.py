"""Markers, and the timecode at which the composition begins."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, Final

from mixlint.importers.aaf.ids import TIMECODE
from mixlint.importers.aaf.values import auid, fraction, rate, text
from mixlint.session import Marker

MOST_MARKERS: Final = 10_000
"""Markers that are read."""


def markers(library: Any, mob: Any) -> tuple[Marker, ...]:
    """The comment markers of a composition, in order."""
    kinds, found = library.components, list[Marker]()
    for slot in mob.getvalue("Slots") or ():
        if not isinstance(slot, library.mobslots.EventMobSlot):
            continue
        units, segment = rate(slot.getvalue("EditRate")), slot.getvalue("Segment")
        events = segment.getvalue("Components") or () if isinstance(segment, kinds.Sequence) else [segment]
        for one in events:
            at = fraction(one.getvalue("Position")) if isinstance(one, kinds.CommentMarker) else None
            if units is not None and at is not None and len(found) < MOST_MARKERS:
                found.append(Marker(time_s=round(float(at / units), 9), name=text(one.getvalue("Comment"))))
    return tuple(sorted(found, key=lambda one: one.time_s))


def start_timecode(library: Any, mob: Any) -> str:
    """The timecode of the composition's beginning, ``01:00:00:00 at 25 frames a second``; empty where it has none."""
    kinds = library.components
    for slot in mob.getvalue("Slots") or ():
        segment = slot.getvalue("Segment")
        if isinstance(segment, kinds.Sequence):
            segment = next(iter(segment.getvalue("Components") or ()), None)
        if not isinstance(segment, kinds.Timecode) or auid(segment.getvalue("DataDefinition")) not in TIMECODE:
            continue
        start, frames = segment.getvalue("Start"), segment.getvalue("FPS")
        if isinstance(start, int) and isinstance(frames, int) and frames > 0 and 0 <= start < frames * 86_400 * 2:
            return timecode(start, frames, drop=bool(segment.getvalue("Drop")))
    return ""


def timecode(start: int, frames: int, *, drop: bool) -> str:
    """A count of frames as timecode (SMPTE ST 12-1).

    Args:
        start: frames since midnight.
        frames: the nominal frames a second.
        drop: the first numbers of each minute are left out, save those of each tenth: 2 of 30, 4 of 60.
    """
    if drop and frames % 30 == 0:
        left_out = frames // 15
        tens, rest = divmod(start, frames * 600 - 9 * left_out)
        start += 9 * left_out * tens
        if rest >= frames * 60:
            start += left_out * (1 + (rest - frames * 60) // (frames * 60 - left_out))
    seconds, frame = divmod(start, frames)
    clock = f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
    return f"{clock}{';' if drop else ':'}{frame:02d} at {frames} frames a second{', drop frame' if drop else ''}"


def audio_rate(rates: list[Fraction]) -> float | None:
    """The one rate among those of tracks that is a sample rate and no rate of pictures; None where there is none."""
    high = {one for one in rates if one >= 8000}
    return float(high.pop()) if len(high) == 1 else None
