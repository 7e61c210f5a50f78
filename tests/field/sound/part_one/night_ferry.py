"""A guitar band on a night ferry: kit on seven microphones, bass and guitar by wire and by amplifier, one singer."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound import sounds_by_b as sb
from tests.field.sound.sounds_by_b import Note, Sound

KIND = "session"
RATE = 48_000
LENGTH_S = 24.0
BPM = 116.0
BEAT = 60.0 / BPM
BAR = 4 * BEAT
START = 0.5
SEED = 4711

CHORDS: list[list[int]] = [[40, 47, 52, 55, 59], [48, 52, 55, 60, 64], [43, 50, 55, 59, 67], [50, 57, 62, 66]]
ROOTS = [28, 36, 31, 38]

ACCEPTED: list[dict[str, Any]] = [
    {
        "names": ["Plate", "plate_print.flac"],
        "why": "The plate is printed onto its own return while its reverb and the send are left on, for recall.",
    },
    {
        "names": ["Gtr A DI", "Bass DI", "gtr_a_di.flac", "bass_di.flac"],
        "why": "The direct lines are left blended in low under their amplifiers (duller or thinner than these).",
    },
    {"names": ["Mix Bus", "Glue"], "why": "An opaque compressor on the mix, settings not shown."},
]

VERSE: list[tuple[float, float, int, str, str]] = [
    (0.5, 0.9, 59, "a", "h"), (1.5, 0.45, 62, "e", "t"), (2.0, 1.4, 64, "o", "n"),
    (4.5, 0.9, 64, "i", "s"), (5.5, 0.45, 62, "a", "m"), (6.0, 1.2, 59, "e", "l"),
    (8.5, 0.45, 59, "o", "k"), (9.0, 0.9, 62, "a", "l"), (10.0, 0.45, 64, "e", "n"), (10.5, 1.4, 66, "i", "f"),
    (12.5, 0.9, 66, "a", "t"), (13.5, 0.45, 64, "o", "m"), (14.0, 1.1, 62, "u", "s"),
]  # fmt: skip
REFRAIN: list[tuple[float, float, int, str, str]] = [
    (0.0, 1.4, 67, "o", "l"), (1.5, 0.45, 66, "a", "n"), (2.0, 1.3, 64, "i", "s"),
    (4.0, 1.4, 67, "e", "t"), (5.5, 0.45, 69, "a", "k"), (6.0, 1.3, 64, "o", "m"),
    (8.0, 1.4, 71, "a", "h"), (9.5, 0.45, 69, "i", "l"), (10.0, 1.3, 67, "e", "n"),
    (12.0, 0.9, 66, "o", "f"), (13.0, 0.9, 67, "a", "s"), (14.0, 3.4, 64, "a", "m"),
]  # fmt: skip


def _when(bar: float, beat: float = 0.0) -> float:
    """Time of a bar and beat, counted from 0."""
    return START + bar * BAR + beat * BEAT


def _hits() -> list[tuple[float, str, float]]:
    """What the drummer plays: two bars of intro, four of verse, four of refrain, a last stroke."""
    hits: list[tuple[float, str, float]] = []
    for bar in range(10):
        loud = bar >= 6
        for eighth in range(8):
            piece = "ride" if loud else "hat"
            if bar >= 1:
                hits.append((_when(bar, eighth / 2), piece, 1.0 if eighth % 2 == 0 else 0.7))
        if bar < 1:
            hits += [(_when(bar, b), "hat", 0.8) for b in range(4)]
            continue
        kicks = (0.0, 1.5, 2.0) if not loud else (0.0, 0.5, 2.0, 2.5)
        hits += [(_when(bar, b), "kick", 1.0 if b == 0 else 0.88) for b in kicks]
        if bar in (5, 9):
            hits += [(_when(bar, 1), "snare", 1.0), (_when(bar, 2.5), "tom", 0.8), (_when(bar, 3), "tom", 0.9)]
            hits += [(_when(bar, 3.25), "floor", 0.85), (_when(bar, 3.5), "floor", 1.0)]
        else:
            hits += [(_when(bar, 1), "snare", 1.0), (_when(bar, 3), "snare", 0.97)]
            if bar % 2:
                hits.append((_when(bar, 3.75), "snare", 0.35))
    hits += [(_when(6), "crash", 1.0), (_when(8), "crash", 0.8), (_when(10), "crash", 1.0), (_when(10), "kick", 1.0)]
    return hits


def _guitar(seed: int, early: float, brighter: float) -> Sound:
    """One take of the rhythm guitar as the pickup gives it."""
    rng = np.random.default_rng(seed)
    out = np.zeros(int(LENGTH_S * RATE))
    for bar in range(2, 10):
        chord = CHORDS[bar % 4]
        if bar < 6:
            for eighth in range(8):
                if eighth in (3, 6) and rng.random() < 0.8:
                    continue
                at = _when(bar, eighth / 2) + early + rng.normal(0, 0.006)
                touch = (0.75 if eighth % 4 else 0.95) * rng.uniform(0.85, 1.1)
                for k, note in enumerate(chord[:2]):
                    sound = sb.pluck(rng, RATE, sb.hertz(note), 0.19, brighter, 0.35, 0.1, 0.18)
                    sb.place(out, RATE, at + 0.004 * k, sound, touch)
        else:
            for beat, dur in ((0.0, 0.95), (1.0, 0.45), (1.5, 0.95), (2.5, 0.45), (3.0, 0.9)):
                at = _when(bar, beat) + early + rng.normal(0, 0.007)
                sb.strum(
                    rng, RATE, out, at, dur * BEAT, chord, 0.5 * rng.uniform(0.9, 1.1), beat != 1.5, brighter, 0.9, 0.18
                )
    sb.strum(rng, RATE, out, _when(10) + early, 2.2, CHORDS[0], 0.6, True, brighter, 0.9, 0.18)
    return out


def _bass(rng: np.random.Generator) -> Sound:
    """The bass line as the pickup gives it."""
    out = np.zeros(int(LENGTH_S * RATE))
    for bar in range(1, 10):
        root = ROOTS[bar % 4]
        steps = range(8) if bar >= 6 else (0, 1, 3, 4, 6, 7)
        for eighth in steps:
            note = root + (7 if eighth == 7 else 0)
            at = _when(bar, eighth / 2) + rng.normal(0.002, 0.005)
            sound = sb.pluck(rng, RATE, sb.hertz(note), 0.46 * BEAT, 0.6, 1.6, 0.2, 0.22)
            sb.place(out, RATE, at, sound, rng.uniform(0.8, 1.0))
    sb.place(out, RATE, _when(10), sb.pluck(rng, RATE, sb.hertz(28), 2.2, 0.6, 1.6, 0.2, 0.22), 0.9)
    return out


def _notes() -> list[Note]:
    """The tune in seconds."""
    first = [(_when(2, b), d * BEAT, m, v, c) for b, d, m, v, c in VERSE]
    return first + [(_when(6, b), d * BEAT, m, v, c) for b, d, m, v, c in REFRAIN]


def _plate(vocal: Sound) -> Sound:
    """The plate as the send of the singer feeds it (fader with its ride, −12 dB send), 22 ms of pre-delay."""
    rng = np.random.default_rng(SEED + 9)
    feed = sb.butter(vocal, RATE, "highpass", 95.0)
    times = [0.0, 12.0, 12.4, 22.5, 24.0]
    feed = feed * sb.gain(-12.0) * 10 ** (np.interp(np.arange(len(vocal)) / RATE, times, [0, 0, -1, -1, 0]) / 20)
    wet = sb.reverb(feed, sb.room(rng, RATE, 1.7, 0.9, 2, 0.022, 4.0), len(vocal)) * 0.9
    return np.asarray(wet / np.sqrt(np.mean(wet**2, axis=0, keepdims=True) / np.mean(wet**2)))


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    audio = folder / "audio"
    audio.mkdir()
    rng = np.random.default_rng(SEED)
    n = int(LENGTH_S * RATE)
    pieces = sb.kit(rng, RATE, n, _hits())
    pair = [sb.microphone(pieces, RATE, (x, -0.2, 1.75)) for x in (-0.55, 0.55)]
    far = [sb.microphone(pieces, RATE, (x, 3.4, 1.5)) for x in (-1.4, 1.4)]
    walls = sb.room(rng, RATE, 0.75, 0.4, 2, 0.0, 6.0)
    far_wide = sb.reverb(np.stack(far, 1), walls, n) * 0.8 + 0.7 * np.stack(far, 1)
    guitar_a, guitar_b = _guitar(SEED + 1, 0.0, 0.9), _guitar(SEED + 2, 0.004, 1.05)
    bass = _bass(np.random.default_rng(SEED + 3))
    vocal = sb.voice(np.random.default_rng(SEED + 4), RATE, n, _notes(), 1.02, 0.25)
    recorded: dict[str, tuple[Sound, float, float]] = {
        "kick": (sb.microphone(pieces, RATE, (0.0, 0.22, 0.33), "kick", 0.3), -8.0, -84),
        "snare_top": (sb.microphone(pieces, RATE, (-0.3, -0.42, 0.78), "snare", 0.3), -7.0, -83),
        "snare_btm": (sb.microphone(pieces, RATE, (-0.28, -0.4, 0.38), "wires", 0.3), -11.0, -82),
        "oh": (np.stack(pair, 1), -10.0, -84),
        "room": (far_wide, -13.0, -80),
        "bass_di": (bass, -10.5, -88),
        "bass_amp": (sb.amp(bass, RATE, 1.3, 3200.0, -3.0, 18.0), -9.0, -80),
        "gtr_a_di": (guitar_a, -13.0, -86),
        "gtr_a_amp": (sb.amp(guitar_a, RATE, 5.0), -10.0, -76),
        "gtr_b_amp": (sb.amp(guitar_b, RATE, 6.0, 5200.0, 1.0), -10.5, -76),
        "vox": (vocal, -8.0, -82),
    }
    paths = {}
    for name, (sound, peak, noise) in recorded.items():
        legs = 1 if sound.ndim == 1 else 2
        take = sb.fade(sb.to_peak(sound, peak) + sb.hiss(rng, n, noise, legs), RATE, 0.01, 0.4)
        sb.write(audio / f"{name}.flac", take, RATE)
        paths[name] = f"audio/{name}.flac"
        if name == "vox":
            sb.write(audio / "plate_print.flac", _plate(take), RATE)
    paths["plate"] = "audio/plate_print.flac"
    (folder / "night_ferry.session.json").write_text(json.dumps(_session(folder, paths), indent=1))


def _session(folder: Path, paths: dict[str, str]) -> dict[str, Any]:
    """The session as the engineer left it."""

    def track(name: str, file: str, fader: float, out: str, pan: float = 0.0, legs: int = 1) -> dict[str, Any]:
        """A track whose file plays as a whole."""
        return {
            "id": file, "name": name, "kind": "track", "plays": ["audio"], "legs": legs, "fader_db": fader, "pan": pan,
            "output": out, "clips": [sb.clip(file, 0.0, LENGTH_S)], "sends": [], "inserts": [], "automation": [],
        }  # fmt: skip

    eq_low = {"kind": "high-pass", "freq_hz": 95.0, "slope_db_per_oct": 12}
    vox = track("Lead Vox", "vox", 0.0, "mix")
    vox["clips"] = [sb.clip("vox", 4.0, 12.35, 4.0, 0.0, 0.02), sb.clip("vox", 12.35, 22.6, 12.35, 0.0, 0.02)]
    vox["sends"] = [{"to": "plate", "level_db": -12.0, "tap": "post"}]
    vox["inserts"] = [{"name": "EQ", "kind": "equalizer", "opaque": False, "equalizer": {"bands": [eq_low]}}]
    vox["automation"] = [
        {
            "target": "fader",
            "scale": "dB",
            "shape": "linear",
            "t": [0.0, 12.0, 12.4, 22.5, 24.0],
            "v": [0, 0, -1, -1, 0],
        }
    ]
    bass = track("Bass Amp", "bass_amp", -5.0, "mix")
    bass["inserts"] = [
        {
            "name": "Comp", "kind": "compressor", "opaque": False,
            "dynamics": {"threshold_db": -18.0, "ratio": 3.0, "attack_ms": 15.0, "release_ms": 120.0,
                         "output_gain_db": 2.0, "auto_makeup": False},
        }
    ]  # fmt: skip
    channels = [
        track("Kick", "kick", 0.0, "drums"),
        track("Snare Top", "snare_top", 1.0, "drums"),
        track("Snare Btm", "snare_btm", -6.0, "drums"),
        track("OH", "oh", -1.0, "drums", legs=2),
        track("Room", "room", -6.0, "drums", legs=2),
        {"id": "drums", "name": "Drums", "kind": "group", "legs": 2, "fader_db": 0.0, "output": "mix"},
        track("Bass DI", "bass_di", -15.0, "mix"),
        bass,
        track("Gtr A DI", "gtr_a_di", -18.0, "mix", -55),
        track("Gtr A Amp", "gtr_a_amp", -6.5, "mix", -70),
        track("Gtr B Amp", "gtr_b_amp", -6.0, "mix", 70),
        vox,
        {
            "id": "plate", "name": "Plate", "kind": "return", "legs": 2, "fader_db": 0.0, "output": "mix",
            "clips": [sb.clip("plate", 0.0, LENGTH_S)],
            "inserts": [{"name": "Plate", "kind": "reverb", "opaque": True, "wet": 100.0, "pre_delay_ms": 22.0}],
        },
        {
            "id": "mix", "name": "Mix Bus", "kind": "master", "legs": 2, "output": None,
            "inserts": [{"name": "Glue", "kind": "compressor", "opaque": True}],
        },
    ]  # fmt: skip
    return {
        "format": "mixlint-session/1",
        "title": "Night Ferry",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"bpm": BPM}]},
        "markers": [
            {"time_s": _when(0), "name": "Intro"},
            {"time_s": _when(2), "name": "Verse"},
            {"time_s": _when(6), "name": "Refrain"},
            {"time_s": _when(10), "name": "End"},
        ],
        "channels": channels,
        "media": sb.media(folder, paths),
    }


def _bottom_turned(folder: Path) -> None:
    """The lower snare microphone stands the other way round."""
    sb.change_file(folder / "audio" / "snare_btm.flac", lambda x, _: -x)


def _amp_late(folder: Path) -> None:
    """The guitar was sent through the amplifier again and nobody took out the way there and back."""

    def late(x: Sound, rate: int) -> Sound:
        lag = int(0.0167 * rate)
        return np.concatenate([x[rate // 9 : rate // 9 + lag], x[:-lag]])

    sb.change_file(folder / "audio" / "gtr_a_amp.flac", late)


def _vocal_overloaded(folder: Path) -> None:
    """The preamp is overloaded in the refrain and the converter has turned it down."""

    def squash(x: Sound, rate: int) -> Sound:
        a, b = int(12.36 * rate), int(22.4 * rate)
        ceiling = 0.6 * float(np.max(np.abs(x[a:b])))
        x[a:b] = np.clip(x[a:b] * 1.25, -ceiling, 0.94 * ceiling)
        return x

    sb.change_file(folder / "audio" / "vox.flac", squash)


def _plate_with_dry(folder: Path) -> None:
    """The plate was printed with its mix control in the middle."""
    audio = folder / "audio"
    dry, _ = sb.read(audio / "vox.flac")
    feed = sb.butter(dry, RATE, "highpass", 95.0) * sb.gain(-12.0)
    sb.change_file(audio / "plate_print.flac", lambda x, _: 0.7 * x + 0.9 * feed[:, None])


def _guitar_copied(folder: Path) -> None:
    """The second guitar is the first one, slid and turned down."""
    audio = folder / "audio"
    first, rate = sb.read(audio / "gtr_a_amp.flac")
    lag = int(0.0113 * rate)
    sb.write(audio / "gtr_b_amp.flac", 0.84 * np.concatenate([np.zeros(lag), first[:-lag]]), rate)


def _bass_hum(folder: Path) -> None:
    """A ground loop on the direct line of the bass."""

    def hum(x: Sound, rate: int) -> Sound:
        t = np.arange(len(x)) / rate
        parts = ((50, 1.0), (100, 0.35), (150, 0.8), (250, 0.5), (350, 0.3), (450, 0.2))
        tone = np.sum([a * np.sin(2 * np.pi * f * 1.0004 * t + f) for f, a in parts], axis=0)
        return np.asarray(x + sb.gain(-43.0) * tone)

    sb.change_file(folder / "audio" / "bass_di.flac", hum)


def _last_word_cut(folder: Path) -> None:
    """The last clip of the singer ends within the held last word."""

    def cut(session: dict[str, Any]) -> None:
        sb.channel_of(session, "Lead Vox")["clips"][1].update(end_s=20.72, fade_out_s=0.003)

    sb.change_session(folder, cut)


def _drums_overload(folder: Path) -> None:
    """All microphones of the kit went up together by 12 dB."""

    def up(session: dict[str, Any]) -> None:
        for name in ("Kick", "Snare Top", "Snare Btm", "OH", "Room"):
            sb.channel_of(session, name)["fader_db"] += 12.0

    sb.change_session(folder, up)


def _voice_buried(folder: Path) -> None:
    """The ride of the singer's fader falls where it should rise."""

    def down(session: dict[str, Any]) -> None:
        ride = sb.channel_of(session, "Lead Vox")["automation"][0]
        ride.update(t=[0.0, 12.0, 12.4, 22.5, 24.0], v=[0, 0, -22.5, -22.5, 0])

    sb.change_session(folder, down)


