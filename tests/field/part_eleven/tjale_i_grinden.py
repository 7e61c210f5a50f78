"""Tjäle i grinden: a slow waltz for two acoustic guitars and one singer.

Elin sits on the left and Jonas on the right, each with a bridge and a neck microphone, cut together in one wooden
room to a click map made from the rehearsal tape. Each player's room comes back on the other side (Rum V and Rum H are
mono and hard over), so that the two seem to sit in each other's echo. Voice, brushes, double bass and a borrowed
harmonium were added over two days. The middle eight of the guitars is from take 6, all else from take 4.

The engineer names in Swedish, cuts every microphone of one instrument at the same place, cuts the rumble first,
then levels, and rides the voice by hand rather than pressing it hard. V and H mean vänster and höger.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 96000.0
TEMPI = [(1, 92.0), (67, 88.0), (79, 92.0), (111, 84.0)]
PARTS = {
    "Inräkning": (1, 3),
    "Intro": (3, 11),
    "Vers 1": (11, 27),
    "Refräng 1": (27, 39),
    "Vers 2": (39, 55),
    "Refräng 2": (55, 67),
    "Mellanspel": (67, 79),
    "Vers 3": (79, 95),
    "Refräng 3": (95, 111),
    "Slut": (111, 122),
}
SHORT = {"Intro": "Intro", "Mellanspel": "Mell", "Slut": "Slut"}


def bar(number: float) -> float:
    """Where a bar (three quarters, counted from 1) begins, in seconds."""
    total = 0.0
    for place, (first, bpm) in enumerate(TEMPI):
        last = TEMPI[place + 1][0] if place + 1 < len(TEMPI) else number
        if number > first:
            total += (min(number, last) - first) * 3 * 60.0 / bpm
    return round(total, 6)


LONG = 246.0
SIX_FROM = bar(65)
SIX_LONG = 38.0


def tag(part: str) -> str:
    """The short form of a part's name, as it stands in clip names."""
    return SHORT.get(part, part.replace("Vers ", "V").replace("Refräng ", "R"))


def clip(
    name: str,
    file: str,
    start: float,
    end: float,
    origin: float = 0.0,
    fades: tuple[float, float] = (0.01, 0.01),
    gain: float = 0.0,
) -> dict[str, Any]:
    """A clip of a file whose recording began at ``origin`` on the timeline."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start - origin, 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": gain,
        "on": True,
    }


def guitar(stem: str, parts: list[str]) -> list[dict[str, Any]]:
    """One guitar microphone, part by part; the middle eight comes from take 6."""
    clips = []
    for part in parts:
        first, last = PARTS[part]
        take, origin = ("t6", SIX_FROM) if part == "Mellanspel" else ("t4", 0.0)
        fades = (0.01, 2.8) if part == "Slut" else (0.02, 0.02) if take == "t6" else (0.01, 0.01)
        clips.append(clip(f"{stem} {tag(part)} {take}", f"{stem}_{take}", bar(first), bar(last), origin, fades))
    return clips


def follow(stem: str, parts: list[str], end_fade: float = 2.8) -> list[dict[str, Any]]:
    """One microphone of an instrument that plays a single take; a part before a rest is let ring and faded."""
    clips = []
    starts = [PARTS[part][0] for part in parts]
    for part in parts:
        first, last = PARTS[part]
        fades = (0.01, end_fade if part == "Slut" else 0.01 if last in starts else 0.6)
        clips.append(clip(f"{stem} {tag(part)}", stem, bar(first), bar(last), 0.0, fades))
    return clips


def sung(stem: str, parts: list[str], lead: float, gains: dict[str, float]) -> list[dict[str, Any]]:
    """The voice: each part begins with its breath and ends before the next one."""
    clips = []
    for part in parts:
        first, last = PARTS[part]
        start, end = bar(first) - lead, bar(last) - 0.7
        clips.append(clip(f"{stem} {tag(part)}", stem, start, end, 0.0, (0.06, 0.15), gains.get(part, 0.0)))
    return clips


def talk() -> dict[str, Any]:
    """What was said after the last chord, kept but switched off."""
    found = clip("prat efter tagningen", "sang_komp", bar(119.3), bar(121.2), 0.0, (0.05, 0.05))
    found["on"] = False
    return found


def equalizer(*bands: dict[str, Any], name: str = "EQ") -> dict[str, Any]:
    """An equalizer with its bands."""
    return {
        "name": name,
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def cut(kind: str, freq: float, slope: float = 12.0) -> dict[str, Any]:
    """A high-pass or low-pass band."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def bell(freq: float, gain: float, q: float) -> dict[str, Any]:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def press(
    threshold: float, ratio: float, attack: float, release: float, gain: float, name: str = "Komp"
) -> dict[str, Any]:
    """A compressor with its settings."""
    return {
        "name": name,
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }


def shift(milliseconds: float) -> dict[str, Any]:
    """A utility that delays and could turn the polarity."""
    return {
        "name": "Tid och fas",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "delay", "name": "Fördröjning", "value": milliseconds, "unit": "ms", "low": 0.0, "high": 50.0},
            {"id": "polarity", "name": "Fasvändning", "value": False},
        ],
    }


def space(name: str, kind: str, *settings: tuple[str, str, float, str], **more: float) -> dict[str, Any]:
    """A reverb or a delay, wholly wet."""
    return {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": False,
        "wet": 100.0,
        **more,
        "parameters": [{"id": i, "name": n, "value": v, "unit": u} for i, n, v, u in settings],
    }


def send(to: str, level: float) -> dict[str, Any]:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(target: str, *points: tuple[float, float]) -> dict[str, Any]:
    """A ride in decibels, drawn with straight lines."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [round(p[0], 6) for p in points],
        "v": [p[1] for p in points],
    }


def strip(ident: str, name: str, kind: str, legs: int, fader: float, pan: float, **more: Any) -> dict[str, Any]:
    """A channel; what is not said stays at its rest."""
    made: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "plays": ["audio"] if kind == "track" else [],
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": "mix",
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    made.update(more)
    return made


def solo_lift(base: float) -> dict[str, Any]:
    """Jonas comes up by two decibels for the middle eight."""
    on, off = bar(67), bar(79)
    up = base + 2.0
    return ride("fader", (0.0, base), (on - 0.4, base), (on, up), (off - 0.8, up), (off, base))


def swell(base: float) -> dict[str, Any]:
    """The harmonium grows in the middle eight and in the last refrain."""
    return ride(
        "fader",
        (0.0, base),
        (bar(67), base),
        (bar(73), base + 3.5),
        (bar(78), base + 3.5),
        (bar(79), base),
        (bar(95), base),
        (bar(99), base + 2.0),
        (bar(116), base + 2.0),
        (bar(121), base - 3.0),
    )


def voice_ride() -> dict[str, Any]:
    """The voice's level by part, with two loud breaths taken down."""
    points = [(0.0, -5.5)]
    level = -5.5
    dips = {"Vers 2": 46.6, "Vers 3": 86.5}
    for part, aim in (
        ("Refräng 1", -4.6),
        ("Vers 2", -5.5),
        ("Refräng 2", -4.6),
        ("Vers 3", -6.0),
        ("Refräng 3", -4.2),
    ):
        at = bar(PARTS[part][0])
        points += [(at - 0.6, level), (at - 0.4, aim)]
        level = aim
        if part in dips:
            dip = bar(dips[part])
            points += [(dip - 0.1, aim), (dip, aim - 8.5), (dip + 0.55, aim - 8.5), (dip + 0.7, aim)]
    return ride("fader", *points)


def throws() -> dict[str, Any]:
    """The echo answers the last word of each refrain."""
    points: list[tuple[float, float]] = [(0.0, -34.0)]
    for last in (38, 66, 110):
        at = bar(last)
        points += [(at - 0.5, -34.0), (at - 0.3, -13.0), (at + 1.0, -13.0), (at + 1.2, -34.0)]
    return ride("send:1:level", *points)


