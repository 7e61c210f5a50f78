"""Lantern over Cutbank: five string players, three of them singing, round one stereo pair; no drums, no click.

The pair is the picture; close spots are delayed to it and only fill in, the singers step up for the choruses. The
song is cut together from three takes: every live track changes take at the same seams, one beat ahead of a section;
take 4 was played softer and got the same clip gain throughout. The tempo map was tapped afterwards, section by section.
The one overdub is a twin fiddle. Breaks are ridden on the spots: banjo, mandolin, fiddle, banjo.
"""

from __future__ import annotations

from typing import Any

Item = dict[str, Any]

# name, short, bars, tempo as tapped
SONG: list[tuple[str, str, int, float]] = [
    ("(air)", "air", 1, 116.0),
    ("Kickoff bjo", "kick", 4, 116.0),
    ("V1", "v1", 8, 113.5),
    ("Cho 1", "c1", 8, 114.2),
    ("Md break", "md", 8, 115.6),
    ("V2", "v2", 8, 113.8),
    ("Cho 2", "c2", 8, 114.9),
    ("Fdl break", "fdl", 8, 116.4),
    ("Bjo break", "bjo", 8, 116.0),
    ("V3", "v3", 8, 114.0),
    ("Cho 3", "c3", 8, 115.2),
    ("Tag", "tag", 4, 112.4),
]
SEAM = 0.03
SOFT = {"T4": 2.5}
LENGTH = {"T2": 181.0, "T4": 148.5, "T5": 41.0, "OD": 177.0}


def tapped() -> tuple[dict[str, float], dict[str, float]]:
    """Where every section starts in seconds and in beats; "end" is the last downbeat."""
    seconds: dict[str, float] = {}
    beats: dict[str, float] = {}
    now, count = 0.0, 0.0
    for _, short, bars, bpm in SONG:
        seconds[short], beats[short] = round(now, 6), count
        now += bars * 4 * 60.0 / bpm
        count += bars * 4.0
    seconds["end"], beats["end"] = round(now, 6), count
    return seconds, beats


AT, BEAT = tapped()
ORDER = [short for _, short, _, _ in SONG]


def ahead(short: str) -> float:
    """One beat before a section, in the tempo that runs there."""
    return AT[short] - 60.0 / SONG[ORDER.index(short) - 1][3]


def after(short: str) -> str:
    """The section behind another one."""
    return ORDER[ORDER.index(short) + 1]


# take, its file's place against the song, and the sections between whose seams it is used
PLAN: list[tuple[str, float, str, str]] = [
    ("T2", 7.25, "kick", "v2"),
    ("T4", -3.417, "v2", "fdl"),
    ("T2", 7.568, "fdl", "tag"),
    ("T5", -138.204, "tag", "end"),
]


def bounds(first: str, last: str) -> tuple[float, float]:
    """Start and end between two seams, with half a crossfade on either side; the ends of the song ring."""
    start = AT["kick"] - 0.6 if first == "kick" else ahead(first) - SEAM
    end = AT["end"] + 4.6 if last == "end" else ahead(last) + SEAM
    return round(start, 6), round(end, 6)


