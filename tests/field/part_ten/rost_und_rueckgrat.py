"""Rost und Rückgrat: two minutes of hardcore with a slow breakdown and a slower outro.

Rhythm guitars were played twice per side as DI and sent out again through two heads (Git 1 = Amp A, Git 2 = Amp B); the
DIs stay in the session, uncut and muted. A third pair was played straight into Amp C for breakdown and outro. Kick and
snare have samplers fired from cleaned-up triggers. Everything is cut section by section just before the downbeat; toms
are cut down to the fills, with some ring left. Panorama as the drummer sits. The shout goes through the telephone for
the stop and the first four bars of the breakdown, and into the delay on the last bar of each hook. Names are German
where it was quick.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]

RATE = 44100.0
LEAD_IN = 0.004
FORM: list[tuple[str, int, int, float]] = [
    ("Vorzähler", 2, 4, 184.0),
    ("Intro", 8, 4, 184.0),
    ("Strophe 1", 16, 4, 184.0),
    ("Hook 1", 8, 4, 184.0),
    ("Strophe 2", 16, 4, 184.0),
    ("Hook 2", 8, 4, 184.0),
    ("Stop", 1, 2, 184.0),
    ("Breakdown", 12, 4, 138.0),
    ("Hook 3", 16, 4, 184.0),
    ("Outro", 8, 4, 120.0),
    ("Ausklang", 2, 4, 120.0),
    ("ENDE", 0, 4, 120.0),
]
NAMES = [row[0] for row in FORM]
BAND = {"hp": "high-pass", "lp": "low-pass", "bell": "bell", "hs": "high-shelf", "ls": "low-shelf"}

ALL = ["Intro", "Strophe 1", "Hook 1", "Strophe 2", "Hook 2", "Breakdown", "Hook 3", "Outro"]
BAND_IN = ["Intro:5", *ALL[1:]]
SECOND = ["Intro:5", "Hook 1", "Hook 2", "Breakdown", "Hook 3", "Outro"]
THIRD = ["Breakdown", "Outro"]
TUNE = ["Intro:1-4", "Hook 3", "Outro"]
FILLS = ["Intro:8-8", "Strophe 1:16-16", "Hook 1:8-8", "Strophe 2:16-16", "Hook 2:7-8", "Breakdown", "Outro:8"]
SHOUT = ["Strophe 1", "Hook 1", "Strophe 2", "Hook 2", "Stop", "Breakdown:1-8", "Hook 3", "Outro:1-4"]
HOOKS = ["Hook 1", "Hook 2", "Hook 3"]
GANG = ["Hook 1", "Hook 2", "Breakdown:9-12", "Hook 3"]

# id, name, fader, pan, width, sections, file
Row = tuple[str, str, float, float, int, list[str], str]
DRUMS: list[Row] = [
    ("kin", "Kick In", -7.0, 0.0, 1, ALL, "Drums/KickIn_tk3.wav"),
    ("kout", "Kick Out", -9.5, 0.0, 1, ALL, "Drums/KickOut_tk3.wav"),
    ("ktr", "Kick Trig", -8.5, 0.0, 1, ALL, ""),
    ("snt", "Snare Top", -6.0, 0.0, 1, ALL, "Drums/SnTop_tk3.wav"),
    ("snb", "Snare Bot", -12.5, 0.0, 1, ALL, "Drums/SnBot_tk3.wav"),
    ("str", "Snare Trig", -10.0, 0.0, 1, ALL, ""),
    ("t1", "Tom 1", -7.0, -30.0, 1, FILLS, "Drums/Tom1_tk3.wav"),
    ("t2", "Tom 2", -7.5, 12.0, 1, FILLS, "Drums/Tom2_tk3.wav"),
    ("t3", "Standtom", -6.5, 45.0, 1, FILLS, "Drums/Standtom_tk3.wav"),
    ("hh", "HH", -16.0, -42.0, 1, ALL, "Drums/HH_tk3.wav"),
    ("rd", "Ride", -15.0, 40.0, 1, ALL, "Drums/Ride_tk3.wav"),
    ("ohl", "OH L", -9.5, -80.0, 1, ALL, "Drums/OH_L_tk3.wav"),
    ("ohr", "OH R", -9.5, 80.0, 1, ALL, "Drums/OH_R_tk3.wav"),
    ("rm", "Raum", -11.0, 0.0, 2, ALL, "Drums/Raum_AB_tk3.wav"),
]
BASS: list[Row] = [
    ("bdi", "Bass DI", -8.0, 0.0, 1, BAND_IN, "Bass/Bass_DI_tk2.wav"),
    ("bz", "Bass Zerre", -9.5, 0.0, 1, BAND_IN, "Reamps/Bass_Zerre_02.wav"),
]
GUITARS: list[Row] = [
    ("g1l", "Git 1 L", -7.0, -100.0, 1, BAND_IN, "Reamps/AmpA/Git1_L_02.wav"),
    ("g1r", "Git 1 R", -7.0, 100.0, 1, BAND_IN, "Reamps/AmpA/Git1_R_02.wav"),
    ("g2l", "Git 2 L", -9.5, -85.0, 1, SECOND, "Reamps/AmpB/Git2_L_01.wav"),
    ("g2r", "Git 2 R", -9.5, 85.0, 1, SECOND, "Reamps/AmpB/Git2_R_01.wav"),
    ("g3l", "Git 3 L", -10.0, -70.0, 1, THIRD, "Git/Git3_L_AmpC.wav"),
    ("g3r", "Git 3 R", -10.0, 70.0, 1, THIRD, "Git/Git3_R_AmpC.wav"),
    ("gl", "Lead Git", -9.0, -25.0, 1, TUNE, "Git/Lead_tk5.wav"),
    ("gd", "Lead Git Dopp", -11.0, 25.0, 1, TUNE, "Git/Lead_Dopp_tk2.wav"),
    ("d1l", "DI Git 1 L", -10.0, -100.0, 1, [], "DI/Git1_L_DI.wav"),
    ("d1r", "DI Git 1 R", -10.0, 100.0, 1, [], "DI/Git1_R_DI.wav"),
    ("d2l", "DI Git 2 L", -10.0, -85.0, 1, [], "DI/Git2_L_DI.wav"),
    ("d2r", "DI Git 2 R", -10.0, 85.0, 1, [], "DI/Git2_R_DI.wav"),
]
VOICES: list[Row] = [
    ("sh", "Shout Lead", -4.5, 0.0, 1, SHOUT, "Vox/Shout_comp.wav"),
    ("sd", "Shout Dopp", -12.0, 0.0, 1, HOOKS, "Vox/Shout_dopp_comp.wav"),
    ("gal", "Gang L", -10.5, -60.0, 1, GANG, "Vox/Gang_L_03.wav"),
    ("gar", "Gang R", -10.5, 60.0, 1, GANG, "Vox/Gang_R_03.wav"),
]
SENDS: dict[str, list[tuple[str, float]]] = {
    "kin": [("para", -8.0)],
    "snt": [("para", -6.0), ("hall", -12.0)],
    "str": [("hall", -9.0)],
    "t1": [("para", -9.0)],
    "t2": [("para", -9.0)],
    "t3": [("para", -9.0)],
    "sh": [("vraum", -14.0), ("vdel", -9.0)],
    "sd": [("vraum", -14.0)],
    "gal": [("vraum", -10.0)],
    "gar": [("vraum", -10.0)],
}
COMMENTS = {
    "ktr": "Sampler, getriggert von Kick In",
    "str": "Sampler, getriggert von Snare Top",
    "snb": "Phase gedreht gegen Top",
    "g3l": "direkt Amp C gespielt, keine DI",
    "d1l": "Archiv fürs Reampen, bleibt stumm",
    "d1r": "Archiv fürs Reampen, bleibt stumm",
    "d2l": "Archiv, stumm",
    "d2r": "Archiv, stumm",
    "sh": "Telefon nur Stop + 4 Takte Breakdown",
}


def at(name: str, bar: int = 1, beat: float = 1.0) -> float:
    """The time in seconds of a bar of a section."""
    time = 0.0
    for section, bars, beats, bpm in FORM:
        if section == name:
            return round(time + ((bar - 1) * beats + beat - 1.0) * 60.0 / bpm, 6)
        time += bars * beats * 60.0 / bpm
    raise KeyError(name)


END = at("ENDE")


def maps() -> Part:
    """The tempo and the metre map of the form."""
    tempos: list[Part] = []
    meters: list[Part] = []
    beat = 0.0
    for _, bars, beats, bpm in FORM:
        if not tempos or tempos[-1]["bpm"] != bpm:
            tempos.append({"beat": beat, "bpm": bpm})
        if not meters or meters[-1]["beats"] != beats:
            meters.append({"beat": beat, "beats": beats, "unit": 4})
        beat += float(bars * beats)
    return {"tempos": tempos, "meters": meters}


def eq(name: str, *bands: str, kind: str = "equalizer", on: bool = True) -> Part:
    """An equalizer or filter; a band reads "hp 80 12" (slope) or "bell 240 -3 1.2" (gain, Q)."""
    made: list[Part] = []
    for band in bands:
        shape, freq, value, *rest = band.split()
        one: Part = {"kind": BAND[shape], "freq_hz": float(freq), "on": True}
        if shape in ("hp", "lp"):
            one["slope_db_per_oct"] = float(value)
        else:
            one |= {"gain_db": float(value), "q": float(rest[0]) if rest else 0.7}
        made.append(one)
    return {"name": name, "kind": kind, "on": on, "opaque": False, "equalizer": {"bands": made}}


def dyn(name: str, kind: str, **settings: float) -> Part:
    """A compressor or gate."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": dict(settings)}


