"""A slow ballad by a jazz quintet with a singer: trumpet, tenor, piano, double bass, drums, six people in one room.

No click, no map, no isolation, no overdubs. A spaced pair carries the picture, a far pair gives the hall, the spots are
delayed to the main pair by their distance (written on every strip, 343 m/s) and hang on one VCA. The master is
assembled from three whole takes, every microphone cut alike and crossfaded over 20 ms. The horns are lifted for
their solos by rides, the singer's microphone is closed while the others play. One chamber for all, a plate for
the voice, next to nothing on the mix bus.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Thing = dict[str, Any]

RATE = 96000.0
SOUND = 343.0

IN = 10.0
INTRO = 10.6
HEAD = 26.4
HEAD_2 = 73.6
TENOR_SOLO = 120.9
TRUMPET_SOLO = 168.0
PIANO_SOLO = 215.2
VOCAL_OUT = 262.6
TAG = 309.7
LAST_NOTE = 326.4
OUT = 336.5
END = 338.0

CUT_1 = 215.05
CUT_2 = 309.24
CROSS = 0.02

# take: (start of the music in the file minus its start in the session, length of the files)
TAKES = {"t4": (9.3, 361.5), "t6": (6.785, 355.2), "t5": (3.11, 352.9)}


def piece(mic: str, take: str, start: float, end: float, fade_in: float, fade_out: float) -> Thing:
    """A stretch of one take on one microphone."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": f"{mic} {take}",
        "plays": "audio",
        "file": f"{mic}_{take}",
        "offset_s": round(start + TAKES[take][0], 6),
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": 0.0,
        "on": True,
    }


def assembly(mic: str) -> list[Thing]:
    """Take 4 up to the piano solo, take 6 up to the tag, take 5 for the tag."""
    half = CROSS / 2
    return [
        piece(mic, "t4", IN, CUT_1 + half, 0.3, CROSS),
        piece(mic, "t6", CUT_1 - half, CUT_2 + half, CROSS, CROSS),
        piece(mic, "t5", CUT_2 - half, OUT, CROSS, 5.0),
    ]


def curve(kind: str, freq: float, gain: float = 0.0, q: float = 0.7) -> Thing:
    """An equalizer band; passes are second order."""
    made: Thing = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if kind.endswith("-pass"):
        made["slope_db_per_oct"] = 12.0
    return made


def eq(*bands: Thing) -> Thing:
    """An equalizer with open settings."""
    return {
        "name": "EQ",
        "kind": "equalizer",
        "on": True,
        "loaded": True,
        "opaque": False,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def comp(threshold: float, ratio: float, attack: float, release: float, out: float) -> Thing:
    """A compressor with open settings."""
    return {
        "name": "Compressor",
        "kind": "compressor",
        "on": True,
        "loaded": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": out,
            "auto_makeup": False,
        },
    }


def align(metres: float) -> Thing:
    """The delay that brings a spot to the main pair."""
    late = round(metres / SOUND * 1000.0, 2)
    return {
        "name": "Spot Align",
        "kind": "utility",
        "on": True,
        "loaded": True,
        "opaque": False,
        "parameters": [
            {"id": "delay", "name": "Delay", "value": late, "unit": "ms", "low": 0.0, "high": 100.0},
            {"id": "invert", "name": "Invert", "value": False},
        ],
    }


