"""Peers: the parts of a desk that are handled alike, so that the one that is not was forgotten or slipped.

Peers are parts that go out to one channel and play one part, or whose names begin or end with one word: the spots of a
choir, the horns, four gang voices. Who plays a solo or leads stands apart by right.
Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, NamedTuple

from mixlint.analysis.ambience import effect_of
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.naming import is_soloist, name_words, reaches_low, stem_of, words_without_print
from mixlint.naming.setting_reading import says
from mixlint.session import FADER, Channel, Target, control_of, controls_of_send, is_known
from mixlint.signal.median import median
from mixlint.units import few_text, number_text

LEAST_PEERS: Final = Setting(
    "peers.least_others", 3.0, "", "So many other parts that agree show how their like is set.", lowest=2.0
)
SPREAD: Final = Setting(
    "peers.spread", 6.0, "dB", "Levels of peers that lie further from each other than this show nothing.", lowest=0.0
)
LEAST_ALIKE: Final = Setting(
    "peers.least_alike",
    2.0,
    "",
    "So many other parts that are all on one VCA, or sent to one return, show who belongs there.",
    lowest=2.0,
)

TIMES_THE_SPREAD: Final = 2.0
"""What stands apart lies so many times as far from its peers as these from each other: a definition."""

DOWN_DB: Final = -60.0
"""A fader or send under this is shut, and shows nothing of where the others stand: a definition."""

PeerKind = Literal["word", "part", "family", "bus"]


class PeerSet(NamedTuple):
    """Parts that go out to one channel and have something in common.

    Args:
        kind: a word of their names, the part they play, its family, or nothing but the channel they go to.
        parts: the parts, in desk order.
    """

    kind: PeerKind
    parts: tuple[Channel, ...]


@per_session
def peer_sets(context: SessionContext) -> tuple[PeerSet, ...]:
    """The sets of two parts or more that sound."""
    words = context.house.vocabulary
    found: dict[tuple[PeerKind, str, str], list[Channel]] = {}
    for part in context.session.channels:
        if not is_source(context, part) or not is_audible(context, part):
            continue
        if not isinstance(part.output, str):
            continue
        said = stem_of(part.name, words).split()
        for place in {(0, said[0]), (-1, said[-1])} if said else ():
            if len(place[1]) > 1:
                found.setdefault(("word", f"{place[0]} {place[1]}", part.output), []).append(part)
        role, family = context.role(part.id), context.family(part.id)
        if role:
            found.setdefault(("part", role, part.output), []).append(part)
        if family:
            found.setdefault(("family", family, part.output), []).append(part)
        found.setdefault(("bus", "", part.output), []).append(part)
    return tuple(PeerSet(kind, tuple(parts)) for (kind, _, _), parts in found.items() if len(parts) > 1)


@per_session
def sets_by_part(context: SessionContext) -> dict[str, list[PeerSet]]:
    """Part id → the sets it is in."""
    found: dict[str, list[PeerSet]] = {}
    for peers in peer_sets(context):
        for part in peers.parts:
            found.setdefault(part.id, []).append(peers)
    return found


def _others(context: SessionContext, channel: Channel, *kinds: PeerKind) -> Iterator[tuple[Channel, ...]]:
    """The other parts of each set of some kinds that a part is in."""
    for peers in sets_by_part(context).get(channel.id, ()):
        if peers.kind in kinds:
            yield tuple(part for part in peers.parts if part.id != channel.id)


class Apart(NamedTuple):
    """How far a level stands outside the range of its peers'.

    Args:
        db: positive over all of them, negative under them; 0 within.
        low_db, high_db: their range.
        names: whose they are.
    """

    db: float
    low_db: float
    high_db: float
    names: tuple[str, ...]

    @property
    def stand_text(self) -> str:
        """Where its peers stand, for a reader."""
        low, high = number_text(self.low_db, "dB"), number_text(self.high_db, "dB")
        return f"{few_text(self.names)} stand at {low}" + ("" if low == high else f" to {high}")


def _apart(context: SessionContext, own: float, others: dict[str, float]) -> Apart | None:
    """How far a level stands apart from others that agree; None where they are too few or do not."""
    if len(others) < context.setting(LEAST_PEERS):
        return None
    low, high = min(others.values()), max(others.values())
    off = own - high if own > high else min(0.0, own - low)
    if high - low > context.setting(SPREAD) or abs(off) < TIMES_THE_SPREAD * (high - low):
        return None
    return Apart(off, low, high, tuple(context.name(one) for one in others))


@per_session
def _faders(context: SessionContext) -> dict[str, tuple[float, float]]:
    """Part id → its fader, and that with the middle of its clips' gains, dB; of soloists and ridden faders nothing."""
    found = {}
    for peers in peer_sets(context):
        for part in peers.parts:
            fader = control_of(part, FADER)
            if part.id in found or fader.moves or not is_known(fader.now) or fader.now <= DOWN_DB:
                continue
            if leads(context, part):
                continue
            gains = [clip.gain_db for clip in part.clips if clip.on is not False and is_known(clip.gain_db)]
            found[part.id] = (fader.now, fader.now + (median(gains) if gains else 0.0))
    return found


