"""Hostile and damaged files are refused in plain words, in little time and little memory."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.importers.hostile import Case, cases

pytestmark = pytest.mark.slow

CASES = cases()


@pytest.fixture(scope="module")
def outcomes(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    """Every case read in one guarded process."""
    if not Path("/proc/self/clear_refs").exists():
        pytest.skip("peak memory per file is read from /proc, which is not here")
    folder = tmp_path_factory.mktemp("hostile")
    paths = []
    for number, case in enumerate(CASES):
        path = folder / f"{number}{case.suffix}"
        path.write_bytes(case.make())
        paths.append(str(path))
    listing = folder / "list"
    listing.write_text("\n".join(paths), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, str(Path(__file__).with_name("guarded.py")), str(listing)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(lines) == len(CASES), f"{CASES[len(lines)].name!r} ended the process:\n{done.stderr[-2000:]}"
    assert done.stderr == ""
    return {case.name: line for case, line in zip(CASES, lines, strict=True)}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_hostile_file_is_refused_in_time_and_memory(case: Case, outcomes: dict[str, dict[str, Any]]) -> None:
    found = outcomes[case.name]
    if case.refusals:
        assert found["raised"] in case.refusals, found
        assert case.says in found["message"], found
        assert found["do"], "a refusal says what to do"
        assert found["where"], "a refusal says where"
    else:
        assert found["raised"] == "", found
    assert found["s"] < 5.0, found
    assert found["mb"] < 200.0, found
