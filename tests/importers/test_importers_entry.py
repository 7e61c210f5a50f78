"""From a path to sessions: forms told apart, folders searched, stems read, digests, and plain errors."""

from __future__ import annotations

import math
import os
import struct
import wave
from pathlib import Path

import pytest

from mixlint import importers
from mixlint.errors import BrokenFile, InputError, NotASession
from mixlint.importers import IMPORTERS, STEMS
from mixlint.media import open_container
from mixlint.session import Session, Unknown
from tests.importers.documents import document, track
from tests.importers.hostile import PLAIN, Part, archive


def write_wav(path: Path, legs: int = 1, seconds: float = 0.5, rate: int = 8000) -> None:
    with wave.open(str(path), "wb") as file:
        file.setnchannels(legs)
        file.setsampwidth(2)
        file.setframerate(rate)
        tone = [int(9000 * math.sin(n * 0.3)) for n in range(int(seconds * rate)) for _ in range(legs)]
        file.writeframes(struct.pack(f"<{len(tone)}h", *tone))


def test_a_packed_a_bare_and_a_native_session_read_alike(tmp_path: Path) -> None:
    text = document(track("Kick")).encode()
    packed, bare, native = tmp_path / "p.dawproject", tmp_path / "song/project.xml", tmp_path / "song.json"
    bare.parent.mkdir()
    packed.write_bytes(
        archive(Part(b"metadata.xml", b"<MetaData><Title> Dawn </Title></MetaData>"), Part(b"project.xml", text))
    )
    bare.write_bytes(text)
    one, two = importers.read(packed), importers.read(bare)
    native.write_text(one.json_text(), encoding="utf-8")
    assert (one.title, two.title) == ("Dawn", "song")
    assert one.metadata == {"Title": "Dawn"}
    assert one.channels == two.channels
    assert importers.read(native) == one
    assert one.source.importer == "dawproject"


def test_damaged_metadata_are_noted_and_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "song.dawproject"
    path.write_bytes(archive(Part(b"metadata.xml", b"<MetaData><Title>"), Part(b"project.xml", PLAIN)))
    session = importers.read(path)
    assert session.title == "song"
    assert any("metadata" in note.text for note in session.notes)


def test_a_project_in_an_inner_folder_of_the_archive_is_found(tmp_path: Path) -> None:
    path = tmp_path / "song.dawproject"
    path.write_bytes(archive(Part(b"song/", b"", 0), Part(b"song/project.xml", PLAIN)))
    session = importers.read(path)
    assert [one.name for one in session.channels] == ["Part", "Main"]
    assert session.channels[0].where.startswith("project.xml:")


def test_every_form_says_what_it_loses(tmp_path: Path) -> None:
    for importer in (*IMPORTERS, STEMS):
        assert importer.name
        assert all(text.endswith(".") for text in importer.loses)
    path = tmp_path / "song.xml"
    path.write_bytes(PLAIN)
    lost = [note.text for note in importers.read(path).notes if note.loses]
    assert set(next(one for one in IMPORTERS if one.name == "dawproject").loses) <= set(lost)


@pytest.mark.parametrize("name", ["gone.dawproject", "gone", "gone/inner.json"])
def test_a_missing_file_is_said_plainly(tmp_path: Path, name: str) -> None:
    for ask in (importers.read, importers.discover, importers.digest):
        with pytest.raises(InputError, match="there is no such file or folder"):
            ask(tmp_path / name)


