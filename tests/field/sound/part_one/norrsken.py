"""Norrsken: electronic music with a singer, handed over as stems beside the print of the mix."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from scipy import signal

from tests.field.sound import sounds_by_b as sb
from tests.field.sound.sounds_by_b import Note, Sound

KIND = "stems"
RATE = 44_100
LENGTH_S = 21.0
N = int(LENGTH_S * RATE)
BPM = 122.0
BEAT = 60.0 / BPM
BAR = 4 * BEAT
START = 0.25
SEED = 90210

DRUMS = "Norrsken_01_Trummor.wav"
BASS = "Norrsken_02_Bas.wav"
PAD = "Norrsken_03_Matta.wav"
ARP = "Norrsken_04_Arpeggio.wav"
LEAD = "Norrsken_05_Sång.wav"
DOUBLE = "Norrsken_06_Sång dubb.wav"
HARMONY = "Norrsken_07_Stämma.wav"
HALL = "Norrsken_08_Sång hall.wav"
MIX = "Norrsken_MIX.wav"
STEMS = (DRUMS, BASS, PAD, ARP, LEAD, DOUBLE, HARMONY, HALL)

CHORDS = [[57, 60, 64, 71], [53, 57, 60, 67], [48, 55, 60, 64], [55, 59, 62, 69]]
ROOTS = [33, 29, 36, 31]

ACCEPTED: list[dict[str, Any]] = [
    {
        "names": [DOUBLE, HARMONY],
        "why": "The doubled voice and the harmony are silent until the refrain at 12.1 s: they do not sing before it.",
    },
    {"names": [BASS, PAD, ARP, DRUMS], "why": "Synthetic sources: digital silence in the rests, no hiss."},
]

VERSE: list[tuple[float, float, int, str, str]] = [
    (0.0, 0.7, 64, "a", "s"), (0.75, 0.7, 67, "e", "n"), (1.5, 1.6, 69, "o", "l"),
    (4.0, 0.7, 69, "i", "t"), (4.75, 0.45, 67, "a", "k"), (5.5, 1.5, 64, "a", "m"),
    (8.0, 0.7, 64, "u", "f"), (8.75, 0.7, 67, "i", "s"), (9.5, 0.9, 72, "a", "n"), (10.5, 1.2, 71, "o", "l"),
    (12.5, 0.9, 69, "e", "h"), (13.5, 0.45, 67, "a", "t"), (14.0, 1.4, 67, "o", "m"),
]  # fmt: skip
REFRAIN: list[tuple[float, float, int, str, str]] = [
    (0.0, 1.4, 72, "o", "n"), (1.5, 0.9, 71, "a", "s"), (2.5, 0.95, 69, "e", "k"),
    (4.0, 1.4, 72, "a", "h"), (5.5, 0.45, 74, "i", "l"), (6.0, 1.2, 69, "o", "m"),
    (8.0, 1.4, 76, "a", "l"), (9.5, 0.9, 74, "e", "t"), (10.5, 0.95, 72, "o", "n"),
    (12.0, 0.9, 71, "i", "s"), (13.0, 0.9, 69, "a", "f"), (14.0, 2.9, 69, "a", "m"),
]  # fmt: skip


def _when(bar: float, beat: float = 0.0) -> float:
    """Time of a bar and beat."""
    return START + bar * BAR + beat * BEAT


def _duck(depth: float) -> Sound:
    """The pumping of a part under the kick."""
    t = np.arange(N) / RATE
    beat = ((t - START) / BEAT) % 1.0
    shape = 1 - depth * np.exp(-beat / 0.22)
    playing = (t >= _when(2)) & (t < _when(10))
    return np.where(playing, shape, 1.0)


def _drums(rng: np.random.Generator) -> Sound:
    """Machine drums in stereo."""
    out = np.zeros((N, 2))

    def put(sound: Sound, at: float, level: float, pan: float = 0.0) -> None:
        """A stroke at its place."""
        stroke = sb.spread(sound, pan) * level
        a = int(at * RATE)
        out[a : a + len(stroke)] += stroke[: N - a]

    t = np.arange(int(0.38 * RATE)) / RATE
    sweep = 46 + 190 * np.exp(-t / 0.009) + 40 * np.exp(-t / 0.05)
    kick = np.tanh(1.6 * np.sin(2 * np.pi * np.cumsum(sweep) / RATE) * np.exp(-t / 0.14)) * np.minimum(1, t / 0.0008)
    kick[-400:] *= np.linspace(1, 0, 400)
    hat_t = np.arange(int(0.09 * RATE)) / RATE
    open_t = np.arange(int(0.22 * RATE)) / RATE
    for bar in range(10):
        for beat in range(4):
            if bar >= 2:
                put(kick, _when(bar, beat), 1.0)
            if beat in (1, 3) and bar >= 1:
                clap = np.zeros(int(0.3 * RATE))
                for lag in (0.0, 0.011, 0.021, 0.032):
                    burst = sb.butter(rng.standard_normal(len(clap)), RATE, "bandpass", (900, 6500))
                    tc = np.arange(len(clap)) / RATE
                    sb.place(clap, RATE, lag, burst * np.exp(-tc / (0.008 if lag < 0.03 else 0.06)), 0.5)
                clap[-500:] *= np.linspace(1, 0, 500)
                put(clap, _when(bar, beat), 0.55, 0.06)
        for six in range(16):
            noise = sb.butter(rng.standard_normal(len(hat_t)), RATE, "highpass", 7200.0) * np.exp(-hat_t / 0.018)
            noise[-300:] *= np.linspace(1, 0, 300)
            put(noise, _when(bar, six / 4), (0.28, 0.12, 0.2, 0.14)[six % 4] * rng.uniform(0.9, 1.1), 0.25)
            if bar >= 6 and six % 4 == 2:
                ring = sb.butter(rng.standard_normal(len(open_t)), RATE, "highpass", 6000.0) * np.exp(-open_t / 0.08)
                ring[-600:] *= np.linspace(1, 0, 600)
                put(ring, _when(bar, six / 4), 0.26, -0.3)
    return sb.butter(out, RATE, "highpass", 24.0)


def _bass() -> Sound:
    """A filtered saw on the off-beats, over a sine."""
    out = np.zeros(N)
    wave = sb.table(40, 1.0, 0.7, 5)
    for bar in range(2, 10):
        root = ROOTS[bar % 4]
        for six in range(16):
            if six % 4 == 0 or (bar < 6 and six % 4 == 1):
                continue
            n = int(0.24 * BEAT * RATE)
            f = sb.hertz(root + (12 if six in (7, 15) else 0))
            t = np.arange(n) / RATE
            tone = 0.6 * sb.from_table(wave, np.full(n, f), RATE) * np.exp(-t / 0.09) + 0.8 * np.sin(2 * np.pi * f * t)
            tone *= np.minimum(1, t / 0.004) * np.minimum(1, (n - np.arange(n)) / (0.012 * RATE))
            sb.place(out, RATE, _when(bar, six / 4), tone)
    held = np.arange(int(1.2 * RATE)) / RATE
    last = np.sin(2 * np.pi * sb.hertz(33) * held) * np.exp(-held / 0.35) * np.minimum(1, held / 0.004)
    last[-2000:] *= np.linspace(1, 0, 2000)
    sb.place(out, RATE, _when(10), last)
    return sb.butter(sb.butter(out, RATE, "lowpass", 1400.0), RATE, "highpass", 28.0)


def _pad(rng: np.random.Generator) -> Sound:
    """A mat of detuned saws, wide, opening slowly."""
    out = np.zeros((N, 2))
    wave = sb.table(45, 1.0, 1.0, 8)
    for bar in range(10):
        chord = CHORDS[bar % 4]
        n = int((BAR + 0.5) * RATE) if bar < 9 else int((BAR + 1.0) * RATE)
        t = np.arange(n) / RATE
        env = np.minimum(1, t / 0.35) * np.minimum(1, (n - np.arange(n)) / (0.5 * RATE))
        for note in chord:
            for leg in (0, 1):
                f = np.full(n, sb.hertz(note) * 2 ** (rng.normal(0, 7) / 1200))
                f *= 1 + 0.0015 * np.sin(2 * np.pi * rng.uniform(0.3, 0.7) * t + rng.uniform(0, 6))
                sb.place(out[:, leg], RATE, _when(bar) - 0.1, sb.from_table(wave, f, RATE, rng.random()) * env, 0.12)
    dark, light = sb.butter(out, RATE, "lowpass", 900.0), sb.butter(out, RATE, "lowpass", 4200.0)
    open_up = np.clip(np.arange(N) / RATE / 16.0, 0, 1)[:, None]
    return sb.butter(dark * (1 - open_up) + light * open_up, RATE, "highpass", 140.0) * _duck(0.45)[:, None]


def _arp(rng: np.random.Generator) -> Sound:
    """Sixteenths from side to side, with a tempo echo."""
    dry = np.zeros((N, 2))
    wave = sb.table(30, 1.25, 0.5, 11)
    for bar in range(10):
        chord = CHORDS[bar % 4]
        for six in range(16):
            if rng.random() < 0.12 and bar < 6 and six:
                continue
            note = chord[(six * 3) % 4] + 12 + (12 if six % 7 == 5 else 0)
            n = int(0.3 * RATE)
            t = np.arange(n) / RATE
            tone = sb.from_table(wave, np.full(n, sb.hertz(note)), RATE) * np.exp(-t / 0.075) * np.minimum(1, t / 0.002)
            tone *= np.minimum(1, (n - np.arange(n)) / (0.03 * RATE))
            pan = -0.6 if six % 2 else 0.55
            stroke = sb.spread(tone, pan) * rng.uniform(0.8, 1.0)
            a = int(_when(bar, six / 4) * RATE)
            dry[a : a + n] += stroke[: N - a]
    lag = int(0.75 * BEAT * RATE)
    out = dry.copy()
    for k in (1, 2, 3):
        out[k * lag :] += 0.35**k * (dry[: -k * lag, ::-1] if k % 2 else dry[: -k * lag])
    return sb.butter(out, RATE, "highpass", 200.0)


def _tune(rng: np.random.Generator, refrain_only: bool, up: int = 0, loose: float = 0.0) -> list[Note]:
    """What a singer sings, in seconds."""
    rows = [] if refrain_only else [(_when(2, b), d, m, v, c) for b, d, m, v, c in VERSE]
    rows += [(_when(6, b), d, m, v, c) for b, d, m, v, c in REFRAIN]
    third = {64: 60, 67: 64, 69: 65, 71: 67, 72: 69, 74: 71, 76: 72}
    return [
        (t + rng.normal(0.0, loose), d * BEAT * (1 - rng.uniform(0, loose)), third[m] if up else m, v, c)
        for t, d, m, v, c in rows
    ]


def make(folder: Path) -> None:
    """Write the good set into an empty folder."""
    rng = np.random.default_rng(SEED)
    lead = sb.voice(np.random.default_rng(1), RATE, N, _tune(rng, False, 0, 0.006), 1.14, 0.22, breathy=0.07)
    double = sb.voice(np.random.default_rng(2), RATE, N, _tune(rng, True, 0, 0.016), 1.14, 0.16, breathy=0.09)
    low = sb.voice(np.random.default_rng(3), RATE, N, _tune(rng, True, 1, 0.016), 1.12, 0.16, breathy=0.08)
    hall = sb.reverb(lead, sb.room(np.random.default_rng(4), RATE, 1.9, 1.1, 2, 0.03, 7.0), N)
    hall /= np.sqrt(np.mean(hall**2, axis=0, keepdims=True) / np.mean(hall**2))
    parts: dict[str, Sound] = {
        DRUMS: sb.to_peak(_drums(rng), -6.0),
        BASS: sb.to_peak(_bass() * _duck(0.5), -12.5),
        PAD: sb.to_peak(_pad(rng), -15.0),
        ARP: sb.to_peak(_arp(rng), -16.5),
        LEAD: sb.to_peak(lead, -8.0) + sb.hiss(rng, N, -84),
        DOUBLE: sb.to_peak(double, -15.0) + sb.hiss(rng, N, -88),
        HARMONY: sb.to_peak(low, -16.0) + sb.hiss(rng, N, -88),
        HALL: hall * (sb.gain(-8.0) / float(np.max(np.abs(lead)))) * sb.gain(-15.0),
    }
    parts = {name: sb.fade(x, RATE, 0.01, 0.6) for name, x in parts.items()}
    total = _sum(list(parts.values()))
    scale = sb.gain(-1.5) / float(np.max(np.abs(total)))
    written = []
    for name, sound in parts.items():
        sb.write(folder / name, sound * scale, RATE)
        written.append(np.round(sound * scale * 2**23) / 2**23)
    sb.write(folder / MIX, _sum(written), RATE)


def _sum(parts: list[Sound]) -> Sound:
    """Sum of stems, mono ones in the middle."""
    out = np.zeros((N, 2))
    for x in parts:
        out += x if x.ndim == 2 else x[:, None]
    return out


def _mix_without_bass(folder: Path) -> None:
    """The bass was muted when the mix was printed."""
    bass, _ = sb.read(folder / BASS)
    sb.change_file(folder / MIX, lambda x, _: x - bass[:, None])


def _mix_over(folder: Path) -> None:
    """The mix was printed 4 dB too hot and ran into full scale."""
    sb.change_file(folder / MIX, lambda x, _: np.clip(x * sb.gain(4.2), -1.0, 1.0 - 2**-23))


def _lead_low(folder: Path) -> None:
    """The stem of the singer was exported before the last fader move."""
    sb.change_file(folder / LEAD, lambda x, _: x * sb.gain(-3.3))


def _pad_wrong_rate(folder: Path) -> None:
    """The mat was bounced at 48 kHz and got a header of 44.1 kHz; its end was then cut to the length of the others."""

    def slow(x: Sound, _: int) -> Sound:
        return np.asarray(signal.resample_poly(x, 160, 147, axis=0)[:N])

    sb.change_file(folder / PAD, slow)


def _arp_trimmed(folder: Path) -> None:
    """The export took away the silence before the first note and filled the end up."""

    def trim(x: Sound, rate: int) -> Sound:
        first = int(np.argmax(np.max(np.abs(x), axis=1) > 1e-4))
        return np.concatenate([x[first:], np.zeros((first, 2))])

    sb.change_file(folder / ARP, trim)


def _pad_few_bits(folder: Path) -> None:
    """The mat went through a format of 8 bits without dither on its way."""
    sb.change_file(folder / PAD, lambda x, _: np.round(x * 128) / 128)


def _drums_lossy(folder: Path) -> None:
    """The drums come out of a lossy coder of a low rate."""

    def coded(x: Sound, rate: int) -> Sound:
        out = np.zeros_like(x)
        for leg in (0, 1):
            f, _, z = signal.stft(x[:, leg], rate, nperseg=1024)
            z[f > 11_000] = 0
            top = np.max(np.abs(z), axis=0, keepdims=True)
            floor = np.maximum(top * 0.012, 1e-7)
            z = np.where(np.abs(z) < floor, 0, np.round(z / floor) * floor)
            _, back = signal.istft(z, rate, nperseg=1024)
            out[:, leg] = back[: len(x)]
        return out

    sb.change_file(folder / DRUMS, coded)


def _harmony_short(folder: Path) -> None:
    """The export of the harmony stopped too soon."""
    sb.change_file(folder / HARMONY, lambda x, rate: x[: int(18.62 * rate)])


def _lead_dropouts(folder: Path) -> None:
    """The disk was too slow when the singer was exported."""

    def holes(x: Sound, rate: int) -> Sound:
        for at, dur in ((5.13, 0.021), (8.94, 0.046), (12.6, 0.012), (16.47, 0.035)):
            x[int(at * rate) : int((at + dur) * rate)] = 0.0
        return x

    sb.change_file(folder / LEAD, holes)


def _bass_ticks(folder: Path) -> None:
    """A converter on the wrong clock ticks in the bass."""

    def ticks(x: Sound, rate: int) -> Sound:
        for k, at in enumerate(np.arange(0.61, 20.4, 1.31)):
            i = int(at * rate)
            x[i] += 0.09 if k % 2 else -0.11
            x[i + 1] -= 0.03
        return x

    sb.change_file(folder / BASS, ticks)


FAULTS: list[dict[str, Any]] = [
    {
        "id": "mix-without-bass",
        "class": "stem missing in the mix",
        "names": [MIX, BASS],
        "grade": "hold",
        "says": "The print of the mix holds no bass: it is the sum of all the other stems to the last bit.",
        "time_s": None,
        "cure": "Print the mix again with the bass on.",
        "plant": _mix_without_bass,
    },
    {
        "id": "mix-clipped",
        "class": "overs in the mix",
        "names": [MIX],
        "grade": "hold",
        "says": "The print of the mix is flat-topped at full scale on the kicks, 4.2 dB above the sum of the stems.",
        "time_s": None,
        "cure": "Print the mix again, 5 dB lower.",
        "plant": _mix_over,
    },
    {
        "id": "lead-stem-low",
        "class": "stem's level against the mix",
        "names": [LEAD],
        "grade": "look",
        "says": "The stem of the lead voice lies 3.3 dB lower than the voice in the print of the mix.",
        "time_s": None,
        "cure": "Export the voice again with the fader of the mix.",
        "plant": _lead_low,
    },
    {
        "id": "pad-wrong-rate",
        "class": "wrong sample rate",
        "names": [PAD],
        "grade": "hold",
        "says": "The mat plays 8 % too slow and 1.5 semitones flat, cut at the end: 48 kHz labelled as 44.1 kHz.",
        "time_s": None,
        "cure": "Export the mat again at 44.1 kHz.",
        "plant": _pad_wrong_rate,
    },
    {
        "id": "arp-trimmed-start",
        "class": "stem's time against the mix",
        "names": [ARP],
        "grade": "hold",
        "says": "The arpeggio starts at once and plays about 0.25 s early: the silence at its head was cut away.",
        "time_s": None,
        "cure": "Export it again from the common start.",
        "plant": _arp_trimmed,
    },
    {
        "id": "pad-eight-bits",
        "class": "word length",
        "names": [PAD],
        "grade": "look",
        "says": "The mat's 24-bit file holds only 8-bit steps, undithered: it grates, and its fades break off.",
        "time_s": None,
        "cure": "Export the mat again at 24 bit.",
        "plant": _pad_few_bits,
    },
    {
        "id": "drums-lossy",
        "class": "lossy conversion",
        "names": [DRUMS],
        "grade": "look",
        "says": "The drums were lossy-coded: nothing above 11 kHz, holes in the spectrum, smeared strokes.",
        "time_s": None,
        "cure": "Ask for the drums uncompressed.",
        "plant": _drums_lossy,
    },
    {
        "id": "harmony-ends-early",
        "class": "length",
        "names": [HARMONY],
        "grade": "hold",
        "says": "The harmony's file ends at 18.6 s in a sung note, 2.4 s shorter than all the others.",
        "time_s": (18.5, 21.0),
        "cure": "Export the harmony in full length.",
        "plant": _harmony_short,
    },
    {
        "id": "lead-dropouts",
        "class": "dropouts",
        "names": [LEAD],
        "grade": "hold",
        "says": "The lead voice drops out to digital zero at 5.1 s, 8.9 s, 12.6 s and 16.5 s, for 12 to 46 ms.",
        "time_s": (5.0, 16.6),
        "cure": "Export the lead voice again.",
        "plant": _lead_dropouts,
    },
    {
        "id": "bass-ticks",
        "class": "clicks",
        "names": [BASS],
        "grade": "hold",
        "says": "Single-sample ticks up to −19 dBFS every 1.31 s in the bass: a converter on the wrong clock.",
        "time_s": (0.6, 20.4),
        "cure": "Export the bass again, or repair the ticks.",
        "plant": _bass_ticks,
    },
]