def comp(threshold: float, ratio: float, attack: float, release: float, name: str = "Comp") -> Part:
    """A compressor with the four usual settings."""
    return dyn(name, "compressor", threshold_db=threshold, ratio=ratio, attack_ms=attack, release_ms=release)


def gate(threshold: float, depth: float, release: float) -> Part:
    """A clean-up gate."""
    return dyn("Gate", "gate", threshold_db=threshold, range_db=depth, attack_ms=0.3, release_ms=release)


def fx(name: str, kind: str, *params: tuple[str, float | bool, str], **more: Any) -> Part:
    """Any other processor with the parameters that it lists."""
    listed = [{"id": p.lower().replace(" ", "_"), "name": p, "value": v, "unit": u} for p, v, u in params]
    return {"name": name, "kind": kind, "on": True, "opaque": not listed, "parameters": listed, **more}


def chains() -> dict[str, list[Part]]:
    """The inserts of every channel that has some, by id."""
    tom = [eq("EQ", "hp 55 12", "bell 420 -5 1.3", "bell 4200 3 0.9"), comp(-16.0, 4.0, 12.0, 90.0)]
    over = [eq("EQ", "hp 320 18", "bell 3800 -2 1.5", "hs 11000 1.5")]
    amp_a = [eq("EQ", "hp 85 18", "lp 10500 12", "bell 3400 -2.5 3")]
    amp_b = [eq("EQ", "hp 95 18", "lp 9500 12", "bell 2600 1.5 1")]
    amp_c = [eq("EQ", "hp 65 18", "lp 8500 12")]
    lead = [eq("EQ", "hp 140 12", "bell 1800 1.5 1"), comp(-20.0, 3.0, 10.0, 100.0)]
    archive = [gate(-58.0, -40.0, 60.0), fx("Amp Sim", "distortion", ("Gain", 6.5, ""), ("Presence", 5.0, ""))]
    gang = [eq("EQ", "hp 180 18", "bell 2500 2 0.8"), comp(-24.0, 6.0, 3.0, 60.0)]
    return {
        "kin": [gate(-30.0, -24.0, 80.0), eq("EQ", "hp 35 18", "bell 300 -6 1.4", "bell 5200 4 1")],
        "kout": [eq("EQ", "hp 30 18", "bell 64 3 1", "lp 6000 12"), comp(-15.0, 4.0, 15.0, 70.0)],
        "ktr": [fx("Sampler", "instrument", ("Velocity", 70.0, "%")), eq("EQ", "bell 400 -3 1")],
        "snt": [
            gate(-32.0, -18.0, 120.0),
            eq("EQ", "hp 95 18", "bell 200 2 1", "hs 8000 2"),
            comp(-16.0, 4.0, 8.0, 80.0),
        ],
        "snb": [fx("Phase", "utility", ("Invert", True, "")), eq("EQ", "hp 220 12", "hs 7000 2")],
        "str": [fx("Sampler", "instrument", ("Velocity", 55.0, "%")), eq("EQ", "hp 120 12")],
        "t1": tom,
        "t2": tom,
        "t3": [eq("EQ", "hp 42 12", "bell 380 -5 1.3", "bell 3800 3 0.9"), comp(-16.0, 4.0, 12.0, 110.0)],
        "hh": [eq("EQ", "hp 500 18")],
        "rd": [eq("EQ", "hp 450 18")],
        "ohl": over,
        "ohr": over,
        "rm": [eq("EQ", "hp 90 12", "lp 9000 6"), comp(-26.0, 8.0, 3.0, 120.0, "Raum Comp")],
        "para": [comp(-34.0, 10.0, 1.0, 60.0, "Smash"), eq("EQ", "ls 90 2", "hs 7000 1.5")],
        "drum": [comp(-14.0, 2.0, 30.0, 100.0, "Bus Comp"), fx("Clipper", "distortion", ("Drive", 1.5, "dB"))],
        "bdi": [eq("EQ", "hp 30 18", "lp 700 12"), comp(-20.0, 6.0, 10.0, 80.0)],
        "bz": [eq("EQ", "hp 180 12", "lp 5500 12", "bell 900 2 1")],
        "bass": [comp(-16.0, 3.0, 15.0, 90.0, "Bus Comp"), eq("EQ", "bell 160 -2 1.2")],
        "g1l": amp_a,
        "g1r": amp_a,
        "g2l": amp_b,
        "g2r": amp_b,
        "g3l": amp_c,
        "g3r": amp_c,
        "gl": lead,
        "gd": lead,
        "d1l": archive,
        "d1r": archive,
        "d2l": archive,
        "d2r": archive,
        "git": [eq("EQ", "hp 70 18", "bell 120 -1.5 1"), comp(-14.0, 1.5, 30.0, 120.0, "Bus Comp")],
        "sh": [
            gate(-44.0, -12.0, 180.0),
            eq("EQ", "hp 110 18", "bell 350 -3 1.2", "bell 4200 2 0.9"),
            comp(-22.0, 6.0, 2.0, 60.0),
            fx("De-Esser", "de-esser", ("Freq", 6100.0, "Hz"), ("Threshold", -24.0, "dB")),
            fx("Sättigung", "distortion", ("Drive", 3.0, "dB")),
            eq("Telefon", "hp 480 24", "lp 3100 24", kind="filter", on=False),
        ],
        "sd": [eq("EQ", "hp 160 18"), comp(-26.0, 8.0, 2.0, 60.0), fx("Sättigung", "distortion", ("Drive", 6.0, "dB"))],
        "gal": gang,
        "gar": gang,
        "vox": [comp(-14.0, 2.0, 10.0, 80.0, "Bus Comp")],
        "hall": [
            fx("Platte", "reverb", ("Decay", 1.1, "s"), wet=100.0, pre_delay_ms=14.0),
            eq("EQ", "hp 300 12", "lp 8000 12"),
        ],
        "vraum": [eq("EQ", "hp 250 12"), fx("Raum", "reverb", ("Decay", 0.7, "s"), wet=100.0, pre_delay_ms=20.0)],
        "vdel": [
            fx("Delay 1/4", "delay", ("Time", 326.1, "ms"), ("Feedback", 24.0, "%"), wet=100.0),
            eq("EQ", "hp 400 12", "lp 3500 12"),
        ],
        "mix": [
            eq("EQ", "hp 28 18", "hs 10000 0.8"),
            comp(-12.0, 2.0, 30.0, 100.0),
            fx("Clipper", "distortion", ("Drive", 2.0, "dB")),
            fx("Limiter", "limiter", ("Gain", 3.0, "dB"), ("Ceiling", -0.8, "dB")),
            fx("Loudness", "analyser"),
        ],
    }


