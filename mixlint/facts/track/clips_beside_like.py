"""Fades and clip gains beside those of the channels that have the very same cuts.

Where several channels are cut at the same times, each clip of one has its like on all others. A fade that all of them
have and one has not was lost when an edge was dragged; a gain that one clip alone has, on a channel without any other,
was meant for another clip, or for all of them. On the two sides of a pair it moves the picture.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.cut_lines import CutSet, cut_sets, line_of
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Clip, is_known
from mixlint.units import few_text

LEAST_FADED: Final = Setting(
    "clips_beside_like.least_faded", 2.0, "ms", "A fade of so much on all others is one that a channel should have.",
    lowest=1.0,
)  # fmt: skip
LEAST_OTHERS: Final = Setting(
    "clips_beside_like.least_others", 2.0, "", "So many others have to agree about a fade or a gain.", lowest=2.0
)
FADE_SETTINGS: Final = (LEAST_FADED, LEAST_OTHERS)
GAIN_SETTINGS: Final = (LEAST_OTHERS,)

BARE_S: Final = 5e-4
"""A fade up to this is none: rounding of the export."""
DIES_AWAY_S: Final = 0.3
"""A sound that fades for so long dies away: a definition."""
MUCH_LONGER: Final = 10.0
"""A fade that is so many times shorter only takes a click away: a definition."""
SAME_GAIN_DB: Final = 0.05
"""Gains this near are one: rounding of the export."""
LEAST_PIECES: Final = 2
"""So many other clips show what a channel has: a definition."""


class AloneAt(NamedTuple):
    """A clip on which a channel has something else than its like: when, seconds, how much, and beside whom.

    ``several``: it is the first of several.
    """

    at_s: float
    much: float
    beside: tuple[Channel, ...]
    several: bool = False


def _clips(context: SessionContext, channel: Channel) -> list[Clip]:
    return [piece.clip for piece in line_of(context, channel)]


# --- fades


@per_session
def _bare_alone(context: SessionContext) -> dict[str, AloneAt]:
    """Channel id → the edge that all channels of its cuts have faded and it has not."""
    found: dict[str, AloneAt] = {}
    for cut in cut_sets(context):
        if len(cut.channels) <= context.setting(LEAST_OTHERS):
            continue
        for at_s, fades in _edges(context, cut):
            bare = [at for at, fade in enumerate(fades) if fade <= BARE_S or _cut_short(fade, fades)]
            if len(bare) != 1:
                continue
            least = min(fade for at, fade in enumerate(fades) if at != bare[0])
            channel = cut.channels[bare[0]]
            if 1000.0 * least >= context.setting(LEAST_FADED) and is_heard(context, channel):
                others = tuple(one for one in cut.channels if one is not channel)
                found.setdefault(channel.id, AloneAt(at_s, least, others))
    return found


def _cut_short(fade_s: float, fades: list[float]) -> bool:
    """True for a fade that is nothing beside those with which all others die away."""
    others = [other for other in fades if other > fade_s]
    return len(others) == len(fades) - 1 and min(others) >= max(DIES_AWAY_S, MUCH_LONGER * fade_s)


def _edges(context: SessionContext, cut: CutSet) -> list[tuple[float, list[float]]]:
    """The edges of the clips of a set: when, seconds, and the fade of each channel, where all are known."""
    found = []
    for clips in zip(*(_clips(context, channel) for channel in cut.channels), strict=True):
        for at_s, fades in (
            (clips[0].start_s, [clip.fade_in_s for clip in clips]),
            (clips[0].end_s, [clip.fade_out_s for clip in clips]),
        ):
            lengths = [abs(fade) for fade in fades if is_known(fade)]
            if len(lengths) == len(fades):
                found.append((at_s, lengths))
    return sorted(found, key=lambda edge: edge[0])


# --- gains


@per_session
def _gain_alone(context: SessionContext) -> dict[str, AloneAt]:
    """Channel id → the one clip of it with another gain than its like have there, and than it has elsewhere."""
    found: dict[str, AloneAt] = {}
    named = partners(context)
    for cut in cut_sets(context):
        if len(cut.line) <= LEAST_PIECES or len(cut.channels) < 2:
            continue
        for channel in cut.channels:
            partner = named.get(channel.id)
            others = tuple(one for one in cut.channels if one is not channel)
            sides = partner is not None and partner in others
            if not sides and len(others) < context.setting(LEAST_OTHERS):
                continue
            odd = _one_gain(context, channel, (partner,) if sides and partner is not None else others, sides=sides)
            odd = odd or _left_out_of_all(context, channel, others)
            if odd is not None and is_heard(context, channel):
                found[channel.id] = odd
    return found


def _one_gain(context: SessionContext, channel: Channel, others: tuple[Channel, ...], *, sides: bool) -> AloneAt | None:
    """The one clip on which a channel has a gain of its own.

    It counts only where the others are of one mind all along: where each is ridden by its own gain, one more says
    nothing.
    """
    own = _gains(context, channel)
    theirs = [_gains(context, one) for one in others]
    if own is None or any(row is None for row in theirs):
        return None
    rows = [row for row in theirs if row is not None]
    usual = _middle([gain - rows[0][at] for at, gain in enumerate(own)])
    odd = [at for at, gain in enumerate(own) if abs(gain - rows[0][at] - usual) > SAME_GAIN_DB]
    if len(odd) != 1:
        return None
    (at,) = odd
    apart = [[gain - rows[0][place] for place, gain in enumerate(row)] for row in rows]
    if any(max(row) - min(row) > SAME_GAIN_DB for row in apart):
        return None  # the others are not of one mind
    # Of two sides the one that leaves its usual gain moved.
    if sides and abs(own[at] - _middle(own)) < abs(rows[0][at] - _middle(rows[0])):
        return None
    return AloneAt(_clips(context, channel)[at].start_s, own[at] - rows[0][at] - usual, others)


def _left_out_of_all(context: SessionContext, channel: Channel, others: tuple[Channel, ...]) -> AloneAt | None:
    """The first clip on which a channel has not a change of gain that all others of its cuts have.

    They are of one mind on every clip, and change somewhere: a day, a take or a section was matched on all of them at
    once. It was left out where it has one gain throughout, or where it leaves theirs for the smaller share of the time.
    """
    own, theirs = _gains(context, channel), [_gains(context, one) for one in others]
    if own is None or len(others) <= context.setting(LEAST_OTHERS):
        return None
    rows = [[gain - row[0] for gain in row] for row in theirs if row is not None]
    if len(rows) < len(theirs) or any(
        abs(gain - first) > SAME_GAIN_DB for row in rows for gain, first in zip(row, rows[0], strict=True)
    ):
        return None
    if max(rows[0]) - min(rows[0]) <= SAME_GAIN_DB:
        return None
    flat = max(own) - min(own) <= SAME_GAIN_DB
    apart = [gain - first for gain, first in zip(own, rows[0], strict=True)]
    usual = max(apart, key=lambda value: sum(abs(other - value) <= SAME_GAIN_DB for other in apart))
    odd = [at for at, value in enumerate(apart) if abs(value - usual) > SAME_GAIN_DB]
    if not odd or not (flat or 2 * len(odd) < len(apart)):
        return None
    return AloneAt(_clips(context, channel)[odd[0]].start_s, apart[odd[0]] - usual, others, several=len(odd) > 1)


def _middle(values: list[float]) -> float:
    return sorted(values)[len(values) // 2]


@per_session
def _gains(context: SessionContext, channel: Channel) -> list[float] | None:
    """The gains of a channel's clips, dB; None where one is not known."""
    found = [clip.gain_db for clip in _clips(context, channel)]
    gains = [gain for gain in found if is_known(gain)]
    return gains if len(gains) == len(found) else None


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "How long the fade is that the channels with its cuts have at an edge where it alone has none; 0 where it has all.",
    unit="ms",
    how="derived",
    settings=FADE_SETTINGS,
)
def fade_lost_ms(row: Row[Channel]) -> FactValue:
    found = _bare_alone(row.context).get(row.subject.id)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = moment_text(row.context, found.at_s)
    return FactValue(1000.0 * found.much, "derived", where, few_text([row.context.name(c.id) for c in found.beside], 3))


