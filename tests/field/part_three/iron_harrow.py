"""A metal band, "Iron Harrow", 148 bpm: quad-tracked rhythm guitars, kick samples, a bass DI with two amps.
DIs are kept muted for re-amping, a printed trigger spike feeds no bus, the drums have a parallel crush and a VCA."""

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


BAR = 4 * 60 / 148


def bar(n: float) -> float:
    """Seconds at the start of bar ``n``, counted from 1."""
    return (n - 1) * BAR


SECTIONS = [
    (bar(1), "Intro"),
    (bar(9), "Riff A"),
    (bar(17), "Verse 1"),
    (bar(33), "Chorus 1"),
    (bar(49), "Verse 2"),
    (bar(65), "Chorus 2"),
    (bar(81), "Breakdown"),
    (bar(97), "Solo"),
    (bar(113), "Chorus 3"),
    (bar(129), "Outro"),
]
END = bar(141) + 3.0


def good() -> Session:
    """The session as it should be bounced."""
    d = Desk(48000.0)
    drums = [(bar(9), bar(49)), (bar(49), bar(81)), (bar(81), bar(113)), (bar(113), END)]
    riffs = [
        (bar(9), bar(33)),
        (bar(33), bar(49)),
        (bar(49), bar(65)),
        (bar(65), bar(81)),
        (bar(81), bar(97)),
        (bar(97), bar(113)),
        (bar(113), bar(129)),
        (bar(129), END),
    ]
    chorus = [(bar(33), bar(49)), (bar(65), bar(81)), (bar(113), bar(129))]
    verse = [(bar(17), bar(33)), (bar(49), bar(65)), (bar(81), bar(97))]
    v: dict[str, Any] = {"parent": slug("VCA DRM")}

    def tight(threshold: float) -> Piece:
        return dyn("gate", "Hard Gate", threshold, 10, 0.3, 90, range_db=-40.0)

    d.track("Kick In", "DRUMS", drums, fader=-6, inserts=[tight(-28), eq(band("bell", 350, -6, 1.2))], **v)
    d.track("Kick Out", "DRUMS", drums, fader=-10, inserts=[tight(-30), eq(band("low-shelf", 60, 3))], **v)
    d.track(
        "Kick Smp Click",
        "DRUMS",
        drums,
        fader=-9,
        inserts=[eq(band("high-pass", 900, slope=12))],
        comment="printed from the trigger",
        **v,
    )
    d.track("Kick Smp Low", "DRUMS", drums, fader=-12, inserts=[eq(band("low-pass", 160, slope=24))], **v)
    d.track("Kick Trig", None, drums, fader=0, comment="spike, keys the gates only")
    d.track(
        "Snr Top",
        "DRUMS",
        drums,
        fader=-5,
        sends=[send("Drm Plate", -12)],
        inserts=[
            box("utility", "Flip", polarity_inverted=False),
            tight(-26),
            dyn("compressor", "Fast Comp", -14, 4, 8, 70, output_gain_db=3.0),
        ],
        **v,
    )
    d.track(
        "Snr Btm",
        "DRUMS",
        drums,
        fader=-13,
        inserts=[box("utility", "Flip", polarity_inverted=True), eq(band("high-pass", 200, slope=12))],
        **v,
    )
    d.track("Snr Smp", "DRUMS", drums, fader=-11, sends=[send("Drm Plate", -10)], **v)
    for name, pan, threshold in (("Tom 1", -35, -30.0), ("Tom 2", 5, -31.0), ("Tom 3", 45, -32.0)):
        d.track(
            name,
            "DRUMS",
            drums,
            fader=-6,
            pan=pan,
            sends=[send("Drm Plate", -15)],
            inserts=[tight(threshold), eq(band("bell", 420, -5, 1.1))],
            **v,
        )
    d.track("HH", "DRUMS", drums, fader=-16, pan=-50, inserts=[eq(band("high-pass", 450, slope=18))], **v)
    d.track("Ride", "DRUMS", drums, fader=-15, pan=50, inserts=[eq(band("high-pass", 400, slope=18))], **v)
    d.track("China", "DRUMS", drums, fader=-15, pan=70, inserts=[eq(band("high-pass", 400, slope=18))], **v)
    d.track("OH L", "DRUMS", drums, fader=-8, pan=-100, inserts=[eq(band("high-pass", 350, slope=12))], **v)
    d.track("OH R", "DRUMS", drums, fader=-8, pan=100, inserts=[eq(band("high-pass", 350, slope=12))], **v)
    d.track("Rm L", "DRUMS", drums, fader=-13, pan=-100, **v)
    d.track("Rm R", "DRUMS", drums, fader=-13, pan=100, **v)
    d.track(
        "Bass DI",
        "BASS",
        riffs,
        fader=-8,
        inserts=[eq(band("low-pass", 220, slope=24)), dyn("limiter", "Flat Line", -16, 20, 1, 60, output_gain_db=4.0)],
    )
    d.track("Bass Amp Cln", "BASS", riffs, fader=-10, inserts=[eq(band("high-pass", 120, slope=12))])
    d.track(
        "Bass Amp Grind",
        "BASS",
        riffs,
        fader=-12,
        inserts=[eq(band("high-pass", 350, slope=18), band("low-pass", 6500, slope=12))],
    )
    for name, pan in (("RG L1", -100), ("RG L2", -80), ("RG R1", 100), ("RG R2", 80)):
        first = name.endswith("1")
        d.track(
            name,
            "RHY GTR",
            riffs if first else sorted([riffs[0], *chorus, riffs[4], riffs[7]]),
            fader=-7 if first else -9,
            pan=pan,
            inserts=[eq(band("high-pass", 85, slope=18), band("low-pass", 10500, slope=12))],
        )
        d.track(f"{name} DI", "RHY GTR", riffs, fader=-15, pan=pan, mute=True)
    d.track(
        "Cln Gtr L", "LEADS", [(bar(1), bar(9)), (bar(81), bar(89))], fader=-11, pan=-60, sends=[send("Ld Dly", -14)]
    )
    d.track(
        "Cln Gtr R", "LEADS", [(bar(1), bar(9)), (bar(81), bar(89))], fader=-11, pan=60, sends=[send("Ld Dly", -14)]
    )
    d.track("Ld Gtr Solo", "LEADS", [(bar(97), bar(105)), (bar(105), bar(113))], fader=-5, sends=[send("Ld Dly", -9)])
    d.track(
        "Harm Ld L", "LEADS", [(bar(9), bar(17)), (bar(129), bar(141))], fader=-10, pan=-40, sends=[send("Ld Dly", -14)]
    )
    d.track(
        "Harm Ld R", "LEADS", [(bar(9), bar(17)), (bar(129), bar(141))], fader=-10, pan=40, sends=[send("Ld Dly", -14)]
    )
    d.track(
        "Scream Main",
        "VOX",
        verse,
        fader=-3,
        sends=[send("Vox Verb", -16), send("Vox Dly", -18)],
        inserts=[
            eq(band("high-pass", 130, slope=18)),
            dyn("compressor", "Fast Comp", -20, 6, 2, 60, output_gain_db=6.0),
        ],
    )
    d.track("Scream Dbl L", "VOX", verse, fader=-12, pan=-70, sends=[send("Vox Verb", -16)])
    d.track("Scream Dbl R", "VOX", verse, fader=-12, pan=70, sends=[send("Vox Verb", -16)])
    d.track("Growl Low", "VOX", [(bar(81), bar(97))], fader=-8, sends=[send("Vox Verb", -14)])
    d.track(
        "Clean Vox",
        "VOX",
        chorus,
        fader=-2,
        sends=[send("Vox Verb", -12), send("Vox Dly", -13)],
        inserts=[
            eq(band("high-pass", 110, slope=12)),
            dyn("compressor", "Slow Leveller", -22, 4, 6, 110, output_gain_db=5.0),
        ],
    )
    for k, pan in enumerate((-90, -45, 45, 90), 1):
        d.track(
            f"Gang {k}",
            "VOX",
            [(bar(89), bar(97)), (bar(121), bar(129))],
            fader=-14,
            pan=pan,
            sends=[send("Vox Verb", -12)],
        )
    d.track("Sub Drop", "FX", [(bar(81), bar(83)), (bar(89), bar(91))], fader=-9)
    d.track("Noise Intro", "FX", [(0.0, bar(9))], fader=-14, legs=2, fades=(2.5, 0.4))
    d.track("Clk", None, [(0.0, END)], fader=-6)
    d.bus("return", "Drm Plate", "DRUMS", fader_db=-8.0, inserts=[box("reverb", "Tin Plate", 100.0)])
    d.bus("return", "Vox Verb", "VOX", fader_db=-6.0, inserts=[box("reverb", "Silo", 100.0)])
    d.bus("return", "Vox Dly", "VOX", fader_db=-8.0, inserts=[box("delay", "Echo Box", 100.0, feedback_percent=22.0)])
    d.bus("return", "Ld Dly", "LEADS", fader_db=-6.0, inserts=[box("delay", "Echo Box", 100.0, feedback_percent=30.0)])
    d.bus(
        "group",
        "DRUMS",
        "master",
        sends=[send("DRM CRUSH", -6)],
        inserts=[dyn("compressor", "Bus Glue", -12, 4, 30, 100, output_gain_db=2.0)],
    )
    d.bus(
        "group",
        "DRM CRUSH",
        "master",
        fader_db=-11.0,
        inserts=[dyn("compressor", "All Buttons", -34, 12, 1, 60, output_gain_db=9.0)],
    )
    d.bus("group", "BASS", "master", fader_db=-1.0)
    d.bus("group", "RHY GTR", "master", fader_db=-1.5, inserts=[eq(band("bell", 250, -2, 1.0))])
    d.bus("group", "LEADS", "master")
    d.bus("group", "VOX", "master")
    d.bus("group", "FX", "master", fader_db=-2.0)
    d.bus(
        "vca",
        "VCA DRM",
        None,
        automation=[ride("fader", (0, 0), (bar(81), 0), (bar(81) + 0.1, 1), (bar(97), 1), (bar(97) + 0.1, 0))],
    )
    d.bus(
        "master",
        "master",
        None,
        inserts=[
            dyn("compressor", "Bus Glue", -10, 2, 30, 120, output_gain_db=1.5),
            eq(band("high-shelf", 11000, 1)),
            dyn("limiter", "Brick", -6.0, 20, 1, 50, output_gain_db=5.0),
        ],
    )
    return d.session("Iron Harrow", 148.0, [*SECTIONS, (END, "End")])


