"""Lanterns at Low Water: an indie-folk song for a full band, 48 kHz, cut to a click in two days.

Two acoustic guitars hard by the sides, each with a short mono room on the other side; electric guitar, piano on two
microphones, bass on DI and amp, a small kit, tambourine, one lead with a double in the choruses and three harmonies.
The kit is take 4 up to the bridge and take 6 (punched two bars early) from there; the bridge is a little slower.
The engineer cuts every microphone of the kit at the same places, cuts the toms down to their fills by hand, rides the
lead word by word, lets all sends leave after the fader, and keeps old comps muted at the foot of the voices.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]

TITLE = "Lanterns at Low Water"
RATE = 48000.0
TEMPOS: list[tuple[int, float]] = [(1, 92.0), (67, 88.0), (75, 92.0)]
END_BAR = 101

VERSE_1 = [11, 15, 19, 23]
CHORUS_1 = [27, 31, 35]
VERSE_2 = [39, 43, 47, 51]
CHORUS_2 = [55, 59, 63]
BRIDGE = [67, 71]
CHORUS_3 = [75, 79, 83, 87]
OUTRO = [91]

DIP_FROM, DIP_TO = 45.5, 45.75


def at(bar: float) -> float:
    """Seconds at a bar; bar 1 is the start, fractions are parts of a bar."""
    total = 0.0
    for index, (first, bpm) in enumerate(TEMPOS):
        last = TEMPOS[index + 1][0] if index + 1 < len(TEMPOS) else 10_000
        if bar > first:
            total += (min(bar, last) - first) * 240.0 / bpm
    return round(total, 6)


# id: (path, from, to), the stretch of the song that the file was recorded over, in seconds
FILES: dict[str, tuple[str, float, float]] = {}
for _mic in ("KickIn", "KickOut", "SnTop", "SnBtm", "Rack", "Floor", "OHL", "OHR", "Room"):
    FILES[f"{_mic}_t4"] = (f"audio/drums/{_mic}_take04.wav", 0.0, at(70))
    FILES[f"{_mic}_t6"] = (f"audio/drums/{_mic}_take06.wav", at(65), at(103))
FILES |= {
    "tamb": ("audio/perc/Tamb_02.wav", at(25), at(93)),
    "bdi": ("audio/bass/BassDI_take04.wav", 0.0, at(103)),
    "bamp": ("audio/bass/BassAmp_take04.wav", 0.0, at(103)),
    "acl": ("audio/gtr/AcGtr_L_03.wav", 0.0, at(103)),
    "acr": ("audio/gtr/AcGtr_R_05.wav", 0.0, at(103)),
    "elg": ("audio/gtr/ElGtr_07_comp.wav", at(25), at(102)),
    "plo": ("audio/keys/Piano_Lo_02.wav", at(37), at(103)),
    "phi": ("audio/keys/Piano_Hi_02.wav", at(37), at(103)),
    "lv3": ("audio/vox/LeadVox_comp_v3.wav", 0.0, at(97)),
    "lv1": ("audio/vox/LeadVox_comp_v1.wav", 0.0, at(97)),
    "dbl": ("audio/vox/LeadDbl_comp_v2.wav", at(25), at(93)),
    "hlo": ("audio/vox/HarmLo_comp.wav", at(25), at(93)),
    "hhl": ("audio/vox/HarmHi_L_comp.wav", at(53), at(97)),
    "hhr": ("audio/vox/HarmHi_R_comp.wav", at(53), at(97)),
}

MARKERS: list[tuple[int, str]] = [
    (1, "Count"),
    (3, "Intro"),
    (11, "Verse 1"),
    (27, "Chorus 1"),
    (39, "Verse 2"),
    (55, "Chorus 2"),
    (67, "Bridge (slower)"),
    (75, "Chorus 3"),
    (91, "Outro"),
    (END_BAR, "End"),
]

# id, name, kind, output, legs, fader, pan
STRIPS: list[tuple[str, str, str, str, int, float, float]] = [
    ("kin", "Kick In", "track", "drums", 1, -6.5, 0.0),
    ("kout", "Kick Out", "track", "drums", 1, -10.2, 0.0),
    ("snt", "Snare Top", "track", "drums", 1, -7.4, 0.0),
    ("snb", "Snare Btm", "track", "drums", 1, -14.0, 0.0),
    ("rack", "Rack Tom", "track", "drums", 1, -8.8, -22.0),
    ("floor", "Floor Tom", "track", "drums", 1, -8.2, 38.0),
    ("ohl", "OH L", "track", "drums", 1, -9.0, -85.0),
    ("ohr", "OH R", "track", "drums", 1, -9.0, 85.0),
    ("room", "Room mono", "track", "drums", 1, -15.5, 0.0),
    ("tamb", "Tamb", "track", "drums", 1, -13.6, 28.0),
    ("bdi", "Bass DI", "track", "bass", 1, -9.8, 0.0),
    ("bamp", "Bass Amp", "track", "bass", 1, -7.1, 0.0),
    ("acl", "Ac Gtr L", "track", "gtrs", 1, -8.4, -75.0),
    ("acr", "Ac Gtr R", "track", "gtrs", 1, -8.1, 75.0),
    ("elg", "El Gtr", "track", "gtrs", 1, -11.0, -24.0),
    ("plo", "Piano Lo", "track", "mix", 1, -10.5, -42.0),
    ("phi", "Piano Hi", "track", "mix", 1, -10.5, 42.0),
    ("lv", "Lead Vox", "track", "vox", 1, -5.0, 0.0),
    ("dbl", "Lead Dbl", "track", "vox", 1, -15.2, 0.0),
    ("hlo", "Harm Lo", "track", "vox", 1, -12.0, -15.0),
    ("hhl", "Harm Hi L", "track", "vox", 1, -13.4, -58.0),
    ("hhr", "Harm Hi R", "track", "vox", 1, -13.0, 58.0),
    ("lvold", "LV old comp", "track", "vox", 1, -6.0, 0.0),
    ("drums", "DRUMS", "group", "mix", 2, -1.5, 0.0),
    ("bass", "BASS", "group", "mix", 2, -2.0, 0.0),
    ("gtrs", "GTRS", "group", "mix", 2, -1.0, 0.0),
    ("vox", "VOX", "group", "mix", 2, 0.0, 0.0),
    ("slr", "Short L>R", "return", "gtrs", 1, -6.0, 75.0),
    ("srl", "Short R>L", "return", "gtrs", 1, -6.0, -75.0),
    ("plate", "Plate", "return", "mix", 2, -4.0, 0.0),
    ("slap", "Slap", "return", "mix", 1, -7.0, 0.0),
    ("mix", "MIX", "master", "", 2, 0.0, 0.0),
]

COMMENTS: dict[str, str] = {
    "snb": "polarity flipped against top",
    "bdi": "1.6 ms late on purpose = amp mic distance",
    "acl": "dry left, its room comes back right (Short L>R)",
    "acr": "dry right, its room comes back left (Short R>L)",
    "rack": "cut to fills by hand",
    "floor": "cut to fills by hand, stays open in the bridge",
    "lv": "comp v3, re-sung verse 2",
    "dbl": "second performance, choruses only",
    "lvold": "comp v1 before the re-sing, keep but OFF",
    "tamb": "choruses only",
    "slr": "takes Ac L, sits right",
    "srl": "takes Ac R, sits left",
    "mix": "limiter last, ceiling -1",
}

SENDS: dict[str, list[tuple[str, float]]] = {
    "snt": [("plate", -21.0)],
    "tamb": [("plate", -22.0)],
    "acl": [("slr", -11.0), ("plate", -24.0)],
    "acr": [("srl", -11.0), ("plate", -24.0)],
    "elg": [("plate", -17.0), ("slap", -20.0)],
    "plo": [("plate", -19.0)],
    "phi": [("plate", -19.0)],
    "lv": [("plate", -13.5), ("slap", -17.0)],
    "dbl": [("plate", -12.0)],
    "hlo": [("plate", -11.0)],
    "hhl": [("plate", -10.0)],
    "hhr": [("plate", -10.0)],
}


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.8) -> Part:
    """A bell or shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def cut(kind: str, freq: float, slope: float = 12.0) -> Part:
    """A high-pass or low-pass."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def insert(name: str, kind: str, **more: Any) -> Part:
    """An insert that is on and shows its settings."""
    return {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": False, **more}


def parameter(ident: str, name: str, value: float | bool, unit: str = "") -> Part:
    """A listed parameter."""
    return {"id": ident, "name": name, "value": value, "unit": unit}


def eq(*bands: Part) -> Part:
    """The channel equalizer."""
    return insert("EQ", "equalizer", equalizer={"bands": list(bands)})


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0, name: str = "Comp") -> Part:
    """A compressor."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return insert(name, "compressor", dynamics=dynamics)


