"""The table ``ambience_print``: tracks that hold the print of a reverb or delay."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.activity import moment_text, span_text
from mixlint.analysis.ambience import effect_of
from mixlint.analysis.ambience_prints import AmbiencePrint, ambience_prints
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.media_use import NOT_OPENED, plain_clips
from mixlint.analysis.parameter_times import decay_s as declared_decay_s
from mixlint.analysis.print_extent import CLOSING_FADE, EXTENT_SETTINGS, end_level_db, lean_db, missing_stretch
from mixlint.analysis.return_prints import (
    LEAK_SETTINGS,
    LEAST_LOW,
    OF_ANOTHER,
    READING_SETTINGS,
    declared_pre_delay_s,
    feeds_of,
    is_delay,
    lag_text,
    print_dry_leak,
    print_low_cut_db,
    print_origin,
    print_pair,
    print_reading,
)
from mixlint.facts.ambience_print import placing
from mixlint.facts.declare import FactValue, Row, Table
from mixlint.facts.shared import channel_subject
from mixlint.media.print_comparison import PrintReading
from mixlint.naming import name_without_side, side_of
from mixlint.session import Unknown, known
from mixlint.units import SILENCE_DB, few_text, number_text

PrintRow = Row[AmbiencePrint]


def _rows(context: SessionContext) -> Iterator[tuple[object, AmbiencePrint]]:
    for printed in ambience_prints(context):
        yield channel_subject(context, printed.track, "ambience_print"), printed


AMBIENCE_PRINT: Table[AmbiencePrint] = Table(
    "ambience_print",
    "Prints of reverbs and delays: audio on a return, on a track of its name, or on one whose own name says so.",
    _rows,  # type: ignore[arg-type]
    (placing.FACTS,),
)

BY_HAND: Final = Unknown(unknown="nothing proves where the print lies", settle="lay it against its source by ear")


def _reading(row: PrintRow) -> PrintReading:
    return known(print_reading(row.context, row.item))


@AMBIENCE_PRINT.fact("text", "The channel's name.")
def name(row: PrintRow) -> str:
    return row.subject.name


@AMBIENCE_PRINT.fact("text", "The return whose print it is, or none.", how="derived")
def print_of(row: PrintRow) -> str:
    return row.context.name(row.item.of.id) if row.item.of is not None else "none"


@AMBIENCE_PRINT.fact(
    "switch",
    "Its return sounds, and parts are sent there, so that what it passes is told of the return.",
    how="derived",
)
def return_sounds(row: PrintRow) -> bool:
    of, context = row.item.of, row.context
    return of is not None and is_audible(context, of) and bool(context.routing.wiring.arriving.get(of.id))


@AMBIENCE_PRINT.fact(
    "text", "The parts that feed it, as far as the session, its name or its sound tells.", how="derived"
)
def fed_by(row: PrintRow) -> str:
    feeds = feeds_of(row.context, row.item)
    return few_text(list(dict.fromkeys(row.context.name(feed.part.id) for feed in feeds)))


@AMBIENCE_PRINT.fact(
    "word", "The effect that was printed.", how="derived", words=("reverb", "delay", "modulation", "other")
)
def effect(row: PrintRow) -> str | Unknown:
    if row.item.of is not None:
        return effect_of(row.context, row.item.of)
    return "delay" if is_delay(row.context, row.item) else "reverb"


@AMBIENCE_PRINT.fact(
    "number",
    "Dry signal in it relative to the rest; where none stands out, the most that can hide.",
    unit="dB",
    how="measured",
    settings=LEAK_SETTINGS,
)
def dry_db(row: PrintRow) -> FactValue:
    leak = known(print_dry_leak(row.context, row.item))
    return FactValue(leak.db, "measured", row.subject.where, leak.how)


@AMBIENCE_PRINT.fact(
    "number",
    "How late it lies, negative where early; of one that is early by its beginning alone the least that it can be.",
    unit="ms",
    how="measured",
    settings=READING_SETTINGS,
)
def lag_ms(row: PrintRow) -> FactValue | Unknown:
    leak = _reading(row).leak
    if leak.lag_s is None:
        return BY_HAND
    proofs = {
        "dry-in-place": "a dry copy in place",
        "dry-copy": "a dry copy stands there",
        "before-its-source": "it begins before its source",
        "pre-delay": "it begins at its pre-delay",
        "at-once": "it begins with its source",
        "repeats": "its repeats count back to its source",
    }
    return FactValue(leak.lag_s * 1000.0, "measured", row.subject.where, proofs[leak.lag_by])


@AMBIENCE_PRINT.fact(
    "number", "How far it lies off, late or early.", unit="ms", how="measured", settings=READING_SETTINGS
)
def off_place_ms(row: PrintRow) -> FactValue:
    lag = row.need("lag_ms")
    return FactValue(abs(lag.number), "measured", row.subject.where, lag_text(lag.number / 1000.0))


@AMBIENCE_PRINT.fact(
    "number",
    "How much later it begins than the pre-delay of its return is set to; 0 where it begins sooner.",
    unit="ms",
    how="measured",
    settings=READING_SETTINGS,
)
def begins_after_set_ms(row: PrintRow) -> FactValue:
    declared = declared_pre_delay_s(row.context, row.item.of)
    if declared is None:
        return known(Unknown(unknown="the export does not show its pre-delay"))
    own = row.need("begins_ms").number
    note = f"{number_text(own, 'ms')} after its source, where {number_text(declared * 1000.0, 'ms')} are set"
    return FactValue(max(0.0, own - declared * 1000.0), "measured", row.subject.where, note)


@AMBIENCE_PRINT.fact("text", "Where it lies, and what shows it.", how="measured", settings=READING_SETTINGS)
def place_text(row: PrintRow) -> str:
    lag = row.value("lag_ms")
    if isinstance(lag, Unknown):
        return f"begins {row.need('begins_after_set_ms').note}"
    return f"lies {row.need('off_place_ms').note}: {lag.note}"


@AMBIENCE_PRINT.fact(
    "number",
    "How long after the dry sound it begins, as it lies: pre-delay and lag together.",
    unit="ms",
    how="measured",
    settings=READING_SETTINGS,
)
def begins_ms(row: PrintRow) -> float | Unknown:
    leak = _reading(row).leak
    if leak.onset_s is None or leak.copy_s is not None:
        return Unknown(unknown="its beginning does not stand out", settle="print it from a brighter part")
    return leak.onset_s * 1000.0


@AMBIENCE_PRINT.fact(
    "number",
    "Its pre-delay, where it is known where it lies.",
    unit="ms",
    how="measured",
    settings=READING_SETTINGS,
)
def pre_delay_ms(row: PrintRow) -> float | Unknown:
    lag = row.need("lag_ms")
    if _reading(row).leak.lag_by == "before-its-source":
        return BY_HAND
    return row.need("begins_ms").number - lag.number


@AMBIENCE_PRINT.fact(
    "number",
    "How long it rings: the reverberation time of its response (T20, ISO 3382-1).",
    unit="s",
    how="measured",
    settings=READING_SETTINGS,
)
def decay_s(row: PrintRow) -> float | Unknown:
    found = None if is_delay(row.context, row.item) else _reading(row).leak.decay_s
    if found is None:
        return Unknown(unknown="its decay cannot be read from this print", settle="print it from a brighter part")
    return found


@AMBIENCE_PRINT.fact(
    "number",
    "What it has lost at 60 Hz relative to 1 kHz against what feeds it.",
    unit="dB",
    how="measured",
    settings=(LEAST_LOW, *READING_SETTINGS),
)
def low_cut_db(row: PrintRow) -> float | Unknown:
    return print_low_cut_db(row.context, row.item)


@AMBIENCE_PRINT.fact(
    "number",
    "How much of it comes from what feeds it.",
    unit="%",
    how="measured",
    settings=(OF_ANOTHER, *READING_SETTINGS),
)
def from_its_parts(row: PrintRow) -> FactValue:
    origin = known(print_origin(row.context, row.item))
    return FactValue(origin.share, "measured", row.subject.where)


@AMBIENCE_PRINT.fact(
    "text",
    "A part that does not feed it and that it comes from, or nothing that plays; none where it comes from its own.",
    how="measured",
    settings=(OF_ANOTHER, *READING_SETTINGS),
)
def comes_from(row: PrintRow) -> FactValue | Unknown:
    origin = known(print_origin(row.context, row.item))
    if origin.other is not None:
        note = f"{number_text(origin.other_share, '%')} of it"
        return FactValue(row.context.name(origin.other.id), "measured", row.subject.where, note)
    if origin.share >= row.context.setting(READING_SETTINGS[1]):
        return FactValue("none", "measured", row.subject.where)
    if row.item.missing or origin.follows > 0.5 or origin.other_share >= row.context.setting(READING_SETTINGS[1]):
        return Unknown(
            unknown="little of it comes from what feeds it, but a part without audio may feed it, or its effect may "
            "detune what it is fed",
            settle="listen to it beside what is sent there",
        )
    return FactValue("nothing that plays", "measured", row.subject.where)


@AMBIENCE_PRINT.fact(
    "number",
    "For how long at a time what feeds it sounds and it does not; of a silent print the length of the song.",
    unit="s",
    how="measured",
    settings=EXTENT_SETTINGS,
)
def missing_s(row: PrintRow) -> FactValue:
    found = known(missing_stretch(row.context, row.item))
    if found.end_s <= found.start_s:
        return FactValue(0.0, "measured", row.subject.where)
    told = {
        "silent": "it is silent",
        "start": "it starts late",
        "end": "it stops early",
        "middle": "it falls silent",
    }[found.place]
    where = span_text(row.context, found.start_s, found.end_s)
    return FactValue(found.end_s - found.start_s, "measured", where, f"{told}, {where}")


@AMBIENCE_PRINT.fact("switch", "It holds no sound at all.", how="measured", settings=EXTENT_SETTINGS)
def silent(row: PrintRow) -> bool:
    return known(missing_stretch(row.context, row.item)).place == "silent"


@AMBIENCE_PRINT.fact(
    "number",
    "How loud it still is where it ends, against its loudest sample; silence where a fade closes it.",
    unit="dB",
    how="measured",
    settings=(CLOSING_FADE,),
)
def end_db(row: PrintRow) -> FactValue:
    level, at_s = known(end_level_db(row.context, row.item))
    where = moment_text(row.context, at_s)
    return FactValue(max(level, SILENCE_DB), "measured", where, where)


@AMBIENCE_PRINT.fact("number", "How much louder its left leg is than its right one.", unit="dB", how="measured")
def lean(row: PrintRow) -> float | Unknown:
    return lean_db(row.context, row.item)


@AMBIENCE_PRINT.fact(
    "word", "The side that its name, or its return's, tells.", how="derived", words=("left", "right", "none")
)
def named_side(row: PrintRow) -> str:
    words = row.context.house.vocabulary
    own = side_of(row.item.track.name, words)
    return own or (side_of(row.item.of.name, words) if row.item.of is not None else None) or "none"


@AMBIENCE_PRINT.fact(
    "number",
    "How much louder it is on the side that its name does not tell; 0 where it leans to its own or names none.",
    unit="dB",
    how="measured",
)
def wrong_side_db(row: PrintRow) -> FactValue:
    side, lean_left = row.need("named_side").value, row.need("lean").number
    against = {"left": -lean_left, "right": lean_left}.get(str(side), 0.0)
    return FactValue(max(0.0, against), "measured", row.subject.where, f"its name says {side}")


@per_session
def _partner(context: SessionContext, printed: AmbiencePrint) -> AmbiencePrint | None:
    """The one other print whose name differs in nothing but its sides."""
    words = context.house.vocabulary
    said = name_without_side(_called(printed), words)
    if "*" not in said:
        return None
    found = [
        other
        for other in ambience_prints(context)
        if other is not printed and name_without_side(_called(other), words) == said
    ]
    return found[0] if len(found) == 1 else None


def _called(printed: AmbiencePrint) -> str:
    return (printed.of or printed.track).name


def _row_of(row: PrintRow, other: AmbiencePrint) -> PrintRow:
    return Row(row.context, channel_subject(row.context, other.track, "ambience_print"), other, row.table)


@AMBIENCE_PRINT.fact("text", "The print of its name for the other side, or none.", how="derived")
def partner(row: PrintRow) -> str:
    other = _partner(row.context, row.item)
    return "none" if other is None else row.context.name(other.track.id)


@AMBIENCE_PRINT.fact(
    "number",
    "How much longer or shorter it rings than the print of its name for the other side; 0 where there is none.",
    unit="%",
    how="measured",
    settings=READING_SETTINGS,
)
def decay_off_partner(row: PrintRow) -> FactValue:
    other = _partner(row.context, row.item)
    if other is None:
        return FactValue(0.0, "measured", row.subject.where)
    there, own = _row_of(row, other).need("decay_s").number, row.need("decay_s").number
    note = f"{number_text(own, 's')} against {number_text(there, 's')}"
    return FactValue(100.0 * abs(own - there) / max(own, there), "measured", row.subject.where, note)


@AMBIENCE_PRINT.fact(
    "number",
    "How much sooner or later it begins than the print of its name for the other side; 0 where there is none.",
    unit="ms",
    how="measured",
    settings=READING_SETTINGS,
)
def begin_off_partner_ms(row: PrintRow) -> FactValue:
    other = _partner(row.context, row.item)
    if other is None:
        return FactValue(0.0, "measured", row.subject.where)
    there, own = _row_of(row, other).need("begins_ms").number, row.need("begins_ms").number
    note = f"{number_text(own, 'ms')} against {number_text(there, 'ms')}"
    return FactValue(abs(own - there), "measured", row.subject.where, note)


@AMBIENCE_PRINT.fact(
    "number",
    "How much longer or shorter it rings than its return's reverb is set to.",
    unit="%",
    how="measured",
    settings=READING_SETTINGS,
)
def decay_off_set(row: PrintRow) -> FactValue:
    acting = [] if row.item.of is None else active_inserts(row.context, row.item.of)
    reverb = next((insert for insert, reading in acting if reading.word == "reverb"), None)
    if reverb is None:
        return known(Unknown(unknown="no reverb acts on its return"))
    declared = known(declared_decay_s(reverb, row.context.house.vocabulary))
    own = row.need("decay_s").number
    note = f"{number_text(own, 's')} against {number_text(declared, 's')}"
    return FactValue(100.0 * abs(own - declared) / max(own, declared), "measured", row.subject.where, note)


@AMBIENCE_PRINT.fact(
    "number",
    "How much sooner it begins than the pre-delay of its return is set to; 0 where it begins later.",
    unit="ms",
    how="measured",
    settings=READING_SETTINGS,
)
def begins_before_set_ms(row: PrintRow) -> FactValue:
    declared = declared_pre_delay_s(row.context, row.item.of)
    if declared is None:
        return known(Unknown(unknown="the export does not show its pre-delay"))
    own = row.need("begins_ms").number
    note = f"{number_text(own, 'ms')} against {number_text(declared * 1000.0, 'ms')}"
    return FactValue(max(0.0, declared * 1000.0 - own), "measured", row.subject.where, note)


@AMBIENCE_PRINT.fact(
    "number",
    "How loud its low end, up to 180 Hz, is against its middle, 350 Hz to 2.8 kHz, by the ear's weighting.",
    unit="dB",
    how="measured",
)
def low_over_middle_db(row: PrintRow) -> float | Unknown:
    if row.context.audio is None:
        return NOT_OPENED
    from mixlint.signal.decibel import power_to_db

    bands = sum(
        known(row.context.audio.measure(file)).bands.sum(axis=0)
        for file in dict.fromkeys(clip.file for clip in plain_clips(row.item.track))
        if file is not None
    )
    if isinstance(bands, int):
        return Unknown(unknown="no clip of it can be read")
    if not bands.any():
        return Unknown(unknown="the print is silent")
    return power_to_db(float(bands[LOW_OCTAVES].sum())) - power_to_db(float(bands[MIDDLE_OCTAVES].sum()))


LOW_OCTAVES: Final = slice(0, 3)
MIDDLE_OCTAVES: Final = slice(4, 7)
"""Of the octave bands of IEC 61260-1 from 31.5 Hz on: those about 31.5 to 125 Hz, and about 500 Hz to 2 kHz."""


@AMBIENCE_PRINT.fact(
    "number",
    "For how long at a time it sounds with what feeds it and does not come from it, in the stretch that is looked at; "
    "0 where little of it comes from there anyway.",
    unit="s",
    how="measured",
    settings=READING_SETTINGS,
)
def other_take_s(row: PrintRow) -> FactValue:
    reading = _reading(row)
    pair, _ = known(print_pair(row.context, row.item))
    from mixlint.media.print_comparison import unforetold

    spans = unforetold(pair, reading.gains)
    if not spans:
        return FactValue(0.0, "measured", row.subject.where)
    start_s, end_s = max(spans, key=lambda span: span[1] - span[0])
    where = span_text(row.context, start_s, end_s)
    return FactValue(end_s - start_s, "measured", where, where)
