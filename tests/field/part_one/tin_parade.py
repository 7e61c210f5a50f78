"""A dense rock song: stereo-mic'd drums with samples, a crushed parallel of the drum bus, DI and amp pairs, rhythm
guitars doubled left and right with two mics each, backing voices in pairs, stems into a mix bus."""

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


BAR = 60.0 / 148.0 * 4
NAMES = [
    ("Count", 0),
    ("Intro", 2),
    ("V1", 10),
    ("PC1", 26),
    ("C1", 34),
    ("V2", 50),
    ("PC2", 66),
    ("C2", 74),
    ("Bridge", 90),
    ("Solo", 106),
    ("C3", 114),
    ("Outro", 138),
    ("End", 146),
]
BARS = dict(NAMES)
WHOLE = 150 * BAR


def bar(number: float) -> float:
    """Where a bar begins, in seconds."""
    return number * BAR


def part(first: str, last: str, early: float = 0.04, late: float = 0.15) -> tuple[float, float]:
    """From the one marker to the other, a little wider."""
    return bar(BARS[first]) - early, bar(BARS[last]) + late


def drums() -> list[Channel]:
    """The kit, its samples and its buses."""
    return [
        strip(
            "kin",
            "Kick In",
            "kbs",
            fader=-3.0,
            inserts=[gate(-32, -18, 0.5, 140), eq(cut("high-pass", 30), bell(350, -5.0, 1.3), bell(4200, 4.0, 0.9))],
        ),
        strip(
            "kou",
            "Kick Out",
            "kbs",
            fader=-6.0,
            inserts=[trim(delay_ms=0.0), eq(cut("low-pass", 4000), bell(60, 3.0, 0.8))],
        ),
        strip("ksm", "Kick Smp", "kbs", fader=-9.0, inserts=[eq(cut("low-pass", 9000))]),
        strip(
            "snt",
            "Sn Top",
            "sbs",
            fader=-2.5,
            sends=[send("spl", -12.0), send("drv", -16.0)],
            inserts=[
                gate(-30, -12, 0.3, 180),
                eq(cut("high-pass", 90), bell(190, 2.5), bell(5000, 3.0, 0.8)),
                comp(-16, 4.0, 12, 90, 2.0),
            ],
        ),
        strip("snu", "Sn Bot", "sbs", fader=-10.0, inserts=[trim(invert=True), eq(cut("high-pass", 240))]),
        strip("sns", "Sn Smp", "sbs", fader=-11.0, sends=[send("spl", -9.0)]),
        strip("hat", "HH", "dbs", fader=-12.0, pan=38, inserts=[eq(cut("high-pass", 400))]),
        strip(
            "tm1",
            "Rack Tom",
            "dbs",
            fader=-4.0,
            pan=22,
            sends=[send("drv", -14.0)],
            inserts=[gate(-36, -24, 0.5, 320), eq(bell(420, -5.0, 1.2), bell(3800, 3.0))],
        ),
        strip(
            "tm2",
            "Floor Tom",
            "dbs",
            fader=-3.5,
            pan=-46,
            sends=[send("drv", -14.0)],
            inserts=[gate(-36, -24, 0.5, 420), eq(bell(380, -5.0, 1.2), bell(80, 2.0))],
        ),
        strip("rde", "Ride", "dbs", fader=-14.0, pan=-30, inserts=[eq(cut("high-pass", 600))]),
        strip("ohl", "OH L", "dbs", fader=-5.0, pan=-100, inserts=[eq(cut("high-pass", 180)), comp(-20, 2, 20, 120)]),
        strip("ohr", "OH R", "dbs", fader=-5.0, pan=100, inserts=[eq(cut("high-pass", 180)), comp(-20, 2, 20, 120)]),
        strip("rml", "Room L", "dbs", fader=-8.0, pan=-100, inserts=[comp(-28, 6.0, 4, 70, 3.0, "Squash Box")]),
        strip("rmr", "Room R", "dbs", fader=-8.0, pan=100, inserts=[comp(-28, 6.0, 4, 70, 3.0, "Squash Box")]),
        strip(
            "far",
            "Hallway",
            "dbs",
            fader=-16.0,
            inserts=[comp(-36, 10.0, 1, 50, 6.0, "Squash Box"), box("Grit Stage", "distortion", 60.0)],
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -16),
                    (bar(34), -12),
                    (bar(50), -16),
                    (bar(74), -12),
                    (bar(90), -16),
                    (bar(114), -11),
                    shape="hold",
                )
            ],
        ),
        strip("tmb", "Tamb", "dbs", fader=-16.0, pan=55, inserts=[eq(cut("high-pass", 700))]),
        strip("kbs", "KICK", "dbs", kind="group", inserts=[comp(-14, 3.0, 25, 80, 1.5)]),
        strip("sbs", "SNARE", "dbs", kind="group", sends=[send("cru", -3.0)]),
        strip(
            "dbs",
            "DRUMS",
            "mbs",
            2,
            kind="group",
            sends=[send("cru", -2.0)],
            inserts=[comp(-12, 2.0, 30, 120, 1.0, "Bus Glue")],
        ),
        strip(
            "cru",
            "DRUM CRUSH",
            "mbs",
            2,
            fader=-14.0,
            kind="group",
            inserts=[
                comp(-34, 12.0, 2, 60, 8.0, "Squash Box"),
                eq(bell(90, 3.0, 0.8), bell(9000, 2.0, 0.7, "high-shelf")),
            ],
        ),
    ]


