"""Maré Baixa: a folder of stems from Brazil, 100 bpm, 24 s, with two printed returns and a print of the mix.

Nine stems, all stereo and all from the song's start, at the levels they have in the mix; Retorno reverb and Retorno eco
voz are wholly wet; Mixagem v3 is the plain sum of the eleven.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import soundfile
from scipy import signal

from tests.field.sound import sounds_by_e as e
from tests.field.sound.sounds_by_e import Sound, a, b

KIND = "stems"
RATE = 48000
BEAT = 0.6
BAR = 4 * BEAT
BEGIN = 0.3
LONG = 24.0
N = int(LONG * RATE)
MIX = "Mixagem v3.wav"
END = BEGIN + 8 * BAR

BARS = ["C", "A", "D", "G", "C", "A", "D", "G", "C"]
NYLON = {
    "C": (48, 55, [59, 64, 67]),
    "A": (45, 52, [55, 61, 64]),
    "D": (50, 45, [60, 65, 69]),
    "G": (43, 50, [59, 65, 69]),
}
SMALL = {"C": [67, 71, 76, 79], "A": [67, 73, 76, 79], "D": [65, 69, 74, 77], "G": [65, 71, 74, 79]}
KEYS = {"C": [52, 55, 59, 62], "A": [49, 55, 58, 64], "D": [53, 57, 60, 64], "G": [53, 57, 59, 64]}
LOW = {"C": (36, 43), "A": (33, 40), "D": (38, 33), "G": (31, 38)}
# bar, beat, beats, note, vowel, consonant
VERSE: list[tuple[int, float, float, float, str, str]] = [
    (2, 0.5, 0.45, 65, "a", "m"),
    (2, 1.0, 0.7, 69, "e", "h"),
    (2, 1.75, 0.7, 67, "a", "s"),
    (2, 2.5, 1.3, 65, "i", "t"),
    (3, 0.5, 0.45, 62, "o", "n"),
    (3, 1.0, 0.7, 65, "a", "p"),
    (3, 1.75, 1.9, 64, "e", "l"),
    (4, 0.5, 0.45, 64, "a", "k"),
    (4, 1.0, 0.95, 67, "a", "l"),
    (4, 2.0, 0.45, 71, "i", "s"),
    (4, 2.5, 1.3, 69, "u", "t"),
    (5, 0.5, 0.7, 67, "o", "f"),
    (5, 1.25, 0.7, 64, "e", "n"),
    (5, 2.0, 1.7, 61, "a", "t"),
    (6, 0.0, 0.9, 69, "a", "m"),
    (6, 1.0, 0.45, 72, "e", "s"),
    (6, 1.5, 0.9, 71, "i", ""),
    (6, 2.5, 1.3, 69, "a", "k"),
    (7, 0.0, 0.9, 71, "o", "l"),
    (7, 1.0, 0.9, 69, "a", "t"),
    (7, 2.0, 1.7, 67, "u", "n"),
    (8, 0.0, 2.6, 64, "a", "m"),
]
LOWER = {69: 65, 72: 69, 71: 67, 67: 64, 64: 60}
UPPER = {69: 74, 72: 76, 71: 76, 67: 71, 64: 67}


def at(bar: float, beat: float = 0.0) -> float:
    """A place in the song in seconds."""
    return BEGIN + bar * BAR + beat * BEAT


def violao(rng: e.Rng) -> Sound:
    """The nylon guitar: thumb on one and three, syncopated chords; a close pair."""
    rows: list[e.Played] = []
    for bar, chord in enumerate(BARS[:8]):
        root, fifth, upper = NYLON[chord]
        for beat, m in ((0, root), (2, fifth)):
            rows.append((at(bar, beat) + 0.005 * rng.standard_normal(), 1.9 * BEAT, m, 0.7 * rng.uniform(0.9, 1.1)))
        for beat, d in ((0.5, 0.7), (1.5, 0.4), (2.25, 0.6), (3.0, 0.4), (3.5, 0.45)):
            when = at(bar, beat) + 0.006 * rng.standard_normal()
            rows += [(when + 0.003 * i, d * BEAT, m, 0.5 * rng.uniform(0.85, 1.12)) for i, m in enumerate(upper)]
    rows += [(at(8) + 0.03 * i, 3.0, m, 0.62) for i, m in enumerate((48, 55, 59, 64, 67))]
    x = e.wood(rng, RATE, e.strings(rng, RATE, N, rows, 1500.0, 2.6, 0.04, place=0.22))
    y = b.peak_filter(a.late(x, 9), RATE, 1800.0, 3.0, 0.8)
    room = [a.through(x, a.tail(RATE, rng, 0.35, early=6)) for _ in range(2)]
    return np.stack([x * 1.05 + 0.1 * room[0], y * 0.8 + 0.1 * room[1]], 1)


def cavaquinho(rng: e.Rng) -> Sound:
    """A small four-string guitar in sixteenths, a little right."""
    rows: list[e.Played] = []
    accents = "X.xX.x.X.xX.xX.x"
    for bar in range(1, 8):
        for i, mark in enumerate(accents):
            if mark == ".":
                continue
            chord = SMALL[BARS[bar]] if i % 2 == 0 else SMALL[BARS[bar]][::-1]
            when = at(bar, i / 4) + 0.005 * rng.standard_normal()
            force = (0.7 if mark == "X" else 0.45) * rng.uniform(0.88, 1.1)
            rows += [(when + 0.004 * k, 0.13, m, force) for k, m in enumerate(chord)]
    rows += [(at(8) + 0.012 * i, 1.6, m, 0.6) for i, m in enumerate(SMALL["C"])]
    x = e.wood(rng, RATE, e.strings(rng, RATE, N, rows, 4200.0, 1.3, 0.08, long=1.4, place=0.12), 0.6)
    near = [a.through(x, a.tail(RATE, rng, 0.3, early=5)) for _ in range(2)]
    left, right = e.side_gains(38)
    return np.stack([x * left + 0.08 * near[0], x * right + 0.08 * near[1]], 1)


def bateria(rng: e.Rng) -> Sound:
    """The kit, mixed: soft kick in two, rim-like snare, hats, a crash at the entries."""
    hits: list[Any] = []
    for bar in range(1, 8):
        for beat, v in ((0, 0.7), (0.75, 0.3), (1, 0.5), (2, 0.85), (2.75, 0.35), (3, 0.55)):
            hits.append((at(bar, beat), "kick", v))
        hits += [(at(bar, k / 2), "hat", 0.8 if k % 2 else 0.55) for k in range(8)]
        hits += [(at(bar, beat), "snare", v) for beat, v in ((0.5, 0.4), (1.5, 0.5), (2.25, 0.4), (3.25, 0.55))]
    hits += [(at(7, 3.5), "tom", 0.7), (at(7, 3.75), "floor", 0.8), (at(1), "crash", 0.5), (at(4), "crash", 0.6)]
    hits += [(at(8), "crash", 0.7), (at(8), "kick", 0.9)]
    p = b.kit(rng, RATE, N, hits)
    over = [b.microphone(p, RATE, place) for place in ((-0.7, 0.1, 1.9), (0.55, -0.3, 1.76))]
    kick = b.microphone(p, RATE, (0.0, 0.2, 0.35), "kick", 0.15)
    snare = b.microphone(p, RATE, (-0.26, -0.33, 0.74), "snare", 0.15)
    close = 0.2 * kick + 0.09 * snare
    room = b.room(rng, RATE, 0.5, 0.35, 2, 0.005, 6.0)
    out = np.stack([over[0] + close, over[1] + close], 1)
    return out + 0.15 * b.reverb(out, room, N)


def pandeiro(rng: e.Rng) -> Sound:
    """The frame drum, a little left, from the first bar."""
    hits = []
    for bar in range(8):
        for i in range(16):
            kind = "thumb" if i in (0, 6, 8) else "slap" if i in (4, 12) else "shake"
            hits.append((at(bar, i / 4), kind, 0.75 if kind != "shake" else 0.42 + 0.16 * (i % 2)))
    hits.append((at(8), "slap", 0.8))
    x = e.frame_drum(rng, RATE, N, hits)
    near = [a.through(x, a.tail(RATE, rng, 0.3, early=6)) for _ in range(2)]
    left, right = e.side_gains(-34)
    return np.stack([x * left + 0.1 * near[0], x * right + 0.1 * near[1]], 1)


def baixo(rng: e.Rng) -> Sound:
    """The bass: root, and the fifth before and on the three."""
    rows: list[e.Played] = []
    for bar in range(1, 8):
        root, fifth = LOW[BARS[bar]]
        rows += [
            (at(bar, 0), 0.85, root, 0.8),
            (at(bar, 1.5), 0.26, fifth, 0.6),
            (at(bar, 2), 0.8, fifth, 0.75),
            (at(bar, 3.5), 0.25, LOW[BARS[bar + 1]][0], 0.6),
        ]
    rows.append((at(8), 2.6, 36, 0.8))
    x = b.butter(e.strings(rng, RATE, N, rows, 1000.0, 4.0, 0.03, place=0.22), RATE, "highpass", 30.0)
    return np.stack([x, x], 1)


def piano(rng: e.Rng) -> Sound:
    """The electric piano: soft chords from the third bar."""
    rows: list[e.Played] = []
    for bar in range(2, 8):
        for beat, d, v in ((0, 1.3, 0.5), (1.5, 0.9, 0.42), (3.5, 0.45, 0.4)):
            rows += [(at(bar, beat) + 0.006 * rng.random(), d * BEAT, m, v) for m in KEYS[BARS[bar]]]
    rows += [(at(8) + 0.02 * i, 2.8, m, 0.5) for i, m in enumerate(KEYS["C"])]
    return e.electric_piano(rng, RATE, N, rows)


def flauta(rng: e.Rng) -> Sound:
    """The flute: the pickup melody and short answers to the voice."""
    rows: list[e.Played] = [
        (at(0, 2), 0.28, 76, 0.5),
        (at(0, 2.5), 0.28, 79, 0.55),
        (at(0, 3), 0.55, 83, 0.6),
        (at(1, 0), 1.1, 81, 0.6),
        (at(1, 2), 0.28, 79, 0.5),
        (at(1, 2.5), 0.28, 76, 0.5),
        (at(1, 3), 0.9, 73, 0.55),
        (at(3, 3.25), 0.2, 77, 0.45),
        (at(3, 3.5), 0.25, 79, 0.5),
        (at(5, 3), 0.25, 76, 0.5),
        (at(5, 3.5), 0.25, 79, 0.5),
        (at(6, 0.0), 1.9, 81, 0.45),
        (at(7, 0.0), 1.9, 83, 0.5),
        (at(8, 0.0), 2.4, 79, 0.5),
    ]
    x = e.flute(rng, RATE, N, rows)
    left, right = e.side_gains(-22)
    return np.stack([x * left, x * right], 1)


def sung(rng: e.Rng, pick: dict[int, int] | None, size: float) -> Sound:
    """The lead's verse, or a part of the choir in the last two bars and the close."""
    notes = []
    for bar, beat, d, m, vowel, cons in VERSE:
        if pick is None or bar >= 6:
            note = m if pick is None else pick.get(int(m), int(m))
            notes.append((at(bar, beat) + 0.01 * rng.standard_normal(), d * BEAT * 0.95, float(note), vowel, cons))
    return b.voice(rng, RATE, N, notes, size=size, vibrato=0.2, breaths=1.0 if pick is None else 0.4)


