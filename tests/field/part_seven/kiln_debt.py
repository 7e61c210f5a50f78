"""Kiln Debt: a heavy rock song, five players, one screaming and one singing voice, three and a half minutes.

Drums were comped from two takes with one edit before the breakdown, kick and snare triggers were printed from the comp.
Rhythm guitars are played twice, a dynamic and a ribbon on each cabinet, hard left and hard right; DIs are kept muted
for a later reamp. The engineer works with groups (DRUMS, BASS, GTRS, VOX), a crushed drum bus and a dirty vocal bus
beside them, rides GTRS section by section and throws the scream into the dotted delay by switching the send.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

Item = dict[str, Any]

FORM: list[tuple[str, str, int, float]] = [
    ("Count", "Ct", 1, 168.0),
    ("Intro", "In", 8, 168.0),
    ("Verse 1", "V1", 16, 168.0),
    ("Pre 1", "P1", 8, 168.0),
    ("Chorus 1", "C1", 16, 168.0),
    ("Verse 2", "V2", 16, 168.0),
    ("Pre 2", "P2", 8, 168.0),
    ("Chorus 2", "C2", 16, 168.0),
    ("Breakdown", "BD", 12, 126.0),
    ("Solo", "So", 8, 126.0),
    ("Chorus 3", "C3", 16, 168.0),
    ("Outro", "Out", 8, 168.0),
]
FILE_LEN = 210.0
HANDLE = 1.5
RATE = 48000.0


def lay_out() -> tuple[dict[str, float], dict[str, float], float]:
    """Start and bar length of every section in seconds, and the time of the last downbeat."""
    starts: dict[str, float] = {}
    bars: dict[str, float] = {}
    now = 0.0
    for _, short, count, bpm in FORM:
        starts[short] = round(now, 6)
        bars[short] = 240.0 / bpm
        now += count * 240.0 / bpm
    return starts, bars, round(now, 6)


AT, BAR, LAST = lay_out()
ORDER = [short for _, short, _, _ in FORM]
COUNT = {short: count for _, short, count, _ in FORM}


def after(short: str) -> float:
    """Where a section ends."""
    place = ORDER.index(short) + 1
    return AT[ORDER[place]] if place < len(ORDER) else LAST


def clip(
    start: float,
    end: float,
    name: str,
    file: str,
    offset: float | None = None,
    fades: tuple[float, float] = (0.01, 0.02),
    **more: Any,
) -> Item:
    """An audio clip; without an offset the file runs from zero of the song."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start if offset is None else offset, 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": more.get("gain", 0.0),
        "on": more.get("on", True),
    }


def strip(name: str, kind: str, out: str | None, fader: float, pan: float = 0.0, **more: Any) -> Item:
    """A channel strip."""
    made: Item = {
        "id": more.pop("id", name.lower().replace(" ", "_")),
        "name": name,
        "kind": kind,
        "legs": 1 if kind == "track" else 2,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    if kind == "track":
        made["plays"] = ["audio"]
    if kind != "master":
        made["output"] = out
        made["parent"] = out if out != "mix" else None
    made.update(more)
    return made


def send(to: str, level: float, on: bool = True) -> Item:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def cut(kind: str, freq: float, slope: float = 12.0) -> Item:
    """A high-pass ("hp") or low-pass ("lp") band."""
    return {"kind": {"hp": "high-pass", "lp": "low-pass"}[kind], "freq_hz": freq, "slope_db_per_oct": slope}


def bell(freq: float, gain: float, q: float = 1.2) -> Item:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q}


def shelf(kind: str, freq: float, gain: float) -> Item:
    """A "high" or "low" shelf."""
    return {"kind": f"{kind}-shelf", "freq_hz": freq, "gain_db": gain, "q": 0.7}


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0, name: str = "Comp") -> Item:
    """A compressor."""
    dynamics = {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release}
    return {
        "name": name,
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {**dynamics, "output_gain_db": gain, "auto_makeup": False},
    }