def guitars() -> list[dict[str, Any]]:
    """The two players, their spare line and their bus."""
    elin = ["Intro", "Vers 1", "Refräng 1", "Vers 2", "Refräng 2", "Mellanspel", "Vers 3", "Refräng 3", "Slut"]
    jonas = elin[1:]
    bus: dict[str, Any] = {"output": "git", "parent": "git"}
    return [
        strip(
            *("e1", "Elin stall", "track", 1, -8.0, -80.0),
            **bus,
            sends=[send("rumh", -13.0)],
            inserts=[
                equalizer(cut("high-pass", 85.0), bell(220.0, -2.5, 1.4), bell(3400.0, 1.0, 0.8)),
                press(-21.0, 2.0, 25.0, 140.0, 1.5),
            ],
            clips=guitar("elin_stall", elin),
        ),
        strip(
            *("e2", "Elin hals", "track", 1, -11.5, -45.0),
            **bus,
            sends=[send("rumh", -16.0)],
            inserts=[
                equalizer(cut("high-pass", 85.0), bell(190.0, -3.0, 1.2)),
                press(-22.0, 2.0, 25.0, 140.0, 1.5),
            ],
            clips=guitar("elin_hals", elin),
        ),
        strip(
            *("e3", "Elin DI", "track", 1, -14.0, -60.0),
            **bus,
            mute=True,
            comment="reserv, behövs ej: mikarna räcker",
            clips=follow("elin_di", [p for p in elin if p != "Mellanspel"]),
        ),
        strip(
            *("j1", "Jonas stall", "track", 1, -8.5, 80.0),
            **bus,
            sends=[send("rumv", -12.5)],
            inserts=[
                equalizer(cut("high-pass", 90.0), bell(250.0, -2.0, 1.4), bell(2800.0, 1.0, 0.8)),
                press(-20.0, 2.0, 25.0, 140.0, 1.0),
            ],
            clips=guitar("jonas_stall", jonas),
            automation=[solo_lift(-8.5)],
            comment="solo i mellanspelet, 2 dB upp",
        ),
        strip(
            *("j2", "Jonas hals", "track", 1, -12.0, 45.0),
            **bus,
            sends=[send("rumv", -16.5)],
            inserts=[
                equalizer(cut("high-pass", 90.0), bell(200.0, -3.0, 1.2)),
                press(-22.0, 2.0, 25.0, 140.0, 1.5),
            ],
            clips=guitar("jonas_hals", jonas),
            automation=[solo_lift(-12.0)],
        ),
    ]


def rhythm() -> list[dict[str, Any]]:
    """Double bass, brushes and harmonium."""
    low = ["Refräng 1", "Vers 2", "Refräng 2", "Vers 3", "Refräng 3", "Slut"]
    reeds = ["Vers 2", "Refräng 2", "Mellanspel", "Refräng 3", "Slut"]
    return [
        strip(
            *("b1", "Kontrabas mik", "track", 1, -7.0, 0.0),
            inserts=[
                equalizer(cut("high-pass", 36.0), bell(140.0, -2.0, 1.6), bell(750.0, 1.5, 1.0)),
                press(-19.0, 3.0, 30.0, 120.0, 2.0),
            ],
            clips=follow("kbas_mik", low),
        ),
        strip(
            *("b2", "Kontrabas DI", "track", 1, -12.5, 0.0),
            inserts=[
                shift(2.4),
                equalizer(cut("high-pass", 36.0), cut("low-pass", 2800.0)),
                press(-20.0, 3.0, 30.0, 120.0, 1.5),
            ],
            clips=follow("kbas_di", low),
            comment="2,4 ms bak mot miken, klippen ligger lika",
        ),
        strip(
            *("v1", "Vispar OH", "track", 2, -9.0, 0.0),
            output="vis",
            parent="vis",
            sends=[send("rumv", -23.0), send("rumh", -23.0)],
            inserts=[equalizer(cut("high-pass", 110.0), bell(420.0, -1.5, 1.0))],
            clips=follow("visp_oh", low),
        ),
        strip(
            *("v2", "Virvel", "track", 1, -13.0, 8.0),
            output="vis",
            parent="vis",
            sends=[send("plat", -21.0)],
            inserts=[equalizer(cut("high-pass", 130.0), bell(900.0, -2.0, 2.0))],
            clips=follow("virvel", low),
        ),
        strip(
            *("o1", "Orgel bas", "track", 1, -14.0, -22.0),
            sends=[send("rumh", -17.0)],
            inserts=[equalizer(cut("high-pass", 60.0), bell(320.0, -2.0, 1.0))],
            clips=follow("orgel_bas", reeds, 3.5),
            automation=[swell(-14.0)],
            comment="lånad tramporgel, knarret hör till",
        ),
        strip(
            *("o2", "Orgel diskant", "track", 1, -15.0, 22.0),
            sends=[send("rumv", -17.0)],
            inserts=[equalizer(cut("high-pass", 150.0), bell(2100.0, -1.5, 1.8))],
            clips=follow("orgel_diskant", reeds, 3.5),
            automation=[swell(-15.0)],
        ),
    ]


