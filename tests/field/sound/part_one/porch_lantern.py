"""Porch Lantern: two strummed guitars, a voice and its double, bass and a small kit; reverbs printed to tracks."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from scipy import signal

# isort: split
from tests.field.sound import sounds_by_a as s

KIND = "session"
RATE = 48_000
BEAT = 60.0 / 96.0
LENGTH = 27.5
SEED = 4107

G = (43.0, 47.0, 50.0, 55.0, 59.0, 67.0)
EM = (40.0, 47.0, 52.0, 55.0, 59.0, 64.0)
C = (None, 48.0, 52.0, 55.0, 60.0, 64.0)
D = (None, None, 50.0, 57.0, 62.0, 66.0)
AM = (None, 45.0, 52.0, 57.0, 60.0, 64.0)
CHORDS = (G, G, EM, C, D, G, D, EM, C, G)

WORDS: tuple[s.Sung, ...] = (
    (4.0, 0.9, 62, "o", "h", 0.60),
    (5.0, 0.5, 64, "a", "l", 0.62),
    (5.5, 1.4, 67, "i", "s", 0.66),
    (8.0, 0.9, 67, "e", "m", 0.62),
    (9.0, 0.5, 66, "a", "t", 0.64),
    (9.5, 1.9, 64, "o", "k", 0.64),
    (12.5, 0.5, 64, "u", "", 0.58),
    (13.0, 0.9, 67, "a", "n", 0.66),
    (14.0, 1.4, 69, "e", "t", 0.70),
    (16.5, 0.5, 69, "i", "h", 0.66),
    (17.0, 1.9, 66, "a", "l", 0.70),
)
HOOK: tuple[s.Sung, ...] = (
    (20.0, 1.4, 71, "o", "h", 0.92),
    (21.5, 0.5, 69, "a", "l", 0.90),
    (22.0, 1.6, 67, "a", "n", 0.92),
    (24.5, 0.5, 69, "i", "s", 0.88),
    (25.0, 0.9, 69, "e", "t", 0.92),
    (26.0, 1.4, 66, "a", "m", 0.94),
    (28.0, 1.4, 71, "a", "k", 0.95),
    (29.5, 0.5, 69, "o", "", 0.90),
    (30.0, 1.6, 67, "e", "n", 0.92),
    (33.0, 0.5, 67, "a", "f", 0.88),
    (33.5, 0.9, 69, "o", "t", 0.92),
    (34.5, 0.5, 67, "i", "l", 0.90),
    (36.0, 3.4, 67, "a", "h", 0.94),
)

ACCEPTED: list[dict[str, Any]] = [
    {
        "names": ["Gtr L Room", "Gtr R Room", "Vox Plate"],
        "why": "the live returns are muted on purpose: their prints play on the tracks named for them",
    },
    {"names": ["Vox Double"], "why": "sings in the chorus only; its file is silent but for hiss before"},
]


def _timed(line: tuple[s.Sung, ...]) -> list[s.Sung]:
    """Beats to seconds."""
    return [(b * BEAT, d * BEAT, m, v, c, f) for b, d, m, v, c, f in line]


def _room(dry: s.Array, seed: int, gain: float) -> s.Array:
    """One guitar through its room, one leg, wholly wet."""
    response = s.tail(RATE, np.random.default_rng(seed), 1.1, dark=0.65, wait=0.012, early=9)
    sent = s.band(s.band(dry, RATE, 150.0, None), RATE, None, 7500.0, 1)
    return s.edges(s.through(sent, response) * s.db(gain), RATE)


def _plate(dry: s.Array) -> s.Array:
    """The voice through its plate, 24 ms before it, wholly wet."""
    rng = np.random.default_rng(SEED + 50)
    left, right = (s.tail(RATE, rng, 1.9, dark=0.5, wait=0.024) for _ in range(2))
    return s.edges(s.wet(dry, left, right, RATE, 220.0, 9500.0) * s.db(-6.0), RATE)


def _guitar(seed: int, cut: float, patterns: list[str], peak: float) -> s.Array:
    """A strummed take in front of one microphone."""
    rng = np.random.default_rng(seed)
    notes = s.human(s.strum(CHORDS, patterns, BEAT, rng, 0.02), rng, 1.5)
    n = int(LENGTH * RATE)

    def tone(f0: float, seconds: float, vel: float) -> s.Array:
        """A steel string."""
        return s.pluck(f0, seconds, RATE, rng, vel=vel, cut=cut, place=rng.uniform(0.11, 0.17), t60=4.2)

    x = s.through(s.play(notes, n, RATE, rng, tone), s.body(RATE, rng, rng.uniform(0.97, 1.03)))
    x = s.band(x + 0.05 * s.through(x, s.tail(RATE, rng, 0.3, early=6)), RATE, 60.0, None)
    return s.edges(s.to_peak(x, peak) + s.hiss(n, -82.0, rng), RATE)


def _kit() -> tuple[s.Array, ...]:
    """Kick and snare microphones and a pair of overheads."""
    rng = np.random.default_rng(SEED + 9)
    n = int(LENGTH * RATE)
    hits: list[s.Hit] = [(4 * BEAT * bar, "kick", 0.9) for bar in range(1, 10)]
    for bar in range(1, 10):
        at = 4 * BEAT * bar
        hits += [(at + 2.5 * BEAT, "kick", 0.8), (at + BEAT, "snare", 0.8), (at + 3 * BEAT, "snare", 0.85)]
        if bar < 9:
            hits += [(at + 0.5 * BEAT * i, "hat", 0.75 if i % 2 == 0 else 0.5) for i in range(8)]
        if bar in (5, 9):
            hits.append((at, "crash", 0.8))
    hits = [h for h in hits if h[0] < 36.4 * BEAT]
    pieces = s.kit(hits, n, RATE, rng)
    room = s.tail(RATE, rng, 0.45, early=10)
    kick = s.microphone(pieces, {"kick": 0.12, "snare": 0.85, "hat": 1.1, "crash": 1.3}, RATE, "kick", 0.14)
    snare = s.microphone(pieces, {"snare": 0.12, "kick": 0.75, "hat": 0.5, "crash": 1.0}, RATE, "snare", 0.14)
    legs = []
    for metres in ({"hat": 0.9, "crash": 0.8, "snare": 1.05, "kick": 1.45}, {"hat": 1.3, "crash": 1.35, "snare": 1.05}):
        air = s.microphone(pieces, {"kick": 1.5} | metres, RATE)
        legs.append(air + 0.18 * s.through(air, room))
    over = s.to_peak(np.stack(legs, axis=1), -9.0) + np.stack([s.hiss(n, -80.0, rng) for _ in range(2)], axis=1)
    kick = s.to_peak(kick, -8.0) + s.hiss(n, -80.0, rng)
    snare = s.to_peak(snare, -7.5) + s.hiss(n, -79.0, rng)
    return tuple(s.edges(s.band(x, RATE, 20.0, None), RATE) for x in (kick, snare, over))


def _bass() -> s.Array:
    """A fingered bass, direct."""
    rng = np.random.default_rng(SEED + 7)
    roots = (43, 43, 40, 36, 38, 43, 38, 40, 36, 43)
    n = int(LENGTH * RATE)
    notes: list[s.Note] = []
    for bar in range(1, 10):
        at, root = 4 * BEAT * bar, float(roots[bar])
        if bar == 9:
            notes.append((at, 3.6, root, 0.8))
            continue
        notes += [(at, 1.4 * BEAT, root, 0.8), (at + 1.5 * BEAT, 0.45 * BEAT, root, 0.6)]
        notes += [(at + 2.5 * BEAT, 0.9 * BEAT, root + 7 if root < 42 else root - 5, 0.7)]
        notes += [(at + 3.5 * BEAT, 0.4 * BEAT, root, 0.6)]

    def tone(f0: float, seconds: float, vel: float) -> s.Array:
        """A wound bass string."""
        return s.pluck(f0, seconds, RATE, rng, vel=vel, cut=900.0, place=0.18, t60=5.0, stiff=1e-4, nail=0.02)

    x = s.play(s.human(notes, rng, 5.0), n, RATE, rng, tone)
    return s.edges(s.to_peak(s.band(x, RATE, 28.0, None), -8.0) + s.hiss(n, -86.0, rng), RATE)


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    n = int(LENGTH * RATE)
    beats = ["D-du-uDu", "D-dU-udu", "D-Du-uDU", "D-duDudu"]
    last = ["D-------"]
    left = _guitar(SEED + 1, 3000.0, [beats[i % 4] for i in range(9)] + last, -9.0)
    right = _guitar(SEED + 2, 2300.0, [beats[(i + i // 3) % 4] for i in range(9)] + last, -9.5)
    rng = np.random.default_rng(SEED + 3)
    voice = s.sing(_timed(WORDS + HOOK), n, RATE, rng, breath=0.06)
    voice = s.edges(s.to_peak(s.band(voice, RATE, 70.0, None), -8.0) + s.hiss(n, -80.0, rng), RATE)
    rng = np.random.default_rng(SEED + 4)
    double = s.sing(s.doubled(_timed(HOOK), rng), n, RATE, rng, tract=1.01, breath=0.09, wave=5.1)
    double = s.edges(s.to_peak(s.band(double, RATE, 70.0, None), -10.0) + s.hiss(n, -80.0, rng), RATE)
    kick, snare, over = _kit()
    audio = folder / "audio"
    tracks = {
        "gtr_left": left,
        "gtr_right": right,
        "vox_lead": voice,
        "vox_double": double,
        "bass_di": _bass(),
        "kick_in": kick,
        "snare_top": snare,
        "overheads": over,
        "gtr_left_room_print": _room(left * s.db(-2.0), SEED + 21, -1.0),
        "gtr_right_room_print": _room(right * s.db(-1.5), SEED + 22, -6.5),
        "vox_plate_print": _plate(voice * s.db(-1.0 - 1.0)),
    }
    for name, x in tracks.items():
        s.save(audio / f"{name}.flac", x, RATE)
    s.keep(folder / "porch-lantern.session.json", _session(folder, list(tracks)))


def _session(folder: Path, names: list[str]) -> dict[str, Any]:
    """The session round the files."""

    def whole(file: str) -> list[dict[str, Any]]:
        """One clip from beginning to end."""
        return [s.clip(file, 0.0, LENGTH)]

    turn = 20 * BEAT - 0.11
    room = {"kind": "reverb", "ground": "declared", "wet": 100.0, "opaque": True}
    takes = [(1.6, 4.42), (4.42, 7.25), (7.25, 11.96), (11.96, 26.4)]
    takes_double = [(11.9, LENGTH - 1.0)]
    rows = [
        s.channel("gl", "Gtr L", legs=1, fader_db=-2.0, pan=-75.0, clips=whole("gtr_left")),
        s.channel("gr", "Gtr R", legs=1, fader_db=-1.5, pan=75.0),
        s.channel("vl", "Lead Vox", legs=1, fader_db=-1.0),
        s.channel("vd", "Vox Double", legs=1, fader_db=-9.0, pan=12.0),
        s.channel("ba", "Bass DI", legs=1, fader_db=-3.0, clips=whole("bass_di")),
        s.channel("ki", "Kick In", legs=1, fader_db=-3.0, clips=whole("kick_in"), output="dr"),
        s.channel("sn", "Snare Top", legs=1, fader_db=-2.0, clips=whole("snare_top"), output="dr"),
        s.channel("oh", "Overheads", legs=2, fader_db=-4.0, clips=whole("overheads"), output="dr"),
        s.channel("pl", "Gtr L Room Print", legs=1, fader_db=-9.0, pan=75.0, clips=whole("gtr_left_room_print")),
        s.channel("pr", "Gtr R Room Print", legs=1, fader_db=-9.0, pan=-75.0, clips=whole("gtr_right_room_print")),
        s.channel("pv", "Vox Plate Print", legs=2, fader_db=-5.0, clips=whole("vox_plate_print")),
        s.channel("dr", "Drums", "group", legs=2),
        s.channel("rl", "Gtr L Room", "return", legs=1, mute=True, fader_db=-9.0, pan=75.0),
        s.channel("rr", "Gtr R Room", "return", legs=1, mute=True, fader_db=-9.0, pan=-75.0),
        s.channel("rv", "Vox Plate", "return", legs=2, mute=True, fader_db=-5.0),
        s.channel("mix", "Mix", "master", None, legs=2),
    ]
    told: dict[str, Any] = {
        "format": "mixlint-session/1",
        "title": "Porch Lantern",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"bpm": 96.0}]},
        "markers": [
            {"time_s": 0.0, "name": "Intro"},
            {"time_s": 4 * BEAT, "name": "Verse"},
            {"time_s": 20 * BEAT, "name": "Chorus"},
        ],
        "channels": rows,
        "media": s.media(folder, [f"{n}.flac" for n in names], RATE),
    }
    s.strip(told, "Gtr R")["clips"] = [s.clip("gtr_right", 0.0, turn, fade_out_s=0.0)]
    s.strip(told, "Gtr R")["clips"] += [s.clip("gtr_right", turn, LENGTH, fade_in_s=0.0)]
    s.strip(told, "Lead Vox")["clips"] = [s.clip("vox_lead", a, b, fade_in_s=0.02, fade_out_s=0.02) for a, b in takes]
    s.strip(told, "Vox Double")["clips"] = [s.clip("vox_double", a, b, fade_out_s=0.3) for a, b in takes_double]
    s.strip(told, "Gtr L")["sends"] = [{"to": "rl", "level_db": 0.0, "tap": "post"}]
    s.strip(told, "Gtr R")["sends"] = [{"to": "rr", "level_db": 0.0, "tap": "post"}]
    s.strip(told, "Lead Vox")["sends"] = [{"to": "rv", "level_db": -1.0, "tap": "post"}]
    s.strip(told, "Gtr L Room")["inserts"] = [{"name": "Small Room", "pre_delay_ms": 12.0} | room]
    s.strip(told, "Gtr R Room")["inserts"] = [{"name": "Small Room", "pre_delay_ms": 12.0} | room]
    s.strip(told, "Vox Plate")["inserts"] = [{"name": "Bright Plate", "pre_delay_ms": 24.0} | room]
    squeeze = {"threshold_db": -22.0, "ratio": 3.0, "attack_ms": 8.0, "release_ms": 90.0, "output_gain_db": 2.0}
    s.strip(told, "Lead Vox")["inserts"] = [
        {"name": "Low Cut", "kind": "equalizer", "opaque": False, "equalizer": {"bands": [_cut(80.0)]}},
        {"name": "Voice Leveller", "kind": "compressor", "opaque": False, "dynamics": squeeze},
    ]
    for name in ("Gtr L", "Gtr R"):
        eq = {"bands": [_cut(90.0), {"kind": "bell", "freq_hz": 220.0, "gain_db": -2.0, "q": 1.2}]}
        s.strip(told, name)["inserts"] = [{"name": "Desk EQ", "kind": "equalizer", "opaque": False, "equalizer": eq}]
    s.strip(told, "Mix")["inserts"] = [{"name": "Bus Glue", "kind": "compressor"}]
    return told


def _cut(freq: float) -> dict[str, Any]:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": 12.0}


def _change(folder: Path, name: str, x: s.Array) -> None:
    """Write a file of the set anew."""
    s.save(folder / "audio" / f"{name}.flac", x, RATE)


def _read(folder: Path, name: str) -> s.Array:
    """Read a file of the set."""
    return s.load(folder / "audio" / f"{name}.flac")[0]


def _overload(folder: Path) -> None:
    """The preamplifier is driven flat in the chorus, the converter after it is not."""
    x = _read(folder, "vox_lead")
    at = int(12.2 * RATE)
    top = 0.36
    x[at:] = np.clip(x[at:] * 2.1, -top, top) * 0.93
    _change(folder, "vox_lead", x)


def _copy(folder: Path) -> None:
    """The left guitar, 17 ms later and a little softer, in the place of the second take."""
    x = _read(folder, "gtr_left")
    _change(folder, "gtr_right", s.edges(s.late(x, 0.017 * RATE) * s.db(-0.8), RATE))


def _dry_in_room(folder: Path) -> None:
    """The room of the right guitar is printed half dry."""
    dry = _read(folder, "gtr_right") * s.db(-1.5)
    _change(folder, "gtr_right_room_print", _read(folder, "gtr_right_room_print") + 0.7 * dry)


def _late_plate(folder: Path) -> None:
    """The print of the plate lies 140 ms late."""
    x = _read(folder, "vox_plate_print")
    _change(folder, "vox_plate_print", s.edges(s.late(x, 0.140 * RATE), RATE))


def _turned_leg(folder: Path) -> None:
    """The right overhead is wired the wrong way round."""
    x = _read(folder, "overheads")
    x[:, 1] *= -1.0
    _change(folder, "overheads", x)


GAPS = ((6.031, 0.0213), (9.4402, 0.0107), (14.807, 0.032), (18.2201, 0.0107), (21.655, 0.0213))


def _dropouts(folder: Path) -> None:
    """Buffers lost while recording: holes of pure silence."""
    x = _read(folder, "gtr_left")
    for at, seconds in GAPS:
        x[int(at * RATE) : int((at + seconds) * RATE)] = 0.0
    _change(folder, "gtr_left", x)


def _short_clip(folder: Path) -> None:
    """The clip of the last chorus is trimmed into the held last note."""
    path, told = s.session(folder)
    row = s.strip(told, "Lead Vox")["clips"][-1]
    row["end_s"] = 23.62
    row["fade_out_s"] = 0.0
    s.keep(path, told)


def _swapped_rooms(folder: Path) -> None:
    """The two room prints carry each other's name."""
    left, right = _read(folder, "gtr_left_room_print"), _read(folder, "gtr_right_room_print")
    _change(folder, "gtr_left_room_print", right)
    _change(folder, "gtr_right_room_print", left)


