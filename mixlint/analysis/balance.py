"""The stereo balance at the mix bus: over the song, in its worst stretch, and the parts that cause it.

Balance is 10 log10(left / right) of K-weighted energy in dB, so that 0 is even and positive is heavier on the left.
That energy says what an ear takes for balance is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.activity import has_arrangement, time_grid
from mixlint.analysis.automation_range import run_around
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import MixEnergy, energy_at_mix
from mixlint.analysis.gain_to_mix_bus import RATIO_LIMIT_DB, power_ratio_db
from mixlint.analysis.settings import Setting
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STRETCH: Final = Setting("balance.stretch", 10.0, "s", "The shortest stretch of the song that is judged on its own.")

QUIET: Final = Setting(
    "balance.quiet",
    -30.0,
    "dB",
    "A stretch this far under the loudest one is not judged: a tail or a breath leans without harm.",
)

LEAST_PULL: Final = Setting(
    "balance.least_pull", 0.05, "dB", "A part by which the balance moves less than this is not named as a cause."
)


@dataclass(frozen=True)
class Imbalance:
    """The left–right imbalance of the mix; all decibels are left over right, positive where left is heavier.

    Args:
        song_db: the balance of the whole song, dB.
        worst_db: the balance of the window (setting ``balance.stretch``) that is least even, dB; None in a song
            shorter than that, or without an arrangement.
        worst: start and end in seconds of the run of windows around it on the same side with at least half its
            decibels.
        causes: channel ids of parts on the heavier side, with the decibels by which the song's balance would move
            towards 0 without each, greatest first.
        stretch_causes: the same for the window of ``worst_db``.
        measured: True when the loudness of every part was measured, False when one is assumed.
        curve_db: (W,) the balance of every window, dB; NaN for windows too quiet to judge.
        starts_s: (W,) where each window starts, seconds.
    """

    song_db: float
    worst_db: float | None
    worst: tuple[float, float]
    causes: tuple[tuple[str, float], ...]
    stretch_causes: tuple[tuple[str, float], ...]
    measured: bool
    curve_db: Floats
    starts_s: Floats


@per_session
def imbalance(context: SessionContext) -> Imbalance | Unknown:
    """The stereo balance of the session.

    Unknown where the mix bus or a gain on the path of an audible part is not known, and where nothing sounds.
    """
    import numpy as np

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    if not parts:
        return Unknown(unknown="no part reaches the mix bus", settle="check the routing and the mutes")
    edges = time_grid(context)
    steps = np.diff(edges)
    left = np.array([part.left for part in parts]) * steps
    right = np.array([part.right for part in parts]) * steps
    if not (left.sum() + right.sum()) > 0.0:
        return Unknown(unknown="nothing sounds at the mix bus", settle="check the faders and the mutes")
    least = context.setting(LEAST_PULL)
    width = max(1, round(context.setting(STRETCH) / steps[0]))
    window_l, window_r = _windows(left, width), _windows(right, width)
    curve = _balance_curve(window_l.sum(axis=0), window_r.sum(axis=0), context.setting(QUIET))
    worst_db: float | None = None
    span = (0.0, float(edges[-1]))
    stretch_causes: tuple[tuple[str, float], ...] = ()
    if has_arrangement(context) and curve.size and not np.isnan(curve).all():
        at = int(np.nanargmax(np.abs(curve)))
        worst_db = float(curve[at])
        first, last = _same_side(curve, at)
        span = (float(edges[first]), float(edges[min(last + width, edges.size - 1)]))
        stretch_causes = _causes(parts, least, window_l[:, at], window_r[:, at])
    return Imbalance(
        power_ratio_db(float(left.sum()), float(right.sum())),
        worst_db,
        span,
        _causes(parts, least, left.sum(axis=1), right.sum(axis=1)),
        stretch_causes,
        all(part.measured for part in parts),
        curve,
        edges[: curve.size],
    )


def _windows(energy: Floats, width: int) -> Floats:
    """Sums (parts, T − width + 1) over every window of ``width`` steps; none where the song is shorter."""
    import numpy as np

    if energy.shape[1] < width:
        return np.zeros((energy.shape[0], 0))
    run = np.concatenate([np.zeros((energy.shape[0], 1)), np.cumsum(energy, axis=1)], axis=1)
    return np.asarray(np.clip(run[:, width:] - run[:, :-width], 0.0, None))


def _balance_curve(left: Floats, right: Floats, quiet_db: float) -> Floats:
    """The balance (W,) in dB of windows with energies (W,); NaN where one is ``quiet_db`` or more under the loudest."""
    import numpy as np

    total = left + right
    quiet = total <= (total.max(initial=0.0) * 10.0 ** (quiet_db / 10.0))
    floor = np.maximum(total, 1e-300) * 10.0 ** (-RATIO_LIMIT_DB / 10.0)
    ratio = 10.0 * np.log10(np.maximum(left, floor) / np.maximum(right, floor))
    return np.asarray(np.where(quiet, np.nan, np.clip(ratio, -RATIO_LIMIT_DB, RATIO_LIMIT_DB)))


def _same_side(curve: Floats, at: int) -> tuple[int, int]:
    """First and last of the run of windows around ``at`` on the same side, with at least half its decibels.

    The half is no setting: it says how much of the song is named for a reader, and decides no verdict.
    """
    import numpy as np

    return run_around((np.sign(curve) == np.sign(curve[at])) & (np.abs(curve) >= abs(curve[at]) / 2.0), at)


def _causes(
    parts: tuple[MixEnergy, ...], least_db: float, left: Floats, right: Floats
) -> tuple[tuple[str, float], ...]:
    """Parts without which the balance would move towards 0, and by how many decibels, greatest first.

    Args:
        parts: the parts, P of them.
        least_db: parts that move it by no more are left out.
        left, right: (P,) their energies.
    """
    total_l, total_r = float(left.sum()), float(right.sum())
    now = power_ratio_db(total_l, total_r)
    found = []
    for k, part in enumerate(parts):
        rest_l, rest_r = max(total_l - float(left[k]), 0.0), max(total_r - float(right[k]), 0.0)
        if rest_l + rest_r <= 0.0:
            rest_l = rest_r = 1.0  # nothing is left: an even balance
        moved = abs(now) - abs(power_ratio_db(rest_l, rest_r))
        on_heavier_side = (left[k] > right[k]) == (now > 0)
        if on_heavier_side and moved > least_db:
            found.append((part.channel, moved))
    return tuple(sorted(found, key=lambda cause: -cause[1]))
