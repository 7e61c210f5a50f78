"""Abendlied: choir and strings in a church, recorded by a main pair, a far pair and a microphone for each section."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound import sounds_by_b as sb
from tests.field.sound.sounds_by_b import Sound

KIND = "stems"
RATE = 48_000
LENGTH_S = 24.0
N = int(LENGTH_S * RATE)
BPM = 72.0
BEAT = 60.0 / BPM
START = 0.9
SEED = 260

LEFT = "Haupt/Haupt_L.flac"
RIGHT = "Haupt/Haupt_R.flac"
FAR = "Raum/Raum_stereo.flac"

ACCEPTED: list[dict[str, Any]] = [
    {
        "names": ["Haupt_L.flac", "Haupt_R.flac", "Raum_stereo.flac"],
        "why": "The pairs stand 4 m and 9 m away and hear everything 8 to 25 ms after the near microphones.",
    },
    {
        "names": ["Sopran.flac", "Alt.flac", "Tenor.flac", "Bass.flac", "Violine 1.flac", "Violine 2.flac"],
        "why": "Each near microphone hears the neighbouring sections and the church as well.",
    },
]

SEATS: dict[str, tuple[float, float, float]] = {
    "Violine 1": (-2.4, 0.6, 1.1), "Violine 2": (-0.9, 1.4, 1.1), "Viola": (0.9, 1.4, 1.1), "Cello": (2.3, 0.7, 0.7),
    "Sopran": (-2.9, 3.2, 1.9), "Alt": (-1.0, 3.6, 1.9), "Tenor": (1.0, 3.6, 1.9), "Bass": (2.9, 3.2, 1.9),
}  # fmt: skip
STRINGS = ("Violine 1", "Violine 2", "Viola", "Cello")
CHOIR = ("Sopran", "Alt", "Tenor", "Bass")

# (start in beats, length, pitch)
LINES: dict[str, list[tuple[float, float, int]]] = {
    "Sopran": [(4, 2, 69), (6, 1, 71), (7, 1, 72), (8, 3, 74), (12, 2, 72), (14, 2, 71), (16, 2, 69), (18, 1, 72),
               (19, 1, 74), (20, 2, 76), (22, 1.5, 74)],
    "Alt": [(4, 2, 64), (6, 2, 67), (8, 3, 65), (12, 2, 64), (14, 2, 62), (16, 2, 64), (18, 2, 67), (20, 2, 67),
            (22, 1.5, 65)],
    "Tenor": [(4, 2, 60), (6, 2, 62), (8, 3, 57), (12, 2, 60), (14, 2, 59), (16, 2, 60), (18, 2, 60), (20, 2, 60),
              (22, 1.5, 59)],
    "Bass": [(4, 2, 45), (6, 2, 43), (8, 3, 50), (12, 2, 45), (14, 2, 43), (16, 2, 45), (18, 2, 48), (20, 2, 48),
             (22, 1.5, 43)],
    "Violine 1": [(0, 1.5, 76), (1.5, 0.5, 77), (2, 2, 79), (5, 1, 76), (6, 1, 74), (7, 1, 76), (8, 2, 77),
                  (10, 1.5, 81), (13, 1, 76), (14, 2, 74), (16, 2, 76), (18, 2, 79), (20, 2, 84), (22, 1.5, 83)],
    "Violine 2": [(0, 2, 72), (2, 2, 71), (5, 1, 72), (6, 2, 71), (8, 3.5, 69), (13, 1, 69), (14, 2, 67), (16, 2, 72),
                  (18, 2, 72), (20, 2, 72), (22, 1.5, 71)],
    "Viola": [(0, 2, 64), (2, 2, 62), (4, 2, 60), (6, 2, 59), (8, 3.5, 62), (12, 2, 60), (14, 2, 59), (16, 2, 57),
              (18, 2, 60), (20, 2, 60), (22, 1.5, 62)],
    "Cello": [(0, 2, 45), (2, 2, 43), (4, 2, 45), (6, 2, 43), (8, 3.5, 38), (12, 2, 45), (14, 2, 43), (16, 2, 41),
              (18, 2, 36), (20, 2, 36), (22, 1.5, 43)],
}  # fmt: skip


def _time(beat: float) -> float:
    """Time of a beat."""
    return START + beat * BEAT


def _row(name: str) -> list[tuple[float, float, float]]:
    """The line of a section in seconds."""
    return [(_time(b), d * BEAT * 0.97, float(m)) for b, d, m in LINES[name]]


def _singers(seed: int, name: str) -> Sound:
    """A section of the choir: three singers through two moving vowels, breaths and consonants."""
    rng = np.random.default_rng(seed)
    rows = _row(name)
    source = sb.bowed(rng, RATE, N, rows, 3, (), 0.16)
    source = sb.butter(source, RATE, "lowpass", 900.0, 1)
    high = name in ("Sopran", "Alt")
    t = np.arange(N) / RATE
    weight = np.zeros(N)
    for k, (start, dur, _) in enumerate(rows):
        if k % 3 != 1:
            weight[int(start * RATE) : int((start + dur) * RATE)] = 1.0
    weight = np.interp(t, t[::480], np.convolve(weight[::480], np.ones(9) / 9, "same"))
    out = sb.vowel(source, RATE, "a", 1.15 if high else 1.0) * weight
    out += sb.vowel(source, RATE, "o", 1.15 if high else 1.0) * (1 - weight)
    out /= np.max(np.abs(out))
    last = -9.0
    for k, (start, dur, _) in enumerate(rows):
        if k % 2 == 0:
            for _ in range(3):
                kind = str(rng.choice(["s", "t", "h"]))
                sb.place(out, RATE, start - 0.07 + rng.normal(0, 0.012), sb.consonant(rng, RATE, kind), 0.035)
        if start - last > 0.3:
            n = int(0.35 * RATE)
            air = sb.butter(rng.standard_normal(n), RATE, "bandpass", (800, 4500)) * np.hanning(n)
            sb.place(out, RATE, start - 0.45, air, 0.012)
        last = start + dur
    return out


def _play(seed: int, name: str) -> Sound:
    """A section of the strings."""
    rng = np.random.default_rng(seed)
    bodies = {
        "Viola": ((230, 5, 4), (400, 4, 5), (1100, 4, 2)),
        "Cello": ((110, 4, 4), (190, 5, 4), (440, 3, 4), (900, 3, 2)),
    }
    body = bodies.get(name, ((280, 6, 4), (460, 5, 5), (1200, 3, 2), (2600, 4, 2)))
    out = sb.bowed(rng, RATE, N, _row(name), 2 if name == "Cello" else 3, body, 0.14)
    return out / np.max(np.abs(out))


def _hear(sources: dict[str, Sound], at: tuple[float, float, float], near: str = "", turn: float = 0.0) -> Sound:
    """What a microphone hears directly: distance as level and delay; turned to a section or to a side."""
    out = np.zeros(N)
    for name, sound in sources.items():
        d = float(np.linalg.norm(np.subtract(SEATS[name], at)))
        lag = round(d / sb.SPEED_OF_SOUND * RATE)
        angle = np.arctan2(SEATS[name][0] - at[0], SEATS[name][1] - at[1]) - turn
        level = (0.45 if near and near != name else 1.0) / d * (0.6 + 0.4 * np.cos(angle) if turn else 1.0)
        out[lag:] += level * sound[: N - lag]
    return out


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    for sub in ("Haupt", "Raum", "Streicher", "Chor"):
        (folder / sub).mkdir()
    rng = np.random.default_rng(SEED)
    sources = {name: 0.8 * _play(SEED + k, name) for k, name in enumerate(STRINGS)}
    sources |= {name: 1.25 * _singers(SEED + 40 + k, name) for k, name in enumerate(CHOIR)}
    church = sb.room(np.random.default_rng(SEED + 1), RATE, 2.3, 1.2, 2, 0.012, 14.0)
    back = sb.room(np.random.default_rng(SEED + 2), RATE, 2.3, 1.2, 2, 0.02, 16.0)
    ends = [_hear(sources, (x, -3.0, 3.2), "", 7.0 * x) for x in (-0.11, 0.11)]
    main = np.stack(ends, 1) + 0.55 * sb.reverb(np.stack(ends, 1), church, N)
    ends = [_hear(sources, (x, -8.0, 4.0)) for x in (-0.9, 0.9)]
    far = 0.7 * np.stack(ends, 1) + 0.9 * sb.reverb(np.stack(ends, 1), back, N)
    wash = 0.16 * sb.reverb(ends[0] + ends[1], back[:, :1], N)[:, 0]
    main = sb.to_peak(main, -9.0) + sb.hiss(rng, N, -82, 2)
    far = sb.to_peak(far, -13.0) + sb.hiss(rng, N, -80, 2)

    def done(name: str, sound: Sound) -> None:
        """Fade the ends and write."""
        sb.write(folder / name, sb.fade(sound, RATE, 0.02, 1.0), RATE)

    done(LEFT, main[:, 0])
    done(RIGHT, main[:, 1])
    done(FAR, far)
    peaks = {"Violine 1": -12.0, "Violine 2": -13.0, "Viola": -13.5, "Cello": -11.0}
    peaks |= {"Sopran": -10.0, "Alt": -12.0, "Tenor": -12.0, "Bass": -11.5}
    for name, (x, y, z) in SEATS.items():
        spot = _hear(sources, (x * 0.95, y - 0.75, z + 0.7), name) + wash
        sub = "Streicher" if name in STRINGS else "Chor"
        done(f"{sub}/{name}.flac", sb.to_peak(spot, peaks[name]) + sb.hiss(rng, N, -83))


def _tenor_dies(folder: Path) -> None:
    """The microphone of the tenors loses its power."""

    def die(x: Sound, rate: int) -> Sound:
        a = int(13.12 * rate)
        t = np.arange(len(x) - a) / rate
        x[a:] = 0.05 * np.exp(-t / 0.02) * np.sin(2 * np.pi * 9 * t) + sb.hiss(np.random.default_rng(1), len(t), -88)
        return x

    sb.change_file(folder / "Chor" / "Tenor.flac", die)


def _viola_offset(folder: Path) -> None:
    """A faulty converter adds a direct voltage."""
    sb.change_file(folder / "Streicher" / "Viola.flac", lambda x, _: x + 0.034)


def _far_mono(folder: Path) -> None:
    """The far pair was exported from a channel of one leg."""
    sb.change_file(folder / FAR, lambda x, _: np.repeat(x.mean(axis=1, keepdims=True), 2, axis=1))


def _main_swapped(folder: Path) -> None:
    """The plugs of the main pair were exchanged."""
    left, right = folder / LEFT, folder / RIGHT
    other = left.with_name("x.flac")
    left.rename(other)
    right.rename(left)
    other.rename(right)


def _right_late(folder: Path) -> None:
    """The right one of the main pair went through another converter and came back late."""

    def late(x: Sound, rate: int) -> Sound:
        lag = int(0.0092 * rate)
        return np.concatenate([np.zeros(lag), x[:-lag]])

    sb.change_file(folder / RIGHT, late)


def _rumble(folder: Path) -> None:
    """The underground passes and the stand of the far pair has no spring."""

    def trains(x: Sound, rate: int) -> Sound:
        rng = np.random.default_rng(6)
        low = sb.butter(rng.standard_normal(x.shape), rate, "bandpass", (17, 34), 3)
        t = np.arange(len(x)) / rate
        swell = np.exp(-(((t - 6.0) / 2.0) ** 2)) + 0.8 * np.exp(-(((t - 18.5) / 2.2) ** 2))
        return x + sb.gain(-27.0) * (low / np.std(low)) * swell[:, None]

    sb.change_file(folder / FAR, trains)


def _cello_step(folder: Path) -> None:
    """Somebody turned up the preamp of the cellos between two notes."""

    def step(x: Sound, rate: int) -> Sound:
        a = int(_time(12) * rate) - 2000
        x[a:] *= sb.gain(9.0)
        x[:a] *= 1.0
        return x * min(1.0, 0.7 / float(np.max(np.abs(x))))

    sb.change_file(folder / "Streicher" / "Cello.flac", step)


def _violin_damaged(folder: Path) -> None:
    """The upload broke off."""
    path = folder / "Streicher" / "Violine 2.flac"
    data = path.read_bytes()
    path.write_bytes(data[: int(0.58 * len(data))])


def _soprano_wraps(folder: Path) -> None:
    """The highest notes ran over the numbers' range and come out on the other side; turned down afterwards."""

    def wrap(x: Sound, _: int) -> Sound:
        x = x * (1.22 / float(np.max(np.abs(x))))
        return np.asarray(((x + 1.0) % 2.0 - 1.0) * 0.5)

    sb.change_file(folder / "Chor" / "Sopran.flac", wrap)


