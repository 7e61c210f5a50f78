"""Every JSON that a command writes, held against the schema of its form in ``schemas/``."""

from __future__ import annotations

import json
from contextlib import chdir
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from lxml import etree
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.reports.forms import RESULT_FORMS, REVIEW_FORMS

TOP = Path(__file__).resolve().parents[2]
SONG = str(TOP / "example_sessions" / "sixpenny-weathervane-flawed.dawproject")
CLEAN = str(TOP / "example_sessions" / "sixpenny-weathervane.dawproject")

COMMANDS = {
    "report": ("review", SONG, "--no-audio", "--everything", "--as", "json"),
    "sheet": ("sheet", SONG, "--as", "json"),
    "why": ("sheet", SONG, "--why", "Lead Vocal", "--as", "json"),
    "trace": ("trace", SONG, "Lead Vocal", "--as", "json"),
    "rules": ("rules", "--as", "json"),
    "standards": ("rules", "--standards", "--as", "json"),
    "facts": ("facts", "--as", "json"),
    "rows": ("facts", "return", "effect", "--of", SONG, "--as", "json"),
    "compare": ("compare", CLEAN, SONG, "--no-audio", "--as", "json"),
    "session": ("convert", SONG),
}
"""The schema's name, and what writes its form."""


def faults(name: str, body: Any) -> list[str]:
    """In what a body breaks the schema on disk."""
    schema = json.loads((TOP / "schemas" / f"{name}.schema.json").read_text(encoding="utf-8"))
    return [f"{one.json_path}: {one.message[:200]}" for one in Draft202012Validator(schema).iter_errors(body)]


def written(*words: str) -> str:
    done = CliRunner().invoke(app, list(words))
    assert done.exit_code in (0, 1), done.output
    return done.stdout


@pytest.mark.parametrize("name", COMMANDS)
def test_what_a_command_writes_follows_its_schema(name: str, tmp_path: Path) -> None:
    words = COMMANDS[name]
    if name == "session":
        path = tmp_path / "song.session.json"
        written(*words, "--out", str(path))
        text = path.read_text(encoding="utf-8")
    else:
        text = written(*words)
    body = json.loads(text)
    assert faults(name, body) == []
    assert body["format"] == f"mixlint-{name}/1"
    assert faults(name, {**body, "score": 87})  # a key that no form has
    assert faults(name, {**body, "format": "mixlint-other/1"})


def test_the_proof_of_a_standard_follows_its_schema() -> None:
    house = TOP / "example_sessions" / "house" / "mixlint-standard.toml"
    body = json.loads(written("rules", "--prove", "--standard", str(house), "--as", "json"))
    assert (body["format"], faults("proof", body)) == ("mixlint-proof/1", [])


def test_a_survey_and_the_answer_to_a_query_follow_their_schemas(tmp_path: Path) -> None:
    pytest.importorskip("pyarrow")
    pytest.importorskip("duckdb")
    store = str(tmp_path / "store")
    for song in (SONG, CLEAN):
        written("review", song, "--no-audio", "--store", store)
    body = json.loads(written("survey", store, "--what-if", "return-fully-wet.dry_db=0", "--as", "json"))
    assert (body["format"], faults("survey", body)) == ("mixlint-survey/1", [])
    assert body["what_if"]
    body = json.loads(written("survey", store, "--sql", "SELECT * FROM latest, facts LIMIT 9", "--as", "json"))
    assert (body["format"], faults("query", body)) == ("mixlint-query/1", [])


def test_an_approval_follows_its_schema(tmp_path: Path) -> None:
    song = tmp_path / "song.dawproject"
    song.write_bytes(Path(SONG).read_bytes())
    with chdir(tmp_path):
        written("sign", str(song), "--approve", "--mix", "1", "--by", "RM", "--no-audio")
    approved = (tmp_path / "song.approved.json").read_text(encoding="utf-8")
    assert faults("approval", json.loads(approved)) == []


def test_every_json_form_is_held_against_a_schema() -> None:
    """A command that gets a JSON form needs a line above."""
    assert {"json", "sarif"} == {one for one in (*REVIEW_FORMS, *RESULT_FORMS) if "json" in one or one == "sarif"}
    models = {path.name.removesuffix(".schema.json") for path in (TOP / "schemas").glob("*.json")}
    assert models == {*COMMANDS, "proof", "approval", "rule", "standard", "survey", "query"}


SAID = {"message", "type"}
JUNIT = {
    "testsuites": {"name", "tests", "failures", "errors", "skipped", "time"},
    "testsuite": {"name", "tests", "failures", "errors", "skipped", "time", "timestamp", "hostname"},
    "testcase": {"name", "classname", "time", "file"},
    "failure": SAID, "error": SAID, "skipped": SAID, "properties": set(), "property": {"name", "value"},
    "system-out": set(), "system-err": set(),
}  # fmt: skip
"""Elements and attributes of the form that runners read. No standards body publishes one (common practice)."""


def test_junit_keeps_to_the_elements_that_runners_read() -> None:
    document = etree.fromstring(written("review", SONG, "--no-audio", "--as", "junit").encode())
    for element in document.iter():
        assert set(element.attrib) <= JUNIT[element.tag], element.tag
    suites = [*document.iter("testsuite")]
    assert len([*document.iter("testcase")]) == sum(int(one.attrib["tests"]) for one in suites)
    assert len([*document.iter("failure")]) == sum(int(one.attrib["failures"]) for one in suites)
