"""A film cue mixed to five stems (drums, strings, brass, choir, synth): each stem has returns of its own and a muted
print beside it; three tempos, a two-pop into every stem, time code, click and dialogue that never print."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any

TEMPOS = ((1, 72.0), (17, 108.0), (41, 81.0))  # (bar, bpm)


def bar(number: float) -> float:
    """The second at which a bar of four starts, over the three tempos."""
    seconds = 0.0
    for index, (first, bpm) in enumerate(TEMPOS):
        last = TEMPOS[index + 1][0] if index + 1 < len(TEMPOS) else number
        seconds += max(0.0, min(number, last) - first) * 240.0 / bpm
    return seconds


LENGTH = 182.0
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


POP, END = bar(3) - 2.0, bar(57)
SLOW, CHASE, HYMN = (3, 17), (17, 41), (41, 57)


def cue(*bars: tuple[float, float], **more: Any) -> list[Row]:
    """Clips from bar to bar, let ring a little."""
    return [
        span(bar(a), bar(b) + (4.5 if b == 57 else 0.0), fade_out=1.5 if b == 57 else 0.02, **more) for a, b in bars
    ]


def good() -> Session:
    """The session as it should be bounced."""
    names = [
        (3, "Salt plain"),
        (9, "Caravan seen"),
        (17, "Chase"),
        (29, "Chase, full"),
        (41, "Hymn"),
        (53, "Last look"),
    ]
    markers = [(POP, "2-POP"), *((bar(number), name) for number, name in names), (END, "END m4")]
    tempos = [{"beat": (first - 1) * 4.0, "bpm": bpm} for first, bpm in TEMPOS]
    timeline = {"tempos": tempos, "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]}
    d = Desk("Grey Salt Crossing - m4 The Plain (stems)", 48000.0, timeline, markers)
    d.add("ltc", "LTC", None, [span(0.0, 170.0)], comment="time code for the stage, no output")
    d.add("click", "CLICK", None, [span(0.0, END)], notes=True, inserts=[fx("instrument", "Tick")])
    d.add(
        "pop",
        "2-Pop",
        None,
        [span(POP, POP + 0.0417, offset=0.0, fade_in=0.0, fade_out=0.0)],
        fader=-20.0,
        sends=[send("s" + key, 0.0) for key in ("dr", "st", "br", "ch", "sy")],
        comment="one frame into every stem",
    )
    d.add(
        "dx", "DX guide", "mix", [span(2.0, 165.0, offset=2.0)], mute=True, fader=-6.0, comment="dialogue, guide only"
    )
    d.add("mock", "Mock-up m4 v7", "mix", [span(POP, END, offset=0.0)], legs=2, mute=True)

    drums = (
        ("tlo", "Taiko Lo", cue((17, 29), (29, 41)), -5.0, 0.0, 1),
        ("thi", "Taiko Hi", cue((17, 29), (29, 41)), -8.0, 18.0, 1),
        ("cbd", "Cine BD", cue((9, 17), (29, 41), (53, 57)), -6.0, 0.0, 1),
        ("frm", "Frame Dr", cue((9, 17), (17, 29), (29, 41)), -10.0, -25.0, 1),
        ("met", "Metals", cue((3, 9), (35, 41)), -14.0, 0.0, 2),
    )
    for key, name, clips, fader, pan, legs in drums:
        d.add(key, name, "sdr", clips, fader=fader, pan=pan, legs=legs, sends=[send("rdr", -12.0)])
    strings = (
        ("vl1", "Vln 1", -55.0),
        ("vl2", "Vln 2", -25.0),
        ("vla", "Vla", 20.0),
        ("vc", "Vc", 42.0),
        ("cb", "Cb", 58.0),
    )
    for key, name, pan in strings:
        d.add(
            key,
            name,
            "sst",
            cue(SLOW, CHASE, HYMN, take="T6"),
            fader=-12.0,
            pan=pan,
            sends=[send("rst", -10.0)],
            rides=[
                ride(
                    "fader",
                    (0.0, -12.0),
                    (bar(17), -12.0),
                    (bar(18), -9.0),
                    (bar(40), -9.0),
                    (bar(41), -12.0),
                    (END, -12.0),
                )
            ]
            if key in {"vl1", "vl2"}
            else [],
        )
    for key, name, pan in (("stl", "Str Tree L", -100.0), ("stc", "Str Tree C", 0.0), ("str", "Str Tree R", 100.0)):
        d.add(key, name, "sst", cue(SLOW, CHASE, HYMN, take="T6"), fader=-6.0 if pan else -9.0, pan=pan)
    d.add(
        "svc",
        "Solo Vc",
        "sst",
        cue((3, 9), (51, 57)),
        fader=-4.0,
        pan=8.0,
        sends=[send("rst", -7.0)],
        inserts=[eq(band("high-pass", 60, slope=12))],
    )
    brass = (
        ("hna", "Hn A", -30.0),
        ("hnb", "Hn B", -45.0),
        ("tpt", "Tpts", 12.0),
        ("bnl", "Bones L", 10.0),
        ("bnr", "Bones R", 45.0),
        ("cim", "Cimb", 55.0),
    )
    for key, name, pan in brass:
        clips = cue((9, 17), CHASE, HYMN) if key.startswith("hn") else cue((25, 41), (53, 57))
        d.add(
            key,
            name,
            "sbr",
            clips,
            fader=-9.0,
            pan=pan,
            sends=[send("rbr", -11.0)],
            inserts=[eq(band("high-pass", 45, slope=12), band("low-pass", 16000, slope=12))],
        )
    for key, name, pan in (("brl", "Brs Room L", -100.0), ("brr", "Brs Room R", 100.0)):
        d.add(key, name, "sbr", cue((9, 17), CHASE, HYMN), fader=-13.0, pan=pan)
    for key, name, pan in (
        ("sop", "Ch Sop", -40.0),
        ("alt", "Ch Alt", -15.0),
        ("ten", "Ch Ten", 15.0),
        ("bas", "Ch Bas", 40.0),
    ):
        d.add(key, name, "sch", cue((37, 41), HYMN), fader=-8.0, pan=pan, sends=[send("rch", -8.0)])
    for key, name, pan in (("chl", "Ch Room L", -100.0), ("chr", "Ch Room R", 100.0)):
        d.add(key, name, "sch", cue((37, 41), HYMN), fader=-10.0, pan=pan)
    d.add(
        "pls",
        "Pulse",
        "ssy",
        cue(CHASE),
        notes=True,
        legs=2,
        fader=-13.0,
        sends=[send("dsy", -12.0)],
        inserts=[fx("instrument", "Clockwork Synth"), eq(band("high-pass", 90, slope=12))],
    )
    d.add(
        "pad",
        "Dust Pad",
        "ssy",
        cue(SLOW, (41, 53)),
        notes=True,
        legs=2,
        fader=-15.0,
        sends=[send("rsy", -9.0)],
        inserts=[fx("instrument", "Glass Synth")],
        rides=[ride("fader", (0.0, -40.0), (bar(3), -40.0), (bar(7), -15.0), (END, -15.0))],
    )
    d.add(
        "sub",
        "Sub",
        "ssy",
        cue((25, 41), (53, 57)),
        notes=True,
        legs=1,
        fader=-8.0,
        inserts=[fx("instrument", "Low Synth"), eq(band("low-pass", 90, slope=24))],
        comment="for the big rooms",
    )
    d.add("drn", "Drone", "ssy", cue((3, 17), (17, 25)), legs=2, fader=-16.0)
    d.add("ris", "Riser rev", "ssy", cue((15, 17), (39, 41)), legs=2, fader=-9.0, sends=[send("rsy", -12.0)])

    stems = (("dr", "DRUMS"), ("st", "STRINGS"), ("br", "BRASS"), ("ch", "CHOIR"), ("sy", "SYNTH"))
    for key, name in stems:
        d.add("s" + key, "STEM " + name, "mix", kind="group", legs=2)
    rooms = (
        ("dr", "Dr Hall", "Big Shed", 2.4),
        ("st", "Str Hall", "Long Hall", 2.9),
        ("br", "Brs Hall", "Long Hall", 2.6),
        ("ch", "Ch Chapel", "Apse", 4.2),
        ("sy", "Syn Space", "Wide Cloud", 6.0),
    )
    for key, name, device, decay in rooms:
        d.add(
            "r" + key,
            name,
            "s" + key,
            kind="return",
            legs=2,
            fader=-5.0,
            inserts=[fx("reverb", device, 100.0, decay=(decay, "s")), eq(band("high-pass", 120, slope=12))],
            comment="stays in its stem",
        )
    d.add(
        "dsy",
        "Syn Delay",
        "ssy",
        kind="return",
        legs=2,
        fader=-8.0,
        sends=[send("rsy", -14.0)],
        inserts=[fx("delay", "Dotted Line", 100.0, time=(416.7, "ms"), feedback=(30.0, "%"))],
        comment="dotted eighth at 108, only the chase uses it",
    )
    for key, name in stems:
        d.add(
            "p" + key,
            "PRINT " + name,
            "mix",
            [span(POP - 0.667, END + 8.0, offset=0.0, fade_in=0.0, fade_out=0.0)],
            legs=2,
            mute=True,
            stem=f"m4_STEM_{name}_v7",
            comment="printed from the stem beside it",
        )
    d.add(
        "mix",
        "MIX",
        None,
        kind="master",
        legs=2,
        inserts=[dyn("limiter", "Ceiling", -2.0, 20.0, (0.5, 120.0))],
        comment="sum of the stems; nothing on it that the stems would miss",
    )
    return d.session


def code_heard(session: Session) -> None:
    """The time code gets an output."""
    named(session, "LTC")["output"] = "mix"


def sopranos_past_the_stem(session: Session) -> None:
    """The sopranos lead straight to the mix."""
    named(session, "Ch Sop")["output"] = "mix"


def violins_in_the_brass_hall(session: Session) -> None:
    """The violins' send aims at the brass stem's hall."""
    named(session, "Vln 1")["sends"][0]["to"] = "rbr"


def print_beside_live(session: Session) -> None:
    """The strings' print plays along."""
    named(session, "PRINT STRINGS")["mute"] = False


