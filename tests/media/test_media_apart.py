"""Work in a process of its own: what hangs is stopped, what grows fails, what complains is not heard."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from mixlint.media.apart import run_apart

MODULE = "tests.media.apart_modules"


def test_an_answer_and_not_a_word_more(capfd: pytest.CaptureFixture[str]) -> None:
    assert run_apart(MODULE, ["complains"]) == (b"answer\n", "well")
    assert capfd.readouterr() == ("", "")


def test_what_hangs_is_stopped() -> None:
    start = time.perf_counter()
    assert run_apart(MODULE, ["hangs"], seconds=1.0) == (b"", "late")
    assert time.perf_counter() - start < 20.0


def test_what_grows_fails() -> None:
    pytest.importorskip("resource", reason="this system bounds no process's memory")
    assert run_apart(MODULE, ["grows"]).ended == "badly"


def test_what_talks_too_much_is_stopped() -> None:
    assert run_apart(MODULE, ["talks"], most_answer=1000) == (b"", "large")
    assert run_apart(MODULE, ["talks"], most_answer=200_000).ended == "well"


def test_nothing_is_imported_from_the_folder_it_is_called_from(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "json.py").write_text("raise SystemExit(3)")
    (tmp_path / "subprocess.py").write_text("raise SystemExit(3)")
    monkeypatch.chdir(tmp_path)
    assert run_apart(MODULE, ["complains"]).ended == "well"
