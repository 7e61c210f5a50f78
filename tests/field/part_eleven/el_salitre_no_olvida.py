"""El salitre no olvida: eight minutes of radio drama with two songs in it.

A narrator, a grandson and his grandmother; a kitchen, a beach and a telephone call; foley cut to the lines; four
strings and a room pair, recorded cue by cue (M1 to M3 under the words, and in both songs). The drama runs on a map of
60, so that a beat is a second; the songs have their own tempo and metre. Everything ends in the credits, over the sea.

The engineer works in groups that become stems (dialogue, foley, ambiences, strings, songs), keeps the narrator dry
and in the middle, writes the kitchen's small room and the telephone as switches, and ducks the sea under every
narrated line. The string spots are delayed to the room pair.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Row = dict[str, Any]

TEMPI = [(0, 60.0), (120, 72.0), (240, 60.0), (360, 100.0), (504, 60.0)]
SCENES = {
    "Prólogo": 0,
    "Esc 1 Cocina": 48,
    "Canción 1: Nana del muelle": 120,
    "Esc 2 Playa": 240,
    "Esc 3 Teléfono": 312,
    "Canción 2: Candil de popa": 360,
    "Epílogo": 504,
    "Créditos": 548,
    "Fin": 564,
}


def at(beat: float) -> float:
    """The second of a beat (quarters, from 0)."""
    total = 0.0
    for place, (first, bpm) in enumerate(TEMPI):
        last = TEMPI[place + 1][0] if place + 1 < len(TEMPI) else beat
        if beat > first:
            total += (min(beat, last) - first) * 60.0 / bpm
    return round(total, 6)


P, E1, C1, E2, E3, C2, EP, CR, FIN = (at(b) for b in SCENES.values())
ROOM = 420.0
NARRATED = [
    *((P + 4.0, 11.0), (P + 18.0, 13.0), (P + 35.0, 10.5), (E1 + 2.0, 5.0), (E1 + 63.5, 6.5)),
    *((E2 + 2.0, 9.0), (E3 + 1.0, 4.5), (EP + 3.6, 11.0), (EP + 17.6, 14.0), (CR + 1.6, 11.0)),
]
GRANDSON = [
    *((E1 + 10.0, 5.0), (E1 + 22.0, 4.5), (E1 + 34.0, 6.0), (E1 + 49.0, 4.0)),
    *((E2 + 16.0, 5.0), (E2 + 30.0, 7.0), (E2 + 48.0, 7.0), (E2 + 63.0, 4.0)),
    *((E3 + 8.0, 6.0), (E3 + 21.0, 5.0), (E3 + 35.0, 5.0), (EP + 33.5, 3.5)),
]
GRANDMOTHER = [
    *((E1 + 16.0, 5.0), (E1 + 27.5, 5.5), (E1 + 41.0, 7.0), (E1 + 54.0, 8.0)),
    *((E2 + 22.0, 7.0), (E2 + 38.0, 8.5), (E2 + 56.0, 6.0)),
    *((E3 + 15.0, 5.0), (E3 + 27.0, 7.0), (E3 + 41.0, 4.0)),
]
CUES = {
    "m1": (P + 20.0, P + 52.0, 2.5),
    "c1": (at(144), C1 + 101.0, 1.2),
    "m2": (E2 + 42.0, E2 + 73.5, 2.5),
    "c2": (at(376), C2 + 87.6, 1.4),
    "m3": (EP + 13.6, FIN, 2.0),
}
PROPS = {
    "puerta_entra": (E1 + 0.6, 1.4),
    "llaves_mesa": (E1 + 8.2, 1.2),
    "puerta_sale": (E3 + 46.4, 1.5),
    "pasos_baldosa_1": (E1 + 5.5, 4.0),
    "pasos_baldosa_2": (E1 + 70.2, 1.6),
    "pasos_arena_1": (E2 + 11.6, 4.0),
    "pasos_arena_2": (E2 + 67.4, 4.2),
    "taza": (E1 + 26.6, 0.8),
    "cafetera": (E1 + 40.2, 5.5),
    "auricular_sube": (E3 + 5.8, 1.8),
    "auricular_baja": (E3 + 45.3, 1.0),
}


def clip(
    name: str,
    media: str,
    start: float,
    length: float,
    offset: float,
    fades: tuple[float, float] = (0.04, 0.08),
    gain: float = 0.0,
) -> Row:
    """A clip by its start and length."""
    return {
        "start_s": round(start, 6),
        "end_s": round(start + length, 6),
        "name": name,
        "plays": "audio",
        "file": media,
        "offset_s": round(offset, 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": gain,
        "on": True,
    }


def lines(short: str, media: str, spoken: list[tuple[float, float]], gains: dict[int, float]) -> list[Row]:
    """An actor's lines, taken one after another from the reading."""
    made, read = [], 6.0
    for number, (start, length) in enumerate(spoken, 1):
        made.append(clip(f"{short} {number:02d}", media, start, length, read, gain=gains.get(number, 0.0)))
        read += length + 3.2
    return made


