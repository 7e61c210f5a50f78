"""Brume sur le canal : quintette pour flute, harpe, violon, alto et violoncelle, enregistre en deux jours en salle.

Prise de son a un couple principal, deux omnis d'ailes, deux micros de fond de salle et six micros d'appoint. Le montage
(sept points, prises 3 a 12) traverse toutes les pistes a la fois, raccords de 40 ms. Pas de tempo : la musique respire,
la session n'a pas de grille. Les appoints sont retardes de leur recul au couple (note en metres dans le commentaire),
coupe-bas selon l'instrument, dosage apres le fader vers une seule reverberation. Le solo de chaque instrument est
souleve un peu a l'appoint. Fondu de sortie au fader general.
"""

from __future__ import annotations

import copy
from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

# repere, seconde
REPERES: list[tuple[float, str]] = [
    (0.0, "Air de salle"),
    (2.0, "Lent"),
    (74.6, "A - Animé"),
    (121.3, "B - solo flûte"),
    (168.9, "C - solo violoncelle"),
    (226.4, "D - retour du Lent"),
    (291.2, "E - Coda"),
    (338.0, "Dernier accord"),
    (350.0, "Fin de la résonance"),
]
LIEU = {nom.split(" - ")[0]: seconde for seconde, nom in REPERES}
FIN = 352.0
RACCORD = 0.04  # duree d'un raccord

# debut dans le morceau, prise, seconde du fichier moins seconde du morceau, gain de la prise
MONTAGE: list[tuple[float, str, float, float]] = [
    (0.0, "P03", 8.312, 0.0),
    (51.42, "P05", -30.155, 0.6),
    (58.87, "P03", 8.527, 0.0),
    (74.1, "P06", -61.904, 0.0),
    (119.85, "P08", -106.218, -0.4),
    (166.31, "P07", -9.667, 0.0),
    (225.62, "P10", -208.771, 0.3),
    (331.7, "P12", -302.482, 0.0),
]
PRISES = {"P03": 131.2, "P05": 47.9, "P06": 74.6, "P07": 231.8, "P08": 88.3, "P10": 164.0, "P12": 71.5}

# id, nom de la piste, nom dans le fichier
MICROS: list[tuple[str, str, str]] = [
    ("cg", "Couple G", "Couple_G"),
    ("cd", "Couple D", "Couple_D"),
    ("ag", "Aile G", "Aile_G"),
    ("ad", "Aile D", "Aile_D"),
    ("fg", "Fond G", "Fond_G"),
    ("fd", "Fond D", "Fond_D"),
    ("vn", "App Violon", "App_Vn"),
    ("fl", "App Flûte", "App_Fl"),
    ("ha", "App Harpe aigu", "App_Hpe_aigu"),
    ("hg", "App Harpe grave", "App_Hpe_grave"),
    ("al", "App Alto", "App_Alto"),
    ("vc", "App Vcelle", "App_Vc"),
    ("oc", "Ordres cabine", "Ordres"),
]
FICHIER = {ident: court for ident, _, court in MICROS}
NOM = {ident: nom for ident, nom, _ in MICROS}


def s(valeur: float) -> float:
    """Une seconde telle que l'export l'ecrit."""
    return round(valeur, 4)


def pistes_montees(ident: str) -> list[Item]:
    """Le montage commun a toutes les pistes, applique a un micro."""
    objets: list[Item] = []
    for n, (debut, prise, ecart, gain) in enumerate(MONTAGE):
        dernier = n == len(MONTAGE) - 1
        depart = debut if n == 0 else debut - RACCORD / 2
        arrivee = FIN if dernier else MONTAGE[n + 1][0] + RACCORD / 2
        objets.append(
            {
                "start_s": s(depart),
                "end_s": s(arrivee),
                "name": f"{prise}_{FICHIER[ident]}",
                "plays": "audio",
                "file": f"{ident}-{prise}",
                "offset_s": s(depart + ecart),
                "speed": 1.0,
                "fade_in_s": 1.2 if n == 0 else RACCORD,
                "fade_out_s": 0.5 if dernier else RACCORD,
                "gain_db": gain,
                "on": True,
            }
        )
    return objets


