"""La ultima lancha (en vivo): stretch of an open-air concert, announcer, two songs, encore and farewell, 48 kHz.

A seven-piece band with accordion and brass on a small harbour stage. The multitrack recorder wrote one file per
microphone every half hour and split while the band was off the stage; the wait before the encore was cut down, so
everything before the cut plays from the A files and everything after it from the B files. The audience is caught by two
microphones at the edge of the stage and a hand-held stereo recorder at the back that ran by itself and was lined up by
ear with a clap. Stage microphones have clips only around the songs; the audience runs through and is ridden on its
group, down in the songs and up between them. No click: the tempo map was tapped in afterwards. The engineer names in
Spanish, keeps plain folders and sends the echo of the lead only while there is singing.
"""

from __future__ import annotations

from typing import Any

Sesion = dict[str, Any]
Pieza = dict[str, Any]

TRAMOS = [
    ("Locutor", 120.0, 76),
    ("La última lancha", 104.0, 440),
    ("Aplauso 1", 120.0, 76),
    ("Faro apagado", 88.0, 336),
    ("Otra, otra", 120.0, 80),
    ("BIS - Pan de ayer", 138.0, 528),
    ("Despedida", 120.0, 100),
]


def inicio(tramo: int) -> float:
    """The second at which a stretch of the evening begins; one past the last gives the end."""
    return round(sum(beats * 60.0 / bpm for _, bpm, beats in TRAMOS[:tramo]), 4)


T1, T1_FIN, T2, T2_FIN, BIS, BIS_FIN, FIN = (inicio(n) for n in range(1, 8))
CORTE = round(T2_FIN + 16.0, 4)
ENTRA_A, ENTRA_B, ENTRA_FONDO = 1110.4, 41.0, 376.25
LARGO_A, LARGO_B, LARGO_FONDO = 1799.98, 911.204, 2044.6
ESPERA = LARGO_A - ENTRA_A - CORTE + ENTRA_B

MICROS = {
    "bomboint": "01_BomboInt",
    "bomboext": "02_BomboExt",
    "cajaarr": "03_CajaArr",
    "cajaab": "04_CajaAb",
    "timbal": "05_Timbal",
    "aereol": "06_AereoL",
    "aereor": "07_AereoR",
    "bajo": "08_BajoDI",
    "gtr": "09_Gtr",
    "acordi": "10_AcordIzq",
    "acordd": "11_AcordDer",
    "trompeta": "12_Tpt",
    "trombon": "13_Tbn",
    "voz": "14_Voz",
    "coro1": "15_Coro1",
    "coro2": "16_Coro2",
    "locutor": "17_Locutor",
    "publ": "18_PubL",
    "pubr": "19_PubR",
}
CANCIONES = {"T1": (T1, T1_FIN), "T2": (T2, T2_FIN), "BIS": (BIS, BIS_FIN)}


def archivos() -> list[Pieza]:
    """Two files per microphone, the recorder at the back and the two-track of the desk."""
    lista = []
    for clave, tallo in MICROS.items():
        lista.append(archivo(f"{clave}_A", f"multipista/{tallo}_A.wav", 1, LARGO_A))
        lista.append(archivo(f"{clave}_B", f"multipista/{tallo}_B.wav", 1, LARGO_B))
    lista.append(archivo("fondo", "publico/grabadora_fondo.wav", 2, LARGO_FONDO))
    lista.append(archivo("mesa_A", "multipista/2TR_mesa_A.wav", 2, LARGO_A))
    lista.append(archivo("mesa_B", "multipista/2TR_mesa_B.wav", 2, LARGO_B))
    return lista


def archivo(clave: str, ruta: str, patas: int, largo: float) -> Pieza:
    """One audio file beside the session."""
    return {"id": clave, "path": ruta, "place": "beside", "present": True, "legs": patas,
            "sample_rate_hz": 48000.0, "duration_s": largo}  # fmt: skip


