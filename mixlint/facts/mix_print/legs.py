"""The two legs of a print: whether both are there, alike, in polarity, and the right way round."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.mix_prints import MixPrint, is_set_of_stems, sum_of_stems
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.media import Measure
from mixlint.session import Unknown, known
from mixlint.units import SILENCE_DB, number_text

FACTS: Facts[MixPrint] = Facts()

DEAD_DB = 60.0
"""A leg this far under the other one holds nothing but noise: a definition."""


def _measure(row: Row[MixPrint]) -> Measure:
    audio = row.context.audio
    return known(NOT_OPENED if audio is None else audio.measure(row.item.media.id))


@FACTS.fact("number", "How many legs it has.", how="measured")
def legs(row: Row[MixPrint]) -> int:
    return _measure(row).legs


def _energies(row: Row[MixPrint]) -> tuple[float, float, float]:
    """Energy of left and right, and their product, over its whole length.

    Raises:
        NotKnown: it has not two legs, or is silent.
    """
    measure = _measure(row)
    if measure.legs != 2:
        known(Unknown(unknown=f"it has {measure.legs} {'leg' if measure.legs == 1 else 'legs'}"))
    left, right = (float(one) for one in measure.power.sum(axis=1))
    if left + right <= 0.0:
        known(Unknown(unknown="it is silent"))
    return left, right, float(measure.product.sum())


@FACTS.fact(
    "word", "Which leg holds nothing while the other one sounds.", how="measured", words=("none", "left", "right")
)
def dead_leg(row: Row[MixPrint]) -> FactValue:
    left, right, _ = _energies(row)
    floor = 10.0 ** (-DEAD_DB / 10.0)
    word = "left" if left < floor * right else "right" if right < floor * left else "none"
    return FactValue(word, "measured", row.subject.where)


@FACTS.fact("number", "How its legs correlate, −1 … 1, over its whole length.", how="measured")
def correlation(row: Row[MixPrint]) -> float:
    left, right, both = _energies(row)
    return max(-1.0, min(1.0, both / (left * right) ** 0.5)) if left * right > 0.0 else 0.0


@FACTS.fact("number", "How much louder left is than right.", unit="dB", how="measured")
def left_over_right_db(row: Row[MixPrint]) -> float:
    from math import log10

    left, right, _ = _energies(row)
    return max(SILENCE_DB, min(-SILENCE_DB, 10.0 * log10(max(left, 1e-20) / max(right, 1e-20))))


@FACTS.fact("switch", "Both its legs are one and the same, though the session or the stems are stereo.", how="measured")
def mono_by_mistake(row: Row[MixPrint]) -> FactValue:
    measure = _measure(row)
    alike = measure.legs == 1 or (measure.legs == 2 and known(measure.difference_db) <= ALIKE_DB)
    if not alike:
        return FactValue(False, "measured", row.subject.where)
    wide = known(_is_wide(row.context, row.item))
    return FactValue(bool(wide), "measured", row.subject.where, wide)


ALIKE_DB = -90.0
"""Legs that differ by no more than this are one: the rounding of 16 bits. A definition."""


@per_session
def _is_wide(context: SessionContext, printed: MixPrint) -> str | Unknown:
    """What of the session or of the stems is not the same on both sides; empty where nothing is."""
    if is_set_of_stems(context):
        if context.audio is None:
            return NOT_OPENED
        for media in context.session.media:
            measure = context.audio.measure(media.id)
            if media.id == printed.media.id or isinstance(measure, Unknown) or measure.legs != 2:
                continue
            apart = measure.difference_db
            if not isinstance(apart, Unknown) and apart > WIDE_DB:
                return f"{context.name(media.id)} differs by {number_text(apart, 'dB')} between its legs"
        return ""
    found = _balance_of_session(context)
    if isinstance(found, Unknown):
        return found
    left, right = found
    apart = abs(left - right) / (left + right + 1e-30)
    loudest = float(apart[(left + right) > 1e-6 * float((left + right).max(initial=0.0))].max(initial=0.0))
    return "the session leans to one side in places" if loudest > LEANING else ""


WIDE_DB = -40.0
LEANING = 0.05
"""Legs that differ by more than this in one stem, or sides that do so by this share at the mix bus: definitions."""


@per_session
def _balance_of_session(context: SessionContext):  # type: ignore[no-untyped-def]
    """Left and right energy at the mix bus of the session over its time grid, (T,) each."""
    from mixlint.analysis.energy import energy_at_mix

    found = known(energy_at_mix(context))
    if not found or not any(one.measured for one in found):
        return Unknown(unknown="no part of the session was measured", settle="review it with its audio")
    return sum(one.left for one in found), sum(one.right for one in found)


@FACTS.fact("switch", "Its left and right are those of the session or of the stems.", how="measured")
def sides_kept(row: Row[MixPrint]) -> FactValue | Unknown:
    context = row.context
    if is_set_of_stems(context):
        found = known(sum_of_stems(context))
        inside = [one for one in found.stems.values() if one.sounds and one.copy_of is None and abs(one.gain) >= 0.1]
        if not inside:
            return Unknown(unknown="no stem is found in it")
        swapped = sum(one.swapped for one in inside)
        return FactValue(swapped * 2 <= len(inside), "measured", row.subject.where, f"{swapped} of {len(inside)} stems")
    return _as_session(row)


def _as_session(row: Row[MixPrint]) -> FactValue | Unknown:
    """Whether the print leans from moment to moment to the side to which the session leans."""
    import numpy as np

    from mixlint.analysis.activity import time_grid

    left, right = known(_balance_of_session(row.context))
    measure = _measure(row)
    if measure.legs != 2:
        return Unknown(unknown="it has not two legs")
    at = row.item.channel
    clips = row.context.channels[at].clips if at else ()
    origin = (
        clips[0].start_s - (clips[0].offset_s if not isinstance(clips[0].offset_s, Unknown) else 0.0) if clips else 0.0
    )
    energy = measure.energy_at(time_grid(row.context) - origin)
    heard = (energy.sum(axis=0) > 1e-6) & (left + right > 0.0)
    if np.count_nonzero(heard) < LEAST_STEPS:
        return Unknown(unknown="too little of the session and the print plays at the same time")
    lean = ((left - right) / (left + right + 1e-30))[heard]
    own = ((energy[0] - energy[1]) / energy.sum(axis=0).clip(1e-30))[heard]
    if min(float(lean.std()), float(own.std())) < 0.02:
        return Unknown(unknown="neither side is louder anywhere, so that they cannot be told apart")
    same = float(np.corrcoef(lean, own)[0, 1])
    if abs(same) < SURE:
        return Unknown(unknown="the session and the print do not lean alike, nor contrariwise")
    return FactValue(same > 0.0, "measured", row.subject.where, f"they lean {'alike' if same > 0 else 'contrariwise'}")


LEAST_STEPS = 20
SURE = 0.6
"""So many steps of time, and such a correlation of the lean, tell left from right: definitions."""
