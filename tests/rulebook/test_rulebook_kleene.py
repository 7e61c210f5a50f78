"""Conditions have Kleene's strong three values.

The oracle is the usual reading of strong Kleene logic as numbers (S. C. Kleene, Introduction to Metamathematics, 1952,
section 64, from memory): no = 0, unknown = ½, yes = 1; *and* is the least, *or* the greatest, *not* is 1 − x.
"""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from toytables import BOAT, HIDDEN, toy_row

from mixlint.rulebook.conditions import Condition, Reader
from mixlint.rulebook.evaluation import RowEvaluation
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.truth import Outcome

SWITCHES = ("afloat", "oars", "drive", "depth_db")
"""Facts used as four propositions: each is asked so that the value True makes it hold."""
ASKED: dict[str, Any] = {"afloat": True, "oars": {"at_least": 1}, "drive": "sail", "depth_db": {"below": 0.0}}
VALUES: dict[str, tuple[Any, Any]] = {
    "afloat": (False, True),
    "oars": (0, 1),
    "drive": ("oar", "sail"),
    "depth_db": (0.0, -1.0),
}
NUMBERS = {"no": 0.0, "unknown": 0.5, "yes": 1.0}
Assignment = dict[str, float]


def read(raw: object) -> Condition:
    faults = Faults()
    condition = Reader(BOAT, {}, faults.of("toy")).read(raw, "must")
    faults.stop()
    assert condition is not None
    return condition


def outcome(raw: object, known: Assignment, *, thorough: bool = False) -> tuple[Outcome, RowEvaluation]:
    values = {f: HIDDEN if v == 0.5 else VALUES[f][int(v)] for f, v in known.items()}
    evaluation = RowEvaluation(BOAT, toy_row(**values), thorough=thorough)
    test = read(raw).test
    found = test(evaluation)
    # The short way, by which the most rows are judged, comes to the same without reasons.
    assert test.holds(evaluation.row, evaluation.row) is {"yes": True, "no": False, "unknown": None}[found.truth]
    return found, evaluation


def oracle(raw: dict[str, Any], known: Assignment) -> float:
    parts = []
    for key, value in raw.items():
        if key == "all":
            parts.append(min(oracle(one, known) for one in value))
        elif key == "any":
            parts.append(max(oracle(one, known) for one in value))
        elif key == "not":
            parts.append(1.0 - oracle(value, known))
        else:
            parts.append(known[key])
    return min(parts)


LEAVES = st.sets(st.sampled_from(SWITCHES), min_size=1, max_size=3).map(lambda facts: {f: ASKED[f] for f in facts})
CONDITIONS = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: {"all": parts}),
        st.lists(inner, min_size=1, max_size=3).map(lambda parts: {"any": parts}),
        inner.map(lambda part: {"not": part}),
        st.tuples(LEAVES, inner).map(lambda pair: {**pair[0], "not": pair[1]}),
    ),
    max_leaves=8,
)
ASSIGNMENTS = st.fixed_dictionaries({f: st.sampled_from([0.0, 0.5, 1.0]) for f in SWITCHES})


@pytest.mark.slow
@given(CONDITIONS, ASSIGNMENTS, st.booleans())
@settings(max_examples=300, deadline=None)
def test_truth_is_the_oracles(raw: dict[str, Any], known: Assignment, thorough: bool) -> None:
    """Every condition comes to what the oracle says, whether or not it looks at every part."""
    assert NUMBERS[outcome(raw, known, thorough=thorough)[0].truth] == oracle(raw, known)


@pytest.mark.slow
@given(CONDITIONS, ASSIGNMENTS)
@settings(max_examples=200, deadline=None)
def test_a_settled_answer_holds_whatever_the_hidden_facts_are(raw: dict[str, Any], known: Assignment) -> None:
    """Yes and no are never taken back when what was hidden becomes known."""
    settled = oracle(raw, known)
    if outcome(raw, known)[0].truth == "unknown":
        return
    hidden = [f for f, v in known.items() if v == 0.5]
    for filled in product((0.0, 1.0), repeat=len(hidden)):
        assert oracle(raw, {**known, **dict(zip(hidden, filled, strict=True))}) == settled


