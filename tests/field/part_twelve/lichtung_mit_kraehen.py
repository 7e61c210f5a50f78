"""Lichtung mit Krähen: slow movement for string quartet and piano, edited from nine takes of two days.

Three spaced main microphones over the quartet, a room pair, one support for each string player and a pair over the open
piano. Every take is a full set of files at 96 kHz, and every edit is made on all microphones at once, with the same
crossfade. On the second day the preamps stood 3 dB lower; the clips of those takes carry the 3 dB. The supports are
delayed by their distance to the main microphones. The engineer rides little: solos, the quiet entries, nothing else.
The piece is played freely, so the session has no tempo; places are named by the bars of the score.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

RATE = 96000.0
FIRST_NOTE = 10.0
LAST_CHORD = 388.4
END = 402.0
SPEED_OF_SOUND = 343.0
DAY_TWO_GAIN = 3.0

# take: length in seconds, second day or not
TAKES: dict[str, tuple[float, bool]] = {
    "T03": (418.7, False),
    "T05": (409.2, False),
    "T08": (205.9, False),
    "T11": (190.4, False),
    "T12": (214.6, False),
    "T14": (118.3, False),
    "T19": (411.8, True),
    "T22": (166.1, True),
    "T23": (101.5, True),
}

# edit: place in the session, take, place in the take, crossfade into it
EDITS: list[tuple[float, str, float, float]] = [
    (9.6, "T05", 6.214, 0.0),
    (31.842, "T03", 26.907, 0.03),
    (44.371, "T05", 40.833, 0.045),
    (58.918, "T08", 57.02, 0.03),
    (88.154, "T05", 84.291, 0.06),
    (103.662, "T11", 21.334, 0.03),
    (131.207, "T19", 126.918, 0.08),
    (147.053, "T11", 65.021, 0.03),
    (166.484, "T19", 162.317, 0.045),
    (181.906, "T12", 14.662, 0.03),
    (207.331, "T22", 44.128, 0.06),
    (221.772, "T12", 54.811, 0.03),
    (238.405, "T22", 75.526, 0.02),
    (259.18, "T05", 255.637, 0.045),
    (276.034, "T22", 112.874, 0.03),
    (297.512, "T19", 293.906, 0.06),
    (318.266, "T03", 313.418, 0.03),
    (333.702, "T19", 330.355, 0.02),
    (349.941, "T14", 22.181, 0.08),
    (366.428, "T23", 41.706, 0.045),
    (381.175, "T14", 53.277, 0.03),
]

MARKERS: list[tuple[float, str]] = [
    (FIRST_NOTE, "T. 1"),
    (58.9, "T. 21 Seitenthema"),
    (103.6, "T. 38"),
    (131.2, "T. 46 Durchführung"),
    (201.5, "T. 74 Solo Vc"),
    (226.0, "T. 84 Tutti"),
    (259.1, "T. 98 Reprise"),
    (349.9, "T. 121 Coda"),
    (LAST_CHORD, "T. 137 Schlussakkord"),
    (END, "Ende"),
]


def edited(mic: str) -> list[Item]:
    """All edits of one microphone; each clip reaches half a crossfade beyond its edit points."""
    clips: list[Item] = []
    for number, (start, take, offset, fade) in enumerate(EDITS, 1):
        last = number == len(EDITS)
        end, fade_out = (END, 1.5) if last else (EDITS[number][0], EDITS[number][3])
        clips.append(
            {
                "start_s": round(start - fade / 2, 4),
                "end_s": round(end if last else end + fade_out / 2, 4),
                "name": f"{take}_{mic}.{number:02d}",
                "plays": "audio",
                "file": f"{take}_{mic}",
                "offset_s": round(offset - fade / 2, 4),
                "speed": 1.0,
                "fade_in_s": fade if fade else 0.25,
                "fade_out_s": fade_out,
                "gain_db": DAY_TWO_GAIN if TAKES[take][1] else 0.0,
                "on": True,
            }
        )
    return clips


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def low_cut(freq: float, slope: float = 12.0) -> Item:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def bell(freq: float, gain: float, q: float = 0.8) -> Item:
    """A bell."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def high_shelf(freq: float, gain: float) -> Item:
    """A high shelf."""
    return {"kind": "high-shelf", "freq_hz": freq, "gain_db": gain, "q": 0.7, "on": True}


def travel_time(metres: float) -> float:
    """Milliseconds that sound needs for a distance."""
    return round(metres / SPEED_OF_SOUND * 1000.0, 2)


def aligned(metres: float) -> Item:
    """The delay that lines up a support with the main microphones."""
    return {
        "name": "Laufzeit",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": "delay", "name": "Verzögerung", "value": travel_time(metres), "unit": "ms"}],
    }


