"""Whatever comes in as an AAF, a session or a clear error comes out, and nothing hangs or prints."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from mixlint import importers
from mixlint.cli.app import app
from mixlint.errors import BrokenFile, InputError, MixlintError, NotASession, RefusedFile
from mixlint.importers.aaf import composition, reader
from mixlint.importers.aaf.assembly import session_of
from mixlint.importers.native import parse
from mixlint.media.apart import Apart
from tests.importers.aaf_files import Aaf, aaf, wav_bytes


def good(path: Path, tracks: int = 2) -> bytes:
    """A small AAF with something of everything."""
    with aaf(path) as made:
        for number in range(tracks):
            media = made.file_mob(f"Take {number}", url="file:///disk/take.wav")[1]
            inside = [made.clip(made.embedded(name, wav_bytes(s), s), s) for name, s in (("Bell", 0.02), ("Hall", 0.2))]
            row = made.row(
                made.filler(1.0), *inside, made.fade(0.5), made.gain(made.clip(media, 4.0, 2.0), 0.5), made.selector(
                    made.filler(1.0), made.clip(media, 1.0, 9.0)
                ),
            )  # fmt: skip
            slot = made.track(f"Track {number}", made.pan(made.gain(row, [(0, 1), (1, 0.5)]), 0.25), number + 1)
            made.attributes(slot, AudioMixerCompMute=0, AudioMixerCompSolo=0)
        made.timecode(90_000, 25)
        made.markers([(1.0, "Verse")])
    return path.read_bytes()


def test_an_empty_file(tmp_path: Path) -> None:
    path = tmp_path / "song.aaf"
    path.touch()
    with pytest.raises(BrokenFile, match="empty") as told:
        importers.read(path)
    assert told.value.where == str(path)
    assert told.value.do


@pytest.mark.parametrize(
    "data", [b"RIFF\0\0\0\0WAVE", b"{}", b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), bytes(9000)]
)
def test_another_file_called_aaf(tmp_path: Path, data: bytes) -> None:
    """A compound file of another identity among them."""
    path = tmp_path / "song.aaf"
    path.write_bytes(data)
    with pytest.raises(InputError) as told:
        importers.read(path)
    assert path.name in told.value.where
    assert told.value.do


@pytest.mark.slow
def test_an_aaf_of_another_name_is_known(tmp_path: Path) -> None:
    path = tmp_path / "song.bin"
    good(path)
    assert len(importers.read(path).channels) == 3


@pytest.mark.slow
def test_without_the_extra(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Exit status 2, and how to install it; what the form carries is told all the same."""
    path = tmp_path / "song.aaf"
    good(path)
    monkeypatch.setitem(sys.modules, "aaf2", None)
    result = CliRunner().invoke(app, ["review", str(path)])
    assert result.exit_code == 2
    assert "pip install 'mixlint[aaf]'" in result.stderr
    form = next(one for one in importers.IMPORTERS if one.name == "aaf")
    assert form.loses
    assert "clips" in form.carries


@pytest.mark.slow
@pytest.mark.parametrize("share", [0.02, 0.3, 0.9])
def test_a_file_cut_short(tmp_path: Path, share: float, capfd: pytest.CaptureFixture[str]) -> None:
    """Through the process: an error of ours, and not a word on either stream."""
    path = tmp_path / "song.aaf"
    data = good(path)
    path.write_bytes(data[: int(len(data) * share)])
    with pytest.raises(BrokenFile) as told:
        importers.read(path)
    assert (told.value.where, bool(told.value.do)) == (str(path), True)
    assert capfd.readouterr() == ("", "")


@pytest.mark.parametrize(("at", "value"), [(72, 0xFFFFFFF0), (72, 5_000), (30, 40)])
def test_a_header_that_tells_of_more_than_the_file_holds(tmp_path: Path, at: int, value: int) -> None:
    """[MS-CFB] 2.2: the number of its tables, and the size of a sector. The library would read tables for ever."""
    path = tmp_path / "song.aaf"
    data = bytearray(good(path))
    data[at : at + (4 if at == 72 else 2)] = value.to_bytes(4 if at == 72 else 2, "little")
    path.write_bytes(data)
    with pytest.raises(BrokenFile, match="more than the file holds"):
        session_of(path)


def composed(path: Path, make: Any) -> Path:
    with aaf(path) as made:
        make(made)
    return path


