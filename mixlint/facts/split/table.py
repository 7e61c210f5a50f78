"""The table ``split``: channels whose signal parts and reaches the mix bus by several direct ways."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase
from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.shared import channel_subject
from mixlint.facts.split.splits import Split, deepest_dip, splits
from mixlint.session import Unknown

NAMED: Final = 3
"""So many channels of one row are named; the rest are counted."""


@dataclass(frozen=True, slots=True)
class SplitsAlike:
    """Channels whose two strongest ways enter the same channels: what holds for one of them holds for all."""

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
        names = [context.name(channel.id) for channel in channels[:NAMED]]
        rest = f" and {len(channels) - NAMED} more" if len(channels) > NAMED else ""
        first = channel_subject(context, channels[0], "split")
        ids = tuple(channel.id for channel in channels)
        subject = replace(first, name=", ".join(names) + rest, channels=ids)
        yield subject, SplitsAlike(tuple(members))


SPLIT: Table[SplitsAlike] = Table(
    "split",
    "Channels that leave by several ways without a reverb or delay, which meet again at the mix bus; those with the "
    "same ways stand in one row.",
    _rows,
)


@SPLIT.fact("text", "The channels at which the ways part.")
def name(row: Row[SplitsAlike]) -> str:
    return row.subject.name


@SPLIT.fact("number", "How many ways leave it, at most.", how="derived")
def ways(row: Row[SplitsAlike]) -> int:
    item = row.item
    return max(len(split.edges) for split in item.splits)


@SPLIT.fact("text", "The channels its two strongest ways enter first.", how="derived")
def by(row: Row[SplitsAlike]) -> str:
    item = row.item
    return " and ".join(dict.fromkeys(row.context.name(edge.to) for edge in item.first.edges[:2]))


@SPLIT.fact("number", "The second way relative to the strongest: faders and sends.", unit="dB", how="derived")
def second_db(row: Row[SplitsAlike]) -> float | Unknown:
    item = row.item
    for split in item.splits:
        why = row.context.routing.unknown_on_the_way.get(split.channel.id, ())
        if why:
            return Unknown(unknown=why[0], settle="export it again")
    return max(split.second_db for split in item.splits)


@SPLIT.fact("switch", "One of its ways is a parallel bus, by name or by the house.", how="derived")
def parallel(row: Row[SplitsAlike]) -> bool:
    item = row.item
    for edge in item.first.edges:
        called = row.context.name(edge.to).casefold()
        if any(fnmatchcase(called, pattern.casefold()) for pattern in row.context.house.parallel):
            return True
    return any(row.context.role(edge.to) == "parallel-bus" for edge in item.first.edges)


@SPLIT.fact("switch", "A processor whose settings are hidden stands on one of its two strongest ways alone.")
def hidden(row: Row[SplitsAlike]) -> FactValue:
    split: Split = row.item.first
    return FactValue(bool(split.hidden), "declared", row.subject.where, ", ".join(split.hidden))


@SPLIT.fact(
    "number",
    "How far the sum of the ways falls under the strongest alone, where it falls most.",
    unit="dB",
    how="derived",
)
def dip_db(row: Row[SplitsAlike]) -> FactValue | Unknown:
    split: Split = row.item.first
    if split.hidden:
        return Unknown(
            unknown=f"{', '.join(split.hidden)} may delay its way, and its settings are hidden",
            settle="mute one of the ways and listen in mono, or print both",
        )
    depth, at = _deepest(row)
    return FactValue(depth, "derived", row.subject.where, f"at {at:.0f} Hz")


def _deepest(row: Row[SplitsAlike]) -> tuple[float, float]:
    return _deepest_of(row.context, row.item)


@per_session
def _deepest_of(context: SessionContext, alike: SplitsAlike) -> tuple[float, float]:
    return max(deepest_dip(context, split) for split in alike.splits)


@SPLIT.fact("number", "The frequency at which it falls most.", unit="Hz", how="derived")
def dip_hz(row: Row[SplitsAlike]) -> float | Unknown:
    item = row.item
    return Unknown(unknown="a processor on the way is hidden") if item.first.hidden else _deepest(row)[1]
