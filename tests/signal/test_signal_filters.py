"""Filters against the W3C Audio EQ Cookbook, scipy and the Butterworth formula."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import signal as oracle

from mixlint.signal import butterworth
from mixlint.signal.filters import KINDS, band_response, sections

RATES = [44100.0, 48000.0, 96000.0]
HEARD = np.geomspace(20.0, 20000.0, 400)
TABLE_HZ = [20, 25, 50, 100, 200, 1000, 5000, 10000]
FLAT_Q = math.sqrt(0.5)


def in_db(response: np.ndarray) -> np.ndarray:
    return 20.0 * np.log10(np.maximum(np.abs(response), 1e-15))


@pytest.mark.parametrize(
    ("kind", "freq", "gain", "q", "expected"),
    [
        ("high-pass", 100, 0, FLAT_Q, [-27.966, -24.100, -12.305, -3.010, -0.263, 0, 0, 0]),
        ("low-pass", 5000, 0, FLAT_Q, [0, 0, 0, 0, 0, -0.006, -3.010, -14.331]),
        ("bell", 1000, 6, 1.0, [0.003, 0.004, 0.016, 0.065, 0.267, 6.000, 0.249, 0.048]),
        ("low-shelf", 200, -4.5, FLAT_Q, [-4.500, -4.499, -4.482, -4.226, -2.250, -0.008, 0, 0]),
        ("high-shelf", 8000, 3, FLAT_Q, [0, 0, 0, 0, 0, 0.001, 0.325, 2.266]),
    ],
)
def test_cookbook_values_at_48k(kind: str, freq: float, gain: float, q: float, expected: list[float]) -> None:
    """W3C Audio EQ Cookbook formulas; the same values come from an independent Web Audio engine."""
    assert in_db(band_response(kind, freq, gain, q, 12.0, TABLE_HZ)) == pytest.approx(expected, abs=6e-4)


def written_out(kind: str, freq: float, gain: float, q: float, fs: float) -> tuple[list[float], list[float]]:
    """The cookbook's formulas once more, straight from the Note, for scipy to evaluate."""
    a = 10 ** (gain / 40)
    w0 = 2 * math.pi * freq / fs
    c, alpha = math.cos(w0), math.sin(w0) / (2 * q)
    k = 2 * math.sqrt(a) * alpha
    plain = [1 + alpha, -2 * c, 1 - alpha]
    table: dict[str, tuple[list[float], list[float]]] = {
        "low-pass": ([(1 - c) / 2, 1 - c, (1 - c) / 2], plain),
        "high-pass": ([(1 + c) / 2, -(1 + c), (1 + c) / 2], plain),
        "band-pass": ([alpha, 0, -alpha], plain),
        "notch": ([1, -2 * c, 1], plain),
        "bell": ([1 + alpha * a, -2 * c, 1 - alpha * a], [1 + alpha / a, -2 * c, 1 - alpha / a]),
        "low-shelf": (
            [a * (a + 1 - (a - 1) * c + k), 2 * a * (a - 1 - (a + 1) * c), a * (a + 1 - (a - 1) * c - k)],
            [a + 1 + (a - 1) * c + k, -2 * (a - 1 + (a + 1) * c), a + 1 + (a - 1) * c - k],
        ),
        "high-shelf": (
            [a * (a + 1 + (a - 1) * c + k), -2 * a * (a - 1 + (a + 1) * c), a * (a + 1 + (a - 1) * c - k)],
            [a + 1 - (a - 1) * c + k, 2 * (a - 1 - (a + 1) * c), a + 1 - (a - 1) * c - k],
        ),
    }
    return table[kind]


