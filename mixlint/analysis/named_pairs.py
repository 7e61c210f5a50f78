"""Channels whose names pair: found once for a session, so that no channel asks all others."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import PairKind, paired_names
from mixlint.session import Channel


@per_session
def paired_by_name(context: SessionContext, channel: Channel) -> tuple[tuple[Channel, PairKind], ...]:
    """The channels whose names pair with that of ``channel``, in desk order, and how.

    The kind is what :func:`mixlint.naming.pair_kind` says of its name and the other's.
    """
    kinds, by_name = _pairs(context).get(channel.name, {}), _by_name(context)
    found = [(other, kind) for name, kind in kinds.items() for other in by_name[name]]
    return tuple(sorted(found, key=lambda pair: context.order[pair[0].id]))


@per_session
def _pairs(context: SessionContext) -> dict[str, dict[str, PairKind]]:
    """Name → each name of the session that it pairs with → how."""
    return paired_names(_by_name(context), context.house.vocabulary)


@per_session
def _by_name(context: SessionContext) -> dict[str, list[Channel]]:
    """Name → the channels that bear it, in desk order."""
    found: dict[str, list[Channel]] = {}
    for channel in context.session.channels:
        found.setdefault(channel.name, []).append(channel)
    return found
