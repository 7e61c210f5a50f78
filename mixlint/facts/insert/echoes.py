"""Reverbs and delays against what they are called: how long a room rings, which note value a delay keeps."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis import parameter_times
from mixlint.analysis.channel_purpose import carries_content
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import active_inserts
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import LEAST_AT_TEMPO, ChannelInsert, at_tempos, has_automated_parameter
from mixlint.naming.setting_reading import note_values, says
from mixlint.session import Channel, Insert, Unknown, is_known, known
from mixlint.units import number_text

FACTS: Facts[ChannelInsert] = Facts()

SPACES: Final = ("small", "room", "plate", "large", "endless", "unread")


def _space_of(context: SessionContext, channel: Channel, insert: Insert) -> tuple[str, str]:
    """What a reverb is called, of :data:`SPACES`, and the text that says it."""
    words = context.house.vocabulary
    for concept in ("endless", "small", "large", "room", "plate"):
        for text in (channel.name, insert.name):
            if says(text, f"{concept}-space", words):
                return concept, f"'{text}'"
    if says(channel.comment, "small-space", words):
        return "small", f"'{channel.comment}'"
    return "unread", ""


@FACTS.fact("word", "What size of space its name, or that of its channel, promises.", how="derived", words=SPACES)
def space_named(row: Row[ChannelInsert]) -> FactValue:
    space, text = _space_of(row.context, row.item.channel, row.item.insert)
    return FactValue(space, "derived", row.subject.where, text)


@FACTS.fact("number", "How long a reverb rings, as it lists it.", unit="s")
def decay_s(row: Row[ChannelInsert]) -> float | Unknown:
    if row.need("kind").value != "reverb":
        return Unknown(unknown="it is no reverb")
    return parameter_times.decay_s(row.item.insert, row.context.house.vocabulary)


@FACTS.fact("switch", "A gate behind it cuts it short.", how="derived")
def gated(row: Row[ChannelInsert]) -> bool:
    kinds = row.context.processors[row.item.channel.id]
    return any(reading.word in ("gate", "expander") for reading in kinds[row.item.place + 1 :])


@per_session
def _long_reverbs(context: SessionContext) -> tuple[tuple[float, str], ...]:
    """The decay, seconds, of the reverbs that are called long or large, with their channels' names."""
    return tuple(_decays(context, "large"))


def _decays(context: SessionContext, space: str) -> Iterator[tuple[float, str]]:
    for channel in context.session.channels:
        if not carries_content(context, channel.id):
            continue
        for insert, reading in active_inserts(context, channel):
            decay = parameter_times.decay_s(insert, context.house.vocabulary)
            if reading.word == "reverb" and is_known(decay) and _space_of(context, channel, insert)[0] == space:
                yield decay, context.name(channel.id)


@FACTS.fact(
    "text",
    "The reverb that is called long or large and rings no longer than this one, which is called short; else none.",
    how="derived",
)
def outlasts(row: Row[ChannelInsert]) -> FactValue:
    own = row.need("decay_s").number
    if row.need("space_named").value == "small":
        for decay, name in _long_reverbs(row.context):
            if decay < own:
                return FactValue(name, "derived", row.subject.where, f"{name} rings for {number_text(decay, 's')}")
    return FactValue("none", "derived", row.subject.where)


@FACTS.fact("text", "What a reverb is called, and which longer one it outlasts, for a reader.", how="derived")
def called(row: Row[ChannelInsert]) -> str:
    name, other = row.need("space_named").note, row.need("outlasts")
    found = [f"it is called {name}"] if name else []
    if other.value != "none":
        found.append(other.note)
    return ", and ".join(found) or "no name tells why"


@FACTS.fact("number", "How much of each repeat a delay feeds back.", unit="%")
def feedback_percent(row: Row[ChannelInsert]) -> float | Unknown:
    if row.need("kind").value != "delay":
        return Unknown(unknown="it is no delay")
    return parameter_times.feedback_percent(row.item.insert, row.context.house.vocabulary)


@FACTS.fact("switch", "Its name, or that of its channel, calls it a slap.", how="derived")
def named_slap(row: Row[ChannelInsert]) -> bool:
    words = row.context.house.vocabulary
    return any(says(text, "slap", words) for text in (row.item.channel.name, row.item.insert.name))


def _named_notes(context: SessionContext, at: ChannelInsert) -> tuple[tuple[float, ...], str]:
    """The note values, in quarter notes, that a delay or its channel is called by, with the name that says it.

    The comment of a channel tells where it holds one delay alone.
    """
    words = context.house.vocabulary
    delays = sum(reading.word == "delay" for reading in context.processors[at.channel.id])
    for text in (at.insert.name, at.channel.name, at.channel.comment if delays == 1 else ""):
        found = note_values(text, words)
        if found:
            return found, text
    return (), ""


@FACTS.fact("text", "The name by which a delay is called after a note value, or none.", how="derived")
def named_note(row: Row[ChannelInsert]) -> str:
    if row.need("kind").value != "delay":
        return "none"
    return _named_notes(row.context, row.item)[1] or "none"


@FACTS.fact(
    "number",
    "How far a delay is off the note value it is called by, at the tempo of the song where it is least off.",
    unit="%",
    how="derived",
    settings=(LEAST_AT_TEMPO,),
)
def off_named_note(row: Row[ChannelInsert]) -> FactValue | Unknown:
    context, at = row.context, row.item
    named, _ = _named_notes(context, at)
    if not named or row.need("kind").value != "delay":
        return Unknown(unknown="no note value is in its name")
    if has_automated_parameter(at):
        return Unknown(unknown="its settings are automated", settle="look whether its time follows the tempo")
    time_ms = parameter_times.delay_ms(at.insert, context.house.vocabulary)
    if isinstance(time_ms, Unknown):
        listed = parameter_times.listed_notes(at.insert, context.house.vocabulary)
        if not listed:
            return time_ms
        off = min(100.0 * abs(one / name - 1.0) for one in listed for name in named)
        return FactValue(off, "derived", row.subject.where, "it is set to another note value")
    tempos = [one.bpm for one in known(at_tempos(context, at))]
    found = [(abs(time_ms / ms - 1.0), ms, bpm) for bpm in tempos for name in named for ms in (60_000.0 / bpm * name,)]
    if not found:
        return Unknown(unknown="it sounds nowhere")
    off, ms, bpm = min(found)
    text = f"it repeats every {number_text(time_ms, 'ms')}, which at {number_text(bpm, 'bpm')} would be {ms:.4g} ms"
    return FactValue(100.0 * off, "derived", row.subject.where, text)


@FACTS.fact("text", "How often and after what time a delay repeats, for a reader.", how="derived")
def repeats_text(row: Row[ChannelInsert]) -> str:
    found = []
    feedback, time_ms = row.value("feedback_percent"), row.value("delay_ms")
    if isinstance(feedback, FactValue):
        found.append(f"{number_text(feedback.number, '%')} of each repeat is fed back")
    if isinstance(time_ms, FactValue):
        what = "a slap" if row.holds("named_slap") else "it"
        found.append(f"{what} comes after {number_text(time_ms.number, 'ms')}")
    return ", ".join(found) or "nothing is listed"
