"""Low Water: a folk-pop song of four minutes at 92, one short bar before the last chorus.

The band (drums, bass, left guitar) went down live in one room to a click; right guitar, mandolin and voices are
overdubs on the same timeline, so every file keeps its place from where it was recorded. The two acoustic guitars sit
hard apart and each is answered by a reverb of its own on the other side. The lead is a comp of four takes, two harmony
singers come in for the choruses and hum in the bridge. The mandolin was played in one pass and is switched in and out
by mute rides. The engineer works with few groups, small rides, notes in the comments, and sends an unlimited mix to
mastering.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]
Points = list[tuple[float, float]]

BPM = 92.0
BEAT = 60.0 / BPM
SHORT_BAR = 74
RATE = 48000.0


def bar(number: int, beat: float = 1.0) -> float:
    """The time of a beat in a bar; bar 74 holds two beats only."""
    before = (number - 1) * 4 - (2 if number > SHORT_BAR else 0)
    return round((before + beat - 1.0) * BEAT, 4)


INTRO, V1, CH1, V2, CH2, BREAK, BRIDGE, CH3, OUTRO, LAST = 3, 11, 27, 35, 51, 59, 67, 75, 91, 99
END = round(bar(LAST) + 7.2, 3)

# id: path, legs, place in the song where the recording starts, length
FILES: dict[str, tuple[str, int, float, float]] = {
    "kick": ("audio/kick_t4.wav", 1, 0.0, 269.31),
    "snare": ("audio/snare_t4.wav", 1, 0.0, 269.31),
    "ohl": ("audio/oh_l_t4.wav", 1, 0.0, 269.31),
    "ohr": ("audio/oh_r_t4.wav", 1, 0.0, 269.31),
    "droom": ("audio/drm_room_t4.wav", 2, 0.0, 269.31),
    "bdi": ("audio/bass_di_t4.wav", 1, 0.0, 269.31),
    "bamp": ("audio/bass_amp_t4.wav", 1, 0.0, 269.31),
    "gl4": ("audio/ac_gtr_l_t4.wav", 1, 0.0, 269.31),
    "gl2": ("audio/ac_gtr_l_t2.wav", 1, 0.0, 268.87),
    "gr1": ("audio/gtr_r_od_01.wav", 1, bar(2), 266.2),
    "gr3": ("audio/gtr_r_od_03.wav", 1, bar(33), 184.9),
    "md": ("audio/mando_od_02.wav", 1, bar(2), 265.4),
    "mdold": ("audio/mando_od_01.wav", 1, bar(57), 31.6),
    "tmb": ("audio/shk_tamb_od.wav", 1, bar(25), 201.7),
    "lv2": ("audio/lv_t2.wav", 1, 0.0, 266.02),
    "lv3": ("audio/lv_t3.wav", 1, 0.0, 266.4),
    "lv4": ("audio/lv_t4.wav", 1, 0.0, 265.75),
    "lv5": ("audio/lv_t5_bridge.wav", 1, bar(65), 31.2),
    "ld1": ("audio/lv_dbl_01.wav", 1, bar(25), 186.5),
    "hhi": ("audio/harm_hi_02.wav", 1, bar(25), 187.3),
    "hlo": ("audio/harm_lo_02.wav", 1, bar(25), 186.9),
    "clk": ("audio/click.wav", 1, 0.0, 269.31),
    "rough": ("audio/low_water_rough3.wav", 2, 0.0, 263.1),
}


def media() -> list[Item]:
    """All files with their lengths."""
    return [
        {
            "id": key,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for key, (path, legs, _start, length) in FILES.items()
    ]


def clip(
    file: str, start: float, end: float, name: str, fades: tuple[float, float] = (0.01, 0.01), gain: float = 0.0
) -> Item:
    """A stretch of a file in the place where it was recorded."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start - FILES[file][2], 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": gain,
        "on": True,
    }


def eq(name: str, *bands: tuple[str, float, float, float], on: bool = True) -> Item:
    """An equalizer; a cut filter gives its slope in the last place, any other band its Q."""
    rows: list[Item] = []
    for kind, freq, gain, last in bands:
        row: Item = {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True}
        row["slope_db_per_oct" if kind.endswith("-pass") else "q"] = last
        rows.append(row)
    return {"name": name, "kind": "equalizer", "on": on, "opaque": False, "equalizer": {"bands": rows}}


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Item:
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
            "output_gain_db": makeup,
            "auto_makeup": False,
        },
    }


