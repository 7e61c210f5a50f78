"""Kept measures that are damaged, forged, cut short, another file's or huge; and folders that others may write to."""

from __future__ import annotations

import io
import json
import os
import shutil
import tracemalloc
import zlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile

from mixlint.media import Library, Measure, cache_folder
from mixlint.media.cache_folder import cache_folder as folder_in_force
from mixlint.media.meter import measure_source
from mixlint.media.storing import fetch, keep
from mixlint.notices import notices
from mixlint.session import MediaFile, Session
from tests.media.flips import HEAD, Entry, entries, run, sealed

POSIX = pytest.mark.skipif(not hasattr(os, "geteuid"), reason="the system keeps no POSIX modes")


def test_an_entry_with_flipped_bits_is_never_believed() -> None:
    """The short form of ``python -m tests.media.flips``."""
    outcomes = run(240, 0)
    assert outcomes["flipped: measured anew"] == 120


@pytest.fixture(scope="module")
def entry(tmp_path_factory: pytest.TempPathFactory) -> Entry:
    return entries(tmp_path_factory.mktemp("kept"))[0]


def _plain(entry: Entry) -> tuple[dict[str, Any], bytes]:
    body = zlib.decompress(entry.data[HEAD:])
    size = int.from_bytes(body[:4], "little")
    return json.loads(body[4 : 4 + size]), body[4 + size :]


def _with(entry: Entry, **values: Any) -> bytes:
    plain, tables = _plain(entry)
    text = json.dumps({**plain, **values}).encode()
    return sealed(len(text).to_bytes(4, "little") + text + tables)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("frames", -1), ("frames", 10), ("frames", 10**12), ("frames", 57_600.0), ("frames", True), ("first", [0.0]),
        ("first", [0.0, float("nan")]), ("first", [0.0, 10**400]), ("last", [0.0, 1e9]), ("head_peak_db", [0.0, -500]),
        ("tail_peak_db", "loud"), ("rests", [[0.0] * 5]), ("rests", [[0.0, 0.0, 50.0, 2.0, 0.0]] * 2),
        ("used_bits", 25), ("marks", [["other", 0, 0.0, 0.0, 0.0]]), ("marks", [["click", 2, 0.0, 0.0, 0.0]]),
        ("marks", [["click", 0, 9.0, 0.0, 0.0]]), ("marks", [["click", 0]]), ("mark_counts", {"click": -1}),
        ("mark_counts", {"other": 1}), ("bad_samples", 10**9), ("rows", {"lags": 10**9}), ("rows", None),
        ("rows", {"lags": 1, "spectrum": -1, "pitches": 1}), ("name", "0-1.measure"), ("name", None),
    ],
)  # fmt: skip
def test_a_value_that_no_measure_of_the_file_has_is_not_believed(
    name: str, value: Any, entry: Entry, tmp_path: Path
) -> None:
    path = tmp_path / "entry.measure"
    path.write_bytes(_with(entry))
    assert isinstance(fetch(path, entry.header), Measure)
    path.write_bytes(_with(entry, **{name: value}))
    assert fetch(path, entry.header) is None


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -1.0, 1e30])
def test_an_energy_that_no_file_has_is_not_believed(value: float, entry: Entry, tmp_path: Path) -> None:
    plain, tables = _plain(entry)
    text = json.dumps(plain).encode()
    forged = np.float64(value).tobytes() + tables[8:]
    path = tmp_path / "entry.measure"
    path.write_bytes(sealed(len(text).to_bytes(4, "little") + text + forged))
    assert fetch(path, entry.header) is None


def test_a_small_entry_that_unpacks_to_much_takes_little_memory(entry: Entry, tmp_path: Path) -> None:
    """It took 7.1 GB and a minute in 0.1.0: 2.3 MB of zeros, packed."""
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(bytes(1 << 24)) for _ in range(32)) + packer.flush()
    path = tmp_path / "entry.measure"
    from hashlib import sha256

    path.write_bytes(b"mixlint measure\n" + sha256(packed).digest() + packed)
    tracemalloc.start()
    assert fetch(path, entry.header) is None
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 32 << 20


def test_an_entry_that_is_huge_or_no_file_is_not_read(entry: Entry, tmp_path: Path) -> None:
    path = tmp_path / "entry.measure"
    with path.open("wb") as file:
        file.truncate(50 << 30)
    assert fetch(path, entry.header) is None
    path.unlink()
    path.mkdir()
    assert fetch(path, entry.header) is None
    if hasattr(os, "mkfifo"):
        path.rmdir()
        os.mkfifo(path)
        assert fetch(path, entry.header) is None


