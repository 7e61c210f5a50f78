"""Where the comment of a part places it, against where it stands."""

from __future__ import annotations

from mixlint.analysis.automation_range import position_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming.comment_reading import noted_pan, noted_place
from mixlint.session import PAN, Channel, control_of, known
from mixlint.units import CENTRED

FACTS: Facts[Channel] = Facts()


@FACTS.fact("word", "Where its comment places it.", words=("left", "right", "centre", "none"))
def noted_side(row: Row[Channel]) -> str:
    return noted_place(row.item.comment, row.context.house.vocabulary) or "none"


@FACTS.fact(
    "number",
    "How far it stands from where its comment places it, in the middle, on a side or at a figure; 0 where it does not.",
    unit="pan distance",
)
def off_noted_place(row: Row[Channel]) -> FactValue:
    words = row.context.house.vocabulary
    if control_of(row.item, PAN).moves:
        return FactValue(0.0, "derived", row.subject.where)
    position, figure = known(position_of(row.context, row.item)), noted_pan(row.item.comment, words)
    if figure is not None:
        return FactValue(abs(position - figure[0]), "derived", row.subject.where, f"at {figure[1]}")
    side = row.need("noted_side").value
    if side == "none":
        return FactValue(0.0, "derived", row.subject.where)
    if side == "centre":
        return FactValue(abs(position), "derived", row.subject.where, "in the middle")
    over = position if side == "left" else -position
    away = over if over >= CENTRED else 0.0
    return FactValue(away, "derived", row.subject.where, f"on the {side}")
