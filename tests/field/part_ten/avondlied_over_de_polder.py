"""Avondlied over de polder: a choir of forty with organ and a mezzo, recorded in a village church at 96 kHz.

Everything was recorded at once with a main pair, four choir spots, a spot for the soloist, three organ microphones and
a room pair, in takes without a click; the song is spliced from takes 2, 4 and 6 at three places, on all microphones
together. The main pair is the picture: the spots lie far below it and are delayed by their distance to it, the organ at
the back of the church by over sixty milliseconds. The soloist's microphone is closed between her entrances. There is no
compression; a limiter catches the last chord, and dither stands last. Names are Dutch, times are clock times.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

RATE = 96000.0
SOUND_M_PER_MS = 0.343
SPLICE = 0.12
BEGIN = 2.0
RELEASE = 304.9
END = 313.0

# take, from, to, what to add to the song time to get the place in the take
EDIT: list[tuple[str, float, float, float]] = [
    ("T2", BEGIN, 96.4, 20.4),
    ("T4", 96.4, 171.2, -82.2),
    ("T2", 171.2, 238.9, 23.55),
    ("T6", 238.9, END, -197.2),
]
TAKE_SECONDS = {"T2": 352.0, "T4": 131.5, "T6": 148.0}
MARKERS = [
    (4.1, "Voorspel orgel"),
    (38.6, "Vers 1"),
    (96.4, "knip T2>T4"),
    (104.4, "Solo 1"),
    (132.0, "koor antwoordt"),
    (137.6, "Solo 2"),
    (171.2, "knip T4>T2"),
    (171.9, "Vers 2"),
    (238.9, "knip T2>T6"),
    (239.5, "Slot, tutti"),
    (261.0, "Solo 3 boven koor"),
    (297.2, "slotakkoord"),
    (RELEASE, "los"),
    (END, "einde nagalm"),
]
CREAK = (201.3, 202.15)


def piece(stem: str, take: str, start: float, end: float, shift: float, fades: tuple[float, float]) -> Item:
    """A clip of one microphone from one take."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": f"{take} {stem}",
        "plays": "audio",
        "file": f"{take}_{stem}".replace(" ", "_"),
        "offset_s": round(start + shift, 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def spliced(stem: str) -> list[Item]:
    """The four pieces of the edit, each crossfaded into the next."""
    half = SPLICE / 2.0
    last = len(EDIT) - 1
    found = []
    for index, (take, start, end, shift) in enumerate(EDIT):
        begin = start if index == 0 else start - half
        stop = end if index == last else end + half
        fades = (0.8 if index == 0 else SPLICE, 4.0 if index == last else SPLICE)
        found.append(piece(stem, take, begin, stop, shift, fades))
    return found


def without_creak(stem: str) -> list[Item]:
    """The edit of the bass spot, with a creaking chair cut out of the third piece."""
    one, two, three, four = spliced(stem)
    take, shift = EDIT[2][0], EDIT[2][3]
    before = piece(stem, take, three["start_s"], CREAK[0], shift, (SPLICE, 0.03))
    creak = piece(stem, take, *CREAK, shift, (0.0, 0.0))
    creak["name"] = f"{take} {stem} STOEL"
    creak["on"] = False
    after = piece(stem, take, CREAK[1], three["end_s"], shift, (0.03, SPLICE))
    return [one, two, before, creak, after, four]


def solo_clips(stem: str) -> list[Item]:
    """The soloist's microphone, only in the takes and stretches in which she sings."""
    return [
        piece(stem, "T4", 102.6, 170.6, EDIT[1][3], (0.3, 0.3)),
        piece(stem, "T6", 259.2, END, EDIT[3][3], (0.3, 4.0)),
    ]


def processor(name: str, kind: str, **more: Any) -> Item:
    """A processor that shows its settings."""
    return {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": False, **more}


def setting(key: str, amount: float, unit: str) -> Item:
    """A listed parameter."""
    return {"id": key, "name": key, "value": amount, "unit": unit}


def delayed(metres: float) -> Item:
    """The time that sound takes for a distance."""
    return processor(
        "Tijdcorrectie", "utility", parameters=[setting("vertraging", round(metres / SOUND_M_PER_MS, 1), "ms")]
    )


def filters(cut: float, *bands: tuple[str, float, float, float]) -> Item:
    """An equalizer with a low cut and other bands of (kind, frequency, gain, Q)."""
    rows: list[Item] = [{"kind": "high-pass", "freq_hz": cut, "slope_db_per_oct": 12.0, "on": True}]
    rows += [{"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True} for kind, freq, gain, q in bands]
    return processor("EQ", "equalizer", equalizer={"bands": rows})


def to_reverb(level: float) -> Item:
    """A post-fader send to the reverb."""
    return {"to": "galm", "level_db": level, "pan": 0.0, "tap": "post", "on": True, "id": "s1"}


def glide(points: list[tuple[float, float]], scale: str) -> Item:
    """A fader lane of straight lines."""
    return {
        "target": "fader",
        "scale": scale,
        "shape": "linear",
        "t": [t for t, _ in points],
        "v": [v for _, v in points],
    }


def microphone(key: str, name: str, fader: float, pan: float, group: str, **more: Any) -> Item:
    """A mono microphone channel under its group."""
    row: Item = {
        "id": key,
        "name": name,
        "kind": "track",
        "parent": group,
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": group,
        "sends": [],
        "inserts": [],
        "clips": spliced(name),
        "automation": [],
    }
    return row | more


def bus(key: str, name: str, kind: str, fader: float, **more: Any) -> Item:
    """A stereo group or return into the mix."""
    row: Item = {
        "id": key,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": "mix",
        "sends": [],
        "inserts": [],
        "automation": [],
    }
    return row | more


def pair_and_room() -> list[Item]:
    """Main pair and room pair."""
    return [
        microphone("hl", "Hoofd L", 0.0, -100.0, "g_hoofd", comment="hoofdpaar, 3,4 m hoog, 40 cm uiteen"),
        microphone("hr", "Hoofd R", 0.0, 100.0, "g_hoofd"),
        microphone(
            "zl", "Zaal L", -12.0, -100.0, "g_zaal", inserts=[filters(70.0, ("high-shelf", 6000.0, -2.0, 0.7))],
            comment="14 m van koor, niet vertragen",
        ),
        microphone(
            "zr", "Zaal R", -12.0, 100.0, "g_zaal", inserts=[filters(70.0, ("high-shelf", 6000.0, -2.0, 0.7))],
        ),
    ]  # fmt: skip


def choir() -> list[Item]:
    """The four spots of the choir and the soloist."""
    solo = [
        (0.0, 0.0), (102.9, 0.0), (103.6, 0.355), (131.2, 0.355), (132.6, 0.0), (136.1, 0.0), (136.8, 0.355),
        (168.8, 0.355), (170.2, 0.0), (259.7, 0.0), (260.4, 0.282), (RELEASE, 0.282), (312.0, 0.0),
    ]  # fmt: skip
    return [
        microphone(
            "ss", "Steun Sopr", -15.0, -50.0, "g_koor", sends=[to_reverb(-13.0)],
            inserts=[delayed(5.1), filters(140.0, ("bell", 3100.0, -1.0, 1.2))], comment="5,1 m tot hoofdpaar",
        ),
        microphone(
            "sa", "Steun Alt", -15.5, -18.0, "g_koor", sends=[to_reverb(-13.0)],
            inserts=[delayed(4.6), filters(120.0)], comment="4,6 m",
        ),
        microphone(
            "st", "Steun Ten", -15.0, 18.0, "g_koor", sends=[to_reverb(-13.5)],
            inserts=[delayed(4.7), filters(95.0)], comment="4,7 m",
        ),
        microphone(
            "sb", "Steun Bas", -16.0, 50.0, "g_koor", sends=[to_reverb(-14.0)],
            inserts=[delayed(5.3), filters(70.0, ("bell", 180.0, -1.5, 1.0))], clips=without_creak("Steun Bas"),
            comment="5,3 m; stoel kraakt op 3:21, stukje uit",
        ),
        microphone(
            "so", "Solist", -200.0, -8.0, "g_koor", sends=[to_reverb(-11.0)],
            inserts=[delayed(3.2), filters(110.0, ("bell", 2700.0, -1.5, 1.4), ("high-shelf", 9000.0, 1.0, 0.7))],
            clips=solo_clips("Solist"), automation=[glide(solo, "amplitude")],
            comment="mezzo, 3,2 m, alleen open bij inzet",
        ),
    ]  # fmt: skip


def organ() -> list[Item]:
    """The organ in the west, far behind the main pair."""
    return [
        microphone(
            "ol", "Orgel L", -12.0, -75.0, "g_orgel", sends=[to_reverb(-20.0)],
            inserts=[delayed(21.4), filters(40.0, ("bell", 260.0, -2.0, 0.9))], comment="21,4 m",
        ),
        microphone(
            "or", "Orgel R", -12.0, 75.0, "g_orgel", sends=[to_reverb(-20.0)],
            inserts=[delayed(21.8), filters(40.0, ("bell", 260.0, -2.0, 0.9))], comment="21,8 m",
        ),
        microphone(
            "op", "Pedaal", -15.0, 0.0, "g_orgel",
            inserts=[delayed(22.6), filters(22.0, ("high-shelf", 400.0, -9.0, 0.7))], comment="16-voet, 22,6 m",
        ),
    ]  # fmt: skip


def desk() -> list[Item]:
    """Talkback, groups, reverb and mix."""
    organ_ride = [
        (0.0, 0.0), (36.5, 0.0), (38.5, -2.5), (96.0, -2.5), (99.0, -1.0), (102.0, -1.0), (104.0, -4.0), (170.0, -4.0),
        (172.0, -2.0), (238.0, -2.0), (240.0, 0.0), (END, 0.0),
    ]  # fmt: skip
    room_ride = [(0.0, 0.0), (300.0, 0.0), (RELEASE, 1.0), (END, 1.0)]
    big = processor(
        "Kerkgalm", "reverb", wet=100.0, pre_delay_ms=35.0,
        parameters=[setting("nagalm", 3.6, "s"), setting("hoogdemping", 5200.0, "Hz")],
    )  # fmt: skip
    limiter = processor(
        "Begrenzer", "limiter", dynamics={"threshold_db": -1.0, "release_ms": 250.0, "output_gain_db": 0.0}
    )
    dither = processor("Dither", "utility", parameters=[setting("bits", 24, "bit")])
    return [
        microphone(
            "dp", "Dirigent praat", -10.0, 0.0, "mix", parent=None, mute=True,
            comment="spreekmicrofoon, alleen voor de montage, dicht laten",
        ),
        bus("g_hoofd", "Gr Hoofd", "group", 0.0, inserts=[filters(28.0, ("high-shelf", 12000.0, 0.8, 0.7))]),
        bus(
            "g_koor", "Gr Koor", "group", 0.0, inserts=[filters(60.0, ("bell", 350.0, -1.0, 0.8))],
            comment="steun + solist",
        ),
        bus("g_orgel", "Gr Orgel", "group", 0.0, automation=[glide(organ_ride, "dB")]),
        bus("g_zaal", "Gr Zaal", "group", 0.0, automation=[glide(room_ride, "dB")]),
        bus("galm", "Galm", "return", -9.0, inserts=[filters(150.0), big], comment="alleen steun, solist en orgel"),
        {
            "id": "mix", "name": "Mix", "kind": "master", "legs": 2, "fader_db": 0.0, "pan": 0.0,
            "mute": False, "solo": False,
            "inserts": [filters(20.0, ("bell", 220.0, -0.5, 0.6)), limiter, dither],
        },
    ]  # fmt: skip


def files(channels: list[Item]) -> list[Item]:
    """The take files that the clips play."""
    names = sorted({clip["file"] for row in channels for clip in row.get("clips", [])})
    return [
        {
            "id": name,
            "path": f"opname/{name[:2]}/{name}.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": TAKE_SECONDS[name[:2]],
        }
        for name in names
    ]


def good() -> Session:
    """The session as it should be bounced."""
    pair, choir_rows, organ_rows = pair_and_room(), choir(), organ()
    channels = [*pair[:2], *choir_rows, *organ_rows, *pair[2:], *desk()]
    return {
        "format": "mixlint-session/1",
        "title": "Avondlied over de polder (montage 3)",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "opgenomen zonder klik, geen tempo vastgelegd", "settle": ""},
        "markers": [{"time_s": time, "name": name} for time, name in MARKERS],
        "channels": channels,
        "media": files(channels),
        "metadata": {"bezetting": "koor, mezzo, orgel", "levering": "96 kHz, 24 bit", "montage": "T2 / T4 / T2 / T6"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(row for row in session["channels"] if row["name"] == name)
    return found


def spot_not_delayed(session: Session) -> None:
    """The time correction of one spot was bypassed to compare."""
    channel(session, "Steun Alt")["inserts"][0]["on"] = False


def room_swapped(session: Session) -> None:
    """The room pair came in crossed."""
    channel(session, "Zaal L")["pan"] = 100.0
    channel(session, "Zaal R")["pan"] = -100.0


def send_into_mix(session: Session) -> None:
    """A send straight into the mix was left from a listening test."""
    channel(session, "Steun Sopr")["sends"].append(
        {"to": "mix", "level_db": 0.0, "pan": 0.0, "tap": "post", "on": True, "id": "s2"}
    )


def creak_on(session: Session) -> None:
    """The cut-out creak was switched on again."""
    for clip in channel(session, "Steun Bas")["clips"]:
        clip["on"] = True


def hole_at_splice(session: Session) -> None:
    """The head of a piece was trimmed, so the splice does not meet."""
    clip = channel(session, "Orgel R")["clips"][2]
    clip["start_s"] = round(clip["start_s"] + 0.48, 4)
    clip["offset_s"] = round(clip["offset_s"] + 0.48, 4)


def spot_typed_loud(session: Session) -> None:
    """A spot's fader was typed with the point one place too far left."""
    channel(session, "Steun Ten")["fader_db"] = -1.5


def copy_broke_off(session: Session) -> None:
    """One file was cut short while it was copied."""
    file = next(row for row in session["media"] if row["id"] == "T6_Orgel_L")
    file["duration_s"] = 51.3


def dither_before_limiter(session: Session) -> None:
    """The limiter was taken out and put in again behind the dither."""
    chain = channel(session, "Mix")["inserts"]
    chain.append(chain.pop(1))


def room_cut_short(session: Session) -> None:
    """The room pair was trimmed at the release of the last chord."""
    for name in ("Zaal L", "Zaal R"):
        clip = channel(session, name)["clips"][-1]
        clip["end_s"] = round(RELEASE + 0.3, 4)
        clip["fade_out_s"] = 0.05


def solo_opens_late(session: Session) -> None:
    """The second opening of the soloist's fader was dragged to the right."""
    lane = channel(session, "Solist")["automation"][0]
    for index, time in enumerate(lane["t"]):
        if 136.0 < time < 137.0:
            lane["t"][index] = round(time + 3.6, 4)


def reverb_half_dry(session: Session) -> None:
    """The reverb return has a preset's mix."""
    channel(session, "Galm")["inserts"][1]["wet"] = 35.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Dirigent praat"], "why": "talkback, muted on purpose, kept for the editing"},
    {"channels": ["Steun Bas"], "why": "a creaking chair is cut out; the main pair carries the basses meanwhile"},
    {"channels": ["Solist"], "why": "the fader is down except at her entrances, her clips only lie where she sings"},
    {"channels": ["Orgel L", "Orgel R", "Pedaal"], "why": "delayed by over sixty milliseconds, the organ is far away"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "spot-not-delayed",
        "class": "phase",
        "channels": ["Steun Alt"],
        "grade": "look",
        "says": "The time correction of Steun Alt is off; all other spots are delayed to the main pair.",
        "plant": spot_not_delayed,
    },
    {
        "id": "room-swapped",
        "class": "place",
        "channels": ["Zaal L", "Zaal R"],
        "grade": "hold",
        "says": "Zaal L is panned right and Zaal R left: the room mirrors the main pair.",
        "plant": room_swapped,
    },
    {
        "id": "send-into-mix",
        "class": "twice",
        "channels": ["Steun Sopr"],
        "grade": "hold",
        "says": "Steun Sopr also sends to Mix at 0 dB besides going through Gr Koor: it sounds twice.",
        "plant": send_into_mix,
    },
    {
        "id": "creak-on",
        "class": "audible-that-should-not-be",
        "channels": ["Steun Bas"],
        "grade": "look",
        "says": "The clip STOEL of Steun Bas is on, though the comment says that the creaking chair is cut out.",
        "plant": creak_on,
    },
    {
        "id": "hole-at-splice",
        "class": "edits",
        "channels": ["Orgel R"],
        "grade": "hold",
        "says": "At the splice T4 to T2 Orgel R has a hole of a third of a second; all others crossfade.",
        "plant": hole_at_splice,
    },
    {
        "id": "spot-typed-loud",
        "class": "level",
        "channels": ["Steun Ten"],
        "grade": "hold",
        "says": "Steun Ten stands at -1.5 dB, the other spots around -15: the tenors step out of the choir.",
        "plant": spot_typed_loud,
    },
    {
        "id": "copy-broke-off",
        "class": "files",
        "channels": ["Orgel L"],
        "grade": "hold",
        "says": "The take 6 file of Orgel L lasts 51.3 s, all others of the take 148: the clip runs beyond its end.",
        "plant": copy_broke_off,
    },
    {
        "id": "dither-before-limiter",
        "class": "processors",
        "channels": ["Mix"],
        "grade": "look",
        "says": "In Mix the dither stands before the limiter; it belongs last.",
        "plant": dither_before_limiter,
    },
    {
        "id": "room-cut-short",
        "class": "end",
        "channels": ["Zaal L", "Zaal R"],
        "grade": "look",
        "says": "The room pair stops right after the release of the last chord; all others ring on for eight seconds.",
        "plant": room_cut_short,
    },
    {
        "id": "solo-opens-late",
        "class": "automation",
        "channels": ["Solist"],
        "grade": "hold",
        "says": "The fader of Solist opens over two seconds after the marker Solo 2: her first words are gone.",
        "plant": solo_opens_late,
    },
    {
        "id": "reverb-half-dry",
        "class": "ambience",
        "channels": ["Galm"],
        "grade": "look",
        "says": "The reverb on the return Galm is only 35 per cent wet: two thirds dry spots come back with it.",
        "plant": reverb_half_dry,
    },
]
