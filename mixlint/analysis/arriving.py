"""What of a part arrives at the mix bus, step by step: its direct sound, or its ambience where it has no other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.analysis.activity import playing, time_grid
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import SourceEnergy, damaged_file, sides_at_mix, source_energies
from mixlint.analysis.gain_to_mix_bus import energy_forms
from mixlint.analysis.like_sections import Section
from mixlint.analysis.paths import unknown_gain
from mixlint.session import Channel, Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Arriving:
    """One part at the mix bus.

    Args:
        form: (T or 1, 2, 2, 2) the energy form of the paths that count.
        left, right: (T,) K-weighted mean square in each step of the time grid.
        plays: (T,) True for the steps in which it plays.
        measured: False where its loudness is assumed.
    """

    form: Floats
    left: Floats
    right: Floats
    plays: NDArray[np.bool_]
    measured: bool


@per_session
def audible_parts(context: SessionContext) -> list[Channel]:
    """The parts of the song that are heard at the mix bus, in desk order."""
    return [c for c in context.session.channels if is_source(context, c) and is_audible(context, c)]


@per_session
def levels_of_parts(context: SessionContext) -> dict[str, SourceEnergy]:
    """Part id → its energy at the input of its strip."""
    return source_energies(context, audible_parts(context))


@per_session
def arriving(context: SessionContext, channel: Channel) -> Arriving | Unknown:
    """What arrives of an audible part.

    Unknown where a gain on its path is not known, a file that it plays is damaged, or nothing of it arrives.
    """
    why = gain_not_known(context, channel) or damaged_file(context, [channel])
    if why is not None:
        return why
    direct, ambience = energy_forms(context, channel.id)
    energy = levels_of_parts(context)[channel.id]
    plays = playing(context, channel.id) > 0.0
    for form in (direct, ambience):
        left, right = sides_at_mix(context, channel.id, form, energy)
        if (left + right)[plays].sum() > 0.0:
            return Arriving(form, left, right, plays, energy.measured)
    return Unknown(unknown="nothing of it arrives at the mix bus", settle="look at its fader and at those behind it")


def gain_not_known(context: SessionContext, channel: Channel) -> Unknown | None:
    """Why the gain of a channel to the mix bus is not known; None where it is."""
    mix_bus = context.routing.wiring.mix_bus
    return mix_bus if isinstance(mix_bus, Unknown) else unknown_gain(context, channel.id)


def power_in(context: SessionContext, part: Arriving, section: Section, *, while_playing: bool = True) -> float | None:
    """The mean power of a part in a section, both sides added.

    Args:
        context: the session context.
        part: what arrives of it.
        section: the section.
        while_playing: of the time in which it plays; else of the whole section.

    Returns:
        Mean square; None where it does not play there, or while_playing for less than a twentieth of the section.
    """
    import numpy as np

    edges = time_grid(context)
    middles = (edges[:-1] + edges[1:]) / 2.0
    inside = (middles >= section.start_s) & (middles < section.end_s)
    plays = inside & part.plays
    if not plays.any() or (while_playing and plays.sum() < LEAST_SHARE * inside.sum()):
        return None
    power = part.left + part.right
    return float(power[plays if while_playing else inside].mean()) if np.any(inside) else None


LEAST_SHARE: float = 0.05
"""A part that plays for less of a section has no level there, but an entry or an end: drawing alone."""