def trozo(nombre: str, clave: str, desde: float, hasta: float, fundidos: tuple[float, float] = (0.4, 0.8)) -> Pieza:
    """A clip of a microphone: from the A file before the cut, from the B file after it."""
    antes = desde < CORTE - 5.0
    lugar = desde + ENTRA_A if antes else desde - CORTE + ENTRA_B
    return {"start_s": round(desde, 4), "end_s": round(hasta, 4), "name": nombre, "plays": "audio",
            "file": f"{clave}_A" if antes else f"{clave}_B", "offset_s": round(lugar, 4), "speed": 1.0,
            "fade_in_s": fundidos[0], "fade_out_s": fundidos[1], "gain_db": 0.0, "on": True}  # fmt: skip


def toma(clave: str, *temas: str, antes: float = 1.5, despues: float = 2.5) -> list[Pieza]:
    """The clips of a stage microphone: the songs it plays in, with count-in before and ring after."""
    return [
        trozo(f"{MICROS[clave][3:]} {tema}", clave, CANCIONES[tema][0] - antes, CANCIONES[tema][1] + despues)
        for tema in temas or CANCIONES
    ]


def corrido(clave: str, nombre: str) -> list[Pieza]:
    """Two long clips that cross over at the cut, from the first second to the last."""
    return [
        trozo(f"{nombre} 1a parte", clave, 0.0, CORTE + 1.5, (2.0, 3.0)),
        trozo(f"{nombre} 2a parte", clave, CORTE - 1.5, FIN, (3.0, 8.0)),
    ]


def fondo() -> list[Pieza]:
    """The hand-held recorder at the back ran through the wait in a single file."""
    partes = corrido("fondo", "Fondo")
    for parte, salto in zip(partes, (0.0, ESPERA), strict=True):
        parte.update(file="fondo", offset_s=round(parte["start_s"] + ENTRA_FONDO + salto, 4))
    return partes


def banda(clase: str, hz: float, db: float = 0.0, q: float = 1.0, pendiente: float | None = None) -> Pieza:
    """One equalizer band."""
    hecha: Pieza = {"kind": clase, "freq_hz": hz, "gain_db": db, "q": q, "on": True}
    if pendiente is not None:
        hecha["slope_db_per_oct"] = pendiente
    return hecha


def corte_bajo(hz: float) -> Pieza:
    """A high-pass band."""
    return banda("high-pass", hz, q=0.71, pendiente=18.0)


def ecu(*bandas: Pieza) -> Pieza:
    """An equalizer insert."""
    return {"name": "Ecu", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bandas)}}


def compresor(umbral: float, razon: float, ataque: float, caida: float, sube: float = 0.0) -> Pieza:
    """A compressor insert."""
    return {"name": "Compresor", "kind": "compressor", "on": True, "opaque": False, "wet": 100.0,
            "dynamics": {"threshold_db": umbral, "ratio": razon, "attack_ms": ataque, "release_ms": caida,
                         "input_gain_db": 0.0, "output_gain_db": sube, "auto_makeup": False}}  # fmt: skip


def puerta(umbral: float, fondo_db: float) -> Pieza:
    """A gate insert."""
    return {"name": "Puerta", "kind": "gate", "on": True, "opaque": False,
            "dynamics": {"threshold_db": umbral, "attack_ms": 0.5, "release_ms": 180.0,
                         "range_db": fondo_db}}  # fmt: skip


def dato(clave: str, nombre: str, valor: float | bool, unidad: str = "") -> Pieza:
    """A listed parameter."""
    return {"id": clave, "name": nombre, "value": valor, "unit": unidad}


def polaridad(invierte: bool) -> Pieza:
    """A small tool that turns the polarity."""
    return {"name": "Polaridad", "kind": "utility", "on": True, "opaque": False,
            "parameters": [dato("inv", "Invertir", invierte)]}  # fmt: skip


def reverb(nombre: str, largo: float, espera: float) -> Pieza:
    """A reverb for a return, wholly wet."""
    return {"name": nombre, "kind": "reverb", "on": True, "opaque": False, "wet": 100.0, "pre_delay_ms": espera,
            "parameters": [dato("rt", "Tiempo", largo, "s")]}  # fmt: skip


