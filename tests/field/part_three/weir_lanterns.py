"""A duo of singer-songwriters, "Lanterns on the Weir": three acoustics, upright and brushes, 84 bpm, 3:49.
Each acoustic sits to one side and its mono chamber answers from the other; bass and kit stay in the middle."""

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


BAR = 4 * 60 / 84


def bar(n: float) -> float:
    """Seconds at the start of bar ``n``, counted from 1."""
    return (n - 1) * BAR


END = bar(79) + 5.2


def good() -> Session:
    """The session as it should be bounced."""
    d = Desk(48000.0)
    low_cut = band("high-pass", 85, slope=12)
    opto = dyn("compressor", "Slow Leveller", -20, 3, 12, 160, output_gain_db=3.0)
    # Ines sings verse 1 and the bridge, Joost verse 2; they share the choruses.
    d.track(
        "Ines Vox",
        "VOX",
        [(bar(9), bar(24.8)), (bar(25), bar(33)), (bar(49), bar(57)), (bar(57), bar(65)), (bar(65), bar(76))],
        fader=-1.5,
        pan=-8,
        inserts=[eq(low_cut, band("bell", 260, -2.5, 1.4), band("high-shelf", 9000, 2)), opto],
        sends=[send("Vox Chamber", -14), send("Slap 118", -22)],
        automation=[
            ride(
                "fader",
                (0, -1.5),
                (bar(25), -1.5),
                (bar(25) + 0.4, -2.5),
                (bar(33), -2.5),
                (bar(33) + 0.4, -1.5),
                (bar(57), -0.5),
                (bar(65), -2.0),
                (bar(76), -1.5),
            )
        ],
    )
    d.track(
        "Joost Vox",
        "VOX",
        [(bar(25), bar(33)), (bar(33), bar(48.8)), (bar(49), bar(57)), (bar(65), bar(76))],
        fader=-1.0,
        pan=8,
        inserts=[eq(band("high-pass", 75, slope=12), band("bell", 320, -3, 1.2)), opto],
        sends=[send("Vox Chamber", -14), send("Slap 118", -24)],
        automation=[switch("mute", (0, 0), (bar(57), 1), (bar(64.8), 0))],
    )
    d.track(
        "Ac Gtr Ines",
        "GTRS",
        [(bar(1), bar(25)), (bar(25), bar(57)), (bar(57), END)],
        fader=-5,
        pan=-70,
        fades=(0.01, 0.6),
        inserts=[eq(band("high-pass", 95, slope=12), band("bell", 190, -3, 1.0))],
        sends=[send("Chamber Ines R", -12)],
    )
    d.track("Ac Ines DI", "GTRS", [(bar(1), END)], fader=-12, pan=-70, mute=True, comment="spare, mic is nicer")
    d.track(
        "Ac Gtr Joost",
        "GTRS",
        [(bar(5), bar(33)), (bar(33), bar(65)), (bar(65), END)],
        fader=-5.5,
        pan=65,
        fades=(0.01, 0.8),
        inserts=[eq(band("high-pass", 90, slope=12), band("bell", 2800, -1.5, 1.6))],
        sends=[send("Chamber Joost L", -12)],
    )
    d.track("Ac Joost DI", "GTRS", [(bar(5), END)], fader=-12, pan=65, mute=True)
    d.track(
        "Ac HiStrung",
        "GTRS",
        [(bar(25), bar(33)), (bar(49), bar(57)), (bar(65), END)],
        fader=-9,
        pan=32,
        fades=(0.01, 0.8),
        inserts=[eq(band("high-pass", 220, slope=18), band("high-shelf", 10000, 1.5))],
        sends=[send("Chamber HiStr L", -10)],
        comment="capo 5, octave strings on the low four",
    )
    d.track(
        "UB Mic",
        "RHYTHM",
        [(bar(9), bar(25)), (bar(25), bar(49)), (bar(49), bar(57)), (bar(61), END)],
        fader=-3,
        fades=(0.008, 0.4),
        inserts=[
            eq(band("high-pass", 38, slope=12), band("bell", 140, -2.5, 1.1)),
            dyn("compressor", "Slow Leveller", -22, 3, 25, 180, output_gain_db=2.5),
        ],
    )
    d.track(
        "UB DI",
        "RHYTHM",
        [(bar(9), bar(25)), (bar(25), bar(49)), (bar(49), bar(57)), (bar(61), END)],
        fader=-11,
        fades=(0.008, 0.4),
        inserts=[
            box("utility", "Nudge Tool", delay_ms=2.1, polarity_inverted=False),
            eq(band("low-pass", 3200, slope=12)),
        ],
    )
    kit = [(bar(17), bar(25)), (bar(25), bar(49)), (bar(49), bar(57)), (bar(63), END)]
    d.track(
        "Brushes OH",
        "RHYTHM",
        kit,
        fader=-6,
        legs=2,
        fades=(0.01, 0.9),
        sends=[send("Wood Room", -16)],
        inserts=[eq(band("high-pass", 60, slope=12))],
    )
    d.track("Brushes Snr", "RHYTHM", kit, fader=-10, inserts=[eq(band("high-pass", 110, slope=12))])
    d.track("Kick Felt", "RHYTHM", kit, fader=-8, inserts=[eq(band("low-pass", 5000, slope=12))])
    d.track("Guide Vx+Gt", "master", [(bar(1), bar(76))], fader=-8, mute=True, comment="guide from the kitchen demo")
    d.track("Clk", "CUE", [(bar(1), bar(79))], fader=-6)
    d.bus(
        "return",
        "Chamber Ines R",
        "GTRS",
        legs=1,
        fader_db=-4.0,
        pan=70,
        inserts=[box("reverb", "Brick Chamber", 100.0), eq(band("high-pass", 250, slope=12))],
    )
    d.bus(
        "return",
        "Chamber Joost L",
        "GTRS",
        legs=1,
        fader_db=-4.0,
        pan=-65,
        inserts=[box("reverb", "Brick Chamber", 100.0), eq(band("high-pass", 250, slope=12))],
    )
    d.bus(
        "return",
        "Chamber HiStr L",
        "GTRS",
        legs=1,
        fader_db=-3.0,
        pan=-32,
        inserts=[box("reverb", "Brick Chamber", 100.0), eq(band("high-pass", 300, slope=12))],
    )
    d.bus(
        "return",
        "Vox Chamber",
        "VOX",
        fader_db=-2.0,
        inserts=[eq(band("high-pass", 180, slope=12)), box("reverb", "Mill Chamber", 100.0)],
    )
    d.bus(
        "return",
        "Slap 118",
        "VOX",
        fader_db=-3.0,
        inserts=[box("delay", "Tape Loop", 100.0, time_ms=118.0, feedback_percent=0.0)],
    )
    d.bus("return", "Wood Room", "RHYTHM", fader_db=-5.0, inserts=[box("reverb", "Wood Room", 100.0)])
    d.bus("group", "VOX", "master")
    d.bus("group", "GTRS", "master", fader_db=-0.5)
    d.bus("group", "RHYTHM", "master")
    d.bus("group", "CUE", None, fader_db=-3.0, comment="phones only")
    d.bus(
        "master",
        "master",
        None,
        inserts=[
            dyn("compressor", "Bus Glue", -12, 1.5, 30, 200, output_gain_db=1.0),
            dyn("limiter", "Ceiling", -1.5, 20, 1, 80),
        ],
    )
    return d.session(
        "Lanterns on the Weir",
        84.0,
        [
            (bar(1), "Intro"),
            (bar(9), "V1 Ines"),
            (bar(25), "Ch 1"),
            (bar(33), "V2 Joost"),
            (bar(49), "Ch 2"),
            (bar(57), "Bridge"),
            (bar(65), "Ch 3"),
            (bar(76), "Outro"),
            (END, "End"),
        ],
    )


