"""How the gains of a part move over the song, and where they reach furthest."""

from __future__ import annotations

from mixlint.analysis.extremes import Extreme
from mixlint.analysis.gain_course import Course, course, reach
from mixlint.analysis.wetness import untold_ambience, untold_share
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.source.ambience import NO_AMBIENCE
from mixlint.session import Channel, Unknown

FACTS: Facts[Channel] = Facts()


NEVER = Unknown(unknown="it never plays")


def _course(row: Row[Channel]) -> Course | Unknown:
    why = row.context.routing.unknown_on_the_way.get(row.subject.id, ())
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    return untold_share(row.context, row.item) or course(row.context, row.subject.id)


def _told(row: Row[Channel], found: Extreme | None, nothing: Unknown) -> FactValue | Unknown:
    return FactValue(found.value, "derived", found.text(row.context)) if found is not None else nothing


@FACTS.fact(
    "number",
    "The highest gain of its direct sound to the mix bus while it plays, automation all the way included.",
    unit="dB",
    how="derived",
)
def gain_highest_db(row: Row[Channel]) -> FactValue | Unknown:
    found = _course(row)
    return (
        found if isinstance(found, Unknown) else _told(row, reach(row.context, found.gain_db, found.heard, 1.0), NEVER)
    )


@FACTS.fact(
    "number",
    "The lowest gain of its direct sound to the mix bus while it plays, automation all the way included.",
    unit="dB",
    how="derived",
)
def gain_lowest_db(row: Row[Channel]) -> FactValue | Unknown:
    found = _course(row)
    return (
        found if isinstance(found, Unknown) else _told(row, reach(row.context, found.gain_db, found.heard, -1.0), NEVER)
    )


@FACTS.fact("number", "Its ambience over its direct sound where it is wettest in the song.", unit="dB", how="derived")
def wettest_db(row: Row[Channel]) -> FactValue | Unknown:
    found = untold_ambience(row.context, row.item) or course(row.context, row.subject.id)
    if isinstance(found, Unknown):
        return found
    return _told(row, reach(row.context, found.wet_db, found.heard, 1.0), NO_AMBIENCE)


@FACTS.fact("number", "Its ambience over its direct sound where it is driest in the song.", unit="dB", how="derived")
def driest_db(row: Row[Channel]) -> FactValue | Unknown:
    found = untold_ambience(row.context, row.item) or course(row.context, row.subject.id)
    if isinstance(found, Unknown):
        return found
    return _told(row, reach(row.context, found.wet_db, found.heard, -1.0), NO_AMBIENCE)