def props(*names: str, **gains: float) -> list[Row]:
    """Foley, one file to a movement."""
    return [clip(n, n, PROPS[n][0], PROPS[n][1], 0.4, (0.01, 0.12), gains.get(n, 0.0)) for n in names]


def cues(mic: str) -> list[Row]:
    """A string microphone through all five cues."""
    made = []
    for cue, (start, end, out) in CUES.items():
        made.append(clip(f"{mic} {cue.upper()}", f"{mic}_{cue}", start, end - start, 1.0, (0.05, out)))
    return made


def song(stem: str, first: list[tuple[int, int]], second: list[tuple[int, int]], tail: bool) -> list[Row]:
    """A part of both songs by bars; ``tail`` lets the last note of each ring."""
    made = []
    for tune, start, long, spans in (("c1", C1, 2.5, first), ("c2", C2, 2.4, second)):
        for number, (a, b) in enumerate(spans, 1):
            begin = start + (a - 1) * long - (0.0 if tail else 0.3)
            end = start + (b - 1) * long + (1.0 if tail else -0.4)
            fades = (0.01, 0.9) if tail else (0.05, 0.12)
            name = f"{stem} {tune.upper()}" + (f" {number}" if len(spans) > 1 else "")
            made.append(clip(name, f"{stem}_{tune}", begin, end - begin, begin - start + 2.0, fades))
    return made


def equalizer(*bands: tuple[str, float, float]) -> Row:
    """An equalizer; the third number is a slope for cuts and a gain for the rest."""
    made: list[Row] = []
    for kind, freq, amount in bands:
        if kind.endswith("-pass"):
            made.append({"kind": kind, "freq_hz": freq, "slope_db_per_oct": amount, "on": True})
        else:
            made.append({"kind": kind, "freq_hz": freq, "gain_db": amount, "q": 1.0, "on": True})
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": made}}


def level(kind: str, name: str, threshold: float, **settings: float) -> Row:
    """A compressor, expander or limiter."""
    dynamics = {"threshold_db": threshold, **settings}
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": dynamics}


def closed(name: str, kind: str, on: bool = True) -> Row:
    """A processor without readable settings."""
    return {"name": name, "kind": kind, "on": on, "opaque": True}


def telephone() -> Row:
    """The narrow band of the call; off until its scene."""
    found = equalizer(("high-pass", 420.0, 24.0), ("low-pass", 3200.0, 24.0))
    return found | {"name": "Teléfono", "kind": "filter", "on": False}


def lag(milliseconds: float) -> Row:
    """The delay that lays a spot on the room pair."""
    value = {"id": "ms", "name": "Retardo", "value": milliseconds, "unit": "ms", "low": 0.0, "high": 100.0}
    return {"name": "Retardo", "kind": "utility", "on": True, "opaque": False, "parameters": [value]}


def reverb(name: str, decay: float, pre_delay: float) -> Row:
    """A reverb of a return."""
    value = {"id": "decay", "name": "Caída", "value": decay, "unit": "s"}
    fixed: Row = {"name": name, "kind": "reverb", "on": True, "opaque": False, "wet": 100.0}
    return fixed | {"pre_delay_ms": pre_delay, "parameters": [value]}


