"""An art song, "La fenêtre du bas", for one singer, piano and string quartet, in slow three, everybody in one wooden
room, the singer behind glass. Played freely and mapped by hand afterwards. First take up to the refrain, second take
from there, one crossfade on piano, quartet and main pair alike; the singer has one repaired passage from take 4. The
engineer writes French (G/D for the sides, Alto is the viola, Vcl the cello, Couple the main pair, Annonces the slate),
works at 96 kHz, groups piano and strings, sends the voice straight to the output and keeps processing sparse."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

HZ = 96000
CARTE: tuple[tuple[float, float], ...] = ((0.0, 63.0), (48.0, 58.0), (120.0, 66.0), (192.0, 60.0), (252.0, 50.0))
COUPE = 120.0  # beat of the cut between take 1 and take 2
FIN = 276.0  # beat of the end mark


def sec(beat: float) -> float:
    """Seconds at a quarter-note beat."""
    total = 0.0
    for n, (first, bpm) in enumerate(CARTE):
        last = CARTE[n + 1][0] if n + 1 < len(CARTE) else beat
        if beat > first:
            total += (min(beat, last) - first) * 60.0 / bpm
    return round(total, 4)


def clip(file: str, start: float, end: float, offset: float, fade_in: float, fade_out: float) -> dict[str, Any]:
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": file,
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 4),
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": 0.0,
        "on": True,
    }


def prises(mic: str) -> list[dict[str, Any]]:
    """Both takes of a microphone in the room; the cut is the same for all of them."""
    head = sec(6.0) - 0.5
    return [
        clip(f"{mic}_p1", head, sec(COUPE) + 0.03, head + 1.75, 0.3, 0.06),
        clip(f"{mic}_p2", sec(COUPE) - 0.03, sec(FIN) - 0.4, 8.25, 0.06, 3.0),
    ]


def chant(mic: str) -> list[dict[str, Any]]:
    """The singer: take 1, the passage repaired from take 4, take 2 from the refrain on."""
    one, two = 1.75, 8.25 - (sec(COUPE) - 0.03)
    return [
        clip(f"{mic}_p1", sec(36.0) - 0.6, sec(72.0) + 0.02, sec(36.0) - 0.6 + one, 0.1, 0.04),
        clip(f"{mic}_p4", sec(72.0) - 0.02, sec(108.0), 3.1, 0.04, 0.15),
        clip(f"{mic}_p2", sec(120.0), sec(154.0), sec(120.0) + two, 0.02, 0.15),
        clip(f"{mic}_p2", sec(156.0) - 0.5, sec(190.0), sec(156.0) - 0.5 + two, 0.1, 0.15),
        clip(f"{mic}_p2", sec(192.0) - 0.6, sec(258.0), sec(192.0) - 0.6 + two, 0.1, 0.4),
    ]


def egaliseur(*bands: dict[str, Any]) -> dict[str, Any]:
    return {
        "name": "Égaliseur",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def coupe_bas(freq: float) -> dict[str, Any]:
    return {"kind": "high-pass", "freq_hz": freq, "q": 0.7, "slope_db_per_oct": 12.0, "on": True}


def cloche(freq: float, gain: float, q: float) -> dict[str, Any]:
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def phase(inverse: bool) -> dict[str, Any]:
    return {
        "name": "Phase/Gain",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "polarity", "name": "Inverser la polarité", "value": inverse},
            {"id": "gain", "name": "Gain", "value": 0.0, "unit": "dB"},
        ],
    }


def dynamique(
    kind: str, name: str, threshold: float, ratio: float, attack: float, release: float, out: float
) -> dict[str, Any]:
    return {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": out,
            "auto_makeup": False,
        },
    }


def reverb(name: str, pre_delay: float, seconds: float) -> dict[str, Any]:
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "duree", "name": "Durée", "value": seconds, "unit": "s"}],
    }


def depart(vers: str, level: float) -> dict[str, Any]:
    return {"to": vers, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def tranche(
    ident: str, name: str, kind: str, fader: float, pan: float, output: str | None, legs: int = 1, **more: Any
) -> dict[str, Any]:
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        **more,
    }


def micro(ident: str, name: str, fader: float, pan: float, output: str, *inserts: dict[str, Any]) -> dict[str, Any]:
    return tranche(
        ident, name, "track", fader, pan, output, plays=["audio"], clips=prises(ident), inserts=list(inserts)
    )


def ride() -> dict[str, Any]:
    points = (
        (0.0, -4.0),
        (35.0, -4.0),
        (54.0, -3.4),
        (71.0, -4.2),
        (90.0, -3.6),
        (110.0, -4.0),
        (119.0, -4.8),
        (132.0, -5.0),
        (138.0, -5.5),
        (144.0, -5.0),
        (154.0, -4.6),
        (174.0, -3.8),
        (191.0, -4.8),
        (210.0, -5.6),
        (234.0, -5.0),
        (246.0, -3.8),
        (258.0, -3.8),
    )
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [sec(b) for b, _ in points],
        "v": [v for _, v in points],
    }


def channels() -> list[dict[str, Any]]:
    voix = tranche(
        "voix",
        "Voix",
        "track",
        -4.0,
        0.0,
        "sortie",
        plays=["audio"],
        clips=chant("voix"),
        inserts=[
            egaliseur(coupe_bas(75.0), cloche(270.0, -1.5, 1.2), cloche(3400.0, 1.0, 0.8)),
            dynamique("compressor", "Compresseur", -20.0, 2.0, 15.0, 160.0, 2.0),
            {"name": "Dé-esseur", "kind": "de-esser", "on": True, "opaque": True, "wet": 100.0},
        ],
        sends=[depart("rev_voix", -12.0), depart("rev_salle", -18.0)],
        automation=[ride()],
    )
    ruban = tranche(
        "ruban",
        "Voix ruban",
        "track",
        -4.0,
        0.0,
        "sortie",
        plays=["audio"],
        clips=chant("ruban"),
        comment="deuxième micro, non retenu",
    )
    ruban["mute"] = True
    annonces = tranche(
        "annonces",
        "Annonces",
        "track",
        -10.0,
        0.0,
        None,
        plays=["audio"],
        clips=[
            clip("annonces", 0.0, 2.6, 0.0, 0.0, 0.05),
            clip("annonces", sec(114.0), sec(114.0) + 3.2, 12.0, 0.0, 0.05),
        ],
    )
    return [
        voix,
        ruban,
        micro("pno_g", "Piano G", -8.0, -60.0, "piano", egaliseur(coupe_bas(35.0))),
        micro("pno_d", "Piano D", -8.0, 60.0, "piano", egaliseur(coupe_bas(35.0))),
        micro("vln1", "Vln 1", -11.0, -52.0, "cordes", egaliseur(coupe_bas(150.0), cloche(2800.0, -1.5, 1.0))),
        micro("vln2", "Vln 2", -11.5, -24.0, "cordes", egaliseur(coupe_bas(150.0), cloche(2800.0, -1.5, 1.0))),
        micro("alto", "Alto", -10.5, 24.0, "cordes", egaliseur(coupe_bas(100.0))),
        micro("vcl", "Vcl", -11.0, 50.0, "cordes", egaliseur(coupe_bas(50.0), cloche(160.0, -1.5, 1.1))),
        micro("cpl_g", "Couple G", -3.0, -100.0, "sortie", phase(False), egaliseur(coupe_bas(28.0))),
        micro("cpl_d", "Couple D", -3.0, 100.0, "sortie", phase(False), egaliseur(coupe_bas(28.0))),
        tranche("piano", "PIANO", "group", -1.0, 0.0, "sortie", 2, sends=[depart("rev_salle", -16.0)]),
        tranche(
            "cordes",
            "CORDES",
            "group",
            0.0,
            0.0,
            "sortie",
            2,
            sends=[depart("rev_salle", -13.0)],
            automation=[
                {
                    "target": "fader",
                    "scale": "dB",
                    "shape": "linear",
                    "t": [0.0, sec(153.0), sec(156.0), sec(189.0), sec(192.0)],
                    "v": [0.0, 0.0, 1.5, 1.5, 0.0],
                }
            ],
        ),
        tranche(
            "rev_voix",
            "Rev voix",
            "return",
            -6.0,
            0.0,
            "sortie",
            2,
            inserts=[reverb("Plaque douce", 28.0, 1.7), egaliseur(coupe_bas(220.0))],
        ),
        tranche(
            "rev_salle",
            "Rev salle",
            "return",
            -5.0,
            0.0,
            "sortie",
            2,
            inserts=[reverb("Grande salle", 20.0, 2.4), egaliseur(coupe_bas(120.0))],
        ),
        annonces,
        {
            "id": "sortie",
            "name": "SORTIE",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [dynamique("limiter", "Limiteur", -1.0, 100.0, 0.2, 120.0, 0.0)],
            "automation": [
                {"target": "fader", "scale": "dB", "shape": "linear", "t": [0.0, 268.5, 273.8], "v": [0.0, 0.0, -90.0]}
            ],
        },
    ]


def media() -> list[dict[str, Any]]:
    room = ("pno_g", "pno_d", "vln1", "vln2", "alto", "vcl", "cpl_g", "cpl_d")
    lengths: dict[str, float] = {f"{m}_p1": 131.2 for m in room} | {f"{m}_p2": 171.5 for m in room}
    for m in ("voix", "ruban"):
        lengths |= {f"{m}_p1": 131.2, f"{m}_p2": 171.5, f"{m}_p4": 47.0}
    lengths["annonces"] = 44.0
    return [
        {
            "id": m,
            "path": f"Audio/{m}.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": HZ,
            "duration_s": s,
        }
        for m, s in lengths.items()
    ]


def good() -> Session:
    """The session as it should be bounced."""
    marks = (
        (6.0, "Prélude"),
        (36.0, "Couplet 1"),
        (72.0, "Couplet 2"),
        (120.0, "Refrain 1"),
        (156.0, "Pont"),
        (192.0, "Refrain 2"),
        (252.0, "Postlude"),
        (264.0, "Dernier accord"),
        (FIN, "Fin"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "La fenêtre du bas",
        "sample_rate_hz": HZ,
        "timeline": {
            "tempos": [{"beat": b, "bpm": bpm} for b, bpm in CARTE],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [{"time_s": sec(b), "name": name} for b, name in marks],
        "channels": channels(),
        "media": media(),
        "metadata": {"titre": "La fenêtre du bas", "version": "mix 2"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def second_violin_up(session: Session) -> None:
    chan(session, "Vln 2")["clips"][1]["gain_db"] = 9.0


def voice_wanders_off(session: Session) -> None:
    chan(session, "Voix")["automation"].append(
        {"target": "pan", "scale": "pan", "shape": "hold", "t": [0.0, sec(192.0)], "v": [0.0, -38.0]}
    )


def pair_turned(session: Session) -> None:
    chan(session, "Couple D")["inserts"][0]["parameters"][0]["value"] = True


def pre_delay_a_nought_too_many(session: Session) -> None:
    chan(session, "Rev voix")["inserts"][0]["pre_delay_ms"] = 280.0


def hole_in_the_ride(session: Session) -> None:
    lane = chan(session, "Voix")["automation"][0]
    lane["v"][lane["t"].index(sec(138.0))] = -55.0


def cello_hole_at_the_cut(session: Session) -> None:
    chan(session, "Vcl")["clips"][0]["end_s"] = round(sec(COUPE) - 0.45, 4)


def faded_too_early(session: Session) -> None:
    chan(session, "SORTIE")["automation"][0]["t"] = [0.0, 248.5, 253.8]


def piano_left_on_both_sides(session: Session) -> None:
    chan(session, "Piano D")["clips"][1]["file"] = "pno_g_p2"


def solo_left_on(session: Session) -> None:
    chan(session, "Alto")["solo"] = True


def slate_to_the_output(session: Session) -> None:
    chan(session, "Annonces")["output"] = "sortie"


def voice_crushed(session: Session) -> None:
    chan(session, "Voix")["inserts"][1]["dynamics"]["threshold_db"] = -52.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Voix ruban"], "why": "the singer's second microphone, not chosen, muted"},
    {"channels": ["Annonces"], "why": "slate, declared to go nowhere, though it lies under the music"},
    {"channels": ["Voix"], "why": "straight to the output without a group, in two reverbs; one passage from take 4"},
    {"channels": ["Couple G", "Couple D"], "why": "the main pair is the loudest pair and dry: it has the room already"},
    {
        "channels": ["Vln 1", "Vln 2", "Alto", "Vcl"],
        "why": "seated from left to right as the main pair hears them; room microphones in the same takes",
    },
    {"channels": ["CORDES"], "why": "raised by a decibel and a half for the bridge and brought back"},
    {"channels": ["SORTIE"], "why": "the room is faded on the master after the last chord has rung out"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "second-violin-up",
        "class": "level",
        "channels": ["Vln 2"],
        "grade": "hold",
        "says": "Vln 2's take 2 clip has 9 dB of gain that no other microphone has: it jumps out from the refrain on.",
        "plant": second_violin_up,
    },
    {
        "id": "voice-wanders-off",
        "class": "place",
        "channels": ["Voix"],
        "grade": "hold",
        "says": "A stray pan move puts the singer 38 to the left at the second refrain and leaves her there.",
        "plant": voice_wanders_off,
    },
    {
        "id": "pair-turned",
        "class": "phase",
        "channels": ["Couple D", "Couple G"],
        "grade": "hold",
        "says": "Couple D is turned in polarity and Couple G is not: the main pair cancels in the middle.",
        "plant": pair_turned,
    },
    {
        "id": "pre-delay-280",
        "class": "ambience",
        "channels": ["Rev voix", "Voix"],
        "grade": "look",
        "says": "The voice reverb starts 280 ms late, like an echo; 28 was surely meant.",
        "plant": pre_delay_a_nought_too_many,
    },
    {
        "id": "hole-in-the-ride",
        "class": "automation",
        "channels": ["Voix"],
        "grade": "hold",
        "says": "One point of the singer's ride in refrain 1 stands at -55 instead of -5.5: she vanishes for seconds.",
        "plant": hole_in_the_ride,
    },
    {
        "id": "cello-hole",
        "class": "edits",
        "channels": ["Vcl"],
        "grade": "hold",
        "says": "Vcl's first take ends 0.4 s before the second begins, where all others crossfade: a hole at the refrain.",
        "plant": cello_hole_at_the_cut,
    },
    {
        "id": "faded-too-early",
        "class": "end",
        "channels": ["SORTIE"],
        "grade": "hold",
        "says": "The final fade is twenty seconds early: it takes the postlude down and the last chord at 4:20 is gone.",
        "plant": faded_too_early,
    },
    {
        "id": "piano-left-twice",
        "class": "files",
        "channels": ["Piano D", "Piano G"],
        "grade": "hold",
        "says": "From the refrain on Piano D plays the left microphone's file: the piano is mono, its right mic lost.",
        "plant": piano_left_on_both_sides,
    },
    {
        "id": "solo-left-on",
        "class": "inaudible",
        "channels": ["Alto"],
        "grade": "hold",
        "says": "Alto is still soloed: nothing else would be in the bounce.",
        "plant": solo_left_on,
    },
    {
        "id": "slate-to-output",
        "class": "audible-that-should-not-be",
        "channels": ["Annonces"],
        "grade": "hold",
        "says": "The slate goes to the output: it talks before the prelude and in the middle of the song.",
        "plant": slate_to_the_output,
    },
    {
        "id": "voice-crushed",
        "class": "processors",
        "channels": ["Voix"],
        "grade": "hold",
        "says": "The voice compressor's threshold is at -52 dBFS: it squeezes all she sings, down to every breath.",
        "plant": voice_crushed,
    },
]