def r2_on_the_left(session: Session) -> None:
    chan(session, "RG R2")["pan"] = -80


def same_take_twice(session: Session) -> None:
    source, copy = chan(session, "RG L1")["clips"], chan(session, "RG R1")["clips"]
    for one, other in zip(source, copy, strict=True):
        other["file"], other["name"] = one["file"], one["name"]


def sample_late(session: Session) -> None:
    for clip in chan(session, "Kick Smp Click")["clips"]:
        clip["offset_s"] = round(clip["offset_s"] - 0.014, 4)


def bottom_not_flipped(session: Session) -> None:
    chan(session, "Snr Top")["inserts"][0]["parameters"][0]["value"] = True


def trigger_in_drums(session: Session) -> None:
    chan(session, "Kick Trig")["output"] = slug("DRUMS")


def tom_gate_shut(session: Session) -> None:
    chan(session, "Tom 2")["inserts"][0]["dynamics"]["threshold_db"] = -1.0


def brick_down(session: Session) -> None:
    chan(session, "master")["inserts"][2]["dynamics"]["threshold_db"] = -32.0


def crush_on_top(session: Session) -> None:
    chan(session, "DRM CRUSH")["fader_db"] = 6.0


def scream_in_drum_plate(session: Session) -> None:
    chan(session, "Scream Main")["sends"][0]["to"] = slug("Drm Plate")