def send(to: str, amount: float, on: bool = True) -> Row:
    """A post-fader send."""
    return {"to": to, "level_db": amount, "pan": 0.0, "tap": "post", "on": on}


def switch(target: str, *points: tuple[float, int]) -> Row:
    """Something switched on and off along the play."""
    times, values = [round(t, 6) for t, _ in points], [float(v) for _, v in points]
    return {"target": target, "scale": "switch", "shape": "hold", "t": times, "v": values}


def ride(*points: tuple[float, float]) -> Row:
    """A fader ride in straight lines."""
    times, values = [round(t, 6) for t, _ in points], [v for _, v in points]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": values}


def ducked(base: float, by: float) -> Row:
    """The sea goes down under each narrated line of its scenes."""
    points = [(0.0, base)]
    for start, length in NARRATED:
        if not (E1 <= start < E2 or E3 <= start < EP):
            end = start + length
            points += [(start - 0.8, base), (start - 0.2, base - by), (end + 0.2, base - by), (end + 1.0, base)]
    return ride(*points)


def strip(kind: str, ident: str, name: str, legs: int, fader: float, pan: float, to: str, **more: Any) -> Row:
    """A channel; lists that are not given are empty."""
    made: Row = {"id": ident, "name": name, "kind": kind, "legs": legs, "plays": ["audio"] if kind == "track" else []}
    made |= {"fader_db": fader, "pan": pan, "mute": False, "solo": False, "output": to}
    made |= {"sends": [], "inserts": [], "clips": [], "automation": []}
    return made | more


def speech() -> list[Row]:
    """Narrator, her rehearsal, and the two actors."""

    def chain(low: float, floor: float, *extra: Row) -> list[Row]:
        """What every voice goes through."""
        return [
            equalizer(("high-pass", low, 18.0), ("bell", 280.0, -1.5), ("bell", 3800.0, 1.0)),
            level("expander", "Expansor", floor, ratio=2.0, range_db=-10.0, attack_ms=2.0, release_ms=220.0),
            level("compressor", "Comp", -22.0, ratio=3.0, attack_ms=8.0, release_ms=140.0, output_gain_db=3.0),
            *extra,
            closed("De-eser", "de-esser"),
        ]

    rehearsal = [(s + 0.3, long + 0.6) for s, long in NARRATED if s < E1 or s >= EP]
    return [
        strip(
            *("track", "nar", "NARRADORA", 1, -4.0, 0.0, "dia"),
            inserts=chain(75.0, -54.0),
            clips=lines("narr", "narradora_toma_b", NARRATED, {2: 1.0, 6: -1.0, 9: 1.5}),
            comment="seca y siempre al centro",
        ),
        strip(
            *("track", "ens", "NARRADORA ensayo", 1, -4.0, 0.0, "dia"),
            mute=True,
            clips=lines("ensayo", "narradora_ensayo", rehearsal, {}),
            comment="lectura de prueba, solo para tiempos",
        ),
        strip(
            *("track", "tom", "TOMÁS", 1, -5.0, -14.0, "dia"),
            inserts=chain(80.0, -52.0, telephone()),
            sends=[send("coc", -15.0, on=False)],
            clips=lines("tomás", "tomas_toma_a", GRANDSON, {3: -1.5, 7: 1.0, 12: 2.0}),
            automation=[
                switch("send:0:on", (0.0, 0), (E1, 1), (C1, 0)),
                switch("insert:3:on", (0.0, 0), (E3 + 7.0, 1), (E3 + 45.0, 0)),
            ],
            comment="filtro de teléfono solo en Esc 3",
        ),
        strip(
            *("track", "abu", "ABUELA", 1, -4.5, 14.0, "dia"),
            inserts=chain(90.0, -55.0),
            sends=[send("coc", -15.5, on=False)],
            clips=lines("abuela", "abuela_toma_a", GRANDMOTHER, {4: -1.0, 6: 1.5}),
            automation=[switch("send:0:on", (0.0, 0), (E1, 1), (C1, 0), (E3, 1), (C2, 0))],
            comment="en Esc 3 está en la cocina",
        ),
    ]


