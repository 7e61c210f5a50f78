"""Electronic cumbia in Spanish: programmed drums and bass, two stretched loops, hand percussion, four horns, voices.

Written at home at 92, pushed to 96 from the bridge on. The loops are four bars at 90 and are stretched to the tempo
that holds; everything played by hand was recorded along the finished map, each file beginning at bar 1. Horns and choir
were done in one afternoon each, cut alike from section to section. Channels nest under their groups, the unused
ones lie in a folder of their own. One short room for what is struck or blown, one plate for voices, one tempo-locked
echo that runs on into the plate.
"""

from __future__ import annotations

from typing import Any

Sesion = dict[str, Any]
Nodo = dict[str, Any]

RATE = 44100.0
LARGO = 224.5
TEMPO_A = 92.0
TEMPO_B = 96.0
TEMPO_BUCLE = 90.0
CAMBIO = 57

SECCIONES = [
    (1, "Intro"),
    (9, "Estrofa 1"),
    (25, "Coro 1"),
    (33, "Gancho"),
    (41, "Estrofa 2"),
    (49, "Coro 2"),
    (57, "Puente (96)"),
    (65, "Coro 3"),
    (81, "Final"),
    (83, "golpe final"),
    (85, "FIN"),
]


def at(bar: float, beat: float = 1.0) -> float:
    """Seconds of a bar and beat over both tempos."""
    beats = (bar - 1.0) * 4.0 + beat - 1.0
    first = (CAMBIO - 1) * 4.0
    return round(min(beats, first) * 60.0 / TEMPO_A + max(beats - first, 0.0) * 60.0 / TEMPO_B, 6)


def clip(file: str | None, start: float, end: float, name: str, **more: Any) -> Nodo:
    """A clip; audio reads its file from the same time on, notes have no file."""
    made: Nodo = {"start_s": round(start, 6), "end_s": round(end, 6), "name": name, "gain_db": 0.0, "on": True}
    if file is None:
        made |= {"plays": "notes", "file": None}
    else:
        made |= {"plays": "audio", "file": file, "offset_s": round(start, 6), "speed": 1.0}
        made |= {"fade_in_s": 0.01, "fade_out_s": 0.04}
    return made | more


def notes(name: str, *bars: tuple[float, float]) -> list[Nodo]:
    """Note clips from bar to bar."""
    return [clip(None, at(a), at(b), f"{name} {n}") for n, (a, b) in enumerate(bars, start=1)]


def played(file: str, *bars: tuple[float, float], early: float = 0.06) -> list[Nodo]:
    """Clips of something played by hand, opened a little before the bar; the last one may ring."""
    made = [
        clip(file, max(at(a) - early, 0.0), at(b) - 0.1, f"{file}_{n:02d}") for n, (a, b) in enumerate(bars, start=1)
    ]
    if bars[-1][1] > 83.0:
        made[-1] |= {"end_s": at(84, 3), "fade_out_s": 1.2}
    return made


def loop(file: str, *bars: tuple[int, int]) -> list[Nodo]:
    """A loop of four bars, laid end to end and stretched to the tempo that holds."""
    made = []
    for first, last in bars:
        for bar in range(first, last, 4):
            speed = round((TEMPO_A if bar < CAMBIO else TEMPO_B) / TEMPO_BUCLE, 6)
            one = clip(file, at(bar), at(bar + 4), f"{file} x4", offset_s=0.0, speed=speed)
            made.append(one | {"fade_in_s": 0.002, "fade_out_s": 0.004})
    return made


def shots(file: str, length: float, *starts: float) -> list[Nodo]:
    """One-shots from the head of their file."""
    return [clip(file, s, s + length, file, offset_s=0.0, fade_out_s=0.2) for s in starts]


def banda(kind: str, freq: float, gain: float = 0.0, q: float = 0.8) -> Nodo:
    """An equalizer band."""
    made: Nodo = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    return made | ({"slope_db_per_oct": 12.0} if kind.endswith("pass") else {})


