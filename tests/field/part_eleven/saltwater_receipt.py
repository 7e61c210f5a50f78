"""Saltwater Receipt: pop-soul, eight people in one room and three horns the next afternoon.

98 to the click from start to end. Drums are take 2 up to the guitar solo and take 5 for the last chorus and the outro;
everybody else is one pass with repairs already printed. The kit goes to DRUMS, and from the close mics to DRUM SMASH,
which sits under it; the lead has its own crushed copy on LEAD PAR. Rides by section are written on the three VCAs,
rides within a section on the channels.

The engineer cuts all mics of a player at the same place, hard on the bar, and lets vocals start a breath early.
Names are short, pans are as the band stood.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]

BPM = 98.0
SONG = {
    "Count": (1, 3),
    "Intro": (3, 7),
    "V1": (7, 23),
    "Ch1": (23, 31),
    "Riff": (31, 35),
    "V2": (35, 51),
    "Ch2": (51, 59),
    "Gtr Solo": (59, 67),
    "Breakdown": (67, 75),
    "Ch3": (75, 91),
    "Outro": (91, 101),
}
LENGTH = 252.0
TAKE5_LENGTH = 76.0


def bar(number: float) -> float:
    """The second at which a bar of four begins, the first bar being 1."""
    return round((number - 1) * 4 * 60.0 / BPM, 6)


TAKE5 = bar(73)


def region(name: str, media: str, span: tuple[float, float], **more: float) -> Part:
    """A clip from second to second; ``origin`` is where its recording began, ``inn`` and ``out`` are the fades."""
    return {
        "start_s": round(span[0], 6),
        "end_s": round(span[1], 6),
        "name": name,
        "plays": "audio",
        "file": media,
        "offset_s": round(span[0] - more.get("origin", 0.0), 6),
        "speed": 1.0,
        "fade_in_s": more.get("inn", 0.005),
        "fade_out_s": more.get("out", 0.005),
        "gain_db": more.get("gain", 0.0),
        "on": True,
    }


def kit(stem: str) -> list[Part]:
    """A drum mic: take 2 up to the solo, take 5 from the last chorus."""
    cuts = [("intro v1", 3, 23), ("ch1", 23, 31), ("riff v2", 31, 51), ("ch2", 51, 59), ("solo", 59, 67)]
    regions = [region(f"{stem} t2 {n}", f"{stem}_t2", (bar(a), bar(b))) for n, a, b in cuts]
    regions[-1]["fade_out_s"] = 0.9
    regions.append(region(f"{stem} t5 ch3", f"{stem}_t5", (bar(75), bar(91)), origin=TAKE5))
    regions.append(region(f"{stem} t5 outro", f"{stem}_t5", (bar(91), bar(101)), origin=TAKE5, out=2.5))
    return regions


def fills(stem: str) -> list[Part]:
    """A tom mic, stripped to its fills."""
    regions = []
    for last in (23, 31, 51, 59, 91):
        take, origin = ("t5", TAKE5) if last > 75 else ("t2", 0.0)
        span = (bar(last - 0.5), bar(last + 0.3))
        regions.append(region(f"{stem} {take} fill {last}", f"{stem}_{take}", span, origin=origin, inn=0.02, out=0.35))
    return regions


def played(stem: str, *sections: str, **gains: float) -> list[Part]:
    """A player's single pass, section by section; the outro rings and is faded."""
    regions = []
    starts = [SONG[section][0] for section in sections]
    for section in sections:
        first, last = SONG[section]
        out = 2.5 if section == "Outro" else 0.005 if last in starts else 0.4
        name = f"{stem} {section.lower()}"
        regions.append(region(name, stem, (bar(first), bar(last)), out=out, gain=gains.get(section, 0.0)))
    return regions


def blown(stem: str, **gains: float) -> list[Part]:
    """A horn: breath before the bar, off before the next section."""
    regions = []
    for section in ("Intro", "Ch1", "Riff", "Ch2", "Ch3", "Outro"):
        first, last = SONG[section]
        span = (bar(first) - 0.25, bar(last) - (1.2 if section == "Outro" else 0.35))
        name = f"{stem} {section.lower()}"
        regions.append(region(name, stem, span, inn=0.03, out=0.08, gain=gains.get(section, 0.0)))
    return regions


