"""Averaged spectra of two signals laid over each other at a delay: coherence by octave, and what they add up to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

WINDOW_S: Final = 0.085
"""Long enough for the first reflections and the response of a loudspeaker box, short enough for many of them."""

LOW_HZ: Final = (35.0, 250.0)
"""The low end, in which two microphones on a drum add up or cancel."""

_EDGES_HZ: Final = tuple(1000.0 * 2.0 ** (n - 0.5) for n in range(-4, 4))
_FILLED: Final = 10.0**-4.5
"""An octave that lies further under the strongest holds next to nothing of the instrument."""


@dataclass(frozen=True, slots=True, eq=False)
class Shared:
    """Spectra averaged over windows (Welch) of two signals, the second brought forward by a whole number of samples.

    Args:
        hz: (F,) frequencies.
        cross: (F,) mean of conj(first) times second.
        one, other: (F,) mean powers.
        windows: over how many.
        size: the length of the transform, twice that of a window.
        fs: sample rate, Hz.
    """

    hz: Floats
    cross: NDArray[np.complex128]
    one: Floats
    other: Floats
    windows: int
    size: int
    fs: float

    def coherence(self) -> Floats:
        """(F,) magnitude-squared coherence; zero where one of the two holds next to nothing."""
        heard = (self.one > 1e-8 * self.one.max(initial=0.0)) & (self.other > 1e-8 * self.other.max(initial=0.0))
        both = np.where(heard, self.one * self.other, 1.0)
        return np.where(heard, np.abs(self.cross) ** 2 / both, 0.0)

    def _weight(self) -> Floats:
        # Unrelated signals have a coherence of one over the number of windows, and some bins several times that.
        return np.maximum(self.coherence() - min(4.0 / max(1, self.windows), 0.9), 0.0) * (self.hz < 14_000.0)

    def bandwidth_hz(self) -> float:
        """The width of spectrum over which the two are coherent, each frequency by its coherence."""
        return float(self._weight().sum()) * self.fs / self.size

    def agreement(self) -> float:
        """Mean coherence over the octaves from 63 Hz to 4 kHz that both fill, 0 to 1."""
        coherent, level = self.coherence(), np.sqrt(self.one * self.other)
        found, powers = [], []
        for low, high in pairwise(_EDGES_HZ):
            here = (self.hz >= low) & (self.hz < high)
            total = float(level[here].sum())
            found.append(float((coherent[here] * level[here]).sum()) / total if total > 0.0 else 0.0)
            powers.append((float(self.one[here].sum()), float(self.other[here].sum())))
        most = [max(power[side] for power in powers) for side in (0, 1)]
        filled = [
            share for share, power in zip(found, powers, strict=True) if all(
                power[side] > _FILLED * most[side] for side in (0, 1)
            )
        ]  # fmt: skip
        return float(np.mean(filled)) if filled else 0.0

    def weighted_correlation(self) -> Floats:
        """The correlation in which every frequency counts by its coherence, circular, 1.0 where all are in step."""
        weight = self._weight()
        total = float(weight.sum())
        if total == 0.0:
            return np.zeros(self.size)
        phase = np.where(weight > 0.0, self.cross / np.maximum(np.abs(self.cross), 1e-300), 0.0)
        return np.fft.irfft(weight * phase, self.size) * self.size / 2.0 / total

    def low_end_db(self, lag: int) -> float:
        """How much more the low end of the sum has as the two lie than with one turned over, dB, at equal level.

        Args:
            lag: by how many samples the second was brought forward.
        """
        low = (self.hz >= LOW_HZ[0]) & (self.hz <= LOW_HZ[1])
        turned = self.cross[low] * np.exp(-2j * np.pi * self.hz[low] * lag / self.fs)
        scale = float(np.sqrt(self.one[low].sum() * self.other[low].sum()))
        share = float(turned.real.sum()) / scale if scale > 0.0 else 0.0
        share = min(max(share, -0.9999), 0.9999)
        return float(10.0 * np.log10((1.0 + share) / (1.0 - share)))

    def level_db(self) -> float:
        """How much louder the second is at the frequencies at which the two are coherent, dB."""
        weight = self.coherence()
        one, other = float((weight * self.one).sum()), float((weight * self.other).sum())
        return float(10.0 * np.log10(max(other, 1e-30) / max(one, 1e-30)))


def shared_spectra(looks: Sequence[tuple[Floats, Floats]], fs: float, lag: int) -> Shared:
    """Average the spectra of two signals over some looks.

    Args:
        looks: samples (n,) of both from one instant.
        fs: sample rate in Hz.
        lag: by how many samples the second is later; it is brought forward by that.
    """
    width = 1 << round(np.log2(WINDOW_S * fs))
    window = np.hanning(width)
    bins = width + 1
    cross, one, other = np.zeros(bins, dtype=np.complex128), np.zeros(bins), np.zeros(bins)
    count = 0
    for first, second in looks:
        a, b = first[max(0, -lag) :], second[max(0, lag) :]
        length = min(a.size, b.size)
        if length < width:
            continue
        at = np.arange(0, length - width + 1, width // 2)[:, None] + np.arange(width)
        spectra_a = np.fft.rfft(a[at] * window, 2 * width, axis=1)
        spectra_b = np.fft.rfft(b[at] * window, 2 * width, axis=1)
        cross += (np.conj(spectra_a) * spectra_b).sum(axis=0)
        one += (np.abs(spectra_a) ** 2).sum(axis=0)
        other += (np.abs(spectra_b) ** 2).sum(axis=0)
        count += at.shape[0]
    return Shared(np.arange(bins) * fs / (2 * width), cross, one, other, count, 2 * width, fs)
