"""A control that automation holds counts as if it were stored there: in every fact, on the sheet and in a comparison.

By the model's own definition: a lane whose values are all the same holds its control, whatever is stored.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.comparison import compare
from mixlint.facts import TABLES, SessionContext
from mixlint.facts.channel_sheet import sheet
from mixlint.importers import read
from mixlint.rulebook import load_standard
from mixlint.session import Session, Unknown
from tests.session.held import controls, held

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
QUICK = ("parallel-compression.session.json", "left-centre-right.session.json")
SESSIONS = [
    pytest.param(path, marks=() if path.name in QUICK else pytest.mark.slow)
    for path in sorted(EXAMPLES.glob("*.session.json"))
]


def answers(path: Path, session: Session) -> dict[tuple[str, str, str], object]:
    """Every fact of every row, without its note, which tells of automation; lanes themselves are left out."""
    context = SessionContext(session, load_standard(None, path).house)
    found: dict[tuple[str, str, str], object] = {}
    for name in TABLES.keys() - {"lane"}:
        for row in TABLES[name].rows(context):
            for fact, declared in TABLES[name].facts.items():
                if declared.of == "lane":
                    continue
                value = row.value(fact)
                found[name, row.subject.id, fact] = value if isinstance(value, Unknown) else value.value
    return found


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.name)
def test_a_held_control_counts_like_a_stored_one(path: Path):
    session = read(path)
    other = held(session)
    count = sum(len(list(controls(channel))) for channel in session.channels)
    assert sum(len(channel.automation) for channel in other.channels) >= count > 50
    stored, by_lane = answers(path, session), answers(path, other)
    assert stored.keys() == by_lane.keys()
    for key, value in stored.items():
        same = pytest.approx(value, abs=1e-9) if isinstance(value, float) else value
        assert by_lane[key] == same, key


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.name)
def test_a_held_control_stands_on_the_sheet_like_a_stored_one(path: Path):
    session = read(path)
    house = load_standard(None, path).house
    stored, by_lane = (sheet(SessionContext(one, house)) for one in (session, held(session)))
    assert by_lane.model_dump() == stored.model_dump()


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.name)
def test_to_hold_a_control_where_it_stands_changes_no_mix(path: Path):
    session = read(path)
    assert compare(session, held(session)).changes == ()
    assert compare(held(session), session).changes == ()
