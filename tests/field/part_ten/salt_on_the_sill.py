"""Salt on the Sill: a slow song for voice and two acoustic guitars, with bass and a brushed kit.

Tracked to a click with a written map: the bridge sits back, the third chorus goes a tempo again, the outro slows down.
Guitar One sits left and Guitar Two right, two microphones each (neck joint and body). Each guitar has a small room of
its own, and that room comes back on the other side, so that the two players seem to sit in each other's space.
All tracking-day files start at bar 1. The harmony came from the singer's home, one file per chorus with two bars of
lead-in. The slap is thrown on the last word of each chorus and closed everywhere else. The lead is comped from two
takes (verses from take 3, choruses from take 5) and ridden by hand, the rest stays put.
"""

from __future__ import annotations

import math
from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]

RATE = 48000.0
TEMPOS: list[tuple[float, float]] = [(0.0, 92.0), (232.0, 89.0), (264.0, 92.0), (328.0, 86.0)]
SECTIONS: list[tuple[int, str]] = [
    (1, "Count"),
    (3, "Intro"),
    (7, "V1"),
    (23, "Ch 1"),
    (31, "Turn"),
    (35, "V2"),
    (51, "Ch 2"),
    (59, "Bridge (laid back)"),
    (67, "Ch 3 a tempo"),
    (83, "Outro slower"),
    (91, "Last chord"),
    (93, "End"),
]
BAND = {
    "hp": "high-pass",
    "lp": "low-pass",
    "bell": "bell",
    "hs": "high-shelf",
    "ls": "low-shelf",
}


def at(bar: int, beat: float = 1.0) -> float:
    """The time in seconds of a bar and a beat."""
    target = (bar - 1) * 4.0 + beat - 1.0
    ends = [first for first, _ in TEMPOS[1:]] + [math.inf]
    time = 0.0
    for (first, bpm), end in zip(TEMPOS, ends, strict=True):
        if target > first:
            time += (min(target, end) - first) * 60.0 / bpm
    return round(time, 6)


def eq(name: str, *bands: str) -> Part:
    """An equalizer; a band reads "hp 80 12" (slope) or "bell 240 -3 1.2" (gain, Q)."""
    made: list[Part] = []
    for band in bands:
        kind, freq, *rest = band.split()
        one: Part = {"kind": BAND[kind], "freq_hz": float(freq), "on": True}
        if kind in ("hp", "lp"):
            one["slope_db_per_oct"] = float(rest[0])
        else:
            one["gain_db"] = float(rest[0])
            one["q"] = float(rest[1]) if len(rest) > 1 else 0.7
        made.append(one)
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": made}}


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Part:
    """A compressor with its five usual settings."""
    dynamics: Part = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": makeup,
        "auto_makeup": False,
    }
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "dynamics": dynamics}


def fx(
    name: str, kind: str, *params: tuple[str, float, str], wet: float | None = None, pre: float | None = None
) -> Part:
    """Any other processor with the parameters that it lists."""
    made: Part = {"name": name, "kind": kind, "on": True, "opaque": False}
    made["parameters"] = [{"id": p.lower().replace(" ", "_"), "name": p, "value": v, "unit": u} for p, v, u in params]
    if wet is not None:
        made["wet"] = wet
    if pre is not None:
        made["pre_delay_ms"] = pre
    return made


def deess(freq: float, threshold: float) -> Part:
    """A de-esser."""
    return fx("De-ess", "de-esser", ("Freq", freq, "Hz"), ("Threshold", threshold, "dB"), ("Range", -6.0, "dB"))


def clip(
    name: str,
    file: str,
    start: float,
    end: float,
    *,
    zero: float = 0.0,
    fade: tuple[float, float] = (0.02, 0.08),
    gain: float = 0.0,
) -> Part:
    """A clip of a file whose beginning lies at ``zero`` in the song."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start - zero, 6),
        "speed": 1.0,
        "fade_in_s": fade[0],
        "fade_out_s": fade[1],
        "gain_db": gain,
        "on": True,
    }


def send(to: str, level: float, *, on: bool = True) -> Part:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def ride(target: str, *points: tuple[int, float, float]) -> Part:
    """A drawn ride in dB, given by bar, beat and value."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [at(bar, beat) for bar, beat, _ in points],
        "v": [value for _, _, value in points],
    }


