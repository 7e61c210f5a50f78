"""A folk-pop song at 84 bpm: two steel-string guitars left and right, kit, bass, piano, organ, one singer.

Kit, bass and first guitar were cut together to a click in two days, the rest was added later; every file of the
tracking days begins at bar 1. The kit is cut as one, the toms are cleaned by hand to the fills. Each guitar has a mono
room of its own, returned on the far side. The voice is a consolidated comp with a later fix for the bridge; the double
is tucked well under it, the quarter-note delay is thrown at line ends only. Groups for kit, bass, instruments, voices.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]

BPM = 84.0
RATE = 48000.0
LENGTH = 249.6

SECTIONS = [
    (1, "count"),
    (3, "Intro"),
    (7, "V1"),
    (15, "V1b kit in"),
    (23, "Ch 1"),
    (31, "Link"),
    (35, "V2"),
    (51, "Ch 2"),
    (59, "Bridge"),
    (67, "Ch 3"),
    (79, "Outro"),
    (84, "last chord"),
    (87, "END"),
]


def at(bar: float, beat: float = 1.0) -> float:
    """Seconds of a bar and beat, both counted from 1."""
    return round(((bar - 1.0) * 4.0 + beat - 1.0) * 60.0 / BPM, 6)


def clip(file: str, start: float, end: float, name: str, fades: tuple[float, float], **more: Any) -> Part:
    """A clip of a file that begins at bar 1, unless an offset is given."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start, 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    } | more


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.71, slope: float | None = None) -> Part:
    """One equalizer band."""
    made: Part = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if slope is not None:
        made["slope_db_per_oct"] = slope
    return made


