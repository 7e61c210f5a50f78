"""Tin Roof Weather, a pop-rock single in 4/4 at 124 with one short bar in front of the last chorus.

Cut live with drums and bass, the rest overdubbed over two weeks. Drums are a comp of takes 3 and 5 with the same cuts
on every mic, toms trimmed to the fills; kick and snare samples were printed from the edited tracks. Guitars come in
pairs, left and right played twice. Everything runs to a group, groups to MIX. The engineer crushes the drums and
squeezes the lead vocal on parallel buses, throws quarter delays by opening a send, rides the lead by section.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Strip = dict[str, Any]
Piece = tuple[str, float, float] | tuple[str, float, float, float]

BPM = 124.0
PUSH = 86  # the bar of two beats
RATE = 48000.0
END = 119.0

MARKERS: list[tuple[float, str]] = [
    (1, "Count"),
    (3, "Intro"),
    (11, "Verse 1"),
    (27, "Pre 1"),
    (31, "Chorus 1"),
    (47, "Verse 2"),
    (59, "Pre 2"),
    (63, "Chorus 2"),
    (79, "Bridge"),
    (86, "Push (2/4)"),
    (87, "Chorus 3 + gang"),
    (107, "Outro"),
    (115, "Last hit"),
    (END, "End"),
]

DRUM_MICS: dict[str, str] = {
    "kin": "KickIn",
    "kout": "KickOut",
    "snt": "SnTop",
    "snb": "SnBot",
    "hat": "Hat",
    "rack": "Rack",
    "floor": "Floor",
    "ohl": "OH_L",
    "ohr": "OH_R",
    "room": "Room",
}

# id: path, legs, bar at which the file begins, bar at which it ends
FILES: dict[str, tuple[str, int, float, float]] = {
    "ksmp": ("Audio/Drums/KickSmp_print2.wav", 1, 1, 120),
    "ssmp": ("Audio/Drums/SnSmp_print2.wav", 1, 1, 120),
    "bdi": ("Audio/Bass/BassDI_t3.wav", 1, 1, 120),
    "bamp": ("Audio/Bass/BassAmp_t3.wav", 1, 1, 120),
    "grl": ("Audio/Gtr/GtrRhyL_02.wav", 1, 2, 119),
    "grr": ("Audio/Gtr/GtrRhyR_03.wav", 1, 2, 118.5),
    "gdl": ("Audio/Gtr/GtrDblL_01.wav", 1, 29, 118.5),
    "gdr": ("Audio/Gtr/GtrDblR_01.wav", 1, 29, 119),
    "gal": ("Audio/Gtr/GtrArpL_04.wav", 1, 9, 88),
    "gar": ("Audio/Gtr/GtrArpR_02.wav", 1, 9, 88),
    "gld": ("Audio/Gtr/GtrLead_06.wav", 1, 2, 119),
    "ep": ("Audio/Keys/EP_stereo_01.wav", 2, 9, 89),
    "org": ("Audio/Keys/Organ_02.wav", 2, 29, 119),
    "lv2": ("Audio/Vox/LV_tk2.wav", 1, 9, 110),
    "lv4": ("Audio/Vox/LV_tk4.wav", 1, 9, 116),
    "lv7": ("Audio/Vox/LV_tk7.wav", 1, 25, 116),
    "lvd": ("Audio/Vox/LVdbl_tk2.wav", 1, 29, 108),
    "bhl": ("Audio/Vox/BVhiL_01.wav", 1, 29, 108),
    "bhr": ("Audio/Vox/BVhiR_01.wav", 1, 29, 108),
    "bll": ("Audio/Vox/BVloL_02.wav", 1, 29, 108),
    "blr": ("Audio/Vox/BVloR_01.wav", 1, 29, 108),
    "gang": ("Audio/Vox/Gang_st_comp.wav", 2, 81, 109),
    "guide": ("Audio/Vox/LV_guide_rehearsal.wav", 1, 9, 112),
} | {
    f"{mic}{take}": (f"Audio/Drums/{stem}_t{take}.wav", 2 if mic == "room" else 1, 1.0, 120.0)
    for mic, stem in DRUM_MICS.items()
    for take in (3, 5)
}

# the tom fills; from 47 to 79 the drums are take 5
FILLS: list[tuple[float, float]] = [
    (10.5, 11.25),
    (26.5, 27.25),
    (30.5, 31.25),
    (46.5, 47),
    (58.5, 59.25),
    (62.5, 63.25),
    (78, 79),
    (86, 87.25),
    (106.5, 107.25),
    (114, 117),
]


def at(place: float) -> float:
    """Seconds at a bar counted from 1; 10.75 is the fourth beat of bar 10."""
    whole = int(place)
    beats = (whole - 1) * 4 - (2 if whole > PUSH else 0) + (place - whole) * 4
    return round(beats * 60 / BPM, 6)


def lay(*pieces: Piece) -> list[Strip]:
    """Clips from pieces of files (file, from bar, to bar, clip gain); pieces that touch are crossfaded."""
    clips: list[Strip] = []
    for number, piece in enumerate(pieces, 1):
        file, start, end = piece[0], piece[1], piece[2]
        stem = FILES[file][0].rsplit("/", 1)[1].removesuffix(".wav")
        touches = bool(clips) and clips[-1]["end_s"] == at(start)
        if touches:
            clips[-1]["fade_out_s"] = 0.012
        clips.append(
            {
                "start_s": at(start),
                "end_s": at(end),
                "name": f"{stem}-{number:02d}",
                "plays": "audio",
                "file": file,
                "offset_s": round(at(start) - at(FILES[file][2]), 6),
                "speed": 1.0,
                "fade_in_s": -0.012 if touches else 0.008,
                "fade_out_s": 0.06,
                "gain_db": piece[3] if len(piece) == 4 else 0.0,
                "on": True,
            }
        )
    return clips


def part(file: str, *spans: tuple[float, float]) -> list[Strip]:
    """Stretches of one file where it was played."""
    return lay(*((file, start, end) for start, end in spans))


def kit(mic: str) -> list[Strip]:
    """A drum mic with the cuts of the comp."""
    return lay((f"{mic}3", 3, 47), (f"{mic}5", 47, 79), (f"{mic}3", 79, 117))


def toms(mic: str) -> list[Strip]:
    """A tom, trimmed to its fills."""
    return lay(*((f"{mic}{5 if 47 <= start < 79 else 3}", start, end) for start, end in FILLS))


def notes(name: str, *spans: tuple[float, float]) -> list[Strip]:
    """Note clips."""
    return [
        {"start_s": at(start), "end_s": at(end), "name": f"{name} {number}", "plays": "notes", "file": None}
        for number, (start, end) in enumerate(spans, 1)
    ]


def band(text: str) -> dict[str, Any]:
    """One band: 'hp 80 12', 'lp 9000 12', 'bell 320 -4 1.6', 'ls 90 2', 'hs 8000 1.5'."""
    kind, freq, *rest = text.split()
    if kind in ("hp", "lp"):
        long = "high-pass" if kind == "hp" else "low-pass"
        return {"kind": long, "freq_hz": float(freq), "slope_db_per_oct": float(rest[0]), "on": True}
    long = {"bell": "bell", "ls": "low-shelf", "hs": "high-shelf"}[kind]
    q = float(rest[1]) if len(rest) > 1 else 0.7
    return {"kind": long, "freq_hz": float(freq), "gain_db": float(rest[0]), "q": q, "on": True}


def eq(*bands: str) -> Strip:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": [*map(band, bands)]}}


def dyn(
    name: str, kind: str, threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0
) -> Strip:
    """A compressor or something near it."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": gain,
    }
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": dynamics}


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0) -> Strip:
    """A compressor."""
    return dyn("Comp", "compressor", threshold, ratio, attack, release, gain)


