"""Several stretches of one file, read in one pass."""

from __future__ import annotations

import zipfile
from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.media import Library
from mixlint.session import MediaFile, Session, Unknown

RATE = 8000


@pytest.fixture
def packed(tmp_path: Path) -> Library:
    """A session in an archive whose one file counts its samples up, packed."""
    wave = np.arange(4 * RATE, dtype=np.float32) / (8 * RATE)
    soundfile.write(tmp_path / "ramp.wav", wave, RATE, subtype="FLOAT")
    path = tmp_path / "song.dawproject"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.write(tmp_path / "ramp.wav", "ramp.wav")
        archive.writestr("project.xml", "<Project/>")
    return Library(Session(media=(MediaFile(id="ramp", path="ramp.wav", place="inside"),)), path)


def test_stretches_come_in_the_order_asked_for(packed: Library) -> None:
    """The same stretch twice, out of order, and one that runs past the end."""
    asked = [(3.0, 0.01), (0.5, 0.02), (3.0, 0.01), (3.999, 0.002)]
    found = packed.excerpts("ramp", asked)
    assert not isinstance(found, Unknown)
    assert [part.shape for part in found] == [(1, 80), (1, 160), (1, 80), (1, 16)]
    for part, (at, _) in zip(found, asked, strict=True):
        assert part[0, 0] == pytest.approx(at * RATE / (8 * RATE))
    assert not found[3][0, 8:].any()


def test_one_stretch_is_the_same_as_among_several(packed: Library) -> None:
    one, several = packed.excerpt("ramp", 1.5, 0.01), packed.excerpts("ramp", [(0.1, 0.01), (1.5, 0.01)])
    assert not isinstance(one, Unknown)
    assert not isinstance(several, Unknown)
    assert np.array_equal(one, several[1])


def test_a_file_that_is_not_there_has_no_stretches(packed: Library) -> None:
    assert isinstance(packed.excerpts("gone", [(0.0, 0.1)]), Unknown)
