"""A singer with two acoustic guitars left and right, each one's reverb on the other side; brushes and bass in the
middle. Guitars and voice open and close the song alone; everything was played to a click that is not in the mix."""

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


BAR = 60.0 / 84.0 * 4
NAMES = [
    ("Count", 0),
    ("Intro", 2),
    ("V1", 6),
    ("Ch1", 22),
    ("V2", 30),
    ("Ch2", 46),
    ("Bridge", 54),
    ("Ch3", 62),
    ("Outro", 74),
    ("End", 80),
]
BARS = dict(NAMES)
LENGTH = 82 * BAR


def bar(number: float) -> float:
    """Where a bar begins, in seconds."""
    return number * BAR


def part(first: str, last: str, early: float = 0.12, late: float = -0.12) -> tuple[float, float]:
    """From the one marker to the other, cut a little ahead of the bar."""
    return bar(BARS[first]) - early, bar(BARS[last]) + late


def good() -> Session:
    """The session as it should be bounced."""
    channels = [
        strip(
            "kik",
            "Kik",
            "drm",
            fader=-4.5,
            inserts=[eq(cut("high-pass", 35), bell(280, -3.0, 1.4), bell(3200, 2.0)), comp(-18, 3.0, 25, 120, 2.0)],
        ),
        strip(
            "snb",
            "Sn Brush",
            "drm",
            fader=-6.0,
            pan=4,
            sends=[send("rdr", -14.0)],
            inserts=[eq(cut("high-pass", 110), bell(220, 1.5), bell(6500, 2.0, 0.7, "high-shelf"))],
        ),
        strip(
            "ohl",
            "OH L",
            "drm",
            fader=-5.0,
            pan=-70,
            sends=[send("rdr", -20.0, -70)],
            inserts=[eq(cut("high-pass", 160))],
        ),
        strip(
            "ohr",
            "OH R",
            "drm",
            fader=-5.0,
            pan=70,
            sends=[send("rdr", -20.0, 70)],
            inserts=[eq(cut("high-pass", 160))],
        ),
        strip(
            "rmm",
            "Rm Mono",
            "drm",
            fader=-13.0,
            inserts=[eq(cut("high-pass", 90), cut("low-pass", 9000)), comp(-30, 6.0, 5, 90, 4.0, "Squash Box")],
        ),
        strip("shk", "Shaker", "drm", fader=-15.0, pan=-25, inserts=[eq(cut("high-pass", 500))]),
        strip("bdi", "Bass DI", "bas", fader=-7.0, inserts=[eq(cut("high-pass", 35), bell(900, 1.5))]),
        strip(
            "bam",
            "Bass Amp",
            "bas",
            fader=-5.0,
            inserts=[trim(), eq(cut("high-pass", 45), cut("low-pass", 5000), bell(140, -1.5))],
        ),
        strip(
            "agl",
            "AcGtr L",
            "gtr",
            fader=-6.5,
            pan=-80,
            sends=[send("vgl", -11.0)],
            inserts=[
                eq(cut("high-pass", 85), bell(190, -3.0, 1.2), bell(9000, 1.5, 0.7, "high-shelf")),
                comp(-20, 2.5, 20, 150, 1.5),
            ],
        ),
        strip("ald", "AcGtr L DI", "gtr", fader=-12.0, pan=-80, mute=True),
        strip(
            "agr",
            "AcGtr R",
            "gtr",
            fader=-7.0,
            pan=80,
            sends=[send("vgr", -11.0)],
            inserts=[eq(cut("high-pass", 95), bell(240, -2.5, 1.2), bell(5200, -1.0)), comp(-20, 2.5, 20, 150, 1.5)],
        ),
        strip("ard", "AcGtr R DI", "gtr", fader=-12.0, pan=80, mute=True),
        strip(
            "ldv",
            "Ld Vox",
            "vox",
            fader=-5.0,
            sends=[send("vpl", -13.0), send("slp", -200.0)],
            inserts=[
                eq(cut("high-pass", 80, 18), bell(310, -2.0, 1.6), bell(11000, 2.5, 0.7, "high-shelf")),
                comp(-22, 3.0, 8, 110, 3.0),
                box("Sss Tamer", "de-esser"),
                eq(cut("high-pass", 450, 24), cut("low-pass", 2800, 24), name="Phone", on=False),
            ],
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -6.5),
                    (bar(22) - 0.5, -6.5),
                    (bar(22), -5.0),
                    (bar(30) - 0.4, -5.0),
                    (bar(30), -6.0),
                    (bar(46) - 0.5, -6.0),
                    (bar(46), -4.5),
                    (bar(54), -5.5),
                    (bar(62), -4.0),
                    (bar(74), -4.5),
                    (bar(76), -6.0),
                ),
                ride("insert:3:on", "switch", (0, 0), (bar(54) - 0.1, 1), (bar(58) - 0.1, 0), shape="hold"),
                ride(
                    "send:1:level",
                    "dB",
                    (0, -200),
                    (bar(29.5), -200),
                    (bar(29.5), -9),
                    (bar(30), -9),
                    (bar(30), -200),
                    (bar(53.5), -200),
                    (bar(53.5), -8),
                    (bar(54), -8),
                    (bar(54), -200),
                    (bar(61.25), -200),
                    (bar(61.25), -6),
                    (bar(62), -6),
                    (bar(62), -200),
                    shape="hold",
                ),
            ],
        ),
        strip(
            "ldd",
            "Ld Vox Dbl",
            "vox",
            fader=-15.0,
            sends=[send("vpl", -10.0)],
            inserts=[eq(cut("high-pass", 180), cut("low-pass", 9000)), comp(-26, 4.0, 4, 80, 3.0)],
        ),
        strip("lda", "Ld Vox Alt tk3", "vox", fader=-5.0, mute=True),
        strip("clk", "Click", None, fader=-10.0, mute=True),
        strip("drm", "DRUMS", "mix", 2, kind="group", inserts=[comp(-14, 2.0, 30, 160, 1.0, "Bus Glue")]),
        strip("bas", "BASS", "mix", 1, fader=-1.0, kind="group", inserts=[comp(-20, 4.0, 18, 140, 3.0)]),
        strip("gtr", "GTRS", "mix", 2, kind="group", inserts=[eq(bell(2500, -1.0))]),
        strip("vox", "VOX", "mix", 2, kind="group"),
        strip(
            "vgl",
            "GtrL Verb >R",
            "gtr",
            1,
            fader=-2.0,
            pan=80,
            kind="return",
            inserts=[eq(cut("high-pass", 250)), box("Old Hall", "reverb", 100.0, pre_delay_ms=28.0)],
        ),
        strip(
            "vgr",
            "GtrR Verb >L",
            "gtr",
            1,
            fader=-2.0,
            pan=-80,
            kind="return",
            inserts=[eq(cut("high-pass", 250)), box("Old Hall", "reverb", 100.0, pre_delay_ms=34.0)],
        ),
        strip(
            "vpl",
            "Vox Plate",
            "vox",
            2,
            fader=-3.0,
            kind="return",
            inserts=[
                eq(cut("high-pass", 220), cut("low-pass", 8500)),
                box("Barn Plate", "reverb", 100.0, pre_delay_ms=40.0),
            ],
        ),
        strip(
            "slp",
            "Vox Slap",
            "vox",
            2,
            fader=-4.0,
            kind="return",
            sends=[send("vpl", -16.0)],
            inserts=[box("Tape Echoer", "delay", 100.0), eq(cut("high-pass", 300), cut("low-pass", 4500))],
        ),
        strip("rdr", "Drm Rm", "drm", 2, fader=-6.0, kind="return", inserts=[box("Plank Room", "reverb", 100.0)]),
        strip(
            "mix",
            "MIX",
            None,
            2,
            kind="master",
            inserts=[
                eq(bell(60, 0.5, 0.7, "low-shelf"), bell(12000, 1.0, 0.7, "high-shelf"), name="Master EQ"),
                comp(-12, 1.5, 30, 200, 1.0, "Bus Glue"),
                comp(-1.0, 20.0, 0.5, 60, 0.0, "Brick Stop", "limiter"),
            ],
            automation=[ride("fader", "dB", (0, 0), (bar(80) + 2.2, 0), (bar(82) - 0.2, -60))],
        ),
    ]
    session: Session = {
        "title": "Harbour Glass - mix 4",
        "sample_rate_hz": 48000,
        "timeline": {"tempos": [{"beat": 0, "bpm": 84.0}], "meters": [{"beat": 0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": round(bar(b), 4), "name": n} for n, b in NAMES],
        "channels": channels,
        "media": [],
    }
    whole = bar(84)
    kit = [part("Ch1", "V2"), part("V2", "Bridge"), part("Ch3", "Outro", 0.1, 2.6)]
    for ident, stem in [("kik", "Kik"), ("snb", "SnBrush"), ("ohl", "OH_L"), ("ohr", "OH_R"), ("rmm", "RmMono")]:
        record(session, ident, f"Audio/{stem}_05.wav", kit, whole)
    record(session, "shk", "Audio/Shaker_02.wav", [part("Ch2", "Bridge", 0, 0.2), part("Ch3", "Outro", 0, 0.2)], whole)
    low = [part("Ch1", "V2"), part("V2", "Bridge"), part("Bridge", "Ch3"), part("Ch3", "Outro", 0.1, 3.0)]
    record(session, "bdi", "Audio/BassDI_03.wav", low, whole)
    record(session, "bam", "Audio/BassAmp_03.wav", low, whole)
    left = [
        part("Intro", "V1"),
        part("V1", "Ch1"),
        part("Ch1", "V2"),
        part("V2", "Ch2"),
        part("Ch2", "Bridge"),
        part("Bridge", "Ch3"),
        part("Ch3", "Outro"),
        (bar(74) - 0.12, bar(82) - 0.3),
    ]
    record(session, "agl", "Audio/AcGtrL_07.wav", left, whole, fades=(0.02, 0.05))
    record(session, "ald", "Audio/AcGtrL_DI_07.wav", left, whole)
    right = [
        (bar(14) - 0.2, bar(22) - 0.12),
        part("Ch1", "V2"),
        part("V2", "Ch2"),
        part("Ch2", "Bridge"),
        part("Bridge", "Ch3"),
        part("Ch3", "Outro"),
        (bar(74) - 0.12, bar(82) - 0.3),
    ]
    record(session, "agr", "Audio/AcGtrR_04.wav", right, whole, fades=(0.02, 0.05))
    record(session, "ard", "Audio/AcGtrR_DI_04.wav", right, whole)
    for channel in ("AcGtr L", "AcGtr R"):
        at(session, channel)["clips"][-1]["fade_out_s"] = 2.5
    record(
        session,
        "ldv",
        "Audio/LdVox_02.wav",
        [
            (bar(6) - 0.3, bar(10) - 0.2),
            (bar(10) - 0.2, bar(14) + 0.3),
            (bar(14) + 0.9, bar(21.5)),
            (bar(46) - 0.4, bar(50)),
            (bar(50), bar(53.7)),
            (bar(74) + 0.2, bar(77.5)),
        ],
        whole,
    )
    record(
        session,
        "ldv",
        "Audio/LdVox_05.wav",
        [
            (bar(22) - 0.5, bar(26) - 0.1),
            (bar(26) - 0.1, bar(29.8)),
            (bar(30) + 0.4, bar(34)),
            (bar(34), bar(38) - 0.2),
            (bar(38.2), bar(45.6)),
            (bar(62) - 0.5, bar(68)),
            (bar(68), bar(73.8)),
        ],
        whole,
    )
    record(session, "ldv", "Audio/LdVox_06.wav", [(bar(54) - 0.2, bar(57.9)), (bar(58.1), bar(61.7))], whole, gain=2.0)
    record(
        session,
        "ldd",
        "Audio/LdVoxDbl_02.wav",
        [(bar(22) - 0.5, bar(29.8)), (bar(46) - 0.4, bar(53.7)), (bar(62) - 0.5, bar(73.8))],
        whole,
    )
    record(
        session,
        "lda",
        "Audio/LdVox_03.wav",
        [
            (bar(6) - 0.3, bar(21.5)),
            (bar(22) - 0.5, bar(29.8)),
            (bar(30), bar(45.6)),
            (bar(46) - 0.4, bar(61.7)),
            (bar(62) - 0.5, bar(77.5)),
        ],
        whole,
    )
    record(session, "clk", "Audio/Click.wav", [(0.0, bar(80))], whole)
    return session


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Ld Vox Alt tk3", "AcGtr L DI", "AcGtr R DI"],
        "why": "muted alternates still lie in the session; a note before the hand-over is welcome",
    },
]


def reverb_on_its_own_side(session: Session) -> None:
    """The right guitar's reverb lands on the right."""
    at(session, "GtrR Verb >L")["pan"] = 80


def guitar_in_the_other_reverb(session: Session) -> None:
    """The left guitar feeds the right guitar's reverb."""
    at(session, "AcGtr L")["sends"][0]["to"] = "vgr"


def plate_half_dry(session: Session) -> None:
    """The plate's mix control was left where it stood as an insert."""
    at(session, "Vox Plate")["inserts"][1]["wet"] = 35.0


def second_verse_low(session: Session) -> None:
    """The second verse's ride stands 12 dB under the first one's."""
    fader = lane(at(session, "Ld Vox"), "fader")
    fader["v"] = [
        -18.5 if value == -6.0 and bar(30) <= t <= bar(46) else value
        for t, value in zip(fader["t"], fader["v"], strict=True)
    ]


def slap_left_open(session: Session) -> None:
    """The last throw is never closed."""
    throw = lane(at(session, "Ld Vox"), "send:1:level")
    throw["t"], throw["v"] = throw["t"][:-1], throw["v"][:-1]


def last_chord_chopped(session: Session) -> None:
    """The right guitar's last clip ends in the middle of the ringing chord."""
    clip = at(session, "AcGtr R")["clips"][-1]
    clip["end_s"], clip["fade_out_s"] = round(bar(79.3), 4), 0.0


def double_is_the_lead(session: Session) -> None:
    """In the first chorus the double plays the lead's own take, to the sample."""
    lead, double = at(session, "Ld Vox"), at(session, "Ld Vox Dbl")
    source = next(clip for clip in lead["clips"] if clip["start_s"] == round(bar(22) - 0.5, 4))
    double["clips"][0]["file"], double["clips"][0]["offset_s"] = source["file"], source["offset_s"]


def amp_late(session: Session) -> None:
    """All clips of the bass amp slipped 11 ms against the DI."""
    for clip in at(session, "Bass Amp")["clips"]:
        clip["start_s"], clip["end_s"] = round(clip["start_s"] + 0.011, 4), round(clip["end_s"] + 0.011, 4)


def left_guitar_gone(session: Session) -> None:
    """A mute written for the bridge never lifts."""
    at(session, "AcGtr L")["automation"].append(ride("mute", "switch", (0, 0), (bar(54), 1), shape="hold"))


def hole_in_the_comp(session: Session) -> None:
    """The comp's second line of verse two is switched off."""
    clip = next(c for c in at(session, "Ld Vox")["clips"] if c["start_s"] == round(bar(34), 4))
    clip["on"] = False


def stray_tempo(session: Session) -> None:
    """A tempo of 48 was dropped into the map at bar 41 by a stray tap."""
    session["timeline"]["tempos"].append({"beat": 160, "bpm": 48.0})


FAULTS: list[dict[str, Any]] = [
    {
        "id": "guitar-reverb-on-its-own-side",
        "class": "place",
        "channels": ["GtrR Verb >L"],
        "grade": "look",
        "says": "the right guitar's reverb is panned right, on top of its guitar, while the left guitar's is crossed over "
        "and the name says left",
        "plant": reverb_on_its_own_side,
    },
    {
        "id": "left-guitar-feeds-right-reverb",
        "class": "routing",
        "channels": ["AcGtr L", "GtrL Verb >R"],
        "grade": "look",
        "says": "AcGtr L sends to the right guitar's reverb, so its own reverb gets nothing and the sound stays left",
        "plant": guitar_in_the_other_reverb,
    },
    {
        "id": "plate-return-half-dry",
        "class": "ambience",
        "channels": ["Vox Plate"],
        "grade": "look",
        "says": "the plate on its return is only 35 % wet, so the send doubles the dry voice",
        "plant": plate_half_dry,
    },
    {
        "id": "verse-two-vocal-12-db-down",
        "class": "level",
        "channels": ["Ld Vox"],
        "grade": "hold",
        "says": "the lead's fader sits about 12 dB lower through verse 2 than through verse 1",
        "plant": second_verse_low,
    },
    {
        "id": "slap-throw-left-open",
        "class": "automation",
        "channels": ["Ld Vox", "Vox Slap"],
        "grade": "hold",
        "says": "the throw into the slap before the last chorus is never closed; the delay runs to the end",
        "plant": slap_left_open,
    },
    {
        "id": "right-guitar-last-chord-cut",
        "class": "end",
        "channels": ["AcGtr R"],
        "grade": "hold",
        "says": "the right guitar's last chord is cut hard without a fade while the left one rings on",
        "plant": last_chord_chopped,
    },
    {
        "id": "double-plays-the-lead-take",
        "class": "twice",
        "channels": ["Ld Vox Dbl", "Ld Vox"],
        "grade": "hold",
        "says": "in chorus 1 the double is the same recording as the lead at the same place, so it only gets louder",
        "plant": double_is_the_lead,
    },
    {
        "id": "bass-amp-11-ms-late",
        "class": "phase",
        "channels": ["Bass Amp", "Bass DI"],
        "grade": "look",
        "says": "the amp's clips lie 11 ms later than the DI's of the same take; the two comb",
        "plant": amp_late,
    },
    {
        "id": "left-guitar-muted-from-bridge",
        "class": "inaudible",
        "channels": ["AcGtr L"],
        "grade": "hold",
        "says": "the left guitar is muted by automation at the bridge and never comes back",
        "plant": left_guitar_gone,
    },
    {
        "id": "vocal-line-switched-off",
        "class": "edits",
        "channels": ["Ld Vox"],
        "grade": "hold",
        "says": "a clip of the lead's comp in verse 2 is muted, a line of the lyric is missing",
        "plant": hole_in_the_comp,
    },
    {
        "id": "stray-tempo-in-verse-two",
        "class": "tempo",
        "channels": ["Click", "MIX"],
        "grade": "look",
        "says": "the tempo map drops to 48 bpm in the middle of verse 2 though everything was played to one click of 84; "
        "the bars, the markers and every synced delay are off from there",
        "plant": stray_tempo,
    },
]
