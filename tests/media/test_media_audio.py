"""Audio files are read in blocks, and what a header claims is checked against what is there."""

from __future__ import annotations

import io
import struct
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.errors import BrokenFile, InputError, RefusedFile
from mixlint.media.audio import AudioFile, read_header
from mixlint.media.guard import Guard
from mixlint.session import Unknown

RATE = 48_000

# Form, subtype, what the form is called, word length or None, floating point, lossy, rounding step.
FORMS = [
    ("WAV", "PCM_U8", "WAV", 8, False, False, 2.0**-7),
    ("WAV", "PCM_16", "WAV", 16, False, False, 2.0**-15),
    ("WAV", "PCM_24", "WAV", 24, False, False, 2.0**-23),
    ("WAV", "PCM_32", "WAV", 32, False, False, 2.0**-23),
    ("WAV", "FLOAT", "WAV", 32, True, False, 0.0),
    ("WAV", "DOUBLE", "WAV", 64, True, False, 0.0),
    ("WAVEX", "PCM_24", "WAV", 24, False, False, 2.0**-23),
    ("RF64", "PCM_24", "RF64", 24, False, False, 2.0**-23),
    ("FLAC", "PCM_16", "FLAC", 16, False, False, 2.0**-15),
    ("FLAC", "PCM_24", "FLAC", 24, False, False, 2.0**-23),
    ("AIFF", "PCM_16", "AIFF", 16, False, False, 2.0**-15),
    ("AIFF", "PCM_24", "AIFF", 24, False, False, 2.0**-23),
    ("AIFF", "FLOAT", "AIFF", 32, True, False, 0.0),
    ("CAF", "PCM_24", "CAF", 24, False, False, 2.0**-23),
    ("W64", "PCM_24", "W64", 24, False, False, 2.0**-23),
    ("AU", "PCM_24", "AU", 24, False, False, 2.0**-23),
    ("OGG", "VORBIS", "Ogg", None, False, True, None),
    ("OGG", "OPUS", "Ogg", None, False, True, None),
    ("MP3", "MPEG_LAYER_III", "MPEG audio", None, False, True, None),
    ("WAV", "ULAW", "WAV", None, False, True, None),
]


def noise(seconds: float = 1.5, legs: int = 2, rate: int = RATE, level: float = 0.1) -> np.ndarray:
    return (np.random.default_rng(7).standard_normal((round(seconds * rate), legs)) * level).clip(-0.9, 0.9)


def written(samples: np.ndarray, form: str = "WAV", subtype: str = "PCM_24", rate: int = RATE) -> bytes:
    file = io.BytesIO()
    soundfile.write(file, samples, rate, format=form, subtype=subtype)
    return file.getvalue()


def riff(*chunks: tuple[bytes, bytes], magic: bytes = b"RIFF", size: int | None = None) -> bytes:
    body = b"WAVE" + b"".join(
        name + struct.pack("<I", len(data)) + data + b"\0" * (len(data) & 1) for name, data in chunks
    )
    return magic + struct.pack("<I", len(body) if size is None else size) + body


def fmt(legs: int = 1, rate: int = RATE, bits: int = 16) -> tuple[bytes, bytes]:
    width = legs * bits // 8
    return b"fmt ", struct.pack("<HHIIHH", 1, legs, rate, min(rate * width, 2**32 - 1), width, bits)


def joined(audio: AudioFile, frames: int = 65_536) -> np.ndarray:
    return np.concatenate([block.copy() for block in audio.blocks(frames)], axis=1)


@pytest.mark.parametrize(("form", "subtype", "called", "depth", "is_float", "lossy", "step"), FORMS)
def test_what_soundfile_writes_is_read_back(
    tmp_path: Path, form: str, subtype: str, called: str, depth: int | None, is_float: bool, lossy: bool,
    step: float | None,
) -> None:  # fmt: skip
    """Every form from a path and from an open file, against the array that soundfile was given."""
    samples = noise()
    data = written(samples, form, subtype)
    (tmp_path / "take").write_bytes(data)
    for source in (tmp_path / "take", io.BytesIO(data)):
        with AudioFile(source) as audio:
            header = audio.header
            got = joined(audio)
        assert (header.form, header.legs, header.sample_rate_hz) == (called, 2, RATE)
        assert (header.bit_depth if depth else None) == depth
        assert isinstance(header.bit_depth, Unknown) == (depth is None)
        assert (header.is_float, header.lossy) == (is_float, lossy)
        assert not header.truncated
        if step is None:
            assert got.shape[1] == pytest.approx(len(samples), abs=2500)
        else:
            assert header.frames == len(samples)
            assert header.declared_frames == len(samples) or form in ("CAF", "W64", "AU")
            assert np.abs(got - samples.T).max() <= step + 2.0**-24


