"""La lampe du fond: one tune from the second set of a jazz quintet, recorded in a small hall with the audience.

One file per microphone runs through the whole set, so every clip begins far inside its file. No click, no tempo map.
The band wanted one chorus of the piano solo out; the cut goes through all microphones at the same place. Left and right
as the audience sees it: piano on the left, trumpet and tenor right of the middle. The three hall microphones are pulled
forward by their distance. Horn microphones are only open while their player plays. Each soloist is lifted during the
solo, the audience after each solo. The band speaks English and French, and so do the names.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]

RATE = 96000.0
SET_START = 1496.35
SET_LENGTH = 3482.6
CHORUS = 32.2
HEAD = 40.2
TENOR = HEAD + 2 * CHORUS
TRUMPET = TENOR + 3 * CHORUS
PIANO = TRUMPET + 3 * CHORUS
SPLICE = PIANO + CHORUS
TRADES = PIANO + 2 * CHORUS
HEAD_OUT = TRADES + 2 * CHORUS
CODA = HEAD_OUT + 2 * CHORUS
LAST = CODA + 12.0
APPLAUSE = LAST + 7.5
END = APPLAUSE + 28.0
MARKERS: list[tuple[float, str]] = [
    (0.0, "Annonce"),
    (22.4, "Intro piano"),
    (HEAD, "Thème"),
    (TENOR, "Solo ténor"),
    (TRUMPET, "Solo tp"),
    (PIANO, "Solo piano"),
    (SPLICE, "COUPE (1 chorus out)"),
    (TRADES, "Trades 8/8 w/ drums"),
    (HEAD_OUT, "Thème out"),
    (CODA, "Coda"),
    (LAST, "Dernier accord"),
    (APPLAUSE, "Appl."),
    (END, "FIN"),
]
SHAPE = {"hp": "high-pass", "lp": "low-pass", "bell": "bell", "hs": "high-shelf", "ls": "low-shelf"}
DISTANCE = {"pg": 0.034, "pd": 0.034, "pf": 0.052}


def source(time: float) -> float:
    """Where a moment of the song lies in the files of the set, the chorus taken out being skipped."""
    return SET_START + time + (CHORUS if time >= SPLICE else 0.0)


def piece(stem: str, number: int, file: str, start: float, end: float, fade: tuple[float, float], join: float) -> Part:
    """A clip between two moments; at the splice it overlaps by ``join`` on either side."""
    begin = start - join if start == SPLICE else start
    stop = end + join if end == SPLICE else end
    ahead = DISTANCE.get(file, 0.0)
    return {
        "start_s": round(begin, 6),
        "end_s": round(stop, 6),
        "name": f"{stem}.{number:02d}",
        "plays": "audio",
        "file": file,
        "offset_s": round(source(start) + begin - start + ahead, 6),
        "speed": 1.0,
        "fade_in_s": 2 * join if start == SPLICE else fade[0],
        "fade_out_s": 2 * join if end == SPLICE else fade[1],
        "gain_db": 0.0,
        "on": True,
    }


def through(
    stem: str, file: str, start: float, fade: tuple[float, float] = (0.5, 4.0), join: float = 0.02
) -> list[Part]:
    """A microphone that is open all the time: two clips, joined at the splice."""
    return [
        piece(stem, 1, file, start, SPLICE, fade, join),
        piece(stem, 2, file, SPLICE, END, fade, join),
    ]


def played(stem: str, file: str, solo: tuple[float, float]) -> list[Part]:
    """A horn: head, solo, trades, head and coda, with a breath before and some ring behind."""
    turns = [(HEAD, TENOR), solo, (TRADES, HEAD_OUT), (HEAD_OUT, APPLAUSE)]
    made: list[Part] = []
    for start, end in turns:
        if made and start - 0.8 < made[-1]["end_s"]:
            made[-1]["end_s"] = round(end + 1.2, 6)
        else:
            made.append(piece(stem, len(made) + 1, file, start - 0.8, end + 1.2, (0.25, 0.6), 0.0))
    made[-1]["end_s"] = round(APPLAUSE, 6)
    return made


def eq(*bands: str, name: str = "EQ") -> Part:
    """An equalizer; a band reads "hp 80 12" (slope) or "bell 240 -3 1.2" (gain, Q)."""
    made: list[Part] = []
    for band in bands:
        kind, freq, value, *rest = band.split()
        one: Part = {"kind": SHAPE[kind], "freq_hz": float(freq), "on": True}
        if kind in ("hp", "lp"):
            one["slope_db_per_oct"] = float(value)
        else:
            one["gain_db"] = float(value)
            one["q"] = float(rest[0]) if rest else 0.7
        made.append(one)
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": made}}


def comp(threshold: float, ratio: float, attack: float, release: float, name: str = "Comp") -> Part:
    """A compressor."""
    dynamics = {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release, "knee_db": 6.0}
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "dynamics": dynamics}


def fx(name: str, kind: str, *params: tuple[str, float, str], on: bool = True, **more: Any) -> Part:
    """Any other processor with the parameters that it lists."""
    listed = [{"id": p.lower().replace(" ", "_"), "name": p, "value": v, "unit": u} for p, v, u in params]
    return {"name": name, "kind": kind, "on": on, "opaque": not listed, "parameters": listed, **more}


def send(to: str, level: float) -> Part:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def lift(base: float, up: float, start: float, end: float) -> Part:
    """A soloist's ride: from the base up for the solo and back again."""
    times = [0.0, start - 1.0, start + 1.0, end - 1.5, end + 1.5]
    return curve("fader", "dB", "linear", list(zip(times, [base, base, up, up, base], strict=True)))


