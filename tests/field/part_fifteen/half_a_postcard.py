"""Half a Postcard: a home-recorded song, sent as a folder of stems to a mix engineer.

Ollie recorded drums (programmed, four-bar loops), bass, guitars and piano in his flat; Mia sang the harmonies and
played the crunch guitar at her place. Ollie's files all start at song zero, hers at bar 3 where she came in; he writes
lower case with underscores, she writes names with spaces. The engineer kept their names, put the song on a grid of 92,
added the buses in capitals and short notes in the comments. Everything at 44.1 kHz, as it came.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

BPM = 92.0
BEAT = 60.0 / BPM
BAR = 4 * BEAT
# section, first bar (from 0), bars
FORM: list[tuple[str, int, int]] = [
    ("count", 0, 2),
    ("intro", 2, 4),
    ("v1", 6, 8),
    ("ch1", 14, 8),
    ("v2", 22, 8),
    ("ch2", 30, 8),
    ("bridge", 38, 8),
    ("ch3", 46, 8),
    ("outro", 54, 4),
]
FIRST = {name: bar for name, bar, _ in FORM}
LONG = {name: bars for name, _, bars in FORM}
END_BAR = 58
RING = 4.2  # the last chord
MIA_ZERO = 2 * BAR  # Mia's files start at bar 3
CHORUSES = ("ch1", "ch2", "ch3")


def bar(number: float) -> float:
    """The time of a bar, counted from 0."""
    return number * BAR


def x(value: float) -> float:
    """A time as the export writes it."""
    return round(value, 5)


def begin(section: str) -> float:
    """Where a section begins."""
    return bar(FIRST[section])


def finish(section: str) -> float:
    """Where a section ends."""
    return bar(FIRST[section] + LONG[section])


def clip(
    start: float,
    end: float,
    file: str,
    name: str,
    fades: tuple[float, float] = (0.01, 0.05),
    gain: float = 0.0,
    zero: float = 0.0,
) -> Item:
    """A clip of a file that starts at ``zero`` in the song."""
    return {
        "start_s": x(start),
        "end_s": x(end),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": x(start - zero),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": gain,
        "on": True,
    }


def loops() -> list[Item]:
    """The programmed drums: four-bar loops end to end, a count-in that is switched off, the last hit."""
    plan = {"intro": "a", "v1": "a", "ch1": "b", "v2": "a", "ch2": "b", "bridge": "half", "ch3": "b", "outro": "a"}
    count = clip(0.0, begin("intro"), "dr_count", "drums_count", (0.0, 0.0))
    count["on"] = False
    made = [count]
    for section, which in plan.items():
        for n in range(LONG[section] // 4):
            start = begin(section) + n * 4 * BAR
            gain = -0.5 if which == "b" else 0.0
            name = f"drums_loop_{which}"
            made.append(clip(start, start + 4 * BAR, f"dr_{which}", name, (0.002, 0.004), gain, zero=start))
    hit = bar(END_BAR)
    made.append(clip(hit, hit + RING, "dr_hit", "drums_last_hit", (0.0, 0.8), zero=hit))
    return made


def pieces(file: str, name: str, sections: list[str], gains: list[float], zero: float = 0.0) -> list[Item]:
    """A sung or played part, a clip per section, a breath early and a tail late."""
    made: list[Item] = []
    for section, gain in zip(sections, gains, strict=True):
        start, end = begin(section) - 0.28, finish(section) - 0.34
        made.append(clip(start, end, file, name, (0.02, 0.12), gain, zero))
    return made


def band(kind: str, freq: float, value: float, q: float = 1.0) -> Item:
    """An equalizer band; for a high- or low-pass the value is its slope."""
    if kind in ("high-pass", "low-pass"):
        return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": value, "on": True}
    return {"kind": kind, "freq_hz": freq, "gain_db": value, "q": q, "on": True}


def low(freq: float) -> Item:
    """The engineer's usual low cut."""
    return band("high-pass", freq, 12.0)