def strip(ident: str, name: str, fader: float, pan: float, output: str | None, **more: Any) -> Part:
    """A channel; whatever is not said is empty."""
    made: Part = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    made.update(more)
    if made["kind"] == "track":
        made["plays"] = ["audio"]
    return made


def gtr_one(mic: str) -> list[Part]:
    """Guitar One from the intro to the end, the bridge and what follows from take 6."""
    cut = at(59)
    return [
        clip(f"Gtr1 {mic} tk4", f"g1{mic}4", at(3) - 0.18, cut + 0.015, fade=(0.05, 0.03)),
        clip(f"Gtr1 {mic} tk6", f"g1{mic}6", cut - 0.015, at(93), fade=(0.03, 3.2)),
    ]


def gtr_two(mic: str) -> list[Part]:
    """Guitar Two from the first verse, silent in the first half of the bridge."""
    return [
        clip(f"Gtr2 {mic} tk2", f"g2{mic}", at(7) - 0.14, at(60), fade=(0.03, 1.2)),
        clip(f"Gtr2 {mic} tk2", f"g2{mic}", at(63) - 0.1, at(93), fade=(0.03, 3.2)),
    ]


def bass(which: str, file: str) -> list[Part]:
    """The bass from the second half of the first verse, silent in the first half of the bridge."""
    return [
        clip(f"{which}.01", file, at(15) - 0.08, at(59, 3), fade=(0.02, 0.9)),
        clip(f"{which}.02", file, at(63) - 0.08, at(92, 3), fade=(0.02, 1.6)),
    ]


def kit(which: str, file: str) -> list[Part]:
    """A kit microphone: in with the pick-up to the first chorus, out for most of the bridge."""
    return [
        clip(f"{which} A", file, at(22, 3), at(59, 4), fade=(0.03, 1.1)),
        clip(f"{which} B", file, at(66, 2), at(93), fade=(0.03, 2.6)),
    ]


def lead() -> list[Part]:
    """The comp of the lead voice."""
    rows: list[tuple[str, str, tuple[int, float], tuple[int, float], float]] = [
        ("V1a", "lv3", (6, 4.0), (14, 3.5), 0.0),
        ("V1b", "lv3", (14, 4.0), (22, 3.0), -0.5),
        ("Ch1", "lv5", (22, 3.5), (30, 4.5), 0.0),
        ("V2a", "lv3", (34, 4.0), (42, 3.5), 0.5),
        ("V2b", "lv3", (42, 4.0), (50, 3.0), 0.0),
        ("Ch2", "lv5", (50, 3.5), (58, 4.5), 0.0),
        ("Bridge", "lv3", (59, 1.0), (66, 2.5), 1.0),
        ("Ch3a", "lv5", (66, 3.5), (74, 3.5), 0.0),
        ("Ch3b", "lv5", (74, 4.0), (82, 4.5), -0.5),
        ("Tag", "lv5", (83, 2.0), (88, 1.0), 0.5),
    ]
    return [clip(f"LdVox {n} tk{f[-1]}", f, at(*a), at(*b), fade=(0.02, 0.12), gain=g) for n, f, a, b, g in rows]


def double() -> list[Part]:
    """The double, choruses only."""
    rows: list[tuple[str, tuple[int, float], tuple[int, float]]] = [
        ("Ch1", (22, 3.5), (30, 4.0)),
        ("Ch2", (50, 3.5), (58, 4.0)),
        ("Ch3a", (66, 3.5), (74, 3.5)),
        ("Ch3b", (74, 4.0), (82, 4.0)),
    ]
    return [clip(f"LdDbl {n} d2", "ld2", at(*a), at(*b), fade=(0.02, 0.06)) for n, a, b in rows]


def harmony() -> list[Part]:
    """The harmony of choruses two and three, each from a file that begins two bars before the chorus."""
    return [
        clip("HarmHi Ch2", "hh2", at(50, 3.5), at(58, 4), zero=at(49), fade=(0.03, 0.1)),
        clip("HarmHi Ch3a", "hh3", at(66, 3.5), at(74, 3.5), zero=at(65), fade=(0.03, 0.1)),
        clip("HarmHi Ch3b", "hh3", at(74, 4), at(82, 4), zero=at(65), fade=(0.03, 0.1)),
    ]


def throws() -> Part:
    """The slap opened for the last word of each chorus."""
    points = [(1, 1.0, 0.0)]
    for last in (30, 58, 82):
        points += [(last, 2.0, 1.0), (last + 1, 1.0, 0.0)]
    made = ride("send:1:on", *points)
    return made | {"scale": "switch", "shape": "hold"}


