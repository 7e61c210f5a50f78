"""Where changes of one channel are gathered, and how values are compared and put in words."""

from __future__ import annotations

from typing import Literal, TypeVar

from mixlint.revisions.model import Change, Tolerances, Unseen, What
from mixlint.session import Channel, Unknown
from mixlint.units import SILENCE_DB, number_text, pan_text

T = TypeVar("T")

FAINT_DB = -90.0
"""Levels below this are alike: six decimals of an amplitude cannot tell them apart."""


class Notebook:
    """Gathers what changed on one channel.

    Args:
        channel: the channel as it is now, or as it was where it is gone.
        tolerances: by how much a value may move.
    """

    def __init__(self, channel: Channel, tolerances: Tolerances) -> None:
        self.channel = channel
        self.tolerances = tolerances
        self.changes: list[Change] = []
        self.unseen: list[Unseen] = []

    def put(
        self,
        what: What,
        says: str,
        *,
        item: str = "",
        did: Literal["added", "removed", "changed"] = "changed",
        was: str = "",
        now: str = "",
        by_db: float = 0.0,
        by_pan: float = 0.0,
        by_ms: float = 0.0,
        switched: bool = False,
    ) -> None:
        """Write one change down."""
        self.changes.append(
            Change(
                what=what, channel=self.channel.name, channel_id=self.channel.id, item=item, did=did, was=was, now=now,
                by_db=by_db, by_pan=by_pan, by_ms=by_ms, switched=switched, says=says,
            )
        )  # fmt: skip

    def cannot_tell(self, what: What, why: str, item: str = "") -> None:
        """Write down that one revision does not show something."""
        channel = self.channel
        self.unseen.append(Unseen(what=what, channel=channel.name, channel_id=channel.id, item=item, why=why))

    def known(self, what: What, was: T | Unknown, now: T | Unknown, of: str, item: str = "") -> tuple[T, T] | None:
        """Both values where both are known; else None, written down where only one of them is."""
        if not isinstance(was, Unknown) and not isinstance(now, Unknown):
            return was, now
        if isinstance(was, Unknown) and isinstance(now, Unknown):
            return None  # neither shows it: nothing that could have been seen has changed
        hidden, side = (was, "older") if isinstance(was, Unknown) else (now, "newer")
        assert isinstance(hidden, Unknown)
        self.cannot_tell(what, f"the {side} revision does not show {of}: {hidden.unknown}", item)
        return None

    def level(self, what: What, of: str, was: float | Unknown, now: float | Unknown, item: str = "") -> None:
        """Compare two levels in dB."""
        both = self.known(what, was, now, of, item)
        if both is None:
            return
        by = level_moved(*both)
        if by > self.tolerances.level_db:
            way = "up" if both[1] > both[0] else "down"
            was_text, now_text = level_text(both[0]), level_text(both[1])
            size = "" if min(both) <= FAINT_DB else f"{number_text(by)} dB "
            says = f"{of} {size}{way}, from {was_text} to {now_text}"
            self.put(what, says, item=item, was=was_text, now=now_text, by_db=by)

    def pan(self, what: What, of: str, was: float | Unknown, now: float | Unknown, item: str = "") -> None:
        """Compare two pan positions."""
        both = self.known(what, was, now, of, item)
        if both is not None and abs(both[1] - both[0]) > self.tolerances.pan:
            was_text, now_text = pan_text(both[0]), pan_text(both[1])
            says = f"{of} from {was_text} to {now_text}"
            self.put(what, says, item=item, was=was_text, now=now_text, by_pan=abs(both[1] - both[0]))

    def switch(
        self,
        what: What,
        was: bool | Unknown,
        now: bool | Unknown,
        *,
        of: str,
        on: str,
        off: str,
        item: str = "",
    ) -> None:
        """Compare two switches; ``on`` and ``off`` say what they have become."""
        both = self.known(what, was, now, of, item)
        if both is not None and both[0] != both[1]:
            words = ("off", "on")
            self.put(what, on if both[1] else off, item=item, was=words[both[0]], now=words[both[1]], switched=True)


def level_moved(was: float, now: float) -> float:
    """How far a level moved, dB; nothing between two that cannot be told from silence."""
    return 0.0 if was <= FAINT_DB and now <= FAINT_DB else abs(now - was)


def level_text(value: float) -> str:
    """A level in dB, silence as −∞."""
    return number_text(SILENCE_DB if value <= FAINT_DB else value, "dB")
