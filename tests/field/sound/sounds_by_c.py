"""Sounds and small helps of writer c: wooden guitars, double bass, organ, mandolin, shakers, sessions, damages."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from scipy import signal

from tests.field.sound import sounds_by_a as a
from tests.field.sound import sounds_by_b as b

Sound = b.Sound
Rng = np.random.Generator
Row = dict[str, Any]


def rms_db(x: Sound) -> float:
    """RMS in dBFS."""
    return float(20 * np.log10(max(1e-9, float(np.sqrt(np.mean(np.square(x)))))))


def peak_db(x: Sound) -> float:
    """Peak in dBFS."""
    return float(20 * np.log10(max(1e-9, float(np.max(np.abs(x))))))


# players


def lyrics(text: str, beat: float, begin: float) -> list[b.Note]:
    """Sung notes from 'beat/length/pitch/syllable' words, a syllable being a consonant and a vowel."""
    notes: list[b.Note] = []
    for word in text.split():
        at, length, midi, syllable = word.split("/")
        notes.append((begin + float(at) * beat, float(length) * beat, float(midi), syllable[-1], syllable[:-1]))
    return notes


def sung_again(notes: Sequence[b.Note], rng: Rng, ms: float = 14.0, up: Sequence[float] | float = 0.0) -> list[b.Note]:
    """The same words by another singer, at an interval."""
    steps = [up] * len(notes) if isinstance(up, int | float) else list(up)
    out = []
    for (at, length, midi, vowel, cons), step in zip(notes, steps, strict=True):
        moved = at + 1e-3 * ms * float(np.clip(rng.standard_normal(), -1.6, 1.6))
        out.append((moved, 0.97 * length, midi + step + 0.04 * rng.standard_normal(), vowel, cons))
    return out


def wooden(notes: Sequence[a.Note], n: int, rate: int, rng: Rng, cut: float = 2800.0, tune: float = 0.0) -> Sound:
    """Plucked strings as they stand at the bridge, out of tune by so many semitones."""
    shifted = [(at, length, midi + tune, vel) for at, length, midi, vel in notes]

    def tone(freq: float, seconds: float, vel: float) -> Sound:
        """One string."""
        return a.pluck(freq, seconds, rate, rng, vel=vel, cut=cut, t60=5.0)

    return a.play(shifted, n, rate, rng, tone)


def before_guitar(strings: Sound, rate: int, rng: Rng, metres: float = 0.3, size: float = 1.0) -> Sound:
    """The guitar's body and a little of the room, as a microphone before it hears them."""
    n = len(strings)
    x = a.through(strings, a.body(rate, rng, size))
    near = b.room(rng, rate, 0.28, 0.16, 1, 0.004, 4.0)
    x = x + 0.10 * b.reverb(x, near, n)
    x = b.peak_filter(b.peak_filter(x, rate, 3200.0, 6.0, 0.6), rate, 8000.0, 7.0, 0.6)
    x = b.butter(x, rate, "highpass", 70.0)
    return a.late(x, metres / b.SPEED_OF_SOUND * rate)


def picked(
    chords: Sequence[Sequence[float]], order: Sequence[int], beat: float, rng: Rng, begin: float
) -> list[a.Note]:
    """Finger picking in eighths: the places of the chord in their order, bar by bar."""
    notes: list[a.Note] = []
    for bar, chord in enumerate(chords):
        for step, place in enumerate(order):
            if place < 0:
                continue
            at = begin + (bar * 4 + step * 0.5) * beat + 0.006 * rng.standard_normal()
            vel = (0.72 if step in (0, 4) else 0.52) * rng.uniform(0.85, 1.12)
            notes.append((max(0.0, at), 1.7 * beat, chord[place % len(chord)], vel))
    return notes


