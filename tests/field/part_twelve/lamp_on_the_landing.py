"""Lamp on the Landing: a slow waltz for one voice, two acoustic guitars, upright bass, cajon and shakers.

Tracked in a wooden living room over two days. Guitars, bass and cajon were overdubbed to a click at 84; the last page
slows down by hand and was mapped afterwards. Every take was started at bar 1 except the short punches. The two guitars
sit left and right, and each one feeds a small mono room (a short delay into it) on the *other* side. The voice was
comped from three takes and ridden by hand, page noise included; the double sings in the choruses only. The bass pickup
is slid three milliseconds late so that it meets the microphone. The engineer cuts a clip per section, keeps faders near
the top and leaves groups at unity or just below.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 48000.0
TEMPOS = [(0.0, 84.0), (306.0, 80.0), (309.0, 75.0), (312.0, 69.0)]
BARS = {
    "INTRO": 3.0,
    "V1": 11.0,
    "C1": 27.0,
    "V2": 39.0,
    "C2": 55.0,
    "INST": 67.0,
    "V3": 75.0,
    "C3": 83.0,
    "OUT": 99.0,
    "END": 107.0,
}
LABELS = {
    "INTRO": "Intro",
    "V1": "Verse 1",
    "C1": "Chorus 1",
    "V2": "Verse 2",
    "C2": "Chorus 2",
    "INST": "Instrumental",
    "V3": "Verse 3 (bare)",
    "C3": "Last chorus",
    "OUT": "Outro",
    "END": "End (let ring)",
}
NEXT = dict(zip(list(BARS), list(BARS)[1:], strict=False))
XF = 0.02
RING = 5.0
PICKUP_LATE = 0.003

# stem of a take: (folder and file, bar at which its recording starts, length of the file)
TAKES: dict[str, tuple[str, float, float]] = {
    "agl_t3": ("gtr/AG_L_t3.wav", 1.0, 238.4),
    "agr_t2": ("gtr/AG_R_t2.wav", 1.0, 237.9),
    "agr_p1": ("gtr/AG_R_t2_punch.wav", 53.0, 51.0),
    "ubm_t2": ("bass/UB_mic_t2.wav", 1.0, 239.25),
    "ubd_t2": ("bass/UB_pickup_t2.wav", 1.0, 239.25),
    "cjf_t1": ("perc/cajon_front_t1.wav", 1.0, 221.7),
    "cjb_t1": ("perc/cajon_back_t1.wav", 1.0, 221.7),
    "sha_t1": ("perc/shaker_a.wav", 1.0, 219.0),
    "shb_t2": ("perc/shaker_b_t2.wav", 1.0, 218.2),
    "vox_t2": ("vox/vox_t2.wav", 1.0, 224.6),
    "vox_t4": ("vox/vox_t4.wav", 1.0, 122.8),
    "vox_t5": ("vox/vox_t5_from_v3.wav", 71.0, 72.3),
    "alt_t2": ("vox/vox_alt_t2.wav", 1.0, 224.6),
    "alt_t4": ("vox/vox_alt_t4.wav", 1.0, 122.8),
    "alt_t5": ("vox/vox_alt_t5_from_v3.wav", 71.0, 72.3),
    "dbl_d1": ("vox/dbl_d1.wav", 1.0, 150.3),
    "dbl_d2": ("vox/dbl_d2_last_ch.wav", 81.0, 44.9),
}


def bar(number: float) -> float:
    """Seconds at which a bar (from 1, three quarters each) begins under the tempo map."""
    beat, seconds = (number - 1.0) * 3.0, 0.0
    for n, (first, bpm) in enumerate(TEMPOS):
        last = TEMPOS[n + 1][0] if n + 1 < len(TEMPOS) else beat
        if beat > first:
            seconds += (min(beat, last) - first) * 60.0 / bpm
    return round(seconds, 6)


def at(section: str) -> float:
    """Seconds at which a section begins."""
    return bar(BARS[section])


def clip(take: str, section: str, start: float, end: float, fades: tuple[float, float], late: float) -> Session:
    """A clip of a take, laid where it was played (``late`` slides it behind that)."""
    origin = bar(TAKES[take][1])
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": f"{take}.{section.lower()}",
        "plays": "audio",
        "file": take,
        "offset_s": round(start - origin - late, 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def part(plan: str, lead: float = 0.05, tail: float = 0.4, late: float = 0.0) -> list[Session]:
    """Clips from a plan such as ``t2: V1 C1 | t4: V2``: one a section, crossfaded where the take changes."""
    cut = [(s, p.split(":")[0].strip()) for p in plan.split("|") for s in p.split(":")[1].split()]
    clips = []
    for n, (section, take) in enumerate(cut):
        before = cut[n - 1] if n and NEXT[cut[n - 1][0]] == section else None
        after = cut[n + 1] if n + 1 < len(cut) and cut[n + 1][0] == NEXT[section] else None
        cross = before is not None and before[1] != take
        start = at(section) - (XF if cross else 0.0 if before else lead)
        end = at(NEXT[section]) + (0.0 if after else tail)
        fade_in = XF if cross else 0.0 if before else 0.01
        fade_out = 0.15 if not after else XF if after[1] != take else 0.0
        clips.append(clip(take, section, start, end, (fade_in, fade_out), late))
    return clips


def ringing(clips: list[Session]) -> list[Session]:
    """The same clips, the last of them left to ring out under a long fade."""
    clips[-1]["end_s"] = round(at("END") + RING, 6)
    clips[-1]["fade_out_s"] = 2.5
    return clips


def page_turn(clips: list[Session]) -> list[Session]:
    """The same clips, the last note of chorus 2 kept to bar 69."""
    held = next(c for c in clips if c["name"].endswith(".c2"))
    held["end_s"] = bar(69.0)
    return clips


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.9, slope: float | None = None) -> Session:
    """One equalizer band."""
    made: Session = {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True}
    made.update({"q": q} if slope is None else {"slope_db_per_oct": slope})
    return made


def cut(freq: float, slope: float = 12.0) -> Session:
    """A high-pass band."""
    return band("high-pass", freq, slope=slope)


def eq(*bands: Session, name: str = "EQ") -> Session:
    """An equalizer."""
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def dyn(kind: str, name: str, settings: tuple[float, float, float, float], gain: float = 0.0) -> Session:
    """Dynamics: threshold, ratio, attack and release, and the gain after it."""
    keys = ("threshold_db", "ratio", "attack_ms", "release_ms")
    body: Session = dict(zip(keys, settings, strict=True))
    body.update({"output_gain_db": gain, "auto_makeup": False})
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": body}


def param(ident: str, value: Any, unit: str = "") -> Session:
    """A listed parameter."""
    return {"id": ident, "name": ident.replace("_", " ").capitalize(), "value": value, "unit": unit}


def fx(kind: str, name: str, *params: Session, **more: Any) -> Session:
    """Any other processor with its listed parameters."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": list(params), **more}


