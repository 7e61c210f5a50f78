"""What the export seems to have dropped, and what is not known because of it.

A return that nothing is sent to is a finding in a session that has sends, and says nothing in an export that has none
at all. Facts that need something dropped are ``Unknown``, so that every rule over them turns open by itself. How small
a session may be without sends or groups is common practice, no source.
"""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.session import Gap, Unknown, not_shown

LEAST_CHANNELS: Final = Setting(
    "export.least_channels", 4.0, "", "A session of fewer channels may well have no sends or groups to export."
)

LEAST_GROUPS: Final = Setting(
    "export.least_groups",
    2.0,
    "",
    "Fewer groups than this that nothing goes out to are no sign that the export dropped the routing.",
    lowest=1.0,
)

GAP_SETTINGS: Final = (LEAST_CHANNELS, LEAST_GROUPS)
"""What decides whether sends or groups count as dropped; every fact that asks :func:`unknown_by_gap` reads them."""

SETTLE: Final = "export the session again with its routing and automation, or confirm that it has none"


@per_session
def gaps(context: SessionContext) -> dict[Gap, str]:
    """What is missing from the export → why that is thought, for a reader: as the importer says, or as it looks."""
    session = context.session
    seen: dict[Gap, str] = {}
    if "outputs" in session.gaps:
        seen["outputs"] = "no channel has an output in the export"
    if "automation" in session.gaps:
        seen["automation"] = "automation in the export aims at parameters that are not there"
    if "sends" in session.gaps or _returns_without_sends(context):
        seen["sends"] = "the export has effect returns and not one send"
    if "groups" in session.gaps or ("outputs" not in session.gaps and _groups_without_feeds(context)):
        seen["groups"] = "the export has groups that no channel goes out to"
    form = session.source.form
    if not form:  # a form that has a place for it: the exporter dropped it
        return seen | {gap: not_shown(gap, "").unknown for gap in session.gaps if gap not in seen}
    return {gap: not_shown(gap, form).unknown if gap in session.gaps else seen[gap] for gap in (*session.gaps, *seen)}


def _returns_without_sends(context: SessionContext) -> bool:
    """True for a session with effect returns, not one of which is fed, and not one send."""
    channels = context.session.channels
    if len(channels) < context.setting(LEAST_CHANNELS) or any(c.sends for c in channels):
        return False
    returns = [c for c in channels if c.kind == "return"]
    fed = context.routing.wiring.arriving
    return bool(returns) and not any(fed.get(c.id) for c in returns)


def _groups_without_feeds(context: SessionContext) -> bool:
    """True for a session of several groups, not one of which is fed."""
    channels = context.session.channels
    groups = [c for c in channels if c.kind == "group"]
    fed = context.routing.wiring.arriving
    tracks = [c for c in channels if c.kind == "track"]
    large = len(tracks) >= context.setting(LEAST_CHANNELS) and len(groups) >= context.setting(LEAST_GROUPS)
    return large and not any(fed.get(g.id) for g in groups)


def unknown_by_gap(context: SessionContext, *kinds: Gap) -> Unknown | None:
    """The first of ``kinds`` that is missing, as the reason why a fact that needs it is not known.

    Args:
        context: the session context.
        kinds: what is needed, any of :data:`mixlint.session.GAPS`.

    Returns:
        None where nothing of it is missing.
    """
    missing = gaps(context)
    for kind in kinds:
        if kind in missing:
            return Unknown(unknown=missing[kind], settle=SETTLE)
    return None