def strings() -> list[Channel]:
    """Bass, guitars and their buses."""
    rows = [
        strip("bdi", "Bass DI", "bbs", fader=-6.0, inserts=[eq(cut("low-pass", 1800)), comp(-24, 5.0, 10, 90, 3.0)]),
        strip("bam", "Bass Amp", "bbs", fader=-5.0, inserts=[trim(), eq(cut("high-pass", 80), bell(800, 2.0))]),
        strip(
            "bgr",
            "Bass Grit",
            "bbs",
            fader=-12.0,
            inserts=[box("Grit Stage", "distortion", 100.0), eq(cut("high-pass", 300, 24), cut("low-pass", 5000))],
        ),
    ]
    for number, level in (("1", -6.0), ("2", -8.0)):
        for side, pan in (("L", -100), ("R", 100)):
            ident = f"g{number}{side.lower()}"
            rows.append(strip(f"{ident}d", f"RG{number} {side} dyn", "rgb", fader=level, pan=pan))
            if number == "1":
                rows.append(strip(f"{ident}r", f"RG{number} {side} rib", "rgb", fader=level - 3, pan=pan))
                rows.append(strip(f"{ident}i", f"RG{number} {side} DI", "rgb", fader=-10.0, pan=pan, mute=True))
    rows += [
        strip("oct", "Oct Gtr", "gbs", fader=-11.0, pan=18, sends=[send("gvb", -14.0)]),
        strip("gcl", "Cln Gtr L", "gbs", fader=-9.0, pan=-65, sends=[send("gvb", -10.0, -65)]),
        strip("gcr", "Cln Gtr R", "gbs", fader=-9.0, pan=65, sends=[send("gvb", -10.0, 65)]),
        strip(
            "ldg",
            "Ld Gtr",
            "gbs",
            fader=-4.0,
            pan=-8,
            sends=[send("gvb", -12.0), send("gdl", -11.0)],
            inserts=[eq(cut("high-pass", 130), bell(2600, 1.5), cut("low-pass", 9500))],
            automation=[ride("fader", "dB", (0, -8), (bar(105.7), -3), (bar(114.3), -9), shape="hold")],
        ),
        strip("ldi", "Ld Gtr DI", "gbs", fader=-10.0, mute=True),
        strip("bbs", "BASS", "mbs", kind="group", inserts=[comp(-18, 4.0, 20, 110, 2.0)]),
        strip(
            "rgb",
            "RHY GTR",
            "gbs",
            2,
            kind="group",
            inserts=[eq(cut("high-pass", 85, 18), bell(320, -2.0, 1.1), cut("low-pass", 11000))],
            automation=[
                ride(
                    "insert:0:band:1:freq",
                    "plain",
                    (0, 85),
                    (bar(26), 85),
                    (bar(33.9), 420),
                    (bar(34), 85),
                    (bar(66), 85),
                    (bar(73.9), 420),
                    (bar(74), 85),
                )
            ],
        ),
        strip("gbs", "GTR", "mbs", 2, kind="group"),
        strip("org", "Drawbar Org", "mbs", 2, fader=-15.0, inserts=[eq(cut("high-pass", 200))]),
    ]
    return rows


