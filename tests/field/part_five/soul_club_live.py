"""One number, a big soul band's slow-burning closer, out of a whole set recorded in a small club off the stage split.
Every input is one file as long as the set; the song is a single cut across all of them at the same place, so
nothing was edited. No click: the tempo is a nominal figure and the markers lie where things happen. The engineer
works with buses, a crushed parallel drum bus, one VCA over the voices (members hang under it, audio goes to the VOX
bus), plate, room and slap, opens the audience microphones for the applause and tucks them under the song. The
audience pair was slipped 22 ms earlier to meet the stage. The house desk's two-track and the talkback stay in the
session, muted. Audience's view: hat on the right."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 48000.0
SET_LENGTH = 4380.0
CUT = 2215.4  # where the song lies in the files of the set
TOP, SHOUT, SOLO, SOLO_END, VAMP, LAST_HIT, OUT = 16.1, 118.0, 182.4, 226.0, 290.2, 331.4, 358.0


def flt(kind: str, freq: float, slope: float = 12.0) -> dict[str, Any]:
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope}


def bell(freq: float, gain: float, q: float = 1.0) -> dict[str, Any]:
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q}


def eq(*bands: dict[str, Any], hp: float = 0.0) -> dict[str, Any]:
    chain = ([flt("high-pass", hp)] if hp else []) + list(bands)
    return {"name": "EQ", "kind": "equalizer", "opaque": False, "equalizer": {"bands": chain}}


def comp(
    threshold: float, ratio: float, attack: float = 15.0, release: float = 120.0, gain: float = 1.0
) -> dict[str, Any]:
    return {
        "name": "Comp",
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


def gate(threshold: float) -> dict[str, Any]:
    return {
        "name": "Gate",
        "kind": "gate",
        "opaque": False,
        "dynamics": {"threshold_db": threshold, "range_db": -18.0, "attack_ms": 0.3, "release_ms": 260.0},
    }


def polarity() -> dict[str, Any]:
    return {
        "name": "Polarity",
        "kind": "utility",
        "opaque": False,
        "parameters": [{"id": "invert", "name": "Invert polarity", "value": True}],
    }


def reverb(name: str, decay: float, pre: float) -> dict[str, Any]:
    return {
        "name": name,
        "kind": "reverb",
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}],
    }


def to(bus: str, level: float, on: bool = True) -> dict[str, Any]:
    return {"to": bus, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def line(target: str, scale: str, shape: str, *points: tuple[float, float]) -> dict[str, Any]:
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [time for time, _ in points],
        "v": [value for _, value in points],
    }


def mic(
    ident: str,
    name: str,
    out: str,
    fader: float,
    pan: float,
    inserts: list[dict[str, Any]],
    sends: list[dict[str, Any]] | None = None,
    *,
    legs: int = 1,
    early: float = 0.0,
    **more: Any,
) -> dict[str, Any]:
    """An input of the stage split: one clip, the song's cut out of the set."""
    return {
        "id": ident,
        "name": name,
        "kind": "track",
        "plays": ["audio"],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": sends or [],
        "inserts": inserts,
        "clips": [
            {
                "start_s": 0.0,
                "end_s": OUT,
                "name": name,
                "file": f"m{ident}",
                "offset_s": round(CUT + early, 4),
                "fade_in_s": 0.5,
                "fade_out_s": 7.0,
                "gain_db": 0.0,
            }
        ],
    } | more


def bus(ident: str, name: str, kind: str, fader: float, inserts: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    strip: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "inserts": inserts,
    }
    if kind != "master":
        strip["output"] = "mix"
    return strip | more


