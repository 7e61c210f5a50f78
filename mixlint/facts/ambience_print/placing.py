"""Where the print of an ambience stands, seen from the part that it comes from."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.ambience_prints import AmbiencePrint, ambience_prints
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown, is_known, known
from mixlint.units import pan_text

FACTS: Facts[AmbiencePrint] = Facts()

ASIDE: Final = Setting(
    "ambience_prints.aside",
    30.0,
    "pan distance",
    "A part, and the print of its ambience, stand on a side from this distance from the centre on.",
    lowest=5.0,
)


def _only_part(printed: AmbiencePrint) -> Channel | None:
    """The one part that feeds a print; None where several do, or none."""
    parts = {feed.part.id: feed.part for feed in printed.feeds}
    return next(iter(parts.values())) if len(parts) == 1 else None


@per_session
def _sides(context: SessionContext, printed: AmbiencePrint) -> tuple[float, float] | Unknown:
    """Where the one part that feeds a print stands, and where the print does."""
    part = _only_part(printed)
    if part is None:
        return Unknown(unknown="it is fed by several parts, or by none")
    return known(position_of(context, part)), known(position_of(context, printed.track))


@FACTS.fact("switch", "Its parts are sent to its return as it stands, so that the return is looked at instead.")
def fed_live(row: Row[AmbiencePrint]) -> bool:
    return any(feed.way for feed in row.item.feeds)


@FACTS.fact("text", "The one part that feeds it, or none.", how="derived")
def only_part(row: Row[AmbiencePrint]) -> str:
    part = _only_part(row.item)
    return row.context.name(part.id) if part is not None else "none"


@FACTS.fact(
    "word",
    "Where it stands seen from its part: on the opposite side, on the same, or no side.",
    how="derived",
    words=("opposite", "same", "none"),
    settings=(ASIDE,),
)
def side_of_its_part(row: Row[AmbiencePrint]) -> FactValue:
    part, own = known(_sides(row.context, row.item))
    note = f"{pan_text(own)}, as {row.need('only_part').value} {pan_text(part)}"
    return FactValue(_seen_from(row.context, part, own), "derived", row.subject.where, note)


def _seen_from(context: SessionContext, part: float, own: float) -> str:
    least = context.setting(ASIDE)
    if abs(part) < least or abs(own) < least:
        return "none"
    return "same" if part * own > 0.0 else "opposite"


@FACTS.fact(
    "switch",
    "Another print stands on the side opposite to the part that it comes from.",
    how="derived",
    settings=(ASIDE,),
)
def another_stands_opposite(row: Row[AmbiencePrint]) -> bool:
    others = [_sides(row.context, one) for one in ambience_prints(row.context) if one is not row.item]
    return any(is_known(sides) and _seen_from(row.context, *sides) == "opposite" for sides in others)
