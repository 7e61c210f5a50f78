"""Tin Roof Summer: a dense pop/rock single at 124, one short 2/4 bar before the last chorus.

Drums in a mid-sized live room, everything else overdubbed: doubled acoustics (a strummed pair all through, one
high-strung in the choruses), two electric pairs, a lead, piano, a lead voice with a chorus double, backing voices.
All files are consolidated from bar 1, so that a clip's place in its file is its place in the song. The engineer works
into buses, keeps two parallel buses (drums, voice) that come back into their own groups, rides families on VCAs and the
lead voice by hand, throws the delay on phrase ends, and writes short comments on what was decided.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

BPM = 124.0
BEAT = 60.0 / BPM
SHORT_BAR = 98
SEAM = 0.012
LENGTH = 262.0
CHORUSES = ((35, 51), (75, 91), (99, 134))


def bar(number: int, beats: float = 0.0) -> float:
    """The time of a bar, and so many beats into it; bar 98 has only two."""
    start = (number - 1) * 4.0 - (2.0 if number > SHORT_BAR else 0.0)
    return round((start + beats) * BEAT, 4)


def clip(media: str, name: str, start: float, end: float, fade_in: float, fade_out: float, gain: float = 0.0) -> Item:
    """A clip of a consolidated file: the place in the file is the place in the song."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": media,
        "offset_s": round(start, 4),
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": gain,
        "on": True,
    }


def run(stem: str, cuts: list[int], lead: float = 0.05, out: float = 0.2) -> list[Item]:
    """Clips that follow one another from bar to bar, crossfaded at the cuts."""
    made = []
    last = len(cuts) - 2
    for number, (first, stop) in enumerate(pairwise(cuts)):
        start = bar(first) - (lead if number == 0 else SEAM / 2)
        end = bar(stop) + (0.0 if number == last else SEAM / 2)
        fade_in = 0.01 if number == 0 else SEAM
        made.append(clip(stem, f"{stem}-{number + 1:02d}", start, end, fade_in, out if number == last else SEAM))
    return made


def parts(stem: str, *spans: tuple[int, int], lead: float = 0.08, tail: float = 0.35, out: float = 3.0) -> list[Item]:
    """One clip for each span of bars; what runs to bar 134 rings out under a long fade."""
    made = []
    for number, (first, stop) in enumerate(spans):
        ends = bar(stop) + (0.0 if stop == 134 else tail)
        fade = out if stop == 134 else 0.12
        made.append(clip(stem, f"{stem}-{number + 1:02d}", bar(first) - lead, ends, 0.02, fade))
    return made


def phrases(stem: str, *spans: tuple[int, int], lead: float = 0.45, gap: float = 0.55) -> list[Item]:
    """Sung phrases: each begins a breath before its bar and stops before the next one's breath."""
    return [
        clip(stem, f"{stem}.{number + 1:02d}", bar(first) - lead, bar(stop) - gap, 0.015, 0.06)
        for number, (first, stop) in enumerate(spans)
    ]


