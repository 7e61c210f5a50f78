"""Units, and how values are written with them: the one writer for messages, columns and JSON notes.

A unit is one of: ``dB`` (a gain or a difference), ``dBFS`` (sample level re full scale), ``dBTP`` (true peak),
``LUFS`` (loudness), ``LU`` (loudness difference), ``Hz``, ``s`` (seconds), ``ms``, ``%``, ``pan`` (a position,
−100 left … +100 right), ``pan distance`` (how far two positions lie apart, 0 … 200), ``bpm``, ``dB/oct``, ``:1``
(ratio) or the empty string (a bare count or word).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

SILENCE_DB: Final = -200.0
"""A level at or below this is silence: a fader fully down. Kept finite so that infinity never enters a file."""

LOUDEST_DB: Final = 200.0
"""A level or gain beyond this is none: the file is wrong (from memory: desks and converters stay below +60 dB)."""

CENTRED: Final = 0.5
"""A pan position nearer to 0 than this is the centre, in texts and in every question: it rounds to 0."""

PAN: Final = "pan"
PAN_DISTANCE: Final = "pan distance"

UNITS: Final = (
    "dB", "dBFS", "dBTP", "LUFS", "LU", "Hz", "s", "ms", "%", PAN, PAN_DISTANCE, "bpm", "dB/oct", "cents", ":1", "",
)  # fmt: skip

DIFFERENCES: Final = {"LUFS": ("LU", "dB"), "dBFS": ("dB",), "dBTP": ("dB",), PAN: (PAN_DISTANCE,)}
"""Units in which the distance between two values of a unit may be given beside that unit itself; the best first."""

MINUS: Final = "\N{MINUS SIGN}"

Writable = float | int | bool | str | Sequence[float | int | bool | str] | None
"""What :func:`value_text` can write; None stands for a value that is not known."""


def pan_text(pan: float) -> str:
    """Write a pan position the way a desk is read: ``50 left``, ``30 right``, ``centre``."""
    if abs(pan) < CENTRED:
        return "centre"
    return f"{abs(pan):.0f} {'left' if pan < 0 else 'right'}"


def number_text(value: float, unit: str = "") -> str:
    """Write ``value`` with a true minus sign, trimmed decimals and its unit; silence reads ``−∞ dB``.

    A pan position is written as a side, and a distance between two as a bare number.

    Args:
        value: a finite number.
        unit: one of :data:`UNITS`.
    """
    if unit == PAN:
        return pan_text(value)
    if unit in ("dB", "dBFS", "dBTP", "LUFS") and value <= SILENCE_DB:
        body = f"{MINUS}∞"
    elif unit == "Hz":
        body = f"{value:,.0f}".replace(",", " ") if abs(value) >= 100 else f"{value:.4g}"
    else:
        body = f"{value:.2f}".rstrip("0").rstrip(".") if abs(value) < 10 else f"{value:.1f}".removesuffix(".0")
    body = body.replace("-", MINUS)
    if body == f"{MINUS}0":
        body = "0"
    if unit in ("", ":1"):
        return f"{body}{unit}"
    return body if unit == PAN_DISTANCE else f"{body} {unit}"


def value_text(
    value: Writable, unit: str = "", *, bare: bool = False, ends: bool = False, unknown: str = "not known"
) -> str:
    """Write any value a fact, a limit or a setting can have.

    Args:
        value: a number, switch, text or list of these; None where it is not known.
        unit: one of :data:`UNITS`.
        bare: leave the unit out, since the text around it or the column beside it says it.
        ends: two numbers are the ends of a range (``−1 … 1``), not two members of a list (``−1, 1``).
        unknown: what stands for None.

    Returns:
        ``−9.5 dB``, ``4:1``, ``50 left``, ``yes``, ``none`` for an empty list. Several numbers carry their unit once,
        at the end: ``440, 1 250 Hz``.
    """
    if value is None:
        return unknown
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    if isinstance(value, int | float):
        return _bare(value, unit) if bare else number_text(value, unit)
    numbers = [one for one in value if isinstance(one, int | float) and not isinstance(one, bool)]
    between = " … " if ends and len(value) == 2 and len(numbers) == 2 else ", "
    body = between.join(value_text(one, unit, bare=True) for one in value) or "none"
    if bare or not numbers or unit in ("", PAN, PAN_DISTANCE):
        return body
    return f"{body}{unit}" if unit == ":1" else f"{body} {unit}"


def _bare(value: float, unit: str) -> str:
    """A number without its unit."""
    return number_text(value, unit).removesuffix(unit).rstrip() if unit else number_text(value)


def difference_unit(unit: str) -> str:
    """The unit of the distance between two values of a unit: ``LU`` for ``LUFS``, ``dB`` for ``dB``."""
    return DIFFERENCES.get(unit, (unit,))[0]


def few_text(texts: Sequence[str], most: int = 3, *, between: str = ", ", joint: str = "", none: str = "none") -> str:
    """The first few of several texts, the others counted.

    Args:
        texts: what to list.
        most: up to so many are written out: wording, so that no setting asks for it.
        between: what parts them; ``"; "`` where they hold commas.
        joint: what parts the count from them; a space after commas and else the same, unless given.
        none: what is written where there are none.

    Returns:
        ``Kick, Snare, Hat and 2 more``, or with ``between="; "``: ``0:10 to 0:12; 0:40 to 0:41; and 1 more``.
    """
    if not texts:
        return none
    more = len(texts) - most
    joint = joint or (" " if between == ", " else between)
    return between.join(texts[:most]) + (f"{joint}and {more} more" if more > 0 else "")


def clock_text(seconds: float) -> str:
    """Write a position in the song as minutes and seconds: ``2:05.3``."""
    minutes, rest = divmod(round(abs(seconds), 1), 60.0)
    sign = MINUS if seconds < 0 else ""
    return f"{sign}{int(minutes)}:{rest:04.1f}"
