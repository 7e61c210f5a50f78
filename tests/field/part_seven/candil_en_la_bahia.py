"""Candil en la Bahía: reggae de banda grande, 44,1 kHz, mezcla 4.

La base (batería, bajo, guitarra skank, órgano, piano) se tocó junta a claqueta, toma 4; la grabadora arrancó antes, de
modo que sus ficheros llevan una cabecera común. Encima percusión, metales (una toma los tres), guitarra línea y voces,
consolidadas desde cero. El dub va más lento (72) y vuelve a 76. El eco se toca a mano: envíos, realimentación, filtro
y retorno; lo del dub se imprimió en una pista y por eso el retorno calla allí. El final se va en fundido.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

RATE = 44100.0
HEAD = 12.4
TEMPOS: list[tuple[float, float]] = [(0.0, 76.0), (58 * 4.0, 72.0), (74 * 4.0, 76.0)]
BASE: list[tuple[str, float, float]] = [("A", 2.5, 59), ("B dub", 59, 75), ("C", 75, 99)]
PARTES: list[tuple[str, int]] = [
    ("Cuenta", 1), ("Intro", 3), ("Estrofa 1", 11), ("Estribillo 1", 27), ("Estrofa 2", 35), ("Estribillo 2", 51),
    ("Dub", 59), ("Estribillo 3", 75), ("Final", 91), ("Fin", 99),
]  # fmt: skip


def at(bar: float, beat: float = 1.0) -> float:
    """The second at which a beat of a bar falls, through the tempo map."""
    left = (bar - 1.0) * 4.0 + beat - 1.0
    seconds = 0.0
    ends = [start for start, _ in TEMPOS[1:]] + [1e9]
    for (start, bpm), end in zip(TEMPOS, ends, strict=True):
        if left <= start:
            break
        seconds += (min(left, end) - start) * 60.0 / bpm
    return round(seconds, 6)


def clip(name: str, file: str, start: float, end: float, offset: float, **more: Any) -> Item:
    """A clip of a file, as recorded."""
    made: Item = {
        "start_s": start, "end_s": end, "name": name, "plays": "audio", "file": file, "offset_s": round(offset, 6),
        "speed": 1.0, "fade_in_s": 0.01, "fade_out_s": 0.03, "gain_db": 0.0, "on": True,
    }  # fmt: skip
    made.update(more)
    return made


def base(part: str, spans: list[tuple[str, float, float]] | None = None) -> list[Item]:
    """The clips of a channel of the basic take, with the head of the recording."""
    return [
        clip(f"{part} T4 {name}", f"{part}_T4", at(first), at(last), at(first) + HEAD)
        for name, first, last in spans or BASE
    ]


def over(part: str, *spans: tuple[float, float], lead: float = 0.0) -> list[Item]:
    """The clips of an overdub that was consolidated from zero."""
    clips = []
    for number, (first, last) in enumerate(spans, 1):
        start = round(at(first) - lead, 6)
        end = round(at(last) - lead, 6)
        clips.append(clip(f"{part} {number:02d}", part, start, end, start))
    return clips


def insert(name: str, kind: str, **more: Any) -> Item:
    """A processor whose settings can be read."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, **more}


def par(ident: str, name: str, value: float | str | bool, unit: str = "") -> Item:
    """A listed parameter."""
    return {"id": ident, "name": name, "value": value, "unit": unit}


