"""The longest stretch in which one of a pair plays without the other, with no like part in the other's place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import has_arrangement, playing, span_text, time_grid
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import LEAST_ANGLE_RATIO, LIKENESS, likeness, panned_parts
from mixlint.analysis.partners import partners
from mixlint.facts.declare import Facts, Row
from mixlint.facts.pair.pairs import PartPair
from mixlint.naming import name_words
from mixlint.session import Channel, Timeline, Unknown, known
from mixlint.signal.runs import runs

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MOST_OF_A_STEP: Final = 0.5
"""A step of the grid counts as played when more than this share of it is: a matter of rounding to the grid."""


class StretchAlone(NamedTuple):
    """The longest stretch in which one of a pair plays without the other.

    Args:
        bars: how long it is, bars of the metre at its beginning; 0 where there is none.
        text: who plays alone and where, for a reader.
        to_the_end: the other one does not play any more after it.
    """

    bars: float
    text: str
    to_the_end: bool = False


@per_session
def alone(context: SessionContext, pair: PartPair) -> StretchAlone | Unknown:
    """The longest stretch in which one plays, the other is silent, and no like part stands in on the other's side.

    Before the other one has entered at all nothing is missing: a song may begin with one guitar.

    Returns:
        the stretch; Unknown where the export holds no clips or no tempo.
    """
    import numpy as np

    if not has_arrangement(context):
        return Unknown(unknown="the export holds no arrangement", settle="export it with its clips")
    timeline = known(context.session.timeline)
    edges = time_grid(context)
    longest = StretchAlone(0.0, "nowhere")
    for here, there in ((pair.one, pair.other), (pair.other, pair.one)):
        silent = playing(context, there.id) < MOST_OF_A_STEP
        entered = np.logical_or.accumulate(~silent)
        lonely = np.asarray((playing(context, here.id) > MOST_OF_A_STEP) & silent & entered)
        if any(last > first for first, last in runs(lonely)):  # a single step is not worth looking for a stand-in
            lonely &= ~_stands_in(context, here, there) & ~_all_rest(context, here, there)
        for first, last in runs(lonely):
            start, end = float(edges[first]), float(edges[last + 1])
            bars = bars_between(timeline, start, end)
            if bars > longest.bars:
                text = f"{context.name(here.id)} in {span_text(context, start, end)}"
                longest = StretchAlone(bars, text, bool(silent[first:].all()))
    return longest


def _stands_in(context: SessionContext, here: Channel, there: Channel) -> NDArray[np.bool_]:
    """The steps (T,) of the grid in which another part like ``here`` plays on the side of ``there``.

    A part that has a partner by name answers that one, and stands in for nobody.
    """
    import numpy as np

    named = partners(context)
    found = np.zeros(time_grid(context).size - 1, dtype=bool)
    place = known(position_of(context, there))
    least = abs(place) * context.setting(LEAST_ANGLE_RATIO) / 100.0
    for other in panned_parts(context):
        position = known(position_of(context, other))
        if other.id in (here.id, there.id) or position * place <= 0.0 or abs(position) < least:
            continue
        if other.id not in named and likeness(context, here, other) > 0.0:
            found |= playing(context, other.id) > MOST_OF_A_STEP
    return found


def _all_rest(context: SessionContext, here: Channel, there: Channel) -> NDArray[np.bool_]:
    """The steps (T,) of the grid in which every other microphone of the player of ``there`` is silent.

    These are parts of its family on its side whose names share a word with its own that the name of ``here`` has not: a
    player, a number, an instrument. Where they all rest the player rests, which is an arrangement. No step where there
    are none, nor of two that are called left and right.
    """
    import numpy as np

    words, family = context.house.vocabulary, context.family(there.id)
    found = np.zeros(time_grid(context).size - 1, dtype=bool)
    named = partners(context).get(there.id)
    if named is not None and named.id == here.id:
        return found
    own = name_words(there.name, words) - name_words(here.name, words)
    fellows = [
        other
        for other in panned_parts(context)
        if other.id not in (here.id, there.id)
        and context.family(other.id) == family
        and known(position_of(context, other)) * known(position_of(context, there)) > 0.0
        and own & (name_words(other.name, words) - name_words(here.name, words))
    ]
    if fellows:
        found = ~np.any([playing(context, one.id) > MOST_OF_A_STEP for one in fellows], axis=0)
    return found


def bars_between(timeline: Timeline, start_s: float, end_s: float) -> float:
    """How many bars of the metre at its beginning a stretch lasts; ``start_s`` and ``end_s`` in seconds."""
    first, last = timeline.beat(start_s), timeline.beat(end_s)
    meter = [m for m in timeline.meters if m.beat <= first] or [timeline.meters[0]]
    return (last - first) / meter[-1].bar_length


FACTS: Facts[PartPair] = Facts()


@FACTS.fact(
    "number",
    "The longest stretch in bars in which one plays without the other, which has played before, and no like part "
    "stands in.",
    how="derived",
    settings=(LEAST_ANGLE_RATIO, *LIKENESS),
)
def alone_bars(row: Row[PartPair]) -> float:
    return known(alone(row.context, row.item)).bars


@FACTS.fact("text", "Who plays alone, and where.", how="derived", settings=(LEAST_ANGLE_RATIO, *LIKENESS))
def alone_in(row: Row[PartPair]) -> str:
    return known(alone(row.context, row.item)).text


@FACTS.fact(
    "switch",
    "The one that is silent in that stretch does not play any more after it.",
    how="derived",
    settings=(LEAST_ANGLE_RATIO, *LIKENESS),
)
def alone_to_the_end(row: Row[PartPair]) -> bool:
    return known(alone(row.context, row.item)).to_the_end
