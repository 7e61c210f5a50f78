"""Clips: nested, looped, warped and by reference, flattened to what plays when."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from mixlint.errors import RefusedFile
from mixlint.importers.dawproject.clip_context import SAME_S, Inherited, LeftOut, LocalTime
from mixlint.importers.dawproject.clip_values import clip_gain, fade_of, straight
from mixlint.importers.dawproject.clock import Clock
from mixlint.importers.dawproject.id_map import IdMap
from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.lanes import Lane, time_unit
from mixlint.importers.dawproject.media_list import MediaList
from mixlint.importers.dawproject.structure import StripDraft
from mixlint.importers.dawproject.values import finite, truth
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import Clip, Unknown

MAX_TURNS: Final = 1000
"""Loops are unrolled this often; what is left is kept as one piece."""
MAX_PIECES: Final = 80_000
"""So many pieces more than there are clips in the file, before it is refused: loops, nesting and references multiply.
What simply stands in the file is bounded where the document is read."""
MAX_ALIASES: Final = 2_000
"""Clips by reference that lie inside clips by reference, before the file is refused: each level multiplies."""
MAX_DEPTH: Final = 40

_TIMELINES: Final = ("Clips", "Lanes", "Warps", "Audio", "Notes", "Video")
Window = tuple[float, float]


class ClipReader:
    """Flattens the clips of one lane after another.

    Args:
        clock: the song's clock.
        id_map: for clips that refer to a timeline elsewhere.
        media: where audio files are collected.
        notes: where assumptions go.
        member: the document's name, for places.
    """

    def __init__(self, clock: Clock, id_map: IdMap, media: MediaList, notes: ImportNotes, member: str) -> None:
        self._clock = clock
        self._id_map = id_map
        self._media = media
        self._notes = notes
        self._member = member
        self._pieces = 0
        self._more_steps = self._more_pieces = self._aliases = 0
        self._stepped: set[int] = set()
        self._pieced: set[int] = set()
        self._left_out = LeftOut()

    def read(self, lane: Lane, strip: StripDraft) -> list[Clip]:
        """What plays on one lane, flattened.

        Args:
            lane: one timeline of the arrangement.
            strip: the channel it belongs to, for notes.

        Returns:
            Clips in seconds of the song, in file order.

        Raises:
            RefusedFile: the clips unfold into more pieces than any session holds.
        """
        if lane.node.tag == "Lanes" or lane.node.tag not in _TIMELINES:
            return []
        inherited = Inherited(lane.node)
        return list(self._timeline(lane.node, LocalTime(self._clock, lane.unit), None, inherited, strip))

    def unresolved(self, strip: StripDraft) -> Unknown | None:
        """Why the clips that were read of a channel are not all that plays on it; None where they are.

        What lies inside a clip and outside the stretch of it that plays is counted in a note; a clip of which nothing
        is left that way is not resolved: what it plays is not known.
        """
        hidden, empty = self._left_out.of(strip.id)
        if hidden:
            count, verb = ("1 clip", "lies") if hidden == 1 else (f"{hidden} clips", "lie")
            self._notes.assume(
                f"{count} of {strip.name} {verb} inside other clips but outside the stretch that these play, and "
                f"{'was' if hidden == 1 else 'were'} left out.",
                strip.id,
            )
        if not empty:
            return None
        which = "1 clip" if empty == 1 else f"{empty} clips"
        return Unknown(
            unknown=f"{which} of {strip.name} could not be resolved: nothing in the file tells what plays there",
            settle="look at the clips in the session, or export it with its clips consolidated",
        )

    def _timeline(
        self, node: Node, local: LocalTime, window: Window | None, inherited: Inherited, strip: StripDraft
    ) -> Iterator[Clip]:
        self._more_steps += id(node) in self._stepped
        self._stepped.add(id(node))
        self._check(node)
        if inherited.depth > MAX_DEPTH:
            self._left_out.empty(node, strip.id)
            self._notes.lose(
                f"Clips on {strip.name} are nested more than {MAX_DEPTH} deep; deeper ones were left out.", strip.id
            )
            return
        local = local.to(time_unit(node.get("timeUnit"), local.unit))
        if node.tag == "Clips":
            for clip in node.all("Clip"):
                yield from self._clip(clip, local, window, inherited, strip)
        elif node.tag == "Lanes":
            for one in node.all(*_TIMELINES):
                yield from self._timeline(one, local, window, inherited, strip)
        elif node.tag == "Warps":
            yield from self._warped(node, local, window, inherited)
        else:
            yield from self._leaf(node, local, window, inherited)

    def _clip(
        self, node: Node, local: LocalTime, window: Window | None, inherited: Inherited, strip: StripDraft
    ) -> Iterator[Clip]:
        content = self._content(node, inherited, strip)
        inner_unit = time_unit(node.get("contentTimeUnit"), local.unit)
        time = finite(node.attrs.get("time")) or 0.0
        play_start = finite(node.attrs.get("playStart")) or 0.0
        play_stop = finite(node.attrs.get("playStop"))
        start_s = local.song_s(time)
        inside = LocalTime(self._clock, inner_unit, self._clock.position(start_s, inner_unit) - play_start)
        duration = finite(node.attrs.get("duration"))
        if duration is not None:
            end_s = local.song_s(time + max(0.0, duration))
        elif play_stop is not None:
            end_s = inside.song_s(max(play_start, play_stop))
        else:
            length = max((_extent(one, inside) for one in content), default=start_s)
            end_s = max(start_s, length)
            if end_s <= start_s + SAME_S:
                self._notes.assume(f"A clip on {strip.name} has no length in the file; it was left out.", strip.id)
                self._left_out.empty(node, strip.id)
                return
        start_s, end_s = round(start_s, 9), round(end_s, 9)
        on = truth(node.get("enable"), True)
        mine = Inherited(
            node=node,
            name=node.get("name") or inherited.name,
            on=False if on is False or inherited.on is False else on,
            gain_db=_plus(inherited.gain_db, clip_gain(node)),
            fades=(*inherited.fades, fade_of(node, local, start_s, end_s)),
            followed=inherited.followed | {id(one) for one in content if one not in node.children},
            depth=inherited.depth + 1,
        )
        seen = _overlap((start_s, end_s), window)
        if window is not None:
            self._left_out.met(node, strip.id, seen is not None)
        if seen is None:
            return
        if not content:
            yield self._piece("unknown", None, seen, 0.0, 1.0, mine)
            return
        before = self._pieces
        for part, where in self._turns(node, inside, play_start, play_stop, (start_s, end_s), strip):
            shown = _overlap(part, seen)
            if shown is not None:
                for one in content:
                    yield from self._timeline(one, where, shown, mine, strip)
        if window is None and self._pieces == before and any(self._left_out.is_clip(one) for one in content):
            self._left_out.empty(node, strip.id)

    def _check(self, node: Node) -> None:
        """Clips multiply by nesting, loops and references; stop before they fill the memory.

        A timeline that is met again and a clip that makes another piece were multiplied; once each stands in the file.
        """
        if self._more_pieces > MAX_PIECES or self._more_steps > 3 * MAX_PIECES or self._aliases > MAX_ALIASES:
            raise RefusedFile(
                "the clips unfold into more pieces than any session holds",
                where=f"{self._member}:{node.line}",
                do="export the session again with its clips consolidated",
            )

    def _content(self, node: Node, inherited: Inherited, strip: StripDraft) -> list[Node]:
        """What the clip holds, or the timeline it refers to."""
        own = list(node.all(*_TIMELINES))
        if own or not node.has("reference"):
            return own
        found = self._id_map.node(node.get("reference"))
        if found is None or found.tag not in _TIMELINES or id(found) in inherited.followed:
            self._notes.assume(
                f"A clip on {strip.name} refers to a timeline ({node.get('reference')}) that is not in the file "
                "or that holds the clip itself; what it plays is not known.",
                strip.id,
            )
            return []
        if inherited.followed:
            self._aliases += 1
            self._check(node)
        return [found]

    def _turns(
        self,
        node: Node,
        inside: LocalTime,
        play_start: float,
        play_stop: float | None,
        whole: Window,
        strip: StripDraft,
    ) -> Iterator[tuple[Window, LocalTime]]:
        """The stretches a clip plays, each with its own time: one, or as many as its loop makes."""
        begin, stop = finite(node.attrs.get("loopStart")) or 0.0, finite(node.attrs.get("loopEnd"))
        if stop is None or stop - begin <= SAME_S or play_start >= stop:
            end_s = whole[1] if play_stop is None else min(whole[1], inside.song_s(max(play_start, play_stop)))
            yield (whole[0], end_s), inside
            return
        at_s, local, turns = whole[0], inside, 0
        while at_s < whole[1] - SAME_S:
            turn_end = local.origin + stop
            until_s = round(self._clock.seconds(turn_end, local.unit), 9)
            if turns >= MAX_TURNS or until_s <= at_s:
                self._notes.assume(
                    f"A loop on {strip.name} turns more than {MAX_TURNS} times; the rest was read as one piece.",
                    strip.id,
                )
                until_s = whole[1]
            yield (at_s, min(until_s, whole[1])), local
            at_s, local = until_s, replace(local, origin=turn_end - begin)
            turns += 1

    def _warped(self, node: Node, local: LocalTime, window: Window | None, inherited: Inherited) -> Iterator[Clip]:
        audio = node.child("Audio") or node.child("Video")
        if window is None or audio is None:
            return
        offset, speed = straight(node, local, window)
        plays = "audio" if audio.tag == "Audio" else "video"
        yield self._piece(plays, self._media.add(audio), window, offset, speed, inherited)

    def _leaf(self, node: Node, local: LocalTime, window: Window | None, inherited: Inherited) -> Iterator[Clip]:
        if window is None:  # audio or notes that lie on the lane itself
            end_s = _extent(node, local)
            if end_s <= local.song_s(0.0):
                return
            window = (local.song_s(0.0), end_s)
        if node.tag == "Notes":
            yield self._piece("notes", None, window, 0.0, 1.0, inherited)
            return
        # Audio without a warp map runs at its own pace from where inner time 0 lies.
        offset = round(window[0] - local.song_s(0.0), 9)
        plays = "audio" if node.tag == "Audio" else "video"
        yield self._piece(plays, self._media.add(node), window, offset, 1.0, inherited)

    def _piece(
        self,
        plays: str,
        file: str | None,
        window: Window,
        offset: float | Unknown,
        speed: float | Unknown,
        inherited: Inherited,
    ) -> Clip:
        self._pieces += 1
        self._more_pieces += id(inherited.node) in self._pieced
        self._pieced.add(id(inherited.node))
        self._check(inherited.node)
        return Clip.model_validate(
            {
                "start_s": round(window[0], 9),
                "end_s": round(max(window), 9),
                "name": inherited.name,
                "plays": plays,
                "file": file,
                "offset_s": offset,
                "speed": speed,
                "gain_db": inherited.gain_db,
                "on": inherited.on,
                "where": f"{self._member}:{inherited.node.line}",
                **inherited.fades_at(*window),
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


def _extent(node: Node, local: LocalTime, depth: int = 0) -> float:
    """Where content ends in seconds of the song; its beginning when that cannot be told."""
    local = local.to(time_unit(node.get("timeUnit"), local.unit))
    ends = [local.song_s(0.0)]
    if node.tag in ("Audio", "Video"):
        ends.append(ends[0] + max(0.0, finite(node.attrs.get("duration")) or 0.0))
    elif node.tag == "Warps":
        ends += [local.song_s(finite(warp.attrs.get("time")) or 0.0) for warp in node.all("Warp")]
    elif depth < MAX_DEPTH:
        for one in node.children:
            if one.tag == "Clip":
                time, duration = finite(one.attrs.get("time")) or 0.0, finite(one.attrs.get("duration"))
                ends.append(local.song_s(time + (duration or 0.0)))
            elif one.tag in _TIMELINES:
                ends.append(_extent(one, local, depth + 1))
    return max(ends)
