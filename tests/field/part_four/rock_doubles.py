"""A three-minute rock song at 152: four-piece with a live kit (close mics, overheads, room pair, one trashed room mic),
printed kick and snare samples under the real drums, bass as DI and amp, two doubled rhythm guitars (the first with two
mics a side, the second with one), a clean verse guitar, a lead, organ, lead vocal with double, two backing voices and a
gang. The engineer writes short capitals, edits the drums across all mics at once, keeps alternates muted at the end of
their block, has a crushed drum bus and a bass grit bus beside the dry groups, and rides the delay throws by hand.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Obj = dict[str, Any]

RATE = 48000.0
BPM = 152.0
LONG = 190.0
OFF = -200.0


def bar(n: float) -> float:
    """Song time of the start of bar n, counted from 0."""
    return round(n * 240.0 / BPM, 6)


INTRO, V1, C1, V2, C2, SOLO, C3, END = (bar(n) for n in (2, 10, 26, 42, 58, 74, 90, 114))
RING = 184.5
PUNCH = round(C3 - 0.03, 6)
XF = 0.01


def clip(file: str, start: float, end: float, fin: float = 0.02, fout: float = 0.04, **more: Any) -> Obj:
    """A clip whose file runs along with the song (all passes were recorded from zero)."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": more.pop("name", file),
        "plays": "audio",
        "file": file,
        "offset_s": round(start, 6),
        "fade_in_s": fin,
        "fade_out_s": fout,
        **more,
    }


def spans(file: str, *parts: tuple[float, float], gains: tuple[float, ...] = ()) -> list[Obj]:
    """One clip a section; sections that touch are cross-faded."""
    made: list[Obj] = []
    for n, (start, end) in enumerate(parts):
        after = n + 1 < len(parts) and parts[n + 1][0] == end
        before = n > 0 and parts[n - 1][1] == start
        made.append(
            clip(
                file,
                start if before else start - 0.04,
                end + XF if after else end,
                XF if before else 0.02,
                XF if after else 0.06,
                gain_db=gains[n] if gains else 0.0,
            ),
        )
    return made


def drum(stem: str) -> list[Obj]:
    """Take 3 up to the last chorus, take 5 from there, the same on every drum mic."""
    return [clip(f"{stem}_t3", 2.9, PUNCH + XF, 0.02, XF), clip(f"{stem}_t5", PUNCH, RING, XF, 0.8)]


def send(to: str, level: float, tap: str = "post") -> Obj:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": tap, "on": True}


def eq(*bands: tuple[str, float, float], name: str = "EQ", on: bool = True) -> Obj:
    """Bands as (kind, frequency, gain); for the cuts the third number is the slope."""
    listed: list[Obj] = []
    for kind, freq, third in bands:
        if kind in ("high-pass", "low-pass"):
            listed.append({"kind": kind, "freq_hz": freq, "slope_db_per_oct": third, "q": 0.7})
        else:
            listed.append({"kind": kind, "freq_hz": freq, "gain_db": third, "q": 0.9})
    return {"name": name, "kind": "equalizer", "on": on, "opaque": False, "equalizer": {"bands": listed}}


def dyn(name: str, kind: str, threshold: float, ratio: float, attack: float, release: float, **more: Any) -> Obj:
    made = {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release, **more}
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": made}


