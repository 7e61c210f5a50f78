"""The Miller's Gate: a folk waltz, 126 bpm, 26 s, recorded live in one room, all at once.

Fiddle on the left, accordion on the right, guitar half left, upright bass (microphone and bridge pickup) half right,
a singer in the middle, and a spaced pair in front of the band. Everything bleeds into everything; no overdubs.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound import sounds_by_e as e
from tests.field.sound.sounds_by_e import Sound, a, b

KIND = "session"
RATE = 48000
BEAT = 60 / 126
BAR = 3 * BEAT
BEGIN = 0.7
LONG = 26.0
N = int(LONG * RATE)

SPOTS: dict[str, e.Spot] = {
    "fiddle": (-1.8, 0.5),
    "accordion": (1.8, 0.4),
    "guitar": (-0.9, 1.6),
    "bass": (0.8, 1.9),
    "voice": (0.0, 0.3),
    "cough": (1.3, 0.9),
}
MICS: dict[str, tuple[e.Spot, str]] = {
    "Fiddle": ((-1.6, 0.15), "fiddle"),
    "Accordion": ((1.65, -0.02), "accordion"),
    "Guitar": ((-0.8, 1.18), "guitar"),
    "Upright Mic": ((0.72, 1.52), "bass"),
    "Vox": ((0.0, 0.0), "voice"),
}
PAIR: dict[str, tuple[e.Spot, e.Spot]] = {"Room L": ((-0.45, -1.7), (-1.7, 0.6)), "Room R": ((0.45, -1.7), (1.7, 0.6))}

BARS = ["D", "G", "D", "A", "D", "Bm", "G", "A", "G", "D", "Em", "A", "D", "Bm", "A", "D"]
ROOTS = {"D": (38, 33), "G": (31, 38), "A": (33, 28), "Bm": (35, 30), "Em": (28, 35)}
SHAPES = {
    "D": [50, 57, 62, 66],
    "G": [43, 55, 59, 67],
    "A": [45, 57, 61, 64],
    "Bm": [47, 59, 62, 66],
    "Em": [40, 55, 59, 64],
}
TUNE: list[tuple[float, float, float]] = [  # beat from the start, beats, note
    (0, 1, 74),
    (1, 0.5, 76),
    (1.5, 0.5, 78),
    (2, 1, 81),
    (3, 1.5, 83),
    (4.5, 0.5, 81),
    (5, 1, 79),
    (6, 1, 78),
    (7, 0.5, 81),
    (7.5, 0.5, 78),
    (8, 1, 74),
    (9, 2, 76),
    (11, 0.9, 73),
    (24, 1, 79),
    (25, 0.5, 78),
    (25.5, 0.5, 79),
    (26, 1, 83),
    (27, 1.5, 81),
    (28.5, 0.5, 78),
    (29, 1, 74),
    (30, 1, 79),
    (31, 0.5, 78),
    (31.5, 0.5, 76),
    (32, 1, 74),
    (33, 1.8, 73),
]
ANSWERS: list[tuple[float, float, float]] = [
    (14, 0.5, 78),
    (14.5, 0.5, 76),
    (20, 0.5, 74),
    (20.5, 0.45, 71),
    (22, 1.8, 73),
    (38, 0.5, 78),
    (38.5, 0.5, 76),
    (41, 0.9, 74),
    (43, 0.9, 76),
    (44, 0.9, 73),
    (45, 4.4, 74),
]
WORDS: list[tuple[float, float, float, str, str]] = [
    (12, 1, 57, "e", "s"),
    (13, 1, 62, "a", "t"),
    (15, 1.5, 62, "o", "m"),
    (16.5, 0.5, 61, "i", "l"),
    (17, 1, 59, "a", "k"),
    (18, 1, 59, "i", "t"),
    (19, 0.9, 62, "u", "n"),
    (21, 1.4, 61, "a", "f"),
    (22.5, 0.5, 59, "e", "s"),
    (23, 0.8, 57, "o", "h"),
    (36, 1, 57, "a", "k"),
    (37, 1, 62, "e", "t"),
    (39, 1.5, 66, "i", "s"),
    (40.5, 0.5, 64, "a", "l"),
    (41, 0.9, 62, "o", "n"),
    (42, 1.4, 64, "a", "h"),
    (43.5, 0.5, 62, "i", "t"),
    (44, 0.9, 61, "e", "m"),
    (45, 3.4, 62, "u", "f"),
]


def at(beat: float) -> float:
    """A beat of the song in seconds."""
    return BEGIN + beat * BEAT


def fiddle(rng: e.Rng) -> Sound:
    """The tune and its answers, one player, with the scrape of the bow's turns."""
    notes = [(at(s) + 0.012 * rng.standard_normal(), d * BEAT * 0.99, m) for s, d, m in [*TUNE, *ANSWERS]]
    body = ((285, 5, 4), (470, 5, 5), (1100, -3, 2), (2500, 6, 2), (3400, 3, 2))
    x = b.bowed(rng, RATE, N, notes, 1, body, 0.05)
    for s, d, _ in notes:
        m = int(0.05 * RATE)
        scrape = b.butter(rng.standard_normal(m), RATE, "bandpass", (1800, 7000)) * np.hanning(m)
        b.place(x, RATE, s - 0.01, scrape, 0.05 + 0.02 * min(d, 1))
    return x