def pasa(kind: str, freq: float) -> Item:
    """A high-pass or low-pass band."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": 12.0, "on": True}


def bell(freq: float, gain: float, q: float = 1.0) -> Item:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def eq(low: float, *bands: Item, high: float = 0.0) -> Item:
    """An equalizer with its high-pass, bells and perhaps a low-pass."""
    top = [pasa("low-pass", high)] if high else []
    return insert("EQ", "equalizer", equalizer={"bands": [pasa("high-pass", low), *bands, *top]})


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> Item:
    """A compressor."""
    dynamics = {
        "threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release, "output_gain_db": out,
        "auto_makeup": False,
    }  # fmt: skip
    return insert("Compresor", "compressor", dynamics=dynamics)


def gate(threshold: float, depth: float, release: float) -> Item:
    """A gate."""
    dynamics = {"threshold_db": threshold, "range_db": depth, "attack_ms": 1.0, "release_ms": release}
    return insert("Puerta", "gate", dynamics=dynamics)


def to(target: str, level: float) -> Item:
    """A send after the fader."""
    return {"to": target, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def lane(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Item:
    """An automation lane from points of time and value."""
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def golpes(index: int, *hits: tuple[float, float, float, float]) -> Item:
    """Echo throws by hand on a send: bar, first beat, last beat, level; down to the stop in between."""
    points = [(0.0, -90.0)]
    for number, (bar, first, last, level) in enumerate(hits):
        up = round(at(bar, first) - 0.04 - 0.013 * (number % 3), 6)
        down = round(at(bar, last) + 0.05 + 0.017 * (number % 4), 6)
        points += [(up, -90.0), (round(up + 0.09, 6), level), (down, level - 0.8), (round(down + 0.16, 6), -90.0)]
    return lane(f"send:{index}:level", "dB", "linear", *points)


def pista(ident: str, name: str, out: str, fader: float, pan: float, **more: Any) -> Item:
    """A mono track with whatever differs from the plain one."""
    made: Item = {
        "id": ident, "name": name, "kind": "track", "legs": 1, "plays": ["audio"], "fader_db": fader, "pan": pan,
        "mute": False, "solo": False, "output": out, "sends": [], "inserts": [], "clips": [], "automation": [],
    }  # fmt: skip
    if out != "mezcla":
        made["parent"] = out
    made.update(more)
    return made


def bus(ident: str, name: str, kind: str, fader: float, inserts: list[Item], **more: Any) -> Item:
    """A stereo group or return into the mix."""
    return pista(ident, name, "mezcla", fader, 0.0, kind=kind, legs=2, plays=[], inserts=inserts, **more)


def bateria() -> list[Item]:
    """The drum kit; panned as the drummer sits, hat on the left."""
    return [
        pista("bombo", "Bombo", "bat", -5.0, 0.0, clips=base("Bombo"),
              inserts=[gate(-34, -18, 180), eq(32, bell(62, 3.0), bell(380, -4.0), bell(3200, 2.0)),
                       comp(-16, 4, 20, 90, 2)]),
        pista("cajaar", "Caja arr", "bat", -6.5, 0.0, clips=base("Caja_arr"),
              inserts=[gate(-36, -14, 140), eq(95, bell(220, 1.5), bell(4800, 2.5)), comp(-18, 3.5, 15, 120, 2)],
              sends=[to("muelle", -13.0), to("sala", -16.0), to("eco", -90.0)],
              automation=[golpes(2, (35, 1, 1.6, -9), (60, 4, 4.6, -4), (63, 2, 2.6, -5), (66, 4, 4.5, -3),
                                 (70, 2, 2.6, -5), (73, 4, 4.6, -2), (92, 2, 2.5, -8))]),
        pista("cajaab", "Caja ab", "bat", -13.0, 0.0, clips=base("Caja_ab"),
              inserts=[insert("Polaridad", "utility", parameters=[par("inv", "Invertir", True)]), gate(-38, -14, 120),
                       eq(180, bell(6500, 2.0))],
              comment="girada contra la de arriba"),
        pista("charles", "Charles", "bat", -15.0, -35.0, clips=base("Charles"), inserts=[eq(350, bell(7500, 1.5))]),
        pista("tom", "Tom", "bat", -9.0, -22.0, clips=base("Tom"),
              inserts=[gate(-32, -22, 260), eq(70, bell(420, -4.0), bell(4000, 2.0))], sends=[to("sala", -15.0)]),
        pista("tombase", "Tom base", "bat", -8.5, 40.0, clips=base("Tom_base"),
              inserts=[gate(-32, -22, 320), eq(50, bell(380, -4.0), bell(3500, 2.0))], sends=[to("sala", -15.0)]),
        pista("aei", "Aéreo I", "bat", -11.0, -80.0, clips=base("Aereo_I"), inserts=[eq(140, bell(9000, 1.0))]),
        pista("aed", "Aéreo D", "bat", -11.0, 80.0, clips=base("Aereo_D"), inserts=[eq(140, bell(9000, 1.0))]),
        bus("bat", "BATERÍA", "group", -2.0, [comp(-14, 2, 30, 120, 1), eq(25, bell(10000, 1.0))],
            automation=[lane("fader", "dB", "linear", (0.0, -2.0), (at(59), -2.0), (at(61), -3.5), (at(74), -3.5),
                             (at(75), -1.5), (at(91), -2.0))]),
    ]  # fmt: skip


def percusion() -> list[Item]:
    """Congas and shaker, an overdub."""
    skin = [comp(-18, 3, 12, 110, 1.5)]
    return [
        pista("conga", "Conga", "percu", -11.0, -48.0, clips=over("Conga", (3, 59), (59, 75), (75, 99)),
              inserts=[eq(110, bell(300, -2.0), bell(4500, 2.0)), *skin], sends=[to("sala", -14.0)]),
        pista("tumba", "Tumba", "percu", -10.5, -30.0, clips=over("Tumba", (3, 59), (59, 75), (75, 99)),
              inserts=[eq(80, bell(280, -2.0), bell(4000, 2.0)), comp(-18, 3, 12, 110, 1.5)],
              sends=[to("sala", -14.0)]),
        pista("shaker", "Shaker", "percu", -18.0, 52.0, clips=over("Shaker", (27, 35), (51, 59), (63, 75), (75, 99)),
              inserts=[eq(500)]),
        bus("percu", "PERCU", "group", -3.0, [comp(-16, 1.8, 25, 140, 0.5)]),
    ]  # fmt: skip


def bajo() -> list[Item]:
    """The bass, twice tapped."""
    spans: list[tuple[str, float, float]] = [("A1", 3, 35), ("A2", 35, 59), ("B dub", 59, 75), ("C", 75, 99)]
    return [
        pista("bdi", "Bajo DI", "bajo", -9.0, 0.0, clips=base("Bajo_DI", spans), inserts=[eq(30, high=3500.0)]),
        pista("bamp", "Bajo ampli", "bajo", -7.0, 0.0, clips=base("Bajo_ampli", spans),
              inserts=[eq(40, bell(90, 1.5), bell(250, -2.5), bell(800, 1.5))]),
        bus("bajo", "BAJO", "group", -2.5, [comp(-20, 4, 22, 160, 3)],
            automation=[lane("fader", "dB", "hold", (0.0, -2.5), (at(59), -1.0), (at(75), -2.5))]),
    ]  # fmt: skip


def armonia() -> list[Item]:
    """Guitars, the organ's rotor from both sides, piano."""
    rotor = {
        "inserts": [eq(130, bell(900, -1.5), high=7000.0), comp(-20, 2, 20, 180, 1)],
        "sends": [to("muelle", -18.0)],
    }
    playing: list[tuple[str, float, float]] = [("A", 3, 59), ("B dub", 63, 75), ("C", 75, 99)]
    pianos: list[tuple[str, float, float]] = [("A", 3, 59), ("C", 75, 99)]
    skanks: list[tuple[str, float, float]] = [("A", 3, 59), ("B1", 59, 63), ("B2", 67, 75), ("C", 75, 99)]
    organ_ride = [(0.0, -10.5), (at(11), -12.5), (at(27), -10.5), (at(35), -12.5), (at(51), -10.5), (at(63), -9.0),
                  (at(75), -10.5)]  # fmt: skip
    return [
        pista("skank", "Guit skank", "arm", -10.0, -42.0, clips=base("Guit_skank", skanks),
              inserts=[eq(280, bell(2200, 2.0)), comp(-18, 3, 10, 80, 1)],
              sends=[to("muelle", -12.0), to("eco", -90.0)],
              automation=[golpes(1, (10, 4, 4.6, -8), (62, 2, 4.4, -3), (68, 4, 4.6, -4), (71, 2, 2.6, -4))]),
        pista("linea", "Guit línea", "arm", -13.0, 35.0,
              clips=over("Guit_linea", (3, 11), (27, 35), (51, 59), (75, 91), (91, 99)),
              inserts=[eq(120, bell(1500, 1.5)), comp(-20, 3, 12, 100, 1.5)], sends=[to("muelle", -15.0)]),
        pista("orgi", "Órgano I", "arm", -10.5, -74.0, clips=base("Organo_I", playing),
              automation=[lane("fader", "dB", "hold", *organ_ride)], **rotor),
        pista("orgd", "Órgano D", "arm", -10.5, 74.0, clips=base("Organo_D", playing),
              automation=[lane("fader", "dB", "hold", *organ_ride)],
              inserts=[eq(130, bell(900, -1.5), high=7000.0), comp(-20, 2, 20, 180, 1)], sends=[to("muelle", -18.0)]),
        pista("piano", "Piano", "arm", -14.0, 0.0, legs=2, clips=base("Piano", pianos),
              inserts=[eq(200, bell(350, -2.0)), comp(-18, 2.5, 12, 120, 1)], sends=[to("sala", -17.0)]),
        bus("arm", "ARMONÍA", "group", -2.0, [comp(-16, 1.6, 25, 160, 0.5)]),
    ]  # fmt: skip


