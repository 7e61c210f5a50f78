"""A reggae one-drop and its dub: skank guitar and piano, bubble organ, horns, a toaster; the desk is played.
Spring reverb, a dotted echo, and a feedback echo that feeds itself below unity; drops and throws by automation."""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from typing import Any

BPM = 74.0
BEAT = 60.0 / BPM


def bar(number: float) -> float:
    """The second at which a bar of four starts; the first is bar 1."""
    return (number - 1) * 4 * BEAT


LENGTH = 262.0
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


START, END = bar(1.75), bar(75)
DOTTED_MS = 608.1  # three quarters of a beat at 74 bpm


def parts(*bars: tuple[float, float], **more: Any) -> list[Row]:
    """Clips cut on the bars."""
    return [span(bar(a), bar(b), shift=0.5, **more) for a, b in bars]


def drops(*bars: tuple[float, float]) -> Row:
    """The mute button, played: muted between the bars of each pair."""
    points: list[tuple[float, float]] = [(0.0, 0)]
    for a, b in bars:
        points += [(bar(a), 1), (bar(b), 0)]
    return steps("mute", *points)


def throws(number: int, *bars: tuple[float, float]) -> Row:
    """A send opened for a word or a hit and closed again."""
    points: list[tuple[float, float]] = [(0.0, 0)]
    for a, b in bars:
        points += [(bar(a), 1), (bar(b), 0)]
    return steps(f"send:{number}:on", *points)


