"""'Backyard Light': a session of a band recorded with many microphones.

Kit with kick in and out, snare top and bottom, hat, two toms, overheads and room; bass by DI and amp; an electric
guitar with two microphones on one cabinet; an acoustic guitar by microphone and pickup; a lead and two backing voices.
48 kHz, 24 bit, 28 s. The pairs are lined up in the files.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from tests.field.sound import sounds_by_a as a
from tests.field.sound import sounds_by_b as b
from tests.field.sound import sounds_by_c as c

KIND = "session"
RATE = 48000
N = 28 * RATE
BPM = 104.0
BEAT = 60.0 / BPM
BEGIN = 0.6
BARS = ["Em", "C", "G", "D", "Em", "C", "G", "D", "C", "D"]
LAST = BEGIN + 40 * BEAT  # 23.7 s
CHORUS_AT = BEGIN + 24 * BEAT

OPEN: dict[str, list[float | None]] = {
    "Em": [40, 47, 52, 55, 59, 64],
    "C": [None, 48, 52, 55, 60, 64],
    "G": [43, 47, 50, 55, 62, 67],
    "D": [None, None, 50, 57, 62, 66],
}
ROOT = {"Em": 28, "C": 36, "G": 31, "D": 38}
POWER = {"Em": (40, 47, 52), "C": (48, 55, 60), "G": (43, 50, 55), "D": (50, 57, 62)}
WORDS = (
    "4/.5/67/ka 4.5/1/66/me 5.5/1.5/64/lo 8/.5/62/ti 8.5/1/67/sa 9.5/.5/66/no 10/1.6/62/ne "
    "12/.5/66/ha 12.5/.5/66/te 13/1/69/mi 14/1.6/66/to "
    "16/.5/67/fa 16.5/1/66/li 17.5/1.5/64/no 20/1/64/se 21/2/67/la "
    "24/1/71/sa 25/.5/71/me 25.5/1.5/74/lo 28/1/69/ta 29/.5/69/ki 29.5/1.8/66/no "
    "32/1/67/fa 33/1/67/le 34/1.5/72/so 36/1/69/ta 37/1/71/ne 38/1.7/69/mo 40/3.6/71/la"
)
SUNG = c.lyrics(WORDS, BEAT, BEGIN)
CHORUS = [x for x in SUNG if x[0] > CHORUS_AT - 0.1]
FILES = {
    "kin": "01 Kick In.wav",
    "kout": "02 Kick Out.wav",
    "st": "03 Snare Top.wav",
    "sb": "04 Snare Bottom.wav",
    "hat": "05 HiHat.wav",
    "rt": "06 Rack Tom.wav",
    "ft": "07 Floor Tom.wav",
    "oh": "08 OH.wav",
    "rm": "09 Room.wav",
    "bdi": "10 Bass DI.wav",
    "bamp": "11 Bass Amp.wav",
    "gdyn": "12 EGtr Dyn.wav",
    "grib": "13 EGtr Ribbon.wav",
    "am": "14 Ac Mic.wav",
    "ap": "15 Ac Pickup.wav",
    "lead": "16 Lead Vox.wav",
    "bv1": "17 BV Nora.wav",
    "bv2": "18 BV Tim.wav",
}
# key: channel, group, fader, pan, peak of the file, noise floor of the file
DESK: dict[str, tuple[str, str, float, float, float, float]] = {
    "kin": ("Kick In", "g-dr", -6.0, 0, -8.0, -74.0),
    "kout": ("Kick Out", "g-dr", -8.0, 0, -10.0, -72.0),
    "st": ("Snare Top", "g-dr", -6.5, 0, -8.0, -72.0),
    "sb": ("Snare Bottom", "g-dr", -11.0, 0, -10.0, -72.0),
    "hat": ("HiHat", "g-dr", -14.0, -40, -14.0, -72.0),
    "rt": ("Rack Tom", "g-dr", -9.0, -15, -10.0, -72.0),
    "ft": ("Floor Tom", "g-dr", -9.0, 45, -9.0, -72.0),
    "oh": ("OH", "g-dr", -7.0, 0, -9.0, -70.0),
    "rm": ("Room", "g-dr", -14.0, 0, -10.0, -68.0),
    "bdi": ("Bass DI", "g-bs", -8.0, 0, -9.0, -78.0),
    "bamp": ("Bass Amp", "g-bs", -8.5, 0, -10.0, -66.0),
    "gdyn": ("EGtr Dyn", "g-eg", -10.5, -55, -9.0, -64.0),
    "grib": ("EGtr Ribbon", "g-eg", -11.5, -55, -11.0, -64.0),
    "am": ("Ac Mic", "g-ag", -7.5, 55, -9.0, -68.0),
    "ap": ("Ac Pickup", "g-ag", -14.0, 55, -12.0, -72.0),
    "lead": ("Lead Vox", "master", -4.5, 0, -6.0, -70.0),
    "bv1": ("BV Nora", "g-bv", -8.0, -35, -9.0, -70.0),
    "bv2": ("BV Tim", "g-bv", -8.0, 35, -9.0, -70.0),
}
# the lead's clips, cut where nothing is sung
CUTS = (0.0, BEGIN + 15.75 * BEAT, BEGIN + 23.15 * BEAT, N / RATE)


def facing(pieces: dict[str, b.Sound], side: float, at: tuple[float, float, float]) -> b.Sound:
    """A cardioid microphone that looks to one side and takes the other side's pieces softer."""
    turned = {}
    for name, sound in pieces.items():
        away = max(0.0, -side * b.PLACES[name][0])
        turned[name] = sound * b.gain(-9.0 * away)
    return b.microphone(turned, RATE, at)


