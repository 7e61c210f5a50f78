"""The loudness and true peak of a whole programme fed in pieces: what a delivery asks of a print of the mix.

Sources: ITU-R BS.1770-5, Annex 1 (integrated) and Annex 2 (true peak); EBU Tech 3341 (momentary 0.4 s, short-term 3 s);
EBU Tech 3342 (range).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mixlint.signal.loudness import EnergyMeter, integrated, loudness, loudness_range, weighted_sum
from mixlint.signal.true_peak import TruePeakMeter

Floats = NDArray[np.float64]

CELL_S: Final = 0.01
"""Energies are kept for cells of 10 ms, so that the maximum of a short sound is found wherever it begins."""

MOMENTARY: Final = 40
SHORT_TERM: Final = 300
HOP: Final = 10
"""Cells in a momentary and in a short-term window, and from one block of the gated measures to the next."""


@dataclass(frozen=True, slots=True)
class Programme:
    """The figures of a programme; None where it is too short for one, or nothing passes the gates.

    Args:
        integrated_lufs: integrated loudness.
        momentary_lufs: the highest momentary loudness.
        momentary_s: where the window of that begins, seconds.
        short_term_lufs: the highest short-term loudness.
        short_term_s: where the window of that begins.
        range_lu: loudness range.
        true_peak_dbtp: true peak of each leg.
    """

    integrated_lufs: float | None
    momentary_lufs: float | None
    momentary_s: float
    short_term_lufs: float | None
    short_term_s: float
    range_lu: float | None
    true_peak_dbtp: tuple[float, ...]


class ProgrammeMeter:
    """Measures a programme.

    Args:
        legs: number of legs.
        fs: sample rate in Hz.
        weights: what each leg counts in loudness; by the usual order of a file's legs when left out.
    """

    def __init__(self, legs: int, fs: float, weights: Sequence[float] | None = None) -> None:
        self._weights = weights
        self._energy = EnergyMeter(legs, fs, CELL_S)
        self._peak = TruePeakMeter(legs, fs)
        self._cell = fs * CELL_S

    def feed(self, samples: NDArray[np.floating]) -> None:
        """Take the next samples, shape (legs, n), full scale 1.0.

        Raises:
            ValueError: another shape, or a sample that is not finite.
        """
        self._energy.feed(samples)
        self._peak.feed(samples)

    def result(self) -> Programme:
        """The figures; ends the feeding."""
        cells = weighted_sum(self._energy.finish(), self._weights)
        # Cells whose length is no whole number of samples differ by one sample; their bounds are those of the meter.
        bounds = np.floor(np.arange(cells.size + 1) * self._cell + 0.5)
        running = np.concatenate(([0.0], np.cumsum(cells)))

        def means(count: int, hop: int) -> Floats:
            first = np.arange(0, max(0, cells.size - count + 1), hop)
            energy = np.maximum(running[first + count] - running[first], 0.0)
            return np.asarray(energy / np.maximum(bounds[first + count] - bounds[first], 1.0))

        momentary, short = means(MOMENTARY, 1), means(SHORT_TERM, 1)
        at, short_at = (int(np.argmax(one)) if one.size else 0 for one in (momentary, short))
        return Programme(
            integrated_lufs=integrated(means(MOMENTARY, HOP)),
            momentary_lufs=float(loudness(momentary[at])) if momentary.size else None,
            momentary_s=at * CELL_S,
            short_term_lufs=float(loudness(short[short_at])) if short.size else None,
            short_term_s=short_at * CELL_S,
            range_lu=loudness_range(means(SHORT_TERM, HOP)),
            true_peak_dbtp=self._peak.true_peak_db(),
        )
