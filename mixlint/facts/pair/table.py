"""The table ``pair``: counterparts, and two microphones on one performance."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from mixlint.analysis.context import SessionContext
from mixlint.analysis.counterparts import MATCHING
from mixlint.analysis.counterparts import level_apart_db as level_apart
from mixlint.analysis.recordings import alignment, same_recording
from mixlint.analysis.tone import acting
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.pair.pairs import Alone, Kind, Pair, ToneApart, alone, opposed, pairs, tone_apart
from mixlint.facts.shared import INTENTS, UNREAD, intents
from mixlint.naming import family_of
from mixlint.naming.words import FAMILIES, ROLES
from mixlint.session import Unknown
from mixlint.units import number_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Pair]]:
    for pair in pairs(context):
        one, other = pair.one, pair.other
        name = f"{context.name(one.id)} and {context.name(other.id)}"
        subject = Subject("pair", f"{one.id}+{other.id}", name, one.where, context.order[one.id], (one.id, other.id))
        yield subject, pair


PAIR: Table[Pair] = Table(
    "pair",
    "Two parts that belong together: counterparts, or two microphones on one performance by their names.",
    _rows,
    settings=MATCHING,
)

PAIR.fact("list", INTENTS)(intents)


@PAIR.fact("text", "The names of both.")
def name(row: Row[Pair]) -> str:
    return row.subject.name


@PAIR.fact("word", "What kind of pair it is.", how="derived", words=get_args(Kind), settings=MATCHING)
def kind(row: Row[Pair]) -> str:
    pair = row.item
    return pair.kind


@PAIR.fact("word", "The family of its first part, or unread.", how="derived", words=(*FAMILIES, UNREAD))
def part_family(row: Row[Pair]) -> str:
    pair = row.item
    return family_of(row.context.role(pair.one.id) or "") or UNREAD


@PAIR.fact(
    "word",
    "The part its first one plays, or unread where its name does not tell.",
    how="derived",
    words=(*ROLES, UNREAD),
)
def part(row: Row[Pair]) -> str:
    pair = row.item
    return row.context.role(pair.one.id) or UNREAD


@PAIR.fact("text", "The first of the two in desk order.")
def one(row: Row[Pair]) -> str:
    pair = row.item
    return row.context.name(pair.one.id)


@PAIR.fact("text", "The second of the two.")
def other(row: Row[Pair]) -> str:
    pair = row.item
    return row.context.name(pair.other.id)


def _pans(row: Row[Pair]) -> tuple[float, float] | Unknown:
    pair = row.item
    first, second = pair.one.pan, pair.other.pan
    if isinstance(first, Unknown) or isinstance(second, Unknown):
        return (
            first if isinstance(first, Unknown) else second if isinstance(second, Unknown) else Unknown(unknown="pan")
        )
    return first, second


@PAIR.fact("number", "The difference of their angles, sides aside.", unit="pan distance", how="derived")
def angle_apart(row: Row[Pair]) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else abs(abs(pans[0]) - abs(pans[1]))


@PAIR.fact("number", "How far apart they stand.", unit="pan distance", how="derived")
def distance(row: Row[Pair]) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else abs(pans[0] - pans[1])


@PAIR.fact("number", "The angle of the narrower one.", unit="pan distance", how="derived")
def narrow_angle(row: Row[Pair]) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else min(abs(pans[0]), abs(pans[1]))


@PAIR.fact("number", "The angle of the wider one.", unit="pan distance", how="derived")
def wide_angle(row: Row[Pair]) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else max(abs(pans[0]), abs(pans[1]))


@PAIR.fact("text", "Where both stand.")
def places(row: Row[Pair]) -> str | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else " and ".join(number_text(pan, "pan") for pan in pans)


@PAIR.fact("number", "The difference of their levels at the mix bus.", unit="dB", how="derived")
def level_apart_db(row: Row[Pair]) -> FactValue | Unknown:
    pair = row.item
    apart = level_apart(row.context, pair.one, pair.other)
    if apart is None:
        return Unknown(unknown="the level of one of them is not known", settle="export it again")
    louder = pair.one if apart >= 0.0 else pair.other
    return FactValue(abs(apart), "derived", row.subject.where, f"{row.context.name(louder.id)} is louder")


def _tone(row: Row[Pair]) -> ToneApart | Unknown:
    return tone_apart(row.context, row.item)


@PAIR.fact("number", "The greatest difference of their equalizer curves, 80 Hz to 8 kHz.", unit="dB", how="derived")
def tone_apart_db(row: Row[Pair]) -> FactValue | Unknown:
    tone = _tone(row)
    if isinstance(tone, Unknown):
        return tone
    return FactValue(tone.db, "derived", row.subject.where, f"at {number_text(tone.at_hz, 'Hz')}")


@PAIR.fact("text", "In what they differ: angle, level and tone, as far as they are known.", how="derived")
def differences(row: Row[Pair]) -> str | Unknown:
    said = row.value("places")
    level, tone = row.value("level_apart_db"), row.value("tone_apart_db")
    if isinstance(said, Unknown):
        return said
    found = [str(said.value)]
    if isinstance(level, FactValue) and isinstance(level.value, float):
        found.append(f"{number_text(level.value)} dB apart in level")
    if isinstance(tone, FactValue) and isinstance(tone.value, float):
        found.append(f"{number_text(tone.value)} dB apart in tone {tone.note}")
    return ", ".join(found)


def _alone(row: Row[Pair]) -> Alone | Unknown:
    return alone(row.context, row.item)


@PAIR.fact(
    "number",
    "The longest stretch in bars in which one plays without the other, and no like part stands in.",
    how="derived",
)
def alone_bars(row: Row[Pair]) -> float | Unknown:
    found = _alone(row)
    return found if isinstance(found, Unknown) else found.bars


@PAIR.fact("text", "Who plays alone, and where.", how="derived")
def alone_in(row: Row[Pair]) -> str | Unknown:
    found = _alone(row)
    return found if isinstance(found, Unknown) else found.text


@PAIR.fact("switch", "Both play one and the same recording, at most 40 ms apart.", how="derived")
def one_recording(row: Row[Pair]) -> FactValue | Unknown:
    pair = row.item
    found = same_recording(row.context, pair.one, pair.other)
    return found if isinstance(found, Unknown) else FactValue(found[0], "derived", row.subject.where, found[1])


@PAIR.fact("text", "How that shows.", how="derived")
def recording_how(row: Row[Pair]) -> str | Unknown:
    said = row.value("one_recording")
    return said if isinstance(said, Unknown) else said.note


@PAIR.fact("switch", "Their polarities differ by where they stand: top and bottom, front and back, mid and side.")
def opposed_by_place(row: Row[Pair]) -> bool:
    return opposed(row.item)


@PAIR.fact("number", "How well their recordings agree with the delay taken out, 0 to 1.", how="measured")
def agreement(row: Row[Pair]) -> float | Unknown:
    pair = row.item
    found = alignment(row.context, pair.one, pair.other)
    if isinstance(found, Unknown):
        return found
    if found.correlation is None:
        return Unknown(unknown=found.why, settle="listen to both in mono")
    return abs(found.correlation)


@PAIR.fact("number", "How much later the recording of one lies than the other's.", unit="ms", how="measured")
def delay_ms(row: Row[Pair]) -> FactValue | Unknown:
    pair = row.item
    found = alignment(row.context, pair.one, pair.other)
    if isinstance(found, Unknown):
        return found
    if found.delay_s is None:
        return Unknown(unknown=found.why, settle="listen to both in mono")
    later = pair.other if found.delay_s > 0.0 else pair.one
    return FactValue(
        1000.0 * abs(found.delay_s), "measured", row.subject.where, f"{row.context.name(later.id)} is later"
    )


@PAIR.fact("number", "The first notch of their sum, at half a period of the delay.", unit="Hz", how="measured")
def notch_hz(row: Row[Pair]) -> float | Unknown:
    said = row.value("delay_ms")
    if isinstance(said, Unknown):
        return said
    late = float(said.value) if isinstance(said.value, int | float) else 0.0
    return Unknown(unknown="they are not apart") if late <= 0.0 else 500.0 / late


@PAIR.fact("switch", "Their recordings have the same polarity.", how="measured")
def same_polarity(row: Row[Pair]) -> bool | Unknown:
    pair = row.item
    found = alignment(row.context, pair.one, pair.other)
    if isinstance(found, Unknown):
        return found
    if found.polarity is None:
        return Unknown(unknown=found.why or "the polarity cannot be told", settle="flip one of them and listen in mono")
    if found.polarity > 0:
        return True
    hidden = [i.name for c in (pair.one, pair.other) for i, _ in acting(row.context, c) if i.opaque]
    if hidden:
        return Unknown(
            unknown=f"the recordings are of opposite polarity, and {', '.join(hidden)} may turn one over",
            settle="flip one of them and listen in mono",
        )
    return False