def same_side(session: Session) -> None:
    chan(session, "Chamber Ines R")["pan"] = -70


def chamber_half_dry(session: Session) -> None:
    chan(session, "Chamber Joost L")["inserts"][0]["wet"] = 40.0


def joost_stays_out(session: Session) -> None:
    chan(session, "Joost Vox")["automation"][0] = switch("mute", (0, 0), (bar(57), 1))


def verse_two_low(session: Session) -> None:
    chan(session, "Joost Vox")["clips"][1]["gain_db"] = -12.0


def guide_open(session: Session) -> None:
    chan(session, "Guide Vx+Gt")["mute"] = False


def bass_hole(session: Session) -> None:
    clips = chan(session, "UB Mic")["clips"]
    clips[1]["end_s"] = round(bar(47), 4)
    clips[1]["fade_out_s"] = 0.0


def di_late(session: Session) -> None:
    for clip in chan(session, "UB DI")["clips"]:
        clip["offset_s"] = round(clip["offset_s"] - 0.026, 4)


def last_chord_cut(session: Session) -> None:
    clip = chan(session, "Ac Gtr Ines")["clips"][-1]
    clip["end_s"] = round(bar(79) + 0.3, 4)
    clip["fade_out_s"] = 0.0


def tempo_left(session: Session) -> None:
    session["timeline"]["tempos"][0]["bpm"] = 90.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Guide Vx+Gt"], "why": "a muted guide still routed to the master: harmless, may be mentioned"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "chamber-on-its-own-side",
        "class": "place",
        "channels": ["Chamber Ines R"],
        "grade": "look",
        "says": "the chamber of Ines' guitar is named R and should answer from the right, but is panned left on top of "
        "the guitar itself",
        "plant": same_side,
    },
    {
        "id": "chamber-half-dry",
        "class": "ambience",
        "channels": ["Chamber Joost L"],
        "grade": "look",
        "says": "the chamber return is only 40 % wet, so the dry guitar comes back from the other side",
        "plant": chamber_half_dry,
    },
    {
        "id": "joost-muted-to-the-end",
        "class": "inaudible",
        "channels": ["Joost Vox"],
        "grade": "hold",
        "says": "Joost is muted for the bridge and never unmuted, his last chorus is silent",
        "plant": joost_stays_out,
    },
    {
        "id": "verse-two-under",
        "class": "level",
        "channels": ["Joost Vox"],
        "grade": "look",
        "says": "the clip gain of verse 2 is 12 dB below his other clips",
        "plant": verse_two_low,
    },
    {
        "id": "guide-open",
        "class": "audible-that-should-not-be",
        "channels": ["Guide Vx+Gt"],
        "grade": "hold",
        "says": "the guide take is unmuted and goes to the master",
        "plant": guide_open,
    },
    {
        "id": "bass-mic-hole",
        "class": "edits",
        "channels": ["UB Mic"],
        "grade": "look",
        "says": "the bass mic stops dead two bars before chorus 2 while its DI plays on",
        "plant": bass_hole,
    },
    {
        "id": "di-late-to-mic",
        "class": "phase",
        "channels": ["UB DI", "UB Mic"],
        "grade": "look",
        "says": "the DI plays its recording 26 ms away from the mic of the same bass",
        "plant": di_late,
    },
    {
        "id": "last-chord-cut",
        "class": "end",
        "channels": ["Ac Gtr Ines"],
        "grade": "look",
        "says": "the last chord of Ines' guitar is cut without a fade while everything else rings five seconds longer",
        "plant": last_chord_cut,
    },
    {
        "id": "tempo-of-another-song",
        "class": "tempo",
        "channels": ["master", "Ac Gtr Ines", "Ac Gtr Joost", "Clk"],
        "grade": "look",
        "says": "the tempo map says 90, the clips and markers lie on the bars of 84",
        "plant": tempo_left,
    },
]
