"""Counterparts: which panned part is answered by which part on the other side.

Two parts answer each other when they are panned to opposite sides, the nearer one at a share of the other's angle or
more, are like parts, play together for a share of the shorter one's time or more, and reach the mix bus at like
levels; the settings :data:`MATCHING` say how much of each (common practice, no source). The pairs of a session are a
maximum-weight matching over all that qualify, of greatest cardinality (Edmonds 1965, as networkx has it; Galil, ACM
Computing Surveys 18(1), 1986), so that of three guitars the two that are closest are the pair.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import overlap_share, playing, time_grid
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import measured_energy
from mixlint.analysis.gain_to_mix_bus import audible_power_gain
from mixlint.analysis.partners import partners, waits_for_partner
from mixlint.analysis.settings import Setting, share_setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.naming import family_of, pair_kind, stem_of
from mixlint.session import Channel, Unknown, is_known
from mixlint.units import CENTRED, PAN_DISTANCE, SILENCE_DB, number_text, pan_text

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

LEAST_ANGLE: Final = Setting(
    "counterparts.least_angle",
    15.0,
    PAN_DISTANCE,
    "From this distance from the centre on a part counts as panned, and can be a counterpart.",
    lowest=CENTRED,
    highest=100.0,
)
LEAST_ANGLE_RATIO: Final = share_setting(
    "counterparts.least_angle_ratio", 50.0, "Least angle of the nearer of two counterparts, as a share of the other's."
)
LEAST_TOGETHER: Final = share_setting(
    "counterparts.least_together",
    50.0,
    "Least share of the shorter one's playing time in which two counterparts play together.",
)
MOST_LEVEL_DIFFERENCE_DB: Final = Setting(
    "counterparts.most_level_difference_db",
    6.0,
    "dB",
    "Most difference in level at the mix bus between two counterparts.",
    lowest=0.1,  # of less than this nothing would be left to grade the closeness by
)

SAME_ROLE: Final = share_setting(
    "counterparts.same_role",
    90.0,
    "How like two parts of one role but of different names are, where parts compete for a counterpart; names alike "
    "but for side and number are 100.",
)
SAME_FAMILY: Final = share_setting(
    "counterparts.same_family",
    70.0,
    "How like two parts of one family but of different roles are; at 0 they are no like parts.",
)

LIKENESS: Final = (SAME_ROLE, SAME_FAMILY)
"""What :func:`likeness` reads."""

MATCHING: Final = (
    LEAST_ANGLE,
    LEAST_ANGLE_RATIO,
    LEAST_TOGETHER,
    MOST_LEVEL_DIFFERENCE_DB,
    *LIKENESS,
    *SPECTRUM_SETTINGS,
)
"""What decides which parts are counterparts."""

UNLIKE: Final = "is not a like part"

ANSWERING: Final = frozenset({"guitars", "plucked", "keys", "synths", "strings", "winds"})
"""Families of instruments that can answer each other across families, since they play chords, riffs and lines."""

LARGE_GROUP: Final = 24
NEAREST_FEW: Final = 8
"""Of more like parts than the first number each is judged against the nearest few only: a bound of work.

