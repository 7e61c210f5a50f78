"""Salt on the Windowsill: a slow ballad at 68, 48 kHz, cut by a singer with two fingerpicked steel-string guitars.

The rhythm section was tracked together from bar 1 (all files start at zero), the quartet and the backing vocals came
later, the backing vocals chorus by chorus with two bars of run-up. The engineer puts the guitars wide and gives each
its own small mono plate on the opposite side, keeps one long hall for piano and strings and one plate for the voices,
rides the lead on the fader and throws the delay by automating its send. Groups everywhere, all reverbs go straight to
the mix. The ending slows down over three bars; the last chord rings and is faded on the mix bus.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

TEMPOS = [(0.0, 68.0), (244.0, 66.0), (248.0, 62.0), (252.0, 56.0), (256.0, 52.0)]
BAND, PIANO, QUARTET, VOCAL = 243.914, 246.207, 241.380, 239.552


def at(bar: int, beat: float = 1.0) -> float:
    """The seconds of a bar and beat (both counted from 1) on the tempo map."""
    wanted = (bar - 1) * 4 + beat - 1
    seconds = 0.0
    for index, (start, bpm) in enumerate(TEMPOS):
        stop = TEMPOS[index + 1][0] if index + 1 < len(TEMPOS) else float("inf")
        seconds += max(0.0, min(wanted, stop) - start) * 60.0 / bpm
    return round(seconds, 4)


END = at(67, 3)

SINGLE_FILES: dict[str, tuple[str, int, float]] = {
    "kick": ("audio/drums/kick_t4.wav", 1, BAND),
    "snare": ("audio/drums/brush_snare_t4.wav", 1, BAND),
    "ohl": ("audio/drums/oh_l_t4.wav", 1, BAND),
    "ohr": ("audio/drums/oh_r_t4.wav", 1, BAND),
    "bdi": ("audio/bass/bass_di_t4.wav", 1, BAND),
    "bamp": ("audio/bass/bass_amp_t4.wav", 1, BAND),
    "agl": ("audio/gtr/ag_left_comp2.wav", 1, BAND),
    "agr": ("audio/gtr/ag_right_comp3.wav", 1, BAND),
    "agn": ("audio/gtr/nylon_fills_t2.wav", 1, BAND),
    "pnolo": ("audio/piano/pno_lo_t7.wav", 1, PIANO),
    "pnohi": ("audio/piano/pno_hi_t7.wav", 1, PIANO),
    "vln1": ("audio/strings/vln1_comp.wav", 1, QUARTET),
    "vln2": ("audio/strings/vln2_comp.wav", 1, QUARTET),
    "vla": ("audio/strings/vla_comp.wav", 1, QUARTET),
    "vc": ("audio/strings/vc_comp.wav", 1, QUARTET),
    "lv": ("audio/vox/lv_comp_v7.wav", 1, VOCAL),
    "lvdbl": ("audio/vox/lv_dbl_t2.wav", 1, VOCAL),
    "lvtk2": ("audio/vox/lv_take2_full.wav", 1, VOCAL),
}
BV_PARTS = {"bvhil": "bv_hi_L", "bvhir": "bv_hi_R", "bvlol": "bv_lo_L", "bvlor": "bv_lo_R"}
BV_STRETCHES = {"C1": (19, 23), "C2": (31, 39), "C3": (47, 59)}


def media() -> list[Item]:
    """The audio files, the backing vocals one file for each chorus."""
    found = [medium(key, *values) for key, values in SINGLE_FILES.items()]
    for part, stem in BV_PARTS.items():
        for chorus, (first, last) in BV_STRETCHES.items():
            length = round(at(last + 1) - at(first - 2), 4)
            found.append(medium(f"{part}_{chorus}", f"audio/bv/{stem}_{chorus}.wav", 1, length))
    return found


def medium(key: str, path: str, legs: int, seconds: float) -> Item:
    """One audio file beside the session."""
    return {"id": key, "path": path, "place": "beside", "present": True, "legs": legs, "sample_rate_hz": 48000.0,
            "duration_s": seconds}  # fmt: skip


def clip(
    name: str, file: str, start: float, end: float, fades: tuple[float, float] = (0.01, 0.08), gain: float = 0.0
) -> Item:
    """A clip of a file that begins at the song's zero."""
    return {"start_s": round(start, 4), "end_s": round(end, 4), "name": name, "plays": "audio", "file": file,
            "offset_s": round(start, 4), "speed": 1.0, "fade_in_s": fades[0], "fade_out_s": fades[1],
            "gain_db": gain, "on": True}  # fmt: skip


