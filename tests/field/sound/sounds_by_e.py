"""Sounds and small tools of writer e: pools of strings, accordion, flute, electric piano, a live room, a bounce."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
import soundfile
from numpy.typing import NDArray

from tests.field.sound import sounds_by_a as a
from tests.field.sound import sounds_by_b as b

Sound = NDArray[np.float64]
Rng = np.random.Generator
Played = tuple[float, float, float, float]  # seconds, length, note number, strength
Spot = tuple[float, float]


def strings(
    rng: Rng,
    rate: int,
    n: int,
    notes: Sequence[Played],
    cut: float = 2600.0,
    t60: float = 4.0,
    nail: float = 0.05,
    cents: float = 0.0,
    long: float = 2.6,
    place: float = 0.14,
) -> Sound:
    """Plucked notes from a pool of a few strokes for every pitch, damped where they end."""
    pool: dict[float, list[Sound]] = {}
    out = np.zeros(n)
    damp = np.exp(-np.arange(int(0.05 * rate)) / (0.012 * rate)) * np.linspace(1, 0, int(0.05 * rate))
    for at, length, midi, force in notes:
        if midi not in pool:
            f = b.hertz(midi + cents / 100)
            pool[midi] = [
                a.pluck(
                    f * 2 ** (rng.normal(0, 1.5) / 1200),
                    long,
                    rate,
                    rng,
                    vel=v,
                    cut=cut,
                    t60=t60,
                    nail=nail,
                    place=place,
                )
                / v
                for v in (0.5, 0.65, 0.8, 0.95)
            ]
        stroke = pool[midi][int(np.clip((force - 0.4) * 6 + rng.normal(0, 0.8), 0, 3.99))]
        m = min(len(stroke), int(length * rate))
        tone = stroke[: m + len(damp)].copy()
        if m < len(stroke) - len(damp):
            tone[m:] *= damp
        b.place(out, rate, at, tone, force)
    return out


def wood(rng: Rng, rate: int, dry: Sound, size: float = 1.0) -> Sound:
    """A string's sound through a wooden body."""
    return a.through(dry, a.body(rate, rng, size))


def accordion(rng: Rng, rate: int, n: int, notes: Sequence[Played], bellows: float = 0.12) -> Sound:
    """Two reeds a few cents apart for every key, with the bellows' swell and the clack of keys."""
    wave = [b.table(36, 0.85, 0.9, 4), b.table(30, 0.95, 0.7, 9)]
    out, clack = np.zeros(n), np.zeros(n)
    swell = 1 + bellows * b.smooth_noise(rng, n, int(0.35 * rate))
    for at, length, midi, force in notes:
        m = int((length + 0.05) * rate)
        t = np.arange(m) / rate
        shape = np.minimum(1, t / 0.035) * np.clip((length + 0.045 - t) / 0.045, 0, 1)
        shape *= 0.85 + 0.15 * np.sin(np.pi * np.minimum(1, t / length))
        tone = np.zeros(m)
        for k, cents in enumerate((-4.0, 5.0)):
            freq = np.full(m, b.hertz(midi + (cents + rng.normal(0, 0.8)) / 100)) * (1 + 0.0012 * (1 - shape))
            tone += b.from_table(wave[k], freq, rate, rng.random())
        b.place(out, rate, at, tone * shape, force * 0.5)
        k = int(0.012 * rate)
        b.place(clack, rate, at, b.butter(rng.standard_normal(k), rate, "bandpass", (900, 3500)) * np.hanning(k), 0.03)
    out = b.peak_filter(b.butter(out, rate, "lowpass", 5200.0, 1), rate, 950.0, 4.0, 1.0)
    return out * swell + clack


def flute(rng: Rng, rate: int, n: int, notes: Sequence[Played]) -> Sound:
    """A flute: few harmonics, breath, a vibrato that comes late."""
    out = np.zeros(n)
    wave = b.table(7, 1.9, 0.8, 5)
    for at, length, midi, force in notes:
        m = int((length + 0.06) * rate)
        t = np.arange(m) / rate
        shape = np.minimum(1, t / 0.05) ** 0.8 * np.clip((length + 0.055 - t) / 0.07, 0, 1)
        swing = np.clip((t - 0.25) / 0.4, 0, 1) * np.sin(2 * np.pi * 5.1 * t + rng.uniform(0, 6))
        freq = b.hertz(midi + rng.normal(0, 0.04)) * 2 ** ((0.12 * swing - 0.5 * np.exp(-t / 0.03)) / 12)
        tone = b.from_table(wave, freq, rate, rng.random()) * (1 + 0.16 * swing)
        air = b.butter(rng.standard_normal(m), rate, "bandpass", (900, 6500), 1)
        b.place(out, rate, at, (tone + (0.035 + 0.12 * np.exp(-t / 0.03)) * air) * shape, force)
    return out


