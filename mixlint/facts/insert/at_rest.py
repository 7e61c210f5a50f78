"""What is lost where a processor rests: its like acts elsewhere, it makes the bus, or aligns two microphones."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.channel_purpose import is_parallel, is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import SHAPERS, active_inserts, is_keyed
from mixlint.analysis.key_inputs import channels_by_key
from mixlint.analysis.media_use import is_active_clip
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.parameter_times import delay_ms
from mixlint.analysis.polarity import leg_switches, turned_leg
from mixlint.analysis.settings import Setting
from mixlint.analysis.tone import TELEPHONE, narrows
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.facts.track.instrument_prints import LEAST_COVERED, notes_printed
from mixlint.naming import fold_name, is_polarity, keys_named, mid_or_side, read_processor, says_turned_over
from mixlint.naming.fold import as_read
from mixlint.naming.setting_reading import says
from mixlint.session import Channel, Insert, is_known
from mixlint.signal.median import median
from mixlint.units import few_text, number_text

FACTS: Facts[ChannelInsert] = Facts()


@per_session
def _acting_by_name(context: SessionContext) -> dict[str, list[Channel]]:
    """The name of a processor, folded → the channels on which one of that name acts, in desk order."""
    found: dict[str, list[Channel]] = {}
    for channel in context.session.channels:
        for insert, _ in active_inserts(context, channel):
            if insert.name:
                found.setdefault(fold_name(insert.name, separators=True), []).append(channel)
    return found


@FACTS.fact(
    "number",
    "On how many other channels of its family a processor of the same name acts.",
    how="derived",
)
def acts_on_alike(row: Row[ChannelInsert]) -> FactValue:
    context, channel = row.context, row.item.channel
    family = context.family(channel.id)
    named = _acting_by_name(context).get(fold_name(row.item.insert.name or "", separators=True), [])
    alike = [one for one in named if one.id != channel.id and family is not None and context.family(one.id) == family]
    names = few_text([context.name(one.id) for one in alike])
    return FactValue(len(alike), "derived", row.subject.where, names)


@FACTS.fact("switch", "Its channel is a parallel bus.", how="derived")
def on_parallel_bus(row: Row[ChannelInsert]) -> bool:
    return is_parallel(row.context, row.item.channel)


@FACTS.fact("switch", "It is keyed from another channel, by a parameter or its name: it ducks.")
def keyed(row: Row[ChannelInsert]) -> bool:
    return is_keyed(row.item.insert)


@FACTS.fact(
    "switch",
    "Its channel is a parallel bus, and no other processor there makes another sound of what is sent to it.",
    how="derived",
)
def makes_the_bus(row: Row[ChannelInsert]) -> bool:
    context, item = row.context, row.item
    if not is_parallel(context, item.channel) or row.need("kind").value not in SHAPERS:
        return False
    return not any(reading.word in SHAPERS for _, reading in active_inserts(context, item.channel))


@FACTS.fact(
    "switch",
    "Its channel is called after what it does: a telephone by the filter that narrows it, a fuzz by its distortion.",
    how="derived",
    settings=TELEPHONE,
)
def makes_the_part(row: Row[ChannelInsert]) -> bool:
    context, item, kind = row.context, row.item, str(row.need("kind").value)
    words = context.house.vocabulary
    if says(item.channel.name, "narrowed", words) and kind in _NARROWING:
        named = says(item.insert.name, "narrowed", words) or any(
            word.startswith(mark)
            for word in as_read(item.insert.name).split()
            for mark in words.marks.get("narrowed", ())
            if len(mark) > 4
        )
        return named or narrows(context, item.insert)
    called = read_processor(Insert(name=item.channel.name), vocabulary=words).word
    return kind in _MAKING and called == kind


_NARROWING: Final = frozenset({"equalizer", "filter", "distortion", "multi-effect", "unread"})
"""Kinds of processor that can make a telephone of a voice."""

_MAKING: Final = frozenset({"modulation", "distortion", "pitch"})
"""Kinds of processor that parts are called after."""


@FACTS.fact(
    "switch",
    "It is the only instrument on a channel on which notes play, and no print of them is heard.",
    how="derived",
    settings=(LEAST_COVERED,),
)
def plays_the_notes(row: Row[ChannelInsert]) -> bool:
    context, item = row.context, row.item
    kinds = list(context.kinds[item.channel.id].values())
    if context.kinds[item.channel.id].get(item.place) != "instrument" or kinds.count("instrument") > 1:
        return False
    notes = any(clip.plays == "notes" and is_active_clip(item.channel, clip) for clip in item.channel.clips)
    return notes and not notes_printed(context, item.channel)


@FACTS.fact("switch", "It is there to turn the signal over: a polarity switch that is on, or called so.")
def turns_over(row: Row[ChannelInsert]) -> bool:
    insert, words = row.item.insert, row.context.house.vocabulary
    if row.need("kind").value not in ("utility", "unread"):
        return False
    said = [p.value for p in insert.parameters if is_polarity(p.name, words)]
    return any(value in (1, "inverted", "reversed", "on") for value in said) or (
        is_polarity(insert.name, words) and not any(value in (0, "normal", "off") for value in said)
    )


PLAIN_KINDS: Final = frozenset({"equalizer", "utility", "unread"})
"""Kinds of processor whose polarity switches are no part of an effect: a chorus turns one side over to be wide."""


@FACTS.fact(
    "word",
    "The one leg that its polarity switches turn over on a channel of two legs, where no other turns it back, or none. "
    "A mid or a side, and what the comment says is turned over, is left out.",
    how="derived",
    words=("left", "right", "none"),
)
def leg_turned(row: Row[ChannelInsert]) -> str:
    context, channel, insert = row.context, row.item.channel, row.item.insert
    side = turned_leg(context, channel)
    if side is None or not leg_switches(insert, context).get(side) or context.routing.legs[channel.id] != 2:
        return "none"
    words = context.house.vocabulary
    meant = mid_or_side(channel.name, words) is not None or bool(says_turned_over(channel.comment, words))
    return "none" if meant or row.need("kind").value not in PLAIN_KINDS else side


@FACTS.fact("switch", "Its channel is one of two microphones on one performance.", how="derived")
def of_a_pair(row: Row[ChannelInsert]) -> bool:
    context, channel = row.context, row.item.channel
    return any(
        kind == "microphones" and is_source(context, other) and context.family(other.id) == context.family(channel.id)
        for other, kind in paired_by_name(context, channel)
    )


@FACTS.fact("switch", "It lists a delay that moves its channel in time, or turns the signal over.")
def aligns(row: Row[ChannelInsert]) -> bool:
    if row.need("kind").value not in ("utility", "unread"):
        return False
    return row.holds("turns_over") or is_known(delay_ms(row.item.insert))


_KEYING: Final = frozenset({"kick", "key-input", "trigger", "drums", "bass", "lead-vocal", "vocal", "speech"})
"""Roles of what commonly keys a ducker on another part."""


@FACTS.fact(
    "text",
    "The channel that keys it, where that is one that commonly keys nothing here: a hi-hat, or on a return a part that "
    "is not sent to it; else none.",
    how="derived",
)
def odd_key(row: Row[ChannelInsert]) -> str:
    context, item = row.context, row.item
    for source in filter(None, map(channels_by_key(context).get, sorted(keys_named(item.insert)))):
        role = context.role(source.id)
        wiring = context.routing.wiring
        if is_return(context, item.channel) and role != "key-input":
            fits = source.id in wiring.upstream([item.channel.id])
        else:
            fits = role is None or role in _KEYING
        if not fits:
            return context.name(source.id)
    return "none"


LEAST_LIKE: Final = Setting(
    "inserts.least_like", 3.0, "", "So many channels with the same processor show what is usual.", lowest=2.0
)


@per_session
def _delays_by_name(context: SessionContext) -> dict[str, dict[str, float]]:
    """The name of a processor, folded → channel id → the delay, ms, that it lists there."""
    found: dict[str, dict[str, float]] = {}
    for channel in context.session.channels:
        for insert, _ in active_inserts(context, channel):
            time = delay_ms(insert)
            if insert.name and is_known(time):
                found.setdefault(fold_name(insert.name, separators=True), {})[channel.id] = time
    return found


@FACTS.fact(
    "number",
    "How many times as long its delay is as the middle of those that the same processor has on other channels; 1 where "
    "these are too few.",
    how="derived",
    settings=(LEAST_LIKE,),
)
def delay_over_like(row: Row[ChannelInsert]) -> FactValue:
    context, item = row.context, row.item
    delays = _delays_by_name(context).get(fold_name(item.insert.name or "", separators=True), {})
    own = delays.get(item.channel.id)
    others = [time for one, time in delays.items() if one != item.channel.id]
    if own is None or len(others) < context.setting(LEAST_LIKE):
        return FactValue(1.0, "derived", row.subject.where)
    usual = median(others)
    return FactValue(own / usual, "derived", row.subject.where, f"the others have about {number_text(usual, 'ms')}")
