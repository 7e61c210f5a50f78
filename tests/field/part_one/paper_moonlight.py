"""A pop song over a two-track beat print: stacked voices on VCAs, the beat's stems muted in reserve, a cue mix with
click and talkback for the singer, a reference and a rough mix that never reach the mix."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Channel = dict[str, Any]
Spans = list[tuple[float, float]]


def strip(
    ident: str, name: str, output: str | None, legs: int = 1, fader: float = 0.0, pan: float = 0.0, **more: Any
) -> Channel:
    """One strip, a track unless ``kind`` says otherwise."""
    channel: Channel = {
        "id": ident,
        "name": name,
        "kind": "track",
        "output": output,
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    channel.update(more)
    return channel


def send(to: str, level: float, pan: float = 0.0, tap: str = "post", on: bool = True) -> dict[str, Any]:
    """A send."""
    return {"to": to, "level_db": level, "pan": pan, "tap": tap, "on": on}


def cut(kind: str, freq: float, slope: float = 12.0, on: bool = True) -> dict[str, Any]:
    """A high-pass or a low-pass band."""
    return {"kind": kind, "freq_hz": freq, "gain_db": 0.0, "q": 0.71, "slope_db_per_oct": slope, "on": on}


def bell(freq: float, gain: float, q: float = 1.0, kind: str = "bell") -> dict[str, Any]:
    """A bell or a shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def eq(*bands: dict[str, Any], name: str = "Chan EQ", on: bool = True) -> dict[str, Any]:
    """An equalizer whose bands are shown."""
    return {"name": name, "kind": "equalizer", "on": on, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    gain: float = 0.0,
    name: str = "Chan Comp",
    kind: str = "compressor",
) -> dict[str, Any]:
    """A compressor or a limiter whose settings are shown."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "knee_db": 3.0,
        "output_gain_db": gain,
        "auto_makeup": False,
    }
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": dynamics}


def gate(threshold: float, depth: float, attack: float, release: float, name: str = "Chan Gate") -> dict[str, Any]:
    """A gate whose settings are shown."""
    dynamics = {"threshold_db": threshold, "range_db": depth, "attack_ms": attack, "release_ms": release}
    return {"name": name, "kind": "gate", "on": True, "opaque": False, "dynamics": dynamics}


def box(name: str, kind: str, wet: float | None = None, **more: Any) -> dict[str, Any]:
    """A processor whose settings the session hides, but for its mix control."""
    insert: dict[str, Any] = {"name": name, "kind": kind, "on": True, "opaque": True}
    if wet is not None:
        insert["wet"] = wet
    insert.update(more)
    return insert


def trim(gain: float = 0.0, invert: bool = False, delay_ms: float = 0.0) -> dict[str, Any]:
    """A utility with gain, polarity and delay, all shown."""
    parameters: list[dict[str, Any]] = [
        {"id": "gain", "name": "Gain", "value": gain, "unit": "dB", "low": -24.0, "high": 24.0},
        {"id": "polarity", "name": "Polarity Invert", "value": invert},
        {"id": "delay", "name": "Delay", "value": delay_ms, "unit": "ms", "low": 0.0, "high": 100.0},
    ]
    return {"name": "Trim", "kind": "utility", "on": True, "opaque": False, "parameters": parameters}


def ride(target: str, scale: str, *points: tuple[float, float], shape: str = "linear") -> dict[str, Any]:
    """One automation lane."""
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [round(t, 4) for t, _ in points],
        "v": [v for _, v in points],
    }


def at(session: Session, name: str) -> Channel:
    """The channel of that name."""
    return next(channel for channel in session["channels"] if channel["name"] == name)


def lane(channel: Channel, target: str) -> dict[str, Any]:
    """The channel's automation lane for that target."""
    found: dict[str, Any] = next(a for a in channel["automation"] if a["target"] == target)
    return found


def medium(session: Session, channel: Channel) -> dict[str, Any]:
    """The file that the channel's first clip plays."""
    found: dict[str, Any] = next(m for m in session["media"] if m["id"] == channel["clips"][0]["file"])
    return found