def coro(rng: e.Rng) -> Sound:
    """Three singers: one in the middle, two to the sides."""
    out = np.zeros((N, 2))
    for pick, pan, size, level in (({64: 64}, 0, 1.1, 1.0), (LOWER, -45, 1.04, 0.55), (UPPER, 45, 1.18, 0.5)):
        left, right = e.side_gains(pan)
        x = sung(rng, pick, size)
        out += level * np.stack([x * left, x * right], 1)
    return out


def hall(sent: Sound) -> Sound:
    """The reverb, wholly wet."""
    rng = np.random.default_rng(90)
    feed = a.band(sent, RATE, 160.0, None)
    return np.stack([a.through(feed[:, i], a.tail(RATE, rng, 2.2, wait=0.028, early=8)) for i in range(2)], 1)


def echo(sent: Sound) -> Sound:
    """Echoes of three sixteenths that go to and fro, wholly wet."""
    step, out = round(0.75 * BEAT * RATE), np.zeros((N, 2))
    x = a.band(sent.mean(axis=1), RATE, 300.0, 3800.0)
    for k in range(1, 7):
        x = a.band(a.late(x, step), RATE, None, 3800.0, 1)
        left, right = e.side_gains(-60 if k % 2 else 60)
        out += 0.5**k * np.stack([x * left, x * right], 1)
    return out


