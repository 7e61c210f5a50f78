"""What one pass over an audio file finds, and the questions that can be asked of it afterwards."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from mixlint.media.header import Header
from mixlint.session import Unknown
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

VERSION: Final = 11
"""Changes whenever a stored measure would no longer equal a fresh one."""

BLOCK_S: Final = 0.1
"""The length of an energy block and the hop between blocks, seconds. Four neighbours make the 0.4 s block of
ITU-R BS.1770-5, whose 75 % overlap is exactly this hop."""

GATING: Final = 4
"""Blocks in a gating block."""

OCTAVES: Final = 10
"""How many bands the spectrum of a file has."""

MARKS: Final = 200
"""So many places of one kind are kept for a leg; more are only counted."""

KINDS: Final = ("clipped", "flat", "click", "hole", "held", "repeat", "burst", "bad")
"""What a place in a file can be marked as: cut off at full scale, cut off below it, a click, a hole of zeros, samples
that stand still, a block that comes twice, a burst of noise at full scale, a sample that is no number."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A place in a file where something is wrong with its samples.

    Args:
        kind: one of :data:`KINDS`.
        leg: counted from 0.
        start_s: where it begins, seconds of the file.
        length_s: how long it lasts.
        level_db: dBFS: where it is cut off, how large a click or a burst is, how loud the sound around a hole.
    """

    kind: str
    leg: int
    start_s: float
    length_s: float
    level_db: float


@dataclass(frozen=True, slots=True)
class RestLevels:
    """What one leg holds in the rests: stretches that are quiet, even and no digital silence.

    Args:
        floor_db: the level of the noise, the hum taken out, dBFS.
        hum_db: the level of the hum, dBFS.
        hum_hz: 50 or 60; 0 where there is none.
        flat: spectral flatness, 0 to 1; noise has 0.3 and more.
        level_db: the level of all of it.
    """

    floor_db: float
    hum_db: float
    hum_hz: float
    flat: float
    level_db: float


@dataclass(frozen=True, slots=True, eq=False)
class Measure:
    """One file, measured once.

    Energies are mean squares re full scale, so a full-scale sine has 0.5. Blocks are ``block_s`` long and do not
    overlap; the last one is filled up with silence. Peaks and levels are SILENCE_DB where nothing sounds.

    Args:
        header: what the file says of itself.
        frames: samples per leg that were read; for coded audio this, not the header, is the length.
        block_s: length of a block: 0.1 s to the nearest sample.
        cell_s: length of a peak cell: a tenth of a block.
        energy: (legs, blocks) K-weighted mean squares (ITU-R BS.1770-5).
        cross: (blocks,) K-weighted mean product of the two legs; zeros unless there are two.
        power: (legs, blocks) unweighted mean squares.
        product: (blocks,) unweighted mean product of the two legs; zeros unless there are two.
        mean: (legs, blocks) mean sample value, which is the offset.
        bands: (legs, 10) K-weighted mean squares of the whole file in octave bands, 31.6 Hz to 15.8 kHz
            (IEC 61260-1); the outer ones take in what lies beyond them.
        peak: (legs, cells) largest absolute sample.
        sample_peak_db: per leg, dBFS.
        integrated_lufs: programme loudness (BS.1770-5, gated). Unknown under 0.4 s, and over two legs, where the
            file does not say which leg is a surround; SILENCE_DB where nothing passes the gate of −70 LUFS.
        head_peak_db: per leg, the peak of the first 50 ms.
        tail_peak_db: per leg, the peak of the last 50 ms.
        first: per leg, the first sample.
        last: per leg, the last sample.
        apart: (blocks,) mean square of left minus right; zeros unless there are two legs.
        lags: (n, 3) for two legs, at the loudest tenth of a second in every second or so: seconds of the file, by how
            many samples the right leg is later, and the correlation there, −1 to 1.
        spectrum: (bands,) mean square of all legs in bands of 100 Hz, unweighted.
        course: (10, blocks) level of all legs in the octave bands of ``bands``, unweighted, dB, half a block around the
            beginning of each block.
        lines_hz: (5, blocks) where the strongest line lies in the octaves of 251 Hz to 3981 Hz, in the same places.
        lines: (5, blocks) its level, dB.
        bends: (2, legs, cells) the largest and the mean second difference of the samples, dB.
        pitches: (stretches, 120) which notes sound in every 2.5 s, by tenths of a semitone (signal.tuning).
        rests: per leg, what is left in the rests; empty where no stretch is quiet and even.
        used_bits: how many bits of a word are ever used; 0 where samples are no words of 24 bits or less, or silent.
        marks: places where something is wrong with samples, by leg and time, the first of each kind for each leg.
        mark_counts: how many there are of each kind, all legs together; kinds without any left out.
        bad_samples: samples that are no number or lie beyond +100 dBFS; measured as silence.
    """

    header: Header
    frames: int
    block_s: float
    cell_s: float
    energy: NDArray[np.float64]
    cross: NDArray[np.float64]
    power: NDArray[np.float64]
    product: NDArray[np.float64]
    mean: NDArray[np.float64]
    bands: NDArray[np.float64]
    peak: NDArray[np.float32]
    sample_peak_db: tuple[float, ...]
    integrated_lufs: float | Unknown
    head_peak_db: tuple[float, ...]
    tail_peak_db: tuple[float, ...]
    first: tuple[float, ...]
    last: tuple[float, ...]
    apart: NDArray[np.float64]
    lags: NDArray[np.float64]
    spectrum: NDArray[np.float64]
    course: NDArray[np.float16]
    lines_hz: NDArray[np.float32]
    lines: NDArray[np.float16]
    bends: NDArray[np.float16]
    pitches: NDArray[np.float64]
    rests: tuple[RestLevels, ...]
    used_bits: int
    marks: tuple[Mark, ...]
    mark_counts: dict[str, int]
    bad_samples: int
    running: NDArray[np.float64] = field(init=False, repr=False)
    """(legs, blocks + 1): energy times seconds up to each block, so that stretches are read without adding it up."""

    def __post_init__(self) -> None:
        """Add the energy up once."""
        object.__setattr__(self, "running", _added_up(self.energy, self.block_s))

    @property
    def legs(self) -> int:
        """The file's channels."""
        return self.header.legs

    @property
    def difference_db(self) -> float | Unknown:
        """The energy of left − right relative to left + right, dB; Unknown unless there are two legs."""
        if self.legs != 2:
            return Unknown(unknown="only a file with two legs has a difference between them")
        apart = float(self.apart.sum())
        together = max(0.0, 2.0 * float(self.power.sum()) - apart)
        return decibels(apart**0.5) - decibels(together**0.5)

    def energy_at(self, edges_s: ArrayLike) -> NDArray[np.float64]:
        """Mean K-weighted energy between successive times of the file.

        Args:
            edges_s: (count + 1,) rising times in seconds; outside the file there is silence.

        Returns:
            (legs, count). Within a block the energy is taken as even, so no energy is lost or made.
        """
        import numpy as np

        # Rounding may leave the difference of two equal sums a hair under zero.
        return np.maximum(_between(self.running, self.block_s, edges_s), 0.0)

    def cross_at(self, edges_s: ArrayLike) -> NDArray[np.float64]:
        """Mean K-weighted product of the two legs between successive times: (count,); as :meth:`energy_at`."""
        return _row(_between(_added_up(self.cross[None, :], self.block_s), self.block_s, edges_s))

    def product_at(self, edges_s: ArrayLike) -> NDArray[np.float64]:
        """Mean unweighted product of the two legs between successive times: (count,); as :meth:`energy_at`."""
        return _row(_between(_added_up(self.product[None, :], self.block_s), self.block_s, edges_s))

    def power_at(self, edges_s: ArrayLike) -> NDArray[np.float64]:
        """Mean unweighted energy between successive times: (legs, count); as :meth:`energy_at`."""
        import numpy as np

        return np.maximum(_between(_added_up(self.power, self.block_s), self.block_s, edges_s), 0.0)

    def peak_db_between(self, start_s: float, end_s: float) -> float:
        """The largest sample of all legs in a stretch, dBFS, to the resolution of a cell (10 ms)."""
        first = max(0, int(start_s / self.cell_s + 1e-6))
        last = min(self.peak.shape[1], int(-(-end_s // self.cell_s)))
        return decibels(float(self.peak[:, first:last].max())) if last > first else SILENCE_DB


def peak_levels(peak: NDArray[np.float32]) -> NDArray[np.float64]:
    """Peak cells in dBFS, never under −180."""
    import numpy as np

    return np.asarray(20.0 * np.log10(np.maximum(peak.astype(np.float64), 1e-9)))


def programme_lufs(energy: NDArray[np.float64], what: str = "the file") -> float | Unknown:
    """Programme loudness (ITU-R BS.1770-5, gated) of K-weighted mean squares (legs, blocks) of a tenth of a second.

    Unknown under 0.4 s, and over two legs; SILENCE_DB where nothing passes the gate of −70 LUFS. ``what`` is how the
    reason calls it.
    """
    if energy.shape[0] > 2:
        return Unknown(
            unknown=f"the file has {energy.shape[0]} legs and does not say which is which",
            settle="export it as mono or stereo",
        )
    if energy.shape[1] < GATING:
        return Unknown(unknown=f"{what} is shorter than the 0.4 s that loudness needs")
    from mixlint.signal.loudness import integrated, sliding_mean, weighted_sum

    found = integrated(weighted_sum(sliding_mean(energy, GATING)))
    return SILENCE_DB if found is None else found


def decibels(amplitude: float) -> float:
    """An amplitude re full scale in dBFS, never under SILENCE_DB."""
    from math import log10

    return max(SILENCE_DB, 20.0 * log10(amplitude)) if amplitude > 0.0 else SILENCE_DB


def in_decibels(power: NDArray[np.float64]) -> NDArray[np.float16]:
    """Mean squares in dB, to a tenth of a decibel and better, as they are kept; never under SILENCE_DB."""
    import numpy as np

    return np.asarray(10.0 * np.log10(np.maximum(power, 10.0 ** (SILENCE_DB / 10.0))), np.float16)


def _row(table: NDArray[np.float64]) -> NDArray[np.float64]:
    """The only row of a table (1, n): (n,)."""
    return table.reshape(-1)


def _added_up(blocks: NDArray[np.float64], block_s: float) -> NDArray[np.float64]:
    """Running sums (rows, n + 1) of ``blocks`` (rows, n) times their length."""
    import numpy as np

    return np.pad(np.cumsum(blocks * block_s, axis=1), ((0, 0), (1, 0)))


def _between(running: NDArray[np.float64], block_s: float, edges_s: ArrayLike) -> NDArray[np.float64]:
    """Means (rows, count) between ``edges_s`` (count + 1,) from running sums (rows, n + 1)."""
    import numpy as np

    edges = np.asarray(edges_s, dtype=np.float64)
    steps = np.diff(edges)
    times = np.arange(running.shape[1]) * block_s
    out = np.zeros((running.shape[0], steps.size))
    for row, sums in enumerate(running):
        np.divide(np.diff(np.interp(edges, times, sums)), steps, out=out[row], where=steps > 0.0)
    return out