def gate(threshold: float, reach: float, attack: float, release: float) -> Strip:
    """A gate."""
    dynamics = {"threshold_db": threshold, "range_db": reach, "attack_ms": attack, "release_ms": release}
    return {"name": "Gate", "kind": "gate", "on": True, "opaque": False, "dynamics": dynamics}


def box(name: str, kind: str, **settings: float | bool | str) -> Strip:
    """Any other processor with its listed settings."""
    listed = [{"id": key, "name": key.replace("_", " "), "value": value} for key, value in settings.items()]
    return {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": listed}


def wet(name: str, kind: str, pre_delay: float | None = None, **settings: float | bool | str) -> Strip:
    """A reverb or a delay on a return, wholly wet."""
    insert = box(name, kind, **settings) | {"wet": 100.0}
    return insert if pre_delay is None else insert | {"pre_delay_ms": pre_delay}


def ride(target: str, shape: str, *points: tuple[float, float]) -> Strip:
    """Automation in decibels, by bars."""
    times = [at(place) for place, _ in points]
    return {"target": target, "scale": "dB", "shape": shape, "t": times, "v": [value for _, value in points]}


def strip(
    ident: str,
    name: str,
    fader: float,
    pan: float,
    output: str,
    clips: list[Strip] | None = None,
    *inserts: Strip,
    kind: str = "track",
    legs: int = 1,
    sends: dict[str, float] | None = None,
    auto: list[Strip] | None = None,
    comment: str = "",
    mute: bool = False,
) -> Strip:
    """One strip of the desk; it nests under the group it plays into."""
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "parent": None if output == "mix" else output,
        "plays": [] if kind != "track" else ["notes" if clips and clips[0]["plays"] == "notes" else "audio"],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": mute,
        "solo": False,
        "output": output,
        "sends": [{"to": to, "level_db": level, "tap": "post", "on": True} for to, level in (sends or {}).items()],
        "inserts": [{"id": f"{ident}.{slot}", **insert} for slot, insert in enumerate(inserts)],
        "clips": clips or [],
        "automation": auto or [],
        "comment": comment,
    }


