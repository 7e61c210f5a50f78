"""Grusvag i mars, an acoustic waltz demo, sung in Swedish, done in two evenings in a living room.

First guitar with two microphones (neck and bridge), two whole passes joined at the second refrain; then bass, second
guitar and shaker where the song needs them, last the voice from two passes and one harmony. 3/4 at 96 with a
ritardando that was drawn after the guitar. The engineer uses little: a trim and an equalizer, one room, one echo for
the voice, and pulls breaths down on the voice's fader by hand. A phone memo of the first sketch lies
muted in the session.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]
Strip = dict[str, Any]

RATE = 44100.0
SLOWING = {1: 96.0, 107: 90.0, 108: 83.0, 109: 75.0, 110: 66.0, 111: 60.0}  # from bar: tempo
LAST = 114

MARKERS: list[tuple[float, str]] = [
    (1, "Inräkning"),
    (3, "Intro"),
    (11, "Vers 1"),
    (27, "Refr 1"),
    (43, "Mellanspel"),
    (47, "Vers 2"),
    (63, "Refr 2"),
    (79, "Stick"),
    (87, "Refr 3"),
    (103, "Slut"),
    (107, "rit."),
    (111, "Sista ackordet"),
    (LAST, "Klart"),
]

# id: file name, bar at which it was started, bar at which it was stopped
TAKES: dict[str, tuple[str, float, float]] = {
    "h3": ("git1_hals_tag3", 1, 116),
    "h4": ("git1_hals_tag4", 1, 116),
    "s3": ("git1_stall_tag3", 1, 116),
    "s4": ("git1_stall_tag4", 1, 116),
    "g2": ("git2_tag2", 25, 115),
    "b1": ("bas_tag1", 25, 115),
    "sh": ("shaker_tag1", 45, 109),
    "v2": ("sang_tag2", 1, 113),
    "v5": ("sang_tag5", 1, 113),
    "st": ("stamma_tag3", 25, 104),
    "tel": ("memo_telefon", 3, 101),
}


def at(place: float) -> float:
    """Seconds at bar.beat, both counted from 1; 26.3 is the third beat of bar 26, a bare 27 its first."""
    bar = int(place)
    beat = (bar - 1) * 3 + max(round((place - bar) * 10), 1) - 1
    starts = [*SLOWING, 10_000]
    seconds = 0.0
    for start, following in pairwise(starts):
        lasts = min(beat, (following - 1) * 3) - (start - 1) * 3
        if lasts > 0:
            seconds += lasts * 60 / SLOWING[start]
    return round(seconds, 5)


def clip(take: str, start: float, end: float, gain: float = 0.0) -> Strip:
    """A stretch of a take, from and to bar.beat."""
    name, origin, _ = TAKES[take]
    return {
        "start_s": at(start),
        "end_s": at(end),
        "name": name,
        "plays": "audio",
        "file": take,
        "offset_s": round(at(start) - at(origin), 5),
        "speed": 1.0,
        "fade_in_s": 0.02,
        "fade_out_s": 0.08,
        "gain_db": gain,
        "on": True,
    }


def joined(*clips: Strip) -> list[Strip]:
    """Clips in a row; where one touches the next they are crossfaded."""
    for left, right in pairwise(clips):
        if left["end_s"] == right["start_s"]:
            left["fade_out_s"], right["fade_in_s"] = 0.015, -0.015
    return list(clips)


def trim(inverted: bool) -> Strip:
    """The little gain and polarity box that stands first on the guitars."""
    return {
        "name": "Trim",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "gain", "name": "Gain", "value": 0.0, "unit": "dB"},
            {"id": "fas", "name": "Fasvänd", "value": inverted},
        ],
    }


def equalizer(high_pass: float, slope: float, *bells: tuple[float, float]) -> Strip:
    """A high-pass and a few bells (frequency, gain)."""
    bands: list[dict[str, Any]] = [{"kind": "high-pass", "freq_hz": high_pass, "slope_db_per_oct": slope, "on": True}]
    bands += [{"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": 1.0, "on": True} for freq, gain in bells]
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": bands}}


def compressor(threshold: float, ratio: float, attack: float, release: float, makeup: float) -> Strip:
    """A compressor."""
    return {
        "name": "Komp",
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": makeup,
        },
    }


def send(to: str, level: float) -> Strip:
    """A send behind the fader."""
    return {"to": to, "level_db": level, "tap": "post", "on": True}


def track(ident: str, name: str, fader: float, pan: float, output: str, clips: list[Strip], **more: Any) -> Strip:
    """A mono track."""
    strip: Strip = {
        "id": ident,
        "name": name,
        "kind": "track",
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "clips": clips,
    }
    return strip | more


def guitars() -> list[Strip]:
    """The first guitar's two microphones, the second guitar and their group."""
    return [
        track(
            "hals",
            "Git hals",
            -9.0,
            -60.0,
            "gitarrer",
            joined(clip("h3", 3, 63), clip("h4", 63, LAST)),
            inserts=[trim(False), equalizer(85, 12, (190, -2.5))],
            sends=[send("klang", -16.0)],
        ),
        track(
            "stall",
            "Git stall",
            -11.5,
            -20.0,
            "gitarrer",
            joined(clip("s3", 3, 63), clip("s4", 63, LAST)),
            inserts=[trim(False), equalizer(95, 12, (240, -2.0), (3200, -1.5))],
            sends=[send("klang", -18.0)],
            comment="i fas med halsen, lyssnat i mono. Vänd inte!",
        ),
        track(
            "git2",
            "Git 2",
            -13.0,
            55.0,
            "gitarrer",
            joined(clip("g2", 27, 43), clip("g2", 63, 79), clip("g2", 87, LAST)),
            inserts=[trim(False), equalizer(120, 12)],
            sends=[send("klang", -15.0)],
        ),
        {
            "id": "gitarrer",
            "name": "Gitarrer",
            "kind": "group",
            "legs": 2,
            "fader_db": -1.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "output": "mix",
            "inserts": [equalizer(80, 18), compressor(-20, 2, 25, 180, 1.0)],
        },
    ]


