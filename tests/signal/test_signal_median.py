"""The median against numpy's own, bit for bit."""

from __future__ import annotations

import numpy as np
import pytest

from mixlint.signal.median import Ordered, median


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


@pytest.mark.parametrize("count", [1, 2, 3, 8, 21, 200])
def test_with_some_left_out_as_numpy_has_the_rest(count: int) -> None:
    """numpy 2, ``np.median`` of the values that are left; values that occur several times among them."""
    random = np.random.default_rng(count)
    values = random.integers(-6, 6, count) / 2.0
    for out in range(count):
        places = random.permutation(count)
        left_out, rest = values[places[:out]], values[places[out:]]
        assert Ordered(values.tolist()).median_without(left_out.tolist()) == float(np.median(rest))


def test_with_all_left_out_there_is_none() -> None:
    assert Ordered([2.0, 1.0]).median_without([1.0, 2.0]) is None
    assert Ordered([]).median_without([]) is None


@pytest.mark.parametrize("left_out", [[3.0], [1.0, 1.0]])
def test_only_what_is_there_can_be_left_out(left_out: list[float]) -> None:
    with pytest.raises(ValueError, match="not among the values"):
        Ordered([1.0, 2.0]).median_without(left_out)


def test_no_values_have_none() -> None:
    """A made-up middle would be worse than an error."""
    with pytest.raises(ValueError, match="no values"):
        median([])
