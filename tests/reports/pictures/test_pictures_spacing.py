"""Labels kept apart and lines made simpler."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from mixlint.reports.pictures.spacing import apart, straightened

WISHES = st.lists(st.floats(-500, 500), max_size=40).map(sorted)


@given(WISHES, st.floats(1, 40))
def test_places_are_apart_and_nearest_to_the_wishes(wishes: list[float], pitch: float) -> None:
    """scipy.optimize.isotonic_regression on the wishes less their row."""
    found = apart(wishes, pitch)
    assert all(b - a >= pitch - 1e-6 for a, b in zip(found, found[1:], strict=False))
    if wishes:
        rows = np.arange(len(wishes)) * pitch
        assert np.allclose(found, isotonic_regression(np.array(wishes) - rows).x + rows)


@given(WISHES, st.floats(1, 20))
def test_places_keep_to_their_bounds_where_there_is_room(wishes: list[float], pitch: float) -> None:
    found = apart(wishes, pitch, 10.0, 10.0 + pitch * len(wishes))
    assert all(b - a >= pitch - 1e-6 for a, b in zip(found, found[1:], strict=False))
    assert all(10.0 - 1e-6 <= one <= 10.0 + pitch * len(wishes) + 1e-6 for one in found)


@given(st.lists(st.floats(-100, 100), min_size=2, max_size=60), st.floats(0.1, 20))
def test_a_straightened_line_keeps_near_to_all_its_points(heights: list[float], within: float) -> None:
    """Between the points that are kept the others lie no further off than asked for (numpy.interp)."""
    points = [(float(x), y) for x, y in enumerate(heights)]
    kept = straightened(points, within)
    assert {points[0], points[-1]} <= set(kept) <= set(points)
    line = np.interp([x for x, _ in points], *zip(*kept, strict=True))
    assert np.all(np.abs(line - np.array(heights)) <= within + 1e-9)
