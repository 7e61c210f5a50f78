"""The table ``change``: what changed since the mix was approved, one row per change.

Without an approval it has no rows. When nothing changed it has one, about the whole session.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from mixlint.analysis.context import SessionContext
from mixlint.comparison.model import FINE, WHATS, MixChange, Unseen
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.session import Unknown

if TYPE_CHECKING:
    from mixlint.comparison import Approval


@dataclass(frozen=True, slots=True)
class Since:
    """One change, or what cannot be told, since an approval; None when nothing changed."""

    approved: Approval
    told: MixChange | Unseen | None


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Since]]:
    approved = context.approved
    if approved is None:
        return
    from mixlint.comparison import compare

    found = compare(
        approved.session,
        context.session,
        old_contents=approved.contents,
        new_contents=context.sounds,
        tolerances=FINE,
    )
    told: list[MixChange | Unseen] = [*found.changes, *found.unseen]
    for one in told:
        here = one.channel_id in context.channels
        item = f" ({one.item})" if one.item else ""
        name = f"{one.channel}: {one.what}{item}" if one.channel else one.what
        where = context.channels[one.channel_id].where if here else ""
        order = context.order[one.channel_id] if here else len(context.order)
        subject = Subject("change", f"{one.channel_id}:{one.what}:{one.item}", name, where, order,
                          (one.channel_id,) if here else ())  # fmt: skip
        yield subject, Since(approved, one)
    if not told:
        yield Subject("change", "change", "the approved mix", order=-1), Since(approved, None)


CHANGE: Table[Since] = Table("change", "What changed since the mix was approved: one row per change.", _rows)


def _change(row: Row[Since]) -> MixChange | Unknown | None:
    told = row.item.told
    if isinstance(told, Unseen):
        return Unknown(unknown=told.why, settle="export the session with all that it shows, or compare by ear")
    return told


@CHANGE.fact("text", "The channel that changed, and in what.", how="derived")
def name(row: Row[Since]) -> str:
    return row.subject.name


@CHANGE.fact("word", "What the change touches; nothing, when all is as approved.", how="derived",
             words=(*WHATS, "nothing"))  # fmt: skip
def what(row: Row[Since]) -> str:
    return row.item.told.what if row.item.told is not None else "nothing"


@CHANGE.fact("text", "The channel that changed.", how="derived")
def on_channel(row: Row[Since]) -> str:
    told = row.item.told
    return (told.channel or "the song") if told is not None else "the song"


@CHANGE.fact("text", "What changed, in words.", how="derived")
def told(row: Row[Since]) -> str | Unknown:
    change = _change(row)
    if isinstance(change, Unknown):
        return change
    return change.says if change is not None else "nothing changed"


@CHANGE.fact("number", "By how much a level moved; 0 where the change is no level.", unit="dB", how="derived")
def moved_db(row: Row[Since]) -> float | Unknown:
    change = _change(row)
    return change if isinstance(change, Unknown) else change.by_db if change is not None else 0.0


@CHANGE.fact("number", "By how much a pan position moved; 0 where the change is no pan.", unit="pan", how="derived")
def moved_pan(row: Row[Since]) -> float | Unknown:
    change = _change(row)
    return change if isinstance(change, Unknown) else change.by_pan if change is not None else 0.0


@CHANGE.fact("number", "By how much a clip moved; 0 where the change is no clip.", unit="ms", how="derived")
def moved_ms(row: Row[Since]) -> float | Unknown:
    change = _change(row)
    return change if isinstance(change, Unknown) else change.by_ms if change is not None else 0.0


@CHANGE.fact("switch", "Something was added, removed, switched or replaced, which no distance tells.", how="derived")
def switched(row: Row[Since]) -> bool | Unknown:
    change = _change(row)
    return change if isinstance(change, Unknown) else change is not None and change.switched


@CHANGE.fact("number", "The number of the mix that was approved.")
def approved_mix(row: Row[Since]) -> FactValue:
    return FactValue(row.item.approved.mix, "declared")


@CHANGE.fact("text", "Who approved it, and when.")
def approved_by(row: Row[Since]) -> str:
    approved: Approval = row.item.approved
    return f"{approved.by} on {approved.on}"
