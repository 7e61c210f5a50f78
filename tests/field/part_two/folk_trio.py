"""A folk trio (fiddle, mandolin, guitar) with a singer, live in a barn without a click, close mics and DIs.
Two takes joined by one edit across all mics; a wooden room into a hall in series, a far chamber fed pre-fader."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any

LENGTH = 205.0
Session = dict[str, Any]
Channel = dict[str, Any]
Row = dict[str, Any]


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7, slope: float | None = None) -> Row:
    """One equalizer band; `slope` in dB per octave makes it a cut."""
    row: Row = {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True}
    if slope is None:
        row["q"] = q
    else:
        row["slope_db_per_oct"] = slope
    return row


def eq(*bands: Row, name: str = "Strip EQ", out: float = 0.0) -> Row:
    """An open equalizer."""
    settings = {"bands": list(bands), "output_gain_db": out}
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": settings}


def dyn(kind: str, name: str, threshold: float, ratio: float, times: tuple[float, float], **more: float) -> Row:
    """An open compressor, limiter, gate or de-esser; `times` are attack and release in milliseconds."""
    settings: Row = {"threshold_db": threshold, "ratio": ratio, "attack_ms": times[0], "release_ms": times[1]}
    settings.update(more)
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": settings}


def fx(kind: str, name: str, wet: float | None = None, **settings: tuple[Any, str]) -> Row:
    """A processor whose settings are hidden, unless some are listed as (value, unit)."""
    row: Row = {"name": name, "kind": kind, "on": True, "opaque": not settings}
    if wet is not None:
        row["wet"] = wet
    row["parameters"] = [
        {"id": key, "name": key.replace("_", " ").title(), "value": value, "unit": unit}
        for key, (value, unit) in settings.items()
    ]
    return row


def send(to: str, level: float, tap: str = "post", on: bool = True, pan: float = 0.0) -> Row:
    """A send to a channel id."""
    return {"to": to, "level_db": level, "tap": tap, "on": on, "pan": pan}


def ride(target: str, *points: tuple[float, float], scale: str = "dB", shape: str = "linear") -> Row:
    """A drawn line of (seconds, value)."""
    times, values = [round(p[0], 4) for p in points], [p[1] for p in points]
    return {"target": target, "scale": scale, "shape": shape, "t": times, "v": values}


def steps(target: str, *points: tuple[float, float]) -> Row:
    """A switch of (seconds, 0 or 1); for `mute`, 1 is muted."""
    return ride(target, *points, scale="switch", shape="hold")


def span(start: float, end: float, **more: Any) -> Row:
    """A stretch of a take: gain, take, shift (file time less song time), fade_in, fade_out, on, speed, offset."""
    return {"start": start, "end": end, **more}


class Desk:
    """Collects the strips and the files of one session."""

    def __init__(self, title: str, rate: float, timeline: Row, markers: list[tuple[float, str]]) -> None:
        self.rate = rate
        self.session: Session = {
            "format": "mixlint-session/1",
            "title": title,
            "sample_rate_hz": rate,
            "timeline": timeline,
            "markers": [{"time_s": round(time, 4), "name": name} for time, name in markers],
            "channels": [],
            "media": [],
        }

    def file(self, key: str, path: str, legs: int, **more: Any) -> str:
        """Lists a media file once and gives back its id."""
        media = self.session["media"]
        if key not in {row["id"] for row in media}:
            row = {"id": key, "path": path, "legs": legs, "sample_rate_hz": self.rate, "present": True}
            media.append({**row, "duration_s": LENGTH, "place": "beside", **more})
        return key

    def add(self, key: str, name: str, out: str | None, spans: Sequence[Row] = (), **more: Any) -> Channel:
        """One strip; more words: kind, fader, pan, legs, mute, sends, inserts, rides, notes, parent, stem, comment."""
        legs, notes = more.get("legs", 1), bool(more.get("notes", False))
        clips: list[Row] = []
        for s in spans:
            clip: Row = {"start_s": round(s["start"], 4), "end_s": round(s["end"], 4), "gain_db": s.get("gain", 0.0)}
            if notes:
                clip.update(plays="notes", name=name)
            else:
                take = s.get("take", "T1")
                stem = more.get("stem", name.replace(" ", "_"))
                clip["name"] = f"{stem}_{take}"
                clip["file"] = self.file(f"{key}-{take}", f"Audio/{stem}_{take}.wav", legs)
                clip["offset_s"] = round(s.get("offset", s["start"] + s.get("shift", 0.0)), 4)
                clip["speed"] = s.get("speed", 1.0)
                clip.update(plays="audio", fade_in_s=s.get("fade_in", 0.01), fade_out_s=s.get("fade_out", 0.02))
            clip["on"] = s.get("on", True)
            clips.append(clip)
        channel: Channel = {
            "id": key,
            "name": name,
            "kind": more.get("kind", "track"),
            "parent": more.get("parent"),
            "plays": ["notes" if notes else "audio"] if clips else [],
            "legs": legs,
            "fader_db": more.get("fader", 0.0),
            "pan": more.get("pan", 0.0),
            "mute": more.get("mute", False),
            "solo": False,
            "output": out,
            "sends": deepcopy(list(more.get("sends", ()))),
            "inserts": deepcopy(list(more.get("inserts", ()))),
            "clips": clips,
            "automation": deepcopy(list(more.get("rides", ()))),
            "comment": more.get("comment", ""),
        }
        self.session["channels"].append(channel)
        return channel


def named(session: Session, name: str) -> Channel:
    """The channel of that name."""
    found: Channel = next(row for row in session["channels"] if row["name"] == name)
    return found


START, JOIN, END = 3.62, 100.21, 187.4


def live(**more: Any) -> list[Row]:
    """The two takes of a mic that played through: both mics of a player are cut at one place."""
    first = span(START, JOIN, take="T2", shift=1.18, fade_in=0.4, fade_out=0.015)
    last = span(JOIN, END, take="T4", shift=6.93, fade_in=0.015, fade_out=2.5)
    return [{**first, **more}, {**last, **more}]


def good() -> Session:
    """The session as it should be bounced."""
    # the tempo of an empty session: nobody played to a click, so no edit falls on a bar
    markers = [(4.2, "Intro (fiddle far away)"), (21.7, "Verse 1"), (47.3, "Tune A"), (73.9, "Verse 2")]
    markers += [(100.6, "Tune B"), (126.2, "Verse 3"), (152.8, "Last Reel"), (180.1, "Ring out")]
    d = Desk("Hollow Lane / The Tinsmith's Reel", 96000.0, {"tempos": [{"beat": 0.0, "bpm": 120.0}]}, markers)
    walk_in = ride(
        "fader",
        (0.0, -30.0),
        (4.2, -30.0),
        (19.5, -4.0),
        (21.7, -3.0),
        (47.0, -3.0),
        (47.6, -1.0),
        (73.2, -1.0),
        (74.2, -6.0),
        (100.2, -6.0),
        (100.9, -1.0),
        (125.8, -1.0),
        (126.6, -5.5),
        (152.2, -5.5),
        (152.9, -0.5),
        (187.4, -0.5),
    )
    d.add(
        "fidm",
        "Fid Mic",
        "fid",
        live(),
        fader=-30.0,
        rides=[walk_in],
        sends=[send("wood", -14.0), send("far", -9.0, "pre")],
        inserts=[
            eq(band("high-pass", 170, slope=12), band("bell", 2900, -2.5, 1.4), band("high-shelf", 9000, 1.0)),
            dyn("compressor", "Slow Leveller", -22.0, 2.5, (25.0, 180.0), output_gain_db=2.0),
        ],
    )
    d.add(
        "fidd",
        "Fid DI",
        "fid",
        live(),
        fader=-14.0,
        rides=[ride("fader", (0.0, -200.0), (19.4, -200.0), (21.7, -14.0), (187.4, -14.0))],
        inserts=[
            fx("utility", "Aligner", delay=(1.6, "ms"), polarity_inverted=(False, "")),
            eq(band("high-pass", 250, slope=12), band("low-pass", 6500, slope=12)),
        ],
        comment="body only, under the mic; delayed to meet it; stays out of the far intro",
    )
    d.add(
        "manm",
        "Mando Mic",
        "man",
        live(),
        fader=-2.0,
        sends=[send("wood", -12.0), send("far", -22.0, "pre")],
        rides=[
            ride("fader", (0.0, -2.0), (73.4, -2.0), (74.4, -6.0), (99.8, -6.0), (100.6, -2.0), (187.4, -2.0)),
            ride(
                "send:1:level", (0.0, -22.0), (47.3, -22.0), (47.8, -13.0), (72.9, -13.0), (73.9, -22.0), (187.4, -22.0)
            ),
        ],
        inserts=[
            eq(band("high-pass", 140, slope=12), band("bell", 3600, -2.0, 2.0)),
            dyn("compressor", "Quick Leveller", -18.0, 3.0, (6.0, 90.0), output_gain_db=1.5),
        ],
    )
    d.add(
        "mand",
        "Mando DI",
        "man",
        live(),
        fader=-13.0,
        inserts=[
            fx("utility", "Aligner", delay=(0.9, "ms"), polarity_inverted=(False, "")),
            eq(band("high-pass", 200, slope=12)),
        ],
    )
    d.add(
        "gtrn",
        "Gtr Neck",
        "gtr",
        live(),
        fader=-3.0,
        pan=-38.0,
        sends=[send("wood", -16.0)],
        inserts=[eq(band("high-pass", 80, slope=12), band("bell", 220, -3.0, 1.2))],
    )
    d.add(
        "gtrb",
        "Gtr Body",
        "gtr",
        live(),
        fader=-4.0,
        pan=38.0,
        sends=[send("wood", -16.0)],
        inserts=[eq(band("high-pass", 80, slope=12), band("bell", 160, -4.0, 1.0))],
    )
    d.add(
        "gtrd",
        "Gtr DI",
        "gtr",
        live(),
        fader=-15.0,
        inserts=[
            fx("utility", "Aligner", delay=(1.1, "ms"), polarity_inverted=(False, "")),
            eq(band("low-pass", 4200, slope=12)),
        ],
        comment="only for the low strings",
    )
    d.add(
        "vox",
        "Vox Una",
        "voxg",
        [
            span(21.1, 46.8, take="T2", shift=1.18),
            span(73.3, 99.4, take="T2", shift=1.18, gain=1.0),
            span(125.7, 153.4, take="T4", shift=6.93),
        ],
        sends=[send("wood", -18.0), send("hall", -15.0), send("far", -30.0, "pre")],
        rides=[
            ride("fader", (0.0, 0.0), (34.0, 0.0), (35.0, 1.5), (40.0, 0.0), (126.0, 0.0), (128.0, 1.0), (150.0, 1.0)),
            ride(
                "send:1:level", (0.0, -15.0), (44.9, -15.0), (45.4, -8.0), (47.4, -8.0), (48.4, -15.0), (187.4, -15.0)
            ),
        ],
        inserts=[
            eq(band("high-pass", 95, slope=18), band("bell", 340, -2.0, 1.3), band("high-shelf", 10000, 1.5)),
            dyn("compressor", "Vox Leveller", -20.0, 3.0, (12.0, 140.0), output_gain_db=3.0),
            dyn("de-esser", "Ess", -28.0, 4.0, (1.0, 40.0)),
        ],
    )
    d.add(
        "voxalt",
        "Vox Una alt T3",
        "voxg",
        [span(21.3, 46.9, take="T3", shift=3.4), span(73.5, 99.3, take="T3", shift=3.4)],
        fader=-200.0,
        sends=[send("hall", -10.0)],
        comment="kept for the band; fader shut",
    )
    d.add(
        "harm",
        "Harm Brid",
        "voxg",
        [span(39.8, 46.7, take="T2", shift=1.18), span(143.6, 153.2, take="T4", shift=6.93)],
        fader=-8.0,
        pan=-15.0,
        sends=[send("wood", -16.0), send("hall", -14.0)],
        inserts=[eq(band("high-pass", 180, slope=12))],
        comment="Brid sings off the fiddle stand",
    )
    d.add(
        "feet",
        "Feet",
        "band",
        [span(152.6, 181.2, take="T4", shift=6.93)],
        fader=-9.0,
        pan=10.0,
        inserts=[
            eq(band("low-pass", 900, slope=12)),
            dyn("gate", "Board Gate", -38.0, 4.0, (1.0, 160.0), range_db=-18.0),
        ],
        comment="stomp board, last reel only",
    )
    for key, name, pan in (("rml", "Room L", -100.0), ("rmr", "Room R", 100.0)):
        d.add(
            key,
            name,
            "band",
            live(),
            fader=-11.0,
            pan=pan,
            rides=[
                ride("fader", (0.0, -8.0), (19.0, -8.0), (22.0, -11.0), (178.0, -11.0), (181.0, -6.0), (187.4, -6.0))
            ],
            inserts=[eq(band("high-pass", 60, slope=12))],
        )
    d.add(
        "tb",
        "Talkback",
        None,
        [span(0.4, 3.1, take="T2", shift=1.18), span(188.0, 191.5, take="T4", shift=6.93)],
        mute=True,
        comment="slates and chatter",
    )
    d.add("fid", "FIDDLE", "band", kind="group", legs=2, pan=-28.0)
    d.add("man", "MANDO", "band", kind="group", legs=2, pan=32.0)
    d.add("gtr", "GUITAR", "band", kind="group", legs=2)
    d.add("voxg", "VOX", "mix", kind="group", legs=2)
    d.add(
        "band",
        "BAND",
        "mix",
        kind="group",
        legs=2,
        fader=-1.5,
        inserts=[dyn("compressor", "Band Glue", -16.0, 1.5, (30.0, 250.0))],
    )
    d.add(
        "wood",
        "Small Wood",
        "mix",
        kind="return",
        legs=2,
        fader=-4.0,
        sends=[send("hall", -13.0)],
        inserts=[fx("reverb", "Larch Room", 100.0), eq(band("high-pass", 200, slope=12))],
        comment="early sound, leads on into the hall",
    )
    d.add(
        "hall",
        "Old Hall",
        "mix",
        kind="return",
        legs=2,
        fader=-6.0,
        inserts=[
            eq(band("high-pass", 240, slope=12), band("low-pass", 8000, slope=12), name="Hall In"),
            fx("reverb", "Stone Hall", 100.0),
        ],
    )
    d.add(
        "far",
        "Far Chamber",
        "mix",
        kind="return",
        legs=2,
        fader=-5.0,
        inserts=[fx("reverb", "Barn Chamber", 100.0)],
        comment="fed before the faders: distance without dry sound",
    )
    d.add(
        "mix",
        "Mix",
        None,
        kind="master",
        legs=2,
        inserts=[
            eq(band("high-pass", 24, slope=12), band("high-shelf", 12000, 0.8)),
            dyn("limiter", "Safety", -1.0, 20.0, (0.5, 80.0)),
        ],
    )
    return d.session


def fiddle_di_late(session: Session) -> None:
    """The DI's clips slide against the mic."""
    for clip in named(session, "Fid DI")["clips"]:
        clip["start_s"] = round(clip["start_s"] + 0.014, 4)
        clip["end_s"] = round(clip["end_s"] + 0.014, 4)


