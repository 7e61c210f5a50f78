"""A soul band recorded between two cities, names in Spanish and French: brass, overdubbed strings, a lead and three
backing singers with ad libs; a conga loop of 92 bpm stretched to the song's 96, strings from another room."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any

BPM = 96.0
LOOP_BPM = 92.0


def bar(number: float) -> float:
    """The second at which a bar of four starts; the first is bar 1."""
    return (number - 1) * 4 * 60.0 / BPM


LENGTH = 192.0
Session = dict[str, Any]
Channel = dict[str, Any]
Row = dict[str, Any]


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7, slope: float | None = None) -> Row:
    """One equalizer band; `slope` in dB per octave makes it a cut."""
    row: Row = {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True}
    if slope is None:
        row["q"] = q
    else:
        row["slope_db_per_oct"] = slope
    return row


def eq(*bands: Row, name: str = "Strip EQ", out: float = 0.0) -> Row:
    """An open equalizer."""
    settings = {"bands": list(bands), "output_gain_db": out}
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": settings}


def dyn(kind: str, name: str, threshold: float, ratio: float, times: tuple[float, float], **more: float) -> Row:
    """An open compressor, limiter, gate or de-esser; `times` are attack and release in milliseconds."""
    settings: Row = {"threshold_db": threshold, "ratio": ratio, "attack_ms": times[0], "release_ms": times[1]}
    settings.update(more)
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": settings}


def fx(kind: str, name: str, wet: float | None = None, **settings: tuple[Any, str]) -> Row:
    """A processor whose settings are hidden, unless some are listed as (value, unit)."""
    row: Row = {"name": name, "kind": kind, "on": True, "opaque": not settings}
    if wet is not None:
        row["wet"] = wet
    row["parameters"] = [
        {"id": key, "name": key.replace("_", " ").title(), "value": value, "unit": unit}
        for key, (value, unit) in settings.items()
    ]
    return row


def send(to: str, level: float, tap: str = "post", on: bool = True, pan: float = 0.0) -> Row:
    """A send to a channel id."""
    return {"to": to, "level_db": level, "tap": tap, "on": on, "pan": pan}


def ride(target: str, *points: tuple[float, float], scale: str = "dB", shape: str = "linear") -> Row:
    """A drawn line of (seconds, value)."""
    times, values = [round(p[0], 4) for p in points], [p[1] for p in points]
    return {"target": target, "scale": scale, "shape": shape, "t": times, "v": values}


def steps(target: str, *points: tuple[float, float]) -> Row:
    """A switch of (seconds, 0 or 1); for `mute`, 1 is muted."""
    return ride(target, *points, scale="switch", shape="hold")


def span(start: float, end: float, **more: Any) -> Row:
    """A stretch of a take: gain, take, shift (file time less song time), fade_in, fade_out, on, speed, offset."""
    return {"start": start, "end": end, **more}


class Desk:
    """Collects the strips and the files of one session."""

    def __init__(self, title: str, rate: float, timeline: Row, markers: list[tuple[float, str]]) -> None:
        self.rate = rate
        self.session: Session = {
            "format": "mixlint-session/1",
            "title": title,
            "sample_rate_hz": rate,
            "timeline": timeline,
            "markers": [{"time_s": round(time, 4), "name": name} for time, name in markers],
            "channels": [],
            "media": [],
        }

    def file(self, key: str, path: str, legs: int, **more: Any) -> str:
        """Lists a media file once and gives back its id."""
        media = self.session["media"]
        if key not in {row["id"] for row in media}:
            row = {"id": key, "path": path, "legs": legs, "sample_rate_hz": self.rate, "present": True}
            media.append({**row, "duration_s": LENGTH, "place": "beside", **more})
        return key

    def add(self, key: str, name: str, out: str | None, spans: Sequence[Row] = (), **more: Any) -> Channel:
        """One strip; more words: kind, fader, pan, legs, mute, sends, inserts, rides, notes, parent, stem, comment."""
        legs, notes = more.get("legs", 1), bool(more.get("notes", False))
        clips: list[Row] = []
        for s in spans:
            clip: Row = {"start_s": round(s["start"], 4), "end_s": round(s["end"], 4), "gain_db": s.get("gain", 0.0)}
            if notes:
                clip.update(plays="notes", name=name)
            else:
                take = s.get("take", "T1")
                stem = more.get("stem", name.replace(" ", "_"))
                clip["name"] = f"{stem}_{take}"
                clip["file"] = self.file(f"{key}-{take}", f"Audio/{stem}_{take}.wav", legs)
                clip["offset_s"] = round(s.get("offset", s["start"] + s.get("shift", 0.0)), 4)
                clip["speed"] = s.get("speed", 1.0)
                clip.update(plays="audio", fade_in_s=s.get("fade_in", 0.01), fade_out_s=s.get("fade_out", 0.02))
            clip["on"] = s.get("on", True)
            clips.append(clip)
        channel: Channel = {
            "id": key,
            "name": name,
            "kind": more.get("kind", "track"),
            "parent": more.get("parent"),
            "plays": ["notes" if notes else "audio"] if clips else [],
            "legs": legs,
            "fader_db": more.get("fader", 0.0),
            "pan": more.get("pan", 0.0),
            "mute": more.get("mute", False),
            "solo": False,
            "output": out,
            "sends": deepcopy(list(more.get("sends", ()))),
            "inserts": deepcopy(list(more.get("inserts", ()))),
            "clips": clips,
            "automation": deepcopy(list(more.get("rides", ()))),
            "comment": more.get("comment", ""),
        }
        self.session["channels"].append(channel)
        return channel


def named(session: Session, name: str) -> Channel:
    """The channel of that name."""
    found: Channel = next(row for row in session["channels"] if row["name"] == name)
    return found


START, END = bar(2.75), bar(74.5)
LOOP_S = 8 * 60.0 / LOOP_BPM  # two bars at the loop's own tempo


def parts(*bars: tuple[float, float], **more: Any) -> list[Row]:
    """Clips over the bars, cut a breath before them; the last ones ring out."""
    return [span(bar(a) - 0.12, bar(b) + (1.1 if b >= 73 else -0.12), shift=1.0, **more) for a, b in bars]


def good() -> Session:
    """The session as it should be bounced."""
    names: list[tuple[float, str]] = [
        (1, "Cuenta"),
        (3, "Intro"),
        (7, "Estrofa 1"),
        (15, "Estribillo 1"),
        (23, "Estrofa 2"),
    ]
    names += [
        (31, "Estribillo 2"),
        (39, "Pont"),
        (47, "Solo sax"),
        (55, "Estribillo final"),
        (63, "Ad libs"),
        (71, "Cola"),
        (74.5, "Fin"),
    ]
    timeline = {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]}
    d = Desk("Calle de la Luna, dimanche", 48000.0, timeline, [(bar(number), name) for number, name in names])
    kit = [span(START, END, shift=1.0, fade_out=0.8)]
    d.add("clic", "Clic", None, [span(0.0, END)], notes=True, inserts=[fx("instrument", "Tac")])
    d.add("guia", "Guía voz", "voz", parts((7, 39), (55, 71)), mute=True, fader=-6.0, comment="guide, remplacée")
    d.add("ref", "Ref mezcla", "mix", [span(0.0, 178.0, offset=0.0)], legs=2, mute=True, comment="démo, no imprimir")

    d.add(
        "bom",
        "Bombo",
        "bat",
        kit,
        fader=-4.0,
        inserts=[
            dyn("gate", "Puerta", -32.0, 8.0, (0.5, 150.0), range_db=-20.0),
            eq(band("bell", 62, 3.0), band("bell", 380, -4.0)),
        ],
    )
    d.add(
        "caar",
        "Caja arr",
        "bat",
        kit,
        fader=-5.0,
        sends=[send("piece", -12.0), send("plq", -20.0)],
        inserts=[
            eq(band("high-pass", 90, slope=12)),
            dyn("compressor", "Comp caja", -14.0, 4.0, (15.0, 110.0), output_gain_db=3.0),
        ],
    )
    d.add(
        "caab",
        "Caja ab",
        "bat",
        kit,
        fader=-12.0,
        inserts=[fx("utility", "Fase", polarity_inverted=(True, "")), eq(band("high-pass", 200, slope=12))],
    )
    d.add("cha", "Charles", "bat", kit, fader=-15.0, pan=25.0, inserts=[eq(band("high-pass", 350, slope=12))])
    d.add("to1", "Tom aigu", "bat", parts((6, 7), (14, 15), (30, 31), (54, 55), (70, 74)), fader=-9.0, pan=20.0)
    d.add("to2", "Tom basse", "bat", parts((6, 7), (14, 15), (30, 31), (54, 55), (70, 74)), fader=-9.0, pan=-35.0)
    d.add("ohi", "OH izq", "bat", kit, fader=-8.0, pan=-80.0, inserts=[eq(band("high-pass", 160, slope=12))])
    d.add("ohd", "OH der", "bat", kit, fader=-8.0, pan=80.0, inserts=[eq(band("high-pass", 160, slope=12))])
    d.file("cong-T1", "Audio/Congas_loop_92bpm_2bars.wav", 2, duration_s=round(LOOP_S, 4))
    loop_bars = [number for a, b in ((7, 39), (47, 71)) for number in range(a, b, 2)]
    d.add(
        "cong",
        "Congas loop 92",
        "bat",
        [
            span(bar(n), bar(n + 2), offset=0.0, speed=round(BPM / LOOP_BPM, 5), fade_in=0.002, fade_out=0.004)
            for n in loop_bars
        ],
        legs=2,
        fader=-13.0,
        comment="92 bpm, étirée à 96",
    )
    d.add("pan", "Pandereta", "bat", parts((15, 23), (31, 39), (55, 71)), fader=-17.0, pan=-45.0)
    d.add(
        "bdi",
        "Bajo DI",
        "bas",
        kit,
        fader=-5.0,
        inserts=[
            eq(band("high-pass", 35, slope=12)),
            dyn("compressor", "Comp bajo", -20.0, 4.0, (25.0, 160.0), output_gain_db=3.0),
        ],
    )
    d.add("bam", "Bajo ampli", "bas", kit, fader=-9.0, inserts=[eq(band("low-pass", 3000, slope=12))])
    d.add(
        "gry",
        "Guit rythm",
        "cla",
        parts((3, 39), (47, 74)),
        fader=-10.0,
        pan=-50.0,
        sends=[send("plq", -22.0)],
        inserts=[eq(band("high-pass", 160, slope=12))],
    )
    d.add("gwa", "Guit wah", "cla", parts((15, 23), (31, 39), (55, 71)), fader=-12.0, pan=45.0)
    d.add("epg", "Piano él G", "cla", parts((3, 74)), fader=-9.0, pan=-65.0, sends=[send("plq", -20.0)])
    d.add("epd", "Piano él D", "cla", parts((3, 74)), fader=-9.0, pan=65.0, sends=[send("plq", -20.0)])
    d.add(
        "org",
        "Orgue",
        "cla",
        parts((15, 23), (31, 47), (55, 74)),
        legs=2,
        fader=-14.0,
        rides=[
            ride(
                "fader",
                (0.0, -14.0),
                (bar(39) - 1, -14.0),
                (bar(40), -10.0),
                (bar(46), -10.0),
                (bar(47), -14.0),
                (END, -14.0),
            )
        ],
    )

    hits = ((3, 7), (15, 23), (31, 39), (45, 47), (55, 74))
    for key, name, pan, fader in (
        ("tr1", "Tromp 1", -18.0, -9.0),
        ("tr2", "Tromp 2", -30.0, -10.0),
        ("sax", "Sax tén", 14.0, -9.0),
        ("trb", "Trb coulisse", 30.0, -9.5),
    ):
        clips = parts(*hits)
        d.add(
            key,
            name,
            "cui",
            clips,
            fader=fader,
            pan=pan,
            parent="vcac",
            sends=[send("plq", -15.0)],
            inserts=[eq(band("high-pass", 110, slope=12), band("bell", 2800, -1.5, 1.2))],
        )
    d.add(
        "sol",
        "Solo sax",
        "cui",
        parts((46.75, 55)),
        fader=-3.0,
        sends=[send("plq", -10.0), send("slp", -14.0)],
        inserts=[dyn("compressor", "Comp sax", -18.0, 3.0, (15.0, 140.0), output_gain_db=2.0)],
    )
    d.add("solalt", "Solo sax ALT", "cui", parts((46.75, 55), take="T2"), mute=True, fader=-3.0)
    cuerdas = ((23, 31), (37, 47), (55, 74))
    for key, name, pan in (
        ("vl1", "Violons 1", -45.0),
        ("vl1d", "Violons 1 dbl", -70.0),
        ("vl2", "Violons 2", -15.0),
        ("alt", "Altos", 25.0),
        ("vlc", "Vcelles", 50.0),
    ):
        d.add(
            key,
            name,
            "cor",
            parts(*cuerdas, take="S1"),
            fader=-11.0 if key != "vl1d" else -13.0,
            pan=pan,
            sends=[send("sal", -10.0)],
            inserts=[eq(band("high-pass", 90 if key == "vlc" else 160, slope=12))],
            comment="overdub: la double est une autre prise" if key == "vl1d" else "",
        )

    lead = [
        span(bar(7) - 0.12, bar(10.5), shift=1.0, take="T3"),
        span(bar(10.5), bar(13), shift=1.0, take="T5", gain=1.0),
        span(bar(13), bar(15) - 0.12, shift=1.0, take="T3"),
        *parts((15, 23), take="T5"),
        *parts((23, 31), take="T4"),
        *parts((31, 39), take="T5"),
        *parts((39, 46), take="T2", gain=-1.0),
        *parts((55, 63), take="T5"),
        *parts((63, 73), take="T6", gain=-1.5),
    ]
    d.add(
        "lead",
        "Voz ppal",
        "voz",
        lead,
        fader=-1.0,
        sends=[send("plq", -14.0), send("slp", -16.0), send("sal", -12.0, on=False)],
        inserts=[
            eq(band("high-pass", 90, slope=18), band("bell", 260, -2.0), band("high-shelf", 9000, 2.0)),
            dyn("compressor", "Comp voz", -22.0, 3.5, (8.0, 110.0), output_gain_db=4.0),
            dyn("de-esser", "Eses", -30.0, 4.0, (1.0, 50.0)),
        ],
        rides=[
            ride(
                "fader",
                (0.0, -1.0),
                (bar(15), -1.0),
                (bar(15.2), 0.0),
                (bar(23), 0.0),
                (bar(23.2), -1.0),
                (bar(31), -1.0),
                (bar(31.2), 0.0),
                (bar(39), 0.0),
                (bar(39.2), -2.0),
                (bar(55), 0.5),
                (END, 0.5),
            ),
            steps("send:2:on", (0.0, 0), (bar(45.5), 1), (bar(47), 0)),
        ],
    )
    d.add(
        "leaddb",
        "Voz ppal dbl",
        "voz",
        parts((15, 23), (31, 39), (55, 63), take="T7"),
        fader=-10.0,
        pan=6.0,
        inserts=[eq(band("high-pass", 160, slope=12))],
    )
    coros = ((15, 23), (31, 39), (43, 47), (55, 63), (63, 73))
    for key, name, pan in (("ch1", "Chœur Inès", -48.0), ("ch2", "Chœur Maude", 10.0), ("ch3", "Coro Lola", 48.0)):
        d.add(
            key,
            name,
            "coeur",
            parts(*coros),
            fader=-9.0,
            pan=pan,
            sends=[send("plq", -12.0)],
            inserts=[eq(band("high-pass", 170, slope=12)), dyn("compressor", "Comp coro", -22.0, 3.0, (10.0, 120.0))],
        )
    d.add(
        "ad1",
        "Ad libs Inès",
        "coeur",
        parts((38, 39), (63, 67), (69, 70)),
        fader=-8.0,
        pan=-25.0,
        sends=[send("plq", -10.0), send("slp", -12.0)],
    )
    d.add(
        "ad3",
        "Ad libs Lola",
        "coeur",
        parts((30.5, 31), (65, 69), (70, 73.5)),
        fader=-8.0,
        pan=25.0,
        sends=[send("plq", -10.0), send("slp", -12.0)],
        rides=[steps("mute", (0.0, 0), (bar(31.5), 1), (bar(64.5), 0))],
    )

    d.add(
        "bat",
        "BATERÍA",
        "mix",
        kind="group",
        legs=2,
        fader=-1.0,
        inserts=[dyn("compressor", "Bus bat", -14.0, 2.0, (25.0, 140.0))],
    )
    d.add("bas", "BASSE", "mix", kind="group", legs=1)
    d.add("cla", "CLAVIERS+GUIT", "mix", kind="group", legs=2)
    d.add("cui", "CUIVRES", "mix", kind="group", legs=2)
    d.add("cor", "CUERDAS", "mix", kind="group", legs=2)
    d.add("coeur", "CHŒURS", "mix", kind="group", legs=2)
    d.add("voz", "VOZ", "mix", kind="group", legs=2)
    d.add(
        "vcac",
        "VCA Cuivres",
        None,
        kind="vca",
        rides=[ride("fader", (0.0, 0.0), (bar(15), 0.0), (bar(16), -1.5), (bar(23), -1.5), (bar(31), 0.0), (END, 0.0))],
    )
    d.add(
        "plq",
        "Plaque",
        "mix",
        kind="return",
        legs=2,
        fader=-6.0,
        inserts=[fx("reverb", "Plaque d'acier", 100.0, pre_delay=(24.0, "ms")), eq(band("high-pass", 220, slope=12))],
    )
    d.add("sal", "Salle", "mix", kind="return", legs=2, fader=-7.0, inserts=[fx("reverb", "Salle boisée", 100.0)])
    d.add(
        "slp",
        "Slap 1/8",
        "mix",
        kind="return",
        legs=2,
        fader=-10.0,
        inserts=[fx("delay", "Cinta corta", 100.0, time=(312.5, "ms"), feedback=(15.0, "%"))],
    )
    d.add("piece", "Pièce batt", "bat", kind="return", legs=2, fader=-9.0, inserts=[fx("reverb", "Pièce sèche", 100.0)])
    d.add(
        "mix",
        "MEZCLA",
        None,
        kind="master",
        legs=2,
        inserts=[
            dyn("compressor", "Bus mezcla", -12.0, 1.8, (30.0, 200.0)),
            dyn("limiter", "Tope", -1.0, 20.0, (0.3, 70.0)),
        ],
    )
    return d.session


def guide_heard(session: Session) -> None:
    """The guide vocal is unmuted."""
    named(session, "Guía voz")["mute"] = False


def maude_under(session: Session) -> None:
    """One singer's clip in the second chorus is 12 dB down."""
    named(session, "Chœur Maude")["clips"][1]["gain_db"] = -12.0


