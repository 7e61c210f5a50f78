"""Nachtlied: a slow song for soprano, violin, viola and cello, recorded in a village church, three and a half minutes.

No click and no tempo map: the players breathe. Every pass was recorded on eight microphones (main pair, room pair, one
spot each) and the song is cut from three takes; a cut goes through all microphones at the same place, with short
crossfades. Take 6 came in one and a half decibels hotter and is taken down in the clips. The spots are delayed to the
main pair by their distance, which stands in the comments. German names, 96 kHz, nearly no processing; rides only on
the soprano, and a fade of the sum into the silence of the church.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

RATE = 96000.0
SOUND_M_PER_MS = 0.343
LAST_TONE = 196.2
END = 214.0
CROSS = 0.04

# start, end, take, what has to be added to the time in the song for the time in the take
CUTS: list[tuple[float, float, str, float]] = [
    (0.6, 47.36, "T3", 11.42),
    (47.36, 88.92, "T6", 8.07),
    (88.92, 131.4, "T3", 12.03),
    (131.4, 168.15, "T9", -118.6),
    (168.15, END, "T6", 8.93),
]
TAKE_LENGTH = {"T3": 248.716, "T6": 236.104, "T9": 74.23}
TAKE_GAIN = {"T3": 0.0, "T6": -1.5, "T9": 0.0}

# key: channel name, number of the recorder's track
MICS: dict[str, tuple[str, int]] = {
    "hpl": ("HP L", 1),
    "hpr": ("HP R", 2),
    "rl": ("Raum L", 3),
    "rr": ("Raum R", 4),
    "sop": ("St Sopran", 5),
    "vl": ("St Vl", 6),
    "va": ("St Va", 7),
    "vc": ("St Vc", 8),
    "reg": ("Ansage", 9),
}

MARKERS: list[tuple[float, str]] = [
    (0.0, "Anfang"),
    (1.1, "A Vorspiel"),
    (24.7, "B Strophe 1"),
    (71.3, "C Strophe 2"),
    (117.9, "D Zwischenspiel Vl"),
    (141.6, "E Strophe 3"),
    (LAST_TONE, "Schlusston"),
    (END, "Ende"),
]


def media() -> list[Item]:
    """A file for each microphone and take."""
    rows: list[Item] = []
    for take, length in TAKE_LENGTH.items():
        for key, (name, number) in MICS.items():
            stem = name.replace(" ", "_")
            rows.append(
                {
                    "id": f"{key}_{take}",
                    "path": f"takes/{take}/{take}_{number:02d}_{stem}.wav",
                    "place": "beside",
                    "present": True,
                    "legs": 1,
                    "sample_rate_hz": RATE,
                    "duration_s": length,
                }
            )
    return rows


def short(key: str) -> str:
    """The name of a microphone as it stands in the clip names."""
    return MICS[key][0].removeprefix("St ")


def clips(key: str) -> list[Item]:
    """The song cut from the takes, for one microphone."""
    rows: list[Item] = []
    for start, end, take, shift in CUTS:
        rows.append(
            {
                "start_s": start,
                "end_s": end,
                "name": f"{take} {short(key)}",
                "plays": "audio",
                "file": f"{key}_{take}",
                "offset_s": round(start + shift, 4),
                "speed": 1.0,
                "fade_in_s": -CROSS if rows else 0.3,
                "fade_out_s": CROSS if end < END else 2.0,
                "gain_db": TAKE_GAIN[take],
                "on": True,
            }
        )
    return rows


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return {
        "name": "EQ",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": list(bands)},
    }


def cut(freq: float, slope: float = 12.0) -> Item:
    """A high-pass."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def bell(freq: float, gain: float, q: float) -> Item:
    """A bell."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def air(freq: float, gain: float) -> Item:
    """A high shelf."""
    return {"kind": "high-shelf", "freq_hz": freq, "gain_db": gain, "q": 0.7, "on": True}


def listed(key: str, name: str, value: float | bool, unit: str = "") -> Item:
    """One listed setting."""
    return {"id": key, "name": name, "value": value, "unit": unit}


def travel(distance_m: float) -> Item:
    """The delay that puts a spot behind the main pair."""
    return {
        "name": "Laufzeit",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            listed("delay_ms", "Verzögerung", round(distance_m / SOUND_M_PER_MS, 1), "ms"),
            listed("invert", "Phase drehen", False),
        ],
    }


def send(to: str, level: float) -> Item:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def mic(key: str, fader: float, pan: float, out: str, **more: Any) -> Item:
    """A microphone's channel."""
    return {
        "id": key,
        "name": MICS[key][0],
        "kind": "track",
        "parent": None if out == "summe" else out,
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": [],
        "inserts": [],
        "clips": clips(key),
        "automation": [],
        **more,
    }


