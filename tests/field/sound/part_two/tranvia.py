"""Tranvía: a band song handed over as stems, with the print of the mix and the printed returns beside them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound import sounds_by_b as sb
from tests.field.sound.sounds_by_b import Note, Sound

KIND = "stems"
RATE = 44_100
LENGTH_S = 20.3
N = int(LENGTH_S * RATE)
BPM = 98.0
BEAT = 60.0 / BPM
BAR = 4 * BEAT
START = 0.35
SEED = 77

DRUMS = "Tranvia - Bateria.wav"
BASS = "Tranvia - Bajo.wav"
ELECTRIC = "Tranvia - Guitarras electricas.wav"
ACOUSTIC = "Tranvia - Guitarra acustica.wav"
LEAD = "Tranvia - Voz.wav"
CHORUS = "Tranvia - Coros.wav"
REVERB = "Tranvia - Voz reverb (retorno).wav"
ECHO = "Tranvia - Voz eco (retorno).wav"
MIX = "Tranvia - MEZCLA.wav"

ACCEPTED: list[dict[str, Any]] = [
    {
        "names": [CHORUS],
        "why": "The backing voices sing in the refrain only, from 10.1 s on, and are silent before it.",
    },
    {"names": [REVERB, ECHO], "why": "The returns are wholly wet and so come after the voice (18 ms, 459 ms)."},
]

CHORDS = [[43, 50, 55, 59, 62, 67], [40, 47, 52, 55, 59, 64], [48, 52, 55, 60, 64], [50, 57, 62, 66]]
ROOTS = [31, 28, 36, 38]
VERSE: list[tuple[float, float, int, str, str]] = [
    (0.0, 0.45, 62, "e", "s"), (0.5, 0.45, 64, "a", "n"), (1.0, 1.3, 67, "o", "l"), (3.0, 0.9, 66, "i", "t"),
    (4.0, 0.45, 64, "a", "k"), (4.5, 1.4, 62, "o", "m"), (8.0, 0.45, 64, "u", "f"), (8.5, 0.45, 64, "a", "s"),
    (9.0, 1.4, 69, "e", "t"), (11.0, 0.9, 67, "o", "n"),
]  # fmt: skip
REFRAIN: list[tuple[float, float, int, str, str]] = [
    (0.0, 1.4, 71, "a", "h"), (1.5, 0.45, 69, "e", "l"), (2.0, 1.5, 67, "o", "m"),
    (4.0, 1.4, 71, "a", "t"), (5.5, 0.45, 72, "i", "s"), (6.0, 1.4, 69, "a", "n"),
    (8.0, 0.9, 67, "o", "k"), (9.0, 0.9, 69, "e", "s"), (10.0, 1.7, 66, "a", "l"), (12.0, 3.4, 67, "a", "m"),
]  # fmt: skip
OTHER_REFRAIN: list[tuple[float, float, int, str, str]] = [
    (0.5, 1.0, 67, "a", "s"), (1.5, 0.95, 69, "o", "l"), (2.5, 1.0, 71, "e", "n"),
    (4.5, 0.95, 67, "i", "k"), (5.5, 0.95, 66, "a", "t"), (6.5, 1.0, 64, "o", "m"),
    (8.5, 0.9, 64, "a", "f"), (9.5, 0.9, 66, "o", "s"), (10.5, 1.2, 69, "e", "l"), (12.0, 2.4, 62, "o", "n"),
]  # fmt: skip


def _when(bar: float, beat: float = 0.0) -> float:
    """Time of a bar and beat."""
    return START + bar * BAR + beat * BEAT


def _drums(rng: np.random.Generator) -> Sound:
    """The kit as the engineer balanced it into two legs."""
    hits: list[tuple[float, str, float]] = []
    for bar in range(7):
        for eighth in range(8):
            piece = "ride" if bar >= 4 else ("open" if eighth == 7 and bar == 3 else "hat")
            hits.append((_when(bar, eighth / 2), piece, 1.0 if eighth % 2 == 0 else 0.6))
        hits += [(_when(bar, b), "kick", v) for b, v in ((0.0, 1.0), (1.5, 0.8), (2.0, 0.9), (3.5, 0.6))]
        hits += [(_when(bar, 1), "snare", 1.0), (_when(bar, 3), "snare", 0.95), (_when(bar, 2.75), "snare", 0.25)]
        if bar in (3, 6):
            hits += [(_when(bar, 3.25), "tom", 0.8), (_when(bar, 3.5), "tom", 0.9), (_when(bar, 3.75), "floor", 1.0)]
    hits += [(_when(4), "crash", 1.0), (_when(7), "crash", 1.0), (_when(7), "kick", 1.0)]
    pieces = sb.kit(rng, RATE, N, hits)
    over = np.stack([sb.microphone(pieces, RATE, (x, -0.2, 1.7)) for x in (-0.5, 0.5)], 1)
    kick = sb.microphone(pieces, RATE, (0.0, 0.25, 0.33), "kick", 0.25)
    snare = sb.microphone(pieces, RATE, (-0.3, -0.42, 0.8), "snare", 0.25)
    hall = sb.reverb(over, sb.room(rng, RATE, 0.6, 0.35, 2, 0.008, 5.0), N)
    return over + 0.5 * hall + (0.35 * kick + 0.3 * snare)[:, None] + sb.hiss(rng, N, -62, 2)


def _bass(rng: np.random.Generator) -> Sound:
    """Bass through its amplifier."""
    out = np.zeros(N)
    for bar in range(1, 7):
        for beat, up in ((0.0, 0), (1.5, 0), (2.0, 0), (3.0, 7), (3.5, 12 if bar < 5 else 5)):
            sound = sb.pluck(rng, RATE, sb.hertz(ROOTS[bar % 4] + up), 0.62 * BEAT, 0.6, 1.5, 0.2, 0.2)
            sb.place(out, RATE, _when(bar, beat) + rng.normal(0.003, 0.005), sound, rng.uniform(0.8, 1.0))
    sb.place(out, RATE, _when(7), sb.pluck(rng, RATE, sb.hertz(31), 2.3, 0.6, 1.6, 0.2, 0.2), 0.9)
    return sb.amp(out, RATE, 1.2, 3000.0, -3.0, 18.0)


def _electric(seed: int, early: float) -> Sound:
    """One take of the electric guitar through its amplifier."""
    rng = np.random.default_rng(seed)
    out = np.zeros(N)
    for bar in range(1, 7):
        chord = CHORDS[bar % 4][1:5]
        beats = ((1.5, 0.4), (3.5, 0.4)) if bar < 4 else ((0.0, 1.4), (1.5, 0.45), (2.0, 0.9), (3.0, 0.45), (3.5, 0.45))
        for beat, dur in beats:
            at = _when(bar, beat) + early + rng.normal(0, 0.007)
            sb.strum(rng, RATE, out, at, dur * BEAT, chord, 0.5 * rng.uniform(0.9, 1.1), beat % 1 == 0, 1.0, 0.9, 0.18)
    sb.strum(rng, RATE, out, _when(7) + early, 2.3, CHORDS[0], 0.55, True, 1.0, 1.0, 0.18)
    return sb.amp(out, RATE, 3.2, 5000.0)


def _acoustic(rng: np.random.Generator) -> Sound:
    """Steel strings, strummed from the start."""
    out = np.zeros(N)
    for bar in range(7):
        chord = CHORDS[bar % 4]
        for beat, dur, down in (
            (0.0, 0.95, True),
            (1.0, 0.45, True),
            (1.5, 0.9, False),
            (2.5, 0.45, False),
            (3.0, 0.9, True),
        ):
            at = _when(bar, beat) + rng.normal(0, 0.007)
            notes = chord if down else chord[2:]
            sb.strum(rng, RATE, out, at, dur * BEAT, notes, 0.4 * rng.uniform(0.85, 1.1), down, 1.15, 0.8)
    sb.strum(rng, RATE, out, _when(7), 2.5, CHORDS[0], 0.45, True, 1.1, 0.9)
    for f, db, q in ((108, 4, 3), (215, 3, 4), (1500, -3, 1), (5200, 3, 1)):
        out = sb.peak_filter(out, RATE, f, db, q)
    return sb.butter(out, RATE, "highpass", 85.0)


def _tune(refrain: list[tuple[float, float, int, str, str]], rng: np.random.Generator, loose: float) -> list[Note]:
    """The whole tune in seconds."""
    rows = [(_when(1, b), d, m, v, c) for b, d, m, v, c in VERSE] + [
        (_when(4, b), d, m, v, c) for b, d, m, v, c in refrain
    ]
    return [(t + rng.normal(0, loose), d * BEAT, m, v, c) for t, d, m, v, c in rows]


def _chorus(rng: np.random.Generator) -> Sound:
    """Two backing voices, left and right, in the refrain."""
    out = np.zeros((N, 2))
    for k, (down, pan) in enumerate(((4, -0.6), (8, 0.6))):
        rows = [
            (_when(4, b) + rng.normal(0, 0.016), d * BEAT, m - down + (1 if (m - down) % 12 in (1, 8) else 0), v, c)
            for b, d, m, v, c in REFRAIN
        ]
        voice = sb.voice(np.random.default_rng(SEED + 30 + k), RATE, N, rows, 1.08 + 0.05 * k, 0.15, breathy=0.08)
        out += sb.spread(voice, pan)
    return out


def _echo(lead: Sound) -> Sound:
    """The echo: three eighths late, duller each time."""
    lag = round(0.75 * BEAT * RATE)
    feed, out = sb.butter(lead, RATE, "highpass", 250.0), np.zeros(N)
    for k in range(1, 4):
        feed = sb.butter(feed, RATE, "lowpass", 3500.0, 1)
        out[k * lag :] += 0.4 ** (k - 1) * feed[: N - k * lag]
    return out


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    rng = np.random.default_rng(SEED)
    lead = sb.voice(np.random.default_rng(SEED + 1), RATE, N, _tune(REFRAIN, rng, 0.008), 1.0, 0.25)
    lead = sb.to_peak(lead, -9.0) + sb.hiss(rng, N, -84)
    plate = sb.reverb(lead, sb.room(np.random.default_rng(SEED + 2), RATE, 1.5, 0.9, 2, 0.018, 5.0), N)
    plate /= np.sqrt(np.mean(plate**2, axis=0, keepdims=True) / np.mean(plate**2))
    electric = np.zeros((N, 2))
    for seed, early, pan in ((SEED + 3, 0.0, -0.75), (SEED + 4, 0.004, 0.75)):
        electric += sb.spread(_electric(seed, early), pan)
    parts: dict[str, Sound] = {
        DRUMS: sb.to_peak(_drums(rng), -7.0),
        BASS: sb.to_peak(_bass(rng), -12.0) + sb.hiss(rng, N, -84),
        ELECTRIC: sb.to_peak(electric, -13.0) + sb.hiss(rng, N, -80, 2),
        ACOUSTIC: sb.to_peak(_acoustic(rng), -14.5) + sb.hiss(rng, N, -83),
        LEAD: lead,
        CHORUS: sb.to_peak(_chorus(rng), -16.0) + sb.hiss(rng, N, -86, 2),
        REVERB: plate * sb.gain(-15.0),
        ECHO: _echo(lead) * sb.gain(-16.0),
    }
    parts = {name: sb.fade(x, RATE, 0.01, 0.9) for name, x in parts.items()}
    scale = sb.gain(-1.8) / float(np.max(np.abs(_sum(parts))))
    parts = {name: np.round(x * scale * 2**23) / 2**23 for name, x in parts.items()}
    for name, sound in parts.items():
        sb.write(folder / name, sound, RATE)
    sb.write(folder / MIX, _sum(parts), RATE)


def _sum(parts: dict[str, Sound]) -> Sound:
    """Sum of stems, mono ones in the middle."""
    out = np.zeros((N, 2))
    for x in parts.values():
        out += x if x.ndim == 2 else x[:, None]
    return out


def _chorus_twice(folder: Path) -> None:
    """The backing voices were on twice when the mix was printed."""
    twice, _ = sb.read(folder / CHORUS)
    sb.change_file(folder / MIX, lambda x, _: x + twice)


def _mix_late(folder: Path) -> None:
    """The print of the mix was started late by the delay of the mix's processors."""

    def late(x: Sound, rate: int) -> Sound:
        lag = int(0.0372 * rate)
        return np.concatenate([np.zeros((lag, 2)), x[:-lag]])

    sb.change_file(folder / MIX, late)


