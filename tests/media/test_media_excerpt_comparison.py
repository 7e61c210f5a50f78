"""Clips laid on the song's timeline, and what the comparison of two of them finds."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.signal import fftconvolve

from mixlint.media import Library
from mixlint.media.excerpt_comparison import LONGEST_S, Excerpt, busiest, lay, rate_of
from mixlint.media.print_comparison import (
    PrintPair,
    PrintReading,
    PrintSource,
    low_cut_db,
    print_pair,
    read_print,
    share_of,
    unforetold,
)
from mixlint.session import MediaFile, Session, Unknown

RATE = 16_000
RNG = np.random.default_rng(11)


def library(folder: Path, rate: int = RATE, **files: np.ndarray) -> Library:
    for name, samples in files.items():
        soundfile.write(folder / f"{name}.wav", samples, rate, subtype="FLOAT")
    return Library(Session(media=tuple(MediaFile(id=name, path=f"{name}.wav") for name in files)), folder)


def noise(seconds: float, legs: int = 1) -> np.ndarray:
    return (RNG.standard_normal((round(seconds * RATE), legs)) * 0.1).astype(np.float32)


@pytest.fixture(scope="module")
def laid(tmp_path_factory: pytest.TempPathFactory) -> tuple[Library, dict[str, np.ndarray]]:
    files = {"mono": noise(1.0), "stereo": noise(1.5, 2)}
    return library(tmp_path_factory.mktemp("laid"), **files), files


PLACES = st.tuples(
    st.sampled_from(["mono", "stereo"]), st.integers(-8_000, 20_000), st.integers(0, 16_000), st.integers(-500, 9_000),
    st.sampled_from([1.0, -0.5]),
)  # fmt: skip


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(PLACES, min_size=1, max_size=4), st.integers(-2_000, 12_000), st.integers(1, 16_000))
def test_pieces_are_summed_where_they_lie(
    laid: tuple[Library, dict[str, np.ndarray]], places: list[tuple[str, int, int, int, float]], start: int, count: int
) -> None:
    """Against a sum sample by sample on one long numpy timeline."""
    shelf, files = laid
    song = np.zeros((2, 80_000))
    zero = 20_000  # where the song begins on it
    for name, at, length, offset, gain in places:
        padded = np.pad(files[name], ((500, 40_000), (0, 0)))[500 + offset : 500 + offset + length]
        song[:, zero + at : zero + at + length] += gain * padded.T
    pieces = [
        Excerpt(name, at / RATE, (at + length) / RATE, offset / RATE, gain) for name, at, length, offset, gain in places
    ]
    got = lay(shelf, pieces, start / RATE, count / RATE)
    assert isinstance(got, np.ndarray)
    wanted = song[:, zero + start : zero + start + count]
    np.testing.assert_allclose(got, wanted[: got.shape[0]], atol=1e-6)
    if got.shape[0] == 1:
        np.testing.assert_array_equal(wanted[0], wanted[1])


def test_files_of_two_rates_cannot_be_laid_together(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "fast.wav", noise(0.1), 44_100)
    soundfile.write(tmp_path / "slow.wav", noise(0.1), 48_000)
    shelf = Library(Session(media=(MediaFile(id="a", path="fast.wav"), MediaFile(id="b", path="slow.wav"))), tmp_path)
    pieces = [Excerpt("a", 0.0, 0.1), Excerpt("b", 0.0, 0.1)]
    for answer in (
        rate_of(shelf, [piece.media for piece in pieces]),
        lay(shelf, pieces, 0.0, 0.1),
        share_of(shelf, pieces[:1], pieces[1:]),
    ):
        assert isinstance(answer, Unknown)
        assert "44100 Hz and 48000 Hz" in answer.unknown
    assert isinstance(lay(shelf, [], 0.0, 1.0), Unknown)
    assert isinstance(rate_of(shelf, ["gone"]), Unknown)


def test_the_busiest_stretch_is_where_most_sounds(tmp_path: Path) -> None:
    quiet, loud = noise(60.0) * 0.01, noise(40.0)
    shelf = library(tmp_path, a=np.concatenate([quiet, loud, quiet]))
    start, duration = busiest(shelf, [Excerpt("a", 5.0, 165.0)])  # type: ignore[misc]
    assert duration == LONGEST_S
    assert 64.0 <= start <= 75.5
    assert busiest(shelf, [Excerpt("a", 3.0, 7.0)]) == (3.0, 4.0)


def room(seconds: float = 0.6, pre_delay_s: float = 0.03) -> np.ndarray:
    """A decaying noise after a pre-delay: the late part of a room's response (Schroeder's model)."""
    time = np.arange(round(seconds * RATE)) / RATE
    tail = RNG.standard_normal(time.size) * 10.0 ** (-3.0 * time / 0.5)
    response = np.concatenate([np.zeros(round(pre_delay_s * RATE)), tail])
    return response / np.sqrt((response**2).sum())


def paired(shelf: Library, printed: str, *sources: str, until_s: float = 12.0) -> PrintPair | Unknown:
    whole = [PrintSource([Excerpt(name, 0.0, until_s)], lambda _: np.ones(1)) for name in sources]
    return print_pair(shelf, whole, [Excerpt(printed, 0.0, until_s)])


def read(shelf: Library, printed: str, *sources: str) -> PrintReading:
    pair = paired(shelf, printed, *sources)
    assert not isinstance(pair, Unknown)
    found = read_print(pair)
    assert not isinstance(found, Unknown)
    return found


def test_dry_signal_in_a_printed_return_is_found(tmp_path: Path) -> None:
    """White noise through a response of energy 1, with the dry signal 12 dB under it."""
    dry = noise(12.0)[:, 0]
    wet = fftconvolve(dry, room())[: dry.size]
    shelf = library(tmp_path, dry=dry, clean=wet, leaking=wet + 10.0 ** (-12.0 / 20.0) * dry)
    found = read(shelf, "leaking", "dry")
    assert found.leak.dry_db == pytest.approx(-12.0, abs=0.5)
    assert found.leak.onset_s == pytest.approx(0.03, abs=0.002)
    assert found.share > 0.8
    assert read(shelf, "clean", "dry").leak.dry_db is None


@pytest.mark.slow
def test_the_levels_that_a_print_was_made_with_are_found(tmp_path: Path) -> None:
    """Two noises 9 dB apart in the print and alike now."""
    one, other = noise(12.0)[:, 0], noise(12.0)[:, 0]
    sent = one + 10.0 ** (-9.0 / 20.0) * other
    wet = fftconvolve(sent, room())[: one.size]
    shelf = library(tmp_path, one=one, other=other, printed=wet + 0.1 * sent)
    found = read(shelf, "printed", "one", "other")
    assert 20.0 * np.log10(found.gains[1] / found.gains[0]) == pytest.approx(-9.0, abs=0.5)
    assert found.leak.dry_db == pytest.approx(-20.0, abs=1.0)


def test_what_a_print_does_not_come_from_foretells_nothing(tmp_path: Path) -> None:
    dry, other = noise(8.0)[:, 0], noise(8.0)[:, 0]
    shelf = library(tmp_path, dry=dry, other=other, wet=fftconvolve(dry, room())[: dry.size])
    whole = [Excerpt("wet", 0.0, 8.0)]
    of_it, of_other = (share_of(shelf, [Excerpt(name, 0.0, 8.0)], whole) for name in ("dry", "other"))
    assert isinstance(of_it, float)
    assert isinstance(of_other, float)
    assert of_it > 0.8
    assert of_other < 0.01


def test_a_section_that_was_played_again_is_found(tmp_path: Path) -> None:
    """The last four of twelve seconds of the print come from another noise."""
    old = noise(12.0)[:, 0]
    new = old.copy()
    new[8 * RATE :] = noise(4.0)[:, 0]
    shelf = library(tmp_path, new=new, wet=fftconvolve(old, room())[: old.size])
    pair = paired(shelf, "wet", "new")
    assert not isinstance(pair, Unknown)
    (found,) = unforetold(pair, np.ones(1))
    assert found == pytest.approx((8.0, 12.0), abs=1.01)


@pytest.mark.parametrize(
    ("seconds", "silent", "words"),
    [
        (0.4, "", "share less than 0.5 s"),
        (2.0, "dry", "dry signal is silent"),
        (2.0, "wet", "printed return is silent"),
    ],
)
def test_what_cannot_be_told_of_a_print_is_said_in_words(
    tmp_path: Path, seconds: float, silent: str, words: str
) -> None:
    files = {name: noise(seconds)[:, 0] * (name != silent) for name in ("dry", "wet")}
    pair = paired(library(tmp_path, **files), "wet", "dry", until_s=seconds)
    assert not isinstance(pair, Unknown)
    answer = read_print(pair)
    assert isinstance(answer, Unknown)
    assert words in answer.unknown
    assert answer.settle == "print the return alone, over a busy stretch"


def test_the_low_cut_of_a_print(tmp_path: Path) -> None:
    """Half the amplitude at 60 Hz and all of it at 1 kHz is a low cut of 6.02 dB."""
    time = np.arange(RATE * 4) / RATE
    low, mid = (0.1 * np.sin(2 * np.pi * hz * time) for hz in (60.0, 1000.0))
    pair = paired(library(tmp_path, dry=low + mid, wet=0.5 * low + mid), "wet", "dry", until_s=4.0)
    assert not isinstance(pair, Unknown)
    cut, holds = low_cut_db(pair, np.ones(1), 60.0, 1000.0)
    assert cut == pytest.approx(6.02, abs=0.1)
    assert holds == pytest.approx(0.0, abs=0.1)