def trumpet_fades_in(session: Session) -> None:
    """A fade has been drawn over half a chorus of stabs."""
    named(session, "Tromp 1")["clips"][2]["fade_in_s"] = 9.5


def violas_other_rate(session: Session) -> None:
    """The violas were delivered at another rate and play unconverted."""
    next(row for row in session["media"] if row["id"] == "alt-S1")["sample_rate_hz"] = 44100.0


def loop_unstretched(session: Session) -> None:
    """The loop runs at its own tempo, cut at the song's bars."""
    for clip in named(session, "Congas loop 92")["clips"]:
        clip["speed"] = 1.0


def double_is_a_copy(session: Session) -> None:
    """The double plays the first violins' own file."""
    for clip in named(session, "Violons 1 dbl")["clips"]:
        clip["file"] = "vl1-S1"


def ad_libs_stay_muted(session: Session) -> None:
    """The mute after the first shout is never lifted."""
    line = named(session, "Ad libs Lola")["automation"][0]
    line["t"], line["v"] = line["t"][:2], line["v"][:2]


def snare_bottom_not_turned(session: Session) -> None:
    """The bottom mic's polarity switch is off."""
    named(session, "Caja ab")["inserts"][0]["parameters"][0]["value"] = False


def loop_lies_outside(session: Session) -> None:
    """The loop's file lies outside the session's folder."""
    row = next(row for row in session["media"] if row["id"] == "cong-T1")
    row["place"], row["path"] = "outside", "../../Descargas/Congas_loop_92bpm_2bars.wav"