def drums(rng: np.random.Generator) -> dict[str, b.Sound]:
    """What every microphone at the kit hears."""
    hits: list[tuple[float, str, float]] = []
    for k in range(80):
        at = BEGIN + 0.5 * k * BEAT
        chorus = k >= 48
        if chorus:
            hits.append((at, "ride", 0.9 if k % 2 == 0 else 0.5))
        else:
            hits.append((at, "open" if k % 16 == 15 else "hat", 0.9 if k % 2 == 0 else 0.5))
        if k % 8 in (0, 5) or (chorus and k % 16 == 3):
            hits.append((at, "kick", 0.95 if k % 8 == 0 else 0.75))
        if k % 8 in (2, 6):
            hits.append((at, "snare", 0.85 if k % 8 == 6 else 0.78))
        if k % 16 == 11:
            hits.append((at + 0.25 * BEAT, "snare", 0.18))
        if k % 32 in (28, 29) or k in (45, 46):
            hits.append((at, "tom", 0.7))
        if k % 32 in (30, 31) or k == 47:
            hits.append((at, "floor", 0.8))
    hits += [(BEGIN, "crash", 0.7), (CHORUS_AT, "crash", 0.85), (BEGIN + 32 * BEAT, "crash", 0.7)]
    hits += [(LAST, "crash", 0.9), (LAST, "kick", 1.0)]
    pieces = b.kit(rng, RATE, N, hits)
    out = {
        "kin": b.microphone(pieces, RATE, (0.0, 0.12, 0.33), "kick", 0.25),
        "kout": b.microphone(pieces, RATE, (0.0, 0.5, 0.32), "kick", 0.35),
        "st": b.microphone(pieces, RATE, (-0.3, -0.46, 0.75), "snare", 0.3),
        "sb": b.microphone(pieces, RATE, (-0.28, -0.37, 0.378), "wires", 0.3),
        "hat": b.microphone(pieces, RATE, (-0.74, -0.38, 1.03), "hat", 0.3),
        "rt": b.microphone(pieces, RATE, (-0.12, -0.01, 0.98), "tom", 0.3),
        "ft": b.microphone(pieces, RATE, (0.58, -0.39, 0.75), "floor", 0.3),
    }
    room = b.room(rng, RATE, 0.6, 0.35, 2, 0.004, 7.0)
    over = np.stack([facing(pieces, -1.0, (-0.8, -0.1, 1.77)), facing(pieces, 1.0, (0.4, -0.5, 1.72))], 1)
    out["oh"] = over + 0.12 * b.reverb(over, room, N)
    far = np.stack([facing(pieces, -0.6, (-1.1, 3.2, 1.5)), facing(pieces, 0.6, (1.1, 3.2, 1.5))], 1)
    far = b.butter(far, RATE, "lowpass", 8000.0, 1)
    out["rm"] = far + 0.9 * b.reverb(far, b.room(rng, RATE, 0.8, 0.45, 2, 0.005, 9.0), N)
    return out


