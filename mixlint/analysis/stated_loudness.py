"""What a file states of its loudness, held against what is measured."""

from __future__ import annotations

from mixlint.analysis.value import FactValue
from mixlint.session import Unknown, known
from mixlint.units import number_text


def off_by(stated: float | None, measured: float | Unknown | None, what: str, unit: str) -> FactValue:
    """How far a stated figure is off the measured one, with both as a note.

    Args:
        stated: the figure; None for none.
        measured: what is measured; None where the sound is too short or too quiet for it.
        what: how reasons call it.
        unit: of both.

    Raises:
        NotKnown: one of them is not there.
    """
    if stated is None:
        known(Unknown(unknown=f"it states no {what}"))
    if measured is None:
        known(Unknown(unknown=f"it is too short or too quiet for a {what}"))
    assert stated is not None
    assert measured is not None
    own = known(measured)
    note = f"{number_text(stated, unit)} stated, {number_text(own, unit)} measured"
    return FactValue(abs(stated - own), "measured", "", note)
