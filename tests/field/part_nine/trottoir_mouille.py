"""Trottoir mouille: a funk tune of three and a half minutes, a band with five horns and three backing singers.

Drums, bass, guitars and organ were played together (takes 4 and 6, cut on the bar lines through all microphones alike);
horns were recorded as a section afterwards, one file per passage and chair; voices last. The tune runs at 104 and is
pushed to 106 for the last chorus. French session: short names, notes in the comments, folders by family, one group per
family, a parallel compressor for the drums, delay throws on the lead drawn as steps, everything bounced from MIX.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

FS = 48000.0
PUSH_BAR = 67
TEMPOS = ((0.0, 104.0), ((PUSH_BAR - 1) * 4.0, 106.0))


def mes(bar: int, beat: float = 1.0) -> float:
    """The time of a beat in a bar (mesure) under the tempo map."""
    beats = (bar - 1) * 4 + beat - 1.0
    slow = min(beats, TEMPOS[1][0])
    return round(slow * 60.0 / TEMPOS[0][1] + (beats - slow) * 60.0 / TEMPOS[1][1], 4)


INTRO, C1, R1, C2, R2, PONT, BREAK, R3, CODA, FIN = 3, 7, 23, 31, 47, 55, 63, PUSH_BAR, 83, 91
END = round(mes(FIN) + 4.6, 3)
PASSAGES = {"intro": (INTRO, C1), "r1": (R1, C2), "c2": (39, R2), "r2": (R2, PONT), "pont": (PONT, BREAK)}
PASSAGES |= {"r3": (R3, CODA), "coda": (CODA, FIN)}

RHYTHM = {
    "gcin": ("GC_in", 1),
    "gcout": ("GC_out", 1),
    "cct": ("CC_top", 1),
    "ccb": ("CC_bot", 1),
    "hh": ("HH", 1),
    "t1": ("Tom1", 1),
    "t2": ("Tom2", 1),
    "oh": ("OH", 2),
    "room": ("Room", 2),
    "bdi": ("Basse_DI", 1),
    "bam": ("Basse_ampli", 1),
    "g1": ("Gtr_cocotte", 1),
    "g2": ("Gtr_wah", 1),
    "org": ("Orgue", 2),
}
HORNS = {"tp1": "tp1", "tp2": "tp2", "sxa": "sax_alto", "sxt": "sax_tenor", "tbn": "trombone"}
SINGERS = {"cha": "choeur_nadia", "chb": "choeur_lise", "chc": "choeur_paul"}
CHORUSES = {"r1": (R1, C2), "r2": (R2, PONT), "r3": (R3, CODA), "coda": (CODA, FIN)}


def files() -> dict[str, tuple[str, int, float, float]]:
    """All files: path, legs, where in the song the recording starts, length."""
    known: dict[str, tuple[str, int, float, float]] = {}
    for key, (name, legs) in RHYTHM.items():
        known[f"{key}4"] = (f"audio/{name}_p4.wav", legs, 0.0, 231.417)
        known[f"{key}6"] = (f"audio/{name}_p6.wav", legs, 0.0, 229.05)
    known["wahr"] = ("audio/Gtr_wah_pont_repique.wav", 1, mes(54), 24.36)
    for key, stem in HORNS.items():
        for part, (first, last) in PASSAGES.items():
            length = mes(last) - mes(first - 1) + (6.5 if part == "coda" else 2.5)
            known[f"{key}_{part}"] = (f"audio/cuivres/{stem}_{part}.wav", 1, mes(first - 1), round(length, 3))
    for key, stem in SINGERS.items():
        known[key] = (f"audio/voix/{stem}_02.wav", 1, mes(R1 - 2), round(mes(FIN) + 6.0 - mes(R1 - 2), 3))
    for take, length in ((2, 226.8), (3, 227.34), (5, 226.11)):
        known[f"lead{take}"] = (f"audio/voix/lead_p{take}.wav", 1, 0.0, length)
    known["adlib"] = ("audio/voix/adlibs_01.wav", 1, mes(53), 93.4)
    known["cong"] = ("audio/perc/congas_02.wav", 2, mes(5), 203.2)
    known["tamb"] = ("audio/perc/tambourin.wav", 1, mes(21), 168.5)
    known["clic"] = ("audio/clic.wav", 1, 0.0, 212.0)
    return known


FILES = files()


def media() -> list[Item]:
    """The list of media."""
    return [
        {
            "id": key,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": FS,
            "duration_s": length,
        }
        for key, (path, legs, _start, length) in FILES.items()
    ]


def clip(key: str, start: float, end: float, name: str, fade_in: float = 0.005, fade_out: float = 0.005) -> Item:
    """A stretch of a file, where it was recorded."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": key,
        "offset_s": round(start - FILES[key][2], 4),
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": 0.0,
        "on": True,
    }


