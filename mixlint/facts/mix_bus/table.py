"""The table ``mix-bus``: one row, the bus that the bounce is taken from."""

from __future__ import annotations

from collections.abc import Iterator
from math import log10
from typing import Final

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import carries_content, is_utility
from mixlint.analysis.context import SessionContext
from mixlint.analysis.inserts import active_inserts, listening_aids
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.mix_bus import bands, measured
from mixlint.facts.shared import INTENTS, channel_subject, intents, stands_at
from mixlint.naming import Reading
from mixlint.naming.setting_reading import listed_db, says
from mixlint.routing.strips import insert_gain
from mixlint.session import FADER, PAN, Channel, Insert, Parameter, Unknown, control_of, known
from mixlint.units import few_text, number_text


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Channel | Unknown]]:
    bus = context.routing.wiring.mix_bus
    if isinstance(bus, Unknown):
        yield Subject("mix-bus", "mix-bus", "the mix bus", order=len(context.order)), bus
    else:
        channel = context.channels[bus]
        yield channel_subject(context, channel, "mix-bus"), channel


MIX_BUS: Table[Channel | Unknown] = Table(
    "mix-bus", "The bus that the bounce is taken from: one row.", _rows, (measured.FACTS, bands.FACTS)
)


MIX_BUS.fact("list", INTENTS)(intents)


@MIX_BUS.fact("text", "Its name.")
def name(row: Row[Channel | Unknown]) -> str:
    return row.subject.name


@MIX_BUS.fact("switch", "The export shows which channel is the mix bus.", once="told")
def shown(row: Row[Channel | Unknown]) -> bool | FactValue | Unknown:
    bus = row.item
    if isinstance(bus, Unknown):  # one of those whose kind is not shown may be it
        kinds = (channel.kind for channel in row.context.session.channels)
        hidden = next((kind for kind in kinds if isinstance(kind, Unknown)), None)
        if hidden is not None:
            return hidden
    return FactValue(False, "declared", "", bus.unknown) if isinstance(bus, Unknown) else True


@MIX_BUS.fact("list", "Other mix buses that a part of the song goes out to, cue mixes aside.", how="derived")
def others(row: Row[Channel | Unknown]) -> tuple[str, ...]:
    context = row.context
    wiring = context.routing.wiring
    return tuple(
        context.name(channel.id)
        for channel in context.session.channels
        if channel.kind == "master"
        and channel.id != wiring.mix_bus
        and not is_utility(context, channel)
        and any(
            edge.kind == "output"
            and carries_content(context, edge.source)
            and not is_utility(context, context.channels[edge.source])
            for edge in wiring.arriving.get(channel.id, ())
        )
    )


@MIX_BUS.fact("number", "Fader position; −200 is fully down.", unit="dB")
def fader_db(row: Row[Channel | Unknown]) -> FactValue | Unknown:
    return stands_at(row, control_of(known(row.item), FADER))


@MIX_BUS.fact("switch", "Automation moves its fader.", once="fader_rides")
def fader_automated(row: Row[Channel | Unknown]) -> bool:
    return control_of(known(row.item), FADER).moves


@MIX_BUS.fact("number", "Pan position, −100 left to +100 right.", unit="pan")
def pan(row: Row[Channel | Unknown]) -> FactValue | Unknown:
    return stands_at(row, control_of(known(row.item), PAN))


@MIX_BUS.fact(
    "number", "The furthest it stands from the centre, automation included.", unit="pan distance", how="derived"
)
def off_centre(row: Row[Channel | Unknown]) -> float | FactValue:
    control = control_of(known(row.item), PAN)
    if control.lane is not None:
        furthest = max(abs(known(control.lowest)), abs(known(control.highest)))
        return FactValue(furthest, "derived", control.where, "by automation")
    return abs(known(control.now))


@MIX_BUS.fact("switch", "It is muted, and no automation releases the mute.")
def muted(row: Row[Channel | Unknown]) -> bool | FactValue:
    return channel_facts.mute_state(row.context, known(row.item))


def _active_inserts(row: Row[Channel | Unknown]) -> list[tuple[Insert, Reading]]:
    """The mix bus's inserts that are switched on and loaded, with what each does."""
    bus = row.item
    return [] if isinstance(bus, Unknown) else active_inserts(row.context, bus)


def _named(row: Row[Channel | Unknown], *kinds: str) -> tuple[str, ...] | Unknown:
    """Names of the active processors of some kinds; Unknown where there are none and the kind of one is not known."""
    active = _active_inserts(row)
    found = tuple(insert.name for insert, reading in active if reading.word in kinds)
    if found:
        return found
    unread = [(insert, reading) for insert, reading in active if reading.word in (None, "multi-effect")]
    if unread:
        insert, reading = unread[0]
        why = "; ".join(reading.grounds)
        return Unknown(unknown=f"what {insert.name} does: {why}", settle="name it in the house's table of processors")
    return ()


@MIX_BUS.fact(
    "list",
    "Processors acting on it that are there for listening: room or headphone correction, dim, a mono switch.",
    how="derived",
)
def for_listening(row: Row[Channel | Unknown]) -> tuple[str, ...] | Unknown:
    bus = row.item
    aids = () if isinstance(bus, Unknown) else listening_aids(row.context, bus)
    found = tuple(insert.name for insert in aids) or _named(row, "monitor")
    if isinstance(found, tuple) and "mono" in row.context.house.intents:
        return tuple(one for one in found if "mono" not in one.casefold())
    return found


@MIX_BUS.fact("list", "Limiters acting on it.", how="derived")
def limiters(row: Row[Channel | Unknown]) -> tuple[str, ...] | Unknown:
    return _named(row, "limiter")


