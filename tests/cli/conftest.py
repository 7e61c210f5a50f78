"""Surroundings for the tests of the command line, and a command line run in a process of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from cli_sessions import Run, half_wet, session_body, write_session


@pytest.fixture(autouse=True)
def _plain_surroundings(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """No cache of the user, no house standard above the tests, no terminal settings."""
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path_factory.mktemp("cache")))
    for name in ("NO_COLOR", "FORCE_COLOR", "COLUMNS", "TERM"):
        monkeypatch.delenv(name, raising=False)


@pytest.fixture(autouse=True)
def _house(tmp_path: Path) -> None:
    """A house that takes five rules, so that these tests do not hang on how long the shipped checklist is."""
    (tmp_path / "mixlint-standard.toml").write_text(
        'name = "lamp-house"\n'
        'takes = ["return-fully-wet", "return-low-cut", "nothing-soloed", "reaches-mix-bus", "no-feedback-loop"]\n'
    )


@pytest.fixture
def clear(tmp_path: Path) -> Path:
    """A session that is clear to bounce."""
    return write_session(tmp_path / "lamp.json")


@pytest.fixture
def held(tmp_path: Path) -> Path:
    """A session that is held: its reverb return is half dry."""
    path = tmp_path / "half-wet.json"
    path.write_text(json.dumps(half_wet(session_body())), encoding="utf-8")
    return path


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    """A file that begins like a session and breaks off."""
    path = tmp_path / "broken.json"
    path.write_text(json.dumps(session_body())[:200], encoding="utf-8")
    return path


@pytest.fixture
def mixlint() -> Run:
    """Runs the command line in a process of its own."""

    def run(*arguments: object, env: dict[str, str] | None = None, **more: Any) -> subprocess.CompletedProcess[bytes]:
        return subprocess.run(
            [sys.executable, "-m", "mixlint", *map(str, arguments)],
            env={**os.environ, **(env or {})},
            capture_output=True,
            check=False,
            timeout=120,
            **more,
        )

    return run