def bv_clips(part: str) -> list[Item]:
    """The three choruses of one backing voice; each file was started two bars before its chorus."""
    clips = []
    for chorus, (first, last) in BV_STRETCHES.items():
        start = at(first) - 0.35
        made = clip(f"{BV_PARTS[part]}_{chorus}", f"{part}_{chorus}", start, at(last, 1.5), (0.03, 0.2))
        made["offset_s"] = round(start - at(first - 2), 4)
        clips.append(made)
    return clips


def band(kind: str, freq: float, gain: float = 0.0, q: float = 1.0, slope: float | None = None) -> Item:
    """One equalizer band."""
    made: Item = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if slope is not None:
        made["slope_db_per_oct"] = slope
    return made


def hpf(freq: float, slope: float = 12.0) -> Item:
    """A high-pass band."""
    return band("high-pass", freq, slope=slope, q=0.71)


def eq(*bands: Item) -> Item:
    """An equalizer insert."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False,
            "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0}}  # fmt: skip


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0, name: str = "Comp") -> Item:
    """A compressor insert."""
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "wet": 100.0,
            "dynamics": {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release,
                         "knee_db": 6.0, "output_gain_db": gain, "auto_makeup": False}}  # fmt: skip


def parameter(key: str, name: str, value: float | bool | str, unit: str = "") -> Item:
    """A listed parameter."""
    return {"id": key, "name": name, "value": value, "unit": unit}


def deess(freq: float, amount: float) -> Item:
    """A de-esser insert."""
    return {"name": "De-ess", "kind": "de-esser", "on": True, "opaque": False,
            "parameters": [parameter("freq", "Freq", freq, "Hz"),
                           parameter("range", "Range", amount, "dB")]}  # fmt: skip


def verb(name: str, decay: float, pre: float) -> Item:
    """A reverb insert, wholly wet, for a return."""
    return {"name": name, "kind": "reverb", "on": True, "opaque": False, "wet": 100.0, "pre_delay_ms": pre,
            "parameters": [parameter("decay", "Decay", decay, "s")]}  # fmt: skip


def delay(name: str, time: float, feedback: float) -> Item:
    """A delay insert, wholly wet, for a return."""
    return {"name": name, "kind": "delay", "on": True, "opaque": False, "wet": 100.0,
            "parameters": [parameter("time", "Time", time, "ms"),
                           parameter("fb", "Feedback", feedback, "%")]}  # fmt: skip


def limiter(ceiling: float) -> Item:
    """The limiter at the end of the mix bus."""
    return {"name": "Limiter", "kind": "limiter", "on": True, "opaque": False,
            "dynamics": {"threshold_db": ceiling, "release_ms": 120.0, "input_gain_db": 1.5, "output_gain_db": 0.0},
            "parameters": [parameter("ceiling", "Ceiling", ceiling, "dBTP")]}  # fmt: skip


def send(to: str, level: float) -> Item:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def lane(target: str, points: list[tuple[float, float]], scale: str = "dB", shape: str = "linear") -> Item:
    """One automated parameter."""
    return {"target": target, "scale": scale, "shape": shape, "t": [round(t, 4) for t, _ in points],
            "v": [v for _, v in points]}  # fmt: skip


def sections(target: str, levels: list[tuple[int, float]]) -> Item:
    """A ride that holds one level in each section and moves in the half second before the next."""
    points = [(0.0, levels[0][1])]
    for (_, before), (bar, level) in pairwise(levels):
        points += [(at(bar) - 0.5, before), (at(bar) - 0.05, level)]
    return lane(target, points)


def throws(target: str, base: float, peaks: list[tuple[int, float, float]]) -> Item:
    """Delay throws: the send opens on a last word (bar, beat, level) for a beat and a half and shuts again."""
    points = [(0.0, base)]
    for bar, beat, level in peaks:
        points += [(at(bar, beat), level), (at(bar, beat + 1.5), base)]
    return lane(target, points, shape="hold")


def strip(key: str, name: str, fader: float, pan: float, output: str, *, kind: str = "track", legs: int = 1,
          **more: Any) -> Item:  # fmt: skip
    """One channel; audio tracks are mono and groups, returns and the mix stereo unless told otherwise."""
    made: Item = {"id": key, "name": name, "kind": kind, "legs": legs, "plays": ["audio"] if kind == "track" else [],
                  "fader_db": fader, "pan": pan, "mute": False, "solo": False, "output": output, "sends": [],
                  "inserts": [], "clips": [], "automation": []}  # fmt: skip
    made.update(more)
    return made


def group(key: str, name: str, fader: float, output: str = "mix", **more: Any) -> Item:
    """A stereo group."""
    return strip(key, name, fader, 0.0, output, kind="group", legs=2, **more)


def drums_and_bass() -> list[Item]:
    """The brush kit with its group, and the bass as box and amplifier."""
    play = [("V2-C2", at(22, 4), at(39, 3)), ("C3", at(46, 4), at(59, 3))]
    cymbals = [("V2-C2", at(22, 4), at(39, 4)), ("BR swell-C3", at(45), at(60))]
    bass = [
        ("C1", at(15) - 0.1, at(22, 4.9)),
        ("V2", at(25) - 0.1, at(30, 4.8)),
        ("C2", at(31) - 0.1, at(39, 2)),
        ("BR", at(43) - 0.1, at(46, 4.5)),
        ("C3", at(47) - 0.1, at(59, 3)),
        ("Out", at(61) - 0.1, at(67, 2)),
    ]

    def cut(key: str, spans: list[tuple[str, float, float]]) -> list[Item]:
        """The same cuts for each microphone."""
        return [clip(f"{key} {section}", key, start, end, (0.01, 0.25)) for section, start, end in spans]

    hall = [send("hall", -22.0)]
    return [
        strip("kick", "Kick", -9.0, 0.0, "drums", parent="drums", clips=cut("kick", play),
              inserts=[eq(hpf(32), band("bell", 280, -3.0, 1.2)), comp(-20, 3, 25, 120)]),
        strip("snare", "Sn Brush", -7.5, 4.0, "drums", parent="drums", clips=cut("snare", play),
              inserts=[eq(hpf(95), band("high-shelf", 7500, 1.5, 0.7)), comp(-22, 2.5, 15, 140)], sends=[*hall]),
        strip("ohl", "OH L", -10.0, -80.0, "drums", parent="drums", clips=cut("ohl", cymbals),
              sends=[send("hall", -26.0)], inserts=[eq(hpf(120), band("high-shelf", 10000, 1.0, 0.7))]),
        strip("ohr", "OH R", -10.0, 80.0, "drums", parent="drums", clips=cut("ohr", cymbals),
              sends=[send("hall", -26.0)], inserts=[eq(hpf(120), band("high-shelf", 10000, 1.0, 0.7))]),
        group("drums", "DRUMS", -4.0, inserts=[comp(-16, 2, 30, 150, 1.0, "Bus Comp")]),
        strip("bdi", "Bass DI", -9.5, 0.0, "mix", clips=cut("bdi", bass), comment="DI + amp = one bass, move together",
              inserts=[eq(hpf(35), band("low-shelf", 90, 1.0, 0.7)), comp(-22, 4, 20, 160, 2.0)]),
        strip("bamp", "Bass Amp", -12.0, 0.0, "mix", clips=cut("bamp", bass),
              inserts=[eq(hpf(70), band("bell", 800, 1.5, 1.0)), comp(-20, 3, 20, 160, 1.0)]),
    ]  # fmt: skip


def guitars() -> list[Item]:
    """Two fingerpicked guitars left and right and the nylon fills between them."""
    spans = [
        ("V1-C1", at(7) - 0.3, at(23) + 0.03, (0.02, 0.03)),
        ("V2-C2", at(23), at(39, 3), (0.03, 0.4)),
        ("BR", at(41) - 0.2, at(46, 4.5), (0.02, 0.2)),
        ("C3-Out", at(47) - 0.25, at(67, 2), (0.02, 2.0)),
    ]
    fills = [
        ("nyl intro", at(4) - 0.1, at(7, 1.5), (0.02, 0.3)),
        ("nyl V1 end", at(13) - 0.1, at(15, 2), (0.02, 0.3)),
        ("nyl C2", at(31) - 0.1, at(39, 2), (0.02, 0.3)),
        ("nyl BR-Out", at(39, 3), at(66, 4), (0.02, 1.5)),
    ]
    tone = [hpf(85), band("bell", 210, -2.0, 1.1), band("high-shelf", 9000, 1.5, 0.7)]
    return [
        strip("agl", "AG L", -7.0, -72.0, "gtrs", parent="gtrs", sends=[send("agvr", -13.0)],
              clips=[clip(f"ag left {s}", "agl", a, b, f) for s, a, b, f in spans],
              inserts=[eq(*[dict(b) for b in tone]), comp(-20, 2.5, 25, 150, 1.0)], comment="verb across on the R"),
        strip("agr", "AG R", -7.5, 72.0, "gtrs", parent="gtrs", sends=[send("agvl", -13.0)],
              clips=[clip(f"ag right {s}", "agr", a, b, f) for s, a, b, f in spans],
              inserts=[eq(*[dict(b) for b in tone]), comp(-20, 2.5, 25, 150, 1.0)], comment="verb across on the L"),
        strip("agn", "AG Nylon", -10.0, 10.0, "gtrs", parent="gtrs",
              sends=[send("agvr", -20.0), send("agvl", -20.0)],
              clips=[clip(s, "agn", a, b, f) for s, a, b, f in fills],
              inserts=[eq(hpf(95), band("bell", 2600, -1.5, 1.4))],
              automation=[lane("mute", [(0.0, 0.0), (at(43), 1.0), (at(47) - 0.2, 0.0)], "switch", "hold")],
              comment="out for 2nd half of bridge (chair), back in for C3"),
        group("gtrs", "GTRS", -5.0, inserts=[eq(band("bell", 400, -1.0, 0.9))],
              automation=[sections("fader", [(1, -5.0), (15, -6.0), (23, -5.0), (31, -6.2), (41, -4.5), (47, -6.2),
                                             (59, -5.0)])]),
    ]  # fmt: skip


def piano_and_strings() -> list[Item]:
    """The piano with low and high microphone and the overdubbed quartet."""
    spans = [
        ("Intro-C2", at(3) - 0.5, at(39) + 0.04, (0.2, 0.04)),
        ("BR", at(39), at(47) + 0.04, (0.04, 0.04)),
        ("C3-End", at(47), END, (0.04, 3.5)),
    ]
    bows = [
        ("V2b-C2", at(27) - 0.2, at(39, 2), (0.05, 0.5)),
        ("BR", at(41) - 0.2, at(46, 4.6), (0.05, 0.15)),
        ("C3", at(47) - 0.15, at(59, 3), (0.05, 0.5)),
        ("Out", at(60, 3) - 0.2, END, (0.05, 3.0)),
    ]
    made = []
    for key, name, pan, fader, tone in [
        ("pnolo", "Pno Lo", -45.0, -8.0, [hpf(40), band("bell", 230, -2.0, 1.0)]),
        ("pnohi", "Pno Hi", 45.0, -8.5, [hpf(60), band("high-shelf", 8000, 1.0, 0.7)]),
    ]:
        made.append(
            strip(key, name, fader, pan, "piano", parent="piano", sends=[send("hall", -17.0)],
                  clips=[clip(f"{key} {s}", key, a, b, f) for s, a, b, f in spans], inserts=[eq(*tone)])
        )  # fmt: skip
    made.append(group("piano", "PIANO", -3.5, inserts=[comp(-18, 2, 35, 200, 1.0, "Bus Comp")]))
    for key, name, pan, fader, low in [
        ("vln1", "Vln 1", -45.0, -11.0, 140.0),
        ("vln2", "Vln 2", -20.0, -12.0, 140.0),
        ("vla", "Vla", 22.0, -11.5, 100.0),
        ("vc", "Vc", 48.0, -10.5, 55.0),
    ]:
        made.append(
            strip(key, name, fader, pan, "strings", parent="strings", sends=[send("hall", -11.0)],
                  clips=[clip(f"{key} {s}", key, a, b, f) for s, a, b, f in bows],
                  inserts=[eq(hpf(low), band("bell", 3200, -1.5, 1.2))])
        )  # fmt: skip
    ride = sections("fader", [(1, -6.0), (31, -4.5), (41, -5.5), (47, -3.5), (60, -5.0)])
    made.append(group("strings", "STRINGS", -6.0, inserts=[eq(band("high-shelf", 9000, 1.0, 0.7))], automation=[ride]))
    return made


def lead_clips(key: str, label: str, halves: list[tuple[str, int, int]], gains: dict[str, float]) -> list[Item]:
    """Lead phrases of about four bars: half a second of breath before, air after."""
    return [
        clip(f"{label} {name}", key, at(first) - 0.5, at(last, 4.2), (0.02, 0.12), gains.get(name, 0.0))
        for name, first, last in halves
    ]


def vocals() -> list[Item]:
    """Lead, double, spare take and four backing voices with their groups."""
    full = [("V1a", 7, 10), ("V1b", 11, 14), ("C1a", 15, 18), ("C1b", 19, 22), ("V2a", 23, 26), ("V2b", 27, 30),
            ("C2a", 31, 34), ("C2b", 35, 38), ("BRa", 39, 42), ("BRb", 43, 46), ("C3a", 47, 50), ("C3b", 51, 54),
            ("C3c", 55, 58), ("Out", 61, 64)]  # fmt: skip
    double = [x for x in full if x[0] in {"C1b", "C2a", "C2b", "C3a", "C3b", "C3c"}]
    spare = [x for x in full if x[0][:2] in {"V1", "V2", "BR"}]
    ride = sections("fader", [(1, -5.0), (15, -4.0), (23, -5.2), (31, -3.8), (39, -5.4), (47, -3.2), (61, -5.8)])
    words = throws("send:1:level", -40.0, [(14, 3, -14.0), (22, 3, -15.0), (30, 3, -14.0), (38, 3, -13.0),
                                           (46, 3, -12.0), (58, 3, -13.0)])  # fmt: skip
    made = [
        strip("lv", "LV", -5.0, 0.0, "vox", parent="vox", sends=[send("plate", -12.0), send("dly", -40.0)],
              clips=lead_clips("lv", "LV", full, {"V1a": 0.8, "V2b": -0.6, "BRa": 1.2, "C3b": -0.5}),
              inserts=[eq(hpf(85), band("bell", 320, -2.0, 1.3)), comp(-22, 3, 8, 90, 3.0), deess(6800, -5.0),
                       comp(-18, 2, 30, 180, 1.0, "Comp 2"), eq(band("high-shelf", 11000, 1.5, 0.7))],
              automation=[ride, words], comment="comp v7 approved"),
        strip("lvdbl", "LV Dbl", -15.0, 0.0, "vox", parent="vox", sends=[send("plate", -14.0)],
              clips=lead_clips("lvdbl", "LV dbl", double, {}),
              inserts=[eq(hpf(130), band("bell", 320, -3.0, 1.3)), comp(-26, 4, 5, 80, 3.0), deess(6800, -9.0)]),
        strip("lvtk2", "LV tk2", -5.0, 0.0, "vox", parent="vox", mute=True,
              clips=lead_clips("lvtk2", "LV tk2", spare, {}), inserts=[eq(hpf(85))],
              comment="SPARE take, verses + bridge, not in mix"),
    ]  # fmt: skip
    for key, name, pan, fader in [
        ("bvhil", "BV Hi L", -60.0, -12.0),
        ("bvhir", "BV Hi R", 60.0, -12.0),
        ("bvlol", "BV Lo L", -85.0, -13.0),
        ("bvlor", "BV Lo R", 85.0, -13.0),
    ]:
        made.append(
            strip(key, name, fader, pan, "bvox", parent="bvox", clips=bv_clips(key), sends=[send("plate", -11.0)],
                  inserts=[eq(hpf(150), band("bell", 350, -2.5, 1.0)), comp(-24, 4, 6, 90, 2.0), deess(7000, -6.0)])
        )  # fmt: skip
    tone = eq(band("bell", 2500, -1.5, 0.8), band("high-shelf", 10000, 1.5, 0.7))
    glue = comp(-20, 2, 20, 160, 1.0, "Bus Comp")
    made.append(group("bvox", "BVOX", -3.0, "vox", parent="vox", inserts=[tone, glue]))
    made.append(group("vox", "VOX", -1.5, inserts=[comp(-14, 1.5, 30, 200, 0.5, "Bus Comp")]))
    return made


def returns_and_mix() -> list[Item]:
    """The reverbs, the delay and the mix bus."""

    def small(key: str, name: str, pan: float, comment: str) -> Item:
        """A small mono plate set to one side for one guitar."""
        return strip(key, name, -4.0, pan, "mix", kind="return", comment=comment,
                     inserts=[verb("Small Plate", 1.3, 12.0),
                              eq(hpf(220), band("low-pass", 7500, slope=6.0, q=0.71))])  # fmt: skip

    def wide(key: str, name: str, fader: float, inserts: list[Item]) -> Item:
        """A stereo return."""
        return strip(key, name, fader, 0.0, "mix", kind="return", legs=2, inserts=inserts)

    fade = [(0.0, 0.0), (at(66, 3), 0.0), (at(67), -9.0), (at(67, 2), -26.0), (END, -90.0)]
    return [
        small("agvr", "Verb AG>R", 78.0, "for AG L"),
        small("agvl", "Verb AG>L", -78.0, "for AG R"),
        wide("plate", "Plate Vox", -6.0, [verb("Plate", 2.1, 35.0), eq(hpf(250), band("bell", 3000, -2.0, 1.0))]),
        wide("hall", "Hall", -7.0, [verb("Hall", 2.8, 18.0), eq(hpf(180))]),
        wide("dly", "Vox Dly", -8.0, [delay("Delay 8th dot", 661.8, 28.0), eq(hpf(300), band("low-pass", 4500))]),
        {"id": "mix", "name": "MIX", "kind": "master", "legs": 2, "fader_db": 0.0, "pan": 0.0, "mute": False,
         "solo": False, "inserts": [eq(hpf(22), band("high-shelf", 12000, 0.8, 0.7)),
                                    comp(-12, 1.5, 30, 200, 1.0, "Glue Comp"), limiter(-1.0)],
         "automation": [lane("fader", fade)]},
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    marks = [(1, 1, "Count"), (3, 1, "Intro"), (7, 1, "V1"), (15, 1, "C1"), (23, 1, "V2"), (31, 1, "C2"),
             (39, 1, "Bridge"), (47, 1, "C3"), (59, 1, "Outro"), (62, 1, "rit."), (65, 1, "Last chord"),
             (67, 3, "END")]  # fmt: skip
    return {
        "format": "mixlint-session/1",
        "title": "Salt on the Windowsill - mix 5",
        "sample_rate_hz": 48000.0,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar, beat), "name": name} for bar, beat, name in marks],
        "channels": [
            *drums_and_bass(),
            *guitars(),
            *piano_and_strings(),
            *vocals(),
            *returns_and_mix(),
        ],
        "media": media(),
        "metadata": {"take": "drums/bass/gtr t4, piano t7", "lyric": "sheet v3"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def named_clip(session: Session, name: str, ending: str) -> Item:
    """The clip of a channel whose name ends in a certain way."""
    found: Item = next(c for c in channel(session, name)["clips"] if c["name"].endswith(ending))
    return found


def guitar_verb_same_side(session: Session) -> None:
    """The send of the right guitar points to the plate that lies right."""
    channel(session, "AG R")["sends"][0]["to"] = "agvr"


def lead_ride_decimal(session: Session) -> None:
    """The lead's level for the last chorus was typed as -32 instead of -3.2."""
    ride = channel(session, "LV")["automation"][0]
    ride["v"] = [-32.0 if value == -3.2 else value for value in ride["v"]]


