"""What the session says of itself to whoever opens it next: title, tempo and sample rate."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext
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


@FACTS.fact(
    "list",
    "Which of title and tempo the session does not give; the tempo where something counts by it.",
    how="derived",
    once="untold",
)
def missing_details(row: Row[Session]) -> tuple[str, ...]:
    missing = [] if row.holds("titled") else ["title"]
    if not row.holds("tempo_given") and _counts_bars(row.context):
        missing.append("tempo")
    return tuple(missing)


def _counts_bars(context: SessionContext) -> bool:
    """True where something in the session was made to a tempo: a click, notes.

    Who records a choir or a band on a stage has none to give.
    """
    return any(
        context.role(channel.id) == "click" or any(clip.plays == "notes" for clip in channel.clips)
        for channel in context.session.channels
    )