def sounds() -> list[Row]:
    """Foley and ambiences."""
    tiles = switch("send:0:on", (0.0, 0), (E1, 1), (C1, 0))
    return [
        strip(
            *("track", "pas", "Pasos", 1, -13.0, -6.0, "fol"),
            inserts=[equalizer(("high-pass", 70.0, 12.0))],
            sends=[send("coc", -16.0, on=False)],
            clips=props("pasos_baldosa_1", "pasos_baldosa_2", "pasos_arena_1", "pasos_arena_2", pasos_arena_2=1.5),
            automation=[tiles],
        ),
        strip(
            *("track", "pue", "Puerta y llaves", 1, -11.0, -25.0, "fol"),
            inserts=[equalizer(("high-pass", 60.0, 12.0), ("bell", 500.0, -2.0))],
            sends=[send("coc", -14.0)],
            clips=props("puerta_entra", "llaves_mesa", "puerta_sale"),
        ),
        strip(
            *("track", "obj", "Objetos", 1, -12.0, 16.0, "fol"),
            inserts=[equalizer(("high-pass", 110.0, 12.0))],
            sends=[send("coc", -15.0)],
            clips=props("taza", "cafetera", "auricular_sube", "auricular_baja", cafetera=-2.0),
        ),
        strip(
            *("track", "mar", "AMB Mar", 2, -14.0, 0.0, "amb"),
            inserts=[equalizer(("high-pass", 55.0, 12.0), ("bell", 2500.0, -2.0))],
            clips=[
                clip("mar prólogo", "mar_noche", P, 49.6, 20.0, (3.0, 3.0)),
                clip("mar playa", "mar_dia", E2 - 4.0, E3 - E2 + 4.8, 15.0, (4.0, 2.5), 1.0),
                clip("mar final", "mar_noche", EP - 3.0, FIN - EP + 3.0, 84.0, (4.0, 2.0)),
            ],
            automation=[ducked(-14.0, 7.0)],
        ),
        strip(
            *("track", "aco", "AMB Cocina", 2, -19.0, 0.0, "amb"),
            inserts=[equalizer(("high-pass", 90.0, 12.0))],
            clips=[
                clip("cocina esc 1", "cocina_reloj", E1 - 1.5, C1 - E1 + 4.0, 10.0, (2.0, 3.0)),
                clip("cocina esc 3", "cocina_reloj", E3 - 1.5, C2 - E3 + 3.5, 96.0, (2.0, 2.0)),
            ],
        ),
        strip(
            *("track", "vie", "Viento", 2, -21.0, 0.0, "amb"),
            inserts=[equalizer(("high-pass", 80.0, 12.0), ("low-pass", 6000.0, 12.0))],
            clips=[clip("viento playa", "viento_duna", E2 + 12.0, 61.0, 30.0, (4.0, 3.0))],
            comment="entra cuando calla la narradora",
        ),
    ]


