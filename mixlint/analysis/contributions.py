"""What each part and return brings to the mix: its place, its gain to the mix bus, its energy there."""

from __future__ import annotations

from typing import NamedTuple

from mixlint.analysis.activity import playing
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.automation_range import position_of
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix
from mixlint.analysis.gain_to_mix_bus import audible_power_gain
from mixlint.analysis.paths import unknown_gain
from mixlint.session import Channel, Unknown, is_known
from mixlint.units import SILENCE_DB


class Contribution(NamedTuple):
    """One part or return in the mix.

    Args:
        channel: its id.
        a_return: it is an effect return.
        pan: −100 (left) … +100 (right), its mean while it plays where automation moves it.
        level_db: its gain to the mix bus, both sides added, dB; silence for one that is muted or leads nowhere.
        left, right: its mean energy at the mix bus over the song, ambience included; None where that is not known, and
            for a return, whose energy counts with the parts that feed it.
        measured: its energy was measured in its files, or none is told of it.
    """

    channel: str
    a_return: bool
    pan: float | Unknown
    level_db: float | Unknown
    left: float | None
    right: float | None
    measured: bool


@per_session
def contributions(context: SessionContext) -> tuple[Contribution, ...]:
    """Every part and every return of the song, in desk order."""
    energies = energy_at_mix(context)
    at_mix = {one.channel: one for one in energies} if is_known(energies) else {}
    found = []
    for channel in context.session.channels:
        a_return = is_return(context, channel)
        if not a_return and not is_source(context, channel):
            continue
        own = at_mix.get(channel.id)
        silent = 0.0 if is_known(energies) and not a_return else None  # not among them: nothing of it arrives
        left, right = (float(own.left.mean()), float(own.right.mean())) if own is not None else (silent, silent)
        found.append(
            Contribution(
                channel.id,
                a_return,
                position_of(context, channel),
                _level_db(context, channel),
                left,
                right,
                own is None or own.measured,
            )
        )
    return tuple(found)


def _level_db(context: SessionContext, channel: Channel) -> float | Unknown:
    from math import log10

    if not is_heard(context, channel):
        return SILENCE_DB
    if (why := unknown_gain(context, channel.id)) is not None:
        return why
    power = audible_power_gain(context, channel.id)
    if power.size > 1:
        plays = playing(context, channel.id)
        weights = plays if plays.any() else plays + 1.0
        mean = float((power * weights).sum() / weights.sum())
    else:
        mean = float(power[0])
    return max(SILENCE_DB, 10.0 * log10(mean)) if mean > 0.0 else SILENCE_DB
