"""Units and how a number is written with them.

A unit is one of: ``dB`` (a gain or a difference), ``dBFS`` (sample level re full scale), ``dBTP`` (true peak),
``LUFS`` (loudness), ``LU`` (loudness difference), ``Hz``, ``s`` (seconds), ``ms``, ``%``, ``pan``
(−100 left … +100 right), ``bpm``, ``dB/oct``, ``:1`` (ratio) or the empty string (a bare count or word).
"""

from __future__ import annotations

from typing import Final

SILENCE_DB: Final = -200.0
"""A level at or below this is silence: a fader fully down. Kept finite so that infinity never enters a file."""

LOUDEST_DB: Final = 200.0
"""A level or gain beyond this is none: the file is wrong (from memory: desks and converters stay below +60 dB)."""

UNITS: Final = (
    "dB", "dBFS", "dBTP", "LUFS", "LU", "Hz", "s", "ms", "%", "pan", "bpm", "dB/oct", ":1", "",
)  # fmt: skip

MINUS: Final = "\N{MINUS SIGN}"


def pan_text(pan: float) -> str:
    """Write a pan position the way a desk is read: ``50 left``, ``30 right``, ``centre``."""
    if abs(pan) < 0.5:
        return "centre"
    return f"{abs(pan):.0f} {'left' if pan < 0 else 'right'}"


def number_text(value: float, unit: str = "") -> str:
    """Write ``value`` with a true minus sign, trimmed decimals and its unit; silence reads ``−∞ dB``."""
    if unit == "pan":
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
    return f"{body} {unit}"


def clock_text(seconds: float) -> str:
    """Write a position in the song as minutes and seconds: ``2:05.3``."""
    minutes, rest = divmod(round(abs(seconds), 1), 60.0)
    sign = MINUS if seconds < 0 else ""
    return f"{sign}{int(minutes)}:{rest:04.1f}"
