"""Left against right in the lows, the middle and the highs of the mix."""

from __future__ import annotations

from mixlint.analysis.balance import QUIET, STRETCH
from mixlint.analysis.band_balance import LEAST, BandBalance, bands_by_energy, bands_by_samples, worst_band
from mixlint.analysis.mono_fold import SETTINGS
from mixlint.analysis.value import How
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown, known

FACTS: Facts[Channel | Unknown] = Facts()


def _by_energy(row: Row[Channel | Unknown], name: str) -> FactValue:
    return _balance(row, known(bands_by_energy(row.context)), name, "derived")


def _by_samples(row: Row[Channel | Unknown], name: str) -> FactValue:
    return _balance(row, known(bands_by_samples(row.context)), name, "measured")


def _balance(row: Row[Channel | Unknown], bands: tuple[BandBalance, ...], name: str, how: How) -> FactValue:
    one = next(one for one in bands if one.name == name)
    return FactValue(one.db, how, row.subject.where, one.text)


def _furthest(bands: tuple[BandBalance, ...]) -> BandBalance:
    return max(bands, key=lambda one: one.beyond_db)


@FACTS.fact(
    "number",
    "The left of its lows, under 180 Hz, over their right, the energies of its parts added; positive is heavier left.",
    unit="dB",
    how="derived",
    settings=(*SETTINGS, LEAST),
)
def low_balance_db(row: Row[Channel | Unknown]) -> FactValue:
    return _by_energy(row, "low")


@FACTS.fact(
    "number",
    "The same of its middle, 180 Hz to 2.8 kHz.",
    unit="dB",
    how="derived",
    settings=(*SETTINGS, LEAST),
)
def mid_balance_db(row: Row[Channel | Unknown]) -> FactValue:
    return _by_energy(row, "mid")


@FACTS.fact("number", "The same of its highs, over 2.8 kHz.", unit="dB", how="derived", settings=(*SETTINGS, LEAST))
def high_balance_db(row: Row[Channel | Unknown]) -> FactValue:
    return _by_energy(row, "high")


@FACTS.fact(
    "number",
    "How much further its lows, middle or highs lean to a side than the whole mix does, of the three the furthest.",
    unit="dB",
    how="derived",
    settings=(*SETTINGS, LEAST),
)
def band_lean_db(row: Row[Channel | Unknown]) -> FactValue:
    one = _furthest(known(bands_by_energy(row.context)))
    return FactValue(one.beyond_db, "derived", row.subject.where, one.text)


@FACTS.fact(
    "number",
    "The same in the stretch of the song where one of them leans furthest.",
    unit="dB",
    how="derived",
    settings=(*SETTINGS, LEAST, STRETCH, QUIET),
)
def worst_band_lean_db(row: Row[Channel | Unknown]) -> FactValue:
    found = known(worst_band(row.context))
    return FactValue(found.beyond_db, "derived", row.subject.where, found.text)


@FACTS.fact(
    "number",
    "The left of its lows over their right, its parts added sample by sample in stretches over the song; not known "
    "where the session does not show all of it.",
    unit="dB",
    how="measured",
    settings=(LEAST,),
)
def summed_low_balance_db(row: Row[Channel | Unknown]) -> FactValue:
    return _by_samples(row, "low")


@FACTS.fact("number", "The same of its middle.", unit="dB", how="measured", settings=(LEAST,))
def summed_mid_balance_db(row: Row[Channel | Unknown]) -> FactValue:
    return _by_samples(row, "mid")


@FACTS.fact("number", "The same of its highs.", unit="dB", how="measured", settings=(LEAST,))
def summed_high_balance_db(row: Row[Channel | Unknown]) -> FactValue:
    return _by_samples(row, "high")


@FACTS.fact(
    "number",
    "How much further its lows, middle or highs lean than the whole mix, its parts added sample by sample.",
    unit="dB",
    how="measured",
    settings=(LEAST,),
)
def summed_band_lean_db(row: Row[Channel | Unknown]) -> FactValue:
    one = _furthest(known(bands_by_samples(row.context)))
    return FactValue(one.beyond_db, "measured", row.subject.where, one.text)
