"""How much energy of each part arrives left and right at the mix bus over the song.

With audio, the K-weighted energy of each part (ITU-R BS.1770) is measured and carried through its gains band by band.
Without, every part is taken to play at one and the same loudness while its clips sound, with the spectrum usual for its
kind of part; that is an estimate, and it says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.analysis.activity import clips_on, playing, steps_of, time_grid
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gain_to_mix_bus import energy_forms
from mixlint.analysis.gaps import unknown_by_gap
from mixlint.session import Channel, Unknown, is_known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class MixEnergy:
    """The energy of one part at the mix bus, direct sound and ambience together.

    Args:
        channel: id of the part.
        left, right: (T,) mean square per step of the time grid.
        measured: False where the part's own loudness is assumed.
    """

    channel: str
    left: Floats
    right: Floats
    measured: bool


@per_session
def energy_at_mix(context: SessionContext) -> tuple[MixEnergy, ...] | Unknown:
    """The energy of every audible part at the mix bus, in desk order.

    Its paths, direct and ambience together, are a quadratic form for each side, with what its own spectrum keeps behind
    their filters. The energy of a side is the form's diagonal times the legs' energies, plus twice its other element
    times what the legs share, their mean product. A part of one leg is the same on both: all elements add.

    Unknown where the mix bus, a gain on the path of a part, or routing that the export dropped is not known.
    """
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
                unknown=f"not known on the path of {context.name(part.id)}: {why[0]}", settle="export it again"
            )
    damaged = damaged_file(context, parts)
    if damaged is not None:
        return damaged
    levels = source_energies(context, parts)
    found = []
    for part in parts:
        direct, ambience = energy_forms(context, part.id)
        left, right = sides_at_mix(context, part.id, direct + ambience, levels[part.id])
        found.append(MixEnergy(part.id, left, right, levels[part.id].measured))
    return tuple(found)


def sides_at_mix(context: SessionContext, channel_id: str, form: Floats, energy: SourceEnergy) -> tuple[Floats, Floats]:
    """The energy left and right at the mix bus, each (T,), that a form (T or 1, 2, 2, 2) makes of a channel's own."""
    import numpy as np

    if context.routing.legs[channel_id] == 1:
        # A mono part is the same on both legs: its paths add as one signal.
        sides = form.sum(axis=(-1, -2)) * energy.legs.T
    else:
        # What both legs share adds as one signal wherever they are brought together.
        sides = (np.diagonal(form, axis1=-2, axis2=-1) * energy.legs.T[:, None, :]).sum(axis=-1)
        sides = sides + 2.0 * form[..., 0, 1] * energy.cross[:, None]
    left, right = np.clip(sides, 0.0, None).T
    return left, right


def damaged_file(context: SessionContext, parts: list[Channel]) -> Unknown | None:
    """Why the energy of a part cannot be had: a file that it plays is damaged, so that nothing may be assumed of it."""
    if context.audio is None:
        return None
    for file in dict.fromkeys(clip.file for part in parts for clip in clips_on(part) if clip.file is not None):
        measure = context.audio.measure(file)
        if isinstance(measure, Unknown) and context.audio.fault(file) is not None:
            return Unknown(unknown=f"a file that plays cannot be read: {measure.unknown}", settle=measure.settle)
    return None


@dataclass(frozen=True)
class SourceEnergy:
    """The K-weighted energy of one part at the input of its strip.

    Args:
        legs: (legs, T) mean square of each leg per step of the time grid, 1.0 for full scale.
        cross: (T,) mean product of the two legs; zeros for a part of one leg, and where nothing was measured.
        measured: True when it was measured, False when it is assumed.
    """

    legs: Floats
    cross: Floats
    measured: bool


def source_energies(context: SessionContext, parts: list[Channel]) -> dict[str, SourceEnergy]:
    """The energy of each of ``parts`` at the input of its strip, by channel id.

    A part that cannot be measured is taken to have the mean energy of the measured ones while it plays (1.0 where
    none is measured), divided evenly between its legs, which are taken to be uncorrelated.
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
    """The K-weighted energy of a part, measured in its files with clip gains and speeds carried.

    Returns:
        None where no audio was opened, no clip sounds, or a clip of the part cannot be followed: its file, offset or
        gain is not known, its file cannot be read, or it is warped or reversed.
    """
    if context.audio is None:
        return None
    import numpy as np

    edges = time_grid(context)
    legs = context.routing.legs[part.id]
    total, cross = np.zeros((legs, edges.size - 1)), np.zeros(edges.size - 1)
    clips = clips_on(part)
    if not clips:
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
        first, last = steps_of(edges, clip.start_s, clip.end_s)
        if last == first:
            continue
        cuts = np.clip(edges[first : last + 1], clip.start_s, clip.end_s)
        times = clip.offset_s + (cuts - clip.start_s) * clip.speed
        share = np.diff(cuts) / np.diff(edges[first : last + 1]) * 10.0 ** (clip.gain_db / 10.0)
        energy, shared = _on_strip_legs(measure.energy_at(times), measure.cross_at(times), legs)
        total[:, first:last] += energy * share
        cross[first:last] += shared * share
    return SourceEnergy(total, cross, True)


def _on_strip_legs(energy: Floats, cross: Floats, legs: int) -> tuple[Floats, Floats]:
    """Energy of a file carried onto the legs of a strip.

    A mono file goes to both legs of a stereo strip; a mono strip folds a stereo file to ½ (left + right), and a
    file of more legs to their mean energy.

    Args:
        energy: (legs of the file, T) mean squares.
        cross: (T,) mean product of the first two legs.
        legs: legs of the strip, 1 or 2.

    Returns:
        Mean squares (legs, T), and the mean product (T,) of the two legs, zeros for one.
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