def squeeze(rng: e.Rng) -> Sound:
    """The accordion: the tune an octave down behind the fiddle, chords on two and three, long notes under the voice."""
    rows: list[e.Played] = [(at(s) + 0.01 * rng.standard_normal(), d * BEAT * 0.93, m - 12, 0.6) for s, d, m in TUNE]
    for bar, chord in enumerate(BARS):
        upper = [m if m > 52 else m + 12 for m in SHAPES[chord][1:]]
        if bar in (4, 5, 6, 7, 12, 13, 14):
            rows += [(at(3 * bar), 2.9 * BEAT, m, 0.3) for m in upper]
        elif bar < 15:
            rows += [(at(3 * bar + k), 0.4 * BEAT, m, 0.3) for k in (1, 2) for m in upper]
    rows += [(at(45), 4.2 * BEAT, m, 0.35) for m in (57, 62, 66)]
    return e.accordion(rng, RATE, N, rows)


def guitar(rng: e.Rng, flat_from: float, cents: float) -> Sound:
    """Bass note and two strums in every bar; from a time on out of tune, if asked."""
    rows: list[e.Played] = []
    for bar, chord in enumerate(BARS[:15]):
        shape = SHAPES[chord]
        rows.append((at(3 * bar) + 0.006 * rng.standard_normal(), 2.7 * BEAT, shape[0], 0.75))
        for k in (1, 2):
            when = at(3 * bar + k) + 0.006 * rng.standard_normal()
            rows += [(when + 0.008 * i, 0.8 * BEAT, m, 0.6 * rng.uniform(0.85, 1.1)) for i, m in enumerate(shape[1:])]
    rows += [(at(45) + 0.014 * i, 4.4 * BEAT, m, 0.7) for i, m in enumerate((38 + 12, 57, 62, 66))]
    early, late = [r for r in rows if r[0] < flat_from], [r for r in rows if r[0] >= flat_from]
    x = e.strings(np.random.default_rng(31), RATE, N, early, 2600.0, 3.4, 0.06)
    if late:
        x += e.strings(np.random.default_rng(31), RATE, N, late, 2600.0, 3.4, 0.06, cents)
    return e.wood(np.random.default_rng(32), RATE, x)