def band(rng: np.random.Generator) -> dict[str, b.Sound]:
    """Bass, guitars and voices at their microphones and boxes."""
    out: dict[str, b.Sound] = {}
    low: list[a.Note] = []
    for bar, chord in enumerate(BARS):
        at = BEGIN + 4 * bar * BEAT
        for step in range(8):
            if step == 7 and bar % 2 == 0:
                continue
            up = 12 if step == 6 else 7 if step == 7 else 0
            low.append((at + 0.5 * step * BEAT, 0.46 * BEAT, ROOT[chord] + up, 0.8 if step % 4 == 0 else 0.62))
    low.append((LAST, 3.0, 28, 0.85))
    strings = b.butter(c.wooden(a.human(low, rng, 5.0), N, RATE, rng, 2200.0), RATE, "highpass", 30.0)
    out["bdi"] = strings
    out["bamp"] = b.amp(strings, RATE, 0.9, 3600.0, -3.0, 38.0)
    riff: list[a.Note] = []
    for bar, chord in enumerate(BARS):
        at = BEGIN + 4 * bar * BEAT
        starts = ((0.0, 1.4), (1.5, 0.45), (2.0, 0.9), (3.0, 0.8)) if bar >= 6 else ((0.0, 1.9), (2.5, 1.3))
        for beat, length in starts:
            for i, midi in enumerate(POWER[chord]):
                riff.append((at + beat * BEAT + 0.006 * i, length * BEAT, midi, 0.7))
    riff += [(LAST + 0.008 * i, 3.2, midi, 0.75) for i, midi in enumerate(POWER["Em"])]
    cone = b.amp(c.wooden(a.human(riff, rng, 6.0), N, RATE, rng, 4200.0), RATE, 3.2, 6000.0)
    cone = cone + 0.05 * b.reverb(cone, b.room(rng, RATE, 0.3, 0.2, 1, 0.003, 4.0), N)
    out["gdyn"] = b.peak_filter(cone, RATE, 3600.0, 4.0, 0.9)
    out["grib"] = b.butter(b.peak_filter(cone, RATE, 180.0, 3.0, 0.8), RATE, "lowpass", 5000.0, 1)
    notes = a.strum([OPEN[x] for x in BARS], ["D-dUdUdU", "D-DU-UdU"], BEAT, rng, BEGIN)
    notes += [(LAST + 0.011 * i, 3.3, x, 0.7) for i, x in enumerate(OPEN["Em"]) if x is not None]
    steel = c.wooden(notes, N, RATE, rng, 5400.0)
    out["am"] = c.before_guitar(steel, RATE, rng, 0.0)
    out["ap"] = b.peak_filter(b.butter(steel, RATE, "highpass", 60.0, 1), RATE, 1700.0, 6.0, 0.8)

    def sing(sung: list[b.Note], size: float, breaths: float) -> b.Sound:
        """A voice in a booth."""
        x = b.voice(rng, RATE, N, sung, size, 0.22, breaths=breaths)
        x = b.peak_filter(b.peak_filter(x, RATE, 2800.0, 7.0, 0.7), RATE, 6500.0, 5.0, 0.8)
        return x + 0.04 * b.reverb(x, b.room(rng, RATE, 0.25, 0.15, 1, 0.003, 3.0), N)

    out["lead"] = sing(SUNG, 1.02, 1.0)
    up = {"71": 3, "74": 5, "69": 5, "66": 3, "67": 5, "72": 4}
    high = [float(up[str(int(x[2]))]) for x in CHORUS]
    out["bv1"] = sing(c.sung_again(CHORUS, rng, 11.0, high), 1.14, 0.5)
    down = {"71": -4, "74": -7, "69": -3, "66": -4, "67": -3, "72": -5}
    deep = [float(down[str(int(x[2]))]) for x in CHORUS]
    out["bv2"] = sing(c.sung_again(CHORUS, rng, 11.0, deep), 0.93, 0.5)
    return out


