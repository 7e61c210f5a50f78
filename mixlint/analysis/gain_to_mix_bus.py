"""Gains to the mix bus over the song: what faders, pans, mutes and sends do to each part, step by step of the grid.

The gains are taken in octave bands in the middle of each step, and the bands added by the spectrum of the part, so that
what filters take of it counts. Where no automation moves anything the present gains hold for the whole song, and a
curve has one step: its shape is "(T or 1,)".
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.activity import coverage, playing, sounding_spans, time_grid
from mixlint.analysis.automation_range import NEAR, TimedExtreme, run_around
from mixlint.analysis.context import BANDS, SessionContext, per_session
from mixlint.session import Unknown, known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

RATIO_LIMIT_DB: Final = 60.0
"""A ratio of two powers is given within ± this, dB, so that a side without any has a number: a definition."""


def power_ratio_db(one: float, other: float) -> float:
    """The ratio of two powers or energies (0 or more) in dB, held within ± :data:`RATIO_LIMIT_DB`.

    Where ``one`` is 0 it is the lower bound, else where ``other`` is 0 the upper.
    """
    from math import log10

    if one <= 0.0:
        return -RATIO_LIMIT_DB
    if other <= 0.0:
        return RATIO_LIMIT_DB
    return max(-RATIO_LIMIT_DB, min(RATIO_LIMIT_DB, 10.0 * log10(one / other)))


def energy_forms(context: SessionContext, channel_id: str) -> tuple[Floats, Floats]:
    """What a channel's paths make of its energy, all frequencies together, over the song.

    For a signal ``x = [left, right]`` with the spectrum of the part (:func:`mixlint.analysis.spectrum.spectrum_of`)
    the K-weighted energy on side ``i`` of the mix bus is ``xᵀ F_i x``.

    Returns:
        The forms (T or 1, 2, 2, 2) of the direct paths, those without a time effect, and of the ambience; real.
    """
    return _energy_forms(context)[channel_id]


def direct_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) of a channel's direct paths, both sides added, for a signal alike on both legs."""
    return _alike_on_both_legs(energy_forms(context, channel_id)[0])


def ambience_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) of a channel's ambience, both sides added, for a signal alike on both legs."""
    return _alike_on_both_legs(energy_forms(context, channel_id)[1])


def _alike_on_both_legs(forms: Floats) -> Floats:
    """The power (T or 1,) that forms (T or 1, 2, 2, 2) make of a signal of 1 on both legs, both sides added."""
    import numpy as np

    return np.asarray(np.clip(forms.sum(axis=(-1, -2, -3)), 0.0, None))


@per_session
def right_share(context: SessionContext, channel_id: str, *, dry: bool = False) -> float | Unknown:
    """How much of what arrives at the mix bus from a channel is on the right, 0 … 1; the mean while sound passes it.

    Args:
        context: the session.
        channel_id: the channel, whose signal is taken to be alike on both legs.
        dry: its direct paths alone; where there are none, all of it.

    Returns:
        Unknown where a gain on the way is not known, or nothing arrives.
    """
    import numpy as np

    known(context.routing.wiring.mix_bus)
    why = context.routing.unknown_on_the_path.get(channel_id, ())
    if why:
        return Unknown(unknown=why[0])
    direct, ambience = energy_forms(context, channel_id)
    for form in (direct, direct + ambience) if dry else (direct + ambience,):
        sides = np.clip(form.sum(axis=(-1, -2)), 0.0, None)  # (T or 1, side)
        if sides.shape[0] > 1:
            edges = time_grid(context)
            sides = sides * coverage(sounding_spans(context, channel_id), edges)[:, None]
        left, right = (float(one) for one in sides.sum(axis=0))
        if left + right > 0.0:
            return right / (left + right)
    return Unknown(unknown="nothing of it arrives at the mix bus")


def audible_power_gain(context: SessionContext, channel_id: str) -> Floats:
    """The power gain (T or 1,) at which a part arrives: of its direct paths, or of its ambience where it has none.

    An effect on the part itself that is wholly wet, or whose wet share is not known, leaves no direct path.
    """
    import numpy as np

    dry = direct_power_gain(context, channel_id)
    return dry if (dry > 0.0).all() else np.asarray(np.where(dry > 0.0, dry, ambience_power_gain(context, channel_id)))


