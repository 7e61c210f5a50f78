"""Halfway to Copper: an upbeat pop production at 118, F sharp minor, programmed drums, synths and a wall of voices.

The producer sent the drums, the sub, the plucks and the arpeggio as prints from bar 1, the rest of the synths play
live from notes. The percussion loop was made at 120 and runs slowed to the song. Choruses one and two share one set of
backing vocals (sung once, copied), the last chorus was sung anew. A bar of two-four leads into the last chorus. The
mixer works with four groups, four effects returns and a crushed drum bus, writes throws as send switches, closes the
music with a low pass before the last chorus, keeps old comps muted, and checks on headphones through a correction at
the end of the mix bus, which is switched off for the bounce.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

Session = dict[str, Any]
Node = dict[str, Any]

BPM = 118.0
KEY = "F# minor"
LOOP_SPEED = round(118.0 / 120.0, 6)
PRINT_LENGTH = 216.0

# section: first bar, first bar after it
SONG: dict[str, tuple[int, int]] = {
    "Intro": (1, 5),
    "V1": (5, 21),
    "Pre1": (21, 25),
    "Cho1": (25, 41),
    "V2": (41, 49),
    "Pre2": (49, 53),
    "Cho2": (53, 69),
    "Bridge": (69, 77),
    "Drop": (77, 82),
    "Cho3": (82, 98),
    "Outro": (98, 106),
}
CHORUSES = ("Cho1", "Cho2", "Cho3")


def at(bar: float) -> float:
    """The song time of a bar; bar 81 holds two beats only."""
    beats = (bar - 1.0) * 4.0
    if bar > 81.5:
        beats -= 2.0
    return round(beats * 60.0 / BPM, 4)


def bars_of(*sections: str) -> list[tuple[int, int]]:
    """The spans of these sections, one after another."""
    return [SONG[name] for name in sections]


def audio(
    file: str, start: float, end: float, offset: float, name: str, fades: tuple[float, float] = (0.005, 0.02)
) -> Node:
    """An audio clip."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
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


def printed(file: str, spans: Iterable[tuple[float, float]]) -> list[Node]:
    """Pieces of a print that starts with bar 1, so the place in the file is the place in the song."""
    return [audio(file, at(a), at(b), at(a), f"{file}_{a:g}") for a, b in spans]


def notes(name: str, spans: Iterable[tuple[float, float]]) -> list[Node]:
    """Note clips."""
    return [
        {"start_s": at(a), "end_s": at(b), "name": f"{name} {a:g}", "plays": "notes", "file": None, "on": True}
        for a, b in spans
    ]


def sung(
    file: str, pieces: Iterable[tuple[float, float]], offset_bar: float, name: str, lead: float = 0.18
) -> list[Node]:
    """Vocal phrases; the file begins two seconds before ``offset_bar``."""
    zero = at(offset_bar) - 2.0
    return [
        audio(file, at(a) - lead, at(b) - 0.25, at(a) - lead - zero, f"{name}_{a:g}", (0.02, 0.08)) for a, b in pieces
    ]


def fx(name: str, kind: str, **more: Any) -> Node:
    """A processor with visible settings."""
    return {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": False, **more}


def par(name: str, amount: float | str, unit: str = "") -> Node:
    """One listed parameter."""
    return {"id": name, "name": name, "value": amount, "unit": unit}


def eq(hp: float | None = None, *bells: tuple[float, float, float], air: float | None = None) -> Node:
    """An equalizer: low cut, bells, air shelf."""
    bands: list[Node] = []
    if hp is not None:
        bands.append({"kind": "high-pass", "freq_hz": hp, "slope_db_per_oct": 18.0, "on": True})
    bands += [{"kind": "bell", "freq_hz": f, "gain_db": g, "q": q, "on": True} for f, g, q in bells]
    if air is not None:
        bands.append({"kind": "high-shelf", "freq_hz": 11000.0, "gain_db": air, "q": 0.7, "on": True})
    return fx("EQ", "equalizer", equalizer={"bands": bands})


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, out: float, **more: Any) -> Node:
    """A compressor."""
    dyn = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return fx(name, "compressor", dynamics=dyn, **more)


