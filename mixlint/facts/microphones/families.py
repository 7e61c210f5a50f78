"""Families of microphones: channels that hear one performance, by their sound, and without audio by their names."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.held_together import COMPARED
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.performances import HEAR_ALL, KIT, Related, are_microphones, related
from mixlint.analysis.polarity import is_turned
from mixlint.analysis.settings import Setting
from mixlint.facts.pair.pairs import PartPair, pairs
from mixlint.naming import is_direct, pair_kind, stand_opposite
from mixlint.session import Channel, Unknown

CLEAREST: Final = Setting(
    "microphones.least_relation",
    0.15,
    "",
    "Channels of unlike parts whose waves agree less than this, with their spectral envelopes taken out, hear each "
    "other through the room, and are no microphones of one performance.",
    lowest=0.0,
    highest=1.0,
)
LOW_END: Final = Setting(
    "microphones.low_end",
    3.0,
    "dB",
    "Two microphones on one drum are turned over where the low end of their sum has so much less than the other way.",
    lowest=0.5,
)
ONE_SPOT: Final = Setting(
    "microphones.one_spot",
    1.5,
    "ms",
    "Two microphones no further apart than this stand on one spot, so that their low end adds up or cancels.",
    lowest=0.0,
)
FAMILY_SETTINGS: Final = (*COMPARED, CLEAREST, LOW_END, ONE_SPOT)


class Family(NamedTuple):
    """Channels that hear one performance.

    Args:
        members: the channels, in desk order.
        edges: what was found between them; none where their sound was not compared, or has nothing in common.
        reference: the one the others are told against.
        why: why nothing is known of their sound, where nothing is.
    """

    members: tuple[Channel, ...]
    edges: tuple[Related, ...]
    reference: Channel
    why: Unknown | None


@per_session
def families(context: SessionContext) -> tuple[Family, ...]:
    """Every family of microphones, in desk order; two that are so named and have nothing in common are one of two."""
    named = [pair for pair in pairs(context) if pair.kind == "microphones"]
    if context.audio is None:
        sets = _joined([(pair.one.id, pair.other.id) for pair in named])
        return _sorted(context, [_family(context, ids, (), NOT_OPENED) for ids in sets])
    edges = [edge for edge in related(context) if _belongs(context, edge)]
    found = [
        _family(context, ids, tuple(edge for edge in edges if edge.one.id in ids), None)
        for ids in _joined([(edge.one.id, edge.other.id) for edge in edges])
    ]
    told = [{channel.id for channel in family.members} for family in found]
    found += [
        _family(context, {pair.one.id, pair.other.id}, (), _why(context, pair))
        for pair in named
        if not any({pair.one.id, pair.other.id} <= ids for ids in told)
    ]
    return _sorted(context, found)


def _why(context: SessionContext, pair: PartPair) -> Unknown:
    from mixlint.analysis.held_together import common_of

    common = common_of(context, pair.one, pair.other)
    if isinstance(common, Unknown):
        return common
    return Unknown(unknown="the two have no delay in common", settle="listen to both in mono")


def _sorted(context: SessionContext, found: list[Family]) -> tuple[Family, ...]:
    return tuple(sorted(found, key=lambda family: [context.order[c.id] for c in family.members]))


def _belongs(context: SessionContext, edge: Related) -> bool:
    """True where two channels hear one performance, and are neither copies nor hear each other through the room."""
    one, other, found = edge.one, edge.other, edge.found
    words = context.house.vocabulary
    kind = pair_kind(one.name, other.name, words)
    kit = context.family(one.id) in KIT and context.family(other.id) in KIT
    if are_microphones(context, one, other):
        return True
    if edge.sound in ("copy", "copy-in-part") and not kit:
        return False
    if kind == "sides" and not kit:
        return edge.sound == "one-performance"  # the two halves of a stereo recording
    if kind in ("numbers", "doubles") and not kit:
        return False  # a double that is none: other rules look after it
    if kit:
        return True
    least = context.setting(CLEAREST)
    near = context.family(one.id) == context.family(other.id)
    return found.strength >= (least if near else 2.0 * least)


def _joined(pairs_of_ids: list[tuple[str, str]]) -> list[set[str]]:
    home: dict[str, set[str]] = {}
    for one, other in pairs_of_ids:
        both = home.get(one, {one}) | home.get(other, {other})
        home.update(dict.fromkeys(both, both))
    return list({id(ids): ids for ids in home.values()}.values())


def _family(context: SessionContext, ids: set[str], edges: tuple[Related, ...], why: Unknown | None) -> Family:
    members = tuple(context.channels[i] for i in sorted(ids, key=context.order.__getitem__))
    words = context.house.vocabulary
    weight = {member.id: 0.0 for member in members}
    for edge in edges:
        weight[edge.one.id] += edge.weight
        weight[edge.other.id] += edge.weight

    def first(member: Channel) -> tuple[int, float, int]:
        far = context.role(member.id) in HEAR_ALL and context.role(member.id) != "drum-room"
        rank = 0 if far else 1 if is_direct(member.name, words) else 2
        return rank, -weight[member.id] if len(members) > 2 else 0.0, context.order[member.id]

    return Family(members, edges, min(members, key=first), why)


def sign_of(context: SessionContext, edge: Related) -> int:
    """The polarity of two channels against each other as they are heard: 1, −1, or 0 where it cannot be told.

    Two microphones on one spot are told by the low end of their sum, in the seconds in which they are loudest: so are
    those above and below a drum, whose waves are opposed by nature. All others are told by their first arrivals.
    """
    one, other, found = edge.one, edge.other, edge.found
    turned = -1 if is_turned(context, one) != is_turned(context, other) else 1
    least = context.setting(LOW_END)
    role = context.role(one.id)
    drum = role is not None and role == context.role(other.id) and role in ("kick", "snare")
    opposed = stand_opposite(one.name, other.name, context.house.vocabulary)
    near = abs(found.lag_s) * 1000.0 <= context.setting(ONE_SPOT)
    if near and (drum or opposed):
        return turned * (1 if found.low_db >= least else -1 if found.low_db <= -least else 0)
    if found.polarity is None:
        return turned * (1 if near and found.low_db >= least else -1 if near and found.low_db <= -least else 0)
    if near and abs(found.low_db) >= least and (found.low_db > 0.0) is not (found.polarity > 0):
        return 0  # the first arrivals say one thing and the low end another
    return turned * found.polarity


class Signs(NamedTuple):
    """Who is turned over in a family.

    Args:
        turned: those turned over against most of the others, in desk order.
        unsure: those of whom it cannot be told.
        shown: for each that is turned over, the clearest relation that shows it.
    """

    turned: tuple[Channel, ...]
    unsure: tuple[Channel, ...]
    shown: tuple[Related, ...]


@per_session
def signs(context: SessionContext, family: Family) -> Signs:
    """Who is turned over: signs go from the reference along the clearest relations; the fewer are the turned ones."""
    sign = {family.reference.id: 1}
    shown: dict[str, Related] = {}
    edges = sorted(family.edges, key=lambda edge: -edge.weight)
    told = [(edge, value) for edge in edges if (value := sign_of(context, edge)) != 0]
    weak: set[str] = set()
    while True:
        step = next(((e, s) for e, s in told if (e.one.id in sign) is not (e.other.id in sign)), None)
        if step is None:
            break
        edge, value = step
        known, new = (edge.one.id, edge.other.id) if edge.one.id in sign else (edge.other.id, edge.one.id)
        sign[new] = sign[known] * value
        shown[new] = edge
    for new, edge in shown.items():
        # A relation to another channel that says the opposite, and is nearly as clear, leaves it open.
        against = [
            e for e, s in told
            if new in (e.one.id, e.other.id)
            and s == -sign.get(e.one.id, 0) * sign.get(e.other.id, 0)
            and e.weight > 0.6 * edge.weight
        ]  # fmt: skip
        if against:
            weak.add(new)
    minus = [c for c in family.members if sign.get(c.id) == -1]
    plus = [c for c in family.members if sign.get(c.id) == 1]
    fewer = plus if len(minus) > len(plus) else minus
    turned = tuple(c for c in fewer if c.id not in weak)
    unsure = tuple(c for c in family.members if c.id not in sign or c.id in weak)
    lead = [shown.get(c.id) or next((e for e in edges if c.id in (e.one.id, e.other.id)), None) for c in turned]
    return Signs(turned, unsure, tuple(edge for edge in lead if edge is not None))