def send(to: str, level: float) -> Session:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(points: list[tuple[float, float]], target: str = "fader") -> Session:
    """A ride in straight lines."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [round(t, 6) for t, _ in points],
        "v": [v for _, v in points],
    }


def strip(ident: str, name: str, kind: str, place: tuple[int, float, float], out: str, **more: Any) -> Session:
    """A channel; ``place`` is its legs, fader and pan."""
    made: Session = {"id": ident, "name": name, "kind": kind, "output": out}
    made.update({"legs": place[0], "fader_db": place[1], "pan": place[2], "mute": False, "solo": False})
    if kind == "track":
        made["plays"] = ["audio"]
    made.update(more)
    return made


def guitars() -> list[Session]:
    """The two guitars, apart, each with its room on the other side."""
    left = ride([(0.0, -7.0), (at("INST") - 0.3, -7.0), (at("INST"), -5.5), (at("V3") - 0.6, -5.5), (at("V3"), -7.0)])
    right = ride([(0.0, -7.2), (at("V3") - 0.4, -7.2), (at("V3"), -8.4), (at("C3") - 0.3, -8.4), (at("C3"), -7.2)])
    return [
        strip(
            "agl", "AG L", "track", (1, -7.0, -70.0), "mix",
            comment="small body, picked. tune in INST",
            inserts=[
                eq(cut(80.0), band("bell", 210.0, -2.0, 1.2), band("high-shelf", 9000.0, 1.5, 0.7)),
                dyn("compressor", "Comp", (-22.0, 2.0, 25.0, 150.0), 1.5),
            ],
            sends=[send("xr", -10.0), send("plate", -22.0)],
            clips=ringing(part("agl_t3: INTRO V1 C1 V2 C2 INST V3 C3 OUT", lead=0.2)),
            automation=[left],
        ),
        strip(
            "agr", "AG R", "track", (1, -7.2, 70.0), "mix",
            comment="big body, strummed with fingers. punch from C2 to end of inst",
            inserts=[
                eq(cut(85.0), band("bell", 180.0, -2.5, 1.1), band("high-shelf", 8500.0, 1.0, 0.7)),
                dyn("compressor", "Comp", (-21.0, 2.0, 25.0, 150.0), 1.5),
            ],
            sends=[send("xl", -10.0), send("plate", -22.0)],
            clips=ringing(part("agr_t2: INTRO V1 C1 V2 | agr_p1: C2 INST | agr_t2: V3 C3 OUT", lead=0.2)),
            automation=[right],
        ),
    ]  # fmt: skip


def rhythm() -> list[Session]:
    """Upright bass on two sources, cajon front and back, two shakers."""
    bass = "{0}: V1 C1 V2 C2 INST | {0}: C3 OUT"
    cajon = "{0}: C1 V2 C2 INST | {0}: C3"
    mic, pickup = ringing(part(bass.format("ubm_t2"))), ringing(part(bass.format("ubd_t2"), late=PICKUP_LATE))
    for clips in (mic, pickup):
        entry = bar(19.0) - 0.05
        clips[0]["offset_s"] = round(clips[0]["offset_s"] + entry - clips[0]["start_s"], 6)
        clips[0]["start_s"] = round(entry, 6)
    return [
        strip(
            "ubm", "UB Mic", "track", (1, -6.0, 0.0), "bass",
            inserts=[
                eq(cut(35.0, 18.0), band("bell", 240.0, -3.0, 1.0), band("bell", 1400.0, 1.5, 0.8)),
                dyn("compressor", "Comp", (-20.0, 3.0, 20.0, 180.0), 2.0),
            ],
            clips=mic,
        ),
        strip(
            "ubd", "UB DI", "track", (1, -10.5, 0.0), "bass",
            comment="pickup, slid 3 ms late to meet the mic, all of it",
            inserts=[eq(cut(40.0, 18.0), band("bell", 900.0, -2.5, 1.4), band("low-pass", 4200.0, slope=12.0))],
            clips=pickup,
        ),
        strip(
            "cjf", "Cajon Fr", "track", (1, -8.0, 0.0), "perc",
            inserts=[
                eq(cut(70.0), band("bell", 420.0, -2.0, 1.3), band("bell", 5200.0, 1.8, 0.9)),
                dyn("compressor", "Comp", (-18.0, 3.0, 15.0, 90.0), 1.0),
            ],
            sends=[send("plate", -23.0)],
            clips=part(cajon.format("cjf_t1")),
        ),
        strip(
            "cjb", "Cajon Bk", "track", (1, -10.0, 0.0), "perc",
            comment="back mic, flipped against front",
            inserts=[
                fx("utility", "Polarity", param("invert", True)),
                eq(cut(32.0), band("bell", 75.0, 2.0, 0.9), band("low-pass", 2600.0, slope=12.0)),
            ],
            clips=part(cajon.format("cjb_t1")),
        ),
        strip(
            "sha", "Shaker A", "track", (1, -16.0, -40.0), "perc",
            comment="egg, also in v2",
            inserts=[eq(cut(420.0), band("high-shelf", 10500.0, -1.5, 0.7))],
            sends=[send("plate", -25.0)],
            clips=part("sha_t1: C1 V2 C2 INST | sha_t1: C3"),
        ),
        strip(
            "shb", "Shaker B", "track", (1, -16.5, 40.0), "perc",
            comment="seeds, choruses and inst",
            inserts=[eq(cut(450.0), band("high-shelf", 10500.0, -1.0, 0.7))],
            sends=[send("plate", -25.0)],
            clips=part("shb_t2: C1 | shb_t2: C2 INST | shb_t2: C3"),
        ),
    ]  # fmt: skip


def voices() -> list[Session]:
    """The voice with its rides, the double, and the second microphone that is not used."""
    level = ride(
        [
            (0.0, -6.5), (at("C1") - 0.4, -6.5), (at("C1"), -5.5), (at("V2") - 0.6, -5.5), (at("V2"), -6.3),
            (bar(47.0), -6.3), (bar(47.5), -5.8), (at("C2") - 0.4, -5.8), (at("C2"), -5.2), (bar(67.5), -5.2),
            (bar(68.0), -40.0), (bar(69.5), -40.0), (bar(74.0), -6.8), (at("C3") - 0.4, -6.8), (at("C3"), -4.8),
            (bar(97.0), -4.8), (bar(99.0), -6.0),
        ]
    )  # fmt: skip
    plate = ride(
        [
            (0.0, -15.0), (at("C1") - 0.4, -15.0), (at("C1"), -12.5), (at("V2") - 0.6, -12.5), (at("V2"), -15.0),
            (at("C2") - 0.4, -15.0), (at("C2"), -12.5), (at("V3") - 1.0, -12.5), (at("V3"), -16.5),
            (at("C3") - 0.4, -16.5), (at("C3"), -12.0),
        ],
        "send:0:level",
    )  # fmt: skip
    comp = "{0}_t2: V1 C1 | {0}_t4: V2 | {0}_t2: C2 | {0}_t5: V3 C3"
    return [
        strip(
            "vox", "Vox", "track", (1, -6.5, 0.0), "voxbus",
            comment="page turn bar 68, rode it down",
            inserts=[
                eq(cut(95.0), band("bell", 260.0, -2.0, 1.2), name="EQ clean"),
                dyn("de-esser", "De-ess", (-29.0, 4.0, 1.0, 45.0)),
                dyn("compressor", "Comp", (-23.0, 3.0, 8.0, 110.0), 3.0),
                eq(band("bell", 3100.0, 1.2, 0.8), band("high-shelf", 11000.0, 2.0, 0.7), name="EQ tone"),
            ],
            sends=[send("plate", -15.0)],
            clips=page_turn(part(comp.format("vox"), lead=0.35, tail=0.9)),
            automation=[level, plate],
        ),
        strip(
            "dbl", "Vox Dbl", "track", (1, -14.0, 0.0), "voxbus",
            comment="choruses only",
            inserts=[
                eq(cut(110.0), band("bell", 260.0, -2.5, 1.2), band("high-shelf", 9000.0, -2.0, 0.7), name="EQ clean"),
                dyn("de-esser", "De-ess", (-34.0, 6.0, 1.0, 45.0)),
                dyn("compressor", "Comp", (-26.0, 4.0, 5.0, 100.0), 3.0),
            ],
            sends=[send("plate", -12.0)],
            clips=part("dbl_d1: C1 | dbl_d1: C2 | dbl_d2: C3", lead=0.25, tail=0.5),
        ),
        strip(
            "alt", "Vox Alt", "track", (1, -6.5, 0.0), "voxbus",
            mute=True,
            comment="second mic on the same takes. not used, keep",
            clips=page_turn(part(comp.format("alt"), lead=0.35, tail=0.9)),
        ),
    ]  # fmt: skip


def buses() -> list[Session]:
    """Groups, the crossed rooms, the plate and the mix bus."""
    lift = ride([(0.0, 0.0), (at("C3") - 0.5, 0.0), (at("C3"), 1.0)])
    return [
        strip(
            "bass", "Bass", "group", (1, -0.5, 0.0), "mix",
            inserts=[dyn("compressor", "Glue", (-16.0, 2.0, 30.0, 220.0), 0.5)],
        ),
        strip(
            "perc", "Perc", "group", (2, 0.0, 0.0), "mix",
            inserts=[dyn("compressor", "Glue", (-15.0, 1.5, 30.0, 160.0), 0.5)],
            automation=[lift],
        ),
        strip(
            "voxbus", "Vox Bus", "group", (2, 0.0, 0.0), "mix",
            inserts=[dyn("compressor", "Level", (-18.0, 1.8, 20.0, 250.0), 1.0)],
        ),
        strip(
            "xr", "Cross R", "return", (1, -3.0, 80.0), "mix",
            comment="room for AG L",
            inserts=[
                fx("delay", "Short", param("time", 19.0, "ms"), param("feedback", 0.0, "%"), wet=100.0),
                fx("reverb", "Small room", param("decay", 0.6, "s"), wet=100.0, pre_delay_ms=0.0),
                eq(cut(160.0), band("low-pass", 6500.0, slope=12.0)),
            ],
        ),
        strip(
            "xl", "Cross L", "return", (1, -3.0, -80.0), "mix",
            comment="room for AG R",
            inserts=[
                fx("delay", "Short", param("time", 23.0, "ms"), param("feedback", 0.0, "%"), wet=100.0),
                fx("reverb", "Small room", param("decay", 0.6, "s"), wet=100.0, pre_delay_ms=0.0),
                eq(cut(160.0), band("low-pass", 6500.0, slope=12.0)),
            ],
        ),
        strip(
            "plate", "Plate", "return", (2, -2.0, 0.0), "mix",
            inserts=[
                eq(cut(260.0), band("bell", 2800.0, -1.5, 1.0)),
                fx("reverb", "Plate", param("decay", 1.9, "s"), param("damp", 6200.0, "Hz"), wet=100.0,
                   pre_delay_ms=38.0),
            ],
        ),
        {
            "id": "mix", "name": "Mix", "kind": "master", "legs": 2, "fader_db": 0.0, "pan": 0.0, "mute": False,
            "solo": False,
            "inserts": [
                eq(cut(24.0, 18.0), band("high-shelf", 12000.0, 0.8, 0.7), name="Bus EQ"),
                dyn("compressor", "Bus comp", (-14.0, 1.5, 30.0, 200.0), 0.5),
                {
                    **dyn("limiter", "Limiter", (-2.0, 20.0, 1.0, 120.0)),
                    "parameters": [param("ceiling", -1.0, "dB")],
                },
                fx("analyser", "Loudness"),
            ],
        },
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    channels = guitars() + rhythm() + voices() + buses()
    return {
        "format": "mixlint-session/1",
        "title": "Lamp on the Landing - mix 4",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm, "ramp": False} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [{"time_s": at(section), "name": LABELS[section]} for section in BARS],
        "channels": channels,
        "media": [
            {
                "id": take,
                "path": f"audio/{path}",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": length,
            }
            for take, (path, _, length) in TAKES.items()
        ],
        "metadata": {"bounce": "stereo, 24 bit, from Intro to the end of the ring"},
    }


def channel(session: Session, name: str) -> Session:
    """The channel of a name."""
    found: Session = next(c for c in session["channels"] if c["name"] == name)
    return found


def clip_of(session: Session, name: str, section: str) -> Session:
    """A channel's clip in a section."""
    found: Session = next(c for c in channel(session, name)["clips"] if c["name"].endswith(f".{section}"))
    return found