def reverb(name: str, decay: float, pre: float) -> Part:
    """A reverb for a return."""
    return insert(name, "reverb", wet=100.0, pre_delay_ms=pre, parameters=[parameter("decay", "Decay", decay, "s")])


def harmony_chain() -> list[Part]:
    """All three harmonies go through the same."""
    return [eq(cut("high-pass", 140.0), band("high-shelf", 9000.0, -1.0)), comp(-24.0, 3.0, 8.0, 120.0, 2.0)]


def inserts() -> dict[str, list[Part]]:
    """The inserts of every channel that has some."""
    flip = insert("Trim", "utility", parameters=[parameter("invert", "Polarity invert", True)])
    late = insert("Sample delay", "utility", parameters=[parameter("delay", "Delay", 1.6, "ms")])
    gate = {"threshold_db": -34.0, "range_db": -16.0, "attack_ms": 0.5, "release_ms": 140.0}
    limit = {"threshold_db": -3.0, "release_ms": 80.0, "input_gain_db": 0.0, "output_gain_db": 0.0}
    slap = [parameter("time", "Time", 118.0, "ms"), parameter("feedback", "Feedback", 6.0, "%")]
    low_cut = cut("high-pass", 85.0)
    return {
        "kin": [
            insert("Gate", "gate", dynamics=gate),
            eq(band("bell", 340.0, -4.0, 1.2), band("bell", 3600.0, 2.5)),
            comp(-18.0, 4.0, 22.0, 90.0, 2.0),
        ],
        "kout": [eq(band("low-shelf", 70.0, 2.0), cut("low-pass", 4500.0))],
        "snt": [
            eq(cut("high-pass", 90.0), band("bell", 220.0, 1.5), band("bell", 5200.0, 2.0)),
            comp(-20, 3.5, 15, 110),
        ],
        "snb": [flip, eq(cut("high-pass", 250.0))],
        "rack": [eq(band("bell", 420.0, -5.0, 1.4), band("bell", 110.0, 2.0))],
        "floor": [eq(band("bell", 380.0, -5.0, 1.4), band("bell", 78.0, 2.0))],
        "ohl": [eq(cut("high-pass", 160.0), band("high-shelf", 10000.0, 1.0))],
        "ohr": [eq(cut("high-pass", 160.0), band("high-shelf", 10000.0, 1.0))],
        "room": [comp(-30.0, 8.0, 3.0, 160.0, 4.0, "Squash"), eq(cut("high-pass", 60.0), cut("low-pass", 9000.0))],
        "tamb": [eq(cut("high-pass", 600.0), band("bell", 7500.0, -2.0))],
        "bdi": [late, eq(cut("high-pass", 32.0), cut("low-pass", 3200.0))],
        "bamp": [eq(cut("high-pass", 40.0), band("bell", 210.0, -2.0), band("bell", 850.0, 1.5))],
        "acl": [eq(low_cut, band("bell", 190.0, -3.0), band("high-shelf", 8000.0, 1.5)), comp(-22, 2.5, 18, 140, 1.5)],
        "acr": [
            eq(cut("high-pass", 85.0), band("bell", 205.0, -2.5), band("high-shelf", 8000.0, 1.0)),
            comp(-22, 2.5, 18, 140, 1.5),
        ],
        "elg": [eq(cut("high-pass", 110.0), band("bell", 2800.0, -1.5)), insert("Trem", "modulation", wet=35.0)],
        "plo": [eq(cut("high-pass", 50.0), band("bell", 260.0, -2.0)), comp(-20, 2.0, 25, 180, 1.0)],
        "phi": [eq(cut("high-pass", 50.0), band("bell", 260.0, -2.0)), comp(-20, 2.0, 25, 180, 1.0)],
        "lv": [
            eq(cut("high-pass", 95.0, 18.0), band("bell", 280.0, -2.5), band("high-shelf", 11000.0, 2.0)),
            comp(-21.0, 3.0, 12.0, 95.0, 3.0),
            insert("De-ess", "de-esser", parameters=[parameter("freq", "Frequency", 6800.0, "Hz")]),
        ],
        "dbl": [eq(cut("high-pass", 150.0), band("high-shelf", 8000.0, -3.0)), comp(-24.0, 4.0, 6.0, 90.0, 2.0)],
        "hlo": harmony_chain(),
        "hhl": harmony_chain(),
        "hhr": harmony_chain(),
        "lvold": [eq(cut("high-pass", 95.0, 18.0))],
        "drums": [comp(-16.0, 2.0, 30.0, 120.0, 1.0, "Bus comp")],
        "bass": [comp(-19.0, 3.5, 20.0, 150.0, 1.5, "Bus comp")],
        "gtrs": [eq(band("bell", 3200.0, -1.0, 0.6))],
        "vox": [comp(-15.0, 1.8, 20.0, 160.0, 0.5, "Bus comp")],
        "slr": [reverb("Small room", 0.55, 14.0), eq(cut("high-pass", 220.0), cut("low-pass", 7000.0))],
        "srl": [reverb("Small room", 0.55, 14.0), eq(cut("high-pass", 220.0), cut("low-pass", 7000.0))],
        "plate": [reverb("Plate", 1.9, 28.0), eq(cut("high-pass", 260.0), cut("low-pass", 9500.0))],
        "slap": [insert("Tape delay", "delay", wet=100.0, parameters=slap), eq(cut("low-pass", 4200.0))],
        "mix": [
            comp(-14.0, 1.5, 30.0, 200.0, 1.0, "Glue"),
            eq(band("low-shelf", 90.0, 0.5), band("high-shelf", 12000.0, 1.0)),
            insert("Limiter", "limiter", dynamics=limit, parameters=[parameter("ceiling", "Ceiling", -1.0, "dB")]),
            insert("Meter", "analyser"),
        ],
    }


