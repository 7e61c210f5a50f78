"""A 124 track with a voice sung live over it: printed drums and two stretched loops, sub and mid bass and
two pads from instruments, all four ducked by a silent ghost kick. The engineer is a German one-man shop: lower-case
names, half German half English, a low-pass on the music group that closes in the builds and springs open on the drops,
a correction for his small room that stands switched off at the end of the mix bus, a reference track kept muted.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Obj = dict[str, Any]

RATE = 44100.0
BPM = 124.0
BAR = 240.0 / BPM
LOOP = 0.05


def bar(n: float) -> float:
    """Song time of the start of bar n, counted from 0."""
    return round(n * BAR, 6)


VERSE, BUILD, DROP, BREAK, BUILD2, DROP2, OUTRO, END = (16, 32, 40, 56, 72, 80, 104, 112)
TAIL = bar(END) + 5.0


def clip(
    file: str, start: float, end: float, offset: float, fin: float = 0.003, fout: float = 0.01, **more: Any
) -> Obj:
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": more.pop("name", file),
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 6),
        "fade_in_s": fin,
        "fade_out_s": fout,
        **more,
    }


def printed(file: str, *parts: tuple[float, float], tail: float = 0.0) -> list[Obj]:
    """Bars of a full-length print that runs along with the song."""
    return [clip(file, bar(a), bar(b) + tail, bar(a)) for a, b in parts]


def looped(file: str, length: int, bpm: float, *parts: tuple[int, int]) -> list[Obj]:
    """A loop of so many bars, recorded at another tempo and stretched to the song's."""
    return [
        clip(file, bar(n), bar(n + length), 0.0, speed=round(BPM / bpm, 9))
        for a, b in parts
        for n in range(a, b, length)
    ]


def notes(name: str, *parts: tuple[float, float]) -> list[Obj]:
    return [{"start_s": bar(a), "end_s": bar(b), "name": name, "plays": "notes", "file": None} for a, b in parts]


def send(to: str, level: float) -> Obj:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def plug(name: str, kind: str, wet: float | None = None, **settings: float | str) -> Obj:
    made: Obj = {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": not settings,
        "parameters": [{"id": key, "name": key.replace("_", " "), "value": value} for key, value in settings.items()],
    }
    if wet is not None:
        made["wet"] = wet
    return made


def eq(*bands: tuple[str, float, float]) -> Obj:
    """Bands as (kind, frequency, gain); for the cuts the third number is the slope."""
    listed: list[Obj] = []
    for kind, freq, third in bands:
        key = "slope_db_per_oct" if kind in ("high-pass", "low-pass") else "gain_db"
        listed.append({"kind": kind, "freq_hz": freq, "q": 0.8, key: third})
    return {"name": "eq", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": listed}}


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Obj:
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
            "output_gain_db": makeup,
            "auto_makeup": False,
        },
    }


def duck(threshold: float, ratio: float, release: float) -> Obj:
    """A compressor that listens to the ghost kick."""
    made = comp("sc comp", threshold, ratio, 1.0, release)
    made["parameters"] = [{"id": "key", "name": "side chain input", "value": "sc bus"}]
    return made


