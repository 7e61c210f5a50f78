"""Saved settings of processors that nobody reads: what stands for them in a hash, and sessions that hold none."""

from __future__ import annotations

from mixlint.session import Channel, Session, is_known, seen_inserts
from mixlint.session.control import moves


def automation_moves_settings(channel: Channel, place: int) -> bool:
    """True where automation moves a setting of an insert, its switch aside: it is saved as it stood at the export."""
    return any(
        moves(lane)
        for lane in channel.automation
        if lane.target.of_insert and lane.target.place == place and lane.target.kind != "insert-switch"
    )


def saved_hash(channel: Channel, place: int) -> str:
    """The hash of the saved settings of an insert; empty where there is none, or where it says nothing.

    Args:
        channel: the channel.
        place: which of its inserts, from 0.
    """
    saved = seen_inserts(channel)[place].saved
    if saved is None or not is_known(saved.content) or automation_moves_settings(channel, place):
        return ""
    return saved.content


def saved_alike(one: Session, other: Session) -> tuple[Session, Session]:
    """Two revisions without saved settings where only one of them holds any; else as they are.

    An older version of this program kept none in an approval, and some exporters write none.
    """
    if _holds_any(one) == _holds_any(other):
        return one, other
    return _without_any(one), _without_any(other)


def _holds_any(session: Session) -> bool:
    return any(insert.saved is not None for channel in session.channels for insert in seen_inserts(channel))


def _without_any(session: Session) -> Session:
    if not _holds_any(session):
        return session
    channels = tuple(
        channel.model_copy(
            update={"inserts": tuple(one.model_copy(update={"saved": None}) for one in seen_inserts(channel))}
        )
        for channel in session.channels
    )
    return session.model_copy(update={"channels": channels})