def upright(rng: e.Rng) -> Sound:
    """The upright: one on every bar, a step on three."""
    rows: list[e.Played] = []
    for bar, chord in enumerate(BARS[:15]):
        root, fifth = ROOTS[chord]
        rows.append((at(3 * bar) + 0.008 * rng.standard_normal(), 1.8 * BEAT, root, 0.8 * rng.uniform(0.9, 1.1)))
        rows.append((at(3 * bar + 2) + 0.008 * rng.standard_normal(), 0.9 * BEAT, fifth, 0.62 * rng.uniform(0.9, 1.1)))
    rows.append((at(45), 4.0 * BEAT, 38, 0.85))
    x = e.strings(rng, RATE, N, rows, 700.0, 2.4, 0.03, long=2.2, place=0.25)
    for s, _, _, v in rows:
        m = int(0.05 * RATE)
        slap = b.butter(rng.standard_normal(m), RATE, "bandpass", (120, 1400)) * np.exp(-np.arange(m) / (0.01 * RATE))
        b.place(x, RATE, s, slap, 0.05 * v)
    return x


def cough(rng: e.Rng) -> Sound:
    """Two coughs of somebody behind the accordion."""
    out = np.zeros(N)
    for when, v in ((19.02, 1.0), (19.45, 0.75)):
        m = int(0.26 * RATE)
        t = np.arange(m) / RATE
        burst = b.vowel(rng.standard_normal(m) + 0.4 * np.sign(np.sin(2 * np.pi * 140 * t)), RATE, "a", 0.95)
        b.place(out, RATE, when, b.to_peak(burst * np.minimum(1, t / 0.008) * np.exp(-t / 0.07), 0.0), v)
    return out


def microphones(flat_from: float = 99.0, cents: float = 0.0, coughs: bool = False) -> dict[str, Sound]:
    """What every microphone and the pickup hear, at the levels of the tape."""
    rng = np.random.default_rng(3307)
    words = [(at(s) + 0.012 * rng.standard_normal(), d * BEAT * 0.94, float(m), v, c) for s, d, m, v, c in WORDS]
    sources = {
        "fiddle": (fiddle(rng), -31.0),
        "accordion": (squeeze(rng), -31.0),
        "voice": (b.voice(rng, RATE, N, words, 1.02, 0.22), -29.0),
        "bass": (upright(rng), -29.0),
    }
    sources["guitar"] = (guitar(rng, flat_from, cents), -32.0)
    heard = {k: x * b.gain(lev) / float(np.sqrt(np.mean(x**2))) for k, (x, lev) in sources.items()}
    heard["cough"] = cough(np.random.default_rng(8)) * (b.gain(-5.0) if coughs else 0.0)
    out = {}
    for name, (place, near) in MICS.items():
        tail = a.tail(RATE, rng, 0.55, dark=0.6, early=10)
        out[name] = e.hear(heard, SPOTS, place, SPOTS[near], RATE, tail, 0.07)
    for name, (place, aim) in PAIR.items():
        tail = a.tail(RATE, rng, 0.6, dark=0.55, early=14)
        out[name] = 2.6 * e.hear(heard, SPOTS, place, aim, RATE, tail, 0.22, 0.06)
    pickup = b.butter(b.peak_filter(heard["bass"], RATE, 900.0, 5.0, 0.8), RATE, "highpass", 38.0, 1)
    leak = b.butter(heard["guitar"] + heard["accordion"], RATE, "lowpass", 400.0)
    out["Upright Pickup"] = a.late(pickup * 1.6 + 0.012 * leak, 64)  # aligned to its microphone
    noise = {"Upright Pickup": -76.0, "Room L": -66.0, "Room R": -66.0}
    return {k: x * b.gain(PREAMP[k]) + b.hiss(rng, N, noise.get(k, -71.0)) for k, x in out.items()}


PREAMP = {
    "Fiddle": -2.0,
    "Accordion": 0.0,
    "Guitar": -1.0,
    "Upright Mic": -7.5,
    "Vox": -6.5,
    "Room L": -5.0,
    "Room R": -5.0,
    "Upright Pickup": -4.5,
}
DESK: list[tuple[str, str, float, float]] = [
    ("Vox", "band", -3.0, 0),
    ("Fiddle", "band", -5.5, -45),
    ("Accordion", "band", -6.5, 45),
    ("Guitar", "band", -4.0, -22),
    ("Upright Mic", "band", -2.0, 12),
    ("Upright Pickup", "band", 0.0, 12),
    ("Room L", "room", -6.0, -100),
    ("Room R", "room", -6.0, 100),
]