def group(ident: str, name: str, fader: float, output: str, *inserts: Strip, **more: Any) -> Strip:
    """A stereo group."""
    return strip(ident, name, fader, 0.0, output, None, *inserts, kind="group", legs=2, **more)


def back(ident: str, name: str, fader: float, output: str, *inserts: Strip, **more: Any) -> Strip:
    """A stereo return."""
    return strip(ident, name, fader, 0.0, output, None, *inserts, kind="return", legs=2, **more)


def drums() -> list[Strip]:
    """The kit, its samples and its buses."""
    overhead = ("hp 190 12", "bell 420 -2 1.1", "hs 11000 1.5")
    return [
        strip("kin", "Kick In", -8.0, 0.0, "drums", kit("kin"), gate(-34, -16, 0.5, 140),
              eq("hp 32 12", "bell 340 -5 1.6", "bell 3800 3.5 1.2"), comp(-17, 4, 24, 90, 2.0), sends={"crush": -7.0}),
        strip("kout", "Kick Out", -12.5, 0.0, "drums", kit("kout"), eq("ls 62 2", "bell 280 -3 1.2", "lp 6500 12"),
              comment="aligned to In by hand, leave it locked"),
        strip("ksmp", "Kick Smp", -15.0, 0.0, "drums", part("ksmp", (3, 117)), eq("hp 40 12"),
              comment="print 2"),
        strip("snt", "Sn Top", -7.5, 0.0, "drums", kit("snt"), eq("hp 85 18", "bell 210 2.5 1.3", "hs 7200 2"),
              comp(-19, 4, 14, 120, 2.5), sends={"crush": -5.0, "drmrm": -14.0}),
        strip("snb", "Sn Bot", -15.5, 0.0, "drums", kit("snb"),
              box("Polarity", "utility", invert=True), eq("hp 260 12"), comment="flipped against top"),
        strip("ssmp", "Sn Smp", -14.0, 0.0, "drums", part("ssmp", (3, 117)), eq("hp 120 12"), sends={"drmrm": -12.0}),
        strip("hat", "Hat", -19.0, -38.0, "drums", kit("hat"), eq("hp 420 12")),
        strip("rack", "Rack", -10.0, -28.0, "drums", toms("rack"), eq("hp 75 12", "bell 450 -5 1.5", "hs 5000 2"),
              sends={"crush": -9.0, "drmrm": -13.0}),
        strip("floor", "Floor", -10.5, 42.0, "drums", toms("floor"), eq("hp 48 12", "bell 380 -5 1.4", "hs 4500 2"),
              sends={"crush": -9.0, "drmrm": -13.0}),
        strip("ohl", "OH L", -11.0, -100.0, "drums", kit("ohl"), eq(*overhead), sends={"crush": -12.0}),
        strip("ohr", "OH R", -11.0, 100.0, "drums", kit("ohr"), eq(*overhead), sends={"crush": -12.0}),
        strip("room", "Room", -14.5, 0.0, "drums", kit("room"), eq("hp 55 12", "bell 600 -2 0.9"),
              comp(-26, 6, 6, 130, 3.0), legs=2),
        group("drums", "DRUMS", -2.0, "mix", eq("ls 70 1", "hs 9000 1"), comp(-14, 2, 30, 110, 1.5)),
        back("crush", "DRM CRUSH", -11.5, "drums", comp(-36, 20, 0.8, 70, 6.0), eq("hp 60 12", "hs 8500 -2"),
             comment="hit hard, tuck under"),
    ]  # fmt: skip