def bounds(part: str) -> tuple[str, float, float]:
    """Section, start and end of "Hook 1" (all), "Intro:5" (from bar 5) or "Intro:1-4" (bars 1 to 4)."""
    name, _, bars = part.partition(":")
    first, _, last = bars.partition("-")
    following = "ENDE" if name == "Outro" else NAMES[NAMES.index(name) + 1]
    end = at(name, int(last) + 1) if last else at(following)
    return name, at(name, int(first or 1)), end


def cuts(stem: str, file: str, parts: list[str], lead: float, fade: tuple[float, float], rest: float) -> list[Part]:
    """One clip per section, cut just before the downbeat; the last chord rings out with ``rest``."""
    made: list[Part] = []
    for part in parts:
        name, start, end = bounds(part)
        clip: Part = {"start_s": round(start - lead, 6), "end_s": round(end - lead, 6), "name": f"{stem} {name}"}
        if end == END:
            clip["end_s"] = END
        if file:
            out = rest if end == END else fade[1]
            clip |= {"plays": "audio", "file": file, "offset_s": clip["start_s"], "speed": 1.0}
            clip |= {"fade_in_s": fade[0], "fade_out_s": out}
        else:
            clip |= {"plays": "notes", "file": None}
        made.append(clip | {"gain_db": 0.0, "on": True})
    return made