def clip(name: str, file: str, start: float, end: float, fades: tuple[float, float], **more: Any) -> Part:
    """A clip that lies where it was recorded."""
    made: Part = {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start - FILES[file][1], 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }
    return made | more


def kit(mic: str) -> list[Part]:
    """One microphone of the kit: take 4, crossfaded into take 6 at the bridge."""
    return [
        clip(f"{mic}_take04", f"{mic}_t4", at(19) - 0.02, at(67) - 0.03, (0.01, 0.015)),
        clip(f"{mic}_take06", f"{mic}_t6", at(67) - 0.03, at(END_BAR), (-0.015, 2.5)),
    ]


def fills(mic: str, spots: list[tuple[float, float]]) -> list[Part]:
    """A tom, cut to its fills."""
    found = []
    for number, (first, last) in enumerate(spots, 1):
        take = "t4" if last < 68 else "t6"
        found.append(clip(f"{mic}_take0{take[1]}.{number:02d}", f"{mic}_{take}", at(first), at(last), (0.005, 0.12)))
    return found


def sections(stem: str, file: str, spans: list[tuple[float, float]], tail: float = 0.6) -> list[Part]:
    """A part cut section by section; touching sections are crossfaded, the others faded out over a tail."""
    found = []
    for number, (first, last) in enumerate(spans, 1):
        joins_before = any(other == first for _, other in spans)
        joins_after = any(other == last for other, _ in spans)
        end = at(last) if joins_after or last >= END_BAR else at(last) + tail
        fade_out = 3.0 if last >= END_BAR else 0.012 if joins_after else tail * 0.8
        fade_in = -0.012 if joins_before else 0.01
        found.append(clip(f"{stem}.{number:02d}", file, at(first), end, (fade_in, fade_out)))
    return found


