"""'Two Chairs by the Window': a session of an acoustic duo with a small band.

Two acoustic guitars sit hard to opposite sides; the reverb of each was printed and its return plays the print on the
other side. Lead voice, double bass, a small kit with brushes (kick, snare, overheads). 48 kHz, 24 bit, 27 s.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from tests.field.sound import sounds_by_a as a
from tests.field.sound import sounds_by_b as b
from tests.field.sound import sounds_by_c as c

KIND = "session"
RATE = 48000
N = 27 * RATE
BPM = 86.0
BEAT = 60.0 / BPM
BEGIN = 0.5
LAST = BEGIN + 32 * BEAT  # the last chord, 22.8 s

OPEN: dict[str, list[float | None]] = {
    "G": [43, 47, 50, 55, 59, 67],
    "C": [None, 48, 52, 55, 60, 64],
    "Em": [40, 47, 52, 55, 59, 64],
    "D": [None, None, 50, 57, 62, 66],
    "Am": [None, 45, 52, 57, 60, 64],
}
HIGH: dict[str, list[float]] = {
    "G": [55, 62, 67, 71, 74],
    "C": [55, 60, 64, 72, 76],
    "Em": [52, 59, 64, 71, 76],
    "D": [57, 62, 66, 69, 74],
    "Am": [57, 60, 64, 69, 76],
}
BARS = ["G", "Em", "C", "D", "G", "Am", "C", "D"]
ROOTS = {"G": (43, 38), "C": (36, 43), "Em": (40, 35), "D": (38, 45), "Am": (33, 40)}
WORDS = (
    "4/1/67/pa 5/.5/69/ti 5.5/1.5/71/no 7.5/.5/69/ko 8/1/67/la 9/2/64/se "
    "12/.5/66/ta 12.5/.5/67/pi 13/1/69/ne 14/1.7/66/lo "
    "19.5/.5/71/fa 20/1/72/pe 21/1/71/mi 22/1.6/69/to "
    "24/.5/67/pa 24.5/.5/69/ka 25/1/72/si 26/1/71/lu 27/.8/67/ne "
    "28/1/69/po 29/1/66/ta 30/1.5/69/me 32/3.2/67/lo"
)
PLOSIVES = [note[0] for note in c.lyrics(WORDS, BEAT, BEGIN) if note[4] == "p"]
FILES = {
    "f-gl": "Gtr L Hanne.wav",
    "f-gr": "Gtr R Piet.wav",
    "f-vl": "Gtr L Verb print.wav",
    "f-vr": "Gtr R Verb print.wav",
    "f-vox": "Lead Vox.wav",
    "f-bass": "Double Bass.wav",
    "f-kick": "Kick.wav",
    "f-snare": "Snare.wav",
    "f-oh": "Overheads.wav",
}


def guitar_right(tune: float = 0.0) -> b.Sound:
    """The finger-picked guitar, in tune or not."""
    rng = np.random.default_rng(1202)
    notes = c.picked([HIGH[x] for x in BARS], (0, 2, 1, 3, 2, 4, 1, 3), BEAT, rng, BEGIN)
    notes += [(LAST + 0.02 * i, 3.0, midi, 0.6) for i, midi in enumerate(HIGH["G"])]
    x = c.before_guitar(c.wooden(notes, N, RATE, rng, 6200.0, tune), RATE, rng, 0.3, 0.93)
    return finish(b.to_peak(x, -7.0), 1203, -70.0)


def guitar_left() -> b.Sound:
    """The strummed guitar."""
    rng = np.random.default_rng(1201)
    notes = a.strum([OPEN[x] for x in BARS], ["D-dUdUdu", "D-dU-UDu"], BEAT, rng, BEGIN)
    for i, midi in enumerate(x for x in OPEN["G"] if x is not None):
        notes.append((LAST + 0.011 * i, 3.2, midi, 0.7))
    x = c.before_guitar(c.wooden(notes, N, RATE, rng, 5200.0), RATE, rng, 0.28, 1.04)
    return finish(b.to_peak(x, -6.0), 1204, -70.0)


def finish(x: b.Sound, seed: int, noise: float) -> b.Sound:
    """Preamp noise and fades at the edges."""
    y = x + b.hiss(np.random.default_rng(seed), len(x), noise, 1 if x.ndim == 1 else x.shape[1])
    return b.fade(y, RATE, 0.05, 0.6)


def verb(guitar: b.Sound, seed: int) -> b.Sound:
    """The printed reverb of a guitar: wholly wet, one leg."""
    plate = b.room(np.random.default_rng(seed), RATE, 1.7, 0.8, 1, 0.028, 9.0)
    fed = b.butter(guitar, RATE, "highpass", 180.0)
    return b.fade(0.42 * b.reverb(fed, plate, N), RATE, 0.05, 0.5)


def make(folder: Path) -> None:
    """Write the good song."""
    audio = folder / "audio"
    audio.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(1200)
    left, right = guitar_left(), guitar_right()
    vox = b.voice(rng, RATE, N, c.lyrics(WORDS, BEAT, BEGIN), 1.06, 0.22)
    vox = vox + 0.05 * b.reverb(vox, b.room(rng, RATE, 0.3, 0.2, 1, 0.003, 4.0), N)
    vox = b.peak_filter(b.peak_filter(vox, RATE, 2800.0, 7.0, 0.7), RATE, 6500.0, 5.0, 0.8)
    low: list[a.Note] = []
    for bar, chord in enumerate(BARS):
        root, fifth = ROOTS[chord]
        at = BEGIN + 4 * bar * BEAT
        low.append((at, 1.9 * BEAT, root, 0.75))
        low.append((at + 2 * BEAT, 1.4 * BEAT if bar % 2 else 1.9 * BEAT, fifth, 0.65))
        if bar % 2:
            low.append((at + 3.5 * BEAT, 0.45 * BEAT, fifth + 2, 0.55))
    low.append((LAST, 3.0, 31, 0.75))
    bass = 0.42 * c.double_bass(a.human(low, rng, 7.0), N, RATE, rng)
    hits: list[tuple[float, str, float]] = []
    for k in range(32):
        at = BEGIN + k * BEAT
        hits.append((at, "ride", 0.5 if k % 2 else 0.38))
        if k % 2:
            hits.append((at + 0.66 * BEAT, "ride", 0.25))
            hits.append((at, "snare", 0.32))
        if k % 4 in (0, 2) and k != 2:
            hits.append((at, "kick", 0.55 if k % 4 == 0 else 0.42))
        if k % 8 == 7:
            hits.append((at + 0.5 * BEAT, "snare", 0.16))
    hits += [(LAST, "kick", 0.6), (LAST, "crash", 0.25)]
    pieces = b.kit(rng, RATE, N, hits)
    pieces["snare"] += 0.022 * c.brushes(N, RATE, rng, BEAT, BEGIN, LAST)
    room = b.room(rng, RATE, 0.5, 0.3, 2, 0.006, 6.0)
    kick = 0.045 * b.microphone(pieces, RATE, (0.0, 0.42, 0.3), "kick", 0.3)
    snare = 0.10 * b.microphone(pieces, RATE, (-0.3, -0.47, 0.78), "snare", 0.3)
    ears = [b.microphone(pieces, RATE, at) for at in ((-0.8, -0.1, 1.77), (0.4, -0.5, 1.72))]
    over = np.stack(ears, 1)
    over = 0.4 * (over + 0.22 * b.reverb(over, room, N))
    kit = pieces["kick"] + pieces["snare"] + 0.6 * pieces["ride"]
    bass = bass + 0.006 * b.reverb(kit, room[:, 0], N)
    over = over + 0.012 * b.reverb(bass, room, N)
    sounds = {"f-gl": left, "f-gr": right, "f-vl": verb(left, 1211), "f-vr": verb(right, 1212)}
    sounds |= {"f-vox": finish(b.to_peak(vox, -6.5), 1205, -72.0), "f-bass": finish(b.to_peak(bass, -7.0), 1206, -68.0)}
    sounds |= {
        "f-kick": finish(b.to_peak(kick, -11.0), 1207, -70.0),
        "f-snare": finish(b.to_peak(snare, -9.0), 1208, -70.0),
    }
    sounds["f-oh"] = finish(b.to_peak(over, -9.0), 1209, -68.0)
    for key, sound in sounds.items():
        b.write(audio / FILES[key], sound, RATE)
    end = N / RATE

    def whole(key: str) -> list[c.Row]:
        """A clip over the whole song."""
        return [b.clip(key, 0.0, end) | {"name": FILES[key][:-4]}]

    off = {"level_db": -10.0, "tap": "post", "on": False}
    vox_send = {"to": "r-vox", "level_db": -14.0, "tap": "post"}
    tracks = [
        c.strip(
            "t-gl",
            "Gtr L Hanne",
            "track",
            "g-gtr",
            -3.0,
            -85.0,
            1,
            clips=whole("f-gl"),
            sends=[{"to": "r-gl"} | off],
            inserts=[c.eq("EQ", c.cut_low(80.0), c.bell(230.0, -2.0))],
            comment="send off: its reverb is printed on Gtr L Verb",
        ),
        c.strip(
            "t-gr",
            "Gtr R Piet",
            "track",
            "g-gtr",
            -3.0,
            85.0,
            1,
            clips=whole("f-gr"),
            sends=[{"to": "r-gr"} | off],
            inserts=[c.eq("EQ", c.cut_low(90.0))],
            comment="send off: its reverb is printed on Gtr R Verb",
        ),
        c.strip(
            "t-vox",
            "Lead Vox",
            "track",
            "master",
            -1.0,
            0.0,
            1,
            clips=whole("f-vox"),
            sends=[vox_send],
            inserts=[c.comp(-22.0, 2.5, 8.0, 120.0, 2.0)],
        ),
        c.strip(
            "t-bass",
            "Double Bass",
            "track",
            "master",
            -2.5,
            0.0,
            1,
            clips=whole("f-bass"),
            inserts=[c.comp(-20.0, 3.0, 20.0, 150.0, 1.0)],
        ),
        c.strip("t-kick", "Kick", "track", "g-kit", -4.0, 0.0, 1, clips=whole("f-kick")),
        c.strip("t-snare", "Snare", "track", "g-kit", -6.0, -8.0, 1, clips=whole("f-snare")),
        c.strip("t-oh", "Overheads", "track", "g-kit", -3.0, 0.0, 2, clips=whole("f-oh")),
    ]
    rest = [
        c.strip("g-gtr", "Guitars", "group", "master", 0.0, 0.0, 2),
        c.strip("g-kit", "Kit", "group", "master", 0.0, 0.0, 2),
        c.strip("r-gl", "Gtr L Verb", "return", "master", -6.0, 85.0, 1, plays=["audio"], clips=whole("f-vl")),
        c.strip("r-gr", "Gtr R Verb", "return", "master", -6.0, -85.0, 1, plays=["audio"], clips=whole("f-vr")),
        c.strip("r-vox", "Vox Verb", "return", "master", -4.0, 0.0, 2, inserts=[c.hall("Plate", 35.0)]),
        c.strip("master", "Master", "master", None, 0.0, 0.0, 2),
    ]
    marks = [(BEGIN, "Intro"), (BEGIN + 4 * BEAT, "Verse"), (BEGIN + 19 * BEAT, "Second half"), (LAST, "End")]
    c.write_session(folder, "zwei_stuehle", "Two Chairs by the Window", RATE, BPM, tracks + rest, FILES, marks)


# the faults


def plant_dry(folder: Path) -> None:
    """The print of the left guitar's reverb was made with the mix control half open."""
    dry, _ = b.read(folder / "audio" / FILES["f-gl"])

    def change(x: b.Sound, rate: int) -> b.Sound:
        return 0.7 * x + dry * b.gain(c.rms_db(x) - c.rms_db(dry) + 0.5)

    b.change_file(folder / "audio" / FILES["f-vl"], change)


