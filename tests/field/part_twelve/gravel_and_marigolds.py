"""Gravel and Marigolds: a slow-rolling country song at 96 bpm, cut live and sweetened afterwards.

Drums and bass were tracked together to a click; take 2 is the master up to the solo, take 4 from there on, with one
bass punch in verse two. Two different acoustic performances sit hard left and hard right, and each answers on the other
side: the left one through a mono plate on the right, the right one through a mono room on the left. Steel plays the
solo, fiddle the turnaround and the answers. One lead, a double in the choruses only, a high and a low harmony. Every
file starts at bar 1: a place in the file is the place in the song. Vocals are evened by clip gain, then ridden.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

BPM = 96.0
RATE = 48000.0
LAST_RING = 221.5

SECTIONS: list[tuple[str, float]] = [
    ("Count", 1),
    ("Intro", 3),
    ("V1", 7),
    ("V1b band in", 15),
    ("Ch 1", 23),
    ("Turn (fiddle)", 31),
    ("V2", 35),
    ("Ch 2", 51),
    ("Solo (steel)", 59),
    ("Ch 3", 67),
    ("Ch 4", 75),
    ("Tag", 83),
    ("Last chord", 87),
    ("End", 90),
]


def bar(number: float) -> float:
    """Seconds at which a bar begins."""
    return round((number - 1.0) * 240.0 / BPM, 4)


def clip(
    file: str, name: str, start: float, end: float, fade_in: float = 0.02, fade_out: float = 0.05, gain: float = 0.0
) -> Item:
    """A stretch of a file that starts at bar 1, in its own place."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start, 4),
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": gain,
        "on": True,
    }


def comp_of_takes(stem: str, rows: list[tuple[float, int]]) -> list[Item]:
    """Clips of several takes, joined by ten-millisecond crossfades; rows are (start, take)."""
    clips: list[Item] = []
    for index, (start, take) in enumerate(rows):
        first, last = index == 0, index == len(rows) - 1
        begins, fade_in = (start, 0.02) if first else (start - 0.005, 0.01)
        ends, fade_out = (LAST_RING, 2.0) if last else (rows[index + 1][0] + 0.005, 0.01)
        file = f"{stem}_T{take}"
        clips.append(clip(file, f"{file}-{index + 1:02d}", begins, ends, fade_in, fade_out))
    return clips


def phrases(
    file: str, rows: Sequence[tuple[str, float, float, float]], lead_in: float = 0.4, tail: float = 0.8
) -> list[Item]:
    """One clip for each section played; rows are (section, from bar, to bar, clip gain)."""
    clips: list[Item] = []
    for index, (section, first, last, gain) in enumerate(rows):
        joined = index > 0 and rows[index - 1][2] == first
        goes_on = index + 1 < len(rows) and rows[index + 1][1] == last
        start, fade_in = bar(first) - lead_in, 0.0 if joined else 0.02
        end, fade_out = (bar(last) - lead_in, 0.0) if goes_on else (bar(last) + tail, tail / 2)
        clips.append(clip(file, f"{file} {section}", start, end, fade_in, fade_out, gain))
    return clips


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.9) -> Item:
    """A bell or shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def low_cut(freq: float, slope: float = 12.0) -> Item:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


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


def gate(threshold: float, depth: float, release: float) -> Item:
    """A gate that leaves some of the bleed."""
    dynamics = {"threshold_db": threshold, "attack_ms": 0.8, "release_ms": release, "range_db": depth}
    return {"name": "Gate", "kind": "gate", "on": True, "opaque": False, "dynamics": dynamics}


def de_esser(freq: float, amount: float) -> Item:
    """A de-esser with the two settings that the export lists."""
    return {
        "name": "De-Esser",
        "kind": "de-esser",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "freq", "name": "Frequency", "value": freq, "unit": "Hz"},
            {"id": "range", "name": "Range", "value": amount, "unit": "dB"},
        ],
    }


def trim(invert: bool = False, delay_ms: float = 0.0) -> Item:
    """Polarity and a short delay for lining up microphones."""
    return {
        "name": "Phase/Align",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "invert", "name": "Invert polarity", "value": invert},
            {"id": "delay", "name": "Delay", "value": delay_ms, "unit": "ms"},
        ],
    }


def reverb(name: str, decay: float, pre_delay: float) -> Item:
    """A reverb as it stands in a return, wholly wet."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}],
    }


