"""Every operator: what it lets through, what it does not, and what it leaves open."""

from __future__ import annotations

from typing import Any

import pytest
from toytables import BOAT, toy_row

from mixlint.rulebook.conditions import Reader
from mixlint.rulebook.evaluation import RowEvaluation
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.operators import OPERATORS
from mixlint.rulebook.values import Limit

LIMITS = {
    "depth": Limit(value=-6.0, unit="dB"),
    "spread": Limit(value=2.0, unit="dB"),
    "lu": Limit(value=1.0, unit="LU"),
    "drives": Limit(value=("sail", "oar")),
    "drive": Limit(value="sail"),
    "range": Limit(value=(-9.0, -3.0), unit="dB"),
    "tone": Limit(value=440, unit="Hz"),
    "globs": Limit(value=("*wind*", "calm")),
}

CASES: list[tuple[dict[str, Any], list[Any], list[Any]]] = [
    # condition on one fact, values that hold, values that do not
    ({"depth_db": -6.0}, [-6.0, -6], [-6.001, 6.0]),
    ({"depth_db": {"is": "limits.depth"}}, [-6.0], [-5.9]),
    ({"depth_db": {"is_not": -6}}, [-6.1, 0], [-6.0]),
    ({"depth_db": {"at_most": -6.0}}, [-6.0, -7, -200.0], [-5.99, 0]),
    ({"depth_db": {"at_least": -6.0}}, [-6.0, 0], [-6.01, -200.0]),
    ({"depth_db": {"below": -6.0}}, [-6.01], [-6.0, 0]),
    ({"depth_db": {"above": -6.0}}, [-5.99], [-6.0, -7]),
    ({"depth_db": {"between": [-9.0, "limits.depth"]}}, [-9.0, -7, -6.0], [-9.01, -5.99]),
    ({"depth_db": {"between": "limits.range"}}, [-9.0, -3], [-9.5, -2.5]),
    ({"depth_db": {"within": {"of": -6.0, "by": "limits.spread"}}}, [-8.0, -4.0, -6], [-8.01, -3.99]),
    ({"depth_db": {"within": ["limits.depth", 2]}}, [-8.0, -4.0], [-8.1, -3.9]),
    ({"horn_lufs": {"within": {"of": -14.0, "by": "limits.lu"}}}, [-15.0, -13.0], [-15.1, -12.9]),
    ({"depth_db": {"one_of": [-6, -3.0]}}, [-6.0, -3], [-4.5]),
    ({"depth_db": {"at_least": -9.0, "at_most": -3.0}}, [-9.0, -3.0], [-9.1, -2.9]),
    ({"oars": 0}, [0, 0.0], [1]),
    ({"afloat": False}, [False], [True]),
    ({"afloat": {"is_not": True}}, [False], [True]),
    ({"drive": "sail"}, ["sail"], ["oar"]),
    ({"drive": {"is": "limits.drive"}}, ["sail"], ["oar"]),
    ({"drive": {"is_not": "sail"}}, ["oar"], ["sail"]),
    ({"drive": {"one_of": "limits.drives"}}, ["sail", "oar"], ["steam"]),
    ({"drive": {"one_of": ["steam"]}}, ["steam"], ["sail"]),
    ({"drive": {"matches": "S*"}}, ["sail", "steam"], ["oar"]),
    ({"motto": "Fair Wind"}, ["Fair Wind"], ["fair wind"]),
    ({"motto": {"matches": "*WIND*"}}, ["fair wind", "Windward"], ["calm"]),
    ({"motto": {"matches": ["calm*", "*straße"]}}, ["CALM sea", "Hafenstraße"], ["wind"]),
    ({"motto": {"matches": "limits.globs"}}, ["fair WIND", "Calm"], ["storm"]),
    ({"motto": {"one_of": ["a", "b"]}}, ["a"], ["A"]),
    ({"flags": {"every": "red"}}, [("red", "red"), ()], [("red", "green")]),
    ({"flags": {"some": "red"}}, [("green", "red")], [("green",), ()]),
    ({"flags": {"none": "red"}}, [("green",), ()], [("green", "red")]),
    ({"flags": {"some": {"one_of": ["red", "white"]}}}, [("white",)], [("green",)]),
    ({"flags": {"none": {"matches": "*e*", "is_not": "green"}}}, [("green",)], [("white",)]),
    ({"flags": []}, [()], [("red",)]),
    ({"flags": {"is": ["red", "green"]}}, [("red", "green")], [("green", "red")]),
    ({"flags": {"is_not": []}}, [("red",)], [()]),
    ({"bells": {"every": {"at_least": "limits.tone"}}}, [(440.0, 880.0), ()], [(439.0, 880.0)]),
    ({"bells": {"some": {"between": [400, 500]}}}, [(450,)], [(300, 600), ()]),
    ({"crew": {"some": {"matches": "an*"}}}, [("Bo", "Anna")], [("Bo",)]),
    ({"flags": {"count": {"at_most": 1}}}, [("red",), ()], [("red", "red")]),
    ({"flags": {"count": {"of": "red", "is": 2}}}, [("red", "green", "red")], [("red",)]),
    ({"bells": {"count": {"of": {"at_least": "limits.tone"}, "between": [1, 2]}}}, [(440.0, 20.0)], [(20.0,), ()]),
    ({"depth_db": {"known": True}}, [0.0], []),
    ({"depth_db": {"known": False}}, [], [0.0]),
]  # fmt: skip