def sung(stem: str, *sections: str, **gains: float) -> list[Part]:
    """A voice, a breath early and gone before the next entry."""
    regions = []
    for section in sections:
        first, last = SONG[section]
        span = (bar(first) - 0.3, bar(last) - (2.0 if section == "Outro" else 0.4))
        name = f"{stem} {section.lower()}"
        regions.append(region(name, stem, span, inn=0.05, out=0.1, gain=gains.get(section, 0.0)))
    return regions


def eq(*bands: tuple[str, float, float], name: str = "EQ") -> Part:
    """An equalizer; each band is kind, frequency, and gain or (for cuts) slope."""
    made: list[Part] = []
    for kind, freq, amount in bands:
        if kind.endswith("-pass"):
            made.append({"kind": kind, "freq_hz": freq, "slope_db_per_oct": amount, "on": True})
        else:
            made.append({"kind": kind, "freq_hz": freq, "gain_db": amount, "q": 0.7 if "shelf" in kind else 1.2})
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": made}}


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float, name: str = "Comp") -> Part:
    """A compressor."""
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
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }


def gate(threshold: float, depth: float) -> Part:
    """A gate for a close drum mic."""
    return {
        "name": "Gate",
        "kind": "gate",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": threshold, "range_db": depth, "attack_ms": 0.5, "release_ms": 140.0},
    }


def box(name: str, kind: str) -> Part:
    """A processor whose settings the export keeps to itself."""
    return {"name": name, "kind": kind, "on": True, "opaque": True}


def flip() -> Part:
    """A polarity switch, thrown."""
    return {
        "name": "Pol flip",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": "invert", "name": "Invert", "value": True}],
    }


def wet(name: str, kind: str, settings: dict[str, tuple[float, str]], **more: float) -> Part:
    """An effect of a return, all wet."""
    values = [{"id": key, "name": key.title(), "value": v, "unit": u} for key, (v, u) in settings.items()]
    return {"name": name, "kind": kind, "on": True, "opaque": False, "wet": 100.0, **more, "parameters": values}


