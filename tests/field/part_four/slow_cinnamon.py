"""Slow Cinnamon, a dense R&B production at 72 bpm: programmed drums, a printed 808 with a fingered bass guitar under
the hooks, keys, pad, two guitars, strings, one lead voice and a seven-part stack. The engineer writes short capital
names, buses everything (drums, bass, music, lead, stack, all voices, mix), keeps the muted sources beside their
prints, ducks 808 and pad from a silent kick key, crushes drums and lead in parallel, holds drums and stack on VCAs,
uses the stack bus's mute to keep headphone bleed out where nobody sings, and leaves the rough mix muted at the
bottom for comparing."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Dict = dict[str, Any]

BEAT = 60.0 / 72.0
LONG = 210.0  # every print runs from zero to here


def bar(number: float) -> float:
    """The start of a bar in seconds (bar 1 at 0)."""
    return round((number - 1.0) * 4.0 * BEAT, 4)


def clip(
    name: str,
    file: str,
    first: float,
    last: float,
    early: float = 0.0,
    gain: float = 0.0,
    fades: tuple[float, float] = (0.005, 0.02),
) -> Dict:
    """From bar ``first`` to bar ``last`` of a print that starts at zero; ``early`` seconds of pick-up at both ends."""
    start = round(bar(first) - early, 4)
    end = round(bar(last) - early, 4)
    return {
        "start_s": start,
        "end_s": end,
        "name": name,
        "file": file,
        "offset_s": start,
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": gain,
    }


def notes(name: str, first: float, last: float) -> Dict:
    return {
        "start_s": bar(first),
        "end_s": bar(last),
        "name": name,
        "plays": "notes",
        "fade_in_s": 0.0,
        "fade_out_s": 0.0,
    }


def send(to: str, level: float, tap: str = "post") -> Dict:
    return {"to": to, "level_db": level, "tap": tap, "pan": 0.0, "on": True}


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.8) -> Dict:
    one: Dict = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q}
    if kind.endswith("pass"):
        one["slope_db_per_oct"] = 12.0
    return one


def eq(*bands: Dict) -> Dict:
    return {"name": "EQ", "kind": "equalizer", "opaque": False, "equalizer": {"bands": list(bands)}}


def dyn(
    name: str,
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    gain: float = 0.0,
    kind: str = "compressor",
    key: str = "",
) -> Dict:
    one: Dict = {
        "name": name,
        "kind": kind,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }
    if key:
        one["parameters"] = [{"id": "key", "name": "Key input", "value": key}]
    return one


def wet(name: str, kind: str, pre: float = 0.0, **parameters: float) -> Dict:
    return {
        "name": name,
        "kind": kind,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": [{"id": key, "name": key.replace("_", " "), "value": value} for key, value in parameters.items()],
    }


def ride(target: str, points: list[tuple[float, float]], scale: str = "dB", shape: str = "linear") -> Dict:
    return {"target": target, "scale": scale, "shape": shape, "t": [t for t, _ in points], "v": [v for _, v in points]}


def strip(
    cid: str, name: str, kind: str, output: str | None, fader: float, pan: float = 0.0, legs: int = 1, **more: Any
) -> Dict:
    return {
        "id": cid,
        "name": name,
        "kind": kind,
        "output": output,
        "fader_db": fader,
        "pan": pan,
        "legs": legs,
        "plays": ["audio"] if kind == "track" else [],
        "mute": False,
        "solo": False,
        **more,
    }


def drums() -> list[Dict]:
    def part(file: str, *spans: tuple[float, float]) -> list[Dict]:
        return [clip(f"{file}.{number}", file, first, last) for number, (first, last) in enumerate(spans, 1)]

    return [
        strip(
            "k",
            "K",
            "track",
            "drm",
            -6.0,
            parent="vdrm",
            clips=part("k", (5, 45), (51, 61)),
            sends=[send("crush", -8.0), send("key", 0.0, "pre")],
            inserts=[eq(band("bell", 58.0, 2.0), band("bell", 340.0, -3.0)), dyn("CMP", -14.0, 3.0, 20.0, 90.0, 2.0)],
        ),
        strip(
            "sn",
            "SN",
            "track",
            "drm",
            -7.5,
            parent="vdrm",
            clips=part("sn", (5, 45), (51, 61)),
            sends=[send("crush", -6.0), send("room", -14.0)],
            inserts=[eq(band("high-pass", 90.0), band("bell", 200.0, 1.5)), dyn("CMP", -16.0, 3.0, 12.0, 80.0, 2.0)],
        ),
        strip(
            "clp",
            "CLP",
            "track",
            "drm",
            -9.5,
            legs=2,
            parent="vdrm",
            clips=part("clp", (17, 25), (37, 45), (51, 59)),
            sends=[send("room", -12.0)],
            inserts=[eq(band("high-pass", 250.0))],
        ),
        strip(
            "hh",
            "HH",
            "track",
            "drm",
            -13.0,
            28.0,
            parent="vdrm",
            clips=part("hh", (9, 45), (51, 61)),
            inserts=[eq(band("high-pass", 320.0))],
        ),
        strip(
            "shk",
            "SHK",
            "track",
            "drm",
            -15.0,
            -30.0,
            parent="vdrm",
            clips=part("shk", (17, 25), (37, 45), (51, 59)),
            inserts=[eq(band("high-pass", 400.0))],
        ),
        strip(
            "tops",
            "TOPS",
            "track",
            "drm",
            -14.0,
            legs=2,
            parent="vdrm",
            clips=part("tops", (13, 25), (33, 45), (51, 59)),
            sends=[send("crush", -14.0)],
            inserts=[eq(band("high-pass", 200.0))],
        ),
        strip("drm", "DRM BUS", "group", "mix", -1.0, legs=2, inserts=[dyn("BUS CMP", -12.0, 2.0, 30.0, 120.0, 1.0)]),
        strip(
            "crush",
            "DRM CRUSH",
            "group",
            "mix",
            -11.0,
            legs=2,
            comment="parallel, drum sends only",
            inserts=[dyn("CRUSH", -30.0, 8.0, 2.0, 60.0, 6.0), eq(band("high-pass", 60.0))],
        ),
        strip("key", "KEY K", "group", None, 0.0, comment="key for 808 and pad, not heard"),
    ]


def bass() -> list[Dict]:
    def part(file: str) -> list[Dict]:
        return [
            clip(f"{file} hk{number}", file, first, last, fades=(0.01, 0.03))
            for number, (first, last) in enumerate([(17, 25), (37, 45), (51, 59)], 1)
        ]

    return [
        strip(
            "808s",
            "808 SRC",
            "track",
            "bass",
            -7.0,
            plays=["notes"],
            mute=True,
            comment="printed, keep muted",
            clips=[notes("808 a", 5, 45), notes("808 b", 51, 61)],
            inserts=[{"name": "BASS SYNTH", "kind": "instrument"}],
        ),
        strip(
            "808p",
            "808 PRT",
            "track",
            "bass",
            -7.0,
            clips=[clip("808 prt a", "808", 5, 45), clip("808 prt b", "808", 51, 61, fades=(0.005, 0.2))],
            inserts=[
                eq(band("high-pass", 28.0), band("bell", 110.0, -1.5)),
                dyn("DUCK", -24.0, 3.0, 1.0, 110.0, key="KEY K"),
            ],
        ),
        strip("bgd", "BGT DI", "track", "bass", -14.0, clips=part("bgt_di"), inserts=[eq(band("high-pass", 70.0))]),
        strip("bga", "BGT AMP", "track", "bass", -12.0, clips=part("bgt_amp"), inserts=[eq(band("high-pass", 80.0))]),
        strip("bass", "BASS BUS", "group", "mix", -0.5, legs=1, inserts=[dyn("BUS CMP", -15.0, 2.5, 25.0, 150.0, 1.5)]),
    ]


def music() -> list[Dict]:
    def guitar(file: str) -> list[Dict]:
        return [
            clip(f"{file} {number}", file, first, last, fades=(0.02, 0.05))
            for number, (first, last) in enumerate([(17, 33), (37, 45), (51, 61)], 1)
        ]

    def hooks(file: str, *spans: tuple[float, float]) -> list[Dict]:
        return [
            clip(f"{file} {number}", file, first, last, fades=(0.1, 0.4))
            for number, (first, last) in enumerate(spans, 1)
        ]

    return [
        strip(
            "ep",
            "EP",
            "track",
            "mus",
            -10.0,
            legs=2,
            sends=[send("hall", -16.0)],
            clips=[clip("ep all", "ep", 1, 63.4, fades=(0.01, 1.2))],
            inserts=[eq(band("high-pass", 90.0), band("bell", 300.0, -2.0))],
        ),
        strip(
            "pad",
            "PAD",
            "track",
            "mus",
            -15.0,
            legs=2,
            clips=hooks("pad", (13, 25), (33, 51), (51, 61)),
            inserts=[eq(band("high-pass", 180.0)), dyn("DUCK", -26.0, 2.0, 5.0, 180.0, key="KEY K")],
        ),
        strip(
            "gl",
            "GTR L",
            "track",
            "mus",
            -13.0,
            -75.0,
            clips=guitar("gtr_l"),
            sends=[send("hall", -15.0)],
            inserts=[eq(band("high-pass", 120.0))],
        ),
        strip(
            "gr",
            "GTR R",
            "track",
            "mus",
            -13.0,
            75.0,
            clips=guitar("gtr_r"),
            sends=[send("hall", -15.0)],
            inserts=[eq(band("high-pass", 120.0))],
        ),
        strip(
            "strs",
            "STR SRC",
            "track",
            "mus",
            -13.0,
            legs=2,
            plays=["notes"],
            mute=True,
            comment="printed, keep muted",
            clips=[notes("str a", 37, 51), notes("str b", 51, 61)],
            inserts=[{"name": "STRING SAMPLER", "kind": "instrument"}],
        ),
        strip(
            "strp",
            "STR PRT",
            "track",
            "mus",
            -13.0,
            legs=2,
            sends=[send("hall", -12.0)],
            clips=hooks("str", (37, 51), (51, 61)),
            inserts=[eq(band("high-pass", 140.0))],
        ),
        strip("mus", "MUS BUS", "group", "mix", -1.0, legs=2, inserts=[eq(band("bell", 2500.0, -1.0))]),
    ]


STACK: list[tuple[str, str, float, float]] = [
    ("bll", "BV LO L", -12.0, -35.0),
    ("blr", "BV LO R", -12.0, 35.0),
    ("bml", "BV MID L", -13.0, -62.0),
    ("bmr", "BV MID R", -13.0, 62.0),
    ("bhl", "BV HI L", -14.0, -88.0),
    ("bhr", "BV HI R", -14.0, 88.0),
    ("boc", "BV OCT", -17.0, 0.0),
]


def voices() -> list[Dict]:
    lead_gain = [(5, 13, 1.0), (13, 25, 0.0), (25, 33, 1.5), (33, 45, 0.0), (45, 51, 0.0), (51, 62, 0.0)]
    lead = strip(
        "lv",
        "LV",
        "track",
        "lvb",
        -4.0,
        clips=[
            clip(f"lv {number}", "lv", first, last, 0.35, gain, (0.015, 0.015))
            for number, (first, last, gain) in enumerate(lead_gain, 1)
        ],
        inserts=[
            eq(band("high-pass", 90.0), band("bell", 320.0, -2.0), band("high-shelf", 9000.0, 1.5)),
            {"name": "DS", "kind": "de-esser"},
            dyn("CMP", -20.0, 3.5, 8.0, 90.0, 3.0),
            {**eq(band("high-pass", 500.0), band("low-pass", 3500.0)), "name": "PHONE", "on": False},
        ],
        automation=[
            ride(
                "fader",
                [
                    (0.0, -4.0),
                    (53.0, -4.0),
                    (53.6, -3.2),
                    (79.8, -3.2),
                    (80.4, -4.2),
                    (119.6, -4.2),
                    (120.2, -3.0),
                    (146.2, -3.0),
                    (146.9, -7.0),
                    (166.0, -7.0),
                    (166.6, -2.8),
                    (193.3, -2.8),
                    (194.0, -4.0),
                ],
            ),
            ride("insert:3:on", [(0.0, 0.0), (146.3, 1.0), (152.9, 0.0)], "switch", "hold"),
        ],
    )
    double = strip(
        "lvd",
        "LV DBL",
        "track",
        "lvb",
        -14.0,
        clips=[
            clip(f"dbl hk{number}", "lv_dbl", first, last, 0.3, fades=(0.02, 0.03))
            for number, (first, last) in enumerate([(17, 25), (37, 45), (51, 59)], 1)
        ],
        inserts=[eq(band("high-pass", 150.0)), dyn("CMP", -24.0, 5.0, 4.0, 80.0, 3.0)],
    )
    adlibs = strip(
        "adl",
        "ADL",
        "track",
        "lvb",
        -9.0,
        25.0,
        clips=[clip("adl 1", "adl", 39, 45, fades=(0.02, 0.05)), clip("adl 2", "adl", 52, 62, fades=(0.02, 0.05))],
        inserts=[eq(band("high-pass", 140.0)), dyn("CMP", -22.0, 4.0, 6.0, 80.0, 3.0)],
        automation=[ride("pan", [(0.0, 25.0), (155.0, -25.0)], "pan", "hold")],
    )
    stack = [
        strip(
            cid,
            name,
            "track",
            "bvb",
            fader,
            pan,
            parent="vbv",
            clips=[
                clip(f"{name} a", cid, 13, 25, 0.3, fades=(0.02, 0.03)),
                clip(f"{name} b", cid, 33, 59, 0.3, fades=(0.02, 0.05)),
            ],
            inserts=[eq(band("high-pass", 160.0))],
        )
        for cid, name, fader, pan in STACK
    ]
    buses = [
        strip(
            "lvb",
            "LV BUS",
            "group",
            "vox",
            0.0,
            legs=2,
            sends=[send("plt", -13.0), send("dly", -26.0), send("vpar", -10.0)],
            automation=[
                ride(
                    "send:1:level",
                    [
                        (0.0, -26.0),
                        (78.4, -9.0),
                        (80.0, -26.0),
                        (145.0, -9.0),
                        (146.7, -26.0),
                        (191.7, -9.0),
                        (193.4, -26.0),
                    ],
                    shape="hold",
                )
            ],
        ),
        strip(
            "bvb",
            "BV BUS",
            "group",
            "vox",
            -1.5,
            legs=2,
            comment="muted in v2 and bridge: phones bleed",
            sends=[send("hall", -9.0), send("plt", -18.0)],
            inserts=[eq(band("bell", 400.0, -2.0)), dyn("BUS CMP", -20.0, 3.0, 15.0, 120.0, 2.0)],
            automation=[
                ride("mute", [(0.0, 0.0), (80.3, 1.0), (106.0, 0.0), (146.9, 1.0), (166.0, 0.0)], "switch", "hold")
            ],
        ),
        strip(
            "vpar",
            "VOX PAR",
            "group",
            "vox",
            -12.0,
            legs=2,
            comment="parallel of the lead",
            inserts=[dyn("CRUSH", -34.0, 10.0, 1.0, 50.0, 8.0), eq(band("high-pass", 150.0))],
        ),
        strip("vox", "VOX BUS", "group", "mix", 0.0, legs=2, inserts=[dyn("BUS CMP", -14.0, 1.8, 20.0, 150.0, 1.0)]),
    ]
    return [lead, double, adlibs, *stack, *buses]


def rest() -> list[Dict]:
    return [
        strip("plt", "RV PLT", "return", "mix", -2.0, legs=2, inserts=[wet("PLATE", "reverb", 35.0, decay_s=1.8)]),
        strip(
            "dly",
            "DL 1/4",
            "return",
            "mix",
            -3.0,
            legs=2,
            sends=[send("plt", -18.0)],
            inserts=[
                wet("DELAY", "delay", time_ms=round(BEAT * 1000.0, 1), feedback_pct=24.0),
                eq(band("high-pass", 300.0), band("low-pass", 4500.0)),
            ],
        ),
        strip("room", "RV ROOM", "return", "mix", -4.0, legs=2, inserts=[wet("ROOM", "reverb", decay_s=0.5)]),
        strip(
            "hall",
            "RV HALL",
            "return",
            "mix",
            -3.0,
            legs=2,
            inserts=[wet("HALL", "reverb", 25.0, decay_s=2.3), eq(band("high-pass", 220.0))],
        ),
        strip(
            "mix",
            "MIX",
            "group",
            "master",
            0.0,
            legs=2,
            inserts=[eq(band("high-shelf", 12000.0, 0.7)), dyn("GLUE", -10.0, 1.6, 30.0, 200.0, 0.5)],
            automation=[ride("fader", [(0.0, 0.0), (206.7, 0.0), (208.2, -24.0), (209.6, -200.0)])],
        ),
        strip(
            "ref",
            "RUFF REF",
            "track",
            "master",
            -6.0,
            legs=2,
            mute=True,
            comment="rough mix, for comparing only",
            clips=[clip("ruff 3", "ruff", 1, 64, fades=(0.0, 0.0))],
        ),
        strip(
            "vdrm",
            "VCA DRM",
            "vca",
            None,
            0.0,
            legs=2,
            automation=[ride("fader", [(0.0, 0.0), (166.2, 0.0), (166.7, 0.5), (193.3, 0.5), (194.0, 0.0)])],
        ),
        strip("vbv", "VCA BVS", "vca", None, -0.5, legs=2),
        strip(
            "master",
            "MASTER",
            "master",
            None,
            0.0,
            legs=2,
            inserts=[dyn("LIMITER", -1.0, 100.0, 0.1, 80.0, kind="limiter")],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    stereo = {"clp", "tops", "ep", "pad", "str", "ruff"}
    files = [
        "k",
        "sn",
        "clp",
        "hh",
        "shk",
        "tops",
        "808",
        "bgt_di",
        "bgt_amp",
        "ep",
        "pad",
        "gtr_l",
        "gtr_r",
        "str",
        "lv",
        "lv_dbl",
        "adl",
        *(cid for cid, _, _, _ in STACK),
        "ruff",
    ]
    sections = [
        (1, "INTRO"),
        (5, "V1"),
        (13, "PRE1"),
        (17, "HK1"),
        (25, "V2"),
        (33, "PRE2"),
        (37, "HK2"),
        (45, "BRIDGE"),
        (51, "HK3"),
        (59, "OUTRO"),
        (64, "END"),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Slow Cinnamon MIX 07",
        "sample_rate_hz": 48000,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 72.0}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": bar(number), "name": name} for number, name in sections],
        "channels": [*drums(), *bass(), *music(), *voices(), *rest()],
        "media": [
            {
                "id": file,
                "path": f"Audio/SC_{file.upper()}.wav",
                "place": "beside",
                "present": True,
                "legs": 2 if file in stereo else 1,
                "sample_rate_hz": 48000,
                "duration_s": LONG,
            }
            for file in files
        ],
        "metadata": {"title": "Slow Cinnamon", "artist": "Ovelle Tarn", "version": "Mix 07"},
    }


def chan(session: Session, name: str) -> Dict:
    return next(one for one in session["channels"] if one["name"] == name)


def high_stack_one_side(session: Session) -> None:
    chan(session, "BV HI R")["pan"] = -88.0


def plate_not_wet(session: Session) -> None:
    chan(session, "RV PLT")["inserts"][0]["wet"] = 35.0


def low_voice_digit(session: Session) -> None:
    chan(session, "BV LO R")["fader_db"] = -2.0


def lead_stays_down(session: Session) -> None:
    fader = chan(session, "LV")["automation"][0]
    fader["t"], fader["v"] = fader["t"][:-3], fader["v"][:-3]


def clap_in_stack(session: Session) -> None:
    chan(session, "CLP")["output"] = "bvb"


def source_with_print(session: Session) -> None:
    chan(session, "808 SRC")["mute"] = False


def key_heard(session: Session) -> None:
    chan(session, "KEY K")["output"] = "mix"


def stack_never_back(session: Session) -> None:
    mute = chan(session, "BV BUS")["automation"][0]
    mute["t"].pop()
    mute["v"].pop()


def crush_bypassed(session: Session) -> None:
    chan(session, "DRM CRUSH")["inserts"][0]["on"] = False


def limiter_bypassed(session: Session) -> None:
    chan(session, "MASTER")["inserts"][0]["on"] = False


def amp_nudged(session: Session) -> None:
    second = chan(session, "BGT AMP")["clips"][1]
    second["start_s"] = round(second["start_s"] + 0.009, 4)
    second["end_s"] = round(second["end_s"] + 0.009, 4)


ACCEPTED: list[Dict] = [
    {"channels": ["808 SRC", "STR SRC"], "why": "the muted sources stay beside their prints on purpose"},
    {"channels": ["RUFF REF"], "why": "muted rough mix on the master, past the mix bus, so that it can be compared"},
    {
        "channels": ["DRM CRUSH", "VOX PAR"],
        "why": "parallel compression: the same drums and lead are meant to be heard twice",
    },
    {"channels": ["LV DBL", "BV OCT"], "why": "double and octave sit in the middle under the lead, a matter of taste"},
    {"channels": ["HH", "SHK"], "why": "hat a little right and shaker a little left, not an exact pair"},
    {"channels": ["BV BUS"], "why": "muted by automation in verse two and the bridge, against headphone bleed"},
    {
        "channels": ["LV"],
        "why": "the phone filter is off but for the first two bars of the bridge; lead low in the bridge",
    },
    {"channels": ["KEY K"], "why": "goes nowhere: it only keys the 808's and the pad's ducking"},
    {"channels": ["ADL"], "why": "ad libs change sides between hook two and hook three, where none sounds"},
    {
        "channels": ["RV PLT", "RV HALL", "DL 1/4", "RV ROOM"],
        "why": "returns go to the mix bus and not through the bus of what feeds them",
    },
]

FAULTS: list[Dict] = [
    {
        "id": "bv-hi-r-left",
        "class": "place",
        "channels": ["BV HI R", "BV HI L"],
        "grade": "hold",
        "says": "BV HI R lies at 88 left, on top of BV HI L; the top of the stack has nothing on the right.",
        "plant": high_stack_one_side,
    },
    {
        "id": "plate-dry",
        "class": "ambience",
        "channels": ["RV PLT", "LV BUS", "BV BUS"],
        "grade": "hold",
        "says": "The plate on RV PLT stands at 35 % wet: the return brings mostly dry voice back, and little plate.",
        "plant": plate_not_wet,
    },
    {
        "id": "bv-lo-r-ten-up",
        "class": "level",
        "channels": ["BV LO R", "BV LO L"],
        "grade": "hold",
        "says": "BV LO R is at -2 dB where its partner is at -12: it sticks out of the stack by 10 dB.",
        "plant": low_voice_digit,
    },
    {
        "id": "lead-ride-not-back",
        "class": "automation",
        "channels": ["LV"],
        "grade": "hold",
        "says": "The lead's fader goes down for the bridge and never comes back: the last hook is sung 4 dB too low.",
        "plant": lead_stays_down,
    },
    {
        "id": "clap-to-bv-bus",
        "class": "routing",
        "channels": ["CLP", "BV BUS"],
        "grade": "hold",
        "says": "CLP goes into BV BUS, not DRM BUS: it works the stack's compressor and gets its hall.",
        "plant": clap_in_stack,
    },
    {
        "id": "808-source-live",
        "class": "twice",
        "channels": ["808 SRC", "808 PRT"],
        "grade": "hold",
        "says": "808 SRC is unmuted beside its print: the 808 sounds twice, once without the ducking.",
        "plant": source_with_print,
    },
    {
        "id": "key-into-mix",
        "class": "audible",
        "channels": ["KEY K", "K"],
        "grade": "hold",
        "says": "The kick key KEY K has an output to MIX: a raw second kick at unity is heard past the drum bus.",
        "plant": key_heard,
    },
    {
        "id": "stack-muted-last-hook",
        "class": "inaudible",
        "channels": ["BV BUS", "BV LO L", "BV LO R", "BV MID L", "BV MID R", "BV HI L", "BV HI R", "BV OCT"],
        "grade": "hold",
        "says": "BV BUS is muted for the bridge and never unmuted: the whole stack is missing from the last hook.",
        "plant": stack_never_back,
    },
    {
        "id": "crush-bypassed",
        "class": "processors",
        "channels": ["DRM CRUSH"],
        "grade": "look",
        "says": "The compressor of the parallel bus DRM CRUSH is bypassed, so it only adds the same drums again,"
        " uncrushed.",
        "plant": crush_bypassed,
    },
    {
        "id": "limiter-off",
        "class": "headroom",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "The limiter on MASTER is bypassed: nothing holds the peaks of the full mix under full scale.",
        "plant": limiter_bypassed,
    },
    {
        "id": "bgt-amp-9-ms",
        "class": "phase",
        "channels": ["BGT AMP", "BGT DI"],
        "grade": "hold",
        "says": "In hook two the amp clip of the bass guitar lies 9 ms after its DI, everywhere else they start together.",
        "plant": amp_nudged,
    },
]
