"""Lamp In The Window: a band with choir, recorded live in a church hall in one pass.

Kit, bass, guitar, piano, organ with a rotary cabinet, three horns, two soloists, a choir in three sections with a far
pair, and a pair for the room. All files run from before the song to after the applause; eight bars of the vamp were
taken out of every channel before the drop. The mixer strips toms to their fills, puts gates first, then equalizer,
then compressor, keeps each family in its group, and rides soloist, horns and choir. Claps and one trombone passage
were added later. Tempo map traced from the performance.
"""

from __future__ import annotations

from copy import deepcopy
from typing import Any

Session = dict[str, Any]
Span = tuple[float, float]

LEAD_IN = 38.0  # the recorder ran this long before the song
LENGTH = 371.4  # of every live file
RATE = 48000.0

# name, bars, tempo
FORM: list[tuple[str, int, float]] = [
    ("Intro rubato", 8, 72.0),
    ("Verse 1", 16, 104.0),
    ("Choir in", 16, 106.0),
    ("Verse 2", 16, 106.0),
    ("Choir 2", 16, 107.0),
    ("Horn shout", 8, 108.0),
    ("Vamp (up a step)", 16, 110.0),
    ("Drop", 8, 110.0),
    ("Last vamp", 16, 112.0),
    ("Tag", 4, 84.0),
]


def first_bar(section: str) -> int:
    """The bar, from 0, at which a section starts; "End" is the bar after the tag."""
    bar = 0
    for name, bars, _ in FORM:
        if name == section:
            return bar
        bar += bars
    return bar


def at(bar: float) -> float:
    """Seconds at a bar of the traced tempo map."""
    total = 0.0
    done = 0.0
    for _, bars, bpm in FORM:
        part = min(max(bar - done, 0.0), float(bars))
        total += part * 4 * 60.0 / bpm
        done += bars
    return round(total, 6)


def mark(section: str, bars: float = 0.0) -> float:
    """Seconds at a section's start, or some bars into it."""
    return at(first_bar(section) + bars)


TAKEN_OUT = round(8 * 4 * 60.0 / 110.0, 6)  # eight bars of the vamp
CUT = mark("Drop")
END = mark("End")
OUT = round(END + 12.0, 6)  # where the applause has faded


