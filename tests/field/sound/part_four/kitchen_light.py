"""Kitchen Light: a song in G, 92 bpm, 25.5 s, as a mix session with a print of the mix beside it.

Two steel-string guitars left and right (a strummed and a picked one), each with a return of its own that was printed
wholly wet; lead vocal and a harmony in the chorus; bass guitar by direct box; a kit with seven microphones.
The vocals' plate is a live return. The print is the session's own sum.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound import sounds_by_e as e
from tests.field.sound.sounds_by_e import Sound, a, b

KIND = "session"
RATE = 48000
BEAT = 60 / 92
BAR = 4 * BEAT
BEGIN = 0.5
LONG = 25.5
N = int(LONG * RATE)
PRINT = "Kitchen Light - mix print.wav"
CHORUS = (BEGIN + 5 * BAR - 0.12, BEGIN + 8 * BAR + 1.9)

SHAPES: dict[str, list[float | None]] = {
    "G": [43, 47, 50, 55, 59, 67],
    "C": [None, 48, 52, 55, 60, 64],
    "Em": [40, 47, 52, 55, 59, 64],
    "D": [None, None, 50, 57, 62, 66],
}
BARS = ["G", "C", "G", "Em", "C", "C", "G", "D", "G"]
PICKED = {
    "G": [55, 62, 67, 71, 67, 62, 74, 67],
    "C": [60, 64, 67, 72, 67, 64, 76, 67],
    "Em": [52, 64, 67, 71, 67, 64, 76, 71],
    "D": [62, 66, 69, 74, 69, 66, 78, 69],
}
ROOTS = {"G": (31, 38), "C": (36, 31), "Em": (28, 35), "D": (38, 33)}
# bar, beat, beats, note, vowel, consonant, force
WORDS: list[tuple[int, float, float, float, str, str, float]] = [
    (2, 0.0, 0.5, 59, "e", "s", 0.6),
    (2, 0.5, 0.5, 59, "a", "t", 0.62),
    (2, 1.0, 1.4, 62, "i", "l", 0.7),
    (2, 2.5, 0.5, 60, "o", "", 0.62),
    (2, 3.0, 0.9, 59, "a", "n", 0.66),
    (3, 0.0, 0.5, 55, "i", "h", 0.58),
    (3, 0.5, 1.0, 59, "o", "m", 0.64),
    (3, 1.5, 0.5, 57, "e", "t", 0.6),
    (3, 2.0, 1.6, 55, "u", "k", 0.66),
    (4, 0.0, 0.5, 60, "a", "f", 0.64),
    (4, 0.5, 0.5, 60, "i", "s", 0.62),
    (4, 1.0, 1.0, 64, "e", "", 0.72),
    (4, 2.0, 0.5, 62, "o", "n", 0.66),
    (4, 2.5, 1.1, 60, "a", "t", 0.68),
    (5, 0.0, 1.4, 67, "a", "k", 0.92),
    (5, 1.5, 0.5, 65, "i", "t", 0.85),
    (5, 2.0, 1.7, 64, "e", "n", 0.9),
    (6, 0.0, 0.9, 67, "o", "l", 0.92),
    (6, 1.0, 0.5, 66, "a", "", 0.88),
    (6, 1.5, 0.5, 64, "i", "s", 0.84),
    (6, 2.0, 1.7, 62, "a", "t", 0.9),
    (7, 0.0, 1.0, 66, "e", "h", 0.92),
    (7, 1.0, 0.5, 64, "o", "m", 0.86),
    (7, 1.5, 2.2, 62, "u", "f", 0.88),
    (8, 0.0, 2.4, 59, "o", "l", 0.7),
]
THIRD = {67: 71, 65: 69, 64: 67, 66: 69, 62: 66, 59: 62}


def at(bar: float, beat: float = 0.0) -> float:
    """A place in the song in seconds."""
    return BEGIN + bar * BAR + beat * BEAT


def lead_line() -> list[a.Sung]:
    """The lead's notes in seconds."""
    return [(at(w[0], w[1]), w[2] * BEAT * 0.96, w[3], w[4], w[5], w[6]) for w in WORDS]


def harmony_line(rng: e.Rng) -> list[a.Sung]:
    """A third above in the chorus, by another singer."""
    out = []
    for w in WORDS:
        if w[0] >= 5:
            moved = at(w[0], w[1]) + 0.012 * rng.standard_normal()
            out.append((moved, w[2] * BEAT * 0.93, THIRD[int(w[3])] + 0.05 * rng.normal(), w[4], w[5], 0.85 * w[6]))
    return out