def put(path: Path, x: Sound) -> None:
    """Write a stem with 24 bits."""
    soundfile.write(path, np.clip(x, -1.0, 1.0 - 2.0**-23), RATE, subtype="PCM_24")


def make(folder: Path) -> None:
    """Write the good folder."""
    rng = np.random.default_rng(2203)
    folder.mkdir(parents=True, exist_ok=True)
    voz = sung(rng, None, 1.08)
    parts = {
        "Bateria": (bateria(rng), -9.0),
        "Pandeiro": (pandeiro(rng), -13.0),
        "Baixo": (baixo(rng), -10.0),
        "Violão": (violao(rng), -13.0),
        "Cavaquinho": (cavaquinho(rng), -13.0),
        "Piano elétrico": (piano(rng), -17.0),
        "Flauta": (flauta(rng), -19.0),
        "Voz principal": (np.stack([voz, voz], 1), -9.5),
        "Coro": (coro(rng), -15.0),
    }
    stems = {}
    for name, (x, peak) in parts.items():
        x = b.to_peak(x, peak) + b.hiss(rng, N, -86.0, 2)
        stems[f"{name}.wav"] = b.fade(x, RATE, 0.05, 1.0)
    stems["Retorno reverb.wav"] = hall(sends(stems))
    stems["Retorno eco voz.wav"] = echo(stems["Voz principal.wav"]) * 0.45
    for name in ("Retorno reverb.wav", "Retorno eco voz.wav"):
        stems[name] = b.fade(stems[name], RATE, 0.05, 0.6)
    for name, x in stems.items():
        put(folder / name, x)
    put(folder / MIX, np.sum(list(stems.values()), axis=0))


