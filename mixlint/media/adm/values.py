"""Values as ITU-R BS.2076 writes them."""

from __future__ import annotations

import math
import re
from typing import Final

_TIME: Final = re.compile(r"(\d{1,3}):(\d{1,2}):(\d{1,2})(?:\.(\d{1,12})(?:S(\d{1,9}))?)?", re.ASCII)
_MOST_GAIN_DB: Final = 200.0


def seconds(text: str) -> float:
    """``01:02:03.5``, or with a count of samples ``01:02:03.24000S48000``, in seconds.

    Raises:
        ValueError: it is no time.
    """
    found = _TIME.fullmatch(text.strip())
    if found is None:
        raise ValueError(text)
    hours, minutes, whole, part, of = found.groups()
    fraction = 0.0
    if part:
        fraction = int(part) / int(of) if of and int(of) else float(f"0.{part}")
        if of and (not int(of) or fraction >= 1.0):
            raise ValueError(text)
    return int(hours) * 3600.0 + int(minutes) * 60.0 + int(whole) + fraction


def number(text: str) -> float:
    """A plain number.

    Raises:
        ValueError: it is none, or not finite.
    """
    found = float(text)  # its own error names the text
    if not math.isfinite(found) or abs(found) > 1e6:
        raise ValueError(text)
    return found


def factor(text: str, unit: str) -> float:
    """A gain as a factor; ``unit`` is ``linear`` or ``dB``.

    Raises:
        ValueError: it is none.
    """
    if unit == "dB":
        if text.strip().casefold() in ("-inf", "-infinity"):
            return 0.0
        return float(10.0 ** (min(_MOST_GAIN_DB, number(text)) / 20.0))
    if unit != "linear":
        raise ValueError(unit)
    return number(text)


def switch(text: str) -> bool:
    """``1`` or ``0``, as also ``true`` and ``false`` are written.

    Raises:
        ValueError: it is neither.
    """
    said = text.strip().casefold()
    if said not in ("0", "1", "true", "false"):
        raise ValueError(text)
    return said in ("1", "true")