def eco_cinta(ms: float, vuelve: float) -> Pieza:
    """The echo for the lead, wholly wet."""
    return {"name": "Eco cinta", "kind": "delay", "on": True, "opaque": False, "wet": 100.0,
            "parameters": [dato("ms", "Tiempo", ms, "ms"), dato("fb", "Realimentación", vuelve, "%")]}  # fmt: skip


def envio(destino: str, nivel: float) -> Pieza:
    """A post-fader send."""
    return {"to": destino, "level_db": nivel, "pan": 0.0, "tap": "post", "on": True}


def curva(blanco: str, puntos: list[tuple[float, float]], escala: str = "dB", forma: str = "linear") -> Pieza:
    """One automated parameter."""
    return {"target": blanco, "scale": escala, "shape": forma, "t": [round(t, 4) for t, _ in puntos],
            "v": [v for _, v in puntos]}  # fmt: skip


def canal(clave: str, nombre: str, nivel: float, pan: float, salida: str, carpeta: str, **mas: Any) -> Pieza:
    """One channel: a mono audio track unless told otherwise."""
    hecho: Pieza = {"id": clave, "name": nombre, "kind": "track", "legs": 1, "plays": ["audio"], "folder": [carpeta],
                    "fader_db": nivel, "pan": pan, "mute": False, "solo": False, "output": salida, "sends": [],
                    "inserts": [], "clips": [], "automation": []}  # fmt: skip
    hecho.update(mas)
    if hecho["kind"] != "track":
        hecho["plays"] = []
    return hecho


def grupo(clave: str, nombre: str, nivel: float, salida: str, carpeta: str, **mas: Any) -> Pieza:
    """A stereo group."""
    return canal(clave, nombre, nivel, 0.0, salida, carpeta, kind="group", legs=2, **mas)


def bateria() -> list[Pieza]:
    """The kit and its group."""
    donde, aire = "Batería", ecu(corte_bajo(180), banda("high-shelf", 9000, 1.5, 0.7))
    return [
        canal("bomboint", "Bombo Int", -6.5, 0.0, "bateria", donde, clips=toma("bomboint"),
              inserts=[puerta(-34, -18), ecu(corte_bajo(35), banda("bell", 380, -4, 1.3), banda("bell", 3800, 2.5)),
                       compresor(-18, 4, 20, 110, 2.0)]),
        canal("bomboext", "Bombo Ext", -9.0, 0.0, "bateria", donde, clips=toma("bomboext"),
              inserts=[puerta(-36, -18), ecu(corte_bajo(30), banda("low-pass", 4000, q=0.71))]),
        canal("cajaarr", "Caja Arr", -7.0, 0.0, "bateria", donde, clips=toma("cajaarr"), sends=[envio("sala", -14)],
              inserts=[puerta(-30, -14), ecu(corte_bajo(90), banda("bell", 210, 1.5)),
                       compresor(-16, 3.5, 12, 100, 2.0)]),
        canal("cajaab", "Caja Ab", -13.0, 0.0, "bateria", donde, clips=toma("cajaab"),
              inserts=[polaridad(True), ecu(corte_bajo(160))], comment="polaridad invertida (contra Caja Arr)"),
        canal("timbal", "Timbal base", -10.0, 38.0, "bateria", donde, clips=toma("timbal"), sends=[envio("sala", -16)],
              inserts=[puerta(-28, -20), ecu(corte_bajo(60), banda("bell", 420, -4, 1.2))],
              comment="visto desde el batería"),
        canal("aereol", "Aéreo L", -9.5, -75.0, "bateria", donde, clips=toma("aereol"), inserts=[aire]),
        canal("aereor", "Aéreo R", -9.5, 75.0, "bateria", donde, clips=toma("aereor"),
              inserts=[ecu(corte_bajo(180), banda("high-shelf", 9000, 1.5, 0.7))]),
        grupo("bateria", "BATERÍA", -3.0, "banda", donde, inserts=[compresor(-14, 2, 30, 140, 1.0)]),
    ]  # fmt: skip


