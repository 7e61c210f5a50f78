"""Brick Harbour: a rock trio in 132, cut live in one room, voices and the second guitar overdubbed. 48 kHz, 24 bit.

Kit: kick, snare above and below (turned over), hat, two toms, a pair of overheads, a pair of room microphones on one
stereo track. Bass by DI and amplifier. Electric guitar played twice, left and right, each by a dynamic and a ribbon
microphone before the same cone. A lead voice, three shouting voices, and a plate that is wholly wet.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound.sounds_by_a import channel, clip, edges, keep, lay, load, media, save, session, strip, to_peak
from tests.field.sound.sounds_by_b import (
    amp,
    butter,
    hertz,
    hiss,
    kit,
    microphone,
    peak_filter,
    pluck,
    reverb,
    room,
    strum,
    voice,
)
from tests.field.sound.sounds_by_f import Array, edit, fault, hum, score, slipped

KIND = "session"
RATE = 48000
BEAT = 60.0 / 132.0
BAR = 4 * BEAT
LEAD_IN = 0.6
LONG = 26.0
N = int(LONG * RATE)
BARS = 12

# roots a bar: verse E G A C, chorus D A E E
ROOTS = (40, 40, 43, 45, 40, 43, 45, 48, 38, 45, 40, 43)
OVERDUBS = ("Gang 1", "Gang 2", "Gang 3")


def _at(bar: float, beat: float = 0.0) -> float:
    """Seconds of a place."""
    return LEAD_IN + bar * BAR + beat * BEAT


def _hits() -> list[tuple[float, str, float]]:
    """What the drummer plays: in with the second bar, a fill into the chorus, a last crash."""
    out: list[tuple[float, str, float]] = []
    for bar in range(1, BARS):
        loud = bar >= 8
        fill = bar in (3, 7, 11)
        for e in range(8):
            if fill and e >= 4:
                continue
            out.append((_at(bar, e / 2), "ride" if loud else "hat", 0.95 if e % 2 == 0 else 0.6))
        for q in (0, 1.5, 2.5) if not loud else (0, 0.5, 2, 2.5):
            if not (fill and q >= 2):
                out.append((_at(bar, q), "kick", 0.95 if q in (0, 2) else 0.75))
        out += [(_at(bar, q), "snare", 0.95) for q in (1, 3) if not (fill and q == 3)]
        if fill:
            row = (
                (2, "snare", 0.7),
                (2.25, "snare", 0.8),
                (2.5, "tom", 0.85),
                (2.75, "tom", 0.9),
                (3, "floor", 0.9),
                (3.5, "floor", 1.0),
            )
            out += [(_at(bar, q), piece, v) for q, piece, v in row]
        if bar in (4, 8, 10):
            out.append((_at(bar), "crash", 0.9))
    out += [(_at(BARS), "crash", 1.0), (_at(BARS), "kick", 1.0), (_at(BARS), "floor", 0.8)]
    return sorted(out)


def _drums() -> dict[str, Array]:
    """The kit at its microphones."""
    rng = np.random.default_rng(911)
    pieces = kit(rng, RATE, N, _hits())
    close = {
        "kick": ((0.0, 0.0, 0.35), "kick", 0.16),
        "snare_top": ((-0.27, -0.42, 0.76), "snare", 0.16),
        "snare_bottom": ((-0.28, -0.35, 0.42), "wires", 0.16),
        "hat": ((-0.72, -0.3, 1.1), "hat", 0.2),
        "rack_tom": ((-0.1, -0.03, 0.97), "tom", 0.1),
        "floor_tom": ((0.55, -0.42, 0.76), "floor", 0.1),
    }
    peaks = {"kick": -6.0, "snare_top": -6.0, "snare_bottom": -9.0, "hat": -13.0, "rack_tom": -8.0, "floor_tom": -8.0}
    out: dict[str, Array] = {}
    for name, (where, near, reject) in close.items():
        x = microphone(pieces, RATE, where, near, reject)
        out[name] = to_peak(butter(x, RATE, "highpass", 35.0), peaks[name])
    pair = [microphone(pieces, RATE, (side, -0.1, 1.55)) for side in (-0.95, 0.6)]
    both = np.stack(pair, 1)
    both = butter(both, RATE, "highpass", 60.0) + 0.12 * reverb(both, room(rng, RATE, 0.45, 0.3, size=5.0), N)
    both = to_peak(both, -8.0)
    out["oh_left"], out["oh_right"] = both[:, 0], both[:, 1]
    far = np.stack([microphone(pieces, RATE, (side, 2.2, 1.4)) for side in (-1.9, 1.6)], 1)
    heard = far + 0.4 * reverb(far, room(rng, RATE, 0.8, 0.5, size=7.0), N)
    out["room_stereo"] = to_peak(butter(heard, RATE, "highpass", 45.0), -9.0)
    return out


def _bass(flat_from: float = 99.0, cents: float = 0.0) -> dict[str, Array]:
    """Bass by DI and amplifier; from a time on flat by so many cents, if asked."""
    rng = np.random.default_rng(921)
    bare = np.zeros(N)
    for bar in range(1, BARS + 1):
        root = ROOTS[bar % BARS] - 12
        steps = (
            [(e / 2, 0.46, root + (12 if e == 7 and bar % 4 == 3 else 0)) for e in range(8)]
            if bar < BARS
            else [(0, 7.0, 28)]
        )
        for q, length, midi in steps:
            at = _at(bar, q) + 0.004 * rng.standard_normal()
            tune = -cents / 100.0 if at >= flat_from - 0.03 else 0.0
            vel = (0.9 if q in (0, 2) else 0.72) * rng.uniform(0.9, 1.08)
            sound = pluck(rng, RATE, hertz(midi + tune), length * BEAT, 0.75, 1.6, 0.2, 0.13)
            lay(bare, sound * vel, int(at * RATE))
    bare = butter(bare, RATE, "highpass", 28.0, 1)
    driven = amp(bare + hiss(rng, N, -85.0), RATE, 1.6, 3200.0, 0.0, 20.0)
    return {
        "bass_di": to_peak(bare, -8.0) + hiss(rng, N, -82.0),
        "bass_amp": to_peak(driven, -8.0) + hiss(rng, N, -70.0),
    }


def _guitar(seed: int) -> dict[str, Array]:
    """One pass of the riff, by the dynamic and the ribbon microphone."""
    rng = np.random.default_rng(seed)
    bare = np.zeros(N)
    for bar in range(BARS + 1):
        root = ROOTS[bar % BARS]
        fifth = [root, root + 7, root + 12]
        if bar == BARS:
            rows = [(0.0, 6.0, 0.95, [40, 47, 52])]
        elif bar >= 8:
            rows = [(0.0, 1.45, 0.95, fifth), (1.5, 0.45, 0.8, fifth), (2.0, 1.4, 0.9, fifth), (3.5, 0.4, 0.8, fifth)]
        else:
            rows = [(0.0, 0.9, 0.95, fifth), (1.0, 0.2, 0.6, [root]), (1.5, 0.2, 0.6, [root]), (2.0, 0.45, 0.85, fifth)]
            rows += [
                (2.5, 0.2, 0.6, [root]),
                (3.0, 0.4, 0.8, [root + 3, root + 10]),
                (3.5, 0.35, 0.8, [root + 5, root + 12]),
            ]
        for i, (q, length, vel, notes) in enumerate(rows):
            at = _at(bar, q) + 0.007 * rng.standard_normal()
            strum(rng, RATE, bare, at, length * BEAT, notes, vel * rng.uniform(0.9, 1.1), i % 2 == 0, 0.9, 1.3, 0.12)
    cone = amp(bare + hiss(rng, N, -72.0), RATE, 5.0, 5600.0, 0.5)
    dyn = peak_filter(cone, RATE, 3400.0, 3.0, 1.0)
    rib = butter(peak_filter(cone, RATE, 180.0, 3.0, 0.8), RATE, "lowpass", 5200.0, 1)
    return {"dyn": to_peak(dyn, -9.0) + hiss(rng, N, -74.0), "rib": to_peak(rib, -9.0) + hiss(rng, N, -70.0)}


WORDS = score(
    "4 0.5 0.5 64 a k; 4 1.0 0.5 64 o h; 4 1.5 1.0 67 e t; 4 2.5 0.9 64 a s; 5 0.5 0.5 67 i m; 5 1.0 1.0 67 a t; "
    "5 2.0 1.4 64 o n; 6 0.5 0.5 64 u f; 6 1.0 0.5 67 e t; 6 1.5 1.2 69 a k; 6 3.0 0.8 67 i s; 7 0.5 1.6 67 o h; "
    "8 1.0 1.4 69 a t; 8 2.5 1.2 66 o m; 9 1.0 1.0 69 e k; 9 2.0 1.7 64 i t; 10 1.0 1.4 71 a s; "
    "10 2.5 1.2 67 o n; 11 1.0 2.4 64 a h"
)
SHOUTS = score("8 0 0.7 0 e h; 9 0 0.7 0 o h; 10 0 0.7 0 e h; 11 0 0.6 0 o h; 12 0 1.6 0 e h")


def _voices() -> dict[str, Array]:
    """A lead voice and three who shout."""
    rng = np.random.default_rng(941)
    lead = voice(
        rng, RATE, N, [(_at(b, q), d * BEAT, float(m - 5), v, c) for b, q, d, m, v, c in WORDS], 1.0, 0.2, breathy=0.1
    )
    out = {
        "lead_vox": to_peak(butter(np.tanh(1.5 * to_peak(lead, -3.0)), RATE, "highpass", 60.0), -8.0)
        + hiss(rng, N, -72.0)
    }
    for i, (size, base) in enumerate(((0.97, 62.0), (1.04, 64.0), (1.0, 59.0))):
        rng = np.random.default_rng(942 + i)
        rows = []
        for bar, q, d, _, vow, cons in SHOUTS:
            at = _at(bar, q) + 0.022 * rng.standard_normal()
            rows.append((at, d * BEAT * rng.uniform(0.85, 1.15), base + rng.normal(0, 1.0), vow, cons))
        x = voice(rng, RATE, N, rows, size, 0.05, True, 0.22, 0.6)
        x = butter(np.tanh(2.0 * to_peak(x, -2.0)), RATE, "highpass", 60.0)
        x = x + 0.08 * reverb(x, room(rng, RATE, 0.4, 0.25, 1, size=5.0), N)
        out[f"gang_{i + 1}"] = to_peak(x, -9.0 + 0.7 * i) + hiss(rng, N, -70.0)
    return out


def _strips() -> list[tuple[str, str, str, float, float, str]]:
    """file, name, group, fader, pan, low cut."""
    return [
        ("kick", "Kick", "gd", -4.0, 0.0, ""),
        ("snare_top", "Snare Top", "gd", -4.0, 0.0, "70"),
        ("snare_bottom", "Snare Bottom", "gd", -10.0, 0.0, "150"),
        ("hat", "Hat", "gd", -14.0, -40.0, "300"),
        ("rack_tom", "Rack Tom", "gd", -9.0, -12.0, "60"),
        ("floor_tom", "Floor Tom", "gd", -9.0, 42.0, "45"),
        ("oh_left", "OH L", "gd", -5.0, -85.0, "90"),
        ("oh_right", "OH R", "gd", -5.0, 85.0, "90"),
        ("room_stereo", "Room", "gd", -10.0, 0.0, ""),
        ("bass_di", "Bass DI", "gb", -9.0, 0.0, ""),
        ("bass_amp", "Bass Amp", "gb", -8.0, 0.0, ""),
        ("gtr_l_dyn", "Gtr L Dyn", "gg", -10.0, -75.0, "80"),
        ("gtr_l_rib", "Gtr L Rib", "gg", -12.0, -75.0, "80"),
        ("gtr_r_dyn", "Gtr R Dyn", "gg", -10.0, 75.0, "80"),
        ("gtr_r_rib", "Gtr R Rib", "gg", -12.0, 75.0, "80"),
        ("lead_vox", "Lead Vox", "gv", -4.0, 0.0, "100"),
        ("gang_1", "Gang 1", "gv", -11.0, -50.0, "120"),
        ("gang_2", "Gang 2", "gv", -11.0, 5.0, "120"),
        ("gang_3", "Gang 3", "gv", -11.0, 50.0, "120"),
    ]


def make(folder: Path) -> None:
    """Audio and session."""
    files = _drums() | _bass()
    for side, seed in (("l", 931), ("r", 932)):
        files |= {f"gtr_{side}_{mic}": x for mic, x in _guitar(seed).items()}
    files |= _voices()
    for i, name in enumerate([n for n in files if n in {s[0] for s in _strips()[:9]}]):
        x = files[name]
        files[name] = x + hiss(np.random.default_rng(950 + i), N, -74.0, x.ndim)
    for name, x in files.items():
        save(folder / "audio" / f"{name}.wav", edges(x, RATE, 0.01, 0.5), RATE)
    rows = []
    for i, (file, name, group, fader, pan, cut) in enumerate(_strips()):
        row = channel(f"t{i + 1}", name, output=group, legs=2 if name == "Room" else 1, fader_db=fader, pan=pan)
        row["clips"] = [clip(file, 0.0, LONG) | {"fade_in_s": 0.01, "fade_out_s": 0.5}]
        if cut:
            band = {"kind": "high-pass", "freq_hz": float(cut), "slope_db_per_oct": 12}
            row["inserts"] = [{"name": "Low cut", "kind": "equalizer", "on": True, "equalizer": {"bands": [band]}}]
        if name in ("Snare Top", "Lead Vox", *OVERDUBS):
            row["sends"] = [{"to": "r1", "level_db": -14.0 if name != "Lead Vox" else -12.0, "tap": "post", "on": True}]
        rows.append(row)
    plate = {"name": "Plate", "kind": "reverb", "on": True, "wet": 100.0, "pre_delay_ms": 18.0}
    rows.append(channel("r1", "Plate Return", "return", "mix", legs=2, fader_db=-4.0, inserts=[plate]))
    for ident, name in (("gd", "Drums"), ("gb", "Bass"), ("gg", "Guitars"), ("gv", "Voices")):
        rows.append(channel(ident, name, "group", "mix", legs=2, fader_db=-2.5))
    rows.append(channel("mix", "Mix", "master", None, legs=2, fader_db=0.0))
    for row in rows:
        row |= {"pan": row.get("pan", 0.0), "mute": False, "solo": False}
    told: dict[str, Any] = {
        "format": "mixlint-session/1",
        "title": "Brick Harbour",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 132.0}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": _at(b), "name": m} for b, m in ((0, "riff"), (4, "verse"), (8, "chorus"), (12, "end"))],
        "channels": rows,
        "media": media(folder, [f"{name}.wav" for name in files], RATE),
    }
    (folder / "brick_harbour.session.json").write_text(json.dumps(told, indent=1))


ACCEPTED: list[dict[str, Any]] = [
    {
        "names": ["OH L", "OH R", "Room"],
        "why": "overheads and room hear the kit later than the close microphones: distance",
    },
    {
        "names": ["Snare Top", "Snare Bottom", "Kick", "Hat", "Rack Tom", "Floor Tom"],
        "why": "bleed: one kit in one room",
    },
    {"names": [*OVERDUBS, "Lead Vox"], "why": "noise alone where nobody sings; one clip over the whole song"},
    {
        "names": ["Gtr L Dyn", "Gtr R Dyn", "Gtr L Rib", "Gtr R Rib"],
        "why": "left and right are two takes, and amplifiers hiss",
    },
]


def _file(folder: Path, name: str) -> Path:
    """The file of a name."""
    return folder / "audio" / f"{name}.wav"


def _wrong_take(folder: Path) -> None:
    x, _ = load(_file(folder, "gtr_r_rib"))
    save(_file(folder, "gtr_l_rib"), x, RATE)


def _hum(folder: Path) -> None:
    edit(_file(folder, "bass_di"), lambda x, r: x + to_peak(hum(len(x), r), -24.0))


def _swap(folder: Path) -> None:
    left, _ = load(_file(folder, "oh_left"))
    right, _ = load(_file(folder, "oh_right"))
    save(_file(folder, "oh_left"), right, RATE)
    save(_file(folder, "oh_right"), left, RATE)


CRACKLE = (_at(4, 3.0), _at(7, 1.0))


def _crackle(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        rng = np.random.default_rng(5)
        y = x.copy()
        at = CRACKLE[0]
        while at < CRACKLE[1]:
            i = int(at * rate)
            gap = int(rng.uniform(0.004, 0.06) * rate)
            y[i : i + gap] *= 0.02
            for _ in range(int(rng.integers(3, 9))):
                j = i + int(rng.uniform(0, 0.09) * rate)
                m = int(rng.uniform(0.0004, 0.002) * rate)
                y[j : j + m] += rng.choice([-1.0, 1.0]) * rng.uniform(0.2, 0.55) * np.exp(-np.arange(m) / (0.3 * m))
            at += rng.uniform(0.12, 0.55)
        return y

    edit(_file(folder, "gtr_r_dyn"), change)


def _chopped(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        gate = np.zeros(len(x))
        for at, piece, _ in _hits():
            if piece == "floor":
                gate[int((at - 0.015) * rate) : int((at + 0.075) * rate)] = 1.0
        soft = int(0.002 * rate)
        return x * np.convolve(gate, np.ones(soft) / soft, "same")

    edit(_file(folder, "floor_tom"), change)


SLIP = (_at(8) - 0.06, _at(11) - 0.06)


def _overheads(folder: Path) -> None:
    for name in ("oh_left", "oh_right"):
        edit(_file(folder, name), lambda x, r: slipped(x, r, SLIP[0], SLIP[1], 0.032))


CHAT = (1.1, 4.9)


def _chatter(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        rng = np.random.default_rng(6)
        rows = []
        at = CHAT[0]
        vowels, cons = "aeiou", ("k", "t", "s", "m", "h", "f", "n", "p")
        while at < CHAT[1] - 0.3:
            length = rng.uniform(0.09, 0.2)
            rows.append(
                (at, length, 47.0 + rng.normal(0, 1.8), vowels[int(rng.integers(5))], cons[int(rng.integers(8))])
            )
            at += length + (rng.uniform(0.02, 0.06) if rng.random() < 0.8 else 0.35)
        return x + to_peak(voice(rng, rate, len(x), rows, 1.02, 0.0, True, 0.1, 0.5), -19.0)

    edit(_file(folder, "gang_2"), change)


FLAT = _at(8)


def _flat(folder: Path) -> None:
    i = int((FLAT - 0.02) * RATE)
    share = np.clip((np.arange(N) - i) / (0.01 * RATE), 0, 1)
    for name, x in _bass(FLAT, 38.0).items():
        level = edges(x, RATE, 0.01, 0.5)

        def change(y: Array, rate: int, level: Array = level) -> Array:
            same = float(np.sqrt(np.mean(y[:i] ** 2) / np.mean(level[:i] ** 2)))
            return y * (1 - share) + same * level * share

        edit(_file(folder, name), change)


def _ticks(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        rng = np.random.default_rng(7)
        y = x.copy()
        at = 0.9
        while at < LONG - 0.8:
            i = int(at * rate)
            y[i, :] += rng.choice([-1.0, 1.0]) * rng.uniform(0.22, 0.4)
            y[i + 1, :] -= 0.5 * y[i, :]
            at += rng.uniform(0.5, 1.3)
        return y

    edit(_file(folder, "room_stereo"), change)


def _pans(folder: Path) -> None:
    path, told = session(folder)
    for name in ("Gtr R Dyn", "Gtr R Rib"):
        strip(told, name)["pan"] = -75.0
    keep(path, told)


FAULTS: list[dict[str, Any]] = [
    fault(
        "ribbon-of-other-take",
        "wrong file under a name",
        ["Gtr L Rib", "Gtr L Dyn", "Gtr R Rib", "gtr_l_rib.wav", "gtr_l_dyn.wav", "gtr_r_rib.wav"],
        "hold",
        "The file of Gtr L Rib is the right guitar's ribbon, sample for sample: the left pair holds two different "
        "passes and the right pass sounds from both sides.",
        (0.0, LONG),
        "find the ribbon file of the left pass and put it in",
        _wrong_take,
    ),
    fault(
        "bass-di-hum",
        "mains hum",
        ["Bass DI", "bass_di.wav"],
        "hold",
        "An earth loop hums in the bass DI: 50 Hz and its harmonics with a peak of -24 dBFS all through, bare "
        "before the first note and in the last chord.",
        (0.0, LONG),
        "use the amplifier alone, or notch the harmonics; lift the earth when it is recorded again",
        _hum,
    ),
    fault(
        "overheads-swapped",
        "sides exchanged",
        ["OH L", "OH R", "oh_left.wav", "oh_right.wav"],
        "look",
        "The files of the overheads are exchanged: hat and crash come from the right, the floor tom and ride from "
        "the left, against the room pair and the pans of hat and floor tom.",
        (LEAD_IN, LONG),
        "exchange the two files",
        _swap,
    ),
    fault(
        "guitar-cable",
        "intermittent cable",
        ["Gtr R Dyn", "gtr_r_dyn.wav"],
        "hold",
        "From 9.2 to 13.8 s the cable of Gtr R Dyn crackles and cuts out again and again: bursts of spikes up to -4"
        " dBFS and gaps of 4 to 60 ms, while the ribbon beside it is clean.",
        CRACKLE,
        "lay the ribbon alone there, or play the bars again",
        _crackle,
    ),
    fault(
        "floor-tom-chopped",
        "tails cut by editing",
        ["Floor Tom", "floor_tom.wav"],
        "hold",
        "The floor tom was stripped to 75 ms after each stroke and digital silence between: every stroke stops dead"
        " long before the drum has rung out.",
        (_at(3, 3), _at(12, 0.5)),
        "go back to the uncut file, or open the edits to the end of the ring",
        _chopped,
    ),
    fault(
        "overheads-slip",
        "edit that left a microphone behind",
        ["OH L", "OH R", "oh_left.wav", "oh_right.wav"],
        "hold",
        "In bars 9 to 11 the overheads lie 32 ms late against the close microphones, as if left out of the edit "
        "group: every stroke of the chorus flams; before and after they are right.",
        SLIP,
        "move that stretch of the overheads 32 ms earlier",
        _overheads,
    ),
    fault(
        "chatter",
        "talk left in a take",
        ["Gang 2", "gang_2.wav"],
        "look",
        "Somebody talks into Gang 2 over the riff from 0.8 to 4.7 s, peaks of -19 dBFS, where the others are silent"
        " and no shout belongs.",
        (0.8, 4.7),
        "cut the clip to the shouts",
        _chatter,
    ),
    fault(
        "bass-flat",
        "out of tune",
        ["Bass DI", "Bass Amp", "bass_di.wav", "bass_amp.wav"],
        "hold",
        "From the chorus on the bass, DI and amplifier alike, plays 38 cents flat of the guitars: the string "
        "slipped, or the take was punched in untuned.",
        (FLAT, LONG),
        "tune that stretch up by 38 cents or play it again",
        _flat,
    ),
    fault(
        "room-ticks",
        "word-clock ticks",
        ["Room", "room_stereo.wav"],
        "hold",
        "Ticks one or two samples long in both legs of the room, at no musical place, about one a second, -8 to -13"
        " dBFS and bare in the end: a clock that slips.",
        (0.9, LONG - 0.8),
        "repair the ticks or leave the room out; look at the clock",
        _ticks,
    ),
    fault(
        "right-guitar-left",
        "pan of the pair",
        ["Gtr R Dyn", "Gtr R Rib"],
        "hold",
        "Both microphones of the right guitar are panned 75 to the left, settings copied from the left one: both "
        "guitars come from one side and the right is empty.",
        (0.0, LONG),
        "pan Gtr R Dyn and Gtr R Rib to 75 right",
        _pans,
    ),
]