def takes(key: str) -> list[Item]:
    """The rhythm section: take 4, take 6 from the second verse to the break, take 4 again."""
    name = RHYTHM[key][0]
    return [
        clip(f"{key}4", mes(INTRO) - 0.05, mes(C2) - 0.02, f"{name}_p4-01", 0.02),
        clip(f"{key}6", mes(C2) - 0.02, mes(R3) - 0.02, f"{name}_p6-01"),
        clip(f"{key}4", mes(R3) - 0.02, END, f"{name}_p4-02", fade_out=1.2),
    ]


def eq(*bands: tuple[str, float, float, float], name: str = "EQ", out: float = 0.0) -> Item:
    """An equalizer; filters give their slope last, the other bands their Q."""
    rows = [
        {"kind": kind, "freq_hz": freq, "gain_db": gain, ("slope_db_per_oct" if "pass" in kind else "q"): last}
        for kind, freq, gain, last in bands
    ]
    return {
        "name": name,
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": rows, "output_gain_db": out},
    }


def dyn(name: str, kind: str, threshold: float, attack: float, release: float, **more: float) -> Item:
    """A compressor, gate or limiter."""
    values = {"threshold_db": threshold, "attack_ms": attack, "release_ms": release, **more}
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": values}


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float, name: str = "Comp") -> Item:
    """A compressor."""
    return dyn(name, "compressor", threshold, attack, release, ratio=ratio, output_gain_db=gain)


def gate(threshold: float, release: float) -> Item:
    """A gate as he has it on the toms."""
    return dyn("Gate", "gate", threshold, 0.4, release, range_db=-24.0)


def box(name: str, kind: str, *rows: tuple[str, float | bool | str, str], **more: Any) -> Item:
    """A processor with listed settings."""
    listed = [{"id": key, "name": key, "value": value, "unit": unit} for key, value, unit in rows]
    return {"name": name, "kind": kind, "on": True, "opaque": not rows, "parameters": listed, **more}


def wet(name: str, kind: str, *rows: tuple[str, float | bool | str, str], **more: Any) -> Item:
    """A processor of a return: all wet."""
    return box(name, kind, *rows, wet=100.0, **more)