def music() -> list[Row]:
    """Strings and the songs' three players."""
    made = []
    for ident, name, mic, fader, pan, delay, low, amount in (
        ("vn1", "Violín 1", "vn1", -13.0, -52.0, 9.2, 170.0, -15.0),
        ("vn2", "Violín 2", "vn2", -13.5, -22.0, 8.6, 170.0, -15.0),
        ("vla", "Viola", "vla", -13.0, 20.0, 9.0, 110.0, -16.0),
        ("vlc", "Chelo", "vlc", -12.5, 46.0, 9.8, 55.0, -18.0),
    ):
        made.append(
            strip(
                *("track", ident, name, 1, fader, pan, "cue"),
                inserts=[lag(delay), equalizer(("high-pass", low, 12.0))],
                sends=[send("sal", amount)],
                clips=cues(mic),
            )
        )
    made.append(
        strip(
            *("track", "par", "Par sala", 2, -8.0, 0.0, "cue"),
            inserts=[equalizer(("high-pass", 45.0, 12.0), ("high-shelf", 9000.0, 1.0))],
            sends=[send("sal", -20.0)],
            clips=cues("par"),
            comment="referencia de tiempo para los spots",
        )
    )
    sung = [(5, 13), (13, 21), (25, 33), (33, 39)], [(3, 11), (11, 19), (23, 31), (31, 36)]
    return [
        *made,
        strip(
            *("track", "voz", "Voz canción", 1, -5.0, 0.0, "can"),
            inserts=[
                equalizer(("high-pass", 95.0, 12.0), ("bell", 320.0, -2.0), ("high-shelf", 9000.0, 1.5)),
                level("compressor", "Comp", -20.0, ratio=3.0, attack_ms=10.0, release_ms=110.0, output_gain_db=2.5),
                closed("De-eser", "de-esser"),
            ],
            sends=[send("pla", -12.0)],
            clips=song("voz", *sung, tail=False),
            automation=[
                ride((0.0, -5.0), (at(192) - 0.8, -5.0), (at(192) - 0.4, -4.2), (C1 + 100.0, -4.2), (E2, -5.0))
            ],
        ),
        strip(
            *("track", "gui", "Guitarra", 1, -9.0, -20.0, "can"),
            inserts=[equalizer(("high-pass", 85.0, 12.0), ("bell", 220.0, -2.5))],
            sends=[send("pla", -20.0)],
            clips=song("guitarra", [(1, 41)], [(1, 37)], tail=True),
        ),
        strip(
            *("track", "cba", "Contrabajo", 1, -10.0, 6.0, "can"),
            inserts=[
                equalizer(("high-pass", 38.0, 12.0), ("bell", 700.0, 1.5)),
                level("compressor", "Comp", -19.0, ratio=3.0, attack_ms=25.0, release_ms=130.0, output_gain_db=1.5),
            ],
            clips=song("contrabajo", [(9, 41)], [(3, 37)], tail=True),
        ),
    ]


def desk() -> list[Row]:
    """Stems, rooms and the master."""
    under, sung = -9.0, -3.0
    strings = ride(
        *((0.0, under), (C1 - 1.0, under), (C1, sung), (E2, sung), (E2 + 2.0, under), (C2 - 1.0, under)),
        *((C2, sung), (EP, sung), (EP + 3.0, under)),
    )
    soft = {"attack_ms": 25.0, "release_ms": 180.0, "output_gain_db": 1.0}
    return [
        strip(
            *("group", "dia", "DIÁLOGO", 2, -1.0, 0.0, "master"),
            inserts=[level("compressor", "Comp grupo", -16.0, ratio=2.0, **soft)],
        ),
        strip("group", "fol", "FOLEY", 2, -1.0, 0.0, "master"),
        strip("group", "amb", "AMBIENTES", 2, -1.5, 0.0, "master"),
        strip(
            *("group", "cue", "CUERDAS", 2, -9.0, 0.0, "master"),
            automation=[strings],
            comment="-9 bajo la palabra, -3 en canción",
        ),
        strip(
            *("group", "can", "CANCIONES", 2, -2.0, 0.0, "master"),
            inserts=[level("compressor", "Comp grupo", -15.0, ratio=1.8, **soft)],
        ),
        strip(
            *("return", "coc", "Rev cocina", 2, -5.0, 0.0, "master"),
            inserts=[equalizer(("high-pass", 200.0, 12.0), ("low-pass", 6500.0, 12.0)), reverb("Cuarto", 0.5, 4.0)],
            comment="azulejo pequeño, solo interiores",
        ),
        strip(
            *("return", "sal", "Rev sala", 2, -5.0, 0.0, "master"),
            inserts=[equalizer(("high-pass", 150.0, 12.0)), reverb("Sala", 1.9, 22.0)],
        ),
        strip(
            *("return", "pla", "Rev placa", 2, -4.5, 0.0, "master"),
            inserts=[equalizer(("high-pass", 250.0, 12.0)), reverb("Placa", 1.7, 30.0)],
        ),
        {
            "id": "master",
            "name": "MASTER",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [
                level("compressor", "Comp master", -14.0, ratio=1.5, **soft),
                level("limiter", "Limitador", -2.0, release_ms=100.0, output_gain_db=0.0),
                closed("Corrección auriculares", "monitor", on=False),
                closed("Sonómetro", "analyser"),
            ],
            "automation": [ride((0.0, 0.0), (FIN - 2.8, 0.0), (FIN, -90.0))],
            "comment": "auriculares: quitar antes de volcar",
        },
    ]


