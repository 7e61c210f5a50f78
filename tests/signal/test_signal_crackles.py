"""Crackle, noise, drops and telephones that were planted, and music without. A telephone's rate: ETSI TS 100 908."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.media.gathering import Bends
from mixlint.signal import synthesis
from mixlint.signal.chops import chops
from mixlint.signal.crackles import FRAME_HZ, crackles, drops, noise_bursts, of_a_telephone

FS = 48_000
CELL = FS // 100


def cells_of(samples: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The largest and the mean bend of each cell, and its peak, dB."""
    bends = Bends(1)
    whole = samples[: samples.size // (10 * CELL) * 10 * CELL].astype(np.float32)
    bends.feed(whole[None], 10 * CELL, 10)
    most, mean = bends.result()[:, 0].astype(np.float64)
    peak = np.abs(whole.reshape(-1, CELL)).max(axis=1)
    return most, mean, 20.0 * np.log10(np.maximum(peak, 1e-9))


def test_bends_are_second_differences() -> None:
    """numpy's own, cell by cell."""
    samples = np.random.default_rng(1).uniform(-0.5, 0.5, FS).astype(np.float32)
    most, mean, _ = cells_of(samples)
    second = np.abs(np.diff(np.concatenate(([0.0, 0.0], samples.astype(np.float64))), 2)).reshape(-1, CELL)
    assert most == pytest.approx(20.0 * np.log10(second.max(axis=1)), abs=0.1)
    assert mean == pytest.approx(20.0 * np.log10(second.mean(axis=1)), abs=0.1)


def test_bursts_of_crackle_are_counted_and_placed() -> None:
    random = np.random.default_rng(2)
    samples = 0.1 * synthesis.voice(220.0, 1, 6.0, FS)
    for start in (1.0, 3.5):
        at = slice(int(start * FS), int((start + 0.25) * FS))
        spots = random.random(at.stop - at.start) < 0.004
        samples[at] += spots * random.choice([-1.0, 1.0], spots.size) * 0.2
    most, mean, peak = cells_of(samples)
    found = crackles(most, mean, peak, 27.0, 10.0, 4)
    assert [round(one.start / 100.0, 1) for one in found] == [1.0, 3.5]


@pytest.mark.parametrize("make", ["voice", "pluck", "kit"])
def test_music_does_not_crackle_nor_burst_into_noise(make: str) -> None:
    made = {
        "voice": lambda: synthesis.voice(220.0, 1, 6.0, FS),
        "pluck": lambda: synthesis.pluck(220.0, 1, 6.0, FS),
        "kit": lambda: synthesis.kit(1, 6.0, FS),
    }
    most, mean, peak = cells_of(0.3 * made[make]())
    assert crackles(most, mean, peak, 27.0, 10.0, 4) == []
    assert noise_bursts(mean, peak) == []


def test_bursts_of_noise_are_counted() -> None:
    random = np.random.default_rng(3)
    samples = 0.3 * synthesis.voice(220.0, 1, 6.0, FS)
    for start in (1.2, 2.9, 4.4):
        at = slice(int(start * FS), int((start + 0.08) * FS))
        samples[at] = 0.1 * random.standard_normal(at.stop - at.start)
    _, mean, peak = cells_of(samples)
    assert [round(one.start / 100.0, 1) for one in noise_bursts(mean, peak)] == [1.2, 2.9, 4.4]


def test_a_leg_that_drops_out() -> None:
    left = -20.0 + np.random.default_rng(4).normal(0.0, 1.0, 600)
    right = left - 2.0
    for start in (100, 250, 400):
        right[start : start + 12] -= 40.0
    assert [(one.start, one.length) for one in drops(right, left, 18.0)] == [(100, 12), (250, 12), (400, 12)]
    assert drops(left, right, 18.0) == []


def test_legs_that_part_all_the_time_tell_no_cable() -> None:
    left = np.where(np.arange(600) % 40 < 20, -20.0, -50.0)
    assert drops(left, left[::-1].copy(), 18.0) == []


@pytest.mark.parametrize(("rate", "heard"), [(FRAME_HZ, True), (220.0, False), (210.0, False)])
def test_a_telephone_keeps_its_rate(rate: float, heard: bool) -> None:
    t = np.arange(FS) / FS
    samples = 0.1 * ((t % (1.0 / rate)) < 577e-6) + 0.05 * np.sin(2.0 * np.pi * 130.0 * t)
    assert of_a_telephone(samples, float(FS)) is heard


def test_a_gate_chops_and_a_room_does_not() -> None:
    on = np.arange(600) % 50 < 30
    chopped = np.where(on, -12.0, -200.0)
    ends, begins = chops(chopped, 35.0, 16.0)
    assert len(ends) == 12
    assert len(begins) == 11  # the first begins with the file
    decays = np.where(on, -12.0, -12.0 - 3.0 * (np.arange(600) % 50 - 30))
    assert chops(decays, 35.0, 16.0)[0] == []
