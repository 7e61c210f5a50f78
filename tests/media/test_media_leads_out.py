"""A file reached by a link that leads out is said to be so; a broken archive is named by the path that was given."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.errors import InputError
from mixlint.media import Library
from mixlint.media.container import open_container
from mixlint.runs import files
from mixlint.runs.files import write_new, write_text
from mixlint.session import MediaFile, Session, Unknown


def test_a_link_that_leads_out_is_not_called_absent(tmp_path: Path) -> None:
    (tmp_path / "elsewhere.wav").write_bytes(b"RIFF")
    (tmp_path / "song").mkdir()
    try:
        (tmp_path / "song" / "kick.wav").symlink_to(tmp_path / "elsewhere.wav")
    except OSError:
        pytest.skip("the system makes no links for this user")
    made = Session(media=(MediaFile(id="k", path="kick.wav"), MediaFile(id="g", path="gone.wav")))
    with Library(made, tmp_path / "song") as library:
        place = library.measure("k")
        assert isinstance(place, Unknown)
        assert "a link that leads out of the session's folder" in place.unknown
        assert isinstance(library.present("k"), Unknown)
        assert library.present("g") is False


@pytest.mark.parametrize("data", [b"PK\x03\x04 and nothing", b""])
def test_a_broken_archive_is_named_by_its_whole_path(data: bytes, tmp_path: Path) -> None:
    """Of 2,000 sessions called song.dawproject the folder tells which one it is."""
    (tmp_path / "seventeen").mkdir()
    path = tmp_path / "seventeen" / "song.dawproject"
    path.write_bytes(data)
    with pytest.raises(InputError) as caught:
        open_container(path, packed=True)
    assert str(path) in caught.value.where


def test_a_full_disk_is_told_with_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "replace", full)
    with pytest.raises(InputError, match="No space left on device") as caught:
        write_text("text", tmp_path / "out.json")
    assert caught.value.where == str(tmp_path / "out.json")
    assert list(tmp_path.iterdir()) == []
    write_new("text", tmp_path / "new.toml")