def plant_wrong(folder: Path) -> None:
    """The print on the right guitar's return is the left guitar's reverb."""
    dry, _ = b.read(folder / "audio" / FILES["f-gl"])
    b.change_file(folder / "audio" / FILES["f-vr"], lambda x, rate: verb(dry, 1212))


CUT = LAST + 0.9


def plant_short(folder: Path) -> None:
    """The print was bounced with the range ending soon after the last chord."""
    path = folder / "audio" / FILES["f-vr"]
    b.change_file(path, lambda x, rate: x[: round(CUT * rate)])

    def change(told: c.Row) -> None:
        row = b.channel_of(told, "Gtr R Verb")["clips"][0]
        row["end_s"], row["fade_out_s"] = CUT, 0.0
        next(m for m in told["media"] if m["id"] == "f-vr")["duration_s"] = round(CUT * RATE) / RATE

    b.change_session(folder, change)


def crackle(x: b.Sound, rate: int) -> b.Sound:
    """A broken cable: the contact opens and closes in bursts."""
    rng = np.random.default_rng(77)
    y = x.copy()
    for burst in (8.9, 9.35, 10.2, 10.9, 11.3, 12.4, 12.7):
        at = burst
        for _ in range(int(rng.integers(5, 12))):
            i = int(at * rate)
            j = i + int(rng.uniform(0.0006, 0.014) * rate)
            y[i:j] = y[i:j] * rng.choice([0.0, 0.1]) + rng.uniform(-0.22, 0.22)
            k = j + int(0.0015 * rate)
            y[j:k] += rng.uniform(0.08, 0.28) * rng.standard_normal(k - j) * np.exp(-np.arange(k - j) / 14.0)
            at += rng.uniform(0.008, 0.035)
    return c.limit(y)


