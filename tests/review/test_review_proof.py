"""``rules --prove``: promises kept, promises broken, and files that cannot be used."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from example_sessions.parts.house import ferry_bell
from mixlint.cli.app import app

RULE = """
id = "no-moth"
title = "Nothing is called Moth"
area = "prep"
grade = "note"
over = "channel"
must = { name = { is_not = "Moth" } }
says = "{channel} is there."
remedy = "Call it something else."
why = "It is a word of ours."

[basis]
kind = "common practice"
"""
EXAMPLE = """
[[example]]
name = "a moth"
verdict = "VERDICT"
subject = "Moth"
[example.session]
channels = [
  { name = "Moth", kind = "track", output = "Mix Bus" },
  { name = "Mix Bus", kind = "master", output = false },
]
"""


@pytest.fixture
def house(tmp_path: Path) -> Path:
    """A house with one rule of its own and one clean session."""
    (tmp_path / "tried").mkdir()
    (tmp_path / "house.toml").write_text('name = "moth-house"\nrules = ["no-moth.toml"]\nexamples = "tried"\n')
    (tmp_path / "no-moth.toml").write_text(RULE + EXAMPLE.replace("VERDICT", "flagged"))
    session = ferry_bell()
    channels = tuple(
        c.model_copy(update={"name": {"Marigold Main": "Lead Vocal", "Barn Mics": "Drum Room"}.get(c.name, c.name)})
        for c in session.channels
    )
    (tmp_path / "tried" / "bell.session.json").write_text(session.model_copy(update={"channels": channels}).json_text())
    return tmp_path


def prove(house: Path, *more: str):
    return CliRunner().invoke(app, ["rules", "--standard", str(house / "house.toml"), "--prove", *more])


def test_a_standard_that_keeps_its_word(house: Path):
    result = prove(house)
    assert result.exit_code == 0, result.output
    assert "no-moth: 1 example kept" in result.output
    assert "bell.session.json: nothing flagged" in result.output


def test_a_broken_example_is_told_and_ends_with_1(house: Path):
    (house / "no-moth.toml").write_text(RULE + EXAMPLE.replace("VERDICT", "clear"))
    result = prove(house)
    assert result.exit_code == 1
    assert "0 of 1 example kept" in result.output
    assert "flagged (Moth: Moth is there.) where clear is promised" in " ".join(result.output.split())
    assert "the standard fails" in result.output


def test_a_rule_without_an_example_says_so(house: Path):
    (house / "no-moth.toml").write_text(RULE)
    result = prove(house)
    assert result.exit_code == 0
    assert "no-moth: has no example, so that it is not proven" in result.output
    assert "what was tried passes; one rule of its own is not proven" in result.output
    assert "the standard passes" not in result.output
    assert json.loads(prove(house, "--as", "json").stdout)["unproven"] == ["no-moth"]


def test_rules_without_examples_alone_are_nothing_to_try(house: Path):
    (house / "no-moth.toml").write_text(RULE)
    (house / "house.toml").write_text('name = "moth-house"\nrules = ["no-moth.toml"]\n')
    result = prove(house)
    assert result.exit_code == 2
    assert "no rule of its own has an example" in result.stderr


def test_what_is_expected_and_not_flagged_is_told(house: Path):
    (house / "tried" / "bell.expected.toml").write_text('flagged = ["nothing-soloed"]\n')
    result = prove(house)
    assert result.exit_code == 1
    assert "nothing-soloed is expected to be flagged, and is not" in result.output


def test_what_is_flagged_and_not_expected_is_told_with_its_message(house: Path):
    file = house / "tried" / "bell.session.json"
    body = json.loads(file.read_text())
    body["channels"][1]["solo"] = True
    file.write_text(json.dumps(body))
    result = prove(house)
    assert result.exit_code == 1
    assert "nothing-soloed is flagged, and is not expected: Kick is soloed." in result.output
    (house / "tried" / "bell.expected.toml").write_text('flagged = ["nothing-soloed"]\n')
    assert prove(house).exit_code == 0


def test_as_json(house: Path):
    body = json.loads(prove(house, "--as", "json").stdout)
    assert (body["format"], body["standard"], body["kept"]) == ("mixlint-proof/1", "moth-house", True)
    assert [rule["rule"] for rule in body["rules"]] == ["no-moth"]
    assert body["sessions"] == [{"session": "bell.session.json", "flagged": [], "missing": [], "surplus": []}]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "text", "told"),
    [
        ("bell.expected.toml", 'flagged = ["nothing-solo"]', "did you mean nothing-soloed?"),
        ("bell.expected.toml", 'flaged = ["nothing-soloed"]', "no such key"),
        ("bell.expected.toml", "flagged = [", "the last value is missing"),
        ("bel.expected.toml", "flagged = []", "there is no session called bel beside it"),
        ("torn.session.json", '{"format": "mixlint-session/1"', "torn.session.json"),
    ],
)
def test_a_file_that_cannot_be_used_ends_with_2(house: Path, name: str, text: str, told: str):
    (house / "tried" / name).write_text(text)
    result = prove(house)
    assert result.exit_code == 2
    assert told in " ".join(result.stderr.split())


def test_a_standard_that_only_changes_shipped_rules_passes_and_says_that_nothing_was_tried(tmp_path: Path):
    (tmp_path / "house.toml").write_text('name = "bare-house"\n')
    result = prove(tmp_path)
    assert result.exit_code == 0, result.stderr
    assert "nothing to try yet" in result.stdout
    (tmp_path / "house.toml").write_text('name = "bare-house"\n[grades]\nnothing-solod = "look"\n')
    assert prove(tmp_path).exit_code == 2


def test_a_standard_whose_own_rules_are_all_left_out_ends_with_2(house: Path):
    (house / "house.toml").write_text('name = "moth-house"\nrules = ["no-moth.toml"]\nleave_out = ["no-moth"]\n')
    result = prove(house)
    assert result.exit_code == 2
    assert "nothing to try" in result.stderr


def test_a_standard_is_proven_as_a_whole(house: Path):
    assert prove(house, "--area", "prep").exit_code == 2


def test_the_rules_of_a_standard_it_builds_on_are_tried_too(house: Path):
    (house / "upper.toml").write_text('name = "upper-house"\nbuilds_on = "house.toml"\n')
    result = CliRunner().invoke(app, ["rules", "--standard", str(house / "upper.toml"), "--prove"])
    assert result.exit_code == 0, result.output
    assert "no-moth: 1 example kept" in result.output
