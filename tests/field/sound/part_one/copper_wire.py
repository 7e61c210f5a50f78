"""Copper Wire: stems of an electric band for delivery, with the print of the mix and of the vocal plate."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

# isort: split
from tests.field.sound import sounds_by_a as s

KIND = "stems"
RATE = 44_100
BEAT = 60.0 / 118.0
LENGTH = 25.0
SEED = 9203
N = int(LENGTH * RATE)

STEMS = ("Drums", "Bass", "Gtr A", "Gtr B", "EPiano", "Tamb", "Lead Vox", "BVs", "Vox Plate Print")
MIX = "MIX v3"

BARS = (40.0, 43.0, 40.0, 48.0, 43.0, 50.0, 40.0, 48.0, 43.0, 50.0, 40.0)

VERSE: tuple[s.Sung, ...] = (
    (8.0, 0.9, 59, "a", "k", 0.66),
    (9.0, 0.45, 62, "o", "t", 0.66),
    (9.5, 0.45, 64, "e", "n", 0.70),
    (10.0, 1.6, 64, "i", "l", 0.70),
    (12.5, 0.45, 64, "a", "s", 0.68),
    (13.0, 0.9, 67, "e", "m", 0.74),
    (14.0, 1.5, 64, "o", "t", 0.70),
    (16.5, 0.45, 62, "u", "h", 0.66),
    (17.0, 0.9, 67, "a", "f", 0.74),
    (18.0, 0.9, 67, "i", "l", 0.74),
    (19.0, 1.6, 66, "e", "k", 0.74),
    (21.5, 0.45, 66, "a", "", 0.72),
    (22.0, 1.7, 69, "a", "n", 0.82),
)
HOOK: tuple[s.Sung, ...] = (
    (24.0, 1.4, 71, "o", "h", 0.96),
    (25.5, 0.5, 69, "a", "t", 0.92),
    (26.0, 1.4, 67, "e", "k", 0.94),
    (28.0, 0.9, 67, "a", "s", 0.92),
    (29.0, 0.5, 69, "i", "m", 0.92),
    (29.5, 1.9, 72, "a", "", 0.98),
    (32.0, 1.4, 71, "o", "h", 0.96),
    (33.5, 0.5, 69, "a", "t", 0.92),
    (34.0, 1.4, 67, "e", "k", 0.94),
    (36.0, 0.9, 66, "u", "l", 0.92),
    (37.0, 0.5, 69, "a", "f", 0.94),
    (37.5, 1.9, 69, "o", "n", 0.96),
    (40.0, 3.6, 71, "a", "h", 0.98),
)

ACCEPTED: list[dict[str, Any]] = [
    {"names": ["Copper Wire - BVs.flac"], "why": "the backing vocals sing in the chorus only"},
    {"names": ["Copper Wire - Tamb.flac"], "why": "the tambourine plays from the chorus on"},
    {
        "names": ["Copper Wire - Gtr A.flac", "Copper Wire - Gtr B.flac"],
        "why": "stems carry their pan, so each guitar leans to its side on purpose",
    },
]


def _path(folder: Path, part: str) -> Path:
    """The file of a part."""
    return folder / f"Copper Wire - {part}.flac"


def _timed(line: tuple[s.Sung, ...]) -> list[s.Sung]:
    """Beats to seconds."""
    return [(b * BEAT, d * BEAT, m, v, c, f) for b, d, m, v, c, f in line]


def _both(x: s.Array, left: float = 0.0) -> s.Array:
    """One leg placed on two."""
    return s.pan(x, left)


def _drums() -> s.Array:
    """Kit under four close microphones, overheads and a room, mixed to two legs."""
    rng = np.random.default_rng(SEED + 1)
    hits: list[s.Hit] = []
    for bar in range(10):
        at = 4 * BEAT * bar
        hits += [(at, "kick", 0.95), (at + 1.5 * BEAT, "kick", 0.8), (at + 2 * BEAT, "kick", 0.85)]
        hits += [(at + BEAT, "snare", 0.9), (at + 3 * BEAT, "snare", 0.92)]
        cymbal = "ride" if bar >= 6 else "hat"
        hits += [(at + 0.5 * BEAT * i, cymbal, 0.8 if i % 2 == 0 else 0.55) for i in range(7)]
        hits.append((at + 3.5 * BEAT, "open" if bar < 6 else "ride", 0.6))
        if bar in (0, 2, 6, 8):
            hits.append((at, "crash", 0.85))
        if bar in (5, 9):
            hits += [(at + (3.0 + 0.25 * i) * BEAT, "rack" if i < 2 else "floor", 0.75) for i in range(4)]
    hits += [(40 * BEAT, "kick", 1.0), (40 * BEAT, "crash", 0.95)]
    pieces = s.kit(hits, N, RATE, rng, 3.0)
    kick = s.microphone(pieces, {"kick": 0.15, "snare": 0.8, "floor": 0.7}, RATE, "kick", 0.15)
    snare = s.microphone(pieces, {"snare": 0.13, "hat": 0.45, "kick": 0.8, "rack": 0.4}, RATE, "snare", 0.15)
    rack = s.microphone(pieces, {"rack": 0.15, "snare": 0.4, "crash": 0.7}, RATE, "rack", 0.12)
    floor = s.microphone(pieces, {"floor": 0.15, "kick": 0.6, "ride": 0.7}, RATE, "floor", 0.12)
    near = {"hat": 0.8, "crash": 0.75, "snare": 1.0, "kick": 1.4, "rack": 0.95, "floor": 1.35, "ride": 1.4}
    far = {"hat": 1.4, "crash": 1.3, "snare": 1.0, "kick": 1.4, "rack": 1.1, "floor": 0.9, "ride": 0.8}
    over = np.stack([s.microphone(pieces, near, RATE), s.microphone(pieces, far, RATE)], axis=1)
    air = over.mean(axis=1)
    room = np.stack([s.through(air, s.tail(RATE, rng, 0.7, early=12, wait=0.008)) for _ in range(2)], axis=1)
    close = 0.55 * _both(kick) + 0.42 * _both(snare) + 0.4 * _both(rack, -25.0) + 0.4 * _both(floor, 40.0)
    x = close + 0.75 * over + 0.3 * room
    return s.to_peak(s.band(np.tanh(0.9 * x / float(np.max(np.abs(x)))), RATE, 22.0, None), -7.5) + _hiss(-82.0, rng)


def _hiss(level: float, rng: np.random.Generator) -> s.Array:
    """Noise of two legs."""
    return np.stack([s.hiss(N, level, rng), s.hiss(N, level, rng)], axis=1)


def _bass() -> s.Array:
    """A picked bass through a small amplifier and direct."""
    rng = np.random.default_rng(SEED + 2)
    notes: list[s.Note] = []
    for bar in range(10):
        root = BARS[bar] - (12.0 if BARS[bar] < 45 else 24.0)
        for i in range(8):
            if bar < 1 or (i == 7 and bar < 6):
                continue
            high = 12.0 if i == 6 and bar % 2 else 0.0
            notes.append(((4 * bar + 0.5 * i) * BEAT, 0.46 * BEAT, root + high, 0.75 if i % 2 == 0 else 0.62))
    notes.append((40 * BEAT, 3.2, 28.0, 0.9))

    def tone(f0: float, seconds: float, vel: float) -> s.Array:
        """A wound bass string under a pick."""
        return s.pluck(f0, seconds, RATE, rng, vel=vel, cut=1300.0, place=0.12, t60=4.5, stiff=1.2e-4, nail=0.05)

    x = s.play(s.human(notes, rng, 4.0), N, RATE, rng, tone)
    x = s.band(x, RATE, 32.0, None)
    x = x / float(np.max(np.abs(x))) + 0.7 * s.amplifier(x, RATE, 2.2, 60.0, 3500.0)
    return _both(s.to_peak(x, -8.0) + s.hiss(N, -82.0, rng))


def _guitar(seed: int, drive: float, tone: float, pan: float, peak: float) -> s.Array:
    """A driven electric guitar in front of one loudspeaker."""
    rng = np.random.default_rng(seed)
    chords = [(b, b + 7.0, b + 12.0, b + 16.0 if b in (43.0, 48.0, 50.0) else None, None, None) for b in BARS]
    rows = ["D-DdD.dD", "D-dUD-dD", "D-D-D.dD", "D-dUDUD."]
    notes = s.human(s.strum(chords, [rows[i % 4] for i in range(10)] + ["D-------"], BEAT, rng, 0.015), rng, 1.5)

    def string(f0: float, seconds: float, vel: float) -> s.Array:
        """A string over a bridge pick-up."""
        return s.pluck(f0, seconds, RATE, rng, vel=vel, cut=tone, place=0.1, t60=6.0, stiff=4e-5, nail=0.02)

    x = s.amplifier(s.play(notes, N, RATE, rng, string), RATE, drive, 90.0, 4400.0 + 0.3 * tone)
    x += 0.12 * s.through(x, s.tail(RATE, rng, 0.25, early=6, wait=0.003))
    return s.to_peak(s.pan(x, pan), peak) + _hiss(-79.0, rng)


def _piano() -> s.Array:
    """An electric piano with a slow tremolo from side to side."""
    rng = np.random.default_rng(SEED + 5)
    chords = {40.0: (52, 59, 64, 67), 43.0: (55, 59, 62, 67), 48.0: (52, 55, 60, 64), 50.0: (54, 57, 62, 66)}
    x = np.zeros(N)
    for bar in range(2, 11):
        for beat, length, vel in ((0.0, 1.3, 0.7), (1.5, 0.9, 0.5), (2.5, 1.3, 0.6))[: 1 if bar == 10 else 3]:
            for tone in chords[BARS[bar]]:
                at = (4 * bar + beat) * BEAT + abs(0.006 * rng.standard_normal())
                m = int((3.2 if bar == 10 else length * BEAT) * RATE)
                k = np.array([1.0, 2.0, 3.0, 4.01, 6.8, 14.2])
                amp = np.array([1.0, 0.5 * vel, 0.3 * vel, 0.16, 0.14 * vel, 0.06 * vel]) * rng.uniform(0.9, 1.1, 6)
                life = np.array([3.0, 2.2, 1.6, 1.1, 0.4, 0.15])
                y = s.ring(s.hz(tone) * k, amp, life, rng.uniform(0, 6.28, 6), m, RATE)
                y[:60] *= np.linspace(0, 1, 60)
                y[-900:] *= np.linspace(1, 0, 900)
                s.lay(x, vel * y, int(at * RATE))
    t = np.arange(N) / RATE
    sway = 0.28 * np.sin(2 * np.pi * 4.6 * t)
    x = s.band(np.tanh(1.2 * x / float(np.max(np.abs(x)))), RATE, 90.0, 8000.0, 1)
    two = np.stack([x * (1.0 + sway), x * (1.0 - sway)], axis=1)
    return s.to_peak(two, -15.0) + _hiss(-84.0, rng)


def _tambourine() -> s.Array:
    """A shaken tambourine, a little to the right."""
    rng = np.random.default_rng(SEED + 6)
    x = np.zeros(N)
    for step in range(64):
        at = (24 + 0.25 * step) * BEAT + 0.004 * rng.standard_normal()
        m = int(0.16 * RATE)
        vel = (0.9, 0.3, 0.5, 0.35)[step % 4] * rng.uniform(0.85, 1.1)
        y = 0.5 * s.band(rng.standard_normal(m), RATE, 6500.0, 15000.0) * np.exp(-np.arange(m) / (0.022 * RATE))
        freq = rng.uniform(5200.0, 12500.0, 18)
        y += 0.12 * s.ring(freq, rng.uniform(0.3, 1, 18), rng.uniform(0.08, 0.2, 18), freq, m, RATE)
        y[:80] *= np.linspace(0, 1, 80)
        s.lay(x, vel * y * np.linspace(1, 0, m), int(at * RATE))
    return s.to_peak(s.pan(x, 35.0), -17.0) + _hiss(-86.0, rng)


def _voices() -> tuple[s.Array, s.Array]:
    """The lead, and three backing voices from left to right."""
    rng = np.random.default_rng(SEED + 7)
    lead = s.band(s.sing(_timed(VERSE + HOOK), N, RATE, rng, tract=0.95, breath=0.05), RATE, 80.0, None)
    lead = s.band(lead, RATE, None, 15000.0, 1)
    back = np.zeros((N, 2))
    for up, pan, tract in ((-4.0, -55.0, 0.97), (3.0, 5.0, 1.08), (-9.0, 55.0, 0.94)):
        line = s.doubled(_timed(HOOK), rng, 14.0, up)
        back += s.pan(s.sing(line, N, RATE, rng, tract=tract, breath=0.1, wave=rng.uniform(4.9, 5.7)), pan)
    back = s.band(back, RATE, 130.0, None)
    return _both(s.to_peak(lead, -6.5) + s.hiss(N, -82.0, rng)), s.to_peak(back, -14.0) + _hiss(-84.0, rng)


def _plate(lead: s.Array, back: s.Array) -> s.Array:
    """The return of the plate to which all voices go."""
    rng = np.random.default_rng(SEED + 8)
    left, right = (s.tail(RATE, rng, 2.1, dark=0.55, wait=0.03) for _ in range(2))
    return s.wet((lead + 0.8 * back).mean(axis=1), left, right, RATE, 200.0, 8500.0) * s.db(-16.0)


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    lead, back = _voices()
    parts = {
        "Drums": _drums(),
        "Bass": _bass(),
        "Gtr A": _guitar(SEED + 3, 5.0, 3200.0, -80.0, -13.5),
        "Gtr B": _guitar(SEED + 4, 4.0, 2500.0, 80.0, -13.5),
        "EPiano": _piano(),
        "Tamb": _tambourine(),
        "Lead Vox": lead,
        "BVs": back,
    }
    parts = {name: s.edges(x, RATE, 0.005, 0.4) for name, x in parts.items()}
    parts["Vox Plate Print"] = s.edges(_plate(parts["Lead Vox"], parts["BVs"]), RATE, 0.005, 0.4)
    for name, x in parts.items():
        s.save(_path(folder, name), x, RATE)
    s.save(_path(folder, MIX), np.sum(list(parts.values()), axis=0), RATE)


def _read(folder: Path, part: str) -> s.Array:
    """Read a part."""
    return s.load(_path(folder, part))[0]


def _write(folder: Path, part: str, x: s.Array) -> None:
    """Write a part anew."""
    s.save(_path(folder, part), x, RATE)


def _mix_without_piano(folder: Path) -> None:
    """The mix was printed while the electric piano was muted."""
    _write(folder, MIX, _read(folder, MIX) - _read(folder, "EPiano"))


def _bass_ends_early(folder: Path) -> None:
    """The bass was exported with the end mark too early."""
    _write(folder, "Bass", _read(folder, "Bass")[: int(21.4 * RATE)])


def _few_bits(folder: Path) -> None:
    """The piano went through a conversion to ten bits without dither."""
    _write(folder, "EPiano", np.round(_read(folder, "EPiano") * 512.0) / 512.0)


def _overs(folder: Path) -> None:
    """The mix was printed 5 dB too hot through a fixed-point export."""
    _write(folder, MIX, np.clip(_read(folder, MIX) * s.db(5.0), -1.0, 1.0))


def _hum(folder: Path) -> None:
    """The amplifier of the second guitar hums with the mains through the whole take."""
    t = np.arange(N) / RATE
    levels = ((50.0, -42.0), (100.0, -44.0), (150.0, -46.0), (250.0, -54.0), (350.0, -60.0), (450.0, -64.0))
    hum = np.sum([s.db(level) * np.sin(2 * np.pi * f * t + f) for f, level in levels], axis=0)
    two = s.edges(s.pan(hum, 80.0), RATE, 0.005, 0.4)
    _write(folder, "Gtr B", _read(folder, "Gtr B") + two)
    _write(folder, MIX, _read(folder, MIX) + two)


def _leg_gone(folder: Path) -> None:
    """The right leg of the piano was lost in the export."""
    x = _read(folder, "EPiano")
    x[:, 1] = 0.0
    _write(folder, "EPiano", x)


def _soft_lead(folder: Path) -> None:
    """The lead stem was exported before its last fader move of 3.5 dB."""
    _write(folder, "Lead Vox", _read(folder, "Lead Vox") * s.db(-3.5))


def _late_backing(folder: Path) -> None:
    """The backing vocals were exported without delay compensation, 42 ms late."""
    x = s.late(_read(folder, "BVs"), 0.042 * RATE)
    _write(folder, "BVs", s.edges(x, RATE, 0.005, 0.4))


def _tail_cut(folder: Path) -> None:
    """The print of the plate was stopped while it rang."""
    x = _read(folder, "Vox Plate Print")
    x[int(22.35 * RATE) :] = 0.0
    _write(folder, "Vox Plate Print", x)


def _broken(folder: Path) -> None:
    """The upload of the drums broke off: the header promises more than there is."""
    path = _path(folder, "Drums")
    data = path.read_bytes()
    path.write_bytes(data[: int(0.58 * len(data))])


FAULTS: list[dict[str, Any]] = [
    {
        "id": "mix-without-piano",
        "class": "missing in the mix",
        "names": ["Copper Wire - MIX v3.flac", "Copper Wire - EPiano.flac"],
        "grade": "hold",
        "says": "The electric piano is not in the print of the mix: stems less mix leave just its stem, from 4 s.",
        "time_s": (4.0, 25.0),
        "cure": "Print the mix again with the electric piano.",
        "plant": _mix_without_piano,
    },
    {
        "id": "bass-stem-ends-early",
        "class": "length",
        "names": ["Copper Wire - Bass.flac"],
        "grade": "hold",
        "says": "The bass stem is 21.4 s long where all others have 25 s and breaks off in the ringing last note.",
        "time_s": (21.3, 25.0),
        "cure": "Export the bass to the common end.",
        "plant": _bass_ends_early,
    },
    {
        "id": "piano-of-ten-bits",
        "class": "word length",
        "names": ["Copper Wire - EPiano.flac"],
        "grade": "hold",
        "says": "The electric piano stem holds only 10 bits in a file of 24: steps at −54 dBFS, no dither, grain in "
        "every decay and digital silence between.",
        "time_s": (4.0, 25.0),
        "cure": "Export the stem at 24 bits.",
        "plant": _few_bits,
    },
    {
        "id": "mix-clipped",
        "class": "overs",
        "names": ["Copper Wire - MIX v3.flac"],
        "grade": "hold",
        "says": "The print of the mix is clipped flat at full scale on many beats, 5 dB over the sum of the stems.",
        "time_s": (0.0, 22.0),
        "cure": "Print the mix again 6 dB lower.",
        "plant": _overs,
    },
    {
        "id": "guitar-b-hum",
        "class": "hum",
        "names": ["Copper Wire - Gtr B.flac"],
        "grade": "look",
        "says": "Guitar B hums at 50 Hz and its harmonics at about −40 dBFS through all rests and the ending.",
        "time_s": (0.0, 25.0),
        "cure": "Take the hum out with narrow notches or edit the rests.",
        "plant": _hum,
    },
    {
        "id": "piano-leg-silent",
        "class": "leg missing",
        "names": ["Copper Wire - EPiano.flac"],
        "grade": "hold",
        "says": "The right leg of the electric piano stem is digital silence; in the mix the piano has two legs.",
        "time_s": (0.0, 25.0),
        "cure": "Export the piano with both legs.",
        "plant": _leg_gone,
    },
    {
        "id": "lead-stem-softer-than-in-mix",
        "class": "stem level",
        "names": ["Copper Wire - Lead Vox.flac"],
        "grade": "hold",
        "says": "The lead stem is 3.5 dB softer than the lead in the mix, and the sum of the stems misses the mix.",
        "time_s": (4.0, 25.0),
        "cure": "Export the lead at the level of the mix.",
        "plant": _soft_lead,
    },
    {
        "id": "backing-stem-late",
        "class": "stem time",
        "names": ["Copper Wire - BVs.flac"],
        "grade": "hold",
        "says": "The backing vocals lie 42 ms later in the stem than in the mix.",
        "time_s": (12.2, 23.0),
        "cure": "Move the stem 42 ms earlier or export it again.",
        "plant": _late_backing,
    },
    {
        "id": "plate-tail-cut",
        "class": "tail cut",
        "names": ["Copper Wire - Vox Plate Print.flac"],
        "grade": "hold",
        "says": "The plate print breaks off to digital silence at 22.35 s inside its tail, which rings on in the mix.",
        "time_s": (22.3, 25.0),
        "cure": "Print the plate again until it has died away.",
        "plant": _tail_cut,
    },
    {
        "id": "drums-file-broken-off",
        "class": "damaged file",
        "names": ["Copper Wire - Drums.flac"],
        "grade": "hold",
        "says": "The file of the drums is damaged: it breaks off after about 60 % of the 25 s it promises.",
        "time_s": None,
        "cure": "Have the file sent again.",
        "plant": _broken,
    },
]