def beats() -> list[b.Note]:
    """The drummer's strokes."""
    hits: list[Any] = []
    for bar in range(2, 8):
        full = bar >= 5
        for eighth in range(8):
            piece = "ride" if full else "hat"
            if not (bar in (4, 7) and eighth >= 6):
                hits.append((at(bar, eighth / 2), piece, 0.8 if eighth % 2 == 0 else 0.5))
        hits += [(at(bar, 0), "kick", 0.95), (at(bar, 2), "kick", 0.85), (at(bar, 2.5), "kick", 0.6)]
        hits += [(at(bar, 1), "snare", 0.85 if full else 0.7), (at(bar, 3), "snare", 0.9 if full else 0.72)]
        if bar in (4, 7):
            hits += [(at(bar, 3.25), "tom", 0.7), (at(bar, 3.5), "tom", 0.8), (at(bar, 3.75), "floor", 0.9)]
    hits += [(at(2), "crash", 0.5), (at(5), "crash", 0.85), (at(8), "crash", 0.8), (at(8), "kick", 0.95)]
    return hits


def bass_line() -> list[e.Played]:
    """Roots and fifths, with a step into the next bar."""
    out: list[e.Played] = []
    for bar in range(2, 8):
        root, fifth = ROOTS[BARS[bar]]
        steps = [
            (0.0, 1.4, root, 0.8),
            (1.5, 0.45, root, 0.6),
            (2.0, 0.9, root, 0.75),
            (3.0, 0.45, fifth, 0.65),
            (3.5, 0.45, ROOTS[BARS[bar + 1]][0] + 2, 0.6),
        ]
        out += [(at(bar, s), d * BEAT, m, v) for s, d, m, v in steps]
    return [*out, (at(8), 2.3, 31, 0.85)]


def guitars(rng: e.Rng) -> tuple[Sound, Sound]:
    """A strummed and a picked guitar, each through its own body."""
    shapes = [SHAPES[x] for x in BARS[1:8]]
    rows = a.strum(shapes, ["D-dxDUdU", "D-DUxUdU", "D-dxDUDU"], BEAT, rng, at(1))
    rows += [(at(8) + 0.011 * i, 2.9, m, 0.7) for i, m in enumerate(SHAPES["G"]) if m]
    left = e.wood(rng, RATE, e.strings(rng, RATE, N, rows, 2400.0, 3.6, 0.06))
    picked: list[e.Played] = []
    for bar, chord in enumerate(BARS[:8]):
        for i, m in enumerate(PICKED[chord]):
            when = at(bar, i / 2) + 0.006 * rng.standard_normal()
            force = (0.72 if i % 4 == 0 else 0.55) * rng.uniform(0.9, 1.1)
            picked.append((when, BEAT * rng.uniform(0.9, 1.5), m, force))
    picked += [(at(8) + 0.02 * i, 2.7, m, 0.65) for i, m in enumerate((55, 62, 67, 71, 74))]
    right = e.wood(rng, RATE, e.strings(rng, RATE, N, picked, 3400.0, 4.2, 0.08, place=0.1), 0.93)
    return left, right


def kit_files(rng: e.Rng) -> dict[str, Sound]:
    """What seven microphones hear of the kit."""
    pieces = b.kit(rng, RATE, N, beats())
    hang = {
        "Kick": ((0.0, 0.2, 0.35), "kick"),
        "Snare Top": ((-0.26, -0.33, 0.74), "snare"),
        "Snare Bottom": ((-0.27, -0.34, 0.43), "wires"),
        "Rack Tom": ((-0.1, 0.07, 0.98), "tom"),
        "Floor Tom": ((0.56, -0.33, 0.78), "floor"),
        "OH L": ((-0.7, 0.1, 1.9), ""),
        "OH R": ((0.55, -0.3, 1.76), ""),
    }
    room = b.room(rng, RATE, 0.45, 0.3, 1, 0.004, 5.0)
    out = {}
    for name, (place, near) in hang.items():
        dry = b.microphone(pieces, RATE, place, near, 0.22)
        out[name] = dry + (0.08 if near else 0.35) * b.reverb(dry, room, N)
    return out


def plate(sent: Sound) -> Sound:
    """What the live plate of the vocals gives back, wholly wet."""
    rng = np.random.default_rng(77)
    mono = a.band(sent.sum(axis=1) * 0.7, RATE, 180.0, None)
    return np.stack([a.through(mono, a.tail(RATE, rng, 1.7, wait=0.03)) for _ in range(2)], 1) * 0.8


