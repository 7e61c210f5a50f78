"""Der Hut des Nachtportiers: kleine Musiktheater-Nummer für vier Stimmen, Klavier, Bass, Schlagzeug, zwei Holzbläser.

Vers im Dreiviertel (84, letzter Takt breiter), Dialogtakte und Refrain im Vierviertel (126), Schluss in Stufen
langsamer, Türschlag als Pointe. Zuerst die Band in einem Raum (Takes B4, ab Refrain 2 B6), am zweiten Tag die Stimmen
zusammen vor einem AB, dazu je eine Stütze; die Takes G2, G5, G3 sind auf allen sechs Stimmmikrofonen an denselben
Stellen geschnitten. Stützen liegen nur da, wo gesungen wird, und sind um den Weg zum AB verzögert; ihre Sends in den
Saal stehen wie ihr Panorama. Arbeitsweise: Sammelwege je Familie, wenig Kompression, das Bild kommt vom AB.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 96000.0
TEMPI: tuple[tuple[float, float], ...] = ((0.0, 84.0), (57.0, 72.0), (60.0, 126.0), (300.0, 112.0), (308.0, 96.0))
WALZER = 20
KREUZ = 0.02

POSITION: dict[str, float] = {"Ida": -40.0, "Bruno": -14.0, "Marlen": 14.0, "Veit": 40.0}
LAUFZEIT: dict[str, float] = {"Ida": 9.8, "Bruno": 8.7, "Marlen": 8.9, "Veit": 10.1}


def zeit(takt: int, schlag: float = 0.0) -> float:
    """Sekunden an einem Schlag (ab 0) eines Taktes (ab 1)."""
    ziel = 3.0 * (takt - 1) if takt <= WALZER else 3.0 * WALZER + 4.0 * (takt - WALZER - 1)
    ziel += schlag
    summe = 0.0
    for nummer, (ab, bpm) in enumerate(TEMPI):
        bis = TEMPI[nummer + 1][0] if nummer + 1 < len(TEMPI) else ziel
        summe += max(0.0, min(ziel, bis) - ab) * 60.0 / bpm
    return round(summe, 4)


SCHNITT_BAND = zeit(65)
SCHNITT_STROPHE = zeit(40, 2.0)
SCHNITT_REFRAIN = zeit(73)
ENDE = zeit(86)

BAND: tuple[str, ...] = (
    "klavier_tief",
    "klavier_hoch",
    "kb_mikro",
    "kb_tonabn",
    "gr_trommel",
    "kl_trommel",
    "oh_li",
    "oh_re",
    "holz1",
    "holz2",
)
STIMMEN: tuple[str, ...] = ("ab_li", "ab_re", "st_ida", "st_bruno", "st_marlen", "st_veit")


def dateien() -> dict[str, tuple[str, float, float]]:
    """Alle Dateien: Pfad, Beginn der Aufnahme im Stück, Länge."""
    liste: dict[str, tuple[str, float, float]] = {}
    for mikro in BAND:
        liste[f"{mikro}_B4"] = (f"Audio/Band/{mikro}_B4.wav", -8.0, 186.0)
        liste[f"{mikro}_B6"] = (f"Audio/Band/{mikro}_B6.wav", zeit(60), 64.0)
    for mikro in STIMMEN:
        liste[f"{mikro}_G2"] = (f"Audio/Gesang/{mikro}_G2.wav", zeit(4), 84.0)
        liste[f"{mikro}_G5"] = (f"Audio/Gesang/{mikro}_G5.wav", zeit(39), 96.5)
        liste[f"{mikro}_G3"] = (f"Audio/Gesang/{mikro}_G3.wav", zeit(64), 56.0)
    liste["st_ida_G1"] = ("Audio/Gesang/st_ida_G1.wav", zeit(4), 52.0)
    liste["tuer"] = ("Audio/Effekte/tuer_schwer.wav", 0.0, 6.4)
    liste["klick"] = ("Audio/klick.wav", 0.0, 172.0)
    return liste


def clip(
    datei: str, von: float, bis: float, blenden: tuple[float, float] = (0.02, 0.08), ab: float | None = None
) -> dict[str, Any]:
    """Ein Clip; ``ab`` ist die Stelle in der Datei, sonst läuft sie mit dem Stück."""
    stelle = von - dateien()[datei][1] if ab is None else ab
    return {
        "start_s": round(von, 4),
        "end_s": round(bis, 4),
        "name": datei,
        "plays": "audio",
        "file": datei,
        "offset_s": round(stelle, 4),
        "speed": 1.0,
        "fade_in_s": blenden[0],
        "fade_out_s": blenden[1],
        "gain_db": 0.0,
        "on": True,
    }


def durchgehend(mikro: str) -> list[dict[str, Any]]:
    """Ein Bandmikrofon: B4 bis Refrain 2, dann B6."""
    return [
        clip(f"{mikro}_B4", 0.0, SCHNITT_BAND + KREUZ / 2, (0.1, KREUZ)),
        clip(f"{mikro}_B6", SCHNITT_BAND - KREUZ / 2, ENDE, (KREUZ, 1.2)),
    ]


def geschnitten(mikro: str, *stellen: tuple[float, float]) -> list[dict[str, Any]]:
    """Ein Stimmmikrofon, wo es offen ist; Take-Wechsel liegen immer an den gemeinsamen Schnitten."""
    ergebnis: list[dict[str, Any]] = []
    for von, bis in stellen:
        if von < SCHNITT_STROPHE < bis:
            teile = [(von, SCHNITT_STROPHE, "G2"), (SCHNITT_STROPHE, bis, "G5")]
        elif von < SCHNITT_REFRAIN < bis:
            teile = [(von, SCHNITT_REFRAIN, "G5"), (SCHNITT_REFRAIN, bis, "G3")]
        else:
            teile = [(von, bis, "G2" if bis <= SCHNITT_STROPHE else "G5" if bis <= SCHNITT_REFRAIN else "G3")]
        for nummer, (a, b, take) in enumerate(teile):
            vorn = nummer > 0
            hinten = nummer + 1 < len(teile)
            ergebnis.append(
                clip(
                    f"{mikro}_{take}",
                    a - KREUZ / 2 if vorn else a,
                    b + KREUZ / 2 if hinten else b,
                    (KREUZ if vorn else 0.06, KREUZ if hinten else 0.15),
                )
            )
    return ergebnis


def paar(mikro: str) -> list[dict[str, Any]]:
    """Das AB läuft vom Vers bis zum Schluss durch."""
    return [
        clip(f"{mikro}_G2", zeit(5) - 1.0, SCHNITT_STROPHE + KREUZ / 2, (0.4, KREUZ)),
        clip(f"{mikro}_G5", SCHNITT_STROPHE - KREUZ / 2, SCHNITT_REFRAIN + KREUZ / 2, (KREUZ, KREUZ)),
        clip(f"{mikro}_G3", SCHNITT_REFRAIN - KREUZ / 2, ENDE, (KREUZ, 1.2)),
    ]


def eq(*baender: tuple[str, float, float]) -> dict[str, Any]:
    """Entzerrer aus (Art, Frequenz, Gain)."""
    fertig: list[dict[str, Any]] = []
    for art, frequenz, gain in baender:
        band: dict[str, Any] = {"kind": art, "freq_hz": frequenz, "gain_db": gain, "on": True}
        if art.endswith("pass"):
            band["slope_db_per_oct"] = 12.0
        else:
            band["q"] = 0.9
        fertig.append(band)
    return {
        "name": "EQ",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": fertig, "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def trittschall(frequenz: float, *baender: tuple[str, float, float]) -> dict[str, Any]:
    """Entzerrer mit Trittschallfilter vorn."""
    return eq(("high-pass", frequenz, 0.0), *baender)


def dynamik(art: str, name: str, schwelle: float, **mehr: float) -> dict[str, Any]:
    """Kompressor oder Limiter."""
    return {
        "name": name,
        "kind": art,
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": schwelle, "input_gain_db": 0.0, "output_gain_db": 0.0, **mehr},
    }


def kompressor(schwelle: float, ratio: float, attack: float, release: float, aufholen: float) -> dict[str, Any]:
    """Kompressor mit Aufholverstärkung."""
    zeiten = {"attack_ms": attack, "release_ms": release}
    return dynamik("compressor", "Kompressor", schwelle, ratio=ratio, output_gain_db=aufholen, **zeiten)


def verzoegerung(ms: float) -> dict[str, Any]:
    """Laufzeit einer Stütze zum AB."""
    return {
        "name": "Laufzeit",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": "ms", "name": "Verzögerung", "value": ms, "unit": "ms"}],
    }


def hall(name: str, nachhall: float, vorlauf: float) -> dict[str, Any]:
    """Hall eines Rückwegs."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": vorlauf,
        "parameters": [{"id": "rt", "name": "Nachhallzeit", "value": nachhall, "unit": "s"}],
    }