def test_bw64_is_read_as_the_same_file_under_rf64(tmp_path: Path) -> None:
    """ITU-R BS.2088: BW64 is laid out as RF64 (EBU Tech 3306); only the first four bytes differ."""
    data = written(noise(), "RF64")
    assert data[:4] == b"RF64"
    (tmp_path / "take.wav").write_bytes(b"BW64" + data[4:])
    with AudioFile(tmp_path / "take.wav") as bw64, AudioFile(io.BytesIO(data)) as rf64:
        assert bw64.header.form == "BW64"
        assert bw64.header.declared_frames == bw64.header.frames == rf64.header.frames
        assert np.array_equal(joined(bw64), joined(rf64))


@settings(max_examples=25, deadline=None)
@given(cut=st.integers(min_value=200, max_value=60_000), subtype=st.sampled_from(["PCM_16", "PCM_24", "FLOAT"]))
def test_a_cut_wav_declares_more_than_it_holds(cut: int, subtype: str) -> None:
    """The decoding library shortens a cut file without a word; the header says both lengths."""
    samples = noise(0.2)
    data = written(samples, "WAV", subtype)
    width = 2 * {"PCM_16": 2, "PCM_24": 3, "FLOAT": 4}[subtype]
    cut = min(cut, len(data) - 1)
    header = read_header(io.BytesIO(data[:cut]))
    assert header.declared_frames == len(samples)
    assert header.truncated
    held = (cut - (len(data) - len(samples) * width)) // width
    assert header.frames == pytest.approx(held, abs=30)
    assert header.missing_frames == len(samples) - header.frames