def duck(depth: float) -> Node:
    """A compressor keyed by the ghost kick."""
    return comp("Ducker", depth, 4.0, 1.0, 140.0, 0.0, parameters=[par("key", "SC Trig")])


def drive(amount: float) -> Node:
    """Some dirt."""
    return fx("Drive", "distortion", parameters=[par("amt", amount, "%")])


def verb(name: str, pre_delay: float, decay: float) -> Node:
    """A reverb for a return, wholly wet."""
    return fx(name, "reverb", wet=100.0, pre_delay_ms=pre_delay, parameters=[par("decay", decay, "s")])


def tune(speed: float) -> Node:
    """Pitch correction in the key of the song."""
    return fx("Pitch corr", "pitch", parameters=[par("scale", KEY), par("retune", speed, "ms")])


def send(to: str, level: float, on: bool = True) -> Node:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": on}


def lane(target: str, scale: str, points: Iterable[tuple[float, float]], shape: str = "hold") -> Node:
    """An automation lane from (bar, value) points."""
    kept = list(points)
    return {"target": target, "scale": scale, "shape": shape, "t": [at(b) for b, _ in kept], "v": [v for _, v in kept]}


def ch(key: str, name: str, kind: str, fader: float, pan: float, legs: int, out: str | None, **more: Any) -> Node:
    """One channel."""
    base: Node = {
        "id": key,
        "name": name,
        "kind": kind,
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": out,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    if kind == "track":
        base["plays"] = ["notes"] if any(c["plays"] == "notes" for c in more.get("clips", [])) else ["audio"]
    return base | more


def loop_clips() -> list[Node]:
    """The percussion loop, eight bars at 120, slowed to the song."""
    found = []
    for section in ("Pre1", "Cho1", "Pre2", "Cho2", "Cho3"):
        first, after = SONG[section]
        for bar in range(first, after, 8):
            piece = audio("perc", at(bar), at(min(bar + 8, after)), 0.0, "perc_loop_120bpm")
            piece["speed"] = LOOP_SPEED
            found.append(piece)
    return found


def drums() -> list[Node]:
    """Printed drums and effects."""
    verses = [(5, 21), (21, 24.75)]
    second = [(41, 49), (49, 52.75)]
    chorus = bars_of(*CHORUSES)
    full = [*verses, (25, 41), *second, (53, 69), (82, 98), (98, 102)]
    hits = [5, 25, 41, 53, 69, 82, 98]
    boom = [audio("impact", at(b), at(b) + 4.8, 0.0, "impact", (0.0, 1.5)) for b in hits]
    sweep = [audio("riser", at(b) - 8.0, at(b), 0.1, "riser_4bar", (0.5, 0.01)) for b in (25, 53, 82)]
    sweeps = []
    for b in (25, 53, 82):
        sweeps += [(b - 3.9, -40.0), (b, 40.0)]
    return [
        ch("kick", "Kick", "track", -6.0, 0.0, 1, "drm", clips=printed("kick", full),
           inserts=[eq(28.0, (280.0, -3.0, 1.4), (3800.0, 2.0, 1.0))], sends=[send("crush", -10.0)]),
        ch("snr", "Snare", "track", -8.0, 0.0, 1, "drm", clips=printed("snare", full),
           inserts=[eq(95.0, (210.0, 1.5, 1.0), (900.0, -2.0, 2.0)), comp("Comp", -16.0, 3.0, 12.0, 90.0, 2.0)],
           sends=[send("crush", -8.0), send("plt", -19.0)]),
        ch("clap", "Clap stk", "track", -11.0, 0.0, 2, "drm", clips=printed("clap", chorus),
           inserts=[eq(180.0)], sends=[send("crush", -14.0), send("plt", -17.0)], comment="3 layers bounced"),
        ch("hh", "HH Cl", "track", -15.0, 22.0, 1, "drm", clips=printed("hats", full), inserts=[eq(320.0, air=1.0)]),
        ch("oh", "HH Op", "track", -17.5, -28.0, 1, "drm", clips=printed("openhat", chorus),
           inserts=[eq(350.0)], sends=[send("plt", -24.0)]),
        ch("perc", "Perc Loop", "track", -14.0, 0.0, 2, "drm", clips=loop_clips(), inserts=[eq(160.0)],
           comment="8 bar loop, made at 120, stretched"),
        ch("imp", "Impact", "track", -12.0, 0.0, 2, "drm", clips=boom, sends=[send("hall", -14.0)]),
        ch("rise", "Riser", "track", -16.0, -40.0, 2, "drm", clips=sweep, inserts=[eq(220.0)],
           automation=[lane("pan", "pan", sweeps, "linear")]),
        ch("sct", "SC Trig", "track", 0.0, 0.0, 1, None, clips=printed("ghost", [(25, 41), (53, 69), (82, 98)]),
           comment="ghost kick, only keys the duckers - no output"),
    ]  # fmt: skip


def music() -> list[Node]:
    """Bass, synths and guitars."""
    low = [(5, 21), (21, 25), (25, 41), (41, 49), (49, 53), (53, 69), (69, 77), (82, 98), (98, 104)]
    chorus = bars_of(*CHORUSES)
    pads = [(1, 5), (21, 25), (25, 41), (49, 53), (53, 69), (69, 77), (77, 82), (82, 98), (98, 106)]
    pluck = [(5, 21), (41, 49), (98, 105)]
    arp = [(13, 21), (25, 41), (53, 69), (77, 82), (82, 98)]
    pad_ride = [(1, -10.0), (5, -13.0), (25, -12.0), (69, -10.0), (82, -12.0), (98, -11.0)]
    chug = [(25, 41), (53, 69), (82, 98)]
    width = fx("Width", "spatial", parameters=[par("width", 130.0, "%")])
    return [
        ch("bs", "Bass Syn", "track", -9.0, 0.0, 2, "bas", clips=notes("bass", low),
           inserts=[fx("Poly synth", "instrument"), eq(38.0, (240.0, -2.0, 1.2)), duck(-24.0)]),
        ch("sub", "Sub", "track", -10.5, 0.0, 1, "bas", clips=printed("sub", chorus),
           inserts=[eq(26.0), duck(-26.0)], comment="print, sine an octave down"),
        ch("pad", "Pad Wide", "track", -10.0, 0.0, 2, "mus", clips=notes("pad", pads),
           inserts=[fx("Poly synth", "instrument"), eq(190.0, (420.0, -2.0, 0.9)), duck(-28.0), width],
           sends=[send("hall", -15.0)], automation=[lane("fader", "dB", pad_ride)]),
        ch("plkL", "Pluck L", "track", -15.0, -60.0, 1, "mus", clips=printed("pluck_l", pluck),
           inserts=[eq(210.0)], sends=[send("dly8", -16.0)]),
        ch("plkR", "Pluck R", "track", -15.0, 60.0, 1, "mus", clips=printed("pluck_r", pluck),
           inserts=[eq(210.0)], sends=[send("dly8", -16.5)]),
        ch("stab", "Stabs", "track", -13.0, 0.0, 2, "mus", clips=notes("stabs", chorus),
           inserts=[fx("Poly synth", "instrument"), eq(150.0), duck(-22.0)], sends=[send("plt", -18.0)]),
        ch("arp", "Arp PRINT", "track", -17.0, 0.0, 2, "mus", clips=printed("arp", arp), inserts=[eq(260.0, air=1.5)],
           sends=[send("dly8", -14.0), send("hall", -20.0)]),
        ch("arpm", "Arp MIDI", "track", -17.0, 0.0, 2, "mus", mute=True, clips=notes("arp", arp),
           inserts=[fx("Wave synth", "instrument", on=False)], comment="printed, keep muted"),
        ch("hook", "Lead Hook", "track", -12.5, 0.0, 2, "mus",
           clips=notes("hook", [(1, 5), (33, 41), (61, 69), (90, 98)]),
           inserts=[fx("Mono synth", "instrument"), eq(240.0, (2800.0, -1.5, 1.5))],
           sends=[send("plt", -15.0), send("dly8", -18.0)]),
        ch("gtrL", "Gtr Chug L", "track", -14.0, -85.0, 1, "mus", clips=printed("gtr_l", chug),
           inserts=[eq(120.0, (3200.0, -1.5, 1.2))]),
        ch("gtrR", "Gtr Chug R", "track", -14.0, 85.0, 1, "mus", clips=printed("gtr_r", chug),
           inserts=[eq(120.0, (2900.0, -1.5, 1.2))]),
    ]  # fmt: skip


THROWS = ((20.5, 21.25), (40.5, 41.25), (48.5, 49.25), (68.5, 69.25), (76.5, 77.25), (89.5, 90.25), (97.5, 98.25))


def throw_points() -> list[tuple[float, float]]:
    """The send switch of the quarter throw: off, then on and off at each line end."""
    points = [(1.0, 0.0)]
    for on, off in THROWS:
        points += [(on, 1.0), (off, 0.0)]
    return points


def lead() -> list[Node]:
    """Lead vocal, its doubles, the old comp and the ad libs."""
    halves = [(25, 29), (29, 33), (33, 37), (37, 41), (53, 57), (57, 61), (61, 65), (65, 69)]
    halves += [(82, 86), (86, 90), (90, 94), (94, 98)]
    lines = [(5, 9), (9, 13), (13, 17), (17, 21), (21, 25), *halves[:4], (41, 45), (45, 49), (49, 53), *halves[4:8]]
    lines += [(69, 73), (73, 77), *halves[8:], (98, 102)]
    doubles = [(21, 25), *halves[:4], (49, 53), *halves[4:]]
    ride = [(1, -5.5), (21, -5.0), (25, -4.0), (41, -5.5), (49, -5.0), (53, -4.0), (69, -6.0), (82, -3.5), (98, -6.0)]
    chain = [
        tune(28.0),
        eq(92.0, (260.0, -2.5, 1.4), (3600.0, 1.5, 0.9)),
        comp("Fast comp", -18.0, 4.0, 3.0, 60.0, 2.5),
        fx("De-ess", "de-esser", parameters=[par("freq", 7100.0, "Hz"), par("threshold", -27.0, "dB")]),
        comp("Slow comp", -20.0, 2.5, 25.0, 220.0, 1.5),
    ]
    wing = [eq(140.0, (300.0, -3.0, 1.2)), comp("Comp", -24.0, 4.0, 5.0, 90.0, 3.0)]
    adl = sung("adl", [(65, 69), (90, 94), (94, 98), (98, 102)], 65, "adlib")
    return [
        ch("lv", "Ld Vox", "track", -5.5, 0.0, 1, "ldv", clips=sung("ldv6", lines, 1, "lv6"), inserts=chain,
           sends=[send("plt", -15.0), send("hall", -21.0), send("dly8", -19.0), send("thr", -9.0, on=False)],
           automation=[lane("fader", "dB", ride), lane("send:3:on", "switch", throw_points())]),
        ch("lvL", "Ld Dbl L", "track", -15.0, -55.0, 1, "ldv", clips=sung("dblL", doubles, 1, "dblL", 0.15),
           inserts=[tune(12.0), *wing], sends=[send("plt", -18.0)]),
        ch("lvR", "Ld Dbl R", "track", -15.0, 55.0, 1, "ldv", clips=sung("dblR", doubles, 1, "dblR", 0.2),
           inserts=[tune(12.0), *wing], sends=[send("plt", -18.0)]),
        ch("lvo", "Ld Vox comp3 OLD", "track", -6.0, 0.0, 1, "ldv", mute=True, clips=sung("ldv3", lines, 1, "lv3"),
           comment="artist wants to keep it, do not print"),
        ch("adl", "Adlibs", "track", -11.0, 15.0, 1, "ldv", clips=adl,
           inserts=[tune(35.0), eq(150.0), comp("Comp", -20.0, 3.0, 8.0, 90.0, 2.0)],
           sends=[send("hall", -13.0), send("dly8", -14.0)]),
    ]  # fmt: skip


def backing() -> list[Node]:
    """Six backing vocals in three pairs."""
    table = [
        ("Lo", 1, -35.0, -13.0), ("Lo", 2, 35.0, -13.0), ("Mid", 1, -65.0, -13.5),
        ("Mid", 2, 65.0, -13.5), ("Hi", 1, -90.0, -15.0), ("Hi", 2, 90.0, -15.0),
    ]  # fmt: skip
    rows = []
    for part, number, pan, fader in table:
        key = f"bv{part.lower()}{number}"
        first = sung(key + "_cho", [(25, 33), (33, 41)], 25, f"{key}_cho")
        copied = []
        for piece in first:
            shift = at(53) - at(25)
            start, end = round(piece["start_s"] + shift, 4), round(piece["end_s"] + shift, 4)
            copied.append(piece | {"start_s": start, "end_s": end})
        last = sung(key + "_cho3", [(82, 90), (90, 98)], 82, f"{key}_cho3")
        oohs = sung(key + "_ooh", [(69, 73), (73, 77)], 69, f"{key}_ooh") if part == "Hi" else []
        rows.append(
            ch(key, f"BV {part} {number}", "track", fader, pan, 1, "bvs", clips=[*first, *copied, *oohs, *last],
               inserts=[tune(8.0), eq(170.0 if part == "Lo" else 220.0), comp("Comp", -25.0, 4.0, 4.0, 80.0, 3.0)],
               sends=[send("plt", -16.0), send("hall", -19.0)])
        )  # fmt: skip
    return rows


def buses() -> list[Node]:
    """Groups, returns and the mix."""
    band = {"kind": "low-pass", "freq_hz": 19000.0, "slope_db_per_oct": 24.0, "on": True}
    sweep = [(1, 19000.0), (77, 19000.0), (79, 900.0), (81, 350.0), (82, 350.0), (82, 19000.0)]
    bv_ride = [(1, -1.0), (53, -0.5), (69, -3.0), (82, 0.5)]
    mix = [
        comp("Glue", -14.0, 2.0, 30.0, 100.0, 1.5),
        eq(22.0, (55.0, 0.5, 0.8), air=1.0),
        fx("Limiter", "limiter", dynamics={"threshold_db": -1.0, "release_ms": 80.0, "output_gain_db": 0.0}),
        fx("Meter", "analyser"),
        fx("Headphone corr", "monitor", on=False),
    ]
    room = [eq(40.0), comp("Crush", -34.0, 12.0, 2.0, 70.0, 9.0), drive(30.0)]
    dlys = [("dly8", "8th Dly", 254.24, 30.0, -9.0), ("thr", "Qtr Throw", 508.47, 38.0, -7.0)]
    rows = [
        ch("drm", "DRUMS", "group", -1.0, 0.0, 2, "mix", inserts=[comp("Bus comp", -15.0, 2.0, 20.0, 90.0, 1.5)]),
        ch("bas", "BASS", "group", 0.0, 0.0, 2, "mix", inserts=[drive(12.0)]),
        ch("mus", "MUSIC", "group", -1.5, 0.0, 2, "mix",
           inserts=[fx("Filter", "filter", equalizer={"bands": [band]}), eq(None, (400.0, -1.0, 0.8))],
           automation=[lane("insert:0:band:1:freq", "plain", sweep, "linear")]),
        ch("ldv", "LEAD VOX", "group", 0.0, 0.0, 2, "mix", inserts=[eq(None, (320.0, -1.0, 1.0), air=1.5)]),
        ch("bvs", "BVs", "group", -1.0, 0.0, 2, "mix",
           inserts=[comp("Bus comp", -20.0, 2.5, 10.0, 120.0, 1.5), eq(None, (2500.0, -1.5, 0.8), air=2.0)],
           automation=[lane("fader", "dB", bv_ride)]),
        ch("crush", "Drm Crush", "return", -13.0, 0.0, 2, "drm", inserts=room, comment="parallel"),
        ch("plt", "Plate", "return", -5.0, 0.0, 2, "mix",
           inserts=[eq(260.0), verb("Plate", 28.0, 1.6)]),
        ch("hall", "Hall Long", "return", -7.0, 0.0, 2, "mix",
           inserts=[eq(300.0), verb("Hall", 60.0, 3.4)]),
    ]  # fmt: skip
    for key, name, ms, back, fader in dlys:
        echo = fx("Delay", "delay", wet=100.0, parameters=[par("time", ms, "ms"), par("feedback", back, "%")])
        more = [send("hall", -16.0)] if key == "thr" else []
        rows.append(ch(key, name, "return", fader, 0.0, 2, "mix", inserts=[echo, eq(280.0)], sends=more))
    rows.append({
        "id": "mix", "name": "MIX", "kind": "master", "legs": 2, "fader_db": 0.0, "pan": 0.0, "mute": False,
        "solo": False, "inserts": mix,
    })  # fmt: skip
    return rows


def media(channels: list[Node]) -> list[Node]:
    """One entry per file that a clip plays; prints and vocals differ in length."""
    wide = {"clap", "perc", "impact", "riser", "arp"}
    lengths = {"perc": 16.5, "impact": 6.0, "riser": 8.3, "adl": 80.0}
    rows: dict[str, Node] = {}
    for row in channels:
        for piece in row.get("clips", []):
            file = piece["file"]
            if file is None or file in rows:
                continue
            vocal = row["output"] in ("ldv", "bvs")
            stack = 20.0 if file.endswith("_ooh") else 36.5 if file.startswith("bv") else PRINT_LENGTH
            rows[file] = {
                "id": file,
                "path": f"{'Vox' if vocal else 'Prints'}/HTC_{file}.wav",
                "place": "beside",
                "present": True,
                "legs": 2 if file in wide else 1,
                "sample_rate_hz": 44100.0,
                "duration_s": lengths.get(file, stack + (2.0 if vocal and stack == PRINT_LENGTH else 0.0)),
            }
    return list(rows.values())


def good() -> Session:
    """The session as it should be bounced."""
    channels = [*drums(), *music(), *lead(), *backing(), *buses()]
    return {
        "format": "mixlint-session/1",
        "title": "Halfway to Copper MIX 7",
        "sample_rate_hz": 44100.0,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": 320.0, "beats": 2, "unit": 4},
                {"beat": 322.0, "beats": 4, "unit": 4},
            ],
        },
        "markers": [
            *({"time_s": at(first), "name": name} for name, (first, _) in SONG.items()),
            {"time_s": at(106), "name": "End"},
        ],
        "channels": channels,
        "media": media(channels),
        "metadata": {"key": KEY, "tempo": "118 (demo was 112)", "deliver": "44.1k, master + inst + acap"},
    }


