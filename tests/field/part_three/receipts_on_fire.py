"""A hip-hop track, "Receipts on Fire", on a two-track beat at 92 bpm: lead, doubles, ad libs and hook stacks.
The beat drops out by mute automation, words are thrown into a delay, the phone ad lib is filtered hard on purpose."""

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


BAR = 4 * 60 / 92


def bar(n: float) -> float:
    """Seconds at the start of bar ``n``, counted from 1."""
    return (n - 1) * BAR


BEAT = 60 / 92
END = bar(65) + BAR


def good() -> Session:
    """The session as it should be bounced."""
    d = Desk(44100.0)
    hooks = [(bar(21), bar(29)), (bar(45), bar(53)), (bar(57), bar(65))]
    verses = [(bar(5), bar(13)), (bar(13), bar(20.9)), (bar(29), bar(37)), (bar(37), bar(44.9))]
    d.track(
        "Beat 2trk",
        "BEAT",
        [(bar(1), bar(21)), (bar(21), bar(45)), (bar(45), END)],
        fader=-6,
        legs=2,
        fades=(0.002, 0.5),
        inserts=[eq(band("high-pass", 30, slope=12), band("bell", 2500, -1.5, 0.8))],
        automation=[
            ride("insert:0:band:1:freq", (0, 320), (bar(4), 320), (bar(5), 30), scale="plain"),
            switch("mute", (0, 0), (bar(20.5), 1), (bar(21), 0), (bar(44.5), 1), (bar(45), 0)),
        ],
    )
    d.track("Beat 2trk TAGGED", "BEAT", [(bar(1), END)], fader=-6, legs=2, mute=True, comment="lease copy, do not use")
    d.track("808 add", "BEAT", [(bar(21), bar(29)), (bar(45), bar(53)), (bar(57), bar(65))], fader=-10)
    d.track("Rev Cym", "BEAT", [(bar(20), bar(21)), (bar(44), bar(45))], fader=-14, legs=2, fades=(0.3, 0.0))
    tune = box("pitch", "Tune Box", 100.0)
    d.track(
        "Lead",
        "LEAD BUS",
        verses,
        fader=-2,
        inserts=[
            tune,
            eq(band("high-pass", 95, slope=18), band("bell", 300, -3, 1.3)),
            dyn("compressor", "Fast Comp", -18, 4, 4, 60, output_gain_db=4.0),
        ],
        sends=[send("Slap", -18), send("1/4 Throw", -6, on=False), send("Vox Verb", -20)],
        automation=[
            switch(
                "send:1:on",
                (0, 0),
                (bar(12.75), 1),
                (bar(13), 0),
                (bar(20.5), 1),
                (bar(20.95), 0),
                (bar(36.75), 1),
                (bar(37), 0),
                (bar(44.5), 1),
                (bar(44.95), 0),
            ),
            ride(
                "fader",
                (0, -2),
                (bar(13), -2),
                (bar(13.2), -1.2),
                (bar(20.9), -1.2),
                (bar(29), -2),
                (bar(37), -1.5),
                (bar(44.9), -2),
            ),
        ],
    )
    d.track("Lead (printed tune)", "LEAD BUS", verses, fader=-2, mute=True, comment="print of Lead, safety")
    d.track(
        "Dbl",
        "LEAD BUS",
        [(bar(n) + 2.5 * BEAT, bar(n + 1)) for n in (6, 8, 10, 12, 30, 32, 34, 36, 42)],
        fader=-10,
        inserts=[tune, eq(band("high-pass", 180, slope=18), band("low-pass", 9000, slope=12))],
    )
    adlibs = [(bar(n) + 3 * BEAT, bar(n + 1) + BEAT) for n in (5, 7, 9, 15, 17, 31, 33, 39, 41)]
    d.track(
        "Ad Lib L",
        "ADLIBS",
        adlibs,
        fader=-9,
        pan=-85,
        inserts=[tune, eq(band("high-pass", 160, slope=18))],
        sends=[send("1/4 Throw", -14), send("Vox Verb", -12)],
    )
    d.track(
        "Ad Lib R",
        "ADLIBS",
        [(a + 2 * BEAT, b + 2 * BEAT) for a, b in adlibs],
        fader=-9,
        pan=85,
        inserts=[tune, eq(band("high-pass", 160, slope=18))],
        sends=[send("1/4 Throw", -14), send("Vox Verb", -12)],
    )
    d.track(
        "Phone Ad Lib",
        "ADLIBS",
        [(bar(28), bar(29)), (bar(52), bar(53))],
        fader=-7,
        inserts=[
            eq(band("high-pass", 650, slope=24), band("low-pass", 3200, slope=24)),
            box("distortion", "Burnt Cone", 60.0),
        ],
    )
    d.track(
        "Hook Ld",
        "HOOK",
        hooks,
        fader=-3,
        inserts=[
            tune,
            eq(band("high-pass", 100, slope=18)),
            dyn("compressor", "Fast Comp", -18, 4, 5, 70, output_gain_db=4.0),
        ],
        sends=[send("Vox Verb", -13), send("Slap", -16)],
    )
    for name, pan, fader in (
        ("Hook Stk L1", -100, -12),
        ("Hook Stk R1", 100, -12),
        ("Hook Stk L2", -55, -14),
        ("Hook Stk R2", 55, -14),
    ):
        d.track(
            name,
            "HOOK",
            hooks,
            fader=fader,
            pan=pan,
            inserts=[tune, eq(band("high-pass", 220, slope=18))],
            sends=[send("Vox Verb", -9)],
        )
    d.track("Hook Low Oct", "HOOK", hooks, fader=-16, inserts=[box("pitch", "Octaver", 100.0, semitones=-12)])
    d.track("Rough vox guide", "LEAD BUS", [(bar(5), bar(45))], fader=-10, mute=True)
    d.track("REF rough v3", None, [(bar(1), END)], fader=-4, legs=2, comment="for A/B, no output")
    d.bus("return", "Slap", "VOX ALL", fader_db=-6.0, inserts=[box("delay", "Tape Loop", 100.0, time_ms=95.0)])
    d.bus(
        "return",
        "1/4 Throw",
        "VOX ALL",
        fader_db=-4.0,
        inserts=[
            box("delay", "Echo Box", 100.0, feedback_percent=35.0),
            eq(band("high-pass", 400, slope=12), band("low-pass", 4500, slope=12)),
        ],
    )
    d.bus(
        "return",
        "Vox Verb",
        "VOX ALL",
        fader_db=-8.0,
        inserts=[eq(band("high-pass", 250, slope=12)), box("reverb", "Concrete Stair", 100.0)],
    )
    d.bus("group", "LEAD BUS", "VOX ALL", inserts=[dyn("de-esser", "Ess", -24, 4, 1, 40)])
    d.bus("group", "ADLIBS", "VOX ALL", fader_db=-1.5)
    d.bus("group", "HOOK", "VOX ALL", fader_db=-1.0)
    d.bus("group", "VOX ALL", "master")
    d.bus("group", "BEAT", "master")
    d.bus(
        "master",
        "MIX BUS",
        None,
        id="master",
        inserts=[
            dyn("compressor", "Bus Glue", -10, 2, 30, 100, output_gain_db=1.0),
            dyn("limiter", "Brick", -3.0, 20, 1, 60, output_gain_db=2.0),
        ],
    )
    return d.session(
        "Receipts on Fire",
        92.0,
        [
            (bar(1), "Intro"),
            (bar(5), "V1"),
            (bar(21), "Hook 1"),
            (bar(29), "V2"),
            (bar(45), "Hook 2"),
            (bar(53), "Break"),
            (bar(57), "Hook 3"),
            (bar(65), "Out"),
            (END, "End"),
        ],
    )


