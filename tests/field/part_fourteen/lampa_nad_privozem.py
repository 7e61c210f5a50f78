"""Lampa nad přívozem, obraz 4: a scene with a song from a Czech radio play.

By night at a ferry: narrator and river, then ferryman and girl on the landing. They walk up to the inn, whose little
band is already heard through the door. The door opens at bar 8 of the song and shuts at bar 80, so the band group and
the crowd run through a low-pass that is drawn open and shut with it. Verse of the ferryman, chorus of the guests, talk
over the vamp, verse of the girl (in her mind: a hall), chorus, door, river, three strokes of a bell, narrator.

The voices were read one file per actor, the song was played to a click in another session and laid in from bar 1 on.
The engineer keeps five groups (speech, singing, band, effects, beds), switches the sends of a speaker with the place
where he stands, leaves the narrator dry, lays effects by picture and not by bar, and delivers at radio level.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Thing = dict[str, Any]

RATE = 48000.0
SONG = 44.0
BPM = 108.0
BARS = 86
CROSS = 0.03
PREROLL = 2  # bars of click at the head of every file of the song


def bar(number: float) -> float:
    """The second at which a bar of the song begins, counted from 0."""
    return round(SONG + number * 3 * 60.0 / BPM, 4)


OPEN, SHUT = bar(8), bar(80)


def unit(name: str, kind: str, **more: Any) -> Thing:
    """A processor."""
    return {"name": name, "kind": kind, "on": True, "opaque": not more, **more}


def value(ident: str, amount: float | bool, measure: str = "") -> Thing:
    """A listed setting."""
    return {"id": ident, "name": ident, "value": amount, "unit": measure}


def band(kind: str, freq: float, gain: float, q: float = 1.0) -> Thing:
    """A band with gain."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def cut(kind: str, freq: float, slope: float = 12.0) -> Thing:
    """A high-pass or low-pass band."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def eq(*bands: Thing, name: str = "EQ") -> Thing:
    """An equalizer."""
    return unit(name, "equalizer", equalizer={"bands": list(bands)})


def comp(threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Thing:
    """A compressor."""
    settings = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": makeup,
        "auto_makeup": False,
    }
    return unit("Kompresor", "compressor", dynamics=settings)


def expander(threshold: float) -> Thing:
    """The soft expander against the hiss of the booth."""
    settings = {"threshold_db": threshold, "ratio": 2.0, "attack_ms": 2.0, "release_ms": 180.0, "range_db": -14.0}
    return unit("Expander", "expander", dynamics=settings)


def deesser(freq: float) -> Thing:
    """A de-esser."""
    return unit("De-esser", "de-esser", parameters=[value("kmitocet", freq, "Hz"), value("prah", -28.0, "dB")])


def phase_trim() -> Thing:
    """The trim with a polarity switch for each leg."""
    return unit("Zisk/fáze", "utility", parameters=[value("zisk", 0.0, "dB"), value("polarita_L", False),
                                                     value("polarita_R", False)])  # fmt: skip


def send(to: str, level: float, on: bool = True) -> Thing:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def drawn(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Thing:
    """An automation curve."""
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [round(when, 4) for when, _ in points],
        "v": [level for _, level in points],
    }


def door(target: str) -> Thing:
    """The low-pass that opens and shuts with the door."""
    return drawn(target, "plain", "linear", (0.0, 650.0), (OPEN, 650.0), (OPEN + 0.6, 18000.0), (SHUT, 18000.0),
                 (SHUT + 0.7, 650.0))  # fmt: skip


def clip(name: str, file: str, start: float, end: float, offset: float, **more: Any) -> Thing:
    """A stretch of audio."""
    base: Thing = {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 4),
        "speed": 1.0,
        "fade_in_s": 0.03,
        "fade_out_s": 0.06,
        "gain_db": 0.0,
        "on": True,
    }
    return base | more


def song(file: str, *spans: tuple[float, float] | tuple[float, float, float]) -> list[Thing]:
    """What one file of the song plays, as spans of bars (with clip gain if any), crossfaded where they meet."""
    clips = []
    for i, span in enumerate(spans):
        first, last = span[0], span[1]
        before = i > 0 and spans[i - 1][1] == first
        after = i + 1 < len(spans) and spans[i + 1][0] == last
        start = bar(first) - (CROSS / 2 if before else 0.0)
        end = bar(last) + (CROSS / 2 if after else 0.0)
        fades = {
            "fade_in_s": CROSS if before else 0.03,
            "fade_out_s": CROSS if after else 1.5 if last == BARS else 0.15,
            "gain_db": span[2] if len(span) > 2 else 0.0,
        }
        clips.append(clip(f"{file} t{first:g}-{last:g}", file, start, end, start - bar(-PREROLL), **fades))
    return clips


def track(ident: str, name: str, folder: str, to: str, fader: float, pan: float, **more: Any) -> Thing:
    """A track in its folder."""
    base: Thing = {
        "id": ident,
        "name": name,
        "kind": "track",
        "folder": [folder],
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": to,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    return base | more


def strip(ident: str, name: str, kind: str, fader: float, **more: Any) -> Thing:
    """A stereo group or return into the mix."""
    base: Thing = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": "mix",
        "sends": [],
        "inserts": [],
        "automation": [],
    }
    return base | more


LINES: dict[str, list[tuple[float, float, float, str, float]]] = {
    "vyp": [
        (6.2, 15.8, 4.1, "vyp 01 Byla to noc", 0.5),
        (17.0, 23.6, 16.9, "vyp 02 lampa", 0.0),
        (189.6, 197.6, 61.2, "vyp 03 dveře zapadly", -1.5),
        (205.2, 213.4, 75.0, "vyp 04 konec", -1.0),
    ],
    "pre": [
        (25.0, 28.4, 3.0, "pre 01 Kdo tam", 0.0),
        (31.2, 34.0, 9.6, "pre 02 dnes už ne", 0.0),
        (38.3, 40.8, 20.2, "pre 03 tak pojď", 1.0),
        (60.4, 63.6, 44.8, "pre 04 nalej jí", 0.0),
        (115.2, 117.9, 70.1, "pre 05 to je moje", -1.0),
    ],
    "ane": [
        (28.8, 31.0, 2.2, "ane 01 jen já", 0.0),
        (34.4, 37.9, 8.8, "ane 02 musím na druhou stranu", 0.0),
        (111.9, 114.9, 33.9, "ane 03 znám tu píseň", 0.5),
        (118.4, 122.7, 41.0, "ane 04 zpívala ji máma", 0.0),
    ],
    "hos": [
        (58.2, 60.1, 5.5, "hos 01 vítej", 0.0),
        (64.1, 69.3, 12.3, "hos 02 sedněte si", -0.5),
        (174.4, 176.7, 30.8, "hos 03 zavíráme", 1.0),
    ],
}


def speech() -> list[Thing]:
    """Narrator, ferryman, girl and innkeeper."""
    strips = []
    for ident, name, fader, pan, low, floor, ess in (
        ("vyp", "Vypravěč", -3.0, 0.0, 75.0, -54.0, 6500.0),
        ("pre", "Převozník", -4.0, -8.0, 80.0, -50.0, 5800.0),
        ("ane", "Anežka", -4.5, 8.0, 110.0, -52.0, 7400.0),
        ("hos", "Hostinský", -5.0, 20.0, 85.0, -50.0, 6000.0),
    ):
        new = track(ident, name, "Hlasy", "dialog", fader, pan)
        new["inserts"] = [
            expander(floor),
            eq(cut("high-pass", low, 18.0), band("bell", 320.0, -2.0), band("bell", 3200.0, 1.5)),
            comp(-24.0, 3.0, 6.0, 120.0, 3.0),
            deesser(ess),
        ]
        new["clips"] = [clip(text, ident, a, b, off, gain_db=gain) for a, b, off, text, gain in LINES[ident]]
        if ident in ("pre", "ane"):
            new["sends"] = [send("venku", -17.0), send("hospoda", -14.0, on=False)]
            new["automation"] = [
                drawn("send:0:on", "switch", "hold", (0.0, 1.0), (OPEN, 0.0)),
                drawn("send:1:on", "switch", "hold", (0.0, 0.0), (OPEN, 1.0)),
            ]
        strips.append(new)
    strips[0]["comment"] = "suchý, blízko, žádný prostor"
    strips[3]["sends"] = [send("hospoda", -13.0)]
    strips[3]["comment"] = "celou dobu uvnitř za pultem"
    return strips


def singing() -> list[Thing]:
    """Two soloists and the two guests who are the chorus."""
    low = track("prez", "Převozník zpěv", "Hlasy", "zpev", -5.0, -6.0)
    low["inserts"] = [eq(cut("high-pass", 85.0), band("bell", 250.0, -2.0)), comp(-22.0, 3.0, 10.0, 150.0, 2.5)]
    low["inserts"].append(deesser(5800.0))
    low["clips"] = song("prevoznik_zpev", (15.8, 40.2), (63.8, 79.7, -1.0))
    low["automation"] = [
        drawn("fader", "dB", "linear", (0.0, -5.0), (bar(31.8), -5.0), (bar(32.2), -7.0), (bar(63.5), -7.5)),
    ]
    high = track("anez", "Anežka zpěv", "Hlasy", "zpev", -5.5, 6.0)
    high["inserts"] = [eq(cut("high-pass", 120.0), band("high-shelf", 9000.0, 1.5, 0.7))]
    high["inserts"] += [comp(-24.0, 2.5, 12.0, 160.0, 2.5), deesser(7400.0)]
    high["sends"] = [send("sal", -9.0, on=False)]
    high["clips"] = song("anezka_zpev", (47.7, 63.9), (63.9, 79.7, -1.5))
    high["automation"] = [
        drawn("send:0:on", "switch", "hold", (0.0, 0.0), (bar(47.5), 1.0), (bar(64), 0.0)),
        drawn("fader", "dB", "linear", (0.0, -5.5), (bar(63.8), -5.5), (bar(64.2), -7.0)),
    ]
    high["comment"] = "sloka 2 = v její hlavě, Sál jen tam"
    strips = [low, high]
    for number, pan in ((1, -45.0), (2, 45.0)):
        guest = track(f"sbor{number}", f"Sbor hosté {number}", "Hlasy", "zpev", -9.0, pan)
        guest["inserts"] = [eq(cut("high-pass", 130.0), band("bell", 2500.0, -1.5)), comp(-22.0, 3.0, 10.0, 120.0, 2.0)]
        guest["clips"] = song(f"sbor_{number}", (32, 40.2), (64, 79.8, 0.5))
        strips.append(guest)
    return strips


def ensemble() -> list[Thing]:
    """Accordion with two mics, clarinet, bass, upright piano, brushes."""
    treble = track("akd", "Akordeon diskant", "Kapela", "hudba", -8.0, -32.0)
    treble["inserts"] = [eq(cut("high-pass", 150.0), band("bell", 3000.0, -2.0))]
    bass_side = track("akb", "Akordeon bas", "Kapela", "hudba", -11.0, -22.0)
    bass_side["inserts"] = [eq(cut("high-pass", 60.0), band("bell", 250.0, -3.0, 1.2))]
    for part, file in ((treble, "akordeon_diskant"), (bass_side, "akordeon_bas")):
        part["clips"] = song(file, (0, 48), (48, 80), (80, 86))
    clarinet = track("kla", "Klarinet", "Kapela", "hudba", -10.0, 26.0)
    clarinet["inserts"] = [eq(cut("high-pass", 130.0), band("bell", 1800.0, -1.5))]
    clarinet["sends"] = [send("sal", -14.0, on=False)]
    clarinet["clips"] = song("klarinet", (4, 16), (32, 40), (48, 64), (64, 80), (80, 86))
    clarinet["automation"] = [
        drawn("send:0:on", "switch", "hold", (0.0, 0.0), (bar(47.5), 1.0), (bar(64), 0.0)),
    ]
    double_bass = track("kbs", "Kontrabas", "Kapela", "hudba", -8.5, 3.0)
    double_bass["inserts"] = [eq(cut("high-pass", 38.0), band("bell", 180.0, -2.0)), comp(-22.0, 3.0, 18.0, 130.0, 1.5)]
    double_bass["clips"] = song("kontrabas", (0, 40), (40, 80), (80, 86))
    piano = track("pia", "Pianino", "Kapela", "hudba", -10.5, 0.0, legs=2)
    piano["inserts"] = [phase_trim(), eq(cut("high-pass", 70.0), band("bell", 400.0, -2.5))]
    piano["clips"] = song("pianino", (8, 40), (40, 48, -3.0), (48, 80))
    brushes = track("met", "Metličky", "Kapela", "hudba", -13.0, 12.0)
    brushes["inserts"] = [eq(cut("high-pass", 160.0), band("high-shelf", 8000.0, 1.0, 0.7))]
    brushes["clips"] = song("metlicky", (0, 40), (48, 80), (80, 86))
    return [treble, bass_side, clarinet, double_bass, piano, brushes]


def effects() -> list[Thing]:
    """Steps, door, oars, bell and glasses."""
    steps = track("kro", "Kroky", "Ruchy", "ruchy", -12.0, -45.0, comment="molo -> schody -> dveře, pak zpátky")
    steps["inserts"] = [eq(cut("high-pass", 90.0))]
    steps["sends"] = [send("venku", -18.0)]
    steps["clips"] = [
        clip("kroky molo", "kroky_drevo", 41.2, 48.6, 2.0, fade_in_s=0.4),
        clip("kroky schody", "kroky_schody", 49.0, 56.4, 1.1),
        clip("kroky pryč", "kroky_drevo", 179.4, 187.0, 14.5, fade_out_s=2.5),
    ]
    steps["automation"] = [
        drawn("pan", "pan", "linear", (0.0, -45.0), (41.2, -45.0), (56.4, 12.0), (179.4, 12.0), (187.0, -45.0))
    ]
    leaf = track("dve", "Dveře", "Ruchy", "ruchy", -9.0, 12.0)
    leaf["sends"] = [send("hospoda", -20.0)]
    leaf["clips"] = [
        clip("dvere_otevrit", "dvere_otevrit", OPEN - 0.4, OPEN + 2.5, 0.1),
        clip("dvere_zavrit", "dvere_zavrit", SHUT - 0.1, SHUT + 2.2, 0.2),
    ]
    oars = track("ves", "Vesla", "Ruchy", "ruchy", -14.0, -40.0)
    oars["inserts"] = [eq(cut("high-pass", 100.0))]
    oars["sends"] = [send("venku", -20.0)]
    oars["clips"] = [
        clip("vesla přijíždí", "vesla_pomalu", 2.5, 24.5, 1.0, fade_in_s=2.0, fade_out_s=1.5),
        clip("vesla odjíždí", "vesla_pomalu", 198.5, 220.0, 6.0, fade_in_s=1.0, fade_out_s=6.0),
    ]
    oars["automation"] = [
        drawn("pan", "pan", "linear", (0.0, -40.0), (2.5, -40.0), (22.0, -15.0), (198.5, -15.0), (220.0, -50.0)),
    ]
    bell = track("zvo", "Zvon", "Ruchy", "ruchy", -15.0, 38.0, comment="3 údery, zdálky přes vodu")
    bell["inserts"] = [eq(cut("high-pass", 140.0), cut("low-pass", 3800.0))]
    bell["sends"] = [send("venku", -11.0)]
    bell["clips"] = [
        clip(f"zvon {n}", "zvon_zdalky", 188.0 + 5.2 * (n - 1), 193.1 + 5.2 * (n - 1), 0.15, fade_in_s=0.0,
             fade_out_s=1.2)
        for n in (1, 2, 3)
    ]  # fmt: skip
    glasses = track("skl", "Sklenice", "Ruchy", "ruchy", -16.0, -28.0)
    glasses["sends"] = [send("hospoda", -15.0)]
    glasses["clips"] = [
        clip(f"sklenice {n}", f"sklenice_{n:02d}", when, when + 1.6, 0.3)
        for n, when in ((1, 62.8), (2, 70.2), (3, 98.4), (1, 123.6), (3, 160.1))
    ]
    return [steps, leaf, oars, bell, glasses]


def beds() -> list[Thing]:
    """River, an old river that hums, wind, and the crowd of the inn."""
    river = track("rek", "Řeka", "Atmo", "atmo", -16.0, 0.0, legs=2)
    river["inserts"] = [eq(cut("high-pass", 60.0))]
    river["clips"] = [
        clip("řeka noc", "reka_noc", 0.0, OPEN + 1.2, 5.0, fade_in_s=2.5, fade_out_s=1.6),
        clip("řeka noc", "reka_noc", SHUT - 0.2, 222.0, 40.0, fade_in_s=1.5, fade_out_s=7.0),
    ]
    old = track("rek0", "Řeka stará", "Atmo", "atmo", -16.0, 0.0, legs=2, comment="NEPOUŽÍT, brum 50 Hz")
    old["mute"] = True
    old["clips"] = [clip("reka_stara", "reka_stara", 0.0, 58.0, 0.0, fade_in_s=2.5, fade_out_s=1.5)]
    wind = track("vit", "Vítr", "Atmo", "atmo", -21.0, 0.0, legs=2)
    wind["inserts"] = [eq(cut("high-pass", 90.0), cut("low-pass", 7000.0))]
    wind["clips"] = [
        clip("vítr", "vitr_rakosi", 0.0, OPEN + 1.0, 3.0, fade_in_s=3.0, fade_out_s=1.5),
        clip("vítr", "vitr_rakosi", SHUT, 222.0, 52.0, fade_in_s=1.5, fade_out_s=6.0),
    ]
    crowd = track("wal", "Hospoda ruch", "Atmo", "atmo", -15.0, 0.0, legs=2)
    crowd["inserts"] = [eq(cut("high-pass", 110.0), cut("low-pass", 650.0), name="Dveře EQ")]
    crowd["clips"] = [clip("hospoda ruch", "hospoda_ruch", 41.5, 186.5, 2.0, fade_in_s=3.0, fade_out_s=5.0)]
    crowd["automation"] = [
        drawn("fader", "dB", "linear", (0.0, -15.0), (bar(15), -15.0), (bar(16), -20.0), (bar(40), -17.0),
              (bar(47), -17.0), (bar(48), -24.0), (bar(64), -24.0), (bar(65), -18.0), (SHUT, -18.0)),
        door("insert:0:band:2:freq"),
    ]  # fmt: skip
    return [river, old, wind, crowd]


def buses() -> list[Thing]:
    """Groups, returns and the mix."""
    dialog = strip("dialog", "DIALOG", "group", 0.0)
    dialog["inserts"] = [comp(-18.0, 2.0, 10.0, 150.0, 0.5)]
    zpev = strip("zpev", "ZPĚV", "group", -0.5)
    zpev["inserts"] = [comp(-18.0, 1.8, 15.0, 180.0, 0.5)]
    zpev["sends"] = [send("hospoda", -14.0)]
    hudba = strip("hudba", "HUDBA", "group", -8.0, comment="dolní propust = dveře hospody")
    hudba["inserts"] = [
        eq(cut("high-pass", 45.0), cut("low-pass", 650.0), name="Dveře EQ"),
        comp(-18.0, 1.6, 25.0, 200.0),
    ]
    hudba["sends"] = [send("hospoda", -15.0)]
    hudba["automation"] = [
        drawn("fader", "dB", "linear", (0.0, -8.0), (OPEN, -8.0), (OPEN + 0.6, -5.0), (bar(15.5), -5.0),
              (bar(16), -3.5), (bar(40), -3.5), (bar(40.6), -9.0), (bar(47.4), -9.0), (bar(48), -3.5), (SHUT, -3.0),
              (SHUT + 0.7, -8.0), (bar(82), -9.0), (bar(86), -45.0)),
        door("insert:0:band:2:freq"),
    ]  # fmt: skip
    ruchy = strip("ruchy", "RUCHY", "group", 0.0)
    atmo = strip("atmo", "ATMO", "group", -1.0)
    returns = []
    for ident, name, fader, before, decay, low in (
        ("hospoda", "Prostor hospoda", -4.0, 8.0, 0.6, 160.0),
        ("venku", "Prostor venku", -6.0, 60.0, 1.4, 250.0),
        ("sal", "Sál", -3.0, 30.0, 2.8, 200.0),
    ):
        new = strip(ident, name, "return", fader)
        room = [value("dozvuk", decay, "s")]
        new["inserts"] = [
            unit("Dozvuk", "reverb", wet=100.0, pre_delay_ms=before, parameters=room),
            eq(cut("high-pass", low), cut("low-pass", 9000.0)),
        ]
        returns.append(new)
    mix = strip("mix", "MIX", "master", 0.0, comment="strop -3 dBTP, limiter NECHAT zapnutý")
    del mix["output"]
    mix["inserts"] = [
        eq(cut("high-pass", 30.0)),
        comp(-16.0, 1.5, 20.0, 250.0, 1.0),
        unit("Limiter", "limiter", dynamics={"threshold_db": -3.0, "release_ms": 100.0, "output_gain_db": 0.0}),
        unit("Hlasitost", "analyser", parameters=[value("cil", -23.0, "LUFS")]),
    ]
    return [dialog, zpev, hudba, ruchy, atmo, *returns, mix]


def media() -> list[Thing]:
    """Every file with its length."""
    song = ["prevoznik_zpev", "anezka_zpev", "sbor_1", "sbor_2", "akordeon_diskant", "akordeon_bas", "klarinet",
            "kontrabas", "pianino", "metlicky"]  # fmt: skip
    whole = bar(BARS) - bar(-PREROLL) + 5.4
    files = {name: (f"pisen_108/{name}.wav", whole) for name in song}
    spoken = {
        "vyp": ("vypravec", 96.4),
        "pre": ("prevoznik", 88.7),
        "ane": ("anezka", 57.2),
        "hos": ("hostinsky", 41.9),
    }
    files |= {ident: (f"hlasy/{name}_ob4.wav", seconds) for ident, (name, seconds) in spoken.items()}
    spots = {"kroky_drevo": 26.2, "kroky_schody": 9.8, "dvere_otevrit": 3.1, "dvere_zavrit": 2.6, "vesla_pomalu": 31.0,
             "zvon_zdalky": 7.5, "sklenice_01": 2.4, "sklenice_02": 2.1, "sklenice_03": 2.9}  # fmt: skip
    files |= {name: (f"ruchy/{name}.wav", seconds) for name, seconds in spots.items()}
    ground = {"reka_noc": 95.0, "reka_stara": 64.0, "vitr_rakosi": 110.0, "hospoda_ruch": 190.0}
    files |= {name: (f"atmo/{name}.wav", seconds) for name, seconds in ground.items()}
    return [
        {
            "id": ident,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": 2 if ident in ground or ident == "pianino" else 1,
            "sample_rate_hz": RATE,
            "duration_s": round(seconds, 3),
        }
        for ident, (path, seconds) in files.items()
    ]


def good() -> Session:
    """The session as it should be bounced."""
    named = [
        (0.0, "Řeka, noc"),
        (6.2, "Vypravěč"),
        (25.0, "Molo – Převozník / Anežka"),
        (SONG, "Píseň za dveřmi (takt 1)"),
        (OPEN, "DVEŘE otevřít"),
        (bar(16), "Sloka 1 Převozník"),
        (bar(32), "Refrén 1"),
        (bar(40), "Mluvené přes hudbu"),
        (bar(48), "Sloka 2 Anežka"),
        (bar(64), "Refrén 2"),
        (SHUT, "DVEŘE zavřít"),
        (188.0, "Zvon 3x"),
        (222.0, "KONEC"),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Lampa nad přívozem – obraz 4",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [
                {"beat": 0.0, "bpm": 60.0},
                {"beat": SONG, "bpm": BPM},
                {"beat": SONG + BARS * 3, "bpm": 60.0},
            ],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": SONG, "beats": 3, "unit": 4},
                {"beat": SONG + BARS * 3, "beats": 4, "unit": 4},
            ],
        },
        "markers": [{"time_s": when, "name": name} for when, name in named],
        "channels": speech() + singing() + ensemble() + effects() + beds() + buses(),
        "media": media(),
        "metadata": {
            "dodání": "WAV 48/24 stereo, -23 LUFS, strop -3 dBTP",
            "klik": "píseň 108, 3/4, takt 1 na 44.000 s",
        },
    }


def channel(session: Session, name: str) -> Thing:
    """The channel of a name."""
    found: Thing = next(c for c in session["channels"] if c["name"] == name)
    return found


def guest_copied(session: Session) -> None:
    """The second guest sings from the first one's file in chorus 2."""
    part = channel(session, "Sbor hosté 2")["clips"][1]
    part["file"], part["name"] = "sbor_1", channel(session, "Sbor hosté 1")["clips"][1]["name"]


