"""Where a channel stands at the mix bus, drawn with characters: left to right, the louder the heavier its mark."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.reports.words import value_text
from mixlint.session import Unknown
from mixlint.units import CENTRED, SILENCE_DB

if TYPE_CHECKING:
    from mixlint.facts.channel_sheet import MixPlace

MARKS: Final = ((-10.0, "●", "○"), (-20.0, "•", "◦"), (SILENCE_DB, "∙", "∘"))
"""From which level at the mix bus on, dB, a channel has which mark, and which one where it arrives by effects alone. So
much of a mix lies within 20 dB that two steps tell more than five would."""
TICK, LEFT_END, RIGHT_END = "|", "(", ")"
HARD: Final = 100.0
"""The end of the scale of pan positions."""

LEGEND: Final = (
    "place: where it stands at the mix bus, on a line from left to right with a tick in the centre; ● where it arrives "
    "at −10 dB or more, • at −20 dB or more, ∙ below; ○ ◦ ∘ by effects alone; ( and ) the sides of a stereo channel."
)


def place_line(place: MixPlace, width: int) -> str:
    """The mark of a channel on a line of ``width`` columns, an odd number."""
    line = [" "] * width
    for tick in (0, width // 2, width - 1):
        line[tick] = TICK
    if _is_wide(place):
        line[_column(place.left, width)] = LEFT_END
        line[_column(place.right, width)] = RIGHT_END
    line[_column(place.at, width)] = next(
        wet if place.wet else dry for least, dry, wet in MARKS if max(place.level_db, SILENCE_DB) >= least
    )
    return "".join(line)


def place_text(place: MixPlace | Unknown | None) -> str:
    """The same in words: ``centre, 100 left to 100 right``; why it is not known, or that it never arrives."""
    if place is None:
        return "never reaches the mix bus"
    if isinstance(place, Unknown):
        return f"not seen: {place.unknown}"
    said = value_text(place.at, "pan")
    if _is_wide(place):
        said = f"{said}, {value_text(place.left, 'pan')} to {value_text(place.right, 'pan')}"
    return f"{said}, by effects alone" if place.wet else said


def _is_wide(place: MixPlace) -> bool:
    return abs(place.left - place.right) >= CENTRED


def _column(place: float, width: int) -> int:
    """The column of a place, halves outwards, so that left and right lie alike."""
    half = width // 2
    away = min(int(abs(place) / HARD * half + 0.5), half)
    return half - away if place < 0 else half + away
