"""Lanterns at Weir End: a folk-pop song of a duo with friends, 92 bpm, a written ritardando over the last bars.

Two acoustic guitars sit left and right, one mic each; each has a mono chamber of its own that answers on the other
side. Brushes and a floor tom, electric bass with DI and cab mic, a mandolin for the riff, one lead voice and two
harmony tracks in the choruses. Everything was played to the click and comped section by section, with short crossfades
where takes meet. The engineer rides the lead with the fader, keeps spares muted at their place in the desk, has all
kit mics cut alike and DI and mic of the bass cut alike, and lets the last chord ring to the bar line of bar 66.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Piece = tuple[str, str, float, float]

RATE = 48000.0
TEMPOS: tuple[tuple[float, float], ...] = ((0.0, 92.0), (244.0, 88.0), (248.0, 84.0), (252.0, 76.0))
FULL = 182.0
JOIN = 0.012


def at(bar: int, beat: float = 0.0) -> float:
    """Seconds at a beat (from 0) of a bar (from 1)."""
    goal = 4.0 * (bar - 1) + beat
    seconds = 0.0
    for number, (start, bpm) in enumerate(TEMPOS):
        stop = TEMPOS[number + 1][0] if number + 1 < len(TEMPOS) else goal
        seconds += max(0.0, min(goal, stop) - start) * 60.0 / bpm
    return round(seconds, 4)


def takes() -> dict[str, tuple[str, float, float]]:
    """Every file: its path, where in the song its recording began, its length."""
    chorus = round(at(12), 4)
    bridge = round(at(36), 4)
    last = round(at(44), 4)
    table: dict[str, tuple[str, float, float]] = {}
    for mic in ("kick", "snare", "oh_l", "oh_r", "floor"):
        table[f"{mic}_d2"] = (f"audio/{mic}_d2.wav", 0.0, FULL)
        table[f"{mic}_d4"] = (f"audio/{mic}_d4.wav", bridge, FULL - bridge)
    table["shaker"] = ("audio/shaker_02.wav", chorus, 130.0)
    for line in ("bass_di", "bass_mic"):
        table[f"{line}_t1"] = (f"audio/{line}_t1.wav", 0.0, FULL)
        table[f"{line}_t3"] = (f"audio/{line}_t3.wav", 0.0, FULL)
        table[f"{line}_t4"] = (f"audio/{line}_t4.wav", last, FULL - last)
    for line in ("agtr1", "agtr1_piezo"):
        table[f"{line}_t3"] = (f"audio/{line}_t3.wav", 0.0, FULL)
        table[f"{line}_t5"] = (f"audio/{line}_t5.wav", 0.0, FULL)
    table["agtr2_t1"] = ("audio/agtr2_t1.wav", 0.0, FULL)
    table["agtr2_t2"] = ("audio/agtr2_t2.wav", 0.0, FULL)
    table["agtr2_br"] = ("audio/agtr2_harmonics_t6.wav", bridge, 34.0)
    table["agtr2_t4"] = ("audio/agtr2_t4.wav", last, FULL - last)
    table["mando_m2"] = ("audio/mando_m2.wav", chorus, 92.0)
    table["mando_m3"] = ("audio/mando_trem_m3.wav", bridge, 32.5)
    table["mando_m4"] = ("audio/mando_m4.wav", last, 44.0)
    table["mando_m5"] = ("audio/mando_m5_tag.wav", round(at(57), 4), 30.0)
    table["vox_04"] = ("audio/ldvox_04.wav", 0.0, FULL)
    table["vox_06"] = ("audio/ldvox_06.wav", 0.0, FULL)
    table["vox_br"] = ("audio/ldvox_bridge_02.wav", bridge, 33.0)
    for side in ("a", "b"):
        table[f"harm_{side}1"] = (f"audio/harm_{side}_ch1.wav", chorus, 29.0)
        table[f"harm_{side}2"] = (f"audio/harm_{side}_ch2.wav", round(at(29), 4), 27.0)
        table[f"harm_{side}3"] = (f"audio/harm_{side}_ch3.wav", last, 41.0)
    return table


def lane(*pieces: Piece, head: float = 0.01, tail: float = 0.08, gain: float = 0.0) -> list[dict[str, Any]]:
    """Clips of one track; where one ends as the next begins they are crossfaded."""
    table = takes()
    clips: list[dict[str, Any]] = []
    for number, (name, file, start, end) in enumerate(pieces):
        meets_before = number > 0 and pieces[number - 1][3] == start
        meets_after = number + 1 < len(pieces) and pieces[number + 1][2] == end
        begin = start - JOIN / 2 if meets_before else start
        clips.append(
            {
                "start_s": round(begin, 4),
                "end_s": round(end + JOIN / 2 if meets_after else end, 4),
                "name": name,
                "plays": "audio",
                "file": file,
                "offset_s": round(begin - table[file][1], 4),
                "speed": 1.0,
                "fade_in_s": JOIN if meets_before else head,
                "fade_out_s": JOIN if meets_after else tail,
                "gain_db": gain,
                "on": True,
            }
        )
    return clips


def ringing(clips: list[dict[str, Any]], fade: float = 1.6) -> list[dict[str, Any]]:
    """The same clips, the last one with a long fade under the last chord."""
    clips[-1]["fade_out_s"] = fade
    return clips


def band(kind: str, freq: float, gain: float = 0.0, **more: float) -> dict[str, Any]:
    """One band of an equalizer."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True, **more}


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    """An equalizer."""
    return {
        "name": "EQ",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def low_cut(freq: float, slope: float = 12.0) -> dict[str, Any]:
    """A high-pass band."""
    return band("high-pass", freq, slope_db_per_oct=slope)


def comp(name: str, threshold: float, ratio: float, times: tuple[float, float], makeup: float) -> dict[str, Any]:
    """A compressor."""
    return {
        "name": name,
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": times[0],
            "release_ms": times[1],
            "knee_db": 6.0,
            "input_gain_db": 0.0,
            "output_gain_db": makeup,
            "auto_makeup": False,
        },
    }


