"""How much of each part arrives left and right at the mix bus over the song.

With audio, the K-weighted energy of each part is measured and carried through its gains. Without, every part is
taken to play at one and the same loudness while its clips sound; that is an estimate, and it says so.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.session import Channel, Unknown, is_known
from mixlint.study.activity import grid, playing, sounding_clips
from mixlint.study.desk import Desk
from mixlint.study.gaps import open_by_gap
from mixlint.study.parts import is_audible, is_source
from mixlint.study.song import direct_and_ambience

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Measure

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Arrival:
    """The energy of one part at the mix bus, per step of the grid: ``left`` and ``right`` (T,), ambience included.

    ``measured`` is False where the part's own loudness is assumed.
    """

    channel: str
    left: Floats
    right: Floats
    measured: bool


def arrivals(desk: Desk) -> tuple[Arrival, ...] | Unknown:
    """Every audible part that reaches the mix bus, or why that cannot be told."""
    return desk.remembered("arrivals", lambda: _arrivals(desk))


def _arrivals(desk: Desk) -> tuple[Arrival, ...] | Unknown:
    import numpy as np

    routing = desk.routing
    if isinstance(routing.wiring.mix_bus, Unknown):
        return routing.wiring.mix_bus
    gap = open_by_gap(desk, "outputs", "groups")
    if gap is not None:
        return gap
    parts = [c for c in desk.session.channels if is_source(desk, c) and is_audible(desk, c)]
    for part in parts:
        why = routing.unknown_on_the_way.get(part.id, ())
        if why:
            return Unknown(unknown=f"not known on the way of {desk.name(part.id)}: {why[0]}", settle="export it again")
    levels = source_energies(desk, parts)
    found = []
    for part in parts:
        direct, ambience = direct_and_ambience(desk, part.id)
        energy, measured = levels[part.id]
        if routing.legs[part.id] == 1:
            # A mono part stands on both legs alike: its paths add as one signal.
            sides = np.abs(direct.sum(axis=-1)) ** 2 + ambience.sum(axis=(-1, -2))
            left, right = sides[:, 0] * energy[0], sides[:, 1] * energy[0]
        else:
            sides = np.abs(direct) ** 2 + np.diagonal(ambience, axis1=-2, axis2=-1)
            left = (sides[:, 0] * energy.T).sum(axis=-1)
            right = (sides[:, 1] * energy.T).sum(axis=-1)
        found.append(Arrival(part.id, left, right, measured))
    return tuple(found)


def source_energies(desk: Desk, parts: list[Channel]) -> dict[str, tuple[Floats, bool]]:
    """The energy of each part before its strip, per leg and step (legs, T), and whether it was measured.

    A part that cannot be measured is taken at the mean energy of the measured ones while it plays (1.0 where none
    is measured), shared by its legs.
    """
    import numpy as np

    measured = {part.id: energy for part in parts if (energy := measured_energy(desk, part)) is not None}
    sounding = [e.sum(axis=0)[e.sum(axis=0) > 0.0].mean() for e in measured.values() if e.any()]
    typical = float(np.mean(sounding)) if sounding else 1.0
    levels: dict[str, tuple[Floats, bool]] = {}
    for part in parts:
        if part.id in measured:
            levels[part.id] = (measured[part.id], True)
        else:
            legs = desk.routing.legs[part.id]
            levels[part.id] = (np.tile(playing(desk, part.id) * typical / legs, (legs, 1)), False)
    return levels


def measured_energy(desk: Desk, part: Channel) -> Floats | None:
    """The K-weighted energy of a part from its files, per leg and step (legs, T), or None where it cannot be had."""
    if desk.audio is None:
        return None
    audio = desk.audio
    return desk.remembered(f"energy {part.id}", lambda: _measured_energy(desk, part, audio.measure))


def _measured_energy(desk: Desk, part: Channel, heard: Callable[[str], Measure | Unknown]) -> Floats | None:
    import numpy as np

    edges = grid(desk)
    legs = desk.routing.legs[part.id]
    total = np.zeros((legs, edges.size - 1))
    clips = [c for c in part.clips if c.on is not False and c.end_s > c.start_s]
    if not clips or not sounding_clips(part):
        return None
    for clip in clips:
        if clip.file is None or not is_known(clip.offset_s) or not is_known(clip.gain_db):
            return None
        measure = heard(clip.file)
        if isinstance(measure, Unknown):
            return None
        speed = clip.speed if is_known(clip.speed) else 1.0
        # The steps that the clip touches, cut to what it covers of the first and the last.
        first = int(np.searchsorted(edges, clip.start_s, side="right") - 1)
        last = min(int(np.searchsorted(edges, clip.end_s, side="left")), edges.size - 1)
        cuts = np.clip(edges[first : last + 1], clip.start_s, clip.end_s)
        energy = measure.energy_at(clip.offset_s + (cuts - clip.start_s) * speed)
        share = np.diff(cuts) / np.diff(edges[first : last + 1])
        total[:, first:last] += _fitted(energy, legs) * share * 10.0 ** (clip.gain_db / 10.0)
    return total


def _fitted(energy: Floats, legs: int) -> Floats:
    """Energy (legs of a file, T) as (legs of a strip, T): a mono file stands on both legs of a stereo strip."""
    import numpy as np

    if energy.shape[0] == legs:
        return energy
    if legs == 1:
        return np.asarray(energy.mean(axis=0, keepdims=True))
    return np.repeat(energy, 2, axis=0) if energy.shape[0] == 1 else energy[:2]