def guitars() -> list[Part]:
    """The four guitar microphones and their bus."""
    ride_bus = ride(
        "fader",
        (1, 1.0, -2.0),
        (58, 4.0, -2.0),
        (59, 1.0, -0.8),
        (62, 4.0, -0.8),
        (63, 2.0, -2.0),
        (83, 1.0, -2.0),
        (84, 1.0, -1.4),
    )
    neck_1 = [eq("EQ", "hp 90 12", "bell 220 -2.5 1.1", "hs 9500 1.5"), comp("Comp", -22.0, 2.5, 12.0, 120.0, 2.0)]
    neck_2 = [eq("EQ", "hp 95 12", "bell 250 -2 1", "hs 10000 1"), comp("Comp", -21.0, 2.5, 12.0, 120.0, 2.0)]
    return [
        strip(
            "g1n", "Gtr One Neck", -6.0, -70.0, "gtr", sends=[send("v1", -14.0)], inserts=neck_1, clips=gtr_one("neck")
        ),
        strip(
            "g1b",
            "Gtr One Body",
            -9.5,
            -52.0,
            "gtr",
            sends=[send("v1", -18.0)],
            inserts=[eq("EQ", "hp 70 12", "bell 180 -3.5 1.4")],
            clips=gtr_one("body"),
        ),
        strip(
            "g2n", "Gtr Two Neck", -6.5, 70.0, "gtr", sends=[send("v2", -14.0)], inserts=neck_2, clips=gtr_two("neck")
        ),
        strip(
            "g2b",
            "Gtr Two Body",
            -10.0,
            52.0,
            "gtr",
            sends=[send("v2", -18.0)],
            inserts=[eq("EQ", "hp 75 12", "bell 190 -3 1.4")],
            clips=gtr_two("body"),
        ),
        strip(
            "gtr",
            "Gtrs",
            -2.0,
            0.0,
            "mix",
            kind="group",
            legs=2,
            inserts=[comp("Glue", -18.0, 1.5, 30.0, 200.0, 0.5)],
            automation=[ride_bus],
        ),
    ]


def voices() -> list[Part]:
    """Lead, double, harmony, the old guide and the bus."""
    ride_lead = ride(
        "fader",
        (1, 1.0, -5.0),
        (22, 3.0, -5.0),
        (22, 3.5, -3.8),
        (31, 1.0, -3.8),
        (31, 2.0, -5.0),
        (50, 3.0, -5.0),
        (50, 3.5, -3.8),
        (58, 4.5, -3.8),
        (59, 1.0, -5.5),
        (65, 1.0, -5.5),
        (65, 2.0, -8.5),
        (66, 3.0, -8.5),
        (66, 3.5, -3.8),
        (82, 4.5, -3.8),
        (83, 2.0, -5.0),
    )
    chain = [
        eq("EQ", "hp 85 18", "bell 310 -2 1.2"),
        comp("Comp fast", -20.0, 3.0, 4.0, 70.0, 2.0),
        deess(6400.0, -26.0),
        comp("Comp slow", -16.0, 2.0, 20.0, 250.0, 1.0),
        eq("Air", "hs 11000 1.8"),
    ]
    return [
        strip(
            "lv",
            "Lead Vox",
            -5.0,
            0.0,
            "vox",
            sends=[send("plate", -13.0), send("slap", -12.0, on=False)],
            inserts=chain,
            clips=lead(),
            automation=[ride_lead, throws()],
        ),
        strip(
            "ld",
            "Lead Dbl",
            -13.0,
            12.0,
            "vox",
            sends=[send("plate", -14.0)],
            inserts=[
                eq("EQ", "hp 140 12", "hs 8000 -2"),
                comp("Comp", -24.0, 4.0, 3.0, 80.0, 2.0),
                deess(6200.0, -30.0),
            ],
            clips=double(),
            comment="under the lead, feel it don't hear it",
        ),
        strip(
            "hh",
            "Harm Hi",
            -11.0,
            -18.0,
            "vox",
            sends=[send("plate", -10.0)],
            inserts=[
                eq("EQ", "hp 130 12", "bell 2800 -1.5 1"),
                comp("Comp", -22.0, 3.0, 5.0, 90.0),
                deess(6500.0, -28.0),
            ],
            clips=harmony(),
            comment="sung at home, files start 2 bars before the chorus",
        ),
        strip(
            "vg",
            "Vox Guide",
            -9.0,
            0.0,
            "vox",
            mute=True,
            clips=[clip("Guide tk1", "vg", at(6), at(88), fade=(0.05, 0.3))],
            comment="guide from tracking day, full of guitar bleed - keep muted",
        ),
        strip(
            "vox",
            "Vox",
            -1.0,
            0.0,
            "mix",
            kind="group",
            legs=2,
            inserts=[comp("Vox bus comp", -15.0, 1.5, 15.0, 150.0), eq("Vox bus EQ", "bell 3500 0.8 0.8")],
        ),
    ]


