"""On which side a pair of microphones hears what another microphone stands close to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

LOWEST_HZ: Final = 100.0
HIGHEST_HZ: Final = 8000.0
SMOOTH_HZ: Final = 100.0
"""Spectral envelopes are taken out over this width, so that no resonance decides."""

EARLIEST_S: Final = 0.003
LATEST_S: Final = 0.024
"""The sound reaches the pair between these times before and after the close microphone: up to 8 m of air."""


class Heard(NamedTuple):
    """How a pair hears a source.

    Args:
        left_over_right_db: how much more of it is in the left microphone than in the right.
        stands_out: how far it stands out there, in times the root mean square of the rest; the smaller.
    """

    left_over_right_db: float
    stands_out: float


def heard_in(looks: Sequence[tuple[Floats, Floats, Floats]], fs: float) -> Heard:
    """How a pair hears a source at moments when its close microphone has it alone.

    Args:
        looks: samples (n,) of the close microphone, of the left and of the right one, each moment.
        fs: sample rate of all, Hz.

    The correlations of the close microphone with each of the two, spectral envelopes taken out (of the pair: that of
    both together, so that their balance stays), are added up over the moments; an arrival is their highest point.
    """
    total = np.zeros((2, 0))
    for close, *pair in looks:
        size = 1 << (2 * close.size - 1).bit_length()
        hz = np.arange(size // 2 + 1) * fs / size
        heard = (hz > LOWEST_HZ) & (hz < HIGHEST_HZ)
        width = max(3, int(SMOOTH_HZ * size / fs))
        spectrum = np.fft.rfft(close, size)
        flat = np.where(heard, spectrum / _envelope(np.abs(spectrum) ** 2, width), 0.0)
        legs = [np.fft.rfft(leg, size) for leg in pair]
        both = _envelope(sum((np.abs(leg) ** 2 for leg in legs), np.zeros(hz.size)), width)
        early, late = round(EARLIEST_S * fs), round(LATEST_S * fs)
        curves = []
        for leg in legs:
            curve = np.fft.irfft(np.conj(flat) * leg / both, size)
            curves.append(np.concatenate((curve[-early:], curve[:late])))
        share = np.array(curves) / np.sqrt((np.abs(flat) ** 2).sum() + 1e-30)
        total = share if total.shape[1] == 0 else total + share
    peaks = np.abs(total).max(axis=1, initial=0.0)
    usual = np.sqrt((total * total).mean(axis=1)) if total.shape[1] else np.ones(2)
    if not peaks.all():
        return Heard(0.0, 0.0)
    return Heard(20.0 * float(np.log10(peaks[0] / peaks[1])), float((peaks / usual).min()))


def _envelope(power: Floats, width: int) -> Floats:
    """The root of a power spectrum smoothed over ``width`` bins."""
    smooth = np.convolve(power, np.ones(width) / width, "same")
    return np.sqrt(smooth + 1e-12 * float(smooth.max(initial=0.0)) + 1e-30)