def channel(session: Session, name: str) -> Node:
    """The channel of a name."""
    found: Node = next(c for c in session["channels"] if c["name"] == name)
    return found


def pan_reset(session: Session) -> None:
    """One guitar's pan was reset by a click."""
    channel(session, "Gtr Chug R")["pan"] = 0.0


def throw_left_on(session: Session) -> None:
    """One throw was never switched off."""
    switch = channel(session, "Ld Vox")["automation"][1]
    place = switch["t"].index(at(77.25))
    del switch["t"][place], switch["v"][place]


def ghost_heard(session: Session) -> None:
    """The ghost kick got an output."""
    channel(session, "SC Trig")["output"] = "mix"


def double_is_a_copy(session: Session) -> None:
    """The right half of a pair plays the file of the left half in the last chorus."""
    for piece in channel(session, "BV Lo 2")["clips"]:
        if piece["file"] == "bvlo2_cho3":
            piece["file"] = "bvlo1_cho3"
            piece["name"] = piece["name"].replace("bvlo2", "bvlo1")


def demo_delay_time(session: Session) -> None:
    """The eighth delay still has the time of the demo tempo."""
    channel(session, "8th Dly")["inserts"][0]["parameters"][0]["value"] = 267.86


def hook_into_plate(session: Session) -> None:
    """The hook's output was set to the plate return."""
    channel(session, "Lead Hook")["output"] = "plt"