def stage() -> list[dict[str, Any]]:
    return [
        mic(
            "01",
            "Kik In",
            "drums",
            -7.0,
            0.0,
            [eq(bell(350.0, -3.5), bell(4000.0, 2.0), hp=30.0), comp(-16, 4, 25, 80)],
            [to("crush", -6.0)],
        ),
        mic("02", "Kik Out", "drums", -6.0, 0.0, [eq(bell(280.0, -2.5), hp=28.0)]),
        mic(
            "03",
            "Sn Top",
            "drums",
            -6.0,
            0.0,
            [eq(bell(220.0, 2.0), hp=85.0), comp(-15, 3.5, 10, 100)],
            [to("crush", -5.0), to("room", -12.0)],
        ),
        mic("04", "Sn Bot", "drums", -12.0, 0.0, [polarity(), eq(hp=180.0)]),
        mic("05", "HH", "drums", -16.0, 42.0, [eq(hp=320.0)]),
        mic("06", "Rack", "drums", -8.0, 20.0, [gate(-32.0), eq(bell(450.0, -3.0), hp=70.0)], [to("crush", -8.0)]),
        mic("07", "Floor", "drums", -7.0, -34.0, [gate(-34.0), eq(bell(380.0, -3.0), hp=45.0)], [to("crush", -8.0)]),
        mic("08", "OH L", "drums", -7.0, -80.0, [eq(hp=180.0)]),
        mic("09", "OH R", "drums", -7.0, 80.0, [eq(hp=180.0)]),
        mic("10", "Bs DI", "bass", -6.0, 0.0, [eq(hp=32.0), comp(-20, 4, 20, 150, 2.0)]),
        mic("11", "Bs Amp", "bass", -9.0, 0.0, [eq(bell(800.0, 1.5), hp=40.0)]),
        mic("12", "Gtr", "band", -9.0, 60.0, [eq(bell(2500.0, -1.5), hp=110.0)], [to("room", -18.0)]),
        mic("13", "EP L", "band", -11.0, -45.0, [eq(hp=70.0), comp(-20, 2)]),
        mic("14", "EP R", "band", -11.0, 45.0, [eq(hp=70.0), comp(-20, 2)]),
        mic("15", "Org Top", "band", -10.0, -38.0, [eq(hp=120.0)], [to("room", -18.0)]),
        mic("16", "Org Btm", "band", -12.0, -38.0, [eq(flt("low-pass", 2500.0), hp=55.0)]),
        mic("17", "Cga", "band", -12.0, -62.0, [eq(bell(300.0, -2.0), hp=100.0)], [to("room", -16.0)]),
        mic(
            "18",
            "Tpt",
            "horns",
            -9.0,
            -30.0,
            [eq(bell(3200.0, -2.0), hp=140.0), comp(-18, 2.5)],
            [to("plate", -17.0), to("room", -14.0)],
        ),
        mic(
            "19",
            "Tenor",
            "horns",
            -8.0,
            30.0,
            [eq(bell(600.0, -1.5), hp=100.0), comp(-18, 2.5)],
            [to("plate", -15.0), to("room", -14.0)],
            automation=[
                # steps to the front and the middle for the solo, and back
                line(
                    "fader",
                    "dB",
                    "linear",
                    (0.0, -8.0),
                    (SOLO - 0.8, -8.0),
                    (SOLO, -4.5),
                    (SOLO_END, -4.5),
                    (SOLO_END + 0.8, -8.0),
                ),
                line(
                    "pan",
                    "pan",
                    "linear",
                    (0.0, 30.0),
                    (SOLO - 0.8, 30.0),
                    (SOLO, 0.0),
                    (SOLO_END, 0.0),
                    (SOLO_END + 0.8, 30.0),
                ),
            ],
        ),
        mic(
            "20",
            "Bone",
            "horns",
            -9.0,
            8.0,
            [eq(bell(400.0, -1.5), hp=75.0), comp(-18, 2.5)],
            [to("plate", -17.0), to("room", -14.0)],
        ),
        mic(
            "21",
            "LV",
            "vox",
            -4.0,
            0.0,
            [
                eq(bell(250.0, -2.5), bell(3000.0, 1.5), hp=110.0),
                comp(-22, 3.5, 6, 90, 3.0),
                {"name": "De-ess", "kind": "de-esser", "opaque": True},
            ],
            [to("plate", -13.0), to("slap", -9.0, on=False)],
            parent="vcavox",
            automation=[
                line(
                    "fader",
                    "dB",
                    "linear",
                    (0.0, -4.0),
                    (71.0, -4.0),
                    (72.0, -3.0),
                    (105.0, -3.0),
                    (106.0, -4.0),
                    (VAMP - 1.0, -4.0),
                    (VAMP, -2.5),
                ),
                # the mic lies on the floor during the tenor solo
                line("mute", "switch", "hold", (0.0, 0.0), (SOLO + 1.1, 1.0), (SOLO_END - 0.9, 0.0)),
                # slap only on the two shouts
                line(
                    "send:1:on",
                    "switch",
                    "hold",
                    (0.0, 0.0),
                    (SHOUT, 1.0),
                    (SHOUT + 3.5, 0.0),
                    (VAMP, 1.0),
                    (VAMP + 3.2, 0.0),
                ),
            ],
        ),
        mic(
            "22",
            "BV 1",
            "vox",
            -9.0,
            -35.0,
            [eq(bell(280.0, -2.0), hp=140.0), comp(-20, 3, 8, 100, 2.0)],
            [to("plate", -12.0)],
            parent="vcavox",
        ),
        mic(
            "23",
            "BV 2",
            "vox",
            -9.0,
            35.0,
            [eq(bell(280.0, -2.0), hp=140.0), comp(-20, 3, 8, 100, 2.0)],
            [to("plate", -12.0)],
            parent="vcavox",
        ),
        mic("24", "Aud L", "aud", -6.0, -100.0, [eq(hp=150.0)], early=0.022),
        mic("25", "Aud R", "aud", -6.0, 100.0, [eq(hp=150.0)], early=0.022),
        mic("26", "Board 2trk", "mix", -6.0, 0.0, [], legs=2, mute=True, comment="house desk, to compare only"),
        mic("27", "TB", "mix", -10.0, 0.0, [], mute=True, comment="talkback, not for the record"),
    ]


