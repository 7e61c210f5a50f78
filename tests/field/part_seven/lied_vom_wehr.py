"""Lied vom Wehr: Duo, Fingerpicking im Dreivierteltakt, 96 kHz.

Mara spielt die gezupfte Gitarre (zwei Mikrofone und Tonabnehmer, Takes 3 und 5, an gemeinsamen Stellen geschnitten),
Jonte hat die zweite Gitarre gegenueber dazugespielt. Der Gesang kam danach, je Stimme ein Comp, Zeile fuer Zeile
geschnitten und im Pegel angeglichen. Das Cello ist ein Overdub von einem anderen Tag; zwischen seinen Einsaetzen ist es
stummgefahren. Gewohnheiten: Tonabnehmer um die Laufzeit der Mikrofone geschoben, wenig Kompression, zwei Hallwege,
kein Limiter, denn die Mischung geht ins Mastering.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

RATE = 96000.0
BPM = 84.0
BEAT = 60.0 / BPM
XFADE = 0.02
NUDGE = 0.0014
TEILE: dict[str, tuple[int, int]] = {
    "Intro": (3, 11),
    "Strophe 1": (11, 27),
    "Refrain 1": (27, 35),
    "Zwischenspiel": (35, 39),
    "Strophe 2": (39, 55),
    "Refrain 2": (55, 63),
    "Cello-Solo": (63, 79),
    "Strophe 3": (79, 87),
    "Refrain 3": (87, 99),
    "Schluss": (99, 105),
}
TAKES: list[tuple[str, str, str]] = [
    ("Intro", "Strophe 1", "T5"),
    ("Refrain 1", "Zwischenspiel", "T3"),
    ("Strophe 2", "Strophe 2", "T5"),
    ("Refrain 2", "Cello-Solo", "T3"),
    ("Strophe 3", "Refrain 3", "T5"),
    ("Schluss", "Schluss", "T3"),
]
MARA: list[tuple[str, int, float]] = [
    ("S1 Z1", 11, 0.0),
    ("S1 Z2", 15, 0.5),
    ("S1 Z3", 19, -0.5),
    ("S1 Z4", 23, 0.0),
    ("R1 Z1", 27, -1.0),
    ("R1 Z2", 31, -1.5),
    ("S2 Z4", 51, 1.0),
    ("R2 Z1", 55, -1.0),
    ("R2 Z2", 59, -1.5),
    ("S3 Z1", 79, 1.0),
    ("S3 Z2", 83, 0.5),
    ("R3 Z1", 87, -1.5),
    ("R3 Z2", 91, -1.0),
    ("R3 Z3", 95, -0.5),
    ("Schluss", 99, 1.5),
]
JONTE: list[tuple[str, int, float]] = [
    ("R1 Z1", 27, 0.0),
    ("R1 Z2", 31, 0.5),
    ("S2 Z1", 39, 1.5),
    ("S2 Z2", 43, 1.0),
    ("S2 Z3", 47, 1.0),
    ("S2 Z4", 51, 0.0),
    ("R2 Z1", 55, 0.0),
    ("R2 Z2", 59, 0.5),
    ("R3 Z1", 87, -0.5),
    ("R3 Z2", 91, 0.0),
    ("R3 Z3", 95, 0.0),
    ("Schluss", 99, 0.5),
]


def takt(bar: float, beat: float = 1.0) -> float:
    """The second at which a beat of a bar falls, three beats to the bar."""
    return round(((bar - 1.0) * 3.0 + beat - 1.0) * BEAT, 6)


def clip(name: str, file: str, span: tuple[float, float], offset: float, **more: Any) -> Item:
    """A clip of a file, as recorded."""
    made: Item = {
        "start_s": round(span[0], 6),
        "end_s": round(span[1], 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 6),
        "speed": 1.0,
        "fade_in_s": XFADE,
        "fade_out_s": XFADE,
        "gain_db": 0.0,
        "on": True,
    }
    made.update(more)
    return made


def schnitt(von: str, bis: str) -> tuple[float, float]:
    """Where a stretch of the guitar is cut: a little before the beat, overlapping by the crossfade."""
    start = takt(TEILE[von][0]) - (0.25 if von == "Intro" else 0.06 + XFADE / 2)
    end = takt(TEILE[bis][1]) - (0.0 if bis == "Schluss" else 0.06 - XFADE / 2)
    return start, end


def gezupft(mikro: str, shift: float = 0.0) -> list[Item]:
    """The clips of one of the three guitar signals, from the takes that were chosen."""
    clips = []
    for von, bis, take in TAKES:
        span = schnitt(von, bis)
        clips.append(clip(f"Git1 {mikro} {take}", f"{mikro}_{take}", span, span[0] - shift))
    clips[0]["fade_in_s"] = 0.1
    clips[-1]["fade_out_s"] = 3.0
    return clips


def zweite(file: str, name: str) -> list[Item]:
    """The second guitar: in from the second half of the first verse, out for the interlude and half of the third."""
    spans = [
        ("a", takt(19) - 0.1, takt(35) + 0.4),
        ("b", takt(39) - 0.1, takt(79) + 0.2),
        ("c", takt(83) - 0.1, takt(105)),
    ]
    clips = [clip(f"{name} {part}", file, (start, end), start) for part, start, end in spans]
    clips[-1]["fade_out_s"] = 3.0
    clips[0]["fade_out_s"], clips[1]["fade_out_s"] = 0.8, 0.6
    return clips


def zeilen(name: str, file: str, lines: list[tuple[str, int, float]]) -> list[Item]:
    """The lines of a sung comp; a breath before the bar, gone before the next line."""
    clips = []
    for text, bar, gain in lines:
        span = (takt(bar) - 0.35, takt(bar + 4) - 0.4)
        clips.append(clip(f"{name} {text}", file, span, span[0], gain_db=gain, fade_in_s=0.03, fade_out_s=0.08))
    return clips


def cello_clips() -> list[Item]:
    """Refrains and ending from one file, the solo from its own."""
    spans = [("R1+Zw", 27, 39), ("R2", 55, 63), ("R3+Schluss", 87, 105)]
    clips = []
    for name, first, last in spans:
        span = (takt(first) - 0.1, takt(last))
        clips.append(clip(f"Cello {name}", "cello_r", span, span[0], fade_in_s=0.05, fade_out_s=0.4))
    start = takt(63) - 0.1
    solo = clip("Cello Solo T4", "cello_s", (start, takt(79)), start - takt(61), fade_in_s=0.08, fade_out_s=0.5)
    solo["gain_db"] = -1.0
    clips[1]["fade_out_s"] = 0.12
    clips[2]["fade_out_s"] = 3.5
    return [clips[0], clips[1], solo, clips[2]]


def insert(name: str, kind: str, **more: Any) -> Item:
    """A processor whose settings can be read."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, **more}


