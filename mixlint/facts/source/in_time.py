"""Whether a part plays at the tempo of the others, and a voice begins with those it sings with."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.played_tempo import (
    TEMPO_SETTINGS,
    VOICE_SETTINGS,
    late_voice,
    song_tempo,
    voices_beside,
)
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, is_known
from mixlint.units import few_text, number_text

FACTS: Facts[Channel] = Facts()

RATES: Final = (
    (100.0 * (48.0 / 44.1 - 1.0), ", as a file of 44.1 kHz is that plays at 48"),
    (100.0 * (44.1 / 48.0 - 1.0), ", as a file of 48 kHz is that plays at 44.1"),
)
"""What a wrong sample rate does to a tempo, per cent (arithmetic)."""


@FACTS.fact(
    "switch",
    "It keeps a tempo, and others keep one together, so that the two can be held against each other.",
    how="measured",
    settings=TEMPO_SETTINGS,
)
def keeps_a_tempo(row: Row[Channel]) -> bool:
    song = song_tempo(row.context)
    return song is not None and any(one.channel.id == row.subject.id for one in (*song.parts, *song.others))


@FACTS.fact(
    "number",
    "How far the tempo of its strokes lies from that at which most parts play, faster or slower.",
    unit="%",
    how="measured",
    settings=TEMPO_SETTINGS,
)
def off_tempo_percent(row: Row[Channel]) -> FactValue:
    context = row.context
    song = song_tempo(context)
    mine = next((one for one in song.others if one.channel.id == row.subject.id), None) if song is not None else None
    if song is None or mine is None:
        return FactValue(0.0, "measured", row.subject.where, "it plays with the others")
    names = few_text([context.name(one.channel.id) for one in song.parts if one.channel.id != row.subject.id])
    by = 100.0 * (mine.ratio / song.ratio - 1.0)
    own = f"{number_text(song.bpm * mine.ratio / song.ratio)} bpm, " if is_known(song.bpm) else ""
    theirs = f" at {number_text(song.bpm)}" if is_known(song.bpm) else ""
    way = "faster" if by > 0.0 else "slower"
    rate = next((text for percent, text in RATES if abs(by - percent) < 0.7), "")
    note = f"{own}{number_text(abs(by), '%')} {way} than {names}{theirs}{rate}"
    return FactValue(abs(by), "measured", row.subject.where, note)


@FACTS.fact("switch", "It is a voice, and sings together with others.", how="measured", settings=VOICE_SETTINGS)
def sings_with_others(row: Row[Channel]) -> bool:
    return bool(voices_beside(row.context, row.item))


@FACTS.fact(
    "number",
    "How far it begins off the voices that it sings with, later or earlier.",
    unit="ms",
    how="measured",
    settings=VOICE_SETTINGS,
)
def sings_off_ms(row: Row[Channel]) -> FactValue:
    found = late_voice(row.context, row.item)
    if found is None:
        return FactValue(0.0, "measured", row.subject.where, "it begins with the others")
    way = "after" if found.late_s > 0.0 else "before"
    note = f"{number_text(1000.0 * abs(found.late_s), 'ms')} {way} {row.context.name(found.other.id)}"
    return FactValue(1000.0 * abs(found.late_s), "measured", row.subject.where, note)
