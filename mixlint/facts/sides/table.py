"""The table ``sides``: a left and a right track of one name."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.analysis.partners import partners
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.naming import side_of
from mixlint.session import FADER, PAN, Channel, control_of, known


class BothSides(NamedTuple):
    """The track that is called the left, and the one that is called the right."""

    left: Channel
    right: Channel


def _rows(context: SessionContext) -> Iterator[tuple[Subject, BothSides]]:
    found = partners(context)
    for channel in context.session.channels:
        right = found.get(channel.id)
        if right is None or side_of(channel.name, context.house.vocabulary) != "left":
            continue
        name = f"{context.name(channel.id)} and {context.name(right.id)}"
        ids = (channel.id, right.id)
        order = min(context.order[one] for one in ids)
        yield Subject("sides", "+".join(ids), name, channel.where, order, ids), BothSides(channel, right)


SIDES: Table[BothSides] = Table("sides", "A left and a right track whose names differ in nothing but the side.", _rows)


@SIDES.fact("text", "The names of both.")
def name(row: Row[BothSides]) -> str:
    return row.subject.name


@SIDES.fact("number", "The pan position of the left one, −100 left to +100 right.", unit="pan")
def left_pan(row: Row[BothSides]) -> float:
    return known(control_of(row.item.left, PAN).now)


@SIDES.fact("number", "The pan position of the right one.", unit="pan")
def right_pan(row: Row[BothSides]) -> float:
    return known(control_of(row.item.right, PAN).now)


@SIDES.fact(
    "number", "How far the right one stands from the place that mirrors the left one's.",
    unit="pan distance", how="derived",
)  # fmt: skip
def off_mirror(row: Row[BothSides]) -> FactValue:
    return FactValue(abs(row.need("left_pan").number + row.need("right_pan").number), "derived", row.subject.where)


@SIDES.fact("number", "How far their faders stand apart, whichever is higher.", unit="dB", how="derived")
def faders_apart_db(row: Row[BothSides]) -> FactValue:
    left, right = (known(control_of(one, FADER).now) for one in row.item)
    return FactValue(abs(left - right), "derived", row.subject.where)