def voices() -> list[dict[str, Any]]:
    """The singer, and her own double in the later refrains."""
    parts = ["Vers 1", "Refräng 1", "Vers 2", "Refräng 2", "Vers 3", "Refräng 3"]
    return [
        strip(
            *("s1", "Sång", "track", 1, -5.5, 0.0),
            sends=[send("plat", -11.0), send("eko", -34.0)],
            inserts=[
                equalizer(cut("high-pass", 95.0), bell(310.0, -2.0, 1.2)),
                press(-20.0, 2.5, 12.0, 110.0, 2.5),
                {"name": "S-dämpare", "kind": "de-esser", "on": True, "opaque": True},
                equalizer({"kind": "high-shelf", "freq_hz": 9000.0, "gain_db": 1.5, "q": 0.7, "on": True}, name="Luft"),
            ],
            clips=[*sung("sang_komp", parts, 0.45, {"Vers 3": 1.0}), talk()],
            automation=[voice_ride(), throws()],
            comment="komp av tagning 2, 3 och 7",
        ),
        strip(
            *("s2", "Sång dubbel", "track", 1, -15.0, 0.0),
            sends=[send("plat", -9.0)],
            inserts=[
                equalizer(cut("high-pass", 140.0), cut("low-pass", 9000.0)),
                press(-24.0, 4.0, 5.0, 90.0, 3.0),
                {"name": "S-dämpare", "kind": "de-esser", "on": True, "opaque": True},
            ],
            clips=sung("sang_dubbel", ["Refräng 2", "Refräng 3"], 0.4, {}),
            comment="egen tagning, bara refräng 2 och 3",
        ),
    ]


def room(ident: str, name: str, pan: float, comment: str) -> dict[str, Any]:
    """One of the two crossed rooms."""
    return strip(
        *(ident, name, "return", 1, -5.0, pan),
        inserts=[
            equalizer(cut("high-pass", 220.0), cut("low-pass", 7500.0)),
            space(
                "Rum", "reverb", ("decay", "Efterklang", 1.3, "s"), ("size", "Storlek", 42.0, "%"), pre_delay_ms=16.0
            ),
        ],
        comment=comment,
    )


def desk() -> list[dict[str, Any]]:
    """Groups, returns and the mix."""
    return [
        strip(
            *("git", "GITARRER", "group", 2, -1.0, 0.0),
            inserts=[
                {"name": "Bandmättnad", "kind": "distortion", "on": True, "opaque": True},
                press(-16.0, 1.5, 40.0, 200.0, 0.5, name="Busskomp"),
            ],
        ),
        strip(
            *("vis", "VISPAR", "group", 2, -1.5, 0.0), inserts=[press(-18.0, 1.8, 35.0, 180.0, 1.0, name="Busskomp")]
        ),
        room("rumv", "Rum V", -85.0, "Jonas rum, svarar från vänster"),
        room("rumh", "Rum H", 85.0, "Elins rum, svarar från höger"),
        strip(
            *("plat", "Plåt", "return", 2, -4.0, 0.0),
            inserts=[
                equalizer(cut("high-pass", 280.0)),
                space("Plåt", "reverb", ("decay", "Efterklang", 2.1, "s"), pre_delay_ms=34.0),
            ],
        ),
        strip(
            *("eko", "Eko", "return", 2, -7.0, 0.0),
            sends=[send("plat", -15.0)],
            inserts=[
                space("Eko", "delay", ("time", "Tid", 652.2, "ms"), ("feedback", "Återkoppling", 14.0, "%")),
                equalizer(cut("high-pass", 300.0), cut("low-pass", 4200.0)),
            ],
            comment="fjärdedel i 92",
        ),
        {
            "id": "mix",
            "name": "Mix",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [
                equalizer({"kind": "low-shelf", "freq_hz": 90.0, "gain_db": 0.8, "q": 0.7, "on": True}),
                press(-12.0, 1.5, 40.0, 250.0, 1.0, name="Mixkomp"),
                {
                    "name": "Stopp",
                    "kind": "limiter",
                    "on": True,
                    "opaque": False,
                    "dynamics": {"threshold_db": -1.0, "release_ms": 120.0, "output_gain_db": 0.0},
                },
                {"name": "Mätare", "kind": "analyser", "on": True, "opaque": True},
            ],
        },
    ]


