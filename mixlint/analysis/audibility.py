"""Which channels are audible at the mix bus, so that a muted take is nobody's finding."""

from __future__ import annotations

from collections.abc import Set

from mixlint.analysis.automation_range import always_muted
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import unknown_by_gap
from mixlint.routing import Edge
from mixlint.session import FADER, MUTE, Channel, Unknown, control_of, is_known
from mixlint.units import SILENCE_DB


def is_audible(context: SessionContext, channel: Channel) -> bool:
    """True when a path leads from the channel to the mix bus on which nothing stays muted, the channel included.

    A mute of unknown state counts as open, an unknown output as none; :func:`audibility` keeps both unknown.
    """
    return channel.id in _audible(context)


@per_session
def _audible(context: SessionContext) -> Set[str]:
    """Ids of the audible channels, the mix bus among them."""
    return _unmuted_to_the_mix(context, _silenced(context))


@per_session
def _silenced(context: SessionContext) -> frozenset[str]:
    """Channels that a mute keeps silent for as long as anything plays through them."""
    return frozenset(c.id for c in context.session.channels if always_muted(context, c))


def _unmuted_to_the_mix(context: SessionContext, silent: Set[str]) -> Set[str]:
    """Ids of the channels with a path to the mix bus that passes no ``silent`` channel, the mix bus among them."""
    wiring = context.routing.wiring
    if not isinstance(wiring.mix_bus, str) or wiring.mix_bus in silent:
        return frozenset()
    return wiring.upstream([wiring.mix_bus], lambda edge: edge.source not in silent)


def is_heard(context: SessionContext, channel: Channel) -> bool:
    """True when the channel is audible at the mix bus and no fader on its path there stays fully down.

    A path by a pre-fader send does not pass the fader of the channel it leaves. A fader whose position is not known
    counts as up.
    """
    return channel.id in _heard(context)


@per_session
def _heard(context: SessionContext) -> Set[str]:
    """Ids of the channels of which something is heard at the mix bus, that bus among them."""
    wiring, silent, down = context.routing.wiring, _silenced(context), _fully_down(context)
    if not isinstance(wiring.mix_bus, str) or wiring.mix_bus in silent | down:
        return frozenset()

    def sounds(edge: Edge) -> bool:
        return edge.source not in silent and (edge.tap == "pre" or edge.source not in down)

    return wiring.upstream([wiring.mix_bus], sounds)


@per_session
def _fully_down(context: SessionContext) -> frozenset[str]:
    """Channels whose fader stays fully down, whatever automation does."""
    highest = ((c.id, control_of(c, FADER).highest) for c in context.session.channels)
    return frozenset(one for one, level in highest if is_known(level) and level <= SILENCE_DB)


@per_session
def sounding_without(context: SessionContext, channel: Channel) -> Set[str]:
    """Ids of the channels that sound at the mix bus with one channel silent."""
    silent = _silenced(context)
    return _sounding(context) if channel.id in silent else _unmuted_to_the_mix(context, silent | {channel.id})


@per_session
def sounding_through(context: SessionContext, channel: Channel) -> Set[str]:
    """Ids of the channels that sound at the mix bus with one channel open, and do not with it silent."""
    wiring, silent, sounding = context.routing.wiring, _silenced(context), _sounding(context)
    if channel.id == wiring.mix_bus:
        return _unmuted_to_the_mix(context, silent - {channel.id})
    if channel.id not in silent:
        feeds = wiring.arriving.get(channel.id, ())
        return sounding - sounding_without(context, channel) if feeds else sounding & {channel.id}
    if not any(edge.to in sounding for edge in wiring.leaving.get(channel.id, ())):
        return frozenset()
    return wiring.upstream([channel.id], lambda edge: edge.source not in silent) - sounding


@per_session
def _sounding(context: SessionContext) -> Set[str]:
    """Ids of the channels that sound at the mix bus as the session stands."""
    return _unmuted_to_the_mix(context, _silenced(context))


def audibility(context: SessionContext, channel: Channel) -> bool | Unknown:
    """Whether a channel is audible at the mix bus.

    Returns:
        True or False where the export settles it. Unknown where it depends on a mute, an output or a mix bus that the
        export does not show.
    """
    wiring = context.routing.wiring
    if channel.id in wiring.muted:
        return False
    if isinstance(wiring.mix_bus, Unknown):
        return wiring.mix_bus
    if not is_audible(context, channel):
        return False if always_muted(context, channel) else unknown_path(context, channel) or False
    return _unknown_mute(context, channel) or True


@per_session
def _with_unknown_mute(context: SessionContext) -> frozenset[str]:
    """Channels whose mute the export does not show, and no automation either."""
    return frozenset(c.id for c in context.session.channels if control_of(c, MUTE).unknown)


@per_session
def _surely_audible(context: SessionContext) -> Set[str]:
    """Ids of the channels that are audible whatever the state of the mutes that are not known."""
    return _unmuted_to_the_mix(context, _silenced(context) | _with_unknown_mute(context))


def _unknown_mute(context: SessionContext, channel: Channel) -> Unknown | None:
    """The unknown mute that keeps it open whether a channel is audible; None where a path avoids all such mutes."""
    unsure = _with_unknown_mute(context)
    if not unsure or channel.id in _surely_audible(context):
        return None
    silent = _silenced(context)
    for here in context.routing.wiring.downstream([channel.id], lambda edge: edge.to not in silent):
        mute = control_of(context.channels[here], MUTE).unknown
        if here in unsure and mute is not None:
            who = context.name(here)
            return Unknown(unknown=f"the mute of {who}: {mute.unknown}", settle=f"look whether {who} is muted")
    return None


def unknown_path(context: SessionContext, channel: Channel) -> Unknown | None:
    """Why it is not known whether a channel reaches the mix bus: part of its path is not in the export.

    Returns:
        The output or the dropped routing that is missing; None where the path is known, or the channel is muted.
    """
    wiring = context.routing.wiring
    if channel.id in wiring.muted:
        return None
    gap = unknown_by_gap(context, "outputs", "groups")
    if gap is not None:
        return gap
    for here in wiring.downstream([channel.id], lambda edge: edge.to not in wiring.muted):
        output = context.channels[here].output
        if isinstance(output, Unknown) and here != wiring.mix_bus:
            return Unknown(unknown=f"the output of {context.name(here)}: {output.unknown}", settle="look at its output")
    return None
