"""Surroundings for the tests of stores; skipped with a word where the extra is missing."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest.importorskip("pyarrow")
pytest.importorskip("duckdb")

from tests.store.stores import HOUSE


@pytest.fixture(autouse=True)
def _house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """A house that takes five rules, no cache of the user, no terminal settings."""
    (tmp_path / "mixlint-standard.toml").write_text(HOUSE)
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path_factory.mktemp("cache")))
    for name in ("NO_COLOR", "FORCE_COLOR", "COLUMNS", "TERM"):
        monkeypatch.delenv(name, raising=False)