def send(to: str, level: float) -> Item:
    """A send, after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def tranche(
    key: str, name: str, fader: float, pan: float, out: str, folder: str, clips: list[Item], **more: Any
) -> Item:
    """A track."""
    stereo = any(c["file"] and FILES[c["file"]][1] == 2 for c in clips)
    return {
        "id": key,
        "name": name,
        "kind": "track",
        "folder": [folder],
        "plays": ["audio"],
        "legs": 2 if stereo else 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": [],
        "inserts": [],
        "clips": clips,
        "automation": [],
        **more,
    }


def bus(key: str, name: str, kind: str, fader: float, *inserts: Item, **more: Any) -> Item:
    """A group, a return or the mix."""
    made: Item = {
        "id": key,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "inserts": list(inserts),
        **more,
    }
    return made if kind == "master" else {"output": "mix", **made}


def batterie() -> list[Item]:
    """Drums and percussion."""
    d = "batt"
    f = "BATTERIE"
    inv = box("Ø", "utility", ("polarity_invert", True, ""), ("trim", 0.0, "dB"))
    return [
        tranche(
            "p1", "GC in", -6.5, 0.0, d, f, takes("gcin"), sends=[send("para", -6.0)],
            inserts=[
                dyn("Gate", "gate", -38.0, 0.3, 140.0, range_db=-14.0),
                eq(("bell", 62.0, 2.5, 1.1), ("bell", 380.0, -4.0, 1.3), ("bell", 4200.0, 3.0, 0.9)),
                comp(-16.0, 3.5, 22.0, 90.0, 2.0),
            ],
        ),
        tranche(
            "p2", "GC out", -9.0, 0.0, d, f, takes("gcout"), sends=[send("para", -9.0)],
            inserts=[eq(("low-pass", 3200.0, 0.0, 12.0), ("bell", 52.0, 2.0, 1.2))],
        ),
        tranche(
            "p3", "CC top", -7.0, 0.0, d, f, takes("cct"), sends=[send("para", -5.0), send("rcuiv", -17.0)],
            inserts=[
                eq(("high-pass", 85.0, 0.0, 12.0), ("bell", 210.0, 2.0, 1.0), ("bell", 5000.0, 2.0, 0.9)),
                comp(-18.0, 4.0, 10.0, 100.0, 2.5),
            ],
        ),
        tranche(
            "p4", "CC bot", -13.5, 0.0, d, f, takes("ccb"),
            inserts=[inv, eq(("high-pass", 160.0, 0.0, 12.0), ("high-shelf", 6500.0, 2.0, 0.7))],
            comment="micro dessous : Ø inversée",
        ),
        tranche(
            "p5", "HH", -15.0, -35.0, d, f, takes("hh"),
            inserts=[eq(("high-pass", 320.0, 0.0, 18.0), ("bell", 900.0, -2.0, 1.5))],
        ),
        tranche(
            "p6", "Tom 1", -9.5, -28.0, d, f, takes("t1"), sends=[send("para", -8.0)],
            inserts=[gate(-34.0, 260.0), eq(("bell", 105.0, 2.0, 1.1), ("bell", 420.0, -4.5, 1.2))],
        ),
        tranche(
            "p7", "Tom 2", -9.0, 34.0, d, f, takes("t2"), sends=[send("para", -8.0)],
            inserts=[gate(-36.0, 320.0), eq(("bell", 78.0, 2.5, 1.1), ("bell", 380.0, -4.5, 1.2))],
        ),
        tranche(
            "p8", "OH", -9.5, 0.0, d, f, takes("oh"),
            inserts=[eq(("high-pass", 180.0, 0.0, 12.0), ("high-shelf", 10000.0, 1.5, 0.7))],
            comment="vue batteur",
        ),
        tranche(
            "p9", "Room", -14.0, 0.0, d, f, takes("room"),
            inserts=[eq(("high-pass", 60.0, 0.0, 12.0)), comp(-28.0, 6.0, 6.0, 140.0, 4.0)],
        ),
        tranche(
            "p10", "Congas", -13.0, 0.0, d, "PERCUS",
            [
                clip("cong", mes(C1) - 0.1, mes(PONT) + 0.4, "congas c1-r2", 0.02, 0.1),
                clip("cong", mes(BREAK) - 0.1, END, "congas break-fin", 0.02, 1.2),
            ],
            inserts=[eq(("high-pass", 110.0, 0.0, 12.0), ("bell", 300.0, -2.0, 1.3))], sends=[send("rcuiv", -18.0)],
        ),
        tranche(
            "p11", "Tambourin", -18.0, 46.0, d, "PERCUS",
            [
                clip("tamb", mes(a) - 0.08, mes(b) + 0.15, f"tamb {part}", 0.01, 0.05)
                for part, (a, b) in CHORUSES.items()
                if part != "coda"
            ],
            inserts=[eq(("high-pass", 500.0, 0.0, 18.0))],
        ),
    ]  # fmt: skip


def harmonie() -> list[Item]:
    """Bass, guitars and keys."""
    f = "RYTHMIQUE"
    wah = takes("g2")
    repick = clip("wahr", mes(PONT) - 0.03, mes(BREAK) + 0.02, "wah pont repique")
    rest = clip("g26", mes(BREAK) + 0.02, mes(R3) - 0.02, "Gtr_wah_p6-02")
    wah[1]["end_s"] = repick["start_s"]
    rest["offset_s"] = round(rest["start_s"], 4)
    notes = [
        {
            "start_s": mes(first),
            "end_s": mes(last),
            "name": f"clavi {part}",
            "plays": "notes",
            "file": None,
            "on": True,
        }
        for part, first, last in (("c1", C1, R1), ("c2", C2, R2), ("r3", R3, CODA), ("coda", CODA, FIN + 1))
    ]
    return [
        tranche(
            "p12", "Basse DI", -8.0, 0.0, "bas", f, takes("bdi"),
            inserts=[
                eq(("high-pass", 32.0, 0.0, 12.0), ("bell", 250.0, -2.0, 1.0)),
                comp(-20.0, 4.0, 15.0, 110.0, 3.0),
            ],
        ),
        tranche(
            "p13", "Basse ampli", -10.0, 0.0, "bas", f, takes("bam"),
            inserts=[eq(("high-pass", 45.0, 0.0, 12.0), ("bell", 780.0, 2.0, 0.9)), comp(-20.0, 3.0, 18.0, 120.0, 2.0)],
        ),
        tranche(
            "p14", "Gtr cocotte", -12.5, -70.0, "harm", f, takes("g1"), sends=[send("rcuiv", -20.0)],
            inserts=[eq(("high-pass", 130.0, 0.0, 12.0), ("bell", 2400.0, 1.5, 1.0)), comp(-22.0, 4.0, 8.0, 80.0, 3.0)],
        ),
        tranche(
            "p15", "Gtr wah", -13.0, 70.0, "harm", f, [*wah[:2], repick, rest, wah[2]],
            sends=[send("rcuiv", -20.0)],
            inserts=[
                eq(("high-pass", 120.0, 0.0, 12.0), ("bell", 1600.0, -1.5, 1.2)),
                comp(-22.0, 4.0, 8.0, 80.0, 3.0),
            ],
            comment="pont repiqué (accord faux dans p6)",
        ),
        tranche(
            "p16", "Orgue", -15.0, 0.0, "harm", f, takes("org"),
            inserts=[eq(("high-pass", 110.0, 0.0, 12.0), ("bell", 340.0, -2.0, 1.1))],
            automation=[
                {
                    "target": "fader", "scale": "dB", "shape": "linear",
                    "t": [0.0, mes(R1) - 0.6, mes(R1), mes(C2) - 0.4, mes(C2), mes(R2) - 0.6, mes(R2), END],
                    "v": [-15.0, -15.0, -13.5, -13.5, -15.0, -15.0, -13.5, -13.5],
                }
            ],
        ),
        tranche(
            "p17", "Clavi", -14.5, -24.0, "harm", f, notes, plays=["notes"], legs=2,
            inserts=[
                box("Clavi funky", "instrument"),
                box("Phaser", "modulation", ("rate", 0.35, "Hz"), ("depth", 40.0, "%"), wet=35.0),
                eq(("high-pass", 140.0, 0.0, 12.0)),
            ],
        ),
    ]  # fmt: skip


def cuivres() -> list[Item]:
    """Horns: a section, each chair with its clip per passage."""
    chairs = [
        ("tp1", "Tp 1", -7.0, -42.0, 180.0),
        ("tp2", "Tp 2", -7.5, -20.0, 180.0),
        ("sxa", "Sax alto", -7.2, 4.0, 140.0),
        ("sxt", "Sax ténor", -6.5, 25.0, 100.0),
        ("tbn", "Trombone", -6.0, 46.0, 80.0),
    ]
    starts = {first for first, _last in PASSAGES.values()}
    rows: list[Item] = []
    for number, (key, name, fader, pan, cut) in enumerate(chairs, 18):
        clips = []
        for part, (first, last) in PASSAGES.items():
            stop = END if part == "coda" else mes(last) + (-0.2 if last in starts else 0.25)
            fade = 1.2 if part == "coda" else 0.08
            clips.append(clip(f"{key}_{part}", mes(first) - 0.2, stop, f"{HORNS[key]} {part}", 0.02, fade))
        inserts = [eq(("high-pass", cut, 0.0, 12.0), ("bell", 2900.0, -1.5, 1.2)), comp(-19.0, 2.5, 15.0, 120.0, 1.5)]
        rows.append(
            tranche(
                f"p{number}", name, fader, pan, "cui", "CUIVRES", clips, sends=[send("rcuiv", -12.0)], inserts=inserts
            )
        )
    return rows


def throws() -> Item:
    """The delay throws on the lead: open on a last word, shut again a bar later."""
    t, v = [0.0], [-200.0]
    for at in (mes(22, 4.0), mes(30, 3.0), mes(46, 4.0), mes(54, 3.0), mes(82, 3.0), mes(90, 3.0)):
        t += [at, round(at + 1.7, 4)]
        v += [-9.0, -200.0]
    return {"target": "send:1:level", "scale": "dB", "shape": "hold", "t": t, "v": v}


def voix() -> list[Item]:
    """Lead, ad libs and backing singers."""
    lead_plan = [(3, C1, 15, "c1a"), (5, 15, R1, "c1b"), (3, R1, C2, "r1"), (2, C2, 39, "c2a"), (5, 39, R2, "c2b")]
    lead_plan += [(5, R2, PONT, "r2"), (5, R3, 75, "r3a"), (3, 75, CODA, "r3b"), (2, CODA, FIN, "coda")]
    lead = [
        clip(
            f"lead{take}",
            mes(a) - 0.3,
            mes(b) - 0.3 + (1.2 if part == "coda" else 0.0),
            f"lead p{take} {part}",
            0.01,
            0.02,
        )
        for take, a, b, part in lead_plan
    ]
    rows = [
        tranche(
            "p23",
            "Chant lead",
            -4.5,
            0.0,
            "vx",
            "VOIX",
            lead,
            sends=[send("rplaq", -12.0), send("rdel", -200.0)],
            inserts=[
                eq(("high-pass", 95.0, 0.0, 18.0), ("bell", 320.0, -2.5, 1.2), ("high-shelf", 9000.0, 2.0, 0.7)),
                comp(-20.0, 3.5, 8.0, 110.0, 3.5),
                box("Dé-esseur", "de-esser", ("freq", 6700.0, "Hz"), ("seuil", -28.0, "dB")),
            ],
            automation=[throws()],
        ),
        tranche(
            "p24",
            "Chant adlibs",
            -8.5,
            12.0,
            "vx",
            "VOIX",
            [
                clip("adlib", mes(54) - 0.2, mes(PONT) + 1.8, "adlib fin r2", 0.02, 0.2),
                clip("adlib", mes(77) - 0.2, mes(81) + 0.5, "adlib r3", 0.02, 0.1),
                clip("adlib", mes(84) - 0.2, mes(FIN) + 1.5, "adlib coda", 0.02, 0.4),
            ],
            sends=[send("rplaq", -11.0), send("rhall", -16.0)],
            inserts=[
                eq(("high-pass", 110.0, 0.0, 18.0), ("bell", 320.0, -2.5, 1.2)),
                comp(-22.0, 4.0, 6.0, 100.0, 4.0),
                box("Dé-esseur", "de-esser", ("freq", 6700.0, "Hz"), ("seuil", -28.0, "dB")),
            ],
        ),
    ]
    singers = [("cha", "Chœur Nadia", -9.5, -50.0), ("chb", "Chœur Lise", -9.0, 0.0), ("chc", "Chœur Paul", -9.2, 50.0)]
    for number, (key, name, fader, pan) in enumerate(singers, 25):
        who = name.split()[1].lower()
        clips = [
            clip(key, mes(a) - 0.25, mes(b) + (1.8 if part == "coda" else -0.25), f"{who} {part}", 0.02, 0.06)
            for part, (a, b) in CHORUSES.items()
        ]
        rows.append(
            tranche(
                f"p{number}",
                name,
                fader,
                pan,
                "cho",
                "VOIX",
                clips,
                sends=[send("rplaq", -10.0)],
                inserts=[
                    eq(("high-pass", 150.0, 0.0, 12.0), ("bell", 3000.0, 1.0, 1.0)),
                    comp(-21.0, 3.0, 10.0, 120.0, 2.5),
                ],
            )
        )
    return rows


def bus_et_retours() -> list[Item]:
    """Helpers, groups, returns and the mix."""
    clic = [clip("clic", 0.0, mes(FIN), "clic")]
    return [
        tranche("p28", "Clic", -12.0, 0.0, "mix", "UTIL", clic, mute=True, comment="prises seulement"),
        bus(
            "batt", "BATT", "group", -2.0, comp(-13.0, 2.0, 30.0, 100.0, 1.5, "Comp bus"),
            eq(("bell", 350.0, -1.0, 1.0)),
        ),
        bus("bas", "BASSE", "group", -2.5, eq(("low-shelf", 70.0, 1.0, 0.7))),
        bus("harm", "GTR+CLAV", "group", -1.5, eq(("bell", 2700.0, -1.5, 0.8))),
        bus(
            "cui", "CUIVRES", "group", -3.0, comp(-16.0, 3.0, 18.0, 130.0, 2.0, "Comp bus"),
            eq(("high-shelf", 8000.0, 1.5, 0.7)),
        ),
        bus("cho", "CHŒURS", "group", -2.5, comp(-17.0, 2.5, 12.0, 130.0, 2.0, "Comp bus")),
        bus("vx", "VOIX", "group", -1.0, comp(-15.0, 2.0, 15.0, 140.0, 1.5, "Comp bus")),
        bus(
            "para", "BATT para", "return", -11.0, comp(-32.0, 10.0, 2.0, 70.0, 6.0, "Comp écrase"),
            eq(("low-shelf", 90.0, 1.5, 0.7), ("high-shelf", 8000.0, 1.5, 0.7)),
            comment="compression parallèle, fûts seulement",
        ),
        bus(
            "rplaq", "R1 plaque voix", "return", -6.0, wet("Plaque", "reverb", ("decay", 1.6, "s"), pre_delay_ms=30.0),
            eq(("high-pass", 280.0, 0.0, 12.0)),
        ),
        bus(
            "rcuiv", "R2 pièce", "return", -7.0, wet("Pièce", "reverb", ("decay", 0.7, "s"), pre_delay_ms=8.0),
            comment="cuivres, CC, congas, gtrs",
        ),
        bus(
            "rdel", "R3 délai noire", "return", -5.0,
            wet("Délai", "delay", ("sync", "1/4", ""), ("feedback", 32.0, "%")),
            eq(("high-pass", 350.0, 0.0, 12.0), ("low-pass", 4500.0, 0.0, 12.0)), sends=[send("rhall", -18.0)],
            comment="lancers du chant lead",
        ),
        bus(
            "rhall", "R4 hall long", "return", -8.0, wet("Hall", "reverb", ("decay", 2.8, "s"), pre_delay_ms=45.0),
            eq(("high-pass", 300.0, 0.0, 12.0)),
        ),
        bus(
            "mix", "MIX", "master", 0.0, eq(("high-pass", 22.0, 0.0, 12.0), ("high-shelf", 10000.0, 1.0, 0.7)),
            comp(-11.0, 1.8, 30.0, 110.0, 1.0, "Comp mix"),
            dyn("Limiteur", "limiter", -2.0, 1.0, 60.0, output_gain_db=0.0),
        ),
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    places = [(1, "décompte"), (INTRO, "intro"), (C1, "couplet 1"), (R1, "refrain 1"), (C2, "couplet 2")]
    places += [(R2, "refrain 2"), (PONT, "pont cuivres"), (BREAK, "break basse/batt"), (R3, "refrain 3 (106)")]
    places += [(CODA, "coda"), (FIN, "dernier coup")]
    return {
        "format": "mixlint-session/1",
        "title": "Trottoir mouillé - mix 3",
        "sample_rate_hz": FS,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [
            *({"time_s": mes(bar), "name": name} for bar, name in places),
            {"time_s": END, "name": "fin bounce"},
        ],
        "channels": [*batterie(), *harmonie(), *cuivres(), *voix(), *bus_et_retours()],
        "media": media(),
        "metadata": {"titre": "Trottoir mouillé", "mix": "3", "note": "bounce de 0 à fin bounce, 48k"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def processor(session: Session, name: str, kind: str) -> Item:
    """The first processor of a kind in a channel."""
    found: Item = next(i for i in channel(session, name)["inserts"] if i["kind"] == kind)
    return found


def tenor_buried(session: Session) -> None:
    """The tenor's fader stands twenty decibels lower."""
    channel(session, "Sax ténor")["fader_db"] = -26.5


