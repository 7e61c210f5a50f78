"""AAF compositions are read as an independent library wrote them.

What means what: AMWA AAF object specification and edit protocol; the files are pyaaf2's, which shares no code with the
importer beyond opening them.
"""

from __future__ import annotations

from fractions import Fraction
from math import log10
from pathlib import Path
from typing import Any

import pytest

from mixlint import importers
from mixlint.analysis.context import SessionContext
from mixlint.importers.aaf.assembly import MIX_BUS, session_of
from mixlint.importers.aaf.marks import timecode
from mixlint.importers.registry import shown_by
from mixlint.review.engine import review
from mixlint.rulebook.standard import load_standard
from mixlint.session import Channel, Clip, Session, Unknown
from tests.importers.aaf_files import COMBINER, CONSTANT, RATE, SPEED, SPEED_RATIO, Aaf, aaf

EVERYTHING = Path(__file__).resolve().parents[1] / "everything.toml"


class Song:
    """A composition under way, and what is read of it."""

    def __init__(self, folder: Path, rate: int = RATE) -> None:
        self.path = folder / "song.aaf"
        self._open = aaf(self.path, rate)
        self.made: Aaf = self._open.__enter__()
        self.media: dict[str, Any] = {}

    def take(self, seconds: float, offset: float = 0.0, name: str = "Take") -> Any:
        if name not in self.media:
            self.media[name] = self.made.file_mob(name, url=f"file:///disk/{name}.wav")[1]
        return self.made.clip(self.media[name], seconds, offset)

    def read(self) -> Session:
        self._open.__exit__(None, None, None)
        return session_of(self.path)

    def track(self) -> Channel:
        return self.read().channels[0]

    def clips(self) -> tuple[Clip, ...]:
        return self.track().clips


@pytest.fixture
def song(tmp_path: Path) -> Song:
    return Song(tmp_path)


def edges(clips: tuple[Clip, ...]) -> list[tuple[float, float, Any]]:
    return [(one.start_s, one.end_s, one.offset_s) for one in clips]


def decibels(factor: float) -> float:
    return 20.0 * log10(factor)


def test_tracks_in_order_with_names_and_clips(song: Song) -> None:
    made = song.made
    made.track("Bass", made.row(song.take(2.0, 1.0, "Bass 01")), 2)
    made.track("Kick", made.row(made.filler(1.5), song.take(2.0, 3.0, "Kick 01"), song.take(1.0, 7.25, "Kick 02")), 1)
    made.track("", made.filler(4.0), 3)
    session = song.read()
    assert [c.name for c in session.channels] == ["Kick", "Bass", "Track 3", "Mix bus"]
    assert [(c.kind, c.output) for c in session.channels] == [("track", MIX_BUS)] * 3 + [("master", None)]
    kick = session.channels[0]
    assert edges(kick.clips) == [(1.5, 3.5, 3.0), (3.5, 4.5, 7.25)]
    assert [(one.name, one.file, one.speed, one.on) for one in kick.clips] == [
        ("Kick 01", "Kick 01.wav", 1.0, True),
        ("Kick 02", "Kick 02.wav", 1.0, True),
    ]
    assert (session.title, session.sample_rate_hz, session.source.importer) == ("Harbour lights", 48000.0, "aaf")
    assert kick.clips[0].where == "slot 2, part 2"
    assert any("1 tracks have no name" in note.text for note in session.notes)


@pytest.mark.slow
@pytest.mark.parametrize(
    "factor",
    [Fraction(758350319, 1 << 29), Fraction(50_118_723, 10**8), 1, 0.5],
)
def test_gains_fixed(song: Song, factor: Any) -> None:
    """On a clip and on a track, whatever the operation is called; exporters write over 2^29 and over 10^8."""
    made = song.made
    made.track("A", made.gain(made.row(made.gain(song.take(2.0), factor, "Any name at all")), factor))
    track = song.track()
    assert track.fader_db == pytest.approx(decibels(float(factor)), abs=1e-5)
    assert track.clips[0].gain_db == pytest.approx(decibels(float(factor)), abs=1e-5)
    assert track.automation == ()