def sends(**levels: float) -> list[Part]:
    """Post-fader sends by the id of where they go."""
    return [{"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True} for to, level in levels.items()]


def ride(*points: tuple[float, float]) -> Part:
    """A fader ride by bars."""
    times, values = [bar(b) for b, _ in points], [v for _, v in points]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": values}


def steps(*levels: tuple[int, float]) -> Part:
    """A ride that changes quickly just before each named bar."""
    points: list[tuple[float, float]] = [(1.0, 0.0)]
    for place, level in levels:
        points += [(place - 0.12, points[-1][1]), (place - 0.02, level)]
    return ride(*points)


def strip(kind: str, ident: str, name: str, legs: int, fader: float, pan: float, to: str = "mix", **more: Any) -> Part:
    """A channel with whatever more it has."""
    made: Part = {"id": ident, "name": name, "kind": kind, "legs": legs, "plays": ["audio"] if kind == "track" else []}
    made |= {"fader_db": fader, "pan": pan, "mute": False, "solo": False, "output": to}
    return made | more


def drums() -> list[Part]:
    """The kit, out of the DRUMS bus and on its VCA."""
    on: dict[str, Any] = {"to": "drums", "parent": "vdrm", "folder": ["Drums"]}
    return [
        strip(
            *("track", "ki", "Kick In", 1, -7.0, 0.0),
            **on,
            clips=kit("kick_in"),
            inserts=[
                gate(-30.0, -22.0),
                eq(("high-pass", 30.0, 12.0), ("bell", 330.0, -4.0), ("bell", 3600.0, 3.0)),
                comp(-16.0, 4.0, 18.0, 90.0, 2.0),
            ],
            sends=sends(smash=-6.0),
        ),
        strip(
            *("track", "ko", "Kick Out", 1, -10.5, 0.0),
            **on,
            clips=kit("kick_out"),
            inserts=[gate(-32.0, -18.0), eq(("high-pass", 28.0, 12.0), ("low-pass", 3800.0, 12.0))],
        ),
        strip(
            *("track", "st", "Snr Top", 1, -7.5, 0.0),
            **on,
            clips=kit("snr_top"),
            inserts=[
                gate(-34.0, -14.0),
                eq(("high-pass", 85.0, 12.0), ("bell", 210.0, 2.0), ("bell", 5200.0, 2.5)),
                comp(-14.0, 3.0, 12.0, 110.0, 1.5),
            ],
            sends=sends(smash=-4.0, plate=-16.0),
        ),
        strip(
            *("track", "sb", "Snr Btm", 1, -15.0, 0.0),
            **on,
            clips=kit("snr_btm"),
            inserts=[flip(), eq(("high-pass", 180.0, 12.0))],
            comment="flipped against top",
        ),
        strip(
            *("track", "rk", "Rack", 1, -9.0, 22.0),
            **on,
            clips=fills("rack"),
            inserts=[eq(("high-pass", 65.0, 12.0), ("bell", 420.0, -5.0))],
            sends=sends(smash=-7.0, plate=-19.0),
        ),
        strip(
            *("track", "fl", "Floor", 1, -9.0, -32.0),
            **on,
            clips=fills("floor"),
            inserts=[eq(("high-pass", 50.0, 12.0), ("bell", 380.0, -5.0))],
            sends=sends(smash=-7.0, plate=-19.0),
            comment="audience side, like the OH",
        ),
        strip(
            *("track", "oh", "OH", 2, -10.0, 0.0),
            **on,
            clips=kit("oh"),
            inserts=[eq(("high-pass", 170.0, 12.0), ("high-shelf", 10000.0, 1.0))],
            sends=sends(smash=-10.0),
        ),
        strip(
            *("track", "rm", "Room", 2, -16.0, 0.0),
            **on,
            clips=kit("room"),
            inserts=[comp(-26.0, 6.0, 4.0, 160.0, 4.0), eq(("high-pass", 60.0, 12.0), ("low-pass", 9000.0, 6.0))],
        ),
    ]


SWELLS = [(1.0, -13.0), (57.0, -13.0), (58.9, -10.5), (59.1, -13.0), (67.0, -13.0), (69.0, -10.5), (73.0, -10.5)]
SWELLS += [(74.9, -8.0), (75.1, -12.0)]


def rhythm() -> list[Part]:
    """Percussion, bass, guitars and organ."""
    on: dict[str, Any] = {"folder": ["Rhythm"]}
    back = ("V2", "Ch2", "Gtr Solo", "Breakdown", "Ch3", "Outro")
    whole = ("Intro", "V1", "Ch1", "Riff", "V2", "Ch2", "Gtr Solo", "Breakdown", "Ch3", "Outro")
    chank = tuple(s for s in whole if s != "Breakdown")
    reeds = ("Ch1", "Riff", "Ch2", "Gtr Solo", "Breakdown", "Ch3", "Outro")
    top = eq(("high-pass", 190.0, 12.0), ("bell", 1600.0, -1.5))
    return [
        strip(
            *("track", "cg", "Congas", 2, -13.0, 0.0),
            **on,
            clips=played("congas", *back),
            inserts=[eq(("high-pass", 95.0, 12.0), ("bell", 2600.0, 1.5))],
            sends=sends(plate=-18.0),
        ),
        strip(
            *("track", "tb", "Tamb", 1, -18.0, -28.0),
            **on,
            clips=played("tamb", "Ch1", "Ch2", "Ch3", "Outro"),
            inserts=[eq(("high-pass", 420.0, 12.0))],
            sends=sends(plate=-21.0),
        ),
        strip(
            *("track", "bd", "Bass DI", 1, -8.0, 0.0),
            **on,
            clips=played("bass_di", *whole),
            inserts=[
                comp(-20.0, 4.0, 14.0, 90.0, 3.0),
                eq(("high-pass", 32.0, 12.0), ("bell", 240.0, -2.0), ("bell", 900.0, 1.5)),
            ],
        ),
        strip(
            *("track", "ba", "Bass Amp", 1, -10.0, 0.0),
            **on,
            clips=played("bass_amp", *whole),
            inserts=[eq(("high-pass", 45.0, 12.0), ("low-pass", 4500.0, 12.0)), comp(-19.0, 3.0, 20.0, 110.0, 1.5)],
            comment="lined up to DI before the cut",
        ),
        strip(
            *("track", "gc", "Gtr Chank", 1, -14.0, -62.0),
            **on,
            clips=played("gtr_chank", *chank),
            inserts=[eq(("high-pass", 140.0, 12.0), ("bell", 2400.0, 1.5)), comp(-22.0, 3.0, 6.0, 70.0, 2.0)],
        ),
        strip(
            *("track", "gl", "Gtr Lick", 1, -14.5, 58.0),
            **on,
            clips=played("gtr_lick", "Riff", "V2", "Gtr Solo", "Ch3", "Outro"),
            inserts=[eq(("high-pass", 120.0, 12.0), ("bell", 3100.0, -1.5))],
            sends=sends(plate=-20.0, dly=-17.0),
            automation=[ride((1.0, -14.5), (58.9, -14.5), (59.0, -10.0), (66.9, -10.0), (67.0, -14.5))],
            comment="has the solo",
        ),
        strip(
            *("track", "otl", "Org Top L", 1, -13.0, -48.0),
            **on,
            clips=played("org_top_l", *reeds),
            inserts=[dict(top)],
            sends=sends(plate=-24.0),
            automation=[ride(*SWELLS)],
        ),
        strip(
            *("track", "otr", "Org Top R", 1, -13.0, 48.0),
            **on,
            clips=played("org_top_r", *reeds),
            inserts=[dict(top)],
            sends=sends(plate=-24.0),
            automation=[ride(*SWELLS)],
        ),
        strip(
            *("track", "ol", "Org Low", 1, -15.0, 0.0),
            **on,
            clips=played("org_low", *reeds),
            inserts=[eq(("high-pass", 60.0, 12.0), ("low-pass", 1100.0, 12.0))],
        ),
    ]


def horns() -> list[Part]:
    """Three horns, one mic each."""
    on: dict[str, Any] = {"to": "horns", "parent": "vhrn", "folder": ["Horns"]}
    return [
        strip(
            *("track", "tp", "Tpt", 1, -11.5, -30.0),
            **on,
            clips=blown("tpt", Riff=0.5, Ch3=1.0),
            inserts=[eq(("high-pass", 170.0, 12.0), ("bell", 2900.0, -2.0)), comp(-18.0, 2.5, 10.0, 100.0, 1.5)],
        ),
        strip(
            *("track", "ts", "Tenor", 1, -10.5, 0.0),
            **on,
            clips=blown("tenor", Intro=-0.5, Riff=1.0),
            inserts=[eq(("high-pass", 110.0, 12.0), ("bell", 650.0, -1.5)), comp(-18.0, 2.5, 12.0, 110.0, 1.5)],
        ),
        strip(
            *("track", "bn", "Bone", 1, -10.0, 30.0),
            **on,
            clips=blown("bone", Ch2=0.5),
            inserts=[eq(("high-pass", 75.0, 12.0), ("bell", 350.0, -2.0)), comp(-18.0, 2.5, 14.0, 120.0, 1.5)],
        ),
    ]


def voices() -> list[Part]:
    """The lead, its spare and three backing singers."""
    on: dict[str, Any] = {"parent": "vvox", "folder": ["Vox"]}
    leads = ("V1", "Ch1", "V2", "Ch2", "Breakdown", "Ch3", "Outro")
    chain = [
        eq(("high-pass", 95.0, 12.0), ("bell", 330.0, -2.0)),
        comp(-20.0, 3.0, 8.0, 90.0, 3.0),
        box("De-ess", "de-esser"),
        eq(("high-shelf", 9500.0, 2.0), name="Air"),
    ]
    made = [
        strip(
            *("track", "lv", "Lead Vox", 1, -5.0, 0.0),
            **on,
            clips=sung("lead_comp", *leads, Breakdown=1.5),
            inserts=chain,
            sends=sends(lpar=-3.0, plate=-12.5, dly=-19.0),
            automation=[
                ride(
                    *((1.0, -5.0), (14.6, -5.0), (14.7, -4.0), (18.9, -4.0), (19.1, -5.0), (30.2, -5.0)),
                    *((30.5, -6.5), (30.9, -5.0), (42.6, -5.0), (42.8, -4.2), (46.9, -4.2), (47.1, -5.0)),
                    *((88.6, -5.0), (88.9, -3.8), (90.7, -3.8), (90.9, -5.0)),
                )
            ],
            comment="comp of T1, T4, T6",
        ),
        strip(
            *("track", "lv3", "Lead Vox T3", 1, -5.0, 0.0),
            **on,
            mute=True,
            clips=sung("lead_t3", *leads),
            inserts=[eq(("high-pass", 95.0, 12.0))],
            comment="alt, not used. Keep for the label",
        ),
    ]
    for ident, name, pan, fader, first in (
        ("bvh", "BV Hi", -46.0, -12.5, 190.0),
        ("bvm", "BV Mid", 0.0, -13.0, 160.0),
        ("bvl", "BV Lo", 46.0, -12.0, 130.0),
    ):
        stem = name.lower().replace(" ", "_")
        made.append(
            strip(
                *("track", ident, name, 1, fader, pan, "bvs"),
                **on,
                clips=sung(stem, "Ch1", "Ch2", "Ch3", "Outro"),
                inserts=[eq(("high-pass", first, 12.0)), comp(-22.0, 3.0, 6.0, 80.0, 2.5)],
            )
        )
    return made


def buses() -> list[Part]:
    """Groups, parallels, returns, VCAs and the mix."""
    vca: dict[str, Any] = {"kind": "vca", "fader_db": 0.0, "mute": False, "solo": False, "output": None}
    return [
        strip("group", "drums", "DRUMS", 2, -1.0, 0.0, inserts=[comp(-14.0, 2.0, 30.0, 120.0, 1.0, "Bus comp")]),
        strip(
            *("return", "smash", "DRUM SMASH", 2, -12.0, 0.0),
            inserts=[
                comp(-32.0, 10.0, 1.0, 60.0, 8.0, "Smash"),
                eq(("high-pass", 45.0, 12.0), ("low-pass", 8500.0, 6.0)),
            ],
            comment="parallel, from the kit's sends only",
        ),
        strip(
            *("group", "horns", "HORNS", 2, -1.5, 0.0),
            inserts=[box("Tape", "distortion"), comp(-15.0, 2.0, 25.0, 140.0, 1.0, "Bus comp")],
            sends=sends(plate=-13.0),
        ),
        strip(
            *("group", "bvs", "BVS", 2, -2.0, 0.0),
            inserts=[comp(-18.0, 2.0, 15.0, 120.0, 1.0, "Bus comp"), box("De-ess", "de-esser")],
            sends=sends(plate=-10.5),
        ),
        strip(
            *("return", "lpar", "LEAD PAR", 1, -13.0, 0.0),
            inserts=[
                eq(("high-pass", 240.0, 12.0)),
                comp(-34.0, 8.0, 1.0, 50.0, 9.0, "Crush"),
                box("De-ess", "de-esser"),
            ],
            comment="parallel of Lead Vox, crushed",
        ),
        strip(
            *("return", "plate", "Plate", 2, -5.0, 0.0),
            inserts=[
                eq(("high-pass", 260.0, 12.0)),
                wet("Plate", "reverb", {"decay": (1.8, "s"), "damping": (6200.0, "Hz")}, pre_delay_ms=28.0),
            ],
        ),
        strip(
            *("return", "dly", "8th Dly", 2, -8.0, 0.0),
            inserts=[
                wet("Delay", "delay", {"time": (round(30000.0 / BPM, 1), "ms"), "feedback": (22.0, "%")}),
                eq(("high-pass", 280.0, 12.0), ("low-pass", 4800.0, 12.0)),
            ],
            sends=sends(plate=-14.0),
        ),
        vca | {"id": "vdrm", "name": "VCA DRM", "automation": [steps((75, 1.0))]},
        vca
        | {
            "id": "vhrn",
            "name": "VCA HRN",
            "automation": [steps((23, -1.5), (31, 1.0), (51, -1.5), (75, -0.5), (91, 1.0))],
        },
        vca | {"id": "vvox", "name": "VCA VOX", "automation": [steps((67, -1.0), (75, 0.5))]},
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
                comp(-13.0, 2.0, 30.0, 100.0, 1.5, "Mix comp"),
                eq(("low-shelf", 70.0, 0.8), ("high-shelf", 11000.0, 1.0)),
                {
                    "name": "Limiter",
                    "kind": "limiter",
                    "on": True,
                    "opaque": False,
                    "dynamics": {
                        "threshold_db": -1.0,
                        "release_ms": 90.0,
                        "output_gain_db": 0.0,
                        "auto_makeup": False,
                    },
                },
            ],
            "comment": "98 all the way, no map",
        },
    ]


