"""Runs of switches, counted by hand."""

from __future__ import annotations

from itertools import groupby

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.signal.runs import runs


@pytest.mark.parametrize(
    ("on", "expected"),
    [([], []), ([0, 0], []), ([1], [(0, 0)]), ([1, 1, 0, 1], [(0, 1), (3, 3)]), ([0, 1, 1], [(1, 2)])],
)
def test_each_run_is_told_by_its_first_and_last(on, expected):
    assert runs(np.array(on, dtype=bool)) == expected


@given(st.lists(st.booleans()))
def test_runs_are_those_that_the_standard_library_groups(on):
    at = [(key, [n for n, _ in group]) for key, group in groupby(enumerate(on), key=lambda pair: pair[1])]
    assert runs(np.array(on, dtype=bool)) == [(group[0], group[-1]) for key, group in at if key]
