"""What programs read of a review under sign-offs: SARIF, JUnit, lines, the hook; several sessions in one run."""

from __future__ import annotations

import importlib
import json
import os
import re
import subprocess
import xml.etree.ElementTree as ET
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from jsonschema import validators

from tests.teamwork.repository import Person, export, song

TOP = Path(__file__).resolve().parents[2]
SCHEMA = "MIXLINT_SARIF_SCHEMA"
VALIDATOR = "MIXLINT_SARIF_VALIDATOR"


@pytest.fixture
def desk(tmp_path: Path) -> Person:
    """Two sessions: one with a signed solo and one with a solo that nobody signed."""
    one = Person("ria", tmp_path)
    export(tmp_path / "one.dawproject", song(bass={"solo": True}))
    export(tmp_path / "two.dawproject", song(kick={"solo": True}))
    run = one.mixlint("sign", "one.dawproject", "nothing-soloed", "--because", "client <wish> & more", "--by", "RM")
    assert run.returncode == 0, run.stderr
    return one


def sarif(who: Person, *more: str) -> dict[str, Any]:
    run = who.mixlint("review", "one.dawproject", "two.dawproject", "--as", "sarif", *more)
    assert run.returncode == 1
    return json.loads(run.stdout)


def test_sarif_suppresses_what_is_signed(desk: Person) -> None:
    """SARIF 2.1.0 section 3.35: kind external, status accepted, with the justification; the rest has none."""
    log = sarif(desk)
    assert len(log["runs"]) == 2
    signed, flagged = (next(r for r in run["results"] if r["ruleId"] == "nothing-soloed") for run in log["runs"])
    (suppression,) = signed["suppressions"]
    assert (suppression["kind"], suppression["status"]) == ("external", "accepted")
    assert suppression["justification"].startswith("signed by RM on ")
    assert suppression["justification"].endswith(": client <wish> & more")
    assert (signed["kind"], signed["level"]) == (
        "fail",
        "error",
    )  # it still is what it is; the suppression says the rest
    assert "suppressions" not in flagged


@pytest.mark.skipif(SCHEMA not in os.environ, reason=f"{SCHEMA} names no schema file")
@pytest.mark.parametrize("more", [(), ("--everything",)])
def test_sarif_follows_the_published_schema(more: tuple[str, ...], desk: Person) -> None:
    """The OASIS schema, as npm @microsoft/jest-sarif carries it."""
    schema = json.loads(Path(os.environ[SCHEMA]).read_text(encoding="utf-8"))
    checker = validators.validator_for(schema)(schema)
    log = sarif(desk, *more)
    checker.validate(log)
    result = next(r for r in log["runs"][0]["results"] if "suppressions" in r)
    result["suppressions"][0]["kind"] = "outside"
    assert not checker.is_valid(log)


@pytest.mark.skipif(VALIDATOR not in os.environ, reason=f"{VALIDATOR} names no validator")
def test_sarif_passes_an_independent_validator(desk: Person) -> None:
    """The validator of npm @microsoft/sarif-multitool-linux finds no error; that it can find one is tried too.

    It recommends an address for the tool (SARIF2005) and a region for every place (SARIF2017): a packed session has
    no lines, and the program has no address.
    """
    log = sarif(desk)
    assert found(desk, log) <= {("SARIF2005", "warning"), ("SARIF2017", "warning")}
    log["runs"][0]["results"][0]["ruleIndex"] = 99
    assert "error" in {level for _, level in found(desk, log)}


def found(who: Person, log: dict[str, Any]) -> set[tuple[str, str]]:
    """What the validator has to say."""
    (who.home / "log.sarif").write_text(json.dumps(log), encoding="utf-8")
    subprocess.run(
        [os.environ[VALIDATOR], "validate", "log.sarif", "--output", "said.sarif", "--log", "ForceOverwrite", "-q"],
        cwd=who.home, env={**os.environ, "DOTNET_SYSTEM_GLOBALIZATION_INVARIANT": "1"}, check=False, timeout=120,
        capture_output=True,
    )  # fmt: skip
    said = json.loads((who.home / "said.sarif").read_text(encoding="utf-8-sig"))
    assert said["runs"][0]["invocations"][0]["executionSuccessful"] is True
    return {(r["ruleId"], r.get("level", "warning")) for r in said["runs"][0]["results"]}


def junit(who: Person) -> str:
    run = who.mixlint("review", "one.dawproject", "two.dawproject", "--as", "junit")
    assert run.returncode == 1
    return run.stdout


