"""``mixlint sheet --why``, and the one question for all names that are not read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_sessions import Run

SESSION = {
    "format": "mixlint-session/1",
    "title": "Tollbooth Waltz",
    "channels": [
        {"id": "a", "name": "Zorble", "kind": "track", "output": "m", "clips": [{"start_s": 0, "end_s": 60}]},
        {"id": "b", "name": 'Grum "8" [x]', "kind": "track", "output": "m", "clips": [{"start_s": 0, "end_s": 60}]},
        {"id": "c", "name": "Kick", "kind": "track", "folder": ["Drums"], "output": "m", "clips": []},
        {"id": "m", "name": "Mix Bus", "kind": "master", "output": None},
    ],
}


HEAD = 'name = "house-of-tolls"\ntakes = ["part-told", "reaches-mix-bus"]\n'


def said_by(mixlint: Run, *args: object) -> tuple[int, str]:
    """The exit code and all that was written."""
    done = mixlint(*args)
    return done.returncode, (done.stdout + done.stderr).decode()


@pytest.fixture
def session(tmp_path: Path) -> Path:
    (tmp_path / "mixlint-standard.toml").write_text(HEAD, encoding="utf-8")
    path = tmp_path / "waltz.session.json"
    path.write_text(json.dumps(SESSION), encoding="utf-8")
    return path


def test_why_tells_role_evidence_second_reading_and_how_to_overrule(session: Path, mixlint: Run) -> None:
    code, said = said_by(mixlint, "sheet", session, "--why", "kick")
    assert code == 0
    for line in ("read as", "'kick' in the name → drums", "it lies under 'Drums' → drums", "[roles]", '"Kick" = "?"'):
        assert line in said


def test_why_as_json(session: Path, mixlint: Run) -> None:
    code, said = said_by(mixlint, "sheet", session, "--why", "a", "--as", "json")
    told = json.loads(said)
    assert code == 0
    assert told["format"] == "mixlint-why/1"
    assert told["channels"][0]["role"] is None
    assert told["channels"][0]["overrule"] == '"Zorble" = "?"'


def test_a_name_that_is_not_there_is_told_with_the_nearest(session: Path, mixlint: Run) -> None:
    code, said = said_by(mixlint, "sheet", session, "--why", "Zorbl")
    assert code != 0
    assert "Did you mean Zorble?" in said
    assert "Traceback" not in said


def test_all_unread_names_are_asked_about_once_with_a_table_that_settles_them(session: Path, mixlint: Run) -> None:
    """The lines can be copied as they stand: with roles filled in, the standard is valid and nothing is asked."""
    code, said = said_by(mixlint, "review", session, "--everything")
    assert code == 0, said
    assert " ".join(said.split()).count("Is every track named by what it plays?") == 1
    lines = [line.strip() for line in said.splitlines()]
    table = lines[lines.index("[roles]") : lines.index("[roles]") + 3]
    standard = session.with_name("mixlint-standard.toml")
    filled = "\n".join(table).replace('"?"', '"bass"')
    standard.write_text(f"{HEAD}{filled}\n", encoding="utf-8")
    code, said = said_by(mixlint, "review", session, "--everything")
    assert (code, "Is every track named" in said) == (0, False), said
    assert said_by(mixlint, "sheet", session)[1].count("bass") == 2
