"""What several signals of one performance lose where they are summed: in all, and in the octave that loses most."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

OCTAVES_HZ: Final = tuple(1000.0 * 2.0**n for n in range(-4, 4))
WINDOW_S: Final = 0.17
_FILLED: Final = 10.0**-1.5
"""An octave that lies further under the strongest is none in which a dip is heard."""


class Summed(NamedTuple):
    """How the sum of some signals stands to the sum of their powers, which they would have if nothing related them.

    Args:
        loss_db: how much less it has, all octaves together; negative where it has more.
        dip_db: how much less in the octave that loses most, of those that hold something.
        dip_hz: the centre of that octave.
    """

    loss_db: float
    dip_db: float
    dip_hz: float


def summed(looks: Sequence[Floats], signs: Floats, fs: float) -> Summed:
    """What the sum of several signals loses.

    Args:
        looks: for each moment (signals, n), at the gains at which they are summed.
        signs: (signals,) 1 as they are, −1 turned over.
        fs: sample rate, Hz.
    """
    width = 1 << round(np.log2(WINDOW_S * fs))
    window = np.hanning(width)
    hz = np.fft.rfftfreq(width, 1.0 / fs)
    alone, together = np.zeros(hz.size), np.zeros(hz.size)
    for rows in looks:
        for at in range(0, rows.shape[1] - width + 1, width // 2):
            spectra = np.fft.rfft(rows[:, at : at + width] * window, axis=1)
            alone += (np.abs(spectra) ** 2).sum(axis=0)
            together += np.abs((spectra * signs[:, None]).sum(axis=0)) ** 2
    heard = (hz >= OCTAVES_HZ[0] / np.sqrt(2.0)) & (hz < OCTAVES_HZ[-1] * np.sqrt(2.0))
    if not alone[heard].sum() > 0.0:
        return Summed(0.0, 0.0, 0.0)
    powers = []
    for centre in OCTAVES_HZ:
        here = (hz >= centre / np.sqrt(2.0)) & (hz < centre * np.sqrt(2.0))
        powers.append((float(alone[here].sum()), float(together[here].sum()), centre))
    most = max(power for power, _, _ in powers)
    dips = [(_db(one, both), centre) for one, both, centre in powers if one > _FILLED * most]
    dip, centre = max(dips)
    return Summed(_db(float(alone[heard].sum()), float(together[heard].sum())), dip, centre)


def _db(one: float, both: float) -> float:
    return float(10.0 * np.log10(max(one, 1e-30) / max(both, 1e-12 * one, 1e-30)))
