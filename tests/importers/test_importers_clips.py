"""Clips: nested, looped, warped, faded and by reference, flattened to what plays when."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.session import Clip, Session, Unknown
from tests.importers.documents import channel, session_of, told, track

AUDIO = '<Audio channels="1" sampleRate="48000" duration="{}"><File path="audio/a.wav"/></Audio>'


def lay(folder: Path, clips: str, more: str = "", **parts: str) -> Session:
    lane = f'<Lanes track="t:Part"><Clips id="k">{clips}</Clips></Lanes>{more}'
    return session_of(folder, track("Part"), lane, **parts)


def clips_of(session: Session) -> tuple[Clip, ...]:
    return channel(session, "Part").clips


def spans(session: Session) -> list[tuple[float, float, float | Unknown]]:
    return [(round(one.start_s, 6), round(one.end_s, 6), one.offset_s) for one in clips_of(session)]


def test_a_plain_clip_is_placed_by_the_tempo(tmp_path: Path) -> None:
    # 120 bpm: one beat is half a second.
    session = lay(
        tmp_path, f'<Clip time="4" duration="8" contentTimeUnit="seconds" playStart="1.5">{AUDIO.format(9)}</Clip>'
    )
    assert spans(session) == [(2.0, 6.0, 1.5)]
    (one,) = clips_of(session)
    assert (one.file, one.plays, one.speed, one.on) == ("audio/a.wav", "audio", 1.0, True)
    assert isinstance(one.fade_in_s, Unknown)
    assert one.where == "project.xml:11"


def test_times_in_seconds_are_inherited_downwards(tmp_path: Path) -> None:
    clips = f'<Clips><Clip time="4" duration="8">{AUDIO.format(9)}</Clip></Clips>'
    lane = f'<Lanes timeUnit="seconds" track="t:Part"><Lanes>{clips}</Lanes></Lanes>'
    assert spans(session_of(tmp_path, track("Part"), lane)) == [(4.0, 12.0, 0.0)]


def test_a_clip_without_duration_takes_its_length_from_what_it_has(tmp_path: Path) -> None:
    by_stop = f'<Clip time="0" contentTimeUnit="seconds" playStart="1" playStop="4">{AUDIO.format(9)}</Clip>'
    by_content = f'<Clip time="20">{AUDIO.format(2.5)}</Clip>'
    session = lay(tmp_path, by_stop + by_content + '<Clip time="40"/>')
    assert spans(session) == [(0.0, 3.0, 1.0), (10.0, 12.5, 0.0)]
    assert told(session, "no length", "c:Part")


def test_nested_clips_are_cut_by_the_outer_one(tmp_path: Path) -> None:
    inner = "".join(f'<Clip time="{at}" duration="4">{AUDIO.format(9)}</Clip>' for at in (0, 4, 8))
    session = lay(
        tmp_path,
        f'<Clip time="16" duration="6" playStart="2" name="outer"><Lanes><Clips>{inner}</Clips></Lanes></Clip>',
    )
    # The window begins two beats into the first inner clip and ends where the second one does.
    assert spans(session) == [(8.0, 9.0, 1.0), (9.0, 11.0, 0.0)]
    assert {one.name for one in clips_of(session)} == {"outer"}


def test_a_loop_is_unrolled(tmp_path: Path) -> None:
    session = lay(
        tmp_path,
        f'<Clip time="0" duration="10" playStart="1" loopStart="2" loopEnd="4">{AUDIO.format(9)}</Clip>',
    )
    # From beat 1 to the loop's end, then beats 2 to 4 over and over.
    assert spans(session) == [(0.0, 1.5, 0.5), (1.5, 2.5, 1.0), (2.5, 3.5, 1.0), (3.5, 4.5, 1.0), (4.5, 5.0, 1.0)]


def test_a_loop_without_end_is_capped_and_said(tmp_path: Path) -> None:
    session = lay(tmp_path, '<Clip time="0" duration="4000" loopStart="0" loopEnd="0.5"><Notes/></Clip>')
    assert len(clips_of(session)) == 1001
    assert clips_of(session)[-1].end_s == 2000.0
    assert told(session, "turns more than 1000 times", "c:Part")


def warps(*points: tuple[float, float], unit: str = "seconds") -> str:
    marks = "".join(f'<Warp time="{at}" contentTime="{file}"/>' for at, file in points)
    return f'<Warps timeUnit="beats" contentTimeUnit="{unit}">{AUDIO.format(60)}{marks}</Warps>'


def test_a_straight_warp_map_gives_offset_and_speed(tmp_path: Path) -> None:
    # 8 beats at 120 bpm are 4 s of song; they play 6 s of file: speed 1.5.
    session = lay(tmp_path, f'<Clip time="0" duration="4" playStart="2">{warps((0, 0), (8, 6))}</Clip>')
    (one,) = clips_of(session)
    assert (one.offset_s, one.speed) == (1.5, 1.5)


@pytest.mark.parametrize("points", [((0, 0), (2, 1), (8, 6)), ((0, 0), (8, 0)), ((0, 5), (8, 1)), ((0, 0),)])
def test_a_bent_or_broken_warp_map_leaves_the_speed_open(
    tmp_path: Path, points: tuple[tuple[float, float], ...]
) -> None:
    (one,) = clips_of(lay(tmp_path, f'<Clip time="0" duration="8">{warps(*points)}</Clip>'))
    assert isinstance(one.speed, Unknown)


def test_a_bent_map_is_straight_within_one_stretch(tmp_path: Path) -> None:
    (one,) = clips_of(lay(tmp_path, f'<Clip time="0" duration="2">{warps((0, 0), (2, 2), (8, 3))}</Clip>'))
    assert one.speed == 2.0


def test_a_warp_map_in_beats_of_the_file_leaves_its_place_open(tmp_path: Path) -> None:
    (one,) = clips_of(lay(tmp_path, f'<Clip time="0" duration="8">{warps((0, 0), (8, 8), unit="beats")}</Clip>'))
    assert isinstance(one.offset_s, Unknown)


def test_clips_by_reference_play_what_they_refer_to(tmp_path: Path) -> None:
    shared = (
        f'<Clips id="riff"><Clip time="0" duration="2">{AUDIO.format(9)}</Clip><Clip time="2" duration="2"/></Clips>'
    )
    session = lay(tmp_path, '<Clip time="8" reference="riff"/><Clip time="20" duration="2" reference="gone"/>', shared)
    found = clips_of(session)
    assert spans(session) == [(4.0, 5.0, 0.0), (5.0, 6.0, 0.0), (10.0, 11.0, 0.0)]
    assert [one.plays for one in found] == ["audio", "unknown", "unknown"]
    assert told(session, "gone", "c:Part")


def test_clips_that_refer_to_each_other_end(tmp_path: Path) -> None:
    loops = '<Clips id="a"><Clip time="0" duration="4" reference="k"/></Clips>'
    session = lay(tmp_path, '<Clip time="0" duration="4" reference="a"/>', loops)
    assert told(session, "holds the clip itself", "c:Part")


def test_muted_clips_fades_and_gain(tmp_path: Path) -> None:
    gain = '<Points unit="{}"><Target expression="gain"/><RealPoint time="0" value="{}"/>{}</Points>'
    steady = gain.format("linear", "0.5", "")
    moving = gain.format("decibel", "-6", '<RealPoint time="1" value="0"/>')
    session = lay(
        tmp_path,
        f'<Clip time="0" duration="4" enable="false" fadeInTime="-0.5" fadeOutTime="1">{AUDIO.format(9)}</Clip>'
        '<Clip time="8" duration="4" fadeTimeUnit="seconds" fadeInTime="0.25">'
        f"<Lanes>{AUDIO.format(9)}{steady}</Lanes></Clip>"
        f'<Clip time="16" duration="4"><Lanes>{AUDIO.format(9)}{moving}</Lanes></Clip>',
    )
    muted, faded, moved = clips_of(session)
    assert (muted.on, muted.fade_in_s, muted.fade_out_s) == (False, -0.25, 0.5)  # beats at 120 bpm
    assert (faded.on, faded.fade_in_s) == (True, 0.25)
    assert faded.gain_db == pytest.approx(-6.0206, abs=1e-3)
    assert isinstance(moved.gain_db, Unknown)


def test_fades_belong_to_the_ends_of_the_clip_that_has_them(tmp_path: Path) -> None:
    fades = 'fadeTimeUnit="seconds" fadeInTime="0.25" fadeOutTime="0.5"'
    session = lay(tmp_path, f'<Clip time="0" duration="12" loopStart="0" loopEnd="4" {fades}>{AUDIO.format(9)}</Clip>')
    seen = [(one.fade_in_s, one.fade_out_s) for one in clips_of(session)]
    assert seen == [(0.25, 0.0), (0.0, 0.0), (0.0, 0.5)]


def test_a_mute_on_an_outer_clip_holds_for_what_it_holds(tmp_path: Path) -> None:
    inner = f'<Clips><Clip time="0" duration="4">{AUDIO.format(9)}</Clip></Clips>'
    session = lay(tmp_path, f'<Clip time="0" duration="4" enable="false">{inner}</Clip>')
    assert [one.on for one in clips_of(session)] == [False]


def test_clips_in_scenes_and_of_no_track_are_not_on_the_timeline(tmp_path: Path) -> None:
    loose = f'<Clips><Clip time="0" duration="4">{AUDIO.format(9)}</Clip></Clips>'
    session = lay(tmp_path, "", loose)
    assert clips_of(session) == ()
    assert told(session, "belong to no track")


@pytest.mark.parametrize(
    ("written", "place", "path"),
    [
        ("./audio\\riff.wav", "beside", "audio/riff.wav"),
        ("audio/two words.wav", "beside", "audio/two words.wav"),
        ("audio/two%20words.wav", "beside", "audio/two words.wav"),
        ("audio/odd%41.wav", "beside", "audio/odd%41.wav"),
        ("../pool/x.wav", "outside", "../pool/x.wav"),
        ("C:\\pool\\x.wav", "outside", "C:\\pool\\x.wav"),
        ("/pool/x.wav", "outside", "/pool/x.wav"),
        ("file:///pool/x.wav", "outside", "file:///pool/x.wav"),
    ],
)
def test_paths_as_they_are_written(tmp_path: Path, written: str, place: str, path: str) -> None:
    (tmp_path / "audio").mkdir()
    for name in ("riff.wav", "two words.wav", "odd%41.wav"):
        (tmp_path / "audio" / name).write_bytes(b"")
    session = lay(
        tmp_path, f'<Clip time="0" duration="4"><Audio><File path="{written}" external="true"/></Audio></Clip>'
    )
    (file,) = session.media
    assert (file.place, file.path) == (place, path)
    if place == "beside":
        assert file.present is True
    else:
        assert isinstance(file.present, Unknown)  # never looked for


def test_a_missing_file_is_normal_and_one_file_is_listed_once(tmp_path: Path) -> None:
    session = lay(tmp_path, "".join(f'<Clip time="{at}" duration="1">{AUDIO.format(9)}</Clip>' for at in (0, 2)))
    (file,) = session.media
    assert file.present is False
    assert (file.legs, file.sample_rate_hz, file.duration_s) == (1, 48000.0, 9.0)


INNER = '<Clip time="{}" duration="4"><Clips><Clip time="{}" duration="4">{}</Clip></Clips></Clip>'


def test_a_clip_whose_content_lies_elsewhere_is_counted_and_makes_no_empty_track(tmp_path: Path) -> None:
    """Some writers give inner clips the song's time again, so that they lie outside of what holds them."""
    session = lay(tmp_path, "".join(INNER.format(at, at, AUDIO.format(2)) for at in (8, 16, 24)))
    part = channel(session, "Part")
    assert part.clips == ()
    assert "3 clips of Part could not be resolved" in part.missing["clips"].unknown
    assert told(session, "3 clips of Part lie inside other clips but outside the stretch that these play")


def test_what_a_clip_trims_away_is_said_and_nothing_is_missing(tmp_path: Path) -> None:
    inner = "".join(f'<Clip time="{at}" duration="4">{AUDIO.format(2)}</Clip>' for at in (0, 4, 8))
    session = lay(tmp_path, f'<Clip time="0" duration="4"><Clips>{inner}</Clips></Clip>')
    assert spans(session) == [(0.0, 2.0, 0.0)]
    assert channel(session, "Part").missing == {}
    assert told(session, "2 clips of Part lie inside other clips but outside")


def test_a_looped_clip_leaves_nothing_out_that_one_of_its_turns_plays(tmp_path: Path) -> None:
    inner = f'<Clip time="0" duration="2">{AUDIO.format(1)}</Clip><Clip time="2" duration="2">{AUDIO.format(1)}</Clip>'
    session = lay(tmp_path, f'<Clip time="0" duration="10" loopStart="0" loopEnd="4"><Clips>{inner}</Clips></Clip>')
    assert len(clips_of(session)) == 5
    assert not told(session, "were left out")