def clip(take: str, part: str, at: tuple[float, float], shift: float, fades: tuple[float, float]) -> Item:
    """A clip of one part of a take."""
    return {
        "start_s": at[0],
        "end_s": at[1],
        "name": f"{part} {take}",
        "plays": "audio",
        "file": f"{take}_{part}",
        "offset_s": round(at[0] + shift, 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": SOFT.get(take, 0.0),
        "on": True,
    }


def live(part: str) -> list[Item]:
    """A live track through all four stretches."""
    made = []
    for take, shift, first, last in PLAN:
        fades = (0.2 if first == "kick" else 2 * SEAM, 1.6 if last == "end" else 2 * SEAM)
        made.append(clip(take, part, bounds(first, last), shift, fades))
    return made


def sung(part: str, stretches: list[tuple[str, str]]) -> list[Item]:
    """A vocal spot, open only where it is sung; the take is that of the live tracks there."""
    made = []
    for first, last in stretches:
        take, shift = next((t, s) for t, s, a, b in PLAN if AT[a] <= AT[first] < AT[b])
        ring = 0.8 if last == "end" else 2 * SEAM
        made.append(clip(take, part, bounds(first, last), shift, (2 * SEAM, ring)))
    return made


def twin() -> list[Item]:
    """The twin fiddle: second half of the fiddle break, and the tag."""
    middle = AT["fdl"] + (AT["bjo"] - AT["fdl"]) / 2
    places = [(middle - 0.4, ahead("bjo") + 0.3), (ahead("tag") - 0.1, AT["end"] + 4.6)]
    ends = [0.3, 1.6]
    return [
        clip("OD", "twin_fdl", (round(a, 6), round(b, 6)), 0.0, (0.05, fade))
        for (a, b), fade in zip(places, ends, strict=True)
    ]


def lift(base: float, top: float, *breaks: str) -> Item:
    """A fader lane: up one beat before each named section, down one beat before the next that is not named."""
    times, values = [0.0], [base]
    for short in breaks:
        turns = []
        if values[-1] == base:
            turns.append((ahead(short), top))
        if short != ORDER[-1] and after(short) not in breaks:
            turns.append((ahead(after(short)), base))
        for when, value in turns:
            times += [round(when - 0.3, 6), round(when, 6)]
            values += [values[-1], value]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": values}


def eq(*bands: tuple[str, float, float]) -> Item:
    """An equalizer; the third value is the gain, or the slope of a high-pass or low-pass."""
    made: list[Item] = []
    for kind, freq, third in bands:
        passes = kind.endswith("-pass")
        made.append({"kind": kind, "freq_hz": freq, ("slope_db_per_oct" if passes else "gain_db"): third})
        if not passes:
            made[-1]["q"] = 0.8
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": made}}


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0) -> Item:
    """A compressor."""
    return {
        "name": "Comp",
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 9.0,
            "output_gain_db": gain,
        },
    }


def delayed(ms: float, flip: bool = False) -> Item:
    """The delay that sets a spot back to the pair, with its polarity switch."""
    values = [("delay_ms", "Delay", ms, "ms"), ("polarity", "Polarity inverted", flip, "")]
    return {
        "name": "Spot delay",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": i, "name": n, "value": v, "unit": u} for i, n, v, u in values],
    }