def piece(file: str, name: str, start: float, end: float, fin: float, fout: float) -> dict[str, Any]:
    """A clip of a live file, after the edit eight bars further in it."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start + LEAD_IN + (TAKEN_OUT if start >= CUT else 0.0), 6),
        "speed": 1.0,
        "fade_in_s": fin,
        "fade_out_s": fout,
        "gain_db": 0.0,
        "on": True,
    }


def live(file: str, *spans: tuple[float, float], fin: float = 0.05, fout: float = 0.3) -> list[dict[str, Any]]:
    """Clips of a live file, each span parted at the edit with a crossfade that begins before the second half."""
    out: list[dict[str, Any]] = []
    for start, end in spans:
        if start < CUT < end:
            out.append(piece(file, f"{file}.{len(out) + 1:02d}", start, CUT, fin, 0.0))
            out.append(piece(file, f"{file}.{len(out) + 1:02d}", CUT, end, -0.02, fout))
        else:
            out.append(piece(file, f"{file}.{len(out) + 1:02d}", start, end, fin, fout))
    return out


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.8) -> dict[str, Any]:
    """One band of an equalizer."""
    made: dict[str, Any] = {"kind": kind, "freq_hz": freq, "on": True}
    return made | ({"slope_db_per_oct": 18.0} if kind.endswith("-pass") else {"gain_db": gain, "q": q})


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(threshold: float, ratio: float, attack: float, release: float) -> dict[str, Any]:
    """A compressor."""
    dynamics = {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release, "knee_db": 6.0}
    return {"name": "Comp", "kind": "compressor", "on": True, "opaque": False, "dynamics": dynamics}


def gate(threshold: float, reach: float = -24.0) -> dict[str, Any]:
    """A gate."""
    dynamics = {"threshold_db": threshold, "attack_ms": 0.8, "release_ms": 180.0, "range_db": reach}
    return {"name": "Gate", "kind": "gate", "on": True, "opaque": False, "dynamics": dynamics}


def trim(*, flipped: bool) -> dict[str, Any]:
    """A trim with its polarity switch."""
    pars = [
        {"id": "gain", "name": "Gain", "value": 0.0, "unit": "dB"},
        {"id": "polarity", "name": "Polarity invert", "value": flipped, "unit": ""},
    ]
    return {"name": "Trim", "kind": "utility", "on": True, "opaque": False, "parameters": pars}


def deesser(threshold: float) -> dict[str, Any]:
    """A de-esser."""
    pars = [{"id": "threshold", "name": "Threshold", "value": threshold, "unit": "dB"}]
    return {"name": "De-ess", "kind": "de-esser", "on": True, "opaque": False, "parameters": pars}


def reverb(name: str, decay: float, pre: float) -> dict[str, Any]:
    """A reverb, wholly wet."""
    pars = [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}]
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": pars,
    }


def send(to: str, level: float) -> dict[str, Any]:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def strip(desk: tuple[str, str, float, float, str], **more: Any) -> dict[str, Any]:
    """A live mono channel (id, name, fader, pan, group), going to its group and lying in its folder."""
    ident, name, fader, pan, group = desk
    made: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": 1,
        "plays": ["audio"],
        "folder": [] if group == "mix" else [group.upper()],
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": group,
        "sends": [],
        "inserts": [],
        "automation": [],
    }
    return made | more


def pair(
    ident: str, name: str, fader: float, pan: float, group: str, inserts: list[Any], sends: list[Any], span: Span
) -> list[dict[str, Any]]:
    """A left and a right microphone with the same settings."""
    return [
        strip(
            (f"{ident}_{side.lower()}", f"{name} {side}", fader, pan * sign, group),
            inserts=deepcopy(inserts),
            sends=deepcopy(sends),
            clips=live(f"{ident}_{side.lower()}", span, fout=1.2),
        )
        for side, sign in (("L", -1.0), ("R", 1.0))
    ]


def bus(ident: str, name: str, kind: str, fader: float, **more: Any) -> dict[str, Any]:
    """A stereo group or return to the mix."""
    return strip((ident, name, fader, 0.0, "mix"), **({"kind": kind, "legs": 2, "plays": []} | more))


def ride(points: list[tuple[float, float]]) -> dict[str, Any]:
    """A fader ride with short glides from one level to the next."""
    times = [points[0][0]]
    values = [points[0][1]]
    for t, v in points[1:]:
        times += [round(t - 0.5, 6), round(t, 6)]
        values += [values[-1], v]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": values}


BAND_OUT = round(END + 2.2, 6)  # where the band has stopped ringing
GROOVE = (mark("Verse 1", -0.5), BAND_OUT)
ALL = (0.0, BAND_OUT)
SHOUT = mark("Horn shout")
VAMP = mark("Vamp (up a step)")


def fills() -> tuple[tuple[float, float], ...]:
    """Where toms are played: the last bars of sections, and the tag."""
    ends = ["Choir in", "Verse 2", "Choir 2", "Horn shout", "Vamp (up a step)", "Last vamp"]
    spans = [(mark(s, -1.5), mark(s, 0.4)) for s in ends]
    spans += [(mark("Last vamp", 7), mark("Last vamp", 8.3)), (mark("Last vamp", 14.5), BAND_OUT)]
    return tuple(spans)


def drums() -> list[dict[str, Any]]:
    """The kit and its group."""
    toms = fills()
    over = [eq(band("high-pass", 180.0), band("high-shelf", 10000.0, 1.5))]
    return [
        strip(
            ("kik_in", "KIK IN", -8.0, 0.0, "drums"),
            inserts=[gate(-34.0, -15.0), eq(band("high-pass", 32.0), band("bell", 350.0, -4.0)), comp(-15, 3, 20, 90)],
            clips=live("kik_in", GROOVE),
        ),
        strip(
            ("kik_out", "KIK OUT", -12.0, 0.0, "drums"),
            inserts=[trim(flipped=False), eq(band("high-pass", 30.0), band("low-pass", 4000.0)), comp(-15, 3, 25, 90)],
            clips=live("kik_out", GROOVE),
        ),
        strip(
            ("sn_top", "SN TOP", -9.0, 0.0, "drums"),
            inserts=[
                trim(flipped=False),
                eq(band("high-pass", 95.0), band("bell", 210.0, 1.5), band("bell", 700.0, -2.0)),
                comp(-16, 3.5, 8, 110),
            ],
            clips=live("sn_top", GROOVE),
            sends=[send("drmrm", -11.0)],
        ),
        strip(
            ("sn_bot", "SN BOT", -16.5, 0.0, "drums"),
            inserts=[trim(flipped=True), eq(band("high-pass", 220.0), band("high-shelf", 8000.0, 2.0))],
            clips=live("sn_bot", GROOVE),
            comment="polarity flipped against SN TOP",
        ),
        strip(("hat", "HAT", -18.0, 38.0, "drums"), inserts=[eq(band("high-pass", 350.0))], clips=live("hat", GROOVE)),
        strip(
            ("rack", "RACK TOM", -11.0, 18.0, "drums"),
            inserts=[gate(-33.0), eq(band("high-pass", 70.0), band("bell", 450.0, -3.5)), comp(-16, 3, 15, 140)],
            clips=live("rack_tom", *toms, fin=0.02),
            sends=[send("drmrm", -12.0)],
            comment="stripped to the fills",
        ),
        strip(
            ("floor", "FLOOR TOM", -10.5, -36.0, "drums"),
            inserts=[gate(-31.0), eq(band("high-pass", 50.0), band("bell", 400.0, -4.0)), comp(-16, 3, 15, 160)],
            clips=live("floor_tom", *toms, fin=0.02),
            sends=[send("drmrm", -12.0)],
            comment="stripped to the fills",
        ),
        *pair("oh", "OH", -11.0, 85.0, "drums", over, [send("drmrm", -22.0)], GROOVE),
        bus(
            "drums",
            "DRUMS",
            "group",
            -1.0,
            inserts=[comp(-13, 2, 30, 120), eq(band("low-shelf", 80.0, 1.0))],
            automation=[ride([(0.0, -1.0), (SHOUT, -0.2), (CUT, -2.2), (mark("Last vamp"), 0.3)])],
        ),
    ]


def rhythm() -> list[dict[str, Any]]:
    """Bass, guitar, piano, organ and the keys' group."""
    piano = [
        strip(
            (ident, name, -10.0, pan, "keys"),
            inserts=[eq(band("high-pass", 60.0), band("bell", 280.0, -2.0)), comp(-20, 2, 25, 180)],
            clips=live(ident, ALL, fout=1.2),
            sends=[send("hall", -20.0)],
        )
        for ident, name, pan in (("pno_lo", "PNO LO", -55.0), ("pno_hi", "PNO HI", 55.0))
    ]
    horn = [eq(band("high-pass", 140.0), band("bell", 1200.0, -1.5))]
    return [
        strip(
            ("bass", "BASS DI", -7.0, 0.0, "mix"),
            inserts=[eq(band("high-pass", 32.0), band("bell", 180.0, -1.5)), comp(-20, 4, 18, 140)],
            clips=live("bass_di", GROOVE, fout=0.8),
        ),
        strip(
            ("gtr", "GTR", -14.0, -48.0, "mix"),
            inserts=[eq(band("high-pass", 110.0)), comp(-18, 2.5, 15, 120)],
            clips=live("gtr", GROOVE, fout=0.8),
            sends=[send("hall", -22.0)],
            comment="small amp behind a screen",
        ),
        *piano,
        *pair("org_top", "ORG TOP", -13.0, 70.0, "keys", horn, [], ALL),
        strip(
            ("org_low", "ORG LOW", -14.5, 0.0, "keys"),
            inserts=[eq(band("high-pass", 45.0), band("low-pass", 1500.0))],
            clips=live("org_low", ALL, fout=1.2),
        ),
        bus(
            "keys",
            "KEYS",
            "group",
            0.0,
            automation=[ride([(0.0, 0.0), (mark("Verse 1"), -1.2), (SHOUT, -2.0), (VAMP, -0.8), (CUT, 0.6)])],
        ),
    ]


