"""The table ``split``: channels whose signal parts and reaches the mix bus by several direct ways."""

from __future__ import annotations

from collections.abc import Iterator
from fnmatch import fnmatchcase

from mixlint.facts.declare import Answer, Row, Table
from mixlint.facts.desk import Desk
from mixlint.facts.splits import Split, deepest_dip, splits
from mixlint.facts.tables.common import channel_subject
from mixlint.session import Unknown


def _rows(desk: Desk) -> Iterator[Row]:
    for split in splits(desk):
        yield Row(desk, channel_subject(desk, split.channel, "split"), split)


SPLIT: Table[Row] = Table(
    "split", "Channels that leave by several ways without a reverb or delay, which meet again at the mix bus.", _rows
)


@SPLIT.fact("text", "The channel at which the ways part.")
def name(row: Row) -> str:
    return row.subject.name


@SPLIT.fact("number", "How many ways leave it.", how="derived")
def ways(row: Row) -> int:
    split: Split = row.item
    return len(split.edges)


@SPLIT.fact("text", "The channels its two strongest ways enter first.", how="derived")
def by(row: Row) -> str:
    split: Split = row.item
    return " and ".join(dict.fromkeys(row.desk.name(edge.to) for edge in split.edges[:2]))


@SPLIT.fact("number", "The second way relative to the strongest: faders and sends.", unit="dB", how="derived")
def second_db(row: Row) -> float | Unknown:
    split: Split = row.item
    why = row.desk.routing.unknown_on_the_way.get(split.channel.id, ())
    return Unknown(unknown=why[0], settle="export it again") if why else split.second_db


@SPLIT.fact("switch", "One of its ways is a parallel bus, by name or by the house.", how="derived")
def parallel(row: Row) -> bool:
    split: Split = row.item
    for edge in split.edges:
        called = row.desk.name(edge.to).casefold()
        if any(fnmatchcase(called, pattern.casefold()) for pattern in row.desk.house.parallel):
            return True
    return any(row.desk.role(edge.to) == "parallel-bus" for edge in split.edges)


@SPLIT.fact("switch", "A processor whose settings are hidden stands on one of its two strongest ways alone.")
def hidden(row: Row) -> Answer:
    split: Split = row.item
    return Answer(bool(split.hidden), "declared", row.subject.where, ", ".join(split.hidden))


@SPLIT.fact(
    "number",
    "How far the sum of the ways falls under the strongest alone, where it falls most.",
    unit="dB",
    how="derived",
)
def dip_db(row: Row) -> Answer | Unknown:
    split: Split = row.item
    if split.hidden:
        return Unknown(
            unknown=f"{', '.join(split.hidden)} may delay its way, and its settings are hidden",
            settle="mute one of the ways and listen in mono, or print both",
        )
    depth, at = deepest_dip(row.desk, split)
    return Answer(depth, "derived", row.subject.where, f"at {at:.0f} Hz")


@SPLIT.fact("number", "The frequency at which it falls most.", unit="Hz", how="derived")
def dip_hz(row: Row) -> float | Unknown:
    split: Split = row.item
    return Unknown(unknown="a processor on the way is hidden") if split.hidden else deepest_dip(row.desk, split)[1]