def sends(stems: dict[str, Sound]) -> Sound:
    """What goes to the reverb."""
    amounts = {"Voz principal": 0.22, "Coro": 0.3, "Flauta": 0.35, "Violão": 0.1, "Cavaquinho": 0.12, "Pandeiro": 0.06}
    return np.sum([stems[f"{k}.wav"] * v for k, v in amounts.items()], axis=0)


def late_start(folder: Path) -> None:
    """The piano was exported from its first region on."""
    path = folder / "Piano elétrico.wav"
    x, _ = b.read(path)
    put(path, x[round((at(2) - 0.05) * RATE) :])


def wet_voice(folder: Path) -> None:
    """The voice's stem was exported with its reverb in it."""
    e.change(folder / "Voz principal.wav", lambda x, _: x + hall(0.3 * x))


def leg_inverted(folder: Path) -> None:
    """One leg of the choir's stem has a wrong cable."""
    e.change(folder / "Coro.wav", lambda x, _: x * np.array([1.0, -1.0]))


def print_clipped(folder: Path) -> None:
    """The print was pushed 8 dB into full scale."""
    e.change(folder / MIX, lambda x, _: x * b.gain(8.0))


def wrong_rate(folder: Path) -> None:
    """The bass was made at 44.1 kHz and stamped with 48 kHz."""
    path = folder / "Baixo.wav"
    x, _ = b.read(path)
    put(path, np.asarray(signal.resample_poly(x, 147, 160, axis=0)))


GAPS = [
    (at(bar, i / 4) + 0.035, ms)
    for bar, i, ms in (
        (1, 3, 22),
        (2, 7, 35),
        (3, 0, 14),
        (4, 10, 28),
        (5, 3, 40),
        (5, 13, 18),
        (6, 7, 31),
        (7, 10, 25),
    )
]


def dropouts(folder: Path) -> None:
    """The computer stumbled while the small guitar was exported."""

    def how(x: Sound, rate: int) -> Sound:
        y = x.copy()
        for when, ms in GAPS:
            y[round(when * rate) : round((when + ms / 1000) * rate)] = 0
        return y

    e.change(folder / "Cavaquinho.wav", how)


def tail_cut(folder: Path) -> None:
    """The reverb's print was cut off while it still rang."""

    def how(x: Sound, rate: int) -> Sound:
        y = x.copy()
        y[round((END + 1.62) * rate) :] = 0
        return y

    e.change(folder / "Retorno reverb.wav", how)


def metronome(folder: Path) -> None:
    """The cue's click was on while the drums were exported."""

    def how(x: Sound, rate: int) -> Sound:
        y, m = x.copy(), int(0.03 * rate)
        t = np.arange(m) / rate
        for beat in range(36):
            f = 1760.0 if beat % 4 == 0 else 1320.0
            tick = 0.11 * np.sin(2 * np.pi * f * t) * np.exp(-t / 0.007)
            b.place(y[:, 0], rate, at(0, beat), tick)
            b.place(y[:, 1], rate, at(0, beat), tick)
        return y

    e.change(folder / "Bateria.wav", how)


def offset(folder: Path) -> None:
    """The converter of the guitar's recording stands off zero."""
    e.change(folder / "Violão.wav", lambda x, _: x + 0.06)


def flute_low(folder: Path) -> None:
    """The flute's stem was exported after its fader had been pulled."""
    e.change(folder / "Flauta.wav", lambda x, _: x * b.gain(-9.0))


