"""Ninth Sluice Dub: dub techno at 124, sixteen strips, the arrangement played on mutes and sends.

Drum sampler and synths from notes, a printed sub, one loop of eight bars, a melodica jam in one long file, a few
shouts, a siren and a field recording of a lock gate that runs from end to end. Two returns: a tape echo on three
sixteenths and a spring, each feeding the other a little. The rim is thrown into the echo on the last beat of every
eight bars and never else; echo feedback goes up in the breaks and comes back; hats, drums and sub are dropped by mute
automation.

The engineer prints the sub and keeps its instrument muted, pans little and keeps the bottom in the middle, leaves
second tries of a shout under the good one with the clip muted, and fades the whole thing out by hand on the mix.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Thing = dict[str, Any]

RATE = 44100.0
BPM = 124.0
BAR = 4 * 60.0 / BPM
END = 114
FULL = ((8, 40), (48, 72), (80, 104))
THROWS = (15.75, 23.75, 31.75, 39.75, 55.75, 63.75, 71.75, 87.75, 95.75, 103.75)


def at(bar: float) -> float:
    """The second at which a bar begins, counted from 0."""
    return round(bar * BAR, 4)


def unit(name: str, kind: str, **more: Any) -> Thing:
    """A processor."""
    return {"name": name, "kind": kind, "on": True, "opaque": not more, **more}


def value(ident: str, amount: float | str, measure: str = "") -> Thing:
    """A listed setting."""
    return {"id": ident, "name": ident, "value": amount, "unit": measure}


def band(kind: str, freq: float, gain: float, q: float = 0.8) -> Thing:
    """A band with gain."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def cut(kind: str, freq: float, slope: float = 12.0) -> Thing:
    """A high-pass or low-pass band."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def eq(*bands: Thing) -> Thing:
    """An equalizer."""
    return unit("eq", "equalizer", equalizer={"bands": list(bands)})


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Thing:
    """A compressor."""
    settings = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": makeup,
        "auto_makeup": False,
    }
    return unit(name, "compressor", dynamics=settings)


def send(to: str, level: float, on: bool = True) -> Thing:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def curve(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Thing:
    """An automation curve, in bars."""
    times, levels = [at(bar) for bar, _ in points], [level for _, level in points]
    return {"target": target, "scale": scale, "shape": shape, "t": times, "v": levels}


def mutes(*drops: tuple[float, float]) -> Thing:
    """Played mutes: each drop from one bar to another."""
    points = [(0.0, 0.0)]
    for first, last in drops:
        points += [(first, 1.0), (last, 0.0)]
    return curve("mute", "switch", "hold", *points)


def notes(name: str, *spans: tuple[float, float]) -> list[Thing]:
    """Clips of notes."""
    return [
        {"start_s": at(a), "end_s": at(b), "name": f"{name} {i}", "plays": "notes", "fade_in_s": 0.0, "fade_out_s": 0.0}
        for i, (a, b) in enumerate(spans, 1)
    ]


def audio(name: str, file: str, start: float, end: float, offset: float, **more: Any) -> Thing:
    """A stretch of audio, in seconds."""
    base: Thing = {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 4),
        "speed": 1.0,
        "fade_in_s": 0.003,
        "fade_out_s": 0.003,
        "gain_db": 0.0,
        "on": True,
    }
    return base | more


def strip(ident: str, name: str, kind: str, to: str | None, fader: float, pan: float = 0.0, **more: Any) -> Thing:
    """A strip of the desk."""
    base: Thing = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": to,
        "sends": [],
        "inserts": [],
        "automation": [],
    }
    if kind == "track":
        base |= {"plays": ["notes"], "clips": []}
    return base | more


def drums() -> list[Thing]:
    """Kick, rim, hats and the loop."""
    kick = strip("kick", "kick", "track", "drums", -5.0, comment="gone in the breaks")
    kick["inserts"] = [unit("drum sampler", "instrument"), eq(cut("high-pass", 28.0), band("bell", 55.0, 1.5))]
    kick["clips"] = notes("kick", (8, 24), (24, 40), (48, 72), (80, 104), (104, 108))
    rim = strip("rim", "rim", "track", "drums", -11.0, 12.0, comment="throw = last beat of 8, into the echo")
    rim["inserts"] = [unit("drum sampler", "instrument"), eq(cut("high-pass", 240.0))]
    rim["sends"] = [send("spring", -18.0), send("tape", -4.0, on=False)]
    rim["clips"] = notes("rim", *FULL)
    throws = [(0.0, 0.0)]
    for bar in THROWS:
        throws += [(bar, 1.0), (bar + 0.25, 0.0)]
    rim["automation"] = [curve("send:1:on", "switch", "hold", *throws)]
    hats = strip("hats", "hats", "track", "drums", -13.0, -12.0)
    hats["inserts"] = [
        unit("drum sampler", "instrument"),
        eq(cut("high-pass", 380.0), band("high-shelf", 9000.0, -1.5)),
    ]
    hats["clips"] = notes("hats", (24, 40), (48, 72), (80, 104))
    hats["automation"] = [mutes((30, 32), (62, 64), (94, 96))]
    loop = strip("perc", "perc loop", "track", "drums", -15.0, plays=["audio"])
    loop["inserts"] = [eq(cut("high-pass", 180.0), cut("low-pass", 11000.0))]
    loop["clips"] = [
        audio("perc_124_8bar", "perc_124_8bar", at(bar), at(bar + 8), 0.0)
        for first, last in ((24, 40), (48, 72), (80, 104))
        for bar in range(first, last, 8)
    ]
    return [kick, rim, hats, loop]


def bottom() -> list[Thing]:
    """The sub as an instrument and as it was printed."""
    spans = ((8, 40), (48, 72), (80, 112))
    source = strip("sub", "sub", "track", "mix", -7.0, comment="PRINTED -> sub print. keep muted, for recall")
    source["mute"] = True
    source["inserts"] = [unit("mono synth", "instrument"), eq(cut("low-pass", 160.0, 24.0))]
    source["clips"] = notes("sub", *spans)
    printed = strip("subp", "sub print", "track", "mix", -7.0, plays=["audio"], legs=1)
    printed["inserts"] = [
        eq(cut("high-pass", 30.0), cut("low-pass", 160.0, 24.0)),
        comp("comp", -18.0, 3.0, 20.0, 90.0, 1.0),
    ]
    printed["clips"] = [audio("sub_print", "sub_print", at(a), at(b), at(a) - at(8), fade_out_s=0.02) for a, b in spans]
    printed["automation"] = [mutes((62, 64), (94, 95))]
    return [source, printed]


def music() -> list[Thing]:
    """Stab, melodica, shouts, siren and the lock gate."""
    stab = strip("stab", "stab", "track", "music", -10.0, -6.0)
    stab["inserts"] = [
        unit("chord synth", "instrument"),
        unit("filter", "filter", parameters=[value("mode", "low-pass"), value("cutoff", 700.0, "Hz")]),
        eq(cut("high-pass", 150.0)),
    ]
    stab["sends"] = [send("tape", -12.0), send("spring", -21.0)]
    stab["clips"] = notes("stab", (0, 8), (8, 40), (40, 48), (48, 72), (72, 80), (80, 112))
    stab["automation"] = [
        curve("insert:1:cutoff", "plain", "linear", (0, 700.0), (8, 700.0), (40, 1900.0), (47, 3400.0), (48, 1500.0),
              (72, 2200.0), (79, 4200.0), (80, 1800.0), (104, 2400.0), (112, 600.0)),
    ]  # fmt: skip
    melodica = strip("mel", "melodica", "track", "music", -9.0, 8.0, plays=["audio"], legs=1)
    melodica["inserts"] = [
        eq(cut("high-pass", 220.0), band("bell", 1700.0, -2.0, 1.4)),
        comp("comp", -22.0, 3.0, 8.0, 140.0, 2.0),
    ]
    melodica["sends"] = [send("spring", -13.0), send("tape", -16.0)]
    melodica["clips"] = [
        audio("melodica jam", "melodica_jam", at(a), at(b) - 0.2, at(a), fade_in_s=0.05, fade_out_s=0.3, gain_db=gain)
        for a, b, gain in ((24, 40, 0.0), (60, 72, 1.0), (84, 104, 0.0))
    ]
    melodica["automation"] = [
        curve("fader", "dB", "linear", (0, -9.0), (34, -9.0), (39, -12.0), (60, -10.0), (84, -8.5), (98, -8.5),
              (104, -14.0)),
    ]  # fmt: skip
    shout = strip("shout", "shout", "track", "music", -8.0, plays=["audio"], legs=1)
    shout["comment"] = "second tries stay under the good ones, clips muted"
    shout["inserts"] = [
        eq(cut("high-pass", 260.0), cut("low-pass", 4800.0)),
        comp("comp", -24.0, 4.0, 3.0, 110.0, 3.0),
    ]
    shout["sends"] = [send("spring", -11.0), send("tape", -5.0)]
    shout["clips"] = [
        audio(name, file, at(bar), at(bar) + length, 0.05, fade_out_s=0.08, on=on)
        for bar, name, file, length, on in (
            (7.0, "shout_01 sluice", "shout_01", 1.7, True),
            (23.0, "shout_02 open", "shout_02", 1.4, True),
            (40.0, "shout_03 water come", "shout_03", 2.3, True),
            (40.0, "shout_04 alt of 03 - no", "shout_04", 2.1, False),
            (47.0, "shout_01 sluice", "shout_01", 1.7, True),
            (71.0, "shout_02 open", "shout_02", 1.4, True),
            (79.0, "shout_03 water come", "shout_03", 2.3, True),
            (79.0, "shout_04 alt of 03 - no", "shout_04", 2.1, False),
            (103.0, "shout_01 sluice", "shout_01", 1.7, True),
        )
    ]
    siren = strip("siren", "siren", "track", "music", -16.0, 20.0)
    siren["inserts"] = [unit("siren synth", "instrument"), eq(cut("high-pass", 300.0), cut("low-pass", 5000.0))]
    siren["sends"] = [send("tape", -9.0)]
    siren["clips"] = notes("siren", (42, 44), (74, 76), (108, 110))
    gate = strip(
        "hiss", "lock gate", "track", "music", -22.0, plays=["audio"], comment="end to end, the mix fade ends it"
    )
    gate["inserts"] = [eq(cut("high-pass", 160.0), cut("low-pass", 9000.0))]
    gate["clips"] = [audio("lock gate", "lock_gate_field", 0.0, at(END), 8.0, fade_in_s=4.0, fade_out_s=0.05)]
    return [stab, melodica, shout, siren, gate]


def desk() -> list[Thing]:
    """Groups, the two returns and the mix."""
    beats = strip("drums", "DRUMS", "group", "mix", -1.0)
    beats["inserts"] = [comp("bus comp", -16.0, 2.0, 20.0, 100.0, 1.0)]
    beats["automation"] = [mutes((71.5, 72))]
    band_bus = strip("music", "MUSIC", "group", "mix", -0.5)
    band_bus["inserts"] = [eq(cut("high-pass", 90.0))]
    tape = strip("tape", "TAPE ECHO", "return", "mix", -3.0, comment="3/16 @ 124 = 363 ms. fb up in breaks only")
    tape["inserts"] = [
        unit("tape echo", "delay", wet=100.0, parameters=[value("time", 362.9, "ms"), value("feedback", 42.0, "%")]),
        eq(cut("high-pass", 230.0), cut("low-pass", 4200.0)),
    ]
    tape["sends"] = [send("spring", -12.0)]
    tape["automation"] = [
        curve("insert:0:feedback", "plain", "linear", (0, 42.0), (40, 42.0), (42, 64.0), (47, 64.0), (48, 42.0),
              (72, 42.0), (74, 66.0), (79, 66.0), (80, 42.0)),
    ]  # fmt: skip
    spring = strip(
        "spring", "SPRING", "return", "mix", -5.0, comment="goes back into the echo, keep the loop under unity"
    )
    spring["inserts"] = [
        unit("spring tank", "reverb", wet=100.0, pre_delay_ms=0.0, parameters=[value("decay", 2.2, "s")]),
        eq(cut("high-pass", 320.0), cut("low-pass", 6000.0)),
    ]
    spring["sends"] = [send("tape", -15.0)]
    mix = strip("mix", "MIX", "master", None, 0.0)
    del mix["output"]
    mix["inserts"] = [
        eq(cut("high-pass", 24.0), band("high-shelf", 8000.0, 1.5, 0.7)),
        comp("glue", -14.0, 2.0, 30.0, 150.0, 2.0),
        unit("tape colour", "distortion", parameters=[value("drive", 2.0, "dB")]),
        unit("limiter", "limiter", dynamics={"threshold_db": -1.0, "release_ms": 80.0, "output_gain_db": 0.0}),
        unit("meter", "analyser"),
    ]
    mix["automation"] = [
        curve("fader", "dB", "linear", (0, 0.0), (106, 0.0), (110, -9.0), (113, -36.0), (END, -200.0)),
    ]
    return [beats, band_bus, tape, spring, mix]


def media() -> list[Thing]:
    """Every file with its length and width."""
    rows = [
        ("perc_124_8bar", "loops/perc_124_8bar.wav", 2, 15.484),
        ("sub_print", "prints/sub_print.wav", 1, 203.5),
        ("melodica_jam", "rec/melodica_jam.wav", 1, 214.6),
        ("shout_01", "rec/shout_01.wav", 1, 2.2),
        ("shout_02", "rec/shout_02.wav", 1, 1.9),
        ("shout_03", "rec/shout_03.wav", 1, 2.8),
        ("shout_04", "rec/shout_04.wav", 1, 2.6),
        ("lock_gate_field", "field/lock_gate_field.wav", 2, 241.3),
    ]
    return [
        {
            "id": ident,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": seconds,
        }
        for ident, path, legs, seconds in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    named = [(0, "in"), (8, "A"), (24, "B"), (40, "break 1"), (48, "C"), (72, "break 2"), (80, "D"), (104, "out"),
             (106, "fade"), (END, "END (faded to nothing)")]  # fmt: skip
    return {
        "format": "mixlint-session/1",
        "title": "Ninth Sluice Dub",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in named],
        "channels": drums() + bottom() + music() + desk(),
        "media": media(),
        "metadata": {"version": "dub 2, played mutes", "rate": "44.1k all files"},
    }


def channel(session: Session, name: str) -> Thing:
    """The channel of a name."""
    found: Thing = next(c for c in session["channels"] if c["name"] == name)
    return found


def echo_of_another_tempo(session: Session) -> None:
    """The echo keeps the time it had at 120."""
    channel(session, "TAPE ECHO")["inserts"][0]["parameters"][0]["value"] = 375.0


def fade_half_drawn(session: Session) -> None:
    """The last two points of the mix fade are missing."""
    fade = channel(session, "MIX")["automation"][0]
    fade["t"], fade["v"] = fade["t"][:-2], fade["v"][:-2]


def sub_and_print(session: Session) -> None:
    """The instrument sounds along with its print."""
    channel(session, "sub")["mute"] = False


def melodica_other_rate(session: Session) -> None:
    """The melodica's file is at 48 kHz."""
    next(f for f in session["media"] if f["id"] == "melodica_jam")["sample_rate_hz"] = 48000.0


