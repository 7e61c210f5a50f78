"""A chamber orchestra with cor anglais, "Concertino, II. Adagio", 96 kHz, free tempo, edited from three takes.
A three-mic tree carries the picture, outriggers widen it, delayed spots lean in; all mics are cut at the same edits."""

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


# The edits, in seconds: which take plays from where to where, and how the take lies against the score.
EDITS = [
    (2.0, 64.35, "T3", 11.2),
    (64.35, 131.8, "T5", 7.94),
    (131.8, 188.12, "T3", 12.6),
    (188.12, 289.0, "T8", -150.3),
]
LAST = 276.4


def good() -> Session:
    """The session as it should be bounced."""
    d = Desk(96000.0)

    def mic(name: str, out: str | None, fader: float, pan: float, delay: float | None = None, **more: Any) -> None:
        files = {
            take: d.take(f"{take}/{slug(name)}_{take}.wav", length)
            for take, length in (("T3", 306.0), ("T5", 301.5), ("T8", 147.2))
        }
        clips = []
        for k, (start, end, take, shift) in enumerate(EDITS):
            clips.append(
                {
                    "name": f"{slug(name)}_{take}",
                    "start_s": start,
                    "end_s": end,
                    "file": files[take],
                    "offset_s": round(start + shift, 3),
                    "fade_in_s": 1.2 if k == 0 else 0.03,
                    "fade_out_s": 5.0 if k == 3 else 0.03,
                    "gain_db": 0.0,
                }
            )
        line = box("utility", "Mic Align", delay_ms=delay or 0.0, polarity_inverted=False)
        inserts = [line] + more.pop("inserts", [])
        d.channels.append(
            {
                "id": slug(name),
                "name": name,
                "kind": "track",
                "plays": ["audio"],
                "legs": 1,
                "fader_db": fader,
                "pan": pan,
                "output": None if out is None else slug(out),
                "inserts": inserts,
                "clips": clips,
                **more,
            }
        )

    mic("Main L", "TREE", 0.0, -100)
    mic("Main C", "TREE", -3.0, 0)
    mic("Main R", "TREE", 0.0, 100)
    mic("Outrigger L", "TREE", -4.5, -100)
    mic("Outrigger R", "TREE", -4.5, 100)
    mic("Sala L", "TREE", -9.0, -100)
    mic("Sala R", "TREE", -9.0, 100)
    mic(
        "Solo C.ingl. A",
        "SOLO",
        -8.0,
        4,
        9.8,
        sends=[send("Hall", -15)],
        inserts=[eq(band("high-pass", 120, slope=12))],
        automation=[
            ride(
                "fader",
                (0, -8),
                (96.0, -8),
                (98.5, -6),
                (150.0, -6),
                (153.0, -8),
                (204.0, -8),
                (206.0, -5),
                (241.0, -5),
                (244.0, -8),
            )
        ],
    )
    mic("Solo C.ingl. B", "SOLO", -20.0, 4, 9.1, mute=True, comment="ribbon, spare")
    mic("Spot Vl I", "ARCHI", -14.0, -55, 13.4, sends=[send("Hall", -12)])
    mic("Spot Vl II", "ARCHI", -14.5, -25, 14.1, sends=[send("Hall", -12)])
    mic("Spot Viole", "ARCHI", -14.0, 20, 14.6, sends=[send("Hall", -12)])
    mic("Spot Celli", "ARCHI", -13.0, 45, 12.9, sends=[send("Hall", -14)])
    mic("Spot C.bassi", "ARCHI", -15.0, 65, 15.2)
    mic("Spot Fl / Ob", "LEGNI", -16.0, -12, 19.5, sends=[send("Hall", -11)])
    mic("Spot Cl / Fag", "LEGNI", -16.0, 14, 19.9, sends=[send("Hall", -11)])
    mic("Corni", "LEGNI", -19.0, -35, 23.3, sends=[send("Hall", -11)])
    mic(
        "Arpa",
        "LEGNI",
        -15.0,
        -60,
        17.0,
        sends=[send("Hall", -12)],
        automation=[ride("fader", (0, -15), (188.12, -15), (190.0, -12), (203.0, -12), (206.0, -15))],
    )
    mic("Timp", "LEGNI", -21.0, 10, 25.8)
    mic("TB Regia", None, -10.0, 0, comment="slates between the takes")
    d.bus(
        "return",
        "Hall",
        "master",
        fader_db=-6.0,
        inserts=[
            eq(band("high-pass", 90, slope=12), band("low-pass", 9000, slope=6)),
            box("reverb", "Stone Nave", 100.0),
        ],
    )
    d.bus("group", "TREE", "master")
    d.bus("group", "SOLO", "master")
    d.bus("group", "ARCHI", "master", fader_db=-1.0)
    d.bus("group", "LEGNI", "master", comment="legni, corni, arpa, timpani")
    d.bus("master", "Mix", None, id="master", inserts=[dyn("limiter", "Safety", -1.0, 20, 1, 120)])
    return d.session(
        "Concertino, II. Adagio",
        120.0,
        [
            (2.0, "Intro archi"),
            (30.5, "Solo entra"),
            (64.35, "edit T5"),
            (96.0, "B - più mosso"),
            (131.8, "edit T3"),
            (188.12, "edit T8 Arpa"),
            (204.0, "Cadenza"),
            (243.0, "Coda"),
            (LAST, "last chord off"),
            (289.0, "silence"),
        ],
    )