def lines(stem: str, file: str, bars: list[int], early: float, length: float, gains: dict[int, float]) -> list[Part]:
    """A voice, line by line of four bars, each with its breath; gains are clip gains by bar."""
    return [
        clip(f"{stem}.{bar:03d}", file, at(bar) - early, at(bar + length), (0.02, 0.06), gain_db=gains.get(bar, 0.0))
        for bar in bars
    ]


def clips() -> dict[str, list[Part]]:
    """The clips of every track."""
    bass_spans = [(19.0, 27.0), (27.0, 39.0), (39.0, 55.0), (55.0, 67.0), (75.0, 91.0), (91.0, 101.0)]
    guitar_spans = [(3.0, 27.0), (27.0, 39.0), (39.0, 55.0), (55.0, 67.0), (67.0, 75.0), (75.0, 91.0), (91.0, 101.0)]
    piano_spans = [(39.0, 55.0), (55.0, 67.0), (67.0, 75.0), (75.0, 91.0), (91.0, 101.0)]
    leads = VERSE_1 + CHORUS_1 + VERSE_2 + CHORUS_2 + BRIDGE + CHORUS_3 + OUTRO
    choruses = CHORUS_1 + CHORUS_2 + CHORUS_3
    high = CHORUS_2 + CHORUS_3 + OUTRO
    sticks = clip("Room_take04.sticks", "Room_t4", at(18), at(19) - 0.05, (0.01, 0.02), on=False)
    return {
        "kin": kit("KickIn"),
        "kout": kit("KickOut"),
        "snt": kit("SnTop"),
        "snb": kit("SnBtm"),
        "rack": fills("Rack", [(26.5, 27.25), (38.5, 39.25), (54.5, 55.25), (74.5, 75.25), (90.5, 91.25)]),
        "floor": fills("Floor", [(26.75, 27.25), (38.75, 39.25), (54.5, 55.25), (67.0, 75.25), (90.5, 91.5)]),
        "ohl": kit("OHL"),
        "ohr": kit("OHR"),
        "room": [sticks, *kit("Room")],
        "tamb": sections("Tamb_02", "tamb", [(27.0, 39.0), (55.0, 67.0), (75.0, 91.0)], 0.4),
        "bdi": sections("BassDI_t04", "bdi", bass_spans),
        "bamp": sections("BassAmp_t04", "bamp", bass_spans),
        "acl": sections("AcGtr_L_03", "acl", guitar_spans),
        "acr": sections("AcGtr_R_05", "acr", guitar_spans),
        "elg": sections("ElGtr_07", "elg", [(27.0, 39.0), (55.0, 67.0), (75.0, 91.0), (91.0, 99.0)], 1.5),
        "plo": sections("Piano_Lo_02", "plo", piano_spans),
        "phi": sections("Piano_Hi_02", "phi", piano_spans),
        "lv": lines("LV_v3", "lv3", leads, 0.35, 3.6, {19: 1.5, 43: -1.0, 71: 2.0, 91: 1.0}),
        "dbl": lines("Dbl_v2", "dbl", choruses, 0.25, 3.5, {}),
        "hlo": lines("HarmLo", "hlo", choruses, 0.22, 3.5, {35: -1.0}),
        "hhl": lines("HarmHiL", "hhl", high, 0.2, 3.5, {}),
        "hhr": lines("HarmHiR", "hhr", high, 0.2, 3.5, {}),
        "lvold": lines("LV_v1", "lv1", leads, 0.35, 3.6, {}),
    }