def par(name: str, value: float | str | bool, unit: str = "") -> Item:
    """A listed parameter."""
    return {"id": name.lower().replace(" ", "_"), "name": name, "value": value, "unit": unit}


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.8) -> Item:
    """A band of the equalizer with a gain."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def hoch(freq: float) -> Item:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": 12.0, "on": True}


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return insert("EQ", "equalizer", equalizer={"bands": list(bands)})


def komp(threshold: float, ratio: float, attack: float, release: float, out: float) -> Item:
    """A compressor."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "knee_db": 6.0,
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return insert("Kompressor", "compressor", dynamics=dynamics)


def deesser(freq: float) -> Item:
    """A de-esser."""
    return insert("De-Esser", "de-esser", parameters=[par("Frequenz", freq, "Hz"), par("Absenkung", -4.0, "dB")])


def send(to: str, level: float) -> Item:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def fahrt(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Item:
    """An automation lane from points of time and value."""
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [round(p[0], 6) for p in points],
        "v": [p[1] for p in points],
    }


def zug(ident: str, name: str, out: str, fader: float, pan: float, **more: Any) -> Item:
    """A mono audio track with whatever differs from the plain one."""
    made: Item = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": 1,
        "plays": ["audio"],
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
    if out in {"git1", "ges"}:
        made["parent"] = out
    made.update(more)
    return made


