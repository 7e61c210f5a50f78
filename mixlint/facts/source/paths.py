"""By which paths a part reaches the mix bus: how many, through which groups, and whether that is meant."""

from __future__ import annotations

from mixlint.analysis.groups import groups_on_the_way, home_of, keeps_to_itself
from mixlint.analysis.paths import ways_of
from mixlint.facts.declare import Facts, Row
from mixlint.routing.parallel import Ways
from mixlint.session import Channel, Unknown
from mixlint.units import SILENCE_DB

FACTS: Facts[Channel] = Facts()


def _ways(row: Row[Channel]) -> Ways:
    return ways_of(row.context).get(row.subject.id, Ways())


@FACTS.fact("number", "By how many ways it reaches the mix bus without a reverb or delay.", how="derived")
def ways(row: Row[Channel]) -> int:
    return _ways(row).count


@FACTS.fact("number", "Its second way relative to its strongest; -200 when there is none.", unit="dB", how="derived")
def second_way_db(row: Row[Channel]) -> float | Unknown:
    from math import log10

    why = row.context.routing.unknown_on_the_way.get(row.subject.id, ())
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    found = _ways(row)
    if found.second <= 0.0 or found.strongest <= 0.0:
        return SILENCE_DB
    return max(SILENCE_DB, 20.0 * log10(found.second / found.strongest))


@FACTS.fact("text", "The channels its two strongest ways enter first.", how="derived")
def ways_by(row: Row[Channel]) -> str:
    found = _ways(row)
    names = dict.fromkeys(row.context.name(c) for c in (found.first_by, found.second_by) if c)
    return " and ".join(names) or "no way"


@FACTS.fact(
    "switch", "One of its two strongest ways runs through a parallel bus, by name or by the house.", how="derived"
)
def parallel_meant(row: Row[Channel]) -> bool:
    from fnmatch import fnmatchcase

    found = _ways(row)
    names = [row.context.name(c).casefold() for c in (found.first_by, found.second_by) if c]
    if any(fnmatchcase(name, p.casefold()) for name in names for p in row.context.house.parallel):
        return True
    return any(row.context.role(c) == "parallel-bus" for c in (found.first_by, found.second_by) if c)


@FACTS.fact(
    "switch",
    "Its family has a group of its own, and this part goes neither through it nor through another of the family's.",
    how="derived",
)
def past_its_group(row: Row[Channel]) -> bool | Unknown:
    home = home_of(row.context, row.item)
    way = groups_on_the_way(row.context, row.subject.id)
    if home is None or home in way:
        return False
    if any(keeps_to_itself(row.context, group, row.item) for group in way):
        return False
    end = row.context.channels[way[-1]] if way else row.item
    if isinstance(end.output, Unknown):
        return Unknown(
            unknown=f"the output of {row.context.name(end.id)}: {end.output.unknown}", settle="look at its output"
        )
    return True


@FACTS.fact("text", "The group that is home to its family.", how="derived")
def home_group(row: Row[Channel]) -> str:
    home = home_of(row.context, row.item)
    return row.context.name(home) if home else "none"
