"""Trottoir tiède: a French rap track at 92 with a sung soul refrain, made at home at 44.1 kHz over a two-track beat.

The beatmaker sent a stereo mix of the beat (version 4, without his tag) and, on request, a sub for the refrains and the
choir loop, which is an 88 bpm four-bar sample stretched to the song. The rapper's verses are one file each; two lines
were redone later on a track of their own that fills holes cut into the lead. Doubles left and right only on the rhymes,
ad libs by turns on both sides, the refrain by a singer with harmonies left and right. The engineer drops the beat for
one beat before the second refrain, filters it in the bridge, lets it step back under the verses and fades on the mix.
Few channels, two groups, one short reverb and one quarter-note delay that is thrown by hand.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]

BPM, BOUCLE_BPM = 92.0, 88.0
COUPLETS = {"C1": (5, 12, 3.0), "C2": (29, 36, 2.0)}
REFRAINS = {"R1": (21, 29), "R2": (45, 53), "R3": (61, 77)}


def t(mesure: int, temps: float = 1.0) -> float:
    """The seconds of a bar and beat, both counted from 1."""
    return round(((mesure - 1) * 4 + temps - 1) * 60.0 / BPM, 4)


FIN = t(85)


def fichiers() -> list[Part]:
    """All audio: beat, loop, sub, and the voices file by file."""
    lots = [
        ("instru", "instru/trottoir_v4_92bpm_sanstag.wav", 2, 223.4),
        ("boucle", "instru/boucle_choeur_88bpm_4mes.wav", 2, 10.95),
        ("sub", "instru/sub_refrain_8mes.wav", 1, t(9) + 0.21),
        ("guide", "voix/_old/guide_telephone.wav", 1, 171.9),
        ("adlibg", "voix/adlibs_prise1.wav", 1, 221.07),
        ("adlibd", "voix/adlibs_prise2.wav", 1, 221.07),
        ("punch_C1", "voix/punch_C1_mes12.wav", 1, 7.42),
        ("punch_C2", "voix/punch_C2_mes36.wav", 1, 8.06),
        ("ines_PONT", "voix/ines_pont_t2.wav", 1, t(11)),
    ]
    for couplet in COUPLETS:
        lots += [(f"{qui}_{couplet}", f"voix/{nom}_{couplet}.wav", 1, t(19)) for qui, nom in
                 [("lead", "lead_comp"), ("dblg", "dbl_gauche"), ("dbld", "dbl_droite")]]  # fmt: skip
    for refrain, (debut, fin) in REFRAINS.items():
        lots += [(f"{qui}_{refrain}", f"voix/{nom}_{refrain}.wav", 1, t(fin - debut + 3)) for qui, nom in
                 [("ines", "ines"), ("harmg", "ines_harm_g"), ("harmd", "ines_harm_d")]]  # fmt: skip
    return [fichier(*lot) for lot in lots]


def fichier(cle: str, chemin: str, legs: int, duree: float) -> Part:
    """One audio file beside the session."""
    return {"id": cle, "path": chemin, "place": "beside", "present": True, "legs": legs, "sample_rate_hz": 44100.0,
            "duration_s": round(duree, 4)}  # fmt: skip


def clip(
    nom: str, cle: str, debut: float, fin: float, depuis: float = 0.0, fondus: tuple[float, float] = (0.008, 0.03)
) -> Part:
    """A clip of a file that was recorded from a certain second of the song."""
    return {"start_s": round(debut, 4), "end_s": round(fin, 4), "name": nom, "plays": "audio", "file": cle,
            "offset_s": round(debut - depuis, 4), "speed": 1.0, "fade_in_s": fondus[0], "fade_out_s": fondus[1],
            "gain_db": 0.0, "on": True}  # fmt: skip


def boucles() -> list[Part]:
    """The choir loop: intro, refrains and outro, four bars at a time, stretched from 88 to 92."""
    mesures = [1, 21, 25, 45, 49, 61, 65, 69, 73, 77, 81]
    faits = []
    for mesure in mesures:
        fait = clip("boucle choeur", "boucle", t(mesure), t(mesure + 4), t(mesure), (0.003, 0.005))
        fait["speed"] = round(BPM / BOUCLE_BPM, 6)
        faits.append(fait)
    return faits


def couplet_lead() -> list[Part]:
    """The verses in phrases of four bars; bar 12 and bar 36 are left open for the redone lines."""
    faits = []
    for nom, (debut, mesure_punch, temps) in COUPLETS.items():
        for phrase in range(4):
            premiere = debut + 4 * phrase
            fin = t(mesure_punch, temps) if premiere + 3 == mesure_punch else t(premiere + 4) - 0.3
            faits.append(clip(f"lead_comp_{nom}.{phrase + 1}", f"lead_{nom}", t(premiere) - 0.2, fin, t(debut - 1)))
    return faits


def punchs() -> list[Part]:
    """The redone lines, each recorded from the bar before."""
    return [
        clip(f"punch_{nom}_mes{mesure}", f"punch_{nom}", t(mesure, temps), t(mesure + 1) - 0.25, t(mesure - 1))
        for nom, (_, mesure, temps) in COUPLETS.items()
    ]


def rimes(cle: str, nom: str) -> list[Part]:
    """A double: the second half of every fourth bar, where no line was redone."""
    faits = []
    for couplet, (debut, mesure_punch, _) in COUPLETS.items():
        mesures = [mesure for mesure in range(debut + 3, debut + 16, 4) if mesure != mesure_punch]
        faits += [
            clip(f"{nom}_{couplet} m{m}", f"{cle}_{couplet}", t(m, 3) - 0.05, t(m + 1) - 0.3, t(debut - 1))
            for m in mesures
        ]
    return faits


def refrain(cle: str, nom: str, *, moitie: bool = False) -> list[Part]:
    """A refrain voice: each refrain is a file that begins a bar before; harmonies sing half of the first."""
    faits = []
    for partie, (debut, fin) in REFRAINS.items():
        premiere = debut + 4 if moitie and partie == "R1" else debut
        faits.append(
            clip(f"{nom}_{partie}", f"{cle}_{partie}", t(premiere) - 0.3, t(fin) + 0.35, t(debut - 1), (0.02, 0.15))
        )
    return faits


def cris(cle: str, nom: str, places: list[tuple[int, int, float]]) -> list[Part]:
    """Ad libs: bar, beat and length in beats; the file runs from the song's start."""
    return [
        clip(f"{nom} m{mesure}", cle, t(mesure, temps), t(mesure, temps + duree), 0.0, (0.01, 0.06))
        for mesure, temps, duree in places
    ]


