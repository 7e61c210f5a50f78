"""Families and their groups: which bus the parts of a family go through, and which part goes past it."""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.naming import family_of
from mixlint.session import Channel
from mixlint.study.desk import Desk
from mixlint.study.parts import is_source

ENOUGH: Final = 3
"""So many parts of one family make a group their home (common practice, no source)."""

HOMED: Final = frozenset({"drums", "vocals", "guitars", "strings", "winds", "percussion"})


def groups_on_the_way(desk: Desk, channel_id: str) -> tuple[str, ...]:
    """Ids of the groups that a channel's main output passes, nearest first, the mix bus left out."""
    wiring = desk.routing.wiring
    found: list[str] = []
    here = channel_id
    while True:
        out = next((e for e in wiring.leaving.get(here, ()) if e.kind == "output"), None)
        if out is None or out.to in found or out.to == wiring.mix_bus:
            return tuple(found)
        found.append(out.to)
        here = out.to


def home_of(desk: Desk, channel: Channel) -> str | None:
    """Id of the group that is home to the channel's family: at least three of it, and most of it, go through there."""

    def make() -> dict[str, str]:
        through: dict[str, Counter[str]] = {}
        sizes: Counter[str] = Counter()
        for part in desk.session.channels:
            family = family_of(desk.role(part.id) or "") if is_source(desk, part) else None
            if family in HOMED:
                sizes[family] += 1
                through.setdefault(family, Counter()).update(set(groups_on_the_way(desk, part.id)))
        homes = {}
        for family, counted in through.items():
            # Of groups in a row the one that the fewest other parts share is the family's own.
            best = [(count, group) for group, count in counted.items() if count >= ENOUGH and 2 * count > sizes[family]]
            if best:
                own = max(best, key=lambda pair: (pair[0], -_fed_by(desk, pair[1])))
                homes[family] = own[1]
        return homes

    family = family_of(desk.role(channel.id) or "")
    return desk.remembered("homes of families", make).get(family or "")


def keeps_to_itself(desk: Desk, group: str, channel: Channel) -> bool:
    """True when only parts of the channel's family go through a group: one made for some of them, as for the lead."""

    def make() -> dict[str, set[str | None]]:
        through: dict[str, set[str | None]] = {}
        for part in desk.session.channels:
            if is_source(desk, part):
                for one in groups_on_the_way(desk, part.id):
                    through.setdefault(one, set()).add(family_of(desk.role(part.id) or ""))
        return through

    return desk.remembered("families through groups", make).get(group) == {family_of(desk.role(channel.id) or "")}


def _fed_by(desk: Desk, group: str) -> int:
    return len(desk.routing.wiring.arriving.get(group, ()))