def metales() -> list[Item]:
    """Three horns from one take, and their group."""
    spans: list[tuple[float, float]] = [(3, 11), (27, 35), (51, 59), (65, 67), (71, 73), (75, 91), (91, 99)]
    made = []
    for ident, name, file, pan, low, fader in (
        ("tpta", "Trompeta", "Trompeta", -30.0, 160.0, -10.0),
        ("saxo", "Saxo tenor", "Saxo_tenor", 6.0, 120.0, -10.5),
        ("tbn", "Trombón", "Trombon", 32.0, 90.0, -9.5),
    ):
        made.append(pista(ident, name, "metales", fader, pan, clips=over(file, *spans, lead=0.12),
                          inserts=[eq(low, bell(450, -1.5), bell(3000, 1.0)), comp(-18, 2.5, 15, 120, 1)],
                          sends=[to("sala", -14.0)]))  # fmt: skip
    made[2]["sends"].append(to("eco", -90.0))
    made[2]["automation"] = [golpes(1, (10, 3, 4.8, -6), (58, 3, 4.6, -7), (66, 3, 4.7, -2), (72, 3, 4.7, -2),
                                    (90, 4, 4.8, -6))]  # fmt: skip
    made[2]["comment"] = "único metal con eco a mano"
    ride = lane("fader", "dB", "linear", (0.0, -2.0), (at(11), -2.0), (at(27), -3.0), (at(51), -3.0), (at(65), -1.5),
                (at(73), -1.5), (at(75), -2.5))  # fmt: skip
    return [*made, bus("metales", "METALES", "group", -2.0, [comp(-14, 2, 18, 130, 1), eq(80, bell(8000, 1.0))],
                       automation=[ride])]  # fmt: skip