def _wrong_rate(folder: Path) -> None:
    """A bass recorded at 44.1 kHz is taken for one at 48 kHz."""
    x = _read(folder, "bass_di")
    fast = np.asarray(signal.resample_poly(x, 147, 160))
    out = s.hiss(len(x), -86.0, np.random.default_rng(5))
    out[: len(fast)] = fast
    _change(folder, "bass_di", out)


def _low_clip(folder: Path) -> None:
    """The chorus clip of the right guitar is turned down by a typing slip: −15 for −1.5."""
    path, told = s.session(folder)
    s.strip(told, "Gtr R")["clips"][1]["gain_db"] = -15.0
    s.keep(path, told)


FAULTS: list[dict[str, Any]] = [
    {
        "id": "lead-overloaded-in-chorus",
        "class": "overload",
        "names": ["Lead Vox", "vox_lead.flac"],
        "grade": "hold",
        "says": "The lead vocal is overloaded in the whole chorus from 12.5 s: flat tops at −9.5 dBFS, below "
        "full scale, so the preamplifier clipped and not the converter.",
        "time_s": (12.4, 25.0),
        "cure": "Take another take of the chorus, or restore the clipped tops.",
        "plant": _overload,
    },
    {
        "id": "second-guitar-is-a-copy",
        "class": "copy",
        "names": ["Gtr R", "gtr_right.flac", "Gtr L", "gtr_left.flac"],
        "grade": "hold",
        "says": "The right guitar is no second take but the left one again, 17 ms later and 0.8 dB softer: it combs in "
        "mono and leans to one side.",
        "time_s": (0.0, 27.0),
        "cure": "Put the real second take back on the right.",
        "plant": _copy,
    },
    {
        "id": "room-print-holds-dry-guitar",
        "class": "dry in the return",
        "names": ["Gtr R Room Print", "gtr_right_room_print.flac"],
        "grade": "hold",
        "says": "The print of the right guitar's room holds the dry guitar itself at the time of the source, about as "
        "loud as the room: the guitar comes from both sides.",
        "time_s": (0.0, 27.0),
        "cure": "Print the room again wholly wet.",
        "plant": _dry_in_room,
    },
    {
        "id": "plate-print-late",
        "class": "late print",
        "names": ["Vox Plate Print", "vox_plate_print.flac"],
        "grade": "hold",
        "says": "The plate print answers the voice 164 ms late where the plate is set to a pre-delay of 24 ms: "
        "it was printed or placed 140 ms late.",
        "time_s": (2.5, 26.0),
        "cure": "Move the print 140 ms earlier or print it again.",
        "plant": _late_plate,
    },
    {
        "id": "overhead-leg-inverted",
        "class": "leg polarity",
        "names": ["Overheads", "overheads.flac"],
        "grade": "hold",
        "says": "One leg of the overheads is inverted: the snare, equally far from both, correlates near −1 "
        "and vanishes in mono.",
        "time_s": (2.5, 26.0),
        "cure": "Turn the polarity of the right leg.",
        "plant": _turned_leg,
    },
    {
        "id": "guitar-dropouts",
        "class": "dropout",
        "names": ["Gtr L", "gtr_left.flac"],
        "grade": "hold",
        "says": "The left guitar has five holes of digital silence of 11 to 32 ms with clicks at the edges, first "
        "at 6.03 s.",
        "time_s": (6.0, 21.7),
        "cure": "Get the take from the backup recorder or patch the holes.",
        "plant": _dropouts,
    },
    {
        "id": "last-note-cut-by-clip",
        "class": "clip edge",
        "names": ["Lead Vox"],
        "grade": "hold",
        "says": "The last vocal clip ends at 23.62 s without a fade in the middle of the held last note, which goes on "
        "in the file until about 24.6 s.",
        "time_s": (23.5, 24.7),
        "cure": "Open the clip to the end of the note and fade it out.",
        "plant": _short_clip,
    },
    {
        "id": "room-prints-exchanged",
        "class": "wrong part printed",
        "names": ["Gtr L Room Print", "Gtr R Room Print", "gtr_left_room_print.flac", "gtr_right_room_print.flac"],
        "grade": "hold",
        "says": "The two room prints are exchanged: the one named for the left guitar holds the room of the right one "
        "and the other way round, so each room lies on the side of its own guitar.",
        "time_s": (0.0, 27.0),
        "cure": "Exchange the two files.",
        "plant": _swapped_rooms,
    },
    {
        "id": "bass-at-wrong-rate",
        "class": "wrong conversion",
        "names": ["Bass DI", "bass_di.flac"],
        "grade": "hold",
        "says": "The bass runs 8.8 % fast and 1.5 semitones sharp, as a file of 44.1 kHz read as 48 kHz, and has run "
        "2 s ahead by the end.",
        "time_s": (2.0, 26.0),
        "cure": "Convert the bass from 44.1 kHz properly.",
        "plant": _wrong_rate,
    },
    {
        "id": "right-guitar-drops-in-chorus",
        "class": "level of a section",
        "names": ["Gtr R"],
        "grade": "hold",
        "says": "The right guitar is 15 dB down from 12.39 s by its clip gain: the chorus leans to the left.",
        "time_s": (12.4, 27.0),
        "cure": "Set the clip gain back to 0 dB.",
        "plant": _low_clip,
    },
]