def horns() -> list[dict[str, Any]]:
    """Three horns, their group, and the claps added later."""
    shout = (SHOUT - 0.3, VAMP - 0.35)
    entry = (mark("Choir 2", 8) - 0.4, SHOUT - 0.35)
    spans = [entry, shout, (VAMP - 0.3, CUT), (mark("Last vamp") - 0.4, BAND_OUT)]
    played = live("tbn", *spans)
    fix = dict(played[1]) | {"name": "tbn_fix", "file": "tbn_fix", "offset_s": 2.0}
    made = [
        strip(
            (ident, name, fader, pan, "horns"),
            inserts=[eq(band("high-pass", low)), comp(-18, 2.5, 20, 140)],
            clips=clips,
        )
        for ident, name, fader, pan, low, clips in (
            ("tpt", "TPT", -13.0, -24.0, 160.0, live("tpt", *spans)),
            ("sax", "TEN SAX", -12.0, 0.0, 110.0, live("ten_sax", *spans)),
            ("tbn", "TBN", -12.5, 24.0, 90.0, [played[0], fix, *played[2:]]),
        )
    ]
    made[2]["comment"] = "shout replayed next day (tbn_fix)"
    return [
        *made,
        bus(
            "horns",
            "HORNS",
            "group",
            -1.5,
            inserts=[eq(band("bell", 2800.0, -1.0))],
            sends=[send("hall", -16.0)],
            automation=[ride([(0.0, -1.5), (SHOUT, 0.8), (VAMP, -1.8), (mark("Last vamp"), -0.8)])],
        ),
        strip(
            ("claps", "CLAPS", -17.0, 0.0, "mix"),
            legs=2,
            inserts=[eq(band("high-pass", 300.0))],
            clips=[piece("claps", "claps_1", VAMP, mark("Tag"), 0.01, 0.1) | {"offset_s": 1.0}],
            sends=[send("hall", -18.0)],
            comment="overdub on the edited song, eight people twice",
        ),
    ]


