"""A tree of folders of audio as sets of stems."""

from __future__ import annotations

import pytest

from mixlint.errors import InputError
from mixlint.importers import digest, discover, read
from tests.facts.audio_sessions import sine, write


@pytest.fixture
def tree(tmp_path):
    def make(*names: str):
        for name in names:
            (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
            write(tmp_path, name, sine(110.0, 0.1))
        return tmp_path

    return make


def tops(folder) -> list[str]:
    return [one.relative_to(folder).as_posix() for one in discover(folder)]


def channels(folder) -> dict[str, tuple[str, ...]]:
    return {c.name: c.folder for c in read(folder).channels if c.kind == "track"}


def test_folders_of_parts_are_one_set(tree):
    folder = tree("Lantern mix.wav", "Drums/Kick.wav", "Drums/Snare.wav", "02 Vocals/Lead.wav")
    assert tops(folder) == ["."]
    assert channels(folder) == {
        "Lead": ("02 Vocals",),
        "Kick": ("Drums",),
        "Snare": ("Drums",),
        "Lantern mix": (),
    }


def test_folders_of_songs_are_sets_of_their_own(tree):
    folder = tree("Song A/Drums.wav", "Song A/Bass.wav", "Song B/Stems/Drums.wav", "Song B/Mix.wav")
    assert tops(folder) == ["Song A", "Song B"]
    assert set(channels(folder / "Song B")) == {"Drums", "Mix"}
    with pytest.raises(InputError, match="2 sessions"):
        read(folder)


def test_like_named_files_make_several_songs_of_folders_named_for_parts(tree):
    folder = tree("Bass/Kick.wav", "Bass/Snare.wav", "Drums/Kick.wav", "Drums/Snare.wav")
    assert tops(folder) == ["Bass", "Drums"]


def test_what_is_put_aside_beside_a_set_is_passed_over(tree):
    folder = tree("Drums.wav", "Bass.wav", "old/Drums.wav", "Song B/Drums.wav")
    assert tops(folder) == [".", "Song B"]
    session = read(folder)
    assert [m.path for m in session.media] == ["Bass.wav", "Drums.wav"]
    assert any("2 audio files in its subfolders" in note.text for note in session.notes)


def test_a_print_is_kept_apart_from_the_stems(tree):
    folder = tree("Drums.wav", "Bass.wav", "Full Mix.wav", "Instrumental.wav", "Rough mix.wav")
    apart = {c.name: c.declared_role for c in read(folder).channels if c.kind == "track" and c.output is None}
    assert apart == {"Full Mix": "mix", "Instrumental": "version", "Rough mix": "reference"}


def test_two_versions_and_a_mix_are_stems_of_it(tree):
    folder = tree("Acapella.wav", "Instrumental.wav", "Master.wav")
    apart = {c.name for c in read(folder).channels if c.kind == "track" and c.output is None}
    assert apart == {"Master"}


def test_the_digest_follows_the_files_of_the_set(tree, tmp_path):
    folder = tree("Bass.wav", "Drums/Kick.wav", "Song B/Kick.wav")
    before = digest(folder)
    write(tmp_path, "Song B/Kick.wav", sine(220.0, 0.1))
    assert digest(folder) == before
    write(tmp_path, "Drums/Kick.wav", sine(220.0, 0.1))
    assert digest(folder) != before