def snare_made_up(session: Session) -> None:
    """The snare compressor's make-up is turned up by 21 dB."""
    named(session, "Caja arr")["inserts"][1]["dynamics"]["output_gain_db"] = 24.0


ACCEPTED: list[dict[str, Any]] = []

FAULTS: list[dict[str, Any]] = [
    {
        "id": "guide-heard",
        "class": "audible-that-should-not-be",
        "channels": ["Guía voz"],
        "grade": "hold",
        "says": "the guide vocal (guía) is unmuted under the lead",
        "plant": guide_heard,
    },
    {
        "id": "maude-under",
        "class": "level",
        "channels": ["Chœur Maude"],
        "grade": "look",
        "says": "Maude's clip in the second chorus is at -12 dB clip gain, all her others and the other two at 0",
        "plant": maude_under,
    },
    {
        "id": "trumpet-fades-in",
        "class": "edits",
        "channels": ["Tromp 1"],
        "grade": "look",
        "says": "the first trumpet's clip of chorus 2 fades in over 9.5 s; the rest of the brass comes in at once",
        "plant": trumpet_fades_in,
    },
    {
        "id": "violas-other-rate",
        "class": "files",
        "channels": ["Altos"],
        "grade": "hold",
        "says": "the violas' file is at 44.1 kHz in a session of 48 kHz, as the only one: off pitch and time",
        "plant": violas_other_rate,
    },
    {
        "id": "loop-unstretched",
        "class": "tempo",
        "channels": ["Congas loop 92"],
        "grade": "look",
        "says": "the conga loop of 92 bpm plays unstretched at 96 and is cut before its end at every repeat",
        "plant": loop_unstretched,
    },
    {
        "id": "double-is-a-copy",
        "class": "twice",
        "channels": ["Violons 1 dbl", "Violons 1"],
        "grade": "look",
        "says": "the violin double plays the same file at the same place as Violons 1: louder, not wider",
        "plant": double_is_a_copy,
    },
    {
        "id": "ad-libs-stay-muted",
        "class": "inaudible",
        "channels": ["Ad libs Lola"],
        "grade": "hold",
        "says": "Lola's ad libs stay muted from bar 31 on: her outro clips are never heard",
        "plant": ad_libs_stay_muted,
    },
    {
        "id": "snare-bottom-not-turned",
        "class": "phase",
        "channels": ["Caja ab", "Caja arr"],
        "grade": "look",
        "says": "the snare's bottom mic has its polarity switch inserted but off: it plays against the top mic",
        "plant": snare_bottom_not_turned,
    },
    {
        "id": "loop-lies-outside",
        "class": "hand-over",
        "channels": ["Congas loop 92"],
        "grade": "look",
        "says": "the conga loop's file lies in a download folder outside the session: it will not travel with it",
        "plant": loop_lies_outside,
    },
    {
        "id": "snare-made-up",
        "class": "headroom",
        "channels": ["Caja arr", "BATERÍA"],
        "grade": "look",
        "says": "the snare compressor makes up 24 dB at ratio 4 from -14 dBFS: the snare overloads its group",
        "plant": snare_made_up,
    },
]