@pytest.mark.parametrize("fs", RATES)
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_equals_scipy_freqz(kind: str, fs: float) -> None:
    """scipy.signal.freqz of the Note's own coefficients, 20 Hz to 20 kHz, within 0.01 dB (notch: where it passes)."""
    for freq, gain, q in [(60.0, -9.0, 0.5), (1000.0, 6.0, 1.4), (9000.0, 12.0, 4.0)]:
        b, a = written_out(kind, freq, gain, q, fs)
        _, expected = oracle.freqz(b, a, worN=HEARD, fs=fs)
        got = band_response(kind, freq, gain, q, 12.0, HEARD, fs)
        assert in_db(got) == pytest.approx(in_db(expected), abs=0.01)
        assert np.abs(got - expected).max() < 1e-9


@pytest.mark.slow
@pytest.mark.parametrize("fs", RATES)
@pytest.mark.parametrize("slope", range(6, 97, 6))
@pytest.mark.parametrize("kind", ["high-pass", "low-pass"])
def test_every_slope_equals_scipy_butter(kind: str, slope: int, fs: float) -> None:
    """scipy.signal.butter of the order slope/6, 20 Hz to 20 kHz, within 0.01 dB."""
    for freq in (40.0, 300.0, 8000.0):
        sos = oracle.butter(slope // 6, freq, kind.replace("-", ""), fs=fs, output="sos")
        _, expected = oracle.freqz_sos(sos, worN=HEARD, fs=fs)
        got = band_response(kind, freq, 0.0, FLAT_Q, float(slope), HEARD, fs)
        heard = np.abs(expected) > 1e-10
        assert in_db(got)[heard] == pytest.approx(in_db(expected)[heard], abs=0.01)


@pytest.mark.parametrize(
    ("order", "attenuations"),
    [
        (1, [3.010, 6.990, 12.304, 20.043, 0.969]),
        (2, [3.010, 12.304, 24.099, 40.000, 0.263]),
        (3, [3.010, 18.129, 36.125, 60.000, 0.067]),
        (4, [3.010, 24.099, 48.165, 80.000, 0.017]),
        (6, [3.010, 36.125, 72.247, 120.0, 0.001]),
        (8, [3.010, 48.165, 96.330, 160.0, 0.000]),
    ],
)
def test_butterworth_attenuation(order: int, attenuations: list[float]) -> None:
    """10 log10(1 + r^2n) for a high-pass at fc/r (Butterworth 1930), fc 100 Hz at 48 kHz."""
    got = in_db(band_response("high-pass", 100.0, 0.0, FLAT_Q, 6.0 * order, [100, 50, 25, 10, 200]))
    assert -got == pytest.approx(attenuations, abs=0.003)


def test_butterworth_pole_qs() -> None:
    """1/(2 sin((2k − 1)π/2n)), values of any filter text."""
    assert butterworth.pole_qs(1) == ()
    assert butterworth.pole_qs(2) == pytest.approx([0.7071], abs=1e-4)
    assert butterworth.pole_qs(4) == pytest.approx([0.5412, 1.3066], abs=1e-4)
    assert butterworth.pole_qs(6) == pytest.approx([0.5176, 0.7071, 1.9319], abs=1e-4)
    assert butterworth.pole_qs(8) == pytest.approx([0.5098, 0.6013, 0.9000, 2.5629], abs=1e-4)


def test_a_slope_is_read_as_the_nearest_order() -> None:
    assert [butterworth.order_of(s) for s in (0.0, 2.0, 6.0, 10.0, 18.0, -24.0, 96.0, 240.0)] == [
        1, 1, 1, 2, 3, 4, 16, 16,
    ]  # fmt: skip
    with pytest.raises(ValueError, match="finite"):
        butterworth.order_of(math.nan)


def test_q_shapes_a_12_db_filter_only() -> None:
    """At its corner a second-order filter has the gain Q (W3C Audio EQ Cookbook); a cascade ignores Q."""
    at_corner = in_db(band_response("high-pass", 120.0, 0.0, 2.0, 12.0, 120.0))
    assert at_corner == pytest.approx(20 * math.log10(2.0), abs=1e-9)
    assert in_db(band_response("high-pass", 120.0, 0.0, 2.0, 24.0, 120.0)) == pytest.approx(-3.0103, abs=1e-3)


@given(
    st.floats(20.0, 20000.0),
    st.floats(-24.0, 24.0),
    st.floats(0.1, 20.0),
    st.sampled_from(["bell", "low-shelf", "high-shelf"]),
)
@settings(deadline=None)
def test_a_boost_and_the_same_cut_are_flat(freq: float, gain: float, q: float, kind: str) -> None:
    """W3C Audio EQ Cookbook: A · Q makes +N dB then −N dB at one Q exactly flat."""
    pair = [band_response(kind, freq, change, q, 12.0, HEARD) for change in (gain, -gain)]
    assert np.abs(pair[0] * pair[1] - 1.0).max() < 1e-6


@given(st.floats(20.0, 20000.0), st.floats(-24.0, 24.0), st.floats(0.1, 20.0))
@settings(deadline=None)
def test_gain_at_the_set_frequency(freq: float, gain: float, q: float) -> None:
    """W3C Audio EQ Cookbook: a bell has its gain at f0, a shelf half of it in dB."""
    assert in_db(band_response("bell", freq, gain, q, 12.0, freq)) == pytest.approx(gain, abs=1e-6)
    for kind in ("low-shelf", "high-shelf"):
        assert in_db(band_response(kind, freq, gain, q, 12.0, freq)) == pytest.approx(gain / 2, abs=1e-6)


def test_band_pass_and_notch_at_their_middle() -> None:
    """W3C Audio EQ Cookbook: a band-pass passes its middle at 0 dB, a notch lets nothing of it through."""
    assert band_response("band-pass", 1000.0, 0.0, 3.0, 12.0, 1000.0) == pytest.approx(1.0)
    assert abs(band_response("notch", 1000.0, 0.0, 3.0, 12.0, 1000.0)) < 1e-9


@pytest.mark.parametrize(
    ("kind", "at_zero", "at_half_the_rate"),
    [
        ("high-pass", 1.0, 0.0),
        ("low-pass", 0.0, 1.0),
        ("band-pass", 0.0, 0.0),
        ("notch", 1.0, 1.0),
        ("bell", 1.0, 1.0),
        ("low-shelf", 1.0, 2.0),
        ("high-shelf", 2.0, 1.0),
    ],
)
def test_beyond_the_limits(kind: str, at_zero: float, at_half_the_rate: float) -> None:
    """The limits of a BiquadFilterNode, held against an engine in test_signal_web_audio; 6.0206 dB is a factor of 2."""
    for freq, expected in [(0.0, at_zero), (-5.0, at_zero), (24000.0, at_half_the_rate), (30000.0, at_half_the_rate)]:
        got = band_response(kind, freq, 6.0206, 1.0, 24.0, [50.0, 1000.0, 30000.0], 48000.0)
        assert np.abs(got) == pytest.approx([expected] * 3, abs=1e-4)


@given(
    st.sampled_from(KINDS),
    st.floats(-1e6, 1e6),
    st.floats(-200.0, 60.0),
    st.floats(-10.0, 1000.0),
    st.floats(-300.0, 300.0),
    st.sampled_from([8000.0, 44100.0, 192000.0]),
)
@settings(deadline=None)
def test_whatever_numbers_an_export_holds_the_response_is_finite(
    kind: str, freq: float, gain: float, q: float, slope: float, fs: float
) -> None:
    assert np.isfinite(band_response(kind, freq, gain, q, slope, HEARD, fs)).all()


def test_shapes_and_refusals() -> None:
    assert band_response("bell", 1000.0, 3.0, 1.0, 12.0, np.ones((3, 4))).shape == (3, 4)
    assert band_response("bell", 1000.0, 3.0, 1.0, 12.0, 50.0).shape == ()
    assert sections("high-pass", 100.0, slope_db_per_oct=30.0).shape == (3, 6)
    with pytest.raises(ValueError, match="no band is called 'tilt'"):
        band_response("tilt", 1000.0, 3.0, 1.0, 12.0, HEARD)
    with pytest.raises(ValueError, match="finite"):
        band_response("bell", math.nan, 3.0, 1.0, 12.0, HEARD)
