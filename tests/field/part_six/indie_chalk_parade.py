"""An indie pop song, "Chalk Parade", 126 bpm in four: live kit with printed kick and snare samples, two pairs
of doubled guitars, a lead guitar, a printed arpeggio and pad, lead voice with a double and four stacked
backings. The engineer names in short English, keeps audio groups in capitals, crushes drums and voice in
parallel, trims shells, music and voices with VCAs, widens the verse guitars into the chorus by pan automation,
and opens the echo throw word by word. All takes were recorded from the session start, so a clip's offset is its
place. The kit is panned as the audience sees it.
"""

from __future__ import annotations

import json
from typing import Any

Session = dict[str, Any]

BEAT = 60.0 / 126.0
BAR = 4 * BEAT
RATE = 48000.0
FILE_LENGTH = 272.0

SECTIONS: list[tuple[int, str]] = [
    (1, "Count"),
    (3, "Intro"),
    (11, "V1"),
    (27, "Pre 1"),
    (35, "Ch 1"),
    (51, "V2"),
    (67, "Pre 2"),
    (75, "Ch 2"),
    (91, "Bridge"),
    (103, "Ch 3"),
    (127, "Outro"),
    (135, "Last hit"),
    (140, "END"),
]


def at(bar: float) -> float:
    """Seconds at the start of a bar (the first bar is 1)."""
    return round((bar - 1) * BAR, 6)


def clip(
    first: float, last: float, file: str, into: float = 0.01, out: float = 0.05, gain: float = 0.0
) -> dict[str, Any]:
    """Audio from bar to bar, as it was recorded."""
    return {
        "start_s": at(first),
        "end_s": at(last),
        "name": file,
        "plays": "audio",
        "file": file,
        "offset_s": at(first),
        "speed": 1.0,
        "fade_in_s": into,
        "fade_out_s": out,
        "gain_db": gain,
        "on": True,
    }


def notes(first: float, last: float, name: str) -> dict[str, Any]:
    """A clip of notes from bar to bar."""
    return {
        "start_s": at(first),
        "end_s": at(last),
        "name": name,
        "plays": "notes",
        "file": None,
        "fade_in_s": 0.0,
        "fade_out_s": 0.0,
    }


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7) -> dict[str, Any]:
    """One equalizer band; cuts at the ends get 12 dB per octave."""
    made: dict[str, Any] = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if kind.endswith("-pass"):
        made["slope_db_per_oct"] = 12.0
    return made


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "opaque": False, "wet": 100.0, "equalizer": {"bands": list(bands)}}


def dyn(
    name: str,
    kind: str,
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    gain: float = 0.0,
    key: str = "",
) -> dict[str, Any]:
    """A compressor or limiter, keyed from another channel if one is named."""
    made: dict[str, Any] = {
        "name": name,
        "kind": kind,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 3.0,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }
    if key:
        made["parameters"] = [{"id": "key", "name": "Key input", "value": key}]
    return made


def send(to: str, level: float, on: bool = True) -> dict[str, Any]:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def strip(
    ident: str, name: str, out: str | None, fader: float = 0.0, pan: float = 0.0, legs: int = 1, **more: Any
) -> Session:
    """One channel of the desk, a track unless told otherwise."""
    made: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
    }
    if more.get("clips"):
        made["plays"] = sorted({c["plays"] for c in more["clips"]})
    made.update(more)
    return made


def steps(target: str, scale: str, *points: tuple[float, float]) -> dict[str, Any]:
    """Held automation, points as (bar, value)."""
    return {
        "target": target,
        "scale": scale,
        "shape": "hold",
        "t": [at(b) for b, _ in points],
        "v": [v for _, v in points],
    }