def tape(folder: Path, heard: dict[str, Sound]) -> None:
    """Write the files."""
    for name, x in heard.items():
        b.write(folder / "audio" / f"{name}.wav", b.fade(x, RATE, 0.03, 0.5), RATE)


def make(folder: Path) -> None:
    """Write the good song."""
    (folder / "audio").mkdir(parents=True, exist_ok=True)
    tape(folder, microphones())
    rows = []
    for i, (name, out, fader, pan) in enumerate(DESK, 1):
        more: dict[str, Any] = {}
        if name in ("Vox", "Fiddle"):
            more["sends"] = [{"to": "verb", "level_db": -12.0 if name == "Vox" else -16.0, "tap": "post"}]
        if name == "Vox":
            more["inserts"] = [
                {
                    "name": "EQ",
                    "kind": "equalizer",
                    "on": True,
                    "opaque": False,
                    "equalizer": {"bands": [{"kind": "high-pass", "freq_hz": 85, "slope_db_per_oct": 12, "on": True}]},
                }
            ]
        rows.append(e.track(f"t{i}", name, name, LONG, fader, pan, out, edge=0.1, **more))
    rows += [e.bus("band", "Band", "group", "mix"), e.bus("room", "Room", "group", "mix")]
    rows.append(
        e.bus(
            "verb",
            "Long Hall",
            "return",
            "mix",
            -6.0,
            inserts=[
                {"name": "Hall", "kind": "reverb", "on": True, "opaque": True, "wet": 100.0, "pre_delay_ms": 35.0}
            ],
        )
    )
    rows.append(e.bus("mix", "Mix", "master", None))
    media = b.media(folder, {r[0]: f"audio/{r[0]}.wav" for r in DESK})
    told = e.stereo_session("The Miller's Gate", RATE, 126, 3, rows, media)
    (folder / "millers_gate.session.json").write_text(json.dumps(told, indent=1))


def room_swapped(folder: Path) -> None:
    """The pair's cables were crossed."""
    one, two = folder / "audio/Room L.wav", folder / "audio/Room R.wav"
    first, second = one.read_bytes(), two.read_bytes()
    one.write_bytes(second)
    two.write_bytes(first)


def pickup_late(folder: Path) -> None:
    """The pickup went through a wireless link and came back late."""
    e.change(folder / "audio/Upright Pickup.wav", lambda x, r: a.late(x, 0.0145 * r))


def telephone(folder: Path) -> None:
    """A telephone on the music stand looks for its network."""

    def how(x: Sound, rate: int) -> Sound:
        y = x.copy()
        n = int(0.5769e-3 * rate)
        pulse = b.butter(np.concatenate([np.ones(n), np.zeros(int(0.004615 * rate) - n)]), rate, "lowpass", 6000.0, 1)
        bursts = ((15.9, 26, 1.0), (16.15, 26, 0.8), (16.4, 90, 1.0), (17.3, 26, 0.9), (17.6, 150, 0.7))
        for start, frames, level in bursts:
            b.place(y, rate, start, b.butter(np.tile(pulse, frames), rate, "highpass", 150.0, 1), 0.16 * level)
        return y

    e.change(folder / "audio/Vox.wav", how)


def accordion_falls(folder: Path) -> None:
    """Somebody touched the pad's switch of the accordion's preamplifier."""

    def how(x: Sound, rate: int) -> Sound:
        y, i = x.copy(), round(13.3 * rate)
        noise = b.hiss(np.random.default_rng(6), len(x), -69.0)
        y[i:] = x[i:] * b.gain(-13.0) + 0.8 * b.fade(noise, rate, 0.0, 0.5)[i:]
        return y

    e.change(folder / "audio/Accordion.wav", how)


