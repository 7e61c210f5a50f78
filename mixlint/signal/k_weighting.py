"""K-weighting: the filter of ITU-R BS.1770-5, Annex 1, at any sample rate, for signals fed in pieces.

Tables 1 and 2 of the Recommendation give the two sections at 48 kHz. At other rates they are derived again, by the
bilinear transform of the analogue sections that reproduce the tables, so that the 48 kHz response is kept.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mixlint.signal import biquad
from mixlint.signal.deconvolution import fast_length

Floats = NDArray[np.float64]

TABLES_AT_48K: Final[Floats] = np.array(
    [
        [1.53512485958697, -2.69169618940638, 1.19839281085285, 1.0, -1.69065929318241, 0.73248077421585],
        [1.0, -2.0, 1.0, 1.0, -1.99004745483398, 0.99007225036621],
    ]
)
"""ITU-R BS.1770-5, Annex 1, Table 1 (shelf) and Table 2 (high-pass)."""

# The analogue sections that reproduce the two tables; derivation published with libebur128 (MIT).
_SHELF_HZ, _SHELF_DB, _SHELF_Q = 1681.974450955533, 3.999843853973347, 0.7071752369554196
_SHELF_MIDDLE = 0.4996667741545416
_HIGH_PASS_HZ, _HIGH_PASS_Q = 38.13547087602444, 0.5003270373238773

_HIGH_PASS_GAIN: Final = 4.0 / (1.0 + 1.99004745483398 + 0.99007225036621)
"""Gain of Table 2 far above its corner: its b is not normalised, and other rates keep that."""

_DECAY_S: Final = 0.15
"""After this time the impulse response has fallen by 280 dB."""

_LOWEST_RATE_HZ: Final = 1000.0
_TOO_LOW: Final = "loudness needs a sample rate of 1000 Hz or more"


def sections(fs: float) -> Floats:
    """The two sections at a sample rate, rows (2, 6): b0, b1, b2, 1, a1, a2; the tables themselves at 48 kHz.

    Below 3364 Hz the shelf lies beyond half the sample rate and is left out.

    Args:
        fs: sample rate in Hz, 1000 or more.

    Raises:
        ValueError: a lower sample rate.
    """
    if not _LOWEST_RATE_HZ <= fs < math.inf:
        raise ValueError(_TOO_LOW)
    if fs == 48000.0:
        return TABLES_AT_48K.copy()
    k = math.tan(math.pi * _HIGH_PASS_HZ / fs)
    a0 = 1.0 + k / _HIGH_PASS_Q + k * k
    # A bilinear high-pass of gain g has b = g/a0 (1, −2, 1).
    b = _HIGH_PASS_GAIN / a0
    high = [b, -2.0 * b, b, 1.0, 2.0 * (k * k - 1.0) / a0, (1.0 - k / _HIGH_PASS_Q + k * k) / a0]
    if fs / 2.0 <= _SHELF_HZ:
        return np.array([high])
    k = math.tan(math.pi * _SHELF_HZ / fs)
    a0 = 1.0 + k / _SHELF_Q + k * k
    top = 10.0 ** (_SHELF_DB / 20.0)
    middle = top**_SHELF_MIDDLE
    shelf = [
        (top + middle * k / _SHELF_Q + k * k) / a0,
        2.0 * (k * k - top) / a0,
        (top - middle * k / _SHELF_Q + k * k) / a0,
        1.0,
        2.0 * (k * k - 1.0) / a0,
        (1.0 - k / _SHELF_Q + k * k) / a0,
    ]
    return np.array([shelf, high])


class KWeighting:
    """The K-weighting filter for samples fed in pieces, by block FFT (overlap-save).

    What comes out, put together, is as long as what went in and lies on it sample by sample; how it was cut does not
    matter beyond rounding. ``float32`` in gives ``float32`` out (noise 140 dB below the loudest of a block), else
    ``float64``.

    Args:
        legs: number of legs.
        fs: sample rate in Hz.

    Raises:
        ValueError: no leg, or a sample rate under 1000 Hz.
    """

    def __init__(self, legs: int, fs: float) -> None:
        if legs < 1:
            raise ValueError("there must be a leg")
        self.legs = legs
        if not _LOWEST_RATE_HZ <= fs < math.inf:
            raise ValueError(_TOO_LOW)
        self._fs = float(fs)
        self._history = math.ceil(_DECAY_S * fs)
        self._size = 1 << max(14, (10 * self._history).bit_length())
        self._step = self._size - self._history
        self._dtype: np.dtype[np.floating] | None = None
        self._frame: NDArray[np.floating] = np.zeros((legs, 0))
        self._filled = 0

    def feed(self, samples: ArrayLike) -> NDArray[np.floating]:
        """Take the next samples (legs, n) and give those that are ready, (legs, m); m may be 0.

        Raises:
            ValueError: another number of legs, or a sample that is infinite or not a number.
        """
        block = np.asarray(samples)
        if block.ndim != 2 or block.shape[0] != self.legs:
            raise ValueError(f"samples must have the shape ({self.legs}, n)")
        if not np.isfinite(block).all():
            raise ValueError("samples must be finite numbers")
        if self._dtype is None:
            self._begin(block.dtype)
        ready: list[NDArray[np.floating]] = []
        at = 0
        while at < block.shape[1]:
            take = min(self._step - self._filled, block.shape[1] - at)
            start = self._history + self._filled
            self._frame[:, start : start + take] = block[:, at : at + take]
            self._filled += take
            at += take
            if self._filled == self._step:
                ready.append(self._weigh(self._step, self._size))
        return np.concatenate(ready, axis=1) if ready else np.zeros((self.legs, 0), dtype=self._dtype)

    def finish(self) -> NDArray[np.floating]:
        """The rest of the weighted samples, (legs, m)."""
        if self._filled == 0:
            return np.zeros((self.legs, 0), dtype=self._dtype)
        size = min(self._size, fast_length(self._history + self._filled))
        self._frame[:, self._history + self._filled : size] = 0.0
        return self._weigh(self._filled, size)

    def _begin(self, dtype: np.dtype[np.generic]) -> None:
        self._dtype = np.dtype(np.float32 if dtype == np.float32 else np.float64)
        self._frame = np.zeros((self.legs, self._size), dtype=self._dtype)

    def _weigh(self, count: int, size: int) -> NDArray[np.floating]:
        """The next ``count`` samples, weighted by transforms of a length of ``size``."""
        out = np.empty((self.legs, count), dtype=self._frame.dtype)
        response = _response(size, self._fs, self._dtype == np.float32)
        for leg in range(self.legs):  # leg by leg stays in the processor's cache
            spectrum = np.fft.rfft(self._frame[leg, :size])
            spectrum *= response
            out[leg] = np.fft.irfft(spectrum, size)[self._history : self._history + count]
        self._frame[:, : self._history] = self._frame[:, self._step : self._size].copy()
        self._filled = 0
        return out


@lru_cache(maxsize=8)
def _response(size: int, fs: float, single: bool) -> NDArray[np.complexfloating]:
    """The filter at the frequencies of a transform: the same for every stretch of one length."""
    full = biquad.response(sections(fs), np.fft.rfftfreq(size, 1.0 / fs), fs)
    made: NDArray[np.complexfloating] = full.astype(np.complex64) if single else full
    made.setflags(write=False)
    return made