def ride(target: str, *points: tuple[float, float]) -> dict[str, Any]:
    """Drawn fader automation in decibels, points as (bar, value)."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [at(b) for b, _ in points],
        "v": [v for _, v in points],
    }


def kit(file: str) -> list[dict[str, Any]]:
    """The kit plays to the end of chorus 2, rests, and comes back with a fill four bars before chorus 3."""
    return [clip(3, 91.5, file, 0.005, 0.4), clip(99, 139, file, 0.005, 1.5)]


def fills(file: str) -> list[dict[str, Any]]:
    """Toms, cut to their fills."""
    places = [(26, 27.5), (34, 35.5), (50, 51.5), (74, 75.5), (90, 91.5), (101, 103.5), (126, 127.5), (134, 137)]
    return [clip(a, b, file, 0.005, 0.35) for a, b in places]


def whole_bass(file: str) -> list[dict[str, Any]]:
    """The bass leaves out the first half of the bridge."""
    return [clip(3, 91, file, 0.01, 0.08), clip(97, 139, file, 0.01, 1.5)]


def choruses(file: str, last: float, out: float = 0.08) -> list[dict[str, Any]]:
    """Three choruses, the last running on to a bar."""
    return [clip(35, 51, file, 0.01, 0.08), clip(75, 91, file, 0.01, 0.08), clip(103, last, file, 0.01, out)]


def rhythm(file: str) -> list[dict[str, Any]]:
    """The first guitar pair."""
    return [clip(3, 27, file), clip(35, 67, file), clip(75, 91, file), clip(103, 139, file, 0.01, 1.8)]


def widen(sign: int) -> dict[str, Any]:
    """The first guitar pair opens in the choruses."""
    near, far = 60.0 * sign, 95.0 * sign
    return steps("pan", "pan", (1, near), (35, far), (51, near), (75, far), (91, near), (103, far))


def lead() -> list[dict[str, Any]]:
    """The lead voice, one clip for each section, levelled by clip gain."""
    parts = [
        (11, 26.5, 0.5),
        (27, 34.8, 0.0),
        (35, 50.5, -1.0),
        (51, 66.5, 0.5),
        (67, 74.8, 0.0),
        (75, 90.5, -1.0),
        (95, 102.5, 1.0),
        (103, 126.8, -1.0),
    ]
    return [clip(a, b, "LV_comp", 0.02, 0.06, g) for a, b, g in parts]


def drums() -> list[Session]:
    """Microphones, samples, parallel crush, group."""
    fold: Session = {"folder": ["Drums"]}
    shell: Session = {"folder": ["Drums"], "parent": "vdr"}
    flip = {"name": "Util", "kind": "utility", "opaque": False, "parameters": [{"id": "invert", "value": True}]}
    return [
        strip(
            "kin",
            "Kick In",
            "drm",
            -4.0,
            clips=kit("KickIn"),
            sends=[send("crush", -3.0)],
            **shell,
            inserts=[
                eq(band("bell", 380, -3.5, 1.2), band("bell", 4200, 2.5)),
                dyn("Comp", "compressor", -16, 4, 20, 90, 1.5),
            ],
        ),
        strip("kout", "Kick Out", "drm", -8.0, clips=kit("KickOut"), inserts=[eq(band("low-pass", 5000))], **shell),
        strip("ksmp", "Kick Smp", "drm", -12.0, clips=kit("KickSmp"), comment="under the mics, for weight", **shell),
        strip(
            "snt",
            "Sn Top",
            "drm",
            -5.0,
            clips=kit("SnTop"),
            sends=[send("crush", -2.0), send("dvb", -15.0)],
            **shell,
            inserts=[eq(band("high-pass", 90), band("bell", 210, 2)), dyn("Comp", "compressor", -18, 4, 12, 110, 2)],
        ),
        strip("snb", "Sn Bot", "drm", -13.0, clips=kit("SnBot"), inserts=[flip, eq(band("high-pass", 160))], **shell),
        strip("ssmp", "Sn Smp", "drm", -13.0, clips=kit("SnSmp"), sends=[send("dvb", -16.0)], **shell),
        strip("hat", "Hat", "drm", -14.0, 38.0, clips=kit("Hat"), inserts=[eq(band("high-pass", 350))], **fold),
        strip("tr", "Tom Rk", "drm", -7.0, 22.0, clips=fills("TomRk"), sends=[send("dvb", -15.0)], **shell),
        strip("tf", "Tom Flr", "drm", -7.0, -40.0, clips=fills("TomFlr"), sends=[send("dvb", -15.0)], **shell),
        strip("ohl", "OH L", "drm", -7.0, -85.0, clips=kit("OHL"), inserts=[eq(band("high-pass", 120))], **fold),
        strip("ohr", "OH R", "drm", -7.0, 85.0, clips=kit("OHR"), inserts=[eq(band("high-pass", 120))], **fold),
        strip(
            "room",
            "Room",
            "drm",
            -13.0,
            legs=2,
            clips=kit("Room"),
            sends=[send("crush", -6.0)],
            **fold,
            inserts=[dyn("Comp", "compressor", -24, 6, 8, 140, 3)],
        ),
        strip(
            "crush",
            "Drm Crush",
            "drm",
            -12.0,
            legs=2,
            kind="return",
            comment="parallel",
            **fold,
            inserts=[dyn("Smash", "compressor", -30, 10, 2, 80, 4), eq(band("low-shelf", 90, 2))],
        ),
        strip(
            "drm",
            "DRUMS",
            "mix",
            -2.0,
            legs=2,
            kind="group",
            inserts=[dyn("Bus Comp", "compressor", -14, 2, 30, 100, 1)],
            **fold,
        ),
    ]


def music() -> list[Session]:
    """Bass, guitars, synthesizers."""
    cut = eq(band("high-pass", 95), band("bell", 2600, -1.5, 1.0))
    arps = [(11, 27), (51, 67), (91, 127)]
    synth = {"name": "Poly Synth", "kind": "instrument", "opaque": True}
    return [
        strip(
            "bdi", "Bs DI", "bas", -7.0, folder=["Bass"], clips=whole_bass("BsDI"), inserts=[eq(band("high-pass", 35))]
        ),
        strip(
            "bam",
            "Bs Amp",
            "bas",
            -6.0,
            folder=["Bass"],
            clips=whole_bass("BsAmp"),
            inserts=[eq(band("high-pass", 45), band("bell", 800, 1.5))],
        ),
        strip(
            "bas",
            "BASS",
            "mix",
            -3.0,
            kind="group",
            folder=["Bass"],
            inserts=[
                dyn("Comp", "compressor", -20, 3, 25, 120, 2),
                dyn("Duck", "compressor", -22, 2, 5, 90, key="Kick In"),
            ],
        ),
        strip(
            "gal",
            "Gtr A L",
            "gtr",
            -8.0,
            -60.0,
            folder=["Gtr"],
            clips=rhythm("GtrA_t1"),
            inserts=[cut],
            automation=[widen(-1)],
        ),
        strip(
            "gar",
            "Gtr A R",
            "gtr",
            -8.0,
            60.0,
            folder=["Gtr"],
            clips=rhythm("GtrA_t2"),
            inserts=[cut],
            automation=[widen(1)],
        ),
        strip(
            "gbl", "Gtr B L", "gtr", -10.0, -75.0, folder=["Gtr"], clips=choruses("GtrB_t1", 139, 1.8), inserts=[cut]
        ),
        strip("gbr", "Gtr B R", "gtr", -10.0, 75.0, folder=["Gtr"], clips=choruses("GtrB_t2", 139, 1.8), inserts=[cut]),
        strip(
            "gld",
            "Gtr Lead",
            "gtr",
            -9.0,
            15.0,
            folder=["Gtr"],
            sends=[send("plate", -14.0)],
            inserts=[cut],
            clips=[clip(3, 11, "GtrLead"), clip(91, 102.9, "GtrLead"), clip(127, 139, "GtrLead", 0.01, 1.8)],
        ),
        strip(
            "gtr",
            "GTRS",
            "mix",
            -3.0,
            legs=2,
            kind="group",
            parent="vmu",
            folder=["Gtr"],
            inserts=[dyn("Comp", "compressor", -15, 2, 30, 150, 0.5)],
        ),
        strip(
            "pad",
            "Pad PRINT",
            "syn",
            -14.0,
            legs=2,
            folder=["Syn"],
            inserts=[eq(band("high-pass", 140))],
            clips=[clip(27, 51, "Pad_print", 0.1, 0.6), clip(67, 139, "Pad_print", 0.1, 1.8)],
        ),
        strip(
            "arp",
            "Arp",
            "syn",
            -12.0,
            legs=2,
            mute=True,
            folder=["Syn"],
            comment="printed - kept for recall",
            clips=[notes(a, b, "arp") for a, b in arps],
            inserts=[synth, eq(band("high-pass", 220))],
        ),
        strip(
            "arpp",
            "Arp PRINT",
            "syn",
            -12.0,
            legs=2,
            folder=["Syn"],
            clips=[clip(a, b, "Arp_print", 0.01, 0.15) for a, b in arps],
        ),
        strip(
            "syn", "SYN", "mix", -3.0, legs=2, kind="group", parent="vmu", folder=["Syn"], sends=[send("plate", -20.0)]
        ),
    ]


def voices() -> list[Session]:
    """Lead, double, the muted alternate, the stack and their buses."""
    fold: Session = {"folder": ["Vox"]}
    thin = eq(band("high-pass", 180), band("high-shelf", 9000, 1.5))
    throw = steps(
        "send:2:level",
        "dB",
        (1, -200.0),
        (26, -8.0),
        (26.5, -200.0),
        (66, -8.0),
        (66.5, -200.0),
        (90, -8.0),
        (90.5, -200.0),
        (126.25, -7.0),
        (126.8, -200.0),
    )
    moves = ride(
        "fader",
        (1, -4.0),
        (34.9, -4.0),
        (35, -3.0),
        (50.9, -3.0),
        (51, -4.0),
        (74.9, -4.0),
        (75, -3.0),
        (90.9, -3.0),
        (91, -4.5),
        (102.9, -4.5),
        (103, -2.5),
    )
    doubles = [
        clip(27, 34.8, "LV_dbl", 0.02, 0.06),
        clip(35, 50.5, "LV_dbl", 0.02, 0.06),
        clip(67, 74.8, "LV_dbl", 0.02, 0.06),
        clip(75, 90.5, "LV_dbl", 0.02, 0.06),
        clip(103, 126.8, "LV_dbl", 0.02, 0.06),
    ]
    stack = [
        ("bhl", "BV Hi L", -78.0, "BVHi_t1", -11.0),
        ("bhr", "BV Hi R", 78.0, "BVHi_t2", -11.0),
        ("bll", "BV Lo L", -48.0, "BVLo_t1", -12.0),
        ("blr", "BV Lo R", 48.0, "BVLo_t2", -12.0),
    ]
    made = [
        strip(
            "lv",
            "LV",
            "vox",
            -4.0,
            clips=lead(),
            parent="vvo",
            automation=[moves, throw],
            **fold,
            sends=[send("plate", -14.0), send("vpar", -3.0), send("throw", -200.0)],
            inserts=[
                eq(band("high-pass", 85), band("bell", 320, -2), band("high-shelf", 10000, 2)),
                dyn("Comp", "compressor", -20, 3.5, 8, 90, 3),
                {"name": "DeEss", "kind": "de-esser", "opaque": True},
            ],
        ),
        strip(
            "ld",
            "LV Dbl",
            "vox",
            -12.0,
            clips=doubles,
            parent="vvo",
            sends=[send("plate", -16.0)],
            inserts=[thin, dyn("Comp", "compressor", -24, 5, 5, 90, 3)],
            **fold,
        ),
        strip("lalt", "LV alt tk3", "vox", -4.0, mute=True, clips=[clip(11, 126.8, "LV_tk3", 0.02, 0.06)], **fold),
    ]
    made += [strip(i, n, "bvs", f, p, clips=choruses(w, 126.9), inserts=[thin], **fold) for i, n, p, w, f in stack]
    made += [
        strip(
            "bvs",
            "BVS",
            "vox",
            -2.0,
            legs=2,
            kind="group",
            parent="vvo",
            sends=[send("plate", -11.0)],
            inserts=[dyn("Comp", "compressor", -20, 3, 10, 120, 1.5)],
            **fold,
        ),
        strip(
            "vpar",
            "Vox Par",
            "vox",
            -12.0,
            legs=2,
            kind="return",
            comment="parallel",
            inserts=[dyn("Squash", "compressor", -34, 8, 1, 60, 5), eq(band("high-pass", 150))],
            **fold,
        ),
        strip(
            "vox",
            "VOX",
            "mix",
            -1.0,
            legs=2,
            kind="group",
            inserts=[dyn("Comp", "compressor", -14, 1.5, 20, 120, 0.5)],
            **fold,
        ),
    ]
    return made


def rest() -> list[Session]:
    """Returns, click, VCAs, master."""
    mus = steps("fader", "dB", (1, 0.0), (91, -5.0), (103, 0.0))
    plate = {
        "name": "Plate",
        "kind": "reverb",
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": 28.0,
        "parameters": [{"id": "decay", "value": 1.8, "unit": "s"}],
    }
    amb = {
        "name": "Short Room",
        "kind": "reverb",
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": 4.0,
        "parameters": [{"id": "decay", "value": 0.7, "unit": "s"}],
    }
    echo = {
        "name": "Delay",
        "kind": "delay",
        "opaque": False,
        "wet": 100.0,
        "parameters": [{"id": "time", "value": "1/4"}, {"id": "feedback", "value": 36.0, "unit": "%"}],
    }
    limit = dyn("Limiter", "limiter", -1.5, 100, 1, 80)
    limit["parameters"] = [{"id": "ceiling", "name": "Ceiling", "value": -1.0, "unit": "dB"}]
    return [
        strip("plate", "Plate", "mix", -4.0, legs=2, kind="return", inserts=[plate, eq(band("high-pass", 250))]),
        strip("dvb", "Drm Vrb", "drm", -4.0, legs=2, kind="return", inserts=[amb]),
        strip(
            "throw",
            "Throw",
            "mix",
            -4.0,
            legs=2,
            kind="return",
            inserts=[echo, eq(band("high-pass", 300), band("low-pass", 4500))],
        ),
        strip(
            "clk",
            "Click",
            None,
            -8.0,
            clips=[notes(1, 135, "click")],
            comment="phones only",
            inserts=[{"name": "Click Gen", "kind": "instrument", "opaque": True}],
        ),
        {
            "id": "vdr",
            "name": "VCA Shells",
            "kind": "vca",
            "fader_db": -1.0,
            "mute": False,
            "solo": False,
            "output": None,
        },
        {
            "id": "vmu",
            "name": "VCA Mus",
            "kind": "vca",
            "fader_db": 0.0,
            "mute": False,
            "solo": False,
            "output": None,
            "automation": [mus],
        },
        {"id": "vvo", "name": "VCA Vox", "kind": "vca", "fader_db": 0.5, "mute": False, "solo": False, "output": None},
        {
            "id": "mix",
            "name": "MIX",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [eq(band("high-shelf", 12000, 0.8)), dyn("Glue", "compressor", -14, 2, 30, 120, 1.5), limit],
        },
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels: list[Session] = json.loads(json.dumps(drums() + music() + voices() + rest()))  # nothing shared
    wide = {"Room", "Pad_print", "Arp_print"}
    used = sorted({c["file"] for ch in channels for c in ch.get("clips", []) if c.get("file")})
    media = [
        {
            "id": f,
            "path": f"Audio/{f}.wav",
            "place": "beside",
            "present": True,
            "legs": 2 if f in wide else 1,
            "sample_rate_hz": RATE,
            "duration_s": FILE_LENGTH,
        }
        for f in used
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Chalk Parade mix 6",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": 126.0, "ramp": False}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECTIONS],
        "channels": channels,
        "media": media,
        "metadata": {"song": "Chalk Parade", "delivery": "48 kHz, 24 bit"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    """The channel of that name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def lane(channel: dict[str, Any], target: str) -> dict[str, Any]:
    """The automation of that target."""
    found: dict[str, Any] = next(a for a in channel["automation"] if a["target"] == target)
    return found