def lead_ride() -> list[tuple[float, float]]:
    """The lead: one level a section, reached before the breath, and three short dips of five decibels."""
    levels = [(1, -5.0), (27, -3.8), (39, -5.0), (55, -3.5), (67, -6.0), (75, -3.2), (91, -6.0)]
    dips = [(16.25, 16.5), (DIP_FROM, DIP_TO), (84.0, 84.25)]
    points = [(0.0, levels[0][1])]
    for (_, before), (bar, after) in pairwise(levels):
        points += [(at(bar) - 0.75, before), (at(bar) - 0.45, after)]
    for first, last in dips:
        level = [value for bar, value in levels if bar <= first][-1]
        points += [(at(first), level), (at(first) + 0.06, level - 5.0)]
        points += [(at(last), level - 5.0), (at(last) + 0.06, level)]
    return sorted((round(time, 4), value) for time, value in points)


def ramp(target: str, points: list[tuple[float, float]]) -> Part:
    """A lane of straight lines in decibels."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [round(time, 4) for time, _ in points],
        "v": [value for _, value in points],
    }


def between(low: float, high: float, *spans: tuple[int, int]) -> list[tuple[float, float]]:
    """A low level that is raised over some spans of bars."""
    points = [(0.0, low)]
    for first, last in spans:
        points += [(at(first) - 0.5, low), (at(first), high), (at(last) - 0.3, high), (at(last), low)]
    return points


def automation() -> dict[str, list[Part]]:
    """The rides."""
    choruses = [(27, 39), (55, 67), (75, 91)]
    return {
        "lv": [ramp("fader", lead_ride()), ramp("send:1:level", between(-17.0, -12.5, *choruses))],
        "plo": [ramp("fader", between(-10.5, -8.0, (67, 75)))],
        "phi": [ramp("fader", between(-10.5, -8.0, (67, 75)))],
        "elg": [ramp("fader", between(-11.0, -9.5, (91, 100)))],
        "drums": [ramp("fader", between(-1.5, -0.7, (75, 91)))],
    }


def good() -> Session:
    """The session as it should be bounced."""
    all_inserts, all_clips, all_rides = inserts(), clips(), automation()
    channels: list[Part] = []
    for ident, name, kind, output, legs, fader, pan in STRIPS:
        strip: Part = {
            "id": ident,
            "name": name,
            "kind": kind,
            "parent": output if output not in ("", "mix") else None,
            "plays": ["audio"] if kind == "track" else [],
            "legs": legs,
            "fader_db": fader,
            "pan": pan,
            "mute": ident == "lvold",
            "solo": False,
            "sends": [
                {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}
                for to, level in SENDS.get(ident, [])
            ],
            "inserts": all_inserts.get(ident, []),
            "clips": all_clips.get(ident, []),
            "automation": all_rides.get(ident, []),
            "comment": COMMENTS.get(ident, ""),
        }
        if output:
            strip["output"] = output
        channels.append(strip)
    return {
        "format": "mixlint-session/1",
        "title": TITLE,
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": (bar - 1) * 4.0, "bpm": bpm} for bar, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in MARKERS],
        "channels": channels,
        "media": [
            {
                "id": ident,
                "path": path,
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": round(last - first, 6),
            }
            for ident, (path, first, last) in FILES.items()
        ],
        "metadata": {"bounce": "Intro to End, 48 kHz / 24 bit", "mix": "05"},
    }


def channel(session: Session, name: str) -> Part:
    """The channel of a name."""
    found: Part = next(c for c in session["channels"] if c["name"] == name)
    return found


def short_on_its_own_side(session: Session) -> None:
    """The room of the left guitar is panned to the left, like the other room."""
    channel(session, "Short L>R")["pan"] = -75.0


def dip_not_brought_back(session: Session) -> None:
    """The dip in verse 2 lacks its way back, so that the rest of the verse stays down."""
    lane = channel(session, "Lead Vox")["automation"][0]
    kept: list[tuple[float, float]] = []
    for time, value in zip(lane["t"], lane["v"], strict=True):
        if at(DIP_TO) - 0.01 <= time < at(DIP_TO) + 1.0:
            continue
        after_dip = at(DIP_TO) < time < at(55) - 0.6
        kept.append((time, -10.0 if after_dip else value))
    lane["t"], lane["v"] = [time for time, _ in kept], [value for _, value in kept]


def piano_half_muted(session: Session) -> None:
    """One of the two piano microphones stays muted."""
    channel(session, "Piano Hi")["mute"] = True


def double_is_the_lead(session: Session) -> None:
    """In chorus 2 the double plays copies of the lead's own clips."""
    first, last = at(55) - 1.0, at(67)
    double = channel(session, "Lead Dbl")
    copies = [dict(c) for c in channel(session, "Lead Vox")["clips"] if first < c["start_s"] < last - 1.0]
    kept = [c for c in double["clips"] if not first < c["start_s"] < last - 1.0]
    double["clips"] = sorted(kept + copies, key=lambda c: float(c["start_s"]))


