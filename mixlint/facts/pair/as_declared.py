"""Polarity and timing of a pair as the export shows them: polarity switches among parameters, clips that were moved."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.activity import span_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import origin_s, plain_clips
from mixlint.analysis.polarity import is_turned, polarity_switches
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.pair.pairs import PartPair, opposed_by_place
from mixlint.naming import says_turned_over
from mixlint.session import Channel, Clip, Unknown, inserts_now, known

SAME_MOVE: Final = Setting(
    "pairs.same_move", 0.5, "ms", "Clips of a pair whose shifts differ by no more than this were moved as one."
)
FARTHEST_MOVE: Final = Setting(
    "pairs.farthest_move", 100.0, "ms", "Recordings further apart than this are two takes, and no take out of time."
)

SAME_EDGE: Final = Setting(
    "pairs.same_edge", 50.0, "ms", "Edges of clips that lie no further apart than this were cut together."
)
LEAST_EDGES: Final = Setting(
    "pairs.least_edges", 75.0, "%", "Two parts of whose clip edges this share was cut together are edited as one."
)

FACTS: Facts[PartPair] = Facts()


@FACTS.fact("switch", "The export shows a polarity switch on one of them at least, whether it is on or not.")
def polarity_shown(row: Row[PartPair]) -> bool:
    channels = (row.item.one, row.item.other)
    return any(polarity_switches(insert, row.context) for channel in channels for insert in inserts_now(channel))


@FACTS.fact(
    "switch",
    "By the polarity switches shown they add up: both alike, or one turned over where they stand on opposite sides.",
)
def polarity_fits(row: Row[PartPair]) -> FactValue:
    turned = [one for one in (row.item.one, row.item.other) if is_turned(row.context, one)]
    opposed = opposed_by_place(row)
    # What the comment notes was listened to: a cable wired the wrong way is turned back.
    noted = len(turned) == 1 and bool(says_turned_over(turned[0].comment, row.context.house.vocabulary))
    fits = noted or (len(turned) == 1) is opposed
    names = " and ".join(row.context.name(one.id) for one in turned) or "neither"
    return FactValue(fits, "declared", row.subject.where, f"{names} {'are' if len(turned) > 1 else 'is'} turned over")


@per_session
def clip_shift_ms(context: SessionContext, one: Channel, other: Channel) -> float | Unknown:
    """By how much the recordings of one channel lie later than those of another, ms; negative where earlier.

    A recording lies where its file would begin: the start of its clip less the offset into the file. The clips are
    taken in order; each pair of them has to be shifted alike, so that a comp of several takes tells nothing.

    Returns:
        0 where they lie together. Unknown without clips that can be set against each other, and where their shifts
        differ or are those of two takes.
    """
    clips, others = plain_clips(one), plain_clips(other)
    if not clips or len(clips) != len(others):
        return Unknown(unknown="their clips cannot be set against each other")
    shifts = [1000.0 * (origin_s(a) - origin_s(b)) for a, b in zip(clips, others, strict=True)]
    if max(shifts) - min(shifts) > context.setting(SAME_MOVE):
        return Unknown(unknown="their clips are shifted against each other in more than one way")
    mean = sum(shifts) / len(shifts)
    if abs(mean) > context.setting(FARTHEST_MOVE):
        return Unknown(unknown="they are two takes")
    return mean


@FACTS.fact(
    "number",
    "By how much the recordings of the one lie later than those of the other, whichever is later.",
    unit="ms",
    how="derived",
    settings=(SAME_MOVE, FARTHEST_MOVE),
)
def clips_shifted_ms(row: Row[PartPair]) -> FactValue:
    shift = known(clip_shift_ms(row.context, row.item.one, row.item.other))
    late = row.item.one if shift > 0.0 else row.item.other
    return FactValue(abs(shift), "derived", row.subject.where, row.context.name(late.id))


class EdgeGap(NamedTuple):
    """The edge of a clip at which two parts that are edited as one come apart most.

    Args:
        apart_s: by how much, seconds; 0 where every edge was cut together.
        text: whose clip starts late or stops early, and where, for a reader.
    """

    apart_s: float
    text: str


def _cut_together(clips: list[Clip], others: list[Clip], near_s: float) -> list[tuple[Clip, Clip]]:
    """The clips of two parts that start together, each with the first such one of the other part."""
    found: list[tuple[Clip, Clip]] = []
    for clip in clips:
        other = next((one for one in others if abs(clip.start_s - one.start_s) <= near_s), None)
        if other is not None:
            found.append((clip, other))
    return found


@per_session
def edge_gap(context: SessionContext, one: Channel, other: Channel) -> EdgeGap | Unknown:
    """Where the clips of two parts that are edited as one do not start or stop together.

    Clips are set against each other in order where there are as many on both sides, else those that start together:
    one of the two may have come in earlier. Unknown where none do, or too few of their edges lie together for the two
    to be edited as one.
    """
    clips, others = ([c for c in part.clips if c.on is not False] for part in (one, other))
    near = context.setting(SAME_EDGE) / 1000.0
    matched = list(zip(clips, others, strict=True)) if len(clips) == len(others) else _cut_together(clips, others, near)
    if not matched:
        return Unknown(unknown="their clips cannot be set against each other")
    gaps: list[tuple[float, str]] = []
    for a, b in matched:
        late, early = (one if a.start_s > b.start_s else other), (one if a.end_s < b.end_s else other)
        at = span_text(context, min(a.start_s, b.start_s), max(a.start_s, b.start_s))
        gaps.append((abs(a.start_s - b.start_s), f"a clip of {context.name(late.id)} starts late ({at})"))
        at = span_text(context, min(a.end_s, b.end_s), max(a.end_s, b.end_s))
        gaps.append((abs(a.end_s - b.end_s), f"a clip of {context.name(early.id)} stops early ({at})"))
    together = sum(gap <= near for gap, _ in gaps)
    if 100.0 * together < context.setting(LEAST_EDGES) * len(gaps):
        return Unknown(unknown="they are not edited as one")
    apart, text = max(gaps, key=lambda gap: gap[0])
    return EdgeGap(apart, text) if apart > near else EdgeGap(0.0, "nowhere")


@FACTS.fact(
    "number",
    "By how much their clips come apart at most, where the two are edited as one.",
    unit="s",
    how="derived",
    settings=(SAME_EDGE, LEAST_EDGES),
)
def clips_apart_s(row: Row[PartPair]) -> FactValue:
    found = known(edge_gap(row.context, row.item.one, row.item.other))
    return FactValue(found.apart_s, "derived", row.subject.where, found.text)


@FACTS.fact(
    "switch",
    "Where they come apart one stops for good while the other goes on.",
    how="derived",
    settings=(SAME_EDGE, LEAST_EDGES),
)
def stops_for_good(row: Row[PartPair]) -> bool:
    ends = [
        max((c.end_s for c in part.clips if c.on is not False), default=0.0) for part in (row.item.one, row.item.other)
    ]
    apart = abs(ends[0] - ends[1])
    return apart > 0.0 and abs(row.need("clips_apart_s").number - apart) < row.context.setting(SAME_EDGE) / 1000.0