def desk() -> list[dict[str, Any]]:
    crowd = line(
        "fader",
        "dB",
        "linear",
        (0.0, -6.0),
        (13.5, -6.0),
        (TOP, -19.0),
        (LAST_HIT - 1.0, -19.0),
        (LAST_HIT + 2.0, -6.0),
    )
    return [
        bus("drums", "DRUMS", "group", -1.0, [comp(-14, 2, 30, 110)]),
        bus("crush", "CRUSH", "group", -14.0, [comp(-32, 12, 2, 80, 4.0), eq(hp=45.0)]),
        bus("bass", "BASS", "group", -1.0, [comp(-16, 2.5, 30, 160)]),
        bus("band", "BAND", "group", -1.0, [eq(bell(300.0, -1.0, 0.8))]),
        bus("horns", "HORNS", "group", -1.0, [comp(-14, 2, 20, 140), eq(bell(5000.0, 1.0, 0.7))]),
        bus("vox", "VOX", "group", 0.0, [comp(-12, 1.8, 20, 160, 0.5)]),
        bus(
            "aud",
            "AUD",
            "group",
            -6.0,
            [eq({"kind": "high-shelf", "freq_hz": 9000.0, "gain_db": -1.5, "q": 0.7})],
            automation=[crowd],
        ),
        bus("plate", "PLATE", "return", -5.0, [eq(flt("low-pass", 8000.0), hp=250.0), reverb("Plate", 1.7, 20.0)]),
        bus("room", "ROOM", "return", -7.0, [eq(hp=180.0), reverb("Small Room", 0.7, 4.0)]),
        bus(
            "slap",
            "SLAP",
            "return",
            -6.0,
            [
                {
                    "name": "Tape Slap",
                    "kind": "delay",
                    "opaque": False,
                    "wet": 100.0,
                    "parameters": [
                        {"id": "time", "name": "Time", "value": 118.0, "unit": "ms"},
                        {"id": "feedback", "name": "Feedback", "value": 12.0, "unit": "%"},
                    ],
                },
                eq(flt("low-pass", 5000.0), hp=250.0),
            ],
        ),
        {"id": "vcavox", "name": "VCA VOX", "kind": "vca", "fader_db": 0.0, "mute": False, "output": None},
        bus(
            "mix",
            "MIX",
            "master",
            0.0,
            [
                eq({"kind": "low-shelf", "freq_hz": 70.0, "gain_db": 0.8, "q": 0.7}),
                comp(-12, 1.6, 30, 200, 0.5),
                {
                    "name": "Limit",
                    "kind": "limiter",
                    "opaque": False,
                    "dynamics": {"threshold_db": -1.0, "attack_ms": 0.1, "release_ms": 100.0},
                },
            ],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    inputs = stage()
    marks = (
        (2.0, "MC"),
        (13.6, "count"),
        (TOP, "top"),
        (34.9, "v1"),
        (71.4, "ch1"),
        (90.2, "v2"),
        (SHOUT, "shout"),
        (126.7, "ch2"),
        (145.3, "horn break"),
        (SOLO, "tenor solo"),
        (SOLO_END, "v3"),
        (262.8, "ch3"),
        (VAMP, "vamp"),
        (LAST_HIT, "last hit"),
        (OUT, "out"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "club set 2, closer, mix c",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": 94.0}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": time, "name": name} for time, name in marks],
        "channels": inputs + desk(),
        "media": [
            {
                "id": f"m{strip['id']}",
                "path": f"set2/{strip['id']}_{strip['name'].replace(' ', '')}.wav",
                "place": "beside",
                "present": True,
                "legs": strip["legs"],
                "sample_rate_hz": RATE,
                "duration_s": SET_LENGTH,
            }
            for strip in inputs
        ],
        "notes": [],
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    for channel in session["channels"]:
        if channel["name"] == name:
            found: dict[str, Any] = channel
            return found
    raise KeyError(name)


def overhead_in_the_middle(session: Session) -> None:
    chan(session, "OH L")["pan"] = 0.0


def slap_stays(session: Session) -> None:
    """The point that closes the first shout is gone."""
    throw = chan(session, "LV")["automation"][2]
    del throw["t"][2], throw["v"][2]


def backing_voice_low(session: Session) -> None:
    chan(session, "BV 2")["fader_db"] = -29.0


def crowd_slides(session: Session) -> None:
    """The point that tucks the crowd under the downbeat is gone; the line now slides down over the whole song."""
    crowd = chan(session, "AUD")["automation"][0]
    del crowd["t"][2], crowd["v"][2]


def trumpet_past_the_bus(session: Session) -> None:
    chan(session, "Tpt")["output"] = "mix"


def snare_twice(session: Session) -> None:
    chan(session, "Sn Top")["sends"][0]["to"] = "drums"


def board_open(session: Session) -> None:
    chan(session, "Board 2trk")["mute"] = False


def voices_off(session: Session) -> None:
    chan(session, "VCA VOX")["mute"] = True


def bottom_not_flipped(session: Session) -> None:
    chan(session, "Sn Bot")["inserts"][0]["on"] = False


def rack_never_opens(session: Session) -> None:
    chan(session, "Rack")["inserts"][0]["dynamics"]["threshold_db"] = -3.2


def over_the_top(session: Session) -> None:
    chan(session, "MIX")["fader_db"] = 4.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Aud L", "Aud R"], "why": "both play 22 ms earlier than the rest, on purpose, to meet the stage"},
    {"channels": ["LV"], "why": "muted by automation in the tenor solo, on purpose: the mic lay on the floor"},
    {"channels": ["Board 2trk", "TB"], "why": "kept in the session, muted; harmless"},
    {"channels": ["Bone", "Tpt", "Tenor"], "why": "the trombone is a touch right of the middle of the section"},
    {"channels": ["AUD"], "why": "loud before the count and after the last hit, low in between, as meant"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "oh-l-centre",
        "class": "place",
        "channels": ["OH L", "OH R"],
        "grade": "hold",
        "says": "OH L sits in the middle while OH R is at 80 right: the cymbals lean to the right and the left is empty.",
        "plant": overhead_in_the_middle,
    },
    {
        "id": "slap-left-open",
        "class": "ambience",
        "channels": ["LV", "SLAP"],
        "grade": "look",
        "says": "The slap on the lead opens for the first shout and stays open for almost three minutes, until the vamp.",
        "plant": slap_stays,
    },
    {
        "id": "bv2-20-down",
        "class": "level",
        "channels": ["BV 2", "BV 1"],
        "grade": "hold",
        "says": "BV 2 is at -29 where its twin BV 1 is at -9: a wrong digit, the second backing voice is as good as gone.",
        "plant": backing_voice_low,
    },
    {
        "id": "crowd-not-tucked",
        "class": "automation",
        "channels": ["AUD", "Aud L", "Aud R"],
        "grade": "hold",
        "says": "The audience no longer drops at the downbeat but slides down over five minutes: far too loud.",
        "plant": crowd_slides,
    },
    {
        "id": "tpt-past-horns",
        "class": "routing",
        "channels": ["Tpt"],
        "grade": "look",
        "says": "The trumpet goes straight to MIX, past the HORNS bus of its two fellows, and misses its compressor.",
        "plant": trumpet_past_the_bus,
    },
    {
        "id": "snare-send-to-drums",
        "class": "twice",
        "channels": ["Sn Top", "CRUSH"],
        "grade": "hold",
        "says": "Sn Top's parallel send points at DRUMS instead of CRUSH: it gets there twice and is not crushed.",
        "plant": snare_twice,
    },
    {
        "id": "board-unmuted",
        "class": "audible-that-should-not-be",
        "channels": ["Board 2trk"],
        "grade": "hold",
        "says": "The house desk's two-track is unmuted and goes to MIX: the whole band is heard a second time.",
        "plant": board_open,
    },
    {
        "id": "vca-muted",
        "class": "inaudible",
        "channels": ["VCA VOX", "LV", "BV 1", "BV 2"],
        "grade": "hold",
        "says": "The VCA over the voices is muted: no singer in the bounce.",
        "plant": voices_off,
    },
    {
        "id": "sn-bot-polarity-off",
        "class": "phase",
        "channels": ["Sn Bot", "Sn Top"],
        "grade": "hold",
        "says": "The polarity flip on Sn Bot is bypassed: the two snare microphones work against each other.",
        "plant": bottom_not_flipped,
    },
    {
        "id": "rack-gate-shut",
        "class": "processors",
        "channels": ["Rack"],
        "grade": "hold",
        "says": "The rack tom's gate opens only at -3.2 dBFS (the floor's at -34): the point slipped, fills stay shut.",
        "plant": rack_never_opens,
    },
    {
        "id": "mix-fader-after-limiter",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "MIX is at +4 dB behind a limiter that lets up to -1 through: peaks reach +3 dBFS and clip the file.",
        "plant": over_the_top,
    },
]
