"""A Dutch singer-songwriter's demo, "Regen op zink", a slow waltz at 74 bpm made at a kitchen table: one
acoustic guitar with microphone and pick-up, a second guitar, voice with a double in the refrains, a programmed
shaker and a bass by DI. The engineer writes small Dutch names, one group for the guitars, one reverb and one
echo, keeps the guide voice muted and the click ("tik") out of the mix, rides the voice by hand and fades the
last ringing chord on the mix fader.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

BPM = 74.0
BEAT = 60.0 / BPM
RATE = 48000.0
FILE_LENGTH = 250.0
FADE_END = 243.25
CLIP_END = 244.5

SECTIONS: list[tuple[int, str]] = [
    (1, "aftellen"),
    (3, "intro"),
    (11, "strofe 1"),
    (27, "refrein 1"),
    (39, "strofe 2"),
    (55, "refrein 2"),
    (67, "brug"),
    (75, "refrein 3"),
    (91, "slot"),
]


def at(bar: float) -> float:
    """Seconds at the start of a bar of three (the first bar is 1)."""
    return round((bar - 1) * 3 * BEAT, 6)


def stuk(
    first_s: float, last_s: float, file: str, into: float = 0.02, out: float = 0.08, gain: float = 0.0
) -> dict[str, Any]:
    """Audio from second to second, lying where it was recorded."""
    return {
        "start_s": first_s,
        "end_s": last_s,
        "name": file,
        "plays": "audio",
        "file": file,
        "offset_s": first_s,
        "speed": 1.0,
        "fade_in_s": into,
        "fade_out_s": out,
        "gain_db": gain,
        "on": True,
    }


def noten(first: float, last: float, name: str) -> dict[str, Any]:
    """A clip of notes from bar to bar."""
    return {
        "start_s": at(first),
        "end_s": at(last),
        "name": name,
        "plays": "notes",
        "file": None,
        "fade_in_s": 0.0,
        "fade_out_s": 0.0,
    }


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7) -> dict[str, Any]:
    """One equalizer band; a high-pass or low-pass gets 12 dB per octave."""
    made: dict[str, Any] = {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}
    if kind.endswith("-pass"):
        made["slope_db_per_oct"] = 12.0
    return made


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    """An equalizer."""
    return {
        "name": "toonregeling",
        "kind": "equalizer",
        "opaque": False,
        "wet": 100.0,
        "equalizer": {"bands": list(bands)},
    }


def dyn(
    name: str, kind: str, threshold: float, ratio: float, attack: float, release: float, gain: float
) -> dict[str, Any]:
    """A compressor or limiter."""
    return {
        "name": name,
        "kind": kind,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float) -> dict[str, Any]:
    """A compressor."""
    return dyn("compressor", "compressor", threshold, ratio, attack, release, gain)


def send(to: str, level: float) -> dict[str, Any]:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def strip(
    ident: str, name: str, out: str | None, fader: float, pan: float = 0.0, legs: int = 1, **more: Any
) -> dict[str, Any]:
    """One channel of the desk, a track unless told otherwise."""
    made: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
    }
    if more.get("clips"):
        made["plays"] = sorted({c["plays"] for c in more["clips"]})
    made.update(more)
    return made


def tracks() -> list[dict[str, Any]]:
    """Everything that was played or sung."""
    flip = {
        "name": "fase",
        "kind": "utility",
        "opaque": False,
        "parameters": [{"id": "invert", "name": "omkeren", "value": True}],
    }
    sung = [(11, 26.7, 0.0), (27, 38.6, -0.5), (39, 54.7, 0.5), (55, 66.6, -0.5), (67, 74.8, 1.0), (75, 90.7, -1.0)]
    doubled = [(27, 38.6), (55, 66.6), (75, 90.7)]
    shaken = [(27, 39), (47, 67), (75, 91)]
    rides = {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [at(b) for b in (1, 11, 19, 27, 38.8, 39, 47, 55, 66.8, 67, 75, 90.8)],
        "v": [-3.0, -3.0, -2.4, -3.4, -3.4, -2.8, -2.4, -3.4, -3.4, -2.2, -3.6, -3.6],
    }
    return [
        strip(
            "g1m",
            "git 1 mic",
            "gits",
            -6.0,
            -45.0,
            clips=[stuk(at(3), CLIP_END, "git1_mic", 0.03, 0.3)],
            sends=[send("galm", -17.0)],
            inserts=[eq(band("high-pass", 80), band("bell", 230, -2.0, 1.0))],
        ),
        strip(
            "g1e",
            "git 1 element",
            "gits",
            -13.0,
            -45.0,
            clips=[stuk(at(3), CLIP_END, "git1_element", 0.03, 0.3)],
            comment="element in tegenfase met de mic, daarom omgekeerd",
            inserts=[flip, eq(band("high-pass", 110), band("bell", 1800, -2.5, 1.0))],
        ),
        strip(
            "g2",
            "git 2",
            "gits",
            -8.0,
            45.0,
            sends=[send("galm", -16.0)],
            inserts=[eq(band("high-pass", 110))],
            clips=[stuk(at(11), at(66.9), "git2", 0.03, 0.3), stuk(at(75), CLIP_END, "git2", 0.03, 0.3)],
        ),
        strip(
            "zang",
            "zang",
            "mix",
            -3.0,
            clips=[stuk(at(a), at(b), "zang_comp", gain=g) for a, b, g in sung],
            sends=[send("galm", -12.0), send("echo", -19.0)],
            automation=[rides],
            inserts=[
                eq(band("high-pass", 90), band("bell", 300, -1.5, 1.0), band("high-shelf", 9000, 1.5)),
                comp(-20, 3, 10, 110, 3),
            ],
        ),
        strip(
            "zdub",
            "zang dubbel",
            "mix",
            -13.0,
            clips=[stuk(at(a), at(b), "zang_dubbel") for a, b in doubled],
            sends=[send("galm", -10.0)],
            inserts=[eq(band("high-pass", 150)), comp(-24, 4, 6, 100, 3)],
        ),
        strip(
            "shk",
            "shaker",
            "mix",
            -15.0,
            20.0,
            clips=[noten(a, b, "shaker") for a, b in shaken],
            sends=[send("galm", -18.0)],
            inserts=[{"name": "sampler", "kind": "instrument", "opaque": True}, eq(band("high-pass", 400))],
        ),
        strip(
            "bas",
            "bas",
            "mix",
            -6.0,
            clips=[stuk(at(19), at(66.9), "bas_di", 0.02, 0.3), stuk(at(75), CLIP_END, "bas_di", 0.02, 0.3)],
            inserts=[eq(band("high-pass", 35), band("bell", 700, 1.5)), comp(-22, 4, 20, 140, 2)],
        ),
        strip(
            "gids",
            "gidszang",
            "mix",
            -8.0,
            mute=True,
            clips=[stuk(at(3), at(91), "gidszang", 0.05, 0.2)],
            comment="alleen voor het inspelen",
        ),
        strip(
            "tik",
            "tik",
            None,
            -10.0,
            clips=[noten(1, 91, "tik")],
            comment="alleen koptelefoon",
            inserts=[{"name": "tikker", "kind": "instrument", "opaque": True}],
        ),
    ]


def buses() -> list[dict[str, Any]]:
    """Guitar group, two returns, the mix."""
    fade = {
        "target": "fader",
        "scale": "amplitude",
        "shape": "linear",
        "t": [0.0, at(98), FADE_END],
        "v": [1.0, 1.0, 0.0],
    }
    galm = {
        "name": "galm",
        "kind": "reverb",
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": 22.0,
        "parameters": [{"id": "decay", "name": "nagalmtijd", "value": 1.6, "unit": "s"}],
    }
    echo = {
        "name": "echo",
        "kind": "delay",
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "time", "name": "tijd", "value": "1/8"},
            {"id": "feedback", "name": "herhaling", "value": 22.0, "unit": "%"},
        ],
    }
    phones = {"name": "koptelefooncorrectie", "kind": "monitor", "opaque": True, "on": False}
    limiter = dyn("limiter", "limiter", -2.0, 100, 1, 120, 0)
    limiter["parameters"] = [{"id": "ceiling", "name": "plafond", "value": -1.0, "unit": "dB"}]
    return [
        strip("gits", "gitaren", "mix", -2.0, legs=2, kind="group", inserts=[comp(-18, 2, 25, 160, 1)]),
        strip("galm", "galm", "mix", -4.0, legs=2, kind="return", inserts=[galm, eq(band("high-pass", 220))]),
        strip(
            "echo",
            "echo",
            "mix",
            -5.0,
            legs=2,
            kind="return",
            inserts=[echo, eq(band("high-pass", 250), band("low-pass", 4000))],
        ),
        {
            "id": "mix",
            "name": "MIX",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [comp(-14, 1.5, 30, 150, 1), limiter, phones],
            "automation": [fade],
        },
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = tracks() + buses()
    used = sorted({c["file"] for ch in channels for c in ch.get("clips", []) if c.get("file")})
    media = [
        {
            "id": f,
            "path": f"opnames/{f}.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": FILE_LENGTH,
        }
        for f in used
    ]
    markers = [{"time_s": at(bar), "name": name} for bar, name in SECTIONS] + [{"time_s": 245.0, "name": "einde"}]
    return {
        "format": "mixlint-session/1",
        "title": "Regen op zink (demo)",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM, "ramp": False}],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": markers,
        "channels": channels,
        "media": media,
        "metadata": {"titel": "Regen op zink", "levering": "48 kHz, 24 bit"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    """The channel of that name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def guide_on(session: Session) -> None:
    """plants in place"""
    chan(session, "gidszang")["mute"] = False