def truth(raw: dict[str, Any], **given: Any) -> str:
    faults = Faults()
    condition = Reader(BOAT, LIMITS, faults.of("toy")).read(raw, "must")
    faults.stop()
    assert condition is not None
    row = toy_row(**given)
    found = condition.test(RowEvaluation(BOAT, row)).truth
    assert condition.test.holds(row, row) is {"yes": True, "no": False, "unknown": None}[found]
    return found


@pytest.mark.parametrize(("raw", "holding", "failing"), CASES, ids=lambda case: str(case)[:60])
def test_operator(raw: dict[str, Any], holding: list[Any], failing: list[Any]) -> None:
    """Each case holds for the first values and not for the second, and its negation is the other way about."""
    fact = next(iter(raw))
    for value in holding:
        assert (truth(raw, **{fact: value}), truth({"not": raw}, **{fact: value})) == ("yes", "no"), value
    for value in failing:
        assert (truth(raw, **{fact: value}), truth({"not": raw}, **{fact: value})) == ("no", "yes"), value


@pytest.mark.parametrize("raw", [raw for raw, _, _ in CASES if "known" not in str(raw)], ids=str)
def test_a_hidden_fact_leaves_every_operator_open(raw: dict[str, Any]) -> None:
    """Whatever is asked of a hidden fact is unknown."""
    assert truth(raw) == "unknown"


def test_known_is_never_open() -> None:
    """Whether a fact is known can always be said."""
    assert truth({"depth_db": {"known": True}}) == "no"
    assert truth({"depth_db": {"known": False}}) == "yes"


def test_every_operator_has_a_case() -> None:
    """No operator goes untested."""
    used = {
        op for raw, _, _ in CASES for asked in raw.values() for op in (asked if isinstance(asked, dict) else ["is"])
    }
    assert used == set(OPERATORS)


@pytest.mark.parametrize("operator", ["is", "at_least", "at_most"])
def test_binary_fractions_count_as_the_number_meant(operator: str) -> None:
    """A pan stored as 0.65 of its travel comes out as 30.000000000000004, and is 30."""
    assert (2 * 0.65 - 1) * 100 != 30.0
    for value in ((2 * 0.65 - 1) * 100, 29.999999999999996, 30.0):
        assert truth({"pan": {operator: 30}}, pan=value) == "yes"
    assert truth({"pan": {"above": 30}}, pan=30.000000000000004) == "no"
    assert truth({"pan": {"below": 30}}, pan=29.999999999999996) == "no"


def test_a_switch_is_not_a_number() -> None:
    """True does not equal 1."""
    assert truth({"motto": "1"}, motto="1") == "yes"
    assert truth({"oars": 1}, oars=True) == "no"


def test_limits_are_written_down_beside_the_value() -> None:
    """What was consulted is kept once per limit, with the ends of a spread."""
    faults = Faults()
    raw = {
        "any": [
            {"depth_db": {"above": "limits.depth"}},
            {"depth_db": {"within": {"of": -6.0, "by": 2.0}}},
            {"depth_db": {"above": -6.0}},
        ],
        "drive": {"known": True},
    }
    condition = Reader(BOAT, LIMITS, faults.of("toy")).read(raw, "must")
    assert condition is not None
    assert condition.facts == ("depth_db", "drive")
    assert condition.limits == ("depth",)
    evaluation = RowEvaluation(BOAT, toy_row(depth_db=-20.0, drive="oar"), thorough=True)
    assert condition.test(evaluation).truth == "no"
    assert [(s.fact.name, s.limit) for s in evaluation.consulted] == [
        ("depth_db", -6.0),
        ("depth_db", (-8.0, -4.0)),
        ("drive", None),
    ]