def slapback(time_ms: float, feedback: float) -> Item:
    """A single-repeat delay as it stands in a return, wholly wet."""
    return {
        "name": "Tape Slap",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "time", "name": "Time", "value": time_ms, "unit": "ms"},
            {"id": "feedback", "name": "Feedback", "value": feedback, "unit": "%"},
        ],
    }


def send(to: str, level: float) -> Item:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(target: str, points: str) -> Item:
    """A lane drawn straight through points, written as "bar level, bar level"."""
    pairs = [point.split() for point in points.split(",")]
    times, levels = [bar(float(b)) for b, _ in pairs], [float(v) for _, v in pairs]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": levels}


def strip(ident: str, name: str, fader: float, pan: float, output: str, kind: str = "track", **more: Any) -> Item:
    """A channel strip; whatever is not given is empty."""
    made: Item = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 1,
        "plays": ["audio"] if kind == "track" else [],
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
    if kind == "track" and output in ("drums", "acs", "vox"):
        made["parent"] = output
    made.update(more)
    return made


def drums() -> list[Item]:
    """The kit: take 2 to the solo, take 4 from there, cut alike on every microphone."""
    rows = [(bar(14.5), 2), (bar(59) - 0.06, 4)]

    def mic(stem: str, name: str, fader: float, pan: float, *inserts: Item, **more: Any) -> Item:
        clips = comp_of_takes(stem, rows)
        return strip(stem.lower(), name, fader, pan, "drums", inserts=list(inserts), clips=clips, **more)

    return [
        mic(
            "Kick",
            "Kick",
            -4.0,
            0.0,
            eq(low_cut(30), band("bell", 330, -4.5, 1.4), band("bell", 3200, 3.0)),
            comp(-17, 4, 22, 90, 2.0),
        ),
        mic(
            "SnrTop",
            "Snr Top",
            -5.5,
            0.0,
            eq(low_cut(80), band("bell", 200, 1.5), band("high-shelf", 6500, 2.0, 0.7)),
            comp(-15, 3.5, 12, 110, 1.5),
            sends=[send("voxplate", -21.0)],
        ),
        mic(
            "SnrBtm",
            "Snr Btm",
            -12.0,
            0.0,
            trim(invert=True),
            eq(low_cut(180, 18)),
            comment="polarity flipped against top",
        ),
        mic("Hat", "Hat", -15.0, 28.0, eq(low_cut(350, 18))),
        mic("RackTom", "Rack Tom", -8.0, 22.0, gate(-34.0, -22.0, 240), eq(low_cut(60), band("bell", 450, -4.0, 1.2))),
        mic("FloorTom", "Flr Tom", -8.5, -38.0, gate(-36.0, -22.0, 300), eq(low_cut(45), band("bell", 400, -4.0, 1.2))),
        mic("OHL", "OH L", -9.0, -100.0, eq(low_cut(110))),
        mic("OHR", "OH R", -9.0, 100.0, eq(low_cut(110))),
        mic("Room", "Room St", -14.0, 0.0, eq(low_cut(60)), comp(-26, 5, 5, 180, 3.0), legs=2),
    ]


def bass() -> list[Item]:
    """The bass with its punch in verse two, box and amplifier cut alike."""
    rows = [(bar(15) - 0.12, 2), (bar(43) - 0.06, 5), (bar(45) - 0.06, 2), (bar(59) - 0.06, 4)]
    return [
        strip(
            "bassdi",
            "Bass DI",
            -7.0,
            0.0,
            "mix",
            inserts=[trim(delay_ms=1.3), eq(low_cut(35), band("bell", 260, -2.0)), comp(-20, 4, 18, 140, 3.0)],
            clips=comp_of_takes("BassDI", rows),
            comment="delayed to sit with the amp mic",
        ),
        strip(
            "bassamp",
            "Bass Amp",
            -9.5,
            0.0,
            "mix",
            inserts=[eq(low_cut(50), band("bell", 800, 1.5), band("low-shelf", 90, -1.0, 0.7))],
            clips=comp_of_takes("BassAmp", rows),
        ),
    ]


