"""Kurzschluss am Kai, a vocal club track at 126, made in a bedroom by a German producer with a singer's topline.

Drums, bass and synths are instruments played by notes; the percussion loop came at 124 and is stretched, effects are
one-shots from a folder, the vocal chops a print of eight bars laid again and again. The topline was delivered as whole
files from bar 1, comped by the singer. Everything that hums is ducked by a silent trigger track; in both builds the
whole synth group goes through a rising high-pass that drops open on the one. English and German names mixed, as usual.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Strip = dict[str, Any]

BPM = 126.0
LOOP_BPM = 124.0
RATE = 48000.0

MARKERS: list[tuple[float, str]] = [
    (1, "Intro"),
    (17, "Strophe 1"),
    (33, "Build 1"),
    (41, "Drop 1"),
    (57, "Strophe 2"),
    (73, "Build 2"),
    (81, "Drop 2"),
    (105, "Outro"),
    (121, "Ausklang"),
    (123, "Ende"),
]

# id: path, legs, seconds
FILES: dict[str, tuple[str, int, float]] = {
    "perc": ("Samples/perc_loop_124bpm_4T.wav", 2, 7.742),
    "crash": ("Samples/crash_hell_02.wav", 2, 3.41),
    "chop": ("Bounces/chops_print_v3.wav", 2, 15.5),
    "rise": ("Samples/riser_lang_8T.wav", 2, 15.6),
    "imp": ("Samples/impact_tief.wav", 2, 5.62),
    "tl": ("Vocals/Topline_comp_v3.wav", 1, 210.0),
    "tdl": ("Vocals/Topline_dbl_L_v3.wav", 1, 210.0),
    "tdr": ("Vocals/Topline_dbl_R_v3.wav", 1, 210.0),
    "th": ("Vocals/Topline_harm_v3.wav", 1, 210.0),
}


def at(bar: float) -> float:
    """Seconds at a bar counted from 1; 16.75 is the fourth beat of bar 16."""
    return round((bar - 1) * 240 / BPM, 6)


def midi(name: str, *spans: tuple[float, float]) -> list[Strip]:
    """Note clips."""
    return [
        {"start_s": at(start), "end_s": at(end), "name": f"{name} T{int(start)}", "plays": "notes", "file": None}
        for start, end in spans
    ]


def wave(
    file: str, start: float, end: float, offset: float = 0.0, gain: float = 0.0, fades: tuple[float, float] = (0.0, 0.0)
) -> Strip:
    """A clip of audio."""
    return {
        "start_s": at(start),
        "end_s": at(end),
        "name": FILES[file][0].rsplit("/", 1)[1].removesuffix(".wav"),
        "plays": "audio",
        "file": file,
        "offset_s": offset,
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": gain,
        "on": True,
    }


def sung(file: str, *spans: tuple[float, float, float]) -> list[Strip]:
    """Parts of a vocal file that begins at bar 1 (from bar, to bar, clip gain)."""
    return [wave(file, start, end, at(start), gain, (0.01, 0.05)) for start, end, gain in spans]


def loops() -> list[Strip]:
    """The percussion loop, four bars a clip, stretched from 124."""
    starts = [*range(9, 33, 4), *range(41, 57, 4), *range(65, 73, 4), *range(81, 113, 4)]
    return [wave("perc", bar, bar + 4) | {"speed": round(BPM / LOOP_BPM, 6)} for bar in starts]


def shots(file: str, bars: float, *starts: float) -> list[Strip]:
    """One-shots of so many bars."""
    return [wave(file, start, start + bars, fades=(0.0, 0.4)) for start in starts]


def plug(name: str, kind: str, **settings: Any) -> Strip:
    """A processor whose settings are listed."""
    listed = [{"id": key, "name": key, "value": value} for key, value in settings.items()]
    return {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": listed}


def synth(name: str) -> Strip:
    """An instrument, closed to the export."""
    return {"name": name, "kind": "instrument", "on": True, "opaque": True}


def eq(low_cut: float, *shapes: tuple[str, float, float]) -> Strip:
    """An equalizer: a low cut and some bells or shelves (kind, frequency, gain)."""
    bands: list[dict[str, Any]] = [{"kind": "high-pass", "freq_hz": low_cut, "slope_db_per_oct": 12.0, "on": True}]
    bands += [{"kind": kind, "freq_hz": freq, "gain_db": gain, "q": 0.9, "on": True} for kind, freq, gain in shapes]
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": bands}}


def comp(
    threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0, name: str = "Comp"
) -> Strip:
    """A compressor."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": makeup,
    }
    return {"name": name, "kind": "compressor", "on": True, "opaque": False, "dynamics": dynamics}


