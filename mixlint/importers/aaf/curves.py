"""What a parameter of an operation says: one value, or values over time; and gains and pans made of it."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import log10
from typing import Any, Final, Literal, NamedTuple

from mixlint.errors import RefusedFile
from mixlint.importers.aaf.ids import HOLDS, LINES
from mixlint.importers.aaf.values import auid, number
from mixlint.session import Unknown
from mixlint.units import LOUDEST_DB, SILENCE_DB

MOST_POINTS: Final = 1_000_000
"""Points of all curves before a file is refused."""

FLAT: Final = 1e-9
"""Values this close are one: fractions over 2^29 and 10^8 are met."""

SILENT: Final = 0.001
"""A factor up to this is silence, −60 dB: from where a gain that rises is a fade."""


class Curve(NamedTuple):
    """Values over time.

    Args:
        t: times, seconds of the song.
        v: values as the file has them.
        shape: how it goes from one point to the next.
    """

    t: tuple[float, ...]
    v: tuple[float, ...]
    shape: Literal["hold", "linear"]

    def ends(self) -> tuple[float, float]:
        """Its lowest and highest value."""
        return min(self.v), max(self.v)


class CurveReader:
    """Reads parameters, and counts their points."""

    def __init__(self) -> None:
        self._points = 0
        self.bent = False

    def read(self, group: Any, wanted: str, start_s: Fraction, length_s: Fraction) -> float | Curve | Unknown | None:
        """A parameter of an operation, by its identity.

        Args:
            group: the operation.
            wanted: the identity.
            start_s: where the operation begins in the song, seconds.
            length_s: how long it lasts; the times of points run from 0 to 1 over it.

        Returns:
            one value, values over time, why there is none, or None where the operation has no such parameter.
        """
        for one in group.getvalue("Parameters") or ():
            if str(one.getvalue("Definition") or "").lower() != wanted:
                continue
            if "PointList" not in one:
                value = number(one.getvalue("Value"))
                return Unknown(unknown="its value in the AAF is no number") if value is None else value
            return self._varying(one, start_s, length_s)
        return None

    def _varying(self, one: Any, start_s: Fraction, length_s: Fraction) -> float | Curve | Unknown:
        points: list[tuple[float, float]] = []
        for point in one.getvalue("PointList") or ():
            self._points += 1
            if self._points > MOST_POINTS:
                raise RefusedFile(f"its curves hold more than {MOST_POINTS} points", do="export a smaller composition")
            at, value = number(point.getvalue("Time")), number(point.getvalue("Value"))
            if at is None or value is None:
                return Unknown(unknown="a point of its curve in the AAF is no number")
            points.append((at, value))
        if not points:
            return Unknown(unknown="its curve in the AAF has no points")
        points.sort(key=lambda point: point[0])
        values = [value for _, value in points]
        if max(values) - min(values) <= FLAT:
            return values[0]
        how = auid(one.getvalue("Interpolation"))
        self.bent = self.bent or how not in (HOLDS, LINES)
        start, length = float(start_s), float(length_s)
        return Curve(
            tuple(round(start + at * length, 9) for at, _ in points),
            tuple(values),
            "hold" if how == HOLDS else "linear",
        )


def decibels(factor: float) -> float | Unknown:
    """A factor as a gain in decibels."""
    if factor < 0.0:
        return Unknown(unknown="its gain in the AAF is negative, which no fader is")
    if factor == 0.0:
        return SILENCE_DB
    gain = 20.0 * log10(factor)
    if gain > LOUDEST_DB:
        return Unknown(unknown=f"its gain in the AAF is {gain:.0f} dB, which no fader reaches")
    return max(SILENCE_DB, round(gain, 6) + 0.0)


def pan_position(value: float) -> float | Unknown:
    """A pan of 0 (left) to 1 (right) as −100 … +100."""
    if not 0.0 <= value <= 1.0:
        return Unknown(unknown=f"its pan in the AAF is {value:g}, and 0 to 1 is the whole way from left to right")
    return round((value - 0.5) * 200.0, 6) + 0.0


class Faded(NamedTuple):
    """A curve of gain that is nothing but fades: the gain between them as a factor, and their lengths, seconds."""

    factor: float
    fade_in_s: float
    fade_out_s: float


def as_fades(curve: Curve, start_s: float, end_s: float) -> Faded | None:
    """A clip's gain over time as fades, where it rises from silence at its start, falls to it at its end, or both.

    Args:
        curve: the gain, factors.
        start_s: where the clip starts.
        end_s: where it ends.

    Returns:
        None where it does anything else.
    """
    if curve.shape != "linear":
        return None
    top = max(curve.v)
    at_top = [n for n, value in enumerate(curve.v) if top - value <= FLAT]
    first, last = at_top[0], at_top[-1]
    before, between, after = curve.v[: first + 1], curve.v[first : last + 1], curve.v[last:]
    rises = first == 0 or (before[0] <= SILENT and all(b > a for a, b in pairwise(before)))
    falls = last == len(curve.v) - 1 or (after[-1] <= SILENT and all(b < a for a, b in pairwise(after)))
    if not rises or not falls or any(top - value > FLAT for value in between):
        return None
    fade_in = max(0.0, curve.t[first] - start_s) if first else 0.0
    fade_out = max(0.0, end_s - curve.t[last]) if last < len(curve.v) - 1 else 0.0
    if fade_in + fade_out > end_s - start_s + 1e-9:
        return None
    return Faded(top, round(fade_in, 9), round(fade_out, 9))
