"""A jazz quartet in one room before an audience: tenor, piano, double bass, drums, with room mics and spill in all of
them. Two sets, spliced once across all microphones; no click, no grid, an announcement that is not on the record."""

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


NAMES = [
    ("Thema", 4.1),
    ("Tenor", 62.8),
    ("Piano", 141.5),
    ("Bass", 214.0),
    ("Fours", 262.6),
    ("Thema out", 301.2),
    ("Tag", 331.9),
    ("Applause", 349.0),
]
SPLICE = 214.35
END = 361.5
MICS = [
    ("ten", "Tenor", "Tenor"),
    ("tcl", "Tenor clip-on", "TenorClip"),
    ("plo", "Pno Lo", "PnoLo"),
    ("phi", "Pno Hi", "PnoHi"),
    ("bmc", "Bass mic", "BassMic"),
    ("bpu", "Bass p/u", "BassPU"),
    ("bdr", "BD", "BD"),
    ("sdr", "SD", "SD"),
    ("ohl", "OH L", "OH_L"),
    ("ohr", "OH R", "OH_R"),
    ("rml", "Room A/B L", "RoomAB_L"),
    ("rmr", "Room A/B R", "RoomAB_R"),
    ("bal", "Balcony", "Balcony"),
    ("aul", "Aud L", "Aud_L"),
    ("aur", "Aud R", "Aud_R"),
]


