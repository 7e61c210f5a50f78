"""A spoken-word programme of a harbour town: host, guest, a poem and a telephone call over music beds and atmosphere.
Voices in the middle, beds ridden and ducked from a key bus nobody hears, a fluffed line replaced, one word bleeped."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any

LENGTH = 420.0
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


END = 340.0


def lines(*spans: tuple[float, float, float], **more: Any) -> list[Row]:
    """Speech cut line by line, each with its own clip gain."""
    return [span(a, b, gain=gain, fade_in=0.02, fade_out=0.06, **more) for a, b, gain in spans]


def good() -> Session:
    """The session as it should be bounced."""
    markers = [
        (0.0, "Cold open"),
        (18.0, "Theme"),
        (36.0, "Intro"),
        (62.0, "Quay walk"),
        (118.0, "Tomas"),
        (196.0, "Poem"),
        (250.0, "The call"),
        (296.0, "Outro"),
        (320.0, "Theme out"),
        (END, "End"),
    ]
    # speech: the grid is the empty session's and means nothing
    d = Desk("Salt on the Sill, part 4 (PGM)", 48000.0, {"tempos": [{"beat": 0.0, "bpm": 120.0}]}, markers)
    speech = eq(band("high-pass", 80, slope=18), band("bell", 280, -2.5, 1.2), band("bell", 3800, 1.5, 0.9))
    d.add(
        "host",
        "HOST Mara",
        "vox",
        [
            *lines((1.2, 7.9, 0.0), (8.3, 16.7, 1.0), (37.0, 44.6, -1.5), (45.2, 57.1, 0.0), (64.5, 77.0, 2.0)),
            *lines((78.4, 83.9, 0.0), on=False),
            *lines(
                (84.6, 101.9, 1.5),
                (119.0, 126.4, 0.0),
                (151.7, 156.2, -2.0),
                (183.0, 194.1, 0.5),
                (251.0, 257.3, 0.0),
                (276.0, 279.4, 1.0),
                (297.0, 317.8, 0.0),
            ),
        ],
        inserts=[
            dyn("expander", "Breath Expander", -48.0, 2.0, (2.0, 200.0), range_db=-10.0),
            speech,
            dyn("compressor", "Voice Leveller", -21.0, 3.0, (8.0, 120.0), output_gain_db=4.0),
            dyn("de-esser", "Ess", -30.0, 4.0, (1.0, 50.0)),
        ],
        comment="the muted line is replaced on the pick-ups",
    )
    d.add(
        "hostpu",
        "HOST Mara pickups",
        "vox",
        lines((78.3, 83.7, 2.5), take="PU2", offset=31.4),
        fader=0.5,
        inserts=[speech, dyn("compressor", "Voice Leveller", -21.0, 3.0, (8.0, 120.0), output_gain_db=4.0)],
    )
    tomas = ((127.0, 139.8, 0.0), (140.5, 151.2, 3.0), (156.8, 163.9, 1.0), (164.7, 182.4, 0.0))
    d.add(
        "gst",
        "GUEST Tomas",
        "vox",
        lines(*tomas),
        fader=-1.0,
        rides=[steps("mute", (0.0, 0), (171.32, 1), (171.84, 0))],
        inserts=[speech, dyn("compressor", "Voice Leveller", -20.0, 3.0, (8.0, 120.0), output_gain_db=4.0)],
        comment="a name is muted at 2:51 and bleeped",
    )
    d.add("gstlav", "GUEST Tomas lav", "vox", lines(*tomas), mute=True, comment="safety lapel mic, not used")
    d.add(
        "poem",
        "POEM Ilse",
        "vox",
        lines((199.0, 206.3, 0.0), (207.6, 215.9, 0.0), (217.2, 226.8, 0.5), (228.1, 246.5, 0.0)),
        sends=[send("chap", -15.0), send("echo", -12.0, on=False)],
        rides=[steps("send:1:on", (0.0, 0), (244.9, 1), (246.6, 0))],
        inserts=[speech, dyn("compressor", "Voice Leveller", -22.0, 2.0, (15.0, 180.0), output_gain_db=2.5)],
    )
    d.add(
        "call",
        "CALL Capt Brandt",
        "vox",
        lines((257.9, 266.4, 4.0), (267.0, 275.6, 4.5), (279.9, 294.0, 3.5)),
        fader=-2.0,
        inserts=[
            eq(band("high-pass", 320, slope=24), band("low-pass", 3400, slope=24)),
            dyn("compressor", "Line Leveller", -24.0, 5.0, (4.0, 90.0), output_gain_db=5.0),
        ],
        comment="telephone, narrow on purpose; converted to 48k on import",
    )
    d.add("bleep", "BLEEP", "vox", lines((171.32, 171.84, 0.0), offset=0.0), fader=-14.0)
    d.add(
        "tone",
        "ROOM TONE",
        "vox",
        [span(118.4, 195.0, fade_in=1.0, fade_out=1.5)],
        fader=-6.0,
        comment="fills the holes between question and answer",
    )

    d.add(
        "theme",
        "THEME",
        "mus",
        [
            span(16.9, 45.5, offset=0.0, fade_in=0.005, fade_out=2.5),
            span(311.0, END, offset=64.0, fade_in=4.0, fade_out=6.0),
        ],
        legs=2,
        fader=-4.0,
        rides=[
            ride(
                "fader",
                (0.0, -4.0),
                (35.0, -4.0),
                (36.6, -20.0),
                (45.5, -20.0),
                (311.0, -19.0),
                (317.9, -19.0),
                (320.4, -4.0),
                (END, -4.0),
            )
        ],
    )
    d.add(
        "bed1",
        "BED Tides",
        "mus",
        [span(43.0, 116.5, offset=12.0, fade_in=3.0, fade_out=4.0)],
        legs=2,
        fader=-19.0,
        inserts=[
            eq(band("bell", 2500, -3.0, 0.6)),
            dyn("compressor", "Ducker", -32.0, 2.5, (20.0, 600.0), range_db=-6.0),
        ],
        rides=[
            ride(
                "fader",
                (0.0, -19.0),
                (57.4, -19.0),
                (59.0, -9.0),
                (63.0, -9.0),
                (64.6, -20.0),
                (102.2, -20.0),
                (104.0, -8.0),
                (117.0, -8.0),
            )
        ],
        comment="ducker keyed from KEY VOICE",
    )
    d.add(
        "bed2",
        "BED Poem",
        "mus",
        [span(194.5, 250.5, offset=4.0, fade_in=2.0, fade_out=5.0)],
        legs=2,
        fader=-12.0,
        inserts=[dyn("compressor", "Ducker", -32.0, 2.0, (30.0, 800.0), range_db=-4.0)],
        rides=[ride("fader", (0.0, -10.0), (197.5, -10.0), (199.0, -16.0), (246.0, -16.0), (248.0, -9.0), (END, -9.0))],
        comment="ducker keyed from KEY VOICE",
    )
    d.add(
        "sting",
        "STING bell",
        "mus",
        [
            span(117.0, 120.8, offset=0.0, fade_out=1.5),
            span(249.8, 253.6, offset=0.0, fade_out=1.5),
            span(295.2, 299.0, offset=0.0, fade_out=1.5),
        ],
        legs=2,
        fader=-10.0,
    )
    for key, name, pan in (("atl", "ATM harbour L", -80.0), ("atr", "ATM harbour R", 80.0)):
        d.add(
            key,
            name,
            "atm",
            [span(59.0, 121.0, fade_in=4.0, fade_out=6.0), span(291.0, 316.0, fade_in=4.0, fade_out=6.0)],
            pan=pan,
            fader=-13.0,
            inserts=[eq(band("high-pass", 120, slope=12))],
        )
    d.add(
        "gull",
        "SFX gulls",
        "atm",
        [span(61.0, 66.2, fade_out=1.0), span(88.0, 92.5, gain=-4.0, fade_out=1.0)],
        fader=-18.0,
        pan=35.0,
        rides=[ride("pan", (0.0, 35.0), (61.0, 35.0), (66.0, -20.0), (END, -20.0), scale="pan")],
    )
    d.add(
        "horn",
        "SFX ferry horn",
        "atm",
        [span(103.0, 108.8, fade_out=2.0)],
        fader=-12.0,
        pan=-40.0,
        sends=[send("chap", -14.0)],
    )
    d.add("prod", "Prod TB", "vox", [span(0.2, 118.0), span(118.0, 300.0)], mute=True, comment="producer's line")
    d.add(
        "ref",
        "Part 3 REF",
        "mix",
        [span(0.0, 300.0, offset=0.0)],
        legs=2,
        mute=True,
        stem="Salt_part_3_master",
        comment="last part, for loudness; never prints",
    )
    d.add("rough", "Rough v2", "mix", [span(0.0, 338.0, offset=0.0)], legs=2, mute=True, stem="Salt_part_4_rough_v2")

    d.add(
        "vox",
        "VOICES",
        "mix",
        kind="group",
        legs=2,
        sends=[send("key", 0.0)],
        inserts=[dyn("compressor", "Bus Leveller", -16.0, 2.0, (20.0, 250.0), output_gain_db=1.0)],
    )
    d.add("mus", "MUSIC", "mix", kind="group", legs=2)
    d.add("atm", "ATMOS + FX", "mix", kind="group", legs=2)
    d.add("key", "KEY VOICE", None, kind="group", legs=1, comment="side-chain for the duckers, no output")
    d.add(
        "chap",
        "Chapel",
        "mix",
        kind="return",
        legs=2,
        fader=-6.0,
        inserts=[eq(band("high-pass", 250, slope=12)), fx("reverb", "Seamen's Chapel", 100.0)],
    )
    d.add(
        "echo",
        "Last Word Echo",
        "mix",
        kind="return",
        legs=2,
        fader=-8.0,
        inserts=[fx("delay", "Long Echo", 100.0, time=(640.0, "ms"), feedback=(45.0, "%"))],
        comment="one throw, the poem's last word",
    )
    d.add(
        "mix",
        "PGM",
        None,
        kind="master",
        legs=2,
        inserts=[dyn("limiter", "Programme Limiter", -1.5, 20.0, (0.5, 100.0)), fx("analyser", "Loudness Meter")],
    )
    return d.session


def producer_open(session: Session) -> None:
    """The producer's line is unmuted."""
    named(session, "Prod TB")["mute"] = False


