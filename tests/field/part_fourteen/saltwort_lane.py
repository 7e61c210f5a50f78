"""Saltwort Lane: indie folk in three-four, played live in one room without a click.

Maren and Tobi sit opposite each other and sing while they play; each guitar has a mic at the neck joint and one at
the lower bout, Maren to the left of the listener, Tobi to the right. Double bass with a mic and its pickup, a small
kit with brushes, a pair for the room. Take 4 is the record, chorus 2 comes from take 6 on every microphone. Harmonium,
fiddle and shaker were added afterwards. The tempo map was tapped to the performance, so it breathes.

The engineer cuts the vocal, bass and drum mics where nobody plays, leaves guitars and room open, pans each guitar's two
mics nearly together, treats neck mics alike and body mics alike, rides the lead by hand and keeps one plate for voices
and one chamber for everything wooden.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Thing = dict[str, Any]

RATE = 48000.0
BEATS = 3
LAST = 124
C2, INTERLUDE = 54, 66
PRE, XFADE, RING = 0.35, 0.04, 9.5
TAKE6 = 2.871  # take 6 was rolling this much longer before the song
TEMPI = [
    (0, 97.0),
    (10, 98.6),
    (26, 101.4),
    (38, 99.6),
    (54, 102.2),
    (66, 101.0),
    (78, 96.4),
    (94, 102.8),
    (114, 99.0),
    (121, 86.0),
]
SECTIONS = [
    (2, "Intro"),
    (10, "V1"),
    (26, "C1"),
    (38, "V2"),
    (54, "C2 (take 6)"),
    (66, "Interlude"),
    (78, "V3 Maren alone"),
    (94, "C3 double"),
    (114, "Outro"),
]


def at(bar: float) -> float:
    """The second at which a bar (counted from 0) begins on the tapped map."""
    seconds = 0.0
    for i, (first, bpm) in enumerate(TEMPI):
        until = TEMPI[i + 1][0] if i + 1 < len(TEMPI) else 10_000
        if bar <= first:
            break
        seconds += (min(bar, until) - first) * BEATS * 60.0 / bpm
    return round(seconds, 4)


def unit(name: str, kind: str, **more: Any) -> Thing:
    """A processor."""
    return {"name": name, "kind": kind, "on": True, "opaque": not more, **more}


def value(ident: str, amount: float | bool, measure: str = "") -> Thing:
    """A listed setting."""
    return {"id": ident, "name": ident.replace("_", " "), "value": amount, "unit": measure}


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.9) -> Thing:
    """A band with gain."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def cut(kind: str, freq: float, slope: float = 12.0) -> Thing:
    """A high-pass or low-pass band."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def eq(*bands: Thing) -> Thing:
    """An equalizer."""
    return unit("EQ", "equalizer", equalizer={"bands": list(bands)})


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Thing:
    """A compressor."""
    settings = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "knee_db": 6.0,
        "output_gain_db": makeup,
        "auto_makeup": False,
    }
    return unit(name, "compressor", dynamics=settings)


def deesser(freq: float, threshold: float) -> Thing:
    """A de-esser."""
    return unit("De-ess", "de-esser", parameters=[value("freq", freq, "Hz"), value("threshold", threshold, "dB")])


def send(to: str, level: float) -> Thing:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(target: str, *points: tuple[float, float]) -> Thing:
    """A ride in decibels over bars."""
    times, levels = [at(bar) for bar, _ in points], [level for _, level in points]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": levels}


def clip(name: str, file: str, start: float, end: float, offset: float, **more: Any) -> Thing:
    """A stretch of audio."""
    base: Thing = {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 4),
        "speed": 1.0,
        "fade_in_s": 0.01,
        "fade_out_s": 0.02,
        "gain_db": 0.0,
        "on": True,
    }
    return base | more


def live(stem: str, *spans: tuple[int, int] | tuple[int, int, float]) -> list[Thing]:
    """What one live mic plays, as spans of bars (with clip gain if any), chorus 2 from take 6."""
    clips = []
    for i, span in enumerate(spans):
        first, last = span[0], span[1]
        joined_before = i > 0 and spans[i - 1][1] == first
        joined_after = i + 1 < len(spans) and spans[i + 1][0] == last
        start = at(first) - (XFADE / 2 + 0.045 if joined_before else PRE)
        end = at(last) + (XFADE / 2 - 0.045 if joined_after else RING if last == LAST else 0.9)
        take = 6 if first == C2 else 4
        clips.append(
            clip(
                f"t{take} {stem}",
                f"t{take}_{stem}",
                start,
                end,
                start + (TAKE6 if take == 6 else 0.0),
                fade_in_s=XFADE if joined_before else 0.2,
                fade_out_s=XFADE if joined_after else 3.0 if last == LAST else 0.5,
                gain_db=span[2] if len(span) > 2 else 0.0,
            )
        )
    return clips


def track(ident: str, name: str, bus: str, fader: float, pan: float, **more: Any) -> Thing:
    """A track that lies in the bus it plays to."""
    base: Thing = {
        "id": ident,
        "name": name,
        "kind": "track",
        "parent": bus,
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": bus,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    return base | more


def strip(ident: str, name: str, kind: str, fader: float, **more: Any) -> Thing:
    """A stereo group or return into the mix."""
    base: Thing = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": "mix",
        "sends": [],
        "inserts": [],
        "automation": [],
    }
    return base | more


def voices() -> list[Thing]:
    """The two singers."""
    maren = track("vm", "Vox Maren", "vox", -4.5, 0.0, comment="sings + plays, gtr spill is part of it")
    maren["inserts"] = [
        eq(cut("high-pass", 90.0, 18.0), band("bell", 240.0, -2.5, 1.2), band("high-shelf", 11000.0, 2.0, 0.7)),
        comp("Opto comp", -23.0, 3.0, 10.0, 160.0, 3.0),
        deesser(6800.0, -29.0),
    ]
    maren["sends"] = [send("plate", -12.0), send("slap", -19.0)]
    maren["clips"] = live("vox_maren", (10, 38), (38, 54), (54, 66), (78, 94, 1.5), (94, 114), (116, 122))
    maren["automation"] = [
        ride("fader", (0, -4.5), (25, -4.5), (26, -3.8), (37, -3.8), (39, -4.7), (53, -4.7), (54, -3.6), (65, -3.6),
             (77, -5.2), (92, -5.2), (94, -3.2), (113, -3.2), (116, -5.5)),
        ride("send:0:level", (0, -12.0), (93, -12.0), (94, -9.5), (113, -9.5), (115, -11.0)),
    ]  # fmt: skip
    tobi = track("vt", "Vox Tobi", "vox", -8.5, 14.0)
    tobi["inserts"] = [
        eq(cut("high-pass", 100.0, 18.0), band("bell", 280.0, -3.0, 1.2), band("high-shelf", 10000.0, 1.0, 0.7)),
        comp("Opto comp", -24.0, 3.0, 12.0, 180.0, 2.5),
        deesser(6200.0, -30.0),
    ]
    tobi["sends"] = [send("plate", -10.5), send("slap", -22.0)]
    tobi["clips"] = live("vox_tobi", (26, 38), (46, 54), (54, 66), (94, 114), (114, 120, -1.0))
    return [maren, tobi]


def guitars() -> list[Thing]:
    """Two guitars, a neck and a body mic each, and a pickup that nobody wanted."""
    m_spans, t_spans = ((2, 54), (54, 66), (66, 124)), ((2, 54), (54, 66), (66, 78), (94, 124))
    strips = []
    for ident, name, stem, pan, fader, spans, low, mud in (
        ("gmn", "Gtr Maren neck", "gtr_maren_neck", -62.0, -7.0, m_spans, 82.0, 190.0),
        ("gmb", "Gtr Maren body", "gtr_maren_body", -55.0, -10.5, m_spans, 95.0, 210.0),
        ("gtn", "Gtr Tobi neck", "gtr_tobi_neck", 62.0, -6.5, t_spans, 80.0, 175.0),
        ("gtb", "Gtr Tobi body", "gtr_tobi_body", 55.0, -10.0, t_spans, 92.0, 205.0),
    ):
        new = track(ident, name, "gtrs", fader, pan)
        bright = [band("high-shelf", 10000.0, 1.5, 0.7)] if name.endswith("neck") else []
        new["inserts"] = [eq(cut("high-pass", low), band("bell", mud, -3.0, 1.4), *bright)]
        if name.endswith("neck"):
            new["inserts"].append(comp("Comp", -20.0, 2.0, 25.0, 140.0, 1.0))
        new["sends"] = [send("chamber", -17.0 if name.endswith("neck") else -19.0)]
        new["clips"] = live(stem, *spans)
        strips.append(new)
    spare = track("gmd", "Gtr Maren DI", "gtrs", -14.0, -62.0, comment="spare, piezo quacks, NOT used")
    spare["mute"] = True
    spare["clips"] = live("gtr_maren_di", *m_spans)
    strips.insert(2, spare)
    return strips


def rhythm() -> list[Thing]:
    """Bass, kit and the shaker."""
    b_spans, d_spans = ((18, 54), (54, 66), (66, 78), (86, 124)), ((24, 54), (54, 66), (66, 78), (94, 124))
    mic = track("bm", "Bass mic", "rhy", -6.0, 0.0)
    mic["inserts"] = [
        eq(cut("high-pass", 35.0), band("bell", 220.0, -2.0), band("bell", 900.0, 1.5)),
        comp("Comp", -22.0, 3.0, 20.0, 120.0, 2.0),
    ]
    mic["sends"] = [send("chamber", -24.0)]
    mic["clips"] = live("bass_mic", *b_spans)
    line = track("bd", "Bass DI", "rhy", -12.5, 0.0, comment="DI 1.9 ms late to sit with the mic, delay stays in")
    line["inserts"] = [
        unit("Align delay", "utility", parameters=[value("delay", 1.9, "ms"), value("polarity_inverted", False)]),
        eq(cut("high-pass", 40.0), cut("low-pass", 2600.0), band("bell", 1100.0, -3.0)),
    ]
    line["clips"] = live("bass_di", *b_spans)
    kick = track("kk", "Kick", "rhy", -11.0, 0.0)
    kick["inserts"] = [eq(cut("high-pass", 32.0), band("bell", 70.0, 2.0), band("bell", 350.0, -3.5, 1.1))]
    kick["clips"] = live("kick", *d_spans)
    snare = track("sn", "Snare brush", "rhy", -12.0, 5.0)
    snare["inserts"] = [eq(cut("high-pass", 110.0), band("high-shelf", 8000.0, 2.0, 0.7))]
    snare["sends"] = [send("chamber", -16.0)]
    snare["clips"] = live("snare", *d_spans)
    over = track("oh", "OH", "rhy", -9.5, 0.0, legs=2)
    over["inserts"] = [eq(cut("high-pass", 140.0), band("high-shelf", 9000.0, -1.0, 0.7))]
    over["sends"] = [send("chamber", -20.0)]
    over["clips"] = live("oh", *d_spans)
    shaker = track("sh", "Shaker OD", "rhy", -15.0, 32.0)
    shaker["inserts"] = [eq(cut("high-pass", 350.0))]
    shaker["sends"] = [send("chamber", -18.0)]
    shaker["clips"] = [
        clip("shaker C2", "od_shaker_c2", at(54) - 0.1, at(66), 1.4),
        clip("shaker C3", "od_shaker_c3", at(94) - 0.1, at(114), 1.1, fade_out_s=0.3),
    ]
    return [mic, line, kick, snare, over, shaker]


def colours() -> list[Thing]:
    """Harmonium, fiddle and the room pair."""
    harm = track("hm", "Harmonium OD", "mix", -13.0, 0.0, legs=2, parent=None)
    harm["inserts"] = [eq(cut("high-pass", 120.0), band("bell", 450.0, -2.5), band("high-shelf", 6000.0, -1.5, 0.7))]
    harm["sends"] = [send("chamber", -15.0)]
    harm["clips"] = [
        clip("harmonium", "od_harmonium", at(a) - 0.1, end, at(a) - 0.1 - at(36), fade_in_s=0.8, fade_out_s=out)
        for a, end, out in ((38, at(66) + 0.8, 0.8), (86, at(124) + 8.5, 3.5))
    ]
    harm["automation"] = [
        ride("fader", (0, -13.0), (53, -13.0), (54, -11.0), (66, -11.0), (86, -15.0), (93, -13.5), (94, -10.5),
             (114, -10.5), (116, -12.5)),
    ]  # fmt: skip
    fiddle = track("fi", "Fiddle OD", "mix", -12.0, -26.0, parent=None, comment="held note sinks into V3, back for C3")
    fiddle["inserts"] = [
        eq(cut("high-pass", 170.0), band("bell", 2600.0, -2.0, 1.5)),
        comp("Comp", -24.0, 2.5, 15.0, 150.0, 2.0),
    ]
    fiddle["sends"] = [send("chamber", -11.0)]
    fiddle["clips"] = [
        clip("fiddle interlude", "od_fiddle_int", at(66) - 0.2, at(79), 1.2, fade_in_s=0.1, fade_out_s=1.0),
        clip("fiddle C3", "od_fiddle_c3", at(94) - 0.4, at(122), 0.8, fade_in_s=0.1, fade_out_s=1.5),
    ]
    fiddle["automation"] = [
        ride("fader", (0, -12.0), (66, -12.0), (70, -9.5), (77, -10.0), (79, -40.0), (92, -40.0), (93.5, -11.0),
             (112, -11.0), (121, -15.0)),
    ]  # fmt: skip
    room = track("rm", "Room pair", "mix", -15.0, 0.0, legs=2, parent=None)
    room["inserts"] = [eq(cut("high-pass", 70.0), band("low-shelf", 200.0, -1.5, 0.7))]
    room["clips"] = live("room", (2, 54), (54, 66), (66, 124))
    room["automation"] = [ride("fader", (0, -15.0), (77, -15.0), (80, -13.0), (93, -13.0), (96, -14.0), (116, -12.5))]
    return [harm, fiddle, room]


def buses() -> list[Thing]:
    """Groups, returns and the mix."""
    gtrs = strip("gtrs", "GTRS", "group", -1.0)
    gtrs["inserts"] = [eq(band("bell", 2800.0, -1.0, 0.8)), comp("Bus comp", -18.0, 1.5, 30.0, 200.0)]
    vox = strip("vox", "VOX", "group", 0.0)
    vox["inserts"] = [comp("Bus comp", -16.0, 2.0, 15.0, 120.0, 1.0)]
    rhy = strip("rhy", "RHYTHM", "group", -1.5)
    rhy["inserts"] = [comp("Bus comp", -17.0, 1.5, 30.0, 150.0)]
    plate = strip("plate", "Plate (vox)", "return", -3.0)
    plate["inserts"] = [
        unit("Plate", "reverb", wet=100.0, pre_delay_ms=32.0, parameters=[value("decay", 1.9, "s")]),
        eq(cut("high-pass", 260.0), cut("low-pass", 8500.0)),
    ]
    chamber = strip("chamber", "Chamber (wood)", "return", -2.0)
    chamber["inserts"] = [
        unit("Chamber", "reverb", wet=100.0, pre_delay_ms=14.0, parameters=[value("decay", 1.2, "s")]),
        eq(cut("high-pass", 180.0), cut("low-pass", 9500.0)),
    ]
    slap = strip("slap", "Slap", "return", -4.0)
    slap["inserts"] = [
        unit("Tape slap", "delay", wet=100.0, parameters=[value("time", 118.0, "ms"), value("feedback", 0.0, "%")]),
        eq(cut("high-pass", 220.0), cut("low-pass", 5200.0)),
    ]
    mix = strip("mix", "Mix", "master", 0.0)
    del mix["output"]
    mix["inserts"] = [
        eq(cut("high-pass", 25.0), band("high-shelf", 12000.0, 0.8, 0.7)),
        comp("Mix comp", -14.0, 1.5, 30.0, 250.0, 0.5),
        unit("Limiter", "limiter", dynamics={"threshold_db": -1.0, "release_ms": 120.0, "output_gain_db": 0.0}),
        unit("Loudness meter", "analyser"),
    ]
    return [gtrs, vox, rhy, plate, chamber, slap, mix]


def media() -> list[Thing]:
    """Every file: two takes on all live mics, and the overdubs."""
    stems = ["vox_maren", "vox_tobi", "gtr_maren_neck", "gtr_maren_body", "gtr_maren_di", "gtr_tobi_neck",
             "gtr_tobi_body", "bass_mic", "bass_di", "kick", "snare", "oh", "room"]  # fmt: skip
    lengths = {
        "od_shaker_c2": at(66) - at(54) + 4.0,
        "od_shaker_c3": at(114) - at(94) + 4.2,
        "od_harmonium": at(124) + 11.5 - at(36),
        "od_fiddle_int": at(79) - at(66) + 4.5,
        "od_fiddle_c3": at(122) - at(94) + 5.0,
    }
    for take, seconds in ((4, 239.2), (6, 241.875)):
        lengths |= {f"t{take}_{stem}": seconds for stem in stems}
    wide = ("oh", "room", "od_harmonium")
    return [
        {
            "id": ident,
            "path": f"Audio/{ident}.wav",
            "place": "beside",
            "present": True,
            "legs": 2 if ident.endswith(wide) else 1,
            "sample_rate_hz": RATE,
            "duration_s": round(seconds, 3),
        }
        for ident, seconds in lengths.items()
    ]


def good() -> Session:
    """The session as it should be bounced."""
    markers = [{"time_s": 0.0, "name": "talk + count (cut)"}]
    markers += [{"time_s": at(bar), "name": name} for bar, name in SECTIONS]
    markers.append({"time_s": round(at(LAST) + 10.0, 4), "name": "END"})
    return {
        "format": "mixlint-session/1",
        "title": "Saltwort Lane",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": float(bar * BEATS), "bpm": bpm} for bar, bpm in TEMPI],
            "meters": [{"beat": 0.0, "beats": BEATS, "unit": 4}],
        },
        "markers": markers,
        "channels": voices() + guitars() + rhythm() + colours() + buses(),
        "media": media(),
        "metadata": {
            "bounce": "whole session up to END, 48k 24 bit",
            "takes": "4, chorus 2 = take 6 on all live mics",
        },
    }


def channel(session: Session, name: str) -> Thing:
    """The channel of a name."""
    found: Thing = next(c for c in session["channels"] if c["name"] == name)
    return found


def clip_in(session: Session, name: str, bar: int) -> Thing:
    """The clip of a channel that plays in the middle of a bar."""
    when = at(bar + 0.5)
    found: Thing = next(c for c in channel(session, name)["clips"] if c["start_s"] <= when < c["end_s"])
    return found


def body_mic_other_side(session: Session) -> None:
    """One mic of the right guitar is panned left."""
    channel(session, "Gtr Tobi body")["pan"] = -55.0


def bass_mic_old_take(session: Session) -> None:
    """The bass mic keeps take 4 in chorus 2."""
    part = clip_in(session, "Bass mic", C2)
    part["file"], part["name"], part["offset_s"] = "t4_bass_mic", "t4 bass_mic", part["start_s"]


def fiddle_stays_down(session: Session) -> None:
    """The fiddle's ride never comes back up for chorus 3."""
    drawn = channel(session, "Fiddle OD")["automation"][0]
    kept = [i for i, when in enumerate(drawn["t"]) if when < at(90)]
    drawn["t"], drawn["v"] = [drawn["t"][i] for i in kept], [drawn["v"][i] for i in kept]


