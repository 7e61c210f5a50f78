"""The table ``source``: the audible parts of the song that play themselves."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.facts.declare import Answer, Row, Table
from mixlint.facts.tables import channel as channel_facts
from mixlint.facts.tables.common import channel_row
from mixlint.naming.words import FAMILIES, ROLES
from mixlint.routing.parallel import Ways, direct_ways
from mixlint.session import Channel, Unknown, is_known
from mixlint.study.answering import hidden_like, unread_opposite
from mixlint.study.counterparts import (
    LEAST_ANGLE,
    answered_share,
    candidates,
    counterparts,
    nearest,
    panned_parts,
)
from mixlint.study.desk import Desk
from mixlint.study.grouping import groups_on_the_way, home_of, keeps_to_itself
from mixlint.study.parts import is_audible, is_source
from mixlint.study.wetness import Wetness, wetness
from mixlint.units import SILENCE_DB


def _rows(desk: Desk) -> Iterator[Row]:
    return (
        channel_row(desk, channel, "source")
        for channel in desk.session.channels
        if is_source(desk, channel) and is_audible(desk, channel)
    )


SOURCE: Table[Row] = Table("source", "Audible parts that play themselves: no buses, no returns, nothing muted.", _rows)

SOURCE.fact("text", "The channel's name.")(channel_facts.name)
SOURCE.fact("word", "The part it plays.", how="derived", words=ROLES)(channel_facts.role)
SOURCE.fact("number", "Pan position, −100 left to +100 right.", unit="pan")(channel_facts.pan)
SOURCE.fact("number", "Fader position; −200 is fully down.", unit="dB")(channel_facts.fader_db)


@SOURCE.fact("word", "The family of parts its role belongs to.", how="derived", words=FAMILIES)
def family(row: Row) -> Answer | Unknown:
    return channel_facts.CHANNEL.answer(row, "family")


@SOURCE.fact("number", "How far from the centre it is panned, whichever side.", unit="pan")
def off_centre(row: Row) -> float | Unknown:
    channel: Channel = row.item
    return abs(channel.pan) if is_known(channel.pan) else channel.pan


@SOURCE.fact("switch", "Some of its sound at the mix bus is ambience.", how="derived")
def has_ambience(row: Row) -> bool | Unknown:
    wet = _wetness(row)
    return wet if isinstance(wet, Unknown) else wet is not None


@SOURCE.fact("number", "Its ambience relative to its direct sound at the mix bus, at 1 kHz.", unit="dB", how="derived")
def wet_db(row: Row) -> float | Unknown:
    wet = _wetness(row)
    return wet.wet_db if isinstance(wet, Wetness) else wet or NO_AMBIENCE


@SOURCE.fact(
    "number", "The left of its ambience over the right; positive comes from the left.", unit="dB", how="derived"
)
def ambience_lean_db(row: Row) -> float | Unknown:
    wet = _wetness(row)
    return wet.lean_db if isinstance(wet, Wetness) else wet or NO_AMBIENCE


@SOURCE.fact("number", "What its ambience loses at 60 Hz relative to 1 kHz on the way.", unit="dB", how="derived")
def ambience_low_cut_db(row: Row) -> float | Unknown:
    wet = _wetness(row)
    return wet.low_cut_db if isinstance(wet, Wetness) else wet or NO_AMBIENCE


NO_AMBIENCE = Unknown(unknown="it has no ambience")


def _wetness(row: Row) -> Wetness | Unknown | None:
    return row.desk.remembered(f"wetness {row.subject.id}", lambda: wetness(row.desk, row.item))


@SOURCE.fact("switch", "A like part answers it on the other side.", how="derived")
def answered(row: Row) -> bool | Answer | Unknown:
    found = counterparts(row.desk).get(row.subject.id)
    if found is not None:
        other = found.other if found.one == row.subject.id else found.one
        return Answer(True, "derived", row.subject.where, f"by {row.desk.name(other)}, closeness {found.score:.2f}")
    if row.desk.role(row.subject.id) is None and nearest(row.desk, row.item) is None:
        return Unknown(
            unknown=f"the part {row.subject.name} plays cannot be told, so no like part can be looked for",
            settle="name its role in the house's table of roles",
        )
    unseen = hidden_like(row.desk, row.item)
    if unseen is not None and isinstance(unseen.pan, Unknown):
        who = row.desk.name(unseen.id)
        return Unknown(
            unknown=f"the pan of {who}, a like part: {unseen.pan.unknown}", settle=f"look where {who} stands"
        )
    unread = unread_opposite(row.desk, row.item) if row.desk.role(row.subject.id) is not None else None
    if unread is not None:
        return Unknown(
            unknown=f"what {row.desk.name(unread.id)} plays on the other side cannot be told from its name",
            settle="name its role in the house's table of roles",
        )
    return False


@SOURCE.fact("number", "How many like parts stand off the centre, on either side.", how="derived")
def like_parts(row: Row) -> int:
    panned = {c.id for c in panned_parts(row.desk) if isinstance(c.pan, float) and abs(c.pan) >= LEAST_ANGLE}
    return len(candidates(row.desk, row.item, panned))


@SOURCE.fact(
    "number",
    "The share of its own time in which a like part plays on the other side, near enough in angle and level.",
    unit="%",
    how="derived",
)
def answered_percent(row: Row) -> float | Unknown:
    said = SOURCE.answer(row, "answered")
    return said if isinstance(said, Unknown) else 100.0 * answered_share(row.desk, row.item)


@SOURCE.fact("text", "The counterpart, or the like part that comes nearest and what it lacks.", how="derived")
def counterpart(row: Row) -> Answer:
    found = counterparts(row.desk).get(row.subject.id)
    if found is not None:
        other = found.other if found.one == row.subject.id else found.one
        share = round(100.0 * answered_share(row.desk, row.item))
        part = "" if share >= 100 else f" answers it for {share} % of its time"
        return Answer(f"{row.desk.name(other)}{part}", "derived")
    near = nearest(row.desk, row.item)
    if near is None:
        return Answer("no like part in the session", "derived")
    return Answer(
        f"the nearest, {row.desk.name(near.other)}, {' and '.join(near.lacks) or 'answers another part'}",
        "derived",
    )


def _ways(row: Row) -> Ways:
    return row.desk.remembered("direct ways", lambda: direct_ways(row.desk.routing)).get(row.subject.id, Ways())


@SOURCE.fact("number", "By how many ways it reaches the mix bus without a reverb or delay.", how="derived")
def ways(row: Row) -> int:
    return _ways(row).count


@SOURCE.fact("number", "Its second way relative to its strongest; -200 when there is none.", unit="dB", how="derived")
def second_way_db(row: Row) -> float | Unknown:
    from math import log10

    why = row.desk.routing.unknown_on_the_way.get(row.subject.id, ())
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    found = _ways(row)
    if found.second <= 0.0 or found.strongest <= 0.0:
        return SILENCE_DB
    return max(SILENCE_DB, 20.0 * log10(found.second / found.strongest))


@SOURCE.fact("text", "The channels its two strongest ways enter first.", how="derived")
def ways_by(row: Row) -> str:
    found = _ways(row)
    names = dict.fromkeys(row.desk.name(c) for c in (found.first_by, found.second_by) if c)
    return " and ".join(names) or "no way"


@SOURCE.fact(
    "switch", "One of its two strongest ways runs through a parallel bus, by name or by the house.", how="derived"
)
def parallel_meant(row: Row) -> bool:
    from fnmatch import fnmatchcase

    found = _ways(row)
    names = [row.desk.name(c).casefold() for c in (found.first_by, found.second_by) if c]
    if any(fnmatchcase(name, p.casefold()) for name in names for p in row.desk.house.parallel):
        return True
    return any(row.desk.role(c) == "parallel-bus" for c in (found.first_by, found.second_by) if c)


@SOURCE.fact(
    "switch",
    "Its family has a group of its own, and this part goes neither through it nor through another of the family's.",
    how="derived",
)
def past_its_group(row: Row) -> bool | Unknown:
    home = home_of(row.desk, row.item)
    way = groups_on_the_way(row.desk, row.subject.id)
    if home is None or home in way:
        return False
    if any(keeps_to_itself(row.desk, group, row.item) for group in way):
        return False
    end = row.desk.channels[way[-1]] if way else row.item
    if isinstance(end.output, Unknown):
        return Unknown(
            unknown=f"the output of {row.desk.name(end.id)}: {end.output.unknown}", settle="look at its output"
        )
    return True


@SOURCE.fact("text", "The group that is home to its family.", how="derived")
def home_group(row: Row) -> str:
    home = home_of(row.desk, row.item)
    return row.desk.name(home) if home else "none"
