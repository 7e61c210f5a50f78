"""Processors whose controls stand at an extreme: what they add beyond what they take, and whether a gate ever opens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.bus_sums import bus_sum
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import is_listening_aid
from mixlint.analysis.levels import PROGRAM_PEAK, taken_db
from mixlint.analysis.media_use import is_active_clip
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import HIDDEN, ChannelInsert, has_automated_parameter
from mixlint.naming.setting_reading import listed_db
from mixlint.routing import acting_inserts
from mixlint.session import Insert, Unknown, is_known, known
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.analysis.value import How

FACTS: Facts[ChannelInsert] = Facts()

FULL_SCALE_DBFS: Final = 0.0
"""What no part peaks above where nothing is measured: a definition."""

NOT_MEASURED: Final = "a part that is not measured is taken to peak at {peak} dBFS"


def _gains(insert: Insert) -> tuple[float, float]:
    """The input and output gain of an equalizer or of dynamics, dB; of a plain tool the gain that it lists.

    Raises:
        NotKnown: the export does not show them.
    """
    if insert.dynamics is not None:
        return known(insert.dynamics.input_gain_db), known(insert.dynamics.output_gain_db)
    if insert.equalizer is None and insert.kind == "utility":
        listed = listed_db(insert, "trim-gain")
        return known(HIDDEN if listed is None else listed), 0.0
    shown = known(insert.equalizer or HIDDEN)
    return known(shown.input_gain_db), known(shown.output_gain_db)


@FACTS.fact("number", "What its input and output gains add, before it takes anything away.", unit="dB")
def gain_db(row: Row[ChannelInsert]) -> float:
    return sum(_gains(row.item.insert))


@FACTS.fact(
    "number",
    "How far it raises the level beyond what it takes away from the loudest peak, by its static curve.",
    unit="dB",
    how="derived",
    settings=(PROGRAM_PEAK,),
)
def raises_by_db(row: Row[ChannelInsert]) -> FactValue:
    before, after = _gains(row.item.insert)
    peak, how = _peak(row, row.context.setting(PROGRAM_PEAK))
    taken = taken_db(row.item.insert.dynamics, peak + before)
    note = "" if how == "measured" else NOT_MEASURED.format(peak=f"{peak:g}")
    return FactValue(before + after - taken, how, row.subject.where, note)


@FACTS.fact(
    "number",
    "What it takes away from the loudest peak that reaches it, by its static curve.",
    unit="dB",
    how="derived",
    settings=(PROGRAM_PEAK,),
)
def most_taken_db(row: Row[ChannelInsert]) -> FactValue:
    before, _ = _gains(row.item.insert)
    known(known(row.item.insert.dynamics or HIDDEN).threshold_db)
    peak, how = _peak(row, row.context.setting(PROGRAM_PEAK))
    note = "" if how == "measured" else NOT_MEASURED.format(peak=f"{peak:g}")
    return FactValue(taken_db(row.item.insert.dynamics, peak + before), how, row.subject.where, note)


@FACTS.fact("number", "How far its threshold lies over the loudest peak that reaches it.", unit="dB", how="derived")
def threshold_over_peak_db(row: Row[ChannelInsert]) -> FactValue:
    own = known(row.item.insert.dynamics or HIDDEN)
    peak, how = _peak(row, FULL_SCALE_DBFS)
    note = "over the loudest peak of the part" if how == "measured" else "where few parts ever peak"
    return FactValue(known(own.threshold_db) - peak - known(own.input_gain_db), how, row.subject.where, note)


@FACTS.fact(
    "number", "How far a limiter is driven: its input gain, over its threshold, for a peak at full scale.", unit="dB"
)
def drive_db(row: Row[ChannelInsert]) -> FactValue | Unknown:
    insert, words = row.item.insert, row.context.house.vocabulary
    if row.need("kind").value != "limiter":
        return Unknown(unknown="it is no limiter")
    listed = listed_db(insert, "input-gain", words)
    own = insert.dynamics
    given = own.input_gain_db if own is not None and is_known(own.input_gain_db) else None
    gain = listed if listed is not None else given
    if gain is None:
        return HIDDEN
    ceiling = own.threshold_db if own is not None else listed_db(insert, "ceiling", words)
    threshold = ceiling if ceiling is not None and is_known(ceiling) else FULL_SCALE_DBFS
    text = f"by an input gain of {number_text(gain, 'dB')} against {number_text(threshold, 'dBFS')}"
    return FactValue(gain - threshold, "declared", row.subject.where, text)


@FACTS.fact("switch", "The loudest peak that reaches it is measured.", how="derived")
def peak_measured(row: Row[ChannelInsert]) -> bool:
    return _measured_peak(row.context, row.item) is not None


@FACTS.fact("switch", "Automation moves one of its controls.")
def automated(row: Row[ChannelInsert]) -> bool:
    return has_automated_parameter(row.item)


def _peak(row: Row[ChannelInsert], otherwise: float) -> tuple[float, How]:
    """The loudest peak that reaches a processor, dBFS: measured, else what is taken for it."""
    found = _measured_peak(row.context, row.item)
    return (otherwise, "assumed") if found is None else (found, "measured")


@per_session
def _measured_peak(context: SessionContext, at: ChannelInsert) -> float | None:
    """The loudest sample peak that reaches a processor, dBFS: of a part's clips, or of the sum of parts at a bus.

    The known gains before it are carried. None without audio, on a bus whose parts cannot be added up, behind a
    processor that may change the level in a way that is not known, and where a clip's file or gain is not.
    """
    channel = at.channel
    if context.audio is None:
        return None
    gain = 0.0
    for place, insert in acting_inserts(channel).items():
        if place >= at.place:
            break
        own = insert.equalizer
        if own is None or not is_known(own.input_gain_db) or not is_known(own.output_gain_db):
            return None
        gain += own.input_gain_db + own.output_gain_db
    if not is_source(context, channel):
        found = bus_sum(context, channel, to_input=True)
        return None if isinstance(found, Unknown) else found.dbfs + gain
    peaks = []
    for clip in channel.clips:
        if not is_active_clip(channel, clip):
            continue
        if clip.file is None or not is_known(clip.gain_db) or not is_known(clip.offset_s):
            return None
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return None
        speed = clip.speed if is_known(clip.speed) and clip.speed > 0.0 else None
        length = (clip.end_s - clip.start_s) * speed if speed is not None else None
        whole = max(measure.sample_peak_db)
        peak = whole if length is None else measure.peak_db_between(clip.offset_s, clip.offset_s + length)
        peaks.append(peak + clip.gain_db)
    return max(peaks) + gain if peaks else None


@FACTS.fact(
    "switch",
    "It is there for listening alone, switched on or off: a correction of the room, a dim, a mono check.",
    how="derived",
)
def for_listening(row: Row[ChannelInsert]) -> bool:
    context, item = row.context, row.item
    return is_listening_aid(context, item.insert, context.processors[item.channel.id][item.place])