def test_junit_skips_what_is_signed(desk: Person) -> None:
    """With the reason; what nobody signed fails; the counts agree with the cases."""
    root = ET.fromstring(junit(desk).encode("utf-8"))  # noqa: S314 - our own output
    suites = list(root)
    cases = [[c for c in s.iter("testcase") if c.get("classname") == "prep.nothing-soloed"] for s in suites]
    bass = next(c for c in cases[0] if c.get("name") == "channel Bass")
    kick = next(c for c in cases[1] if c.get("name") == "channel Kick")
    skipped = bass.find("skipped")
    assert skipped is not None
    assert "client <wish> & more" in (skipped.get("message") or "")
    assert (bass.find("failure"), kick.find("skipped")) == (None, None)
    assert kick.find("failure") is not None
    for suite in suites:
        assert int(suite.get("skipped") or -1) == len(list(suite.iter("skipped")))
        assert int(suite.get("failures") or -1) == len(list(suite.iter("failure")))


def test_junit_is_read_by_another_program(desk: Person) -> None:
    """PyPI junitparser, where it is installed."""
    try:
        junitparser: ModuleType = importlib.import_module("junitparser")
    except ImportError:
        pytest.skip("junitparser is not installed")
    parsed = junitparser.JUnitXml.fromstring(junit(desk).encode("utf-8"))
    results = {
        (suite.properties().__iter__().__next__().value, case.name): [type(r).__name__ for r in case.result]
        for suite in parsed
        for case in suite
        if case.classname == "prep.nothing-soloed"
    }
    assert results[("one.dawproject", "channel Bass")] == ["Skipped"]
    assert results[("two.dawproject", "channel Kick")] == ["Failure"]
    assert results[("one.dawproject", "channel Kick")] == []


def test_lines_say_signed(desk: Person) -> None:
    """The second field says what holds the bounce and what was signed."""
    run = desk.mixlint("review", "one.dawproject", "two.dawproject", "--as", "line")
    rows = [line.split("\t")[:4] for line in run.stdout.splitlines() if "\tnothing-soloed\t" in line]
    assert rows == [
        ["one.dawproject", "signed", "nothing-soloed", "Bass"],
        ["two.dawproject", "hold", "nothing-soloed", "Kick"],
    ]


def test_one_bad_file_of_several_does_not_hide_the_others(desk: Person) -> None:
    """A sign-off file that cannot be read ends with 2, and the other session is still reviewed."""
    (desk.home / "one.signed.txt").write_text("sign nothing\n", encoding="utf-8")
    run = desk.mixlint("review", ".", "--as", "line")
    assert run.returncode == 2
    assert "one.signed.txt, line 1" in run.stderr
    assert [line.split("\t")[0] for line in run.stdout.splitlines() if "\thold\t" in line] == ["two.dawproject"]


@pytest.mark.slow
def test_files_beside_a_session_are_no_sessions(desk: Person) -> None:
    """Neither an approval nor a report in the same folder is taken for a session."""
    assert desk.mixlint("sign", "one.dawproject", "--approve", "--mix", "1", "--by", "RM").returncode == 0
    desk.mixlint("review", "one.dawproject", "--as", "json", "--out", "report.json")
    body = json.loads(desk.mixlint("review", ".", "--as", "json").stdout)
    assert [s["source"] for s in body["sessions"]] == ["one.dawproject", "two.dawproject"]


def test_html_and_text_tell_who_signed(desk: Person) -> None:
    """Escaped where the form needs it."""
    assert "client &lt;wish&gt; &amp; more" in desk.mixlint("review", "one.dawproject", "--as", "html").stdout
    assert "client <wish> & more" in desk.mixlint("review", "one.dawproject").stdout


@pytest.mark.slow
def test_the_hook_runs_a_command_that_exists(desk: Person) -> None:
    """The hook definition names a real command, and its pattern takes sessions and nothing else."""
    text = (TOP / ".pre-commit-hooks.yaml").read_text(encoding="utf-8")
    entry = re.search(r"^ {2}entry: mixlint (.+)$", text, re.MULTILINE)
    files = re.search(r"^ {2}files: (.+)$", text, re.MULTILINE)
    assert entry is not None
    assert files is not None
    assert desk.mixlint(*entry[1].split(), "one.dawproject").returncode == 0
    assert desk.mixlint(*entry[1].split(), "two.dawproject").returncode == 1
    assert re.search(files[1], "songs/one.dawproject")
    assert not re.search(files[1], "songs/one.signed.txt")


@pytest.mark.slow
def test_what_lapsed_is_in_every_form(desk: Person) -> None:
    """Text, JSON, SARIF, JUnit and HTML all say which sign-off no longer holds, and why."""
    signed = desk.home / "one.signed.txt"
    signed.write_text(signed.read_text("utf-8").replace("until never", "until 2001-01-01"), encoding="utf-8")
    for form in ("text", "json", "sarif", "junit", "html"):
        run = desk.mixlint("review", "one.dawproject", "--as", form)
        assert run.returncode == 1
        assert "it held until 2001-01-01" in run.stdout, form