def guitar_return(x: Sound, seed: int, t60: float) -> Sound:
    """The printed return of one guitar: wet only."""
    rng = np.random.default_rng(seed)
    tails = [a.tail(RATE, rng, t60, wait=0.018, early=9) for _ in range(2)]
    return a.wet(x, tails[0], tails[1], RATE)


def end(x: Sound) -> Sound:
    """Fades of the file's ends."""
    return b.fade(x, RATE, 0.02, 0.4)


def make(folder: Path) -> None:
    """Write the good song."""
    rng = np.random.default_rng(1201)
    audio = folder / "audio"
    audio.mkdir(parents=True, exist_ok=True)
    left, right = guitars(rng)
    bass = b.butter(e.strings(rng, RATE, N, bass_line(), 1300.0, 5.0, 0.03, place=0.2), RATE, "highpass", 32.0)
    lead = a.sing(lead_line(), N, RATE, rng, tract=1.0)
    harm = a.sing(harmony_line(rng), N, RATE, rng, tract=1.13, wave=5.8)
    room = b.room(rng, RATE, 0.3, 0.2, 1, 0.003, 3.0)
    files: dict[str, tuple[Sound, float, float]] = {name: (x, -9.0, -72.0) for name, x in kit_files(rng).items()}
    files |= {"OH L": (files["OH L"][0], -10.0, -70.0), "OH R": (files["OH R"][0], -10.0, -70.0)}
    files |= {"Bass DI": (bass, -9.0, -80.0), "Ac Gtr L": (left, -9.0, -72.0), "Ac Gtr R": (right, -10.0, -72.0)}
    files |= {"Lead Vox": (lead + 0.06 * b.reverb(lead, room, N), -8.0, -70.0)}
    files |= {"Harmony": (harm + 0.06 * b.reverb(harm, room, N), -10.0, -70.0)}
    oh = max(float(np.max(np.abs(files[k][0]))) for k in ("OH L", "OH R"))
    for name, (x, peak, noise) in files.items():
        level = x * b.gain(peak) / oh if name.startswith("OH") else b.to_peak(x, peak)
        full = level + b.hiss(rng, N, noise)
        b.write(audio / f"{name}.wav", end(full), RATE)
        if name.startswith("Ac Gtr"):
            wet = guitar_return(full, 41 if name[-1] == "L" else 42, 1.5 if name[-1] == "L" else 1.9)
            b.write(audio / f"{name[3:]} Verb.wav", end(b.to_peak(wet, -16.0)), RATE)
    session(folder)
    e.bounce(folder, PRINT, N, RATE, plate)


DESK: list[tuple[str, str, float, float, int]] = [
    ("Kick", "drums", -3.0, 0, 1),
    ("Snare Top", "drums", -3.5, -4, 1),
    ("Snare Bottom", "drums", -5.0, -4, 1),
    ("Rack Tom", "drums", -8.0, -25, 1),
    ("Floor Tom", "drums", -7.5, 32, 1),
    ("OH L", "drums", -4.0, -85, 1),
    ("OH R", "drums", -4.0, 85, 1),
    ("Bass DI", "mix", -6.5, 0, 1),
    ("Ac Gtr L", "guitars", -5.5, -62, 1),
    ("Gtr L Verb", "guitars", -4.0, -60, 2),
    ("Ac Gtr R", "guitars", -4.5, 62, 1),
    ("Gtr R Verb", "guitars", -3.0, 60, 2),
    ("Lead Vox", "vocals", -2.0, 0, 1),
    ("Harmony", "vocals", -6.0, 18, 1),
]


def session(folder: Path) -> None:
    """Write the session."""
    rows = []
    for i, (name, out, fader, pan, legs) in enumerate(DESK, 1):
        more: dict[str, Any] = {}
        if name.endswith("Verb"):
            more["comment"] = f"return of Ac Gtr {name[4]}, printed 100 % wet"
        if out == "vocals":
            more["sends"] = [{"to": "plate", "level_db": -11.0 if name == "Lead Vox" else -9.0, "tap": "post"}]
        rows.append(e.track(f"t{i}", name, name, LONG, fader, pan, out, legs, **more))
    rows += [
        e.bus("drums", "Drums", "group", "mix"),
        e.bus("guitars", "Guitars", "group", "mix"),
        e.bus("vocals", "Vocals", "group", "mix"),
    ]
    rows.append(
        e.bus(
            "plate",
            "Vox Plate",
            "return",
            "mix",
            -3.0,
            inserts=[
                {"name": "Plate", "kind": "reverb", "on": True, "opaque": True, "wet": 100.0, "pre_delay_ms": 30.0}
            ],
        )
    )
    rows.append(e.bus("mix", "Mix", "master", None))
    media = b.media(folder, {r[0]: f"audio/{r[0]}.wav" for r in DESK})
    told = e.stereo_session("Kitchen Light", RATE, 92, 4, rows, media)
    (folder / "kitchen_light.session.json").write_text(json.dumps(told, indent=1))