def pops(x: b.Sound, rate: int) -> b.Sound:
    """No pop shield: every p throws air at the capsule."""
    rng = np.random.default_rng(78)
    y = x.copy()
    for at in PLOSIVES:
        m = int(0.16 * rate)
        t = np.arange(m) / rate
        f = rng.uniform(28, 42)
        puff = np.sin(2 * np.pi * f * t) * np.exp(-t / 0.045) * np.minimum(1, t / 0.004)
        air = b.butter(rng.standard_normal(m), rate, "lowpass", 110.0) * np.exp(-t / 0.03) * np.minimum(1, t / 0.004)
        b.place(y, rate, at - 0.025, rng.uniform(0.5, 0.65) * puff + 1.2 * air)
    return c.limit(y)


def gated(x: b.Sound, rate: int) -> b.Sound:
    """A gate rendered into the voice with its threshold far too high."""
    step = int(0.01 * rate)
    frames = x[: len(x) // step * step].reshape(-1, step)
    level = 20 * np.log10(np.sqrt(np.mean(frames**2, axis=1)) + 1e-9)
    is_open = level > -27.0
    g = np.repeat(is_open.astype(float), step)
    g = np.append(g, np.full(len(x) - len(g), g[-1]))
    short = np.ones(int(0.002 * rate)) / int(0.002 * rate)
    return x * np.convolve(g, short, "same")


SPLICE = 13.9


def spliced(x: b.Sound, rate: int) -> b.Sound:
    """A patch of 1.5 s from elsewhere in the take, put in with no crossfade where the wave stands far from nought."""
    y = x.copy()
    i, m = int(SPLICE * rate), int(1.5 * rate)
    span = np.arange(i, i + int(0.05 * rate))
    i = int(span[np.argmax(x[span])])
    s0 = i - int(8 * BEAT * rate)
    other = np.arange(s0, s0 + int(0.03 * rate))
    s = int(other[np.argmin(x[other])])
    tail = np.arange(i + m, i + m + int(0.03 * rate))
    k = int(tail[np.argmax(np.abs(x[tail] - x[tail - i + s - 1]))])
    y[i:k] = x[s : s + k - i]
    return y


def plant_side(folder: Path) -> None:
    """The pan of the print was lost on import and set again on the wrong side."""
    b.change_session(folder, lambda told: b.channel_of(told, "Gtr L Verb").update(pan=-85.0))


def plant_flat(folder: Path) -> None:
    """The right guitar was tuned by ear after the capo went on: 38 cents flat, and so is its reverb."""
    flat = guitar_right(-0.38)
    b.write(folder / "audio" / FILES["f-gr"], flat, RATE)
    b.write(folder / "audio" / FILES["f-vr"], verb(flat, 1212), RATE)


def lopsided(x: b.Sound, rate: int) -> b.Sound:
    """The pad of one overhead microphone was in."""
    return x * np.array([1.0, b.gain(-11.0)])


ACCEPTED = [
    {"names": ["Vox Verb"], "why": "its reverb is live, so its sound cannot be heard from the files"},
    {
        "names": ["Gtr L Verb", "Gtr R Verb", "Gtr L Hanne", "Gtr R Piet"],
        "why": "the sends stand switched off because the reverbs are printed; crosswise returns are meant so",
    },
    {"names": ["Overheads", "Kick", "Snare", "Double Bass"], "why": "soft playing and bleed as on any small stage"},
]

FAULTS = [
    {
        "id": "verb-print-holds-dry",
        "class": "printed return not wholly wet",
        "names": ["Gtr L Verb", "Gtr L Verb print.wav", "Gtr L Hanne", "Gtr L Hanne.wav"],
        "grade": "hold",
        "says": "The printed reverb of the left guitar holds the dry guitar 3.5 dB above the wet sound, on the other "
        "side.",
        "time_s": (0.5, 27.0),
        "cure": "print the return again with the reverb wholly wet",
        "plant": plant_dry,
    },
    {
        "id": "verb-print-of-other-guitar",
        "class": "printed return of the wrong source",
        "names": ["Gtr R Verb", "Gtr R Verb print.wav", "Gtr R Piet", "Gtr L Hanne"],
        "grade": "hold",
        "says": "The file on Gtr R Verb is the reverb of the left guitar; the right guitar has no reverb at all.",
        "time_s": (0.5, 27.0),
        "cure": "print the reverb of the right guitar and put it on its return",
        "plant": plant_wrong,
    },
    {
        "id": "verb-tail-cut",
        "class": "printed return cut off at its end",
        "names": ["Gtr R Verb", "Gtr R Verb print.wav"],
        "grade": "look",
        "says": f"The print stops dead at {CUT:.1f} s, 0.9 s after the last chord, while reverb and guitar still ring.",
        "time_s": (CUT - 0.1, 27.0),
        "cure": "print again past the end of the tail",
        "plant": plant_short,
    },
    {
        "id": "bass-crackle",
        "class": "crackle of a broken cable",
        "names": ["Double Bass", "Double Bass.wav"],
        "grade": "hold",
        "says": "Seven bursts of crackle and contact breaks on the double bass from 8.9 to 13.2 s.",
        "time_s": (8.9, 13.2),
        "cure": "replace the stretch from another take or repair click by click",
        "plant": c.on_file("audio/Double Bass.wav", crackle),
    },
    {
        "id": "vox-pops",
        "class": "plosive pops",
        "names": ["Lead Vox", "Lead Vox.wav"],
        "grade": "look",
        "says": f"Each of the {len(PLOSIVES)} p's of the voice throws a thump of 30–40 Hz at about −5 dBFS.",
        "time_s": (3.2, 20.5),
        "cure": "high-pass the pops or take the low end out at each of them",
        "plant": c.on_file("audio/Lead Vox.wav", pops),
    },
    {
        "id": "vox-gate-chops",
        "class": "gate chops words",
        "names": ["Lead Vox", "Lead Vox.wav"],
        "grade": "hold",
        "says": "A gate set too high is rendered into the voice: ends of words, soft beginnings and all breaths are "
        "cut to digital nought.",
        "time_s": (3.2, 25.5),
        "cure": "go back to the ungated take",
        "plant": c.on_file("audio/Lead Vox.wav", gated),
    },
    {
        "id": "gtr-hard-splice",
        "class": "edit without crossfade",
        "names": ["Gtr L Hanne", "Gtr L Hanne.wav"],
        "grade": "hold",
        "says": "A patch rendered into the left guitar at 13.9–15.4 s has no crossfades: a click at both its edges.",
        "time_s": (13.9, 15.5),
        "cure": "make the edit again with crossfades",
        "plant": c.on_file("audio/Gtr L Hanne.wav", spliced),
    },
    {
        "id": "verb-on-own-side",
        "class": "return panned to the wrong side",
        "names": ["Gtr L Verb", "Gtr L Hanne"],
        "grade": "look",
        "says": "Gtr L Verb stands at −85 like its guitar, while the other pair is crosswise: both returns lie left.",
        "time_s": (0.0, 27.0),
        "cure": "pan Gtr L Verb to +85",
        "plant": plant_side,
    },
    {
        "id": "gtr-flat",
        "class": "out of tune with the rest",
        "names": ["Gtr R Piet", "Gtr R Piet.wav", "Gtr R Verb", "Gtr R Verb print.wav"],
        "grade": "hold",
        "says": "The right guitar is tuned 38 cents flat against the left guitar, the bass and the voice, all through.",
        "time_s": (0.5, 27.0),
        "cure": "record again in tune, or shift it by +38 cents",
        "plant": plant_flat,
    },
    {
        "id": "oh-lopsided",
        "class": "one leg too soft",
        "names": ["Overheads", "Overheads.wav"],
        "grade": "look",
        "says": "The right leg of the overheads lies 11 dB under the left: the kit leans hard to the left.",
        "time_s": (0.5, 27.0),
        "cure": "raise the right leg by 11 dB or split the file",
        "plant": c.on_file("audio/Overheads.wav", lopsided),
    },
]