def bande(sorte: str, hz: float, db: float = 0.0, q: float = 1.0) -> Part:
    """One equalizer band."""
    faite: Part = {"kind": sorte, "freq_hz": hz, "gain_db": db, "q": q, "on": True}
    if sorte in {"high-pass", "low-pass"}:
        faite.update(q=0.71, slope_db_per_oct=12.0)
    return faite


def egaliseur(*bandes: Part, nom: str = "EQ", actif: bool = True) -> Part:
    """An equalizer insert."""
    return {"name": nom, "kind": "equalizer", "on": actif, "opaque": False, "equalizer": {"bands": list(bandes)}}


def compresseur(seuil: float, taux: float, attaque: float, retour: float, gain: float, nom: str = "Comp") -> Part:
    """A compressor insert."""
    return {"name": nom, "kind": "compressor", "on": True, "opaque": False, "wet": 100.0,
            "dynamics": {"threshold_db": seuil, "ratio": taux, "attack_ms": attaque, "release_ms": retour,
                         "output_gain_db": gain, "auto_makeup": False}}  # fmt: skip


def valeur(cle: str, nom: str, contenu: float | bool, unite: str = "") -> Part:
    """A listed parameter."""
    return {"id": cle, "name": nom, "value": contenu, "unit": unite}


def porte(seuil: float) -> Part:
    """A gentle gate against the computer's fan."""
    return {"name": "Gate", "kind": "gate", "on": True, "opaque": False,
            "dynamics": {"threshold_db": seuil, "attack_ms": 1.0, "release_ms": 140.0, "range_db": -12.0}}  # fmt: skip


def deesseur(reduction: float) -> Part:
    """A de-esser insert."""
    return {"name": "De-esseur", "kind": "de-esser", "on": True, "opaque": False,
            "parameters": [valeur("f", "Fréquence", 7200.0, "Hz"),
                           valeur("r", "Réduction", reduction, "dB")]}  # fmt: skip


def chaine_lead() -> list[Part]:
    """The rapper's chain, the same on the lead and on the redone lines."""
    return [
        porte(-46.0),
        egaliseur(bande("high-pass", 95), bande("bell", 260, -2.5, 1.2), bande("bell", 4200, 1.5, 0.9)),
        compresseur(-24, 4, 4, 70, 4.0),
        deesseur(-5.0),
        compresseur(-16, 2, 25, 160, 1.0, "Comp lent"),
    ]