def again(folder: Path) -> None:
    """Print the mix once more, as the fault was there when it was printed."""
    e.bounce(folder, PRINT, N, RATE, plate)


def swap_returns(folder: Path) -> None:
    """The two printed returns were saved under each other's name."""
    one, two = folder / "audio/Gtr L Verb.wav", folder / "audio/Gtr R Verb.wav"
    first, second = one.read_bytes(), two.read_bytes()
    one.write_bytes(second)
    two.write_bytes(first)
    again(folder)


def dry_in_return(folder: Path) -> None:
    """The right guitar's reverb was printed with its mix control at half."""
    dry, _ = b.read(folder / "audio/Ac Gtr R.wav")
    e.change(folder / "audio/Gtr R Verb.wav", lambda x, _: x + 0.7 * np.stack([dry, dry], 1))
    again(folder)


def snare_polarity(folder: Path) -> None:
    """The bottom microphone lost its polarity switch."""
    e.change(folder / "audio/Snare Bottom.wav", lambda x, _: -x)
    again(folder)


def bass_hum(folder: Path) -> None:
    """The direct box hums on a ground loop."""
    e.change(folder / "audio/Bass DI.wav", lambda x, r: x + e.hum(len(x), r, -38.0))
    again(folder)


def lead_clipped(folder: Path) -> None:
    """The preamplifier was overdriven in the chorus."""

    def how(x: Sound, rate: int) -> Sound:
        i, j = (round(t * rate) for t in CHORUS)
        top = 0.45 * float(np.max(np.abs(x[i:j])))
        y = x.copy()
        y[i:j] = np.clip(x[i:j] * 1.05, -top, top) * 1.5
        return y

    e.change(folder / "audio/Lead Vox.wav", how)
    again(folder)


def harmony_late(folder: Path) -> None:
    """The harmony came from another town with its player's delay in it."""
    e.change(folder / "audio/Harmony.wav", lambda x, r: end(a.late(x, 0.155 * r)))
    again(folder)


def hard_edit(folder: Path) -> None:
    """An upbeat of another bar was pasted into the left guitar with no crossfade."""

    def how(x: Sound, rate: int) -> Sound:
        y, k = x.copy(), round(2 * BAR * rate)
        i, j = round(at(5, 1.3) * rate), round(at(5, 2.7) * rate)
        gap = np.abs(x - np.roll(x, -k))
        i += int(np.argmax(gap[i : i + 2400]))
        j += int(np.argmax(gap[j : j + 2400]))
        y[i:j] = x[i + k : j + k]
        return y

    e.change(folder / "audio/Ac Gtr L.wav", how)
    again(folder)


def overhead_dies(folder: Path) -> None:
    """The right overhead's cable came out."""

    def how(x: Sound, rate: int) -> Sound:
        y, i = x.copy(), round(13.9 * rate)
        y[i:] = end(b.hiss(np.random.default_rng(5), len(x), -78.0))[i:]
        pop = np.exp(-np.arange(2400) / 500) * np.sin(np.arange(2400) / 60)
        y[i : i + 2400] += 0.15 * pop
        return y

    e.change(folder / "audio/OH R.wav", how)
    again(folder)


def print_without(folder: Path) -> None:
    """The print was made while the harmony was muted."""
    e.bounce(folder, PRINT, N, RATE, plate, ("Harmony",))


def same_side(folder: Path) -> None:
    """The picked guitar's pan fell onto the strummed one's."""
    b.change_session(folder, lambda s: b.channel_of(s, "Ac Gtr R").update(pan=-62))