def soloists() -> list[dict[str, Any]]:
    """The two soloists and their group."""
    chain = [
        eq(band("high-pass", 100.0), band("bell", 320.0, -2.0), band("high-shelf", 10000.0, 1.0)),
        comp(-20, 3, 10, 100),
        deesser(-28.0),
    ]
    levels = [-5.0, -4.2, -3.4, -4.4, -3.2, -3.2, -2.8, -4.8, -2.4, -3.6]
    first = strip(
        ("lead", "LEAD", -5.0, 0.0, "vox"),
        inserts=chain,
        clips=live(
            "lead",
            (at(2) - 0.5, mark("Choir in", 15.6)),
            (mark("Verse 2") - 0.5, mark("Choir 2", 15)),
            (VAMP - 0.5, END + 1.2),
        ),
        sends=[send("plate", -13.0), send("slap", -20.0)],
        automation=[ride([(mark(part[0]), level) for part, level in zip(FORM, levels, strict=True)])],
    )
    chatter = piece("lead_2", "lead_2 chatter", mark("Verse 2", 2), mark("Verse 2", 4.5), 0.01, 0.01) | {"on": False}
    second_chain = [eq(band("high-pass", 110.0), band("bell", 350.0, -2.5)), comp(-20, 3, 10, 100), deesser(-28.0)]
    sung = live("lead_2", (mark("Choir 2") - 0.5, mark("Choir 2", 15)), (VAMP + 8.0, CUT), (CUT + 0.1, END + 1.0))
    second = strip(
        ("lead2", "LEAD 2", -6.5, 10.0, "vox"),
        inserts=second_chain,
        clips=[chatter, *sung],
        sends=[send("plate", -13.0), send("slap", -20.0)],
        comment="talks off mic in verse 2: clip switched off",
    )
    return [first, second, bus("vox", "VOX", "group", 0.0, inserts=[comp(-14, 1.6, 25, 160)])]


