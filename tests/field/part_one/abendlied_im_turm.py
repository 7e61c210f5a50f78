"""A choir with organ in a church, named in German: main pair, outriggers and room, delayed spots beneath, a solo.
Three takes, cut twice across all microphones at once; pitch note, slate and rough mix lie beside it and are silent."""

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
    ("Vorspiel", 3.0),
    ("Strophe 1", 41.6),
    ("Strophe 2", 96.2),
    ("Zwischenspiel", 152.8),
    ("Strophe 3", 178.1),
    ("Schluss", 242.5),
    ("Nachhall", 289.0),
]
FIRST, SECOND, END = 95.1, 177.2, 298.5
MICS = [
    "Haupt L",
    "Haupt R",
    "Flanke L",
    "Flanke R",
    "Raum L",
    "Raum R",
    "Stütze Sopran",
    "Stütze Alt",
    "Stütze Tenor",
    "Stütze Bass",
    "Solo Sopran",
    "Orgel HW L",
    "Orgel HW R",
    "Orgel SW L",
    "Orgel SW R",
    "Orgel Ped",
]
LETTERS = str.maketrans({"ü": "ue", " ": "_"})


def spot(ident: str, name: str, pan: float, delay: float) -> Channel:
    """A choir's spot: soft, delayed to the main pair, a little of it into the hall."""
    return strip(
        ident,
        name,
        "cho",
        fader=-13.0,
        pan=pan,
        sends=[send("hal", -16.0, pan)],
        inserts=[trim(delay_ms=delay), eq(cut("high-pass", 90), bell(3000, -1.0, 0.8))],
    )


def good() -> Session:
    """The session as it should be bounced."""
    channels = [
        strip("hpl", "Haupt L", "cho", fader=-2.0, pan=-100, inserts=[eq(cut("high-pass", 25))]),
        strip("hpr", "Haupt R", "cho", fader=-2.0, pan=100, inserts=[eq(cut("high-pass", 25))]),
        strip("fll", "Flanke L", "cho", fader=-7.0, pan=-100),
        strip("flr", "Flanke R", "cho", fader=-7.0, pan=100),
        strip("rml", "Raum L", "rau", fader=-9.0, pan=-100),
        strip("rmr", "Raum R", "rau", fader=-9.0, pan=100),
        spot("sts", "Stütze Sopran", -55, 17.5),
        spot("sta", "Stütze Alt", -20, 16.8),
        spot("stt", "Stütze Tenor", 22, 16.9),
        spot("stb", "Stütze Bass", 58, 17.8),
        strip(
            "sol",
            "Solo Sopran",
            "cho",
            fader=-60.0,
            pan=-8,
            sends=[send("hal", -10.0)],
            inserts=[trim(delay_ms=14.2), eq(cut("high-pass", 120)), comp(-16, 1.8, 15, 200, 0.5, "Soft Hand")],
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -60),
                    (95.0, -60),
                    (96.0, -8),
                    (124.0, -8),
                    (126.0, -60),
                    (241.0, -60),
                    (242.3, -7),
                    (268.0, -7),
                    (270.0, -60),
                )
            ],
        ),
        strip("ohl", "Orgel HW L", "org", fader=-4.0, pan=-90, inserts=[trim(delay_ms=24.0)]),
        strip("ohr", "Orgel HW R", "org", fader=-4.0, pan=90, inserts=[trim(delay_ms=24.0)]),
        strip("osl", "Orgel SW L", "org", fader=-8.0, pan=-60, inserts=[trim(delay_ms=21.0)]),
        strip("osr", "Orgel SW R", "org", fader=-8.0, pan=60, inserts=[trim(delay_ms=21.0)]),
        strip("ope", "Orgel Ped", "org", fader=-9.0, inserts=[trim(delay_ms=26.0), eq(cut("low-pass", 1200))]),
        strip("ton", "Stimmton", "cho", fader=-12.0, mute=True),
        strip("ans", "Ansage Regie", None, fader=-10.0),
        strip("roh", "Rohmix 2-Spur", "sum", 2, mute=True),
        strip("cho", "CHOR", "sum", 2, kind="group"),
        strip(
            "org",
            "ORGEL",
            "sum",
            2,
            fader=-1.0,
            kind="group",
            automation=[
                ride(
                    "fader",
                    "dB",
                    (0, -1.0),
                    (40.5, -1.0),
                    (42.0, -3.5),
                    (152.0, -3.5),
                    (153.5, -1.0),
                    (177.0, -1.0),
                    (178.5, -3.0),
                    (242.0, -3.0),
                    (243.0, -1.5),
                )
            ],
        ),
        strip("rau", "RAUM", "sum", 2, fader=-2.0, kind="group"),
        strip(
            "hal",
            "Hall",
            "cho",
            2,
            fader=-9.0,
            kind="return",
            inserts=[box("Old Hall", "reverb", 100.0, pre_delay_ms=35.0), eq(cut("high-pass", 150))],
        ),
        strip(
            "sum",
            "Summe",
            None,
            2,
            kind="master",
            inserts=[comp(-1.5, 10.0, 3, 150, 0.0, "Brick Stop", "limiter"), box("Level Eye", "analyser")],
            automation=[ride("fader", "dB", (0, -60), (2.0, 0), (291.0, 0), (298.3, -60))],
        ),
    ]
    session: Session = {
        "title": "Abendlied im Turm - Schnitt 3",
        "sample_rate_hz": 96000,
        "timeline": {"tempos": [{"beat": 0, "bpm": 60.0}]},
        "markers": [{"time_s": t, "name": n} for n, t in NAMES],
        "channels": channels,
        "media": [],
    }
    for name in MICS:
        ident, stem = at(session, name)["id"], name.translate(LETTERS)
        record(session, ident, f"Audio/T07_{stem}.wav", [(0.0, FIRST + 0.06)], 330.0, -12.4, (0.0, 0.06))
        record(session, ident, f"Audio/T09_{stem}.wav", [(FIRST, SECOND + 0.06)], 326.0, -9.15, (0.06, 0.06))
        record(session, ident, f"Audio/T12_{stem}.wav", [(SECOND, END)], 341.0, -20.7, (0.06, 0.0))
    record(session, "ton", "Audio/Stimmton_a.wav", [(0.2, 2.6), (176.0, 178.0)], 240.0)
    record(session, "ans", "Audio/T07_Regie.wav", [(0.0, 3.1)], 330.0, -12.4)
    record(session, "ans", "Audio/T12_Regie.wav", [(290.2, 297.0)], 341.0, -20.7)
    record(session, "roh", "Audio/Rohmix_Abend1.wav", [(0.0, END)], 310.0)
    return session


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Rohmix 2-Spur", "Stimmton"], "why": "left-overs of the recording, muted; may be taken out"},
]


