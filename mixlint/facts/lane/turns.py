"""The moves of a lane, and what other channels do at the same time: what several do at once was meant for all of them.

A scene or a section moves many lanes at one moment; so does a cut of a whole band by mutes. Lanes of several channels
with the same moves throughout were written as one, and the one that lacks a move, or makes it a bar early or late, is
where a point was dragged or lost.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from itertools import pairwise
from typing import Final, NamedTuple, TypeAlias

from mixlint.analysis.activity import any_within, moment_text, sounding_spans
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import ChannelLane, last_move_s
from mixlint.facts.lane.settling import ControlClass, control_class
from mixlint.session import MUTE, Automation, Channel, Unknown
from mixlint.session.control import moves
from mixlint.units import few_text

FACTS: Facts[ChannelLane] = Facts()

AT_ONCE: Final = Setting(
    "scenes.at_once", 50.0, "ms", "Moves of several channels this near to each other are one move.", lowest=1.0
)
LEAST_TURNS: Final = Setting(
    "scenes.least_turns", 3.0, "", "So many moves in common make lanes that were written as one.", lowest=2.0
)
LEAST_PEERS: Final = Setting(
    "scenes.least_peers", 2.0, "", "So many lanes that agree throughout are a pattern.", lowest=2.0
)
MOST_OFF: Final = Setting(
    "scenes.most_off",
    34.0,
    "%",
    "A lane of which more moves than this differ goes its own way.",
    lowest=0.0,
    highest=60.0,
)
STEP_SETTINGS: Final = (AT_ONCE, LEAST_TURNS, LEAST_PEERS, MOST_OFF)


class Turn(NamedTuple):
    """One move: when it comes to its end, seconds, and whether it goes up."""

    at_s: float
    up: bool


def turns(lane: Automation) -> tuple[Turn, ...]:
    """The moves of a lane, each between two points that differ."""
    points = zip(lane.t, lane.v, strict=True)
    return tuple(Turn(end, after > before) for (_, before), (end, after) in pairwise(points) if after != before)


@per_session
def _last_moves(context: SessionContext) -> dict[tuple[ControlClass, bool], list[tuple[float, str]]]:
    """Class of control and direction → the last moves of all lanes, with their channels, in order of time."""
    found: dict[tuple[ControlClass, bool], list[tuple[float, str]]] = defaultdict(list)
    for channel in context.session.channels:
        for lane in channel.automation:
            own = turns(lane)
            if own:
                found[control_class(channel, lane.target), own[-1].up].append((last_move_s(lane), channel.id))
    return {key: sorted(several) for key, several in found.items()}


@FACTS.fact(
    "number",
    "How many other channels make the last move of such a control at the same time, and the same way.",
    how="derived",
    settings=(AT_ONCE,),
)
def last_moves_alike(row: Row[ChannelLane]) -> int:
    own = turns(row.item.lane)
    if not own:
        return 0
    at, near = last_move_s(row.item.lane), row.context.setting(AT_ONCE) / 1000.0
    key = control_class(row.item.channel, row.item.lane.target), own[-1].up
    all_of_it = _last_moves(row.context)[key]
    first = bisect_left(all_of_it, (at - near, ""))
    others: set[str] = set()
    for when, channel in all_of_it[first:]:
        if when > at + near:
            break
        others.add(channel)
    return len(others - {row.item.channel.id})


SEND_MOVES: Final = frozenset({"send-level", "send-switch"})
"""What opens a send and closes it."""


@FACTS.fact(
    "switch",
    "At the time of its last move another send of its channel opens as this one closes, or closes as it opens.",
    how="derived",
    settings=(AT_ONCE,),
)
def changes_over(row: Row[ChannelLane]) -> bool | FactValue:
    channel, lane = row.item.channel, row.item.lane
    own = turns(lane)
    if not own or control_class(channel, lane.target) not in SEND_MOVES:
        return False
    at, near = last_move_s(lane), row.context.setting(AT_ONCE) / 1000.0
    for other in channel.automation:
        of_another = other.target.place != lane.target.place and control_class(channel, other.target) in SEND_MOVES
        if of_another and any(abs(turn.at_s - at) <= near and turn.up != own[-1].up for turn in turns(other)):
            return FactValue(True, "derived", row.subject.where, moment_text(row.context, at))
    return False


# --- lanes of several channels that were written as one


class Written(NamedTuple):
    """A lane with its moves, on the grid by which patterns are compared."""

    channel: Channel
    lane: Automation
    pattern: Pattern


Pattern: TypeAlias = tuple[tuple[int, bool], ...]
"""The moves of a lane: when each ends, on the grid by which they are compared, and whether it goes up."""

Key: TypeAlias = tuple[str, str]
"""What lanes have to have in common to be written as one: the kind of control, and where a send leads or what it is of
an insert."""


def key_of(channel: Channel, lane: Automation) -> Key | None:
    """What a lane moves, as another channel could move it too; None where there is no telling."""
    target = lane.target
    if target.place is None:
        return (target.kind, "") if target.kind in ("fader", "mute", "pan") else None
    if target.of_send:
        to = channel.sends[target.place].to if target.place < len(channel.sends) else None
        return (target.kind, to) if isinstance(to, str) else None
    if target.place < len(channel.inserts):
        return target.kind, f"{channel.inserts[target.place].name}:{target.word}"
    return None


def _pattern(context: SessionContext, lane: Automation) -> Pattern:
    """The moves of a lane on the grid by which they are compared."""
    grid = context.setting(AT_ONCE) / 1000.0
    return tuple((round(turn.at_s / grid), turn.up) for turn in turns(lane))


@per_session
def written(context: SessionContext) -> dict[Key, tuple[Written, ...]]:
    """What is moved → the lanes that move it."""
    found: dict[Key, list[Written]] = defaultdict(list)
    for channel in context.session.channels:
        for lane in channel.automation:
            key = key_of(channel, lane) if lane.t else None
            if key is not None:
                found[key].append(Written(channel, lane, _pattern(context, lane)))
    return {key: tuple(lanes) for key, lanes in found.items()}


@per_session
def _patterns(context: SessionContext, key: Key) -> tuple[tuple[Pattern, tuple[Channel, ...]], ...]:
    """The patterns of moves that several channels have in common, with these channels."""
    by_pattern: dict[Pattern, list[Channel]] = defaultdict(list)
    for one in written(context).get(key, ()):
        by_pattern[one.pattern].append(one.channel)
    peers = context.setting(LEAST_PEERS)
    return tuple((pattern, tuple(channels)) for pattern, channels in by_pattern.items() if len(channels) >= peers)


class OutOfStep(NamedTuple):
    """Where a lane leaves those it was written with: for a reader, with whom, and what else is to be said."""

    text: str
    with_whom: tuple[Channel, ...]
    rest: str


@per_session
def out_of_step(context: SessionContext, channel: Channel, lane: Automation) -> OutOfStep | None:
    """Where a lane leaves the pattern of moves that two others or more have in common; None where it does not."""
    key = key_of(channel, lane)
    if key is None:
        return None
    grid = context.setting(AT_ONCE) / 1000.0
    own = frozenset(_pattern(context, lane))
    for pattern, channels in _patterns(context, key):
        theirs = frozenset(pattern)
        missing, added = theirs - own, own - theirs
        kept = len(theirs) - len(missing)
        few = 100.0 * max(len(missing), len(added)) <= context.setting(MOST_OFF) * len(theirs)
        if not missing or kept < context.setting(LEAST_TURNS) or not few or len(added) not in (0, len(missing)):
            continue
        lost = moment_text(context, min(missing)[0] * grid)
        if not added:
            return OutOfStep(f"makes no move at {lost}, where", channels, REST)
        return OutOfStep(
            f"moves at {moment_text(context, min(added)[0] * grid)} and not at {lost}, where", channels, REST
        )
    return (
        _stays_behind(context, channel, lane, key)
        or _apart_from_partner(context, channel, lane, key)
        or _left_unmuted(context, channel, lane)
    )


REST: Final = "; all its other moves are theirs"


def _stays_behind(context: SessionContext, channel: Channel, lane: Automation, key: Key) -> OutOfStep | None:
    """Where a switch that opened with others stays open behind them, though its channel plays on, if at a border."""
    if key[0] not in ("send-switch", "insert-switch"):
        return None
    grid = context.setting(AT_ONCE) / 1000.0
    own = _pattern(context, lane)
    for at, (opened, up) in enumerate(own):
        if not up:
            continue
        backs: dict[int, list[Channel]] = defaultdict(list)
        for one in written(context)[key]:
            place = one.pattern.index((opened, up)) if (opened, up) in one.pattern else -1
            if one.channel.id != channel.id and place >= 0 and place + 1 < len(one.pattern):
                backs[one.pattern[place + 1][0]].append(one.channel)
        if len(backs) != 1:
            continue
        ((back, peers),) = backs.items()
        until = own[at + 1][0] * grid if at + 1 < len(own) else float("inf")
        shut = back * grid
        at_border = any(abs(marker.time_s - shut) <= 2.0 * LATE_S for marker in context.session.markers)
        plays = any(end > shut + LATE_S and start < until for start, end in sounding_spans(context, channel.id))
        if len(peers) >= context.setting(LEAST_PEERS) and until > shut + LATE_S and at_border and plays:
            return OutOfStep(f"stays on at {moment_text(context, shut)}, where", tuple(peers), " not")
    return None


def _apart_from_partner(context: SessionContext, channel: Channel, lane: Automation, key: Key) -> OutOfStep | None:
    """Where the two sides of one part come apart: one makes a move that the other lacks, or has no such lane at all."""
    partner = partners(context).get(channel.id)
    if partner is None or not (is_audible(context, channel) and is_audible(context, partner)):
        return None
    own = turns(lane)
    there = next((one for one in written(context)[key] if one.channel.id == partner.id and one.pattern), None)
    if there is None:
        both = _has_control(partner, key) and channel.output == partner.output
        first = next((turn.at_s for turn in own if plays_at(context, partner, turn.at_s)), None)
        least = 1 if key[0] in ("fader", "mute") else LEAST_OF_PARTNER
        if not both or first is None or len(own) < least:
            return None
        return OutOfStep(f"moves at {moment_text(context, first)}, where", (partner,), " not")
    if key[0] == "fader":
        return None  # what two faders do apart is told of the pair
    theirs = turns(there.lane)
    missing, added = _unmatched(theirs, own, key), _unmatched(own, theirs, key)
    kept = len(theirs) - len(missing)
    most = context.setting(MOST_OFF) * len(theirs)
    late = len(added) == len(missing) and context.order[channel.id] > context.order[partner.id]
    if not missing or kept < LEAST_OF_PARTNER or 100.0 * len(missing) > most or not (late or not added):
        return None
    lost = moment_text(context, missing[0].at_s)
    if not added:
        return OutOfStep(f"makes no move at {lost}, where", (partner,), REST)
    return OutOfStep(f"moves at {moment_text(context, added[0].at_s)} and not at {lost}, where", (partner,), REST)


LEAST_OF_PARTNER: Final = 2
"""So many moves make a lane of a pair: no setting, one move alone may be a lane of its own."""

NEAR_S: Final = 1.5
"""The two sides of a part are ridden one after the other: no setting, what was lost or dragged lies further off."""


def _unmatched(some: tuple[Turn, ...], others: tuple[Turn, ...], key: Key) -> list[Turn]:
    """The moves of a lane near which another makes none of their direction; pans move to either side."""
    either = key[0] in ("pan", "send-pan")
    near = {up: [one.at_s for one in others if either or one.up is up] for up in (True, False)}
    return [turn for turn in some if not any_within(near[turn.up], turn.at_s - NEAR_S, turn.at_s + NEAR_S)]


def _has_control(channel: Channel, key: Key) -> bool:
    """True where a channel has what a lane of another moves: a send to the same place, an insert of the same name."""
    kind, what = key
    if not what:
        return True
    if kind.startswith("send"):
        return any(send.to == what for send in channel.sends)
    return any(what.startswith(f"{insert.name}:") for insert in channel.inserts)


def plays_at(context: SessionContext, channel: Channel, at_s: float) -> bool:
    return any(start < at_s < end for start, end in sounding_spans(context, channel.id))


def _left_unmuted(context: SessionContext, channel: Channel, lane: Automation) -> OutOfStep | None:
    """Where others are muted for a word that a channel says, which has all its other mutes with them."""
    if lane.target != MUTE:
        return None
    own = _muted(context, lane)
    grid = context.setting(AT_ONCE) / 1000.0
    left: dict[tuple[int, int], list[Channel]] = defaultdict(list)
    for one in written(context)[MUTE.kind, ""]:
        theirs = _muted(context, one.lane)
        if one.channel.id == channel.id or len(own & theirs) < LEAST_OF_PARTNER:
            continue
        said = [(on, off) for on, off in sorted(theirs - own) if plays_at(context, channel, (on + off) / 2.0 * grid)]
        if len(said) == 1 and (own < theirs or len(theirs - own) == 1):
            left[said[0]].append(one.channel)
    # One channel beside a lead may leave out more than the lead does; two that agree do so with it.
    left = {word: peers for word, peers in left.items() if len(peers) > 1 or own < _muted_by(context, peers[0])}
    if len(left) != 1:
        return None
    ((word, peers),) = left.items()
    alone = REST if own < _muted_by(context, peers[0]) else ""
    return OutOfStep(f"makes no move at {moment_text(context, word[0] * grid)}, where", tuple(peers), alone)


def _muted_by(context: SessionContext, channel: Channel) -> frozenset[tuple[int, int]]:
    lanes = [one.lane for one in written(context)[MUTE.kind, ""] if one.channel.id == channel.id]
    return _muted(context, lanes[0]) if lanes else frozenset()


@per_session
def _muted(context: SessionContext, lane: Automation) -> frozenset[tuple[int, int]]:
    """From when to when a lane mutes, on the grid by which patterns are compared."""
    pattern = _pattern(context, lane)
    return frozenset((on, off) for (on, up), (off, again) in pairwise(pattern) if up and not again)


LATE_S: Final = 0.5
"""No setting: a scene lasts many times as long."""


@FACTS.fact(
    "text",
    "Where it leaves the moves that the same lanes of other channels have in common, and whose; or in step.",
    how="derived",
    settings=STEP_SETTINGS,
)
def in_step(row: Row[ChannelLane]) -> FactValue:
    found = out_of_step(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(IN_STEP, "derived", row.subject.where)
    names = few_text([row.context.name(one.id) for one in found.with_whom])
    do = "do" if len(found.with_whom) > 1 else "does"
    return FactValue(f"{found.text} {names} {do}{found.rest}", "derived", row.subject.where)


IN_STEP: Final = "in step"


@FACTS.fact(
    "text",
    "Which other send of its channel stays as it is, where those of the channels that make its moves turn; or none.",
    how="derived",
    settings=STEP_SETTINGS,
)
def held_beside(row: Row[ChannelLane]) -> FactValue:
    none = FactValue("none", "derived", row.subject.where)
    context, channel, lane = row.context, row.item.channel, row.item.lane
    key = key_of(channel, lane)
    like = (one for one in channel.automation if one.target.kind == lane.target.kind and one.t and moves(one))
    if key is None or not lane.target.of_send or next(like, None) is not lane:
        return none  # told once of a channel, on the first of its lanes
    own = _pattern(context, lane)
    peers = next((channels for pattern, channels in _patterns(context, key) if pattern == own), ())
    peers = tuple(peer for peer in peers if peer.id != channel.id)
    if len(peers) < context.setting(LEAST_PEERS):
        return none
    for place, send in enumerate(channel.sends):
        beside: Key = (lane.target.kind, send.to) if not isinstance(send.to, Unknown) else ("", "")
        if beside == key or any(_is_moving(one, channel) for one in written(context).get(beside, ())):
            continue
        ids = {peer.id for peer in peers}
        if any(
            len(pattern) >= 2 and ids <= {one.id for one in channels}
            for pattern, channels in _patterns(context, beside)
        ):
            names = few_text([context.name(peer.id) for peer in peers])
            to = context.name(beside[1])
            return FactValue(f"send {place + 1} to {to}", "derived", row.subject.where, names)
    return none


def _is_moving(one: Written, channel: Channel) -> bool:
    return one.channel.id == channel.id and bool(one.pattern)