def bus(ident: str, name: str, kind: str, fader: float, inserts: list[Item], **more: Any) -> Item:
    """A stereo group or return into the sum."""
    return zug(ident, name, "summe", fader, 0.0, kind=kind, legs=2, plays=[], inserts=inserts, **more)


def gitarren() -> list[Item]:
    """Three signals of the plucked guitar, their group, the second guitar."""
    ride = fahrt(
        "fader",
        "dB",
        "linear",
        (0.0, -2.0),
        (takt(10), -2.0),
        (takt(11), -3.5),
        (takt(35), -3.5),
        (takt(35, 2.0), -2.0),
        (takt(38, 3.0), -2.0),
        (takt(39), -3.5),
        (takt(63), -3.5),
        (takt(64), -5.0),
        (takt(78), -5.0),
        (takt(79), -3.0),
        (takt(87), -3.5),
        (takt(99), -3.5),
        (takt(101), -1.5),
    )
    return [
        zug(
            "hals",
            "Git 1 Hals",
            "git1",
            -8.0,
            -70.0,
            inserts=[eq(hoch(80.0), band("bell", 240.0, -2.0), band("high-shelf", 9000.0, 1.5))],
            clips=gezupft("Hals"),
        ),
        zug(
            "korpus",
            "Git 1 Korpus",
            "git1",
            -9.0,
            -20.0,
            inserts=[eq(hoch(70.0), band("bell", 180.0, -3.0, 1.4))],
            clips=gezupft("Korpus"),
        ),
        zug(
            "pickup",
            "Git 1 Pickup",
            "git1",
            -18.0,
            -45.0,
            inserts=[eq(hoch(110.0), band("bell", 1600.0, -3.0, 1.2)), komp(-22.0, 3.0, 5.0, 90.0, 1.0)],
            clips=gezupft("Pickup", NUDGE),
            comment="alle Clips 1,4 ms nach hinten geschoben, passt zu Hals/Korpus",
        ),
        bus(
            "git1",
            "GITARRE 1",
            "group",
            -2.0,
            [komp(-18.0, 1.6, 25.0, 180.0, 0.5)],
            sends=[send("raum", -14.0), send("platte", -22.0)],
            automation=[ride],
        ),
        zug(
            "git2",
            "Git 2",
            "summe",
            -11.0,
            55.0,
            inserts=[eq(hoch(95.0), band("bell", 220.0, -2.5), band("high-shelf", 8000.0, 1.0))],
            sends=[send("raum", -13.0), send("platte", -22.0)],
            clips=zweite("git2", "Git2"),
            automation=[
                fahrt(
                    "fader",
                    "dB",
                    "linear",
                    (0.0, -11.0),
                    (takt(63), -11.0),
                    (takt(64), -13.0),
                    (takt(78), -13.0),
                    (takt(83), -11.0),
                )
            ],
            comment="gegenueber von Git 1",
        ),
        zug(
            "git2pu",
            "Git 2 Pickup",
            "summe",
            -20.0,
            55.0,
            mute=True,
            clips=zweite("git2pu", "Git2 PU"),
            comment="brummt, nicht verwenden",
        ),
    ]


