"""The table ``loop``: rings of channels that feed each other."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.routing import Loop
from mixlint.session import FADER, control_of, controls_of_send, is_known


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Loop]]:
    for loop in context.routing.loops:
        names = [context.name(channel) for channel in loop.channels]
        subject = Subject(
            "loop",
            "+".join(loop.channels),
            " → ".join([*names, names[0]]),
            loop.cut.where,
            context.order[loop.channels[0]],
            loop.channels,
        )
        yield subject, loop


LOOP: Table[Loop] = Table("loop", "Rings of channels that feed each other through outputs and sends that sound.", _rows)


@LOOP.fact("text", "The ring: its channels in the order the signal runs.", how="derived")
def name(row: Row[Loop]) -> str:
    return row.subject.name


@LOOP.fact("switch", "The ring is closed: every edge of it sounds.", how="derived")
def closed(row: Row[Loop]) -> bool:
    wiring = row.context.routing.wiring
    return all(wiring.audible(edge) for edge in row.item.edges)


@LOOP.fact("number", "What one turn round the ring adds or takes: send levels and faders.", unit="dB", how="derived")
def turn_db(row: Row[Loop]) -> float:
    return row.item.gain_db


@LOOP.fact(
    "number",
    "The most that one turn round the ring can add, with every send and fader at its highest by automation.",
    unit="dB",
    how="derived",
)
def highest_turn_db(row: Row[Loop]) -> FactValue:
    total, moving = 0.0, []
    for edge in row.item.edges:
        channel = row.context.channels[edge.source]
        controls = [] if edge.send is None else [controls_of_send(channel, edge.send).level]
        controls += [control_of(channel, FADER)] if edge.tap == "post" else []
        total += sum(highest for control in controls if is_known(highest := control.highest))
        moving += [f"{channel.name}: {control.target}" for control in controls if control.moves]
    note = f"by the automation of {', '.join(moving)}" if moving else "as it stands"
    return FactValue(total, "derived", row.subject.where, note)


@LOOP.fact("switch", "A reverb or a delay is in the ring: what comes round is later.", how="derived")
def through_effect(row: Row[Loop]) -> bool:
    kinds = row.context.kinds
    return any(kind in ("reverb", "delay") for one in row.item.channels for kind in kinds[one].values())


@LOOP.fact("text", "The weakest edge, which closes the ring.", how="derived")
def closed_by(row: Row[Loop]) -> str:
    loop = row.item
    what = "the send" if loop.cut.kind == "send" else "the output"
    return f"{what} from {row.context.name(loop.cut.source)} to {row.context.name(loop.cut.to)}"


@LOOP.fact("number", "How many channels the ring holds.", how="derived")
def size(row: Row[Loop]) -> int:
    return len(row.item.channels)