def alternate_feeds_hall(session: Session) -> None:
    """The shut alternate is tapped before its fader."""
    named(session, "Vox Una alt T3")["sends"][0]["tap"] = "pre"


def room_floods_hall(session: Session) -> None:
    """The series send is turned up far over unity."""
    named(session, "Small Wood")["sends"][0]["level_db"] = 11.0


def hall_bypassed(session: Session) -> None:
    """The hall's reverb is off, so the return passes the dry sends."""
    named(session, "Old Hall")["inserts"][1]["on"] = False


def room_right_in_the_middle(session: Session) -> None:
    """One of the pair loses its side."""
    named(session, "Room R")["pan"] = 0.0


def fiddle_stays_down(session: Session) -> None:
    """The verse 2 dip deepens and is never undone."""
    line = named(session, "Fid Mic")["automation"][0]
    line["t"], line["v"] = [*line["t"][:7], 74.2, 187.4], [*line["v"][:7], -19.0, -19.0]


def hole_in_the_mandolin(session: Session) -> None:
    """The join between the takes gapes on one mic."""
    clip = named(session, "Mando Mic")["clips"][1]
    clip["start_s"], clip["offset_s"] = round(JOIN + 1.35, 4), round(clip["offset_s"] + 1.35, 4)


def neck_file_gone(session: Session) -> None:
    """The second take's file of the neck mic is not there."""
    next(row for row in session["media"] if row["id"] == "gtrn-T4")["present"] = False


