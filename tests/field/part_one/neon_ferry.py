"""A dance track on the grid at 126: pads pumped by a ghost kick that only feeds the key, a low-passed sub, risers and
filter sweeps into the drops, one synth frozen as a spare and muted."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Channel = dict[str, Any]
Spans = list[tuple[float, float]]


def strip(
    ident: str, name: str, output: str | None, legs: int = 1, fader: float = 0.0, pan: float = 0.0, **more: Any
) -> Channel:
    """One strip, a track unless ``kind`` says otherwise."""
    channel: Channel = {
        "id": ident,
        "name": name,
        "kind": "track",
        "output": output,
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    channel.update(more)
    return channel


def send(to: str, level: float, pan: float = 0.0, tap: str = "post", on: bool = True) -> dict[str, Any]:
    """A send."""
    return {"to": to, "level_db": level, "pan": pan, "tap": tap, "on": on}


def cut(kind: str, freq: float, slope: float = 12.0, on: bool = True) -> dict[str, Any]:
    """A high-pass or a low-pass band."""
    return {"kind": kind, "freq_hz": freq, "gain_db": 0.0, "q": 0.71, "slope_db_per_oct": slope, "on": on}


def bell(freq: float, gain: float, q: float = 1.0, kind: str = "bell") -> dict[str, Any]:
    """A bell or a shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def eq(*bands: dict[str, Any], name: str = "Chan EQ", on: bool = True) -> dict[str, Any]:
    """An equalizer whose bands are shown."""
    return {"name": name, "kind": "equalizer", "on": on, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    gain: float = 0.0,
    name: str = "Chan Comp",
    kind: str = "compressor",
) -> dict[str, Any]:
    """A compressor or a limiter whose settings are shown."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "knee_db": 3.0,
        "output_gain_db": gain,
        "auto_makeup": False,
    }
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": dynamics}


def gate(threshold: float, depth: float, attack: float, release: float, name: str = "Chan Gate") -> dict[str, Any]:
    """A gate whose settings are shown."""
    dynamics = {"threshold_db": threshold, "range_db": depth, "attack_ms": attack, "release_ms": release}
    return {"name": name, "kind": "gate", "on": True, "opaque": False, "dynamics": dynamics}


def box(name: str, kind: str, wet: float | None = None, **more: Any) -> dict[str, Any]:
    """A processor whose settings the session hides, but for its mix control."""
    insert: dict[str, Any] = {"name": name, "kind": kind, "on": True, "opaque": True}
    if wet is not None:
        insert["wet"] = wet
    insert.update(more)
    return insert


def trim(gain: float = 0.0, invert: bool = False, delay_ms: float = 0.0) -> dict[str, Any]:
    """A utility with gain, polarity and delay, all shown."""
    parameters: list[dict[str, Any]] = [
        {"id": "gain", "name": "Gain", "value": gain, "unit": "dB", "low": -24.0, "high": 24.0},
        {"id": "polarity", "name": "Polarity Invert", "value": invert},
        {"id": "delay", "name": "Delay", "value": delay_ms, "unit": "ms", "low": 0.0, "high": 100.0},
    ]
    return {"name": "Trim", "kind": "utility", "on": True, "opaque": False, "parameters": parameters}


def ride(target: str, scale: str, *points: tuple[float, float], shape: str = "linear") -> dict[str, Any]:
    """One automation lane."""
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [round(t, 4) for t, _ in points],
        "v": [v for _, v in points],
    }


def at(session: Session, name: str) -> Channel:
    """The channel of that name."""
    return next(channel for channel in session["channels"] if channel["name"] == name)


def lane(channel: Channel, target: str) -> dict[str, Any]:
    """The channel's automation lane for that target."""
    found: dict[str, Any] = next(a for a in channel["automation"] if a["target"] == target)
    return found


def medium(session: Session, channel: Channel) -> dict[str, Any]:
    """The file that the channel's first clip plays."""
    found: dict[str, Any] = next(m for m in session["media"] if m["id"] == channel["clips"][0]["file"])
    return found


