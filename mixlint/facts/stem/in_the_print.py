"""Where and how a stem is in the print of the mix, by the sound of all stems together."""

from __future__ import annotations

from math import log10
from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED, file_name, media_of
from mixlint.analysis.mix_prints import mix_prints, stem_files, sum_of_stems
from mixlint.analysis.settings import Setting
from mixlint.analysis.stem_copies import StemCopy, stem_copies
from mixlint.analysis.stem_levels import ABSENT
from mixlint.analysis.stem_sum import StemFit, StemSum, level_error_db
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import MediaFile, NotKnown, Unknown, known
from mixlint.units import clock_text, few_text, number_text

FACTS: Facts[MediaFile] = Facts()

COPY_LEFT_DB: Final = Setting(
    "stems.copy_left",
    -40.0,
    "dB",
    "One stem is a copy of another when no more than this is left of it after the other is taken away.",
    lowest=-120.0,
    highest=-6.0,
)


def _print_name(context: SessionContext) -> str:
    return file_name(mix_prints(context)[0].media.path)


def _fit(row: Row[MediaFile]) -> tuple[StemSum, StemFit]:
    """The sum of the set and this stem's place in it.

    Raises:
        NotKnown: there is no print, it or the stem cannot be read, or the stem is silent.
    """
    total = known(sum_of_stems(row.context))
    found = total.stems.get(row.item.id)
    if found is None:
        audio = row.context.audio
        why = NOT_OPENED if audio is None else audio.measure(row.item.id)
        raise NotKnown(why if isinstance(why, Unknown) else Unknown(unknown="it is no stem of this set"))
    if not found.sounds:
        raise NotKnown(Unknown(unknown="it is silent", settle="print it again"))
    if found.copy_of is not None:
        raise NotKnown(
            Unknown(
                unknown=f"it cannot be told apart from {_named(row.context, found.copy_of)}", settle="print it again"
            )
        )
    return total, found


def _named(context: SessionContext, media_id: str) -> str:
    media = media_of(context, media_id)
    return file_name(media.path) if media is not None else media_id


@FACTS.fact("switch", "There is a print of the mix to hold it against, and it was opened.", how="measured")
def has_print(row: Row[MediaFile]) -> bool:
    return row.context.audio is not None and bool(mix_prints(row.context))


@FACTS.fact("text", "The print of the mix that it is held against.", how="derived")
def print_name(row: Row[MediaFile]) -> str:
    return _print_name(row.context) if mix_prints(row.context) else "none"


@FACTS.fact("switch", "It is in the print of the mix, within a tenth of a second of its place.", how="measured")
def in_print(row: Row[MediaFile]) -> FactValue | Unknown:
    _, found = _fit(row)
    level = number_text(20.0 * log10(max(abs(found.gain), 1e-6)), "dB")
    if abs(found.gain) >= ABSENT:
        return FactValue(True, "measured", row.subject.where, f"at {level}")
    if found.error > ABSENT:
        return Unknown(unknown="what else is in the print covers it", settle="listen for it in the print")
    return FactValue(False, "measured", row.subject.where, f"its best fit is at {level}")


def _inside(row: Row[MediaFile]) -> tuple[StemSum, StemFit]:
    """The same for a stem that is in the print.

    Raises:
        NotKnown: it is not, or that is not known.
    """
    if row.need("in_print").value is not True:
        raise NotKnown(Unknown(unknown="it is not found in the print", settle="see whether it belongs to this mix"))
    return _fit(row)


@FACTS.fact(
    "number",
    "How much later it lies than the print has it, later positive; what all stems have in common is left out.",
    unit="ms",
    how="measured",
)
def late_ms(row: Row[MediaFile]) -> FactValue | Unknown:
    total, found = _inside(row)
    if found.lag is None:
        return Unknown(
            unknown="it fits at several places: it is a steady tone or a short loop, or the rest covers it",
            settle="lay it beside the print and listen",
        )
    count = f"{abs(found.lag)} {'sample' if abs(found.lag) == 1 else 'samples'}"
    word = "late" if found.lag > 0 else "early"
    ms = 1000.0 * found.lag / total.rate_hz
    return FactValue(ms, "measured", row.subject.where, f"{number_text(abs(ms), 'ms')} {word} ({count})")


