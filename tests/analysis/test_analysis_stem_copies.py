"""Stems that are copies of each other."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

import mixlint


@pytest.mark.slow
def test_stems_of_another_number_of_legs_are_no_copies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Six legs and two that play alike are held apart, and the review comes to its end."""
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path / "cache"))
    folder = tmp_path / "stems"
    folder.mkdir()
    time = np.arange(6 * 8000) / 8000
    sound = 0.3 * np.sin(2 * np.pi * 220 * time) * (1.0 + np.sin(2 * np.pi * time))
    for name, legs in (("Bass", 6), ("Voice", 2)):
        soundfile.write(folder / f"{name}.wav", np.tile(sound[:, None] / 2, legs), 8000)
    rows = mixlint.check(folder, everything=True).findings
    assert not [one for one in rows if "copies" in one.rule and one.verdict == "flagged"]