def record(
    session: Session,
    ident: str,
    path: str,
    spans: Spans,
    length: float,
    origin: float = 0.0,
    fades: tuple[float, float] = (0.01, 0.03),
    gain: float = 0.0,
) -> None:
    """Lay one recording on a channel, one clip a span; ``origin`` is where in the song the file begins."""
    channel = next(c for c in session["channels"] if c["id"] == ident)
    file = f"m{len(session['media']) + 1:03d}"
    session["media"].append(
        {
            "id": file,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": channel["legs"],
            "sample_rate_hz": session["sample_rate_hz"],
            "duration_s": round(length, 3),
        }
    )
    for start, end in spans:
        channel["clips"].append(
            {
                "start_s": round(start, 4),
                "end_s": round(end, 4),
                "file": file,
                "offset_s": round(start - origin, 4),
                "fade_in_s": fades[0],
                "fade_out_s": fades[1],
                "gain_db": gain,
                "plays": "audio",
                "on": True,
            }
        )
    channel["plays"] = ["audio"]
    channel["clips"].sort(key=lambda c: c["start_s"])


def score(session: Session, ident: str, spans: Spans) -> None:
    """Lay notes on an instrument's channel, one clip a span."""
    channel = next(c for c in session["channels"] if c["id"] == ident)
    for start, end in spans:
        channel["clips"].append({"start_s": round(start, 4), "end_s": round(end, 4), "plays": "notes", "on": True})
    channel["plays"] = ["notes"]


BAR = 60.0 / 126.0 * 4
NAMES = [
    ("Intro", 0),
    ("Groove", 16),
    ("Break 1", 32),
    ("Rise 1", 48),
    ("Drop 1", 56),
    ("Break 2", 88),
    ("Rise 2", 104),
    ("Drop 2", 112),
    ("Outro", 144),
    ("End", 160),
]


def bar(number: float) -> float:
    """Where a bar begins, in seconds."""
    return number * BAR


def blocks(*ranges: tuple[int, int], size: int = 8) -> Spans:
    """The bars from a to b cut into blocks of that many bars."""
    return [(bar(n), bar(min(n + size, b))) for a, b in ranges for n in range(a, b, size)]


def loop(session: Session, ident: str, path: str, size: int, *ranges: tuple[int, int]) -> None:
    """A loop of so many bars, laid end to end over the ranges."""
    spans = blocks(*ranges, size=size)
    record(session, ident, path, spans, size * BAR + 0.01, fades=(0.0, 0.0))
    for clip in next(c for c in session["channels"] if c["id"] == ident)["clips"]:
        clip["offset_s"] = 0.0


def shot(session: Session, ident: str, path: str, length: float, *bars: float) -> None:
    """A one-shot at each of these bars."""
    record(session, ident, path, [(bar(n), bar(n) + length) for n in bars], length + 0.01, fades=(0.0, 0.0))
    for clip in next(c for c in session["channels"] if c["id"] == ident)["clips"]:
        clip["offset_s"] = 0.0


def pump() -> dict[str, Any]:
    """The compressor that the ghost kick works."""
    return comp(-30, 8.0, 0.5, 160, 0.0, "Pump (key: SC KEY)")


def synth(name: str) -> dict[str, Any]:
    """An instrument."""
    return box(name, "instrument")


