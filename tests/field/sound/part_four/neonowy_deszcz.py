"""Neonowy deszcz: stems of a pop song, 108 to the minute, 48 kHz, as a producer in Poland sends them to a mixer.

Every stem is stereo, begins at zero, has the length of the song and stands at its level in the mix; delay and reverb of
the voices are printed wholly wet. The print of the mix is the plain sum of the stems, without anything on the bus.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from scipy import signal

from tests.field.sound.sounds_by_a import (
    band,
    db,
    doubled,
    edges,
    hiss,
    late,
    load,
    pan,
    play,
    pluck,
    save,
    sing,
    strum,
    tail,
    through,
    to_peak,
    wet,
)
from tests.field.sound.sounds_by_f import Array, Note, box, duck, echoes, edit, fault, legs, pattern, score, synth

KIND = "stems"
RATE = 48000
BEAT = 60.0 / 108.0
BAR = 4 * BEAT
N = int(26.0 * RATE)
MIX = "Neonowy deszcz MIX print v3.wav"
KICK, CLAP, HATS, FX = "01 Kick.wav", "02 Snare Clap.wav", "03 Hihat Shaker.wav", "04 Crash FX.wav"
BASS, PAD, ARP, LEAD = "05 Bas synth.wav", "06 Pad.wav", "07 Arp pluck.wav", "08 Lead synth.wav"
GIT, VOX = "09 Gitara akustyczna.wav", "10 Wokal glowny.wav"
DUB_L, DUB_R, CHOR = "11 Wokal dubel L.wav", "12 Wokal dubel R.wav", "13 Chorki.wav"
VERB, DLY = "14 Wokal REVERB print.wav", "15 Wokal DELAY print.wav"

CHORDS = ((57, 60, 64), (53, 57, 60), (55, 60, 64), (55, 59, 62))  # a F C G
ROOTS = (45, 41, 36, 43)

# bar, beat, length in beats, note, vowel, consonant
VERSE = score(
    "2 0.0 0.5 69 e n; 2 0.5 0.5 69 o n; 2 1.0 1.0 72 o -; 2 2.0 1.3 71 i n; 3 0.0 0.5 69 a s; 3 0.5 0.5 67 i t; "
    "3 1.0 1.6 65 e k; 4 0.0 0.5 67 u m; 4 0.5 0.5 67 i t; 4 1.0 0.5 69 a k; 4 1.5 1.6 67 o -; 5 0.5 0.5 71 a t; "
    "5 1.0 0.5 71 e s; 5 1.5 1.9 69 i h"
)
CHORUS = score(
    "6 0.0 1.0 72 a t; 6 1.0 1.0 74 e s; 6 2.0 1.5 76 o k; 7 0.0 0.5 77 i f; 7 0.5 0.5 76 e -; 7 1.0 2.0 72 a s; "
    "8 0.0 1.0 76 u t; 8 1.0 0.5 74 i m; 8 1.5 1.8 72 o n; 9 0.0 0.5 71 a h; 9 0.5 0.5 72 e t; 9 1.0 1.0 74 e s; "
    "9 2.0 1.4 71 o -; 10 0.0 1.6 69 a n"
)


def _line(rows: list[tuple[float, float, float, float, str, str]], force: float) -> list[Any]:
    """Bars and beats as seconds."""
    return [((r[0] * 4 + r[1]) * BEAT, r[2] * BEAT, float(r[3]), r[4], r[5], force) for r in rows]


def _chord(bar: int) -> int:
    """The chord of a bar; the last bar goes home."""
    return 0 if bar >= 10 else bar % 4


def _voices() -> dict[str, Array]:
    """Lead, two doubles, harmony: dry and of one leg."""
    verse, chorus = _line(VERSE, 0.62), _line(CHORUS, 0.8)
    out: dict[str, Array] = {}
    rng = np.random.default_rng(701)
    out[VOX] = sing(verse + chorus, N, RATE, rng, tract=1.13, breath=0.07)
    for name, seed in ((DUB_L, 702), (DUB_R, 703)):
        rng = np.random.default_rng(seed)
        out[name] = sing(
            doubled(chorus, rng, 20.0), N, RATE, rng, tract=1.1, breath=0.09, wave=5.0 + 0.3 * rng.random()
        )
    rng = np.random.default_rng(704)
    low = {76: 72, 77: 72, 74: 71, 72: 69, 71: 67, 69: 64}
    part = [(a, d, float(low[int(m)]), v, c, 0.6 * f) for a, d, m, v, c, f in chorus]
    first = sing(doubled(part, rng), N, RATE, rng, tract=1.15, breath=0.1)
    second = sing(doubled(part, rng, up=-5.0), N, RATE, rng, tract=1.08, breath=0.1)
    for name in out:
        out[name] = band(out[name], RATE, 110.0, None)
        out[name] = to_peak(out[name], -6.0) + hiss(N, -76.0, np.random.default_rng(len(name)))
    both = pan(first, -45.0) + pan(second, 45.0)
    out[CHOR] = band(to_peak(both, -6.0), RATE, 130.0, None)
    return out


def _music() -> dict[str, Array]:
    """Drums, synthesizers and the guitar, each at a peak of its own choosing."""
    rng = np.random.default_rng(705)
    bars = range(2, 10)
    kick = [(b * BAR + q * BEAT, 1.0) for b in bars for q in ((0, 1, 2, 3) if b >= 6 else (0, 2, 2.5))]
    clap = [(b * BAR + q * BEAT, 1.0) for b in bars for q in (1, 3)]
    hats = [(b * BAR + e * BEAT / 2, (1.0, 0.55)[e % 2]) for b in bars for e in range(8)]
    shake = [(b * BAR + e * BEAT / 4, (0.6, 0.3, 0.45, 0.3)[e % 4]) for b in range(6, 10) for e in range(16)]
    crash = pattern("crash", [(6 * BAR, 1.0), (10 * BAR, 0.9)], N, RATE)
    t = np.arange(N) / RATE
    swell = np.clip((t - 5 * BAR) / BAR, 0, 1) ** 2 * (t < 6 * BAR - 0.02) * np.clip((6 * BAR - 0.02 - t) / 0.02, 0, 1)
    rise = band(rng.standard_normal(N), RATE, 1500.0, 9000.0) * swell
    beats = [at for at, _ in kick]
    short_l, short_r = (tail(RATE, np.random.default_rng(s), 0.5) for s in (71, 72))
    snap = pattern("clap", clap, N, RATE)
    claps = legs(snap) + 0.5 * wet(snap, short_l, short_r, RATE)
    hat = pan(pattern("hat", hats, N, RATE), 18.0) + pan(pattern("shake", shake, N, RATE), -35.0)
    bass: list[Note] = []
    for b in range(2, 11):
        steps = ((0, 0.9), (1.5, 0.45), (2, 0.9), (3.5, 0.4)) if b < 10 else ((0, 3.0),)
        for q, d in steps:
            bass.append((b * BAR + q * BEAT, d * BEAT, ROOTS[_chord(b)], 0.9 if q in (0, 2) else 0.7))
    low = synth(bass, N, RATE, rng, voices=2, cents=2.0, wide=0.0, tilt=1.4, open_s=0.12, fall=0.05).mean(axis=1)
    pads = [(b * BAR, BAR - 0.05, m, 0.7) for b in range(11) for m in CHORDS[_chord(b)]]
    pad = synth(pads, N, RATE, rng, voices=5, cents=14.0, rise=0.25, fall=0.6, tilt=1.7, wide=60.0)
    pad *= duck(N, RATE, beats)[:, None]
    arp: list[Note] = []
    for b in [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]:
        tones = [m + 12 for m in CHORDS[_chord(b)]] + [CHORDS[_chord(b)][0] + 24]
        arp += [(b * BAR + e * BEAT / 4, 0.1, tones[(0, 2, 1, 3)[e % 4]], 0.5 + 0.3 * (e % 4 == 0)) for e in range(16)]
    arps = synth(arp, N, RATE, rng, voices=2, cents=6.0, life=0.13, fall=0.12, tilt=1.3, wide=45.0)
    tune = [(0, 0, 1.5, 76), (0, 1.5, 0.5, 74), (0, 2, 2, 72), (1, 0, 1.5, 69), (1, 1.5, 0.5, 72), (1, 2, 1.8, 77)]
    tune += [(6, 2.5, 1.4, 84), (7, 2.5, 1.4, 81), (8, 2.5, 1.4, 79), (9, 2.5, 1.4, 83), (10, 0, 3.0, 81)]
    melody = [((b * 4 + q) * BEAT, d * BEAT, m, 0.8) for b, q, d, m in tune]
    lead = synth(melody, N, RATE, rng, voices=3, cents=7.0, rise=0.02, fall=0.25, tilt=1.45, wide=55.0)
    shapes = (
        (None, 45, 52, 57, 60, 64),
        (41, 48, 53, 57, 60, 65),
        (None, 48, 52, 55, 60, 64),
        (43, 47, 50, 55, 59, 67),
    )
    notes = strum([shapes[_chord(b)] for b in range(4, 10)], "D-du-udu", BEAT, rng, begin=4 * BAR)
    notes += strum([shapes[0]], "D-------", BEAT, rng, begin=10 * BAR)
    wood = through(play(notes, N, RATE, rng, lambda f, s, v: pluck(f, s, RATE, rng, vel=v, cut=6500.0)), box(RATE, rng))
    wood = band(wood, RATE, 120.0, None)
    air = 0.22 * wet(wood, short_r, short_l, RATE)
    return {
        KICK: legs(to_peak(pattern("kick", kick, N, RATE), -4.0)),
        CLAP: to_peak(claps, -6.0),
        HATS: to_peak(hat, -15.0),
        FX: to_peak(pan(crash, -10.0) + 0.4 * pan(rise, 10.0), -13.0),
        BASS: legs(to_peak(low, -8.0)),
        PAD: to_peak(pad, -15.0),
        ARP: to_peak(arps, -15.0),
        LEAD: to_peak(lead, -13.0),
        GIT: to_peak(pan(wood, 28.0) + air, -5.5) + hiss(N, -80.0, rng)[:, None],
    }


def make(folder: Path) -> None:
    """The stems and the print of the mix."""
    stems = _music()
    voices = _voices()
    main, left, right, chor = voices[VOX], voices[DUB_L], voices[DUB_R], voices[CHOR]
    stems[VOX] = legs(main)
    stems[DUB_L], stems[DUB_R] = db(-6.0) * pan(left, -70.0), db(-6.0) * pan(right, 70.0)
    stems[CHOR] = db(-5.0) * chor
    sent = main + 0.4 * left + 0.4 * right + 0.6 * chor.mean(axis=1)
    big_l, big_r = (tail(RATE, np.random.default_rng(s), 1.9, wait=0.03) for s in (73, 74))
    stems[VERB] = 0.2 * wet(sent, big_l, big_r, RATE, 220.0, 8000.0)
    stems[DLY] = 0.28 * echoes(main, RATE, 0.75 * BEAT, 0.5, 6)
    sums = np.sum(list(stems.values()), axis=0)
    trim = db(-3.0) / float(np.max(np.abs(sums)))
    mix = np.zeros((N, 2))
    for name, x in stems.items():
        stem = edges(x * trim, RATE, 0.005, 0.5)
        save(folder / name, stem, RATE)
        mix += stem
    save(folder / MIX, mix, RATE)


ACCEPTED: list[dict[str, Any]] = [
    {"names": [DUB_L, DUB_R], "why": "two takes of the same words, a few hundredths apart, each leaning to its side"},
    {"names": [CHOR, HATS, FX, LEAD, GIT], "why": "silent for bars on end: the part rests there"},
    {"names": [BASS, KICK, VOX], "why": "two equal legs: a part of one leg printed as stereo, as every stem here"},
    {"names": [MIX], "why": "not mastered: peaks at -3 dBFS, nothing on the bus"},
]


def _pad(folder: Path) -> None:
    edit(folder / PAD, lambda x, r: x * np.array([1.0, -1.0]))


def _delay(folder: Path) -> None:
    voice, _ = load(folder / VOX)
    edit(folder / DLY, lambda x, r: x + 0.8 * voice)


def _mix(folder: Path) -> None:
    gone, _ = load(folder / GIT)
    edit(folder / MIX, lambda x, r: x - gone)


def _double(folder: Path) -> None:
    x, _ = load(folder / DUB_L)
    save(folder / DUB_R, x[:, ::-1], RATE)


def _bass(folder: Path) -> None:
    edit(folder / BASS, lambda x, r: late(x, 2048))


def _vox(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        top = float(np.max(np.abs(x)))
        return np.clip(x * db(11.0), -top, top) * db(-7.0)

    edit(folder / VOX, change)


def _arp(folder: Path) -> None:
    edit(folder / ARP, lambda x, r: signal.resample_poly(x, 147, 160, axis=0))


VERB_CUT = 10 * BAR + 1.75 * BEAT


def _verb(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        y = x.copy()
        y[int(VERB_CUT * rate) :] = 0.0
        return y

    edit(folder / VERB, change)


DROPS = (
    (6 * BAR + 3.02 * BEAT, 0.04),
    (7 * BAR + 2.97 * BEAT, 0.03),
    (8 * BAR + 3.3 * BEAT, 0.045),
    (9 * BAR + 2.8 * BEAT, 0.035),
    (9 * BAR + 3.4 * BEAT, 0.04),
)


def _lead(folder: Path) -> None:
    def change(x: Array, rate: int) -> Array:
        y = x.copy()
        for at, seconds in DROPS:
            y[int(at * rate) : int((at + seconds) * rate)] = 0.0
        return y

    edit(folder / LEAD, change)


def _hats(folder: Path) -> None:
    edit(folder / HATS, lambda x, r: to_peak(x, -0.01))


FAULTS: list[dict[str, Any]] = [
    fault(
        "pad-leg-flipped",
        "polarity between legs",
        [PAD],
        "hold",
        "The right leg of the pad is upside down against the left: it sounds wide and hollow, and in mono the pad "
        "falls away to the little that differs between its legs.",
        (0.0, 25.0),
        "turn the right leg over, or print the pad again without the flipped leg",
        _pad,
    ),
    fault(
        "delay-print-dry",
        "dry sound in a wet return",
        [DLY, VOX],
        "hold",
        "The delay print carries the dry lead voice at -2 dB besides its repeats: with it the voice comes up by 5 "
        "dB and cannot be balanced against its delay any more.",
        (2 * BAR, 24.0),
        "print the delay again with the mix control at wholly wet and the direct voice muted",
        _delay,
    ),
    fault(
        "mix-without-guitar",
        "print does not agree with the stems",
        [MIX, GIT],
        "hold",
        "The print of the mix was made with the acoustic guitar muted: the stems add up to the print save for stem 09.",
        (4 * BAR, 25.5),
        "print the mix again with the guitar on, or ask whether the guitar stem is meant at all",
        _mix,
    ),
    fault(
        "double-is-copy",
        "copied take",
        [DUB_L, DUB_R],
        "hold",
        "The right double is the left double once more with its sides exchanged, sample for sample: no second take,"
        " so the pair folds to one voice in the middle, 3 dB too loud, and gives no width.",
        (6 * BAR, 24.5),
        "export the second take as double R",
        _double,
    ),
    fault(
        "bass-late",
        "uncompensated latency",
        [BASS],
        "hold",
        "The bass stem lies 2048 samples (42.7 ms) late against kick and mix print, all through.",
        (2 * BAR, 25.0),
        "move it 2048 samples earlier or export with latency compensation",
        _bass,
    ),
    fault(
        "vox-flat-tops",
        "clipping in the recording",
        [VOX],
        "hold",
        "The lead voice ran 11 dB into an overload before its fader: flat tops at one and the same level on every "
        "loud vowel, though the file itself peaks well below full scale.",
        (2 * BAR, 24.0),
        "use an unclipped take or export before the overloaded stage; else repair",
        _vox,
    ),
    fault(
        "arp-wrong-rate",
        "wrong sample rate",
        [ARP],
        "hold",
        "The arpeggio was rendered at 44.1 kHz and labelled 48 kHz: it runs 8.8 % fast and 1.47 semitones sharp, "
        "and ends 2.1 s before all others.",
        (0.0, 23.9),
        "export again at 48 kHz, or convert properly from 44.1",
        _arp,
    ),
    fault(
        "reverb-cut",
        "tail cut off",
        [VERB],
        "hold",
        "The reverb print stops dead 0.08 s after the last word, in the full of its tail (about -35 dBFS), and the "
        "rest of the file is digital silence, while the song rings on for 2.5 s.",
        (VERB_CUT, 26.0),
        "print the return to the end of its tail",
        _verb,
    ),
    fault(
        "lead-dropouts",
        "dropouts",
        [LEAD],
        "hold",
        "Five holes of 30 to 45 ms of digital zero with hard edges in the middle of the held notes of the lead "
        "synth, as from a renderer that fell behind.",
        (6 * BAR + 3.0 * BEAT, 9 * BAR + 3.6 * BEAT),
        "render the stem again",
        _lead,
    ),
    fault(
        "hats-normalised",
        "level changed at export",
        [HATS],
        "hold",
        "The hats were exported with normalisation on: peak at 0.0 dBFS, 20 dB over their place in the mix, so the "
        "stems no longer give the print.",
        (2 * BAR, 10 * BAR),
        "export without normalisation, or bring it down to agree with the print",
        _hats,
    ),
]