def insert(name: str, kind: str, **more: Any) -> Nodo:
    """A processor; opaque unless settings are given."""
    return {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": not more} | more


def eq(*bands: Nodo) -> Nodo:
    """An equalizer."""
    return insert("EQ", "equalizer", equalizer={"bands": list(bands)})


def comp(threshold: float, ratio: float, attack: float, release: float, out: float) -> Nodo:
    """A compressor."""
    return insert(
        "Compresor",
        "compressor",
        dynamics={
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": out,
        },
    )


def puerta() -> Nodo:
    """The gate of the two drums that stood in one booth."""
    settings = {"threshold_db": -36.0, "attack_ms": 0.5, "release_ms": 90.0, "range_db": -12.0}
    return insert("Puerta", "gate", dynamics=settings)


def envio(to: str, level: float) -> Nodo:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def nivel(first: float, *moves: tuple[float, float]) -> Nodo:
    """A fader ride in steps of a tenth of a second."""
    times, levels = [0.0], [first]
    for when, level in moves:
        times += [round(when - 0.1, 6), round(when, 6)]
        levels += [levels[-1], level]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": levels}


def canal(
    ident: str, name: str, kind: str, to: str | None, fader: float, pan: float = 0.0, legs: int = 1, **more: Any
) -> Nodo:
    """A channel without anything in it."""
    made: Nodo = {"id": ident, "name": name, "kind": kind, "legs": legs, "fader_db": fader, "pan": pan}
    made |= {"mute": False, "solo": False, "output": to, "sends": [], "inserts": [], "clips": [], "automation": []}
    return made | more


def pista(to: str, ident: str, name: str, fader: float, pan: float, clips: list[Nodo], **more: Any) -> Nodo:
    """An audio or note track that nests under the group it goes to."""
    plays = sorted({c["plays"] for c in clips})
    return canal(ident, name, "track", to, fader, pan, parent=to, plays=plays, clips=clips) | more


def percusion() -> list[Nodo]:
    """Programmed kit, loops, hand drums and shakers."""
    hand = ((9, 25), (25, 41), (41, 57), (65, 84.5))
    loop_text = "bucle de 4 compases a 90, estirado al tempo"
    return [
        pista("percu", "bombo", "Bombo", -6.0, 0.0, notes("bombo", (5, 25), (25, 41), (41, 57), (65, 83.25)), legs=2,
              inserts=[insert("Muestreador", "instrument"), eq(banda("bell", 56.0, 2.0), banda("bell", 320.0, -3.0))]),
        pista("percu", "caja", "Caja", -9.5, 0.0, notes("caja", (9, 25), (25, 41), (41, 57), (65, 83.25)), legs=2,
              inserts=[insert("Muestreador", "instrument"), eq(banda("high-pass", 110.0))],
              sends=[envio("sala", -14.0)]),
        pista("percu", "loop_g", "Loop guacha", -14.0, 0.0, loop("bucle_guacha90", (1, 57), (57, 81)), legs=2,
              comment=loop_text, inserts=[eq(banda("high-pass", 400.0))],
              automation=[nivel(-14.0, (at(25), -15.5), (at(41), -14.0), (at(49), -15.5), (at(57), -13.0),
                                (at(65), -15.5))]),
        pista("percu", "loop_a", "Loop alegre", -15.0, 0.0, loop("bucle_alegre90", (25, 41), (49, 57), (57, 81)),
              legs=2, comment=loop_text, inserts=[eq(banda("high-pass", 130.0), banda("bell", 500.0, -2.0))]),
        pista("percu", "guacha", "Guacharaca", -15.5, -35.0, played("guacharaca", (25, 41), (49, 57), (65, 83)),
              comment="de verdad, encima del bucle en los coros", inserts=[eq(banda("high-pass", 350.0))],
              sends=[envio("sala", -16.0)]),
        pista("percu", "conga", "Conga", -11.0, 25.0, played("conga", *hand),
              inserts=[puerta(), eq(banda("high-pass", 90.0)), comp(-18.0, 3.0, 12.0, 110.0, 1.5)],
              sends=[envio("sala", -16.0)]),
        pista("percu", "tumba", "Tumba", -10.5, 40.0, played("tumba", *hand),
              inserts=[puerta(), eq(banda("high-pass", 65.0)), comp(-18.0, 3.0, 14.0, 120.0, 1.5)],
              sends=[envio("sala", -16.0)]),
        pista("percu", "marac", "maracas", -19.0, 50.0, played("maracas", (25, 33), (33, 41), (49, 57), (65, 83)),
              inserts=[eq(banda("high-pass", 600.0))]),
        pista("percu", "plato", "Platillo rev", -16.0, 0.0,
              shots("platillo_rev", 2.5, *(at(bar) - 2.5 for bar in (9, 25, 49, 65))), legs=2,
              comment="al revés, acaba en el uno"),
    ]  # fmt: skip


def armonia() -> list[Nodo]:
    """Basses, accordion, guitar, keys."""
    return [
        pista("bajos", "b_sint", "Bajo sint", -8.0, 0.0,
              notes("bajo", (9, 25), (25, 41), (41, 57), (57, 65), (65, 83.5)), legs=2,
              comment="lleva la canción entera",
              inserts=[insert("Sinte", "instrument"), eq(banda("low-pass", 2400.0)),
                               comp(-16.0, 4.0, 10.0, 90.0, 1.0)]),
        pista("bajos", "b_di", "Bajo DI", -13.0, 0.0, played("bajo_di", (25, 41), (49, 57), (65, 84.5)),
              comment="dedo, sólo coros y gancho", inserts=[eq(banda("high-pass", 100.0), banda("bell", 900.0, 2.0))]),
        pista("armo", "acord", "Acordeón", -10.0, 12.0, played("acordeon", (1, 9), (33, 41), (57, 65), (65, 84.5)),
              legs=2, inserts=[eq(banda("high-pass", 120.0), banda("bell", 1800.0, -1.5)),
                               comp(-17.0, 2.5, 20.0, 150.0, 1.0)],
              sends=[envio("sala", -15.0), envio("eco", -20.0)],
              automation=[nivel(-10.0, (at(65), -13.0), (at(81), -9.5))]),
        pista("armo", "guit", "Guitarra contratiempo", -14.5, -45.0,
              played("guitarra", (9, 25), (25, 41), (41, 57), (65, 84.5)), sends=[envio("sala", -18.0)],
              inserts=[eq(banda("high-pass", 180.0)), insert("Trémolo", "modulation")]),
        pista("armo", "organo", "Órgano", -17.0, 20.0, notes("órgano", (25, 33), (49, 57), (65, 83.5)), legs=2,
              inserts=[insert("Organillo", "instrument"), eq(banda("high-pass", 200.0))]),
        pista("armo", "colchon", "Colchón", -18.5, 0.0, notes("colchón", (41, 49), (57, 65)), legs=2,
              inserts=[insert("Sinte", "instrument"), eq(banda("high-pass", 220.0), banda("low-pass", 6000.0))],
              sends=[envio("placa", -18.0)]),
    ]  # fmt: skip


def metales() -> list[Nodo]:
    """Four horns, one afternoon, same cuts."""
    seats = [
        ("tp1", "Trompeta 1", -11.0, -30.0, 140.0),
        ("tp2", "Trompeta 2", -12.0, 30.0, 140.0),
        ("tbn", "Trombón", -11.5, -12.0, 85.0),
        ("sax", "Saxo", -12.0, 12.0, 100.0),
    ]
    return [
        pista("metal", ident, name, fader, pan, played(ident, (33, 41), (49, 57), (65, 73), (73, 84.5)),
              inserts=[eq(banda("high-pass", cut), banda("bell", 2900.0, -1.0))], sends=[envio("sala", -13.0)])
        for ident, name, fader, pan, cut in seats
    ]  # fmt: skip


def voces() -> list[Nodo]:
    """Lead with its double, and a choir of four."""
    phone = insert("Teléfono", "equalizer", equalizer={"bands": [banda("high-pass", 520.0), banda("low-pass", 2800.0)]})
    phone["on"] = False
    switch = {"target": "insert:3:on", "scale": "switch", "shape": "hold", "t": [0.0, at(57), at(64.6)], "v": [0, 1, 0]}
    tone = [banda("high-pass", 95.0), banda("bell", 270.0, -2.0), banda("high-shelf", 10000.0, 1.5)]
    lead = pista(
        "voces", "voz", "Voz", -5.5, 0.0,
        played("voz_comp", (9, 17), (17, 24.7), (24.75, 33), (41, 48.7), (48.75, 57), (57.25, 64.6), (64.75, 73),
               (73, 81)),
        comment="teléfono sólo en el puente",
        inserts=[eq(*tone), insert("De-eser", "de-esser"), comp(-19.0, 3.5, 8.0, 120.0, 3.0), phone],
        sends=[envio("placa", -15.0), envio("eco", -18.0)],
        automation=[
            nivel(-5.5, (at(24.72), -4.5), (at(41) - 0.5, -5.5), (at(48.72), -4.5), (at(57), -3.5), (at(64.7), -4.2)),
            switch,
        ],
    )  # fmt: skip
    chat = clip("voz_dobla", at(60), at(63, 3), "charla entre tomas (NO)", on=False)
    takes = played("voz_dobla", (24.75, 33), (48.75, 57), (64.75, 73), (73, 81), early=0.04)
    double = pista(
        "voces", "dobla", "Voz dobla", -15.0, 0.0, [*takes[:2], chat, *takes[2:]],
        inserts=[eq(*[dict(b) for b in tone]), insert("De-eser", "de-esser"), comp(-22.0, 5.0, 4.0, 100.0, 3.0)],
        sends=[envio("placa", -16.0)],
    )  # fmt: skip
    choir = [
        pista("coros", f"coro{n}", f"Coro {n}", -14.0, pan, played(f"coro_{n}", (25, 33), (49, 57), (65, 73), (73, 81)),
              inserts=[eq(banda("high-pass", 150.0), banda("bell", 300.0, -2.0)), comp(-22.0, 4.0, 6.0, 110.0, 2.5)],
              sends=[envio("placa", -13.0)])
        for n, pan in ((1, -60.0), (2, 60.0), (3, -25.0), (4, 25.0))
    ]  # fmt: skip
    return [lead, double, *choir]


def sueltas() -> list[Nodo]:
    """The boat horn, and what does not sound any more."""
    siren = canal("sirena", "Sirena barco", "track", "mezcla", -15.0, legs=2, plays=["audio"],
                  clips=shots("sirena_barco", 3.0, at(57), at(65), at(83)), sends=[envio("placa", -12.0)])  # fmt: skip
    click = canal("claqueta", "Claqueta", "track", "mezcla", -12.0, mute=True, plays=["audio"], folder=["No suena"],
                  clips=[clip("claqueta", 0.0, at(85), "claqueta")], comment="para grabar, va muteada")  # fmt: skip
    guide = canal("guia", "Voz guía", "track", "mezcla", -10.0, mute=True, plays=["audio"], folder=["No suena"],
                  clips=[clip("voz_guia", at(9), at(81), "voz_guia")], comment="guía vieja, no usar")  # fmt: skip
    return [siren, click, guide]


def salidas() -> list[Nodo]:
    """Groups, returns, mix."""
    decay = {"id": "decay", "name": "Caída", "unit": "s"}
    room = insert("Sala corta", "reverb", wet=100.0, pre_delay_ms=6.0, parameters=[decay | {"value": 0.7}])
    plate = insert("Placa", "reverb", wet=100.0, pre_delay_ms=35.0, parameters=[decay | {"value": 1.8}])
    echo = insert("Eco cinta", "delay", wet=100.0, parameters=[
        {"id": "sync", "name": "División", "value": "3/16"},
        {"id": "fb", "name": "Repetición", "value": 28.0, "unit": "%"},
    ])  # fmt: skip
    limit = insert(
        "Limitador", "limiter",
        dynamics={"threshold_db": -3.5, "release_ms": 80.0, "output_gain_db": 0.0},
        parameters=[{"id": "ceiling", "name": "Techo", "value": -1.0, "unit": "dB"}],
    )  # fmt: skip
    mix = canal("mezcla", "Mezcla", "master", None, 0.0, legs=2,
                inserts=[eq(banda("high-shelf", 9000.0, 0.8)), comp(-13.0, 2.0, 30.0, 120.0, 1.0), limit])  # fmt: skip
    del mix["output"]
    return [
        canal("percu", "PERCU", "group", "mezcla", -1.0, legs=2, inserts=[comp(-15.0, 2.0, 25.0, 100.0, 1.0)]),
        canal("bajos", "BAJOS", "group", "mezcla", -1.5, legs=2),
        canal("armo", "ARMONÍA", "group", "mezcla", -1.0, legs=2),
        canal("metal", "METALES", "group", "mezcla", -1.5, legs=2, inserts=[comp(-16.0, 2.0, 18.0, 140.0, 1.0)],
              automation=[nivel(-1.5, (at(49), -3.5), (at(65), -3.0), (at(81), -1.0))]),
        canal("voces", "VOCES", "group", "mezcla", 0.0, legs=2, inserts=[eq(banda("bell", 3200.0, 0.8))]),
        canal("coros", "coros", "group", "voces", -1.0, legs=2, parent="voces",
              inserts=[eq(banda("high-shelf", 7000.0, 1.0))]),
        canal("sala", "Sala corta", "return", "mezcla", -5.0, legs=2, inserts=[room, eq(banda("high-pass", 200.0))]),
        canal("placa", "Placa", "return", "mezcla", -4.0, legs=2, inserts=[plate, eq(banda("high-pass", 260.0))]),
        canal("eco", "Eco", "return", "mezcla", -7.0, legs=2, sends=[envio("placa", -14.0)],
              comment="al tempo; las repeticiones siguen en la placa",
              inserts=[echo, eq(banda("high-pass", 300.0), banda("low-pass", 4000.0))]),
        mix,
    ]  # fmt: skip


def archivos(channels: list[Nodo]) -> list[Nodo]:
    """One entry for every file that is used, as long as it is."""
    short = {"bucle_guacha90": 10.72, "bucle_alegre90": 10.72, "platillo_rev": 2.62, "sirena_barco": 3.4}
    found = {c["file"]: ch["legs"] for ch in channels for c in ch["clips"] if c["file"] is not None}
    return [
        {
            "id": ident,
            "path": f"audio/{ident}.wav",
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": short.get(ident, LARGO),
        }
        for ident, legs in found.items()
    ]


def good() -> Sesion:
    """The session as it should be bounced."""
    channels = [*percusion(), *armonia(), *metales(), *voces(), *sueltas(), *salidas()]
    return {
        "format": "mixlint-session/1",
        "title": "Sal de domingo (mezcla 4)",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": TEMPO_A}, {"beat": (CAMBIO - 1) * 4.0, "bpm": TEMPO_B}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECCIONES],
        "channels": channels,
        "media": archivos(channels),
        "metadata": {"versión": "mezcla 4", "tono": "La menor"},
    }


def channel(session: Sesion, name: str) -> Nodo:
    """The channel of a name."""
    found: Nodo = next(c for c in session["channels"] if c["name"] == name)
    return found


def loop_keeps_tempo(session: Sesion) -> None:
    """One loop keeps the old stretch after the tempo change."""
    for one in channel(session, "Loop alegre")["clips"]:
        if one["start_s"] >= at(CAMBIO) - 0.001:
            one["speed"] = round(TEMPO_A / TEMPO_BUCLE, 6)


def phone_stays_on(session: Sesion) -> None:
    """The point that takes the telephone off after the bridge is lost."""
    lane = channel(session, "Voz")["automation"][1]
    lane["t"].pop()
    lane["v"].pop()


def gate_shut(session: Sesion) -> None:
    """The threshold lost a digit."""
    channel(session, "Conga")["inserts"][0]["dynamics"]["threshold_db"] = -6.0


def plate_into_echo(session: Sesion) -> None:
    """A send to the echo is made on the plate, which the echo feeds."""
    channel(session, "Placa")["sends"].append(envio("eco", -6.0))


def synth_missing(session: Sesion) -> None:
    """The bass synthesizer did not load."""
    channel(session, "Bajo sint")["inserts"][0]["loaded"] = False


def chat_switched_on(session: Sesion) -> None:
    """The muted clip with talk is switched on."""
    clips = channel(session, "Voz dobla")["clips"]
    next(c for c in clips if c["name"].startswith("charla"))["on"] = True


def send_as_made(session: Sesion) -> None:
    """A send stands where a new one stands."""
    channel(session, "Coro 2")["sends"][0]["level_db"] = 0.0


def sax_file_short(session: Sesion) -> None:
    """The copy of the saxophone's file broke off."""
    next(m for m in session["media"] if m["id"] == "sax")["duration_s"] = 88.41


def trombone_late(session: Sesion) -> None:
    """The clip of chorus 2 is dropped one beat late."""
    late = channel(session, "Trombón")["clips"][1]
    late["start_s"] = round(late["start_s"] + 60.0 / TEMPO_A, 6)
    late["end_s"] = round(late["end_s"] + 60.0 / TEMPO_A, 6)


def shaker_after_end(session: Sesion) -> None:
    """A copy of the maracas is forgotten behind the end."""
    clips = channel(session, "maracas")["clips"]
    left = dict(clips[1])
    length = left["end_s"] - left["start_s"]
    left["start_s"] = round(at(101), 6)
    left["end_s"] = round(at(101) + length, 6)
    clips.append(left)


def siren_from_downloads(session: Sesion) -> None:
    """The boat horn was dragged in without being copied to the session."""
    entry = next(m for m in session["media"] if m["id"] == "sirena_barco")
    entry["path"] = "../../descargas/sirena_barco.wav"
    entry["place"] = "outside"


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Claqueta", "Voz guía"], "why": "muted helpers of the recording, in a folder that says so"},
    {"channels": ["Voz dobla"], "why": "keeps one muted clip of talk between takes, named as such"},
    {"channels": ["Loop guacha", "Loop alegre"], "why": "stretched from 90 to both tempos, as their comments say"},
    {"channels": ["Eco"], "why": "runs on into the plate, meant so"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "loop-keeps-tempo",
        "class": "tempo",
        "channels": ["Loop alegre"],
        "grade": "hold",
        "says": "From the bridge on Loop alegre is still stretched to 92 while song and other loop run at 96.",
        "plant": loop_keeps_tempo,
    },
    {
        "id": "phone-stays-on",
        "class": "automation",
        "channels": ["Voz"],
        "grade": "look",
        "says": "The telephone effect, meant for the bridge only, is never switched off and colours all of Coro 3.",
        "plant": phone_stays_on,
    },
    {
        "id": "gate-shut",
        "class": "processors",
        "channels": ["Conga"],
        "grade": "look",
        "says": "The conga's gate opens at -6 dB only; the same gate on the tumba stands at -36.",
        "plant": gate_shut,
    },
    {
        "id": "plate-into-echo",
        "class": "routing",
        "channels": ["Placa", "Eco"],
        "grade": "hold",
        "says": "The plate sends into the echo and the echo into the plate: a feedback loop.",
        "plant": plate_into_echo,
    },
    {
        "id": "synth-missing",
        "class": "inaudible",
        "channels": ["Bajo sint"],
        "grade": "hold",
        "says": "The instrument of Bajo sint was not loaded; the bass of the whole song is silent.",
        "plant": synth_missing,
    },
    {
        "id": "chat-switched-on",
        "class": "audible-that-should-not-be",
        "channels": ["Voz dobla"],
        "grade": "hold",
        "says": "A clip named as talk between takes, not to be used, is on and speaks into the bridge.",
        "plant": chat_switched_on,
    },
    {
        "id": "send-as-made",
        "class": "ambience",
        "channels": ["Coro 2"],
        "grade": "look",
        "says": "Coro 2 sends to the plate at 0 dB, the other three at -13; it looks like a send never set.",
        "plant": send_as_made,
    },
    {
        "id": "sax-file-short",
        "class": "files",
        "channels": ["Saxo"],
        "grade": "hold",
        "says": "The sax file ends at 88 s, within the first of four clips; the copy is broken and the rest is silent.",
        "plant": sax_file_short,
    },
    {
        "id": "trombone-late",
        "class": "edits",
        "channels": ["Trombón"],
        "grade": "look",
        "says": "In Coro 2 the trombone lies one beat later than the other horns and than its own file.",
        "plant": trombone_late,
    },
    {
        "id": "shaker-after-end",
        "class": "end",
        "channels": ["maracas"],
        "grade": "look",
        "says": "A forgotten clip of the maracas plays alone long after FIN and would make the print too long.",
        "plant": shaker_after_end,
    },
    {
        "id": "siren-from-downloads",
        "class": "hand-over",
        "channels": ["Sirena barco"],
        "grade": "look",
        "says": "The file of Sirena barco lies outside the session and will not travel with it.",
        "plant": siren_from_downloads,
    },
]