def good() -> Session:
    """The session as it should be bounced."""
    channels = [
        strip(
            "ten",
            "Tenor",
            "bnd",
            fader=-4.0,
            pan=-12,
            sends=[send("hal", -17.0)],
            inserts=[eq(cut("high-pass", 70), bell(2400, -1.5, 1.0))],
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -4.0),
                    (62.0, -4.0),
                    (63.5, -2.5),
                    (140.0, -2.5),
                    (142.0, -5.5),
                    (262.0, -5.5),
                    (263.0, -3.0),
                    (301.0, -4.0),
                    (349.0, -4.0),
                )
            ],
        ),
        strip("tcl", "Tenor clip-on", "bnd", fader=-60.0, pan=-12, mute=True),
        strip("plo", "Pno Lo", "pno", fader=-5.0, pan=60, sends=[send("hal", -19.0, 60)]),
        strip("phi", "Pno Hi", "pno", fader=-5.0, pan=-10, sends=[send("hal", -19.0, -10)]),
        strip(
            "bmc",
            "Bass mic",
            "bas",
            fader=-3.0,
            inserts=[eq(cut("high-pass", 32), bell(160, -2.0, 1.3))],
            automation=[ride("fader", "dB", (0, -3.0), (213.0, -3.0), (214.5, -0.5), (261.0, -0.5), (263.0, -3.0))],
        ),
        strip("bpu", "Bass p/u", "bas", fader=-14.0, inserts=[trim(delay_ms=1.4), eq(cut("low-pass", 2500))]),
        strip("bdr", "BD", "drm", fader=-9.0, pan=20, inserts=[eq(cut("low-pass", 7000))]),
        strip("sdr", "SD", "drm", fader=-14.0, pan=28),
        strip("ohl", "OH L", "drm", fader=-3.5, pan=-15, inserts=[eq(cut("high-pass", 55))]),
        strip("ohr", "OH R", "drm", fader=-3.5, pan=85, inserts=[eq(cut("high-pass", 55))]),
        strip("rml", "Room A/B L", "rms", fader=-7.0, pan=-100),
        strip("rmr", "Room A/B R", "rms", fader=-7.0, pan=100),
        strip("bal", "Balcony", "rms", fader=-18.0, inserts=[eq(cut("high-pass", 120), cut("low-pass", 8000))]),
        strip(
            "aul",
            "Aud L",
            "rms",
            fader=-30.0,
            pan=-100,
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -14.0),
                    (3.0, -14.0),
                    (6.0, -30.0),
                    (139.0, -30.0),
                    (141.0, -18.0),
                    (145.0, -30.0),
                    (347.5, -30.0),
                    (349.5, -10.0),
                    (361.0, -10.0),
                )
            ],
        ),
        strip(
            "aur",
            "Aud R",
            "rms",
            fader=-30.0,
            pan=100,
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -14.0),
                    (3.0, -14.0),
                    (6.0, -30.0),
                    (139.0, -30.0),
                    (141.0, -18.0),
                    (145.0, -30.0),
                    (347.5, -30.0),
                    (349.5, -10.0),
                    (361.0, -10.0),
                )
            ],
        ),
        strip("mcm", "MC mic", "bnd", fader=-6.0, mute=True, inserts=[eq(cut("high-pass", 120))]),
        strip("stg", "Stage wedge rec", None, fader=-200.0, mute=True),
        strip(
            "pno",
            "PNO",
            "bnd",
            2,
            kind="group",
            automation=[ride("fader", "dB", (0, 0), (140.5, 0), (142.5, 2.0), (213.0, 2.0), (215.0, -1.0), (262.0, 0))],
        ),
        strip("bas", "BASS", "bnd", 1, kind="group", inserts=[comp(-18, 1.8, 30, 250, 0.5, "Soft Hand")]),
        strip("drm", "DRUMS", "bnd", 2, kind="group"),
        strip("bnd", "BAND", "mst", 2, kind="group"),
        strip("rms", "ROOM", "mst", 2, fader=-1.0, kind="group", inserts=[eq(cut("high-pass", 45))]),
        strip(
            "hal",
            "Wood Hall",
            "bnd",
            2,
            fader=-6.0,
            kind="return",
            inserts=[box("Old Hall", "reverb", 100.0, pre_delay_ms=22.0)],
        ),
        strip(
            "mst",
            "Stereo out",
            None,
            2,
            kind="master",
            inserts=[comp(-2.0, 10.0, 2, 120, 1.0, "Brick Stop", "limiter")],
            automation=[ride("fader", "dB", (0, -60), (0.9, 0), (355.0, 0), (361.4, -60))],
        ),
    ]
    session: Session = {
        "title": "Small Hours at the Mill (edit A1/B2)",
        "sample_rate_hz": 96000,
        "timeline": {"tempos": [{"beat": 0, "bpm": 120.0}]},
        "markers": [{"time_s": t, "name": n} for n, t in NAMES],
        "channels": channels,
        "media": [],
    }
    for ident, _, stem in MICS:
        record(session, ident, f"Takes/SetA_{stem}.wav", [(0.0, SPLICE + 0.04)], 380.0, fades=(0.0, 0.04))
        record(session, ident, f"Takes/SetB_{stem}.wav", [(SPLICE, END)], 412.0, origin=-31.27, fades=(0.04, 0.0))
    record(session, "mcm", "Takes/SetA_MC.wav", [(0.0, 5.2)], 380.0)
    record(session, "mcm", "Takes/SetB_MC.wav", [(350.1, 361.0)], 412.0, origin=-31.27)
    record(session, "stg", "Takes/SetA_Wedge.wav", [(0.0, 300.0)], 380.0)
    return session


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Tenor clip-on", "Stage wedge rec"], "why": "unused microphones, muted; may go"},
]


def splice_misses_a_mic(session: Session) -> None:
    """The low piano mic runs on in set A across the splice."""
    first, second = at(session, "Pno Lo")["clips"]
    second.update({"file": first["file"], "offset_s": second["start_s"]})


def bass_ride_stays_up(session: Session) -> None:
    """The ride for the bass solo was written as +6 and never written back."""
    fader = lane(at(session, "Bass mic"), "fader")
    fader["t"], fader["v"] = [0.0, 213.0, 214.5], [-3.0, -3.0, 3.0]


def piano_in_mono(session: Session) -> None:
    """The high piano mic is panned onto the low one."""
    at(session, "Pno Hi")["pan"] = 60


def announcer_open(session: Session) -> None:
    """The announcer's microphone is open."""
    at(session, "MC mic")["mute"] = False


