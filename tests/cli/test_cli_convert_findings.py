"""A converted session is judged as its original is: same rules, same subjects, same verdicts, same messages."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from mixlint.importers import read
from tests.importers.exporters import STYLES, Exporter

TOP = Path(__file__).resolve().parents[2]
EXAMPLES = TOP / "example_sessions"


def mixlint(*words: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "mixlint", *map(str, words)], capture_output=True, text=True, timeout=120, check=False
    )


def findings(path: Path) -> set[tuple[str, ...]]:
    done = mixlint("review", path, "--standard", "pre-bounce", "--no-audio", "--as", "json", "--everything")
    assert done.returncode in (0, 1), done.stderr
    (session,) = json.loads(done.stdout)["sessions"]
    return {(f["rule"], f["subject"]["name"], f["verdict"], f["message"]) for f in session["findings"]}


def agrees_with_its_conversion(original: Path, folder: Path) -> None:
    out = folder / "converted.json"
    done = mixlint("convert", original, "--out", out)
    assert done.returncode == 0, done.stderr
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