def harmony_sign(session: Session) -> None:
    """The harmony voice stands at plus instead of minus."""
    channel(session, "Vox Tobi")["fader_db"] = 8.5


def talk_left_in(session: Session) -> None:
    """The room pair is pulled open to the head of the take."""
    first = channel(session, "Room pair")["clips"][0]
    first["start_s"], first["offset_s"] = 0.0, 0.0


def plate_half_dry(session: Session) -> None:
    """The plate lets the dry voice through."""
    channel(session, "Plate (vox)")["inserts"][0]["wet"] = 40.0


def neck_past_bus(session: Session) -> None:
    """A neck mic goes straight to the mix."""
    channel(session, "Gtr Tobi neck")["output"] = "mix"


def align_bypassed(session: Session) -> None:
    """The delay that sits the pickup with the mic is bypassed."""
    channel(session, "Bass DI")["inserts"][0]["on"] = False


def high_pass_decade(session: Session) -> None:
    """A high-pass ten times too high."""
    channel(session, "Gtr Maren neck")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 820.0


def ring_cut(session: Session) -> None:
    """One mic of the last chord is cut on the downbeat."""
    last = channel(session, "Gtr Maren body")["clips"][-1]
    last["end_s"], last["fade_out_s"] = round(at(LAST) + 0.42, 4), 0.0