def media() -> list[dict[str, Any]]:
    """The files, each as long as its take."""
    takes = {f"{p}_{m}": 1 for p in ("elin", "jonas") for m in ("stall", "hals")}
    found = [(f"{stem}_t4", LONG, 1) for stem in takes] + [(f"{stem}_t6", SIX_LONG, 1) for stem in takes]
    found += [(name, LONG, 1) for name in ("elin_di", "kbas_mik", "kbas_di", "virvel", "orgel_bas", "orgel_diskant")]
    found += [("visp_oh", LONG, 2), ("sang_komp", LONG, 1), ("sang_dubbel", LONG, 1)]
    return [
        {
            "id": name,
            "path": f"Ljud/{name}.wav",
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for name, length, legs in found
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Tjäle i grinden",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": (first - 1) * 3.0, "bpm": bpm} for first, bpm in TEMPI],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [{"time_s": bar(first), "name": part} for part, (first, _) in PARTS.items()],
        "channels": [*guitars(), *rhythm(), *voices(), *desk()],
        "media": media(),
        "metadata": {"låt": "04 Tjäle i grinden", "version": "mix 3"},
    }


def channel(session: Session, name: str) -> dict[str, Any]:
    """The channel of a name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def piece(session: Session, name: str, ending: str) -> dict[str, Any]:
    """The clip of a channel whose name holds these letters."""
    found: dict[str, Any] = next(c for c in channel(session, name)["clips"] if ending in c["name"])
    return found


def file(session: Session, ident: str) -> dict[str, Any]:
    """The media file of an id."""
    found: dict[str, Any] = next(m for m in session["media"] if m["id"] == ident)
    return found


def room_not_crossed(session: Session) -> None:
    """The neck microphone of Jonas feeds the room on his own side."""
    channel(session, "Jonas hals")["sends"][0]["to"] = "rumh"


def both_rooms_left(session: Session) -> None:
    """The pan of the right-hand room has lost its sign."""
    channel(session, "Rum H")["pan"] = -85.0


def line_nudged(session: Session) -> None:
    """The third verse of the bass line lies 22 ms late against its microphone."""
    late = piece(session, "Kontrabas DI", " V3")
    late["start_s"] = round(late["start_s"] + 0.022, 6)
    late["end_s"] = round(late["end_s"] + 0.022, 6)


def overheads_trimmed(session: Session) -> None:
    """The left edge of verse 2 was dragged in by two bars on the overheads alone."""
    late = piece(session, "Vispar OH", " V2")
    late["start_s"] = bar(41)
    late["offset_s"] = bar(41)


def reed_rate(session: Session) -> None:
    """The treble file of the harmonium has been replaced by one of half the rate."""
    file(session, "orgel_diskant")["sample_rate_hz"] = 48000.0


def breath_point_lost(session: Session) -> None:
    """The way back up after the breath in verse 3 has lost its point."""
    drawn = channel(session, "Sång")["automation"][0]
    gone = drawn["t"].index(round(bar(86.5) + 0.7, 6))
    del drawn["t"][gone], drawn["v"][gone]


def double_is_lead(session: Session) -> None:
    """In the last refrain the double's clip is a copy of the lead's."""
    lead = piece(session, "Sång", " R3")
    clips = channel(session, "Sång dubbel")["clips"]
    clips[-1] = dict(lead)


def talk_on(session: Session) -> None:
    """The talk after the take has been switched on."""
    piece(session, "Sång", "prat")["on"] = True


def ring_cut(session: Session) -> None:
    """The bridge microphone of Elin ends in the middle of the last chord."""
    last = piece(session, "Elin stall", "Slut")
    last["end_s"] = bar(117)
    last["fade_out_s"] = 0.01


def rumble_cut_slipped(session: Session) -> None:
    """One nought too many in the high-pass of Jonas's bridge microphone."""
    channel(session, "Jonas stall")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 900.0


