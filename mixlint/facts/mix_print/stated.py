"""What the chunks of a print state of its loudness (EBU Tech 3285), against what it has."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.mix_prints import MixPrint, programme_of
from mixlint.analysis.stated_loudness import loudness_off, range_off, true_peak_off
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.media.labels import NOTHING_STATED, Stated
from mixlint.session import known

if TYPE_CHECKING:
    from mixlint.signal.programme import Programme

FACTS: Facts[MixPrint] = Facts()


def _stated(row: Row[MixPrint]) -> Stated:
    audio = row.context.audio
    return known(NOT_OPENED if audio is None else audio.labels(row.item.media.id)).stated


def _measured(row: Row[MixPrint]) -> Programme:
    return known(programme_of(row.context, row.item.media.id))


@FACTS.fact("switch", "A loudness, a range or a true peak is written into its file.", how="measured")
def states_loudness(row: Row[MixPrint]) -> bool:
    return _stated(row) != NOTHING_STATED


@FACTS.fact(
    "number",
    "The most that the integrated, momentary and short-term loudness written into it are off; 0 for none.",
    unit="LU",
    how="measured",
)
def stated_loudness_off_lu(row: Row[MixPrint]) -> FactValue:
    return loudness_off(_stated(row), lambda: _measured(row), row.subject.where)


@FACTS.fact("number", "How far the loudness range written into it is off; 0 for none.", unit="LU", how="measured")
def stated_range_off_lu(row: Row[MixPrint]) -> FactValue:
    return range_off(_stated(row), lambda: _measured(row), row.subject.where)


@FACTS.fact("number", "How far the true peak written into it is off; 0 for none.", unit="dB", how="measured")
def stated_true_peak_off_db(row: Row[MixPrint]) -> FactValue:
    return true_peak_off(_stated(row), lambda: _measured(row), row.subject.where)
