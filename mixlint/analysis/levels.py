"""Levels of parts and returns against each other, and against what is usual in the session.

Where the audio is open they are measured; without it every part is taken to play at one loudness, so that they are
what the gains make of it: good enough for an outlier, not for a balance.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import MixEnergy, energy_at_mix, source_energies
from mixlint.analysis.gain_to_mix_bus import energy_forms
from mixlint.session import Channel, Unknown, is_known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class LevelAgainst(NamedTuple):
    """How loud something arrives at the mix bus against something else.

    Args:
        db: the difference, dB.
        measured: False where the loudness of a part in it is assumed.
    """

    db: float
    measured: bool


@per_session
def part_against_the_rest(context: SessionContext, channel: Channel) -> LevelAgainst | Unknown:
    """How loud a part arrives while it plays: against all the others together, or without audio against their median.

    Other parts of its own role do not count among the others. Unknown where a level is not known, and where nothing
    else plays with it.
    """
    import numpy as np

    from mixlint.signal.median import median

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    own = next((part for part in parts if part.channel == channel.id), None)
    role = context.role(channel.id)
    others = [part for part in parts if context.role(part.channel) != role]
    if own is None or not others:
        return Unknown(unknown="no other part plays")
    mine = own.left + own.right
    sings = mine > 0.0
    if not sings.any():
        return Unknown(unknown="it never sounds")
    measured = own.measured and all(part.measured for part in others)
    together = [float((part.left + part.right)[sings].mean()) for part in others]
    playing = [energy for energy in together if energy > 0.0]
    if not playing:
        return Unknown(unknown="no other part plays with it")
    if measured:
        against = sum(playing)
    else:
        # While it plays: a part that rests half of that time is not half as loud.
        against = median([_while_playing(part, sings) for part in others if _while_playing(part, sings) > 0.0])
    return LevelAgainst(float(10.0 * np.log10(float(mine[sings].mean()) / against)), measured)


def _while_playing(part: MixEnergy, among: NDArray[np.bool_]) -> float:
    """The mean energy of a part over the steps among some in which it sounds; 0 where it never does."""
    energy = (part.left + part.right)[among]
    sounding = energy[energy > 0.0]
    return float(sounding.mean()) if sounding.size else 0.0


@per_session
def return_against_its_sources(context: SessionContext, channel: Channel) -> LevelAgainst | Unknown:
    """How loud a return arrives at the mix bus against the dry sound of the parts that feed it, all the song together.

    Unknown where a gain is not known, where a send before the fader feeds the most of it, whose dry sound may be meant
    to be gone, and where nothing feeds it.
    """
    from math import log10

    routing = context.routing
    why = routing.unknown_on_the_path.get(channel.id, ())
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    feeding = routing.wiring.upstream([channel.id], routing.wiring.audible) - {channel.id}
    dry = {part.channel: part for part in parts if part.channel in feeding}
    fed, before_fader = _power_in(context)[channel.id]
    if not dry or fed <= 0.0:
        return Unknown(unknown="nothing that plays feeds it")
    if before_fader > fed / 2.0:
        return Unknown(unknown="a send before the fader feeds it, whose dry sound may be meant to be gone")
    direct, ambience = energy_forms(context, channel.id)
    out = float((direct + ambience).sum(axis=(-1, -2, -3)).mean())
    against = 0.0
    for one in dry:
        form, _ = energy_forms(context, one)
        own = form.sum(axis=(-1, -2, -3))
        against += _source_power(context)[one] * float(own.mean())
    if against <= 0.0 or out <= 0.0:
        return Unknown(unknown="the parts that feed it have no dry sound in the mix")
    return LevelAgainst(10.0 * log10(fed * out / against), all(part.measured for part in dry.values()))


@per_session
def usual_return_level(context: SessionContext) -> dict[str, float]:
    """Return id → the median of what :func:`return_against_its_sources` gives for the other returns, dB."""
    from mixlint.signal.median import median

    levels = {}
    for channel in context.session.channels:
        if is_return(context, channel):
            found = return_against_its_sources(context, channel)
            if is_known(found):
                levels[channel.id] = found.db
    return {one: median([db for other, db in levels.items() if other != one]) for one in levels if len(levels) > 1}


@per_session
def _source_power(context: SessionContext) -> dict[str, float]:
    """Part id → its mean power per leg at the input of its strip while it sounds."""
    parts = [c for c in context.session.channels if is_source(context, c) and is_audible(context, c)]
    found = {}
    for one, energy in source_energies(context, parts).items():
        power = energy.legs.mean(axis=0)
        sounding = power[power > 0.0]
        found[one] = float(sounding.mean()) if sounding.size else 0.0
    return found


@per_session
def _power_in(context: SessionContext) -> dict[str, tuple[float, float]]:
    """Channel id → the power per leg that arrives at its input, all sources added, and how much of it before a fader.

    Controls count as they stand now; filters and pans do not. Loops are cut at their weakest.
    """
    from mixlint.routing.strips import amplitude, fader_db, level_gain, unmuted

    routing = context.routing
    own = _source_power(context)
    found: dict[str, tuple[float, float]] = {}
    arriving: dict[str, list[tuple[float, bool]]] = {}
    for channel_id in reversed(routing.upstream_order):
        fed = arriving.get(channel_id, [])
        power = own.get(channel_id, 0.0) + sum(one for one, _ in fed)
        found[channel_id] = (power, sum(one for one, before in fed if before))
        channel = context.channels[channel_id]
        gain = level_gain(channel) if unmuted(channel) else 0.0
        after = gain * amplitude(fader_db(channel))
        for edge in routing.leaving.get(channel_id, ()):
            taken = (gain if edge.tap == "pre" else after) * amplitude(edge.level_db)
            arriving.setdefault(edge.to, []).append((power * taken**2, edge.tap == "pre"))
    return found