def eq(*bands: Item, name: str = "EQ") -> Item:
    """An equalizer."""
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(threshold: float, ratio: float, times: tuple[float, float], out: float, name: str = "COMP") -> Item:
    """A compressor; times are attack and release."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": times[0],
        "release_ms": times[1],
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "dynamics": dynamics}


def param(ident: str, name: str, value: float | bool | str, unit: str = "") -> Item:
    """A listed parameter."""
    return {"id": ident, "name": name, "value": value, "unit": unit}


def device(name: str, kind: str, *params: Item, wet: float | None = None) -> Item:
    """Any other processor with listed parameters."""
    made: Item = {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": list(params)}
    if wet is not None:
        made["wet"] = wet
    return made


def tune(speed: float) -> Item:
    """Pitch correction, in the key of the song."""
    return device("pitch fix", "pitch", param("key", "Key", "G major"), param("speed", "Speed", speed, "ms"))


def flip(inverted: bool) -> Item:
    """The polarity switch."""
    return device("POLARITY", "utility", param("invert", "Invert", inverted))


def send(to: str, level: float) -> Item:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def strip(ident: str, name: str, kind: str, mix: tuple[int, float, float], output: str, **more: Any) -> Item:
    """A strip; ``mix`` is legs, fader, pan."""
    made: Item = {
        "id": ident,
        "name": name,
        "kind": kind,
        "plays": ["audio"] if kind == "track" else [],
        "legs": mix[0],
        "fader_db": mix[1],
        "pan": mix[2],
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    made.update(more)
    return made


def lines(target: str, scale: str, points: list[tuple[float, float]], shape: str = "linear") -> Item:
    """An automation line."""
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [x(t) for t, _ in points],
        "v": [v for _, v in points],
    }


def rhythm() -> list[Item]:
    """Drums and bass, all Ollie's."""
    end = bar(END_BAR) + RING
    stay_out = bar(FIRST["bridge"] + 4)
    bass = [
        ("bass_v3", begin("intro"), begin("bridge") + 0.6, (0.01, 0.3)),
        ("bass_v3", stay_out - 0.15, end, (0.05, 1.2)),
    ]
    lift = [
        (0.0, -6.5),
        (begin("ch3") - 0.2, -6.5),
        (begin("ch3"), -5.5),
        (finish("ch3") - 0.2, -5.5),
        (finish("ch3"), -6.5),
    ]
    return [
        strip(
            "dr",
            "drums_bounce03",
            "track",
            (2, -6.5, 0.0),
            "mix",
            folder=["from_ollie"],
            inserts=[
                eq(band("bell", 310.0, -2.0, 0.9), band("high-shelf", 9000.0, 1.0, 0.7)),
                comp(-14.0, 2.0, (28.0, 120.0), 1.0),
            ],
            sends=[send("verb", -24.0)],
            clips=loops(),
            automation=[lines("fader", "dB", lift)],
            comment="programmed, his own count-in is switched off",
        ),
        strip(
            "bdi",
            "bass_DI_final",
            "track",
            (1, -9.0, 0.0),
            "mix",
            folder=["from_ollie"],
            inserts=[flip(False), eq(low(35.0), band("bell", 700.0, 1.5)), comp(-20.0, 4.0, (20.0, 110.0), 3.0)],
            clips=[clip(a, b, "bdi", f"{n}_DI", f) for n, a, b, f in bass],
            comment="polarity straight, the amp is the one turned over",
        ),
        strip(
            "bamp",
            "bass_amp_closet",
            "track",
            (1, -13.0, 0.0),
            "mix",
            folder=["from_ollie"],
            inserts=[flip(True), eq(low(60.0), band("low-pass", 4200.0, 12.0)), comp(-20.0, 3.0, (25.0, 120.0), 1.5)],
            clips=[clip(a, b, "bamp", f"{n}_amp", f) for n, a, b, f in bass],
            comment="same take as the DI, polarity turned over to match it",
        ),
    ]