def eq(*bands: Part) -> Part:
    """An equalizer with open settings."""
    return {
        "name": "EQ",
        "kind": "equalizer",
        "on": True,
        "loaded": True,
        "opaque": False,
        "equalizer": {"bands": list(bands)},
    }


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> Part:
    """A compressor with open settings."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return {"name": name, "kind": "compressor", "on": True, "loaded": True, "opaque": False, "dynamics": dynamics}


def gate(threshold: float, depth: float) -> Part:
    """A gate with open settings."""
    dynamics = {"threshold_db": threshold, "attack_ms": 0.3, "release_ms": 140.0, "range_db": depth}
    return {"name": "Gate", "kind": "gate", "on": True, "loaded": True, "opaque": False, "dynamics": dynamics}


def tool(name: str, kind: str, *parameters: Part, **more: Any) -> Part:
    """Any other processor, with the parameters that it lists."""
    made: Part = {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": not parameters}
    return made | {"parameters": list(parameters)} | more


def value(ident: str, name: str, what: float | bool | str, unit: str = "") -> Part:
    """A listed parameter."""
    return {"id": ident, "name": name, "value": what, "unit": unit}


def send(to: str, level: float) -> Part:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(target: str, first: float, *moves: tuple[float, float], glide: float = 0.12) -> Part:
    """Automation in decibels that starts at a value and makes short moves to the next ones."""
    times, values = [0.0], [first]
    for when, level in moves:
        times += [round(when - glide, 6), round(when, 6)]
        values += [values[-1], level]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": values}


def strip(ident: str, name: str, kind: str, out: str | None, fader: float, pan: float = 0.0, **more: Any) -> Part:
    """A channel of the desk; mono unless told otherwise."""
    made: Part = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 1,
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
    if kind == "track":
        made["plays"] = ["audio"]
    return made | more


def kit_clips(file: str) -> list[Part]:
    """The two long stretches of the kit, cut alike on every microphone."""
    return [
        clip(file, at(15) - 0.04, at(59, 2), f"{file}-01", (0.005, 0.35)),
        clip(file, at(66, 3) - 0.04, at(86), f"{file}-02", (0.005, 2.4)),
    ]


def tom_clips(file: str) -> list[Part]:
    """The fills only, from beat 3 into the next downbeat, and the last chord."""
    fills = [22, 30, 50, 58, 66, 78]
    made = [
        clip(file, at(bar, 3) - 0.04, at(bar + 1, 2), f"{file}-{n:02d}", (0.005, 0.25))
        for n, bar in enumerate(fills, start=1)
    ]
    return [*made, clip(file, at(83, 3) - 0.04, at(86), f"{file}-07", (0.005, 2.4))]


def bass_clips(file: str) -> list[Part]:
    """Bass from the second half of verse 1; cut in the rest before the bridge."""
    return [
        clip(file, at(15) - 0.03, at(58, 4.5), f"{file}-01", (0.005, 0.02)),
        clip(file, at(59) - 0.03, at(86), f"{file}-02", (0.005, 2.4)),
    ]


def guitar_clips(first: str, second: str, enters: int) -> list[Part]:
    """A guitar made of two takes: the second for verse 2 and chorus 2, with crossfades of 20 ms."""
    return [
        clip(first, at(enters) - 0.08, at(35) + 0.01, f"{first}-01", (0.02, 0.02)),
        clip(second, at(35) - 0.01, at(59) + 0.01, f"{second}-01", (0.02, 0.02)),
        clip(first, at(59) - 0.01, at(86), f"{first}-02", (0.02, 2.4)),
    ]


def lead_clips() -> list[Part]:
    """The lead comp phrase by phrase; the bridge comes from the fix, a file that begins at bar 57."""
    comped = [
        (6.75, 14.5, "V1a", 0.0),
        (14.75, 22.5, "V1b", 0.0),
        (22.75, 30.5, "Ch1", -0.5),
        (34.75, 42.5, "V2a", 0.0),
        (42.75, 50.5, "V2b", 1.0),
        (50.75, 58.5, "Ch2", -0.5),
        (66.25, 72.5, "Ch3a", -0.5),
        (72.75, 78.75, "Ch3b", -0.5),
        (80.5, 84.75, "tag", 0.5),
    ]
    made = [
        clip("lead_comp", at(first), at(last), f"LV {name}", (0.03, 0.06), gain_db=gain)
        for first, last, name, gain in comped
    ]
    fix = clip("lead_fix_br", at(59.0) + 0.2, at(66.0), "LV bridge fix", (0.03, 0.06), gain_db=1.5)
    fix["offset_s"] = round(fix["start_s"] - at(57), 6)
    return [*made[:6], fix, *made[6:]]


def chorus_clips(file: str, label: str, last: float) -> list[Part]:
    """A second voice in the three choruses."""
    spans = [(22.75, 30.5, "Ch1"), (50.75, 58.5, "Ch2"), (66.75, last, "Ch3")]
    return [clip(file, at(a), at(b), f"{label} {name}", (0.03, 0.06)) for a, b, name in spans]


def kit() -> list[Part]:
    """The kit, seen from the front: hat right, floor tom left."""
    hat_eq = eq(band("high-pass", 320.0, slope=24.0), band("bell", 920.0, -2.5, 1.4), band("high-shelf", 9000.0, 1.0))
    return [
        strip(
            "k_in", "Kick In", "track", "drums", -6.5,
            inserts=[gate(-32.0, -14.0), eq(band("bell", 62.0, 2.5, 1.1), band("bell", 380.0, -4.0, 1.3))],
            clips=kit_clips("kick_in"),
        ),
        strip("k_out", "Kick Out", "track", "drums", -10.0, inserts=[eq(band("low-pass", 4500.0, slope=12.0))],
              clips=kit_clips("kick_out")),
        strip(
            "s_top", "Snare Top", "track", "drums", -7.0,
            inserts=[
                eq(band("high-pass", 85.0, slope=12.0), band("bell", 210.0, 1.5), band("bell", 4800.0, 2.0)),
                comp("Comp", -16.0, 3.5, 14.0, 110.0, 2.0),
            ],
            clips=kit_clips("snr_top"),
        ),
        strip(
            "s_bot", "Snare Bot", "track", "drums", -14.5,
            comment="pol flipped against top",
            inserts=[
                tool("Polarity", "utility", value("invert", "Invert", True)),
                eq(band("high-pass", 160.0, slope=12.0)),
            ],
            clips=kit_clips("snr_bot"),
        ),
        strip("hat", "Hat", "track", "drums", -17.0, 35.0, inserts=[hat_eq], clips=kit_clips("hat")),
        strip(
            "rack", "Rack", "track", "drums", -9.0, 20.0,
            comment="cleaned, fills only",
            inserts=[eq(band("high-pass", 60.0, slope=12.0), band("bell", 420.0, -4.0, 1.2))],
            clips=tom_clips("tom_rack"),
        ),
        strip(
            "floor", "Floor", "track", "drums", -8.5, -35.0,
            comment="cleaned, fills only",
            inserts=[eq(band("high-pass", 42.0, slope=12.0), band("bell", 88.0, 2.0), band("bell", 360.0, -4.0, 1.2))],
            clips=tom_clips("tom_floor"),
        ),
        strip("oh_l", "OH L", "track", "drums", -10.0, -90.0, inserts=[eq(band("high-pass", 110.0, slope=12.0))],
              clips=kit_clips("oh_l")),
        strip("oh_r", "OH R", "track", "drums", -10.0, 90.0, inserts=[eq(band("high-pass", 110.0, slope=12.0))],
              clips=kit_clips("oh_r")),
        strip(
            "room", "Drum Room", "track", "drums", -15.0, legs=2,
            inserts=[comp("Comp", -28.0, 5.0, 4.0, 90.0, 3.0)],
            clips=kit_clips("drm_room"),
            automation=[ride("fader", -15.0, (at(51), -13.0), (at(59), -15.0), (at(67), -12.5), (at(79), -14.0))],
        ),
    ]  # fmt: skip


def band_tracks() -> list[Part]:
    """Bass, guitars and keys."""
    ac_eq = [band("high-pass", 95.0, slope=12.0), band("bell", 210.0, -2.5, 1.2), band("high-shelf", 8000.0, 1.5)]
    return [
        strip("b_di", "Bass DI", "track", "bass", -9.0, inserts=[eq(band("high-pass", 32.0, slope=12.0))],
              clips=bass_clips("bass_di")),
        strip(
            "b_amp", "Bass Amp", "track", "bass", -7.5,
            inserts=[eq(band("high-pass", 40.0, slope=12.0), band("bell", 850.0, 1.5, 1.0))],
            clips=bass_clips("bass_amp"),
        ),
        strip(
            "ac1", "Ac 1 (strum)", "track", "inst", -8.0, -75.0,
            comment="room on far side",
            inserts=[eq(*ac_eq), comp("Comp", -18.0, 2.5, 22.0, 160.0, 1.5)],
            sends=[send("ac1v", -11.0)],
            clips=guitar_clips("ac1_t2", "ac1_t4", 3),
            automation=[
                ride("fader", -8.0, (at(23), -9.0), (at(31), -8.0), (at(51), -9.0), (at(59), -7.0), (at(67), -9.0),
                     (at(79), -7.5)),
            ],
        ),
        strip(
            "ac2", "Ac 2 (pick)", "track", "inst", -8.5, 75.0,
            comment="room on far side",
            inserts=[eq(*[dict(b) for b in ac_eq]), comp("Comp", -19.0, 2.5, 20.0, 160.0, 2.0)],
            sends=[send("ac2v", -11.0)],
            clips=guitar_clips("ac2_t1", "ac2_t3", 7),
        ),
        strip(
            "pno", "Piano", "track", "inst", -12.0, legs=2,
            inserts=[eq(band("high-pass", 70.0, slope=12.0), band("bell", 300.0, -2.0))],
            clips=[
                clip("piano", at(23) - 0.1, at(35, 2), "piano-01", (0.02, 0.8)),
                clip("piano", at(43) - 0.1, at(59) - 0.15, "piano-02", (0.02, 0.1)),
                clip("piano", at(59) - 0.1, at(86), "piano-03", (0.02, 2.4)),
            ],
            automation=[ride("fader", -12.0, (at(59), -9.5), (at(67), -12.0))],
        ),
        strip(
            "org", "Organ", "track", "inst", -17.0, legs=2,
            comment="choruses + outro",
            inserts=[eq(band("high-pass", 120.0, slope=12.0), band("low-pass", 9000.0, slope=12.0))],
            clips=[
                clip("organ", at(23) - 0.1, at(31, 2), "organ-01", (0.1, 0.9)),
                clip("organ", at(51) - 0.1, at(59, 2), "organ-02", (0.1, 0.9)),
                clip("organ", at(66) - 0.1, at(86), "organ-03", (0.1, 2.4)),
            ],
            automation=[ride("fader", -17.0, (at(67), -15.5), (at(84), -18.0), glide=2.0)],
        ),
    ]  # fmt: skip


def voices() -> list[Part]:
    """Lead, its double, one harmony, and the first day's take kept for the words."""
    throws = [(14.0, 14.6), (22.0, 22.6), (42.0, 42.6), (50.0, 50.6), (84.0, 84.75)]
    moves = [(at(when), level) for a, b in throws for when, level in ((a, -9.0), (b, -200.0))]
    throw: Part = {
        "target": "send:1:level",
        "scale": "dB",
        "shape": "hold",
        "t": [0.0, *[t for t, _ in moves]],
        "v": [-200.0, *[v for _, v in moves]],
    }
    vox_eq = eq(band("high-pass", 90.0, slope=12.0), band("bell", 260.0, -2.0, 1.1), band("high-shelf", 11000.0, 2.0))
    back_eq = eq(band("high-pass", 140.0, slope=12.0), band("bell", 300.0, -3.0), band("high-shelf", 7000.0, -1.5))
    return [
        strip(
            "lead", "Lead Vox", "track", "vox", -5.0,
            comment="chair creak before ch 3 ridden out. 1/4 = throws only",
            inserts=[
                vox_eq,
                tool("De-ess", "de-esser", value("freq", "Frequency", 6400.0, "Hz"), value("amt", "Range", -5.0, "dB")),
                comp("Comp fast", -14.0, 4.0, 3.0, 60.0, 1.0),
                comp("Comp slow", -20.0, 2.5, 25.0, 250.0, 3.0),
            ],
            sends=[send("plate", -14.0), send("dly", -200.0)],
            clips=lead_clips(),
            automation=[
                ride("fader", -5.0, (at(22.7), -3.6), (at(34.0), -5.0), (at(42.7), -4.6), (at(50.7), -3.4),
                     (at(59), -4.8), (at(66.35), -24.0), (at(66.7), -2.8), (at(80.0), -5.5)),
                throw,
            ],
        ),
        strip(
            "dbl", "Vox Dbl", "track", "vox", -14.0,
            comment="tucked, 9-10 under lead",
            inserts=[
                back_eq,
                tool("De-ess", "de-esser", value("freq", "Frequency", 6000.0, "Hz"), value("amt", "Range", -9.0, "dB")),
                comp("Comp", -22.0, 5.0, 3.0, 80.0, 3.0),
            ],
            sends=[send("plate", -15.0)],
            clips=chorus_clips("vox_dbl", "dbl", 78.75),
        ),
        strip(
            "harm", "Vox Harm", "track", "vox", -11.0,
            comment="third above, all choruses",
            inserts=[
                eq(band("high-pass", 150.0, slope=12.0), band("bell", 320.0, -2.5), band("high-shelf", 8000.0, -1.0)),
                comp("Comp", -21.0, 4.0, 4.0, 90.0, 3.0),
            ],
            sends=[send("plate", -11.5)],
            clips=chorus_clips("vox_harm", "harm", 78.75),
        ),
        strip(
            "old", "Lead Vox OLD", "track", "vox", -6.0,
            mute=True,
            comment="day 1 take, superseded, kept for the words only - DON'T USE",
            inserts=[eq(band("high-pass", 90.0, slope=12.0))],
            clips=[
                clip("lead_day1", at(6.75), at(30.5), "lead_day1-01", (0.03, 0.06)),
                clip("lead_day1", at(34.75), at(84.75), "lead_day1-02", (0.03, 0.06)),
            ],
        ),
    ]  # fmt: skip


