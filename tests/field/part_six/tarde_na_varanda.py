"""A bossa at a gentle 72 in two: voice, nylon guitar by microphone and DI, double bass likewise, piano, flute, a light
kit and a programmed shaker. The engineer writes Portuguese names without accents, groups only the kit, keeps one room
for all and a plate for the voice that ducks under it, carries the flute to the middle for its solo by pan automation,
keeps the first rough mix in the session as a muted print, and fades the coda on the master."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

BPM = 72.0
BEAT = 60.0 / BPM


def bar(number: int) -> float:
    """Where a bar starts, counting from 1, two beats each."""
    return round((number - 1) * 2 * BEAT, 4)


INTRO, A1, A2, B1, A3, SOLO, B2, A4, CODA, FADE, SILENCE, STOP = (
    bar(n) for n in (3, 11, 27, 43, 59, 75, 107, 123, 139, 147, 154, 155)
)
FILE_LENGTH = 262.0
XFADE = 0.03


def eq(name: str, *bands: tuple[str, float, float]) -> dict[str, Any]:
    """An equalizer of (kind, frequency, gain or slope) bands."""
    made = []
    for kind, freq, amount in bands:
        passes = kind in ("high-pass", "low-pass")
        made.append(
            {
                "kind": kind,
                "freq_hz": freq,
                "on": True,
                **({"slope_db_per_oct": amount} if passes else {"gain_db": amount, "q": 0.9}),
            }
        )
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "wet": 100.0, "equalizer": {"bands": made}}


def comp(
    name: str,
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    makeup: float = 0.0,
    kind: str = "compressor",
) -> dict[str, Any]:
    """A compressor or limiter with open settings."""
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
            "input_gain_db": 0.0,
            "output_gain_db": makeup,
            "auto_makeup": False,
        },
    }


def reverb(name: str, pre_delay: float) -> dict[str, Any]:
    """A reverb for a return: wholly wet, its other settings hidden."""
    return {"name": name, "kind": "reverb", "on": True, "opaque": True, "wet": 100.0, "pre_delay_ms": pre_delay}


def send(to: str, level: float) -> dict[str, Any]:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def clip(file: str, start: float, end: float, fade_in: float = 0.02, fade_out: float = 0.05) -> dict[str, Any]:
    """A stretch of a take that runs from the top of the session."""
    start, end = round(start, 4), round(end, 4)
    return {
        "start_s": start,
        "end_s": end,
        "name": file,
        "plays": "audio",
        "file": file,
        "offset_s": start,
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": 0.0,
        "on": True,
    }


def joined(files: list[str], edges: list[float]) -> list[dict[str, Any]]:
    """Takes joined at the edges by short crossfades; edges has one entry more than files."""
    made = []
    for n, file in enumerate(files):
        last = n == len(files) - 1
        made.append(clip(file, edges[n], edges[n + 1] + (0.0 if last else XFADE), XFADE, 0.5 if last else XFADE))
    return made


def lane(target: str, scale: str, shape: str, *points: tuple[float, float]) -> dict[str, Any]:
    """An automation lane from (time, value) points."""
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [round(p[0], 4) for p in points],
        "v": [p[1] for p in points],
    }


def channel(
    ident: str,
    name: str,
    output: str | None,
    fader: float,
    pan: float = 0.0,
    kind: str = "track",
    legs: int = 1,
    **more: Any,
) -> dict[str, Any]:
    """A strip; whatever else it has comes by keyword."""
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "plays": ["audio"] if kind == "track" else [],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        **more,
    }


def notes(start: float, end: float, name: str) -> dict[str, Any]:
    """A clip of notes; it is tied to the bars and moves with the tempo."""
    return {"start_s": start, "end_s": end, "name": name, "plays": "notes", "file": None, "on": True}


def front() -> list[dict[str, Any]]:
    """Voice, guitar and flute."""
    guitar_edges = [INTRO, B1 + 2 * BEAT, B2, STOP]
    return [
        channel(
            "ch01",
            "voz ok",
            "mix",
            -4.0,
            sends=[send("placa", -14.0), send("sala", -22.0)],
            inserts=[
                eq("eq voz", ("high-pass", 90.0, 12.0), ("bell", 300.0, -2.0)),
                comp("comp voz", -21.0, 2.5, 10.0, 110.0, 2.5),
            ],
            clips=[clip("voz_3", A1 - 0.7, SOLO - 0.4), clip("voz_4", B2 - 0.7, CODA + 1.6, fade_out=0.3)],
            automation=[lane("send:0:level", "dB", "hold", (0.0, -14.0), (bar(58), -4.0), (A3, -14.0))],
        ),
        channel(
            "ch02",
            "violao mic",
            "mix",
            -5.0,
            -35.0,
            sends=[send("sala", -16.0)],
            inserts=[eq("eq violao", ("high-pass", 75.0, 12.0), ("bell", 190.0, -2.5))],
            clips=joined(["vmic_1", "vmic_2", "vmic_1"], guitar_edges),
        ),
        channel(
            "ch03",
            "violao di",
            "mix",
            -16.0,
            -35.0,
            inserts=[eq("eq di", ("low-pass", 6000.0, 12.0))],
            clips=joined(["vdi_1", "vdi_2", "vdi_1"], guitar_edges),
        ),
        channel(
            "ch08",
            "flauta",
            "mix",
            -8.0,
            35.0,
            sends=[send("sala", -13.0)],
            inserts=[eq("eq flauta", ("high-pass", 180.0, 12.0))],
            clips=[
                clip("flauta_2", INTRO, A1 + 1.0, fade_out=0.3),
                clip("flauta_2", SOLO - 0.3, B2 - 0.8),
                clip("flauta_3", B2 + 8 * BEAT, STOP, fade_out=0.5),
            ],
            automation=[
                lane(
                    "pan",
                    "pan",
                    "linear",
                    (0.0, 35.0),
                    (bar(74), 35.0),
                    (SOLO, 0.0),
                    (B2 - 0.8, 0.0),
                    (bar(108), 35.0),
                    (STOP, 35.0),
                )
            ],
        ),
    ]


def rhythm() -> list[dict[str, Any]]:
    """Bass, piano, kit and shaker."""

    def whole(file: str) -> list[dict[str, Any]]:
        return [clip(file, INTRO, STOP, fade_out=0.5)]

    bass_edges = [INTRO, SOLO, B2, STOP]
    kit: dict[str, Any] = {"parent": "bat"}
    return [
        channel(
            "ch04",
            "cbaixo mic",
            "mix",
            -6.0,
            sends=[send("sala", -24.0)],
            inserts=[
                eq("eq baixo", ("high-pass", 35.0, 12.0), ("bell", 160.0, -2.0)),
                comp("comp baixo", -20.0, 3.0, 20.0, 150.0, 2.0),
            ],
            clips=joined(["bxmic_1", "bxmic_2", "bxmic_1"], bass_edges),
        ),
        channel(
            "ch05",
            "cbaixo di",
            "mix",
            -12.0,
            inserts=[eq("eq baixo di", ("low-pass", 2500.0, 12.0))],
            clips=joined(["bxdi_1", "bxdi_2", "bxdi_1"], bass_edges),
        ),
        channel(
            "ch06",
            "piano E",
            "mix",
            -10.0,
            -60.0,
            sends=[send("sala", -16.0)],
            inserts=[eq("eq piano", ("high-pass", 110.0, 12.0))],
            clips=[clip("piano_e", A2, STOP, fade_out=0.5)],
        ),
        channel(
            "ch07",
            "piano D",
            "mix",
            -10.0,
            60.0,
            sends=[send("sala", -16.0)],
            inserts=[eq("eq piano", ("high-pass", 110.0, 12.0))],
            clips=[clip("piano_d", A2, STOP, fade_out=0.5)],
        ),
        channel(
            "ch09",
            "bumbo",
            "bat",
            -12.0,
            inserts=[eq("eq bumbo", ("low-pass", 5000.0, 12.0))],
            clips=whole("bumbo_1"),
            **kit,
        ),
        channel(
            "ch10",
            "OH E",
            "bat",
            -9.0,
            -70.0,
            sends=[send("sala", -20.0)],
            clips=whole("oh_e_1"),
            inserts=[eq("eq oh", ("high-pass", 80.0, 12.0))],
            **kit,
        ),
        channel(
            "ch11",
            "OH D",
            "bat",
            -9.0,
            70.0,
            sends=[send("sala", -20.0)],
            clips=whole("oh_d_1"),
            inserts=[eq("eq oh", ("high-pass", 80.0, 12.0))],
            **kit,
        ),
        channel(
            "ch12",
            "shaker prog",
            "mix",
            -19.0,
            25.0,
            legs=2,
            sends=[send("sala", -15.0)],
            inserts=[{"name": "caixinha de sons", "kind": "instrument", "on": True, "opaque": True}],
            clips=[
                notes(A2, SOLO, "shaker A"),
                notes(SOLO, B2, "shaker solo"),
                notes(B2, A4, "shaker B2"),
                notes(A4, STOP, "shaker fim"),
            ],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    click = channel("ch13", "clique", None, -10.0, clips=[notes(0.0, STOP, "clique")], comment="so nos fones")
    shaker = "ch12"
    duck = comp("abaixa com a voz", -30.0, 2.0, 15.0, 280.0)
    duck["parameters"] = [{"id": "key", "name": "Key", "value": "voz ok"}]
    ceiling = comp("teto", -1.0, 100.0, 0.5, 80.0, kind="limiter")
    channels = [
        *front(),
        *rhythm(),
        click,
        {
            **channel("ch14", "print 1a mix", "mix", 0.0, legs=2, clips=[clip("print_1a", INTRO, STOP, 0.0, 0.0)]),
            "mute": True,
        },
        channel("bat", "BATERIA", "mix", -3.0, kind="group", legs=2, inserts=[comp("cola", -18.0, 1.8, 30.0, 160.0)]),
        channel(
            "sala",
            "rev sala",
            "mix",
            -6.0,
            kind="return",
            legs=2,
            inserts=[eq("eq sala", ("high-pass", 200.0, 12.0)), reverb("sala de madeira", 12.0)],
        ),
        channel(
            "placa",
            "rev voz placa",
            "mix",
            -6.0,
            kind="return",
            legs=2,
            inserts=[eq("eq placa", ("high-pass", 280.0, 12.0)), reverb("placa", 35.0), duck],
        ),
        channel(
            "mix",
            "MIX",
            None,
            0.0,
            kind="master",
            legs=2,
            inserts=[
                eq("eq mix", ("high-shelf", 10000.0, 1.0)),
                comp("cola mix", -14.0, 1.5, 30.0, 250.0, 1.0),
                ceiling,
                {"name": "correcao dos fones", "kind": "monitor", "on": False, "opaque": True},
            ],
            automation=[lane("fader", "amplitude", "linear", (0.0, 1.0), (FADE, 1.0), (SILENCE, 0.0), (STOP, 0.0))],
        ),
    ]
    for made in channels:
        if made["id"] in (shaker, click["id"]):
            made["plays"] = ["notes"]
    channels.sort(key=lambda c: c["id"] if c["id"].startswith("ch") else "z")
    files = sorted({c["file"] for ch in channels for c in ch.get("clips", []) if c["file"]})
    return {
        "format": "mixlint-session/1",
        "title": "Tarde na varanda",
        "sample_rate_hz": 44100.0,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 2, "unit": 4}]},
        "markers": [
            {"time_s": t, "name": n}
            for t, n in (
                (INTRO, "Intro"),
                (A1, "A1"),
                (A2, "A2"),
                (B1, "B"),
                (A3, "A3"),
                (SOLO, "Solo flauta"),
                (B2, "B2"),
                (A4, "A4"),
                (CODA, "Coda"),
                (FADE, "Fade"),
                (STOP, "Fim"),
            )
        ],
        "channels": channels,
        "media": [
            {
                "id": f,
                "path": f"gravacoes/{f}.wav",
                "place": "beside",
                "present": True,
                "legs": 2 if f.startswith("print") else 1,
                "sample_rate_hz": 44100.0,
                "duration_s": FILE_LENGTH,
            }
            for f in files
        ],
        "metadata": {"title": "Tarde na varanda", "entrega": "wav 44.1 kHz 24 bit, Intro ate Fim"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    """The channel of that name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def flute_stays_in_the_middle(session: Session) -> None:
    """The points that take the flute back to the right after its solo are gone."""
    pan = chan(session, "flauta")["automation"][0]
    del pan["t"][-2:], pan["v"][-2:]