@pytest.mark.parametrize(("form", "subtype"), [("RF64", "PCM_24"), ("AIFF", "PCM_24"), ("AIFF", "FLOAT")])
def test_a_cut_file_of_another_form_is_told(form: str, subtype: str) -> None:
    data = written(noise(), form, subtype)
    header = read_header(io.BytesIO(data[: len(data) // 2]))
    assert header.declared_frames == 72_000
    assert 30_000 < header.frames < 37_000
    assert header.truncated


@pytest.mark.parametrize("subtype", ["VORBIS", "OPUS"])
def test_a_cut_ogg_stream_lacks_its_closing_page(subtype: str) -> None:
    """RFC 3533, section 6: the header type flag 0x04 marks the last page of a logical bitstream."""
    data = written(noise(3.0), "OGG", subtype)
    assert not read_header(io.BytesIO(data)).truncated
    assert read_header(io.BytesIO(data[: len(data) // 2])).truncated


def test_a_cut_flac_is_broken_and_says_where() -> None:
    data = written(noise(3.0), "FLAC")
    with AudioFile(io.BytesIO(data[: len(data) // 2]), name="take.flac") as audio:
        assert audio.header.frames == 3 * RATE
        with pytest.raises(BrokenFile, match=r"take\.flac: .*decoding stops after .* of 3\.00 s"):
            joined(audio)


@pytest.mark.parametrize(
    "data",
    [b"", b"RIFF", b"RIFF\0\0\0\0WAVE", b"hello, this is text", b"\0" * 4096, b"RIFF\xff\xff\xff\xffAVI LIST",
     b"fLaC" + b"\0" * 60, b"OggS" + b"\0" * 60, b"FORM\0\0\0\x04AIFF", riff(fmt()), riff((b"data", b"\0" * 64))],
)  # fmt: skip
def test_what_is_no_audio_is_broken(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "x.wav").write_bytes(data)
    for source in (tmp_path / "x.wav", io.BytesIO(data)):
        with pytest.raises(BrokenFile) as caught:
            read_header(source, name="x.wav")
        assert caught.value.where == "x.wav"
        assert "0x" not in str(caught.value)


def test_only_regular_files_are_opened(tmp_path: Path) -> None:
    with pytest.raises(RefusedFile, match="no regular file"):
        read_header(tmp_path)
    with pytest.raises(RefusedFile, match="not there"):
        read_header(tmp_path / "gone.wav")


@pytest.mark.parametrize(
    "chunks", [[fmt(legs=200), (b"data", b"\0" * 400)], [fmt(rate=10), (b"data", b"\0" * 400)],
               [fmt(rate=2**31), (b"data", b"\0" * 400)]]
)  # fmt: skip
def test_a_header_that_no_recording_has_is_refused(chunks: list[tuple[bytes, bytes]]) -> None:
    with pytest.raises(InputError):
        read_header(io.BytesIO(riff(*chunks)))


def test_a_flac_that_claims_days_is_refused() -> None:
    """The 36-bit total of STREAMINFO (RFC 9639, section 8.2) set to its highest value: 16 days at 48 kHz."""
    data = bytearray(written(noise(0.2), "FLAC"))
    data[21] |= 0x0F
    data[22:26] = b"\xff\xff\xff\xff"
    with pytest.raises(RefusedFile, match="hours of audio"):
        read_header(io.BytesIO(bytes(data)))


def test_a_flac_without_a_length_is_broken_and_says_so() -> None:
    """RFC 9639, section 8.2: a total of 0 means unknown."""
    data = bytearray(written(noise(0.2), "FLAC"))
    data[21] &= 0xF0
    data[22:26] = b"\0\0\0\0"
    with pytest.raises(BrokenFile, match="does not state its length"):
        read_header(io.BytesIO(bytes(data)))


def test_a_length_left_open_by_the_writer_is_no_truncation() -> None:
    """A writer that cannot go back leaves 0 or 0xFFFFFFFF in both sizes."""
    data = bytearray(riff(fmt(), (b"data", b"\1\0" * 500)))
    for open_size in (b"\xff\xff\xff\xff", b"\0\0\0\0"):
        data[4:8] = open_size
        data[40:44] = open_size
        header = read_header(io.BytesIO(bytes(data)))
        assert isinstance(header.declared_frames, Unknown)
        assert not header.truncated
        assert header.frames == 500


def test_a_time_stamp_and_an_ixml_chunk_are_found_before_and_after_the_samples() -> None:
    """EBU Tech 3285: TimeReference is a 64-bit count of samples since midnight at byte 338 of ``bext``."""
    stamp = 48_000 * 3600 * 10 + 7  # ten o'clock and seven samples, beyond 32 bits with the high word below
    bext = b"\0" * 338 + struct.pack("<II", stamp & 0xFFFFFFFF, stamp >> 32) + b"\0" * 256
    samples = (b"data", b"\1\0" * 501)
    for chunks in ([(b"bext", bext), fmt(), samples, (b"iXML", b"<x/>!")], [fmt(), samples, (b"bext", bext)]):
        header = read_header(io.BytesIO(riff(*chunks)))
        assert header.time_reference == stamp
        assert header.has_ixml == (len(chunks) == 4)
        assert header.frames == header.declared_frames == 501
    assert isinstance(read_header(io.BytesIO(riff(fmt(), samples))).time_reference, Unknown)
    assert stamp > 2**30


def test_valid_bits_inside_wider_words_are_the_depth() -> None:
    """WAVE_FORMAT_EXTENSIBLE: 20 valid bits in a container of 24."""
    pcm = struct.pack("<IHH", 1, 0, 0x10) + bytes.fromhex("800000aa00389b71")
    body = struct.pack("<HHIIHHHHI", 0xFFFE, 1, RATE, RATE * 3, 3, 24, 22, 20, 4) + pcm
    header = read_header(io.BytesIO(riff((b"fmt ", body), (b"data", b"\0\0\x10" * 300))))
    assert header.bit_depth == 20
    assert header.frames == 300


class Stumbling(io.BytesIO):
    """Fails once the reader is past a place, as a damaged ZIP member does."""

    def __init__(self, data: bytes, at: int, trouble: Exception) -> None:
        super().__init__(data)
        self._stop, self._trouble = at, trouble

    def read(self, count: int | None = -1) -> bytes:
        if self.tell() >= self._stop:
            raise self._trouble
        return super().read(count)


@pytest.mark.parametrize("at", [0, 20, 100_000])
def test_trouble_in_the_file_object_is_raised_and_not_lost(at: int, capfd: pytest.CaptureFixture[str]) -> None:
    """The library reads through a callback from C, in which Python would only print an exception."""
    own = BrokenFile("the member is damaged", where="song.zip!take.wav")
    for trouble, match in ((own, "the member is damaged"), (OSError(5, "disk trouble"), "disk trouble")):
        with pytest.raises(BrokenFile, match=match), AudioFile(Stumbling(written(noise()), at, trouble)) as audio:
            joined(audio)
    assert capfd.readouterr().err == ""


class Sipping(io.BytesIO):
    """Gives at most 1,000 bytes at a time, as a raw reader may."""

    def read(self, count: int | None = -1) -> bytes:
        return super().read(1000 if count is None or count < 0 else min(count, 1000))


def test_a_file_that_gives_little_at_a_time_is_read_whole() -> None:
    data = written(noise())
    with AudioFile(Sipping(data)) as sipped, AudioFile(io.BytesIO(data)) as whole:
        assert np.array_equal(joined(sipped), joined(whole))


@settings(max_examples=30, deadline=None)
@given(start=st.integers(-500, 10_500), frames=st.integers(0, 3_000), form=st.sampled_from(["WAV", "FLAC"]))
def test_an_excerpt_is_that_stretch_and_silence_beyond(start: int, frames: int, form: str) -> None:
    samples = noise(10_000 / RATE)
    with AudioFile(io.BytesIO(written(samples, form))) as audio:
        got = audio.excerpt(start, frames)
        whole = joined(audio)
    padded = np.pad(whole, ((0, 0), (500, 4_000)))
    assert np.array_equal(got, padded[:, start + 500 : start + 500 + frames])


def test_an_excerpt_too_long_to_hold_is_refused() -> None:
    with AudioFile(io.BytesIO(written(noise(0.1)))) as audio, pytest.raises(RefusedFile):
        audio.excerpt(0, 5_000_001)


def test_many_legs_come_in_shorter_blocks() -> None:
    samples = noise(0.5, legs=32)
    with AudioFile(io.BytesIO(written(samples))) as audio:
        blocks = [block.shape for block in audio.blocks()]
    assert max(legs * frames for legs, frames in blocks) <= 4 * 65_536
    assert sum(frames for _, frames in blocks) == len(samples)


SEEDS = {
    form + subtype: written(noise(0.05), form, subtype)
    for form, subtype in [
        ("WAV", "PCM_16"), ("WAV", "FLOAT"), ("WAVEX", "PCM_24"), ("RF64", "PCM_24"), ("AIFF", "PCM_24"),
        ("AIFF", "FLOAT"), ("FLAC", "PCM_24"), ("OGG", "VORBIS"), ("CAF", "PCM_24"), ("W64", "PCM_24"),
        ("AU", "PCM_24"), ("WAV", "IMA_ADPCM"),
    ]
}  # fmt: skip
BYTES = st.sampled_from([0, 1, 0x7F, 0x80, 0xFF]) | st.integers(0, 255)


@pytest.mark.slow
@settings(max_examples=250, deadline=None)
@given(
    seed=st.sampled_from(sorted(SEEDS)),
    changes=st.lists(st.tuples(st.integers(0, 130), BYTES), max_size=6),
    cut=st.none() | st.integers(0, 4000),
)
def test_a_lying_header_is_read_or_refused_and_nothing_else(
    seed: str, changes: list[tuple[int, int]], cut: int | None
) -> None:
    """Whatever the first bytes say: samples, or an error with the file's name; never more samples than asked for."""
    data = bytearray(SEEDS[seed])
    for place, value in changes:
        data[place % len(data)] = value
    refused: InputError | None = None
    try:
        with AudioFile(io.BytesIO(bytes(data[:cut])), name="take") as audio:
            header = audio.header
            read = sum(block.shape[1] for block in audio.blocks())
            assert audio.excerpt(0, 10).shape == (header.legs, 10)
    except InputError as fault:
        refused = fault
    if refused is None:
        assert read * header.legs <= 16 * len(data)
        assert header.missing_frames >= 0
    else:
        assert refused.where == "take"
        assert refused.what


def test_a_move_outside_of_any_file_moves_nothing() -> None:
    """A lying header can make the decoder ask for one; a file object would raise inside the call from C."""
    guard = Guard(io.BytesIO(b"0123456789"))
    assert guard.seek(4) == 4
    assert guard.seek(-5) == 4
    assert guard.seek(-1, io.SEEK_CUR) == 3
    assert guard.seek(-9, io.SEEK_CUR) == 3
    assert guard.seek(-2, io.SEEK_END) == 8
    assert guard.seek(2**63 - 1, io.SEEK_CUR) == 8
    assert guard.held is None
    assert guard.read(1) == b"8"
