"""Afrobeat tune of four and a half minutes for a twelve-piece with four horns, congas and call-and-response singing,
cut to a click at 104. The engineer writes short capital names, buses by section, crushes a second drum bus,
ducks the bass under the kick, and plays the vocal echo as single throws from an automated send; the echo feeds the
spring a little. Horns hang on a VCA, bass is DI and amp together, the organ is still a live instrument."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 48000.0
BPM = 104.0
EIGHTH_DOT_MS = 432.7
OFF = -200.0

SPANS_ALL: list[tuple[float, float]] = [(2, 116)]
SPANS_HORN: list[tuple[float, float]] = [(10, 18), (34, 42), (66, 74), (90, 115)]
SPANS_TENOR: list[tuple[float, float]] = [(10, 18), (34, 42), (66, 115)]
SPANS_RIFF: list[tuple[float, float]] = [(6, 58), (66, 115)]
SPANS_LEAD: list[tuple[float, float]] = [(18, 34), (42, 58), (90, 106)]
SPANS_BACK: list[tuple[float, float]] = [(46, 58), (90, 106)]


def bar(number: float) -> float:
    """Start of a bar in seconds, counted from 0; two bars of click come first."""
    return round(number * 4 * 60.0 / BPM, 4)


def band(kind: str, freq: float, gain: float = 0.0, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True, **more}


def low_cut(freq: float) -> dict[str, Any]:
    return band("high-pass", freq, slope_db_per_oct=12.0)


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(
    name: str,
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    gain: float = 0.0,
    kind: str = "compressor",
    key: str = "",
) -> dict[str, Any]:
    entry: dict[str, Any] = {
        "name": name,
        "kind": kind,
        "on": True,
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
        entry["parameters"] = [{"id": "key", "name": "key input", "value": key}]
    return entry


def util(invert: bool, delay_ms: float = 0.0) -> dict[str, Any]:
    return {
        "name": "phase tool",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "invert", "name": "polarity", "value": invert},
            {"id": "delay", "name": "delay", "value": delay_ms, "unit": "ms"},
        ],
    }


def send(to: str, level: float, tap: str = "post") -> dict[str, Any]:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": tap, "on": True}


def moves(target: str, scale: str, shape: str, points: list[tuple[float, float]]) -> dict[str, Any]:
    """Automation with its times given in bars."""
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [bar(p[0]) for p in points],
        "v": [p[1] for p in points],
    }


def throws(target: str, level: float, spans: list[tuple[float, float]]) -> dict[str, Any]:
    """Echo throws: the send opens on a word and shuts again."""
    points: list[tuple[float, float]] = [(0, OFF)]
    for begin, end in spans:
        points += [(begin, level), (end, OFF)]
    return moves(target, "dB", "hold", points)


def strip(ident: str, name: str, kind: str, output: str | None, **more: Any) -> dict[str, Any]:
    base: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": kind,
        "parent": None,
        "legs": 1,
        "fader_db": 0.0,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    base.update(more)
    return base


def track(
    ident: str, name: str, output: str, fader: float, pan: float, spans: list[tuple[float, float]], **more: Any
) -> dict[str, Any]:
    """An audio track; its file runs from the top of the click, so places in file and song agree."""
    clips = [
        {
            "start_s": bar(a),
            "end_s": bar(b),
            "name": f"{name}_{i + 1}",
            "plays": "audio",
            "file": f"f_{ident}",
            "offset_s": bar(a),
            "speed": 1.0,
            "fade_in_s": 0.01,
            "fade_out_s": 0.03,
            "gain_db": 0.0,
            "on": True,
        }
        for i, (a, b) in enumerate(spans)
    ]
    parent = None if output == "master" else output
    return strip(
        ident,
        name,
        "track",
        output,
        **{"parent": parent, "plays": ["audio"], "fader_db": fader, "pan": pan, "clips": clips, **more},
    )


def drums() -> list[dict[str, Any]]:
    return [
        track(
            "kik",
            "KIK",
            "g_dr",
            -4.0,
            0.0,
            SPANS_ALL,
            sends=[send("crush", -6.0)],
            inserts=[eq(low_cut(30.0), band("bell", 320.0, -4.0, q=1.4)), comp("COMP", -16.0, 4.0, 18.0, 90.0, 2.0)],
        ),
        track(
            "snt",
            "SN TOP",
            "g_dr",
            -5.0,
            3.0,
            SPANS_ALL,
            sends=[send("crush", -6.0), send("spring", -19.0), send("echo", OFF)],
            inserts=[util(False), eq(low_cut(85.0))],
            automation=[throws("send:2:level", -5.0, [(61.75, 62.0), (65.5, 66.0)])],
        ),
        track("snb", "SN BOT", "g_dr", -13.0, 3.0, SPANS_ALL, inserts=[util(True), eq(low_cut(160.0))]),
        track("hh", "HH", "g_dr", -13.5, 28.0, SPANS_ALL, inserts=[eq(low_cut(320.0))]),
        track(
            "tom",
            "TOM",
            "g_dr",
            -8.0,
            -22.0,
            SPANS_ALL,
            sends=[send("crush", -9.0)],
            inserts=[
                {
                    "name": "GATE",
                    "kind": "gate",
                    "on": True,
                    "opaque": False,
                    "dynamics": {
                        "threshold_db": -34.0,
                        "ratio": 4.0,
                        "attack_ms": 1.0,
                        "release_ms": 240.0,
                        "range_db": -16.0,
                    },
                }
            ],
        ),
        track(
            "ohl", "OH L", "g_dr", -9.0, -85.0, SPANS_ALL, sends=[send("crush", -14.0)], inserts=[eq(low_cut(110.0))]
        ),
        track("ohr", "OH R", "g_dr", -9.0, 85.0, SPANS_ALL, sends=[send("crush", -14.0)], inserts=[eq(low_cut(110.0))]),
    ]


def percussion() -> list[dict[str, Any]]:
    return [
        track(
            "cgl", "CNGA L", "g_pc", -7.0, -48.0, SPANS_ALL, sends=[send("spring", -21.0)], inserts=[eq(low_cut(70.0))]
        ),
        track(
            "cgr", "CNGA R", "g_pc", -7.0, 48.0, SPANS_ALL, sends=[send("spring", -21.0)], inserts=[eq(low_cut(70.0))]
        ),
        track("shk", "SHEKERE", "g_pc", -9.5, 40.0, [(6, 115)], inserts=[eq(low_cut(400.0))]),
        track("bell", "BELL", "g_pc", -15.0, -35.0, [(2, 115)], inserts=[eq(low_cut(300.0))]),
    ]


def rhythm() -> list[dict[str, Any]]:
    organ = [
        {"start_s": bar(a), "end_s": bar(b), "name": "organ", "plays": "notes", "file": None}
        for a, b in ((10, 58), (62, 114))
    ]
    return [
        track("bdi", "BASS DI", "g_bs", -7.0, 0.0, [(6, 115)], inserts=[util(False, 1.4)]),
        track(
            "bam", "BASS AMP", "g_bs", -6.0, 0.0, [(6, 115)], inserts=[util(False), eq(band("bell", 800.0, 1.5, q=0.9))]
        ),
        track(
            "gtn",
            "GTR TENOR",
            "master",
            -10.0,
            -58.0,
            SPANS_RIFF,
            sends=[send("spring", -20.0)],
            inserts=[eq(low_cut(130.0))],
        ),
        track(
            "grh",
            "GTR RHY",
            "master",
            -11.0,
            58.0,
            SPANS_RIFF,
            sends=[send("spring", -17.0)],
            inserts=[eq(low_cut(150.0))],
        ),
        strip(
            "org",
            "ORGAN",
            "track",
            "master",
            legs=2,
            plays=["notes"],
            fader_db=-12.0,
            clips=organ,
            inserts=[{"name": "ORGAN INST", "kind": "instrument", "on": True, "opaque": True}, eq(low_cut(120.0))],
            automation=[
                moves("fader", "dB", "linear", [(0, -12.0), (62, -12.0), (62.5, -9.5), (66, -9.5), (66.5, -12.0)])
            ],
        ),
    ]


def horns() -> list[dict[str, Any]]:
    def horn(ident: str, name: str, fader: float, pan: float, cut: float, **more: Any) -> dict[str, Any]:
        return track(
            ident,
            name,
            "g_hr",
            fader,
            pan,
            more.pop("spans", SPANS_HORN),
            **{"parent": "vca_hr", "inserts": [eq(low_cut(cut))], **more},
        )

    return [
        horn("tpt", "TPT", -9.0, -34.0, 150.0),
        horn("tbn", "TBN", -9.5, 34.0, 70.0),
        horn(
            "tnr",
            "TNR SAX",
            -8.5,
            14.0,
            90.0,
            spans=SPANS_TENOR,
            sends=[send("echo", -22.0)],
            automation=[
                moves("fader", "dB", "linear", [(0, -8.5), (73.9, -8.5), (74.1, -5.5), (89.75, -5.5), (90, -8.5)])
            ],
        ),
        horn("bari", "BARI", -10.0, -14.0, 50.0),
    ]


def voices() -> list[dict[str, Any]]:
    lead_throws = [(25.5, 26.0), (33.5, 34.25), (49.5, 50.0), (57.25, 58.25), (105.25, 106.25)]
    return [
        track(
            "lv",
            "LD VOX",
            "g_vx",
            -4.5,
            0.0,
            SPANS_LEAD,
            sends=[send("spring", -16.0), send("echo", OFF)],
            inserts=[
                eq(low_cut(105.0), band("bell", 280.0, -2.0, q=1.1)),
                comp("COMP", -20.0, 3.5, 6.0, 110.0, 3.0),
                {"name": "ESS", "kind": "de-esser", "on": True, "opaque": True},
            ],
            automation=[throws("send:1:level", -4.0, lead_throws)],
        ),
        track(
            "bv1", "BV 1", "g_vx", -11.0, -52.0, SPANS_BACK, sends=[send("spring", -13.0)], inserts=[eq(low_cut(140.0))]
        ),
        track(
            "bv2", "BV 2", "g_vx", -11.0, 52.0, SPANS_BACK, sends=[send("spring", -13.0)], inserts=[eq(low_cut(140.0))]
        ),
    ]


def buses() -> list[dict[str, Any]]:
    return [
        strip(
            "g_dr",
            "DRUMS",
            "group",
            "master",
            legs=2,
            fader_db=-1.0,
            inserts=[comp("BUS COMP", -14.0, 2.0, 30.0, 120.0, 1.0)],
        ),
        strip("g_pc", "PERC", "group", "master", legs=2, fader_db=-2.0),
        strip(
            "g_bs",
            "BASS",
            "group",
            "master",
            legs=2,
            fader_db=-1.5,
            inserts=[eq(low_cut(35.0), band("bell", 95.0, 1.5, q=0.8)), comp("DUCK", -26.0, 2.5, 4.0, 85.0, key="KIK")],
        ),
        strip(
            "g_hr",
            "HORNS",
            "group",
            "master",
            legs=2,
            fader_db=-1.0,
            sends=[send("spring", -18.0)],
            inserts=[comp("BUS COMP", -18.0, 2.0, 20.0, 150.0, 1.5)],
        ),
        strip("g_vx", "VOX", "group", "master", legs=2, inserts=[comp("BUS COMP", -17.0, 1.8, 15.0, 140.0, 1.0)]),
        strip(
            "vca_hr",
            "VCA HRN",
            "vca",
            None,
            automation=[moves("fader", "dB", "linear", [(0, 0.0), (89, 0.0), (90, 1.0), (106, 1.0), (107, 0.0)])],
        ),
        strip(
            "crush",
            "DR CRUSH",
            "return",
            "g_dr",
            legs=2,
            fader_db=-11.0,
            inserts=[comp("CRUSH", -32.0, 10.0, 3.0, 60.0, 6.0)],
        ),
        strip(
            "spring",
            "SPRING",
            "return",
            "master",
            legs=2,
            fader_db=-5.0,
            inserts=[
                {
                    "name": "SPRING TANK",
                    "kind": "reverb",
                    "on": True,
                    "opaque": False,
                    "wet": 100.0,
                    "pre_delay_ms": 12.0,
                },
                eq(low_cut(220.0), band("low-pass", 6500.0, slope_db_per_oct=12.0)),
            ],
        ),
        strip(
            "echo",
            "ECHO 8D",
            "return",
            "master",
            legs=2,
            fader_db=-6.0,
            sends=[send("spring", -14.0)],
            inserts=[
                {
                    "name": "TAPE ECHO",
                    "kind": "delay",
                    "on": True,
                    "opaque": False,
                    "wet": 100.0,
                    "parameters": [
                        {
                            "id": "time",
                            "name": "time",
                            "value": EIGHTH_DOT_MS,
                            "unit": "ms",
                            "low": 20.0,
                            "high": 1200.0,
                        },
                        {"id": "feedback", "name": "feedback", "value": 38.0, "unit": "%", "low": 0.0, "high": 110.0},
                    ],
                },
                eq(low_cut(250.0), band("low-pass", 4200.0, slope_db_per_oct=12.0)),
            ],
            automation=[moves("fader", "dB", "linear", [(0, -6.0), (58, -6.0), (60, -3.5), (66, -3.5), (67, -6.0)])],
        ),
        strip(
            "master",
            "MASTER",
            "master",
            None,
            legs=2,
            inserts=[
                comp("GLUE", -12.0, 1.6, 30.0, 160.0, 1.0),
                comp("LIMIT", -1.0, 100.0, 0.2, 80.0, kind="limiter"),
                {"name": "METER", "kind": "analyser", "on": True, "opaque": True},
            ],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    players = drums() + percussion() + rhythm() + horns() + voices()
    click = strip(
        "clk",
        "CLICK",
        "track",
        None,
        plays=["audio"],
        mute=True,
        clips=[
            {
                "start_s": 0.0,
                "end_s": bar(114),
                "name": "click104",
                "plays": "audio",
                "file": "f_clk",
                "offset_s": 0.0,
                "speed": 1.0,
                "fade_in_s": 0.0,
                "fade_out_s": 0.0,
                "gain_db": 0.0,
                "on": True,
            }
        ],
    )
    overdubs = {"shk", "bell", "tpt", "tbn", "tnr", "bari", "lv", "bv1", "bv2"}
    media = [
        {
            "id": f"f_{entry['id']}",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "path": f"audio/{'od' if entry['id'] in overdubs else 'tk4'}_{entry['name'].replace(' ', '_')}.wav",
            "duration_s": 281.5 if entry["id"] not in overdubs else 274.25,
        }
        for entry in [*players, click]
        if "audio" in entry["plays"]
    ]
    sections = [
        (2, "intro"),
        (10, "horn head"),
        (18, "vox 1"),
        (34, "horns 1"),
        (42, "vox 2"),
        (58, "breakdown"),
        (66, "horns 2"),
        (74, "tenor solo"),
        (90, "call+resp"),
        (106, "out"),
        (114, "last hit"),
        (118, "END"),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Market Road (long)",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": bar(place), "name": name} for place, name in sections],
        "channels": [*players, click, *buses()],
        "media": media,
        "metadata": {"mix": "4", "print": "48k stereo"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(entry for entry in session["channels"] if entry["name"] == name)
    return found


def horn_bus_leans(session: Session) -> None:
    chan(session, "HORNS")["pan"] = -45.0


def spring_bypassed(session: Session) -> None:
    chan(session, "SPRING")["inserts"][0]["on"] = False


def shekere_sign(session: Session) -> None:
    chan(session, "SHEKERE")["fader_db"] = 9.5


def throw_stays_open(session: Session) -> None:
    lane = chan(session, "LD VOX")["automation"][0]
    del lane["t"][2], lane["v"][2]


def trumpet_in_drums(session: Session) -> None:
    chan(session, "TPT")["output"] = "g_dr"


def backing_same_file(session: Session) -> None:
    chan(session, "BV 2")["clips"][1]["file"] = "f_bv1"


def bass_cut_slip(session: Session) -> None:
    chan(session, "BASS")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 350.0


def master_over_limiter(session: Session) -> None:
    chan(session, "MASTER")["fader_db"] = 3.5


def echo_time_digits(session: Session) -> None:
    chan(session, "ECHO 8D")["inserts"][0]["parameters"][0]["value"] = 342.7


def stray_conga(session: Session) -> None:
    chan(session, "CNGA R")["clips"].append(
        {
            "start_s": 402.0,
            "end_s": 431.5,
            "name": "CNGA R_old",
            "plays": "audio",
            "file": "f_cgr",
            "offset_s": 120.0,
            "speed": 1.0,
            "fade_in_s": 0.01,
            "fade_out_s": 0.03,
            "gain_db": 0.0,
            "on": True,
        }
    )


def trombone_missing(session: Session) -> None:
    next(entry for entry in session["media"] if entry["id"] == "f_tbn")["present"] = False


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["CLICK"], "why": "muted and going nowhere, as it should be"},
    {"channels": ["ORGAN"], "why": "still a live instrument and not printed; safe on this machine, could be printed"},
    {"channels": ["SN BOT", "SN TOP"], "why": "bottom microphone is turned in polarity against the top, as usual"},
    {"channels": ["BASS DI", "BASS AMP"], "why": "both heard on purpose; the DI is delayed to the amp"},
    {
        "channels": ["DR CRUSH", "KIK", "SN TOP", "TOM", "OH L", "OH R"],
        "why": "hard parallel compression beside the dry drums, low in the bus",
    },
    {"channels": ["ECHO 8D", "SPRING"], "why": "the echo feeds the spring; a habit, no loop"},
    {"channels": ["LD VOX", "SN TOP"], "why": "echo sends rest fully down between the throws"},
    {"channels": ["TNR SAX"], "why": "echo stays on the tenor, very low; up 3 dB for the solo, back after it"},
    {"channels": ["GTR TENOR", "GTR RHY", "ORGAN"], "why": "straight to the master, no bus; holes are the breakdown"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "horn-bus-leans",
        "class": "place",
        "channels": ["HORNS"],
        "grade": "look",
        "says": "The horn bus is panned 45 left, though the four horns are spread evenly about the middle.",
        "plant": horn_bus_leans,
    },
    {
        "id": "spring-bypassed",
        "class": "ambience",
        "channels": ["SPRING"],
        "grade": "hold",
        "says": "The spring on its return is bypassed: no reverb anywhere and everything sent to it comes back dry.",
        "plant": spring_bypassed,
    },
    {
        "id": "shekere-sign",
        "class": "level",
        "channels": ["SHEKERE"],
        "grade": "hold",
        "says": "The shekere stands at +9.5 dB, some 16 dB over the congas; the sign is surely wrong.",
        "plant": shekere_sign,
    },
    {
        "id": "throw-stays-open",
        "class": "automation",
        "channels": ["LD VOX", "ECHO 8D"],
        "grade": "hold",
        "says": "The first echo throw of the lead is never shut; the second half of verse one swims in echo.",
        "plant": throw_stays_open,
    },
    {
        "id": "trumpet-in-drums",
        "class": "routing",
        "channels": ["TPT", "DRUMS"],
        "grade": "hold",
        "says": "The trumpet goes to the drum bus while the other horns go to the horn bus.",
        "plant": trumpet_in_drums,
    },
    {
        "id": "backing-same-file",
        "class": "twice",
        "channels": ["BV 2", "BV 1"],
        "grade": "hold",
        "says": "In the call and response BV 2 plays the very recording of BV 1, so the wide pair falls to the middle.",
        "plant": backing_same_file,
    },
    {
        "id": "bass-cut-slip",
        "class": "processors",
        "channels": ["BASS"],
        "grade": "hold",
        "says": "The low cut on the bass bus is at 350 Hz, a digit too many: the bass has no bottom.",
        "plant": bass_cut_slip,
    },
    {
        "id": "master-over-limiter",
        "class": "headroom",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "The master fader lifts 3.5 dB after a limiter at -1 dBFS; the bounce will clip.",
        "plant": master_over_limiter,
    },
    {
        "id": "echo-time-digits",
        "class": "tempo",
        "channels": ["ECHO 8D"],
        "grade": "look",
        "says": "The echo called dotted eighth runs at 342.7 ms; at 104 it should be 432.7: throws fall off the beat.",
        "plant": echo_time_digits,
    },
    {
        "id": "stray-conga",
        "class": "end",
        "channels": ["CNGA R"],
        "grade": "look",
        "says": "A stray conga clip lies at 6:42, more than two minutes behind the end marker.",
        "plant": stray_conga,
    },
    {
        "id": "trombone-missing",
        "class": "files",
        "channels": ["TBN"],
        "grade": "hold",
        "says": "The trombone's audio file is not there; the trombone would be silent.",
        "plant": trombone_missing,
    },
]