def curve(target: str, scale: str, shape: str, points: list[tuple[float, float]]) -> Part:
    """An automation of points (time, value)."""
    times = [round(time, 6) for time, _ in points]
    return {"target": target, "scale": scale, "shape": shape, "t": times, "v": [value for _, value in points]}


def applause() -> Part:
    """The audience: up for the beginning, the claps behind each solo, and the end."""
    low, clap, open_ = -17.0, -11.0, -6.0
    points: list[tuple[float, float]] = [(0.0, open_), (19.5, open_), (22.0, low)]
    for end in (TRUMPET, PIANO, TRADES, HEAD_OUT):
        points += [(end - 1.0, low), (end + 1.0, clap), (end + 6.0, clap), (end + 9.0, low)]
    points += [(LAST + 4.0, low), (APPLAUSE, open_), (END, open_)]
    return curve("fader", "dB", "linear", points)


def strip(ident: str, name: str, fader: float, pan: float, output: str, **more: Any) -> Part:
    """A channel; whatever is not said is empty."""
    made: Part = {"id": ident, "name": name, "kind": "track", "legs": 1, "fader_db": fader, "pan": pan, "mute": False}
    made |= {"solo": False, "output": output, "sends": [], "inserts": [], "clips": [], "automation": []}
    made |= more
    if made["kind"] == "track":
        made["plays"] = ["audio"]
        made["parent"] = None if output == "mix" else output
    return made


def group(ident: str, name: str, fader: float, **more: Any) -> Part:
    """A stereo group into the mix."""
    return strip(ident, name, fader, 0.0, "mix", kind="group", legs=2, **more)


def rhythm() -> list[Part]:
    """Drums, double bass and piano with their groups."""
    over = ("hp 60 12", "bell 420 -1.5 0.9", "hs 12000 1")
    from_drums = 36.0
    return [
        strip(
            "bd",
            "Kick",
            -11.0,
            0.0,
            "bat",
            inserts=[eq("hp 32 12", "bell 380 -3 1")],
            clips=through("S2_01_Kick", "bd", from_drums),
        ),
        strip(
            "sn",
            "Snare",
            -13.0,
            0.0,
            "bat",
            sends=[send("salle", -19.0)],
            inserts=[eq("hp 110 12", "bell 5200 1.5 0.8")],
            clips=through("S2_02_Snare", "sn", from_drums),
        ),
        strip(
            "og", "OH G", -8.0, -55.0, "bat", inserts=[trim(), eq(*over)], clips=through("S2_03_OH_G", "og", from_drums)
        ),
        strip(
            "od", "OH D", -8.0, 55.0, "bat", inserts=[trim(), eq(*over)], clips=through("S2_04_OH_D", "od", from_drums)
        ),
        group("bat", "Batterie", -3.0, inserts=[comp(-16.0, 1.5, 30.0, 180.0, "Glue")]),
        strip(
            "cm",
            "Ctb micro",
            -7.0,
            0.0,
            "ctb",
            inserts=[eq("hp 34 12", "bell 190 -2.5 1.1", "bell 900 1.5 0.8")],
            clips=through("S2_05_Ctb_mic", "cm", 38.0),
        ),
        strip(
            "cd",
            "Ctb DI",
            -12.5,
            0.0,
            "ctb",
            inserts=[fx("Align", "utility", ("Delay", 1.2, "ms")), eq("hp 40 12", "bell 1500 -3 0.8", "lp 5000 12")],
            clips=through("S2_06_Ctb_DI", "cd", 38.0),
            comment="DI retardée de 1.2 ms vers le micro",
        ),
        group("ctb", "Contrebasse", -2.0, inserts=[comp(-20.0, 2.5, 20.0, 150.0)]),
        strip(
            "pb",
            "Piano grave",
            -6.5,
            -62.0,
            "pno",
            inserts=[eq("hp 38 12", "bell 260 -2 0.9")],
            clips=through("S2_07_Pno_grave", "pb", 20.8),
        ),
        strip(
            "pa",
            "Piano aigu",
            -6.5,
            -14.0,
            "pno",
            inserts=[eq("hp 70 12", "hs 9000 1")],
            clips=through("S2_08_Pno_aigu", "pa", 20.8),
        ),
        group(
            "pno",
            "Piano",
            -4.0,
            sends=[send("salle", -17.0)],
            inserts=[comp(-18.0, 1.5, 25.0, 200.0)],
            automation=[lift(-4.0, -2.2, PIANO, TRADES)],
            comment="piano à gauche, comme sur scène",
        ),
    ]


