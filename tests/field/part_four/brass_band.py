"""A Balkan brass band, one long dance in two metres, played live in a sports hall without click, mapped afterwards.
Take 3 up to the change into seven, take 5 from there on, one crossfade across all microphones. The engineer writes
Serbian without diacritics and in small letters (truba, tenor, helikon, dobos, goc, soba = room, levo/desno for the
sides), groups in capitals, folders but no nesting, one VCA over the winds, a squeezed parallel of the percussion. Close
microphones are panned to where the room pair hears the players. The leader's shouts were added later; the old rough mix
and the talkback stay in the session but out of the mix."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

RATE = 48000.0
TEMPOS: tuple[tuple[float, float], ...] = ((0.0, 112.0), (128.0, 118.0), (320.0, 138.0))
SEVEN = 320.0  # beat (in quarters) where 7/8 begins
LAST = 551.0  # beat of the end mark
XF = 0.02  # half a crossfade


def at(beat: float) -> float:
    """Seconds at a quarter-note beat under the stepped tempo map."""
    seconds = 0.0
    for (first, bpm), following in zip(TEMPOS, (*TEMPOS[1:], (beat, 0.0)), strict=True):
        if beat > first:
            seconds += (min(beat, max(following[0], first)) - first) * 60.0 / bpm
    return round(seconds, 4)


def takes(mic: str) -> list[dict[str, Any]]:
    """Take 3 to the seven, take 5 from there: the same cut on every microphone."""
    head, cut, tail = round(at(8.0) - 0.4, 4), at(SEVEN), round(at(LAST) + 3.5, 4)
    return [
        {
            "start_s": head,
            "end_s": round(cut + XF, 4),
            "name": f"{mic} t3",
            "plays": "audio",
            "file": f"t3 {mic}",
            "offset_s": round(head + 2.5, 4),
            "speed": 1.0,
            "fade_in_s": 0.2,
            "fade_out_s": 2 * XF,
            "gain_db": 0.0,
            "on": True,
        },
        {
            "start_s": round(cut - XF, 4),
            "end_s": tail,
            "name": f"{mic} t5",
            "plays": "audio",
            "file": f"t5 {mic}",
            "offset_s": 11.84,
            "speed": 1.0,
            "fade_in_s": 2 * XF,
            "fade_out_s": 2.0,
            "gain_db": 0.0,
            "on": True,
        },
    ]


def bell(freq: float, gain: float, q: float = 1.0) -> dict[str, Any]:
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def low_cut(freq: float) -> dict[str, Any]:
    return {"kind": "high-pass", "freq_hz": freq, "q": 0.7, "slope_db_per_oct": 12.0, "on": True}


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    return {
        "name": "ekvilajzer",
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def squeeze(
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    out: float = 0.0,
    kind: str = "compressor",
    name: str = "kompresor",
) -> dict[str, Any]:
    return {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": out,
            "auto_makeup": False,
        },
    }


def gate(threshold: float) -> dict[str, Any]:
    return {
        "name": "gejt",
        "kind": "gate",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {"threshold_db": threshold, "attack_ms": 0.5, "release_ms": 180.0, "range_db": -24.0},
    }


def polarity(turned: bool) -> dict[str, Any]:
    return {
        "name": "polaritet",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [{"id": "invert", "name": "polarity invert", "value": turned}],
    }


def space(name: str, pre_delay: float, seconds: float) -> dict[str, Any]:
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "rt", "name": "decay", "value": seconds, "unit": "s"}],
    }


def to(ident: str, level: float) -> dict[str, Any]:
    return {"to": ident, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def mic(ident: str, name: str, folder: str, fader: float, pan: float, output: str, **more: Any) -> dict[str, Any]:
    return {
        "id": ident,
        "name": name,
        "kind": "track",
        "folder": [folder],
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "clips": takes(name),
        **more,
    }


def strip(ident: str, name: str, kind: str, fader: float, output: str | None, **more: Any) -> dict[str, Any]:
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": output,
        **more,
    }


def winds() -> list[dict[str, Any]]:
    solo_in, solo_out = at(128.0), at(192.0)
    return [
        mic("c01", "truba 1", "trube", -7.0, -15.0, "g_tru", inserts=[eq(low_cut(130.0), bell(2900.0, -1.5))]),
        mic("c02", "truba 2", "trube", -8.0, -40.0, "g_tru", inserts=[eq(low_cut(130.0), bell(2900.0, -1.5))]),
        mic("c03", "truba 3", "trube", -8.5, -58.0, "g_tru", inserts=[eq(low_cut(130.0), bell(3100.0, -2.0))]),
        mic(
            "c04",
            "klarinet",
            "drvo",
            -7.0,
            -5.0,
            "miks",
            parent="v_duv",
            inserts=[eq(low_cut(140.0), bell(1500.0, -1.0, 1.4)), squeeze(-20.0, 2.5, 12.0, 120.0, 2.0)],
            sends=[to("r_hala", -15.0), to("r_ploca", -12.0)],
            automation=[
                {
                    "target": "fader",
                    "scale": "dB",
                    "shape": "linear",
                    "t": [0.0, round(solo_in - 0.4, 4), solo_in, solo_out, round(solo_out + 0.4, 4)],
                    "v": [-7.0, -7.0, -4.0, -4.0, -7.0],
                }
            ],
        ),
        mic(
            "c05",
            "saks",
            "drvo",
            -9.0,
            38.0,
            "miks",
            parent="v_duv",
            inserts=[eq(low_cut(120.0))],
            sends=[to("r_hala", -15.0)],
            automation=[
                {
                    "target": "mute",
                    "scale": "switch",
                    "shape": "hold",
                    "t": [0.0, solo_in, solo_out],
                    "v": [0.0, 1.0, 0.0],
                }
            ],
            comment="ne svira u solu klarineta",
        ),
        mic("c06", "tenor 1", "tenori", -8.5, 22.0, "g_ten", inserts=[eq(low_cut(90.0))]),
        mic("c07", "tenor 2", "tenori", -9.0, 45.0, "g_ten", inserts=[eq(low_cut(90.0))]),
        mic("c08", "tenor 3", "tenori", -9.0, 62.0, "g_ten", inserts=[eq(low_cut(90.0), bell(420.0, -2.0))]),
        mic(
            "c09",
            "helikon 1",
            "bas",
            -6.5,
            -8.0,
            "g_bas",
            inserts=[eq(low_cut(34.0), bell(180.0, -2.0)), squeeze(-18.0, 3.0, 25.0, 160.0, 1.5)],
        ),
        mic(
            "c10",
            "helikon 2",
            "bas",
            -7.5,
            12.0,
            "g_bas",
            inserts=[eq(low_cut(34.0), bell(180.0, -2.0)), squeeze(-18.0, 3.0, 25.0, 160.0, 1.5)],
        ),
    ]


def percussion_and_room() -> list[dict[str, Any]]:
    shouts = ((24.0, 30.0, 1.2), (190.0, 196.0, 9.4), (432.0, 439.0, 17.0))
    return [
        mic("c11", "dobos", "udaraljke", -8.0, 10.0, "g_uda", inserts=[eq(low_cut(90.0))], sends=[to("r_hala", -20.0)]),
        mic("c12", "goc udarac", "udaraljke", -6.0, 0.0, "g_uda", inserts=[gate(-38.0), eq(low_cut(30.0))]),
        mic(
            "c13",
            "goc prut",
            "udaraljke",
            -11.0,
            0.0,
            "g_uda",
            inserts=[polarity(True), eq(low_cut(80.0))],
            comment="druga strana goca, polaritet okrenut",
        ),
        mic("c14", "cinela", "udaraljke", -13.0, 16.0, "g_uda", inserts=[eq(low_cut(250.0))]),
        {
            "id": "c15",
            "name": "povici",
            "kind": "track",
            "folder": ["glas"],
            "plays": ["audio"],
            "legs": 1,
            "fader_db": -10.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "output": "miks",
            "inserts": [eq(low_cut(130.0)), squeeze(-24.0, 4.0, 5.0, 100.0, 2.0)],
            "sends": [to("r_hala", -9.0), to("r_ploca", -18.0)],
            "clips": [
                {
                    "start_s": at(a),
                    "end_s": at(b),
                    "name": f"hej {n}",
                    "plays": "audio",
                    "file": "povici ovd",
                    "offset_s": offset,
                    "speed": 1.0,
                    "fade_in_s": 0.03,
                    "fade_out_s": 0.15,
                    "gain_db": 0.0,
                    "on": True,
                }
                for n, (a, b, offset) in enumerate(shouts, 1)
            ],
        },
        mic("c16", "soba L", "soba", -4.0, -100.0, "miks", inserts=[eq(low_cut(45.0))]),
        mic("c17", "soba D", "soba", -4.0, 100.0, "miks", inserts=[eq(low_cut(45.0))]),
    ]


def desk() -> list[dict[str, Any]]:
    end = round(at(LAST) + 3.5, 4)
    return [
        strip(
            "g_tru",
            "TRUBE",
            "group",
            -1.0,
            "miks",
            parent="v_duv",
            sends=[to("r_hala", -16.0)],
            inserts=[squeeze(-16.0, 2.0, 20.0, 120.0, 1.0)],
        ),
        strip(
            "g_ten",
            "TENORI",
            "group",
            -1.0,
            "miks",
            parent="v_duv",
            sends=[to("r_hala", -17.0)],
            inserts=[squeeze(-16.0, 2.0, 20.0, 120.0, 1.0)],
        ),
        strip("g_bas", "BAS", "group", 0.0, "miks", parent="v_duv"),
        strip("g_uda", "UDAR", "group", 0.0, "miks", sends=[to("r_par", 0.0)]),
        strip("r_par", "udar par", "return", -10.0, "miks", inserts=[squeeze(-30.0, 8.0, 3.0, 70.0, 6.0)]),
        strip("r_hala", "hala", "return", -5.0, "miks", inserts=[space("sala", 24.0, 2.1), eq(low_cut(180.0))]),
        strip("r_ploca", "ploca", "return", -6.0, "miks", inserts=[space("ploca", 40.0, 1.6), eq(low_cut(260.0))]),
        {"id": "v_duv", "name": "DUVACI", "kind": "vca", "fader_db": 0.0, "mute": False, "solo": False, "output": None},
        {
            "id": "tb",
            "name": "TB",
            "kind": "track",
            "folder": ["razno"],
            "plays": ["audio"],
            "legs": 1,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "output": None,
            "clips": takes("TB"),
        },
        strip(
            "rough",
            "gruba verzija",
            "track",
            0.0,
            "miks",
            folder=["razno"],
            plays=["audio"],
            mute=True,
            comment="samo za poredjenje",
            clips=[
                {
                    "start_s": 0.0,
                    "end_s": end,
                    "name": "gruba 03",
                    "plays": "audio",
                    "file": "gruba 03",
                    "offset_s": 0.0,
                    "speed": 1.0,
                    "fade_in_s": 0.0,
                    "fade_out_s": 0.0,
                    "gain_db": -6.0,
                    "on": True,
                }
            ],
        ),
        {
            "id": "miks",
            "name": "MIKS",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [
                squeeze(-14.0, 1.5, 30.0, 180.0, 1.0),
                squeeze(-1.0, 100.0, 0.1, 80.0, 0.0, "limiter", "limiter"),
            ],
        },
    ]


def media() -> list[dict[str, Any]]:
    mics = (
        "truba 1",
        "truba 2",
        "truba 3",
        "klarinet",
        "saks",
        "tenor 1",
        "tenor 2",
        "tenor 3",
        "helikon 1",
        "helikon 2",
        "dobos",
        "goc udarac",
        "goc prut",
        "cinela",
        "soba L",
        "soba D",
        "TB",
    )
    made: list[dict[str, Any]] = []
    for take, seconds in (("t3", 178.4), ("t5", 121.6)):
        made += [
            {
                "id": f"{take} {m}",
                "path": f"snimci/{take}/{m.replace(' ', '_')}.wav",
                "place": "beside",
                "present": True,
                "legs": 1,
                "sample_rate_hz": RATE,
                "duration_s": seconds,
            }
            for m in mics
        ]
    made.append(
        {
            "id": "povici ovd",
            "path": "snimci/naknadno/povici.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": 31.0,
        }
    )
    made.append(
        {
            "id": "gruba 03",
            "path": "snimci/grube/gruba_03.wav",
            "place": "beside",
            "present": True,
            "legs": 2,
            "sample_rate_hz": RATE,
            "duration_s": 275.0,
        }
    )
    return made


def good() -> Session:
    """The session as it should be bounced."""
    marks = (
        (8.0, "pocetak"),
        (24.0, "tema"),
        (128.0, "solo klarinet"),
        (192.0, "trube"),
        (256.0, "svi"),
        (SEVEN, "u sedam"),
        (432.0, "repriza"),
        (LAST, "kraj"),
    )
    return {
        "format": "mixlint-session/1",
        "title": "kolo u dva koraka",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": b, "bpm": bpm} for b, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}, {"beat": SEVEN, "beats": 7, "unit": 8}],
        },
        "markers": [{"time_s": at(b), "name": name} for b, name in marks],
        "channels": winds() + percussion_and_room() + desk(),
        "media": media(),
        "metadata": {"naziv": "kolo u dva koraka", "verzija": "miks 4"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def file_of(session: Session, ident: str) -> dict[str, Any]:
    found: dict[str, Any] = next(m for m in session["media"] if m["id"] == ident)
    return found


def room_right_in_the_middle(session: Session) -> None:
    chan(session, "soba D")["pan"] = 10.0


def hall_leaks_dry(session: Session) -> None:
    chan(session, "hala")["inserts"][0]["wet"] = 35.0


def master_pushed(session: Session) -> None:
    chan(session, "MIKS")["fader_db"] = 4.5


def room_slipped_in_its_clip(session: Session) -> None:
    second = chan(session, "soba L")["clips"][1]
    second["offset_s"] = round(second["offset_s"] + 0.35, 4)


def clarinet_file_gone(session: Session) -> None:
    file_of(session, "t5 klarinet")["present"] = False


def shouts_on_the_stick(session: Session) -> None:
    shouts = file_of(session, "povici ovd")
    shouts["path"], shouts["place"] = "E:/fleska/povici.wav", "outside"


def parallel_into_its_source(session: Session) -> None:
    chan(session, "udar par")["output"] = "g_uda"


def snare_clip_twice(session: Session) -> None:
    clips = chan(session, "dobos")["clips"]
    clips.append(dict(clips[1]))


def rough_mix_open(session: Session) -> None:
    chan(session, "gruba verzija")["mute"] = False


def sax_never_back(session: Session) -> None:
    lane = chan(session, "saks")["automation"][0]
    del lane["t"][-1], lane["v"][-1]


def gate_never_opens(session: Session) -> None:
    chan(session, "goc udarac")["inserts"][0]["dynamics"]["threshold_db"] = -3.8


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["goc prut", "goc udarac"],
        "why": "the two heads of one drum: the switch side is turned in polarity on purpose",
    },
    {"channels": ["saks"], "why": "closed during the clarinet solo, it only hears the others there"},
    {"channels": ["klarinet"], "why": "lifted by three decibels for its solo and brought back"},
    {
        "channels": ["truba 1", "truba 2", "truba 3", "tenor 1", "tenor 2", "tenor 3"],
        "why": "trumpets left and tenors right as they stood, without mirror images",
    },
    {"channels": ["gruba verzija"], "why": "old rough mix for comparison, muted"},
    {"channels": ["TB"], "why": "talkback, declared to go nowhere"},
    {"channels": ["udar par", "UDAR"], "why": "squeezed parallel of the percussion, meant to be heard with it"},
    {"channels": ["soba L", "soba D"], "why": "room pair wide open and louder than most close microphones"},
    {"channels": ["povici"], "why": "three shouts added later from one file, silent otherwise"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "room-right-at-10",
        "class": "place",
        "channels": ["soba D", "soba L"],
        "grade": "hold",
        "says": "soba D is panned to 10, soba L to full left: the room tips over, 100 was surely meant.",
        "plant": room_right_in_the_middle,
    },
    {
        "id": "hall-leaks-dry",
        "class": "ambience",
        "channels": ["hala"],
        "grade": "hold",
        "says": "The reverb on the hala return is only 35 per cent wet, so every band member comes back dry through it.",
        "plant": hall_leaks_dry,
    },
    {
        "id": "master-pushed",
        "class": "headroom",
        "channels": ["MIKS"],
        "grade": "hold",
        "says": "The master fader stands at +4.5 dB behind a limiter at -1: the bounce goes over full scale.",
        "plant": master_pushed,
    },
    {
        "id": "room-left-slipped",
        "class": "edits",
        "channels": ["soba L", "soba D"],
        "grade": "hold",
        "says": "From the cut into seven on, soba L's audio is slipped 0.35 s inside its clip against every other mic.",
        "plant": room_slipped_in_its_clip,
    },
    {
        "id": "clarinet-file-gone",
        "class": "files",
        "channels": ["klarinet"],
        "grade": "hold",
        "says": "The clarinet's take 5 file is missing: it is silent from the seven to the end.",
        "plant": clarinet_file_gone,
    },
    {
        "id": "shouts-on-stick",
        "class": "hand-over",
        "channels": ["povici"],
        "grade": "look",
        "says": "The shouts still play from a removable drive outside the session; copy the file in before handing over.",
        "plant": shouts_on_the_stick,
    },
    {
        "id": "parallel-loop",
        "class": "routing",
        "channels": ["udar par", "UDAR"],
        "grade": "hold",
        "says": "udar par now goes into UDAR, which feeds it: that is a feedback loop.",
        "plant": parallel_into_its_source,
    },
    {
        "id": "snare-clip-twice",
        "class": "twice",
        "channels": ["dobos"],
        "grade": "hold",
        "says": "dobos has the take 5 clip twice on top of itself: the snare is 6 dB up from the seven on.",
        "plant": snare_clip_twice,
    },
    {
        "id": "rough-mix-open",
        "class": "audible-that-should-not-be",
        "channels": ["gruba verzija"],
        "grade": "hold",
        "says": "The old rough mix is not muted and plays along with the whole mix.",
        "plant": rough_mix_open,
    },
    {
        "id": "sax-never-back",
        "class": "automation",
        "channels": ["saks"],
        "grade": "hold",
        "says": "saks is muted for the clarinet solo and never opened again.",
        "plant": sax_never_back,
    },
    {
        "id": "gate-never-opens",
        "class": "processors",
        "channels": ["goc udarac"],
        "grade": "hold",
        "says": "The gate on goc udarac opens only above -3.8 dBFS, -38 was surely meant: most strokes are held shut.",
        "plant": gate_never_opens,
    },
]
