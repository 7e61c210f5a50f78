"""Clips: nested, looped, warped and by reference, flattened to what plays when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from mixlint.errors import RefusedFile
from mixlint.importers.dawproject.clip_values import clip_gain, fade_of, straight
from mixlint.importers.dawproject.clock import Clock
from mixlint.importers.dawproject.frames import SAME_S, Frame, Handed
from mixlint.importers.dawproject.ids import Register
from mixlint.importers.dawproject.lanes import Lane, time_unit
from mixlint.importers.dawproject.media_book import MediaBook
from mixlint.importers.dawproject.notebook import Notebook
from mixlint.importers.dawproject.structure import Strip
from mixlint.importers.dawproject.values import finite, truth
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import Clip, Unknown

MAX_TURNS: Final = 1000
"""Loops are unrolled this often; what is left is kept as one piece."""
MAX_PIECES: Final = 80_000
"""Pieces in a whole session before the file is refused."""
MAX_ALIASES: Final = 2_000
"""Clips by reference that lie inside clips by reference, before the file is refused: each level multiplies."""
MAX_DEPTH: Final = 40

_TIMELINES: Final = ("Clips", "Lanes", "Warps", "Audio", "Notes", "Video")
Window = tuple[float, float]


class ClipReader:
    """Flattens the clips of one lane after another.

    Args:
        clock: the song's clock.
        register: for clips that refer to a timeline elsewhere.
        media: where audio files are collected.
        notebook: where assumptions go.
        member: the document's name, for places.
    """

    def __init__(self, clock: Clock, register: Register, media: MediaBook, notebook: Notebook, member: str) -> None:
        self._clock = clock
        self._register = register
        self._media = media
        self._notebook = notebook
        self._member = member
        self._steps = self._pieces = self._aliases = 0

    def read(self, lane: Lane, strip: Strip) -> list[Clip]:
        """The pieces on one lane."""
        if lane.node.tag == "Lanes" or lane.node.tag not in _TIMELINES:
            return []
        handed = Handed(lane.node)
        return list(self._timeline(lane.node, Frame(self._clock, lane.unit), None, handed, strip))

    def _timeline(
        self, node: Node, frame: Frame, window: Window | None, handed: Handed, strip: Strip
    ) -> Iterator[Clip]:
        self._count(node, steps=1)
        if handed.depth > MAX_DEPTH:
            self._notebook.lose(
                f"Clips on {strip.name} are nested more than {MAX_DEPTH} deep; deeper ones were left out.", strip.id
            )
            return
        frame = frame.to(time_unit(node.get("timeUnit"), frame.unit))
        if node.tag == "Clips":
            for clip in node.all("Clip"):
                yield from self._clip(clip, frame, window, handed, strip)
        elif node.tag == "Lanes":
            for one in node.all(*_TIMELINES):
                yield from self._timeline(one, frame, window, handed, strip)
        elif node.tag == "Warps":
            yield from self._warped(node, frame, window, handed)
        else:
            yield from self._leaf(node, frame, window, handed)

    def _clip(self, node: Node, frame: Frame, window: Window | None, handed: Handed, strip: Strip) -> Iterator[Clip]:
        content = self._content(node, handed, strip)
        inner_unit = time_unit(node.get("contentTimeUnit"), frame.unit)
        time = finite(node.attrs.get("time")) or 0.0
        play_start = finite(node.attrs.get("playStart")) or 0.0
        play_stop = finite(node.attrs.get("playStop"))
        start_s = frame.song_s(time)
        inside = Frame(self._clock, inner_unit, self._clock.position(start_s, inner_unit) - play_start)
        duration = finite(node.attrs.get("duration"))
        if duration is not None:
            end_s = frame.song_s(time + max(0.0, duration))
        elif play_stop is not None:
            end_s = inside.song_s(max(play_start, play_stop))
        else:
            length = max((_extent(one, inside) for one in content), default=start_s)
            end_s = max(start_s, length)
            if end_s <= start_s + SAME_S:
                self._notebook.assume(f"A clip on {strip.name} has no length in the file; it was left out.", strip.id)
                return
        start_s, end_s = round(start_s, 9), round(end_s, 9)
        on = truth(node.get("enable"), True)
        mine = replace(
            handed,
            node=node,
            name=node.get("name") or handed.name,
            on=False if False in (on, handed.on) else on,
            gain_db=_plus(handed.gain_db, clip_gain(node)),
            fades=(*handed.fades, fade_of(node, frame, start_s, end_s)),
            depth=handed.depth + 1,
            followed=handed.followed | {id(one) for one in content if one not in node.children},
        )
        seen = _overlap((start_s, end_s), window)
        if seen is None:
            return
        if not content:
            yield self._piece("unknown", None, seen, 0.0, 1.0, mine)
            return
        for part, where in self._turns(node, inside, play_start, play_stop, (start_s, end_s), strip):
            shown = _overlap(part, seen)
            if shown is not None:
                for one in content:
                    yield from self._timeline(one, where, shown, mine, strip)

    def _count(self, node: Node, steps: int = 0, pieces: int = 0, aliases: int = 0) -> None:
        """Clips multiply by nesting, loops and references; stop before they fill the memory."""
        self._steps += steps
        self._pieces += pieces
        self._aliases += aliases
        if self._pieces > MAX_PIECES or self._steps > 3 * MAX_PIECES or self._aliases > MAX_ALIASES:
            raise RefusedFile(
                "the clips unfold into more pieces than any session holds",
                where=f"{self._member}:{node.line}",
                do="export the session again with its clips consolidated",
            )

    def _content(self, node: Node, handed: Handed, strip: Strip) -> list[Node]:
        """What the clip holds, or the timeline it refers to."""
        own = list(node.all(*_TIMELINES))
        if own or not node.has("reference"):
            return own
        found = self._register.node(node.get("reference"))
        if found is None or found.tag not in _TIMELINES or id(found) in handed.followed:
            self._notebook.assume(
                f"A clip on {strip.name} refers to a timeline ({node.get('reference')}) that is not in the file "
                "or that holds the clip itself; what it plays is not known.",
                strip.id,
            )
            return []
        if handed.followed:
            self._count(node, aliases=1)
        return [found]

    def _turns(
        self, node: Node, inside: Frame, play_start: float, play_stop: float | None, whole: Window, strip: Strip
    ) -> Iterator[tuple[Window, Frame]]:
        """The stretches a clip plays, each with its frame: one, or as many as its loop makes."""
        begin, stop = finite(node.attrs.get("loopStart")) or 0.0, finite(node.attrs.get("loopEnd"))
        if stop is None or stop - begin <= SAME_S or play_start >= stop:
            end_s = whole[1] if play_stop is None else min(whole[1], inside.song_s(max(play_start, play_stop)))
            yield (whole[0], end_s), inside
            return
        at_s, frame, turns = whole[0], inside, 0
        while at_s < whole[1] - SAME_S:
            turn_end = frame.origin + stop
            until_s = round(self._clock.seconds(turn_end, frame.unit), 9)
            if turns >= MAX_TURNS or until_s <= at_s:
                self._notebook.assume(
                    f"A loop on {strip.name} turns more than {MAX_TURNS} times; the rest was read as one piece.",
                    strip.id,
                )
                until_s = whole[1]
            yield (at_s, min(until_s, whole[1])), frame
            at_s, frame = until_s, replace(frame, origin=turn_end - begin)
            turns += 1

    def _warped(self, node: Node, frame: Frame, window: Window | None, handed: Handed) -> Iterator[Clip]:
        audio = node.child("Audio") or node.child("Video")
        if window is None or audio is None:
            return
        offset, speed = straight(node, frame, window)
        plays = "audio" if audio.tag == "Audio" else "video"
        yield self._piece(plays, self._media.add(audio), window, offset, speed, handed)

    def _leaf(self, node: Node, frame: Frame, window: Window | None, handed: Handed) -> Iterator[Clip]:
        if window is None:  # audio or notes that lie on the lane itself
            end_s = _extent(node, frame)
            if end_s <= frame.song_s(0.0):
                return
            window = (frame.song_s(0.0), end_s)
        if node.tag == "Notes":
            yield self._piece("notes", None, window, 0.0, 1.0, handed)
            return
        # Audio without a warp map runs at its own pace from where inner time 0 lies.
        offset = round(window[0] - frame.song_s(0.0), 9)
        plays = "audio" if node.tag == "Audio" else "video"
        yield self._piece(plays, self._media.add(node), window, offset, 1.0, handed)

    def _piece(
        self,
        plays: str,
        file: str | None,
        window: Window,
        offset: float | Unknown,
        speed: float | Unknown,
        handed: Handed,
    ) -> Clip:
        self._count(handed.node, pieces=1)
        return Clip.model_validate(
            {
                "start_s": round(window[0], 9),
                "end_s": round(max(window), 9),
                "name": handed.name,
                "plays": plays,
                "file": file,
                "offset_s": offset,
                "speed": speed,
                "gain_db": handed.gain_db,
                "on": handed.on,
                "where": f"{self._member}:{handed.node.line}",
                **handed.fades_at(*window),
            }
        )


def _overlap(one: Window, other: Window | None) -> Window | None:
    """What two stretches share; a stretch that ends where the other begins shares nothing."""
    if other is None:
        return one if one[1] > one[0] else None
    start, end = max(one[0], other[0]), min(one[1], other[1])
    return (start, end) if end > start + SAME_S else None


def _plus(one: float | Unknown, other: float | Unknown) -> float | Unknown:
    if isinstance(one, Unknown):
        return one
    return other if isinstance(other, Unknown) else round(one + other, 4)


def _extent(node: Node, frame: Frame, depth: int = 0) -> float:
    """Where content ends in seconds of the song; its beginning when that cannot be told."""
    frame = frame.to(time_unit(node.get("timeUnit"), frame.unit))
    ends = [frame.song_s(0.0)]
    if node.tag in ("Audio", "Video"):
        ends.append(ends[0] + max(0.0, finite(node.attrs.get("duration")) or 0.0))
    elif node.tag == "Warps":
        ends += [frame.song_s(finite(warp.attrs.get("time")) or 0.0) for warp in node.all("Warp")]
    elif depth < MAX_DEPTH:
        for one in node.children:
            if one.tag == "Clip":
                time, duration = finite(one.attrs.get("time")) or 0.0, finite(one.attrs.get("duration"))
                ends.append(frame.song_s(time + (duration or 0.0)))
            elif one.tag in _TIMELINES:
                ends.append(_extent(one, frame, depth + 1))
    return max(ends)
