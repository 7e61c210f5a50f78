"""How much of each part arrives left and right at the mix bus over the song.

With audio, the K-weighted energy of each part is measured and carried through its gains. Without, every part is
taken to play at one and the same loudness while its clips sound; that is an estimate, and it says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.analysis.activity import playing, sounding_clips, time_grid
from mixlint.analysis.audibility import is_audible, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gain_curves import direct_and_ambience_gains
from mixlint.analysis.gaps import unknown_by_gap
from mixlint.session import Channel, Unknown, is_known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class MixEnergy:
    """The energy of one part at the mix bus, per step of the grid: ``left`` and ``right`` (T,), ambience included.

    ``measured`` is False where the part's own loudness is assumed.
    """

    channel: str
    left: Floats
    right: Floats
    measured: bool


@per_session
def energy_at_mix(context: SessionContext) -> tuple[MixEnergy, ...] | Unknown:
    """Every audible part that reaches the mix bus, or why that cannot be told."""
    import numpy as np

    routing = context.routing
    if isinstance(routing.wiring.mix_bus, Unknown):
        return routing.wiring.mix_bus
    gap = unknown_by_gap(context, "outputs", "groups")
    if gap is not None:
        return gap
    parts = [c for c in context.session.channels if is_source(context, c) and is_audible(context, c)]
    for part in parts:
        why = routing.unknown_on_the_path.get(part.id, ())
        if why:
            return Unknown(
                unknown=f"not known on the way of {context.name(part.id)}: {why[0]}", settle="export it again"
            )
    levels = source_energies(context, parts)
    found = []
    for part in parts:
        direct, ambience = direct_and_ambience_gains(context, part.id)
        energy = levels[part.id]
        if routing.legs[part.id] == 1:
            # A mono part stands on both legs alike: its paths add as one signal.
            one = direct[..., 0] + direct[..., 1]
            form = ambience[..., 0, 0] + 2.0 * ambience[..., 0, 1] + ambience[..., 1, 1]
            sides = one.real**2 + one.imag**2 + form
            left, right = sides[:, 0] * energy.legs[0], sides[:, 1] * energy.legs[0]
        else:
            sides = np.abs(direct) ** 2 + np.diagonal(ambience, axis1=-2, axis2=-1)
            # What both legs share adds as one signal wherever they are brought together.
            shared = 2.0 * ((direct[..., 0].conj() * direct[..., 1]).real + ambience[..., 0, 1])
            both = (sides * energy.legs.T[:, None, :]).sum(axis=-1) + shared * energy.cross[:, None]
            left, right = np.clip(both, 0.0, None).T
        found.append(MixEnergy(part.id, left, right, energy.measured))
    return tuple(found)


@dataclass(frozen=True)
class SourceEnergy:
    """The energy of one part before its strip.

    Args:
        legs: (legs, T) mean squares per leg and step of the grid.
        cross: (T,) mean product of the two legs; zeros for a part of one leg, and where nothing was measured.
        measured: whether it was measured.
    """

    legs: Floats
    cross: Floats
    measured: bool


def source_energies(context: SessionContext, parts: list[Channel]) -> dict[str, SourceEnergy]:
    """The energy of each part before its strip.

    A part that cannot be measured is taken at the mean energy of the measured ones while it plays (1.0 where none
    is measured), shared by its legs, which are taken to have nothing in common.
    """
    import numpy as np

    measured = {part.id: energy for part in parts if (energy := measured_energy(context, part)) is not None}
    sums = [energy.legs.sum(axis=0) for energy in measured.values()]
    sounding = [total[total > 0.0].mean() for total in sums if total.any()]
    typical = float(np.mean(sounding)) if sounding else 1.0
    levels: dict[str, SourceEnergy] = {}
    uncorrelated = np.zeros(time_grid(context).size - 1)
    for part in parts:
        if part.id in measured:
            levels[part.id] = measured[part.id]
        else:
            legs, plays = context.routing.legs[part.id], playing(context, part.id)
            levels[part.id] = SourceEnergy(
                np.broadcast_to(plays * typical / legs, (legs, plays.size)), uncorrelated, False
            )
    return levels


@per_session
def measured_energy(context: SessionContext, part: Channel) -> SourceEnergy | None:
    """The K-weighted energy of a part from its files, or None where it cannot be had."""
    if context.audio is None:
        return None
    import numpy as np

    edges = time_grid(context)
    legs = context.routing.legs[part.id]
    total, cross = np.zeros((legs, edges.size - 1)), np.zeros(edges.size - 1)
    clips = [c for c in part.clips if c.on is not False and c.end_s > c.start_s]
    if not clips or not sounding_clips(part):
        return None
    for clip in clips:
        if clip.file is None or not is_known(clip.offset_s) or not is_known(clip.gain_db):
            return None
        if not is_known(clip.speed) or clip.speed <= 0.0:  # a warped or a reversed clip
            return None
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return None
        # The steps that the clip touches, cut to what it covers of the first and the last.
        first = max(0, int(np.searchsorted(edges, clip.start_s, side="right") - 1))
        last = min(int(np.searchsorted(edges, clip.end_s, side="left")), edges.size - 1)
        if last <= first:
            continue
        cuts = np.clip(edges[first : last + 1], clip.start_s, clip.end_s)
        times = clip.offset_s + (cuts - clip.start_s) * clip.speed
        share = np.diff(cuts) / np.diff(edges[first : last + 1]) * 10.0 ** (clip.gain_db / 10.0)
        energy, shared = _on_strip_legs(measure.energy_at(times), measure.cross_at(times), legs)
        total[:, first:last] += energy * share
        cross[first:last] += shared * share
    return SourceEnergy(total, cross, True)


def _on_strip_legs(energy: Floats, cross: Floats, legs: int) -> tuple[Floats, Floats]:
    """Energy (legs of a file, T) and its cross product (T,) as a strip has them.

    A mono file stands on both legs of a stereo strip; a mono strip folds a stereo file to ½ (left + right).
    """
    import numpy as np

    if energy.shape[0] == 1:
        return np.repeat(energy, legs, axis=0), energy[0] if legs == 2 else np.zeros_like(cross)
    if legs == 2:
        return energy[:2], cross
    if energy.shape[0] == 2:
        folded = np.clip((energy.sum(axis=0) + 2.0 * cross) / 4.0, 0.0, None)
    else:
        folded = energy.mean(axis=0)
    return folded[None], np.zeros_like(cross)