def duck(threshold: float, release: float) -> Strip:
    """The ducker, keyed by the trigger track."""
    key = [{"id": "key", "name": "Key-Eingang", "value": "SC Trigger"}]
    return comp(threshold, 8.0, 0.5, release, name="Duck") | {"parameters": key}


def strip(
    ident: str,
    name: str,
    fader: float,
    output: str | None,
    *inserts: Strip,
    clips: list[Strip] | None = None,
    pan: float = 0.0,
    legs: int = 2,
    kind: str = "track",
    **more: Any,
) -> Strip:
    """One strip of the desk."""
    plays = sorted({clip["plays"] for clip in clips or []})
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "plays": plays,
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "inserts": list(inserts),
        "clips": clips or [],
    } | more


def to(**levels: float) -> list[dict[str, Any]]:
    """Sends behind the fader."""
    return [{"to": target, "level_db": level, "tap": "post", "on": True} for target, level in levels.items()]


def drums() -> list[Strip]:
    """The drums and their group."""
    folder = ["DRUMS"]
    kick = midi("Kick", (1, 17), (25, 39), (41, 57), (65, 79), (81, 105), (105, 121))
    clap = midi("Clap", (9, 17), (25, 41), (41, 57), (65, 81), (81, 105), (105, 113))
    closed = midi("HH", (9, 17), (17, 33), (41, 57), (65, 73), (81, 105), (105, 117))
    return [
        strip("kick", "Kick", -6.0, "drums", synth("Drum-Sampler"), eq(28, ("bell", 250, -3.0)),
              clips=kick, folder=folder),
        strip("ktop", "Kick Top", -14.0, "drums", synth("Drum-Sampler"), eq(900), folder=folder,
              clips=midi("Kick Top", (41, 57), (81, 105)), comment="nur Klick in den Drops"),
        strip("clap", "Clap", -10.0, "drums", synth("Drum-Sampler"), eq(180, ("high-shelf", 8000, 1.5)), clips=clap,
              folder=folder, sends=to(hall=-18.0)),
        strip("hhc", "HH zu", -17.0, "drums", synth("Drum-Sampler"), eq(500), clips=closed, folder=folder, pan=-12.0),
        strip("hho", "HH auf", -15.5, "drums", synth("Drum-Sampler"), eq(450), folder=folder, pan=8.0,
              clips=midi("HH auf", (41, 57), (81, 105), (105, 113))),
        strip("perc", "Perc Loop", -16.0, "drums", eq(220, ("bell", 3000, -1.5)), clips=loops(), folder=folder,
              comment="Loop kam in 124, gestretcht"),
        strip("crash", "Crash", -15.0, "drums", eq(350), clips=shots("crash", 1.5, 41, 49, 57, 81, 89, 97, 105),
              folder=folder, sends=to(hall=-20.0)),
        strip("drums", "DRUMS", -1.5, "master", comp(-14, 2, 20, 90, 1.0), kind="group", folder=folder),
        strip("sc", "SC Trigger", 0.0, None, synth("Drum-Sampler"), clips=midi("SC", (1, 121)), legs=1, folder=folder,
              comment="nur Key für die Ducker, darf nicht zu hören sein"),
    ]  # fmt: skip


def bass() -> list[Strip]:
    """Sub and bass."""
    folder = ["BASS"]
    return [
        strip("sub", "Sub", -9.0, "bass", synth("Sub-Synth"), {**eq(24), "name": "Low Cut"}, duck(-32, 140), legs=1,
              clips=midi("Sub", (25, 33), (41, 57), (81, 105), (105, 113)), folder=folder, comment="mono"),
        strip("bmid", "Bass Mid", -10.5, "bass", synth("FM-Synth"), eq(95, ("bell", 700, 1.5)),
              plug("Sat", "distortion", drive_db=4.0), duck(-30, 130), folder=folder,
              clips=midi("Bass", (17, 33), (41, 57), (65, 73), (81, 105), (105, 113))),
        strip("bass", "BASS", -1.0, "master", comp(-16, 2, 25, 120, 1.0), kind="group", folder=folder),
    ]  # fmt: skip