def monitor_mono() -> dict[str, Any]:
    """Monoschalter zum Abhören, im Normalfall aus."""
    return {
        "name": "Mono-Abhöre",
        "kind": "monitor",
        "on": False,
        "opaque": False,
        "parameters": [{"id": "mono", "name": "Mono", "value": True}],
    }


def send(ziel: str, pegel: float, pan: float = 0.0) -> dict[str, Any]:
    """Send nach dem Fader."""
    return {"to": ziel, "level_db": pegel, "pan": pan, "tap": "post", "on": True}


def kurve(ziel: str, *punkte: tuple[float, float]) -> dict[str, Any]:
    """Gezeichnete Pegelfahrt."""
    return {
        "target": ziel,
        "scale": "dB",
        "shape": "linear",
        "t": [round(t, 4) for t, _ in punkte],
        "v": [v for _, v in punkte],
    }


def zug(
    kennung: str, name: str, art: str, ausgang: str | None, pegel: float, pan: float = 0.0, **mehr: Any
) -> dict[str, Any]:
    """Ein Kanalzug."""
    fertig: dict[str, Any] = {
        "id": kennung,
        "name": name,
        "kind": art,
        "plays": ["audio"] if art == "track" else [],
        "legs": 1 if art == "track" else 2,
        "fader_db": pegel,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": ausgang,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    fertig.update(mehr)
    return fertig


def bandzuege() -> list[dict[str, Any]]:
    """Klavier, Bass, Schlagzeug."""
    ordner: dict[str, Any] = {"folder": ["Band"]}
    return [
        zug("klt", "Klavier tief", "track", "s_band", -9.0, -38.0, clips=durchgehend("klavier_tief"),
            sends=[send("saal", -20.0, -38.0)], inserts=[trittschall(40.0, ("bell", 260.0, -1.5))], **ordner),
        zug("klh", "Klavier hoch", "track", "s_band", -9.0, 38.0, clips=durchgehend("klavier_hoch"),
            sends=[send("saal", -20.0, 38.0)], inserts=[trittschall(60.0, ("bell", 3000.0, -1.0))], **ordner),
        zug("kbm", "Kontrabass Mikro", "track", "s_band", -8.0, clips=durchgehend("kb_mikro"),
            inserts=[trittschall(38.0, ("bell", 180.0, -2.0)), kompressor(-19.0, 2.5, 25.0, 160.0, 1.5)], **ordner),
        zug("kbt", "Kontrabass Tonabn.", "track", "s_band", -14.0, clips=durchgehend("kb_tonabn"),
            inserts=[trittschall(45.0, ("low-pass", 2800.0, 0.0))], comment="nur als Kontur unter dem Mikro", **ordner),
        zug("gtr", "Gr. Trommel", "track", "s_band", -10.0, clips=durchgehend("gr_trommel"),
            inserts=[eq(("bell", 70.0, 1.5), ("bell", 350.0, -3.0))], **ordner),
        zug("ktr", "Kl. Trommel", "track", "s_band", -12.0, 6.0, clips=durchgehend("kl_trommel"),
            sends=[send("zimmer", -14.0)], inserts=[trittschall(90.0)], comment="Besen, ab Refrain Stöcke", **ordner),
        zug("ohl", "OH li", "track", "s_band", -11.5, -60.0, clips=durchgehend("oh_li"),
            inserts=[trittschall(120.0, ("high-shelf", 9000.0, 1.0))], **ordner),
        zug("ohr", "OH re", "track", "s_band", -11.5, 60.0, clips=durchgehend("oh_re"),
            inserts=[trittschall(120.0, ("high-shelf", 9000.0, 1.0))], **ordner),
        zug("s_band", "Sum Band", "group", "summe", -2.0,
            inserts=[kompressor(-14.0, 1.6, 30.0, 180.0, 0.5)],
            automation=[kurve("fader", (0.0, -2.0), (zeit(4), -2.0), (zeit(5), -4.0), (zeit(20), -4.0),
                              (zeit(21), -5.0), (zeit(24), -5.0), (zeit(25), -2.5), (zeit(64), -2.5),
                              (zeit(65), -1.5), (ENDE, -1.5))]),
    ]  # fmt: skip


def holzzuege() -> list[dict[str, Any]]:
    """Zwei Holzbläser, nur wo sie spielen."""
    eins = [
        clip("holz1_B4", zeit(9) - 0.4, zeit(20), (0.08, 0.25)),
        clip("holz1_B4", zeit(29) - 0.4, zeit(41), (0.08, 0.25)),
        clip("holz1_B4", zeit(49) - 0.4, SCHNITT_BAND + KREUZ / 2, (0.08, KREUZ)),
        clip("holz1_B6", SCHNITT_BAND - KREUZ / 2, ENDE, (KREUZ, 1.2)),
    ]
    zwei = [
        clip("holz2_B4", zeit(13) - 0.4, zeit(20), (0.08, 0.25)),
        clip("holz2_B4", zeit(29) - 0.4, zeit(41), (0.08, 0.25)),
        clip("holz2_B4", zeit(57) - 0.4, SCHNITT_BAND + KREUZ / 2, (0.08, KREUZ)),
        clip("holz2_B6", SCHNITT_BAND - KREUZ / 2, ENDE, (KREUZ, 1.2)),
    ]
    solo = kurve("fader", (0.0, -10.0), (zeit(56, 2.0), -10.0), (zeit(57) - 0.1, -7.0), (zeit(60, 3.0), -7.0),
                 (zeit(61, 1.0), -10.0))  # fmt: skip
    antwort = kurve("fader", (0.0, -10.5), (zeit(60, 2.0), -10.5), (zeit(61) - 0.1, -7.5), (zeit(64, 2.0), -7.5),
                    (zeit(65), -10.5))  # fmt: skip
    return [
        zug("hz1", "Holz 1", "track", "s_holz", -10.0, -26.0, clips=eins, sends=[send("saal", -15.0, -26.0)],
            inserts=[trittschall(170.0, ("bell", 2800.0, -1.5))], automation=[solo], folder=["Holz"],
            comment="Flöte, ab Refrain Klarinette; T. 57 Solo"),
        zug("hz2", "Holz 2", "track", "s_holz", -10.5, 26.0, clips=zwei, sends=[send("saal", -15.0, 26.0)],
            inserts=[trittschall(80.0, ("bell", 420.0, -1.5))], automation=[antwort], folder=["Holz"],
            comment="Bassklar., ab T. 57 Tenor; T. 61 Antwort"),
        zug("s_holz", "Sum Holz", "group", "summe", -1.5, inserts=[kompressor(-15.0, 1.8, 20.0, 160.0, 0.5)]),
    ]  # fmt: skip


def stuetze(wer: str, pegel: float, *stellen: tuple[float, float]) -> dict[str, Any]:
    """Die Stütze einer Stimme."""
    ort = POSITION[wer]
    return zug(
        f"st_{wer.lower()}",
        f"Stütze {wer}",
        "track",
        "s_ges",
        pegel,
        ort,
        clips=geschnitten(f"st_{wer.lower()}", *stellen),
        sends=[send("saal", -15.0, ort), send("platte", -22.0)],
        inserts=[
            verzoegerung(LAUFZEIT[wer]),
            trittschall(100.0, ("bell", 300.0, -2.0), ("high-shelf", 8500.0, 1.5)),
            kompressor(-20.0, 2.5, 8.0, 120.0, 2.0),
        ],
        folder=["Gesang"],
    )


def gesangszuege() -> list[dict[str, Any]]:
    """Vier Stützen, AB und Sammelweg."""
    refrain1 = (zeit(25) - 0.35, zeit(40, 1.5))
    refrain2 = (zeit(65) - 0.35, zeit(80, 3.0))
    schluss = (zeit(81) - 0.15, zeit(84, 2.0))
    ida = stuetze(
        "Ida", -8.5, (zeit(5) - 0.4, zeit(21) - 0.1), (zeit(23) - 0.2, zeit(24, 2.0)), refrain1, refrain2, schluss
    )
    ida["automation"] = [
        kurve("send:1:level", (0.0, -22.0), (zeit(20) - 0.15, -22.0), (zeit(20), -9.0), (zeit(21), -9.0),
              (zeit(21, 2.0), -22.0))
    ]  # fmt: skip
    ida["comment"] = "Platte auf 'Mitternacht' T. 20 hochgezogen, nur das Wort"
    bruno = stuetze(
        "Bruno", -8.0, (zeit(21) + 0.3, zeit(22, 3.0)), refrain1, (zeit(40, 2.5), zeit(56, 3.0)), refrain2, schluss
    )
    bruno["comment"] = "T. 21 Sprechtext, dann Strophe 2"
    marlen = stuetze("Marlen", -9.0, refrain1, (zeit(52) - 0.2, zeit(53, 2.0)), refrain2, schluss)
    veit = stuetze("Veit", -9.0, refrain1, (zeit(54) - 0.2, zeit(55, 2.0)), refrain2, schluss)
    alt = zug("ida_alt", "Ida Vers alt", "track", "s_ges", -8.5, -40.0, mute=True, folder=["Gesang"],
              clips=[clip("st_ida_G1", zeit(5) - 0.4, zeit(21) - 0.1)],
              comment="Reserve bis zur Freigabe, stumm")  # fmt: skip
    haupt = trittschall(80.0, ("high-shelf", 10000.0, 1.0))
    return [
        zug("abl", "AB li", "track", "s_ges", -6.0, -75.0, clips=paar("ab_li"), sends=[send("saal", -19.0, -75.0)],
            inserts=[haupt], folder=["Gesang"], comment="Bild kommt von hier"),
        zug("abr", "AB re", "track", "s_ges", -6.0, 75.0, clips=paar("ab_re"), sends=[send("saal", -19.0, 75.0)],
            inserts=[dict(haupt)], folder=["Gesang"]),
        ida,
        bruno,
        marlen,
        veit,
        alt,
        zug("s_ges", "Sum Gesang", "group", "summe", -0.5, inserts=[kompressor(-14.0, 1.8, 15.0, 140.0, 0.5)]),
    ]  # fmt: skip


def rest() -> list[dict[str, Any]]:
    """Tür, Klick, Rückwege, Summe."""
    tuer = [
        clip("tuer", zeit(24, 2.0), zeit(24, 2.0) + 2.1, (0.005, 0.4), 0.35),
        clip("tuer", zeit(84, 3.0), zeit(84, 3.0) + 2.4, (0.005, 0.6), 3.1),
    ]
    return [
        zug("tuer", "Tür", "track", "summe", -11.0, 22.0, clips=tuer, sends=[send("saal", -14.0, 22.0)],
            comment="1 auf (T. 24), 2 zu (Pointe)"),
        zug("klick", "Klick", "track", None, -12.0, mute=True, clips=[clip("klick", 0.0, zeit(85))],
            comment="nur Kopfhörer"),
        zug("saal", "Saal", "return", "summe", -4.0,
            inserts=[hall("Kleiner Saal", 1.6, 22.0), eq(("high-pass", 120.0, 0.0), ("low-pass", 8000.0, 0.0))]),
        zug("platte", "Platte Gesang", "return", "summe", -6.0, sends=[send("saal", -16.0)],
            inserts=[hall("Platte", 1.3, 12.0), eq(("high-pass", 220.0, 0.0))],
            comment="geht leicht in den Saal weiter"),
        zug("zimmer", "Zimmer Schlagz.", "return", "summe", -6.0,
            inserts=[hall("Zimmer", 0.5, 3.0), eq(("high-pass", 160.0, 0.0))]),
        zug("summe", "Summe", "master", None, 0.0,
            inserts=[eq(("high-pass", 25.0, 0.0), ("high-shelf", 11000.0, 0.5)),
                     kompressor(-12.0, 1.4, 35.0, 220.0, 0.5), dynamik("limiter", "Limiter", -1.0, release_ms=120.0),
                     monitor_mono()],
            comment="Mono-Abhöre nur zum Prüfen"),
    ]  # fmt: skip


def good() -> Session:
    """Die Sitzung, wie sie ausgespielt werden soll."""
    marken = (
        (1, "Vorspiel"),
        (5, "Vers Ida"),
        (21, "Dialog"),
        (25, "Refrain 1"),
        (41, "Strophe 2 Bruno"),
        (57, "Holz-Zwischenspiel"),
        (65, "Refrain 2"),
        (81, "Schluss"),
        (84, "Pointe"),
        (86, "Ende"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "Der Hut des Nachtportiers, Nr. 7, Mischung 3",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": ab, "bpm": bpm} for ab, bpm in TEMPI],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}, {"beat": 3.0 * WALZER, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": zeit(takt), "name": name} for takt, name in marken],
        "channels": [*bandzuege(), *holzzuege(), *gesangszuege(), *rest()],
        "media": [
            {
                "id": kennung,
                "path": pfad,
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": laenge,
            }
            for kennung, (pfad, _, laenge) in dateien().items()
            if kennung in gespielt()
        ],
        "metadata": {"Abgabe": "Stereo, 96 kHz / 24 Bit", "Stand": "Mischung 3"},
    }