def good() -> Session:
    """The session as it should be bounced."""
    names = [
        (1, "Pick-up"),
        (2, "Intro"),
        (6, "Verse 1"),
        (14, "Chorus"),
        (22, "Verse 2"),
        (30, "Chorus"),
        (38, "Dub 1"),
        (54, "Toast"),
        (62, "Dub 2"),
        (70, "Out"),
        (75, "Tails"),
    ]
    timeline = {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]}
    d = Desk("Cinder Gully (vocal into dub)", 48000.0, timeline, [(bar(number), name) for number, name in names])
    whole = [span(START, END, shift=0.5, fade_out=0.4)]
    d.add(
        "kik",
        "Kik",
        "drm",
        whole,
        fader=-4.0,
        sends=[send("feed", -10.0, on=False)],
        rides=[throws(0, (45.5, 45.75), (53.5, 53.75), (69.5, 69.75))],
        inserts=[
            dyn("gate", "Kik Gate", -34.0, 10.0, (0.5, 140.0), range_db=-24.0),
            eq(band("bell", 65, 3.0, 1.2), band("bell", 340, -5.0, 1.1)),
        ],
    )
    d.add(
        "snt",
        "Snr Top",
        "drm",
        whole,
        fader=-5.0,
        sends=[send("spring", -14.0), send("feed", -6.0, on=False)],
        rides=[throws(1, (21.5, 21.75), (41.5, 41.75), (45.5, 46.0), (49.5, 49.75), (65.5, 65.75), (73.5, 73.75))],
        inserts=[
            eq(band("high-pass", 90, slope=12), band("bell", 3500, 2.5, 1.0)),
            dyn("compressor", "Snr Comp", -16.0, 4.0, (12.0, 90.0), output_gain_db=2.0),
        ],
    )
    d.add(
        "snb",
        "Snr Bot",
        "drm",
        whole,
        fader=-13.0,
        inserts=[fx("utility", "Phase Tool", polarity_inverted=(True, "")), eq(band("high-pass", 180, slope=12))],
    )
    d.add("rim", "Rim", "drm", parts((2, 6), (38, 54), (62, 70)), fader=-9.0, pan=8.0, sends=[send("dly", -12.0)])
    d.add("hh", "HH", "drm", whole, fader=-14.0, pan=22.0, inserts=[eq(band("high-pass", 400, slope=18))])
    d.add(
        "tml",
        "Tom Hi",
        "drm",
        parts((5, 6), (13, 14), (37, 38), (53, 54), (69, 70)),
        fader=-8.0,
        pan=-30.0,
        sends=[send("spring", -9.0)],
    )
    d.add(
        "tmr",
        "Tom Lo",
        "drm",
        parts((5, 6), (13, 14), (37, 38), (53, 54), (69, 70)),
        fader=-8.0,
        pan=30.0,
        sends=[send("spring", -9.0)],
    )
    d.add("ohl", "OH L", "drm", whole, fader=-12.0, pan=-70.0, inserts=[eq(band("high-pass", 250, slope=12))])
    d.add("ohr", "OH R", "drm", whole, fader=-12.0, pan=70.0, inserts=[eq(band("high-pass", 250, slope=12))])
    d.add(
        "ghost",
        "Ghost 1+3 key",
        None,
        [span(START, END)],
        notes=True,
        inserts=[fx("instrument", "Click Sampler", note=(37, ""))],
        comment="keys the bubble's gate, no output",
    )
    d.add("shk", "Shaker", "drm", parts((6, 22), (22, 38), (54, 62), (70, 74)), fader=-17.0, pan=-40.0)
    d.add(
        "bdi",
        "Bass DI",
        "bas",
        whole,
        fader=-4.0,
        inserts=[
            eq(band("low-shelf", 80, 3.0), band("low-pass", 2200, slope=12)),
            dyn("compressor", "Bass Comp", -22.0, 4.0, (25.0, 180.0), output_gain_db=3.0),
        ],
    )
    d.add(
        "bam",
        "Bass Amp",
        "bas",
        whole,
        fader=-9.0,
        inserts=[
            fx("utility", "Phase Tool", polarity_inverted=(False, ""), delay=(0.0, "ms")),
            eq(band("low-pass", 1500, slope=12)),
        ],
        comment="DI was nudged onto the amp when recorded",
    )
    skank = parts((2, 22), (22, 38), (38, 54), (54, 62), (62, 74))
    gone = ((40, 42), (44, 46.5), (48, 49.5), (63, 65), (66, 68.75))
    d.add(
        "gtr",
        "Skank Gtr",
        "ska",
        skank,
        fader=-8.0,
        pan=-55.0,
        sends=[send("spring", -18.0), send("feed", -8.0, on=False)],
        rides=[drops(*gone), throws(1, (39.75, 40), (43.75, 44), (62.75, 63))],
        inserts=[eq(band("high-pass", 320, slope=18), band("bell", 2400, 2.0, 1.0))],
    )
    d.add(
        "pno",
        "Skank Pno",
        "ska",
        skank,
        fader=-10.0,
        pan=50.0,
        sends=[send("spring", -20.0), send("dly", -10.0, on=False)],
        rides=[drops((40, 41), (44, 48), (64, 67)), throws(1, (47.75, 48.25), (66.75, 67.25))],
        inserts=[eq(band("high-pass", 280, slope=18))],
    )
    d.add(
        "pnofz",
        "Skank Pno frz",
        "ska",
        [span(bar(2), bar(74), offset=0.0)],
        legs=1,
        fader=-10.0,
        pan=50.0,
        mute=True,
        stem="Skank_Pno_frozen",
        comment="frozen for the road, the live track plays",
    )
    d.add(
        "orl",
        "Bubble Org L",
        "ska",
        parts((2, 38), (38, 62), (62, 74)),
        fader=-12.0,
        pan=-85.0,
        rides=[drops((42, 44), (46, 50), (65, 68))],
        inserts=[fx("modulation", "Slow Rotor")],
    )
    d.add(
        "orr",
        "Bubble Org R",
        "ska",
        parts((2, 38), (38, 62), (62, 74)),
        fader=-12.0,
        pan=85.0,
        rides=[drops((42, 44), (46, 50), (65, 68))],
        inserts=[fx("modulation", "Slow Rotor")],
    )
    d.add(
        "mel",
        "Melodica",
        "ska",
        parts((2, 6), (42, 46), (50, 54), (70, 73)),
        fader=-7.0,
        pan=12.0,
        sends=[send("dly", -9.0), send("spring", -13.0)],
        rides=[
            ride(
                "send:0:level",
                (0.0, -9.0),
                (bar(52), -9.0),
                (bar(53), -3.0),
                (bar(54), -3.0),
                (bar(54.5), -9.0),
                (END, -9.0),
            )
        ],
    )
    for key, name, pan in (("trb", "Trbn", -22.0), ("tnr", "Tenor", 22.0)):
        d.add(
            key,
            name,
            "hrn",
            parts((4, 6), (14, 22), (30, 38), (58, 62)),
            fader=-8.0,
            pan=pan,
            sends=[send("spring", -15.0), send("feed", -9.0, on=False)],
            rides=[throws(1, (21.25, 21.75), (37.25, 37.75))],
            inserts=[eq(band("high-pass", 130, slope=12))],
        )
    d.add(
        "lead",
        "Lead Vox",
        "vox",
        parts((6, 14), (14, 22), (22, 30), (30, 37.5), gain=0.0) + parts((44, 45), (66, 67)),
        fader=-3.0,
        sends=[send("spring", -17.0), send("dly", -8.0, on=False)],
        rides=[throws(1, (13.5, 14), (21, 21.5), (29.5, 30), (37, 37.5), (44, 45), (66.5, 67))],
        inserts=[
            eq(band("high-pass", 100, slope=18), band("bell", 300, -2.0, 1.0)),
            dyn("compressor", "Vox Comp", -20.0, 4.0, (8.0, 100.0), output_gain_db=4.0),
        ],
        comment="only two crumbs left in the dubs",
    )
    d.add(
        "toast",
        "Toast Ras Pello",
        "vox",
        parts((54, 62), (70, 72)),
        fader=-3.0,
        sends=[send("spring", -15.0), send("dly", -12.0)],
        inserts=[
            eq(band("high-pass", 120, slope=18)),
            dyn("compressor", "Vox Comp", -20.0, 5.0, (6.0, 90.0), output_gain_db=4.0),
        ],
    )
    d.add(
        "bvl", "BV L", "vox", parts((14, 22), (30, 38), (46, 48)), fader=-11.0, pan=-60.0, sends=[send("spring", -12.0)]
    )
    d.add(
        "bvr", "BV R", "vox", parts((14, 22), (30, 38), (46, 48)), fader=-11.0, pan=60.0, sends=[send("spring", -12.0)]
    )

    sweep = ride(
        "insert:0:band:1:freq",
        (0.0, 20.0),
        (bar(48), 20.0),
        (bar(49.75), 420.0),
        (bar(50), 20.0),
        (bar(68), 20.0),
        (bar(69.75), 600.0),
        (bar(70), 20.0),
        (END, 20.0),
        scale="plain",
    )
    d.add(
        "drm",
        "DRUMS",
        "mix",
        kind="group",
        legs=2,
        fader=-1.0,
        inserts=[
            eq(band("high-pass", 20, slope=18), name="Big Knob"),
            dyn("compressor", "Drum Bus", -14.0, 2.5, (20.0, 110.0)),
        ],
        rides=[sweep],
        comment="the big knob is played into bars 50 and 70",
    )
    d.add("bas", "BASS", "mix", kind="group", legs=1, fader=-0.5, rides=[drops((41.5, 42), (49.5, 50), (65, 66))])
    d.add("ska", "SKANKS", "mix", kind="group", legs=2)
    d.add("hrn", "HORNS", "mix", kind="group", legs=2)
    d.add("vox", "VOX", "mix", kind="group", legs=2)
    d.add(
        "spring",
        "Tin Spring",
        "mix",
        kind="return",
        legs=2,
        fader=-7.0,
        inserts=[eq(band("high-pass", 300, slope=12), band("bell", 2800, 3.0, 1.2)), fx("reverb", "Tin Spring", 100.0)],
    )
    d.add(
        "dly",
        "Dotted Echo",
        "mix",
        kind="return",
        legs=2,
        fader=-8.0,
        sends=[send("spring", -16.0)],
        inserts=[
            fx("delay", "Ribbon Echo", 100.0, time=(DOTTED_MS, "ms"), feedback=(38.0, "%")),
            eq(band("high-pass", 220, slope=12), band("low-pass", 4200, slope=12)),
        ],
    )
    d.add(
        "feed",
        "Feedback Echo",
        "mix",
        kind="return",
        legs=2,
        fader=-5.0,
        sends=[send("feed", -4.5, "pre"), send("spring", -14.0)],
        inserts=[
            fx("delay", "One Head", 100.0, time=(810.8, "ms"), feedback=(0.0, "%")),
            eq(band("high-pass", 260, slope=12), band("low-pass", 3000, slope=12)),
            fx("distortion", "Soft Tape"),
        ],
        rides=[
            ride(
                "send:0:level",
                (0.0, -4.5),
                (bar(53.5), -4.5),
                (bar(53.75), -1.5),
                (bar(55), -1.5),
                (bar(55.5), -4.5),
                (bar(73.5), -4.5),
                (bar(74), -2.0),
                (bar(78), -9.0),
            )
        ],
        comment="feeds itself, always under unity",
    )
    d.add(
        "mix",
        "MIX",
        None,
        kind="master",
        legs=2,
        inserts=[
            dyn("compressor", "Mix Glue", -12.0, 2.0, (30.0, 200.0)),
            dyn("limiter", "Stop", -1.0, 20.0, (0.5, 80.0)),
        ],
        rides=[ride("fader", (0.0, 0.0), (bar(76), 0.0), (bar(79), -60.0))],
        comment="fades over the last tails",
    )
    return d.session