def crackle(folder: Path) -> None:
    """The fiddle's cable has a cracked joint."""

    def how(x: Sound, rate: int) -> Sound:
        y, rng = x.copy(), np.random.default_rng(17)
        for start, long in ((8.6, 0.5), (12.9, 0.8), (16.2, 0.35), (20.4, 0.9)):
            for _ in range(int(28 * long)):
                i = round((start + rng.uniform(0, long)) * rate)
                m = int(rng.integers(60, 500))
                if rng.random() < 0.35:
                    y[i : i + m] *= 0.02
                shape = np.exp(-np.arange(m) / rng.uniform(4, 40))
                y[i : i + m] += rng.choice([-1, 1]) * rng.uniform(0.08, 0.3) * shape
        return y

    e.change(folder / "audio/Fiddle.wav", how)


def air_handling(folder: Path) -> None:
    """The building's ventilation came on."""
    rng = np.random.default_rng(19)
    t = np.arange(N) / RATE
    rise = np.clip((t - 11.5) / 1.5, 0, 1) ** 2
    common = b.butter(rng.standard_normal(N), RATE, "lowpass", 90.0, 2)
    for name in ("Room L", "Room R"):
        own = b.butter(rng.standard_normal(N), RATE, "lowpass", 600.0, 1)
        x = 6.0 * common + 1.2 * own + 0.05 * rng.standard_normal(N)
        x += 0.15 * np.sin(2 * np.pi * 118 * t)
        x *= b.gain(-36.0) / float(np.sqrt(np.mean(x**2)))
        x = b.fade(x * rise, RATE, 0.0, 0.5)
        e.change(folder / f"audio/{name}.wav", lambda y, _, x=x: y + x)


def guitar_flat(folder: Path) -> None:
    """The guitar's capo slipped."""
    tape(folder, microphones(BEGIN + 8 * BAR - 0.1, -38.0))


