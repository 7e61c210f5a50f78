"""The files of an AAF: found beside it by what their locators say, or inside it, where they are measured in place."""

from __future__ import annotations

import io
from collections.abc import Callable
from math import log10
from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.importers.aaf.assembly import session_of
from mixlint.media.library import Library
from mixlint.session import MediaFile, Session, Unknown, is_known
from tests.importers.aaf_files import Aaf, aaf, wav_bytes


def read(folder: Path, make: Callable[[Aaf], None]) -> Session:
    path = folder / "song.aaf"
    with aaf(path) as made:
        make(made)
    return session_of(path)


def one_file(folder: Path, url: str, name: str = "Take") -> MediaFile:
    def make(made: Aaf) -> None:
        media = made.file_mob(name, 2.0, url=url)[1]
        made.track("A", made.row(made.clip(media, 2.0)))

    (found,) = read(folder, make).media
    return found


@pytest.mark.slow
@pytest.mark.parametrize(
    ("url", "beside"),
    [
        ("file:///Volumes/Disk/Song/Audio%20Files/Kick%2001.wav", "Audio Files/Kick 01.wav"),
        ("file:///C:/Users/Someone/Song/Audio%20Files/Kick%2001.wav", "Audio Files/Kick 01.wav"),
        ("file:///C%3a/Song/Kick%2001.wav", "Kick 01.wav"),
        ("file://localhost/Song/Kick 01.wav", "Kick 01.wav"),
        ("file://server/share/Kick%2001.wav", "media/Kick 01.wav"),
        ("C:\\Song\\Audio Files\\Kick 01.wav", "Audio Files/Kick 01.wav"),
        ("Audio Files/Kick 01.wav", "Audio Files/Kick 01.wav"),
        ("file:///Song/KICK%2001.WAV", "Kick 01.wav"),
        ("file:///Song/Caf%C3%A9.wav", "Café.wav"),
        ("file:///Song/../../Kick%2001.wav", "Kick 01.wav"),
    ],
)
def test_files_are_found_beside(tmp_path: Path, url: str, beside: str) -> None:
    """By as much of the path as fits, at least by the name; file URLs are RFC 8089's, with percent escapes."""
    (tmp_path / beside).parent.mkdir(exist_ok=True)
    (tmp_path / beside).write_bytes(wav_bytes(0.1))
    found = one_file(tmp_path, url)
    assert (found.path, found.place, found.present) == (beside, "beside", True)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    found = one_file(tmp_path, "file:///Song/Audio%20Files/Kick%2001.wav")
    assert (found.id, found.path, found.place, found.present) == ("Kick 01.wav", "Kick 01.wav", "beside", False)
    assert (found.legs, found.sample_rate_hz, found.duration_s) == (1, 48000.0, 2.0)


def test_one_of_two_like_named_is_not_guessed(tmp_path: Path) -> None:
    for folder in ("a", "b"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "Kick.wav").write_bytes(wav_bytes(0.1))
    assert one_file(tmp_path, "file:///Song/Kick.wav").present is False


def test_a_file_without_a_locator_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "Kick.wav").write_bytes(wav_bytes(0.1))
    assert one_file(tmp_path, "", "Kick.wav").present is True


def test_several_mobs_of_one_file_are_one(tmp_path: Path) -> None:
    def make(made: Aaf) -> None:
        for name in "AB":
            media = made.file_mob(name, 2.0, url="file:///Song/Kick.wav")[1]
            made.track(name, made.row(made.clip(media, 2.0)))

    session = read(tmp_path, make)
    assert [one.id for one in session.media] == ["Kick.wav"]
    assert [c.clips[0].file for c in session.channels[:2]] == ["Kick.wav", "Kick.wav"]


def measured(folder: Path, make: Callable[[Aaf], None]) -> tuple[Session, Library]:
    session = read(folder, make)
    return session, Library(session, folder / "song.aaf")


@pytest.mark.slow
def test_sound_inside_is_measured_where_it_lies(tmp_path: Path) -> None:
    """A whole wave file as it stands, and bare samples by what their descriptor says; neither is written out."""
    whole = wav_bytes(2.0, value=8000)
    bare = wav_bytes(2.0, legs=2, value=4000)[44:]

    def make(made: Aaf) -> None:
        for name, media in (
            ("Voice", made.embedded("Voice", whole, 2.0)),
            ("Keys", made.embedded("Keys", bare, 2.0, 2)),
        ):
            made.track(name, made.row(made.clip(media, 2.0)))

    session, library = measured(tmp_path, make)
    with library:
        for media, legs, peak in zip(session.media, (1, 2), (8000 / 32768, 4000 / 32768), strict=True):
            assert (media.place, media.present, media.legs) == ("inside", True, legs)
            header, measure = library.header(media.id), library.measure(media.id)
            assert is_known(header)
            assert is_known(measure)
            assert (header.legs, header.sample_rate_hz, header.frames) == (legs, 48_000, 96_000)
            assert measure.sample_peak_db == pytest.approx([20.0 * log10(peak)] * legs, abs=1e-3)
            assert library.whole(media.id, measured=True) is True
    assert sorted(one.name for one in tmp_path.iterdir()) == ["song.aaf"]


def test_an_aiff_inside_is_read(tmp_path: Path) -> None:
    """As libsndfile writes one."""
    whole = io.BytesIO()
    soundfile.write(whole, np.full((48_000, 2), 0.25), 48_000, format="AIFF", subtype="PCM_24")

    def make(made: Aaf) -> None:
        made.track("A", made.row(made.clip(made.embedded("Bells", whole.getvalue(), 1.0, 2), 1.0)))

    session, library = measured(tmp_path, make)
    with library:
        (media,) = session.media
        header = library.header(media.id)
        assert is_known(header)
        assert (media.id, header.form, header.legs, header.frames) == ("Bells.aiff", "AIFF", 2, 48_000)


def test_small_sound_inside_is_read(tmp_path: Path) -> None:
    """Streams under 4096 bytes lie in the stream of small ones [MS-CFB]."""
    small = wav_bytes(0.02)
    assert len(small) < 4096

    def make(made: Aaf) -> None:
        made.track("A", made.row(made.clip(made.embedded("Tick", small, 0.02), 0.02)))

    session, library = measured(tmp_path, make)
    with library:
        header = library.header(session.media[0].id)
        assert is_known(header)
        assert header.frames == 1000


def test_sound_inside_in_another_form_is_open(tmp_path: Path) -> None:
    """Neither missing nor damaged: it is there, and is not read."""

    def make(made: Aaf) -> None:
        media = made.embedded("Keys", b"\x06\x0e\x2b\x34" * 4000, 2.0)
        source = next(one for one in made.file.content.mobs if type(one).__name__ == "SourceMob")
        source.descriptor["QuantizationBits"].value = 12
        made.track("A", made.row(made.clip(media, 2.0)))

    session, library = measured(tmp_path, make)
    (media,) = session.media
    assert isinstance(media.present, Unknown)
    with library:
        assert library.present(media.id) == media.present
        assert library.header(media.id) == media.present
