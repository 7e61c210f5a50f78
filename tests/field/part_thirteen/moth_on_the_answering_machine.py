"""Moth on the Answering Machine: a lo-fi song recorded in a kitchen.

One man and his neighbour: two acoustic guitars far apart, each with its spring on the other side, a toy piano, a bass
guitar through the DI and a practice amp at once, an old drum machine on three outputs, one singer who doubles himself
in the choruses. Everything was recorded against the drum machine from the first bar on, so a piece of a file lies in
the song where it lies in the file; the toy piano was played to the slowed-down song and comes up faster.
The engineer cuts by section, names things in lower case, keeps the guide muted and throws the echo by hand.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

BPM = 92.0
BEAT = 60.0 / BPM
RATE = 44100.0
TOY_SPEED = 1.0293
SECTIONS: list[tuple[int, str]] = [
    (1, "count"),
    (2, "intro"),
    (6, "verse 1"),
    (14, "chorus 1"),
    (22, "verse 2"),
    (30, "chorus 2"),
    (38, "toy bit"),
    (46, "last chorus"),
    (54, "outro oohs"),
    (58, "last chord"),
]


def at(bar: float, beat: float = 0.0) -> float:
    """The second at which a bar begins, some beats on."""
    return round(((bar - 1.0) * 4.0 + beat) * BEAT, 4)


def clip(name: str, file: str, start: float, end: float, fades: tuple[float, float], **more: Any) -> Session:
    """A piece of a file that began with the song."""
    piece: Session = {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start, 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }
    piece.update(more)
    return piece


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.71, slope: float | None = None) -> Session:
    """One band of an equalizer."""
    made: Session = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if slope is not None:
        made["slope_db_per_oct"] = slope
    return made


def eq(*bands: Session) -> Session:
    """An equalizer."""
    return {
        "name": "eq",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> Session:
    """A compressor."""
    return {
        "name": "comp",
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": out,
            "auto_makeup": False,
        },
    }


def effect(name: str, kind: str, wet: float, *settings: tuple[str, float | str, str], **more: Any) -> Session:
    """An effect with listed settings."""
    made: Session = {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": False,
        "wet": wet,
        "parameters": [
            {"id": label.lower().replace(" ", "_"), "name": label, "value": value, "unit": unit}
            for label, value, unit in settings
        ],
    }
    made.update(more)
    return made


def send(to: str, level: float) -> Session:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def curve(target: str, *points: tuple[float, float]) -> Session:
    """A ride in decibels, straight between its points."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [round(t, 4) for t, _ in points],
        "v": [v for _, v in points],
    }


