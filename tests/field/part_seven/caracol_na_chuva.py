"""A children's song in Portuguese: ukulele, glockenspiel, a small children's choir, hand percussion and a narrator.

Recorded in two places: everything but the choir at home, section by section, every pass as a file of its own with one
bar of run-in (the ukulele by microphone and by its pickup at once); the choir in the music room of a school, in two
long takes with a pair and one microphone in front. A steady 112, one bar of counting, two verses, refrains, a spoken
story over ukulele, glockenspiel and rain, a double refrain at the end. The engineer keeps the narrator and the rain
outside the groups, pulls strings and glockenspiel down whenever she speaks, works through headphones with a correction
that stays bypassed, and puts double takes a good deal below the first ones. The session is at 44.1 kHz.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Node = dict[str, Any]
Passes = list[tuple[str, float, float]]

RATE = 44100.0
BPM = 112.0
BEAT = 60.0 / BPM
BAR = 4.0 * BEAT


def bar(number: float) -> float:
    """The second at which a bar begins; bar 1 is the count."""
    return round((number - 1.0) * BAR, 6)


class Gaveta:
    """The drawer with the audio files that the clips use."""

    def __init__(self) -> None:
        """An empty drawer."""
        self.files: dict[str, Node] = {}

    def add(self, ident: str, legs: int, length: float) -> str:
        """One file more, if it is not there yet."""
        self.files.setdefault(
            ident,
            {
                "id": ident,
                "path": f"audio/{ident}.wav",
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": RATE,
                "duration_s": round(length, 3),
            },
        )
        return ident

    def piece(self, file: str, start: float, end: float, offset: float, fades: tuple[float, float]) -> Node:
        """A clip of a file, named after it."""
        return {
            "start_s": round(start, 6),
            "end_s": round(end, 6),
            "name": file,
            "plays": "audio",
            "file": file,
            "offset_s": round(offset, 6),
            "speed": 1.0,
            "fade_in_s": fades[0],
            "fade_out_s": fades[1],
            "gain_db": 0.0,
            "on": True,
        }

    def passes(self, stem: str, legs: int, parts: Passes, early: float, late: float) -> list[Node]:
        """One clip per pass (take, first bar, bar after the last); each file begins one bar before its pass."""
        made = []
        for take, first, after in parts:
            last = after == parts[-1][2] and after > 61
            tail = 2.4 if last else -late
            file = self.add(f"{stem}_{take}", legs, BAR * (1.0 + after - first) + 4.0)
            fades = (0.01 if early < 0.1 else 0.08, 1.2 if last else 0.02 if late < 0.1 else 0.12)
            made.append(self.piece(file, bar(first) - early, bar(after) + tail, BAR - early, fades))
        return made

    def choir(self, mic: str) -> list[Node]:
        """The choir's cut on one microphone: both first refrains out of take 3, the end out of take 5."""
        three = self.add(f"coro_t3_{mic}", 1, bar(40) - bar(12))
        five = self.add(f"coro_t5_{mic}", 1, bar(69) - bar(44))
        made = []
        for file, rolls, first, after in ((three, 12, 14, 22), (three, 12, 30, 38), (five, 44, 46, 66)):
            start = bar(first) - 0.4
            tail = 1.8 if after == 66 else 0.5
            made.append(
                self.piece(file, start, bar(after) + tail, start - bar(rolls), (0.15, 0.5 if after < 66 else 1.4))
            )
        return made


def cut(freq: float, slope: float = 12.0) -> Node:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def bell(freq: float, gain: float, q: float = 1.0) -> Node:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def air(freq: float, gain: float) -> Node:
    """A high shelf."""
    return {"kind": "high-shelf", "freq_hz": freq, "gain_db": gain, "q": 0.7, "on": True}


def equ(*bands: Node) -> Node:
    """The equalizer."""
    return {
        "name": "Equalizador",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": list(bands)},
    }


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0) -> Node:
    """The compressor."""
    settings = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": gain,
        "auto_makeup": False,
    }
    return {"name": "Compressor", "kind": "compressor", "on": True, "opaque": False, "dynamics": settings}


