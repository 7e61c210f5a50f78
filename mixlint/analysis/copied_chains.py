"""Chains of parts that were made as copies of each other: what one lacks, has in another order, or has turned over.

Copies go out to one channel, and their names differ in nothing but side or number; or several others of one part or
word of their names agree to the digit. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import Any, Literal, NamedTuple

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.copies import Kin, Says, copies_of, is_driven
from mixlint.analysis.peers import leads
from mixlint.routing import AMBIENT
from mixlint.session import Channel, Equalizer, EqualizerBand, Insert, inserts_now, is_known
from mixlint.units import few_text, number_text

ChainFault = Literal["lacks", "band-off", "turned", "order"]

LEAST_TURNED_DB = 1.0
"""A gain of less than this is trimmed, whichever way: a definition."""

PUT_ON_ONE = AMBIENT | {"utility"}
"""Kinds of processor that are put on one of two parts on purpose: a trim, a polarity switch, an effect."""


class ChainApart(NamedTuple):
    """How the chain of a part differs from that of its copies.

    Args:
        what: a processor is missing, a band is off, a gain is turned over, or two processors changed places.
        text: how, for a reader, after the name of the part.
    """

    what: ChainFault
    text: str


@per_session
def chain_apart(context: SessionContext, channel: Channel) -> ChainApart | None:
    """In which one thing the chain of a part differs from that of its copies; None where in none, or in more."""
    if is_driven(channel):
        return None
    for copies in copies_of(context, channel, ("word", "part"), steady=True):
        for kin in (copies.twins, copies.others if copies.many and not leads(context, channel) else None):
            if kin is not None and _differs_alone(context, channel, kin):
                found = _against(context, channel, kin.without(channel))
                if found is not None:
                    return found
    return None


def _differs_alone(context: SessionContext, channel: Channel, kin: Kin) -> bool:
    """True where all others of a kin have the same processors, and a part has others or sets one otherwise."""
    says = _chain_of(context)
    theirs = kin.agreed_without(channel, says)
    if theirs is None or theirs != says(channel):
        return theirs is not None
    own = _settings_of(context, channel)
    agreed = (kin.agreed_without(channel, _settings_at(context, place)) for place in range(len(own)))
    return any(one is not None and one != mine for one, mine in zip(agreed, own, strict=True))


@per_session
def _chain_of(context: SessionContext) -> Says:
    """The processors of a part by name and kind."""
    return lambda part: tuple((name, kind) for name, kind, *_ in _settings_of(context, part))


@per_session
def _settings_at(context: SessionContext, place: int) -> Says:
    """The settings of the processor of a part at a place."""

    def says(part: Channel) -> Hashable:
        own = _settings_of(context, part)
        return own[place] if place < len(own) else ()

    return says


@per_session
def _settings_of(_: SessionContext, channel: Channel) -> tuple[tuple[Any, ...], ...]:
    """What two processors have to have in common to be one, of each of a part."""
    return tuple(tuple(getattr(insert, field) for field in _SETTINGS) for insert in inserts_now(channel))


LEAST_PASTED = 2
"""A chain of so many processors that agree to the digit was pasted: a definition."""


@per_session
def pasted_from(context: SessionContext, channel: Channel) -> Channel | None:
    """The voice whose whole chain, its de-esser included, a part that has no esses carries to the digit."""
    family = context.family(channel.id)
    if family is None or family in VOICED or not is_source(context, channel):
        return None
    own = inserts_now(channel)
    if len(own) < LEAST_PASTED or "de-esser" not in {reading.word for reading in context.processors[channel.id]}:
        return None
    voices = (one for one in context.session.channels if is_source(context, one) and context.family(one.id) in VOICED)
    return next((voice for voice in voices if _same(own, inserts_now(voice))), None)


VOICED = frozenset({"vocals", "speech"})
"""Families that hiss."""


def _against(context: SessionContext, channel: Channel, kin: Sequence[Channel]) -> ChainApart | None:
    chains = [inserts_now(part) for part in kin]
    own, theirs = inserts_now(channel), chains[0]
    if not theirs or any(named_chain(chain) != named_chain(theirs) for chain in chains):
        return None
    names = few_text([context.name(part.id) for part in kin])
    later = len(kin) > 1 or context.order[channel.id] > context.order[kin[0].id]
    if len(own) + 1 == len(theirs):
        kinds = [reading.word for reading in context.processors[kin[0].id]]
        return _lacking(own, chains, kinds, names)
    if named_chain(own) == named_chain(theirs):
        agreed = (at for at in range(len(theirs)) if all(_equal(chain[at], theirs[at]) for chain in chains))
        bands = (_one_band(own[at], theirs[at], names, later=later) for at in agreed)
        return next((band for band in bands if band is not None), None)
    if later and len(own) == len(theirs) and all(_same(chain, theirs) for chain in chains):
        unlike = [at for at, (mine, other) in enumerate(zip(own, theirs, strict=True)) if not _equal(mine, other)]
        if all(sum(_equal(one, it) for it in own) == sum(_equal(one, it) for it in theirs) for one in own):
            here, there = (" before ".join(chain[at].name for at in unlike) for chain in (own, theirs))
            return ChainApart("order", f"has {here}, {names} {there}")
    return None


def _lacking(
    own: Sequence[Insert], chains: Sequence[Sequence[Insert]], kinds: Sequence[str | None], names: str
) -> ChainApart | None:
    """The one processor that a part lacks, where its others are those of its copies, one of them to the digit.

    Where it has none at all, two copies have to agree in the one they have.
    """
    theirs = chains[0]
    for gone, missing in enumerate(theirs):
        left = [[*chain[:gone], *chain[gone + 1 :]] for chain in chains]
        if (
            named_chain(own) != named_chain(left[0])
            or missing.on is False
            or (kinds[gone] in PUT_ON_ONE and len(chains) == 1)
        ):
            continue  # on one of two it was put there, rather than lost on the other
        if any(all(_equal(mine, chain[at]) for chain in left) for at, mine in enumerate(own)) or (
            not own and len(chains) > 1 and all(_equal(chain[gone], missing) for chain in chains)
        ):
            have = "have" if len(chains) > 1 else "has"
            return ChainApart("lacks", f"lacks the {missing.name or missing.kind} that {names} {have}")
    return None


def named_chain(chain: Sequence[Insert]) -> list[tuple[str, object]]:
    """The processors of a chain by name and kind, in order."""
    return [(insert.name, insert.kind) for insert in chain]


def _one_band(own: Insert, other: Insert, names: str, *, later: bool) -> ChainApart | None:
    """The one band in which two equalizers differ: off in one of them, or boosted where the other cuts by as much."""
    mine, theirs = own.equalizer, other.equalizer
    if mine is None or theirs is None or len(mine.bands) != len(theirs.bands):
        return None
    if not _equal(own, other.model_copy(update={"equalizer": mine})):
        return None
    if Equalizer(bands=theirs.bands, input_gain_db=mine.input_gain_db, output_gain_db=mine.output_gain_db) != theirs:
        return None
    apart = [(one, it) for one, it in zip(mine.bands, theirs.bands, strict=True) if one != it]
    if len(apart) != 1:
        return None
    ((one, it),) = apart
    where = f"{one.kind} at {number_text(one.freq_hz, 'Hz')}" if is_known(one.freq_hz) else one.kind
    if one.on is False and it.on is not False and one.model_copy(update={"on": it.on}) == it and _does(it):
        return ChainApart("band-off", f"has the {where} of {own.name} switched off, on {names} it is on")
    if later and is_known(one.gain_db) and is_known(it.gain_db) and one.on is not False:
        over = one.model_copy(update={"gain_db": it.gain_db}) == it and one.gain_db == -it.gain_db
        if over and abs(one.gain_db) >= LEAST_TURNED_DB:
            mine_db, other_db = number_text(one.gain_db, "dB"), number_text(it.gain_db, "dB")
            return ChainApart("turned", f"has {mine_db} at the {where}, {names} {other_db}")
    return None


def _does(band: EqualizerBand) -> bool:
    """True for a band that is no flat bell or shelf."""
    return (
        band.kind in ("high-pass", "low-pass", "band-pass", "notch")
        or not is_known(band.gain_db)
        or band.gain_db != 0.0
    )


def _same(one: Sequence[Insert], other: Sequence[Insert]) -> bool:
    return len(one) == len(other) and all(map(_equal, one, other))


def _equal(one: Insert, other: Insert) -> bool:
    """True where two processors are one in name, kind and all settings."""
    return all(getattr(one, field) == getattr(other, field) for field in _SETTINGS)


_SETTINGS = ("name", "kind", "on", "loaded", "wet", "equalizer", "dynamics", "parameters")