def strip(name: str, kind: str, out: str | None, fader: float, pan: float = 0.0, **more: Any) -> Item:
    """A channel strip."""
    made: Item = {
        "id": name.lower().replace(" ", "-"),
        "name": name,
        "kind": kind,
        "parent": out if out in ("strings", "bass", "vox") else None,
        "legs": 1 if kind == "track" else 2,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    if out is not None:
        made["output"] = out
    if kind == "track":
        made["plays"] = ["audio"]
    made.update(more)
    return made


def send(to: str, level: float) -> Item:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def band() -> list[Item]:
    """The pair, the spots, the bass and the overdub."""
    chorus = lift(-3.0, -1.8, "c1", "c2", "c3", "tag")
    # name, part, fader, pan, delay, room send, equalizer
    spots: list[tuple[str, str, float, float, float, float, Item]] = [
        ("Spot Bjo", "bjo", -13.0, -45.0, 4.4, -24.0, eq(("high-pass", 140.0, 12.0), ("bell", 2800.0, -2.0))),
        ("Spot Gtr", "gtr", -11.5, -20.0, 3.9, -22.0, eq(("high-pass", 90.0, 12.0), ("bell", 220.0, -2.5))),
        ("Spot Md", "md", -12.0, 25.0, 3.7, -22.0, eq(("high-pass", 160.0, 12.0), ("bell", 3500.0, 1.0))),
        ("Spot Fdl", "fdl", -12.5, 45.0, 4.6, -21.0, eq(("high-pass", 150.0, 12.0), ("bell", 3100.0, -1.5))),
    ]
    solos = {"bjo": (("kick", "bjo"), -9.5), "md": (("md",), -8.0), "fdl": (("fdl",), -8.5)}
    made = [
        strip(
            "Pair",
            "track",
            "mix",
            -3.0,
            legs=2,
            inserts=[eq(("high-pass", 40.0, 12.0), ("high-shelf", 9000.0, 1.0))],
            clips=live("pair"),
            automation=[chorus],
            comment="L to R: bjo, gtr, bass + voices, md, fdl",
        ),
        strip(
            "Hall AB",
            "track",
            "mix",
            -17.0,
            legs=2,
            inserts=[eq(("high-pass", 120.0, 12.0))],
            clips=live("hall"),
            comment="back of the hall, late on purpose",
        ),
    ]
    for name, part, fader, pan, ms, wet, tone in spots:
        one = strip(name, "track", "strings", fader, pan, inserts=[delayed(ms), tone], clips=live(part))
        one["sends"] = [send("wood-rm", wet)]
        one["comment"] = {"gtr": "moved a hand's width after T2", "md": "chops loud in V3, left so"}.get(part, "")
        if part in solos:
            breaks, top = solos[part]
            one["automation"] = [lift(fader, top, *breaks)]
        made.append(one)
    low = [delayed(5.0), eq(("high-pass", 35.0, 12.0), ("bell", 240.0, -2.0)), comp(-20.0, 2.5, 30.0, 200.0, 1.0)]
    wire = [delayed(5.8, True), eq(("high-pass", 45.0, 12.0), ("low-pass", 2500.0, 12.0))]
    far = [send("wood-rm", -15.0), send("chamber", -19.0)]
    over = [eq(("high-pass", 170.0, 12.0), ("high-shelf", 7000.0, -2.0))]
    spare = {"mute": True, "comment": "pickup, crackles, only if the spot fails"}
    made += [
        strip("Gtr PU", "track", "strings", -14.0, -20.0, inserts=[delayed(4.6)], clips=live("gtr_pu"), **spare),
        strip(
            "Twin Fdl",
            "track",
            "strings",
            -12.0,
            36.0,
            sends=far,
            inserts=over,
            clips=twin(),
            comment="OD, not in pair",
        ),
        strip("Bs Mic", "track", "bass", -9.0, inserts=low, clips=live("bs_mic")),
        strip(
            "Bs PU", "track", "bass", -15.0, inserts=wire, clips=live("bs_pu"), comment="comes reversed, flipped here"
        ),
    ]
    return made


def singers() -> list[Item]:
    """Lead, tenor and baritone on their spots."""
    lead = [("v1", "md"), ("v2", "fdl"), ("v3", "tag"), ("tag", "end")]
    trio = [("c1", "md"), ("c2", "fdl"), ("c3", "tag"), ("tag", "end")]
    plan = [
        ("Ld Vox", "ld_vox", -7.5, 0.0, 4.2, lead, 7000.0),
        ("Tenor", "tenor", -11.0, 14.0, 4.4, trio, 6600.0),
        ("Bari", "bari", -11.0, -14.0, 4.5, trio, 6800.0),
    ]
    made = []
    for name, part, fader, pan, ms, where, esses in plan:
        soft = {"name": "De-ess", "kind": "de-esser", "on": True, "opaque": False}
        soft["parameters"] = [{"id": "freq", "name": "Freq", "value": esses, "unit": "Hz"}]
        chain = [
            delayed(ms),
            eq(("high-pass", 100.0, 12.0), ("bell", 280.0, -2.0)),
            comp(-22.0, 2.5, 10.0, 150.0, 1.5),
            soft,
        ]
        sends = [send("chamber", -17.0)]
        made.append(strip(name, "track", "vox", fader, pan, sends=sends, inserts=chain, clips=sung(part, where)))
    # the lead steps back where the trio carries it
    made[0]["automation"] = [lift(-7.5, -8.5, "c1", "c2", "c3", "tag")]
    return made


def desk() -> list[Item]:
    """Groups, returns and the mix."""
    room = {"name": "Room", "kind": "reverb", "on": True, "opaque": False, "wet": 100.0, "pre_delay_ms": 6.0}
    room["parameters"] = [{"id": "decay", "name": "Decay", "value": 0.7, "unit": "s"}]
    cave = {"name": "Chamber", "kind": "reverb", "on": True, "opaque": False, "wet": 100.0, "pre_delay_ms": 24.0}
    cave["parameters"] = [{"id": "decay", "name": "Decay", "value": 1.7, "unit": "s"}]
    mono = {"name": "Mono chk", "kind": "utility", "on": False, "opaque": False}
    mono["parameters"] = [{"id": "width", "name": "Width", "value": 0, "unit": "%"}]
    top = {"name": "Limiter", "kind": "limiter", "on": True, "opaque": False}
    top["parameters"] = [{"id": "ceiling", "name": "Ceiling", "value": -1.0, "unit": "dB"}]
    chain = [eq(("high-pass", 28.0, 12.0), ("high-shelf", 12000.0, 0.7)), comp(-16.0, 1.4, 40.0, 300.0, 1.0), mono, top]
    fade = {"target": "fader", "scale": "dB", "shape": "linear", "v": [0.0, 0.0, -90.0]}
    fade["t"] = [0.0, round(AT["end"] + 1.8, 6), round(AT["end"] + 4.6, 6)]
    return [
        strip("STRINGS", "group", "mix", -2.0, inserts=[eq(("bell", 3000.0, -1.0))]),
        strip("BASS", "group", "mix", -3.0, inserts=[comp(-18.0, 2.0, 40.0, 250.0)]),
        strip("VOX", "group", "mix", -2.0, inserts=[comp(-18.0, 1.5, 20.0, 200.0, 0.5)]),
        strip("Wood Rm", "return", "mix", -4.0, inserts=[room, eq(("high-pass", 200.0, 12.0))]),
        strip("Chamber", "return", "mix", -5.0, inserts=[eq(("high-pass", 220.0, 12.0)), cave]),
        strip("Mix", "master", None, 0.0, inserts=chain, automation=[fade]),
    ]


def pool(channels: list[Item]) -> list[Item]:
    """The files behind the clips, a folder for each take."""
    made: dict[str, Item] = {}
    for one in channels:
        for name in (c["file"] for c in one["clips"]):
            take, _, part = name.partition("_")
            made[name] = {
                "id": name,
                "path": f"Takes/{take}/{part}_{take}.wav",
                "place": "beside",
                "present": True,
                "legs": one["legs"],
                "sample_rate_hz": 96000.0,
                "duration_s": LENGTH[take],
            }
    return sorted(made.values(), key=lambda m: str(m["path"]))


def good() -> Item:
    """The session as it should be bounced."""
    channels = [*band(), *singers(), *desk()]
    return {
        "format": "mixlint-session/1",
        "title": "Lantern over Cutbank (edit B, mix 3)",
        "sample_rate_hz": 96000.0,
        "timeline": {
            "tempos": [{"beat": BEAT[short], "bpm": bpm, "ramp": False} for _, short, _, bpm in SONG],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [
            *({"time_s": AT[short], "name": name} for name, short, _, _ in SONG if short != "air"),
            {"time_s": AT["end"], "name": "last chord"},
        ],
        "channels": channels,
        "media": pool(channels),
        "metadata": {"edit": "B: T2 / T4 / T2 / T5", "room": "grange hall, three evenings"},
    }


def channel(session: Item, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def far_too_late(session: Item) -> None:
    """The decimal point is lost in the banjo's delay."""
    channel(session, "Spot Bjo")["inserts"][0]["parameters"][0]["value"] = 44.0


def wrong_tempo(session: Item) -> None:
    """Two digits change places in the tempo of the fiddle break."""
    for one in session["timeline"]["tempos"]:
        if one["beat"] == BEAT["fdl"]:
            one["bpm"] = 161.4


def left_in_old_take(session: Item) -> None:
    """The mandolin was not in the edit group when take 4 was cut in."""
    clips = channel(session, "Spot Md")["clips"]
    clips[0]["end_s"] = clips[1]["end_s"]
    del clips[1]


def ride_in_wrong_break(session: Item) -> None:
    """The fiddle's ride lies in the banjo break."""
    one = channel(session, "Spot Fdl")
    one["automation"] = [lift(-12.5, -8.5, "bjo")]


def mono_left_on(session: Item) -> None:
    """The mono check is left on."""
    inserts = channel(session, "Mix")["inserts"]
    next(i for i in inserts if i["name"] == "Mono chk")["on"] = True


def gain_forgotten(session: Item) -> None:
    """The guitar's clip of take 4 did not get the gain of the others."""
    for one in channel(session, "Spot Gtr")["clips"]:
        if one["name"].endswith("T4"):
            one["gain_db"] = 0.0


def solo_left_on(session: Item) -> None:
    """The tenor is left in solo."""
    channel(session, "Tenor")["solo"] = True


def send_to_own_group(session: Item) -> None:
    """The overdub has a send to the group that it feeds anyway."""
    channel(session, "Twin Fdl")["sends"].append(send("strings", 0.0))


def chamber_bypassed(session: Item) -> None:
    """The chamber's reverb stays bypassed after a comparison."""
    inserts = channel(session, "Chamber")["inserts"]
    next(i for i in inserts if i["kind"] == "reverb")["on"] = False


def fade_before_tag(session: Item) -> None:
    """The mix fade is still where the song ended before the tag was cut in."""
    lane = channel(session, "Mix")["automation"][0]
    lane["t"] = [0.0, round(AT["tag"] + 1.8, 6), round(AT["tag"] + 4.6, 6)]


def overdub_on_desktop(session: Item) -> None:
    """The overdub was dragged in from a desktop and never copied."""
    one = next(m for m in session["media"] if m["id"] == "OD_twin_fdl")
    one.update(path="C:/Users/hall/Desktop/twin fdl FINAL.wav", place="outside")


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Gtr PU"], "why": "muted on purpose, only a spare for the guitar's spot"},
    {"channels": ["Hall AB"], "why": "not set back to the pair on purpose, it is the far sound of the room"},
    {"channels": ["Bs PU"], "why": "its polarity is turned on purpose, the pickup comes reversed"},
    {"channels": ["Mix"], "why": "the mono check is bypassed on purpose, it is only for listening"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "spot-far-too-late",
        "class": "phase",
        "channels": ["Spot Bjo"],
        "grade": "hold",
        "says": "Spot Bjo is delayed by 44 ms, the other spots by 3.7 to 5.8: it stands as an echo behind the pair.",
        "plant": far_too_late,
    },
    {
        "id": "wrong-tempo",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The tempo of the fiddle break is 161.4 between 114.9 and 116.0; from there no marker is on a bar.",
        "plant": wrong_tempo,
    },
    {
        "id": "left-in-old-take",
        "class": "edits",
        "channels": ["Spot Md"],
        "grade": "hold",
        "says": "Spot Md runs on in take 2 through V2 and Cho 2, while the pair and all other live tracks play take 4.",
        "plant": left_in_old_take,
    },
    {
        "id": "ride-in-wrong-break",
        "class": "automation",
        "channels": ["Spot Fdl"],
        "grade": "look",
        "says": "The ride of Spot Fdl goes up in the banjo break; in the fiddle break, where it belongs, is none.",
        "plant": ride_in_wrong_break,
    },
    {
        "id": "mono-left-on",
        "class": "place",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The mono check on Mix is on: the bounce comes out mono.",
        "plant": mono_left_on,
    },
    {
        "id": "gain-forgotten",
        "class": "level",
        "channels": ["Spot Gtr"],
        "grade": "look",
        "says": "Spot Gtr's clip of take 4 has no clip gain; every other live track has +2.5 dB on take 4.",
        "plant": gain_forgotten,
    },
    {
        "id": "solo-left-on",
        "class": "inaudible",
        "channels": ["Tenor"],
        "grade": "hold",
        "says": "Tenor is in solo: nothing else would be in the bounce.",
        "plant": solo_left_on,
    },
    {
        "id": "send-to-own-group",
        "class": "twice",
        "channels": ["Twin Fdl"],
        "grade": "hold",
        "says": "Twin Fdl feeds STRINGS by its output and again by a send at 0 dB: it comes twice.",
        "plant": send_to_own_group,
    },
    {
        "id": "chamber-bypassed",
        "class": "ambience",
        "channels": ["Chamber"],
        "grade": "hold",
        "says": "The reverb on the return Chamber is bypassed: the voices come back dry instead of with a tail.",
        "plant": chamber_bypassed,
    },
    {
        "id": "fade-before-tag",
        "class": "end",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The fade on Mix is over in the middle of the tag; all tracks play on for another eight seconds.",
        "plant": fade_before_tag,
    },
    {
        "id": "overdub-on-desktop",
        "class": "hand-over",
        "channels": ["Twin Fdl"],
        "grade": "look",
        "says": "Twin Fdl plays a file from somebody's desktop; all others lie in Takes: it will be missing elsewhere.",
        "plant": overdub_on_desktop,
    },
]
