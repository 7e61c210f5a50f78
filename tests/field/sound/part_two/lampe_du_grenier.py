"""La lampe du grenier: a spoken song for two, with guitar, double bass, viola and rain, its returns printed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
from scipy import signal

from tests.field.sound import sounds_by_b as sb
from tests.field.sound.sounds_by_b import Note, Sound

KIND = "session"
RATE = 48_000
LENGTH_S = 24.0
N = int(LENGTH_S * RATE)
BPM = 84.0
BEAT = 60.0 / BPM
BAR = 4 * BEAT
START = 0.4
SEED = 1312
ROOM_SEND = {"lav": -15.0, "elle": -12.0}
ECHO_SEND = -11.0
FADERS = {"lav": -3.0, "perche": -12.0, "elle": -3.0}

ACCEPTED: list[dict[str, Any]] = [
    {
        "names": ["Pièce", "Écho", "Pièce PRINT", "Écho PRINT"],
        "why": "The live returns are muted beside their prints; the sends to them are left on for recall.",
    },
    {"names": ["Pluie", "pluie.wav"], "why": "Rain: wide noise with small drops, on purpose."},
    {
        "names": ["Narrateur col", "Narrateur perche", "narrateur_col.wav", "narrateur_perche.wav"],
        "why": "Clip-on and boom hear one speaker, the boom 1.8 ms later as it hangs 0.6 m away.",
    },
]

CHORDS = [[45, 52, 57, 60, 64], [41, 53, 57, 60, 65], [48, 52, 55, 60, 64], [43, 50, 55, 59, 62]]
HE = [(1.2, 15), (4.9, 16), (13.1, 15), (16.75, 7)]
SHE: list[tuple[float, float, float, str, str]] = [
    (8.6, 0.42, 57, "a", "m"), (9.05, 0.3, 60, "i", "s"), (9.4, 0.75, 62, "o", "l"),
    (10.35, 0.3, 60, "e", "t"), (10.7, 0.3, 59, "a", "k"), (11.05, 1.0, 57, "u", "n"),
    (18.9, 0.42, 57, "o", "p"), (19.35, 0.3, 60, "a", "t"), (19.7, 0.7, 64, "i", "l"),
    (20.5, 0.3, 62, "e", "s"), (20.85, 0.34, 60, "a", "m"), (21.25, 1.15, 57, "a", "n"),
]  # fmt: skip


def _when(bar: float, beat: float = 0.0) -> float:
    """Time of a bar and beat."""
    return START + bar * BAR + beat * BEAT


def _spoken(rng: np.random.Generator) -> list[Note]:
    """Syllables of the narrator: quick, falling at the end of a phrase."""
    rows: list[Note] = []
    for start, count in HE:
        at = start
        for k in range(count):
            last = k == count - 1
            dur = 0.34 if last else float(rng.uniform(0.11, 0.2))
            accent = 2.2 if k % 4 == 1 else 0.0
            pitch = 47.0 - 3.5 * k / count + accent + rng.normal(0, 0.6) - (2.0 if last else 0.0)
            vowel = "aeiou"[int(rng.choice(5, p=[0.3, 0.3, 0.15, 0.15, 0.1]))]
            consonant = str(rng.choice(["s", "t", "k", "m", "n", "l", "f", "p", "ch", ""]))
            rows.append((at, dur, pitch, vowel, consonant))
            at += dur + float(rng.uniform(0.02, 0.05)) + (0.16 if k == count // 2 else 0.0)
    return rows


def _guitar(rng: np.random.Generator) -> Sound:
    """Nylon strings, broken chords with rests."""
    out = np.zeros(N)
    for bar in range(7):
        chord = CHORDS[bar % 4]
        for eighth, string in enumerate((0, 2, 3, 4, 3, 2, 4, 3)):
            if rng.random() < 0.1 and eighth > 1:
                continue
            at = _when(bar, eighth / 2) + rng.normal(0, 0.008)
            sound = sb.pluck(rng, RATE, sb.hertz(chord[string]), 1.1, 0.55, 0.7, 0.22)
            sb.place(out, RATE, at, sound, (0.9 if eighth == 0 else 0.55) * rng.uniform(0.85, 1.1))
    sb.strum(rng, RATE, out, _when(7), 3.0, CHORDS[0], 0.55, True, 0.5, 0.8)
    for f, db, q in ((105, 5, 3), (208, 4, 4), (420, 2, 3), (3100, -3, 1)):
        out = sb.peak_filter(out, RATE, f, db, q)
    return out


def _bass(rng: np.random.Generator) -> Sound:
    """Double bass, plucked."""
    out = np.zeros(N)
    for bar in range(1, 8):
        root = (33, 29, 36, 31)[bar % 4]
        for beat, note in ((0.0, root), (2.0, root + 7), (3.5, root)) if bar < 7 else ((0.0, 33),):
            sound = sb.pluck(rng, RATE, sb.hertz(note), 1.25 if bar < 7 else 2.6, 0.45, 1.0, 0.3)
            sb.place(out, RATE, _when(bar, beat) + rng.normal(0.004, 0.007), sound, rng.uniform(0.8, 1.0))
    out = sb.peak_filter(out, RATE, 98.0, 4.0, 2.0)
    return sb.butter(sb.butter(out, RATE, "lowpass", 2600.0), RATE, "highpass", 30.0)


def _viola(rng: np.random.Generator) -> Sound:
    """One viola under the second verse."""
    lines = ((3, 2.0, 2.0, 60), (4, 0.0, 4.0, 64), (5, 0.0, 4.0, 65), (6, 0.0, 2.0, 64), (6, 2.0, 2.0, 62))
    rows = [(_when(bar, beat), dur * BEAT * 0.97, float(note)) for bar, beat, dur, note in lines]
    rows.append((_when(7), 2.4, 60.0))
    return sb.bowed(rng, RATE, N, rows, 1, ((230, 5, 4), (400, 4, 5), (1100, 4, 2)), 0.2)


def _rain(rng: np.random.Generator) -> Sound:
    """Rain on a roof: wide noise and soft drops."""
    out = sb.butter(rng.standard_normal((N, 2)), RATE, "bandpass", (500, 6000), 1)
    out += 0.8 * sb.butter(rng.standard_normal((N, 2)), RATE, "lowpass", 700.0, 1)
    out *= (1 + 0.12 * sb.smooth_noise(rng, N, RATE))[:, None]
    for _ in range(300):
        n = int(0.03 * RATE)
        t = np.arange(n) / RATE
        drop = np.sin(2 * np.pi * rng.uniform(900, 2600) * t) * np.exp(-t / 0.005) * np.minimum(1, t / 0.001)
        a = int(rng.integers(0, N - n))
        out[a : a + n] += sb.spread(drop, rng.uniform(-0.9, 0.9)) * rng.uniform(0.5, 1.6)
    return sb.butter(out, RATE, "highpass", 120.0)


def _room_print(lav: Sound, elle: Sound) -> Sound:
    """The return of the room, as its two sends feed it."""
    feed = lav * sb.gain(FADERS["lav"] + ROOM_SEND["lav"]) + elle * sb.gain(FADERS["elle"] + ROOM_SEND["elle"])
    feed = sb.butter(feed, RATE, "highpass", 160.0)
    wet = sb.reverb(feed, sb.room(np.random.default_rng(SEED + 20), RATE, 1.5, 0.8, 2, 0.015, 5.0), N)
    return np.asarray(wet / np.sqrt(np.mean(wet**2, axis=0, keepdims=True) / np.mean(wet**2)))


def _echo_print(elle: Sound) -> Sound:
    """The return of the echo: dotted eighths, each duller than the one before."""
    feed = sb.butter(elle * sb.gain(FADERS["elle"] + ECHO_SEND), RATE, "highpass", 200.0)
    lag = round(0.75 * BEAT * RATE)
    out = np.zeros(N)
    for k in range(1, 5):
        feed = sb.butter(feed, RATE, "lowpass", 3800.0, 1)
        out[k * lag :] += 0.45 ** (k - 1) * feed[: N - k * lag]
    return sb.fade(out, RATE, 0.0, 0.9)


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    audio = folder / "audio"
    audio.mkdir()
    rng = np.random.default_rng(SEED)
    said = sb.voice(np.random.default_rng(SEED + 1), RATE, N, _spoken(rng), 0.96, 0.0, True, 0.06)
    elle = sb.voice(np.random.default_rng(SEED + 2), RATE, N, SHE, 1.15, 0.18, False, 0.08)
    lag = round(0.62 / sb.SPEED_OF_SOUND * RATE)
    near = sb.room(np.random.default_rng(SEED + 3), RATE, 0.32, 0.2, 1, 0.0, 3.0)
    far = np.concatenate([np.zeros(lag), said[:-lag]])
    boom = far + 0.22 * sb.reverb(far, near, N)
    worn = sb.butter(sb.peak_filter(said, RATE, 720.0, 3.5, 1.2), RATE, "lowpass", 11_000.0, 1)
    files: dict[str, tuple[str, Sound]] = {
        "lav": ("narrateur_col.wav", sb.to_peak(worn, -9.0) + sb.hiss(rng, N, -79)),
        "perche": ("narrateur_perche.wav", sb.to_peak(boom, -11.0) + sb.hiss(rng, N, -77)),
        "elle": ("narratrice.wav", sb.to_peak(elle, -8.5) + sb.hiss(rng, N, -82)),
        "guitare": ("guitare.wav", sb.to_peak(_guitar(rng), -11.0) + sb.hiss(rng, N, -80)),
        "basse": ("contrebasse.wav", sb.to_peak(_bass(rng), -10.0) + sb.hiss(rng, N, -82)),
        "alto": ("violon_alto.wav", sb.to_peak(_viola(rng), -14.0) + sb.hiss(rng, N, -80)),
        "pluie": ("pluie.wav", sb.to_peak(_rain(rng), -18.0)),
    }
    paths, kept = {}, {}
    for key, (name, sound) in files.items():
        kept[key] = sb.fade(sound, RATE, 0.02, 0.7)
        sb.write(audio / name, kept[key], RATE)
        paths[key] = f"audio/{name}"
    sb.write(audio / "piece_print.wav", _room_print(kept["lav"], kept["elle"]), RATE)
    sb.write(audio / "echo_print.wav", _echo_print(kept["elle"]), RATE)
    paths |= {"piece": "audio/piece_print.wav", "echo": "audio/echo_print.wav"}
    (folder / "lampe_du_grenier.session.json").write_text(json.dumps(_session(folder, paths), indent=1))


def _session(folder: Path, paths: dict[str, str]) -> dict[str, Any]:
    """The session as the engineer left it."""

    def track(name: str, file: str, fader: float, out: str, pan: float = 0.0, legs: int = 1) -> dict[str, Any]:
        """A track whose file plays as a whole."""
        return {
            "id": file, "name": name, "kind": "track", "plays": ["audio"], "legs": legs, "fader_db": fader, "pan": pan,
            "output": out, "clips": [sb.clip(file, 0.0, LENGTH_S)], "sends": [], "inserts": [], "automation": [],
        }  # fmt: skip

    lav = track("Narrateur col", "lav", FADERS["lav"], "voix")
    lav["sends"] = [{"to": "r1", "level_db": ROOM_SEND["lav"], "tap": "post"}]
    elle = track("Narratrice", "elle", FADERS["elle"], "voix")
    elle["clips"] = [sb.clip("elle", 7.8, 13.0, 7.8, 0.0, 0.05), sb.clip("elle", 18.2, 23.2, 18.2, 0.0, 0.05)]
    elle["sends"] = [
        {"to": "r1", "level_db": ROOM_SEND["elle"], "tap": "post"},
        {"to": "r2", "level_db": ECHO_SEND, "tap": "post"},
    ]
    guitar = track("Guitare", "guitare", -9.0, "mix", -25)
    guitar["inserts"] = [
        {
            "name": "Correcteur", "kind": "equalizer", "opaque": False,
            "equalizer": {"bands": [{"kind": "high-pass", "freq_hz": 70.0, "slope_db_per_oct": 12},
                                    {"kind": "bell", "freq_hz": 2200.0, "gain_db": -2.5, "q": 1.0}]},
        }
    ]  # fmt: skip
    rain = track("Pluie", "pluie", -18.0, "mix", legs=2)
    rain["automation"] = [
        {
            "target": "fader",
            "scale": "dB",
            "shape": "linear",
            "t": [0.0, 0.8, 1.6, 22.0, 24.0],
            "v": [-12, -12, -18, -18, -12],
        }
    ]
    channels = [
        lav,
        track("Narrateur perche", "perche", FADERS["perche"], "voix"),
        elle,
        {
            "id": "voix", "name": "Voix", "kind": "group", "legs": 2, "fader_db": 0.0, "output": "mix",
            "inserts": [{"name": "Niveleur", "kind": "compressor", "opaque": True}],
        },
        guitar,
        track("Contrebasse", "basse", -9.0, "mix"),
        track("Alto", "alto", -14.0, "mix", 35),
        rain,
        track("Pièce PRINT", "piece", 0.0, "mix", legs=2),
        track("Écho PRINT", "echo", 0.0, "mix", 20),
        {
            "id": "r1", "name": "Pièce", "kind": "return", "legs": 2, "fader_db": 0.0, "mute": True, "output": "mix",
            "inserts": [
                {"name": "Coupe-bas", "kind": "equalizer", "opaque": False, "equalizer": {"bands": [
                    {"kind": "high-pass", "freq_hz": 160.0, "slope_db_per_oct": 12}]}},
                {"name": "Pièce", "kind": "reverb", "opaque": True, "wet": 100.0, "pre_delay_ms": 15.0},
            ],
        },
        {
            "id": "r2", "name": "Écho", "kind": "return", "legs": 1, "fader_db": 0.0, "mute": True, "output": "mix",
            "inserts": [{"name": "Écho", "kind": "delay", "opaque": True, "wet": 100.0}],
        },
        {"id": "mix", "name": "Mixage", "kind": "master", "legs": 2, "output": None},
    ]  # fmt: skip
    return {
        "format": "mixlint-session/1",
        "title": "La lampe du grenier",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"bpm": BPM}]},
        "markers": [
            {"time_s": 1.0, "name": "Couplet 1"},
            {"time_s": 8.4, "name": "Elle 1"},
            {"time_s": 12.9, "name": "Couplet 2"},
            {"time_s": 18.7, "name": "Elle 2"},
        ],
        "channels": channels,
        "media": sb.media(folder, paths),
    }


def _print_late(folder: Path) -> None:
    """The room was printed over outboard and nobody took out the way there and back."""

    def late(x: Sound, rate: int) -> Sound:
        lag = int(0.094 * rate)
        return np.concatenate([np.zeros((lag, 2)), x[:-lag]])

    sb.change_file(folder / "audio" / "piece_print.wav", late)


def _echo_of_him(folder: Path) -> None:
    """The echo was printed while the wrong track was on."""
    lav, rate = sb.read(folder / "audio" / "narrateur_col.wav")
    sb.write(folder / "audio" / "echo_print.wav", _echo_print(lav), rate)


def _print_booms(folder: Path) -> None:
    """The low cut before the room was left out and the room booms."""

    def boom(x: Sound, rate: int) -> Sound:
        audio = folder / "audio"
        lav, elle = sb.read(audio / "narrateur_col.wav")[0], sb.read(audio / "narratrice.wav")[0]
        low = sb.butter(lav * sb.gain(-18.0) + elle * sb.gain(-15.0), rate, "bandpass", (75, 165))
        t = np.arange(int(2.2 * rate)) / rate
        rng = np.random.default_rng(8)
        legs = []
        for _ in (0, 1):
            tail = sum(np.sin(2 * np.pi * f * t + rng.uniform(0, 6)) for f in (82, 97, 110, 121, 133, 146)) * np.exp(
                -t / 0.42
            )
            tail[: int(0.015 * rate)] = 0
            legs.append(signal.oaconvolve(low, tail)[: len(x)])
        wet = np.stack(legs, 1)
        wet *= 1.6 * np.sqrt(np.mean(x**2) / np.mean(wet**2))
        return x + wet

    sb.change_file(folder / "audio" / "piece_print.wav", boom)


def _tail_cut(folder: Path) -> None:
    """The print of the room was stopped too soon, in the last word's tail."""
    stop = 22.31
    sb.change_file(folder / "audio" / "piece_print.wav", lambda x, rate: x[: int(stop * rate)])

    def shorten(session: dict[str, Any]) -> None:
        sb.channel_of(session, "Pièce PRINT")["clips"][0].update(end_s=stop, fade_out_s=0.0)
        next(m for m in session["media"] if m["id"] == "piece")["duration_s"] = int(stop * RATE) / RATE

    sb.change_session(folder, shorten)