def strings_and_keys() -> list[Item]:
    """Acoustic guitars and piano by Ollie, crunch by Mia."""
    end = bar(END_BAR) + RING
    acoustic = [
        ("intro", begin("intro") - 0.1, begin("bridge"), (0.01, 0.05)),
        ("after", begin("bridge") - 0.05, end, (0.05, 1.5)),
    ]
    crunch_switch = [(0.0, 0.0)]
    for section in CHORUSES:
        crunch_switch += [(begin(section) - 0.1, 1.0), (finish(section) - 0.1, 0.0)]
    made = []
    for side, pan, ident in (("left", -75.0, "acl"), ("right_2ndpass", 75.0, "acr")):
        name = f"ac_gtr_{side}"
        gain = 0.0 if pan < 0 else 0.7
        made.append(
            strip(
                ident,
                name,
                "track",
                (1, -11.0, pan),
                "mix",
                folder=["from_ollie"],
                inserts=[eq(low(110.0), band("bell", 240.0, -2.5)), comp(-18.0, 2.5, (15.0, 130.0), 1.5)],
                sends=[send("verb", -20.0)],
                clips=[clip(a, b, ident, name, f, gain) for _, a, b, f in acoustic],
            )
        )
    return [
        *made,
        strip(
            "cr",
            "Elec crunch - mia",
            "track",
            (1, -13.5, 32.0),
            "mix",
            folder=["Mia files"],
            inserts=[
                {**device("drive", "distortion", param("drive", "Drive", 4.5)), "on": False},
                eq(low(120.0), band("low-pass", 6500.0, 12.0)),
            ],
            sends=[send("verb", -19.0)],
            clips=pieces("cr", "Mia elec 05", ["v1", "ch1", "v2", "ch2", "ch3"], [0.0, 0.0, 0.0, -0.5, 0.0], MIA_ZERO),
            automation=[lines("insert:0:on", "switch", crunch_switch, "hold")],
            comment="clean picking in verses, drive ON in all three choruses",
        ),
        strip(
            "pno",
            "piano_livingroom",
            "track",
            (2, -12.0, 0.0),
            "mix",
            folder=["from_ollie"],
            inserts=[eq(low(90.0), band("bell", 400.0, -2.0)), comp(-22.0, 2.0, (20.0, 160.0), 2.0)],
            sends=[send("verb", -17.0)],
            clips=[
                clip(begin("v2") - 0.1, finish("ch2") - 0.2, "pno", "piano_v2on", (0.05, 0.2)),
                clip(begin("bridge") - 0.15, end, "pno", "piano_v2on", (0.05, 1.5), 1.0),
            ],
            comment="two phones on the lid, enters in v2, leads the bridge",
        ),
    ]