def strings() -> list[Item]:
    """Acoustics, electric, steel and fiddle."""
    steel_bars = [
        ("Intro", 3, 7),
        ("Ch1", 23, 31),
        ("Ch2", 51, 59),
        ("Solo", 59, 67),
        ("Ch3-4", 67, 83),
        ("Tag", 83, 88),
    ]
    steel_rows = [(section, first, last, 0.0) for section, first, last in steel_bars]
    twang_rows = [("V2", 35, 51, 0.0), ("Ch2", 51, 59, -1.0), ("Ch3-4", 67, 83, -1.0), ("Tag", 83, 88, 0.0)]
    fiddle_rows = [("Turn", 31, 35, 0.0), ("V2b", 43, 51, 1.0), ("Ch3-4", 67, 83, 0.0), ("Tag", 83, 88, 0.5)]
    return [
        strip(
            "acl",
            "Ac Gtr L",
            -6.0,
            -100.0,
            "acs",
            inserts=[
                eq(low_cut(90), band("bell", 210, -2.5), band("high-shelf", 8000, 1.5, 0.7)),
                comp(-19, 2.5, 25, 160),
            ],
            sends=[send("acplate", -10.0)],
            clips=comp_of_takes("AcGtrL", [(bar(3) - 0.2, 1), (bar(35) - 0.06, 3), (bar(59) - 0.06, 1)]),
            comment="answers on the plate, right",
        ),
        strip(
            "acr",
            "Ac Gtr R",
            -6.5,
            100.0,
            "acs",
            inserts=[
                eq(low_cut(100), band("bell", 240, -2.0), band("high-shelf", 8000, 1.0, 0.7)),
                comp(-19, 2.5, 25, 160),
            ],
            sends=[send("acroom", -9.0)],
            clips=comp_of_takes("AcGtrR", [(bar(3) - 0.2, 2), (bar(35) - 0.06, 4), (bar(51) - 0.06, 2)]),
            comment="answers in the room, left",
        ),
        strip(
            "twang",
            "Twang Gtr",
            -11.5,
            -18.0,
            "mix",
            inserts=[eq(low_cut(120), band("bell", 2800, 1.5)), comp(-18, 3, 15, 120, 1.5)],
            sends=[send("slap", -20.0)],
            clips=phrases("Twang_comp", twang_rows, 0.15, 2.0),
        ),
        strip(
            "steel",
            "Steel",
            -10.5,
            36.0,
            "mix",
            inserts=[eq(low_cut(110), band("bell", 2200, -1.5)), comp(-22, 2.5, 30, 250, 1.0)],
            sends=[send("voxplate", -14.0)],
            clips=phrases("Steel_mic", steel_rows, 0.25, 2.4),
            automation=[
                ride(
                    "fader",
                    "1 -10.5, 7 -10.5, 23 -12.0, 51 -11.5, 58.75 -11.5, 59 -6.5, 66.75 -6.5, 67 -11.5, "
                    "83 -11.5, 83.5 -9.5",
                )
            ],
            comment="up for the solo only, under the vocal elsewhere",
        ),
        strip(
            "steeldi",
            "Steel DI spare",
            -12.0,
            36.0,
            "mix",
            mute=True,
            clips=phrases("Steel_DI", steel_rows, 0.25, 2.4),
            comment="not used, the mic won. keep for a reamp",
        ),
        strip(
            "fiddle",
            "Fiddle",
            -9.0,
            -36.0,
            "mix",
            inserts=[eq(low_cut(170, 18), band("bell", 3400, -2.5, 1.5)), comp(-20, 3, 20, 180, 1.0)],
            sends=[send("voxplate", -12.5)],
            clips=phrases("Fiddle_comp", fiddle_rows, 0.25, 2.4),
            automation=[
                ride(
                    "fader",
                    "1 -9.0, 30.9 -9.0, 31 -6.5, 34.75 -6.5, 35.25 -11.0, 66.75 -11.0, 67 -12.0, 83 -12.0, 83.5 -9.0",
                )
            ],
        ),
    ]


