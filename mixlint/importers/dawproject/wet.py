"""The wet share of an effect, where a listed parameter gives it by name and unit.

The words are the trade's usual ones for a mix control; common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from mixlint.session import Parameter, Unknown

_SHARE: Final = re.compile(
    r"^(dry\s*[/\-:]?\s*wet|wet\s*[/\-:]?\s*dry|wet|mix|wet\s*mix|mix\s*(amount|wet)|effect\s*mix|fx\s*mix|"
    r"(dry\s*[/\-]?\s*wet|wet\s*[/\-]?\s*dry)\s*mix|(dry\s*[/\-]?\s*wet|wet)\s*(amount|balance|ratio))$",
    re.IGNORECASE,
)
_DRY: Final = re.compile(r"^dry(\s*(level|gain|amount|volume|mix))?$", re.IGNORECASE)
_WET_LEVEL: Final = re.compile(r"^(wet|effect|fx|reverb|delay)(\s*(level|gain|amount|volume|mix))?$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class WetShare:
    """The share in per cent, the parameter it came from, and the per cent that one unit of it makes."""

    value: float | Unknown
    parameter: str = ""
    named: str = ""
    per_unit: float = 1.0


def read_wet_share(parameters: list[Parameter]) -> WetShare | None:
    """The wet share, where a listed parameter speaks of it.

    Args:
        parameters: all listed parameters of one processor.

    Returns:
        The share in per cent, Unknown where a mix control is listed that does not tell it; None where none is listed.
    """
    dry = [one for one in parameters if _DRY.match(one.name.strip())]
    if dry:
        return _apart(dry[0], [one for one in parameters if _WET_LEVEL.match(one.name.strip())])
    shares = [one for one in parameters if _SHARE.match(one.name.strip()) and not isinstance(one.value, bool)]
    if not shares:
        return None
    if len(shares) > 1:
        names = " and ".join(one.name for one in shares)
        return WetShare(Unknown(unknown=f"the export lists more than one mix control ({names})"))
    one = shares[0]
    per_unit = _per_unit(one)
    if isinstance(one.value, Unknown | str):
        return WetShare(Unknown(unknown=f"the export gives {one.name} no value"))
    share = None if per_unit is None else float(one.value) * per_unit
    if per_unit is None or share is None or not -0.01 <= share <= 100.01:
        return WetShare(
            Unknown(
                unknown=f"the export lists {one.name} at {one.value:g} {one.unit or 'without a unit'}, "
                "which tells no wet share",
                settle="look at its mix control",
            )
        )
    return WetShare(round(min(100.0, max(0.0, share)), 4), one.id, one.name, per_unit)


def _per_unit(one: Parameter) -> float | None:
    """How many per cent one unit makes, or None when neither unit nor range tell."""
    if one.unit == "percent":
        return 1.0
    if one.unit == "normalized":
        return 100.0
    if one.unit in ("linear", "") and one.low == 0.0:
        if one.high == 1.0:
            return 100.0
        if one.high == 100.0:
            return 1.0
    return None


def _apart(dry: Parameter, wet: list[Parameter]) -> WetShare:
    """Wet and dry set by two controls: a silent dry side means wholly wet, anything else stays open."""
    silent = (dry.unit in ("linear", "percent", "normalized") and dry.value == 0.0 and dry.value is not False) or (
        dry.unit == "decibel" and isinstance(dry.value, float) and dry.value <= -100.0
    )
    if silent and (not wet or wet[0].value != 0.0):
        return WetShare(100.0, "", dry.name)
    return WetShare(
        Unknown(
            unknown=f"the export lists wet and dry as two controls ({dry.name} is one)",
            settle="look at the two levels, or print the return alone",
        )
    )