def hp(freq: float, slope: float = 12.0) -> Item:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def lp(freq: float, slope: float = 12.0) -> Item:
    """A low-pass band."""
    return {"kind": "low-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def bell(freq: float, gain: float, q: float = 1.0) -> Item:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def shelf(kind: str, freq: float, gain: float) -> Item:
    """A shelf, ``low`` or ``high``."""
    return {"kind": f"{kind}-shelf", "freq_hz": freq, "gain_db": gain, "q": 0.7, "on": True}


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def dynamics(name: str, kind: str, **settings: float) -> Item:
    """A processor of dynamics with its settings."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": dict(settings)}


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0, name: str = "Comp") -> Item:
    """A compressor."""
    times = {"attack_ms": attack, "release_ms": release}
    return dynamics(name, "compressor", threshold_db=threshold, ratio=ratio, output_gain_db=out, **times)


def gate(threshold: float, amount: float, attack: float, release: float) -> Item:
    """A gate."""
    return dynamics(
        "Gate", "gate", threshold_db=threshold, range_db=amount, attack_ms=attack, release_ms=release, ratio=10.0
    )


def tool(name: str, kind: str, *parameters: tuple[str, str, Any, str], wet: float = 100.0) -> Item:
    """Any other processor, with the parameters that the export lists."""
    listed = [{"id": key, "name": label, "value": value, "unit": unit} for key, label, value, unit in parameters]
    return {"name": name, "kind": kind, "on": True, "opaque": False, "wet": wet, "parameters": listed}


def deess(freq: float, threshold: float) -> Item:
    """A de-esser."""
    return tool("De-Ess", "de-esser", ("freq", "Frequency", freq, "Hz"), ("thr", "Threshold", threshold, "dB"))


def polarity(flipped: bool) -> Item:
    """The small utility for polarity and delay."""
    return tool("Pol/Delay", "utility", ("invert", "Polarity invert", flipped, ""), ("delay", "Delay", 0.0, "ms"))


def send(to: str, level: float, tap: str = "post") -> Item:
    """A send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": tap, "on": True}


def strip(key: str, name: str, kind: str = "track", **fields: Any) -> Item:
    """A strip of the desk."""
    made: Item = {
        "id": key,
        "name": name,
        "kind": kind,
        "plays": ["audio"] if kind == "track" else [],
        "legs": 1 if kind == "track" else 2,
        "fader_db": 0.0,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    made.update(fields)
    return made


def ride(target: str, points: list[tuple[float, float]], glide: float = 0.2) -> Item:
    """A written ride: each value is reached at its time, in a short glide from the one before."""
    times, values = [points[0][0]], [points[0][1]]
    for (_, before), (time, value) in pairwise(points):
        times += [round(time - glide, 4), round(time, 4)]
        values += [before, value]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": values}


def throws(index: int, level: float, ends: list[int]) -> Item:
    """Delay throws: the send opens on the last beat and a half of a phrase."""
    times, values = [0.0], [-60.0]
    for end in ends:
        times += [bar(end - 1, 2.5), bar(end, 0.5)]
        values += [level, -60.0]
    return {"target": f"send:{index}:level", "scale": "dB", "shape": "hold", "t": times, "v": values}


def drums() -> list[Item]:
    """The kit: close mics, sample, overheads, rooms, its bus and its parallel bus."""
    cuts = [3, 51, 75]

    def kit(stem: str, out: float = 2.2) -> list[Item]:
        """The kit's clips: cut together on every mic, out in the first half of the bridge."""
        first = run(stem, [*cuts, 91], lead=0.3)
        first[-1]["end_s"] = bar(91, 3.0)
        first[-1]["fade_out_s"] = 0.9
        second = clip(stem, f"{stem}-04", bar(95) - 0.1, bar(134), 0.03, out)
        return [*first, second]

    common: Item = {"output": "drums", "parent": "vca-dr"}
    rooms_ride = [
        (0.0, -13.5),
        (bar(35), -11.8),
        (bar(51), -13.5),
        (bar(75), -11.8),
        (bar(91), -13.5),
        (bar(99), -11.0),
    ]
    crush = "crush"
    return [
        strip(
            "kick-in",
            "Kick In",
            fader_db=-5.5,
            inserts=[gate(-30.0, -18.0, 0.3, 140.0), eq(hp(30.0), bell(380.0, -4.5, 1.2), bell(4200.0, 3.5, 0.9))],
            sends=[send(crush, -4.0)],
            clips=kit("KickIn"),
            **common,
        ),
        strip(
            "kick-out",
            "Kick Out",
            fader_db=-8.0,
            inserts=[eq(bell(62.0, 2.5, 0.8), bell(300.0, -3.0, 1.0), lp(5200.0)), comp(-18.0, 3.0, 20.0, 90.0)],
            sends=[send(crush, -9.0)],
            clips=kit("KickOut"),
            **common,
        ),
        strip(
            "kick-smp",
            "Kick Smp",
            fader_db=-14.0,
            inserts=[eq(hp(40.0), bell(2800.0, 2.0, 0.8))],
            clips=kit("KickSmp", 0.8),
            comment="printed from In, aligned to it. just for the click, not more",
            **common,
        ),
        strip(
            "snr-top",
            "Snr Top",
            fader_db=-4.8,
            pan=2.0,
            inserts=[
                eq(hp(90.0), bell(210.0, 2.0, 1.1), bell(820.0, -3.0, 1.6), shelf("high", 7500.0, 2.5)),
                comp(-16.0, 4.0, 12.0, 110.0, 2.0),
            ],
            sends=[send("rv-room", -12.0), send("rv-plate", -19.0), send(crush, -2.0)],
            clips=kit("SnrTop"),
            **common,
        ),
        strip(
            "snr-btm",
            "Snr Btm",
            fader_db=-13.0,
            pan=2.0,
            inserts=[polarity(True), eq(hp(220.0, 18.0), shelf("high", 6000.0, 1.5))],
            clips=kit("SnrBtm"),
            comment="flipped against Top, checked on body",
            **common,
        ),
        strip("hat", "Hat", fader_db=-17.0, pan=38.0, inserts=[eq(hp(420.0, 18.0))], clips=kit("Hat"), **common),
        strip(
            "rack",
            "Rack Tom",
            fader_db=-7.5,
            pan=22.0,
            inserts=[gate(-32.0, -24.0, 1.0, 260.0), eq(hp(60.0), bell(420.0, -4.0, 1.2), bell(3900.0, 3.0, 1.0))],
            sends=[send("rv-room", -13.0), send(crush, -5.0)],
            clips=kit("Rack"),
            **common,
        ),
        strip(
            "floor",
            "Floor Tom",
            fader_db=-7.0,
            pan=-34.0,
            inserts=[gate(-33.5, -24.0, 1.0, 340.0), eq(hp(45.0), bell(360.0, -4.5, 1.2), bell(3600.0, 3.0, 1.0))],
            sends=[send("rv-room", -13.0), send(crush, -5.0)],
            clips=kit("Floor"),
            comment="floor left = audience view, as OH",
            **common,
        ),
        strip("oh-l", "OH L", fader_db=-8.5, pan=-85.0, inserts=[eq(hp(180.0))], clips=kit("OHL"), **common),
        strip("oh-r", "OH R", fader_db=-8.5, pan=85.0, inserts=[eq(hp(180.0))], clips=kit("OHR"), **common),
        strip(
            "rooms",
            "Rooms",
            legs=2,
            fader_db=-13.5,
            inserts=[eq(hp(70.0), bell(500.0, -2.5, 0.9)), comp(-28.0, 6.0, 4.0, 160.0, 3.0)],
            clips=kit("Rooms", 3.2),
            automation=[ride("fader", rooms_ride)],
            **common,
        ),
        strip(
            "crush",
            "DR CRUSH",
            "group",
            fader_db=-9.0,
            output="drums",
            inserts=[comp(-30.0, 10.0, 2.0, 70.0, 4.0, "Smash"), eq(hp(50.0), shelf("low", 90.0, 2.5))],
            comment="parallel, fed by sends only",
        ),
        strip(
            "drums",
            "DRUMS",
            "group",
            fader_db=-1.0,
            output="mix",
            inserts=[comp(-12.0, 2.0, 30.0, 120.0, 1.0, "Bus Comp"), eq(shelf("high", 10000.0, 1.2))],
        ),
    ]


def bass() -> list[Item]:
    """DI and amp, cut at the same places, and their bus."""
    cuts = [11, 35, 51, 75, 91, 99, 134]
    return [
        strip(
            "bass-di",
            "Bass DI",
            fader_db=-8.0,
            output="bass",
            inserts=[eq(hp(32.0), lp(3800.0)), comp(-20.0, 4.0, 15.0, 120.0, 2.0)],
            clips=run("BassDI", cuts, out=2.5),
        ),
        strip(
            "bass-amp",
            "Bass Amp",
            fader_db=-9.5,
            output="bass",
            inserts=[eq(hp(60.0), bell(720.0, 2.5, 0.9)), comp(-18.0, 3.0, 25.0, 140.0, 1.0)],
            clips=run("BassAmp", cuts, out=2.5),
            comment="consolidated after lining up to the DI (1.4 ms)",
        ),
        strip(
            "bass",
            "BASS",
            "group",
            fader_db=-1.5,
            output="mix",
            inserts=[comp(-14.0, 2.5, 20.0, 150.0, 1.0), eq(bell(95.0, -1.5, 1.1), bell(1100.0, 1.0, 0.8))],
        ),
    ]


def guitars() -> list[Item]:
    """Two acoustic pairs, two electric pairs, a lead, the guitar bus, the piano."""
    all_through = ((3, 91), (95, 134))
    rhythm = ((27, 51), (59, 91), (99, 134))
    strummed = [eq(hp(110.0), bell(230.0, -2.5, 1.0), shelf("high", 9000.0, 1.5)), comp(-20.0, 2.5, 18.0, 130.0, 1.5)]
    common: Item = {"output": "gtrs", "parent": "vca-gtr"}

    def pair(key: str, name: str, levels: tuple[float, float], width: float, spans: Any, **more: Any) -> list[Item]:
        """The left and the right half of a pair."""
        made = []
        for side, level, lead in (("L", levels[0], 0.08), ("R", levels[1], 0.11)):
            stem = f"{name.replace(' ', '')}{side}"
            fields = {**more, **common, "fader_db": level, "pan": -width if side == "L" else width}
            fields["inserts"] = [{**insert} for insert in more["inserts"]]
            fields["sends"] = [{**sent} for sent in more.get("sends", [])]
            clips = parts(stem, *spans, lead=lead)
            made.append(strip(f"{key}-{side.lower()}", f"{name} {side}", clips=clips, **fields))
        return made

    room = [send("rv-room", -18.0)]
    lead_ride = ride("fader", [(0.0, -9.0), (bar(11), -10.5), (bar(91), -6.5), (bar(99), -10.5), (bar(123), -8.5)])
    return [
        *pair("ac1", "Ac 1", (-10.0, -10.4), 78.0, all_through, inserts=strummed, sends=room),
        *pair("ac2", "Ac 2", (-13.5, -13.2), 55.0, CHORUSES, inserts=[eq(hp(240.0, 18.0))], comment="high-strung"),
        *pair("egr", "EG Rhy", (-11.5, -11.5), 90.0, rhythm, inserts=[eq(hp(95.0), bell(2600.0, -1.5, 1.4))]),
        *pair("egc", "EG Chs", (-10.8, -10.2), 100.0, CHORUSES, inserts=[eq(hp(100.0), bell(450.0, -2.0, 1.0))]),
        strip(
            "eg-lead",
            "EG Lead",
            fader_db=-9.0,
            pan=12.0,
            inserts=[eq(hp(140.0), bell(1800.0, 1.5, 0.8)), comp(-18.0, 3.0, 10.0, 120.0, 1.0)],
            sends=[send("dly", -13.0), send("rv-plate", -16.0)],
            clips=parts("EGLead", (3, 11), (43, 51), (91, 99), (115, 134)),
            automation=[lead_ride],
            **common,
        ),
        strip(
            "gtrs",
            "GTRS",
            "group",
            fader_db=-1.0,
            output="mix",
            inserts=[eq(bell(320.0, -1.0, 0.7)), comp(-14.0, 1.8, 30.0, 160.0, 0.5, "Bus Comp")],
        ),
        strip(
            "piano",
            "Piano",
            legs=2,
            fader_db=-12.0,
            output="mix",
            inserts=[eq(hp(120.0), bell(400.0, -2.0, 0.9), shelf("high", 8000.0, 1.0))],
            sends=[send("rv-plate", -17.0)],
            clips=parts("Piano", (3, 35), (75, 99), (123, 134)),
        ),
    ]


def lead_voice() -> list[Item]:
    """The lead voice, its safety take and its double."""
    sung = [(first, first + 8) for first in range(11, 91, 8)]
    sung += [(91, 97), (99, 107), (107, 115), (115, 123)]
    levels = [-5.5, -5.0, -4.6, -3.8, -3.4, -5.2, -4.8, -4.4, -3.6, -3.2, -6.0, -3.4, -3.0, -2.8]
    points = [(0.0, -5.5), *((bar(first) - 0.5, level) for (first, _), level in zip(sung, levels, strict=True))]
    chain = [
        eq(hp(85.0, 18.0), bell(280.0, -2.0, 1.2), bell(3100.0, 1.0, 1.0)),
        comp(-22.0, 4.0, 3.0, 60.0, 3.0, "Fast Comp"),
        comp(-18.0, 2.0, 25.0, 180.0, 1.0, "Slow Comp"),
        deess(6800.0, -26.0),
        eq(shelf("high", 12000.0, 2.0)),
    ]
    ends = [27, 35, 43, 51, 67, 75, 83, 91, 107, 115, 123]
    return [
        strip(
            "lv",
            "LV",
            fader_db=-5.5,
            output="vox",
            inserts=chain,
            sends=[send("rv-plate", -13.0), send("dly", -60.0), send("vprl", -6.0)],
            clips=phrases("LV_comp3", *sung),
            automation=[ride("fader", points[:1] + points[2:]), throws(1, -7.0, ends)],
            comment="comp 3, tuned by hand. rides are after the comps",
        ),
        strip(
            "lv-safe",
            "LV safety (x)",
            fader_db=-5.5,
            mute=True,
            output="vox",
            clips=phrases("LV_T6_safety", *sung),
            comment="whole take 6, keep muted, only in case the singer wants another word in V2",
        ),
        strip(
            "lv-dbl",
            "LV dbl",
            fader_db=-15.0,
            output="vox",
            inserts=[
                eq(hp(140.0, 18.0), shelf("high", 9000.0, -1.5)),
                comp(-26.0, 5.0, 3.0, 70.0, 3.0),
                deess(6500.0, -32.0),
            ],
            sends=[send("rv-plate", -15.0)],
            clips=phrases("LVdbl", *[s for s in sung if s[0] in (35, 43, 75, 83, 99, 107, 115)]),
            comment="choruses only",
        ),
    ]


def backing() -> list[Item]:
    """Two pairs of backing voices, their bus, the voice bus and the voice's parallel bus."""
    spans = {
        "hi": ((35, 43), (43, 51), (67, 75), (75, 83), (83, 91), (99, 107), (107, 115), (115, 123)),
        "lo": ((35, 43), (43, 51), (75, 83), (83, 91), (99, 107), (107, 115), (115, 123)),
    }
    glue = comp(-12.0, 1.8, 25.0, 140.0, 0.5, "Bus Comp")
    voices = []
    for register, level, width in (("hi", -12.5, 70.0), ("lo", -13.0, 48.0)):
        for take, side, lead in (("A", -1.0, 0.3), ("B", 1.0, 0.27)):
            voices.append(
                strip(
                    f"bv-{register}-{take.lower()}",
                    f"BV {register} {take}",
                    fader_db=level,
                    pan=side * width,
                    output="bvs",
                    parent="vca-bv",
                    inserts=[eq(hp(160.0, 18.0), bell(350.0, -2.0, 1.0)), deess(7000.0, -30.0)],
                    clips=phrases(f"BV{register}{take}", *spans[register], lead=lead, gap=0.4),
                )
            )
    return [
        *voices,
        strip(
            "bvs",
            "BVS",
            "group",
            fader_db=-2.0,
            output="vox",
            inserts=[comp(-20.0, 3.0, 10.0, 110.0, 2.0), eq(bell(2500.0, -1.0, 0.8), shelf("high", 11000.0, 1.5))],
            sends=[send("rv-plate", -11.0)],
        ),
        strip(
            "vprl",
            "VOX PRL",
            "group",
            fader_db=-11.0,
            output="vox",
            inserts=[comp(-34.0, 12.0, 0.5, 50.0, 5.0, "Smash"), eq(hp(150.0), shelf("high", 8000.0, 2.0))],
            comment="parallel, lead only",
        ),
        strip("vox", "VOX", "group", fader_db=-0.5, output="mix", inserts=[glue]),
    ]


def returns() -> list[Item]:
    """Plate, room and delay."""
    plate = tool("Plate", "reverb", ("decay", "Decay", 1.9, "s"), ("damp", "Damping", 5200.0, "Hz"))
    plate["pre_delay_ms"] = 28.0
    small = tool("Room Verb", "reverb", ("decay", "Decay", 0.7, "s"))
    small["pre_delay_ms"] = 6.0
    eighth = tool("Stereo Dly", "delay", ("time", "Time", round(BEAT * 500.0, 1), "ms"), ("fb", "Feedback", 28.0, "%"))
    filtered = [eighth, eq(hp(250.0), lp(5500.0))]
    return [
        strip("rv-plate", "Rv Plate", "return", fader_db=-4.0, output="mix", inserts=[eq(hp(180.0)), plate]),
        strip("rv-room", "Rv Room", "return", fader_db=-5.0, output="mix", inserts=[small, eq(lp(8000.0))]),
        strip(
            "dly", "Dly 8th", "return", fader_db=-6.0, output="mix", inserts=filtered, sends=[send("rv-plate", -16.0)]
        ),
    ]


def masters() -> list[Item]:
    """The VCAs and the mix bus."""
    lift = [(0.0, 0.0), (bar(35), 1.2), (bar(51), 0.0), (bar(75), 1.2), (bar(91), 0.0), (bar(99), 1.8)]
    gtr = [(0.0, 0.0), (bar(35), 0.8), (bar(51), -0.4), (bar(75), 0.8), (bar(91), -0.6), (bar(99), 1.2)]
    limiter = dynamics("Limiter", "limiter", threshold_db=-1.0, release_ms=80.0, input_gain_db=3.0)
    limiter["parameters"] = [{"id": "ceil", "name": "Ceiling", "value": -1.0, "unit": "dBTP"}]
    return [
        strip("vca-dr", "VCA DR", "vca", automation=[ride("fader", [(0.0, 0.0), (bar(99), 0.6)])]),
        strip("vca-gtr", "VCA GTR", "vca", automation=[ride("fader", gtr)]),
        strip("vca-bv", "VCA BV", "vca", automation=[ride("fader", lift)]),
        strip(
            "mix",
            "MIX",
            "master",
            inserts=[
                eq(shelf("low", 70.0, 0.8), shelf("high", 12000.0, 1.0)),
                comp(-10.0, 2.0, 30.0, 100.0, 1.5, "Mix Comp"),
                tool("Tape Sat", "distortion", ("drive", "Drive", 1.5, "dB")),
                limiter,
            ],
            comment="limiter +3 in for the refs, 2 dB of reduction at most in the last chorus",
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = [*drums(), *bass(), *guitars(), *lead_voice(), *backing(), *returns(), *masters()]
    media: list[Item] = []
    for strip_ in channels:
        stems = sorted({item["file"] for item in strip_["clips"]})
        media.extend(
            {
                "id": stem,
                "path": f"Audio/TRS_{stem}.wav",
                "place": "beside",
                "present": True,
                "legs": strip_["legs"],
                "sample_rate_hz": 48000.0,
                "duration_s": LENGTH,
            }
            for stem in stems
        )
    marks = [(1, "count"), (3, "Intro"), (11, "V1"), (27, "Pre 1"), (35, "Ch 1"), (51, "V2"), (67, "Pre 2")]
    marks += [(75, "Ch 2"), (91, "Bridge"), (98, "2/4!"), (99, "Ch 3"), (123, "Outro"), (131, "last hit"), (134, "END")]
    short = (SHORT_BAR - 1) * 4.0
    return {
        "format": "mixlint-session/1",
        "title": "Tin Roof Summer",
        "sample_rate_hz": 48000.0,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": short, "beats": 2, "unit": 4},
                {"beat": short + 2.0, "beats": 4, "unit": 4},
            ],
        },
        "markers": [{"time_s": bar(number), "name": name} for number, name in marks],
        "channels": channels,
        "media": media,
        "metadata": {"version": "mix 5", "note": "band approved mix 4, only bridge lead up"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def insert(session: Session, name: str, processor: str) -> Item:
    """A channel's insert of a name."""
    found: Item = next(i for i in channel(session, name)["inserts"] if i["name"] == processor)
    return found


def low_pair_one_side(session: Session) -> None:
    """The second low voice has kept the pan of the strip it was copied from."""
    channel(session, "BV lo B")["pan"] = channel(session, "BV lo A")["pan"]


def bottom_not_flipped(session: Session) -> None:
    """The polarity of the bottom mic is back to normal."""
    insert(session, "Snr Btm", "Pol/Delay")["parameters"][0]["value"] = False


def voices_ride_wrong_way(session: Session) -> None:
    """The chorus 2 value of the backing voices' VCA is typed as -12 instead of 1.2."""
    lane = channel(session, "VCA BV")["automation"][0]
    for number, (time, value) in enumerate(zip(lane["t"], lane["v"], strict=True)):
        if bar(75) - 0.01 <= time <= bar(91) and value == 1.2:
            lane["v"][number] = -12.0


def guitar_past_its_bus(session: Session) -> None:
    """One half of the chorus pair goes straight to the mix bus."""
    channel(session, "EG Chs R")["output"] = "mix"


def left_take_on_both(session: Session) -> None:
    """In the last chorus the left take was dragged onto the right track."""
    left, right = channel(session, "EG Chs L")["clips"], channel(session, "EG Chs R")["clips"]
    right[2] = dict(left[2])


def plate_bypassed(session: Session) -> None:
    """The plate in its return was switched off for a comparison."""
    insert(session, "Rv Plate", "Plate")["on"] = False


def floor_gate_shut(session: Session) -> None:
    """The gate's threshold has lost its place: -3.35 for -33.5."""
    insert(session, "Floor Tom", "Gate")["dynamics"]["threshold_db"] = -3.35


def amp_nudged(session: Session) -> None:
    """One clip of the amp was nudged late against the DI."""
    moved = channel(session, "Bass Amp")["clips"][2]
    moved["start_s"] = round(moved["start_s"] + 0.022, 4)
    moved["end_s"] = round(moved["end_s"] + 0.022, 4)


def acoustic_cut_short(session: Session) -> None:
    """The left acoustic stops hard on the last hit instead of ringing."""
    last = channel(session, "Ac 1 L")["clips"][-1]
    last["end_s"] = bar(131, 1.0)
    last["fade_out_s"] = 0.0


def limiter_pushed(session: Session) -> None:
    """The limiter's input gain reads 13 instead of 3."""
    insert(session, "MIX", "Limiter")["dynamics"]["input_gain_db"] = 13.0


def lead_file_on_desktop(session: Session) -> None:
    """The lead guitar was bounced to the engineer's desktop and never brought into the session."""
    found = next(m for m in session["media"] if m["id"] == "EGLead")
    found["path"] = "/Users/mika/Desktop/TRS_EGLead_cleaned.wav"
    found["place"] = "outside"


ACCEPTED: list[Item] = [
    {"channels": ["LV safety (x)"], "why": "a whole spare take, kept muted on purpose and said so in its comment"},
    {"channels": ["Kick Smp"], "why": "a sample printed from the kick mic beneath it, which doubles it on purpose"},
]

FAULTS: list[Item] = [
    {
        "id": "low-pair-one-side",
        "class": "place",
        "channels": ["BV lo B", "BV lo A"],
        "grade": "look",
        "says": "BV lo A and B are a pair but both lie at 48 left; the high pair is mirrored at 70.",
        "plant": low_pair_one_side,
    },
    {
        "id": "bottom-not-flipped",
        "class": "phase",
        "channels": ["Snr Btm"],
        "grade": "look",
        "says": "Snr Btm says it is flipped against Top, but the polarity switch in its utility is off.",
        "plant": bottom_not_flipped,
    },
    {
        "id": "voices-ride-wrong-way",
        "class": "automation",
        "channels": ["VCA BV"],
        "grade": "look",
        "says": "VCA BV goes down 12 dB in chorus 2, where it goes up a little in choruses 1 and 3.",
        "plant": voices_ride_wrong_way,
    },
    {
        "id": "guitar-past-its-bus",
        "class": "routing",
        "channels": ["EG Chs R"],
        "grade": "look",
        "says": "EG Chs R goes straight to MIX; its partner and all other guitars go through GTRS.",
        "plant": guitar_past_its_bus,
    },
    {
        "id": "left-take-on-both",
        "class": "twice",
        "channels": ["EG Chs R", "EG Chs L"],
        "grade": "hold",
        "says": "In the last chorus EG Chs R plays the very same stretch of the left take as EG Chs L.",
        "plant": left_take_on_both,
    },
    {
        "id": "plate-bypassed",
        "class": "ambience",
        "channels": ["Rv Plate"],
        "grade": "hold",
        "says": "The plate in Rv Plate is bypassed: everything sent there comes back dry.",
        "plant": plate_bypassed,
    },
    {
        "id": "floor-gate-shut",
        "class": "processors",
        "channels": ["Floor Tom"],
        "grade": "look",
        "says": "The gate on Floor Tom opens at -3.35 dB, on Rack Tom at -32: the floor tom will hardly ever open it.",
        "plant": floor_gate_shut,
    },
    {
        "id": "amp-nudged",
        "class": "phase",
        "channels": ["Bass Amp", "Bass DI"],
        "grade": "look",
        "says": "The verse 2 clip of Bass Amp lies 22 ms late against its own file and against Bass DI.",
        "plant": amp_nudged,
    },
    {
        "id": "acoustic-cut-short",
        "class": "end",
        "channels": ["Ac 1 L"],
        "grade": "look",
        "says": "Ac 1 L stops without a fade right after the last hit, while Ac 1 R rings on under its fade.",
        "plant": acoustic_cut_short,
    },
    {
        "id": "limiter-pushed",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The limiter on MIX is driven by 13 dB; the comment says 3.",
        "plant": limiter_pushed,
    },
    {
        "id": "lead-file-on-desktop",
        "class": "hand-over",
        "channels": ["EG Lead"],
        "grade": "look",
        "says": "EG Lead plays a file from a desktop outside the session folder; it will not travel with it.",
        "plant": lead_file_on_desktop,
    },
]