def _rain_swallows(folder: Path) -> None:
    """The ride of the rain stays up under the second verse."""

    def up(session: dict[str, Any]) -> None:
        ride = sb.channel_of(session, "Pluie")["automation"][0]
        ride.update(t=[0.0, 0.8, 1.6, 12.6, 13.0, 18.0, 18.5, 24.0], v=[-12, -12, -18, -18, 5, 5, -18, -12])

    sb.change_session(folder, up)


def _clip_on_drifts(folder: Path) -> None:
    """The recorder of the clip-on microphone ran on its own clock."""

    def drift(x: Sound, _: int) -> Sound:
        n = np.arange(len(x))
        return np.interp(n * (1 - 0.0013), n, x)

    sb.change_file(folder / "audio" / "narrateur_col.wav", drift)


def _phone_buzz(folder: Path) -> None:
    """A telephone beside the transmitter."""

    def buzz(x: Sound, rate: int) -> Sound:
        for at, dur in ((3.9, 0.8), (5.1, 0.35), (12.05, 1.0)):
            n = int(dur * rate)
            t = np.arange(n) / rate
            burst = ((t * 216.7) % 1.0 < 0.125).astype(float) - 0.125
            rhythm = ((t * 8.3) % 1.0 < 0.62).astype(float)
            burst = sb.butter(burst * rhythm, rate, "bandpass", (180, 5500), 1)
            sb.place(x, rate, at, sb.to_peak(burst, -27.0))
        return x

    sb.change_file(folder / "audio" / "narrateur_col.wav", buzz)


