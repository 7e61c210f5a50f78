"""Channels that share one name."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import fold_name
from mixlint.session import Channel


@per_session
def namesakes(context: SessionContext) -> dict[str, tuple[str, ...]]:
    """Channel id → ids of the other channels that bear the same name, case and spaces aside.

    A bus in capitals above its part, ``VOX`` above ``Vox``, is told apart by them.
    """
    groups: dict[str, list[Channel]] = {}
    for channel in context.session.channels:
        groups.setdefault(fold_name(channel.name), []).append(channel)
    return {
        one.id: tuple(o.id for o in alike if o is not one and (o.kind == one.kind or o.name == one.name))
        for alike in groups.values()
        for one in alike
    }