def pool() -> list[Part]:
    """The audio files."""
    kit_mics = {"kick_in": 1, "kick_out": 1, "snr_top": 1, "snr_btm": 1, "rack": 1, "floor": 1, "oh": 2, "room": 2}
    found: list[tuple[str, int, float]] = []
    for stem, legs in kit_mics.items():
        found += [(f"{stem}_t2", legs, bar(78)), (f"{stem}_t5", legs, TAKE5_LENGTH)]
    singles = ["tamb", "bass_di", "bass_amp", "gtr_chank", "gtr_lick", "org_top_l", "org_top_r", "org_low"]
    singles += ["tpt", "tenor", "bone", "lead_comp", "lead_t3", "bv_hi", "bv_mid", "bv_lo"]
    found += [("congas", 2, LENGTH)] + [(stem, 1, LENGTH) for stem in singles]
    return [
        {
            "id": stem,
            "path": f"Audio Files/{stem}.wav",
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": 48000.0,
            "duration_s": round(length, 3),
        }
        for stem, legs, length in found
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Saltwater Receipt",
        "sample_rate_hz": 48000.0,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": bar(first), "name": name} for name, (first, _) in SONG.items()]
        + [{"time_s": bar(101), "name": "End"}],
        "channels": [*drums(), *rhythm(), *horns(), *voices(), *buses()],
        "media": pool(),
        "metadata": {"key": "Bb", "pass": "mix 5 recall"},
    }


