"""What a review hangs on is seen when it changes, and what it does not hang on is not."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mixlint.watching.looks import Known, Looker

BESIDE = {
    "song.signed.txt": "signed",
    "song.json.signed.txt": "signed",
    "mixlint-project.signed.txt": "signed",
    "../mixlint-project.signed.txt": "signed",
    "song.approved.json": "signed",
    "mixlint-standard.toml": "standard",
    "../mixlint-standard.toml": "standard",
    "Song mix 2.wav": "audio",
    "audio/Bass.wav": "audio",
}
"""A file, from the folder of the session, to what it is for the review."""
NOTHING = ("notes.txt", "page.html", ".song.json.part", ".mixlint-lock", "other.json", "audio/Other.wav")
"""What a review of the session does not hang on."""


@pytest.fixture
def song(tmp_path: Path) -> Path:
    path = tmp_path / "project" / "song.json"
    (path.parent / "audio").mkdir(parents=True)
    path.write_text("{}")
    return path


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60)
@given(st.sets(st.sampled_from([*BESIDE, *NOTHING, "song.json"])))
def test_a_look_tells_what_changed(song: Path, changed: set[str]) -> None:
    known = Known(audio=(str(song.parent / "audio" / "Bass.wav"),))
    looker = Looker(song, None, None)
    before = looker.look(song, known)
    assert not looker.look(song, known).other(before)
    for name in changed:
        path = song.parent / name
        path.write_text(path.read_text() + "x" if path.exists() else "x")
    wanted = {BESIDE[name] for name in changed if name in BESIDE} | {"session" for one in changed if one == "song.json"}
    assert set(looker.look(song, known).other(before)) == wanted
    assert looker.look(song, known).same_as_far_as_told(before) == (not wanted)


def test_a_file_that_was_replaced_by_one_of_its_size_and_time_is_another(song: Path) -> None:
    looker = Looker(song, None, None)
    before = looker.look(song, Known())
    made = song.with_name("part")
    made.write_text("[]")
    os.utime(made, ns=(song.stat().st_atime_ns, song.stat().st_mtime_ns))
    made.replace(song)
    assert looker.look(song, Known()).other(before) == ("session",)


def test_of_a_folder_audio_and_sessions_are_looked_at(tmp_path: Path) -> None:
    stems = tmp_path / "stems"
    (stems / "Drums").mkdir(parents=True)
    looker = Looker(stems, None, None)
    before = looker.look(stems, Known())
    assert not before.there
    (stems / "Drums" / "Kick.wav").write_text("x")
    assert looker.look(stems, Known()).other(before) == ("audio",)
    (stems / "list.csv").write_text("x")
    (stems / "notes.md").write_text("x")
    assert looker.look(stems, Known()).other(before) == ("session", "audio")


def test_a_standard_that_was_named_is_looked_at_with_what_lies_beside_it(song: Path, tmp_path: Path) -> None:
    house = tmp_path / "house" / "own.toml"
    (house.parent / "words").mkdir(parents=True)
    house.write_text('name = "own"\n')
    looker = Looker(song, str(house), None)
    before = looker.look(song, Known())
    (house.parent / "words" / "new.toml").write_text("")
    assert looker.look(song, Known()).other(before) == ("standard",)
    assert not Looker(song, "pre-bounce", None).look(song, Known()).standard
    assert Looker(song, str(tmp_path / "none.toml"), None).look(song, Known()).standard