def insert_of(session: Session, name: str, label: str) -> Session:
    """A channel's processor by its name."""
    found: Session = next(i for i in channel(session, name)["inserts"] if i["name"] == label)
    return found


def cross_same_side(session: Session) -> None:
    """The left room's pan is the right one's."""
    channel(session, "Cross L")["pan"] = 80.0


def pickup_nudged(session: Session) -> None:
    """The pickup's clip in chorus 2 was nudged by twelve milliseconds."""
    nudged = clip_of(session, "UB DI", "c2")
    nudged["start_s"] = round(nudged["start_s"] + 0.012, 6)
    nudged["end_s"] = round(nudged["end_s"] + 0.012, 6)


def ride_stays_down(session: Session) -> None:
    """The voice's ride ends with the page turn."""
    level = channel(session, "Vox")["automation"][0]
    kept = level["v"].index(-40.0) + 2
    level["t"], level["v"] = level["t"][:kept], level["v"][:kept]


def double_is_lead(session: Session) -> None:
    """The lead's clip of chorus 2 was dropped on the double's lane."""
    clips = channel(session, "Vox Dbl")["clips"]
    clips[clips.index(clip_of(session, "Vox Dbl", "c2"))] = dict(clip_of(session, "Vox", "c2"))


def plate_not_wet(session: Session) -> None:
    """The plate is back at its default mix."""
    insert_of(session, "Plate", "Plate")["wet"] = 30.0