def instrumentos() -> list[Pieza]:
    """Bass, guitar, accordion with a microphone on each side, brass, and the group of the whole band."""
    donde = "Banda"
    return [
        canal("bajo", "Bajo DI", -8.0, 0.0, "banda", donde, clips=toma("bajo"),
              inserts=[ecu(corte_bajo(38), banda("bell", 250, -2)), compresor(-20, 4, 18, 150, 2.5)]),
        canal("gtr", "Gtr eléctrica", -11.0, -62.0, "banda", donde, clips=toma("gtr"), sends=[envio("sala", -18)],
              inserts=[ecu(corte_bajo(100), banda("bell", 2800, -1.5, 1.4))]),
        canal("acordi", "Acordeón Izq", -9.5, -35.0, "banda", donde, clips=toma("acordi"), sends=[envio("sala", -15)],
              inserts=[ecu(corte_bajo(75), banda("bell", 300, -2.0)), compresor(-20, 2.5, 15, 150, 1.0)],
              comment="lado bajos"),
        canal("acordd", "Acordeón Der", -9.0, 35.0, "banda", donde, clips=toma("acordd"), sends=[envio("sala", -15)],
              inserts=[ecu(corte_bajo(120), banda("bell", 3300, -1.5)), compresor(-20, 2.5, 15, 150, 1.0)],
              comment="lado teclado"),
        canal("trompeta", "Trompeta", -10.5, -50.0, "banda", donde, clips=toma("trompeta"), sends=[envio("sala", -12)],
              inserts=[ecu(corte_bajo(150), banda("bell", 1800, -1.5)), compresor(-18, 3, 8, 110, 1.0)]),
        canal("trombon", "Trombón", -10.0, 50.0, "banda", donde, clips=toma("trombon", "T1", "BIS"),
              sends=[envio("sala", -12)], inserts=[ecu(corte_bajo(85)), compresor(-18, 3, 8, 110, 1.0)],
              comment="no toca en Faro apagado"),
        grupo("banda", "BANDA", -2.0, "mezcla", donde,
              inserts=[ecu(banda("bell", 320, -1.0, 0.8)), compresor(-16, 1.8, 30, 180, 1.4)]),
    ]  # fmt: skip


def voces() -> list[Pieza]:
    """Lead, two backing singers, their group, and the announcer who goes to the mix by himself."""
    donde = "Voces"
    principal = toma("voz")
    principal[0]["end_s"] = round(T1_FIN + 9.0, 4)
    principal[0]["name"] = "Voz T1 + gracias"
    monta = [(0.0, -6.0), (T2 - 1.0, -6.0), (T2 + 1.0, -4.5), (T2_FIN, -4.5), (BIS - 2.0, -5.2), (BIS_FIN, -5.2)]
    eco = [(0.0, 1.0), (T1_FIN + 1.0, 0.0)]
    for desde, hasta in list(CANCIONES.values())[1:]:
        eco += [(desde - 0.5, 1.0), (hasta + 1.0, 0.0)]
    habla = [
        trozo("prueba de línea - NO", "locutor", 0.2, 2.4, (0.0, 0.0)),
        trozo("Locutor presenta", "locutor", 4.0, T1 - 2.2, (0.1, 0.6)),
        trozo("Locutor pide otra", "locutor", CORTE + 3.0, BIS - 4.0, (0.1, 0.6)),
        trozo("Locutor despide", "locutor", BIS_FIN + 7.0, FIN - 14.0, (0.1, 0.6)),
    ]
    habla[0].update(on=False, offset_s=11.5)
    hechos = [
        canal("voz", "Voz ppal", -6.0, 0.0, "voces", donde, clips=principal,
              sends=[envio("placa", -13), envio("eco", -18)],
              inserts=[ecu(corte_bajo(110), banda("bell", 280, -2.5), banda("bell", 2600, -1.5, 2.0)),
                       compresor(-20, 4, 6, 90, 3.0),
                       {"name": "De-esser", "kind": "de-esser", "on": True, "opaque": False,
                        "parameters": [dato("hz", "Frecuencia", 6500, "Hz"), dato("db", "Reducción", -5, "dB")]}],
              automation=[curva("fader", monta), curva("send:1:on", eco, "switch", "hold")]),
    ]  # fmt: skip
    for clave, nombre, pan in [("coro1", "Coro 1", -28.0), ("coro2", "Coro 2", 28.0)]:
        hechos.append(
            canal(clave, nombre, -11.0, pan, "voces", donde, clips=toma(clave), sends=[envio("placa", -12)],
                  inserts=[ecu(corte_bajo(140), banda("bell", 300, -3.0)), compresor(-22, 4, 6, 90, 2.0)])
        )  # fmt: skip
    hechos.append(grupo("voces", "VOCES", -1.0, "mezcla", donde, inserts=[compresor(-14, 1.6, 20, 150, 0.8)]))
    hechos.append(
        canal("locutor", "Locutor", -7.0, 0.0, "mezcla", "Locutor", clips=habla,
              inserts=[ecu(corte_bajo(120), banda("bell", 250, -3.0)), compresor(-22, 3.5, 8, 120, 3.0)],
              comment="seco, sin envíos")
    )  # fmt: skip
    return hechos


