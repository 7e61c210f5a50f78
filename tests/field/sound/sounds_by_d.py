"""Sounds and mishaps of writer d: piano, hand percussion, synth bass, applause; hum, telephones, gates, lossy files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage, signal

from tests.field.sound import sounds_by_a as a
from tests.field.sound import sounds_by_b as b

Sound = NDArray[np.float64]
Rng = np.random.Generator


def both(x: Sound, level_l: float = 1.0, level_r: float = 1.0) -> Sound:
    """One leg on two."""
    return np.stack([x * level_l, x * level_r], axis=1)


def rms_db(x: Sound) -> float:
    """RMS in dBFS."""
    return float(10 * np.log10(np.mean(x**2) + 1e-20))


def peak_db(x: Sound) -> float:
    """Peak in dBFS."""
    return float(20 * np.log10(np.max(np.abs(x)) + 1e-10))


def alter(path: Path, change: Callable[[Sound, int], Sound]) -> None:
    """Change a file's samples; never over full scale."""
    x, rate = b.read(path)
    b.write(path, np.clip(change(x, rate), -1.0, 1.0 - 2.0**-23), rate)


def squeeze(x: Sound, rate: int, threshold_db: float, ratio: float) -> Sound:
    """A gentle compressor, peaks let through a little."""
    level = np.abs(x) if x.ndim == 1 else np.max(np.abs(x), axis=1)
    slow = ndimage.uniform_filter1d(ndimage.maximum_filter1d(level, int(0.01 * rate)), int(0.03 * rate))
    over = np.maximum(20 * np.log10(slow + 1e-9) - threshold_db, 0.0)
    gain = 10.0 ** (-over * (1 - 1 / ratio) / 20.0)
    return x * (gain if x.ndim == 1 else gain[:, None])


# instruments


def piano_note(midi: float, seconds: float, vel: float, rate: int, rng: Rng) -> Sound:
    """One struck note of two strings, damped at its end."""
    f0 = a.hz(midi)
    k = np.arange(1, int(min(32, 9000.0 / f0)) + 1, dtype=float)
    freq = f0 * k * np.sqrt(1.0 + 3.5e-4 * (f0 / 260.0) * k * k)
    amp = k**-0.95 * np.exp(-freq / (900.0 + 2600.0 * vel)) * np.abs(np.sin(np.pi * k * 0.118)) * 2.2
    amp *= 1.0 + 0.18 * rng.standard_normal(len(k))
    life = 9.0 * (110.0 / f0) ** 0.45 / (1.0 + (freq / 1400.0) ** 0.8)
    freq = np.concatenate([freq, freq * 1.00045])
    amp = np.concatenate([amp, 0.7 * amp])
    life = np.concatenate([life, 0.7 * life])
    n = int((seconds + 0.12) * rate)
    x = a.ring(freq, amp, life, rng.uniform(0, 6.28, len(freq)), n, rate)
    m = int(0.03 * rate)
    thump = b.butter(rng.standard_normal(m), rate, "bandpass", (120.0, 1100.0), 1) * np.exp(
        -np.arange(m) / (0.006 * rate)
    )
    x[:m] += 0.4 * vel * thump
    rise = int(0.002 * rate)
    x[:rise] *= np.linspace(0.0, 1.0, rise)
    stop = int(0.12 * rate)
    x[-stop:] *= np.cos(np.linspace(0, np.pi / 2, stop)) ** 2
    return vel * x


def shaker(rate: int, rng: Rng, vel: float) -> Sound:
    """One stroke of a shaker."""
    n = int(rng.uniform(0.06, 0.085) * rate)
    return vel * b.butter(rng.standard_normal(n), rate, "bandpass", (4200.0, 11500.0)) * np.hanning(n) ** 0.8


def tambourine(rate: int, rng: Rng, vel: float) -> Sound:
    """One stroke of a tambourine."""
    n = int(0.28 * rate)
    t = np.arange(n) / rate
    freq = rng.uniform(4200.0, 12500.0, 26)
    x = a.ring(freq, rng.uniform(0.3, 1.0, 26), rng.uniform(0.12, 0.45, 26), rng.uniform(0, 6.28, 26), n, rate) * 0.09
    x += 0.3 * b.butter(rng.standard_normal(n), rate, "highpass", 4500.0) * np.exp(-t / 0.03)
    x[-600:] *= np.linspace(1, 0, 600)
    x[:48] *= np.linspace(0, 1, 48)
    return vel * x


def box(rate: int, rng: Rng, vel: float, slap: bool) -> Sound:
    """One stroke on a wooden box drum, in the middle or at the edge."""
    n = int(0.35 * rate)
    t = np.arange(n) / rate
    f = (160.0 if slap else 72.0) * rng.uniform(0.98, 1.02) + 45.0 * np.exp(-t / 0.015)
    x = (0.35 if slap else 1.0) * np.sin(2 * np.pi * np.cumsum(f) / rate) * np.exp(-t / (0.05 if slap else 0.11))
    low, high = (900.0, 7000.0) if slap else (300.0, 2200.0)
    x += (0.9 if slap else 0.25) * b.butter(rng.standard_normal(n), rate, "bandpass", (low, high)) * np.exp(-t / 0.018)
    x[:40] *= np.linspace(0, 1, 40)
    x[-900:] *= np.linspace(1, 0, 900)
    return vel * x