def _mix_end_cut(folder: Path) -> None:
    """The print of the mix stops within the last chord; the file goes on in silence."""

    def cut(x: Sound, rate: int) -> Sound:
        x[int(18.44 * rate) :] = 0.0
        return x

    sb.change_file(folder / MIX, cut)


def _bass_turned(folder: Path) -> None:
    """The bass was exported with the other polarity."""
    sb.change_file(folder / BASS, lambda x, _: -x)


def _other_take(folder: Path) -> None:
    """The stem of the singer holds a take that was not chosen."""
    old, rate = sb.read(folder / LEAD)
    rng = np.random.default_rng(15)
    other = sb.voice(np.random.default_rng(16), rate, N, _tune(OTHER_REFRAIN, rng, 0.02), 1.0, 0.3)
    other = sb.fade(sb.to_peak(other, 20 * float(np.log10(np.max(np.abs(old))))), rate, 0.01, 0.9)
    sb.write(folder / LEAD, other + sb.fade(sb.hiss(rng, N, -85), rate, 0.01, 0.9), rate)


def _guitars_stop(folder: Path) -> None:
    """The guitars' clip of the refrain was muted at the export."""

    def stop(x: Sound, rate: int) -> Sound:
        a = int((_when(4) - 0.12) * rate)
        x[a - 400 : a] *= np.linspace(1, 0, 400)[:, None]
        x[a:] = 0.0
        return x

    sb.change_file(folder / ELECTRIC, stop)


