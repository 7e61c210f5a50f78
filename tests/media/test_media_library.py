"""A session's audio: found, measured once, kept, and refused with a reason."""

from __future__ import annotations

import os
import pickle
import shutil
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, fields
from pathlib import Path
from typing import BinaryIO, Literal

import numpy as np
import pytest
import soundfile

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.media import Library, Measure
from mixlint.media import library as library_module
from mixlint.media.container import Container
from mixlint.media.measure import VERSION
from mixlint.media.places import Place
from mixlint.media.storing import fetch, keep, shelf, tidy
from mixlint.media.workers import measure_file, measure_in_workers
from mixlint.session import MediaFile, Session, Unknown

RATE = 48_000


def write(path: Path, seconds: float = 1.0, level: float = 0.1, seed: int = 0) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    noise = (np.random.default_rng(seed).standard_normal((round(seconds * RATE), 2)) * level).clip(-1, 1)
    soundfile.write(path, noise, RATE, subtype="PCM_24")
    return path


def session(place: Literal["inside", "beside", "outside"] = "beside", **paths: str) -> Session:
    return Session(media=tuple(MediaFile(id=key, path=path, place=place) for key, path in paths.items()))


def same(one: Measure | Unknown, other: Measure | Unknown) -> bool:
    assert isinstance(one, Measure)
    assert isinstance(other, Measure)
    for field in fields(Measure):
        a, b = getattr(one, field.name), getattr(other, field.name)
        if isinstance(a, np.ndarray):
            if not (np.array_equal(a, b) and a.dtype == b.dtype):
                return False
        elif a != b:
            return False
    return True


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The members that were measured, in order."""
    seen: list[str] = []

    def counting(place: Place, container: Container | None = None) -> Measure:
        seen.append(place.member)
        return measure_file(place, container)

    monkeypatch.setattr(library_module, "measure_file", counting)
    return seen


def test_beside_a_session_inside_an_archive_and_in_a_folder_is_the_same(tmp_path: Path) -> None:
    write(tmp_path / "audio/kick.wav")
    (tmp_path / "song.json").write_text("{}")
    for name, method in (("stored.zip", zipfile.ZIP_STORED), ("packed.zip", zipfile.ZIP_DEFLATED)):
        with zipfile.ZipFile(tmp_path / name, "w", method) as file:
            file.write(tmp_path / "audio/kick.wav", "audio/kick.wav")
    direct = measure_file(Place(tmp_path, "audio/kick.wav", "kick"))
    cases = [
        (session("beside", k="audio/kick.wav"), tmp_path / "song.json"),
        (session("beside", k="audio/kick.wav"), tmp_path),
        (session("beside", k="audio/kick.wav"), tmp_path / "packed.zip"),
        (session("inside", k="audio/kick.wav"), tmp_path / "stored.zip"),
        (session("inside", k="audio/kick.wav"), tmp_path / "packed.zip"),
        (session("inside", k="audio/kick.wav"), tmp_path),
    ]
    for made, path in cases:
        with Library(made, path) as library:
            assert library.present("k") is True
            assert same(library.measure("k"), direct)
            header = library.header("k")
            assert not isinstance(header, Unknown)
            assert (header.legs, header.sample_rate_hz, header.frames, header.bit_depth) == (2, RATE, RATE, 24)


@pytest.mark.slow
@pytest.mark.parametrize("form", ["FLAC", "OGG", "AIFF", "RF64"])
def test_other_forms_out_of_a_packed_archive(form: str, tmp_path: Path) -> None:
    noise = np.random.default_rng(0).standard_normal((RATE * 3, 2)) * 0.1
    soundfile.write(tmp_path / "a.bin", noise, RATE, format=form)
    with zipfile.ZipFile(tmp_path / "song.zip", "w", zipfile.ZIP_DEFLATED) as file:
        file.write(tmp_path / "a.bin", "a.bin")
    with Library(session("inside", a="a.bin"), tmp_path / "song.zip") as library:
        assert same(library.measure("a"), measure_file(Place(tmp_path, "a.bin", "a")))


def test_missing_outside_and_unlisted_files_are_unknown_with_a_reason(tmp_path: Path) -> None:
    write(tmp_path / "session/here.wav")
    write(tmp_path / "else.wav")
    made = Session(
        media=(
            MediaFile(id="gone", path="gone.wav"),
            MediaFile(id="out", path=str(tmp_path / "else.wav"), place="outside"),
            MediaFile(id="climbs", path="../else.wav"),
            MediaFile(id="blank", path=""),
        )
    )
    library = Library(made, tmp_path / "session")
    assert library.present("gone") is False
    for one, words in (
        ("gone", "is not there"), ("out", "lies outside"), ("climbs", "lies outside"), ("blank", "no path"),
        ("what", "lists no audio file 'what'"),
    ):  # fmt: skip
        for ask in (library.measure, library.header, library.digest):
            answer = ask(one)
            assert isinstance(answer, Unknown)
            assert words in answer.unknown
        assert isinstance(library.excerpt(one, 0.0, 0.1), Unknown)
        assert library.fault(one) is None
    assert isinstance(library.present("out"), Unknown)
    allowed = Library(made, tmp_path / "session", allow_outside=True)
    assert isinstance(allowed.measure("out"), Measure)
    assert isinstance(allowed.measure("climbs"), Measure)


def test_a_damaged_file_is_unknown_and_its_error_is_kept(tmp_path: Path) -> None:
    (tmp_path / "bad.wav").write_bytes(b"RIFF\x00\x00")
    (tmp_path / "odd.wav").write_text("not audio")
    data = write(tmp_path / "whole.flac", 3.0).read_bytes()
    (tmp_path / "cut.flac").write_bytes(data[: len(data) // 2])
    library = Library(session(bad="bad.wav", odd="odd.wav", cut="cut.flac", good="whole.flac"), tmp_path)
    library.measure_all()
    for one in ("bad", "odd", "cut"):
        answer = library.measure(one)
        assert isinstance(answer, Unknown)
        fault = library.fault(one)
        assert isinstance(fault, BrokenFile)
        assert fault.what == answer.unknown
        assert one in fault.where
        assert library.present(one) is True
    assert isinstance(library.measure("good"), Measure)
    assert library.fault("good") is None


def test_a_damaged_member_is_unknown(tmp_path: Path) -> None:
    write(tmp_path / "a.wav", 2.0)
    with zipfile.ZipFile(tmp_path / "song.zip", "w", zipfile.ZIP_DEFLATED) as file:
        file.write(tmp_path / "a.wav", "a.wav")
    data = bytearray((tmp_path / "song.zip").read_bytes())
    data[200_000] ^= 0xFF
    (tmp_path / "song.zip").write_bytes(bytes(data))
    library = Library(session("inside", a="a.wav"), tmp_path / "song.zip")
    assert isinstance(library.measure("a"), Unknown)
    assert isinstance(library.fault("a"), BrokenFile)


def test_a_file_is_measured_once_also_under_other_names(tmp_path: Path, counted: list[str]) -> None:
    write(tmp_path / "a.wav")
    shutil.copy(tmp_path / "a.wav", tmp_path / "copy.wav")
    write(tmp_path / "same size.wav", seed=1)
    library = Library(
        session(a="a.wav", again="./a.wav", shouted="A.WAV", copy="copy.wav", other="same size.wav"), tmp_path
    )
    library.measure_all()
    assert counted == ["a.wav", "same size.wav"]
    for one in ("again", "shouted", "copy"):
        assert library.measure(one) is library.measure("a")
        assert library.digest(one) == library.digest("a")
    assert not same(library.measure("other"), library.measure("a"))
    assert "A.WAV" in library.note("shouted")
    assert library.note("a") == ""
    library.measure("a")
    assert len(counted) == 2


def test_the_digest_is_that_of_the_standard_library(tmp_path: Path) -> None:
    import hashlib

    write(tmp_path / "a.wav", 10.0)
    expected = hashlib.sha256((tmp_path / "a.wav").read_bytes()).hexdigest()
    assert Library(session(a="a.wav"), tmp_path).digest("a") == f"sha256:{expected}"


def test_more_audio_than_allowed_is_left_unmeasured(tmp_path: Path, counted: list[str]) -> None:
    for name in "abc":
        write(tmp_path / f"{name}.wav", 2.0, seed=ord(name))
    library = Library(session(a="a.wav", b="b.wav", c="c.wav"), tmp_path, max_minutes=4.5 / 60.0)
    library.measure_all()
    assert counted == ["a.wav", "b.wav"]
    answer = library.measure("c")
    assert isinstance(answer, Unknown)
    assert "more than the 0.075 minutes" in answer.unknown
    assert isinstance(library.measure("a"), Measure)


def test_measures_are_kept_by_content_between_runs(tmp_path: Path, counted: list[str]) -> None:
    write(tmp_path / "a.wav", 1.23)
    cache = tmp_path / "kept" / "measures"
    first = Library(session(a="a.wav"), tmp_path, cache_dir=cache).measure("a")
    (tmp_path / "a.wav").rename(tmp_path / "renamed.wav")
    second = Library(session(a="renamed.wav"), tmp_path, cache_dir=cache).measure("a")
    assert counted == ["a.wav"]
    assert same(first, second)
    (entry,) = cache.iterdir()
    assert entry.name.endswith(f"-{VERSION}.measure")
    entry.write_bytes(entry.read_bytes()[:100])
    third = Library(session(a="renamed.wav"), tmp_path, cache_dir=cache).measure("a")
    assert counted == ["a.wav", "renamed.wav"]
    assert same(first, third)
    assert isinstance(first, Measure)
    assert same(first, fetch(entry, first.header))  # type: ignore[arg-type]


@pytest.mark.parametrize("place", ["file/measures", "full"])
def test_a_cache_that_cannot_be_written_costs_nothing_but_time(place: str, tmp_path: Path, counted: list[str]) -> None:
    """A file where the folder should be; a folder that takes no file (the name of every entry is a folder's)."""
    write(tmp_path / "a.wav", 1.0)
    write(tmp_path / "b.wav", 2.0)
    (tmp_path / "file").write_text("")
    cache = tmp_path / place
    library = Library(session(a="a.wav", b="b.wav"), tmp_path, cache_dir=cache)
    if place == "full":
        for media_id in ("a", "b"):
            shelf(cache, str(library.digest(media_id))).mkdir(parents=True)
    with library:
        library.measure_all()
        assert isinstance(library.measure("a"), Measure)
        assert isinstance(library.measure("b"), Measure)
    assert counted == ["a.wav", "b.wav"]
    assert not list(tmp_path.rglob("*.part"))


def test_a_cache_stays_within_its_bound(tmp_path: Path) -> None:
    """The last used stay; what is not a measure is never touched."""
    cache = tmp_path / "cache"
    cache.mkdir()
    names = [f"{number:064x}-1.{form}" for number, form in enumerate(("measure", "measure", "npz", "known", "npz"))]
    for age, name in enumerate(names):
        (cache / name).write_bytes(b"x" * 100)
        os.utime(cache / name, (1e9 - age, 1e9 - age))
    (cache / "mine.npz").write_bytes(b"x" * 1000)
    tidy(cache, 300)
    assert sorted(one.name for one in cache.iterdir()) == [*names[:3], "mine.npz"]
    tidy(cache, 300, most_files=2)
    assert sorted(one.name for one in cache.iterdir()) == [*names[:2], "mine.npz"]
    tidy(cache / "not there", 0)


def test_a_measure_that_was_used_is_the_last_to_go(tmp_path: Path) -> None:
    write(tmp_path / "a.wav")
    cache = tmp_path / "cache"
    with Library(session(a="a.wav"), tmp_path, cache_dir=cache) as library:
        library.measure_all()
        header = library.header("a")
    (entry,) = cache.iterdir()
    os.utime(entry, (1e9, 1e9))
    assert not isinstance(header, Unknown)
    assert isinstance(fetch(entry, header), Measure)
    assert entry.stat().st_mtime > 1e9


def test_without_a_cache_folder_nothing_is_written(tmp_path: Path) -> None:
    write(tmp_path / "a.wav")
    before = sorted(tmp_path.rglob("*"))
    Library(session(a="a.wav"), tmp_path).measure_all()
    assert sorted(tmp_path.rglob("*")) == before


def test_every_kind_of_measure_survives_being_kept(tmp_path: Path) -> None:
    for name, samples in {
        "mono": np.zeros(100),
        "empty": np.zeros((0, 2)),
        "clipped": (np.sin(np.arange(RATE) / 20) * 2).clip(-1, 1),
        "many": np.random.default_rng(0).standard_normal((RATE, 6)) * 0.1,
    }.items():
        soundfile.write(tmp_path / "x.wav", samples, RATE, subtype="FLOAT")
        measure = measure_file(Place(tmp_path, "x.wav", name))
        keep(measure, tmp_path / "x.measure")
        assert same(measure, fetch(tmp_path / "x.measure", measure.header)), name  # type: ignore[arg-type]
        assert same(measure, pickle.loads(pickle.dumps(measure))), name


def test_energy_of_a_file_and_of_a_stretch(tmp_path: Path) -> None:
    quiet, loud = np.full((RATE, 2), 0.0), np.random.default_rng(0).standard_normal((RATE, 2)) * 0.1
    soundfile.write(tmp_path / "a.wav", np.concatenate([quiet, loud]), RATE, subtype="PCM_24")
    library = Library(session(a="a.wav"), tmp_path)
    measure = library.measure("a")
    assert isinstance(measure, Measure)
    assert measure.energy.shape == (2, 20)
    loudly = measure.energy[:, 10:].mean(axis=1)
    np.testing.assert_allclose(measure.energy_at([0.0, 0.9])[:, 0], 0.0, atol=1e-12)
    np.testing.assert_allclose(measure.energy_at([1.0, 2.0])[:, 0], loudly, rtol=1e-9)
    np.testing.assert_allclose(measure.energy_at([1.0, 3.0])[:, 0], loudly / 2, rtol=1e-9)


def test_an_excerpt_by_seconds(tmp_path: Path) -> None:
    write(tmp_path / "a.wav")
    whole, _ = soundfile.read(tmp_path / "a.wav", dtype="float32")
    library = Library(session(a="a.wav"), tmp_path)
    got = library.excerpt("a", 0.25, 0.01)
    assert np.array_equal(got, whole[12_000:12_480].T)  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class Deadly(Place):
    """A place whose reading ends the process, as a fault in C code would."""

    @contextmanager
    def opened(self, container: Container | None = None) -> Iterator[BinaryIO]:
        os._exit(17)
        yield


@pytest.mark.slow
def test_a_dying_worker_names_its_file_and_loses_no_other(tmp_path: Path) -> None:
    names = ["0.wav", "1.wav"]
    for number, name in enumerate(names):
        write(tmp_path / name, 0.2, seed=number)
    places = [Place(tmp_path, name, name) for name in names]
    places.insert(1, Deadly(tmp_path, "deadly.wav", "deadly.wav"))
    (tmp_path / "bad.wav").write_text("no audio")
    places.append(Place(tmp_path, "bad.wav", "bad.wav"))
    results = dict(measure_in_workers(places, 2))
    assert len(results) == 4
    death = results.pop(places[1])
    assert isinstance(death, BrokenFile)
    assert str(death).startswith("deadly.wav: the decoder died while reading it")
    refusal = results.pop(places[-1])
    assert isinstance(refusal, BrokenFile)
    assert (refusal.where, bool(refusal.do)) == ("bad.wav", True)
    for place, result in results.items():
        assert same(result, measure_file(place))  # type: ignore[arg-type]


@pytest.mark.slow
def test_workers_give_the_same_measures(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """However short the audio: workers are started for it."""
    monkeypatch.setattr("mixlint.media.library.WORTH_WORKERS_S", 0.0)
    write(tmp_path / "a.wav")
    write(tmp_path / "b.wav", 0.5)
    with zipfile.ZipFile(tmp_path / "song.zip", "w") as file:
        for name in ("a.wav", "b.wav"):
            file.write(tmp_path / name, name)
    made = session("inside", a="a.wav", b="b.wav", gone="c.wav")
    ready: list[str] = []
    apart = Library(made, tmp_path / "song.zip", workers=1)
    apart.measure_all(progress=ready.append)
    here = Library(made, tmp_path / "song.zip")
    assert sorted(ready) == ["a", "b", "gone"]
    assert same(apart.measure("a"), here.measure("a"))
    assert same(apart.measure("b"), here.measure("b"))
    assert isinstance(apart.measure("gone"), Unknown)


def test_a_header_that_claims_too_much_is_refused_through_the_library(tmp_path: Path) -> None:
    data = bytearray(write(tmp_path / "a.flac", 0.2).read_bytes())
    data[21] |= 0x0F
    data[22:26] = b"\xff\xff\xff\xff"
    (tmp_path / "a.flac").write_bytes(bytes(data))
    library = Library(session(a="a.flac"), tmp_path)
    assert isinstance(library.measure("a"), Unknown)
    assert isinstance(library.fault("a"), RefusedFile)


@pytest.mark.skipif("MIXLINT_SAMPLES" not in os.environ, reason="MIXLINT_SAMPLES names no folder of real sessions")
def test_audio_inside_real_sessions_is_measured() -> None:
    """Every audio member of every archive in the folder is read whole, in place."""
    folder = Path(os.environ["MIXLINT_SAMPLES"])
    measured = 0
    for path in sorted(folder.glob("*.dawproject")):
        with zipfile.ZipFile(path) as file:
            names = [name for name in file.namelist() if name.lower().endswith((".wav", ".flac", ".aiff", ".ogg"))]
        library = Library(session("inside", **{f"m{place}": name for place, name in enumerate(names)}), path)
        for one in library.ids:
            measure = library.measure(one)
            assert isinstance(measure, Measure), measure
            assert measure.frames == measure.header.frames > 0
            measured += 1
    assert measured > 0