def electric_piano(rng: Rng, rate: int, n: int, notes: Sequence[Played]) -> Sound:
    """Struck tines with a pickup, on two legs that sway."""
    dry = np.zeros(n)
    for at, length, midi, force in notes:
        f = b.hertz(midi)
        m = int((length + 0.12) * rate)
        t = np.arange(m) / rate
        depth = (0.5 + 1.3 * force) * np.exp(-t / 0.5)
        tone = np.sin(2 * np.pi * f * t + depth * np.sin(2 * np.pi * f * t)) * np.exp(-t / (2.6 - midi / 60))
        tone += 0.10 * force * np.sin(2 * np.pi * f * 7.02 * t) * np.exp(-t / 0.12)
        tone *= np.minimum(1, t / 0.002) * np.clip((length + 0.11 - t) / 0.11, 0, 1)
        b.place(dry, rate, at, tone, force * rng.uniform(0.93, 1.07))
    dry = b.butter(dry, rate, "highpass", 90.0, 1)
    sway = 0.35 * np.sin(2 * np.pi * 3.4 * np.arange(n) / rate)
    return np.stack([dry * (0.75 + sway * 0.75), dry * (0.75 - sway * 0.75)], 1)


def frame_drum(rng: Rng, rate: int, n: int, hits: Sequence[tuple[float, str, float]]) -> Sound:
    """A frame drum with jingles: thumb, slap and shakes."""
    out = np.zeros(n)
    for when, kind, force in hits:
        m = int(0.28 * rate)
        t = np.arange(m) / rate
        noise = rng.standard_normal(m)
        jingle = b.butter(noise, rate, "bandpass", (5200, 13000)) * np.exp(-t / rng.uniform(0.04, 0.06))
        for _ in range(4):
            jingle += 0.05 * np.sin(2 * np.pi * rng.uniform(5500, 9500) * t) * np.exp(-t / 0.08)
        skin = np.zeros(m)
        if kind == "thumb":
            skin = 0.9 * np.sin(2 * np.pi * np.cumsum(105 + 20 * np.exp(-t / 0.02)) / rate) * np.exp(-t / 0.09)
        elif kind == "slap":
            skin = 0.6 * np.sin(2 * np.pi * 330 * t) * np.exp(-t / 0.02)
            skin += 0.7 * b.butter(noise, rate, "bandpass", (800, 4500)) * np.exp(-t / 0.012)
        at = when + rng.normal(0, 0.004)
        b.place(out, rate, at, (0.35 * jingle + skin) * np.minimum(1, t / 0.0008), force * rng.uniform(0.88, 1.08))
    return out


def hear(
    sources: Mapping[str, Sound],
    spots: Mapping[str, Spot],
    at: Spot,
    aim: Spot,
    rate: int,
    tail: Sound,
    wet: float = 0.25,
    back: float = 0.12,
) -> Sound:
    """One microphone in a room: every source later and weaker with distance, duller off its axis, and the room."""
    n = len(next(iter(sources.values())))
    out, all_of_it = np.zeros(n), np.zeros(n)
    way = np.subtract(aim, at)
    for name, sound in sources.items():
        line = np.subtract(spots[name], at)
        metres = float(np.hypot(line[0], line[1]))
        cosine = float(np.dot(line, way) / max(1e-6, metres * float(np.hypot(way[0], way[1]))))
        level = (back + (1 - back) * (0.5 + 0.5 * cosine)) / max(0.3, metres)
        lag = round(metres / b.SPEED_OF_SOUND * rate)
        heard = sound if cosine > 0.7 else b.butter(sound, rate, "lowpass", 3500.0 + 4500.0 * max(0.0, cosine), 1)
        out[lag:] += level * heard[: n - lag]
        all_of_it += sound
    return out + wet * a.through(all_of_it, tail)


