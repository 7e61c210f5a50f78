"""Low end that does not belong to a part: pops of the breath in a voice, rumble under what has no low notes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.media_use import MediaUse
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import SHOWN, played, players
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FACTS: Facts[MediaUse] = Facts()

LOW_FAMILIES: Final = frozenset(
    {"drums", "percussion", "bass", "keys", "synths", "sound-effects", "backing-tracks", "returns", "buses", "utility"}
)
"""Families whose parts may have low end of their own; the others have none under their lowest note, about 80 Hz."""

STANDS_OUT_DB: Final = 5.0
"""So much more than is usual in the file the K-weighting takes off (ITU-R BS.1770-5, Annex 1) where most of the sound
lies under some 40 Hz. Voices, guitars and strings of nine songs gave 3.1 dB at most, pops and rumble 7.6 and more."""

LEAST_DBFS: Final = -34.0
"""Under this it is hardly heard, whatever stands beside it."""

UNDER_LOUD_DB: Final = 15.0
SHORT: Final = 3
"""A pop lasts three tenths of a second at most; what lasts longer is rumble."""


def _bursts(row: Row[MediaUse]) -> list[tuple[float, float, float]]:
    """Where low end stands out of what heard parts play: seconds of the file, how long, and its level in dBFS."""
    import numpy as np

    from mixlint.signal.runs import runs

    one = played(row)
    measure, plays = one.measure, one.blocks()
    offset = measure.mean.mean(axis=1, keepdims=True)
    swing = measure.power - 2.0 * offset * measure.mean + offset**2  # about the offset, which is no low end
    power = np.where(plays, swing.max(axis=0), 0.0)
    loud = power > 10.0 ** (LEAST_DBFS / 10.0)
    if int(plays.sum()) < 20 or not loud.any():
        return []
    taken = _db(power) - _db(measure.energy.max(axis=0))
    active = plays & (_db(power) > float(np.quantile(_db(power[plays]), 0.95)) - 30.0)
    usual = float(np.median(taken[active]))
    level = float(np.quantile(_db(power[active]), 0.9))
    found = loud & active & (taken >= usual + STANDS_OUT_DB) & (_db(power) >= level - UNDER_LOUD_DB)
    return [
        (a * measure.block_s, (b + 1 - a) * measure.block_s, float(_db(power[a : b + 1]).max())) for a, b in runs(found)
    ]


def _db(power: NDArray[np.float64]) -> NDArray[np.float64]:
    import numpy as np

    return np.asarray(10.0 * np.log10(np.maximum(power, 1e-12)))


@FACTS.fact(
    "number",
    "Bursts and stretches of low end, under some 40 Hz, in a part that has no notes there: pops of the breath, rumble.",
    how="measured",
)
def low_bursts(row: Row[MediaUse]) -> FactValue:
    found = _bursts(row)
    worst = sorted(found, key=lambda one: -one[2])[:SHOWN]
    texts = [f"{played(row).place(row.context, at)} ({number_text(dbfs, 'dBFS')})" for at, _, dbfs in sorted(worst)]
    more = f"; and {len(found) - len(texts)} more" if len(found) > len(texts) else ""
    return FactValue(len(found), "measured", row.subject.where, few_text(texts, SHOWN, between="; ") + more)


@FACTS.fact("word", "Whether they are pops, which last a moment, or rumble.", how="measured", words=("pops", "rumble"))
def low_bursts_are(row: Row[MediaUse]) -> str:
    lengths = [length for _, length, _ in _bursts(row)]
    long = sum(length > SHORT * played(row).measure.block_s * 1.5 for length in lengths)
    return "rumble" if long * 2 > len(lengths) else "pops"


@FACTS.fact("switch", "A heard part that plays it may have notes under some 80 Hz, or is not known.", how="derived")
def may_be_low(row: Row[MediaUse]) -> bool:
    families = {row.context.family(one.id) for one in players(row)}
    return None in families or bool(families & LOW_FAMILIES)
