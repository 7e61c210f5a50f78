"""Lettere dal pontile: an orchestral-pop ballad, mixed by an Italian engineer in the box.

The rhythm section was cut to a click in a small studio, the string orchestra overdubbed in a hall in two passes (verse
to second chorus, bridge to the end) with a main tree, wings and a spot for each section, the harp at the player's
home, the choir pads played on a sampler and printed. The metre map has one bar of two before the last chorus and the
tempo is stepped by section. The spots are delayed to the tree by their distance; the choir bus is shut between its
entries; the singer's bridge goes through a telephone filter. Groups are written with BUS in front.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Window = tuple[str, str, float, float]

RATE = 48000.0
SPEED_OF_SOUND = 343.0
SHORT_BAR = 59
TEMPOS: list[tuple[int, float]] = [
    (1, 72.0),
    (23, 74.0),
    (31, 72.0),
    (43, 74.0),
    (51, 66.0),
    (60, 76.0),
    (76, 70.0),
]
MARKS: list[tuple[int, str]] = [
    (1, "Stacco"),
    (3, "Intro"),
    (7, "Strofa 1"),
    (23, "Rit 1"),
    (31, "Strofa 2"),
    (43, "Rit 2"),
    (51, "Ponte (a 66)"),
    (59, "2/4"),
    (60, "Rit 3 (a 76)"),
    (76, "Coda"),
    (82, "Accordo finale"),
    (84, "Fine"),
]


def beat_of(bar: float, beat: float = 0.0) -> float:
    """The beat, counted from the start, at which a bar begins, some beats on."""
    lost = 2.0 if bar > SHORT_BAR else 0.0
    return (bar - 1.0) * 4.0 - lost + beat


def at(bar: float, beat: float = 0.0) -> float:
    """The second at which a bar begins, some beats on."""
    goal = beat_of(bar, beat)
    passed = 0.0
    for n, (first, bpm) in enumerate(TEMPOS):
        here = beat_of(first)
        after = beat_of(TEMPOS[n + 1][0]) if n + 1 < len(TEMPOS) else goal
        if goal <= after or n + 1 == len(TEMPOS):
            return round(passed + (goal - here) * 60.0 / bpm, 4)
        passed += (after - here) * 60.0 / bpm
    return round(passed, 4)


def clip(name: str, file: str | None, a: float, b: float, fin: float, fout: float, rolled: float = 0.0) -> Session:
    """A piece of a file whose recording began at a given second of the song."""
    return {
        "start_s": round(a, 4),
        "end_s": round(b, 4),
        "name": name,
        "plays": "notes" if file is None else "audio",
        "file": file,
        "offset_s": round(a - rolled, 4),
        "speed": 1.0,
        "fade_in_s": fin,
        "fade_out_s": fout,
        "gain_db": 0.0,
        "on": True,
    }


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7) -> Session:
    """One band of an equalizer; a cut at the ends has 12 dB per octave."""
    made: Session = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if kind.endswith("pass"):
        made["slope_db_per_oct"] = 12.0
    return made


def insert(name: str, kind: str, **more: Any) -> Session:
    """A processor whose settings the export shows."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, "wet": 100.0, **more}


