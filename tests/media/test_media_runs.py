"""Stretches are found as in the whole file, however it is cut into blocks."""

from __future__ import annotations

from itertools import groupby

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from mixlint.media.runs import RunFinder

CUTS = st.lists(st.integers(1, 60), min_size=1, max_size=12)


def pieces_of(samples: np.ndarray, cuts: list[int]) -> list[tuple[int, np.ndarray]]:
    out, at, turn = [], 0, 0
    while at < samples.size:
        out.append((at, samples[at : at + cuts[turn % len(cuts)]]))
        at += cuts[turn % len(cuts)]
        turn += 1
    return out


@given(st.lists(st.booleans(), max_size=200), CUTS)
def test_stretches_of_a_mask_equal_those_of_the_whole(flags: list[bool], cuts: list[int]) -> None:
    finder = RunFinder()
    found: list[tuple[int, int]] = []
    for offset, part in pieces_of(np.array(flags, bool), cuts):
        starts, ends = finder.feed(part, offset)
        found += zip(starts.tolist(), ends.tolist(), strict=True)
    found += [(finder.opened, len(flags))] if finder.opened is not None else []
    at, wanted = 0, []
    for value, same in groupby(flags):
        length = len(list(same))
        wanted += [(at, at + length)] if value else []
        at += length
    assert found == wanted
