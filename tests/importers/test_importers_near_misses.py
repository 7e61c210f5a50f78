"""Files that come near a session: told for what they are, with what would work; archives that hold a project are read.

First bytes: MIDI 1.0 (MThd), ISO 32000 (%PDF-), PKWARE APPNOTE (PK), CMX 3600 event lines, AES31-3 (<ADL>),
OpenTimelineIO's OTIO_SCHEMA key, the compound file's signature, SMPTE 377 (header partition).
"""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from mixlint import importers
from mixlint.cli.app import app
from mixlint.errors import InputError
from tests.importers.hostile import PLAIN, Part, archive

EVENT = (
    b"TITLE: Porch\nFCM: NON-DROP FRAME\n001  AX       AA    C        00:00:00:00 00:00:04:00 01:00:00:00 01:00:04:00\n"
)
SONG = archive(Part(b"project.xml", PLAIN))
STEMS, OPEN, OWN = "print its stems", ".dawproject", "schemas/session.schema.json"


@pytest.mark.parametrize(
    ("name", "body", "told", "works"),
    [
        ("cut.otio", b'{"OTIO_SCHEMA": "Timeline.1"}', "OpenTimelineIO", (STEMS, OPEN, OWN)),
        ("cut.json", b'{\n "OTIO_SCHEMA": "Timeline.1"}', "OpenTimelineIO", (STEMS, OPEN, OWN)),
        ("cut.OTIOZ", archive(Part(b"content.otio", b"{}")), "OpenTimelineIO", (STEMS,)),
        ("cut.EDL", b"TITLE: Porch\n", "edit decision list", (STEMS, OPEN, OWN)),
        ("cut.txt", EVENT, "edit decision list", (STEMS, OPEN, OWN)),
        ("cut.lst", b"<ADL>\n<VERSION>\n", "AES31", (STEMS, OPEN, OWN)),
        ("song.MID", b"", "empty", ("export it again",)),
        ("song.MID", b"?", "MIDI", (STEMS, OPEN)),
        ("song.bin", b"MThd\0\0\0\6\0\1", "MIDI", (STEMS, OPEN)),
        ("song.rmi", b"RIFF\0\0\0\0RMIDdata", "MIDI", (STEMS, OPEN)),
        ("song.OMF", b"\0\1\2", "OMF", (STEMS, OPEN)),
        ("song.doc", bytes.fromhex("d0cf11e0a1b11ae1") + bytes(600), "no AAF", (STEMS, OPEN, OWN)),
        ("notes.txt", b"%PDF-1.7\n", "PDF", (STEMS, OPEN, OWN)),
        ("notes.txt", "Glöckchen lauter\n".encode(), "plain text", (STEMS, OPEN, OWN)),
        ("notes", ("ö" * 40_000).encode(), "plain text", (OWN,)),
        ("x" + "notes", ("a" + "ö" * 40_000).encode(), "plain text", (OWN,)),
        ("prints.ZIP", archive(Part(b"a/Kick.WAV", b"x")), "audio", ("unpack it and name the folder",)),
        ("prints.zip", archive(Part(b"a/Song.DAWproject", b"x")), "a/Song.DAWproject", ("unpack it",)),
        ("prints.zip", archive(Part(b"readme.txt", b"x")), "no session", (STEMS, OPEN, OWN)),
        ("prints.zip", b"PK\3\4", "cut short", ("again",)),
        ("noise.bin", bytes(range(128, 256)), "this kind of file is not read", (OPEN,)),
    ],
)
def test_what_it_is_and_what_would_work(
    tmp_path: Path, name: str, body: bytes, told: str, works: tuple[str, ...]
) -> None:
    """As a user types it: one line on stderr, exit status 2, nothing on stdout."""
    path = tmp_path / name
    path.write_bytes(body)
    result = CliRunner().invoke(app, ["review", str(path), "--no-audio"])
    assert (result.exit_code, result.stdout) == (2, "")
    (line,) = result.stderr.splitlines()
    assert line.startswith(f"mixlint: {path}: ") or name == "prints.zip"
    assert told in line
    assert all(one.casefold() in line.casefold() for one in works), line


@pytest.mark.parametrize("name", ["song.zip", "SONG.ZIP", "SONG.DAWPROJECT", "song", "song.bak"])
def test_a_project_in_an_archive_is_read_whatever_it_is_called(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(SONG)
    assert [one.name for one in importers.read(path).channels] == ["Part", "Main"]
    result = CliRunner().invoke(app, ["convert", str(path), "--out", str(path)])
    assert result.exit_code == 2
    other = tmp_path / "other.json"
    other.write_bytes(importers.read(path).json_text().encode())
    assert CliRunner().invoke(app, ["convert", str(other), "--out", str(path)]).exit_code == 2
    assert path.read_bytes() == SONG


@pytest.mark.parametrize("name", ["PROJECT.XML", "SONG.JSON"])
def test_suffixes_in_capitals(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(PLAIN)
    session = importers.read(path)
    if path.suffix == ".JSON":
        path.write_text(session.json_text(), encoding="utf-8")
    assert importers.discover(tmp_path) == [path]
    assert [one.name for one in importers.read(path).channels] == ["Part", "Main"]


def test_an_archive_in_a_folder_counts_where_no_session_file_does(tmp_path: Path) -> None:
    """Beside a session file an archive is taken for its copy; a damaged one is passed over."""
    (tmp_path / "torn.zip").write_bytes(b"PK\3\4")
    (tmp_path / "text.zip").write_bytes(archive(Part(b"readme.txt", b"x")))
    with pytest.raises(InputError, match="no session and no audio"):
        importers.discover(tmp_path)
    (tmp_path / "song.zip").write_bytes(SONG)
    assert importers.discover(tmp_path) == [tmp_path / "song.zip"]
    (tmp_path / "song.dawproject").write_bytes(SONG)
    assert importers.discover(tmp_path) == [tmp_path / "song.dawproject"]