def voces() -> list[Item]:
    """Lead voice, two backing voices, their group."""
    ride = lane("fader", "dB", "hold", (0.0, -7.0), (at(27), -5.5), (at(35), -7.0), (at(51), -5.5), (at(59), -8.0),
                (at(75), -5.0), (at(91), -6.5))  # fmt: skip
    throws = golpes(2, (18, 4, 4.7, -7), (26, 3, 4.6, -5), (34, 3, 4.8, -4), (42, 4, 4.7, -7), (50, 3, 4.6, -5),
                    (58, 3, 4.8, -4), (62, 3, 4.8, -2), (70, 3, 4.8, -2), (82, 4, 4.7, -6), (90, 3, 4.8, -4),
                    (94, 4, 4.7, -5))  # fmt: skip
    sung = over("Voz", (11, 19), (19, 27), (27, 35), (35, 43), (43, 51), (51, 59), (61, 63), (69, 71), (75, 83),
                (83, 91), (91, 99), lead=0.3)  # fmt: skip
    for made, gain in zip(sung, (0.0, 0.5, -1.0, 0.0, 1.0, -1.0, 0.0, 0.0, -0.5, -1.0, 0.5), strict=True):
        made["gain_db"] = gain
    backing = [(27, 35), (51, 59), (75, 91), (91, 99)]
    chain = [eq(140, bell(300, -2.0), bell(5000, 1.0)), comp(-20, 3.5, 8, 120, 2)]
    both = [
        pista(ident, name, "voces", -13.0, pan, clips=over(file, *backing, lead=0.15),
              inserts=[dict(i) for i in chain], sends=[to("sala", -12.0), to("muelle", -20.0)])
        for ident, name, file, pan in (("coi", "Coro I", "Coro_I", -52.0), ("cod", "Coro D", "Coro_D", 52.0))
    ]  # fmt: skip
    return [
        pista("voz", "Voz", "voces", -7.0, 0.0, clips=sung, automation=[ride, throws],
              inserts=[eq(95, bell(280, -2.0), bell(3500, 1.5)), comp(-20, 3, 8, 110, 2),
                       insert("De-esser", "de-esser", parameters=[par("freq", "Frecuencia", 7000.0, "Hz")]),
                       comp(-16, 2, 25, 220, 1)],
              sends=[to("sala", -16.0), to("muelle", -19.0), to("eco", -90.0)], comment="envío 3 = eco a mano"),
        *both,
        bus("voces", "VOCES", "group", -1.0, [comp(-14, 1.6, 20, 160, 0.5)]),
    ]  # fmt: skip