def media() -> list[Row]:
    """The files, from the readings to the single door."""
    found = [(n, 1, ROOM) for n in ("narradora_toma_b", "narradora_ensayo", "tomas_toma_a", "abuela_toma_a")]
    found += [(n, 1, length + 1.2) for n, (_, length) in PROPS.items()]
    found += [("mar_noche", 2, 180.0), ("mar_dia", 2, 140.0), ("cocina_reloj", 2, 190.0), ("viento_duna", 2, 120.0)]
    for mic in ("vn1", "vn2", "vla", "vlc", "par"):
        found += [(f"{mic}_{c}", 2 if mic == "par" else 1, end - start + 3.0) for c, (start, end, _) in CUES.items()]
    found += [(f"{s}_{c}", 1, n) for s in ("voz", "guitarra", "contrabajo") for c, n in (("c1", 106.0), ("c2", 93.0))]
    return [
        {
            "id": name,
            "path": f"Medios/{name}.wav",
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": 48000.0,
            "duration_s": round(length, 3),
        }
        for name, legs, length in found
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "El salitre no olvida",
        "sample_rate_hz": 48000.0,
        "timeline": {
            "tempos": [{"beat": float(beat), "bpm": bpm} for beat, bpm in TEMPI],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": 120.0, "beats": 3, "unit": 4},
                {"beat": 240.0, "beats": 4, "unit": 4},
            ],
        },
        "markers": [{"time_s": at(beat), "name": name} for name, beat in SCENES.items()],
        "channels": [*speech(), *sounds(), *music(), *desk()],
        "media": media(),
        "metadata": {"entrega": "48 kHz, 24 bit, -23 LUFS, pico -2", "versión": "mezcla 2"},
    }


def channel(session: Session, name: str) -> Row:
    """The channel of a name."""
    found: Row = next(c for c in session["channels"] if c["name"] == name)
    return found


def sea_over_narrator(session: Session) -> None:
    """One of the sea's seven dips was deleted: the second line of the epilogue."""
    drawn = channel(session, "AMB Mar")["automation"][0]
    start, end = EP + 17.6 - 1.0, EP + 31.6 + 1.1
    kept = [(t, v) for t, v in zip(drawn["t"], drawn["v"], strict=True) if not start < t < end]
    drawn["t"], drawn["v"] = [t for t, _ in kept], [v for _, v in kept]


def rehearsal_heard(session: Session) -> None:
    """The narrator's rehearsal was unmuted for a comparison and left so."""
    channel(session, "NARRADORA ensayo")["mute"] = False


def steps_in_dialogue(session: Session) -> None:
    """The steps run into the dialogue stem."""
    channel(session, "Pasos")["output"] = "dia"


def fade_before_credits(session: Session) -> None:
    """The final fade was drawn at the end of the epilogue."""
    times = channel(session, "MASTER")["automation"][0]["t"]
    times[1], times[2] = round(CR - 3.0, 6), round(CR - 0.2, 6)


def door_missing(session: Session) -> None:
    """The file of the closing door did not come along."""
    lost = next(m for m in session["media"] if m["id"] == "puerta_sale")
    lost["present"] = False


def line_on_line(session: Session) -> None:
    """The second narrated line slid to the left, over the end of the first."""
    slid = channel(session, "NARRADORA")["clips"][1]
    slid["start_s"] = round(slid["start_s"] - 5.7, 6)
    slid["end_s"] = round(slid["end_s"] - 5.7, 6)