def throw_stays_up(session: Session) -> None:
    """The point that ends the throw into the plate is gone."""
    throw = chan(session, "voz ok")["automation"][0]
    del throw["t"][-1], throw["v"][-1]


def print_open(session: Session) -> None:
    """The rough mix was compared and left open."""
    chan(session, "print 1a mix")["mute"] = False


def click_into_the_mix(session: Session) -> None:
    """The click was sent to the speakers for an overdub."""
    chan(session, "clique")["output"] = "mix"


def gain_after_the_ceiling(session: Session) -> None:
    """Output gain turned up on the last limiter."""
    limiter = next(i for i in chan(session, "MIX")["inserts"] if i["name"] == "teto")
    limiter["dynamics"]["output_gain_db"] = 4.0


def bass_di_slipped(session: Session) -> None:
    """The contents of the DI's last clip were nudged by a few milliseconds."""
    last = chan(session, "cbaixo di")["clips"][-1]
    last["offset_s"] = round(last["offset_s"] - 0.009, 4)


def overhead_file_left_behind(session: Session) -> None:
    """The right overhead still lies on the drummer's disk."""
    media = next(m for m in session["media"] if m["id"] == "oh_d_1")
    media.update(path="/discos/sala_b/bateria/oh_d_1.wav", place="outside", present=False)