@MIX_BUS.fact(
    "number",
    "What the trims and gains behind its last limiter and its fader add together, as far as the export shows.",
    unit="dB",
    how="derived",
)
def behind_limiter_db(row: Row[Channel | Unknown]) -> FactValue | Unknown:
    bus = known(row.item)
    active = _active_inserts(row)
    last = max((at for at, (_, reading) in enumerate(active) if reading.word == "limiter"), default=None)
    if last is None:
        return Unknown(unknown="no limiter is seen on the mix bus")
    fader = known(control_of(bus, FADER).highest)
    found = [
        (20.0 * log10(max(gain, 1e-10)), insert.name)
        for insert, _ in active[last + 1 :]
        if (gain := insert_gain(insert)) != 1.0
    ]
    by = [name for gain, name in found if gain > 0.0] + (["its fader"] if fader > 0.0 else [])
    return FactValue(sum(gain for gain, _ in found) + fader, "derived", row.subject.where, few_text(by, joint=", "))


_NOT_SHAPING: Final = frozenset({"limiter", "analyser", "monitor", "utility", None})
"""Kinds of processor that may stand behind a limiter: another one, a meter, a plain tool, whose gain is asked for."""


@MIX_BUS.fact(
    "list", "Processors that shape the mix behind its last limiter: what they add nothing holds.", how="derived"
)
def shaped_behind_limiter(row: Row[Channel | Unknown]) -> tuple[str, ...]:
    known(row.item)
    active, words = _active_inserts(row), row.context.house.vocabulary
    last = max((at for at, (_, reading) in enumerate(active) if reading.word == "limiter"), default=len(active))
    return tuple(
        insert.name
        for insert, reading in active[last + 1 :]
        if reading.word not in _NOT_SHAPING
        and not says(insert.name, "dither", words)
        and not (reading.word == "distortion" and says(insert.name, "clipper", words))
    )


@MIX_BUS.fact("list", "Processors behind its dither that make new values of the samples.", how="derived")
def behind_dither(row: Row[Channel | Unknown]) -> tuple[str, ...]:
    known(row.item)
    active, words = _active_inserts(row), row.context.house.vocabulary
    first = min((at for at, (one, _) in enumerate(active) if says(one.name, "dither", words)), default=len(active))
    return tuple(
        insert.name
        for insert, reading in active[first + 1 :]
        if reading.word not in ("analyser", "monitor", None) and not says(insert.name, "dither", words)
    )


@MIX_BUS.fact("text", "What stands behind its limiter or its dither, for a reader.", how="derived")
def out_of_order(row: Row[Channel | Unknown]) -> str:
    found = []
    for what, fact in (("its limiter", "shaped_behind_limiter"), ("its dither", "behind_dither")):
        behind = row.need(fact).value
        if isinstance(behind, tuple) and behind:
            names = few_text([str(one) for one in behind])
            found.append(f"{names} {'stands' if len(behind) == 1 else 'stand'} behind {what}")
    return " and ".join(found) or "nothing stands behind its limiter or its dither"


@MIX_BUS.fact("text", "What lifts the mix over the ceiling of its limiter, for a reader.", how="derived")
def behind_limiter_text(row: Row[Channel | Unknown]) -> str:
    behind, ceiling = row.need("behind_limiter_db"), row.value("ceiling_dbfs")
    if behind.number <= 0.0 and isinstance(ceiling, FactValue):
        return f"The limiter of {row.subject.name} puts out up to {number_text(ceiling.number, 'dBFS')} by its own gain"
    return f"{number_text(behind.number)} dB are added behind the limiter of {row.subject.name}, by {behind.note}"


@MIX_BUS.fact("number", "The ceiling of its last limiter, as it lists it, else its threshold.", unit="dBFS")
def ceiling_dbfs(row: Row[Channel | Unknown]) -> float | Unknown:
    limiters = [insert for insert, reading in _active_inserts(row) if reading.word == "limiter"]
    if not limiters:
        return Unknown(unknown="no limiter is seen on the mix bus", settle="look at its ceiling")
    listed = listed_db(limiters[-1], "ceiling", row.context.house.vocabulary)
    if listed is None:
        # Of a limiter only its ceiling is given in true peaks, whatever it is called.
        listed = next((value for one in limiters[-1].parameters if (value := _true_peak(one)) is not None), None)
    if listed is not None:
        return listed
    own = known(limiters[-1].dynamics or Unknown(unknown="its ceiling is hidden", settle="look at its ceiling"))
    return known(own.threshold_db) + known(own.output_gain_db)


def _true_peak(one: Parameter) -> float | None:
    """A parameter in decibels of true peak; None for any other."""
    if one.unit.casefold().replace(" ", "") != "dbtp" or isinstance(one.value, bool):
        return None
    return float(one.value) if isinstance(one.value, int | float) else None


@MIX_BUS.fact("list", "Processors acting on it, meters aside.", how="derived")
def processors(row: Row[Channel | Unknown]) -> tuple[str, ...]:
    return tuple(insert.name for insert, reading in _active_inserts(row) if reading.word != "analyser")


@MIX_BUS.fact("list", "Reference channels that go through it when they are switched in, silent now.", how="derived")
def references(row: Row[Channel | Unknown]) -> tuple[str, ...]:
    context = row.context
    reaching = context.routing.wiring.reaching
    return tuple(
        context.name(channel.id)
        for channel in context.session.channels
        if context.role(channel.id) == "reference" and channel.id in reaching and not is_heard(context, channel)
    )