def rhythm() -> list[Channel]:
    """Drums and bass."""
    return [
        strip(
            "kck", "KICK", "drm", fader=-3.0, inserts=[eq(cut("high-pass", 28)), box("Soft Edge", "distortion", 30.0)]
        ),
        strip("gho", "Ghost Kick (SC)", "key", inserts=[synth("Hit Box")]),
        strip("clp", "Clap", "drm", 2, fader=-7.0, sends=[send("rms", -12.0)], inserts=[eq(cut("high-pass", 180))]),
        strip(
            "rol",
            "Snr Roll",
            "drm",
            fader=-9.0,
            sends=[send("hal", -10.0)],
            automation=[
                ride("fader", "dB", (bar(48), -22), (bar(56), -8), (bar(56), -22), (bar(104), -22), (bar(112), -8))
            ],
        ),
        strip("chh", "CH", "drm", fader=-13.0, pan=12, inserts=[eq(cut("high-pass", 600))]),
        strip("ohh", "OH", "drm", fader=-11.0, inserts=[eq(cut("high-pass", 500))]),
        strip("rid", "Ride", "drm", 2, fader=-14.0, inserts=[eq(cut("high-pass", 900))]),
        strip("top", "Top Loop", "drm", 2, fader=-12.0, inserts=[eq(cut("high-pass", 350))]),
        strip(
            "prc", "Perc Loop", "drm", 2, fader=-13.0, sends=[send("rms", -15.0)], inserts=[eq(cut("high-pass", 250))]
        ),
        strip("crs", "Crash", "drm", 2, fader=-12.0, sends=[send("hal", -14.0)]),
        strip("sub", "SUB", "bas", fader=-5.0, inserts=[synth("Deep Sine"), eq(cut("low-pass", 95, 24)), pump()]),
        strip(
            "mid",
            "Mid Bass",
            "bas",
            2,
            fader=-8.0,
            inserts=[
                synth("Wave Loom"),
                eq(cut("high-pass", 110, 24), bell(700, 1.5)),
                box("Grit Stage", "distortion", 40.0),
                pump(),
            ],
        ),
        strip(
            "acd",
            "Acid Ln",
            "bas",
            fader=-13.0,
            pan=-10,
            sends=[send("dly", -12.0)],
            inserts=[synth("Squelcher"), eq(cut("high-pass", 160), cut("low-pass", 600))],
            automation=[
                ride(
                    "insert:1:band:2:freq",
                    "plain",
                    (bar(32), 300),
                    (bar(56), 6000),
                    (bar(88), 6000),
                    (bar(88), 300),
                    (bar(112), 7000),
                    (bar(144), 7000),
                    (bar(160), 900),
                )
            ],
        ),
    ]


def music() -> list[Channel]:
    """Synths, voices and effects."""
    return [
        strip(
            "pdw",
            "Pad Wide",
            "pad",
            2,
            fader=-9.0,
            sends=[send("hal", -9.0)],
            inserts=[synth("Wave Loom"), eq(cut("high-pass", 220)), pump()],
        ),
        strip("pdl", "Pad Low", "pad", 2, fader=-11.0, inserts=[synth("Wave Loom"), eq(cut("high-pass", 120)), pump()]),
        strip(
            "str",
            "Strings",
            "pad",
            2,
            fader=-12.0,
            sends=[send("hal", -8.0)],
            inserts=[synth("Paper Strings"), eq(cut("high-pass", 260)), pump()],
        ),
        strip(
            "plk",
            "Pluck",
            "syn",
            2,
            fader=-10.0,
            sends=[send("dly", -9.0), send("hal", -14.0)],
            inserts=[synth("Wave Loom"), eq(cut("high-pass", 200))],
        ),
        strip(
            "led",
            "Lead",
            "syn",
            2,
            fader=-7.0,
            sends=[send("dly", -12.0), send("hal", -12.0)],
            inserts=[synth("Wave Loom"), eq(cut("high-pass", 240)), pump()],
        ),
        strip("lfz", "Lead FRZ", "syn", 2, fader=-7.0, mute=True, sends=[send("dly", -12.0), send("hal", -12.0)]),
        strip(
            "arl",
            "Arp L",
            "syn",
            fader=-15.0,
            pan=-80,
            sends=[send("dly", -12.0, -80)],
            inserts=[synth("Wave Loom"), eq(cut("high-pass", 300))],
        ),
        strip(
            "arr",
            "Arp R",
            "syn",
            fader=-15.0,
            pan=80,
            sends=[send("dly", -12.0, 80)],
            inserts=[synth("Wave Loom"), eq(cut("high-pass", 300))],
        ),
        strip("stb", "Piano Stab", "syn", 2, fader=-11.0, sends=[send("rms", -10.0)], inserts=[synth("Upright Box")]),
        strip(
            "vhk",
            "Vox Hook",
            "vox",
            fader=-6.0,
            sends=[send("hal", -11.0), send("dly", -200.0)],
            inserts=[eq(cut("high-pass", 130), bell(9000, 2.0, 0.7, "high-shelf")), comp(-24, 4.0, 4, 80, 4.0)],
            automation=[
                ride(
                    "send:1:level",
                    "dB",
                    (0, -200),
                    (bar(55), -6),
                    (bar(56), -200),
                    (bar(111), -6),
                    (bar(112), -200),
                    shape="hold",
                )
            ],
        ),
        strip("vdb", "Vox Hook Dbl", "vox", 2, fader=-14.0, inserts=[box("Wide Twin", "modulation", 100.0)]),
        strip("vch", "Vox Chop", "vox", 2, fader=-10.0, sends=[send("dly", -10.0)], inserts=[pump()]),
        strip("upl", "Uplifter", "fxg", 2, fader=-10.0, sends=[send("hal", -12.0)]),
        strip("dwn", "Downlifter", "fxg", 2, fader=-11.0, sends=[send("hal", -10.0)]),
        strip(
            "noi",
            "White Noise",
            "fxg",
            2,
            fader=-16.0,
            inserts=[synth("Hiss Maker"), eq(cut("low-pass", 400, 24))],
            automation=[
                ride(
                    "insert:1:band:1:freq",
                    "plain",
                    (bar(48), 400),
                    (bar(56), 18000),
                    (bar(56), 400),
                    (bar(104), 400),
                    (bar(112), 19000),
                    (bar(112), 400),
                ),
                ride("fader", "dB", (bar(48), -40), (bar(56), -12), (bar(104), -40), (bar(112), -12)),
            ],
        ),
        strip("rev", "Rev Crash", "fxg", 2, fader=-12.0),
        strip("imp", "Impact", "fxg", 2, fader=-9.0, sends=[send("hal", -8.0)]),
        strip("atm", "Atmos", "fxg", 2, fader=-20.0, inserts=[eq(cut("high-pass", 200))]),
        strip("ref", "REF (other tune)", None, 2, fader=-9.0, mute=True),
    ]