def voices() -> list[Channel]:
    """Voices, buses, returns and the way out."""
    rows = [
        strip(
            "ldv",
            "Ld Vox",
            "lvb",
            fader=-3.0,
            sends=[send("vpl", -15.0), send("vdl", -18.0)],
            inserts=[
                eq(cut("high-pass", 100, 18), bell(280, -2.5), bell(8000, 2.5, 0.7, "high-shelf")),
                comp(-24, 6.0, 3, 70, 4.0),
                box("Sss Tamer", "de-esser"),
            ],
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -3.5),
                    (bar(34) - 0.3, -3.5),
                    (bar(34), -2.5),
                    (bar(50), -3.5),
                    (bar(74), -2.5),
                    (bar(90), -4.0),
                    (bar(114), -2.0),
                    (bar(138), -2.0),
                ),
                ride(
                    "send:1:level",
                    "dB",
                    (0, -18),
                    (bar(33), -8),
                    (bar(34), -18),
                    (bar(73), -8),
                    (bar(74), -18),
                    (bar(105), -6),
                    (bar(107), -18),
                    shape="hold",
                ),
            ],
        ),
        strip("ldd", "Ld Dbl", "lvb", fader=-12.0, inserts=[eq(cut("high-pass", 160)), comp(-28, 6.0, 2, 60, 3.0)]),
        strip("scr", "Scream", "lvb", fader=-8.0, sends=[send("vdl", -12.0)], inserts=[comp(-20, 8.0, 2, 60, 2.0)]),
    ]
    for ident, name, fader, pan in [
        ("bhl", "BV Hi L", -9.0, -85),
        ("bhr", "BV Hi R", -9.0, 85),
        ("bll", "BV Lo L", -10.0, -50),
        ("blr", "BV Lo R", -10.0, 50),
        ("gal", "Gang L", -11.0, -100),
        ("gar", "Gang R", -11.0, 100),
    ]:
        rows.append(
            strip(
                ident,
                name,
                "bvb",
                fader=fader,
                pan=pan,
                sends=[send("vpl", -12.0)],
                inserts=[eq(cut("high-pass", 180)), comp(-26, 5.0, 3, 70, 3.0)],
            )
        )
    rows += [
        strip("lvb", "LD VOX BUS", "vbs", 2, kind="group"),
        strip("bvb", "BV BUS", "vbs", 2, kind="group", inserts=[comp(-20, 3.0, 10, 100, 1.0)]),
        strip("vbs", "VOX", "mbs", 2, kind="group"),
        strip("drv", "Drm Verb", "dbs", 2, fader=-4.0, kind="return", inserts=[box("Plank Room", "reverb", 100.0)]),
        strip(
            "spl",
            "Sn Plate",
            "dbs",
            2,
            fader=-5.0,
            kind="return",
            inserts=[box("Barn Plate", "reverb", 100.0), gate(-40, -30, 1, 250)],
        ),
        strip("gvb", "Gtr Verb", "gbs", 2, fader=-6.0, kind="return", inserts=[box("Spring Can", "reverb", 100.0)]),
        strip("gdl", "Gtr Dly", "gbs", 2, fader=-6.0, kind="return", inserts=[box("Tape Echoer", "delay", 100.0)]),
        strip(
            "vpl",
            "Vox Plate",
            "vbs",
            2,
            fader=-4.0,
            kind="return",
            inserts=[eq(cut("high-pass", 300)), box("Barn Plate", "reverb", 100.0)],
        ),
        strip(
            "vdl",
            "Vox Dly 1/4",
            "vbs",
            2,
            fader=-5.0,
            kind="return",
            inserts=[box("Tape Echoer", "delay", 100.0), eq(cut("high-pass", 400), cut("low-pass", 4000))],
        ),
        strip(
            "mbs",
            "MIX BUS",
            "mst",
            2,
            kind="group",
            inserts=[
                comp(-10, 2.0, 30, 100, 1.0, "Bus Glue"),
                eq(bell(70, 1.0, 0.8), bell(12000, 1.5, 0.7, "high-shelf")),
            ],
        ),
        strip(
            "mst",
            "Master",
            None,
            2,
            kind="master",
            inserts=[comp(-3.0, 20.0, 1.0, 50, 2.0, "Brick Stop", "limiter"), box("Level Eye", "analyser")],
        ),
    ]
    return rows