def reverb(name: str, decay: float, pre_delay: float, diffusion: float) -> Item:
    """A reverb as it stands in a return, wholly wet."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [
            {"id": "decay", "name": "Nachhallzeit", "value": decay, "unit": "s"},
            {"id": "diffusion", "name": "Diffusion", "value": diffusion, "unit": "%"},
        ],
    }


def send(to: str, level: float) -> Item:
    """A send taken after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def both_halls(early: float, late: float) -> list[Item]:
    """The two sends that every support has."""
    return [send("frueh", early), send("hall", late)]


def ride(target: str, *points: tuple[float, float]) -> Item:
    """A lane of points (seconds, decibels), drawn straight."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [round(t, 3) for t, _ in points],
        "v": [v for _, v in points],
    }


def strip(ident: str, name: str, fader: float, pan: float, output: str, **more: Any) -> Item:
    """A channel strip; whatever is not given is empty."""
    made: Item = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": 1,
        "plays": [],
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    made.update(more)
    return made


def mic(ident: str, name: str, fader: float, pan: float, group: str, *inserts: Item, **more: Any) -> Item:
    """A microphone with the edits of all takes."""
    clips = edited(ident)
    return strip(
        ident, name, fader, pan, group, parent=group, plays=["audio"], inserts=list(inserts), clips=clips, **more
    )


def main_system() -> list[Item]:
    """The three main microphones and the room pair."""
    return [
        mic("HauptL", "Haupt L", 0.0, -100.0, "haupt", comment="Kugel, Hauptsystem, 2,6 m hoch"),
        mic("HauptM", "Haupt M", -4.5, 0.0, "haupt", comment="Kugel, Hauptsystem"),
        mic("HauptR", "Haupt R", 0.0, 100.0, "haupt", comment="Kugel, Hauptsystem, 2,6 m hoch"),
        mic(
            "Raum",
            "Raum",
            -10.0,
            0.0,
            "haupt",
            eq(low_cut(45), high_shelf(9000, -1.5)),
            legs=2,
            comment="9 m, bewusst ohne Laufzeitausgleich",
        ),
    ]


def supports() -> list[Item]:
    """The supports of the quartet, from left to right as they sit."""
    return [
        mic(
            "Vl1",
            "Vl 1",
            -13.5,
            -46.0,
            "streicher",
            aligned(2.9),
            eq(low_cut(140), high_shelf(7000, -1.5)),
            sends=both_halls(-12.0, -16.0),
            automation=[
                ride(
                    "fader",
                    (0.0, -13.5),
                    (58.4, -13.5),
                    (59.4, -12.0),
                    (87.0, -12.0),
                    (88.5, -13.5),
                    (349.5, -13.5),
                    (351.0, -12.5),
                )
            ],
            comment="Stütze 2,9 m, links außen",
        ),
        mic(
            "Vl2",
            "Vl 2",
            -13.0,
            -18.0,
            "streicher",
            aligned(3.1),
            eq(low_cut(140), high_shelf(7000, -1.0)),
            sends=both_halls(-12.0, -16.0),
            comment="Stütze 3,1 m",
        ),
        mic(
            "Va",
            "Va",
            -12.5,
            18.0,
            "streicher",
            aligned(3.1),
            eq(low_cut(90), bell(1100, 1.0)),
            sends=both_halls(-12.0, -15.5),
            automation=[ride("fader", (0.0, -12.5), (102.8, -12.5), (103.8, -11.0), (130.0, -11.0), (131.0, -12.5))],
            comment="Stütze 3,1 m",
        ),
        mic(
            "Vc",
            "Vc",
            -13.0,
            46.0,
            "streicher",
            aligned(2.8),
            eq(low_cut(40), bell(180, -1.5)),
            sends=both_halls(-13.0, -17.0),
            automation=[ride("fader", (0.0, -13.0), (200.5, -13.0), (201.5, -9.5), (225.0, -9.5), (226.5, -13.0))],
            comment="Stütze 2,8 m, rechts außen",
        ),
    ]


def piano() -> list[Item]:
    """The pair over the piano and the unused one below it."""
    tone = (low_cut(28), bell(320, -1.5))
    return [
        mic(
            "KlL",
            "Kl links",
            -9.5,
            -34.0,
            "klavier",
            aligned(4.4),
            eq(*tone),
            sends=both_halls(-14.0, -15.0),
            comment="4,4 m, Hämmer",
        ),
        mic(
            "KlR",
            "Kl rechts",
            -9.5,
            34.0,
            "klavier",
            aligned(4.4),
            eq(*tone),
            sends=both_halls(-14.0, -15.0),
            comment="4,4 m, Korpus",
        ),
        mic(
            "KlU",
            "Kl unten",
            -16.0,
            0.0,
            "klavier",
            aligned(4.1),
            mute=True,
            comment="Reserve unter dem Boden, Pedalgeräusch, nicht verwendet",
        ),
    ]


def buses() -> list[Item]:
    """Groups, both halls and the sum."""
    limiter = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "attack_ms": 2.0, "release_ms": 250.0, "input_gain_db": 0.0},
    }
    headphones = {
        "name": "Kopfhörer-Entzerrung",
        "kind": "monitor",
        "on": False,
        "opaque": True,
    }
    meter = {"name": "Pegel/Lautheit", "kind": "analyser", "on": True, "opaque": True}
    piano_rides = ride(
        "fader",
        (0.0, -1.0),
        (130.8, -1.0),
        (132.0, -2.0),
        (200.0, -2.0),
        (201.5, -3.0),
        (225.0, -3.0),
        (226.5, -1.5),
        (258.5, -1.5),
        (260.0, -1.0),
    )
    hall_rides = ride("fader", (0.0, -7.0), (386.0, -7.0), (390.0, -5.5))
    fade = ride("fader", (0.0, 0.0), (396.0, 0.0), (399.5, -18.0), (401.5, -90.0))
    group = {"kind": "group", "legs": 2}
    back = {"kind": "return", "legs": 2}
    return [
        strip(
            "haupt",
            "Hauptsystem",
            0.0,
            0.0,
            "summe",
            sends=[send("hall", -20.0)],
            comment="Tag 2 (T19, T22, T23): Vorverstärker 3 dB tiefer, Clips auf allen Mikros +3",
            **group,
        ),
        strip("streicher", "Streicher", -1.5, 0.0, "summe", comment="Stützen Quartett", **group),
        strip("klavier", "Klavier", -1.0, 0.0, "summe", automation=[piano_rides], **group),
        strip(
            "frueh",
            "Frühe Refl.",
            -6.0,
            0.0,
            "summe",
            inserts=[reverb("Raum kurz", 0.6, 4.0, 40.0), eq(low_cut(120))],
            comment="bindet die Stützen an den Saal",
            **back,
        ),
        strip(
            "hall",
            "Hall",
            -7.0,
            0.0,
            "summe",
            inserts=[eq(low_cut(90)), reverb("Saal", 2.3, 28.0, 75.0)],
            automation=[hall_rides],
            **back,
        ),
        {
            "id": "summe",
            "name": "Summe",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [limiter, meter, headphones],
            "automation": [fade],
            "comment": "Kopfhörer-Entzerrung nur zum Abhören, vor dem Export aus",
        },
    ]


def media() -> list[Item]:
    """One file for each take and microphone."""
    mics = ["HauptL", "HauptM", "HauptR", "Raum", "Vl1", "Vl2", "Va", "Vc", "KlL", "KlR", "KlU"]
    return [
        {
            "id": f"{take}_{name}",
            "path": f"Takes/{'Tag2' if day_two else 'Tag1'}/{take}/{take}_{name}.wav",
            "place": "beside",
            "present": True,
            "legs": 2 if name == "Raum" else 1,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for take, (length, day_two) in TAKES.items()
        for name in mics
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Lichtung mit Krähen, 2. Satz - Schnitt 3, Mischung 2",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "played freely, the session keeps no tempo map", "settle": ""},
        "markers": [{"time_s": time, "name": name} for time, name in MARKERS],
        "channels": [*main_system(), *supports(), *piano(), *buses()],
        "media": media(),
        "metadata": {"Abgabe": "96 kHz / 24 Bit, stereo", "Besetzung": "2 Vl, Va, Vc, Klavier"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def edit_forgotten(session: Session) -> None:
    """Edit 5 was not made on the second violin, whose take 8 runs on."""
    clips = channel(session, "Vl 2")["clips"]
    gone = clips.pop(4)
    clips[3]["end_s"] = gone["end_s"]
    clips[3]["fade_out_s"] = gone["fade_out_s"]


def delay_off(session: Session) -> None:
    """The delay of one support is bypassed."""
    channel(session, "Vl 1")["inserts"][0]["on"] = False


def main_right_near_centre(session: Session) -> None:
    """A pan typed without its last digit."""
    channel(session, "Haupt R")["pan"] = 10.0


def left_piano_on_both(session: Session) -> None:
    """Relinking take 22 gave the right piano microphone the left one's file."""
    for clip in channel(session, "Kl rechts")["clips"]:
        if clip["file"] == "T22_KlR":
            clip["file"] = "T22_KlL"