def deesser(freq: float, threshold: float) -> dict[str, Any]:
    """A de-esser."""
    return {
        "name": "De-ess",
        "kind": "de-esser",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "freq", "name": "Frequency", "value": freq, "unit": "Hz"},
            {"id": "thr", "name": "Threshold", "value": threshold, "unit": "dB"},
        ],
    }


def room(name: str, decay: float, pre_delay: float) -> dict[str, Any]:
    """A reverb on a return, wholly wet."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}],
    }


def send(to: str, level: float) -> dict[str, Any]:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(*points: tuple[float, float]) -> dict[str, Any]:
    """A drawn fader ride."""
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [round(t, 4) for t, _ in points],
        "v": [v for _, v in points],
    }


def strip(key: str, name: str, kind: str, output: str | None, fader: float, **more: Any) -> dict[str, Any]:
    """One channel of the desk."""
    made: dict[str, Any] = {
        "id": key,
        "name": name,
        "kind": kind,
        "legs": 1 if kind == "track" else 2,
        "plays": ["audio"] if kind == "track" else [],
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    if kind == "track" and output not in (None, "mix"):
        made["parent"] = output
    made.update(more)
    return made


def kit(mic: str) -> list[dict[str, Any]]:
    """The cuts that all microphones of the kit share."""
    return ringing(
        lane(
            (f"{mic} d2 V1b-C2", f"{mic}_d2", at(10), at(38)),
            (f"{mic} d4 Br-out", f"{mic}_d4", at(42), at(66)),
        )
    )


def drums() -> list[dict[str, Any]]:
    """Kit, shaker and their group."""
    floor = lane(
        ("floor d2 C1", "floor_d2", at(14), at(22)),
        ("floor d2 C2", "floor_d2", at(30), at(38)),
        ("floor d4 Br C3", "floor_d4", at(42), at(58)),
        head=0.02,
        tail=0.3,
    )
    shaker = lane(
        ("shaker C1", "shaker", at(14), at(22)),
        ("shaker C2", "shaker", at(30), at(38)),
        ("shaker C3", "shaker", at(46), at(58)),
        tail=0.15,
    )
    kick_eq = eq(low_cut(32.0), band("bell", 340.0, -3.0, q=1.2), band("bell", 3200.0, 2.0, q=0.9))
    snare_eq = eq(low_cut(90.0), band("bell", 210.0, 1.5, q=1.0), band("high-shelf", 7500.0, 1.5, q=0.7))
    return [
        strip("kick", "Kick", "track", "drums", -7.5, clips=kit("kick"),
              inserts=[kick_eq, comp("Comp", -16.0, 3.0, (18.0, 110.0), 2.0)]),
        strip("snare", "Snare", "track", "drums", -9.0, clips=kit("snare"), sends=[send("room", -17.0)],
              inserts=[snare_eq, comp("Comp", -18.0, 2.5, (12.0, 140.0), 1.5)], comment="brushes V, rods from C1"),
        strip("ohl", "OH L", "track", "drums", -11.0, pan=-75.0, clips=kit("oh_l"),
              inserts=[eq(low_cut(140.0), band("high-shelf", 9000.0, 1.0, q=0.7))]),
        strip("ohr", "OH R", "track", "drums", -11.0, pan=75.0, clips=kit("oh_r"),
              inserts=[eq(low_cut(140.0), band("high-shelf", 9000.0, 1.0, q=0.7))]),
        strip("floor", "Floor tom", "track", "drums", -12.0, pan=26.0, clips=floor, sends=[send("room", -16.0)],
              inserts=[eq(low_cut(45.0), band("bell", 420.0, -4.0, q=1.4))]),
        strip("shk", "Shaker", "track", "drums", -17.0, pan=-30.0, clips=shaker, inserts=[eq(low_cut(350.0))],
              comment="choruses only"),
        strip("drums", "Drums", "group", "mix", -2.0,
              inserts=[comp("Drum glue", -14.0, 2.0, (30.0, 180.0), 1.0)],
              automation=[ride((0.0, -2.0), (at(38), -2.0), (at(40), -4.0), (at(45, 2.0), -4.0), (at(46), -1.5),
                               (at(58), -1.5), (at(60), -2.5))]),
    ]  # fmt: skip


def bass_line(line: str) -> list[dict[str, Any]]:
    """The cuts that DI and microphone of the bass share."""
    return ringing(
        lane(
            (f"{line} t1 V1b C1", f"{line}_t1", at(10), at(22)),
            (f"{line} t3 V2 C2", f"{line}_t3", at(22), at(37, 2.5)),
            (f"{line} t3 Br", f"{line}_t3", at(40), at(46)),
            (f"{line} t4 C3 out", f"{line}_t4", at(46), at(66)),
        )
    )


def guitar_one(line: str) -> list[dict[str, Any]]:
    """The comp of the first guitar, the same on mic and pickup."""
    return ringing(
        lane(
            (f"{line} t3 In-C1", f"{line}_t3", at(2), at(22)),
            (f"{line} t5 V2-Br", f"{line}_t5", at(22), at(46)),
            (f"{line} t3 C3-out", f"{line}_t3", at(46), at(66)),
        )
    )


def strings() -> list[dict[str, Any]]:
    """Bass, guitars, mandolin and their groups."""
    second = ringing(
        lane(
            ("agtr2 t1 In V1", "agtr2_t1", at(4), at(14)),
            ("agtr2 t2 C1-C2", "agtr2_t2", at(14), at(38)),
            ("agtr2 harmonics Br", "agtr2_br", at(38), at(46)),
            ("agtr2 t4 C3-out", "agtr2_t4", at(46), at(66)),
        )
    )
    mando = ringing(
        lane(
            ("mando riff C1", "mando_m2", at(14), at(22)),
            ("mando riff C2", "mando_m2", at(30), at(38)),
            ("mando trem Br", "mando_m3", at(38), at(46)),
            ("mando riff C3", "mando_m4", at(46), at(58)),
            ("mando tag", "mando_m5", at(58), at(66)),
        )
    )
    wood = (band("bell", 210.0, -2.5, q=1.1), band("high-shelf", 8000.0, 1.5, q=0.7))
    pluck = comp("Comp", -20.0, 2.0, (22.0, 160.0), 1.5)
    return [
        strip("bdi", "Bass DI", "track", "bass", -9.0, clips=bass_line("bass_di"),
              inserts=[eq(low_cut(35.0), band("bell", 240.0, -2.0, q=1.0))]),
        strip("bmic", "Bass mic", "track", "bass", -10.5, clips=bass_line("bass_mic"),
              inserts=[eq(low_cut(40.0), band("bell", 900.0, 1.5, q=0.8))]),
        strip("bass", "Bass", "group", "mix", -1.0,
              inserts=[comp("Bass comp", -17.0, 3.5, (25.0, 150.0), 2.5)]),
        strip("ag1", "AGtr 1", "track", "gtrs", -8.5, pan=-62.0, clips=guitar_one("agtr1"),
              sends=[send("agv1", -12.0)], inserts=[eq(low_cut(90.0), *wood), pluck],
              automation=[ride((0.0, -8.5), (at(5, 3.0), -8.5), (at(6, 1.0), -10.0), (at(57), -10.0), (at(58), -9.0))],
              comment="small body, fingers"),
        strip("ag2", "AGtr 2", "track", "gtrs", -10.0, pan=62.0, clips=second,
              sends=[send("agv2", -12.0)], inserts=[eq(low_cut(95.0), *wood), pluck], comment="capo 5, pick"),
        strip("ag1p", "AGtr 1 piezo", "track", "gtrs", -14.0, pan=-62.0, mute=True, clips=guitar_one("agtr1_piezo"),
              inserts=[eq(low_cut(110.0))], comment="spare - quacks. mic is the one, keep muted"),
        strip("gtrs", "Guitars", "group", "mix", -1.5, inserts=[eq(band("bell", 2600.0, -1.0, q=0.8))]),
        strip("mando", "Mando", "track", "mix", -14.5, pan=27.0, clips=mando, sends=[send("room", -15.0)],
              inserts=[eq(low_cut(180.0), band("bell", 3600.0, -1.5, q=1.3)),
                       comp("Comp", -19.0, 2.5, (8.0, 90.0), 1.0)],
              comment="riff in all 3 choruses, tremolo Br, tag"),
    ]  # fmt: skip


def harmony(side: str) -> list[dict[str, Any]]:
    """One harmony voice in the three choruses."""
    return lane(
        (f"harm {side} C1", f"harm_{side}1", at(14) - 0.3, at(21, 3.2)),
        (f"harm {side} C2", f"harm_{side}2", at(30) - 0.3, at(37, 3.2)),
        (f"harm {side} C3", f"harm_{side}3", at(46) - 0.3, at(57, 3.2)),
        head=0.04,
        tail=0.12,
        gain=-0.5,
    )


def voices() -> list[dict[str, Any]]:
    """Lead, harmony and their group."""
    lead = lane(
        ("ldvox 04 V1", "vox_04", at(6) - 0.5, at(13, 2.6)),
        ("ldvox 06 C1", "vox_06", at(14) - 0.4, at(21, 3.0)),
        ("ldvox 04 V2", "vox_04", at(22) - 0.5, at(29, 2.6)),
        ("ldvox 06 C2", "vox_06", at(30) - 0.4, at(37, 3.0)),
        ("ldvox br 02", "vox_br", at(38) - 0.2, at(45, 2.5)),
        ("ldvox 06 C3", "vox_06", at(46) - 0.4, at(57, 3.2)),
        ("ldvox 06 tag", "vox_06", at(59) - 0.3, at(62, 2.0)),
        ("ldvox 06 laugh - out", "vox_06", at(63, 2.0), at(64, 3.5)),
        head=0.03,
        tail=0.1,
    )
    lead[-1]["on"] = False
    lead_ride = ride(
        (0.0, -6.0),
        (at(13, 3.0), -6.0),
        (at(14) - 0.4, -5.0),
        (at(21, 3.0), -5.0),
        (at(22) - 0.5, -6.2),
        (at(29, 3.0), -6.2),
        (at(30) - 0.4, -4.8),
        (at(37, 3.2), -4.8),
        (at(38) - 0.3, -7.0),
        (at(44, 2.0), -6.5),
        (at(44, 3.0), -18.0),
        (at(45, 0.5), -18.0),
        (at(45, 1.0), -6.0),
        (at(46) - 0.4, -4.5),
        (at(57, 3.2), -4.5),
        (at(59) - 0.4, -6.0),
    )
    lead_chain = [
        eq(low_cut(85.0, 18.0), band("bell", 280.0, -2.0, q=1.0), band("high-shelf", 10000.0, 2.0, q=0.7)),
        comp("Comp 1", -20.0, 3.0, (6.0, 90.0), 3.0),
        deesser(6800.0, -26.0),
    ]
    harm_chain = [
        eq(low_cut(130.0, 18.0), band("bell", 300.0, -2.5, q=1.0)),
        comp("Comp", -22.0, 3.5, (5.0, 110.0), 3.0),
        deesser(7000.0, -28.0),
    ]
    return [
        strip("lv", "Ld Vox", "track", "vox", -6.0, clips=lead, sends=[send("plate", -14.0), send("echo", -21.0)],
              inserts=lead_chain, automation=[lead_ride],
              comment="comp of 04/06, bridge separate. page noise bar 44 ridden, laugh at the end out"),
        strip("ha", "Harm A", "track", "vox", -12.5, pan=-24.0, clips=harmony("a"), sends=[send("plate", -11.0)],
              inserts=harm_chain),
        strip("hb", "Harm B", "track", "vox", -12.5, pan=24.0, clips=harmony("b"), sends=[send("plate", -11.0)],
              inserts=[dict(one) for one in harm_chain]),
        strip("vox", "Vox", "group", "mix", -1.0, inserts=[comp("Vox glue", -13.0, 1.8, (20.0, 140.0), 0.5)]),
    ]  # fmt: skip


def returns() -> list[dict[str, Any]]:
    """Reverbs, echo and the mix bus."""
    echo = {
        "name": "Echo",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "time", "name": "Time", "value": 652.17, "unit": "ms"},
            {"id": "fb", "name": "Feedback", "value": 16.0, "unit": "%"},
        ],
    }
    limiter = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "release_ms": 120.0, "input_gain_db": 0.0, "output_gain_db": 0.0},
    }
    dark = band("low-pass", 6500.0, slope_db_per_oct=12.0)
    return [
        strip("agv1", "AG1 verb", "return", "mix", -6.0, legs=1, pan=58.0,
              inserts=[room("Chamber", 1.4, 18.0), eq(low_cut(220.0), dark)], comment="AGtr 1 answers on the R"),
        strip("agv2", "AG2 verb", "return", "mix", -6.0, legs=1, pan=-58.0,
              inserts=[room("Chamber", 1.4, 18.0), eq(low_cut(220.0), dark)], comment="AGtr 2 answers on the L"),
        strip("plate", "Vox plate", "return", "mix", -4.0,
              inserts=[room("Plate", 1.9, 32.0), eq(low_cut(260.0), dark)]),
        strip("echo", "Vox echo", "return", "mix", -6.0,
              inserts=[echo, eq(low_cut(300.0), band("low-pass", 4200.0, slope_db_per_oct=12.0))], comment="1/4"),
        strip("room", "Room", "return", "mix", -5.0, inserts=[room("Wooden room", 0.7, 6.0), eq(low_cut(150.0))],
              comment="snare, floor, mando"),
        strip("mix", "Mix", "master", None, 0.0,
              inserts=[eq(low_cut(25.0), band("high-shelf", 11000.0, 0.8, q=0.7)),
                       comp("Bus comp", -12.0, 1.5, (30.0, 200.0), 1.0), limiter]),
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    marks = (
        (2, "Intro"),
        (6, "V1"),
        (14, "C1"),
        (22, "V2"),
        (30, "C2"),
        (38, "Bridge"),
        (46, "C3"),
        (58, "Outro"),
        (64, "Last chord"),
        (66, "End"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "Lanterns at Weir End - mix 5",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in marks],
        "channels": [*drums(), *strings(), *voices(), *returns()],
        "media": [
            {
                "id": key,
                "path": path,
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": round(length, 4),
            }
            for key, (path, _, length) in takes().items()
        ],
        "metadata": {"mix": "5", "bounce": "48 kHz / 24 bit, bar 1 to bar 68"},
    }


def channel(session: Session, name: str) -> dict[str, Any]:
    """The channel of a name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def clip_of(session: Session, name: str, word: str) -> dict[str, Any]:
    """The clip of a channel whose name ends in a word."""
    found: dict[str, Any] = next(c for c in channel(session, name)["clips"] if c["name"].endswith(word))
    return found


