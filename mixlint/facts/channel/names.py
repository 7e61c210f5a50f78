"""Channels that share one name."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import fold_name


@per_session
def namesakes(context: SessionContext) -> dict[str, tuple[str, ...]]:
    """Channel id → ids of the other channels that bear the same name, case and spaces aside."""

    groups: dict[str, list[str]] = {}
    for channel in context.session.channels:
        groups.setdefault(fold_name(channel.name), []).append(channel.id)
    return {one: tuple(o for o in ids if o != one) for ids in groups.values() for one in ids}
