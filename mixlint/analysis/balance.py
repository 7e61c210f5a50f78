"""The stereo balance at the mix bus: over the song, in its worst stretch, and the parts that cause it.

Balance is 10 log10(left / right) of K-weighted energy in dB, so that 0 is even and positive is heavier on the left.
That energy says what an ear takes for balance is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import has_arrangement, time_grid
from mixlint.analysis.automation_range import run_around
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import counterparts, name_stem
from mixlint.analysis.energy import MixEnergy, energy_at_mix
from mixlint.analysis.gain_to_mix_bus import RATIO_LIMIT_DB, power_ratio_db
from mixlint.analysis.settings import Setting
from mixlint.session import Unknown

if TYPE_CHECKING:
    from collections.abc import Sequence

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

ALONE: Final = Setting(
    "balance.alone",
    97.0,
    "%",
    "A part that makes this share of the energy plays alone; a song that begins so is judged from where others enter.",
    lowest=50.0,
    highest=100.0,
)

LEAST_PULL: Final = Setting(
    "balance.least_pull", 0.05, "dB", "A part by which the balance moves less than this is not named as a cause."
)


class Pull(NamedTuple):
    """A part that pulls the mix to the heavier side.

    Args:
        channel: its id.
        db: by how much the balance would move towards 0 without what it has over the parts that answer it; where that
            would tip it over, by all.
        against: id of the strongest part that answers it on the other side, too weakly; empty where none does.
    """

    channel: str
    db: float
    against: str = ""


@dataclass(frozen=True)
class Imbalance:
    """The left–right imbalance of the mix; all decibels are left over right, positive where left is heavier.

    Args:
        song_db: the balance of the whole song, dB.
        worst_db: the balance of the window (setting ``balance.stretch``) that is least even, dB; None in a song
            shorter than that, or without an arrangement.
        worst: start and end in seconds of the run of windows around it on the same side with at least half its
            decibels.
        causes: the parts that pull the song, greatest first.
        stretch_causes: the same for the window of ``worst_db``.
        measured: True when the loudness of every part was measured, False when one is assumed.
        curve_db: (W,) the balance of every window, dB; NaN for windows too quiet to judge, and where one part opens the
            song alone for more than half of the window.
        starts_s: (W,) where each window starts, seconds.
    """

    song_db: float
    worst_db: float | None
    worst: tuple[float, float]
    causes: tuple[Pull, ...]
    stretch_causes: tuple[Pull, ...]
    measured: bool
    curve_db: Floats
    starts_s: Floats


class Lean(NamedTuple):
    """A stretch of the song in which the mix leans to one side.

    Args:
        db: the balance of its least even window, dB.
        span: start and end of the stretch, seconds.
        causes: the parts that pull that window.
    """

    db: float
    span: tuple[float, float]
    causes: tuple[Pull, ...]


class _Sides(NamedTuple):
    """The energies of the parts: left and right (P, T) step by step, and (P, W) window by window; and their balance."""

    parts: tuple[MixEnergy, ...]
    left: Floats
    right: Floats
    window_l: Floats
    window_r: Floats
    curve: Floats
    width: int


@per_session
def imbalance(context: SessionContext) -> Imbalance | Unknown:
    """The stereo balance of the session.

    Unknown where the mix bus or a gain on the path of an audible part is not known, and where nothing sounds.
    """
    import numpy as np

    sides = _sides(context)
    if isinstance(sides, Unknown):
        return sides
    edges, curve = time_grid(context), sides.curve
    worst_db: float | None = None
    span = (0.0, float(edges[-1]))
    stretch_causes: tuple[Pull, ...] = ()
    if has_arrangement(context) and curve.size and not np.isnan(curve).all():
        worst_db, span, stretch_causes = _lean_at(context, sides, int(np.nanargmax(np.abs(curve))))
    return Imbalance(
        power_ratio_db(float(sides.left.sum()), float(sides.right.sum())),
        worst_db,
        span,
        _causes(context, sides.parts, sides.left.sum(axis=1), sides.right.sum(axis=1)),
        stretch_causes,
        all(part.measured for part in sides.parts),
        curve,
        edges[: curve.size],
    )


MOST_LEANS: Final = 3
"""So many of the least even stretches are told of: wording, no verdict asks it."""


LEAST_LEAN_DB: Final = 1.0
"""A stretch that leans by less is not told of, dB: wording, likewise."""


@per_session
def leans(context: SessionContext) -> tuple[Lean, ...] | Unknown:
    """The least even stretches of the song, the worst first; those after it lean at least half as far, and lie apart.

    None where it stays even, is shorter than a window, or the export holds no clip. Unknown as :func:`imbalance`.
    """
    import numpy as np

    sides = _sides(context)
    if isinstance(sides, Unknown):
        return sides
    curve, found = sides.curve.copy(), list[Lean]()
    step = float(time_grid(context)[1])
    while has_arrangement(context) and len(found) < MOST_LEANS and curve.size and not np.isnan(curve).all():
        at = int(np.nanargmax(np.abs(curve)))
        if abs(curve[at]) < max(LEAST_LEAN_DB, abs(found[0].db) / 2.0 if found else 0.0):
            break
        found.append(_lean_at(context, sides._replace(curve=curve), at))
        first, last = (round(edge / step) for edge in found[-1].span)
        curve[max(0, first - sides.width + 1) : last] = np.nan
    return tuple(found)


def _lean_at(context: SessionContext, sides: _Sides, at: int) -> Lean:
    """The stretch about a window."""
    edges = time_grid(context)
    first, last = _same_side(sides.curve, at)
    span = (float(edges[first]), float(edges[min(last + sides.width, edges.size - 1)]))
    return Lean(
        float(sides.curve[at]), span, _causes(context, sides.parts, sides.window_l[:, at], sides.window_r[:, at])
    )


@per_session
def _sides(context: SessionContext) -> _Sides | Unknown:
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
    width = max(1, round(context.setting(STRETCH) / steps[0]))
    together = _together(_by_instrument(context, parts, left, right), context.setting(ALONE))
    window_l, window_r = windows(left * together, width), windows(right * together, width)
    curve = balance_curve(window_l.sum(axis=0), window_r.sum(axis=0), context.setting(QUIET))
    curve = np.where(2.0 * windows(together[None], width)[0] < width, np.nan, curve)
    return _Sides(parts, left, right, window_l, window_r, curve, width)


def _by_instrument(context: SessionContext, parts: Sequence[MixEnergy], left: Floats, right: Floats) -> Floats:
    """(I, T) the energy of the parts, those of one role on one side taken as one: the microphones of one guitar."""
    import numpy as np

    found: dict[object, Floats] = {}
    for part, on_left, on_right in zip(parts, left, right, strict=True):
        key = (context.role(part.channel) or part.channel, bool(on_left.sum() > on_right.sum()))
        found[key] = found.get(key, 0.0) + on_left + on_right
    return np.array(list(found.values()))


def _together(energy: Floats, alone_percent: float) -> Floats:
    """0 for each step (T,) at the beginning of the song in which one part plays alone, else 1; all 1 where all are so.

    A guitar that opens a song by itself leans to its side, and there is nothing yet that could answer it.

    Args:
        energy: (I, T) the energy of every instrument.
        alone_percent: the share of the whole from which on a part is alone, %.
    """
    import numpy as np

    whole = energy.sum(axis=0)
    alone = 100.0 * energy.max(axis=0) >= alone_percent * whole  # silence counts as alone
    opening = np.logical_and.accumulate(alone)
    return np.ones(whole.shape) if opening.all() else np.where(opening, 0.0, 1.0)


def windows(energy: Floats, width: int) -> Floats:
    """Sums (parts, T − width + 1) over every window of ``width`` steps; none where the song is shorter."""
    import numpy as np

    if energy.shape[1] < width:
        return np.zeros((energy.shape[0], 0))
    run = np.concatenate([np.zeros((energy.shape[0], 1)), np.cumsum(energy, axis=1)], axis=1)
    return np.asarray(np.clip(run[:, width:] - run[:, :-width], 0.0, None))


def balance_curve(left: Floats, right: Floats, quiet_db: float) -> Floats:
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


def _causes(context: SessionContext, parts: tuple[MixEnergy, ...], left: Floats, right: Floats) -> tuple[Pull, ...]:
    """Parts whose surplus on the heavier side moves the balance, greatest first.

    What parts that answer each other have alike on both sides pulls nowhere: of a pair only what the one has over the
    other counts, and of three guitars what the two on one side have over the third, the greater of the two first.

    Args:
        context: the session context.
        parts: the parts, P of them.
        left, right: (P,) their energies.
    """
    total_l, total_r = float(left.sum()), float(right.sum())
    now = power_ratio_db(total_l, total_r)
    surplus = [float(one - other) if now > 0 else float(other - one) for one, other in zip(left, right, strict=True)]
    found = []
    for group in _answering(context, [part.channel for part in parts]):
        heavy = sorted((k for k in group if surplus[k] > 0.0), key=lambda k: -surplus[k])
        light = sorted((k for k in group if surplus[k] < 0.0), key=lambda k: surplus[k])
        over = sum(surplus[k] for k in group)
        for k in heavy:
            share = min(max(over, 0.0), surplus[k]) / surplus[k]
            over -= surplus[k]
            rest_l, rest_r = max(total_l - share * float(left[k]), 0.0), max(total_r - share * float(right[k]), 0.0)
            if rest_l + rest_r <= 0.0:
                rest_l = rest_r = 1.0  # nothing is left: an even balance
            after = power_ratio_db(rest_l, rest_r)
            # Where taking it away tips the balance over, turning it down by less makes it even.
            moved = abs(now) if (after > 0) != (now > 0) else abs(now) - abs(after)
            if moved > context.setting(LEAST_PULL):
                found.append(Pull(parts[k].channel, moved, parts[light[0]].channel if light else ""))
    return tuple(sorted(found, key=lambda pull: -pull.db))


def _answering(context: SessionContext, channels: list[str]) -> list[list[int]]:
    """Places in ``channels`` by parts that answer each other: named alike but for side and number, or counterparts."""
    place = {channel: k for k, channel in enumerate(channels)}
    group_of = list(range(len(channels)))

    def join(one: int, other: int) -> None:
        kept, gone = group_of[one], group_of[other]
        group_of[:] = [kept if group == gone else group for group in group_of]

    by_stem: dict[str, int] = {}
    for channel, k in place.items():
        stem = name_stem(context, context.channels[channel])
        if stem:
            join(by_stem.setdefault(stem, k), k)
    for near in counterparts(context).values():
        if near.one in place and near.other in place:
            join(place[near.one], place[near.other])
    groups: dict[int, list[int]] = {}
    for k, group in enumerate(group_of):
        groups.setdefault(group, []).append(k)
    return list(groups.values())
