"""Facts answer alike in whatever order they are asked: nothing that one leaves behind is another's answer."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from mixlint.facts import TABLES, Row, SessionContext
from mixlint.importers import read
from mixlint.media import Library
from mixlint.rulebook import load_standard

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
# Of the two with sound one is enough: it takes as long as all the others together.
QUICK = ("drum-kit.session.json", "sixpenny-weathervane-flawed.session.json")
SESSIONS = [
    pytest.param(path, marks=() if path.name in QUICK else pytest.mark.slow)
    for path in sorted([*EXAMPLES.glob("*.session.json"), *EXAMPLES.glob("*-flawed.dawproject")])
]
ORDERS = {True: 2, False: 1}
"""How many orders: fewer of the sessions that take long."""


def answers(path: Path, seed: int | None) -> dict[tuple[str, str, str], object]:
    """Every fact of every row, asked in the order declared, or in one shuffled by ``seed``."""
    house = load_standard(None, path).house
    session = read(path)
    with Library(session, path) as audio:
        context = SessionContext(session, house, audio)
        asked: list[tuple[Row, str]] = []
        tables = list(TABLES.values())
        shuffle = Random(seed).shuffle if seed is not None else lambda _: None
        shuffle(tables)
        for table in tables:
            asked += [(row, fact) for row in table.rows(context) for fact in table.facts]
        shuffle(asked)
        return {(row.subject.table, row.subject.id, fact): row.value(fact) for row, fact in asked}


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.name)
def test_facts_do_not_depend_on_the_order_in_which_they_are_asked(path: Path):
    straight = answers(path, None)
    assert straight
    for seed in range(ORDERS[path.name in QUICK]):
        assert answers(path, seed) == straight