def courbe(base: float, *gestes: tuple[float, float, float]) -> Item:
    """Des gestes de fader (de, a, combien), toujours revenus a la base."""
    t, v = [0.0], [base]
    for de, a, combien in gestes:
        t += [s(de - 1.5), s(de), s(a - 1.5), s(a)]
        v += [base, round(base + combien, 2), round(base + combien, 2), base]
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": t, "v": v}


def coupe_bas(freq: float, pente: float = 12.0) -> Item:
    """Une bande coupe-bas."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": pente, "on": True}


def coupe_haut(freq: float) -> Item:
    """Une bande coupe-haut."""
    return {"kind": "low-pass", "freq_hz": freq, "slope_db_per_oct": 6.0, "on": True}


def cloche(freq: float, gain: float, q: float = 1.0) -> Item:
    """Une bande en cloche."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def plateau(freq: float, gain: float) -> Item:
    """Un plateau d'aigu."""
    return {"kind": "high-shelf", "freq_hz": freq, "gain_db": gain, "q": 0.7, "on": True}


def correcteur(*bandes: Item) -> Item:
    """Un correcteur."""
    return {
        "name": "Correcteur",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": list(bandes)},
    }


def reglage(ident: str, nom: str, valeur: float | bool | str, unite: str = "") -> Item:
    """Un reglage nomme."""
    return {"id": ident, "name": nom, "value": valeur, "unit": unite}


def retard(ms: float) -> Item:
    """Le retard d'un appoint sur le couple."""
    return {
        "name": "Retard",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [reglage("retard", "Retard", ms, "ms"), reglage("polarite", "Polarité inversée", False)],
    }


