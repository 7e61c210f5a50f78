"""The table ``microphones``: channels that hear one performance, who of them is turned over, late, or slips."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import MATCHING
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.performances import Related
from mixlint.analysis.polarity import is_turned
from mixlint.analysis.shared_looks import LOOK_S, levels, read_at
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.microphones import sides
from mixlint.facts.microphones.families import FAMILY_SETTINGS, Family, families, signs
from mixlint.facts.microphones.timing import LATE_SETTINGS, SLIP_SETTINGS, heard_lag_s, late_members, mono_gain, slips
from mixlint.facts.shared import INTENTS, UNREAD, channel_subject, intents
from mixlint.naming import FAMILIES, mid_or_side, stand_opposite
from mixlint.session import NotKnown, Unknown, known
from mixlint.units import few_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.session import Channel
    from mixlint.signal.family_sum import Summed

    Floats = NDArray[np.float64]


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Family]]:
    for found in families(context):
        first = channel_subject(context, found.members[0], "microphones")
        ids = tuple(channel.id for channel in found.members)
        names = [context.name(one) for one in ids]
        name = " and ".join(names) if len(names) == 2 else few_text(names)
        yield replace(first, id="+".join(ids), name=name, channels=ids), found


MICROPHONES: Table[Family] = Table(
    "microphones",
    "Channels that hear one performance, one row for each: found by their sound, and by their names where that is not "
    "open.",
    _rows,
    (sides.FACTS,),
    settings=(*FAMILY_SETTINGS, *MATCHING),
)
MICROPHONES.fact("list", INTENTS)(intents)


@MICROPHONES.fact("text", "The channels.")
def name(row: Row[Family]) -> str:
    return row.subject.name


@MICROPHONES.fact("number", "How many channels hear it.", how="derived")
def count(row: Row[Family]) -> int:
    return len(row.item.members)


@MICROPHONES.fact("word", "The family of the first of them, or unread.", how="derived", words=(*FAMILIES, UNREAD))
def part_family(row: Row[Family]) -> str:
    return row.context.family(row.item.members[0].id) or UNREAD


@MICROPHONES.fact("switch", "Their sound was compared, and has something in common.", how="measured")
def heard(row: Row[Family]) -> bool:
    return bool(row.item.edges)


@MICROPHONES.fact(
    "switch", "They are two whose polarities differ by where they stand: top and bottom, front and back, mid and side."
)
def opposed_by_place(row: Row[Family]) -> bool:
    words = row.context.house.vocabulary
    members = row.item.members
    return len(members) == 2 and stand_opposite(members[0].name, members[1].name, words)


@MICROPHONES.fact("switch", "One of them is the side, or the middle, of a mid and side recording.")
def mid_side(row: Row[Family]) -> bool:
    words = row.context.house.vocabulary
    return any(mid_or_side(member.name, words) == "side" for member in row.item.members)


@MICROPHONES.fact("text", "The channel that the others are told against: the overheads, a direct signal, the clearest.")
def reference(row: Row[Family]) -> str:
    return row.context.name(row.item.reference.id)


def _edges(row: Row[Family]) -> tuple[Related, ...]:
    """What was found between them.

    Raises:
        NotKnown: nothing was.
    """
    if not row.item.edges:
        raise NotKnown(row.item.why or NOT_OPENED)
    return row.item.edges


@MICROPHONES.fact(
    "list", "How each lies against another, milliseconds later or earlier, and how well their waves agree.",
    how="measured", settings=LATE_SETTINGS,
)  # fmt: skip
def lags(row: Row[Family]) -> tuple[str, ...]:
    context = row.context
    out = []
    for edge in sorted(_edges(row), key=lambda edge: -edge.weight):
        lag = 1000.0 * heard_lag_s(context, edge)
        word = "later" if lag >= 0.0 else "earlier"
        names = context.name(edge.other.id), context.name(edge.one.id)
        out.append(f"{names[0]} {abs(lag):.2f} ms {word} than {names[1]} ({edge.found.agreement:.2f})")
    return tuple(out)


@MICROPHONES.fact(
    "list", "Those whose polarity is turned over against the others'.", how="measured", settings=FAMILY_SETTINGS
)
def turned_over(row: Row[Family]) -> FactValue | Unknown:
    edges = _edges(row)
    context, found = row.context, signs(row.context, row.item)
    if not found.turned:
        lost = [c for c in found.unsure if all(c.id not in (e.one.id, e.other.id) or _clear(e) for e in edges)]
        if lost:
            return Unknown(
                unknown=f"the polarity of {few_text([context.name(c.id) for c in lost])} cannot be told: either way "
                "fits nearly alike",
                settle="turn it over and listen in mono, to the low end first",
            )
        return FactValue((), "measured", row.subject.where)
    hidden = [
        f"{insert.name or 'a processor'} on {context.name(c.id)}"
        for c in _concerned(row.item, found.turned, found.shown)
        for insert, _ in active_inserts(context, c)
        if insert.opaque
    ]
    names = tuple(context.name(c.id) for c in found.turned)
    if hidden:
        return Unknown(
            unknown=f"the recording of {few_text(names)} is of the other polarity, and {few_text(hidden)} may turn it",
            settle="turn it over and listen in mono, to the low end first",
        )
    return FactValue(names, "measured", row.subject.where, "; ".join(_shown(context, e) for e in found.shown[:3]))


def _clear(edge: Related) -> bool:
    """True for a relation that is clear enough to be asked about."""
    return edge.sound is not None


def _concerned(family: Family, turned: tuple[Channel, ...], shown: tuple[Related, ...]) -> list[Channel]:
    ids = {c.id for c in turned} | {c for e in shown for c in (e.one.id, e.other.id)}
    return [c for c in family.members if c.id in ids]


def _shown(context: SessionContext, edge: Related) -> str:
    both = f"{context.name(edge.one.id)} and {context.name(edge.other.id)}"
    low = edge.found.low_db * (-1.0 if is_turned(context, edge.one) != is_turned(context, edge.other) else 1.0)
    text = f"{both} agree by {edge.found.agreement:.2f} with one of them turned over"
    return f"{text}, which adds {-low:.1f} dB of low end" if low < -1.0 else text


@MICROPHONES.fact(
    "list", "Those that are late beyond the way their sound takes, the worst first.", how="measured",
    settings=LATE_SETTINGS,
)  # fmt: skip
def late(row: Row[Family]) -> FactValue:
    _edges(row)
    context = row.context
    found = late_members(context, row.item)
    texts = [
        f"{context.name(one.channel.id)} lies {1000.0 * one.late_s:.2f} ms behind {context.name(one.against.id)}"
        for one in found
    ]
    names = tuple(context.name(one.channel.id) for one in found)
    return FactValue(names, "measured", row.subject.where, "; ".join(texts))


@MICROPHONES.fact("number", "How late the worst of them is.", unit="ms", how="measured", settings=LATE_SETTINGS)
def late_ms(row: Row[Family]) -> float | Unknown:
    _edges(row)
    found = late_members(row.context, row.item)
    return 1000.0 * found[0].late_s if found else Unknown(unknown="nobody is late")


@MICROPHONES.fact(
    "number", "The first notch that the worst of them makes with the one it lags.", unit="Hz", how="measured",
    settings=LATE_SETTINGS,
)  # fmt: skip
def notch_hz(row: Row[Family]) -> float:
    return 500.0 / max(1e-3, row.need("late_ms").number)


@MICROPHONES.fact(
    "list", "Those whose lag changes in the song, by a step or a drift, the worst first.", how="measured",
    settings=SLIP_SETTINGS,
)  # fmt: skip
def slipping(row: Row[Family]) -> FactValue:
    _edges(row)
    context = row.context
    found = slips(context, row.item)
    texts = []
    for slip in found:
        who, to = context.name(slip.channel.id), context.name(slip.against.id)
        run = slip.course
        course = f"{1000.0 * run.before_s:.2f} ms to {1000.0 * run.after_s:.2f} ms behind {to}"
        if run.drifts:
            minutes = max(1e-3, (run.to_s - run.at_s) / 60.0)
            rate = 1000.0 * abs(slip.by_s) / minutes
            texts.append(f"{who} drifts from {course}, {rate:.2f} ms a minute")
        else:
            texts.append(f"{who} goes from {course} at {moment_text(context, run.at_s)}")
    where = moment_text(context, found[0].course.at_s) if found else ""
    return FactValue(tuple(context.name(s.channel.id) for s in found), "measured", where, "; ".join(texts))


MOMENTS: Final = 6
"""How many seconds of the song the sum is made of: a bound of work."""

MOST_SUMMED: Final = 24
"""A family of more is summed without those that follow on the desk: a bound of work."""


class FamilySum(NamedTuple):
    """What the sum of a family loses at the gains to the mix bus, folded to mono.

    Args:
        now: as its channels stand.
        cured: with those turned over that are told to be.
    """

    now: Summed
    cured: Summed


@per_session
def _sum(context: SessionContext, family: Family) -> FamilySum | Unknown:
    import numpy as np

    from mixlint.signal.family_sum import summed

    if not family.edges:
        return family.why or NOT_OPENED
    members = family.members[:MOST_SUMMED]
    gains = np.array([mono_gain(context, member) for member in members])
    powers = [known(levels(context, member)) for member in members]
    size = min(power.size for power in powers)
    width = round(LOOK_S * 10)
    total = sum(gain * gain * power[:size] for gain, power in zip(gains, powers, strict=True))
    if size < width or not np.any(total):
        return Unknown(unknown="they share no second of audio")
    running = np.convolve(total, np.ones(width), "valid")
    from mixlint.analysis.shared_looks import STEP_S, first_s

    parts = [part for part in np.array_split(np.arange(running.size), MOMENTS) if part.size]
    starts = tuple(first_s(context) + float(part[np.argmax(running[part])]) * STEP_S for part in parts)
    read, rates = [], set()
    for member in members:
        found, rate = read_at(context, member, starts, LOOK_S)
        read.append(found)
        rates.add(rate)
    if len(rates) != 1:
        return Unknown(unknown="their files have different sample rates")
    rate = rates.pop()
    length = round(LOOK_S * rate)
    looks = []
    for at in range(len(starts)):
        rows = [np.zeros(length) if one[at] is None else one[at] for one in read]
        looks.append(np.stack([row[:length] for row in rows if row is not None]) * gains[:, None])
    stand = np.array([-1.0 if is_turned(context, member) else 1.0 for member in members])
    turned = {c.id for c in signs(context, family).turned}
    cure = np.array([-1.0 if member.id in turned else 1.0 for member in members])
    return FamilySum(summed(looks, stand, rate), summed(looks, stand * cure, rate))


@MICROPHONES.fact(
    "number",
    "How much less their mono sum has at their gains to the mix bus than the powers of all together; under 0 more.",
    unit="dB",
    how="measured",
    settings=FAMILY_SETTINGS,
)
def mono_loss_db(row: Row[Family]) -> FactValue:
    found = known(_sum(row.context, row.item)).now
    return FactValue(found.loss_db, "measured", row.subject.where, f"{found.dip_db:.1f} dB about {found.dip_hz:.0f} Hz")


@MICROPHONES.fact(
    "number", "The same in the octave that loses most.", unit="dB", how="measured", settings=FAMILY_SETTINGS
)
def dip_db(row: Row[Family]) -> FactValue:
    found = known(_sum(row.context, row.item)).now
    return FactValue(found.dip_db, "measured", row.subject.where, f"about {found.dip_hz:.0f} Hz")


@MICROPHONES.fact(
    "number", "How much their mono sum gains once those are turned that are told to be turned over.", unit="dB",
    how="measured", settings=FAMILY_SETTINGS,
)  # fmt: skip
def regained_db(row: Row[Family]) -> float:
    found = known(_sum(row.context, row.item))
    return found.now.loss_db - found.cured.loss_db
