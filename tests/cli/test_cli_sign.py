"""``mixlint sign`` and ``mixlint compare``: what they write, refuse and say."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import half_wet, session_body, write_session
from typer.testing import CliRunner, Result

from mixlint.cli.app import app


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def sign(session: Path, *more: object) -> Result:
    return run("sign", session, "return-fully-wet", "--because", "intended sound", "--by", "RM", *more)


def rewritten(path: Path, body: dict[str, Any]) -> None:
    path.write_text(json.dumps(body), encoding="utf-8")


def test_a_sign_off_lets_the_bounce_go(held: Path) -> None:
    """One line in a file beside the session, and the review is clear; the session is the same to the byte."""
    before = held.read_bytes()
    result = sign(held)
    assert result.exit_code == 0, result.output
    assert "Hall passes 0 dB of dry signal" in result.stdout
    lines = [one for one in held.with_name("half-wet.signed.txt").read_text("utf-8").splitlines() if one[0] != "#"]
    assert len(lines) == 1
    assert lines[0].startswith('sign return-fully-wet return "Hall" because "intended sound" by RM on ')
    assert "rests dry_db=0.0" in lines[0]
    assert held.read_bytes() == before
    assert run("review", held).exit_code == 0


def test_it_holds_through_a_renumbered_export_and_lapses_when_it_gets_worse(tmp_path: Path, held: Path) -> None:
    """Identity is rule, table and name. From 50 % wet to 30 % the dry part rises by more than the margin."""
    assert sign(held).exit_code == 0
    body = json.loads(held.read_text("utf-8").replace('"hall"', '"ch-7"').replace('"Hall"', '"HALL"'))
    rewritten(held, {**body, "channels": body["channels"][::-1]})
    assert run("review", held).exit_code == 0
    body["channels"][1]["inserts"][1]["wet"] = 30.0
    rewritten(held, body)
    result = run("review", held)
    assert result.exit_code == 1
    assert "sign-offs that have lapsed" in result.stdout
    assert "dry db was 0 dB when it was signed, and is 7.36 dB now" in " ".join(result.stdout.split())


def test_an_answer_counts_for_this_very_mix(tmp_path: Path) -> None:
    """An open row is answered; exported again without a change it stays answered, after a change it is asked again."""
    body = session_body()
    del body["channels"][1]["inserts"][1]["wet"]
    path = tmp_path / "lamp.json"
    rewritten(path, body)

    def verdict() -> str:
        report = json.loads(run("review", path, "--as", "json", "--everything").stdout)
        return next(f["verdict"] for f in report["sessions"][0]["findings"] if f["rule"] == "return-fully-wet")

    assert verdict() == "open"
    assert sign(path).exit_code == 2  # there is nothing flagged; the message points to --answer
    assert "--answer" in sign(path).stderr
    assert sign(path, "--answer", "yes").exit_code == 0
    assert verdict() == "signed"
    rewritten(path, json.loads(json.dumps(body).replace('"hall"', '"x9"')))
    assert verdict() == "signed"
    body["channels"][0]["fader_db"] = -1.0
    rewritten(path, body)
    assert verdict() == "open"
    assert sign(path, "--answer", "no").exit_code == 0
    assert run("review", path).exit_code == 1
    assert sign(path, "--answer", "not-applicable").exit_code == 0
    assert verdict() == "idle"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["return-fully-wet", "--because", "x"], "a signature needs initials"),
        (["return-fully-wet", "--because", "x", "--by", "?!"], "a signature needs initials"),
        (["return-fully-wet", "--by", "RM"], "a sign-off needs a reason"),
        (["--by", "RM"], "say what to sign"),
        (["return-fully-wet", "--approve", "--by", "RM"], "say what to sign"),
        (["--approve", "--by", "RM"], "needs the number of the mix"),
        (["return-fuly-wet", "--because", "x", "--by", "RM"], "return-fully-wet"),
        (["return-fully-wet", "--because", "x", "--by", "RM", "--until", "soon"], "is no day"),
        (["return-fully-wet", "--because", "x", "--by", "RM", "--until", "2001-01-01"], "has passed"),
        (["return-fully-wet", "--because", "x", "--by", "RM", "--on", "Kick"], "no flagged row on Kick"),
        (["nothing-soloed", "--because", "x", "--by", "RM"], "no flagged row"),
        (["return-fully-wet", "--withdraw", "--by", "RM"], "has no such line"),
    ],
)
def test_what_is_refused(arguments: list[str], says: str, held: Path) -> None:
    """Exit status 2, one message, no file written."""
    result = run("sign", held, *arguments)
    assert result.exit_code == 2
    assert says in result.stderr
    assert "Traceback" not in result.output
    assert not held.with_name("half-wet.signed.txt").exists()


def test_nobody_may_sign_what_the_house_says(held: Path) -> None:
    """The command refuses, and a line written by hand does not count."""
    assert sign(held).exit_code == 0
    standard = 'name = "house"\n[may_sign]\nreturn-fully-wet = "nobody"\n'
    (held.parent / "mixlint-standard.toml").write_text(standard, encoding="utf-8")
    result = sign(held)
    assert result.exit_code == 2
    assert "nobody may sign return-fully-wet off" in result.stderr
    review = run("review", held)
    assert review.exit_code == 1
    assert "nobody may sign this rule off" in review.stdout


def test_withdrawn_it_is_gone(held: Path) -> None:
    assert sign(held).exit_code == 0
    assert run("sign", held, "return-fully-wet", "--withdraw", "--by", "TK").exit_code == 2
    assert run("sign", held, "return-fully-wet", "--withdraw", "--by", "rm").exit_code == 0
    assert run("review", held).exit_code == 1


def test_namesakes_are_signed_one_after_the_other(tmp_path: Path) -> None:
    """Two returns of one name, both half wet: each sign-off takes the next."""
    body = half_wet(session_body())
    twin = {**body["channels"][1], "id": "hall2"}
    body["channels"].insert(2, twin)
    body["channels"][0]["sends"].append({"to": "hall2", "level_db": -20.0})
    path = tmp_path / "twins.json"
    rewritten(path, body)
    assert sign(path).exit_code == 0
    assert run("review", path).exit_code == 1
    assert sign(path).exit_code == 0
    assert "number 2" in path.with_name("twins.signed.txt").read_text("utf-8")
    assert run("review", path).exit_code == 0


def test_an_approval_is_a_baseline(held: Path) -> None:
    """What was there when the mix was approved is left out of a review held against it."""
    result = run("sign", held, "--approve", "--mix", 2, "--by", "RM")
    assert result.exit_code == 0
    assert "approved while held" in result.stdout
    approved = held.with_name("half-wet.approved.json")
    assert run("review", held).exit_code == 1
    assert run("review", held, "--baseline", approved).exit_code == 0
    assert "left out here" in run("review", held, "--baseline", approved).stdout


@pytest.mark.parametrize(
    ("text", "says"),
    [("{", "not JSON"), ("{}", "neither a report nor an approval"), ('{"format": "mixlint-report/1"}', "no report")],
)
def test_a_baseline_that_is_none(text: str, says: str, held: Path, tmp_path: Path) -> None:
    path = tmp_path / "base.json"
    path.write_text(text, encoding="utf-8")
    result = run("review", held, "--baseline", path)
    assert result.exit_code == 2
    assert says in result.stderr


def test_an_approval_edited_by_hand_is_refused(held: Path) -> None:
    """Its seal is broken: a mix that nobody approved is no approval."""
    run("sign", held, "--approve", "--mix", 2, "--by", "RM")
    approved = held.with_name("half-wet.approved.json")
    approved.write_text(approved.read_text("utf-8").replace('"wet": 50.0', '"wet": 100.0'), encoding="utf-8")
    result = run("review", held)
    assert result.exit_code == 2
    assert "the seal is broken" in result.stderr


def test_compare_says_what_changed(tmp_path: Path) -> None:
    """Channel by channel with the numbers, then the findings; exit status 0 either way."""
    old = write_session(tmp_path / "old.json")
    body = half_wet(session_body())
    body["channels"][0]["fader_db"] = -3.0
    new = tmp_path / "new.json"
    rewritten(new, body)
    result = run("compare", old, new)
    assert result.exit_code == 0, result.output
    assert "    fader 3 dB down, from 0 dB to −3 dB" in result.stdout
    assert "insert Stair Well set otherwise: wet 50 %, was 100 %" in result.stdout
    assert "new findings" in result.stdout
    assert "hearing" in result.stdout
    assert "Nothing changed." in run("compare", old, old).stdout
    body = json.loads(run("compare", new, old, "--as", "json").stdout)
    assert body["format"] == "mixlint-compare/1"
    assert [(c["what"], c["channel"], c["by_db"]) for c in body["changes"]] == [
        ("level", "Lead Vocal", 3.0),
        ("insert", "Hall", 0.0),
    ]
    assert [(f["came"], f["rule"], f["name"]) for f in body["findings"]] == [("gone", "return-fully-wet", "Hall")]


def test_compare_refuses_what_it_cannot_read(clear: Path, broken: Path, tmp_path: Path) -> None:
    for pair in ((clear, broken), (broken, clear), (clear, tmp_path / "nowhere.json")):
        result = run("compare", *pair)
        assert result.exit_code == 2
        assert "Traceback" not in result.output
    assert run("compare", clear, clear, "--out", clear).exit_code == 2
