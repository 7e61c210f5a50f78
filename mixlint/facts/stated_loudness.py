"""What a file states of its loudness, against what is measured, as facts of whatever table has files in its rows."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from mixlint.analysis.stated_loudness import loudness_off, range_off, true_peak_off
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.media.labels import Stated
from mixlint.signal.programme import Programme


def declare_stated(
    facts: Facts[Any], inside: str, stated: Callable[[Row[Any]], Stated], measured: Callable[[Row[Any]], Programme]
) -> None:
    """Declare how far the loudness, the range and the true peak that a file states are off.

    Args:
        facts: the declarations of a table.
        inside: where they are written, for the vocabulary.
        stated: the figures of a row's file.
        measured: measures its sound.
    """

    @facts.fact(
        "number",
        f"The most that the integrated, momentary and short-term loudness written into {inside} are off; 0 for none.",
        unit="LU",
        how="measured",
    )
    def stated_loudness_off_lu(row: Row[Any]) -> FactValue:
        return loudness_off(stated(row), lambda: measured(row), row.subject.where, either_way=True)

    @facts.fact(
        "number", f"How far the loudness range written into {inside} is off; 0 for none.", unit="LU", how="measured"
    )
    def stated_range_off_lu(row: Row[Any]) -> FactValue:
        return range_off(stated(row), lambda: measured(row), row.subject.where)

    @facts.fact("number", f"How far the true peak written into {inside} is off; 0 for none.", unit="dB", how="measured")
    def stated_true_peak_off_db(row: Row[Any]) -> FactValue:
        return true_peak_off(stated(row), lambda: measured(row), row.subject.where)