def double_bass(notes: Sequence[a.Note], n: int, rate: int, rng: Rng) -> Sound:
    """A plucked double bass: short, dark, with a finger noise and a growl at the start."""
    x = np.zeros(n)
    for at, length, midi, vel in notes:
        tone = a.pluck(
            b.hertz(midi), length, rate, rng, vel=vel, place=0.24, cut=1000.0, t60=2.6, stiff=2e-5, nail=0.01
        )
        m = int(0.05 * rate)
        thump = b.butter(rng.standard_normal(m), rate, "lowpass", 420.0) * np.exp(-np.arange(m) / (0.012 * rate))
        thump[: int(0.002 * rate)] *= np.linspace(0, 1, int(0.002 * rate))
        tone[:m] += 0.5 * vel * thump
        a.lay(x, tone, int(at * rate))
    for f, up, q in ((98.0, 4.0, 2.0), (190.0, 3.0, 2.0), (800.0, 3.0, 1.0)):
        x = b.peak_filter(x, rate, f, up, q)
    return b.butter(x, rate, "highpass", 32.0)


def brushes(n: int, rate: int, rng: Rng, beat: float, begin: float, end: float) -> Sound:
    """Wire brushes that circle over the snare head."""
    t = np.arange(n) / rate
    turn = 0.55 + 0.45 * np.sin(2 * np.pi * (t - begin) / (2 * beat) - 0.8)
    gate = np.clip((t - begin) / 0.3, 0, 1) * np.clip((end - t) / 0.4, 0, 1)
    return b.butter(rng.standard_normal(n), rate, "bandpass", (1500.0, 8500.0), 1) * turn**2 * gate


def shaken(hits: Sequence[tuple[float, float]], n: int, rate: int, rng: Rng, low: float, life: float) -> Sound:
    """A shaker or a tambourine: grains of noise, wide up to the top."""
    x = np.zeros(n)
    for at, vel in hits:
        m = int(6 * life * rate)
        t = np.arange(m) / rate
        grain = b.butter(rng.standard_normal(m), rate, "highpass", low) * np.exp(-t / life)
        grain *= np.minimum(1, t / (0.012 if life < 0.04 else 0.002))
        if life > 0.04:
            for f in rng.uniform(5200, 15500, 8):
                grain += (
                    0.25 * np.sin(2 * np.pi * f * t + rng.uniform(0, 6)) * np.exp(-t / (life * rng.uniform(0.5, 1)))
                )
        grain[-200:] *= np.linspace(1, 0, 200)
        b.place(x, rate, at + 0.005 * rng.standard_normal(), grain, vel * rng.uniform(0.85, 1.1))
    return x


def organ(chords: Sequence[tuple[float, float, Sequence[float]]], n: int, rate: int, rng: Rng) -> Sound:
    """A drawbar organ through a turning loudspeaker before two microphones."""
    t = np.arange(n) / rate
    dry = np.zeros(n)
    for at, length, notes in chords:
        i, j = int(at * rate), min(n, int((at + length) * rate))
        own = t[: j - i]
        shape = np.minimum(1, own / 0.02) * np.minimum(1, (own[-1] - own) / 0.05)
        for midi in notes:
            for k, level in ((1, 1.0), (2, 0.7), (3, 0.45), (4, 0.3), (6, 0.15), (8, 0.12)):
                dry[i:j] += level * shape * np.sin(2 * np.pi * b.hertz(midi) * k * own + rng.uniform(0, 6.28))
    legs = []
    for side in (-1.0, 1.0):
        turn = np.sin(2 * np.pi * 1.1 * t + 0.9 * side)
        moved = np.interp(np.arange(n) - 0.00022 * rate * (1 + turn), np.arange(n), dry)
        legs.append(moved * (0.8 + 0.2 * turn))
    low = b.butter(dry, rate, "lowpass", 500.0, 1)
    out = np.stack(legs, 1) * 0.7 + 0.5 * low[:, None]
    return b.butter(np.tanh(0.25 * out) + 1e-5 * rng.standard_normal(out.shape), rate, "lowpass", 6500.0, 1)


def mandolin(notes: Sequence[a.Note], n: int, rate: int, rng: Rng) -> Sound:
    """Double courses, some of the notes as tremolo."""
    rows: list[a.Note] = []
    for at, length, midi, vel in notes:
        count = max(1, round(length / 0.085)) if length > 0.5 else 1
        for i in range(count):
            when = at + i * 0.085 + 0.004 * rng.standard_normal()
            hard = vel * (1.0 if i % 2 == 0 else 0.8) * rng.uniform(0.85, 1.1)
            for off in (0.0, 0.05):
                rows.append((max(0.0, when), min(length, 0.34), midi + off, hard * 0.6))

    def tone(freq: float, seconds: float, vel: float) -> Sound:
        """One string."""
        return a.pluck(freq, seconds, rate, rng, vel=vel, cut=4200.0, t60=1.4, place=0.1, nail=0.09)

    x = a.play(rows, n, rate, rng, tone)
    return b.butter(a.through(x, a.body(rate, rng, 0.55)), rate, "highpass", 150.0)


