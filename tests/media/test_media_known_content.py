"""A file that did not change is not hashed again, and one that did is."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.media import Library, known_content
from mixlint.media.known_content import keep_content
from mixlint.session import MediaFile, Session

DIGEST = "sha256:" + "0" * 64


@pytest.fixture
def settled(monkeypatch: pytest.MonkeyPatch) -> None:
    """Files count as settled at once; no test waits for that."""
    monkeypatch.setattr(known_content, "FRESH_S", -1.0)


def file(folder: Path, text: bytes = b"abc") -> Path:
    path = folder / "a.wav"
    path.write_bytes(text)
    return path


@pytest.mark.usefixtures("settled")
def test_what_was_kept_is_known_until_the_file_changes(tmp_path: Path) -> None:
    """Also where its length stays and its time of change is put back: the file system's own time tells."""
    path, shelf = file(tmp_path), tmp_path / "cache"
    assert known_content.known_content(shelf, path) is None
    keep_content(shelf, path, DIGEST)
    assert known_content.known_content(shelf, path) == DIGEST
    at = path.stat()
    path.write_bytes(b"abd")
    os.utime(path, ns=(at.st_atime_ns, at.st_mtime_ns))
    assert known_content.known_content(shelf, path) is None


def test_a_file_that_changed_only_now_is_not_known(tmp_path: Path) -> None:
    path, shelf = file(tmp_path), tmp_path / "cache"
    keep_content(shelf, path, DIGEST)
    assert not shelf.exists()


@pytest.mark.usefixtures("settled")
@pytest.mark.parametrize("text", [b"", b"sha256:0", b"\xff" * 71, b"sha256:" + b"0" * 64 + b"\n"])
def test_what_is_no_hash_is_not_believed(tmp_path: Path, text: bytes) -> None:
    path, shelf = file(tmp_path), tmp_path / "cache"
    keep_content(shelf, path, DIGEST)
    next(shelf.iterdir()).write_bytes(text)
    assert known_content.known_content(shelf, path) is None


@pytest.mark.usefixtures("settled")
def test_a_library_hashes_an_unchanged_file_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second library finds measure and hash; a damaged hash costs a pass over the file and nothing else."""
    soundfile.write(tmp_path / "a.wav", np.zeros(4800), 48_000)
    session = Session(media=(MediaFile(id="a", path="a.wav"),))
    shelf = tmp_path / "cache"
    hashed: list[object] = []
    real = __import__("mixlint.media.files", fromlist=["digest"]).digest
    monkeypatch.setattr("mixlint.media.files.digest", lambda one: hashed.append(one) or real(one))
    for times in (1, 1):
        with Library(session, tmp_path, cache_dir=shelf) as library:
            library.measure("a")
        assert len(hashed) == times
    next(shelf.glob("*.known")).write_bytes(b"?")
    with Library(session, tmp_path, cache_dir=shelf) as library:
        library.measure("a")
    assert len(hashed) == 2
