"""Containers: names, limits, and the seekable window on members of an archive."""

from __future__ import annotations

import io
import random
import zipfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mixlint.errors import BrokenFile, InputError, RefusedFile
from mixlint.media import open_container
from mixlint.media.container import Limits
from mixlint.media.window import REMEMBERED, MemberReader
from mixlint.media.zip_directory import clean_name, is_audio_name, is_junk
from tests.importers.hostile import Part, archive
from tests.links import link


def packed(path: Path, members: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> Path:
    with zipfile.ZipFile(path, "w", method) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return path


def test_members_are_listed_sized_and_read(tmp_path: Path) -> None:
    path = packed(tmp_path / "a.zip", {"project.xml": b"<x/>", "audio/": b"", "audio\\a.wav": b"abc", "äö/東.txt": b""})
    with open_container(path) as container:
        assert container.names() == ("project.xml", "audio/a.wav", "äö/東.txt")
        assert (container.size("audio/a.wav"), container.read("audio/a.wav", 10)) == (3, b"abc")
        assert container.has("project.xml")
        assert not container.has("gone")
        with pytest.raises(InputError):
            container.open("gone")
        with pytest.raises(RefusedFile, match="more than the 2"):
            container.read("audio/a.wav", 2)


@pytest.mark.parametrize(
    ("name", "clean"),
    [
        ("a/b.wav", "a/b.wav"), ("./a//b.wav", "a/b.wav"), ("a\\b.wav", "a/b.wav"), ("..a/b..", "..a/b.."),
        ("../a", None), ("a/../b", None), ("..\\a", None), ("/a", None), ("\\a", None), ("C:\\a", None), ("c:a", None),
        ("a\0b", None), ("", None), (".", None), ("//host/a", None), ("..", None),
    ],
)  # fmt: skip
def test_names_are_cleaned_or_refused(name: str, clean: str | None) -> None:
    assert clean_name(name) == clean


def test_junk_and_audio_are_told_by_name() -> None:
    assert all(map(is_junk, ("__MACOSX/x", "a/__MACOSX/b", ".DS_Store", "a/._b.wav", "Thumbs.db", "a/desktop.ini")))
    assert not any(map(is_junk, ("project.xml", "a/MACOSX.wav", "_x.wav", "DS_Store.wav")))
    assert all(map(is_audio_name, ("a.wav", "B.FLAC", "c.aif")))
    assert not any(map(is_audio_name, ("wav", "a.xml", "a.wav.txt")))


@pytest.mark.parametrize(
    ("limits", "says"),
    [
        (Limits(members=2), "lists 3 members"),
        (Limits(member=99), "unpacks to more than 99"),
        (Limits(total=250), "together unpack to more than 250"),
        (Limits(archive=50), "larger than 50"),
        (Limits(directory=40), "directory is larger"),
        (Limits(ratio=3, ratio_from=50), "grows more than 3 times"),
    ],
)
def test_every_limit_holds(tmp_path: Path, limits: Limits, says: str) -> None:
    path = packed(tmp_path / "a.zip", dict.fromkeys("abc", b"x" * 100))
    with pytest.raises(RefusedFile, match=says):
        open_container(path, limits)


def test_silent_audio_may_pack_well(tmp_path: Path) -> None:
    # Silence shrinks about a thousandfold; that is music at rest, not an attack.
    path = packed(tmp_path / "a.zip", {"silence.wav": bytes(4_000_000)})
    with open_container(path) as container:
        assert container.read("silence.wav", 5_000_000) == bytes(4_000_000)
    with pytest.raises(RefusedFile, match="grows"):
        open_container(packed(tmp_path / "b.zip", {"zeros.bin": bytes(4_000_000)}))


def test_large_archives_and_comments_are_read(tmp_path: Path) -> None:
    path = tmp_path / "a.zip"
    with zipfile.ZipFile(path, "w") as archive:
        with archive.open("big.bin", "w", force_zip64=True) as member:
            member.write(b"x" * 1000)
        archive.comment = b"a comment with PK\5\6 in it" + b"." * 40
    path.write_bytes(b"junk before" + path.read_bytes())
    with open_container(path.rename(tmp_path / "a.dawproject")) as container:
        assert container.read("big.bin", 1000) == b"x" * 1000
        assert "before the archive" in container.remarks[0]


def test_members_with_their_sizes_behind_them_are_read(tmp_path: Path) -> None:
    class Stream(io.BytesIO):
        def seekable(self) -> bool:
            return False

        def seek(self, *_: int) -> int:
            raise io.UnsupportedOperation

        def tell(self) -> int:
            raise io.UnsupportedOperation

    stream = Stream()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("a", b"first" * 100)
        archive.writestr("b", b"second" * 100)
    path = tmp_path / "a.zip"
    path.write_bytes(stream.getvalue())
    with open_container(path) as container:
        assert container.read("b", 1000) == b"second" * 100


DATA = random.Random(5).randbytes(300_000) + bytes(2_500_000) + b"end of it"


@pytest.fixture(scope="module")
def archives(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    folder = tmp_path_factory.mktemp("archives")
    return [
        packed(folder / f"{method}.zip", {"first.txt": b"x", "data.wav": DATA}, method)
        for method in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
    ]


_MOVES = st.lists(
    st.one_of(
        st.tuples(st.just("read"), st.integers(0, 400_000)),
        st.tuples(st.just("set"), st.integers(0, len(DATA) + 10)),
        st.tuples(st.just("end"), st.integers(-len(DATA), 5)),
        st.tuples(st.just("step"), st.integers(-70_000, 70_000)),
    ),
    max_size=12,
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(moves=_MOVES)
def test_a_window_behaves_like_a_file(archives: list[Path], moves: list[tuple[str, int]]) -> None:
    for path in archives:
        with open_container(path) as container, container.open("data.wav") as window:
            file = io.BytesIO(DATA)
            for move, number in moves:
                if move == "read":
                    assert window.read(number) == file.read(number)
                elif move == "set":
                    assert window.seek(number) == file.seek(number)
                elif move == "end":
                    assert window.seek(number, io.SEEK_END) == file.seek(number, io.SEEK_END)
                else:
                    number = max(number, -file.tell())
                    assert window.seek(number, io.SEEK_CUR) == file.seek(number, io.SEEK_CUR)
                assert window.tell() == file.tell()


def test_the_length_is_answered_without_unpacking(archives: list[Path]) -> None:
    with open_container(archives[1]) as container, container.open("data.wav") as window:
        assert isinstance(window, MemberReader)
        assert window.seek(0, io.SEEK_END) == len(DATA)
        assert window._made == 0


def test_small_backward_seeks_are_served_from_what_is_remembered(archives: list[Path]) -> None:
    with open_container(archives[1]) as container, container.open("data.wav") as window:
        assert isinstance(window, MemberReader)
        window.read(2_000_000)
        made = window._made
        window.seek(-REMEMBERED // 2, io.SEEK_CUR)
        assert window.read(1000) == DATA[2_000_000 - REMEMBERED // 2 :][:1000]
        assert window._made == made  # nothing was unpacked again
        assert len(window._recent) < 2 * REMEMBERED


def test_a_fault_is_raised_or_held(tmp_path: Path, archives: list[Path]) -> None:
    data = bytearray(archives[0].read_bytes())
    data[1000] ^= 1  # one bit of the stored member
    path = tmp_path / "bad.zip"
    path.write_bytes(data)
    with open_container(path) as container:
        with container.open("data.wav") as window, pytest.raises(BrokenFile, match="checksum"):
            window.read(len(DATA))
        with container.open("data.wav", hold=True) as held:
            assert isinstance(held, MemberReader)
            assert held.read(len(DATA)) == b""
            assert isinstance(held.failure, BrokenFile)


@pytest.mark.parametrize(("size", "says"), [(40, "longer than the size"), (4000, "ends before the size")])
def test_a_member_that_lies_about_its_size_is_broken(tmp_path: Path, size: int, says: str) -> None:
    path = tmp_path / "lying.zip"
    path.write_bytes(archive(Part(b"a.bin", bytes(range(100)), size=size)))
    with open_container(path) as container, pytest.raises(BrokenFile, match=says):
        container.read("a.bin", 10_000)


@pytest.mark.parametrize(("format_", "subtype"), [("WAV", "PCM_24"), ("FLAC", "PCM_16"), ("AIFF", "PCM_16")])
def test_audio_is_read_inside_the_archive(tmp_path: Path, format_: str, subtype: str) -> None:
    import numpy as np
    import soundfile

    samples = np.random.default_rng(1).uniform(-0.5, 0.5, (50_000, 2))
    plain = io.BytesIO()
    soundfile.write(plain, samples, 48_000, format=format_, subtype=subtype)
    expected, _ = soundfile.read(io.BytesIO(plain.getvalue()))
    for method in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        path = packed(tmp_path / f"{method}.zip", {"a.bin": plain.getvalue()}, method)
        with open_container(path) as container, container.open("a.bin", hold=True) as window:
            got, rate = soundfile.read(window)
        assert rate == 48_000
        assert np.array_equal(got, expected)


def test_a_folder_is_a_container_that_nothing_leads_out_of(tmp_path: Path) -> None:
    inside = tmp_path / "session"
    (inside / "audio").mkdir(parents=True)
    (inside / "project.xml").write_bytes(b"<x/>")
    (inside / "audio" / "a.wav").write_bytes(b"abc")
    (inside / ".DS_Store").write_bytes(b"")
    secret = tmp_path / "secret.txt"
    secret.write_bytes(b"secret")
    link(inside / "link.txt", secret)
    link(inside / "fine.txt", inside / "project.xml")
    with open_container(inside) as container:
        assert container.names() == ("fine.txt", "project.xml", "audio/a.wav")
        assert container.read("audio\\a.wav", 9) == b"abc"
        for name in ("../secret.txt", str(secret), "audio/../../secret.txt", "link.txt"):
            assert not container.has(name)
            with pytest.raises(RefusedFile, match="leads out"):
                container.open(name)
        with pytest.raises(InputError):
            container.size("gone.wav")


def test_a_plain_file_sees_what_lies_beside_it(tmp_path: Path) -> None:
    (tmp_path / "song.json").write_bytes(b"{}")
    (tmp_path / "a.wav").write_bytes(b"abc")
    with open_container(tmp_path / "song.json") as container:
        assert container.names() == ("song.json",)
        assert container.read("song.json", 9) == b"{}"
        assert container.has("a.wav")
        assert not container.has("../" + tmp_path.name + "/a.wav")


def test_a_folder_of_too_many_files_is_refused(tmp_path: Path) -> None:
    for n in range(5):
        (tmp_path / str(n)).write_bytes(b"")
    with (
        open_container(tmp_path, Limits(members=3)) as container,
        pytest.raises(RefusedFile, match="more than 3 files"),
    ):
        container.names()


def test_what_is_missing_is_said_plainly(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file"):
        open_container(tmp_path / "gone.zip")