def send_own_side(session: Session) -> None:
    """The right guitar feeds the room on its own side."""
    channel(session, "AG R")["sends"][0]["to"] = "xr"


def low_cut_slipped(session: Session) -> None:
    """The voice's low cut has a nought too many."""
    insert_of(session, "Vox", "EQ clean")["equalizer"]["bands"][0]["freq_hz"] = 950.0


def punch_missing(session: Session) -> None:
    """The right guitar's punch was not copied over."""
    next(m for m in session["media"] if m["id"] == "agr_p1")["present"] = False


def verse_dragged(session: Session) -> None:
    """The left guitar's second verse was dragged a quarter late."""
    dragged = clip_of(session, "AG L", "v2")
    dragged["start_s"] = round(dragged["start_s"] + 60.0 / 84.0, 6)
    dragged["end_s"] = round(dragged["end_s"] + 60.0 / 84.0, 6)


def ring_cut(session: Session) -> None:
    """The right guitar's last chord is cut at the bar line."""
    last = channel(session, "AG R")["clips"][-1]
    last["end_s"] = at("END")
    last["fade_out_s"] = 0.01


def over_the_limiter(session: Session) -> None:
    """The mix fader was pushed behind the limiter."""
    channel(session, "Mix")["fader_db"] = 6.0


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Cross R", "Cross L"],
        "why": "mono rooms far to one side, opposite the guitar that feeds each: that is the idea of them",
    },
    {"channels": ["Vox"], "why": "the ride to -40 dB in bars 68 and 69 hides a page turn, as the comment says"},
    {"channels": ["Vox Alt"], "why": "a muted spare of the same takes, with a comment"},
    {"channels": ["UB DI"], "why": "the pickup is three milliseconds late throughout, on purpose, to meet the mic"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "cross-same-side",
        "class": "place",
        "channels": ["Cross L", "Cross R"],
        "grade": "look",
        "says": "Cross L is panned to +80 like Cross R; both rooms stand right and AG R's room is on its own side.",
        "plant": cross_same_side,
    },
    {
        "id": "pickup-nudged",
        "class": "phase",
        "channels": ["UB DI", "UB Mic"],
        "grade": "look",
        "says": "UB DI's clip in chorus 2 lies 15 ms behind UB Mic's; all its other clips lie 3 ms behind.",
        "plant": pickup_nudged,
    },
    {
        "id": "ride-stays-down",
        "class": "automation",
        "channels": ["Vox"],
        "grade": "hold",
        "says": "Vox's ride goes to -40 dB at the page turn and stays there; verse 3 and the last chorus are lost.",
        "plant": ride_stays_down,
    },
    {
        "id": "double-is-lead",
        "class": "twice",
        "channels": ["Vox Dbl", "Vox"],
        "grade": "hold",
        "says": "In chorus 2 Vox Dbl plays the lead's own take at the same place: the same sound twice, and no double.",
        "plant": double_is_lead,
    },
    {
        "id": "plate-not-wet",
        "class": "ambience",
        "channels": ["Plate"],
        "grade": "look",
        "says": "The plate on its return is 30 % wet where the other returns are wholly wet; dry sound comes back.",
        "plant": plate_not_wet,
    },
    {
        "id": "send-own-side",
        "class": "routing",
        "channels": ["AG R", "Cross L"],
        "grade": "look",
        "says": "AG R feeds Cross R, on its own side and meant for AG L; nothing feeds Cross L any more.",
        "plant": send_own_side,
    },
    {
        "id": "low-cut-slipped",
        "class": "processors",
        "channels": ["Vox"],
        "grade": "hold",
        "says": "Vox's low cut stands at 950 Hz, the double's at 110: a nought too many takes the body off the lead.",
        "plant": low_cut_slipped,
    },
    {
        "id": "punch-missing",
        "class": "files",
        "channels": ["AG R"],
        "grade": "hold",
        "says": "The file of AG R's punch is missing; AG R is silent in chorus 2 and in the instrumental.",
        "plant": punch_missing,
    },
    {
        "id": "verse-dragged",
        "class": "edits",
        "channels": ["AG L"],
        "grade": "hold",
        "says": "AG L's verse 2 clip lies a beat late: a hole before it, an overlap with chorus 2 behind it.",
        "plant": verse_dragged,
    },
    {
        "id": "ring-cut",
        "class": "end",
        "channels": ["AG R"],
        "grade": "look",
        "says": "AG R's last chord stops with a 10 ms fade five seconds before AG L and the bass have rung out.",
        "plant": ring_cut,
    },
    {
        "id": "over-the-limiter",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The mix fader is at +6 dB behind a limiter with its ceiling at -1 dB; the bounce will clip.",
        "plant": over_the_limiter,
    },
]
