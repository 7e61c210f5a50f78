"""What a file states of its loudness, held against what is measured."""

from __future__ import annotations

from collections.abc import Callable
from math import log10
from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.mix_prints import programme_of
from mixlint.analysis.value import FactValue
from mixlint.media.labels import Stated
from mixlint.session import NotKnown, Unknown, known
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.signal.programme import Programme

NONE_STATED: Final = "none stated"

BOTH_SIDES_LU: Final = 10.0 * log10(2.0)
"""A sound of one leg that is measured as two, as it is played, is this much louder: ITU-R BS.1770 sums the energies of
left and right. A writer may have measured it either way."""

GATE_LUFS: Final = -70.0
"""ITU-R BS.1770: nothing at or under this counts. A figure of silence is written at it, or under it."""


def stated_in(context: SessionContext, media_id: str) -> Stated:
    """The loudness fields in the ``bext`` chunk of a file (EBU Tech 3285, version 2).

    Raises:
        NotKnown: the audio was not opened, or the file cannot be read.
    """
    return known(NOT_OPENED if context.audio is None else context.audio.labels(media_id)).stated


def measured_of(context: SessionContext, media_id: str) -> Programme:
    """The figures of a file's sound, left and right by its first two legs.

    Raises:
        NotKnown: it cannot be measured, or has more than two legs, which nothing tells apart.
    """
    header = known(NOT_OPENED if context.audio is None else context.audio.header(media_id))
    if header.legs > PLAIN_LEGS:
        raise NotKnown(Unknown(unknown=f"it has {header.legs} legs, and loudness weights them by what each is for"))
    return known(programme_of(context, media_id))


PLAIN_LEGS: Final = 2


def loudness_off(
    stated: Stated, measure: Callable[[], Programme], where: str, *, either_way: bool = False
) -> FactValue:
    """The most that the integrated, momentary and short-term loudness stated are off, LU; 0 where none is stated.

    Args:
        stated: the figures.
        measure: measures the sound; called where there is a figure to hold against it.
        where: the file.
        either_way: of a sound of one leg, which no loudspeaker is named for, a figure holds too that is as high as if
            both sides played it.

    Raises:
        NotKnown: the sound cannot be measured, or is too short or too quiet for a figure.
    """
    figures = (
        ("integrated", stated.integrated_lufs, lambda found: found.integrated_lufs),
        ("momentary", stated.momentary_lufs, lambda found: found.momentary_lufs),
        ("short-term", stated.short_term_lufs, lambda found: found.short_term_lufs),
    )
    return _worst([(what, one, of, "LUFS") for what, one, of in figures], measure, where, either_way)


def range_off(stated: Stated, measure: Callable[[], Programme], where: str) -> FactValue:
    """How far the loudness range stated is off, LU; as :func:`loudness_off`."""
    return _worst([("range", stated.range_lu, lambda found: found.range_lu, "LU")], measure, where)


def true_peak_off(stated: Stated, measure: Callable[[], Programme], where: str) -> FactValue:
    """How far the true peak stated is off, dB; as :func:`loudness_off`."""
    peak = ("true peak", stated.true_peak_dbtp, lambda found: max(found.true_peak_dbtp), "dBTP")
    return _worst([peak], measure, where)


Figure = tuple[str, float | None, "Callable[[Programme], float | None]", str]


def _worst(figures: list[Figure], measure: Callable[[], Programme], where: str, either_way: bool = False) -> FactValue:
    most, notes = 0.0, []
    for what, stated, of, unit in figures:
        if stated is None:
            continue
        found = measure()
        own = of(found)
        if own is None and unit == "LUFS" and stated <= GATE_LUFS:
            notes.append(f"{what} {number_text(stated, unit)} stated and nothing over {number_text(GATE_LUFS, unit)}")
            continue
        if own is None:
            raise NotKnown(Unknown(unknown=f"it is too short or too quiet for the {what} loudness that it states"))
        if either_way and len(found.true_peak_dbtp) == 1:
            own = min(own, own + BOTH_SIDES_LU, key=lambda one: abs(stated - one))
        most = max(most, abs(stated - own))
        notes.append(f"{what} {number_text(stated, unit)} stated and {number_text(own, unit)} measured")
    return FactValue(most, "measured", where, ", ".join(notes) or NONE_STATED)
