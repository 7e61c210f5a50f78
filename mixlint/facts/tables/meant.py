"""Facts that several tables share, so that a rule can stay idle where something is meant."""

from __future__ import annotations

from mixlint.facts.declare import Answer, Row

INTENTS = "What the house or the engineer has laid down as meant: mono, single-instrument, hard-panned."


def intents(row: Row) -> Answer:
    return Answer(tuple(sorted(row.desk.house.intents)), "declared")
