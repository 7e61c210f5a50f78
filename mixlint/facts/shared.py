"""What several tables share: subjects and facts made of channels, words, and what is meant."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Final

from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import FactValue, Row, Subject
from mixlint.naming import PERMISSIONS
from mixlint.session import FADER, Channel, Control, Unknown, control_of, is_known

UNREAD: Final = "unread"
"""What a word fact says where a name does not tell, for rules that have to go on without it."""

UNREAD_ROLE: Final = "name its role in the house's table of roles"
"""What settles a role that a name does not tell."""

UTILITY: Final = "Its channel serves the session and is not part of the song: a cue mix, click, guide or reference."

INTENTS: Final = "What the house or the engineer has laid down as meant: mono, single-instrument, hard-panned."


def intents(row: Row[Any]) -> FactValue:
    """The intents in force, so that a rule can stay idle where something is meant."""
    return FactValue(tuple(sorted(row.context.house.intents)), "declared")


HOUSE_LETS: Final = "What the house lets the part do, where it has defined the part's role itself."


def house_lets(row: Row[Any]) -> FactValue:
    """What the house lets a part do, so that a rule can stay idle where a role of its own may do it."""
    allowed = row.context.allowances(row.subject.id)
    return FactValue(tuple(one for one in PERMISSIONS if one in allowed), "declared")


def channel_subject(context: SessionContext, channel: Channel, table: str) -> Subject:
    """The subject of a row that is one channel."""
    return Subject(table, channel.id, context.name(channel.id), channel.where, context.order[channel.id], (channel.id,))


def channel_rows(
    table: str, belongs: Callable[[SessionContext, Channel], bool] = lambda *_: True
) -> Callable[[SessionContext], Iterator[tuple[Subject, Channel]]]:
    """How the rows of a table are found that has one for each channel, in desk order.

    Args:
        table: its name.
        belongs: whether a channel has a row there; every one has unless given.
    """

    def rows(context: SessionContext) -> Iterator[tuple[Subject, Channel]]:
        return ((channel_subject(context, c, table), c) for c in context.session.channels if belongs(context, c))

    return rows


def stands_at(row: Row[Any], control: Control) -> FactValue | Unknown:
    """What a control stands at now: as stored, or where automation holds it."""
    now = control.now
    if isinstance(now, Unknown):
        return now
    if control.lane is not None and (control.held or isinstance(control.static, Unknown)):
        return FactValue(now, "declared", control.where or row.subject.where, "by automation")
    return FactValue(now, "declared", row.subject.where)


def fader_under(row: Row[Channel], other: Channel | None) -> FactValue:
    """How far the fader of a row's channel stands under another's, dB; 0 where there is none, or one is ridden."""
    if other is None:
        return FactValue(0.0, "derived", row.subject.where)
    own, there = control_of(row.item, FADER), control_of(other, FADER)
    if own.moves or there.moves or not is_known(own.now) or not is_known(there.now):
        return FactValue(0.0, "derived", row.subject.where)
    return FactValue(there.now - own.now, "derived", row.subject.where, row.context.name(other.id))
