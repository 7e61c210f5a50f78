"""Static curves and smoothing against the formulas of Giannoulis, Massberg & Reiss (JAES 60(6), 2012)."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal as oracle

from mixlint.signal.dynamics import (
    expander_change_db,
    gain_change_db,
    gain_reduction_db,
    gate_change_db,
    limiter_curve_db,
    limiting_needed_db,
    percentile,
    smooth,
    static_curve_db,
)

LEVELS = [-30, -25, -23, -20, -17, -15, -10, -6, 0]


@pytest.mark.parametrize(
    ("threshold", "ratio", "knee", "expected"),
    [
        (-20, 4, 0, [0, 0, 0, 0, -2.25, -3.75, -7.5, -10.5, -15.0]),
        (-20, 4, 6, [0, 0, 0, -0.5625, -2.25, -3.75, -7.5, -10.5, -15.0]),
        (-20, 2, 10, [0, 0, -0.1, -0.625, -1.6, -2.5, -5.0, -7.0, -10.0]),
        (-10, 20, 0, [0, 0, 0, 0, 0, 0, 0, -3.8, -9.5]),
    ],
)
def test_gain_computer(threshold: float, ratio: float, knee: float, expected: list[float]) -> None:
    """Values of the gain-computer equations of Giannoulis et al. 2012."""
    assert gain_change_db(LEVELS, threshold, ratio, knee) == pytest.approx(expected, abs=1e-9)
    output = static_curve_db(LEVELS, threshold, ratio, knee)
    assert output == pytest.approx(np.add(LEVELS, expected), abs=1e-9)


@given(st.floats(-100.0, 20.0), st.floats(-60.0, 0.0), st.floats(1.0, 100.0), st.floats(0.0, 40.0))
@settings(deadline=None)
def test_a_curve_never_boosts_and_a_soft_knee_lies_under_a_hard_one(
    level: float, threshold: float, ratio: float, knee: float
) -> None:
    soft = gain_change_db(level, threshold, ratio, knee)
    hard = gain_change_db(level, threshold, ratio)
    assert soft <= hard + 1e-9
    assert hard <= 0.0
    assert hard - soft <= (1 - 1 / ratio) * knee / 8 + 1e-9  # the most, at the threshold


@given(st.floats(-60.0, 0.0), st.floats(1.0, 100.0), st.floats(0.1, 40.0))
@settings(deadline=None)
def test_the_knee_joins_without_a_step(threshold: float, ratio: float, knee: float) -> None:
    for edge in (threshold - knee / 2, threshold + knee / 2):
        around = static_curve_db([edge - 1e-7, edge + 1e-7], threshold, ratio, knee)
        assert abs(around[1] - around[0]) < 1e-6
        around = expander_change_db([edge - 1e-7, edge + 1e-7], threshold, min(ratio, 10.0), -1000.0, knee)
        assert abs(around[1] - around[0]) < 1e-5


def test_limiter_holds_its_threshold() -> None:
    assert limiter_curve_db([-20.0, -3.0, 0.0, 12.0], -3.0) == pytest.approx([-20.0, -3.0, -3.0, -3.0])


def test_expander_and_gate() -> None:
    """The compressor's curve mirrored: 1:2 takes away the distance below the threshold once more."""
    assert expander_change_db([-60.0, -50.0, -40.0, -10.0], -40.0, 2.0) == pytest.approx([-20, -10, 0, 0])
    assert expander_change_db([-60.0, -50.0], -40.0, 2.0, -12.0) == pytest.approx([-12, -10])
    assert expander_change_db(-40.0, -40.0, 2.0, -60.0, 8.0) == pytest.approx(-1.0)  # (R − 1) W/8 at the threshold
    assert gate_change_db([-60.0, -40.0, -39.0], -40.0, -30.0) == pytest.approx([-30, 0, 0])
    assert gate_change_db(-60.0, -40.0, 30.0) == pytest.approx(-30.0)
    assert gate_change_db(-60.0, -40.0) == pytest.approx(-200.0)


def test_smoothing_reaches_63_percent_after_one_time_constant() -> None:
    """A one-pole step response: 1 − exp(−t/τ)."""
    steps = np.arange(1, 401) * 0.001
    attack = smooth(np.full(400, -10.0), 0.001, 0.05, 0.2)
    assert attack == pytest.approx(-10.0 * (1 - np.exp(-steps / 0.05)), abs=1e-9)
    release = smooth(np.concatenate([np.full(4000, -10.0), np.zeros(400)]), 0.001, 0.05, 0.2)[4000:]
    assert release == pytest.approx(-10.0 * np.exp(-steps / 0.2), abs=1e-6)


@given(st.lists(st.floats(-40.0, 0.0), min_size=1, max_size=60), st.floats(0.001, 1.0))
@settings(deadline=None)
def test_equal_times_are_a_plain_one_pole_filter(changes: list[float], tau: float) -> None:
    """scipy.signal.lfilter with b = 1 − α, a = 1, −α."""
    alpha = math.exp(-0.01 / tau)
    expected = oracle.lfilter([1 - alpha], [1, -alpha], changes)
    assert smooth(changes, 0.01, tau, tau) == pytest.approx(expected, abs=1e-9)


def test_gain_reduction_on_an_envelope() -> None:
    """With no times it is the static curve; with times it lags it and never exceeds its largest value."""
    envelope = np.array([-40.0, -10.0, -10.0, -40.0, -40.0])
    assert gain_reduction_db(envelope, 0.1, -20.0, 4.0) == pytest.approx([0, 7.5, 7.5, 0, 0])
    lagging = gain_reduction_db(envelope, 0.1, -20.0, 4.0, 0.0, 0.1, 0.3)
    assert lagging[1] == pytest.approx(7.5 * (1 - math.exp(-1)))
    assert 0 < lagging[4] < lagging[3] < lagging[2] < 7.5


def test_percentile_is_the_nearest_rank() -> None:
    """Position round((n − 1) p/100) of the sorted values, as in EBU Tech 3342's note on its computation."""
    values = [5.0, 1.0, 4.0, 2.0, 3.0]
    assert [percentile(values, p) for p in (0, 10, 50, 95, 100)] == [1.0, 1.0, 3.0, 5.0, 5.0]
    with pytest.raises(ValueError, match="percentile"):
        percentile([], 50)


def test_limiting_needed_for_a_loudness() -> None:
    """Worked example: −20 LUFS and −2 dBTP brought to −14 under −1 dBTP needs 5 dB; a PLR of 13 needs none."""
    assert limiting_needed_db(-2.0, -20.0, -14.0, -1.0) == pytest.approx(5.0)
    assert limiting_needed_db(-7.0, -20.0, -14.0, -1.0) == 0.0


def test_impossible_settings_are_refused() -> None:
    with pytest.raises(ValueError, match="ratio"):
        gain_change_db(-10.0, -20.0, 0.5)
    with pytest.raises(ValueError, match="knee"):
        gain_change_db(-10.0, -20.0, 2.0, -1.0)
    with pytest.raises(ValueError, match="numbers"):
        gain_change_db(math.nan, -20.0, 2.0)
    with pytest.raises(ValueError, match="step"):
        smooth([0.0], 0.0, 0.1, 0.1)