def bass_and_guitars() -> list[Strip]:
    """The bass and the guitar pairs."""
    rhythm = ((3, 11), (27, 47), (59, 79), (87, 117))
    double = ((31, 47), (63, 79), (87, 117))
    arpeggio = ((11, 27), (47, 59), (79, 87))
    wall = eq("hp 95 12", "bell 2600 -1.5 1.0"), eq("hp 95 12", "bell 2600 -1.5 1.0")
    return [
        strip("bdi", "Bass DI", -13.0, 0.0, "bass", part("bdi", (3, 79), (83, 117)), eq("hp 30 12", "lp 1800 12"),
              comp(-22, 4, 18, 160, 3.0)),
        strip("bamp", "Bass Amp", -9.5, 0.0, "bass", part("bamp", (3, 79), (83, 117)),
              eq("hp 45 12", "bell 180 -2 1.2", "bell 900 2 0.9"), comment="reamped, lines up with the DI"),
        group("bass", "BASS", -1.5, "mix", comp(-18, 3, 25, 180, 1.5), eq("bell 240 -1.5 1")),
        strip("grl", "Gtr Rhy L", -12.0, -85.0, "gtrs", part("grl", *rhythm), wall[0]),
        strip("grr", "Gtr Rhy R", -12.5, 85.0, "gtrs", part("grr", *rhythm), wall[1]),
        strip("gdl", "Gtr Dbl L", -15.0, -100.0, "gtrs", part("gdl", *double), eq("hp 130 12", "hs 6000 -2")),
        strip("gdr", "Gtr Dbl R", -15.0, 100.0, "gtrs", part("gdr", *double), eq("hp 130 12", "hs 6000 -2")),
        strip("gal", "Gtr Arp L", -14.0, -45.0, "gtrs", part("gal", *arpeggio), eq("hp 150 12", "hs 7000 1.5"),
              comp(-20, 3, 15, 140, 2.0), sends={"plate": -15.0}),
        strip("gar", "Gtr Arp R", -14.5, 45.0, "gtrs", part("gar", *arpeggio), eq("hp 150 12", "hs 7000 1.5"),
              comp(-20, 3, 15, 140, 2.0), sends={"plate": -15.0}),
        strip("gld", "Gtr Lead", -11.0, 12.0, "gtrs", part("gld", (3, 11), (99, 117)),
              eq("hp 160 12", "bell 1800 1.5 1"), comp(-18, 3, 20, 150, 1.5), sends={"plate": -17.0, "slap": -14.0}),
        group("gtrs", "GTRS", -3.0, "mix", eq("bell 3200 -1 0.8"), comp(-15, 1.5, 30, 200, 0.5),
              auto=[ride("fader", "hold", (1, -3.0), (31, -2.0), (47, -3.0), (63, -2.0), (79, -3.0), (87, -1.5))]),
    ]  # fmt: skip