def clip_off(session: Session) -> None:
    """One backing vocal clip was muted while listening to the others."""
    channel(session, "BV Mid 1")["clips"][-1]["on"] = False


def other_scale(session: Session) -> None:
    """One double is corrected to another key."""
    channel(session, "Ld Dbl L")["inserts"][0]["parameters"][0]["value"] = "F minor"


def loop_not_stretched(session: Session) -> None:
    """One copy of the loop was dragged in again and runs at its own tempo."""
    channel(session, "Perc Loop")["clips"][5]["speed"] = 1.0


def correction_on(session: Session) -> None:
    """The headphone correction was left on."""
    channel(session, "MIX")["inserts"][-1]["on"] = True


def makeup_slipped(session: Session) -> None:
    """The make-up gain of the drum bus compressor lost its decimal point."""
    channel(session, "DRUMS")["inserts"][0]["dynamics"]["output_gain_db"] = 15.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["SC Trig"], "why": "goes nowhere on purpose, it only keys the duckers"},
    {"channels": ["Arp MIDI", "Ld Vox comp3 OLD"], "why": "muted on purpose, kept for recall"},
    {
        "channels": ["BV Lo 1", "BV Lo 2", "BV Mid 1", "BV Mid 2", "BV Hi 1", "BV Hi 2"],
        "why": "chorus one is copied to chorus two, so the same stretch of each file plays twice in the song",
    },
    {"channels": ["Perc Loop"], "why": "stretched from 120 to the song's tempo on purpose, the same stretch each time"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "pan-reset", "class": "place", "channels": ["Gtr Chug R"], "grade": "look", "plant": pan_reset,
        "says": "Gtr Chug R stands in the centre; its partner is at -85, so the doubled guitars lean left.",
    },
    {
        "id": "throw-left-on", "class": "automation", "channels": ["Ld Vox"], "grade": "look", "plant": throw_left_on,
        "says": "The Qtr Throw send of Ld Vox is not switched off after the bridge and stays on for half of chorus 3.",
    },
    {
        "id": "ghost-heard", "class": "audible-that-should-not-be", "channels": ["SC Trig"], "grade": "hold",
        "plant": ghost_heard, "says": "SC Trig, the ghost kick that should go nowhere, feeds the mix at 0 dB.",
    },
    {
        "id": "double-is-a-copy", "class": "twice", "channels": ["BV Lo 2"], "grade": "look",
        "plant": double_is_a_copy,
        "says": "BV Lo 2 plays BV Lo 1's file in the last chorus: one voice in the middle instead of a double.",
    },
    {
        "id": "demo-delay-time", "class": "ambience", "channels": ["8th Dly"], "grade": "look",
        "plant": demo_delay_time,
        "says": "8th Dly stands at 267.9 ms, an eighth at the demo's 112; at 118 it is 254.2, as Qtr Throw confirms.",
    },
    {
        "id": "hook-into-plate", "class": "routing", "channels": ["Lead Hook"], "grade": "hold",
        "plant": hook_into_plate,
        "says": "Lead Hook is routed into the Plate return, not to MUSIC: it is heard as reverb only.",
    },
    {
        "id": "clip-off", "class": "inaudible", "channels": ["BV Mid 1"], "grade": "look", "plant": clip_off,
        "says": "The last chorus clip of BV Mid 1 is muted while all five others sing: the left mid voice drops out.",
    },
    {
        "id": "other-scale", "class": "processors", "channels": ["Ld Dbl L"], "grade": "look", "plant": other_scale,
        "says": "The pitch correction of Ld Dbl L is set to F minor; the song and all other voices are in F# minor.",
    },
    {
        "id": "loop-not-stretched", "class": "tempo", "channels": ["Perc Loop"], "grade": "hold",
        "plant": loop_not_stretched,
        "says": "One Perc Loop clip in chorus 2 runs at speed 1.0, i.e. at 120 against 118, and drifts; the rest fit.",
    },
    {
        "id": "correction-on", "class": "hand-over", "channels": ["MIX"], "grade": "hold", "plant": correction_on,
        "says": "The headphone correction at the end of MIX is on and would be printed.",
    },
    {
        "id": "makeup-slipped", "class": "headroom", "channels": ["DRUMS"], "grade": "hold", "plant": makeup_slipped,
        "says": "The bus compressor of DRUMS gives +15 dB make-up at 2:1 where BVs has 1.5: far too hot for MIX.",
    },
]  # fmt: skip