def record(
    session: Session,
    ident: str,
    path: str,
    spans: Spans,
    length: float,
    origin: float = 0.0,
    fades: tuple[float, float] = (0.01, 0.03),
    gain: float = 0.0,
) -> None:
    """Lay one recording on a channel, one clip a span; ``origin`` is where in the song the file begins."""
    channel = next(c for c in session["channels"] if c["id"] == ident)
    file = f"m{len(session['media']) + 1:03d}"
    session["media"].append(
        {
            "id": file,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": channel["legs"],
            "sample_rate_hz": session["sample_rate_hz"],
            "duration_s": round(length, 3),
        }
    )
    for start, end in spans:
        channel["clips"].append(
            {
                "start_s": round(start, 4),
                "end_s": round(end, 4),
                "file": file,
                "offset_s": round(start - origin, 4),
                "fade_in_s": fades[0],
                "fade_out_s": fades[1],
                "gain_db": gain,
                "plays": "audio",
                "on": True,
            }
        )
    channel["plays"] = ["audio"]
    channel["clips"].sort(key=lambda c: c["start_s"])


def score(session: Session, ident: str, spans: Spans) -> None:
    """Lay notes on an instrument's channel, one clip a span."""
    channel = next(c for c in session["channels"] if c["id"] == ident)
    for start, end in spans:
        channel["clips"].append({"start_s": round(start, 4), "end_s": round(end, 4), "plays": "notes", "on": True})
    channel["plays"] = ["notes"]


BAR = 60.0 / 100.0 * 4
NAMES = [
    ("Count", 0),
    ("Intro", 2),
    ("V1", 6),
    ("Pre 1", 22),
    ("Hook 1", 30),
    ("V2", 46),
    ("Pre 2", 62),
    ("Hook 2", 70),
    ("Bridge", 86),
    ("Hook 3", 94),
    ("Outro", 110),
    ("End", 114),
]
BEAT = ["Intro", "V1", "Pre 1", "Hook 1", "V2", "Pre 2", "Hook 2", "Bridge", "Hook 3", "Outro", "End"]
BARS = dict(NAMES)
WHOLE = 116 * BAR


def bar(number: float) -> float:
    """Where a bar begins, in seconds."""
    return number * BAR


def beat_parts(skip: tuple[str, ...] = ()) -> Spans:
    """The beat cut at the sections, to the bar."""
    return [(bar(BARS[a]), bar(BARS[b])) for a, b in zip(BEAT[:-1], BEAT[1:], strict=True) if a not in skip]


def hooks(start: float = 0.0, end: float = 15.5) -> Spans:
    """The three hooks, from and to these bars of theirs."""
    return [(bar(n + start) - 0.15, bar(n + end)) for n in (30, 70, 94)]


def voice(ident: str, name: str, output: str, fader: float, pan: float, vca: str, wet: float) -> Channel:
    """A voice of the stack."""
    return strip(
        ident,
        name,
        output,
        fader=fader,
        pan=pan,
        parent=vca,
        sends=[send("vrb", wet)],
        inserts=[eq(cut("high-pass", 170, 18), bell(350, -2.5)), comp(-26, 5.0, 3, 70, 3.0)],
    )