def choir() -> list[dict[str, Any]]:
    """The choir's sections, its far pair, a spare and the group; the room."""
    sung = [
        (mark("Choir in") - 0.6, mark("Verse 2", 0.5)),
        (mark("Choir 2") - 0.6, SHOUT + 0.8),
        (VAMP - 0.6, END + 1.6),
    ]
    near = (band("high-pass", 130.0), band("bell", 380.0, -2.0), band("bell", 3000.0, 1.0))
    made = [
        strip(
            (ident, name, fader, pan, "choir"),
            inserts=[eq(*near), comp(-18, 2, 20, 150)],
            clips=live(file, *sung),
            sends=[send("hall", -9.0)],
        )
        for ident, name, fader, pan, file in (
            ("sop", "CHR SOP", -9.0, -34.0, "chr_sop"),
            ("alt", "CHR ALT", -8.5, 0.0, "chr_alt"),
            ("ten", "CHR TEN", -8.0, 34.0, "chr_ten"),
        )
    ]
    far = [
        strip(
            (ident, name, -13.0, pan, "choir"),
            inserts=[eq(band("high-pass", 160.0))],
            clips=live(file, *sung, fin=0.3, fout=0.6),
            comment="pair 3 m up",
        )
        for ident, name, pan, file in (
            ("far_l", "CHR FAR L", -80.0, "chr_far_l"),
            ("far_r", "CHR FAR R", 80.0, "chr_far_r"),
        )
    ]
    spare = strip(
        ("alt_b", "CHR ALT B", -8.5, 0.0, "choir"),
        mute=True,
        clips=live("chr_alt_b", (0.0, BAND_OUT)),
        comment="bad cable, crackles - do not use",
    )
    group = bus(
        "choir",
        "CHOIR",
        "group",
        -1.0,
        inserts=[comp(-15, 1.8, 30, 200), eq(band("high-shelf", 9000.0, 1.0))],
        automation=[ride([(0.0, -1.0), (mark("Choir 2"), -0.6), (VAMP, 0.0), (CUT, -3.5), (mark("Last vamp"), 0.5)])],
    )
    swell = [(0.0, -19.0), (END - 1.0, -19.0), (END + 1.5, -9.0)]
    room = [
        strip(
            (ident, name, -19.0, pan, "mix"),
            inserts=[eq(band("high-pass", 120.0))],
            clips=live(file, (0.0, OUT), fin=1.0, fout=2.0),
            automation=[ride(swell)],
            comment="up for the applause",
        )
        for ident, name, pan, file in (("room_l", "ROOM L", -100.0, "room_l"), ("room_r", "ROOM R", 100.0, "room_r"))
    ]
    return [*made, *far, spare, group, *room]


def returns() -> list[dict[str, Any]]:
    """Effects, the slate and the mix."""
    slap = {"name": "Delay", "kind": "delay", "on": True, "opaque": False, "wet": 100.0}
    slap_pars = [
        {"id": "time", "name": "Time", "value": 118.0, "unit": "ms"},
        {"id": "feedback", "name": "Feedback", "value": 0.0, "unit": "%"},
    ]
    limiter = {"name": "Limiter", "kind": "limiter", "on": True, "opaque": False}
    ceiling = [{"id": "ceiling", "name": "Ceiling", "value": -1.0, "unit": "dB"}]
    fade = {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [0.0, round(END + 4.0, 6), OUT],
        "v": [0.0, 0.0, -90.0],
    }
    return [
        bus("plate", "PLATE", "return", -5.0, inserts=[eq(band("high-pass", 220.0)), reverb("Plate", 1.7, 28.0)]),
        bus("hall", "HALL", "return", -6.0, inserts=[eq(band("high-pass", 180.0)), reverb("Hall", 2.6, 42.0)]),
        bus("drmrm", "DRM RM", "return", -8.0, inserts=[eq(band("high-pass", 90.0)), reverb("Room", 0.8, 4.0)]),
        bus(
            "slap",
            "SLAP",
            "return",
            -9.0,
            inserts=[eq(band("high-pass", 250.0), band("low-pass", 5500.0)), slap | {"parameters": slap_pars}],
        ),
        strip(
            ("slate", "SLATE", -10.0, 0.0, "mix"),
            mute=True,
            clips=live("slate", (0.0, OUT)),
            comment="recordist's talk mic, stays muted",
        ),
        {
            "id": "mix",
            "name": "MIX",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [
                eq(band("high-pass", 22.0), band("high-shelf", 11000.0, 0.7)),
                comp(-11, 1.5, 40, 200),
                limiter | {"parameters": ceiling, "dynamics": {"threshold_db": -3.0, "release_ms": 120.0}},
            ],
            "automation": [fade],
            "comment": "fade over the applause only",
        },
    ]


