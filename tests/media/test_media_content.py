"""The hash of a file's sound: the same for the same samples in another wrapping, another for one sample changed."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.errors import InputError
from mixlint.media.content import sound_digest


def written(samples: np.ndarray, form: str, subtype: str, rate: int = 48_000) -> io.BytesIO:
    """An audio file in memory, written by libsndfile."""
    file = io.BytesIO()
    soundfile.write(file, samples, rate, format=form, subtype=subtype)
    file.seek(0)
    return file


@pytest.fixture
def samples() -> np.ndarray:
    return np.round(np.random.default_rng(7).uniform(-0.9, 0.9, (150_000, 2)) * 32768.0) / 32768.0


def test_wrapping_and_lossless_coding_do_not_count(samples: np.ndarray) -> None:
    """WAV, AIFF and FLAC of 16 bits, and 24 bits that hold 16, are one sound."""
    forms = [("WAV", "PCM_16"), ("AIFF", "PCM_16"), ("FLAC", "PCM_16"), ("WAV", "PCM_24"), ("WAV", "FLOAT")]
    assert len({sound_digest(written(samples, *form)) for form in forms}) == 1


def test_one_sample_legs_and_rate_count(samples: np.ndarray) -> None:
    digest = sound_digest(written(samples, "WAV", "PCM_16"))
    one = samples.copy()
    one[149_999, 1] += 1.0 / 32768.0
    others = [
        written(one, "WAV", "PCM_16"),
        written(samples[:, ::-1], "WAV", "PCM_16"),
        written(samples[:, :1], "WAV", "PCM_16"),
        written(samples[:-1], "WAV", "PCM_16"),
        written(samples, "WAV", "PCM_16", 44_100),
    ]
    assert digest not in {sound_digest(other) for other in others}


def test_what_is_no_audio_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputError):
        sound_digest(io.BytesIO(b"RIFF and no more"))