def fade_stops(session: Session) -> None:
    """plants in place"""
    chan(session, "MIX")["automation"][0]["v"][-1] = 0.3


def double_missing(session: Session) -> None:
    """plants in place"""
    next(m for m in session["media"] if m["id"] == "zang_dubbel")["present"] = False


def stray_tempo(session: Session) -> None:
    """plants in place: the notes follow the beats, the recordings and the markers stay where they are"""
    beat, bpm = 162.0, 78.0
    session["timeline"]["tempos"].append({"beat": beat, "bpm": bpm, "ramp": False})
    turn = beat * BEAT
    for name in ("shaker", "tik"):
        for played in chan(session, name)["clips"]:
            for edge in ("start_s", "end_s"):
                if played[edge] > turn:
                    played[edge] = round(turn + (played[edge] - turn) * BPM / bpm, 6)


def correction_on(session: Session) -> None:
    """plants in place"""
    chan(session, "MIX")["inserts"][-1]["on"] = True


def split_pair(session: Session) -> None:
    """plants in place"""
    chan(session, "git 1 element")["pan"] = 45.0


def half_dry_return(session: Session) -> None:
    """plants in place"""
    chan(session, "galm")["inserts"][0]["wet"] = 40.0


def loud_bass(session: Session) -> None:
    """plants in place"""
    chan(session, "bas")["fader_db"] = 6.0


