"""Session of a live concert in a chapel: voice, violin, viola, cello and guitar, with an announcer and an audience.

One main pair (ORTF-like), one close microphone each, a hall pair nine metres back, the announcer's hand microphone.
Every microphone hears everything, later and weaker by its distance, in the chapel's reverberation. 48 kHz, 24 bit.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound import sounds_by_d as d
from tests.field.sound.sounds_by_d import Sound, a, b

KIND = "session"
RATE = 48000
LENGTH = 29.0
N = int(LENGTH * RATE)
BEAT = 0.9
START = 6.6
SPLIT = START + 7.85 * BEAT
PLACES = {  # metres: to the right, to the back
    "violin": (-1.5, 0.3),
    "viola": (-0.7, 0.9),
    "cello": (1.5, 0.7),
    "guitar": (0.75, 0.2),
    "voice": (0.0, -0.2),
    "announcer": (-1.9, -0.6),
}
SPOTS = {"violin": 0.7, "viola": 0.7, "cello": 0.6, "guitar": 0.45, "voice": 0.3, "announcer": 0.12}
FILES = {
    "main": "01_Main_ORTF.wav",
    "hall": "02_Hall_AB.wav",
    "violin": "03_Spot_Violin.wav",
    "viola": "04_Spot_Viola.wav",
    "cello": "05_Spot_Cello.wav",
    "guitar": "06_Spot_Guitar.wav",
    "voice": "07_Solo_Voice.wav",
    "announcer": "08_Announcer.wav",
}
CHORDS = [(50, 57, 62, 65), (43, 55, 62, 70), (45, 57, 61, 64), (50, 57, 62, 65)]
LINE = [
    (1.0, 0.9, 69, "o", "", 0.75),
    (2.0, 0.9, 74, "a", "s", 0.95),
    (3.0, 0.45, 72, "e", "t", 0.8),
    (3.5, 0.9, 70, "i", "", 0.85),
    (4.5, 0.45, 69, "a", "n", 0.75),
    (5.0, 0.9, 67, "u", "f", 0.75),
    (6.0, 1.2, 69, "a", "k", 0.7),
    (8.5, 0.45, 69, "e", "h", 0.8),
    (9.0, 0.9, 73, "a", "s", 0.9),
    (10.0, 0.9, 76, "i", "", 1.0),
    (11.0, 0.45, 74, "o", "m", 0.9),
    (11.5, 0.45, 73, "e", "t", 0.8),
    (12.0, 1.4, 74, "a", "", 0.95),
    (13.5, 0.4, 70, "u", "n", 0.7),
    (14.0, 1.5, 69, "o", "s", 0.65),
]
SPOKEN = [
    (0.70, 0.14, 50, "u", "k"),
    (0.86, 0.16, 52, "i", "n"),
    (1.03, 0.24, 49, "e", "t"),
    (1.45, 0.13, 51, "a", "f"),
    (1.60, 0.16, 52, "o", "s"),
    (1.80, 0.15, 50, "i", "m"),
    (1.98, 0.28, 47, "a", "ch"),
    (2.55, 0.12, 51, "e", "h"),
    (2.70, 0.17, 53, "a", "t"),
    (2.90, 0.14, 50, "o", ""),
    (3.07, 0.13, 49, "i", "s"),
    (3.23, 0.15, 48, "u", "p"),
    (3.40, 0.30, 46, "e", "l"),
    (3.95, 0.14, 49, "a", "t"),
    (4.10, 0.16, 48, "i", "k"),
    (4.28, 0.36, 44, "o", "s"),
]


def _sources(rng: np.random.Generator) -> dict[str, Sound]:
    """What each player gives off, as heard at one metre."""

    def part(pitches: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
        return [(START + t * BEAT, n * BEAT, m) for t, n, m in pitches]

    violin = part(
        [
            (2, 2, 74),
            (4, 1, 70),
            (5, 1, 74),
            (6, 1.5, 76),
            (8, 2, 73),
            (10, 1, 69),
            (11, 1, 67),
            (12, 2, 69),
            (14, 2.4, 74),
        ]
    )
    viola = part([(1, 3, 65), (4, 2, 62), (6, 1.7, 62), (8, 2, 64), (10, 2, 61), (12, 2, 65), (14, 2.4, 65)])
    cello = part([(0, 4, 50), (4, 2, 43), (6, 1.8, 46), (8, 4, 45), (12, 2, 50), (14, 2.4, 38)])
    found = {
        "violin": b.bowed(rng, RATE, N, violin, 1, attack=0.16),
        "viola": b.bowed(rng, RATE, N, viola, 1, ((220, 5, 4), (380, 5, 5), (900, 3, 2), (2000, 3, 2)), 0.18),
        "cello": b.bowed(rng, RATE, N, cello, 1, ((110, 5, 4), (210, 5, 4), (480, 3, 2), (1500, 3, 2)), 0.2),
    }
    notes: list[a.Note] = []
    for bar, chord in enumerate(CHORDS):
        for i, k in enumerate((0, 1, 2, 3, 2, 1, 3, 2)):
            at = START + (bar * 4 + i / 2) * BEAT + 0.012 * rng.standard_normal()
            notes.append((at, 1.5, float(chord[k]), rng.uniform(0.5, 0.8) * (1.15 if i == 0 else 1.0)))
    for i, midi in enumerate((38, 50, 57, 62, 65)):
        notes.append((START + 16 * BEAT + 0.07 * i, 2.2, float(midi), 0.55))
    found["guitar"] = a.through(
        a.play(notes, N, RATE, rng, lambda f, s, v: a.pluck(f, s, RATE, rng, vel=v, place=0.2, cut=1700.0)),
        a.body(RATE, rng),
    )
    sung = [(START + t * BEAT, n * BEAT, float(m), v, c, f) for t, n, m, v, c, f in LINE]
    found["voice"] = a.sing(sung, N, RATE, rng, tract=1.14, breath=0.04, wave=5.6)
    found["announcer"] = b.voice(rng, RATE, N, SPOKEN, 0.98, 0.0, spoken=True, breathy=0.08)
    levels = {"violin": -38.0, "viola": -39.0, "cello": -36.5, "guitar": -41.0, "voice": -33.5, "announcer": -36.0}
    for name, level in levels.items():
        x = found[name]
        busy = x[np.abs(x) > 0.02 * np.max(np.abs(x))]
        found[name] = x * a.db(level) / float(np.sqrt(np.mean(busy**2)))
    return found


def _pick_up(sources: dict[str, Sound], at: tuple[float, float], up: float, aim: float | None, near: str = "") -> Sound:
    """Direct sound at a microphone: distance, and the card of a cardioid aimed some degrees right of the stage."""
    x = np.zeros(N)
    for name, sound in sources.items():
        dx, dy = PLACES[name][0] - at[0], PLACES[name][1] - at[1]
        metres = max(float(np.sqrt(dx * dx + dy * dy + up * up)), 0.1)
        card = 1.0
        if near:
            card = 1.0 if name == near else 0.3
        elif aim is not None:
            card = 0.5 + 0.5 * float(np.cos(np.arctan2(dx, dy) - np.radians(aim)))
        x += a.late(sound, metres / b.SPEED_OF_SOUND * RATE) * card / metres
    return x


def _recorded() -> dict[str, Sound]:
    """All microphones."""
    rng = np.random.default_rng(4407)
    sources = _sources(rng)
    total = np.sum(list(sources.values()), axis=0)
    claps = d.clappers(RATE, N, 23.2, 28.6, 60, rng)
    claps *= a.db(-35.0) / float(np.sqrt(np.mean(claps[24 * RATE : 27 * RATE] ** 2)))
    hands = claps.mean(axis=1)

    def chapel(level: float, pre: float) -> Sound:
        sound = b.room(rng, RATE, 2.1, 1.3, 1, pre, 12.0)
        return b.reverb(total + 0.5 * hands, level * sound, N)

    def air(level: float) -> Sound:
        return b.hiss(rng, N, level) + b.butter(rng.standard_normal(N), RATE, "lowpass", 120.0, 1) * a.db(level - 2.0)

    main = []
    for side in (-1, 1):
        direct = _pick_up(sources, (0.085 * side, -2.4), 1.1, 52.0 * side)
        main.append(direct + chapel(0.26, 0.012) + a.late(0.35 * claps[:, (side + 1) // 2], 0.02 * RATE) + air(-86.0))
    hall = []
    for side in (-1, 1):
        direct = b.butter(_pick_up(sources, (2.2 * side, -9.0), 1.5, None), RATE, "lowpass", 9000.0, 1)
        hall.append(direct + chapel(0.5, 0.03) + claps[:, (side + 1) // 2] + air(-86.0))
    found = {"main": np.stack(main, axis=1), "hall": np.stack(hall, axis=1)}
    for name, metres in SPOTS.items():
        x, y = PLACES[name]
        own = _pick_up(sources, (x, y - 0.8 * metres), 0.6 * metres, None, name)
        found[name] = own + chapel(0.14, 0.006) + 0.12 * a.late(hands, 0.025 * RATE) + air(-86.0)
    for name, level in (("main", -9.0), ("hall", -12.0)):
        found[name] = a.to_peak(found[name], level)
    for name in SPOTS:
        found[name] = a.to_peak(found[name], -10.0 if name != "announcer" else -9.0)
    return {name: b.fade(x, RATE, 0.03, 0.8) for name, x in found.items()}


def make(folder: Path) -> None:
    """Write the audio files and the session."""
    (folder / "audio").mkdir(parents=True, exist_ok=True)
    for name, x in _recorded().items():
        b.write(folder / "audio" / FILES[name], x, RATE)
    (folder / "Evening At The Chapel.session.json").write_text(json.dumps(_session(folder), indent=1))


def _session(folder: Path) -> dict[str, Any]:
    """The desk."""

    def all_through(ident: str, begin: float = 0.0, end: float = LENGTH) -> list[dict[str, Any]]:
        return [a.clip(ident, begin, end, fade_in_s=0.05, fade_out_s=0.8 if end == LENGTH else 0.3)]

    def send(level: float) -> list[dict[str, Any]]:
        return [{"to": "rev", "level_db": level, "tap": "post", "pan": 0, "on": True}]

    def track(ident: str, name: str, output: str, legs: int, fader: float, where: float, **more: Any) -> dict[str, Any]:
        own = {"legs": legs, "fader_db": fader, "pan": where, "clips": all_through(ident)} | more
        return a.channel(ident, name, output=output, **own)

    voice = [
        a.clip("voice", 5.9, SPLIT + 0.02, fade_in_s=0.3, fade_out_s=0.04, name="Solo Voice verse 1"),
        a.clip("voice", SPLIT - 0.02, 22.9, fade_in_s=0.04, fade_out_s=0.5, name="Solo Voice verse 2"),
    ]
    low_cut = {"name": "low cut", "kind": "equalizer", "on": True, "opaque": False}
    low_cut["equalizer"] = {"bands": [{"kind": "high-pass", "freq_hz": 70.0, "slope_db_per_oct": 12}]}
    verb = {"name": "hall reverb", "kind": "reverb", "on": True, "wet": 100.0, "pre_delay_ms": 25.0, "opaque": False}
    rows = [
        a.channel("stage", "STAGE", "group", "out", legs=2, fader_db=0.0, pan=0),
        track("main", "Main ORTF", "stage", 2, -1.0, 0),
        track("hall", "Hall AB", "out", 2, -8.0, 0),
        a.channel("spots", "SPOTS", "group", "stage", legs=2, fader_db=-1.0, pan=0),
        track("violin", "Spot Violin", "spots", 1, -14.0, -45),
        track("viola", "Spot Viola", "spots", 1, -15.0, -20),
        track("cello", "Spot Cello", "spots", 1, -14.0, 45),
        track("guitar", "Spot Guitar", "spots", 1, -9.0, 22, sends=send(-18.0)),
        track("voice", "Solo Voice", "spots", 1, -8.0, 0, sends=send(-14.0), clips=voice, inserts=[low_cut]),
        track("announcer", "Announcer", "out", 1, -5.0, 0, clips=all_through("announcer", 0.2, 5.4)),
        a.channel("rev", "Reverb", "return", "out", legs=2, fader_db=-4.0, pan=0, inserts=[verb]),
        a.channel("out", "Stereo Out", "master", None, legs=2, fader_db=0.0, pan=0),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Evening At The Chapel",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 60.0 / BEAT}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [
            {"time_s": 0.5, "name": "Announcement"},
            {"time_s": START, "name": "Song"},
            {"time_s": 23.2, "name": "Applause"},
        ],
        "channels": rows,
        "media": [
            {**row, "id": ident} for ident, row in zip(FILES, a.media(folder, list(FILES.values()), RATE), strict=True)
        ],
    }


def _file(folder: Path, name: str) -> Path:
    return folder / "audio" / FILES[name]


def _bad_cable(folder: Path) -> None:
    rng = np.random.default_rng(8)

    def broken(x: Sound, rate: int) -> Sound:
        t = 11.9
        while t < 15.2:
            i, m = int(t * rate), int(rng.uniform(0.03, 0.22) * rate)
            x[i : i + m, 1] *= 0.01
            for at in (i, i + m, i + m + int(0.008 * rate), i + m + int(0.02 * rate)):
                k = int(0.004 * rate)
                x[at : at + k, 1] += (
                    rng.choice([-1, 1]) * rng.uniform(0.15, 0.4) * np.exp(-np.arange(k) / (0.0006 * rate))
                )
            t += m / rate + rng.uniform(0.08, 0.45)
        return x

    d.alter(_file(folder, "main"), broken)


def _legs_crossed(folder: Path) -> None:
    d.alter(_file(folder, "main"), lambda x, rate: x[:, ::-1].copy())


def _hall_late(folder: Path) -> None:
    d.alter(_file(folder, "hall"), lambda x, rate: b.fade(a.late(x, 0.18 * rate), rate, 0.03, 0.8))


def _phone(folder: Path) -> None:
    rng = np.random.default_rng(9)
    d.alter(_file(folder, "cello"), lambda x, rate: x + d.telephone(len(x), rate, 9.2, 12.6, 0.15, rng))


def _howl(folder: Path) -> None:
    t = np.arange(N) / RATE
    level = np.interp(t, [15.3, 18.2, 18.6, 19.1], [-70.0, -14.0, -14.0, -70.0], left=-200.0, right=-200.0)
    ring = 10 ** (level / 20) * (np.sin(2 * np.pi * 2348.0 * t) + 0.12 * np.sin(2 * np.pi * 4696.0 * t))
    d.alter(_file(folder, "voice"), lambda x, rate: x + ring)
    d.alter(_file(folder, "main"), lambda x, rate: x + a.db(-7.0) * d.both(a.late(ring, 0.009 * rate), 1.0, 0.8))
    d.alter(_file(folder, "hall"), lambda x, rate: x + a.db(-9.0) * d.both(a.late(ring, 0.028 * rate), 0.8, 1.0))


def _chopped(folder: Path) -> None:
    d.alter(_file(folder, "voice"), lambda x, rate: d.gate(x, rate, -25.0, 0.01))


def _low_rate(folder: Path) -> None:
    d.alter(_file(folder, "announcer"), lambda x, rate: d.lossy(x, rate, 3300.0, 18.0))


def _breaks_off(folder: Path) -> None:
    d.alter(_file(folder, "hall"), lambda x, rate: x[: int(25.31 * rate)])


def _hissing(folder: Path) -> None:
    rng = np.random.default_rng(11)
    d.alter(_file(folder, "viola"), lambda x, rate: x + b.fade(b.hiss(rng, len(x), -40.0), rate, 0.03, 0.8))


def _verse_off(folder: Path) -> None:
    def off(told: dict) -> None:
        b.channel_of(told, "Solo Voice")["clips"][1]["on"] = False

    b.change_session(folder, off)


_SPOT_NAMES = ["Spot Violin", "Spot Viola", "Spot Cello", "Spot Guitar", "Solo Voice"]
ACCEPTED: list[dict[str, Any]] = [
    {
        "names": _SPOT_NAMES,
        "why": "spots are 5 to 9 ms ahead of the main pair by their distance, and hear their neighbours",
    },
    {
        "names": ["Hall AB"],
        "why": "nine metres back: some 20 ms behind the main pair, mostly reverberation and applause",
    },
    {"names": ["Announcer"], "why": "used for the announcement only; the file runs on with spill"},
    {"names": ["Reverb"], "why": "a live return, nothing of it is printed"},
]
FAULTS: list[dict[str, Any]] = [
    {
        "id": "main-bad-cable",
        "class": "broken cable",
        "names": ["Main ORTF", FILES["main"]],
        "grade": "hold",
        "says": "The right leg of the main pair drops away by 40 dB again and again between 11.9 and 14.9 s, "
        "for 30 to 220 ms, with crackles up to -7 dBFS.",
        "time_s": (11.9, 15.0),
        "cure": "Bridge these seconds from the spots or repair them.",
        "plant": _bad_cable,
    },
    {
        "id": "main-legs-crossed",
        "class": "left and right exchanged",
        "grade": "hold",
        "names": ["Main ORTF", FILES["main"], "Spot Violin", "Spot Cello", "Announcer"],
        "says": "The legs of the main pair are crossed: the violin and the announcer are right and the cello "
        "left there, against the pans of their spots.",
        "time_s": (0.6, 22.0),
        "cure": "Exchange the legs of the main pair.",
        "plant": _legs_crossed,
    },
    {
        "id": "hall-late",
        "class": "time alignment",
        "names": ["Hall AB", FILES["hall"], "Main ORTF"],
        "grade": "hold",
        "says": "The hall pair, from a second recorder, lies 180 ms too late (200 ms behind the main pair "
        "instead of 20): a slap echo.",
        "time_s": (0.0, LENGTH),
        "cure": "Move it 180 ms earlier.",
        "plant": _hall_late,
    },
    {
        "id": "phone-on-cello",
        "class": "radio interference",
        "names": ["Spot Cello", FILES["cello"]],
        "grade": "look",
        "says": "A mobile telephone near the cello's cable: groups of buzzing bursts at 217 Hz from 9.2 to 12.6 "
        "s, peaks near -17 dBFS.",
        "time_s": (9.2, 12.7),
        "cure": "Take the spot down there or repair it.",
        "plant": _phone,
    },
    {
        "id": "pa-feedback",
        "class": "acoustic feedback",
        "grade": "look",
        "names": ["Solo Voice", "Main ORTF", "Hall AB", FILES["voice"], FILES["main"], FILES["hall"]],
        "says": "The house loudspeakers ring at 2348 Hz from 16 s, rising to -14 dBFS in the voice microphone "
        "and -21 in the main pair before they were pulled down at 18.7 s.",
        "time_s": (16.2, 19.1),
        "cure": "Notch 2.35 kHz there.",
        "plant": _howl,
    },
    {
        "id": "voice-chopped",
        "class": "gate too high",
        "names": ["Solo Voice", FILES["voice"]],
        "grade": "hold",
        "says": "The solo voice went through a gate at -25 dBFS before it was handed over: soft beginnings, "
        "consonants, breaths and word ends are chopped off within 2 ms, digital silence between.",
        "time_s": (5.9, 22.9),
        "cure": "Ask for the ungated recording.",
        "plant": _chopped,
    },
    {
        "id": "announcer-low-rate",
        "class": "lossy source",
        "names": ["Announcer", FILES["announcer"]],
        "grade": "look",
        "says": "The announcer's file comes from a lossy recording at far too low a rate: nothing above 3.3 "
        "kHz, and a watery flutter below.",
        "time_s": (0.5, 5.0),
        "cure": "Ask for the original; else use the main pair for the announcement.",
        "plant": _low_rate,
    },
    {
        "id": "hall-breaks-off",
        "class": "file shorter than its clip",
        "names": ["Hall AB", FILES["hall"]],
        "grade": "hold",
        "says": "The hall pair's file breaks off hard at 25.31 s in the middle of the applause, 3.7 s before "
        "its clip ends.",
        "time_s": (25.2, LENGTH),
        "cure": "Copy the file again from the recorder's card, or fade before.",
        "plant": _breaks_off,
    },
    {
        "id": "viola-hiss",
        "class": "noise",
        "names": ["Spot Viola", FILES["viola"]],
        "grade": "look",
        "says": "The viola's spot hisses at -40 dBFS RMS all through (the others lie below -60): recorded far "
        "too low and lifted.",
        "time_s": (0.0, LENGTH),
        "cure": "Leave the spot out, or denoise it.",
        "plant": _hissing,
    },
    {
        "id": "second-verse-muted",
        "class": "clip muted",
        "names": ["Solo Voice", FILES["voice"]],
        "grade": "hold",
        "says": "The clip with the solo voice's second verse (13.7 to 22.9 s) is switched off; only the other "
        "microphones carry it.",
        "time_s": (SPLIT, 22.9),
        "cure": "Switch the clip on.",
        "plant": _verse_off,
    },
]