def media(channels: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """The files that the clips play: the live ones, all of a length, and two overdubs."""
    names = dict.fromkeys(c["file"] for ch in channels for c in ch.get("clips", []))
    overdubs = {"claps": (2, round(mark("Tag") - VAMP + 4.0, 3)), "tbn_fix": (1, round(VAMP - SHOUT + 5.0, 3))}
    out = []
    for name in names:
        legs, length = overdubs.get(name, (1, LENGTH))
        folder = "overdubs" if name in overdubs else "live"
        out.append(
            {
                "id": name,
                "path": f"{folder}/{name}.wav",
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": RATE,
                "duration_s": length,
            }
        )
    return out


def good() -> Session:
    """The session as it should be bounced."""
    channels = [*drums(), *rhythm(), *horns(), *soloists(), *choir(), *returns()]
    tempos = [{"beat": first_bar(name) * 4.0, "bpm": bpm} for name, _, bpm in FORM]
    markers = [{"time_s": mark(name), "name": name} for name, _, _ in FORM]
    return {
        "format": "mixlint-session/1",
        "title": "Lamp In The Window (live) mix 2",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": tempos, "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [*markers, {"time_s": END, "name": "Applause"}],
        "channels": channels,
        "media": media(channels),
        "metadata": {"edit": "eight bars of vamp taken out before the drop, all channels"},
    }


def channel(session: Session, name: str) -> dict[str, Any]:
    """The channel of a name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def file(session: Session, name: str) -> dict[str, Any]:
    """The media file of an id."""
    found: dict[str, Any] = next(f for f in session["media"] if f["id"] == name)
    return found


def bottom_not_flipped(session: Session) -> None:
    """The polarity of the snare's lower microphone was reset with its trim."""
    channel(session, "SN BOT")["inserts"][0]["parameters"][1]["value"] = False


def tenors_down(session: Session) -> None:
    """The tenors' fader was pulled down to hear the others and left there."""
    channel(session, "CHR TEN")["fader_db"] = -28.0


def lead_jumps(session: Session) -> None:
    """One level of the soloist's ride lost its sign."""
    line = channel(session, "LEAD")["automation"][0]
    here = mark("Verse 2")
    for i, t in enumerate(line["t"]):
        if here <= t < mark("Choir 2"):
            line["v"][i] = 4.4


def chatter_on(session: Session) -> None:
    """The switched-off clip came on again."""
    channel(session, "LEAD 2")["clips"][0]["on"] = True


def altos_dry(session: Session) -> None:
    """The altos' send to the hall was switched off."""
    channel(session, "CHR ALT")["sends"][0]["on"] = False


def hat_solo(session: Session) -> None:
    """The hi-hat is still in solo."""
    channel(session, "HAT")["solo"] = True


def fix_at_other_rate(session: Session) -> None:
    """The trombone's repair was delivered at another sample rate and not converted."""
    file(session, "tbn_fix")["sample_rate_hz"] = 44100.0


def edit_missed(session: Session) -> None:
    """The upper piano microphone did not take part in the edit."""
    late = channel(session, "PNO HI")["clips"][1]
    late["offset_s"] = round(late["offset_s"] - TAKEN_OUT, 6)


def fade_too_early(session: Session) -> None:
    """The final fade was drawn from the tag's start."""
    line = channel(session, "MIX")["automation"][0]
    line["t"] = [0.0, round(mark("Tag") + 1.0, 6), round(mark("Tag") + 9.0, 6)]


def tom_gate_shut(session: Session) -> None:
    """A digit was lost in the threshold of a tom's gate."""
    channel(session, "RACK TOM")["inserts"][0]["dynamics"]["threshold_db"] = -3.0


def claps_left_behind(session: Session) -> None:
    """The claps play from where they were downloaded to."""
    claps = file(session, "claps")
    claps["path"] = "/home/desk/Downloads/claps.wav"
    claps["place"] = "outside"


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["SN BOT"], "why": "polarity inverted against SN TOP on purpose, see the comment"},
    {"channels": ["CHR ALT B", "SLATE"], "why": "muted, each with a comment"},
    {"channels": ["LEAD 2"], "why": "carries one switched-off clip, see the comment"},
    {"channels": ["TBN"], "why": "the shout comes from a later take with its own file"},
    {"channels": ["RACK TOM", "FLOOR TOM"], "why": "stripped to short clips, and gated as well"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "bottom-not-flipped",
        "class": "phase",
        "channels": ["SN BOT"],
        "grade": "look",
        "says": "SN BOT is not inverted, although its comment says that it is flipped against SN TOP.",
        "plant": bottom_not_flipped,
    },
    {
        "id": "tenors-down",
        "class": "level",
        "channels": ["CHR TEN"],
        "grade": "look",
        "says": "CHR TEN stands at -28 dB while the other choir sections stand at about -9 dB.",
        "plant": tenors_down,
    },
    {
        "id": "lead-jumps",
        "class": "automation",
        "channels": ["LEAD"],
        "grade": "hold",
        "says": "The ride of LEAD jumps to +4.4 dB for verse 2; everywhere else it stays between -5 and -2 dB.",
        "plant": lead_jumps,
    },
    {
        "id": "chatter-on",
        "class": "audible-that-should-not-be",
        "channels": ["LEAD 2"],
        "grade": "hold",
        "says": "The chatter clip of LEAD 2 in verse 2 is on; the comment says that it is switched off.",
        "plant": chatter_on,
    },
    {
        "id": "altos-dry",
        "class": "ambience",
        "channels": ["CHR ALT"],
        "grade": "look",
        "says": "The HALL send of CHR ALT is off, while CHR SOP and CHR TEN send at -9 dB.",
        "plant": altos_dry,
    },
    {
        "id": "hat-solo",
        "class": "inaudible",
        "channels": ["HAT"],
        "grade": "hold",
        "says": "HAT is in solo: everything else is silent in the bounce.",
        "plant": hat_solo,
    },
    {
        "id": "fix-at-other-rate",
        "class": "files",
        "channels": ["TBN"],
        "grade": "hold",
        "says": "tbn_fix.wav on TBN is at 44.1 kHz in a 48 kHz session; every other file is at 48 kHz.",
        "plant": fix_at_other_rate,
    },
    {
        "id": "edit-missed",
        "class": "edits",
        "channels": ["PNO HI"],
        "grade": "hold",
        "says": "PNO HI runs on in its file at the edit before the drop, where PNO LO and all others skip eight bars.",
        "plant": edit_missed,
    },
    {
        "id": "fade-too-early",
        "class": "end",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The fade of MIX begins in the tag and is over before its last chord; it belongs over the applause.",
        "plant": fade_too_early,
    },
    {
        "id": "tom-gate-shut",
        "class": "processors",
        "channels": ["RACK TOM"],
        "grade": "look",
        "says": "The gate of RACK TOM opens only at -3 dB (FLOOR TOM at -31 dB): the rack tom's fills hardly sound.",
        "plant": tom_gate_shut,
    },
    {
        "id": "claps-left-behind",
        "class": "hand-over",
        "channels": ["CLAPS"],
        "grade": "look",
        "says": "The file of CLAPS lies outside the session, in a download folder; it will not travel along.",
        "plant": claps_left_behind,
    },
]
