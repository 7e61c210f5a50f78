"""Energy in octave bands, for long-term spectra.

Bands are those of IEC 61260-1:2014 with the base-ten octave ratio 10^(3/10): exact mid-band frequencies
1000 · 10^(3k/10) Hz, edges half an octave ratio to either side. The lowest band takes in all that lies below it, the
highest all that lies above, so that the bands add up to the whole.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal import biquad
from mixlint.signal.k_weighting import sections

Floats = NDArray[np.float64]

CENTRES_HZ: Final[Floats] = np.asarray(1000.0 * 10.0 ** (0.3 * np.arange(-5, 5)), dtype=np.float64)
"""The exact mid-band frequencies of ten octaves, 31.6 Hz to 15.8 kHz."""

EDGES_HZ: Final[Floats] = CENTRES_HZ[1:] / 10.0**0.15
"""The edges between them, (9,)."""


SPECTRUM_HZ: Final = 100.0
"""The width of a band of the finer spectrum."""

LINES: Final = slice(3, 8)
"""The bands in which the strongest line is kept of every frame, 251 Hz to 3981 Hz: where microphones howl."""


def k_weights(at_hz: ArrayLike, fs: float = 48_000.0) -> Floats:
    """The power gain of the K-weighting filter of ITU-R BS.1770-5 at frequencies (…) in Hz."""
    at = np.asarray(at_hz, dtype=np.float64)
    return np.asarray(np.abs(biquad.response(sections(fs), at, fs)) ** 2)


class OctaveMeter:
    """K-weighted energy in octave bands of samples that come in pieces, by averaged periodograms.

    Frames of a tenth of a second or so follow each other under a Hann window (Bartlett's method with a window; Welch's
    overlap would cost as much again, for a spectrum of a whole file that hardly differs). Half a frame of silence
    stands before the first, so that an attack at the very beginning is seen whole.

    Args:
        legs: number of legs.
        fs: sample rate in Hz, 1000 or more.
        size: samples in a frame, 2 or more.
    """

    def __init__(self, legs: int, fs: float, size: int) -> None:
        self._frame = 2 * (size // 2)
        self._window = np.hanning(self._frame + 1)[:-1].astype(np.float32)
        self._power = np.zeros((legs, self._frame // 2 + 1))
        self._left = np.zeros((legs, self._frame // 2), dtype=np.float32)
        self._fs, self._samples = fs, 0
        bins = np.fft.rfftfreq(self._frame, 1.0 / fs)
        self._edges = np.minimum(np.searchsorted(bins, np.concatenate(([0.0], EDGES_HZ))), bins.size - 1)
        self._course: list[Floats] = []
        self._lines: list[Floats] = []

    def feed(self, samples: NDArray[np.floating]) -> None:
        """Take the next samples (legs, n)."""
        self._samples += samples.shape[1]
        self._take(np.concatenate((self._left, samples), axis=1))

    def _take(self, samples: NDArray[np.floating]) -> None:
        """Add the frames that are complete, and keep what is left."""
        count = samples.shape[1] // self._frame
        together: NDArray[np.floating] | None = None
        for leg, row in enumerate(samples if count else ()):
            spectrum = np.fft.rfft(row[: count * self._frame].reshape(count, -1) * self._window, axis=1)
            power = spectrum.real**2 + spectrum.imag**2
            self._power[leg] += power.sum(axis=0, dtype=np.float64)
            together = power if together is None else together + power
        if together is not None:
            self._follow(together / len(samples))
        self._left = samples[:, count * self._frame :].copy()

    def _follow(self, power: NDArray[np.floating]) -> None:
        """What each of some frames holds: its bands, and the strongest line in some of them."""
        scale = 2.0 / (self._frame * float((self._window.astype(np.float64) ** 2).sum()))
        self._course.append(np.add.reduceat(power, self._edges, axis=1).astype(np.float64) * scale)
        edges = self._edges[LINES.start : LINES.stop + 1].tolist()
        at = np.stack([low + power[:, low : max(high, low + 1)].argmax(axis=1) for low, high in pairwise(edges)])
        rows = np.arange(len(power))
        here = np.clip(at, 1, power.shape[1] - 2)
        low, mid, high = (np.log(power[rows, here + by].astype(np.float64) + 1e-30) for by in (-1, 0, 1))
        bend = low - 2.0 * mid + high
        between = np.where(bend < 0.0, np.clip(0.5 * (low - high) / np.where(bend < 0.0, bend, -1.0), -0.5, 0.5), 0.0)
        level = sum(power[rows, here + by].astype(np.float64) for by in (-1, 0, 1)) * scale
        self._lines.append(np.stack([(here + between) * self._fs / self._frame, level]))

    def course(self) -> Floats:
        """(bands, frames) mean square of all legs in each band, unweighted, frame by frame; after :meth:`finish`.

        The middle of each frame lies where a tenth of a second begins.
        """
        return np.concatenate(self._course).T if self._course else np.zeros((len(CENTRES_HZ), 0))

    def lines(self) -> Floats:
        """(2, 5, frames) Hz and mean square of the strongest line in each band of :data:`LINES`; after finish."""
        count = LINES.stop - LINES.start
        return np.concatenate(self._lines, axis=2) if self._lines else np.zeros((2, count, 0))

    def finish(self) -> Floats:
        """The mean square of each leg in each band, (legs, bands); zeros where nothing came."""
        frame = self._frame
        self._take(np.concatenate((self._left, np.zeros((self._left.shape[0], frame), dtype=np.float32)), axis=1))
        bins = np.fft.rfftfreq(frame, 1.0 / self._fs)
        twice = np.full(bins.shape, 2.0)  # for the half of the spectrum that rfft leaves out
        twice[[0, -1]] = 1.0
        taken = float((self._window.astype(np.float64) ** 2).sum())
        power = self._power * (twice * k_weights(bins, self._fs) / (taken * max(self._samples, 1)))
        starts = np.searchsorted(bins, EDGES_HZ)
        edges = [0, *(int(start) for start in starts), bins.size]
        return np.stack([power[:, a:b].sum(axis=1) for a, b in pairwise(edges)], axis=1)

    def spectrum(self) -> Floats:
        """The mean square of all legs in bands of 100 Hz from 0 up to half the rate, (bands,); after :meth:`finish`."""
        bins = np.fft.rfftfreq(self._frame, 1.0 / self._fs)
        taken = float((self._window.astype(np.float64) ** 2).sum())
        power = self._power.mean(axis=0) * (2.0 / (taken * max(self._samples, 1)))
        starts = np.searchsorted(bins, np.arange(0.0, self._fs / 2.0 - 50.0, SPECTRUM_HZ))
        return np.asarray(np.add.reduceat(power, starts), dtype=np.float64)