def gespielt() -> set[str]:
    """Die Dateien, die in einem Clip vorkommen."""
    zuege = [*bandzuege(), *holzzuege(), *gesangszuege(), *rest()]
    return {str(c["file"]) for z in zuege for c in z["clips"]}


def kanal(session: Session, name: str) -> dict[str, Any]:
    """Der Kanal mit diesem Namen."""
    treffer: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return treffer


def laufzeit_zehnfach(session: Session) -> None:
    """Komma verrutscht: eine Stütze ist um das Zehnfache verzögert."""
    kanal(session, "Stütze Marlen")["inserts"][0]["parameters"][0]["value"] = LAUFZEIT["Marlen"] * 10.0


def hauptpaar_halb_mittig(session: Session) -> None:
    """Ein Doppelklick hat das linke Hauptmikrofon in die Mitte gestellt."""
    kanal(session, "AB li")["pan"] = 0.0


def falscher_rueckweg(session: Session) -> None:
    """Der Saal-Send einer Stimme geht einen Rückweg weiter."""
    kanal(session, "Stütze Veit")["sends"][0]["to"] = "zimmer"


def overhead_zu_laut(session: Session) -> None:
    """Ein Overhead wurde zum Hören hochgezogen und blieb oben."""
    kanal(session, "OH re")["fader_db"] = -3.0