def envoi(vers: str, niveau: float) -> Part:
    """A post-fader send."""
    return {"to": vers, "level_db": niveau, "pan": 0.0, "tap": "post", "on": True}


def courbe(cible: str, points: list[tuple[float, float]], echelle: str = "dB", forme: str = "linear") -> Part:
    """One automated parameter."""
    return {"target": cible, "scale": echelle, "shape": forme, "t": [round(x, 4) for x, _ in points],
            "v": [v for _, v in points]}  # fmt: skip


def paliers(niveaux: list[tuple[int, float]]) -> Part:
    """A fader ride in steps that fall on the section's first beat."""
    points = [(0.0, niveaux[0][1])]
    for (_, avant), (mesure, apres) in pairwise(niveaux):
        points += [(t(mesure) - 0.04, avant), (t(mesure), apres)]
    return courbe("fader", points)


def lancers(niveau_bas: float, coups: list[tuple[int, int, float]]) -> Part:
    """Delay throws on last words: bar, beat, level; open for one beat."""
    points = [(0.0, niveau_bas)]
    for mesure, temps, niveau in coups:
        points += [(t(mesure, temps), niveau), (t(mesure, temps + 1), niveau_bas)]
    return courbe("send:1:level", points, forme="hold")


def tranche(cle: str, nom: str, niveau: float, pan: float, sortie: str, **reste: Any) -> Part:
    """One channel: a mono audio track unless told otherwise."""
    faite: Part = {"id": cle, "name": nom, "kind": "track", "legs": 1, "plays": ["audio"], "fader_db": niveau,
                   "pan": pan, "mute": False, "solo": False, "output": sortie, "sends": [], "inserts": [], "clips": [],
                   "automation": []}  # fmt: skip
    faite.update(reste)
    if faite["kind"] != "track":
        faite["plays"] = []
    return faite


def cote_instru() -> list[Part]:
    """The beat, the choir loop, the added sub and their group."""
    largeur = {"name": "Largeur", "kind": "utility", "on": True, "opaque": False,
               "parameters": [valeur("w", "Largeur", 100.0, "%"), valeur("invl", "Inverser G", False),
                              valeur("invr", "Inverser D", False)]}  # fmt: skip
    beat = [
        clip("trottoir_v4_92bpm_sanstag", "instru", 0.0, t(44, 4), 0.0, (0.0, 0.01)),
        clip("trottoir_v4_92bpm_sanstag", "instru", t(45), FIN, 0.0, (0.002, 0.05)),
    ]
    recule = [(1, -6.0), (5, -7.5), (21, -6.0), (29, -7.5), (45, -6.0), (53, -7.0), (61, -5.5)]
    filtre = [(0.0, 0.0), (t(53), 1.0), (t(61), 0.0)]
    sub = []
    for nom, mesure in [("R1", 21), ("R2", 45), ("R3a", 61), ("R3b", 69)]:
        sub.append(clip(f"sub {nom}", "sub", t(mesure), t(mesure + 8), t(mesure), (0.002, 0.02)))
    return [
        tranche("instru", "INSTRU 2TR", -6.0, 0.0, "businstru", legs=2, clips=beat,
                inserts=[largeur, egaliseur(bande("bell", 2400, -1.5, 0.7), bande("bell", 70, -1.0, 1.2)),
                         egaliseur(bande("low-pass", 700), nom="Filtre pont", actif=False)],
                automation=[paliers(recule), courbe("insert:2:on", filtre, "switch", "hold")],
                comment="v4 SANS tag, 92 bpm, coupé 1 temps avant refrain 2"),
        tranche("boucle", "Sample choeur", -12.0, 0.0, "businstru", legs=2, clips=boucles(),
                inserts=[egaliseur(bande("high-pass", 220), bande("low-pass", 8500))], comment="88 -> 92"),
        tranche("sub", "Sub refrain", -10.0, 0.0, "businstru", clips=sub,
                inserts=[egaliseur(bande("low-pass", 140)), compresseur(-18, 3, 20, 120, 1.0)]),
        tranche("businstru", "BUS INSTRU", -1.5, 0.0, "mix", kind="group", legs=2,
                inserts=[compresseur(-14, 1.5, 30, 120, 0.5, "Comp bus")]),
    ]  # fmt: skip