def chamber_on_its_own_side(session: Session) -> None:
    """The second chamber copied the place of the first and lies on its guitar's side."""
    channel(session, "AG2 verb")["pan"] = 58.0


def plate_half_dry(session: Session) -> None:
    """The plate's mix control is turned back."""
    channel(session, "Vox plate")["inserts"][0]["wet"] = 35.0


def lead_left_down(session: Session) -> None:
    """The ride pulls the lead down in the bridge and was never brought up again."""
    lead = channel(session, "Ld Vox")["automation"][0]
    last = lead["v"].index(-18.0) + 1
    lead["t"], lead["v"] = lead["t"][:last], lead["v"][:last]


def harmony_clip_gain(session: Session) -> None:
    """The gain of one harmony clip was pushed for listening and left so."""
    clip_of(session, "Harm B", "C2")["gain_db"] = 10.5


def bass_mic_nudged(session: Session) -> None:
    """One clip of the bass mic was nudged against the DI."""
    clip = clip_of(session, "Bass mic", "V2 C2")
    clip["start_s"] = round(clip["start_s"] + 0.021, 4)
    clip["end_s"] = round(clip["end_s"] + 0.021, 4)


def laugh_back_in(session: Session) -> None:
    """The laugh under the last chord was switched on again."""
    clip_of(session, "Ld Vox", "laugh - out")["on"] = True