def reverb(name: str, decay: float, pre_delay: float) -> Thing:
    """A reverb for a return."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "loaded": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}],
    }


def send(to: str, level: float) -> Thing:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def fader(start: float, *moves: tuple[float, float, float]) -> Thing:
    """A written fader: each move begins at a time, lasts some seconds and ends at a level."""
    times, levels = [0.0], [start]
    for begin, lasts, level in moves:
        times += [round(begin, 3), round(begin + lasts, 3)]
        levels += [levels[-1], level]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": levels}


def strip(ident: str, name: str, kind: str, out: str | None, level: float, pan: float, legs: int = 1) -> Thing:
    """An empty channel."""
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "fader_db": level,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }


def pair(ident: str, name: str, level: float, pan: float, comment: str, *inserts: Thing) -> Thing:
    """A microphone of the main or the far pair."""
    made = strip(ident, name, "track", "mix", level, pan)
    return made | {"plays": ["audio"], "clips": assembly(ident), "inserts": list(inserts), "comment": comment}


def spot(
    ident: str, name: str, out: str, level: float, pan: float, metres: float, comment: str, *inserts: Thing
) -> Thing:
    """A spot: aligned first, then whatever it needs; its distance opens the comment."""
    made = strip(ident, name, "track", out, level, pan)
    return made | {
        "plays": ["audio"],
        "parent": "spots",
        "clips": assembly(ident),
        "inserts": [align(metres), *inserts],
        "comment": f"{metres} m to mains" + (f". {comment}" if comment else ""),
    }


def pairs() -> list[Thing]:
    """The two pairs."""
    low = [curve("high-pass", 24.0)]
    return [
        pair("main_l", "Main L", -3.0, -100.0, "spaced omnis, 62 cm", eq(*low)),
        pair("main_r", "Main R", -3.0, 100.0, "spaced omnis, 62 cm", eq(*[dict(b) for b in low])),
        pair("far_l", "Far L", -14.0, -100.0, "8 m back, not aligned on purpose", eq(curve("high-pass", 90.0))),
        pair("far_r", "Far R", -14.0, 100.0, "8 m back, not aligned on purpose", eq(curve("high-pass", 90.0))),
    ]


def voice() -> Thing:
    """The singer, closed while the others solo."""
    made = spot(
        "vox", "Vox", "mix", -6.0, 0.0, 3.1, "closed in the solos",
        eq(curve("high-pass", 75.0), curve("bell", 240.0, -1.5, 1.0), curve("high-shelf", 12000.0, 1.5)),
        comp(-20.0, 2.0, 12.0, 180.0, 2.0),
    )  # fmt: skip
    made["sends"] = [send("plate", -14.0), send("chamber", -19.0)]
    made["automation"] = [
        fader(-6.0, (HEAD_2 - 1.2, 1.0, -5.2), (98.0, 0.6, -6.6), (103.5, 0.6, -5.2), (VOCAL_OUT - 2.0, 1.0, -5.0),
              (TAG + 4.0, 3.0, -6.5)),
        {
            "target": "mute",
            "scale": "switch",
            "shape": "hold",
            "t": [0.0, round(TENOR_SOLO + 1.6, 3), round(VOCAL_OUT - 2.4, 3)],
            "v": [0.0, 1.0, 0.0],
        },
    ]  # fmt: skip
    return made


def horns() -> list[Thing]:
    """Trumpet and tenor, each lifted for its own solo."""
    trumpet = spot(
        "tpt", "Tpt", "mix", -13.0, -28.0, 2.6, "up 4 for own solo",
        eq(curve("high-pass", 110.0), curve("bell", 2600.0, -1.0)),
    )  # fmt: skip
    trumpet["sends"] = [send("chamber", -15.0)]
    trumpet["automation"] = [fader(-13.0, (TRUMPET_SOLO - 0.8, 0.7, -9.0), (PIANO_SOLO - 1.4, 1.2, -13.0))]
    tenor = spot(
        "ten", "Tenor", "mix", -13.5, 30.0, 2.8, "up 4 for own solo",
        eq(curve("high-pass", 80.0), curve("bell", 420.0, -1.5)),
    )  # fmt: skip
    tenor["sends"] = [send("chamber", -15.0)]
    tenor["automation"] = [fader(-13.5, (TENOR_SOLO - 0.6, 0.5, -9.5), (TRUMPET_SOLO - 1.6, 1.4, -13.5))]
    return [trumpet, tenor]


def piano() -> list[Thing]:
    """Two microphones over the strings, low strings at the tail, towards the middle."""
    made = []
    for ident, name, pan, cut in (("pno_lo", "Pno Lo", -5.0, 40.0), ("pno_hi", "Pno Hi", -50.0, 60.0)):
        one = spot(ident, name, "mix", -11.0, pan, 3.4, "", eq(curve("high-pass", cut), curve("bell", 330.0, -1.0)))
        one["sends"] = [send("chamber", -21.0)]
        one["automation"] = [fader(-11.0, (PIANO_SOLO - 0.3, 0.6, -8.0), (VOCAL_OUT - 1.5, 1.3, -11.0))]
        made.append(one)
    return made


def rhythm() -> list[Thing]:
    """Bass and drums."""
    kick = spot("kick", "Kick", "rhy", -17.0, 8.0, 3.9, "felt beater, light", eq(curve("low-pass", 6000.0)))
    snare = spot("snare", "Snare", "rhy", -18.0, 12.0, 3.8, "brushes", eq(curve("high-pass", 110.0)))
    bass = spot(
        "bass", "Bass mic", "rhy", -7.0, -8.0, 3.0, "",
        eq(curve("high-pass", 36.0), curve("bell", 180.0, -2.0, 1.2)), comp(-18.0, 2.0, 25.0, 220.0, 1.0),
    )  # fmt: skip
    bass["automation"] = [fader(-7.0, (PIANO_SOLO + 20.0, 1.0, -6.2), (VOCAL_OUT - 1.0, 1.0, -7.0))]
    line = spot("bass_di", "Bass DI", "rhy", -19.0, -8.0, 3.1, "pickup, 10 cm behind the mic, just for attack",
                eq(curve("high-pass", 90.0), curve("low-pass", 3500.0)))  # fmt: skip
    over = [
        spot(ident, name, "rhy", -15.0, pan, 3.6, "", eq(curve("high-pass", 160.0)))
        for ident, name, pan in (("oh_l", "OH L", -12.0), ("oh_r", "OH R", 42.0))
    ]
    return [bass, line, kick, snare, *over]


def slate() -> Thing:
    """The talkback that was recorded along, muted."""
    made = strip("slate", "TB / slate", "track", "mix", -10.0, 0.0)
    long = {"plays": "audio", "offset_s": TAKES["t4"][0], "speed": 1.0, "fade_in_s": 0.01, "fade_out_s": 0.01}
    clip = {"start_s": 0.0, "end_s": 9.4, "name": "slate t4", "file": "slate_t4", "gain_db": 0.0, "on": True}
    clips = [clip | long]
    return made | {"plays": ["audio"], "mute": True, "clips": clips, "comment": "take numbers only, stays muted"}


def sums() -> list[Thing]:
    """The rhythm group, both returns, the VCA of the spots, the mix."""
    group = strip("rhy", "Rhythm", "group", "mix", 0.0, 0.0, 2) | {"inserts": [eq(curve("bell", 250.0, -1.0, 0.8))]}
    chamber = strip("chamber", "Chamber", "return", "mix", -3.0, 0.0, 2) | {
        "inserts": [reverb("Chamber", 1.6, 22.0), eq(curve("high-pass", 160.0), curve("low-pass", 9000.0))],
        "comment": "longer version of the same room, everyone but drums and bass",
    }
    plate = strip("plate", "Vox Plate", "return", "mix", -5.0, 0.0, 2) | {
        "inserts": [reverb("Plate", 2.1, 55.0), eq(curve("high-pass", 280.0), curve("low-pass", 8000.0))],
    }
    spots = strip("spots", "Spots", "vca", None, 0.0, 0.0)
    del spots["legs"]
    spots["comment"] = "all spots against the pairs"
    mix = strip("mix", "Mix", "master", None, 0.0, 0.0, 2)
    del mix["output"]
    limiter = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "loaded": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "release_ms": 200.0, "output_gain_db": 0.0},
        "parameters": [{"id": "ceiling", "name": "Ceiling", "value": -1.0, "unit": "dB"}],
    }
    phones = {"name": "Phones crossfeed", "kind": "monitor", "on": False, "loaded": True, "opaque": True}
    mix["inserts"] = [eq(curve("low-shelf", 70.0, -0.5), curve("high-shelf", 14000.0, 0.7)), limiter, phones]
    mix["comment"] = "limiter only catches peaks, fader stays at 0. phones thing OFF for the print"
    return [group, chamber, plate, spots, mix]


def media(channels: list[Thing]) -> list[Thing]:
    """Three takes of every microphone, and the slate."""
    mics = [c["id"] for c in channels if c["kind"] == "track" and c["id"] != "slate"]
    files = [(f"{mic}_{take}", f"takes/{take}/{mic}.wav", TAKES[take][1]) for take in TAKES for mic in mics]
    files.append(("slate_t4", "takes/t4/slate.wav", TAKES["t4"][1]))
    return [
        {
            "id": ident,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for ident, path, length in files
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = [*pairs(), voice(), *horns(), *piano(), *rhythm(), slate(), *sums()]
    marks = [
        (6.9, "count-off (cut)"),
        (INTRO, "intro, piano"),
        (HEAD, "head"),
        (HEAD_2, "head 2"),
        (TENOR_SOLO, "tenor solo"),
        (TRUMPET_SOLO, "trumpet solo"),
        (CUT_1, "cut 4>6"),
        (PIANO_SOLO, "piano solo"),
        (VOCAL_OUT, "vocal out"),
        (CUT_2, "cut 6>5"),
        (TAG, "tag"),
        (LAST_NOTE, "last note"),
        (END, "end"),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Late Window, assembly B",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "recorded free, the session carries no tempo", "settle": ""},
        "markers": [{"time_s": time, "name": name} for time, name in marks],
        "channels": channels,
        "media": media(channels),
        "metadata": {"assembly": "B", "takes": "4 / 6 / 5"},
        "notes": [{"text": "VCA assignments are written as the parent of the spots", "about": "spots"}],
    }


def channel(session: Session, name: str) -> Thing:
    """The channel of a name."""
    found: Thing = next(c for c in session["channels"] if c["name"] == name)
    return found


def snare_not_slid(session: Session) -> None:
    """The take 6 edit was slid once more and the snare was not in the edit group."""
    clip = channel(session, "Snare")["clips"][1]
    clip["offset_s"] = round(clip["offset_s"] + 0.415, 6)


def tenor_decimal(session: Session) -> None:
    """The point of the tenor's delay is one place off."""
    delay = channel(session, "Tenor")["inserts"][0]["parameters"][0]
    delay["value"] = round(delay["value"] / 10.0, 2)


