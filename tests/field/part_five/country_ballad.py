"""A slow country ballad, invented: brushes on the kit, bass, two strummed acoustics left and right, a high-strung one,
electric swells, pedal steel, fiddle with a close and a far microphone, piano, an organ pad played from notes, one
lead and two harmonies. Cut to a click at 68, the tag mapped at 66 as the band slowed down; the drums are two takes
joined before the second chorus, all cut at one place. The engineer writes small letters and short names, sorts
tracks in plain folders, prints things and keeps old comps muted, checks on headphones through a crossfeed that is
bypassed for the bounce, and fades the ring of the last chord on the mix fader."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 44100.0
BPM, TAG_BPM = 68.0, 66.0
TAG_BAR = 59


def bar(number: float) -> float:
    """Seconds at which a bar begins; bars 1 and 2 are counted in."""
    steady = min(number, TAG_BAR) - 1
    slower = max(number - TAG_BAR, 0.0)
    return round(steady * 240.0 / BPM + slower * 240.0 / TAG_BPM, 4)


INTRO, V1, CH1, TURN, V2, CH2 = (bar(n) for n in (3, 7, 15, 23, 27, 35))
STEEL, FIDDLE, CH3, TAG, LAST = (bar(n) for n in (43, 47, 51, 59, 63))
HEAD = round(INTRO - 0.2, 4)
RING = round(LAST + 11.0, 4)
DRUM_CUT = round(bar(34.5), 4)
LONG = 246.0


def eq(*bands: tuple[str, float, float]) -> dict[str, Any]:
    """Bands as (kind, hertz, gain), or (kind, hertz, slope) for the filters."""
    out: list[dict[str, Any]] = []
    for kind, freq, number in bands:
        if kind.endswith("-pass"):
            out.append({"kind": kind, "freq_hz": freq, "slope_db_per_oct": number})
        else:
            out.append({"kind": kind, "freq_hz": freq, "gain_db": number, "q": 0.9})
    return {"name": "eq", "kind": "equalizer", "opaque": False, "equalizer": {"bands": out}}


def hp(freq: float) -> dict[str, Any]:
    return eq(("high-pass", freq, 12.0))


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 1.0) -> dict[str, Any]:
    return {
        "name": "comp",
        "kind": "compressor",
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }


def space(name: str, decay: float, pre: float) -> dict[str, Any]:
    return {
        "name": name,
        "kind": "reverb",
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": [{"id": "decay", "name": "decay", "value": decay, "unit": "s"}],
    }


def aux(to: str, level: float, on: bool = True) -> dict[str, Any]:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def clip(
    file: str, start: float, end: float, fade_in: float = 0.02, fade_out: float = 0.1, gain: float = 0.0
) -> dict[str, Any]:
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": file,
        "file": file,
        "offset_s": round(start, 4),
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": gain,
        "on": True,
    }


def whole(file: str) -> list[dict[str, Any]]:
    return [clip(file, HEAD, RING, 0.02, 1.0)]


def kit(file: str) -> list[dict[str, Any]]:
    """Take 2 up to bar 34 and a half, take 4 from there, 15 ms crossfade, the same on every drum track."""
    return [
        clip(f"{file}_t2", HEAD, DRUM_CUT + 0.015, 0.02, 0.015),
        clip(f"{file}_t4", DRUM_CUT, RING, 0.015, 1.0),
    ]


def fiddle(file: str) -> list[dict[str, Any]]:
    return [
        clip(file, HEAD, V1 + 1.2, 0.02, 0.4),
        clip(file, TURN - 0.4, V2 + 1.0, 0.05, 0.4),
        clip(file, CH2 - 0.3, STEEL + 0.9, 0.05, 0.4),
        clip(file, FIDDLE - 0.5, CH3 + 0.65, 0.05, 0.05, 1.4),
        clip(file, CH3 + 0.6, RING, 0.05, 1.0),
    ]


def voices(file: str, gap: float) -> list[dict[str, Any]]:
    """A harmony: the three choruses, and the tag in the last clip."""
    return [
        clip(file, CH1 - gap, TURN + 1.0, 0.03, 0.2),
        clip(file, CH2 - gap, STEEL + 1.0, 0.03, 0.2),
        clip(file, CH3 - gap, LAST + 4.0, 0.03, 0.8),
    ]


def ride(target: str, scale: str, base: float, *moves: tuple[float, float], glide: float = 0.6) -> dict[str, Any]:
    """Steps with a short glide that ends at the given time."""
    times, values = [0.0], [base]
    for time, value in moves:
        times += [round(time - glide, 4), time]
        values += [values[-1], value]
    return {"target": target, "scale": scale, "shape": "linear", "t": times, "v": values}


def track(
    ident: str,
    name: str,
    folder: str,
    out: str | None,
    fader: float,
    pan: float,
    clips: list[dict[str, Any]],
    inserts: list[dict[str, Any]],
    *sends: dict[str, Any],
    legs: int = 1,
    **more: Any,
) -> dict[str, Any]:
    return {
        "id": ident,
        "name": name,
        "kind": "track",
        "folder": [folder],
        "plays": ["audio"],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": list(sends),
        "inserts": inserts,
        "clips": clips,
    } | more


def bus(ident: str, kind: str, fader: float, inserts: list[dict[str, Any]], *sends: dict[str, Any]) -> dict[str, Any]:
    strip: dict[str, Any] = {
        "id": ident,
        "name": ident,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "sends": list(sends),
        "inserts": inserts,
    }
    if kind != "master":
        strip["output"] = "MIX"
    return strip


def rhythm() -> list[dict[str, Any]]:
    return [
        track(
            "k",
            "kik",
            "drums",
            "DRUMS",
            -6.0,
            0.0,
            kit("kik"),
            [eq(("high-pass", 30.0, 12.0), ("bell", 330.0, -3.0)), comp(-16, 3, 25, 100)],
        ),
        track(
            "s",
            "snr",
            "drums",
            "DRUMS",
            -7.0,
            0.0,
            kit("snr"),
            [hp(80.0), comp(-17, 2.5, 15, 140)],
            aux("plate", -14.0),
        ),
        track("h", "hh", "drums", "DRUMS", -17.0, -38.0, kit("hh"), [hp(300.0)]),
        track("ol", "oh L", "drums", "DRUMS", -6.0, -80.0, kit("oh_l"), [hp(120.0)]),
        track("or", "oh R", "drums", "DRUMS", -6.0, 80.0, kit("oh_r"), [hp(120.0)]),
        track("bd", "bs DI", "bass", "MIX", -8.0, 0.0, whole("bs_di"), [hp(32.0), comp(-19, 3.5, 25, 180, 2.0)]),
        track("ba", "bs amp", "bass", "MIX", -11.0, 0.0, whole("bs_amp"), [hp(38.0)]),
        track(
            "al",
            "ac gtr L",
            "guitars",
            "ACOUS",
            -9.0,
            -70.0,
            whole("ac_l"),
            [hp(100.0), comp(-18, 2, 18, 140)],
            aux("plate", -22.0),
        ),
        track(
            "ar",
            "ac gtr R",
            "guitars",
            "ACOUS",
            -9.0,
            70.0,
            whole("ac_r"),
            [hp(100.0), comp(-18, 2, 18, 140)],
            aux("plate", -22.0),
        ),
        track(
            "hs",
            "hi strung",
            "guitars",
            "ACOUS",
            -14.0,
            40.0,
            [
                clip("hi_strung", CH1 - 0.1, TURN + 0.8),
                clip("hi_strung", CH2 - 0.1, STEEL + 0.8),
                clip("hi_strung", CH3 - 0.1, RING, 0.02, 1.0),
            ],
            [hp(180.0)],
            aux("plate", -18.0),
        ),
        track(
            "eg",
            "el swells",
            "guitars",
            "MIX",
            -13.0,
            -48.0,
            [clip("el_swells", V1 - 0.2, STEEL + 1.5, 0.1, 0.6), clip("el_swells", CH3 - 0.2, RING, 0.1, 1.0)],
            [hp(110.0)],
            aux("hall", -12.0),
        ),
    ]


def melody() -> list[dict[str, Any]]:
    steel = ride(
        "fader", "dB", -7.0, (V1, -11.0), (TURN, -8.0), (V2, -10.5), (STEEL, -5.0), (FIDDLE, -10.5), (LAST, -7.0)
    )
    return [
        track(
            "ps",
            "ped steel",
            "steel + fid",
            "MIX",
            -7.0,
            -28.0,
            whole("steel"),
            [eq(("high-pass", 110.0, 12.0), ("bell", 2600.0, -1.5))],
            aux("hall", -11.0),
            aux("echo", -18.0),
            automation=[steel],
        ),
        track(
            "px",
            "steel fx prt",
            "steel + fid",
            "MIX",
            -15.0,
            0.0,
            whole("steel_fx_prt"),
            [],
            legs=2,
            mute=True,
            comment="printed at the tracking, hall is used instead",
        ),
        track(
            "fi",
            "fid",
            "steel + fid",
            "MIX",
            -9.0,
            30.0,
            fiddle("fid"),
            [eq(("high-pass", 170.0, 12.0), ("bell", 3100.0, -2.0)), comp(-20, 2, 12, 130)],
            aux("hall", -12.0),
        ),
        track("ff", "fid far", "steel + fid", "MIX", -16.0, 30.0, fiddle("fid_far"), [hp(170.0)], aux("hall", -16.0)),
        track(
            "pn",
            "pno",
            "keys",
            "MIX",
            -11.0,
            0.0,
            whole("pno"),
            [hp(60.0), comp(-20, 2, 20, 160)],
            aux("plate", -18.0),
            legs=2,
        ),
        track(
            "og",
            "organ pad",
            "keys",
            "MIX",
            -18.0,
            0.0,
            [
                {"start_s": CH1, "end_s": TURN, "name": "pad ch1", "plays": "notes"},
                {"start_s": CH2, "end_s": STEEL, "name": "pad ch2", "plays": "notes"},
                {"start_s": CH3, "end_s": RING, "name": "pad ch3", "plays": "notes"},
            ],
            [{"name": "wheel organ", "kind": "instrument", "opaque": True}, hp(140.0)],
            aux("hall", -16.0),
            legs=2,
            plays=["notes"],
        ),
    ]


def singers() -> list[dict[str, Any]]:
    lead_ride = ride("fader", "dB", -4.0, (CH1, -3.0), (V2, -4.0), (CH2, -3.0), (CH3, -2.5), (TAG, -4.0))
    lead = [
        clip("lead_t1", V1 - 0.5, bar(11), 0.02, 0.02),
        clip("lead_t3", bar(11) - 0.02, TURN + 0.9, 0.02, 0.2),
        clip("lead_t4", V2 - 0.5, STEEL + 0.9, 0.02, 0.2),
        clip("lead_t3", CH3 - 0.5, LAST + 4.0, 0.02, 0.8),
    ]
    old = [
        clip("lead_t1", V1 - 0.5, TURN + 0.9, 0.02, 0.2),
        clip("lead_t4", V2 - 0.5, STEEL + 0.9, 0.02, 0.2),
        clip("lead_t3", CH3 - 0.5, LAST + 4.0, 0.02, 0.8),
    ]
    tone = eq(("high-pass", 90.0, 12.0), ("bell", 280.0, -2.0), ("high-shelf", 11000.0, 1.5))
    echo_throw = {
        "target": "send:1:on",
        "scale": "switch",
        "shape": "hold",
        "t": [0.0, round(TURN - 1.5, 4), round(TURN + 0.5, 4), round(STEEL - 1.5, 4), round(STEEL + 0.5, 4)],
        "v": [0.0, 1.0, 0.0, 1.0, 0.0],
    }
    return [
        track(
            "lv",
            "LEAD",
            "vox",
            "VOX",
            -4.0,
            0.0,
            lead,
            [tone, comp(-22, 3, 8, 110, 3.0), {"name": "ess", "kind": "de-esser", "opaque": True}],
            aux("plate", -11.0),
            aux("echo", -13.0, on=False),
            automation=[lead_ride, echo_throw],
        ),
        track("lo", "LEAD old comp", "vox", "VOX", -4.0, 0.0, old, [hp(90.0)], mute=True, comment="comp of tuesday"),
        track(
            "h1",
            "harm hi",
            "vox",
            "VOX",
            -11.0,
            -26.0,
            voices("harm_hi", 0.4),
            [hp(150.0), comp(-22, 3, 8, 110, 2.0)],
            aux("plate", -9.0),
        ),
        track(
            "h2",
            "harm lo",
            "vox",
            "VOX",
            -11.0,
            26.0,
            voices("harm_lo", 0.4),
            [hp(120.0), comp(-22, 3, 8, 110, 2.0)],
            aux("plate", -9.0),
        ),
        track("ck", "clk", "util", None, -10.0, 0.0, [clip("clk", 0.0, LAST, 0.0, 0.0)], []),
    ]


def desk() -> list[dict[str, Any]]:
    echo = {
        "name": "echo 1/4",
        "kind": "delay",
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "time", "name": "time", "value": round(60000.0 / BPM, 2), "unit": "ms"},
            {"id": "feedback", "name": "feedback", "value": 18.0, "unit": "%"},
        ],
    }
    mix = bus(
        "MIX",
        "master",
        0.0,
        [
            comp(-12, 1.6, 35, 220, 0.5),
            {
                "name": "lim",
                "kind": "limiter",
                "opaque": False,
                "dynamics": {"threshold_db": -1.0, "attack_ms": 0.1, "release_ms": 120.0},
            },
            {"name": "phones crossfeed", "kind": "monitor", "opaque": True, "on": False},
        ],
    )
    mix["automation"] = [
        {
            "target": "fader",
            "scale": "dB",
            "shape": "linear",
            "t": [0.0, round(LAST + 4.5, 4), round(LAST + 8.0, 4), round(RING - 0.2, 4)],
            "v": [0.0, 0.0, -14.0, -90.0],
        },
    ]
    return [
        bus("DRUMS", "group", -1.0, [comp(-15, 1.8, 30, 130)]),
        bus("ACOUS", "group", -1.0, [eq(("bell", 220.0, -1.0))]),
        bus("VOX", "group", 0.0, [comp(-14, 1.6, 20, 160, 0.5)]),
        bus("plate", "return", -4.0, [hp(260.0), space("plate", 2.1, 35.0)]),
        bus("hall", "return", -6.0, [hp(220.0), space("hall", 2.8, 45.0)]),
        bus(
            "echo",
            "return",
            -7.0,
            [echo, eq(("high-pass", 260.0, 12.0), ("low-pass", 4200.0, 12.0))],
            aux("plate", -15.0),
        ),
        mix,
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = rhythm() + melody() + singers() + desk()
    media: dict[str, dict[str, Any]] = {}
    for channel in channels:
        for part in channel.get("clips", []):
            file = part.get("file")
            if file is not None:
                media[file] = {
                    "id": file,
                    "path": f"audio/{file}.wav",
                    "place": "beside",
                    "present": True,
                    "legs": channel["legs"],
                    "sample_rate_hz": RATE,
                    "duration_s": LONG,
                }
    marks = (
        (INTRO, "in"),
        (V1, "v1"),
        (CH1, "ch1"),
        (TURN, "turn"),
        (V2, "v2"),
        (CH2, "ch2"),
        (STEEL, "solo steel"),
        (FIDDLE, "solo fid"),
        (CH3, "ch3"),
        (TAG, "tag"),
        (LAST, "last chord"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "the ballad, mix 6",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}, {"beat": (TAG_BAR - 1) * 4.0, "bpm": TAG_BPM}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": time, "name": name} for time, name in marks],
        "channels": channels,
        "media": list(media.values()),
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    for channel in session["channels"]:
        if channel["name"] == name:
            found: dict[str, Any] = channel
            return found
    raise KeyError(name)


def digit_lost(session: Session) -> None:
    chan(session, "ac gtr L")["pan"] = -7.0


def lead_dry(session: Session) -> None:
    chan(session, "LEAD")["sends"][0]["on"] = False


def fiddle_fourteen(session: Session) -> None:
    chan(session, "fid")["clips"][3]["gain_db"] = 14.0


def steel_creeps(session: Session) -> None:
    """The point that holds the steel down until its solo is gone: it now rises from the second verse on."""
    steel = chan(session, "ped steel")["automation"][0]
    at = steel["t"].index(STEEL) - 1
    del steel["t"][at], steel["v"][at]


def echo_into_itself(session: Session) -> None:
    chan(session, "echo")["sends"][0]["to"] = "echo"


def old_comp_open(session: Session) -> None:
    chan(session, "LEAD old comp")["mute"] = False


def harmony_clip_off(session: Session) -> None:
    chan(session, "harm lo")["clips"][2]["on"] = False


def snare_take_slid(session: Session) -> None:
    part = chan(session, "snr")["clips"][1]
    part["start_s"] = round(part["start_s"] + 0.06, 4)
    part["end_s"] = round(part["end_s"] + 0.06, 4)


def fade_dragged(session: Session) -> None:
    """The fade's three points were dragged twelve seconds to the left."""
    fade = chan(session, "MIX")["automation"][0]
    fade["t"][1:] = [round(time - 12.0, 4) for time in fade["t"][1:]]