AT_ONCE: Final = 20_000
"""Steps of the grid times channels that others feed, whose gains are held in bands at one time: a bound of memory,
some 30 MB."""


@per_session
def _energy_forms(context: SessionContext) -> dict[str, tuple[Floats, Floats]]:
    """Channel id → its forms, direct and ambience; worked out in pieces of the song, so that no band is kept."""
    if not any(lane.t for c in context.session.channels for lane in c.automation):
        now = context.gains_now
        return {
            one: _summed(context, one, now.direct[one][:, BANDS], now.ambience[one][:, BANDS])
            for one in context.channels
        }
    from mixlint.signal.octave_bands import CENTRES_HZ

    edges = time_grid(context)
    times = (edges[:-1] + edges[1:]) / 2.0
    pieces: dict[str, list[tuple[Floats, Floats]]] = {one: [] for one in context.channels}
    size = max(16, AT_ONCE // (len(context.routing.fed) + 1))
    for first in range(0, times.size, size):
        for one, direct, ambience in context.routing.each_gain(CENTRES_HZ, times[first : first + size]):
            pieces[one].append(_summed(context, one, direct, ambience))
    return {one: (_joined([d for d, _ in found]), _joined([a for _, a in found])) for one, found in pieces.items()}


def _summed(
    context: SessionContext, channel_id: str, direct: NDArray[np.complex128], ambience: Floats
) -> tuple[Floats, Floats]:
    """The forms (T or 1, 2, 2, 2) of a channel's direct paths and ambience, bands added by the part's spectrum."""
    import numpy as np

    from mixlint.analysis.spectrum import spectrum_of

    shares = spectrum_of(context, channel_id)
    rows = (direct * np.sqrt(shares)[:, None, None]).transpose(0, 2, 3, 1)  # (T, side, leg, band)
    return (rows.conj() @ rows.swapaxes(-1, -2)).real, np.tensordot(ambience, shares, axes=([1], [0]))


def _joined(pieces: list[Floats]) -> Floats:
    """Pieces of a curve (t or 1, …) one after another, (T, …); one of them where nothing moves."""
    import numpy as np

    return pieces[0] if all(piece.shape[0] == 1 for piece in pieces) and len(pieces) > 1 else np.concatenate(pieces)


@dataclass(frozen=True)
class GainCurves:
    """The gains of one part over the steps of the time grid, for a signal alike on both legs.

    Args:
        gain_db: (T,) the direct gain to the mix bus, both sides added in power, dB, no lower than −200.
        wet_db: (T,) ambience over direct sound, dB, within ±60; NaN where the part has neither.
        sounding: (T,) True where the part plays.
    """

    gain_db: Floats
    wet_db: Floats
    sounding: NDArray[np.bool_]


@per_session
def gain_curves_of(context: SessionContext, channel_id: str) -> GainCurves:
    """The gains of one part over the song, with its own spectrum."""
    import numpy as np

    sounding = playing(context, channel_id) > 0.0
    dry = direct_power_gain(context, channel_id)
    wet = ambience_power_gain(context, channel_id)
    floor = 10.0 ** (SILENCE_DB / 10.0)
    gain_db = 10.0 * np.log10(np.maximum(dry, floor))
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = 10.0 * np.log10(wet / dry)
    wet_db = np.where((dry <= 0.0) & (wet <= 0.0), np.nan, np.clip(ratio, -RATIO_LIMIT_DB, RATIO_LIMIT_DB))
    return GainCurves(np.broadcast_to(gain_db, sounding.shape), np.broadcast_to(wet_db, sounding.shape), sounding)


def curve_extreme(
    context: SessionContext, curve: Floats, sounding: NDArray[np.bool_], sign: float
) -> TimedExtreme | None:
    """An extreme of a curve over the steps in which its part plays.

    Args:
        context: the session context.
        curve: (T,) values, NaN where there is none.
        sounding: (T,) True for the steps that count.
        sign: 1 for the highest value, −1 for the lowest.

    Returns:
        The extreme in the curve's unit; None where no step has a value that counts.
    """
    import numpy as np

    judged = np.where(sounding & ~np.isnan(curve), sign * curve, -np.inf)
    at = int(judged.argmax())
    if not np.isfinite(judged[at]):
        return None
    first, last = run_around(judged >= judged[at] - NEAR, at)
    edges = time_grid(context)
    return TimedExtreme(float(curve[at]), float(edges[first]), float(edges[last + 1]))