def gesang() -> list[Item]:
    """Two voices and their group, the guide, the click."""
    mara_ride = fahrt(
        "fader",
        "dB",
        "linear",
        (0.0, -6.0),
        (takt(27), -6.0),
        (takt(28), -6.8),
        (takt(51), -7.5),
        (takt(55), -6.8),
        (takt(79), -6.0),
        (takt(87), -6.5),
        (takt(99), -6.5),
        (takt(100), -5.5),
    )
    mara_platte = fahrt("send:1:level", "dB", "hold", (0.0, -17.0), (takt(79), -14.5), (takt(87), -17.0))
    jonte_ride = fahrt(
        "fader",
        "dB",
        "linear",
        (0.0, -9.0),
        (takt(38), -9.0),
        (takt(39), -6.5),
        (takt(51), -6.5),
        (takt(55), -9.0),
        (takt(95), -8.5),
    )
    return [
        zug(
            "mara",
            "Ges. Mara",
            "ges",
            -6.0,
            -10.0,
            inserts=[
                eq(hoch(95.0), band("bell", 260.0, -2.0, 1.2), band("bell", 3200.0, 1.0)),
                komp(-20.0, 2.5, 12.0, 140.0, 2.0),
                deesser(7200.0),
            ],
            sends=[send("raum", -16.0), send("platte", -17.0)],
            clips=zeilen("Mara", "mara", MARA),
            automation=[mara_ride, mara_platte],
        ),
        zug(
            "jonte",
            "Ges. Jonte",
            "ges",
            -9.0,
            12.0,
            inserts=[
                eq(hoch(80.0), band("bell", 210.0, -2.5, 1.2), band("bell", 2800.0, 1.5)),
                komp(-20.0, 2.5, 12.0, 140.0, 2.0),
                deesser(6400.0),
            ],
            sends=[send("raum", -16.0), send("platte", -17.0)],
            clips=zeilen("Jonte", "jonte", JONTE),
            automation=[jonte_ride],
        ),
        bus(
            "ges",
            "GESANG",
            "group",
            -1.0,
            [eq(band("high-shelf", 11000.0, 1.2)), komp(-16.0, 1.5, 20.0, 200.0, 0.5)],
        ),
        zug(
            "pilot",
            "Pilot",
            "summe",
            -8.0,
            0.0,
            mute=True,
            clips=[clip("Pilot Ges", "pilot", (takt(10), takt(105)), takt(10))],
            comment="Mara, nur zum Einspielen, bleibt stumm",
        ),
        zug(
            "klick",
            "Klick",
            "summe",
            -14.0,
            0.0,
            mute=True,
            plays=["notes"],
            inserts=[{"name": "Metronom", "kind": "instrument", "on": True, "opaque": True}],
            clips=[{"start_s": 0.0, "end_s": takt(105), "name": "Klick 3/4", "plays": "notes", "file": None}],
            comment="stumm",
        ),
    ]


def cello() -> Item:
    """The overdub, muted by automation between its entries."""
    mutes = fahrt(
        "mute",
        "switch",
        "hold",
        (0.0, 1.0),
        (takt(27) - 0.2, 0.0),
        (takt(39) + 0.1, 1.0),
        (takt(55) - 0.2, 0.0),
        (takt(79) + 0.1, 1.0),
        (takt(87) - 0.2, 0.0),
    )
    ride = fahrt(
        "fader",
        "dB",
        "linear",
        (0.0, -13.0),
        (takt(35), -13.0),
        (takt(36), -11.0),
        (takt(39), -11.0),
        (takt(55), -13.0),
        (takt(62, 3.0), -13.0),
        (takt(63), -7.5),
        (takt(75), -7.0),
        (takt(79), -8.5),
        (takt(87), -12.5),
        (takt(99), -12.5),
        (takt(102), -10.0),
    )
    return zug(
        "cello",
        "Cello",
        "summe",
        -13.0,
        18.0,
        inserts=[
            eq(hoch(60.0), band("bell", 320.0, -1.5), band("bell", 2400.0, -1.0)),
            komp(-22.0, 2.0, 20.0, 220.0, 1.5),
        ],
        sends=[send("raum", -15.0), send("platte", -12.0)],
        clips=cello_clips(),
        automation=[mutes, ride],
        comment="zwischen den Einsaetzen stummgefahren (Stuhl knarzt)",
    )


def hallwege() -> list[Item]:
    """The two returns, wholly wet."""
    return [
        bus(
            "raum",
            "Hall Raum",
            "return",
            -9.0,
            [
                insert("Raum", "reverb", wet=100.0, pre_delay_ms=8.0, parameters=[par("Nachhall", 0.9, "s")]),
                eq(hoch(160.0), band("high-shelf", 7000.0, -2.0)),
            ],
        ),
        bus(
            "platte",
            "Hall Platte",
            "return",
            -10.0,
            [
                insert("Platte", "reverb", wet=100.0, pre_delay_ms=32.0, parameters=[par("Nachhall", 2.1, "s")]),
                eq(hoch(250.0), band("high-shelf", 8500.0, -1.5)),
            ],
        ),
    ]