def knob(ident: str, name: str, value: Any, unit: str, low: float, high: float) -> Node:
    """A listed parameter with its range."""
    return {"id": ident, "name": name, "value": value, "unit": unit, "low": low, "high": high}


def deesser(freq: float, threshold: float) -> Node:
    """The de-esser."""
    return {
        "name": "De-esser",
        "kind": "de-esser",
        "on": True,
        "opaque": False,
        "parameters": [
            knob("freq", "Frequência", freq, "Hz", 2000.0, 14000.0),
            knob("limiar", "Limiar", threshold, "dB", -60.0, 0.0),
        ],
    }


def verb(name: str, decay: float, pre: float) -> Node:
    """A reverb, wholly wet."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": [knob("decay", "Decaimento", decay, "s", 0.1, 20.0)],
    }


def echo() -> Node:
    """The quarter-note delay."""
    return {
        "name": "Delay",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            knob("tempo", "Tempo", round(BEAT * 1000.0, 1), "ms", 1.0, 2000.0),
            knob("realim", "Realimentação", 18.0, "%", 0.0, 100.0),
        ],
    }


def to(ident: str, level: float) -> Node:
    """A post-fader send."""
    return {"to": ident, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def curve(target: str, *points: tuple[float, float]) -> Node:
    """A curve in decibels over bars."""
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [bar(p[0]) for p in points],
        "v": [p[1] for p in points],
    }


def strip(ident: str, name: str, kind: str, legs: int, fader: float, pan: float, out: str | None, **more: Any) -> Node:
    """A channel."""
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
        **more,
    }


UKE: Passes = [("01", 2, 14), ("02", 14, 22), ("04", 22, 30), ("05", 30, 38), ("06", 38, 46), ("08", 46, 66)]
LIA: Passes = [
    ("v1_t2", 6, 14),
    ("r1_t1", 14, 22),
    ("v2_t4", 22, 30),
    ("r2_t2", 30, 38),
    ("rf_t1", 46, 54),
    ("rf_t3", 54, 62),
]
DOUBLE: Passes = [("r1_t3", 14, 22), ("r2_t1", 30, 38), ("rf_t2", 46, 54), ("rf_t4", 54, 62)]


def spoken(drawer: Gaveta) -> list[Node]:
    """The narrator's four entries."""
    made = []
    entries = (("abertura_t3", 2.5, 5.6, 0.0), ("hist_a_t2", 38.25, 41.8, -1.4), ("hist_b_t5", 42.1, 45.5, -1.0))
    for name, first, after, gain in (*entries, ("tchau_t1", 64.5, 66.4, 0.5)):
        file = drawer.add(f"nar_{name}", 1, bar(after) - bar(first) + 3.0)
        made.append({**drawer.piece(file, bar(first), bar(after), 0.9, (0.05, 0.2)), "gain_db": gain})
    return made


