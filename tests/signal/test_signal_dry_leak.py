"""Dry leak and pre-delay of a printed return: known answers made with scipy.signal.fftconvolve."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.signal.deconvolution import deconvolve
from mixlint.signal.dry_leak import estimate_leak

FS = 24000


def drums(seconds: float = 6.0, seed: int = 1, fs: int = FS) -> np.ndarray:
    """Noise bursts over a decaying low tone, four a second."""
    rng = np.random.default_rng(seed)
    made = np.zeros(round(seconds * fs))
    t = np.arange(fs // 4) / fs
    for start in range(0, made.size - t.size, t.size):
        made[start : start + t.size] += rng.uniform(0.4, 1) * rng.normal(size=t.size) * np.exp(-t / 0.03)
        made[start : start + t.size] += np.sin(2 * np.pi * 80 * t) * np.exp(-t / 0.08)
    return made


def reverberated(dry: np.ndarray, pre_delay_s: float, seed: int = 2) -> np.ndarray:
    """The dry signal through exponentially decaying noise (1.2 s) after a pre-delay, at 0.05 RMS."""
    rng = np.random.default_rng(seed)
    t = np.arange(round(1.5 * FS)) / FS
    hall = np.concatenate([np.zeros(round(pre_delay_s * FS)), rng.normal(size=t.size) * 10 ** (-3 * t / 1.2)])
    wet = oracle.fftconvolve(dry, hall)[: dry.size]
    return wet * 0.05 / wet.std()


def leaked(dry: np.ndarray, leak_db: float) -> np.ndarray:
    """The dry signal at a level relative to 0.05 RMS."""
    return dry * (0.05 / dry.std()) * 10 ** (leak_db / 20)


@pytest.mark.slow
@pytest.mark.parametrize("leak_db", [-40.0, -30.0, -20.0, -12.0, -6.0, 0.0, 10.0])
@pytest.mark.parametrize("pre_delay_s", [0.006, 0.012, 0.04])
def test_a_known_leak_is_read(leak_db: float, pre_delay_s: float) -> None:
    dry = drums()
    leak = estimate_leak(dry, reverberated(dry, pre_delay_s) + leaked(dry, leak_db), FS)
    assert leak.fault is None
    assert leak.dry_db == pytest.approx(leak_db, abs=1.5 if leak_db < -30 else 0.4)
    assert leak.at_most_db is not None
    assert leak.at_most_db >= leak_db - 0.1
    assert leak.gain == pytest.approx(0.05 / dry.std() * 10 ** (leak_db / 20), rel=0.2 if leak_db < -30 else 0.05)
    assert leak.onset_s == pytest.approx(pre_delay_s, abs=0.0005)


def test_a_wet_return_may_hide_dry_signal_only_in_its_beginning() -> None:
    dry = drums()
    leak = estimate_leak(dry, reverberated(dry, 0.012), FS)
    assert leak.dry_db is None
    assert leak.gain is None
    assert leak.lag_s is None
    assert leak.at_most_db is not None
    assert leak.at_most_db > -40.0
    assert leak.onset_s == pytest.approx(0.012, abs=0.0005)
    in_place = estimate_leak(dry, reverberated(dry, 0.012), FS, reach_s=0.0)
    assert in_place.at_most_db is not None
    assert in_place.at_most_db < -50.0


@pytest.mark.slow
@pytest.mark.parametrize("leak_db", [None, -60.0, -30.0, -12.0, 0.0])
@pytest.mark.parametrize("pre_delay_s", [0.0, 0.002, 0.012])
def test_the_bound_holds_whether_or_not_a_spike_stands_out(leak_db: float | None, pre_delay_s: float) -> None:
    """Without pre-delay a reverb hides what leaks: nothing is claimed then, and the bound stays above the truth."""
    dry = drums()
    wet = reverberated(dry, pre_delay_s)
    leak = estimate_leak(dry, wet if leak_db is None else wet + leaked(dry, leak_db), FS)
    assert leak.at_most_db is not None
    if leak_db is not None:
        # The reverb's own first sample counts as dry, so that the measured leak may differ a little.
        assert leak.at_most_db >= leak_db - 1.0
    if leak_db is None:
        assert leak.dry_db is None
    if pre_delay_s == 0.0 and leak_db in (None, -60.0):
        assert leak.at_most_db > -30.0
        assert leak.onset_s == pytest.approx(0.0, abs=0.001)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_a_reverb_that_begins_at_once_is_not_taken_for_a_leak(seed: int) -> None:
    dry = drums(2.0, seed=100 + seed)
    leak = estimate_leak(dry, reverberated(dry, 0.0, seed=200 + seed), FS)
    assert leak.dry_db is None
    assert leak.at_most_db is not None
    assert leak.at_most_db > -40.0


def test_an_inverted_leak_keeps_its_sign() -> None:
    dry = drums()
    leak = estimate_leak(dry, reverberated(dry, 0.012) - leaked(dry, -12.0), FS)
    assert leak.gain is not None
    assert leak.gain < 0.0
    assert leak.dry_db == pytest.approx(-12.0, abs=0.4)


def test_a_plain_copy_is_all_dry() -> None:
    dry = drums()
    leak = estimate_leak(dry, 0.5 * dry, FS)
    assert leak.gain == pytest.approx(0.5, rel=1e-3)
    assert leak.dry_db is not None
    assert leak.dry_db > 60.0
    assert leak.onset_s is None


def test_a_delay_without_dry_signal() -> None:
    """Repeats after 0.375 s (a dotted eighth at 120 bpm), each 6 dB down: no leak, the onset is the delay time."""
    dry = drums()
    repeats = sum(0.5**k * np.concatenate([np.zeros(k * 9000), dry])[: dry.size] for k in range(1, 8))
    leak = estimate_leak(dry, np.asarray(repeats), FS, repeats=True)
    assert (leak.lag_s, leak.lag_by) == (0.0, "repeats")
    assert leak.dry_db is None
    assert leak.at_most_db is not None
    assert leak.at_most_db < -40.0
    assert leak.onset_s == pytest.approx(0.375, abs=0.0005)


def test_other_signals_in_the_print_count_as_the_rest() -> None:
    dry, other = drums(), drums(seed=77)
    wet = reverberated(dry, 0.012) + reverberated(other, 0.012, seed=8)
    leak = estimate_leak(dry, wet + leaked(dry, -10.0), FS)
    assert leak.dry_db == pytest.approx(-10.0 - 3.0, abs=1.5)


@pytest.mark.slow
def test_stereo_prints() -> None:
    """A mono dry signal in both legs of a print; only one leg leaks: half the dry energy, 3 dB less."""
    dry = drums()
    left, right = reverberated(dry, 0.012, seed=3), reverberated(dry, 0.012, seed=4)
    both = estimate_leak(dry, np.stack([left + leaked(dry, -12.0), right + leaked(dry, -12.0)]), FS)
    assert both.dry_db == pytest.approx(-12.0, abs=0.4)
    one = estimate_leak(dry, np.stack([left + leaked(dry, -12.0), right]), FS)
    assert one.dry_db == pytest.approx(-15.0, abs=0.4)
    other = drums(seed=50)
    pair = estimate_leak(np.stack([dry, other]), np.stack([left + leaked(dry, -12.0), reverberated(other, 0.012)]), FS)
    assert pair.dry_db == pytest.approx(-15.0, abs=0.5)


def moved(samples: np.ndarray, by: int) -> np.ndarray:
    """Later by so many samples, or earlier."""
    out = np.roll(samples, by)
    out[: max(by, 0)] = 0.0
    if by < 0:
        out[by:] = 0.0
    return out


@pytest.mark.slow
@pytest.mark.parametrize("by", [-2400, -64, 64, 2400])
def test_a_loud_dry_copy_proves_where_a_print_lies(by: int) -> None:
    """One tap over four times as high as all others, wherever it lies."""
    dry = drums()
    leak = estimate_leak(dry, moved(reverberated(dry, 0.02) + leaked(dry, -6.0), by), FS)
    assert leak.dry_db == pytest.approx(-6.0, abs=0.4)
    assert leak.lag_s == pytest.approx(by / FS, abs=1e-6)
    assert leak.lag_by == "dry-copy"
    assert leak.onset_s == pytest.approx(by / FS + 0.02, abs=0.0005)


@pytest.mark.slow
@pytest.mark.parametrize("leak_db", [-12.0, -24.0, -36.0])
@pytest.mark.parametrize("late_s", [-0.05, 0.003, 0.05])
@pytest.mark.parametrize("pre_delay_s", [0.0, 0.02])
def test_a_print_out_of_place_is_never_clear(leak_db: float, late_s: float, pre_delay_s: float) -> None:
    """Whether the lag is proved or not, the bound stays above the dry signal that is in it."""
    dry = drums(4.0)
    leak = estimate_leak(dry, moved(reverberated(dry, pre_delay_s) + leaked(dry, leak_db), round(late_s * FS)), FS)
    assert leak.at_most_db is not None
    assert leak.at_most_db >= leak_db - 1.0


def test_what_begins_before_its_source_lies_early() -> None:
    dry = drums()
    leak = estimate_leak(dry, moved(reverberated(dry, 0.01), -720), FS)
    assert (leak.lag_by, leak.dry_db) == ("before-its-source", None)
    assert leak.lag_s == pytest.approx(-0.02, abs=0.0005)


def test_a_pre_delay_that_is_known_proves_a_print_clean() -> None:
    dry = drums()
    leak = estimate_leak(dry, reverberated(dry, 0.02), FS, pre_delay_s=0.02)
    assert (leak.lag_s, leak.lag_by) == (0.0, "pre-delay")
    assert leak.at_most_db is not None
    assert leak.at_most_db < -50.0


@pytest.mark.slow
@pytest.mark.parametrize("decay_s", [0.5, 1.2, 2.5])
def test_the_decay_of_a_print_is_read(decay_s: float) -> None:
    """Noise that falls by 60 dB in a known time has that reverberation time (its definition, ISO 3382-1)."""
    dry = drums(8.0)
    t = np.arange(round(1.3 * decay_s * FS)) / FS
    hall = np.random.default_rng(6).normal(size=t.size) * 10 ** (-3 * t / decay_s)
    leak = estimate_leak(dry, oracle.fftconvolve(dry, hall)[: dry.size], FS)
    assert leak.decay_s == pytest.approx(decay_s, rel=0.1)


def test_long_signals_are_cut_to_where_they_play() -> None:
    fs = 8000
    dry = np.concatenate([np.zeros(60 * fs), drums(20.0, fs=fs), np.zeros(30 * fs)])
    leak = estimate_leak(dry, 0.1 * np.concatenate([np.zeros(400), dry[:-400]]) + 0.01 * dry, fs)
    assert leak.dry_db == pytest.approx(-20.0, abs=0.5)
    assert leak.onset_s == pytest.approx(0.05, abs=0.0005)


@pytest.mark.parametrize(
    ("dry", "printed", "why"),
    [
        (np.zeros(FS), drums(1.0), "dry-silent"),
        (drums(1.0), np.zeros(FS), "print-silent"),
        (drums(0.4), drums(0.4), "too-short"),
        (np.sin(np.arange(2 * FS) * 0.05), drums(2.0), "narrow-band"),
    ],
)
def test_what_cannot_be_told_says_why(dry: np.ndarray, printed: np.ndarray, why: str) -> None:
    leak = estimate_leak(dry, printed, FS)
    assert leak.fault == why
    assert leak.dry_db is None
    assert leak.at_most_db is None


def test_unusable_samples_are_refused() -> None:
    with pytest.raises(ValueError, match="finite"):
        estimate_leak(np.full(FS, np.nan), np.zeros(FS), FS)
    with pytest.raises(ValueError, match="legs"):
        estimate_leak(np.zeros((2, FS)), np.zeros((3, FS)), FS)
    with pytest.raises(ValueError, match="silent"):
        deconvolve(np.zeros(5), np.ones(5), FS)
