"""What the session says of itself to whoever opens it next: title, tempo and sample rate."""

from __future__ import annotations

from mixlint.analysis.media_use import session_rate_hz
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import is_untitled
from mixlint.session import Session, Unknown, known

FACTS: Facts[Session] = Facts()


@FACTS.fact("text", "The session's title.")
def name(row: Row[Session]) -> str:
    return row.subject.name


@FACTS.fact("switch", "It has a title of its own, not one that a program gave.")
def titled(row: Row[Session]) -> bool:
    return not is_untitled(row.item.title, row.context.house.vocabulary)


@FACTS.fact("switch", "It gives its tempo.", once="tempo_told")
def tempo_given(row: Row[Session]) -> FactValue:
    timeline = row.item.timeline
    if isinstance(timeline, Unknown):
        return FactValue(False, "declared", "", timeline.unknown)
    return FactValue(True, "declared")


@FACTS.fact("switch", "Its sample rate is known, from itself or from its files.", once="rate_told")
def rate_given(row: Row[Session]) -> bool:
    known(session_rate_hz(row.context))
    return True


@FACTS.fact("list", "Which of title and tempo the session does not give.", how="derived", once="untold")
def missing_details(row: Row[Session]) -> tuple[str, ...]:
    given = {"title": "titled", "tempo": "tempo_given"}
    return tuple(detail for detail, fact in given.items() if not row.holds(fact))