def outrigger_centre(session: Session) -> None:
    chan(session, "Outrigger R")["pan"] = 0


def celli_past_stem(session: Session) -> None:
    chan(session, "Spot Celli")["output"] = "master"


def viole_other_take(session: Session) -> None:
    clips = chan(session, "Spot Viole")["clips"]
    clips[1]["file"] = clips[0]["file"]
    clips[1]["name"] = clips[0]["name"]
    clips[1]["offset_s"] = round(64.35 + 11.2, 3)


def main_r_flipped(session: Session) -> None:
    chan(session, "Main R")["inserts"][0]["parameters"][1]["value"] = True


def solo_stays_up(session: Session) -> None:
    chan(session, "Solo C.ingl. A")["automation"][0] = ride(
        "fader", (0, -8), (96.0, -8), (98.5, -6), (150.0, -6), (153.0, -8), (204.0, -8), (206.0, 0)
    )


def regia_open(session: Session) -> None:
    chan(session, "TB Regia")["output"] = "master"


def timp_up(session: Session) -> None:
    chan(session, "Timp")["fader_db"] = 2.0


def sala_missing(session: Session) -> None:
    media_of(session, "Sala R")["present"] = False


def no_ring(session: Session) -> None:
    for channel in session["channels"]:
        for clip in channel.get("clips", []):
            if clip["end_s"] == 289.0:
                clip["end_s"] = 276.9
                clip["fade_out_s"] = 0.02


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Solo C.ingl. B"], "why": "a muted spare mic may be mentioned"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "outrigger-r-centre",
        "class": "place",
        "channels": ["Outrigger R", "Outrigger L"],
        "grade": "hold",
        "says": "the right outrigger stands in the centre while its partner is hard left",
        "plant": outrigger_centre,
    },
    {
        "id": "celli-past-the-stem",
        "class": "routing",
        "channels": ["Spot Celli"],
        "grade": "look",
        "says": "the cello spot goes straight to the master, past the string group where the other strings are",
        "plant": celli_past_stem,
    },
    {
        "id": "viole-on-another-take",
        "class": "edits",
        "channels": ["Spot Viole"],
        "grade": "hold",
        "says": "between 1:04 and 2:11 the viola spot still plays take 3 where every other mic plays take 5",
        "plant": viole_other_take,
    },
    {
        "id": "main-r-flipped",
        "class": "phase",
        "channels": ["Main R", "Main L", "Main C"],
        "grade": "hold",
        "says": "the polarity of the right tree mic is inverted against left and centre",
        "plant": main_r_flipped,
    },
    {
        "id": "solo-left-up",
        "class": "automation",
        "channels": ["Solo C.ingl. A"],
        "grade": "look",
        "says": "the ride for the cadenza takes the soloist up 8 dB and never brings it back for the coda",
        "plant": solo_stays_up,
    },
    {
        "id": "regia-talkback-open",
        "class": "audible-that-should-not-be",
        "channels": ["TB Regia"],
        "grade": "hold",
        "says": "the control-room talkback with its slates is routed to the mix",
        "plant": regia_open,
    },
    {
        "id": "timpani-spot-up",
        "class": "level",
        "channels": ["Timp"],
        "grade": "look",
        "says": "the timpani spot is at +2 dB, above the tree, where all the other spots lie 13 to 20 dB under it",
        "plant": timp_up,
    },
    {
        "id": "sala-r-file-missing",
        "class": "files",
        "channels": ["Sala R"],
        "grade": "hold",
        "says": "the take 3 file of the right hall mic is missing",
        "plant": sala_missing,
    },
    {
        "id": "hall-cut-at-the-last-chord",
        "class": "end",
        "channels": ["Main L", "Main C", "Main R", "Outrigger L", "Outrigger R", "Sala L", "Sala R", "Mix"],
        "grade": "hold",
        "says": "every mic is cut half a second after the last chord with a 20 ms fade, the hall never rings out",
        "plant": no_ring,
    },
]
