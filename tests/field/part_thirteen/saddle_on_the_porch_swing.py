"""Saddle on the Porch Swing: an instrumental for guitar, banjo, fiddle and double bass, with one guitar overdub.

Four players in a half circle in a wooden room, no click: a spot on everything (two on the guitar, microphone and DI on
the bass) and a wide pair of room microphones that carry the picture. Take 3 is the master, the tag comes from take 5,
cut in across all microphones at one point and lifted by a decibel and a half since the band sat back there. The lead
guitar of the guitar break was overdubbed a week later. The tempo map was tapped section by section afterwards.
Soloists are ridden up for their break and down again; the end is a short fade on the mix while the strings ring.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 96000.0
TEMPOS: list[tuple[int, float]] = [(1, 111.0), (19, 112.4), (35, 113.0), (51, 112.6), (67, 113.8), (83, 113.2)]
MARKS: list[tuple[int, str]] = [
    (1, "Kickoff"),
    (3, "Head"),
    (19, "Banjo break"),
    (35, "Fiddle break"),
    (51, "Guitar break"),
    (67, "Head out"),
    (83, "Tag (tk5)"),
    (87, "Last chord"),
]
TAKE_3_IN = 7.42
TAKE_5_TAG = 186.37
SPLICE_LEAD = 0.03
CROSS = 0.01
TAIL = 6.5
TAG_GAIN = 1.5


def at(bar: float) -> float:
    """The second at which a bar begins."""
    passed = 0.0
    for n, (first, bpm) in enumerate(TEMPOS):
        last = TEMPOS[n + 1][0] if n + 1 < len(TEMPOS) else bar
        if bar <= last or n + 1 == len(TEMPOS):
            return round(passed + (bar - first) * 240.0 / bpm, 4)
        passed += (last - first) * 240.0 / bpm
    return round(passed, 4)


def clip(name: str, file: str, span: tuple[float, float], offset: float, fades: tuple[float, float]) -> Session:
    """A stretch of a file."""
    return {
        "start_s": round(span[0], 4),
        "end_s": round(span[1], 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def live(mic: str) -> list[Session]:
    """A microphone's two clips: take 3 up to the tag, then take 5."""
    splice = at(83) - SPLICE_LEAD
    end = at(87) + TAIL
    body = clip(f"{mic} tk3", f"tk3_{mic}", (0.0, splice + CROSS), TAKE_3_IN, (0.25, 2 * CROSS))
    from_5 = TAKE_5_TAG - SPLICE_LEAD - CROSS
    tag = clip(f"{mic} tk5 tag", f"tk5_{mic}", (splice - CROSS, end), from_5, (2 * CROSS, 0.8))
    tag["gain_db"] = TAG_GAIN
    return [body, tag]


def shaped(kind: str, freq: float, gain: float = 0.0, q: float = 0.7, slope: float = 12.0) -> Session:
    """One band of an equalizer."""
    made: Session = {"kind": kind, "freq_hz": freq, "on": True}
    if kind.endswith("pass"):
        made["slope_db_per_oct"] = slope
    else:
        made.update(gain_db=gain, q=q)
    return made


def eq(*bands: Session) -> Session:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(threshold: float, ratio: float, attack: float, release: float, out: float) -> Session:
    """A compressor."""
    return {
        "name": "Compressor",
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 9.0,
            "input_gain_db": 0.0,
            "output_gain_db": out,
            "auto_makeup": False,
        },
    }


def denoise() -> Session:
    """The hiss and stove-fan remover."""
    return {
        "name": "De-noise",
        "kind": "restoration",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "reduction", "name": "Reduction", "value": 6.0, "unit": "dB", "low": 0.0, "high": 24.0},
            {"id": "removed_only", "name": "Output removed signal only", "value": False},
        ],
    }


