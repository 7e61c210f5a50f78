"""The table ``insert``: every processor in every channel, in the order the signal passes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

from mixlint.analysis import parameter_times
from mixlint.analysis.activity import moment_text
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import StripKind, carries_content, is_return, strip_kind
from mixlint.analysis.context import SessionContext
from mixlint.analysis.inserts import active_bands
from mixlint.analysis.media_use import plain_clips
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.insert import (
    at_rest,
    copies,
    echoes,
    extremes,
    gating,
    likes,
    listening,
    matching,
    noted,
    order,
    ranges,
    settings_files,
)
from mixlint.facts.insert.processing import (
    FLAT,
    HIDDEN,
    LEAST_AT_TEMPO,
    NARROW_CUT,
    NARROW_Q,
    AtTempo,
    ChannelInsert,
    at_tempos,
    deepest_cut,
    highest_boost,
    highest_shelf,
    inserted_effects,
    nearest_note_length,
    why_neutral,
)
from mixlint.facts.insert.reduction import REDUCTION_SETTINGS, gain_reduction, peak_reduction_db
from mixlint.facts.shared import INTENTS, UNREAD, intents
from mixlint.naming import FAMILIES, ROLES
from mixlint.session import Channel, Dynamics, Unknown, inserts_now, is_known, known
from mixlint.session.processor import PROCESSOR_KINDS
from mixlint.units import number_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, ChannelInsert]]:
    for channel in context.session.channels:
        for place, insert in enumerate(inserts_now(channel)):
            name = f"{context.name(channel.id)}: {insert.name or f'insert {place + 1}'}"
            where = insert.where or channel.where
            subject = Subject("insert", f"{channel.id}:{place}", name, where, context.order[channel.id], (channel.id,))
            yield subject, ChannelInsert(channel, place, insert)


INSERT: Table[ChannelInsert] = Table(
    "insert",
    "Every processor in every channel, in the order the signal passes.",
    _rows,
    (
        extremes.FACTS,
        gating.FACTS,
        at_rest.FACTS,
        echoes.FACTS,
        likes.FACTS,
        copies.FACTS,
        order.FACTS,
        ranges.FACTS,
        noted.FACTS,
        listening.FACTS,
        matching.FACTS,
        settings_files.FACTS,
    ),
)

INSERT.fact("list", INTENTS)(intents)


@INSERT.fact("text", "The processor's name.")
def name(row: Row[ChannelInsert]) -> str:
    item = row.item
    return item.insert.name or f"insert {item.place + 1}"


@INSERT.fact("text", "The channel it sits in.")
def on_channel(row: Row[ChannelInsert]) -> str:
    item = row.item
    return row.context.name(item.channel.id)


@INSERT.fact("word", "What the channel is to the song.", how="derived", words=get_args(StripKind))
def strip(row: Row[ChannelInsert]) -> str:
    item = row.item
    return strip_kind(row.context, item.channel)


@INSERT.fact("word", "The part its channel plays, or unread.", how="derived", words=(*ROLES, UNREAD))
def part(row: Row[ChannelInsert]) -> str:
    item = row.item
    return row.context.role_word(item.channel.id) or UNREAD


@INSERT.fact("word", "The family of that part, or unread.", how="derived", words=(*FAMILIES, UNREAD))
def part_family(row: Row[ChannelInsert]) -> str:
    return row.context.family(row.item.channel.id) or UNREAD


@INSERT.fact("number", "Its place in the channel, counted from 1.")
def position(row: Row[ChannelInsert]) -> int:
    item = row.item
    return item.place + 1


@INSERT.fact(
    "word",
    "What it does, or unread where neither the export nor its name tells.",
    how="derived",
    words=(*PROCESSOR_KINDS, UNREAD),
    once="does",
)
def kind(row: Row[ChannelInsert]) -> FactValue:
    item = row.item
    reading = row.context.processors[item.channel.id][item.place]
    return FactValue(reading.word or UNREAD, "derived", row.subject.where, "; ".join(reading.grounds))


@INSERT.fact("switch", "It is switched on.")
def on(row: Row[ChannelInsert]) -> bool | Unknown:
    return row.item.insert.on


@INSERT.fact("switch", "It sits in a return that was printed, and plays its print.", how="derived")
def printed(row: Row[ChannelInsert]) -> bool:
    return is_return(row.context, row.item.channel) and bool(plain_clips(row.item.channel))


@INSERT.fact("switch", "It was loaded where the export was made.")
def loaded(row: Row[ChannelInsert]) -> bool | Unknown:
    item = row.item
    return item.insert.loaded


@INSERT.fact("switch", "Its settings are hidden in the export.")
def opaque(row: Row[ChannelInsert]) -> bool:
    item = row.item
    return item.insert.opaque


@INSERT.fact("switch", "Its channel plays something or is fed, and is heard at the mix bus.", how="derived")
def sounding(row: Row[ChannelInsert]) -> bool:
    channel: Channel = row.item.channel
    return carries_content(row.context, channel.id) and is_audible(row.context, channel)


@INSERT.fact(
    "switch",
    "The export shows that it changes nothing: switched off, flat, or at a ratio of 1:1.",
    settings=(FLAT,),
    once="at_rest",
)
def neutral(row: Row[ChannelInsert]) -> FactValue:
    why = why_neutral(row.context, row.item)
    return FactValue(bool(why), "declared", row.subject.where, why or "acts, as far as can be seen")


INSERT.echo("rest_how", "neutral.note")


ALL_WET: Final = 99.0
"""From this share on nothing dry is left, %: a definition."""


@INSERT.fact("switch", "It is a reverb or delay that leaves nothing of the dry sound of its channel.")
def leaves_no_dry(row: Row[ChannelInsert]) -> bool:
    wet = row.item.insert.wet
    return row.need("kind").value in ("reverb", "delay") and is_known(wet) and wet >= ALL_WET


@INSERT.fact("switch", "A return with the same kind of effect is there and fed.", how="derived")
def return_alike(row: Row[ChannelInsert]) -> bool:
    context, word = row.context, row.need("kind").value
    return any(
        is_return(context, channel)
        and word in context.kinds[channel.id].values()
        and carries_content(context, channel.id)
        for channel in context.session.channels
    )


@INSERT.fact("number", "How many parts carry the same kind of effect in an insert.", how="derived")
def inserted_alike(row: Row[ChannelInsert]) -> int:
    return len(set(inserted_effects(row.context).get(str(row.need("kind").value), ())))


@INSERT.fact("switch", "It is an equalizer whose bands the export shows.")
def bands_shown(row: Row[ChannelInsert]) -> bool:
    item = row.item
    return bool(active_bands(item.insert))


@INSERT.fact(
    "number",
    "Its deepest cut, bells and low shelves; a narrow one that takes out a ring does not count.",
    unit="dB",
    settings=(NARROW_Q, NARROW_CUT),
)
def cut_db(row: Row[ChannelInsert]) -> FactValue:
    found = deepest_cut(row.context, row.item.insert)
    return FactValue(found.db, "declared", row.subject.where, found.text)


@INSERT.fact("number", "Its highest boost, bells and low shelves.", unit="dB")
def boost_db(row: Row[ChannelInsert]) -> FactValue:
    found = highest_boost(row.item.insert)
    return FactValue(found.db, "declared", row.subject.where, found.text)


@INSERT.fact("text", "Its deepest cut and its highest boost, with their frequencies.", settings=(NARROW_Q, NARROW_CUT))
def moves_at(row: Row[ChannelInsert]) -> str:
    found = (deepest_cut(row.context, row.item.insert), highest_boost(row.item.insert))
    return " and ".join(move.text for move in found if move.db > 0.0) or "none"


@INSERT.fact("number", "Its highest high shelf.", unit="dB")
def shelf_db(row: Row[ChannelInsert]) -> FactValue:
    found = highest_shelf(row.item.insert)
    return FactValue(found.db, "declared", row.subject.where, found.text)


INSERT.echo("shelf_at", "shelf_db.note")


def _dynamics(row: Row[ChannelInsert]) -> Dynamics:
    """The settings of a compressor, limiter or gate.

    Raises:
        NotKnown: the export hides them.
    """
    return known(row.item.insert.dynamics or HIDDEN)


@INSERT.fact("number", "The ratio of a compressor or gate, n in n:1.", unit=":1")
def ratio(row: Row[ChannelInsert]) -> float | Unknown:
    return _dynamics(row).ratio


@INSERT.fact("number", "Its threshold.", unit="dBFS")
def threshold_dbfs(row: Row[ChannelInsert]) -> float | Unknown:
    return _dynamics(row).threshold_db


@INSERT.fact("number", "How much a gate takes away when it is shut, 0 or more.", unit="dB")
def range_db(row: Row[ChannelInsert]) -> float:
    return abs(known(_dynamics(row).range_db))


@INSERT.fact("number", "Its release time.", unit="ms")
def release_ms(row: Row[ChannelInsert]) -> float | Unknown:
    return _dynamics(row).release_ms


@INSERT.fact(
    "number",
    "What it takes away in the loudest part of the sounding time, by its attack and release where they are shown, else "
    "by its static curve.",
    unit="dB",
    how="measured",
    settings=REDUCTION_SETTINGS,
)
def reduction_db(row: Row[ChannelInsert]) -> FactValue:
    found = known(gain_reduction(row.context, row.item))
    return FactValue(found.loudest_db, "measured", row.subject.where, found.how)


@INSERT.fact(
    "number",
    "What it takes away in half of the sounding time or more, found in the same way.",
    unit="dB",
    how="measured",
    settings=REDUCTION_SETTINGS,
)
def usual_reduction_db(row: Row[ChannelInsert]) -> FactValue:
    found = known(gain_reduction(row.context, row.item))
    return FactValue(found.usual_db, "measured", row.subject.where, found.how)


@INSERT.fact(
    "number",
    "How far what it takes away in the loudest part may be off, by a knee and detector that the export does not tell.",
    unit="dB",
    how="derived",
    settings=REDUCTION_SETTINGS,
)
def reduction_off_db(row: Row[ChannelInsert]) -> float:
    return known(gain_reduction(row.context, row.item)).off_db


@INSERT.fact(
    "number",
    "What it would take away there with a detector that follows every peak: the most that a compressor with these "
    "settings can take.",
    unit="dB",
    how="measured",
    settings=REDUCTION_SETTINGS,
)
def reduction_by_peaks_db(row: Row[ChannelInsert]) -> float | Unknown:
    return peak_reduction_db(row.context, row.item)


@INSERT.fact("number", "The delay time that a delay lists.", unit="ms")
def delay_ms(row: Row[ChannelInsert]) -> float | Unknown:
    item = row.item
    return parameter_times.delay_ms(item.insert)


@INSERT.fact(
    "number",
    "How far the delay time is off the nearest note value of the tempo.",
    unit="%",
    how="derived",
    once="off_time",
)
def off_tempo(row: Row[ChannelInsert]) -> FactValue:
    near = known(nearest_note_length(row.context, row.item))
    return FactValue(near.off_percent, "derived", row.subject.where, f"{near.name}, {near.ms:.0f} ms")


INSERT.echo("nearest_note", "off_tempo.note")


@INSERT.fact(
    "list",
    "The tempos at which a delay with a time of its own sounds.",
    unit="bpm",
    how="derived",
    settings=(LEAST_AT_TEMPO,),
)
def tempos_heard(row: Row[ChannelInsert]) -> tuple[float, ...]:
    return tuple(one.bpm for one in known(at_tempos(row.context, row.item)))


@INSERT.fact(
    "number",
    "How far the delay time is off the nearest note value at the tempo where it is furthest off.",
    unit="%",
    how="derived",
    settings=(LEAST_AT_TEMPO,),
)
def off_tempo_most(row: Row[ChannelInsert]) -> FactValue:
    worst = max(_at_tempos(row), key=lambda one: one.near.off_percent)
    where = moment_text(row.context, worst.from_s)
    return FactValue(
        worst.near.off_percent,
        "derived",
        row.subject.where,
        f"at {number_text(worst.bpm, 'bpm')}, from {where} on, {worst.near.name} lasts {worst.near.ms:.0f} ms",
    )


@INSERT.fact(
    "number",
    "How far the delay time is off the nearest note value at the tempo where it is least off.",
    unit="%",
    how="derived",
    settings=(LEAST_AT_TEMPO,),
)
def off_tempo_least(row: Row[ChannelInsert]) -> float:
    return min(one.near.off_percent for one in _at_tempos(row))


def _at_tempos(row: Row[ChannelInsert]) -> tuple[AtTempo, ...]:
    """A delay against the tempos at which it sounds.

    Raises:
        NotKnown: its time or the tempo is not known, or it sounds nowhere.
    """
    return known(known(at_tempos(row.context, row.item)) or Unknown(unknown="it sounds nowhere"))
