"""Where the changes of one channel are gathered and put in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, TypeVar

from mixlint.comparison.model import MixChange, Tolerances, Unseen
from mixlint.comparison.quantities import FAINT_DB, LEVEL, PAN, level_moved
from mixlint.comparison.whats import What
from mixlint.session import Channel, Unknown
from mixlint.units import SILENCE_DB, number_text, pan_text

T = TypeVar("T")

Did = Literal["added", "removed", "changed"]


@dataclass(frozen=True, slots=True)
class Extent:
    """How far something changed.

    Args:
        db, pan, ms: a distance in dB, steps of pan or milliseconds; 0 where it is not of that unit.
        switched: true for what no distance tells: added, removed, switched, replaced.
    """

    db: float = 0.0
    pan: float = 0.0
    ms: float = 0.0
    switched: bool = False


SWITCHED: Final = Extent(switched=True)


class ChangeLog:
    """Gathers what changed on one channel.

    Args:
        channel: the channel as it is now, or as it was where it is gone.
        tolerances: by how much a value may move.
    """

    def __init__(self, channel: Channel, tolerances: Tolerances) -> None:
        self.channel = channel
        self.tolerances = tolerances
        self.changes: list[MixChange] = []
        self.unseen: list[Unseen] = []

    def add(
        self,
        what: What,
        says: str,
        extent: Extent,
        *,
        item: str = "",
        did: Did = "changed",
        states: tuple[str, str] = ("", ""),
    ) -> None:
        """Write one change down.

        Args:
            what: what it touches.
            says: one sentence without the channel's name.
            extent: how far it went.
            item: the send's destination, the insert's name or the automated parameter, where one is meant.
            did: whether it was added, removed or changed.
            states: the state then and the state now, in words.
        """
        was, now = states
        self.changes.append(
            MixChange(
                what=what, channel=self.channel.name, channel_id=self.channel.id, item=item, did=did, was=was, now=now,
                by_db=extent.db, by_pan=extent.pan, by_ms=extent.ms, switched=extent.switched, says=says,
            )
        )  # fmt: skip

    def known(self, what: What, was: T | Unknown, now: T | Unknown, of: str, item: str = "") -> tuple[T, T] | None:
        """Both values where both are known; else None, written down as unseen where only one of them is."""
        if not isinstance(was, Unknown) and not isinstance(now, Unknown):
            return was, now
        if isinstance(was, Unknown) and isinstance(now, Unknown):
            return None  # neither shows it: nothing that could have been seen has changed
        hidden, side = (was, "older") if isinstance(was, Unknown) else (now, "newer")
        assert isinstance(hidden, Unknown)
        self.cannot_tell(what, f"the {side} revision does not show {of}: {hidden.unknown}", item)
        return None

    def cannot_tell(self, what: What, why: str, item: str = "") -> None:
        """Write down what cannot be compared, and why."""
        channel = self.channel
        self.unseen.append(Unseen(what=what, channel=channel.name, channel_id=channel.id, item=item, why=why))

    def level(self, what: What, of: str, was: float | Unknown, now: float | Unknown, item: str = "") -> None:
        """Compare two levels in dB; ``of`` is what a reader calls them."""
        both = self.known(what, was, now, of, item)
        if both is not None and LEVEL.differ(*both, self.tolerances):
            by = level_moved(*both)
            way = "up" if both[1] > both[0] else "down"
            states = (level_text(both[0]), level_text(both[1]))
            size = "" if min(both) <= FAINT_DB else f"{number_text(by)} dB "
            says = f"{of} {size}{way}, from {states[0]} to {states[1]}"
            self.add(what, says, Extent(db=by), item=item, states=states)

    def pan(self, what: What, of: str, was: float | Unknown, now: float | Unknown, item: str = "") -> None:
        """Compare two pan positions, −100 … +100; ``of`` is what a reader calls them."""
        both = self.known(what, was, now, of, item)
        if both is not None and PAN.differ(*both, self.tolerances):
            states = (pan_text(both[0]), pan_text(both[1]))
            says = f"{of} from {states[0]} to {states[1]}"
            self.add(what, says, Extent(pan=PAN.moved(*both)), item=item, states=states)

    def switch(
        self, what: What, was: bool | Unknown, now: bool | Unknown, *, of: str, on: str, off: str, item: str = ""
    ) -> None:
        """Compare two switches; ``on`` and ``off`` say what they have become, ``of`` what one of them may hide."""
        both = self.known(what, was, now, of, item)
        if both is not None and both[0] != both[1]:
            words = ("off", "on")
            states = (words[both[0]], words[both[1]])
            self.add(what, on if both[1] else off, SWITCHED, item=item, states=states)

    def word(self, what: What, was: str | Unknown, now: str | Unknown, *, of: str, says: str, item: str = "") -> None:
        """Compare two words; ``says`` is a sentence with ``{}`` for the item, ``{was}`` and ``{now}`` for them."""
        both = self.known(what, was, now, of, item)
        if both is not None and both[0] != both[1]:
            self.add(what, says.format(item, was=both[0], now=both[1]), SWITCHED, item=item, states=both)


def level_text(value: float) -> str:
    """A level in dB, silence as −∞."""
    return number_text(SILENCE_DB if value <= FAINT_DB else value, "dB")