def ride_hole(session: Session) -> None:
    """plants in place"""
    rides = chan(session, "zang")["automation"][0]
    rides["v"][rides["t"].index(at(47))] = -24.0


def thin_voice(session: Session) -> None:
    """plants in place"""
    chan(session, "zang")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 900.0


def not_turned(session: Session) -> None:
    """plants in place"""
    chan(session, "git 1 element")["inserts"][0]["parameters"][0]["value"] = False


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["gidszang"], "why": "the muted guide voice stays in the session until the master is signed off"},
    {"channels": ["tik"], "why": "the click goes nowhere on purpose, it is heard in the phones only"},
    {
        "channels": ["MIX"],
        "why": "the headphone correction is in the last place but bypassed; a careful colleague may mention it",
    },
    {
        "channels": ["git 1 mic", "git 1 element"],
        "why": "one guitar by microphone and pick-up, one turned over on purpose",
    },
    {
        "channels": ["zang dubbel"],
        "why": "the double lies under the voice in the refrains only, in the centre, by taste",
    },
    {"channels": ["shaker"], "why": "still an instrument and not printed, fine for a demo"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "guide-voice-on",
        "class": "audible-that-should-not-be",
        "channels": ["gidszang", "zang"],
        "grade": "hold",
        "says": "The guide voice is unmuted and sings along with the real one.",
        "plant": guide_on,
    },
    {
        "id": "fade-not-to-silence",
        "class": "end",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The closing fade stops some 10 dB down, and the last chord is cut off while it is still heard.",
        "plant": fade_stops,
    },
    {
        "id": "double-file-missing",
        "class": "files",
        "channels": ["zang dubbel"],
        "grade": "hold",
        "says": "The recording of the doubled voice is not on the disk, so the refrains go without it.",
        "plant": double_missing,
    },
    {
        "id": "stray-tempo",
        "class": "tempo",
        "channels": ["shaker", "echo", "tik"],
        "grade": "hold",
        "says": "A tempo of 78 slipped in at refrein 2, and programmed shaker and echo run away from the recordings.",
        "plant": stray_tempo,
    },
    {
        "id": "phones-correction-on",
        "class": "hand-over",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The headphone correction on the mix is switched on and would be printed.",
        "plant": correction_on,
    },
    {
        "id": "guitar-pair-split",
        "class": "place",
        "channels": ["git 1 element", "git 1 mic"],
        "grade": "look",
        "says": "The pick-up of guitar 1 sits on the right on top of guitar 2 while its microphone is on the left.",
        "plant": split_pair,
    },
    {
        "id": "return-half-dry",
        "class": "ambience",
        "channels": ["galm"],
        "grade": "hold",
        "says": "The reverb on its return is at 40 per cent wet, so dry sound comes back with it.",
        "plant": half_dry_return,
    },
    {
        "id": "bass-sign-slip",
        "class": "level",
        "channels": ["bas"],
        "grade": "hold",
        "says": "The bass fader stands at +6 dB where everything else is below zero; surely -6 was meant.",
        "plant": loud_bass,
    },
    {
        "id": "ride-falls-in-hole",
        "class": "automation",
        "channels": ["zang"],
        "grade": "hold",
        "says": "The ride of the voice dives to -24 dB in the middle of strofe 2 where its neighbours are around -3.",
        "plant": ride_hole,
    },
    {
        "id": "voice-high-pass-900",
        "class": "processors",
        "channels": ["zang"],
        "grade": "hold",
        "says": "The high-pass of the voice stands at 900 Hz and takes the body away; 90 Hz was meant.",
        "plant": thin_voice,
    },
    {
        "id": "pickup-not-turned",
        "class": "phase",
        "channels": ["git 1 element", "git 1 mic"],
        "grade": "hold",
        "says": "The pick-up is no longer turned over though its comment says it is out of phase with the microphone.",
        "plant": not_turned,
    },
]
