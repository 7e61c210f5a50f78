"""Wianek z olszyny: a village band of ten (accordion, two fiddles, two guitars, folk bass, frame drum, voices), live.

Recorded in a parish hall in one evening at 96 kHz, everybody in a half circle round a main pair with outriggers, and a
spot microphone for each. No click; the tempo map was tapped afterwards. Three passages from two takes were edited
together, all microphones cut at the same two places. The spots are delayed to the main pair and only lean on it; a
little artificial hall is fed from the spots alone. The voices' and the drum's spots are open only where they are
needed. The engineer works in Polish and writes everybody's seat in the comment.
"""

from __future__ import annotations

from copy import deepcopy
from typing import Any

Session = dict[str, Any]
Span = tuple[float, float, float, float]

RATE = 96000.0
# section: (marker, first bar, the tempo tapped from there on)
SECTIONS: dict[str, tuple[str, int, float]] = {
    "W": ("Wstęp", 3, 132.0),
    "Z1": ("Zwrotka 1", 11, 130.0),
    "PRZ": ("Przygrywka (skrzypce)", 35, 134.0),
    "Z2": ("Zwrotka 2", 51, 131.0),
    "SOLO": ("Solo akordeonu", 75, 136.0),
    "Z3": ("Zwrotka 3", 91, 132.0),
    "OB": ("Oberek, wszyscy", 115, 150.0),
    "KON": ("Koniec", 147, 150.0),
}
XF = 0.03
TAIL = 4.5
# the edit: take, section where it comes in, seconds by which its recording runs ahead of the session
EDIT: list[tuple[str, str, float]] = [("p2", "W", 3.2), ("p3", "Z2", 5.48), ("p2", "Z3", 1.87)]
LENGTHS = {"p2": 231.36, "p3": 228.9}


def at(section: str) -> float:
    """Seconds at which a section begins, three quarters a bar, under the tapped tempi."""
    first, bpm, seconds = 1, SECTIONS["W"][2], 0.0
    for name, (_, number, tapped) in SECTIONS.items():
        seconds += (number - first) * 3 * 60.0 / bpm
        first, bpm = number, tapped
        if name == section:
            break
    return round(seconds, 6)


def tempos() -> list[Session]:
    """The tapped tempo map; the two bars before the music run like its beginning."""
    return [
        {"beat": 0.0 if name == "W" else (number - 1) * 3.0, "bpm": bpm}
        for name, (_, number, bpm) in SECTIONS.items()
        if name != "KON"
    ]