def eq(*bands: Session, name: str = "EQ") -> Session:
    """An equalizer."""
    return insert(name, "equalizer", equalizer={"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0})


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> Session:
    """A compressor."""
    return insert(
        "Comp",
        "compressor",
        dynamics={
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": out,
            "auto_makeup": False,
        },
    )


def setting(name: str, value: float | bool | str, unit: str = "") -> Session:
    """One listed setting."""
    return {"id": name.lower().replace(" ", "_"), "name": name, "value": value, "unit": unit}


def send(to: str, level: float) -> Session:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(*steps: tuple[float, float]) -> Session:
    """A fader ride: each new level is reached at its second, within a third of one."""
    times, values = [0.0], [steps[0][1]]
    for when, level in steps[1:]:
        times += [round(when - 0.35, 4), round(when, 4)]
        values += [values[-1], level]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": values}


def switch(target: str, *steps: tuple[float, float]) -> Session:
    """A switch that stays where it was put."""
    return {
        "target": target,
        "scale": "switch",
        "shape": "hold",
        "t": [round(t, 4) for t, _ in steps],
        "v": [v for _, v in steps],
    }


def strip(
    ident: str, name: str, kind: str, legs: int, fader: float, pan: float, to: str | None, **more: Any
) -> Session:
    """A strip with what every strip has."""
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "plays": ["audio"] if kind == "track" else [],
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": to,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
        **more,
    }


def cuts(file: str, windows: list[tuple[str, float, float]], fin: float = 0.01, fout: float = 0.08) -> list[Session]:
    """The same windows cut from one file that ran from the first bar on."""
    return [clip(f"{file}_{part}", file, a, b, fin, fout) for part, a, b in windows]


def drums() -> list[Session]:
    """The drum kit and its bus: in from the first chorus, out in the bridge."""
    windows = [("A", at(22, 2), at(51) + 1.6), ("B", at(59) - 0.02, at(84) + 0.9)]
    low = [eq(band("high-pass", 38), band("bell", 62, 2.0, 1.1), band("bell", 380, -3.0, 1.3)), comp(-16, 4, 18, 110)]
    top = [eq(band("high-pass", 85), band("bell", 195, 1.5, 1.0)), comp(-18, 3, 12, 120, 1.5)]
    flip = insert("Polarita", "utility", parameters=[setting("Inverti", True)])
    over = eq(band("high-pass", 160), band("high-shelf", 11000, 1.5))
    rows: list[tuple[str, str, int, float, float, list[Session], float | None, str]] = [
        ("cassa", "Cassa", 1, -6.0, 0.0, low, None, ""),
        ("rull_sopra", "Rullante sopra", 1, -7.0, -4.0, top, -12.0, ""),
        ("rull_sotto", "Rullante sotto", 1, -15.0, -4.0, [flip, eq(band("high-pass", 220))], None, "girato di fase"),
        ("oh_l", "OH L", 1, -9.0, -85.0, [over], None, "prospettiva batterista"),
        ("oh_r", "OH R", 1, -9.0, 85.0, [eq(*over["equalizer"]["bands"])], None, ""),
        ("sala_batt", "Sala batt", 2, -14.5, 0.0, [comp(-24, 5, 6, 90)], None, ""),
    ]
    made = []
    for ident, name, legs, fader, pan, chain, room, note in rows:
        sends = [send("camera", room)] if room is not None else []
        one = strip(ident, name, "track", legs, fader, pan, "batteria", inserts=chain, sends=sends, comment=note)
        one.update(clips=cuts(ident, windows), folder=["RITMICA", "Batteria"])
        made.append(one)
    bus = strip("batteria", "BUS Batteria", "group", 2, -1.5, 0.0, "ritmica", folder=["RITMICA", "Batteria"])
    bus["inserts"] = [comp(-12, 2, 25, 150, 1.0)]
    return [*made, bus]


def rhythm() -> list[Session]:
    """Bass, guitars, piano and the rhythm bus."""
    bass = strip("basso", "Basso DI", "track", 1, -6.5, 0.0, "ritmica")
    bass["inserts"] = [eq(band("high-pass", 34), band("bell", 240, -2.0, 1.0)), comp(-20, 4, 20, 160, 2.5)]
    bass["clips"] = cuts("basso", [("A", at(15) - 0.05, at(51) + 1.2), ("B", at(59) - 0.05, at(84) + 0.6)])
    steel = strip("chit_ac", "Chit ac", "track", 1, -11.0, 14.0, "ritmica", sends=[send("camera", -16.0)])
    steel["inserts"] = [eq(band("high-pass", 110), band("bell", 210, -2.0, 1.2)), comp(-18, 2.5, 20, 140, 1.5)]
    steel["clips"] = cuts("chit_ac", [("A", at(7) - 0.1, at(51) + 0.9), ("B", at(60) - 0.1, at(82) + 2.6)])
    electric = []
    swells = [
        ("rit1", at(23) - 0.1, at(31) + 1.4),
        ("str2", at(37) - 0.1, at(51) + 1.4),
        ("rit3", at(60) - 0.1, at(84)),
    ]
    for n, pan, fader in ((1, -62.0, -10.5), (2, 62.0, -11.0)):
        one = strip(f"chit_el_{n}", f"Chit el {n}", "track", 1, fader, pan, "ritmica", sends=[send("eco", -19.0)])
        one["inserts"] = [eq(band("high-pass", 95), band("low-pass", 7800))]
        one["clips"] = cuts(f"chit_el_{n}", swells, 0.02, 0.4)
        electric.append(one)
    grand = []
    windows = [("A", at(3) - 0.1, at(31) + 0.5), ("B", at(31, 1), at(84) + 1.2)]
    for side, pan in (("L", -70.0), ("R", 70.0)):
        one = strip(
            f"piano_{side.lower()}", f"Piano {side}", "track", 1, -8.0, pan, "ritmica", sends=[send("hall", -22)]
        )
        one["inserts"] = [eq(band("high-pass", 45), band("bell", 300, -1.5, 0.9))]
        one["clips"] = cuts(f"piano_{side.lower()}", windows, 0.02, 0.4)
        grand.append(one)
    bus = strip("ritmica", "BUS Ritmica", "group", 2, -2.0, 0.0, "mix", inserts=[comp(-10, 1.6, 30, 200, 0.5)])
    bus["automation"] = [ride((0.0, -2.0), (at(51), -3.0), (at(60), -1.6), (at(82), -2.0))]
    made = [bass, steel, *electric, *grand, bus]
    for one in made:
        one["folder"] = ["RITMICA"]
    return made


def passes(tag: str) -> list[Session]:
    """The two orchestra passes of one microphone, cut together with all the others."""
    rolled_a, rolled_b, seam = at(13), at(49), at(51) - 0.05
    return [
        clip(f"{tag} A str1", f"orch_a_{tag}", at(15) - 0.15, at(31) + 2.2, 0.05, 1.2, rolled_a),
        clip(f"{tag} A str2", f"orch_a_{tag}", at(35) - 0.15, seam + 0.04, 0.05, 0.08, rolled_a),
        clip(f"{tag} B", f"orch_b_{tag}", seam - 0.04, at(84) + 1.2, 0.08, 1.5, rolled_b),
    ]


MAINS: list[tuple[str, str, float, float]] = [
    ("main_l", "Main L", -4.0, -100.0),
    ("main_c", "Main C", -6.5, 0.0),
    ("main_r", "Main R", -4.0, 100.0),
    ("ali_l", "Ali L", -9.0, -100.0),
    ("ali_r", "Ali R", -9.0, 100.0),
]
SPOTS: list[tuple[str, str, float, float, float]] = [
    ("vni_1", "Vni I spot", -11.5, -52.0, 4.1),
    ("vni_2", "Vni II spot", -12.0, -24.0, 5.0),
    ("vle", "Vle spot", -11.0, 20.0, 5.8),
    ("vc", "Vc spot", -12.5, 44.0, 5.5),
    ("cb", "Cb spot", -12.0, 60.0, 7.4),
]


def strings() -> list[Session]:
    """Tree, wings, spots, harp, their bus, and the old mock-up."""
    made = []
    for ident, name, fader, pan in MAINS:
        one = strip(ident, name, "track", 1, fader, pan, "archi", clips=passes(ident), folder=["ARCHI", "Main"])
        one["inserts"] = [eq(band("high-pass", 32), band("high-shelf", 10000, 1.0))]
        one["sends"] = [send("hall", -20.0)]
        made.append(one)
    for ident, name, fader, pan, metres in SPOTS:
        late = round(metres / SPEED_OF_SOUND * 1000.0, 1)
        one = strip(ident, name, "track", 1, fader, pan, "archi", clips=passes(ident), folder=["ARCHI", "Spot"])
        one["inserts"] = [
            insert("Ritardo spot", "utility", parameters=[setting("Ritardo", late, "ms")]),
            eq(band("high-pass", 36 if ident == "cb" else 70), band("bell", 3200, -1.0, 1.0)),
        ]
        one["sends"] = [send("hall", -14.0)]
        one["comment"] = f"{metres} m dal main, ritardo messo per distanza; solo un filo di definizione"
        made.append(one)
    harp = strip("arpa", "Arpa casa", "track", 2, -10.0, 0.0, "archi", folder=["ARCHI"], sends=[send("hall", -11.0)])
    harp["inserts"] = [eq(band("high-pass", 80), band("bell", 450, -2.0, 1.1))]
    harp["clips"] = cuts(
        "arpa",
        [("intro", at(3) - 0.1, at(7) + 2.0), ("ponte", at(51) - 0.2, at(60) + 1.5), ("fine", at(76), at(84) + 1.0)],
        0.02,
        0.6,
    )
    harp["comment"] = "sovraincisa a casa sua, consegnata a 44.1 e convertita"
    bus = strip("archi", "BUS Archi", "group", 2, -1.0, 0.0, "mix", folder=["ARCHI"])
    bus["inserts"] = [eq(band("low-shelf", 180, -1.0), band("bell", 2600, -0.8, 0.8))]
    bus["automation"] = [ride((0.0, -1.0), (at(35), -2.5), (at(43), -1.0), (at(51), 0.5), (at(60), -1.0))]
    mock = strip("provino", "Archi provino (MUTE)", "track", 2, -9.0, 0.0, "archi", mute=True, folder=["ARCHI"])
    mock["clips"] = cuts("provino", [("v2", at(15), at(84))], 0.05, 0.5)
    mock["comment"] = "campioni del provino, tenuti per confronto"
    return [*made, harp, bus, mock]


def sung(windows: list[Window], late: float = 0.0) -> list[Session]:
    """Sung stretches: in before the bar line, out before the next one."""
    return [
        clip(name, file, at(a) - 0.35 + late, at(b) - 0.5 - late, 0.06, 0.15)
        for name, file, a, b in windows
    ]  # fmt: skip


def voices() -> list[Session]:
    """The singer, his double, two harmonies, the bus."""
    lead = strip("voce", "Voce solista", "track", 1, -4.0, 0.0, "voci", sends=[send("plate", -13), send("eco", -21)])
    lead["inserts"] = [
        eq(band("high-pass", 90), band("bell", 260, -2.0, 1.2), band("high-shelf", 9500, 1.5)),
        insert(
            "De-esser", "de-esser", parameters=[setting("Frequenza", 6800.0, "Hz"), setting("Riduzione", 5.0, "dB")]
        ),
        comp(-22, 3, 6, 90, 2.0),
        comp(-16, 2, 30, 250, 1.0),
        {**eq(band("high-pass", 450), band("low-pass", 2800), name="Filtro telefono"), "on": False},
    ]
    lead["clips"] = sung(
        [
            ("voce t3 str1a", "voce_t3", 7, 15),
            ("voce t3 str1b", "voce_t3", 15, 23),
            ("voce t5 rit1", "voce_t5", 23, 31),
            ("voce t3 str2", "voce_t3", 31, 43),
            ("voce t5 rit2", "voce_t5", 43, 51),
            ("voce t6 ponte", "voce_t6", 53, 60),
            ("voce t5 rit3a", "voce_t5", 60, 68),
            ("voce t5 rit3b", "voce_t5", 68, 76),
            ("voce t3 coda", "voce_t3", 77, 82),
        ]
    )
    lead["automation"] = [
        ride((0, -4), (at(23), -3.2), (at(31), -4), (at(43), -3.2), (at(51), -4.4), (at(60), -2.6), (at(76), -4)),
        switch("insert:4:on", (0.0, 0.0), (at(53) - 0.5, 1.0), (at(60) - 0.45, 0.0)),
    ]
    lead["comment"] = "telefono solo nel ponte"
    made = [lead]
    rits: list[tuple[str, int, int]] = [("rit1", 23, 31), ("rit2", 43, 51), ("rit3a", 60, 68), ("rit3b", 68, 76)]
    rows: list[tuple[str, str, float, float, float, int]] = [
        ("doppia", "Voce doppia", -13.0, 0.0, 0.05, 0),
        ("contro_a", "Contro alta", -11.5, -35.0, 0.02, 1),
        ("contro_b", "Contro bassa", -12.0, 35.0, 0.03, 1),
    ]
    for ident, name, fader, pan, late, skip in rows:
        one = strip(ident, name, "track", 1, fader, pan, "voci", sends=[send("plate", -14.0)])
        one["inserts"] = [eq(band("high-pass", 140), band("high-shelf", 8500, -1.0)), comp(-24, 4, 5, 90, 2.5)]
        one["clips"] = sung([(f"{ident} {r}", ident, a, b) for r, a, b in rits[skip:]], late)
        made.append(one)
    bus = strip("voci", "BUS Voci", "group", 2, 0.0, 0.0, "mix", inserts=[comp(-12, 1.8, 20, 180, 0.5)])
    for one in (*made, bus):
        one["folder"] = ["VOCI"]
    return [*made, bus]


def choir() -> list[Session]:
    """The choir pads: the sampler, its print, an airy one, the bus that is shut between."""
    spans = [
        ("rit1", at(23) - 0.1, at(31) + 1.5),
        ("rit2", at(43) - 0.1, at(51) + 1.5),
        ("rit3", at(60) - 0.1, at(84) + 1),
    ]
    live = strip("coro_midi", "Coro pad MIDI", "track", 2, -10.0, 0.0, "coro", mute=True, plays=["notes"])
    live["inserts"] = [insert("Campionatore coro", "instrument", opaque=True)]
    live["clips"] = [clip(f"coro {n}", None, a, b, 0.0, 0.0, a) for n, a, b in spans]
    live["comment"] = "stampato, tenere in mute"
    printed = strip("coro_pad", "Coro pad stampa", "track", 2, -10.0, 0.0, "coro")
    printed["clips"] = cuts("coro_pad", spans, 0.05, 0.8)
    printed["inserts"] = [eq(band("high-pass", 150), band("bell", 900, -1.5, 0.9))]
    airy = strip("coro_aria", "Coro aria", "track", 2, -14.0, 0.0, "coro")
    airy["clips"] = cuts("coro_aria", [("rit3b", at(68) - 0.1, at(84) + 1)], 0.3, 0.8)
    airy["inserts"] = [eq(band("high-pass", 600))]
    bus = strip("coro", "BUS Coro", "group", 2, -3.0, 0.0, "mix", sends=[send("hall", -12.0)])
    bus["automation"] = [
        switch("mute", (0, 1), (at(23, -1), 0), (at(32), 1), (at(43, -1), 0), (at(52), 1), (at(60, -1), 0)),
    ]
    bus["comment"] = "aperto solo dove canta, il campionatore soffia"
    made = [live, printed, airy, bus]
    for one in made:
        one["folder"] = ["CORO"]
    return made


def returns() -> list[Session]:
    """Plate, hall, drum room and echo, all to the mix."""
    plate = insert("Plate", "reverb", pre_delay_ms=35.0, parameters=[setting("Decay", 1.8, "s")])
    hall = insert("Hall grande", "reverb", pre_delay_ms=22.0, parameters=[setting("Decay", 2.9, "s")])
    room = insert("Camera corta", "reverb", pre_delay_ms=4.0, parameters=[setting("Decay", 0.6, "s")])
    echo = insert("Eco", "delay", parameters=[setting("Tempo", "1/4"), setting("Feedback", 22.0, "%")])
    return [
        strip("plate", "Plate voce", "return", 2, -3.0, 0.0, "mix", inserts=[plate, eq(band("high-pass", 220))]),
        strip("hall", "Hall archi", "return", 2, -4.0, 0.0, "mix", inserts=[hall, eq(band("high-pass", 130))]),
        strip("camera", "Camera batt", "return", 2, -6.0, 0.0, "mix", inserts=[room, eq(band("high-pass", 180))]),
        strip("eco", "Eco 1/4", "return", 2, -5.0, 0.0, "mix", inserts=[echo, eq(band("low-pass", 4200))]),
    ]


def media(channels: list[Session]) -> list[Session]:
    """The files: rhythm and voices whole, the orchestra by passes."""
    lengths = {"orch_a": 131.62, "orch_b": 121.07}
    own = {"voce_t3": 279.4, "voce_t5": 277.9, "voce_t6": 203.2, "arpa": 281.3, "provino": 278.0, "click": 276.0}
    folders = {"orch_a": "Orchestra/PassA", "orch_b": "Orchestra/PassB"}
    made: dict[str, Session] = {}
    for one in channels:
        for part in one["clips"]:
            file = part["file"]
            if file is None or file in made:
                continue
            path = "arpa_casa_48k" if file == "arpa" else file
            made[file] = {
                "id": file,
                "path": f"Audio/{folders.get(file[:6], 'Tracce')}/{path}.wav",
                "place": "inside",
                "present": True,
                "legs": one["legs"],
                "sample_rate_hz": RATE,
                "duration_s": own.get(file, lengths.get(file[:6], 280.6)),
            }
    return list(made.values())


def good() -> Session:
    """The session as it should be bounced."""
    click = strip("click", "Click cuffie", "track", 1, -6.0, 0.0, None, comment="solo per le cuffie, senza uscita")
    click["clips"] = cuts("click", [("map4", 0.0, at(84))])
    mix = strip("mix", "Mix", "master", 2, 0.0, 0.0, None)
    del mix["output"]
    ceiling = {"threshold_db": -1.0, "release_ms": 120.0, "output_gain_db": 0.0, "auto_makeup": False}
    mix["inserts"] = [
        eq(band("low-shelf", 90, 0.5), band("high-shelf", 12000, 1.0)),
        comp(-9, 1.5, 30, 250, 0.5),
        insert("Limiter", "limiter", dynamics=ceiling),
        insert("Correzione cuffia", "monitor", opaque=True, on=False),
    ]
    mix["comment"] = "correzione cuffia solo per ascolto di notte, spenta in bounce"
    channels = [*drums(), *rhythm(), *strings(), *voices(), *choir(), *returns(), click, mix]
    return {
        "format": "mixlint-session/1",
        "title": "Lettere dal pontile - mix 07",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat_of(bar), "bpm": bpm} for bar, bpm in TEMPOS],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": beat_of(59), "beats": 2, "unit": 4},
                {"beat": beat_of(60), "beats": 4, "unit": 4},
            ],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in MARKS],
        "channels": channels,
        "media": media(channels),
        "metadata": {"versione": "07", "arrangiamento": "archi in due passate"},
    }