def kitchen_on_beach(session: Session) -> None:
    """The switch that takes the grandmother out of the kitchen is gone."""
    drawn = channel(session, "ABUELA")["automation"][0]
    del drawn["t"][2:4], drawn["v"][2:4]


def decimal_slipped(session: Session) -> None:
    """The viola's delay has lost its decimal point."""
    channel(session, "Viola")["inserts"][0]["parameters"][0]["value"] = 90.0


def expander_chokes(session: Session) -> None:
    """The expander of the grandmother opens at -15 instead of -55."""
    channel(session, "ABUELA")["inserts"][1]["dynamics"]["threshold_db"] = -15.0


def narrator_aside(session: Session) -> None:
    """The narrator was nudged to the side."""
    channel(session, "NARRADORA")["pan"] = 24.0


def headphones_printed(session: Session) -> None:
    """The headphone correction on the master is on."""
    channel(session, "MASTER")["inserts"][2]["on"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["NARRADORA ensayo"], "why": "the reading that gave the timings, muted and labelled"},
    {"channels": ["TOMÁS", "ABUELA", "Pasos"], "why": "room send and telephone are off at rest and switched by scene"},
    {"channels": ["MASTER"], "why": "fades out at the end and keeps a bypassed headphone correction"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "sea-over-narrator",
        "class": "automation",
        "channels": ["AMB Mar"],
        "grade": "look",
        "says": "AMB Mar stays up under the narrator's second line of the epilogue; under all her other lines it dips.",
        "plant": sea_over_narrator,
    },
    {
        "id": "rehearsal-heard",
        "class": "audible-that-should-not-be",
        "channels": ["NARRADORA ensayo"],
        "grade": "hold",
        "says": "NARRADORA ensayo, a reading for timing only, is not muted and talks over the narrator.",
        "plant": rehearsal_heard,
    },
    {
        "id": "steps-in-dialogue",
        "class": "routing",
        "channels": ["Pasos"],
        "grade": "look",
        "says": "Pasos runs into DIÁLOGO; the other foley tracks go to FOLEY.",
        "plant": steps_in_dialogue,
    },
    {
        "id": "fade-before-credits",
        "class": "end",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "The master is faded out before the credits, whose narration, sea and strings run for 16 seconds more.",
        "plant": fade_before_credits,
    },
    {
        "id": "door-missing",
        "class": "files",
        "channels": ["Puerta y llaves"],
        "grade": "hold",
        "says": "The file puerta_sale.wav is missing; the door at the end of scene 3 will not sound.",
        "plant": door_missing,
    },
    {
        "id": "line-on-line",
        "class": "edits",
        "channels": ["NARRADORA"],
        "grade": "hold",
        "says": "The clip narr 02 starts before narr 01 has ended, and off the sea's dip that was drawn for it.",
        "plant": line_on_line,
    },
    {
        "id": "kitchen-on-beach",
        "class": "ambience",
        "channels": ["ABUELA"],
        "grade": "look",
        "says": "ABUELA keeps the kitchen's room through the beach scene; TOMÁS leaves it when scene 1 ends.",
        "plant": kitchen_on_beach,
    },
    {
        "id": "decimal-slipped",
        "class": "phase",
        "channels": ["Viola"],
        "grade": "hold",
        "says": "Viola is delayed by 90 ms against the room pair, the other spots by about 9.",
        "plant": decimal_slipped,
    },
    {
        "id": "expander-chokes",
        "class": "processors",
        "channels": ["ABUELA"],
        "grade": "hold",
        "says": "The expander of ABUELA opens at -15 dBFS, those of the other voices near -53; it will eat words.",
        "plant": expander_chokes,
    },
    {
        "id": "narrator-aside",
        "class": "place",
        "channels": ["NARRADORA"],
        "grade": "look",
        "says": "NARRADORA stands at 24 right; the comment says always in the middle, and the rehearsal is there.",
        "plant": narrator_aside,
    },
    {
        "id": "headphones-printed",
        "class": "hand-over",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "The headphone correction on MASTER is on and would be printed into the bounce.",
        "plant": headphones_printed,
    },
]