def throw_open(session: Session) -> None:
    chan(session, "Lead")["automation"][0] = switch(
        "send:1:on", (0, 0), (bar(12.75), 1), (bar(13), 0), (bar(20.5), 1), (bar(20.95), 0), (bar(36.75), 1)
    )


def beat_stays_thin(session: Session) -> None:
    ride_ = chan(session, "Beat 2trk")["automation"][0]
    ride_["t"], ride_["v"] = ride_["t"][:2], ride_["v"][:2]


def print_beside_live(session: Session) -> None:
    chan(session, "Lead (printed tune)")["mute"] = False


def reference_routed(session: Session) -> None:
    chan(session, "REF rough v3")["output"] = "master"


def shout_clip(session: Session) -> None:
    chan(session, "Ad Lib L")["clips"][5]["gain_db"] = 15.0


def stack_softer(session: Session) -> None:
    chan(session, "Hook Stk R1")["fader_db"] = -22


def beat_never_back(session: Session) -> None:
    chan(session, "Beat 2trk")["automation"][1] = switch("mute", (0, 0), (bar(20.5), 1), (bar(21), 0), (bar(44.5), 1))


def hot_after_limiter(session: Session) -> None:
    chan(session, "MIX BUS")["fader_db"] = 4.0


def verb_flood(session: Session) -> None:
    chan(session, "Vox Verb")["fader_db"] = 8.0