def channel(session: Session, name: str) -> Session:
    """The channel of a name."""
    found: Session = next(c for c in session["channels"] if c["name"] == name)
    return found


def bridge_tempo(session: Session) -> None:
    """The bridge's tempo was mistyped."""
    next(t for t in session["timeline"]["tempos"] if t["bpm"] == 66.0)["bpm"] = 69.0


def tree_crossed(session: Session) -> None:
    """The outer microphones of the tree are panned crosswise."""
    left, right = channel(session, "Main L"), channel(session, "Main R")
    left["pan"], right["pan"] = right["pan"], left["pan"]


def hall_in_voices(session: Session) -> None:
    """The hall comes back into the voices' bus."""
    channel(session, "Hall archi")["output"] = "voci"


def telephone_stays(session: Session) -> None:
    """The filter's switching off after the bridge is lost."""
    lane = channel(session, "Voce solista")["automation"][1]
    lane["t"].pop()
    lane["v"].pop()


def click_out(session: Session) -> None:
    """The click got an output for a playback and kept it."""
    channel(session, "Click cuffie")["output"] = "mix"


def choir_live(session: Session) -> None:
    """The sampler sounds together with its print."""
    channel(session, "Coro pad MIDI")["mute"] = False


def cello_early(session: Session) -> None:
    """The point slipped in the cellos' delay."""
    channel(session, "Vc spot")["inserts"][0]["parameters"][0]["value"] = 1.6