def extras() -> list[Item]:
    """The printed echo of the dub and the click."""
    return [
        pista("ecoimp", "Eco impreso", "mezcla", -7.0, 0.0, legs=2,
              clips=[clip("Eco dub pasada 3", "eco_p3", at(59), at(75), 0.0, fade_in_s=0.02, fade_out_s=0.25)],
              inserts=[eq(120)], sends=[to("muelle", -14.0)],
              comment="eco del dub, pasada 3; el retorno vivo va muteado"),
        pista("claq", "Claqueta", "mezcla", -12.0, 0.0, mute=True, comment="no suena",
              clips=[clip("Claqueta", "claq", 0.0, at(99), 0.0)]),
    ]  # fmt: skip


def retornos() -> list[Item]:
    """The echo played by hand, the spring, the room."""
    back = lane(
        "insert:0:feedback", "plain", "linear", (0.0, 34.0), (at(10, 3), 34.0), (at(10, 4.2), 78.0),
        (at(11, 3.1), 71.0), (at(12), 34.0), (at(34, 3), 34.0), (at(34, 4.3), 92.0), (at(35, 3.2), 88.0),
        (at(36, 1.3), 34.0),
        (at(58, 2), 34.0), (at(58, 4.1), 90.0), (at(60, 2), 70.0), (at(62, 4), 94.0), (at(64, 1.5), 45.0),
        (at(66, 4), 91.0), (at(68, 2), 40.0), (at(70, 4), 93.0), (at(72), 60.0), (at(73, 4), 90.0), (at(75), 34.0),
        (at(90, 3), 34.0), (at(90, 4.2), 93.0), (at(91, 4), 86.0), (at(93), 34.0),
    )  # fmt: skip
    time = lane("insert:0:time", "plain", "hold", (0.0, 592.1), (at(59), 625.0), (at(75), 592.1))
    hand = lane(
        "fader", "dB", "linear", (0.0, -8.0), (at(10, 4), -7.2), (at(12), -8.4), (at(34, 4), -6.1), (at(36), -8.1),
        (at(58, 4), -6.4), (at(60), -8.0), (at(75), -8.0), (at(90, 4), -5.9), (at(93), -8.3),
    )  # fmt: skip
    filt = lane(
        "insert:1:band:1:freq", "plain", "linear", (0.0, 240.0), (at(34, 4), 240.0), (at(35, 2), 700.0),
        (at(36, 3), 240.0), (at(59), 240.0), (at(64), 950.0), (at(68), 300.0), (at(73), 1100.0), (at(75), 240.0),
        (at(90, 4), 240.0), (at(91, 3), 800.0), (at(93), 240.0),
    )  # fmt: skip
    mute = lane("mute", "switch", "hold", (0.0, 0.0), (at(59), 1.0), (at(75), 0.0))
    return [
        bus("eco", "Eco cinta", "return", -8.0,
            [insert("Eco", "delay", wet=100.0, parameters=[par("time", "Tiempo", 592.1, "ms"),
                                                           par("feedback", "Realimentación", 34.0, "%")]),
             eq(240, high=4200.0), insert("Saturación", "distortion", wet=35.0)],
            sends=[to("muelle", -11.0)], automation=[back, time, hand, filt, mute],
            comment="a mano; en el dub suena Eco impreso"),
        bus("muelle", "Muelle", "return", -9.0,
            [insert("Muelle", "reverb", wet=100.0, pre_delay_ms=12.0, parameters=[par("decay", "Caída", 2.3, "s")]),
             eq(280, bell(1800, 1.5), high=5200.0)]),
        bus("sala", "Sala", "return", -11.0,
            [insert("Sala", "reverb", wet=100.0, pre_delay_ms=18.0, parameters=[par("decay", "Caída", 1.3, "s")]),
             eq(200, high=9000.0)]),
    ]  # fmt: skip


