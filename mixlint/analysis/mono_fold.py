"""What is left of a part, and of the mix, when left and right are brought together: ½ (L + R).

A loss is told against the mean power of both sides: 0 dB where they are alike, −3 dB where they have nothing in common
or only one plays, everything where one is the other turned over. It is derived from mean squares and mean products of
the files, so that it is exact for a file and good to some tenths of a decibel for a mix, whose parts are taken to have
nothing in common with each other.
"""

from __future__ import annotations

from math import log10
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import time_grid
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import MID, SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix, measured_energy
from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.low_end import LOW_END_HZ, low_octaves, low_windows
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.session import Channel, Unknown
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SETTINGS: Final = (*SPECTRUM_SETTINGS, *GAP_SETTINGS)
"""What decides the energies at the mix bus."""

STRETCH_STEPS: Final = 10
"""Steps of the grid in a stretch that is told by itself, five seconds: long enough that no single note decides."""

QUIET_DB: Final = 20.0
"""A stretch this far under the loudest is not told by itself, dB: a tail."""


class Fold(NamedTuple):
    """What mono leaves.

    Args:
        db: the loss over the song, 0 or less, dB.
        worst_db: the loss in the stretch where it is greatest.
        span: that stretch, seconds of the song.
    """

    db: float
    worst_db: float
    span: tuple[float, float]


def fold_db(left: float, right: float, product: float) -> float:
    """The loss of two legs by their mean squares and mean product, dB, 0 or less; 0 for silence."""
    whole = (left + right) / 2.0
    folded = (left + right + 2.0 * product) / 4.0
    if whole <= 0.0:
        return 0.0
    return max(SILENCE_DB, min(0.0, 10.0 * log10(max(folded / whole, 1e-20))))


@per_session
def part_fold(context: SessionContext, part: Channel) -> Fold | Unknown:
    """What mono leaves of a part's recordings, K-weighted, as they come in at its strip.

    Unknown for a part of one leg, without audio, and where a clip cannot be followed.
    """
    if context.routing.legs[part.id] != 2:
        return Unknown(unknown="it has one leg")
    energy = measured_energy(context, part)
    if energy is None:
        return Unknown(unknown="its audio was not measured", settle="review it with its audio")
    return _fold(context, energy.legs[0], energy.legs[1], energy.cross)


def _fold(context: SessionContext, left: Floats, right: Floats, product: Floats) -> Fold | Unknown:
    """The fold of energies (T,) over the grid."""
    import numpy as np

    edges = time_grid(context)
    if not (left.sum() + right.sum()) > 0.0:
        return Unknown(unknown="it is silent")
    whole = fold_db(float(left.sum()), float(right.sum()), float(product.sum()))
    width = min(STRETCH_STEPS, left.size)
    sums = [np.convolve(curve, np.ones(width), mode="valid") for curve in (left, right, product)]
    both = sums[0] + sums[1]
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where(
            both > both.max() * 10.0 ** (-QUIET_DB / 10.0), (both + 2.0 * sums[2]) / np.maximum(2.0 * both, 1e-30), 1.0
        )
    at = int(ratio.argmin())
    worst = fold_db(*(float(curve[at]) for curve in sums))
    return Fold(whole, worst, (float(edges[at]), float(edges[at + width])))


@per_session
def low_fold_db(context: SessionContext, part: Channel) -> float | Unknown:
    """What mono leaves of a part's low end, dB; as :func:`part_fold`, unweighted, up to 120 Hz."""
    if context.routing.legs[part.id] != 2:
        return Unknown(unknown="it has one leg")
    sums = _low_sums(context, part)
    return sums if isinstance(sums, Unknown) else fold_db(*sums)


@per_session
def _low_sums(context: SessionContext, part: Channel) -> tuple[float, float, float] | Unknown:
    """The energies of the legs of a part's low end, and their product, each times seconds."""
    if context.routing.legs[part.id] == 1:
        return _low_of_one_leg(context, part)
    windows = low_windows(context, part, LOW_END_HZ)
    if isinstance(windows, Unknown):
        return windows
    return (
        sum(window.legs[0] * window.length_s for window in windows),
        sum(window.legs[1] * window.length_s for window in windows),
        sum(window.product * window.length_s for window in windows),
    )


def _low_of_one_leg(context: SessionContext, part: Channel) -> tuple[float, float, float] | Unknown:
    """The same of a part of one leg, from the octave bands of its files: the lowest two, and half of the third."""
    energy = low_octaves(context, part, 3)
    if isinstance(energy, Unknown):
        return energy
    total = float(energy[0] + energy[1] + 0.5 * energy[2])
    return total, total, total


@per_session
def mix_fold(context: SessionContext) -> Fold | Unknown:
    """What mono leaves of the mix; Unknown where a part or a gain is not measured."""
    import numpy as np

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    if not parts or not all(part.measured for part in parts):
        return Unknown(unknown="not every part is measured", settle="listen in mono")
    left, right, product = (np.zeros(time_grid(context).size - 1) for _ in range(3))
    for part in parts:
        left, right = left + part.left, right + part.right
        energy = measured_energy(context, context.channels[part.channel])
        assert energy is not None
        product = product + _alike(context, part.channel, energy.legs, energy.cross) * np.sqrt(part.left * part.right)
    return _fold(context, left, right, product)


def _alike(context: SessionContext, part: str, legs: Floats, cross: Floats) -> Floats:
    """The correlation (T,) of the two sides that a part's direct paths make of its legs (1 or 2, T), at 1 kHz."""
    import numpy as np

    gain = context.gains_now.direct[part][0, MID]
    both = np.repeat(legs, 2, axis=0) if legs.shape[0] == 1 else legs
    shared = both[0] if legs.shape[0] == 1 else cross
    covariance = np.empty((both.shape[1], 2, 2))
    covariance[:, 0, 0], covariance[:, 1, 1] = both
    covariance[:, 0, 1] = covariance[:, 1, 0] = shared
    out = (gain @ covariance @ gain.conj().T).real
    scale = np.sqrt(np.maximum(out[:, 0, 0] * out[:, 1, 1], 1e-30))
    return np.asarray(np.clip(out[:, 0, 1] / scale, -1.0, 1.0))


@per_session
def mix_low_fold_db(context: SessionContext) -> float | Unknown:
    """What mono leaves of the low end of the mix, dB, by the gains as they stand now at 60 Hz."""
    import numpy as np

    total = np.zeros((2, 2))
    for part in context.session.channels:
        if not is_source(context, part) or not is_audible(context, part):
            continue
        why = context.routing.unknown_on_the_path.get(part.id, ())
        if why:
            return Unknown(unknown=why[0], settle="export it again")
        sums = _low_sums(context, part)
        if isinstance(sums, Unknown):
            return sums
        gain = context.gains_now.direct[part.id][0, 0]
        own = np.array([[sums[0], sums[2]], [sums[2], sums[1]]])
        total = total + (gain @ own @ gain.conj().T).real
    return fold_db(float(total[0, 0]), float(total[1, 1]), float(total[0, 1]))