def good() -> Session:
    """The session as it should be bounced."""
    session: Session = {
        "title": "Tin Parade MIX 07",
        "sample_rate_hz": 48000,
        "timeline": {"tempos": [{"beat": 0, "bpm": 148.0}]},
        "markers": [{"time_s": round(bar(b), 4), "name": n} for n, b in NAMES],
        "channels": drums() + strings() + voices(),
        "media": [],
    }
    kit = [
        part("Intro", "V1"),
        part("V1", "C1"),
        part("C1", "V2"),
        part("V2", "C2"),
        part("C2", "Bridge"),
        part("Bridge", "Solo"),
        part("Solo", "C3"),
        part("C3", "Outro"),
        part("Outro", "End", 0.04, 4.5),
    ]
    kit = [(a + 0.04, b - 0.15) if i < 8 else (a + 0.04, b) for i, (a, b) in enumerate(kit)]
    for ident, stem in [
        ("kin", "KickIn"),
        ("kou", "KickOut"),
        ("snt", "SnTop"),
        ("snu", "SnBot"),
        ("hat", "HH"),
        ("rde", "Ride"),
        ("ohl", "OH_L"),
        ("ohr", "OH_R"),
        ("rml", "Room_L"),
        ("rmr", "Room_R"),
        ("far", "Hallway"),
    ]:
        record(session, ident, f"Audio/Drums/{stem}_tk9.wav", kit, WHOLE, fades=(0.005, 0.005))
    for ident, stem in [("ksm", "KickSmp"), ("sns", "SnSmp")]:
        record(session, ident, f"Audio/Drums/{stem}_print.wav", kit, WHOLE, fades=(0.005, 0.005))
    record(
        session,
        "tm1",
        "Audio/Drums/RackTom_tk9.wav",
        [(bar(n) - 0.05, bar(n + 1) + 0.9) for n in (8.5, 32.5, 48, 72.5, 98, 104, 112.5, 136, 144.5)],
        WHOLE,
    )
    record(
        session,
        "tm2",
        "Audio/Drums/FloorTom_tk9.wav",
        [(bar(n) - 0.05, bar(n + 1) + 1.2) for n in (8.75, 33, 48.5, 73, 90, 92, 94, 96, 100, 105, 113, 136.5, 145)],
        WHOLE,
    )
    refrains = [part("C1", "V2"), part("C2", "Bridge"), part("C3", "Outro")]
    record(session, "tmb", "Audio/Tamb_01.wav", refrains, WHOLE)
    low = [
        part("Intro", "V1"),
        (bar(10) + 0.16, bar(26)),
        (bar(26), bar(34)),
        (bar(34), bar(50)),
        (bar(50), bar(66)),
        (bar(66), bar(74)),
        (bar(74), bar(90)),
        (bar(98), bar(106)),
        (bar(106), bar(114)),
        (bar(114), bar(138)),
        (bar(138), bar(146) + 3.6),
    ]
    for ident, stem in [("bdi", "BassDI"), ("bam", "BassAmp"), ("bgr", "BassGrit_print")]:
        record(session, ident, f"Audio/Bass/{stem}_04.wav", low, WHOLE)
    first = [
        (bar(2), bar(10)),
        (bar(18), bar(26)),
        (bar(26), bar(34)),
        (bar(34), bar(50)),
        (bar(58), bar(66)),
        (bar(66), bar(74)),
        (bar(74), bar(90)),
        (bar(106), bar(114)),
        (bar(114), bar(138)),
        (bar(138), bar(146) + 4.2),
    ]
    second = [(bar(34), bar(50)), (bar(74), bar(90)), (bar(114), bar(138)), (bar(138), bar(146) + 4.2)]
    for number, spans in (("1", first), ("2", second)):
        for side in ("L", "R"):
            ident = f"g{number}{side.lower()}"
            record(session, f"{ident}d", f"Audio/Gtr/RG{number}{side}_dyn_02.wav", spans, WHOLE)
            if number == "1":
                record(session, f"{ident}r", f"Audio/Gtr/RG{number}{side}_rib_02.wav", spans, WHOLE)
                record(session, f"{ident}i", f"Audio/Gtr/RG{number}{side}_DI_02.wav", spans, WHOLE)
    record(session, "oct", "Audio/Gtr/Oct_01.wav", refrains, WHOLE)
    for side in ("l", "r"):
        record(
            session,
            f"gc{side}",
            f"Audio/Gtr/Clean_{side.upper()}_01.wav",
            [(bar(10), bar(26)), (bar(50), bar(66)), (bar(90), bar(106))],
            WHOLE,
        )
    for ident, stem in [("ldg", "Lead"), ("ldi", "Lead_DI")]:
        record(
            session,
            ident,
            f"Audio/Gtr/{stem}_06.wav",
            [(bar(2), bar(10)), (bar(105.75), bar(114.25)), (bar(122), bar(138))],
            WHOLE,
        )
    record(session, "org", "Audio/Org_01.wav", [*refrains, (bar(98), bar(106))], WHOLE)
    record(
        session,
        "ldv",
        "Audio/Vox/Ld_11.wav",
        [
            (bar(9.75), bar(17.8)),
            (bar(17.9), bar(25.9)),
            (bar(26), bar(33.9)),
            (bar(33.9), bar(49.5)),
            (bar(49.8), bar(57.8)),
            (bar(57.9), bar(65.9)),
            (bar(66), bar(73.9)),
            (bar(73.9), bar(89.5)),
            (bar(89.9), bar(105.9)),
            (bar(113.9), bar(125.9)),
            (bar(126), bar(139)),
        ],
        WHOLE,
    )
    record(
        session,
        "ldd",
        "Audio/Vox/LdDbl_03.wav",
        [(bar(33.9), bar(49.5)), (bar(73.9), bar(89.5)), (bar(113.9), bar(137.9))],
        WHOLE,
    )
    record(session, "scr", "Audio/Vox/Scream_01.wav", [(bar(104.5), bar(106.8)), (bar(137.5), bar(140))], WHOLE)
    for ident, stem in [("bhl", "BVHi_L"), ("bhr", "BVHi_R"), ("bll", "BVLo_L"), ("blr", "BVLo_R")]:
        record(
            session,
            ident,
            f"Audio/Vox/{stem}_02.wav",
            [(bar(34), bar(49)), (bar(74), bar(89)), (bar(114), bar(125)), (bar(126), bar(138))],
            WHOLE,
        )
    for side in ("l", "r"):
        record(
            session,
            f"ga{side}",
            f"Audio/Vox/Gang_{side.upper()}_01.wav",
            [(bar(96), bar(97.5)), (bar(100), bar(101.5)), (bar(104), bar(105.5)), (bar(130), bar(138.5))],
            WHOLE,
        )
    return session


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["RG1 L DI", "RG1 R DI", "Ld Gtr DI"],
        "why": "muted DIs kept for re-amping; a reminder before the hand-over does no harm",
    },
]


