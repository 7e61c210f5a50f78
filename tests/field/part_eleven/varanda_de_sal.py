"""Varanda de Sal: um fado, voice, guitarra, viola and acoustic bass, played together in one room, 96 kHz.

No click and no isolation: everybody is on every microphone. The song is take 2 with take 4 from the interlude to the
end of the third verse, cut on all ten microphones at the same instants. The engineer lines the close microphones up
to the main pair by delay (distances in the comments), builds the picture on the pair, puts each instrument where it
sits in it, dips the voice microphone when nobody sings, and takes the room's tail out with the mix fader.
"""

from __future__ import annotations

from typing import Any

Sessao = dict[str, Any]
Peca = dict[str, Any]

TAXA = 96000.0
SOM_M_S = 343.0

INTRO, Q1, Q2, GUITARRADA, Q3, Q4, REMATE, ACORDE, FIM = 0.0, 17.2, 52.64, 88.4, 112.9, 148.3, 183.52, 205.8, 219.0
CORTE_1, CORTE_2 = 88.12, 147.86

# where the song's zero lies in each take, and after the second cut
T2_AVANCO, T4_AVANCO, T2_FINAL = 0.85, 6.412, -0.386
DURA = {"T2": 231.404, "T3": 236.91, "T4": 238.077}

MARCAS: list[tuple[float, str]] = [
    (INTRO, "Intro"),
    (Q1, "Quadra 1"),
    (Q2, "Quadra 2"),
    (GUITARRADA, "Guitarrada (T4 ->)"),
    (Q3, "Quadra 3"),
    (Q4, "Quadra 4 (T2 ->)"),
    (REMATE, "Remate"),
    (ACORDE, "Acorde final"),
    (FIM, "Fim"),
]

# id, name, file stem, output, fader, pan, metres to the pair (0: not delayed)
MICROFONES: list[tuple[str, str, str, str, float, float, float]] = [
    ("voz", "Voz", "Voz", "mist", -4.0, 0.0, 3.0),
    ("gp", "Guitarra Perto", "GuitPerto", "instr", -8.5, -35.0, 2.6),
    ("gc", "Guitarra Corpo", "GuitCorpo", "instr", -13.0, -35.0, 2.7),
    ("vb", "Viola Boca", "ViolaBoca", "instr", -10.0, 35.0, 3.2),
    ("vr", "Viola Braco", "ViolaBraco", "instr", -13.5, 35.0, 3.3),
    ("bm", "Baixo Mic", "BaixoMic", "instr", -9.0, 8.0, 3.8),
    ("bd", "Baixo DI", "BaixoDI", "instr", -15.0, 8.0, 4.2),
    ("pe", "Par Esq", "ParEsq", "sala", -6.0, -100.0, 0.0),
    ("pd", "Par Dir", "ParDir", "sala", -6.0, 100.0, 0.0),
    ("sf", "Sala Fundo", "SalaFundo", "sala", -16.0, 0.0, 0.0),
]

COMENTARIOS: dict[str, str] = {
    "voz": "3,0 m do par",
    "gp": "2,6 m do par, senta-se a esquerda",
    "gc": "2,7 m do par, mesma guitarra",
    "vb": "3,2 m do par, direita",
    "vr": "3,3 m do par, direita",
    "bm": "3,8 m do par, meio para a direita",
    "bd": "pickup, acertado pelo mic: conta como 4,2 m",
    "pe": "par principal, 60 cm",
    "pd": "par principal, 60 cm",
    "sf": "fundo da sala, sem atraso",
    "t3": "tomada 3, so referencia da letra, nao usar",
    "placa": "quase so para a voz",
    "mist": "limitador so por seguranca, tecto -1 dBTP",
}

ENVIOS: dict[str, list[tuple[str, float]]] = {
    "voz": [("placa", -13.0), ("camara", -19.0)],
    "gp": [("placa", -20.5), ("camara", -17.0)],
    "gc": [("camara", -20.0)],
    "vb": [("placa", -24.0), ("camara", -17.5)],
    "vr": [("camara", -20.0)],
}