def throw_left_open(session: Session) -> None:
    """One throw of the rim is not closed again."""
    throws = channel(session, "rim")["automation"][0]
    i = throws["t"].index(at(88))
    del throws["t"][i], throws["v"][i]


def second_try_on(session: Session) -> None:
    """A second try of a shout sounds with the good one."""
    channel(session, "shout")["clips"][7]["on"] = True


def loop_over_unity(session: Session) -> None:
    """The send of the spring into the echo has lost its minus."""
    channel(session, "SPRING")["sends"][0]["level_db"] = 15.0


def sub_off_centre(session: Session) -> None:
    """The printed sub leans left."""
    channel(session, "sub print")["pan"] = -40.0


def limiter_first(session: Session) -> None:
    """The limiter was dragged to the head of the mix chain."""
    chain = channel(session, "MIX")["inserts"]
    chain.insert(0, chain.pop(3))


def loop_to_nowhere(session: Session) -> None:
    """The loop has lost its output."""
    channel(session, "perc loop")["output"] = None


def synth_bypassed(session: Session) -> None:
    """The synth of the stab is switched off."""
    channel(session, "stab")["inserts"][0]["on"] = False


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["sub"], "why": "muted on purpose: it is printed, the comment says so"},
    {"channels": ["shout"], "why": "muted second tries lie under the good clips on purpose"},
    {"channels": ["TAPE ECHO", "SPRING"], "why": "feed each other on purpose, 27 dB under unity in all"},
    {"channels": ["lock gate"], "why": "has no fade-out of its own, the mix fades it"},
    {"channels": ["DRUMS", "hats", "sub print"], "why": "short drops by mute automation are played"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "echo-of-another-tempo",
        "class": "tempo",
        "channels": ["TAPE ECHO"],
        "grade": "look",
        "says": "The echo is set to 375 ms, three sixteenths at 120; at 124 it is 363 ms, as its comment says.",
        "plant": echo_of_another_tempo,
    },
    {
        "id": "fade-half-drawn",
        "class": "end",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The mix fade stops at -9 dB at bar 110 and never reaches nothing; the end breaks off in full sound.",
        "plant": fade_half_drawn,
    },
    {
        "id": "sub-and-print",
        "class": "twice",
        "channels": ["sub", "sub print"],
        "grade": "hold",
        "says": "The sub instrument is unmuted though printed: the bass sounds twice, from notes and from sub print.",
        "plant": sub_and_print,
    },
    {
        "id": "melodica-other-rate",
        "class": "files",
        "channels": ["melodica"],
        "grade": "look",
        "says": "melodica_jam is at 48 kHz in a 44.1 kHz session where all other files are 44.1; pitch is at risk.",
        "plant": melodica_other_rate,
    },
    {
        "id": "throw-left-open",
        "class": "automation",
        "channels": ["rim"],
        "grade": "look",
        "says": "The throw at bar 87.75 stays open for eight bars; all others shut after one beat.",
        "plant": throw_left_open,
    },
    {
        "id": "second-try-on",
        "class": "audible-that-should-not-be",
        "channels": ["shout"],
        "grade": "look",
        "says": "The clip 'shout_04 alt of 03 - no' at break 2 is on and sounds over shout_03; at bar 40 it is muted.",
        "plant": second_try_on,
    },
    {
        "id": "loop-over-unity",
        "class": "ambience",
        "channels": ["SPRING", "TAPE ECHO"],
        "grade": "hold",
        "says": "SPRING sends +15 dB back into the echo, which sends it -12: the loop is over unity and runs away.",
        "plant": loop_over_unity,
    },
    {
        "id": "sub-off-centre",
        "class": "place",
        "channels": ["sub print"],
        "grade": "look",
        "says": "The sub print is panned 40 left; kick and the muted sub are in the middle.",
        "plant": sub_off_centre,
    },
    {
        "id": "limiter-first",
        "class": "processors",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The limiter stands before the shelf, the glue's make-up and the drive, so nothing holds the peaks.",
        "plant": limiter_first,
    },
    {
        "id": "loop-to-nowhere",
        "class": "routing",
        "channels": ["perc loop"],
        "grade": "hold",
        "says": "perc loop has no output and no sends: it is not heard; the other drums go to DRUMS.",
        "plant": loop_to_nowhere,
    },
    {
        "id": "synth-bypassed",
        "class": "inaudible",
        "channels": ["stab"],
        "grade": "hold",
        "says": "The instrument of the stab is switched off, so its notes make no sound.",
        "plant": synth_bypassed,
    },
]