def file_on_desktop(session: Session) -> None:
    """The double's file still lies on the desktop of the day it was recorded."""
    moved = file(session, "sang_dubbel")
    moved["path"] = "/hem/maja/Skrivbord/tillfälligt/sang_dubbel.wav"
    moved["place"] = "outside"


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Elin DI"], "why": "a spare line, muted and said to be one; the microphones do the work"},
    {"channels": ["Sång"], "why": "holds a clip of talk that is switched off, and dips for two breaths"},
    {"channels": ["Rum V", "Rum H"], "why": "mono rooms hard over, opposite to their player: that is the sound"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-not-crossed",
        "class": "ambience",
        "channels": ["Jonas hals"],
        "grade": "look",
        "says": "Jonas hals sends to Rum H, on his own side; Jonas stall and the others cross over.",
        "plant": room_not_crossed,
    },
    {
        "id": "both-rooms-left",
        "class": "place",
        "channels": ["Rum H"],
        "grade": "hold",
        "says": "Rum H stands at -85, on top of Rum V; by name and comment it belongs on the right.",
        "plant": both_rooms_left,
    },
    {
        "id": "line-nudged",
        "class": "phase",
        "channels": ["Kontrabas DI"],
        "grade": "look",
        "says": "In verse 3 the DI clip lies 22 ms after the microphone's; in all other parts they start together.",
        "plant": line_nudged,
    },
    {
        "id": "overheads-trimmed",
        "class": "edits",
        "channels": ["Vispar OH"],
        "grade": "hold",
        "says": "The overheads are silent for the first two bars of verse 2 while Virvel plays.",
        "plant": overheads_trimmed,
    },
    {
        "id": "reed-rate",
        "class": "files",
        "channels": ["Orgel diskant"],
        "grade": "look",
        "says": "The file of Orgel diskant is at 48 kHz, all others and the session are at 96 kHz.",
        "plant": reed_rate,
    },
    {
        "id": "breath-point-lost",
        "class": "automation",
        "channels": ["Sång"],
        "grade": "hold",
        "says": "After the breath in verse 3 the voice creeps up from -14.5 dB all through the verse; in verse 2 it "
        "is back after 0.7 s.",
        "plant": breath_point_lost,
    },
    {
        "id": "double-is-lead",
        "class": "twice",
        "channels": ["Sång dubbel", "Sång"],
        "grade": "hold",
        "says": "In refrain 3 Sång dubbel plays the lead's own file at the same place: no double, only louder.",
        "plant": double_is_lead,
    },
    {
        "id": "talk-on",
        "class": "audible-that-should-not-be",
        "channels": ["Sång"],
        "grade": "hold",
        "says": "The clip 'prat efter tagningen' is on and talks into the last chord.",
        "plant": talk_on,
    },
    {
        "id": "ring-cut",
        "class": "end",
        "channels": ["Elin stall"],
        "grade": "hold",
        "says": "Elin stall stops hard at bar 117 while Elin hals and the others ring on to bar 122 and fade.",
        "plant": ring_cut,
    },
    {
        "id": "rumble-cut-slipped",
        "class": "processors",
        "channels": ["Jonas stall"],
        "grade": "hold",
        "says": "The high-pass of Jonas stall is at 900 Hz, on the other three guitar microphones at 85 to 90 Hz.",
        "plant": rumble_cut_slipped,
    },
    {
        "id": "file-on-desktop",
        "class": "hand-over",
        "channels": ["Sång dubbel"],
        "grade": "look",
        "says": "The file of Sång dubbel lies on a desktop outside the session folder and will not travel with it.",
        "plant": file_on_desktop,
    },
]