def rhythm() -> list[Part]:
    """Bass and brushed kit."""
    over = ("hp 160 12", "hs 9000 -1")
    dip = ride("fader", (1, 1.0, -3.5), (66, 3.0, -3.5), (67, 1.0, -2.8), (82, 4.0, -2.8), (83, 1.0, -3.8))
    return [
        strip(
            "bd",
            "Bass DI",
            -8.0,
            0.0,
            "mix",
            inserts=[eq("EQ", "hp 35 12", "bell 240 -2 1"), comp("Comp", -20.0, 4.0, 20.0, 120.0, 3.0)],
            clips=bass("Bass DI", "bd"),
        ),
        strip(
            "bm",
            "Bass Mic",
            -11.0,
            0.0,
            "mix",
            inserts=[eq("EQ", "hp 50 12", "lp 4500 12"), comp("Comp", -20.0, 3.0, 20.0, 120.0, 2.0)],
            clips=bass("Bass Mic", "bm"),
            comment="lines up with the DI as recorded, edit both together",
        ),
        strip(
            "kk",
            "Kick",
            -9.0,
            0.0,
            "drm",
            inserts=[eq("EQ", "hp 35 12", "bell 62 2 0.9", "bell 340 -4 1.2"), comp("Comp", -18.0, 3.0, 15.0, 90.0)],
            clips=kit("Kick", "kk"),
        ),
        strip(
            "sn",
            "Snr Brush",
            -8.5,
            4.0,
            "drm",
            sends=[send("plate", -17.0)],
            inserts=[eq("EQ", "hp 110 12", "bell 900 -1.5 1.2")],
            clips=kit("Snr", "sn"),
        ),
        strip("ol", "OH L", -7.0, -60.0, "drm", inserts=[eq("EQ", *over)], clips=kit("OH L", "ol")),
        strip("or", "OH R", -7.0, 60.0, "drm", inserts=[eq("EQ", *over)], clips=kit("OH R", "or")),
        strip(
            "drm",
            "Drums",
            -3.5,
            0.0,
            "mix",
            kind="group",
            legs=2,
            inserts=[comp("Drum comp", -17.0, 2.0, 30.0, 150.0, 1.0)],
            automation=[dip],
        ),
    ]


def ends() -> list[Part]:
    """The returns and the mix bus."""
    room = "Small room"
    tone = ("hp 260 12", "lp 6500 12")
    return [
        strip(
            "v1",
            "Verb One",
            -4.0,
            65.0,
            "mix",
            kind="return",
            inserts=[fx(room, "reverb", ("Decay", 1.3, "s"), wet=100.0, pre=24.0), eq("Verb EQ", *tone)],
            comment="room of Gtr One, comes back on the far side",
        ),
        strip(
            "v2",
            "Verb Two",
            -4.0,
            -65.0,
            "mix",
            kind="return",
            inserts=[fx(room, "reverb", ("Decay", 1.4, "s"), wet=100.0, pre=27.0), eq("Verb EQ", *tone)],
            comment="room of Gtr Two, comes back on the far side",
        ),
        strip(
            "plate",
            "Vox Plate",
            -5.0,
            0.0,
            "mix",
            kind="return",
            legs=2,
            inserts=[eq("Pre EQ", "hp 220 12"), fx("Plate", "reverb", ("Decay", 1.9, "s"), wet=100.0, pre=42.0)],
        ),
        strip(
            "slap",
            "Slap",
            -6.0,
            0.0,
            "mix",
            kind="return",
            sends=[send("plate", -14.0)],
            inserts=[
                fx("Tape slap", "delay", ("Time", 118.0, "ms"), ("Feedback", 9.0, "%"), wet=100.0),
                eq("Slap EQ", "hp 300 12", "lp 3800 12"),
            ],
        ),
        strip(
            "mix",
            "Mix",
            0.0,
            0.0,
            None,
            kind="master",
            legs=2,
            inserts=[
                eq("Mix EQ", "hp 24 12", "hs 12000 0.7"),
                comp("Mix comp", -13.0, 1.5, 30.0, 160.0),
                fx("Limiter", "limiter", ("Gain", 1.5, "dB"), ("Ceiling", -1.0, "dB")),
                fx("Meter", "analyser"),
            ],
            comment="limiter stays on, ceiling -1 for the streaming print",
        ),
    ]