def piece(stem: str, part: tuple[str, float], bounds: tuple[float, float], fades: tuple[float, float]) -> Session:
    """A clip of one take (its name, and how far it runs ahead)."""
    return {
        "start_s": round(bounds[0], 6),
        "end_s": round(bounds[1], 6),
        "name": f"{stem}_{part[0]}",
        "plays": "audio",
        "file": f"{stem}_{part[0]}",
        "offset_s": round(bounds[0] + part[1], 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def cut(stem: str, spans: list[Span]) -> list[Session]:
    """Stretches (start, end, fade in, fade out) of the edited recording, split where the edit changes the take."""
    clips = []
    for start, end, fade_in, fade_out in spans:
        for n, (take, section, ahead) in enumerate(EDIT):
            comes = at(section) if n else 0.0
            goes = at(EDIT[n + 1][1]) if n + 1 < len(EDIT) else end
            if comes >= end or goes <= start:
                continue
            first, last = comes <= start, goes >= end
            bounds = (start if first else comes - XF, end if last else goes)
            clips.append(piece(stem, (take, ahead), bounds, (fade_in if first else XF, fade_out if last else XF)))
    return clips


def whole() -> list[Span]:
    """From the first breath to the end of the hall's sound."""
    return [(at("W") - 0.6, at("KON") + TAIL, 0.3, 3.5)]


def sung() -> list[Span]:
    """The verses and the dance."""
    spans = [(at(a) - 0.4, at(b) + 0.5, 0.25, 0.3) for a, b in (("Z1", "PRZ"), ("Z2", "SOLO"))]
    return [*spans, (at("Z3") - 0.4, at("KON") + TAIL, 0.25, 3.5)]


def drummed() -> list[Span]:
    """Where the frame drum plays."""
    spans = [(at(a) - 0.3, at(b) + 0.4, 0.1, 0.3) for a, b in (("PRZ", "Z2"), ("SOLO", "Z3"))]
    return [*spans, (at("OB") - 0.3, at("KON") + TAIL, 0.1, 3.5)]


def param(ident: str, value: Any, unit: str = "") -> Session:
    """A listed parameter."""
    return {"id": ident, "name": ident, "value": value, "unit": unit}


def fx(kind: str, name: str, *params: Session, **more: Any) -> Session:
    """A processor with its listed parameters."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": list(params), **more}


def eq(low_cut: float, *bells: tuple[float, float]) -> Session:
    """A low cut and bells (frequency, gain)."""
    bands: list[Session] = [{"kind": "high-pass", "freq_hz": low_cut, "slope_db_per_oct": 12.0, "on": True}]
    bands += [{"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": 1.0, "on": True} for freq, gain in bells]
    return {"name": "Korektor", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": bands}}


def dyn(kind: str, name: str, settings: tuple[float, float, float, float], gain: float) -> Session:
    """Dynamics: threshold, ratio, attack, release, and the gain after it."""
    keys = ("threshold_db", "ratio", "attack_ms", "release_ms")
    body: Session = {**dict(zip(keys, settings, strict=True)), "output_gain_db": gain, "auto_makeup": False}
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": body}


def late(milliseconds: float) -> Session:
    """The delay that brings a spot to the main pair."""
    return fx("utility", "Opóźnienie do pary", param("czas", milliseconds, "ms"))


def denoise() -> Session:
    """The gentle noise reduction for the hall microphones (the heating)."""
    return fx("restoration", "Odszumianie", param("redukcja", 5.0, "dB"), param("odsłuch", "sygnał"))


def send(level: float) -> Session:
    """A send to the hall reverb, after the fader."""
    return {"to": "poglos", "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def lift(base: float, section: str, until: str, gain: float) -> Session:
    """A fader ride that lifts one passage."""
    start, end = at(section), at(until)
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [0.0, round(start - 0.8, 6), start, round(end - 0.8, 6), end],
        "v": [base, base, round(base + gain, 2), round(base + gain, 2), base],
    }


def strip(ident: str, name: str, kind: str, place: tuple[int, float, float], out: str, **more: Any) -> Session:
    """A channel; ``place`` is its legs, fader and pan."""
    made: Session = {"id": ident, "name": name, "kind": kind, "output": out}
    made.update({"legs": place[0], "fader_db": place[1], "pan": place[2], "mute": False, "solo": False})
    if kind == "track":
        made["plays"] = ["audio"]
    return deepcopy({**made, **more})


def hall() -> list[Session]:
    """The main pair and the outriggers."""
    rows = [
        ("gl_l", "Główne L", -3.0, -100.0, "para główna, 2,6 m nad estradą"),
        ("gl_p", "Główne P", -3.0, 100.0, "para główna"),
        ("fl_l", "Flanka L", -12.0, -100.0, "brzeg estrady, lewa"),
        ("fl_p", "Flanka P", -12.0, 100.0, "brzeg estrady, prawa"),
    ]
    return [
        strip(
            ident, name, "track", (1, fader, pan), "sala",
            comment=note, inserts=[denoise(), eq(32.0)], clips=cut(ident, whole()),
        )
        for ident, name, fader, pan, note in rows
    ]  # fmt: skip


def spot(
    ident: str, name: str, place: tuple[float, float], chain: list[Session], ambience: float, note: str, **more: Any
) -> Session:
    """A spot of the band: fader and pan, processors, level to the reverb, seat."""
    body: Session = {"comment": note, "inserts": chain, "sends": [send(ambience)], "clips": cut(ident, whole()), **more}
    return strip(ident, name, "track", (1, *place), "kapela", **body)


def band() -> list[Session]:
    """The spots of the instruments, from the left to the right of the half circle where it matters."""
    return [
        spot("ak_d", "Akordeon dysk.", (-13.0, 24.0), [late(9.4), eq(120.0, (2800.0, -1.5))], -16.0,
             "prawa środek. strona dyskantu", automation=[lift(-13.0, "SOLO", "Z3", 3.0)]),
        spot("ak_b", "Akordeon bas", (-15.5, 34.0), [late(9.6), eq(60.0, (250.0, -2.0))], -18.0,
             "prawa środek, strona basów", automation=[lift(-15.5, "SOLO", "Z3", 1.5)]),
        spot("skrz1", "Skrzypce 1", (-12.5, -42.0), [late(8.1), eq(180.0, (3100.0, -2.0))], -14.0,
             "lewa, bliżej środka", automation=[lift(-12.5, "PRZ", "Z2", 3.0)]),
        spot("skrz2", "Skrzypce 2", (-13.0, -60.0), [late(8.7), eq(180.0, (3100.0, -2.0))], -14.0,
             "lewa, drugie od brzegu", automation=[lift(-13.0, "PRZ", "Z2", 1.5)]),
        spot("git1", "Gitara 1", (-15.0, -78.0), [late(10.2), eq(90.0, (200.0, -2.5))], -18.0, "lewy brzeg"),
        spot("git2", "Gitara 2", (-15.0, 72.0), [late(10.5), eq(90.0, (190.0, -2.0))], -18.0, "prawy brzeg, 12 strun"),
        spot("baset", "Basetla", (-11.0, 8.0), [late(12.9), eq(38.0, (160.0, -2.0), (900.0, 1.5))], -24.0,
             "tył, środek. smyczkiem"),
        spot("beb", "Bębenek", (-16.0, 50.0), [late(13.1), eq(70.0, (420.0, -2.0))], -20.0,
             "tył, prawa. otwarty tylko gdy gra", clips=cut("beb", drummed())),
    ]  # fmt: skip


def voices() -> list[Session]:
    """The three voices (the first carries the spoken slate, switched off) and the talkback."""
    slate = piece("glos1", ("p2", EDIT[0][2]), (0.35, 2.0), (0.01, 0.01))
    slate.update({"name": "zapowiedź podejścia 2", "on": False})
    rows = [
        ("glos1", "Głos 1", -9.0, 0.0, 11.2, "środek, prowadzi"),
        ("glos2", "Głos 2", -10.5, -16.0, 11.5, "na lewo od 1"),
        ("glos3", "Głos 3", -10.5, 16.0, 11.4, "na prawo od 1"),
    ]
    made = []
    for ident, name, fader, pan, delay, note in rows:
        chain = [
            late(delay),
            eq(110.0, (260.0, -2.0), (3000.0, 1.0)),
            dyn("compressor", "Kompresor", (-24.0, 2.0, 15.0, 160.0), 1.5),
        ]
        clips = ([slate] if ident == "glos1" else []) + cut(ident, sung())
        made.append(
            strip(
                ident, name, "track", (1, fader, pan), "glosy",
                comment=note, inserts=chain, sends=[send(-12.0)], clips=clips,
            )
        )  # fmt: skip
    talk = strip(
        "rozm", "Rozmówki", "track", (1, -10.0, 0.0), "glosy",
        mute=True, comment="mikrofon reżyserki na salę, poza miksem",
        clips=[piece("rozm", ("p2", EDIT[0][2]), (0.2, 2.4), (0.01, 0.01))],
    )  # fmt: skip
    return [*made, talk]


def buses() -> list[Session]:
    """Groups, the hall reverb and the mix bus."""
    limiter = dyn("limiter", "Ogranicznik", (-2.5, 20.0, 1.0, 150.0), 0.0)
    limiter["parameters"] = [param("sufit", -1.0, "dB")]
    return [
        strip("sala", "SALA", "group", (2, 0.0, 0.0), "suma", comment="bez sztucznego pogłosu, sala jest prawdziwa"),
        strip("kapela", "KAPELA", "group", (2, -1.0, 0.0), "suma"),
        strip("glosy", "GŁOSY", "group", (2, 0.0, 0.0), "suma",
              inserts=[dyn("compressor", "Kompresor", (-18.0, 1.5, 25.0, 220.0), 0.5)],
              automation=[lift(0.0, "OB", "KON", 0.8)]),
        strip("poglos", "Pogłos", "return", (2, -5.0, 0.0), "suma", comment="tylko z mikrofonów bliskich",
              inserts=[eq(180.0, (2400.0, -1.5)),
                       fx("reverb", "Sala średnia", param("czas", 2.1, "s"), wet=100.0, pre_delay_ms=24.0)]),
        {
            "id": "suma", "name": "SUMA", "kind": "master", "legs": 2, "fader_db": 0.0, "pan": 0.0, "mute": False,
            "solo": False,
            "inserts": [eq(25.0, (320.0, -0.8)), limiter, fx("analyser", "Miernik głośności")],
        },
    ]  # fmt: skip


def media(channels: list[Session]) -> list[Session]:
    """Both takes of every microphone; the recorder ran for all of them together."""
    takes = [t for c in channels for t in sorted({clip["file"] for clip in c.get("clips", [])})]
    return [
        {
            "id": take,
            "path": f"nagrania/{take[-2:]}/{take}.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": LENGTHS[take[-2:]],
        }
        for take in takes
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = hall() + band() + voices() + buses()
    return {
        "format": "mixlint-session/1",
        "title": "Wianek z olszyny (miks 3)",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": tempos(), "meters": [{"beat": 0.0, "beats": 3, "unit": 4}]},
        "markers": [{"time_s": at(name), "name": row[0]} for name, row in SECTIONS.items()],
        "channels": channels,
        "media": media(channels),
        "metadata": {"montaż": "podejście 2, od zwrotki 2 podejście 3, od zwrotki 3 znów 2"},
    }


def channel(session: Session, name: str) -> Session:
    """The channel of a name."""
    found: Session = next(c for c in session["channels"] if c["name"] == name)
    return found


def insert_of(session: Session, name: str, label: str) -> Session:
    """A channel's processor by its name."""
    found: Session = next(i for i in channel(session, name)["inserts"] if i["name"] == label)
    return found


def wrong_take(session: Session) -> None:
    """The second fiddle was out of the edit group: its middle passage ran on in take 2."""
    clips = channel(session, "Skrzypce 2")["clips"]
    middle = clips[1]
    fades = (middle["fade_in_s"], middle["fade_out_s"])
    clips[1] = piece("skrz2", ("p2", EDIT[0][2]), (middle["start_s"], middle["end_s"]), fades)


def spot_not_delayed(session: Session) -> None:
    """The second voice's delay is at nought."""
    insert_of(session, "Głos 2", "Opóźnienie do pary")["parameters"][0]["value"] = 0.0


def pair_lopsided(session: Session) -> None:
    """The right main microphone lost six decibels in the passage from take 3."""
    channel(session, "Główne P")["clips"][1]["gain_db"] = -6.0


def slate_on(session: Session) -> None:
    """The spoken slate was switched on to hear the number of the take."""
    channel(session, "Głos 1")["clips"][0]["on"] = True


def reverb_bypassed(session: Session) -> None:
    """The reverb on its return was bypassed for a dry listen."""
    insert_of(session, "Pogłos", "Sala średnia")["on"] = False


def bass_side_to_voices(session: Session) -> None:
    """The accordion's bass side goes to the voices."""
    channel(session, "Akordeon bas")["output"] = "glosy"


def only_the_noise(session: Session) -> None:
    """The noise reduction still plays what it takes away."""
    insert_of(session, "Główne P", "Odszumianie")["parameters"][1]["value"] = "szum"


def outrigger_nowhere(session: Session) -> None:
    """The right outrigger has lost its output."""
    channel(session, "Flanka P")["output"] = None


def applause_left(session: Session) -> None:
    """The left outrigger's last clip was pulled out into the applause."""
    last = channel(session, "Flanka L")["clips"][-1]
    last["end_s"] = round(last["end_s"] + 11.0, 6)


def ride_in_the_verse(session: Session) -> None:
    """The accordion's lift lies over the verse before its solo."""
    channel(session, "Akordeon dysk.")["automation"] = [lift(-13.0, "Z2", "SOLO", 3.0)]


def solo_left(session: Session) -> None:
    """A solo was forgotten."""
    channel(session, "Skrzypce 1")["solo"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Głos 1"], "why": "its first clip, the spoken slate, is switched off on purpose"},
    {"channels": ["Rozmówki"], "why": "the talkback is muted on purpose and says so"},
    {"channels": ["SALA"], "why": "no reverb on the hall microphones: the hall is real, as the comment says"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "wrong-take",
        "class": "edits",
        "channels": ["Skrzypce 2"],
        "grade": "hold",
        "says": "Skrzypce 2 stays in take 2 from verse 2 to the solo, where all the others were cut to take 3.",
        "plant": wrong_take,
    },
    {
        "id": "spot-not-delayed",
        "class": "phase",
        "channels": ["Głos 2"],
        "grade": "look",
        "says": "The delay to the main pair is 0 ms on Głos 2; every other spot has 8 to 13 ms, the voices about 11.",
        "plant": spot_not_delayed,
    },
    {
        "id": "pair-lopsided",
        "class": "level",
        "channels": ["Główne P"],
        "grade": "look",
        "says": "Główne P's middle clip has -6 dB clip gain, Główne L's none; the picture falls to the left there.",
        "plant": pair_lopsided,
    },
    {
        "id": "slate-on",
        "class": "audible-that-should-not-be",
        "channels": ["Głos 1"],
        "grade": "hold",
        "says": "The spoken slate of the take is switched on at the head of Głos 1 and will be heard before the music.",
        "plant": slate_on,
    },
    {
        "id": "reverb-bypassed",
        "class": "ambience",
        "channels": ["Pogłos"],
        "grade": "hold",
        "says": "The reverb on Pogłos is bypassed; eleven sends come back dry on top of their channels.",
        "plant": reverb_bypassed,
    },
    {
        "id": "bass-side-to-voices",
        "class": "routing",
        "channels": ["Akordeon bas"],
        "grade": "look",
        "says": "Akordeon bas goes to GŁOSY; its treble side and the rest of the band go to KAPELA.",
        "plant": bass_side_to_voices,
    },
    {
        "id": "only-the-noise",
        "class": "processors",
        "channels": ["Główne P"],
        "grade": "hold",
        "says": "Odszumianie on Główne P is set to play the noise it removes; the right main microphone is lost.",
        "plant": only_the_noise,
    },
    {
        "id": "outrigger-nowhere",
        "class": "inaudible",
        "channels": ["Flanka P"],
        "grade": "look",
        "says": "Flanka P has no output while Flanka L goes to SALA; the right outrigger is not heard.",
        "plant": outrigger_nowhere,
    },
    {
        "id": "applause-left",
        "class": "end",
        "channels": ["Flanka L"],
        "grade": "look",
        "says": "Flanka L runs on 11 s after all the others have faded out; the bounce gets a lopsided tail.",
        "plant": applause_left,
    },
    {
        "id": "ride-in-the-verse",
        "class": "automation",
        "channels": ["Akordeon dysk."],
        "grade": "look",
        "says": "Akordeon dysk. is lifted in verse 2 and not in its solo, where Akordeon bas has its lift.",
        "plant": ride_in_the_verse,
    },
    {
        "id": "solo-left",
        "class": "hand-over",
        "channels": ["Skrzypce 1"],
        "grade": "hold",
        "says": "Solo is on at Skrzypce 1; the bounce would hold one fiddle and nothing else.",
        "plant": solo_left,
    },
]