def overhead_missing(session: Session) -> None:
    """The overheads of take 6 are not on the disk."""
    next(f for f in session["media"] if f["id"] == "t6_oh")["present"] = False


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Gtr Maren DI"], "why": "a spare, muted on purpose with all its clips; its comment says so"},
    {"channels": ["Fiddle OD"], "why": "sinks to -40 under V3 on purpose and is alone a little left"},
    {"channels": ["Harmonium OD", "Fiddle OD", "Room pair"], "why": "go straight to the mix, they belong to no group"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "body-mic-other-side",
        "class": "place",
        "channels": ["Gtr Tobi body"],
        "grade": "look",
        "says": "Gtr Tobi body is panned left, its neck mic right: Tobi's guitar is split over Maren's side.",
        "plant": body_mic_other_side,
    },
    {
        "id": "bass-mic-old-take",
        "class": "edits",
        "channels": ["Bass mic"],
        "grade": "hold",
        "says": "In C2 the bass mic still plays take 4 while the DI and every other live mic play take 6.",
        "plant": bass_mic_old_take,
    },
    {
        "id": "fiddle-stays-down",
        "class": "automation",
        "channels": ["Fiddle OD"],
        "grade": "hold",
        "says": "The fiddle's ride ends at -40 dB in V3 and never comes back, so its C3 clip is as good as silent.",
        "plant": fiddle_stays_down,
    },
    {
        "id": "harmony-sign",
        "class": "level",
        "channels": ["Vox Tobi"],
        "grade": "hold",
        "says": "The harmony stands at +8.5 dB, some 13 dB over the lead; it should surely be -8.5.",
        "plant": harmony_sign,
    },
    {
        "id": "talk-left-in",
        "class": "audible-that-should-not-be",
        "channels": ["Room pair"],
        "grade": "look",
        "says": "The room pair alone starts at 0, over the talk and count that are cut on all other mics.",
        "plant": talk_left_in,
    },
    {
        "id": "plate-half-dry",
        "class": "ambience",
        "channels": ["Plate (vox)"],
        "grade": "look",
        "says": "The plate on its return is only 40 % wet, so dry voice comes back with it; other returns are 100 %.",
        "plant": plate_half_dry,
    },
    {
        "id": "neck-past-bus",
        "class": "routing",
        "channels": ["Gtr Tobi neck"],
        "grade": "look",
        "says": "Gtr Tobi neck plays straight to the mix, past GTRS where it lies and where the other guitar mics go.",
        "plant": neck_past_bus,
    },
    {
        "id": "align-bypassed",
        "class": "phase",
        "channels": ["Bass DI"],
        "grade": "look",
        "says": "The align delay on the bass DI is bypassed though the comment says it stays in; DI and mic comb.",
        "plant": align_bypassed,
    },
    {
        "id": "high-pass-decade",
        "class": "processors",
        "channels": ["Gtr Maren neck"],
        "grade": "look",
        "says": "The high-pass on Gtr Maren neck is at 820 Hz where the other guitar mics have 80 to 95 Hz.",
        "plant": high_pass_decade,
    },
    {
        "id": "ring-cut",
        "class": "end",
        "channels": ["Gtr Maren body"],
        "grade": "look",
        "says": "Gtr Maren body is cut without a fade just after the last chord; its neck mic and the rest ring on.",
        "plant": ring_cut,
    },
    {
        "id": "overhead-missing",
        "class": "files",
        "channels": ["OH"],
        "grade": "hold",
        "says": "The take 6 file of the overheads is missing, so C2 has no overheads.",
        "plant": overhead_missing,
    },
]