def test_a_gain_of_nothing_is_silence(song: Song) -> None:
    song.made.track("A", song.made.gain(song.made.row(song.take(2.0)), 0))
    assert song.track().fader_db == -200.0


def test_a_track_gain_over_time(song: Song) -> None:
    """Times of points run from 0 to 1 over the operation."""
    made = song.made
    made.track("A", made.gain(made.row(song.take(8.0)), [(0, 1.0), (0.25, 0.5), (1, 0.125)]))
    track = song.track()
    (lane,) = track.automation
    assert (str(lane.target), lane.scale, lane.shape) == ("fader", "amplitude", "linear")
    assert (lane.t, lane.v) == ((0.0, 2.0, 8.0), (1.0, 0.5, 0.125))
    assert track.fader_db == 0.0


def test_a_flat_curve_is_one_value(song: Song) -> None:
    made = song.made
    made.track("A", made.row(made.gain(song.take(8.0), [(0, 1.995262), (1, 1.995262)])))
    track = song.track()
    assert track.clips[0].gain_db == pytest.approx(6.0, abs=1e-4)
    assert track.automation == ()


def test_a_clip_gain_over_time_moves_the_fader(song: Song) -> None:
    """Where the track has a gain of its own that holds, both are multiplied; other clips stay at it."""
    made = song.made
    moving = made.gain(song.take(4.0), [(0, 1.0), (0.5, 0.5), (1, 0.25)])
    made.track("A", made.gain(made.row(moving, made.filler(2.0), song.take(2.0, 20.0)), 0.5))
    session = song.read()
    track = session.channels[0]
    (lane,) = track.automation
    assert list(zip(lane.t, lane.v, strict=True)) == [
        (0.0, 0.5), (2.0, 0.25), (4.0, 0.125), (6.0, 0.125), (6.0, 0.5), (8.0, 0.5),
    ]  # fmt: skip
    assert [one.gain_db for one in track.clips] == [0.0, 0.0]
    assert any("taken for the fader's" in note.text and note.about == track.id for note in session.notes)


def test_gains_that_move_twice_are_unknown(song: Song) -> None:
    made = song.made
    made.track("A", made.gain(made.row(made.gain(song.take(4.0), [(0, 1), (1, 0.5)])), [(0, 1), (1, 0.5)]))
    track = song.track()
    assert len(track.automation) == 1
    assert isinstance(track.clips[0].gain_db, Unknown)


def test_a_gain_without_amplitude_is_unknown(song: Song) -> None:
    made = song.made
    made.track("A", made.row(made.around("9d2ea894-0968-11d3-8a38-0050040ef7d2", song.take(2.0))))
    gain = song.clips()[0].gain_db
    assert isinstance(gain, Unknown)
    assert "no amplitude" in gain.unknown


@pytest.mark.slow
@pytest.mark.parametrize(("value", "position"), [(0, -100.0), (0.25, -50.0), (0.5, 0.0), (1, 100.0)])
def test_pans_fixed(song: Song, value: float, position: float) -> None:
    song.made.track("A", song.made.pan(song.made.row(song.take(2.0)), value))
    assert song.track().pan == position


def test_pans_over_time(song: Song) -> None:
    made = song.made
    made.track("A", made.pan(made.row(song.take(4.0)), [(0, 0.5), (0.5, 0), (1, 1)]))
    made.track("B", made.pan(made.row(song.take(4.0)), [(0, 0.5), (0.5, 0.75)], CONSTANT))
    a, b, _ = song.read().channels
    assert [(str(one.target), one.scale, one.shape, one.t, one.v) for one in a.automation] == [
        ("pan", "pan", "linear", (0.0, 2.0, 4.0), (0.0, -100.0, 100.0))
    ]
    assert [(one.shape, one.t, one.v) for one in b.automation] == [("hold", (0.0, 2.0), (0.0, 50.0))]