def vox_gated(folder: Path) -> None:
    """A gate was printed on the singer's microphone."""

    def how(x: Sound, rate: int) -> Sound:
        loud = np.sqrt(b.butter(b.butter(x, rate, "highpass", 200.0) ** 2, rate, "lowpass", 18.0, 1).clip(0))
        top = float(np.percentile(loud, 95))
        opened, gate = 0.0, np.zeros(len(x) // 48 + 1)
        for i in range(len(gate)):
            level = loud[min(i * 48, len(x) - 1)]
            opened = 1.0 if level > 0.35 * top else opened if level > 0.27 * top else 0.0
            gate[i] = opened
        curve = np.interp(np.arange(len(x)), np.arange(len(gate)) * 48.0, np.convolve(gate, np.ones(5) / 5, "same"))
        return x * curve

    e.change(folder / "audio/Vox.wav", how)


def coughing(folder: Path) -> None:
    """Somebody coughs in the room."""
    tape(folder, microphones(coughs=True))


def drifting(folder: Path) -> None:
    """The pair, from a second recorder, was pulled for film the wrong way: 0.2 % slow."""

    def how(x: Sound, rate: int) -> Sound:
        t = np.arange(len(x), dtype=float)
        return np.interp(t * (1 - 0.002), t, x)

    for name in ("Room L", "Room R"):
        e.change(folder / f"audio/{name}.wav", how)


EVERY = [*MICS, "Room L", "Room R"]
ACCEPTED: list[dict[str, Any]] = [
    {"names": EVERY, "why": "Bleed of the whole band in every microphone, and noise of the room: it was live."},
    {"names": ["Room L", "Room R"], "why": "The pair hears each instrument 5 to 11 ms after its own microphone."},
    {"names": ["Upright Mic", "Upright Pickup"], "why": "The pickup was moved 1.3 ms to sit with its microphone."},
    {"names": ["Vox"], "why": "The singer sings in bars 5-8 and 13-16; between them only bleed."},
]
WHOLE = (0.7, LONG)


def files(*names: str) -> list[str]:
    """Channels with their files."""
    return [*names, *(f"{n}.wav" for n in names)]


FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-pair-crossed",
        "class": "left and right exchanged",
        "grade": "look",
        "time_s": WHOLE,
        "names": files("Room L", "Room R"),
        "says": "The room pair is crossed: the fiddle, left in the desk, is louder and "
        "earlier in Room R, the accordion in"
        " Room L.",
        "cure": "Exchange the two files or their pans.",
        "plant": room_swapped,
    },
    {
        "id": "pickup-late",
        "class": "delay between two pickups of one source",
        "grade": "hold",
        "time_s": WHOLE,
        "names": files("Upright Pickup", "Upright Mic"),
        "says": "The bass pickup comes 14.5 ms after its microphone, both at one "
        "level: the low notes lose 2 to 3 dB, in"
        " holes that move with the note.",
        "cure": "Move the pickup 14.5 ms earlier.",
        "plant": pickup_late,
    },
    {
        "id": "telephone-on-vox",
        "class": "radio interference",
        "grade": "hold",
        "time_s": (15.8, 18.4),
        "names": files("Vox"),
        "says": "A telephone's buzz (217 Hz bursts, −26 dBFS RMS, peaks −17) on the singer's microphone from 15.9"
        " to 18.3 s, into"
        " the second verse.",
        "cure": "Cut the microphone there, or repair it.",
        "plant": telephone,
    },
    {
        "id": "accordion-level-falls",
        "class": "sudden level change",
        "grade": "hold",
        "time_s": (13.3, LONG),
        "names": files("Accordion"),
        "says": "The accordion's microphone falls by 13 dB at 13.3 s in the middle of a phrase and stays there.",
        "cure": "Cut there and raise the rest by 13 dB.",
        "plant": accordion_falls,
    },
    {
        "id": "fiddle-crackles",
        "class": "cable crackle",
        "grade": "hold",
        "time_s": (8.6, 21.3),
        "names": files("Fiddle"),
        "says": "Four bursts of crackle and short losses from a bad cable on the fiddle (8.6, 12.9, 16.2 and 20.4"
        " s), peaks"
        " to −10 dBFS.",
        "cure": "Repair click by click, or take the fiddle from the pair there.",
        "plant": crackle,
    },
    {
        "id": "air-handling",
        "class": "noise that comes on",
        "grade": "look",
        "time_s": (11.5, LONG),
        "names": files("Room L", "Room R"),
        "says": "Ventilation comes on at 11.5 s: rumble below 100 Hz and a rush at −36 dBFS RMS in the pair, some"
        " 30 dB over"
        " the room's noise before.",
        "cure": "High-pass and denoise the pair, or use less of it.",
        "plant": air_handling,
    },
    {
        "id": "guitar-flat",
        "class": "out of tune",
        "grade": "look",
        "time_s": (12.0, LONG),
        "names": [*files("Guitar"), *files("Room L", "Room R", "Vox", "Fiddle", "Upright Mic", "Accordion")],
        "says": "From bar 9 on the guitar is 38 cents flat against bass, fiddle and accordion.",
        "cure": "Record the guitar again; it bleeds, so perhaps the second half.",
        "plant": guitar_flat,
    },
    {
        "id": "vox-gated",
        "class": "gate printed",
        "grade": "hold",
        "time_s": WHOLE,
        "names": files("Vox"),
        "says": "A gate is printed on the singer: ends and beginnings of words are cut "
        "off, dead silence between them, and"
        " the bleed jumps in and out.",
        "cure": "Go back to the ungated file.",
        "plant": vox_gated,
    },
    {
        "id": "cough",
        "class": "foreign sound",
        "grade": "look",
        "time_s": (19.0, 19.8),
        "names": files("Accordion", "Room L", "Room R", "Upright Mic", "Vox", "Guitar", "Fiddle"),
        "says": "Two coughs near the accordion at 19.0 and 19.45 s, in every microphone, loudest on the right.",
        "cure": "Lower the open microphones there, repair, or take another take.",
        "plant": coughing,
    },
    {
        "id": "room-pair-drifts",
        "class": "clock drift",
        "grade": "hold",
        "time_s": WHOLE,
        "names": files("Room L", "Room R"),
        "says": "The pair runs on another clock: in time at the start, 52 ms later than the spots at the end (0.2 %).",
        "cure": "Stretch the pair by −0.2 % onto the spots.",
        "plant": drifting,
    },
]