def keys() -> list[Strip]:
    """The keys."""
    synth = {"name": "Poly synth", "kind": "instrument", "on": True, "opaque": True}
    return [
        strip("ep", "E Pno", -13.0, 0.0, "keys", part("ep", (11, 31), (47, 63), (79, 87)),
              eq("hp 110 12", "bell 300 -2 1"),
              box("Trem", "modulation", rate_hz=4.13, depth_pct=22.0), legs=2, sends={"plate": -20.0}),
        strip("org", "Organ", -17.0, 0.0, "keys", part("org", (31, 47), (63, 79), (87, 117)), eq("hp 140 12"), legs=2),
        strip("pad", "Pad", -20.0, 0.0, "keys", notes("pad", (27, 47), (59, 79), (79, 87), (87, 107)), synth,
              eq("hp 200 12"), legs=2, sends={"plate": -12.0}),
        group("keys", "KEYS", -2.5, "mix", comp(-18, 2, 30, 200, 0.5)),
    ]  # fmt: skip


def lead_rides() -> list[Strip]:
    """The lead's section rides and its delay throws."""
    throws = ((26.5, 27.0), (46.0, 46.5), (58.5, 59.0), (78.0, 78.5), (85.5, 86.25))
    points = [(1.0, -200.0)] + [point for start, end in throws for point in ((start, -5.0), (end, -200.0))]
    levels = (
        (1, -6.0),
        (27, -5.5),
        (31, -4.5),
        (46.75, -6.0),
        (59, -5.5),
        (63, -4.2),
        (79, -6.5),
        (87, -3.8),
        (109, -7.0),
    )
    return [ride("fader", "hold", *levels), ride("send:3:level", "hold", *points)]


def vocals() -> list[Strip]:
    """The lead, its double, the stacks and the gang."""
    chorus = ((31, 46.5), (63, 78.5), (87, 106.75))
    high = ((31, 46.5), (59, 62.75), (63, 78.5), (87, 106.75))
    lead = lay(
        ("lv4", 10.75, 19, 0.5), ("lv2", 19, 27, 1.0), ("lv4", 27, 31), ("lv7", 31, 46.5, -1.0),
        ("lv2", 46.75, 59, 1.0), ("lv4", 59, 63), ("lv7", 63, 78.5, -1.0),
        ("lv7", 79, 86.25, 1.5), ("lv7", 87, 97, -1.0), ("lv4", 97, 106.75), ("lv7", 109, 113),
    )  # fmt: skip
    stack = ("hp 170 12", "bell 400 -2 1", "hs 9000 2")
    squeeze = -24.0, 4.0, 6.0, 110.0, 3.0
    return [
        strip("lv", "LV", -6.0, 0.0, "vox", lead, eq("hp 100 18", "bell 260 -2.5 1.3"), comp(-20, 3, 12, 90, 2.0),
              dyn("De-ess", "de-esser", -28, 4, 1, 60), eq("bell 3400 1.5 0.9", "hs 10500 2.5"), auto=lead_rides(),
              sends={"lvpar": -3.0, "plate": -16.0, "slap": -18.0, "throw": -200.0}, comment="comp of tk 2, 4, 7"),
        strip("lvd", "LV Dbl", -15.0, 0.0, "vox", part("lvd", *chorus), eq("hp 130 18", "hs 9000 1"), comp(*squeeze),
              dyn("De-ess", "de-esser", -30, 5, 1, 60), sends={"plate": -16.0}),
        strip("bhl", "BV Hi L", -14.0, -70.0, "bvs", part("bhl", *high), eq(*stack), comp(*squeeze)),
        strip("bhr", "BV Hi R", -14.0, 70.0, "bvs", part("bhr", *high), eq(*stack), comp(*squeeze)),
        strip("bll", "BV Lo L", -13.5, -50.0, "bvs", part("bll", *chorus), eq(*stack), comp(*squeeze)),
        strip("blr", "BV Lo R", -13.0, 50.0, "bvs", part("blr", *chorus), eq(*stack), comp(*squeeze)),
        strip("gang", "Gang", -15.0, 0.0, "bvs", part("gang", (83, 87), (87, 95), (95, 106.75)), eq("hp 220 12"),
              comp(-22, 4, 4, 100, 2.0), legs=2, sends={"drmrm": -10.0}, comment="end of bridge + all of last chorus"),
        group("bvs", "BVS", -2.0, "vox", eq("bell 2800 -1 0.8"), dyn("De-ess", "de-esser", -30, 4, 1, 60),
              sends={"plate": -13.0}),
        back("lvpar", "LV PAR", -14.0, "vox", comp(-34, 8, 2, 80, 5.0), eq("hp 140 12"), comment="parallel, lead only"),
        group("vox", "VOX", -1.0, "mix", comp(-16, 1.5, 25, 160, 0.5), eq("hs 12000 0.8")),
        strip("guide", "LV guide OLD", -8.0, 0.0, "vox", part("guide", (10.75, 107)), mute=True,
              comment="rehearsal guide, other words in v2. Keep muted"),
    ]  # fmt: skip