def bottom_not_turned(session: Session) -> None:
    """The polarity switch of the bottom snare microphone is out."""
    processor(session, "CC bot", "utility")["parameters"][0]["value"] = False


def tom_past_group(session: Session) -> None:
    """The floor tom goes straight to the mix."""
    channel(session, "Tom 2")["output"] = "mix"


def lead_copied(session: Session) -> None:
    """A clip of the lead has been left as a copy on the ad-lib track."""
    source = next(c for c in channel(session, "Chant lead")["clips"] if c["name"] == "lead p5 r3a")
    channel(session, "Chant adlibs")["clips"].insert(1, dict(source))


def plate_half_dry(session: Session) -> None:
    """The plate passes dry signal."""
    processor(session, "R1 plaque voix", "reverb")["wet"] = 38.0


def tom_gate_shut(session: Session) -> None:
    """The rack tom's gate never opens."""
    processor(session, "Tom 1", "gate")["dynamics"]["threshold_db"] = -4.0


def trumpet_clip_off(session: Session) -> None:
    """The second trumpet's clip of chorus two is muted."""
    next(c for c in channel(session, "Tp 2")["clips"] if c["name"] == "tp2 r2")["on"] = False


def throw_left_open(session: Session) -> None:
    """The step that shuts the throw before chorus two is gone."""
    moves = channel(session, "Chant lead")["automation"][0]
    spot = moves["t"].index(mes(46, 4.0)) + 1
    del moves["t"][spot], moves["v"][spot]


