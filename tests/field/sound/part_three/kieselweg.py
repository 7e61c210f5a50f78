"""'Kieselweg': twelve stems and the print of the mix of a folk-rock song, as handed over for mastering.

German file names. Every stem is printed from zero to the same end with its effects and its place in the picture; the
mix print is their plain sum. The voice's reverb is a stem of its own. 44.1 kHz, 24 bit, 27 s.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from scipy import signal

from tests.field.sound import sounds_by_a as a
from tests.field.sound import sounds_by_b as b
from tests.field.sound import sounds_by_c as c

KIND = "stems"
RATE = 44100
N = 27 * RATE
BEAT = 60.0 / 108.0
BEGIN = 1.0
BARS = ["Dm", "Bb", "F", "C", "Dm", "Bb", "F", "C", "Gm", "Dm"]
LAST = BEGIN + 40 * BEAT  # 23.2 s
MIX = "Kieselweg MIX v4.wav"
DRUMS = "Kieselweg_Schlagzeug.wav"
SHAKE = "Kieselweg_Percussion (Mareike).wav"
BASS = "Kieselweg_Bass.wav"
LEFT = "Kieselweg_AkGit li.wav"
RIGHT = "Kieselweg_AkGit re.wav"
ELECTRIC = "Kieselweg_E-Git.wav"
MANDOLIN = "Kieselweg_Mandoline.wav"
FIDDLE = "Kieselweg_Geige.wav"
ORGAN = "Kieselweg_Orgel.wav"
VOICE = "Kieselweg_Gesang.wav"
CHOIR = "Kieselweg_Chor.wav"
HALL = "Kieselweg_Gesang Hall.wav"

OPEN: dict[str, list[float | None]] = {
    "Dm": [None, None, 50, 57, 62, 65],
    "Bb": [None, 46, 53, 58, 62, 65],
    "F": [41, 48, 53, 57, 60, 65],
    "C": [None, 48, 52, 55, 60, 64],
    "Gm": [43, 50, 55, 58, 62, 67],
}
ROOT = {"Dm": 38, "Bb": 34, "F": 41, "C": 36, "Gm": 43}
PAD = {"Dm": (57, 62, 65), "Bb": (58, 62, 65), "F": (57, 60, 65), "C": (55, 60, 64), "Gm": (58, 62, 67)}
WORDS = (
    "8/.5/69/ka 8.5/1/67/me 9.5/.5/65/ti 10/1.5/69/so 12/.5/67/la 12.5/1/64/ne 13.5/2/67/fa "
    "16/.5/69/pa 16.5/.5/69/ki 17/1/72/to 18/1.7/70/ne 20/1/69/la 21/1/67/mo 22/1.6/65/te "
    "24/1/69/sa 25/.5/72/ko 25.5/2/69/le 28/.5/67/ti 28.5/1/64/ha 29.5/2/60/no "
    "32/1/70/fa 33/1/69/me 34/1.6/67/lo 36/1/65/sa 37/.7/64/ti 38/1.8/62/ne 40/3.4/62/la"
)
SUNG = c.lyrics(WORDS, BEAT, BEGIN)
CHORUS = [x for x in SUNG if x[0] >= BEGIN + 24 * BEAT - 0.01]


def ready(x: b.Sound, peak: float, seed: int, noise: float = -78.0) -> b.Sound:
    """A stem: two legs, a level, noise floor, fades."""
    legs = x if x.ndim == 2 else b.spread(x, 0.0)
    legs = b.to_peak(legs, peak) + b.hiss(np.random.default_rng(seed), N, noise, 2)
    return b.fade(legs, RATE, 0.05, 0.8)


def drums(rng: np.random.Generator) -> b.Sound:
    """The kit, mixed to two legs."""
    hits: list[tuple[float, str, float]] = []
    for k in range(80):
        at = BEGIN + k * 0.5 * BEAT
        if k < 8:
            continue
        hits.append((at, "hat", 0.9 if k % 2 == 0 else 0.55))
        if k % 8 in (0, 5) or (k % 16 == 11):
            hits.append((at, "kick", 0.95 if k % 8 == 0 else 0.75))
        if k % 8 == 4:
            hits.append((at, "snare", 0.85))
        if k % 32 in (29, 30):
            hits.append((at, "tom", 0.6))
        if k % 32 == 31:
            hits.append((at, "floor", 0.7))
    hits += [(BEGIN + 8 * BEAT, "crash", 0.6), (BEGIN + 24 * BEAT, "crash", 0.8)]
    hits += [(LAST, "crash", 0.8), (LAST, "kick", 1.0)]
    pieces = b.kit(rng, RATE, N, hits)
    room = b.room(rng, RATE, 0.7, 0.4, 2, 0.008, 8.0)
    over = np.stack([b.microphone(pieces, RATE, at) for at in ((-0.8, -0.1, 1.77), (0.4, -0.5, 1.72))], 1)
    near = 0.55 * b.spread(pieces["kick"], 0.0) + 0.5 * b.spread(pieces["snare"] + pieces["wires"], -0.1)
    near += 0.4 * b.spread(pieces["tom"], -0.3) + 0.4 * b.spread(pieces["floor"], 0.4)
    mixed = near + 0.25 * over + 0.06 * b.reverb(over, room, N)
    return b.to_peak(np.tanh(2.6 * b.to_peak(mixed, 0.0)), 0.0)


def make(folder: Path) -> None:
    """Write the good stems and the print of the mix."""
    folder.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(2200)
    plate = b.room(rng, RATE, 1.9, 0.9, 2, 0.03, 9.0)
    small = b.room(rng, RATE, 0.6, 0.4, 2, 0.008, 5.0)
    stems: dict[str, b.Sound] = {}
    stems[DRUMS] = ready(drums(rng), -8.0, 1)
    shakes = [(BEGIN + k * 0.5 * BEAT, 0.5 if k % 2 else 0.3) for k in range(16, 80)]
    rings = [(BEGIN + k * BEAT, 0.8) for k in range(25, 40, 2)]
    shaker = c.shaken(shakes, N, RATE, rng, 4200.0, 0.022)
    tamb = c.shaken(rings, N, RATE, rng, 5200.0, 0.07)
    mixed = b.spread(shaker, -0.35) + 0.8 * b.spread(tamb, 0.4)
    stems[SHAKE] = ready(mixed + 0.12 * b.reverb(mixed, small, N), -14.5, 2, -84.0)
    low: list[a.Note] = []
    for bar, chord in enumerate(BARS):
        at = BEGIN + 4 * bar * BEAT
        if bar < 1:
            continue
        for beat, up, vel in ((0.0, 0, 0.8), (1.5, 0, 0.6), (2.0, 7, 0.7), (3.5, 5 if bar % 2 else 0, 0.55)):
            low.append((at + beat * BEAT, 0.9 * BEAT, ROOT[chord] + up, vel))
    low.append((LAST, 3.0, 38, 0.8))
    plain = c.wooden(a.human(low, rng, 6.0), N, RATE, rng, 1500.0)
    stems[BASS] = ready(b.amp(plain, RATE, 0.6, 3200.0, -2.0, 38.0), -10.5, 3)
    for name, seed, side, rows in (
        (LEFT, 2211, -0.8, ["D-dUdUdU", "D-dU-UDU"]),
        (RIGHT, 2212, 0.8, ["D-DU-UdU", "D-dUdUDU"]),
    ):
        own = np.random.default_rng(seed)
        notes = a.strum([OPEN[x] for x in BARS], rows, BEAT, own, BEGIN)
        notes += [(LAST + 0.012 * i, 3.0, midi, 0.7) for i, midi in enumerate((50, 57, 62, 65))]
        x = c.before_guitar(c.wooden(notes, N, RATE, own, 5200.0), RATE, own, 0.3, 1.03 if side < 0 else 0.96)
        x = b.butter(x, RATE, "highpass", 110.0)
        legs = b.spread(x, side) + 0.07 * b.reverb(x, small, N)
        stems[name] = ready(legs, -9.5, seed)
    riff: list[a.Note] = []
    for bar in range(4, 10):
        at = BEGIN + 4 * bar * BEAT
        tops = PAD[BARS[bar]]
        for beat, place in ((0.0, 0), (0.75, 1), (1.5, 2), (2.5, 1), (3.0, 0)):
            riff.append((at + beat * BEAT, 0.7 * BEAT, tops[place], 0.7))
    riff += [(LAST, 3.0, midi, 0.6) for midi in (50, 57, 62)]
    driven = b.amp(c.wooden(a.human(riff, rng, 8.0), N, RATE, rng, 3500.0), RATE, 2.2, 5200.0)
    stems[ELECTRIC] = ready(b.spread(driven, 0.45) + 0.10 * b.reverb(driven, plate, N), -15.0, 4, -76.0)
    tune = [
        (0, 0.9, 74),
        (1, 0.45, 77),
        (1.5, 0.45, 76),
        (2, 1.8, 74),
        (4, 0.9, 70),
        (5, 0.9, 74),
        (6, 1.8, 77),
        (16, 0.45, 77),
        (16.5, 0.45, 79),
        (17, 1.8, 81),
        (20, 1.9, 77),
        (26.5, 1.3, 77),
        (30.5, 1.3, 76),
        (32, 1.9, 79),
        (36, 0.9, 77),
        (37, 0.9, 76),
        (38, 1.8, 74),
        (40, 2.5, 74),
    ]
    pick = c.mandolin([(BEGIN + t * BEAT, d * BEAT, m, 0.7) for t, d, m in tune], N, RATE, rng)
    stems[MANDOLIN] = ready(b.spread(pick, -0.45) + 0.09 * b.reverb(pick, plate, N), -12.5, 5)
    arco = [
        (14.0, 1.6, 72),
        (15.7, 0.3, 71),
        (18.5, 1.4, 77),
        (22.0, 1.8, 72),
        (24.0, 1.9, 74),
        (26.0, 1.9, 70),
        (28.0, 2.9, 69),
        (31.0, 0.9, 67),
        (32.0, 1.9, 70),
        (34.0, 1.9, 74),
        (36.0, 3.8, 77),
        (40.0, 4.2, 74),
    ]
    bow = b.bowed(rng, RATE, N, [(BEGIN + t * BEAT, d * BEAT, m) for t, d, m in arco], 1)
    stems[FIDDLE] = ready(b.spread(bow, 0.25) + 0.22 * b.reverb(bow, plate, N), -14.0, 6)
    pads = [(BEGIN + 4 * k * BEAT, 3.95 * BEAT, PAD[x]) for k, x in enumerate(BARS) if k >= 2]
    pads.append((LAST, 3.0, (57, 62, 65)))
    stems[ORGAN] = ready(c.organ(pads, N, RATE, rng), -22.0, 7)
    lead = b.voice(rng, RATE, N, SUNG, 1.0, 0.24)
    lead = b.peak_filter(b.peak_filter(lead, RATE, 2800.0, 7.0, 0.7), RATE, 6500.0, 5.0, 0.8)
    stems[VOICE] = ready(lead, -9.0, 8)
    back = np.zeros((N, 2))
    for up, side, size in ((4, -0.7, 1.12), (-5, 0.6, 0.95), (4, 0.75, 1.08), (-5, -0.55, 0.93)):
        steps = [up - (1 if (x[2] + up) % 12 in (1, 3, 6, 8, 11) else 0) for x in CHORUS]
        part = b.voice(rng, RATE, N, c.sung_again(CHORUS, rng, 14.0, steps), size, 0.15, breaths=0.4)
        back += b.spread(part, side)
    back = b.peak_filter(back, RATE, 3000.0, 5.0, 0.7)
    stems[CHOIR] = ready(back + 0.12 * b.reverb(back, plate, N), -14.0, 9)
    fed = b.butter(stems[VOICE].mean(axis=1), RATE, "highpass", 200.0)
    stems[HALL] = b.fade(0.11 * b.reverb(fed, plate, N), RATE, 0.05, 0.6)
    for name, sound in stems.items():
        b.write(folder / name, sound, RATE)
    b.write(folder / MIX, sum(stems.values()), RATE)


# the faults


def with_mix(name: str, change: Callable[[b.Sound, int], b.Sound]) -> Callable[[Path], None]:
    """A damage that was already in the track when the mix was printed."""

    def plant(folder: Path) -> None:
        x, rate = b.read(folder / name)
        y = change(x, rate)
        b.write(folder / name, y, rate)
        b.change_file(folder / MIX, lambda mix, r: c.limit(mix + y - x))

    return plant


def plant_missing(folder: Path) -> None:
    """The mix was printed with the fiddle muted."""
    fiddle, _ = b.read(folder / FIDDLE)
    b.change_file(folder / MIX, lambda x, rate: x - fiddle)


CLIP_START = BEGIN + 8 * BEAT - 0.35


def from_clip(x: b.Sound, rate: int) -> b.Sound:
    """Exported as a clip: from where it starts instead of from zero."""
    return b.fade(x[round(CLIP_START * rate) :], rate, 0.01, 0.01)


def relabelled(x: b.Sound, rate: int) -> b.Sound:
    """Samples of 48 kHz under a header of 44.1 kHz."""
    return c.limit(signal.resample_poly(x, 160, 147, axis=0))


def plant_twice(folder: Path) -> None:
    """The left guitar was exported twice, once under the right one's name."""
    (folder / RIGHT).write_bytes((folder / LEFT).read_bytes())