def leads(context: SessionContext, part: Channel) -> bool:
    """True for a part that stands out among its like by right: a soloist, a leading voice."""
    return context.role(part.id) == "lead-vocal" or is_soloist(part.name, context.house.vocabulary)


@per_session
def fader_apart(context: SessionContext, channel: Channel) -> Apart | None:
    """How far the fader of a part stands apart from its peers', where its clips do not make up for it."""
    faders = _faders(context)
    if channel.id not in faders:
        return None
    for others in _others(context, channel, "word", "part"):
        there = [part.id for part in others if part.id in faders]
        set_at, arrives = (
            _apart(context, faders[channel.id][at], {one: faders[one][at] for one in there}) for at in (0, 1)
        )
        if set_at and arrives and set_at.db * arrives.db > 0.0:
            return set_at if abs(set_at.db) < abs(arrives.db) else set_at._replace(db=arrives.db)
    return None


class Shared(NamedTuple):
    """What all peers of a part have, and it has not: the channel in question, and whose peers these are."""

    channel: Channel
    names: tuple[str, ...]


@per_session
def vca_of_peers(context: SessionContext, channel: Channel) -> Shared | None:
    """The VCA that all peers of a part are on, whatever of them is in common, and it is not; of a soloist none.

    Of parts that only go out to one channel those of another family may well be moved apart.
    """
    own = _vca(context, channel)
    if leads(context, channel):
        return None
    for others in _others(context, channel, "word", "part", "family", "bus"):
        vcas = {_vca(context, part) for part in others}
        families = {context.family(part.id) for part in others}
        if context.family(channel.id) is not None and context.family(channel.id) not in families:
            continue
        if len(others) >= context.setting(LEAST_ALIKE) and len(vcas) == 1 and own not in vcas:
            vca = context.channels.get(vcas.pop() or "")
            if vca is not None:
                return Shared(vca, tuple(context.name(part.id) for part in others))
    return None


def _vca(context: SessionContext, channel: Channel) -> str | None:
    parent = context.channels.get(channel.parent or "")
    return parent.id if parent is not None and parent.kind == "vca" else None


Sends = dict[str, float]
"""The return that each open send leads to, by its id, and the level of the send, dB."""


@per_session
def _sends(context: SessionContext) -> dict[str, Sends | None]:
    """Part id → what it is sent to; None where the export does not tell, or automation moves a send."""
    found: dict[str, Sends | None] = {}
    for part in {part.id: part for peers in peer_sets(context) for part in peers.parts}.values():
        sends: Sends = {}
        told = True
        for number, send in enumerate(part.sends):
            controls = controls_of_send(part, number)
            level = control_of(part, Target.send(number, "level"))
            on = control_of(part, Target.send(number, "on"))
            if not isinstance(send.to, str) or not is_known(level.now) or level.moves or on.moves:
                told = False
                break
            to = context.channels.get(send.to)
            if to is not None and is_return(context, to) and controls.can_be_open is True and level.now > DOWN_DB:
                sends[send.to] = level.now
        found[part.id] = sends if told else None
    return found


