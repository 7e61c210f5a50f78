"""Parts that may be copies of each other, asked what all of them but one have in common.

A part is held against all its peers, and each of these against all the others. What they say is counted once for all,
so that a part asks the counts, and its peers only where one of them tells that it alone may differ.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Hashable, Iterator
from typing import NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.peers import LEAST_ALIKE, PeerKind, leads, peer_sets
from mixlint.naming import stem_of
from mixlint.session import Channel
from mixlint.session.control import settings_move

Says = Callable[[Channel], Hashable]


class Kin:
    """Some parts that may be copies of each other.

    Args:
        members: the parts, in desk order.
    """

    def __init__(self, members: list[Channel]) -> None:
        self._members = members
        self._ids = frozenset(part.id for part in members)
        self._said: dict[Says, Counter[Hashable]] = {}

    def without(self, part: Channel) -> list[Channel]:
        """The members but one."""
        return [one for one in self._members if one.id != part.id]

    def has_others(self, part: Channel) -> bool:
        """True where there is a member beside a part."""
        return len(self._members) > (part.id in self._ids)

    def said_without(self, part: Channel, says: Says) -> int:
        """How many different things the members but one say."""
        said = self._counted(says)
        return len(said) - (part.id in self._ids and said[says(part)] == 1)

    def agreed_without(self, part: Channel, says: Says) -> Hashable | None:
        """What all members but one say alike; None where they differ, or there are none.

        Args:
            part: the one.
            says: what each says, never None; asked once of each member.
        """
        said = self._counted(says)
        if len(said) > 2:
            return None
        own = says(part) if part.id in self._ids else None
        left = [one for one, times in said.items() if times > (one == own)]
        return left[0] if len(left) == 1 else None

    def _counted(self, says: Says) -> Counter[Hashable]:
        if says not in self._said:
            self._said[says] = Counter(map(says, self._members))
        return self._said[says]


class Copies(NamedTuple):
    """Those of a part's peers that may be copies of it, with the part itself among them.

    Args:
        twins: those whose names differ in nothing but side or number; None where there are no others.
        others: all that stand out by no right.
        many: of these there are enough to agree: the two sides of one instrument are one, however many channels.
    """

    twins: Kin | None
    others: Kin
    many: bool


class _Pool(NamedTuple):
    by_stem: dict[str, Kin]
    others: Kin


@per_session
def _pool(context: SessionContext, place: int, *, steady: bool) -> _Pool:
    """The set of peers at a place among all."""
    by_stem: dict[str, list[Channel]] = {}
    parts = [part for part in peer_sets(context)[place].parts if not (steady and is_driven(part))]
    for part in parts:
        by_stem.setdefault(stem_of(part.name, context.house.vocabulary), []).append(part)
    others = Kin([part for part in parts if not leads(context, part)])
    return _Pool({stem: Kin(of_it) for stem, of_it in by_stem.items() if stem}, others)


@per_session
def _places_of(context: SessionContext) -> dict[str, list[int]]:
    """Part id → the places among all of the sets of peers that it is in."""
    found: dict[str, list[int]] = {}
    for place, peers in enumerate(peer_sets(context)):
        for part in peers.parts:
            found.setdefault(part.id, []).append(place)
    return found


def copies_of(
    context: SessionContext, part: Channel, kinds: Collection[PeerKind], *, steady: bool = False
) -> Iterator[Copies]:
    """What may be copies of a part, for each of the sets of peers that it is in.

    Args:
        context: the session.
        part: the part.
        kinds: what the peers have in common.
        steady: leave out the parts on which automation moves a setting of a processor.
    """
    stem, least = stem_of(part.name, context.house.vocabulary), context.setting(LEAST_ALIKE)
    for place in _places_of(context).get(part.id, ()):
        if peer_sets(context)[place].kind in kinds:
            pool = _pool(context, place, steady=steady)
            twins = pool.by_stem.get(stem)
            many = pool.others.said_without(part, _stems(context)) >= least
            yield Copies(twins if twins is not None and twins.has_others(part) else None, pool.others, many)


@per_session
def _stems(context: SessionContext) -> Says:
    """What the names of parts say without numbers and sides."""
    words = context.house.vocabulary
    return lambda part: stem_of(part.name, words)


def is_driven(channel: Channel) -> bool:
    """True where automation moves a setting of a processor on a channel."""
    return any(settings_move(channel, place) for place in range(len(channel.inserts)))
