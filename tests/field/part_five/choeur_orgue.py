"""A short mass for choir and organ, recorded in a church over two evenings: a main pair, two outriggers, a spot on each
voice, one for the soprano soloist, a pair in the organ loft and a pair at the back of the nave. A French engineer who
edits all microphones at once over two takes a movement, delays the spots on to the main pair, opens the spot of the
soloist by hand for her one solo, and gives only the spots a touch of reverb. No click: the grid means nothing.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Obj = dict[str, Any]

RATE = 96000.0
XF = 0.06
SHUT = -200.0
SOLO_ON, SOLO_OFF = 262.0, 318.0
CHORD_OFF, END = 584.0, 594.0

# song time, file, position in the file; a part runs to the next one of its movement, else to the end given
MOVEMENTS: list[tuple[float, list[tuple[float, str, float]]]] = [
    (194.0, [(1.5, "t12", 9.0), (64.2, "t14", 70.4), (128.9, "t12", 136.4)]),
    (403.0, [(198.0, "t21", 6.0), (328.7, "t22", 135.3)]),
    (END, [(407.0, "t30", 5.5), (470.25, "t31", 66.9), (540.6, "t30", 139.6)]),
]
TAKES = {"t12": 215.0, "t14": 205.0, "t21": 224.0, "t22": 221.0, "t30": 204.0, "t31": 198.0}


def edit(stem: str) -> list[Obj]:
    """The edit list, the same on every microphone."""
    made: list[Obj] = []
    for stop, parts in MOVEMENTS:
        for n, (start, take, offset) in enumerate(parts):
            last = n + 1 == len(parts)
            end = stop if last else round(parts[n + 1][0] + XF, 6)
            fade = (4.0 if stop == END else 2.5) if last else XF
            made.append(
                {
                    "start_s": start,
                    "end_s": end,
                    "name": f"{stem} {take}",
                    "plays": "audio",
                    "file": f"{stem}_{take}",
                    "offset_s": offset,
                    "speed": 1.0,
                    "fade_in_s": XF if n else 0.4,
                    "fade_out_s": fade,
                    "gain_db": 0.0,
                },
            )
    return made


def trim() -> Obj:
    return {
        "name": "Entrée",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "gain", "name": "Gain", "value": 0.0, "unit": "dB"},
            {"id": "pol", "name": "Inversion de polarité", "value": False},
        ],
    }


def lag(milliseconds: float) -> Obj:
    return {
        "name": "Retard calage",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": "time", "name": "Retard", "value": milliseconds, "unit": "ms"}],
    }


def eq(*bands: tuple[str, float, float]) -> Obj:
    """Bands as (kind, frequency, gain); for the cuts the third number is the slope."""
    listed: list[Obj] = []
    for kind, freq, third in bands:
        key = "slope_db_per_oct" if kind in ("high-pass", "low-pass") else "gain_db"
        listed.append({"kind": kind, "freq_hz": freq, "q": 0.7, key: third})
    return {"name": "Égaliseur", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": listed}}


def send(to: str, level: float) -> Obj:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def auto(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Obj:
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def mic(cid: str, name: str, stem: str, fader: float, pan: float, out: str, *after: Obj, **more: Any) -> Obj:
    return {
        "id": cid,
        "name": name,
        "kind": "track",
        "legs": 1,
        "plays": ["audio"],
        "fader_db": fader,
        "pan": pan,
        "output": out,
        "parent": out,
        "inserts": [trim(), *after],
        "clips": edit(stem),
        **more,
    }


def bus(cid: str, name: str, kind: str, fader: float, out: str | None, *inserts: Obj, **more: Any) -> Obj:
    return {
        "id": cid,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "output": out,
        "inserts": list(inserts),
        **more,
    }


def mics() -> list[Obj]:
    rumble = ("high-pass", 28.0, 12.0)
    voice = ("high-pass", 80.0, 12.0)
    solo = auto(
        "fader",
        "dB",
        "linear",
        (0.0, SHUT),
        (SOLO_ON - 1.5, SHUT),
        (SOLO_ON - 1.4, -50.0),
        (SOLO_ON - 0.3, -12.0),
        (SOLO_OFF, -12.0),
        (SOLO_OFF + 2.0, -50.0),
        (SOLO_OFF + 2.1, SHUT),
    )
    return [
        mic("c1", "Couple G", "couple_g", -2.0, -100.0, "salle", eq(rumble)),
        mic("c2", "Couple D", "couple_d", -2.0, 100.0, "salle", eq(rumble)),
        mic("c3", "Ext G", "ext_g", -9.0, -100.0, "salle", eq(rumble)),
        mic("c4", "Ext D", "ext_d", -9.0, 100.0, "salle", eq(rumble)),
        mic("c5", "App Sop", "app_sop", -14.0, -45.0, "choeur", eq(voice), lag(19.4), sends=[send("rev", -16.0)]),
        mic("c6", "App Alt", "app_alt", -13.5, -16.0, "choeur", eq(voice), lag(17.8), sends=[send("rev", -16.0)]),
        mic("c7", "App Ten", "app_ten", -13.0, 16.0, "choeur", eq(voice), lag(18.1), sends=[send("rev", -16.0)]),
        mic("c8", "App Bas", "app_bas", -13.0, 45.0, "choeur", eq(voice), lag(19.9), sends=[send("rev", -16.0)]),
        mic(
            "c9",
            "App solo",
            "app_solo",
            -12.0,
            -8.0,
            "choeur",
            eq(("high-pass", 110.0, 12.0)),
            lag(16.2),
            sends=[send("rev", -12.0)],
            automation=[solo],
            comment="ouvert seulement pour le solo du Sanctus",
        ),
        mic(
            "c10",
            "App solo bis",
            "app_solo_bis",
            -12.0,
            -8.0,
            "choeur",
            lag(16.2),
            mute=True,
            comment="autre micro du solo, pas retenu",
        ),
        mic("c11", "Orgue G", "orgue_g", -6.0, -75.0, "orgue", eq(rumble), lag(52.0)),
        mic("c12", "Orgue D", "orgue_d", -6.0, 75.0, "orgue", eq(rumble), lag(52.0)),
        mic("c13", "Nef G", "nef_g", -16.0, -100.0, "salle", eq(("high-pass", 60.0, 12.0))),
        mic("c14", "Nef D", "nef_d", -16.0, 100.0, "salle", eq(("high-pass", 60.0, 12.0))),
        {
            "id": "c15",
            "name": "Ordres",
            "kind": "track",
            "legs": 1,
            "plays": ["audio"],
            "fader_db": -6.0,
            "pan": 0.0,
            "output": None,
            "clips": edit("ordres"),
            "comment": "micro d'ordres, annonces de prises; ne sort pas",
        },
    ]


def desk() -> list[Obj]:
    reverb = {
        "name": "Grande salle",
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": 28.0,
        "parameters": [{"id": "decay", "name": "Durée", "value": 3.4, "unit": "s"}],
    }
    limiter = {
        "name": "Sécurité",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": -1.0,
            "ratio": 100.0,
            "attack_ms": 1.0,
            "release_ms": 120.0,
            "output_gain_db": 0.0,
            "auto_makeup": False,
        },
    }
    fade = auto("fader", "dB", "linear", (0.0, 0.0), (588.5, 0.0), (593.5, -60.0), (END, SHUT))
    return [
        bus("salle", "Salle", "group", 0.0, "sortie"),
        bus("choeur", "Choeur", "group", 0.0, "sortie", eq(("high-shelf", 8000.0, 1.0))),
        bus("orgue", "Orgue bus", "group", -3.0, "sortie"),
        bus("rev", "Réverb", "return", -6.0, "sortie", eq(("high-pass", 160.0, 12.0)), reverb),
        bus("sortie", "Sortie", "master", 0.0, None, limiter, automation=[fade]),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = mics() + desk()
    stems = list(dict.fromkeys(str(c["file"]) for ch in channels for c in ch.get("clips", [])))
    names = [
        (1.5, "Kyrie"),
        (194.0, "fin Kyrie"),
        (198.0, "Sanctus"),
        (SOLO_ON, "entrée solo"),
        (SOLO_OFF, "fin solo"),
        (403.0, "fin Sanctus"),
        (407.0, "Agnus"),
        (CHORD_OFF, "fin du dernier accord"),
        (END, "fin"),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Petite messe, montage 3",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 120.0}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": t, "name": n} for t, n in names],
        "channels": channels,
        "media": [
            {
                "id": s,
                "path": f"sons/{s}.wav",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": TAKES[s.rsplit("_", 1)[1]],
            }
            for s in stems
        ],
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    """The channel of that name."""
    return next(ch for ch in session["channels"] if ch["name"] == name)


def outrigger_inside(session: Session) -> None:
    """10 typed for 100."""
    chan(session, "Ext D")["pan"] = 10.0


def pair_polarity(session: Session) -> None:
    chan(session, "Couple D")["inserts"][0]["parameters"][1]["value"] = True


def one_mic_not_edited(session: Session) -> None:
    """The second part of the Kyrie still runs on in the first take on one spot."""
    first, second = chan(session, "App Alt")["clips"][:2]
    second["file"], second["name"] = first["file"], first["name"]
    second["offset_s"] = round(first["offset_s"] + second["start_s"] - first["start_s"], 6)


def fade_too_early(session: Session) -> None:
    """The fade of the first montage, whose end lay ten seconds earlier."""
    fade = chan(session, "Sortie")["automation"][0]
    fade["t"][1:] = [t - 10.0 for t in fade["t"][1:]]


def organ_half_rate(session: Session) -> None:
    next(m for m in session["media"] if m["id"] == "orgue_d_t31")["sample_rate_hz"] = 48000.0


def no_name(session: Session) -> None:
    chan(session, "App Ten")["name"] = "Audio_07"


def soprano_drowned(session: Session) -> None:
    """A decimal point: -1.6 for -16."""
    chan(session, "App Sop")["sends"][0]["level_db"] = -1.6


def talkback_out(session: Session) -> None:
    chan(session, "Ordres")["output"] = "sortie"


def solo_late(session: Session) -> None:
    """The opening of the solo spot slipped by fourteen seconds."""
    ride = chan(session, "App solo")["automation"][0]
    ride["t"][1:4] = [t + 14.0 for t in ride["t"][1:4]]


def pair_lopsided(session: Session) -> None:
    chan(session, "Couple G")["fader_db"] = -8.0


def organ_twice(session: Session) -> None:
    chan(session, "Orgue bus")["sends"] = [send("sortie", 0.0)]


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["App solo bis", "App solo"], "why": "muted on purpose: the soloist's other microphone, not chosen"},
    {"channels": ["Ordres"], "why": "talkback, declared to go nowhere"},
    {"channels": ["App solo"], "why": "shut but for the solo, a little left of the middle where she stood"},
    {"channels": ["Orgue G", "Orgue D"], "why": "not quite to the sides: the loft is narrow"},
    {
        "channels": ["Couple G", "Couple D", "Nef G", "Nef D"],
        "why": "four seconds of digital silence between the movements, asked for; room tone would be a matter of taste",
    },
    {
        "channels": ["App Sop", "App Alt", "App Ten", "App Bas"],
        "why": "the same source as the main pair: spots, delayed to it",
    },
    {
        "channels": ["Sortie"],
        "why": "fader fade over the fades of the clips: both after the chord, in the last of the hall",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "outrigger-inside",
        "class": "place",
        "channels": ["Ext D", "Ext G"],
        "grade": "hold",
        "says": "The right outrigger is panned to 10 instead of 100, its partner stands hard left.",
        "plant": outrigger_inside,
    },
    {
        "id": "pair-polarity",
        "class": "phase",
        "channels": ["Couple D", "Couple G"],
        "grade": "hold",
        "says": "The polarity of the right main microphone is inverted, the left is not: the image falls apart.",
        "plant": pair_polarity,
    },
    {
        "id": "one-mic-not-edited",
        "class": "edits",
        "channels": ["App Alt"],
        "grade": "hold",
        "says": "From 64 s to 129 s the alto spot plays take 12 while all other microphones play take 14.",
        "plant": one_mic_not_edited,
    },
    {
        "id": "fade-too-early",
        "class": "end",
        "channels": ["Sortie"],
        "grade": "hold",
        "says": "The last fade begins during the final chord and is shut when the chord ends; the hall is cut off.",
        "plant": fade_too_early,
    },
    {
        "id": "organ-half-rate",
        "class": "files",
        "channels": ["Orgue D", "Orgue G"],
        "grade": "look",
        "says": "The file of Orgue D in take 31 is at 48 kHz in a 96 kHz session, its partner is at 96 kHz.",
        "plant": organ_half_rate,
    },
    {
        "id": "no-name",
        "class": "hand-over",
        "channels": ["App Ten"],
        "grade": "note",
        "says": "The tenor spot is called Audio_07; name it before the session goes out.",
        "plant": no_name,
    },
    {
        "id": "soprano-drowned",
        "class": "ambience",
        "channels": ["App Sop", "Réverb"],
        "grade": "hold",
        "says": "The soprano spot sends to the reverb at -1.6 dB, the other voices at -16.",
        "plant": soprano_drowned,
    },
    {
        "id": "talkback-out",
        "class": "audible-that-should-not-be",
        "channels": ["Ordres"],
        "grade": "hold",
        "says": "The talkback microphone goes to the main output and would be heard.",
        "plant": talkback_out,
    },
    {
        "id": "solo-late",
        "class": "automation",
        "channels": ["App solo"],
        "grade": "look",
        "says": "The soloist's spot opens fourteen seconds after the marker of her entry.",
        "plant": solo_late,
    },
    {
        "id": "pair-lopsided",
        "class": "level",
        "channels": ["Couple G", "Couple D"],
        "grade": "hold",
        "says": "The left main microphone is 6 dB under the right one.",
        "plant": pair_lopsided,
    },
    {
        "id": "organ-twice",
        "class": "twice",
        "channels": ["Orgue bus", "Sortie"],
        "grade": "hold",
        "says": "The organ bus reaches the output twice, by its output and by a send at unity: 6 dB too loud.",
        "plant": organ_twice,
    },
]