def breaths() -> Strip:
    """The voice's fader: section by section, and pulled down for one beat at the loud breaths."""
    points = [
        (1, -6.5),
        (18.3, -18.0),
        (19, -6.5),
        (26.3, -5.5),
        (34.3, -17.0),
        (35, -5.5),
        (46.3, -6.5),
        (54.3, -18.0),
        (55, -6.5),
        (62.3, -5.5),
        (70.3, -17.0),
        (71, -5.5),
        (79, -7.5),
        (82.3, -18.0),
        (83, -7.5),
        (86.3, -5.0),
        (104, -7.0),
    ]
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "hold",
        "t": [at(place) for place, _ in points],
        "v": [value for _, value in points],
    }


def voices() -> list[Strip]:
    """The voice, the harmony and the old memo."""
    lead = joined(
        clip("v2", 10.3, 19),
        clip("v5", 19, 26.2, 0.5),
        clip("v2", 26.3, 42),
        clip("v5", 46.3, 62, 0.5),
        clip("v2", 62.3, 78),
        clip("v5", 79, 86, 1.5),
        clip("v2", 86.3, 102.3),
        clip("v2", 104, 110.3),
    )
    memo = clip("tel", 11, 95)
    return [
        track(
            "sang",
            "Sång",
            -6.5,
            0.0,
            "mix",
            lead,
            inserts=[
                equalizer(95, 18, (280, -2.0), (4000, 1.0)),
                compressor(-22, 3, 10, 120, 3.0),
                {"name": "De-esser", "kind": "de-esser", "on": True},
            ],
            sends=[send("klang", -13.0), send("eko", -19.0)],
            automation=[breaths()],
            comment="tag 2 + 5, andetag neddragna för hand",
        ),
        track(
            "stamma",
            "Stämma",
            -13.0,
            15.0,
            "mix",
            joined(clip("st", 26.3, 42), clip("st", 62.3, 78), clip("st", 86.3, 102.3)),
            inserts=[equalizer(140, 18, (300, -2.0)), compressor(-24, 4, 8, 120, 3.0)],
            sends=[send("klang", -10.0)],
            comment="tunt, ska ligga under sången",
        ),
        track(
            "tel",
            "Sång telefon",
            -10.0,
            0.0,
            "mix",
            [memo],
            mute=True,
            comment="första skissen, bara som minne, används inte",
        ),
    ]