def desk() -> list[Channel]:
    """Buses, returns and the way out."""
    return [
        strip(
            "drm",
            "DRUM BUS",
            "pre",
            2,
            kind="group",
            inserts=[comp(-12, 2.0, 30, 90, 1.0, "Bus Glue"), eq(cut("high-pass", 20, 24))],
            automation=[
                ride(
                    "insert:1:band:1:freq",
                    "plain",
                    (0, 20),
                    (bar(48), 20),
                    (bar(55.9), 380),
                    (bar(56), 20),
                    (bar(104), 20),
                    (bar(111.9), 380),
                    (bar(112), 20),
                )
            ],
        ),
        strip("bas", "BASS BUS", "pre", 2, fader=-1.0, kind="group", inserts=[comp(-16, 3.0, 15, 90, 1.0)]),
        strip(
            "pad",
            "PAD BUS",
            "pre",
            2,
            kind="group",
            inserts=[eq(cut("low-pass", 20000, 24))],
            automation=[
                ride(
                    "insert:0:band:1:freq",
                    "plain",
                    (0, 20000),
                    (bar(32), 20000),
                    (bar(32), 700),
                    (bar(56), 20000),
                    (bar(88), 20000),
                    (bar(88), 600),
                    (bar(112), 20000),
                )
            ],
        ),
        strip("syn", "SYNTH BUS", "pre", 2, kind="group"),
        strip("vox", "VOX BUS", "pre", 2, kind="group"),
        strip("fxg", "FX BUS", "pre", 2, kind="group", inserts=[eq(cut("high-pass", 150))]),
        strip("key", "SC KEY", None, 1, kind="group", comment="side-chain key only, no output on purpose"),
        strip(
            "hal",
            "Hall Long",
            "pre",
            2,
            fader=-7.0,
            kind="return",
            inserts=[box("Old Hall", "reverb", 100.0), eq(cut("high-pass", 300)), pump()],
        ),
        strip("rms", "Room Short", "pre", 2, fader=-6.0, kind="return", inserts=[box("Plank Room", "reverb", 100.0)]),
        strip(
            "dly",
            "Dly 3/16",
            "pre",
            2,
            fader=-8.0,
            kind="return",
            sends=[send("hal", -14.0)],
            inserts=[box("Step Echo", "delay", 100.0), eq(cut("high-pass", 350), cut("low-pass", 6000)), pump()],
        ),
        strip(
            "pre", "PREMASTER", "mst", 2, fader=-4.0, kind="group", inserts=[comp(-10, 1.5, 30, 120, 0.5, "Bus Glue")]
        ),
        strip(
            "mst",
            "MASTER",
            None,
            2,
            kind="master",
            inserts=[
                eq(cut("high-pass", 22), bell(11000, 1.0, 0.7, "high-shelf"), name="Master EQ"),
                comp(-4.0, 20.0, 0.3, 40, 3.0, "Brick Stop", "limiter"),
                box("Level Eye", "analyser"),
            ],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    session: Session = {
        "title": "Neon Ferry (extended) v12",
        "sample_rate_hz": 44100,
        "timeline": {"tempos": [{"beat": 0, "bpm": 126.0}]},
        "markers": [{"time_s": round(bar(b), 4), "name": n} for n, b in NAMES],
        "channels": rhythm() + music() + desk(),
        "media": [],
    }
    loop(session, "kck", "Loops/Kick_126.wav", 8, (0, 32), (56, 88), (112, 160))
    score(session, "gho", blocks((0, 160)))
    loop(session, "clp", "Loops/Clap_126.wav", 8, (8, 32), (56, 88), (112, 152))
    loop(session, "rol", "Loops/SnrRoll_126.wav", 8, (48, 56), (104, 112))
    loop(session, "chh", "Loops/CH_126.wav", 4, (8, 32), (56, 88), (112, 156))
    loop(session, "ohh", "Loops/OH_126.wav", 4, (16, 32), (56, 88), (112, 152))
    loop(session, "rid", "Loops/Ride_126.wav", 4, (72, 88), (128, 144))
    loop(session, "top", "Loops/TopLoop_126.wav", 4, (0, 32), (40, 54), (56, 88), (96, 110), (112, 160))
    loop(session, "prc", "Loops/Perc_126.wav", 8, (16, 32), (56, 88), (112, 152))
    shot(session, "crs", "Shots/Crash.wav", 5.0, 16, 32, 56, 72, 88, 112, 128, 144)
    score(session, "sub", blocks((16, 32), (56, 88), (112, 144)))
    score(session, "mid", blocks((16, 32), (56, 88), (112, 144)))
    score(session, "acd", blocks((40, 48), (72, 88), (96, 104), (120, 152)))
    score(session, "pdw", blocks((32, 88), (88, 144)))
    score(session, "pdl", blocks((40, 88), (96, 144)))
    score(session, "str", blocks((88, 112), (128, 144)))
    score(session, "plk", blocks((24, 56), (72, 88), (96, 112), (128, 144)))
    score(session, "led", blocks((56, 88), (112, 144)))
    record(
        session, "lfz", "Freeze/Lead_frz.wav", [(bar(56), bar(88)), (bar(112), bar(144))], bar(146), fades=(0.0, 0.0)
    )
    score(session, "arl", blocks((40, 56), (64, 88), (112, 144)))
    score(session, "arr", blocks((40, 56), (64, 88), (112, 144)))
    score(session, "stb", blocks((16, 32), (120, 144)))
    vocal = [(bar(n) - 0.1, bar(n + 6)) for n in (32, 40, 48, 88, 96, 104)]
    record(session, "vhk", "Vox/Hook_04.wav", [*vocal, (bar(64), bar(66)), (bar(120), bar(122))], bar(124))
    record(session, "vdb", "Vox/HookDbl_02.wav", vocal[2:3] + vocal[4:], bar(124))
    loop(session, "vch", "Vox/Chop_126.wav", 4, (56, 64), (72, 88), (112, 120), (128, 144))
    shot(session, "upl", "Shots/Uplift_8bar_126.wav", 8 * BAR, 48, 104)
    shot(session, "dwn", "Shots/Downlift.wav", 4 * BAR, 32, 56, 88, 112, 144)
    score(session, "noi", blocks((48, 56), (104, 112)))
    shot(session, "rev", "Shots/RevCrash.wav", 2 * BAR, 14, 30, 54, 86, 110, 142)
    shot(session, "imp", "Shots/Impact.wav", 6.0, 56, 88, 112, 144)
    record(
        session,
        "atm",
        "Shots/HarbourAtmos.wav",
        [(0.0, bar(20)), (bar(32), bar(58)), (bar(88), bar(114)), (bar(144), bar(160) + 2.0)],
        bar(164),
        fades=(2.0, 3.0),
    )
    record(session, "ref", "Ref/reference.wav", [(0.0, 240.0)], 240.0)
    return session


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["REF (other tune)"], "why": "a reference, muted and without output; may be taken out of the copy"},
]