def stack_file_short(session: Session) -> None:
    media_of(session, "Hook Stk L2")["duration_s"] = 91.2


def tempo_not_set(session: Session) -> None:
    session["timeline"]["tempos"][0]["bpm"] = 120.0


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Lead (printed tune)", "Rough vox guide", "Beat 2trk TAGGED"],
        "why": "muted spares in live buses may be mentioned",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "throw-left-open",
        "class": "automation",
        "channels": ["Lead", "1/4 Throw"],
        "grade": "look",
        "says": "the throw of bar 36 is never closed: the second half of verse 2 runs into the delay",
        "plant": throw_open,
    },
    {
        "id": "beat-stays-filtered",
        "class": "automation",
        "channels": ["Beat 2trk"],
        "grade": "hold",
        "says": "the intro filter of the beat stays at 320 Hz and never opens at verse 1",
        "plant": beat_stays_thin,
    },
    {
        "id": "print-beside-the-lead",
        "class": "twice",
        "channels": ["Lead (printed tune)", "Lead"],
        "grade": "hold",
        "says": "the printed lead is unmuted and doubles the live one",
        "plant": print_beside_live,
    },
    {
        "id": "reference-in-the-mix",
        "class": "audible-that-should-not-be",
        "channels": ["REF rough v3"],
        "grade": "hold",
        "says": "the reference bounce is routed to the mix bus and would print over the song",
        "plant": reference_routed,
    },
    {
        "id": "one-adlib-shouts",
        "class": "level",
        "channels": ["Ad Lib L"],
        "grade": "look",
        "says": "one ad lib in verse 2 has a clip gain of +15 dB, its neighbours 0",
        "plant": shout_clip,
    },
    {
        "id": "stack-r1-softer",
        "class": "place",
        "channels": ["Hook Stk R1", "Hook Stk L1"],
        "grade": "look",
        "says": "the right stack is 10 dB softer than its partner on the left",
        "plant": stack_softer,
    },
    {
        "id": "beat-never-comes-back",
        "class": "inaudible",
        "channels": ["Beat 2trk"],
        "grade": "hold",
        "says": "the beat is muted for the drop before hook 2 and never comes back",
        "plant": beat_never_back,
    },
    {
        "id": "fader-after-the-limiter",
        "class": "headroom",
        "channels": ["MIX BUS"],
        "grade": "hold",
        "says": "the mix bus fader is at +4 dB after the limiter, the bounce will clip",
        "plant": hot_after_limiter,
    },
    {
        "id": "voices-under-water",
        "class": "ambience",
        "channels": ["Vox Verb"],
        "grade": "look",
        "says": "the vocal reverb return is at +8 dB, 12 to 14 above the other vocal returns",
        "plant": verb_flood,
    },
    {
        "id": "stack-file-too-short",
        "class": "files",
        "channels": ["Hook Stk L2"],
        "grade": "hold",
        "says": "the file of this stack is 91 s long, the clips of hooks 2 and 3 lie past its end",
        "plant": stack_file_short,
    },
    {
        "id": "tempo-never-set",
        "class": "tempo",
        "channels": ["MIX BUS", "Beat 2trk", "Hook Ld", "1/4 Throw"],
        "grade": "look",
        "says": "the session stands at 120 while the beat, the hooks and the markers lie on the bars of "
        "92, so a quarter throw would not be in time",
        "plant": tempo_not_set,
    },
]
