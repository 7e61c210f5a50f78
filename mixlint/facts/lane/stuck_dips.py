"""Dips and lifts that come back at once, and the one of the same depth that stays: the point of its way back was lost.

A breath, a plosive, or one word is taken down or brought up within a second or two, and the lane goes home. Where it
does so again and again by one depth, a move of that depth that stays for a whole verse is such a dip without its way
back.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.analysis.activity import span_text, within_s
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.borders import Move, moves_of
from mixlint.facts.lane.lanes import ChannelLane
from mixlint.facts.lane.settling import UNITS_OF_CLASS, control_class, spans_of
from mixlint.facts.lane.throws import THROWN
from mixlint.session import Automation, Channel
from mixlint.session.control import is_readable, moves
from mixlint.units import number_text

FACTS: Facts[ChannelLane] = Facts()

LONGEST_DIP: Final = Setting(
    "dips.longest", 4.0, "s", "A move that is back within so long is a dip, or a lift of a word.", lowest=0.1
)
LEAST_DIPS: Final = Setting("dips.least", 2.0, "", "So many of about one depth make a habit.", lowest=2.0)
CLEAR_DIP: Final = Setting(
    "dips.clear",
    4.0,
    "dB",
    "A level that dips but once makes a habit by so much, where the depth is the very same.",
    lowest=1.0,
)
SAME_DEPTH: Final = Setting(
    "dips.same_depth",
    20.0,
    "%",
    "Depths that differ by no more than this share are one.",
    lowest=1.0,
    highest=50.0,
)
STAYS: Final = Setting("dips.stays", 8.0, "s", "A dip from which the lane is not back for so long stays.", lowest=1.0)
DIP_SETTINGS: Final = (LONGEST_DIP, LEAST_DIPS, CLEAR_DIP, SAME_DEPTH, STAYS)

VERY_SAME: Final = 0.02
"""Depths within this share are the very same: no setting, they are typed or copied."""

TIMES_AS_LONG: Final = 3.0
"""A dip that stays lasts at least so many times as long as the longest of the others: no setting, most last ten."""

BRISK: Final = 3.0
"""The move into it is no slower than so many times those into the others: no setting, a fade is many times as slow."""


class StuckDip(NamedTuple):
    """A dip or a lift that stays.

    Args:
        depth: how deep it and the others are, in the reader's unit; negative down.
        start_s, end_s: from when to when it stays.
        others: how many come back.
    """

    depth: float
    start_s: float
    end_s: float
    others: int


@per_session
def stuck_dip(context: SessionContext, channel: Channel, lane: Automation) -> StuckDip | None:
    """The one dip of a lane that does not come back, where others as deep do; None where there is none, or several."""
    kind = control_class(channel, lane.target)
    if kind in THROWN or kind == "mute" or not is_readable(lane) or not moves(lane):
        return None
    made = moves_of(context, channel, lane)
    back = _come_back(made, context.setting(LONGEST_DIP))
    for sign in (-1.0, 1.0):
        dips = [pair for pair in back if sign * _by(pair[0]) > 0.0]
        few = len(dips) < context.setting(LEAST_DIPS)
        if not dips or (few and (kind not in LEVELS or abs(_by(dips[0][0])) < context.setting(CLEAR_DIP))):
            continue
        share = VERY_SAME if few else context.setting(SAME_DEPTH) / 100.0
        ends = {id(move) for pair in dips for move in pair}
        alone = [(at, move) for at, move in enumerate(made) if id(move) not in ends and sign * _by(move) > 0.0]
        stays = [_stays(context, channel, lane, made, at, dips) for at, move in alone if _as_deep(move, dips, share)]
        found = [one for one in stays if one is not None]
        if len(found) == 1:
            return found[0]
    return None


LEVELS: Final = ("fader", "equalizer-gain", "gain")
"""What dips by decibels."""


def _as_deep(move: Move, dips: list[tuple[Move, Move]], share: float) -> bool:
    """True where a move goes as far as dips do."""
    return all(abs(_by(move) - _by(there)) <= share * abs(_by(there)) for there, _ in dips)


def _by(move: Move) -> float:
    return move.after - move.before


def _come_back(made: tuple[Move, ...], longest_s: float) -> list[tuple[Move, Move]]:
    """Moves that are back where they began within so long."""
    return [
        (there, back)
        for there, back in pairwise(made)
        if back.end_s - there.start_s <= longest_s and abs(back.after - there.before) <= 0.2 * abs(_by(there))
    ]


def _stays(
    context: SessionContext,
    channel: Channel,
    lane: Automation,
    made: tuple[Move, ...],
    at: int,
    dips: list[tuple[Move, Move]],
) -> StuckDip | None:
    """A move as one that goes there like the others, and does not come back for long."""
    move = made[at]
    if move.end_s - move.start_s > BRISK * max(max(there.end_s - there.start_s for there, _ in dips), 0.05):
        return None
    spans = spans_of(context, channel, lane)
    end = made[at + 1].end_s if at + 1 < len(made) else max((b for _, b in spans), default=move.end_s)
    longest = max(back.end_s - there.start_s for there, back in dips)
    least = max(context.setting(STAYS), TIMES_AS_LONG * longest)
    sounds = within_s(spans, move.end_s, end)
    return StuckDip(_by(move), move.start_s, end, len(dips)) if sounds >= least else None


@FACTS.fact(
    "number",
    "For how long one of its dips or lifts stays, where others as deep come back at once; 0 where none does.",
    unit="s",
    how="derived",
    settings=DIP_SETTINGS,
)
def dip_stays_s(row: Row[ChannelLane]) -> FactValue:
    found = stuck_dip(row.context, row.item.channel, row.item.lane)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = span_text(row.context, found.start_s, found.end_s)
    kind = control_class(row.item.channel, row.item.lane.target)
    by = number_text(abs(found.depth), UNITS_OF_CLASS.get(kind, ""))
    which = "down" if found.depth < 0.0 else "up"
    note = "its other such move comes back" if found.others == 1 else f"its {found.others} other such moves come back"
    return FactValue(found.end_s - found.start_s, "derived", where, f"{which} by {by} in {where}, where {note} at once")


@FACTS.fact("number", "By how many decibels it stays away then.", unit="dB", how="derived", settings=DIP_SETTINGS)
def dip_stays_db(row: Row[ChannelLane]) -> float:
    found = stuck_dip(row.context, row.item.channel, row.item.lane)
    kind = control_class(row.item.channel, row.item.lane.target)
    return abs(found.depth) if found is not None and kind in LEVELS else 0.0