def piste(ident: str, nom: str, genre: str, jambes: int, fader: float, pan: float, **autres: Any) -> Item:
    """Une tranche de console."""
    faite: Item = {
        "id": ident,
        "name": nom,
        "kind": genre,
        "plays": ["audio"] if genre == "track" else [],
        "legs": jambes,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    faite.update(autres)
    return faite


def micro(ident: str, fader: float, pan: float, sortie: str, **autres: Any) -> Item:
    """Une piste de micro, montee."""
    return piste(ident, NOM[ident], "track", 1, fader, pan, output=sortie, clips=pistes_montees(ident), **autres)


def appoint(
    ident: str, place: tuple[float, float], bandes: list[Item], recul_m: float, envoi: float, *gestes: Item
) -> Item:
    """Un micro d'appoint : correcteur, retard du recul, envoi apres le fader."""
    metres = f"{recul_m:.2f}".replace(".", ",")
    return micro(
        ident,
        place[0],
        place[1],
        "app",
        inserts=[correcteur(*bandes), retard(round(recul_m / 0.343, 1))],
        sends=[{"to": "rev", "level_db": envoi, "pan": 0.0, "tap": "post", "on": True}],
        automation=list(gestes),
        comment=f"recul {metres} m du couple",
    )


def principaux() -> list[Item]:
    """Le couple, les ailes et le fond, en paires."""
    lever = (LIEU["E"], FIN, 1.5)
    grave = correcteur(coupe_bas(22.0))
    fond = correcteur(coupe_bas(60.0), plateau(7000.0, -1.5))
    return [
        micro("cg", 0.0, -100.0, "prin", inserts=[copy.deepcopy(grave)], comment="couple 17 cm / 110°, 2,90 m du sol"),
        micro("cd", 0.0, 100.0, "prin", inserts=[copy.deepcopy(grave)], comment="idem G"),
        micro("ag", -7.0, -100.0, "prin", inserts=[copy.deepcopy(grave)], comment="omni, 1,60 m à gauche du couple"),
        micro("ad", -7.0, 100.0, "prin", inserts=[copy.deepcopy(grave)], comment="omni, 1,60 m à droite du couple"),
        micro("fg", -10.5, -100.0, "mix", inserts=[copy.deepcopy(fond)], automation=[courbe(-10.5, lever)]),
        micro("fd", -10.5, 100.0, "mix", inserts=[copy.deepcopy(fond)], automation=[courbe(-10.5, lever)]),
    ]


def appoints() -> list[Item]:
    """Les six appoints, de gauche a droite."""
    solo_flute = courbe(-13.5, (LIEU["B"], LIEU["C"], 2.5))
    solo_vcelle = courbe(-14.0, (LIEU["C"], LIEU["D"], 2.0))
    anime_h = (LIEU["A"], LIEU["B"], -1.0)
    return [
        appoint("vn", (-14.5, -45.0), [coupe_bas(150.0), plateau(8000.0, -1.0)], 3.10, -14.0),
        appoint("fl", (-13.5, -14.0), [coupe_bas(180.0, 18.0), cloche(2600.0, -1.0)], 2.75, -12.0, solo_flute),
        appoint("ha", (-15.0, 6.0), [coupe_bas(90.0), plateau(9000.0, 1.0)], 4.20, -15.0, courbe(-15.0, anime_h)),
        appoint("hg", (-16.0, 12.0), [coupe_bas(28.0), cloche(180.0, -1.5)], 4.35, -16.0, courbe(-16.0, anime_h)),
        appoint("al", (-14.0, 26.0), [coupe_bas(100.0), cloche(1200.0, 0.8)], 3.55, -14.0),
        appoint("vc", (-14.0, 48.0), [coupe_bas(40.0), cloche(240.0, -1.5)], 3.30, -14.0, solo_vcelle),
    ]


def hors_mixage() -> list[Item]:
    """Les pistes qui ne sonnent pas : ordres et reference du montage."""
    reference: Item = {
        "start_s": 0.0,
        "end_s": FIN,
        "name": "ref_montage_v4",
        "plays": "audio",
        "file": "ref-v4",
        "offset_s": 0.0,
        "speed": 1.0,
        "fade_in_s": 0.0,
        "fade_out_s": 0.0,
        "gain_db": 0.0,
        "on": True,
    }
    return [
        micro("oc", -6.0, 0.0, "mix", mute=True, comment="micro d'ordres, garder coupé"),
        piste(
            "ref",
            "Réf montage v4",
            "track",
            2,
            0.0,
            0.0,
            output="mix",
            mute=True,
            clips=[reference],
            comment="stéréo envoyée aux musiciens, pour comparer seulement, coupée au mixage",
        ),
    ]


def sorties() -> list[Item]:
    """Les bus, la reverberation, le general."""
    salle: Item = {
        "name": "Réverbération",
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": 24.0,
        "parameters": [reglage("duree", "Durée", 2.2, "s"), reglage("diffusion", "Diffusion", 70.0, "%")],
    }
    limiteur: Item = {
        "name": "Limiteur",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "release_ms": 120.0, "output_gain_db": 0.0, "auto_makeup": False},
        "parameters": [reglage("plafond", "Plafond", -1.0, "dBTP")],
    }
    fondu: Item = {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [0.0, 345.0, 349.5, 351.5],
        "v": [0.0, 0.0, -22.0, -90.0],
    }
    envoi = {"to": "rev", "level_db": -20.0, "pan": 0.0, "tap": "post", "on": True}
    return [
        piste("prin", "PRINCIPAL", "group", 2, 0.0, 0.0, output="mix", sends=[envoi], comment="couple + ailes"),
        piste(
            "app",
            "APPOINTS",
            "group",
            2,
            -1.0,
            0.0,
            output="mix",
            automation=[courbe(-1.0, (LIEU["A"], LIEU["B"], 1.0), (LIEU["E"], LIEU["Dernier accord"], 0.8))],
        ),
        piste(
            "rev",
            "RÉV salle",
            "return",
            2,
            -4.0,
            0.0,
            output="mix",
            inserts=[salle, correcteur(coupe_bas(120.0), coupe_haut(8500.0))],
            comment="prolonge la salle, on ne doit pas l'entendre",
        ),
        piste(
            "mix",
            "GÉNÉRAL",
            "master",
            2,
            0.0,
            0.0,
            inserts=[limiteur, {"name": "Mesure", "kind": "analyser", "on": True}],
            automation=[fondu],
            comment="96 kHz / 24 bits, limiteur de sécurité seulement",
        ),
    ]