def _mix_mono(folder: Path) -> None:
    """The listening button for mono was pressed when the mix was printed."""
    sb.change_file(folder / MIX, lambda x, _: np.repeat(x.mean(axis=1, keepdims=True), 2, axis=1))


def _return_cancels(folder: Path) -> None:
    """The right leg of the printed reverb is the left one upside down."""
    sb.change_file(folder / REVERB, lambda x, _: np.stack([x[:, 0], -x[:, 0]], 1))


def _drums_lean(folder: Path) -> None:
    """The right leg of the drums lost level in the export."""
    sb.change_file(folder / DRUMS, lambda x, _: x * np.array([1.0, sb.gain(-7.5)]))


def _two_in_one(folder: Path) -> None:
    """The acoustic guitar was left on when the singer was exported."""
    guitar, _ = sb.read(folder / ACOUSTIC)
    sb.change_file(folder / LEAD, lambda x, _: x + guitar)


FAULTS: list[dict[str, Any]] = [
    {
        "id": "chorus-twice-in-mix",
        "class": "stem double in the mix",
        "names": [MIX, CHORUS],
        "grade": "look",
        "says": "The print of the mix holds the backing voices twice, 6 dB louder than their stem, from 10.1 s on.",
        "time_s": (10.0, 19.5),
        "cure": "Print the mix again with the backing voices once.",
        "plant": _chorus_twice,
    },
    {
        "id": "mix-late",
        "class": "mix's time against the stems",
        "names": [MIX],
        "grade": "look",
        "says": "The print of the mix comes 37.2 ms after the sum of all stems.",
        "time_s": None,
        "cure": "Slide the mix 37.2 ms earlier.",
        "plant": _mix_late,
    },
    {
        "id": "mix-end-cut",
        "class": "end of the mix cut",
        "names": [MIX],
        "grade": "hold",
        "says": "The print of the mix breaks off at 18.44 s in the last chord into digital silence; the stems ring on.",
        "time_s": (18.4, 20.3),
        "cure": "Print the mix again to the end.",
        "plant": _mix_end_cut,
    },
    {
        "id": "bass-stem-turned",
        "class": "stem's polarity against the mix",
        "names": [BASS],
        "grade": "hold",
        "says": "The bass's stem is of opposite polarity to the bass in the print of the mix.",
        "time_s": None,
        "cure": "Turn the bass's polarity.",
        "plant": _bass_turned,
    },
    {
        "id": "lead-other-take",
        "class": "wrong version of a stem",
        "names": [LEAD],
        "grade": "hold",
        "says": "The voice's stem holds another take than the mix and its returns: another tune in the refrain.",
        "time_s": None,
        "cure": "Export the chosen take.",
        "plant": _other_take,
    },
    {
        "id": "guitars-silent-in-refrain",
        "class": "stem silent in a section",
        "names": [ELECTRIC],
        "grade": "hold",
        "says": "The electric guitars' stem is silent from 10.0 s on, while the mix has them to the end.",
        "time_s": (9.9, 20.3),
        "cure": "Export the guitars again with the refrain on.",
        "plant": _guitars_stop,
    },
    {
        "id": "mix-is-mono",
        "class": "mix without width",
        "names": [MIX],
        "grade": "hold",
        "says": "Both legs of the print of the mix are the same, though drums and guitars are wide in the stems.",
        "time_s": None,
        "cure": "Print the mix again in two legs.",
        "plant": _mix_mono,
    },
    {
        "id": "reverb-return-cancels",
        "class": "legs of a return against each other",
        "names": [REVERB],
        "grade": "look",
        "says": "The right leg of the printed reverb is the left one turned over: in mono it is gone.",
        "time_s": None,
        "cure": "Print the reverb again.",
        "plant": _return_cancels,
    },
    {
        "id": "drums-lean-left",
        "class": "one side weak",
        "names": [DRUMS],
        "grade": "look",
        "says": "The drums' right leg is about 7.5 dB lower than the left one: they lean left, not so in the mix.",
        "time_s": None,
        "cure": "Export the drums again, both legs at one level.",
        "plant": _drums_lean,
    },
    {
        "id": "guitar-in-voice-stem",
        "class": "two parts in one stem",
        "names": [LEAD, ACOUSTIC],
        "grade": "look",
        "says": "The voice's stem holds the acoustic guitar too, at full level: the sum of the stems has it twice.",
        "time_s": None,
        "cure": "Export the voice alone.",
        "plant": _two_in_one,
    },
]
