"""Sycamore Ferry: a bluegrass five-piece, two guitars, banjo, fiddle, mandolin and upright bass, three-part singing.

The band played live in one room, no click; take 4 is the master, the fiddle break comes from take 6, cut through all
live mics at once because of the spill. Lead and harmonies were overdubbed to that edit, the twin fiddle too. The tempo
map was tapped to the finished edit, one step per section. The engineer keeps one mic and a low DI per guitar, delays
the DIs to the mics, rides breaks on groups, sends from the strips after the fader and prints at -1 dBTP.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

# name, bars, bpm as tapped
SECTIONS: list[tuple[str, int, float]] = [
    ("Count", 1, 117.0),
    ("Kickoff", 8, 117.0),
    ("V1", 16, 116.2),
    ("Ch1", 8, 116.8),
    ("Banjo brk", 16, 118.0),
    ("V2", 16, 117.1),
    ("Ch2", 8, 117.6),
    ("Fiddle brk", 16, 118.5),
    ("V3", 16, 117.4),
    ("Ch3", 8, 118.0),
    ("Tag", 6, 117.5),
]
RING = 5.0  # how long the last chord is left to ring
T4_LEAD = 14.2  # the take 4 files roll this long before song zero
T4_SLIP = 0.137  # the break was that much longer in take 4 than in take 6
T6_LEAD = 10.47  # file time of take 6 less song time
XF = 0.024  # crossfade of the take edits


def section_starts() -> dict[str, float]:
    """Start of each section in seconds; ``End`` is the last hit."""
    starts: dict[str, float] = {}
    now = 0.0
    for name, bars, bpm in SECTIONS:
        starts[name] = now
        now += bars * 4 * 60.0 / bpm
    starts["End"] = now
    return starts


AT = section_starts()
BPM = {name: bpm for name, _, bpm in SECTIONS}
ORDER = [name for name, _, _ in SECTIONS] + ["End"]
LAST = AT["End"]


def at(section: str, bar: float = 0.0) -> float:
    """The time of a bar (counted from 0, fractions allowed) in a section."""
    return AT[section] + bar * 4 * 60.0 / BPM[section]


def after(section: str) -> float:
    """Where a section ends."""
    return AT[ORDER[ORDER.index(section) + 1]]


def r(value: float) -> float:
    """A time as the export writes it."""
    return round(value, 5)


def clip(
    start: float, end: float, file: str, offset: float, name: str, fades: tuple[float, float], gain: float = 0.0
) -> Item:
    """An audio clip."""
    return {
        "start_s": r(start),
        "end_s": r(end),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": r(offset),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": gain,
        "on": True,
    }


def live(key: str, label: str, first: float | None = None) -> list[Item]:
    """The edit that runs through all live mics: take 4, the fiddle break of take 6, take 4 again."""
    start = at("Kickoff", -0.5) if first is None else first
    cut_in, cut_out, half = at("Fiddle brk"), at("V3"), XF / 2
    parts = [
        (start, cut_in + half, "t4", T4_LEAD, (0.02, XF)),
        (cut_in - half, cut_out + half, "t6", T6_LEAD, (XF, XF)),
        (cut_out - half, LAST + RING, "t4", T4_LEAD + T4_SLIP, (XF, 2.5)),
    ]
    return [
        clip(a, b, f"{key}_{take}", a + lead, f"{label}_{take.upper()}", fades) for a, b, take, lead, fades in parts
    ]


def lines(section: str, count: int, file: str, name: str, gains: list[float], early: float = 0.35) -> list[Item]:
    """Sung lines of four bars, a clip each, from a file that starts at song zero."""
    made: list[Item] = []
    for n in range(count):
        start, end = at(section, 4 * n) - early, at(section, 4 * n + 3.45)
        made.append(clip(start, end, file, start, name, (0.03, 0.08), gains[n % len(gains)]))
    return made


def ride(target: str, base: float, moves: list[tuple[float, float, float]]) -> Item:
    """A ride in dB: from, to, by how much; always back to the base."""
    t, v = [0.0], [base]
    for start, end, delta in moves:
        t += [r(start - 0.3), r(start), r(end - 0.1), r(end + 0.4)]
        v += [base, round(base + delta, 2), round(base + delta, 2), base]
    return {"target": target, "scale": "dB", "shape": "linear", "t": t, "v": v}


def over(section: str, delta: float) -> tuple[float, float, float]:
    """A move over a whole section, let go just before it ends."""
    return (AT[section], after(section) - 0.8, delta)


def hp(freq: float, slope: float = 18.0) -> Item:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def lp(freq: float, slope: float = 12.0) -> Item:
    """A low-pass band."""
    return {"kind": "low-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def bell(freq: float, gain: float, q: float = 1.0) -> Item:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def shelf(freq: float, gain: float) -> Item:
    """A high-shelf band."""
    return {"kind": "high-shelf", "freq_hz": freq, "gain_db": gain, "q": 0.7, "on": True}


def eq(*bands: Item) -> Item:
    """An equalizer insert."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(threshold: float, ratio: float, attack: float, release: float, out: float, name: str = "Comp") -> Item:
    """A compressor insert."""
    settings = {
        "threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release,
        "knee_db": 6.0, "output_gain_db": out, "auto_makeup": False,
    }  # fmt: skip
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "dynamics": settings}


