"""Names written by strangers, in the session and on the disk."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from cli_sessions import half_wet, session_body, write_session
from typer.testing import CliRunner, Result

from mixlint.cli.app import app

FORMS = ("text", "json", "sarif", "junit", "html", "line")


def run(*arguments: object) -> Result:
    """The command line in this process."""
    return CliRunner().invoke(app, [str(a) for a in arguments])


def hostile(body: dict[str, Any]) -> dict[str, Any]:
    """A half-wet hall whose name tries everything."""
    half_wet(body)["channels"][1]["name"] = (
        "[red]Hall[/] <script>x</script>\x1b[2J\x1b]0;own\x07\n\u202egnp " + "y" * 5000
    )
    return body


@pytest.mark.parametrize("form", FORMS)
def test_hostile_names_go_through_every_form(form: str, tmp_path: Path) -> None:
    """No control character but the line feed and the tab reaches the output, and the row is still there."""
    path = tmp_path / "hostile.json"
    path.write_text(json.dumps(hostile(session_body())), encoding="utf-8")
    result = run("review", path, "--as", form)
    assert result.exit_code == 1, result.output
    assert not [c for c in result.stdout if (c < " " and c not in "\n\t") or c in "\x7f\x9b\u202e"]
    assert "return-fully-wet" in result.stdout


def test_a_file_name_that_is_no_text(tmp_path: Path) -> None:
    """Bytes that are not UTF-8 in a file name are replaced in the report."""
    path = Path(str(tmp_path) + "/\udcff\udcfelamp.json")
    try:
        write_session(path)
    except (OSError, UnicodeEncodeError):
        pytest.skip("this file system wants names that are text")
    for form in FORMS:
        result = run("review", path, "--as", form)
        assert result.exit_code == 0, result.output
        assert "�" in result.stdout or form in ("sarif", "line")
