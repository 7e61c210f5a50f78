"""What moved in the mix between two revisions: the parts and returns, how far each moved, and how much that matters."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.contributions import Contribution, contributions
from mixlint.comparison import Tolerances
from mixlint.reports.plain import neutral
from mixlint.session import is_known
from mixlint.units import SILENCE_DB, number_text, pan_text

if TYPE_CHECKING:
    from mixlint.analysis.context import SessionContext

LEAST_SHARE: Final = 0.01
"""A part that brings so much more or less of the mix's energy is named, though neither its level nor its place moved:
wording, no verdict rests on it."""

FAINT_DB: Final = -80.0
"""A gain under this is drawn as silence."""


@dataclass(frozen=True, slots=True)
class Revisions:
    """Two revisions of one song.

    Args:
        old, new: both sessions; the audio of both is open, or of none.
        same: the older id of each channel that is in both to its newer one.
    """

    old: SessionContext
    new: SessionContext
    same: Mapping[str, str]


class Move(NamedTuple):
    """One part or return in both revisions.

    Args:
        name: what it is called now, or was where it is gone.
        a_return: it is an effect return.
        was, now: where it stood and stands; None where it was not there, or is gone.
        share: how much of the older mix's energy comes or goes with it, left and right apart, 0 … 1; None where that
            is not known. It may be more than 1.
        moved: its level or its place is another by more than the comparison lets pass.
    """

    name: str
    a_return: bool
    was: Contribution | None
    now: Contribution | None
    share: float | None
    moved: bool

    @property
    def by_db(self) -> float | None:
        """How much louder it arrives, dB; None where one of the levels is silence or not known."""
        was, now = self.levels
        if was is None or now is None or was <= FAINT_DB or now <= FAINT_DB:
            return None
        return now - was

    @property
    def levels(self) -> tuple[float | None, float | None]:
        """The gains to the mix bus, dB; silence where it is not there, None where not known."""
        return _level(self.was), _level(self.now)

    @property
    def pans(self) -> tuple[float | None, float | None]:
        """The places, −100 … +100; None where it is not there or not known."""
        return _pan(self.was), _pan(self.now)

    @property
    def by_pan(self) -> float:
        """How far it moved between the sides; 0 where that is not known."""
        was, now = self.pans
        return now - was if was is not None and now is not None else 0.0

    @property
    def text(self) -> str:
        """What became of it: ``2 dB up, from 40 left to 60 left``."""
        return self._said("from {was} to {now}")

    @property
    def brief(self) -> str:
        """The same beside a drawing that shows from where: ``2 dB up, to 60 left``."""
        return self._said("to {now}")

    def _said(self, place: str) -> str:
        if self.was is None or self.now is None:
            return "added" if self.was is None else "removed"
        was, now = self.levels
        said = []
        limits = Tolerances()
        if was is not None and now is not None and (was <= FAINT_DB) is not (now <= FAINT_DB):
            said.append("silent now" if now <= FAINT_DB else "sounds now")
        elif self.by_db is not None and abs(self.by_db) >= limits.level_db:
            said.append(f"{number_text(abs(round(self.by_db, 1)), 'dB')} {'up' if self.by_db > 0.0 else 'down'}")
        pans = self.pans
        if pans[0] is not None and pans[1] is not None and abs(self.by_pan) >= limits.pan:
            said.append(place.format(was=pan_text(pans[0]), now=pan_text(pans[1])))
        return ", ".join(said) or "by its filters, sends or clips"


def _level(one: Contribution | None) -> float | None:
    if one is None:
        return SILENCE_DB
    return one.level_db if is_known(one.level_db) else None


def _pan(one: Contribution | None) -> float | None:
    return one.pan if one is not None and is_known(one.pan) else None


def moves(revisions: Revisions) -> tuple[Move, ...]:
    """Every part and return of both revisions, those that move most of the mix first, then the others in desk order."""
    older = {one.channel: one for one in contributions(revisions.old)}
    newer = {one.channel: one for one in contributions(revisions.new)}
    back = {now: was for was, now in revisions.same.items()}
    total = sum((one.left or 0.0) + (one.right or 0.0) for one in older.values())
    pairs: list[tuple[Contribution | None, Contribution | None]] = []
    for now in newer.values():
        was = older.pop(back.get(now.channel, ""), None)
        if was is not None and was.a_return is not now.a_return:
            was = was._replace(a_return=now.a_return)
        pairs.append((was, now))
    pairs += [(was, None) for was in older.values()]
    found = [_move(revisions, was, now, total) for was, now in pairs]
    return tuple(sorted(found, key=_weight))  # stable: desk order where nothing tells


def _weight(move: Move) -> tuple[bool, float, float]:
    by_db = abs(move.by_db) if move.by_db is not None else 60.0 if move.moved else 0.0
    return not move.moved, -(move.share or 0.0), -(by_db + abs(move.by_pan) / 10.0)


def _move(revisions: Revisions, was: Contribution | None, now: Contribution | None, total: float) -> Move:
    one = now or was
    assert one is not None
    context = revisions.new if now is not None else revisions.old
    name = neutral(context.name(one.channel)) or "(no name)"
    made = Move(name, one.a_return, was, now, _share(was, now, total), False)
    limits = Tolerances()
    levels = made.levels
    turned = None not in levels and ((levels[0] or 0.0) <= FAINT_DB) is not ((levels[1] or 0.0) <= FAINT_DB)
    louder = made.by_db is not None and abs(made.by_db) >= limits.level_db
    return made._replace(moved=turned or louder or abs(made.by_pan) >= limits.pan or was is None or now is None)


def _share(was: Contribution | None, now: Contribution | None, total: float) -> float | None:
    sides = []
    before = (0.0, 0.0) if was is None else (was.left, was.right)
    after = (0.0, 0.0) if now is None else (now.left, now.right)
    for here, there in zip(before, after, strict=True):
        if here is None or there is None or total <= 0.0:
            return None
        sides.append(abs(there - here))
    return sum(sides) / total


def together_db(found: tuple[Move, ...]) -> float:
    """By how much all parts that sound in both revisions are louder alike, dB; 0 where they are not moved together."""
    levels = sorted(move.by_db for move in found if move.by_db is not None and not move.a_return)
    if len(levels) < 3:
        return 0.0
    middle = levels[len(levels) // 2]
    alike = sum(abs(one - middle) < 0.1 for one in levels)
    return middle if 3 * alike >= 2 * len(levels) and abs(middle) >= Tolerances().level_db else 0.0


def share_text(share: float | None) -> str:
    """A share of the mix's energy: ``12 %``, ``under 1 %``; nothing where it is not known."""
    if share is None:
        return ""
    return f"{number_text(round(100.0 * share))} %" if share >= LEAST_SHARE else "under 1 %"