@FACTS.fact(
    "number",
    "By how much one of its clips alone, or the first of several, is louder or quieter by its gain, where the channels "
    "with its cuts, or its other side, have no such change; 0 where none is.",
    unit="dB",
    how="derived",
    settings=GAIN_SETTINGS,
)
def gain_alone_db(row: Row[Channel]) -> FactValue:
    found = _gain_alone(row.context).get(row.subject.id)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = moment_text(row.context, found.at_s)
    return FactValue(abs(found.much), "derived", where, "louder" if found.much > 0.0 else "quieter")


@FACTS.fact("text", "On which of its clips that is so.", how="derived", settings=GAIN_SETTINGS)
def gain_alone_on(row: Row[Channel]) -> str:
    found = _gain_alone(row.context).get(row.subject.id)
    if found is None:
        return "none"
    where = moment_text(row.context, found.at_s)
    return f"several clips, from {where} on" if found.several else f"the clip at {where}"


@FACTS.fact("text", "Beside whom.", how="derived", settings=GAIN_SETTINGS)
def gain_alone_beside(row: Row[Channel]) -> str:
    found = _gain_alone(row.context).get(row.subject.id)
    return few_text([row.context.name(c.id) for c in found.beside], 3) if found is not None else "nobody"


@FACTS.fact(
    "switch",
    "That clip is held against the other side of its pair too, which has the same cuts.",
    how="derived",
    settings=GAIN_SETTINGS,
)
def side_has_its_cuts(row: Row[Channel]) -> bool:
    partner = partners(row.context).get(row.subject.id)
    found = _gain_alone(row.context).get(row.subject.id)
    return partner is not None and found is not None and partner in found.beside
