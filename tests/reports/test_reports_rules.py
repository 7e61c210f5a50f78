"""Conditions in words, as a rule's page says them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from mixlint.reports.catalogue import catalogue
from mixlint.reports.plain import Page
from mixlint.reports.rule_page import _Wording as Words
from mixlint.reports.rule_page import rule_page
from mixlint.rulebook import Limit, load_standard
from mixlint.rulebook.operators import OPERATORS

WORDS = Words(
    {
        "loud_db": Limit(value=-3.0, unit="dB"),
        "ask": Limit(value=True),
        "range_db": Limit(value=(-6.0, -1.0), unit="dB"),
    },
    {"level_db": "dB", "pan": "pan", "off_centre": "pan distance", "moved_pan": "pan distance"},
)

SAID = {
    "is": ({"name": "Hall"}, "name is Hall"),
    "is_not": ({"name": {"is_not": "Hall"}}, "name is not Hall"),
    "at_most": ({"level_db": {"at_most": "limits.loud_db"}}, "level is at most −3 dB"),
    "at_least": ({"off_centre": {"at_least": 30.0}}, "off centre is at least 30"),
    "below": ({"pan": {"below": -30.0}}, "pan is below 30 left"),
    "above": ({"level_db": {"above": -12}}, "level is above −12 dB"),
    "between": ({"level_db": {"between": [-6.0, -3.0]}}, "level lies between −6 dB and −3 dB"),
    "within": ({"level_db": {"within": {"of": 0.0, "by": "limits.loud_db"}}}, "level lies within −3 dB of 0 dB"),
    "one_of": ({"role": {"one_of": ["kick", "bass"]}}, "role is one of kick, bass"),
    "matches": ({"name": {"matches": ["*a*", "*b*"]}}, "name matches *a*, *b*"),
    "known": ({"level_db": {"known": False}}, "level is not known"),
    "every": ({"families": {"every": {"one_of": ["drums"]}}}, "each of families is one of drums"),
    "some": ({"families": {"some": "drums"}}, "one or more of families is drums"),
    "none": ({"intents": {"none": {"is": "mono"}}}, "none of intents is mono"),
    "count": (
        {"families": {"count": {"of": "drums", "at_most": 1}}},
        "the number of families of which each is drums is at most 1",
    ),
}


def test_every_operator_has_words() -> None:
    """An operator that a rule can use is one that its page can say."""
    assert set(SAID) == set(OPERATORS)


@pytest.mark.parametrize("operator", sorted(SAID))
def test_operators_in_words(operator: str) -> None:
    """Each operator, with its limit and unit filled in."""
    condition, said = SAID[operator]
    assert WORDS.condition(condition) == said


@pytest.mark.parametrize(
    ("condition", "said"),
    [
        ({"a": 1, "b": {"above": 2, "below": 5}}, "a is 1 and b is above 2 and b is below 5"),
        ({"any": [{"a": 1}, {"b": 2, "c": 3}]}, "a is 1 or (b is 2 and c is 3)"),
        ({"x": True, "any": [{"a": 1}, {"b": 2}]}, "x is yes and (a is 1 or b is 2)"),
        ({"not": {"any": [{"a": 1}, {"b": 2}]}}, "it is not so that (a is 1 or b is 2)"),
        ({"not": {"a": 1, "b": 2}}, "it is not so that (a is 1 and b is 2)"),
        ({"fed": "limits.ask"}, "fed is yes"),
        ({"limiters": []}, "limiters is empty"),
        (
            {"level_db": {"at_most": {"of": "{fader_db}", "minus": 6.0}}},
            "level is at most ‹fader› minus 6 dB",
        ),
        ({"name": "PRINT {name}"}, "name is PRINT ‹name›"),
        ({"moved_pan": {"at_most": 5.0}}, "moved pan is at most 5"),
        ({"level_db": {"between": "limits.range_db"}}, "level lies between −6 dB and −1 dB"),
        ({"level_db": {"within": [0.0, 1.5]}}, "level lies within 1.5 dB of 0 dB"),
        ({"pan": {"within": [-30.0, 5.0]}}, "pan lies within 5 of 30 left"),
    ],
)
def test_joints_in_words(condition: dict[str, Any], said: str) -> None:
    """All, any and not, and limits that are words or pairs."""
    assert WORDS.condition(condition) == said


def test_texts_have_their_limits_and_places_for_the_rest() -> None:
    """``{limits.NAME}`` is the number in force, ``{fact}`` a place for a reader."""
    assert WORDS.filled("{channel} peaks at {level_db} dB, over {limits.loud_db} dB.") == (
        "‹channel› peaks at ‹level› dB, over −3 dB."
    )
    assert WORDS.filled("{level_db.note} at {level_db.where}") == "‹level, how› at ‹level, where›"


def test_settings_stand_on_the_page_of_a_rule_that_rests_on_them(tmp_path: Path) -> None:
    """The value in force, what it means, what it rests on and who set it; in JSON as well."""
    house = tmp_path / "house.toml"
    house.write_text('name = "yard"\n[settings]\n"counterparts.least_together" = 60.0\n', encoding="utf-8")
    rules = load_standard(house).rules
    page = " ".join(rule_page(rules["pan-answered"], "yard", Page(100)).split())
    assert "60 %, laid down by yard (counterparts.least_together). Least share of the shorter one's" in page
    assert "6 dB, as shipped (counterparts.most_level_difference_db). Most difference in level" in page
    assert page.count("Basis: common practice, no source.") == 17
    assert "Settings it shares" not in rule_page(rules["nothing-soloed"], "yard", Page(100))
    entry = catalogue("yard", [rules["pan-answered"]]).rules[0].settings["counterparts.least_together"]
    assert (entry.value, entry.unit, entry.laid_down_by) == (60.0, "%", "yard")
    assert catalogue("yard", [rules["nothing-soloed"]]).rules[0].settings == {}