ACCEPTED: list[dict[str, Any]] = [
    {"names": ["Flauta.wav", "Coro.wav"], "why": "They play in a few places only; silence between is meant."},
    {"names": ["Baixo.wav", "Voz principal.wav"], "why": "Both legs alike: a mono part exported as stereo."},
    {"names": ["Cavaquinho.wav", "Pandeiro.wav", "Flauta.wav"], "why": "Placed to a side in the mix."},
    {"names": ["Retorno reverb.wav", "Retorno eco voz.wav"], "why": "Low in level; wholly wet, ring to the end."},
]
WHOLE = (0.0, LONG)
FAULTS: list[dict[str, Any]] = [
    {
        "id": "piano-from-its-region",
        "class": "stem does not start with the song",
        "grade": "hold",
        "time_s": WHOLE,
        "names": ["Piano elétrico.wav"],
        "says": "The piano's stem starts at its first region: 5.05 s are missing in front, the file is shorter than all"
        " others and plays 5.05 s too early.",
        "cure": "Export it again from the song's start, or put it at 5.05 s.",
        "plant": late_start,
    },
    {
        "id": "voice-stem-wet",
        "class": "effect printed into a dry stem",
        "grade": "look",
        "time_s": (5.1, LONG),
        "names": ["Voz principal.wav", "Retorno reverb.wav"],
        "says": "The lead's stem has its reverb in it (2.2 s, 28 ms late), and the "
        "same reverb is in Retorno reverb too.",
        "cure": "Export the voice dry.",
        "plant": wet_voice,
    },
    {
        "id": "choir-leg-inverted",
        "class": "polarity within a stereo file",
        "grade": "hold",
        "time_s": (14.6, 22.0),
        "names": ["Coro.wav"],
        "says": "The right leg of the choir is upside down: its middle singer cancels in mono.",
        "cure": "Turn the right leg over.",
        "plant": leg_inverted,
    },
    {
        "id": "print-clipped",
        "class": "clipped print",
        "grade": "hold",
        "time_s": WHOLE,
        "names": [MIX],
        "says": "The print of the mix was pushed 8 dB and is cut off at full scale on its loud places.",
        "cure": "Print it again 8 dB lower.",
        "plant": print_clipped,
    },
    {
        "id": "bass-wrong-rate",
        "class": "wrong sample rate",
        "grade": "hold",
        "time_s": WHOLE,
        "names": ["Baixo.wav"],
        "says": "The bass was 44.1 kHz and is stamped 48 kHz: 1.5 semitones sharp, 8 % "
        "too fast, the file 1.95 s shorter.",
        "cure": "Stamp it with 44.1 kHz and convert it.",
        "plant": wrong_rate,
    },
    {
        "id": "cavaquinho-dropouts",
        "class": "dropouts",
        "grade": "hold",
        "time_s": (3.1, 18.7),
        "names": ["Cavaquinho.wav"],
        "says": "Eight holes of 14 to 40 ms of digital silence in the small guitar, each with clicks at its edges.",
        "cure": "Export the stem again.",
        "plant": dropouts,
    },
    {
        "id": "reverb-tail-cut",
        "class": "tail cut off",
        "grade": "hold",
        "time_s": (END + 1.6, LONG),
        "names": ["Retorno reverb.wav"],
        "says": "The printed reverb is cut off dead at 21.1 s, while the last chord still rings; zeros after it.",
        "cure": "Print the return again with its tail.",
        "plant": tail_cut,
    },
    {
        "id": "click-in-drums",
        "class": "metronome in a stem",
        "grade": "hold",
        "time_s": (0.3, 22.0),
        "names": ["Bateria.wav"],
        "says": "The metronome is in the drums' stem on every beat, −19 dBFS peak, alone in the first bar.",
        "cure": "Export the drums again without the cue's click.",
        "plant": metronome,
    },
    {
        "id": "guitar-offset",
        "class": "DC offset",
        "grade": "look",
        "time_s": WHOLE,
        "names": ["Violão.wav"],
        "says": "The guitar's stem stands 0.06 (−24 dBFS) off zero on both legs; thumps at both ends.",
        "cure": "High-pass it at 10 Hz or remove the offset.",
        "plant": offset,
    },
    {
        "id": "flute-below-the-mix",
        "class": "stem level differs from the print",
        "grade": "hold",
        "time_s": (1.5, 22.0),
        "names": ["Flauta.wav", MIX],
        "says": "The flute's stem is 9 dB lower than the flute in the print: the stems do not add up to the mix.",
        "cure": "Export the flute again at its fader's place, or raise the stem 9 dB.",
        "plant": flute_low,
    },
]
