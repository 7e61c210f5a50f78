"""Cold Porch Light: a hip-hop track at 84 bpm, in A minor, over a producer's sampled two-track; this is the clean mix.

The beat came as one stereo file and was lengthened here: the guest's verse repeats the bars of verse one. A kick loop
from another song, made at 90 bpm, is stretched under the hooks. Verses are cut into four-bar phrases with doubles on
the line ends; each voice of the hook was sung once and flown to all four places. Ad libs are two free passes over the
whole song. The guest sent a lead, a double and ad libs, already tuned. Swear words are muted on the tracks, at the same
spots on every voice that says them. The throw delay is opened by hand at the ends of phrases.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

BPM = 84.0
RATE = 44100.0
BEAT = 60.0 / BPM
LOOP_BPM = 90.0
CLOSED = -90.0

SECTIONS: list[tuple[str, float]] = [
    ("Intro", 2),
    ("Hook 1", 6),
    ("Verse 1", 14),
    ("Hook 2", 30),
    ("Verse 2", 38),
    ("Hook 3", 54),
    ("Verse 3 (guest)", 62),
    ("Hook 4", 78),
    ("Outro", 86),
    ("End", 94),
]
HOOKS = [6, 30, 54, 78]

# phrases and words, as bars
OWN_VERSES = {1: [14, 18, 22, 26], 2: [38, 42, 46, 50]}
GUEST_VERSE = [62, 66, 70, 74]
WORDS_WITH_DOUBLE = [15.7, 21.55, 29.4, 39.6, 47.6]
WORDS_LEAD = [15.7, 21.55, 24.2, 29.4, 39.6, 47.6, 52.3]
THROWS = [17.7, 25.7, 29.7, 41.7, 49.7, 53.7]


def bar(number: float) -> float:
    """Seconds at which a bar begins."""
    return round((number - 1.0) * 4.0 * BEAT, 4)


def clip(
    file: str, name: str, start: float, end: float, origin: float, fade_in: float = 0.01, fade_out: float = 0.04
) -> Item:
    """A stretch of a file whose beginning belongs at the time ``origin`` of the song."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start - origin, 4),
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": 0.0,
        "on": True,
    }


def beat_clips(file: str) -> list[Item]:
    """The two-track, with the bars of verse one once more under the guest."""
    rows = [("a", 2, 62, 2.0), ("b v1 again", 62, 78, 50.0), ("c", 78, 94, 18.0)]
    clips: list[Item] = []
    for name, first, last, origin in rows:
        start = bar(first) - (0.0 if first == 2 else 0.006)
        end = bar(last) + (0.006 if last < 94 else 2.4)
        fade_in, fade_out = (0.0 if first == 2 else 0.012), (0.012 if last < 94 else 1.2)
        clips.append(clip(file, f"{file} {name}", start, end, bar(origin), fade_in, fade_out))
    return clips


def kick_loop() -> list[Item]:
    """The kick loop under each hook, stretched from its own tempo."""
    clips: list[Item] = []
    for number, first in enumerate(HOOKS, 1):
        made = clip("kickloop_90bpm_8bar", f"kickloop H{number}", bar(first), bar(first + 8), bar(first), 0.002, 0.01)
        made["speed"] = round(BPM / LOOP_BPM, 6)
        clips.append(made)
    return clips


def verse(file: str, starts: Sequence[float]) -> list[Item]:
    """A verse in four-bar phrases; the file begins one bar before it."""
    origin = bar(starts[0] - 1)
    return [
        clip(file, f"{file}.{n}", bar(first) - 0.28, bar(first + 3.86), origin, 0.01, 0.06)
        for n, first in enumerate(starts, 1)
    ]


def line_ends(file: str, starts: Sequence[float]) -> list[Item]:
    """The doubled line ends of a verse; the file begins one bar before it."""
    origin = bar(starts[0] - 1)
    spans = [(first + begin, first + end) for first in starts for begin, end in ((1.45, 2.0), (3.3, 3.86))]
    return [clip(file, f"{file}.{n:02d}", bar(a), bar(b), origin, 0.015, 0.04) for n, (a, b) in enumerate(spans, 1)]