def test_pans_of_clips(song: Song) -> None:
    """All alike they are the track's; else it steps from one to the next."""
    made = song.made
    made.track("A", made.row(made.pan(song.take(2.0), 0.25), made.pan(song.take(2.0, 9.0), 0.25)))
    made.track("B", made.row(made.pan(song.take(2.0), 0.25), made.pan(song.take(2.0, 9.0), 1)))
    a, b, _ = song.read().channels
    assert (a.pan, a.automation) == (-50.0, ())
    assert [(one.shape, one.t, one.v) for one in b.automation] == [("hold", (0.0, 2.0), (-50.0, 100.0))]


def test_fades_at_fillers(song: Song) -> None:
    """A transition lies over the end of what is before it and the beginning of what is after it."""
    made = song.made
    made.track("A", made.row(made.filler(2.0), made.fade(0.5), song.take(4.0, 1.0), made.fade(1.0), made.filler(3.0)))
    (clip,) = song.clips()
    assert (clip.start_s, clip.end_s, clip.offset_s) == (1.5, 5.5, 1.0)
    assert (clip.fade_in_s, clip.fade_out_s) == (0.5, 1.0)


def test_a_crossfade(song: Song) -> None:
    made = song.made
    made.track("A", made.row(song.take(4.0), made.fade(0.5), song.take(4.0, 20.0)))
    before, after = song.clips()
    assert (before.start_s, before.end_s, before.fade_in_s, before.fade_out_s) == (0.0, 4.0, 0.0, 0.5)
    assert (after.start_s, after.end_s, after.fade_in_s, after.fade_out_s) == (3.5, 7.5, 0.5, 0.0)


def test_a_crossfade_of_one_recording_with_itself_doubles_nothing(song: Song) -> None:
    made = song.made
    made.track("A", made.row(song.take(4.0), made.fade(0.5), made.gain(song.take(4.0, 3.5), 0.5)))
    before, after = song.clips()
    assert (before.end_s, before.fade_out_s) == (3.75, 0.0)
    assert (after.start_s, after.offset_s, after.fade_in_s) == (3.75, 3.75, -0.25)


def test_a_gain_that_only_fades_is_fades(song: Song) -> None:
    made = song.made
    made.track("A", made.row(made.gain(song.take(4.0), [(0, 0), (0.25, 0.5), (0.75, 0.5), (1, 0)])))
    track = song.track()
    (clip,) = track.clips
    assert (clip.fade_in_s, clip.fade_out_s) == (1.0, 1.0)
    assert clip.gain_db == pytest.approx(decibels(0.5), abs=1e-5)
    assert track.automation == ()


def test_fades_that_are_clips_of_their_own(song: Song) -> None:
    made = song.made
    rise = made.gain(song.take(0.5, 1.0), [(0, 0), (1, 1)])
    fall = made.gain(song.take(0.25, 4.5), [(0, 1), (1, 0)])
    made.track("A", made.row(made.filler(1.0), rise, song.take(3.0, 1.5), fall, song.take(1.0, 30.0)))
    first, second = song.clips()
    assert (first.start_s, first.end_s, first.offset_s) == (1.0, 4.75, 1.0)
    assert (first.fade_in_s, first.fade_out_s) == (0.5, 0.25)
    assert (second.start_s, second.fade_in_s) == (4.75, 0.0)


def test_a_transition_of_another_kind_is_unknown(song: Song) -> None:
    made = song.made
    other = "11111111-2222-3333-4444-555555555555"
    made.track("A", made.row(made.filler(2.0), made.fade(0.5, other), song.take(4.0)))
    session = song.read()
    assert isinstance(session.channels[0].clips[0].fade_in_s, Unknown)
    assert any("transitions of a kind" in note.text for note in session.notes)


@pytest.mark.slow
@pytest.mark.parametrize(("ratio", "speed"), [(2, 2.0), (Fraction(1, 2), 0.5)])
def test_speed(song: Song, ratio: Any, speed: float) -> None:
    """The ratio is the length of the input over that of the result."""
    made = song.made
    inner = song.take(4.0 * speed, 1.0)
    group = made.around(SPEED, inner, length=made.units(4.0))
    made.track("A", made.row(made.filler(1.0), made.fixed(group, SPEED_RATIO, ratio)))
    (clip,) = song.clips()
    assert (clip.start_s, clip.end_s, clip.offset_s, clip.speed) == (1.0, 5.0, 1.0, speed)


