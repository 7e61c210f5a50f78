"""The proof by mutation in sound, in short: one mistake of one kind in three."""

from __future__ import annotations

import pytest

from mixlint.rulebook import load_standard
from tests.mutation.planting import IN_SOUND
from tests.mutation.run import EVERYTHING, prove_in_sound
from tests.mutation.table import ASKED

SEED = 7
SHORT = [kind for number, kind in enumerate(IN_SOUND) if number % 3 == 2]
"""What fits into half a minute of processor time; the command plants them all."""


@pytest.fixture(scope="module")
def outcome():
    return prove_in_sound(len(SHORT), SEED, SHORT)


@pytest.mark.slow
def test_nearly_every_mistake_in_sound_is_found(outcome):
    """Missed are some of those kinds alone of which it is known why."""
    assert outcome.caught >= 0.9 * outcome.planted, outcome.missed
    known = {kind.name for kind in IN_SOUND if kind.weakness}
    assert {name for name, row in outcome.kinds.items() if row.caught < row.planted} <= known


@pytest.mark.slow
def test_no_clean_session_is_flagged_and_nothing_but_what_a_mistake_explains(outcome):
    assert outcome.unexplained == []


@pytest.mark.slow
def test_every_kind_of_these_was_planted(outcome):
    assert set(outcome.kinds) == {kind.name for kind in SHORT}


def test_every_rule_that_listens_has_a_kind_of_mistake_in_sound():
    """Those that have sounds in their examples."""
    rules = load_standard(EVERYTHING).rules
    listening = {name for name, rule in rules.items() if any(one.sounds for one in rule.examples())}
    assert listening - {kind.rule for kind in IN_SOUND} - set(ASKED) == set()
