"""Files that are not whole are told, and whole ones are not.

The damage is done here to files that the decoding library wrote; the checksums are those of RFC 3533 (pages of Ogg),
RFC 9639 (samples of FLAC) and ZIP, as the library and zipfile of Python wrote them.
"""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.errors import BrokenFile
from mixlint.media import Library
from mixlint.media.whole import check_bytes, decode
from mixlint.session import MediaFile, Session, Unknown

RATE = 48_000
NOISE = (np.random.default_rng(3).standard_normal((2 * RATE, 2)) * 0.05).clip(-1, 1)


def stored(form: str, subtype: str | None = None) -> bytes:
    file = io.BytesIO()
    soundfile.write(file, NOISE, RATE, format=form, subtype=subtype)
    return file.getvalue()


OGG = stored("OGG", "VORBIS")
FLAC = stored("FLAC", "PCM_24")


def zeroed(data: bytes, count: int = 3000) -> bytes:
    middle = len(data) // 2
    return data[:middle] + bytes(count) + data[middle + count :]


@pytest.mark.parametrize(
    "data",
    [OGG, OGG + OGG, OGG + b"TAG" + bytes(125), FLAC, FLAC + b"TAG" + bytes(125), stored("FLAC", "PCM_S8")],
    ids=["ogg", "two streams", "ogg and a tag", "flac", "flac and a tag", "flac of 8 bit"],
)
def test_whole_files_are_fine(data: bytes) -> None:
    decode(io.BytesIO(data), "take")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (zeroed(OGG), "checksum of the page|no page"),
        (OGG[: len(OGG) // 2], "cut short"),
        (OGG[: len(OGG) // 2] + bytes([OGG[len(OGG) // 2] ^ 1]) + OGG[len(OGG) // 2 + 1 :], "checksum of the page"),
        (OGG[: OGG.find(b"OggS", 9000)] + OGG[OGG.find(b"OggS", 14000) :], "pages are missing"),
        (zeroed(FLAC), "decoding stops"),
        (FLAC[:30] + bytes([FLAC[30] ^ 1]) + FLAC[31:], "its own checksum"),
        (stored("MP3")[:-9000], "only .* can be decoded"),
    ],
    ids=["zeroed ogg", "cut ogg", "one bit of ogg", "lost pages", "zeroed flac", "another sum", "cut mp3"],
)
def test_damage_is_told(data: bytes, says: str) -> None:
    with pytest.raises(BrokenFile, match=says):
        decode(io.BytesIO(data), "take")


@pytest.mark.parametrize("method", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_a_member_with_a_wrong_checksum_is_damaged_for_whoever_asks(method: int, tmp_path: Path) -> None:
    """The last bytes of the member stand behind the samples, where the decoder never looks."""
    wav = stored("WAV", "PCM_16") + b"LIST" + (400).to_bytes(4, "little") + bytes(400)
    path = tmp_path / "song.zip"
    with zipfile.ZipFile(path, "w", method) as archive:
        archive.writestr("good.wav", wav)
        archive.writestr("take.wav", wav)
    data = bytearray(path.read_bytes())
    at = data.rfind(b"PK\x01\x02")  # the last entry of the directory: its checksum stands 16 bytes on
    data[at + 16] ^= 1
    path.write_bytes(data)
    made = Session(media=tuple(MediaFile(id=n, path=f"{n}.wav", place="inside") for n in ("good", "take")))
    for measured in (True, False):
        with Library(made, path) as library:
            assert library.whole("good", measured=measured) is True
            assert library.whole("take", measured=measured) is False
            assert "checksum" in str(library.fault("take"))


def test_a_file_that_claims_half_a_day_is_left_open_with_the_limit(tmp_path: Path) -> None:
    """A hole on the disk, 13 hours of 8 kHz mono; nothing of it is read."""
    frames = 13 * 3600 * 8000
    head = b"RIFF" + (36 + frames).to_bytes(4, "little") + b"WAVEfmt " + (16).to_bytes(4, "little")
    head += b"\x01\0\x01\0" + (8000).to_bytes(4, "little") * 2 + b"\x01\0\x08\0data" + frames.to_bytes(4, "little")
    with open(tmp_path / "long.wav", "wb") as file:
        file.write(head)
        file.truncate(len(head) + frames)
    with Library(Session(media=(MediaFile(id="long", path="long.wav"),)), tmp_path) as library:
        found = library.whole("long", measured=True)
        assert isinstance(found, Unknown)
        assert "13.0 hours, longer than the 4" in found.unknown
        assert library.fault("long") is None
        assert isinstance(library.measure("long"), Unknown)


def test_an_empty_file_has_no_pages() -> None:
    check_bytes(io.BytesIO(b""), "nothing")