def good() -> Session:
    """The session as it should be bounced."""
    singer = [
        strip(
            "lvv",
            "LV Verse",
            "ldb",
            fader=-4.0,
            parent="vcl",
            sends=[send("vrb", -17.0), send("dly", -200.0), send("cue", -3.0, tap="pre")],
            inserts=[
                box("Note Nudge", "pitch", 100.0),
                eq(cut("high-pass", 95, 18), bell(300, -2.0), bell(10000, 2.0, 0.7)),
                comp(-24, 4.0, 3, 60, 4.0),
                box("Sss Tamer", "de-esser"),
            ],
            automation=[
                ride(
                    "send:1:level",
                    "dB",
                    (0, -200),
                    (bar(13.5), -8),
                    (bar(14), -200),
                    (bar(53.5), -8),
                    (bar(54), -200),
                    (bar(93), -6),
                    (bar(94), -200),
                    shape="hold",
                )
            ],
        ),
        strip(
            "lvh",
            "LV Hook",
            "ldb",
            fader=-3.5,
            parent="vcl",
            sends=[send("vrb", -14.0), send("dly", -16.0), send("cue", -3.0, tap="pre")],
            inserts=[
                box("Note Nudge", "pitch", 100.0),
                eq(cut("high-pass", 110, 18), bell(320, -2.5), bell(9000, 2.5, 0.7)),
                comp(-26, 6.0, 2, 50, 5.0),
                box("Sss Tamer", "de-esser"),
            ],
        ),
        strip("lvo", "LV Hook OLD", "ldb", fader=-3.5, mute=True, parent="vcl", sends=[send("vrb", -14.0)]),
        voice("dbl", "Hook Dbl L", "ldb", -11.0, -70, "vcl", -13.0),
        voice("dbr", "Hook Dbl R", "ldb", -11.0, 70, "vcl", -13.0),
        voice("whi", "Whisper V2", "ldb", -14.0, 0, "vcl", -9.0),
        voice("h1l", "Harm Hi L", "bgb", -10.0, -90, "vcb", -11.0),
        voice("h1r", "Harm Hi R", "bgb", -10.0, 90, "vcb", -11.0),
        voice("h2l", "Harm Lo L", "bgb", -11.0, -45, "vcb", -12.0),
        voice("h2r", "Harm Lo R", "bgb", -11.0, 45, "vcb", -12.0),
        voice("ooh", "Oohs L", "bgb", -13.0, -60, "vcb", -8.0),
        voice("oor", "Oohs R", "bgb", -13.0, 60, "vcb", -8.0),
        strip(
            "adl",
            "Ad Libs",
            "bgb",
            fader=-8.0,
            pan=-25,
            parent="vcb",
            sends=[send("vrb", -9.0), send("dly", -9.0)],
            inserts=[eq(cut("high-pass", 250, 18), cut("low-pass", 7000)), comp(-24, 6.0, 2, 50, 3.0)],
        ),
        strip(
            "ad2",
            "Ad Libs 2",
            "bgb",
            fader=-8.5,
            pan=30,
            parent="vcb",
            sends=[send("vrb", -9.0), send("dly", -9.0)],
            inserts=[eq(cut("high-pass", 250, 18), cut("low-pass", 7000)), comp(-24, 6.0, 2, 50, 3.0)],
        ),
    ]
    band = [
        strip(
            "bt2",
            "BEAT 2trk",
            "btb",
            2,
            fader=-5.5,
            parent="vct",
            sends=[send("cue", -4.0, tap="pre")],
            inserts=[eq(bell(3000, -1.5, 0.7), bell(50, 0.5, 0.7, "low-shelf"))],
            automation=[
                ride("fader", "dB", (0, -5.5), (bar(86), -5.5), (bar(86), -7.0), (bar(94), -5.0), (bar(110), -5.0))
            ],
        ),
        strip("bkk", "beat stem KICK", "btb", 2, fader=-6.0, mute=True, parent="vct"),
        strip("b80", "beat stem 808", "btb", 2, fader=-6.0, mute=True, parent="vct"),
        strip("bdr", "beat stem DRMS", "btb", 2, fader=-6.0, mute=True, parent="vct"),
        strip("bml", "beat stem MELO", "btb", 2, fader=-6.0, mute=True, parent="vct"),
        strip(
            "gtl",
            "Nylon L",
            "ins",
            fader=-12.0,
            pan=-75,
            sends=[send("rmv", -12.0, -75)],
            inserts=[eq(cut("high-pass", 160))],
        ),
        strip(
            "gtr",
            "Nylon R",
            "ins",
            fader=-12.0,
            pan=75,
            sends=[send("rmv", -12.0, 75)],
            inserts=[eq(cut("high-pass", 160))],
        ),
        strip(
            "pad",
            "Glass Pad",
            "ins",
            2,
            fader=-15.0,
            sends=[send("rmv", -10.0)],
            inserts=[box("Wave Loom", "instrument"), eq(cut("high-pass", 250))],
        ),
        strip("clp", "Add Claps", "ins", 2, fader=-13.0, sends=[send("rmv", -9.0)]),
        strip("ris", "Riser", "ins", 2, fader=-16.0),
    ]
    service = [
        strip("clk", "CLICK", None, fader=-6.0, sends=[send("cue", -10.0, tap="pre")]),
        strip(
            "tbk",
            "TALKBACK",
            None,
            fader=-3.0,
            sends=[send("cue", -2.0, tap="pre")],
            inserts=[comp(-30, 10.0, 1, 60, 6.0)],
        ),
        strip("ref", "REF master", None, 2, fader=-9.0, mute=True),
        strip("rgh", "ROUGH v2 (artist)", None, 2, mute=True),
        strip(
            "cue",
            "CUE singer",
            None,
            2,
            fader=-4.0,
            kind="return",
            inserts=[comp(-6.0, 10.0, 1, 60, 0.0, "Ear Guard", "limiter")],
            comment="to headphone out 3-4 only",
        ),
    ]
    desk = [
        strip("ldb", "LEAD BUS", "vxb", 2, kind="group", inserts=[comp(-18, 2.0, 15, 90, 1.0)]),
        strip("bgb", "BGV BUS", "vxb", 2, kind="group", inserts=[comp(-20, 3.0, 10, 90, 1.0), eq(bell(2500, -1.5))]),
        strip("vxb", "ALL VOX", "mix", 2, kind="group"),
        strip("btb", "BEAT BUS", "mix", 2, kind="group"),
        strip("ins", "ADDS BUS", "mix", 2, kind="group"),
        strip(
            "vrb",
            "Vox Plate",
            "vxb",
            2,
            fader=-5.0,
            kind="return",
            inserts=[
                eq(cut("high-pass", 280), cut("low-pass", 9000)),
                box("Barn Plate", "reverb", 100.0, pre_delay_ms=30.0),
            ],
        ),
        strip(
            "dly",
            "Vox Dly 1/4",
            "vxb",
            2,
            fader=-6.0,
            kind="return",
            sends=[send("vrb", -15.0)],
            inserts=[box("Tape Echoer", "delay", 100.0), eq(cut("high-pass", 350), cut("low-pass", 5000))],
        ),
        strip("rmv", "Add Room", "ins", 2, fader=-7.0, kind="return", inserts=[box("Plank Room", "reverb", 100.0)]),
        strip("vcl", "VCA LEAD", None, 1, kind="vca"),
        strip("vcb", "VCA BGV", None, 1, fader=-1.0, kind="vca"),
        strip("vct", "VCA BEAT", None, 1, fader=-0.5, kind="vca"),
        strip(
            "mix",
            "MIX",
            None,
            2,
            kind="master",
            inserts=[
                comp(-12, 1.8, 30, 120, 1.0, "Bus Glue"),
                eq(bell(11000, 1.0, 0.7, "high-shelf"), name="Master EQ"),
                comp(-3.5, 20.0, 0.5, 50, 2.5, "Brick Stop", "limiter"),
            ],
        ),
    ]
    session: Session = {
        "title": "Paper Moonlight - mix 9",
        "sample_rate_hz": 48000,
        "timeline": {"tempos": [{"beat": 0, "bpm": 100.0}]},
        "markers": [{"time_s": round(bar(b), 4), "name": n} for n, b in NAMES],
        "channels": band + singer + service + desk,
        "media": [],
    }
    record(session, "bt2", "Audio/Beat/moonlight_beat_2trk_100bpm.wav", beat_parts(), WHOLE, bar(2), (0.0, 0.0))
    for ident, stem, skip in [
        ("bkk", "kick", ("Intro", "Bridge")),
        ("b80", "808", ("Intro", "Bridge")),
        ("bdr", "drums", ("Intro",)),
        ("bml", "melo", ()),
    ]:
        record(session, ident, f"Audio/Beat/moonlight_{stem}_100bpm.wav", beat_parts(skip), WHOLE, bar(2), (0.0, 0.0))
    for side in ("l", "r"):
        record(
            session,
            f"gt{side}",
            f"Audio/Nylon_{side.upper()}_02.wav",
            [(bar(46) - 0.1, bar(62)), (bar(86) - 0.1, bar(94)), (bar(110) - 0.1, bar(114) + 1.8)],
            WHOLE,
        )
    score(
        session,
        "pad",
        [
            (bar(22), bar(30)),
            (bar(30), bar(46)),
            (bar(62), bar(70)),
            (bar(70), bar(86)),
            (bar(86), bar(94)),
            (bar(94), bar(110)),
        ],
    )
    record(session, "clp", "Audio/Claps_100bpm.wav", [(bar(n), bar(n + 16)) for n in (30, 70, 94)], WHOLE)
    record(session, "ris", "Audio/Riser.wav", [(bar(n - 4), bar(n)) for n in (30, 70, 94)], WHOLE)
    record(
        session,
        "lvv",
        "Audio/Vox/LV_Verse_comp.wav",
        [
            (bar(6) - 0.2, bar(9.8)),
            (bar(10) - 0.2, bar(13.9)),
            (bar(14.1), bar(21.7)),
            (bar(22) - 0.2, bar(29.6)),
            (bar(46) - 0.2, bar(53.9)),
            (bar(54.1), bar(61.7)),
            (bar(62) - 0.2, bar(69.6)),
            (bar(86) - 0.2, bar(93.5)),
            (bar(110) - 0.2, bar(113)),
        ],
        WHOLE,
    )
    record(
        session,
        "lvh",
        "Audio/Vox/LV_Hook_comp.wav",
        [s for n in (30, 70, 94) for s in [(bar(n) - 0.2, bar(n + 7.7)), (bar(n + 8) - 0.2, bar(n + 15.6))]],
        WHOLE,
    )
    record(session, "lvo", "Audio/Vox/LV_Hook_0412.wav", hooks(), WHOLE)
    for ident, stem in [
        ("dbl", "HookDbl_L"),
        ("dbr", "HookDbl_R"),
        ("h1l", "HarmHi_L"),
        ("h1r", "HarmHi_R"),
        ("h2l", "HarmLo_L"),
        ("h2r", "HarmLo_R"),
    ]:
        record(session, ident, f"Audio/Vox/{stem}.wav", hooks(), WHOLE)
    record(session, "whi", "Audio/Vox/Whisper.wav", [(bar(46) - 0.1, bar(53.9)), (bar(54), bar(61.7))], WHOLE)
    for ident, stem in [("ooh", "Oohs_L"), ("oor", "Oohs_R")]:
        record(
            session,
            ident,
            f"Audio/Vox/{stem}.wav",
            [(bar(22), bar(30)), (bar(62), bar(70)), (bar(86), bar(94)), (bar(102), bar(111))],
            WHOLE,
        )
    record(
        session,
        "adl",
        "Audio/Vox/AdLibs_01.wav",
        [(bar(n) - 0.1, bar(n + 1.5)) for n in (12, 33, 41, 52, 73, 81, 97, 101, 105, 108.5)],
        WHOLE,
    )
    record(
        session, "ad2", "Audio/Vox/AdLibs_02.wav", [(bar(n) - 0.1, bar(n + 1.5)) for n in (76, 84, 99, 103, 107)], WHOLE
    )
    record(session, "clk", "Audio/click_100.wav", [(0.0, bar(114))], WHOLE)
    record(
        session, "tbk", "Audio/Talkback_0414.wav", [(0.8, 3.9), (bar(44.5), bar(45.8)), (bar(114.2), bar(115.5))], WHOLE
    )
    record(session, "ref", "Ref/ref_pop.wav", [(0.0, 198.0)], 198.0)
    record(session, "rgh", "Ref/moonlight_rough_v2.wav", [(0.0, bar(115))], WHOLE)
    return session


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["LV Hook OLD", "REF master", "ROUGH v2 (artist)"],
        "why": "an old comp, a reference and a rough mix, all muted; may be taken out before the hand-over",
    },
    {
        "channels": ["beat stem KICK", "beat stem 808", "beat stem DRMS", "beat stem MELO"],
        "why": "the beat's stems in reserve for the printed beat, muted on purpose",
    },
]


