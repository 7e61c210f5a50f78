"""The kinds of settings there are: when two of a kind differ, and which step of its scale a hash takes one to be in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import floor, log2
from typing import Any, Final

from mixlint.comparison.model import Tolerances
from mixlint.naming import fold_name
from mixlint.session import Unknown

FAINT_DB: Final = -90.0
"""Levels below this are alike: six decimals of an amplitude cannot tell them apart."""

SHARE: Final = 0.01
"""The least change of a frequency, a Q, a ratio or a time that counts, as a share (common practice, no source)."""

SPEED_SHARE: Final = 1e-4
"""The least change of speed that counts, as a share: a sixth of a cent."""

WET_STEP: Final = 1.0
"""The least change of a wet share that counts, per cent."""

ROUNDING_S: Final = 1e-6
"""What rounding takes from a time, seconds."""

GOLDEN: Final = 0.6180339887
"""Where in a step its edge lies. No number of few decimals lies there, so rounding does not push one across."""

NOT_KNOWN: Final = "not known"
"""What a hash takes every value that the export does not show for, whatever the reason."""


def step_number(value: object, step: float) -> Any:
    """The number of the step a value lies in.

    Args:
        value: a number in the unit of ``step``; a switch or a word stays as it is.
        step: the size of a step.
    """
    if isinstance(value, bool) or not isinstance(value, float | int):
        return NOT_KNOWN if isinstance(value, Unknown) else value
    return floor(value / step + 1.0 - GOLDEN)


def level_step(value: object) -> Any:
    """A level or gain in dB to a tenth; all that is faint is silent."""
    return "silent" if isinstance(value, float | int) and value <= FAINT_DB else step_number(value, 0.1)


def whole_step(value: object) -> Any:
    """A pan position, −100 … +100, or a percentage, to one."""
    return step_number(value, 1.0)


def time_step(value: object) -> Any:
    """A time in seconds to a millisecond."""
    return step_number(value, 0.001)


def plain_step(value: object) -> Any:
    """A speed, or a number on a scale of its own, to a thousandth."""
    return step_number(value, 1e-3)


def ratio_step(value: object) -> Any:
    """A frequency, Q, ratio or time to within about one per cent."""
    return step_number(log2(value), 0.015) if isinstance(value, float) and value > 0.0 else step_number(value, 0.01)


def word(value: object) -> Any:
    """A switch or a word as it is."""
    return NOT_KNOWN if isinstance(value, Unknown) else value


def level_moved(was: float, now: float) -> float:
    """How far a level moved, dB; nothing between two that cannot be told from silence."""
    return 0.0 if was <= FAINT_DB and now <= FAINT_DB else abs(now - was)


@dataclass(frozen=True, slots=True)
class Quantity:
    """One kind of setting.

    Args:
        hashed: what a hash takes a value for; all values of one step are the same to it, and so are all unknown ones.
        least: by how much two values may differ and still count as the same, in their own unit; None for what is the
            same or is not, such as a switch.
        moved: how far one value lies from another, in their own unit.
    """

    hashed: Callable[[object], Any]
    least: Callable[[float, float, Tolerances], float] | None = None
    moved: Callable[[float, float], float] = lambda was, now: abs(now - was)

    def differ(self, was: Any, now: Any, tolerances: Tolerances) -> bool:
        """True when both values are known and are not the same."""
        if isinstance(was, Unknown) or isinstance(now, Unknown):
            return False
        if self.least is None:
            return bool(was != now)
        return self.moved(was, now) > self.least(was, now, tolerances)

    def distance(self, was: Any, now: Any, tolerances: Tolerances) -> float:
        """How far a value moved, in its own unit; 0 where it is the same, or where that cannot be told."""
        return self.moved(was, now) if self.differ(was, now, tolerances) else 0.0


LEVEL: Final = Quantity(level_step, lambda _was, _now, allowed: allowed.level_db, level_moved)
"""A level or gain that silence is a position of, dB."""

GAIN: Final = Quantity(level_step, lambda _was, _now, allowed: allowed.level_db)
"""A gain, threshold, knee or range inside a processor, dB."""

PAN: Final = Quantity(whole_step, lambda _was, _now, allowed: allowed.pan)
"""A pan position, −100 … +100."""

TIME: Final = Quantity(time_step, lambda _was, _now, allowed: allowed.time_s + ROUNDING_S)
"""A place in the song or in a file, or a length, seconds."""

RATIO: Final = Quantity(ratio_step, lambda was, now, _allowed: SHARE * max(abs(was), abs(now)))
"""What is heard as a ratio: a frequency, Q, slope, n:1, or a time constant in ms."""

SPEED: Final = Quantity(plain_step, lambda was, _now, _allowed: SPEED_SHARE * was)
"""Seconds of a file per second of the song."""

WET: Final = Quantity(whole_step, lambda _was, _now, _allowed: WET_STEP)
"""A wet share, per cent."""

SWITCH: Final = Quantity(word)
"""On or off."""

WORD: Final = Quantity(word)
"""One of a few words, such as the kind of a filter."""

NAME: Final = Quantity(lambda value: fold_name(str(value)))
"""A name, letter case and spacing aside."""