def ends() -> list[Strip]:
    """The returns and the mix bus."""
    quarter = round(60000 / BPM, 2)
    cut = eq("hp 300 12", "lp 8500 12")
    limiter = box("Limiter", "limiter", ceiling_db=-1.0) | {"dynamics": {"threshold_db": -3.5, "release_ms": 80.0}}
    mix = group("mix", "MIX", 0.0, "mix", comp(-13, 2, 30, 150, 1.0), eq("hp 22 12", "hs 12000 0.8"), limiter)
    mix |= {"kind": "master", "parent": None}
    del mix["output"]
    return [
        back("plate", "Plate", -6.0, "mix", eq("hp 280 12", "lp 9500 12"), wet("Plate", "reverb", 38.0, decay_s=1.9)),
        back("drmrm", "Room Vb", -7.0, "mix", wet("Room", "reverb", 4.0, decay_s=0.7), eq("hp 150 12")),
        back("slap", "Slap", -8.0, "mix", wet("Delay", "delay", time_ms=108.0, feedback_pct=0.0),
              eq("hp 250 12", "lp 6000 12")),
        back("throw", "Throw 1/4", -7.0, "mix", wet("Delay", "delay", time_ms=quarter, feedback_pct=34.0), cut,
             sends={"plate": -15.0}),
        mix,
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Tin Roof Weather",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": 340.0, "beats": 2, "unit": 4},
                {"beat": 342.0, "beats": 4, "unit": 4},
            ],
        },
        "markers": [{"time_s": at(place), "name": name} for place, name in MARKERS],
        "channels": [*drums(), *bass_and_guitars(), *keys(), *vocals(), *ends()],
        "media": [
            {
                "id": ident,
                "path": path,
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": RATE,
                "duration_s": round(at(end) - at(start), 3),
            }
            for ident, (path, legs, start, end) in FILES.items()
        ],
        "metadata": {"version": "mix 6", "status": "for approval"},
    }


def channel(session: Session, name: str) -> Strip:
    """The channel of a name."""
    found: Strip = next(c for c in session["channels"] if c["name"] == name)
    return found


def kick_out_slipped(session: Session) -> None:
    """The middle piece of the outer kick mic is slipped inside its clip."""
    clip = channel(session, "Kick Out")["clips"][1]
    clip["offset_s"] = round(clip["offset_s"] + 0.017, 6)


def double_past_group(session: Session) -> None:
    """One guitar of the doubled pair plays past its group."""
    channel(session, "Gtr Dbl R")["output"] = "mix"


def same_stack_twice(session: Session) -> None:
    """The last chorus of the right stack was pasted from the left."""
    pasted = channel(session, "BV Hi R")["clips"][-1]
    origin = channel(session, "BV Hi L")["clips"][-1]
    pasted |= {"file": origin["file"], "name": origin["name"], "offset_s": origin["offset_s"]}


def throw_left_open(session: Session) -> None:
    """The point that closes the last throw has gone."""
    lane = channel(session, "LV")["automation"][1]
    lane["t"].pop()
    lane["v"].pop()


def guide_sounds(session: Session) -> None:
    """The old guide is not muted."""
    channel(session, "LV guide OLD")["mute"] = False


def room_ends_early(session: Session) -> None:
    """The room is trimmed at the last hit, the other mics ring on."""
    channel(session, "Room")["clips"][-1]["end_s"] = at(115.25)