def voices(drawer: Gaveta) -> list[Node]:
    """Narrator, the singer with her double, the choir."""
    kids = {"plays": ["audio"], "folder": ["Coro"]}
    pair = [to("placa", -11.0), to("sala", -14.0)]
    return [
        strip(
            "nar", "Narradora", "track", 1, -5.0, 0.0, "master", plays=["audio"], clips=spoken(drawer),
            inserts=[equ(cut(85.0), bell(260.0, -2.0), air(9000.0, 1.5)), comp(-22.0, 3.0, 8.0, 120.0, 3.0),
                     deesser(6800.0, -28.0)],
            sends=[to("sala", -24.0)], comment="fora do grupo VOZES, quase seca",
        ),
        strip(
            "lia", "Voz Lia", "track", 1, -5.5, 0.0, "vozes", plays=["audio"], folder=["Vozes"],
            clips=drawer.passes("lia", 1, LIA, 0.3, 0.35),
            inserts=[equ(cut(110.0), bell(380.0, -1.5), air(10000.0, 2.0)), comp(-20.0, 3.0, 6.0, 90.0, 2.5),
                     deesser(7200.0, -26.0)],
            sends=[to("placa", -12.5), to("eco", -24.0)],
            automation=[
                curve("fader", (1, -5.5), (13.9, -5.5), (14, -4.5), (21.9, -4.5), (22, -5.5), (29.9, -5.5), (30, -4.5)),
                curve("send:1:level", (1, -24.0), (61, -24.0), (61.5, -14.0), (63, -14.0), (63.5, -24.0)),
            ],
        ),
        strip(
            "dobra", "Voz Lia dobra", "track", 1, -15.0, 0.0, "vozes", plays=["audio"], folder=["Vozes"],
            clips=drawer.passes("lia_dobra", 1, DOUBLE, 0.3, 0.35),
            inserts=[equ(cut(160.0), air(8000.0, -1.5)), comp(-24.0, 4.0, 4.0, 80.0, 3.0), deesser(7000.0, -30.0)],
            sends=[to("placa", -10.0)], comment="só nos refrões",
        ),
        strip(
            "coro_e", "Coro E", "track", 1, -7.0, -75.0, "coro", **kids, clips=drawer.choir("E"),
            inserts=[equ(cut(140.0), bell(900.0, -1.5))], sends=[dict(s) for s in pair],
        ),
        strip(
            "coro_d", "Coro D", "track", 1, -7.0, 75.0, "coro", **kids, clips=drawer.choir("D"),
            inserts=[equ(cut(140.0), bell(900.0, -1.5))], sends=[dict(s) for s in pair],
        ),
        strip(
            "coro_f", "Coro frente", "track", 1, -12.0, 0.0, "coro", **kids, clips=drawer.choir("frente"),
            inserts=[equ(cut(160.0), bell(3200.0, -2.0)), comp(-18.0, 2.0, 15.0, 120.0)], sends=[to("placa", -13.0)],
        ),
    ]  # fmt: skip


def strings(drawer: Gaveta) -> list[Node]:
    """The ukuleles and the little bass."""
    audio = {"plays": ["audio"], "folder": ["Cordas"]}
    bass: Passes = [("01", 6, 14), ("02", 14, 22), ("03", 22, 30), ("05", 30, 38), ("06", 46, 66)]
    return [
        strip(
            "uku", "Uku mic", "track", 1, -6.5, -38.0, "cordas", **audio, sends=[to("sala", -13.0)],
            clips=drawer.passes("uku_mic", 1, UKE, 0.02, 0.02),
            inserts=[equ(cut(130.0), bell(420.0, -2.5), air(9000.0, 1.0)), comp(-18.0, 2.5, 18.0, 90.0, 1.5)],
        ),
        strip(
            "uku_di", "Uku DI", "track", 1, -14.0, -38.0, "cordas", **audio,
            clips=drawer.passes("uku_di", 1, UKE, 0.02, 0.02),
            inserts=[equ(cut(110.0), bell(2100.0, -3.0, 1.4))], comment="captador, só p/ dar corpo ao mic",
        ),
        strip(
            "uku2", "Uku dobra", "track", 1, -9.5, 42.0, "cordas", **audio, sends=[to("sala", -12.0)],
            clips=drawer.passes("uku_dobra", 1, [("01", 14, 22), ("02", 30, 38), ("04", 46, 62)], 0.02, 0.02),
            inserts=[equ(cut(160.0), bell(500.0, -2.0)), comp(-18.0, 2.5, 18.0, 90.0, 1.0)],
        ),
        strip(
            "baixo", "Baixolele", "track", 1, -7.0, 0.0, "cordas", **audio,
            clips=drawer.passes("baixolele", 1, bass, 0.02, 0.02),
            inserts=[equ(cut(38.0), bell(220.0, -2.0), bell(800.0, 1.5)), comp(-20.0, 4.0, 25.0, 140.0, 3.0)],
        ),
    ]  # fmt: skip


