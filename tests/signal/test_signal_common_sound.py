"""What two signals have in common: known answers. Filters and resampling are scipy's."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.signal.common_sound import Look, common
from mixlint.signal.lag_course import course
from mixlint.signal.strokes import same_at_another_speed, strokes

FS = 48_000


def hits(seconds: float = 6.0, seed: int = 1, score: int = 0) -> np.ndarray:
    """Strokes of noise and a drum; one ``score`` has them at the same moments but for a player's milliseconds."""
    rng, moments = np.random.default_rng(seed), np.random.default_rng(score)
    made = np.zeros(round(seconds * FS))
    t = np.arange(FS // 4) / FS
    for start in np.cumsum(moments.uniform(0.15, 0.3, round(seconds / 0.23))):
        at = max(0, round((start + 0.008 * rng.normal()) * FS))
        stroke = rng.uniform(0.4, 1) * rng.normal(size=t.size) * np.exp(-t / 0.03)
        stroke += np.sin(2 * np.pi * 180 * t) * np.exp(-t / 0.08)
        made[at : at + t.size] += stroke[: max(0, made.size - at)]
    return made


def later(signal: np.ndarray, samples: float) -> np.ndarray:
    """Delayed by any number of samples, by a turn of phase."""
    spectrum = np.fft.rfft(signal, 2 * signal.size)
    turn = np.exp(-2j * np.pi * np.fft.rfftfreq(2 * signal.size) * samples)
    return np.fft.irfft(spectrum * turn)[: signal.size]


def looks(one: np.ndarray, other: np.ndarray) -> list[Look]:
    return [Look(at / FS, one[at : at + FS], other[at : at + FS]) for at in range(0, one.size - FS + 1, FS)]


@pytest.mark.slow
@pytest.mark.parametrize("samples", [0.0, 0.37, -17.5, 144.25, -1000.6, 2300.0, 4700.4])
@pytest.mark.parametrize("polarity", [1, -1])
def test_delay_between_the_samples_and_polarity(samples, polarity):
    take = hits(4.0)
    found = common(looks(take, polarity * 0.3 * later(take, samples)), FS, 0.1)
    assert found.polarity == polarity
    assert found.lag_s * FS == pytest.approx(samples, abs=0.5)
    assert found.share == 1.0
    assert found.agreement > 0.97
    assert found.level_db == pytest.approx(20 * np.log10(0.3), abs=0.5)


@pytest.mark.parametrize("polarity", [1, -1])
def test_two_metres_of_air_room_and_noise(polarity):
    """5.831 ms at 343 m/s; the far microphone is duller, hears the room and hisses."""
    take, rng = hits(), np.random.default_rng(3)
    t = np.arange(FS // 2) / FS
    room = oracle.fftconvolve(take, 0.02 * rng.normal(size=t.size) * 10 ** (-3 * t / 0.4))[: take.size]
    dull = oracle.sosfilt(oracle.butter(1, 9000, fs=FS, output="sos"), later(take, 2.0 / 343 * FS))
    far = polarity * dull + later(room, 500.0) + 0.02 * take.std() * rng.normal(size=take.size)
    found = common(looks(take, far), FS, 0.05)
    assert found.polarity == polarity
    assert found.lag_s == pytest.approx(2.0 / 343, abs=5e-5)


@pytest.mark.slow
@pytest.mark.parametrize("rate", [44_100, 96_000])
def test_the_rate_makes_no_difference(rate):
    take = oracle.resample_poly(hits(4.0), rate // 300, 160)
    other = np.concatenate((np.zeros(round(0.004 * rate)), take))[: take.size]
    seconds = [Look(at / rate, take[at : at + rate], other[at : at + rate]) for at in range(0, 3 * rate, rate)]
    found = common(seconds, rate, 0.05)
    assert found.lag_s == pytest.approx(round(0.004 * rate) / rate, abs=2e-5)
    assert found.agreement > 0.97


def test_the_low_end_of_a_drum_tells_which_way_it_adds():
    """A low-pass of second order turns the wave by up to half a circle: at 60 Hz it is what counts (scipy)."""
    take = hits()
    under = -oracle.sosfilt(oracle.butter(1, 1500, fs=FS, output="sos"), take)
    found = common(looks(take, under), FS, 0.05)
    assert found.low_db < -10.0
    assert common(looks(take, -under), FS, 0.05).low_db > 10.0


def test_two_takes_of_one_score_have_nothing_in_common():
    found = common(looks(hits(seed=1), hits(seed=2)), FS, 0.1)
    assert found.share < 0.4
    assert found.strength < 0.1
    assert strokes(hits(seed=1), hits(seed=2), FS).alike < 0.4


def test_silence_has_nothing_to_compare():
    assert common(looks(hits(2.0), np.zeros(2 * FS)), FS, 0.1) is None


@pytest.mark.slow
@pytest.mark.parametrize("cents", [3.0, -9.0, 15.0, -20.0])
def test_a_copy_at_another_speed(cents):
    """Read at other places by a cubic spline (scipy)."""
    from scipy.interpolate import CubicSpline

    take = oracle.sosfilt(oracle.butter(4, 8000, fs=FS, output="sos"), hits())
    speed = 2.0 ** (cents / 1200.0)
    at = np.arange(take.size) * speed - 0.012 * FS
    copy = np.where(
        (at > 0) & (at < take.size - 1), CubicSpline(np.arange(take.size), take)(np.clip(at, 0, take.size - 1)), 0
    )
    found = strokes(take, copy, FS)
    assert found.alike > 0.5
    agreement, told = same_at_another_speed(take, copy, FS, found)
    assert agreement > 0.96
    assert told == pytest.approx(cents, abs=0.05)


def test_a_step_and_a_drift_are_told_apart():
    take = hits(10.0)
    moved = np.concatenate((later(take, 20.0)[: 5 * FS], later(take, 200.0)[5 * FS :]))
    run = course(common(looks(take, moved), FS, 0.05).seen)
    assert run is not None
    assert not run.drifts
    assert run.after_s - run.before_s == pytest.approx(180.0 / FS, abs=5e-5)
    assert run.at_s == pytest.approx(5.0)
    # 100 millionths: a millisecond in ten seconds.
    drifting = np.interp(np.arange(take.size) * (1 - 1e-4), np.arange(take.size), take)
    run = course(common(looks(take, drifting), FS, 0.05).seen)
    assert run is not None
    assert run.drifts
    assert (run.after_s - run.before_s) / (run.to_s - run.at_s) == pytest.approx(1e-4, rel=0.1)
    assert course(common(looks(take, later(take, 20.0)), FS, 0.05).seen) is None
