"""How loud a print is, after the published measures, and against what a house delivers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.mix_prints import MixPrint, programme_of
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.mix_print.against_the_song import place
from mixlint.session import Unknown, known

if TYPE_CHECKING:
    from mixlint.signal.programme import Programme

FACTS: Facts[MixPrint] = Facts()

NONE_STATED: Final = 20.0
"""A target or ceiling that nobody could mean: the house states none."""

LOUDNESS: Final = Setting(
    "print.loudness",
    NONE_STATED,
    "LUFS",
    "The integrated loudness at which the house delivers a mix; 20 where it states none.",
    "none is stated; EBU R 128 has −23 LUFS for broadcast",
    lowest=-60.0,
    highest=NONE_STATED,
)
TRUE_PEAK: Final = Setting(
    "print.true_peak",
    NONE_STATED,
    "dBTP",
    "The highest true peak that the house delivers; 20 where it states none.",
    "none is stated; EBU R 128 has −1 dBTP for broadcast",
    lowest=-60.0,
    highest=NONE_STATED,
)


def _programme(row: Row[MixPrint]) -> Programme:
    return known(programme_of(row.context, row.item.media.id))


def _told(value: float | None, what: str) -> float | Unknown:
    return Unknown(unknown=f"it is too short or too quiet for {what}") if value is None else value


@FACTS.fact("number", "Its integrated loudness (ITU-R BS.1770-5).", unit="LUFS", how="measured")
def integrated_lufs(row: Row[MixPrint]) -> float | Unknown:
    return _told(_programme(row).integrated_lufs, "an integrated loudness")


@FACTS.fact("number", "Its highest short-term loudness, over 3 s (EBU Tech 3341).", unit="LUFS", how="measured")
def short_term_max_lufs(row: Row[MixPrint]) -> FactValue:
    found = _programme(row)
    return FactValue(
        known(_told(found.short_term_lufs, "a short-term loudness")), "measured", place(row, found.short_term_s)
    )


@FACTS.fact("number", "Its highest momentary loudness, over 0.4 s (EBU Tech 3341).", unit="LUFS", how="measured")
def momentary_max_lufs(row: Row[MixPrint]) -> FactValue:
    found = _programme(row)
    return FactValue(
        known(_told(found.momentary_lufs, "a momentary loudness")), "measured", place(row, found.momentary_s)
    )


@FACTS.fact("number", "Its loudness range (EBU Tech 3342).", unit="LU", how="measured")
def loudness_range_lu(row: Row[MixPrint]) -> float | Unknown:
    return _told(_programme(row).range_lu, "a loudness range")


@FACTS.fact("number", "Its true peak (ITU-R BS.1770-5, Annex 2).", unit="dBTP", how="measured")
def true_peak_dbtp(row: Row[MixPrint]) -> float:
    return max(_programme(row).true_peak_dbtp)


@FACTS.fact("switch", "The house states at which loudness it delivers.", settings=(LOUDNESS,))
def loudness_stated(row: Row[MixPrint]) -> bool:
    return row.context.setting(LOUDNESS) < NONE_STATED


@FACTS.fact(
    "number", "How far its loudness is from what the house delivers.", unit="LU", how="measured", settings=(LOUDNESS,)
)
def off_loudness_lu(row: Row[MixPrint]) -> float | Unknown:
    if not row.holds("loudness_stated"):
        return Unknown(unknown="the standard states no loudness", settle="state it under [settings] as print.loudness")
    return abs(row.need("integrated_lufs").number - row.context.setting(LOUDNESS))


@FACTS.fact("number", "The loudness that the house delivers.", unit="LUFS", settings=(LOUDNESS,))
def loudness_wanted_lufs(row: Row[MixPrint]) -> float:
    return row.context.setting(LOUDNESS)


@FACTS.fact("switch", "The house states the highest true peak that it delivers.", settings=(TRUE_PEAK,))
def true_peak_stated(row: Row[MixPrint]) -> bool:
    return row.context.setting(TRUE_PEAK) < NONE_STATED


@FACTS.fact(
    "number",
    "How far its true peak is over what the house delivers; negative is under it.",
    unit="dB",
    how="measured",
    settings=(TRUE_PEAK,),
)
def over_true_peak_db(row: Row[MixPrint]) -> float | Unknown:
    if not row.holds("true_peak_stated"):
        return Unknown(
            unknown="the standard states no true peak", settle="state it under [settings] as print.true_peak"
        )
    return row.need("true_peak_dbtp").number - row.context.setting(TRUE_PEAK)


@FACTS.fact("number", "The highest true peak that the house delivers.", unit="dBTP", settings=(TRUE_PEAK,))
def true_peak_wanted_dbtp(row: Row[MixPrint]) -> float:
    return row.context.setting(TRUE_PEAK)