def ride(target: str, *points: tuple[str, int, float]) -> Part:
    """A ride that steps at bars: section, bar, value."""
    scale = "dB" if target == "fader" else "switch"
    times = [at(name, bar) for name, bar, _ in points]
    return {"target": target, "scale": scale, "shape": "hold", "t": times, "v": [value for _, _, value in points]}


def rides() -> dict[str, list[Part]]:
    """All automation, by id."""
    room = [("Vorzähler", 1, -11.0), ("Breakdown", 1, -8.5), ("Hook 3", 1, -11.0), ("Outro", 1, -8.0)]
    throw: list[tuple[str, int, float]] = [("Vorzähler", 1, 0.0)]
    throw += [("Hook 1", 8, 1.0), ("Strophe 2", 1, 0.0), ("Hook 2", 8, 1.0), ("Stop", 1, 0.0)]
    throw += [("Hook 3", 16, 1.0), ("Outro", 1, 0.0)]
    level: list[tuple[str, int, float]] = [("Vorzähler", 1, -4.5), ("Hook 1", 1, -3.8), ("Strophe 2", 1, -4.5)]
    level += [("Hook 2", 1, -3.8), ("Stop", 1, -4.0), ("Hook 3", 1, -3.6), ("Outro", 1, -4.5)]
    phone = ride("insert:5:on", ("Vorzähler", 1, 0.0), ("Stop", 1, 1.0), ("Breakdown", 5, 0.0))
    phone["t"][1] = round(phone["t"][1] - 0.18, 6)
    return {
        "sh": [ride("fader", *level), ride("send:1:on", *throw), phone],
        "rm": [ride("fader", *room)],
        "para": [ride("fader", ("Vorzähler", 1, -8.0), ("Breakdown", 1, -6.5), ("Hook 3", 1, -8.0))],
        "git": [ride("fader", ("Vorzähler", 1, -1.5), ("Breakdown", 1, -0.7), ("Hook 3", 1, -1.5))],
    }