def main_pan_typed(session: Session) -> None:
    """10 was typed for 100."""
    channel(session, "Main R")["pan"] = 10.0


def trumpet_ride_late(session: Session) -> None:
    """The trumpet's lift is moved on by one solo."""
    lane = channel(session, "Tpt")["automation"][0]
    shift = PIANO_SOLO - TRUMPET_SOLO
    lane["t"] = [0.0, *[round(t + shift, 3) for t in lane["t"][1:]]]


def take_gain(session: Session) -> None:
    """One of the two piano microphones keeps a clip gain of +9 on take 6."""
    channel(session, "Pno Hi")["clips"][1]["gain_db"] = 9.0


def chamber_half_dry(session: Session) -> None:
    """The chamber stands at the mix setting it had as an insert."""
    channel(session, "Chamber")["inserts"][0]["wet"] = 35.0


def bass_line_twice(session: Session) -> None:
    """The DI's take 4 clip is pasted upon itself."""
    clips = channel(session, "Bass DI")["clips"]
    clips.insert(1, dict(clips[0]))


def far_file_missing(session: Session) -> None:
    """One file of take 6 was not copied."""
    lost = next(m for m in session["media"] if m["id"] == "far_l_t6")
    lost["present"] = False


def phones_left_on(session: Session) -> None:
    """The headphone crossfeed is on."""
    channel(session, "Mix")["inserts"][2]["on"] = True