@per_session
def send_apart(context: SessionContext, channel: Channel, to: str) -> Apart | None:
    """How far the level of a part's send to a return stands apart from that of its peers' sends there."""
    sends = _sends(context)
    own = (sends.get(channel.id) or {}).get(to)
    if own is None or leads(context, channel):
        return None
    for others in _others(context, channel, "word", "part"):
        levels = {
            part.id: level
            for part in others
            if not leads(context, part) and (level := (sends[part.id] or {}).get(to)) is not None
        }
        found = _apart(context, own, levels)
        if found:
            return found
    return None


@per_session
def peers_sent_to(context: SessionContext, channel: Channel, to: str) -> tuple[Channel, ...]:
    """The peers of a part that are sent to a return, where most of them are."""
    sends = _sends(context)
    for others in _others(context, channel, "word", "part"):
        sent = tuple(part for part in others if to in (sends[part.id] or {}))
        if len(sent) >= context.setting(LEAST_ALIKE) and 2 * len(sent) > len(others):
            return sent
    return ()


@per_session
def return_of_peers(context: SessionContext, channel: Channel) -> Shared | None:
    """The return that all peers of a part are sent to at like levels, where it is sent to none of theirs.

    Drums and what plays low are kept dry by habit, and show nothing.
    """
    sends = _sends(context)
    own = sends.get(channel.id)
    if own is None or context.family(channel.id) == "drums" or plays_low(context, channel):
        return None
    led = {send.to for send in channel.sends if isinstance(send.to, str)}
    for others in _others(context, channel, "word", "part", "family"):
        theirs = [sends[part.id] for part in others]
        if len(others) < context.setting(LEAST_PEERS) or None in theirs:
            continue
        if any(to in own for one in theirs for to in one or {}):
            continue
        for to in theirs[0] or {}:
            # An echo in place of the hall is a choice; another hall, where none of its like stands, is a wrong line.
            if own and {effect_of(context, context.channels[one]) for one in (*own, to)} != {"reverb"}:
                continue
            levels = [one[to] for one in theirs if one and to in one]
            if to not in led and len(levels) == len(others) and max(levels) - min(levels) <= context.setting(SPREAD):
                return Shared(context.channels[to], tuple(context.name(part.id) for part in others))
    return None


def plays_low(context: SessionContext, part: Channel) -> bool:
    """True for a part that lies below its like: a bass, a double bass, the low or the octave of several voices."""
    words = context.house.vocabulary
    said = {words.pairs.concepts.get(word) for word in name_words(part.name, words)}
    return (
        context.role(part.id) in LOW_ROLES
        or says(part.name, "reach-e1", words)
        or reaches_low(part.name, words)
        or not said.isdisjoint({"low", "octave"})
    )


LOW_ROLES: Final = frozenset({"bass", "kick"})
"""Roles that play the lowest notes."""


@per_session
def named_group(context: SessionContext, channel: Channel) -> Shared | None:
    """The group that a word of a part's name names, and other parts with that word go to, where it goes to another.

    Where the two groups are one behind the other, or the name speaks of the other one as well, it goes where it should.
    """
    words = context.house.vocabulary
    out = context.channels.get(channel.output) if isinstance(channel.output, str) else None
    if out is None or out.kind != "group" or not is_source(context, channel):
        return None
    own = words_without_print(channel.name, words)
    if words_without_print(out.name, words) & own:
        return None
    wiring = context.routing.wiring
    for group in context.session.channels:
        said = words_without_print(group.name, words)
        if group.kind != "group" or group.id == out.id or len(said) != 1 or not said <= own:
            continue
        if group.id in wiring.downstream([out.id]) or out.id in wiring.downstream([group.id]):
            continue
        others = tuple(
            part
            for part in context.session.channels
            if part.output == group.id
            and is_source(context, part)
            and context.family(part.id) == context.family(channel.id)
            and said <= words_without_print(part.name, words)
        )
        if others:
            return Shared(group, tuple(context.name(part.id) for part in others))
    return None