def cote_voix() -> list[Part]:
    """Lead, redone lines, doubles, refrain and harmonies, ad libs, the old guide and the group."""
    coups = [(8, 4, -12.0), (20, 4, -10.0), (32, 4, -12.0), (44, 4, -9.0)]
    faites = [
        tranche("lead", "Lead couplets", -3.5, 0.0, "busvoix", clips=couplet_lead(), inserts=chaine_lead(),
                sends=[envoi("verb", -19), envoi("delay", -60)], automation=[lancers(-60.0, coups)]),
        tranche("punch", "Lead punch", -3.5, 0.0, "busvoix", clips=punchs(), inserts=chaine_lead(),
                sends=[envoi("verb", -19)], comment="remplace le lead mes. 12 et 36 (trous coupés dans le lead)"),
    ]  # fmt: skip
    for cle, nom, pan in [("dblg", "Dbl G", -55.0), ("dbld", "Dbl D", 55.0)]:
        faites.append(
            tranche(cle, nom, -11.0, pan, "busvoix", clips=rimes(cle, cle), sends=[envoi("verb", -20)],
                    inserts=[egaliseur(bande("high-pass", 160), bande("bell", 260, -3.5)),
                             compresseur(-28, 6, 2, 60, 4.0), deesseur(-9.0)])
        )  # fmt: skip
    ines = refrain("ines", "ines")
    pont = clip("ines_pont", "ines_PONT", t(53, 3) - 0.2, t(61) - 0.4, t(52), (0.02, 0.15))
    ines.insert(2, pont)
    faites.append(
        tranche("ines", "Inès refrain", -4.0, 0.0, "busvoix", clips=ines,
                sends=[envoi("verb", -13), envoi("delay", -22)],
                inserts=[egaliseur(bande("high-pass", 110), bande("high-shelf", 10000, 1.5, 0.7)),
                         compresseur(-22, 3, 8, 90, 3.0), deesseur(-5.0)])
    )  # fmt: skip
    for cle, nom, pan in [("harmg", "Inès harm G", -70.0), ("harmd", "Inès harm D", 70.0)]:
        faites.append(
            tranche(cle, nom, -12.5, pan, "busvoix", clips=refrain(cle, cle, moitie=True), sends=[envoi("verb", -11)],
                    inserts=[egaliseur(bande("high-pass", 180), bande("bell", 2500, -1.5)),
                             compresseur(-26, 4, 5, 90, 3.0), deesseur(-7.0)])
        )  # fmt: skip
    gauche = [(2, 3, 2), (6, 4, 1.5), (14, 4, 1.5), (23, 4, 1), (30, 4, 1.5), (38, 4, 1.5), (47, 4, 1), (63, 4, 1.5),
              (71, 4, 1.5), (78, 1, 3)]  # fmt: skip
    droite = [(4, 3, 2), (10, 4, 1.5), (18, 4, 1.5), (27, 4, 1), (34, 4, 1.5), (42, 4, 1.5), (51, 4, 1), (67, 4, 1.5),
              (75, 4, 1.5), (80, 1, 2)]  # fmt: skip
    for cle, nom, pan, places in [("adlibg", "Adlib G", -40.0, gauche), ("adlibd", "Adlib D", 40.0, droite)]:
        faites.append(
            tranche(cle, nom, -10.0, pan, "busvoix", clips=cris(cle, cle, places),
                    sends=[envoi("verb", -14), envoi("delay", -13)],
                    inserts=[egaliseur(bande("high-pass", 300), bande("low-pass", 6000)),
                             compresseur(-26, 5, 3, 70, 3.0)])
        )  # fmt: skip
    faites.append(
        tranche("guide", "guide (old)", -8.0, 0.0, "busvoix", mute=True, comment="maquette téléphone, ne sert plus",
                clips=[clip("guide_telephone", "guide", t(5) - 0.4, t(61) + 0.5, 0.0, (0.0, 0.0))])
    )  # fmt: skip
    faites.append(
        tranche("busvoix", "BUS VOIX", -1.0, 0.0, "mix", kind="group", legs=2,
                inserts=[egaliseur(bande("bell", 350, -1.0, 0.8)), compresseur(-14, 2, 15, 120, 1.0, "Comp bus")])
    )  # fmt: skip
    return faites