def test_an_operation_that_nobody_knows(song: Song) -> None:
    """It is passed over, and said; where it changes the length the speed is open."""
    made = song.made
    other = "11111111-2222-3333-4444-555555555555"
    same = made.around(other, song.take(2.0), name="Sparkle")
    longer = made.around(other, song.take(2.0, 8.0), length=made.units(3.0))
    made.track("A", made.row(same, longer))
    session = song.read()
    first, second = session.channels[0].clips
    assert first.speed == 1.0
    assert (second.start_s, second.end_s) == (2.0, 5.0)
    assert isinstance(second.speed, Unknown)
    assert any("“Sparkle”" in note.text and "2 stretches" in note.text and note.loses for note in session.notes)


def test_a_disabled_clip_and_a_chosen_one(song: Song) -> None:
    made = song.made
    hidden = made.selector(made.filler(2.0), song.take(2.0, 5.0))
    chosen = made.selector(song.take(2.0, 10.0), song.take(2.0, 20.0))
    made.track("A", made.row(hidden, chosen))
    assert [(one.start_s, one.offset_s, one.on) for one in song.clips()] == [(0.0, 5.0, False), (2.0, 10.0, True)]


def test_mute_and_solo(song: Song) -> None:
    made = song.made
    for name, mute, solo in (("A", 1, 0), ("B", 0, 1)):
        made.attributes(made.track(name, made.row(song.take(1.0))), AudioMixerCompMute=mute, AudioMixerCompSolo=solo)
    a, b, _ = song.read().channels
    assert [(one.mute, one.solo) for one in (a, b)] == [(True, False), (False, True)]


def test_legs_by_the_combiner(song: Song) -> None:
    """Two legs of one file are one clip of it; of two files none that a clip could name."""
    made = song.made
    one = made.around(COMBINER, song.take(2.0, 1.0), song.take(2.0, 1.0))
    two = made.around(COMBINER, song.take(2.0, 0.0, "X.L"), song.take(2.0, 0.0, "X.R"))
    made.track("A", made.row(one))
    made.track("B", made.row(two))
    made.track("C", made.around(COMBINER, made.row(song.take(2.0)), made.row(song.take(2.0))))
    made.track("D", made.row(song.take(2.0)))
    session = song.read()
    a, b, c, d, _ = session.channels
    assert [(one.legs, one.clips[0].file) for one in (a, b, c, d)] == [
        (2, "Take.wav"), (2, None), (2, "Take.wav"), (1, "Take.wav"),
    ]  # fmt: skip
    assert {"X.L.wav", "X.R.wav"} <= {one.id for one in session.media}
    assert any("a file for each leg" in note.text and note.about == b.id for note in session.notes)


def test_a_composition_inside_another(song: Song) -> None:
    """What is referred to is a stretch of it, and plays there."""
    made = song.made
    inner = made.file.create.CompositionMob("Verse")
    inner.usage = "Usage_LowerLevel"
    made.file.content.mobs.append(inner)
    slot = inner.create_timeline_slot(RATE)
    slot.segment = made.row(made.filler(1.0), song.take(4.0, 10.0))
    made.track("A", made.row(made.filler(5.0), made.clip(inner, 2.0, 2.0)))
    assert edges(song.clips()) == [(5.0, 7.0, 11.0)]


def test_a_gain_that_an_adjusted_clip_may_repeat(song: Song) -> None:
    """Where only one of both has a gain it is that; where both have, nothing tells whether both act."""
    made = song.made
    inner = made.file.create.CompositionMob("Verse")
    inner.usage = "Usage_AdjustedClip"
    made.file.content.mobs.append(inner)
    inner.create_timeline_slot(RATE).segment = made.gain(song.take(9.0), 2)
    made.track("A", made.row(made.clip(inner, 2.0), made.gain(made.clip(inner, 2.0, 4.0), 2)))
    once, twice = song.clips()
    assert once.gain_db == pytest.approx(decibels(2.0), abs=1e-5)
    assert isinstance(twice.gain_db, Unknown)