def make(folder: Path) -> None:
    """Write the good song."""
    audio = folder / "audio"
    audio.mkdir(parents=True, exist_ok=True)
    rng = np.random.default_rng(3300)
    sounds = drums(rng) | band(rng)
    for i, (key, sound) in enumerate(sounds.items()):
        legs = 1 if sound.ndim == 1 else 2
        noise = b.hiss(np.random.default_rng(3400 + i), N, DESK[key][5], legs)
        b.write(audio / FILES[key], b.fade(b.to_peak(sound, DESK[key][4]) + noise, RATE, 0.05, 0.8), RATE)
    inserts = {
        "kin": [c.eq("EQ", c.bell(320.0, -4.0, 1.2), c.bell(3500.0, 3.0))],
        "st": [c.eq("EQ", c.cut_low(70.0)), c.comp(-16.0, 3.0, 12.0, 90.0, 1.0)],
        "bamp": [c.eq("EQ", c.cut_low(35.0))],
        "am": [c.eq("EQ", c.cut_low(80.0))],
        "lead": [c.eq("EQ", c.cut_low(75.0), c.bell(350.0, -1.5)), c.comp(-20.0, 3.0, 6.0, 110.0, 2.0)],
        "bv1": [c.eq("EQ", c.cut_low(110.0))],
        "bv2": [c.eq("EQ", c.cut_low(110.0))],
    }
    sends = {"lead": -13.0, "bv1": -11.0, "bv2": -11.0}
    rows: list[c.Row] = []
    for key, (name, to, fader, pan, _, _) in DESK.items():
        edges = CUTS if key == "lead" else (0.0, N / RATE)
        clips = []
        for i, (start, end) in enumerate(zip(edges[:-1], edges[1:], strict=True)):
            clips.append(b.clip(key, start, end, start, 0.0, 0.012) | {"name": f"{FILES[key][3:-4]}-{i + 1}"})
        more: c.Row = {"clips": clips}
        if key in inserts:
            more["inserts"] = inserts[key]
        if key in sends:
            more["sends"] = [{"to": "r-plate", "level_db": sends[key], "tap": "post"}]
        rows.append(c.strip(f"t-{key}", name, "track", to, fader, pan, 2 if key in ("oh", "rm") else 1, **more))
    for ident, name in (("g-dr", "DRUMS"), ("g-bs", "BASS"), ("g-eg", "EGTR"), ("g-ag", "ACGTR"), ("g-bv", "BVS")):
        rows.append(c.strip(ident, name, "group", "master", 0.0, 0.0, 2))
    rows.append(c.strip("r-plate", "Vox Plate", "return", "master", -5.0, 0.0, 2, inserts=[c.hall("Plate", 30.0)]))
    rows.append(c.strip("master", "MASTER", "master", None, 0.0, 0.0, 2))
    marks = [(BEGIN, "Intro"), (BEGIN + 4 * BEAT, "Verse"), (CHORUS_AT, "Chorus"), (LAST, "End")]
    c.write_session(folder, "hinterhof", "Backyard Light", RATE, BPM, rows, FILES, marks)


# the faults

KNOCK = 13.05


def knocked(x: b.Sound, rate: int) -> b.Sound:
    """The stand slipped: a thump, then the microphone looks at the floor."""
    rng = np.random.default_rng(91)
    y, dull = x.copy(), b.gain(-11.0) * b.butter(x, rate, "lowpass", 900.0, 2)
    i = int(KNOCK * rate)
    y[i:] = dull[i:]
    ramp = np.linspace(0, 1, int(0.06 * rate))
    y[i : i + len(ramp)] = (1 - ramp) * x[i : i + len(ramp)] + ramp * dull[i : i + len(ramp)]
    t = np.arange(int(0.3 * rate)) / rate
    thump = np.sin(2 * np.pi * 48 * t) * np.exp(-t / 0.06)
    thump += b.butter(rng.standard_normal(len(t)), rate, "lowpass", 400.0)
    b.place(y, rate, KNOCK, thump * np.exp(-t / 0.05) * np.minimum(1, t / 0.003), 0.35)
    return c.limit(y)


