"""Country waltz with pedal steel, fiddle and two acoustics, 3/4 at 116, slowing down over the last four bars.

Tracked in one small room in an afternoon: brush kit, upright bass, both acoustics, upright piano and a guide vocal in
one pass to a click. Lead vocal, harmonies, steel, fiddles and shaker followed as overdubs; each overdub file begins
where the recording was started. Clips were only trimmed, never moved. The two acoustics stand opposite each other, the
steel leans left, the fiddle right. Short chains, few rides, one long chamber, a small plate for the picking, a slap for
the lead. The engineer writes hints into the comments and leaves unused bits muted where they lie.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Row = dict[str, Any]

BPM = 116.0
SLOWING = [(1, BPM), (135, 110.0), (136, 103.0), (137, 94.0), (138, 84.0)]
SONG = {
    "Intro (steel)": 3,
    "Verse 1": 11,
    "Chorus 1": 27,
    "Turn - fiddles": 43,
    "Verse 2": 51,
    "Chorus 2": 67,
    "STEEL SOLO": 83,
    "Verse 3 down": 99,
    "Chorus 3": 115,
    "Tag": 131,
}


def t(bar: float, beat: float = 1.0) -> float:
    """Seconds at a bar and beat of the waltz."""
    target = (bar - 1) * 3.0 + beat - 1.0
    total = 0.0
    for i, (first, bpm) in enumerate(SLOWING):
        begin = (first - 1) * 3.0
        until = (SLOWING[i + 1][0] - 1) * 3.0 if i + 1 < len(SLOWING) else max(begin, target)
        total += max(0.0, min(until, target) - begin) * 60.0 / bpm
    return round(total, 4)


END = t(138) + 6.5  # the last chord has died away

# media id: path, legs, where in the song the recording was started, where it was stopped
FILES: dict[str, tuple[str, int, float, float]] = {
    **{
        key: (f"audio/tracking/{path}-03.wav", legs, 0.0, END + 8.0)
        for key, path, legs in (
            ("kick", "Kick", 1),
            ("sn", "SnBrush", 1),
            ("oh", "Overheads", 2),
            ("rm", "RoomPair", 2),
            ("upm", "UprightMic", 1),
            ("upd", "UprightDI", 1),
            ("ac1", "AcGtr1", 1),
            ("ac2", "AcGtr2", 1),
            ("pno", "Piano", 2),
            ("gv", "GuideVox", 1),
        )
    },
    "shk": ("audio/overdubs/Shaker-01.wav", 1, t(25), t(133)),
    "stl": ("audio/overdubs/Steel-02.wav", 1, t(1), END + 2.0),
    "fid": ("audio/overdubs/Fiddle-04.wav", 1, t(41), END + 1.5),
    "fid2": ("audio/overdubs/FiddleTwin-01.wav", 1, t(41), END + 1.5),
    "lva": ("audio/overdubs/LeadVox-02.wav", 1, t(9), t(138, 3) + 3.0),
    "lvb": ("audio/overdubs/LeadVox-05.wav", 1, t(9), t(138, 3) + 3.0),
    "hhi": ("audio/overdubs/HarmHi-01.wav", 1, t(25), t(138, 3) + 3.0),
    "hlo": ("audio/overdubs/HarmLo-02.wav", 1, t(25), t(138, 3) + 3.0),
}


def take(file: str, a: float, b: float, name: str, fades: tuple[float, float] = (0.015, 0.08), on: bool = True) -> Row:
    """A trimmed stretch of a file, where it was recorded."""
    return {
        "start_s": round(a, 4),
        "end_s": round(b, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(a - FILES[file][2], 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": on,
    }


def bars(file: str, name: str, *spans: tuple[float, float], lead: float = 0.06, tail: float = 0.5) -> list[Row]:
    """Stretches by bars; bar 139 stands for the end of the ring-out."""
    found = []
    for first, last in spans:
        end, out = (END, 2.5) if last == 139 else (t(last) + tail, min(tail, 0.4))
        found.append(take(file, t(first) - lead, end, f"{name} b{first:g}", (0.02, out)))
    return found


def sung(file: str, name: str, *firsts: int) -> list[Row]:
    """Eight-bar vocal stretches with the pickup before and the last word held over."""
    return [take(file, t(first) - 0.7, t(first + 8) - 0.75, f"{name} b{first}", (0.03, 0.1)) for first in firsts]


def strip(cid: str, name: str, level: float, pan: float, output: str, clips: list[Row], **more: Any) -> Row:
    """A track."""
    row: Row = {
        "id": cid,
        "name": name,
        "kind": "track",
        "plays": ["audio"],
        "legs": FILES[cid if cid in FILES else "lva"][1],
        "fader_db": level,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": clips,
        "automation": [],
    }
    row.update(more)
    return row


def aux(cid: str, name: str, kind: str, level: float, output: str | None, *inserts: Row, **more: Any) -> Row:
    """A group, a return or the 2-bus."""
    row: Row = {
        "id": cid,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": level,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": list(inserts),
    }
    if output:
        row["output"] = output
    row.update(more)
    return row


def send(to: str, level: float) -> Row:
    """A send after the fader."""
    return {"to": to, "level_db": level, "tap": "post", "on": True}


def eq(low: float, *bells: tuple[float, float], high: float | None = None) -> Row:
    """High-pass, bells, perhaps a top shelf."""
    bands: list[Row] = [{"kind": "high-pass", "freq_hz": low, "slope_db_per_oct": 12.0}]
    bands += [{"kind": "bell", "freq_hz": hz, "gain_db": gain, "q": 1.0} for hz, gain in bells]
    if high is not None:
        bands.append({"kind": "high-shelf", "freq_hz": 8500.0, "gain_db": high, "q": 0.7})
    return {"name": "4-band EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": bands}}


def comp(thr: float, ratio: float, attack: float, release: float, out: float = 0.0, name: str = "Opto comp") -> Row:
    """A compressor."""
    settings = {
        "threshold_db": thr,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "knee_db": 6.0,
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "dynamics": settings}


def esser(thr: float) -> Row:
    """A de-esser, never more than 6 dB."""
    settings = {"threshold_db": thr, "ratio": 3.0, "attack_ms": 0.8, "release_ms": 45.0, "range_db": -6.0}
    return {"name": "De-esser", "kind": "de-esser", "on": True, "opaque": False, "dynamics": settings}


def space(kind: str, name: str, pre: float | None, **values: float) -> Row:
    """A reverb or delay on a return, all wet."""
    units = {"decay": "s", "time": "ms", "feedback": "%"}
    row: Row = {"name": name, "kind": kind, "on": True, "opaque": False, "wet": 100.0}
    if pre is not None:
        row["pre_delay_ms"] = pre
    row["parameters"] = [{"id": key, "name": key, "value": value, "unit": units[key]} for key, value in values.items()]
    return row


def ride(*points: tuple[float, float]) -> list[Row]:
    """A fader ride, each level reached by a short ramp just before its bar."""
    at, levels = [0.0], [points[0][1]]
    for bar, level in points[1:]:
        at += [round(t(bar) - 0.8, 4), round(t(bar) - 0.4, 4)]
        levels += [levels[-1], level]
    return [{"target": "fader", "scale": "dB", "shape": "linear", "t": at, "v": levels}]


def rhythm() -> list[Row]:
    """Brush kit, room, shaker, upright bass."""
    brushes = [(3, 99), (107, 139)]
    flip = {
        "name": "Phase flip",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": "polarity", "name": "Invert polarity", "value": True}],
    }
    return [
        strip("kick", "Kick", -9.5, 0.0, "rhy", bars("kick", "Kick", *brushes), inserts=[eq(35, (260, -3.0))]),
        strip(
            "sn",
            "Sn Brush",
            -10.5,
            4.0,
            "rhy",
            bars("sn", "SnBrush", *brushes),
            inserts=[eq(120, (900, -2.0), high=1.5)],
            sends=[send("plate", -18.0)],
        ),
        strip("oh", "OHs", -8.0, 0.0, "rhy", bars("oh", "Overheads", *brushes), inserts=[eq(90)]),
        strip(
            "rm",
            "Rm Pair",
            -17.0,
            0.0,
            "rhy",
            bars("rm", "RoomPair", (3, 139)),
            comment="whole room, runs through verse 3 as glue",
        ),
        strip(
            "shk",
            "Shkr",
            -19.0,
            -35.0,
            "rhy",
            bars("shk", "Shaker", (27, 43), (67, 83), (115, 131)),
            inserts=[eq(400)],
            sends=[send("plate", -16.0)],
            comment="choruses only",
        ),
        strip(
            "upm",
            "Upr Mic",
            -6.0,
            0.0,
            "rhy",
            bars("upm", "UprightMic", (3, 139)),
            inserts=[eq(40, (180, -2.0), (1100, 1.5)), comp(-22.0, 3.0, 25.0, 180.0, 2.0)],
            comment="this IS the bass sound, DI only fills the bottom",
        ),
        strip(
            "upd",
            "Upr DI",
            -14.0,
            0.0,
            "rhy",
            bars("upd", "UprightDI", (3, 139)),
            inserts=[flip, eq(35, (2400, -4.0))],
            comment="pickup is upside down vs mic, flip stays in",
        ),
        aux("rhy", "RHYTHM", "group", -1.0, "two", comp(-16.0, 1.8, 30.0, 160.0, 1.0, "Bus comp")),
    ]


def pickers() -> list[Row]:
    """Acoustics, piano, steel, fiddles."""
    steel = [
        *bars("stl", "Steel", (3, 11), (27, 43)),
        take("stl", t(52), t(55), "steel tuning up - DO NOT USE", (0.01, 0.05), on=False),
        *bars("stl", "Steel", (59, 82.5), (83, 99), (107, 139)),
    ]
    return [
        strip(
            "ac1",
            "Ac Gtr 1",
            -8.5,
            -64.0,
            "pick",
            bars("ac1", "AcGtr1", (3, 139)),
            inserts=[eq(85, (210, -3.0), high=1.0), comp(-20.0, 2.5, 18.0, 140.0, 1.5)],
            sends=[send("plate", -17.0)],
            comment="fingerpicked, opposite Ac Gtr 2",
        ),
        strip(
            "ac2",
            "Ac Gtr 2",
            -9.5,
            64.0,
            "pick",
            bars("ac2", "AcGtr2", (3, 99), (107, 139)),
            inserts=[eq(100, (230, -3.5), high=0.5), comp(-20.0, 2.5, 18.0, 140.0, 1.5)],
            sends=[send("plate", -17.5)],
            comment="strummed, opposite Ac Gtr 1; lays out first half of verse 3",
        ),
        strip(
            "pno",
            "Upr Pno",
            -13.0,
            0.0,
            "pick",
            bars("pno", "Piano", (27, 43), (51, 66), (67, 83), (99, 107), (115, 139)),
            inserts=[eq(110, (320, -2.0))],
            sends=[send("cham", -20.0)],
        ),
        strip(
            "stl",
            "Steel",
            -9.5,
            -24.0,
            "pick",
            steel,
            inserts=[eq(95, (2700, -1.5)), comp(-24.0, 2.0, 30.0, 260.0, 1.5)],
            sends=[send("cham", -12.5), send("plate", -21.0)],
            automation=ride((1, -9.5), (3, -7.0), (11, -9.5), (83, -5.0), (99, -9.5)),
            comment="up for intro and solo, under the voice elsewhere",
        ),
        strip(
            "fid",
            "Fiddle",
            -10.0,
            27.0,
            "pick",
            bars("fid", "Fiddle", (43, 51), (55, 58.5), (63, 66.5), (67, 83), (107, 139)),
            inserts=[eq(190, (3300, -2.0)), comp(-23.0, 2.5, 15.0, 150.0, 1.5)],
            sends=[send("cham", -13.0), send("plate", -20.0)],
            automation=ride((1, -10.0), (43, -6.5), (51, -10.0), (131, -8.5)),
        ),
        strip(
            "fid2",
            "Fiddle twin",
            -12.0,
            46.0,
            "pick",
            bars("fid2", "FiddleTwin", (43, 51), (131, 139)),
            inserts=[eq(200, (3100, -2.0))],
            sends=[send("cham", -12.0)],
            comment="third above, turn and tag",
        ),
        aux("pick", "PICKERS", "group", -0.5, "two", eq(60)),
    ]


def singers() -> list[Row]:
    """Lead, guide, harmonies."""
    lead = sorted(
        [*sung("lva", "Lead 02", 11, 27, 51, 99, 107, 115), *sung("lvb", "Lead 05", 19, 35, 59, 67, 75, 123)],
        key=lambda row: float(row["start_s"]),
    )
    lead.append(take("lvb", t(131) - 0.7, t(138, 3), "Lead 05 tag", (0.03, 0.3)))
    strips = [
        strip(
            "lv",
            "Lead Vox",
            -4.5,
            0.0,
            "vox",
            lead,
            inserts=[eq(95, (280, -2.0), high=1.5), comp(-22.0, 3.0, 8.0, 120.0, 3.0), esser(-30.0)],
            sends=[send("cham", -15.0), send("plate", -22.0), send("slap", -17.0)],
            automation=ride((1, -4.5), (27, -3.8), (43, -4.5), (67, -3.6), (99, -5.5), (115, -3.4), (131, -4.5)),
        ),
        strip(
            "gv",
            "Guide Vox",
            -8.0,
            0.0,
            "vox",
            bars("gv", "GuideVox", (11, 139)),
            mute=True,
            comment="tracking day guide, keep muted",
        ),
    ]
    for cid, name, pan, low in (("hhi", "Harm Hi", -22.0, 160.0), ("hlo", "Harm Lo", 22.0, 130.0)):
        harmony = [
            *sung(cid, name, 27, 35, 67, 75, 115, 123),
            take(cid, t(131) - 0.7, t(138, 3), f"{name} tag", (0.03, 0.3)),
        ]
        strips.append(
            strip(
                cid,
                name,
                -10.5 if cid == "hhi" else -9.8,
                pan,
                "vox",
                harmony,
                inserts=[eq(low, (300, -2.0)), comp(-24.0, 3.0, 8.0, 120.0, 3.0), esser(-32.0)],
                sends=[send("cham", -12.5)],
            )
        )
    return [*strips, aux("vox", "VOCALS", "group", 0.0, "two", comp(-14.0, 1.5, 20.0, 150.0, 0.5, "Bus comp"))]


def house() -> list[Row]:
    """The three returns and the 2-bus."""
    tape: Row = {"name": "Tape colour", "kind": "distortion", "on": True, "opaque": True}
    stop: Row = {"name": "Peak limiter", "kind": "limiter", "on": True, "opaque": False}
    stop["dynamics"] = {"threshold_db": -1.0, "attack_ms": 0.3, "release_ms": 90.0, "output_gain_db": 0.0}
    slap = space("delay", "Tape slap", None, time=118.0, feedback=8.0)
    glue = comp(-13.0, 2.0, 30.0, 240.0, 3.0, "Glue")
    return [
        aux("cham", "Chamber", "return", -5.0, "two", space("reverb", "Chamber", 22.0, decay=2.2), eq(180.0)),
        aux("plate", "Sm Plate", "return", -7.0, "two", space("reverb", "Plate", 8.0, decay=0.9), eq(220.0)),
        aux("slap", "Slap 118", "return", -6.0, "two", slap, eq(160.0), sends=[send("cham", -19.0)]),
        aux("two", "2-Bus", "master", 0.0, None, eq(25.0, high=0.8), tape, glue, stop),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Fence Wire Waltz (mix 2, vox up .5)",
        "sample_rate_hz": 44100.0,
        "timeline": {
            "tempos": [{"beat": (bar - 1) * 3.0, "bpm": bpm} for bar, bpm in SLOWING],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [
            {"time_s": 0.0, "name": "2 bars count"},
            *({"time_s": t(bar), "name": name} for name, bar in SONG.items()),
            {"time_s": t(138), "name": "last chord, let ring"},
        ],
        "channels": [*rhythm(), *pickers(), *singers(), *house()],
        "media": [
            {
                "id": key,
                "path": path,
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": 44100.0,
                "duration_s": round(until - at, 3),
            }
            for key, (path, legs, at, until) in FILES.items()
        ],
        "metadata": {"mix": "2", "note": "print 44.1 / 24, leave the ring"},
    }


def channel(session: Session, name: str) -> Row:
    """The channel of a name."""
    found: Row = next(c for c in session["channels"] if c["name"] == name)
    return found


def tuning_heard(session: Session) -> None:
    """The muted tuning bit of the steel got switched on."""
    next(c for c in channel(session, "Steel")["clips"] if "tuning" in c["name"])["on"] = True


def pasted_on_itself(session: Session) -> None:
    """The second chorus of the fiddle was pasted where it already lay."""
    clips = channel(session, "Fiddle")["clips"]
    index = next(i for i, c in enumerate(clips) if c["name"] == "Fiddle b67")
    clips.insert(index + 1, dict(clips[index]))


def both_left(session: Session) -> None:
    """The second acoustic lost the sign of its pan with the pasted strip."""
    channel(session, "Ac Gtr 2")["pan"] = -64.0


def solo_ride_late(session: Session) -> None:
    """The ride for the steel solo slid sixteen bars with an inserted section."""
    lane = channel(session, "Steel")["automation"][0]
    shift = t(99) - t(83)
    lane["t"] = [*lane["t"][:5], *(round(at + shift, 4) for at in lane["t"][5:])]


def chamber_muted(session: Session) -> None:
    """The chamber was muted to hear the dry voices and stayed so."""
    channel(session, "Chamber")["mute"] = True


def limiter_early(session: Session) -> None:
    """The limiter was dragged in front of the glue compressor."""
    inserts = channel(session, "2-Bus")["inserts"]
    inserts.insert(1, inserts.pop())


def piano_beat_late(session: Session) -> None:
    """The second verse of the piano was nudged one beat."""
    clip = next(c for c in channel(session, "Upr Pno")["clips"] if c["name"] == "Piano b51")
    for edge in ("start_s", "end_s"):
        clip[edge] = round(clip[edge] + 60.0 / BPM, 4)


def harmony_file_short(session: Session) -> None:
    """The copy of one harmony file broke off half-way."""
    next(m for m in session["media"] if m["id"] == "hlo")["duration_s"] = 88.417


def bass_down(session: Session) -> None:
    """The fader of the bass microphone was pulled down to hear the pickup."""
    channel(session, "Upr Mic")["fader_db"] = -200.0


def loop(session: Session) -> None:
    """The sends of the slap were copied onto the chamber, the other way round."""
    channel(session, "Chamber")["sends"] = [send("slap", -10.0)]


def flip_out(session: Session) -> None:
    """The polarity flip of the pickup is bypassed."""
    channel(session, "Upr DI")["inserts"][0]["on"] = False


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Guide Vox"], "why": "The guide of the tracking day, muted on purpose and commented."},
    {"channels": ["Steel"], "why": "One clip is muted on purpose, it is only tuning."},
    {"channels": ["Slap 118"], "why": "The slap feeds the chamber a little, one way only."},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "tuning-heard",
        "class": "audible-that-should-not-be",
        "channels": ["Steel"],
        "grade": "hold",
        "says": "The steel clip named 'tuning up - DO NOT USE' is on and sounds in verse 2.",
        "plant": tuning_heard,
    },
    {
        "id": "pasted-on-itself",
        "class": "twice",
        "channels": ["Fiddle"],
        "grade": "hold",
        "says": "The fiddle of chorus 2 lies twice at the same place, the same clip on top of itself, 6 dB louder.",
        "plant": pasted_on_itself,
    },
    {
        "id": "both-left",
        "class": "place",
        "channels": ["Ac Gtr 2"],
        "grade": "hold",
        "says": "Both acoustics stand at 64 left, though the comments set them opposite each other.",
        "plant": both_left,
    },
    {
        "id": "solo-ride-late",
        "class": "automation",
        "channels": ["Steel"],
        "grade": "look",
        "says": "The steel comes up in verse 3 instead of in its solo: the ride lies sixteen bars late.",
        "plant": solo_ride_late,
    },
    {
        "id": "chamber-muted",
        "class": "ambience",
        "channels": ["Chamber"],
        "grade": "hold",
        "says": "The chamber return is muted, though voices, steel and fiddles send to it.",
        "plant": chamber_muted,
    },
    {
        "id": "limiter-early",
        "class": "processors",
        "channels": ["2-Bus"],
        "grade": "look",
        "says": "The limiter stands before tape and glue with its 3 dB of make-up, so nothing holds the peaks.",
        "plant": limiter_early,
    },
    {
        "id": "piano-beat-late",
        "class": "edits",
        "channels": ["Upr Pno"],
        "grade": "look",
        "says": "The piano of verse 2 lies exactly one beat later than recorded, its other clips do not.",
        "plant": piano_beat_late,
    },
    {
        "id": "harmony-file-short",
        "class": "files",
        "channels": ["Harm Lo"],
        "grade": "hold",
        "says": "The file of Harm Lo is 88 s long, its later clips run past its end; Harm Hi has the whole length.",
        "plant": harmony_file_short,
    },
    {
        "id": "bass-down",
        "class": "inaudible",
        "channels": ["Upr Mic"],
        "grade": "hold",
        "says": "The bass microphone, by its comment the bass sound, is all the way down.",
        "plant": bass_down,
    },
    {
        "id": "chamber-slap-loop",
        "class": "routing",
        "channels": ["Chamber", "Slap 118"],
        "grade": "hold",
        "says": "Chamber sends to Slap 118 and Slap 118 sends to Chamber: a feedback loop.",
        "plant": loop,
    },
    {
        "id": "flip-out",
        "class": "phase",
        "channels": ["Upr DI"],
        "grade": "look",
        "says": "The polarity flip of the pickup is bypassed, though its comment says that it stays in.",
        "plant": flip_out,
    },
]