def echo_runs_away(session: Session) -> None:
    """The self-send's line is lifted above unity in the first long throw."""
    line = named(session, "Feedback Echo")["automation"][0]
    line["v"] = [2.5 if value == -1.5 else value for value in line["v"]]


def throw_left_open(session: Session) -> None:
    """The lead's throw at the end of the first verse is never closed."""
    line = named(session, "Lead Vox")["automation"][0]
    line["t"], line["v"] = line["t"][:2], line["v"][:2]


def guitar_stays_out(session: Session) -> None:
    """The guitar's first drop is never lifted."""
    line = named(session, "Skank Gtr")["automation"][0]
    line["t"], line["v"] = line["t"][:2], line["v"][:2]


def spring_too_loud(session: Session) -> None:
    """The spring return is 16 dB up."""
    named(session, "Tin Spring")["fader_db"] = 9.0


def bass_amp_flipped(session: Session) -> None:
    """The amp's polarity is turned against the DI."""
    named(session, "Bass Amp")["inserts"][0]["parameters"][0]["value"] = True


def echo_into_horns(session: Session) -> None:
    """The echo return leads into the horn group."""
    named(session, "Dotted Echo")["output"] = "hrn"


def organ_right_in_the_middle(session: Session) -> None:
    """One half of the organ pair loses its side."""
    named(session, "Bubble Org R")["pan"] = 0.0


