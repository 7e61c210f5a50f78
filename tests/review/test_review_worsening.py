"""When a number, a switch, a word or a list counts as another, and which way is worse."""

from __future__ import annotations

from typing import Any

import pytest

from mixlint.review.findings import Evidence
from mixlint.review.worsening import moved, worse_way
from mixlint.rulebook import load_standard


def fact(value: Any, unit: str, limit: Any) -> Evidence:
    return Evidence(fact="dry_db", value=value, unit=unit, limit=limit, known="declared")


@pytest.mark.parametrize(
    ("unit", "was", "now", "limit", "lapses"),
    [
        ("pan", 40.0, 49.0, 30.0, False),
        ("pan", 40.0, 50.0, 30.0, True),
        ("%", 50.0, 40.5, 100.0, False),
        ("%", 50.0, 40.0, 100.0, True),
        ("Hz", 100.0, 91.0, 150.0, False),
        ("Hz", 100.0, 89.0, 150.0, True),
        ("", 3, 4, 2, True),
        ("", 0.42, 0.37, 0.5, False),
        ("", 0.42, 0.31, 0.5, True),
    ],
)
def test_other_units_have_margins_of_their_own(unit: str, was: float, now: float, limit: float, lapses: bool) -> None:
    assert moved(was, fact(now, unit, limit), limit) is lapses


@pytest.mark.parametrize(
    ("was", "now", "lapses"),
    [
        (True, False, True),
        ("reverb", "delay", True),
        ("Reverb", "reverb ", False),
        (("a", "b"), ("b", "A"), False),
        (("a", "b"), ("a",), True),
        ((440.0, 220.0), (220.0, 440.0), False),
    ],
)
def test_any_change_of_a_switch_word_or_list_lapses(was: Any, now: Any, lapses: bool) -> None:
    """Letter case and order aside."""
    assert moved(was, fact(now, "", None), None) is lapses


def test_the_rule_says_which_way_is_worse() -> None:
    wet = load_standard("pre-bounce").rules["return-fully-wet"]  # dry_db at most −40 dB
    cut = load_standard("pre-bounce").rules["return-low-cut"]  # low_cut_db at least 9 dB
    assert (worse_way(wet, "dry_db"), worse_way(cut, "low_cut_db"), worse_way(wet, "fed"), worse_way(None, "x")) == (
        1, -1, 0, 0,
    )  # fmt: skip