def stray_tempo(session: Session) -> None:
    """A tempo of 78 typed at B2; what is tied to the bars moves along, audio and markers stay."""
    at = round(B2 / BEAT)
    session["timeline"]["tempos"].append({"beat": float(at), "bpm": 78.0})

    def moved(t: float) -> float:
        return t if t <= B2 else round(B2 + (t - B2) * BPM / 78.0, 4)

    for made in session["channels"]:
        for piece in made.get("clips", []):
            if piece["plays"] == "notes":
                piece.update(start_s=moved(piece["start_s"]), end_s=moved(piece["end_s"]))


def ducked_by_the_kick(session: Session) -> None:
    """The key input of the plate's compressor jumped to the bass drum."""
    duck = next(i for i in chan(session, "rev voz placa")["inserts"] if i["name"] == "abaixa com a voz")
    duck["parameters"][0]["value"] = "bumbo"


def guitar_hole(session: Session) -> None:
    """The left edge of the guitar's middle take was pulled in, so the join has opened."""
    middle = chan(session, "violao mic")["clips"][1]
    middle.update(start_s=round(middle["start_s"] + 0.7, 4), offset_s=round(middle["offset_s"] + 0.7, 4))


def correction_printed(session: Session) -> None:
    """The headphone correction is switched on."""
    chan(session, "MIX")["inserts"][-1]["on"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["print 1a mix"], "why": "The first rough mix is kept for comparison; it is muted."},
    {"channels": ["clique"], "why": "The click goes to the phones only and has no output on purpose."},
    {
        "channels": ["MIX"],
        "why": "The headphone correction is on the master but bypassed; it could be taken out. The fade of the coda on "
        "the master is meant and reaches silence before Fim.",
    },
    {
        "channels": ["violao mic", "violao di", "cbaixo mic", "cbaixo di"],
        "why": "Microphone and DI of one instrument stand in one place, the DI well below; joins are short crossfades.",
    },
    {"channels": ["voz ok"], "why": "One throw into the plate at the end of B is meant."},
    {"channels": ["flauta"], "why": "It moves to the middle for its solo and goes back after it, as meant."},
    {
        "channels": ["bumbo", "violao di", "cbaixo di"],
        "why": "Dry on purpose: their room comes by the other microphones.",
    },
]
FAULTS: list[dict[str, Any]] = [
    {
        "id": "flute-stays-centre",
        "class": "place",
        "channels": ["flauta", "voz ok"],
        "grade": "hold",
        "says": "After its solo the flute never goes back to the right and plays on in the middle, upon the voice.",
        "plant": flute_stays_in_the_middle,
    },
    {
        "id": "plate-throw-never-ends",
        "class": "ambience",
        "channels": ["voz ok", "rev voz placa"],
        "grade": "hold",
        "says": "The throw into the plate at the end of B never comes back; the voice swims 10 dB wetter to the end.",
        "plant": throw_stays_up,
    },
    {
        "id": "rough-print-open",
        "class": "twice",
        "channels": ["print 1a mix"],
        "grade": "hold",
        "says": "The print of the first mix is not muted, so the whole song is heard twice.",
        "plant": print_open,
    },
    {
        "id": "click-in-mix",
        "class": "audible-that-should-not-be",
        "channels": ["clique"],
        "grade": "hold",
        "says": "The click goes to the MIX bus and would be in the bounce.",
        "plant": click_into_the_mix,
    },
    {
        "id": "gain-behind-limiter",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The last limiter holds peaks at -1 dBFS and then adds 4 dB, so the bounce would clip at about +3 dBFS.",
        "plant": gain_after_the_ceiling,
    },
    {
        "id": "bass-di-nine-ms-late",
        "class": "phase",
        "channels": ["cbaixo di", "cbaixo mic"],
        "grade": "hold",
        "says": "From B2 on the bass DI plays 9 ms later than its microphone; before that they run together.",
        "plant": bass_di_slipped,
    },
    {
        "id": "overhead-file-missing",
        "class": "files",
        "channels": ["OH D"],
        "grade": "hold",
        "says": "The right overhead's file lies outside the session on another disk and is not there.",
        "plant": overhead_file_left_behind,
    },
    {
        "id": "stray-tempo-at-b2",
        "class": "tempo",
        "channels": ["shaker prog", "clique"],
        "grade": "hold",
        "says": "A tempo of 78 at B2 does not fit the recording: the shaker runs away and markers leave the bars.",
        "plant": stray_tempo,
    },
    {
        "id": "plate-ducked-by-kick",
        "class": "processors",
        "channels": ["rev voz placa", "bumbo", "voz ok"],
        "grade": "look",
        "says": "The compressor on the voice's plate is keyed by the bass drum instead of the voice.",
        "plant": ducked_by_the_kick,
    },
    {
        "id": "guitar-join-open",
        "class": "edits",
        "channels": ["violao mic", "violao di"],
        "grade": "hold",
        "says": "At the join in B the guitar microphone is silent for about 0.7 s while its DI plays on.",
        "plant": guitar_hole,
    },
    {
        "id": "headphone-correction-on",
        "class": "hand-over",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The headphone correction at the end of the master is switched on and would be printed into the bounce.",
        "plant": correction_printed,
    },
]
