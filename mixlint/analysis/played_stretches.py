"""Which stretches of its files a session plays, and what was measured in them."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.session import Channel, Clip, is_known, known
from mixlint.units import clock_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.measure import Mark, Measure

END_S = 1e9

LEGS: Final = ("left", "right")

LEAST_BLOCKS: Final = 5
"""Fewer tenths of a second say nothing of an offset."""

STEADY: Final = 0.75
"""An offset stands still: in this share of the quiet blocks it is within half of itself."""


class Stretch(NamedTuple):
    """A stretch of a file that a clip plays.

    Args:
        start_s, end_s: seconds of the file; all of it where the export does not tell.
        clip: the clip.
        followed: its place in the file and its speed are known, so that a place in it has a place in the song.
    """

    start_s: float
    end_s: float
    clip: Clip
    followed: bool

    def song_s(self, file_s: float) -> float:
        """When a place in the file is played, seconds of the song."""
        return self.clip.start_s + (file_s - self.start_s) / known(self.clip.speed)


@per_session
def stretches(_: SessionContext, channel: Channel) -> dict[str, list[Stretch]]:
    """Media id → the stretches of it that a channel's audio clips play, in order of the file."""
    found: dict[str, list[Stretch]] = {}
    for clip in audio_clips(channel):
        if clip.file is None:
            continue
        if is_known(clip.offset_s) and is_known(clip.speed) and clip.speed > 0.0:
            end = clip.offset_s + (clip.end_s - clip.start_s) * clip.speed
            found.setdefault(clip.file, []).append(Stretch(clip.offset_s, end, clip, True))
        else:
            found.setdefault(clip.file, []).append(Stretch(0.0, END_S, clip, False))
    for ones in found.values():
        ones.sort(key=lambda one: (one.start_s, one.end_s))
    return found


class Played:
    """A file and the stretches of it that heard parts play.

    Args:
        measure: what was measured in it.
        parts: the stretches, in order of the file.
    """

    def __init__(self, measure: Measure, parts: list[Stretch]) -> None:
        self.measure = measure
        self.parts = parts
        self._spans: list[tuple[float, float]] = []
        for one in parts:
            if self._spans and one.start_s <= self._spans[-1][1]:
                self._spans[-1] = (self._spans[-1][0], max(self._spans[-1][1], one.end_s))
            else:
                self._spans.append((one.start_s, one.end_s))

    def plays(self, at_s: float, length_s: float = 0.0) -> bool:
        """Whether something that begins at a place in the file and lasts so long is played, in part at least."""
        last = bisect_right(self._spans, (at_s + length_s, END_S)) - 1
        return last >= 0 and self._spans[last][1] > at_s

    def marks(self, *kinds: str) -> list[Mark]:
        """The marks of some kinds that are played, in order of the file."""
        ones = [one for one in self.measure.marks if one.kind in kinds and self.plays(one.start_s, one.length_s)]
        return sorted(ones, key=lambda one: one.start_s)

    def count(self, *kinds: str) -> int:
        """About how many there are: where a file holds more than were kept, by the share of the kept ones."""
        kept = [one for one in self.measure.marks if one.kind in kinds]
        total = sum(self.measure.mark_counts.get(kind, 0) for kind in kinds)
        played = len(self.marks(*kinds))
        return played if total <= len(kept) or not kept else round(total * played / len(kept))

    def blocks(self) -> NDArray[np.bool_]:
        """(blocks,) which of the measure's blocks are played for the most part."""
        import numpy as np

        count, block = self.measure.power.shape[1], self.measure.block_s
        out = np.zeros(count, np.bool_)
        for start, end in self._spans:
            first = max(0, round(start / block))
            out[first : max(first + 1, min(count, round(min(end, END_S) / block)))] = True
        return out

    def cells(self) -> NDArray[np.bool_]:
        """(cells,) which of its peak cells are played, in part at least."""
        import numpy as np

        count, cell = self.measure.peak.shape[1], self.measure.cell_s
        out = np.zeros(count, np.bool_)
        for start, end in self._spans:
            out[max(0, int(start / cell)) : max(0, min(count, int(min(end, END_S) / cell) + 1))] = True
        return out

    def offset(self) -> tuple[float, int]:
        """How far its middle lies from zero, full scale 1.0, and on which leg, the one where it lies farthest.

        Told where it is quiet, so that a wave that is higher on one side is none; 0 where it is not steady.
        """
        import numpy as np

        worst, worst_leg = 0.0, 0
        blocks = self.blocks()
        for leg in range(self.measure.legs):
            mean, power = self.measure.mean[leg, blocks], self.measure.power[leg, blocks]
            there = power > 0.0
            if there.sum() < LEAST_BLOCKS:
                continue
            mean, power = mean[there], power[there]
            quiet = mean[power <= np.median(power)]
            offset = float(np.median(quiet))
            steady = float(np.mean(np.abs(quiet - offset) <= abs(offset) / 2.0))
            if steady >= STEADY and abs(offset) > abs(worst):
                worst, worst_leg = offset, leg
        return worst, worst_leg

    def leg_name(self, leg: int) -> str:
        """What a leg is called: ``left``, ``right`` or ``leg 3``; empty in a file of one."""
        if self.measure.legs == 1:
            return ""
        return LEGS[leg] if self.measure.legs == 2 else f"leg {leg + 1}"

    def place(self, context: SessionContext, at_s: float) -> str:
        """A place in the file for a reader, with its place in the song where a clip plays it."""
        text = f"{clock_text(at_s)} of the file"
        for one in self.parts:
            if one.start_s <= at_s < one.end_s and one.followed:
                moment = moment_text(context, one.song_s(at_s))
                # A file that lies on the song's zero has one time, not two.
                return moment if moment.endswith(clock_text(at_s)) else f"{text} ({moment})"
        return text