def channel(session: Session, name: str) -> Part:
    """The channel of a name."""
    found: Part = next(c for c in session["channels"] if c["name"] == name)
    return found


def clip(session: Session, name: str, ending: str) -> Part:
    """The clip of a channel by the end of its own name."""
    found: Part = next(c for c in channel(session, name)["clips"] if c["name"].endswith(ending))
    return found


def tenor_off_vca(session: Session) -> None:
    """Tenor dropped out of the horn VCA."""
    del channel(session, "Tenor")["parent"]


def sticks_left_in(session: Session) -> None:
    """The overheads' first region was pulled open over the count."""
    first = channel(session, "OH")["clips"][0]
    first["start_s"] = 0.0
    first["offset_s"] = 0.0


def trumpet_clip_gain(session: Session) -> None:
    """A clip gain of 1.0 typed as 10.0."""
    clip(session, "Tpt", " ch3")["gain_db"] = 10.0


def bottom_not_flipped(session: Session) -> None:
    """The polarity switch of the bottom snare mic is bypassed."""
    channel(session, "Snr Btm")["inserts"][0]["on"] = False


def limiter_pushed(session: Session) -> None:
    """The limiter's output is raised behind its threshold."""
    channel(session, "Mix")["inserts"][-1]["dynamics"]["output_gain_db"] = 3.0


