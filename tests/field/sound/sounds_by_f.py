"""Sounds of writer f: synthesizers, programmed drums, piano in stereo, shaker, echoes, and the small vandalism."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from scipy import signal

from tests.field.sound.sounds_by_a import band, body, db, hz, lay, load, pan, ring, save, through
from tests.field.sound.sounds_by_b import from_table, table

Array = npt.NDArray[np.float64]
Rng = np.random.Generator
Note = tuple[float, float, float, float]


@lru_cache(maxsize=64)
def _wave(count: int, tilt: float) -> Array:
    """A period of a sawtooth that falls by a tilt."""
    return table(count, tilt, seed=5)


def synth(
    notes: Sequence[Note],
    n: int,
    rate: int,
    rng: Rng,
    *,
    voices: int = 3,
    cents: float = 9.0,
    rise: float = 0.006,
    fall: float = 0.15,
    life: float = 0.0,
    tilt: float = 1.25,
    open_s: float = 0.0,
    wide: float = 70.0,
) -> Array:
    """Detuned saws on two legs; with open_s a brighter copy dies away first, as a filter closes."""
    out = np.zeros((n, 2))
    for at, length, midi, vel in notes:
        m = int((length + fall) * rate)
        t = np.arange(m) / rate
        env = np.minimum(1.0, t / rise) * np.where(
            t < length, 1.0, np.cos(np.clip((t - length) / fall, 0, 1) * 1.5708) ** 2
        )
        env = vel * env * (np.exp(-t / life) if life else 1.0)
        count = int(min(70, 0.4 * rate / hz(midi)))
        for v in range(voices):
            off = 2.0 * v / (voices - 1) - 1.0 if voices > 1 else 0.0
            freq = np.full(m, hz(midi) * 2.0 ** ((off * cents + rng.normal(0, 0.8)) / 1200.0))
            start = float(rng.random())
            tone = from_table(_wave(count, tilt + (0.7 if open_s else 0.0)), freq, rate, start)
            if open_s:
                tone = tone + 0.8 * np.exp(-t / open_s) * from_table(_wave(count, tilt - 0.3), freq, rate, start)
            lay(out, pan(tone * env / np.sqrt(voices), wide * off), int(at * rate))
    return out


def machine(piece: str, rate: int) -> Array:
    """One sample of a drum machine; the same every time."""
    rng = np.random.default_rng({"kick": 11, "clap": 12, "hat": 13, "open": 14, "shake": 15, "crash": 16}[piece])
    n = int({"kick": 0.42, "clap": 0.35, "hat": 0.09, "open": 0.3, "shake": 0.11, "crash": 2.2}[piece] * rate)
    t = np.arange(n) / rate
    noise = rng.standard_normal(n)
    if piece == "kick":
        x = np.sin(2 * np.pi * np.cumsum(48.0 + 130.0 * np.exp(-t / 0.022)) / rate) * np.exp(-t / 0.12)
        x = np.tanh(1.6 * x) + 0.2 * band(noise, rate, 2000.0, 7000.0) * np.exp(-t / 0.005)
    elif piece == "clap":
        steps = sum(np.exp(-np.maximum(t - d, 0) / 0.006) * (t >= d) for d in (0.0, 0.011, 0.021))
        x = band(noise, rate, 900.0, 9000.0) * (
            0.6 * steps + 1.2 * np.exp(-np.maximum(t - 0.03, 0) / 0.07) * (t > 0.03)
        )
        x += 0.9 * np.sin(2 * np.pi * 192.0 * t) * np.exp(-t / 0.06)
    elif piece == "crash":
        x = band(noise, rate, 2500.0, 16000.0, 1) * np.exp(-t / 0.5)
    else:
        life = {"hat": 0.018, "open": 0.09, "shake": 0.03}[piece]
        shape = np.exp(-t / life) if piece != "shake" else np.sin(np.pi * np.minimum(t / 0.11, 1.0)) ** 2
        x = band(noise, rate, 6500.0, 17000.0) * shape
    a, b = int(0.0005 * rate), int(0.02 * rate)
    x[:a] *= np.linspace(0, 1, a)
    x[-b:] *= np.linspace(1, 0, b)
    return np.asarray(x)


def pattern(piece: str, hits: Sequence[tuple[float, float]], n: int, rate: int) -> Array:
    """Programmed hits (seconds, velocity) of one sample."""
    x = np.zeros(n)
    sample = machine(piece, rate)
    for at, vel in hits:
        lay(x, sample * vel, int(at * rate))
    return x


def duck(n: int, rate: int, beats: Sequence[float], depth: float = 0.45) -> Array:
    """The gain of a pad pressed down by a kick drum."""
    g = np.ones(n)
    dip = 1.0 - depth * np.exp(-np.arange(int(0.35 * rate)) / (0.1 * rate)) * np.linspace(1, 0, int(0.35 * rate))
    soft = int(0.004 * rate)
    dip[:soft] = np.linspace(1.0, dip[soft], soft)
    for at in beats:
        i = int(at * rate)
        j = min(n, i + len(dip))
        if j > i:
            g[i:j] = np.minimum(g[i:j], dip[: j - i])
    return g


def echoes(
    x: Array, rate: int, step: float, back: float, count: int, *, cross: bool = True, high: float = 4200.0
) -> Array:
    """A delay return, wholly wet: repeats that lose their top, from side to side."""
    n = len(x)
    out = np.zeros((n, 2))
    now, level = band(x, rate, 250.0, high, 1), 1.0
    for k in range(1, count + 1):
        d = int(k * step * rate)
        if d >= n:
            break
        side = (-38.0 if k % 2 else 38.0) if cross else 0.0
        out[d:] += pan(now[: n - d] * level, side)
        now, level = band(now, rate, None, high, 1), level * back
    return out


def key(midi: float, length: float, vel: float, rate: int, rng: Rng) -> Array:
    """One note of a piano, damped when let go."""
    f0 = hz(midi)
    count = int(min(32, 8500.0 / f0))
    k = np.arange(1, count + 1, dtype=float)
    freq = f0 * k * np.sqrt(1.0 + 2.2e-4 * (f0 / 260.0) * k * k)
    amp = np.abs(np.sin(np.pi * k * 0.12)) ** 0.7 / k**0.8 * np.exp(-freq / (700.0 + 1900.0 * vel))
    amp *= 1.0 + 0.12 * rng.standard_normal(count)
    life = 9.0 * (260.0 / f0) ** 0.5 / (1.0 + (freq / 1100.0) ** 0.9)
    freq = np.concatenate([freq, freq * 1.0006])
    amp = np.concatenate([amp, 0.5 * amp])
    life = np.maximum(np.concatenate([life * 0.6, life]), 0.1)
    n = int((length + 0.25) * rate)
    x = ring(freq, amp, life, rng.uniform(0, 6.28, len(freq)), n, rate)
    t = np.arange(n) / rate
    x *= np.minimum(1.0, t / 0.002) * np.where(t < length, 1.0, np.exp(-(t - length) / 0.05))
    m = int(0.03 * rate)
    x[:m] += 0.12 * vel * band(rng.standard_normal(m), rate, 80.0, 1800.0, 1) * np.hanning(m)
    x[-m:] *= np.linspace(1, 0, m)
    return x * vel**1.2


def grand(notes: Sequence[Note], n: int, rate: int, rng: Rng) -> Array:
    """A piano before a pair of microphones: bass strings left, treble right, by level and by arrival."""
    out = np.zeros((n, 2))
    for at, length, midi, vel in notes:
        tone = key(midi, length, vel, rate, rng)
        for leg, mic in enumerate((-0.28, 0.28)):
            d = float(np.hypot((midi - 62.0) / 30.0 * 0.5 - mic, 0.45))
            lay(out[:, leg], tone * 0.45 / d, int((at + d / 343.0) * rate))
    return out


def shaker(hits: Sequence[tuple[float, float]], n: int, rate: int, rng: Rng) -> Array:
    """A shaker: seeds thrown to and fro, no two alike."""
    x = np.zeros(n)
    for at, vel in hits:
        m = int(rng.uniform(0.09, 0.13) * rate)
        t = np.linspace(0, 1, m)
        shape = np.exp(-(((t - 0.55) / 0.17) ** 2)) + 0.25 * np.exp(-(((t - 0.2) / 0.12) ** 2))
        grain = rng.standard_normal(m) * (1.0 + 0.4 * (rng.random(m) > 0.97))
        edge = np.minimum(1.0, np.minimum(t, 1 - t) * 20.0)
        lay(x, vel * band(grain, rate, 3200.0, 17500.0, 1) * shape * edge, int((at - 0.06) * rate))
    return x


def score(text: str) -> list[tuple[float, float, float, float, str, str]]:
    """A tune written in short: bar, beat, beats long, note, vowel, consonant; rows ended by semicolons."""
    out = []
    for row in text.split(";"):
        bar, beat, length, note, vowel, sound = row.split()
        out.append((float(bar), float(beat), float(length), float(note), vowel, "" if sound == "-" else sound))
    return out


def placed(x: Array, left: Array, right: Array, level: float) -> Array:
    """Room of one leg or two, at a level below the direct sound, for what is heard in the room."""
    mono = x if x.ndim == 1 else x.mean(axis=1)
    return db(level) * np.stack([through(mono, left), through(mono, right)], axis=1)


def box(rate: int, rng: Rng, share: float = 0.2) -> Array:
    """The body of a guitar as heard a little off the sound hole: its modes held back against the strings."""
    x = body(rate, rng)
    x[1:] *= share
    return x


def legs(x: Array) -> Array:
    """One leg as two equal ones."""
    return np.stack([x, x], axis=1)


def rms(x: Array) -> float:
    """RMS in dBFS."""
    return float(10.0 * np.log10(np.mean(np.square(x)) + 1e-20))


def peak(x: Array) -> float:
    """Peak in dBFS."""
    return float(20.0 * np.log10(np.max(np.abs(x)) + 1e-12))


# what goes wrong


def edit(path: Path, change: Callable[[Array, int], Array]) -> None:
    """Read a file, change it, write it back in the same form."""
    x, rate = load(path)
    save(path, change(x, rate), rate)


def stretched(x: Array, ratio: float) -> Array:
    """Played slower by a ratio over 1 (longer and flatter), by fine interpolation."""
    up = signal.resample_poly(x, 4, 1, axis=0)
    at = np.arange(int(len(x) * ratio)) / ratio * 4.0
    own = np.arange(len(up))
    if x.ndim == 1:
        return np.interp(at, own, up)
    return np.stack([np.interp(at, own, up[:, i]) for i in range(x.shape[1])], axis=1)


def slipped(x: Array, rate: int, begin: float, end: float, by: float, cross: float = 0.006) -> Array:
    """A stretch of a track that slips later, with crossfades at both ends."""
    moved = np.roll(x, int(by * rate), axis=0)
    t = np.arange(len(x)) / rate
    share = np.clip((t - begin) / cross, 0, 1) * np.clip((end - t) / cross, 0, 1)
    share = share.reshape((-1,) + (1,) * (x.ndim - 1))
    return np.asarray(x * (1 - share) + moved * share)


def phone(n: int, rate: int) -> Array:
    """A mobile phone near a pickup: 217 bursts a second, in groups."""
    t = np.arange(n) / rate
    slot = (t * 216.7) % 1.0
    burst = (slot < 0.125) * np.sin(2 * np.pi * 1733.0 * t) + 0.9 * (slot < 0.125)
    group = ((t % 0.47) < 0.3) & ((t % 2.3) < 1.9)
    return band(burst * group, rate, 120.0, 9000.0, 1)


def hum(n: int, rate: int, mains: float = 50.0) -> Array:
    """An earth loop: mains and its harmonics."""
    t = np.arange(n) / rate
    rows = ((1, 1.0), (2, 0.45), (3, 0.6), (4, 0.15), (5, 0.35), (7, 0.2), (9, 0.1))
    return np.asarray(sum(a * np.sin(2 * np.pi * mains * k * t + 0.7 * k) for k, a in rows))


def fault(
    ident: str, kind: str, names: list[str], grade: str, says: str, time: tuple[float, float], cure: str, plant: Any
) -> dict[str, Any]:
    """A row of FAULTS."""
    return {
        "id": ident,
        "class": kind,
        "names": names,
        "grade": grade,
        "says": says,
        "time_s": time,
        "cure": cure,
        "plant": plant,
    }