def fader_past_limiter(session: Session) -> None:
    """The mix fader is pushed, behind the limiter."""
    channel(session, "Mix")["fader_db"] = 6.0


def count_off_kept(session: Session) -> None:
    """The trumpet's first clip is opened to the left, over the count-off."""
    clip = channel(session, "Tpt")["clips"][0]
    clip["start_s"] = 4.2
    clip["offset_s"] = round(4.2 + TAKES["t4"][0], 6)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["TB / slate"], "why": "take numbers, muted on purpose and kept for whoever recalls the session"},
    {"channels": ["Far L", "Far R"], "why": "the hall pair is late on purpose and has no alignment like the spots"},
    {"channels": ["Mix"], "why": "the headphone crossfeed is still there but bypassed, as the comment asks"},
    {"channels": ["Vox"], "why": "closed by a mute ride through three solos, meant so"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "snare-not-slid",
        "class": "edits",
        "channels": ["Snare"],
        "grade": "hold",
        "says": "In take 6 the snare reads its file 0.415 s further on than the other microphones; it plays ahead.",
        "plant": snare_not_slid,
    },
    {
        "id": "tenor-decimal",
        "class": "phase",
        "channels": ["Tenor"],
        "grade": "look",
        "says": "The tenor is delayed by 0.82 ms, but 2.8 m ask for 8.16 ms, as the other spots reckon.",
        "plant": tenor_decimal,
    },
    {
        "id": "main-pan-typed",
        "class": "place",
        "channels": ["Main R"],
        "grade": "look",
        "says": "Main R stands at 10 right while Main L is hard left; the main pair leans left.",
        "plant": main_pan_typed,
    },
    {
        "id": "trumpet-ride-late",
        "class": "automation",
        "channels": ["Tpt"],
        "grade": "look",
        "says": "The trumpet is lifted through the piano solo instead of its own.",
        "plant": trumpet_ride_late,
    },
    {
        "id": "take-gain",
        "class": "level",
        "channels": ["Pno Hi"],
        "grade": "look",
        "says": "Pno Hi has +9 dB of clip gain on take 6, nothing on its other takes and nothing on Pno Lo.",
        "plant": take_gain,
    },
    {
        "id": "chamber-half-dry",
        "class": "ambience",
        "channels": ["Chamber"],
        "grade": "look",
        "says": "The chamber on a return is only 35 per cent wet and sends the dry sound back a second time.",
        "plant": chamber_half_dry,
    },
    {
        "id": "bass-line-twice",
        "class": "twice",
        "channels": ["Bass DI"],
        "grade": "look",
        "says": "The take 4 clip of Bass DI lies there twice, one exactly upon the other, 6 dB up until the cut.",
        "plant": bass_line_twice,
    },
    {
        "id": "far-file-missing",
        "class": "files",
        "channels": ["Far L"],
        "grade": "hold",
        "says": "The take 6 file of Far L is missing, so the hall falls to the right from the piano solo to the tag.",
        "plant": far_file_missing,
    },
    {
        "id": "phones-left-on",
        "class": "hand-over",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The headphone crossfeed on the mix is on and would be printed.",
        "plant": phones_left_on,
    },
    {
        "id": "fader-past-limiter",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The mix fader adds 6 dB behind a limiter with a ceiling of -1 dB; the print would clip.",
        "plant": fader_past_limiter,
    },
    {
        "id": "count-off-kept",
        "class": "audible-that-should-not-be",
        "channels": ["Tpt"],
        "grade": "look",
        "says": "The trumpet's first clip opens nearly 6 s before all the others and lets the count-off through.",
        "plant": count_off_kept,
    },
]