def _kick_crackles(folder: Path) -> None:
    """A bad cable at the kick's microphone."""

    def crackle(x: Sound, rate: int) -> Sound:
        rng = np.random.default_rng(5)
        for at, dur in ((7.35, 0.35), (9.6, 0.2), (14.1, 0.5), (18.45, 0.3)):
            a, b = int(at * rate), int((at + dur) * rate)
            spots = rng.random(b - a) < 0.004
            x[a:b] += spots * rng.choice([-1.0, 1.0], b - a) * rng.uniform(0.06, 0.28, b - a)
        return np.clip(x, -0.95, 0.95)

    sb.change_file(folder / "audio" / "kick.flac", crackle)


FAULTS: list[dict[str, Any]] = [
    {
        "id": "snare-bottom-polarity",
        "class": "polarity between microphones",
        "names": ["Snare Btm", "snare_btm.flac", "Snare Top", "snare_top.flac"],
        "grade": "hold",
        "says": "The lower snare microphone is polarity-flipped against the upper one: the body at 180 Hz thins out.",
        "time_s": None,
        "cure": "Turn the polarity of Snare Btm.",
        "plant": _bottom_turned,
    },
    {
        "id": "guitar-amp-late",
        "class": "time between two ways of one performance",
        "names": ["Gtr A Amp", "gtr_a_amp.flac", "Gtr A DI", "gtr_a_di.flac"],
        "grade": "look",
        "says": "The amplifier of guitar A comes 16.7 ms after its direct line throughout.",
        "time_s": None,
        "cure": "Slide the amplifier's clip 16.7 ms earlier.",
        "plant": _amp_late,
    },
    {
        "id": "vocal-preamp-overload",
        "class": "overload below full scale",
        "names": ["Lead Vox", "vox.flac"],
        "grade": "hold",
        "says": "From 12.4 s the voice is flat-topped at about −13 dBFS: its preamp was overloaded in the refrain.",
        "time_s": (12.3, 22.4),
        "cure": "Record the refrain again, or repair the clipped peaks.",
        "plant": _vocal_overloaded,
    },
    {
        "id": "plate-print-with-dry",
        "class": "dry signal in a printed return",
        "names": ["Plate", "plate_print.flac"],
        "grade": "hold",
        "says": "The print of the plate holds the dry voice, with no delay and about as loud as the wet part.",
        "time_s": None,
        "cure": "Print the plate again wholly wet.",
        "plant": _plate_with_dry,
    },
    {
        "id": "guitar-double-is-copy",
        "class": "copy in place of a second take",
        "names": ["Gtr B Amp", "gtr_b_amp.flac"],
        "grade": "hold",
        "says": "Guitar B is guitar A itself, 11.3 ms later and 1.5 dB lower: the real double is missing.",
        "time_s": None,
        "cure": "Bring the real second take.",
        "plant": _guitar_copied,
    },
    {
        "id": "bass-di-hum",
        "class": "mains hum",
        "names": ["Bass DI", "bass_di.flac"],
        "grade": "look",
        "says": "A 50 Hz hum with harmonics at about −43 dBFS runs under the bass's direct line, plain before 2.5 s.",
        "time_s": (0.0, 24.0),
        "cure": "Use the amplifier alone, or take the hum out.",
        "plant": _bass_hum,
    },
    {
        "id": "last-word-cut-by-clip",
        "class": "cut-off by a clip",
        "names": ["Lead Vox", "vox.flac"],
        "grade": "hold",
        "says": "The last clip of the voice ends at 20.7 s in the held last word, though the file sings on to 22.0 s.",
        "time_s": (20.6, 22.1),
        "cure": "Draw the clip out to 22.6 s.",
        "plant": _last_word_cut,
    },
    {
        "id": "drum-bus-overload",
        "class": "bus overloaded",
        "names": ["Drums", "Mix Bus"],
        "grade": "hold",
        "says": "The drum group adds up to several decibels over 0 dBFS on the strokes, and the mix with it.",
        "time_s": None,
        "cure": "Take the kit's faders down by 12 dB.",
        "plant": _drums_overload,
    },
    {
        "id": "voice-buried-in-refrain",
        "class": "a part buried in a section",
        "names": ["Lead Vox", "vox.flac"],
        "grade": "look",
        "says": "From 12.4 to 22.5 s the lead voice drops by 21.5 dB and goes under in the guitars: wrong ride.",
        "time_s": (12.3, 22.5),
        "cure": "Set the ride of the refrain back to −1 dB.",
        "plant": _voice_buried,
    },
    {
        "id": "kick-cable-crackle",
        "class": "crackling cable",
        "names": ["Kick", "kick.flac"],
        "grade": "hold",
        "says": "The kick's microphone crackles at 7.4 s, 9.6 s, 14.1 s and 18.5 s, up to −11 dBFS: a bad cable.",
        "time_s": (7.3, 18.8),
        "cure": "Cut the crackles out or replace the strokes; change the cable.",
        "plant": _kick_crackles,
    },
]