def wrong_side(session: Session) -> None:
    """plants in place"""
    pan = lane(chan(session, "Gtr A R"), "pan")
    pan["v"][pan["t"].index(at(75))] = -95.0


def throw_open(session: Session) -> None:
    """plants in place"""
    level = lane(chan(session, "LV"), "send:2:level")
    here = level["t"].index(at(66.5))
    del level["t"][here], level["v"][here]


def hot_clip(session: Session) -> None:
    """plants in place"""
    next(c for c in chan(session, "LV")["clips"] if c["start_s"] == at(75))["gain_db"] = 9.0


def dip_stays(session: Session) -> None:
    """plants in place"""
    fader = lane(chan(session, "VCA Mus"), "fader")
    del fader["t"][-1], fader["v"][-1]


def sample_past_bus(session: Session) -> None:
    """plants in place"""
    chan(session, "Sn Smp")["output"] = "mix"


def arp_twice(session: Session) -> None:
    """plants in place"""
    chan(session, "Arp")["mute"] = False


def dead_clip(session: Session) -> None:
    """plants in place"""
    chan(session, "BV Hi R")["clips"][-1]["on"] = False


def nudged_mic(session: Session) -> None:
    """plants in place"""
    moved = chan(session, "Kick Out")["clips"][-1]
    moved["start_s"] = round(moved["start_s"] + 0.009, 6)
    moved["end_s"] = round(moved["end_s"] + 0.009, 6)