def auto(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Obj:
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def strip(cid: str, name: str, kind: str, legs: int, fader: float, pan: float, out: str | None, **more: Any) -> Obj:
    made = {"id": cid, "name": name, "kind": kind, "legs": legs, "fader_db": fader, "pan": pan, "output": out, **more}
    if kind == "track":
        made["plays"] = sorted({c["plays"] for c in made["clips"]})
        made.setdefault("parent", out)
    return made


def beat() -> list[Obj]:
    full = ((VERSE, BUILD), (DROP, BREAK), (DROP2, END))
    hats = ((VERSE, BUILD), (DROP, BREAK), (DROP2, OUTRO))
    drops = ((DROP, BREAK), (DROP2, OUTRO))
    return [
        strip(
            "kick",
            "kick",
            "track",
            1,
            -5.0,
            0.0,
            "drums",
            clips=printed("kick", *full),
            inserts=[eq(("bell", 300.0, -2.0))],
        ),
        strip(
            "ghost",
            "kick geist",
            "track",
            1,
            0.0,
            0.0,
            "sc",
            clips=printed("kick_geist", (0, END)),
            comment="nur key, nie hoerbar; laeuft auch im break",
        ),
        strip(
            "clap",
            "clap",
            "track",
            2,
            -10.0,
            0.0,
            "drums",
            clips=printed("clap", *full),
            sends=[send("hall", -22.0)],
        ),
        strip("hatzu", "hat zu", "track", 1, -15.0, -12.0, "drums", clips=printed("hat_zu", *hats)),
        strip("hatauf", "hat offen", "track", 1, -16.0, 14.0, "drums", clips=printed("hat_offen", *drops)),
        strip(
            "lperc",
            "loop perc 120",
            "track",
            2,
            -14.0,
            0.0,
            "drums",
            clips=looped("loop_perc_120", 8, 120.0, (8, BUILD), (DROP, BREAK), (DROP2, OUTRO)),
            inserts=[eq(("high-pass", 220.0, 12.0))],
        ),
        strip(
            "ltop",
            "loop top 126",
            "track",
            2,
            -17.0,
            0.0,
            "drums",
            clips=looped("loop_top_126", 4, 126.0, *drops),
            inserts=[eq(("high-pass", 600.0, 18.0))],
        ),
    ]


def music() -> list[Obj]:
    bass = ((VERSE, BUILD), (DROP, BREAK), (DROP2, OUTRO))
    pads = ((0, DROP), (DROP, DROP2), (DROP2, END))
    swing = [(bar(n), (-30.0, 30.0)[(n // 4) % 2]) for n in range(BUILD, OUTRO + 1, 4)]
    return [
        strip(
            "sub",
            "sub",
            "track",
            1,
            -6.0,
            0.0,
            "bass",
            clips=notes("sub", *bass),
            inserts=[plug("synth", "instrument"), eq(("low-pass", 140.0, 24.0)), duck(-30.0, 6.0, 130.0)],
        ),
        strip(
            "mid",
            "bass mitte",
            "track",
            2,
            -9.0,
            0.0,
            "bass",
            clips=notes("bass mitte", *bass),
            inserts=[plug("synth", "instrument"), eq(("high-pass", 110.0, 24.0)), duck(-28.0, 4.0, 120.0)],
        ),
        strip(
            "padb",
            "pad breit",
            "track",
            2,
            -12.0,
            0.0,
            "musik",
            clips=notes("pad breit", *pads),
            inserts=[plug("synth", "instrument"), eq(("high-pass", 200.0, 12.0)), duck(-32.0, 4.0, 180.0)],
            sends=[send("hall", -14.0)],
        ),
        strip(
            "padt",
            "pad tief",
            "track",
            2,
            -14.0,
            0.0,
            "musik",
            clips=notes("pad tief", *pads[:2], (DROP2, OUTRO)),
            inserts=[plug("synth", "instrument"), eq(("high-pass", 130.0, 12.0)), duck(-32.0, 4.0, 180.0)],
        ),
        strip(
            "padpr",
            "pad breit print",
            "track",
            2,
            -12.0,
            0.0,
            "musik",
            clips=printed("pad_breit_print", (0, END), tail=3.0),
            mute=True,
            comment="sicherung, falls das instrument spinnt",
        ),
        strip(
            "arp",
            "arp",
            "track",
            2,
            -15.0,
            0.0,
            "musik",
            clips=notes("arp", (BUILD, BREAK), (BUILD2, OUTRO)),
            inserts=[plug("synth 2", "instrument"), eq(("high-pass", 250.0, 12.0))],
            sends=[send("dly", -12.0)],
            automation=[auto("pan", "pan", "linear", (0.0, 0.0), (bar(BUILD - 4), 0.0), *swing, (bar(OUTRO + 2), 0.0))],
        ),
        strip(
            "riser",
            "riser",
            "track",
            2,
            -15.0,
            0.0,
            "summe",
            parent=None,
            clips=[clip("riser", bar(a), bar(b), 0.0, 0.5, 0.02) for a, b in ((BUILD + 4, DROP), (BUILD2 + 4, DROP2))],
        ),
        strip(
            "impact",
            "impact",
            "track",
            2,
            -11.0,
            0.0,
            "musik",
            clips=[clip("impact", bar(n), bar(n) + 6.5, 0.0, 0.0, 2.0) for n in (DROP, DROP2, OUTRO)],
            sends=[send("hall", -16.0)],
        ),
    ]


def voice() -> list[Obj]:
    seam, lap = 24.0, 0.02
    lead = [
        clip("vox_t4", bar(VERSE) - 0.3, bar(seam) + lap, bar(VERSE) + 3.7, 0.02, lap, gain_db=0.5, name="strophe a"),
        clip("vox_t6", bar(seam), bar(BUILD) + 0.2, bar(seam) + 2.15, lap, 0.05, gain_db=0.0, name="strophe b"),
        clip("vox_t6", bar(BUILD) + 0.9, bar(DROP) - 0.1, bar(BUILD) + 3.05, 0.02, 0.05, gain_db=0.0, name="build"),
        clip("vox_t7", bar(BREAK) - 0.2, bar(64) - 0.4, bar(BREAK) + 1.6, 0.02, 0.05, gain_db=-1.0, name="break a"),
        clip("vox_t7", bar(64) - 0.2, bar(BUILD2), bar(64) + 1.6, 0.02, 0.05, gain_db=-0.5, name="break b"),
        clip("vox_t8", bar(DROP2) - 0.25, bar(OUTRO), bar(DROP2) + 1.05, 0.02, 0.08, gain_db=-1.0, name="drop 2"),
    ]
    chain = [
        eq(("high-pass", 110.0, 18.0), ("bell", 320.0, -2.0), ("high-shelf", 9000.0, 2.0)),
        comp("comp", -24.0, 4.0, 5.0, 70.0, 4.0),
        plug("de-esser", "de-esser", freq_hz=6800.0, threshold_db=-30.0),
    ]
    thin = eq(("high-pass", 200.0, 18.0))
    return [
        strip(
            "vox",
            "vox lead",
            "track",
            1,
            -5.0,
            0.0,
            "gvox",
            clips=lead,
            inserts=chain,
            sends=[send("hall", -16.0), send("dly", -18.0)],
        ),
        strip(
            "doppl",
            "vox dopp L",
            "track",
            1,
            -14.0,
            -70.0,
            "gvox",
            inserts=[dict(thin)],
            sends=[send("hall", -14.0)],
            clips=[clip("vox_dopp_1", bar(DROP2) - 0.25, bar(OUTRO), 2.0, 0.02, 0.08)],
        ),
        strip(
            "doppr",
            "vox dopp R",
            "track",
            1,
            -14.0,
            70.0,
            "gvox",
            inserts=[dict(thin)],
            sends=[send("hall", -14.0)],
            clips=[clip("vox_dopp_2", bar(DROP2) - 0.25, bar(OUTRO), 2.4, 0.02, 0.08)],
        ),
        strip(
            "chop",
            "vox chop",
            "track",
            2,
            -13.0,
            0.0,
            "gvox",
            clips=printed("vox_chop", (DROP, BREAK), (DROP2, OUTRO)),
            sends=[send("dly", -10.0)],
        ),
        strip(
            "ref",
            "referenz",
            "track",
            2,
            -9.0,
            0.0,
            "summe",
            clips=[clip("referenz", 0.0, 200.0, 0.0)],
            mute=True,
            parent=None,
            comment="fremder titel, nur vergleich",
        ),
    ]


def desk() -> list[Obj]:
    sweep = auto(
        "insert:0:band:1:freq",
        "plain",
        "linear",
        (0.0, 700.0),
        (bar(VERSE), 18000.0),
        (bar(BUILD), 18000.0),
        (bar(DROP - 0.25), 420.0),
        (bar(DROP), 18000.0),
        (bar(BUILD2), 18000.0),
        (bar(DROP2 - 0.25), 420.0),
        (bar(DROP2), 18000.0),
    )
    limit = comp("limiter", -1.0, 100.0, 1.0, 80.0)
    limit["kind"] = "limiter"
    room = plug("raumkorrektur", "monitor", profile="kleiner raum")
    room["on"] = False
    return [
        strip(
            "drums",
            "drums",
            "group",
            2,
            -1.5,
            0.0,
            "summe",
            sends=[send("press", -6.0)],
            inserts=[comp("glue", -14.0, 2.0, 20.0, 100.0)],
        ),
        strip(
            "press",
            "drums press",
            "return",
            2,
            -11.0,
            0.0,
            "summe",
            inserts=[comp("press", -34.0, 10.0, 1.0, 60.0, 5.0)],
            comment="parallel",
        ),
        strip("bass", "bass", "group", 2, -2.0, 0.0, "summe", inserts=[comp("comp", -16.0, 3.0, 20.0, 110.0, 1.0)]),
        strip(
            "musik",
            "musik",
            "group",
            2,
            -2.0,
            0.0,
            "summe",
            inserts=[eq(("low-pass", 18000.0, 24.0))],
            automation=[sweep],
        ),
        strip("gvox", "vox", "group", 2, -1.0, 0.0, "summe", inserts=[comp("comp", -16.0, 2.0, 12.0, 110.0, 1.0)]),
        strip("sc", "sc bus", "group", 1, 0.0, 0.0, None, comment="key fuer sub, bass mitte, pads; geht nirgends hin"),
        strip(
            "hall",
            "hall lang",
            "return",
            2,
            -5.0,
            0.0,
            "summe",
            inserts=[
                eq(("high-pass", 240.0, 12.0)),
                {**plug("hall", "reverb", 100.0, decay_s=2.8), "pre_delay_ms": 35.0},
            ],
        ),
        strip(
            "dly",
            "delay 3/16",
            "return",
            2,
            -7.0,
            0.0,
            "summe",
            inserts=[plug("delay", "delay", 100.0, time_ms=362.9, feedback_pct=30.0), eq(("high-pass", 300.0, 12.0))],
        ),
        strip(
            "summe",
            "summe",
            "master",
            2,
            0.0,
            0.0,
            None,
            inserts=[
                eq(("high-pass", 22.0, 12.0), ("high-shelf", 12000.0, 0.7)),
                comp("glue", -12.0, 2.0, 30.0, 150.0),
                limit,
                room,
                plug("pegel", "analyser"),
            ],
        ),
    ]


def files(channels: list[Obj]) -> list[Obj]:
    """One media file for every name that a clip plays, as wide as its channel."""
    length = {
        "loop_perc_120": 16.0 + LOOP,
        "loop_top_126": 4 * 240.0 / 126.0 + LOOP,
        "riser": 8.0,
        "impact": 7.0,
        "vox_dopp_1": 52.0,
        "vox_dopp_2": 52.5,
        "referenz": 214.0,
    }
    legs = {c["file"]: ch["legs"] for ch in channels for c in ch.get("clips", []) if c["file"]}
    return [
        {
            "id": name,
            "path": f"audio/{name}.wav",
            "place": "beside",
            "present": True,
            "legs": wide,
            "sample_rate_hz": RATE,
            "duration_s": round(length.get(name, TAIL), 6),
        }
        for name, wide in legs.items()
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = beat() + music() + voice() + desk()
    names = [
        (0, "intro"),
        (VERSE, "strophe"),
        (BUILD, "build"),
        (DROP, "drop 1"),
        (BREAK, "break"),
        (BUILD2, "build 2"),
        (DROP2, "drop 2"),
        (OUTRO, "outro"),
        (END, "schluss"),
        (END + 2, "bounce ende"),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "nachtbus mix v9",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": bar(n), "name": name} for n, name in names],
        "channels": channels,
        "media": files(channels),
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    """The channel of that name."""
    return next(ch for ch in session["channels"] if ch["name"] == name)


def hall_bypassed(session: Session) -> None:
    chan(session, "hall lang")["inserts"][1]["on"] = False


def over_the_limiter(session: Session) -> None:
    chan(session, "summe")["fader_db"] = 4.0


def loop_unstretched(session: Session) -> None:
    """The stretch of the loop is switched off: it plays at 120 again."""
    for part in chan(session, "loop perc 120")["clips"]:
        part["speed"] = 1.0


def room_printed(session: Session) -> None:
    chan(session, "summe")["inserts"][3]["on"] = True


def hole_at_seam(session: Session) -> None:
    """The left edge of the second verse clip trimmed inwards: 0.42 s of singing are gone."""
    part = chan(session, "vox lead")["clips"][1]
    part["start_s"] = round(part["start_s"] + 0.42, 6)
    part["offset_s"] = round(part["offset_s"] + 0.42, 6)


def filter_left_shut(session: Session) -> None:
    """The last point of the sweep is gone."""
    sweep = chan(session, "musik")["automation"][0]
    del sweep["t"][-1], sweep["v"][-1]


def ghost_in_drums(session: Session) -> None:
    chan(session, "kick geist")["output"] = "drums"


def solo_left(session: Session) -> None:
    chan(session, "sub")["solo"] = True


def pad_not_ducked(session: Session) -> None:
    chan(session, "pad breit")["inserts"][2]["on"] = False


def phrase_low(session: Session) -> None:
    chan(session, "vox lead")["clips"][3]["gain_db"] = -11.0


def print_open(session: Session) -> None:
    chan(session, "pad breit print")["mute"] = False


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["sc bus", "kick geist"],
        "why": "goes nowhere on purpose: key for the ducking, also where no kick plays",
    },
    {
        "channels": ["pad breit print", "referenz"],
        "why": "muted on purpose: a safety print and a track to compare with",
    },
    {"channels": ["drums press"], "why": "parallel compression of the drums, meant beside the dry group"},
    {"channels": ["loop perc 120", "loop top 126"], "why": "stretched a few per cent to the song's tempo, as wanted"},
    {
        "channels": ["musik"],
        "why": "opens over the intro, closes to 420 Hz in the builds, jumps open on the drops: the effect",
    },
    {
        "channels": ["pad breit"],
        "why": "plays on to the end of the outro over the kick alone, fading in its own release",
    },
    {"channels": ["riser"], "why": "straight to the mix bus, past the filter of the music group, on purpose"},
    {"channels": ["hat zu", "hat offen"], "why": "a little off the middle against each other: taste"},
    {"channels": ["summe"], "why": "the room correction sits there switched off, limiter at -1: as he always bounces"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "hall-bypassed",
        "class": "ambience",
        "channels": ["hall lang", "vox lead"],
        "grade": "hold",
        "says": "The reverb on the long hall return is bypassed: no hall, and the return adds the dry signal again.",
        "plant": hall_bypassed,
    },
    {
        "id": "over-the-limiter",
        "class": "headroom",
        "channels": ["summe"],
        "grade": "hold",
        "says": "The mix fader stands at +4 dB after a limiter that stops at -1 dBFS, the bounce will clip.",
        "plant": over_the_limiter,
    },
    {
        "id": "loop-unstretched",
        "class": "tempo",
        "channels": ["loop perc 120"],
        "grade": "hold",
        "says": "The percussion loop plays at its own 120 instead of 124 and falls behind until the next cut.",
        "plant": loop_unstretched,
    },
    {
        "id": "room-printed",
        "class": "hand-over",
        "channels": ["summe"],
        "grade": "hold",
        "says": "The room correction on the mix bus is on and would be printed into the bounce.",
        "plant": room_printed,
    },
    {
        "id": "hole-at-seam",
        "class": "edits",
        "channels": ["vox lead"],
        "grade": "hold",
        "says": "Where the two verse takes were cross-faded there is a hole of 0.4 s in the lead vocal.",
        "plant": hole_at_seam,
    },
    {
        "id": "filter-left-shut",
        "class": "automation",
        "channels": ["musik"],
        "grade": "hold",
        "says": "The low-pass on the music group does not open on the second drop and stays at 420 Hz to the end.",
        "plant": filter_left_shut,
    },
    {
        "id": "ghost-in-drums",
        "class": "routing",
        "channels": ["kick geist", "sc bus", "sub", "bass mitte", "pad breit", "pad tief", "drums"],
        "grade": "hold",
        "says": "The ghost kick goes to the drums instead of the key bus: it is heard, and nothing ducks any more.",
        "plant": ghost_in_drums,
    },
    {
        "id": "solo-left",
        "class": "inaudible",
        "channels": ["sub"],
        "grade": "hold",
        "says": "A solo is left on the sub, everything else would be missing.",
        "plant": solo_left,
    },
    {
        "id": "pad-not-ducked",
        "class": "processors",
        "channels": ["pad breit", "pad tief"],
        "grade": "look",
        "says": "The side-chain compressor on the wide pad is bypassed; bass and low pad duck, this one does not.",
        "plant": pad_not_ducked,
    },
    {
        "id": "phrase-low",
        "class": "level",
        "channels": ["vox lead"],
        "grade": "hold",
        "says": "The first phrase of the break is 10 dB under its neighbours by clip gain.",
        "plant": phrase_low,
    },
    {
        "id": "print-open",
        "class": "twice",
        "channels": ["pad breit print", "pad breit"],
        "grade": "hold",
        "says": "The safety print of the wide pad is not muted and plays together with the instrument.",
        "plant": print_open,
    },
]
