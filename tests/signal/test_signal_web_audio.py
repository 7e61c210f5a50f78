"""Pan laws and filters against an independent Web Audio engine, sample by sample."""

from __future__ import annotations

import asyncio
import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy import signal as oracle

from mixlint.signal.filters import sections
from mixlint.signal.pan import mono_gains, stereo_matrix

engine = pytest.importorskip("web_audio_api")

RATE = 48000.0
FRAMES = 4096


def rendered(legs: np.ndarray, build: Callable[[Any], Any], out_legs: int = 2) -> np.ndarray:
    """The output (out_legs, n) of one node, made by ``build``, fed with ``legs``."""

    async def run() -> np.ndarray:
        context = engine.OfflineAudioContext(out_legs, FRAMES, RATE)
        buffer = context.createBuffer(legs.shape[0], FRAMES, RATE)
        for place, leg in enumerate(legs.astype(np.float32)):
            buffer.copyToChannel(leg, place)
        player = context.createBufferSource()
        player.buffer = buffer
        node = build(context)
        player.connect(node)
        node.connect(context.destination)
        player.start()
        result = await context.startRendering()
        return np.stack([np.asarray(result.getChannelData(k), dtype=np.float64) for k in range(out_legs)])

    return asyncio.run(run())


def noise(legs: int, seed: int = 1) -> np.ndarray:
    return np.random.default_rng(seed).uniform(-0.5, 0.5, (legs, FRAMES)).astype(np.float32).astype(np.float64)


def panner(pan: float) -> Callable[[Any], Any]:
    def build(context: Any) -> Any:
        node = context.createStereoPanner()
        node.pan.value = pan / 100
        return node

    return build


@pytest.mark.parametrize("pan", [-100.0, -62.5, -25.0, 0.0, 12.5, 50.0, 100.0])
def test_panner(pan: float) -> None:
    """W3C Web Audio API, StereoPannerNode: mono and stereo input.

    The engine seems to read its sine from a table: between steps of 100/256 it is off by up to 7e-4, on them by 1e-7.
    """
    mono, pair = noise(1), noise(2)
    expected = np.stack(mono_gains(pan))[:, None] * mono
    assert np.abs(rendered(mono, panner(pan)) - expected).max() < 1e-6
    assert np.abs(rendered(pair, panner(pan)) - stereo_matrix(pan, "stereo-panner") @ pair).max() < 1e-6


@pytest.mark.parametrize(
    ("kind", "name", "gain_db", "q"),
    [
        ("high-pass", "highpass", 0.0, 1.3),
        ("low-pass", "lowpass", 0.0, 0.6),
        ("band-pass", "bandpass", 0.0, 2.0),
        ("notch", "notch", 0.0, 2.0),
        ("bell", "peaking", -7.5, 1.4),
        ("low-shelf", "lowshelf", 5.0, math.sqrt(0.5)),
        ("high-shelf", "highshelf", -5.0, math.sqrt(0.5)),
    ],
)
@pytest.mark.parametrize("freq", [90.0, 2000.0, 12000.0])
def test_biquad(kind: str, name: str, gain_db: float, q: float, freq: float) -> None:
    """W3C Web Audio API, BiquadFilterNode: low-pass and high-pass take Q in dB, shelves have S = 1."""

    def build(context: Any) -> Any:
        node = context.createBiquadFilter()
        node.type = name
        node.frequency.value = freq
        node.gain.value = gain_db
        node.Q.value = 20 * math.log10(q) if name in ("highpass", "lowpass") else q
        return node

    signal = noise(1)
    expected = oracle.sosfilt(sections(kind, freq, gain_db, q, 12.0, RATE), signal, axis=1)
    assert np.abs(rendered(signal, build, out_legs=1) - expected).max() < 1e-5


@pytest.mark.parametrize("freq", [0.0, RATE / 2])
@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("high-pass", "highpass"),
        ("low-pass", "lowpass"),
        ("bell", "peaking"),
        ("low-shelf", "lowshelf"),
        ("high-shelf", "highshelf"),
    ],
)
def test_biquad_at_its_limits(kind: str, name: str, freq: float) -> None:
    """What the engine does at 0 Hz and at half the sample rate is what ``sections`` says it is."""

    def build(context: Any) -> Any:
        node = context.createBiquadFilter()
        node.type = name
        node.frequency.value = freq
        node.gain.value = 6.0
        return node

    signal = noise(1)
    expected = oracle.sosfilt(sections(kind, freq, 6.0, 1.0, 12.0, RATE), signal, axis=1)
    assert np.abs(rendered(signal, build, out_legs=1) - expected).max() < 1e-3