def publico() -> list[Pieza]:
    """Audience left, right and back, ridden together: low in the songs, high between them."""
    abierto, bajo = -4.0, -15.0
    puntos = [(0.0, abierto)]
    for desde, hasta in CANCIONES.values():
        puntos += [(desde - 2.0, abierto), (desde + 3.0, bajo), (hasta - 4.0, bajo), (hasta + 0.5, abierto)]
    lados = [("publ", "Público L", -100.0), ("pubr", "Público R", 100.0)]
    hechos = [
        canal(clave, nombre, -6.0, pan, "publico", "Público", clips=corrido(clave, MICROS[clave][3:]),
              inserts=[ecu(corte_bajo(130), banda("bell", 900, -1.5, 0.8))])
        for clave, nombre, pan in lados
    ]  # fmt: skip
    hechos.append(
        canal("fondo", "Público Fondo", -9.0, 0.0, "publico", "Público", legs=2, clips=fondo(),
              inserts=[ecu(corte_bajo(160), banda("low-pass", 9000, q=0.71, pendiente=6.0))],
              comment="grabadora aparte, alineada con la palmada")
    )  # fmt: skip
    ride = curva("fader", puntos)
    hechos.append(grupo("publico", "PÚBLICO", abierto, "mezcla", "Público", automation=[ride]))
    return hechos


def retornos() -> list[Pieza]:
    """The returns, the two-track of the desk and the mix bus."""

    def retorno(clave: str, nombre: str, nivel: float, inserciones: list[Pieza]) -> Pieza:
        """A stereo return."""
        return canal(clave, nombre, nivel, 0.0, "mezcla", "Efectos", kind="return", legs=2, inserts=inserciones)

    mesa = [
        trozo("2TR mesa 1a parte", "mesa", 0.0, CORTE + 0.02, (0.02, 0.02)),
        trozo("2TR mesa 2a parte", "mesa", CORTE, FIN, (0.02, 1.0)),
    ]
    maestro = canal("mezcla", "MEZCLA", 0.0, 0.0, "", "Efectos", kind="master", legs=2,
                    comment="corrección de auriculares: quitar SIEMPRE antes de exportar",
                    inserts=[ecu(corte_bajo(25), banda("high-shelf", 11000, 1.0, 0.7)),
                             compresor(-12, 1.5, 30, 200, 1.0),
                             {"name": "Limitador", "kind": "limiter", "on": True, "opaque": False,
                              "dynamics": {"threshold_db": -1.0, "release_ms": 100.0, "output_gain_db": 0.0},
                              "parameters": [dato("techo", "Techo", -1.0, "dBTP")]},
                             {"name": "Corrección auriculares", "kind": "monitor", "on": False,
                              "opaque": True}])  # fmt: skip
    del maestro["output"], maestro["folder"]
    return [
        retorno("sala", "Sala", -8.0, [reverb("Sala corta", 1.2, 10.0), ecu(corte_bajo(200))]),
        retorno("placa", "Placa voces", -7.0, [reverb("Placa", 1.8, 28.0), ecu(corte_bajo(260))]),
        retorno("eco", "Eco voz", -9.0, [eco_cinta(310.0, 22.0), ecu(corte_bajo(300), banda("low-pass", 4000))]),
        canal("mesa", "2TR mesa REF", -4.0, 0.0, "mezcla", "Referencia", legs=2, mute=True, clips=mesa,
              comment="mezcla de sala, solo para comparar, dejar en mute"),
        maestro,
    ]  # fmt: skip


