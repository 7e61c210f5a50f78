"""Whether a pair of microphones hears left what the desk has on the left."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.automation_range import position_of
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.settings import Setting
from mixlint.analysis.shared_looks import STEP_S, first_s, legs_at, levels
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.microphones.families import FAMILY_SETTINGS, Family
from mixlint.facts.microphones.timing import stand_of
from mixlint.naming import pair_kind, side_of
from mixlint.session import Channel, NotKnown, Unknown, is_known
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.image import Heard

    Floats = NDArray[np.float64]

FACTS: Facts[Family] = Facts()

STANDS_OUT: Final = Setting(
    "microphones.image_stands_out",
    8.0,
    "",
    "A pair tells the side of a source whose arrival stands out by so many times of what is no arrival.",
    lowest=4.0,
    basis="tried: sources in the room of the pair 10 to 18, all others 3 to 8",
)
LEAST_PAN: Final = Setting(
    "microphones.image_pan", 8.0, "pan distance", "A microphone this far from the centre stands on a side.", lowest=1.0
)
CROSSED: Final = Setting(
    "microphones.image_crossed",
    2.0,
    "dB",
    "Left and right are exchanged where what stands right lies so much further left than what stands left.",
    lowest=0.5,
)
APART: Final = Setting(
    "microphones.image_apart",
    40.0,
    "pan distance",
    "Two microphones so far apart on the desk have to lie in that order in a pair that hears both.",
    lowest=10.0,
)
LEANS: Final = Setting(
    "microphones.image_leans",
    6.0,
    "dB",
    "A pair leans where kick and snare lie so much more on one side of it. Of 10 pairs tried they lie within 3.4 dB.",
    lowest=1.0,
)
SIDE_SETTINGS: Final = (*FAMILY_SETTINGS, STANDS_OUT, LEAST_PAN, CROSSED)
LEAN_SETTINGS: Final = (*FAMILY_SETTINGS, STANDS_OUT, LEANS)
PLACE_SETTINGS: Final = (*SIDE_SETTINGS, APART)

MOMENTS: Final = 6
"""At so many moments a source is looked for: a bound of work."""

MOMENT_S: Final = 0.2
MOST_CLOSE: Final = 12
"""So many close microphones are looked for in a pair: a bound of work."""


class Pair(NamedTuple):
    """A pair of microphones that hears the whole: a channel of two legs, or two channels.

    Args:
        left, right: the channels; one and the same for a file of two legs.
    """

    left: Channel
    right: Channel

    @property
    def ids(self) -> set[str]:
        """The channels."""
        return {self.left.id, self.right.id}


class Placed(NamedTuple):
    """A close microphone, where it stands on the desk, and how a pair hears it."""

    channel: Channel
    pan: float
    heard: Heard


class Crossed(NamedTuple):
    """Two close microphones that a pair hears the other way round.

    Args:
        pair: the pair.
        left: the one further left on the desk, and ``right`` the one further right.
        by_db: how much further left the pair has the right one; of a pair whose sides are exchanged in the mean of all.
    """

    pair: Pair
    left: Placed
    right: Placed
    by_db: float


@per_session
def _images(context: SessionContext, family: Family) -> tuple[tuple[Pair, tuple[Placed, ...]], ...]:
    """The pairs of a family, each with the close microphones that it hears on a side."""
    found = []
    for pair in _pairs(context, family):
        placed = []
        for channel in _close(context, family, pair):
            pan = position_of(context, channel)
            if not is_known(pan) or abs(pan) < context.setting(LEAST_PAN):
                continue
            heard = _heard(context, family, pair, channel)
            if heard is not None:
                placed.append(Placed(channel, pan, heard))
        found.append((pair, tuple(placed)))
    return tuple(found)


def _close(context: SessionContext, family: Family, pair: Pair) -> list[Channel]:
    """The close microphones of a family, of one leg each."""
    close = [one for one in family.members if one.id not in pair.ids and stand_of(context, one) == "close"]
    return [one for one in close if one.legs == 1][:MOST_CLOSE]


@per_session
def crossed_pairs(context: SessionContext, family: Family) -> tuple[Crossed, ...]:
    """The pairs of a family whose left and right are those of the desk the other way round."""
    found = []
    for pair, placed in _images(context, family):
        left, right = ([one for one in placed if one.pan * sign > 0.0] for sign in (-1.0, 1.0))
        if not left or not right:
            continue
        means = [sum(one.heard.left_over_right_db for one in side) / len(side) for side in (left, right)]
        if means[1] - means[0] >= context.setting(CROSSED):
            worst = min(left, key=lambda one: one.heard.left_over_right_db)
            most = max(right, key=lambda one: one.heard.left_over_right_db)
            found.append(Crossed(pair, worst, most, means[1] - means[0]))
    return tuple(found)


@per_session
def exchanged_places(context: SessionContext, family: Family) -> tuple[Crossed, ...]:
    """For each pair that hears most as the desk has it the two close microphones that lie most the other way round."""
    crossed = {one.pair for one in crossed_pairs(context, family)}
    found = []
    for pair, placed in _images(context, family):
        if pair in crossed:
            continue
        ways = [
            Crossed(pair, one, other, other.heard.left_over_right_db - one.heard.left_over_right_db)
            for one in placed
            for other in placed
            if other.pan - one.pan >= context.setting(APART)
        ]
        worst = max(ways, key=lambda way: way.by_db, default=None)
        if worst is not None and worst.by_db >= context.setting(CROSSED):
            found.append(worst)
    return tuple(found)


class Against(NamedTuple):
    """Two pairs that hear the same microphones from opposite sides.

    Args:
        one, other: the pairs.
        told_by: the close microphones that both hear.
    """

    one: Pair
    other: Pair
    told_by: tuple[Channel, ...]


@per_session
def pairs_against(context: SessionContext, family: Family) -> tuple[Against, ...]:
    """Pairs of a family of which one hears left what the other hears right, whatever the desk has."""
    import numpy as np

    heard = {
        pair: {
            channel.id: found.left_over_right_db
            for channel in _close(context, family, pair)
            if (found := _heard(context, family, pair, channel)) is not None
        }
        for pair in _pairs(context, family)[:MOST_PAIRS]
    }
    against = []
    for one, other in combinations(heard, 2):
        both = [i for i in heard[one] if i in heard[other]]
        drums = {context.role(i) or i for i in both}  # two microphones on one drum say the same twice
        if len(drums) < LEAST_SHARED or one.ids & other.ids:
            continue
        balances = np.array([[heard[pair][i] for i in both] for pair in (one, other)])
        wide = float(balances.std(axis=1).min()) >= context.setting(CROSSED) / 2.0
        if wide and float(np.corrcoef(balances)[0, 1]) <= -OPPOSITE:
            against.append(Against(one, other, tuple(context.channels[i] for i in both)))
    return tuple(against)


MOST_PAIRS: Final = 3
LEAST_SHARED: Final = 3
OPPOSITE: Final = 0.7
"""So well the balances of two pairs have to agree the other way round: by chance three sources seldom do."""


class Leaning(NamedTuple):
    """A pair that has the middle of the kit on one side.

    Args:
        pair: the pair.
        by_db: how much more of kick and snare is in its left than in its right.
        told_by: the microphones that show it.
    """

    pair: Pair
    by_db: float
    told_by: tuple[Channel, ...]


@per_session
def leaning_pairs(context: SessionContext, family: Family) -> tuple[Leaning, ...]:
    """The pairs of a kit that have kick and snare on one side, which stand in the middle of a kit and of the desk."""
    found = []
    for pair in _pairs(context, family):
        middle = [
            (channel, heard)
            for channel in family.members
            if context.role(channel.id) in MIDDLE_OF_A_KIT and channel.legs == 1 and channel.id not in pair.ids
            if (heard := _heard(context, family, pair, channel)) is not None
        ]
        if not middle:
            continue
        balances = [heard.left_over_right_db for _, heard in middle]
        nearest = min(balances, key=abs)
        # Each of them has to say it: a kick without any highs is easily put on a side alone.
        if abs(nearest) >= context.setting(LEANS) and all(one * nearest > 0.0 for one in balances):
            by_db = sum(balances) / len(balances)
            found.append(Leaning(pair, by_db, tuple(channel for channel, _ in middle)))
    return tuple(found)


MIDDLE_OF_A_KIT: Final = frozenset({"kick", "snare"})


def _pairs(context: SessionContext, family: Family) -> list[Pair]:
    """The members that hear the whole in two legs, and the pairs of them: by their pans, or their names."""
    far = [one for one in family.members if stand_of(context, one) in ("wide", "room")]
    found = [Pair(one, one) for one in far if one.legs == 2]
    single = [one for one in far if one.legs == 1]
    words = context.house.vocabulary
    for one, other in combinations(single, 2):
        if pair_kind(one.name, other.name, words) != "sides":
            continue
        here, there = position_of(context, one), position_of(context, other)
        if is_known(here) and is_known(there) and abs(here - there) >= 2.0 * context.setting(LEAST_PAN):
            first = here < there
        else:
            first = side_of(one.name, words) == "left"
        found.append(Pair(one, other) if first else Pair(other, one))
    return found


@per_session
def _heard(context: SessionContext, family: Family, pair: Pair, channel: Channel) -> Heard | None:
    """How a pair hears what stands before a close microphone; None where its arrival does not stand out."""
    from mixlint.signal.image import heard_in

    moments = _alone(context, family, pair, channel)
    close, rate = legs_at(context, channel, moments, MOMENT_S)
    left, left_rate = legs_at(context, pair.left, moments, MOMENT_S)
    right, right_rate = legs_at(context, pair.right, moments, MOMENT_S)
    if not rate == left_rate == right_rate:
        return None
    looks = [
        (here[0], one[0], other[-1])
        for here, one, other in zip(close, left, right, strict=True)
        if here is not None and one is not None and other is not None
        if here.shape[1] == one.shape[1] == other.shape[1] and here.any()
    ]
    found = heard_in(looks, rate) if looks else None
    return found if found is not None and found.stands_out >= context.setting(STANDS_OUT) else None


def _alone(context: SessionContext, family: Family, pair: Pair, channel: Channel) -> tuple[float, ...]:
    """When a close microphone is loud and the others of its family are least so, seconds of the song."""
    import numpy as np

    own = levels(context, channel)
    if isinstance(own, Unknown):
        return ()
    rest = np.full(own.size, 1e-12)
    for other in family.members:
        if other.id in pair.ids or other is channel or stand_of(context, other) != "close":
            continue
        power = levels(context, other)
        if not isinstance(power, Unknown):
            size = min(own.size, power.size)
            rest[:size] += power[:size]
    worth = own * own / rest
    chosen: list[int] = []
    for at in np.argsort(-worth):
        if worth[at] <= 0.0 or len(chosen) == MOMENTS:
            break
        if all(abs(int(at) - one) > 2 for one in chosen):
            chosen.append(int(at))
    return tuple(first_s(context) + at * STEP_S for at in sorted(chosen))


def _told(row: Row[Family], names: Iterable[str], texts: Iterable[str]) -> FactValue:
    """The channels that a fact lists, each once, and what a reader is told of them.

    Raises:
        NotKnown: the family's sound was not compared.
    """
    if not row.item.edges:
        raise NotKnown(row.item.why or NOT_OPENED)
    return FactValue(tuple(dict.fromkeys(names)), "measured", row.subject.where, "; ".join(texts))


def _name(context: SessionContext, pair: Pair) -> str:
    return " and ".join(dict.fromkeys((context.name(pair.left.id), context.name(pair.right.id))))


def _how(context: SessionContext, one: Crossed) -> str:
    right, left = context.name(one.right.channel.id), context.name(one.left.channel.id)
    return f"{_name(context, one.pair)} has {right} {one.by_db:.1f} dB further left than {left}"


@FACTS.fact(
    "list",
    "Pairs of them that hear right what the desk has left, and left what it has right.",
    how="measured",
    settings=SIDE_SETTINGS,
)
def crossed(row: Row[Family]) -> FactValue:
    context, found = row.context, crossed_pairs(row.context, row.item)
    return _told(row, [_name(context, one.pair) for one in found], [_how(context, one) for one in found])


@FACTS.fact(
    "list",
    "Two of them that a pair hears the other way round than the desk has them, and the others as it has them.",
    how="measured",
    settings=PLACE_SETTINGS,
)
def exchanged(row: Row[Family]) -> FactValue:
    context, found = row.context, exchanged_places(row.context, row.item)
    names = [context.name(placed.channel.id) for one in found for placed in (one.left, one.right)]
    return _told(row, names, [_how(context, one) for one in found])


@FACTS.fact(
    "list",
    "Pairs of them of which one hears left what another hears right, where the desk does not tell which is right.",
    how="measured",
    settings=SIDE_SETTINGS,
)
def against_each_other(row: Row[Family]) -> FactValue:
    context = row.context
    told = {one.pair for one in crossed_pairs(context, row.item)}
    names, texts = [], []
    for found in pairs_against(context, row.item):
        if told & {found.one, found.other}:
            continue
        one, other = _name(context, found.one), _name(context, found.other)
        shown_by = few_text([context.name(channel.id) for channel in found.told_by])
        texts.append(f"{one} has on the left what {other} has on the right, as {shown_by} show")
        names += [one, other]
    return _told(row, names, texts)


@FACTS.fact("text", "How their sides do not agree, for a reader.", how="measured", settings=PLACE_SETTINGS)
def sides_text(row: Row[Family]) -> str:
    told = (row.need(fact) for fact in ("crossed", "exchanged", "against_each_other"))
    return "; ".join(one.note for one in told if one.note) or "they agree"


@FACTS.fact("list", "Pairs of them that have kick and snare on one side.", how="measured", settings=LEAN_SETTINGS)
def leaning(row: Row[Family]) -> FactValue:
    context, found = row.context, leaning_pairs(row.context, row.item)
    texts = []
    for one in found:
        middle = few_text([context.name(channel.id) for channel in one.told_by])
        side = "left" if one.by_db > 0.0 else "right"
        texts.append(f"{_name(context, one.pair)} has {middle} {number_text(abs(one.by_db), 'dB')} further {side}")
    return _told(row, [_name(context, one.pair) for one in found], texts)