def media() -> list[Item]:
    """The recordings."""
    rows = [
        ("Hals_T3", "Audio/Git1_Hals_T3.wav", 229.4),
        ("Korpus_T3", "Audio/Git1_Korpus_T3.wav", 229.4),
        ("Pickup_T3", "Audio/Git1_Pickup_T3.wav", 229.4),
        ("Hals_T5", "Audio/Git1_Hals_T5.wav", 231.8),
        ("Korpus_T5", "Audio/Git1_Korpus_T5.wav", 231.8),
        ("Pickup_T5", "Audio/Git1_Pickup_T5.wav", 231.8),
        ("git2", "Audio/Git2_Mik_Comp.wav", 228.1),
        ("git2pu", "Audio/Git2_Pickup_Comp.wav", 228.1),
        ("mara", "Audio/Mara_Comp_B.wav", 226.0),
        ("jonte", "Audio/Jonte_Comp_A.wav", 226.5),
        ("pilot", "Audio/Pilot_Mara.wav", 227.2),
        ("cello_r", "Audio/Cello_Refrains_T2.wav", 227.9),
        ("cello_s", "Audio/Cello_Solo_T4.wav", 46.3),
    ]
    return [
        {
            "id": ident,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for ident, path, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    summe = bus(
        "summe",
        "Summe",
        "master",
        0.0,
        [
            eq(hoch(22.0), band("high-shelf", 12000.0, 0.6)),
            komp(-12.0, 1.4, 30.0, 250.0, 0.0),
            insert("Pegelanzeige", "analyser"),
        ],
        comment="kein Limiter, geht ins Mastering",
    )
    del summe["output"]
    return {
        "format": "mixlint-session/1",
        "title": "Lied vom Wehr, Mischung C",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 3, "unit": 4}]},
        "markers": [
            {"time_s": 0.0, "name": "Vorzaehler"},
            *[{"time_s": takt(span[0]), "name": name} for name, span in TEILE.items()],
            {"time_s": takt(107), "name": "Ende"},
        ],
        "channels": [*gitarren(), *gesang(), cello(), *hallwege(), summe],
        "media": media(),
        "metadata": {"Stand": "Mischung C", "Abgabe": "96 kHz / 24 bit ans Mastering, ohne Limiter"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def part(session: Session, name: str, start: str) -> Item:
    """The clip of a channel at the start of a section."""
    near = schnitt(start, start)[0]
    found: Item = min(channel(session, name)["clips"], key=lambda c: abs(float(c["start_s"]) - near))
    return found


def same_side(session: Session) -> None:
    """The sign of the second guitar's pan got lost."""
    channel(session, "Git 2")["pan"] = -55.0


def shouted_line(session: Session) -> None:
    """A clip gain was meant as 0.9 and typed as 9."""
    next(c for c in channel(session, "Ges. Mara")["clips"] if c["name"] == "Mara S3 Z2")["gain_db"] = 9.0


def other_take(session: Session) -> None:
    """One of the three guitar signals was left on the other take."""
    found = part(session, "Git 1 Korpus", "Strophe 2")
    found["file"], found["name"] = "Korpus_T3", "Git1 Korpus T3"


def not_nudged(session: Session) -> None:
    """One clip of the pick-up was put back to where it was recorded."""
    found = part(session, "Git 1 Pickup", "Refrain 2")
    found["offset_s"] = found["start_s"]


def half_dry_room(session: Session) -> None:
    """The room's mix control stands at an insert's value."""
    channel(session, "Hall Raum")["inserts"][0]["wet"] = 30.0


def thin_voice(session: Session) -> None:
    """The high-pass of the second voice has a nought too many."""
    channel(session, "Ges. Jonte")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 800.0


def ending_cut(session: Session) -> None:
    """The second guitar's last clip was trimmed before it has rung out."""
    last = channel(session, "Git 2")["clips"][-1]
    last["end_s"], last["fade_out_s"] = takt(102, 2.0), 0.005


def solo_elsewhere(session: Session) -> None:
    """The cello solo is played from a download folder."""
    file = next(f for f in session["media"] if f["id"] == "cello_s")
    file["path"], file["place"] = "/home/regie2/Downloads/Cello_Solo_T4.wav", "outside"


def guide_heard(session: Session) -> None:
    """The guide was opened for comparing and stayed open."""
    channel(session, "Pilot")["mute"] = False


def past_the_group(session: Session) -> None:
    """The pick-up goes to the sum, past its group."""
    channel(session, "Git 1 Pickup")["output"] = "summe"


def cello_never_back(session: Session) -> None:
    """The last point of the cello's mute lane is gone."""
    lane = channel(session, "Cello")["automation"][0]
    lane["t"].pop()
    lane["v"].pop()


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Pilot", "Klick"], "why": "guide and click, muted on purpose"},
    {"channels": ["Git 2 Pickup"], "why": "muted spare, hums"},
    {"channels": ["Cello"], "why": "muted by automation between its entries; its solo stands well above its refrains"},
    {"channels": ["Git 1 Pickup"], "why": "every clip is nudged by 1.4 ms to meet the microphones"},
    {"channels": ["Summe"], "why": "no limiter, the mix goes to mastering"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "same-side",
        "class": "place",
        "channels": ["Git 2"],
        "grade": "look",
        "says": "Git 2 is panned 55 to the left, where all of guitar 1 is; by its comment it belongs opposite.",
        "plant": same_side,
    },
    {
        "id": "shouted-line",
        "class": "level",
        "channels": ["Ges. Mara"],
        "grade": "hold",
        "says": "The clip 'Mara S3 Z2' has a gain of +9 dB while all her other lines lie between -1.5 and +1.5 dB.",
        "plant": shouted_line,
    },
    {
        "id": "other-take",
        "class": "edits",
        "channels": ["Git 1 Korpus"],
        "grade": "hold",
        "says": "In Strophe 2 Git 1 Korpus plays take 3, Hals and Pickup of the same guitar play take 5.",
        "plant": other_take,
    },
    {
        "id": "not-nudged",
        "class": "phase",
        "channels": ["Git 1 Pickup"],
        "grade": "look",
        "says": "From Refrain 2 to the solo the pick-up lacks the shift of 1.4 ms of its other clips; it combs.",
        "plant": not_nudged,
    },
    {
        "id": "half-dry-room",
        "class": "ambience",
        "channels": ["Hall Raum"],
        "grade": "hold",
        "says": "The reverb of the return Hall Raum is only 30 % wet, so dry signal comes back beside every channel.",
        "plant": half_dry_room,
    },
    {
        "id": "thin-voice",
        "class": "processors",
        "channels": ["Ges. Jonte"],
        "grade": "hold",
        "says": "The high-pass of Jonte's voice stands at 800 Hz, that of Mara at 95 Hz; surely 80 Hz was meant.",
        "plant": thin_voice,
    },
    {
        "id": "ending-cut",
        "class": "end",
        "channels": ["Git 2"],
        "grade": "hold",
        "says": "Git 2 breaks off with a 5 ms fade in bar 102 while guitar 1 and cello ring on to bar 105.",
        "plant": ending_cut,
    },
    {
        "id": "solo-elsewhere",
        "class": "hand-over",
        "channels": ["Cello"],
        "grade": "look",
        "says": "The cello solo's file lies in a download folder outside the session and would not travel with it.",
        "plant": solo_elsewhere,
    },
    {
        "id": "guide-heard",
        "class": "audible-that-should-not-be",
        "channels": ["Pilot"],
        "grade": "hold",
        "says": "The guide vocal is not muted, although its comment says that it stays silent.",
        "plant": guide_heard,
    },
    {
        "id": "past-the-group",
        "class": "routing",
        "channels": ["Git 1 Pickup"],
        "grade": "look",
        "says": "The pick-up goes straight to the sum, so it misses GITARRE 1 with its ride, compressor and reverb.",
        "plant": past_the_group,
    },
    {
        "id": "cello-never-back",
        "class": "inaudible",
        "channels": ["Cello"],
        "grade": "hold",
        "says": "The cello is muted after the solo, never opened again, although it plays in Refrain 3 and the ending.",
        "plant": cello_never_back,
    },
]
