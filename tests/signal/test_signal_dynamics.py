"""The gain computer and its times against the formulas of Giannoulis, Massberg & Reiss (JAES 60(6), 2012)."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.signal.dynamics import expansion_db, gain_change_db, smoothed

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
        levels = np.array([edge - 1e-7, edge + 1e-7])
        around = levels + gain_change_db(levels, threshold, ratio, knee)
        assert abs(around[1] - around[0]) < 1e-6


def test_a_limiter_holds_its_threshold() -> None:
    """The ratio ∞:1 of Giannoulis et al. 2012: what lies over the threshold comes out at it."""
    levels = [-20.0, -3.0, 0.0, 12.0]
    assert levels + gain_change_db(levels, -3.0, math.inf) == pytest.approx([-20.0, -3.0, -3.0, -3.0])


@pytest.mark.parametrize(
    ("ratio", "most", "expected"),
    [(2.0, 60.0, [0, 0, 1, 10, 40]), (4.0, 25.0, [0, 0, 3, 25, 25]), (math.inf, 18.0, [0, 0, 18, 18, 18])],
)
def test_an_expander_takes_more_the_further_a_level_lies_under_its_threshold(ratio, most, expected) -> None:
    """(R − 1)(T − x) for x under T, up to the range; a gate takes all of it (by the definition of 1:R)."""
    levels = [-10.0, -20.0, -21.0, -30.0, -60.0]
    assert expansion_db(levels, -20.0, ratio, most) == pytest.approx(expected)
    with pytest.raises(ValueError, match="range"):
        expansion_db(levels, -20.0, ratio, -1.0)


def test_impossible_settings_are_refused() -> None:
    with pytest.raises(ValueError, match="ratio"):
        gain_change_db(-10.0, -20.0, 0.5)
    with pytest.raises(ValueError, match="knee"):
        gain_change_db(-10.0, -20.0, 2.0, -1.0)
    with pytest.raises(ValueError, match="numbers"):
        gain_change_db(math.nan, -20.0, 2.0)


def branching(asked: np.ndarray, attack_s: float, release_s: float, fs: float) -> np.ndarray:
    """The smooth branching detector as published (Giannoulis et al. 2012, eq. 17), value by value.

    y[n] = αA y[n−1] + (1 − αA) x[n] for x[n] > y[n−1], else αR y[n−1] + (1 − αR) x[n], with α = exp(−1/(τ fs)).
    """
    alpha_a, alpha_r = math.exp(-1.0 / (attack_s * fs)), math.exp(-1.0 / (release_s * fs))
    found = np.zeros(asked.size)
    before = 0.0
    for n, x in enumerate(asked):
        before = alpha_a * before + (1 - alpha_a) * x if x > before else alpha_r * before + (1 - alpha_r) * x
        found[n] = before
    return found


@pytest.mark.parametrize(("attack", "release"), [(0.001, 0.05), (0.01, 0.1), (0.03, 0.3)])
def test_times_even_the_reduction_out_as_published(attack: float, release: float) -> None:
    asked = np.maximum(0.0, np.random.default_rng(1).normal(3.0, 6.0, 4000))
    assert smoothed(asked, attack, release, 1 / 12_000) == pytest.approx(branching(asked, attack, release, 12_000))


def test_a_step_reaches_its_share_after_one_time_constant() -> None:
    """1 − 1/e of a step of 10 dB after the attack time, 1/e of it after the release time."""
    fs = 10_000
    held = smoothed(np.r_[np.full(fs, 10.0), np.zeros(fs)], 0.02, 0.2, 1 / fs)
    assert held[round(0.02 * fs) - 1] == pytest.approx(10.0 * (1 - 1 / math.e), rel=1e-6)
    assert held[fs - 1 + round(0.2 * fs)] == pytest.approx(10.0 / math.e, rel=1e-6)


def test_no_time_follows_at_once() -> None:
    asked = np.array([0.0, 5.0, 2.0, 7.0, 0.0])
    assert smoothed(asked, 0.0, 0.0, 1e-3) == pytest.approx(asked)
    with pytest.raises(ValueError, match="times"):
        smoothed(asked, -1.0, 0.1, 1e-3)
