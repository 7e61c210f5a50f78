"""Sodium Tide: a club track at 128, nearly all programmed, with two drops and much drawn automation.

One producer at one machine. Patterns lie in blocks of eight bars, a percussion loop at 126 is sped up to fit, voice
chops are cut from two shouts. A ghost kick that goes nowhere keys the pump on the bass and the synth bus, so that the
pump runs on where the kick rests. The pad was printed to audio, its instrument kept muted. Before each drop the synth
bus closes and opens, the drum bus thins out and fills, the noise rises, and a fill leads over.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

BPM = 128.0
BEAT = 60.0 / BPM
LOOP_BPM = 126.0
SPEED = round(BPM / LOOP_BPM, 6)
MARKS = (
    (1, "intro"),
    (17, "groove"),
    (33, "break 1"),
    (49, "build 1"),
    (57, "DROP 1"),
    (89, "break 2"),
    (105, "build 2"),
    (113, "DROP 2"),
    (145, "outro"),
    (161, "END"),
)
FILES = {
    "perc_loop_126": (2, 7.621),
    "tom_fill_a": (2, 2.4),
    "PAD_print_v2": (2, 306.0),
    "chop_ah": (1, 0.94),
    "chop_oh": (1, 1.12),
    "riser_8bar_128": (2, 15.2),
    "impact_low": (2, 6.4),
}


def bar(number: int, beats: float = 0.0) -> float:
    """The time of a bar, and so many beats into it."""
    return round(((number - 1) * 4.0 + beats) * BEAT, 4)


def notes(name: str, *spans: tuple[int, int], block: int = 8) -> list[Item]:
    """Note clips: each span filled with blocks of so many bars, the last one cut where the span ends."""
    return [
        {
            "start_s": bar(start),
            "end_s": bar(min(start + block, stop)),
            "name": name,
            "plays": "notes",
            "offset_s": 0.0,
            "fade_in_s": 0.0,
            "fade_out_s": 0.0,
            "on": True,
        }
        for first, stop in spans
        for start in range(first, stop, block)
    ]


def audio(file: str, start: float, length: float, **fields: Any) -> Item:
    """An audio clip, from the beginning of its file unless told otherwise."""
    made: Item = {
        "start_s": round(start, 4),
        "end_s": round(start + length, 4),
        "name": file,
        "plays": "audio",
        "file": file,
        "offset_s": 0.0,
        "speed": 1.0,
        "fade_in_s": 0.002,
        "fade_out_s": 0.01,
        "gain_db": 0.0,
        "on": True,
    }
    made.update(fields)
    return made


def looped(*spans: tuple[int, int]) -> list[Item]:
    """The percussion loop, four bars at a time, sped up from its own tempo."""
    length = 16.0 * BEAT
    return [
        audio("perc_loop_126", bar(start), length, speed=SPEED, fade_in_s=0.003, fade_out_s=0.003)
        for first, stop in spans
        for start in range(first, stop, 4)
    ]


def chops(*spans: tuple[int, int]) -> list[Item]:
    """The two shouts in turn, every second bar: one on the second beat, the other on the fourth."""
    made = []
    for first, stop in spans:
        for number, start in enumerate(range(first, stop, 2)):
            if number % 2:
                made.append(audio("chop_oh", bar(start, 3.0), 1.1, fade_out_s=0.12, gain_db=-1.5))
            else:
                made.append(audio("chop_ah", bar(start, 1.0), 0.92, fade_out_s=0.08))
    return made


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.9) -> Item:
    """A bell or a shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def cut(kind: str, freq: float, slope: float = 24.0) -> Item:
    """A high-pass or a low-pass."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def eq(*bands: Item) -> Item:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def dyn(name: str, kind: str, **settings: float) -> Item:
    """A processor of dynamics."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, "dynamics": dict(settings)}


def pump(threshold: float, release: float) -> Item:
    """A compressor that is keyed by the ghost kick."""
    made = dyn("Pump", "compressor", threshold_db=threshold, ratio=6.0, attack_ms=0.5, release_ms=release)
    made["parameters"] = [{"id": "key", "name": "Key input", "value": "KICK GHOST"}]
    return made


