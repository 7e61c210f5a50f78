"""What a channel plays along the song, clip by clip, and where two channels that are edited alike part.

A *line* is a channel's audio clips in order, each up to where the next takes over, so that a crossfade counts as a cut.
Channels whose lines have the same cuts are one *set*: the microphones of an ensemble, a section of horns, doubles that
were trimmed together. Held against such a set, a channel that leaves it in one place alone shows an edit that was made
on it and not on the others, or on the others and not on it.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from typing import Final, Literal, NamedTuple

from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips, file_name, media_of, origin_s
from mixlint.naming import take_numbers
from mixlint.session import Channel, Clip, is_known

SAME_EDGE_S: Final = 0.003
"""Edges this near are one: rounding of the export, and less than anyone hears as a hole. A definition."""
SAME_ORIGIN_S: Final = 0.002
"""Recordings that begin this near lie together: a definition."""
SAME_SPEED: Final = 1e-6
"""Speeds this near are one: rounding of the export."""
ONE_PLACE_S: Final = 1.0
"""Differences with no more than this between them are one place: a clip that was moved leaves two. A definition."""
GRID_S: Final = 0.01
"""How finely the edges of clips are compared where sets are looked for: a bound of work."""

Parted = Literal["silent", "extra", "other"]
"""What one channel has where it parts from another: silence where that plays, sound where it rests, something else."""


class Piece(NamedTuple):
    """A stretch of a line.

    Args:
        start_s: where it begins, seconds.
        end_s: where it ends, or the next takes over, seconds.
        origin_s: where its recording would begin, seconds of the song; None where that is not known.
        take: the number of its take by name; None where no name tells.
        speed: seconds of the file per second of the song; None where it is not known.
        clip: the clip.
    """

    start_s: float
    end_s: float
    origin_s: float | None
    take: int | None
    speed: float | None
    clip: Clip


class Parting(NamedTuple):
    """A stretch in which one line has something else than another.

    Args:
        start_s: where it begins, seconds.
        end_s: where it ends, seconds.
        what: what the line has there against the other.
        own: its own piece, or None.
        theirs: the other's piece, or None.
    """

    start_s: float
    end_s: float
    what: Parted
    own: Piece | None
    theirs: Piece | None


@per_session
def take_of_clip(context: SessionContext, clip: Clip) -> int | None:
    """The number of the take that a clip plays, by the name of its file or its own; None where neither tells."""
    words = context.house.vocabulary
    media = media_of(context, clip.file) if clip.file is not None else None
    for name in (file_name(media.path).rpartition(".")[0] if media else "", clip.name):
        numbers = take_numbers(name, words)
        if len(numbers) == 1:
            return numbers[0]
    return None


@per_session
def line_of(context: SessionContext, channel: Channel) -> tuple[Piece, ...]:
    """The line of a channel."""
    clips = sorted(audio_clips(channel), key=lambda c: (c.start_s, c.end_s))
    found: list[Piece] = []
    for at, clip in enumerate(clips):
        end = min(clip.end_s, clips[at + 1].start_s) if at + 1 < len(clips) else clip.end_s
        if end - clip.start_s <= SAME_EDGE_S:
            continue
        speed = clip.speed if is_known(clip.speed) else None
        origin = origin_s(clip) if clip.file is not None and is_known(clip.offset_s) and speed == 1.0 else None
        found.append(Piece(clip.start_s, end, origin, take_of_clip(context, clip), speed, clip))
    return tuple(found)


class CutSet(NamedTuple):
    """Channels whose lines have the same cuts.

    Args:
        channels: the channels in desk order.
        line: the line of the first.
        recorded_together: at every piece their recordings begin at the same distance to each other.
        spliced: at one of the cuts, two pieces meet that were not recorded on end.
    """

    channels: tuple[Channel, ...]
    line: tuple[Piece, ...]
    recorded_together: bool
    spliced: bool


@per_session
def cut_sets(context: SessionContext) -> tuple[CutSet, ...]:
    """All sets of channels with the same cuts, single channels among them."""
    alike: dict[tuple[tuple[int, int], ...], list[Channel]] = {}
    for channel in context.session.channels:
        line = line_of(context, channel) if is_source(context, channel) else ()
        if line:
            key = tuple((round(piece.start_s / GRID_S), round(piece.end_s / GRID_S)) for piece in line)
            alike.setdefault(key, []).append(channel)
    return tuple(as_set(context, tuple(channels)) for channels in alike.values())


@per_session
def as_set(context: SessionContext, channels: tuple[Channel, ...]) -> CutSet:
    """Some channels with the same cuts as a set."""
    lines = [line_of(context, channel) for channel in channels]
    first = lines[0]
    together = all(_apart(first, line) is not None for line in lines)
    meets = any(
        after.start_s - before.end_s <= 0.1
        and (before.origin_s is None or after.origin_s is None or abs(after.origin_s - before.origin_s) > SAME_ORIGIN_S)
        for before, after in pairwise(first)
    )
    return CutSet(channels, first, together, meets)


def _apart(one: tuple[Piece, ...], other: tuple[Piece, ...]) -> float | None:
    """By how much the recordings of one line begin after those of another throughout, seconds; None where they vary."""
    found = [
        b.origin_s - a.origin_s if a.origin_s is not None and b.origin_s is not None else None
        for a, b in zip(one, other, strict=True)
    ]
    shifts = [shift for shift in found if shift is not None]
    if len(shifts) != len(found) or max(shifts) - min(shifts) > SAME_ORIGIN_S:
        return None
    return shifts[0]


def usual_shift(theirs: tuple[Piece, ...], own: tuple[Piece, ...]) -> float | None:
    """By how much the recordings of one line begin after another's, for the longest time; None where they never meet.

    None also where that is so for less than half of the time in which both play: they were not recorded together.
    """
    weights: Counter[int] = Counter()
    shifts: dict[int, float] = {}
    total = 0.0
    for start, end, a, b in _side_by_side(theirs, own):
        if a is None or b is None:
            continue
        total += end - start
        if a.origin_s is not None and b.origin_s is not None:
            shift = b.origin_s - a.origin_s
            key = next((k for k, s in shifts.items() if abs(s - shift) <= SAME_ORIGIN_S), len(shifts))
            shifts.setdefault(key, shift)
            weights[key] += round(1000.0 * (end - start))
    if not weights:
        return None
    key, weight = weights.most_common(1)[0]
    return shifts[key] if weight >= 500.0 * total else None


def _side_by_side(
    one: tuple[Piece, ...], other: tuple[Piece, ...]
) -> list[tuple[float, float, Piece | None, Piece | None]]:
    """The stretches between all cuts of two lines, with what each plays there."""
    edges = sorted({edge for piece in (*one, *other) for edge in (piece.start_s, piece.end_s)})
    found = []
    at = [0, 0]
    for start, end in pairwise(edges):
        middle = (start + end) / 2.0
        here: list[Piece | None] = []
        for which, line in enumerate((one, other)):
            while at[which] < len(line) and line[at[which]].end_s <= middle:
                at[which] += 1
            piece = line[at[which]] if at[which] < len(line) else None
            here.append(piece if piece is not None and piece.start_s <= middle else None)
        found.append((start, end, here[0], here[1]))
    return found


def partings(theirs: tuple[Piece, ...], own: tuple[Piece, ...], shift: float | None) -> list[Parting]:
    """Where a line has something else than another, in order.

    Args:
        theirs: the line it is held against.
        own: the line.
        shift: by how much its recordings begin later as a rule, seconds; None where they are recordings of their own,
            of which only the cuts can be compared.
    """
    found: list[Parting] = []
    for start, end, a, b in _side_by_side(theirs, own):
        if end - start <= SAME_EDGE_S or (a is None and b is None):
            continue
        what: Parted | None
        if a is None or b is None:
            what = "silent" if b is None else "extra"
        else:
            what = "other" if _differs(a, b, shift) else None
        if what is not None:
            found.append(Parting(start, end, what, b, a))
    return found


def _differs(theirs: Piece, own: Piece, shift: float | None) -> bool:
    if theirs.speed is not None and own.speed is not None and abs(theirs.speed - own.speed) > SAME_SPEED:
        return True
    if shift is None:
        return False
    if theirs.take is not None and own.take is not None and theirs.take != own.take:
        return True
    if theirs.origin_s is None or own.origin_s is None:
        return False
    return abs(own.origin_s - theirs.origin_s - shift) > SAME_ORIGIN_S


def in_one_place(found: list[Parting]) -> bool:
    """True for differences that lie together: one edit makes them all."""
    return all(after.start_s - before.end_s <= ONE_PLACE_S for before, after in pairwise(found))