ACCEPTED: list[dict[str, Any]] = [
    {"names": ["Harmony"], "why": "It only sings in the chorus; its file is noise floor before that."},
    {"names": ["Rack Tom", "Floor Tom"], "why": "Played in two fills only; between them bleed of the kit."},
    {
        "names": ["Ac Gtr L", "Ac Gtr R", "Gtr L Verb", "Gtr R Verb"],
        "why": "Wide apart; each return is balanced to its guitar's side.",
    },
    {
        "names": ["Snare Top", "Snare Bottom", "OH L", "OH R"],
        "why": "Overheads 1.3 m above: some 4 ms behind the close ones.",
    },
    {"names": ["Bass DI"], "why": "Starts with the drums at 5.7 s."},
]
WHOLE = (0.5, LONG)
FAULTS: list[dict[str, Any]] = [
    {
        "id": "returns-swapped",
        "class": "returns exchanged",
        "grade": "hold",
        "time_s": WHOLE,
        "names": ["Gtr L Verb", "Gtr R Verb", "Gtr L Verb.wav", "Gtr R Verb.wav", "Ac Gtr L", "Ac Gtr R"],
        "says": "The printed return called Gtr L Verb holds the right guitar's reverb and the other way round: each"
        " guitar's reverb comes from the other guitar's side (balance 60).",
        "cure": "Exchange the two files.",
        "plant": swap_returns,
    },
    {
        "id": "return-not-wet",
        "class": "dry signal in a return",
        "grade": "look",
        "time_s": WHOLE,
        "names": ["Gtr R Verb", "Gtr R Verb.wav", "Ac Gtr R"],
        "says": "The right guitar's printed return is not wholly wet: the dry guitar is in it with no delay, as loud as"
        " the reverb.",
        "cure": "Print the return again at 100 % wet.",
        "plant": dry_in_return,
    },
    {
        "id": "snare-bottom-polarity",
        "class": "polarity between two microphones",
        "grade": "hold",
        "time_s": (5.7, 21.4),
        "names": ["Snare Bottom", "Snare Top", "Snare Bottom.wav", "Snare Top.wav"],
        "says": "The bottom microphone is upside down against the top one: the drum's "
        "body near 190 Hz cancels in part.",
        "cure": "Turn the polarity of Snare Bottom.",
        "plant": snare_polarity,
    },
    {
        "id": "bass-hum",
        "class": "mains hum",
        "grade": "hold",
        "time_s": (0.0, LONG),
        "names": ["Bass DI", "Bass DI.wav"],
        "says": "50 Hz hum with harmonics at −38 dBFS RMS through the whole bass file, heard alone for the first 5 s.",
        "cure": "Lift the ground and record again, or notch 50 Hz and its harmonics and cut the rests.",
        "plant": bass_hum,
    },
    {
        "id": "lead-clipped",
        "class": "clipping in a recording",
        "grade": "hold",
        "time_s": CHORUS,
        "names": ["Lead Vox", "Lead Vox.wav"],
        "says": "The lead vocal is clipped at the preamplifier all through the chorus: flat tops at −11.4 dBFS, the"
        " gain was set after it.",
        "cure": "Another take, or a declipper for these three lines.",
        "plant": lead_clipped,
    },
    {
        "id": "harmony-late",
        "class": "late part",
        "grade": "look",
        "time_s": (13.5, 24.5),
        "names": ["Harmony", "Harmony.wav", "Lead Vox"],
        "says": "The harmony is 155 ms behind the lead through the whole chorus.",
        "cure": "Move the harmony 155 ms earlier.",
        "plant": harmony_late,
    },
    {
        "id": "hard-edit",
        "class": "edit without crossfade",
        "grade": "hold",
        "time_s": (14.2, 15.6),
        "names": ["Ac Gtr L", "Ac Gtr L.wav"],
        "says": "A pasted piece in the left guitar has no crossfades: a click at each "
        "of its ends (near 14.4 and 15.3 s).",
        "cure": "Crossfade the two edits.",
        "plant": hard_edit,
    },
    {
        "id": "overhead-dies",
        "class": "signal lost in a recording",
        "grade": "hold",
        "time_s": (13.9, LONG),
        "names": ["OH R", "OH R.wav", "OH L"],
        "says": "The right overhead falls dead at 13.9 s with a pop; only hiss after that: the cymbals stay left.",
        "cure": "Rebuild the right side from the left overhead and the close microphones, or record again.",
        "plant": overhead_dies,
    },
    {
        "id": "print-without-harmony",
        "class": "part missing in the print",
        "grade": "hold",
        "time_s": CHORUS,
        "names": [PRINT, "Harmony", "Harmony.wav"],
        "says": "The mix print lacks the harmony, which the session plays at −6 dB in the chorus.",
        "cure": "Print the mix again with the harmony on.",
        "plant": print_without,
    },
    {
        "id": "guitars-one-side",
        "class": "pan",
        "grade": "look",
        "time_s": WHOLE,
        "names": ["Ac Gtr R", "Ac Gtr L", PRINT],
        "says": "Ac Gtr R is panned 62 left, onto Ac Gtr L, while its reverb is still on the right.",
        "cure": "Pan it to 62 right.",
        "plant": same_side,
    },
]