def flown(file: str, pickup: float) -> list[Item]:
    """A hook sung once, one bar of run-in before it, and copied to all four places."""
    return [
        clip(file, f"{file} H{n}", bar(first) - pickup, bar(first + 7.85), bar(first - 1), 0.01, 0.08)
        for n, first in enumerate(HOOKS, 1)
    ]


def free_pass(file: str, spans: Sequence[tuple[float, float]]) -> list[Item]:
    """What was kept of a pass over the whole song; the file begins at bar 1."""
    return [clip(file, f"{file}-{n:02d}", bar(a), bar(b), 0.0, 0.02, 0.06) for n, (a, b) in enumerate(spans, 1)]


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def low_cut(freq: float, slope: float = 18.0) -> Item:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def band(kind: str, freq: float, gain: float, q: float = 0.9) -> Item:
    """A bell or shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0, name: str = "Comp") -> Item:
    """A compressor with its make-up gain."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": gain,
        "auto_makeup": False,
    }
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "dynamics": dynamics}


def listed(name: str, kind: str, *settings: tuple[str, Any, str], **more: Any) -> Item:
    """A processor with the settings that the export lists, as (name, value, unit)."""
    parameters = [{"id": label.lower(), "name": label, "value": value, "unit": unit} for label, value, unit in settings]
    return {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": parameters, **more}


def tune(speed: float) -> Item:
    """Pitch correction in the key of the song."""
    return listed("Tune", "pitch", ("Key", "A minor", ""), ("Speed", speed, "ms"))


def de_esser(freq: float, amount: float) -> Item:
    """A de-esser."""
    return listed("DeEss", "de-esser", ("Frequency", freq, "Hz"), ("Range", amount, "dB"))


def send(to: str, level: float) -> Item:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def mutes(words: Sequence[float], length: float = 0.34) -> Item:
    """A mute lane that is shut for the length of each word."""
    times, values = [0.0], [0.0]
    for word in words:
        times += [bar(word), round(bar(word) + length, 4)]
        values += [1.0, 0.0]
    return {"target": "mute", "scale": "switch", "shape": "hold", "t": times, "v": values}


def throws(number: int, places: Sequence[float], level: float, length: float = 0.55) -> Item:
    """A send that is opened for the last word of a phrase."""
    times, values = [0.0], [CLOSED]
    for place in places:
        times += [bar(place), round(bar(place) + length, 4)]
        values += [level, CLOSED]
    return {"target": f"send:{number}:level", "scale": "dB", "shape": "hold", "t": times, "v": values}


def ride(target: str, points: str) -> Item:
    """A lane drawn straight through points, written as "bar level, bar level"."""
    pairs = [point.split() for point in points.split(",")]
    times, levels = [bar(float(b)) for b, _ in pairs], [float(v) for _, v in pairs]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": levels}


def strip(ident: str, name: str, fader: float, pan: float, output: str, **more: Any) -> Item:
    """A channel strip; whatever is not given is empty."""
    made: Item = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": 1,
        "plays": ["audio"] if "clips" in more else [],
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
    return made


def beat() -> list[Item]:
    """The two-track, its tagged version and the kick loop."""
    return [
        strip(
            "beat",
            "Beat 2TRK",
            -4.0,
            0.0,
            "beatbus",
            legs=2,
            inserts=[eq(band("bell", 2600, -1.5, 0.7), band("low-shelf", 60, 1.0, 0.7))],
            clips=beat_clips("porchlight_84_Amin"),
            automation=[mutes([29.75, 77.75], BEAT)],
            comment="drops the last beat before hooks 2 and 4",
        ),
        strip(
            "beattag",
            "Beat TAGGED",
            -4.0,
            0.0,
            "beatbus",
            legs=2,
            mute=True,
            clips=beat_clips("porchlight_84_Amin_tag"),
            comment="preview with the voice tag, off now that we have the clean file",
        ),
        strip(
            "kick",
            "Kick Layer",
            -12.0,
            0.0,
            "beatbus",
            inserts=[eq(low_cut(32, 12), band("bell", 300, -3.0))],
            clips=kick_loop(),
            comment="hooks only, 90 bpm loop stretched to the song",
        ),
    ]


def own_voice() -> list[Item]:
    """The lead with its doubles, and the hook with its own."""
    both = [*line_ends("dblL_v1", OWN_VERSES[1]), *line_ends("dblL_v2", OWN_VERSES[2])]
    other = [*line_ends("dblR_v1", OWN_VERSES[1]), *line_ends("dblR_v2", OWN_VERSES[2])]
    double = [tune(25.0), eq(low_cut(150), band("bell", 350, -2.0)), comp(-24, 5, 3, 80, 2.0), de_esser(7000, -7.0)]
    hook_double = [tune(10.0), eq(low_cut(160), band("high-shelf", 9000, 1.5)), comp(-24, 5, 3, 80, 2.0)]
    return [
        strip(
            "lead",
            "Lead",
            -3.0,
            0.0,
            "leadbus",
            inserts=[
                tune(30.0),
                eq(low_cut(90), band("bell", 260, -3.0), band("bell", 3800, 1.5), band("high-shelf", 11000, 2.0)),
                comp(-20, 6, 1.5, 50, 3.0, "Comp fast"),
                de_esser(6600, -6.0),
                comp(-18, 2.5, 20, 180, 1.0, "Comp slow"),
            ],
            sends=[send("room", -17.0), send("throw", CLOSED), send("crush", -13.0)],
            clips=[*verse("lead_v1", OWN_VERSES[1]), *verse("lead_v2", OWN_VERSES[2])],
            automation=[
                ride("fader", "1 -3, 14 -3, 18 -2.5, 22 -3, 26 -2, 38 -2.8, 42 -2.4, 46 -2.8, 50 -1.8, 54 -2.4"),
                throws(1, THROWS, -7.0),
                mutes(WORDS_LEAD),
            ],
            comment="clean: words muted here and on the dbls",
        ),
        strip(
            "dbll",
            "Dbl L",
            -11.0,
            -55.0,
            "leadbus",
            inserts=double,
            sends=[send("room", -15.0)],
            clips=both,
            automation=[mutes(WORDS_WITH_DOUBLE)],
            comment="clean mutes as lead",
        ),
        strip(
            "dblr",
            "Dbl R",
            -11.0,
            55.0,
            "leadbus",
            inserts=[dict(insert) for insert in double],
            sends=[send("room", -15.0)],
            clips=other,
            automation=[mutes(WORDS_WITH_DOUBLE)],
            comment="clean mutes as lead",
        ),
        strip(
            "hook",
            "Hook",
            -3.5,
            0.0,
            "leadbus",
            inserts=[
                tune(8.0),
                eq(low_cut(100), band("bell", 300, -2.5), band("high-shelf", 10000, 2.5)),
                comp(-21, 5, 2, 60, 3.0),
                de_esser(6800, -6.0),
            ],
            sends=[send("room", -14.0), send("throw", -19.0), send("crush", -12.0)],
            clips=flown("hook_lead", 0.3),
            automation=[ride("fader", "1 -3.5, 6 -3.5, 54 -3, 78 -2.5")],
        ),
        strip(
            "hookl",
            "Hook Dbl L",
            -9.5,
            -80.0,
            "leadbus",
            inserts=hook_double,
            sends=[send("room", -12.0)],
            clips=flown("hook_dblL", 0.3),
        ),
        strip(
            "hookr",
            "Hook Dbl R",
            -9.5,
            80.0,
            "leadbus",
            inserts=[tune(10.0), *(dict(insert) for insert in hook_double[1:])],
            sends=[send("room", -12.0)],
            clips=flown("hook_dblR", 0.3),
        ),
    ]


def ad_libs() -> list[Item]:
    """Two passes over the whole song, answering each other left and right."""
    left = [
        (4.5, 5.1),
        (9.6, 10.1),
        (13.4, 13.95),
        (17.5, 18.0),
        (25.6, 26.0),
        (33.6, 34.1),
        (41.5, 42.0),
        (45.6, 46.0),
    ]
    left += [(53.5, 53.95), (57.6, 58.1), (81.6, 82.1), (85.3, 86.2), (88.0, 89.1)]
    right = [(5.4, 5.9), (11.6, 12.1), (21.6, 22.0), (29.5, 29.95), (35.6, 36.1), (37.4, 37.95), (49.5, 50.0)]
    right += [(59.6, 60.1), (61.3, 61.9), (83.6, 84.1), (86.5, 87.4), (90.0, 90.8)]
    chain = [eq(low_cut(220), band("bell", 2500, 2.0)), comp(-26, 6, 2, 70, 3.0)]
    sends = [send("room", -11.0), send("throw", -13.0)]
    return [
        strip(
            "adl",
            "Adlib L",
            -10.0,
            -42.0,
            "adbus",
            inserts=chain,
            sends=sends,
            clips=free_pass("adlib_pass1", left),
        ),
        strip(
            "adr",
            "Adlib R",
            -10.5,
            42.0,
            "adbus",
            inserts=[dict(insert) for insert in chain],
            sends=[dict(s) for s in sends],
            clips=free_pass("adlib_pass2", right),
        ),
    ]


def guest() -> list[Item]:
    """What the guest sent for verse three."""
    ad_lib_spans = [(65.4, 65.95), (67.5, 68.0), (69.5, 70.0), (73.5, 74.0), (76.5, 77.0), (77.3, 77.9)]
    origin = bar(61)
    ad_libs = [
        clip("guest_v3_adl", f"guest_v3_adl-{n}", bar(a), bar(b), origin, 0.02, 0.06)
        for n, (a, b) in enumerate(ad_lib_spans, 1)
    ]
    return [
        strip(
            "guest",
            "Guest",
            -3.5,
            0.0,
            "guestbus",
            inserts=[
                eq(low_cut(95), band("bell", 420, -2.0), band("high-shelf", 10000, 1.5)),
                comp(-19, 4, 3, 70, 2.0),
                de_esser(7100, -5.0),
            ],
            sends=[send("room", -17.0), send("throw", CLOSED), send("crush", -15.0)],
            clips=verse("guest_v3_lead", GUEST_VERSE),
            automation=[
                ride("fader", "1 -3.5, 62 -3.5, 66 -3, 70 -3.6, 74 -2.8"),
                throws(1, [69.7, 77.7], -7.0),
                mutes([64.6, 71.6]),
            ],
            comment="came tuned",
        ),
        strip(
            "guestdbl",
            "Guest Dbl",
            -12.0,
            0.0,
            "guestbus",
            inserts=[eq(low_cut(150), band("bell", 400, -2.0)), comp(-24, 5, 3, 80, 2.0), de_esser(7100, -7.0)],
            sends=[send("room", -15.0)],
            clips=line_ends("guest_v3_dbl", GUEST_VERSE),
            automation=[mutes([71.6])],
        ),
        strip(
            "guestad",
            "Guest Adlib",
            -11.0,
            -30.0,
            "guestbus",
            inserts=[eq(low_cut(220), band("bell", 2500, 1.5)), comp(-26, 6, 2, 70, 3.0)],
            sends=[send("room", -11.0), send("throw", -14.0)],
            clips=ad_libs,
        ),
    ]


def buses() -> list[Item]:
    """Groups, returns and the mix bus."""
    limiter = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "attack_ms": 0.5, "release_ms": 90.0, "input_gain_db": 3.0},
    }
    quarter = listed("Delay", "delay", ("Time", round(BEAT * 1000, 1), "ms"), ("Feedback", 30.0, "%"), wet=100.0)
    short = listed("Room verb", "reverb", ("Decay", 0.7, "s"), wet=100.0, pre_delay_ms=12.0)
    crush = {**comp(-34, 10, 0.5, 45, 4.0, "Crush comp"), "wet": 100.0}
    beat_rides = "1 -1, 6 -1, 14 -2, 29.75 -2, 30 -1, 38 -2, 53.75 -2, 54 -1, 62 -2, 77.75 -2, 78 -0.5, 86 -1, 90 -1"
    group = {"kind": "group", "legs": 2}
    back = {"kind": "return", "legs": 2}
    return [
        strip(
            "beatbus",
            "Beat Bus",
            -1.0,
            0.0,
            "mix",
            automation=[ride("fader", f"{beat_rides}, 92 -12, 93.5 -36, 94 -90")],
            comment="fades over the outro",
            **group,
        ),
        strip("leadbus", "Lead Bus", 0.0, 0.0, "voxbus", inserts=[comp(-14, 2, 15, 150, 0.5, "Glue")], **group),
        strip("adbus", "Adlib Bus", -1.0, 0.0, "voxbus", inserts=[eq(band("high-shelf", 6000, -1.5))], **group),
        strip("guestbus", "Guest Bus", 0.0, 0.0, "voxbus", inserts=[comp(-14, 2, 15, 150, 0.5, "Glue")], **group),
        strip("voxbus", "All Vox", -0.5, 0.0, "mix", inserts=[eq(band("bell", 5200, -0.8, 2.0))], **group),
        strip("room", "Room", -6.0, 0.0, "mix", inserts=[eq(low_cut(250)), short], **back),
        strip(
            "throw",
            "Throw 1/4",
            -5.0,
            0.0,
            "mix",
            sends=[send("room", -15.0)],
            inserts=[quarter, eq(low_cut(400), band("high-shelf", 4500, -5.0))],
            **back,
        ),
        strip("crush", "Vox Crush", -9.0, 0.0, "voxbus", inserts=[crush, eq(low_cut(180))], **back),
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
                eq(low_cut(24, 12), band("high-shelf", 11000, 1.2)),
                comp(-10, 2, 30, 100, 1.5, "Glue"),
                limiter,
                {"name": "Loudness", "kind": "analyser", "on": True, "opaque": True},
            ],
            "comment": "limiter last before the meter, -1 ceiling",
        },
    ]