def test_an_entry_of_another_form_is_not_unpickled(entry: Entry, tmp_path: Path) -> None:
    held = io.BytesIO()
    np.savez(held, plain=np.array([{"a": 1}], dtype=object))
    (tmp_path / "entry.measure").write_bytes(held.getvalue())
    assert fetch(tmp_path / "entry.measure", entry.header) is None
    assert fetch(tmp_path / "gone.measure", entry.header) is None


def test_the_entry_of_another_file_is_measured_anew(tmp_path: Path) -> None:
    """Somebody puts the measure of a loud file under the name of a quiet one of the same length."""
    for name, level in (("loud", 0.5), ("quiet", 0.001)):
        samples = np.random.default_rng(1).standard_normal((24_000, 2)) * level
        soundfile.write(tmp_path / f"{name}.wav", samples.clip(-1, 1), 48_000)
        made = Session(media=(MediaFile(id=name, path=f"{name}.wav"),))
        with Library(made, tmp_path, cache_dir=tmp_path / name) as library:
            library.measure(name)
    (loud,), (quiet,) = (list((tmp_path / name).glob("*.measure")) for name in ("loud", "quiet"))
    shutil.copy(loud, quiet)
    made = Session(media=(MediaFile(id="quiet", path="quiet.wav"),))
    with Library(made, tmp_path, cache_dir=tmp_path / "quiet") as library:
        found = library.measure("quiet")
    assert isinstance(found, Measure)
    assert max(found.sample_peak_db) < -40.0


def test_what_follows_from_the_tables_is_not_taken_from_an_entry(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", np.random.default_rng(2).standard_normal((48_000, 2)) * 0.1, 48_000)
    measure = measure_source(tmp_path / "a.wav")
    keep(measure, tmp_path / "entry.measure")
    again = fetch(tmp_path / "entry.measure", measure.header)
    assert again is not None
    assert again.integrated_lufs == measure.integrated_lufs
    assert again.sample_peak_db == measure.sample_peak_db
    plain, _ = _plain(Entry((tmp_path / "entry.measure").read_bytes(), measure.header))
    assert not {"header", "integrated_lufs", "sample_peak_db", "block_s"} & set(plain)


@POSIX
@pytest.mark.parametrize("mode", [0o770, 0o707, 0o777, 0o1777])
def test_a_folder_that_others_may_write_to_is_refused(
    mode: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "shared"
    folder.mkdir()
    monkeypatch.setenv("MIXLINT_CACHE", str(folder))
    assert folder_in_force() == folder
    folder.chmod(mode)
    assert folder_in_force() is None
    said = notices()[-1]
    assert str(folder) in said
    assert f"others may write to it (mode {mode:04o})" in said
    assert "MIXLINT_CACHE_SHARED=yes" in said
    monkeypatch.setenv("MIXLINT_CACHE_SHARED", "yes")
    assert folder_in_force() == folder


@POSIX
def test_a_folder_of_another_user_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path / "a" / "b"))
    monkeypatch.setattr(os, "geteuid", lambda: tmp_path.stat().st_uid + 1)
    assert folder_in_force() is None
    assert "it belongs to another user" in notices()[-1]


@POSIX
def test_a_folder_that_anybody_could_replace_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a folder that is open to all, another can be put in its place; not where it is sticky, as ``/tmp``."""
    above = tmp_path / "open"
    (above / "mine").mkdir(parents=True, mode=0o700)
    monkeypatch.setenv("MIXLINT_CACHE", str(above / "mine"))
    above.chmod(0o777)
    assert folder_in_force() is None
    assert f"everybody may write to {above}" in notices()[-1]
    above.chmod(0o1777)
    assert folder_in_force() == above / "mine"


@POSIX
def test_the_users_own_folder_is_closed_to_others(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Made for the first time, and where 0.1.0 made it with a umask of 002."""
    monkeypatch.delenv("MIXLINT_CACHE", raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert folder_in_force() == tmp_path / "mixlint"
    assert (tmp_path / "mixlint").stat().st_mode & 0o777 == 0o700
    (tmp_path / "mixlint").chmod(0o775)
    assert folder_in_force() == tmp_path / "mixlint"
    assert (tmp_path / "mixlint").stat().st_mode & 0o777 == 0o755


def test_where_no_modes_are_kept_the_folder_is_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path))
    if hasattr(os, "geteuid"):
        monkeypatch.delattr(os, "geteuid")
        tmp_path.chmod(0o777)
    assert cache_folder.cache_folder() == tmp_path