def voices() -> list[Item]:
    """Lead, double, Mia's harmonies, the old comp, the bus."""
    sung = ["v1", "ch1", "v2", "ch2", "bridge", "ch3"]
    throw = [(0.0, 0.0)]
    for section in CHORUSES:
        throw += [(finish(section) - 2.0 * BEAT, 1.0), (finish(section) - 0.25 * BEAT, 0.0)]
    rides = [(0.0, -6.0)]
    for section, delta in (("ch1", 0.8), ("ch2", 0.8), ("bridge", -1.0), ("ch3", 1.2)):
        rides += [(begin(section) - 0.5, rides[-1][1]), (begin(section) - 0.3, -6.0 + delta)]
        rides += [(finish(section) - 0.7, -6.0 + delta), (finish(section) - 0.55, -6.0)]
    mia = [
        ("bvh", "bv mia high", -12.0, -48.0, [0.0, 0.5, 0.0]),
        ("bvl", "bv mia low", -12.5, 48.0, [0.0, 0.0, 1.0]),
    ]
    harmonies = [
        strip(
            ident,
            name,
            "track",
            (1, fader, pan),
            "vox",
            parent="vox",
            folder=["Mia files"],
            inserts=[tune(40.0), eq(low(160.0), band("bell", 300.0, -2.0)), comp(-24.0, 3.0, (8.0, 100.0), 3.0)],
            sends=[send("verb", -13.0)],
            clips=pieces(ident, f"Mia {name[7:]} take 2", list(CHORUSES), gains, MIA_ZERO),
        )
        for ident, name, fader, pan, gains in mia
    ]
    return [
        strip(
            "lead",
            "LEAD comp v4",
            "track",
            (1, -6.0, 0.0),
            "vox",
            parent="vox",
            folder=["from_ollie"],
            inserts=[
                tune(60.0),
                eq(low(90.0), band("bell", 260.0, -2.0), band("high-shelf", 10000.0, 2.0, 0.7)),
                comp(-24.0, 3.5, (6.0, 80.0), 4.0),
                device(
                    "S-CUT", "de-esser", param("freq", "Frequency", 6900.0, "Hz"), param("range", "Range", -5.0, "dB")
                ),
            ],
            sends=[send("verb", -16.0), {**send("echo", -12.0), "on": False}],
            clips=pieces("lead4", "lead_comp_v4", sung, [0.0, 0.0, 0.5, 0.0, 1.5, -0.5]),
            automation=[lines("fader", "dB", rides), lines("send:1:on", "switch", throw, "hold")],
            comment="echo only on the last word of each chorus",
        ),
        strip(
            "dbl",
            "lead_dbl_choruses",
            "track",
            (1, -16.0, 0.0),
            "vox",
            parent="vox",
            folder=["from_ollie"],
            inserts=[tune(40.0), eq(low(180.0), band("low-pass", 9000.0, 6.0)), comp(-26.0, 4.0, (5.0, 80.0), 3.0)],
            sends=[send("verb", -16.0)],
            clips=pieces("dbl", "lead_dbl_t3", list(CHORUSES), [0.0, 0.0, 0.5]),
            comment="own pass, tucked under",
        ),
        *harmonies,
        strip(
            "old",
            "lead_comp_v2_OLD",
            "track",
            (1, -6.0, 0.0),
            "vox",
            parent="vox",
            folder=["from_ollie", "dont_use"],
            mute=True,
            clips=[clip(begin("v1") - 0.3, finish("ch3"), "lead2", "lead_comp_v2_OLD", (0.05, 0.1))],
            comment="superseded by v4 (wrong words in ch2!), kept muted because Ollie asked",
        ),
        strip(
            "vox",
            "VOX BUS",
            "group",
            (2, 0.0, 0.0),
            "mix",
            inserts=[comp(-16.0, 1.8, (20.0, 140.0), 1.0), eq(band("high-shelf", 11000.0, 0.8, 0.7))],
        ),
    ]


def buses() -> list[Item]:
    """Returns and the mix."""
    plate = device("PLATE", "reverb", param("decay", "Decay", 1.9, "s"), wet=100.0)
    plate["pre_delay_ms"] = 30.0
    quarter = [param("time", "Time", 652.2, "ms"), param("fb", "Feedback", 22.0, "%")]
    limiter = device("LIMIT", "limiter", param("ceiling", "Ceiling", -1.0, "dBTP"))
    limiter["dynamics"] = {"threshold_db": -4.0, "release_ms": 80.0, "output_gain_db": 0.0, "auto_makeup": False}
    return [
        strip(
            "verb",
            "VERB",
            "return",
            (2, -5.0, 0.0),
            "mix",
            inserts=[plate, eq(low(250.0), band("low-pass", 8000.0, 12.0))],
        ),
        strip(
            "echo",
            "ECHO 1/4",
            "return",
            (2, -8.0, 0.0),
            "mix",
            inserts=[device("ECHO", "delay", *quarter, wet=100.0), eq(low(300.0), band("low-pass", 3800.0, 12.0))],
            sends=[send("verb", -14.0)],
            comment="quarter note of the song",
        ),
        strip(
            "mix",
            "MIX",
            "master",
            (2, 0.0, 0.0),
            "",
            inserts=[eq(low(28.0)), comp(-12.0, 1.5, (30.0, 180.0), 1.0, "GLUE"), limiter],
            comment="44.1/24 to Ollie, instrumental afterwards",
        ),
    ]