def cello_highpass(session: Session) -> None:
    """The cello's high-pass got a digit too many."""
    channel(session, "Vc")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 550.0


def bass_amp_late(session: Session) -> None:
    """The amplifier's clip of the second chorus was nudged, the box's was not."""
    late = named_clip(session, "Bass Amp", "C2")
    late["start_s"] = round(late["start_s"] + 0.023, 4)
    late["end_s"] = round(late["end_s"] + 0.023, 4)


def backing_copied_over(session: Session) -> None:
    """The right high voice plays the left one's second chorus."""
    right, left = named_clip(session, "BV Hi R", "C2"), named_clip(session, "BV Hi L", "C2")
    right.update(name=left["name"], file=left["file"], offset_s=left["offset_s"])


def backing_skips_group(session: Session) -> None:
    """One low voice goes past its group."""
    channel(session, "BV Lo L")["output"] = "vox"


def fade_from_short_ending(session: Session) -> None:
    """The fade on the mix stands where it was before the outro grew by three bars."""
    fade = channel(session, "MIX")["automation"][0]
    fade["t"] = [0.0, at(63, 3), at(64), at(64, 2), at(64, 3)]


def viola_on_desktop(session: Session) -> None:
    """The repaired viola bridge was dragged in from somebody's desktop and never copied in."""
    fix = medium("vla_fix", "../../../Desktop/from_Marta/vla_bridge_fix2.wav", 1, QUARTET)
    fix["place"] = "outside"
    session["media"].append(fix)
    named_clip(session, "Vla", "BR").update(name="vla_bridge_fix2", file="vla_fix")


