"""What a house writes and what then comes out: its settings, a distance in pan, and names of an earlier version."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import session_body
from typer.testing import CliRunner, Result

from mixlint.cli.app import app
from mixlint.facts import TABLES
from mixlint.runs.each_apart import EachApart


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def guitars(folder: Path, **right: Any) -> Path:
    """Two guitars at 80 left and 80 right, the right one changed."""
    one = {"kind": "track", "legs": 1, "output": "mix", "clips": [{"start_s": 0.0, "end_s": 60.0}]}
    body = session_body(
        channels=[
            {"id": "a", "name": "Acoustic Gtr L", "pan": -80.0, **one},
            {"id": "b", "name": "Acoustic Gtr R", "pan": 80.0, **one, **right},
            {"id": "mix", "name": "Mix Bus", "kind": "master", "legs": 2, "output": None},
        ]
    )
    path = folder / "porch.json"
    path.write_text(json.dumps(body), encoding="utf-8")
    return path


def standard(folder: Path, text: str) -> None:
    (folder / "mixlint-standard.toml").write_text(f'name = "porch-house"\n{text}', encoding="utf-8")


def answered(path: Path) -> dict[str, Any]:
    """The finding of ``pan-answered`` on the left guitar."""
    body = json.loads(run("review", path, "--as", "json", "--everything").stdout)
    return next(
        f
        for f in body["sessions"][0]["findings"]
        if f["rule"] == "pan-answered" and f["subject"]["name"] == "Acoustic Gtr L"
    )


@pytest.mark.parametrize(
    ("right", "setting", "value"),
    [
        ({"fader_db": -6.5}, "most_level_difference_db", 7.0),
        ({"pan": 39.0}, "least_angle_ratio", 45.0),
        ({"clips": [{"start_s": 33.0, "end_s": 93.0}]}, "least_together", 40.0),
    ],
)
def test_a_house_sets_what_makes_a_counterpart(
    tmp_path: Path, right: dict[str, Any], setting: str, value: float
) -> None:
    """6.5 dB apart, 39 against 80 (48.75 %), or together for 27 of 60 s (45 %): no answer as shipped, one as set."""
    path = guitars(tmp_path, **right)
    standard(tmp_path, 'takes = ["pan-answered"]\n[limits]\n"pan-answered.answered_percent" = 0.0')
    assert answered(path)["verdict"] == "flagged"
    more = f"\n[settings.counterparts]\n{setting} = {value}"
    standard(tmp_path, f'takes = ["pan-answered"]\n[limits]\n"pan-answered.answered_percent" = 0.0{more}')
    found = answered(path)
    assert found["verdict"] == "clear"
    evidence = next(e for e in found["evidence"] if e["fact"] == "answered")
    assert {"name": f"counterparts.{setting}", "value": value} in [
        {"name": s["name"], "value": s["value"]} for s in evidence["settings"]
    ]
    page = run("rules", "pan-answered", "--standard", tmp_path / "mixlint-standard.toml").stdout
    assert f"laid down by porch-house (counterparts.{setting})" in " ".join(page.split())


def test_from_where_on_a_part_counts_as_panned(tmp_path: Path) -> None:
    """At 12 either side the two are no pair as shipped, and one where a house says that 10 is off the centre."""
    path = guitars(tmp_path, pan=12.0)
    body = json.loads(path.read_text())
    body["channels"][0]["pan"] = -12.0
    path.write_text(json.dumps(body), encoding="utf-8")
    counts = []
    for more in ("", '\n[settings]\n"counterparts.least_angle" = 10.0'):
        standard(tmp_path, f'takes = ["pair-even"]{more}')
        report = json.loads(run("review", path, "--as", "json", "--everything").stdout)
        counts.append(report["sessions"][0]["counts"])
    assert [(one["clear"], one["idle"]) for one in counts] == [(0, 1), (1, 0)]


def test_a_setting_that_is_none_ends_with_2(tmp_path: Path) -> None:
    """File, key and nearest spelling on stderr, and nothing on stdout."""
    path = guitars(tmp_path)
    standard(tmp_path, '[settings]\n"counterparts.least_togther" = 60.0')
    result = run("review", path)
    assert (result.exit_code, result.stdout) == (2, "")
    assert "mixlint-standard.toml: settings.counterparts.least_togther: there is no setting" in result.stderr
    assert "did you mean counterparts.least_together?" in result.stderr


MOVED = """
id = "pans-stay"
title = "Pans stay where they were approved"
area = "handover"
grade = "look"
over = "change"
must = { moved_pan = { at_most = "limits.most" } }
says = "{on_channel}: its pan moved by {moved_pan}; at most {limits.most} may be."
remedy = "Pan it back."
why = "The client has heard it there."
[limits.most]
value = 3.0
unit = "pan distance"
meaning = "Most that a pan may move."
[basis]
kind = "common practice"
"""


def test_a_moved_pan_is_a_distance_in_message_column_and_lapse(tmp_path: Path) -> None:
    """From 41 to 61 right it moved by 20, wherever that is written: 20 is no place on the right."""
    path = guitars(tmp_path, pan=41.0)
    (tmp_path / "pans-stay.toml").write_text(MOVED, encoding="utf-8")
    standard(tmp_path, 'takes = []\nrules = ["pans-stay.toml"]')
    assert run("sign", path, "--approve", "--mix", 1, "--by", "RM").exit_code == 0
    guitars(tmp_path, pan=61.0)
    text = run("review", path).stdout
    assert "Acoustic Gtr R: its pan moved by 20; at most 3 may be." in text
    why = run("review", path, "--why").stdout
    assert "moved pan 20, limit 3" in why
    assert "calculated: moved pan 20" in why
    because = ("--because", "client wish", "--by", "RM")
    assert run("sign", path, "pans-stay", *because).exit_code == 0
    guitars(tmp_path, pan=81.0)
    assert "moved pan was 20 when it was signed, and is 40 now" in " ".join(run("review", path).stdout.split())
    page = run("rules", "pans-stay", "--standard", tmp_path / "mixlint-standard.toml").stdout
    assert "moved pan is at most 3." in page.lower()


def test_a_limit_that_is_a_place_where_the_fact_is_a_distance_is_told(tmp_path: Path) -> None:
    path = guitars(tmp_path)
    (tmp_path / "pans-stay.toml").write_text(MOVED.replace("pan distance", "pan"), encoding="utf-8")
    standard(tmp_path, 'takes = []\nrules = ["pans-stay.toml"]')
    result = run("review", path)
    assert result.exit_code == 2
    assert 'the limit most is in pan and the fact moved_pan in pan distance (write unit = "pan distance")' in (
        result.stderr
    )


SOLO = """
id = "no-solo"
title = "Nothing is soloed"
area = "prep"
grade = "note"
over = "channel"
must = { soloed = false }
says = "{channel} is soloed: {solo_story}."
remedy = "Release it."
why = "A solo hides the rest."
[basis]
kind = "common practice"
"""


@pytest.mark.parametrize("command", ["review", "sheet", "rules"])
def test_the_name_of_a_fact_that_went_is_told_once_on_stderr(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    """With the rule's file, the old name, what to write now and until when; the output is as it would be."""
    monkeypatch.setitem(TABLES["channel"].echoes, "solo_story", "soloed.note")
    monkeypatch.setattr(
        EachApart, "review", lambda self, task, watch: self._task(task, watch)
    )  # no process has the patch
    path = guitars(tmp_path, solo=True)
    (tmp_path / "song").mkdir()
    below = tmp_path / "song" / "porch.json"
    below.write_bytes(path.read_bytes())
    (tmp_path / "no-solo.toml").write_text(SOLO, encoding="utf-8")
    standard(tmp_path, 'takes = []\nrules = ["no-solo.toml"]')
    (tmp_path / "song" / "mixlint-standard.toml").write_text(
        'name = "song"\nbuilds_on = "../mixlint-standard.toml"', encoding="utf-8"
    )
    house = ["--standard", tmp_path / "mixlint-standard.toml"]
    arguments = {"review": [path, below], "sheet": [path], "rules": ["no-solo", *house]}[command]
    result = run(command, *arguments)
    assert result.exit_code == 0, result.output
    said = "no-solo.toml: says: {solo_story} of the table channel is read until version 0.3 (write {soloed.note})"
    assert result.stderr.count(said) == 1
    if command == "review":
        assert "Acoustic Gtr R is soloed: yes." in result.stdout
