"""A session's audio is found by the path the session writes, and never outside its folder."""

from __future__ import annotations

import unicodedata
import zipfile
from pathlib import Path
from typing import Literal

import pytest

from mixlint.media.container import open_container
from mixlint.media.places import OUTSIDE, Place, locate
from mixlint.session import MediaFile, Unknown
from tests.links import link


def archive(folder: Path, *names: str) -> Path:
    path = folder / "song.zip"
    with zipfile.ZipFile(path, "w") as file:
        for name in names:
            file.writestr(name, name)
    return path


def tree(folder: Path, *names: str) -> Path:
    for name in names:
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(name.encode())
    return folder


def found(
    path: str, base: Path, place: Literal["inside", "beside", "outside"] = "inside", *, allow_outside: bool = False
) -> tuple[str, str] | Unknown:
    """The content of what was found, which is its name in these tests, and the note."""
    with open_container(base) as container:
        one = locate(MediaFile(id="m", path=path, place=place), container, allow_outside=allow_outside)
        if isinstance(one, Unknown):
            return one
        with one.opened(container) as file, one.opened() as again:
            content = file.read()
            assert again.read() == content
        return content.decode(), one.note


SPELLINGS = [
    "audio/Bass DI.wav",
    "./audio/Bass DI.wav",
    "audio\\Bass DI.wav",
    ".\\audio\\Bass DI.wav",
    "audio/Bass%20DI.wav",
    "audio//Bass DI.wav",
    "audio/old/../Bass DI.wav",
]


@pytest.mark.parametrize("written", SPELLINGS)
@pytest.mark.parametrize("form", ["zip", "folder"])
def test_spellings_of_one_path(written: str, form: str, tmp_path: Path) -> None:
    make = archive if form == "zip" else tree
    base = make(tmp_path, "audio/Bass DI.wav", "audio/Other.wav")
    assert found(written, base) == ("audio/Bass DI.wav", "")


@pytest.mark.parametrize("form", ["zip", "folder"])
def test_percent_signs_are_literal_first(form: str, tmp_path: Path) -> None:
    """A name may really hold a percent sign: unescaping is the second try."""
    make = archive if form == "zip" else tree
    base = make(tmp_path, "audio/100%25 wet.wav", "audio/100% wet.wav")
    assert found("audio/100%25 wet.wav", base) == ("audio/100%25 wet.wav", "")
    assert found("audio/100% wet.wav", base) == ("audio/100% wet.wav", "")


@pytest.mark.parametrize("form", ["zip", "folder"])
def test_case_and_accents_are_forgiven_and_noted(form: str, tmp_path: Path) -> None:
    """Some systems write é as one sign and some as two (Unicode Standard Annex 15, forms C and D)."""
    make = archive if form == "zip" else tree
    name = "Audio/Caf\N{LATIN SMALL LETTER E WITH ACUTE}.wav"
    base = make(tmp_path, name, "Audio/Other.wav")
    written = unicodedata.normalize("NFD", "audio/CAF\N{LATIN CAPITAL LETTER E WITH ACUTE}.WAV")
    content, note = found(written, base)  # type: ignore[misc]
    assert content == name
    assert name in note
    assert written in note


@pytest.mark.parametrize("form", ["zip", "folder"])
def test_two_names_alike_but_for_case_are_not_guessed_between(form: str, tmp_path: Path) -> None:
    make = archive if form == "zip" else tree
    base = make(tmp_path, "audio/kick.wav", "audio/Kick.wav")
    assert found("audio/kick.wav", base) == ("audio/kick.wav", "")
    reason = found("audio/KICK.wav", base)
    assert isinstance(reason, Unknown)
    assert reason.unknown.startswith("2 files are named like")


@pytest.mark.parametrize(
    "written",
    ["../secret.wav", "audio/../../secret.wav", "..\\secret.wav", "%2e%2e/secret.wav", "..%2fsecret.wav",
     "/etc/passwd", "C:\\audio\\a.wav", "c:a.wav", "\\\\server\\share\\a.wav", "file:///etc/passwd"],
)  # fmt: skip
@pytest.mark.parametrize("form", ["zip", "folder"])
def test_nothing_outside_is_opened(written: str, form: str, tmp_path: Path) -> None:
    inner = tmp_path / "session"
    inner.mkdir()
    tree(tmp_path, "secret.wav")
    base = (archive if form == "zip" else tree)(inner, "audio/a.wav")
    reason = found(written, base, "beside")
    assert isinstance(reason, Unknown)
    assert reason == OUTSIDE or "is not there" in reason.unknown


def test_a_file_declared_outside_is_not_looked_for(tmp_path: Path) -> None:
    assert found("a.wav", tree(tmp_path, "a.wav"), "outside") == OUTSIDE


def test_outside_is_opened_when_the_caller_allows_it(tmp_path: Path) -> None:
    inner = tmp_path / "session"
    base = tree(inner, "a.wav")
    tree(tmp_path, "take one.wav")
    for written in (str(tmp_path / "take one.wav"), "../take one.wav", (tmp_path / "take one.wav").as_uri()):
        assert found(written, base, "outside", allow_outside=True) == ("take one.wav", "")
    gone = found("../gone.wav", base, "outside", allow_outside=True)
    assert isinstance(gone, Unknown)
    assert "is not there" in gone.unknown


def test_a_link_that_leads_out_is_not_followed(tmp_path: Path) -> None:
    tree(tmp_path, "secret.wav")
    base = tree(tmp_path / "session", "a.wav")
    link(base / "link.wav", tmp_path / "secret.wav")
    link(base / "folder", tmp_path)
    assert isinstance(found("link.wav", base), Unknown)
    assert isinstance(found("folder/secret.wav", base), Unknown)
    assert isinstance(found("FOLDER/SECRET.wav", base), Unknown)


def test_a_missing_file_says_so(tmp_path: Path) -> None:
    reason = found("audio/gone.wav", tree(tmp_path, "audio/a.wav"))
    assert isinstance(reason, Unknown)
    assert "'audio/gone.wav' is not there" in reason.unknown
    assert reason.settle


def test_a_folder_is_no_audio_file(tmp_path: Path) -> None:
    assert isinstance(found("audio", tree(tmp_path, "audio/a.wav")), Unknown)


def test_a_place_is_small_enough_to_send_to_another_process(tmp_path: Path) -> None:
    import pickle

    place = Place(tmp_path, "a.wav", "a.wav")
    assert pickle.loads(pickle.dumps(place)) == place
    assert len(pickle.dumps(place)) < 1000
