"""Butter on the Backbeat: a soul and funk band live in a packed club, second set, song four.

Everything is one recording off the stage split: every line is a file of the whole second set, and the song is the same
stretch of each of them, without a click and so without a tempo map. A tuning pause of 17.42 s in the middle of the
clap-along was taken out at one place on every line (marker EDIT), 20 ms crossfades on stage, 0.4 s on the crowd. The
two crowd mics stand at the desk and are pulled 26 ms towards the stage. Singers' lines are cut to what they sing and
the mutes of the desk opened for each phrase, as at the gig. One last fade
on the mix bus goes over the applause.
Pans are as the house saw it: percussion left, guitar and horns right.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 48000.0
SET_LENGTH = 2946.0
TAKE = 1312.4
CUT = 203.6
JUMP = 17.42
COUNT = 5.0
BAND_END = 275.0
CROWD_END = 290.0
CROWD_PULL = 0.026
MUTE_LEAD = 0.4
VOX_HEAD = 0.25

LINES: dict[str, str] = {
    "kin": "01_kick_in",
    "kout": "02_kick_out",
    "snt": "03_sn_top",
    "snb": "04_sn_btm",
    "hat": "05_hat",
    "rack": "06_rack",
    "flr": "07_floor",
    "ohl": "08_oh_l",
    "ohr": "09_oh_r",
    "clo": "10_conga_lo",
    "chi": "11_conga_hi",
    "perc": "12_perc_oh",
    "bdi": "13_bass_di",
    "bcab": "14_bass_cab",
    "gtr": "15_gtr",
    "epl": "16_ep_l",
    "epr": "17_ep_r",
    "tpt": "18_tpt",
    "ten": "19_tenor",
    "bone": "20_bone",
    "del": "21_vox_delia",
    "osr": "22_vox_osric",
    "tb": "23_tb_stage",
    "aul": "24_aud_l",
    "aur": "25_aud_r",
}

DELIA: tuple[tuple[str, float, float], ...] = (
    ("announce", 0.9, 4.4),
    ("V1", 24.1, 53.6),
    ("Ch1", 55.3, 75.9),
    ("Ch2", 108.6, 129.6),
    ("clap talk", 187.0, 202.2),
    ("vamp", 204.8, 228.0),
    ("out", 229.5, 266.3),
    ("thanks", 268.6, 273.2),
)
OSRIC: tuple[tuple[str, float, float], ...] = (
    ("Ch1", 55.3, 75.9),
    ("V2", 78.4, 106.9),
    ("Ch2", 108.6, 129.6),
    ("vamp", 212.2, 228.0),
    ("out", 229.5, 266.3),
)


def in_set(moment: float, after: bool) -> float:
    """The place in the set's files for a moment of the song, before or after the cut."""
    return round(TAKE + moment + (JUMP if after else 0.0), 4)