def clicks(x: b.Sound, rate: int) -> b.Sound:
    """The metronome out of the fiddler's headphones, all through."""
    rng = np.random.default_rng(88)
    m = int(0.05 * rate)
    t = np.arange(m) / rate
    y = x.copy()
    small = b.room(rng, rate, 0.3, 0.2, 2, 0.002, 3.0)
    tick = np.zeros(len(x))
    for k in range(46):
        f = 1900.0 if k % 4 == 0 else 1400.0
        beep = np.sin(2 * np.pi * f * t) * np.exp(-t / 0.011) * np.minimum(1, t / 0.0008)
        b.place(tick, rate, BEGIN + (k - 1) * BEAT, beep, b.gain(-21.0 if k % 4 == 1 else -24.0))
    y += b.spread(tick, 0.25) + 0.2 * b.reverb(tick, small, len(x))
    return c.limit(y)


ACCEPTED = [
    {"names": [BASS, VOICE], "why": "mono sources in files of two like legs, usual for stems"},
    {"names": [LEFT, RIGHT], "why": "two guitars placed hard to one side each: legs of unlike level are meant so"},
    {"names": [HALL], "why": "the reverb alone, softer than the rest and without a dry sound"},
    {"names": [MIX], "why": "the print is the plain sum with no mastering: peaks near −3 dBFS and no loudness"},
]

