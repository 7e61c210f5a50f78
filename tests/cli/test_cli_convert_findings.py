"""A converted session is judged as its original is: same rules, same subjects, same verdicts, same messages."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.importers import read
from tests.importers.exporters import STYLES, Exporter

pytestmark = pytest.mark.slow

TOP = Path(__file__).resolve().parents[2]
EXAMPLES = TOP / "example_sessions"


def mixlint(*words: object) -> str:
    """What the command line prints, run in this process: thirty new ones would take longer to start than to work."""
    done = CliRunner().invoke(app, [str(word) for word in words])
    assert done.exit_code in (0, 1), done.stderr
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.stdout


def findings(path: Path) -> set[tuple[str, ...]]:
    told = mixlint("review", path, "--standard", "pre-bounce", "--no-audio", "--as", "json", "--everything")
    (session,) = json.loads(told)["sessions"]
    return {(f["rule"], f["subject"]["name"], f["verdict"], f["message"]) for f in session["findings"]}


def agrees_with_its_conversion(original: Path, folder: Path) -> None:
    out = folder / "converted.json"
    mixlint("convert", original, "--out", out)
    assert findings(out) == findings(original)


@pytest.mark.parametrize("song", ["sixpenny-weathervane", "sixpenny-weathervane-flawed"])
def test_a_shipped_session_and_its_conversion_agree(song, tmp_path):
    agrees_with_its_conversion(EXAMPLES / f"{song}.dawproject", tmp_path)


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_a_session_in_each_style_and_its_conversion_agree(style, tmp_path):
    session = read(EXAMPLES / "sixpenny-weathervane-flawed.dawproject")
    original = tmp_path / "song.dawproject"
    original.write_bytes(Exporter(session, style).archive())
    agrees_with_its_conversion(original, tmp_path)
