"""A quartet live in a club, "Blue Hour in the Cellar", recorded straight through: no edits, no grid, bleed everywhere.
Audience mics open for the applause, talkback, click, time code and the board mix came along but print nowhere."""

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


HEAD, SOLO1, SOLO2, BASS, TRADES, OUT, CLAP, END = 9.6, 72.4, 141.0, 208.7, 247.2, 281.5, 318.2, 341.0


def good() -> Session:
    """The session as it should be bounced."""
    d = Desk(48000.0)
    whole = [(0.0, END)]
    long_fades = (1.0, 6.0)

    def live(name: str, out: str | None, fader: float, pan: float = 0.0, **more: Any) -> None:
        d.track(name, out, whole, fader=fader, pan=pan, fades=long_fades, **more)

    live("K", "DRMS", -8, inserts=[eq(band("high-pass", 35, slope=12), band("bell", 400, -3, 1.2))])
    live("S", "DRMS", -9, inserts=[eq(band("high-pass", 90, slope=12))])
    live("OH L", "DRMS", -6, -80, inserts=[eq(band("high-pass", 120, slope=12))], sends=[send("Club Plate", -22)])
    live("OH R", "DRMS", -6, 80, inserts=[eq(band("high-pass", 120, slope=12))], sends=[send("Club Plate", -22)])
    live(
        "Bs Mic",
        "BAND",
        -5,
        inserts=[eq(band("high-pass", 40, slope=12))],
        automation=[ride("fader", (0, -5), (BASS, -5), (BASS + 1, -2.5), (TRADES, -2.5), (TRADES + 1, -5))],
    )
    live("Bs DI", "BAND", -12, inserts=[box("utility", "Line Align", delay_ms=1.6, polarity_inverted=False)])
    live(
        "Pno L",
        "BAND",
        -7,
        -60,
        inserts=[box("utility", "Line Align", delay_ms=0.0, polarity_inverted=False)],
        sends=[send("Club Plate", -16)],
    )
    live(
        "Pno R",
        "BAND",
        -7,
        60,
        inserts=[box("utility", "Line Align", delay_ms=0.0, polarity_inverted=False)],
        sends=[send("Club Plate", -16)],
    )
    live(
        "Tpt",
        "BAND",
        -8,
        -18,
        sends=[send("Club Plate", -13)],
        inserts=[
            eq(band("high-pass", 140, slope=12)),
            dyn("compressor", "Slow Leveller", -16, 2.5, 15, 150, output_gain_db=2.0),
        ],
        automation=[
            ride(
                "fader",
                (0, -8),
                (SOLO1, -8),
                (SOLO1 + 1.5, -6),
                (SOLO2, -6),
                (SOLO2 + 1, -9.5),
                (OUT, -9.5),
                (OUT + 1, -8),
            )
        ],
    )
    live(
        "Ten Sax",
        "BAND",
        -8,
        18,
        sends=[send("Club Plate", -14)],
        inserts=[
            eq(band("high-pass", 100, slope=12)),
            dyn("compressor", "Slow Leveller", -16, 2.5, 15, 150, output_gain_db=2.0),
        ],
        automation=[
            ride(
                "fader",
                (0, -8),
                (SOLO1, -9.5),
                (SOLO2, -9.5),
                (SOLO2 + 1.5, -6),
                (BASS, -6),
                (BASS + 1, -9),
                (OUT, -9),
                (OUT + 1, -8),
            )
        ],
    )
    d.track(
        "MC Vox",
        "BAND",
        [(0.4, 8.7), (CLAP + 3.5, CLAP + 14.0)],
        fader=-4,
        sends=[send("Club Plate", -20)],
        inserts=[eq(band("high-pass", 120, slope=18))],
    )
    crowd = ride(
        "fader",
        (0, -8),
        (HEAD - 2, -8),
        (HEAD, -20),
        (SOLO2 - 1, -20),
        (SOLO2 + 1, -14),
        (SOLO2 + 6, -20),
        (BASS - 1, -20),
        (BASS + 1, -14),
        (BASS + 5, -20),
        (OUT, -20),
        (CLAP, -20),
        (CLAP + 1, -6),
        (END, -8),
    )
    for name, pan in (("Aud L", -100), ("Aud R", 100)):
        live(
            name,
            "AUD",
            -8,
            pan,
            inserts=[eq(band("high-pass", 150, slope=12))],
            automation=[{**crowd, "t": list(crowd["t"]), "v": list(crowd["v"])}],
        )
    live("WT Talkb (FOH-Stage)", None, -10, comment="walkie-talkie, keep for the film crew's sync")
    live("Clk Dr", None, -6, comment="tempo reference for the drummer's ear, count-off only")
    live("LTC", None, -10, comment="time code from the cameras")
    d.track("Board Mix 2T", None, whole, fader=-4, legs=2, fades=long_fades, comment="desk 2-track, reference only")
    d.bus(
        "return",
        "Club Plate",
        "BAND",
        fader_db=-6.0,
        inserts=[eq(band("high-pass", 200, slope=12)), box("reverb", "Cellar Plate", 100.0)],
    )
    d.bus("group", "DRMS", "master", fader_db=-1.0)
    d.bus("group", "BAND", "master")
    d.bus("group", "AUD", "master")
    d.bus(
        "master",
        "2-MIX",
        None,
        id="master",
        inserts=[eq(band("low-shelf", 90, -1)), dyn("limiter", "Ceiling", -2.0, 20, 1, 90, output_gain_db=1.0)],
    )
    return d.session(
        "Blue Hour in the Cellar",
        120.0,
        [
            (0.0, "MC intro"),
            (HEAD, "Head"),
            (SOLO1, "Tpt solo"),
            (SOLO2, "Ten solo"),
            (BASS, "Bass solo"),
            (TRADES, "Trades w/ drums"),
            (OUT, "Head out"),
            (CLAP, "Applause"),
            (END, "End"),
        ],
    )


