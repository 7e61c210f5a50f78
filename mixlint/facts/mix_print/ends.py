"""How a print begins and ends."""

from __future__ import annotations

from mixlint.analysis.file_ends import FileEnds, file_ends
from mixlint.analysis.mix_prints import MixPrint
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import known
from mixlint.units import number_text

FACTS: Facts[MixPrint] = Facts()


def _ends(row: Row[MixPrint]) -> FileEnds:
    return known(file_ends(row.context, row.item.media.id))


@FACTS.fact(
    "number", "How far its last 10 ms lie under the half second before: a fade falls.", unit="dB", how="measured"
)
def end_falls_db(row: Row[MixPrint]) -> float:
    found = _ends(row)
    return found.before_dbfs - found.last_dbfs


@FACTS.fact("number", "The peak of its last 10 ms.", unit="dBFS", how="measured")
def end_dbfs(row: Row[MixPrint]) -> FactValue:
    found = _ends(row)
    return FactValue(found.last_dbfs, "measured", row.subject.where, number_text(found.last_dbfs, "dBFS"))


@FACTS.fact("number", "How far the peak of its last 10 ms lies under its highest.", unit="dB", how="measured")
def end_under_peak_db(row: Row[MixPrint]) -> float:
    found = _ends(row)
    return found.peak_dbfs - found.last_dbfs


@FACTS.fact("number", "The level of its first millisecond, RMS.", unit="dBFS", how="measured")
def start_dbfs(row: Row[MixPrint]) -> float:
    return _ends(row).first_dbfs


@FACTS.fact("number", "How much louder the 50 ms behind its first one are: an attack grows.", unit="dB", how="measured")
def start_grows_db(row: Row[MixPrint]) -> float:
    found = _ends(row)
    return found.after_dbfs - found.first_dbfs


@FACTS.fact(
    "number",
    "Its first sample, as a share of the peak of its first 5 ms: a sound begins near zero.",
    unit="%",
    how="measured",
)
def start_step_percent(row: Row[MixPrint]) -> float:
    return 100.0 * _ends(row).step


@FACTS.fact("number", "For how long it is silent before its first sound.", unit="s", how="measured")
def lead_s(row: Row[MixPrint]) -> float:
    return _ends(row).lead_s


@FACTS.fact("number", "For how long it is silent after its last sound.", unit="s", how="measured")
def dead_air_s(row: Row[MixPrint]) -> float:
    return _ends(row).tail_s
