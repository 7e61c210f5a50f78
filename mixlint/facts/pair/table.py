"""The table ``pair``: counterparts, and two microphones on one performance."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.context import SessionContext
from mixlint.analysis.counterparts import MATCHING
from mixlint.facts.declare import Subject, Table
from mixlint.facts.pair import alone, as_declared, differences, pairs, recordings, sends, together
from mixlint.facts.pair.pairs import PartPair


def _rows(context: SessionContext) -> Iterator[tuple[Subject, PartPair]]:
    for pair in pairs.pairs(context):
        one, other = pair.one, pair.other
        name = f"{context.name(one.id)} and {context.name(other.id)}"
        subject = Subject("pair", f"{one.id}+{other.id}", name, one.where, context.order[one.id], (one.id, other.id))
        yield subject, pair


PAIR: Table[PartPair] = Table(
    "pair",
    "Two parts that belong together: counterparts, or two microphones on one performance by their names.",
    _rows,
    (pairs.FACTS, differences.FACTS, alone.FACTS, recordings.FACTS, as_declared.FACTS, together.FACTS, sends.FACTS),
    settings=MATCHING,
)