def test_frames_of_pictures_and_of_samples(tmp_path: Path) -> None:
    """A track counts in its own rate; the sample rate is that of the files."""
    song = Song(tmp_path, rate=25)
    song.made.track("A", song.made.row(song.made.filler(2.0), song.take(4.0, 1.0)))
    session = song.read()
    assert edges(session.channels[0].clips) == [(2.0, 6.0, 1.0)]
    assert session.sample_rate_hz == 48000.0


def test_markers_and_start(song: Song) -> None:
    song.made.track("A", song.made.row(song.take(4.0)))
    song.made.timecode(90_000, 25)
    song.made.markers([(8.0, "Chorus"), (1.5, "Verse")])
    session = song.read()
    assert [(one.time_s, one.name) for one in session.markers] == [(1.5, "Verse"), (8.0, "Chorus")]
    assert session.metadata == {"start timecode": "01:00:00:00 at 25 frames a second"}


@pytest.mark.parametrize(
    ("start", "frames", "drop", "shown"),
    [
        (0, 30, True, "00:00:00;00"),
        (1799, 30, True, "00:00:59;29"),
        (1800, 30, True, "00:01:00;02"),
        (17_981, 30, True, "00:09:59;29"),
        (17_982, 30, True, "00:10:00;00"),
        (107_892, 30, True, "01:00:00;00"),
        (108_000, 30, False, "01:00:00:00"),
    ],
)
def test_timecode_that_drops_numbers(start: int, frames: int, drop: bool, shown: str) -> None:
    """SMPTE ST 12-1: numbers 0 and 1 are left out of each minute, save each tenth; an hour has 107 892 frames."""
    assert timecode(start, frames, drop=drop).split(" at ")[0] == shown


def test_what_no_track_says_is_a_gap(song: Song) -> None:
    """Sends and processors never; faders, pans, mutes and solos where no track states one."""
    song.made.track("A", song.made.row(song.take(4.0)))
    session = song.read()
    assert session.gaps == ("sends", "inserts", "levels", "pans", "mutes", "solos")
    track = session.channels[0]
    assert isinstance(track.fader_db, Unknown)
    assert "this AAF shows no faders" in track.fader_db.unknown
    assert shown_by(session) == ("automation", "clips")
    assert isinstance(session.timeline, Unknown)
    assert any(note.about == MIX_BUS and "assumed" in note.text for note in session.notes)


def whole(made: Aaf, name: str, gain: float, pan: float) -> None:
    media = made.file_mob(name, url=f"file:///disk/{name}.wav")[1]
    slot = made.track(name, made.pan(made.gain(made.row(made.clip(media, 30.0)), gain), pan))
    made.attributes(slot, AudioMixerCompMute=0, AudioMixerCompSolo=0)


@pytest.mark.slow
def test_a_review_takes_nothing_for_left_out(song: Song) -> None:
    """Of a mix without a fault no rule on returns, filters or processors flags anything; the files are not there."""
    for name, gain, pan in (
        ("Kick", 1.0, 0.5),
        ("Bass", 0.9, 0.5),
        ("Lead Vocal", 1.0, 0.5),
        ("Guitar L", 0.5, 0.1),
        ("Guitar R", 0.5, 0.9),
    ):
        whole(song.made, name, gain, pan)
    session = song.read()
    standard = load_standard(EVERYTHING)
    found = review(SessionContext(session, standard.house), standard, source="", digest="", everything=True).findings
    assert {one.rule for one in found if one.verdict == "flagged"} == {"media-present"}
    answered = {one.rule for one in found if one.verdict == "clear"}
    assert {"pan-answered", "stereo-balanced", "muted-on-purpose", "nothing-soloed"} <= answered


@pytest.mark.slow
def test_the_native_form_keeps_all_of_it(song: Song) -> None:
    """Through the process that reads it, whose answer is the native form."""
    made = song.made
    made.track("A", made.pan(made.gain(made.row(song.take(4.0)), [(0, 1), (1, 0.5)]), 0.3))
    session = song.read()
    assert importers.read(song.path) == session
