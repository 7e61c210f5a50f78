"""Streams of a compound file are read in place as pyaaf2, an independent reader of the same layout, gives them."""

from __future__ import annotations

import random
from pathlib import Path

import aaf2.cfb
import pytest

from mixlint.errors import InputError
from mixlint.media.compound import member_name
from mixlint.media.container import CompoundContainer, open_container

SIZES = (0, 1, 63, 64, 65, 4095, 4096, 4097, 100_000)


def made(path: Path, sector_size: int) -> dict[int, bytes]:
    """A compound file of streams that were written in turns, so that none lies in one piece: entry number → bytes."""
    draw = random.Random(7)
    contents = {f"s{n}": draw.randbytes(size) for n, size in enumerate(SIZES)}
    found: dict[int, bytes] = {}
    with path.open("wb+") as file:
        compound = aaf2.cfb.CompoundFileBinary(file, "wb+", sector_size)
        streams = {name: compound.open(f"/{name}", "w") for name in contents}
        for start in range(0, max(SIZES), 5000):
            for name, data in contents.items():
                if part := data[start : start + 5000]:
                    streams[name].write(part)
        compound.close()
    with path.open("rb") as file:
        compound = aaf2.cfb.CompoundFileBinary(file, "rb")
        for name in contents:
            entry = compound.find(f"/{name}")
            found[int(entry.dir_id)] = bytes(compound.open(f"/{name}").read())
        assert sorted(map(len, found.values())) == sorted(SIZES)
    return found


@pytest.mark.parametrize("sector_size", [512, 4096])
def test_streams_are_as_another_reader_gives_them(tmp_path: Path, sector_size: int) -> None:
    path = tmp_path / "some.bin"
    draw = random.Random(8)
    for number, data in made(path, sector_size).items():
        with open_container(path) as container:
            assert isinstance(container, CompoundContainer)
            name = member_name(number, "x.wav")
            assert container.has(name)
            assert container.size(name) == len(data)
            with container.open(name) as file:
                assert file.read() == data
                for _ in range(20):
                    at = draw.randrange(len(data) + 1)
                    count = draw.randrange(9000)
                    file.seek(at)
                    assert file.read(count) == data[at : at + count]


def test_the_file_itself_is_a_member(tmp_path: Path) -> None:
    path = tmp_path / "some.bin"
    made(path, 4096)
    with open_container(path) as container:
        assert container.names() == ("some.bin",)
        assert container.read("some.bin", 1 << 20) == path.read_bytes()
        for name in ("stream 0/x.wav", "stream 9999999/x.wav", "stream 1", "x/y.wav", "../some.bin"):
            assert not container.has(name)
        with pytest.raises(InputError):
            container.open("stream 0/x.wav")


@pytest.mark.slow
def test_damage_is_an_error_and_never_hangs(tmp_path: Path) -> None:
    """Bits turned in the head, the tables and the directory, and the file cut short."""
    path = tmp_path / "some.bin"
    numbers = list(made(path, 512))
    good = path.read_bytes()
    draw = random.Random(9)
    for _ in range(400):
        data = bytearray(good)
        for _ in range(draw.choice((1, 2, 8))):
            at = draw.randrange(len(data)) if draw.random() < 0.3 else draw.randrange(8, 4096)
            data[at : at + 4] = draw.choice((draw.randbytes(4), b"\xff\xff\xff\xff", bytes(4), b"\x05\x00\x00\x00"))
        if draw.random() < 0.2:
            del data[draw.randrange(len(data)) :]
        path.write_bytes(data)
        try:
            with open_container(path) as container:
                for number in numbers:
                    name = member_name(number, "x.wav")
                    if container.has(name):
                        with container.open(name) as file:
                            file.read()
        except InputError:
            pass