# sessions


def eq(name: str, *bands: Row) -> Row:
    """An equalizer insert with shown settings."""
    return {"name": name, "kind": "equalizer", "opaque": False, "equalizer": {"bands": list(bands)}}


def cut_low(freq: float) -> Row:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": 12.0}


def bell(freq: float, gain: float, q: float = 1.0) -> Row:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q}


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> Row:
    """A compressor insert with shown settings."""
    settings = {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release, "knee_db": 6.0}
    settings |= {"output_gain_db": out, "auto_makeup": False}
    return {"name": "Compressor", "kind": "compressor", "opaque": False, "dynamics": settings}


def hall(name: str, pre_ms: float) -> Row:
    """A reverb insert, wholly wet."""
    return {"name": name, "kind": "reverb", "opaque": False, "wet": 100.0, "pre_delay_ms": pre_ms}


def strip(
    ident: str, name: str, kind: str, output: str | None, fader: float, pan: float, legs: int, **more: Any
) -> Row:
    """A channel of the desk."""
    row: Row = {"id": ident, "name": name, "kind": kind, "output": output, "fader_db": fader, "pan": pan, "legs": legs}
    row |= {"mute": False, "solo": False}
    if kind == "track":
        row["plays"] = ["audio"]
    return row | more


def write_session(
    folder: Path,
    stem: str,
    title: str,
    rate: int,
    bpm: float,
    channels: list[Row],
    files: dict[str, str],
    markers: Sequence[tuple[float, str]],
) -> None:
    """Write the session file beside its audio."""
    told = {
        "format": "mixlint-session/1",
        "title": title,
        "source": {"importer": "json"},
        "sample_rate_hz": rate,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": bpm}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": round(t, 3), "name": name} for t, name in markers],
        "channels": channels,
        "media": b.media(folder, {key: f"audio/{name}" for key, name in files.items()}),
        "gaps": [],
        "notes": [],
    }
    (folder / f"{stem}.session.json").write_text(json.dumps(told, indent=1, ensure_ascii=False))


# damages


def on_file(name: str, change: Callable[[Sound, int], Sound]) -> Callable[[Path], None]:
    """A fault that changes the samples of one file of the folder."""

    def plant(folder: Path) -> None:
        b.change_file(folder / name, change)

    return plant


def limit(x: Sound) -> Sound:
    """Keep within full scale, as a converter does."""
    return np.clip(x, -1.0, 1.0 - 2.0**-23)


def band_rms(x: Sound, rate: int, low: float, high: float) -> float:
    """RMS of a band in dBFS."""
    mono = x if x.ndim == 1 else x.mean(axis=1)
    return rms_db(b.butter(mono, rate, "bandpass", (low, high), 3))


def window(n: int, rate: int, begin: float, end: float, edge: float = 0.01) -> Sound:
    """One inside a span, nought outside, with short ramps."""
    t = np.arange(n) / rate
    return np.clip((t - begin) / edge, 0, 1) * np.clip((end - t) / edge, 0, 1)


def lossy(x: Sound, rate: int, top: float, rng: Rng) -> Sound:
    """What a coder of low bit rate leaves: no top, holes in the spectrum, coarse steps."""
    legs = x if x.ndim == 2 else x[:, None]
    out = []
    for leg in legs.T:
        f, _, z = signal.stft(leg, rate, nperseg=1152, noverlap=576)
        level = np.abs(z)
        for low in range(0, len(f), 16):
            part = level[low : low + 16]
            mask = 0.2 * part.max(axis=0, keepdims=True) * (0.5 + min(1.0, f[low] / 8000.0))
            z[low : low + 16] *= part > mask * rng.uniform(0.8, 1.2)
        z[f > top] = 0
        _, y = signal.istft(z, rate, nperseg=1152, noverlap=576)
        out.append(y[: len(leg)])
    return np.stack(out, 1) if x.ndim == 2 else out[0]
