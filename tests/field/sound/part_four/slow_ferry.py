"""The Slow Ferry: an acoustic ballad in 72, made by three people at a distance.

Nell plays the guitar (a microphone before the twelfth fret and the pickup, at once) and sings; Ruben plays the piano
(a pair) and the shaker; Agathe plays the cello. All files begin at zero and play at their own place. The lead is
comped from three takes in clips; hall and delay are printed, wholly wet, made from the comp (the hall also from piano
and cello). 44.1 kHz, 24 bit.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound.sounds_by_a import (
    band,
    channel,
    clip,
    db,
    doubled,
    edges,
    hiss,
    hz,
    keep,
    late,
    lay,
    media,
    pluck,
    save,
    session,
    sing,
    strip,
    tail,
    through,
    to_peak,
    wet,
)
from tests.field.sound.sounds_by_b import bowed, peak_filter
from tests.field.sound.sounds_by_f import (
    Array,
    Note,
    box,
    echoes,
    edit,
    fault,
    grand,
    phone,
    placed,
    score,
    shaker,
    stretched,
)

KIND = "session"
RATE = 44100
BEAT = 60.0 / 72.0
BAR = 4 * BEAT
LONG = 28.0
N = int(LONG * RATE)
TAKES = ("vox_take1", "vox_take2", "vox_take3")

# D, A/C#, Bm, G, D/F#, Em, A, D : the strings from the low one up
SHAPES = (
    (38, 45, 50, 57, 62, 66),
    (37, 45, 52, 57, 61, 64),
    (35, 47, 50, 54, 59, 66),
    (43, 47, 50, 55, 59, 62),
    (42, 45, 50, 57, 62, 66),
    (40, 47, 52, 55, 59, 64),
    (45, 45, 52, 57, 61, 64),
    (38, 45, 50, 57, 62, 66),
)
PICKS = ((0, 0), (1, 3), (2, 4), (3, 2), (4, 1), (5, 3), (6, 5), (7, 2))  # eighth, string

TUNE = score(
    "1 0.5 0.5 61 e s; 1 1.0 1.0 64 o -; 1 2.0 0.5 62 e f; 1 2.5 0.9 61 i -; 2 0.0 0.5 59 e t; 2 0.5 0.5 61 i k; "
    "2 1.0 1.8 62 a m; 3 0.5 0.5 62 a n; 3 1.0 0.5 64 o -; 3 1.5 1.0 66 i s; 3 2.5 1.0 67 a t; 4 0.0 0.5 66 e h; "
    "4 0.5 0.5 64 u t; 4 1.0 1.9 62 o m; 5 0.5 0.5 64 i n; 5 1.0 1.0 67 a k; 5 2.0 0.5 66 e -; 5 2.5 0.6 64 o s; "
    "6 0.0 0.5 64 i t; 6 0.5 0.5 66 e m; 6 1.0 0.8 64 a f; 6 1.8 1.0 61 o n; 7 0.0 2.4 62 o h"
)
# the comp: from, to, take; every cut in a rest before the breath
COMP = (
    (1 * BAR - 0.35, 2 * BAR + 3.2 * BEAT, "vox_take2"),
    (2 * BAR + 3.2 * BEAT, 4 * BAR + 3.25 * BEAT, "vox_take1"),
    (4 * BAR + 3.25 * BEAT, 6 * BAR - 0.6 * BEAT, "vox_take3"),
    (6 * BAR - 0.6 * BEAT, 7 * BAR + 3.4 * BEAT, "vox_take1"),
)
CELLO = (
    (2, 0.0, 3.8, 47),
    (3, 0.0, 2.0, 43),
    (3, 2.0, 1.8, 47),
    (4, 0.0, 3.8, 50),
    (5, 0.0, 1.9, 52),
    (5, 2.0, 1.9, 50),
    (6, 0.0, 1.9, 49),
    (6, 2.0, 1.9, 45),
    (7, 0.0, 3.6, 38),
)


def _guitar() -> tuple[Array, Array]:
    """The same strings by microphone and by pickup."""
    rng = np.random.default_rng(811)
    strings: list[list[tuple[float, float, float]]] = [[] for _ in range(6)]
    for bar in range(7):
        for eighth, which in PICKS:
            at = bar * BAR + eighth * BEAT / 2 + 0.5 * 0.006 * rng.standard_normal() + 0.05
            vel = (0.74 if eighth == 0 else 0.55 if eighth % 2 == 0 else 0.45) * rng.uniform(0.9, 1.1)
            strings[which].append((at, SHAPES[bar][which], vel))
    for i, pitch in enumerate(SHAPES[7]):
        strings[i].append((7 * BAR + 0.05 + 0.028 * i, pitch, 0.62))
    bare = np.zeros(N)
    for row in strings:
        row.sort()
        for (at, pitch, vel), follow in zip(row, [*row[1:], (at_end := 7 * BAR + 4.2, 0.0, 0.0)], strict=True):
            length = min(follow[0] - at, 4.0) if follow[0] < at_end else 4.0
            lay(bare, pluck(hz(pitch), length, RATE, rng, vel=vel, cut=4000.0), int(at * RATE))
    wood = late(through(bare, box(RATE, rng)), 0.0003 * RATE)
    small = tail(RATE, rng, 0.35, early=6)
    mic = to_peak(band(wood, RATE, 60.0, None) + 0.1 * through(wood, small), -8.0) + hiss(N, -72.0, rng)
    piezo = peak_filter(peak_filter(band(bare, RATE, 70.0, None, 1), RATE, 1500.0, 4.0, 1.2), RATE, 300.0, -2.0, 1.0)
    return mic, to_peak(piezo, -9.0) + hiss(N, -76.0, rng)


def _voices() -> dict[str, Array]:
    """Three takes of the lead."""
    line = [((r[0] * 4 + r[1]) * BEAT + 0.05, r[2] * BEAT, float(r[3]), r[4], r[5], 0.68) for r in TUNE]
    out: dict[str, Array] = {}
    for i, name in enumerate(TAKES):
        rng = np.random.default_rng(821 + i)
        take = sing(doubled(line, rng, 10.0), N, RATE, rng, tract=1.03, breath=0.08, wave=5.2)
        near = band(take, RATE, 75.0, None) + 0.05 * through(take, tail(RATE, rng, 0.25, early=5))
        out[name] = near * (db(-8.0) / np.percentile(np.abs(near), 99.97)) + hiss(N, -73.0, rng)
    return out


def _comp(takes: dict[str, Array]) -> Array:
    """The comp as the clips play it."""
    out = np.zeros(N)
    for begin, end, name in COMP:
        i, j = int(begin * RATE), int(end * RATE)
        out[i:j] += edges(takes[name][i:j], RATE, 0.02, 0.02)
    return out


def _piano() -> Array:
    """Two hands, from the second bar."""
    rng = np.random.default_rng(831)
    notes: list[Note] = []
    roots = (38, 37, 35, 31, 42, 40, 33, 38)
    highs = (
        (66, 69, 74),
        (64, 69, 73),
        (62, 66, 71),
        (62, 67, 71),
        (66, 69, 74),
        (64, 67, 71),
        (61, 67, 69),
        (62, 66, 69),
    )
    for bar in range(1, 8):
        lift = 0.05
        at = bar * BAR + lift + 0.004 * rng.standard_normal()
        hold = 3.9 * BEAT if bar < 7 else 5.2
        notes.append((at, hold, roots[bar], 0.55 * rng.uniform(0.92, 1.08)))
        notes.append((at + 0.004, hold, roots[bar] + 12, 0.45 * rng.uniform(0.92, 1.08)))
        for q in (0, 2) if bar < 7 else (0,):
            for k, m in enumerate(highs[bar]):
                late_by = q * BEAT + 0.005 * abs(rng.standard_normal()) + 0.003 * k
                notes.append(
                    (at + late_by, 1.9 * BEAT if bar < 7 else 5.2, m, (0.5, 0.42)[q // 2] * rng.uniform(0.88, 1.1))
                )
        if bar < 7:
            notes.append((at + 3.5 * BEAT, 0.5 * BEAT, highs[bar][2] + 5, 0.4 * rng.uniform(0.9, 1.1)))
    dry = grand(notes, N, RATE, rng)
    left, right = (tail(RATE, np.random.default_rng(s), 0.6, early=8) for s in (832, 833))
    return to_peak(dry + placed(dry, left, right, -15.0), -8.0) + np.stack([hiss(N, -74.0, rng) for _ in "lr"], axis=1)


def _cello() -> Array:
    """One player in a small room."""
    rng = np.random.default_rng(841)
    notes = [((b * 4 + q) * BEAT + 0.05, d * BEAT, float(m)) for b, q, d, m in CELLO]
    bow = bowed(rng, RATE, N, notes, players=1, attack=0.16)
    return to_peak(bow + 0.12 * through(bow, tail(RATE, rng, 0.45, early=6)), -9.0) + hiss(N, -70.0, rng)


def _shaker() -> Array:
    """Eighths from the fourth bar on, the backbeat stronger."""
    rng = np.random.default_rng(851)
    hits = []
    for e in range(3 * 8, 7 * 8):
        accent = 0.9 if e % 4 == 2 else 0.6 if e % 2 == 0 else 0.4
        hits.append((e * BEAT / 2 + 0.05 + 0.006 * rng.standard_normal(), accent * rng.uniform(0.88, 1.1)))
    return to_peak(shaker(hits, N, RATE, rng), -10.0) + hiss(N, -74.0, rng)


def _clips(name: str) -> list[dict[str, Any]]:
    """One clip over the whole file."""
    return [clip(name, 0.0, LONG) | {"fade_in_s": 0.01, "fade_out_s": 0.3}]


def make(folder: Path) -> None:
    """Audio and session."""
    mic, pickup = _guitar()
    takes = _voices()
    piano, cello = _piano(), _cello()
    comp = _comp(takes)
    hall_l, hall_r = (tail(RATE, np.random.default_rng(s), 2.3, wait=0.035) for s in (861, 862))
    sent = comp + 0.25 * piano.mean(axis=1) + 0.5 * cello
    files: dict[str, Array] = {
        "gtr_mic": mic,
        "gtr_pickup": pickup,
        "piano_stereo": piano,
        "cello": cello,
        "shaker": _shaker(),
        "hall_print": to_peak(wet(sent, hall_l, hall_r, RATE, 180.0, 7000.0), -12.0),
        "delay_print": to_peak(echoes(comp, RATE, BEAT, 0.45, 5, high=3400.0), -14.0),
        **takes,
    }
    for name, x in files.items():
        save(folder / "audio" / f"{name}.wav", edges(x, RATE, 0.01, 0.4), RATE)
    sung = [
        clip(take, a, b) | {"name": f"lead comp {i + 1}", "fade_in_s": 0.02, "fade_out_s": 0.02}
        for i, (a, b, take) in enumerate(COMP)
    ]
    cut = {"name": "Low cut", "kind": "equalizer", "on": True, "wet": 100.0}
    low = {"kind": "high-pass", "slope_db_per_oct": 12}
    told: dict[str, Any] = {
        "format": "mixlint-session/1",
        "title": "The Slow Ferry",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 72.0}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [
            {"time_s": 0.0, "name": "intro"},
            {"time_s": BAR, "name": "verse"},
            {"time_s": 7 * BAR, "name": "end"},
        ],
        "channels": [
            channel("c1", "Gtr Mic", output="g1", legs=1, fader_db=-4.0, clips=_clips("gtr_mic")),
            channel("c2", "Gtr Pickup", output="g1", legs=1, fader_db=-6.0, clips=_clips("gtr_pickup")),
            channel("c3", "Piano", legs=2, fader_db=-3.0, clips=_clips("piano_stereo")),
            channel(
                "c4",
                "Lead Vox",
                legs=1,
                fader_db=-3.5,
                clips=sung,
                inserts=[cut | {"equalizer": {"bands": [low | {"freq_hz": 85.0}]}}],
            ),
            channel("c5", "Cello", legs=1, fader_db=-8.0, pan=20.0, clips=_clips("cello")),
            channel(
                "c6",
                "Shaker",
                legs=1,
                fader_db=-7.0,
                pan=-35.0,
                clips=_clips("shaker"),
                inserts=[cut | {"equalizer": {"bands": [low | {"freq_hz": 300.0}]}}],
            ),
            channel("c7", "Hall Print", legs=2, fader_db=-7.0, clips=_clips("hall_print")),
            channel("c8", "Delay Print", legs=2, fader_db=-9.0, clips=_clips("delay_print")),
            channel("g1", "Guitar Bus", "group", legs=2, fader_db=-1.0, pan=-15.0),
            channel("mix", "Mix", "master", None, legs=2, fader_db=0.0),
        ],
        "media": media(folder, [f"{name}.wav" for name in files], RATE),
    }
    for row in told["channels"]:
        row |= {"pan": row.get("pan", 0.0), "mute": False, "solo": False}
    (folder / "slow_ferry.session.json").write_text(json.dumps(told, indent=1))


ACCEPTED: list[dict[str, Any]] = [
    {
        "names": ["Gtr Mic", "Gtr Pickup"],
        "why": "the microphone hears the strings 0.3 ms after the pickup, and their bodies differ",
    },
    {"names": ["Cello", "Shaker", "Piano"], "why": "noise alone before they come in; the intro belongs to the guitar"},
    {"names": [*TAKES, "Lead Vox"], "why": "parts of the takes are not used: that is what a comp is"},
    {"names": ["Hall Print", "Delay Print"], "why": "printed returns on tracks; nothing is sent to them, wholly wet"},
]


def _at(folder: Path, name: str) -> Path:
    """The file of a name."""
    return folder / "audio" / f"{name}.wav"


def _pickup(folder: Path) -> None:
    edit(_at(folder, "gtr_pickup"), lambda x, r: -x)


PIANO_DIES = 4 * BAR + 1.3 * BEAT


def _piano_leg(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        y = x.copy()
        i = int(PIANO_DIES * rate)
        y[i:, 1] = hiss(len(x) - i, -78.0, np.random.default_rng(1))
        return y

    edit(_at(folder, "piano_stereo"), change)


def _offset(folder: Path) -> None:
    path, told = session(folder)
    row = strip(told, "Lead Vox")["clips"][2]
    row["offset_s"] += 0.9
    keep(path, told)


def _drift(folder: Path) -> None:
    edit(_at(folder, "cello"), lambda x, r: stretched(x, 1.006)[: len(x)])


def _lossy(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        spectrum = np.fft.rfft(x)
        freq = np.fft.rfftfreq(len(x), 1 / rate)
        return np.asarray(np.fft.irfft(spectrum * np.clip((7600.0 - freq) / 150.0, 0, 1), len(x)))

    edit(_at(folder, "shaker"), change)


def _hall(folder: Path) -> None:
    edit(_at(folder, "hall_print"), lambda x, r: edges(late(x, -1.5 * BEAT * r), r, 0.01, 0.4))


RUN = (4 * BAR, LONG)


def _runaway(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        step = int(BEAT * rate)
        out = np.zeros_like(x)
        back = np.zeros((step, 2))
        begin = int(RUN[0] * rate)
        out[:begin] = x[:begin]
        for i in range(begin, len(x), step):
            part = x[i : i + step]
            now = part + 1.12 * back[: len(part)]
            now = np.tanh(1.1 * now / 0.9) * 0.9
            out[i : i + len(part)] = now
            back[: len(part)] = band(now, rate, 120.0, 6000.0, 1)[:, ::-1]
        return edges(out, rate, 0.01, 0.4)

    edit(_at(folder, "delay_print"), change)


def _click(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        n = int(0.03 * rate)
        t = np.arange(n) / rate
        y = x.copy()
        for k in range(32):
            pitch = 1600.0 if k % 4 == 0 else 1200.0
            tick = np.sin(2 * np.pi * pitch * t) * np.exp(-t / 0.008) * db(-24.0 if k % 4 == 0 else -27.0)
            lay(y, tick, int((k * BEAT + 0.05) * rate))
        return y

    edit(_at(folder, "gtr_mic"), change)


def _pops(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        rng = np.random.default_rng(3)
        y = x.copy()
        for bar, beat in ((1, 0.5), (1, 2.0), (2, 0.0), (2, 1.0)):
            n = int(0.16 * rate)
            t = np.arange(n) / rate
            blow = np.sin(2 * np.pi * (22.0 * t + 30.0 * 0.05 * (1 - np.exp(-t / 0.05)))) * np.exp(-t / 0.05)
            blow = np.minimum(1, t / 0.004) * (
                blow + 0.25 * band(rng.standard_normal(n), rate, None, 160.0) * np.exp(-t / 0.05)
            )
            lay(y, db(-4.5) * blow * np.linspace(1, 0, n), int(((bar * 4 + beat) * BEAT + 0.04) * rate))
        return y

    edit(_at(folder, "vox_take2"), change)


BUZZ = (3 * BAR + 0.5, 5 * BAR + 1.0)


def _buzz(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        i, j = int(BUZZ[0] * rate), int(BUZZ[1] * rate)
        y = x.copy()
        y[i:j] += to_peak(phone(j - i, rate), -21.0)
        return y

    edit(_at(folder, "gtr_pickup"), change)


FAULTS: list[dict[str, Any]] = [
    fault(
        "pickup-flipped",
        "polarity between two microphones of one source",
        ["Gtr Mic", "Gtr Pickup", "gtr_mic.wav", "gtr_pickup.wav"],
        "hold",
        "The pickup is upside down against the microphone of the same guitar: together they lose 5 to 6 dB under "
        "300 Hz, and the rest is nasal.",
        (0.0, 26.0),
        "turn the pickup over",
        _pickup,
    ),
    fault(
        "piano-leg-dies",
        "leg lost in mid-song",
        ["Piano", "piano_stereo.wav"],
        "hold",
        "The right leg of the piano dies at 14.4 s and has nothing but noise at -78 dBFS to the end; the left plays"
        " on.",
        (PIANO_DIES, LONG),
        "ask Ruben for the right microphone of the rest, or make the rest from the left leg alone",
        _piano_leg,
    ),
    fault(
        "comp-clip-slid",
        "clip plays the wrong place of its file",
        ["Lead Vox", "vox_take3.wav", "vox_take3"],
        "hold",
        "The third clip of the comp plays its take 0.9 s too far on: the words come early, and a word of the next "
        "phrase breaks in at its end, while hall and delay print have them in their right place.",
        (COMP[2][0], COMP[2][1]),
        "set the clip's offset back by 0.9 s",
        _offset,
    ),
    fault(
        "cello-drifts",
        "clocks that ran apart",
        ["Cello", "cello.wav"],
        "hold",
        "The cello's clock ran apart from the session: it plays 0.6 % slow, 10 cents flat, 40 ms late at its entry "
        "and 140 ms late at the last bar.",
        (2 * BAR, LONG),
        "convert the file by 1.006 so that it runs and sounds as played",
        _drift,
    ),
    fault(
        "shaker-lossy",
        "lossy coding behind a WAV",
        ["Shaker", "shaker.wav"],
        "look",
        "The shaker came through a messenger's lossy coder: nothing at all over 7.6 kHz, in a 44.1 kHz file, where "
        "a shaker has most of its air.",
        (3 * BAR, 7 * BAR),
        "ask for the file as recorded",
        _lossy,
    ),
    fault(
        "hall-early",
        "printed return out of place",
        ["Hall Print", "hall_print.wav", "Lead Vox"],
        "hold",
        "The printed hall lies a beat and a half (1.25 s) too early, as if printed before the intro was lengthened:"
        " the room rings before each word, and goes out while the last one is held.",
        (0.0, LONG),
        "move the print 1.25 s later, or print it again",
        _hall,
    ),
    fault(
        "delay-runs-away",
        "feedback over unity",
        ["Delay Print", "delay_print.wav"],
        "hold",
        "From the fifth bar on the delay's feedback stood over 100 %: the repeats grow instead of dying and end as "
        "a saturated roar at about -2 dBFS when the song should die away.",
        RUN,
        "print the delay again with feedback below unity",
        _runaway,
    ),
    fault(
        "click-bleed",
        "metronome in a microphone",
        ["Gtr Mic", "gtr_mic.wav"],
        "look",
        "The metronome bleeds from the headphones into the guitar microphone, -24 to -27 dBFS on every beat, bare "
        "in the last chord and through the end.",
        (0.0, 26.7),
        "mute what lies bare, use the pickup there, or play again with closed phones and a softer click",
        _click,
    ),
    fault(
        "pops",
        "plosives",
        ["Lead Vox", "vox_take2.wav", "vox_take2"],
        "look",
        "Four pops in the first clip of the comp: thumps about 22 to 50 Hz, up to -4 dBFS, over the words' own peak"
        " of -8.",
        (BAR, 3 * BAR),
        "high-pass or clip gain at the four places, or other takes",
        _pops,
    ),
    fault(
        "phone-buzz",
        "interference",
        ["Gtr Pickup", "gtr_pickup.wav"],
        "hold",
        "A mobile phone buzzes into the pickup from 10.5 to 17.7 s: bursts of 217 Hz and its harmonics in groups, "
        "peaks of -21 dBFS against a floor of -76.",
        BUZZ,
        "leave the pickup out there and use the microphone alone, or play the bars again",
        _buzz,
    ),
]
