"""Tempo, metre and markers: the song's clock, and beats to seconds for single positions and long lists."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable

from mixlint.importers.dawproject.import_notes import ImportNotes
from mixlint.importers.dawproject.lanes import Lane, TimeUnit
from mixlint.importers.dawproject.values import USABLE, finite
from mixlint.importers.dawproject.xml_tree import Node, PointsNode
from mixlint.session import Marker, Meter, Tempo, Timeline, Unknown

FALLBACK_BPM = 120.0
SLOWEST_BPM, FASTEST_BPM = 1.0, 2000.0
"""Tempos beyond these are no tempos of music; near zero they would stretch the song without end."""
_STEP = 1e-6
_APART = 1e-9
"""Tempo points closer than this in beats are one point."""


class Clock:
    """Turns positions of the file into seconds of the song.

    Args:
        timeline: the tempo map, or Unknown; then 120 bpm stand in, so that positions keep their order.
    """

    def __init__(self, timeline: Timeline | Unknown) -> None:
        self.timeline = timeline
        self._map = timeline if isinstance(timeline, Timeline) else Timeline(tempos=(Tempo(bpm=FALLBACK_BPM),))
        self._tempos = self._map.tempos
        self.beats = [tempo.beat for tempo in self._tempos]
        self.starts = [self._map.seconds(tempo.beat) for tempo in self._tempos]

    @property
    def steady(self) -> bool:
        """True when one tempo holds throughout."""
        return len(self._tempos) == 1

    def seconds(self, position: float, unit: TimeUnit) -> float:
        """A position in seconds of the song.

        Args:
            position: in ``unit``; it may lie before the song's start.
            unit: beats or seconds.
        """
        if unit == "seconds":
            return position
        at = max(0, bisect_right(self.beats, position) - 1)
        # Before the song's start no glide is drawn; the first tempo holds.
        if self._tempos[at].ramp and position >= 0.0:
            return self._map.seconds(position)
        return self.starts[at] + (position - self.beats[at]) * 60.0 / self._tempos[at].bpm

    def position(self, seconds: float, unit: TimeUnit) -> float:
        """Seconds of the song as a position in ``unit``."""
        if unit == "seconds":
            return seconds
        at = max(0, bisect_right(self.starts, seconds) - 1)
        if self._tempos[at].ramp and seconds >= 0.0:
            return self._map.beat(seconds)
        return self.beats[at] + (seconds - self.starts[at]) * self._tempos[at].bpm / 60.0

    def all_seconds(self, positions: Iterable[float], unit: TimeUnit) -> list[float]:
        """Many positions in ``unit`` at once, in seconds of the song."""
        if unit == "seconds":
            return list(positions)
        if self.steady:
            factor = 60.0 / self._tempos[0].bpm
            return [position * factor for position in positions]
        return [self.seconds(position, "beats") for position in positions]


def read_clock(root: Node, lanes: list[Lane], notes: ImportNotes) -> Clock:
    """The clock from the transport's tempo and metre and their automation.

    Args:
        root: the document.
        lanes: the arrangement's lanes, among which tempo and metre may move.
        notes: where assumptions go.

    Returns:
        A clock whose timeline is Unknown where the file gives no tempo.
    """
    transport = root.child("Transport")
    tempo = transport.child("Tempo") if transport is not None else None
    metre = transport.child("TimeSignature") if transport is not None else None
    bpm = finite(tempo.attrs.get("value")) if tempo is not None else None
    if bpm is not None and not SLOWEST_BPM <= bpm <= FASTEST_BPM:
        notes.assume(f"The file gives a tempo of {bpm:g} bpm, which was passed over.")
        bpm = None
    tempos = _tempos(lanes, tempo.get("id") if tempo is not None else "", notes)
    if not tempos:
        if bpm is None:
            notes.assume(
                "The file gives no tempo; 120 bpm were assumed, so times in seconds hold only among each other."
            )
            return Clock(Unknown(unknown="the export gives no tempo", settle="look at the tempo in the session"))
        tempos = [Tempo(bpm=bpm)]
    meters = _meters(lanes, metre)
    return Clock(Timeline(tempos=tuple(tempos), meters=tuple(meters)))


def _tempos(lanes: list[Lane], tempo_id: str, notes: ImportNotes) -> list[Tempo]:
    for lane in lanes:
        node = lane.node
        if not isinstance(node, PointsNode) or not node.times:
            continue
        target = node.child("Target")
        for_tempo = target is not None and bool(tempo_id) and target.get("parameter") == tempo_id
        if not lane.tempo and not for_tempo:
            continue
        points = sorted(
            (
                (t, v, bool(h))
                for t, v, h in zip(node.times, node.values, node.holds, strict=True)
                if abs(t) <= USABLE and SLOWEST_BPM <= v <= FASTEST_BPM
            ),
            key=lambda point: point[0],
        )
        if len(points) < len(node.times):
            notes.assume("The tempo automation has points without a usable tempo; they were passed over.")
        if points:
            return _steps(_in_beats(points) if lane.unit == "seconds" else points)
    return []


def _in_beats(points: list[tuple[float, float, bool]]) -> list[tuple[float, float, bool]]:
    beat, before = max(0.0, points[0][0]) * points[0][1] / 60.0, points[0]
    moved = [(beat, points[0][1], points[0][2])]
    for here in points[1:]:
        mean = before[1] if before[2] else (before[1] + here[1]) / 2.0
        beat += (here[0] - before[0]) * mean / 60.0
        moved.append((beat, here[1], here[2]))
        before = here
    return moved


def _steps(points: list[tuple[float, float, bool]]) -> list[Tempo]:
    """Tempos that rise strictly from beat 0; before the first point its own tempo holds."""
    tempos: list[Tempo] = []
    for at, (beat, bpm, hold) in enumerate(points):
        last = at + 1 == len(points)
        ramp = not hold and not last and points[at + 1][1] != bpm
        beat = max(0.0, beat)
        if not tempos:
            if beat > _APART:
                tempos.append(Tempo(bpm=bpm))
            else:
                beat = 0.0
            tempos.append(Tempo(beat=beat, bpm=bpm, ramp=ramp))
            continue
        before = tempos[-1]
        if beat > before.beat + _APART:
            if at + 1 < len(points) and points[at + 1][0] <= beat and beat - _STEP > before.beat:
                # A glide that ends in a step: the arriving tempo needs a place of its own just before it.
                tempos.append(Tempo(beat=beat - _STEP, bpm=bpm))
                continue
            tempos.append(Tempo(beat=beat, bpm=bpm, ramp=ramp))
        else:
            tempos[-1] = Tempo(beat=before.beat, bpm=bpm, ramp=ramp)
    tempos[-1] = tempos[-1].model_copy(update={"ramp": False})
    return tempos


def _meters(lanes: list[Lane], metre: Node | None) -> list[Meter]:
    found: dict[float, Meter] = {}
    first = _meter(metre, 0.0) if metre is not None else None
    for lane in lanes:
        if lane.node.tag == "TimeSignatureAutomation" and lane.unit == "beats":
            for point in lane.node.all("TimeSignaturePoint"):
                beat = max(0.0, finite(point.attrs.get("time")) or 0.0)
                one = _meter(point, beat)
                if one is not None:
                    found[beat] = one
    if 0.0 not in found:
        found[0.0] = first or Meter()
    return [found[beat] for beat in sorted(found)]


def _meter(node: Node, beat: float) -> Meter | None:
    beats, unit = finite(node.attrs.get("numerator")), finite(node.attrs.get("denominator"))
    if beats is None or unit is None or not 1 <= beats <= 999 or not 1 <= unit <= 128:
        return None
    return Meter(beat=beat, beats=int(beats), unit=int(unit))


def read_markers(lanes: list[Lane], clock: Clock) -> tuple[Marker, ...]:
    """The markers in time order; both spellings of the element occur."""
    found = [
        Marker(time_s=round(clock.seconds(time, lane.unit), 9), name=marker.get("name"))
        for lane in lanes
        if lane.node.tag in ("Markers", "markers")
        for marker in lane.node.all("Marker")
        if (time := finite(marker.attrs.get("time"))) is not None
    ]
    return tuple(sorted(found, key=lambda marker: marker.time_s))
