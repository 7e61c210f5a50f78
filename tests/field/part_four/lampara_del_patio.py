"""La lampara del patio, a waltz by a singer at the piano and a cellist, cut as a demo in one afternoon: two piano
mics, the cello by microphone and pick-up, a second voice sung by the cellist, and sampled bells in the choruses. A
small Spanish-named session, no groups; one plate for all, the click muted at the end of the desk, the slowing at
the close in two tempo steps. The lead is put together from two takes, with a rejected chorus left switched off
underneath."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Dict = dict[str, Any]

RATE = 44100
LONG = 170.0  # each take was recorded from zero to here
STEPS: list[tuple[int, float]] = [(1, 92.0), (79, 84.0), (81, 72.0)]  # bar, bpm
SECTIONS: list[tuple[int, str]] = [
    (1, "cuenta"),
    (3, "intro"),
    (11, "estrofa 1"),
    (27, "estribillo 1"),
    (43, "estrofa 2"),
    (59, "estribillo 2"),
    (75, "coda"),
    (83, "resonancia"),
]
BELLS: list[tuple[int, int]] = [(27, 43), (59, 75)]


def when(bar: int, steps: list[tuple[int, float]] | None = None) -> float:
    """The start of a bar (three beats each) in seconds under a map of tempo steps."""
    at, left = 0.0, bar
    steps = STEPS if steps is None else steps
    for number, (first, bpm) in enumerate(steps):
        last = steps[number + 1][0] if number + 1 < len(steps) else left
        at += max(0, min(last, left) - first) * 180.0 / bpm
    return round(at, 4)


def tempos(steps: list[tuple[int, float]]) -> list[Dict]:
    return [{"beat": (bar - 1) * 3.0, "bpm": bpm} for bar, bpm in steps]


def clip(
    name: str, file: str, start: float, end: float, fade_in: float = 0.02, fade_out: float = 0.02, on: bool = True
) -> Dict:
    start, end = round(start, 4), round(end, 4)
    return {
        "start_s": start,
        "end_s": end,
        "name": name,
        "file": file,
        "offset_s": start,
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": 0.0,
        "on": on,
    }


def bells(steps: list[tuple[int, float]]) -> list[Dict]:
    return [
        {
            "start_s": when(first, steps),
            "end_s": when(last, steps),
            "name": f"campanas {number}",
            "plays": "notes",
            "fade_in_s": 0.0,
            "fade_out_s": 0.0,
        }
        for number, (first, last) in enumerate(BELLS, 1)
    ]


def eq(*bands: tuple[str, float, float]) -> Dict:
    return {
        "name": "Ecualizador",
        "kind": "equalizer",
        "opaque": False,
        "equalizer": {
            "bands": [
                {
                    "kind": kind,
                    "freq_hz": freq,
                    "gain_db": gain,
                    "q": 0.8,
                    **({"slope_db_per_oct": 12.0} if kind == "high-pass" else {}),
                }
                for kind, freq, gain in bands
            ]
        },
    }


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float, kind: str = "compressor") -> Dict:
    return {
        "name": "Limitador" if kind == "limiter" else "Compresor",
        "kind": kind,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }


def plate(level: float) -> Dict:
    return {"to": "placa", "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(target: str, points: list[tuple[float, float]]) -> Dict:
    return {
        "target": target,
        "scale": "dB",
        "shape": "linear",
        "t": [round(t, 4) for t, _ in points],
        "v": [v for _, v in points],
    }


def cello_ride(level: float) -> Dict:
    """Both ways of the cello step back together under the second verse."""
    down, up = when(43), when(59)
    return ride("fader", [(0.0, level), (down - 0.6, level), (down, level - 3.0), (up - 0.6, level - 3.0), (up, level)])


def strip(cid: str, name: str, kind: str, fader: float, pan: float = 0.0, legs: int = 1, **more: Any) -> Dict:
    return {
        "id": cid,
        "name": name,
        "kind": kind,
        "output": "mezcla",
        "fader_db": fader,
        "pan": pan,
        "legs": legs,
        "plays": ["audio"] if kind == "track" else [],
        "mute": False,
        "solo": False,
        **more,
    }


def channels() -> list[Dict]:
    breath = 0.45
    cuts = [when(bar) - breath for bar in (11, 27, 43, 59)]
    coda = when(83) + 0.3
    close = when(83) + 4.0
    harmony = [
        clip(f"2a voz {number}", "segunda", when(first) - 0.3, when(last) + 0.5, 0.03, 0.1)
        for number, (first, last) in enumerate(BELLS, 1)
    ]
    return [
        strip(
            "voz",
            "Voz",
            "track",
            -5.0,
            sends=[plate(-14.0)],
            clips=[
                clip("toma 2", "voz2", cuts[0], cuts[1]),
                clip("toma 3", "voz3", cuts[1], cuts[2]),
                clip("toma 2 estribillo, no", "voz2", cuts[1], cuts[2], on=False),
                clip("toma 2", "voz2", cuts[2], cuts[3]),
                clip("toma 3", "voz3", cuts[3], coda, 0.02, 0.3),
            ],
            inserts=[eq(("high-pass", 85.0, 0.0), ("bell", 280.0, -2.0)), comp(-20.0, 2.5, 12.0, 120.0, 2.0)],
            automation=[
                ride(
                    "fader",
                    [
                        (0.0, -5.0),
                        (cuts[1], -5.0),
                        (cuts[1] + 0.4, -4.0),
                        (cuts[2], -4.0),
                        (cuts[2] + 0.4, -5.0),
                        (cuts[3], -5.0),
                        (cuts[3] + 0.4, -3.8),
                        (when(75), -3.8),
                        (when(76), -5.0),
                    ],
                )
            ],
        ),
        strip(
            "voz2a",
            "2a voz",
            "track",
            -12.0,
            -25.0,
            sends=[plate(-11.0)],
            clips=harmony,
            inserts=[eq(("high-pass", 130.0, 0.0)), comp(-22.0, 3.0, 10.0, 120.0, 2.0)],
        ),
        strip(
            "pgr",
            "Piano graves",
            "track",
            -8.0,
            -55.0,
            sends=[plate(-18.0)],
            clips=[clip("piano graves", "pgraves", when(3) - 0.1, close, 0.05, 2.0)],
            inserts=[eq(("high-pass", 35.0, 0.0))],
        ),
        strip(
            "pag",
            "Piano agudos",
            "track",
            -8.0,
            55.0,
            sends=[plate(-18.0)],
            clips=[clip("piano agudos", "pagudos", when(3) - 0.1, close, 0.05, 2.0)],
            inserts=[eq(("high-pass", 35.0, 0.0))],
        ),
        strip(
            "chm",
            "Chelo mic",
            "track",
            -7.0,
            15.0,
            sends=[plate(-13.0)],
            clips=[clip("chelo mic", "chelomic", when(19) - 0.2, close - 0.5, 0.05, 1.5)],
            inserts=[eq(("high-pass", 50.0, 0.0), ("bell", 220.0, -1.5))],
            automation=[cello_ride(-7.0)],
        ),
        strip(
            "chl",
            "Chelo linea",
            "track",
            -15.0,
            15.0,
            clips=[clip("chelo linea", "chelolin", when(19) - 0.2, close - 0.5, 0.05, 1.5)],
            inserts=[
                {
                    "name": "Fase",
                    "kind": "utility",
                    "opaque": False,
                    "parameters": [
                        {"id": "invert", "name": "Invertir polaridad", "value": False},
                        {"id": "delay", "name": "Retardo", "value": 2.0, "unit": "ms"},
                    ],
                },
                eq(("high-pass", 50.0, 0.0), ("high-shelf", 5000.0, -4.0)),
            ],
            automation=[cello_ride(-15.0)],
        ),
        strip(
            "camp",
            "Campanas",
            "track",
            -16.0,
            legs=2,
            plays=["notes"],
            sends=[plate(-12.0)],
            clips=bells(STEPS),
            inserts=[{"name": "Campanas muestreadas", "kind": "instrument"}],
        ),
        strip(
            "placa",
            "Placa",
            "return",
            -3.0,
            legs=2,
            inserts=[
                {
                    "name": "Placa",
                    "kind": "reverb",
                    "opaque": False,
                    "wet": 100.0,
                    "pre_delay_ms": 20.0,
                    "parameters": [{"id": "decay", "name": "Caida", "value": 2.1, "unit": "s"}],
                },
                eq(("high-pass", 180.0, 0.0)),
            ],
        ),
        strip(
            "click",
            "Claqueta",
            "track",
            -10.0,
            mute=True,
            comment="solo para grabar",
            clips=[clip("claqueta", "claq", 0.0, when(83), 0.0, 0.0)],
        ),
        {
            **strip("mezcla", "Mezcla", "master", 0.0, legs=2, inserts=[comp(-1.0, 100.0, 0.5, 100.0, 0.0, "limiter")]),
            "output": None,
        },
    ]


def good() -> Session:
    """The session as it should be bounced."""
    files = {
        "voz2": "voz toma 2",
        "voz3": "voz toma 3",
        "segunda": "segunda voz",
        "pgraves": "piano graves",
        "pagudos": "piano agudos",
        "chelomic": "chelo mic",
        "chelolin": "chelo linea",
        "claq": "claqueta",
    }
    return {
        "format": "mixlint-session/1",
        "title": "La lampara del patio (maqueta)",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": tempos(STEPS), "meters": [{"beat": 0.0, "beats": 3, "unit": 4}]},
        "markers": [{"time_s": when(bar), "name": name} for bar, name in SECTIONS]
        + [{"time_s": round(when(83) + 5.5, 4), "name": "fin"}],
        "channels": channels(),
        "media": [
            {
                "id": key,
                "path": f"audio/{name}.wav",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": LONG,
            }
            for key, name in files.items()
        ],
        "metadata": {"title": "La lampara del patio", "artist": "Duo Almagre Dos"},
    }


def chan(session: Session, name: str) -> Dict:
    return next(one for one in session["channels"] if one["name"] == name)


def line_left(session: Session) -> None:
    chan(session, "Chelo linea")["pan"] = -15.0


def voice_drowned(session: Session) -> None:
    chan(session, "Voz")["sends"][0]["level_db"] = 14.0


def low_mic_down(session: Session) -> None:
    chan(session, "Piano graves")["fader_db"] = -18.0


def point_lost(session: Session) -> None:
    fader = chan(session, "Chelo mic")["automation"][0]
    del fader["t"][1], fader["v"][1]


def bells_into_plate(session: Session) -> None:
    chan(session, "Campanas")["output"] = "placa"


def old_chorus_on(session: Session) -> None:
    chan(session, "Voz")["clips"][2]["on"] = True


def click_live(session: Session) -> None:
    chan(session, "Claqueta")["mute"] = False


def line_inverted(session: Session) -> None:
    chan(session, "Chelo linea")["inserts"][0]["parameters"][0]["value"] = True


def line_other_rate(session: Session) -> None:
    next(one for one in session["media"] if one["id"] == "chelolin")["sample_rate_hz"] = 48000


def stray_tempo(session: Session) -> None:
    """What is tied to bars moves with the new step (bells, markers); what was recorded stays."""
    steps = [STEPS[0], (43, 96.0), *STEPS[1:]]
    session["timeline"]["tempos"] = tempos(steps)
    chan(session, "Campanas")["clips"] = bells(steps)
    for marker, (bar, _) in zip(session["markers"], SECTIONS, strict=False):
        marker["time_s"] = when(bar, steps)
    session["markers"][-1]["time_s"] = round(when(83, steps) + 5.5, 4)


def top_mic_short(session: Session) -> None:
    last = chan(session, "Piano agudos")["clips"][0]
    last["end_s"], last["fade_out_s"] = when(82), 0.0


ACCEPTED: list[Dict] = [
    {
        "channels": ["2a voz"],
        "why": "the cellist sings a little left with no partner on the right: there is only one of her",
    },
    {
        "channels": ["Chelo mic", "Chelo linea"],
        "why": "the cello sits a little right of the middle, as she sat in the room",
    },
    {
        "channels": ["Chelo linea"],
        "why": "no send of its own: the pick-up stays dry under the mic, delayed by 2 ms to meet it",
    },
    {"channels": ["Claqueta"], "why": "click muted, still pointed at the mix bus"},
    {"channels": ["Voz"], "why": "a rejected chorus lies switched off under the chosen one"},
    {"channels": ["Campanas"], "why": "not printed: still an instrument playing notes, in a demo"},
]

FAULTS: list[Dict] = [
    {
        "id": "chelo-linea-izq",
        "class": "place",
        "channels": ["Chelo linea", "Chelo mic"],
        "grade": "look",
        "says": "The cello's pick-up is 15 left and its microphone 15 right: one cello in two places.",
        "plant": line_left,
    },
    {
        "id": "voz-ahogada",
        "class": "ambience",
        "channels": ["Voz", "Placa"],
        "grade": "hold",
        "says": "Voz sends to the plate at +14 dB where -14 was surely meant: the voice drowns in reverb.",
        "plant": voice_drowned,
    },
    {
        "id": "piano-cojo",
        "class": "level",
        "channels": ["Piano graves", "Piano agudos"],
        "grade": "hold",
        "says": "Piano graves is 10 dB under Piano agudos: the piano leans right and has lost its low strings.",
        "plant": low_mic_down,
    },
    {
        "id": "punto-perdido",
        "class": "automation",
        "channels": ["Chelo mic", "Chelo linea"],
        "grade": "look",
        "says": "Chelo mic slides down slowly from the very start to verse two, where Chelo linea keeps its level till"
        " just before the verse: a point is missing.",
        "plant": point_lost,
    },
    {
        "id": "campanas-a-placa",
        "class": "routing",
        "channels": ["Campanas", "Placa"],
        "grade": "hold",
        "says": "Campanas goes out into Placa and not to Mezcla: no dry bells are left, only plate.",
        "plant": bells_into_plate,
    },
    {
        "id": "estribillo-doble",
        "class": "twice",
        "channels": ["Voz"],
        "grade": "hold",
        "says": "In the first chorus the rejected take 2 is switched on under take 3: the lead sings twice at once.",
        "plant": old_chorus_on,
    },
    {
        "id": "claqueta-abierta",
        "class": "audible",
        "channels": ["Claqueta"],
        "grade": "hold",
        "says": "The click is unmuted and goes to the mix bus.",
        "plant": click_live,
    },
    {
        "id": "linea-invertida",
        "class": "phase",
        "channels": ["Chelo linea", "Chelo mic"],
        "grade": "hold",
        "says": "The polarity of Chelo linea is inverted against Chelo mic: the cello goes thin.",
        "plant": line_inverted,
    },
    {
        "id": "linea-a-48",
        "class": "files",
        "channels": ["Chelo linea"],
        "grade": "look",
        "says": "The file of Chelo linea is at 48 kHz in a 44.1 kHz session and plays at plain speed: is it converted, or"
        " does it run low and slow?",
        "plant": line_other_rate,
    },
    {
        "id": "tempo-suelto",
        "class": "tempo",
        "channels": ["Campanas"],
        "grade": "hold",
        "says": "A step to 96 bpm has got in at bar 43: the bells and the markers after it run ahead of everything"
        " recorded.",
        "plant": stray_tempo,
    },
    {
        "id": "piano-cortado",
        "class": "end",
        "channels": ["Piano agudos", "Piano graves"],
        "grade": "hold",
        "says": "The clip of Piano agudos breaks off at bar 82 without a fade, 6.5 s before Piano graves: half the close"
        " is gone.",
        "plant": top_mic_short,
    },
]