def setting(ident: str, name: str, value: float | bool | str, unit: str = "") -> Item:
    """A listed parameter."""
    return {"id": ident, "name": name, "value": value, "unit": unit}


def align(delay_ms: float) -> Item:
    """The delay that brings a DI to its mic."""
    params = [setting("delay", "Delay", delay_ms, "ms"), setting("polarity", "Polarity invert", False)]
    return {"name": "Align", "kind": "utility", "on": True, "opaque": False, "parameters": params}


def deess(freq: float) -> Item:
    """A de-esser insert."""
    params = [setting("freq", "Frequency", freq, "Hz"), setting("range", "Range", -6.0, "dB")]
    return {"name": "De-ess", "kind": "de-esser", "on": True, "opaque": False, "parameters": params}


def send(to: str, level: float) -> Item:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def strip(ident: str, name: str, kind: str, mix: tuple[int, float, float], output: str | None, **more: Any) -> Item:
    """A strip; ``mix`` is legs, fader, pan."""
    made: Item = {
        "id": ident, "name": name, "kind": kind, "plays": ["audio"] if kind == "track" else [],
        "legs": mix[0], "fader_db": mix[1], "pan": mix[2], "mute": False, "solo": False, "output": output,
        "sends": [], "inserts": [], "clips": [], "automation": [],
    }  # fmt: skip
    if output is None:
        del made["output"]
    elif output != "mix":
        made["parent"] = output
    made.update(more)
    return made


LIVE_NAMES = {
    "ag1m": "AG1_mic", "ag1d": "AG1_DI", "ag2m": "AG2_mic", "ag2d": "AG2_DI", "bjn": "Banjo_neck", "bjh": "Banjo_head",
    "fid": "Fiddle", "man": "Mando", "ubm": "UBass_mic", "ubd": "UBass_DI", "room": "Room_XY", "tb": "TB",
}  # fmt: skip