def strip(ident: str, name: str, kind: str, fader: float, pan: float, legs: int, output: str | None) -> Part:
    """A channel with its inserts, sends, rides and comment."""
    sends = [{"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True} for to, level in SENDS.get(ident, [])]
    made: Part = {"id": ident, "name": name, "kind": kind, "legs": legs, "fader_db": fader, "pan": pan, "mute": False}
    made |= {"solo": False, "output": output, "sends": sends, "inserts": chains().get(ident, []), "clips": []}
    return made | {"automation": rides().get(ident, []), "comment": COMMENTS.get(ident, "")}


def tracks(rows: list[Row], group: str, folder: str) -> list[Part]:
    """The tracks of one family."""
    made: list[Part] = []
    for ident, name, fader, pan, legs, parts, path in rows:
        one = strip(ident, name, "track", fader, pan, legs, group)
        one |= {"parent": group, "folder": [folder], "plays": ["audio"] if path else ["notes"]}
        lead, fade, rest = LEAD_IN, (0.002, 0.003), 2.8
        if group == "vox":
            lead, fade = 0.18, (0.01, 0.03)
        stem = name.replace(" ", "")
        if not parts:
            whole = cuts(stem, ident, ["Outro"], 0.0, fade, 0.05)[0]
            one["clips"] = [whole | {"start_s": at("Intro"), "offset_s": at("Intro"), "name": f"{stem} ungeschnitten"}]
            one["mute"] = True
        else:
            one["clips"] = cuts(stem, ident if path else "", parts, lead, fade, rest)
        if parts is FILLS:
            ringing = [c for c in one["clips"][:-1] if not c["name"].endswith("Hook 2")]
            for clip in ringing:
                clip |= {"end_s": round(clip["end_s"] + 0.35, 6), "fade_out_s": 0.15}
        made.append(one)
    return made


def good() -> Session:
    """The session as it should be bounced."""
    delay_send = tracks(VOICES, "vox", "Vox")
    delay_send[0]["sends"][1]["on"] = False
    click = strip("kl", "Klick", "track", -10.0, 0.0, 1, None)
    click |= {"plays": ["audio"], "comment": "nur Kopfhörer, Ausgang bleibt aus"}
    click["clips"] = [cuts("Klick", "kl", ["Vorzähler"], 0.0, (0.0, 0.01), 0.0)[0] | {"end_s": at("Ausklang")}]
    channels = [
        *tracks(DRUMS, "drum", "Drums"),
        strip("para", "Drums Para", "return", -8.0, 0.0, 2, "drum"),
        strip("drum", "DRUM BUS", "group", -2.0, 0.0, 2, "mix"),
        *tracks(BASS, "bass", "Bass"),
        strip("bass", "BASS BUS", "group", -2.5, 0.0, 1, "mix"),
        *tracks(GUITARS, "git", "Gitarren"),
        strip("git", "GIT BUS", "group", -1.5, 0.0, 2, "mix"),
        *delay_send,
        strip("vox", "VOX BUS", "group", -1.0, 0.0, 2, "mix"),
        strip("hall", "Snare Hall", "return", -7.0, 0.0, 2, "drum"),
        strip("vraum", "Vox Raum", "return", -6.0, 0.0, 2, "vox"),
        strip("vdel", "Vox Delay", "return", -8.0, 0.0, 2, "vox"),
        click,
        strip("mix", "MIX", "master", 0.0, 0.0, 2, None),
    ]
    channels[-1].pop("output")
    rows = [(r[0], r[6], r[4]) for r in [*DRUMS, *BASS, *GUITARS, *VOICES] if r[6]] + [("kl", "Klick/Klick.wav", 1)]
    one: Part = {"place": "beside", "present": True, "sample_rate_hz": RATE, "duration_s": round(END + 2.4, 3)}
    return {
        "format": "mixlint-session/1",
        "title": "Rost und Rückgrat Mix 04",
        "sample_rate_hz": RATE,
        "timeline": maps(),
        "markers": [{"time_s": at(name), "name": name} for name in NAMES],
        "channels": channels,
        "media": [{"id": ident, "path": path, "legs": legs, **one} for ident, path, legs in rows],
        "metadata": {"Bounce": "24 Bit, ohne Vorzähler"},
    }


def channel(session: Session, name: str) -> Part:
    """The channel of a name."""
    found: Part = next(c for c in session["channels"] if c["name"] == name)
    return found


def overheads_crossed(session: Session) -> None:
    """The pans of the two overheads are exchanged."""
    channel(session, "OH L")["pan"], channel(session, "OH R")["pan"] = 80.0, -80.0


def phone_stays(session: Session) -> None:
    """The point that switches the telephone off is gone."""
    phone = channel(session, "Shout Lead")["automation"][2]
    phone["t"].pop()
    phone["v"].pop()


def floor_tom_sign(session: Session) -> None:
    """The floor tom is up instead of down by the same figure."""
    channel(session, "Standtom")["fader_db"] = 6.5


def click_in_mix(session: Session) -> None:
    """The click has been given an output."""
    channel(session, "Klick")["output"] = "mix"


def archive_sounds(session: Session) -> None:
    """One of the four archived DIs is open."""
    channel(session, "DI Git 1 L")["mute"] = False


def hall_on_kick(session: Session) -> None:
    """The send into the snare's hall has been dragged onto the kick."""
    channel(session, "Kick In")["sends"].append(channel(session, "Snare Top")["sends"].pop())


def tom_to_guitars(session: Session) -> None:
    """One tom goes out to the guitar bus."""
    channel(session, "Tom 2")["output"] = "git"


def bottom_not_turned(session: Session) -> None:
    """The polarity switch of the lower snare microphone is bypassed."""
    channel(session, "Snare Bot")["inserts"][0]["on"] = False


def solo_forgotten(session: Session) -> None:
    """A solo is still in."""
    channel(session, "Bass Zerre")["solo"] = True


def gang_on_desktop(session: Session) -> None:
    """One gang file lies on a desktop, not in the session's folder."""
    media = next(m for m in session["media"] if m["id"] == "gar")
    media["path"] = "C:/Users/studio2/Desktop/neu von Freitag/Gang_R_03.wav"
    media["place"] = "outside"


def verse_hole(session: Session) -> None:
    """One right-hand guitar stops two bars before the second hook."""
    verse = next(c for c in channel(session, "Git 1 R")["clips"] if c["name"].endswith("Strophe 2"))
    verse["end_s"] = round(at("Strophe 2", 15) - LEAD_IN, 6)


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["DI Git 1 L", "DI Git 1 R", "DI Git 2 L", "DI Git 2 R"],
        "why": "muted archive of the reamps, uncut, with output and inserts still in place",
    },
    {"channels": ["Klick"], "why": "it has no output on purpose"},
    {"channels": ["Shout Lead"], "why": "a narrow telephone filter and a delay send, both switched by automation"},
    {"channels": ["Git 3 L", "Git 3 R"], "why": "the third pair plays in breakdown and outro only"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "overheads-crossed",
        "class": "place",
        "channels": ["OH L", "OH R"],
        "grade": "look",
        "says": "OH L is panned right and OH R left, against their names and against HH, Ride and toms.",
        "plant": overheads_crossed,
    },
    {
        "id": "phone-stays",
        "class": "automation",
        "channels": ["Shout Lead"],
        "grade": "hold",
        "says": "Telefon on Shout Lead is never switched off: it runs from the stop through Hook 3 to the end.",
        "plant": phone_stays,
    },
    {
        "id": "floor-tom-sign",
        "class": "level",
        "channels": ["Standtom"],
        "grade": "hold",
        "says": "Standtom stands at +6.5 dB, Tom 1 and Tom 2 at -7 and -7.5: the sign is wrong.",
        "plant": floor_tom_sign,
    },
    {
        "id": "click-in-mix",
        "class": "audible-that-should-not-be",
        "channels": ["Klick"],
        "grade": "hold",
        "says": "Klick goes to MIX and sounds through the whole song.",
        "plant": click_in_mix,
    },
    {
        "id": "archive-sounds",
        "class": "twice",
        "channels": ["DI Git 1 L"],
        "grade": "hold",
        "says": "DI Git 1 L is open: the same performance as its reamp Git 1 L sounds twice on the left.",
        "plant": archive_sounds,
    },
    {
        "id": "hall-on-kick",
        "class": "ambience",
        "channels": ["Kick In", "Snare Top"],
        "grade": "look",
        "says": "Kick In feeds Snare Hall and Snare Top no longer does.",
        "plant": hall_on_kick,
    },
    {
        "id": "tom-to-guitars",
        "class": "routing",
        "channels": ["Tom 2"],
        "grade": "hold",
        "says": "Tom 2 goes to GIT BUS, all other drums to DRUM BUS.",
        "plant": tom_to_guitars,
    },
    {
        "id": "bottom-not-turned",
        "class": "phase",
        "channels": ["Snare Bot"],
        "grade": "look",
        "says": "The polarity switch of Snare Bot is bypassed although the comment says it is turned against the top.",
        "plant": bottom_not_turned,
    },
    {
        "id": "solo-forgotten",
        "class": "inaudible",
        "channels": ["Bass Zerre"],
        "grade": "hold",
        "says": "Bass Zerre is soloed; nothing else would be in the bounce.",
        "plant": solo_forgotten,
    },
    {
        "id": "gang-on-desktop",
        "class": "hand-over",
        "channels": ["Gang R"],
        "grade": "look",
        "says": "Gang_R_03.wav lies on a desktop outside the session folder and will be missing elsewhere.",
        "plant": gang_on_desktop,
    },
    {
        "id": "verse-hole",
        "class": "edits",
        "channels": ["Git 1 R"],
        "grade": "hold",
        "says": "Git 1 R stops two bars before Hook 2 while Git 1 L plays on.",
        "plant": verse_hole,
    },
]