def vocals() -> list[Item]:
    """Lead, double and the two harmonies."""
    lead_rows = [
        ("V1", 7, 23, 0.0),
        ("Ch1", 23, 31, -1.5),
        ("V2", 35, 51, 0.5),
        ("Ch2", 51, 59, -1.5),
        ("Ch3", 67, 75, -2.0),
        ("Ch4", 75, 83, -2.0),
        ("Tag", 83, 88, 1.0),
    ]
    chorus_rows = [("Ch1", 23, 31, 0.0), ("Ch2", 51, 59, 0.0), ("Ch3", 67, 75, -0.5), ("Ch4", 75, 83, -0.5)]
    harmony_rows = [*chorus_rows, ("Tag", 83, 88, 0.0)]
    return [
        strip(
            "lead",
            "Lead Vox",
            -2.5,
            0.0,
            "vox",
            inserts=[
                eq(
                    low_cut(85, 18),
                    band("bell", 280, -2.5),
                    band("bell", 4200, 1.5),
                    band("high-shelf", 10500, 2.0, 0.7),
                ),
                comp(-18, 4, 3, 60, 2.0, "Fast Comp"),
                comp(-22, 2.5, 25, 220, 2.0, "Slow Comp"),
                de_esser(6800, -5.0),
            ],
            sends=[send("voxplate", -14.0), send("slap", -16.0)],
            clips=phrases("LeadVox_comp", lead_rows),
            automation=[
                ride(
                    "fader",
                    "1 -2.5, 9.5 -2.5, 10 -1.5, 12 -3.0, 15 -2.0, 18.5 -2.8, 20 -1.4, 23 -1.8, 27 -1.2, "
                    "30 -2.0, 35 -2.5, 38.5 -1.6, 41 -2.6, 44 -1.8, 47.5 -1.2, 51 -1.8, 55 -1.0, 67 -1.5, "
                    "71 -1.0, 75 -0.8, 82 -0.8, 83 -2.2, 86 -1.6",
                ),
                ride(
                    "send:0:level",
                    "1 -14.0, 22.8 -14.0, 23 -12.0, 31 -12.0, 34.8 -14.0, 50.8 -14.0, 51 -12.0, 82.8 -12.0, 83 -13.0",
                ),
            ],
        ),
        strip(
            "leaddbl",
            "Lead Dbl",
            -13.0,
            0.0,
            "vox",
            inserts=[eq(low_cut(140, 18), band("bell", 3500, -1.5)), comp(-24, 5, 4, 90, 2.0), de_esser(6800, -8.0)],
            sends=[send("voxplate", -12.0)],
            clips=phrases("LeadDbl_comp", chorus_rows),
            comment="choruses only, felt not heard",
        ),
        strip(
            "harmhi",
            "Harm Hi",
            -9.5,
            -30.0,
            "vox",
            inserts=[eq(low_cut(150, 18), band("bell", 3000, -1.0)), comp(-22, 4, 6, 100, 2.0), de_esser(7200, -6.0)],
            sends=[send("voxplate", -11.0)],
            clips=phrases("HarmHi_comp", harmony_rows),
        ),
        strip(
            "harmlo",
            "Harm Lo",
            -9.0,
            30.0,
            "vox",
            inserts=[eq(low_cut(120, 18), band("bell", 300, -2.0)), comp(-22, 4, 6, 100, 2.0), de_esser(6500, -6.0)],
            sends=[send("voxplate", -11.5)],
            clips=phrases("HarmLo_comp", harmony_rows),
        ),
    ]


def buses() -> list[Item]:
    """Groups, returns, the old rough mix and the mix bus."""
    acoustics = ride(
        "fader", "1 -1.0, 6.5 -1.0, 7 -2.0, 22.8 -2.0, 23 -2.8, 31 -2.0, 51 -2.8, 59 -2.2, 67 -2.8, 83 -1.5"
    )
    limiter = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "attack_ms": 1.0, "release_ms": 120.0, "input_gain_db": 2.0},
    }
    tone, glue = eq(band("high-shelf", 12000, 1.0, 0.7)), comp(-12, 2, 30, 150, 1.0, "Bus Comp")
    return [
        strip("drums", "Drums", -2.0, 0.0, "mix", "group", legs=2, inserts=[comp(-14, 2, 30, 120, 1.0, "Glue")]),
        strip("acs", "Acoustics", -1.0, 0.0, "mix", "group", legs=2, automation=[acoustics]),
        strip("vox", "Vocals", -1.0, 0.0, "mix", "group", legs=2, inserts=[comp(-16, 1.8, 20, 200, 0.5, "Vox Glue")]),
        strip(
            "acplate",
            "Ac Plate R",
            -5.0,
            100.0,
            "mix",
            "return",
            inserts=[eq(low_cut(220)), reverb("Plate", 1.6, 18.0)],
            comment="crossed: hears Ac Gtr L, sits right",
        ),
        strip(
            "acroom",
            "Ac Room L",
            -5.0,
            -100.0,
            "mix",
            "return",
            inserts=[eq(low_cut(220)), reverb("Room", 0.9, 8.0)],
            comment="crossed: hears Ac Gtr R, sits left",
        ),
        strip(
            "voxplate",
            "Vox Plate",
            -4.0,
            0.0,
            "mix",
            "return",
            legs=2,
            inserts=[eq(low_cut(250), band("high-shelf", 7500, -3.0, 0.7)), reverb("Plate", 2.1, 45.0)],
        ),
        strip("slap", "Vox Slap", -6.0, 0.0, "mix", "return", inserts=[slapback(118.0, 4.0), eq(low_cut(200))]),
        strip(
            "rough",
            "Rough Mix",
            -6.0,
            0.0,
            "mix",
            legs=2,
            mute=True,
            clips=[clip("Rough_1106", "Rough_1106", 0.0, 222.5, 0.0, 0.0)],
            comment="tracking-day rough, for reference only",
        ),
        {
            "id": "mix",
            "name": "Mix Bus",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [tone, glue, limiter],
        },
    ]


