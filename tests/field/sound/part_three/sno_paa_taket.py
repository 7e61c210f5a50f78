"""Stems of "Snø på taket", a singer-songwriter production, with printed returns and a mix print.

All files are stereo prints through their pan positions, 48 kHz, 24 bit, equally long; the stems and the printed
returns add up to the print of the mix. V is left (venstre), H is right (høyre), romklang is reverb.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from scipy import signal

from tests.field.sound import sounds_by_d as d
from tests.field.sound.sounds_by_d import Sound, a, b

KIND = "stems"
RATE = 48000
N = int(24.6 * RATE)
BEAT = 0.75
MIX = "Snø på taket - MIKS 3.wav"
CHORDS: list[list[float | None]] = [
    [43, 47, 50, 55, 59, 67],
    [42, None, 50, 57, 62, 66],
    [40, 47, 52, 55, 62, 64],
    [48, None, 52, 55, 62, 64],
    [43, 47, 50, 55, 59, 67],
    [42, None, 50, 57, 62, 66],
    [48, None, 52, 55, 62, 64],
]
LINE = [
    (4.3, 0.45, 62, "e", "h", 0.7),
    (4.8, 0.5, 64, "i", "s", 0.75),
    (5.3, 0.9, 67, "o", "", 0.85),
    (6.3, 0.45, 66, "a", "t", 0.8),
    (6.8, 1.2, 64, "e", "m", 0.75),
    (8.5, 0.45, 64, "a", "n", 0.75),
    (9.0, 0.5, 67, "i", "", 0.8),
    (9.5, 0.9, 69, "o", "s", 0.9),
    (10.5, 0.5, 67, "a", "k", 0.8),
    (11.0, 0.8, 62, "e", "t", 0.7),
    (12.5, 0.5, 67, "a", "", 0.9),
    (13.0, 0.9, 71, "o", "s", 1.0),
    (14.0, 0.5, 69, "i", "n", 0.9),
    (14.5, 0.9, 67, "e", "t", 0.85),
    (15.5, 0.4, 64, "u", "", 0.75),
    (16.5, 0.5, 67, "a", "h", 0.9),
    (17.0, 0.9, 71, "o", "f", 1.0),
    (18.0, 0.5, 74, "i", "l", 1.0),
    (18.5, 0.7, 71, "a", "m", 0.95),
    (19.3, 0.7, 69, "o", "t", 0.85),
    (20.5, 0.5, 67, "e", "s", 0.85),
    (21.0, 0.5, 69, "a", "t", 0.9),
    (21.5, 1.2, 71, "i", "", 0.95),
    (22.8, 0.6, 69, "o", "n", 0.85),
    (23.5, 0.5, 67, "u", "k", 0.8),
    (24.1, 2.6, 67, "a", "t", 0.8),
]


def _sung(first: float = 0.0) -> list[a.Sung]:
    return [(t * BEAT, n * BEAT, float(m), v, c, f) for t, n, m, v, c, f in LINE if t >= first]


def _picked(rng: np.random.Generator, pattern: list[tuple[float, int, float]], up: float) -> list[a.Note]:
    """Fingerpicked bars, and a last chord that rings."""
    notes: list[a.Note] = []
    for bar, chord in enumerate(CHORDS):
        for at, string, vel in pattern:
            tone = chord[string] if chord[string] is not None else chord[2]
            last = 1.3 if string > 1 else 1.9
            when = (bar * 4 + at) * BEAT + 0.006 * rng.standard_normal() + 0.02
            notes.append((max(when, 0.02), last, float(tone or 50) + up, vel * rng.uniform(0.85, 1.12)))
    for i, tone in enumerate(CHORDS[0]):
        notes.append((28 * BEAT + 0.02 + 0.035 * i, 2.9, float(tone or 43) + up, 0.6 * rng.uniform(0.9, 1.1)))
    return notes


def _guitar(
    rng: np.random.Generator, pattern: list[tuple[float, int, float]], up: float, left: bool
) -> tuple[Sound, Sound]:
    """The guitar as recorded near by, and its stereo print leaning to one side."""
    dry = a.play(_picked(rng, pattern, up), N, RATE, rng)
    dry = b.butter(a.through(dry, a.body(RATE, rng, 1.0 if left else 0.94)), RATE, "highpass", 75.0)
    dry = a.to_peak(d.squeeze(a.to_peak(dry, -3.0), RATE, -24.0, 2.5), -9.0) + b.hiss(rng, N, -76.0)
    far = b.reverb(dry, b.room(rng, RATE, 0.35, 0.2, 1, 0.003, 4.0), N)
    near, other = 1.0 * dry + 0.10 * far, 0.22 * a.late(dry, 31) + 0.16 * far
    return dry, np.stack([near, other] if left else [other, near], axis=1)


def _percussion(rng: np.random.Generator) -> Sound:
    """Shaker right, tambourine left, box drum in the middle."""
    x = np.zeros((N, 2))
    for step in range(8 * 2, 28 * 2):
        at = step * BEAT / 2 + 0.005 * rng.standard_normal()
        for extra in (0.0, BEAT / 4):
            vel = (0.30 if step % 2 else 0.2) * (0.6 if extra else 1.0) * rng.uniform(0.8, 1.15)
            a.lay(x, b.spread(d.shaker(RATE, rng, vel), 0.45), int((at + extra) * RATE))
        if step % 4 == 0:
            a.lay(x, b.spread(d.box(RATE, rng, rng.uniform(0.75, 0.95), False), 0.0), int(at * RATE))
        if step % 8 == 5:
            a.lay(x, b.spread(d.box(RATE, rng, rng.uniform(0.4, 0.5), False), 0.0), int(at * RATE))
        if step % 4 == 2:
            a.lay(x, b.spread(d.box(RATE, rng, rng.uniform(0.6, 0.75), True), 0.05), int(at * RATE))
            if step >= 24:
                a.lay(x, b.spread(d.tambourine(RATE, rng, rng.uniform(0.4, 0.5)), -0.5), int(at * RATE))
    wetness = b.reverb(x, b.room(rng, RATE, 0.4, 0.25, 2, 0.002, 5.0), N)
    return x + 0.12 * wetness + b.hiss(rng, N, -75.0, 2) * 0.5


def _piano(rng: np.random.Generator) -> Sound:
    """Sparse chords and answers, low strings left, high strings right."""
    x = np.zeros((N, 2))
    roots = [
        (43, 59, 62, 67),
        (42, 57, 62, 66),
        (40, 55, 59, 64),
        (36, 55, 60, 64),
        (43, 59, 62, 71),
        (42, 57, 62, 69),
        (36, 55, 62, 64),
    ]
    for bar, chord in enumerate([*roots, (43, 55, 62, 67)]):
        for i, midi in enumerate(chord):
            at = bar * 4 * BEAT + 0.03 + 0.012 * i + 0.006 * abs(rng.standard_normal())
            tone = d.piano_note(midi, 2.6, 0.5 * rng.uniform(0.8, 1.15), RATE, rng)
            a.lay(x, b.spread(tone, (midi - 58) / 40.0), int(at * RATE))
        if bar < 7:
            for step, midi in ((2.5, chord[3] + 12), (3.0, chord[2] + 12), (3.5, chord[1] + 12)):
                if rng.random() < 0.75:
                    tone = d.piano_note(midi, 1.2, 0.35 * rng.uniform(0.8, 1.2), RATE, rng)
                    a.lay(x, b.spread(tone, 0.3), int(((bar * 4 + step) * BEAT + 0.02) * RATE))
    wetness = b.reverb(x, b.room(rng, RATE, 0.9, 0.5, 2, 0.006, 6.0), N)
    return x + 0.35 * wetness + b.hiss(rng, N, -74.0, 2) * 0.6


def _strings(rng: np.random.Generator) -> Sound:
    """A small section, the high ones left, the low ones right, in their room."""
    bar = 4 * BEAT
    high = [(9.0, bar, 67), (9.0 + bar, bar, 71), (9.0 + 2 * bar, bar, 69), (9.0 + 3 * bar, bar, 67), (21.0, 2.2, 71)]
    mid = [(9.0, bar, 60), (9.0 + bar, bar, 62), (9.0 + 2 * bar, bar, 62), (9.0 + 3 * bar, bar, 64), (21.0, 2.2, 62)]
    low = [(9.0, bar, 48), (9.0 + bar, bar, 43), (9.0 + 2 * bar, bar, 42), (9.0 + 3 * bar, bar, 48), (21.0, 2.2, 43)]
    x = b.spread(b.bowed(rng, RATE, N, high, 3, attack=0.3), -0.35) + b.spread(
        b.bowed(rng, RATE, N, mid, 2, attack=0.3), 0.05
    )
    x += 1.1 * b.spread(b.bowed(rng, RATE, N, low, 2, attack=0.3), 0.35)
    return x + 0.7 * b.reverb(x, b.room(rng, RATE, 1.3, 0.8, 2, 0.012, 9.0), N) + b.hiss(rng, N, -66.0, 2)


def make(folder: Path) -> None:
    """Write the stems, the printed returns and the print of the mix."""
    rng = np.random.default_rng(7101)
    left = [
        (0, 0, 0.8),
        (0.5, 3, 0.5),
        (1, 4, 0.6),
        (1.5, 2, 0.5),
        (2, 1, 0.7),
        (2.5, 4, 0.55),
        (3, 3, 0.5),
        (3.5, 5, 0.6),
    ]
    right = [(0, 2, 0.7), (0.75, 4, 0.55), (1, 5, 0.6), (2, 2, 0.65), (2.5, 5, 0.5), (2.75, 4, 0.5), (3.25, 3, 0.55)]
    stems: dict[str, Sound] = {}
    dry_v, stems["Gitar V"] = _guitar(rng, left, 0.0, True)
    dry_h, stems["Gitar H"] = _guitar(rng, right, 12.0, False)
    plate = b.room(rng, RATE, 1.7, 0.9, 2, 0.018, 9.0)
    other = b.room(rng, RATE, 1.6, 0.85, 2, 0.018, 9.0)
    wet_v = b.butter(b.reverb(dry_v, plate, N), RATE, "highpass", 180.0)
    wet_h = b.butter(b.reverb(dry_h, other, N), RATE, "highpass", 180.0)
    stems["Gitar V romklang"] = wet_v * np.array([1.0, 0.55])
    stems["Gitar H romklang"] = wet_h * np.array([0.55, 1.0])
    voice = a.sing(_sung(), N, RATE, rng, tract=1.08)
    voice = a.to_peak(voice, -7.5) + b.hiss(rng, N, -74.0)
    stems["Hovedvokal"] = d.both(voice)
    for name, at, gains in (("Vokaldobling V", 12.0, (0.95, 0.3)), ("Vokaldobling H", 12.0, (0.3, 0.95))):
        line = a.doubled(_sung(at), rng, 18.0)
        own = a.to_peak(a.sing(line, N, RATE, rng, tract=1.08, breath=0.08, wave=rng.uniform(5.0, 5.9)), -14.0)
        stems[name] = d.both(own + b.hiss(rng, N, -80.0), *gains)
    low = []
    for bar, root in enumerate([43, 42, 40, 36, 43, 42, 36]):
        if bar > 0:
            steps = ((0, 1.7, 0, 0.8), (2, 0.8, 0, 0.65), (3, 0.45, 7, 0.55), (3.5, 0.4, 5, 0.5))
            low += [
                ((bar * 4 + s) * BEAT + 0.02, n * BEAT, root + u, v * rng.uniform(0.9, 1.1)) for s, n, u, v in steps
            ]
    low.append((28 * BEAT + 0.02, 2.6, 31.0, 0.8))
    bass = a.play(low, N, RATE, rng, lambda f, s, v: a.pluck(f, s, RATE, rng, vel=v, place=0.22, cut=700.0, t60=5.0))
    bass = a.to_peak(b.butter(bass, RATE, "highpass", 32.0), -9.0) + b.hiss(rng, N, -80.0)
    stems["Bass"] = d.both(bass)
    stems["Perkusjon"] = a.to_peak(_percussion(rng), -9.0)
    stems["Piano"] = a.to_peak(d.squeeze(a.to_peak(_piano(rng), -3.0), RATE, -20.0, 2.5), -12.0)
    stems["Strykere"] = a.to_peak(_strings(rng), -15.0)
    hall = b.room(rng, RATE, 2.0, 1.1, 2, 0.035, 11.0)
    stems["Vokal romklang"] = b.butter(b.reverb(voice, hall, N), RATE, "highpass", 220.0)
    for name, level in (("Gitar V romklang", -23.0), ("Gitar H romklang", -23.0), ("Vokal romklang", -20.0)):
        stems[name] = a.to_peak(stems[name], level)
    stems = {name: b.fade(x, RATE, 0.01, 0.9) for name, x in stems.items()}
    total = np.sum(list(stems.values()), axis=0)
    trim = a.db(-3.0) / float(np.max(np.abs(total)))
    for name, x in stems.items():
        b.write(folder / f"{name}.wav", x * trim, RATE)
    b.write(folder / MIX, total * trim, RATE)


def _also_mixed(folder: Path, name: str, change: Callable[[Sound, int], Sound]) -> None:
    """A change in what was recorded: in the stem and so in the print of the mix."""
    path = folder / f"{name}.wav"
    before, _ = b.read(path)
    d.alter(path, change)
    after, _ = b.read(path)
    d.alter(folder / MIX, lambda x, rate: x + after - before)


def _line_gone(folder: Path) -> None:
    def cut(x: Sound, rate: int) -> Sound:
        i, j, k = int(15.0 * rate), int(20.9 * rate), int(0.01 * rate)
        x[i : i + k] *= np.linspace(1, 0, k)[:, None]
        x[i + k : j] = 0.0
        return x

    d.alter(folder / "Hovedvokal.wav", cut)


def _dry_in_return(folder: Path) -> None:
    voice, _ = b.read(folder / "Hovedvokal.wav")
    d.alter(folder / "Vokal romklang.wav", lambda x, rate: x + 0.4 * voice)


def _copied_double(folder: Path) -> None:
    voice, _ = b.read(folder / "Hovedvokal.wav")

    def copy(x: Sound, rate: int) -> Sound:
        own = a.late(voice[:, 0], 0.012 * rate)
        own[: int(9.0 * rate)] = 0.0
        gain = np.sqrt(np.mean(x[:, 1] ** 2) / np.mean(own**2))
        return d.both(own * gain, 0.3 / 0.95, 1.0)

    _also_mixed(folder, "Vokaldobling H", copy)


def _wrong_rate(folder: Path) -> None:
    d.alter(folder / "Piano.wav", lambda x, rate: np.asarray(signal.resample_poly(x, 147, 160, axis=0)))


def _leg_turned(folder: Path) -> None:
    d.alter(folder / "Strykere.wav", lambda x, rate: x * np.array([1.0, -1.0]))


def _late(folder: Path) -> None:
    d.alter(folder / "Perkusjon.wav", lambda x, rate: a.late(x, 2048))


def _gaps(folder: Path) -> None:
    def holes(x: Sound, rate: int) -> Sound:
        for at in (5.314, 8.02, 11.627, 14.381, 17.2):
            i = int(at * rate)
            x[i : i + 1024] = 0.0
        return x

    d.alter(folder / "Gitar H.wav", holes)


def _print_over(folder: Path) -> None:
    d.alter(folder / MIX, lambda x, rate: np.clip(x * a.db(9.0), -1.0, 1.0))


def _hum(folder: Path) -> None:
    _also_mixed(folder, "Bass", lambda x, rate: x + d.both(b.fade(d.hum(len(x), rate, 50.0, -38.0), rate, 0.01, 0.9)))


def _exchanged(folder: Path) -> None:
    one, two, spare = folder / "Gitar V romklang.wav", folder / "Gitar H romklang.wav", folder / "spare.wav"
    one.rename(spare)
    two.rename(one)
    spare.rename(two)


ACCEPTED: list[dict[str, Any]] = [
    {"names": ["Hovedvokal.wav", "Bass.wav"], "why": "mono sources printed to stereo files: both legs are the same"},
    {"names": ["Vokaldobling V.wav", "Vokaldobling H.wav"], "why": "mono takes printed through their pan positions"},
    {
        "names": [
            "Strykere.wav",
            "Vokaldobling V.wav",
            "Vokaldobling H.wav",
            "Hovedvokal.wav",
            "Perkusjon.wav",
            "Bass.wav",
        ],
        "why": "they are silent until they come in",
    },
]
FAULTS: list[dict[str, Any]] = [
    {
        "id": "vocal-line-gone",
        "class": "a passage missing in a stem",
        "names": ["Hovedvokal.wav", MIX],
        "grade": "hold",
        "says": "The last line of the lead vocal (15.2 to 20.1 s) is not in the stem, digital silence from a "
        "mute left on at the export; the print of the mix, the doubles and the vocal reverb still have it.",
        "time_s": (15.0, 20.9),
        "cure": "Export the lead vocal again with the mute off.",
        "plant": _line_gone,
    },
    {
        "id": "dry-in-reverb",
        "class": "return not wholly wet",
        "names": ["Vokal romklang.wav", "Hovedvokal.wav", MIX],
        "grade": "hold",
        "says": "The vocal reverb print holds the dry voice 8 dB under the lead, undelayed: with the lead it makes the "
        "voice about 3 dB too loud and the reverb cannot be set alone.",
        "time_s": (3.2, 21.0),
        "cure": "Print the return wholly wet.",
        "plant": _dry_in_return,
    },
    {
        "id": "copied-double",
        "class": "false double",
        "names": ["Vokaldobling H.wav", "Hovedvokal.wav"],
        "grade": "look",
        "says": "The right double is no second take but a copy of the lead vocal 12 ms late; in mono the two comb.",
        "time_s": (9.2, 21.0),
        "cure": "Find the sung double and print it.",
        "plant": _copied_double,
    },
    {
        "id": "piano-wrong-rate",
        "class": "wrong sample rate at the conversion",
        "names": ["Piano.wav", MIX],
        "grade": "hold",
        "says": "The piano was converted to 44.1 kHz but written as a 48 kHz file: it plays 1.47 semitones "
        "sharp, 8.8 % fast, and is 2 s shorter than the others.",
        "time_s": (0.0, 24.6),
        "cure": "Export the piano again at 48 kHz.",
        "plant": _wrong_rate,
    },
    {
        "id": "strings-leg-turned",
        "class": "polarity of one leg",
        "names": ["Strykere.wav", MIX],
        "grade": "hold",
        "says": "The right leg of the strings is turned over; in mono they fall by 8 dB and turn thin.",
        "time_s": (9.0, 24.6),
        "cure": "Turn the right leg back.",
        "plant": _leg_turned,
    },
    {
        "id": "percussion-late",
        "class": "uncompensated delay",
        "names": ["Perkusjon.wav", MIX],
        "grade": "hold",
        "says": "The percussion stem is 2048 samples (42.7 ms) later than in the mix and than the guitars.",
        "time_s": (6.0, 24.6),
        "cure": "Export it again with delay compensation, or move it 2048 samples earlier.",
        "plant": _late,
    },
    {
        "id": "guitar-gaps",
        "class": "dropouts",
        "names": ["Gitar H.wav", MIX],
        "grade": "hold",
        "says": "Five gaps of 1024 samples (21 ms) of digital silence with hard edges in the right guitar, from an "
        "overloaded export.",
        "time_s": (5.3, 17.3),
        "cure": "Export the stem again, slower than real time.",
        "plant": _gaps,
    },
    {
        "id": "mix-print-clipped",
        "class": "clipping",
        "names": [MIX],
        "grade": "hold",
        "says": "The print of the mix was made 9 dB too hot and is cut off flat at full scale; the stems are clean.",
        "time_s": (0.0, 22.0),
        "cure": "Print the mix again at its right level.",
        "plant": _print_over,
    },
    {
        "id": "bass-hum",
        "class": "mains hum",
        "names": ["Bass.wav", MIX],
        "grade": "hold",
        "says": "50 Hz hum with its odd harmonics up to 650 Hz at -38 dBFS RMS all through the bass, from an "
        "unearthed lead, audible in its rests and before it comes in.",
        "time_s": (0.0, 24.6),
        "cure": "Record the bass again, or take the hum out with notches.",
        "plant": _hum,
    },
    {
        "id": "guitar-reverbs-exchanged",
        "class": "files exchanged",
        "names": ["Gitar V romklang.wav", "Gitar H romklang.wav", "Gitar V.wav", "Gitar H.wav"],
        "grade": "look",
        "says": "The two guitar reverb prints carry each other's names: V holds the right guitar's reverb, "
        "leaning 5 dB to the right, and H the left one's, leaning 7 dB to the left.",
        "time_s": (0.0, 24.6),
        "cure": "Exchange the names.",
        "plant": _exchanged,
    },
]
