"""Processors whose figures lie where none of their kind is ever set: a digit, a sign or a unit slipped."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Final

from mixlint.analysis.inserts import active_bands
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import FLAT, HIDDEN, NARROW_Q, ChannelInsert, band_text
from mixlint.naming import fold_name
from mixlint.naming.setting_reading import is_plainly, listed_db, number_of
from mixlint.routing import acting_inserts
from mixlint.session import EqualizerBand, Insert, Unknown, is_known
from mixlint.units import number_text

FACTS: Facts[ChannelInsert] = Facts()


@FACTS.fact("number", "Its threshold, as its dynamics or its parameters give it.", unit="dBFS")
def any_threshold_dbfs(row: Row[ChannelInsert]) -> float | Unknown:
    insert = row.item.insert
    if insert.dynamics is not None:
        return insert.dynamics.threshold_db
    listed = listed_db(insert, "threshold", row.context.house.vocabulary)
    return HIDDEN if listed is None else listed


@FACTS.fact("number", "Its attack time.", unit="ms")
def attack_ms(row: Row[ChannelInsert]) -> float | Unknown:
    own = row.item.insert.dynamics
    return HIDDEN if own is None else own.attack_ms


@FACTS.fact("text", "Its threshold, ratio, range and times, for a reader.")
def dynamics_text(row: Row[ChannelInsert]) -> str:
    own = row.item.insert.dynamics
    listed = row.value("any_threshold_dbfs")
    found = [f"threshold {number_text(listed.number, 'dBFS')}"] if isinstance(listed, FactValue) else []
    if own is not None:
        for text, value, unit in (
            ("ratio", own.ratio, ":1"),
            ("range", own.range_db, "dB"),
            ("attack", own.attack_ms, "ms"),
            ("release", own.release_ms, "ms"),
        ):
            if is_known(value):
                found.append(f"{text} {number_text(value, unit)}")
    return ", ".join(found) or "nothing is listed"


@FACTS.fact("number", "The frequency that a de-esser lists.", unit="Hz")
def esses_hz(row: Row[ChannelInsert]) -> float | Unknown:
    if row.need("kind").value != "de-esser":
        return Unknown(unknown="it is no de-esser")
    for one in row.item.insert.parameters:
        number = number_of(one)
        if number is not None and number[1] == "Hz" and is_plainly(one, "frequency", row.context.house.vocabulary):
            return number[0]
    return HIDDEN


WIDEST: Final = Setting("equalizer.widest_q", 0.2, "", "A bell with a Q of no more than this lifts or lowers all.")
NARROWEST: Final = Setting("equalizer.narrowest_q", 15.0, "", "From this Q on a cut is a notch, and deep.", lowest=1.0)
NOTCH: Final = Setting("equalizer.least_notch", 5.0, "dB", "A notch that takes less than this is none.")


def _odd(row: Row[ChannelInsert], band: EqualizerBand) -> bool:
    """True for a bell so wide that it is a fader, or so narrow that it whistles, or is heard by nobody."""
    if band.kind != "bell" or not is_known(band.q) or not is_known(band.gain_db):
        return False
    setting = row.context.setting
    if abs(band.gain_db) <= setting(FLAT):
        return False
    shallow = -setting(NOTCH) < band.gain_db < 0.0 and band.q >= setting(NARROWEST)
    return band.q <= setting(WIDEST) or shallow or (band.gain_db > 0.0 and band.q > setting(NARROW_Q))


@FACTS.fact(
    "text",
    "A bell that is far too wide or too narrow for what it does, or none.",
    settings=(FLAT, NARROW_Q, NARROWEST, NOTCH, WIDEST),
)
def odd_width(row: Row[ChannelInsert]) -> str:
    odd = (f"{band_text(band)} with a Q of {number_text(float(band.q))}" for band in active_bands(row.item.insert)
           if _odd(row, band) and is_known(band.q))  # fmt: skip
    return next(odd, "none")


@FACTS.fact("number", "The highest low cut among its bands.", unit="Hz")
def own_low_cut_hz(row: Row[ChannelInsert]) -> float | Unknown:
    found = [b.freq_hz for b in active_bands(row.item.insert) if b.kind == "high-pass" and is_known(b.freq_hz)]
    return max(found) if found else Unknown(unknown="it shows no low cut")


@FACTS.fact("number", "The lowest high cut among its bands.", unit="Hz")
def own_high_cut_hz(row: Row[ChannelInsert]) -> float | Unknown:
    found = [b.freq_hz for b in active_bands(row.item.insert) if b.kind == "low-pass" and is_known(b.freq_hz)]
    return min(found) if found else Unknown(unknown="it shows no high cut")


@FACTS.fact("text", "Its low cut and its high cut, for a reader.")
def cuts_text(row: Row[ChannelInsert]) -> str:
    found = []
    for fact, text in (("own_low_cut_hz", "cuts off all under"), ("own_high_cut_hz", "cuts off all over")):
        value = row.value(fact)
        if isinstance(value, FactValue):
            found.append(f"{text} {number_text(value.number, 'Hz')}")
    return " and ".join(found) or "cuts off nothing"


def _as_set(insert: Insert) -> Hashable | None:
    """What an insert is and how it is set; None where the export neither shows nor saves its settings."""
    saved = insert.saved.content if insert.saved is not None and is_known(insert.saved.content) else ""
    if insert.equalizer is None and insert.dynamics is None and not insert.parameters and not saved:
        return None
    same = {"id": "", "where": "", "on": True, "saved": None, "name": fold_name(insert.name)}
    return insert.model_copy(update=same).model_dump_json(), saved


@FACTS.fact(
    "switch", "Another one before it on its channel is the same, and set the same, to the digit.", how="derived"
)
def stands_again(row: Row[ChannelInsert]) -> bool:
    own = _as_set(row.item.insert)
    before = (insert for place, insert in acting_inserts(row.item.channel).items() if place < row.item.place)
    return own is not None and any(_as_set(insert) == own for insert in before)