def reverb(name: str, decay: float, pre: float) -> Session:
    """A reverb for a return."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s"}],
    }


def send(to: str, level: float) -> Session:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def lane(target: str, first: float, *moves: tuple[float, float, float]) -> Session:
    """A ride: each move gives the second, how long it takes to get there, and the level."""
    times, values = [0.0], [first]
    for when, long, level in moves:
        times += [round(when - long, 4), round(when, 4)]
        values += [values[-1], level]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": values}


def strip(ident: str, name: str, kind: str, legs: int, fader: float, pan: float, **more: Any) -> Session:
    """A strip with what every strip has."""
    made: Session = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "parent": None,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": "mix",
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    if kind == "track":
        made["plays"] = ["audio"]
    made.update(more)
    if made["parent"] is not None:
        made["output"] = made["parent"]
    return made


def guitars() -> list[Session]:
    """The guitar in two microphones, the overdub, their bus."""
    home, back = at(51), at(67)
    lead_roll = at(49)
    seam = at(59) - 0.02
    pieces = [
        clip(
            "lead OD t2",
            "od_t2",
            (at(51) - 0.6, seam + CROSS),
            at(51) - 0.6 - lead_roll,
            (0.05, 2 * CROSS),
        ),
        clip(
            "lead OD t4",
            "od_t4",
            (seam - CROSS, at(67) + 0.7),
            seam - CROSS - lead_roll,
            (2 * CROSS, 0.3),
        ),
    ]
    return [
        strip(
            "gbody",
            "Gtr body",
            "track",
            1,
            -8.0,
            -32.0,
            parent="gbus",
            sends=[send("plate", -23.0)],
            inserts=[eq(shaped("high-pass", 75), shaped("bell", 190, -3.0, 1.4)), comp(-20, 2, 30, 180, 1.5)],
            clips=live("gbody"),
            automation=[lane("fader", -8.0, (home, 0.5, -10.0), (back, 0.5, -8.0))],
            comment="body and neck move together, 2 dB down to let the lead in",
        ),
        strip(
            "gneck",
            "Gtr neck",
            "track",
            1,
            -12.0,
            -40.0,
            parent="gbus",
            inserts=[eq(shaped("high-pass", 110), shaped("high-shelf", 9000, 1.0)), comp(-20, 2, 30, 180, 1.5)],
            clips=live("gneck"),
            automation=[lane("fader", -12.0, (home, 0.5, -14.0), (back, 0.5, -12.0))],
        ),
        strip(
            "glead",
            "Gtr lead OD",
            "track",
            1,
            -7.5,
            14.0,
            parent="gbus",
            sends=[send("plate", -19.0), send("little", -11.0)],
            inserts=[eq(shaped("high-pass", 85), shaped("bell", 230, -2.0, 1.2)), comp(-18, 2.5, 20, 150, 2.0)],
            clips=pieces,
            comment="overdub, same chair but nobody else there, hence the little room",
        ),
        strip(
            "gbus",
            "Gtr bus",
            "group",
            2,
            -1.0,
            0.0,
            inserts=[eq(shaped("bell", 2800, -0.8, 0.8))],
        ),
    ]


def picking() -> list[Session]:
    """Banjo and fiddle."""
    return [
        strip(
            "banjo",
            "Banjo",
            "track",
            1,
            -8.5,
            42.0,
            sends=[send("plate", -21.0)],
            inserts=[
                eq(shaped("high-pass", 120), shaped("bell", 750, -2.0, 1.5), shaped("bell", 3500, -1.5, 1.2)),
                comp(-16, 2.5, 8, 90, 1.0),
            ],
            clips=live("banjo"),
            automation=[lane("fader", -8.5, (at(19), 0.4, -5.5), (at(35), 0.4, -8.5))],
            comment="right-hand chair",
        ),
        strip(
            "fiddle",
            "Fiddle",
            "track",
            1,
            -6.5,
            -12.0,
            sends=[send("plate", -16.0)],
            inserts=[
                denoise(),
                eq(shaped("high-pass", 170), shaped("bell", 2900, -2.0, 1.6)),
                comp(-19, 2, 15, 140, 1.5),
            ],
            clips=live("fiddle"),
            automation=[
                lane(
                    "fader",
                    -6.5,
                    (at(19), 0.4, -9.0),
                    (at(35), 0.4, -5.5),
                    (at(51), 0.4, -9.0),
                    (at(67), 0.4, -6.5),
                ),
                lane("send:0:level", -16.0, (at(35), 0.4, -14.0), (at(51), 0.4, -16.0)),
            ],
            comment="carries the head, steps back for the other two breaks",
        ),
    ]


def basses() -> list[Session]:
    """The double bass, microphone and DI, and their bus."""
    align = {
        "name": "Polarity + delay",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "parameters": [
            {"id": "invert", "name": "Invert polarity", "value": True},
            {"id": "delay", "name": "Delay", "value": 2.6, "unit": "ms"},
        ],
    }
    return [
        strip(
            "bmic",
            "Bass mic",
            "track",
            1,
            -6.5,
            0.0,
            parent="bbus",
            inserts=[eq(shaped("high-pass", 36), shaped("bell", 125, -2.0, 2.0))],
            clips=live("bmic"),
        ),
        strip(
            "bdi",
            "Bass DI",
            "track",
            1,
            -12.5,
            0.0,
            parent="bbus",
            inserts=[align, eq(shaped("high-pass", 36), shaped("low-pass", 1800))],
            clips=live("bdi"),
            comment="flipped and 2.6 ms late so it pulls with the mic, checked by ear and by eye",
        ),
        strip("bbus", "Bass bus", "group", 1, 0.0, 0.0, inserts=[comp(-18, 3, 25, 200, 2.0)]),
    ]


def rooms() -> list[Session]:
    """The room pair, its bus, and the spare in front."""
    made = []
    for side, pan in (("L", -100.0), ("R", 100.0)):
        ident = f"room_{side.lower()}"
        made.append(
            strip(
                ident,
                f"Room {side}",
                "track",
                1,
                -14.0,
                pan,
                parent="rbus",
                inserts=[denoise(), eq(shaped("high-pass", 90), shaped("bell", 420, -1.5, 1.0))],
                clips=live(ident),
            )
        )
    made[0]["comment"] = "picture as they sat, seen from the front: guitar, fiddle, bass, banjo"
    made.append(strip("rbus", "Room bus", "group", 2, 0.0, 0.0, inserts=[eq(shaped("high-shelf", 11000, 1.0))]))
    spare = strip("ribbon", "Ribbon front (spare)", "track", 1, -18.0, 0.0, parent="rbus", mute=True)
    spare.update(clips=live("ribbon"), comment="too dull in front of the bass, not used")
    return [*made, spare]


def rest() -> list[Session]:
    """Returns, the chat, and the mix."""
    limiter: Session = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "release_ms": 150.0, "output_gain_db": 0.0, "auto_makeup": False},
    }
    last = at(87)
    mix = strip(
        "mix",
        "Mix",
        "master",
        2,
        0.0,
        0.0,
        inserts=[
            comp(-12, 1.5, 30, 300, 2.0),
            eq(shaped("low-shelf", 80, 0.5), shaped("high-shelf", 12000, 1.0)),
            limiter,
        ],
        automation=[lane("fader", 0.0, (last + 6.2, 3.6, -90.0))],
        comment="fade only over the ring of the last chord",
    )
    del mix["output"]
    chat = strip("chat", "Slate + chat", "track", 1, -10.0, 0.0, mute=True, comment="for the archive")
    chat["clips"] = [clip("slate tk3", "slate", (0.0, 6.9), 0.0, (0.0, 0.1))]
    return [
        strip(
            "plate", "Plate", "return", 2, -3.0, 0.0, inserts=[reverb("Plate", 1.7, 18.0), eq(shaped("high-pass", 240))]
        ),
        strip("little", "Little room", "return", 2, -4.5, 0.0, inserts=[reverb("Small wood room", 0.5, 3.0)]),
        chat,
        mix,
    ]


def media() -> list[Session]:
    """The files: two takes of every microphone, the overdubs, the slate."""
    mics = ["gbody", "gneck", "banjo", "fiddle", "bmic", "bdi", "room_l", "room_r", "ribbon"]
    rows = [(f"tk3_{mic}", f"Take 03/03_{mic}.wav", 214.6) for mic in mics]
    rows += [(f"tk5_{mic}", f"Take 05/05_{mic}.wav", 209.9) for mic in mics]
    rows += [
        ("od_t2", "OD/gtr lead_02.wav", 41.8),
        ("od_t4", "OD/gtr lead_04.wav", 43.3),
        ("slate", "Take 03/03_slate.wav", 7.3),
    ]
    return [
        {
            "id": ident,
            "path": f"Audio Files/{path}",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for ident, path, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Saddle On The Porch Swing_MIX3",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": (bar - 1) * 4.0, "bpm": bpm} for bar, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in MARKS],
        "channels": [*guitars(), *picking(), *basses(), *rooms(), *rest()],
        "media": media(),
        "metadata": {"tempo": "tapped afterwards, no click", "master take": "3, tag from 5"},
    }


def channel(session: Session, name: str) -> Session:
    """The channel of a name."""
    found: Session = next(c for c in session["channels"] if c["name"] == name)
    return found


def room_not_cut(session: Session) -> None:
    """The right room microphone was left out of the edit and runs on in take 3."""
    room = channel(session, "Room R")
    tag = room["clips"].pop()
    room["clips"][0].update(end_s=tag["end_s"], fade_out_s=tag["fade_out_s"])


def di_not_flipped(session: Session) -> None:
    """The DI's polarity switch was reset."""
    channel(session, "Bass DI")["inserts"][0]["parameters"][0]["value"] = False