def media() -> list[Item]:
    """The media list; Ollie's folder, Mia's folder."""
    whole = x(bar(END_BAR) + 8.4)
    mia = x(bar(END_BAR) - MIA_ZERO + 6.1)
    loop = x(4 * BAR + 0.004)
    rows: list[tuple[str, str, int, float]] = [
        ("dr_count", "ollie_stems/drums_count.wav", 2, x(2 * BAR + 0.004)),
        ("dr_a", "ollie_stems/drums_loop_a_92.wav", 2, loop),
        ("dr_b", "ollie_stems/drums_loop_b_92.wav", 2, loop),
        ("dr_half", "ollie_stems/drums_loop_half_92.wav", 2, loop),
        ("dr_hit", "ollie_stems/drums_last_hit.wav", 2, 6.0),
        ("bdi", "ollie_stems/bass_v3_DI_final.wav", 1, whole),
        ("bamp", "ollie_stems/bass_v3_amp_closet.wav", 1, whole),
        ("acl", "ollie_stems/ac_gtr_left.wav", 1, whole),
        ("acr", "ollie_stems/ac_gtr_right_2ndpass.wav", 1, whole),
        ("pno", "ollie_stems/piano_livingroom_2.wav", 2, whole),
        ("lead4", "ollie_stems/lead_comp_v4.wav", 1, whole),
        ("lead2", "ollie_stems/old/lead_comp_v2_OLD.wav", 1, whole),
        ("dbl", "ollie_stems/lead_dbl_t3.wav", 1, whole),
        ("cr", "Mia files/Mia elec 05.wav", 1, mia),
        ("bvh", "Mia files/Mia high take 2.wav", 1, mia),
        ("bvl", "Mia files/Mia low take 2 (1).wav", 1, mia),
    ]
    return [
        {
            "id": ident,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": 44100.0,
            "duration_s": length,
        }
        for ident, path, legs, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = rhythm() + strings_and_keys() + voices() + buses()
    del channels[-1]["output"]
    marks = [{"time_s": x(begin(name)), "name": name} for name, _, _ in FORM]
    marks += [{"time_s": x(bar(END_BAR)), "name": "last chord"}, {"time_s": x(bar(END_BAR) + 6.5), "name": "end"}]
    return {
        "format": "mixlint-session/1",
        "title": "half a postcard MIX 2",
        "sample_rate_hz": 44100.0,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM, "ramp": False}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": marks,
        "channels": channels,
        "media": media(),
        "metadata": {"song": "half a postcard", "from": "Ollie + Mia", "key": "G major"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def clip_at(session: Session, name: str, section: str) -> Item:
    """The clip of a channel that sounds in the middle of a section."""
    middle = (begin(section) + finish(section)) / 2
    found: Item = next(c for c in channel(session, name)["clips"] if c["start_s"] < middle < c["end_s"])
    return found


def file_in_downloads(session: Session) -> None:
    """Mia's high harmony was dragged in from the downloads folder and never copied to the session."""
    entry = next(m for m in session["media"] if m["id"] == "bvh")
    entry.update({"path": "/home/mixroom/Downloads/Mia high take 2.wav", "place": "outside"})


def old_comp_in_chorus(session: Session) -> None:
    """The second chorus of the lead still comes from the old comp."""
    clip_at(session, "LEAD comp v4", "ch2").update({"file": "lead2", "name": "lead_comp_v2_OLD"})


def both_flipped(session: Session) -> None:
    """The DI was turned over too, so that the two stand against each other again."""
    channel(session, "bass_DI_final")["inserts"][0]["parameters"][0]["value"] = True


def double_is_lead(session: Session) -> None:
    """The lead's clip was pasted on the double in the third chorus."""
    own = clip_at(session, "lead_dbl_choruses", "ch3")
    lead = clip_at(session, "LEAD comp v4", "ch3")
    own.update({key: lead[key] for key in ("file", "name", "offset_s", "gain_db")})


def count_in_on(session: Session) -> None:
    """The count-in was switched on for an overdub and stayed on."""
    channel(session, "drums_bounce03")["clips"][0]["on"] = True


def echo_at_120(session: Session) -> None:
    """The echo came back with the time of the default tempo."""
    channel(session, "ECHO 1/4")["inserts"][0]["parameters"][0]["value"] = 500.0


def piano_nowhere(session: Session) -> None:
    """The piano's output was taken off for a freeze and never put back."""
    channel(session, "piano_livingroom")["output"] = None


def wrong_key(session: Session) -> None:
    """The low harmony's pitch correction stands in another key."""
    channel(session, "bv mia low")["inserts"][0]["parameters"][0]["value"] = "Ab major"


def drive_missing(session: Session) -> None:
    """The switch-on of the drive in the second chorus was deleted with its pair."""
    points = channel(session, "Elec crunch - mia")["automation"][0]
    on = points["t"].index(x(begin("ch2") - 0.1))
    del points["t"][on : on + 2]
    del points["v"][on : on + 2]


def loop_nudged(session: Session) -> None:
    """One loop of the second verse was nudged a beat late."""
    clips = channel(session, "drums_bounce03")["clips"]
    found = next(c for c in clips if c["start_s"] == x(begin("v2") + 4 * BAR))
    found["start_s"] = x(found["start_s"] + BEAT)
    found["end_s"] = x(found["end_s"] + BEAT)


def solo_left(session: Session) -> None:
    """The crunch guitar is still in solo."""
    channel(session, "Elec crunch - mia")["solo"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["lead_comp_v2_OLD"], "why": "muted on purpose, the comment says why it is kept"},
    {"channels": ["drums_bounce03"], "why": "its count-in clip is switched off on purpose"},
    {"channels": ["ECHO 1/4"], "why": "sends a little into the reverb; that is meant"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "file-in-downloads",
        "class": "hand-over",
        "channels": ["bv mia high"],
        "grade": "note",
        "says": "The high harmony's file lies in a downloads folder outside the session; all others travel with it.",
        "plant": file_in_downloads,
    },
    {
        "id": "old-comp-in-chorus",
        "class": "files",
        "channels": ["LEAD comp v4"],
        "grade": "hold",
        "says": "Chorus 2 of the lead plays the superseded comp v2; all other sections play v4.",
        "plant": old_comp_in_chorus,
    },
    {
        "id": "both-flipped",
        "class": "phase",
        "channels": ["bass_DI_final", "bass_amp_closet"],
        "grade": "look",
        "says": "DI and amp are both turned over, against their comments, so they stand against each other.",
        "plant": both_flipped,
    },
    {
        "id": "double-is-lead",
        "class": "twice",
        "channels": ["lead_dbl_choruses", "LEAD comp v4"],
        "grade": "hold",
        "says": "In chorus 3 the double plays the lead's own file at the same place; it only makes the lead louder.",
        "plant": double_is_lead,
    },
    {
        "id": "count-in-on",
        "class": "audible-that-should-not-be",
        "channels": ["drums_bounce03"],
        "grade": "hold",
        "says": "The count-in clip is on; the comment says it is switched off.",
        "plant": count_in_on,
    },
    {
        "id": "echo-at-120",
        "class": "ambience",
        "channels": ["ECHO 1/4"],
        "grade": "look",
        "says": "The echo is named a quarter but stands at 500 ms; a quarter at 92 is 652 ms.",
        "plant": echo_at_120,
    },
    {
        "id": "piano-nowhere",
        "class": "routing",
        "channels": ["piano_livingroom"],
        "grade": "hold",
        "says": "The piano goes to no output; only its reverb is heard.",
        "plant": piano_nowhere,
    },
    {
        "id": "wrong-key",
        "class": "processors",
        "channels": ["bv mia low"],
        "grade": "hold",
        "says": "The low harmony is corrected to Ab major, the song and all other voices are in G.",
        "plant": wrong_key,
    },
    {
        "id": "drive-missing",
        "class": "automation",
        "channels": ["Elec crunch - mia"],
        "grade": "look",
        "says": "The drive stays off in chorus 2; choruses 1 and 3 switch it on and the comment wants all three.",
        "plant": drive_missing,
    },
    {
        "id": "loop-nudged",
        "class": "edits",
        "channels": ["drums_bounce03"],
        "grade": "hold",
        "says": "The second loop of verse 2 starts a beat late: a hole before it, an overlap after it.",
        "plant": loop_nudged,
    },
    {
        "id": "solo-left",
        "class": "inaudible",
        "channels": ["Elec crunch - mia"],
        "grade": "hold",
        "says": "The crunch guitar is in solo; everything else would be missing from the bounce.",
        "plant": solo_left,
    },
]