def short_bar_lost(session: Session) -> None:
    """The short bar has gone from the metre map."""
    del session["timeline"]["meters"][1:]


def lead_high_pass(session: Session) -> None:
    """The lead's high-pass has one nought too many."""
    channel(session, "LV")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 1000.0


def sample_rate_of_print(session: Session) -> None:
    """The snare print was made at another rate."""
    file = next(m for m in session["media"] if m["id"] == "ssmp")
    file["sample_rate_hz"] = 44100.0


def arp_on_one_side(session: Session) -> None:
    """Both arpeggio guitars stand on the right."""
    channel(session, "Gtr Arp L")["pan"] = 45.0


def gang_clip_off(session: Session) -> None:
    """The gang's last clip is muted."""
    channel(session, "Gang")["clips"][-1]["on"] = False


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["LV guide OLD"], "why": "an old guide kept muted in the session, as its comment says"},
    {"channels": ["Sn Bot"], "why": "polarity reversed against the top mic on purpose"},
    {"channels": ["DRM CRUSH", "LV PAR"], "why": "parallel buses, compressed far harder than anything else"},
    {"channels": ["Sn Smp", "Kick Smp"], "why": "printed samples that double the mics on purpose"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "kick-out-slipped",
        "class": "phase",
        "channels": ["Kick Out"],
        "grade": "look",
        "says": "Kick Out's take 5 clip is slipped 17 ms inside its clip while every other drum mic plays in step.",
        "plant": kick_out_slipped,
    },
    {
        "id": "double-past-group",
        "class": "routing",
        "channels": ["Gtr Dbl R"],
        "grade": "look",
        "says": "Gtr Dbl R goes straight to MIX while its partner and all other guitars go through GTRS.",
        "plant": double_past_group,
    },
    {
        "id": "same-stack-twice",
        "class": "twice",
        "channels": ["BV Hi R", "BV Hi L"],
        "grade": "look",
        "says": "In chorus 3 BV Hi R plays the same recording as BV Hi L, so the pair collapses to the middle.",
        "plant": same_stack_twice,
    },
    {
        "id": "throw-left-open",
        "class": "automation",
        "channels": ["LV"],
        "grade": "look",
        "says": "LV's last throw in the bridge is never closed; the send to Throw 1/4 stays open to the end.",
        "plant": throw_left_open,
    },
    {
        "id": "guide-sounds",
        "class": "audible-that-should-not-be",
        "channels": ["LV guide OLD"],
        "grade": "hold",
        "says": "The old guide vocal is unmuted and plays along with the lead although its comment says keep muted.",
        "plant": guide_sounds,
    },
    {
        "id": "room-ends-early",
        "class": "end",
        "channels": ["Room"],
        "grade": "look",
        "says": "Room is cut just after the last hit while all other drum mics ring on for almost two bars.",
        "plant": room_ends_early,
    },
    {
        "id": "short-bar-lost",
        "class": "tempo",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The 2/4 bar at the push is missing from the metre map; from there on all lies half a bar off.",
        "plant": short_bar_lost,
    },
    {
        "id": "lead-high-pass",
        "class": "processors",
        "channels": ["LV"],
        "grade": "look",
        "says": "LV's high-pass stands at 1000 Hz, the double and the stacks have theirs between 130 and 170 Hz.",
        "plant": lead_high_pass,
    },
    {
        "id": "sample-rate-of-print",
        "class": "files",
        "channels": ["Sn Smp"],
        "grade": "look",
        "says": "Sn Smp's file is at 44.1 kHz in a session where everything else is at 48 kHz.",
        "plant": sample_rate_of_print,
    },
    {
        "id": "arp-on-one-side",
        "class": "place",
        "channels": ["Gtr Arp L"],
        "grade": "look",
        "says": "Gtr Arp L is panned right at the same place as Gtr Arp R; the left side of the pair is empty.",
        "plant": arp_on_one_side,
    },
    {
        "id": "gang-clip-off",
        "class": "inaudible",
        "channels": ["Gang"],
        "grade": "look",
        "says": "Gang's clip for the second part of chorus 3 is muted, its comment wants all of the chorus.",
        "plant": gang_clip_off,
    },
]