def synth_bass(notes: Sequence[tuple[float, float, float, float]], n: int, rate: int) -> Sound:
    """A saw-like bass whose filter opens on every note."""
    dark, bright = b.table(5, 1.5, seed=2), b.table(40, 1.1, seed=2)
    x = np.zeros(n)
    for at, length, midi, vel in notes:
        m = int((length + 0.05) * rate)
        t = np.arange(m) / rate
        freq = np.full(m, a.hz(midi)) * (1 + 0.004 * np.exp(-t / 0.02))
        opened = (0.15 + 0.5 * vel) * np.exp(-t / 0.16)
        tone = (1 - opened) * b.from_table(dark, freq, rate) + opened * b.from_table(bright, freq, rate)
        gate = np.minimum(1, t / 0.004) * np.clip((length + 0.05 - t) / 0.05, 0, 1)
        a.lay(x, vel * tone * gate, int(at * rate))
    return b.butter(x, rate, "highpass", 28.0)


def clappers(rate: int, n: int, begin: float, end: float, count: int, rng: Rng) -> Sound:
    """Applause on two legs: many hands, swelling and thinning out."""
    hands = []
    for _ in range(24):
        m = int(0.05 * rate)
        t = np.arange(m) / rate
        f = rng.uniform(750.0, 2100.0)
        clap = b.butter(rng.standard_normal(m), rate, "bandpass", (f * 0.7, f * 1.7), 1) * np.exp(
            -t / rng.uniform(0.003, 0.008)
        )
        hands.append(clap * np.minimum(1, t / 0.0005))
    out = np.zeros((n, 2))
    for _ in range(count):
        t = begin + abs(rng.normal(0, 0.5))
        stop = end - abs(rng.normal(0, 0.8))
        near, where = rng.uniform(0.25, 1.0) ** 2, rng.uniform(-0.9, 0.9)
        pace = rng.uniform(0.2, 0.33)
        own = hands[int(rng.integers(24))]
        while t < stop:
            clap = own * near * rng.uniform(0.7, 1.1) * (1 - 0.6 * max(0.0, (t - begin) / (end - begin) - 0.5))
            a.lay(out, b.spread(clap, where), int(t * rate))
            t += pace * rng.uniform(0.9, 1.12)
    return out


# mishaps


def hum(n: int, rate: int, base: float, level_db: float) -> Sound:
    """Mains hum with its harmonics, RMS in dBFS."""
    t = np.arange(n) / rate
    x = np.zeros(n)
    for k, g in ((1, 1.0), (2, 0.55), (3, 0.7), (4, 0.2), (5, 0.45), (7, 0.3), (9, 0.18), (11, 0.1), (13, 0.06)):
        x += g * np.sin(2 * np.pi * base * k * t + 0.7 * k)
    return x * a.db(level_db) / float(np.sqrt(np.mean(x**2)))


def telephone(n: int, rate: int, begin: float, end: float, level: float, rng: Rng) -> Sound:
    """What a mobile telephone near a cable induces: bursts at 217 Hz in groups."""
    x = np.zeros(n)
    t = begin
    while t < end:
        for length in (0.045, 0.045, 0.09, 0.32):
            stop = min(t + length, end)
            while t < stop:
                m = int(0.00058 * rate)
                a.lay(x, level * rng.uniform(0.9, 1.0) * np.ones(m), int(t * rate))
                t += 1 / 216.7
            t += 0.05
        t += 0.18
    return b.butter(b.butter(x, rate, "highpass", 90.0, 1), rate, "lowpass", 6500.0, 1)


def gate(x: Sound, rate: int, threshold_db: float, hold_s: float = 0.0) -> Sound:
    """A gate that shuts in two milliseconds and opens late."""
    level = np.sqrt(ndimage.uniform_filter1d(x**2, int(0.012 * rate)))
    opened = ndimage.maximum_filter1d((level > a.db(threshold_db)).astype(float), max(1, int(hold_s * rate)))
    return x * ndimage.uniform_filter1d(opened, int(0.002 * rate))


def lossy(x: Sound, rate: int, cut: float, keep_db: float) -> Sound:
    """A file out of a coder at far too low a rate: a hard ceiling, and weak parts that come and go."""
    f, _, z = signal.stft(x, rate, nperseg=1024, noverlap=768)
    mag = np.abs(z)
    strongest = ndimage.maximum_filter(mag, size=(25, 1))
    z = np.where(mag < strongest * a.db(-keep_db), 0.0, z)
    z = np.round(z / (strongest * 0.12 + 1e-9)) * (strongest * 0.12 + 1e-9)
    z[f > cut] = 0.0
    _, y = signal.istft(z, rate, nperseg=1024, noverlap=768)
    return np.pad(y, (0, max(0, len(x) - len(y))))[: len(x)]