def limiter_first(session: Session) -> None:
    """The limiter was dragged to the top of the mix."""
    chain = channel(session, "Mix")["inserts"]
    chain.insert(0, chain.pop())


def plate_part_dry(session: Session) -> None:
    """The plate was reloaded with a preset made for inserts."""
    channel(session, "Plate")["inserts"][0]["wet"] = 28.0


def fiddle_residue(session: Session) -> None:
    """The fiddle's noise remover was left at listening to what it removes."""
    channel(session, "Fiddle")["inserts"][0]["parameters"][1]["value"] = True


def bass_file_lost(session: Session) -> None:
    """The bass microphone's file of take 5 was not copied."""
    next(m for m in session["media"] if m["id"] == "tk5_bmic")["present"] = False


def fade_of_old_end(session: Session) -> None:
    """The fade still lies where the tune ended before the tag was cut in."""
    fade = channel(session, "Mix")["automation"][0]
    fade["t"] = [0.0, round(at(83) + 1.2, 4), round(at(83) + 4.8, 4)]


def banjo_other_chair(session: Session) -> None:
    """The sign of the banjo's pan slipped."""
    channel(session, "Banjo")["pan"] = -42.0


def neck_does_not_follow(session: Session) -> None:
    """The neck microphone's ride was cleared."""
    channel(session, "Gtr neck")["automation"].clear()