def mezcla() -> Item:
    """The mix bus with the fade at the end."""
    limit = {"threshold_db": -1.0, "release_ms": 120.0, "input_gain_db": 1.5, "output_gain_db": 0.0}
    fade = lane("fader", "dB", "linear", (0.0, 0.0), (at(91), 0.0), (at(93), -3.0), (at(95), -8.0), (at(97), -18.0),
                (at(98), -32.0), (at(98, 3), -60.0), (at(98, 4), -200.0))  # fmt: skip
    made = bus("mezcla", "Mezcla", "master", 0.0,
               [eq(22, bell(12000, 0.7)), comp(-11, 1.5, 30, 140, 0.5),
                insert("Limitador", "limiter", dynamics=limit)], automation=[fade])  # fmt: skip
    del made["output"]
    return made


def media() -> list[Item]:
    """The files: the basic take, the overdubs, the print."""
    take = ["Bombo", "Caja_arr", "Caja_ab", "Charles", "Tom", "Tom_base", "Aereo_I", "Aereo_D", "Bajo_DI",
            "Bajo_ampli", "Guit_skank", "Organo_I", "Organo_D", "Piano"]  # fmt: skip
    later = [("Conga", 315.2), ("Tumba", 315.2), ("Shaker", 314.6), ("Guit_linea", 316.0), ("Trompeta", 314.9),
             ("Saxo_tenor", 314.9), ("Trombon", 314.9), ("Voz", 313.8), ("Coro_I", 313.1),
             ("Coro_D", 313.4)]  # fmt: skip
    rows = [(f"{n}_T4", f"grabacion/base_T4/{n}_T4.wav", 2 if n == "Piano" else 1, 341.7) for n in take]
    rows += [(n, f"grabacion/overdubs/{n}.wav", 1, length) for n, length in later]
    rows += [("eco_p3", "impresos/eco_dub_p3.wav", 2, 57.9), ("claq", "grabacion/claqueta.wav", 1, 318.0)]
    return [
        {"id": i, "path": p, "place": "beside", "present": True, "legs": n, "sample_rate_hz": RATE, "duration_s": d}
        for i, p, n, d in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Candil en la Bahía (mezcla 4)",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for name, bar in PARTES],
        "channels": [
            *bateria(), *percusion(), *bajo(), *armonia(), *metales(), *voces(), *extras(), *retornos(), mezcla(),
        ],
        "media": media(),
        "metadata": {"mezcla": "4", "final": "fundido en los últimos ocho compases"},
    }  # fmt: skip


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def overheads_swapped(session: Session) -> None:
    """The two overheads sit on each other's side."""
    channel(session, "Aéreo I")["pan"], channel(session, "Aéreo D")["pan"] = 80.0, -80.0


def echo_never_released(session: Session) -> None:
    """The feedback was not turned back after the throw of the first chorus."""
    found = channel(session, "Eco cinta")["automation"][0]
    gone = {at(36, 1.3), at(58, 2)}
    keep = [k for k, t in enumerate(found["t"]) if t not in gone]
    found["t"], found["v"] = [found["t"][k] for k in keep], [found["v"][k] for k in keep]


def ride_digit(session: Session) -> None:
    """One value of the voice's ride has a digit too many in front."""
    found = channel(session, "Voz")["automation"][0]
    found["v"][found["t"].index(at(51))] = -15.5


def live_and_printed(session: Session) -> None:
    """The mute lane of the live echo was cleared."""
    strip = channel(session, "Eco cinta")
    strip["automation"] = [a for a in strip["automation"] if a["target"] != "mute"]


def spring_bypassed(session: Session) -> None:
    """The spring is bypassed, its return stays open."""
    channel(session, "Muelle")["inserts"][0]["on"] = False


def snare_not_turned(session: Session) -> None:
    """The polarity switch under the snare is bypassed."""
    channel(session, "Caja ab")["inserts"][0]["on"] = False


