"""Papier de verre bleu: a slow electronic piece at 84 bpm, 44.1 kHz, sampled voices over ducked pads.

Made in the box from four-bar loops, printed instruments and voices cut out of a recording at 80 bpm, so the sung
phrases run a little faster than they were recorded; breaths and reversed swells are left as they are. A silent key
kick ducks sub, bass and pads and runs on through the break. Every group and both returns feed a stem track at unity and
all stems and the mix were printed in one pass, version 5, from the first bar to the last of the tail.
The engineer names things in French, prints instruments and mutes the source, and keeps a mono check on the mix bus.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Piece = dict[str, Any]

RATE = 44100.0
BPM = 84.0
SAMPLE_BPM = 80.0
BAR = 240.0 / BPM
TAIL_BAR = 87
VERSION = "v5"


def at(bar: float) -> float:
    """Seconds at a bar; the first bar is bar 1."""
    return round((bar - 1) * BAR, 6)


REPERES: list[tuple[int, str]] = [
    (1, "Intro"),
    (9, "A"),
    (25, "B"),
    (41, "Pause (filtre)"),
    (49, "C - tout ouvert"),
    (73, "Outro"),
    (85, "Queue"),
    (TAIL_BAR, "FIN"),
]

# id, path, legs, length in seconds
FILES: list[tuple[str, str, int, float]] = [
    ("kick", "Boucles/kick_84_4m.wav", 1, at(5)),
    ("cle", "Boucles/kick_cle_84_4m.wav", 1, at(5)),
    ("caisse", "Boucles/caisse_84_4m.wav", 1, at(5)),
    ("clap", "Boucles/clap_84_4m.wav", 2, at(5)),
    ("charley", "Boucles/charley_84_4m.wav", 1, at(5)),
    ("charley2", "Boucles/charley_84_4m_var.wav", 1, at(5)),
    ("boisg", "Boucles/bois_G_84_4m.wav", 1, at(5)),
    ("boisd", "Boucles/bois_D_84_4m.wav", 1, at(5)),
    ("vinyle", "Textures/vinyle_long.wav", 2, 312.5),
    ("sub", f"Prints/sub_print_{VERSION}.wav", 1, at(86)),
    ("bmed", f"Prints/basse_med_print_{VERSION}.wav", 1, at(86)),
    ("piano", "Prises/piano_el_02.wav", 2, at(88)),
    ("arp", f"Prints/arp_print_{VERSION}.wav", 2, at(86)),
    ("chaude", f"Prints/nappe_chaude_{VERSION}.wav", 2, at(88)),
    ("verre", f"Prints/nappe_verre_{VERSION}.wav", 2, at(88)),
    ("phra", "Voix/vox_phrase_a_80.wav", 1, 12.0),
    ("phrb", "Voix/vox_phrase_b_80.wav", 1, 12.0),
    ("mot", "Voix/vox_mot_80.wav", 1, 2.1),
    ("souffle", "Voix/vox_souffle.wav", 1, 3.4),
    ("renv", "Voix/vox_renv_2m.wav", 2, at(3)),
]

STEMS: list[tuple[str, str, str]] = [
    ("st_batt", "STEM Batt", "batt"),
    ("st_bass", "STEM Basses", "basses"),
    ("st_napp", "STEM Nappes", "nappes"),
    ("st_mus", "STEM Musique", "musique"),
    ("st_vox", "STEM Vox", "vox"),
    ("st_fx", "STEM FX", ""),
]

# id, name, kind, output, folder, legs, fader, pan
STRIPS: list[tuple[str, str, str, str | None, str, int, float, float]] = [
    ("kick", "Kick", "track", "batt", "Batterie", 1, -6.0, 0.0),
    ("cle", "Kick Clé", "track", None, "Batterie", 1, 0.0, 0.0),
    ("caisse", "Caisse", "track", "batt", "Batterie", 1, -9.2, 0.0),
    ("clap", "Clap", "track", "batt", "Batterie", 2, -12.5, 0.0),
    ("charley", "Charley", "track", "batt", "Batterie", 1, -15.0, 12.0),
    ("boisg", "Bois G", "track", "batt", "Batterie", 1, -16.4, -62.0),
    ("boisd", "Bois D", "track", "batt", "Batterie", 1, -16.4, 62.0),
    ("sub", "Sub", "track", "basses", "Basses", 1, -7.5, 0.0),
    ("bmed", "Basse Méd", "track", "basses", "Basses", 1, -12.0, 0.0),
    ("chaude", "Nappe Chaude", "track", "nappes", "Nappes", 2, -11.0, 0.0),
    ("verre", "Nappe Verre", "track", "nappes", "Nappes", 2, -13.5, 0.0),
    ("piano", "Piano El", "track", "musique", "Musique", 2, -9.0, 0.0),
    ("arpmidi", "Arp MIDI", "track", "musique", "Musique", 2, -14.0, 0.0),
    ("arp", "Arp PRINT", "track", "musique", "Musique", 2, -14.0, 0.0),
    ("vinyle", "Vinyle", "track", "musique", "Musique", 2, -27.0, 0.0),
    ("coupe", "Vox Coupe", "track", "vox", "Voix", 1, -7.0, 0.0),
    ("mot", "Vox Écho", "track", "vox", "Voix", 1, -12.0, -20.0),
    ("souffle", "Vox Souffle", "track", "vox", "Voix", 1, -17.0, 18.0),
    ("renv", "Vox Renv", "track", "vox", "Voix", 2, -13.0, 0.0),
    ("batt", "BATT", "group", "mix", "Groupes", 2, -1.0, 0.0),
    ("basses", "BASSES", "group", "mix", "Groupes", 2, -1.5, 0.0),
    ("nappes", "NAPPES", "group", "mix", "Groupes", 2, 0.0, 0.0),
    ("musique", "MUSIQUE", "group", "mix", "Groupes", 2, -0.5, 0.0),
    ("vox", "VOX", "group", "mix", "Groupes", 2, 0.0, 0.0),
    ("hall", "Hall Long", "return", "mix", "Retours", 2, -5.0, 0.0),
    ("delai", "Délai Pointé", "return", "mix", "Retours", 2, -7.0, 0.0),
    ("mix", "MIX", "master", None, "", 2, 0.0, 0.0),
]

COMMENTS: dict[str, str] = {
    "cle": "clé de side-chain seulement, ne sort nulle part, tourne aussi dans la pause",
    "arpmidi": "printé en v5 -> Arp PRINT, laisser coupé",
    "arp": "print v5 de Arp MIDI",
    "sub": "print, duck sur Kick Clé",
    "bmed": "print, duck sur Kick Clé",
    "chaude": "duck sur Kick Clé",
    "verre": "duck sur Kick Clé",
    "coupe": "source 80 bpm, calée à 84",
    "mot": "source 80 bpm, jets de délai en fin de phrase",
    "souffle": "vitesse d'origine",
    "renv": "deux mesures à l'envers, finit sur le 1",
    "nappes": "passe-bas : ferme dans la pause, rouvre sur C",
    "delai": "croche pointée à 84 = 535,7 ms",
    "mix": "mono = écoute, OFF avant tirage",
}

SENDS: dict[str, list[tuple[str, float]]] = {
    "caisse": [("hall", -22.0)],
    "clap": [("hall", -16.0)],
    "boisg": [("delai", -19.0)],
    "boisd": [("delai", -19.0)],
    "chaude": [("hall", -18.0)],
    "verre": [("hall", -14.0)],
    "piano": [("hall", -15.0)],
    "arpmidi": [("delai", -15.0)],
    "arp": [("delai", -15.0)],
    "coupe": [("hall", -13.0), ("delai", -20.0)],
    "mot": [("delai", -4.0), ("hall", -12.0)],
    "souffle": [("hall", -9.0)],
    "renv": [("hall", -11.0)],
    "delai": [("hall", -16.0), ("st_fx", 0.0)],
    "hall": [("st_fx", 0.0)],
    "batt": [("st_batt", 0.0)],
    "basses": [("st_bass", 0.0)],
    "nappes": [("st_napp", 0.0)],
    "musique": [("st_mus", 0.0)],
    "vox": [("st_vox", 0.0)],
}


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.8) -> Piece:
    """A bell or shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def cut(kind: str, freq: float, slope: float = 12.0) -> Piece:
    """A high-pass or low-pass."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def insert(name: str, kind: str, **more: Any) -> Piece:
    """An insert, on, with its settings in the open."""
    return {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": False, **more}


def parameter(ident: str, name: str, value: float | bool | str, unit: str = "") -> Piece:
    """A parameter as listed."""
    return {"id": ident, "name": name, "value": value, "unit": unit}


def eq(*bands: Piece, name: str = "EQ") -> Piece:
    """An equalizer."""
    return insert(name, "equalizer", equalizer={"bands": list(bands)})


def dynamics(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> Piece:
    """The settings of a compressor."""
    return {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": out,
        "auto_makeup": False,
    }


def comp(*settings: float) -> Piece:
    """A compressor on its own signal."""
    return insert("Compresseur", "compressor", dynamics=dynamics(*settings))


def duck(threshold: float, ratio: float, release: float) -> Piece:
    """A compressor that is keyed by the silent kick."""
    settings = dynamics(threshold, ratio, 2.0, release)
    return insert("Duck", "compressor", dynamics=settings, parameters=[parameter("key", "Clé", "Kick Clé")])


def inserts() -> dict[str, list[Piece]]:
    """The inserts of every channel."""
    dotted = round(60000.0 / BPM * 0.75, 1)
    delay = [parameter("time", "Temps", dotted, "ms"), parameter("feedback", "Réinjection", 34.0, "%")]
    mono = parameter("mono", "Mono", True)
    limit = {"threshold_db": -2.5, "release_ms": 60.0, "input_gain_db": 0.0, "output_gain_db": 0.0}
    return {
        "kick": [eq(band("bell", 58.0, 1.5), band("bell", 300.0, -3.0)), comp(-14.0, 3.0, 18.0, 80.0, 1.0)],
        "caisse": [eq(cut("high-pass", 120.0), band("bell", 4200.0, 1.5)), insert("Sat", "distortion", wet=30.0)],
        "clap": [eq(cut("high-pass", 350.0))],
        "charley": [eq(cut("high-pass", 900.0), band("high-shelf", 9000.0, -1.5))],
        "boisg": [eq(cut("high-pass", 280.0))],
        "boisd": [eq(cut("high-pass", 280.0))],
        "sub": [eq(cut("high-pass", 26.0, 18.0), cut("low-pass", 140.0)), duck(-26.0, 4.0, 160.0)],
        "bmed": [eq(cut("high-pass", 110.0)), insert("Sat", "distortion", wet=40.0), duck(-24.0, 3.0, 160.0)],
        "chaude": [eq(cut("high-pass", 130.0), band("bell", 420.0, -2.0)), duck(-32.0, 4.0, 280.0)],
        "verre": [eq(cut("high-pass", 240.0), band("high-shelf", 7000.0, 1.0)), duck(-32.0, 4.0, 280.0)],
        "piano": [eq(cut("high-pass", 70.0), band("bell", 380.0, -1.5)), insert("Trémolo", "modulation", wet=25.0)],
        "arpmidi": [insert("Synthé arpège", "instrument", opaque=True), eq(cut("high-pass", 200.0))],
        "arp": [eq(band("bell", 3100.0, -1.5))],
        "vinyle": [eq(cut("high-pass", 400.0), cut("low-pass", 9000.0))],
        "coupe": [
            eq(cut("high-pass", 130.0), band("bell", 900.0, -2.0), band("high-shelf", 9500.0, 1.5)),
            comp(-23.0, 3.0, 10.0, 110.0, 2.5),
            insert("De-esser", "de-esser", parameters=[parameter("freq", "Fréquence", 6500.0, "Hz")]),
        ],
        "mot": [eq(cut("high-pass", 300.0), cut("low-pass", 4500.0))],
        "souffle": [eq(cut("high-pass", 500.0))],
        "renv": [eq(cut("high-pass", 180.0))],
        "batt": [comp(-14.0, 2.0, 30.0, 110.0, 0.5)],
        "basses": [comp(-16.0, 2.0, 25.0, 160.0, 0.5)],
        "nappes": [eq(cut("low-pass", 18000.0, 24.0), name="Filtre")],
        "musique": [eq(band("bell", 2500.0, -0.8, 0.6))],
        "vox": [comp(-16.0, 1.6, 20.0, 180.0, 0.5)],
        "hall": [
            insert("Hall", "reverb", wet=100.0, pre_delay_ms=36.0, parameters=[parameter("decay", "Durée", 3.8, "s")]),
            eq(cut("high-pass", 280.0), cut("low-pass", 8000.0)),
        ],
        "delai": [
            insert("Délai", "delay", wet=100.0, parameters=delay),
            eq(cut("high-pass", 350.0), cut("low-pass", 5500.0)),
        ],
        "mix": [
            eq(band("low-shelf", 60.0, 0.5), band("high-shelf", 11000.0, 0.8)),
            insert("Colle", "compressor", dynamics=dynamics(-14.0, 1.5, 30.0, 180.0, 0.8)),
            insert("Bande", "distortion", wet=100.0, opaque=True),
            insert("Limiteur", "limiter", dynamics=limit, parameters=[parameter("ceiling", "Plafond", -1.0, "dBTP")]),
            insert("Écoute mono", "monitor", parameters=[mono]) | {"on": False},
            insert("Vumètre", "analyser"),
        ],
    }


def stem_of(file: str) -> str:
    """The bare name of a file, which its clips bear."""
    path = next(path for ident, path, _, _ in FILES if ident == file)
    return path.rsplit("/", 1)[1].removesuffix(".wav")


def clip(name: str, file: str | None, start: float, end: float, **more: Any) -> Piece:
    """A clip with short fades that plays its file from the top."""
    made: Piece = {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio" if file else "notes",
        "file": file,
        "offset_s": 0.0,
        "speed": 1.0,
        "fade_in_s": 0.002,
        "fade_out_s": 0.004,
        "gain_db": 0.0,
        "on": True,
    }
    return made | more


def loops(file: str, *spans: tuple[int, int]) -> list[Piece]:
    """A four-bar loop over some spans of bars."""
    return [
        clip(stem_of(file), file, at(bar), at(min(bar + 4, last)))
        for first, last in spans
        for bar in range(first, last, 4)
    ]


def printed(file: str, tail: float, *spans: tuple[int, int]) -> list[Piece]:
    """A print that starts at bar 1, cut to its sections, each let ring over a tail if nothing follows."""
    starts, ends = {first for first, _ in spans}, {last for _, last in spans}
    found = []
    for number, (first, last) in enumerate(spans, 1):
        ring = 0.0 if last in starts else tail
        fades = {"fade_in_s": -0.01 if first in ends else 0.01, "fade_out_s": ring * 0.9 if ring else 0.01}
        found.append(
            clip(f"{stem_of(file)}.{number:02d}", file, at(first), at(last) + ring, offset_s=at(first), **fades)
        )
    return found


def sung(file: str, bars: float, *starts: float) -> list[Piece]:
    """A sampled voice from 80 bpm, sped up to the song."""
    speed = BPM / SAMPLE_BPM
    return [
        clip(stem_of(file), file, at(start), at(start + bars), speed=speed, fade_in_s=0.01, fade_out_s=0.08)
        for start in starts
    ]


def by_time(*groups: list[Piece]) -> list[Piece]:
    """Clips of several files in one row."""
    return sorted((c for group in groups for c in group), key=lambda c: float(c["start_s"]))


def clips() -> dict[str, list[Piece]]:
    """The clips of every track but the stems."""
    arp_spans = [(25, 41), (49, 73)]
    swells = [clip("vox_renv_2m", "renv", at(bar - 2), at(bar), fade_in_s=0.3) for bar in (9, 25, 49, 73)]
    breaths = [
        clip("vox_souffle", "souffle", at(bar) - 0.2, at(bar) + 2.6, fade_out_s=0.9)
        for bar in (25, 29, 33, 37, 41, 45, 77, 81)
    ]
    return {
        "kick": loops("kick", (9, 41), (49, 81)),
        "cle": loops("cle", (9, 85)),
        "caisse": loops("caisse", (13, 41), (49, 73)),
        "clap": loops("clap", (25, 41), (49, 73)),
        "charley": by_time(
            loops("charley", (9, 37), (49, 69), (73, 77)), loops("charley2", (37, 41)), loops("charley2", (69, 73))
        ),
        "boisg": loops("boisg", (17, 41), (49, 73)),
        "boisd": loops("boisd", (17, 41), (49, 73)),
        "sub": printed("sub", 0.4, (9, 25), (25, 41), (49, 73), (73, 81)),
        "bmed": printed("bmed", 0.4, (25, 41), (49, 73)),
        "chaude": printed("chaude", 4.0, (1, 25), (25, 41), (41, 49), (49, 73), (73, 85)),
        "verre": printed("verre", 4.0, (17, 41), (41, 49), (49, 73), (73, 85)),
        "piano": printed("piano", 3.0, (1, 9), (9, 25), (25, 41), (41, 49), (57, 73), (73, 85)),
        "arpmidi": [clip(f"arp {first}", None, at(first), at(last)) for first, last in arp_spans],
        "arp": printed("arp", 0.8, *arp_spans),
        "vinyle": [clip("vinyle_long", "vinyle", at(1), at(86), offset_s=11.0, fade_in_s=2.0, fade_out_s=4.0)],
        "coupe": by_time(
            sung("phra", 3.5, 9, 17, 33, 49, 57, 65),
            sung("phrb", 3.5, 13, 21, 37, 53, 61, 69),
        ),
        "mot": sung("mot", 0.5, 16.5, 24.5, 40.5, 48.5, 64.5, 72.5),
        "souffle": breaths,
        "renv": swells,
    }


def lane(target: str, scale: str, points: list[tuple[float, float]]) -> Piece:
    """A lane of straight lines; points are given in bars."""
    return {
        "target": target,
        "scale": scale,
        "shape": "linear",
        "t": [at(bar) for bar, _ in points],
        "v": [value for _, value in points],
    }


def automation() -> dict[str, list[Piece]]:
    """The filter of the pads and the rides."""
    sweep = [(1.0, 700.0), (8.75, 18000.0), (40.0, 18000.0), (41.0, 600.0), (45.0, 600.0)]
    sweep += [(49.0, 18000.0), (73.0, 18000.0), (85.0, 900.0)]
    return {
        "nappes": [lane("insert:0:band:1:freq", "plain", sweep)],
        "piano": [lane("fader", "dB", [(1, -9.0), (40.75, -9.0), (41, -7.5), (48.75, -7.5), (49, -9.0)])],
        "vinyle": [lane("fader", "dB", [(1, -24.0), (9, -27.0), (40, -27.0), (41, -24.5), (48, -24.5), (49, -27.0)])],
        "coupe": [lane("fader", "dB", [(1, -7.0), (48.5, -7.0), (49, -6.2), (72.9, -6.2)])],
        "souffle": [lane("fader", "dB", [(1, -17.0), (40.5, -17.0), (40.75, -14.0), (48, -14.0), (49, -17.0)])],
    }


def strip(ident: str, name: str, kind: str, output: str | None, folder: str, legs: int, **more: Any) -> Piece:
    """A channel with its comment and sends."""
    made: Piece = {
        "id": ident,
        "name": name,
        "kind": kind,
        "folder": [folder] if folder else [],
        "plays": ["audio"] if kind == "track" else [],
        "legs": legs,
        "fader_db": 0.0,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "sends": [
            {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True} for to, level in SENDS.get(ident, [])
        ],
        "inserts": [],
        "clips": [],
        "automation": [],
        "comment": COMMENTS.get(ident, ""),
    }
    if kind != "master":
        made["output"] = output
    return made | more


def print_name(name: str) -> str:
    """The name of a printed file."""
    return f"PapierDeVerre_{VERSION}_{name.replace(' ', '_')}"


def print_track(ident: str, name: str, comment: str) -> Piece:
    """A track that holds a print and goes nowhere."""
    whole = clip(print_name(name), ident, 0.0, at(TAIL_BAR), fade_in_s=0.0, fade_out_s=0.0)
    return strip(ident, name, "track", None, "Livraison", 2, clips=[whole], comment=comment)


def media() -> list[Piece]:
    """All files, the prints last."""
    rows = list(FILES)
    for ident, name in [(ident, name) for ident, name, _ in STEMS] + [("print", "PRINT Mix")]:
        rows.append((ident, f"Livraison/{print_name(name)}.wav", 2, at(TAIL_BAR)))
    return [
        {
            "id": ident,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for ident, path, legs, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    all_inserts, all_clips, all_rides = inserts(), clips(), automation()
    channels: list[Piece] = []
    for ident, name, kind, output, folder, legs, fader, pan in STRIPS:
        channels.append(
            strip(
                ident,
                name,
                kind,
                output,
                folder,
                legs,
                fader_db=fader,
                pan=pan,
                mute=ident == "arpmidi",
                inserts=all_inserts.get(ident, []),
                clips=all_clips.get(ident, []),
                automation=all_rides.get(ident, []),
            )
        )
        if ident == "arpmidi":
            channels[-1]["plays"] = ["notes"]
    for ident, name, source in STEMS:
        fed = source.upper() if source else "Hall Long + Délai Pointé"
        channels.append(print_track(ident, name, f"{fed} à 0 dB, piste de tirage"))
    channels.append(print_track("print", "PRINT Mix", "même passe que les stems"))
    return {
        "format": "mixlint-session/1",
        "title": f"Papier de verre bleu {VERSION}",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM, "ramp": False}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in REPERES],
        "channels": channels,
        "media": media(),
        "metadata": {
            "version": VERSION,
            "tempo": "84",
            "livraison": "stems stéréo 44,1 kHz / 24 bit depuis la mesure 1",
        },
        "notes": [
            {
                "text": "keys the Duck compressors of Sub, Basse Méd, Nappe Chaude and Nappe Verre (side chain)",
                "about": "cle",
                "loses": True,
            }
        ],
    }


def channel(session: Session, name: str) -> Piece:
    """The channel of a name."""
    found: Piece = next(c for c in session["channels"] if c["name"] == name)
    return found


def tempo_of_the_sample(session: Session) -> None:
    """The session has been left at the tempo of the sampled voice."""
    session["timeline"]["tempos"][0]["bpm"] = SAMPLE_BPM


def pad_on_the_wrong_key(session: Session) -> None:
    """One pad ducks to the snare."""
    channel(session, "Nappe Verre")["inserts"][1]["parameters"][0]["value"] = "Caisse"


def arp_twice(session: Session) -> None:
    """The source of the printed arpeggio is open again."""
    channel(session, "Arp MIDI")["mute"] = False


def stem_of_last_week(session: Session) -> None:
    """One stem track still holds the print of version 4."""
    old, new = print_name("STEM Basses"), print_name("STEM Basses").replace(VERSION, "v4")
    channel(session, "STEM Basses")["clips"][0]["name"] = new
    for item in session["media"]:
        item["path"] = item["path"].replace(old, new)


def breath_at_48(session: Session) -> None:
    """The breath has been put in as a file of another sample rate."""
    for item in session["media"]:
        if item["id"] == "souffle":
            item["sample_rate_hz"] = 48000.0


def returns_in_a_ring(session: Session) -> None:
    """The hall feeds the delay that feeds the hall."""
    channel(session, "Hall Long")["sends"].append(
        {"to": "delai", "level_db": -8.0, "pan": 0.0, "tap": "post", "on": True}
    )


def stem_feed_low(session: Session) -> None:
    """One group feeds its stem nine decibels down."""
    channel(session, "MUSIQUE")["sends"][0]["level_db"] = -9.0


def filter_stays_shut(session: Session) -> None:
    """The points that open the filter after the break are gone."""
    sweep = channel(session, "NAPPES")["automation"][0]
    kept = [(t, v) for t, v in zip(sweep["t"], sweep["v"], strict=True) if t not in (at(49), at(73))]
    sweep["t"], sweep["v"] = [t for t, _ in kept], [v for _, v in kept]


def key_audible(session: Session) -> None:
    """The key kick goes to the drums."""
    channel(session, "Kick Clé")["output"] = "batt"


def stray_swell(session: Session) -> None:
    """A copy of a swell lies far behind the end."""
    swells = channel(session, "Vox Renv")["clips"]
    stray = dict(swells[-1])
    stray["start_s"], stray["end_s"] = at(117), at(119)
    swells.append(stray)


def mono_left_on(session: Session) -> None:
    """The mono check of the mix bus is on."""
    channel(session, "MIX")["inserts"][4]["on"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Kick Clé"], "why": "keys the ducking only; goes nowhere and plays through the break on purpose"},
    {"channels": ["Arp MIDI"], "why": "source of the print, muted on purpose and said so"},
    {
        "channels": ["STEM Batt", "STEM Basses", "STEM Nappes", "STEM Musique", "STEM Vox", "STEM FX", "PRINT Mix"],
        "why": "print tracks that hold the delivery and go nowhere; clips without fades from bar 1",
    },
    {"channels": ["Vox Coupe", "Vox Écho"], "why": "samples from 80 bpm, played faster to meet 84"},
    {"channels": ["MIX"], "why": "the mono check is bypassed, as it must be for the print"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "tempo-of-the-sample",
        "class": "tempo",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The tempo is 80, yet loops, markers, file names and the dotted delay are all at 84.",
        "plant": tempo_of_the_sample,
    },
    {
        "id": "pad-on-the-wrong-key",
        "class": "processors",
        "channels": ["Nappe Verre"],
        "grade": "look",
        "says": "The duck of Nappe Verre is keyed by Caisse; its comment and the other three ducks say Kick Clé.",
        "plant": pad_on_the_wrong_key,
    },
    {
        "id": "arp-twice",
        "class": "twice",
        "channels": ["Arp MIDI", "Arp PRINT"],
        "grade": "hold",
        "says": "Arp MIDI is open although it is printed on Arp PRINT: the arpeggio sounds twice.",
        "plant": arp_twice,
    },
    {
        "id": "stem-of-last-week",
        "class": "hand-over",
        "channels": ["STEM Basses"],
        "grade": "look",
        "says": "STEM Basses holds the print of v4 while the mix and all other stems are v5.",
        "plant": stem_of_last_week,
    },
    {
        "id": "breath-at-48",
        "class": "files",
        "channels": ["Vox Souffle"],
        "grade": "look",
        "says": "vox_souffle.wav is at 48 kHz, the session and all other files at 44.1.",
        "plant": breath_at_48,
    },
    {
        "id": "returns-in-a-ring",
        "class": "routing",
        "channels": ["Hall Long", "Délai Pointé"],
        "grade": "hold",
        "says": "Hall Long feeds Délai Pointé, which feeds Hall Long: the two returns feed each other.",
        "plant": returns_in_a_ring,
    },
    {
        "id": "stem-feed-low",
        "class": "level",
        "channels": ["MUSIQUE", "STEM Musique"],
        "grade": "look",
        "says": "MUSIQUE feeds its stem at -9 dB; all others feed theirs at 0, as the stem's comment says.",
        "plant": stem_feed_low,
    },
    {
        "id": "filter-stays-shut",
        "class": "automation",
        "channels": ["NAPPES"],
        "grade": "look",
        "says": "The pads' low-pass does not open after the break: section C, 'tout ouvert', stays under 900 Hz.",
        "plant": filter_stays_shut,
    },
    {
        "id": "key-audible",
        "class": "audible-that-should-not-be",
        "channels": ["Kick Clé"],
        "grade": "hold",
        "says": "Kick Clé goes to BATT; the key kick must not be heard, and it plays through the break.",
        "plant": key_audible,
    },
    {
        "id": "stray-swell",
        "class": "end",
        "channels": ["Vox Renv"],
        "grade": "look",
        "says": "A copy of the swell lies a minute and a half behind FIN and would lengthen the bounce.",
        "plant": stray_swell,
    },
    {
        "id": "mono-left-on",
        "class": "place",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The mono check on the mix bus is on; its comment wants it off before the print.",
        "plant": mono_left_on,
    },
]