def room_return(ident: str, name: str, pan: float, comment: str) -> Part:
    """The small mono room of one guitar."""
    room = tool("Small Room", "reverb", value("decay", "Decay", 0.9, "s"), wet=100.0, pre_delay_ms=18.0)
    tone = eq(band("high-pass", 200.0, slope=12.0), band("low-pass", 7000.0, slope=12.0))
    return strip(ident, name, "return", "mix", -7.0, pan, comment=comment, inserts=[room, tone])


def sums() -> list[Part]:
    """Groups, returns and the mix bus."""
    plate = tool("Plate", "reverb", value("decay", "Decay", 1.9, "s"), wet=100.0, pre_delay_ms=42.0)
    quarter = tool(
        "Delay", "delay",
        value("time", "Time", round(60000.0 / BPM, 1), "ms"), value("fb", "Feedback", 18.0, "%"),
        wet=100.0,
    )  # fmt: skip
    limiter = tool("Limiter", "limiter", value("ceiling", "Ceiling", -1.0, "dB"))
    limiter["dynamics"] = {"threshold_db": -3.0, "release_ms": 120.0, "output_gain_db": 0.0}
    return [
        strip("drums", "DRUMS", "group", "mix", -1.5, legs=2, inserts=[comp("Bus Comp", -14.0, 2.0, 30.0, 120.0, 1.0)]),
        strip("bass", "BASS", "group", "mix", -2.0, legs=2, inserts=[comp("Comp", -18.0, 4.0, 18.0, 130.0, 2.0)]),
        strip("inst", "INST", "group", "mix", -1.0, legs=2),
        strip("vox", "VOX", "group", "mix", 0.0, legs=2, inserts=[eq(band("bell", 3100.0, 1.0, 0.9))]),
        room_return("ac1v", "Ac1 Room >R", 75.0, "far side of Ac 1"),
        room_return("ac2v", "Ac2 Room >L", -75.0, "far side of Ac 2"),
        strip(
            "plate", "Vox Plate", "return", "mix", -4.0, legs=2,
            inserts=[plate, eq(band("high-pass", 260.0, slope=12.0), band("low-pass", 9500.0, slope=12.0))],
        ),
        strip(
            "dly", "Vox 1/4", "return", "mix", -6.0, legs=2,
            comment="quarter at song tempo, line ends",
            inserts=[quarter, eq(band("high-pass", 300.0, slope=12.0), band("low-pass", 4200.0, slope=12.0))],
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
                eq(band("low-shelf", 90.0, 0.5), band("high-shelf", 10000.0, 1.0)),
                comp("Bus Comp", -12.0, 1.5, 30.0, 150.0, 1.0),
                limiter,
            ],
        },
    ]  # fmt: skip


