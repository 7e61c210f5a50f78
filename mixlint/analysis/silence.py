"""What a mix loses where one of its channels is silent: the lead, a family, a group of parts, an ambience, a part."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple, get_args

from mixlint.analysis.activity import share_beside
from mixlint.analysis.audibility import is_audible, sounding_through, sounding_without
from mixlint.analysis.channel_purpose import is_return, is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import parts_by_family
from mixlint.analysis.settings import Setting
from mixlint.session import Channel

Lost = Literal["lead", "family", "group", "ambience", "part", "nothing"]
LOST: Final = get_args(Lost)

LEAD: Final = "lead-vocal"

ALTERNATE: Final = Setting(
    "silence.alternate",
    50.0,
    "%",
    "A silent lead beside which another one sounds for this share of its time is an alternate, and no loss.",
)


SHARED: Final = Setting(
    "silence.shared",
    4.0,
    "",
    "With a return to which so many parts that sound are sent a whole ambience is lost; with one of the lead and "
    "another part it is lost too.",
    lowest=1.0,
)
LOSS_SETTINGS: Final = (ALTERNATE, SHARED)


class Loss(NamedTuple):
    """What is lost with a channel.

    Args:
        what: the gravest of what is lost.
        parts: the parts that come to the mix bus through it alone, itself among them; of an ambience those that are
            sent to it.
    """

    what: Lost
    parts: tuple[Channel, ...]


@per_session
def loss_without(context: SessionContext, channel: Channel) -> Loss:
    """What the mix loses while nothing of a channel sounds, or would lose without it.

    Parts whose role is the lead are the lead, unless another one sounds beside it. A family is lost where two parts of
    it or more have content and none of them sounds without the channel.
    """
    through = _parts_through(context, channel) or _mixed_through(context, channel)
    parts = tuple(part for part in through if not _alternate(context, part, channel))
    if not parts:
        sent = _sent_to(context, channel) if is_return(context, channel) else ()
        with_lead = len(sent) > 1 and any(context.role(part.id) == LEAD for part in sent)
        shared = with_lead or len(sent) >= context.setting(SHARED)
        return Loss("ambience", sent) if shared else Loss("nothing", ())
    if any(context.role(part.id) == LEAD for part in parts):
        return Loss("lead", parts)
    if _whole_family(context, parts):
        return Loss("family", parts)
    return Loss("group" if len(parts) > 1 else "part", parts)


def _parts_through(context: SessionContext, channel: Channel) -> list[Channel]:
    """The parts of the song that sound at the mix bus with the channel open, and do not without it."""
    lost = sorted(sounding_through(context, channel), key=context.order.__getitem__)
    return [part for part in map(context.channels.__getitem__, lost) if is_source(context, part)]


def _mixed_through(context: SessionContext, group: Channel) -> list[Channel]:
    """The parts that are mixed through a group, though their sends let their ambience sound without it."""
    if group.kind != "group":
        return []
    arriving = context.routing.wiring.arriving
    found: set[str] = set()
    ahead = [group.id]
    while ahead:
        own = {edge.source for edge in arriving.get(ahead.pop(), ()) if edge.kind == "output"} - found
        found |= own
        ahead += own
    found &= sounding_without(context, group)
    return [
        part
        for part in context.session.channels
        if part.id in found and is_source(context, part) and not _dry_past(context, part, group)
    ]


def _dry_past(context: SessionContext, part: Channel, group: Channel) -> bool:
    """True where a part has a way to the mix bus past a group and past every return."""
    wiring = context.routing.wiring
    ways = wiring.downstream(
        [part.id], lambda edge: edge.to != group.id and not is_return(context, wiring.by_id[edge.to])
    )
    return wiring.mix_bus in ways


def _sent_to(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The parts that sound and are sent to a return now."""
    edges = context.routing.wiring.arriving.get(channel.id, ())
    sent = {edge.source for edge in edges if edge.kind == "send"}
    return tuple(
        part
        for part in context.session.channels
        if part.id in sent and is_source(context, part) and is_audible(context, part)
    )


def _alternate(context: SessionContext, part: Channel, silent: Channel) -> bool:
    """True where another lead that does not depend on the silent channel sounds for most of this one's time."""
    if context.role(part.id) != LEAD:
        return False
    without = sounding_without(context, silent)
    least = context.setting(ALTERNATE) / 100.0
    return any(
        other.id != part.id
        and other.id in without
        and context.role(other.id) == LEAD
        and is_audible(context, other)
        and is_source(context, other)
        and share_beside(context, part.id, other.id) >= least
        for other in context.session.channels
    )


def _whole_family(context: SessionContext, parts: tuple[Channel, ...]) -> bool:
    """True when no part of a family of two or more would be left."""
    gone = {part.id for part in parts}
    return any(
        family is not None
        and len(members) > 1
        and any(one.id in gone for one in members)
        and not any(one.id not in gone and is_audible(context, one) for one in members)
        for family, members in parts_by_family(context).items()
    )
