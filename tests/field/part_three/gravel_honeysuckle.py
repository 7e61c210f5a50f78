"""A country band, "Gravel and Honeysuckle", 104 bpm: steel and fiddle answer the voice, upright piano, three harmonies.
The lead has a parallel crush beside it, everything vocal hangs on one VCA, and the song fades out on the tag."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

Session = dict[str, Any]
Piece = dict[str, Any]


def slug(name: str) -> str:
    """The id of the channel of this name."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower().replace("+", "plus")).strip("-")


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7, slope: float | None = None) -> Piece:
    """One equalizer band."""
    made: Piece = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if slope is not None:
        made["slope_db_per_oct"] = slope
    return made


def eq(*bands: Piece, name: str = "Strip EQ") -> Piece:
    """An equalizer whose bands are shown."""
    return {
        "name": name,
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "equalizer": {"bands": list(bands)},
    }


def dyn(kind: str, name: str, threshold: float, ratio: float, attack: float, release: float, **more: Any) -> Piece:
    """A compressor, limiter, gate or expander whose settings are shown."""
    wet = more.pop("wet", 100.0)
    return {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": False,
        "wet": wet,
        "dynamics": {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release, **more},
    }


def box(kind: str, name: str, wet: float | None = None, **parameters: Any) -> Piece:
    """A processor whose settings are hidden, but for what is listed here."""
    made: Piece = {"name": name, "kind": kind, "on": True, "opaque": not parameters}
    if wet is not None:
        made["wet"] = wet
    if parameters:
        made["parameters"] = [
            {"id": key, "name": key.replace("_", " "), "value": value} for key, value in parameters.items()
        ]
    return made


def send(to: str, level: float, pan: float = 0.0, tap: str = "post", on: bool = True) -> Piece:
    """A send to the channel of this name."""
    return {"to": slug(to), "level_db": level, "pan": pan, "tap": tap, "on": on}


def ride(target: str, *points: tuple[float, float], scale: str = "dB", shape: str = "linear") -> Piece:
    """Automation drawn through these points."""
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def switch(target: str, *points: tuple[float, float]) -> Piece:
    """On-and-off automation."""
    return ride(target, *points, scale="switch", shape="hold")


class Desk:
    """Collects the channels and the audio files of a session."""

    def __init__(self, rate: float) -> None:
        self.rate = rate
        self.channels: list[Piece] = []
        self.media: list[Piece] = []

    def bus(self, kind: str, name: str, out: str | None, **more: Any) -> None:
        """A group, return, master or VCA; ``out`` is a channel's name."""
        made: Piece = {
            "id": slug(name),
            "name": name,
            "kind": kind,
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "output": None if out is None else slug(out),
        }
        if kind == "vca":
            del made["legs"], made["pan"]
        self.channels.append({**made, **more})

    def take(self, path: str, length: float, legs: int = 1) -> str:
        """An audio file beside the session; gives back its id."""
        ident = f"m{len(self.media) + 1:03d}"
        self.media.append(
            {
                "id": ident,
                "path": f"audio/{path}",
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": self.rate,
                "duration_s": round(length, 3),
            }
        )
        return ident

    def track(
        self,
        name: str,
        out: str | None,
        spans: Sequence[tuple[float, float]],
        fader: float = 0.0,
        pan: float = 0.0,
        legs: int = 1,
        fades: tuple[float, float] = (0.005, 0.01),
        **more: Any,
    ) -> None:
        """A recorded track; its file runs from the song's start, its clips are what was kept of it."""
        file = self.take(f"{slug(name)}_01.wav", max(end for _, end in spans) + 1.5, legs)
        clips = [
            {
                "name": f"{slug(name)}_01.{k:02d}",
                "start_s": round(start, 4),
                "end_s": round(end, 4),
                "file": file,
                "offset_s": round(start, 4),
                "fade_in_s": fades[0],
                "fade_out_s": fades[1],
                "gain_db": 0.0,
            }
            for k, (start, end) in enumerate(spans, 1)
        ]
        self.channels.append(
            {
                "id": slug(name),
                "name": name,
                "kind": "track",
                "plays": ["audio"],
                "legs": legs,
                "fader_db": fader,
                "pan": pan,
                "output": None if out is None else slug(out),
                "clips": clips,
                **more,
            }
        )

    def session(self, title: str, bpm: float, markers: Sequence[tuple[float, str]], **more: Any) -> Session:
        """The whole session."""
        return {
            "title": title,
            "sample_rate_hz": self.rate,
            "timeline": {"tempos": [{"beat": 0.0, "bpm": bpm}]},
            "markers": [{"time_s": round(at, 4), "name": name} for at, name in markers],
            "channels": self.channels,
            "media": self.media,
            **more,
        }