def trim() -> Part:
    """The input stage used on both overheads."""
    return fx("Trim", "utility", ("Gain", 0.0, "dB"), ("Invert", 0.0, "off/on"))


def front() -> list[Part]:
    """Horns, announcements, hall microphones and the desk feed."""
    horn = [eq("hp 110 12", "bell 2900 -1.5 1"), comp(-18.0, 2.0, 12.0, 140.0)]
    reed = [eq("hp 90 12", "bell 700 -1 1"), comp(-19.0, 2.0, 12.0, 140.0)]
    hall = ("hp 120 12", "hs 6000 -1.5")
    gate_talk = curve("mute", "switch", "hold", [(0.0, 0.0), (19.8, 1.0), (APPLAUSE + 1.0, 0.0)])
    return [
        strip(
            "tp",
            "Trompette",
            -8.0,
            16.0,
            "vts",
            sends=[send("salle", -13.0), send("plate", -18.0)],
            inserts=horn,
            clips=played("S2_09_Trompette", "tp", (TRUMPET, PIANO)),
            automation=[lift(-8.0, -5.8, TRUMPET, PIANO)],
        ),
        strip(
            "sx",
            "Sax ténor",
            -7.5,
            38.0,
            "vts",
            sends=[send("salle", -13.0), send("plate", -18.0)],
            inserts=reed,
            clips=played("S2_10_Sax_tenor", "sx", (TENOR, TRUMPET)),
            automation=[lift(-7.5, -5.2, TENOR, TRUMPET)],
            comment="same hall as tp",
        ),
        group("vts", "Vents", -2.5, inserts=[comp(-15.0, 1.5, 25.0, 160.0, "Glue")]),
        strip(
            "an",
            "Annonce",
            -9.0,
            0.0,
            "mix",
            inserts=[eq("hp 130 18", "bell 300 -3 1"), comp(-22.0, 3.0, 5.0, 100.0)],
            clips=through("S2_11_Annonce", "an", 0.0, (0.4, 3.0)),
            automation=[gate_talk],
            comment="open only for the talk, coupé pendant le morceau",
        ),
        strip(
            "pg",
            "Public G",
            -5.0,
            -90.0,
            "pub",
            inserts=[eq(*hall)],
            clips=through("S2_13_Public_G", "pg", 0.0, (1.5, 3.0), 0.25),
            comment="avancé de 34 ms",
        ),
        strip(
            "pd",
            "Public D",
            -5.0,
            90.0,
            "pub",
            inserts=[eq(*hall)],
            clips=through("S2_14_Public_D", "pd", 0.0, (1.5, 3.0), 0.25),
            comment="avancé de 34 ms",
        ),
        strip(
            "pf",
            "Public fond",
            -10.0,
            0.0,
            "pub",
            inserts=[eq("hp 160 12", "lp 9000 12")],
            clips=through("S2_15_Public_fond", "pf", 0.0, (1.5, 3.0), 0.25),
            comment="balcon, avancé de 52 ms",
        ),
        group("pub", "Public", -6.0, inserts=[eq("bell 250 -2 0.8")], automation=[applause()]),
        strip(
            "fa",
            "Face 2-mix",
            -6.0,
            0.0,
            "mix",
            legs=2,
            mute=True,
            clips=through("S2_16_Face", "fa", 0.0),
            comment="console de façade, reference only",
        ),
    ]