def media() -> list[Part]:
    """The pool: everything at the session's rate, beside the session."""
    mono = [
        "kick_in", "kick_out", "snr_top", "snr_bot", "hat", "tom_rack", "tom_floor", "oh_l", "oh_r",
        "bass_di", "bass_amp", "ac1_t2", "ac1_t4", "ac2_t1", "ac2_t3", "lead_comp", "vox_dbl", "vox_harm", "lead_day1",
    ]  # fmt: skip
    files = [(n, 1, LENGTH) for n in mono] + [(n, 2, LENGTH) for n in ("drm_room", "piano", "organ")]
    files.append(("lead_fix_br", 1, 29.8))
    return [
        {
            "id": name,
            "path": f"audio/{name}.wav",
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for name, legs, length in files
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Low Water Letters - mix 6",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECTIONS],
        "channels": [*kit(), *band_tracks(), *voices(), *sums()],
        "media": media(),
        "metadata": {"revision": "mix 6", "key": "D"},
    }


def channel(session: Session, name: str) -> Part:
    """The channel of a name."""
    found: Part = next(c for c in session["channels"] if c["name"] == name)
    return found


def room_on_near_side(session: Session) -> None:
    """The room of the left guitar is returned on the left."""
    channel(session, "Ac1 Room >R")["pan"] = -75.0


def ride_not_back(session: Session) -> None:
    """The point that brings the voice back after the creak is deleted."""
    lane = channel(session, "Lead Vox")["automation"][0]
    back = max(n for n, level in enumerate(lane["v"]) if level == -24.0) + 1
    del lane["t"][back], lane["v"][back]


def double_too_loud(session: Session) -> None:
    """The double's fader stands above the lead's."""
    channel(session, "Vox Dbl")["fader_db"] = -2.5


def old_take_open(session: Session) -> None:
    """The superseded take is unmuted."""
    channel(session, "Lead Vox OLD")["mute"] = False


def guitar_same_take(session: Session) -> None:
    """The middle clip of the right guitar is the left guitar's clip, copied across with its name."""
    source = channel(session, "Ac 1 (strum)")["clips"][1]
    channel(session, "Ac 2 (pick)")["clips"][1] = dict(source)


def snare_past_group(session: Session) -> None:
    """The snare goes straight to the mix bus."""
    channel(session, "Snare Top")["output"] = "mix"


def overhead_slipped(session: Session) -> None:
    """The second clip of one overhead is dragged 11 ms late."""
    late = channel(session, "OH R")["clips"][1]
    late["start_s"] = round(late["start_s"] + 0.011, 6)
    late["end_s"] = round(late["end_s"] + 0.011, 6)


def hat_eq_on_floor(session: Session) -> None:
    """The hat's equalizer is pasted over the floor tom's."""
    source = channel(session, "Hat")["inserts"][0]["equalizer"]["bands"]
    channel(session, "Floor")["inserts"][0]["equalizer"]["bands"] = [dict(b) for b in source]


def harmony_clip_off(session: Session) -> None:
    """The harmony's clip of the last chorus is muted."""
    channel(session, "Vox Harm")["clips"][2]["on"] = False


def piano_chopped(session: Session) -> None:
    """The piano's last clip is trimmed into the ringing chord."""
    last = channel(session, "Piano")["clips"][-1]
    last["end_s"] = round(at(84) + 0.86, 6)
    last["fade_out_s"] = 0.01


def delay_of_other_song(session: Session) -> None:
    """The delay time comes from a song at 120."""
    channel(session, "Vox 1/4")["inserts"][0]["parameters"][0]["value"] = 500.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Lead Vox OLD"], "why": "a muted spare on purpose, says so in its comment"},
    {
        "channels": ["Ac1 Room >R", "Ac2 Room >L"],
        "why": "mono returns panned to the side opposite their guitars, meant so",
    },
    {"channels": ["Vox 1/4"], "why": "fed by throws only; its one send is shut between them"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-on-near-side",
        "class": "place",
        "channels": ["Ac1 Room >R"],
        "grade": "look",
        "says": "The room of Ac 1 is meant for the right but sits left, on its own guitar and on the other return.",
        "plant": room_on_near_side,
    },
    {
        "id": "ride-not-back",
        "class": "automation",
        "channels": ["Lead Vox"],
        "grade": "hold",
        "says": "After the dip for the creak the lead's ride stays down and crawls up from -24 dB through chorus 3.",
        "plant": ride_not_back,
    },
    {
        "id": "double-too-loud",
        "class": "level",
        "channels": ["Vox Dbl"],
        "grade": "look",
        "says": "The double is louder than the lead although its comment has it 9-10 dB below.",
        "plant": double_too_loud,
    },
    {
        "id": "old-take-open",
        "class": "audible-that-should-not-be",
        "channels": ["Lead Vox OLD"],
        "grade": "hold",
        "says": "The superseded first-day vocal is unmuted and sings along with the lead.",
        "plant": old_take_open,
    },
    {
        "id": "guitar-same-take",
        "class": "twice",
        "channels": ["Ac 2 (pick)", "Ac 1 (strum)"],
        "grade": "hold",
        "says": "In verse 2 and chorus 2 both guitars play the same file at the same place; the pair turns mono.",
        "plant": guitar_same_take,
    },
    {
        "id": "snare-past-group",
        "class": "routing",
        "channels": ["Snare Top"],
        "grade": "look",
        "says": "Snare Top goes straight to Mix, past DRUMS, where all the other kit microphones go.",
        "plant": snare_past_group,
    },
    {
        "id": "overhead-slipped",
        "class": "phase",
        "channels": ["OH R"],
        "grade": "look",
        "says": "From bar 66 on OH R lies 11 ms later than OH L and the rest of the kit.",
        "plant": overhead_slipped,
    },
    {
        "id": "hat-eq-on-floor",
        "class": "processors",
        "channels": ["Floor"],
        "grade": "look",
        "says": "Floor carries the hat's equalizer, a steep high-pass at 320 Hz that takes the drum away.",
        "plant": hat_eq_on_floor,
    },
    {
        "id": "harmony-clip-off",
        "class": "inaudible",
        "channels": ["Vox Harm"],
        "grade": "look",
        "says": "The harmony's clip in chorus 3 is muted though the harmony is meant for all choruses.",
        "plant": harmony_clip_off,
    },
    {
        "id": "piano-chopped",
        "class": "end",
        "channels": ["Piano"],
        "grade": "look",
        "says": "The piano breaks off under a second into the last chord; everybody else rings for two bars.",
        "plant": piano_chopped,
    },
    {
        "id": "delay-of-other-song",
        "class": "ambience",
        "channels": ["Vox 1/4"],
        "grade": "look",
        "says": "The quarter-note delay stands at 500 ms; a quarter at 84 bpm lasts 714 ms.",
        "plant": delay_of_other_song,
    },
]
