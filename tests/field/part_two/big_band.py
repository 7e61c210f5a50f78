"""A big band live in a ballroom: saxes, bones and trumpets seated by tradition, rhythm section on the left, a main
tree, spots, a solo mic at the front and rides for the soloists; drums and bass keep out of the ballroom reverb."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any

BPM = 138.0


def bar(number: float) -> float:
    """The second at which a bar of four starts; the first is bar 1."""
    return (number - 1) * 4 * 60.0 / BPM


LENGTH = 292.0
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


START, END = bar(2.6), bar(165)
TEN, TPT = (bar(55), bar(87)), (bar(87), bar(119))


def through(**more: Any) -> list[Row]:
    """A mic left open from the first upbeat to the end of the ring."""
    return [span(START, END, shift=4.0, fade_in=0.05, fade_out=1.8, **more)]


def blocks(*bars: tuple[float, float]) -> list[Row]:
    """A spot mic cut out where the section rests, with fades that the bleed of the others covers."""
    return [span(bar(a) - 0.3, bar(b) + 0.4, shift=4.0, fade_in=0.2, fade_out=0.3) for a, b in bars]


def good() -> Session:
    """The session as it should be bounced."""
    names = [(1, "Count"), (3, "Intro"), (7, "Head"), (39, "Sax soli"), (55, "Ten solo"), (87, "Tpt solo")]
    names += [(119, "Shout"), (135, "Piano break"), (143, "Head out"), (159, "Tag"), (165, "END")]
    timeline = {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]}
    d = Desk("Nine Past Midnight Swing", 96000.0, timeline, [(bar(number), name) for number, name in names])
    d.add(
        "count", "Count Off", "mix", [span(0.6, bar(3), shift=4.0)], mute=True, comment="leader's mic, count and cues"
    )
    for key, name, pan, fader in (
        ("ml", "Main L", -100.0, -6.0),
        ("mc", "Main C", 0.0, -9.5),
        ("mr", "Main R", 100.0, -6.0),
    ):
        d.add(key, name, "mains", through(), pan=pan, fader=fader, inserts=[eq(band("high-pass", 35, slope=12))])
    d.add("oml", "Outrig L", "mains", through(), pan=-100.0, fader=-14.0)
    d.add("omr", "Outrig R", "mains", through(), pan=100.0, fader=-14.0)

    reed = eq(band("high-pass", 110, slope=12), band("bell", 900, -1.5, 1.0))
    saxes = blocks((3, 55), (63, 79), (95, 111), (119, 135), (143, 165))
    lead_lines = {
        "ten1": ride(
            "fader",
            (0.0, -8.0),
            (TEN[0] - 1.0, -8.0),
            (TEN[0], -1.5),
            (bar(71), -0.5),
            (TEN[1], -1.5),
            (TEN[1] + 1.2, -8.0),
            (END, -8.0),
        ),
        "alto1": ride(
            "fader",
            (0.0, -8.0),
            (bar(39) - 0.5, -8.0),
            (bar(39), -6.0),
            (bar(55), -6.0),
            (bar(55) + 1.0, -8.0),
            (END, -8.0),
        ),
    }
    seats = (
        ("ten1", "Ten 1", -8.0),
        ("alto2", "Alto 2", 8.0),
        ("alto1", "Alto 1", 24.0),
        ("ten2", "Ten 2", 41.0),
        ("bari", "Bari", 58.0),
    )
    for key, name, pan in seats:
        clips = blocks((3, 89), (95, 111), (119, 135), (143, 165)) if key == "ten1" else saxes
        d.add(
            key,
            name,
            "saxes",
            clips,
            pan=pan,
            fader=-8.0,
            sends=[send("ball", -14.0)],
            inserts=[reed],
            rides=[lead_lines[key]] if key in lead_lines else [],
        )
    bones = blocks((3, 39), (71, 79), (103, 111), (119, 135), (143, 165))
    for key, name, pan in (
        ("bn2", "Bone 2", 2.0),
        ("bn1", "Bone 1", 18.0),
        ("bn3", "Bone 3", 35.0),
        ("bbn", "B Bone", 55.0),
    ):
        d.add(
            key,
            name,
            "bones",
            bones,
            pan=pan,
            fader=-11.0,
            sends=[send("ball", -12.0)],
            parent="vcab",
            inserts=[eq(band("high-pass", 40 if key == "bbn" else 75, slope=12))],
        )
    tpts = blocks((5, 39), (71, 79), (119, 135), (143, 165))
    for key, name, pan in (
        ("tp2", "Tpt 2", -4.0),
        ("tp1", "Tpt 1", 11.0),
        ("tp3", "Tpt 3", 29.0),
        ("tp4", "Tpt 4", 48.0),
    ):
        d.add(
            key,
            name,
            "tpts",
            tpts,
            pan=pan,
            fader=-15.0,
            sends=[send("ball", -12.0)],
            parent="vcab",
            inserts=[eq(band("high-pass", 140, slope=12), band("bell", 3200, -2.0, 1.2))],
        )
    d.add(
        "solo",
        "Solo Mic",
        "mix",
        [
            span(TPT[0] - 0.6, TPT[1] + 0.8, shift=4.0, fade_in=0.3, fade_out=0.5),
            span(bar(159) - 0.4, bar(163) + 1.0, shift=4.0, fade_in=0.3, fade_out=0.6),
        ],
        fader=-3.0,
        pan=4.0,
        sends=[send("ball", -10.0), send("slap", -20.0)],
        inserts=[eq(band("high-pass", 130, slope=12)), dyn("compressor", "Front Mic Comp", -18.0, 2.5, (15.0, 150.0))],
        rides=[
            steps("mute", (0.0, 1), (TPT[0] - 0.6, 0), (TPT[1] + 1.0, 1), (bar(159) - 0.4, 0), (bar(164), 1)),
            ride("fader", (0.0, -3.0), (TPT[0], -3.0), (bar(103), -2.0), (TPT[1], -3.0), (END, -3.0)),
        ],
        comment="Tpt 3 comes to the front; opened for the solo and the tag cadenza only",
    )

    d.add(
        "pnl",
        "Pno Lo",
        "rhy",
        through(),
        pan=-30.0,
        fader=-7.0,
        sends=[send("ball", -20.0)],
        rides=[
            ride(
                "fader",
                (0.0, -7.0),
                (bar(135) - 0.5, -7.0),
                (bar(135), -2.5),
                (bar(143), -2.5),
                (bar(143) + 0.8, -7.0),
                (END, -7.0),
            )
        ],
    )
    d.add(
        "pnh",
        "Pno Hi",
        "rhy",
        through(),
        pan=-68.0,
        fader=-7.0,
        sends=[send("ball", -20.0)],
        rides=[
            ride(
                "fader",
                (0.0, -7.0),
                (bar(135) - 0.5, -7.0),
                (bar(135), -2.5),
                (bar(143), -2.5),
                (bar(143) + 0.8, -7.0),
                (END, -7.0),
            )
        ],
    )
    d.add(
        "gtr",
        "Gtr Archtop",
        "rhy",
        through(),
        pan=-48.0,
        fader=-9.0,
        inserts=[eq(band("high-pass", 130, slope=12), band("bell", 2600, 1.5, 1.0))],
        comment="four to the bar",
    )
    d.add(
        "bsm",
        "Bass Mic",
        "rhy",
        through(),
        pan=-14.0,
        fader=-6.0,
        inserts=[
            eq(band("high-pass", 38, slope=12), band("bell", 180, -2.0, 1.1)),
            dyn("compressor", "Bass Comp", -20.0, 3.0, (20.0, 160.0), output_gain_db=2.0),
        ],
    )
    d.add("bsd", "Bass DI", "rhy", through(), pan=-14.0, fader=-200.0, comment="pick-up, safety only: not used")
    d.add("kik", "Kick", "drm", through(), fader=-10.0, pan=-4.0, inserts=[eq(band("bell", 300, -3.0, 1.0))])
    d.add("snr", "Snr", "drm", through(), fader=-11.0, pan=-8.0, inserts=[eq(band("high-pass", 120, slope=12))])
    d.add("hat", "Hat", "drm", through(), fader=-18.0, pan=14.0, inserts=[eq(band("high-pass", 350, slope=12))])
    d.add("ohl", "OH L", "drm", through(), fader=-7.0, pan=-45.0)
    d.add("ohr", "OH R", "drm", through(), fader=-7.0, pan=30.0)

    d.add("mains", "TREE", "mix", kind="group", legs=2)
    d.add("saxes", "SAXES", "mix", kind="group", legs=2, fader=-1.0)
    d.add("bones", "BONES", "mix", kind="group", legs=2, fader=-1.0)
    d.add("tpts", "TPTS", "mix", kind="group", legs=2, fader=-2.0)
    d.add("drm", "DRUMS", "rhy", kind="group", legs=2, fader=-1.0, sends=[send("drmrm", -16.0)])
    d.add("rhy", "RHYTHM", "mix", kind="group", legs=2)
    d.add(
        "vcab",
        "VCA Brass",
        None,
        kind="vca",
        fader=0.0,
        rides=[
            ride(
                "fader",
                (0.0, 0.0),
                (TEN[0], 0.0),
                (TEN[0] + 2.0, -3.0),
                (bar(118), -3.0),
                (bar(119), 1.5),
                (bar(135), 1.5),
                (bar(136), 0.0),
                (END, 0.0),
            )
        ],
        comment="backgrounds under the solos, shout up",
    )
    d.add(
        "ball",
        "Ballroom",
        "mix",
        kind="return",
        legs=2,
        fader=-7.0,
        inserts=[
            eq(band("high-pass", 180, slope=12), band("low-pass", 9000, slope=12)),
            fx("reverb", "Parquet Hall", 100.0, decay=(1.9, "s"), pre_delay=(28.0, "ms")),
        ],
    )
    d.add(
        "slap",
        "Slap",
        "mix",
        kind="return",
        legs=1,
        fader=-9.0,
        pan=-20.0,
        inserts=[fx("delay", "Wire Slap", 100.0, time=(118.0, "ms"), feedback=(0.0, "%"))],
        comment="thrown a little left, against the soloist",
    )
    d.add("drmrm", "Drum Room", "rhy", kind="return", legs=2, fader=-8.0, inserts=[fx("reverb", "Boxwood Room", 100.0)])
    d.add(
        "mix",
        "Mix",
        None,
        kind="master",
        legs=2,
        inserts=[
            dyn("compressor", "Mix Glue", -12.0, 1.5, (30.0, 300.0)),
            dyn("limiter", "Ceiling", -1.0, 20.0, (0.2, 60.0)),
            fx("utility", "Trim", gain=(0.0, "dB")),
        ],
    )
    return d.session


def count_off_open(session: Session) -> None:
    """The leader's mic is unmuted."""
    named(session, "Count Off")["mute"] = False


