"""A song round two acoustic guitars, recorded in a cabin in a weekend by a hobbyist. One guitar sits left, the other
right, and each has a mono reverb of its own that answers from the other side; voice, bass and drums keep the
middle. The names are as they came (kik, OHrite, Audio 14, verb for gtr 2 NEW), the drums are cut at every section
over all mics at once, the old vocal, the click, the guide and the talkback are still there but kept out. In the
break guitar 1 comes inwards, then goes back. The close rings out under a short fade on the main fader."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Dict = dict[str, Any]

BEAT = 60.0 / 118.0
LONG = 192.0
SECTIONS: list[tuple[int, str]] = [
    (1, "count"),
    (3, "intro"),
    (11, "verse"),
    (27, "chorus"),
    (35, "verse2"),
    (51, "chorus again"),
    (59, "break (just gtr1+vox)"),
    (67, "big chorus"),
    (83, "outtro"),
    (91, "ring out"),
]
PARTS: list[tuple[int, int]] = [(3, 27), (27, 35), (35, 51), (51, 59), (67, 91)]  # drums: everywhere but the break
CHORUS: list[tuple[int, int]] = [(27, 35), (51, 59), (67, 83)]


def at(bar: float) -> float:
    return round((bar - 1.0) * 4.0 * BEAT, 4)


def clip(file: str, start: float, end: float, fade_in: float = 0.01, fade_out: float = 0.01, **more: Any) -> Dict:
    """A piece of a take that was recorded from zero on."""
    start, end = round(start, 4), round(end, 4)
    return {
        "start_s": start,
        "end_s": end,
        "name": f"{file}-{int(start):03d}",
        "file": file,
        "offset_s": start,
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": 0.0,
        **more,
    }


def cut(file: str, tail: float = 2.5) -> list[Dict]:
    """The drum cuts, the same on all mics; the last one rings on after the end."""
    return [
        clip(file, at(first) - 0.05, at(last) + (tail if last == 91 else -0.05), 0.01, 1.5 if last == 91 else 0.01)
        for first, last in PARTS
    ]


def eq(*bands: tuple[str, float, float]) -> Dict:
    return {
        "name": "eq",
        "kind": "equalizer",
        "opaque": False,
        "equalizer": {
            "bands": [
                {
                    "kind": kind,
                    "freq_hz": freq,
                    "gain_db": gain,
                    "q": 0.9,
                    **({"slope_db_per_oct": 12.0} if kind == "high-pass" else {}),
                }
                for kind, freq, gain in bands
            ]
        },
    }


def comp(
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    gain: float,
    name: str = "comp",
    kind: str = "compressor",
) -> Dict:
    return {
        "name": name,
        "kind": kind,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }


def polarity(flipped: bool) -> Dict:
    return {
        "name": "phase flip thing",
        "kind": "utility",
        "opaque": False,
        "parameters": [{"id": "invert", "name": "invert polarity", "value": flipped}],
    }


def verb(name: str, decay: float, pre: float) -> Dict:
    return {
        "name": name,
        "kind": "reverb",
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": [{"id": "decay", "name": "decay", "value": decay, "unit": "s"}],
    }


def send(to: str, level: float) -> Dict:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def moves(target: str, points: list[tuple[float, float]], scale: str = "dB") -> Dict:
    return {
        "target": target,
        "scale": scale,
        "shape": "linear",
        "t": [t for t, _ in points],
        "v": [v for _, v in points],
    }


def strip(
    cid: str, name: str, kind: str, output: str | None, fader: float, pan: float = 0.0, legs: int = 1, **more: Any
) -> Dict:
    return {
        "id": cid,
        "name": name,
        "kind": kind,
        "output": output,
        "fader_db": fader,
        "pan": pan,
        "legs": legs,
        "plays": ["audio"] if kind == "track" else [],
        "mute": False,
        "solo": False,
        **more,
    }


def drums() -> list[Dict]:
    return [
        strip(
            "t1",
            "kik",
            "track",
            "drumz",
            -6.0,
            clips=cut("kik"),
            sends=[send("smash", -8.0)],
            inserts=[eq(("bell", 65.0, 3.0), ("bell", 350.0, -4.0)), comp(-14.0, 3.0, 20.0, 90.0, 2.0)],
        ),
        strip(
            "t2",
            "snr top",
            "track",
            "drumz",
            -7.0,
            clips=cut("snrtop"),
            sends=[send("smash", -6.0)],
            inserts=[polarity(False), eq(("high-pass", 90.0, 0.0)), comp(-16.0, 3.0, 12.0, 90.0, 2.0)],
        ),
        strip(
            "t3",
            "Snare btm",
            "track",
            "drumz",
            -15.0,
            clips=cut("snrbtm"),
            comment="flipped, mic looks up",
            inserts=[polarity(True), eq(("high-pass", 180.0, 0.0))],
        ),
        strip(
            "t4",
            "OH lft",
            "track",
            "drumz",
            -10.0,
            -60.0,
            clips=cut("ohl", 3.5),
            inserts=[eq(("high-pass", 120.0, 0.0))],
        ),
        strip(
            "t5",
            "OHrite",
            "track",
            "drumz",
            -10.0,
            60.0,
            clips=cut("ohr", 3.5),
            inserts=[eq(("high-pass", 120.0, 0.0))],
        ),
        strip(
            "t6",
            "kitchen room mic",
            "track",
            "drumz",
            -16.0,
            clips=cut("kitchen", 3.5),
            inserts=[eq(("high-pass", 100.0, 0.0)), comp(-24.0, 4.0, 5.0, 120.0, 3.0)],
        ),
        strip(
            "t7",
            "Audio 14",
            "track",
            "drumz",
            -17.0,
            comment="tamborine",
            clips=[clip("audio14", at(first) - 0.05, at(last) + 0.1, 0.01, 0.05) for first, last in CHORUS],
            inserts=[eq(("high-pass", 400.0, 0.0))],
        ),
        strip(
            "drumz", "DRUMZ", "group", "main", -1.0, legs=2, inserts=[comp(-12.0, 2.0, 30.0, 140.0, 2.0, "bus comp")]
        ),
        strip(
            "smash",
            "drum smash",
            "group",
            "main",
            -13.0,
            legs=2,
            comment="kik+snr only",
            inserts=[comp(-30.0, 8.0, 3.0, 70.0, 6.0, "smash comp")],
        ),
    ]


def bass_and_guitars() -> list[Dict]:
    def low(file: str) -> list[Dict]:
        return [clip(file, at(11) - 0.05, at(59) + 0.2, 0.01, 0.1), clip(file, at(67) - 0.05, at(91) + 2.5, 0.01, 1.0)]

    inwards = [(0.0, -70.0), (at(58.5), -70.0), (at(59), -30.0), (at(66), -30.0), (at(67), -70.0)]
    return [
        strip(
            "t8",
            "bass di",
            "track",
            "main",
            -13.0,
            clips=low("bassdi"),
            inserts=[eq(("high-pass", 40.0, 0.0)), comp(-18.0, 3.0, 20.0, 120.0, 2.0)],
        ),
        strip(
            "t9",
            "Bass Amp(blanket)",
            "track",
            "main",
            -9.0,
            clips=low("bassamp"),
            inserts=[eq(("high-pass", 45.0, 0.0)), comp(-18.0, 3.0, 20.0, 120.0, 2.0)],
        ),
        strip(
            "g1",
            "gtr1 left one",
            "track",
            "main",
            -8.0,
            -70.0,
            sends=[send("v1", -12.0)],
            clips=[clip("gtr1", at(3) - 0.1, at(91) + 4.5, 0.02, 2.0)],
            inserts=[eq(("high-pass", 90.0, 0.0), ("bell", 220.0, -2.0)), comp(-18.0, 2.0, 25.0, 120.0, 1.0)],
            automation=[moves("pan", inwards, "pan")],
        ),
        strip(
            "g2",
            "Gitar 2",
            "track",
            "main",
            -8.5,
            70.0,
            sends=[send("v2", -12.0)],
            clips=[
                clip("gitar2", at(3) - 0.1, at(59) + 0.6, 0.02, 0.3),
                clip("gitar2", at(67) - 0.1, at(91) + 4.5, 0.02, 2.0),
            ],
            inserts=[eq(("high-pass", 90.0, 0.0), ("bell", 180.0, -2.0)), comp(-18.0, 2.0, 25.0, 120.0, 1.0)],
        ),
        strip(
            "v1",
            "gtr1 verb",
            "return",
            "main",
            -4.0,
            70.0,
            comment="left gtr, verb comes back RIGHT",
            inserts=[verb("spring-ish", 1.6, 25.0), eq(("high-pass", 200.0, 0.0))],
        ),
        strip(
            "v2",
            "verb for gtr 2 NEW",
            "return",
            "main",
            -4.0,
            -70.0,
            comment="right gtr, verb comes back LEFT",
            inserts=[verb("spring-ish", 1.6, 25.0), eq(("high-pass", 200.0, 0.0))],
        ),
    ]


def voices() -> list[Dict]:
    takes = [("vox4", 11, 27), ("vox2", 27, 35), ("vox4", 35, 51), ("vox2", 51, 59), ("vox4", 59, 67), ("vox2", 67, 83)]
    sung = [clip(file, at(first) - 0.3, at(last) - 0.3, 0.02, 0.02) for file, first, last in takes]
    return [
        strip(
            "vx",
            "vox good one",
            "track",
            "main",
            -4.0,
            sends=[send("vp", -14.0)],
            clips=[*sung, clip("vox4", at(83) - 0.3, at(90), 0.02, 0.4)],
            inserts=[eq(("high-pass", 90.0, 0.0), ("bell", 300.0, -2.5)), comp(-20.0, 3.0, 10.0, 110.0, 3.0)],
            automation=[
                moves("fader", [(0.0, -4.0), (at(66.5), -4.0), (at(67), -3.0), (at(83), -3.0), (at(84), -4.5)]),
                moves("send:0:level", [(0.0, -14.0), (at(83), -14.0), (at(84), -10.0)]),
            ],
        ),
        strip(
            "vo",
            "vox old dont use",
            "track",
            "main",
            -5.0,
            mute=True,
            clips=[clip("voxold", at(11) - 0.3, at(83), 0.02, 0.1)],
            sends=[send("vp", -14.0)],
        ),
        strip(
            "hm",
            "harmny",
            "track",
            "main",
            -13.0,
            sends=[send("vp", -11.0)],
            clips=[clip("harmny", at(first) - 0.25, at(last) + 0.2, 0.03, 0.1) for first, last in CHORUS],
            inserts=[eq(("high-pass", 150.0, 0.0)), comp(-22.0, 3.0, 10.0, 110.0, 3.0)],
        ),
        strip(
            "vp",
            "vox plate",
            "return",
            "main",
            -3.0,
            legs=2,
            inserts=[verb("plate", 1.9, 40.0), eq(("high-pass", 220.0, 0.0))],
        ),
    ]


def rest() -> list[Dict]:
    return [
        strip("ck", "click trk", "track", "main", -12.0, mute=True, clips=[clip("click", 0.0, at(91), 0.0, 0.0)]),
        strip(
            "gd",
            "guide gtr+vox",
            "track",
            "main",
            -9.0,
            mute=True,
            comment="scratch from the first evening",
            clips=[clip("guide", at(3) - 0.2, at(91) + 2.0, 0.0, 0.0)],
        ),
        strip("tb", "talk back", "track", None, -10.0, clips=[clip("talkback", 0.5, 40.0, 0.0, 0.0)]),
        strip(
            "main",
            "Main Out",
            "master",
            None,
            0.0,
            legs=2,
            inserts=[
                comp(-10.0, 1.5, 30.0, 200.0, 1.0, "mix comp"),
                comp(-1.0, 100.0, 0.5, 90.0, 0.0, "brickwall", "limiter"),
            ],
            automation=[
                moves(
                    "fader",
                    [
                        (0.0, 0.0),
                        (round(at(91) + 2.5, 4), 0.0),
                        (round(at(91) + 4.5, 4), -20.0),
                        (round(at(91) + 6.0, 4), -60.0),
                        (round(at(91) + 6.5, 4), -200.0),
                    ],
                )
            ],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    files = {
        "kik": "kik",
        "snrtop": "snr top",
        "snrbtm": "Snare btm",
        "ohl": "OH lft",
        "ohr": "OHrite",
        "kitchen": "kitchen",
        "audio14": "Audio 14",
        "bassdi": "bass di",
        "bassamp": "bass amp",
        "gtr1": "gtr1 keeper",
        "gitar2": "Gitar 2 tk5",
        "vox2": "vox tk2",
        "vox4": "vox tk4",
        "voxold": "vox saturday",
        "harmny": "harmny",
        "click": "click",
        "guide": "guide",
        "talkback": "tb",
    }
    return {
        "format": "mixlint-session/1",
        "title": "woodpile song mix 3",
        "sample_rate_hz": 48000,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 118.0}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECTIONS]
        + [{"time_s": round(at(91) + 7.0, 4), "name": "END"}],
        "channels": [*drums(), *bass_and_guitars(), *voices(), *rest()],
        "media": [
            {
                "id": key,
                "path": f"recordings/{name}.wav",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": 48000,
                "duration_s": LONG,
            }
            for key, name in files.items()
        ],
        "metadata": {"title": "Woodpile Song", "artist": "Lantern & Gravel"},
    }


def chan(session: Session, name: str) -> Dict:
    return next(one for one in session["channels"] if one["name"] == name)


def medium(session: Session, file: str) -> Dict:
    return next(one for one in session["media"] if one["id"] == file)


def verb_same_side(session: Session) -> None:
    chan(session, "verb for gtr 2 NEW")["pan"] = 70.0


def wrong_verb(session: Session) -> None:
    chan(session, "Gitar 2")["sends"][0]["to"] = "v1"


def harmony_jumps(session: Session) -> None:
    chan(session, "harmny")["clips"][2]["gain_db"] = 9.0


def pan_not_back(session: Session) -> None:
    pan = chan(session, "gtr1 left one")["automation"][0]
    pan["t"], pan["v"] = pan["t"][:-2], pan["v"][:-2]


def same_guitar(session: Session) -> None:
    for one in chan(session, "Gitar 2")["clips"]:
        one["file"] = "gtr1"


def guide_live(session: Session) -> None:
    chan(session, "guide gtr+vox")["mute"] = False


def voice_soloed(session: Session) -> None:
    chan(session, "vox good one")["solo"] = True


def drums_twenty(session: Session) -> None:
    chan(session, "DRUMZ")["inserts"][0]["dynamics"]["output_gain_db"] = 20.0


def overhead_hole(session: Session) -> None:
    chorus = chan(session, "OHrite")["clips"][3]
    chorus["start_s"] = chorus["offset_s"] = round(at(53) - 0.05, 4)


def bass_missing(session: Session) -> None:
    medium(session, "bassdi")["present"] = False


def take_on_the_desktop(session: Session) -> None:
    take = medium(session, "gtr1")
    take["path"], take["place"] = "/home/cabin/desktop/new stuff/gtr1 keeper.wav", "outside"


ACCEPTED: list[Dict] = [
    {
        "channels": ["gtr1 left one", "Gitar 2", "gtr1 verb", "verb for gtr 2 NEW"],
        "why": "each guitar's reverb comes back on the opposite side: that is the idea of the song",
    },
    {
        "channels": ["gtr1 left one"],
        "why": "comes in to -30 for the break, where it is alone with the voice, and goes back",
    },
    {"channels": ["Gitar 2"], "why": "half a decibel lower than guitar 1, by ear; silent in the break"},
    {"channels": ["Audio 14"], "why": "nobody named the tambourine"},
    {"channels": ["Snare btm", "snr top"], "why": "bottom mic flipped against the top one, as it should be"},
    {"channels": ["vox old dont use", "click trk", "guide gtr+vox"], "why": "muted, still pointed at the main output"},
    {"channels": ["talk back"], "why": "declared to go nowhere"},
    {"channels": ["drum smash"], "why": "parallel: kick and snare are meant to be heard twice"},
    {
        "channels": ["bass di", "Bass Amp(blanket)"],
        "why": "no bass group: DI and amp each go straight to the main output",
    },
    {"channels": ["harmny"], "why": "the harmony stays in the middle behind the lead"},
]

FAULTS: list[Dict] = [
    {
        "id": "verb-2-same-side",
        "class": "place",
        "channels": ["verb for gtr 2 NEW", "Gitar 2", "gtr1 verb"],
        "grade": "hold",
        "says": "The reverb of guitar 2 comes back on the guitar's own side; both guitar reverbs are now on the right,"
        " none left.",
        "plant": verb_same_side,
    },
    {
        "id": "gitar-2-wrong-verb",
        "class": "ambience",
        "channels": ["Gitar 2", "verb for gtr 2 NEW", "gtr1 verb"],
        "grade": "hold",
        "says": "Gitar 2 sends to gtr1 verb: its reverb comes back on its own side, and verb for gtr 2 NEW gets"
        " nothing.",
        "plant": wrong_verb,
    },
    {
        "id": "harmny-last-chorus",
        "class": "level",
        "channels": ["harmny"],
        "grade": "hold",
        "says": "The last chorus clip of harmny has 9 dB of clip gain, the others none: the harmony jumps up to the lead.",
        "plant": harmony_jumps,
    },
    {
        "id": "gtr1-stays-inside",
        "class": "automation",
        "channels": ["gtr1 left one", "Gitar 2"],
        "grade": "hold",
        "says": "Guitar 1 comes in to -30 for the break and never goes back to -70: the last chorus leans right.",
        "plant": pan_not_back,
    },
    {
        "id": "one-guitar-twice",
        "class": "twice",
        "channels": ["Gitar 2", "gtr1 left one"],
        "grade": "hold",
        "says": "Gitar 2 plays guitar 1's file: the same take stands left and right, the second guitar is not heard.",
        "plant": same_guitar,
    },
    {
        "id": "guide-live",
        "class": "audible",
        "channels": ["guide gtr+vox"],
        "grade": "hold",
        "says": "The scratch guide is unmuted and plays along with the whole song.",
        "plant": guide_live,
    },
    {
        "id": "vox-solo",
        "class": "inaudible",
        "channels": ["vox good one"],
        "grade": "hold",
        "says": "vox good one is still soloed: the bounce would have the voice and nothing of the band.",
        "plant": voice_soloed,
    },
    {
        "id": "drumz-twenty",
        "class": "headroom",
        "channels": ["DRUMZ", "Main Out"],
        "grade": "hold",
        "says": "The compressor on DRUMZ gives 20 dB of make-up where 2 would do: it overloads everything after it.",
        "plant": drums_twenty,
    },
    {
        "id": "ohrite-hole",
        "class": "edits",
        "channels": ["OHrite", "OH lft"],
        "grade": "hold",
        "says": "OHrite has a hole of two bars at the start of the second chorus, where all the other drum mics run on.",
        "plant": overhead_hole,
    },
    {
        "id": "bass-di-missing",
        "class": "files",
        "channels": ["bass di"],
        "grade": "hold",
        "says": "The file of bass di is missing: the DI is silent in the bounce.",
        "plant": bass_missing,
    },
    {
        "id": "gtr1-on-desktop",
        "class": "hand-over",
        "channels": ["gtr1 left one"],
        "grade": "note",
        "says": "The take of guitar 1 lies on a desktop outside the session's folder and will not travel with it.",
        "plant": take_on_the_desktop,
    },
]
