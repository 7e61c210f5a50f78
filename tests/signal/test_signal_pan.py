"""Pan laws against published tables and formulas."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike

from mixlint.signal.pan import MONO_LAWS, STEREO_LAWS, mono_gains, stereo_matrix

PANS = st.floats(-100.0, 100.0)


@pytest.mark.parametrize(
    ("law", "half_left", "centre"),
    [
        ("equal-power", (0.9239, 0.3827), 0.7071),  # W3C Web Audio API, StereoPannerNode Panning
        ("square-root", (0.8660, 0.5000), 0.7071),  # documentation of an open synthesis language
        ("linear", (0.7500, 0.2500), 0.5000),  # Carnegie Mellon panning-law note
        ("compromise", (0.8324, 0.3093), 0.5946),  # the same, figures 6 to 8
        ("compromise-power", (0.8059, 0.3536), 0.5946),  # common practice
        ("tangent", (0.9391, 0.3437), 0.7071),  # Pulkki, JAES 45(6), 1997, loudspeakers at 30 degrees
    ],
)
def test_published_gains(law: str, half_left: tuple[float, float], centre: float) -> None:
    assert mono_gains(-50.0, law) == pytest.approx(half_left, abs=5e-5)
    assert mono_gains(50.0, law) == pytest.approx(half_left[::-1], abs=5e-5)
    assert mono_gains(0.0, law) == pytest.approx((centre, centre), abs=5e-5)


@pytest.mark.parametrize("law", MONO_LAWS)
def test_a_hard_pan_leaves_exactly_nothing_on_the_other_side(law: str) -> None:
    assert mono_gains(-100.0, law) == (1.0, 0.0)
    assert mono_gains(100.0, law) == (0.0, 1.0)
    assert mono_gains(170.0, law) == (0.0, 1.0)


def controller_10(value: ArrayLike) -> np.ndarray:
    """The position of MIDI controller 10 on the way from hard left (0 and 1) over 64 to hard right (127)."""
    return 200.0 * np.maximum(0.0, np.asarray(value) - 1.0) / 126.0 - 100.0


def test_every_controller_value_of_rp_036() -> None:
    """MIDI Manufacturers Association RP-036: L = 20 log10 cos(π/2 max(0, cc − 1)/126), R with the sine.

    The equal-power law has to give these gains at the positions of the controller.
    """
    left, right = mono_gains(controller_10(np.arange(128)))
    for controller in range(128):
        angle = math.pi / 2 * max(0, controller - 1) / 126
        assert left[controller] == pytest.approx(math.cos(angle), abs=1e-12)
        assert right[controller] == pytest.approx(math.sin(angle), abs=1e-12)


@pytest.mark.parametrize(
    ("controller", "left_db", "right_db"),
    [(32, -0.67, -8.48), (33, -0.71, -8.21), (64, -3.01, -3.01), (95, -8.21, -0.71)],
)
def test_spot_values_of_rp_036(controller: int, left_db: float, right_db: float) -> None:
    """Values in dB of RP-036, two decimals."""
    left, right = mono_gains(controller_10(controller))
    assert 20 * math.log10(left) == pytest.approx(left_db, abs=0.005)
    assert 20 * math.log10(right) == pytest.approx(right_db, abs=0.005)


@given(PANS, st.sampled_from(["equal-power", "square-root", "tangent"]), st.floats(5.0, 80.0))
@settings(deadline=None)
def test_equal_power_laws_keep_the_power(pan: float, law: str, angle: float) -> None:
    left, right = mono_gains(pan, law, base_angle_deg=angle)
    assert left**2 + right**2 == pytest.approx(1.0, abs=1e-12)


@given(PANS)
@settings(deadline=None)
def test_the_linear_law_keeps_the_sum(pan: float) -> None:
    left, right = mono_gains(pan, "linear")
    assert left + right == pytest.approx(1.0, abs=1e-12)


@given(PANS)
@settings(deadline=None)
def test_the_compromise_is_the_geometric_mean_of_two_laws(pan: float) -> None:
    """Carnegie Mellon panning-law note: the −4.5 dB law lies half-way in dB between linear and equal power."""
    for side in (0, 1):
        product = mono_gains(pan, "linear")[side] * mono_gains(pan, "equal-power")[side]
        assert mono_gains(pan, "compromise")[side] ** 2 == pytest.approx(product, abs=1e-12)


@given(PANS, PANS, st.sampled_from(MONO_LAWS))
@settings(deadline=None)
def test_laws_mirror_and_never_turn_back(one: float, other: float, law: str) -> None:
    left, right = mono_gains(one, law)
    mirrored = mono_gains(-one, law)
    assert (left, right) == (mirrored[1], mirrored[0])
    low, high = sorted((one, other))
    assert mono_gains(low, law)[1] <= mono_gains(high, law)[1] + 1e-12
    assert mono_gains(low, law)[0] >= mono_gains(high, law)[0] - 1e-12


@given(PANS, st.floats(5.0, 80.0))
@settings(deadline=None)
def test_the_tangent_law_places_the_image_at_its_angle(pan: float, base: float) -> None:
    """Pulkki, JAES 45(6), 1997, section 1.1: tan θ / tan θ₀ = (L − R)/(L + R)."""
    left, right = mono_gains(pan, "tangent", base_angle_deg=base)
    angle = math.degrees(math.atan((left - right) / (left + right) * math.tan(math.radians(base))))
    assert angle == pytest.approx(-pan / 100 * base, abs=1e-9)


@pytest.mark.parametrize(
    ("pan", "left", "right"),
    [(-100, 1.25, 0.0), (-50, 1.1768, 0.1768), (0, 1.0, 0.25), (50, 0.7071, 0.9571), (100, 0.0, 1.25)],
)
def test_stereo_panner(pan: float, left: float, right: float) -> None:
    """W3C Web Audio API, StereoPannerNode Panning, stereo input, with left 1 and right 0.25."""
    assert stereo_matrix(pan, "stereo-panner") @ [1.0, 0.25] == pytest.approx([left, right], abs=5e-5)


@pytest.mark.parametrize(("pan", "left", "right"), [(-100, 1, 0), (-50, 1, 0.5), (0, 1, 1), (50, 0.5, 1), (100, 0, 1)])
def test_balance(pan: float, left: float, right: float) -> None:
    """Common practice, no source: one side is turned down, the other stays."""
    assert stereo_matrix(pan).tolist() == [[left, 0.0], [0.0, right]]


@given(PANS)
@settings(deadline=None)
def test_a_stereo_panner_loses_nothing_that_sits_on_one_side(pan: float) -> None:
    """Each leg alone keeps its power wherever the panner stands; the balance does not."""
    powers = (stereo_matrix(pan, "stereo-panner") ** 2).sum(axis=0)
    assert powers == pytest.approx([1.0, 1.0], abs=1e-12)


def test_shapes_broadcast() -> None:
    pans = np.linspace(-100, 100, 24).reshape(2, 3, 4)
    for law in MONO_LAWS:
        left, right = mono_gains(pans, law)
        assert left.shape == right.shape == (2, 3, 4)
        assert (left[1, 2, 3], right[1, 2, 3]) == pytest.approx(mono_gains(pans[1, 2, 3], law))
    for law in STEREO_LAWS:
        assert stereo_matrix(pans, law).shape == (2, 3, 4, 2, 2)
        assert stereo_matrix(pans, law)[0, 1, 2] == pytest.approx(stereo_matrix(pans[0, 1, 2], law))


def test_unusable_settings_are_named() -> None:
    with pytest.raises(ValueError, match="no mono pan law is called 'wide'"):
        mono_gains(0.0, "wide")
    with pytest.raises(ValueError, match="no stereo pan law is called 'wide'"):
        stereo_matrix(0.0, "wide")
    with pytest.raises(ValueError, match="number"):
        mono_gains(math.nan)
    with pytest.raises(ValueError, match="angle"):
        mono_gains(0.0, "tangent", base_angle_deg=90.0)