def synths() -> list[Strip]:
    """Chords, arpeggio, lead, chops and their group with the build filter."""
    folder = ["SYNTHS"]
    sweep = [(1, 30), (33, 30), (40.75, 620), (41, 30), (73, 30), (80.75, 620), (81, 30)]
    build = {
        "target": "insert:0:band:1:freq",
        "scale": "plain",
        "shape": "linear",
        "t": [at(bar) for bar, _ in sweep],
        "v": [float(freq) for _, freq in sweep],
    }
    chops = [wave("chop", bar, bar + 8, fades=(0.005, 0.02)) for bar in (41, 49, 81, 89, 97)]
    return [
        strip("stab", "Stab", -12.0, "synths", synth("Wavetable"), eq(160, ("bell", 400, -2.0)), duck(-28, 150),
              clips=midi("Stab", (41, 57), (81, 105)), folder=folder, sends=to(hall=-17.0)),
        strip("pad", "Pad", -16.0, "synths", synth("Wavetable"), eq(200), plug("Chorus", "modulation", rate_hz=0.4),
              duck(-34, 220), clips=midi("Pad", (1, 33), (33, 41), (57, 73), (73, 81), (105, 121)), folder=folder,
              sends=to(hall=-11.0)),
        strip("arp", "Arp", -17.5, "synths", synth("Pluck-Synth"), eq(260),
              clips=midi("Arp", (17, 41), (57, 81), (105, 121)), folder=folder, pan=10.0,
              sends=to(dly=-14.0, hall=-19.0)),
        strip("lead", "Lead", -11.0, "synths", synth("Wavetable"), eq(240, ("bell", 2800, -1.5)), folder=folder,
              clips=midi("Lead", (41, 57), (81, 105)), sends=to(dly=-17.0, hall=-15.0)),
        strip("chop", "Chops", -13.0, "synths", eq(230, ("high-shelf", 7500, 1.5)), clips=chops, folder=folder,
              sends=to(dly=-16.0)),
        strip("synths", "SYNTHS", -2.0, "master", {**eq(30), "name": "Filter"}, comp(-16, 1.5, 30, 150, 0.5),
              kind="group", folder=folder, automation=[build], comment="Filter: Build auf, auf der Eins wieder offen"),
    ]  # fmt: skip


def effects() -> list[Strip]:
    """Riser and impact."""
    folder = ["FX"]
    risers = [wave("rise", bar, bar + 8, fades=(1.5, 0.02)) for bar in (33, 73)]
    return [
        strip("rise", "Riser", -17.0, "fx", eq(300), clips=risers, folder=folder, sends=to(hall=-16.0)),
        strip("imp", "Impact", -13.0, "fx", eq(30), clips=shots("imp", 2.5, 41, 81, 105), folder=folder),
        strip("fx", "FX", -2.0, "master", kind="group", folder=folder),
    ]  # fmt: skip


def vocals() -> list[Strip]:
    """The topline, its doubles and the harmony."""
    folder = ["VOX"]
    hook = ((33, 40.75, 0.0), (41, 57, 0.0), (73, 80.75, 0.0), (81, 105, 0.0))
    lead = sung(
        "tl", (16.75, 33, 1.5), (33, 40.75, 0.5), (41, 57, 0.0), (57, 73, 1.5), (73, 80.75, 0.5), (81, 105, 0.0)
    )
    levels = [(1, -7.0), (33, -6.5), (41, -5.5), (57, -7.0), (73, -6.5), (81, -5.5)]
    ride = {
        "target": "fader",
        "scale": "dB",
        "shape": "hold",
        "t": [at(bar) for bar, _ in levels],
        "v": [level for _, level in levels],
    }
    ess = plug("De-Esser", "de-esser", freq_hz=6800.0, range_db=-6.0)
    dry = eq(150, ("bell", 350, -2.0)), comp(-26, 4, 5, 90, 3.0)
    return [
        strip("tl", "Topline", -7.0, "vox", eq(110, ("bell", 300, -2.5)), comp(-22, 4, 8, 80, 3.0), ess,
              {**eq(80, ("high-shelf", 11000, 2.5)), "name": "EQ Air"}, clips=lead, legs=1, folder=folder,
              sends=to(hall=-14.0, dly=-18.0), automation=[ride], comment="Comp v3 von der Sängerin"),
        strip("tdl", "TL Dopp L", -15.0, "vox", *dry, ess, clips=sung("tdl", *hook), legs=1, folder=folder, pan=-60.0,
              sends=to(hall=-16.0)),
        strip("tdr", "TL Dopp R", -15.0, "vox", *dry, ess, clips=sung("tdr", *hook), legs=1, folder=folder, pan=60.0,
              sends=to(hall=-16.0)),
        strip("th", "TL Harm", -14.0, "vox", eq(170), comp(-26, 4, 5, 90, 3.0), ess, legs=1, folder=folder,
              clips=sung("th", (41, 57, 0.0), (81, 105, 0.0)), sends=to(hall=-13.0)),
        strip("vox", "VOX", -1.0, "master", comp(-15, 1.5, 20, 120, 0.5), kind="group", folder=folder),
    ]  # fmt: skip