def cadenza_muted(session: Session) -> None:
    """The second opening of the solo mic is lost."""
    line = named(session, "Solo Mic")["automation"][0]
    line["t"], line["v"] = line["t"][:3], line["v"][:3]


def tenor_stays_up(session: Session) -> None:
    """The ride down after the tenor's solo is lost."""
    line = named(session, "Ten 1")["automation"][0]
    line["t"], line["v"] = line["t"][:5], line["v"][:5]


def main_right_soft(session: Session) -> None:
    """One side of the tree drops."""
    named(session, "Main R")["fader_db"] = -15.0


def trim_after_ceiling(session: Session) -> None:
    """The trim behind the limiter is turned up."""
    named(session, "Mix")["inserts"][2]["parameters"][0]["value"] = 9.0


def bone_in_trumpets(session: Session) -> None:
    """One bone leads into the trumpets."""
    named(session, "Bone 3")["output"] = "tpts"


def alto_doubled(session: Session) -> None:
    """A copy of the lead alto's channel, with its clips, plays along."""
    source = named(session, "Alto 1")
    copy = {**source, "id": "alto1b", "name": "Alto 1.dup1"}
    session["channels"].insert(session["channels"].index(source) + 1, copy)


def bass_cut_high(session: Session) -> None:
    """The low cut of the bass sits at 900 Hz."""
    named(session, "Bass Mic")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 900.0


