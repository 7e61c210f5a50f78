"""A slow folk-pop song, "Two Lanterns on the Weir", 92 bpm, recorded to a click. Two acoustic guitars face each other:
the first hard-ish left, the second hard-ish right, and each has its own mono reverb return on the other side; singer,
bass and a small brushed kit stay in the middle, four backing voices spread between. The engineer consolidates every
track from bar 1, so a clip's offset is its place in the song, nests tracks under their groups, keeps a pickup under
each guitar microphone, rides the lead by hand and opens a synced delay only for the ends of the choruses. The
second-best lead stays in the session, muted, and the click goes nowhere."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

BPM = 92.0
RATE = 48000
FILE_S = 236.0
OFF = -90.0
RING = 226.5  # the guitars' last chord has died away


def bar(n: float) -> float:
    """Seconds at bar n (bar 1 at zero, four quarters a bar)."""
    return round((n - 1.0) * 240.0 / BPM, 4)


CHORUSES: tuple[tuple[str, float, float], ...] = (
    ("Ch1", bar(23) - 0.5, bar(30.6)),
    ("Ch2", bar(47) - 0.5, bar(54.6)),
    ("Ch3", bar(63) - 0.5, bar(78.5)),
)


def clip(
    file: str, start: float, end: float, name: str, fade_in: float = 0.01, fade_out: float = 0.01, gain: float = 0.0
) -> dict[str, Any]:
    """A clip of a file that was consolidated from bar 1."""
    start, end = round(start, 4), round(end, 4)
    return {
        "start_s": start,
        "end_s": end,
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": start,
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": gain,
        "on": True,
    }


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7, slope: float | None = None) -> dict[str, Any]:
    made: dict[str, Any] = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if slope is not None:
        made["slope_db_per_oct"] = slope
    return made


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    return {
        "name": "EQ",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def comp(threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> dict[str, Any]:
    return {
        "name": "Comp",
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 4.0,
            "output_gain_db": makeup,
            "auto_makeup": False,
        },
    }


def limiter() -> dict[str, Any]:
    return {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": -1.0,
            "ratio": 100.0,
            "attack_ms": 0.1,
            "release_ms": 60.0,
            "output_gain_db": 0.0,
            "auto_makeup": False,
        },
    }


def reverb(name: str, pre_delay: float, decay: float) -> dict[str, Any]:
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}],
    }


def delay() -> dict[str, Any]:
    return {
        "name": "Tape Delay",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "sync", "name": "Tempo sync", "value": True},
            {"id": "note", "name": "Note value", "value": "1/8"},
            {"id": "feedback", "name": "Feedback", "value": 24.0, "unit": "%"},
        ],
    }


def send(to: str, level: float) -> dict[str, Any]:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def lane(target: str, shape: str, points: list[tuple[float, float]]) -> dict[str, Any]:
    return {
        "target": target,
        "scale": "dB",
        "shape": shape,
        "t": [round(t, 4) for t, _ in points],
        "v": [v for _, v in points],
    }


def track(
    ident: str, name: str, group: str, fader: float, pan: float, clips: list[dict[str, Any]], **more: Any
) -> dict[str, Any]:
    return {
        "id": ident,
        "name": name,
        "kind": "track",
        "parent": group if group != "mix" else None,
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": group,
        "clips": clips,
        **more,
    }


def bus(
    ident: str, name: str, kind: str, fader: float, output: str, legs: int = 2, pan: float = 0.0, **more: Any
) -> dict[str, Any]:
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        **more,
    }


def lead_clips(main: str, patch: str) -> list[dict[str, Any]]:
    """The lead as comped: the second half of verse two comes from another pass, crossfaded in."""
    (_, a, b), (_, c, d), (_, e, f) = CHORUSES
    return [
        clip(main, bar(7) - 0.5, bar(22.5), "V1", 0.02, 0.05),
        clip(main, a, b, "Ch1", 0.02, 0.05),
        clip(main, bar(31) - 0.5, bar(39) + 0.015, "V2 a", 0.02, 0.03),
        clip(patch, bar(39) - 0.015, bar(46.5), "V2 b", 0.03, 0.05),
        clip(main, c, d, "Ch2", 0.02, 0.05),
        clip(main, bar(55) - 0.5, bar(62.3), "Br", 0.02, 0.05),
        clip(main, e, f, "Ch3", 0.02, 0.05),
        clip(main, bar(81) - 0.4, bar(84), "Out", 0.02, 0.2),
    ]


def chorus_clips(file: str, bridge: bool) -> list[dict[str, Any]]:
    made = [clip(file, start, end, name, 0.02, 0.08) for name, start, end in CHORUSES]
    if bridge:
        made.insert(2, clip(file, bar(55), bar(62.3), "Br oohs", 0.05, 0.15))
    return made


def tracks() -> list[dict[str, Any]]:
    kit_in, kit_out = bar(15) - 0.25, bar(87.5)
    made = [
        track(
            "kick",
            "Kick",
            "drums",
            -7.0,
            0.0,
            [clip("kick", kit_in, kit_out, "Kick", 0.02, 1.0)],
            inserts=[
                eq(band("high-pass", 32.0, slope=12.0), band("bell", 280.0, -3.0, 1.1)),
                comp(-16.0, 3.0, 18.0, 80.0, 1.5),
            ],
        ),
        track(
            "snare",
            "Snare Brush",
            "drums",
            -8.5,
            4.0,
            [clip("snare", kit_in, kit_out, "Snare", 0.02, 1.0)],
            inserts=[eq(band("high-pass", 95.0, slope=12.0))],
            sends=[send("plate", -19.0)],
        ),
        track(
            "oh_l",
            "OH L",
            "drums",
            -10.0,
            -40.0,
            [clip("oh_l", kit_in, kit_out, "OH L", 0.05, 2.0)],
            inserts=[eq(band("high-pass", 70.0, slope=12.0))],
        ),
        track(
            "oh_r",
            "OH R",
            "drums",
            -10.0,
            40.0,
            [clip("oh_r", kit_in, kit_out, "OH R", 0.05, 2.0)],
            inserts=[eq(band("high-pass", 70.0, slope=12.0))],
        ),
        track(
            "bass_di",
            "Bass DI",
            "mix",
            -10.0,
            0.0,
            [clip("bass_di", bar(7) - 0.1, bar(87.5), "Bass DI", 0.02, 1.5)],
            inserts=[eq(band("low-pass", 4500.0, slope=12.0)), comp(-20.0, 3.0, 20.0, 140.0, 2.0)],
        ),
        track(
            "bass_amp",
            "Bass Amp",
            "mix",
            -9.0,
            0.0,
            [clip("bass_amp", bar(7) - 0.1, bar(87.5), "Bass Amp", 0.02, 1.5)],
            inserts=[
                eq(band("high-pass", 38.0, slope=12.0), band("bell", 750.0, 1.5, 0.9)),
                comp(-20.0, 3.0, 20.0, 140.0, 1.5),
            ],
        ),
        track(
            "ac1_mic",
            "Ac1 Mic",
            "gtrs",
            -6.0,
            -75.0,
            [clip("ac1_mic", bar(3) - 0.1, RING, "Ac1", 0.05, 2.0)],
            inserts=[
                eq(band("high-pass", 85.0, slope=12.0), band("bell", 210.0, -2.5, 1.2)),
                comp(-19.0, 2.0, 25.0, 150.0, 1.0),
            ],
            sends=[send("ac1_verb", -11.0)],
        ),
        track(
            "ac1_di",
            "Ac1 DI",
            "gtrs",
            -16.0,
            -75.0,
            [clip("ac1_di", bar(3) - 0.1, RING, "Ac1 DI", 0.05, 2.0)],
            inserts=[eq(band("high-pass", 110.0, slope=12.0), band("bell", 1900.0, -3.0, 1.4))],
        ),
        track(
            "ac2_mic",
            "Ac2 Mic",
            "gtrs",
            -6.5,
            75.0,
            [clip("ac2_mic", bar(3) - 0.1, RING, "Ac2", 0.05, 2.0)],
            inserts=[
                eq(band("high-pass", 85.0, slope=12.0), band("bell", 240.0, -2.0, 1.2)),
                comp(-19.0, 2.0, 25.0, 150.0, 1.0),
            ],
            sends=[send("ac2_verb", -10.5)],
        ),
        track(
            "ac2_di",
            "Ac2 DI",
            "gtrs",
            -16.5,
            75.0,
            [clip("ac2_di", bar(3) - 0.1, RING, "Ac2 DI", 0.05, 2.0)],
            inserts=[eq(band("high-pass", 110.0, slope=12.0), band("bell", 2100.0, -3.0, 1.4))],
        ),
        track(
            "lv",
            "LV",
            "vox",
            -3.0,
            0.0,
            lead_clips("lv_comp", "lv_t5"),
            inserts=[
                eq(
                    band("high-pass", 90.0, slope=12.0), band("bell", 320.0, -2.0, 1.2), band("high-shelf", 9000.0, 2.0)
                ),
                {"name": "De-Ess", "kind": "de-esser", "on": True, "opaque": True, "wet": 100.0},
                comp(-22.0, 3.0, 8.0, 90.0, 3.0),
            ],
            sends=[send("plate", -13.0), send("dly", OFF)],
            automation=[
                lane(
                    "fader",
                    "linear",
                    [
                        (0.0, -3.0),
                        (bar(15), -3.0),
                        (bar(17), -2.5),
                        (bar(22.5), -2.5),
                        (bar(22.8), -1.8),
                        (bar(30.6), -1.8),
                        (bar(30.8), -3.0),
                        (bar(39), -2.6),
                        (bar(46.5), -2.6),
                        (bar(46.8), -1.6),
                        (bar(54.6), -1.6),
                        (bar(54.8), -4.0),
                        (bar(62.3), -3.4),
                        (bar(62.8), -1.3),
                        (bar(78.5), -1.3),
                        (bar(80.0), -4.0),
                    ],
                ),
                lane(
                    "send:1:level",
                    "hold",
                    [
                        (0.0, OFF),
                        (bar(30), -9.0),
                        (bar(30.7), OFF),
                        (bar(54), -9.0),
                        (bar(54.7), OFF),
                        (bar(78), -9.0),
                        (bar(78.7), OFF),
                    ],
                ),
            ],
        ),
        track(
            "lv_dbl",
            "LV dbl",
            "vox",
            -13.0,
            0.0,
            chorus_clips("lv_dbl", False),
            inserts=[eq(band("high-pass", 140.0, slope=12.0)), comp(-24.0, 4.0, 5.0, 80.0, 3.0)],
            sends=[send("plate", -15.0)],
        ),
        track("lv_alt", "LV alt", "vox", -3.0, 0.0, lead_clips("lv_alt", "lv_t2"), comment="second choice, keep muted"),
    ]
    made[-1]["mute"] = True
    for ident, name, fader, pan in (
        ("bv_hl", "BV Hi L", -12.0, -48.0),
        ("bv_hr", "BV Hi R", -12.0, 48.0),
        ("bv_ll", "BV Lo L", -10.5, -28.0),
        ("bv_lr", "BV Lo R", -10.5, 28.0),
    ):
        made.append(
            track(
                ident,
                name,
                "bvs",
                fader,
                pan,
                chorus_clips(ident, True),
                inserts=[eq(band("high-pass", 160.0, slope=12.0))],
            )
        )
    made.append(
        {
            "id": "click",
            "name": "Click",
            "kind": "track",
            "plays": ["notes"],
            "legs": 1,
            "fader_db": -6.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "output": None,
            "comment": "phones only",
            "inserts": [{"name": "Click Sound", "kind": "instrument", "on": True}],
            "clips": [
                {
                    "start_s": 0.0,
                    "end_s": bar(86),
                    "name": "Click",
                    "plays": "notes",
                    "fade_in_s": 0.0,
                    "fade_out_s": 0.0,
                }
            ],
        }
    )
    return made


def buses() -> list[dict[str, Any]]:
    ride: list[tuple[float, float]] = [(0.0, 0.0)]
    for first, last in ((23, 31), (47, 55), (63, 79)):
        ride += [(bar(first) - 0.3, ride[-1][1]), (bar(first), -1.2), (bar(last) - 0.3, -1.2), (bar(last), 0.0)]
    return [
        bus("drums", "Drums", "group", -1.5, "mix", inserts=[comp(-14.0, 2.0, 30.0, 120.0, 1.0)]),
        bus("gtrs", "Gtrs", "group", 0.0, "mix", automation=[lane("fader", "linear", ride)]),
        bus("vox", "Vox", "group", 0.0, "mix"),
        bus(
            "bvs",
            "BVs",
            "group",
            -2.0,
            "mix",
            sends=[send("plate", -12.0)],
            inserts=[comp(-20.0, 2.5, 12.0, 110.0, 1.5), eq(band("bell", 2600.0, -1.5, 0.8))],
        ),
        bus(
            "ac1_verb",
            "Ac1 Verb",
            "return",
            -4.0,
            "gtrs",
            1,
            75.0,
            inserts=[reverb("Small Chamber", 18.0, 1.4), eq(band("high-pass", 200.0, slope=12.0))],
        ),
        bus(
            "ac2_verb",
            "Ac2 Verb",
            "return",
            -4.0,
            "gtrs",
            1,
            -75.0,
            inserts=[reverb("Small Chamber", 22.0, 1.5), eq(band("high-pass", 200.0, slope=12.0))],
        ),
        bus(
            "plate",
            "Plate",
            "return",
            -3.0,
            "mix",
            inserts=[reverb("Bright Plate", 35.0, 1.9), eq(band("high-pass", 250.0, slope=12.0))],
        ),
        bus(
            "dly",
            "Vox Dly",
            "return",
            -5.0,
            "mix",
            sends=[send("plate", -16.0)],
            inserts=[delay(), eq(band("high-pass", 300.0, slope=12.0), band("low-pass", 4200.0, slope=12.0))],
        ),
        {
            "id": "mix",
            "name": "MIX",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [eq(band("high-shelf", 11000.0, 1.0)), comp(-14.0, 1.5, 30.0, 150.0, 0.5), limiter()],
            "automation": [lane("fader", "linear", [(0.0, 0.0), (RING - 0.5, 0.0), (bar(89), OFF)])],
        },
    ]


def good() -> Session:
    """The session as it should be bounced."""
    files = (
        "kick",
        "snare",
        "oh_l",
        "oh_r",
        "bass_di",
        "bass_amp",
        "ac1_mic",
        "ac1_di",
        "ac2_mic",
        "ac2_di",
        "lv_comp",
        "lv_t5",
        "lv_dbl",
        "lv_alt",
        "lv_t2",
        "bv_hl",
        "bv_hr",
        "bv_ll",
        "bv_lr",
    )
    marks = (
        (3, "Intro"),
        (7, "V1"),
        (23, "Ch1"),
        (31, "V2"),
        (47, "Ch2"),
        (55, "Bridge"),
        (63, "Ch3"),
        (79, "Outro"),
        (86, "Last chord"),
        (89, "End"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "Two Lanterns on the Weir",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": bar(n), "name": name} for n, name in marks],
        "channels": tracks() + buses(),
        "media": [
            {
                "id": f,
                "path": f"Audio/{f}_cons.wav",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": FILE_S,
            }
            for f in files
        ],
        "metadata": {"title": "Two Lanterns on the Weir", "mix": "v7"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def named_clip(channel: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(c for c in channel["clips"] if c["name"] == name)
    return found


def return_on_its_own_side(session: Session) -> None:
    chan(session, "Ac2 Verb")["pan"] = 75.0


def send_to_the_other_verb(session: Session) -> None:
    chan(session, "Ac1 Mic")["sends"][0]["to"] = "ac2_verb"


def throw_left_open(session: Session) -> None:
    points = chan(session, "LV")["automation"][1]
    at = points["t"].index(bar(54.7))
    del points["t"][at], points["v"][at]


def voice_in_guitar_group(session: Session) -> None:
    chan(session, "BV Hi R")["output"] = "gtrs"


def double_is_the_lead(session: Session) -> None:
    named_clip(chan(session, "LV dbl"), "Ch3")["file"] = "lv_comp"


def pickup_nudged(session: Session) -> None:
    moved = chan(session, "Ac2 DI")["clips"][0]
    moved["start_s"] = round(moved["start_s"] + 0.007, 4)
    moved["end_s"] = round(moved["end_s"] + 0.007, 4)


def low_cut_a_nought_too_many(session: Session) -> None:
    chan(session, "LV")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 900.0


def alternate_open(session: Session) -> None:
    chan(session, "LV alt")["mute"] = False


def chorus_clip_off(session: Session) -> None:
    named_clip(chan(session, "BV Lo L"), "Ch2")["on"] = False


def template_tempo(session: Session) -> None:
    session["timeline"]["tempos"][0]["bpm"] = 120.0


def last_chord_chopped(session: Session) -> None:
    last = chan(session, "Ac2 Mic")["clips"][-1]
    last["end_s"] = round(bar(86) + 1.2, 4)
    last["fade_out_s"] = 0.01


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Ac1 Verb", "Ac2 Verb", "Ac1 Mic", "Ac2 Mic"],
        "why": "each guitar's reverb lies on the other side on purpose",
    },
    {"channels": ["Ac1 DI", "Ac2 DI"], "why": "the pickups are kept low under the microphones, and dry: body only"},
    {"channels": ["LV dbl"], "why": "the double sits behind the lead in the middle and only in choruses"},
    {"channels": ["LV alt"], "why": "second-choice lead, muted and kept for the artist"},
    {"channels": ["Click"], "why": "declared to go nowhere: it was heard in the phones only"},
    {"channels": ["Vox Dly"], "why": "its only feed is closed but for three throws, whose repeats run on after them"},
    {"channels": ["Snare Brush"], "why": "shares the voices' plate a little; a hair right of the middle as overheads"},
    {"channels": ["MIX"], "why": "the last seconds are faded on the master after the guitars have rung out"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "verb-on-own-side",
        "class": "place",
        "channels": ["Ac2 Verb", "Ac2 Mic", "Ac1 Verb"],
        "grade": "hold",
        "says": "Ac2 Verb sits on the right like its guitar and like Ac1 Verb; it should answer from the left.",
        "plant": return_on_its_own_side,
    },
    {
        "id": "send-to-other-verb",
        "class": "ambience",
        "channels": ["Ac1 Mic", "Ac1 Verb", "Ac2 Verb"],
        "grade": "hold",
        "says": "Ac1 Mic feeds Ac2 Verb, so its reverb is on its own side and Ac1 Verb gets nothing at all.",
        "plant": send_to_the_other_verb,
    },
    {
        "id": "throw-left-open",
        "class": "automation",
        "channels": ["LV", "Vox Dly"],
        "grade": "hold",
        "says": "The delay throw at the end of chorus 2 is never closed: the delay repeats through bridge and chorus 3.",
        "plant": throw_left_open,
    },
    {
        "id": "voice-in-gtr-group",
        "class": "routing",
        "channels": ["BV Hi R", "Gtrs", "BVs"],
        "grade": "hold",
        "says": "BV Hi R goes to Gtrs: it misses the voices' compressor, fader and plate and rides with the guitars.",
        "plant": voice_in_guitar_group,
    },
    {
        "id": "double-is-lead",
        "class": "twice",
        "channels": ["LV dbl", "LV"],
        "grade": "hold",
        "says": "In chorus 3 LV dbl plays the lead's own file at the same place: the lead gets louder, not doubled.",
        "plant": double_is_the_lead,
    },
    {
        "id": "pickup-nudged",
        "class": "phase",
        "channels": ["Ac2 DI", "Ac2 Mic"],
        "grade": "look",
        "says": "Ac2 DI lies 7 ms later than Ac2 Mic from the same performance and combs with it.",
        "plant": pickup_nudged,
    },
    {
        "id": "low-cut-900",
        "class": "processors",
        "channels": ["LV"],
        "grade": "hold",
        "says": "The lead's low cut is at 900 Hz, surely meant for 90: the voice has no body.",
        "plant": low_cut_a_nought_too_many,
    },
    {
        "id": "alternate-open",
        "class": "audible-that-should-not-be",
        "channels": ["LV alt", "LV"],
        "grade": "hold",
        "says": "LV alt, marked to stay muted, is open and sings along with the lead all song.",
        "plant": alternate_open,
    },
    {
        "id": "chorus-clip-off",
        "class": "inaudible",
        "channels": ["BV Lo L", "BV Lo R"],
        "grade": "hold",
        "says": "BV Lo L's clip in chorus 2 is switched off: the low voice is on the right only there.",
        "plant": chorus_clip_off,
    },
    {
        "id": "template-tempo",
        "class": "tempo",
        "channels": ["Vox Dly", "Click", "LV"],
        "grade": "hold",
        "says": "Tempo says 120, the song runs at 92: the markers miss the bars and the synced delay repeats out of time.",
        "plant": template_tempo,
    },
    {
        "id": "last-chord-chopped",
        "class": "end",
        "channels": ["Ac2 Mic", "Ac2 DI", "Ac1 Mic"],
        "grade": "hold",
        "says": "Ac2 Mic is cut off a second into the last chord while its pickup and the other guitar ring on.",
        "plant": last_chord_chopped,
    },
]
