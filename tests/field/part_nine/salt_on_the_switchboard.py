"""Indie rock, 3:40: four people in one room to a click, the rest overdubbed over two evenings.

Kit, bass and the first electric were played together; the edit goes from take 4 into take 7 at the bridge, on all of
those microphones at once. Second electric, acoustics, organ, lead line and voices came later, always over the same
tempo map. Toms are cut to their fills, the lead vocal is comped phrase by phrase from three takes. Every bus starts
with a trim, choruses get a small push on the guitar bus, and everything rings into one fade on the mix bus. The kit is
panned as seen from the audience (hat right, floor tom left).
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Row = dict[str, Any]

TEMPOS = [(1, 136.0), (27, 138.0), (43, 136.0), (59, 138.0), (75, 134.0), (91, 139.0)]
SECTIONS = [
    (1, "count"),
    (3, "Intro"),
    (11, "V1"),
    (27, "CH 1"),
    (43, "V2"),
    (59, "CH 2"),
    (75, "Bridge"),
    (89, "stop!"),
    (91, "CH 3 (x1.5)"),
    (115, "Outro"),
    (122, "last hit"),
]


def t(bar: float, beat: float = 1.0) -> float:
    """Seconds at a bar and beat of the tempo map."""
    target = (bar - 1) * 4.0 + beat - 1.0
    seconds = 0.0
    for i, (first, bpm) in enumerate(TEMPOS):
        start = (first - 1) * 4.0
        stop = (TEMPOS[i + 1][0] - 1) * 4.0 if i + 1 < len(TEMPOS) else max(target, start)
        seconds += max(0.0, min(stop, target) - start) * 60.0 / bpm
    return round(seconds, 5)


CUT = t(75) - 0.02  # take 4 into take 7, just ahead of the downbeat
END = t(122) + 7.0  # the ring-out is over
XF = 0.01

MICS = (
    "kin=KickIn kout=KickOut snt=SnTop snb=SnBtm hat=Hat rack=Rack flr=Floor ohl=OH_L ohr=OH_R"
    " rml=Room_L rmr=Room_R bdi=BassDI bam=BassAmp e1d=EG1_dyn e1r=EG1_rib"
)
LIVE = dict(pair.split("=") for pair in MICS.split())
# media id: path, legs, where the recording began in the song, how long it is
FILES: dict[str, tuple[str, int, float, float]] = {
    **{f"{k}4": (f"Audio/{v}_tk4.wav", 1, 0.0, t(79)) for k, v in LIVE.items()},
    **{f"{k}7": (f"Audio/{v}_tk7.wav", 1, t(67), END + 4.5 - t(67)) for k, v in LIVE.items()},
    "e2d": ("Audio/EG2_dyn_od.wav", 1, 0.0, END + 3.0),
    "e2r": ("Audio/EG2_rib_od.wav", 1, 0.0, END + 3.0),
    "ld": ("Audio/EG_Lead_od2.wav", 1, t(71), END - t(71)),
    "acl": ("Audio/AC_first_pass.wav", 1, t(23), t(118) - t(23)),
    "acr": ("Audio/AC_second_pass.wav", 1, t(23), t(118) - t(23)),
    "orga": ("Audio/Organ_a.wav", 2, t(19), t(95) - t(19)),
    "orgb": ("Audio/Organ_b_redo.wav", 2, t(87), END + 6.0 - t(87)),
    "lv2": ("Audio/LV_tk2.wav", 1, t(9), t(119) - t(9)),
    "lv5": ("Audio/LV_tk5.wav", 1, t(9), t(119) - t(9)),
    "lv6": ("Audio/LV_tk6.wav", 1, t(9), t(119) - t(9)),
    "lvd": ("Audio/LVdbl_tk1.wav", 1, t(25), t(119) - t(25)),
    "lva": ("Audio/LV_bridge_alt.wav", 1, t(73), t(92) - t(73)),
    "bvh": ("Audio/BV_hi.wav", 1, t(33), t(117) - t(33)),
    "bvl": ("Audio/BV_lo.wav", 1, t(33), t(117) - t(33)),
    "ref": ("Audio/rough_tracking_day.wav", 2, 0.0, END + 1.0),
}


def clip(file: str, a: float, b: float, name: str, fi: float = 0.01, fo: float = 0.03, gain: float = 0.0) -> Row:
    """A clip at the place where its file was recorded."""
    return {
        "start_s": round(a, 5),
        "end_s": round(b, 5),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(a - FILES[file][2], 5),
        "speed": 1.0,
        "fade_in_s": fi,
        "fade_out_s": fo,
        "gain_db": gain,
        "on": True,
    }


def kit(mic: str) -> list[Row]:
    """The whole song on one kit microphone: take 4, then take 7."""
    return [
        clip(f"{mic}4", t(3) - 0.06, CUT + XF / 2, f"{LIVE[mic]}_tk4", 0.02, XF),
        clip(f"{mic}7", CUT - XF / 2, END, f"{LIVE[mic]}_tk7", XF, 2.0),
    ]


def stop_break(mic: str, first: float) -> list[Row]:
    """A live player who leaves the two stop bars empty."""
    name = LIVE[mic]
    return [
        clip(f"{mic}4", first, CUT + XF / 2, f"{name}_tk4", 0.02, XF),
        clip(f"{mic}7", CUT - XF / 2, t(89) + 0.6, f"{name}_tk7", XF, 0.25),
        clip(f"{mic}7", t(91) - 0.05, END, f"{name}_tk7", 0.02, 2.5),
    ]


def tom(mic: str, bars: list[int]) -> list[Row]:
    """A tom, cut to its fills (second half of a bar and the hit after it)."""
    clips = []
    for bar in bars:
        take, end = (
            ("4", min(t(bar + 1) + 0.9, CUT + XF / 2)) if bar < 75 else ("7", t(bar + 1) + (3.0 if bar == 121 else 0.9))
        )
        clips.append(clip(mic + take, t(bar, 3) - 0.03, end, f"{LIVE[mic]}_fill {bar}", 0.01, XF if bar == 74 else 0.4))
    return clips


def phrases(first: int, files: list[str], name: str) -> list[Row]:
    """Four-bar phrases from a bar on, one file each, with the breath before."""
    lift = {"lv2": 1.5, "lv6": -0.5}
    return [
        clip(
            f, t(first + 4 * i) - 0.35, t(first + 4 * i + 3, 4), f"{name} {first + 4 * i}", 0.03, 0.08, lift.get(f, 0.0)
        )
        for i, f in enumerate(files)
    ]


def lead() -> list[Row]:
    """The lead vocal comp: the digits are the takes."""
    comp = [(11, "2522"), (27, "5565"), (43, "2262"), (59, "5655"), (75, "22"), (91, "556556")]
    return [c for bar, takes in comp for c in phrases(bar, [f"lv{x}" for x in takes], "LV")]


def band(kind: str, hz: float, gain: float = 0.0, q: float = 0.9) -> Row:
    """One band; the filters are 18 dB per octave."""
    if kind.endswith("-pass"):
        return {"kind": kind, "freq_hz": hz, "slope_db_per_oct": 18.0}
    return {"kind": kind, "freq_hz": hz, "gain_db": gain, "q": q}


def eq(*bands: Row) -> Row:
    """The channel equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def dyn(kind: str, name: str, thr: float, ratio: float, att: float, rel: float, out: float = 0.0) -> Row:
    """Compressor, limiter or de-esser with its settings."""
    settings = {
        "threshold_db": thr,
        "ratio": ratio,
        "attack_ms": att,
        "release_ms": rel,
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": settings}


def gate(thr: float, rng: float) -> Row:
    """A soft gate."""
    settings = {"threshold_db": thr, "range_db": rng, "attack_ms": 0.5, "release_ms": 140.0}
    return {"name": "Gate", "kind": "gate", "on": True, "opaque": False, "dynamics": settings}


def tool(kind: str, name: str, wet: float = 100.0, pre: float | None = None, **values: float | bool) -> Row:
    """A processor with listed parameters."""
    units = {"gain": "dB", "delay": "ms", "time": "ms", "decay": "s", "feedback": "%", "drive": "%"}
    listed = [{"id": k, "name": k.capitalize(), "value": v, "unit": units.get(k, "")} for k, v in values.items()]
    row: Row = {"name": name, "kind": kind, "on": True, "opaque": False, "wet": wet, "parameters": listed}
    return row if pre is None else {**row, "pre_delay_ms": pre}


def trim(gain: float) -> Row:
    """The trim every bus begins with."""
    return tool("utility", "Trim", gain=gain)


def send(to: str, level: float) -> Row:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(target: str, *points: tuple[float, float], shape: str = "hold", scale: str = "dB") -> Row:
    """An automation lane."""
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def strip(head: tuple[str, str, float, float, str | None], **more: Any) -> Row:
    """A channel strip; tracks that feed a bus stand under it."""
    cid, name, fader, pan, output = head
    row: Row = {
        "id": cid,
        "name": name,
        "kind": "track",
        "parent": output if output in ("drums", "bass", "gtrs", "vox") else None,
        "plays": ["audio"],
        "legs": 1,
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
    row.update(more)
    if row["kind"] != "track":
        row.update(plays=[], legs=2)
    return row


def drum_strips() -> list[Row]:
    """The kit with its parallel crush and bus."""
    crush = "crush"
    return [
        strip(
            ("kin", "Kick In", -6.5, 0.0, "drums"),
            clips=kit("kin"),
            sends=[send(crush, -8.0)],
            inserts=[gate(-34.0, -18.0), eq(band("bell", 320, -4.5, 1.4), band("bell", 3800, 3.0, 1.0))],
        ),
        strip(("kout", "Kick Out", -9.0, 0.0, "drums"), clips=kit("kout"), inserts=[eq(band("low-pass", 5200))]),
        strip(
            ("snt", "Sn Top", -5.8, 0.0, "drums"),
            clips=kit("snt"),
            sends=[send(crush, -5.0), send("plate", -17.0), send("room", -15.0)],
            inserts=[
                eq(band("high-pass", 85), band("bell", 210, 2.0), band("bell", 780, -3.0, 2.0)),
                dyn("compressor", "Comp", -18.0, 4.0, 12.0, 90.0, 2.0),
            ],
        ),
        strip(
            ("snb", "Sn Btm", -15.0, 0.0, "drums"),
            clips=kit("snb"),
            comment="polarity flipped against top",
            inserts=[tool("utility", "Polarity", invert=True), eq(band("high-pass", 180))],
        ),
        strip(("hat", "Hat", -17.5, 34.0, "drums"), clips=kit("hat"), inserts=[eq(band("high-pass", 380))]),
        strip(
            ("rack", "Rack", -8.0, 16.0, "drums"),
            clips=tom("rack", [10, 26, 42, 58, 90, 106, 114, 121]),
            sends=[send(crush, -9.0), send("room", -17.0)],
            inserts=[eq(band("bell", 420, -5.0, 1.2), band("bell", 4500, 2.5))],
        ),
        strip(
            ("flr", "Floor", -7.6, -38.0, "drums"),
            clips=[
                *tom("flr", [26, 42, 58, 74]),
                clip("flr7", CUT - XF / 2, t(89) + 0.8, "Floor groove", XF, 0.4),
                *tom("flr", [90, 114, 121]),
            ],
            sends=[send(crush, -9.0), send("room", -17.0)],
            inserts=[eq(band("bell", 380, -5.0, 1.2), band("bell", 3900, 2.0))],
            comment="groove all through the bridge",
        ),
        strip(
            ("ohl", "OH L", -8.5, -90.0, "drums"),
            clips=kit("ohl"),
            inserts=[eq(band("high-pass", 140), band("high-shelf", 9500, 1.5, 0.7))],
        ),
        strip(
            ("ohr", "OH R", -8.5, 90.0, "drums"),
            clips=kit("ohr"),
            inserts=[eq(band("high-pass", 140), band("high-shelf", 9500, 1.5, 0.7))],
        ),
        strip(
            ("rml", "Room L", -13.0, -100.0, "drums"),
            clips=kit("rml"),
            inserts=[dyn("compressor", "Comp", -30.0, 6.0, 3.0, 120.0, 5.0)],
        ),
        strip(
            ("rmr", "Room R", -13.0, 100.0, "drums"),
            clips=kit("rmr"),
            inserts=[dyn("compressor", "Comp", -30.0, 6.0, 3.0, 120.0, 5.0)],
        ),
        strip(
            (crush, "Crush", -12.0, 0.0, "drums"),
            kind="return",
            inserts=[dyn("compressor", "Squash", -34.0, 12.0, 0.8, 60.0, 6.0), eq(band("high-pass", 60))],
        ),
        strip(
            ("drums", "DRUMS", -1.0, 0.0, "mix"),
            kind="group",
            inserts=[trim(-2.0), dyn("compressor", "Bus comp", -14.0, 2.0, 30.0, 150.0, 1.0)],
        ),
    ]


def string_strips() -> list[Row]:
    """Bass, electrics, acoustics, organ."""
    amp = eq(band("high-pass", 75), band("bell", 2600, -1.5, 1.6), band("low-pass", 11000))
    roll = eq(band("high-pass", 90), band("bell", 5200, 2.5, 0.8))
    e2 = [("e2d", "EG2 Dyn", -9.6), ("e2r", "EG2 Rib", -11.2)]
    pick = [(27, 43, "ch1"), (59, 75, "ch2"), (91, 115, "ch3")]
    strips = [
        strip(
            ("bdi", "Bass DI", -10.0, 0.0, "bass"),
            clips=stop_break("bdi", t(7) - 0.05),
            inserts=[tool("utility", "Nudge", delay=1.3), eq(band("low-pass", 900))],
            comment="1.3 ms back to meet the amp mic",
        ),
        strip(
            ("bam", "Bass Amp", -8.2, 0.0, "bass"),
            clips=stop_break("bam", t(7) - 0.05),
            inserts=[eq(band("high-pass", 45))],
        ),
        strip(
            ("bass", "BASS", -2.0, 0.0, "mix"),
            kind="group",
            inserts=[trim(-1.5), dyn("compressor", "Comp", -20.0, 4.0, 25.0, 160.0, 2.5)],
        ),
        strip(
            ("e1d", "EG1 Dyn", -9.0, -80.0, "gtrs"),
            clips=stop_break("e1d", t(3) - 0.06),
            inserts=[amp],
            sends=[send("room", -19.0)],
        ),
        strip(("e1r", "EG1 Rib", -11.5, -80.0, "gtrs"), clips=stop_break("e1r", t(3) - 0.06), inserts=[roll]),
    ]
    for cid, name, fader in e2:
        spans = [(t(27) - 0.04, t(43) + 0.8, 0.3), (t(51) - 0.04, t(75) + 1.2, 0.5), (t(91) - 0.04, END, 2.5)]
        strips.append(
            strip(
                (cid, name, fader, 80.0, "gtrs"),
                clips=[clip(cid, a, b, f"{name} od", 0.02, fo) for a, b, fo in spans],
                inserts=[eq(*(amp if cid == "e2d" else roll)["equalizer"]["bands"])],
                sends=[send("room", -19.0)] if cid == "e2d" else [],
            )
        )
    strips.append(
        strip(
            ("ld", "EG Lead", -7.5, 12.0, "gtrs"),
            clips=[
                clip("ld", t(83) - 0.1, t(89) + 0.9, "solo-ish", 0.02, 0.6),
                clip("ld", t(99), t(115) + 1.5, "ch3 line", 0.02, 0.8),
            ],
            inserts=[
                eq(band("high-pass", 130), band("bell", 1700, 1.5)),
                tool("distortion", "Drive", 100.0, drive=22.0),
            ],
            sends=[send("plate", -15.0), send("slap", -13.0)],
            automation=[ride("fader", (0.0, -7.5), (t(99), -10.0))],
        )
    )
    for cid, name, pan, low in (("acl", "AC L", -100.0, 110.0), ("acr", "AC R", 100.0, 115.0)):
        take = FILES[cid][0][6:-4]
        strips.append(
            strip(
                (cid, name, -12.5, pan, "gtrs"),
                clips=[clip(cid, t(a) - 0.05, t(b) + 0.5, f"{take} {n}", 0.02, 0.3) for a, b, n in pick],
                inserts=[
                    eq(band("high-pass", low), band("bell", 240, -2.5, 1.1), band("high-shelf", 9000, 1.5, 0.7)),
                    dyn("compressor", "Comp", -22.0, 3.0, 15.0, 110.0, 2.0),
                ],
                sends=[send("room", -20.0)],
            )
        )
    push = [(0.0, -2.5), (t(27), -1.5), (t(43), -2.5), (t(59), -1.5), (t(75), -2.5), (t(91), -1.3), (t(115), -1.8)]
    return [
        *strips,
        strip(
            ("gtrs", "GTRS", -2.5, 0.0, "mix"),
            kind="group",
            inserts=[trim(-2.5), eq(band("bell", 3100, -1.0, 0.6))],
            automation=[ride("fader", *push)],
        ),
        strip(
            ("org", "Organ (rotary)", -11.0, 0.0, "mix"),
            legs=2,
            clips=[
                clip("orga", t(27) - 0.03, t(43) + 0.6, "Organ_a", 0.05, 0.4),
                clip("orga", t(51), t(91) + XF, "Organ_a", 0.2, XF * 2),
                clip("orgb", t(91) - XF, END, "Organ_b_redo", XF * 2, 3.0),
            ],
            inserts=[eq(band("high-pass", 95), band("bell", 700, -2.0, 0.8))],
            sends=[send("room", -18.0)],
            automation=[ride("mute", (0.0, 0.0), (t(89) + 0.3, 1.0), (t(91) - 0.02, 0.0), scale="switch")],
            comment="muted over the stop bars, rotor hiss",
        ),
    ]


def voice_strips() -> list[Row]:
    """Lead, double, backings and their bus."""
    air = [eq(band("high-pass", 120), band("bell", 330, -2.5), band("high-shelf", 10500, 2.0, 0.7))]
    double = [c for bar, n in ((27, 4), (59, 4), (91, 6)) for c in phrases(bar, ["lvd"] * n, "LVdbl")]
    steps = [(27, -4.0), (43, -5.2), (59, -4.0), (75, -5.0), (91, -3.6)]
    rides = [(0.0, -5.5), *((round(t(bar) - 0.4, 5), level) for bar, level in steps)]  # in the breath before
    throws = [(0.0, -22.0), (t(42, 1), -13.0), (t(43, 2), -22.0), (t(82, 1), -12.0), (t(84), -22.0), (t(91), -20.0)]
    strips = [
        strip(
            ("lv", "LV", -5.5, 0.0, "vox"),
            clips=lead(),
            sends=[send("plate", -14.5), send("slap", -22.0)],
            inserts=[
                *air,
                dyn("compressor", "Fast", -20.0, 6.0, 2.0, 70.0, 3.0),
                dyn("de-esser", "De-ess", -28.0, 3.0, 1.0, 40.0),
                dyn("compressor", "Slow", -24.0, 2.5, 20.0, 220.0, 2.0),
            ],
            automation=[ride("fader", *rides), ride("send:1:level", *throws)],
        ),
        strip(
            ("lvd", "LV Dbl", -14.0, 0.0, "vox"),
            clips=double,
            sends=[send("plate", -14.0)],
            inserts=[eq(band("high-pass", 160)), dyn("de-esser", "De-ess", -32.0, 4.0, 1.0, 40.0)],
        ),
    ]
    for cid, name, pan in (("bvh", "BV Hi", -42.0), ("bvl", "BV Lo", 42.0)):
        strips.append(
            strip(
                (cid, name, -11.0 if cid == "bvh" else -10.2, pan, "vox"),
                clips=[c for bar, n in ((35, 2), (59, 4), (91, 6)) for c in phrases(bar, [cid] * n, name)],
                sends=[send("plate", -11.0)],
                inserts=[eq(band("high-pass", 150)), dyn("compressor", "Comp", -22.0, 4.0, 8.0, 100.0, 2.5)],
            )
        )
    alt = clip("lva", t(75) - 0.35, t(83), "LV bridge alt", 0.03, 0.08)
    return [
        *strips,
        strip(
            ("lva", "LV alt", -5.5, 0.0, "vox"), mute=True, clips=[alt], comment="whispered bridge, spare - keep muted"
        ),
        strip(
            ("vox", "VOX", -0.5, 0.0, "mix"),
            kind="group",
            inserts=[trim(-1.0), dyn("compressor", "Bus comp", -16.0, 2.0, 15.0, 120.0, 1.0)],
        ),
    ]


def back_strips() -> list[Row]:
    """Returns, the rough mix for comparison, the mix bus."""
    fade = ride("fader", (0.0, 0.0), (t(122) + 3.0, 0.0), (END, -90.0), shape="linear")
    return [
        strip(
            ("plate", "Plate", -6.0, 0.0, "mix"),
            kind="return",
            inserts=[eq(band("high-pass", 250)), tool("reverb", "Plate", 100.0, 24.0, decay=1.8)],
        ),
        strip(
            ("room", "Sm Room", -8.0, 0.0, "mix"),
            kind="return",
            inserts=[tool("reverb", "Small room", 100.0, 4.0, decay=0.6)],
        ),
        strip(
            ("slap", "Slap", -5.0, 0.0, "mix"),
            kind="return",
            inserts=[
                tool("delay", "Slap", 100.0, time=104.0, feedback=6.0),
                eq(band("high-pass", 200), band("low-pass", 4800)),
            ],
        ),
        strip(
            ("ref", "REF rough", 0.0, 0.0, None),
            legs=2,
            clips=[clip("ref", 0.0, END, "rough_tracking_day")],
            comment="monitor button only, no output on purpose",
        ),
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
                eq(band("low-shelf", 90, 0.8, 0.7), band("high-shelf", 12000, 1.0, 0.7)),
                dyn("compressor", "Glue", -12.0, 2.0, 30.0, 200.0, 1.5),
                dyn("limiter", "Limiter", -1.0, 20.0, 0.5, 80.0),
            ],
            "automation": [fade],
        },
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Salt on the Switchboard - mix 4",
        "sample_rate_hz": 48000.0,
        "timeline": {
            "tempos": [{"beat": (bar - 1) * 4.0, "bpm": bpm} for bar, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": t(bar), "name": name} for bar, name in SECTIONS],
        "channels": [*drum_strips(), *string_strips(), *voice_strips(), *back_strips()],
        "media": [
            {
                "id": key,
                "path": path,
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": 48000.0,
                "duration_s": round(length, 3),
            }
            for key, (path, legs, _, length) in FILES.items()
        ],
        "metadata": {"mix": "4", "bounce": "48k / 24 bit, full length incl. ring-out"},
    }


def channel(session: Session, name: str) -> Row:
    """The channel of a name."""
    found: Row = next(c for c in session["channels"] if c["name"] == name)
    return found


def overhead_late(session: Session) -> None:
    """The take 7 clip of one overhead was dragged a little."""
    moved = channel(session, "OH R")["clips"][1]
    moved["start_s"] = round(moved["start_s"] + 0.013, 5)
    moved["end_s"] = round(moved["end_s"] + 0.013, 5)


def ribbon_past_bus(session: Session) -> None:
    """One amp microphone still goes straight to the mix bus."""
    channel(session, "EG2 Rib")["output"] = "mix"


def acoustic_same_pass(session: Session) -> None:
    """The second chorus of the first pass was copied down onto the partner track."""
    left = channel(session, "AC L")["clips"][1]
    channel(session, "AC R")["clips"][1] = dict(left)


def organ_stays_muted(session: Session) -> None:
    """The point that opens the organ again after the stop is gone."""
    lane = channel(session, "Organ (rotary)")["automation"][0]
    lane["t"].pop()
    lane["v"].pop()


def slap_half_dry(session: Session) -> None:
    """The slap stands at its default mix."""
    channel(session, "Slap")["inserts"][0]["wet"] = 35.0


def acoustic_thin(session: Session) -> None:
    """A zero too many in the high-pass of one acoustic."""
    channel(session, "AC R")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 1150.0


def early_fade(session: Session) -> None:
    """The mix fade still lies where a shorter edit ended."""
    lane = channel(session, "Mix")["automation"][0]
    lane["t"] = [lane["t"][0], *(round(x - (t(122) - t(114)), 5) for x in lane["t"][1:])]


def lead_outside(session: Session) -> None:
    """The lead line plays from the player's own folder."""
    file = next(m for m in session["media"] if m["id"] == "ld")
    file.update(path="../../lead sketches/EG_Lead_od2.wav", place="outside")


def drum_trim_hot(session: Session) -> None:
    """The trim of the drum bus was typed wrong."""
    channel(session, "DRUMS")["inserts"][0]["parameters"][0]["value"] = 12.0


def rough_in_mix(session: Session) -> None:
    """The rough mix got an output."""
    channel(session, "REF rough")["output"] = "mix"


def tempo_digits(session: Session) -> None:
    """Two digits swapped in the tempo of the second chorus."""
    session["timeline"]["tempos"][3]["bpm"] = 183.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["REF rough"], "why": "It has clips and no output on purpose: only for comparing on the monitors."},
    {"channels": ["LV alt"], "why": "A named spare, muted on purpose."},
    {"channels": ["Organ (rotary)"], "why": "Muted by automation over the stop bars although the clip runs on."},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "overhead-late",
        "class": "phase",
        "channels": ["OH R"],
        "grade": "hold",
        "says": "From the bridge on OH R lies 13 ms later than OH L and every other kit mic of take 7.",
        "plant": overhead_late,
    },
    {
        "id": "ribbon-past-bus",
        "class": "routing",
        "channels": ["EG2 Rib"],
        "grade": "look",
        "says": "EG2 Rib goes straight to Mix while EG2 Dyn and all other guitars go through GTRS.",
        "plant": ribbon_past_bus,
    },
    {
        "id": "acoustic-same-pass",
        "class": "twice",
        "channels": ["AC R", "AC L"],
        "grade": "hold",
        "says": "In chorus 2 AC R plays the same stretch of the same file as AC L instead of the second pass.",
        "plant": acoustic_same_pass,
    },
    {
        "id": "organ-stays-muted",
        "class": "automation",
        "channels": ["Organ (rotary)"],
        "grade": "hold",
        "says": "The organ is muted at the stop and never opened again, though it plays in chorus 3 and the outro.",
        "plant": organ_stays_muted,
    },
    {
        "id": "slap-half-dry",
        "class": "ambience",
        "channels": ["Slap"],
        "grade": "look",
        "says": "The slap on a return is only 35 % wet, so dry signal comes back a second time.",
        "plant": slap_half_dry,
    },
    {
        "id": "acoustic-thin",
        "class": "processors",
        "channels": ["AC R"],
        "grade": "look",
        "says": "The high-pass of AC R is at 1150 Hz, that of its partner AC L at 110 Hz.",
        "plant": acoustic_thin,
    },
    {
        "id": "early-fade",
        "class": "end",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The mix bus fades out eight bars too early, while everybody plays on to the last hit.",
        "plant": early_fade,
    },
    {
        "id": "lead-outside",
        "class": "hand-over",
        "channels": ["EG Lead"],
        "grade": "note",
        "says": "The file of EG Lead lies outside the session folder and will not travel with it.",
        "plant": lead_outside,
    },
    {
        "id": "drum-trim-hot",
        "class": "headroom",
        "channels": ["DRUMS"],
        "grade": "hold",
        "says": "The trim of DRUMS is at +12 dB where the other buses stand at -1 to -2.5 dB.",
        "plant": drum_trim_hot,
    },
    {
        "id": "rough-in-mix",
        "class": "audible-that-should-not-be",
        "channels": ["REF rough"],
        "grade": "hold",
        "says": "The rough mix, meant for the monitors only, goes to Mix and sounds along.",
        "plant": rough_in_mix,
    },
    {
        "id": "tempo-digits",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "Chorus 2 stands at 183 bpm between 136 and 134, so all after it misses the bars; 138 is meant.",
        "plant": tempo_digits,
    },
]