def sum_channel(key: str, name: str, kind: str, fader: float, inserts: list[Item], **more: Any) -> Item:
    """A group, a return or the sum."""
    made: Item = {
        "id": key,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": inserts,
        "automation": [],
        **more,
    }
    if kind != "master":
        made["output"] = "summe"
    return made


def line(*points: tuple[float, float]) -> Item:
    """A fader ride in straight lines."""
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [t for t, _ in points],
        "v": [v for _, v in points],
    }


def soprano_ride() -> Item:
    """She turns away in verse two and is close in the last verse."""
    return line(
        (0.0, -9.5),
        (24.2, -9.5),
        (25.4, -9.0),
        (41.8, -9.0),
        (43.1, -8.2),
        (52.6, -8.2),
        (54.0, -9.4),
        (70.9, -9.4),
        (72.3, -7.6),
        (96.5, -7.6),
        (98.2, -8.8),
        (116.4, -8.8),
        (118.0, -12.0),
        (140.7, -12.0),
        (141.9, -9.6),
        (159.3, -9.6),
        (161.0, -10.4),
        (183.2, -10.4),
        (185.0, -9.2),
        (END, -9.2),
    )


def main_mics() -> list[Item]:
    """Main pair and room pair."""
    return [
        mic("hpl", -2.0, -100.0, "haupt", inserts=[eq(cut(28.0))], comment="Hauptpaar, 2,4 m hoch"),
        mic("hpr", -2.0, 100.0, "haupt", inserts=[eq(cut(28.0))], comment="Hauptpaar"),
        mic("rl", -11.5, -100.0, "haupt", inserts=[eq(cut(45.0), air(6000.0, -1.5))], comment="Raum, 9 m, Nordseite"),
        mic("rr", -11.5, 100.0, "haupt", inserts=[eq(cut(45.0), air(6000.0, -1.5))], comment="Raum, 9 m, Südseite"),
    ]


def spots() -> list[Item]:
    """Spot microphones: the soprano, then the strings from the left."""
    return [
        mic(
            "sop",
            -9.5,
            0.0,
            "stuetz",
            sends=[send("kirche", -15.0), send("platte", -19.0)],
            inserts=[
                travel(3.9),
                eq(cut(90.0), bell(340.0, -1.0, 1.1), bell(3300.0, -1.5, 1.6)),
                {
                    "name": "Kompressor",
                    "kind": "compressor",
                    "on": True,
                    "opaque": False,
                    "dynamics": {
                        "threshold_db": -20.0,
                        "ratio": 1.6,
                        "attack_ms": 25.0,
                        "release_ms": 250.0,
                        "output_gain_db": 0.5,
                    },
                },
            ],
            automation=[soprano_ride()],
            comment="3,9 m zum HP. Fahrt nach Text",
        ),
        mic(
            "vl",
            -13.0,
            -36.0,
            "stuetz",
            sends=[send("kirche", -14.0)],
            inserts=[travel(3.0), eq(cut(150.0), bell(2800.0, -1.0, 1.2))],
            comment="3,0 m zum HP, sitzt links",
        ),
        mic(
            "va",
            -12.5,
            14.0,
            "stuetz",
            sends=[send("kirche", -14.0)],
            inserts=[travel(3.2), eq(cut(100.0), bell(420.0, -1.5, 1.2))],
            comment="3,2 m zum HP, halbrechts",
        ),
        mic(
            "vc",
            -13.5,
            36.0,
            "stuetz",
            sends=[send("kirche", -14.0)],
            inserts=[travel(3.4), eq(cut(40.0), bell(190.0, -1.5, 1.0))],
            comment="3,4 m zum HP, sitzt rechts",
        ),
    ]


