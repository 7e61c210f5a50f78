"""Which part answers a panned one on the other side, which may do so, and which comes nearest."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mixlint.analysis.audibility import audibility, is_audible
from mixlint.analysis.automation_range import always_muted, position_of
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import (
    LEAST_ANGLE,
    LEAST_ANGLE_RATIO,
    MATCHING,
    ROUNDING,
    UNLIKE,
    answered_share,
    closeness,
    counterparts,
    falls_short,
    like_part_count,
    likeness,
    nearest,
    other_instruments,
    panned_parts,
)
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.partners import partners, plays_nothing, waits_for_partner
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.shared import UNREAD_ROLE
from mixlint.naming import family_of, pair_kind, side_of, stem_of, takes_turns
from mixlint.session import Channel, Unknown, is_known, known
from mixlint.units import CENTRED

FACTS: Facts[Channel] = Facts()


def _of_unknown_position(context: SessionContext, channel: Channel) -> Unknown | None:
    """Why a like part may answer ``channel``: its pan is not known; None where there is none such."""
    for other in _unplaced(context):
        position = position_of(context, other)
        if isinstance(position, Unknown) and other.id != channel.id and likeness(context, channel, other) > 0.0:
            who = context.name(other.id)
            return Unknown(
                unknown=f"the pan of {who}, a like part: {position.unknown}", settle=f"look where {who} stands"
            )
    return None


def _of_unread_name(context: SessionContext, channel: Channel) -> Unknown | None:
    """Why a part on the other side may answer ``channel``: its name does not tell what it plays."""
    for other in _unread(context):
        if other.id != channel.id and closeness(context, channel, other).mismatches == (UNLIKE,):
            who = context.name(other.id)
            return Unknown(
                unknown=f"what {who} plays on the other side cannot be told from its name", settle=UNREAD_ROLE
            )
    return None


@per_session
def _unplaced(context: SessionContext) -> list[Channel]:
    """Audible parts whose pan is not known."""
    parts = (c for c in context.session.channels if is_source(context, c) and is_audible(context, c))
    return [part for part in parts if not is_known(position_of(context, part))]


@per_session
def _unread(context: SessionContext) -> list[Channel]:
    """Panned parts whose names tell nothing."""
    return [c for c in panned_parts(context) if context.role(c.id) is None]


@FACTS.fact("switch", "A like part answers it on the other side.", how="derived", settings=MATCHING)
def answered(row: Row[Channel]) -> bool | FactValue | Unknown:
    context, channel = row.context, row.item
    found = counterparts(context).get(channel.id)
    if found is not None:
        other = context.name(found.beside(channel.id))
        return FactValue(True, "derived", row.subject.where, f"by {other}, closeness {found.score:.2f}")
    partner = partners(context).get(channel.id)
    if partner is not None:
        return _of_partner(context, partner)
    unlike = other_instruments(context).get(channel.id)
    if unlike is not None:
        other = context.name(unlike.beside(channel.id))
        return FactValue(True, "derived", row.subject.where, f"by {other}, another instrument")
    unread = context.role(channel.id) is None
    if unread and nearest(context, channel) is None:
        return Unknown(
            unknown=f"the part {row.subject.name} plays cannot be told, so no like part can be looked for",
            settle=UNREAD_ROLE,
        )
    return _of_unknown_position(context, channel) or (None if unread else _of_unread_name(context, channel)) or False


def _of_partner(context: SessionContext, partner: Channel) -> Unknown | bool:
    """Whether a partner by name that is no counterpart may answer yet: its pan or its mute is not known."""
    who = context.name(partner.id)
    for unknown in (position_of(context, partner), audibility(context, partner)):
        if isinstance(unknown, Unknown):
            return Unknown(unknown=f"{who}, its partner by name: {unknown.unknown}", settle=f"look at {who}")
    return False


@FACTS.fact(
    "switch",
    "A track called like it but for the side is in the session, and holds nothing that plays.",
    how="derived",
)
def partner_silent(row: Row[Channel]) -> bool | FactValue:
    partner = partners(row.context).get(row.subject.id)
    if partner is None or not plays_nothing(row.context, partner):
        return False
    return FactValue(True, "derived", row.subject.where, row.context.name(partner.id))


@FACTS.fact(
    "switch",
    "Its partner by name is no counterpart, and stands further out or first on the desk: its row tells of both.",
    how="derived",
    settings=MATCHING,
)
def told_by_partner(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    partner = partners(context).get(channel.id)
    if partner is None or channel.id in counterparts(context) or not is_audible(context, partner):
        return False
    here, there = position_of(context, channel), position_of(context, partner)
    if isinstance(here, Unknown) or isinstance(there, Unknown) or not is_source(context, partner):
        return False
    return (-abs(there), context.order[partner.id]) < (-abs(here), context.order[channel.id])


NEARLY_CENTRED: Final = 0.2
"""Of a pair called left and right one that stands less than this share of the other's angle out is nearly centred."""


