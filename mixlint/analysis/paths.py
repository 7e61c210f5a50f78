"""By how many paths without a time effect each channel reaches the mix bus."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext, per_session
from mixlint.routing.parallel import Ways, direct_ways


@per_session
def ways_of(context: SessionContext) -> dict[str, Ways]:
    """Channel id → its direct paths to the mix bus."""
    return direct_ways(context.routing)