def test_a_folder_without_sessions_is_said_plainly(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("hello", encoding="utf-8")
    (tmp_path / "data.json").write_text("{}", encoding="utf-8")
    for ask in (importers.read, importers.discover):
        with pytest.raises(NotASession, match="no session and no audio"):
            ask(tmp_path)


def test_a_folder_means_every_session_below_it(tmp_path: Path) -> None:
    for name in ("b/two.dawproject", "a/one.dawproject", "a/__MACOSX/._one.dawproject", ".hidden/x.dawproject"):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(archive(Part(b"project.xml", PLAIN)))
    (tmp_path / "c.json").write_text(Session(title="c").json_text(), encoding="utf-8")
    (tmp_path / "report.json").write_text('{"format": "mixlint-report/1"}', encoding="utf-8")
    write_wav(tmp_path / "take.wav")
    found = [path.relative_to(tmp_path).as_posix() for path in importers.discover(tmp_path)]
    assert found == ["c.json", "a/one.dawproject", "b/two.dawproject"]
    with pytest.raises(InputError, match="3 sessions"):
        importers.read(tmp_path)
    assert importers.read(tmp_path / "a").channels[0].name == "Part"


def test_a_folder_of_audio_is_a_set_of_stems(tmp_path: Path) -> None:
    folder = tmp_path / "Dawn stems"
    folder.mkdir()
    write_wav(folder / "Drums.wav", legs=2)
    write_wav(folder / "Bass.wav", seconds=0.25)
    (folder / "readme.txt").write_text("48 kHz", encoding="utf-8")
    (folder / ".DS_Store").write_bytes(b"\0")
    assert importers.discover(folder) == [folder]
    session = importers.read(folder)
    bass, drums, master = session.channels
    assert (session.title, session.source.importer, session.sample_rate_hz) == ("Dawn stems", "stems", 8000.0)
    assert (bass.name, bass.legs, bass.fader_db, bass.pan, bass.output) == ("Bass", 1, 0.0, 0.0, master.id)
    assert (drums.name, drums.legs, drums.clips[0].end_s) == ("Drums", 2, 0.5)
    assert (master.name, master.kind, master.output) == ("Mix bus", "master", None)
    assert session.media[0].duration_s == 0.25
    said = " ".join(note.text for note in session.notes)
    assert "0 dB and centre" in said
    assert "mix bus was assumed" in said
    assert "1 files that are no audio" in said
    assert any(note.loses for note in session.notes)


def test_a_stem_that_is_no_audio_is_kept_as_unknown(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    write_wav(tmp_path / "Good.wav")
    (tmp_path / "Bad.wav").write_bytes(b"this is no audio")
    session = importers.read(tmp_path)
    bad = session.channels[0]
    assert bad.name == "Bad"
    assert isinstance(bad.legs, Unknown)
    assert bad.clips == ()
    assert any(note.about == "Bad.wav" and "could not be read" in note.text for note in session.notes)
    assert capfd.readouterr().err == ""


def test_a_digest_is_of_the_content(tmp_path: Path) -> None:
    # FIPS 180-4 example: the SHA-256 of "abc".
    path = tmp_path / "abc.dawproject"
    path.write_bytes(b"abc")
    expected = "sha256:ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert importers.digest(path) == expected


def test_a_digest_of_stems_changes_with_any_edge_name_or_size(tmp_path: Path) -> None:
    write_wav(tmp_path / "a.wav")
    first = importers.digest(tmp_path)
    assert importers.digest(tmp_path) == first
    (tmp_path / "a.wav").rename(tmp_path / "b.wav")
    assert importers.digest(tmp_path) != first


def test_bad_input_is_told_apart(tmp_path: Path) -> None:
    cut = tmp_path / "cut.dawproject"
    cut.write_bytes(archive(Part(b"project.xml", PLAIN))[:-30])
    with pytest.raises(BrokenFile):
        importers.read(cut)
    odd = tmp_path / "song.odd"
    odd.write_bytes(b"\0\1\2")
    with pytest.raises(NotASession, match="not read"):
        importers.read(odd)


def test_a_pipe_keeps_nobody_waiting(tmp_path: Path) -> None:
    pipe = tmp_path / "song.dawproject"
    os.mkfifo(pipe)
    for ask in (importers.read, importers.digest, open_container):
        with pytest.raises(InputError, match="no regular file"):
            ask(pipe)


def test_nothing_heavy_is_imported_to_read_a_session(tmp_path: Path) -> None:
    import subprocess
    import sys

    path = tmp_path / "song.dawproject"
    path.write_bytes(archive(Part(b"project.xml", PLAIN)))
    code = (
        "import sys; from pathlib import Path; from mixlint import importers; importers.read(Path(sys.argv[1]));"
        "heavy = ('numpy', 'soundfile', 'networkx', 'scipy', 'lxml', 'jinja2', 'aaf2', 'subprocess');"
        "print([m for m in heavy if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