def slower_clock(session: Session) -> None:
    """The session's tempo was nudged to 124 after the loops were laid."""
    session["timeline"]["tempos"][0]["bpm"] = 124.0


def ghost_to_the_drums(session: Session) -> None:
    """The ghost kick's output goes to the drums."""
    at(session, "Ghost Kick (SC)")["output"] = "drm"


def pads_stay_dull(session: Session) -> None:
    """The pads' low-pass does not open for the second drop."""
    sweep = lane(at(session, "PAD BUS"), "insert:0:band:1:freq")
    sweep["t"], sweep["v"] = sweep["t"][:-1], sweep["v"][:-1]


def pad_does_not_pump(session: Session) -> None:
    """The pump on the wide pad is bypassed."""
    at(session, "Pad Wide")["inserts"][2]["on"] = False


def freeze_beside_its_source(session: Session) -> None:
    """The frozen lead is on beside the instrument."""
    at(session, "Lead FRZ")["mute"] = False


def stray_shot(session: Session) -> None:
    """A forgotten crash lies two minutes after the end."""
    clip = dict(at(session, "Crash")["clips"][0])
    clip.update({"start_s": round(bar(224), 4), "end_s": round(bar(224) + 5.0, 4)})
    at(session, "Crash")["clips"].append(clip)


