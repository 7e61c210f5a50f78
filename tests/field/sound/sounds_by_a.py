"""Strings, voices, drums, amplifiers and rooms, and small helps for writing files and sessions."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import soundfile
from scipy import fft, ndimage, signal

Array = npt.NDArray[np.float64]
Rng = np.random.Generator
SPEED = 343.0

VOWELS: dict[str, tuple[float, ...]] = {
    "a": (730.0, 1150.0, 2500.0, 3400.0, 4500.0),
    "e": (520.0, 1850.0, 2500.0, 3450.0, 4500.0),
    "i": (300.0, 2250.0, 2950.0, 3500.0, 4600.0),
    "o": (540.0, 860.0, 2400.0, 3300.0, 4400.0),
    "u": (320.0, 800.0, 2250.0, 3250.0, 4400.0),
    "m": (260.0, 1050.0, 2150.0, 3100.0, 4300.0),
}
NOISES: dict[str, tuple[float, float, float, float]] = {  # seconds, low, high, level
    "s": (0.095, 4800.0, 9800.0, 0.30),
    "t": (0.022, 3200.0, 8500.0, 0.55),
    "k": (0.028, 1400.0, 4200.0, 0.50),
    "f": (0.075, 1800.0, 8800.0, 0.12),
    "h": (0.070, 700.0, 4500.0, 0.12),
}


def db(level: float) -> float:
    """Decibels as a factor."""
    return float(10.0 ** (level / 20.0))


def hz(midi: float) -> float:
    """The frequency of a note number."""
    return float(440.0 * 2.0 ** ((midi - 69.0) / 12.0))


def lay(into: Array, what: Array, at: int) -> None:
    """Add a sound to a track at a sample, cut at both ends."""
    begin, skip = max(at, 0), max(-at, 0)
    part = what[skip : skip + max(len(into) - begin, 0)]
    into[begin : begin + len(part)] += part


def band(x: Array, rate: int, low: float | None, high: float | None, order: int = 2) -> Array:
    """High-pass, low-pass or band-pass."""
    if low and high:
        sos = signal.butter(order, [low, min(high, 0.48 * rate)], "bandpass", fs=rate, output="sos")
    elif low:
        sos = signal.butter(order, low, "highpass", fs=rate, output="sos")
    else:
        sos = signal.butter(order, min(high or 20000.0, 0.48 * rate), "lowpass", fs=rate, output="sos")
    return np.asarray(signal.sosfilt(sos, x, axis=0))


def to_peak(x: Array, level: float) -> Array:
    """Trim to a peak in dBFS."""
    return x * (db(level) / float(np.max(np.abs(x))))


def hiss(n: int, level: float, rng: Rng) -> Array:
    """Preamplifier noise of so many dBFS (RMS)."""
    return rng.standard_normal(n, dtype=np.float32).astype(np.float64) * db(level)


def edges(x: Array, rate: int, head: float = 0.01, tail: float = 0.2) -> Array:
    """Short fades at both ends of a file."""
    y = x.copy()
    a, b = int(head * rate), int(tail * rate)
    shape = (-1,) + (1,) * (x.ndim - 1)
    y[:a] *= np.linspace(0.0, 1.0, a).reshape(shape)
    y[-b:] *= np.linspace(1.0, 0.0, b).reshape(shape)
    return y


def late(x: Array, samples: float) -> Array:
    """The same length, later by whole samples (or earlier)."""
    k = round(samples)
    y = np.zeros_like(x)
    if k >= 0:
        y[k:] = x[: len(x) - k]
    else:
        y[:k] = x[-k:]
    return y


def pan(x: Array, where: float) -> Array:
    """One leg onto two, equal power, −100 … +100."""
    angle = (where / 100.0 + 1.0) * np.pi / 4.0
    return np.stack([x * np.cos(angle), x * np.sin(angle)], axis=1)


# strings


def ring(freq: Array, amp: Array, t60: Array, phase: Array, n: int, rate: int) -> Array:
    """A sum of decaying partials."""
    block, rows = 256, 6 * -(-n // (256 * 6))  # small products, so that no threads are woken
    turn = np.exp((-6.908 / t60 + 2j * np.pi * freq) / rate)
    fine = _powers(turn, block)
    coarse = _powers(turn**block, rows) * (amp * np.exp(1j * phase))[:, None]
    left = np.concatenate([coarse.real, -coarse.imag]).astype(np.float32)
    right = np.concatenate([fine.real, fine.imag]).astype(np.float32)
    return np.matmul(left.T.reshape(-1, 6, len(left)), right).ravel()[:n].astype(np.float64)


def _powers(base: npt.NDArray[np.complex128], count: int) -> npt.NDArray[np.complex128]:
    """The powers 0, 1, 2 … of every base, by doubling."""
    out = np.ones((len(base), 1), dtype=np.complex128)
    step = base[:, None]
    while out.shape[1] < count:
        out = np.concatenate([out, out * step], axis=1)
        step = step * step
    return out[:, :count]


def pluck(
    f0: float,
    seconds: float,
    rate: int,
    rng: Rng,
    *,
    vel: float = 0.7,
    place: float = 0.14,
    cut: float = 2600.0,
    t60: float = 4.5,
    stiff: float = 5e-5,
    nail: float = 0.05,
) -> Array:
    """One plucked string, damped at its end."""
    count = int(min(46, 9500.0 / f0, 0.42 * rate / f0))
    k = np.arange(1, count + 1, dtype=float)
    place *= 1.0 + 0.12 * rng.standard_normal()
    freq = f0 * k * np.sqrt(1.0 + stiff * k * k)
    amp = np.sin(np.pi * k * place) / k**0.75 * np.exp(-freq / (cut * (0.55 + 0.9 * vel)))
    amp *= 1.0 + 0.15 * rng.standard_normal(count)
    life = t60 * (1.0 + 0.25 * rng.standard_normal(count).clip(-2, 2)) / (1.0 + (freq / 900.0) ** 0.9)
    two = min(8, count)
    freq = np.concatenate([freq, freq[:two] * (1.0 + 0.0006 * rng.uniform(0.4, 1.3, two))])
    amp = np.concatenate([amp, 0.45 * amp[:two]])
    life = np.concatenate([life, 0.6 * life[:two]])
    n = int((seconds + 0.06) * rate)
    x = ring(freq, amp, np.maximum(life, 0.05), rng.uniform(0, 2 * np.pi, len(freq)), n, rate)
    a = int(0.0018 * rate)
    x[:a] *= 0.5 - 0.5 * np.cos(np.pi * np.arange(a) / a)
    m = int(0.012 * rate)
    x[:m] += nail * 4.0 * rng.standard_normal(m) * np.exp(-np.arange(m) / (0.0022 * rate)) * np.hanning(2 * m)[m:]
    tail = int(0.06 * rate)
    x[-tail:] *= np.exp(-np.arange(tail) / (0.014 * rate)) * np.linspace(1.0, 0.0, tail)
    return x * vel


def body(rate: int, rng: Rng, size: float = 1.0) -> Array:
    """The answer of a wooden body: a few strong modes and a dense rest."""
    n = int(0.12 * rate)
    low = np.array([101.0, 196.0, 232.0, 345.0, 428.0, 560.0, 705.0, 890.0])
    freq = np.concatenate([low * rng.uniform(0.96, 1.04, 8), rng.uniform(1000.0, 6000.0, 40)]) / size
    amp = np.concatenate([np.array([0.5, 0.6, 0.45, 0.35, 0.3, 0.3, 0.25, 0.2]), 0.12 * rng.standard_normal(40)])
    life = np.concatenate([np.linspace(0.16, 0.07, 8), rng.uniform(0.02, 0.05, 40)])
    x = 0.02 * ring(freq, amp, life, rng.uniform(0, 2 * np.pi, 48), n, rate)
    x[0] += 1.0
    return x


Note = tuple[float, float, float, float]  # seconds, length, note number, velocity


def play(
    notes: Sequence[Note], n: int, rate: int, rng: Rng, voice: Callable[[float, float, float], Array] | None = None
) -> Array:
    """Plucked notes on a track."""
    x = np.zeros(n)
    for at, length, midi, vel in notes:
        tone = voice(hz(midi), length, vel) if voice else pluck(hz(midi), length, rate, rng, vel=vel)
        lay(x, tone, int(at * rate))
    return x


def strum(
    chords: Sequence[Sequence[float | None]], pattern: str | Sequence[str], beat: float, rng: Rng, begin: float = 0.0
) -> list[Note]:
    """Bars of strummed eighths: D and U strokes, d and u soft, x damped, '.' rest, '-' ringing on."""
    strokes: list[list[tuple[float, float]]] = [[] for _ in range(6)]
    pitch: list[list[float | None]] = [[] for _ in range(6)]
    stops: list[float] = []
    drift = 0.0
    for bar, chord in enumerate(chords):
        row = pattern if isinstance(pattern, str) else pattern[bar % len(pattern)]
        for step, stroke in enumerate(row):
            drift = 0.8 * drift + 0.003 * rng.standard_normal()
            at = begin + (bar * len(row) + step) * beat / 2.0 + drift
            if stroke == ".":
                stops.append(at)
            if stroke not in "DUdux":
                continue
            spread = rng.uniform(0.005, 0.012)
            order = range(6) if stroke in "Ddx" else range(5, -1, -1)
            loud = (0.78 if stroke in "DU" else 0.45) * rng.uniform(0.88, 1.1) * (1.0 if stroke in "Ddx" else 0.8)
            kept = 0
            for place in order:
                if chord[place] is None or (stroke in "Uu" and place < 2) or (stroke == "d" and rng.random() < 0.2):
                    continue
                strokes[place].append((at + kept * spread, -loud if stroke == "x" else loud * rng.uniform(0.85, 1.1)))
                pitch[place].append(chord[place])
                kept += 1
    notes: list[Note] = []
    for line, tones in zip(strokes, pitch, strict=True):
        for i, ((at, vel), tone) in enumerate(zip(line, tones, strict=True)):
            end = min([line[i + 1][0] if i + 1 < len(line) else at + 3.2, at + 3.2, *[s for s in stops if s > at][:1]])
            length = 0.035 if vel < 0 else max(end - at, 0.03)
            notes.append((max(at, 0.0), length, float(tone or 40), abs(vel)))
    return notes


def human(notes: Sequence[Note], rng: Rng, ms: float = 8.0, touch: float = 0.1) -> list[Note]:
    """The same notes by another hand."""
    out = []
    for at, length, midi, vel in notes:
        moved = max(at + 1e-3 * ms * rng.standard_normal(), 0.0)
        out.append((moved, length * rng.uniform(0.95, 1.03), midi, vel * (1.0 + touch * rng.uniform(-1, 1))))
    return out


# voice

Sung = tuple[float, float, float, str, str, float]  # seconds, length, note number, vowel, consonant, force


def sing(
    line: Sequence[Sung], n: int, rate: int, rng: Rng, *, tract: float = 1.0, breath: float = 0.05, wave: float = 5.4
) -> Array:
    """A sung line: phrases, glides, vibrato, formants, consonants and breaths."""
    phrases: list[list[Sung]] = []
    for note in line:
        if phrases and note[0] - (phrases[-1][-1][0] + phrases[-1][-1][1]) < 0.12:
            phrases[-1].append(note)
        else:
            phrases.append([note])
    x = np.zeros(n)
    for phrase in phrases:
        start = phrase[0][0] - 0.1
        lay(x, _phrase(phrase, start, rate, rng, tract, breath, wave), int(start * rate))
        m = int(rng.uniform(0.25, 0.4) * rate)
        gulp = band(rng.standard_normal(m), rate, 700.0, 5200.0, 1) * np.sin(np.pi * np.linspace(0, 1, m)) ** 2
        lay(x, 0.016 * gulp, int((start - 0.02) * rate) - m)
    return x


def _phrase(
    phrase: Sequence[Sung], start: float, rate: int, rng: Rng, tract: float, breath: float, wave: float
) -> Array:
    """One breath of singing."""
    fine = 300
    end = phrase[-1][0] + phrase[-1][1] + 0.25
    count = int((end - start) * fine)
    t = np.arange(count) / fine
    pitch, amp, swing = np.full(count, float(phrase[0][2])), np.zeros(count), np.zeros(count)
    form = np.zeros((count, 5)) + np.array(VOWELS[phrase[0][3]])
    for at, length, midi, vowel, sound, force in phrase:
        i, j = int((at - start) * fine), int((at - start + length) * fine)
        own = t[i:j] - t[i]
        pitch[i:] = midi
        pitch[i:j] -= 0.7 * np.exp(-own / 0.05)
        amp[i:j] = force * (1.0 - 0.3 * own / max(length, 0.3)) * (1.0 + 0.06 * rng.standard_normal())
        form[i:] = np.array(VOWELS[vowel]) * tract
        swing[i:j] = np.clip((own - 0.22) / 0.35, 0.0, 1.0)
        if sound in NOISES:
            amp[max(i - int(0.05 * fine), 0) : i + int(0.025 * fine)] *= 0.02
        elif sound in ("m", "n"):
            form[i - int(0.03 * fine) : i + int(0.06 * fine)] = np.array(VOWELS["m"]) * tract
            amp[i : i + int(0.06 * fine)] *= 0.45
        elif sound:
            amp[i : i + int(0.03 * fine)] *= 0.5
    smooth = ndimage.gaussian_filter1d
    wobble = smooth(rng.standard_normal(count), 6.0) * 0.22
    pitch = smooth(pitch, 6.5) + 0.28 * smooth(swing, 8.0) * np.sin(2 * np.pi * wave * t + rng.uniform(0, 6)) + wobble
    amp = smooth(amp, 4.5) * (1.0 + smooth(rng.standard_normal(count), 4.0) * 0.13)
    form = smooth(form, 8.0, axis=0)
    f0 = 440.0 * 2.0 ** ((pitch - 69.0) / 12.0)
    step = rate // fine
    m = count * step

    def spread(y: npt.NDArray[Any]) -> npt.NDArray[Any]:
        """Frames to samples, in straight lines."""
        ends = np.append(y[1:], y[-1])
        return (y[:, None] + (ends - y)[:, None] * (np.arange(step) / step).astype(y.dtype)).ravel()

    turn = np.exp(2j * np.pi / rate * np.cumsum(spread(f0))).astype(np.complex64)
    now = turn.copy()
    wide = np.array([80.0, 100.0, 140.0, 190.0, 260.0])
    sung = np.zeros(m, dtype=np.float32)
    for k in range(1, int(min(44, 9500.0 / f0.mean())) + 1):
        f = k * f0
        square = np.ones(count)
        for own, width in zip(form.T, wide, strict=True):
            square *= own**4 / ((own**2 - f**2) ** 2 + (f * width) ** 2)
        level = amp * square**0.45 * k ** -(1.15 - 0.25 * amp.max())
        sung += now.imag * spread(level.astype(np.float32))
        now *= turn
    loud = spread(amp)
    x = 0.16 * sung.astype(np.float64)
    x += breath * 0.35 * loud * band(rng.standard_normal(m), rate, 1200.0, 7000.0, 1)
    for at, _, _, _, sound, force in phrase:
        if sound in NOISES:
            seconds, low, high, level = NOISES[sound]
            k = int(seconds * rng.uniform(0.85, 1.15) * rate)
            shape = np.hanning(k) if seconds > 0.05 else np.exp(-np.arange(k) / (0.3 * k)) * np.hanning(2 * k)[k:]
            burst = band(rng.standard_normal(k), rate, low, high) * shape
            lay(x, 0.8 * level * (0.5 + 0.5 * force) * burst, int((at - start + 0.02) * rate) - k)
    return x


def doubled(line: Sequence[Sung], rng: Rng, ms: float = 16.0, up: float = 0.0) -> list[Sung]:
    """The same words sung once more, or in another part."""
    out = []
    for at, length, midi, vowel, sound, force in line:
        moved = at + 1e-3 * ms * rng.standard_normal()
        own = length - 0.025 * abs(rng.standard_normal())
        out.append((moved, own, midi + up + 0.06 * rng.standard_normal(), vowel, sound, force * rng.uniform(0.9, 1.05)))
    return out


# drums

Hit = tuple[float, str, float]


def drum(piece: str, vel: float, rate: int, rng: Rng) -> Array:
    """One stroke."""
    n = int({"kick": 0.5, "snare": 0.45, "hat": 0.16, "open": 0.7, "crash": 2.6, "ride": 1.4}.get(piece, 0.7) * rate)
    t = np.arange(n) / rate
    noise = rng.standard_normal(n)
    if piece == "kick":
        glide = 47.0 * rng.uniform(0.99, 1.01) + (70.0 + 40.0 * vel) * np.exp(-t / 0.016)
        x = np.sin(2 * np.pi * np.cumsum(glide) / rate) * np.exp(-t / 0.1)
        x += 0.35 * vel * band(noise, rate, 1800.0, 6500.0, 1) * np.exp(-t / 0.004)
        x += 0.05 * band(noise, rate, 150.0, 900.0, 1) * np.exp(-t / 0.05)
    elif piece == "snare":
        freq = np.array([188.0, 283.0, 331.0, 447.0, 562.0]) * rng.uniform(0.985, 1.015)
        x = ring(
            freq, np.array([1.0, 0.4, 0.5, 0.3, 0.2]), np.array([0.3, 0.2, 0.22, 0.14, 0.1]), np.full(5, -1.5), n, rate
        )
        x += 0.65 * band(noise, rate, 1500.0, 10500.0, 1) * np.exp(-t / (0.05 + 0.03 * vel))
        x += 0.5 * vel * band(noise, rate, 3000.0, None) * np.exp(-t / 0.004)
    elif piece in ("hat", "open", "crash", "ride"):
        life = {"hat": 0.11, "open": 0.7, "crash": 2.4, "ride": 1.7}[piece] * rng.uniform(0.9, 1.1)
        low = {"hat": 4200.0, "open": 3600.0, "crash": 900.0, "ride": 700.0}[piece]
        count = 40 if n < rate else 56
        freq = low * (13000.0 / low) ** rng.uniform(0, 1, count)
        each = life * rng.uniform(0.35, 1.1, count) * (2500.0 / (freq + 1200.0)) ** 0.3
        x = 0.06 * ring(freq, rng.uniform(0.3, 1.0, count), each, rng.uniform(0, 6.28, count), n, rate)
        x += 0.16 * band(noise, rate, low * 1.3, 15000.0, 1) * np.exp(-6.9 * t / life)
        m = int(0.05 * rate)
        tick = band(noise[:m], rate, 5000.0, None) * np.exp(-t[:m] / 0.006)
        x[:m] += (0.4 if piece != "crash" else 0.15) * tick
    else:
        base = {"rack": 142.0, "floor": 88.0}[piece]
        glide = base * (1.0 + 0.22 * np.exp(-t / 0.05))
        x = np.sin(2 * np.pi * np.cumsum(glide) / rate) * np.exp(-t / (0.19 if piece == "floor" else 0.14))
        x += 0.35 * np.sin(2 * np.pi * 1.59 * np.cumsum(glide) / rate) * np.exp(-t / 0.08)
        x += 0.25 * band(noise, rate, 900.0, 5000.0, 1) * np.exp(-t / 0.012)
    a = int(0.0006 * rate)
    x[:a] *= np.linspace(0.0, 1.0, a)
    b = int(0.03 * rate)
    x[-b:] *= np.linspace(1.0, 0.0, b)
    return x * vel


def kit(hits: Sequence[Hit], n: int, rate: int, rng: Rng, ms: float = 4.0) -> dict[str, Array]:
    """Every piece of the kit on a track of its own, as it sounds at the piece."""
    pieces: dict[str, Array] = {}
    for at, piece, vel in hits:
        home = "hat" if piece == "open" else piece
        when = max(at + 1e-3 * ms * rng.standard_normal(), 0.0)
        lay(
            pieces.setdefault(home, np.zeros(n)),
            drum(piece, vel * rng.uniform(0.92, 1.04), rate, rng),
            int(when * rate),
        )
    return pieces


def microphone(
    sources: Mapping[str, Array], metres: Mapping[str, float], rate: int, near: str = "", off: float = 0.35
) -> Array:
    """What one microphone hears of several sources: later, weaker and, off axis, duller."""
    x = np.zeros(len(next(iter(sources.values()))))
    for name, metre in metres.items():
        if name not in sources:
            continue
        gain = min(1.0 / max(metre, 0.08), 9.0) * (1.0 if name == near or not near else off)
        heard = late(sources[name], metre / SPEED * rate) * gain
        x += heard if name == near else band(heard, rate, None, 9000.0 if not near else 5500.0, 1)
    return x


# rooms, plates, amplifiers


def tail(rate: int, rng: Rng, t60: float, *, dark: float = 0.5, wait: float = 0.0, early: int = 0) -> Array:
    """The impulse response of a room or plate: reflections and noise whose highs die first."""
    n = int(fft.next_fast_len(int(1.15 * t60 * rate), real=True))
    t = np.arange(n) / rate
    noise = np.fft.rfft(rng.standard_normal(n))
    freq = np.fft.rfftfreq(n, 1.0 / rate)
    marks = np.array([60.0, 150.0, 350.0, 800.0, 1800.0, 3800.0, 7500.0, 14000.0])
    x = np.zeros(n)
    position = np.interp(np.log(np.maximum(freq, 20.0)), np.log(marks), np.arange(8.0))
    for i in range(8):
        life = t60 * (1.1 if i < 2 else 1.0 - dark * (i - 1) / 7.0)
        share = np.clip(1.0 - np.abs(position - i), 0.0, 1.0)
        x += np.fft.irfft(noise * share * (1.0 - 0.07 * i), n) * np.exp(-6.908 * t / life)
    x *= np.clip(t / 0.012, 0.0, 1.0) ** 0.5
    for _ in range(early):
        at = rng.uniform(0.004, 0.045)
        x[int(at * rate)] += 6.0 * rng.choice([-1.0, 1.0]) * np.exp(-at / 0.03)
    x = np.concatenate([np.zeros(int(wait * rate)), x])
    return x / np.sqrt(float(np.sum(x**2)))


def through(x: Array, response: Array) -> Array:
    """A sound through an impulse response, length kept."""
    y = signal.oaconvolve(x.astype(np.float32), response.astype(np.float32))
    return np.asarray(y[: len(x)], dtype=np.float64)


def wet(x: Array, left: Array, right: Array, rate: int, low: float = 140.0, high: float = 9000.0) -> Array:
    """A reverb return on two legs."""
    sent = band(band(x, rate, low, None), rate, None, high, 1)
    return np.stack([through(sent, left), through(sent, right)], axis=1)


def amplifier(x: Array, rate: int, drive: float, low: float = 85.0, high: float = 4600.0) -> Array:
    """A driven amplifier with its loudspeaker."""
    up = np.asarray(signal.resample_poly(x / float(np.max(np.abs(x))), 2, 1))
    hot = np.tanh(drive * band(up, 2 * rate, 90.0, None, 1) + 0.12) - np.tanh(0.12)
    y = band(np.asarray(signal.resample_poly(hot, 1, 2))[: len(x)], rate, low, high)
    return y + 0.6 * band(y, rate, 1900.0, 3200.0, 1)


# files and sessions


def save(path: Path, x: Array, rate: int, subtype: str = "PCM_24") -> None:
    """Write a file, never over full scale."""
    path.parent.mkdir(parents=True, exist_ok=True)
    soundfile.write(path, np.clip(x, -1.0, 1.0 - 2.0**-23), rate, subtype=subtype)


def load(path: Path) -> tuple[Array, int]:
    """Read a file."""
    x, rate = soundfile.read(path)
    return np.asarray(x, dtype=float), int(rate)


def media(folder: Path, names: Sequence[str], rate: int) -> list[dict[str, Any]]:
    """The media table of a session: the file name without its ending is the id."""
    rows: list[dict[str, Any]] = []
    for name in names:
        info = soundfile.info(folder / "audio" / name)
        row: dict[str, Any] = {"id": name.split(".")[0], "path": f"audio/{name}", "place": "beside", "present": True}
        row |= {"legs": info.channels, "sample_rate_hz": rate, "duration_s": info.frames / info.samplerate}
        rows.append(row)
    return rows


def clip(file: str, start: float, end: float, offset: float | None = None, **more: Any) -> dict[str, Any]:
    """A clip that plays a file at its own place in the song unless told otherwise."""
    row = {"start_s": start, "end_s": end, "name": file, "file": file, "offset_s": start if offset is None else offset}
    return row | {"fade_in_s": 0.005, "fade_out_s": 0.005} | more


def channel(ident: str, name: str, kind: str = "track", output: str | None = "mix", **more: Any) -> dict[str, Any]:
    """A channel row."""
    row: dict[str, Any] = {"id": ident, "name": name, "kind": kind, "output": output}
    if kind == "track":
        row["plays"] = ["audio"]
    return row | more


def session(folder: Path) -> tuple[Path, dict[str, Any]]:
    """The session of a set, read."""
    path = next(folder.glob("*.session.json"))
    return path, json.loads(path.read_text())


def keep(path: Path, told: Mapping[str, Any]) -> None:
    """Write a session."""
    path.write_text(json.dumps(told, indent=1))


def strip(told: Mapping[str, Any], name: str) -> dict[str, Any]:
    """A channel by its name."""
    return next(c for c in told["channels"] if c["name"] == name)
