"""Pan laws: the two gains of a panned mono source, and the 2 × 2 matrix of a panned stereo source.

Pan runs from −100 (hard left) over 0 (centre) to +100 (hard right); positions beyond count as hard. Inside,
``p = pan / 100`` and ``x = (p + 1) / 2``. A matrix M is used as ``out = M @ [left, right]``. All functions
broadcast: pan of shape (…) gives gains of shape (…) and matrices of shape (…, 2, 2). Gains are amplitudes.

Sources: equal power and the stereo panner are normative in the W3C Web Audio API, section "StereoPannerNode
Panning". Square root and linear: documentation of open synthesis languages. Compromise (−4.5 dB): "Loudness Concepts
& Panning Laws", Carnegie Mellon University, Introduction to Computer Music. Its power form and the linear balance are
common practice. Tangent law: Pulkki, JAES 45(6), 1997, section 1.1.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

MONO_LAWS: Final = ("equal-power", "square-root", "linear", "compromise", "compromise-power", "tangent")
STEREO_LAWS: Final = ("balance", "stereo-panner")

BASE_ANGLE_DEG: Final = 30.0
"""Half the angle between the loudspeakers of the usual stereo triangle, for the tangent law."""


def _position(pan: ArrayLike) -> Floats:
    """p in −1 … +1."""
    position = np.asarray(pan, dtype=np.float64)
    if np.isnan(position).any():
        raise ValueError("pan must be a number")
    return np.clip(position / 100.0, -1.0, 1.0)


def _quarter(x: Floats, rest: Floats) -> tuple[Floats, Floats]:
    """(cos, sin) of x quarter turns, for x in 0 … 1 and ``rest`` = 1 − x.

    The cosine is written as the sine of the rest: an exact zero at x = 1, and left and right mirror to the last bit.
    """
    return np.sin(rest * (np.pi / 2.0)), np.sin(x * (np.pi / 2.0))


def mono_gains(
    pan: ArrayLike, law: str = "equal-power", *, base_angle_deg: float = BASE_ANGLE_DEG
) -> tuple[Floats, Floats]:
    """The left and right gain of a mono source.

    ==================  ==========================================  =========
    law                 left, right                                 centre
    ==================  ==========================================  =========
    equal-power         cos(x π/2), sin(x π/2)                      −3.01 dB
    square-root         √(1 − x), √x                                −3.01 dB
    linear              1 − x, x                                    −6.02 dB
    compromise          √((1 − x) cos(x π/2)), √(x sin(x π/2))      −4.52 dB
    compromise-power    (1 − x)^0.75, x^0.75                        −4.52 dB
    tangent             tan θ/tan θ₀ = (L − R)/(L + R), L² + R² = 1  −3.01 dB
    ==================  ==========================================  =========

    For the tangent law the position is an angle: θ = −p θ₀, positive to the left.

    Args:
        pan: −100 … +100, shape (…).
        law: one of ``MONO_LAWS``.
        base_angle_deg: θ₀ of the tangent law in degrees, over 0 and under 90.

    Returns:
        left and right gain as amplitudes, each of shape (…); plain numbers for a single position.

    Raises:
        ValueError: the law is not known, a pan is not a number, or the angle is out of range.
    """
    left, right = _gains(_position(pan), law, base_angle_deg)
    return left[()], right[()]


def _gains(position: Floats, law: str, base_angle_deg: float) -> tuple[Floats, Floats]:
    x, rest = (1.0 + position) / 2.0, (1.0 - position) / 2.0
    if law == "equal-power":
        return _quarter(x, rest)
    if law == "square-root":
        return np.sqrt(rest), np.sqrt(x)
    if law == "linear":
        return np.asarray(rest), np.asarray(x)
    if law == "compromise":
        cosine, sine = _quarter(x, rest)
        return np.sqrt(rest * cosine), np.sqrt(x * sine)
    if law == "compromise-power":
        return np.asarray(rest**0.75), np.asarray(x**0.75)
    if law == "tangent":
        return _tangent(position, base_angle_deg)
    raise ValueError(f"no mono pan law is called {law!r}; the laws are {', '.join(MONO_LAWS)}")


def _tangent(position: Floats, base_angle_deg: float) -> tuple[Floats, Floats]:
    if not 0.0 < base_angle_deg < 90.0:
        raise ValueError("the base angle lies between 0 and 90 degrees")
    base = np.radians(base_angle_deg)
    lean = -np.tan(position * base) / np.tan(base)
    # tan is odd and the quotient of a value with itself is exactly one, so a hard pan gives an exact zero.
    left, right = 1.0 + lean, 1.0 - lean
    length = np.hypot(left, right)
    return np.asarray(left / length), np.asarray(right / length)


def stereo_matrix(pan: ArrayLike, law: str = "balance") -> Floats:
    """The matrix of a stereo source: ``out = M @ [left, right]``.

    ``balance`` turns one side down and never moves it: L · min(1, 1 − p), R · min(1, 1 + p); 0 dB in the centre.
    ``stereo-panner`` moves the far side over: with x = p + 1 for p ≤ 0 and x = p for p > 0, gl = cos(x π/2),
    gr = sin(x π/2), it is outL = inL + inR gl, outR = inR gr for p ≤ 0, and outL = inL gl, outR = inR + inL gr
    for p > 0. The centre is transparent; hard left or right sums both legs into one.

    Args:
        pan: −100 … +100, shape (…).
        law: one of ``STEREO_LAWS``.

    Returns:
        amplitudes, shape (…, 2, 2).

    Raises:
        ValueError: the law is not known or a pan is not a number.
    """
    position = _position(pan)
    matrix = np.zeros((*position.shape, 2, 2))
    if law == "balance":
        matrix[..., 0, 0] = np.minimum(1.0, 1.0 - position)
        matrix[..., 1, 1] = np.minimum(1.0, 1.0 + position)
        return matrix
    if law == "stereo-panner":
        to_left = position <= 0.0
        cosine, sine = _quarter(
            np.where(to_left, 1.0 + position, position), np.where(to_left, -position, 1.0 - position)
        )
        matrix[..., 0, 0] = np.where(to_left, 1.0, cosine)
        matrix[..., 0, 1] = np.where(to_left, cosine, 0.0)
        matrix[..., 1, 0] = np.where(to_left, 0.0, sine)
        matrix[..., 1, 1] = np.where(to_left, sine, 1.0)
        return matrix
    raise ValueError(f"no stereo pan law is called {law!r}; the laws are {', '.join(STEREO_LAWS)}")
