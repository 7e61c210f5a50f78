"""What is found of the faults that engineers planted: figures that may rise, and a promise that has to hold."""

from __future__ import annotations

import pytest

from tests.field.by_engineers import BY_ENGINEERS
from tests.field.score import CAUGHT, PARTS, UNWANTED, Score, modules, score


@pytest.fixture(scope="module")
def found() -> Score:
    """Every good session and one fault in five: all, as ``python -m tests.field`` takes them, last long."""
    return score(PARTS, always=frozenset(BY_ENGINEERS.values()))


@pytest.mark.slow
def test_no_silent_part_leaves_a_session_clear(found: Score) -> None:
    """A lead, a group or a part that nobody hears: the outcome asks to look at the least."""
    silent = [one for one in found.faults if one.kind == "inaudible"]
    assert len(silent) >= 45
    assert [one.fault for one in silent if one.outcome == "clear"] == []


@pytest.mark.slow
def test_as_much_is_found_as_was(found: Score) -> None:
    assert len(found.faults) >= 180
    assert found.share >= CAUGHT, [one.fault for one in found.faults if one.came == "missed"]


@pytest.mark.slow
@pytest.mark.parametrize("rule", sorted(BY_ENGINEERS))
def test_a_rule_that_no_mutation_provokes_tells_a_fault_here(found: Score, rule: str) -> None:
    assert [one.fault for one in found.faults if any(rule in line for line in one.told)]


@pytest.mark.slow
def test_good_sessions_are_told_little(found: Score) -> None:
    assert found.unwanted_on_average <= UNWANTED, found.unwanted


@pytest.mark.parametrize("part", PARTS)
def test_every_fault_changes_its_session_and_no_other(part: str) -> None:
    """A fault that plants nothing would be missed for the wrong reason."""
    for module in modules(part):
        good = module.good()
        for fault in module.FAULTS:
            session = module.good()
            assert session == good
            fault["plant"](session)
            assert session != good, (module.__name__, fault["id"])