def gate(threshold: float, reach: float, release: float = 120.0) -> Item:
    """A gate."""
    dynamics = {"threshold_db": threshold, "range_db": reach, "attack_ms": 0.3, "release_ms": release}
    return {"name": "Gate", "kind": "gate", "on": True, "opaque": False, "dynamics": dynamics}


def box(name: str, kind: str, wet: float | None = None, pre: float | None = None, **values: Any) -> Item:
    """A processor with listed parameters."""
    made: Item = {"name": name, "kind": kind, "on": True, "opaque": not values}
    if wet is not None:
        made["wet"] = wet
    if pre is not None:
        made["pre_delay_ms"] = pre
    made["parameters"] = [{"id": key, "name": key.replace("_", " "), "value": value} for key, value in values.items()]
    return made


def ride(target: str, steps: Sequence[tuple[float, float]], glide: float = 0.25) -> Item:
    """A level lane: every value is held, the next one is reached at its time after a short glide."""
    times, values = [steps[0][0]], [steps[0][1]]
    for when, value in steps[1:]:
        times += [round(when - glide, 6), round(when, 6)]
        values += [values[-1], value]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": values}


def switch(target: str, spans: Sequence[tuple[float, float]]) -> Item:
    """A switch lane, off at the start and on in the spans."""
    times, values = [0.0], [0.0]
    for start, end in spans:
        times += [round(start, 6), round(end, 6)]
        values += [1.0, 0.0]
    return {"target": target, "scale": "switch", "shape": "hold", "t": times, "v": values}


def drum(base: str) -> list[Item]:
    """A drum mic: take 5 up to the breakdown, take 7 from there, crossfaded at the same place everywhere."""
    seam = AT["BD"]
    return [
        clip(AT["In"] - 0.2, seam + 0.005, f"{base} t5", f"{base}_t5", fades=(0.05, 0.01)),
        clip(seam - 0.005, LAST + 6.0, f"{base} t7", f"{base}_t7", fades=(0.01, 2.0)),
    ]


def printed(base: str) -> list[Item]:
    """A printed trigger track in one piece."""
    return [clip(AT["In"] - 0.01, LAST + 1.5, f"{base} print2", base, fades=(0.002, 0.3))]


def bass(base: str) -> list[Item]:
    """Bass: take 2 up to the breakdown, take 4 afterwards."""
    seam = AT["BD"]
    return [
        clip(AT["In"] - 0.02, seam + 0.005, f"{base} t2", f"{base}_t2", fades=(0.01, 0.01)),
        clip(seam - 0.005, LAST + 5.0, f"{base} t4", f"{base}_t4", fades=(0.01, 2.5)),
    ]


def rhythm(base: str) -> list[Item]:
    """A rhythm guitar, one clip a section with small crossfades; two bars out at the head of the breakdown."""
    made = []
    for short in ORDER[1:]:
        start = AT[short] + (2 * BAR["BD"] if short == "BD" else 0.0) - 0.01
        end = LAST + 5.0 if short == "Out" else after(short) + 0.01
        made.append(clip(start, end, f"{base} {short}", base, fades=(0.02, 2.5 if short == "Out" else 0.02)))
    return made


def blocks(base: str, shorts: Sequence[str], tail: float = 0.6) -> list[Item]:
    """One clip for each of some sections, from a file that runs from zero."""
    return [clip(AT[s] - 0.05, after(s) + tail, f"{base} {s}", base, fades=(0.02, 0.4)) for s in shorts]


def phrases(base: str, short: str, which: Sequence[int] = (0, 1, 2, 3), gains: Sequence[float] = (0.0,)) -> list[Item]:
    """Four-bar phrases of a section's vocal comp; its file starts a handle before the section."""
    made = []
    for count, place in enumerate(which):
        start = AT[short] + place * 4 * BAR[short] - 0.12
        end = start + 4 * BAR[short] - 0.35
        offset = HANDLE + start - AT[short]
        name = f"{base} {short} {place + 1}"
        gain = gains[count % len(gains)]
        made.append(clip(start, end, name, f"{base}_{short}", offset, fades=(0.03, 0.08), gain=gain))
    return made