def snare_bottom_not_flipped(session: Session) -> None:
    """The polarity switch of the bottom mic is up."""
    at(session, "Sn Bot")["inserts"][0]["parameters"][1]["value"] = False


def second_double_in_the_middle(session: Session) -> None:
    """The right double of the second guitar stands in the middle."""
    at(session, "RG2 R dyn")["pan"] = 0


def crush_up(session: Session) -> None:
    """The parallel bus, 14 dB under, was pushed to unity while it was being set."""
    at(session, "DRUM CRUSH")["fader_db"] = 0.0


def rack_gate_shut(session: Session) -> None:
    """The rack tom's gate asks for more than full scale."""
    at(session, "Rack Tom")["inserts"][0]["dynamics"].update({"threshold_db": 0.0, "range_db": -80.0})


def backing_past_the_bus(session: Session) -> None:
    """One backing voice goes straight to the mix bus."""
    at(session, "BV Lo R")["output"] = "mbs"


def riser_cut_stays(session: Session) -> None:
    """The low cut swept up in the second pre-chorus never falls back."""
    sweep = lane(at(session, "RHY GTR"), "insert:0:band:1:freq")
    sweep["t"], sweep["v"] = sweep["t"][:-1], sweep["v"][:-1]


def overhead_missing(session: Session) -> None:
    """The right overhead's file did not come along."""
    medium(session, at(session, "OH R"))["present"] = False


