"""The sound of the example song, made with whole numbers only, so that every machine makes the same bytes.

Strings are plucked by the Karplus-Strong method (Computer Music Journal 7(2), 1983), noise comes from a hash, voices
are harmonics under a few broad resonances. Every loop starts and ends at zero.
"""

from __future__ import annotations

import hashlib
import math
import struct
from dataclasses import dataclass
from functools import cache
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Samples: TypeAlias = npt.NDArray[np.int64]

RATE = 44_100
HALF_BAR = 55_125  # samples in two beats at 96 bpm
BAR = 2 * HALF_BAR
_EIGHTH = HALF_BAR // 4
_TURN = 1 << 32  # one whole turn of an oscillator's phase


@dataclass(frozen=True)
class Recording:
    """One audio file: ``samples`` of shape (legs, frames), 16-bit whole numbers."""

    path: str
    samples: Samples

    @property
    def legs(self) -> int:
        """1 for mono, 2 for stereo."""
        return int(self.samples.shape[0])

    @property
    def duration_s(self) -> float:
        """Its length in seconds."""
        return int(self.samples.shape[1]) / RATE

    def wav(self) -> bytes:
        """A RIFF WAVE file with 16-bit integer samples."""
        body = self.samples.T.astype("<i2").tobytes()
        form = struct.pack("<HHIIHH", 1, self.legs, RATE, RATE * self.legs * 2, self.legs * 2, 16)
        chunks = b"fmt " + struct.pack("<I", len(form)) + form + b"data" + struct.pack("<I", len(body)) + body
        return b"RIFF" + struct.pack("<I", 4 + len(chunks)) + b"WAVE" + chunks


@cache
def _sine_table() -> Samples:
    return np.array([round(32_767 * math.sin(2 * math.pi * k / 4096)) for k in range(4096)], dtype=np.int64)


def _noise(seed: str, length: int) -> Samples:
    """White noise, −32768 … 32767: the digest of ``seed`` drawn out to ``length`` samples."""
    digest = hashlib.shake_128(seed.encode()).digest(2 * length)
    return np.frombuffer(digest, dtype="<i2").astype(np.int64)


def _jitter(seed: str, most: int) -> int:
    """A number of samples between 0 and ``most`` drawn from ``seed``: no player strikes twice alike."""
    return int.from_bytes(hashlib.shake_128(seed.encode()).digest(4), "little") % (most + 1)


@cache
def _decay(length: int, keep: int) -> Samples:
    """A falling envelope from 32768 that keeps ``keep``/2^24 of itself from one sample to the next."""
    level, out = 1 << 45, np.empty(length, dtype=np.int64)
    for at in range(length):
        out[at] = level >> 30
        level = level * keep >> 24
    return out