def retours_et_mix() -> list[Part]:
    """The short reverb, the quarter-note delay and the mix bus."""
    courte = {"name": "Plaque courte", "kind": "reverb", "on": True, "opaque": False, "wet": 100.0,
              "pre_delay_ms": 20.0, "parameters": [valeur("rt", "Durée", 0.9, "s")]}  # fmt: skip
    noire = {"name": "Delay", "kind": "delay", "on": True, "opaque": False, "wet": 100.0,
             "parameters": [valeur("ms", "Temps", round(60000.0 / BPM, 1), "ms"),
                            valeur("fb", "Retour", 30.0, "%")]}  # fmt: skip
    limiteur = {"name": "Limiteur", "kind": "limiter", "on": True, "opaque": False,
                "dynamics": {"threshold_db": -1.0, "release_ms": 80.0, "input_gain_db": 2.0, "output_gain_db": 0.0},
                "parameters": [valeur("plafond", "Plafond", -1.0, "dBTP")]}  # fmt: skip
    fondu = [(0.0, 0.0), (t(79), 0.0), (t(82), -10.0), (t(84), -28.0), (FIN, -90.0)]
    mix = tranche("mix", "MIX", 0.0, 0.0, "", kind="master", legs=2, automation=[courbe("fader", fondu)],
                  inserts=[egaliseur(bande("high-pass", 25), bande("high-shelf", 12000, 0.8, 0.7)),
                           compresseur(-10, 1.5, 30, 150, 0.5, "Comp mix"), limiteur])  # fmt: skip
    del mix["output"]
    return [
        tranche("verb", "Verb courte", -7.0, 0.0, "mix", kind="return", legs=2,
                inserts=[courte, egaliseur(bande("high-pass", 280))]),
        tranche("delay", "Delay noire", -8.0, 0.0, "mix", kind="return", legs=2,
                inserts=[noire, egaliseur(bande("high-pass", 350), bande("low-pass", 4500))]),
        mix,
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    reperes = [(1, "Intro"), (5, "Couplet 1"), (21, "Refrain 1"), (29, "Couplet 2"), (45, "Refrain 2"), (53, "Pont"),
               (61, "Refrain 3 x2"), (77, "Outro"), (85, "Fin")]  # fmt: skip
    return {
        "format": "mixlint-session/1",
        "title": "Trottoir tiède MIX 7",
        "sample_rate_hz": 44100.0,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": t(mesure), "name": nom} for mesure, nom in reperes],
        "channels": [*cote_instru(), *cote_voix(), *retours_et_mix()],
        "media": fichiers(),
    }


def piste(session: Session, nom: str) -> Part:
    """The channel of a name."""
    trouvee: Part = next(c for c in session["channels"] if c["name"] == nom)
    return trouvee


def prise(session: Session, nom: str, fin: str) -> Part:
    """The clip of a channel whose name ends in a certain way."""
    trouvee: Part = next(c for c in piste(session, nom)["clips"] if c["name"].endswith(fin))
    return trouvee


def tempo_touche(session: Session) -> None:
    """The tempo was touched after everything had been placed."""
    session["timeline"]["tempos"][0]["bpm"] = 95.0


def version_taguee(session: Session) -> None:
    """From the second refrain on the old beat with the tag lies there."""
    session["media"].append(fichier("instru_v2", "instru/trottoir_v2_92bpm_TAG.wav", 2, 221.6))
    piste(session, "INSTRU 2TR")["clips"][1].update(file="instru_v2", name="trottoir_v2_92bpm_TAG")


def gate_trop_haut(session: Session) -> None:
    """The gate's threshold of the lead was dragged up."""
    piste(session, "Lead couplets")["inserts"][0]["dynamics"]["threshold_db"] = -14.0


def trou_rebouche(session: Session) -> None:
    """The lead's clip was pulled open again over the redone line of bar 12."""
    prise(session, "Lead couplets", "C1.2")["end_s"] = round(t(13) - 0.3, 4)


def courbe_en_avance(session: Session) -> None:
    """The intro grew by two bars; the beat's ride was not moved along."""
    ride = piste(session, "INSTRU 2TR")["automation"][0]
    ride["t"] = [round(max(0.0, x - t(3)), 4) for x in ride["t"]]


def double_trop_fort(session: Session) -> None:
    """The clip gain of one double was pushed for listening and stayed."""
    prise(session, "Dbl D", "m40")["gain_db"] = 10.0


def harmonie_coupee(session: Session) -> None:
    """The left harmony of the second refrain is switched off as a clip."""
    prise(session, "Inès harm G", "R2")["on"] = False


def double_en_double(session: Session) -> None:
    """A forgotten send feeds the left double into the group that it already goes to."""
    piste(session, "Dbl G")["sends"].append(envoi("busvoix", 0.0))


def instru_un_cote_inverse(session: Session) -> None:
    """The right side of the beat is turned over."""
    piste(session, "INSTRU 2TR")["inserts"][0]["parameters"][2]["value"] = True


def lead_de_cote(session: Session) -> None:
    """The lead was nudged off the centre."""
    piste(session, "Lead couplets")["pan"] = -23.0


def fondu_inacheve(session: Session) -> None:
    """The last two points of the fade are missing."""
    fondu = piste(session, "MIX")["automation"][0]
    fondu["t"], fondu["v"] = fondu["t"][:-2], fondu["v"][:-2]


ACCEPTED: list[Part] = [
    {"channels": ["guide (old)"], "why": "the phone demo, muted on purpose, the comment says that it is done with"},
    {"channels": ["Sample choeur"], "why": "one four-bar file again and again, stretched from 88 to 92 bpm"},
    {"channels": ["Sub refrain"], "why": "one eight-bar file used in every refrain"},
    {"channels": ["INSTRU 2TR"], "why": "a hole of one beat before refrain 2; the filter is on only in the bridge"},
    {"channels": ["MIX"], "why": "the outro is faded on the mix bus fader"},
]

FAULTS: list[Part] = [
    {
        "id": "tempo-touche",
        "class": "tempo",
        "channels": ["MIX", "INSTRU 2TR", "Delay noire"],
        "grade": "look",
        "says": "The session stands at 95 bpm, but beat, clips, markers and delay sit on a grid of 92.",
        "plant": tempo_touche,
    },
    {
        "id": "version-taguee",
        "class": "files",
        "channels": ["INSTRU 2TR"],
        "grade": "hold",
        "says": "From refrain 2 on the beat plays version 2 with the tag instead of version 4 without it.",
        "plant": version_taguee,
    },
    {
        "id": "gate-trop-haut",
        "class": "processors",
        "channels": ["Lead couplets"],
        "grade": "look",
        "says": "The lead's gate opens only at -14 dB, on the otherwise equal punch track at -46; it will eat words.",
        "plant": gate_trop_haut,
    },
    {
        "id": "trou-rebouche",
        "class": "twice",
        "channels": ["Lead couplets", "Lead punch"],
        "grade": "hold",
        "says": "In bar 12 the old lead plays under the redone line; the hole cut for it is closed.",
        "plant": trou_rebouche,
    },
    {
        "id": "courbe-en-avance",
        "class": "automation",
        "channels": ["INSTRU 2TR"],
        "grade": "look",
        "says": "The fader steps of the beat come two bars before every section instead of on its first beat.",
        "plant": courbe_en_avance,
    },
    {
        "id": "double-trop-fort",
        "class": "level",
        "channels": ["Dbl D"],
        "grade": "look",
        "says": "The clip of Dbl D in bar 40 is raised by 10 dB; all its others and those of Dbl G stand at 0.",
        "plant": double_trop_fort,
    },
    {
        "id": "harmonie-coupee",
        "class": "inaudible",
        "channels": ["Inès harm G"],
        "grade": "look",
        "says": "The left harmony's clip in refrain 2 is muted while its right partner sings.",
        "plant": harmonie_coupee,
    },
    {
        "id": "double-en-double",
        "class": "routing",
        "channels": ["Dbl G"],
        "grade": "look",
        "says": "Dbl G goes to BUS VOIX by its output and once more by a send at 0 dB.",
        "plant": double_en_double,
    },
    {
        "id": "instru-un-cote-inverse",
        "class": "phase",
        "channels": ["INSTRU 2TR"],
        "grade": "hold",
        "says": "The beat's right side is inverted in polarity, the left is not; in mono its centre is gone.",
        "plant": instru_un_cote_inverse,
    },
    {
        "id": "lead-de-cote",
        "class": "place",
        "channels": ["Lead couplets"],
        "grade": "look",
        "says": "The lead is panned 23 to the left, its punch lines and the refrain stand in the centre.",
        "plant": lead_de_cote,
    },
    {
        "id": "fondu-inacheve",
        "class": "end",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The final fade stops at -10 dB; the beat is cut off audibly at the end.",
        "plant": fondu_inacheve,
    },
]