@pytest.mark.slow
@given(CONDITIONS, ASSIGNMENTS, st.booleans())
@settings(max_examples=300, deadline=None)
def test_unknown_names_the_facts_it_hangs_on(raw: dict[str, Any], known: Assignment, thorough: bool) -> None:
    """Reasons come with unknown only, name hidden facts only, and knowing all of them settles the condition."""
    found, evaluation = outcome(raw, known, thorough=thorough)
    named = {m.fact for m in found.missing}
    assert bool(named) is (found.truth == "unknown")
    assert named <= {f for f, v in known.items() if v == 0.5}
    assert named <= {s.fact.name for s in evaluation.consulted}
    for filled in product((0.0, 1.0), repeat=len(named)):
        settled = oracle(raw, {**known, **dict(zip(sorted(named), filled, strict=True))})
        assert found.truth != "unknown" or settled != 0.5


@pytest.mark.slow
@given(CONDITIONS, ASSIGNMENTS)
@settings(max_examples=200, deadline=None)
def test_a_thorough_look_consults_every_fact(raw: dict[str, Any], known: Assignment) -> None:
    """``must`` shows every value it rests on; ``when`` stops as soon as it is settled."""
    _, thorough = outcome(raw, known, thorough=True)
    _, brief = outcome(raw, known)
    assert {s.fact.name for s in thorough.consulted} == set(read(raw).facts)
    assert {s.fact.name for s in brief.consulted} <= set(read(raw).facts)


AND = {
    ("yes", "yes"): "yes", ("yes", "no"): "no", ("yes", "unknown"): "unknown",
    ("no", "yes"): "no", ("no", "no"): "no", ("no", "unknown"): "no",
    ("unknown", "yes"): "unknown", ("unknown", "no"): "no", ("unknown", "unknown"): "unknown",
}  # fmt: skip
OR = {
    ("yes", "yes"): "yes", ("yes", "no"): "yes", ("yes", "unknown"): "yes",
    ("no", "yes"): "yes", ("no", "no"): "no", ("no", "unknown"): "unknown",
    ("unknown", "yes"): "yes", ("unknown", "no"): "unknown", ("unknown", "unknown"): "unknown",
}  # fmt: skip


@pytest.mark.parametrize("pair", AND)
def test_the_tables_written_out(pair: tuple[str, str]) -> None:
    """The two tables of strong Kleene logic, entry by entry."""
    known = {"afloat": NUMBERS[pair[0]], "drive": NUMBERS[pair[1]]}
    both = [{"afloat": True}, {"drive": "sail"}]
    assert outcome({"all": both}, known)[0].truth == AND[pair]
    assert outcome({"afloat": True, "drive": "sail"}, known)[0].truth == AND[pair]
    assert outcome({"any": both}, known)[0].truth == OR[pair]


@pytest.mark.parametrize(("truth", "turned"), [("yes", "no"), ("no", "yes"), ("unknown", "unknown")])
def test_not_written_out(truth: str, turned: str) -> None:
    """Not turns yes and no about and leaves unknown."""
    assert outcome({"not": {"afloat": True}}, {"afloat": NUMBERS[truth]})[0].truth == turned


def test_a_settled_part_hides_the_reasons_of_the_others() -> None:
    """A no that stands does not ask about what is hidden beside it."""
    found, _ = outcome({"all": [{"drive": "sail"}, {"afloat": True}]}, {"drive": 0.5, "afloat": 0.0}, thorough=True)
    assert found == Outcome("no")


def test_reasons_are_those_of_the_fact() -> None:
    """Why and what would settle it come from the fact's own answer, once."""
    found, _ = outcome({"all": [{"drive": "sail"}, {"not": {"drive": "sail"}}]}, {"drive": 0.5})
    assert [(m.fact, m.why, m.settle) for m in found.missing] == [("drive", "nobody wrote it down", "ask the harbour")]