def viola_level(session: Session) -> None:
    """The viola's fader lost a digit."""
    channel(session, "Vla")["fader_db"] = -1.5


def piano_one_side(session: Session) -> None:
    """Both piano microphones lie left."""
    channel(session, "Pno Hi")["pan"] = -45.0


def nylon_stays_muted(session: Session) -> None:
    """The point that opens the nylon guitar for the last chorus is gone."""
    mute = channel(session, "AG Nylon")["automation"][0]
    del mute["t"][2], mute["v"][2]


ACCEPTED: list[Item] = [
    {"channels": ["LV tk2"], "why": "a spare take, muted on purpose and named so in the comment"},
    {"channels": ["AG Nylon"], "why": "its clip runs on through the muted half of the bridge, as the comment says"},
    {"channels": ["Verb AG>R", "Verb AG>L"], "why": "mono reverbs set hard to the side across from their guitar"},
    {"channels": ["MIX"], "why": "the last chord is faded on the mix bus fader down to -90 dB"},
]

FAULTS: list[Item] = [
    {
        "id": "guitar-verb-same-side",
        "class": "ambience",
        "channels": ["AG R", "Verb AG>L"],
        "grade": "look",
        "says": "AG R feeds the right-hand plate meant for AG L; its own reverb on the left gets only the nylon.",
        "plant": guitar_verb_same_side,
    },
    {
        "id": "lead-ride-decimal",
        "class": "automation",
        "channels": ["LV"],
        "grade": "hold",
        "says": "The lead's ride falls to -32 dB for the whole last chorus; its other sections lie near -4 or -5.",
        "plant": lead_ride_decimal,
    },
    {
        "id": "cello-highpass",
        "class": "processors",
        "channels": ["Vc"],
        "grade": "look",
        "says": "The cello is high-passed at 550 Hz, far above the violins' 140 Hz; its body is gone.",
        "plant": cello_highpass,
    },
    {
        "id": "bass-amp-late",
        "class": "phase",
        "channels": ["Bass Amp", "Bass DI"],
        "grade": "look",
        "says": "In C2 the bass amp is 23 ms later than the DI of the same take; elsewhere they are together.",
        "plant": bass_amp_late,
    },
    {
        "id": "backing-copied-over",
        "class": "twice",
        "channels": ["BV Hi R", "BV Hi L"],
        "grade": "look",
        "says": "In C2 BV Hi R plays the file of BV Hi L, so the pair is the same take twice.",
        "plant": backing_copied_over,
    },
    {
        "id": "backing-skips-group",
        "class": "routing",
        "channels": ["BV Lo L"],
        "grade": "look",
        "says": "BV Lo L goes straight to VOX while the other three backing voices go through BVOX.",
        "plant": backing_skips_group,
    },
    {
        "id": "fade-from-short-ending",
        "class": "end",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The mix is faded to silence three bars before the end; the last chord is not heard.",
        "plant": fade_from_short_ending,
    },
    {
        "id": "viola-on-desktop",
        "class": "hand-over",
        "channels": ["Vla"],
        "grade": "note",
        "says": "The viola's bridge plays a file that lies outside the session folder and will not travel with it.",
        "plant": viola_on_desktop,
    },
    {
        "id": "viola-level",
        "class": "level",
        "channels": ["Vla"],
        "grade": "look",
        "says": "The viola's fader stands at -1.5 dB, some ten above the rest of the quartet.",
        "plant": viola_level,
    },
    {
        "id": "piano-one-side",
        "class": "place",
        "channels": ["Pno Hi", "Pno Lo"],
        "grade": "look",
        "says": "Both piano microphones are panned 45 left; the high one belongs on the right.",
        "plant": piano_one_side,
    },
    {
        "id": "nylon-stays-muted",
        "class": "inaudible",
        "channels": ["AG Nylon"],
        "grade": "hold",
        "says": "The nylon guitar is muted in the bridge and never opened again; last chorus and outro go unheard.",
        "plant": nylon_stays_muted,
    },
]