def digits_swapped(session: Session) -> None:
    """98 entered as 89."""
    session["timeline"]["tempos"][0]["bpm"] = 89.0


def swell_on_one_side(session: Session) -> None:
    """The breakdown's swell was drawn on the left organ mic only."""
    drawn = channel(session, "Org Top R")["automation"][0]
    kept = [(t, v) for t, v in zip(drawn["t"], drawn["v"], strict=True) if not bar(67) <= t < bar(75)]
    kept.insert(-1, (bar(74.9), -13.0))
    drawn["t"], drawn["v"] = [t for t, _ in kept], [v for _, v in kept]


def plate_half_dry(session: Session) -> None:
    """The plate's mix control went back to its preset's value."""
    channel(session, "Plate")["inserts"][-1]["wet"] = 35.0


def solo_region_off(session: Session) -> None:
    """The region of the guitar solo is muted."""
    clip(session, "Gtr Lick", " gtr solo")["on"] = False


def crush_bypassed(session: Session) -> None:
    """The compressor that makes the parallel bus is bypassed."""
    channel(session, "LEAD PAR")["inserts"][1]["on"] = False


def bone_bar_late(session: Session) -> None:
    """The trombone of the second chorus lies one bar late."""
    moved = clip(session, "Bone", " ch2")
    moved["start_s"] = round(moved["start_s"] + bar(2), 6)
    moved["end_s"] = round(moved["end_s"] + bar(2), 6)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Lead Vox T3"], "why": "an alternative take, muted and labelled so"},
    {"channels": ["DRUM SMASH", "LEAD PAR"], "why": "parallel buses, meant to be crushed and fed by sends only"},
    {"channels": ["Rack", "Floor"], "why": "stripped to the fills"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "tenor-off-vca",
        "class": "routing",
        "channels": ["Tenor", "VCA HRN"],
        "grade": "look",
        "says": "Tenor is not on VCA HRN; Tpt and Bone are, so the horn rides leave it behind.",
        "plant": tenor_off_vca,
    },
    {
        "id": "sticks-left-in",
        "class": "audible-that-should-not-be",
        "channels": ["OH"],
        "grade": "hold",
        "says": "OH plays from the count at bar 1; every other mic of the kit starts at the intro, bar 3.",
        "plant": sticks_left_in,
    },
    {
        "id": "trumpet-clip-gain",
        "class": "level",
        "channels": ["Tpt"],
        "grade": "hold",
        "says": "The last chorus of Tpt has a clip gain of +10 dB; its other clips and the other horns stay within 1.",
        "plant": trumpet_clip_gain,
    },
    {
        "id": "bottom-not-flipped",
        "class": "phase",
        "channels": ["Snr Btm"],
        "grade": "look",
        "says": "The polarity flip of Snr Btm is bypassed, though the comment says it is flipped against the top.",
        "plant": bottom_not_flipped,
    },
    {
        "id": "limiter-pushed",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The limiter holds at -1 dBFS and then adds 3 dB: peaks come out at +2 dBFS.",
        "plant": limiter_pushed,
    },
    {
        "id": "digits-swapped",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The tempo is 89, but markers, cuts, the delay time and the comment all fit 98.",
        "plant": digits_swapped,
    },
    {
        "id": "swell-on-one-side",
        "class": "automation",
        "channels": ["Org Top R", "Org Top L"],
        "grade": "look",
        "says": "In the breakdown Org Top L swells by 5 dB and Org Top R stays; elsewhere the pair rides alike.",
        "plant": swell_on_one_side,
    },
    {
        "id": "plate-half-dry",
        "class": "ambience",
        "channels": ["Plate"],
        "grade": "hold",
        "says": "The plate on the return is 35 per cent wet, so two thirds of what comes back is dry signal.",
        "plant": plate_half_dry,
    },
    {
        "id": "solo-region-off",
        "class": "inaudible",
        "channels": ["Gtr Lick"],
        "grade": "hold",
        "says": "In the guitar solo the clip of Gtr Lick is switched off, though the fader is ridden up for it.",
        "plant": solo_region_off,
    },
    {
        "id": "crush-bypassed",
        "class": "processors",
        "channels": ["LEAD PAR"],
        "grade": "look",
        "says": "The compressor of LEAD PAR is bypassed; the parallel bus only adds more of the plain voice.",
        "plant": crush_bypassed,
    },
    {
        "id": "bone-bar-late",
        "class": "edits",
        "channels": ["Bone"],
        "grade": "hold",
        "says": "In the second chorus Bone starts one bar after Tpt and Tenor and runs on into the solo.",
        "plant": bone_bar_late,
    },
]
