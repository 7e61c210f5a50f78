"""What changed between two revisions, and what cannot be told."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from mixlint.comparison.whats import What
from mixlint.session.maybe import Frozen


@dataclass(frozen=True, slots=True)
class Tolerances:
    """By how much a value may move before it counts as changed (common practice, no source).

    Args:
        level_db: faders, send levels, clip gains, filter gains, thresholds.
        pan: pan positions, −100…+100.
        time_s: the edges of clips, their places in the file, fades.
    """

    level_db: float = 0.5
    pan: float = 5.0
    time_s: float = 0.001


FINE = Tolerances(level_db=0.05, pan=0.5, time_s=0.0002)
"""Just above what writing a number to six decimals does to it: what is left is a change somebody made."""


class MixChange(Frozen):
    """One thing that changed on one channel.

    Args:
        what: what it touches.
        channel: the channel's name in the newer revision; in the older one where it is gone.
        channel_id: its id there.
        item: the send's destination, the insert's name or the automated parameter, where one is meant.
        did: whether it was added, removed or changed.
        was, now: the two states in words.
        by_db, by_pan, by_ms: how far a number moved, as a size; 0 where it is not of that unit.
        switched: true for what cannot be told by a distance: added, removed, switched, replaced.
        says: one sentence without the channel's name.
    """

    what: What
    channel: str
    channel_id: str = ""
    item: str = ""
    did: Literal["added", "removed", "changed"] = "changed"
    was: str = ""
    now: str = ""
    by_db: float = 0.0
    by_pan: float = 0.0
    by_ms: float = 0.0
    switched: bool = False
    says: str


class Unseen(Frozen):
    """What one of the revisions does not show, so that it cannot be told whether it changed."""

    what: What
    channel: str
    channel_id: str = ""
    item: str = ""
    why: str


class Comparison(Frozen):
    """Everything that changed, in the newer revision's desk order, and what cannot be told.

    ``renamed`` maps each older name to the newer one, for channels known again by their content; ``same`` the older id
    of every channel that is in both revisions to its newer one.
    """

    changes: tuple[MixChange, ...] = ()
    unseen: tuple[Unseen, ...] = ()
    renamed: dict[str, str] = Field(default_factory=dict)
    same: dict[str, str] = Field(default_factory=dict)