def ends() -> list[Part]:
    """The returns and the mix."""
    fade = curve("fader", "amplitude", "linear", [(0.0, 1.0), (END - 12.0, 1.0), (END, 0.0)])
    chain = [
        eq("hp 25 12", "bell 320 -0.8 0.7", "hs 11000 0.8"),
        comp(-12.0, 1.5, 40.0, 250.0, "Mix comp"),
        fx("Limiter", "limiter", ("Gain", 1.0, "dB"), ("Ceiling", -1.0, "dB")),
        fx("Meter", "analyser"),
        fx("Corr. casque", "monitor", on=False),
    ]
    return [
        strip(
            "salle",
            "Salle",
            -6.0,
            0.0,
            "mix",
            kind="return",
            legs=2,
            inserts=[eq("hp 180 12"), fx("Hall", "reverb", ("Decay", 1.7, "s"), wet=100.0, pre_delay_ms=22.0)],
        ),
        strip(
            "plate",
            "Plate vents",
            -8.0,
            0.0,
            "mix",
            kind="return",
            legs=2,
            inserts=[
                fx("Plate", "reverb", ("Decay", 1.1, "s"), wet=100.0, pre_delay_ms=8.0),
                eq("hp 300 12", "lp 9000 6"),
            ],
        ),
        strip(
            "mix",
            "MIX",
            0.0,
            0.0,
            "",
            kind="master",
            legs=2,
            inserts=chain,
            automation=[fade],
            comment="corr. casque = late nights only, off pour le bounce",
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = rhythm() + front() + ends()
    channels[-1].pop("output")
    rows: list[tuple[str, str, int]] = []
    for one in channels:
        if one["clips"]:
            stem = one["clips"][0]["name"].rpartition(".")[0]
            rows.append((one["clips"][0]["file"], f"SET 2/{stem}.wav", one["legs"]))
    like: Part = {"place": "beside", "present": True, "sample_rate_hz": RATE, "duration_s": SET_LENGTH}
    return {
        "format": "mixlint-session/1",
        "title": "La lampe du fond (live, set 2)",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "live, no click, pas de carte de tempo", "settle": ""},
        "markers": [{"time_s": round(time, 6), "name": name} for time, name in MARKERS],
        "channels": channels,
        "media": [{"id": ident, "path": path, "legs": legs, **like} for ident, path, legs in rows],
        "metadata": {"bounce": "Annonce -> FIN, 96k/24"},
    }


def channel(session: Session, name: str) -> Part:
    """The channel of a name."""
    found: Part = next(c for c in session["channels"] if c["name"] == name)
    return found


def hall_mic_centred(session: Session) -> None:
    """The right hall microphone has never been panned."""
    channel(session, "Public D")["pan"] = 0.0


def lift_in_wrong_solo(session: Session) -> None:
    """The trumpet's lift has slipped into the piano solo."""
    points = channel(session, "Trompette")["automation"][0]
    points["t"] = [points["t"][0], *lift(0.0, 0.0, PIANO, TRADES)["t"][1:]]


def overhead_louder(session: Session) -> None:
    """One overhead stands six decibels above the other."""
    channel(session, "OH D")["fader_db"] = -2.0


def tenor_dry(session: Session) -> None:
    """The tenor's send to the hall is off."""
    channel(session, "Sax ténor")["sends"][0]["on"] = False


def search_band_left(session: Session) -> None:
    """A narrow boost, used to look for a ringing note, has been left in."""
    bands = channel(session, "Ctb micro")["inserts"][0]["equalizer"]["bands"]
    bands.append({"kind": "bell", "freq_hz": 412.0, "gain_db": 14.0, "q": 9.0, "on": True})


def trumpet_of_set_one(session: Session) -> None:
    """The last trumpet clip plays the file of the first set."""
    kind = next(m for m in session["media"] if m["id"] == "tp")
    session["media"].append(kind | {"id": "tp1", "path": "SET 1/S1_09_Trompette.wav", "duration_s": 3127.9})
    last = channel(session, "Trompette")["clips"][-1]
    last["file"] = "tp1"
    last["name"] = last["name"].replace("S2_", "S1_")


def cut_not_made(session: Session) -> None:
    """One piano microphone runs on at the splice instead of skipping the chorus."""
    second = channel(session, "Piano aigu")["clips"][1]
    second["offset_s"] = round(second["offset_s"] - CHORUS, 6)


def align_ten_times(session: Session) -> None:
    """The alignment of the bass DI has lost its decimal point."""
    channel(session, "Ctb DI")["inserts"][0]["parameters"][0]["value"] = 12.0


def headphones_in_mix(session: Session) -> None:
    """The headphone correction is on in the mix."""
    channel(session, "MIX")["inserts"][-1]["on"] = True


def fade_too_early(session: Session) -> None:
    """The last fade lies over the coda, before the last chord has been played."""
    fade = channel(session, "MIX")["automation"][0]
    fade["t"][1:] = [round(LAST - 3.0, 6), round(LAST + 9.0, 6)]


def talk_mic_open(session: Session) -> None:
    """The mute of the announcement microphone is gone, so it stays open on stage."""
    channel(session, "Annonce")["automation"] = []


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Piano grave", "Piano aigu"], "why": "both left of the middle, as the piano stands on stage"},
    {
        "channels": ["Public G", "Public D", "Public fond"],
        "why": "pulled forward against the stage microphones by their distance, with a longer crossfade at the cut",
    },
    {"channels": ["Face 2-mix"], "why": "muted desk feed kept for reference"},
    {"channels": ["MIX"], "why": "a bypassed headphone correction stays in the chain"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "hall-mic-centred",
        "class": "place",
        "channels": ["Public D"],
        "grade": "look",
        "says": "Public D stands in the middle, its partner Public G at -90: the audience leans left.",
        "plant": hall_mic_centred,
    },
    {
        "id": "lift-in-wrong-solo",
        "class": "automation",
        "channels": ["Trompette"],
        "grade": "look",
        "says": "The lift of Trompette lies over the piano solo, where it does not play; its own solo is not lifted.",
        "plant": lift_in_wrong_solo,
    },
    {
        "id": "overhead-louder",
        "class": "level",
        "channels": ["OH D", "OH G"],
        "grade": "look",
        "says": "OH D is at -2 dB and OH G at -8 with the same trim: the kit leans right.",
        "plant": overhead_louder,
    },
    {
        "id": "tenor-dry",
        "class": "ambience",
        "channels": ["Sax ténor"],
        "grade": "look",
        "says": "The send of Sax ténor to Salle is off; Trompette has it on and the comment says the same hall.",
        "plant": tenor_dry,
    },
    {
        "id": "search-band-left",
        "class": "processors",
        "channels": ["Ctb micro"],
        "grade": "look",
        "says": "Ctb micro has a bell of +14 dB with Q 9 at 412 Hz: a search band that was left in.",
        "plant": search_band_left,
    },
    {
        "id": "trumpet-of-set-one",
        "class": "files",
        "channels": ["Trompette"],
        "grade": "hold",
        "says": "The last clip of Trompette plays the file of set 1, everything else is set 2.",
        "plant": trumpet_of_set_one,
    },
    {
        "id": "cut-not-made",
        "class": "edits",
        "channels": ["Piano aigu"],
        "grade": "hold",
        "says": "At the cut Piano aigu runs on in its file while all others skip one chorus: it is out from there on.",
        "plant": cut_not_made,
    },
    {
        "id": "align-ten-times",
        "class": "phase",
        "channels": ["Ctb DI"],
        "grade": "look",
        "says": "Ctb DI is delayed by 12 ms, its comment says 1.2.",
        "plant": align_ten_times,
    },
    {
        "id": "headphones-in-mix",
        "class": "hand-over",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The headphone correction on MIX is on and would be printed; its comment says off for the bounce.",
        "plant": headphones_in_mix,
    },
    {
        "id": "fade-too-early",
        "class": "end",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "MIX fades from the coda on and is down soon after the last chord: its ring and the applause are lost.",
        "plant": fade_too_early,
    },
    {
        "id": "talk-mic-open",
        "class": "audible-that-should-not-be",
        "channels": ["Annonce"],
        "grade": "look",
        "says": "Annonce is no longer muted during the tune: an open microphone on stage all the way through.",
        "plant": talk_mic_open,
    },
]