def strip(ident: str, name: str, kind: str, legs: int, fader: float, pan: float, **more: Any) -> Session:
    """A strip with what every strip has."""
    made: Session = {
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


def box() -> list[Session]:
    """The drum machine: three outputs and their bus."""
    tight = (0.003, 0.02)
    hat = [
        clip("count 4", "box_hat", 0.0, at(2), tight, on=False),
        clip("hat a", "box_hat", at(6), at(38), tight),
        clip("hat breakdown", "box_hat", at(38), at(46), tight, gain_db=-2.0),
        clip("hat b", "box_hat", at(46), at(58, 1), tight),
    ]
    return [
        strip(
            "kick",
            "box kick",
            "track",
            1,
            -5.0,
            0.0,
            output="boxbus",
            inserts=[eq(band("high-pass", 35, slope=12), band("bell", 58, 2.5, 1.1), band("low-pass", 7000, slope=12))],
            clips=[
                clip("kick a", "box_kick", at(6), at(38), tight),
                clip("kick b", "box_kick", at(46), at(58, 2), tight),
            ],
        ),
        strip(
            "snare",
            "box snare",
            "track",
            1,
            -7.5,
            0.0,
            output="boxbus",
            inserts=[eq(band("high-pass", 110, slope=12), band("bell", 210, 2.0, 1.0)), comp(-16, 3, 12, 90, 1.5)],
            clips=[
                clip("snare a", "box_snare", at(14), at(38), tight),
                clip("snare b", "box_snare", at(46), at(58, 2), tight),
            ],
        ),
        strip(
            "hat",
            "box hat + perc",
            "track",
            2,
            -11.0,
            0.0,
            output="boxbus",
            inserts=[eq(band("high-pass", 280, slope=12), band("high-shelf", 9000, -2.0))],
            clips=hat,
            comment="the four clicks at the top are only for playing along, clip is off",
        ),
        strip(
            "boxbus",
            "box bus",
            "group",
            2,
            -1.5,
            0.0,
            inserts=[
                effect("12 bit", "distortion", 35.0, ("Bits", 12.0, "bit"), ("Rate", 22.0, "kHz")),
                comp(-14, 2, 20, 160, 1.0),
            ],
            automation=[
                curve(
                    "fader",
                    (0.0, -1.5),
                    (at(46, -0.5), -1.5),
                    (at(46), -0.7),
                    (at(54), -0.7),
                    (at(54, 2), -1.5),
                )
            ],
        ),
    ]


def bass() -> list[Session]:
    """The bass guitar, two ways at once, cut together."""
    parts = [
        ("1", "t1", at(6) - 0.03, at(22) - 0.03, (0.01, 0.01)),
        ("2", "t2", at(22) - 0.03, at(38) + 0.5, (0.01, 0.2)),
        ("3", "t1", at(46) - 0.03, at(60, 2), (0.01, 1.8)),
    ]
    return [
        strip(
            "bassdi",
            "bass di",
            "track",
            1,
            -8.0,
            0.0,
            inserts=[
                eq(band("high-pass", 32, slope=12), band("bell", 90, 1.5, 0.9), band("low-pass", 3200, slope=6)),
                comp(-20, 4, 15, 150, 3.0),
            ],
            clips=[clip(f"bass di {n}", f"bass_di_{f}", a, b, fades) for n, f, a, b, fades in parts],
        ),
        strip(
            "bassamp",
            "bass amp mic",
            "track",
            1,
            -11.5,
            0.0,
            inserts=[
                eq(band("high-pass", 60, slope=12), band("bell", 800, 2.0, 1.2), band("low-pass", 4500, slope=12)),
                comp(-20, 4, 15, 150, 2.0),
            ],
            clips=[clip(f"bass amp {n}", f"bass_amp_{f}", a, b, fades) for n, f, a, b, fades in parts],
            comment="same passes as the di, mic right on the cloth so it sits in time with it. cut the two together",
        ),
    ]


def guitar_inserts() -> list[Session]:
    """What both guitars have."""
    shape = eq(band("high-pass", 90, slope=12), band("bell", 240, -2.5, 1.2), band("high-shelf", 8000, -1.5))
    return [shape, comp(-18, 2, 25, 180, 1.5)]


def guitars() -> list[Session]:
    """Two acoustic guitars apart."""
    cross = 0.01
    punch = at(21)
    left = [
        clip("gtr left a", "gtr_l_1", at(2) - 0.25, at(38) + cross, (0.05, 0.02)),
        clip("gtr left b", "gtr_l_2", at(38) - cross, at(61), (0.02, 2.8)),
    ]
    right = [
        clip("gtr right a", "gtr_r_1", at(2) - 0.25, at(22) + cross, (0.05, 0.02)),
        clip(
            "gtr right v2 punch",
            "gtr_r_v2",
            at(22) - cross,
            at(30) + cross,
            (0.02, 0.02),
            offset_s=round(at(22) - cross - punch, 4),
        ),
        clip("gtr right b", "gtr_r_1", at(30) - cross, at(61), (0.02, 2.8)),
    ]
    return [
        strip(
            "gtrl",
            "ac gtr left",
            "track",
            1,
            -7.5,
            -82.0,
            sends=[send("springr", -11.0)],
            inserts=guitar_inserts(),
            clips=left,
            comment="me, small body guitar. spring goes over to the other side",
        ),
        strip(
            "gtrr",
            "ac gtr right",
            "track",
            1,
            -7.0,
            82.0,
            sends=[send("springl", -11.0)],
            inserts=guitar_inserts(),
            clips=right,
            comment="neighbour, nylon strings. spring goes over to the other side",
        ),
    ]


def toy() -> Session:
    """The toy piano, sped up into tune."""
    parts = [
        ("toy ch1", "toy_1", 14, 22),
        ("toy ch2", "toy_1", 30, 38),
        ("toy bit", "toy_2", 38, 46),
        ("toy last ch", "toy_1", 46, 54),
    ]
    clips = []
    for name, file, first, last in parts:
        start, end = at(first) - 0.05, at(last) - 0.05
        moved = {"speed": TOY_SPEED, "offset_s": round(start * TOY_SPEED, 4)}
        clips.append(clip(name, file, start, end, (0.02, 0.03), **moved))
    return strip(
        "toy",
        "toy piano",
        "track",
        1,
        -9.0,
        22.0,
        sends=[send("echo", -13.0)],
        inserts=[
            eq(band("high-pass", 200, slope=12), band("bell", 2600, -3.0, 1.6)),
            effect("wobble", "modulation", 100.0, ("Depth", 8.0, "%"), ("Speed", 0.7, "Hz")),
        ],
        clips=clips,
        automation=[
            curve("fader", (0.0, -9.0), (at(38) - 0.6, -9.0), (at(38), -3.5), (at(46) - 0.6, -3.5), (at(46), -9.0))
        ],
        comment="played to the slowed down song, runs at 1.0293 so it is in tune. up for its own bit, then back under",
    )


def voice() -> list[Session]:
    """The singer, himself again, the old guide, and the bus."""
    ring = (0.08, 0.15)
    lead = [
        clip("vox t2 v1", "vox_t2", at(6) - 0.4, at(14) - 0.9, ring),
        clip("vox t2 ch1", "vox_t2", at(14) - 0.4, at(22) - 0.9, ring),
        clip("vox t4 v2", "vox_t4", at(22) - 0.35, at(30) - 0.9, ring),
        clip("vox t4 ch2", "vox_t4", at(30) - 0.4, at(38) + 0.3, ring),
        clip("vox t4 last ch", "vox_t4", at(46) - 0.4, at(54) - 0.8, ring),
        clip("vox t2 oohs", "vox_t2", at(54) - 0.3, at(58) + 1.6, (0.08, 0.6)),
    ]
    double = [
        clip("dbl t1 ch1", "dbl_t1", at(14) - 0.3, at(22) - 0.95, ring),
        clip("dbl t1 ch2", "dbl_t1", at(30) - 0.3, at(38) + 0.2, ring),
        clip("dbl t2 last ch", "dbl_t2", at(46) - 0.3, at(54) - 0.9, ring),
        clip("dbl t2 oohs", "dbl_t2", at(54) - 0.25, at(58) + 1.4, (0.08, 0.6)),
    ]
    sss = effect("de-esser", "de-esser", 100.0, ("Frequency", 6200.0, "Hz"), ("Amount", 5.0, "dB"))
    sss2 = effect("de-esser", "de-esser", 100.0, ("Frequency", 6200.0, "Hz"), ("Amount", 7.0, "dB"))
    throws = [(0.0, -15.0)]
    for bar in (22, 38, 54):
        throws += [(at(bar, -3), -15.0), (at(bar, -2.5), -7.0), (at(bar, -0.5), -7.0), (at(bar, 0.5), -15.0)]
    return [
        strip(
            "vox",
            "vox",
            "track",
            1,
            -4.5,
            0.0,
            output="voxbus",
            inserts=[eq(band("high-pass", 95, slope=18), band("bell", 320, -2.0, 1.1)), sss, comp(-22, 3, 8, 120, 3.0)],
            clips=lead,
        ),
        strip(
            "dbl",
            "vox double",
            "track",
            1,
            -9.0,
            0.0,
            output="voxbus",
            inserts=[
                eq(band("high-pass", 140, slope=18), band("high-shelf", 7000, -3.0)),
                sss2,
                comp(-24, 4, 5, 100, 3.0),
            ],
            clips=double,
            comment="sung again on another evening, choruses and oohs, under the first one",
        ),
        strip(
            "guide",
            "guide vox - dont use",
            "track",
            1,
            -6.0,
            0.0,
            output="voxbus",
            mute=True,
            clips=[clip("guide", "vox_guide", 0.0, at(58), (0.05, 0.1))],
            comment="old words",
        ),
        strip(
            "voxbus",
            "vox bus",
            "group",
            1,
            0.0,
            0.0,
            sends=[send("echo", -15.0), send("springr", -19.0), send("springl", -19.0)],
            inserts=[comp(-12, 2, 20, 200, 1.0), effect("tape", "distortion", 100.0, ("Drive", 3.0, "dB"))],
            automation=[
                curve("send:0:level", *throws),
                curve("fader", (0.0, 0.0), (at(46) - 0.5, 0.0), (at(46), 0.8), (at(54), 0.8), (at(54, 2), 0.0)),
            ],
            comment="echo throws by hand at the ends of the choruses",
        ),
    ]


def spring() -> list[Session]:
    """What both springs have."""
    tank = effect("spring", "reverb", 100.0, ("Decay", 1.9, "s"), ("Tension", 40.0, "%"), pre_delay_ms=12.0)
    return [tank, eq(band("high-pass", 180, slope=12), band("low-pass", 5000, slope=12))]


def returns() -> list[Session]:
    """The crossed springs and the echo."""
    repeat = effect("tape echo", "delay", 100.0, ("Time", 326.1, "ms"), ("Feedback", 28.0, "%"), ("Flutter", 6.0, "%"))
    return [
        strip(
            "springr",
            "spring R",
            "return",
            1,
            -4.0,
            76.0,
            inserts=spring(),
            comment="for the left guitar, crossed on purpose",
        ),
        strip(
            "springl",
            "spring L",
            "return",
            1,
            -4.0,
            -76.0,
            inserts=spring(),
            comment="for the right guitar, crossed on purpose",
        ),
        strip(
            "echo",
            "echo 1/8",
            "return",
            1,
            -3.0,
            0.0,
            inserts=[repeat, eq(band("high-pass", 250, slope=12), band("low-pass", 3800, slope=12))],
            comment="eighths of the song, set by numbers",
        ),
    ]


def media() -> list[Session]:
    """The files and their lengths."""
    rows: list[tuple[str, str, int, float]] = [
        ("box_kick", "box kick.wav", 1, 155.2),
        ("box_snare", "box snare.wav", 1, 155.2),
        ("box_hat", "box hat perc.wav", 2, 155.2),
        ("bass_di_t1", "bass di take 1.wav", 1, 159.8),
        ("bass_di_t2", "bass di take 2.wav", 1, 121.4),
        ("bass_amp_t1", "bass amp take 1.wav", 1, 159.8),
        ("bass_amp_t2", "bass amp take 2.wav", 1, 121.4),
        ("gtr_l_1", "gtr left 1.wav", 1, 161.3),
        ("gtr_l_2", "gtr left 2.wav", 1, 160.2),
        ("gtr_r_1", "gtr right 1.wav", 1, 162.7),
        ("gtr_r_v2", "gtr right v2 punch.wav", 1, 27.2),
        ("toy_1", "toy piano 1 (slow).wav", 1, 163.0),
        ("toy_2", "toy piano 2 (slow).wav", 1, 131.5),
        ("vox_t2", "vox take 2.wav", 1, 158.1),
        ("vox_t4", "vox take 4.wav", 1, 157.4),
        ("dbl_t1", "vox double 1.wav", 1, 156.6),
        ("dbl_t2", "vox double 2.wav", 1, 156.0),
        ("vox_guide", "guide.wav", 1, 152.9),
    ]
    return [
        {
            "id": ident,
            "path": f"moth audio/{path}",
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for ident, path, legs, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    stop: Session = {
        "name": "limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {"threshold_db": -1.0, "release_ms": 90.0, "output_gain_db": 0.0, "auto_makeup": False},
    }
    mix = strip(
        "mix",
        "mix",
        "master",
        2,
        0.0,
        0.0,
        inserts=[
            effect("cassette", "distortion", 100.0, ("Drive", 2.0, "dB"), ("Hiss", 0.0, "%")),
            eq(band("low-shelf", 110, 1.0), band("high-shelf", 10000, -1.5)),
            stop,
        ],
    )
    del mix["output"]
    return {
        "format": "mixlint-session/1",
        "title": "moth on the answering machine mix 5",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECTIONS] + [{"time_s": at(61), "name": "end"}],
        "channels": [*box(), *bass(), *guitars(), toy(), *voice(), *returns(), mix],
        "media": media(),
        "metadata": {"mix": "5", "place": "kitchen"},
    }


def channel(session: Session, name: str) -> Session:
    """The channel of a name."""
    found: Session = next(c for c in session["channels"] if c["name"] == name)
    return found


def piece(session: Session, name: str, label: str) -> Session:
    """The clip of a channel by its name."""
    found: Session = next(c for c in channel(session, name)["clips"] if c["name"] == label)
    return found


def own_side(session: Session) -> None:
    """The right guitar's send was picked one line too high."""
    channel(session, "ac gtr right")["sends"][0]["to"] = "springr"


def past_bus(session: Session) -> None:
    """The double goes straight to the mix."""
    channel(session, "vox double")["output"] = "mix"


def ride_late(session: Session) -> None:
    """The toy's ride lies eight bars late."""
    ride = channel(session, "toy piano")["automation"][0]
    ride["t"] = [ride["t"][0]] + [round(t + at(9), 4) for t in ride["t"][1:]]


def double_hot(session: Session) -> None:
    """One clip of the double is seven decibels up."""
    piece(session, "vox double", "dbl t1 ch2")["gain_db"] = 7.0


def count_on(session: Session) -> None:
    """The four clicks are on."""
    piece(session, "box hat + perc", "count 4")["on"] = True


def same_take(session: Session) -> None:
    """The double's last chorus plays the first voice's take."""
    piece(session, "vox double", "dbl t2 last ch").update(file="vox_t4", name="vox t4 last ch")


def echo_old_song(session: Session) -> None:
    """The echo still has the time of the song before it was sped up."""
    channel(session, "echo 1/8")["inserts"][0]["parameters"][0]["value"] = 365.9


def amp_slid(session: Session) -> None:
    """The second stretch of the amp was nudged alone."""
    part = piece(session, "bass amp mic", "bass amp 2")
    part["start_s"] = round(part["start_s"] + 0.009, 4)
    part["end_s"] = round(part["end_s"] + 0.009, 4)


def kick_thin(session: Session) -> None:
    """A nought too many in the kick's high-pass."""
    channel(session, "box kick")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 350


def on_desktop(session: Session) -> None:
    """The voice's fourth take never got into the session's folder."""
    take = next(m for m in session["media"] if m["id"] == "vox_t4")
    take.update(path="D:/desktop stuff/vox take 4.wav", place="outside")


def cut_ring(session: Session) -> None:
    """The left guitar's last clip was pulled in."""
    piece(session, "ac gtr left", "gtr left b").update(end_s=at(58, 2), fade_out_s=0.01)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["toy piano"], "why": "the whole part runs at another speed than it was recorded, to be in tune"},
    {"channels": ["box bus"], "why": "a bit crusher sits in the bus at a third wet, which is the sound of the drums"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "spring-own-side",
        "class": "routing",
        "channels": ["ac gtr right", "spring L"],
        "grade": "look",
        "says": "ac gtr right sends to spring R, on its own side; its comment and spring L want it crossed.",
        "plant": own_side,
    },
    {
        "id": "double-past-bus",
        "class": "routing",
        "channels": ["vox double"],
        "grade": "look",
        "says": "vox double goes straight to mix, past the vox bus with its compressor, tape, echo and ride.",
        "plant": past_bus,
    },
    {
        "id": "toy-ride-late",
        "class": "automation",
        "channels": ["toy piano"],
        "grade": "look",
        "says": "The toy piano's lift lies over the last chorus, eight bars after the toy bit it is for.",
        "plant": ride_late,
    },
    {
        "id": "double-clip-hot",
        "class": "level",
        "channels": ["vox double"],
        "grade": "look",
        "says": "The double's clip of chorus 2 is at +7 dB, the others at 0; it tops the voice it doubles.",
        "plant": double_hot,
    },
    {
        "id": "count-left-on",
        "class": "audible-that-should-not-be",
        "channels": ["box hat + perc"],
        "grade": "hold",
        "says": "The count-in clip sounds before the intro, though the comment says that it is off.",
        "plant": count_on,
    },
    {
        "id": "double-is-lead",
        "class": "twice",
        "channels": ["vox double"],
        "grade": "hold",
        "says": "In the last chorus vox double plays the same stretch of vox take 4 as vox, so nothing is doubled.",
        "plant": same_take,
    },
    {
        "id": "echo-wrong-time",
        "class": "ambience",
        "channels": ["echo 1/8"],
        "grade": "look",
        "says": "echo 1/8 is at 365.9 ms, an eighth at 82 bpm; an eighth of this song at 92 is 326.1 ms.",
        "plant": echo_old_song,
    },
    {
        "id": "amp-nudged",
        "class": "phase",
        "channels": ["bass amp mic"],
        "grade": "look",
        "says": "bass amp 2 lies 9 ms later than bass di 2 of the same pass, all other cuts of the two agree.",
        "plant": amp_slid,
    },
    {
        "id": "kick-high-pass",
        "class": "processors",
        "channels": ["box kick"],
        "grade": "look",
        "says": "The kick's high-pass stands at 350 Hz, above the 58 Hz that the next band lifts; 35 was surely meant.",
        "plant": kick_thin,
    },
    {
        "id": "take-on-desktop",
        "class": "hand-over",
        "channels": ["vox"],
        "grade": "note",
        "says": "vox take 4 lies on a desktop outside the session's folder, all other files beside it; collect it.",
        "plant": on_desktop,
    },
    {
        "id": "last-chord-cut",
        "class": "end",
        "channels": ["ac gtr left"],
        "grade": "look",
        "says": "ac gtr left is cut off within the last chord without a fade, the right one rings on to the end.",
        "plant": cut_ring,
    },
]
