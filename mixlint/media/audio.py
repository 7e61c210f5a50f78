"""Reading audio in blocks, from a path or from a seekable file such as a member of a container."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, BinaryIO, Final, Self

from mixlint.errors import BrokenFile, RefusedFile
from mixlint.media.guard import Guard, open_regular, presented
from mixlint.media.header import Header, Walk, sniff, walk
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

BLOCK_FRAMES: Final = 65_536
"""Samples per leg read at a time."""

MOST_AT_ONCE: Final = 10_000_000
"""Samples of all legs that an excerpt may hold: 52 s of stereo at 96 kHz, 40 MB."""

MOST_LEGS: Final = 64
LOWEST_RATE_HZ: Final = 1_000
HIGHEST_RATE_HZ: Final = 768_000
MOST_SAMPLES_A_SECOND: Final = 32 * 192_000
LONGEST_S: Final = 24 * 3600.0
"""A header that claims more legs, an odder rate, more of both at once or a longer duration is refused before
anything is decoded; working memory grows with legs times rate."""

_DEPTHS: Final = {
    "PCM_S8": 8, "PCM_U8": 8, "PCM_16": 16, "PCM_24": 24, "PCM_32": 32, "FLOAT": 32, "DOUBLE": 64,
    "ALAC_16": 16, "ALAC_20": 20, "ALAC_24": 24, "ALAC_32": 32,
}  # fmt: skip


class AudioFile:
    """An open audio file: its header, its samples in blocks, and stretches of it.

    Use as a context manager. Samples come as float32 of shape (legs, n), full scale ±1.0; integer words over
    24 bits are rounded to that.

    Args:
        source: a path, or a seekable binary file at any position. A file given is not closed.
        name: what to call it in messages; the path by default.

    Raises:
        BrokenFile: the file is no audio that can be read here, or it is damaged.
        RefusedFile: the header claims what no recording has, or the path is no regular file.
    """

    def __init__(self, source: str | os.PathLike[str] | BinaryIO, *, name: str = "") -> None:
        import soundfile

        self._owned: BinaryIO | None = None
        if isinstance(source, (str, os.PathLike)):
            self.name = name or str(source)
            file = self._owned = open_regular(Path(source), self.name)
        else:
            self.name = name or str(getattr(source, "name", "audio"))
            file = source
        self._decoder: Any = None
        self._guard = Guard(file)
        try:
            form, found = self._look(self._guard)
            self._guard.present = presented(form, found, self._guard.seek(0, os.SEEK_END))
            self._guard.seek(0)
            try:
                self._decoder = soundfile.SoundFile(self._guard)
            except soundfile.SoundFileError as trouble:
                self._raise_held()
                raise self._broken(_said(trouble)) from trouble
            self._raise_held()
            self.header = self._head(form, found)
            self.flac_sum = found.samples_sum if 0 < found.bits <= 24 else b""
            self.counted = found.counted
        except BaseException:
            self.close()
            raise

    def _look(self, file: Guard) -> tuple[str, Walk]:
        size = file.seek(0, os.SEEK_END)
        form = sniff(file)  # type: ignore[arg-type]
        self._raise_held()
        if form is None:
            raise BrokenFile(
                "this is no audio file that can be read" if size else "the audio file is empty",
                where=self.name,
                do="export it as WAV, FLAC or AIFF",
            )
        found = walk(file, form, size)  # type: ignore[arg-type]
        self._raise_held()
        return form, found

    def _head(self, form: str, found: Walk) -> Header:
        decoder = self._decoder
        legs, rate, frames = int(decoder.channels), int(decoder.samplerate), int(decoder.frames)
        in_range = 1 <= legs <= MOST_LEGS and LOWEST_RATE_HZ <= rate <= HIGHEST_RATE_HZ
        if not in_range or legs * rate > MOST_SAMPLES_A_SECOND:
            raise RefusedFile(
                f"the header claims {legs} legs at {rate} Hz",
                where=self.name,
                do=f"a file may have {MOST_LEGS} legs and {LOWEST_RATE_HZ} to {HIGHEST_RATE_HZ} Hz",
            )
        if frames > 1 << 62:
            raise self._broken("it does not state its length")
        if frames / rate > LONGEST_S:
            raise RefusedFile(
                f"the header claims {frames / rate / 3600.0:.0f} hours of audio",
                where=self.name,
                do=f"split it; a file may hold {LONGEST_S / 3600.0:.0f} hours",
            )
        subtype = str(decoder.subtype)
        depth = _DEPTHS.get(subtype)
        linear = subtype.startswith("PCM") or form == "FLAC"
        if depth is not None and linear and 0 < found.bits < depth:
            depth = found.bits  # such as 20 valid bits carried in words of 24
        no_stamp = Unknown(unknown="the file carries no time stamp", settle="export it as broadcast WAV")
        return Header(
            form=form,
            subtype=subtype,
            legs=legs,
            sample_rate_hz=rate,
            frames=frames,
            declared_frames=_declared(found, linear or subtype in ("FLOAT", "DOUBLE"), frames),
            bit_depth=Unknown(unknown=f"{subtype} coding has no word length") if depth is None else depth,
            is_float=subtype in ("FLOAT", "DOUBLE"),
            lossy=not linear and subtype not in ("FLOAT", "DOUBLE") and not subtype.startswith("ALAC"),
            time_reference=no_stamp if found.time_reference is None else found.time_reference,
            has_ixml=found.has_ixml,
            has_adm=found.has_adm,
            closed=found.closed,
        )

    def blocks(self, frames: int = BLOCK_FRAMES) -> Iterator[NDArray[np.float32]]:
        """The whole file from its beginning in blocks (legs, n), n = ``frames`` but for the last.

        A block is valid until the next one is taken. Files with many legs come in shorter blocks, so that memory
        stays bounded.

        Raises:
            BrokenFile: decoding stops before the end.
        """
        import numpy as np

        legs = self.header.legs
        frames = max(1, min(frames, BLOCK_FRAMES * 4 // legs))
        buffer = np.empty((frames, legs), dtype=np.float32)
        self._seek(0)
        at = 0
        # Beyond the samples that a FLAC file declares stands at most a tag, which the decoder would take for damage.
        most = self.header.frames if self.header.form == "FLAC" and self.header.frames else None
        while True:
            left = frames if most is None else min(frames, most - at)
            got = self._read(buffer[:left], at) if left > 0 else 0
            if got == 0:
                return
            at += got
            if at > self.header.sample_rate_hz * LONGEST_S:
                raise RefusedFile("the file goes on beyond the longest duration read here", where=self.name)
            yield buffer[:got].T

    def excerpt(self, start_frame: int, frames: int) -> NDArray[np.float32]:
        """A stretch (legs, frames); what lies before the beginning or after the end is silence.

        Raises:
            BrokenFile: the stretch cannot be decoded.
            RefusedFile: more than MOST_AT_ONCE samples are asked for.
        """
        import numpy as np

        if frames * self.header.legs > MOST_AT_ONCE:
            raise RefusedFile(f"a stretch of {frames} frames is too long to hold at once", where=self.name)
        out = np.zeros((max(0, frames), self.header.legs), dtype=np.float32)
        first, last = max(0, start_frame), min(self.header.frames, start_frame + frames)
        if last > first:
            self._seek(first)
            part = np.empty((last - first, self.header.legs), dtype=np.float32)
            got = self._read(part, first)
            out[first - start_frame : first - start_frame + got] = part[:got]
        return out.T

    def _seek(self, frame: int) -> None:
        import soundfile

        try:
            self._decoder.seek(frame)
        except soundfile.SoundFileError as trouble:
            self._raise_held()
            raise self._broken(_said(trouble)) from trouble

    def _read(self, buffer: NDArray[np.float32], at: int) -> int:
        import soundfile

        try:
            got = len(self._decoder.read(out=buffer, dtype="float32", always_2d=True))
        except soundfile.SoundFileError as trouble:
            self._raise_held()
            seconds = at / self.header.sample_rate_hz
            raise self._broken(f"decoding stops after {seconds:.2f} of {self.header.duration_s:.2f} s") from trouble
        self._raise_held()
        return got

    def _raise_held(self) -> None:
        if self._guard.held is not None:
            held, self._guard.held = self._guard.held, None
            if isinstance(held, OSError):
                raise self._broken(held.strerror or str(held)) from held
            raise held

    def _broken(self, why: str) -> BrokenFile:
        return BrokenFile(f"the audio cannot be read: {why}", where=self.name, do="export or copy the file again")

    def close(self) -> None:
        """Close the decoder, and the file if this object opened it."""
        if self._decoder is not None:
            self._decoder.close()
        if self._owned is not None:
            self._owned.close()

    def __enter__(self) -> Self:
        """The file itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Close it."""
        self.close()


def read_header(source: str | os.PathLike[str] | BinaryIO, *, name: str = "") -> Header:
    """Read an audio file's header alone; see :class:`AudioFile` for arguments and errors."""
    with AudioFile(source, name=name) as audio:
        return audio.header


def _said(trouble: Exception) -> str:
    """The decoding library's own words, without the object's address."""
    text = str(getattr(trouble, "error_string", "") or trouble)
    return text.strip().rstrip(".") or "the decoder gave no reason"


def _declared(found: Walk, linear: bool, frames: int) -> int | Unknown:
    if found.frames_declared is not None:
        return found.frames_declared
    if found.data_declared is not None and linear and found.block_align > 0:
        return found.data_declared // found.block_align
    if not found.closed:
        return Unknown(unknown="the stream ends without its closing page, so it was cut short")
    if found.form == "Ogg":
        return frames
    return Unknown(unknown="the file leaves its length open")