def room_pair_uneven(session: Session) -> None:
    """The right room fader was touched alone."""
    channel(session, "Room R")["fader_db"] = -8.0


def lead_solo(session: Session) -> None:
    """The solo of the overdub is still in."""
    channel(session, "Gtr lead OD")["solo"] = True


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Ribbon front (spare)"],
        "why": "a whole microphone kept in the session, muted, as the spare it says",
    },
    {"channels": ["Slate + chat"], "why": "the slate stays in the session, muted, for the archive"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-r-not-cut",
        "class": "edits",
        "channels": ["Room R"],
        "grade": "hold",
        "says": "Room R runs on in take 3 through the tag, where every other microphone is cut over to take 5.",
        "plant": room_not_cut,
    },
    {
        "id": "di-polarity",
        "class": "phase",
        "channels": ["Bass DI"],
        "grade": "look",
        "says": "Bass DI is not inverted though its comment says that it is flipped to pull with the microphone.",
        "plant": di_not_flipped,
    },
    {
        "id": "limiter-first",
        "class": "headroom",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The limiter stands first on Mix; the compressor's 2 dB and the shelves behind it go over its ceiling.",
        "plant": limiter_first,
    },
    {
        "id": "plate-part-dry",
        "class": "ambience",
        "channels": ["Plate"],
        "grade": "look",
        "says": "The Plate return is only 28 per cent wet, so its sends add dry sound; Little room is wholly wet.",
        "plant": plate_part_dry,
    },
    {
        "id": "fiddle-residue",
        "class": "processors",
        "channels": ["Fiddle"],
        "grade": "hold",
        "says": "De-noise on Fiddle outputs only what it removes; on the rooms the same switch is off.",
        "plant": fiddle_residue,
    },
    {
        "id": "bass-file-lost",
        "class": "files",
        "channels": ["Bass mic"],
        "grade": "hold",
        "says": "The file of Bass mic for the tag, 05_bmic.wav, is missing; the tag has no bass microphone.",
        "plant": bass_file_lost,
    },
    {
        "id": "fade-of-old-end",
        "class": "end",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The fade on Mix ends in the tag's third bar while all play on; it belongs over the last chord.",
        "plant": fade_of_old_end,
    },
    {
        "id": "banjo-other-chair",
        "class": "place",
        "channels": ["Banjo"],
        "grade": "look",
        "says": "Banjo is panned left, beside the guitar; its comment and the room's picture have it on the right.",
        "plant": banjo_other_chair,
    },
    {
        "id": "neck-does-not-follow",
        "class": "automation",
        "channels": ["Gtr neck"],
        "grade": "look",
        "says": "Gtr neck has no ride, though body and neck move together and Gtr body dips in the guitar break.",
        "plant": neck_does_not_follow,
    },
    {
        "id": "room-pair-uneven",
        "class": "level",
        "channels": ["Room R"],
        "grade": "look",
        "says": "Room R stands 6 dB above Room L; the pair that carries the picture leans to the right.",
        "plant": room_pair_uneven,
    },
    {
        "id": "lead-solo-in",
        "class": "inaudible",
        "channels": ["Gtr lead OD"],
        "grade": "hold",
        "says": "Gtr lead OD is soloed, so the bounce would hold nothing but the overdub.",
        "plant": lead_solo,
    },
]
