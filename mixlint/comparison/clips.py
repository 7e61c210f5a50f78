"""Clips of one channel in two revisions: one change per kind of change, however many clips it touches."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import Final, Literal, NamedTuple

from mixlint.comparison.change_log import SWITCHED, ChangeLog, Did, Extent
from mixlint.comparison.clip_pairs import ClipPairing
from mixlint.comparison.fields import CLIP
from mixlint.comparison.matching import Revision
from mixlint.naming import fold_name
from mixlint.session import Clip
from mixlint.units import clock_text, number_text

Kind = Literal["moved", "cut", "slipped", "faded", "gain", "speed", "on", "off", "replaced"]

WORDS: Final[dict[Kind, str]] = {
    "moved": "moved, by",
    "cut": "cut anew, by",
    "slipped": "slipped, by",
    "faded": "faded otherwise, by",
    "gain": "with another gain, by",
    "speed": "played at another speed",
    "on": "switched on",
    "off": "switched off",
}
"""What is said of the clips that changed in each way, in the order a reader is told."""

BY_FIELD: Final[dict[str, Kind]] = {"fade_in_s": "faded", "fade_out_s": "faded", "gain_db": "gain", "speed": "speed"}
"""The kind of change that a field of a clip is told as; its edges and its place in the file are told together."""

MOST_NAMED: Final = 3
"""So many replaced files are named; the rest are counted."""


class ClipChange(NamedTuple):
    """One way in which one clip changed, and how far: seconds for times, dB for gains, else without a meaning."""

    kind: Kind
    was: Clip
    now: Clip
    by: float = 0.0


def compare_clips(log: ChangeLog, old: Revision, new: Revision, was: Iterable[Clip], now: Iterable[Clip]) -> None:
    """Write down what changed among the clips of one channel.

    Args:
        log: where it goes.
        old, new: the revisions, which know what the clips play.
        was, now: the clips then and now.
    """
    pairing = ClipPairing(old, new, log.tolerances)
    found = pairing.paired(was, now)
    by_kind: dict[Kind, list[ClipChange]] = {}
    for pair in found.pairs:
        for change in _changes(pairing, *pair):
            by_kind.setdefault(change.kind, []).append(change)
    _put_whole(log, "added", found.added)
    _put_whole(log, "removed", found.removed)
    for kind in WORDS:
        if kind in by_kind:
            _put(log, kind, by_kind[kind])
    if "replaced" in by_kind:
        _put_replaced(log, old, new, by_kind["replaced"])


def _changes(pairing: ClipPairing, was: Clip, now: Clip) -> Iterator[ClipChange]:
    """Each way in which one clip changed."""
    if not pairing.same_sound(was, now):
        yield ClipChange("replaced", was, now)
    else:
        yield from _place_changes(pairing, was, now)
    far: dict[Kind, float] = {}
    for field in CLIP:
        by = field.quantity.distance(field.of(was), field.of(now), pairing.tolerances)
        if by > 0.0 and field.attribute in BY_FIELD:
            kind = BY_FIELD[field.attribute]
            far[kind] = max(by, far.get(kind, 0.0))
        elif by > 0.0 and field.attribute == "on":
            far["on" if now.on is True else "off"] = 0.0
    for kind, by in far.items():
        yield ClipChange(kind, was, now, by)


def _place_changes(pairing: ClipPairing, was: Clip, now: Clip) -> Iterator[ClipChange]:
    """How the same sound stands otherwise in the song: moved, cut at an edge, or slipped under its edges."""
    near = pairing.near
    starts, ends = now.start_s - was.start_s, now.end_s - was.end_s
    if near(starts, ends) and not near(starts, 0.0):
        yield ClipChange("moved", was, now, abs(starts))
    elif not near(starts, 0.0) or not near(ends, 0.0):
        yield ClipChange("cut", was, now, max(abs(starts), abs(ends)))
    slip = pairing.offset_moved(was, now)
    # A clip cut at its start begins later in its file by as much: that is one change, not two.
    if not near(slip, 0.0) and not near(slip, starts):
        yield ClipChange("slipped", was, now, abs(slip))


def _put_whole(log: ChangeLog, did: Did, clips: Collection[Clip]) -> None:
    if clips:
        log.add("clip", f"{_count(clips)} {did}{_at(clips)}", SWITCHED, did=did)


def _put(log: ChangeLog, kind: Kind, changes: Collection[ClipChange]) -> None:
    """Tell one kind of change for all clips it touches, with the farthest that one went."""
    most = max(change.by for change in changes)
    extent, size = SWITCHED, ""
    if kind == "gain":
        extent, size = Extent(db=most), f"{number_text(most)} dB"
    elif kind in ("moved", "cut", "slipped", "faded"):
        extent, size = Extent(ms=most * 1000.0), f"{number_text(most * 1000.0)} ms"
    up_to = f" {'' if len(changes) == 1 else 'up to '}{size}" if size else ""
    log.add("clip", f"{_count(changes)} {WORDS[kind]}{up_to}{_at([change.now for change in changes])}", extent)


def _put_replaced(log: ChangeLog, old: Revision, new: Revision, changes: Collection[ClipChange]) -> None:
    names = dict.fromkeys((old.file_name(change.was), new.file_name(change.now)) for change in changes)
    told = []
    for was, now in list(names)[:MOST_NAMED]:
        if fold_name(was) == fold_name(now):
            told.append(f"{now or 'what plays'} sounds otherwise")
        else:
            told.append(f"{now or 'notes'} in place of {was or 'notes'}")
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    at = _at([change.now for change in changes])
    log.add("audio", f"audio replaced: {', '.join(told)}{more}{at}", SWITCHED)


def _count(clips: Collection[object]) -> str:
    return "a clip" if len(clips) == 1 else f"{len(clips)} clips"


def _at(clips: Iterable[Clip]) -> str:
    starts = sorted(c.start_s for c in clips)
    first = f" at {clock_text(starts[0])}"
    return first if len(starts) == 1 else f", the first{first}"