def hall_up(session: Session) -> None:
    """The hall's return stands 16 dB higher."""
    at(session, "Hall")["fader_db"] = 7.0


def organ_flipped(session: Session) -> None:
    """One microphone of the organ's pair is inverted."""
    at(session, "Orgel HW R")["inserts"][0]["parameters"][1]["value"] = True


def rough_mix_open(session: Session) -> None:
    """The rough mix plays over the mix."""
    at(session, "Rohmix 2-Spur")["mute"] = False


def pitch_pipe_open(session: Session) -> None:
    """The pitch note is heard."""
    at(session, "Stimmton")["mute"] = False


def nameless(session: Session) -> None:
    """A spot goes by the recorder's number."""
    at(session, "Stütze Alt")["name"] = "Spur 17"


def organ_under_in_third_verse(session: Session) -> None:
    """The organ sinks by 14 dB for the whole of the third verse."""
    fader = lane(at(session, "ORGEL"), "fader")
    fader["v"] = [-17.0 if t in (178.5, 242.0) else v for t, v in zip(fader["t"], fader["v"], strict=True)]


def tenor_in_the_organ(session: Session) -> None:
    """The tenors' spot goes to the organ's bus."""
    at(session, "Stütze Tenor")["output"] = "org"


def second_solo_closed(session: Session) -> None:
    """The solo's microphone is not opened for the end."""
    fader = lane(at(session, "Solo Sopran"), "fader")
    fader["t"], fader["v"] = fader["t"][:-4], fader["v"][:-4]


def solo_left_on(session: Session) -> None:
    """A spot is still soloed from listening to it."""
    at(session, "Stütze Bass")["solo"] = True


FAULTS: list[dict[str, Any]] = [
    {
        "id": "hall-16-db-up",
        "class": "ambience",
        "channels": ["Hall"],
        "grade": "look",
        "says": "the artificial hall returns at +7 dB, far above the microphones it should only help",
        "plant": hall_up,
    },
    {
        "id": "organ-right-inverted",
        "class": "phase",
        "channels": ["Orgel HW R", "Orgel HW L"],
        "grade": "hold",
        "says": "Orgel HW R is polarity-inverted against its partner: no middle, no bass in mono",
        "plant": organ_flipped,
    },
    {
        "id": "rough-mix-over-the-mix",
        "class": "twice",
        "channels": ["Rohmix 2-Spur"],
        "grade": "hold",
        "says": "the rough mix is unmuted into the master: everything is heard twice",
        "plant": rough_mix_open,
    },
    {
        "id": "pitch-note-open",
        "class": "audible-that-should-not-be",
        "channels": ["Stimmton"],
        "grade": "hold",
        "says": "the pitch note for the singers is unmuted and printed before the prelude and verse 3",
        "plant": pitch_pipe_open,
    },
    {
        "id": "nameless-spot",
        "class": "hand-over",
        "channels": ["Spur 17"],
        "grade": "note",
        "says": "a channel that plays is called Spur 17; nobody will know that it is the altos' spot",
        "plant": nameless,
    },
    {
        "id": "organ-14-db-under-in-verse-three",
        "class": "level",
        "channels": ["ORGEL"],
        "grade": "hold",
        "says": "the organ's bus sits 14 dB lower through verse 3 than through verses 1 and 2",
        "plant": organ_under_in_third_verse,
    },
    {
        "id": "tenor-spot-in-the-organ-bus",
        "class": "routing",
        "channels": ["Stütze Tenor"],
        "grade": "hold",
        "says": "the tenors' spot goes to the organ's bus and rides with the organ; it is missing from the choir stem",
        "plant": tenor_in_the_organ,
    },
    {
        "id": "second-solo-not-opened",
        "class": "inaudible",
        "channels": ["Solo Sopran"],
        "grade": "hold",
        "says": "the solo's fader never comes up for the end, as it does in verse 2; it stays at -60 dB",
        "plant": second_solo_closed,
    },
    {
        "id": "spot-left-soloed",
        "class": "inaudible",
        "channels": ["Stütze Bass"],
        "grade": "hold",
        "says": "the basses' spot is still soloed: the bounce holds that one microphone and nothing else",
        "plant": solo_left_on,
    },
]