def guitars() -> list[Item]:
    """Both guitars, mic and DI each, and their group."""
    fills = [(at("Ch1", 7), at("Ch1", 7.8), 2.5), (at("Ch2", 7), at("Ch2", 7.8), 2.5)]
    return [
        strip(
            "ag1m",
            "AG1 Wes mic",
            "track",
            (1, -9.5, -58.0),
            "gtrs",
            sends=[send("rverb", -17.0)],
            inserts=[eq(hp(90.0), bell(215.0, -2.5, 1.2), shelf(9000.0, 1.5)), comp(-20.0, 2.5, 18.0, 140.0, 2.0)],
            clips=live("ag1m", "AG1_mic"),
            comment="Wes, rhythm, capo 3",
        ),
        strip(
            "ag1d",
            "AG1 Wes DI",
            "track",
            (1, -21.0, -58.0),
            "gtrs",
            inserts=[align(1.46), eq(hp(120.0), bell(1800.0, -4.0, 0.8))],
            clips=live("ag1d", "AG1_DI"),
            comment="under the mic for body. 1.46 ms to the mic, Align stays ON",
        ),
        strip(
            "ag2m",
            "AG2 Nora mic",
            "track",
            (1, -8.8, 58.0),
            "gtrs",
            sends=[send("rverb", -17.0)],
            inserts=[eq(hp(90.0), bell(190.0, -3.0, 1.2), shelf(9000.0, 1.0)), comp(-20.0, 2.5, 18.0, 140.0, 2.0)],
            clips=live("ag2m", "AG2_mic"),
            automation=[ride("fader", -8.8, fills)],
            comment="Nora, flatpick, fills into both breaks lifted",
        ),
        strip(
            "ag2d",
            "AG2 Nora DI",
            "track",
            (1, -20.5, 58.0),
            "gtrs",
            inserts=[align(1.31), eq(hp(120.0), bell(1750.0, -4.0, 0.8))],
            clips=live("ag2d", "AG2_DI"),
            automation=[ride("fader", -20.5, fills)],
            comment="as AG1 DI. 1.31 ms to the mic, Align stays ON",
        ),
        strip(
            "gtrs",
            "GTRS",
            "group",
            (2, 0.0, 0.0),
            "mix",
            inserts=[comp(-16.0, 1.8, 30.0, 180.0, 0.5)],
            automation=[ride("fader", 0.0, [over("V1", -1.5), over("V2", -1.5), over("V3", -1.5)])],
        ),
    ]


def band() -> list[Item]:
    """Banjo, fiddles, mandolin, bass and the room."""
    twin_1 = at("Fiddle brk", 4)
    twin_2 = at("Ch3", 4)
    t1, t2 = at("Fiddle brk", 7.9), at("Tag") - 0.1
    fiddle_eq = [hp(160.0), bell(2800.0, -2.0, 1.4), shelf(8000.0, -1.0)]
    return [
        strip(
            "bjn",
            "Banjo neck",
            "track",
            (1, -12.0, 24.0),
            "bj",
            inserts=[eq(hp(140.0), bell(3500.0, -1.5))],
            clips=live("bjn", "Banjo_neck"),
        ),
        strip(
            "bjh",
            "Banjo head",
            "track",
            (1, -14.5, 24.0),
            "bj",
            inserts=[eq(hp(120.0), bell(450.0, -2.0))],
            clips=live("bjh", "Banjo_head"),
            comment="pol. checked against neck, ok",
        ),
        strip(
            "bj",
            "BANJO",
            "group",
            (2, -2.0, 0.0),
            "mix",
            sends=[send("rverb", -18.0)],
            inserts=[comp(-18.0, 3.0, 6.0, 90.0, 1.5)],
            automation=[
                ride("fader", -2.0, [over("Kickoff", 2.0), over("Banjo brk", 3.5), (AT["Tag"], LAST + RING, 1.5)])
            ],
        ),
        strip(
            "fid",
            "Fiddle (Cal)",
            "track",
            (1, -10.0, -20.0),
            "mix",
            sends=[send("rverb", -15.0), send("plate", -18.0)],
            inserts=[eq(*fiddle_eq), comp(-22.0, 2.0, 15.0, 160.0, 1.5)],
            clips=live("fid", "Fiddle"),
            automation=[ride("fader", -10.0, [over("Kickoff", 1.0), over("Fiddle brk", 3.0)])],
        ),
        strip(
            "fid2",
            "Fid twin OD",
            "track",
            (1, -11.0, 20.0),
            "mix",
            sends=[send("rverb", -15.0), send("plate", -18.0)],
            inserts=[eq(*fiddle_eq), comp(-22.0, 2.0, 15.0, 160.0, 1.5)],
            clips=[
                clip(t1, at("V3") + 0.3, "twin_brk", t1 - twin_1, "Fid_twin_brk_03", (0.02, 0.2)),
                clip(t2, LAST + RING, "twin_tag", t2 - twin_2, "Fid_twin_tag_02", (0.02, 2.5)),
            ],
            comment="overdub: 2nd half of the fiddle brk + tag only",
        ),
        strip(
            "man",
            "Mando",
            "track",
            (1, -11.5, -36.0),
            "mix",
            sends=[send("rverb", -17.0)],
            inserts=[eq(hp(150.0), bell(900.0, -1.5)), comp(-18.0, 3.0, 10.0, 80.0, 1.0)],
            clips=live("man", "Mando"),
            automation=[ride("fader", -11.5, [over("Banjo brk", -1.0), over("Fiddle brk", -1.0)])],
        ),
        strip(
            "ubm",
            "U.Bass mic",
            "track",
            (1, -8.0, 0.0),
            "bass",
            inserts=[eq(hp(35.0), bell(320.0, -2.0), lp(6500.0))],
            clips=live("ubm", "UBass_mic"),
        ),
        strip(
            "ubd",
            "U.Bass DI",
            "track",
            (1, -12.5, 0.0),
            "bass",
            inserts=[align(1.92), eq(hp(35.0), lp(2500.0))],
            clips=live("ubd", "UBass_DI"),
            comment="1.92 ms to the mic, Align stays ON",
        ),
        strip("bass", "BASS", "group", (2, -1.0, 0.0), "mix", inserts=[comp(-20.0, 3.5, 25.0, 120.0, 2.0)]),
        strip(
            "room",
            "Room XY",
            "track",
            (2, -17.5, 0.0),
            "mix",
            inserts=[eq(hp(110.0, 12.0), bell(250.0, -2.0, 0.7))],
            clips=live("room", "Room_XY"),
            comment="the glue, do not overdo",
        ),
    ]


