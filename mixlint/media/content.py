"""What an audio file sounds like, as a hash: two files with the same samples are the same, whatever wraps them."""

from __future__ import annotations

from hashlib import sha256
from typing import BinaryIO

from mixlint.media.audio import AudioFile


def sound_digest(file: BinaryIO, *, name: str = "") -> str:
    """The hash of the samples, legs and rate of an audio file, ``sha256:…``.

    Header, tags, time stamps and lossless coding do not enter: a WAV and a FLAC of one take are alike.

    Raises:
        InputError: it cannot be decoded.
    """
    made = sha256()
    with AudioFile(file, name=name) as audio:
        made.update(f"{audio.header.legs} legs, {audio.header.sample_rate_hz} Hz\n".encode())
        for block in audio.blocks():
            made.update((block.T + 0.0).astype("<f4").tobytes())  # adding 0 makes minus zero zero
    return f"sha256:{made.hexdigest()}"