It keeps the work linear. So many like parts are no session that any of the settings was made for.
"""

ROUNDING: Final = 1e-6
"""A share in per cent or a level in dB may miss its setting by this much: rounding does not decide."""


class Closeness(NamedTuple):
    """How well two panned parts answer each other; each share is 0 … 1, and 1 is best.

    Args:
        one, other: ids of the two parts.
        angle: the nearer one's distance from the centre over the other's; 0 where they are not on opposite sides.
        level: 1 at equal levels or where a level is not known, 0 at twice the greatest difference allowed.
        time: the share of the shorter one's playing time in which both play.
        likeness: how like the two parts are, see :func:`likeness`.
        level_difference_db: how much louder ``one`` reaches the mix bus, dB; None where a level is not known.
        mismatches: what keeps them from being counterparts, for a reader; empty where they can be.
    """

    one: str
    other: str
    angle: float
    level: float
    time: float
    likeness: float
    level_difference_db: float | None
    mismatches: tuple[str, ...]

    @property
    def score(self) -> float:
        """The mean of the four shares: the weight of the pair in the matching."""
        return (self.angle + self.level + self.time + self.likeness) / 4.0

    def beside(self, channel_id: str) -> str:
        """The id of the part that belongs to one of the two."""
        return self.other if channel_id == self.one else self.one


@per_session
def panned_parts(context: SessionContext) -> list[Channel]:
    """Audible parts of the song whose pan is known, in desk order; those in the centre are among them."""
    return [
        c
        for c in context.session.channels
        if is_source(context, c) and is_audible(context, c) and is_known(position_of(context, c))
    ]


@per_session
def counterparts(context: SessionContext) -> Mapping[str, Closeness]:
    """Channel id → the pair it belongs to, for every part that has a counterpart; both ends lead to one pair.

    A part and its partner by name are a pair where they qualify, and neither answers anybody else, whatever becomes of
    the other: in a dense session any guitar could stand in for a right one that was forgotten in the centre.
    """
    least = context.setting(LEAST_ANGLE)
    parts = [c for c in panned_parts(context) if abs(_pan(context, c)) >= least]
    named = partners(context)
    right = {c.id for c in parts if _pan(context, c) > 0}
    fits: list[Closeness] = []
    for one in parts:
        partner = named.get(one.id)
        if partner is not None and _pan(context, one) < 0 and partner.id in right:
            near = closeness(context, one, partner)
            if not near.mismatches:
                fits.append(near)
    right -= named.keys()
    for one in parts:
        if _pan(context, one) > 0 or one.id in named:
            continue
        for other in candidates(context, one, right):
            if _ruled_out(context, one, other) or not may_answer(context, one, other):
                continue
            near = closeness(context, one, other)
            if not near.mismatches:
                fits.append(near)
    return {end: near for near in _best_matching(fits) for end in (near.one, near.other)}


@per_session
def other_instruments(context: SessionContext) -> Mapping[str, Closeness]:
    """Channel id → the pair of two unlike instruments it belongs to: a skank guitar and the piano that answers it.

    They are taken from the parts of :data:`ANSWERING` that have neither a partner by name nor a counterpart, and
    answer each other as counterparts do in all but likeness.
    """
    least, found, named = context.setting(LEAST_ANGLE), counterparts(context), partners(context)
    parts = [
        c
        for c in panned_parts(context)
        if abs(_pan(context, c)) >= least
        and c.id not in found
        and c.id not in named
        and context.family(c.id) in ANSWERING
    ]
    left, right = ([c for c in parts if _pan(context, c) * side > 0] for side in (-1.0, 1.0))
    fits = []
    for one in left[:LARGE_GROUP]:
        for other in right[:LARGE_GROUP]:
            if _ruled_out(context, one, other) or not may_answer(context, one, other):
                continue
            near = closeness(context, one, other)
            if near.mismatches == (UNLIKE,):
                fits.append(near)
    return {end: near for near in _best_matching(fits) for end in (near.one, near.other)}


def may_answer(context: SessionContext, one: Channel, other: Channel) -> bool:
    """True where names leave it open that two parts answer each other.

    A part with a partner by name answers nobody else. One whose name tells a side, and whose partner is not in the
    session, waits for one: where other parts of its family come in named pairs, only another that waits answers it.
    """
    named = partners(context)
    if one.id in named or other.id in named:
        partner = named.get(one.id)
        return partner is not None and partner.id == other.id
    waiting = [waits_for_partner(context, part) for part in (one, other)]
    if waiting[0] == waiting[1]:
        return True
    orphan = one if waiting[0] else other
    return context.family(orphan.id) not in _families_in_named_pairs(context)


@per_session
def _families_in_named_pairs(context: SessionContext) -> frozenset[str | None]:
    """The families in which some part has a partner by name."""
    return frozenset(context.family(channel_id) for channel_id in partners(context))


def nearest(context: SessionContext, channel: Channel) -> Closeness | None:
    """The like part that comes closest to answering ``channel``: with the fewest mismatches, then the best score.

    A partner by name is the one, if it can be heard. None where the session has no like part.
    """
    partner = partners(context).get(channel.id)
    if partner is not None and any(part.id == partner.id for part in panned_parts(context)):
        return closeness(context, channel, partner)
    found = [
        closeness(context, channel, other)
        for other in candidates(context, channel, {c.id for c in panned_parts(context)})
    ]
    return max(found, key=lambda c: (-len(c.mismatches), c.score), default=None)


def candidates(context: SessionContext, channel: Channel, among: Collection[str]) -> list[Channel]:
    """The like parts worth judging against a part.

    Args:
        context: the session context.
        channel: the part; it is not among them itself.
        among: ids to choose from.

    Returns:
        All like parts in desk order, or of more than :data:`LARGE_GROUP` those panned at the nearest angles.
    """
    mine, place = abs(_pan(context, channel)), context.order[channel.id]
    like = [c for c in _like_parts(context, channel, mine) if c.id != channel.id and c.id in among]
    if len(like) <= LARGE_GROUP:
        return sorted(like, key=lambda c: context.order[c.id])
    return sorted(like, key=lambda c: (abs(abs(_pan(context, c)) - mine), abs(context.order[c.id] - place)))[
        :NEAREST_FEW
    ]


def _like_parts(context: SessionContext, channel: Channel, angle: float) -> list[Channel]:
    """Panned parts like ``channel``: the same family, or the same name but for side and number.

    Of more than :data:`LARGE_GROUP` only those panned nearest to ``angle``, on either side of it, are given.
    """
    groups = _parts_by_likeness(context)
    found: dict[str, Channel] = {}
    for key in _likeness_keys(context, channel):
        group = groups.get(key, [])
        at = bisect_left(group, angle, key=lambda c: abs(_pan(context, c)))
        window = group if len(group) <= LARGE_GROUP else group[max(0, at - 2 * NEAREST_FEW) : at + 2 * NEAREST_FEW]
        found |= {part.id: part for part in window}
    return list(found.values())


def like_part_count(context: SessionContext, channel: Channel) -> int:
    """How many other parts like ``channel`` stand off the centre, on either side; all of them count."""
    return len(_like_off_centre(context, tuple(_likeness_keys(context, channel))) - {channel.id})


@per_session
def _like_off_centre(context: SessionContext, keys: tuple[str, ...]) -> frozenset[str]:
    """Ids of the parts off the centre for which one of ``keys`` holds."""
    least, groups = context.setting(LEAST_ANGLE), _parts_by_likeness(context)
    return frozenset(c.id for key in keys for c in groups.get(key, ()) if abs(_pan(context, c)) >= least)


@per_session
def _parts_by_likeness(context: SessionContext) -> dict[str, list[Channel]]:
    """What makes parts alike → the panned parts it holds for, those nearest to the centre first."""
    groups: dict[str, list[Channel]] = {}
    for part in sorted(panned_parts(context), key=lambda c: abs(_pan(context, c))):
        for key in _likeness_keys(context, part):
            groups.setdefault(key, []).append(part)
    return groups


def _likeness_keys(context: SessionContext, channel: Channel) -> list[str]:
    """What makes other parts like this one: the stem of its name and its family, as far as they are known."""
    stem, family = name_stem(context, channel), context.family(channel.id)
    return [f"{kind} {word}" for kind, word in (("named", stem), ("family", family)) if word]


def _best_matching(fits: list[Closeness]) -> list[Closeness]:
    """The best pairing of parts that can answer each other; a large group is paired greedily, the closest first."""
    ends = Counter(end for near in fits for end in (near.one, near.other))
    if all(count == 1 for count in ends.values()):  # nobody has a choice, as in most sessions
        return fits
    import networkx as nx

    graph: nx.Graph[str] = nx.Graph()
    for near in fits:
        graph.add_edge(near.one, near.other, weight=near.score, near=near)
    chosen: list[Closeness] = []
    for part_of in nx.connected_components(graph):
        inside = graph.subgraph(part_of)
        if len(part_of) <= LARGE_GROUP:
            chosen += [graph.edges[pair]["near"] for pair in nx.max_weight_matching(inside, maxcardinality=True)]
            continue
        taken: set[str] = set()
        for near in sorted((e["near"] for *_, e in inside.edges(data=True)), key=lambda n: (-n.score, n.one, n.other)):
            if near.one not in taken and near.other not in taken:
                taken |= {near.one, near.other}
                chosen.append(near)
    return chosen


def answered_share(context: SessionContext, channel: Channel) -> float:
    """The share (0 … 1) of a part's own time in which a like part plays opposite it, like enough in angle and level.

    Several parts may take turns: a guitar answered by one part in the verse and by another in the chorus is answered.
    """
    import numpy as np

    mine, place = playing(context, channel.id), _pan(context, channel)
    answered = np.zeros_like(mine)
    others = candidates(context, channel, {c.id for c in panned_parts(context)})
    unlike = other_instruments(context).get(channel.id)
    if unlike is not None:
        others = [*others, context.channels[unlike.beside(channel.id)]]
    for other in others:
        if _pan(context, other) * place < 0.0 and not _ruled_out(context, channel, other):
            answered = np.maximum(answered, playing(context, other.id))
    steps = np.diff(time_grid(context))
    whole = float(mine @ steps)
    return float(np.minimum(mine, answered) @ steps) / whole if whole > 0.0 else 0.0


def _ruled_out(context: SessionContext, one: Channel, other: Channel) -> bool:
    """True where angle or level alone rule a pair out: cheap to see, where playing together is not."""
    angles = sorted((abs(_pan(context, one)), abs(_pan(context, other))))
    if angles[1] > 0.0 and falls_short(angles[0] / angles[1], context.setting(LEAST_ANGLE_RATIO)):
        return True
    difference = level_difference_db(context, one, other)
    return difference is not None and abs(difference) > context.setting(MOST_LEVEL_DIFFERENCE_DB) + ROUNDING


def falls_short(share: float, least_percent: float) -> bool:
    """True when a share (0 … 1) is less than a least one in per cent, by more than rounding."""
    return 100.0 * share < least_percent - ROUNDING


def closeness(context: SessionContext, one: Channel, other: Channel) -> Closeness:
    """Judge two panned parts against each other; the order decides whose place the mismatches are worded by."""
    pan_one, pan_other = _pan(context, one), _pan(context, other)
    mismatches: list[str] = []
    wide, narrow = max(abs(pan_one), abs(pan_other)), min(abs(pan_one), abs(pan_other))
    angle = narrow / wide if wide > 0.0 else 0.0
    if pan_one * pan_other >= 0.0 or abs(pan_other) < CENTRED:
        mismatches.append(f"stands {_pan_place(pan_other)}")
        angle = 0.0
    elif falls_short(angle, context.setting(LEAST_ANGLE_RATIO)):
        mismatches.append(f"stands only {pan_text(pan_other)}")
    like = likeness(context, one, other)
    if like <= 0.0:
        mismatches.append(UNLIKE)
    time = overlap_share(context, one.id, other.id)
    if falls_short(time, context.setting(LEAST_TOGETHER)):
        mismatches.append(f"plays with it for only {100.0 * time:.0f} % of the time")
    difference = level_difference_db(context, one, other)
    most = context.setting(MOST_LEVEL_DIFFERENCE_DB)
    level = 1.0 if difference is None else max(0.0, 1.0 - abs(difference) / (2.0 * most))
    if difference is not None and abs(difference) > most + ROUNDING:
        silent = _gain_and_level_db(context, other)[0] == SILENCE_DB
        quieter = f"is {number_text(abs(difference))} dB {'quieter' if difference > 0 else 'louder'}"
        mismatches.append("does not arrive at the mix bus" if silent else quieter)
    return Closeness(one.id, other.id, angle, level, time, like, difference, tuple(mismatches))


def likeness(context: SessionContext, one: Channel, other: Channel) -> float:
    """How like two parts are, 0 … 1.

    Returns:
        1 for names alike but for side and number, the setting ``counterparts.same_role`` for one role,
        ``counterparts.same_family`` for one family, and 0 for unlike parts or a role that cannot be read.
    """
    stem = name_stem(context, one)
    if stem and stem == name_stem(context, other):
        return 1.0
    role_one, role_other = context.role(one.id), context.role(other.id)
    if role_one is None or role_other is None:
        return 0.0
    if role_one == role_other:
        return context.setting(SAME_ROLE) / 100.0
    return context.setting(SAME_FAMILY) / 100.0 if family_of(role_one) == family_of(role_other) else 0.0


@per_session
def alike_by_name(context: SessionContext, one: Channel, other: Channel) -> bool:
    """True for names that are one but for side or number, and for a part and its double."""
    stem = name_stem(context, one)
    if stem and stem == name_stem(context, other):
        return True
    return pair_kind(one.name, other.name, context.house.vocabulary) in ("sides", "numbers", "doubles")


@per_session
def name_stem(context: SessionContext, channel: Channel) -> str:
    """The part's name without side and number."""
    return stem_of(channel.name, context.house.vocabulary)


