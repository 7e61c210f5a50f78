"""Pairs of parts: counterparts on either side, and two microphones on one performance, by name."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, Final, Literal

from mixlint.naming import family_of, pair_kind
from mixlint.session import Channel, Timeline, Unknown, is_known
from mixlint.study.activity import grid, has_arrangement, playing, stretch_text
from mixlint.study.counterparts import CROWD, NEAREST, counterparts, likeness, panned_parts
from mixlint.study.desk import Desk
from mixlint.study.parts import is_audible, is_source
from mixlint.study.tone import curve_db, hidden_filters, strips_on_the_way, third_octaves

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

Kind = Literal["counterparts", "microphones"]

OPPOSED: Final = (
    ("top", "bot"), ("top", "btm"), ("top", "bottom"), ("tp", "bt"), ("t", "b"), ("front", "back"), ("m", "s"),
    ("mid", "side"), ("oben", "unten"), ("haut", "bas"), ("arriba", "abajo"), ("batter", "reso"),
)  # fmt: skip
"""Words of two microphones whose polarities are opposed by where they stand, or that are no two of a kind."""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two parts in desk order."""

    kind: Kind
    one: Channel
    other: Channel


def pairs(desk: Desk) -> tuple[Pair, ...]:
    """Every pair, in desk order of its first part."""
    return desk.remembered("pairs", lambda: tuple(_pairs(desk)))


def _pairs(desk: Desk) -> list[Pair]:
    found = [Pair("microphones", one, other) for one, other in _microphones(desk)]
    close = {frozenset((pair.one.id, pair.other.id)) for pair in found}
    for near in {id(near): near for near in counterparts(desk).values()}.values():
        ids = frozenset((near.one, near.other))
        if ids not in close:
            one, other = sorted((desk.channels[i] for i in ids), key=lambda c: desk.order[c.id])
            found.append(Pair("counterparts", one, other))
    return sorted(found, key=lambda pair: (desk.order[pair.one.id], desk.order[pair.other.id]))


def _microphones(desk: Desk) -> list[tuple[Channel, Channel]]:
    """Pairs of like parts whose names are those of two microphones on one performance."""
    families: dict[str, list[Channel]] = {}
    for channel in desk.session.channels:
        if is_source(desk, channel) and is_audible(desk, channel):
            families.setdefault(family_of(desk.role(channel.id) or "") or "", []).append(channel)
    return [
        (one, other)
        for members in families.values()
        for one, other in _neighbours(members)
        if pair_kind(one.name, other.name) == "microphones"
    ]


def _neighbours(members: list[Channel]) -> Iterator[tuple[Channel, Channel]]:
    """Pairs of like parts, all of them; in a crowd each with the few that follow it on the desk."""
    if len(members) <= CROWD:
        yield from combinations(members, 2)
        return
    for at, one in enumerate(members):
        for other in members[at + 1 : at + 1 + NEAREST]:
            yield one, other


def opposed(pair: Pair) -> bool:
    """True for top and bottom, front and back, mid and side: their polarities differ by where they stand."""
    from mixlint.naming.fold import tokens

    one, other = ({token.plain for token in tokens(channel.name)} for channel in (pair.one, pair.other))
    only_one, only_other = one - other, other - one
    return any((a in only_one and b in only_other) or (b in only_one and a in only_other) for a, b in OPPOSED)


@dataclass(frozen=True, slots=True)
class ToneApart:
    """The greatest difference of two parts' equalizer curves, their mean difference aside: dB, and where, hertz."""

    db: float
    at_hz: float


def tone_apart(desk: Desk, pair: Pair) -> ToneApart | Unknown:
    """The greatest difference of the curves on the two ways between 80 Hz and 8 kHz."""
    import numpy as np

    from mixlint.signal.median import median

    hidden = dict.fromkeys([*hidden_filters(desk, pair.one), *hidden_filters(desk, pair.other)])
    if hidden:
        return Unknown(
            unknown=f"the settings of {', '.join(hidden)} are hidden in the export",
            settle="compare the equalizers of both by eye",
        )
    at = third_octaves()
    one, other = (curve_db(desk, list(strips_on_the_way(desk, c)), at, passes_too=True) for c in (pair.one, pair.other))
    apart = one - other
    apart = np.abs(apart - median(apart))
    worst = int(np.argmax(apart))
    return ToneApart(float(apart[worst]), float(at[worst]))


@dataclass(frozen=True, slots=True)
class Alone:
    """The longest stretch in which one of a pair plays without the other: bars, and who and where, for a reader."""

    bars: float
    text: str


def alone(desk: Desk, pair: Pair) -> Alone | Unknown:
    """The longest stretch in which one plays, the other is silent, and no like part stands in on the other's side."""
    import numpy as np

    timeline = desk.session.timeline
    if not has_arrangement(desk):
        return Unknown(unknown="the export holds no arrangement", settle="export it with its clips")
    if isinstance(timeline, Unknown):
        return timeline
    edges = grid(desk)
    longest = Alone(0.0, "nowhere")
    for here, there in ((pair.one, pair.other), (pair.other, pair.one)):
        lonely = np.asarray((playing(desk, here.id) > 0.5) & (playing(desk, there.id) < 0.5))
        if any(last > first for first, last in _runs(lonely)):  # a single step is not worth looking for a stand-in
            lonely &= ~_stands_in(desk, here, there)
        for first, last in _runs(lonely):
            start, end = float(edges[first]), float(edges[last + 1])
            bars = bars_between(timeline, start, end)
            if bars > longest.bars:
                longest = Alone(bars, f"{desk.name(here.id)} in {stretch_text(desk, start, end)}")
    return longest


def _stands_in(desk: Desk, here: Channel, there: Channel) -> NDArray[np.bool_]:
    """Where in the song another like part stands on the side of ``there``."""
    import numpy as np

    found = np.zeros(grid(desk).size - 1, dtype=bool)
    pan = there.pan if is_known(there.pan) else 0.0
    for other in panned_parts(desk):
        if other.id in (here.id, there.id) or not is_known(other.pan):
            continue
        if other.pan * pan > 0.0 and abs(other.pan) >= abs(pan) / 2.0 and likeness(desk, here, other) > 0.0:
            found |= playing(desk, other.id) > 0.5
    return found


def _runs(mask: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First and last index of each run of true values."""
    import numpy as np

    turns = np.flatnonzero(np.diff(np.concatenate([[0], mask.astype(np.int8), [0]])))
    return [(int(start), int(end) - 1) for start, end in zip(turns[::2], turns[1::2], strict=True)]


def bars_between(timeline: Timeline, start_s: float, end_s: float) -> float:
    """How many bars of the metre at its beginning a stretch lasts."""
    first, last = timeline.beat(start_s), timeline.beat(end_s)
    meter = [m for m in timeline.meters if m.beat <= first] or [timeline.meters[0]]
    return (last - first) / meter[-1].bar_length