def media() -> list[Part]:
    """The files; those of the tracking days all begin at bar 1."""
    rows: list[tuple[str, str, float]] = [
        ("g1neck4", "Audio/Gtr1_neck_tk4.wav", 248.1),
        ("g1neck6", "Audio/Gtr1_neck_tk6.wav", 247.6),
        ("g1body4", "Audio/Gtr1_body_tk4.wav", 248.1),
        ("g1body6", "Audio/Gtr1_body_tk6.wav", 247.6),
        ("g2neck", "Audio/Gtr2_neck_tk2.wav", 246.9),
        ("g2body", "Audio/Gtr2_body_tk2.wav", 246.9),
        ("lv3", "Audio/LdVox_tk3.wav", 239.4),
        ("lv5", "Audio/LdVox_tk5.wav", 240.2),
        ("ld2", "Audio/LdDbl_tk2.wav", 232.0),
        ("hh2", "Audio/from home/HarmHi_ch2.wav", round(at(60) - at(49), 3)),
        ("hh3", "Audio/from home/HarmHi_ch3.wav", round(at(84) - at(65), 3)),
        ("vg", "Audio/Vox_guide_tk1.wav", 248.1),
        ("bd", "Audio/Bass_DI_tk3.wav", 247.0),
        ("bm", "Audio/Bass_mic_tk3.wav", 247.0),
        ("kk", "Audio/Kick_tk3.wav", 248.3),
        ("sn", "Audio/Snr_tk3.wav", 248.3),
        ("ol", "Audio/OHL_tk3.wav", 248.3),
        ("or", "Audio/OHR_tk3.wav", 248.3),
    ]
    one: Part = {"place": "beside", "present": True, "legs": 1, "sample_rate_hz": RATE}
    return [{"id": ident, "path": path, "duration_s": length, **one} for ident, path, length in rows]


def good() -> Session:
    """The session as it should be bounced."""
    channels = guitars() + voices() + rhythm() + ends()
    channels[-1].pop("output")
    return {
        "format": "mixlint-session/1",
        "title": "Salt on the Sill mix 6",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECTIONS],
        "channels": channels,
        "media": media(),
        "metadata": {"bounce": "48 kHz 24 bit, marker Count to marker End"},
    }


def channel(session: Session, name: str) -> Part:
    """The channel of a name."""
    found: Part = next(c for c in session["channels"] if c["name"] == name)
    return found


def room_on_own_side(session: Session) -> None:
    """The room of Guitar Two comes back on the side of Guitar Two."""
    channel(session, "Verb Two")["pan"] = 65.0


def no_a_tempo(session: Session) -> None:
    """The tempo of the bridge runs on: the event of the third chorus is gone."""
    session["timeline"]["tempos"] = [t for t in session["timeline"]["tempos"] if t["beat"] != 264.0]


def ride_stays_down(session: Session) -> None:
    """The dip of the bridge's last line is written on through the third chorus."""
    points = channel(session, "Lead Vox")["automation"][0]
    held = [at(66, 3.5) <= t <= at(82, 4.5) for t in points["t"]]
    points["v"] = [-8.5 if on else v for on, v in zip(held, points["v"], strict=True)]


def guide_open(session: Session) -> None:
    """The guide is unmuted."""
    channel(session, "Vox Guide")["mute"] = False


def double_is_lead(session: Session) -> None:
    """The lead's clip of chorus two lies on the double as well."""
    source = next(c for c in channel(session, "Lead Vox")["clips"] if c["name"].startswith("LdVox Ch2"))
    channel(session, "Lead Dbl")["clips"][1] = dict(source)


def room_half_dry(session: Session) -> None:
    """The room of Guitar One lets the dry guitar through."""
    channel(session, "Verb One")["inserts"][0]["wet"] = 35.0