def sung(base: str, shorts: Sequence[str], gains: Sequence[float] = (0.0,)) -> list[Item]:
    """All phrases of some sections."""
    return [c for s in shorts for c in phrases(base, s, range(COUNT[s] // 4), gains)]


def drums() -> list[Item]:
    """The kit, its triggers, its group and its crushed bus."""
    crush, plate = "drm_crush", "snr_plate"
    kick = [gate(-34.0, -20.0), eq(bell(320.0, -5.0), bell(4200.0, 4.0), shelf("low", 70.0, 2.0)), comp(-16, 4, 12, 80)]
    snare = [gate(-30.0, -12.0, 160.0), eq(cut("hp", 90.0), bell(210.0, 2.0), bell(5000.0, 3.0)), comp(-18, 4, 15, 120)]
    under = [box("Trim", "utility", polarity_inverted=True, gain_db=0.0), eq(cut("hp", 200.0)), gate(-36.0, -15.0)]
    rack = [gate(-30.0, -24.0, 260.0), eq(bell(400.0, -4.0), bell(3800.0, 3.0), shelf("low", 110.0, 2.0))]
    floor = [gate(-32.0, -24.0, 320.0), eq(bell(380.0, -4.0), bell(3500.0, 3.0), shelf("low", 85.0, 2.5))]
    tops = [eq(cut("hp", 240.0), bell(3100.0, -2.0), shelf("high", 10000.0, 1.5))]
    plate_ride = ride("send:1:level", [(0.0, -15.0), (AT["BD"], -9.0), (AT["C3"], -15.0)], 0.05)
    snr_sends = [send(crush, -5.0), send(plate, -15.0)]
    return [
        strip("Kick In", "track", "drums", -8.0, sends=[send(crush, -10.0)], inserts=kick, clips=drum("kick_in")),
        strip(
            "Kick Out",
            "track",
            "drums",
            -10.5,
            inserts=[eq(bell(300.0, -4.0), cut("lp", 5000.0))],
            clips=drum("kick_out"),
        ),
        strip(
            "Kick Smp",
            "track",
            "drums",
            -12.0,
            inserts=[eq(cut("hp", 35.0))],
            clips=printed("kick_smp"),
            comment="trigger print of the comp, just under the mics",
        ),
        strip(
            "Snr Top",
            "track",
            "drums",
            -7.5,
            sends=snr_sends,
            inserts=snare,
            clips=drum("snr_top"),
            automation=[plate_ride],
        ),
        strip("Snr Btm", "track", "drums", -14.0, inserts=under, clips=drum("snr_btm")),
        strip(
            "Snr Smp",
            "track",
            "drums",
            -11.5,
            sends=[send(crush, -9.0), send(plate, -13.0)],
            inserts=[eq(cut("hp", 80.0))],
            clips=printed("snr_smp"),
            comment="trigger print of the comp",
        ),
        strip("Hat", "track", "drums", -18.0, -45.0, inserts=[eq(cut("hp", 350.0, 18.0))], clips=drum("hat")),
        strip("Ride", "track", "drums", -17.0, 50.0, inserts=[eq(cut("hp", 300.0, 18.0))], clips=drum("ride")),
        strip("Rack", "track", "drums", -9.0, -25.0, sends=[send(crush, -6.0)], inserts=rack, clips=drum("rack")),
        strip("Floor", "track", "drums", -8.5, 35.0, sends=[send(crush, -6.0)], inserts=floor, clips=drum("floor")),
        strip("OH L", "track", "drums", -10.0, -100.0, inserts=tops, clips=drum("oh_l")),
        strip("OH R", "track", "drums", -10.0, 100.0, inserts=[dict(i) for i in tops], clips=drum("oh_r")),
        strip(
            "Room",
            "track",
            "drums",
            -13.0,
            legs=2,
            sends=[send(crush, -12.0)],
            inserts=[eq(cut("hp", 60.0)), comp(-24, 6, 5, 90, 4.0)],
            clips=drum("room"),
            automation=[ride("fader", [(0.0, -13.0), (AT["BD"], -10.5), (AT["C3"], -13.0)])],
        ),
        strip(
            "DRUMS",
            "group",
            "mix",
            -3.0,
            inserts=[
                comp(-12, 2, 30, 120, 1.0),
                eq(bell(450.0, -1.5), shelf("high", 9000.0, 1.0)),
                box("Sat", "distortion"),
            ],
        ),
        strip(
            "DRM CRUSH",
            "return",
            "drums",
            -9.0,
            inserts=[comp(-32, 10, 1, 60, 8.0, "Smash"), eq(shelf("low", 90.0, 2.0), shelf("high", 8000.0, -2.0))],
        ),
    ]


def low_end() -> list[Item]:
    """Bass: DI for the bottom, amp for the growl."""
    line = [box("Align", "utility", delay_ms=1.9), eq(cut("hp", 35.0), cut("lp", 900.0)), comp(-22, 6, 8, 100, 3.0)]
    growl = [eq(cut("hp", 110.0), bell(800.0, 2.5), cut("lp", 6500.0)), comp(-18, 3, 20, 120)]
    note = "DI is pushed 1.9 ms back to the amp mic"
    return [
        strip("Bass DI", "track", "bass", -9.0, inserts=line, clips=bass("bs_di"), comment=note),
        strip("Bass Amp", "track", "bass", -8.0, inserts=growl, clips=bass("bs_amp"), comment="8x10, one dyn"),
        strip("BASS", "group", "mix", -4.5, inserts=[comp(-14, 3, 25, 150, 1.5), eq(bell(180.0, -2.0))]),
    ]


def guitars() -> list[Item]:
    """Both rhythm guitars with two mics each, octaves, lead and the group."""
    dyn = [eq(cut("hp", 85.0, 18.0), bell(2400.0, -2.0, 3.0), cut("lp", 11000.0))]
    rib = [eq(cut("hp", 80.0, 18.0), bell(300.0, -2.5), shelf("high", 6000.0, 2.0))]
    octave = [eq(cut("hp", 180.0), bell(1800.0, 1.5), cut("lp", 9000.0))]
    lead = [eq(cut("hp", 150.0), bell(1400.0, 2.0)), comp(-20, 3, 15, 140, 2.0)]
    wide = [
        ("C1", -2.2),
        ("V2", -4.0),
        ("P2", -3.5),
        ("C2", -2.2),
        ("BD", -6.0),
        ("So", -5.0),
        ("C3", -2.0),
        ("Out", -2.4),
    ]
    steps = [(0.0, -3.2), (AT["V1"], -4.0), (AT["P1"], -3.5), *((AT[s], v) for s, v in wide)]
    spare = {"mute": True, "comment": "reamp source, leave muted"}
    made = []
    for side, pan in (("L", -100.0), ("R", 100.0)):
        note = "rib lined up to dyn by hand, move both or none"
        ribs = [dict(i) for i in rib]
        made += [
            strip(
                f"Gtr {side} Dyn",
                "track",
                "gtrs",
                -9.0,
                pan,
                inserts=[dict(i) for i in dyn],
                clips=rhythm(f"gtr{side}_dyn"),
            ),
            strip(
                f"Gtr {side} Rib",
                "track",
                "gtrs",
                -11.0,
                pan,
                inserts=ribs,
                clips=rhythm(f"gtr{side}_rib"),
                comment=note,
            ),
        ]
    for side, pan in (("L", -100.0), ("R", 100.0)):
        made.append(strip(f"Gtr {side} DI", "track", "gtrs", -12.0, pan, clips=rhythm(f"gtr{side}_di"), **spare))
    for side, pan in (("L", -80.0), ("R", 80.0)):
        takes = blocks(f"oct{side}", ["C1", "C2", "C3"])
        made.append(strip(f"Oct {side}", "track", "gtrs", -14.0, pan, inserts=[dict(i) for i in octave], clips=takes))
    echo = [send("dly_8d", -15.0)]
    parts = ["So", "Out"]
    made += [
        strip("Lead Dyn", "track", "gtrs", -7.0, 8.0, sends=echo, inserts=lead, clips=blocks("lead_dyn", parts, 2.0)),
        strip(
            "Lead Rib",
            "track",
            "gtrs",
            -9.5,
            8.0,
            sends=[dict(s) for s in echo],
            inserts=[eq(cut("hp", 150.0), cut("lp", 9000.0)), comp(-20, 3, 15, 140, 2.0)],
            clips=blocks("lead_rib", parts, 2.0),
        ),
        strip(
            "GTRS",
            "group",
            "mix",
            -3.2,
            inserts=[eq(bell(3200.0, -1.5, 2.0), bell(240.0, -1.5)), comp(-16, 1.5, 30, 180)],
            automation=[ride("fader", steps, 0.3)],
        ),
    ]
    return made


def voices() -> list[Item]:
    """Screams, clean voices, gang, their group and the dirty bus beside it."""
    talk = clip(5.2, 9.4, "scrm tk3 talk", "scrm_tk3", 2.1, (0.01, 0.02), on=False)
    double = [c for s in ("V1", "V2") for c in phrases("scrm_dbl", s, (1, 3))] + sung("scrm_dbl", ["BD"])
    throws = [(after("V1") - 3.4, after("V1") - 0.1), (after("V2") - 3.4, after("V2") - 0.1)]
    throws.append((after("BD") - 4.2, after("BD") - 0.2))
    growl = [eq(cut("hp", 130.0, 18.0), bell(450.0, -3.0), bell(2800.0, 2.0)), comp(-24, 6, 3, 60, 4.0)]
    growl.append(box("Lim", "limiter", ceiling_db=-4.0))
    clean = [eq(cut("hp", 110.0), bell(300.0, -2.0), shelf("high", 9000.0, 2.0)), comp(-22, 4, 8, 90, 3.0)]
    clean.append(box("De-ess", "de-esser", freq_hz=7200, threshold_db=-30.0))
    back = [eq(cut("hp", 160.0), bell(350.0, -3.0)), comp(-24, 5, 6, 80, 3.0)]
    back.append(box("De-ess", "de-esser", freq_hz=6800, threshold_db=-32.0))
    choruses = ["C1", "C2", "C3"]
    made = [
        strip(
            "Scream",
            "track",
            "vox",
            -6.0,
            sends=[
                send("vox_par", -9.0),
                send("vox_slap", -16.0),
                send("dly_8d", -8.0, on=False),
                send("vox_plate", -22.0),
            ],
            inserts=growl,
            clips=[talk, *sung("scrm", ["V1", "V2", "BD", "Out"], (0.0, 0.8, -0.5, 1.2))],
            automation=[switch("send:2:on", throws)],
        ),
        strip(
            "Scream Dbl",
            "track",
            "vox",
            -13.0,
            sends=[send("vox_par", -12.0), send("vox_slap", -16.0)],
            inserts=[eq(cut("hp", 200.0, 18.0)), comp(-26, 8, 2, 60, 4.0)],
            clips=double,
            comment="line ends only, all through the breakdown",
        ),
        strip(
            "Clean Ld",
            "track",
            "vox",
            -5.5,
            sends=[send("vox_par", -15.0), send("vox_plate", -16.0), send("dly_8d", -19.0)],
            inserts=clean,
            clips=sung("cln", ["P1", "C1", "P2", "C2", "C3"], (0.0, -0.6, 0.9, 0.0)),
            automation=[ride("fader", [(0.0, -5.5), (AT["C1"], -4.6), (AT["P2"], -5.5), (AT["C2"], -4.6)], 0.1)],
        ),
    ]
    for side, pan in (("L", -70.0), ("R", 70.0)):
        takes = sung(f"cln_dbl{side}", choruses, (0.0, 0.5, 0.0, -0.5))
        bits = [dict(i) for i in back]
        wet = [send("vox_plate", -14.0)]
        made.append(strip(f"Clean Dbl {side}", "track", "vox", -14.0, pan, sends=wet, inserts=bits, clips=takes))
    dirty = [box("Dirt", "distortion", 100.0, drive=42), comp(-28, 8, 1, 50, 5.0)]
    dirty.append(eq(cut("hp", 250.0), cut("lp", 7000.0)))
    high = [*phrases("harm", "C1", (1, 3)), *sung("harm", ["C2", "C3"])]
    bits = [dict(i) for i in back]
    shouts = [*phrases("gang", "P1", (1,)), *phrases("gang", "P2", (1,)), *sung("gang", ["Out"])]
    made += [
        strip("Harm Hi", "track", "vox", -13.0, -15.0, sends=[send("vox_plate", -13.0)], inserts=bits, clips=high),
        strip(
            "Gang",
            "track",
            "vox",
            -11.0,
            legs=2,
            sends=[send("vox_plate", -14.0)],
            inserts=[eq(cut("hp", 180.0)), comp(-20, 4, 10, 100)],
            clips=shouts,
        ),
        strip("VOX", "group", "mix", -2.5, inserts=[comp(-14, 2, 15, 100, 1.0), eq(bell(2600.0, 1.0))]),
        strip(
            "VOX PAR",
            "return",
            "vox",
            -12.0,
            inserts=dirty,
        ),
    ]
    return made


def rest() -> list[Item]:
    """The drop, the returns, the click and the mix bus."""
    hit = [
        clip(AT["BD"] - 0.02, AT["BD"] + 3.6, "sub drop", "fx_drop", 0.0, (0.002, 1.2)),
        clip(AT["C3"] - 3.2, AT["C3"] + 0.01, "rev swell", "fx_swell", 0.8, (1.5, 0.01), gain=-2.0),
    ]
    small = box("Plate", "reverb", 100.0, 12.0, decay_s=1.1, low_cut_hz=250)
    large = box("Plate", "reverb", 100.0, 38.0, decay_s=1.9, low_cut_hz=300)
    slap = box("Slap", "delay", 100.0, time_ms=96, feedback_pct=0)
    dotted = box("Dly", "delay", 100.0, note="1/8 dotted", feedback_pct=28, high_cut_hz=4500)
    bus = [eq(cut("hp", 25.0), shelf("high", 11000.0, 0.8)), comp(-10, 2, 30, 100, 1.0, "Glue")]
    bus += [box("Lim", "limiter", ceiling_db=-1.0, gain_db=2.5), box("Meter", "analyser")]
    count = [clip(0.0, LAST, "click", "click", fades=(0.0, 0.0))]
    return [
        strip("Drop", "track", "mix", -10.0, legs=2, inserts=[eq(cut("hp", 28.0))], clips=hit),
        strip("Snr Plate", "return", "drums", -6.0, inserts=[small, eq(cut("lp", 7500.0))]),
        strip("Vox Plate", "return", "mix", -5.0, inserts=[eq(cut("hp", 280.0)), large]),
        strip("Vox Slap", "return", "mix", -8.0, inserts=[slap, eq(cut("hp", 300.0), cut("lp", 5000.0))]),
        strip("Dly 8D", "return", "mix", -7.0, sends=[send("vox_plate", -18.0)], inserts=[dotted]),
        strip("Click", "track", "mix", -20.0, mute=True, clips=count, comment="cue only"),
        strip("MIX", "master", None, 0.0, inserts=bus),
    ]


def stereo(name: str) -> int:
    """The legs of a file."""
    return 2 if name.startswith(("room", "gang", "fx_")) else 1


def pool(channels: list[Item]) -> list[Item]:
    """Every file that a clip plays: whole-song files, vocal comps with handles, and two effects."""
    spans = {"scrm_tk3": 34.0, "fx_drop": 4.8, "fx_swell": 4.4}
    found: dict[str, Item] = {}
    for name in (c["file"] for strip_ in channels for c in strip_["clips"]):
        tail = name.rpartition("_")[2]
        comped = name.startswith(("scrm", "cln", "harm", "gang")) and tail in AT
        length = after(tail) - AT[tail] + 2 * HANDLE if comped else FILE_LEN
        found[name] = {
            "id": name,
            "path": f"Audio/KD_{name}.wav",
            "place": "beside",
            "present": True,
            "legs": stereo(name),
            "sample_rate_hz": RATE,
            "duration_s": round(spans.get(name, length), 4),
        }
    return list(found.values())


def good() -> Item:
    """The session as it should be bounced."""
    channels = [*drums(), *low_end(), *guitars(), *voices(), *rest()]
    beats = [4.0 * sum(COUNT[s] for s in ORDER[: ORDER.index(mark)]) for mark in ("Ct", "BD", "C3")]
    return {
        "format": "mixlint-session/1",
        "title": "Kiln Debt mix 4",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": b, "bpm": t} for b, t in zip(beats, (168.0, 126.0, 168.0), strict=True)],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [*({"time_s": AT[s], "name": n} for n, s, _, _ in FORM), {"time_s": LAST + 6.0, "name": "END"}],
        "channels": channels,
        "media": pool(channels),
        "metadata": {"client": "demo for the label meeting", "version": "mix 4, after drummer's notes"},
    }


def channel(session: Item, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def rib_slipped(session: Item) -> None:
    """The ribbon's second chorus is nudged without its partner."""
    for one in channel(session, "Gtr R Rib")["clips"]:
        if one["name"].endswith(" C2"):
            one["start_s"] = round(one["start_s"] + 0.011, 6)
            one["end_s"] = round(one["end_s"] + 0.011, 6)


def same_take(session: Item) -> None:
    """The right guitar's last chorus is a paste of the left one."""
    for mic in ("Dyn", "Rib"):
        source = next(c for c in channel(session, f"Gtr L {mic}")["clips"] if c["name"].endswith(" C3"))
        clips = channel(session, f"Gtr R {mic}")["clips"]
        clips[:] = [dict(source) if c["name"].endswith(" C3") else c for c in clips]


def talk_on(session: Item) -> None:
    """The muted chatter before the first scream is on."""
    for one in channel(session, "Scream")["clips"]:
        if "talk" in one["name"]:
            one["on"] = True


def double_past_group(session: Item) -> None:
    """The right double goes past the vocal group."""
    channel(session, "Clean Dbl R").update(output="mix")


def ride_not_back(session: Item) -> None:
    """The guitar ride stops in the solo."""
    lane = channel(session, "GTRS")["automation"][0]
    keep = [n for n, t in enumerate(lane["t"]) if t <= AT["So"]]
    lane["t"], lane["v"] = [lane["t"][n] for n in keep], [lane["v"][n] for n in keep]


def floor_gate_shut(session: Item) -> None:
    """A decimal point slips in the floor tom's gate."""
    channel(session, "Floor")["inserts"][0]["dynamics"]["threshold_db"] = -3.2


def lead_clips_off(session: Item) -> None:
    """The lead's second chorus stays muted after an audition of the doubles."""
    for one in channel(session, "Clean Ld")["clips"]:
        if " C2 " in one["name"]:
            one["on"] = False


def print_at_other_rate(session: Item) -> None:
    """The snare trigger was printed at another sample rate."""
    next(m for m in session["media"] if m["id"] == "snr_smp")["sample_rate_hz"] = 44100.0


def overhead_cut_short(session: Item) -> None:
    """The right overhead is trimmed right after the last hit."""
    last = channel(session, "OH R")["clips"][-1]
    last["end_s"], last["fade_out_s"] = round(LAST + 0.4, 6), 0.01


def ribbon_in_the_middle(session: Item) -> None:
    """The right ribbon's pan is back at the centre."""
    channel(session, "Gtr R Rib")["pan"] = 0.0


def plate_half_dry(session: Item) -> None:
    """The vocal plate lets dry sound through."""
    channel(session, "Vox Plate")["inserts"][1]["wet"] = 30.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Gtr L DI", "Gtr R DI"], "why": "muted on purpose, kept for a later reamp"},
    {"channels": ["Click"], "why": "muted on purpose, only the players heard it"},
    {"channels": ["Scream"], "why": "holds one muted clip of talk, kept with the take"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "rib-slipped",
        "class": "phase",
        "channels": ["Gtr R Rib", "Gtr R Dyn"],
        "grade": "hold",
        "says": "Gtr R Rib plays chorus 2 11 ms later than Gtr R Dyn, though both mics run together everywhere else.",
        "plant": rib_slipped,
    },
    {
        "id": "same-take-both-sides",
        "class": "twice",
        "channels": ["Gtr R Dyn", "Gtr R Rib"],
        "grade": "hold",
        "says": "In chorus 3 the right guitar plays the left guitar's files at the same place: no double, but mono.",
        "plant": same_take,
    },
    {
        "id": "talk-clip-on",
        "class": "audible-that-should-not-be",
        "channels": ["Scream"],
        "grade": "hold",
        "says": "The clip 'scrm tk3 talk' on Scream sounds in the intro; it is talk from the take.",
        "plant": talk_on,
    },
    {
        "id": "double-past-group",
        "class": "routing",
        "channels": ["Clean Dbl R"],
        "grade": "look",
        "says": "Clean Dbl R goes straight to MIX, while Clean Dbl L and all other voices go through VOX.",
        "plant": double_past_group,
    },
    {
        "id": "guitar-ride-not-back",
        "class": "automation",
        "channels": ["GTRS"],
        "grade": "look",
        "says": "The GTRS ride ends in the solo at -5 dB; chorus 3 and outro stay nearly 3 dB below choruses 1 and 2.",
        "plant": ride_not_back,
    },
    {
        "id": "floor-gate-shut",
        "class": "processors",
        "channels": ["Floor"],
        "grade": "hold",
        "says": "The gate on Floor opens only at -3.2 dBFS, the one on Rack at -30: the floor tom will hardly pass.",
        "plant": floor_gate_shut,
    },
    {
        "id": "lead-clips-off",
        "class": "inaudible",
        "channels": ["Clean Ld"],
        "grade": "hold",
        "says": "All clips of Clean Ld in chorus 2 are muted, while its doubles and the harmony sing.",
        "plant": lead_clips_off,
    },
    {
        "id": "print-at-other-rate",
        "class": "files",
        "channels": ["Snr Smp"],
        "grade": "look",
        "says": "Snr Smp's file is at 44.1 kHz, the session and all other files are at 48: it may run off the snare.",
        "plant": print_at_other_rate,
    },
    {
        "id": "overhead-cut-short",
        "class": "end",
        "channels": ["OH R"],
        "grade": "hold",
        "says": "OH R stops 0.4 s after the last hit without a fade; OH L and the other drum mics ring for 6 s.",
        "plant": overhead_cut_short,
    },
    {
        "id": "ribbon-in-the-middle",
        "class": "place",
        "channels": ["Gtr R Rib"],
        "grade": "hold",
        "says": "Gtr R Rib sits in the middle, while its partner mic is hard right and both left mics are hard left.",
        "plant": ribbon_in_the_middle,
    },
    {
        "id": "plate-half-dry",
        "class": "ambience",
        "channels": ["Vox Plate"],
        "grade": "look",
        "says": "The reverb on Vox Plate is 30 % wet, all other returns are wholly wet: the dry voice comes twice.",
        "plant": plate_half_dry,
    },
]