FAULTS = [
    {
        "id": "mix-lacks-fiddle",
        "class": "print lacks a stem",
        "names": [MIX, FIDDLE],
        "grade": "hold",
        "says": "The mix print holds no fiddle: the track was muted when it was printed; the other eleven stems "
        "add up to it.",
        "time_s": (8.5, 26.0),
        "cure": "print the mix again with the fiddle, or ask which of the two is meant",
        "plant": plant_missing,
    },
    {
        "id": "bass-stem-empty",
        "class": "empty stem",
        "names": [BASS],
        "grade": "hold",
        "says": "The bass stem is 27 s of digital silence; the mix has the bass.",
        "time_s": (0.0, 27.0),
        "cure": "export the bass again",
        "plant": c.on_file(BASS, lambda x, rate: np.zeros_like(x)),
    },
    {
        "id": "voice-not-from-zero",
        "class": "stem does not start at zero",
        "names": [VOICE],
        "grade": "hold",
        "says": f"The voice was exported from its clip's start: {CLIP_START:.2f} s too early and as much shorter "
        "than the others.",
        "time_s": (0.0, 27.0),
        "cure": "export from zero, or move it to its place",
        "plant": c.on_file(VOICE, from_clip),
    },
    {
        "id": "electric-wrong-rate",
        "class": "wrong sample rate in the header",
        "names": [ELECTRIC],
        "grade": "hold",
        "says": "The electric guitar holds 48 kHz samples under a 44.1 kHz header: 1.5 semitones flat, 8.8 % too slow "
        "and 2.4 s too long.",
        "time_s": (0.0, 29.4),
        "cure": "set the header to 48 kHz and convert",
        "plant": c.on_file(ELECTRIC, relabelled),
    },
    {
        "id": "organ-leg-inverted",
        "class": "one leg of opposite polarity",
        "names": [ORGAN],
        "grade": "hold",
        "says": "The right leg of the organ stem is inverted: in mono the organ loses 12 dB and all its body.",
        "time_s": (5.4, 26.3),
        "cure": "invert the right leg",
        "plant": c.on_file(ORGAN, lambda x, rate: x * np.array([1.0, -1.0])),
    },
    {
        "id": "guitar-twice",
        "class": "same file under two names",
        "names": [LEFT, RIGHT],
        "grade": "hold",
        "says": "Both acoustic guitars are the same file, the left one; the right guitar is missing.",
        "time_s": (0.0, 27.0),
        "cure": "export the right guitar",
        "plant": plant_twice,
    },
    {
        "id": "mix-clipped",
        "class": "print clipped",
        "names": [MIX],
        "grade": "hold",
        "says": "The mix was printed 9 dB too hot and stands flat at full scale on nearly every beat.",
        "time_s": (3.2, 24.5),
        "cure": "print again with 3 dB of headroom",
        "plant": c.on_file(MIX, lambda x, rate: c.limit(x * b.gain(9.0))),
    },
    {
        "id": "click-in-fiddle",
        "class": "metronome bleed",
        "names": [FIDDLE, MIX],
        "grade": "hold",
        "says": "The metronome ticks out of the headphones into the fiddle's microphone at −22 dBFS on each beat, bare "
        "in the intro, in the rests and after the last chord.",
        "time_s": (0.4, 25.5),
        "cure": "cut the rests of the fiddle and clean or replace the rest",
        "plant": with_mix(FIDDLE, clicks),
    },
    {
        "id": "drums-normalised",
        "class": "stem level does not fit the mix",
        "names": [DRUMS],
        "grade": "hold",
        "says": "The drum stem was normalised on export: it peaks at 0 dBFS and lies 8 dB over its level in the mix.",
        "time_s": (0.0, 27.0),
        "cure": "export without normalising, or lower it by 8 dB",
        "plant": c.on_file(DRUMS, lambda x, rate: c.limit(b.to_peak(x, 0.0))),
    },
    {
        "id": "percussion-lossy",
        "class": "made from a lossy file",
        "names": [SHAKE],
        "grade": "look",
        "says": "The shaker and tambourine came as a low-rate compressed file: nothing above 11 kHz and holes below, "
        "where the instruments reach to the top.",
        "time_s": (5.4, 24.0),
        "cure": "ask for the file as recorded",
        "plant": with_mix(SHAKE, lambda x, rate: c.lossy(x, rate, 11000.0, np.random.default_rng(89))),
    },
]