def end() -> list[Strip]:
    """The two returns and the mix."""
    fade = {"target": "fader", "scale": "dB", "shape": "linear", "t": [0.0, at(112), at(113.3)], "v": [0.0, 0.0, -70.0]}
    room = {
        "name": "Rum",
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": 12.0,
        "parameters": [{"id": "decay", "name": "Efterklang", "value": 1.4, "unit": "s"}],
    }
    echo = {
        "name": "Eko",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "time", "name": "Tid", "value": 312.5, "unit": "ms"},
            {"id": "feedback", "name": "Återkoppling", "value": 18.0, "unit": "%"},
        ],
    }
    common = {"legs": 2, "pan": 0.0, "mute": False, "solo": False}
    return [
        {
            "id": "klang",
            "name": "Klang",
            "kind": "return",
            "fader_db": -4.0,
            "output": "mix",
            "inserts": [room, equalizer(200, 12)],
            "comment": "gemensamt rum för alla",
        }
        | common,
        {
            "id": "eko",
            "name": "Eko",
            "kind": "return",
            "fader_db": -6.0,
            "output": "mix",
            "inserts": [echo, equalizer(250, 12)],
            "comment": "åttondel, bara sång",
        }
        | common,
        {
            "id": "mix",
            "name": "Mix",
            "kind": "master",
            "fader_db": 0.0,
            "inserts": [
                compressor(-16, 1.5, 30, 200, 1.0),
                {
                    "name": "Limiter",
                    "kind": "limiter",
                    "on": True,
                    "opaque": False,
                    "dynamics": {"threshold_db": -3.0, "release_ms": 120.0},
                    "parameters": [{"id": "ceiling", "name": "Tak", "value": -1.0, "unit": "dB"}],
                },
            ],
            "automation": [fade],
        }
        | common,
    ]


def good() -> Session:
    """The session as it should be bounced."""
    bass = track(
        "bas",
        "Bas",
        -11.5,
        0.0,
        "mix",
        joined(clip("b1", 27, 79), clip("b1", 87, LAST)),
        inserts=[equalizer(35, 12, (110, 1.5), (320, -2.0)), compressor(-20, 4, 20, 160, 2.5)],
        comment="DI, direkt till mixen",
    )
    shaker = track(
        "shaker",
        "Shaker",
        -22.0,
        30.0,
        "mix",
        joined(clip("sh", 47, 79), clip("sh", 87, 107)),
        inserts=[equalizer(500, 12)],
        sends=[send("klang", -14.0)],
    )
    return {
        "format": "mixlint-session/1",
        "title": "Grusväg i mars (demo)",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": (bar - 1) * 3.0, "bpm": tempo} for bar, tempo in SLOWING.items()],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [{"time_s": at(place), "name": name} for place, name in MARKERS],
        "channels": [*guitars(), bass, shaker, *voices(), *end()],
        "media": [
            {
                "id": take,
                "path": f"ljud/{name}.wav",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": round(at(stop) - at(start), 3),
            }
            for take, (name, start, stop) in TAKES.items()
        ],
    }


def channel(session: Session, name: str) -> Strip:
    """The channel of a name."""
    found: Strip = next(c for c in session["channels"] if c["name"] == name)
    return found


def media(session: Session, ident: str) -> dict[str, Any]:
    """The media file of an id."""
    found: dict[str, Any] = next(m for m in session["media"] if m["id"] == ident)
    return found


def room_to_the_left(session: Session) -> None:
    """The reverb's return was turned to the left while the guitar was meant."""
    channel(session, "Klang")["pan"] = -100.0


def breath_stays_down(session: Session) -> None:
    """The point that brings the voice back after a breath in the second verse has gone."""
    lane = channel(session, "Sång")["automation"][0]
    where = lane["t"].index(at(55))
    del lane["t"][where], lane["v"][where]


def harmony_too_loud(session: Session) -> None:
    """Typed -1.3 where -13 was meant."""
    channel(session, "Stämma")["fader_db"] = -1.3


def bass_in_guitars(session: Session) -> None:
    """The bass went to the group along with the guitars."""
    channel(session, "Bas")["output"] = "gitarrer"


def bridge_mic_flipped(session: Session) -> None:
    """The polarity switch of the bridge microphone was touched."""
    channel(session, "Git stall")["inserts"][0]["parameters"][1]["value"] = True