def vca_stays_down(session: Session) -> None:
    chan(session, "VCA DRM")["automation"][0] = ride(
        "fader", (0, 0), (bar(81), 0), (bar(81) + 0.1, 1), (bar(97), 1), (bar(97) + 0.1, -9)
    )


def solo_clip_off(session: Session) -> None:
    chan(session, "Ld Gtr Solo")["clips"][1]["on"] = False


def gang_unnamed(session: Session) -> None:
    chan(session, "Gang 3")["name"] = "Audio 31"


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["RG L1 DI", "RG L2 DI", "RG R1 DI", "RG R2 DI"],
        "why": "muted DIs kept for re-amping, a mention at most",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "r2-on-the-left",
        "class": "place",
        "channels": ["RG R2", "RG L2"],
        "grade": "hold",
        "says": "RG R2 is panned left, on top of L2: three rhythm guitars left and one right",
        "plant": r2_on_the_left,
    },
    {
        "id": "r1-plays-the-take-of-l1",
        "class": "twice",
        "channels": ["RG R1", "RG L1"],
        "grade": "hold",
        "says": "RG R1 plays the very files of RG L1, so the pair folds to a mono guitar",
        "plant": same_take_twice,
    },
    {
        "id": "kick-sample-off",
        "class": "phase",
        "channels": ["Kick Smp Click", "Kick In"],
        "grade": "look",
        "says": "the printed kick click plays 14 ms away from the other kick tracks of the same recording",
        "plant": sample_late,
    },
    {
        "id": "top-flipped-too",
        "class": "phase",
        "channels": ["Snr Top", "Snr Btm"],
        "grade": "look",
        "says": "both snare mics are inverted, so the bottom is against the top again and the snare is inverted against "
        "the overheads",
        "plant": bottom_not_flipped,
    },
    {
        "id": "trigger-spike-in-drums",
        "class": "audible-that-should-not-be",
        "channels": ["Kick Trig"],
        "grade": "hold",
        "says": "the trigger spike is routed to the drum bus",
        "plant": trigger_in_drums,
    },
    {
        "id": "tom-gate-never-opens",
        "class": "processors",
        "channels": ["Tom 2"],
        "grade": "hold",
        "says": "the gate of Tom 2 has its threshold at -1 dB and will not open; the other toms lie near -31",
        "plant": tom_gate_shut,
    },
    {
        "id": "limiter-crushing",
        "class": "headroom",
        "channels": ["master"],
        "grade": "hold",
        "says": "the master limiter has its threshold at -32 dB",
        "plant": brick_down,
    },
    {
        "id": "crush-over-the-drums",
        "class": "level",
        "channels": ["DRM CRUSH"],
        "grade": "look",
        "says": "the parallel crush is at +6 dB, louder than the drum bus it should support",
        "plant": crush_on_top,
    },
    {
        "id": "scream-in-the-drum-plate",
        "class": "routing",
        "channels": ["Scream Main", "Drm Plate"],
        "grade": "look",
        "says": "the main scream is sent to the drum plate, all other voices to the vocal reverb",
        "plant": scream_in_drum_plate,
    },
    {
        "id": "drum-vca-left-down",
        "class": "automation",
        "channels": ["VCA DRM"],
        "grade": "hold",
        "says": "the drum VCA goes to -9 dB at the solo and never returns for the last chorus",
        "plant": vca_stays_down,
    },
    {
        "id": "half-the-solo-off",
        "class": "inaudible",
        "channels": ["Ld Gtr Solo"],
        "grade": "hold",
        "says": "the clip with the second half of the solo is switched off",
        "plant": solo_clip_off,
    },
    {
        "id": "a-gang-without-a-name",
        "class": "hand-over",
        "channels": ["Audio 31"],
        "grade": "note",
        "says": "a gang vocal is called Audio 31 among Gang 1, 2 and 4",
        "plant": gang_unnamed,
    },
]
