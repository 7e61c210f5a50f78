"""The short form of the fuzz run over every form that is read; the long one is ``python -m tests.importers.fuzz``."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.importers.fuzz import trying
from tests.importers.fuzz.forms import FORMS, Form, Given, made
from tests.importers.fuzz.running import run_apart

NEVER_REFUSED = {"adm"}
"""What a description of legs lacks leaves a session as it is."""


@pytest.mark.slow
def test_damaged_files_are_read_or_refused() -> None:
    """The damage must reach deep enough to matter, and not so deep that nothing is ever read."""
    for form, tally in (("", run_apart(300, 7)), ("aaf", run_apart(8, 0, "aaf"))):
        assert not tally.faults, tally.table()
        assert form or tally.reviewed > 0
        for one in [form] if form else set(FORMS) - {"aaf"}:
            said = tally.outcomes[one]
            assert said["read"] > 0, one
            assert one in NEVER_REFUSED or said["read"] < tally.inputs[one], one


def test_a_seed_makes_one_input(tmp_path: Path) -> None:
    """An archive carries the time of its making; all else is the same to the byte."""
    for form in set(FORMS) - {"zip", "aaf", "workbook"}:
        told = []
        for folder in (tmp_path / "one", tmp_path / "two"):
            folder.mkdir(exist_ok=True)
            made(form, 7, folder)
            told.append([one.read_bytes() for one in sorted(folder.rglob("*")) if one.is_file()])
        assert told[0] == told[1], form


def _spin(folder: Path) -> Given:
    def forever() -> None:
        while True:
            pass

    return Given(folder, forever)


def _die(folder: Path) -> Given:
    return Given(folder, lambda: os._exit(3))


def _grow(folder: Path) -> Given:
    return Given(folder, lambda: [] if bytearray(b"x" * 60_000_000) == b"" else None)


@pytest.mark.parametrize(("ways", "said"), [(_spin, "hang"), (_die, "died"), (_grow, "read")])
def test_what_hangs_dies_or_grows_is_a_fault(
    ways: object, said: str, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """Told with the seed that makes it again, and the run goes on behind it."""
    monkeypatch.setattr(trying, "SLOW_S", 0.4)
    monkeypatch.setattr(trying, "MOST_MB", 20.0)
    monkeypatch.setitem(FORMS, "made up", Form(1, lambda _, folder: ways(folder)))  # type: ignore[operator]
    tally = run_apart(2, 30, "made up")
    assert tally.outcomes["made up"][said] == 2
    assert "FAULT --form made up --seed 30 --runs 1" in capfd.readouterr().out
    (alike,) = tally.faults.values()
    assert [seed for _, seed in alike] == [30, 31]