def talkback_in_the_mix(session: Session) -> None:
    """The talkback's output is the mix."""
    at(session, "TALKBACK")["output"] = "mix"


def stem_beside_the_print(session: Session) -> None:
    """One of the beat's stems is on beside the print."""
    at(session, "beat stem 808")["mute"] = False


def cue_in_the_mix(session: Session) -> None:
    """The cue return's output is the mix."""
    at(session, "CUE singer")["output"] = "mix"


def vca_pulled_down(session: Session) -> None:
    """The backing voices' VCA stands at -15."""
    at(session, "VCA BGV")["fader_db"] = -15.0


def another_tempo(session: Session) -> None:
    """The session was set to 103 bpm."""
    session["timeline"]["tempos"][0]["bpm"] = 103.0


def hook_file_short(session: Session) -> None:
    """The hook's file ends before its last clips."""
    medium(session, at(session, "LV Hook"))["duration_s"] = 221.4


def same_name_twice(session: Session) -> None:
    """Both tracks of ad libs have one name."""
    at(session, "Ad Libs 2")["name"] = "Ad Libs"


def plate_bypassed(session: Session) -> None:
    """The plate on its return is bypassed, its equalizer is not."""
    at(session, "Vox Plate")["inserts"][1]["on"] = False


def gain_after_the_compressor(session: Session) -> None:
    """The hook's compressor makes up 21 dB."""
    at(session, "LV Hook")["inserts"][2]["dynamics"]["output_gain_db"] = 21.0


