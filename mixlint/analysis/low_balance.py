"""Who holds the low end of the mix: the energy of each part under about 90 Hz at the mix bus.

From the octave bands of the files, 31.6 and 63 Hz, unweighted, with clip gains, and the gains to the mix bus as they
stand now in those bands. Automation is left out, so that it is good to some decibels.
"""

from __future__ import annotations

from math import log10
from typing import Final, Literal, NamedTuple

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import BANDS, SessionContext, per_session
from mixlint.analysis.low_end import low_octaves
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.session import Channel, Unknown

CLEAR_FAMILIES: Final = frozenset({"vocals", "speech", "guitars", "plucked", "winds"})
"""Families of parts that have next to nothing to say down there; keys, synths, strings and kits may have."""

LOW_BANDS: Final = 2
"""The octaves of 31.6 and 63 Hz, which go up to 89 Hz."""


class LowShare(NamedTuple):
    """The energy of a part in the low end of the mix, and what it is there: kick, bass, a part that has no business
    there, or another."""

    channel: str
    energy: float
    task: Literal["kick", "bass", "clear", "other"]


@per_session
def low_shares(context: SessionContext) -> tuple[LowShare, ...] | Unknown:
    """The parts by their energy in the low end, the greatest first; Unknown where one is not measured."""
    import numpy as np

    if context.audio is None:
        return NOT_OPENED
    found = []
    for part in context.session.channels:
        if not is_source(context, part) or not is_audible(context, part):
            continue
        why = context.routing.unknown_on_the_path.get(part.id, ())
        if why:
            return Unknown(unknown=why[0], settle="export it again")
        energy = low_octaves(context, part, LOW_BANDS)
        if isinstance(energy, Unknown):
            return energy
        direct = context.gains_now.direct[part.id][0, BANDS][:LOW_BANDS].sum(axis=-1)
        arrives = float((np.abs(direct) ** 2).sum(axis=-1) @ energy)
        found.append(LowShare(part.id, arrives, _task(context, part)))
    return tuple(sorted(found, key=lambda one: -one.energy)) or Unknown(unknown="no part plays")


def _task(context: SessionContext, part: Channel) -> Literal["kick", "bass", "clear", "other"]:
    family = context.family(part.id)
    if context.role(part.id) == "kick":
        return "kick"
    if family == "bass":
        return "bass"
    return "clear" if family in CLEAR_FAMILIES else "other"


def task_over_db(shares: tuple[LowShare, ...], over: tuple[str, ...], under: tuple[str, ...]) -> float | Unknown:
    """How far parts of some tasks together lie over those of others, dB; Unknown where one side has no part."""
    sums = [sum(one.energy for one in shares if one.task in tasks) for tasks in (over, under)]
    if not all(any(one.task in tasks for one in shares) for tasks in (over, under)):
        return Unknown(unknown="the parts of the low end are not called so")
    return 10.0 * log10(max(sums[0], 1e-20) / max(sums[1], 1e-20))