def hum(n: int, rate: int, level_db: float, base: float = 50.0) -> Sound:
    """Mains hum with its harmonics, level as RMS."""
    t = np.arange(n) / rate
    rows = ((1, 1.0), (2, 0.45), (3, 0.6), (4, 0.15), (5, 0.3), (7, 0.18), (9, 0.1))
    x = np.sum([w * np.sin(2 * np.pi * base * k * t + k) for k, w in rows], axis=0)
    return np.asarray(x * b.gain(level_db) / np.sqrt(np.mean(x**2)))


def side_gains(pan: float) -> tuple[float, float]:
    """Equal-power gains of a pan from −100 to +100."""
    angle = (pan / 100 + 1) * np.pi / 4
    return float(np.cos(angle)), float(np.sin(angle))


def play_channel(folder: Path, session: dict[str, Any], channel: dict[str, Any], n: int, rate: int) -> Sound:
    """A channel's clips on two legs, after fader and pan."""
    files = {m["id"]: m["path"] for m in session["media"]}
    out = np.zeros((n, 2))
    for c in channel.get("clips", []):
        x, _ = soundfile.read(folder / files[c["file"]], dtype="float64")
        begin, start = round(c["offset_s"] * rate), round(c["start_s"] * rate)
        m = min(round((c["end_s"] - c["start_s"]) * rate), len(x) - begin, n - start)
        x = b.fade(x[begin : begin + m], rate, c["fade_in_s"], c["fade_out_s"]) * b.gain(c["gain_db"])
        left, right = side_gains(channel.get("pan", 0.0))
        if x.ndim == 1:
            x = np.stack([x * left, x * right], 1)
        else:
            x = x * np.minimum(1.0, np.array([1.0 - channel["pan"] / 100, 1.0 + channel["pan"] / 100]))
        out[start : start + m] += x
    return out * b.gain(channel["fader_db"])


def bounce(
    folder: Path, print_name: str, n: int, rate: int, plate: Callable[[Sound], Sound], without: Sequence[str] = ()
) -> None:
    """Print the mix of a session as it stands; the plate is what a live return makes of its sends."""
    session = json.loads(next(folder.glob("*.session.json")).read_text())
    faders = {c["id"]: b.gain(c["fader_db"]) for c in session["channels"]}
    mix, sent = np.zeros((n, 2)), np.zeros((n, 2))
    for c in session["channels"]:
        if c["kind"] != "track" or c["mute"] or c["name"] in without:
            continue
        x = play_channel(folder, session, c, n, rate)
        for s in c.get("sends", []):
            sent += x * b.gain(s["level_db"])
        mix += x * faders[c["output"]]
    back = next(c for c in session["channels"] if c["kind"] == "return")
    mix += plate(sent) * faders[back["id"]]
    master = next(c for c in session["channels"] if c["kind"] == "master")
    soundfile.write(folder / print_name, mix * b.gain(master["fader_db"]), rate, subtype="PCM_24")


def change(path: Path, how: Callable[[Sound, int], Sound]) -> None:
    """Change a file's samples, its depth kept; nothing goes over full scale."""
    x, rate = soundfile.read(path, dtype="float64")
    subtype = soundfile.info(path).subtype
    soundfile.write(path, np.clip(how(x, rate), -1.0, 1.0 - 2.0**-23), rate, subtype=subtype)


def stereo_session(
    title: str, rate: int, bpm: float, beats: int, channels: list[dict[str, Any]], media: list[dict[str, Any]]
) -> dict[str, Any]:
    """The frame of a session."""
    return {
        "format": "mixlint-session/1",
        "title": title,
        "sample_rate_hz": rate,
        "timeline": {"tempos": [{"beat": 0, "bpm": bpm}], "meters": [{"beat": 0, "beats": beats, "unit": 4}]},
        "channels": channels,
        "media": media,
    }


def track(
    ident: str,
    name: str,
    file: str,
    end: float,
    fader: float,
    pan: float,
    out: str,
    legs: int = 1,
    edge: float = 0.05,
    **more: Any,
) -> dict[str, Any]:
    """A track that plays one file from the start of the song."""
    return {
        "id": ident,
        "name": name,
        "kind": "track",
        "plays": ["audio"],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "clips": [b.clip(file, 0.0, end, 0.0, 0.0, edge)],
    } | more


def bus(ident: str, name: str, kind: str, out: str | None, fader: float = 0.0, **more: Any) -> dict[str, Any]:
    """A group, a return or the master."""
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": out,
    } | more