def comp(threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Obj:
    return dyn("COMP", "compressor", threshold, ratio, attack, release, output_gain_db=makeup, auto_makeup=False)


def gate(threshold: float) -> Obj:
    return dyn("GATE", "gate", threshold, 10.0, 0.5, 220.0, range_db=-24.0)


def flip() -> Obj:
    return {
        "name": "POLARITY",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": "pol", "name": "Polarity", "value": "inverted"}],
    }


def fx(name: str, kind: str, pre: float | None = None, **settings: float | str) -> Obj:
    made: Obj = {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [{"id": key, "name": key, "value": value} for key, value in settings.items()],
    }
    if pre is not None:
        made["pre_delay_ms"] = pre
    return made


def auto(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Obj:
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def strip(cid: str, name: str, kind: str, legs: int, fader: float, pan: float, out: str | None, **more: Any) -> Obj:
    return {"id": cid, "name": name, "kind": kind, "legs": legs, "fader_db": fader, "pan": pan, "output": out, **more}


def trk(cid: str, name: str, fader: float, pan: float, out: str | None, clips: list[Obj], **more: Any) -> Obj:
    more.setdefault("parent", out)
    return strip(cid, name, "track", more.pop("legs", 1), fader, pan, out, plays=["audio"], clips=clips, **more)


def drums() -> list[Obj]:
    return [
        trk(
            "d01",
            "KIK IN",
            -7.0,
            0.0,
            "gDRM",
            drum("kik_in"),
            inserts=[gate(-36.0), eq(("bell", 350.0, -4.0), ("high-shelf", 5000.0, 2.5)), comp(-16.0, 4.0, 18.0, 90.0)],
        ),
        trk(
            "d02",
            "KIK OUT",
            -10.5,
            0.0,
            "gDRM",
            drum("kik_out"),
            inserts=[eq(("bell", 62.0, 2.0), ("low-pass", 4500.0, 12.0))],
        ),
        trk("d03", "KIK SMP", -13.0, 0.0, "gDRM", [clip("kik_smp", 3.0, RING)], comment="printed off KIK IN, lined up"),
        trk(
            "d04",
            "SN TOP",
            -6.0,
            0.0,
            "gDRM",
            drum("sn_top"),
            sends=[send("fPLT", -14.0)],
            inserts=[
                eq(("high-pass", 90.0, 12.0), ("bell", 200.0, 2.0), ("bell", 5200.0, 2.5)),
                comp(-18.0, 4.0, 12.0, 110.0),
            ],
        ),
        trk("d05", "SN BOT", -14.0, 0.0, "gDRM", drum("sn_bot"), inserts=[flip(), eq(("high-pass", 180.0, 12.0))]),
        trk(
            "d06",
            "SN SMP",
            -12.5,
            0.0,
            "gDRM",
            [clip("sn_smp", 3.0, RING)],
            sends=[send("fPLT", -12.0)],
            comment="printed off SN TOP, lined up",
        ),
        trk("d07", "HAT", -17.0, -32.0, "gDRM", drum("hat"), inserts=[eq(("high-pass", 320.0, 18.0))]),
        trk(
            "d08",
            "RACK",
            -8.0,
            -22.0,
            "gDRM",
            drum("rack"),
            sends=[send("fPLT", -18.0)],
            inserts=[gate(-34.0), eq(("bell", 420.0, -5.0), ("bell", 4000.0, 2.0))],
        ),
        trk(
            "d09",
            "FLOOR",
            -7.5,
            44.0,
            "gDRM",
            drum("floor"),
            sends=[send("fPLT", -18.0)],
            inserts=[gate(-36.0), eq(("bell", 380.0, -5.0), ("bell", 80.0, 2.0))],
        ),
        trk("d10", "OH L", -9.0, -90.0, "gDRM", drum("oh_l"), inserts=[eq(("high-pass", 140.0, 12.0))]),
        trk("d11", "OH R", -9.0, 90.0, "gDRM", drum("oh_r"), inserts=[eq(("high-pass", 140.0, 12.0))]),
        trk("d12", "RM L", -12.0, -100.0, "gDRM", drum("rm_l"), inserts=[comp(-24.0, 4.0, 10.0, 140.0)]),
        trk("d13", "RM R", -12.0, 100.0, "gDRM", drum("rm_r"), inserts=[comp(-24.0, 4.0, 10.0, 140.0)]),
        trk(
            "d14",
            "RM MONO",
            -18.0,
            0.0,
            "gDRM",
            drum("rm_mono"),
            inserts=[comp(-34.0, 12.0, 1.0, 80.0), fx("TRASH", "distortion", drive=4.0)],
        ),
        trk(
            "d15",
            "TAMB",
            -16.0,
            30.0,
            "gDRM",
            spans("tamb", (C1, V2), (C2, SOLO), (C3, END)),
            inserts=[eq(("high-pass", 400.0, 12.0))],
        ),
    ]


def band() -> list[Obj]:
    rg1 = ((INTRO, V1), (C1, V2), (C2, C3), (C3, RING))
    rg2 = ((C1, V2), (C2, SOLO), (C3, RING))
    cut = eq(("high-pass", 85.0, 12.0), ("low-pass", 9500.0, 12.0))
    dark = eq(("high-pass", 95.0, 12.0))

    def rhythm(cid: str, name: str, fader: float, pan: float, file: str, parts: Any, shape: Obj) -> Obj:
        return trk(cid, name, fader, pan, "gGTR", spans(file, *parts), parent="vGTR", inserts=[dict(shape)])

    return [
        trk(
            "b01",
            "BS DI",
            -9.0,
            0.0,
            "gBAS",
            [clip("bs_di", INTRO - 0.04, RING, 0.02, 0.6)],
            sends=[send("pGRT", -10.0)],
            inserts=[eq(("low-pass", 2500.0, 12.0))],
        ),
        trk(
            "b02",
            "BS AMP",
            -7.5,
            0.0,
            "gBAS",
            [clip("bs_amp", INTRO - 0.04, RING, 0.02, 0.6)],
            inserts=[eq(("high-pass", 55.0, 12.0), ("bell", 800.0, 1.5))],
            comment="slid back 31 samples on to the DI, printed",
        ),
        rhythm("g01", "RG1 L dyn", -8.0, -100.0, "rg1_l_dyn", rg1, cut),
        rhythm("g02", "RG1 L rib", -11.0, -100.0, "rg1_l_rib", rg1, dark),
        rhythm("g03", "RG1 R dyn", -8.0, 100.0, "rg1_r_dyn", rg1, cut),
        rhythm("g04", "RG1 R rib", -11.0, 100.0, "rg1_r_rib", rg1, dark),
        rhythm("g05", "RG2 L", -10.0, -75.0, "rg2_l", rg2, cut),
        rhythm("g06", "RG2 R", -10.0, 75.0, "rg2_r", rg2, cut),
        trk(
            "g07",
            "CLEAN VS",
            -11.0,
            -38.0,
            "gGTR",
            spans("clean_vs", (V1, C1), (V2, C2)),
            inserts=[comp(-20.0, 3.0, 20.0, 120.0)],
        ),
        trk(
            "g08",
            "LEAD",
            -6.5,
            8.0,
            "gGTR",
            spans("lead_t4", (SOLO, C3)),
            sends=[send("fDLY", -15.0)],
            inserts=[eq(("high-pass", 110.0, 12.0), ("bell", 2600.0, 1.5))],
        ),
        trk(
            "g09",
            "LEAD ALT",
            -6.5,
            8.0,
            "gGTR",
            spans("lead_t2", (SOLO, C3)),
            mute=True,
            comment="take 2, band chose 4",
        ),
        trk(
            "k01",
            "ORG",
            -15.0,
            0.0,
            "gGTR",
            spans("org", (C1, V2), (C2, SOLO), (C3, RING)),
            legs=2,
            inserts=[eq(("high-pass", 180.0, 12.0))],
        ),
    ]


def voices() -> list[Obj]:
    chain = [
        eq(("high-pass", 95.0, 18.0), ("bell", 280.0, -2.0)),
        comp(-22.0, 4.0, 6.0, 80.0, 3.0),
        dyn("DE-ESS", "de-esser", -28.0, 4.0, 1.0, 40.0),
        eq(("high-shelf", 9000.0, 2.0), name="AIR"),
    ]
    throw = auto(
        "send:1:level",
        "dB",
        "hold",
        (0.0, OFF),
        (bar(25), -8.0),
        (C1, OFF),
        (bar(57), -8.0),
        (C2, OFF),
        (bar(73), -8.0),
        (SOLO, OFF),
    )
    ride = auto("fader", "dB", "hold", (0.0, -5.0), (C1, -4.0), (V2, -5.0), (C2, -4.0), (C3, -3.5))
    hooks = ((C1, V2), (C2, SOLO), (C3, END))
    thin = [eq(("high-pass", 160.0, 12.0)), comp(-24.0, 5.0, 5.0, 80.0, 3.0)]
    return [
        trk(
            "v01",
            "VOX",
            -5.0,
            0.0,
            "gVOX",
            spans("vox_comp", (V1, C1), (C1, V2), (V2, C2), (C2, SOLO), (C3, END), gains=(1.0, 0.0, 1.0, 0.0, -0.5)),
            sends=[send("fVPL", -13.0), send("fDLY", OFF)],
            inserts=chain,
            automation=[ride, throw],
        ),
        trk(
            "v02",
            "VOX DBL",
            -13.0,
            0.0,
            "gVOX",
            spans("vox_dbl", *hooks),
            sends=[send("fVPL", -12.0)],
            inserts=[dict(i) for i in thin],
        ),
        trk("v03", "VOX ALT", -5.0, 0.0, "gVOX", spans("vox_t9", (V2, C2)), mute=True, comment="other lyric, verse 2"),
        trk(
            "v04",
            "BV 1",
            -11.0,
            -55.0,
            "gBV",
            spans("bv_1", *hooks),
            sends=[send("fVPL", -9.0)],
            inserts=[dict(i) for i in thin],
        ),
        trk(
            "v05",
            "BV 2",
            -11.0,
            55.0,
            "gBV",
            spans("bv_2", *hooks),
            sends=[send("fVPL", -9.0)],
            inserts=[dict(i) for i in thin],
        ),
        trk("v06", "GANG", -12.0, 0.0, "gBV", spans("gang", (bar(98), END)), legs=2, sends=[send("fVPL", -12.0)]),
        trk("x01", "CLICK", -10.0, 0.0, None, [clip("click", 0.0, 182.0, 0.0, 0.0)], comment="cue only"),
        trk("x02", "TB", 0.0, 0.0, None, [], mute=True),
        trk(
            "x03",
            "GUIDE VX",
            -6.0,
            0.0,
            "gVOX",
            [clip("guide_vx", V1 - 0.04, END)],
            mute=True,
            comment="tracking day",
        ),
        trk(
            "x04",
            "ROUGH PRINT",
            0.0,
            0.0,
            None,
            [clip("rough_02", 0.0, 186.0)],
            legs=2,
            mute=True,
            comment="to compare",
        ),
    ]


def desk() -> list[Obj]:
    swell = auto("fader", "dB", "linear", (0.0, -1.0), (C3, -1.0), (bar(91), 0.0))
    return [
        strip(
            "gDRM",
            "DRM",
            "group",
            2,
            -2.0,
            0.0,
            "mMIX",
            sends=[send("pCRU", -3.0)],
            inserts=[comp(-14.0, 2.0, 30.0, 120.0)],
        ),
        strip(
            "pCRU",
            "DRM CRUSH",
            "return",
            2,
            -9.0,
            0.0,
            "mMIX",
            inserts=[comp(-32.0, 10.0, 2.0, 70.0, 4.0), eq(("bell", 500.0, -3.0))],
            comment="parallel, all wet",
        ),
        strip("gBAS", "BASS", "group", 2, -2.5, 0.0, "mMIX", inserts=[comp(-18.0, 4.0, 25.0, 110.0, 2.0)]),
        strip(
            "pGRT",
            "BS GRIT",
            "return",
            2,
            -14.0,
            0.0,
            "gBAS",
            inserts=[eq(("high-pass", 220.0, 18.0)), fx("FUZZ", "distortion", drive=6.0)],
        ),
        strip("gGTR", "GTR", "group", 2, -1.0, 0.0, "mMIX", inserts=[eq(("bell", 3200.0, -1.0))], automation=[swell]),
        strip("gVOX", "VOX BUS", "group", 2, -1.0, 0.0, "mMIX", inserts=[comp(-14.0, 2.0, 15.0, 120.0, 1.0)]),
        strip("gBV", "BV BUS", "group", 2, -2.0, 0.0, "mMIX", inserts=[comp(-18.0, 3.0, 10.0, 100.0, 1.0)]),
        strip("fPLT", "SN PLATE", "return", 2, -6.0, 0.0, "gDRM", inserts=[fx("PLATE", "reverb", 12.0, decay_s=1.1)]),
        strip(
            "fVPL",
            "VX PLATE",
            "return",
            2,
            -5.0,
            0.0,
            "mMIX",
            inserts=[eq(("high-pass", 250.0, 12.0)), fx("PLATE", "reverb", 38.0, decay_s=1.8)],
        ),
        strip(
            "fDLY",
            "VX DLY",
            "return",
            2,
            -6.0,
            0.0,
            "mMIX",
            inserts=[fx("DELAY 1/4", "delay", time_ms=394.7, feedback_pct=22.0), eq(("low-pass", 5000.0, 12.0))],
        ),
        strip("vGTR", "VCA RGTS", "vca", 1, 0.0, 0.0, None, comment="all six rhythm faders"),
        strip(
            "mMIX",
            "MIX",
            "master",
            2,
            0.0,
            0.0,
            None,
            inserts=[
                eq(("high-pass", 25.0, 12.0), ("high-shelf", 11000.0, 0.8)),
                comp(-12.0, 2.0, 30.0, 150.0),
                dyn("LIMIT", "limiter", -1.0, 100.0, 1.0, 60.0),
                {"name": "METER", "kind": "analyser", "on": True},
            ],
        ),
    ]


def files(channels: list[Obj]) -> list[Obj]:
    """One media file for every stem that a clip plays, as wide as its channel."""
    legs = {c["file"]: ch["legs"] for ch in channels for c in ch.get("clips", [])}
    return [
        {
            "id": stem,
            "path": f"audio/{stem}.wav",
            "place": "beside",
            "present": True,
            "legs": wide,
            "sample_rate_hz": RATE,
            "duration_s": LONG,
        }
        for stem, wide in legs.items()
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = drums() + band() + voices() + desk()
    names = [
        (INTRO, "INTRO"),
        (V1, "VS 1"),
        (C1, "CH 1"),
        (V2, "VS 2"),
        (C2, "CH 2"),
        (SOLO, "SOLO"),
        (C3, "CH 3"),
        (END, "LAST HIT"),
        (RING, "END"),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Kerb Song mix 6",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": t, "name": n} for t, n in names],
        "channels": channels,
        "media": files(channels),
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    """The channel of that name."""
    return next(ch for ch in session["channels"] if ch["name"] == name)


def rib_wrong_side(session: Session) -> None:
    chan(session, "RG1 R rib")["pan"] = -100.0


def bottom_not_flipped(session: Session) -> None:
    chan(session, "SN BOT")["inserts"][0]["on"] = False


def same_double(session: Session) -> None:
    """The last chorus of the left guitar dragged over as a copy."""
    last = chan(session, "RG2 R")["clips"][-1]
    last["file"] = last["name"] = "rg2_l"


def floor_into_bass(session: Session) -> None:
    chan(session, "FLOOR")["output"] = "gBAS"


def throw_left_up(session: Session) -> None:
    """The point that closes the second throw is gone."""
    throw = chan(session, "VOX")["automation"][1]
    del throw["t"][4], throw["v"][4]


def left_double_up(session: Session) -> None:
    chan(session, "RG2 L")["fader_db"] = -5.0


def guide_open(session: Session) -> None:
    chan(session, "GUIDE VX")["mute"] = False


def double_clip_muted(session: Session) -> None:
    chan(session, "VOX DBL")["clips"][1]["on"] = False


def gate_shut(session: Session) -> None:
    chan(session, "RACK")["inserts"][0]["dynamics"]["threshold_db"] = -3.4


def overhead_short(session: Session) -> None:
    chan(session, "OH R")["clips"][-1]["end_s"] = 180.6


def tamb_missing(session: Session) -> None:
    next(m for m in session["media"] if m["id"] == "tamb")["present"] = False


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["LEAD ALT", "VOX ALT", "ROUGH PRINT", "GUIDE VX", "TB"],
        "why": "muted on purpose, kept for a recall",
    },
    {
        "channels": ["CLICK", "TB", "ROUGH PRINT"],
        "why": "go nowhere on purpose: cue, talkback and the rough to compare with",
    },
    {
        "channels": ["KIK SMP", "SN SMP", "KIK IN", "SN TOP"],
        "why": "printed samples under the real drum, lined up, low",
    },
    {"channels": ["DRM CRUSH", "BS GRIT"], "why": "parallel buses: the same source beside its dry group, meant so"},
    {"channels": ["LEAD", "CLEAN VS", "TAMB", "HAT"], "why": "off the middle without a partner: a matter of taste"},
    {"channels": ["ORG", "GTR"], "why": "the organ rides with the guitars on purpose"},
    {"channels": ["RM MONO"], "why": "crushed hard and distorted: that is its job, and it sits low"},
    {
        "channels": ["RG1 L dyn", "RG1 L rib", "RG1 R dyn", "RG1 R rib"],
        "why": "hard to the sides, two mics on one spot each",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "rib-wrong-side",
        "class": "place",
        "channels": ["RG1 R rib", "RG1 R dyn", "RG1 L rib"],
        "grade": "hold",
        "says": "The ribbon of the right guitar is panned hard left, away from its own dynamic mic on the right.",
        "plant": rib_wrong_side,
    },
    {
        "id": "snare-bottom-polarity",
        "class": "phase",
        "channels": ["SN BOT", "SN TOP"],
        "grade": "hold",
        "says": "The polarity flip on the bottom snare mic is bypassed, so it works against the top mic.",
        "plant": bottom_not_flipped,
    },
    {
        "id": "double-is-copy",
        "class": "twice",
        "channels": ["RG2 R", "RG2 L"],
        "grade": "hold",
        "says": "In the last chorus RG2 R plays the file of RG2 L: the double is a copy and falls to the middle.",
        "plant": same_double,
    },
    {
        "id": "floor-into-bass",
        "class": "routing",
        "channels": ["FLOOR", "BASS", "DRM"],
        "grade": "hold",
        "says": "The floor tom goes into the bass group instead of the drum group and pumps the bass compressor.",
        "plant": floor_into_bass,
    },
    {
        "id": "throw-left-up",
        "class": "automation",
        "channels": ["VOX", "VX DLY"],
        "grade": "hold",
        "says": "The delay throw at the end of verse 2 never closes, the whole second chorus runs into the delay.",
        "plant": throw_left_up,
    },
    {
        "id": "left-double-up",
        "class": "level",
        "channels": ["RG2 L", "RG2 R"],
        "grade": "look",
        "says": "RG2 L stands 5 dB above its double on the right, the choruses lean to the left.",
        "plant": left_double_up,
    },
    {
        "id": "guide-open",
        "class": "audible-that-should-not-be",
        "channels": ["GUIDE VX", "VOX", "VOX BUS"],
        "grade": "hold",
        "says": "The guide vocal is not muted and plays under the lead vocal.",
        "plant": guide_open,
    },
    {
        "id": "double-clip-muted",
        "class": "inaudible",
        "channels": ["VOX DBL"],
        "grade": "look",
        "says": "The clip of the vocal double in the second chorus is muted, the other choruses have theirs.",
        "plant": double_clip_muted,
    },
    {
        "id": "rack-gate-shut",
        "class": "processors",
        "channels": ["RACK"],
        "grade": "hold",
        "says": "The gate on the rack tom opens only at -3.4 dBFS (the floor's at -36), the fills stay shut.",
        "plant": gate_shut,
    },
    {
        "id": "overhead-short",
        "class": "end",
        "channels": ["OH R", "OH L"],
        "grade": "hold",
        "says": "The right overhead stops four seconds before all other drum mics, the last crash dies on one side.",
        "plant": overhead_short,
    },
    {
        "id": "tamb-missing",
        "class": "files",
        "channels": ["TAMB"],
        "grade": "hold",
        "says": "The tambourine's file is missing, the choruses would be bounced without it.",
        "plant": tamb_missing,
    },
]