def tumba_crushed(session: Session) -> None:
    """The threshold of one of the two drums is thirty decibels too low."""
    channel(session, "Tumba")["inserts"][1]["dynamics"]["threshold_db"] = -48.0


def organ_missing(session: Session) -> None:
    """One side of the organ is not on the disk."""
    next(f for f in session["media"] if f["id"] == "Organo_D_T4")["present"] = False


def amp_hole(session: Session) -> None:
    """The amplifier's clip was trimmed two bars short, the DI's was not."""
    channel(session, "Bajo ampli")["clips"][1]["end_s"] = at(57)


def tempo_not_back(session: Session) -> None:
    """The return to the old tempo after the dub was deleted."""
    del session["timeline"]["tempos"][2]


def fade_unfinished(session: Session) -> None:
    """The last points of the fade are gone."""
    found = channel(session, "Mezcla")["automation"][0]
    found["t"], found["v"] = found["t"][:-3], found["v"][:-3]


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Eco cinta"],
        "why": "feedback up to 94 % for a moment, by hand; muted in the dub where its print plays",
    },
    {"channels": ["Claqueta"], "why": "muted click"},
    {"channels": ["Trombón"], "why": "the only horn with an echo send, on purpose"},
    {"channels": ["Mezcla"], "why": "fades out under the playing band"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "overheads-swapped",
        "class": "place",
        "channels": ["Aéreo I", "Aéreo D"],
        "grade": "look",
        "says": "Aéreo I is on the right and Aéreo D on the left, against their names and against hat and toms.",
        "plant": overheads_swapped,
    },
    {
        "id": "echo-never-released",
        "class": "automation",
        "channels": ["Eco cinta"],
        "grade": "hold",
        "says": "After the throw of Estribillo 1 the echo's feedback stays at 88 to 90 % all through Estrofa 2.",
        "plant": echo_never_released,
    },
    {
        "id": "ride-digit",
        "class": "level",
        "channels": ["Voz"],
        "grade": "hold",
        "says": "The voice's ride is at -15.5 dB in Estribillo 2, in the other choruses at -5.5 and -5.",
        "plant": ride_digit,
    },
    {
        "id": "live-and-printed",
        "class": "twice",
        "channels": ["Eco cinta", "Eco impreso"],
        "grade": "hold",
        "says": "In the dub the live echo return is open while its print plays, so the echo is there twice.",
        "plant": live_and_printed,
    },
    {
        "id": "spring-bypassed",
        "class": "ambience",
        "channels": ["Muelle"],
        "grade": "hold",
        "says": "The reverb on the return Muelle is bypassed; everything sent there comes back dry.",
        "plant": spring_bypassed,
    },
    {
        "id": "snare-not-turned",
        "class": "phase",
        "channels": ["Caja ab"],
        "grade": "look",
        "says": "The polarity switch of Caja ab is bypassed, though its comment says it is turned against the top.",
        "plant": snare_not_turned,
    },
    {
        "id": "tumba-crushed",
        "class": "processors",
        "channels": ["Tumba"],
        "grade": "look",
        "says": "The compressor of Tumba has its threshold at -48 dB, that of its partner Conga at -18 dB.",
        "plant": tumba_crushed,
    },
    {
        "id": "organ-missing",
        "class": "files",
        "channels": ["Órgano D"],
        "grade": "hold",
        "says": "The file of Órgano D is missing; only the left side of the organ would sound.",
        "plant": organ_missing,
    },
    {
        "id": "amp-hole",
        "class": "edits",
        "channels": ["Bajo ampli"],
        "grade": "hold",
        "says": "Bajo ampli has a hole of two bars before the dub (bars 57 and 58) while Bajo DI plays on.",
        "plant": amp_hole,
    },
    {
        "id": "tempo-not-back",
        "class": "tempo",
        "channels": ["Mezcla"],
        "grade": "look",
        "says": "The tempo map stays at 72 after the dub; all markers and clips from Estribillo 3 on are off the bars.",
        "plant": tempo_not_back,
    },
    {
        "id": "fade-unfinished",
        "class": "end",
        "channels": ["Mezcla"],
        "grade": "hold",
        "says": "The final fade stops at -18 dB, so the song is cut off where the clips end.",
        "plant": fade_unfinished,
    },
]
