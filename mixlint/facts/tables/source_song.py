"""Further facts of the table ``source``: how its gains move over the song, and where they reach furthest."""

from __future__ import annotations

from mixlint.facts.declare import Answer, Row
from mixlint.facts.tables.source import NO_AMBIENCE, SOURCE
from mixlint.session import Unknown
from mixlint.study.extreme import Extreme
from mixlint.study.song import Course, course, reach
from mixlint.study.wetness import untold_ambience, untold_share


def _course(row: Row) -> Course | Unknown:
    why = row.desk.routing.unknown_on_the_way.get(row.subject.id, ())
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    return untold_share(row.desk, row.item) or course(row.desk, row.subject.id)


def _told(row: Row, found: Extreme | None, nothing: Unknown) -> Answer | Unknown:
    return Answer(found.value, "derived", found.text(row.desk)) if found is not None else nothing


NEVER = Unknown(unknown="it never plays")


@SOURCE.fact(
    "number",
    "The highest gain of its direct sound to the mix bus while it plays, automation all the way included.",
    unit="dB",
    how="derived",
)
def gain_highest_db(row: Row) -> Answer | Unknown:
    found = _course(row)
    return found if isinstance(found, Unknown) else _told(row, reach(row.desk, found.gain_db, found.heard, 1.0), NEVER)


@SOURCE.fact(
    "number",
    "The lowest gain of its direct sound to the mix bus while it plays, automation all the way included.",
    unit="dB",
    how="derived",
)
def gain_lowest_db(row: Row) -> Answer | Unknown:
    found = _course(row)
    return found if isinstance(found, Unknown) else _told(row, reach(row.desk, found.gain_db, found.heard, -1.0), NEVER)


@SOURCE.fact("number", "Its ambience over its direct sound where it is wettest in the song.", unit="dB", how="derived")
def wettest_db(row: Row) -> Answer | Unknown:
    found = untold_ambience(row.desk, row.item) or course(row.desk, row.subject.id)
    if isinstance(found, Unknown):
        return found
    return _told(row, reach(row.desk, found.wet_db, found.heard, 1.0), NO_AMBIENCE)


@SOURCE.fact("number", "Its ambience over its direct sound where it is driest in the song.", unit="dB", how="derived")
def driest_db(row: Row) -> Answer | Unknown:
    found = untold_ambience(row.desk, row.item) or course(row.desk, row.subject.id)
    if isinstance(found, Unknown):
        return found
    return _told(row, reach(row.desk, found.wet_db, found.heard, -1.0), NO_AMBIENCE)
