"""Findings with one cause are told under it."""

from __future__ import annotations

from typing import Any

from test_review_engine import reviewed, rule
from toytables import toy_desk

from mixlint.review import Finding

LOST: dict[str, Any] = {"name": "Gull", "afloat": False, "oars": 0, "drive": "sail", "depth_db": 0.0}

AFLOAT = rule(id="boat-afloat", when=None, must={"afloat": True}, says="{limits.deepest}")
OARED = rule(id="boat-oared", when=None, must={"oars": {"above": 0}}, says="{limits.deepest}", follows=["boat-afloat"])


def by_rule(*boats: dict[str, Any], rules: Any = (AFLOAT, OARED)) -> dict[tuple[str, str], Finding]:
    return {(f.rule, f.subject.name): f for f in reviewed(toy_desk(*boats), *rules).findings}


def test_a_finding_follows_from_one_on_its_channel() -> None:
    """A sunk boat has no oars because it sank."""
    found = by_rule(LOST)
    assert found["boat-oared", "Gull"].cause == found["boat-afloat", "Gull"].fingerprint
    assert found["boat-afloat", "Gull"].cause == ""


def test_not_from_one_on_another_channel() -> None:
    found = by_rule(LOST, {"name": "Tern", "afloat": True, "oars": 0})
    assert found["boat-oared", "Tern"].verdict == "flagged"
    assert found["boat-oared", "Tern"].cause == ""


def test_not_from_one_that_is_clear_or_open() -> None:
    """Only a flagged finding causes another."""
    for afloat in ({"afloat": True}, {}):
        found = by_rule({"name": "Gull", "oars": 0, **afloat})
        assert found["boat-oared", "Gull"].cause == ""


def test_what_is_open_follows_too_and_what_is_clear_does_not() -> None:
    """A question that the cause explains is told under it; a clear row has no cause."""
    found = by_rule({**LOST, "oars": 4}, {"name": "Tern", "afloat": False})
    assert found["boat-oared", "Gull"].cause == ""
    assert found["boat-oared", "Tern"].verdict == "open"
    assert found["boat-oared", "Tern"].cause == found["boat-afloat", "Tern"].fingerprint


def test_one_channel_in_common_is_enough() -> None:
    """A pair follows from what befell either of the two; the whole session from nothing on a channel."""
    fleet = {"name": "Fleet", "afloat": True, "oars": 0, "channels": ("b0", "b9")}
    found = by_rule(LOST, fleet)
    assert found["boat-oared", "Fleet"].cause == found["boat-afloat", "Gull"].fingerprint


def test_a_cause_without_channels_covers_all() -> None:
    """What is wrong with the whole session is the cause of what follows on any channel."""
    sea = {"name": "Sea", "afloat": False, "oars": 4, "channels": ()}
    found = by_rule(sea, {"name": "Tern", "afloat": True, "oars": 0})
    assert found["boat-oared", "Tern"].cause == found["boat-afloat", "Sea"].fingerprint


def test_the_first_rule_named_counts() -> None:
    """Of several causes the order of ``follows`` decides."""
    deep = rule(id="boat-deep", when=None)
    oared = rule(id="boat-oared", when=None, must={"oars": {"above": 0}}, says="{limits.deepest}",
                 follows=["boat-deep", "boat-afloat"])  # fmt: skip
    found = by_rule(LOST, rules=(AFLOAT, deep, oared))
    assert found["boat-oared", "Gull"].cause == found["boat-deep", "Gull"].fingerprint


def test_a_rule_that_follows_itself_is_not_its_own_cause() -> None:
    alone = rule(id="boat-oared", when=None, must={"oars": {"above": 0}}, says="{limits.deepest}",
                 follows=["boat-oared"])  # fmt: skip
    found = by_rule(LOST, rules=(alone,))
    assert found["boat-oared", "Gull"].cause == ""
