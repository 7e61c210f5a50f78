"""Numbers, switches and units: how levels and pans are written, and what they mean in decibels and −100…+100."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite, isnan, log10
from typing import Final, Literal

from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import Unknown
from mixlint.units import LOUDEST_DB, SILENCE_DB

USABLE: Final = 1e12
"""Positions, lengths and settings beyond this are no use; they are read as missing."""


def number(text: str | None) -> float | None:
    """A double as the format spells it: ``inf`` and ``-inf`` are legal, an empty text or ``null`` is no value."""
    if text is None:
        return None
    try:
        value = float(text.strip())
    except ValueError:
        return None
    return None if isnan(value) else value


def finite(text: str | None) -> float | None:
    """A number that is neither missing, infinite nor absurdly large."""
    value = number(text)
    return value if value is not None and abs(value) <= USABLE else None


@dataclass(frozen=True, slots=True)
class Real:
    """A real parameter as written. A missing range is an unknown range, not 0 to 1."""

    value: float | None
    low: float | None
    high: float | None
    unit: str

    @property
    def ranged(self) -> bool:
        """True when it states a usable range."""
        return self.low is not None and self.high is not None and self.high > self.low


def real(node: Node, unit: str = "") -> Real:
    """Value, range and unit of a parameter.

    Args:
        node: the parameter.
        unit: overrides the element's own unit; it is in lower case.
    """
    return Real(
        number(node.attrs.get("value")),
        finite(node.attrs.get("min")),
        finite(node.attrs.get("max")),
        unit or node.get("unit").lower(),
    )


def switch(node: Node | None, absent: bool | Unknown, what: str) -> bool | Unknown:
    """Where a switch stands; a missing value is not assumed to be either.

    Args:
        node: the parameter, or None where the file has none.
        absent: what a missing element means.
        what: how a reason names it.
    """
    if node is None:
        return absent
    return truth(node.get("value"), Unknown(unknown=f"the export gives the {what} no value"))


def truth(text: str, otherwise: bool | Unknown) -> bool | Unknown:
    """``true``, ``false``, ``1`` or ``0``; anything else is ``otherwise``."""
    known: dict[str, bool | Unknown] = {"true": True, "1": True, "false": False, "0": False}
    found: bool | Unknown = known.get(text.strip().lower(), otherwise)
    return found


def amplitude_db(amplitude: float) -> float:
    """Decibels of a linear amplitude, −200 for silence."""
    if amplitude <= 0.0:
        return SILENCE_DB
    return max(SILENCE_DB, round(20.0 * log10(amplitude), 4))


@dataclass(frozen=True, slots=True)
class LevelScale:
    """What level figures mean: decibels, or linear amplitude times ``factor``, or not known (``why``)."""

    kind: Literal["dB", "amplitude", "unknown"]
    factor: float = 1.0
    why: str = ""
    assumed: str = ""

    def level_db(self, value: float | None, what: str) -> float | Unknown:
        """A level in dB, at least −200; Unknown where the figure is none or cannot be read.

        Args:
            value: the figure as written.
            what: how a reason names it.
        """
        if value is None:
            return Unknown(unknown=f"the export gives the {what} no value")
        if self.kind == "unknown":
            if value == 0.0 and "travel" in self.why:
                return SILENCE_DB
            return Unknown(unknown=f"{self.why} (it reads {value:g})", settle="look at the level in the session")
        if self.kind == "amplitude":
            if value < 0.0 or not isfinite(value):
                return Unknown(unknown=f"the {what} reads {value:g}, which is no amplitude")
            level = amplitude_db(value * self.factor)
        elif value == float("-inf") or value <= SILENCE_DB:
            return SILENCE_DB
        else:
            level = round(value, 4)
        if level > LOUDEST_DB:
            return Unknown(unknown=f"the {what} reads {level:g} dB, which is no level")
        return level


def level_scale(parameter: Real, what: str) -> LevelScale:
    """How a volume or a send level is to be read, by its unit and range.

    Args:
        parameter: the level as written.
        what: how a reason or an assumption names it.
    """
    unit = parameter.unit
    if unit == "decibel":
        return LevelScale("dB")
    if unit == "percent":
        return LevelScale("amplitude", 0.01)
    if unit == "linear":
        if parameter.high is not None and parameter.high >= 100.0:
            return LevelScale(
                "amplitude", 0.01, assumed=f"The {what} runs to {parameter.high:g}; it was read as per cent."
            )
        return LevelScale("amplitude")
    if unit == "" and parameter.high in (1.0, 2.0):
        return LevelScale("amplitude", assumed=f"The {what} has no unit; it was read as linear, 1 being 0 dB.")
    if unit == "normalized":
        return LevelScale("unknown", why=f"the {what} is given as a share of its travel, whose curve is not known")
    return LevelScale("unknown", why=f"the {what} is given in {unit or 'no unit'}, which says no level")


@dataclass(frozen=True, slots=True)
class PanScale:
    """``pan = slope · value + offset`` on −100…+100, or not known when ``why`` is set."""

    slope: float = 0.0
    offset: float = 0.0
    why: str = ""

    def pan(self, value: float | None) -> float | Unknown:
        """The position, −100 left to +100 right."""
        if value is None:
            return Unknown(unknown="the export gives the pan no value")
        if self.why:
            return Unknown(unknown=self.why, settle="look at the pan in the session")
        position = round(self.slope * value + self.offset, 4)
        if not -100.5 <= position <= 100.5:
            return Unknown(unknown=f"the pan reads {value:g}, outside its range")
        return min(100.0, max(-100.0, position)) + 0.0


def pan_scale(parameter: Real, bipolar: bool) -> PanScale:
    """How a pan is to be read.

    Args:
        parameter: the pan as written.
        bipolar: true when some pan in the file that states no range is negative, so that all of them run −1…+1.
    """
    if parameter.low is not None and parameter.high is not None and parameter.high > parameter.low:
        slope = 200.0 / (parameter.high - parameter.low)
        return PanScale(slope, -100.0 - slope * parameter.low)
    if parameter.unit == "normalized":
        return PanScale(100.0, 0.0) if bipolar else PanScale(200.0, -100.0)
    if parameter.unit == "percent" and (parameter.value is None or parameter.value >= 0.0):
        return PanScale(2.0, -100.0)
    if parameter.unit == "linear":
        return PanScale(100.0, 0.0)
    return PanScale(why=f"the pan is given in {parameter.unit or 'no unit'} and without a range")


def hertz(parameter: Real) -> float | Unknown:
    """A frequency in Hz; semitones are MIDI pitches, 440 Hz at 69 in equal temperament (ISO 16 gives the 440 Hz)."""
    value = parameter.value
    if value is None or not isfinite(value):
        return Unknown(unknown="the export gives the frequency no value")
    if parameter.unit == "hertz" and 0.0 < value < 1e6:
        return round(value, 4)
    if parameter.unit == "semitones" and -60.0 < value < 200.0:
        return round(440.0 * float(2.0 ** ((value - 69.0) / 12.0)), 4)
    return Unknown(unknown=f"the frequency is given as {value:g} {parameter.unit or 'without a unit'}")


def ratio_of(parameter: Real) -> float | Unknown:
    """A compressor's ratio as n in n:1; a ratio in per cent is 100·(1 − 1/n) in the writers seen.

    Small figures in per cent may be n itself, so they stay open.
    """
    value, unit = parameter.value, parameter.unit
    if value is None or not isfinite(value):
        return Unknown(unknown="the export gives the ratio no value")
    if unit == "percent" and 20.0 < value < 100.0:
        return round(1.0 / (1.0 - value / 100.0), 2)
    if unit in ("linear", "") and 1.0 <= value <= 1000.0:
        return value
    return Unknown(unknown=f"the export writes the ratio as {value:g} {unit}, which can be read in more than one way")


def q_of(parameter: Real) -> float | Unknown:
    """A Q, which is a plain number above 0."""
    value = parameter.value
    if value is None or abs(value) > USABLE:
        return Unknown(unknown="the export gives no Q")
    if value <= 0.0 or parameter.unit not in ("linear", ""):
        return Unknown(unknown=f"the export gives a Q of {value:g} {parameter.unit}")
    return value


def seconds_ms(parameter: Real) -> float | Unknown:
    """A time in milliseconds; Unknown where it has no value, or a unit other than seconds."""
    if parameter.value is None or abs(parameter.value) > USABLE:
        return Unknown(unknown="the export gives the time no value")
    if parameter.unit in ("seconds", ""):
        return round(parameter.value * 1000.0, 4)
    return Unknown(unknown=f"the time is given in {parameter.unit}")


def gain_db(node: Node | None, what: str, absent: float | Unknown = 0.0) -> float | Unknown:
    """A gain or threshold in dB, also where it is written as linear amplitude.

    Args:
        node: the parameter, or None where the file has none.
        what: how a reason names it.
        absent: what a missing element means, dB.
    """
    if node is None:
        return absent
    parameter = real(node)
    if parameter.unit in ("decibel", ""):
        return LevelScale("dB").level_db(parameter.value, what)
    return level_scale(parameter, what).level_db(parameter.value, what)