def good() -> Sesion:
    """The session as it should be bounced."""
    tempos, beat = [], 0.0
    for _, bpm, beats in TRAMOS:
        tempos.append({"beat": beat, "bpm": bpm})
        beat += beats
    marcas = [{"time_s": inicio(n), "name": nombre} for n, (nombre, _, _) in enumerate(TRAMOS)]
    marcas.append({"time_s": CORTE, "name": "(corte espera)"})
    marcas.append({"time_s": FIN, "name": "FIN"})
    return {
        "format": "mixlint-session/1",
        "title": "La última lancha - en vivo - mezcla 3",
        "sample_rate_hz": 48000.0,
        "timeline": {"tempos": tempos, "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": sorted(marcas, key=lambda marca: marca["time_s"]),
        "channels": [*bateria(), *instrumentos(), *voces(), *publico(), *retornos()],
        "media": archivos(),
        "metadata": {"nota": "tempo tocado a mano, sin claqueta; entre temas 120 de relleno"},
    }


def pista(sesion: Sesion, nombre: str) -> Pieza:
    """The channel of a name."""
    hallada: Pieza = next(c for c in sesion["channels"] if c["name"] == nombre)
    return hallada


def coro_sin_correr(sesion: Sesion) -> None:
    """The wait was tightened by 12.5 s once more and one singer's encore was locked and stayed behind."""
    tarde = pista(sesion, "Coro 2")["clips"][-1]
    tarde["start_s"] = round(tarde["start_s"] + 12.5, 4)
    tarde["end_s"] = round(tarde["end_s"] + 12.5, 4)


def publico_arriba_en_bis(sesion: Sesion) -> None:
    """The two low points of the audience in the encore are missing."""
    ride = pista(sesion, "PÚBLICO")["automation"][0]
    quedan = [(t, v) for t, v in zip(ride["t"], ride["v"], strict=True) if not (BIS < t < BIS_FIN)]
    ride["t"], ride["v"] = [t for t, _ in quedan], [v for _, v in quedan]


def prueba_de_linea(sesion: Sesion) -> None:
    """The announcer's line check, muted as a clip, is on."""
    pista(sesion, "Locutor")["clips"][0]["on"] = True


def mesa_abierta(sesion: Sesion) -> None:
    """The desk's two-track was opened to compare and left open."""
    pista(sesion, "2TR mesa REF")["mute"] = False


def caja_sin_invertir(sesion: Sesion) -> None:
    """The lower snare microphone has lost its turned polarity."""
    pista(sesion, "Caja Ab")["inserts"][0]["parameters"][0]["value"] = False


def aereos_cruzados(sesion: Sesion) -> None:
    """The pans of the overheads are crossed against their names."""
    pista(sesion, "Aéreo L")["pan"], pista(sesion, "Aéreo R")["pan"] = 75.0, -75.0


def banda_catorce(sesion: Sesion) -> None:
    """The make-up gain of the band's compressor lost its point."""
    pista(sesion, "BANDA")["inserts"][1]["dynamics"]["output_gain_db"] = 14.0


def sala_a_medias(sesion: Sesion) -> None:
    """The room reverb came back from another preset at the mix of an insert."""
    pista(sesion, "Sala")["inserts"][0]["wet"] = 35.0


def coro_falta_archivo(sesion: Sesion) -> None:
    """The second file of one singer was not copied from the recorder's disk."""
    next(m for m in sesion["media"] if m["id"] == "coro1_B")["present"] = False


def publico_corto(sesion: Sesion) -> None:
    """The right audience microphone stops in mid-applause, its fade gone with the trimmed end."""
    ultimo = pista(sesion, "Público R")["clips"][-1]
    ultimo["end_s"] = round(FIN - 21.3, 4)
    ultimo["fade_out_s"] = 0.0


def correccion_puesta(sesion: Sesion) -> None:
    """The headphone correction on the mix bus is on."""
    pista(sesion, "MEZCLA")["inserts"][-1]["on"] = True


ACCEPTED: list[Pieza] = [
    {"channels": ["2TR mesa REF"], "why": "the desk's own mix, muted on purpose and only for comparing"},
    {"channels": ["Locutor"], "why": "dry, straight to the mix, with a muted line check clip kept at the start"},
    {"channels": ["Público Fondo"], "why": "a recorder of its own, so its place in the file differs from the others"},
    {"channels": ["Trombón"], "why": "rests in the second song"},
    {"channels": ["MEZCLA"], "why": "the headphone correction sits there switched off, the comment says so"},
]

FAULTS: list[Pieza] = [
    {
        "id": "coro-sin-correr",
        "class": "edits",
        "channels": ["Coro 2"],
        "grade": "hold",
        "says": "The encore of Coro 2 lies 12.5 s later than every other track, from the same point of the recording.",
        "plant": coro_sin_correr,
    },
    {
        "id": "publico-arriba-en-bis",
        "class": "automation",
        "channels": ["PÚBLICO"],
        "grade": "look",
        "says": "The audience stays at -4 dB through the encore; in the other songs it is ridden down to -15.",
        "plant": publico_arriba_en_bis,
    },
    {
        "id": "prueba-de-linea",
        "class": "audible-that-should-not-be",
        "channels": ["Locutor"],
        "grade": "hold",
        "says": "The clip 'prueba de línea - NO' of the announcer is on and sounds at the very start.",
        "plant": prueba_de_linea,
    },
    {
        "id": "mesa-abierta",
        "class": "twice",
        "channels": ["2TR mesa REF"],
        "grade": "hold",
        "says": "The desk's two-track, a reference to be left muted, plays along with the whole mix.",
        "plant": mesa_abierta,
    },
    {
        "id": "caja-sin-invertir",
        "class": "phase",
        "channels": ["Caja Ab", "Caja Arr"],
        "grade": "look",
        "says": "The comment says that the bottom snare is inverted, but its polarity tool does not invert.",
        "plant": caja_sin_invertir,
    },
    {
        "id": "aereos-cruzados",
        "class": "place",
        "channels": ["Aéreo L", "Aéreo R"],
        "grade": "look",
        "says": "Aéreo L is panned right and Aéreo R left, against their names and the floor tom.",
        "plant": aereos_cruzados,
    },
    {
        "id": "banda-catorce",
        "class": "headroom",
        "channels": ["BANDA"],
        "grade": "hold",
        "says": "The compressor on BANDA adds 14 dB; the other groups add about 1 dB.",
        "plant": banda_catorce,
    },
    {
        "id": "sala-a-medias",
        "class": "ambience",
        "channels": ["Sala"],
        "grade": "look",
        "says": "The reverb on the return Sala is at 35 per cent wet, so the dry sound comes back with it.",
        "plant": sala_a_medias,
    },
    {
        "id": "coro-falta-archivo",
        "class": "files",
        "channels": ["Coro 1"],
        "grade": "hold",
        "says": "The B file of Coro 1 is missing; the encore has no first backing voice.",
        "plant": coro_falta_archivo,
    },
    {
        "id": "publico-corto",
        "class": "end",
        "channels": ["Público R"],
        "grade": "look",
        "says": "Público R stops 21 s before the end without a fade while the left and the back run on and fade out.",
        "plant": publico_corto,
    },
    {
        "id": "correccion-puesta",
        "class": "hand-over",
        "channels": ["MEZCLA"],
        "grade": "hold",
        "says": "The headphone correction on the mix bus is on and would be printed.",
        "plant": correccion_puesta,
    },
]
