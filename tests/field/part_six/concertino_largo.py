"""Slow movement of a concertino for oboe, strings and harpsichord, recorded in a hall over one afternoon: tree with
outriggers, a spot for each desk, a pair far back in the hall. The engineer names in German shorthand, delays every spot
to the tree, keeps all microphones in one edit group so that each cut runs through all of them at the same place, and
rides little. Three takes are cut together; the desk's rough two-track and the control-room microphone stay
in the session but out of the mix. The tempo grid was never used."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 96000.0
END = 316.0
HALF = 0.02  # half of a crossfade

# piece: take, from, to, (song time minus file time), clip gain
PIECES: list[tuple[str, float, float, float, float]] = [
    ("T03", 0.0, 94.35, -4.0, 0.0),
    ("T07", 94.35, 171.80, 83.5, 0.0),
    ("T11", 171.80, 189.40, 160.25, 0.8),
    ("T07", 189.40, END, 83.713, 0.0),
]
TAKE_LENGTH: dict[str, float] = {"T03": 109.2, "T07": 241.6, "T11": 46.8}

# name, id, pan, fader, bus, delay in ms (None: no utility), send to the hall reverb
MICS: list[tuple[str, str, float, float, str, float | None, float | None]] = [
    ("Haupt L", "hl", -100.0, -2.0, "bus_haupt", 0.0, None),
    ("Haupt C", "hc", 0.0, -6.5, "bus_haupt", 0.0, None),
    ("Haupt R", "hr", 100.0, -2.0, "bus_haupt", 0.0, None),
    ("Outr L", "ol", -100.0, -5.5, "bus_haupt", 0.0, None),
    ("Outr R", "or", 100.0, -5.5, "bus_haupt", 0.0, None),
    ("Ob nah", "ob", -8.0, -9.0, "bus_stuetz", 8.7, -13.0),
    ("Ob fern (alt)", "ob2", -8.0, -10.0, "bus_stuetz", 6.2, None),
    ("Vl1 Stü", "vl1", -62.0, -14.0, "bus_stuetz", 11.6, -15.0),
    ("Vl2 Stü", "vl2", -28.0, -14.5, "bus_stuetz", 12.8, -15.0),
    ("Va Stü", "va", 24.0, -13.5, "bus_stuetz", 13.4, -15.0),
    ("Vc Stü", "vc", 56.0, -15.0, "bus_stuetz", 12.1, -16.0),
    ("Kb Stü", "kb", 70.0, -16.0, "bus_stuetz", 16.3, -20.0),
    ("Cemb Stü", "ce", 6.0, -17.5, "bus_stuetz", 15.2, -14.0),
    ("Saal L", "sl", -100.0, -9.0, "bus_saal", None, None),
    ("Saal R", "sr", 100.0, -9.0, "bus_saal", None, None),
]
VCA_MEMBERS = ("vl1", "vl2", "va", "vc", "kb", "ce")
LOW_CUT: dict[str, float] = {
    "ob": 140.0,
    "ob2": 140.0,
    "vl1": 120.0,
    "vl2": 120.0,
    "va": 90.0,
    "vc": 45.0,
    "kb": 28.0,
    "ce": 80.0,
}


def equalizer(name: str, bands: list[dict[str, Any]]) -> dict[str, Any]:
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": bands}}


def cut(freq: float, slope: float = 12.0) -> dict[str, Any]:
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def utility(delay_ms: float) -> dict[str, Any]:
    """Delay to the tree and polarity, the same little tool on every close microphone."""
    return {
        "name": "Laufzeit/Pol",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "delay", "name": "Laufzeit", "value": delay_ms, "unit": "ms", "low": 0.0, "high": 250.0},
            {"id": "invert", "name": "Polarität drehen", "value": False},
        ],
    }


def pieces(key: str) -> list[dict[str, Any]]:
    """The cut of the movement, the same for every microphone of the edit group."""
    clips: list[dict[str, Any]] = []
    last = len(PIECES) - 1
    for index, (take, begin, end, shift, gain) in enumerate(PIECES):
        start = begin if index == 0 else begin - HALF
        stop = end if index == last else end + HALF
        clips.append(
            {
                "start_s": round(start, 3),
                "end_s": round(stop, 3),
                "name": f"{take}_{key}",
                "plays": "audio",
                "file": f"{take}-{key}",
                "offset_s": round(start - shift, 3),
                "speed": 1.0,
                "fade_in_s": 0.8 if index == 0 else 2 * HALF,
                "fade_out_s": 0.5 if index == last else 2 * HALF,
                "gain_db": gain,
                "on": True,
            }
        )
    return clips


def channel(ident: str, name: str, kind: str, **more: Any) -> dict[str, Any]:
    base: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": kind,
        "parent": None,
        "legs": 1,
        "fader_db": 0.0,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": "summe",
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    base.update(more)
    return base


def microphone(
    name: str, key: str, pan: float, fader: float, bus: str, delay: float | None, send: float | None
) -> dict[str, Any]:
    inserts: list[dict[str, Any]] = []
    if delay is not None:
        inserts.append(utility(delay))
    if key in LOW_CUT:
        inserts.append(equalizer("EQ", [cut(LOW_CUT[key])]))
    sends = [] if send is None else [{"to": "hall", "level_db": send, "pan": pan, "tap": "post", "on": True}]
    return channel(
        key,
        name,
        "track",
        parent="vca_str" if key in VCA_MEMBERS else bus,
        plays=["audio"],
        pan=pan,
        fader_db=fader,
        output=bus,
        inserts=inserts,
        sends=sends,
        clips=pieces(key),
    )


def media() -> list[dict[str, Any]]:
    files: list[dict[str, Any]] = []
    for take, length in TAKE_LENGTH.items():
        for key in [row[1] for row in MICS] + ["regie"]:
            files.append(
                {
                    "id": f"{take}-{key}",
                    "path": f"Aufnahme/{take}_{key}.wav",
                    "place": "beside",
                    "present": True,
                    "legs": 1,
                    "sample_rate_hz": RATE,
                    "duration_s": length,
                }
            )
    files.append(
        {
            "id": "grob",
            "path": "Aufnahme/Grobmix_Largo_2.wav",
            "place": "beside",
            "present": True,
            "legs": 2,
            "sample_rate_hz": RATE,
            "duration_s": 317.4,
        }
    )
    return files


def good() -> Session:
    """The session as it should be bounced."""
    channels = [microphone(*row) for row in MICS]
    by_id = {entry["id"]: entry for entry in channels}
    by_id["ob2"]["mute"] = True
    by_id["ob"]["automation"] = [
        {
            "target": "fader",
            "scale": "dB",
            "shape": "linear",
            "t": [0.0, 30.0, 32.0, 50.0, 52.0, 118.0, 118.15, 119.4, 119.6],
            "v": [-9.0, -9.0, -7.5, -7.5, -9.0, -9.0, -20.0, -20.0, -9.0],
        }
    ]
    by_id["ce"]["automation"] = [
        {
            "target": "fader",
            "scale": "dB",
            "shape": "linear",
            "t": [0.0, 210.0, 212.0, 232.0, 234.0],
            "v": [-17.5, -17.5, -15.5, -15.5, -17.5],
        }
    ]
    channels += [
        channel(
            "regie",
            "Regie Mik",
            "track",
            plays=["audio"],
            output=None,
            clips=pieces("regie"),
            comment="Ansagen, nicht in die Summe",
        ),
        channel(
            "grob",
            "Grobmix 2Sp",
            "track",
            plays=["audio"],
            legs=2,
            mute=True,
            clips=[
                {
                    "start_s": 0.0,
                    "end_s": END,
                    "name": "Grobmix_Largo_2",
                    "plays": "audio",
                    "file": "grob",
                    "offset_s": 0.0,
                    "speed": 1.0,
                    "fade_in_s": 0.0,
                    "fade_out_s": 0.0,
                    "gain_db": 0.0,
                    "on": True,
                }
            ],
            comment="nur zum Vergleich",
        ),
        channel(
            "bus_haupt",
            "HAUPT",
            "group",
            legs=2,
            inserts=[
                equalizer(
                    "EQ Haupt",
                    [cut(24.0), {"kind": "high-shelf", "freq_hz": 11000.0, "gain_db": 0.8, "q": 0.7, "on": True}],
                )
            ],
        ),
        channel("bus_stuetz", "STÜTZEN", "group", legs=2, fader_db=-1.5),
        channel("bus_saal", "SAAL", "group", legs=2, fader_db=-2.0, inserts=[equalizer("EQ Saal", [cut(40.0)])]),
        channel(
            "hall",
            "Hall lang",
            "return",
            legs=2,
            fader_db=-4.0,
            inserts=[
                {
                    "name": "Nachhall",
                    "kind": "reverb",
                    "on": True,
                    "opaque": False,
                    "wet": 100.0,
                    "pre_delay_ms": 28.0,
                    "parameters": [{"id": "decay", "name": "Nachhallzeit", "value": 2.3, "unit": "s"}],
                },
                equalizer(
                    "EQ Hall",
                    [cut(170.0), {"kind": "low-pass", "freq_hz": 9000.0, "slope_db_per_oct": 6.0, "on": True}],
                ),
            ],
        ),
        channel("vca_str", "VCA Streicher", "vca", fader_db=-0.5, output=None),
        channel(
            "summe",
            "SUMME",
            "master",
            legs=2,
            output=None,
            inserts=[
                {
                    "name": "Spitzenwächter",
                    "kind": "limiter",
                    "on": True,
                    "opaque": False,
                    "dynamics": {
                        "threshold_db": -1.0,
                        "ratio": 100.0,
                        "attack_ms": 0.1,
                        "release_ms": 120.0,
                        "output_gain_db": 0.0,
                        "auto_makeup": False,
                    },
                },
                {"name": "Lautheit", "kind": "analyser", "on": True, "opaque": True},
                {"name": "Kopfhörer-Entzerrung", "kind": "monitor", "on": False, "opaque": True},
            ],
            automation=[
                {"target": "fader", "scale": "dB", "shape": "linear", "t": [0.0, 307.5, 315.0], "v": [0.0, 0.0, -90.0]}
            ],
        ),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Concertino e-Moll, II. Largo",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 120.0}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [
            {"time_s": 2.1, "name": "Einsatz"},
            {"time_s": 30.0, "name": "Solo"},
            {"time_s": 94.35, "name": "Schnitt T03-T07"},
            {"time_s": 118.1, "name": "Blättern (Ob Pause)"},
            {"time_s": 171.8, "name": "Schnitt T07-T11"},
            {"time_s": 189.4, "name": "Schnitt T11-T07"},
            {"time_s": 211.0, "name": "Cembalo führt"},
            {"time_s": 296.2, "name": "Schlussakkord"},
            {"time_s": 303.0, "name": "Ausklang"},
            {"time_s": END, "name": "Ende"},
        ],
        "channels": channels,
        "media": media(),
        "metadata": {"Satz": "II", "Stand": "Mischung 3"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(entry for entry in session["channels"] if entry["name"] == name)
    return found


def outrigger_pan(session: Session) -> None:
    chan(session, "Outr R")["pan"] = -100.0


def return_not_wet(session: Session) -> None:
    chan(session, "Hall lang")["inserts"][0]["wet"] = 40.0


def tree_leg_clip_gain(session: Session) -> None:
    chan(session, "Haupt R")["clips"][1]["gain_db"] = -4.5


def dip_stays(session: Session) -> None:
    ride = chan(session, "Ob nah")["automation"][0]
    ride["t"].pop()
    ride["v"].pop()


def rough_mix_open(session: Session) -> None:
    chan(session, "Grobmix 2Sp")["mute"] = False


def talkback_to_mix(session: Session) -> None:
    chan(session, "Regie Mik")["output"] = "summe"


def spot_delay_slip(session: Session) -> None:
    chan(session, "Vc Stü")["inserts"][0]["parameters"][0]["value"] = 121.0


def patch_slipped(session: Session) -> None:
    clip = chan(session, "Kb Stü")["clips"][2]
    clip["offset_s"] = round(clip["offset_s"] + 0.3, 3)


def fade_too_soon(session: Session) -> None:
    chan(session, "SUMME")["automation"][0]["t"] = [0.0, 297.5, 305.0]


def centre_clip_off(session: Session) -> None:
    chan(session, "Haupt C")["clips"][3]["on"] = False


def headphone_curve_on(session: Session) -> None:
    chan(session, "SUMME")["inserts"][2]["on"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Regie Mik"], "why": "the control-room microphone is declared to go nowhere, on purpose"},
    {
        "channels": ["Grobmix 2Sp", "Ob fern (alt)"],
        "why": "kept muted as comparison and spare microphone; could be put away",
    },
    {"channels": ["SUMME"], "why": "headphone curve stands bypassed on the master; harmless while it is off"},
    {"channels": ["SUMME"], "why": "the fade lies on the master after the limiter; it only goes down"},
    {"channels": ["Ob nah"], "why": "short dip over a page turn while the oboe rests; comes back"},
    {
        "channels": [row[0] for row in MICS],
        "why": "the patch from T11 is 0.8 dB up on every microphone alike, to match the takes",
    },
    {
        "channels": ["Saal L", "Saal R", "Haupt L", "Haupt C", "Haupt R", "Outr L", "Outr R"],
        "why": "not delayed and not sent to the reverb: the main system is the reference and the hall is a real one",
    },
    {"channels": ["Kb Stü", "Vc Stü", "Va Stü"], "why": "low strings sit right as they sat in the hall"},
    {"channels": [], "why": "the tempo grid is the default and unused, so markers and cuts do not lie on bars"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "outrigger-pan",
        "class": "place",
        "channels": ["Outr R", "Outr L"],
        "grade": "hold",
        "says": "Both outriggers are hard left; the right one belongs hard right.",
        "plant": outrigger_pan,
    },
    {
        "id": "return-not-wet",
        "class": "ambience",
        "channels": ["Hall lang"],
        "grade": "look",
        "says": "The reverb on the return stands at 40 per cent wet, so the spots come back dry a second time.",
        "plant": return_not_wet,
    },
    {
        "id": "tree-leg-clip-gain",
        "class": "level",
        "channels": ["Haupt R", "Haupt L"],
        "grade": "hold",
        "says": "From 1:34 to 2:52 the tree's right leg has 4.5 dB less clip gain than the left; the picture leans left.",
        "plant": tree_leg_clip_gain,
    },
    {
        "id": "dip-stays",
        "class": "automation",
        "channels": ["Ob nah"],
        "grade": "hold",
        "says": "The dip over the page turn at 1:58 never comes back; the soloist's spot stays 11 dB down to the end.",
        "plant": dip_stays,
    },
    {
        "id": "rough-mix-open",
        "class": "twice",
        "channels": ["Grobmix 2Sp"],
        "grade": "hold",
        "says": "The rough two-track is not muted and plays the whole ensemble a second time under the mix.",
        "plant": rough_mix_open,
    },
    {
        "id": "talkback-to-mix",
        "class": "audible-that-should-not-be",
        "channels": ["Regie Mik"],
        "grade": "hold",
        "says": "The control-room microphone with the announcements is routed to the master.",
        "plant": talkback_to_mix,
    },
    {
        "id": "spot-delay-slip",
        "class": "phase",
        "channels": ["Vc Stü"],
        "grade": "hold",
        "says": "The cello spot is delayed by 121 ms where its neighbours have 12 to 16; it comes as an echo of the tree.",
        "plant": spot_delay_slip,
    },
    {
        "id": "patch-slipped",
        "class": "edits",
        "channels": ["Kb Stü"],
        "grade": "hold",
        "says": "In the patch from T11 the double-bass spot plays 0.3 s further on in the take than all others.",
        "plant": patch_slipped,
    },
    {
        "id": "fade-too-soon",
        "class": "end",
        "channels": ["SUMME"],
        "grade": "hold",
        "says": "The final fade starts a second after the last chord is struck and is down at 5:05, 11 s before the end.",
        "plant": fade_too_soon,
    },
    {
        "id": "centre-clip-off",
        "class": "inaudible",
        "channels": ["Haupt C"],
        "grade": "hold",
        "says": "From 3:09 to the end the clip of the tree's centre is muted while left and right play on.",
        "plant": centre_clip_off,
    },
    {
        "id": "headphone-curve-on",
        "class": "hand-over",
        "channels": ["SUMME"],
        "grade": "hold",
        "says": "The headphone correction on the master is switched on and would be printed into the bounce.",
        "plant": headphone_curve_on,
    },
]
