"""Where a clip's inner time lies in the song, and what a clip hands down to what it holds."""

from __future__ import annotations

from dataclasses import dataclass

from mixlint.importers.dawproject.clock import Clock
from mixlint.importers.dawproject.lanes import TimeUnit
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import Unknown

SAME_S = 1e-6
"""Places closer than a microsecond are one place."""


@dataclass(frozen=True, slots=True)
class LocalTime:
    """The time inside a clip or lane: its 0 lies at ``origin`` of the song, both counted in ``unit``."""

    clock: Clock
    unit: TimeUnit
    origin: float = 0.0

    def song_s(self, inner: float) -> float:
        """An inner position in seconds of the song."""
        return self.clock.seconds(self.origin + inner, self.unit)

    def inner(self, song_s: float) -> float:
        """A place in the song as an inner position."""
        return self.clock.position(song_s, self.unit) - self.origin

    def to(self, unit: TimeUnit) -> LocalTime:
        """The same time counted in another unit."""
        if unit == self.unit:
            return self
        return LocalTime(self.clock, unit, self.clock.position(self.clock.seconds(self.origin, self.unit), unit))


@dataclass(frozen=True, slots=True)
class Fade:
    """One clip's fades and the places where they apply; None where the file gives none."""

    start_s: float
    end_s: float
    into_s: float | None
    out_s: float | None


class LeftOut:
    """The clips of each channel that were met and not read, each counted once, however often a loop turns."""

    def __init__(self) -> None:
        self._played: set[int] = set()
        self._met: dict[str, set[int]] = {}
        self._empty: dict[str, set[int]] = {}

    def met(self, node: Node, strip_id: str, plays: bool) -> None:
        """A clip inside another one: whether it lies where that one plays."""
        self._met.setdefault(strip_id, set()).add(id(node))
        if plays:
            self._played.add(id(node))

    def empty(self, node: Node, strip_id: str) -> None:
        """A clip of which nothing could be read that plays."""
        self._empty.setdefault(strip_id, set()).add(id(node))

    def of(self, strip_id: str) -> tuple[int, int]:
        """How many clips inside others never play on a channel, and how many clips were read as nothing."""
        return len(self._met.get(strip_id, set()) - self._played), len(self._empty.get(strip_id, ()))

    @staticmethod
    def is_clip(node: Node) -> bool:
        """True for a timeline that holds clips, straight or in its lanes."""
        if node.tag == "Clips":
            return any(True for _ in node.all("Clip"))
        return node.tag == "Lanes" and any(LeftOut.is_clip(one) for one in node.children)


@dataclass(frozen=True, slots=True)
class Inherited:
    """What clips hand down to what they hold: name, mute, gain, fades, and the references already followed."""

    node: Node
    name: str = ""
    on: bool | Unknown = True
    gain_db: float | Unknown = 0.0
    fades: tuple[Fade, ...] = ()
    followed: frozenset[int] = frozenset()
    depth: int = 0

    def fades_at(self, start_s: float, end_s: float) -> dict[str, float]:
        """The fades of a piece from ``start_s`` to ``end_s``: those of the clips it begins or ends with."""
        found: dict[str, float] = {}
        into = [(f.start_s, f.into_s) for f in self.fades if f.into_s is not None]
        out = [(f.end_s, f.out_s) for f in self.fades if f.out_s is not None]
        for key, edge, fades in (("fade_in_s", start_s, into), ("fade_out_s", end_s, out)):
            if fades:
                here = [length for at, length in fades if abs(at - edge) <= SAME_S]
                longest = max((abs(length) for length in here), default=0.0)
                found[key] = round(-longest if -longest in here and longest not in here else longest, 9)
        return found