def bells(drawer: Gaveta) -> Node:
    """The glockenspiel, in no group."""
    parts: Passes = [("01", 2, 6), ("02", 14, 22), ("03", 22, 30), ("07", 38, 46), ("08", 46, 66)]
    return strip(
        "glock", "Glockenspiel", "track", 1, -15.0, 24.0, "master", plays=["audio"],
        clips=drawer.passes("glock", 1, parts, 0.02, 0.02), sends=[to("placa", -11.0), to("eco", -20.0)],
        inserts=[equ(cut(350.0), bell(3400.0, -2.5, 1.6)), comp(-20.0, 2.0, 2.0, 60.0)],
        automation=[curve("fader", (1, -15.0), (5.6, -15.0), (6, -12.0), (37.6, -12.0), (38.1, -15.5), (45.5, -15.5),
                          (46, -12.0), (64.1, -12.0), (64.5, -14.5))],
        comment="abaixa p/ a narração, junto com as cordas",
    )  # fmt: skip


def hands(drawer: Gaveta) -> list[Node]:
    """Tambourine, shaker, claps."""
    audio = {"plays": ["audio"], "folder": ["Percussão"]}
    choruses: Passes = [("01", 14, 22), ("02", 30, 38), ("03", 46, 62)]
    shaker: Passes = [("01", 6, 14), ("02", 14, 22), ("03", 22, 30), ("04", 30, 38), ("06", 46, 62)]
    return [
        strip(
            "pand", "Pandeiro", "track", 1, -10.0, -20.0, "perc", **audio, sends=[to("sala", -14.0)],
            clips=drawer.passes("pandeiro", 1, choruses, 0.02, 0.02),
            inserts=[equ(cut(70.0), bell(350.0, -3.0)), comp(-16.0, 3.0, 12.0, 70.0, 1.0)],
        ),
        strip(
            "ganza", "Ganzá", "track", 1, -14.5, 32.0, "perc", **audio, sends=[to("sala", -15.0)],
            clips=drawer.passes("ganza", 1, shaker, 0.02, 0.02), inserts=[equ(cut(400.0), air(11000.0, -1.5))],
        ),
        strip(
            "palmas", "Palmas", "track", 2, -11.0, 0.0, "perc", **audio, sends=[to("sala", -10.0)],
            clips=drawer.passes("palmas", 2, choruses, 0.02, 0.02), inserts=[equ(cut(220.0), bell(1300.0, -1.5))],
            comment="4 crianças + eu, aberto",
        ),
    ]  # fmt: skip


def extras(drawer: Gaveta) -> list[Node]:
    """The rain and the guide piano."""
    rain = drawer.add("chuva_telhado", 2, 58.0)
    guide = drawer.add("guia_piano", 2, bar(68))
    return [
        strip(
            "chuva", "Chuva fx", "track", 2, -20.0, 0.0, "master", plays=["audio"], inserts=[equ(cut(250.0))],
            clips=[
                drawer.piece(rain, bar(1.5), bar(6.5), 1.0, (1.5, 3.0)),
                drawer.piece(rain, bar(37), bar(46.5), 20.0, (2.0, 3.0)),
            ],
            comment="gravada na varanda",
        ),
        strip(
            "guia", "Guia piano", "track", 2, -12.0, 0.0, "master", plays=["audio"], mute=True,
            clips=[drawer.piece(guide, bar(1), bar(66), 0.0, (0.0, 0.5))],
            comment="guia p/ as crianças, não entra na mix",
        ),
    ]  # fmt: skip