@FACTS.fact(
    "switch",
    "Its partner by name is heard, and stands in the centre, nearly so, or on its own side; of two parts that are "
    "numbered, at its very place.",
    how="derived",
)
def partner_astray(row: Row[Channel]) -> bool | FactValue:
    context, channel = row.context, row.item
    partner = partners(context).get(channel.id)
    if partner is None:
        partner = _numbered_at_its_place(context, channel)
        return FactValue(True, "derived", row.subject.where, context.name(partner.id)) if partner else False
    if not is_source(context, partner) or not is_audible(context, partner):
        return False
    here, there = known(position_of(context, channel)), known(position_of(context, partner))
    far = abs(here) * NEARLY_CENTRED < abs(there)
    if abs(there) >= CENTRED and here * there < 0.0 and far:
        return False
    return FactValue(True, "derived", row.subject.where, context.name(partner.id))


def _numbered_at_its_place(context: SessionContext, channel: Channel) -> Channel | None:
    """The other one of two parts called 1 and 2, where both are heard and stand at one and the same place."""
    words = context.house.vocabulary
    like = [
        other
        for other in context.session.channels
        if other.kind == "track"
        and other.id != channel.id
        and context.role(other.id) == context.role(channel.id)
        and stem_of(other.name, words) == stem_of(channel.name, words)
        and is_source(context, other)
        and is_audible(context, other)
    ]
    if len(like) != 1 or pair_kind(channel.name, like[0].name, words) != "numbers":
        return None
    here, there = position_of(context, channel), position_of(context, like[0])
    return like[0] if is_known(here) and is_known(there) and abs(here - there) < CENTRED else None


SECTION: Final = Setting(
    "placement.section",
    3.0,
    "",
    "So many strings, winds and sections of a choir or more sit as tradition seats them.",
    lowest=1.0,
)
ENSEMBLE: Final = share_setting(
    "placement.ensemble",
    50.0,
    "From this share of all parts on strings, winds and choir are an orchestra, and no band that they play with.",
)
SEATED: Final = frozenset({"strings", "winds"})
"""Families that tradition seats; the sections of a choir are the others."""

SEATED_AMONG_THEM: Final = frozenset({"keys", "plucked", "percussion", "bass", "guitars"})
"""Families with instruments of an orchestra or a big band: harp, celesta, timpani, double bass, the band's rhythm."""


def _is_seated(context: SessionContext, channel: Channel) -> bool:
    role = context.role(channel.id) or ""
    return role == "choir" or family_of(role) in SEATED


def _in_order(context: SessionContext, channel: Channel, partner: Channel) -> bool:
    """True for two parts called left and right that sit side by side, the left one further left, none in the middle.

    Two desks of trombones on the right of the band are such a pair; a left flank and a right one in the centre are not.
    """
    here, there = position_of(context, channel), position_of(context, partner)
    if not is_known(here) or not is_known(there) or min(abs(here), abs(there)) < CENTRED:
        return False
    further_left = here < there if side_of(channel.name, context.house.vocabulary) == "left" else here > there
    return _is_seated(context, channel) and further_left


@per_session
def _ensemble(context: SessionContext) -> tuple[int, int, bool]:
    """Of the audible parts: how many tradition seats, how many there are, whether main microphones are among them."""
    parts = [c for c in context.session.channels if is_source(context, c) and is_audible(context, c)]
    mains = any(context.role(c.id) == "main-pair" for c in parts)
    return sum(_is_seated(context, c) for c in parts), len(parts), mains