def scream_gain(session: Session) -> None:
    """The second scream carries a clip gain of +15 dB."""
    at(session, "Scream")["clips"][1]["gain_db"] = 15.0


def sticks(session: Session) -> None:
    """The count of the sticks was pulled out again on an overhead."""
    clip = dict(at(session, "OH L")["clips"][0])
    clip.update({"start_s": 0.0, "end_s": round(bar(2), 4), "offset_s": 0.0})
    at(session, "OH L")["clips"].insert(0, clip)


def gang_lost(session: Session) -> None:
    """The right gang's last shouts were cut away."""
    at(session, "Gang R")["clips"].pop()


def limiter_too_hot(session: Session) -> None:
    """The master's limiter is set 27 dB under full scale."""
    at(session, "Master")["inserts"][0]["dynamics"].update({"threshold_db": -27.0, "output_gain_db": 24.0})


FAULTS: list[dict[str, Any]] = [
    {
        "id": "snare-bottom-not-flipped",
        "class": "phase",
        "channels": ["Sn Bot", "Sn Top"],
        "grade": "look",
        "says": "the bottom snare mic is not inverted against the top: the trim meant for it has its polarity switch off",
        "plant": snare_bottom_not_flipped,
    },
    {
        "id": "double-track-right-in-the-centre",
        "class": "place",
        "channels": ["RG2 R dyn", "RG2 L dyn"],
        "grade": "hold",
        "says": "RG2 R is panned to the centre while its partner RG2 L is hard left",
        "plant": second_double_in_the_middle,
    },
    {
        "id": "parallel-drums-at-unity",
        "class": "level",
        "channels": ["DRUM CRUSH"],
        "grade": "look",
        "says": "the parallel crush returns at 0 dB with 8 dB of make-up, as loud as the drum bus itself or louder",
        "plant": crush_up,
    },
    {
        "id": "rack-tom-gate-never-opens",
        "class": "processors",
        "channels": ["Rack Tom"],
        "grade": "hold",
        "says": "the gate's threshold is 0 dBFS with 80 dB of range: the rack tom never sounds on its own mic",
        "plant": rack_gate_shut,
    },
    {
        "id": "backing-voice-past-its-bus",
        "class": "routing",
        "channels": ["BV Lo R"],
        "grade": "look",
        "says": "BV Lo R goes to the mix bus past BV BUS, so it misses the stem, its ride and its compressor",
        "plant": backing_past_the_bus,
    },
    {
        "id": "guitar-low-cut-never-falls-back",
        "class": "automation",
        "channels": ["RHY GTR"],
        "grade": "hold",
        "says": "the low cut sweeps to 420 Hz before chorus 2 and stays there: thin guitars for the rest of the song",
        "plant": riser_cut_stays,
    },
    {
        "id": "overhead-right-file-missing",
        "class": "files",
        "channels": ["OH R"],
        "grade": "hold",
        "says": "the right overhead's file is missing",
        "plant": overhead_missing,
    },
    {
        "id": "scream-clip-gain-outlier",
        "class": "level",
        "channels": ["Scream"],
        "grade": "look",
        "says": "the last scream's clip is raised by 15 dB, its neighbour not at all",
        "plant": scream_gain,
    },
    {
        "id": "stick-count-on-one-overhead",
        "class": "audible-that-should-not-be",
        "channels": ["OH L"],
        "grade": "hold",
        "says": "OH L plays the count-in before the intro, alone among the drum tracks",
        "plant": sticks,
    },
    {
        "id": "gang-right-gone-in-last-chorus",
        "class": "edits",
        "channels": ["Gang R", "Gang L"],
        "grade": "hold",
        "says": "Gang R has no clip in the last chorus where Gang L sings: the shouts lean left",
        "plant": gang_lost,
    },
    {
        "id": "master-limiter-27-db-down",
        "class": "headroom",
        "channels": ["Master"],
        "grade": "hold",
        "says": "the master limiter's threshold is at -27 dBFS with 24 dB made up: it flattens the mix",
        "plant": limiter_too_hot,
    },
]