def sums() -> list[Node]:
    """Groups, returns and the master."""
    limiter: Node = {
        "name": "Limitador",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "release_ms": 60.0, "input_gain_db": 2.5, "auto_makeup": False},
    }
    correction: Node = {"name": "Correção fones", "kind": "monitor", "on": False}
    return [
        strip(
            "vozes", "VOZES", "group", 2, -1.0, 0.0, "master",
            inserts=[equ(bell(2600.0, 1.0, 0.8)), comp(-16.0, 2.0, 15.0, 120.0, 1.0)],
        ),
        strip(
            "coro", "CORO", "group", 2, -2.0, 0.0, "master",
            inserts=[equ(cut(120.0), air(9500.0, 1.0)), comp(-18.0, 2.0, 20.0, 150.0, 1.5)],
            automation=[curve("fader", (1, -2.0), (53.5, -2.0), (54, -0.5), (66, -0.5))],
            comment="abre no último refrão",
        ),
        strip(
            "cordas", "CORDAS", "group", 2, -6.5, 0.0, "master", inserts=[comp(-14.0, 1.5, 30.0, 150.0)],
            automation=[curve("fader", (1, -6.5), (5.6, -6.5), (6, -3.0), (37.6, -3.0), (38.1, -7.5), (45.5, -7.5),
                              (46, -3.0), (64.1, -3.0), (64.5, -6.5))],
            comment="abaixa quando a narradora fala por cima",
        ),
        strip("perc", "PERC", "group", 2, -2.5, 0.0, "master", inserts=[comp(-15.0, 2.0, 25.0, 90.0, 1.0)]),
        strip("sala", "Sala", "return", 2, -6.0, 0.0, "master", inserts=[verb("Sala", 0.9, 8.0), equ(cut(200.0))],
              comment="sala pequena, curta"),
        strip("placa", "Placa", "return", 2, -5.0, 0.0, "master", inserts=[verb("Placa", 1.7, 24.0), equ(cut(280.0))]),
        strip("eco", "Eco 1/4", "return", 2, -8.0, 0.0, "master", inserts=[echo(), equ(cut(400.0), air(5000.0, -4.0))],
              sends=[to("placa", -16.0)]),
        strip(
            "master", "MASTER", "master", 2, 0.0, 0.0, None,
            inserts=[equ(cut(25.0), air(12000.0, 0.8)), comp(-12.0, 1.5, 30.0, 200.0, 1.0), limiter,
                     {"name": "Medidor de loudness", "kind": "analyser", "on": True}, correction],
            comment="entrega já limitada, teto -1 dBFS. correção dos fones só p/ ouvir",
        ),
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    drawer = Gaveta()
    channels = [*voices(drawer), *strings(drawer), bells(drawer), *hands(drawer), *extras(drawer), *sums()]
    names = (
        "contagem",
        "Intro",
        "Verso 1",
        "Refrão 1",
        "Verso 2",
        "Refrão 2",
        "História",
        "Refrão final",
        "Fim",
        "FIM mix",
    )
    return {
        "format": "mixlint-session/1",
        "title": "O caracol na chuva - mix 4",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [
            {"time_s": bar(place), "name": name}
            for place, name in zip((1, 2, 6, 14, 22, 30, 38, 46, 62, 68), names, strict=True)
        ],
        "channels": channels,
        "media": list(drawer.files.values()),
        "metadata": {"faixa": "3", "entrega": "master p/ streaming e versão p/ o livro", "idioma": "pt-BR"},
    }


def channel(session: Session, name: str) -> Node:
    """The channel of a name."""
    found: Node = next(c for c in session["channels"] if c["name"] == name)
    return found


def pickup_slid(session: Session) -> None:
    """The pickup's sound was slid inside its clip of the second verse."""
    piece = channel(session, "Uku DI")["clips"][2]
    piece["offset_s"] = round(piece["offset_s"] + 0.031, 6)


def verse_switched_off(session: Session) -> None:
    """The clip of the second verse was muted."""
    channel(session, "Voz Lia")["clips"][2]["on"] = False


def limiter_off(session: Session) -> None:
    """The limiter stayed bypassed after a comparison."""
    channel(session, "MASTER")["inserts"][2]["on"] = False


def choir_leg_short(session: Session) -> None:
    """The right choir microphone was trimmed by two bars in the second refrain."""
    channel(session, "Coro D")["clips"][1]["end_s"] = bar(36)


def correction_on(session: Session) -> None:
    """The headphone correction is switched on."""
    channel(session, "MASTER")["inserts"][4]["on"] = True


def room_ten_times(session: Session) -> None:
    """The small room rings for nine seconds."""
    channel(session, "Sala")["inserts"][0]["parameters"][0]["value"] = 9.0


def choir_swapped(session: Session) -> None:
    """Left and right of the choir are exchanged."""
    channel(session, "Coro E")["pan"] = 75.0
    channel(session, "Coro D")["pan"] = -75.0


def dip_a_section_early(session: Session) -> None:
    """The dip for the story was pasted eight bars too early."""
    ride = channel(session, "CORDAS")["automation"][0]
    ride["t"][3:7] = [round(t - 8.0 * BAR, 6) for t in ride["t"][3:7]]


def double_is_the_lead(session: Session) -> None:
    """The lead's clip was copied onto the double's channel."""
    channel(session, "Voz Lia dobra")["clips"][0] = dict(channel(session, "Voz Lia")["clips"][1])


def story_too_soft(session: Session) -> None:
    """A point in the wrong place in the gain of a clip."""
    channel(session, "Narradora")["clips"][1]["gain_db"] = -14.0


def bells_file_missing(session: Session) -> None:
    """One file of the glockenspiel did not come along."""
    for item in session["media"]:
        if item["id"] == "glock_03":
            item["present"] = False


ACCEPTED: list[Node] = [
    {"channels": ["Guia piano"], "why": "guide, muted on purpose"},
    {"channels": ["MASTER"], "why": "the bypassed headphone correction is a listening aid"},
    {"channels": ["Narradora"], "why": "outside the voices' group and nearly dry on purpose"},
    {"channels": ["Uku DI"], "why": "same part as the microphone, tucked under it, without reverb"},
    {"channels": ["Chuva fx"], "why": "low sound effect, the same recording at two places"},
]

FAULTS: list[Node] = [
    {
        "id": "uku-di-slid",
        "class": "phase",
        "channels": ["Uku DI", "Uku mic"],
        "grade": "look",
        "says": "In verse 2 the DI plays 31 ms out of step with the microphone; in all other clips both start alike.",
        "plant": pickup_slid,
    },
    {
        "id": "lead-verse-two-off",
        "class": "inaudible",
        "channels": ["Voz Lia"],
        "grade": "hold",
        "says": "The lead's clip of verse 2 is switched off; nobody sings there.",
        "plant": verse_switched_off,
    },
    {
        "id": "limiter-bypassed",
        "class": "headroom",
        "channels": ["MASTER"],
        "grade": "look",
        "says": "The limiter is bypassed although the delivery is to be limited to -1 dBFS.",
        "plant": limiter_off,
    },
    {
        "id": "choir-right-cut-short",
        "class": "edits",
        "channels": ["Coro D"],
        "grade": "look",
        "says": "In refrain 2 Coro D stops two bars before Coro E and the front microphone.",
        "plant": choir_leg_short,
    },
    {
        "id": "headphone-correction-on",
        "class": "hand-over",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "The headphone correction on the master is on and would be printed, after the limiter.",
        "plant": correction_on,
    },
    {
        "id": "small-room-nine-seconds",
        "class": "ambience",
        "channels": ["Sala"],
        "grade": "look",
        "says": "The reverb of the small, short room decays for 9 s; 0.9 s was probably meant.",
        "plant": room_ten_times,
    },
    {
        "id": "choir-sides-swapped",
        "class": "place",
        "channels": ["Coro E", "Coro D"],
        "grade": "look",
        "says": "Coro E (left) is panned right and Coro D (right) left.",
        "plant": choir_swapped,
    },
    {
        "id": "story-dip-early",
        "class": "automation",
        "channels": ["CORDAS"],
        "grade": "look",
        "says": "The strings dip during refrain 2 and are back up in the story under the narrator; 8 bars early.",
        "plant": dip_a_section_early,
    },
    {
        "id": "double-same-file-as-lead",
        "class": "twice",
        "channels": ["Voz Lia dobra", "Voz Lia"],
        "grade": "look",
        "says": "In refrain 1 the double plays the lead's own file at the same place; it is the same take twice.",
        "plant": double_is_the_lead,
    },
    {
        "id": "story-clip-fourteen-down",
        "class": "level",
        "channels": ["Narradora"],
        "grade": "look",
        "says": "The first half of the story has clip gain of -14 dB; her other clips lie between -1 and 0.5.",
        "plant": story_too_soft,
    },
    {
        "id": "glock-file-missing",
        "class": "files",
        "channels": ["Glockenspiel"],
        "grade": "hold",
        "says": "The file of the glockenspiel's verse 2 is missing; the part is silent there.",
        "plant": bells_file_missing,
    },
]