def tool(name: str, kind: str, on: bool = True, **values: tuple[float | bool | str, str]) -> Item:
    """A processor with listed settings (value and unit)."""
    rows = [{"id": key, "name": key.replace("_", " "), "value": v, "unit": unit} for key, (v, unit) in values.items()]
    return {"name": name, "kind": kind, "on": on, "opaque": False, "parameters": rows}


def reverb(name: str, decay: float, pre_delay: float) -> Item:
    """A reverb for a return: all wet."""
    made = tool(name, "reverb", decay=(decay, "s"))
    return {**made, "wet": 100.0, "pre_delay_ms": pre_delay}


def send(to: str, level: float, on: bool = True) -> Item:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def ride(target: str, points: Points, scale: str = "dB", shape: str = "linear") -> Item:
    """A ride from pairs of time and value."""
    ordered = sorted(points)
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [round(t, 4) for t, _ in ordered],
        "v": [v for _, v in ordered],
    }


def strip(key: str, name: str, kind: str, fader: float, pan: float = 0.0, out: str = "mix", **more: Any) -> Item:
    """One strip of the desk."""
    made: Item = {
        "id": key,
        "name": name,
        "kind": kind,
        "parent": None if kind in ("return", "master") or out == "mix" else out,
        "plays": ["audio"] if kind == "track" else [],
        "legs": 1 if kind == "track" else 2,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    if kind == "master":
        del made["output"]
    made.update(more)
    return made


def live(file: str, name: str) -> list[Item]:
    """The live drums: out for the bridge, back with the fill in the short bar, ringing out at the end."""
    return [
        clip(file, bar(V1) - 0.12, bar(BRIDGE) + 1.9, f"{name}_t4.1", (0.02, 0.6)),
        clip(file, bar(SHORT_BAR) - 0.08, END, f"{name}_t4.2", (0.02, 2.5)),
    ]


def drums() -> list[Item]:
    """Drum strips."""
    lift: Points = [(0.0, -13.0)]
    for start, stop in ((CH1, V2), (CH2, BREAK), (CH3, OUTRO)):
        lift += [(bar(start) - 0.3, -13.0), (bar(start), -11.0), (bar(stop) - 0.3, -11.0), (bar(stop), -13.0)]
    return [
        strip(
            "ch1", "Kick", "track", -7.5, out="drm", clips=live("kick", "Kick"),
            inserts=[
                eq("EQ 4", ("high-pass", 32.0, 0.0, 12.0), ("bell", 310.0, -3.5, 1.4), ("bell", 3600.0, 2.0, 0.9)),
                comp("Comp", -18.0, 3.0, 25.0, 110.0, 2.0),
            ],
        ),
        strip(
            "ch2", "Snare", "track", -8.2, out="drm", clips=live("snare", "Snare"),
            sends=[send("rvroom", -12.0)],
            inserts=[
                eq("EQ 4", ("high-pass", 90.0, 0.0, 12.0), ("bell", 195.0, 1.5, 1.0), ("high-shelf", 7000.0, 1.5, 0.7)),
                comp("Comp", -20.0, 3.5, 12.0, 90.0, 2.5),
            ],
        ),
        strip(
            "ch3", "OH L", "track", -10.0, -80.0, "drm", clips=live("ohl", "OH L"),
            inserts=[eq("EQ 4", ("high-pass", 140.0, 0.0, 12.0), ("high-shelf", 9500.0, 1.0, 0.7))],
        ),
        strip(
            "ch4", "OH R", "track", -10.0, 80.0, "drm", clips=live("ohr", "OH R"),
            inserts=[eq("EQ 4", ("high-pass", 140.0, 0.0, 12.0), ("high-shelf", 9500.0, 1.0, 0.7))],
        ),
        strip(
            "ch5", "Drm Room", "track", -13.0, out="drm", clips=live("droom", "Drm Room"), legs=2,
            inserts=[comp("Comp", -26.0, 4.0, 8.0, 160.0, 3.0)],
            automation=[ride("fader", lift)],
            comment="2 dB up in choruses",
        ),
        strip(
            "ch6", "Shk/Tamb", "track", -17.5, 22.0, "drm",
            clips=[
                clip("tmb", bar(CH1) - 0.1, bar(V2) + 0.2, "shk ch1", (0.02, 0.1)),
                clip("tmb", bar(CH2) - 0.1, bar(BRIDGE) + 0.2, "shk ch2+break", (0.02, 0.1)),
                clip("tmb", bar(CH3) - 0.1, bar(OUTRO) + 0.2, "tamb ch3", (0.02, 0.1)),
            ],
            sends=[send("rvroom", -16.0)],
            inserts=[eq("EQ 4", ("high-pass", 260.0, 0.0, 18.0))],
        ),
    ]  # fmt: skip


def bass() -> list[Item]:
    """Bass strips; DI and amp were cut together."""

    def cut(file: str, name: str) -> list[Item]:
        return [
            clip(file, bar(V1) - 0.1, bar(BRIDGE) + 2.3, f"{name}_t4.1", (0.02, 0.8)),
            clip(file, bar(71) - 0.1, END, f"{name}_t4.2", (0.02, 2.5)),
        ]

    return [
        strip(
            "ch7", "Bass DI", "track", -9.0, out="bss", clips=cut("bdi", "Bass DI"),
            inserts=[
                tool("Time adj", "utility", delay=(1.6, "ms"), polarity_invert=(False, "")),
                eq("EQ 4", ("high-pass", 35.0, 0.0, 12.0), ("bell", 220.0, -2.0, 1.1)),
            ],
            comment="delayed 1.6 ms to meet the amp mic",
        ),
        strip(
            "ch8", "Bass Amp", "track", -8.0, out="bss", clips=cut("bamp", "Bass Amp"),
            inserts=[eq("EQ 4", ("high-pass", 40.0, 0.0, 12.0), ("bell", 850.0, 1.5, 0.8))],
            comment="cab mic comes 1.6 ms after the DI",
        ),
    ]  # fmt: skip


def strings() -> list[Item]:
    """Acoustic guitars and mandolin."""
    left = [
        clip("gl4", bar(INTRO) - 0.2, bar(V2) - 0.06, "GtrL t4 intro-ch1", (0.02, 0.01)),
        clip("gl2", bar(V2) - 0.06, bar(CH2) - 0.04, "GtrL t2 v2"),
        clip("gl4", bar(CH2) - 0.04, bar(BRIDGE) - 0.05, "GtrL t4 ch2+break"),
        clip("gl4", bar(BRIDGE) - 0.05, END, "GtrL t4 bridge-end", (0.01, 2.5)),
    ]
    right = [
        clip("gr1", bar(INTRO) - 0.15, bar(V2) - 0.05, "GtrR 01 intro-ch1", (0.02, 0.01)),
        clip("gr3", bar(V2) - 0.05, bar(BRIDGE) - 0.05, "GtrR 03 v2-break"),
        clip("gr3", bar(BRIDGE) - 0.05, END, "GtrR 03 bridge-end", (0.01, 2.5)),
    ]
    switch: Points = [(0.0, 1.0), (bar(INTRO) - 0.1, 0.0), (bar(V1) + 0.5, 1.0)]
    switch += [(bar(CH1) - 0.4, 0.0), (bar(V2) + 0.5, 1.0), (bar(43) - 0.4, 0.0), (bar(BRIDGE) + 0.7, 1.0)]
    switch += [(bar(CH3) - 0.4, 0.0)]
    lead_break: Points = [(0.0, -12.5), (bar(BREAK) - 0.5, -12.5), (bar(BREAK), -8.5), (bar(BRIDGE) - 0.1, -8.5)]
    lead_break += [(bar(BRIDGE) + 0.6, -12.5), (END, -12.5)]
    return [
        strip(
            "ch9", "Ac Gtr L", "track", -8.5, -100.0, "ac", clips=left, sends=[send("rvgl", -9.0)],
            inserts=[
                eq("EQ 4", ("high-pass", 80.0, 0.0, 12.0), ("bell", 210.0, -2.5, 1.2), ("bell", 5200.0, 1.0, 0.8)),
                comp("Comp", -22.0, 2.0, 30.0, 180.0, 1.5),
            ],
        ),
        strip(
            "ch10", "Ac Gtr R", "track", -9.0, 100.0, "ac", clips=right, sends=[send("rvgr", -9.0)],
            inserts=[
                eq("EQ 4", ("high-pass", 80.0, 0.0, 12.0), ("bell", 240.0, -2.0, 1.2), ("bell", 4800.0, 1.5, 0.8)),
                comp("Comp", -21.0, 2.0, 30.0, 180.0, 1.5),
            ],
            comment="od, same guitar, 03 from v2 on",
        ),
        strip(
            "ch11", "Mando", "track", -12.5, 18.0, "ac",
            clips=[clip("md", bar(INTRO) - 0.2, END, "Mando od 02", (0.02, 2.5))],
            sends=[send("rvroom", -11.0)],
            inserts=[
                eq("EQ 4", ("high-pass", 150.0, 0.0, 12.0), ("bell", 2600.0, -2.0, 1.5)),
                comp("Comp", -20.0, 2.5, 15.0, 120.0, 1.0),
            ],
            automation=[ride("mute", switch, "switch", "hold"), ride("fader", lead_break)],
            comment="one pass, he hums along when not playing: muted between phrases",
        ),
        strip(
            "ch12", "Mando old", "track", -12.5, 18.0, "ac", mute=True,
            clips=[clip("mdold", bar(BREAK) - 0.2, bar(BRIDGE) + 0.8, "Mando od 01 break", (0.02, 0.3))],
            comment="first idea for the break, not used, keep muted",
        ),
    ]  # fmt: skip


def lead_ride() -> Item:
    """The lead's ride: a little by section, and three dips for a loud breath."""
    points: Points = [(0.0, -5.0), (bar(CH1) - 0.5, -5.0), (bar(CH1) - 0.3, -4.2), (bar(V2) - 0.8, -4.2)]
    points += [(bar(V2) - 0.4, -5.0), (bar(CH2) - 0.5, -5.0), (bar(CH2) - 0.3, -4.2), (bar(BREAK) - 0.4, -4.2)]
    points += [(bar(BRIDGE) - 0.5, -5.6), (bar(SHORT_BAR, 2.0), -5.6), (bar(CH3) - 0.3, -3.8), (bar(OUTRO) - 0.8, -3.8)]
    points += [(bar(OUTRO) - 0.4, -5.4), (END, -5.4)]
    for at, base in ((bar(22, 4.2), -5.0), (bar(38, 4.2), -5.0), (bar(82, 4.0), -3.8)):
        points += [(at - 0.15, base), (at, -16.0), (at + 0.35, -16.0), (at + 0.5, base)]
    return ride("fader", points)


def voices() -> list[Item]:
    """Lead, double and the two harmony singers."""
    up = 0.35
    plan = [("lv3", V1, 19, "v1a"), ("lv2", 19, CH1, "v1b"), ("lv3", CH1, V2, "ch1"), ("lv4", V2, 43, "v2a")]
    plan += [("lv3", 43, CH2, "v2b"), ("lv3", CH2, BREAK, "ch2"), ("lv5", BRIDGE, SHORT_BAR, "bridge")]
    plan += [("lv4", CH3, 83, "ch3a"), ("lv3", 83, OUTRO, "ch3b"), ("lv2", OUTRO, 98, "outro")]
    lead = [clip(f, bar(a) - up, bar(b) - up, f"LV {f[2:]} {part}", (0.015, 0.02)) for f, a, b, part in plan]
    lead[3]["gain_db"] = 1.0

    def chorus(file: str, name: str, early: float, hum: bool) -> list[Item]:
        parts = [(CH1, V2, "ch1"), (CH2, BREAK, "ch2"), (BRIDGE, SHORT_BAR, "oohs"), (CH3, OUTRO, "ch3")]
        made = [clip(file, bar(a) - early, bar(b) + 0.1, f"{name} {part}", (0.03, 0.08)) for a, b, part in parts]
        return made if hum else made[:2] + made[3:]

    return [
        strip(
            "ch13", "Lead Vox", "track", -5.0, out="vox", clips=lead,
            sends=[send("rvpl", -13.0), send("echo", -19.0)],
            inserts=[
                eq("EQ 6", ("high-pass", 85.0, 0.0, 18.0), ("bell", 280.0, -2.0, 1.2), ("high-shelf", 9e3, 1.5, 0.7)),
                comp("Comp", -21.0, 3.0, 10.0, 130.0, 3.0),
                tool("De-ess", "de-esser", frequency=(6400.0, "Hz"), threshold=(-27.0, "dB"), range=(-5.0, "dB")),
            ],
            automation=[lead_ride()],
        ),
        strip(
            "ch14", "LV dbl", "track", -15.5, out="vox", clips=chorus("ld1", "LV dbl", up, hum=False),
            sends=[send("rvpl", -12.0)],
            inserts=[
                eq("EQ 6", ("high-pass", 120.0, 0.0, 18.0), ("high-shelf", 6000.0, -2.5, 0.7)),
                comp("Comp", -26.0, 5.0, 4.0, 90.0, 4.0),
                tool("De-ess", "de-esser", frequency=(6000.0, "Hz"), threshold=(-32.0, "dB"), range=(-8.0, "dB")),
            ],
            comment="felt, not heard",
        ),
        strip(
            "ch15", "Harm hi", "track", -11.0, -38.0, "vox", clips=chorus("hhi", "Harm hi", 0.25, hum=True),
            sends=[send("rvpl", -10.5)],
            inserts=[
                eq("EQ 6", ("high-pass", 140.0, 0.0, 12.0), ("bell", 3100.0, -1.5, 1.4)),
                comp("Comp", -22.0, 3.0, 10.0, 130.0, 2.5),
                tool("De-ess", "de-esser", frequency=(7100.0, "Hz"), threshold=(-29.0, "dB"), range=(-5.0, "dB")),
            ],
        ),
        strip(
            "ch16", "Harm lo", "track", -10.4, 38.0, "vox", clips=chorus("hlo", "Harm lo", 0.25, hum=True),
            sends=[send("rvpl", -10.5)],
            inserts=[
                eq("EQ 6", ("high-pass", 100.0, 0.0, 12.0), ("bell", 260.0, -2.0, 1.2)),
                comp("Comp", -22.0, 3.0, 10.0, 130.0, 2.5),
                tool("De-ess", "de-esser", frequency=(6300.0, "Hz"), threshold=(-29.0, "dB"), range=(-5.0, "dB")),
            ],
        ),
    ]  # fmt: skip


def buses() -> list[Item]:
    """Spares, groups, returns and the mix."""
    return [
        strip("ch17", "Click", "track", -14.0, clips=[clip("clk", 0.0, bar(LAST), "click")], mute=True,
              comment="92, for overdubs only"),
        strip("ch18", "Rough 3", "track", 0.0, clips=[clip("rough", 0.0, 262.0, "low_water_rough3")], mute=True, legs=2,
              comment="ref, the one the singer likes"),
        strip("drm", "Drum bus", "group", -1.5, inserts=[comp("Bus comp", -14.0, 2.0, 30.0, 120.0, 1.0)]),
        strip(
            "bss", "Bass bus", "group", -1.0,
            inserts=[comp("Comp", -19.0, 3.5, 20.0, 140.0, 2.5), eq("EQ 4", ("low-shelf", 75.0, 1.0, 0.7))],
        ),
        strip("ac", "Ac bus", "group", -0.8, inserts=[eq("EQ 4", ("bell", 2900.0, -1.0, 0.9))]),
        strip(
            "vox", "Vox bus", "group", 0.0,
            inserts=[comp("Bus comp", -15.0, 1.8, 20.0, 150.0, 1.0), eq("EQ 4", ("high-shelf", 12000.0, 1.0, 0.7))],
        ),
        strip(
            "rvgl", "GtrL verb >R", "return", -7.0, 100.0, legs=1,
            inserts=[reverb("Chamber", 1.4, 24.0), eq("EQ 4", ("high-pass", 220.0, 0.0, 12.0))],
            comment="answers the left gtr from the right",
        ),
        strip(
            "rvgr", "GtrR verb <L", "return", -7.0, -100.0, legs=1,
            inserts=[reverb("Chamber", 1.4, 28.0), eq("EQ 4", ("high-pass", 220.0, 0.0, 12.0))],
            comment="answers the right gtr from the left",
        ),
        strip("rvroom", "Small room", "return", -8.5, inserts=[reverb("Room", 0.6, 4.0)]),
        strip(
            "rvpl", "Vox plate", "return", -5.5,
            inserts=[
                eq("EQ 4", ("high-pass", 250.0, 0.0, 12.0), ("low-pass", 9000.0, 0.0, 12.0)),
                reverb("Plate", 1.9, 35.0),
            ],
        ),
        strip(
            "echo", "Vox echo 1/8D", "return", -9.0,
            inserts=[
                {
                    **tool("Echo", "delay", time=(489.1, "ms"), feedback=(22.0, "%"), sync=(False, "")),
                    "wet": 100.0,
                },
                eq("EQ 4", ("high-pass", 300.0, 0.0, 12.0), ("low-pass", 4200.0, 0.0, 12.0)),
            ],
        ),
        strip(
            "mix", "Mix", "master", 0.0,
            inserts=[
                eq("EQ 4", ("low-shelf", 60.0, 0.5, 0.7), ("high-shelf", 11000.0, 0.8, 0.7)),
                comp("Bus comp", -12.0, 1.5, 30.0, 200.0, 0.5),
                {
                    "name": "Limiter", "kind": "limiter", "on": False, "opaque": False,
                    "dynamics": {"threshold_db": -1.0, "input_gain_db": 5.0, "output_gain_db": 0.0, "release_ms": 60.0},
                },
                tool("Meter", "analyser", integration=(300.0, "ms")),
            ],
            comment="goes to mastering unlimited. Limiter is for playing it to the band, OFF when printing",
        ),
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    places = [
        (1, "count"),
        (INTRO, "Intro"),
        (V1, "V1"),
        (CH1, "Ch1"),
        (V2, "V2"),
        (CH2, "Ch2"),
        (BREAK, "Mando break"),
    ]
    places += [(BRIDGE, "Bridge"), (CH3, "Ch3"), (OUTRO, "Outro"), (LAST, "last chord")]
    markers = [{"time_s": bar(number), "name": name} for number, name in places]
    return {
        "format": "mixlint-session/1",
        "title": "Low Water mix 5",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": 292.0, "beats": 2, "unit": 4},
                {"beat": 294.0, "beats": 4, "unit": 4},
            ],
        },
        "markers": [*markers, {"time_s": END, "name": "END"}],
        "channels": [*drums(), *bass(), *strings(), *voices(), *buses()],
        "media": media(),
        "metadata": {"artist": "The Ferry Steps", "version": "mix 5, to mastering"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def insert(session: Session, name: str, processor: str) -> Item:
    """A processor of a channel by its name."""
    found: Item = next(i for i in channel(session, name)["inserts"] if i["name"] == processor)
    return found


def setting(processor: Item, key: str, value: float | bool) -> None:
    """Turn one listed setting of a processor."""
    next(p for p in processor["parameters"] if p["id"] == key)["value"] = value


def verb_same_side(session: Session) -> None:
    """The left guitar's reverb is panned to the left."""
    channel(session, "GtrL verb >R")["pan"] = -100.0


def gtr_r_wrong_verb(session: Session) -> None:
    """The right guitar feeds the left guitar's reverb."""
    channel(session, "Ac Gtr R")["sends"][0]["to"] = "rvgl"


def dip_not_closed(session: Session) -> None:
    """The point that brings the lead back after the breath in verse two is gone."""
    moves = channel(session, "Lead Vox")["automation"][0]
    spot = moves["t"].index(round(bar(38, 4.2) + 0.5, 4))
    del moves["t"][spot], moves["v"][spot]


def harm_lo_late(session: Session) -> None:
    """The low harmony of chorus two has slid one beat to the right."""
    moved = next(c for c in channel(session, "Harm lo")["clips"] if c["name"] == "Harm lo ch2")
    moved["start_s"] = round(moved["start_s"] + BEAT, 4)
    moved["end_s"] = round(moved["end_s"] + BEAT, 4)


def overheads_same_file(session: Session) -> None:
    """The right overhead plays the left overhead's file."""
    for item in channel(session, "OH R")["clips"]:
        item["file"] = "ohl"


def di_delay_tenfold(session: Session) -> None:
    """The DI is delayed by sixteen instead of one point six milliseconds."""
    setting(insert(session, "Bass DI", "Time adj"), "delay", 16.0)


def gtr_r_thin(session: Session) -> None:
    """The right guitar's high-pass stands at 800."""
    insert(session, "Ac Gtr R", "EQ 4")["equalizer"]["bands"][0]["freq_hz"] = 800.0


def gtr_l_chopped(session: Session) -> None:
    """The left guitar's last chord is cut off."""
    last = channel(session, "Ac Gtr L")["clips"][-1]
    last["end_s"] = round(bar(LAST) + 1.3, 4)
    last["fade_out_s"] = 0.01


def limiter_left_on(session: Session) -> None:
    """The listening limiter is on for the print."""
    insert(session, "Mix", "Limiter")["on"] = True


def mando_stays_muted(session: Session) -> None:
    """The unmute before the break is gone."""
    moves = channel(session, "Mando")["automation"][0]
    spot = moves["t"].index(round(bar(43) - 0.4, 4))
    del moves["t"][spot], moves["v"][spot]


def echo_at_default(session: Session) -> None:
    """The echo stands at the dotted eighth of 120."""
    setting(insert(session, "Vox echo 1/8D", "Echo"), "time", 375.0)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Mando old"], "why": "a spare, muted and commented so; a reminder of it does no harm"},
    {"channels": ["Click", "Rough 3"], "why": "muted helpers; being told to leave them out of the hand-over is fair"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "verb-on-the-guitars-side",
        "class": "place",
        "channels": ["GtrL verb >R"],
        "grade": "look",
        "says": "The left guitar's reverb is panned left although name and comment put it right, where the other "
        "guitar's reverb has its counterpart; both reverbs now lie on the left.",
        "plant": verb_same_side,
    },
    {
        "id": "right-guitar-in-the-other-verb",
        "class": "routing",
        "channels": ["Ac Gtr R", "GtrR verb <L"],
        "grade": "look",
        "says": "Ac Gtr R sends to the left guitar's reverb, and its own reverb (GtrR verb <L) is fed by nothing.",
        "plant": gtr_r_wrong_verb,
    },
    {
        "id": "breath-dip-does-not-come-back",
        "class": "automation",
        "channels": ["Lead Vox"],
        "grade": "hold",
        "says": "After the breath at bar 38 the lead's ride stays near -16 dB and creeps up over half a verse; the two "
        "other dips come back at once.",
        "plant": dip_not_closed,
    },
    {
        "id": "low-harmony-a-beat-late",
        "class": "edits",
        "channels": ["Harm lo"],
        "grade": "hold",
        "says": "Harm lo's clip of Ch2 lies one beat later than Harm hi's and than where all its other clips lie in "
        "relation to their file.",
        "plant": harm_lo_late,
    },
    {
        "id": "one-overhead-twice",
        "class": "twice",
        "channels": ["OH R", "OH L"],
        "grade": "hold",
        "says": "OH R plays the file of OH L, so the overheads are one mono sound and the right file is unused.",
        "plant": overheads_same_file,
    },
    {
        "id": "bass-di-delay-tenfold",
        "class": "phase",
        "channels": ["Bass DI"],
        "grade": "look",
        "says": "The DI is delayed by 16 ms, while the comments on both bass channels say 1.6 ms.",
        "plant": di_delay_tenfold,
    },
    {
        "id": "right-guitar-high-pass",
        "class": "processors",
        "channels": ["Ac Gtr R"],
        "grade": "look",
        "says": "The high-pass of Ac Gtr R is at 800 Hz, that of its partner at 80 Hz.",
        "plant": gtr_r_thin,
    },
    {
        "id": "left-guitar-last-chord-cut",
        "class": "end",
        "channels": ["Ac Gtr L"],
        "grade": "hold",
        "says": "The left guitar stops 1.3 s into the last chord with a ten-millisecond fade while all others ring for "
        "seven seconds.",
        "plant": gtr_l_chopped,
    },
    {
        "id": "limiter-on-for-the-print",
        "class": "hand-over",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The limiter on the mix is on, although the comment wants it off when printing for mastering.",
        "plant": limiter_left_on,
    },
    {
        "id": "mando-break-silent",
        "class": "inaudible",
        "channels": ["Mando"],
        "grade": "hold",
        "says": "The mandolin is muted from verse two on until Ch3, so the marked mando break has no mandolin, though "
        "its fader is ridden up there.",
        "plant": mando_stays_muted,
    },
    {
        "id": "echo-not-in-tempo",
        "class": "tempo",
        "channels": ["Vox echo 1/8D"],
        "grade": "look",
        "says": "The echo is named a dotted eighth, 489 ms at 92 bpm, but is set to 375 ms, which belongs to 120 bpm.",
        "plant": echo_at_default,
    },
]