def door_stays_shut(session: Session) -> None:
    """The low-pass of the band loses the points at which it opens."""
    curve = next(a for a in channel(session, "HUDBA")["automation"] if a["target"].endswith("freq"))
    curve["t"], curve["v"] = [curve["t"][0], curve["t"][-1]], [curve["v"][0], curve["v"][-1]]


def innkeeper_outside(session: Session) -> None:
    """The innkeeper is sent to the outdoor space."""
    channel(session, "Hostinský")["sends"][0]["to"] = "venku"


def clarinet_to_effects(session: Session) -> None:
    """The clarinet plays to the effects group."""
    channel(session, "Klarinet")["output"] = "ruchy"


def piano_leg_inverted(session: Session) -> None:
    """One leg of the piano is inverted."""
    channel(session, "Pianino")["inserts"][0]["parameters"][2]["value"] = True


def narrator_decimal(session: Session) -> None:
    """A clip gain of -1.5 became -15."""
    channel(session, "Vypravěč")["clips"][2]["gain_db"] = -15.0


def expander_decimal(session: Session) -> None:
    """An expander threshold of -52 became -5.2."""
    channel(session, "Anežka")["inserts"][0]["dynamics"]["threshold_db"] = -5.2


def wrong_door(session: Session) -> None:
    """The closing door is laid where it should open."""
    part = channel(session, "Dveře")["clips"][0]
    part["file"] = part["name"] = "dvere_zavrit"
    part["end_s"] = round(part["start_s"] + 2.4, 4)