def hum(x: b.Sound, rate: int) -> b.Sound:
    """A ground loop between pickup and desk."""
    t = np.arange(len(x)) / rate
    y = np.zeros(len(x))
    parts = ((1, 1.0), (2, 0.7), (3, 0.8), (4, 0.25), (5, 0.5), (7, 0.4), (9, 0.3), (11, 0.25), (13, 0.2), (15, 0.15))
    for k, level in parts:
        y += level * np.sin(2 * np.pi * 50.02 * k * t + 0.7 * k * k)
    return c.limit(x + b.fade(y * b.gain(-36.0) / np.sqrt(np.mean(y**2)), rate, 0.01, 0.01))


def slips(x: b.Sound, rate: int) -> b.Sound:
    """The converter ran on its own clock: a slipped block every 0.67 s, heard as a click."""
    rng = np.random.default_rng(92)
    y = x.copy()
    for k in range(41):
        i = round((0.31 + 0.667 * k) * rate)
        y[i : i + 2] += rng.choice([-1.0, 1.0]) * np.array([0.22, -0.12]) * rng.uniform(0.8, 1.2)
        y[i + 2 : i + 18] = y[i - 14 : i + 2]
    return c.limit(y)


OVER = (CHORUS_AT - 0.2, N / RATE)


def overloaded(x: b.Sound, rate: int) -> b.Sound:
    """The preamp was set for the verse: in the chorus it flattens at −5 dBFS."""
    hot = np.clip(x * b.gain(8.0), -0.56, 0.55) + b.hiss(np.random.default_rng(93), len(x), -76.0)
    span = c.window(len(x), rate, OVER[0], OVER[1] - 0.8)
    return x * (1 - span) + hot * span


def plant_swapped(folder: Path) -> None:
    """The lines of the two toms were crossed at the stage box."""
    one, two = folder / "audio" / FILES["rt"], folder / "audio" / FILES["ft"]
    first, second = one.read_bytes(), two.read_bytes()
    one.write_bytes(second)
    two.write_bytes(first)


WORD_END = BEGIN + 21.5 * BEAT  # in the middle of the held 'la'


def plant_cut(folder: Path) -> None:
    """The second clip of the lead was trimmed in the middle of a held word."""

    def change(told: c.Row) -> None:
        b.channel_of(told, "Lead Vox")["clips"][1].update(end_s=WORD_END, fade_out_s=0.002)

    b.change_session(folder, change)


ACCEPTED = [
    {
        "names": ["Rack Tom", "Floor Tom", "06 Rack Tom.wav", "07 Floor Tom.wav"],
        "why": "few strokes, and between them the bleed of the kit: not gated on purpose",
    },
    {"names": ["Room", "09 Room.wav"], "why": "comes some 9 ms after the close microphones, as a room does"},
    {
        "names": ["Kick In", "Kick Out", "OH"],
        "why": "Kick Out hears the drum 1 ms and OH some 4 ms after the close ones: distance",
    },
    {"names": ["EGtr Dyn", "EGtr Ribbon"], "why": "the amplifier's own hiss, about −64 dBFS"},
    {"names": ["Vox Plate"], "why": "live reverb, whose sound is not in the files"},
]