def pickup_not_delayed(session: Session) -> None:
    """The pick-up's delay is bypassed, so it leads the mic by a millisecond and a half."""
    at(session, "Bass p/u")["inserts"][0]["on"] = False


def bass_filter_high(session: Session) -> None:
    """The bass mic's low cut stands at 320 Hz instead of 32."""
    at(session, "Bass mic")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 320.0


def tail_of_the_room(session: Session) -> None:
    """The room pair stops with the last note, before the applause."""
    for name in ("Room A/B L", "Room A/B R"):
        at(session, name)["clips"][1]["end_s"] = 346.2


def overhead_at_another_rate(session: Session) -> None:
    """The left overhead of set B came as a 48 kHz file."""
    file = at(session, "OH L")["clips"][1]["file"]
    next(m for m in session["media"] if m["id"] == file)["sample_rate_hz"] = 48000


def drums_in_the_hall(session: Session) -> None:
    """The hall's return now goes through the drum group."""
    at(session, "Wood Hall")["output"] = "drm"


def audience_left_rides_alone(session: Session) -> None:
    """Only the right audience mic comes up for the applause."""
    fader = lane(at(session, "Aud L"), "fader")
    fader["t"], fader["v"] = fader["t"][:-3], fader["v"][:-3]


FAULTS: list[dict[str, Any]] = [
    {
        "id": "splice-misses-the-low-piano",
        "class": "edits",
        "channels": ["Pno Lo"],
        "grade": "hold",
        "says": "at the splice all microphones change to set B, Pno Lo alone stays in set A: another performance",
        "plant": splice_misses_a_mic,
    },
    {
        "id": "bass-solo-ride-never-comes-back",
        "class": "automation",
        "channels": ["Bass mic"],
        "grade": "hold",
        "says": "the bass is raised 6 dB for its solo and stays there through the fours and the theme",
        "plant": bass_ride_stays_up,
    },
    {
        "id": "piano-pair-on-one-spot",
        "class": "place",
        "channels": ["Pno Hi", "Pno Lo"],
        "grade": "look",
        "says": "both piano microphones are panned to the same place; the piano is mono, and to the right",
        "plant": piano_in_mono,
    },
    {
        "id": "announcer-open",
        "class": "audible-that-should-not-be",
        "channels": ["MC mic"],
        "grade": "hold",
        "says": "the announcer's microphone is unmuted and plays over the beginning and the end",
        "plant": announcer_open,
    },
    {
        "id": "pickup-delay-bypassed",
        "class": "phase",
        "channels": ["Bass p/u"],
        "grade": "look",
        "says": "the delay that aligns the pick-up with the bass mic is bypassed",
        "plant": pickup_not_delayed,
    },
    {
        "id": "bass-low-cut-at-320",
        "class": "processors",
        "channels": ["Bass mic"],
        "grade": "hold",
        "says": "the low cut on the bass microphone stands at 320 Hz and takes the instrument's body",
        "plant": bass_filter_high,
    },
    {
        "id": "room-ends-before-the-applause",
        "class": "end",
        "channels": ["Room A/B L", "Room A/B R"],
        "grade": "hold",
        "says": "the room pair stops at 346 s without a fade, 15 s before all other microphones end",
        "plant": tail_of_the_room,
    },
    {
        "id": "overhead-at-48k",
        "class": "files",
        "channels": ["OH L"],
        "grade": "hold",
        "says": "OH L of set B is a 48 kHz file in a 96 kHz session",
        "plant": overhead_at_another_rate,
    },
    {
        "id": "hall-through-the-drum-group",
        "class": "routing",
        "channels": ["Wood Hall"],
        "grade": "look",
        "says": "the hall of tenor and piano is led into the drum group, so it lands in the drum stem and on its fader",
        "plant": drums_in_the_hall,
    },
    {
        "id": "audience-left-stays-down",
        "class": "place",
        "channels": ["Aud L", "Aud R"],
        "grade": "look",
        "says": "only Aud R is brought up for the final applause, Aud L stays 20 dB lower: it comes from one side",
        "plant": audience_left_rides_alone,
    },
]
