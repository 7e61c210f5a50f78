"""Sound-making shared by the sets of writer b: strings, voices, kit, amps, rooms, hiss, files."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np
import soundfile
from numpy.typing import NDArray
from scipy import signal

Sound = NDArray[np.float64]
Note = tuple[float, float, float, str, str]

FORMANTS: dict[str, tuple[float, float, float, float, float]] = {
    "a": (740, 1180, 2550, 3450, 4400),
    "e": (480, 1900, 2550, 3500, 4500),
    "i": (310, 2250, 2950, 3600, 4600),
    "o": (480, 850, 2450, 3300, 4300),
    "u": (330, 760, 2350, 3250, 4250),
}
WIDTHS = (80.0, 100.0, 140.0, 220.0, 320.0)
SPEED_OF_SOUND = 343.0


def hertz(midi: float) -> float:
    """Frequency of a note number."""
    return float(440.0 * 2.0 ** ((midi - 69.0) / 12.0))


def gain(db: float) -> float:
    """Amplitude of decibels."""
    return float(10.0 ** (db / 20.0))


def place(buffer: Sound, rate: int, at_s: float, sound: Sound, level: float = 1.0) -> None:
    """Add a sound into a buffer at a time."""
    start = round(at_s * rate)
    skip = max(0, -start)
    end = min(len(buffer), start + len(sound))
    if end > start + skip:
        buffer[start + skip : end] += level * sound[skip : end - start]


def butter(sound: Sound, rate: int, kind: str, freq: float | tuple[float, float], order: int = 2) -> Sound:
    """Butterworth filter along the first axis."""
    sos = signal.butter(order, freq, kind, fs=rate, output="sos")
    return np.asarray(signal.sosfilt(sos, sound, axis=0))


def peak_filter(sound: Sound, rate: int, freq: float, db: float, q: float) -> Sound:
    """Bell equalizer."""
    a = 10.0 ** (db / 40.0)
    w = 2 * np.pi * freq / rate
    alpha = np.sin(w) / (2 * q)
    b = np.array([1 + alpha * a, -2 * np.cos(w), 1 - alpha * a])
    c = np.array([1 + alpha / a, -2 * np.cos(w), 1 - alpha / a])
    return np.asarray(signal.lfilter(b / c[0], c / c[0], sound, axis=0))


def smooth_noise(rng: np.random.Generator, n: int, every: int) -> Sound:
    """Slow random curve of unit size."""
    points = rng.standard_normal(n // every + 3)
    return np.interp(np.arange(n), np.arange(len(points)) * every, points)


def hiss(rng: np.random.Generator, n: int, db: float, legs: int = 1) -> Sound:
    """Preamp noise: white with a slight rise at the low end, rms in dBFS."""
    columns = []
    for _ in range(legs):
        white = rng.standard_normal(n, dtype=np.float32)
        noise = white + 0.7 * signal.lfilter(np.float32([0.04]), np.float32([1, -0.985]), white)
        columns.append(noise * (gain(db) / np.sqrt(np.mean(noise[:100000] ** 2))))
    return np.asarray(columns[0] if legs == 1 else np.stack(columns, 1), dtype=np.float64)


def to_peak(sound: Sound, db: float) -> Sound:
    """Scale to a peak in dBFS."""
    return np.asarray(sound * (gain(db) / max(1e-9, float(np.max(np.abs(sound))))))


def pluck(
    rng: np.random.Generator,
    rate: int,
    freq: float,
    dur: float,
    bright: float = 1.0,
    ring: float = 1.0,
    where: float = 0.16,
    pickup: float = 0.0,
) -> Sound:
    """A plucked string: inharmonic partials that decay each for itself, damped at its end."""
    count = int(min(34, 0.42 * rate / freq))
    n = int((dur + 0.06) * rate)
    t = (np.arange(n) / rate).astype(np.float32)
    k = np.arange(1, count + 1)
    stiff = 6e-5 * (1 + freq / 400)
    freqs = freq * k * np.sqrt(1 + stiff * k**2) * 2 ** (rng.normal(0, 1.5) / 1200)
    point = where * (1 + rng.normal(0, 0.08))
    amps = np.sin(np.pi * k * point) / k ** (1.35 - 0.35 * bright) * np.exp(-0.045 * k / max(0.2, bright))
    if pickup:
        amps = amps * np.sin(np.pi * k * pickup) * k**0.4
    amps *= 1 + rng.normal(0, 0.12, count)
    decay = (0.5 + 0.0016 * freq + 0.16 * k + 0.011 * k**2 / max(0.3, bright)) / ring
    phase = rng.uniform(0, 2 * np.pi, count)
    out = np.zeros(n, np.float32)
    for w, a, d, p in zip(freqs, amps, decay, phase, strict=True):
        m = min(n, int(rate * 7.5 / d))
        head = t[:m]
        out[:m] += (
            np.float32(a) * np.sin(np.float32(2 * np.pi * w) * head + np.float32(p)) * np.exp(np.float32(-d) * head)
        )
    pick = rng.standard_normal(int(0.004 * rate)) * np.hanning(int(0.004 * rate)) * 0.22 * bright
    out[: len(pick)] += pick.astype(np.float32)
    rise = int(0.0016 * rate)
    out[:rise] *= np.linspace(0, 1, rise, dtype=np.float32)
    tail = int(0.06 * rate)
    out[-tail:] *= np.cos(np.linspace(0, np.pi / 2, tail, dtype=np.float32)) ** 2
    return out.astype(np.float64)


def strum(
    rng: np.random.Generator,
    rate: int,
    buffer: Sound,
    at_s: float,
    dur: float,
    notes: Sequence[float],
    level: float,
    down: bool = True,
    bright: float = 1.0,
    ring: float = 1.0,
    pickup: float = 0.0,
) -> None:
    """A chord over the strings, one after the other, damped at its end."""
    order = list(notes) if down else list(notes)[::-1]
    step = rng.uniform(0.006, 0.014)
    for i, note in enumerate(order):
        touch = level * (0.85 + 0.3 * rng.random()) * (1.0 if down else 0.8)
        sound = pluck(rng, rate, hertz(note), dur - i * step + rng.normal(0, 0.006), bright, ring, 0.14, pickup)
        place(buffer, rate, at_s + i * step, sound, touch)


def table(count: int, tilt: float, odd: float = 1.0, seed: int = 1) -> Sound:
    """One period of a wave with harmonics that fall by a tilt."""
    rng = np.random.default_rng(seed)
    k = np.arange(1, count + 1)
    spectrum = np.zeros(8193, complex)
    spectrum[1 : count + 1] = -1j * k**-tilt * np.where(k % 2 == 0, odd, 1.0) * np.exp(0.35j * rng.normal(size=count))
    out = np.fft.irfft(spectrum)
    return np.asarray(out / np.max(np.abs(out)))


def from_table(wave: Sound, freq: Sound, rate: int, start: float = 0.0) -> Sound:
    """Read a wave at a moving frequency."""
    phase = (start + np.cumsum(freq) / rate) * len(wave)
    return np.asarray(wave.take(phase.astype(np.int64) & (len(wave) - 1)))


def _resonators(freqs: Sequence[float], widths: Sequence[float], rate: int) -> Sound:
    """Cascade of resonances of unit gain at zero frequency."""
    rows = []
    for f, w in zip(freqs, widths, strict=True):
        r = np.exp(-np.pi * w / rate)
        a1, a2 = -2 * r * np.cos(2 * np.pi * f / rate), r * r
        rows.append([1 + a1 + a2, 0, 0, 1, a1, a2])
    return np.array(rows)


def vowel(sound: Sound, rate: int, name: str, size: float = 1.0) -> Sound:
    """A source through the formants of a vowel."""
    return np.asarray(signal.sosfilt(_resonators([f * size for f in FORMANTS[name]], WIDTHS, rate), sound))


def consonant(rng: np.random.Generator, rate: int, kind: str) -> Sound:
    """Noise of a consonant."""
    shapes = {
        "s": (0.11, 5200, 10500, 0.50),
        "f": (0.08, 1500, 9000, 0.16),
        "h": (0.07, 700, 3500, 0.18),
        "t": (0.028, 2600, 8500, 0.75),
        "k": (0.03, 1300, 3800, 0.65),
        "p": (0.022, 300, 2200, 0.6),
        "ch": (0.09, 2300, 7000, 0.5),
    }
    dur, low, high, level = shapes[kind]
    n = int(dur * rng.uniform(0.85, 1.15) * rate)
    noise = butter(rng.standard_normal(n + 400), rate, "bandpass", (low, high))[400:]
    x = np.linspace(0, 1, n)
    shape = np.exp(-5 * x) * np.minimum(1, x * 25) if dur < 0.04 else np.sin(np.pi * x) ** 0.7
    return np.asarray(noise * shape * level)


def voice(
    rng: np.random.Generator,
    rate: int,
    n: int,
    notes: Sequence[Note],
    size: float = 1.0,
    vibrato: float = 0.28,
    spoken: bool = False,
    breathy: float = 0.05,
    breaths: float = 1.0,
) -> Sound:
    """A sung or spoken voice: notes are (start, length, pitch, vowel, consonant before)."""
    step = 0.001
    m = int(n / rate / step) + 2
    tc = np.arange(m) * step
    pitch = np.full(m, notes[0][2], float)
    level = np.zeros(m)
    swing = np.zeros(m)
    weights = {v: np.zeros(m) for v in sorted({x[3] for x in notes})}
    noises = np.zeros(n)
    last_end = -9.0
    for start, dur, midi, vowel, cons in notes:
        a, b = int(start / step), min(m - 2, int((start + dur) / step))
        if b <= a + 10:
            continue
        x = np.linspace(0, 1, b - a)
        new = start - last_end > 0.22
        scoop = (-1.3 if new else -0.35) * np.exp(-(x * dur) / 0.045)
        fall = (-2.6 * x + 0.7 * np.sin(np.pi * x * rng.uniform(0.8, 1.6))) if spoken else -0.12 * x**6
        pitch[a:b] = midi + scoop + fall
        pitch[b:] = pitch[b - 1]
        attack = np.minimum(1, x * dur / (0.05 if new else 0.03))
        release = np.minimum(1, (1 - x) * dur / (0.09 if not spoken else 0.05))
        bow = 0.8 + 0.2 * np.sin(np.pi * np.minimum(1, x * 1.2))
        touch = rng.uniform(0.82, 1.08)
        level[a:b] = np.maximum(level[a:b], attack * release**0.8 * bow * touch)
        swing[a:b] = np.clip((x * dur - 0.22) / 0.35, 0, 1)
        lead = max(0, a - 40)
        for w in weights.values():
            w[lead:] = 0
        weights[vowel][lead:] = 1
        if cons in ("m", "n", "l"):
            level[a : a + 45] *= 0.35
        elif cons:
            sound = consonant(rng, rate, cons)
            place(noises, rate, start - 0.75 * len(sound) / rate, sound, touch)
            level[a : a + 15] *= np.linspace(0, 1, 15)
        if new and breaths and start > 0.5 and start - last_end > 0.4:
            d = int(rng.uniform(0.22, 0.36) * rate)
            air = butter(rng.standard_normal(d), rate, "bandpass", (900, 4800))
            place(noises, rate, start - d / rate - 0.07, air * np.sin(np.linspace(0, np.pi, d)) ** 1.4, 0.085 * breaths)
        last_end = start + dur
    kernel = np.hanning(45)
    kernel /= kernel.sum()
    pitch = np.convolve(np.pad(pitch, 22, mode="edge"), kernel, "valid")
    wob = np.cumsum(5.4 + 0.35 * smooth_noise(rng, m, 300)) * step
    pitch = pitch + vibrato * swing * np.sin(2 * np.pi * wob) + 0.035 * smooth_noise(rng, m, 12)
    pitch = pitch + 0.10 * smooth_noise(rng, m, 350)
    soft = np.hanning(19)
    level = np.convolve(level, soft / soft.sum(), "same") * (1 + 0.05 * smooth_noise(rng, m, 40))
    t = np.arange(n) / rate
    freq = np.interp(t, tc, 440.0 * 2.0 ** ((pitch - 69) / 12))
    top = max(8, int(min(60, 0.42 * rate / float(freq.max()))))
    source = from_table(table(top, 1.12, seed=3), freq, rate)
    env = np.interp(t, tc, level)
    source = source * env + rng.standard_normal(n, dtype=np.float32) * (breathy * env**0.7 * 0.5 + 1e-9)
    out = np.zeros(n)
    wide = np.hanning(61)
    for vowel, weight in weights.items():
        smooth = np.convolve(weight, wide / wide.sum(), "same")
        sos = _resonators([f * size for f in FORMANTS[vowel]], WIDTHS, rate)
        out += signal.sosfilt(sos, source) * np.interp(t, tc, smooth)
    out *= 0.16 / max(1e-9, float(np.sqrt(np.mean(out[env > 0.3] ** 2))))
    out = out + 0.30 * noises
    return butter(out, rate, "highpass", 70.0)


def bowed(
    rng: np.random.Generator,
    rate: int,
    n: int,
    notes: Sequence[tuple[float, float, float]],
    players: int = 3,
    body: Sequence[tuple[float, float, float]] = ((280, 6, 4), (460, 5, 5), (1200, 3, 2), (2600, 4, 2)),
    attack: float = 0.12,
) -> Sound:
    """A section of bowed strings: each player with an own vibrato, intonation and bow."""
    step = 0.002
    m = int(n / rate / step) + 2
    tc = np.arange(m) * step
    t = np.arange(n) / rate
    out = np.zeros(n)
    for _ in range(players):
        pitch = np.full(m, notes[0][2], float)
        level = np.zeros(m)
        for start, dur, midi in notes:
            s = start + rng.normal(0, 0.012)
            a, b = max(0, int(s / step)), min(m - 1, int((s + dur) / step))
            x = np.linspace(0, 1, max(2, b - a))[: b - a]
            pitch[a:] = midi + rng.normal(0, 0.05)
            shape = np.minimum(1, x * dur / attack) * np.minimum(1, (1 - x) * dur / 0.14)
            level[a:b] = np.maximum(level[a:b], shape * (0.72 + 0.28 * np.sin(np.pi * x)) * rng.uniform(0.9, 1.1))
        k = np.hanning(31)
        pitch = np.convolve(np.pad(pitch, 15, mode="edge"), k / k.sum(), "valid")
        level = np.convolve(level, k / k.sum(), "same")
        speed = rng.uniform(4.9, 6.0)
        wob = np.cumsum(speed + 0.3 * smooth_noise(rng, m, 150)) * step
        pitch = pitch + rng.uniform(0.10, 0.2) * np.sin(2 * np.pi * wob + rng.uniform(0, 6))
        pitch = pitch + 0.03 * smooth_noise(rng, m, 10)
        freq = np.interp(t, tc, 440.0 * 2.0 ** ((pitch - 69) / 12))
        top = max(8, int(min(50, 0.42 * rate / float(freq.max()))))
        env = np.interp(t, tc, level)
        tone = from_table(table(top, 1.0, 0.85, int(rng.integers(99))), freq, rate, rng.random())
        out += (env + 1e-9) * (tone + 0.05 * rng.standard_normal(n, dtype=np.float32))
    for f, db, q in body:
        out = peak_filter(out, rate, f, db, q)
    out = butter(out, rate, "highpass", hertz(min(x[2] for x in notes)) * 0.7)
    return butter(out, rate, "lowpass", 7800.0, 1) / players


def room(
    rng: np.random.Generator,
    rate: int,
    low_s: float,
    high_s: float,
    legs: int = 2,
    pre_s: float = 0.0,
    size: float = 8.0,
) -> Sound:
    """Impulse response: early reflections, then a noise tail whose top decays sooner."""
    n = int((pre_s + low_s * 1.15) * rate)
    out = np.zeros((n, legs))
    start = int(pre_s * rate)
    t = np.arange(n - start) / rate
    shared = rng.standard_normal(n - start)
    for leg in range(legs):
        noise = 0.55 * shared + 0.83 * rng.standard_normal(n - start)
        low = butter(noise, rate, "lowpass", 350.0)
        mid = butter(noise, rate, "bandpass", (350.0, 3200.0))
        high = butter(noise, rate, "highpass", 3200.0)
        tail = low * np.exp(-6.9 * t / low_s) + mid * np.exp(-6.9 * t / (0.5 * low_s + 0.5 * high_s))
        tail += 0.7 * high * np.exp(-6.9 * t / high_s)
        tail *= 1 - np.exp(-t / (size / 900))
        out[start:, leg] = tail
        for _ in range(14):
            at = int(rate * size / SPEED_OF_SOUND * rng.uniform(0.3, 2.6))
            if start + at < n - 1:
                out[start + at, leg] += rng.choice([-1.0, 1.0]) * 4.0 * np.exp(-at / rate / 0.03)
    out = butter(out, rate, "highpass", 110.0, 1)
    end = int(0.15 * low_s * rate)
    out[-end:] *= np.linspace(1, 0, end)[:, None] ** 2
    out /= np.sqrt(np.sum(out**2, axis=0, keepdims=True))
    return out[:, 0] if legs == 1 else out


def reverb(sound: Sound, impulse: Sound, n: int) -> Sound:
    """Convolve with each leg of a room and keep the length."""
    sound, impulse = sound.astype(np.float32), impulse.astype(np.float32)
    if impulse.ndim == 1:
        return np.asarray(signal.oaconvolve(sound, impulse)[:n], dtype=np.float64)
    feed = sound if sound.ndim == 2 else np.stack([sound] * impulse.shape[1], 1)
    legs = [signal.oaconvolve(feed[:, i], impulse[:, i])[:n] for i in range(impulse.shape[1])]
    return np.asarray(np.stack(legs, 1), dtype=np.float64)


def amp(sound: Sound, rate: int, drive: float, dark: float = 4800.0, tone: float = 0.0, low: float = 80.0) -> Sound:
    """A valve amplifier with its cabinet, as a microphone before the cone hears it."""
    x = butter(sound, rate, "highpass", low, 1)
    x = peak_filter(x, rate, 750.0, 4.0 + tone, 0.8)
    up = signal.resample_poly((x / max(1e-9, float(np.max(np.abs(x)))) * drive).astype(np.float32), 2, 1)
    up = np.tanh(up + 0.12) - np.tanh(0.12)
    x = signal.resample_poly(up, 1, 2)[: len(sound)].astype(np.float64)
    x = butter(x, rate, "highpass", 0.8 * low, 2)
    x = peak_filter(x, rate, 115.0, 3.0, 1.5)
    x = peak_filter(x, rate, 420.0, -3.5, 1.2)
    x = peak_filter(x, rate, 2600.0, 5.0 + tone, 1.6)
    return butter(x, rate, "lowpass", dark, 4)


def _kick(rng: np.random.Generator, rate: int) -> Sound:
    """Kick drum."""
    t = np.arange(int(0.5 * rate)) / rate
    f = 52 + 75 * np.exp(-t / 0.018)
    body = np.sin(2 * np.pi * np.cumsum(f) / rate) * np.exp(-t / 0.13)
    beater = butter(rng.standard_normal(len(t)), rate, "bandpass", (1800, 5200)) * np.exp(-t / 0.006)
    shell = np.sin(2 * np.pi * 175 * t + rng.random()) * np.exp(-t / 0.05)
    return np.asarray((body + 0.28 * beater + 0.12 * shell) * np.minimum(1, t / 0.0012))


def _snare(rng: np.random.Generator, rate: int, wires: float) -> Sound:
    """Snare drum, its two heads or its wires."""
    t = np.arange(int(0.42 * rate)) / rate
    tune = rng.normal(1, 0.004)
    head = np.zeros(len(t))
    for f, a, d in ((186, 1.0, 0.09), (279, 0.5, 0.07), (331, 0.55, 0.06), (498, 0.3, 0.04), (715, 0.2, 0.03)):
        head += a * np.sin(2 * np.pi * f * tune * t) * np.exp(-t / d)
    noise = butter(rng.standard_normal(len(t)), rate, "bandpass", (1400, 9500)) * np.exp(-t / 0.1)
    noise += 0.6 * rng.standard_normal(len(t)) * np.exp(-t / 0.004)
    return np.asarray(((1 - 0.5 * wires) * head + (0.35 + wires) * noise) * np.minimum(1, t / 0.0006))


def _metal(rng: np.random.Generator, rate: int, dur: float, decay: float, low: float) -> Sound:
    """Hat or cymbal: dense partials and noise whose top decays sooner."""
    n = int(dur * rate)
    t = np.arange(n) / rate
    noise = rng.standard_normal(n)
    out = butter(noise, rate, "highpass", max(low, 6500.0)) * np.exp(-t / (decay * 0.7))
    out += 0.7 * butter(noise, rate, "bandpass", (low, 6500.0)) * np.exp(-t / decay)
    for _ in range(10):
        f = rng.uniform(low * 0.8, 9000)
        out += 0.06 * np.sin(2 * np.pi * f * t + rng.uniform(0, 6)) * np.exp(-t / (decay * rng.uniform(0.6, 1.3)))
    out *= np.minimum(1, t / 0.0008)
    end = int(0.1 * n)
    out[-end:] *= np.linspace(1, 0, end)
    return np.asarray(out)


def _tom(rng: np.random.Generator, rate: int, freq: float) -> Sound:
    """Tom."""
    t = np.arange(int(0.8 * rate)) / rate
    f = freq * (1 + 0.25 * np.exp(-t / 0.04))
    body = np.sin(2 * np.pi * np.cumsum(f) / rate) * np.exp(-t / 0.22)
    body += 0.4 * np.sin(2 * np.pi * np.cumsum(f) * 1.59 / rate) * np.exp(-t / 0.11)
    stick = butter(rng.standard_normal(len(t)), rate, "bandpass", (900, 4000)) * np.exp(-t / 0.008)
    return np.asarray((body + 0.3 * stick) * np.minimum(1, t / 0.001))


def kit(rng: np.random.Generator, rate: int, n: int, hits: Sequence[tuple[float, str, float]]) -> dict[str, Sound]:
    """What each piece of the kit gives off, for hits of (time, piece, strength)."""
    struck = {
        "hat": [_metal(rng, rate, 0.16, 0.035, 3200.0) for _ in range(7)],
        "open": [_metal(rng, rate, 0.5, 0.22, 3200.0) for _ in range(3)],
        "ride": [_metal(rng, rate, 0.9, 0.3, 3600.0) for _ in range(5)],
    }
    pieces = {name: np.zeros(n) for name in ("kick", "snare", "wires", "hat", "tom", "floor", "crash", "ride")}
    for when, piece, strength in hits:
        at_s = when + rng.normal(0, 0.004)
        v = strength * rng.uniform(0.88, 1.06)
        if piece == "kick":
            place(pieces["kick"], rate, at_s, _kick(rng, rate), v)
        elif piece == "snare":
            same = int(rng.integers(1 << 30))
            place(pieces["snare"], rate, at_s, _snare(np.random.default_rng(same), rate, 0.15), 0.9 * v)
            place(pieces["wires"], rate, at_s, _snare(np.random.default_rng(same), rate, 0.8), 0.7 * v)
        elif piece in ("hat", "open"):
            place(pieces["hat"], rate, at_s, struck[piece][int(rng.integers(len(struck[piece])))], 0.22 * v)
        elif piece in ("tom", "floor"):
            place(pieces[piece], rate, at_s, _tom(rng, rate, 128.0 if piece == "tom" else 86.0), 0.9 * v)
        elif piece == "crash":
            place(pieces["crash"], rate, at_s, _metal(rng, rate, 2.6, 0.75, 1800.0), 0.3 * v)
        elif piece == "ride":
            place(pieces["ride"], rate, at_s, struck["ride"][int(rng.integers(5))], 0.14 * v)
    return pieces


PLACES: dict[str, tuple[float, float, float]] = {
    "kick": (0.0, 0.1, 0.35),
    "snare": (-0.28, -0.35, 0.66),
    "wires": (-0.28, -0.35, 0.52),
    "hat": (-0.68, -0.3, 0.92),
    "tom": (-0.1, 0.05, 0.88),
    "floor": (0.55, -0.35, 0.66),
    "crash": (-0.62, 0.2, 1.3),
    "ride": (0.68, 0.0, 1.15),
}


def microphone(
    pieces: dict[str, Sound], rate: int, at: tuple[float, float, float], near: str = "", reject: float = 0.35
) -> Sound:
    """What a microphone hears of all pieces: distance as level and delay, a close one turned to its piece."""
    n = len(next(iter(pieces.values())))
    out = np.zeros(n)
    for name, sound in pieces.items():
        if name == "wires" and near != "wires":
            continue
        if name == "snare" and near == "wires":
            continue
        d = float(np.linalg.norm(np.subtract(PLACES[name], at)))
        level = 1.0 / max(0.08, d)
        if near and name != near:
            level *= reject
        lag = round(d / SPEED_OF_SOUND * rate)
        out[lag:] += level * sound[: n - lag]
    return out


def fade(sound: Sound, rate: int, in_s: float, out_s: float) -> Sound:
    """Fades at both ends."""
    out = sound.copy()
    a, b = int(in_s * rate), int(out_s * rate)
    shape = (slice(None),) + (None,) * (sound.ndim - 1)
    if a:
        out[:a] *= (np.sin(np.linspace(0, np.pi / 2, a)) ** 2)[shape]
    if b:
        out[-b:] *= (np.cos(np.linspace(0, np.pi / 2, b)) ** 2)[shape]
    return out


def spread(sound: Sound, pan: float) -> Sound:
    """Equal-power placing of one leg between two, −1 to +1."""
    angle = (pan + 1) * np.pi / 4
    return np.stack([sound * np.cos(angle), sound * np.sin(angle)], 1) * np.sqrt(2) * 0.8


def write(path: Path, sound: Sound, rate: int, subtype: str = "PCM_24") -> None:
    """Write a file."""
    soundfile.write(path, sound, rate, subtype=subtype)


def read(path: Path) -> tuple[Sound, int]:
    """Read a file as double floats."""
    samples, rate = soundfile.read(path, dtype="float64")
    return samples, int(rate)


def clip(file: str, start: float, end: float, offset: float = 0.0, gain_db: float = 0.0, edge: float = 0.01) -> dict:
    """A clip of a session with short fades."""
    return {
        "start_s": start,
        "end_s": end,
        "file": file,
        "offset_s": offset,
        "fade_in_s": edge,
        "fade_out_s": edge,
        "gain_db": gain_db,
    }


def media(folder: Path, paths: dict[str, str]) -> list[dict]:
    """The list of files of a session, as they lie there."""
    rows = []
    for key, path in paths.items():
        info = soundfile.info(folder / path)
        rows.append(
            {
                "id": key,
                "path": path,
                "place": "beside",
                "present": True,
                "legs": info.channels,
                "sample_rate_hz": info.samplerate,
                "duration_s": info.frames / info.samplerate,
            }
        )
    return rows


def change_session(folder: Path, change: Callable[[dict], None]) -> None:
    """Read the session, let it be changed, and write it back."""
    path = next(folder.glob("*.session.json"))
    session = json.loads(path.read_text())
    change(session)
    path.write_text(json.dumps(session, indent=1))


def channel_of(session: dict, name: str) -> dict:
    """The channel of a name."""
    return next(c for c in session["channels"] if c["name"] == name)


def change_file(path: Path, change: Callable[[Sound, int], Sound], subtype: str = "PCM_24") -> None:
    """Read a file, change its samples, and write it back."""
    samples, rate = read(path)
    write(path, change(samples, rate), rate, subtype)