def trumpet_in_drum_room(session: Session) -> None:
    """The lead trumpet's reverb send aims at the drums' room."""
    named(session, "Tpt 1")["sends"][0]["to"] = "drmrm"


def brass_vca_down(session: Session) -> None:
    """The brass stays 15 dB under for the shout and the rest."""
    line = named(session, "VCA Brass")["automation"][0]
    line["v"] = [value - 15.0 for value in line["v"]]
    named(session, "VCA Brass")["fader_db"] = -15.0


def main_left_late(session: Session) -> None:
    """One mic of the tree slides by 21 ms."""
    clip = named(session, "Main L")["clips"][0]
    clip["start_s"], clip["end_s"] = round(clip["start_s"] + 0.021, 4), round(clip["end_s"] + 0.021, 4)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Bass DI"], "why": "recorded, not muted, fader fully down: a note that it is unused is fine"},
    {"channels": ["OH L", "OH R"], "why": "placed -45 and +30 as the kit stands; a question about the pair is fine"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "count-off-open",
        "class": "audible-that-should-not-be",
        "channels": ["Count Off"],
        "grade": "hold",
        "says": "the leader's count-off mic is open and led to the mix: the count will be printed",
        "plant": count_off_open,
    },
    {
        "id": "cadenza-muted",
        "class": "inaudible",
        "channels": ["Solo Mic"],
        "grade": "hold",
        "says": "the solo mic is muted after the trumpet solo and never opens for its second clip, the tag cadenza",
        "plant": cadenza_muted,
    },
    {
        "id": "tenor-stays-up",
        "class": "automation",
        "channels": ["Ten 1"],
        "grade": "look",
        "says": "the tenor is ridden up 6.5 dB for its solo and never comes back: it leads the section to the end",
        "plant": tenor_stays_up,
    },
    {
        "id": "main-right-soft",
        "class": "place",
        "channels": ["Main R", "Main L"],
        "grade": "look",
        "says": "Main R is 9 dB softer than its partner Main L: the whole band leans left",
        "plant": main_right_soft,
    },
    {
        "id": "trim-after-ceiling",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "a trim of +9 dB sits behind the limiter with a ceiling of -1 dBFS: the bounce clips",
        "plant": trim_after_ceiling,
    },
    {
        "id": "bone-in-trumpets",
        "class": "routing",
        "channels": ["Bone 3", "TPTS"],
        "grade": "look",
        "says": "Bone 3 leads into TPTS; the other bones lead into BONES",
        "plant": bone_in_trumpets,
    },
    {
        "id": "alto-doubled",
        "class": "twice",
        "channels": ["Alto 1.dup1", "Alto 1"],
        "grade": "hold",
        "says": "a copy of the lead alto plays the same clips beside it: the alto is heard twice, 6 dB up",
        "plant": alto_doubled,
    },
    {
        "id": "bass-cut-high",
        "class": "processors",
        "channels": ["Bass Mic"],
        "grade": "hold",
        "says": "the low cut of the only open bass channel is at 900 Hz: no bass",
        "plant": bass_cut_high,
    },
    {
        "id": "trumpet-in-drum-room",
        "class": "ambience",
        "channels": ["Tpt 1", "Drum Room"],
        "grade": "look",
        "says": "Tpt 1 is sent to the drums' room, not to the ballroom where the section sits",
        "plant": trumpet_in_drum_room,
    },
    {
        "id": "brass-vca-down",
        "class": "level",
        "channels": ["VCA Brass", "BONES", "TPTS", "Tpt 1", "Bone 1"],
        "grade": "hold",
        "says": "the brass VCA is 15 dB down throughout: bones and trumpets are lost, shout and all",
        "plant": brass_vca_down,
    },
    {
        "id": "main-left-late",
        "class": "phase",
        "channels": ["Main L", "Main R", "Main C"],
        "grade": "look",
        "says": "Main L starts 21 ms after the other mics of the tree at the same place in its file: the image smears",
        "plant": main_left_late,
    },
]