def day_two_gain_missing(session: Session) -> None:
    """The gain of the second day was not given to one main microphone."""
    for clip in channel(session, "Haupt L")["clips"]:
        clip["gain_db"] = 0.0


def slate_heard(session: Session) -> None:
    """The first clip of one microphone was dragged open to the left, over the slate."""
    first = channel(session, "Haupt M")["clips"][0]
    first["start_s"] = round(first["start_s"] - 5.7, 4)
    first["offset_s"] = round(first["offset_s"] - 5.7, 4)


def fade_too_soon(session: Session) -> None:
    """The final fade was drawn ten seconds early."""
    lane = channel(session, "Summe")["automation"][0]
    lane["t"] = [t if t == 0.0 else round(t - 10.0, 3) for t in lane["t"]]


def hall_send_off(session: Session) -> None:
    """One of the piano's hall sends was switched off for a comparison."""
    channel(session, "Kl rechts")["sends"][1]["on"] = False


def viola_in_piano(session: Session) -> None:
    """The viola support goes out through the piano group."""
    channel(session, "Va")["output"] = "klavier"


def headphones_on(session: Session) -> None:
    """The headphone correction is still on."""
    channel(session, "Summe")["inserts"][2]["on"] = True


def solo_ride_elsewhere(session: Session) -> None:
    """The ride of the cello's solo was written on the viola."""
    moved = channel(session, "Vc")["automation"].pop()
    lane = channel(session, "Va")["automation"][0]
    lane["t"] += moved["t"][1:]
    lane["v"] += [round(v + 0.5, 2) for v in moved["v"][1:]]


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Kl unten"], "why": "A muted spare that carries all the edits, as its comment says."},
    {"channels": ["Raum"], "why": "The one distant pair without a delay; its comment says that this is meant."},
    {"channels": ["Summe"], "why": "The headphone correction stands ready there and is off."},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "edit-not-on-vl2",
        "class": "edits",
        "channels": ["Vl 2"],
        "grade": "hold",
        "says": "From 88.15 to 103.66 s all microphones play take 5, but Vl 2 stays in take 8: an edit is missing.",
        "plant": edit_forgotten,
    },
    {
        "id": "vl1-delay-off",
        "class": "phase",
        "channels": ["Vl 1"],
        "grade": "look",
        "says": "The delay that lines up Vl 1 with the main system is bypassed; all the other supports have theirs.",
        "plant": delay_off,
    },
    {
        "id": "main-right-near-centre",
        "class": "place",
        "channels": ["Haupt R"],
        "grade": "look",
        "says": "Haupt R is panned to 10 while Haupt L is hard left: the main pair is lopsided, 100 was meant.",
        "plant": main_right_near_centre,
    },
    {
        "id": "left-piano-twice",
        "class": "twice",
        "channels": ["Kl rechts"],
        "grade": "look",
        "says": "In all edits from take 22 Kl rechts plays the file of Kl links, so the piano is there twice and mono.",
        "plant": left_piano_on_both,
    },
    {
        "id": "day-two-gain-missing",
        "class": "level",
        "channels": ["Haupt L"],
        "grade": "look",
        "says": "The clips of the second day have +3 dB on every microphone but Haupt L; the image tips at each edit.",
        "plant": day_two_gain_missing,
    },
    {
        "id": "slate-heard",
        "class": "audible-that-should-not-be",
        "channels": ["Haupt M"],
        "grade": "look",
        "says": "Haupt M opens at 3.9 s, 5.7 s before all others and well before bar 1: the slate will be heard.",
        "plant": slate_heard,
    },
    {
        "id": "fade-over-last-chord",
        "class": "end",
        "channels": ["Summe"],
        "grade": "hold",
        "says": "The final fade begins at 386 s, before the last chord at 388.4 s, and is shut 10 s before the end.",
        "plant": fade_too_soon,
    },
    {
        "id": "piano-hall-one-sided",
        "class": "ambience",
        "channels": ["Kl rechts"],
        "grade": "look",
        "says": "The hall send of Kl rechts is off while that of Kl links is on at -15 dB.",
        "plant": hall_send_off,
    },
    {
        "id": "viola-in-piano-group",
        "class": "routing",
        "channels": ["Va"],
        "grade": "look",
        "says": "Va goes out through the Klavier group and its rides, though it belongs to Streicher like its fellows.",
        "plant": viola_in_piano,
    },
    {
        "id": "headphone-correction-on",
        "class": "hand-over",
        "channels": ["Summe"],
        "grade": "hold",
        "says": "The headphone correction on Summe is on and would be printed; its comment wants it off for export.",
        "plant": headphones_on,
    },
    {
        "id": "solo-ride-on-viola",
        "class": "automation",
        "channels": ["Va", "Vc"],
        "grade": "look",
        "says": "In the cello solo it is Va that is ridden up by 3.5 dB, while Vc has no ride at all.",
        "plant": solo_ride_elsewhere,
    },
]