def key_heard(session: Session) -> None:
    """The side-chain bus gets an output."""
    named(session, "KEY VOICE")["output"] = "mix"


def bed_stays_up(session: Session) -> None:
    """The dip under the second stretch of the host is lost."""
    line = named(session, "BED Tides")["automation"][0]
    line["t"], line["v"] = line["t"][:4], line["v"][:4]


def call_jumps(session: Session) -> None:
    """One line of the call has 15 dB more clip gain than its neighbours."""
    named(session, "CALL Capt Brandt")["clips"][1]["gain_db"] = 19.5


def fluff_back_on(session: Session) -> None:
    """The replaced line is switched on again under its pick-up."""
    next(clip for clip in named(session, "HOST Mara")["clips"] if not clip["on"])["on"] = True


def bed_file_short(session: Session) -> None:
    """The poem's bed was delivered as an extract."""
    next(row for row in session["media"] if row["id"] == "bed2-T1")["duration_s"] = 34.0


def poem_in_solo(session: Session) -> None:
    """A solo is left on."""
    named(session, "POEM Ilse")["solo"] = True


def expander_shut(session: Session) -> None:
    """The host's expander becomes a gate that speech never opens."""
    named(session, "HOST Mara")["inserts"][0]["dynamics"].update(threshold_db=-2.0, ratio=20.0, range_db=-80.0)


