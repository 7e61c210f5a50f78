"""What the export seems to have dropped, and what must stay open because of it.

A return that nothing is sent to is a finding in a session that has sends, and says nothing in an export that has none
at all. Facts that rest on something dropped answer ``Unknown``, so that every rule over them turns open by itself.
"""

from __future__ import annotations

from typing import Final

from mixlint.session import Gap, Unknown
from mixlint.study.desk import Desk

ENOUGH_CHANNELS: Final = 4
"""A session smaller than this may well have no sends or groups (common practice, no source)."""

SETTLE: Final = "export the session again with its routing and automation, or confirm that it has none"


def gaps(desk: Desk) -> dict[Gap, str]:
    """What is missing, each with the ground for thinking so."""
    return desk.remembered("gaps", lambda: _gaps(desk))


def _gaps(desk: Desk) -> dict[Gap, str]:
    session = desk.session
    found: dict[Gap, str] = {}
    if "outputs" in session.gaps:
        found["outputs"] = "no channel has an output in the export"
    if "automation" in session.gaps:
        found["automation"] = "automation in the export aims at parameters that are not there"
    if "sends" in session.gaps or _returns_without_sends(desk):
        found["sends"] = "the export has effect returns and not one send"
    if "groups" in session.gaps or _groups_without_feeds(desk):
        found["groups"] = "the export has groups that no channel goes out to"
    return found


def _returns_without_sends(desk: Desk) -> bool:
    channels = desk.session.channels
    if len(channels) < ENOUGH_CHANNELS or any(c.sends for c in channels):
        return False
    returns = [c for c in channels if c.kind == "return"]
    fed = desk.routing.wiring.arriving
    return bool(returns) and not any(fed.get(c.id) for c in returns)


def _groups_without_feeds(desk: Desk) -> bool:
    channels = desk.session.channels
    groups = [c for c in channels if c.kind == "group"]
    fed = desk.routing.wiring.arriving
    tracks = [c for c in channels if c.kind == "track"]
    return len(tracks) >= ENOUGH_CHANNELS and len(groups) >= 2 and not any(fed.get(g.id) for g in groups)


def open_by_gap(desk: Desk, *kinds: Gap) -> Unknown | None:
    """The reason to leave a fact open that rests on one of ``kinds``, or None when nothing of it is missing."""
    missing = gaps(desk)
    for kind in kinds:
        if kind in missing:
            return Unknown(unknown=missing[kind], settle=SETTLE)
    return None
