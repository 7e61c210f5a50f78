"""Name patterns of a house that fit nothing are told once, and change nothing else."""

from __future__ import annotations

import json
from pathlib import Path

from cli_sessions import session_body, write_session
from typer.testing import CliRunner, Result

from mixlint.cli.app import app

NAMES = """
[roles]
"lead *" = "lead-vocal"
"Marigold*" = "lead-vocal"
[processors]
"Stair*" = "reverb"
"Wide Barn*" = "reverb"
[intent]
parallel = ["Smack *"]
cue = ["Ears *"]
"""


def run(*arguments: object) -> Result:
    return CliRunner().invoke(app, [str(one) for one in arguments])


def house(folder: Path) -> Path:
    path = folder / "mixlint-standard.toml"
    path.write_text(f'name = "porch"\ntakes = ["nothing-soloed"]\n{NAMES}', encoding="utf-8")
    return path


def test_a_review_tells_them_once_and_is_otherwise_the_same(tmp_path: Path) -> None:
    path, standard = write_session(tmp_path / "lamp.json"), house(tmp_path)
    result = run("review", path, "--no-audio", "--as", "json")
    assert result.exit_code == 0
    assert result.stderr == (
        f"mixlint: {standard}: these fit no name in the session looked at: "
        '[roles] "Marigold*", [intent] "Smack *", [intent] "Ears *", [processors] "Wide Barn*".\n'
    )
    assert "Marigold" not in result.stdout


def test_of_several_sessions_only_what_fits_in_none(tmp_path: Path) -> None:
    house(tmp_path)
    one, body = write_session(tmp_path / "one.json"), session_body()
    body["channels"][0]["name"] = "MARIGOLD dbl"
    body["channels"][1]["inserts"][1]["name"] = "Wide Barn 2"
    (tmp_path / "two.json").write_text(json.dumps(body), encoding="utf-8")
    said = run("review", one, tmp_path / "two.json", tmp_path / "gone.json", "--no-audio", "--as", "line")
    assert said.exit_code == 2
    assert 'any of the 2 sessions looked at: [intent] "Smack *", [intent] "Ears *".' in said.stderr
    assert "Marigold" not in said.stderr


def test_inserts_that_are_not_shown_tell_nothing_of_processors(tmp_path: Path) -> None:
    house(tmp_path)
    said = run("review", write_session(tmp_path / "lamp.json", gaps=["inserts"]), "--no-audio").stderr
    assert "Marigold" in said
    assert "Wide Barn" not in said


def test_a_house_without_patterns_is_told_nothing(clear: Path) -> None:
    assert run("review", clear, "--no-audio").stderr == ""


def test_a_proof_tells_them_too(tmp_path: Path) -> None:
    standard = house(tmp_path)
    (tmp_path / "tried").mkdir()
    write_session(tmp_path / "tried" / "lamp.json")
    standard.write_text(f'examples = "tried"\n{standard.read_text()}', encoding="utf-8")
    result = run("rules", "--prove", "--standard", standard)
    assert result.exit_code == 0
    assert "names that fit nothing in its sessions" in result.stdout
    assert '[roles] "Marigold*"' in result.stdout
    assert '[roles] "lead *"' not in result.stdout
    body = json.loads(run("rules", "--prove", "--standard", standard, "--as", "json").stdout)
    assert body["unfitted"] == [
        '[roles] "Marigold*"',
        '[intent] "Smack *"',
        '[intent] "Ears *"',
        '[processors] "Wide Barn*"',
    ]