def fichiers() -> list[Item]:
    """La liste des fichiers : chaque prise de chaque micro, et la reference."""
    liste: list[Item] = []
    for ident, _, court in MICROS:
        for prise, duree in PRISES.items():
            chemin = f"Prises/{prise}/{prise}_{court}.wav"
            liste.append(fichier(f"{ident}-{prise}", chemin, 1, duree))
    liste.append(fichier("ref-v4", "Refs/ref_montage_v4.wav", 2, 353.0))
    return liste


def fichier(ident: str, chemin: str, jambes: int, duree: float) -> Item:
    """Un fichier son."""
    return {
        "id": ident,
        "path": chemin,
        "place": "beside",
        "present": True,
        "legs": jambes,
        "sample_rate_hz": 96000.0,
        "duration_s": duree,
    }


def ranger(pistes: list[Item]) -> list[Item]:
    """Note le bus de chaque piste groupee comme son parent."""
    for une in pistes:
        if une.get("output") in ("prin", "app"):
            une["parent"] = une["output"]
    return pistes


def good() -> Session:
    """La session telle qu'on la rend."""
    return {
        "format": "mixlint-session/1",
        "title": "Brume sur le canal - mixage 3",
        "sample_rate_hz": 96000.0,
        "timeline": {"unknown": "the session has no tempo map", "settle": ""},
        "markers": [{"time_s": seconde, "name": nom} for seconde, nom in REPERES],
        "channels": ranger(principaux() + appoints() + hors_mixage() + sorties()),
        "media": fichiers(),
        "metadata": {"oeuvre": "Brume sur le canal", "effectif": "fl, hpe, vn, alto, vc", "montage": "v4, accepté"},
    }


def channel(session: Session, name: str) -> Item:
    """La piste d'un nom."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def take(session: Session, name: str, prise: str) -> Item:
    """L'objet d'une prise sur une piste."""
    found: Item = next(c for c in channel(session, name)["clips"] if c["name"].startswith(prise))
    return found


def cello_early(session: Session) -> None:
    """The cello's delay typed with the comma one place off."""
    params = channel(session, "App Vcelle")["inserts"][1]["parameters"]
    params[0]["value"] = round(params[0]["value"] / 10, 2)


def wing_slipped(session: Session) -> None:
    """One clip of the left outrigger was slipped inside its edges during the edit."""
    found = take(session, "Aile G", "P08")
    found["offset_s"] = s(found["offset_s"] + 0.165)


def viola_file_left_behind(session: Session) -> None:
    """The viola's take 10 was never copied from the recorder's disk."""
    entry = next(m for m in session["media"] if m["id"] == "al-P10")
    entry.update({"path": "../../ENREG_JOUR2/P10_App_Alto.wav", "place": "outside", "present": False})


def reference_open(session: Session) -> None:
    """The reference bounce was opened for a comparison."""
    channel(session, "Réf montage v4")["mute"] = False


def wings_crossed(session: Session) -> None:
    """The pans of the outriggers are crossed."""
    channel(session, "Aile G")["pan"] = 100.0
    channel(session, "Aile D")["pan"] = -100.0


def flute_pre(session: Session) -> None:
    """The flute's reverb send was set before the fader."""
    channel(session, "App Flûte")["sends"][0]["tap"] = "pre"


def pair_uneven(session: Session) -> None:
    """One leg of the main pair was brushed down."""
    channel(session, "Couple D")["fader_db"] = -2.7


def flute_eq_on_cello(session: Session) -> None:
    """The flute's equalizer was pasted on the cello."""
    source = channel(session, "App Flûte")["inserts"][0]
    channel(session, "App Vcelle")["inserts"][0] = copy.deepcopy(source)


