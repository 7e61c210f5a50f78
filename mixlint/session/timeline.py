"""Tempo, metre and markers: seconds to bars and back.

A bar position is written ``bar.beat`` counted from 1. Beats are quarter notes, as in the open interchange format.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from pydantic import Field, model_validator

from mixlint.session.maybe import Figure, Frozen

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

CLOSEST_BEATS: Final = 1e-9
"""Two tempos closer than this make a glide too steep to be computed."""

SLACK_BEATS: Final = 1e-5
"""A time this close before a bar line stands on it: what exporters write in seconds is rounded."""


class Tempo(Frozen):
    """From ``beat`` on the music runs at ``bpm``; ``ramp`` means it glides to the next tempo instead of stepping."""

    beat: Figure = 0.0
    bpm: float = Field(ge=1, le=2000)
    ramp: bool = False


class Meter(Frozen):
    """From ``beat`` on a bar holds ``beats`` notes of value 1/``unit``."""

    beat: Figure = 0.0
    beats: int = Field(default=4, ge=1, le=999)
    unit: int = Field(default=4, ge=1, le=128)

    @property
    def bar_length(self) -> float:
        """The length of one bar in quarter notes."""
        return self.beats * 4.0 / self.unit


class Marker(Frozen):
    """A named place in the song."""

    time_s: Figure
    name: str


class Timeline(Frozen):
    """The tempo map and the metre map, both in beat order and both starting at beat 0."""

    tempos: tuple[Tempo, ...] = Field(min_length=1)
    meters: tuple[Meter, ...] = (Meter(),)

    @model_validator(mode="after")
    def _in_order(self) -> Timeline:
        for name, beats in (
            ("tempos", [t.beat for t in self.tempos]),
            ("meters", [m.beat for m in self.meters]),
        ):
            if not beats or beats[0] != 0.0 or any(b <= a for a, b in pairwise(beats)):
                raise ValueError(f"{name} must start at beat 0 and rise from one to the next")
        if any(after.beat - here.beat < CLOSEST_BEATS for here, after in pairwise(self.tempos)):
            raise ValueError(f"tempos must stand at least {CLOSEST_BEATS:g} beats apart")
        return self

    @cached_property
    def _starts_s(self) -> list[float]:
        """The time in seconds at which each tempo begins."""
        starts = [0.0]
        for here, after in pairwise(self.tempos):
            starts.append(starts[-1] + _span_s(here, after.bpm, after.beat - here.beat, after.beat - here.beat))
        return starts

    def seconds(self, beat: float) -> float:
        """The time in seconds of a position in quarter-note beats."""
        at = max(0, bisect_right([t.beat for t in self.tempos], beat) - 1)
        here = self.tempos[at]
        after = self.tempos[at + 1] if at + 1 < len(self.tempos) else None
        return self._starts_s[at] + _span_s(
            here, after.bpm if after else None, after.beat - here.beat if after else 0.0, beat - here.beat
        )

    def beat(self, seconds: float) -> float:
        """The position in quarter-note beats of a time in seconds (the inverse of :meth:`seconds`)."""
        at = max(0, bisect_right(self._starts_s, seconds) - 1)
        here = self.tempos[at]
        after = self.tempos[at + 1] if at + 1 < len(self.tempos) else None
        into = seconds - self._starts_s[at]
        if after is None or not here.ramp or here.bpm == after.bpm:
            return here.beat + into * here.bpm / 60.0
        from math import exp

        slope = (after.bpm - here.bpm) / (after.beat - here.beat)  # bpm per beat
        return here.beat + here.bpm / slope * (exp(into * slope / 60.0) - 1.0)

    def bar(self, seconds: float) -> tuple[int, float]:
        """The bar (from 1) and the quarter-note beat within it (from 1.0) at a time in seconds."""
        beat = self.beat(seconds) + SLACK_BEATS
        at = max(0, bisect_right(self._meter_beats, beat) - 1)
        here = self.meters[at]
        whole, rest = divmod(beat - here.beat, here.bar_length)
        return self._first_bars[at] + int(whole), max(0.0, rest - SLACK_BEATS) + 1.0

    def bars(self, seconds: Floats) -> Ints:
        """The bars (from 1) at several times.

        Args:
            seconds: (N,) times in seconds.

        Returns:
            (N,) what :meth:`bar` gives for each.
        """
        import numpy as np

        if any(tempo.ramp for tempo in self.tempos):
            return np.array([self.bar(float(one))[0] for one in seconds], dtype=np.int64)
        starts = np.array(self._starts_s)
        at = np.maximum(0, np.searchsorted(starts, seconds, side="right") - 1)
        beats = np.array([tempo.beat for tempo in self.tempos])[at]
        beats = beats + (seconds - starts[at]) * np.array([tempo.bpm for tempo in self.tempos])[at] / 60.0 + SLACK_BEATS
        begins = np.array(self._meter_beats)
        of = np.maximum(0, np.searchsorted(begins, beats, side="right") - 1)
        lengths = np.array([meter.bar_length for meter in self.meters])
        whole = np.floor_divide(beats - begins[of], lengths[of])
        return np.asarray(np.array(self._first_bars)[of] + whole.astype(np.int64))

    @cached_property
    def _meter_beats(self) -> list[float]:
        """The beat at which each metre begins."""
        return [meter.beat for meter in self.meters]

    @cached_property
    def _first_bars(self) -> list[int]:
        """The first bar of each metre; a metre change inside a bar cuts that bar short, as every score does."""
        bars = [1]
        for here, after in pairwise(self.meters):
            bars.append(bars[-1] - int(-(after.beat - here.beat) // here.bar_length))
        return bars


def _span_s(here: Tempo, next_bpm: float | None, whole: float, beats: float) -> float:
    """Seconds taken by ``beats`` after ``here``; under a ramp the tempo is linear in beats over ``whole``."""
    if next_bpm is None or not here.ramp or next_bpm == here.bpm:
        return beats * 60.0 / here.bpm
    from math import log1p

    slope = (next_bpm - here.bpm) / whole
    return 60.0 / slope * log1p(slope * beats / here.bpm)