def double_right_soft(session: Session) -> None:
    """The right double of the hook was left 10 dB under the left one."""
    at(session, "Hook Dbl R")["fader_db"] = -21.0


FAULTS: list[dict[str, Any]] = [
    {
        "id": "talkback-into-the-mix",
        "class": "audible-that-should-not-be",
        "channels": ["TALKBACK"],
        "grade": "hold",
        "says": "the talkback is routed to the mix and is heard at the count, before verse 2 and after the end",
        "plant": talkback_in_the_mix,
    },
    {
        "id": "beat-stem-beside-the-print",
        "class": "twice",
        "channels": ["beat stem 808", "BEAT 2trk"],
        "grade": "hold",
        "says": "the 808 stem plays beside the beat's two-track print, which holds it already",
        "plant": stem_beside_the_print,
    },
    {
        "id": "cue-mix-into-the-mix",
        "class": "routing",
        "channels": ["CUE singer"],
        "grade": "hold",
        "says": "the singer's cue mix goes to the mix: click, talkback and a second, pre-fader beat and lead are printed",
        "plant": cue_in_the_mix,
    },
    {
        "id": "bgv-vca-at-minus-15",
        "class": "level",
        "channels": ["VCA BGV"],
        "grade": "hold",
        "says": "the VCA of the backing voices stands at -15 dB, the other two near 0: all harmonies are down with it",
        "plant": vca_pulled_down,
    },
    {
        "id": "session-at-103-beat-at-100",
        "class": "tempo",
        "channels": ["BEAT 2trk", "Add Claps", "MIX"],
        "grade": "hold",
        "says": "the session says 103 bpm, the beat is cut and named for 100: grid and delays are off",
        "plant": another_tempo,
    },
    {
        "id": "hook-file-too-short",
        "class": "files",
        "channels": ["LV Hook"],
        "grade": "hold",
        "says": "the hook comp's file ends at 221 s, its clips of hook 3 need it beyond 260 s: no lead in the last hook",
        "plant": hook_file_short,
    },
    {
        "id": "two-tracks-of-one-name",
        "class": "hand-over",
        "channels": ["Ad Libs"],
        "grade": "note",
        "says": "two tracks are called Ad Libs; their stems overwrite each other and nobody can tell them apart",
        "plant": same_name_twice,
    },
    {
        "id": "vocal-plate-bypassed",
        "class": "ambience",
        "channels": ["Vox Plate"],
        "grade": "hold",
        "says": "the reverb on the plate's return is bypassed, so the return adds dry voices",
        "plant": plate_bypassed,
    },
    {
        "id": "hook-compressor-21-db-make-up",
        "class": "headroom",
        "channels": ["LV Hook"],
        "grade": "hold",
        "says": "the compressor on the hook's lead adds 21 dB of make-up where its neighbours add 3 to 4; the buses clip",
        "plant": gain_after_the_compressor,
    },
    {
        "id": "hook-double-right-10-db-softer",
        "class": "place",
        "channels": ["Hook Dbl R", "Hook Dbl L"],
        "grade": "look",
        "says": "Hook Dbl R stands 10 dB under Hook Dbl L; the pair leans left",
        "plant": double_right_soft,
    },
]
