"""Families and their groups: which bus is a family's own, and which groups a part's main output passes.

That the parts of a family share a group is common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.naming import family_of
from mixlint.session import Channel

LEAST_MEMBERS: Final = Setting(
    "groups.least_members", 3.0, "", "So many parts of one family that go through a group can make it the family's own."
)

LEAST_SHARE: Final = Setting(
    "groups.least_share", 50.0, "%", "More than this share of a family goes through the group that is its own."
)

GROUPED_FAMILIES: Final = frozenset({"drums", "vocals", "guitars", "strings", "winds", "percussion"})
"""Families whose parts are commonly mixed through a group of their own."""


def groups_on_the_path(context: SessionContext, channel_id: str) -> tuple[str, ...]:
    """Ids of the channels that a channel's main output passes, nearest first; the mix bus is left out.

    Sends do not count. A loop of outputs ends where it comes round.
    """
    wiring = context.routing.wiring
    found: list[str] = []
    here = channel_id
    while True:
        out = next((e for e in wiring.leaving.get(here, ()) if e.kind == "output"), None)
        if out is None or out.to in found or out.to == wiring.mix_bus:
            return tuple(found)
        found.append(out.to)
        here = out.to


def home_group_of(context: SessionContext, channel: Channel) -> str | None:
    """Id of the group that is the own one of the channel's family: enough of its parts, and most, go through there.

    None where the family has none, or the channel's role tells no family.
    """
    return _home_groups(context).get(family_of(context.role(channel.id) or "") or "")


@per_session
def _home_groups(context: SessionContext) -> dict[str, str]:
    """Family → id of the group that is its own, for the families that have one."""
    through: dict[str, Counter[str]] = {}
    sizes: Counter[str] = Counter()
    for part in context.session.channels:
        family = family_of(context.role(part.id) or "") if is_source(context, part) else None
        if family in GROUPED_FAMILIES:
            sizes[family] += 1
            through.setdefault(family, Counter()).update(groups_on_the_path(context, part.id))
    members, share = context.setting(LEAST_MEMBERS), context.setting(LEAST_SHARE) / 100.0
    groups = {}
    for family, counted in through.items():
        # Of groups in a row the one that the fewest other parts share is the family's own; of equals the nearest.
        least = share * sizes[family]
        best = [(count, group) for group, count in counted.items() if count >= members and count > least]
        if best:
            own = max(best, key=lambda pair: (pair[0], -_fed_by(context, pair[1])))
            groups[family] = own[1]
    return groups


def serves_one_family(context: SessionContext, group: str, channel: Channel) -> bool:
    """True when all the parts that go through ``group`` are of the channel's family, as through one for the lead."""
    return _families_through(context).get(group) == {family_of(context.role(channel.id) or "")}


@per_session
def _families_through(context: SessionContext) -> dict[str, set[str | None]]:
    """Id of a group → the families whose parts go through it."""
    through: dict[str, set[str | None]] = {}
    for part in context.session.channels:
        if is_source(context, part):
            for one in groups_on_the_path(context, part.id):
                through.setdefault(one, set()).add(family_of(context.role(part.id) or ""))
    return through


def _fed_by(context: SessionContext, group: str) -> int:
    """How many outputs and sends arrive at a group."""
    return len(context.routing.wiring.arriving.get(group, ()))
