"""A clock among other sounds: planted at known times, and hands that are never so even."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.ticks import regular, ticks

CELL_S = 0.01
FLOOR = 10.0 ** (-75.0 / 20.0)


def cells(times: np.ndarray, levels_db: np.ndarray, seconds: float = 30.0) -> np.ndarray:
    peaks = np.full(round(seconds / CELL_S), FLOOR, np.float32)
    for at, level in zip(times, levels_db, strict=True):
        place = int(at / CELL_S)
        peaks[place : place + 2] = np.maximum(peaks[place : place + 2], 10.0 ** (np.array([level, level - 9.0]) / 20.0))
    return peaks


@pytest.mark.parametrize("bpm", [60.0, 87.3, 112.0, 144.0])
def test_a_metronome_is_told_by_its_distance(bpm: float) -> None:
    times = np.arange(0.83, 28.0, 60.0 / bpm)
    found = regular(ticks(cells(times, np.full(times.size, -32.0)), CELL_S))
    assert found is not None
    assert 60.0 / found.every_s == pytest.approx(bpm, rel=2e-3)
    assert found.places == times.size
    assert found.share == 1.0
    assert found.level_db == pytest.approx(-32.0, abs=0.1)
    # Places are known to a cell, whose standard deviation is 10 ms / √12 (uniform distribution).
    assert found.jitter_s < 1.3 * CELL_S / np.sqrt(12.0)


def test_a_metronome_is_found_where_only_the_rests_show_it() -> None:
    times = np.concatenate([np.arange(1.0, 6.0, 0.5), np.arange(20.0, 29.0, 0.5)])
    found = regular(ticks(cells(times, np.full(times.size, -40.0)), CELL_S))
    assert found is not None
    assert found.every_s == pytest.approx(0.5, abs=1e-3)
    assert found.places == times.size


def test_hands_jitter_and_change_in_level() -> None:
    random = np.random.default_rng(7)
    times = np.arange(1.0, 28.0, 0.5)
    times = times + 0.009 * random.standard_normal(times.size)
    found = regular(ticks(cells(times, -30.0 + 5.0 * random.standard_normal(times.size)), CELL_S))
    assert found is None or found.jitter_s > 0.004 or found.spread_db > 2.5 or found.share < 0.6


def test_what_stays_is_no_tick() -> None:
    """A note that is plucked goes on: it has not fallen 60 ms later."""
    peaks = np.full(3000, FLOOR, np.float32)
    for at in range(100, 2900, 50):
        peaks[at : at + 45] = 0.1
    assert ticks(peaks, CELL_S).shape[0] == 0


def test_a_file_of_a_few_cells_holds_none() -> None:
    assert ticks(np.ones(5, np.float32), CELL_S).shape == (0, 2)
    assert regular(np.zeros((0, 2))) is None
