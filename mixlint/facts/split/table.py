"""The table ``split``: channels whose signal reaches the mix bus by several direct paths, and what their sum loses.

Two paths with different filters are out of phase around the filters' corners, and their sum can be far less than the
stronger of them alone. The known equalizers of both paths make this a computation. A processor whose settings are
hidden may delay its path, which no export shows.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import replace
from math import log10
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import carries_content, is_parallel, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import SHAPERS, active_inserts
from mixlint.analysis.paths import need_gain, paths_of
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.shared import channel_subject
from mixlint.routing import TIME_EFFECTS, Edge
from mixlint.routing.edge_gains import strip_matrices
from mixlint.routing.parallel import DirectPaths
from mixlint.routing.strips import amplitude, fader_db
from mixlint.session import Channel, Unknown
from mixlint.units import SILENCE_DB, few_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.routing import Gains

    Floats = NDArray[np.float64]

LEAST_LEVEL: Final = Setting(
    "split.least_level",
    -20.0,
    "dB",
    "Where the strongest path lies further than this under its own maximum, its filters have taken the frequency "
    "away, and there is nothing to lose.",
)

HARMLESS: Final = frozenset({"analyser", "utility", "monitor"})
"""Kinds of processors that are not taken to delay what passes them."""


class Split(NamedTuple):
    """A channel that leaves by two direct paths or more.

    Args:
        channel: where they part.
        edges: the first step of each path, the strongest first.
        gains: the gain of each path to the mix bus at 1 kHz, linear, in the same order.
        hidden: processors with hidden settings that only one of the two strongest paths passes.
    """

    channel: Channel
    edges: tuple[Edge, ...]
    gains: tuple[float, ...]
    hidden: tuple[str, ...]

    @property
    def second_db(self) -> float:
        """The second path relative to the strongest, dB."""
        return max(SILENCE_DB, 20.0 * log10(self.gains[1] / self.gains[0]))


@per_session
def splits(context: SessionContext) -> tuple[Split, ...]:
    """Every channel with content at which the direct signal parts, in desk order."""
    routing = context.routing
    paths = paths_of(context)
    found = []
    for channel in context.session.channels:
        edges = [e for e in routing.leaving.get(channel.id, ()) if paths.get(e.to, DirectPaths()).strongest > 0.0]
        if len(edges) < 2 or not is_audible(context, channel) or not carries_content(context, channel.id):
            continue
        if not paths[channel.id].count:
            continue
        fader = amplitude(fader_db(channel))
        levels = {
            e.number: amplitude(e.level_db) * (fader if e.tap == "post" else 1.0) * paths[e.to].strongest for e in edges
        }
        edges = sorted((e for e in edges if levels[e.number] > 0.0), key=lambda e: (-levels[e.number], e.number))
        if len(edges) >= 2:
            gains = tuple(levels[e.number] for e in edges)
            found.append(Split(channel, tuple(edges), gains, _hidden(context, edges, paths)))
    return tuple(found)


def _hidden(context: SessionContext, edges: list[Edge], paths: dict[str, DirectPaths]) -> tuple[str, ...]:
    """Processors with hidden settings on the channels that just one of the two strongest paths passes."""
    passed = [_passed(context, edge.to, paths) for edge in edges[:2]]
    on_one = passed[0] ^ passed[1]
    unseen = tuple(
        f"the processors of {context.name(channel.id)}"
        for channel in context.session.channels
        if channel.id in on_one and "inserts" in channel.missing
    )
    return unseen + tuple(
        f"{insert.name or 'an unnamed processor'} on {context.name(channel.id)}"
        for channel in context.session.channels
        if channel.id in on_one and "inserts" not in channel.missing
        for insert, reading in active_inserts(context, channel)
        if insert.opaque and reading.word not in TIME_EFFECTS | HARMLESS
    )


def _passed(context: SessionContext, start: str, paths: dict[str, DirectPaths]) -> Set[str]:
    """The channels that a direct path from ``start`` on can pass."""
    return context.routing.downstream([start], lambda edge: paths.get(edge.to, DirectPaths()).strongest > 0.0)


@per_session
def _by_sixths(context: SessionContext) -> tuple[Floats, Gains]:
    """Every sixth of an octave from 40 Hz to 12 kHz, hertz (F,), and the gains as they stand now there.

    The grid is a matter of numerics: a dip of filters in the range of music is wider than one of its steps.
    """
    import numpy as np

    at = 1000.0 * 2.0 ** (np.arange(-28, 22) / 6.0)
    return at, context.routing.gains(at)


def deepest_dip(context: SessionContext, split: Split) -> tuple[float, float]:
    """Where the sum of the paths lies furthest under the strongest of them alone.

    Looked for at every sixth of an octave from 40 Hz to 12 kHz, both sides added in power.

    Returns:
        how far, dB, 0 or more; and the frequency, hertz.
    """
    import numpy as np

    routing = context.routing
    at, gains = _by_sixths(context)
    strip = strip_matrices([split.channel], routing.legs, routing.laws, None)[0].matrix[0]
    total = np.zeros((at.size, 2), dtype=np.complex128)
    strongest = np.zeros(at.size)
    for edge in split.edges:
        onward = gains.direct[edge.to][0] @ routing.edge_matrix(edge)
        if edge.tap == "post":
            onward = onward @ strip
        sides = onward.sum(axis=-1)
        total += sides
        strongest = np.maximum(strongest, (np.abs(sides) ** 2).sum(axis=-1))
    summed = (np.abs(total) ** 2).sum(axis=-1)
    dip = 10.0 * np.log10(np.maximum(strongest, 1e-20) / np.maximum(summed, 1e-20))
    least = strongest.max() * 10.0 ** (context.setting(LEAST_LEVEL) / 10.0)
    dip = np.where(strongest > least, dip, 0.0)
    worst = int(np.argmax(dip))
    return max(0.0, float(dip[worst])), float(at[worst])


class SplitsAlike(NamedTuple):
    """Channels whose two strongest paths enter the same channels, in desk order: what holds for one holds for all."""

    splits: tuple[Split, ...]

    @property
    def first(self) -> Split:
        """The first in desk order."""
        return self.splits[0]


def _rows(context: SessionContext) -> Iterator[tuple[Subject, SplitsAlike]]:
    alike: dict[frozenset[str], list[Split]] = {}
    for split in splits(context):
        alike.setdefault(frozenset(edge.to for edge in split.edges[:2]), []).append(split)
    for members in alike.values():
        channels = [split.channel for split in members]
        names = few_text([context.name(channel.id) for channel in channels])
        first = channel_subject(context, channels[0], "split")
        ids = tuple(channel.id for channel in channels)
        subject = replace(first, name=names, channels=ids)
        yield subject, SplitsAlike(tuple(members))


SPLIT: Table[SplitsAlike] = Table(
    "split",
    "Channels that leave by several paths without a reverb or delay, which meet again at the mix bus; those with the "
    "same paths stand in one row.",
    _rows,
)


@SPLIT.fact("text", "The channels at which the paths part.")
def name(row: Row[SplitsAlike]) -> str:
    return row.subject.name


@SPLIT.fact("number", "How many paths leave it, at most.", how="derived", once="ways")
def paths(row: Row[SplitsAlike]) -> int:
    return max(len(split.edges) for split in row.item.splits)


@SPLIT.fact("text", "The channels its two strongest paths enter first.", how="derived")
def by(row: Row[SplitsAlike]) -> str:
    return " and ".join(dict.fromkeys(row.context.name(edge.to) for edge in row.item.first.edges[:2]))


@SPLIT.fact("number", "The second path relative to the strongest: faders and sends.", unit="dB", how="derived")
def second_db(row: Row[SplitsAlike]) -> float:
    for split in row.item.splits:
        need_gain(row.context, split.channel.id)
    return max(split.second_db for split in row.item.splits)


@SPLIT.fact("switch", "One of its paths is a parallel bus, by name or by the house.", how="derived")
def parallel(row: Row[SplitsAlike]) -> bool:
    return any(is_parallel(row.context, row.context.channels[edge.to]) for edge in row.item.first.edges)


def _doubling(context: SessionContext, split: Split) -> tuple[float, Edge, Edge] | None:
    """The strongest path that brings the same sound a second time.

    The main path is that of the output; without one the strongest. A parallel bus, a utility channel, and a path with
    processors that the main path does not pass and that make another sound are left out.

    Returns:
        its level relative to the main path or the other way round, whichever is below, dB; the first step of the main
        path, and its own; None where there is no such path.
    """
    gains = dict(zip(split.edges, split.gains, strict=True))
    main = next((edge for edge in split.edges if edge.kind == "output"), split.edges[0])
    for edge in (edge for edge in split.edges if edge is not main):
        there = context.channels[edge.to]
        if is_parallel(context, there) or is_utility(context, there) or _shaped(context, edge, main):
            continue
        return -abs(20.0 * log10(gains[edge] / gains[main])), main, edge
    return None


def _shaped(context: SessionContext, beside: Edge, main: Edge) -> bool:
    """True where a processor on the path beside the main one alone makes another sound of it, or is not told."""
    paths = paths_of(context)
    passed = _passed(context, beside.to, paths) - _passed(context, main.to, paths)
    return any(
        reading.word is None or reading.word in SHAPERS
        for one in passed
        for _, reading in active_inserts(context, context.channels[one])
    )


def _doublings(row: Row[SplitsAlike]) -> list[tuple[float, Edge, Edge]]:
    """The same for the channels of a row, the strongest first."""
    found = [_doubling(row.context, split) for split in row.item.splits]
    return sorted((one for one in found if one is not None), key=lambda one: -one[0])


@SPLIT.fact("switch", "One of the paths brings the same sound a second time: no parallel bus by name, by the house, or "
            "by what acts on it, and no cue mix.", how="derived")  # fmt: skip
def doubled(row: Row[SplitsAlike]) -> FactValue:
    found = _doublings(row)
    names = [] if not found else [row.context.name(edge.to) for edge in found[0][1:]]
    return FactValue(bool(found), "derived", row.subject.where, " and ".join(names))


@SPLIT.fact("number", "The strongest of those paths relative to the main one: faders and sends.", unit="dB",
            how="derived")  # fmt: skip
def double_db(row: Row[SplitsAlike]) -> float | Unknown:
    for split in row.item.splits:
        need_gain(row.context, split.channel.id)
    found = _doublings(row)
    return found[0][0] if found else Unknown(unknown="no path brings the same sound a second time")


@SPLIT.fact("switch", "A processor whose settings are hidden stands on one of its two strongest paths alone.")
def hidden(row: Row[SplitsAlike]) -> FactValue:
    split = row.item.first
    return FactValue(bool(split.hidden), "declared", row.subject.where, ", ".join(split.hidden))


@SPLIT.fact(
    "number",
    "How far the sum of the paths falls under the strongest alone, where it falls most.",
    unit="dB",
    how="derived",
    settings=(LEAST_LEVEL,),
)
def dip_db(row: Row[SplitsAlike]) -> FactValue | Unknown:
    split = row.item.first
    if split.hidden:
        return Unknown(
            unknown=f"{', '.join(split.hidden)} may delay its path, and its settings are hidden",
            settle="mute one of the paths and listen in mono, or print both",
        )
    depth, at = _deepest(row.context, row.item)
    return FactValue(depth, "derived", row.subject.where, f"at {at:.0f} Hz")


@per_session
def _deepest(context: SessionContext, alike: SplitsAlike) -> tuple[float, float]:
    """The deepest of their dips, dB, and its frequency, hertz."""
    return max(deepest_dip(context, split) for split in alike.splits)


@SPLIT.fact("number", "The frequency at which it falls most.", unit="Hz", how="derived", settings=(LEAST_LEVEL,))
def dip_hz(row: Row[SplitsAlike]) -> float | Unknown:
    if row.item.first.hidden:
        return Unknown(unknown="a processor on one of its paths is hidden")
    return _deepest(row.context, row.item)[1]
