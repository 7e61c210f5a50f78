"""The paths of a channel to the mix bus: how many are direct, and what is not known on them.

Facts of gains and ambience ask here first whether the numbers of the routing hold.
"""

from __future__ import annotations

from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.context import SessionContext, per_session
from mixlint.routing import AMBIENT, acting_inserts
from mixlint.routing.parallel import DirectPaths, direct_paths
from mixlint.session import Channel, NotKnown, Unknown


@per_session
def paths_of(context: SessionContext) -> dict[str, DirectPaths]:
    """Channel id → its direct paths to the mix bus, those without a time effect; channels without one are left out."""
    return direct_paths(context.routing)


def unknown_gain(context: SessionContext, channel_id: str) -> Unknown | None:
    """What is not known on the paths of a channel, so that its gain to the mix bus is not; None where all is known."""
    why = context.routing.unknown_on_the_path.get(channel_id, ())
    return Unknown(unknown=why[0], settle="export it again") if why else None


def need_gain(context: SessionContext, channel_id: str) -> None:
    """Go on only where the gain of a channel to the mix bus is known.

    Raises:
        NotKnown: something on its paths is not known.
    """
    why = unknown_gain(context, channel_id)
    if why is not None:
        raise NotKnown(why)


def unknown_wet_share(context: SessionContext, channel: Channel) -> Unknown | None:
    """The unknown wet share of a time effect inserted on a part's direct path, outside of effect returns.

    How much of the part is direct and how much ambience is not known then, though its level as a whole is.

    Returns:
        The first such share downstream; None where all are known.
    """
    found = context.routing.downstream([channel.id], lambda edge: not is_return(context, context.channels[edge.to]))
    for here in (context.channels[one] for one in found):
        for place, insert in acting_inserts(here).items():
            if isinstance(insert.wet, Unknown) and context.kinds[here.id].get(place) in AMBIENT:
                who = f"{insert.name} on {context.name(here.id)}"
                return Unknown(unknown=f"{who}: {insert.wet.unknown}", settle=f"look at the mix control of {who}")
    return None