def harmony(key: str, name: str, mix: tuple[int, float, float], gains: list[float]) -> Item:
    """A harmony singer: the choruses and the tag."""
    stem = f"{name.split()[-1]}_{key}_comp"
    sung: list[Item] = []
    for n, section in enumerate(("Ch1", "Ch2", "Ch3")):
        sung += lines(section, 2, key, f"{stem}_{section}", [gains[2 * n], gains[2 * n + 1]], 0.2)
    sung.append(clip(at("Tag") - 0.2, at("Tag", 4.2), key, at("Tag") - 0.2, f"{stem}_Tag", (0.03, 0.15), gains[6]))
    return strip(
        key,
        name,
        "track",
        mix,
        "harm",
        sends=[send("plate", -11.0)],
        inserts=[
            eq(hp(130.0), bell(280.0, -2.0), shelf(10000.0, 1.0)),
            comp(-24.0, 3.0, 6.0, 90.0, 3.0),
            deess(6800.0),
        ],
        clips=sung,
    )


def voices() -> list[Item]:
    """Lead, spare lead, both harmonies and the groups."""
    gains = {"V1": [0.0, 0.5, -0.5, 1.0], "V2": [0.5, 0.0, 0.0, -1.0], "V3": [0.0, 1.0, 0.5, 0.0]}
    gains.update({"Ch1": [-0.5, 0.0], "Ch2": [0.0, -1.0], "Ch3": [-0.5, -0.5]})
    sung: list[Item] = []
    for section in ("V1", "Ch1", "V2", "Ch2", "V3", "Ch3"):
        count = len(gains[section])
        sung += lines(section, count, "ldv", f"Nora_ld_comp_{section}", gains[section])
    tag = at("Tag") - 0.35
    sung.append(clip(tag, at("Tag", 4.2), "ldv", tag, "Nora_ld_comp_Tag", (0.03, 0.15), 0.5))
    spare = at("V1", -1)
    return [
        strip(
            "ldv",
            "Ld vox Nora",
            "track",
            (1, -5.2, 0.0),
            "vox",
            sends=[send("plate", -13.0), send("slap", -22.0)],
            inserts=[
                eq(hp(85.0), bell(300.0, -2.0, 1.1), shelf(10000.0, 2.0)),
                comp(-24.0, 3.0, 8.0, 90.0, 4.0),
                deess(7200.0),
            ],
            clips=sung,
            automation=[
                ride("fader", -5.2, [over("Ch1", 0.8), over("V2", 0.4), over("Ch2", 0.8), over("Ch3", 1.2)]),
                ride(
                    "send:0:level", -13.0, [(at("Ch3", 6.5), at("Ch3", 7.5), 3.0), (at("Tag", 3), at("Tag", 4.3), 4.0)]
                ),
            ],
        ),
        strip(
            "ldsp",
            "Ld vox pass 2 SPARE",
            "track",
            (1, -5.2, 0.0),
            "vox",
            mute=True,
            clips=[clip(spare, at("Tag", 4.2), "ldsp", spare, "Nora_ld_pass2", (0.05, 0.1))],
            comment="spare, not used. keep muted",
        ),
        harmony("hhi", "Harm hi Wes", (1, -10.5, -35.0), [0.5, 0.0, 0.0, 1.0, 0.5, 0.0, -0.5]),
        harmony("hlo", "Harm lo Cal", (1, -11.0, 35.0), [0.0, 0.0, 0.5, 0.0, 1.0, 0.0, 0.0]),
        strip("harm", "HARM", "group", (2, -1.0, 0.0), "vox", inserts=[comp(-20.0, 2.0, 12.0, 120.0, 1.0)]),
        strip(
            "vox",
            "VOX",
            "group",
            (2, 0.0, 0.0),
            "mix",
            inserts=[comp(-16.0, 1.6, 25.0, 160.0, 0.5, "Vox glue"), eq(shelf(12000.0, 0.8))],
        ),
    ]