def bass_mic_slid(session: Session) -> None:
    """The last clip of the bass microphone has slid late, the DI has stayed."""
    slid = channel(session, "Bass Mic")["clips"][1]
    slid["start_s"] = round(slid["start_s"] + 0.023, 6)
    slid["end_s"] = round(slid["end_s"] + 0.023, 6)


def body_thinned(session: Session) -> None:
    """One nought too many in the high-pass of a body microphone."""
    channel(session, "Gtr Two Body")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 750.0


def last_chord_cut(session: Session) -> None:
    """The neck microphone of Guitar Two is trimmed in the ring of the last chord."""
    last = channel(session, "Gtr Two Neck")["clips"][-1]
    last["end_s"] = at(91, 2)
    last["fade_out_s"] = 0.03


def harmony_rate(session: Session) -> None:
    """The harmony file of chorus three is a 44.1 kHz one."""
    next(m for m in session["media"] if m["id"] == "hh3")["sample_rate_hz"] = 44100.0


def fader_over_limiter(session: Session) -> None:
    """The mix fader lifts what the limiter has limited."""
    channel(session, "Mix")["fader_db"] = 3.0


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Verb One", "Verb Two"],
        "why": "mono rooms far out on the side opposite to their guitar: that is the idea of the mix",
    },
    {"channels": ["Slap"], "why": "its only send stands closed and is opened by automation on three words"},
    {"channels": ["Vox Guide"], "why": "a muted spare that keeps a clip and an output"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-on-own-side",
        "class": "place",
        "channels": ["Verb Two"],
        "grade": "look",
        "says": "Verb Two comes back right, with Verb One and on its own guitar's side; its comment says the far side.",
        "plant": room_on_own_side,
    },
    {
        "id": "no-a-tempo",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The map stays at 89 from the bridge on; 'Ch 3 a tempo' and all behind it lie off the bar lines.",
        "plant": no_a_tempo,
    },
    {
        "id": "ride-stays-down",
        "class": "automation",
        "channels": ["Lead Vox"],
        "grade": "hold",
        "says": "Lead Vox stays at -8.5 dB through chorus three; choruses one and two run at -3.8.",
        "plant": ride_stays_down,
    },
    {
        "id": "guide-open",
        "class": "audible-that-should-not-be",
        "channels": ["Vox Guide"],
        "grade": "hold",
        "says": "Vox Guide is open although its comment says to keep it muted.",
        "plant": guide_open,
    },
    {
        "id": "double-is-lead",
        "class": "twice",
        "channels": ["Lead Dbl"],
        "grade": "hold",
        "says": "In chorus two Lead Dbl plays the very clip of Lead Vox, not its own take.",
        "plant": double_is_lead,
    },
    {
        "id": "room-half-dry",
        "class": "ambience",
        "channels": ["Verb One"],
        "grade": "look",
        "says": "The room of Verb One is 35 % wet: the dry guitar comes back on the other side; Verb Two is at 100 %.",
        "plant": room_half_dry,
    },
    {
        "id": "bass-mic-slid",
        "class": "phase",
        "channels": ["Bass Mic", "Bass DI"],
        "grade": "look",
        "says": "From the bridge on Bass Mic lies 23 ms behind Bass DI with the same place in the file.",
        "plant": bass_mic_slid,
    },
    {
        "id": "body-thinned",
        "class": "processors",
        "channels": ["Gtr Two Body"],
        "grade": "look",
        "says": "The high-pass of Gtr Two Body is at 750 Hz, the other guitar microphones have 70 to 95.",
        "plant": body_thinned,
    },
    {
        "id": "last-chord-cut",
        "class": "end",
        "channels": ["Gtr Two Neck"],
        "grade": "hold",
        "says": "Gtr Two Neck is cut off one beat into the last chord, its body microphone rings for two bars.",
        "plant": last_chord_cut,
    },
    {
        "id": "harmony-rate",
        "class": "files",
        "channels": ["Harm Hi"],
        "grade": "look",
        "says": "HarmHi_ch3.wav is a 44.1 kHz file in a 48 kHz session; check pitch and length.",
        "plant": harmony_rate,
    },
    {
        "id": "fader-over-limiter",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The mix fader is at +3 dB behind a limiter with a ceiling of -1: the bounce clips.",
        "plant": fader_over_limiter,
    },
]