def bass_down(session: Session) -> None:
    """The bass bus is still down from checking the kick."""
    at(session, "BASS BUS")["fader_db"] = -200.0


def fader_after_the_limiter(session: Session) -> None:
    """The master's fader stands at +5 behind its limiter."""
    at(session, "MASTER")["fader_db"] = 5.0


def clap_in_the_key(session: Session) -> None:
    """The clap's send to the short room now feeds the key."""
    at(session, "Clap")["sends"][0]["to"] = "key"


FAULTS: list[dict[str, Any]] = [
    {
        "id": "session-at-124-loops-at-126",
        "class": "tempo",
        "channels": [
            "KICK",
            "Clap",
            "CH",
            "OH",
            "Ride",
            "Top Loop",
            "Perc Loop",
            "Snr Roll",
            "Vox Chop",
            "Uplifter",
            "MASTER",
        ],
        "grade": "hold",
        "says": "the session runs at 124 bpm, yet all loops and sections lie on a grid of 126 and their files say 126",
        "plant": slower_clock,
    },
    {
        "id": "ghost-kick-heard",
        "class": "audible-that-should-not-be",
        "channels": ["Ghost Kick (SC)"],
        "grade": "hold",
        "says": "the ghost kick, there only as a key, goes to the drum bus and prints through the breaks",
        "plant": ghost_to_the_drums,
    },
    {
        "id": "pad-filter-stays-closed",
        "class": "automation",
        "channels": ["PAD BUS"],
        "grade": "hold",
        "says": "the pads' low-pass closes to 600 Hz at break 2 and does not open again: drop 2 is dull to the end",
        "plant": pads_stay_dull,
    },
    {
        "id": "pump-bypassed-on-one-pad",
        "class": "processors",
        "channels": ["Pad Wide"],
        "grade": "look",
        "says": "the side-chain compressor on Pad Wide is bypassed, the other pads' are on: it does not pump",
        "plant": pad_does_not_pump,
    },
    {
        "id": "frozen-lead-beside-the-live-one",
        "class": "twice",
        "channels": ["Lead FRZ", "Lead"],
        "grade": "hold",
        "says": "the frozen lead plays beside the instrument it was made from",
        "plant": freeze_beside_its_source,
    },
    {
        "id": "stray-crash-after-the-end",
        "class": "end",
        "channels": ["Crash"],
        "grade": "hold",
        "says": "a crash lies two minutes after everything has ended; the bounce gets that much silence and a bang",
        "plant": stray_shot,
    },
    {
        "id": "bass-bus-fully-down",
        "class": "inaudible",
        "channels": ["BASS BUS", "SUB", "Mid Bass", "Acid Ln"],
        "grade": "hold",
        "says": "the bass bus is fully down, so sub, mid bass and acid line are not in the mix",
        "plant": bass_down,
    },
    {
        "id": "master-fader-up-behind-the-limiter",
        "class": "headroom",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "the master fader adds 5 dB after the limiter: everything over its ceiling clips",
        "plant": fader_after_the_limiter,
    },
    {
        "id": "clap-feeds-the-key",
        "class": "routing",
        "channels": ["Clap", "SC KEY"],
        "grade": "look",
        "says": "the clap sends into the side-chain key instead of the short room: the pads duck to it, its room is gone",
        "plant": clap_in_the_key,
    },
]