def reverb(name: str, decay: float, pre_delay: float) -> Item:
    """A reverb, wholly wet."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [setting("decay", "Decay", decay, "s")],
    }


def the_rest() -> list[Item]:
    """Talkback, returns and the mix bus."""
    slap = {
        "name": "Tape-ish delay",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [setting("time", "Time", 118.0, "ms"), setting("fb", "Feedback", 8.0, "%")],
    }
    limiter = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -3.0, "release_ms": 90.0, "output_gain_db": 0.0, "auto_makeup": False},
        "parameters": [setting("ceiling", "Ceiling", -1.0, "dBTP")],
    }
    return [
        strip(
            "tb",
            "Slate/TB",
            "track",
            (1, 0.0, 0.0),
            "mix",
            mute=True,
            clips=live("tb", "TB", 0.0),
            comment="talkback and count-offs, in the edit group, never in the mix",
        ),
        strip(
            "plate",
            "PLATE",
            "return",
            (2, -3.0, 0.0),
            "mix",
            inserts=[reverb("Plate", 1.7, 28.0), eq(hp(220.0, 12.0), lp(9000.0))],
            comment="voices mostly, 100% wet",
        ),
        strip(
            "rverb",
            "ROOM VRB",
            "return",
            (2, -4.0, 0.0),
            "mix",
            inserts=[reverb("Small wood room", 0.7, 8.0), eq(hp(180.0, 12.0))],
            comment="pickers, 100% wet",
        ),
        strip("slap", "SLAP", "return", (2, -6.0, 0.0), "mix", inserts=[slap, eq(hp(250.0, 12.0), lp(4800.0))]),
        strip(
            "mix",
            "MIX",
            "master",
            (2, 0.0, 0.0),
            None,
            inserts=[
                eq(hp(25.0, 12.0), shelf(12000.0, 0.8)),
                comp(-14.0, 1.5, 30.0, 200.0, 1.0, "Bus comp"),
                limiter,
            ],
            comment="print 48/24, -1 dBTP, fader at zero",
        ),
    ]


def media() -> list[Item]:
    """The media list."""
    t4 = r(T4_LEAD + LAST + T4_SLIP + 16.3)
    t6 = r(T6_LEAD + LAST + 9.8)
    whole = r(LAST + 7.5)
    entries: list[tuple[str, str, int, float]] = []
    for key, stem in LIVE_NAMES.items():
        legs = 2 if key == "room" else 1
        entries.append((f"{key}_t4", f"{stem}_T4.wav", legs, t4))
        entries.append((f"{key}_t6", f"{stem}_T6.wav", legs, t6))
    entries += [
        ("twin_brk", "Fid_twin_brk_03.wav", 1, r(at("V3") + 3.0 - at("Fiddle brk", 4))),
        ("twin_tag", "Fid_twin_tag_02.wav", 1, r(LAST + 7.0 - at("Ch3", 4))),
        ("ldv", "Nora_ld_comp.wav", 1, whole),
        ("ldsp", "Nora_ld_pass2.wav", 1, whole),
        ("hhi", "Wes_harm_hi_comp.wav", 1, whole),
        ("hlo", "Cal_harm_lo_comp.wav", 1, whole),
    ]
    return [
        {
            "id": ident, "path": f"Audio/{path}", "place": "beside", "present": True, "legs": legs,
            "sample_rate_hz": 48000.0, "duration_s": length,
        }
        for ident, path, legs, length in entries
    ]  # fmt: skip


def tempo_map() -> Item:
    """The tapped tempo map; the count goes at the tempo of the kickoff."""
    beat, tempos, last = 0.0, [], 0.0
    for _, bars, bpm in SECTIONS:
        if bpm != last:
            tempos.append({"beat": beat, "bpm": bpm, "ramp": False})
        last, beat = bpm, beat + bars * 4
    return {"tempos": tempos, "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]}


def good() -> Session:
    """The session as it should be bounced."""
    marks = [{"time_s": r(AT[name]), "name": name} for name, _, _ in SECTIONS]
    marks += [{"time_s": r(LAST), "name": "Last hit"}, {"time_s": r(LAST + RING + 1.0), "name": "End of print"}]
    return {
        "format": "mixlint-session/1",
        "title": "Sycamore Ferry - mix 5",
        "sample_rate_hz": 48000.0,
        "timeline": tempo_map(),
        "markers": marks,
        "channels": guitars() + band() + voices() + the_rest(),
        "media": media(),
        "metadata": {"song": "Sycamore Ferry", "act": "Fencerow Five", "note": "live T4, fiddle brk from T6"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def head_misses_edit(session: Session) -> None:
    """The head mic was not in the edit group when the break was replaced: take 4 runs on through it."""
    clips = channel(session, "Banjo head")["clips"]
    clips[0]["end_s"] = clips[1]["end_s"]
    del clips[1]


def align_off(session: Session) -> None:
    """The alignment of the first guitar's DI was bypassed for a comparison."""
    channel(session, "AG1 Wes DI")["inserts"][0]["on"] = False


