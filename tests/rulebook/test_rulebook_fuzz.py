"""The short form of the fuzz over what houses write; the long one is ``python -m tests.rulebook.fuzz --runs 20000``."""

from __future__ import annotations

import pytest

from tests.rulebook.fuzz import run


@pytest.mark.slow
def test_damaged_standards_rules_words_and_sign_offs_are_used_or_refused() -> None:
    outcomes = run(150, 1_000_000)
    assert {kind for kind, _, _ in map(str.partition, outcomes, [":"] * len(outcomes))} == {
        "standard", "rule", "words", "signs",
    }  # fmt: skip
    assert {end for _, _, end in map(str.partition, outcomes, [":"] * len(outcomes))} == {" used", " refused"}