def banda(kind: str, freq: float, gain: float = 0.0, q: float = 0.8) -> Peca:
    """A bell or a shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def corte(kind: str, freq: float, slope: float = 12.0) -> Peca:
    """A high-pass or a low-pass."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def inserto(name: str, kind: str, **mais: Any) -> Peca:
    """An insert, switched on, with its settings shown."""
    return {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": False, **mais}


def parametro(ident: str, name: str, value: float | bool | str, unit: str) -> Peca:
    """A parameter as the export lists it."""
    return {"id": ident, "name": name, "value": value, "unit": unit}


def eq(*bandas: Peca) -> Peca:
    """An equalizer."""
    return inserto("EQ", "equalizer", equalizer={"bands": list(bandas)})


def compressor(threshold: float, ratio: float, attack: float, release: float, ganho: float) -> Peca:
    """A gentle compressor."""
    return inserto(
        "Compressor",
        "compressor",
        dynamics={
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": ganho,
            "auto_makeup": False,
        },
    )


def reverb(name: str, decay: float, pre: float) -> Peca:
    """A reverb of a return, wholly wet."""
    return inserto(name, "reverb", wet=100.0, pre_delay_ms=pre, parameters=[parametro("decay", "Decay", decay, "s")])


def atraso(metros: float) -> Peca:
    """The delay that lines a close microphone up to the pair."""
    ms = round(metros / SOM_M_S * 1000.0, 1)
    return inserto("Atraso", "utility", wet=100.0, parameters=[parametro("delay", "Atraso", ms, "ms")])


def insertos() -> dict[str, list[Peca]]:
    """The inserts, without the delays."""
    limitador = {"threshold_db": -2.0, "release_ms": 120.0, "input_gain_db": 0.0, "output_gain_db": 0.0}
    return {
        "voz": [
            eq(corte("high-pass", 75.0), banda("bell", 240.0, -2.0), banda("high-shelf", 10000.0, 1.0)),
            compressor(-20.0, 2.0, 20.0, 180.0, 1.5),
            inserto("De-esser", "de-esser", parameters=[parametro("freq", "Frequencia", 7200.0, "Hz")]),
        ],
        "gp": [eq(corte("high-pass", 110.0), banda("bell", 2900.0, -1.5, 1.4))],
        "gc": [eq(corte("high-pass", 95.0), corte("low-pass", 9000.0))],
        "vb": [eq(corte("high-pass", 70.0), banda("bell", 165.0, -3.0, 1.6))],
        "vr": [eq(corte("high-pass", 90.0), banda("high-shelf", 7000.0, 1.0))],
        "bm": [eq(corte("high-pass", 34.0), banda("bell", 130.0, -1.5)), compressor(-22.0, 2.0, 30.0, 220.0, 1.0)],
        "bd": [eq(corte("high-pass", 38.0), corte("low-pass", 1200.0))],
        "pe": [eq(corte("high-pass", 48.0), banda("high-shelf", 9000.0, 0.8))],
        "pd": [eq(corte("high-pass", 48.0), banda("high-shelf", 9000.0, 0.8))],
        "sf": [eq(corte("high-pass", 120.0), corte("low-pass", 8000.0))],
        "instr": [compressor(-16.0, 1.4, 40.0, 260.0, 0.5)],
        "sala": [eq(banda("bell", 310.0, -1.0, 0.7))],
        "placa": [reverb("Placa", 1.8, 32.0), eq(corte("high-pass", 240.0), corte("low-pass", 8500.0))],
        "camara": [reverb("Camara", 1.1, 12.0), eq(corte("high-pass", 180.0), corte("low-pass", 7500.0))],
        "mist": [
            eq(banda("low-shelf", 80.0, -0.5), banda("high-shelf", 12000.0, 0.7)),
            compressor(-14.0, 1.3, 40.0, 300.0, 0.5),
            inserto(
                "Limitador", "limiter", dynamics=limitador, parameters=[parametro("ceiling", "Tecto", -1.0, "dBTP")]
            ),
            inserto("Medidor", "analyser"),
        ],
    }


def clipe(stem: str, take: str, start: float, end: float, avanco: float, fades: tuple[float, float]) -> Peca:
    """A stretch of a take; avanco is added to the song's time to find the place in the take."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": f"{stem}_{take}",
        "plays": "audio",
        "file": f"{stem}_{take}",
        "offset_s": round(start + avanco, 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def montagem(stem: str) -> list[Peca]:
    """The edit, the same on every microphone: T2, T4, T2, crossfaded."""
    return [
        clipe(stem, "T2", INTRO, CORTE_1, T2_AVANCO, (0.3, 0.06)),
        clipe(stem, "T4", CORTE_1, CORTE_2, T4_AVANCO, (-0.06, 0.09)),
        clipe(stem, "T2", CORTE_2, FIM, T2_FINAL, (-0.09, 2.5)),
    ]


def rampa(points: list[tuple[float, float]]) -> list[Peca]:
    """A fader lane of straight lines."""
    return [
        {
            "target": "fader",
            "scale": "dB",
            "shape": "linear",
            "t": [round(t, 3) for t, _ in points],
            "v": [v for _, v in points],
        }
    ]


def cavalgada() -> dict[str, list[Peca]]:
    """The rides: the voice down while nobody sings, both guitarra microphones up a little for the interlude."""

    def guitarra(base: float) -> list[tuple[float, float]]:
        """A step of a decibel and a half for the interlude."""
        cima = base + 1.5
        return [(0.0, base), (CORTE_1, base), (GUITARRADA + 0.6, cima), (Q3 - 0.9, cima), (Q3 + 0.4, base)]

    voz = [(0.0, -10.0), (Q1 - 0.9, -10.0), (Q1 - 0.35, -4.0), (41.2, -4.0), (41.5, -5.2), (44.8, -5.2), (45.2, -4.0)]
    voz += [(GUITARRADA - 0.2, -4.0), (GUITARRADA + 0.8, -10.0), (Q3 - 0.9, -10.0), (Q3 - 0.35, -4.0)]
    voz += [(REMATE - 0.4, -4.0), (REMATE, -3.2), (ACORDE + 1.0, -3.2), (ACORDE + 3.0, -8.0)]
    return {
        "voz": rampa(voz),
        "gp": rampa(guitarra(-8.5)),
        "gc": rampa(guitarra(-13.0)),
        "mist": rampa([(0.0, 0.0), (212.8, 0.0), (216.5, -18.0), (218.4, -60.0), (FIM, -200.0)]),
    }


def faixa(ident: str, name: str, kind: str, output: str | None, fader: float, **mais: Any) -> Peca:
    """A strip with what stands in the tables."""
    made: Peca = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 1 if kind == "track" else 2,
        "plays": ["audio"] if kind == "track" else [],
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "sends": [{"to": to, "level_db": level, "tap": "post", "on": True} for to, level in ENVIOS.get(ident, [])],
        "inserts": insertos().get(ident, []),
        "clips": [],
        "automation": cavalgada().get(ident, []),
        "comment": COMENTARIOS.get(ident, ""),
    }
    if output is not None:
        made["output"] = output
    return made | mais


def ficheiros() -> list[Peca]:
    """The files: every microphone of both takes used, and the voice of take 3."""
    names = [(stem, take) for take in ("T2", "T4") for _, _, stem, *_ in MICROFONES] + [("Voz", "T3")]
    return [
        {
            "id": f"{stem}_{take}",
            "path": f"Audio/{take}/{stem}_{take}.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": TAXA,
            "duration_s": DURA[take],
        }
        for stem, take in names
    ]


def good() -> Sessao:
    """The session as it should be bounced."""
    channels: list[Peca] = []
    for ident, name, stem, output, fader, pan, metros in MICROFONES:
        strip = faixa(ident, name, "track", output, fader, pan=pan, clips=montagem(stem))
        if metros:
            strip["inserts"].insert(0, atraso(metros))
        channels.append(strip)
    reserva = [clipe("Voz", "T3", Q1 - 1.0, REMATE, 4.9, (0.05, 0.05))]
    channels += [
        faixa("t3", "Voz T3 reserva", "track", "mist", -4.0, mute=True, clips=reserva),
        faixa("instr", "INSTR", "group", "mist", -1.0),
        faixa("sala", "SALA", "group", "mist", 0.0),
        faixa("placa", "Placa", "return", "mist", -5.0),
        faixa("camara", "Camara", "return", "mist", -6.0),
        faixa("mist", "MISTURA", "master", None, 0.0),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Varanda de Sal",
        "sample_rate_hz": TAXA,
        "timeline": {"unknown": "tocado sem clique, sem mapa de tempo", "settle": ""},
        "markers": [{"time_s": time, "name": name} for time, name in MARCAS],
        "channels": channels,
        "media": ficheiros(),
        "metadata": {"tomadas": "T2, T4 (Guitarrada e Quadra 3), T2", "entrega": "96 kHz / 24 bit, tecto -1 dBTP"},
    }


def canal(session: Sessao, name: str) -> Peca:
    """The channel of a name."""
    found: Peca = next(c for c in session["channels"] if c["name"] == name)
    return found


def virgula(session: Sessao) -> None:
    """The decimal point of one delay is gone."""
    setting = canal(session, "Viola Braco")["inserts"][0]["parameters"][0]
    setting["value"] = round(setting["value"] * 10.0)


def fora_da_montagem(session: Sessao) -> None:
    """One microphone stayed in take 2 over the stretch where all others are in take 4."""
    stem = "GuitPerto"
    canal(session, "Guitarra Perto")["clips"][1] = clipe(stem, "T2", CORTE_1, CORTE_2, T2_AVANCO, (-0.06, 0.09))


def volta_tarde(session: Sessao) -> None:
    """The voice's way back up after the interlude lies seven seconds too late."""
    lane = canal(session, "Voz")["automation"][0]
    lane["t"] = [round(t + 7.2, 3) if Q3 - 1.0 < t < Q3 else t for t in lane["t"]]


def par_torto(session: Sessao) -> None:
    """One side of the main pair has been knocked down."""
    canal(session, "Par Dir")["fader_db"] = -10.4


def placa_meio_seca(session: Sessao) -> None:
    """The plate on the return is set like an insert."""
    canal(session, "Placa")["inserts"][0]["wet"] = 28.0


def reserva_aberta(session: Sessao) -> None:
    """The reference take of the voice is open."""
    canal(session, "Voz T3 reserva")["mute"] = False


def tecto_sem_sinal(session: Sessao) -> None:
    """The ceiling has lost its minus."""
    canal(session, "MISTURA")["inserts"][2]["parameters"][0]["value"] = 1.0


def ficheiro_longe(session: Sessao) -> None:
    """One file lies on another disk, outside of the session's folder."""
    for item in session["media"]:
        if item["id"] == "BaixoDI_T4":
            item["path"] = "D:/Gravacoes_provisorio/BaixoDI_T4.wav"
            item["place"] = "outside"


def fim_cedo(session: Sessao) -> None:
    """The closing fade of the mix lies in the last lines of the song."""
    lane = canal(session, "MISTURA")["automation"][0]
    lane["t"] = [t if t == 0.0 else round(t - 22.0, 3) for t in lane["t"]]


def guitarra_dos_dois_lados(session: Sessao) -> None:
    """The second microphone of the guitarra is on the other side."""
    canal(session, "Guitarra Corpo")["pan"] = 35.0


def clipe_a_dobrar(session: Sessao) -> None:
    """The last clip of the bass microphone lies twice in the same place."""
    clips = canal(session, "Baixo Mic")["clips"]
    clips.append(dict(clips[-1]))


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Voz T3 reserva"], "why": "reference take, muted on purpose and said so"},
    {"channels": ["Sala Fundo"], "why": "far room microphone, neither delayed nor panned on purpose"},
    {"channels": ["Baixo DI"], "why": "delayed further than the microphone, the comment says how it was found"},
    {"channels": ["MISTURA"], "why": "the mix fader itself takes the room's tail out at the end"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "virgula-no-atraso",
        "class": "phase",
        "channels": ["Viola Braco"],
        "grade": "look",
        "says": "Viola Braco is delayed by 96 ms where 3,3 m give 9.6; its neighbour Viola Boca stands at 9.3 ms.",
        "plant": virgula,
    },
    {
        "id": "fora-da-montagem",
        "class": "edits",
        "channels": ["Guitarra Perto"],
        "grade": "hold",
        "says": "From the Guitarrada to Quadra 4 Guitarra Perto still plays T2 while every other microphone plays T4.",
        "plant": fora_da_montagem,
    },
    {
        "id": "voz-volta-tarde",
        "class": "automation",
        "channels": ["Voz"],
        "grade": "look",
        "says": "The voice comes back up seven seconds after Quadra 3 has begun; elsewhere it is up before the marker.",
        "plant": volta_tarde,
    },
    {
        "id": "par-torto",
        "class": "level",
        "channels": ["Par Dir", "Par Esq"],
        "grade": "look",
        "says": "Par Dir stands 4.4 dB below Par Esq, so the main pair leans to the left.",
        "plant": par_torto,
    },
    {
        "id": "placa-meio-seca",
        "class": "ambience",
        "channels": ["Placa"],
        "grade": "look",
        "says": "The plate on its return is only 28 per cent wet, so it returns mostly dry voice; Camara is at 100.",
        "plant": placa_meio_seca,
    },
    {
        "id": "reserva-aberta",
        "class": "audible-that-should-not-be",
        "channels": ["Voz T3 reserva"],
        "grade": "hold",
        "says": "The reference take of the voice is not muted and sounds with the real one, against its comment.",
        "plant": reserva_aberta,
    },
    {
        "id": "tecto-sem-sinal",
        "class": "headroom",
        "channels": ["MISTURA"],
        "grade": "hold",
        "says": "The limiter's ceiling is +1 dBTP, above full scale; comment and delivery say -1.",
        "plant": tecto_sem_sinal,
    },
    {
        "id": "ficheiro-longe",
        "class": "hand-over",
        "channels": ["Baixo DI"],
        "grade": "note",
        "says": "BaixoDI_T4 lies on another disk, unlike all other files; it will not travel with the session.",
        "plant": ficheiro_longe,
    },
    {
        "id": "fim-cedo",
        "class": "end",
        "channels": ["MISTURA"],
        "grade": "hold",
        "says": "The mix fades out during the Remate and is silent before the last chord, which all clips still play.",
        "plant": fim_cedo,
    },
    {
        "id": "guitarra-dos-dois-lados",
        "class": "place",
        "channels": ["Guitarra Corpo"],
        "grade": "look",
        "says": "Guitarra Corpo is panned right; the same guitarra's other microphone is left, where it sits.",
        "plant": guitarra_dos_dois_lados,
    },
    {
        "id": "clipe-a-dobrar",
        "class": "twice",
        "channels": ["Baixo Mic"],
        "grade": "hold",
        "says": "The last clip of Baixo Mic lies twice in the same place, so the bass is 6 dB louder from Quadra 4 on.",
        "plant": clipe_a_dobrar,
    },
]