def _metronome(folder: Path) -> None:
    """A headphone lies beside the microphone of the altos."""

    def click(x: Sound, rate: int) -> Sound:
        t = np.arange(int(0.03 * rate)) / rate
        for beat in range(26):
            f = 1760.0 if beat % 4 == 0 else 1320.0
            tick = np.sin(2 * np.pi * f * t) * np.exp(-t / 0.006) + 0.4 * np.sin(2 * np.pi * 3.1 * f * t) * np.exp(
                -t / 0.003
            )
            sb.place(x, rate, _time(beat), tick, sb.gain(-29.0 if beat % 4 == 0 else -32.0))
        return x

    sb.change_file(folder / "Chor" / "Alt.flac", click)


FAULTS: list[dict[str, Any]] = [
    {
        "id": "tenor-mic-dies",
        "class": "microphone dies",
        "names": ["Tenor.flac"],
        "grade": "hold",
        "says": "The tenors' microphone is dead from 13.1 s on: only hiss at −88 dBFS while the others go on.",
        "time_s": (13.1, 24.0),
        "cure": "Use the main pair for the tenors, or another take.",
        "plant": _tenor_dies,
    },
    {
        "id": "viola-direct-voltage",
        "class": "direct voltage",
        "names": ["Viola.flac"],
        "grade": "look",
        "says": "The viola's file lies 0.034 (−29 dBFS) above the zero line throughout.",
        "time_s": None,
        "cure": "Take the offset out with a cut at 15 Hz.",
        "plant": _viola_offset,
    },
    {
        "id": "far-pair-is-mono",
        "class": "a pair without width",
        "names": ["Raum_stereo.flac"],
        "grade": "look",
        "says": "Both legs of the far pair hold the same samples: the room is mono.",
        "time_s": None,
        "cure": "Export the far pair again as two legs.",
        "plant": _far_mono,
    },
    {
        "id": "main-pair-swapped",
        "class": "legs exchanged",
        "names": ["Haupt_L.flac", "Haupt_R.flac"],
        "grade": "look",
        "says": "The main pair's files are exchanged: first violins on the right in it, on the left in the far pair.",
        "time_s": None,
        "cure": "Exchange Haupt_L and Haupt_R.",
        "plant": _main_swapped,
    },
    {
        "id": "main-right-late",
        "class": "time between the legs of a pair",
        "names": ["Haupt_R.flac", "Haupt_L.flac"],
        "grade": "hold",
        "says": "Haupt_R comes 9.2 ms after Haupt_L, though the two stand only 0.22 m apart.",
        "time_s": None,
        "cure": "Slide Haupt_R 9.2 ms earlier.",
        "plant": _right_late,
    },
    {
        "id": "far-pair-rumble",
        "class": "rumble",
        "names": ["Raum_stereo.flac"],
        "grade": "look",
        "says": "Rumble at 17 to 34 Hz in the far pair, up to −27 dBFS, around 6 s and 18.5 s: a train below.",
        "time_s": (3.0, 22.0),
        "cure": "Cut the far pair below 45 Hz.",
        "plant": _rumble,
    },
    {
        "id": "cello-level-step",
        "class": "level step in a recording",
        "names": ["Cello.flac"],
        "grade": "look",
        "says": "The cello's microphone jumps up by 9 dB at 10.9 s, hiss and neighbours with it: preamp touched.",
        "time_s": (10.7, 24.0),
        "cure": "Lower it by 9 dB from 10.9 s on.",
        "plant": _cello_step,
    },
    {
        "id": "violin-file-broken",
        "class": "damaged file",
        "names": ["Violine 2.flac"],
        "grade": "hold",
        "says": "The file of the second violins is broken off: its data end after little more than half the time.",
        "time_s": None,
        "cure": "Ask for the file again.",
        "plant": _violin_damaged,
    },
    {
        "id": "soprano-wraps",
        "class": "wrapped samples",
        "names": ["Sopran.flac"],
        "grade": "hold",
        "says": "The sopranos' loudest peaks wrap from plus to minus (jumps of full range), later turned down 6 dB.",
        "time_s": None,
        "cure": "Get the take from before the conversion.",
        "plant": _soprano_wraps,
    },
    {
        "id": "metronome-in-alto",
        "class": "metronome heard in a microphone",
        "names": ["Alt.flac"],
        "grade": "look",
        "says": "A metronome ticks in the altos' microphone on every beat (0.833 s), −29 dBFS, plain from 0.9 s on.",
        "time_s": (0.9, 21.8),
        "cure": "Take the ticks out in the rests, or use another take.",
        "plant": _metronome,
    },
]
