"""A part against its peers: its fader, the VCA it is on, and the return it is sent to."""

from __future__ import annotations

from typing import Final, get_args

from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.copied_chains import ChainFault, chain_apart, pasted_from
from mixlint.analysis.copied_sends import return_of_copies
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.analysis.one_instrument import LEAST_PAIRS, half_beside, torn_apart
from mixlint.analysis.peers import (
    LEAST_ALIKE,
    LEAST_PEERS,
    SPREAD,
    fader_apart,
    named_group,
    return_of_peers,
    vca_of_peers,
)
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.shared import fader_under
from mixlint.session import Channel, Unknown
from mixlint.units import few_text

FACTS: Facts[Channel] = Facts()

LEVELS: Final = (LEAST_PEERS, SPREAD)


@FACTS.fact(
    "number",
    "How far its fader stands outside the range of its peers' faders, which lie together: over them, or as a negative "
    "number under them. Peers go out to one channel and play one part, or share the first or last word of their names; "
    "soloists and faders that are ridden do not count.",
    unit="dB",
    how="derived",
    settings=LEVELS,
)
def fader_off_peers_db(row: Row[Channel]) -> FactValue:
    found = fader_apart(row.context, row.item)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    return FactValue(found.db, "derived", row.subject.where, found.stand_text)


@FACTS.fact(
    "number",
    "How far its fader stands outside the range of its peers' faders, whichever way.",
    unit="dB",
    how="derived",
    settings=LEVELS,
)
def fader_apart_db(row: Row[Channel]) -> FactValue:
    off = row.need("fader_off_peers_db")
    way = "over" if off.number > 0.0 else "under"
    return FactValue(abs(off.number), "derived", row.subject.where, way)


@FACTS.fact(
    "text",
    "The VCA that all its peers are on and it is not; or none. Here all that go out to one channel are peers, if they "
    "are no other family.",
    how="derived",
    settings=(LEAST_ALIKE,),
)
def vca_of_its_peers(row: Row[Channel]) -> FactValue:
    found = vca_of_peers(row.context, row.item)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    return FactValue(row.context.name(found.channel.id), "derived", row.subject.where, few_text(found.names))


@FACTS.fact(
    "text",
    "The return that all its peers are sent to at like levels, where it is sent to none of theirs, or that all copies "
    "of it are sent to, and it is not; or none.",
    how="derived",
    settings=(*LEVELS, LEAST_ALIKE, *GAP_SETTINGS),
)
def return_of_its_peers(row: Row[Channel]) -> FactValue | Unknown:
    context = row.context
    if any(is_return(context, channel) for channel in context.session.channels):
        gap = unknown_by_gap(context, "sends")
        if gap is not None:
            return gap
    found = return_of_copies(context, row.item) or return_of_peers(context, row.item)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    return FactValue(context.name(found.channel.id), "derived", row.subject.where, few_text(found.names))


@FACTS.fact(
    "number",
    "How far its fader stands under that of the other half of its instrument, the low or the high one; 0 where it has "
    "none, or one of them is ridden.",
    unit="dB",
    how="derived",
)
def under_its_other_half_db(row: Row[Channel]) -> FactValue:
    return fader_under(row, half_beside(row.context, row.item))


@FACTS.fact(
    "text",
    "The other microphone on its instrument, which stands on the other side, where those of all other instruments "
    "stand together; or none.",
    how="derived",
    settings=(LEAST_PAIRS,),
)
def microphone_across(row: Row[Channel]) -> str:
    other = torn_apart(row.context, row.item)
    return row.context.name(other.id) if other is not None else "none"


@FACTS.fact(
    "text",
    "The group that is named by a word of its name, and that others with that word go to, where it goes to another "
    "group; or none.",
    how="derived",
)
def group_of_its_name(row: Row[Channel]) -> FactValue:
    found = named_group(row.context, row.item)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    return FactValue(row.context.name(found.channel.id), "derived", row.subject.where, few_text(found.names))


@FACTS.fact(
    "word",
    "In which one thing its processors differ from those of its copies: one is missing, a band is off, a gain is "
    "turned over, or two changed places; or none. Copies go out to one channel and differ by name in side or number "
    "alone, or are several peers with one chain.",
    how="derived",
    words=(*get_args(ChainFault), "none"),
    settings=(LEAST_ALIKE,),
)
def chain_unlike_copies(row: Row[Channel]) -> FactValue:
    found = chain_apart(row.context, row.item)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    return FactValue(found.what, "derived", row.subject.where, found.text)


@FACTS.fact(
    "text",
    "The voice whose whole chain, with its de-esser, it carries to the digit, where it is no voice itself; or none.",
    how="derived",
)
def chain_of_a_voice(row: Row[Channel]) -> str:
    found = pasted_from(row.context, row.item)
    return row.context.name(found.id) if found is not None else "none"