def harmony_past_group(session: Session) -> None:
    """The low harmony goes straight to the mix bus."""
    strip_ = channel(session, "Harm lo Cal")
    strip_["output"] = "mix"
    strip_["parent"] = None


def di_on_other_side(session: Session) -> None:
    """The second guitar's DI is panned with the wrong sign."""
    channel(session, "AG2 Nora DI")["pan"] = -58.0


def ride_stays_up(session: Session) -> None:
    """The banjo ride after the break was wiped up to the end: it never comes back."""
    points = channel(session, "BANJO")["automation"][0]
    keep = points["t"].index(r(AT["Banjo brk"])) + 1
    points["t"], points["v"] = points["t"][:keep], points["v"][:keep]


def talkback_open(session: Session) -> None:
    """The talkback track was opened to hear the take number and stayed open."""
    channel(session, "Slate/TB")["mute"] = False


def clip_gain_typo(session: Session) -> None:
    """One harmony line in the second chorus at +10 instead of +1."""
    found = [c for c in channel(session, "Harm hi Wes")["clips"] if c["name"].endswith("Ch2")]
    found[1]["gain_db"] = 10.0


def plate_half_dry(session: Session) -> None:
    """The plate was reloaded from a preset meant for an insert."""
    channel(session, "PLATE")["inserts"][0]["wet"] = 35.0