@FACTS.fact("switch", "Its polarity is that in the print.", how="measured")
def polarity_kept(row: Row[MediaFile]) -> FactValue | Unknown:
    _, found = _inside(row)
    if found.error * 3.0 > abs(found.gain):
        return Unknown(unknown="what else is in the print covers it", settle="listen to it against the print")
    return FactValue(found.gain > 0.0, "measured", row.subject.where)


@FACTS.fact(
    "number",
    "How much louder it is than the print has it, softer negative; what all stems have in common is left out.",
    unit="dB",
    how="measured",
)
def level_off_db(row: Row[MediaFile]) -> FactValue | Unknown:
    total, found = _inside(row)
    if found.differs:
        return Unknown(
            unknown="it is in the print in parts only", settle="print it again from the mix that was printed"
        )
    off, error = -20.0 * log10(abs(found.gain)), level_error_db(total, found)
    if error > 0.5 * abs(off) and error > TOLD_DB:
        return Unknown(
            unknown=f"it is {number_text(off, 'dB')} off within {number_text(error, 'dB')}: "
            "the print was processed as a whole, or the rest covers it",
            settle="print the mix without what stands on its bus",
        )
    word = "louder" if off > 0 else "softer"
    note = f"{number_text(abs(off), 'dB')} {word}, within {number_text(error, 'dB')}"
    return FactValue(off, "measured", row.subject.where, note)


TOLD_DB: Final = 0.3
"""A level that is told this near is told, whatever it is: no verdict rests on less."""


@FACTS.fact("switch", "Its left and right are those in the print.", how="measured")
def sides_kept(row: Row[MediaFile]) -> FactValue:
    _, found = _inside(row)
    return FactValue(not found.swapped, "measured", row.subject.where)


@FACTS.fact(
    "number",
    "How much further to one side the print has it than its file, or than the middle where that is mono.",
    unit="dB",
    how="measured",
)
def off_centre_db(row: Row[MediaFile]) -> FactValue:
    _, found = _inside(row)
    left, right = (max(abs(side), 1e-3) for side in found.sides)
    apart = 20.0 * log10(left / right)
    return FactValue(abs(apart), "measured", row.subject.where, "to the left" if apart > 0.0 else "to the right")


@FACTS.fact(
    "number",
    "For how long it sounds while the print holds something else in its place.",
    unit="s",
    how="measured",
)
def differs_s(row: Row[MediaFile]) -> FactValue:
    _, found = _inside(row)
    spans = [f"{clock_text(start)} to {clock_text(end)}" for start, end in found.differs]
    told = sum(end - start for start, end in found.differs)
    note = f"{few_text(spans, joint=', ')}; elsewhere, for {number_text(found.matched_s, 's')}, it is there"
    return FactValue(told, "measured", row.subject.where, note)


@per_session
def copies_of_set(context: SessionContext) -> tuple[StemCopy, ...] | Unknown:
    """The stems of a folder that are copies of one another."""
    if context.audio is None:
        return NOT_OPENED
    return stem_copies(context.audio, [m.id for m in stem_files(context)], context.setting(COPY_LEFT_DB))


@FACTS.fact("switch", "Another stem holds the same recording.", how="measured", settings=(COPY_LEFT_DB,))
def is_copy(row: Row[MediaFile]) -> FactValue:
    for one in known(copies_of_set(row.context)):
        if row.item.id in (one.first, one.second):
            other = one.second if one.first == row.item.id else one.first
            return FactValue(True, "measured", row.subject.where, _named(row.context, other))
    return FactValue(False, "measured", row.subject.where)
