"""The table ``change``: what changed since the mix was approved, one row per change.

Without an approval it has no rows. When nothing changed it has one, about the whole session.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.comparison.whats import WHATS
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.session import Unknown, known

if TYPE_CHECKING:
    from mixlint.comparison import Approval, MixChange, Unseen


class ChangeSinceApproval(NamedTuple):
    """What one row is made of.

    Args:
        approved: the mix that was approved.
        found: the change, or what cannot be compared because an export does not show it; None when nothing changed.
    """

    approved: Approval
    found: MixChange | Unseen | None


def _rows(context: SessionContext) -> Iterator[tuple[Subject, ChangeSinceApproval]]:
    approved = context.approved
    if approved is None:
        return
    from mixlint.comparison import compare
    from mixlint.comparison.model import FINE

    compared = compare(
        approved.session,
        context.session,
        old_contents=approved.contents,
        new_contents=context.sounds,
        tolerances=FINE,
    )
    found: list[MixChange | Unseen] = [*compared.changes, *compared.unseen]
    for one in found:
        here = one.channel_id in context.channels
        item = f" ({one.item})" if one.item else ""
        name = f"{one.channel}: {one.what}{item}" if one.channel else one.what
        where = context.channels[one.channel_id].where if here else ""
        order = context.order[one.channel_id] if here else len(context.order)
        subject = Subject("change", f"{one.channel_id}:{one.what}:{one.item}", name, where, order,
                          (one.channel_id,) if here else ())  # fmt: skip
        yield subject, ChangeSinceApproval(approved, one)
    if not found:
        yield Subject("change", "change", "the approved mix", order=-1), ChangeSinceApproval(approved, None)


CHANGE: Table[ChangeSinceApproval] = Table(
    "change", "What changed since the mix was approved: one row per change.", _rows
)


def _change(row: Row[ChangeSinceApproval]) -> MixChange | None:
    """The change, or None when nothing changed.

    Raises:
        NotKnown: one of the two exports does not show it.
    """
    from mixlint.comparison import Unseen

    found = row.item.found
    if isinstance(found, Unseen):
        return known(Unknown(unknown=found.why, settle="export the session with all that it shows, or compare by ear"))
    return found


@CHANGE.fact("text", "The channel that changed, and in what.", how="derived")
def name(row: Row[ChangeSinceApproval]) -> str:
    return row.subject.name


@CHANGE.fact("word", "What the change touches; nothing, when all is as approved.", how="derived",
             words=(*WHATS, "nothing"))  # fmt: skip
def what(row: Row[ChangeSinceApproval]) -> str:
    return row.item.found.what if row.item.found is not None else "nothing"


@CHANGE.fact("text", "The channel that changed.", how="derived")
def on_channel(row: Row[ChangeSinceApproval]) -> str:
    found = row.item.found
    return (found.channel or "the song") if found is not None else "the song"


@CHANGE.fact("text", "What changed, in words.", how="derived", once="told")
def description(row: Row[ChangeSinceApproval]) -> str:
    change = _change(row)
    return change.says if change is not None else "nothing changed"


@CHANGE.fact("number", "By how much a level moved; 0 where the change is no level.", unit="dB", how="derived")
def moved_db(row: Row[ChangeSinceApproval]) -> float:
    change = _change(row)
    return change.by_db if change is not None else 0.0


@CHANGE.fact(
    "number", "By how much a pan position moved; 0 where the change is no pan.", unit="pan distance", how="derived"
)
def moved_pan(row: Row[ChangeSinceApproval]) -> float:
    change = _change(row)
    return change.by_pan if change is not None else 0.0


@CHANGE.fact("number", "By how much a clip moved; 0 where the change is no clip.", unit="ms", how="derived")
def moved_ms(row: Row[ChangeSinceApproval]) -> float:
    change = _change(row)
    return change.by_ms if change is not None else 0.0


@CHANGE.fact("switch", "Something was added, removed, switched or replaced, which no distance tells.", how="derived")
def switched(row: Row[ChangeSinceApproval]) -> bool:
    change = _change(row)
    return change is not None and change.switched


@CHANGE.fact("number", "The number of the mix that was approved.")
def approved_mix(row: Row[ChangeSinceApproval]) -> FactValue:
    return FactValue(row.item.approved.mix, "declared")


@CHANGE.fact("text", "Who approved it, and when.")
def approved_by(row: Row[ChangeSinceApproval]) -> str:
    approved = row.item.approved
    return f"{approved.by} on {approved.on}"
