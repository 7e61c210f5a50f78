"""On which side a pair hears a source: known gains and delays of two legs (arithmetic)."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.image import heard_in

FS = 48_000.0
N = 9600


def looks(left_db: float, right_db: float, later: int, leak: float = 0.0) -> list:
    found = []
    for seed in range(6):
        random = np.random.default_rng(seed)
        close = random.standard_normal(N) * np.exp(-np.arange(N) / 2000.0)
        other = random.standard_normal((2, N))
        legs = [
            10.0 ** (gain / 20.0) * np.concatenate((np.zeros(delay), close[: N - delay]))
            for gain, delay in ((left_db, 200), (right_db, 200 + later))
        ]
        found.append((close, legs[0] + leak * other[0], legs[1] + leak * other[1]))
    return found


@pytest.mark.parametrize(("left_db", "right_db"), [(-6.0, -6.0), (-3.0, -9.0), (-14.0, -3.0)])
@pytest.mark.parametrize("later", [0, 30, 140])
def test_the_balance_is_that_of_the_gains(left_db: float, right_db: float, later: int) -> None:
    found = heard_in(looks(left_db, right_db, later), FS)
    assert found.left_over_right_db == pytest.approx(left_db - right_db, abs=0.5)
    assert found.stands_out > 8.0


def test_another_sound_in_the_pair_changes_little() -> None:
    found = heard_in(looks(-3.0, -9.0, 20, leak=0.05), FS)
    assert found.left_over_right_db == pytest.approx(6.0, abs=1.5)


def test_a_source_that_the_pair_does_not_hear_does_not_stand_out() -> None:
    silent = [
        (close, 0.1 * np.random.default_rng(9).standard_normal(N), right * 0.0 + 0.1)
        for close, _, right in looks(0, 0, 0)
    ]
    assert heard_in(silent, FS).stands_out < 6.0
    assert heard_in([(np.zeros(N), np.zeros(N), np.zeros(N))], FS).stands_out == 0.0
