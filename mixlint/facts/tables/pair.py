"""The table ``pair``: counterparts, and two microphones on one performance."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from mixlint.facts.declare import Answer, Row, Subject, Table
from mixlint.facts.tables.meant import INTENTS, intents
from mixlint.facts.tables.source_place import UNREAD
from mixlint.naming import family_of
from mixlint.naming.words import FAMILIES, ROLES
from mixlint.session import Unknown
from mixlint.study.counterparts import level_apart_db as level_apart
from mixlint.study.desk import Desk
from mixlint.study.pairs import Alone, Kind, Pair, ToneApart, alone, opposed, pairs, tone_apart
from mixlint.study.recordings import alignment, same_recording, why_unaligned
from mixlint.study.tone import acting
from mixlint.units import number_text


def _rows(desk: Desk) -> Iterator[Row]:
    for pair in pairs(desk):
        one, other = pair.one, pair.other
        name = f"{desk.name(one.id)} and {desk.name(other.id)}"
        subject = Subject("pair", f"{one.id}+{other.id}", name, one.where, desk.order[one.id], (one.id, other.id))
        yield Row(desk, subject, pair)


PAIR: Table[Row] = Table(
    "pair", "Two parts that belong together: counterparts, or two microphones on one performance by their names.", _rows
)

PAIR.fact("list", INTENTS)(intents)


@PAIR.fact("text", "The names of both.")
def name(row: Row) -> str:
    return row.subject.name


@PAIR.fact("word", "What kind of pair it is.", how="derived", words=get_args(Kind))
def kind(row: Row) -> str:
    pair: Pair = row.item
    return pair.kind


@PAIR.fact("word", "The family of its first part, or unread.", how="derived", words=(*FAMILIES, UNREAD))
def part_family(row: Row) -> str:
    pair: Pair = row.item
    return family_of(row.desk.role(pair.one.id) or "") or UNREAD


@PAIR.fact(
    "word",
    "The part its first one plays, or unread where its name does not tell.",
    how="derived",
    words=(*ROLES, UNREAD),
)
def part(row: Row) -> str:
    pair: Pair = row.item
    return row.desk.role(pair.one.id) or UNREAD


@PAIR.fact("text", "The first of the two in desk order.")
def one(row: Row) -> str:
    pair: Pair = row.item
    return row.desk.name(pair.one.id)


@PAIR.fact("text", "The second of the two.")
def other(row: Row) -> str:
    pair: Pair = row.item
    return row.desk.name(pair.other.id)


def _pans(row: Row) -> tuple[float, float] | Unknown:
    pair: Pair = row.item
    first, second = pair.one.pan, pair.other.pan
    if isinstance(first, Unknown) or isinstance(second, Unknown):
        return (
            first if isinstance(first, Unknown) else second if isinstance(second, Unknown) else Unknown(unknown="pan")
        )
    return first, second


@PAIR.fact("number", "The difference of their angles, sides aside.", unit="pan", how="derived")
def angle_apart(row: Row) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else abs(abs(pans[0]) - abs(pans[1]))


@PAIR.fact("number", "How far apart they stand.", unit="pan", how="derived")
def distance(row: Row) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else abs(pans[0] - pans[1])


@PAIR.fact("number", "The angle of the narrower one.", unit="pan", how="derived")
def narrow_angle(row: Row) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else min(abs(pans[0]), abs(pans[1]))


@PAIR.fact("number", "The angle of the wider one.", unit="pan", how="derived")
def wide_angle(row: Row) -> float | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else max(abs(pans[0]), abs(pans[1]))


@PAIR.fact("text", "Where both stand.")
def places(row: Row) -> str | Unknown:
    pans = _pans(row)
    return pans if isinstance(pans, Unknown) else " and ".join(number_text(pan, "pan") for pan in pans)


@PAIR.fact("number", "The difference of their levels at the mix bus.", unit="dB", how="derived")
def level_apart_db(row: Row) -> Answer | Unknown:
    pair: Pair = row.item
    apart = level_apart(row.desk, pair.one, pair.other)
    if apart is None:
        return Unknown(unknown="the level of one of them is not known", settle="export it again")
    louder = pair.one if apart >= 0.0 else pair.other
    return Answer(abs(apart), "derived", row.subject.where, f"{row.desk.name(louder.id)} is louder")


def _tone(row: Row) -> ToneApart | Unknown:
    return row.desk.remembered(f"tone apart {row.subject.id}", lambda: tone_apart(row.desk, row.item))


@PAIR.fact("number", "The greatest difference of their equalizer curves, 80 Hz to 8 kHz.", unit="dB", how="derived")
def tone_apart_db(row: Row) -> Answer | Unknown:
    tone = _tone(row)
    if isinstance(tone, Unknown):
        return tone
    return Answer(tone.db, "derived", row.subject.where, f"at {number_text(tone.at_hz, 'Hz')}")


@PAIR.fact("text", "In what they differ: angle, level and tone, as far as they are known.", how="derived")
def differences(row: Row) -> str | Unknown:
    said = PAIR.answer(row, "places")
    level, tone = PAIR.answer(row, "level_apart_db"), PAIR.answer(row, "tone_apart_db")
    if isinstance(said, Unknown):
        return said
    found = [str(said.value)]
    if isinstance(level, Answer) and isinstance(level.value, float):
        found.append(f"{number_text(level.value)} dB apart in level")
    if isinstance(tone, Answer) and isinstance(tone.value, float):
        found.append(f"{number_text(tone.value)} dB apart in tone {tone.note}")
    return ", ".join(found)


def _alone(row: Row) -> Alone | Unknown:
    return row.desk.remembered(f"alone {row.subject.id}", lambda: alone(row.desk, row.item))


@PAIR.fact(
    "number",
    "The longest stretch in bars in which one plays without the other, and no like part stands in.",
    how="derived",
)
def alone_bars(row: Row) -> float | Unknown:
    found = _alone(row)
    return found if isinstance(found, Unknown) else found.bars


@PAIR.fact("text", "Who plays alone, and where.", how="derived")
def alone_in(row: Row) -> str | Unknown:
    found = _alone(row)
    return found if isinstance(found, Unknown) else found.text


@PAIR.fact("switch", "Both play one and the same recording, at most 40 ms apart.", how="derived")
def one_recording(row: Row) -> Answer | Unknown:
    pair: Pair = row.item
    found = row.desk.remembered(
        f"one recording {row.subject.id}", lambda: same_recording(row.desk, pair.one, pair.other)
    )
    return found if isinstance(found, Unknown) else Answer(found[0], "derived", row.subject.where, found[1])


@PAIR.fact("text", "How that shows.", how="derived")
def recording_how(row: Row) -> str | Unknown:
    said = PAIR.answer(row, "one_recording")
    return said if isinstance(said, Unknown) else said.note


@PAIR.fact("switch", "Their polarities differ by where they stand: top and bottom, front and back, mid and side.")
def opposed_by_place(row: Row) -> bool:
    return opposed(row.item)


@PAIR.fact("number", "How well their recordings agree with the delay taken out, 0 to 1.", how="measured")
def agreement(row: Row) -> float | Unknown:
    pair: Pair = row.item
    found = alignment(row.desk, pair.one, pair.other)
    if isinstance(found, Unknown):
        return found
    if found.correlation is None:
        return Unknown(unknown=why_unaligned(found), settle="listen to both in mono")
    return abs(found.correlation)


@PAIR.fact("number", "How much later the recording of one lies than the other's.", unit="ms", how="measured")
def delay_ms(row: Row) -> Answer | Unknown:
    pair: Pair = row.item
    found = alignment(row.desk, pair.one, pair.other)
    if isinstance(found, Unknown):
        return found
    if found.delay_s is None:
        return Unknown(unknown=why_unaligned(found), settle="listen to both in mono")
    later = pair.other if found.delay_s > 0.0 else pair.one
    return Answer(1000.0 * abs(found.delay_s), "measured", row.subject.where, f"{row.desk.name(later.id)} is later")


@PAIR.fact("number", "The first notch of their sum, at half a period of the delay.", unit="Hz", how="measured")
def notch_hz(row: Row) -> float | Unknown:
    said = PAIR.answer(row, "delay_ms")
    if isinstance(said, Unknown):
        return said
    late = float(said.value) if isinstance(said.value, int | float) else 0.0
    return Unknown(unknown="they are not apart") if late <= 0.0 else 500.0 / late


@PAIR.fact("switch", "Their recordings have the same polarity.", how="measured")
def same_polarity(row: Row) -> bool | Unknown:
    pair: Pair = row.item
    found = alignment(row.desk, pair.one, pair.other)
    if isinstance(found, Unknown):
        return found
    if found.polarity is None:
        return Unknown(unknown=why_unaligned(found), settle="flip one of them and listen in mono")
    if found.polarity > 0:
        return True
    hidden = [i.name for c in (pair.one, pair.other) for i, _ in acting(row.desk, c) if i.opaque]
    if hidden:
        return Unknown(
            unknown=f"the recordings are of opposite polarity, and {', '.join(hidden)} may turn one over",
            settle="flip one of them and listen in mono",
        )
    return False