def tief_auf_hoch(session: Session) -> None:
    """Nach dem Take-Wechsel liegt das tiefe Mikrofon auch auf der hohen Spur."""
    stueck = kanal(session, "Klavier hoch")["clips"][1]
    stueck["file"] = stueck["name"] = "klavier_tief_B6"
    session["media"] = [m for m in session["media"] if m["id"] != "klavier_hoch_B6"]


def solo_vergessen(session: Session) -> None:
    """Solo am ersten Holzbläser ist noch an."""
    kanal(session, "Holz 1")["solo"] = True


def tuer_vom_stick(session: Session) -> None:
    """Das Geräusch wurde gegen eines auf einem fremden Datenträger getauscht, das nun fehlt."""
    datei = next(m for m in session["media"] if m["id"] == "tuer")
    datei.update(path="E:/Requisite/tuer_schwer_neu.wav", place="outside", present=False)


def mono_geblieben(session: Session) -> None:
    """Die Mono-Abhöre am Ende der Summe ist noch an."""
    kanal(session, "Summe")["inserts"][-1]["on"] = True


def hallschleife(session: Session) -> None:
    """Der Saal schickt in die Platte zurück, die in den Saal geht."""
    kanal(session, "Saal")["sends"].append(send("platte", -14.0))


def loch_im_refrain(session: Session) -> None:
    """Beim Take-Wechsel im Refrain wurde ein Clip vorn zu weit gekürzt."""
    stueck = next(c for c in kanal(session, "Stütze Bruno")["clips"] if c["name"].endswith("G3"))
    stueck["start_s"] = round(stueck["start_s"] + 1.3, 4)
    stueck["offset_s"] = round(stueck["offset_s"] + 1.3, 4)