def media() -> list[Item]:
    """Every file with its folder and length."""
    rows = [
        ("Beat/porchlight_84_Amin", 220.2),
        ("Beat/porchlight_84_Amin_tag", 220.2),
        ("Beat/kickloop_90bpm_8bar", 24.0),
    ]
    rows += [(f"Vox/{part}_v{n}", 50.6) for part in ("lead", "dblL", "dblR") for n in (1, 2)]
    rows += [(f"Vox/hook_{part}", 27.4) for part in ("lead", "dblL", "dblR")]
    rows += [("Vox/adlib_pass1", 266.3), ("Vox/adlib_pass2", 266.3)]
    rows += [(f"Guest/guest_v3_{part}", 50.2) for part in ("lead", "dbl", "adl")]
    return [
        {
            "id": path.split("/")[1],
            "path": f"Audio/{path}.wav",
            "place": "beside",
            "present": True,
            "legs": 2 if "porchlight" in path else 1,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for path, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Cold Porch Light (CLEAN) mx4",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": bar(number), "name": name} for name, number in SECTIONS],
        "channels": [*beat(), *own_voice(), *ad_libs(), *guest(), *buses()],
        "media": media(),
        "metadata": {"Version": "clean", "Key": "A minor"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def lane(session: Session, name: str, target: str) -> Item:
    """The automation of a channel that moves a target."""
    found: Item = next(a for a in channel(session, name)["automation"] if a["target"] == target)
    return found


def word_left_in(session: Session) -> None:
    """The clean mute at the end of verse one is missing on one double."""
    points = lane(session, "Dbl R", "mute")
    at = points["t"].index(bar(29.4))
    del points["t"][at : at + 2], points["v"][at : at + 2]


def throw_left_open(session: Session) -> None:
    """The point that closes a throw was deleted."""
    points = lane(session, "Lead", "send:1:level")
    at = points["t"].index(bar(41.7)) + 1
    del points["t"][at], points["v"][at]


def delay_at_its_default(session: Session) -> None:
    """The delay was reloaded and stands at a quarter of 120 bpm."""
    channel(session, "Throw 1/4")["inserts"][0]["parameters"][0]["value"] = 500.0


def loop_unstretched(session: Session) -> None:
    """The loop in the third hook lost its stretch."""
    channel(session, "Kick Layer")["clips"][2]["speed"] = 1.0


def guest_file_short(session: Session) -> None:
    """The guest's lead was copied only in part."""
    next(f for f in session["media"] if f["id"] == "guest_v3_lead")["duration_s"] = 31.9


def double_a_beat_late(session: Session) -> None:
    """The third copy of a hook double was dropped one beat late."""
    late = channel(session, "Hook Dbl R")["clips"][2]
    late["start_s"] = round(late["start_s"] + BEAT, 4)
    late["end_s"] = round(late["end_s"] + BEAT, 4)


def tuned_to_major(session: Session) -> None:
    """The pitch correction of one hook double stands in the wrong key."""
    channel(session, "Hook Dbl L")["inserts"][0]["parameters"][0]["value"] = "A major"


def limiter_first(session: Session) -> None:
    """The limiter was dragged to the top of the chain."""
    inserts = channel(session, "Mix")["inserts"]
    inserts.insert(0, inserts.pop(2))


def guest_ad_libs_nowhere(session: Session) -> None:
    """The output of the guest's ad libs was lost when the group was made."""
    channel(session, "Guest Adlib")["output"] = None


def beat_off_centre(session: Session) -> None:
    """The balance of the two-track was bumped."""
    channel(session, "Beat 2TRK")["pan"] = -14.0


def returns_in_circle(session: Session) -> None:
    """The room was given a send to the delay that feeds it."""
    channel(session, "Room")["sends"].append(send("throw", -10.0))


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Beat TAGGED"], "why": "The tagged preview of the beat, muted on purpose, as its comment says."},
    {
        "channels": ["Beat 2TRK"],
        "why": "Verse one's bars come once more under the guest, and a beat is muted before two hooks; both are meant.",
    },
    {"channels": ["Kick Layer"], "why": "A loop of another tempo, stretched alike in all its clips."},
    {
        "channels": ["Hook", "Hook Dbl L", "Hook Dbl R"],
        "why": "The hook was recorded once per voice and flown, so its files play four times.",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "word-left-on-double",
        "class": "audible-that-should-not-be",
        "channels": ["Dbl R"],
        "grade": "look",
        "says": "At the end of verse 1 Lead and Dbl L mute a word for the clean mix, but Dbl R says it.",
        "plant": word_left_in,
    },
    {
        "id": "throw-left-open",
        "class": "automation",
        "channels": ["Lead"],
        "grade": "look",
        "says": "The throw opened at bar 41.7 of Lead is never closed; eight bars of verse 2 run into the delay.",
        "plant": throw_left_open,
    },
    {
        "id": "throw-time-off-tempo",
        "class": "ambience",
        "channels": ["Throw 1/4"],
        "grade": "look",
        "says": "The delay of Throw 1/4 stands at 500 ms, a quarter at 120 bpm; at 84 bpm it is 714 ms.",
        "plant": delay_at_its_default,
    },
    {
        "id": "kick-loop-unstretched",
        "class": "tempo",
        "channels": ["Kick Layer"],
        "grade": "look",
        "says": "In hook 3 the 90 bpm loop of Kick Layer runs at its own speed, in all other hooks it is stretched.",
        "plant": loop_unstretched,
    },
    {
        "id": "guest-file-short",
        "class": "files",
        "channels": ["Guest"],
        "grade": "hold",
        "says": "The file of Guest is 31.9 s long, its clips want over 48 s: half of the verse is missing.",
        "plant": guest_file_short,
    },
    {
        "id": "hook-double-late",
        "class": "edits",
        "channels": ["Hook Dbl R"],
        "grade": "look",
        "says": "In hook 3 Hook Dbl R begins one beat later than Hook and Hook Dbl L, unlike in the other hooks.",
        "plant": double_a_beat_late,
    },
    {
        "id": "hook-double-in-major",
        "class": "processors",
        "channels": ["Hook Dbl L"],
        "grade": "look",
        "says": "The pitch correction of Hook Dbl L is set to A major; all other voices and the song are in A minor.",
        "plant": tuned_to_major,
    },
    {
        "id": "limiter-not-last",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The limiter is first on Mix, so the shelf and make-up gain after it pass its -1 dB ceiling.",
        "plant": limiter_first,
    },
    {
        "id": "guest-adlib-nowhere",
        "class": "inaudible",
        "channels": ["Guest Adlib"],
        "grade": "hold",
        "says": "Guest Adlib has no output; only its sends sound, the ad libs themselves are lost.",
        "plant": guest_ad_libs_nowhere,
    },
    {
        "id": "beat-off-centre",
        "class": "place",
        "channels": ["Beat 2TRK"],
        "grade": "look",
        "says": "The stereo beat, the ground of the song, is balanced 14 to the left, its tagged twin not at all.",
        "plant": beat_off_centre,
    },
    {
        "id": "room-throw-loop",
        "class": "routing",
        "channels": ["Room", "Throw 1/4"],
        "grade": "hold",
        "says": "Room sends to Throw 1/4, which sends to Room: the two returns feed back into each other.",
        "plant": returns_in_circle,
    },
]
