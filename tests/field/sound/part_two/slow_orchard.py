"""Slow Orchard: two picked guitars with crossed springs, two singers, bass on two lines, a box drum and its room."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from scipy import signal

# isort: split
from tests.field.sound import sounds_by_a as s

KIND = "session"
RATE = 44_100
BEAT = 60.0 / 84.0
LENGTH = 29.0
SEED = 6620
N = int(LENGTH * RATE)

A = (45.0, 52.0, 57.0, 61.0, 64.0)
FM = (42.0, 54.0, 57.0, 61.0, 66.0)
D = (50.0, 57.0, 62.0, 66.0, 69.0)
E = (40.0, 52.0, 56.0, 59.0, 64.0)
BM = (47.0, 54.0, 59.0, 62.0, 66.0)
CHORDS = (A, FM, D, E, BM, D, A, E, A)

WORDS: tuple[s.Sung, ...] = (
    (4.0, 1.4, 64, "a", "m", 0.60),
    (5.5, 0.4, 66, "o", "n", 0.58),
    (6.0, 1.4, 69, "e", "t", 0.66),
    (8.5, 0.4, 69, "i", "s", 0.60),
    (9.0, 0.9, 66, "a", "l", 0.64),
    (10.0, 1.6, 64, "o", "k", 0.62),
    (12.5, 0.4, 64, "u", "h", 0.58),
    (13.0, 0.9, 68, "e", "f", 0.68),
    (14.0, 1.5, 71, "a", "t", 0.74),
    (24.0, 0.9, 69, "i", "s", 0.76),
    (25.0, 0.4, 71, "a", "t", 0.80),
    (25.5, 2.0, 69, "o", "h", 0.82),
    (28.5, 0.4, 68, "e", "n", 0.74),
    (29.0, 0.9, 71, "a", "m", 0.80),
    (30.0, 1.5, 68, "u", "l", 0.76),
    (32.0, 2.8, 69, "a", "h", 0.74),
)
BRIDGE: tuple[s.Sung, ...] = (
    (16.5, 0.4, 66, "a", "k", 0.80),
    (17.0, 0.9, 69, "o", "t", 0.84),
    (18.0, 1.5, 74, "a", "", 0.90),
    (20.5, 0.4, 74, "e", "s", 0.84),
    (21.0, 0.9, 73, "i", "l", 0.86),
    (22.0, 1.5, 69, "a", "n", 0.84),
)

ACCEPTED: list[dict[str, Any]] = [
    {"names": ["Hall"], "why": "the live return is muted on purpose: its print plays on the track named for it"},
    {
        "names": ["Gtr L Spring", "Gtr R Spring", "Gtr L Mic", "Gtr R Mic"],
        "why": "the springs are printed on their own return channels; the sends to them are switched off since",
    },
    {"names": ["Vox Harmony", "vox_harmony.flac"], "why": "sings from the bridge on only"},
    {"names": ["Perc Room"], "why": "a room pair at 2.5 m: later than the box drum's own microphone by 7 ms"},
]


def _guitar(seed: int, side: int, cents: float = 0.0) -> tuple[s.Array, s.Array]:
    """A picked guitar: the microphone at 35 cm, and the pick-up."""
    rng = np.random.default_rng(seed)
    rows = (
        ([0, 3, 2, 4, 1, 3, 2, 4], [0, 2, 4, 3, 1, 4, 2, 3])
        if side
        else ([0, 2, 3, 4, 1, 2, 3, 4], [0, 4, 2, 3, 1, 3, 4, 2])
    )
    notes: list[s.Note] = []
    for bar, chord in enumerate(CHORDS):
        for i, place in enumerate(rows[bar % 2]):
            if bar == 8 and i > 4:
                break
            at = 0.03 + (4 * bar + 0.5 * i) * BEAT
            tone = chord[place] + (12.0 if side and place == 0 and chord[0] < 43 else 0.0)
            rest = 3.2 if bar == 8 else rng.uniform(1.2, 2.1) * BEAT
            notes.append((at, rest, tone, (0.75 if place == 0 else 0.6) * rng.uniform(0.85, 1.1)))
            if i in (0, 4) and bar != 8:
                notes.append((at + 0.004, rest, chord[4], 0.5))
    x, up = np.zeros(N), 2.0 ** (cents / 1200.0)
    for at, length, midi, vel in s.human(notes, rng, 6.0):
        string = s.pluck(s.hz(midi) * up, length, RATE, rng, vel=vel, cut=(2600.0, 3100.0)[side], t60=4.0, nail=0.08)
        s.lay(x, string, int(at * RATE))
    air = s.late(s.through(x, s.body(RATE, rng, (1.0, 0.96)[side])), 0.35 / s.SPEED * RATE)
    air += 0.06 * s.through(air, s.tail(RATE, rng, 0.35, early=6))
    air = s.to_peak(s.band(air, RATE, 65.0, None), (-9.0, -10.0)[side]) + s.hiss(N, -81.0, rng)
    line = s.to_peak(s.band(x + 0.4 * s.band(x, RATE, 2500.0, None, 1), RATE, 90.0, None, 1), -11.0)
    return s.edges(air, RATE), s.edges(line + s.hiss(N, -78.0, rng), RATE)


def _spring(dry: s.Array, seed: int) -> s.Array:
    """A small spring: dark, with a flutter."""
    rng = np.random.default_rng(seed)
    response = s.tail(RATE, rng, 1.4, dark=0.75, wait=0.033)
    lag = int(0.041 * RATE)
    response[lag:] += 0.35 * response[:-lag]
    return s.edges(s.through(s.band(s.band(dry, RATE, 180.0, None), RATE, None, 4500.0), response) * s.db(-2.0), RATE)


def _hall(feed: s.Array, low: float = 180.0) -> s.Array:
    """The hall, wholly wet, with its low cut."""
    rng = np.random.default_rng(SEED + 30)
    left, right = (s.tail(RATE, rng, 2.3, dark=0.6, wait=0.028) for _ in range(2))
    return s.edges(s.wet(feed, left, right, RATE, low, 7000.0) * s.db(-15.0), RATE, 0.01, 0.5)


def _feed(folder: Path) -> s.Array:
    """What goes to the hall: faders and sends as in the session."""
    parts = (("vox_lead", 0.0), ("vox_harmony", -7.0), ("gtr_left_mic", -12.0), ("gtr_right_mic", -11.0))
    return np.sum([s.db(level) * _read(folder, name) for name, level in parts], axis=0)


def _voices() -> tuple[s.Array, s.Array]:
    """The lead and, from the bridge on, a higher voice."""
    rng = np.random.default_rng(SEED + 3)

    def timed(line: tuple[s.Sung, ...]) -> list[s.Sung]:
        """Beats to seconds."""
        return sorted((b * BEAT + 0.02, d * BEAT, m, v, c, f) for b, d, m, v, c, f in line)

    lead = s.sing(timed(WORDS + BRIDGE), N, RATE, rng, tract=1.06, breath=0.08, wave=5.6)
    over = s.doubled(timed(BRIDGE + WORDS[9:]), rng, 15.0, 0.0)
    third = {64: 69, 66: 69, 68: 71, 69: 73, 71: 76, 73: 76, 74: 78}
    over = [(a, d, third[round(m)] + 0.03 * rng.standard_normal(), v, c, 0.85 * f) for a, d, m, v, c, f in over]
    high = s.sing(over, N, RATE, rng, tract=1.1, breath=0.11, wave=5.2)
    lead = s.to_peak(s.band(lead, RATE, 75.0, None), -8.5) + s.hiss(N, -81.0, rng)
    high = s.to_peak(s.band(high, RATE, 90.0, None), -11.0) + s.hiss(N, -81.0, rng)
    return s.edges(lead, RATE), s.edges(high, RATE)


def _bass() -> tuple[s.Array, s.Array]:
    """A bass: direct, and the microphone 25 cm before its loudspeaker."""
    rng = np.random.default_rng(SEED + 4)
    notes: list[s.Note] = []
    for bar in range(1, 9):
        root = CHORDS[bar][0] - (12.0 if CHORDS[bar][0] > 40 else 0.0)
        root = root if root >= 28 else root + 12.0
        if bar == 8:
            notes.append((32 * BEAT + 0.02, 3.0, root, 0.8))
            continue
        notes += [
            ((4 * bar) * BEAT + 0.02, 1.9 * BEAT, root, 0.8),
            ((4 * bar + 2) * BEAT + 0.02, 1.4 * BEAT, root + 7.0, 0.65),
        ]
        notes.append(((4 * bar + 3.5) * BEAT + 0.02, 0.45 * BEAT, root, 0.6))

    def string(f0: float, seconds: float, vel: float) -> s.Array:
        """A flat-wound string."""
        return s.pluck(f0, seconds, RATE, rng, vel=vel, cut=800.0, place=0.2, t60=4.0, stiff=8e-5, nail=0.02)

    x = s.play(s.human(notes, rng, 6.0), N, RATE, rng, string)
    line = s.to_peak(s.band(x, RATE, 28.0, None), -9.0) + s.hiss(N, -85.0, rng)
    box = s.late(s.band(s.band(np.tanh(1.5 * x / np.abs(x).max()), RATE, 50.0, None), RATE, None, 2600.0), 32)
    box += 0.06 * s.through(box, s.tail(RATE, rng, 0.25, early=5))
    return s.edges(line, RATE), s.edges(s.to_peak(box, -11.0) + s.hiss(N, -78.0, rng), RATE)


def _percussion() -> tuple[s.Array, s.Array]:
    """A box drum with a shaker beside it: near microphone and a pair 2.5 m off."""
    rng = np.random.default_rng(SEED + 5)
    box, shake = np.zeros(N), np.zeros(N)
    for bar in range(2, 8):
        for beat, low, vel in ((0, 1, 0.9), (1, 0, 0.6), (2, 1, 0.6), (2.5, 1, 0.7), (3, 0, 0.75), (3.5, 0, 0.25)):
            m = int(0.3 * RATE)
            t = np.arange(m) / RATE
            noise = rng.standard_normal(m)
            if low:
                y = np.sin(2 * np.pi * np.cumsum(72.0 + 45.0 * np.exp(-t / 0.012)) / RATE) * np.exp(-t / 0.07)
                y += 0.12 * s.band(noise, RATE, 300.0, 2500.0, 1) * np.exp(-t / 0.01)
            else:
                modes = np.array([205.0, 338.0, 512.0, 790.0])
                y = s.ring(modes, np.array([0.5, 0.4, 0.3, 0.2]), np.array([0.16, 0.12, 0.1, 0.08]), modes, m, RATE)
                y += 0.7 * s.band(noise, RATE, 1500.0, 9000.0, 1) * np.exp(-t / 0.022)
            y[:40] *= np.linspace(0, 1, 40)
            s.lay(
                box,
                vel * rng.uniform(0.9, 1.05) * y * np.linspace(1, 0, m),
                int(((4 * bar + beat) * BEAT + 0.02) * RATE),
            )
        for i in range(16):
            m = int(0.11 * RATE)
            y = s.band(rng.standard_normal(m), RATE, 4500.0, 13000.0) * np.hanning(m) ** 1.5
            at = (4 * bar + 0.25 * i) * BEAT + 0.004 * rng.standard_normal()
            s.lay(shake, (0.16, 0.07, 0.11, 0.08)[i % 4] * rng.uniform(0.85, 1.1) * y, int(at * RATE))
    near = s.band(box + 0.5 * s.late(shake, 0.0025 * RATE), RATE, 30.0, None)
    legs = []
    for metres in ((2.4, 2.9), (2.6, 2.3)):
        air = s.microphone({"box": box, "shake": 1.6 * shake}, {"box": metres[0], "shake": metres[1]}, RATE)
        legs.append(s.band(air + 0.5 * s.through(air, s.tail(RATE, rng, 0.55, early=9, wait=0.003)), RATE, 40.0, None))
    legs = [x / float(np.sqrt(np.mean(x**2))) for x in legs]
    pair = s.to_peak(np.stack(legs, axis=1), -14.0)
    pair += np.stack([s.hiss(N, -80.0, rng), s.hiss(N, -80.0, rng)], axis=1)
    return s.edges(s.to_peak(near, -8.0) + s.hiss(N, -81.0, rng), RATE), s.edges(pair, RATE)


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    files: dict[str, s.Array] = {}
    files["gtr_left_mic"], files["gtr_left_di"] = _guitar(SEED + 1, 0)
    files["gtr_right_mic"], _ = _guitar(SEED + 2, 1)
    files["vox_lead"], files["vox_harmony"] = _voices()
    files["bass_di"], files["bass_amp"] = _bass()
    files["cajon"], files["perc_room"] = _percussion()
    files["gtr_left_spring"] = _spring(files["gtr_left_mic"] * s.db(-3.0), SEED + 21)
    files["gtr_right_spring"] = _spring(files["gtr_right_mic"] * s.db(-2.0), SEED + 22)
    for name, x in files.items():
        _change(folder, name, x)
    _change(folder, "hall_print", _hall(_feed(folder)))
    s.keep(folder / "slow-orchard.session.json", _session(folder, [*files, "hall_print"]))


def _session(folder: Path, names: list[str]) -> dict[str, Any]:
    """The session round the files."""
    rows = (
        ("Gtr L Mic", "gtr_left_mic", -3.0, -70.0, "gt"),
        ("Gtr L DI", "gtr_left_di", -13.0, -70.0, "gt"),
        ("Gtr R Mic", "gtr_right_mic", -2.0, 70.0, "gt"),
        ("Gtr L Spring", "gtr_left_spring", -9.0, 70.0, "gt"),
        ("Gtr R Spring", "gtr_right_spring", -9.0, -70.0, "gt"),
        ("Lead Vox", "vox_lead", 0.0, 0.0, "vo"),
        ("Vox Harmony", "vox_harmony", -4.0, 5.0, "vo"),
        ("Bass DI", "bass_di", -5.0, 0.0, "mix"),
        ("Bass Amp", "bass_amp", -8.0, 0.0, "mix"),
        ("Cajon", "cajon", -5.0, 0.0, "mix"),
        ("Perc Room", "perc_room", -4.0, 0.0, "mix"),
        ("Hall Print", "hall_print", 0.0, 0.0, "mix"),
    )
    channels = []
    for name, file, fader, pan, to in rows:
        kind = "return" if "Spring" in name else "track"
        legs = 2 if file in ("perc_room", "hall_print") else 1
        whole = [s.clip(file, 0.0, LENGTH)]
        channels.append(s.channel(file, name, kind, to, legs=legs, fader_db=fader, pan=pan, clips=whole))
    channels += [
        s.channel("gt", "Guitars", "group", legs=2, fader_db=0.0),
        s.channel("vo", "Voices", "group", legs=2, fader_db=0.0),
        s.channel("hall", "Hall", "return", legs=2, fader_db=0.0, mute=True),
        s.channel("mix", "Main", "master", None, legs=2, fader_db=0.0),
    ]
    told: dict[str, Any] = {
        "format": "mixlint-session/1",
        "title": "Slow Orchard",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"bpm": 84.0}]},
        "markers": [
            {"time_s": 0.0, "name": "Intro"},
            {"time_s": 4 * BEAT, "name": "Verse"},
            {"time_s": 16 * BEAT, "name": "Bridge"},
            {"time_s": 24 * BEAT, "name": "Last verse"},
        ],
        "channels": channels,
        "media": s.media(folder, [f"{n}.flac" for n in names], RATE),
    }
    for name, spring, level in (("Gtr L Mic", "gtr_left_spring", -9.0), ("Gtr R Mic", "gtr_right_spring", -9.0)):
        s.strip(told, name)["sends"] = [
            {"to": spring, "level_db": 0.0, "tap": "post", "on": False},
            {"to": "hall", "level_db": level, "tap": "post"},
        ]
    for name in ("Gtr L Spring", "Gtr R Spring"):
        s.strip(told, name)["comment"] = "rendered in place; spring unit taken off, sends to it switched off"
    s.strip(told, "Lead Vox")["sends"] = [{"to": "hall", "level_db": 0.0, "tap": "post"}]
    s.strip(told, "Vox Harmony")["sends"] = [{"to": "hall", "level_db": -3.0, "tap": "post"}]
    cut = {"bands": [{"kind": "high-pass", "freq_hz": 180.0, "slope_db_per_oct": 12.0}]}
    s.strip(told, "Hall")["inserts"] = [
        {"name": "Return EQ", "kind": "equalizer", "opaque": False, "equalizer": cut},
        {"name": "Long Hall", "kind": "reverb", "wet": 100.0, "pre_delay_ms": 28.0},
    ]
    voice = {"threshold_db": -21.0, "ratio": 2.5, "attack_ms": 12.0, "release_ms": 110.0, "output_gain_db": 1.5}
    s.strip(told, "Lead Vox")["inserts"] = [
        {"name": "Vox Comp", "kind": "compressor", "opaque": False, "dynamics": voice},
        {"name": "De-ess", "kind": "de-esser"},
    ]
    s.strip(told, "Main")["inserts"] = [{"name": "Gentle Comp", "kind": "compressor"}]
    return told


def _read(folder: Path, name: str) -> s.Array:
    """Read a file of the set."""
    return s.load(folder / "audio" / f"{name}.flac")[0]


def _change(folder: Path, name: str, x: s.Array) -> None:
    """Write a file of the set anew."""
    s.save(folder / "audio" / f"{name}.flac", x, RATE)


def _amp_late(folder: Path) -> None:
    """The bass amplifier came over a wireless box and a converter loop: 9 ms more."""
    _change(folder, "bass_amp", s.edges(s.late(_read(folder, "bass_amp"), 0.009 * RATE), RATE))


def _pickup_inverted(folder: Path) -> None:
    """The line of the pick-up is wired the wrong way round."""
    _change(folder, "gtr_left_di", -_read(folder, "gtr_left_di"))


def _hall_boomy(folder: Path) -> None:
    """The hall was printed with its equalizer off and with the bass in it."""
    _change(folder, "hall_print", _hall(_feed(folder) + s.db(2.0) * _read(folder, "bass_di"), 25.0))


def _hall_floods(folder: Path) -> None:
    """A send was left wide open through the bridge while the hall was printed."""
    x = _read(folder, "hall_print")
    t = np.arange(N) / RATE
    rise = np.interp(t, [15.5 * BEAT, 16.2 * BEAT, 23.4 * BEAT, 24.2 * BEAT], [0.0, 13.0, 13.0, 0.0])
    _change(folder, "hall_print", x * (10.0 ** (rise / 20.0))[:, None])


def _main_hot(folder: Path) -> None:
    """The main fader was pushed up to hear better and left there."""
    path, told = s.session(folder)
    s.strip(told, "Main")["fader_db"] = 10.0
    s.keep(path, told)


def _hard_splices(folder: Path) -> None:
    """Two bars of the right guitar were punched in from another pass, without crossfades."""
    x = _read(folder, "gtr_right_mic")
    for begin, end, shift in ((9.912, 11.347, 0.0135), (18.731, 20.118, 0.0172)):
        a, b, k = int(begin * RATE), int(end * RATE), int(shift * RATE)
        x[a:b] = x[a + k : b + k].copy()
    _change(folder, "gtr_right_mic", x)


def _clip_twice(folder: Path) -> None:
    """The clip of the box drum lies twice on its track from the bridge on, the copy 13 ms late."""
    path, told = s.session(folder)
    row = s.strip(told, "Cajon")
    row["clips"].append(s.clip("cajon", 16 * BEAT, 28 * BEAT, 16 * BEAT - 0.013))
    s.keep(path, told)


def _pair_is_one(folder: Path) -> None:
    """Both legs of the room pair hold the left microphone."""
    x = _read(folder, "perc_room")
    x[:, 1] = x[:, 0]
    _change(folder, "perc_room", x)


def _sharp(folder: Path) -> None:
    """The second guitarist tuned by ear, 32 cents sharp."""
    x, _ = _guitar(SEED + 2, 1, 32.0)
    _change(folder, "gtr_right_mic", x)
    _change(folder, "gtr_right_spring", _spring(x * s.db(-2.0), SEED + 22))
    _change(folder, "hall_print", _hall(_feed(folder)))


def _lossy(folder: Path) -> None:
    """The lead came as a lossy file of a very low rate and was turned back into a lossless one."""
    x = _read(folder, "vox_lead")
    freq, _, bins = signal.stft(x, RATE, nperseg=1024)
    power = np.abs(bins)
    limit = 0.045 * np.max(power, axis=0, keepdims=True) * np.clip(freq / 2500.0, 0.05, 1.4)[:, None] * 1.2 + 2e-5
    bins = np.where((power < limit) | (freq > 7200.0)[:, None], 0.0, bins)
    _, y = signal.istft(bins, RATE, nperseg=1024)
    _change(folder, "vox_lead", s.edges(np.asarray(y[:N], dtype=float), RATE))


FAULTS: list[dict[str, Any]] = [
    {
        "id": "bass-amplifier-late",
        "class": "time between two lines",
        "names": ["Bass Amp", "bass_amp.flac", "Bass DI", "bass_di.flac"],
        "grade": "hold",
        "says": "The bass amplifier lies 10 ms behind the direct line where 25 cm would give 0.7 ms: they cancel "
        "round 50 and 150 Hz.",
        "time_s": (2.8, 27.0),
        "cure": "Move the amplifier 9 ms earlier.",
        "plant": _amp_late,
    },
    {
        "id": "pickup-inverted",
        "class": "polarity between two lines",
        "names": ["Gtr L DI", "gtr_left_di.flac", "Gtr L Mic", "gtr_left_mic.flac"],
        "grade": "hold",
        "says": "The pick-up of the left guitar has the opposite polarity of its microphone: at 1 ms between them the "
        "correlation is strongly negative.",
        "time_s": (0.0, 28.0),
        "cure": "Turn the polarity of the pick-up.",
        "plant": _pickup_inverted,
    },
    {
        "id": "hall-print-boomy",
        "class": "low end of a return",
        "names": ["Hall Print", "hall_print.flac"],
        "grade": "hold",
        "says": "The hall is printed without its low cut at 180 Hz and with the bass in it: below 150 Hz it "
        "carries some 25 dB more than it should and booms.",
        "time_s": (0.0, 29.0),
        "cure": "Print the hall again with its equalizer on.",
        "plant": _hall_boomy,
    },
    {
        "id": "hall-floods-bridge",
        "class": "ambience swallows a part",
        "names": ["Hall Print", "hall_print.flac"],
        "grade": "hold",
        "says": "From 11.4 to 17.1 s the hall is printed 13 dB louder than elsewhere and swallows the voice.",
        "time_s": (11.2, 17.3),
        "cure": "Print the hall again with the send at its usual level.",
        "plant": _hall_floods,
    },
    {
        "id": "main-overloaded",
        "class": "bus overload",
        "names": ["Main"],
        "grade": "hold",
        "says": "The main fader stands at +10 dB: the sum passes full scale by some dB at many places in a bounce.",
        "time_s": (2.8, 25.0),
        "cure": "Set the main fader back to 0 dB.",
        "plant": _main_hot,
    },
    {
        "id": "hard-punch-ins",
        "class": "clicks at edits",
        "names": ["Gtr R Mic", "gtr_right_mic.flac"],
        "grade": "hold",
        "says": "Two patches in the right guitar, 9.91 to 11.35 s and 18.73 to 20.12 s, begin and end with a jump in "
        "the wave that clicks.",
        "time_s": (9.9, 20.2),
        "cure": "Crossfade the four edits.",
        "plant": _hard_splices,
    },
    {
        "id": "clip-lies-twice",
        "class": "doubled clip",
        "names": ["Cajon"],
        "grade": "hold",
        "says": "From 11.4 to 20 s the same file plays in a second clip over the first, 13 ms late: flams, combs.",
        "time_s": (11.4, 20.0),
        "cure": "Delete the copy.",
        "plant": _clip_twice,
    },
    {
        "id": "room-pair-is-mono",
        "class": "one microphone twice",
        "names": ["Perc Room", "perc_room.flac"],
        "grade": "hold",
        "says": "Both legs of the room pair are the same to the last bit: the right microphone is missing.",
        "time_s": (0.0, 29.0),
        "cure": "Get the file of the right microphone.",
        "plant": _pair_is_one,
    },
    {
        "id": "right-guitar-sharp",
        "class": "tuning",
        "names": ["Gtr R Mic", "gtr_right_mic.flac"],
        "grade": "hold",
        "says": "The right guitar is tuned 32 cents sharp against the left guitar, the bass and the voices throughout.",
        "time_s": (0.0, 29.0),
        "cure": "Take it again in tune, or shift it down by 32 cents.",
        "plant": _sharp,
    },
    {
        "id": "lead-from-lossy-file",
        "class": "lossy source",
        "names": ["Lead Vox", "vox_lead.flac"],
        "grade": "hold",
        "says": "The lead vocal comes from a lossy file of a low rate: nothing above 7.2 kHz, holes and warble below.",
        "time_s": (0.0, 29.0),
        "cure": "Ask for the recording itself.",
        "plant": _lossy,
    },
]