def level_difference_db(context: SessionContext, one: Channel, other: Channel) -> float | None:
    """How much louder ``one`` reaches the mix bus than ``other``, dB.

    With audio on both it is the difference of gain plus measured K-weighted level while each plays, otherwise that of
    the gains alone. None where a gain on the path of either is not known.
    """
    loud = [_gain_and_level_db(context, c) for c in (one, other)]
    gains, means = zip(*loud, strict=True)
    if gains[0] is None or gains[1] is None:
        return None
    difference: float = gains[0] - gains[1]
    if means[0] is not None and means[1] is not None:
        difference += means[0] - means[1]
    return difference


@per_session
def _gain_and_level_db(context: SessionContext, channel: Channel) -> tuple[float | None, float | None]:
    """The gain of a part to the mix bus, and its measured level per leg while it plays, both in dB.

    None for what is not known or not measured. The gain is that of a signal alike on both legs, which already counts a
    stereo part twice, so that the level is the mean of the legs and not their sum.
    """
    from mixlint.signal.decibel import power_to_db

    gain = path_power_gain(context, channel.id)
    energy = measured_energy(context, channel)
    power = energy.legs.mean(axis=0) if energy is not None else None
    mean = None if power is None else float(power[power > 0.0].mean()) if power.any() else 0.0
    return (None if gain is None else power_to_db(gain), None if mean is None else power_to_db(mean))


def path_power_gain(context: SessionContext, channel_id: str) -> float | None:
    """The power gain of a part to the mix bus with its own spectrum, both sides added: its mean over the time it plays.

    Its direct paths count; where it has none, as behind an effect of its own that is wholly wet, its ambience.
    None where a gain on its path is not known, or its gain changes and it never plays.
    """
    if context.routing.unknown_on_the_path.get(channel_id):
        return None
    power = audible_power_gain(context, channel_id)
    if power.size == 1:
        return float(power[0])
    plays = playing(context, channel_id)
    return float((power * plays).sum() / plays.sum()) if plays.any() else None


@per_session
def _pan(context: SessionContext, channel: Channel) -> float:
    """The pan of a part, −100 … +100; 0 where it is not known."""
    position = position_of(context, channel)
    return 0.0 if isinstance(position, Unknown) else position


def _pan_place(pan: float) -> str:
    """A pan for a reader, after the word "stands"."""
    return "in the centre" if abs(pan) < CENTRED else pan_text(pan)