def horns_hot(session: Session) -> None:
    """The horn group's compressor gives twelve decibels instead of two."""
    processor(session, "CUIVRES", "compressor")["dynamics"]["output_gain_db"] = 12.0


def repick_not_collected(session: Session) -> None:
    """The guitar repick still lies where it was recorded and was not found."""
    item = next(f for f in session["media"] if f["id"] == "wahr")
    item.update(path="../../Bureau/Gtr_wah_pont_repique.wav", place="outside", present=False)


def room_runs_on(session: Session) -> None:
    """The room microphones run on after the last note."""
    last = channel(session, "Room")["clips"][-1]
    last["end_s"] = 229.6
    last["fade_out_s"] = 0.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Clic"], "why": "a muted helper with a comment; a reminder of it is fair"},
    {"channels": ["Clavi"], "why": "still an instrument playing notes, not printed; an engineer would take the hint"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "tenor-sax-buried",
        "class": "level",
        "channels": ["Sax ténor"],
        "grade": "look",
        "says": "The tenor's fader is at -26.5 dB while the other four horns in the same passages are at -6 to -7.5.",
        "plant": tenor_buried,
    },
    {
        "id": "bottom-snare-polarity",
        "class": "phase",
        "channels": ["CC bot", "CC top"],
        "grade": "look",
        "says": "The comment says the bottom microphone is turned in polarity, but the switch of its Ø insert is out.",
        "plant": bottom_not_turned,
    },
    {
        "id": "floor-tom-past-the-group",
        "class": "routing",
        "channels": ["Tom 2"],
        "grade": "look",
        "says": "Tom 2 goes straight to MIX, past BATT, where every other drum goes.",
        "plant": tom_past_group,
    },
    {
        "id": "lead-clip-also-on-adlibs",
        "class": "twice",
        "channels": ["Chant adlibs", "Chant lead"],
        "grade": "hold",
        "says": "The clip 'lead p5 r3a' lies on Chant adlibs too, same file, place and offset: the lead sounds twice.",
        "plant": lead_copied,
    },
    {
        "id": "plate-half-dry",
        "class": "ambience",
        "channels": ["R1 plaque voix"],
        "grade": "look",
        "says": "The plate on its return is only 38 % wet, the other returns are 100 %: it returns dry voices.",
        "plant": plate_half_dry,
    },
    {
        "id": "rack-tom-gate-shut",
        "class": "processors",
        "channels": ["Tom 1"],
        "grade": "look",
        "says": "Tom 1's gate opens at -4 dB only, that of Tom 2 at -36: the fills will be lost.",
        "plant": tom_gate_shut,
    },
    {
        "id": "second-trumpet-clip-muted",
        "class": "edits",
        "channels": ["Tp 2"],
        "grade": "look",
        "says": "The clip 'tp2 r2' is muted, without a word, while the other four horns play chorus two.",
        "plant": trumpet_clip_off,
    },
    {
        "id": "delay-throw-left-open",
        "class": "automation",
        "channels": ["Chant lead", "R3 délai noire"],
        "grade": "look",
        "says": "The delay throw at the end of couplet 2 is not shut: the lead feeds the delay all through refrain 2; "
        "every other throw lasts 1.7 s.",
        "plant": throw_left_open,
    },
    {
        "id": "horn-group-makeup",
        "class": "headroom",
        "channels": ["CUIVRES"],
        "grade": "look",
        "says": "The compressor of CUIVRES gives +12 dB of makeup at -16 dB and 3:1, the other groups +1.5 to +2: "
        "it will hit the limiter.",
        "plant": horns_hot,
    },
    {
        "id": "repick-outside-and-missing",
        "class": "files",
        "channels": ["Gtr wah"],
        "grade": "hold",
        "says": "The repicked wah of the pont lies outside the session folder and is not found: the bridge has no wah.",
        "plant": repick_not_collected,
    },
    {
        "id": "room-runs-past-the-end",
        "class": "end",
        "channels": ["Room"],
        "grade": "look",
        "says": "Room runs on eighteen seconds past the end that all other tracks share, without a fade.",
        "plant": room_runs_on,
    },
]
