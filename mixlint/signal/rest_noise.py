"""What is left in the rests: a floor of noise, and the hum of the mains in it."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

MAINS_HZ: Final = (50.0, 60.0)
HARMONICS: Final = 8
OFF: Final = 0.006
"""How far a line may lie from a multiple of the mains: half a percent, and the width of the window."""

STANDS_OUT: Final = 8.0
"""How many times more power than beside it makes a line, 9 dB."""

LEAST_LINES: Final = 3
STEADY: Final = 1.2
"""Hum goes on as it is: the last third of a rest is as loud as the first within 0.8 dB, which no dying note is."""

LEAST_STEADY: Final = 2
"""So many rests have to be as steady; where there is but one, that one."""


class RestNoise(NamedTuple):
    """The noise in stretches without music.

    Args:
        power: its mean square, the hum taken out.
        hum: the mean square of the hum; 0 where there is none.
        hum_hz: 50 or 60; 0 where there is none.
        flat: the spectral flatness between 200 Hz and 8 kHz, 0 to 1: 0.5 and more for noise, near 0 for tones.
    """

    power: float
    hum: float
    hum_hz: float
    flat: float


def rest_noise(rests: NDArray[np.float32], fs: float) -> RestNoise:
    """The noise in equally long stretches (count, n) of one leg."""
    rests = rests - rests.mean(axis=1, keepdims=True)  # a sound that does not stand on zero is no noisier for it
    long = rests.shape[1]
    third = long // 3
    ends = [np.einsum("rn,rn->r", part, part, dtype=np.float64) for part in (rests[:, :third], rests[:, -third:])]
    even = np.maximum(*ends) <= STEADY * np.maximum(np.minimum(*ends), 1e-30)
    steady = int(even.sum()) >= min(LEAST_STEADY, even.size)
    if steady:  # a rest into which a note still dies away tells nothing that the others do not
        rests = rests[even]
    window = np.hanning(long)
    spectra = np.abs(np.fft.rfft(rests * window, axis=1)) ** 2
    # Of several rests the median: a foot on the floor in one of them is no noise.
    power = np.median(spectra, axis=0) if rests.shape[0] > 2 else spectra.mean(axis=0)
    power *= 2.0 / (long * float((window * window).sum()))
    width = fs / long
    hum, hum_hz = 0.0, 0.0
    taken = np.zeros(power.size, np.bool_)
    for mains in MAINS_HZ if steady else ():
        lines, bins = 0, np.zeros(power.size, np.bool_)
        for harmonic in range(1, HARMONICS + 1):
            centre = harmonic * mains / width
            reach = max(2, round(OFF * centre) + 2)
            low, high = round(centre) - reach, round(centre) + reach + 1
            if high + 2 * reach >= power.size or low - 2 * reach < 0:
                continue
            peak = low + int(power[low:high].argmax())
            beside = np.concatenate((power[low - 2 * reach : low], power[high : high + 2 * reach]))
            exact = _between_bins(power, peak)
            if power[peak] >= STANDS_OUT * float(np.median(beside)) and abs(exact - centre) <= max(0.35, OFF * centre):
                lines += 1
                bins[max(0, peak - 2) : peak + 3] = True
        found = float(power[bins].sum())
        if lines >= LEAST_LINES and found > hum:
            hum, hum_hz, taken = found, mains, bins
    low, high = round(200.0 / width), min(power.size, round(8000.0 / width))
    body = power[low:high][~taken[low:high]] + 1e-30
    flat = float(np.exp(np.log(body).mean()) / body.mean()) if body.size else 0.0
    return RestNoise(max(0.0, float(power.sum()) - hum), hum, hum_hz, flat)


def _between_bins(power: NDArray[np.float64], peak: int) -> float:
    """Where a line lies between bins, by the parabola through the logarithms of three (Hann window)."""
    if not 0 < peak < power.size - 1:
        return float(peak)
    a, b, c = np.log(power[peak - 1 : peak + 2] + 1e-30)
    bend = a - 2.0 * b + c
    return peak + float(0.5 * (a - c) / bend) if bend else float(peak)