def choir_shut(session: Session) -> None:
    """The third opening of the choir's bus is lost."""
    lane = channel(session, "BUS Coro")["automation"][0]
    lane["t"].pop()
    lane["v"].pop()


def harp_raw(session: Session) -> None:
    """The harp plays the file as it was delivered."""
    file = next(m for m in session["media"] if m["id"] == "arpa")
    file.update(path=file["path"].replace("_48k", ""), sample_rate_hz=44100.0)


def correction_on(session: Session) -> None:
    """The headphone correction is on."""
    channel(session, "Mix")["inserts"][3]["on"] = True


def basses_loud(session: Session) -> None:
    """The basses' spot stands ten decibels too high."""
    channel(session, "Cb spot")["fader_db"] = -1.2


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Coro pad MIDI"], "why": "the live instrument is kept, muted, beside its print"},
    {"channels": ["Click cuffie"], "why": "a playing track that goes nowhere, since it was only for the headphones"},
    {"channels": ["Mix"], "why": "a headphone correction stands, switched off, behind the limiter"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "bridge-tempo",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The map has 69 bpm from bar 51, the marker says 66, and from Rit 3 on the markers miss the bars.",
        "plant": bridge_tempo,
    },
    {
        "id": "tree-crossed",
        "class": "place",
        "channels": ["Main L", "Main R"],
        "grade": "hold",
        "says": "Main L is panned right and Main R left, against their names, the wings and the seating of the spots.",
        "plant": tree_crossed,
    },
    {
        "id": "hall-into-voices",
        "class": "routing",
        "channels": ["Hall archi"],
        "grade": "look",
        "says": "Hall archi returns into BUS Voci and its compressor, all other returns go to Mix.",
        "plant": hall_in_voices,
    },
    {
        "id": "telephone-stays-on",
        "class": "automation",
        "channels": ["Voce solista"],
        "grade": "hold",
        "says": "The telephone filter goes on in the bridge and never off, so Rit 3 and Coda are sung through it.",
        "plant": telephone_stays,
    },
    {
        "id": "click-in-mix",
        "class": "audible-that-should-not-be",
        "channels": ["Click cuffie"],
        "grade": "hold",
        "says": "Click cuffie goes to Mix though its comment says headphones only and no output.",
        "plant": click_out,
    },
    {
        "id": "choir-live-and-print",
        "class": "twice",
        "channels": ["Coro pad MIDI", "Coro pad stampa"],
        "grade": "hold",
        "says": "Coro pad MIDI is not muted and plays the same stretches as its print; the comment asks for the mute.",
        "plant": choir_live,
    },
    {
        "id": "cello-spot-delay",
        "class": "phase",
        "channels": ["Vc spot"],
        "grade": "look",
        "says": "Vc spot is delayed by 1.6 ms; at 5.5 m from the main it needs 16, as its neighbours have 12 to 22.",
        "plant": cello_early,
    },
    {
        "id": "choir-stays-shut",
        "class": "inaudible",
        "channels": ["BUS Coro"],
        "grade": "hold",
        "says": "The mute of BUS Coro is not opened for Rit 3, so the pads there and in the Coda are not heard.",
        "plant": choir_shut,
    },
    {
        "id": "harp-unconverted",
        "class": "files",
        "channels": ["Arpa casa"],
        "grade": "look",
        "says": "Arpa casa plays a 44.1 kHz file in a 48 kHz session; the comment says that it was converted.",
        "plant": harp_raw,
    },
    {
        "id": "headphone-correction-on",
        "class": "hand-over",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The headphone correction on Mix is on behind the limiter and would be printed into the bounce.",
        "plant": correction_on,
    },
    {
        "id": "bass-spot-loud",
        "class": "level",
        "channels": ["Cb spot"],
        "grade": "look",
        "says": "Cb spot stands at -1.2 dB, all other spots between -11 and -12.5, above even the main microphones.",
        "plant": basses_loud,
    },
]
