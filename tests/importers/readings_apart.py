"""A session as the importer reads it against the second reading of the same file: all in which they differ."""

from __future__ import annotations

from collections.abc import Iterator
from math import log10

from mixlint.session import Automation, Channel, Insert, Send, Session, Timeline, is_known
from mixlint.units import SILENCE_DB
from tests.importers.second_reading import DocumentRead, InsertRead, SendRead, StripRead

LEVEL_DB = 0.01
"""Both round a level to four decimals; what is louder than nothing but fainter than −200 dB is silence to both."""

PAN = 0.01
TIME_S = 1e-3
"""A tempo in a straight line is integrated in two ways."""

BANDS = {"highPass": "high-pass", "lowPass": "low-pass", "bandPass": "band-pass", "highShelf": "high-shelf",
         "lowShelf": "low-shelf", "bell": "bell", "notch": "notch"}  # fmt: skip


class Compared:
    """The differences, what the importer leaves open and the file shows, and how many values of each kind were held
    against each other.
    """

    def __init__(self, session: Session, read: DocumentRead) -> None:
        self.apart: list[str] = []
        self.left_open: list[str] = []
        self.counts: dict[str, int] = {}
        self._session = session
        self._notes = " ".join(note.text for note in session.notes)
        self._raised = 12.0 if "12 dB were added to every send" in self._notes else 0.0
        self._tracks = {one.track_id: one.id for one in read.strips if one.track_id}
        self._whole(read)

    def _same(self, kind: str, where: str, ours: object, theirs: object, within: float | None = None) -> None:
        """Hold two values against each other; what the second reading does not judge is left aside."""
        if theirs is None:
            return
        if not is_known(ours):
            self.left_open.append(f"{where}: {kind}")
            return
        self.counts[kind] = self.counts.get(kind, 0) + 1
        near = within is not None and isinstance(ours, int | float) and isinstance(theirs, int | float)
        if (abs(ours - theirs) > within) if near else (ours != theirs):  # type: ignore[operator]
            self.apart.append(f"{where}: {kind} {ours!r}, in the second reading {theirs!r}")

    def _whole(self, read: DocumentRead) -> None:
        line = self._session.timeline
        if isinstance(line, Timeline):
            self._same("tempo", "the song", line.tempos[0].bpm, None if len(line.tempos) > 1 else read.tempo_bpm, 1e-6)
        ours = sorted((one.time_s, one.name) for one in self._session.markers)
        self._same("number of markers", "the song", len(ours), len(read.markers))
        for (time, name), (second, called) in zip(ours, read.markers, strict=False):
            self._same("marker", f"marker {called}", time, second, TIME_S)
            self._same("marker's name", f"marker {called}", name, called)
        self._same("number of channels", "the song", len([*self._pairs(read)]), len(read.strips))
        for channel, strip in self._pairs(read):
            self._strip(channel, strip)

    def _pairs(self, read: DocumentRead) -> Iterator[tuple[Channel, StripRead]]:
        left = list(self._session.channels)
        for strip in read.strips:
            found = next((one for one in left if strip.id and one.id == strip.id), None)
            found = found or next((one for one in left if one.name == (strip.name or "(unnamed)")), None)
            if found is not None:
                left.remove(found)
                yield found, strip

    def _strip(self, channel: Channel, strip: StripRead) -> None:
        at = channel.name
        self._same("name", at, channel.name, strip.name or None)
        self._same("fader", at, channel.fader_db, strip.fader_db, LEVEL_DB)
        self._same("pan", at, channel.pan, self._pan(strip.pan), PAN)
        self._same("mute", at, channel.mute, strip.mute)
        self._same("solo", at, channel.solo, strip.solo)
        if strip.output:
            self._same("output", at, channel.output, self._meant(strip.output))
        self._same("number of sends", at, len(channel.sends), len(strip.sends))
        for number, (send, read) in enumerate(zip(channel.sends, strip.sends, strict=False), 1):
            self._send(f"{at}, send {number}", send, read)
        self._same("number of inserts", at, len(channel.inserts), len(strip.inserts))
        for insert, one in zip(channel.inserts, strip.inserts, strict=False):
            self._insert(f"{at}, {one.name}", insert, one)
        self._clips(at, channel, strip)
        self._lanes(at, channel, strip)

    def _pan(self, pan: float | None) -> float | None:
        """The second reading does not judge a file whose every pan is 0 and ranges from nowhere to nowhere."""
        return None if pan == -100.0 and "Every pan in this file is 0" in self._notes else pan

    def _meant(self, identity: str) -> str | None:
        """The id of the channel that an output or a send means, where it names a track."""
        names = {channel.id for channel in self._session.channels}
        if identity in names:
            return identity
        return self._tracks.get(identity)

    def _send(self, at: str, send: Send, read: SendRead) -> None:
        self._same("send's target", at, send.to, self._meant(read.to))
        level = read.level_db
        if level is not None and level > -200.0:
            level += self._raised
        self._same("send's level", at, send.level_db, level, LEVEL_DB)
        self._same("send's pan", at, send.pan, self._pan(read.pan), PAN)
        self._same("send's tap", at, send.tap, read.tap)
        self._same("send's switch", at, send.on, read.on)

    def _insert(self, at: str, insert: Insert, read: InsertRead) -> None:
        self._same("insert's name", at, insert.name, read.name or None)
        self._same("insert's switch", at, insert.on, read.on)
        self._same("insert's loading", at, insert.loaded, read.loaded)
        if read.bands is None:
            return
        ours = insert.equalizer.bands if insert.equalizer is not None else ()
        self._same("number of bands", at, len(ours), len(read.bands))
        for number, (band, one) in enumerate(zip(ours, read.bands, strict=False), 1):
            here = f"{at}, band {number}"
            self._same("band's kind", here, band.kind, BANDS.get(one.kind))
            self._same("band's frequency", here, band.freq_hz, one.freq_hz, 0.01)
            self._same("band's gain", here, band.gain_db, one.gain_db, LEVEL_DB)
            self._same("band's Q", here, band.q, one.q, 1e-6)
            self._same("band's switch", here, band.on, one.on)

    def _clips(self, at: str, channel: Channel, strip: StripRead) -> None:
        ours = sorted((clip.start_s, clip.end_s) for clip in channel.clips)
        theirs = sorted((start, end) for start, end, _ in strip.clips)
        self._same("number of clips", at, len(ours), len(theirs))
        for (start, end), (from_s, to_s) in zip(ours, theirs, strict=False):
            self._same("clip's start", f"{at}, clip at {from_s:.3f} s", start, from_s, TIME_S)
            if to_s < 1e9:
                self._same("clip's end", f"{at}, clip at {from_s:.3f} s", end, to_s, TIME_S)

    def _lanes(self, at: str, channel: Channel, strip: StripRead) -> None:
        by_control = {str(lane.target): lane for lane in channel.automation}
        for read in strip.lanes:
            here = f"{at}, automation of {read.moves}"
            lane = by_control.get(read.moves)
            self._same("automated control", here, lane is not None, True)
            if lane is None:
                continue
            self._same("number of points", here, len(lane.t), len(read.times_s))
            for time, second in zip(lane.t, read.times_s, strict=False):
                self._same("point's time", here, time, second, TIME_S)
            raised = self._raised if read.moves.startswith("send") else 0.0
            for value, one in zip(lane.v, read.values, strict=False):
                written = one + raised if one is not None and one > SILENCE_DB and raised else one
                self._same("point's value", here, _shown(lane, value), written, PAN)


def _shown(lane: Automation, value: float) -> float:
    """A value in decibels, −100 to +100, or 0 and 1."""
    if lane.scale == "amplitude":
        return 20.0 * log10(value) if value > 0.0 else SILENCE_DB
    return max(SILENCE_DB, value) if lane.scale == "dB" else value