@FACTS.fact(
    "switch",
    "It sits where tradition seats it: in an orchestra, a big band or a choir; a partner by name sits beside it.",
    how="derived",
    settings=(SECTION, ENSEMBLE),
)
def seated(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    partner = partners(context).get(channel.id)
    if partner is not None and not _in_order(context, channel, partner):
        return False
    count, parts, mains = _ensemble(context)
    if _is_seated(context, channel):
        return mains or count >= context.setting(SECTION)
    among = context.family(channel.id) in SEATED_AMONG_THEM
    most = 100.0 * count / parts >= context.setting(ENSEMBLE) - ROUNDING
    return among and (mains or (count >= context.setting(SECTION) and most))


KIT_ASIDE: Final = Setting(
    "placement.kit_aside",
    10.0,
    "pan distance",
    "A kit whose kick, snare and overheads all lean further than this to one side stands at that side of the stage.",
)


@per_session
def _kit_stands_aside(context: SessionContext) -> bool:
    """True where kick, snare and the middle of the overheads lean to one side, as a kit on a stage may stand."""
    places: dict[str, list[float]] = {"kick": [], "snare": [], "overheads": []}
    for part in context.session.channels:
        role, position = context.role(part.id), position_of(context, part)
        if role in places and is_known(position) and is_source(context, part) and is_audible(context, part):
            places[role].append(position)
    if not all(places.values()):
        return False
    leans = [sum(found) / len(found) for found in places.values()]
    least = context.setting(KIT_ASIDE)
    return all(lean > least for lean in leans) or all(lean < -least for lean in leans)


@FACTS.fact(
    "switch",
    "It belongs to a drum kit that stands at one side of the stage.",
    how="derived",
    settings=(KIT_ASIDE,),
)
def in_a_kit_aside(row: Row[Channel]) -> bool:
    return row.context.family(row.subject.id) == "drums" and _kit_stands_aside(row.context)


SPREAD: Final = Setting(
    "placement.spread",
    30.0,
    "pan distance",
    "Two microphones of one keyboard instrument that stand this far apart or further are its picture.",
)


@FACTS.fact(
    "switch",
    "It is one of two microphones, low and high, of an instrument that is spread over some of the stage.",
    how="derived",
    settings=(SPREAD,),
)
def spread(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    if context.family(channel.id) not in ("keys", "percussion", "plucked"):
        return False
    here, apart = known(position_of(context, channel)), context.setting(SPREAD)
    return any(abs(here - there) >= apart for _, there in _heard_beside(context, channel, "registers"))


@FACTS.fact(
    "switch",
    "It is another microphone of a part that stands near it, which is asked instead: the one that is answered, or the "
    "first on the desk.",
    how="derived",
    settings=MATCHING,
)
def second_microphone(row: Row[Channel]) -> bool:
    context, channel = row.context, row.item
    here = known(position_of(context, channel))
    beside = [
        other
        for other, there in _heard_beside(context, channel, "microphones")
        if here * there > 0.0 and abs(here - there) <= SAME_PLACE
    ]
    if any(context.order[other.id] < context.order[channel.id] for other in beside):
        return True
    answered = counterparts(context)
    return channel.id not in answered and any(other.id in answered for other in beside)


def _heard_beside(context: SessionContext, channel: Channel, kind: str) -> Iterator[tuple[Channel, float]]:
    """The audible parts that make a pair of some kind with a channel by their names, each with its known position."""
    for other, paired in paired_by_name(context, channel):
        there = position_of(context, other)
        if paired == kind and is_known(there) and is_source(context, other) and is_audible(context, other):
            yield other, there


SAME_PLACE: Final = 25.0
"""Pan distance within which two microphones of one part stand at one place: a definition."""


@FACTS.fact("switch", "Its name tells that it takes turns with others: an ad lib, a call, an answer.", how="derived")
def in_turn(row: Row[Channel]) -> bool:
    return takes_turns(row.item.name, row.context.house.vocabulary)


@FACTS.fact(
    "number", "How many other like parts stand off the centre, on either side.", how="derived", settings=(LEAST_ANGLE,)
)
def like_parts(row: Row[Channel]) -> int:
    return like_part_count(row.context, row.item)


@FACTS.fact(
    "number",
    "The share of its own time in which a like part plays on the other side, near enough in angle and level.",
    unit="%",
    how="derived",
    settings=MATCHING,
)
def answered_percent(row: Row[Channel]) -> float:
    row.need("answered")
    return 100.0 * answered_share(row.context, row.item)


@FACTS.fact(
    "text",
    "The counterpart, or the like part that comes nearest and what it lacks.",
    how="derived",
    settings=MATCHING,
)
def counterpart(row: Row[Channel]) -> FactValue:
    context, channel = row.context, row.item
    found = counterparts(context).get(channel.id)
    if found is not None:
        share = round(100.0 * answered_share(context, channel))
        part = "" if share >= 100 else f" answers it for {share} % of its time"
        return FactValue(f"{context.name(found.beside(channel.id))}{part}", "derived")
    partner = partners(context).get(channel.id)
    if partner is not None and not is_audible(context, partner):
        silent = "holds nothing that plays" if plays_nothing(context, partner) else _why_silent(context, partner)
        return FactValue(f"the nearest, {context.name(partner.id)}, {silent}", "derived")
    unlike = other_instruments(context).get(channel.id)
    if unlike is not None:
        return FactValue(context.name(unlike.beside(channel.id)), "derived")
    near = nearest(context, channel)
    if near is None:
        return FactValue("no like part in the session", "derived")
    if waits_for_partner(context, channel):
        side = "right" if row.need("named_side").value == "left" else "left"
        return FactValue(f"the session has no {side} one of that name", "derived")
    return FactValue(
        f"the nearest, {row.context.name(near.other)}, {' and '.join(near.mismatches) or 'answers another part'}",
        "derived",
    )


def _why_silent(context: SessionContext, partner: Channel) -> str:
    return "is muted" if always_muted(context, partner) else "does not reach the mix bus"


@FACTS.fact(
    "switch",
    "Another part of its role stands on the other side, at an angle that can answer its own.",
    how="derived",
    settings=(LEAST_ANGLE_RATIO,),
)
def twin(row: Row[Channel]) -> bool | FactValue:
    context, channel = row.context, row.item
    role, place = context.role(channel.id), known(position_of(context, channel))
    least, words = context.setting(LEAST_ANGLE_RATIO), context.house.vocabulary
    for other in panned_parts(context):
        there = known(position_of(context, other))
        opposite = place * there < 0.0 and not falls_short(abs(there) / abs(place), least)
        # An ad lib or an answer is no other half of a part that goes through the song.
        alike = context.role(other.id) == role and takes_turns(other.name, words) == takes_turns(channel.name, words)
        if other.id != channel.id and alike and opposite:
            return FactValue(True, "derived", row.subject.where, context.name(other.id))
    return False