def walkie_open(session: Session) -> None:
    chan(session, "WT Talkb (FOH-Stage)")["output"] = "master"


def board_mix_in(session: Session) -> None:
    chan(session, "Board Mix 2T")["output"] = "master"


def click_in_drums(session: Session) -> None:
    chan(session, "Clk Dr")["output"] = slug("DRMS")


def crowd_one_side(session: Session) -> None:
    chan(session, "Aud R")["pan"] = -100


def crowd_left_up(session: Session) -> None:
    points = chan(session, "Aud R")["automation"][0]
    keep = [k for k, at in enumerate(points["t"]) if at < BASS + 2]
    points["t"], points["v"] = [points["t"][k] for k in keep], [points["v"][k] for k in keep]
    points["v"][-1] = -6


def piano_flipped(session: Session) -> None:
    chan(session, "Pno R")["inserts"][0]["parameters"][1]["value"] = True


def overhead_thin(session: Session) -> None:
    chan(session, "OH L")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 2400.0


def plate_into_drums(session: Session) -> None:
    chan(session, "Club Plate")["output"] = slug("DRMS")


def plate_dry(session: Session) -> None:
    chan(session, "Club Plate")["inserts"][1]["on"] = False


def sax_hot(session: Session) -> None:
    chan(session, "Ten Sax")["inserts"][1]["dynamics"]["output_gain_db"] = 20.0


def note_left(session: Session) -> None:
    chan(session, "Tpt")["comment"] = "TODO: cracked note at 1:52, ask Wim for the other set's take before bounce"


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Clk Dr", "LTC", "WT Talkb (FOH-Stage)", "Board Mix 2T"],
        "why": "recorded tracks without an output may be mentioned once, as not printing",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "walkie-talkie-open",
        "class": "audible-that-should-not-be",
        "channels": ["WT Talkb (FOH-Stage)"],
        "grade": "hold",
        "says": "the walkie-talkie talkback is routed to the 2-mix",
        "plant": walkie_open,
    },
    {
        "id": "board-mix-beside-the-multitrack",
        "class": "twice",
        "channels": ["Board Mix 2T"],
        "grade": "hold",
        "says": "the desk's two-track is routed to the 2-mix and everything sounds twice",
        "plant": board_mix_in,
    },
    {
        "id": "click-in-the-drums",
        "class": "audible-that-should-not-be",
        "channels": ["Clk Dr"],
        "grade": "hold",
        "says": "the drummer's click is routed to the drum group",
        "plant": click_in_drums,
    },
    {
        "id": "audience-on-the-left",
        "class": "place",
        "channels": ["Aud R", "Aud L"],
        "grade": "hold",
        "says": "both audience mics are hard left",
        "plant": crowd_one_side,
    },
    {
        "id": "audience-left-up",
        "class": "automation",
        "channels": ["Aud R"],
        "grade": "look",
        "says": "the right audience mic goes up at the bass solo and stays at -6 dB to the end, its partner comes down",
        "plant": crowd_left_up,
    },
    {
        "id": "piano-pair-flipped",
        "class": "phase",
        "channels": ["Pno R", "Pno L"],
        "grade": "hold",
        "says": "the polarity of the right piano mic is inverted against the left",
        "plant": piano_flipped,
    },
    {
        "id": "overhead-left-thin",
        "class": "processors",
        "channels": ["OH L", "OH R"],
        "grade": "look",
        "says": "the low cut of the left overhead is at 2.4 kHz, that of the right at 120 Hz",
        "plant": overhead_thin,
    },
    {
        "id": "plate-in-the-drum-group",
        "class": "routing",
        "channels": ["Club Plate"],
        "grade": "look",
        "says": "the plate fed mostly by the horns and piano is led into the drum group",
        "plant": plate_into_drums,
    },
    {
        "id": "plate-bypassed",
        "class": "ambience",
        "channels": ["Club Plate"],
        "grade": "hold",
        "says": "the reverb on the plate return is bypassed, the sends come back dry",
        "plant": plate_dry,
    },
    {
        "id": "sax-make-up-hot",
        "class": "headroom",
        "channels": ["Ten Sax"],
        "grade": "look",
        "says": "the make-up gain of the tenor's compressor is 20 dB, the trumpet's same one 2 dB",
        "plant": sax_hot,
    },
    {
        "id": "a-job-not-done",
        "class": "hand-over",
        "channels": ["Tpt"],
        "grade": "note",
        "says": "a note on the trumpet still asks for another take before the bounce",
        "plant": note_left,
    },
]
