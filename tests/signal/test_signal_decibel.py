"""Levels against textbook arithmetic."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.signal.decibel import power_to_db, to_amplitude, to_db


def test_definition_of_the_decibel() -> None:
    """20 log10 for amplitudes, 10 log10 for powers (IEC 60027-3)."""
    assert to_db(1.0) == 0.0
    assert to_db(10.0) == pytest.approx(20.0)
    assert to_db(-0.5) == pytest.approx(20 * math.log10(0.5))
    assert power_to_db(0.5) == pytest.approx(-3.0103, abs=1e-4)
    assert to_amplitude(-6.0) == pytest.approx(0.501187, abs=1e-6)


def test_silence_is_a_floor_and_not_minus_infinity() -> None:
    assert to_db(0.0) == -200.0
    assert to_db(1e-30) == -200.0
    assert power_to_db(0.0) == -200.0
    assert power_to_db(-1e-18) == -200.0
    assert to_amplitude(-200.0) == 0.0
    assert to_amplitude(-1000.0) == 0.0


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
    for function in (to_db, to_amplitude, power_to_db):
        with pytest.raises(ValueError, match="finite"):
            function(bad)


@given(st.floats(-199.0, 60.0))
@settings(deadline=None)
def test_there_and_back(level: float) -> None:
    assert to_db(to_amplitude(level)) == pytest.approx(level, abs=1e-9)
    assert power_to_db(10.0 ** (level / 10.0)) == pytest.approx(level, abs=1e-9)