def _turns(millihertz: int, length: int) -> Samples:
    """The phase of an oscillator, in 2^−32 turns, not wrapped."""
    return np.arange(length, dtype=np.int64) * (millihertz * _TURN // (RATE * 1000))


def _sine(phase: Samples) -> Samples:
    wave: Samples = _sine_table()[(phase % _TURN) >> 20]
    return wave


def _smooth(x: Samples, span: int) -> Samples:
    """The mean over ``span`` samples: a gentle low-pass."""
    total = np.concatenate([np.zeros(span, dtype=np.int64), np.cumsum(x)])
    mean: Samples = (total[span:] - total[:-span]) // span
    return mean


def _pluck(period: int, length: int, seed: str, keep: int = 65_300) -> Samples:
    """A plucked string of ``period`` samples; each pass averages neighbours and keeps ``keep``/65536."""
    last = _smooth(_noise(seed, period), 5)
    last -= int(last.sum()) // period  # no steady offset in the string
    out = np.empty(length + period, dtype=np.int64)
    out[:period] = last
    before = int(last[-1])
    for start in range(period, length, period):
        turned = np.concatenate([[before], last[:-1]])
        before = int(last[-1])
        last = ((last + turned) * keep + 65_536) >> 17
        out[start : start + period] = last
    return out[:length]


def _add(into: Samples, x: Samples, at: int) -> None:
    """Add ``x`` at sample ``at``; what hangs over the end rings on at the start, as in a loop."""
    length = into.shape[-1]
    np.add.at(into, (np.arange(x.shape[-1]) + at) % length, x)


def _finish(x: Samples, level_db: float) -> Samples:
    """Fade the ends over 3 ms and bring the root mean square to ``level_db`` re full scale."""
    edge = 128
    ramp = np.arange(edge, dtype=np.int64)
    x = x.copy()
    x[:edge] = x[:edge] * ramp // edge
    x[-edge:] = x[-edge:] * ramp[::-1] // edge
    while int(np.abs(x).max()) > 1 << 24:  # keep the squares inside 64 bits
        x //= 2
    aim = round(32_768 * 10 ** (level_db / 20))
    now = math.isqrt(int((x * x).sum()) // len(x))
    x = x * aim // now
    if int(np.abs(x).max()) >= 32_000:
        raise ValueError(f"a loop at {level_db} dB peaks at {int(np.abs(x).max())} of 32767")
    return x


def _kick(seed: str) -> Samples:
    out = np.zeros(HALF_BAR, dtype=np.int64)
    length = 16_000
    sweep = np.cumsum((52_000 + 90_000 * _decay(length, 16_766_000) // 32_768) * _TURN // (RATE * 1000))
    _add(out, _sine(sweep) * _decay(length, 16_770_500) >> 15, 0)
    _add(out, _noise(seed, 300) * _decay(300, 16_500_000) >> 18, 0)
    return out


def _snare(seed: str) -> Samples:
    out = np.zeros(HALF_BAR, dtype=np.int64)
    length = 9_000
    hit = _smooth(_noise(seed, length), 2) * _decay(length, 16_764_000) >> 15
    _add(out, hit + (_sine(_turns(188_000, length)) * _decay(length, 16_766_000) >> 16), HALF_BAR // 2)
    return out


def _hat(seed: str) -> Samples:
    out = np.zeros(HALF_BAR, dtype=np.int64)
    for stroke in range(4):
        hiss = np.diff(_noise(f"{seed}{stroke}", 4_001)) * _decay(4_000, 16_754_000) >> 15
        _add(out, hiss * (3 if stroke % 2 else 2), stroke * _EIGHTH)
    return out


def _shaker(seed: str) -> Samples:
    out = np.zeros(HALF_BAR, dtype=np.int64)
    for stroke in range(8):
        length = 3_000
        swell = np.minimum(np.arange(length), 3 * (length - np.arange(length)) // 5)
        hiss = np.diff(_noise(f"{seed}{stroke}", length + 1)) * swell >> 11
        _add(out, hiss * (2 + (stroke % 2 == 0)), stroke * HALF_BAR // 8)
    return out


def _overhead(side: str) -> Samples:
    """One leg of the overheads: cymbal wash of its own, and the kit heard from above with no delay."""
    wash = np.diff(_noise(f"wash {side}", HALF_BAR + 1)) * _decay(HALF_BAR, 16_776_500) >> 16
    return wash // 4 + _hat(f"hat from above {side}") // 12 + _snare("snare") // 5 + _kick("kick") // 8


# String periods in samples: 44100 / period is the pitch in hertz.
_CHORDS_LOW = ((450, 300, 225, 179, 150), (401, 268, 200, 159, 134))
_CHORDS_HIGH = ((300, 225, 179, 150, 113), (268, 200, 159, 134, 100))


def _guitar(seed: str, chords: tuple[tuple[int, ...], ...]) -> Samples:
    """Two bars of strumming in quavers, a chord to the bar."""
    out = np.zeros(2 * BAR, dtype=np.int64)
    for bar, chord in enumerate(chords):
        for stroke in range(8):
            down = stroke % 2 == 0
            strings = chord if down else chord[:1:-1]
            at = bar * BAR + stroke * _EIGHTH + _jitter(f"{seed} time {bar} {stroke}", 500)
            for number, period in enumerate(strings):
                note = _pluck(period, 26_000, f"{seed} {bar} {stroke} {number}")
                note = note * _decay(26_000, 16_775_700) >> (15 if down else 16)
                _add(out, note, at + number * 350)
    return out


def _bass(seed: str) -> Samples:
    out = np.zeros(BAR, dtype=np.int64)
    for number, (beat, period) in enumerate(((0, 900), (1, 900), (2, 802), (3, 802))):
        note = _smooth(_pluck(period, 26_000, f"{seed}{number}", 65_000), 24)
        _add(out, note * _decay(26_000, 16_776_400) >> 15, beat * BAR // 4)
    return out


def _sung(notes: tuple[tuple[int, int, int], ...], length: int, formants: tuple[int, ...], seed: str) -> Samples:
    """A voice-like tone. ``notes``: start and length in samples and pitch in millihertz."""
    out = np.zeros(length, dtype=np.int64)
    for number, (start, held, pitch) in enumerate(notes):
        sway = _sine(_turns(5_200, held)) * (pitch // 90) >> 15
        phase = np.cumsum((pitch + sway) * _TURN // (RATE * 1000))
        tone = np.zeros(held, dtype=np.int64)
        for partial in range(1, 20):
            hertz = partial * pitch // 1000
            weight = sum(9_000_000 // (9_000 + (hertz - f) ** 2 // 9) for f in formants) + 1_200 // partial
            tone += _sine(phase * partial) * weight >> 8
        tone += _noise(f"{seed} breath {number}", held) // 12
        swell = np.minimum(np.arange(held), np.arange(held)[::-1])
        tone = tone * np.minimum(swell, 2_600) // 2_600
        _add(out, tone, start)
    return out


def recordings() -> dict[str, Recording]:
    """Every loop of the song by channel id."""
    phrase = (
        (1_500, 25_000, 220_000), (27_500, 26_000, 246_900), (55_000, 40_000, 293_700),
        (98_000, 26_000, 246_900), (126_000, 60_000, 220_000),
    )  # fmt: skip
    third = ((1_000, 50_000, 277_200), (53_000, 52_000, 293_700))
    low = ((900, 51_000, 329_600), (54_000, 52_000, 349_200))
    high = ((1_700, 50_000, 330_400), (54_700, 51_000, 350_100))
    loops = {
        "kick": [_finish(_kick("kick"), -22.0)],
        "snare": [_finish(_snare("snare"), -30.0)],
        "hat": [_finish(_hat("hat"), -34.0)],
        "overheads": [_finish(_overhead("left"), -33.0), _finish(_overhead("right"), -33.0)],
        "shaker": [_finish(_shaker("shaker"), -31.0)],
        "bass": [_finish(_bass("bass"), -20.0)],
        "acoustic-gtr-l": [_finish(_guitar("left guitar", _CHORDS_LOW), -24.0)],
        "acoustic-gtr-r": [_finish(_guitar("right guitar", _CHORDS_HIGH), -24.0)],
        "lead-vocal": [_finish(_sung(phrase, 2 * BAR, (620, 1150, 2600), "lead"), -19.0)],
        "harmony-vocal": [_finish(_sung(third, BAR, (480, 1000, 2500), "harmony"), -22.0)],
        "backing-vox-l": [_finish(_sung(low, BAR, (350, 900, 2400), "backing left"), -24.0)],
        "backing-vox-r": [_finish(_sung(high, BAR, (370, 860, 2450), "backing right"), -24.0)],
    }
    return {name: Recording(f"audio/{name}.wav", np.stack(legs)) for name, legs in loops.items()}