def fader_after_limiter(session: Session) -> None:
    """The mix fader was pushed up for a loud check and left."""
    channel(session, "MIX")["fader_db"] = 4.0


def guitar_choked(session: Session) -> None:
    """The last chord of the second guitar's mic is cut short."""
    last = channel(session, "AG2 Nora mic")["clips"][-1]
    last["end_s"] = r(LAST + 0.42)
    last["fade_out_s"] = 0.01


def tapped_half(session: Session) -> None:
    """In the second verse the tempo was tapped in half notes."""
    tempos = session["timeline"]["tempos"]
    found = next(t for t in tempos if t["bpm"] == BPM["V2"])
    found["bpm"] = BPM["V2"] / 2


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Slate/TB"], "why": "muted talkback that rides along in the edit group; meant to stay silent"},
    {"channels": ["Ld vox pass 2 SPARE"], "why": "muted spare pass, says so"},
    {
        "channels": ["AG1 Wes DI", "AG2 Nora DI", "U.Bass DI"],
        "why": "DIs stand well under their mics and have no reverb of their own",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "head-misses-edit",
        "class": "edits",
        "channels": ["Banjo head"],
        "grade": "hold",
        "says": "Every live mic plays take 6 in the fiddle break, the banjo head mic goes on with take 4.",
        "plant": head_misses_edit,
    },
    {
        "id": "align-off",
        "class": "phase",
        "channels": ["AG1 Wes DI"],
        "grade": "look",
        "says": "The Align delay of this DI is bypassed, its comment says it stays on and the other DIs have it on.",
        "plant": align_off,
    },
    {
        "id": "harmony-past-group",
        "class": "routing",
        "channels": ["Harm lo Cal"],
        "grade": "hold",
        "says": "The low harmony goes straight to the mix, past HARM and VOX, where the high harmony goes.",
        "plant": harmony_past_group,
    },
    {
        "id": "di-on-other-side",
        "class": "place",
        "channels": ["AG2 Nora DI"],
        "grade": "hold",
        "says": "The DI of Nora's guitar stands left, its mic right; one guitar on two sides.",
        "plant": di_on_other_side,
    },
    {
        "id": "ride-stays-up",
        "class": "automation",
        "channels": ["BANJO"],
        "grade": "look",
        "says": "The banjo's lift for its break is never taken back; it stays 3.5 dB up to the end.",
        "plant": ride_stays_up,
    },
    {
        "id": "talkback-open",
        "class": "audible-that-should-not-be",
        "channels": ["Slate/TB"],
        "grade": "hold",
        "says": "The talkback track is open and goes to the mix, though its comment says never.",
        "plant": talkback_open,
    },
    {
        "id": "clip-gain-typo",
        "class": "level",
        "channels": ["Harm hi Wes"],
        "grade": "look",
        "says": "One line of the high harmony in chorus 2 has +10 dB clip gain, all others within 1 dB of zero.",
        "plant": clip_gain_typo,
    },
    {
        "id": "plate-half-dry",
        "class": "ambience",
        "channels": ["PLATE"],
        "grade": "hold",
        "says": "The plate on its return is only 35 per cent wet, so the dry voices come back a second time.",
        "plant": plate_half_dry,
    },
    {
        "id": "fader-after-limiter",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The mix fader stands at +4 dB after a limiter with its ceiling at -1; the print would clip.",
        "plant": fader_after_limiter,
    },
    {
        "id": "guitar-choked",
        "class": "end",
        "channels": ["AG2 Nora mic"],
        "grade": "hold",
        "says": "Nora's guitar mic is cut half a second after the last hit; everything else, its DI too, rings five.",
        "plant": guitar_choked,
    },
    {
        "id": "tapped-half",
        "class": "tempo",
        "channels": ["MIX"],
        "grade": "look",
        "says": "Verse 2 is mapped at half tempo, so no later marker falls on a bar line.",
        "plant": tapped_half,
    },
]