def mandolin_chorus_off(session: Session) -> None:
    """The mandolin's clip of the last chorus was muted and forgotten."""
    clip_of(session, "Mando", "C3")["on"] = False


def last_chord_cut(session: Session) -> None:
    """The second guitar's last chord is trimmed away while everything else rings."""
    clip = channel(session, "AGtr 2")["clips"][-1]
    clip["end_s"] = at(64, 1.0)
    clip["fade_out_s"] = 0.0


def shaker_at_other_rate(session: Session) -> None:
    """The shaker was swapped for a file of another sample rate that was not converted."""
    file = next(m for m in session["media"] if m["id"] == "shaker")
    file["path"] = "audio/shaker_02_redo.wav"
    file["sample_rate_hz"] = 44100.0


def guitar_cut_tenfold(session: Session) -> None:
    """A nought too many in the low cut of the first guitar."""
    channel(session, "AGtr 1")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 900.0


def tempo_left_from_trial(session: Session) -> None:
    """A faster second chorus was tried in the tempo map and left there."""
    session["timeline"]["tempos"].insert(1, {"beat": 116.0, "bpm": 95.0})


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["AGtr 1 piezo"], "why": "a muted spare that stays in the session on purpose"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "chamber-same-side",
        "class": "place",
        "channels": ["AG2 verb"],
        "grade": "look",
        "says": "AG2 verb lies right, on its own guitar's side and on top of AG1 verb; its comment says L.",
        "plant": chamber_on_its_own_side,
    },
    {
        "id": "plate-half-dry",
        "class": "ambience",
        "channels": ["Vox plate"],
        "grade": "look",
        "says": "The reverb on the return Vox plate is only 35 % wet, all the others are 100 %: dry voice comes back.",
        "plant": plate_half_dry,
    },
    {
        "id": "lead-left-down",
        "class": "automation",
        "channels": ["Ld Vox"],
        "grade": "hold",
        "says": "The fader of Ld Vox drops to -18 dB at the end of the bridge and stays there for C3 and the tag.",
        "plant": lead_left_down,
    },
    {
        "id": "harmony-clip-gain",
        "class": "level",
        "channels": ["Harm B"],
        "grade": "look",
        "says": "The C2 clip of Harm B has +10.5 dB of gain; its other clips and all of Harm A stand at -0.5 dB.",
        "plant": harmony_clip_gain,
    },
    {
        "id": "bass-mic-nudged",
        "class": "phase",
        "channels": ["Bass mic", "Bass DI"],
        "grade": "look",
        "says": "From V2 to C2 Bass mic lies 21 ms later than Bass DI; in all other clips they are aligned.",
        "plant": bass_mic_nudged,
    },
    {
        "id": "laugh-back-in",
        "class": "audible-that-should-not-be",
        "channels": ["Ld Vox"],
        "grade": "hold",
        "says": "The clip named laugh - out on Ld Vox is on and sounds under the last chord.",
        "plant": laugh_back_in,
    },
    {
        "id": "mandolin-chorus-off",
        "class": "inaudible",
        "channels": ["Mando"],
        "grade": "look",
        "says": "The mandolin clip of C3 is muted, though the comment says the riff is in all three choruses.",
        "plant": mandolin_chorus_off,
    },
    {
        "id": "last-chord-cut",
        "class": "end",
        "channels": ["AGtr 2"],
        "grade": "look",
        "says": "AGtr 2 stops dead without a fade in bar 64 while AGtr 1, bass, mandolin and kit ring to bar 66.",
        "plant": last_chord_cut,
    },
    {
        "id": "shaker-at-44k",
        "class": "files",
        "channels": ["Shaker"],
        "grade": "hold",
        "says": "The shaker's file is 44.1 kHz in a 48 kHz session and plays at speed 1: off pitch and off time.",
        "plant": shaker_at_other_rate,
    },
    {
        "id": "guitar-cut-tenfold",
        "class": "processors",
        "channels": ["AGtr 1"],
        "grade": "look",
        "says": "The low cut of AGtr 1 stands at 900 Hz, that of AGtr 2 at 95 Hz: a nought too many.",
        "plant": guitar_cut_tenfold,
    },
    {
        "id": "tempo-left-from-trial",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The tempo map steps to 95 bpm at C2; from the bridge on markers and clips are off the bar lines.",
        "plant": tempo_left_from_trial,
    },
]
