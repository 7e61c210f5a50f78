"""Approvals on disk: sealed, read back, valid under their schema."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

from mixlint.comparison import Approval, compare
from mixlint.comparison.approval import approval_text, read_approval
from mixlint.comparison.paths import approval_path
from mixlint.errors import BrokenFile, InputError
from mixlint.session import Session
from tests.importers.made_sessions import sessions

SCHEMA = Path(__file__).resolve().parents[2] / "schemas" / "approval.schema.json"


def approval(session: Session) -> Approval:
    return Approval(mix=4, by="RM", on="2026-03-14", standard="pre-bounce", session=session, contents={"a": "sha256:1"})


@pytest.mark.slow
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(session=sessions())
def test_an_approval_comes_back(session: Session, tmp_path: Path) -> None:
    """Written and read, it is the same mix; written again, the same to the byte."""
    path = tmp_path / "song.approved.json"
    text = approval_text(approval(session))
    path.write_text(text, encoding="utf-8")
    read = read_approval(path)
    assert read.session == session
    assert compare(read.session, session).changes == ()
    assert approval_text(read) == text


def test_it_is_valid_under_its_schema() -> None:
    """JSON Schema draft 2020-12; a negative mix number is not."""
    checker = Draft202012Validator(json.loads(SCHEMA.read_text(encoding="utf-8")))
    body = json.loads(approval_text(approval(Session(title="Ferry Lane"))))
    checker.validate(body)
    assert not checker.is_valid({**body, "mix": -1})


def test_it_is_not_taken_for_a_session() -> None:
    """The mark by which a session in the neutral form is known is not in it."""
    assert '"mixlint-session/' not in approval_text(approval(Session(title="Ferry Lane")))


@pytest.mark.parametrize(
    ("was", "now"), [('"mix": 4', '"mix": 5'), ('"RM"', '"TK"'), ("Ferry Lane", "Ferry Line"), ("sha256:1", "sha256:2")]
)
def test_any_edit_breaks_the_seal(was: str, now: str, tmp_path: Path) -> None:
    path = tmp_path / "song.approved.json"
    text = approval_text(approval(Session(title="Ferry Lane")))
    assert was in text
    path.write_text(text.replace(was, now), encoding="utf-8")
    with pytest.raises(BrokenFile, match="seal is broken"):
        read_approval(path)


@pytest.mark.parametrize("text", ["", "[]", "{}", "{", '{"format": "mixlint-approval/1"}', "[" * 100_000, "NaN"])
def test_what_is_no_approval_is_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "song.approved.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BrokenFile):
        read_approval(path)
    with pytest.raises(InputError):
        read_approval(tmp_path / "nowhere.json")


def test_it_lies_beside_the_session(tmp_path: Path) -> None:
    (tmp_path / "stems").mkdir()
    assert approval_path(tmp_path / "song.dawproject") == tmp_path / "song.approved.json"
    assert approval_path(tmp_path / "stems") == tmp_path / "stems.approved.json"