def chan(session: Session, name: str) -> Piece:
    """The channel of this name."""
    found: Piece = next(c for c in session["channels"] if c["name"] == name)
    return found


def media_of(session: Session, name: str) -> Piece:
    """The first file that the channel of this name plays."""
    ident = chan(session, name)["clips"][0]["file"]
    found: Piece = next(m for m in session["media"] if m["id"] == ident)
    return found


BAR = 4 * 60 / 104


def bar(n: float) -> float:
    """Seconds at the start of bar ``n``, counted from 1."""
    return (n - 1) * BAR


BEAT = 60 / 104
END = bar(93)


def good() -> Session:
    """The session as it should be bounced."""
    d = Desk(48000.0)
    band_in = [(bar(1), bar(25)), (bar(25), bar(49)), (bar(49), bar(73)), (bar(73), END)]
    chorus = [(bar(17), bar(25)), (bar(41), bar(49)), (bar(65), bar(81)), (bar(81), END)]
    v: dict[str, Any] = {"parent": slug("V-VOX")}
    d.track(
        "Kik",
        "DRMS",
        band_in,
        fader=-5,
        inserts=[eq(band("bell", 380, -5, 1.2)), dyn("compressor", "Fast Comp", -14, 3, 20, 90)],
    )
    d.track("Sn", "DRMS", band_in, fader=-6, inserts=[eq(band("high-pass", 80, slope=12))], sends=[send("Plate", -16)])
    d.track("Hat", "DRMS", band_in, fader=-16, pan=40, inserts=[eq(band("high-pass", 350, slope=12))])
    d.track("Toms", "DRMS", [(bar(24), bar(25)), (bar(48), bar(49)), (bar(72), bar(73))], fader=-8, legs=2)
    d.track("OH", "DRMS", band_in, fader=-9, legs=2, inserts=[eq(band("high-pass", 180, slope=12))])
    d.track(
        "Bass DI",
        "BAND",
        band_in,
        fader=-4,
        inserts=[
            eq(band("high-pass", 35, slope=12)),
            dyn("compressor", "Slow Leveller", -18, 4, 20, 140, output_gain_db=3.0),
        ],
    )
    d.track("Ac Gtr Strum", "BAND", band_in, fader=-10, pan=-50, inserts=[eq(band("high-pass", 140, slope=12))])
    d.track(
        "El Gtr Twang",
        "BAND",
        [(bar(1), bar(9)), (bar(17), bar(25)), (bar(33), bar(57)), (bar(65), END)],
        fader=-9,
        pan=30,
        sends=[send("Spring", -10)],
    )
    d.track(
        "Ped Steel",
        "BAND",
        [(bar(1), bar(9)), (bar(17), bar(33)), (bar(41), bar(57)), (bar(65), END)],
        fader=-7,
        pan=-28,
        sends=[send("Plate", -12)],
        comment="volume pedal, no compressor please",
        automation=[
            ride(
                "fader",
                (0, -7),
                (bar(9), -7),
                (bar(17), -11),
                (bar(24.5), -11),
                (bar(25), -9),
                (bar(48.5), -11),
                (bar(49), -5),
                (bar(56.8), -5),
                (bar(57), -9),
                (END, -9),
            )
        ],
    )
    d.track(
        "Fiddle",
        "BAND",
        [(bar(5), bar(9)), (bar(13), bar(17)), (bar(33), bar(41)), (bar(57), bar(65)), (bar(73), END)],
        fader=-8,
        pan=35,
        sends=[send("Plate", -11)],
        inserts=[eq(band("high-pass", 190, slope=12), band("low-pass", 15000, slope=6))],
    )
    d.track("Fiddle alt T2", "BAND", [(bar(57), bar(65))], fader=-8, pan=35, mute=True, comment="second choice solo")
    piano = [(bar(9), bar(25)), (bar(25), bar(49)), (bar(57), END)]
    d.track("Upr Pno Lo", "BAND", piano, fader=-12, pan=-45, inserts=[eq(band("high-pass", 90, slope=12))])
    d.track("Upr Pno Hi", "BAND", piano, fader=-12, pan=45, inserts=[eq(band("high-pass", 150, slope=12))])
    d.track(
        "Ld Vox",
        "VOX",
        [
            (bar(9) - BEAT, bar(17)),
            (bar(17), bar(25)),
            (bar(33) - BEAT, bar(41)),
            (bar(41), bar(49)),
            (bar(65), bar(81)),
            (bar(81), END),
        ],
        fader=-1,
        inserts=[
            eq(band("high-pass", 90, slope=18), band("bell", 2900, 1.5, 0.9)),
            dyn("compressor", "Slow Leveller", -20, 3, 10, 120, output_gain_db=4.0),
        ],
        sends=[send("LV CRUSH", 0), send("Plate", -15), send("Slap", -20)],
        automation=[
            ride(
                "fader",
                (0, -1),
                (bar(17), -1),
                (bar(17) + 0.3, -0.3),
                (bar(25), -0.3),
                (bar(33), -1.4),
                (bar(41), -0.5),
                (bar(65), -0.5),
                (bar(81), -1),
            )
        ],
        **v,
    )
    for name, pan, fader in (("Harm Hi", 40, -8), ("Harm Mid", -5, -9), ("Harm Lo", -40, -8)):
        d.track(
            name,
            "HARM",
            chorus,
            fader=fader,
            pan=pan,
            inserts=[eq(band("high-pass", 130, slope=18))],
            sends=[send("Plate", -11)],
            **v,
        )
    d.track("Clk", "CUE", [(0.0, END)], fader=-8)
    d.bus(
        "return",
        "Plate",
        "master",
        fader_db=-5.0,
        inserts=[eq(band("high-pass", 160, slope=12)), box("reverb", "Barn Plate", 100.0)],
    )
    d.bus("return", "Slap", "VOX", fader_db=-6.0, inserts=[box("delay", "Tape Loop", 100.0, time_ms=132.0)])
    d.bus("return", "Spring", "BAND", fader_db=-6.0, inserts=[box("reverb", "Long Spring", 100.0)])
    d.bus(
        "group",
        "LV CRUSH",
        "VOX",
        fader_db=-12.0,
        inserts=[dyn("compressor", "All Buttons", -36, 12, 1, 60, output_gain_db=10.0)],
    )
    d.bus("group", "HARM", "VOX", fader_db=-1.0)
    d.bus("group", "VOX", "master")
    d.bus("group", "BAND", "master", fader_db=-0.5)
    d.bus("group", "DRMS", "master")
    d.bus("group", "CUE", None)
    d.bus("vca", "V-VOX", None)
    d.bus(
        "master",
        "master",
        None,
        inserts=[
            dyn("compressor", "Bus Glue", -12, 1.5, 30, 150, output_gain_db=1.0),
            dyn("limiter", "Brick", -2.0, 20, 1, 70, output_gain_db=1.0),
        ],
        automation=[ride("fader", (0, 0), (bar(85), 0), (bar(89), -9), (bar(91), -24), (bar(92.5), -200))],
    )
    return d.session(
        "Gravel and Honeysuckle",
        104.0,
        [
            (bar(1), "Intro"),
            (bar(9), "V1"),
            (bar(17), "Ch1"),
            (bar(25), "Turn"),
            (bar(33), "V2"),
            (bar(41), "Ch2"),
            (bar(49), "Steel solo"),
            (bar(57), "Fiddle solo"),
            (bar(65), "Ch3"),
            (bar(81), "Tag, fade"),
            (END, "End"),
        ],
    )


