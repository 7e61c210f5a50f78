"""Runs of equal samples are found as in the whole file, however it is cut into blocks."""

from __future__ import annotations

from itertools import groupby

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.media.runs import CLIP_LEVEL, LegRuns, RunFinder

# Few values, so that runs are common: silence, quiet, nearly full and full scale.
VALUES = st.sampled_from([0.0, 0.25, -0.25, 0.97, 1.0, -1.0])
PIECES = st.lists(st.tuples(VALUES, st.integers(1, 40)), max_size=25)
CUTS = st.lists(st.integers(1, 60), min_size=1, max_size=12)


def plain_runs(samples: list[float]) -> list[tuple[int, int, float]]:
    """Start, length and value of every run of equal samples, by the standard library."""
    out, at = [], 0
    for value, same in groupby(samples):
        length = len(list(same))
        out.append((at, length, value))
        at += length
    return out


def pieces_of(samples: np.ndarray, cuts: list[int]) -> list[tuple[int, np.ndarray]]:
    out, at, turn = [], 0, 0
    while at < samples.size:
        out.append((at, samples[at : at + cuts[turn % len(cuts)]]))
        at += cuts[turn % len(cuts)]
        turn += 1
    return out


@settings(deadline=None)
@given(PIECES, CUTS)
def test_leg_runs_equal_those_of_the_whole_file(pieces: list[tuple[float, int]], cuts: list[int]) -> None:
    samples = [value for value, length in pieces for _ in range(length)]
    runs = LegRuns()
    for offset, part in pieces_of(np.array(samples, np.float32), cuts):
        runs.feed(part, offset)
    runs.finish(len(samples))
    plain = plain_runs(samples)
    clipped = [(start, length, abs(value)) for start, length, value in plain if abs(value) > 0.966 and length >= 3]
    assert [(a, b, round(c, 3)) for a, b, c in runs.clipped] == clipped
    assert runs.clipped_count == len(clipped)
    zeros = [(start, start + length) for start, length, value in plain if value == 0.0 and length >= 32]
    assert runs.zeros == [one for one in zeros if one[1] < len(samples)]
    top, bottom = max(samples, default=0.0), min(samples, default=0.0)
    extremes = ({top} if top > 0.0 else set()) | ({bottom} if bottom < 0.0 else set())
    assert runs.flat_tops == sum(1 for _, length, value in plain if value in extremes and length >= 4)


@given(st.lists(st.booleans(), max_size=200), CUTS)
def test_stretches_of_a_mask_equal_those_of_the_whole(flags: list[bool], cuts: list[int]) -> None:
    finder = RunFinder()
    found: list[tuple[int, int]] = []
    for offset, part in pieces_of(np.array(flags, bool), cuts):
        starts, ends = finder.feed(part, offset)
        found += zip(starts.tolist(), ends.tolist(), strict=True)
    last = finder.finish(len(flags))
    found += [last] if last else []
    at, wanted = 0, []
    for value, same in groupby(flags):
        length = len(list(same))
        wanted += [(at, at + length)] if value else []
        at += length
    assert found == wanted


def test_the_clip_level_is_three_tenths_of_a_decibel_down() -> None:
    """Common practice, no source; 10^(−0.3/20) = 0.96605."""
    assert abs(CLIP_LEVEL - 0.96605) < 1e-5
