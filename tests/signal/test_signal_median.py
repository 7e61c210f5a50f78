"""The median against numpy's own, bit for bit."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.median import median


@pytest.mark.parametrize("count", [1, 2, 3, 8, 21, 1000])
def test_as_numpy_has_it(count: int) -> None:
    """numpy 2, ``np.median``: odd and even counts, in any order."""
    values = np.random.default_rng(count).normal(0.0, 20.0, count)
    assert median(values) == float(np.median(values))


def test_the_values_are_left_as_they_are() -> None:
    """Sorting works on a copy."""
    values = np.array([3.0, 1.0, 2.0])
    assert median(values) == 2.0
    assert values.tolist() == [3.0, 1.0, 2.0]


def test_no_values_have_none() -> None:
    """A made-up middle would be worse than an error."""
    with pytest.raises(ValueError, match="no values"):
        median([])