def unit(name: str, kind: str, *settings: tuple[str, float, str], **fields: Any) -> Item:
    """Any other processor with the parameters that the export lists."""
    listed = [{"id": key, "name": key.title(), "value": value, "unit": measure} for key, value, measure in settings]
    made: Item = {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": listed}
    made.update(fields)
    return made


def synth(patch: str) -> Item:
    """An instrument; its sound lies in a blob."""
    return {"name": patch, "kind": "instrument", "on": True, "loaded": True, "opaque": True}


def send(to: str, level: float) -> Item:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def lane(target: str, scale: str, points: list[tuple[float, float]], shape: str = "linear") -> Item:
    """An automation lane."""
    times, values = [round(t, 4) for t, _ in points], [v for _, v in points]
    return {"target": target, "scale": scale, "shape": shape, "t": times, "v": values}


def levels(target: str, steps: list[tuple[float, float]]) -> Item:
    """A lane in decibels that steps from value to value."""
    points = steps[:1]
    for (_, before), (time, value) in pairwise(steps):
        points += [(time, before), (time, value)]
    return lane(target, "dB", points)


def sweep(sign: float) -> Item:
    """The arps' pan: still in the grooves, swinging every four bars in the breaks; the other one mirrors it."""
    points = [(0.0, sign * 40.0)]
    for first, stop in ((33, 57), (89, 113)):
        points.append((bar(first), sign * 40.0))
        for number, start in enumerate(range(first + 4, stop, 4)):
            points.append((bar(start), sign * (72.0 if number % 2 == 0 else 12.0)))
        points.append((bar(stop), sign * 40.0))
    return lane("pan", "pan", points)


def strip(key: str, name: str, kind: str = "track", plays: str = "notes", **fields: Any) -> Item:
    """A strip of the desk."""
    made: Item = {
        "id": key,
        "name": name,
        "kind": kind,
        "plays": [plays] if kind == "track" else [],
        "legs": 2,
        "fader_db": 0.0,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    made.update(fields)
    return made


def drums() -> list[Item]:
    """Kick, ghost, the other drums and their bus."""
    thin = [(0.0, 25.0), (bar(49), 25.0), (bar(57), 240.0), (bar(57), 25.0)]
    thin += [(bar(105), 25.0), (bar(113), 240.0), (bar(113), 25.0)]
    reverb_up = [(0.0, -22.0), (bar(31), -22.0), (bar(33), -10.0), (bar(33), -22.0), (bar(87), -22.0), (bar(89), -10.0)]
    reverb_up += [(bar(89), -22.0)]
    drops = ((17, 33), (57, 89), (113, 153))
    return [
        strip(
            "kick",
            "KICK",
            legs=1,
            fader_db=-5.0,
            output="drum-bus",
            inserts=[synth("kick sampler"), eq(band("bell", 55.0, 1.5, 1.1), band("bell", 320.0, -3.5, 1.2))],
            clips=notes("kick 8b", (1, 33), (49, 56), (57, 89), (105, 112), (113, 161)),
        ),
        strip(
            "ghost",
            "KICK GHOST",
            legs=1,
            output=None,
            inserts=[synth("click")],
            clips=notes("ghost 4x4", (1, 161)),
            comment="key for the pump only, NO OUTPUT",
        ),
        strip(
            "clap",
            "CLAP",
            fader_db=-9.5,
            output="drum-bus",
            inserts=[
                synth("clap layer"),
                eq(cut("high-pass", 220.0)),
                dyn("Comp", "compressor", threshold_db=-16.0, ratio=3.0),
            ],
            sends=[send("rv", -22.0)],
            clips=notes("clap 8b", *drops),
            automation=[lane("send:0:level", "dB", reverb_up)],
        ),
        strip(
            "hat-cl",
            "HAT CL",
            fader_db=-14.0,
            pan=10.0,
            output="drum-bus",
            inserts=[synth("hats"), eq(cut("high-pass", 500.0))],
            clips=notes("hat 16s", (9, 33), (49, 89), (105, 161)),
        ),
        strip(
            "hat-op",
            "HAT OP",
            fader_db=-13.0,
            pan=-12.0,
            output="drum-bus",
            inserts=[synth("hats"), eq(cut("high-pass", 450.0))],
            clips=notes("hat off 8b", *drops),
        ),
        strip(
            "ride",
            "RIDE",
            fader_db=-17.5,
            pan=22.0,
            output="drum-bus",
            inserts=[synth("ride"), eq(cut("high-pass", 600.0), band("high-shelf", 9000.0, -1.5, 0.7))],
            clips=notes("ride 8b", (73, 89), (129, 145)),
            comment="second halves only",
        ),
        strip(
            "perc",
            "PERC LOOP",
            plays="audio",
            fader_db=-15.0,
            output="drum-bus",
            inserts=[eq(cut("high-pass", 260.0, 12.0), band("bell", 3800.0, -2.0, 1.4))],
            clips=looped((17, 33), (57, 89), (113, 145)),
            comment="loop is 126, sped up, pitch ok",
        ),
        strip(
            "fill",
            "TOM FILL",
            plays="audio",
            fader_db=-10.5,
            output="drum-bus",
            inserts=[eq(cut("high-pass", 70.0))],
            sends=[send("rv", -12.0)],
            clips=[audio("tom_fill_a", bar(b), 4.0 * BEAT, fade_out_s=0.02) for b in (32, 56, 88, 112, 144)],
        ),
        strip(
            "drum-bus",
            "DRUM BUS",
            "group",
            fader_db=-1.0,
            output="mix",
            inserts=[
                eq(cut("high-pass", 25.0, 12.0)),
                dyn("Glue", "compressor", threshold_db=-12.0, ratio=2.0, attack_ms=30.0, release_ms=80.0),
                unit("Clipper", "distortion", ("drive", 2.0, "dB"), ("ceiling", -0.5, "dB")),
            ],
            automation=[lane("insert:0:band:1:freq", "plain", thin)],
        ),
    ]


def bass() -> list[Item]:
    """Sub, middle and their bus."""
    open_up = [(0.0, 420.0), (bar(57), 420.0), (bar(73), 900.0), (bar(89), 1400.0), (bar(89), 420.0)]
    open_up += [(bar(113), 600.0), (bar(145), 2200.0)]
    return [
        strip(
            "sub",
            "SUB",
            legs=1,
            fader_db=-8.0,
            output="bass-bus",
            inserts=[synth("sine"), eq(cut("low-pass", 140.0))],
            clips=notes("sub 8b", (17, 33), (57, 89), (113, 153)),
        ),
        strip(
            "bass-mid",
            "BASS MID",
            fader_db=-10.5,
            output="bass-bus",
            inserts=[
                synth("detuned saws"),
                eq(cut("high-pass", 130.0)),
                unit("Filter", "filter", ("cutoff", 420.0, "Hz"), ("reso", 18.0, "%")),
                unit("Drive", "distortion", ("drive", 5.0, "dB")),
            ],
            clips=notes("bass mid 8b", (25, 33), (57, 89), (113, 145)),
            automation=[lane("insert:2:cutoff", "plain", open_up)],
        ),
        strip(
            "bass-bus",
            "BASS BUS",
            "group",
            fader_db=-1.5,
            output="mix",
            inserts=[pump(-30.0, 150.0), eq(band("bell", 180.0, -1.5, 1.2))],
            comment="straight to MIX, must not run through the synth filter",
        ),
    ]


def synths() -> list[Item]:
    """Arps, stab, pad (print and source), lead and their bus."""
    wide_breaks = ((33, 57), (89, 113))
    arps = ((9, 33), (41, 89), (97, 145))
    cutoff = [(0.0, 900.0), (bar(17), 20000.0)]
    for first, stop in ((49, 57), (105, 113)):
        cutoff += [(bar(first), 20000.0), (bar(first), 350.0), (bar(stop), 2600.0), (bar(stop), 20000.0)]
    throw = [(0.0, -60.0)]
    for end in (81, 89, 105, 121, 129, 137, 145):
        throw += [(bar(end - 1, 2.0), -8.0), (bar(end), -60.0)]
    pads = [
        audio("PAD_print_v2", bar(a), bar(b) - bar(a), offset_s=bar(a), fade_in_s=0.5, fade_out_s=1.2)
        for a, b in (*wide_breaks, (145, 161))
    ]
    swell = [(0.0, -12.0)]
    for first, stop, top in ((49, 57, -9.5), (105, 113, -9.0)):
        swell += [(bar(first), -12.0), (bar(stop), top), (bar(stop), -12.0)]
    return [
        strip(
            "arp-a",
            "ARP A",
            fader_db=-13.0,
            pan=-40.0,
            output="synth-bus",
            inserts=[synth("pluck 1"), eq(cut("high-pass", 240.0, 12.0))],
            sends=[send("dly", -12.0), send("rv", -18.0)],
            clips=notes("arp 8b", *arps),
            automation=[sweep(-1.0)],
            comment="mirrors B",
        ),
        strip(
            "arp-b",
            "ARP B",
            fader_db=-13.5,
            pan=40.0,
            output="synth-bus",
            inserts=[synth("pluck 2"), eq(cut("high-pass", 260.0, 12.0))],
            sends=[send("dly", -12.0), send("rv", -18.0)],
            clips=notes("arp 8b (5th)", *arps),
            automation=[sweep(1.0)],
            comment="mirrors A",
        ),
        strip(
            "stab",
            "STAB",
            fader_db=-11.0,
            output="synth-bus",
            inserts=[synth("chord stab"), eq(cut("high-pass", 180.0, 12.0), band("bell", 900.0, 1.5, 0.8))],
            sends=[send("rv", -14.0)],
            clips=notes("stab off 8b", (57, 89), (113, 145)),
        ),
        strip(
            "pad-wide",
            "PAD WIDE",
            plays="audio",
            fader_db=-12.0,
            output="synth-bus",
            inserts=[eq(cut("high-pass", 150.0, 12.0)), unit("Width", "spatial", ("width", 110.0, "%"))],
            sends=[send("rv", -12.0)],
            clips=pads,
            automation=[
                lane("insert:1:width", "plain", [(0.0, 110.0), (bar(89), 110.0), (bar(113), 145.0), (bar(113), 110.0)]),
                lane("fader", "dB", swell),
            ],
            comment="print v2 of PAD MIDI",
        ),
        strip(
            "pad-midi",
            "PAD MIDI",
            fader_db=-12.0,
            mute=True,
            output="synth-bus",
            inserts=[synth("pad stack"), unit("Chorus", "modulation", ("rate", 0.3, "Hz"), wet=40.0)],
            clips=notes("pad 8b", *wide_breaks, (145, 161)),
            comment="printed to PAD WIDE, stays off",
        ),
        strip(
            "lead",
            "LEAD",
            fader_db=-9.5,
            output="synth-bus",
            inserts=[synth("saw lead"), eq(cut("high-pass", 280.0, 12.0), band("high-shelf", 8500.0, 1.5, 0.7))],
            sends=[send("dly", -60.0), send("rv", -13.0)],
            clips=notes("lead 8b", (73, 89), (97, 105), (113, 145)),
            automation=[
                lane("send:0:level", "dB", throw, "hold"),
                levels("fader", [(0.0, -9.5), (bar(97), -12.0), (bar(105), -9.5), (bar(129), -8.7)]),
            ],
        ),
        strip(
            "synth-bus",
            "SYNTH BUS",
            "group",
            fader_db=-1.0,
            output="mix",
            inserts=[
                unit("LP Filter", "filter", ("cutoff", 900.0, "Hz"), ("reso", 12.0, "%")),
                pump(-28.0, 170.0),
                eq(band("bell", 350.0, -1.0, 0.8)),
            ],
            automation=[lane("insert:0:cutoff", "plain", cutoff)],
            comment="filter opens on both drops",
        ),
    ]


def voice_and_effects() -> list[Item]:
    """Chops, riser, impact, their bus and the returns."""
    wet = [(0.0, -5.0), (bar(33), -3.0), (bar(57), -6.0), (bar(89), -3.0), (bar(113), -6.0), (bar(145), -4.0)]
    sides = [(0.0, -18.0)]
    for first in (57, 113):
        sides += [(bar(first + 2 * n), 18.0 if n % 2 else -18.0) for n in range(16)]
    rise = [(0.0, -24.0)]
    for first, stop, top in ((49, 57, -11.0), (105, 113, -10.0)):
        rise += [(bar(first), -24.0), (bar(stop), top), (bar(stop), -24.0)]
    delay = unit("Delay", "delay", ("time", 351.6, "ms"), ("feedback", 38.0, "%"), wet=100.0)
    space = unit("Big Hall", "reverb", ("decay", 4.6, "s"), ("damping", 5800.0, "Hz"), wet=100.0, pre_delay_ms=24.0)
    return [
        strip(
            "chop",
            "VOX CHOP",
            plays="audio",
            legs=1,
            fader_db=-9.0,
            pan=-18.0,
            output="mix",
            inserts=[
                eq(cut("high-pass", 190.0, 12.0), band("bell", 2800.0, 2.0, 1.0)),
                dyn("Comp", "compressor", threshold_db=-20.0, ratio=4.0, attack_ms=2.0, release_ms=90.0),
            ],
            sends=[send("dly", -9.0), send("rv", -16.0)],
            clips=chops((57, 89), (113, 145)),
            automation=[lane("pan", "pan", sides, "hold")],
        ),
        strip(
            "riser",
            "RISER",
            plays="audio",
            fader_db=-24.0,
            output="fx-bus",
            inserts=[eq(cut("high-pass", 300.0, 12.0))],
            sends=[send("rv", -14.0)],
            clips=[audio("riser_8bar_128", bar(b), 32.0 * BEAT, fade_in_s=0.5) for b in (49, 105)],
            automation=[lane("fader", "dB", rise)],
        ),
        strip(
            "impact",
            "IMPACT",
            plays="audio",
            fader_db=-12.0,
            output="fx-bus",
            inserts=[eq(cut("high-pass", 32.0, 12.0))],
            sends=[send("rv", -10.0)],
            clips=[audio("impact_low", bar(b), 6.2, fade_out_s=1.5) for b in (33, 57, 89, 113, 145)],
        ),
        strip("fx-bus", "FX BUS", "group", fader_db=-2.0, output="mix", inserts=[eq(cut("high-pass", 28.0))]),
        strip(
            "rv",
            "RV BIG",
            "return",
            fader_db=-5.0,
            output="mix",
            inserts=[space, eq(cut("high-pass", 220.0, 12.0))],
            automation=[levels("fader", wet)],
        ),
        strip(
            "dly",
            "DLY 3/16",
            "return",
            fader_db=-6.0,
            output="mix",
            inserts=[delay, eq(cut("high-pass", 350.0, 12.0), cut("low-pass", 6000.0, 12.0))],
            sends=[send("rv", -18.0)],
        ),
    ]


def master() -> Item:
    """The mix bus."""
    limiter = dyn("Limiter", "limiter", threshold_db=-1.0, release_ms=60.0, input_gain_db=2.0)
    limiter["parameters"] = [{"id": "ceiling", "name": "Ceiling", "value": -1.0, "unit": "dBTP"}]
    return strip(
        "mix",
        "MIX",
        "master",
        inserts=[
            eq(band("low-shelf", 60.0, 0.6, 0.7), band("high-shelf", 12000.0, 1.2, 0.7)),
            dyn(
                "Glue", "compressor", threshold_db=-9.0, ratio=1.8, attack_ms=30.0, release_ms=90.0, output_gain_db=1.5
            ),
            unit("Saturator", "distortion", ("drive", 1.8, "dB"), wet=60.0),
            limiter,
        ],
    )


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Sodium Tide",
        "sample_rate_hz": 44100.0,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": bar(number), "name": name} for number, name in MARKS],
        "channels": [*drums(), *bass(), *synths(), *voice_and_effects(), master()],
        "media": [
            {
                "id": name,
                "path": f"samples/{name}.wav",
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": 44100.0,
                "duration_s": length,
            }
            for name, (legs, length) in FILES.items()
        ],
        "metadata": {"version": "v11 club"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def pad_source_on(session: Session) -> None:
    """The pad's instrument was unmuted for a look and left so."""
    channel(session, "PAD MIDI")["mute"] = False


def filter_opens_late(session: Session) -> None:
    """The step that opens the synth bus was dragged eight bars into drop 2."""
    points = channel(session, "SYNTH BUS")["automation"][0]
    points["t"] = [bar(121) if time == bar(113) else time for time in points["t"]]


def delay_of_another_tempo(session: Session) -> None:
    """The delay's time is still that of 120."""
    channel(session, "DLY 3/16")["inserts"][0]["parameters"][0]["value"] = 375.0


def bass_through_synth_filter(session: Session) -> None:
    """The bass bus is routed into the synth bus."""
    channel(session, "BASS BUS")["output"] = "synth-bus"


def ghost_sounds(session: Session) -> None:
    """The ghost kick was given an output."""
    channel(session, "KICK GHOST")["output"] = "drum-bus"


def chop_shouts(session: Session) -> None:
    """One of the chops has twelve decibels of clip gain."""
    found = next(c for c in channel(session, "VOX CHOP")["clips"] if c["start_s"] == bar(129, 1.0))
    found["gain_db"] = 12.0


def arps_swing_together(session: Session) -> None:
    """The pan lane of the first arp was copied over that of the second, unmirrored."""
    strip_b = channel(session, "ARP B")
    strip_b.update(pan=-40.0, automation=[sweep(-1.0)])


def lead_not_loaded(session: Session) -> None:
    """The lead's instrument is missing on this machine."""
    channel(session, "LEAD")["inserts"][0]["loaded"] = False


def loop_at_its_own_tempo(session: Session) -> None:
    """One repeat of the loop runs at its own speed."""
    found = next(c for c in channel(session, "PERC LOOP")["clips"] if c["start_s"] == bar(129))
    found["speed"] = 1.0


def hat_after_the_end(session: Session) -> None:
    """A parked copy of the hat pattern lies far behind the end."""
    channel(session, "HAT OP")["clips"] += notes("hat off 8b", (177, 185))


def limiter_first(session: Session) -> None:
    """The limiter was dragged to the top of the chain."""
    inserts = channel(session, "MIX")["inserts"]
    inserts.insert(0, inserts.pop())


ACCEPTED: list[Item] = [
    {"channels": ["KICK GHOST"], "why": "it only keys the pump and has no output on purpose"},
    {"channels": ["PAD MIDI"], "why": "the muted source of the printed pad"},
    {"channels": ["PERC LOOP"], "why": "the loop is sped up from 126 on purpose"},
]

FAULTS: list[Item] = [
    {
        "id": "pad-source-on",
        "class": "twice",
        "channels": ["PAD MIDI", "PAD WIDE"],
        "grade": "hold",
        "says": "PAD MIDI sounds together with PAD WIDE, its own print; the comment says that it stays off.",
        "plant": pad_source_on,
    },
    {
        "id": "filter-opens-late",
        "class": "automation",
        "channels": ["SYNTH BUS"],
        "grade": "look",
        "says": "On SYNTH BUS the filter opens eight bars after DROP 2 begins; in DROP 1 it opens on the first beat.",
        "plant": filter_opens_late,
    },
    {
        "id": "delay-of-another-tempo",
        "class": "ambience",
        "channels": ["DLY 3/16"],
        "grade": "look",
        "says": "DLY 3/16 is set to 375 ms, three sixteenths at 120; at 128 it would be 351.6.",
        "plant": delay_of_another_tempo,
    },
    {
        "id": "bass-through-synth-filter",
        "class": "routing",
        "channels": ["BASS BUS"],
        "grade": "hold",
        "says": "BASS BUS goes into SYNTH BUS and its filter, though its comment says straight to MIX.",
        "plant": bass_through_synth_filter,
    },
    {
        "id": "ghost-sounds",
        "class": "audible-that-should-not-be",
        "channels": ["KICK GHOST"],
        "grade": "hold",
        "says": "KICK GHOST, which should only key the pump, has an output and is heard.",
        "plant": ghost_sounds,
    },
    {
        "id": "chop-shouts",
        "class": "level",
        "channels": ["VOX CHOP"],
        "grade": "look",
        "says": "The chop_ah at bar 129 has +12 dB of clip gain; every other chop_ah has none.",
        "plant": chop_shouts,
    },
    {
        "id": "arps-swing-together",
        "class": "place",
        "channels": ["ARP B", "ARP A"],
        "grade": "look",
        "says": "ARP B has the very pan lane of ARP A: both stand left and swing together instead of mirroring.",
        "plant": arps_swing_together,
    },
    {
        "id": "lead-not-loaded",
        "class": "inaudible",
        "channels": ["LEAD"],
        "grade": "hold",
        "says": "The instrument on LEAD is not loaded: the lead is silent.",
        "plant": lead_not_loaded,
    },
    {
        "id": "loop-at-its-own-tempo",
        "class": "tempo",
        "channels": ["PERC LOOP"],
        "grade": "look",
        "says": "One repeat of PERC LOOP (bar 129) runs at speed 1 instead of 1.016 and drifts behind the beat.",
        "plant": loop_at_its_own_tempo,
    },
    {
        "id": "hat-after-the-end",
        "class": "end",
        "channels": ["HAT OP"],
        "grade": "look",
        "says": "A HAT OP clip lies sixteen bars behind END, where nothing else plays; it makes the bounce too long.",
        "plant": hat_after_the_end,
    },
    {
        "id": "limiter-first",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The limiter on MIX stands before EQ, compressor gain and saturator: its ceiling is void.",
        "plant": limiter_first,
    },
]
