"""What shares the centre with the voice: the parts in its own range that stand there beside it."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import playing, time_grid
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import ROUNDING, level_difference_db, panned_parts
from mixlint.analysis.settings import Setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.session import Channel, known

CENTRE: Final = Setting(
    "placement.centre",
    10.0,
    "pan distance",
    "As far from the centre as a part may stand and still share it with the voice.",
)
RIVAL_LEVEL: Final = Setting(
    "placement.rival_level", -6.0, "dB", "A part this far under the voice or less competes with it in the centre."
)
RIVAL_TIME: Final = Setting(
    "placement.rival_time", 50.0, "%", "A part that plays for this share of the voice's time or more competes with it."
)
RIVAL_SETTINGS: Final = (CENTRE, RIVAL_LEVEL, RIVAL_TIME, *SPECTRUM_SETTINGS)

RIVALS: Final = frozenset({"guitars", "plucked", "keys", "synths", "strings", "winds"})
"""Families that share the range of the voice."""


@per_session
def _central_rivals(context: SessionContext) -> list[Channel]:
    """Mono parts in the range of the voice that are panned to the centre, in desk order."""
    return [
        part
        for part in panned_parts(context)
        if abs(known(position_of(context, part))) <= context.setting(CENTRE)
        and context.family(part.id) in RIVALS
        and context.routing.legs[part.id] == 1
    ]


@per_session
def centre_rivals_of(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The parts in the range of the voice that share the centre with ``channel`` while it plays, in desk order."""
    import numpy as np

    steps = np.diff(time_grid(context))
    sung = playing(context, channel.id)
    level, time = context.setting(RIVAL_LEVEL), context.setting(RIVAL_TIME) / 100.0
    found = []
    for other in _central_rivals(context):
        if other.id == channel.id:
            continue
        both = float((np.minimum(sung, playing(context, other.id)) * steps).sum())
        difference = level_difference_db(context, other, channel)
        if both >= time * float((sung * steps).sum()) and difference is not None and difference >= level - ROUNDING:
            found.append(other)
    return tuple(found)