def send_to_the_wrong_short(session: Session) -> None:
    """The right guitar feeds the room that comes back on its own side."""
    channel(session, "Ac Gtr R")["sends"][0]["to"] = "slr"


def kick_into_bass(session: Session) -> None:
    """The outer kick microphone goes to the bass group."""
    channel(session, "Kick Out")["output"] = "bass"


def overhead_slid(session: Session) -> None:
    """Take 6 lies 14 ms late on one overhead."""
    late = channel(session, "OH R")["clips"][1]
    late["start_s"] = round(late["start_s"] + 0.014, 6)
    late["end_s"] = round(late["end_s"] + 0.014, 6)


def high_pass_a_zero_too_many(session: Session) -> None:
    """The high-pass of the right guitar stands at 850 Hz."""
    channel(session, "Ac Gtr R")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 850.0


def bass_di_trimmed(session: Session) -> None:
    """The DI's clip of verse 2 has been trimmed four bars short."""
    short = channel(session, "Bass DI")["clips"][2]
    short["end_s"] = at(51)


def last_chord_cut(session: Session) -> None:
    """The left guitar breaks off in the outro."""
    last = channel(session, "Ac Gtr L")["clips"][-1]
    last["end_s"] = at(97)
    last["fade_out_s"] = 0.0


def limiter_first(session: Session) -> None:
    """The limiter has been dragged to the head of the mix bus."""
    chain = channel(session, "MIX")["inserts"]
    chain.insert(0, chain.pop(2))


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["LV old comp"], "why": "the comp before the re-sing, kept muted on purpose and said so"},
    {"channels": ["Snare Btm"], "why": "polarity turned against the top microphone, as always"},
    {"channels": ["Bass DI"], "why": "delayed by 1.6 ms to meet the amp microphone"},
    {"channels": ["Short L>R", "Short R>L"], "why": "mono rooms panned across from the guitars that feed them"},
    {"channels": ["Room mono"], "why": "the muted clip at the head is the drummer's sticks; squashed hard, sits low"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "short-return-on-its-own-side",
        "class": "place",
        "channels": ["Short L>R"],
        "grade": "look",
        "says": "Short L>R is panned left, against its name and comment; both rooms now come back on the left.",
        "plant": short_on_its_own_side,
    },
    {
        "id": "dip-not-brought-back",
        "class": "automation",
        "channels": ["Lead Vox"],
        "grade": "look",
        "says": "The lead's dip at bar 45 never comes back: the rest of verse 2 is 5 dB down, unlike the other dips.",
        "plant": dip_not_brought_back,
    },
    {
        "id": "piano-half-muted",
        "class": "inaudible",
        "channels": ["Piano Hi"],
        "grade": "hold",
        "says": "Piano Hi is muted while Piano Lo plays; half of the piano is missing and nothing says it is meant.",
        "plant": piano_half_muted,
    },
    {
        "id": "double-is-the-lead",
        "class": "twice",
        "channels": ["Lead Dbl", "Lead Vox"],
        "grade": "hold",
        "says": "In chorus 2 the double plays the lead's own comp at the same place; there is no double.",
        "plant": double_is_the_lead,
    },
    {
        "id": "send-to-the-wrong-short",
        "class": "ambience",
        "channels": ["Ac Gtr R"],
        "grade": "look",
        "says": "Ac Gtr R feeds Short L>R, which sits on its own side; nothing feeds Short R>L any more.",
        "plant": send_to_the_wrong_short,
    },
    {
        "id": "kick-into-bass",
        "class": "routing",
        "channels": ["Kick Out"],
        "grade": "look",
        "says": "Kick Out goes to BASS while the rest of the kit goes to DRUMS.",
        "plant": kick_into_bass,
    },
    {
        "id": "overhead-slid",
        "class": "phase",
        "channels": ["OH R", "OH L"],
        "grade": "look",
        "says": "From the bridge on OH R lies 14 ms later than OH L and the rest of the kit, from the same take.",
        "plant": overhead_slid,
    },
    {
        "id": "high-pass-a-zero-too-many",
        "class": "processors",
        "channels": ["Ac Gtr R"],
        "grade": "look",
        "says": "Ac Gtr R is high-passed at 850 Hz, its partner at 85 Hz.",
        "plant": high_pass_a_zero_too_many,
    },
    {
        "id": "bass-di-trimmed",
        "class": "edits",
        "channels": ["Bass DI"],
        "grade": "look",
        "says": "The DI stops four bars before the end of verse 2 while the amp plays on to chorus 2.",
        "plant": bass_di_trimmed,
    },
    {
        "id": "last-chord-cut",
        "class": "end",
        "channels": ["Ac Gtr L"],
        "grade": "look",
        "says": "Ac Gtr L stops dead four bars before the end while all others ring out with a long fade.",
        "plant": last_chord_cut,
    },
    {
        "id": "limiter-first",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The limiter stands before the compressor and the equalizer, both of which add gain after it.",
        "plant": limiter_first,
    },
]
