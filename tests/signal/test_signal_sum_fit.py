"""Signals in their sum, against numpy and scipy: gains, lags, what is left over, what a common treatment explains."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.signal import synthesis
from mixlint.signal.sum_fit import Products, find_lag, fit, gain_and_rest, left_over, processing, products_of

FS = 48000
SECONDS = 2.0


@pytest.fixture(scope="module")
def parts() -> list[np.ndarray]:
    """A kit, a voice and noise with a rest, two legs each."""
    noise = synthesis.noise(3, SECONDS, FS) * 0.1
    noise[: FS // 2] = 0.0
    voice = synthesis.voice(220.0, 2, SECONDS, FS)
    return [
        np.stack([synthesis.kit(1, SECONDS, FS)] * 2) * 0.5,
        np.stack([voice, 0.6 * voice]),
        np.stack([noise, -0.3 * noise]),
    ]


def products(total: np.ndarray, parts: list[np.ndarray], size: int = FS // 2) -> Products:
    found = [
        products_of(total[:, at : at + size], [part[:, at : at + size] for part in parts])
        for at in range(0, total.shape[1], size)
    ]
    own, shared, whole = (np.array(one) for one in zip(*found, strict=True))
    return Products(own, shared, whole, size / FS)


def test_gains_are_those_of_least_squares(parts: list[np.ndarray]) -> None:
    """numpy.linalg.lstsq over all samples at once; and what it leaves over."""
    total = 0.7 * parts[0] - 1.2 * parts[1] + 0.01 * np.random.default_rng(0).normal(size=parts[0].shape)
    found = fit(products(total, parts))
    table = np.stack([part.reshape(-1) for part in parts], axis=1)
    expected, left, *_ = np.linalg.lstsq(table, total.reshape(-1), rcond=None)
    assert found.gains == pytest.approx(expected, abs=1e-9)
    assert float(found.left.sum()) == pytest.approx(float(left[0]), rel=1e-6)


@pytest.mark.parametrize("change", [10 ** (-1 / 20), 1.0])
def test_what_is_left_over_is_the_difference(parts: list[np.ndarray], change: float) -> None:
    """A sum of the parts as they are, one of them at another gain: the residual numpy subtracts."""
    total = sum(parts)
    given = [parts[0], change * parts[1], parts[2]]
    found = products(np.asarray(total), given)
    left = left_over(found, np.ones(3)).sum() / found.whole.sum()
    expected = float(((total - sum(given)) ** 2).sum() / (np.asarray(total) ** 2).sum())
    assert left == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("lag", [0, 1, -1, 64, -480, 4000])
@pytest.mark.parametrize("place", [0, 1, 2])
def test_a_part_is_found_where_it_lies(parts: list[np.ndarray], place: int, lag: int) -> None:
    """numpy.roll is the oracle of a shift; the others are in the sum too."""
    total = np.asarray(sum(parts))
    found = find_lag(total, np.roll(parts[place], lag, axis=1), 4800)
    assert found is not None
    assert (found.samples, found.polarity) == (lag, 1)
    assert found.clear > 3.0
    turned = find_lag(total, -np.roll(parts[place], lag, axis=1), 4800)
    assert turned is not None
    assert turned.polarity == -1


def test_what_is_not_there_or_fits_anywhere_does_not_stand_out(parts: list[np.ndarray]) -> None:
    total = np.asarray(parts[0] + parts[1])
    stranger = np.stack([synthesis.voice(330.0, 9, SECONDS, FS)] * 2)
    hum = np.stack([synthesis.tone(220.0, SECONDS, FS)] * 2)
    for one in (find_lag(total, stranger, 4800), find_lag(total + hum, hum, 4800)):
        assert one is None or one.clear < 2.0
    assert find_lag(total, 0.0 * stranger, 4800) is None
    assert find_lag(total[:, :1000], stranger[:, :1000], 4800) is None


def test_copies_are_told_apart_from_parts(parts: list[np.ndarray]) -> None:
    found = fit(products(np.asarray(sum(parts)), [*parts, 0.5 * parts[1]]))
    assert found.copies == {3: 1}
    assert found.gains[:3] == pytest.approx(np.ones(3), abs=1e-9)


def test_gain_and_rest() -> None:
    one = np.random.default_rng(1).normal(size=(2, 1000))
    assert gain_and_rest(-0.5 * one, one) == pytest.approx((-0.5, 0.0), abs=1e-12)
    assert gain_and_rest(0.0 * one, one) == (0.0, 1.0)


def test_a_filter_and_a_limiter_explain_a_print(parts: list[np.ndarray]) -> None:
    """scipy.signal: a shelf of two taps, and a gain that moves by 6 dB a second; a missing part is not explained."""
    total = np.asarray(sum(parts))
    filtered = oracle.lfilter([0.8, 0.3], [1.0], total, axis=1)
    moved = total * (1.0 + 0.5 * np.sin(2 * np.pi * np.arange(total.shape[1]) / FS))
    for made in (filtered, moved):
        found = processing(made, total, FS)
        assert found is not None
        assert found.plain_db - found.treated_db > 6.0
    peaks = processing(np.clip(total, -0.5, 0.5), total, FS)
    assert peaks is not None
    assert peaks.over_db > 1.0
    missing = processing(total, parts[0] + parts[2], FS)
    assert missing is not None
    assert missing.plain_db - missing.treated_db < 1.0
    assert missing.over_db < 1.0
    assert processing(0.0 * total, total, FS) is None
