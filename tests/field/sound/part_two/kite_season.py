"""Kite Season: stems by mail for the mix, with a rough mix and the printed returns; two guitars, piano, choir."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from scipy import ndimage, signal

# isort: split
from tests.field.sound import sounds_by_a as s

KIND = "stems"
RATE = 44_100
BEAT = 60.0 / 112.0
LENGTH = 22.5
SEED = 5180
N = int(LENGTH * RATE)

C = (None, 48.0, 52.0, 55.0, 60.0, 64.0)
AM = (None, 45.0, 52.0, 57.0, 60.0, 64.0)
F = (41.0, 48.0, 53.0, 57.0, 60.0, 65.0)
G = (43.0, 47.0, 50.0, 55.0, 59.0, 67.0)
BARS = (C, G, AM, F, C, F, C, G, C)

PARTS = (
    "01 Drums",
    "02 Bass",
    "03 AcGtr Left",
    "04 AcGtr Right",
    "05 Piano",
    "06 Shaker",
    "07 Lead Vox",
    "08 Choir",
    "09 AcGtr Left Verb",
    "10 AcGtr Right Verb",
    "11 Vox Hall",
)
MIX = "00 Rough Mix"

WORDS: tuple[s.Sung, ...] = (
    (4.0, 0.9, 67, "a", "k", 0.66),
    (5.0, 0.45, 69, "i", "t", 0.66),
    (5.5, 1.4, 71, "e", "n", 0.72),
    (8.0, 0.9, 72, "o", "s", 0.74),
    (9.0, 0.45, 71, "a", "m", 0.70),
    (9.5, 1.7, 69, "u", "t", 0.70),
    (12.5, 0.45, 69, "a", "h", 0.68),
    (13.0, 0.9, 72, "e", "f", 0.76),
    (14.0, 1.5, 69, "i", "l", 0.72),
    (16.0, 1.4, 76, "o", "h", 0.94),
    (17.5, 0.45, 74, "a", "l", 0.90),
    (18.0, 1.5, 72, "e", "k", 0.92),
    (20.5, 0.45, 72, "a", "s", 0.88),
    (21.0, 0.9, 74, "i", "t", 0.92),
    (22.0, 1.5, 69, "a", "n", 0.90),
    (24.0, 1.4, 76, "o", "h", 0.94),
    (25.5, 0.45, 74, "a", "l", 0.90),
    (26.0, 1.5, 72, "e", "k", 0.92),
    (28.0, 0.9, 71, "u", "f", 0.88),
    (29.0, 0.45, 74, "a", "t", 0.92),
    (29.5, 1.7, 71, "o", "m", 0.90),
    (32.0, 3.0, 72, "a", "h", 0.92),
)

ACCEPTED: list[dict[str, Any]] = [
    {
        "names": [f"{part}.flac" for part in PARTS[2:4] + PARTS[8:10]],
        "why": "stems carry their pan: the guitars lean to their sides, their reverbs to the opposite sides",
    },
    {"names": ["08 Choir.flac", "06 Shaker.flac"], "why": "choir and shaker enter in the chorus at 8.6 s"},
]


def _path(folder: Path, part: str) -> Path:
    """The file of a part."""
    return folder / f"{part}.flac"


def _read(folder: Path, part: str) -> s.Array:
    """Read a part."""
    return s.load(_path(folder, part))[0]


def _write(folder: Path, part: str, x: s.Array, rate: int = RATE) -> None:
    """Write a part."""
    s.save(_path(folder, part), x, rate)


def _noise(level: float, rng: np.random.Generator) -> s.Array:
    """Hiss on two legs."""
    return np.stack([s.hiss(N, level, rng), s.hiss(N, level, rng)], axis=1)


def _timed(line: tuple[s.Sung, ...]) -> list[s.Sung]:
    """Beats to seconds."""
    return [(b * BEAT, d * BEAT, m, v, c, f) for b, d, m, v, c, f in line]


def _guitar(seed: int, rows: list[str], cut: float, pan: float) -> s.Array:
    """A strummed steel-string guitar, panned."""
    rng = np.random.default_rng(seed)
    notes = s.human(s.strum(BARS, [*rows, *rows, "D-------"][:9], BEAT, rng, 0.02), rng, 2.0)

    def string(f0: float, seconds: float, vel: float) -> s.Array:
        """A new steel string."""
        return s.pluck(f0, seconds, RATE, rng, vel=vel, cut=cut, place=rng.uniform(0.12, 0.18), t60=4.6)

    x = s.through(s.play(notes, N, RATE, rng, string), s.body(RATE, rng, rng.uniform(0.94, 1.06)))
    x = s.band(x + 0.05 * s.through(x, s.tail(RATE, rng, 0.3, early=7)), RATE, 70.0, None)
    rms = float(np.sqrt(np.mean(x**2)))
    return s.pan(x * (s.db(-27.5) / rms) + s.hiss(N, -82.0, rng), pan)


def _guitar_room(guitar: s.Array, seed: int, pan: float) -> s.Array:
    """The room of one guitar, one leg wide, panned to the other side."""
    rng = np.random.default_rng(seed)
    response = s.tail(RATE, rng, 1.0, dark=0.65, wait=0.014, early=8)
    sent = s.band(s.band(guitar.sum(axis=1), RATE, 160.0, None), RATE, None, 7000.0, 1)
    wet = s.through(sent, response)
    return s.pan(wet * (s.db(-38.5) / float(np.sqrt(np.mean(wet**2)))), pan)


def _drums() -> s.Array:
    """A kit, mixed to two legs."""
    rng = np.random.default_rng(SEED + 5)
    hits: list[s.Hit] = []
    for bar in range(1, 8):
        beats: list[s.Hit] = [(0.0, "kick", 0.9), (2.5, "kick", 0.85), (1.0, "snare", 0.8), (3.0, "snare", 0.85)]
        beats += [(0.5 * i, "hat" if bar < 4 else "ride", 0.75 if i % 2 == 0 else 0.5) for i in range(8)]
        if bar == 3:
            beats += [(3.0, "rack", 0.7), (3.25, "rack", 0.7), (3.5, "floor", 0.8), (3.75, "floor", 0.8)]
        if bar in (4, 6):
            beats.append((0.0, "crash", 0.85))
        hits += [((4 * bar + b) * BEAT, piece, vel) for b, piece, vel in beats]
    hits += [(32 * BEAT, "kick", 0.9), (32 * BEAT, "crash", 0.8)]
    pieces = s.kit(hits, N, RATE, rng, 3.5)
    close = 0.5 * s.microphone(pieces, {"kick": 0.15, "snare": 0.8}, RATE, "kick", 0.15)
    close += 0.4 * s.microphone(pieces, {"snare": 0.13, "kick": 0.8, "hat": 0.5}, RATE, "snare", 0.15)
    left = {"hat": 0.85, "crash": 0.8, "snare": 1.0, "kick": 1.4, "rack": 0.9, "floor": 1.3, "ride": 1.3}
    right = {"hat": 1.3, "crash": 1.3, "snare": 1.0, "kick": 1.4, "rack": 1.1, "floor": 0.9, "ride": 0.8}
    over = np.stack([s.microphone(pieces, left, RATE), s.microphone(pieces, right, RATE)], axis=1)
    room = [s.through(over[:, leg], s.tail(RATE, rng, 0.6, early=10, wait=0.006)) for leg in range(2)]
    x = s.pan(close, 0.0) + 0.8 * over + 0.22 * np.stack(room, axis=1)
    return s.to_peak(s.band(x, RATE, 24.0, None), -6.5) + _noise(-82.0, rng)


def _bass() -> s.Array:
    """A fingered bass."""
    rng = np.random.default_rng(SEED + 6)
    notes: list[s.Note] = []
    for bar in range(1, 9):
        root = {48.0: 36.0, 45.0: 33.0, 41.0: 29.0, 43.0: 31.0}[float(BARS[bar][0] or BARS[bar][1] or 48.0)]
        if bar == 8:
            notes.append((32 * BEAT, 3.0, root, 0.85))
            continue
        plan = ((0.0, 1.4, 0.0, 0.8), (1.5, 0.9, 0.0, 0.6), (2.5, 0.9, 7.0, 0.75), (3.5, 0.4, 12.0, 0.6))
        notes += [((4 * bar + b) * BEAT, d * BEAT, root + up, vel) for b, d, up, vel in plan]

    def string(f0: float, seconds: float, vel: float) -> s.Array:
        """A round-wound string."""
        return s.pluck(f0, seconds, RATE, rng, vel=vel, cut=1100.0, place=0.17, t60=5.0, stiff=1e-4, nail=0.02)

    x = s.band(s.play(s.human(notes, rng, 5.0), N, RATE, rng, string), RATE, 28.0, None)
    return s.pan(
        s.to_peak(s.band(np.tanh(1.3 * x / np.abs(x).max()), RATE, 24.0, None), -9.0) + s.hiss(N, -84.0, rng), 0.0
    )


def _piano() -> s.Array:
    """An upright piano: three strings a note, low notes left, a hammer and a soundboard."""
    rng = np.random.default_rng(SEED + 7)
    chords = {48.0: (60, 64, 67), 45.0: (60, 64, 69), 41.0: (60, 65, 69), 43.0: (59, 62, 67)}
    x = np.zeros((N, 2))
    for bar in range(9):
        root = float(BARS[bar][0] or BARS[bar][1] or 48.0)
        plan = ((0.0, 1.9, 0.7), (2.0, 1.4, 0.55), (3.5, 0.5, 0.45)) if bar < 8 else ((0.0, 6.0, 0.7),)
        for beat, length, vel in plan:
            for tone in (root, *chords[root]):
                k = np.arange(1.0, min(24.0, 7000.0 / s.hz(tone)))
                stretched = s.hz(tone) * k * np.sqrt(1.0 + 3e-4 * k * k)
                freq = np.concatenate([stretched * (1.0 + c) for c in (-2.5e-4, 0.0, 3.1e-4)])
                amp = np.tile(np.exp(-0.28 * k * (1.3 - 0.5 * vel)) * np.abs(np.sin(np.pi * k / 8.2)), 3)
                life = np.tile(6.0 / (1.0 + 0.35 * k), 3) * (60.0 / tone) ** 2
                m = int(length * BEAT * RATE)
                y = s.ring(freq, amp, life, rng.uniform(0, 6.28, len(freq)), m, RATE)
                y[:90] *= np.linspace(0, 1, 90)
                y[-2600:] *= np.linspace(1, 0, min(2600, m)) ** 2
                y[:900] += 0.05 * s.band(rng.standard_normal(900), RATE, 200.0, 1800.0, 1) * np.linspace(1, 0, 900)
                side = 0.35 * (tone - 58.0) / 12.0
                at = int(((4 * bar + beat) * BEAT + abs(0.007 * rng.standard_normal())) * RATE)
                for leg, gain in ((0, 1.0 - side), (1, 1.0 + side)):
                    s.lay(x[:, leg], 0.3 * vel * gain * y, at + int(12 * max(side if leg == 0 else -side, 0.0)))
    board = [s.tail(RATE, rng, 0.5, dark=0.8, early=8) for _ in range(2)]
    x += 0.2 * np.stack([s.through(x[:, leg], board[leg]) for leg in range(2)], axis=1)
    return s.to_peak(s.band(x, RATE, 35.0, None), -14.0) + _noise(-82.0, rng)


def _shaker() -> s.Array:
    """A shaker in the chorus."""
    rng = np.random.default_rng(SEED + 8)
    x = np.zeros(N)
    for i in range(64):
        m = int(0.1 * RATE)
        y = s.band(rng.standard_normal(m), RATE, 4200.0, 13500.0) * np.hanning(m) ** 1.5
        at = (16 + 0.25 * i) * BEAT - 0.04 + 0.004 * rng.standard_normal()
        s.lay(x, (1.0, 0.4, 0.65, 0.45)[i % 4] * rng.uniform(0.85, 1.1) * y, int(at * RATE))
    return s.pan(s.to_peak(x, -19.0) + s.hiss(N, -84.0, rng), -20.0)


def _lead(seed: int, ms: float) -> s.Array:
    """One take of the lead."""
    rng = np.random.default_rng(seed)
    line = _timed(WORDS)
    line = s.doubled(line, rng, ms) if ms else line
    x = s.sing(line, N, RATE, rng, tract=1.12, breath=0.08, wave=5.5 if not ms else 5.1)
    return s.pan(s.to_peak(s.band(x, RATE, 90.0, None), -5.5) + s.hiss(N, -83.0, rng), 0.0)


def _choir() -> s.Array:
    """Four voices in the chorus."""
    rng = np.random.default_rng(SEED + 10)
    x = np.zeros((N, 2))
    for up, pan, tract in ((-5.0, -60.0, 0.97), (-9.0, 60.0, 0.93), (-12.0, -20.0, 0.92), (3.0, 25.0, 1.15)):
        line = s.doubled(_timed(WORDS[9:]), rng, 16.0, up)
        x += s.pan(s.sing(line, N, RATE, rng, tract=tract, breath=0.1, wave=rng.uniform(4.9, 5.8)), pan)
    x = s.band(x, RATE, 120.0, None)
    x /= np.sqrt(np.mean(x**2, axis=0))
    return s.to_peak(x, -13.5) + _noise(-84.0, rng)


def _hall(lead: s.Array, choir: s.Array) -> s.Array:
    """The hall of the voices."""
    rng = np.random.default_rng(SEED + 11)
    left, right = (s.tail(RATE, rng, 1.9, dark=0.55, wait=0.025) for _ in range(2))
    x = s.wet((lead + 0.7 * choir).sum(axis=1), left, right, RATE, 200.0, 8000.0)
    return x / np.sqrt(np.mean(x**2, axis=0)) * s.db(-34.0)


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    left = _guitar(SEED + 1, ["D-du-uDu", "D-dU-udu", "D-Du-uDU", "D-duDudu"], 3100.0, -85.0)
    right = _guitar(SEED + 2, ["D-dU-uDu", "D-du-uDu", "D-dU-uDu", "D-Dudu-u"], 2500.0, 85.0)
    parts = [_drums(), _bass(), left, right, _piano(), _shaker(), _lead(SEED + 9, 0.0), _choir()]
    parts = [s.edges(x, RATE, 0.005, 0.3) for x in parts]
    parts += [
        _guitar_room(parts[2], SEED + 21, 85.0),
        _guitar_room(parts[3], SEED + 22, -85.0),
        _hall(parts[6], parts[7]),
    ]
    parts = parts[:8] + [s.edges(x, RATE, 0.005, 0.3) for x in parts[8:]]
    for name, x in zip(PARTS, parts, strict=True):
        _write(folder, name, x)
    _write(folder, MIX, np.sum(parts, axis=0))


def _mix_head_cut(folder: Path) -> None:
    """The rough mix was bounced from a mark 0.35 s too late."""
    x = _read(folder, MIX)
    k = int(0.35 * RATE)
    _write(folder, MIX, np.concatenate([x[k:], np.zeros((k, 2))]))


def _other_take(folder: Path) -> None:
    """The lead in the folder is another take than the one in the mix."""
    _write(folder, "07 Lead Vox", s.edges(_lead(SEED + 60, 22.0), RATE, 0.005, 0.3))


def _bass_turned(folder: Path) -> None:
    """The bass was exported through a polarity switch."""
    _write(folder, "02 Bass", -_read(folder, "02 Bass"))


def _empty_shaker(folder: Path) -> None:
    """The shaker was muted while the stems were exported."""
    _write(folder, "06 Shaker", 0.0 * _read(folder, "06 Shaker"))


def _through_bus(folder: Path) -> None:
    """The piano was exported through the compressor of the mix, which the drums were driving."""
    mix = _read(folder, MIX)
    power = np.mean(mix**2, axis=1)
    slow = np.exp(-1.0 / (0.11 * RATE))
    level = np.sqrt(signal.lfilter([1 - slow], [1.0, -slow], ndimage.maximum_filter1d(power, 220)))
    over = np.maximum(20.0 * np.log10(level + 1e-6) + 17.0, 0.0)
    gain = 10.0 ** (-0.75 * over / 20.0)
    _write(folder, "05 Piano", _read(folder, "05 Piano") * gain[:, None])


def _choir_at_48(folder: Path) -> None:
    """The choir was exported at another rate than everything else."""
    x = signal.resample_poly(_read(folder, "08 Choir"), 160, 147, axis=0)
    _write(folder, "08 Choir", np.asarray(x), 48_000)


def _lead_in_choir(folder: Path) -> None:
    """The lead was not muted while the choir was exported."""
    _write(folder, "08 Choir", _read(folder, "08 Choir") + _read(folder, "07 Lead Vox"))


def _guitar_in_centre(folder: Path) -> None:
    """The left guitar was exported before its pan."""
    x = _read(folder, "03 AcGtr Left")
    one = x[:, 0] / np.cos((-0.85 + 1.0) * np.pi / 4.0)
    _write(folder, "03 AcGtr Left", s.pan(one, 0.0))


def _talking(folder: Path) -> None:
    """The singer talks after the last note, and nobody cut it."""
    rng = np.random.default_rng(SEED + 61)
    line: list[s.Sung] = []
    for i, (vowel, sound) in enumerate((("o", "k"), ("e", ""), ("a", "t"), ("i", "s"), ("u", "m"), ("e", "n"))):
        line.append((20.25 + 0.24 * i, 0.17, 56.0 - 0.8 * i + (2.0 if i == 2 else 0.0), vowel, sound, 0.6))
    talk = s.band(s.sing(line, N, RATE, rng, tract=1.12, breath=0.12, wave=0.3), RATE, 90.0, None)
    _write(folder, "07 Lead Vox", _read(folder, "07 Lead Vox") + s.pan(s.to_peak(talk, -16.0), 0.0))


def _lost_beat(folder: Path) -> None:
    """An eighth was cut out of the right guitar: all that follows comes early."""
    x = _read(folder, "04 AcGtr Right")
    a, k = int(20.0 * BEAT * RATE), int(0.5 * BEAT * RATE)
    rng = np.random.default_rng(7)
    m = 400
    ramp = np.linspace(0.0, 1.0, m)[:, None]
    join = x[a - m : a] * (1.0 - ramp) + x[a + k - m : a + k] * ramp
    rest = s.pan(s.hiss(k, -82.0, rng), 85.0)
    _write(folder, "04 AcGtr Right", np.concatenate([x[: a - m], join, x[a + k :], rest]))


FAULTS: list[dict[str, Any]] = [
    {
        "id": "rough-mix-starts-late",
        "class": "mix offset",
        "names": ["00 Rough Mix.flac"],
        "grade": "hold",
        "says": "The rough mix lacks its first 0.35 s: it begins inside the first chord, 350 ms ahead of all stems.",
        "time_s": (0.0, 22.5),
        "cure": "Bounce the mix again from the common start.",
        "plant": _mix_head_cut,
    },
    {
        "id": "lead-of-another-take",
        "class": "wrong version",
        "names": ["07 Lead Vox.flac"],
        "grade": "hold",
        "says": "The lead stem is another take than the one in the mix and the hall print: it nowhere cancels.",
        "time_s": (2.1, 19.0),
        "cure": "Ask for the take of the mix.",
        "plant": _other_take,
    },
    {
        "id": "bass-stem-inverted",
        "class": "stem polarity",
        "names": ["02 Bass.flac"],
        "grade": "hold",
        "says": "The bass stem has the opposite polarity of the bass in the mix: the stems do not add up to the mix.",
        "time_s": (2.1, 22.0),
        "cure": "Turn the polarity of the stem.",
        "plant": _bass_turned,
    },
    {
        "id": "shaker-stem-empty",
        "class": "silent stem",
        "names": ["06 Shaker.flac"],
        "grade": "hold",
        "says": "The shaker stem is digital silence, though the mix has a shaker from 8.5 s on.",
        "time_s": None,
        "cure": "Export the shaker again unmuted.",
        "plant": _empty_shaker,
    },
    {
        "id": "piano-through-mix-compressor",
        "class": "pumping stem",
        "names": ["05 Piano.flac"],
        "grade": "hold",
        "says": "The piano stem pumps with the whole band by several dB in the chorus, as if exported through the mix "
        "bus compressor; in the mix it does not.",
        "time_s": (8.0, 19.0),
        "cure": "Export the piano without the processing of the mix bus.",
        "plant": _through_bus,
    },
    {
        "id": "choir-at-48k",
        "class": "sample rate",
        "names": ["08 Choir.flac"],
        "grade": "hold",
        "says": "The choir stem is a file of 48 kHz where all others have 44.1 kHz.",
        "time_s": None,
        "cure": "Export the choir at 44.1 kHz.",
        "plant": _choir_at_48,
    },
    {
        "id": "lead-also-in-choir",
        "class": "part in two stems",
        "names": ["08 Choir.flac"],
        "grade": "hold",
        "says": "The choir stem holds the lead as well, from 2.1 s where the choir does not sing yet: the sum of the "
        "stems has the lead twice.",
        "time_s": (2.1, 20.0),
        "cure": "Export the choir with the lead muted.",
        "plant": _lead_in_choir,
    },
    {
        "id": "left-guitar-in-centre",
        "class": "pan lost",
        "names": ["03 AcGtr Left.flac"],
        "grade": "hold",
        "says": "The left guitar stem stands in the centre with equal legs; in the mix it is almost wholly left.",
        "time_s": (0.0, 21.0),
        "cure": "Export the guitar after its pan.",
        "plant": _guitar_in_centre,
    },
    {
        "id": "talk-after-the-end",
        "class": "left-over sound",
        "names": ["07 Lead Vox.flac"],
        "grade": "hold",
        "says": "Somebody talks on the lead stem from 20.2 to 21.8 s, after the last note; the mix does not have it.",
        "time_s": (20.2, 21.9),
        "cure": "Mute the lead after its last note.",
        "plant": _talking,
    },
    {
        "id": "right-guitar-loses-an-eighth",
        "class": "lost time in a stem",
        "names": ["04 AcGtr Right.flac"],
        "grade": "hold",
        "says": "At 10.7 s an eighth is missing in the right guitar stem: from there on it is 268 ms ahead.",
        "time_s": (10.6, 22.0),
        "cure": "Export the guitar again, or put the eighth back.",
        "plant": _lost_beat,
    },
]