def media() -> list[Item]:
    """Every file, all of them from bar 1."""
    kit = ["Kick", "SnrTop", "SnrBtm", "Hat", "RackTom", "FloorTom", "OHL", "OHR", "Room"]
    rows = [(f"{stem}_T{take}", 226.8 if take == 2 else 225.9) for stem in kit for take in (2, 4)]
    lengths = {2: 226.8, 4: 225.9, 5: 131.4}
    rows += [(f"{stem}_T{take}", lengths[take]) for stem in ("BassDI", "BassAmp") for take in (2, 4, 5)]
    rows += [("AcGtrL_T1", 224.6), ("AcGtrL_T3", 224.1), ("AcGtrR_T2", 225.2), ("AcGtrR_T4", 224.7)]
    rows += [("Twang_comp", 224.0), ("Steel_mic", 223.4), ("Steel_DI", 223.4), ("Fiddle_comp", 224.0)]
    rows += [("LeadVox_comp", 222.9), ("LeadDbl_comp", 222.9), ("HarmHi_comp", 222.9), ("HarmLo_comp", 222.9)]
    rows += [("Rough_1106", 222.5)]
    return [
        {
            "id": ident,
            "path": f"Audio/{ident}.wav",
            "place": "beside",
            "present": True,
            "legs": 2 if ident.startswith(("Room", "Rough")) else 1,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for ident, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Gravel and Marigolds - mix 5",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": bar(number), "name": name} for name, number in SECTIONS],
        "channels": [*drums(), *bass(), *strings(), *vocals(), *buses()],
        "media": media(),
        "metadata": {"Delivery": "48k 24 bit stereo, rings out, no fade", "Key": "G"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def clip_of(session: Session, name: str, section: str) -> Item:
    """The clip of a channel whose name ends with a section."""
    found: Item = next(c for c in channel(session, name)["clips"] if c["name"].endswith(section))
    return found


def plate_uncrossed(session: Session) -> None:
    """The plate of the left guitar sits left, too."""
    channel(session, "Ac Plate R")["pan"] = -100.0


def steel_stays_up(session: Session) -> None:
    """The points that end the solo ride were erased."""
    lane = channel(session, "Steel")["automation"][0]
    keep = [i for i, t in enumerate(lane["t"]) if t < bar(66.9)]
    lane["t"] = [lane["t"][i] for i in keep]
    lane["v"] = [lane["v"][i] for i in keep]


def low_harmony_plus(session: Session) -> None:
    """A level typed without its minus sign."""
    channel(session, "Harm Lo")["fader_db"] = 9.0


def rough_sounds(session: Session) -> None:
    """The rough mix was compared and left on."""
    channel(session, "Rough Mix")["mute"] = False


def double_is_lead(session: Session) -> None:
    """The lead's clip was pasted over the double's in the second chorus."""
    clip_of(session, "Lead Dbl", "Ch2").update(clip_of(session, "Lead Vox", "Ch2"))


def plate_half_dry(session: Session) -> None:
    """The plate was reloaded with the mix setting of an insert."""
    channel(session, "Vox Plate")["inserts"][1]["wet"] = 30.0


def harmony_past_group(session: Session) -> None:
    """A harmony goes straight to the mix bus."""
    channel(session, "Harm Hi")["output"] = "mix"


def overhead_nudged(session: Session) -> None:
    """The later clip of one overhead was nudged by twelve milliseconds."""
    moved = channel(session, "OH R")["clips"][1]
    moved["start_s"] = round(moved["start_s"] + 0.012, 4)
    moved["end_s"] = round(moved["end_s"] + 0.012, 4)


def tom_gate_shut(session: Session) -> None:
    """The gate's threshold lost a digit's place."""
    channel(session, "Flr Tom")["inserts"][0]["dynamics"]["threshold_db"] = -3.6


def guitar_cut_short(session: Session) -> None:
    """The left guitar was trimmed at the last chord instead of after its ring."""
    last = channel(session, "Ac Gtr L")["clips"][-1]
    last["end_s"] = round(bar(87) + 0.9, 4)
    last["fade_out_s"] = 0.0


def fiddle_left_behind(session: Session) -> None:
    """The fiddle still lies on the overdub machine."""
    file = next(f for f in session["media"] if f["id"] == "Fiddle_comp")
    file.update({"path": "../../Overdub_Laptop/Fiddle/Fiddle_comp.wav", "place": "outside", "present": False})


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Ac Gtr L", "Ac Gtr R", "Ac Plate R", "Ac Room L"],
        "why": "Hard-panned guitars whose mono returns lie on the opposite side, each of another kind; meant so.",
    },
    {"channels": ["Steel DI spare", "Rough Mix"], "why": "Muted on purpose, as their comments say."},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "plate-uncrossed",
        "class": "place",
        "channels": ["Ac Plate R"],
        "grade": "look",
        "says": "Ac Plate R is panned hard left, onto its own guitar and Ac Room L; nothing answers on the right.",
        "plant": plate_uncrossed,
    },
    {
        "id": "steel-ride-left-up",
        "class": "automation",
        "channels": ["Steel"],
        "grade": "look",
        "says": "The solo ride of Steel never comes down: it stays 5 dB up under the vocal to the end of the song.",
        "plant": steel_stays_up,
    },
    {
        "id": "harmony-plus-nine",
        "class": "level",
        "channels": ["Harm Lo"],
        "grade": "hold",
        "says": "Harm Lo stands at +9 dB, 18 dB above Harm Hi and above the lead: a minus sign is missing.",
        "plant": low_harmony_plus,
    },
    {
        "id": "rough-mix-on",
        "class": "audible-that-should-not-be",
        "channels": ["Rough Mix"],
        "grade": "hold",
        "says": "The reference rough mix is not muted and plays along with the whole mix.",
        "plant": rough_sounds,
    },
    {
        "id": "double-plays-lead",
        "class": "twice",
        "channels": ["Lead Dbl"],
        "grade": "look",
        "says": "In chorus 2 Lead Dbl plays the lead's own file at the same place instead of the double.",
        "plant": double_is_lead,
    },
    {
        "id": "vox-plate-half-dry",
        "class": "ambience",
        "channels": ["Vox Plate"],
        "grade": "look",
        "says": "The plate in the Vox Plate return is only 30 per cent wet, so the return adds dry signal.",
        "plant": plate_half_dry,
    },
    {
        "id": "harm-hi-past-vocals",
        "class": "routing",
        "channels": ["Harm Hi"],
        "grade": "look",
        "says": "Harm Hi goes to the mix bus directly and misses the Vocals group that the other voices pass.",
        "plant": harmony_past_group,
    },
    {
        "id": "overhead-late",
        "class": "phase",
        "channels": ["OH R"],
        "grade": "look",
        "says": "From the solo on OH R lies 12 ms later than OH L and all the other drum microphones.",
        "plant": overhead_nudged,
    },
    {
        "id": "floor-tom-gate",
        "class": "processors",
        "channels": ["Flr Tom"],
        "grade": "look",
        "says": "The gate on Flr Tom opens only at -3.6 dB against -34 on the rack tom; the fills stay shut out.",
        "plant": tom_gate_shut,
    },
    {
        "id": "left-guitar-ends-early",
        "class": "end",
        "channels": ["Ac Gtr L"],
        "grade": "look",
        "says": "Ac Gtr L stops without a fade a second into the last chord while everything else rings on.",
        "plant": guitar_cut_short,
    },
    {
        "id": "fiddle-file-missing",
        "class": "files",
        "channels": ["Fiddle"],
        "grade": "hold",
        "says": "The fiddle's file lies outside the session and is missing, so the fiddle will be silent.",
        "plant": fiddle_left_behind,
    },
]