def theme_chopped(session: Session) -> None:
    """The last clip of the theme loses its fade."""
    named(session, "THEME")["clips"][1]["fade_out_s"] = 0.0


def harbour_right_muted(session: Session) -> None:
    """One side of the harbour is off."""
    named(session, "ATM harbour R")["mute"] = True


def two_of_one_name(session: Session) -> None:
    """The lapel mic takes the boom's name."""
    named(session, "GUEST Tomas lav")["name"] = "GUEST Tomas"


ACCEPTED: list[dict[str, Any]] = []

FAULTS: list[dict[str, Any]] = [
    {
        "id": "producer-open",
        "class": "audible-that-should-not-be",
        "channels": ["Prod TB"],
        "grade": "hold",
        "says": "the producer's talkback is open and leads to the voices",
        "plant": producer_open,
    },
    {
        "id": "key-heard",
        "class": "audible-that-should-not-be",
        "channels": ["KEY VOICE", "VOICES"],
        "grade": "hold",
        "says": "the side-chain key bus leads to the programme: every voice is heard a second time, 6 dB up",
        "plant": key_heard,
    },
    {
        "id": "bed-stays-up",
        "class": "automation",
        "channels": ["BED Tides"],
        "grade": "look",
        "says": "the bed is ridden up at 0:59 and never comes back under the host's second stretch",
        "plant": bed_stays_up,
    },
    {
        "id": "call-jumps",
        "class": "level",
        "channels": ["CALL Capt Brandt"],
        "grade": "look",
        "says": "the call's second line has +19.5 dB of clip gain, its neighbours about +4",
        "plant": call_jumps,
    },
    {
        "id": "fluff-back-on",
        "class": "twice",
        "channels": ["HOST Mara", "HOST Mara pickups"],
        "grade": "hold",
        "says": "the fluffed line at 1:18 plays together with its pick-up: the host speaks over herself",
        "plant": fluff_back_on,
    },
    {
        "id": "bed-file-short",
        "class": "files",
        "channels": ["BED Poem"],
        "grade": "hold",
        "says": "the bed's file is 34 s long but its clip plays 56 s of it from 4 s on: silence under half the poem",
        "plant": bed_file_short,
    },
    {
        "id": "poem-in-solo",
        "class": "inaudible",
        "channels": ["POEM Ilse"],
        "grade": "hold",
        "says": "a solo is left on the poem: nothing else will be in the bounce",
        "plant": poem_in_solo,
    },
    {
        "id": "expander-shut",
        "class": "processors",
        "channels": ["HOST Mara"],
        "grade": "hold",
        "says": "the host's expander opens at -2 dBFS only and takes 80 dB: the host is cut to pieces or gone",
        "plant": expander_shut,
    },
    {
        "id": "theme-chopped",
        "class": "end",
        "channels": ["THEME"],
        "grade": "look",
        "says": "the closing theme ends in a hard cut, without any fade, in the middle of its file",
        "plant": theme_chopped,
    },
    {
        "id": "harbour-right-muted",
        "class": "place",
        "channels": ["ATM harbour R", "ATM harbour L"],
        "grade": "look",
        "says": "the right half of the harbour pair is muted: the atmosphere stands on the left alone",
        "plant": harbour_right_muted,
    },
    {
        "id": "two-of-one-name",
        "class": "hand-over",
        "channels": ["GUEST Tomas"],
        "grade": "note",
        "says": "two channels are called GUEST Tomas, one of them the unused lapel mic",
        "plant": two_of_one_name,
    },
]
