"""What the export seems to have dropped, and what must stay open because of it.

A return that nothing is sent to is a finding in a session that has sends, and says nothing in an export that has none
at all. Facts that rest on something dropped answer ``Unknown``, so that every rule over them turns open by itself.
"""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.session import Gap, Unknown

LEAST_CHANNELS: Final = Setting(
    "export.least_channels", 4.0, "", "A session of fewer channels may well have no sends or groups to export."
)

SETTLE: Final = "export the session again with its routing and automation, or confirm that it has none"


@per_session
def gaps(context: SessionContext) -> dict[Gap, str]:
    """What is missing, each with the ground for thinking so."""
    session = context.session
    found: dict[Gap, str] = {}
    if "outputs" in session.gaps:
        found["outputs"] = "no channel has an output in the export"
    if "automation" in session.gaps:
        found["automation"] = "automation in the export aims at parameters that are not there"
    if "sends" in session.gaps or _returns_without_sends(context):
        found["sends"] = "the export has effect returns and not one send"
    if "groups" in session.gaps or _groups_without_feeds(context):
        found["groups"] = "the export has groups that no channel goes out to"
    return found


def _returns_without_sends(context: SessionContext) -> bool:
    channels = context.session.channels
    if len(channels) < context.setting(LEAST_CHANNELS) or any(c.sends for c in channels):
        return False
    returns = [c for c in channels if c.kind == "return"]
    fed = context.routing.wiring.arriving
    return bool(returns) and not any(fed.get(c.id) for c in returns)


def _groups_without_feeds(context: SessionContext) -> bool:
    channels = context.session.channels
    groups = [c for c in channels if c.kind == "group"]
    fed = context.routing.wiring.arriving
    tracks = [c for c in channels if c.kind == "track"]
    return (
        len(tracks) >= context.setting(LEAST_CHANNELS) and len(groups) >= 2 and not any(fed.get(g.id) for g in groups)
    )


def unknown_by_gap(context: SessionContext, *kinds: Gap) -> Unknown | None:
    """The reason to leave a fact open that rests on one of ``kinds``, or None when nothing of it is missing."""
    missing = gaps(context)
    for kind in kinds:
        if kind in missing:
            return Unknown(unknown=missing[kind], settle=SETTLE)
    return None
