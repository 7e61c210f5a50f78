"""Deconvolution gives a known response back, made with scipy.signal.fftconvolve."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal as oracle

from mixlint.signal.deconvolution import deconvolve, fast_length

FS = 48000


def test_deconvolution_gives_the_response_back() -> None:
    """White noise through taps put in by scipy: the same taps come out."""
    noise = np.random.default_rng(5).normal(size=4 * FS)
    hall = np.zeros(2000)
    hall[[0, 300, 1111]] = [0.25, -0.5, 0.125]
    response = deconvolve(noise, oracle.fftconvolve(noise, hall)[: noise.size], FS)
    assert response.taps[:2000] == pytest.approx(hall, abs=0.01)
    assert response.bandwidth_hz == pytest.approx(FS / 2, rel=0.01)


@given(st.integers(1, 5_000_000))
@settings(deadline=None)
def test_fast_length(n: int) -> None:
    size = fast_length(n)
    assert n <= size <= max(2 * n, 2)
    while size % 2 == 0:
        size //= 2
    assert size in (1, 3, 5)


def test_signals_that_do_not_go_together_are_refused() -> None:
    with pytest.raises(ValueError, match="one length"):
        deconvolve(np.ones(5), np.ones(6), FS)
    with pytest.raises(ValueError, match="silent"):
        deconvolve(np.zeros(5), np.ones(5), FS)