def mandolin_di_in_fiddle(session: Session) -> None:
    """The DI leads into the neighbour's group."""
    named(session, "Mando DI")["output"] = "fid"


def body_cut_off(session: Session) -> None:
    """The last chord stops on the body mic while the neck mic rings."""
    clip = named(session, "Gtr Body")["clips"][1]
    clip["end_s"], clip["fade_out_s"] = 180.6, 0.0


def nameless_board(session: Session) -> None:
    """The stomp board goes by a number."""
    named(session, "Feet")["name"] = "Audio 14"


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Vox Una alt T3"], "why": "an alternate with the fader shut but not muted: worth a mention, no more"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "fiddle-di-late",
        "class": "phase",
        "channels": ["Fid DI", "Fid Mic"],
        "grade": "look",
        "says": "the fiddle DI lies 14 ms behind its mic, in both takes; every other DI is in time with its mic",
        "plant": fiddle_di_late,
    },
    {
        "id": "alternate-feeds-hall",
        "class": "audible-that-should-not-be",
        "channels": ["Vox Una alt T3", "Old Hall"],
        "grade": "hold",
        "says": "the shut alternate vocal is sent pre-fader, so its take is heard in the hall",
        "plant": alternate_feeds_hall,
    },
    {
        "id": "room-floods-hall",
        "class": "ambience",
        "channels": ["Small Wood", "Old Hall"],
        "grade": "look",
        "says": "the wood room leads into the hall at +11 dB where -13 was meant: all in the hall, and hot",
        "plant": room_floods_hall,
    },
    {
        "id": "hall-bypassed",
        "class": "processors",
        "channels": ["Old Hall"],
        "grade": "hold",
        "says": "the reverb of the hall return is bypassed: no hall, and a dry copy of the sends on top",
        "plant": hall_bypassed,
    },
    {
        "id": "room-right-centred",
        "class": "place",
        "channels": ["Room R", "Room L"],
        "grade": "look",
        "says": "Room L is hard left but its partner Room R stands in the centre",
        "plant": room_right_in_the_middle,
    },
    {
        "id": "fiddle-stays-down",
        "class": "automation",
        "channels": ["Fid Mic"],
        "grade": "look",
        "says": "the fiddle is taken down to -19 dB for verse 2 and stays there for both tunes to the end",
        "plant": fiddle_stays_down,
    },
    {
        "id": "hole-in-the-mandolin",
        "class": "edits",
        "channels": ["Mando Mic"],
        "grade": "look",
        "says": "at 1:40 the second take of the mandolin mic starts 1.35 s late: a hole where all others join",
        "plant": hole_in_the_mandolin,
    },
    {
        "id": "neck-file-gone",
        "class": "files",
        "channels": ["Gtr Neck"],
        "grade": "hold",
        "says": "the file of the second half of the guitar's neck mic is missing",
        "plant": neck_file_gone,
    },
    {
        "id": "mandolin-di-in-fiddle",
        "class": "routing",
        "channels": ["Mando DI", "FIDDLE"],
        "grade": "look",
        "says": "the mandolin DI leads into the fiddle group, left of centre, away from its mic",
        "plant": mandolin_di_in_fiddle,
    },
    {
        "id": "body-cut-off",
        "class": "end",
        "channels": ["Gtr Body"],
        "grade": "look",
        "says": "the last chord is cut off without a fade on the body mic, 7 s before the neck mic and the rooms end",
        "plant": body_cut_off,
    },
    {
        "id": "nameless-board",
        "class": "hand-over",
        "channels": ["Audio 14"],
        "grade": "note",
        "says": "a recorded channel goes by a number (Audio 14): nobody at the other end knows what it is",
        "plant": nameless_board,
    },
]
