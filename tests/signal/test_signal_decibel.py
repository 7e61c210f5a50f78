"""Levels and their sums against textbook arithmetic."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.signal.decibel import (
    coherent_sum_db,
    db_to_power,
    power_sum_db,
    power_to_db,
    to_amplitude,
    to_db,
)


def test_definition_of_the_decibel() -> None:
    """20 log10 for amplitudes, 10 log10 for powers (IEC 60027-3)."""
    assert to_db(1.0) == 0.0
    assert to_db(10.0) == pytest.approx(20.0)
    assert to_db(-0.5) == pytest.approx(20 * math.log10(0.5))
    assert power_to_db(0.5) == pytest.approx(-3.0103, abs=1e-4)
    assert to_amplitude(-6.0) == pytest.approx(0.501187, abs=1e-6)
    assert db_to_power(-3.0) == pytest.approx(0.501187, abs=1e-6)


def test_silence_is_a_floor_and_not_minus_infinity() -> None:
    assert to_db(0.0) == -200.0
    assert to_db(1e-30) == -200.0
    assert power_to_db(0.0) == -200.0
    assert power_to_db(-1e-18) == -200.0
    assert to_amplitude(-200.0) == 0.0
    assert to_amplitude(-1000.0) == 0.0
    assert db_to_power(-200.0) == 0.0
    assert coherent_sum_db([]) == -200.0
    assert power_sum_db([-200.0, -200.0]) == -200.0


def test_scalars_give_floats_and_arrays_keep_their_shape() -> None:
    assert isinstance(to_db(0.25), float)
    assert isinstance(to_amplitude(-3.0), float)
    shaped = to_db(np.ones((2, 3)))
    assert isinstance(shaped, np.ndarray)
    assert shaped.shape == (2, 3)
    assert to_amplitude(np.zeros((4, 1))).shape == (4, 1)
    assert to_db([1.0, 0.1]).tolist() == pytest.approx([0.0, -20.0])


@pytest.mark.parametrize("bad", [math.inf, -math.inf, math.nan])
def test_what_is_not_finite_is_refused(bad: float) -> None:
    for function in (to_db, to_amplitude, power_to_db, db_to_power):
        with pytest.raises(ValueError, match="finite"):
            function(bad)


@pytest.mark.parametrize(
    ("n", "coherent", "unrelated"), [(2, 6.02, 3.01), (3, 9.54, 4.77), (4, 12.04, 6.02), (8, 18.06, 9.03)]
)
def test_equal_levels(n: int, coherent: float, unrelated: float) -> None:
    """+20 log10 n and +10 log10 n, as in acoustics texts."""
    assert coherent_sum_db([-12.0] * n) == pytest.approx(-12.0 + coherent, abs=0.005)
    assert power_sum_db([-12.0] * n) == pytest.approx(-12.0 + unrelated, abs=0.005)


def test_worked_examples() -> None:
    """Lecture slides of the University of Parma; Davis & Patronis, Sound System Engineering, eq. 2.30 to 2.33."""
    assert power_sum_db([80.0, 85.0]) == pytest.approx(86.2, abs=0.05)
    assert coherent_sum_db([80.0, 85.0]) == pytest.approx(88.9, abs=0.05)
    assert power_sum_db([80.0, 80.0]) == pytest.approx(83.0, abs=0.05)
    assert coherent_sum_db([80.0, 80.0]) == pytest.approx(86.0, abs=0.05)
    assert power_sum_db([90.0, 96.0]) == pytest.approx(97.0, abs=0.05)


@given(st.floats(-199.0, 60.0))
@settings(deadline=None)
def test_there_and_back(level: float) -> None:
    assert to_db(to_amplitude(level)) == pytest.approx(level, abs=1e-9)
    assert power_to_db(db_to_power(level)) == pytest.approx(level, abs=1e-9)


@given(st.lists(st.floats(-150.0, 20.0), min_size=1, max_size=12))
@settings(deadline=None)
def test_a_sum_lies_between_its_loudest_part_and_the_coherent_sum(levels: list[float]) -> None:
    assert max(levels) - 1e-9 <= power_sum_db(levels) <= coherent_sum_db(levels) + 1e-9
