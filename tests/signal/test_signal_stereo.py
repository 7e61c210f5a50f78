"""Stereo measures and combing against closed formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.signal import comb
from mixlint.signal.stereo import (
    Moments,
    StereoMeter,
    correlation,
    left_right,
    level_difference_db,
    mid_side,
    moments,
    mono_loss_db,
)

FS = 48000
TIME = np.arange(FS) / FS  # whole periods, so that sums over it are those of the sine


def sines(phase: float, right: float = 1.0) -> np.ndarray:
    """A second of 1 kHz, the right leg later by ``phase`` and scaled."""
    return np.stack([np.sin(2e3 * np.pi * TIME), right * np.sin(2e3 * np.pi * TIME - phase)])


@pytest.mark.parametrize("degrees", [0, 30, 60, 90, 120, 150, 180])
def test_equal_sines_correlate_by_the_cosine_of_their_phase(degrees: int) -> None:
    """ρ = cos φ, an identity."""
    assert correlation(sines(math.radians(degrees))) == pytest.approx(math.cos(math.radians(degrees)), abs=1e-9)


@pytest.mark.parametrize(
    ("rho", "loss"),
    [
        (1, 0.0),
        (0.9, -0.22),
        (0.7, -0.71),
        (0.5, -1.25),
        (0.3, -1.87),
        (0, -3.01),
        (-0.3, -4.56),
        (-0.5, -6.02),
        (-0.9, -13.01),
    ],
)
def test_mono_loss_of_equal_legs(rho: float, loss: float) -> None:
    """10 log10((1 + ρ)/2), an identity; measured on sines of that correlation and from the moments."""
    assert mono_loss_db(sines(math.acos(rho))) == pytest.approx(loss, abs=0.01)
    assert Moments(0.5, 0.5, 0.5 * rho).mono_loss_db == pytest.approx(loss, abs=0.01)


@given(st.floats(0.0, math.pi), st.floats(0.0, 4.0))
@settings(max_examples=50, deadline=None)
def test_mono_loss_is_the_measured_fold(phase: float, right: float) -> None:
    """The level of 0.5 (L + R) re the mean power of the legs, measured on the fold itself."""
    pair = sines(phase, right)
    fold = (0.5 * (pair[0] + pair[1])) ** 2
    expected = 10 * math.log10(max(float(fold.mean()) / float((pair**2).mean()), 1e-20))
    assert max(mono_loss_db(pair), -100.0) == pytest.approx(max(expected, -100.0), abs=1e-4)


def test_special_pairs() -> None:
    assert mono_loss_db(sines(math.pi)) < -150.0
    assert mono_loss_db(sines(0.0, 0.0)) == pytest.approx(-3.0103, abs=1e-4)
    assert correlation(sines(0.0, 0.0)) is None
    silent = moments(np.zeros((2, 100)))
    assert silent.correlation is None
    assert silent.mono_loss_db == 0.0
    assert silent.level_difference_db == 0.0
    assert moments(np.zeros((2, 0))).left == 0.0
    assert moments(sines(0.0)).width_db <= -150.0
    assert moments(sines(math.pi)).width_db >= 150.0
    assert moments(sines(math.pi / 2)).width_db == pytest.approx(0.0, abs=1e-9)
    assert moments(sines(0.0, 0.5)).level_difference_db == pytest.approx(6.0206, abs=1e-4)


@given(st.integers(0, 2**32 - 1))
@settings(deadline=None)
def test_mid_and_side_come_back(seed: int) -> None:
    pair = np.random.default_rng(seed).normal(size=(2, 50))
    assert left_right(mid_side(pair)) == pytest.approx(pair)


@given(st.lists(st.integers(0, 900), min_size=1, max_size=8), st.integers(0, 2**32 - 1))
@settings(deadline=None)
def test_a_meter_fed_in_pieces_reads_as_fed_at_once(cuts: list[int], seed: int) -> None:
    pair = np.random.default_rng(seed).normal(size=(2, 1000)).astype(np.float32)
    whole, pieces = StereoMeter(1000.0, 0.1), StereoMeter(1000.0, 0.1)
    whole.feed(pair)
    for piece in np.split(pair, sorted(cuts), axis=1):
        pieces.feed(piece)
    assert pieces.blocks().left == pytest.approx(whole.blocks().left)
    assert pieces.blocks().product == pytest.approx(whole.blocks().product)
    assert whole.blocks().left.shape == (10,)
    assert pieces.whole().product == pytest.approx(moments(pair).product)
    assert whole.blocks().whole.left == pytest.approx(whole.whole().left)


def test_blocks_over_time() -> None:
    """A second heavier on the left by 6.02 dB, a second of silence, a second on the right only."""
    meter = StereoMeter(FS, 0.5)
    meter.feed(np.concatenate([sines(0.0, 0.5), np.zeros((2, FS)), sines(0.0) * [[0.0], [1.0]]], axis=1))
    blocks = meter.blocks()
    assert blocks.level_difference_db[:4] == pytest.approx([6.0206, 6.0206, 0, 0], abs=1e-4)
    assert (blocks.level_difference_db[4:] < -190).all()
    rho, there = blocks.correlation
    assert there.tolist() == [True, True, False, False, False, False]
    assert rho[:2] == pytest.approx([1.0, 1.0])
    assert level_difference_db(blocks.left, blocks.right) == pytest.approx(blocks.level_difference_db)


def test_unusable_samples_are_refused() -> None:
    with pytest.raises(ValueError, match="shape"):
        moments(np.zeros(10))
    with pytest.raises(ValueError, match="finite"):
        StereoMeter(FS).feed(np.full((2, 3), np.nan))


@pytest.mark.parametrize(
    ("copy", "peak", "notch"),
    [
        (-3, 4.65, -10.69),
        (-6, 3.53, -6.04),
        (-10, 2.39, -3.30),
        (-12, 1.95, -2.51),
        (-15, 1.42, -1.70),
        (-20, 0.83, -0.92),
        (-30, 0.27, -0.28),
        (-40, 0.09, -0.09),
    ],
)
def test_ripple_of_a_quieter_copy(copy: float, peak: float, notch: float) -> None:
    """Everest & Pohlmann, Master Handbook of Acoustics, chapter on comb filters; 20 log10(1 ± g)."""
    assert comb.ripple_db(copy) == pytest.approx((peak, notch), abs=0.006)


def test_equal_copies_cancel() -> None:
    peak, notch = comb.ripple_db(0.0)
    assert peak == pytest.approx(6.0206, abs=1e-4)
    assert notch == -200.0


@pytest.mark.parametrize(("delay_ms", "first"), [(1.0, 500.0), (0.5, 1000.0), (5.0, 100.0)])
def test_first_notch(delay_ms: float, first: float) -> None:
    """f = 1/(2t), spaced 1/t (Everest & Pohlmann)."""
    found = comb.notches_hz(delay_ms / 1000, 20000.0)
    assert found[0] == pytest.approx(first)
    assert np.diff(found) == pytest.approx(np.full(found.size - 1, 1000 / delay_ms))
    assert found[-1] <= 20000.0 < found[-1] + 1000 / delay_ms
    assert comb.notches_hz(delay_ms / 1000, 20000.0, inverted=True)[:2] == pytest.approx([0.0, 2 * first])


@given(st.floats(-40.0, -0.1), st.floats(0.0001, 0.02), st.booleans())
@settings(deadline=None)
def test_ripple_and_notches_agree_with_the_response(copy: float, delay: float, inverted: bool) -> None:
    peak, notch = comb.ripple_db(copy)
    at = comb.notches_hz(delay, 20000.0, inverted=inverted)
    in_db = 20 * np.log10(np.abs(comb.response(at, delay, copy, inverted=inverted)))
    assert in_db == pytest.approx(np.full(at.size, notch), abs=1e-6)
    everywhere = 20 * np.log10(np.abs(comb.response(np.linspace(0, 20000, 500), delay, copy)))
    assert everywhere.max() <= peak + 1e-9
    assert everywhere.min() >= notch - 1e-9


def test_no_delay_has_no_notches() -> None:
    assert comb.notches_hz(0.0).size == 0
    assert comb.notches_hz(1e-5, 20000.0).size == 0
