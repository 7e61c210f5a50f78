"""How well strokes lie on a grid.

Source: vector strength (Goldberg & Brown, J. Neurophysiol. 32, 1969); of Gaussian jitter of deviation s about places T
apart it is exp(−(2 π s / T)² / 2), the characteristic function of the normal distribution.
"""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.pulse import pulse, ratios


@pytest.mark.parametrize("jitter", [0.0, 0.02, 0.05])
def test_jitter_takes_off_what_theory_says(jitter: float) -> None:
    random = np.random.default_rng(3)
    beats = np.arange(0.0, 400.0, 0.5) + jitter * random.standard_normal(800)
    found = float(pulse(beats, np.ones(beats.size), np.array([1.0]))[0])
    assert found == pytest.approx(float(np.exp(-0.5 * (2.0 * np.pi * jitter / 0.5) ** 2)), abs=0.04)


@pytest.mark.parametrize("fast", [0.919, 0.982, 1.0, 1.0884])
def test_the_tempo_is_where_the_strength_is_highest(fast: float) -> None:
    beats = np.arange(0.0, 64.0, 0.5) / fast
    tried = ratios(64.0)
    found = pulse(beats, np.ones(beats.size), tried)
    assert float(tried[int(found.argmax())]) == pytest.approx(fast, rel=2e-3)
    assert float(found.max()) > 0.98


def test_strokes_anywhere_lie_on_no_grid() -> None:
    beats = np.sort(np.random.default_rng(5).uniform(0.0, 100.0, 400))
    assert float(pulse(beats, np.ones(400), ratios(100.0)).max()) < 0.25
    assert not pulse(beats, np.zeros(400), ratios(100.0)).any()
