"""Which part answers a panned one on the other side."""

from __future__ import annotations

from mixlint.analysis.counterparts import (
    LEAST_ANGLE,
    LEAST_ANGLE_RATIO,
    MATCHING,
    answered_share,
    candidates,
    counterparts,
    falls_short,
    nearest,
    panned_parts,
)
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.source.possible_counterparts import hidden_like, unread_opposite
from mixlint.session import Channel, Unknown, is_known

FACTS: Facts[Channel] = Facts()


@FACTS.fact("switch", "A like part answers it on the other side.", how="derived", settings=MATCHING)
def answered(row: Row[Channel]) -> bool | FactValue | Unknown:
    found = counterparts(row.context).get(row.subject.id)
    if found is not None:
        other = found.other if found.one == row.subject.id else found.one
        return FactValue(
            True, "derived", row.subject.where, f"by {row.context.name(other)}, closeness {found.score:.2f}"
        )
    if row.context.role(row.subject.id) is None and nearest(row.context, row.item) is None:
        return Unknown(
            unknown=f"the part {row.subject.name} plays cannot be told, so no like part can be looked for",
            settle="name its role in the house's table of roles",
        )
    unseen = hidden_like(row.context, row.item)
    if unseen is not None and isinstance(unseen.pan, Unknown):
        who = row.context.name(unseen.id)
        return Unknown(
            unknown=f"the pan of {who}, a like part: {unseen.pan.unknown}", settle=f"look where {who} stands"
        )
    unread = unread_opposite(row.context, row.item) if row.context.role(row.subject.id) is not None else None
    if unread is not None:
        return Unknown(
            unknown=f"what {row.context.name(unread.id)} plays on the other side cannot be told from its name",
            settle="name its role in the house's table of roles",
        )
    return False


@FACTS.fact(
    "number", "How many like parts stand off the centre, on either side.", how="derived", settings=(LEAST_ANGLE,)
)
def like_parts(row: Row[Channel]) -> int:
    least = row.context.setting(LEAST_ANGLE)
    panned = {c.id for c in panned_parts(row.context) if isinstance(c.pan, float) and abs(c.pan) >= least}
    return len(candidates(row.context, row.item, panned))


@FACTS.fact(
    "number",
    "The share of its own time in which a like part plays on the other side, near enough in angle and level.",
    unit="%",
    how="derived",
    settings=MATCHING,
)
def answered_percent(row: Row[Channel]) -> float | Unknown:
    said = row.value("answered")
    return said if isinstance(said, Unknown) else 100.0 * answered_share(row.context, row.item)


@FACTS.fact(
    "text",
    "The counterpart, or the like part that comes nearest and what it lacks.",
    how="derived",
    settings=MATCHING,
)
def counterpart(row: Row[Channel]) -> FactValue:
    found = counterparts(row.context).get(row.subject.id)
    if found is not None:
        other = found.other if found.one == row.subject.id else found.one
        share = round(100.0 * answered_share(row.context, row.item))
        part = "" if share >= 100 else f" answers it for {share} % of its time"
        return FactValue(f"{row.context.name(other)}{part}", "derived")
    near = nearest(row.context, row.item)
    if near is None:
        return FactValue("no like part in the session", "derived")
    return FactValue(
        f"the nearest, {row.context.name(near.other)}, {' and '.join(near.lacks) or 'answers another part'}",
        "derived",
    )


@FACTS.fact(
    "switch",
    "Another part of its role stands on the other side, at an angle that can answer its own.",
    how="derived",
    settings=(LEAST_ANGLE_RATIO,),
)
def twin(row: Row[Channel]) -> bool | FactValue | Unknown:
    channel = row.item
    role = row.context.role(channel.id)
    if isinstance(channel.pan, Unknown):
        return channel.pan
    least = row.context.setting(LEAST_ANGLE_RATIO)
    for other in panned_parts(row.context):
        if other.id == channel.id or row.context.role(other.id) != role or not is_known(other.pan):
            continue
        if channel.pan * other.pan < 0.0 and not falls_short(abs(other.pan) / abs(channel.pan), least):
            return FactValue(True, "derived", row.subject.where, row.context.name(other.id))
    return False