def ends() -> list[Strip]:
    """The returns and the master."""
    dotted = round(60000 / BPM * 0.75, 2)
    hall = plug("Hall", "reverb", decay_s=2.3) | {"wet": 100.0, "pre_delay_ms": 28.0}
    delay = plug("Delay", "delay", time_ms=dotted, feedback_pct=38.0, pingpong=True) | {"wet": 100.0}
    limiter = plug("Limiter", "limiter", ceiling_db=-1.0) | {"dynamics": {"threshold_db": -4.0, "release_ms": 60.0}}
    master = strip("master", "Master", 0.0, None, eq(20, ("low-shelf", 60, 0.5), ("high-shelf", 10000, 1.0)),
                   comp(-12, 2, 30, 100, 1.5, "Glue"), limiter, kind="master")  # fmt: skip
    del master["output"]
    return [
        strip("hall", "Hall", -5.0, "master", hall, eq(250, ("high-shelf", 9000, -2.0)), kind="return"),
        strip("dly", "Dly 1/8.", -6.0, "master", delay, eq(320, ("high-shelf", 6500, -3.0)), kind="return",
              sends=to(hall=-14.0), comment="punktierte Achtel, Zeit in ms von Hand"),
        master,
    ]  # fmt: skip


def good() -> Session:
    """The session as it should be bounced."""
    channels = [*drums(), *bass(), *synths(), *effects(), *vocals(), *ends()]
    for number, one in enumerate(channels, 1):
        one["where"] = f"mixer/{number:02d}"
    return {
        "format": "mixlint-session/1",
        "title": "Kurzschluss am Kai",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM, "ramp": False}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in MARKERS],
        "channels": channels,
        "media": [
            {
                "id": ident,
                "path": path,
                "place": "inside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": RATE,
                "duration_s": seconds,
            }
            for ident, (path, legs, seconds) in FILES.items()
        ],
        "metadata": {"tempo": "126", "tonart": "f-moll", "stand": "Mix 4"},
    }


def channel(session: Session, name: str) -> Strip:
    """The channel of a name."""
    found: Strip = next(c for c in session["channels"] if c["name"] == name)
    return found


def tempo_nudged(session: Session) -> None:
    """The tempo was turned to 128; notes, markers, automation and the loop follow, recorded audio does not."""
    session["timeline"]["tempos"][0]["bpm"] = 128.0

    def moved(seconds: float) -> float:
        """The place after the change."""
        return round(seconds * BPM / 128.0, 6)

    for marker in session["markers"]:
        marker["time_s"] = moved(marker["time_s"])
    for one in session["channels"]:
        for lane in one.get("automation", []):
            lane["t"] = [moved(seconds) for seconds in lane["t"]]
        for clip in one["clips"]:
            if clip["plays"] == "notes" or clip["file"] == "perc":
                clip |= {"start_s": moved(clip["start_s"]), "end_s": moved(clip["end_s"])}
            if clip["file"] == "perc":
                clip["speed"] = round(128.0 / LOOP_BPM, 6)


def filter_stays_shut(session: Session) -> None:
    """The point that opens the filter at the second drop has gone."""
    lane = channel(session, "SYNTHS")["automation"][0]
    lane["t"].pop()
    lane["v"].pop()


def trigger_sounds(session: Session) -> None:
    """The trigger got an output."""
    channel(session, "SC Trigger")["output"] = "drums"


def hook_clip_down(session: Session) -> None:
    """The topline's clip in the second drop was pulled down."""
    channel(session, "Topline")["clips"][-1]["gain_db"] = -9.0


def delay_of_old_tempo(session: Session) -> None:
    """The delay still holds the dotted eighth of 120."""
    channel(session, "Dly 1/8.")["inserts"][0]["parameters"][0]["value"] = 375.0