def crush_bypassed(session: Session) -> None:
    chan(session, "LV CRUSH")["inserts"][0]["on"] = False


def crush_before_fader(session: Session) -> None:
    chan(session, "Ld Vox")["sends"][0]["tap"] = "pre"


def piano_one_side(session: Session) -> None:
    chan(session, "Upr Pno Hi")["pan"] = -45


def harmony_low(session: Session) -> None:
    chan(session, "Harm Lo")["clips"][2]["gain_db"] = -14.0


def fiddle_dull(session: Session) -> None:
    chan(session, "Fiddle")["inserts"][0]["equalizer"]["bands"][1]["freq_hz"] = 700.0


def two_solos(session: Session) -> None:
    chan(session, "Fiddle alt T2")["mute"] = False


def steel_stays_low(session: Session) -> None:
    chan(session, "Ped Steel")["automation"][0] = ride("fader", (0, -7), (bar(9), -7), (bar(17), -19))


def verse_two_late(session: Session) -> None:
    clip = chan(session, "Ld Vox")["clips"][2]
    clip["offset_s"] = round(clip["offset_s"] - BEAT, 4)


def steel_outside(session: Session) -> None:
    file = media_of(session, "Ped Steel")
    file["path"], file["place"] = "../../overdub drive/ped steel comp.wav", "outside"