def echo_off_the_grid(session: Session) -> None:
    """The echo keeps the time of another tempo."""
    named(session, "Dotted Echo")["inserts"][0]["parameters"][0]["value"] = 570.0


def big_knob_stays(session: Session) -> None:
    """The drum group's low cut is not brought back after the first sweep."""
    line = named(session, "DRUMS")["automation"][0]
    line["t"], line["v"] = line["t"][:3], line["v"][:3]


def ghost_heard(session: Session) -> None:
    """The ghost trigger leads to the drums."""
    named(session, "Ghost 1+3 key")["output"] = "drm"


def frozen_beside_live(session: Session) -> None:
    """The frozen piano plays along."""
    named(session, "Skank Pno frz")["mute"] = False


ACCEPTED: list[dict[str, Any]] = []

FAULTS: list[dict[str, Any]] = [
    {
        "id": "echo-runs-away",
        "class": "headroom",
        "channels": ["Feedback Echo"],
        "grade": "hold",
        "says": "from bar 53 the echo's send to itself is at +2.5 dB, over unity, for more than a bar: it builds up",
        "plant": echo_runs_away,
    },
    {
        "id": "throw-left-open",
        "class": "automation",
        "channels": ["Lead Vox"],
        "grade": "look",
        "says": "the echo throw on the last word of verse 1 is never closed: echo on every word from there on",
        "plant": throw_left_open,
    },
    {
        "id": "guitar-stays-out",
        "class": "inaudible",
        "channels": ["Skank Gtr"],
        "grade": "hold",
        "says": "the skank guitar is muted at bar 40 and never comes back; its clips run on to bar 74",
        "plant": guitar_stays_out,
    },
    {
        "id": "spring-too-loud",
        "class": "ambience",
        "channels": ["Tin Spring"],
        "grade": "look",
        "says": "the spring return stands at +9 dB, 16 dB over where the other returns are",
        "plant": spring_too_loud,
    },
    {
        "id": "bass-amp-flipped",
        "class": "phase",
        "channels": ["Bass Amp", "Bass DI"],
        "grade": "hold",
        "says": "the bass amp's polarity is inverted against the DI of the same take: the low end cancels",
        "plant": bass_amp_flipped,
    },
    {
        "id": "echo-into-horns",
        "class": "routing",
        "channels": ["Dotted Echo", "HORNS"],
        "grade": "look",
        "says": "the vocal and piano echo returns into HORNS, the other returns into the mix",
        "plant": echo_into_horns,
    },
    {
        "id": "organ-right-centred",
        "class": "place",
        "channels": ["Bubble Org R", "Bubble Org L"],
        "grade": "look",
        "says": "the organ's right half stands in the centre, its left half at -85",
        "plant": organ_right_in_the_middle,
    },
    {
        "id": "echo-off-the-grid",
        "class": "tempo",
        "channels": ["Dotted Echo"],
        "grade": "note",
        "says": "the dotted echo is at 570 ms; dotted at 74 bpm is 608 ms (570 belongs to 79 bpm)",
        "plant": echo_off_the_grid,
    },
    {
        "id": "big-knob-stays",
        "class": "processors",
        "channels": ["DRUMS"],
        "grade": "hold",
        "says": "the drums' low cut is swept to 420 Hz into bar 50 and stays there: no low end to the end",
        "plant": big_knob_stays,
    },
    {
        "id": "ghost-heard",
        "class": "audible-that-should-not-be",
        "channels": ["Ghost 1+3 key"],
        "grade": "hold",
        "says": "the ghost trigger for the gate leads into the drums and will be heard",
        "plant": ghost_heard,
    },
    {
        "id": "frozen-beside-live",
        "class": "twice",
        "channels": ["Skank Pno frz", "Skank Pno"],
        "grade": "hold",
        "says": "the frozen piano is unmuted beside the live one",
        "plant": frozen_beside_live,
    },
]