def chase_slower(session: Session) -> None:
    """The chase's tempo is changed under the recorded clips."""
    session["timeline"]["tempos"][1]["bpm"] = 104.0


def taiko_clip_hot(session: Session) -> None:
    """One clip of the low taiko is 15 dB up."""
    named(session, "Taiko Lo")["clips"][1]["gain_db"] = 15.0


def drum_hall_shut(session: Session) -> None:
    """The drums' hall is muted on the last hit."""
    named(session, "Dr Hall")["automation"].append(steps("mute", (0.0, 0), (bar(53) + 0.4, 1)))


def print_too_short(session: Session) -> None:
    """The brass print was stopped early."""
    clip = named(session, "PRINT BRASS")["clips"][0]
    clip["end_s"] = round(bar(49), 4)


def bones_right_soft(session: Session) -> None:
    """One side of the bones drops."""
    named(session, "Bones R")["fader_db"] = -18.5


def ceiling_crushes(session: Session) -> None:
    """The limiter's threshold is 30 dB down."""
    named(session, "MIX")["inserts"][0]["dynamics"]["threshold_db"] = -32.0


# where the tempo fault may be told: what is cut or programmed on the bars from the chase on
ON_THE_BARS = [
    "MIX",
    "CLICK",
    "Pulse",
    "Sub",
    "Dust Pad",
    "Riser rev",
    "Taiko Lo",
    "Taiko Hi",
    "Cine BD",
    "Frame Dr",
    "Metals",
    "Vln 1",
    "Vln 2",
    "Vla",
    "Vc",
    "Cb",
    "Str Tree L",
    "Str Tree C",
    "Str Tree R",
    "Solo Vc",
    "Hn A",
    "Hn B",
    "Tpts",
    "Bones L",
    "Bones R",
    "Cimb",
    "Brs Room L",
    "Brs Room R",
    "Ch Sop",
    "Ch Alt",
    "Ch Ten",
    "Ch Bas",
    "Ch Room L",
    "Ch Room R",
    "Drone",
    "Syn Delay",
]

ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["2-Pop"], "why": "a note that the pop goes into every stem is fine: it has to"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "code-heard",
        "class": "audible-that-should-not-be",
        "channels": ["LTC"],
        "grade": "hold",
        "says": "the time code leads to the mix and will be printed",
        "plant": code_heard,
    },
    {
        "id": "sopranos-past-the-stem",
        "class": "routing",
        "channels": ["Ch Sop", "STEM CHOIR"],
        "grade": "hold",
        "says": "the sopranos lead past their stem to the mix: they are missing in the choir stem",
        "plant": sopranos_past_the_stem,
    },
    {
        "id": "violins-in-the-brass-hall",
        "class": "ambience",
        "channels": ["Vln 1", "Brs Hall"],
        "grade": "look",
        "says": "Vln 1 is sent to the brass stem's hall: its reverb would be printed in the brass stem",
        "plant": violins_in_the_brass_hall,
    },
    {
        "id": "print-beside-live",
        "class": "twice",
        "channels": ["PRINT STRINGS", "STEM STRINGS"],
        "grade": "hold",
        "says": "the print of the strings is unmuted beside the live stem: the strings are heard twice",
        "plant": print_beside_live,
    },
    {
        "id": "chase-slower",
        "class": "tempo",
        "channels": ON_THE_BARS,
        "grade": "look",
        "says": "the chase's tempo is 104 while everything is cut at 108: from bar 17 no clip meets the grid",
        "plant": chase_slower,
    },
    {
        "id": "taiko-clip-hot",
        "class": "level",
        "channels": ["Taiko Lo"],
        "grade": "look",
        "says": "the low taiko's second clip has +15 dB of clip gain, all others 0",
        "plant": taiko_clip_hot,
    },
    {
        "id": "drum-hall-shut",
        "class": "end",
        "channels": ["Dr Hall"],
        "grade": "look",
        "says": "the drums' hall is muted just after the last entry and stays so: the final hits die dry",
        "plant": drum_hall_shut,
    },
    {
        "id": "print-too-short",
        "class": "hand-over",
        "channels": ["PRINT BRASS"],
        "grade": "look",
        "says": "the brass print stops at bar 49, before the cue's end; the other four run to the end",
        "plant": print_too_short,
    },
    {
        "id": "bones-right-soft",
        "class": "place",
        "channels": ["Bones R", "Bones L"],
        "grade": "look",
        "says": "Bones R is 9.5 dB softer than its partner Bones L",
        "plant": bones_right_soft,
    },
    {
        "id": "ceiling-crushes",
        "class": "processors",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "the limiter on the mix works from -32 dBFS, thirty decibels under where it was: all is crushed",
        "plant": ceiling_crushes,
    },
]
