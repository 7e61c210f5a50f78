"""The table ``handover``: one row, the session as it goes out of the house."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import Subject, Table
from mixlint.facts.handover import details, file_names, song_end
from mixlint.session import Session


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Session]]:
    title = context.session.title or "the session"
    yield Subject("handover", "handover", title, order=-1), context.session


HANDOVER: Table[Session] = Table(
    "handover",
    "The session as it goes out of the house: one row.",
    _rows,
    (details.FACTS, file_names.FACTS, song_end.FACTS),
)
