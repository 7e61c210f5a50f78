"""The table ``mix-bus``: one row, the bus that the bounce is taken from."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.facts.declare import Answer, Row, Subject, Table
from mixlint.facts.tables.channel import CHANNEL
from mixlint.facts.tables.common import channel_row
from mixlint.naming import Reading, read_processor
from mixlint.routing import automated, passes
from mixlint.routing.wiring import moving_lane
from mixlint.session import Channel, Insert, Unknown, is_known
from mixlint.study.desk import Desk
from mixlint.study.parts import feeds_content, is_aside


def _rows(desk: Desk) -> Iterator[Row]:
    bus = desk.routing.wiring.mix_bus
    if isinstance(bus, Unknown):
        yield Row(desk, Subject("mix-bus", "mix-bus", "the mix bus", order=len(desk.order)), bus)
    else:
        yield channel_row(desk, desk.channels[bus], "mix-bus")


MIX_BUS: Table[Row] = Table("mix-bus", "The bus that the bounce is taken from: one row.", _rows)


def _bus(row: Row) -> Channel | Unknown:
    return row.item  # type: ignore[no-any-return]


@MIX_BUS.fact("text", "Its name.")
def name(row: Row) -> str:
    return row.subject.name


@MIX_BUS.fact("switch", "The export shows which channel is the mix bus.")
def told(row: Row) -> bool | Answer:
    bus = _bus(row)
    return Answer(False, "declared", "", bus.unknown) if isinstance(bus, Unknown) else True


@MIX_BUS.fact("list", "Other mix buses that a part of the song goes out to, cue mixes aside.", how="derived")
def others(row: Row) -> tuple[str, ...]:
    desk = row.desk
    wiring = desk.routing.wiring
    return tuple(
        desk.name(channel.id)
        for channel in desk.session.channels
        if channel.kind == "master"
        and channel.id != wiring.mix_bus
        and not is_aside(desk, channel)
        and any(
            edge.kind == "output"
            and feeds_content(desk, edge.source)
            and not is_aside(desk, desk.channels[edge.source])
            for edge in wiring.arriving.get(channel.id, ())
        )
    )


@MIX_BUS.fact("number", "Fader position; −200 is fully down.", unit="dB")
def fader_db(row: Row) -> float | Unknown:
    bus = _bus(row)
    return bus if isinstance(bus, Unknown) else bus.fader_db


@MIX_BUS.fact("switch", "Automation moves its fader.")
def fader_rides(row: Row) -> bool | Unknown:
    bus = _bus(row)
    return bus if isinstance(bus, Unknown) else automated(bus, "fader")


@MIX_BUS.fact("number", "Pan position, −100 left to +100 right.", unit="pan")
def pan(row: Row) -> float | Unknown:
    bus = _bus(row)
    return bus if isinstance(bus, Unknown) else bus.pan


@MIX_BUS.fact("number", "The furthest it stands from the centre, automation included.", unit="pan", how="derived")
def off_centre(row: Row) -> float | Answer | Unknown:
    bus = _bus(row)
    if isinstance(bus, Unknown):
        return bus
    lane = moving_lane(bus, "pan")
    if lane is not None:
        return Answer(max(abs(value) for value in lane.v), "derived", lane.where, "by automation")
    return abs(bus.pan) if is_known(bus.pan) else bus.pan


@MIX_BUS.fact("switch", "It is muted, and no automation releases the mute.")
def muted(row: Row) -> Answer | Unknown:
    bus = _bus(row)
    if isinstance(bus, Unknown):
        return bus
    return CHANNEL.answer(channel_row(row.desk, bus, "channel"), "muted")


def _acting(row: Row) -> list[tuple[Insert, Reading]]:
    bus = _bus(row)
    if isinstance(bus, Unknown):
        return []
    return [
        (insert, read_processor(insert, row.desk.house.processors, on="master", vocabulary=row.desk.house.vocabulary))
        for insert in bus.inserts
        if passes(insert)
    ]


def _named(row: Row, *kinds: str) -> tuple[str, ...] | Unknown:
    """The acting processors of some kinds; open where there are none and some cannot be told."""
    acting = _acting(row)
    found = tuple(insert.name for insert, reading in acting if reading.word in kinds)
    if found:
        return found
    untold = [(insert, reading) for insert, reading in acting if reading.word in (None, "multi-effect")]
    if untold:
        insert, reading = untold[0]
        why = "; ".join(reading.grounds)
        return Unknown(unknown=f"what {insert.name} does: {why}", settle="name it in the house's table of processors")
    return ()


@MIX_BUS.fact(
    "list",
    "Processors acting on it that are there for listening: room or headphone correction, dim, a mono switch.",
    how="derived",
)
def for_listening(row: Row) -> tuple[str, ...] | Unknown:
    found = _named(row, "monitor")
    if isinstance(found, tuple) and "mono" in row.desk.house.intents:
        return tuple(one for one in found if "mono" not in one.casefold())
    return found


@MIX_BUS.fact("list", "Limiters acting on it.", how="derived")
def limiters(row: Row) -> tuple[str, ...] | Unknown:
    return _named(row, "limiter")


@MIX_BUS.fact("list", "Processors acting on it, meters aside.", how="derived")
def processors(row: Row) -> tuple[str, ...]:
    return tuple(insert.name for insert, reading in _acting(row) if reading.word != "analyser")


@MIX_BUS.fact("list", "Reference channels that go through it.", how="derived")
def references(row: Row) -> tuple[str, ...]:
    desk = row.desk
    reaching = desk.routing.wiring.reaching
    return tuple(
        desk.name(channel.id)
        for channel in desk.session.channels
        if desk.role(channel.id) == "reference" and channel.id in reaching
    )