def returns_in_a_ring(session: Session) -> None:
    """The hall is sent into the delay that is sent into the hall."""
    channel(session, "Hall")["sends"] = to(dly=-6.0)


def sub_not_ducked(session: Session) -> None:
    """The sub's ducker was bypassed for listening."""
    channel(session, "Sub")["inserts"][2]["on"] = False


def limiter_first(session: Session) -> None:
    """The limiter was dragged to the top of the chain."""
    inserts = channel(session, "Master")["inserts"]
    inserts.insert(0, inserts.pop())


def harmony_solo(session: Session) -> None:
    """The harmony is still soloed."""
    channel(session, "TL Harm")["solo"] = True


def chops_pasted_twice(session: Session) -> None:
    """The first chops of the second drop lie there twice."""
    clips = channel(session, "Chops")["clips"]
    clips.insert(3, dict(clips[2]))


def impact_far_behind(session: Session) -> None:
    """A copy of the impact was dropped far behind the end."""
    channel(session, "Impact")["clips"] += shots("imp", 2.5, 153)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["SC Trigger"], "why": "goes nowhere on purpose; it only keys the duckers"},
    {"channels": ["Perc Loop"], "why": "plays slightly faster than recorded, being stretched from 124"},
    {"channels": ["SYNTHS"], "why": "the high-pass sweep to 620 Hz in the builds is the arrangement"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "tempo-nudged",
        "class": "tempo",
        "channels": ["Master", "Topline"],
        "grade": "hold",
        "says": "The session runs at 128 while the recorded vocals, effects and the project data are at 126 and drift.",
        "plant": tempo_nudged,
    },
    {
        "id": "filter-stays-shut",
        "class": "automation",
        "channels": ["SYNTHS"],
        "grade": "hold",
        "says": "After build 2 the high-pass on SYNTHS stays at 620 Hz through drop 2, in drop 1 it opens on the one.",
        "plant": filter_stays_shut,
    },
    {
        "id": "trigger-sounds",
        "class": "audible-that-should-not-be",
        "channels": ["SC Trigger"],
        "grade": "hold",
        "says": "SC Trigger has an output to DRUMS and is heard throughout, it should only key the duckers.",
        "plant": trigger_sounds,
    },
    {
        "id": "hook-clip-down",
        "class": "level",
        "channels": ["Topline"],
        "grade": "look",
        "says": "Topline's clip in drop 2 has -9 dB of clip gain, the same hook in drop 1 has none.",
        "plant": hook_clip_down,
    },
    {
        "id": "delay-of-old-tempo",
        "class": "ambience",
        "channels": ["Dly 1/8."],
        "grade": "look",
        "says": "The delay is set to 375 ms, the dotted eighth at 120; at 126 it is 357 ms.",
        "plant": delay_of_old_tempo,
    },
    {
        "id": "returns-in-a-ring",
        "class": "routing",
        "channels": ["Hall", "Dly 1/8."],
        "grade": "hold",
        "says": "Hall is sent into the delay and the delay into Hall: a feedback loop between the returns.",
        "plant": returns_in_a_ring,
    },
    {
        "id": "sub-not-ducked",
        "class": "processors",
        "channels": ["Sub"],
        "grade": "look",
        "says": "The ducker on Sub is bypassed, on Bass Mid, Stab and Pad it works; sub and kick collide.",
        "plant": sub_not_ducked,
    },
    {
        "id": "limiter-first",
        "class": "headroom",
        "channels": ["Master"],
        "grade": "look",
        "says": "The limiter stands before equalizer and compressor with make-up, so nothing holds the ceiling.",
        "plant": limiter_first,
    },
    {
        "id": "harmony-solo",
        "class": "inaudible",
        "channels": ["TL Harm"],
        "grade": "hold",
        "says": "TL Harm is soloed, everything else is silent in the bounce.",
        "plant": harmony_solo,
    },
    {
        "id": "chops-pasted-twice",
        "class": "twice",
        "channels": ["Chops"],
        "grade": "look",
        "says": "At drop 2 the same chops clip lies twice at the same place and sounds 6 dB louder.",
        "plant": chops_pasted_twice,
    },
    {
        "id": "impact-far-behind",
        "class": "end",
        "channels": ["Impact"],
        "grade": "look",
        "says": "A stray impact lies a minute behind the end and would lengthen the bounce.",
        "plant": impact_far_behind,
    },
]