def take(
    key: str, word: str, span: tuple[float, float], fades: tuple[float, float], pull: float = 0.0
) -> dict[str, Any]:
    """A stretch of one line; all that begins near or after the cut comes from beyond it."""
    return {
        "start_s": round(span[0], 4),
        "end_s": round(span[1], 4),
        "name": f"{LINES[key]} {word}",
        "plays": "audio",
        "file": key,
        "offset_s": round(in_set(span[0], word.endswith("B") or span[0] > CUT) + pull, 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def stage(key: str) -> list[dict[str, Any]]:
    """Both halves of a stage line, crossfaded at the cut."""
    return [
        take(key, "A", (COUNT, CUT + 0.01), (0.3, 0.02)),
        take(key, "B", (CUT - 0.01, BAND_END), (0.02, 2.0)),
    ]


def crowd(key: str) -> list[dict[str, Any]]:
    """Both halves of a crowd mic: from the very start to the last of the applause."""
    return [
        take(key, "A", (0.0, CUT + 0.2), (1.5, 0.4), CROWD_PULL),
        take(key, "B", (CUT - 0.2, CROWD_END), (0.4, 0.05), CROWD_PULL),
    ]


def phrases(key: str, sung: tuple[tuple[str, float, float], ...]) -> list[dict[str, Any]]:
    """A singer's line, cut to what is sung."""
    return [take(key, word, (start - VOX_HEAD, end), (0.08, 0.2)) for word, start, end in sung]


def mutes(sung: tuple[tuple[str, float, float], ...]) -> dict[str, Any]:
    """The desk mutes: open shortly before each phrase, shut shortly after it."""
    times, values = [0.0], [1.0]
    for _, start, end in sung:
        times += [round(start - VOX_HEAD - MUTE_LEAD, 4), round(end + MUTE_LEAD, 4)]
        values += [0.0, 1.0]
    return {"target": "mute", "scale": "switch", "shape": "hold", "t": times, "v": values}


def ride(*points: tuple[float, float]) -> dict[str, Any]:
    """A fader ride."""
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [point[0] for point in points],
        "v": [point[1] for point in points],
    }


def eq(*bands: tuple[str, float, float]) -> dict[str, Any]:
    """An equalizer from (kind, frequency, gain)."""
    made: list[dict[str, Any]] = []
    for kind, freq, gain in bands:
        one: dict[str, Any] = {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True}
        if kind in ("high-pass", "low-pass"):
            one["slope_db_per_oct"] = 18.0
        else:
            one["q"] = 1.0
        made.append(one)
    return {
        "name": "EQ",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "equalizer": {"bands": made, "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def hp(freq: float, *bands: tuple[str, float, float]) -> dict[str, Any]:
    """An equalizer that begins with a low cut."""
    return eq(("high-pass", freq, 0.0), *bands)


def comp(threshold: float, ratio: float, attack: float, release: float, makeup: float) -> dict[str, Any]:
    """A compressor."""
    return {
        "name": "Comp",
        "kind": "compressor",
        "on": True,
        "opaque": False,
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


def gate(threshold: float, reach: float, release: float) -> dict[str, Any]:
    """A gate."""
    return {
        "name": "Gate",
        "kind": "gate",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "range_db": reach,
            "attack_ms": 0.5,
            "release_ms": release,
            "input_gain_db": 0.0,
            "output_gain_db": 0.0,
        },
    }


def polarity() -> dict[str, Any]:
    """A polarity switch, flipped."""
    return {
        "name": "Polarity",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [{"id": "flip", "name": "Invert", "value": True}],
    }


def deess(threshold: float) -> dict[str, Any]:
    """A de-esser."""
    return {
        "name": "De-esser",
        "kind": "de-esser",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "f", "name": "Freq", "value": 6400.0, "unit": "Hz"},
            {"id": "t", "name": "Thresh", "value": threshold, "unit": "dB"},
        ],
    }


def verb(name: str, decay: float, pre_delay: float) -> dict[str, Any]:
    """The reverb of a return."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}],
    }


def limiter() -> dict[str, Any]:
    """The last limiter."""
    return {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": -1.0,
            "attack_ms": 1.0,
            "release_ms": 80.0,
            "input_gain_db": 2.0,
            "output_gain_db": 0.0,
        },
    }


def strip(key: str, name: str, kind: str, output: str | None, fader: float, pan: float = 0.0) -> dict[str, Any]:
    """A bare channel."""
    return {
        "id": key,
        "name": name,
        "kind": kind,
        "parent": output if kind == "track" and output != "mix" else None,
        "plays": ["audio"] if kind == "track" else [],
        "legs": 1 if kind == "track" else 2,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
        "comment": "",
    }


def line(
    key: str,
    name: str,
    output: str,
    place: tuple[float, float],
    inserts: list[dict[str, Any]],
    sends: tuple[tuple[str, float], ...] = (),
    comment: str = "",
) -> dict[str, Any]:
    """A stage line with its clips; ``place`` is fader and pan."""
    made = strip(key, name, "track", output, *place)
    made["clips"] = stage(key)
    made["inserts"] = inserts
    made["sends"] = [{"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True} for to, level in sends]
    made["comment"] = comment
    return made


def bus(
    key: str, name: str, kind: str, fader: float, inserts: list[dict[str, Any]], comment: str = ""
) -> dict[str, Any]:
    """A group or a return to the mix."""
    made = strip(key, name, kind, "mix", fader)
    made["inserts"] = inserts
    made["comment"] = comment
    return made


def drum_lines() -> list[dict[str, Any]]:
    """The kit."""
    over = (("bell", 420.0, -2.0), ("high-shelf", 9500.0, 1.5))
    return [
        line("kin", "Kick In", "drm", (-6.5, 0.0),
             [gate(-35.0, -18.0, 160.0), eq(("bell", 62.0, 2.5), ("bell", 380.0, -4.0), ("bell", 3500.0, 3.0)),
              comp(-14.0, 4.0, 12.0, 90.0, 1.5)]),
        line("kout", "Kick Out", "drm", (-10.0, 0.0), [eq(("bell", 300.0, -3.0), ("low-pass", 5000.0, 0.0))]),
        line("snt", "Snr Top", "drm", (-8.0, 0.0),
             [hp(85.0, ("bell", 190.0, 2.0), ("bell", 4800.0, 2.0)), comp(-15.0, 3.5, 8.0, 120.0, 2.0)],
             (("drm_rm", -12.0),)),
        line("snb", "Snr Btm", "drm", (-14.5, 0.0), [polarity(), hp(180.0)], comment="flipped against top"),
        line("hat", "Hat", "drm", (-16.0, 32.0), [hp(380.0)]),
        line("rack", "Rack", "drm", (-9.5, 12.0),
             [gate(-31.0, -16.0, 260.0), hp(60.0, ("bell", 450.0, -4.0))], (("drm_rm", -14.0),)),
        line("flr", "Floor", "drm", (-9.0, -34.0),
             [gate(-32.0, -16.0, 340.0), hp(45.0, ("bell", 400.0, -4.0))], (("drm_rm", -14.0),)),
        line("ohl", "OH L", "drm", (-11.0, -82.0), [hp(160.0, *over)], comment="house left = floor side"),
        line("ohr", "OH R", "drm", (-11.0, 82.0), [hp(160.0, *over)], comment="house right = hat side"),
    ]  # fmt: skip


def band_lines() -> list[dict[str, Any]]:
    """Percussion, rhythm section, horns."""
    brass = comp(-16.0, 2.5, 10.0, 130.0, 1.5)
    tenor = line("ten", "Tenor", "hrn", (-9.5, 32.0), [hp(110.0, ("bell", 2900.0, -1.5)), dict(brass)],
                 (("hrn_rm", -13.0),), "clip-on mic, solo after horn break")  # fmt: skip
    tenor["automation"] = [ride((0.0, -9.5), (146.4, -9.5), (147.4, -5.0), (185.0, -5.0), (186.6, -9.5))]
    guitar = line(
        "gtr", "Gtr", "rhy", (-11.5, 36.0), [hp(110.0, ("bell", 2400.0, 1.0)), comp(-17.0, 2.0, 15.0, 110.0, 1.0)]
    )
    guitar["automation"] = [ride((0.0, -11.5), (6.8, -11.5), (7.2, -9.5), (23.0, -9.5), (24.0, -11.5))]
    return [
        line("clo", "Conga Lo", "prc", (-11.5, -50.0), [hp(70.0), comp(-18.0, 3.0, 9.0, 90.0, 1.5)],
             (("drm_rm", -17.0),)),
        line("chi", "Conga Hi", "prc", (-11.5, -32.0), [hp(90.0), comp(-18.0, 3.0, 9.0, 90.0, 1.5)],
             (("drm_rm", -17.0),)),
        line("perc", "Perc OH", "prc", (-15.0, -40.0), [hp(240.0)], (("drm_rm", -19.0),), "timbales, tamb, all sorts"),
        line("bdi", "Bass DI", "rhy", (-8.5, 0.0),
             [hp(34.0, ("bell", 220.0, -2.0)), comp(-18.0, 4.0, 18.0, 120.0, 2.0)]),
        line("bcab", "Bass Cab", "rhy", (-11.0, 0.0), [hp(45.0, ("bell", 850.0, 2.0), ("low-pass", 5200.0, 0.0))]),
        guitar,
        line("epl", "EP L", "rhy", (-13.0, -62.0), [hp(95.0, ("bell", 330.0, -2.0))]),
        line("epr", "EP R", "rhy", (-13.0, 62.0), [hp(95.0, ("bell", 330.0, -2.0))]),
        line("tpt", "Tpt", "hrn", (-10.0, 18.0), [hp(160.0, ("bell", 3200.0, -2.0)), dict(brass)],
             (("hrn_rm", -13.0),)),
        tenor,
        line("bone", "Bone", "hrn", (-9.5, 46.0), [hp(85.0, ("bell", 520.0, -1.5)), dict(brass)], (("hrn_rm", -13.5),)),
    ]  # fmt: skip


def singer(key: str, name: str, fader: float, pan: float, sung: tuple[tuple[str, float, float], ...]) -> dict[str, Any]:
    """A singer's line with mutes."""
    chain = [
        hp(110.0, ("bell", 260.0, -3.0), ("bell", 2700.0, -1.5), ("high-shelf", 9000.0, 2.0)),
        comp(-19.0, 4.0, 5.0, 100.0, 3.0),
        deess(-25.0),
    ]
    made = line(key, name, "vox", (fader, pan), chain, (("plate", -11.5),))
    made["clips"] = phrases(key, sung)
    made["automation"] = [mutes(sung)]
    return made


def front_lines() -> list[dict[str, Any]]:
    """Singers, talkback, crowd."""
    delia = singer("del", "Vox Delia", -9.0, -8.0, DELIA)
    delia["automation"].append(
        ride((0.0, -9.0), (20.0, -9.0), (23.0, -6.5), (128.0, -6.5), (186.0, -8.0), (203.0, -8.0), (204.4, -6.0),
             (266.5, -6.0), (268.2, -9.0))
    )  # fmt: skip
    osric = singer("osr", "Vox Osric", -7.5, 8.0, OSRIC)
    osric["automation"].append(
        ride((0.0, -7.5), (76.4, -7.5), (77.4, -6.5), (107.2, -6.5), (108.0, -7.5), (228.5, -7.5), (229.1, -7.0))
    )  # fmt: skip
    talk = line("tb", "TB stage", "mix", (-10.0, 0.0), [], comment="MD talkback to the ears - never in the mix")
    talk["mute"] = True
    crowd_eq = (("bell", 350.0, -3.0), ("high-shelf", 7000.0, 1.5))
    left = line("aul", "Aud L", "aud", (-6.0, -100.0), [hp(170.0, *crowd_eq)], comment="desk, house left. pulled 26 ms")
    right = line(
        "aur", "Aud R", "aud", (-6.0, 100.0), [hp(170.0, *crowd_eq)], comment="desk, house right. pulled 26 ms"
    )
    left["clips"], right["clips"] = crowd("aul"), crowd("aur")
    return [delia, osric, talk, left, right]


def busses() -> list[dict[str, Any]]:
    """Groups, returns, mix."""
    audience = bus(
        "aud", "AUD", "group", -3.0, [comp(-20.0, 2.0, 20.0, 300.0, 0.0)], "up at both ends and for the clap"
    )
    audience["automation"] = [
        ride((0.0, -3.0), (4.5, -3.0), (7.0, -12.0), (185.5, -12.0), (187.5, -7.0), (203.0, -7.0), (206.0, -12.0),
             (266.5, -12.0), (268.0, -2.0))
    ]  # fmt: skip
    mix = strip("mix", "Mix", "master", None, 0.0)
    mix["inserts"] = [
        eq(("high-pass", 24.0, 0.0), ("high-shelf", 10500.0, 1.0)),
        comp(-12.0, 1.8, 25.0, 160.0, 1.0),
        limiter(),
    ]
    mix["automation"] = [ride((0.0, 0.0), (276.0, 0.0), (284.0, -14.0), (289.2, -80.0), (289.6, -200.0))]
    mix["comment"] = "fade over the applause, nothing after 4:50"
    return [
        bus("drm", "DRUMS", "group", -1.5, [comp(-13.0, 2.0, 28.0, 140.0, 1.0)]),
        bus("prc", "PERC", "group", -1.0, [eq(("bell", 350.0, -1.5))]),
        bus("rhy", "RHYTHM", "group", -1.0, []),
        bus("hrn", "HORNS", "group", -1.0, [comp(-14.0, 2.0, 15.0, 150.0, 1.0)]),
        bus("vox", "VOX", "group", 0.0, [comp(-14.0, 2.0, 12.0, 120.0, 1.0)]),
        audience,
        bus("drm_rm", "Drum Rm", "return", -5.0, [verb("Room", 0.6, 4.0), eq(("high-pass", 140.0, 0.0))], "kit + perc"),
        bus("hrn_rm", "Horn Rm", "return", -5.0, [verb("Chamber", 1.1, 14.0), eq(("high-pass", 200.0, 0.0))]),
        bus("plate", "Vox Plate", "return", -4.0,
            [verb("Plate", 1.5, 24.0), eq(("high-pass", 260.0, 0.0), ("low-pass", 7500.0, 0.0))]),
        mix,
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    marks = (
        (0.0, "Announce"),
        (5.2, "Count"),
        (7.0, "Riff"),
        (24.1, "V1 Delia"),
        (55.3, "Ch1"),
        (78.2, "V2 Osric"),
        (108.6, "Ch2"),
        (130.0, "Horn break"),
        (147.2, "Tenor solo"),
        (186.4, "Clap-along"),
        (CUT, "EDIT -17.42"),
        (204.6, "Vamp duet"),
        (229.5, "Out chorus"),
        (266.6, "Last hit"),
        (268.0, "Applause"),
        (CROWD_END, "END"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "Butter on the Backbeat (live, set 2 no. 4)",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "played without a click, no tempo map was drawn", "settle": "tap it"},
        "markers": [{"time_s": moment, "name": name} for moment, name in marks],
        "channels": [*drum_lines(), *band_lines(), *front_lines(), *busses()],
        "media": [
            {
                "id": key,
                "path": f"set2/{name}.wav",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": SET_LENGTH,
            }
            for key, name in LINES.items()
        ],
        "metadata": {"night": "Saturday, second set", "split": "25 lines, 48 kHz"},
    }


def channel(session: Session, name: str) -> dict[str, Any]:
    """The channel of a name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def drawn(session: Session, name: str, target: str) -> dict[str, Any]:
    """One automation of a channel."""
    found: dict[str, Any] = next(a for a in channel(session, name)["automation"] if a["target"] == target)
    return found


def bottom_not_flipped(session: Session) -> None:
    """The polarity switch under the snare is bypassed."""
    channel(session, "Snr Btm")["inserts"][0]["on"] = False


def bone_one_group_down(session: Session) -> None:
    """The trombone's output slipped to the next group of the list."""
    channel(session, "Bone")["output"] = "vox"


def crowd_sides_swapped(session: Session) -> None:
    """The crowd pair is panned the wrong way round."""
    channel(session, "Aud L")["pan"], channel(session, "Aud R")["pan"] = 100.0, -100.0


def verse_mute_late(session: Session) -> None:
    """The mute before the second verse lifts only when the verse is well under way."""
    points = drawn(session, "Vox Osric", "mute")
    start = next(s for word, s, _ in OSRIC if word == "V2")
    points["t"][points["t"].index(round(start - VOX_HEAD - MUTE_LEAD, 4))] = round(start + 4.6, 4)


def talkback_open(session: Session) -> None:
    """The talkback was opened to find the place and left open."""
    channel(session, "TB stage")["mute"] = False


def floor_gate_shut(session: Session) -> None:
    """A digit fell out of the floor tom's gate threshold."""
    channel(session, "Floor")["inserts"][0]["dynamics"]["threshold_db"] = -2.0


def conga_missed_the_cut(session: Session) -> None:
    """One line was not selected when the pause was taken out."""
    conga = channel(session, "Conga Lo")
    conga["clips"] = [take("clo", "A", (COUNT, BAND_END), (0.3, 2.0))]


def trumpet_twice_into_group(session: Session) -> None:
    """A send to the group was left behind though the output goes there too."""
    channel(session, "Tpt")["sends"].append({"to": "hrn", "level_db": 0.0, "pan": 0.0, "tap": "post", "on": True})


def plate_before_fader(session: Session) -> None:
    """One singer's plate is fed from before the fader."""
    channel(session, "Vox Osric")["sends"][0]["tap"] = "pre"


def limiter_output_up(session: Session) -> None:
    """The last limiter adds level after its ceiling."""
    channel(session, "Mix")["inserts"][-1]["dynamics"]["output_gain_db"] = 4.0


def fade_not_moved(session: Session) -> None:
    """The last fade still stands where the applause was before the pause was cut out."""
    fade = drawn(session, "Mix", "fader")
    fade["t"] = [fade["t"][0], *(round(t + JUMP, 4) for t in fade["t"][1:])]


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["TB stage"], "why": "a muted talkback line kept in place for finding cues"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "bottom-not-flipped",
        "class": "phase",
        "channels": ["Snr Btm"],
        "grade": "look",
        "says": "The polarity switch on Snr Btm is bypassed although its comment says flipped against top.",
        "plant": bottom_not_flipped,
    },
    {
        "id": "bone-to-vox",
        "class": "routing",
        "channels": ["Bone"],
        "grade": "look",
        "says": "Bone goes to VOX while Tpt and Tenor go to HORNS, the group it is listed under.",
        "plant": bone_one_group_down,
    },
    {
        "id": "crowd-swapped",
        "class": "place",
        "channels": ["Aud L", "Aud R"],
        "grade": "look",
        "says": "Aud L is panned hard right and Aud R hard left; OH L/R and EP L/R lie as named.",
        "plant": crowd_sides_swapped,
    },
    {
        "id": "verse-mute-late",
        "class": "automation",
        "channels": ["Vox Osric"],
        "grade": "hold",
        "says": "Vox Osric is still muted for the first 4.8 s of his verse clip; elsewhere mutes open before the clip.",
        "plant": verse_mute_late,
    },
    {
        "id": "talkback-open",
        "class": "audible-that-should-not-be",
        "channels": ["TB stage"],
        "grade": "hold",
        "says": "The talkback TB stage is open into the mix; its comment says never in the mix.",
        "plant": talkback_open,
    },
    {
        "id": "floor-gate-shut",
        "class": "processors",
        "channels": ["Floor"],
        "grade": "look",
        "says": "The gate of Floor has its threshold at -2 dB, Rack at -31: it will hardly ever open.",
        "plant": floor_gate_shut,
    },
    {
        "id": "conga-missed-cut",
        "class": "edits",
        "channels": ["Conga Lo"],
        "grade": "hold",
        "says": "Conga Lo has no cut at EDIT and runs on in its file, so it is 17.42 s out from there on.",
        "plant": conga_missed_the_cut,
    },
    {
        "id": "trumpet-twice",
        "class": "twice",
        "channels": ["Tpt"],
        "grade": "look",
        "says": "Tpt goes to HORNS by its output and again by a 0 dB send: it is in the group twice, 6 dB up.",
        "plant": trumpet_twice_into_group,
    },
    {
        "id": "plate-before-fader",
        "class": "ambience",
        "channels": ["Vox Osric"],
        "grade": "look",
        "says": "Vox Osric feeds Vox Plate before the fader, every other send of the session is after it.",
        "plant": plate_before_fader,
    },
    {
        "id": "limiter-output-up",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The last limiter on Mix holds at -1 dB and then adds 4 dB of output gain: peaks go over full scale.",
        "plant": limiter_output_up,
    },
    {
        "id": "fade-not-moved",
        "class": "end",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The fade on Mix begins after the last clips have ended at 4:50; the applause is chopped off.",
        "plant": fade_not_moved,
    },
]