def limiter_off(session: Session) -> None:
    """The limiter was left off after a comparison."""
    channel(session, "MIX")["inserts"][2]["on"] = False


def oars_on_the_desktop(session: Session) -> None:
    """The oars were dragged in from somewhere else on the disk."""
    file = next(f for f in session["media"] if f["id"] == "vesla_pomalu")
    file["path"], file["place"] = "/home/marek/Plocha/vesla_pomalu.wav", "outside"


def tempo_misread(session: Session) -> None:
    """The tempo of the song is entered wrong."""
    session["timeline"]["tempos"][1]["bpm"] = 103.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Řeka stará"], "why": "muted on purpose, it hums; the comment says not to use it"},
    {"channels": ["Vypravěč"], "why": "dry on purpose, the only voice without any space"},
    {"channels": ["HUDBA", "Hospoda ruch"], "why": "the low-pass at 650 Hz and the drop in level are the shut door"},
    {"channels": ["Sál"], "why": "fed in one verse only, the other time its sends are switched off"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "guest-copied",
        "class": "twice",
        "channels": ["Sbor hosté 2", "Sbor hosté 1"],
        "grade": "look",
        "says": "In Refrén 2 both guests play the same stretch of sbor_1; the pair left and right becomes one voice.",
        "plant": guest_copied,
    },
    {
        "id": "door-stays-shut",
        "class": "automation",
        "channels": ["HUDBA"],
        "grade": "hold",
        "says": "The low-pass of HUDBA never opens: the band stays behind the door for the whole song, the crowd not.",
        "plant": door_stays_shut,
    },
    {
        "id": "innkeeper-outside",
        "class": "ambience",
        "channels": ["Hostinský"],
        "grade": "look",
        "says": "The innkeeper, always inside, is sent to the outdoor space instead of the inn like those he talks to.",
        "plant": innkeeper_outside,
    },
    {
        "id": "clarinet-to-effects",
        "class": "routing",
        "channels": ["Klarinet"],
        "grade": "look",
        "says": "The clarinet plays to RUCHY, not to HUDBA like the rest of the band, so the door does not muffle it.",
        "plant": clarinet_to_effects,
    },
    {
        "id": "piano-leg-inverted",
        "class": "phase",
        "channels": ["Pianino"],
        "grade": "look",
        "says": "One leg of the stereo piano is inverted: it falls apart in mono, and this goes to radio.",
        "plant": piano_leg_inverted,
    },
    {
        "id": "narrator-decimal",
        "class": "level",
        "channels": ["Vypravěč"],
        "grade": "look",
        "says": "The narrator's third line has -15 dB of clip gain where his others have about 0; -1.5 was meant.",
        "plant": narrator_decimal,
    },
    {
        "id": "expander-decimal",
        "class": "processors",
        "channels": ["Anežka"],
        "grade": "look",
        "says": "Anežka's expander opens at -5.2 dB where the other voices have about -52: it presses all her speech.",
        "plant": expander_decimal,
    },
    {
        "id": "wrong-door",
        "class": "edits",
        "channels": ["Dveře"],
        "grade": "look",
        "says": "At 'DVEŘE otevřít' the closing door is laid (dvere_zavrit); the opening one is not used anywhere.",
        "plant": wrong_door,
    },
    {
        "id": "limiter-off",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The limiter on MIX is bypassed though delivery asks for -3 dBTP and the comment for leaving it on.",
        "plant": limiter_off,
    },
    {
        "id": "oars-on-the-desktop",
        "class": "hand-over",
        "channels": ["Vesla"],
        "grade": "note",
        "says": "The file of the oars lies on somebody's desktop and will not travel with the session.",
        "plant": oars_on_the_desktop,
    },
    {
        "id": "tempo-misread",
        "class": "tempo",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The song runs at 103 in the tempo map, but its clips, markers and the note on the click are at 108.",
        "plant": tempo_misread,
    },
]