def vca_down(session: Session) -> None:
    chan(session, "V-VOX")["fader_db"] = -12.0


def fade_half(session: Session) -> None:
    chan(session, "master")["automation"][0] = ride("fader", (0, 0), (bar(85), 0), (bar(89), -9), (bar(92.5), -14))


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Fiddle alt T2"], "why": "a muted second choice may be mentioned"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "crush-without-its-compressor",
        "class": "twice",
        "channels": ["LV CRUSH"],
        "grade": "hold",
        "says": "the compressor of the parallel vocal bus is bypassed, the bus only adds the same voice again",
        "plant": crush_bypassed,
    },
    {
        "id": "crush-taken-before-the-fader",
        "class": "routing",
        "channels": ["Ld Vox", "LV CRUSH"],
        "grade": "look",
        "says": "the crush is fed before the fader, so the rides and mutes of the lead do not reach it",
        "plant": crush_before_fader,
    },
    {
        "id": "piano-on-one-side",
        "class": "place",
        "channels": ["Upr Pno Hi", "Upr Pno Lo"],
        "grade": "look",
        "says": "both piano mics are panned to the left, the pair should open left and right",
        "plant": piano_one_side,
    },
    {
        "id": "low-harmony-missing-a-chorus",
        "class": "level",
        "channels": ["Harm Lo"],
        "grade": "look",
        "says": "the clip gain of the low harmony in chorus 3 is 14 dB under its other choruses",
        "plant": harmony_low,
    },
    {
        "id": "fiddle-through-a-wall",
        "class": "processors",
        "channels": ["Fiddle"],
        "grade": "look",
        "says": "the low-pass of the fiddle is at 700 Hz, hardly above its notes",
        "plant": fiddle_dull,
    },
    {
        "id": "two-fiddle-solos",
        "class": "audible-that-should-not-be",
        "channels": ["Fiddle alt T2"],
        "grade": "hold",
        "says": "the second-choice solo is unmuted and plays at the same time as the chosen one",
        "plant": two_solos,
    },
    {
        "id": "steel-never-back-up",
        "class": "automation",
        "channels": ["Ped Steel"],
        "grade": "look",
        "says": "the steel is ridden down 12 dB at chorus 1 and stays there, its solo at bar 49 included",
        "plant": steel_stays_low,
    },
    {
        "id": "verse-two-a-beat-off",
        "class": "edits",
        "channels": ["Ld Vox"],
        "grade": "hold",
        "says": "the clip of verse 2 plays its recording a beat away from all the other clips of the same take",
        "plant": verse_two_late,
    },
    {
        "id": "steel-on-another-drive",
        "class": "files",
        "channels": ["Ped Steel"],
        "grade": "look",
        "says": "the steel's file lies outside the session and will not travel with it",
        "plant": steel_outside,
    },
    {
        "id": "vocal-vca-down",
        "class": "level",
        "channels": ["V-VOX"],
        "grade": "hold",
        "says": "the vocal VCA stands at -12 dB and pulls every voice down",
        "plant": vca_down,
    },
    {
        "id": "fade-stops-halfway",
        "class": "end",
        "channels": ["master"],
        "grade": "hold",
        "says": "the fade-out stops at -14 dB and the music then cuts off",
        "plant": fade_half,
    },
]