def tempo_turned_round(session: Session) -> None:
    session["timeline"]["tempos"][0]["bpm"] = 86.0


def crossfeed_on(session: Session) -> None:
    chan(session, "MIX")["inserts"][2]["on"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["LEAD old comp", "steel fx prt"], "why": "muted alternates kept in the session; harmless"},
    {"channels": ["clk"], "why": "the click is not muted, but has no output, so it cannot be heard"},
    {"channels": ["MIX"], "why": "the headphone crossfeed is still on the mix, bypassed: right, but better taken off"},
    {"channels": ["ped steel", "fid", "fid far"], "why": "steel left and fiddle right also in their solos; taste"},
    {"channels": ["fid", "fid far"], "why": "the solo clips of both microphones carry 1.4 dB of clip gain on purpose"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "ac-l-pan-seven",
        "class": "place",
        "channels": ["ac gtr L", "ac gtr R"],
        "grade": "hold",
        "says": "ac gtr L is at 7 left where its partner is at 70 right: a digit was lost and the left side is empty.",
        "plant": digit_lost,
    },
    {
        "id": "lead-plate-off",
        "class": "ambience",
        "channels": ["LEAD"],
        "grade": "hold",
        "says": "The lead's plate send is off, its only steady reverb: a dry lead among harmonies that are in the plate.",
        "plant": lead_dry,
    },
    {
        "id": "fid-solo-14",
        "class": "level",
        "channels": ["fid", "fid far"],
        "grade": "hold",
        "says": "The fiddle's solo clip has +14 dB of gain where the far microphone's has +1.4: the point was lost.",
        "plant": fiddle_fourteen,
    },
    {
        "id": "steel-creeps-up",
        "class": "automation",
        "channels": ["ped steel"],
        "grade": "look",
        "says": "The steel rises by 5.5 dB over a verse and a chorus under the voice: the point before the solo is gone.",
        "plant": steel_creeps,
    },
    {
        "id": "echo-feeds-itself",
        "class": "routing",
        "channels": ["echo", "plate"],
        "grade": "hold",
        "says": "The echo's send to the plate points at the echo itself: a loop, and no reverb on the repeats.",
        "plant": echo_into_itself,
    },
    {
        "id": "old-comp-open",
        "class": "twice",
        "channels": ["LEAD old comp", "LEAD"],
        "grade": "hold",
        "says": "The old lead comp is unmuted: it plays mostly the very same takes as LEAD, once more and dry.",
        "plant": old_comp_open,
    },
    {
        "id": "harm-lo-last-chorus-off",
        "class": "inaudible",
        "channels": ["harm lo"],
        "grade": "hold",
        "says": "harm lo's clip for the last chorus is switched off: harm hi sings alone there.",
        "plant": harmony_clip_off,
    },
    {
        "id": "snr-take-slid",
        "class": "edits",
        "channels": ["snr"],
        "grade": "hold",
        "says": "snr's second take lies 60 ms later than every other drum's: a hole at the join and flams to the end.",
        "plant": snare_take_slid,
    },
    {
        "id": "fade-before-last-chord",
        "class": "end",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The mix fade is over before the last chord is struck: the ending would be missing.",
        "plant": fade_dragged,
    },
    {
        "id": "tempo-86",
        "class": "tempo",
        "channels": ["organ pad", "echo", "clk"],
        "grade": "hold",
        "says": "The tempo reads 86 where the song was cut at 68: markers, clips and the echo time are off the grid and "
        "the pad's notes would run ahead of the band.",
        "plant": tempo_turned_round,
    },
    {
        "id": "crossfeed-printed",
        "class": "hand-over",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The headphone crossfeed on the mix is switched on and would be printed into the bounce.",
        "plant": crossfeed_on,
    },
]