def test_compositions_in_a_circle(tmp_path: Path) -> None:
    """One that plays itself, and two that play each other."""

    def make(made: Aaf) -> None:
        media = made.file_mob("Take")[1]
        others = [made.file.create.CompositionMob(name) for name in "XY"]
        for one in others:
            one.usage = "Usage_LowerLevel"
            made.file.content.mobs.append(one)
            one.create_timeline_slot(made.rate)
        for one, other in zip(others, reversed(others), strict=True):
            segment = made.file.create.SourceClip(media_kind="sound")
            segment.mob_id, segment.slot_id, segment.length = other.mob_id, 1, made.units(4.0)
            next(iter(one.slots)).segment = made.row(segment)
        made.track("A", made.row(made.clip(media, 2.0), made.clip(others[0], 2.0)))

    session = session_of(composed(tmp_path / "song.aaf", make))
    assert len(session.channels[0].clips) == 1
    assert any("lie in themselves" in note.text for note in session.notes)


def test_media_in_a_circle(tmp_path: Path) -> None:
    def make(made: Aaf) -> None:
        masters = [made.file_mob(name)[1] for name in "XY"]
        for one, other in zip(masters, reversed(masters), strict=True):
            next(iter(one.slots)).segment.mob_id = other.mob_id
        made.track("A", made.row(made.clip(masters[0], 2.0)))

    session = session_of(composed(tmp_path / "song.aaf", make))
    (clip,) = session.channels[0].clips
    assert clip.file is None
    assert any("in a circle" in note.text for note in session.notes)


def test_media_that_are_not_in_the_file(tmp_path: Path) -> None:
    def make(made: Aaf) -> None:
        media = made.file_mob("Take")[1]
        clip = made.clip(media, 2.0)
        clip.mob_id = type(media.mob_id).new()
        made.track("A", made.row(clip))

    session = session_of(composed(tmp_path / "song.aaf", make))
    (clip,) = session.channels[0].clips
    assert (clip.file, clip.start_s, clip.end_s) == (None, 0.0, 2.0)
    assert any("lead to no file" in note.text for note in session.notes)


@pytest.mark.slow
def test_compositions_that_multiply(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each level plays the one below twice: sixty levels would be more clips than there are seconds since the start."""
    monkeypatch.setattr(composition, "MOST_STEPS", 5_000)

    def make(made: Aaf) -> None:
        below = made.file_mob("Take")[1]
        for level in range(20):
            one = made.file.create.CompositionMob(f"Level {level}")
            one.usage = "Usage_LowerLevel"
            made.file.content.mobs.append(one)
            slot = one.create_timeline_slot(made.rate)
            slot.segment = made.row(made.clip(below, 2.0), made.clip(below, 2.0))
            below = one
        made.track("A", made.row(made.clip(below, 2.0)))

    with pytest.raises(RefusedFile, match="more than any session"):
        session_of(composed(tmp_path / "song.aaf", make))


def test_no_tracks_of_sound(tmp_path: Path) -> None:
    with pytest.raises(NotASession, match="no tracks of sound"):
        session_of(composed(tmp_path / "song.aaf", lambda made: made.timecode(0, 25)))


def test_numbers_beyond_all_bounds(tmp_path: Path) -> None:
    """A length and a start of nearly 2^63 edit units at the slowest rate, a gain that no fader reaches."""

    def make(made: Aaf) -> None:
        media = made.file_mob("Take")[1]
        clip = made.clip(media, 2.0)
        clip.length = (1 << 63) - 1
        clip.start = -(1 << 62)
        made.track("A", made.row(made.gain(clip, 2_000_000_000)), rate=1)

    path = composed(tmp_path / "song.aaf", make)
    session = session_of(path)
    assert parse(session.json_text(), "again") == session


@pytest.mark.slow
@pytest.mark.parametrize(
    ("ended", "kind"), [("late", RefusedFile), ("large", RefusedFile), ("badly", BrokenFile), ("well", BrokenFile)]
)
def test_a_process_that_ends_otherwise(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ended: str, kind: type[MixlintError]
) -> None:
    path = tmp_path / "song.aaf"
    good(path)
    monkeypatch.setattr(reader, "run_apart", lambda *_, **__: Apart(b"", ended))
    with pytest.raises(kind) as told:
        importers.read(path)
    assert (told.value.where, bool(told.value.do)) == (str(path), True)