FAULTS = [
    {
        "id": "snare-bottom-polarity",
        "class": "polarity of a pair",
        "grade": "hold",
        "names": ["Snare Bottom", "Snare Top", "04 Snare Bottom.wav", "03 Snare Top.wav"],
        "says": "Snare Bottom is opposed to Snare Top: together the drum loses its body.",
        "time_s": (0.0, 28.0),
        "cure": "invert Snare Bottom",
        "plant": c.on_file("audio/04 Snare Bottom.wav", lambda x, rate: -x),
    },
    {
        "id": "bass-amp-late",
        "class": "one of a pair late",
        "grade": "hold",
        "names": ["Bass Amp", "Bass DI", "11 Bass Amp.wav", "10 Bass DI.wav"],
        "says": "Bass Amp comes 11 ms after the DI (an uncompensated loop): the low notes cancel in turn.",
        "time_s": (0.0, 28.0),
        "cure": "move Bass Amp 11 ms earlier",
        "plant": c.on_file("audio/11 Bass Amp.wav", lambda x, rate: np.roll(x, round(0.011 * rate))),
    },
    {
        "id": "oh-sides-crossed",
        "class": "left and right swapped",
        "grade": "look",
        "names": ["OH", "08 OH.wav", "HiHat", "Floor Tom", "Room", "09 Room.wav"],
        "says": "The overheads' legs are swapped: the hat stands right and the floor tom left in them, against the "
        "pans of the close microphones and against the room.",
        "time_s": (0.0, 28.0),
        "cure": "swap the legs of OH",
        "plant": c.on_file("audio/08 OH.wav", lambda x, rate: x[:, ::-1]),
    },
    {
        "id": "ribbon-slipped",
        "class": "microphone moved during the take",
        "grade": "hold",
        "names": ["EGtr Ribbon", "13 EGtr Ribbon.wav"],
        "says": f"A thump at {KNOCK:.1f} s, and from there the ribbon is 11 dB softer and dull above 900 Hz.",
        "time_s": (KNOCK, 28.0),
        "cure": "use EGtr Dyn alone from there, or record again",
        "plant": c.on_file("audio/13 EGtr Ribbon.wav", knocked),
    },
    {
        "id": "pickup-hum",
        "class": "mains hum",
        "grade": "hold",
        "names": ["Ac Pickup", "15 Ac Pickup.wav"],
        "says": "50 Hz hum with its odd harmonics up to 750 Hz at −36 dBFS RMS on the pickup, all through.",
        "time_s": (0.0, 28.0),
        "cure": "take the hum out or use the microphone alone",
        "plant": c.on_file("audio/15 Ac Pickup.wav", hum),
    },
    {
        "id": "room-clock-clicks",
        "class": "clicks of a converter without common clock",
        "grade": "hold",
        "names": ["Room", "09 Room.wav"],
        "says": "A click in both legs of the room every 0.67 s, 41 in all.",
        "time_s": (0.3, 27.1),
        "cure": "repair the clicks; lock the converter to the common clock",
        "plant": c.on_file("audio/09 Room.wav", slips),
    },
    {
        "id": "lead-overload",
        "class": "clipped at the preamp, below full scale",
        "grade": "hold",
        "names": ["Lead Vox", "16 Lead Vox.wav"],
        "says": "In the chorus the lead voice is flattened at −5 dBFS: an overloaded preamp.",
        "time_s": (CHORUS_AT, 26.5),
        "cure": "sing the chorus again, or try to repair it",
        "plant": c.on_file("audio/16 Lead Vox.wav", overloaded),
    },
    {
        "id": "bv-late",
        "class": "a part out of time",
        "grade": "look",
        "names": ["BV Tim", "18 BV Tim.wav"],
        "says": "BV Tim comes 170 ms after the lead and BV Nora on every word.",
        "time_s": (CHORUS_AT, 28.0),
        "cure": "move BV Tim 170 ms earlier",
        "plant": c.on_file("audio/18 BV Tim.wav", lambda x, rate: np.roll(x, round(0.17 * rate))),
    },
    {
        "id": "toms-crossed",
        "class": "file under the wrong name",
        "grade": "hold",
        "names": ["Rack Tom", "Floor Tom", "06 Rack Tom.wav", "07 Floor Tom.wav"],
        "says": "The floor tom plays on Rack Tom and the rack tom on Floor Tom: lines crossed.",
        "time_s": (0.0, 28.0),
        "cure": "exchange the two files",
        "plant": plant_swapped,
    },
    {
        "id": "lead-word-cut",
        "class": "clip edge cuts a word",
        "grade": "hold",
        "names": ["Lead Vox", "16 Lead Vox.wav"],
        "says": f"The second clip of the lead ends at {WORD_END:.2f} s in the middle of a held word; the file sings on "
        "for 0.87 s.",
        "time_s": (WORD_END - 0.1, WORD_END + 1.0),
        "cure": "draw the clip out to the end of the word",
        "plant": plant_cut,
    },
]
