"""Plain sounds, made from nothing: a tone, plucked strings, a voice, a kit, a hall.

They have what the meters listen for (attacks, decays, rests, a spectrum of their kind) and no beauty. The same
arguments give the same samples. All are (n,) float64 with a peak of 1.0, unless silent.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

FORMANTS: Final = ((600.0, 120.0, 1.0), (1100.0, 160.0, 0.5), (2600.0, 250.0, 0.25), (3300.0, 300.0, 0.12))
"""Centre and width in hertz, and amplitude, of a sung vowel (an open a; common practice, no source)."""


def tone(hz: float, seconds: float, fs: float) -> Floats:
    """A sine."""
    return np.asarray(np.sin(2.0 * np.pi * hz * _times(seconds, fs)))


def noise(seed: int, seconds: float, fs: float) -> Floats:
    """White noise."""
    return _full(np.random.default_rng(seed).standard_normal(_times(seconds, fs).size))


def pluck(hz: float, seed: int, seconds: float, fs: float) -> Floats:
    """Plucked strings, about four strokes a second: each with partials that decay the faster the higher they are."""
    random = np.random.default_rng(seed)
    out = np.zeros(_times(seconds, fs).size)
    at = 0.02
    while at < seconds - 0.1:
        pitch = hz * 2.0 ** (random.choice([0, 3, 5, 7, 10, 12]) / 12.0) * (1.0 + 0.001 * random.standard_normal())
        length = min(0.9, seconds - at)
        t = _times(length, fs)
        stroke = np.zeros(t.size)
        for partial in range(1, 25):
            partial_hz = partial * pitch * np.sqrt(1.0 + 0.0002 * partial**2)
            if partial_hz > 0.45 * fs:
                break
            size = random.uniform(0.6, 1.0) / partial**0.8
            stroke += (
                size * np.exp(-t * (2.0 + 1.2 * partial)) * np.sin(2.0 * np.pi * (partial_hz * t + random.uniform()))
            )
        stroke += 0.3 * np.exp(-t / 0.004) * random.standard_normal(t.size)
        stroke *= np.minimum(1.0, (length - t) / 0.05)  # the finger that stops it
        _add(out, stroke * random.uniform(0.5, 1.0), at, fs)
        at += random.uniform(0.18, 0.32)
    return _full(out)


def voice(hz: float, seed: int, seconds: float, fs: float) -> Floats:
    """A sung voice: vowels with vibrato and formants, a breathy onset each, a rest after every second or so."""
    random = np.random.default_rng(seed)
    out = np.zeros(_times(seconds, fs).size)
    at = 0.05
    while at < seconds - 0.2:
        length = min(random.uniform(0.7, 1.1), seconds - at)
        t = _times(length, fs)
        pitch = hz * 2.0 ** (random.choice([0, 2, 4, 5, 7]) / 12.0)
        depth, rate = random.uniform(0.004, 0.01), random.uniform(4.5, 6.0)
        phase = 2.0 * np.pi * np.cumsum(pitch * (1.0 + depth * np.sin(2.0 * np.pi * rate * t))) / fs
        vowel = np.zeros(t.size)
        for partial in range(1, 40):
            partial_hz = partial * pitch
            if partial_hz > min(8000.0, 0.45 * fs):
                break
            size = sum(a / (1.0 + ((partial_hz - centre) / width) ** 2) for centre, width, a in FORMANTS)
            vowel += (0.05 + size) / partial**0.5 * np.sin(partial * phase + random.uniform(0.0, 6.3))
        breath = 0.15 * random.standard_normal(t.size) * np.exp(-t / 0.05)
        shape = np.minimum(1.0, np.minimum(t / 0.03, (length - t) / 0.08)).clip(0.0)
        _add(out, (vowel + breath) * shape * random.uniform(0.6, 1.0), at, fs)
        at += length + random.uniform(0.15, 0.4)
    return _full(out)


def kit(seed: int, seconds: float, fs: float) -> Floats:
    """A kit at 120 beats a minute: kick, snare and hi-hat, no two strokes alike."""
    random = np.random.default_rng(seed)
    out = np.zeros(_times(seconds, fs).size)
    for step in range(int(seconds / 0.25)):
        at = max(0.0, 0.25 * step + 0.004 * random.standard_normal())
        if at > seconds - 0.05:
            break
        t = _times(min(0.4, seconds - at), fs)
        hat = 0.15 * np.diff(random.standard_normal(t.size), prepend=0.0) * np.exp(-t / 0.03)
        if step % 4 == 0:
            fall = random.uniform(48.0, 62.0) * t + random.uniform(2.0, 4.0) * (1.0 - np.exp(-t / 0.02))
            low = np.sin(2.0 * np.pi * fall) * np.exp(-t / 0.12)
        elif step % 4 == 2:
            low = (0.5 * np.sin(2.0 * np.pi * 190.0 * t) + 0.5 * random.standard_normal(t.size)) * np.exp(-t / 0.07)
        else:
            low = np.zeros(t.size)
        _add(out, (low + hat) * random.uniform(0.7, 1.0), at, fs)
    return _full(out)


def metronome(seconds: float, fs: float) -> Floats:
    """Ticks of a metronome at 120 beats a minute: 1.6 kHz, gone in 10 ms."""
    out = np.zeros(_times(seconds, fs).size)
    t = _times(0.03, fs)
    tick = np.sin(2.0 * np.pi * 1600.0 * t) * np.exp(-t / 0.003)
    for beat in range(1, int(2.0 * (seconds - 0.05)) + 1):
        _add(out, tick, 0.5 * beat, fs)
    return _full(out)


def room(seed: int, decay_s: float, predelay_s: float, fs: float) -> Floats:
    """The response of a room: noise that is 60 dB down after ``decay_s``; its energy is 1.0."""
    t = _times(decay_s, fs)
    tail = np.random.default_rng(seed).standard_normal(t.size) * 10.0 ** (-3.0 * t / decay_s)
    return np.concatenate((np.zeros(round(predelay_s * fs)), tail / np.sqrt((tail * tail).sum())))


def hall(seed: int, seconds: float, fs: float) -> Floats:
    """The tail of a hall after a single impulse."""
    return _full(room(seed, seconds, 0.0, fs))


def convolved(samples: Floats, response: Floats) -> Floats:
    """What a response makes of samples, cut to their length."""
    size = 1 << (samples.size + response.size - 1).bit_length()
    return np.fft.irfft(np.fft.rfft(samples, size) * np.fft.rfft(response, size), size)[: samples.size]


def shaped(
    samples: Floats, fs: float, low_cut_hz: float = 0.0, high_cut_hz: float = 0.0, shelf_db: float = 0.0
) -> Floats:
    """Filtered without a change of phase: cuts of 48 dB an octave, a shelf about 2 kHz."""
    size = 1 << (samples.size + 4096).bit_length()
    hz = np.maximum(np.fft.rfftfreq(size, 1.0 / fs), 1e-3)
    gain = np.ones(hz.size)
    if low_cut_hz:
        gain /= np.sqrt(1.0 + (low_cut_hz / hz) ** 16)
    if high_cut_hz:
        gain /= np.sqrt(1.0 + (hz / high_cut_hz) ** 16)
    if shelf_db:
        gain *= 10.0 ** (shelf_db / 20.0 / (1.0 + (2000.0 / hz) ** 4))
    return np.fft.irfft(np.fft.rfft(samples, size) * gain, size)[: samples.size]


def late(samples: Floats, by: float) -> Floats:
    """Later by ``by`` samples, between samples too, cut to the same length; negative is earlier."""
    whole = int(np.floor(by))
    rest = by - whole
    moved = np.zeros(samples.size)
    if whole >= 0:
        moved[whole:] = samples[: samples.size - whole]
    else:
        moved[: samples.size + whole] = samples[-whole:]
    if not rest:
        return moved
    size = 1 << (samples.size + 256).bit_length()
    turn = np.exp(-2j * np.pi * np.fft.rfftfreq(size) * rest)
    return np.fft.irfft(np.fft.rfft(moved, size) * turn, size)[: samples.size]


def faster(samples: Floats, times: float) -> Floats:
    """Played ``times`` as fast, pitch and all, cut or filled up to the same length."""
    played: Floats = np.interp(np.arange(samples.size) * times, np.arange(samples.size), samples, right=0.0)
    return played


def _times(seconds: float, fs: float) -> Floats:
    return np.arange(round(seconds * fs)) / fs


def _add(out: Floats, sound: Floats, at_s: float, fs: float) -> None:
    start = round(at_s * fs)
    end = min(out.size, start + sound.size)
    out[start:end] += sound[: end - start]


def _full(samples: Floats) -> Floats:
    peak = float(np.abs(samples).max(initial=0.0))
    return samples / peak if peak else samples