def wrong_key(session: Session) -> None:
    """plants in place"""
    chan(session, "BASS")["inserts"][1]["parameters"][0]["value"] = "Hat"


def hot_glue(session: Session) -> None:
    """plants in place"""
    chan(session, "MIX")["inserts"][1]["dynamics"]["output_gain_db"] = 15.0


def short_double(session: Session) -> None:
    """plants in place"""
    chan(session, "Gtr B L")["clips"][1]["end_s"] = at(89)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["LV alt tk3"], "why": "a muted alternate take, kept for the singer; tidy up later at most"},
    {"channels": ["Arp"], "why": "muted on purpose, the print plays"},
    {"channels": ["Click"], "why": "goes nowhere on purpose, it is heard in the phones only"},
    {
        "channels": ["Kick Smp", "Sn Smp", "Kick In", "Sn Top"],
        "why": "samples printed under the microphones on purpose",
    },
    {"channels": ["Sn Bot"], "why": "turned over against the top microphone, as usual"},
    {"channels": ["Drm Crush", "Vox Par"], "why": "hard parallel compression beneath the direct sound, meant"},
    {"channels": ["Gtr A L", "Gtr A R"], "why": "both sides step in pan at the choruses, a matter of taste"},
    {"channels": ["OH L", "OH R", "Hat", "Tom Rk", "Tom Flr"], "why": "kit as the audience sees it, hat to the right"},
    {"channels": ["MIX"], "why": "a compressor and a limiter on the mix are part of the sound"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "double-jumps-left",
        "class": "place",
        "channels": ["Gtr A R", "Gtr A L"],
        "grade": "hold",
        "says": "In chorus 2 Gtr A R jumps to hard left onto its double, and the right side is left to the B guitar.",
        "plant": wrong_side,
    },
    {
        "id": "throw-left-open",
        "class": "ambience",
        "channels": ["LV", "Throw"],
        "grade": "hold",
        "says": "The echo throw at the end of verse 2 is never closed and runs on under pre-chorus and chorus 2.",
        "plant": throw_open,
    },
    {
        "id": "hot-lead-clip",
        "class": "level",
        "channels": ["LV"],
        "grade": "hold",
        "says": "The lead's chorus 2 clip has +9 dB of clip gain where the other choruses have -1.",
        "plant": hot_clip,
    },
    {
        "id": "bridge-dip-stays",
        "class": "automation",
        "channels": ["VCA Mus", "GTRS", "SYN"],
        "grade": "hold",
        "says": "The music VCA goes down 5 dB for the bridge and never comes back for the last chorus.",
        "plant": dip_stays,
    },
    {
        "id": "snare-sample-past-bus",
        "class": "routing",
        "channels": ["Sn Smp"],
        "grade": "look",
        "says": "The snare sample goes straight to the mix and misses the drum bus.",
        "plant": sample_past_bus,
    },
    {
        "id": "arp-and-print",
        "class": "twice",
        "channels": ["Arp", "Arp PRINT"],
        "grade": "hold",
        "says": "The arpeggio instrument is unmuted and plays together with its own print.",
        "plant": arp_twice,
    },
    {
        "id": "backing-clip-off",
        "class": "inaudible",
        "channels": ["BV Hi R", "BV Hi L"],
        "grade": "hold",
        "says": "The last chorus clip of BV Hi R is muted, so the high stack sounds on the left only.",
        "plant": dead_clip,
    },
    {
        "id": "kick-out-late",
        "class": "phase",
        "channels": ["Kick Out", "Kick In"],
        "grade": "hold",
        "says": "From the fill before chorus 3 on Kick Out lies 9 ms later than Kick In and all the other drum tracks.",
        "plant": nudged_mic,
    },
    {
        "id": "bass-ducks-to-hat",
        "class": "processors",
        "channels": ["BASS", "Hat"],
        "grade": "hold",
        "says": "The ducker on the bass is keyed from the hat and not from the kick.",
        "plant": wrong_key,
    },
    {
        "id": "glue-gain-slip",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The mix compressor gives 15 dB of output gain and rams everything into the limiter.",
        "plant": hot_glue,
    },
    {
        "id": "double-cut-short",
        "class": "edits",
        "channels": ["Gtr B L", "Gtr B R"],
        "grade": "hold",
        "says": "Gtr B L stops two bars before the end of chorus 2 while its double on the right plays on.",
        "plant": short_double,
    },
]