def rest() -> list[Item]:
    """Talkback, groups, reverbs, sum."""
    return [
        mic(
            "reg",
            -6.0,
            0.0,
            "summe",
            mute=True,
            comment="Regiemikro, läuft beim Schneiden mit, nie in die Summe",
        ),
        sum_channel("haupt", "Haupt", "group", 0.0, [], comment="T6: Vorverstärker +1,5 dB, darum alle T6-Clips -1,5"),
        sum_channel("stuetz", "Stützen", "group", -1.0, [eq(air(9000.0, 0.5))]),
        sum_channel(
            "kirche",
            "Kirche 2,6s",
            "return",
            -6.0,
            [
                {
                    "name": "Hall",
                    "kind": "reverb",
                    "on": True,
                    "opaque": False,
                    "wet": 100.0,
                    "pre_delay_ms": 32.0,
                    "parameters": [listed("decay", "Nachhall", 2.6, "s"), listed("size", "Größe", 70.0, "%")],
                },
                eq(cut(120.0), air(7000.0, -2.0)),
            ],
            comment="bindet die Stützen an den Raum",
        ),
        sum_channel(
            "platte",
            "Platte Sop",
            "return",
            -9.0,
            [
                {
                    "name": "Platte",
                    "kind": "reverb",
                    "on": True,
                    "opaque": False,
                    "wet": 100.0,
                    "pre_delay_ms": 18.0,
                    "parameters": [listed("decay", "Nachhall", 1.7, "s")],
                },
                eq(cut(250.0)),
            ],
        ),
        sum_channel(
            "summe",
            "Summe",
            "master",
            0.0,
            [
                eq(cut(20.0), air(12000.0, 0.5)),
                {
                    "name": "Mono-Abhören",
                    "kind": "monitor",
                    "on": False,
                    "opaque": False,
                    "parameters": [listed("mono", "Mono", True), listed("dim", "Dämpfung", 0.0, "dB")],
                },
                {
                    "name": "Pegel",
                    "kind": "analyser",
                    "on": True,
                    "opaque": False,
                    "parameters": [listed("hold", "Halten", 2.0, "s")],
                },
            ],
            automation=[line((0.0, 0.0), (207.0, 0.0), (211.0, -14.0), (213.8, -96.0))],
            comment="Mono-Abhören nur zum Prüfen",
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Nachtlied, Schnitt 4, Mischung 2",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "the export gives no tempo", "settle": ""},
        "markers": [{"time_s": t, "name": name} for t, name in MARKERS],
        "channels": [*main_mics(), *spots(), *rest()],
        "media": media(),
        "metadata": {
            "Ort": "Dorfkirche",
            "Schnitt": "T3 / T6 / T3 / T9 / T6",
            "Format": "96 kHz, 24 bit",
        },
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def insert(session: Session, name: str, processor: str) -> Item:
    """A processor of a channel by its name."""
    found: Item = next(i for i in channel(session, name)["inserts"] if i["name"] == processor)
    return found


def viola_wrong_take(session: Session) -> None:
    """The cut at the interlude was not made on the viola: take 3 runs on."""
    item = channel(session, "St Va")["clips"][3]
    item["file"] = "va_T3"
    item["name"] = "T3 Va"
    item["offset_s"] = round(CUTS[3][0] + CUTS[2][3], 4)


def cello_not_delayed(session: Session) -> None:
    """The cello's delay is bypassed."""
    insert(session, "St Vc", "Laufzeit")["on"] = False


def room_swapped(session: Session) -> None:
    """The room pair stands the wrong way round."""
    channel(session, "Raum L")["pan"] = 100.0
    channel(session, "Raum R")["pan"] = -100.0


def ride_on_the_violin(session: Session) -> None:
    """The soprano's ride has landed on the violin's strip."""
    source = channel(session, "St Sopran")
    channel(session, "St Vl")["automation"] = source["automation"]
    source["automation"] = []


def main_right_low(session: Session) -> None:
    """The right main microphone's fader was touched."""
    channel(session, "HP R")["fader_db"] = -6.3


def violin_gain_sign(session: Session) -> None:
    """The correction of take 6 has the wrong sign in one clip of the violin."""
    channel(session, "St Vl")["clips"][1]["gain_db"] = 1.5


def viola_send_off(session: Session) -> None:
    """The viola's send to the church is switched off."""
    channel(session, "St Va")["sends"][0]["on"] = False


def talkback_open(session: Session) -> None:
    """The control room's microphone is open."""
    channel(session, "Ansage")["mute"] = False


def fade_of_an_older_cut(session: Session) -> None:
    """The fade of the sum stands where an older, shorter cut ended."""
    moves = channel(session, "Summe")["automation"][0]
    moves["t"] = [0.0, *(round(t - 22.5, 4) for t in moves["t"][1:])]


def mono_left_on(session: Session) -> None:
    """The mono check in the sum is on."""
    insert(session, "Summe", "Mono-Abhören")["on"] = True


def cello_take_converted(session: Session) -> None:
    """The cello's take 3 is the converted copy at half the rate."""
    item = next(f for f in session["media"] if f["id"] == "vc_T3")
    item["path"] = "takes/T3/48k/T3_08_St_Vc.wav"
    item["sample_rate_hz"] = 48000.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Ansage"], "why": "muted on purpose, the comment says so; a reminder to leave it out is fair"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "viola-in-another-take",
        "class": "edits",
        "channels": ["St Va"],
        "grade": "hold",
        "says": "From 131.4 to 168.15 s St Va plays take 3 while all other microphones play take 9.",
        "plant": viola_wrong_take,
    },
    {
        "id": "cello-delay-bypassed",
        "class": "phase",
        "channels": ["St Vc"],
        "grade": "look",
        "says": "The delay of the cello spot is bypassed; the other three spots are delayed to the main pair.",
        "plant": cello_not_delayed,
    },
    {
        "id": "room-pair-swapped",
        "class": "place",
        "channels": ["Raum L", "Raum R"],
        "grade": "look",
        "says": "Raum L is panned right and Raum R left, the main pair the right way round.",
        "plant": room_swapped,
    },
    {
        "id": "ride-on-the-wrong-strip",
        "class": "automation",
        "channels": ["St Vl", "St Sopran"],
        "grade": "hold",
        "says": "The ride after the text, which the comment promises on St Sopran, lies on St Vl and lifts it above "
        "its own fader of -13; the soprano has none.",
        "plant": ride_on_the_violin,
    },
    {
        "id": "main-pair-uneven",
        "class": "level",
        "channels": ["HP R", "HP L"],
        "grade": "look",
        "says": "HP R is 4.3 dB below HP L, a pair that is otherwise treated alike: the picture leans to the left.",
        "plant": main_right_low,
    },
    {
        "id": "take-gain-wrong-sign",
        "class": "level",
        "channels": ["St Vl"],
        "grade": "look",
        "says": "The first T6 clip of St Vl is at +1.5 dB, all other T6 clips at -1.5 as the comment says.",
        "plant": violin_gain_sign,
    },
    {
        "id": "viola-without-church",
        "class": "ambience",
        "channels": ["St Va"],
        "grade": "look",
        "says": "The send of St Va to the church reverb is switched off, that of the other spots is on.",
        "plant": viola_send_off,
    },
    {
        "id": "talkback-open",
        "class": "audible-that-should-not-be",
        "channels": ["Ansage"],
        "grade": "hold",
        "says": "The control room microphone is not muted and goes to the sum, where its comment never wants it.",
        "plant": talkback_open,
    },
    {
        "id": "sum-fades-before-the-last-tone",
        "class": "end",
        "channels": ["Summe"],
        "grade": "hold",
        "says": "The sum fades out from 184.5 s and is silent at 191.3, before the marked last tone at 196.2; "
        "clips run to 214.",
        "plant": fade_of_an_older_cut,
    },
    {
        "id": "mono-check-left-on",
        "class": "processors",
        "channels": ["Summe"],
        "grade": "hold",
        "says": "The mono check in the sum is on; the bounce would be mono.",
        "plant": mono_left_on,
    },
    {
        "id": "cello-take-at-half-rate",
        "class": "files",
        "channels": ["St Vc"],
        "grade": "hold",
        "says": "The cello's file of take 3 is at 48 kHz in a session of 96 kHz, from another folder than its fellows.",
        "plant": cello_take_converted,
    },
]
