"""What a file states of its loudness, held against what is measured."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from mixlint.analysis.value import FactValue
from mixlint.media.labels import Stated
from mixlint.session import Unknown, known
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.signal.programme import Programme

NONE_STATED: Final = "none stated"


def loudness_off(stated: Stated, measure: Callable[[], Programme], where: str) -> FactValue:
    """The most that the integrated, momentary and short-term loudness stated are off, LU; 0 where none is stated.

    Args:
        stated: the figures.
        measure: measures the sound; called where there is a figure to hold against it.
        where: the file.

    Raises:
        NotKnown: the sound cannot be measured, or is too short or too quiet for a figure.
    """
    figures = (
        ("integrated", stated.integrated_lufs, lambda found: found.integrated_lufs),
        ("momentary", stated.momentary_lufs, lambda found: found.momentary_lufs),
        ("short-term", stated.short_term_lufs, lambda found: found.short_term_lufs),
    )
    return _worst([(what, one, of, "LUFS") for what, one, of in figures], measure, where)


def range_off(stated: Stated, measure: Callable[[], Programme], where: str) -> FactValue:
    """How far the loudness range stated is off, LU; as :func:`loudness_off`."""
    return _worst([("range", stated.range_lu, lambda found: found.range_lu, "LU")], measure, where)


def true_peak_off(stated: Stated, measure: Callable[[], Programme], where: str) -> FactValue:
    """How far the true peak stated is off, dB; as :func:`loudness_off`."""
    peak = ("true peak", stated.true_peak_dbtp, lambda found: max(found.true_peak_dbtp), "dBTP")
    return _worst([peak], measure, where)


Figure = tuple[str, float | None, "Callable[[Programme], float | None]", str]


def _worst(figures: list[Figure], measure: Callable[[], Programme], where: str) -> FactValue:
    most, notes = 0.0, []
    for what, stated, of, unit in figures:
        if stated is None:
            continue
        own = of(measure())
        if own is None:
            known(Unknown(unknown=f"it is too short or too quiet for the {what} loudness that it states"))
        assert own is not None
        most = max(most, abs(stated - own))
        notes.append(f"{what} {number_text(stated, unit)} stated and {number_text(own, unit)} measured")
    return FactValue(most, "measured", where, ", ".join(notes) or NONE_STATED)