def platte_bleibt_oben(session: Session) -> None:
    """Die Platte wurde für ein Wort hochgezogen und nicht zurückgenommen."""
    fahrt = kanal(session, "Stütze Ida")["automation"][0]
    fahrt["t"], fahrt["v"] = fahrt["t"][:3], fahrt["v"][:3]


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Ida Vers alt"], "why": "muted old take, kept on purpose until it is released"},
    {"channels": ["Klick"], "why": "muted click that goes nowhere, headphones only"},
    {"channels": ["Platte Gesang"], "why": "a return that deliberately feeds another return"},
    {"channels": ["Summe"], "why": "a bypassed mono switch for checking stands last in the chain"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "laufzeit-zehnfach",
        "class": "phase",
        "channels": ["Stütze Marlen"],
        "grade": "hold",
        "says": "Stütze Marlen is delayed by 89 ms, the other three by about 9 to 10 ms: a decimal point slipped.",
        "plant": laufzeit_zehnfach,
    },
    {
        "id": "hauptpaar-halb-mittig",
        "class": "place",
        "channels": ["AB li", "AB re"],
        "grade": "look",
        "says": "AB li stands in the middle while AB re is at +75 and its own send to Saal still at -75.",
        "plant": hauptpaar_halb_mittig,
    },
    {
        "id": "falscher-rueckweg",
        "class": "ambience",
        "channels": ["Stütze Veit"],
        "grade": "look",
        "says": "Stütze Veit feeds Zimmer Schlagz., the drum room, where the other three singers feed Saal.",
        "plant": falscher_rueckweg,
    },
    {
        "id": "overhead-zu-laut",
        "class": "level",
        "channels": ["OH re", "OH li"],
        "grade": "look",
        "says": "OH re stands 8.5 dB above its partner OH li; the pair leans to the right.",
        "plant": overhead_zu_laut,
    },
    {
        "id": "tief-auf-hoch",
        "class": "twice",
        "channels": ["Klavier hoch"],
        "grade": "hold",
        "says": "From Refrain 2 on Klavier hoch plays Klavier tief's file: one mic twice, the other one missing.",
        "plant": tief_auf_hoch,
    },
    {
        "id": "solo-vergessen",
        "class": "inaudible",
        "channels": ["Holz 1"],
        "grade": "hold",
        "says": "Holz 1 is soloed, so nothing else would be in the bounce.",
        "plant": solo_vergessen,
    },
    {
        "id": "tuer-vom-stick",
        "class": "files",
        "channels": ["Tür"],
        "grade": "hold",
        "says": "The door's file lies on another drive outside the session and is missing; both slams are silent.",
        "plant": tuer_vom_stick,
    },
    {
        "id": "mono-geblieben",
        "class": "hand-over",
        "channels": ["Summe"],
        "grade": "hold",
        "says": "The mono listening switch at the end of Summe is on: the bounce would be mono.",
        "plant": mono_geblieben,
    },
    {
        "id": "hallschleife",
        "class": "routing",
        "channels": ["Saal", "Platte Gesang"],
        "grade": "hold",
        "says": "Saal sends to Platte Gesang, which sends to Saal: a feedback loop between two returns.",
        "plant": hallschleife,
    },
    {
        "id": "loch-im-refrain",
        "class": "edits",
        "channels": ["Stütze Bruno"],
        "grade": "look",
        "says": "Stütze Bruno has a hole of 1.3 s after the edit at bar 73; all other vocal mics are crossfaded.",
        "plant": loch_im_refrain,
    },
    {
        "id": "platte-bleibt-oben",
        "class": "automation",
        "channels": ["Stütze Ida"],
        "grade": "look",
        "says": "Ida's plate send goes up for one word in bar 20 and stays at -9 dB; the comment says only that word.",
        "plant": platte_bleibt_oben,
    },
]