def _clip_slipped(folder: Path) -> None:
    """The content of her second clip has slipped: it plays a stretch from before."""

    def slip(session: dict[str, Any]) -> None:
        sb.channel_of(session, "Narratrice")["clips"][1]["offset_s"] = 9.18

    sb.change_session(folder, slip)


def _gate_bites(folder: Path) -> None:
    """A gate in the recording way opens too late and shuts too soon."""

    def gate(x: Sound, rate: int) -> Sound:
        level = signal.lfilter([0.004], [1, -0.996], np.abs(x))
        wide = level > 0.45 * np.percentile(level[level > 0.003], 90)
        smooth = signal.lfilter([0.01], [1, -0.99], wide.astype(float))
        return np.asarray(x * (0.003 + 0.997 * smooth))

    sb.change_file(folder / "audio" / "narrateur_perche.wav", gate)


def _plosives(folder: Path) -> None:
    """She stood too close without a pop screen."""

    def pops(x: Sound, rate: int) -> Sound:
        rng = np.random.default_rng(3)
        for at in (8.57, 9.37, 10.33, 18.86, 19.33, 20.48):
            t = np.arange(int(0.16 * rate)) / rate
            f = rng.uniform(22, 34)
            thump = np.sin(2 * np.pi * f * t) * np.exp(-t / 0.045) * np.minimum(1, t / 0.004)
            thump += 0.15 * sb.butter(rng.standard_normal(len(t)), rate, "lowpass", 180.0) * np.exp(-t / 0.03)
            thump[-800:] *= np.linspace(1, 0, 800)
            sb.place(x, rate, at - 0.02, sb.to_peak(thump, -6.0))
        return np.clip(x, -0.98, 0.98)

    sb.change_file(folder / "audio" / "narratrice.wav", pops)


FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-print-late",
        "class": "printed return late",
        "names": ["Pièce PRINT", "piece_print.wav"],
        "grade": "hold",
        "says": "The print of the room begins 109 ms after the voices, though its pre-delay is 15 ms: 94 ms late.",
        "time_s": None,
        "cure": "Slide the print 94 ms earlier.",
        "plant": _print_late,
    },
    {
        "id": "echo-of-the-wrong-part",
        "class": "printed return of the wrong part",
        "names": ["Écho PRINT", "echo_print.wav"],
        "grade": "hold",
        "says": "The print of the echo repeats the narrator and not the narratrice, whose send feeds it.",
        "time_s": None,
        "cure": "Print the echo again from the narratrice.",
        "plant": _echo_of_him,
    },
    {
        "id": "room-print-booms",
        "class": "low end in a printed return",
        "names": ["Pièce PRINT", "piece_print.wav"],
        "grade": "look",
        "says": "The print of the room booms at 80 to 150 Hz, louder than the rest of it, in spite of the low cut.",
        "time_s": None,
        "cure": "Print the room again with the low cut on.",
        "plant": _print_booms,
    },
    {
        "id": "room-print-tail-cut",
        "class": "printed return cut",
        "names": ["Pièce PRINT", "piece_print.wav"],
        "grade": "hold",
        "says": "The print of the room breaks off at 22.31 s in full tail, while the last word is still sung.",
        "time_s": (22.2, 24.0),
        "cure": "Print the room again to the end of the song.",
        "plant": _tail_cut,
    },
    {
        "id": "rain-swallows-narrator",
        "class": "ambience swallowing a part",
        "names": ["Pluie", "pluie.wav"],
        "grade": "look",
        "says": "From 13 to 18 s the rain stands 23 dB higher than before and swallows the narrator's second verse.",
        "time_s": (12.6, 18.5),
        "cure": "Take the rain's ride down to −18 dB under the verse.",
        "plant": _rain_swallows,
    },
    {
        "id": "clip-on-drifts",
        "class": "clock drift",
        "names": ["Narrateur col", "narrateur_col.wav", "Narrateur perche", "narrateur_perche.wav"],
        "grade": "hold",
        "says": "The clip-on drifts against the boom: together at the start, about 23 ms late at 18 s (0.13 % slow).",
        "time_s": None,
        "cure": "Stretch the clip-on's file by −0.13 %.",
        "plant": _clip_on_drifts,
    },
    {
        "id": "phone-buzz",
        "class": "interference",
        "names": ["Narrateur col", "narrateur_col.wav"],
        "grade": "hold",
        "says": "A telephone's 217 Hz buzz in the clip-on at 3.9 s, 5.1 s and 12.1 s, peaks at −27 dBFS.",
        "time_s": (3.8, 13.1),
        "cure": "Use the boom there; mute the clip-on in the pause.",
        "plant": _phone_buzz,
    },
    {
        "id": "clip-content-slipped",
        "class": "wrong stretch of the file",
        "names": ["Narratrice", "narratrice.wav"],
        "grade": "hold",
        "says": "Her second clip at 18.2 s plays the first verse again from 9.18 s, starting within a word.",
        "time_s": (18.1, 23.3),
        "cure": "Set the clip's offset to 18.2 s.",
        "plant": _clip_slipped,
    },
    {
        "id": "gate-bites-words",
        "class": "gate in the recording",
        "names": ["Narrateur perche", "narrateur_perche.wav"],
        "grade": "look",
        "says": "A gate chops the boom: soft starts and ends of words are gone, the room falls dead between them.",
        "time_s": None,
        "cure": "Get the ungated recording, or rely on the clip-on.",
        "plant": _gate_bites,
    },
    {
        "id": "plosive-thumps",
        "class": "plosives",
        "names": ["Narratrice", "narratrice.wav"],
        "grade": "look",
        "says": "Plosive thumps at 20 to 35 Hz up to −6 dBFS in her voice, at 8.6 s, 9.4 s, 10.3 s, 18.9 s and on.",
        "time_s": (8.5, 20.7),
        "cure": "Cut her voice below 80 Hz and pull the thumps down.",
        "plant": _plosives,
    },
]