def hole_at_the_join(session: Session) -> None:
    """The neck microphone's second take was trimmed away from the join."""
    clip_two = channel(session, "Git hals")["clips"][1]
    clip_two["start_s"] = round(clip_two["start_s"] + 0.42, 5)
    clip_two["offset_s"] = round(clip_two["offset_s"] + 0.42, 5)
    clip_two["fade_in_s"] = 0.02


def second_guitar_missing(session: Session) -> None:
    """The second guitar's file was not copied along."""
    media(session, "g2")["present"] = False


def guitar_by_two_ways(session: Session) -> None:
    """The second guitar plays into the group and is sent there as well."""
    channel(session, "Git 2")["sends"].append(send("gitarrer", 0.0))


def echo_half_dry(session: Session) -> None:
    """The echo was tried out on the track and moved to the return with its mix as it was."""
    channel(session, "Eko")["inserts"][0]["wet"] = 40.0


def fade_too_early(session: Session) -> None:
    """The fade of the first plan, without the ending, was left on the mix."""
    channel(session, "Mix")["automation"][0]["t"][1:] = [at(102), at(105)]


def shaker_on_the_desktop(session: Session) -> None:
    """The shaker's file lies on the desktop, not with the session."""
    media(session, "sh").update({"path": "../../skrivbord/shaker_tag1.wav", "place": "outside"})


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Sång telefon"], "why": "a muted memo kept as a souvenir, as its comment says"},
    {"channels": ["Sång"], "why": "steep one-beat dips on the fader at breaths are this engineer's way"},
    {
        "channels": ["Git hals", "Git stall"],
        "why": "two microphones of one guitar, both left of the middle by intention",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-to-the-left",
        "class": "place",
        "channels": ["Klang"],
        "grade": "look",
        "says": "The return Klang, the common room of all, is panned hard left; it belongs in the middle.",
        "plant": room_to_the_left,
    },
    {
        "id": "breath-stays-down",
        "class": "automation",
        "channels": ["Sång"],
        "grade": "hold",
        "says": "After the breath at the middle of verse 2 the voice's fader stays at -18 dB until refrain 2.",
        "plant": breath_stays_down,
    },
    {
        "id": "harmony-too-loud",
        "class": "level",
        "channels": ["Stämma"],
        "grade": "look",
        "says": "Stämma stands at -1.3 dB, above the lead at about -6, although it is meant to lie under it.",
        "plant": harmony_too_loud,
    },
    {
        "id": "bass-in-guitars",
        "class": "routing",
        "channels": ["Bas"],
        "grade": "look",
        "says": "Bas runs into Gitarrer with its high-pass at 80 Hz and its compressor instead of straight to Mix.",
        "plant": bass_in_guitars,
    },
    {
        "id": "bridge-mic-flipped",
        "class": "phase",
        "channels": ["Git stall"],
        "grade": "look",
        "says": "Git stall's polarity is reversed against Git hals, though its comment says it must not be.",
        "plant": bridge_mic_flipped,
    },
    {
        "id": "hole-at-the-join",
        "class": "edits",
        "channels": ["Git hals"],
        "grade": "look",
        "says": "Git hals has a hole of 0.42 s at the join at refrain 2, where Git stall goes on in a crossfade.",
        "plant": hole_at_the_join,
    },
    {
        "id": "second-guitar-missing",
        "class": "files",
        "channels": ["Git 2"],
        "grade": "hold",
        "says": "The file of Git 2 is missing, its clips play nothing.",
        "plant": second_guitar_missing,
    },
    {
        "id": "guitar-by-two-ways",
        "class": "twice",
        "channels": ["Git 2"],
        "grade": "look",
        "says": "Git 2 plays into Gitarrer and is sent there at 0 dB too, so it arrives twice.",
        "plant": guitar_by_two_ways,
    },
    {
        "id": "echo-half-dry",
        "class": "ambience",
        "channels": ["Eko"],
        "grade": "look",
        "says": "The echo on the return Eko is only 40 per cent wet, so more dry voice comes back with it.",
        "plant": echo_half_dry,
    },
    {
        "id": "fade-too-early",
        "class": "end",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The fade on Mix is over at bar 105, while the last line and the last chord come after it.",
        "plant": fade_too_early,
    },
    {
        "id": "shaker-on-the-desktop",
        "class": "hand-over",
        "channels": ["Shaker"],
        "grade": "note",
        "says": "Shaker's file lies outside the session's folder and will not travel with it.",
        "plant": shaker_on_the_desktop,
    },
]