def rear_ride_on_one(session: Session) -> None:
    """The coda lift of the rear mics was written on one leg only."""
    channel(session, "Fond D")["automation"] = []


def fade_before_chord(session: Session) -> None:
    """The coda was recut longer, the fade of the mix stayed where the old end was."""
    points = channel(session, "GÉNÉRAL")["automation"][0]
    points["t"] = [points["t"][0]] + [s(t - 16.4) for t in points["t"][1:]]


def harp_clip_off(session: Session) -> None:
    """One clip of the low harp mic stayed muted after the edit was checked."""
    take(session, "App Harpe grave", "P10")["on"] = False


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Ordres cabine"], "why": "talkback mic, edited along with the takes, muted on purpose"},
    {"channels": ["Réf montage v4"], "why": "muted stereo reference of the edit, says so"},
    {"channels": ["Fond G", "Fond D"], "why": "the rear pair goes straight to the mix bus, it has no group"},
    {
        "channels": ["GÉNÉRAL"],
        "why": "no bus processing but a safety limiter, and the piece ends on a fade of the fader",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "cello-early",
        "class": "phase",
        "channels": ["App Vcelle"],
        "grade": "look",
        "says": "The cello stands 3.30 m from the pair but is delayed 0.96 ms; all other spots have 3 ms per metre.",
        "plant": cello_early,
    },
    {
        "id": "wing-slipped",
        "class": "edits",
        "channels": ["Aile G"],
        "grade": "hold",
        "says": "In take 8 the left outrigger plays 165 ms later in its file than all other mics.",
        "plant": wing_slipped,
    },
    {
        "id": "viola-file-left-behind",
        "class": "files",
        "channels": ["App Alto"],
        "grade": "hold",
        "says": "The viola's file of take 10 is missing and lies outside the session; the other takes are all there.",
        "plant": viola_file_left_behind,
    },
    {
        "id": "reference-open",
        "class": "twice",
        "channels": ["Réf montage v4"],
        "grade": "hold",
        "says": "The stereo reference of the edit is open, so the whole piece sounds twice.",
        "plant": reference_open,
    },
    {
        "id": "wings-crossed",
        "class": "place",
        "channels": ["Aile G", "Aile D"],
        "grade": "hold",
        "says": "The left outrigger is panned right and the right one left, against names, comments and main pair.",
        "plant": wings_crossed,
    },
    {
        "id": "flute-pre",
        "class": "ambience",
        "channels": ["App Flûte"],
        "grade": "look",
        "says": "The flute's reverb send is taken before the fader, 13 dB hotter than meant; all others are after.",
        "plant": flute_pre,
    },
    {
        "id": "pair-uneven",
        "class": "level",
        "channels": ["Couple D", "Couple G"],
        "grade": "look",
        "says": "The right leg of the main pair is 2.7 dB below the left; the picture leans.",
        "plant": pair_uneven,
    },
    {
        "id": "flute-eq-on-cello",
        "class": "processors",
        "channels": ["App Vcelle"],
        "grade": "look",
        "says": "The cello has the flute's equalizer, with a low cut at 180 Hz where it was about 40.",
        "plant": flute_eq_on_cello,
    },
    {
        "id": "rear-ride-on-one",
        "class": "automation",
        "channels": ["Fond D", "Fond G"],
        "grade": "look",
        "says": "Only the left rear mic is lifted in the coda, its partner has no ride.",
        "plant": rear_ride_on_one,
    },
    {
        "id": "fade-before-chord",
        "class": "end",
        "channels": ["GÉNÉRAL"],
        "grade": "hold",
        "says": "The mix is faded down before the last chord at 338 s, while all tracks play on to 352 s.",
        "plant": fade_before_chord,
    },
    {
        "id": "harp-clip-off",
        "class": "inaudible",
        "channels": ["App Harpe grave"],
        "grade": "hold",
        "says": "The low harp mic's clip of take 10 is muted; its partner and all other mics play it.",
        "plant": harp_clip_off,
    },
]
