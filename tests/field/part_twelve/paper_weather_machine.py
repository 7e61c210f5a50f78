"""Paper Weather Machine: alternative rock at 138 with two drummers, who face each other left and right.

Both kits, bass and the first guitars were played together: take 4 up to the second chorus, and from the bridge on a
second block, take 6, because the bridge is slower (126). The second pair of rhythm guitars was recorded dry and gets
its amplifier in the box; the pad was written as notes and then printed. Kits have a group each, both go to DRUMS with
a crushed parallel return; guitars and drums hang on VCAs, which carry the lifts. The engineer cuts drums in long clips
and overdubs section by section, with the guitars ringing out under a fade of the mix fader.
"""

from __future__ import annotations

from copy import deepcopy
from typing import Any

Session = dict[str, Any]

RATE = 48000.0
TEMPOS = [(0.0, 138.0), (296.0, 126.0), (360.0, 138.0)]
BARS = {
    "INTRO": 3.0,
    "V1": 11.0,
    "PC1": 27.0,
    "C1": 31.0,
    "V2": 43.0,
    "PC2": 59.0,
    "C2": 63.0,
    "BR": 75.0,
    "SOLO": 91.0,
    "C3": 99.0,
    "OUT": 115.0,
    "END": 123.0,
}
LABELS = ["INTRO", "VS 1", "PRE 1", "CH 1", "VS 2", "PRE 2", "CH 2", "BRIDGE (126)", "SOLO", "CH 3", "OUTRO", "END"]
NEXT = dict(zip(list(BARS), list(BARS)[1:], strict=False))
LIVE = "t4: INTRO V1 PC1 C1 V2 PC2 C2 | t6: BR SOLO C3 OUT"
SECOND = "t4: C1 | t4: C2 | t6: BR SOLO C3 OUT"
XF = 0.03
FEEDBACK = 7.5

# take: (bar at which its recording starts, length of its files); t4 and t6 are the live blocks, the rest overdubs
TAKES: dict[str, tuple[float, float]] = {
    "t4": (1.0, 139.6),
    "t6": (72.0, 112.4),
    "od1": (1.0, 226.8),
    "od2": (1.0, 224.0),
    "prt": (1.0, 221.0),
    "v3": (1.0, 206.5),
    "v5": (1.0, 138.9),
    "ref": (1.0, 209.3),
}


def bar(number: float) -> float:
    """Seconds at which a bar (from 1, four quarters each) begins under the tempo map."""
    beat, seconds = (number - 1.0) * 4.0, 0.0
    for n, (first, bpm) in enumerate(TEMPOS):
        last = TEMPOS[n + 1][0] if n + 1 < len(TEMPOS) else beat
        if beat > first:
            seconds += (min(beat, last) - first) * 60.0 / bpm
    return round(seconds, 6)


def at(section: str) -> float:
    """Seconds at which a section begins."""
    return bar(BARS[section])


def span(stem: str, take: str, sections: tuple[str, str], edges: tuple[float, float, float, float]) -> Session:
    """A clip of a take over the sections from one to another; edges: lead, tail and the two fades."""
    start, end = at(sections[0]) - edges[0], at(NEXT[sections[1]]) + edges[1]
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": f"{stem}_{take}_{sections[0]}",
        "plays": "audio",
        "file": f"{stem}_{take}",
        "offset_s": round(start - bar(TAKES[take][0]), 6),
        "speed": 1.0,
        "fade_in_s": edges[2],
        "fade_out_s": edges[3],
        "gain_db": 0.0,
        "on": True,
    }


def part(stem: str, plan: str, long: bool = False, tail: float = 0.25, ring: float = 0.0) -> list[Session]:
    """Clips from a plan such as ``t4: V1 C1 | t6: BR``; ``long`` keeps neighbouring sections of a take in one clip."""
    cells = [(s, p.split(":")[0].strip()) for p in plan.split("|") for s in p.split(":")[1].split()]
    runs: list[tuple[str, str, str]] = []
    for section, take in cells:
        if long and runs and runs[-1][2] == take and NEXT[runs[-1][1]] == section:
            runs[-1] = (runs[-1][0], section, take)
        else:
            runs.append((section, section, take))
    clips = []
    for n, (first, last, take) in enumerate(runs):
        before = runs[n - 1] if n and NEXT[runs[n - 1][1]] == first else None
        after = runs[n + 1] if n + 1 < len(runs) and runs[n + 1][0] == NEXT[last] else None
        lead, fade_in = (0.03, 0.01) if not before else (0.0, 0.0) if before[2] == take else (XF, XF)
        rest, fade_out = (tail, 0.12) if not after else (0.0, 0.0) if after[2] == take else (0.0, XF)
        if NEXT[last] == "END" and ring:
            rest, fade_out = ring, 1.5
        clips.append(span(stem, take, (first, last), (lead, rest, fade_in, fade_out)))
    return clips


def band(kind: str, freq: float, gain: float = 0.0, q: float = 1.0, slope: float | None = None) -> Session:
    """One equalizer band."""
    made: Session = {"kind": kind, "freq_hz": freq, "gain_db": gain, "on": True}
    made.update({"q": q} if slope is None else {"slope_db_per_oct": slope})
    return made


def eq(low_cut: float, *bells: tuple[float, float]) -> Session:
    """A low cut and some bells (frequency, gain)."""
    bands = [band("high-pass", low_cut, slope=12.0), *(band("bell", freq, gain) for freq, gain in bells)]
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": bands}}


def dyn(kind: str, settings: tuple[float, float, float, float], gain: float = 0.0, **more: Any) -> Session:
    """Dynamics: threshold, ratio, attack, release, and the gain after it."""
    keys = ("threshold_db", "ratio", "attack_ms", "release_ms")
    body: Session = {**dict(zip(keys, settings, strict=True)), "output_gain_db": gain, "auto_makeup": False, **more}
    return {"name": kind.capitalize(), "kind": kind, "on": True, "opaque": False, "dynamics": body}


def gate(threshold: float, depth: float) -> Session:
    """A gate for a tom."""
    body = {"threshold_db": threshold, "attack_ms": 0.5, "release_ms": 180.0, "range_db": depth}
    return {"name": "Gate", "kind": "gate", "on": True, "opaque": False, "dynamics": body}


def fx(kind: str, name: str, params: dict[str, tuple[Any, str]] | None = None, **more: Any) -> Session:
    """Any other processor with its listed parameters (value and unit)."""
    listed = [
        {"id": ident, "name": ident.replace("_", " "), "value": value, "unit": unit}
        for ident, (value, unit) in (params or {}).items()
    ]
    return {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": listed, **more}


def flip() -> Session:
    """A polarity switch, turned."""
    return fx("utility", "Pol", {"invert": (True, "")})


def amp() -> Session:
    """The amplifier for a guitar that was recorded dry."""
    return fx("distortion", "Amp sim", {"drive": (6.2, ""), "cab": ("4x12 closed", ""), "level": (-3.0, "dB")})


def send(to: str, level: float) -> Session:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(points: list[tuple[float, float]], target: str = "fader") -> Session:
    """A ride in straight lines."""
    times = [round(t, 6) for t, _ in points]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": [v for _, v in points]}


def steps(first: float, *levels: tuple[str, float]) -> Session:
    """A fader ride that reaches each level at a section's first beat, after a short slope."""
    points = [(0.0, first)]
    for section, level in levels:
        points += [(at(section) - 0.4, points[-1][1]), (at(section), level)]
    return ride(points)


def strip(ident: str, name: str, kind: str, place: tuple[int, float, float], out: str, **more: Any) -> Session:
    """A channel; ``place`` is its legs, fader and pan."""
    made: Session = {"id": ident, "name": name, "kind": kind, "output": out}
    made.update({"legs": place[0], "fader_db": place[1], "pan": place[2], "mute": False, "solo": False})
    if kind == "track":
        made["plays"] = ["audio"]
    made.update(more)
    return deepcopy(made)


def vca(ident: str, name: str, level: Session, comment: str = "") -> Session:
    """A VCA with its ride; no audio passes it."""
    made: Session = {"id": ident, "name": name, "kind": "vca", "fader_db": level["v"][0], "mute": False, "solo": False}
    return {**made, "output": None, "comment": comment, "automation": [level]}


def track(ident: str, name: str, place: tuple[int, float, float], out: str, **more: Any) -> Session:
    """An audio track."""
    return strip(ident, name, "track", place, out, **more)


def kits() -> list[Session]:
    """Both kits and the room between them."""

    def live(stem: str, ring: float = 4.0) -> list[Session]:
        """Kit A plays all the way."""
        return part(stem, LIVE, long=True, ring=ring)

    def second(stem: str, ring: float = 4.0) -> list[Session]:
        """Kit B plays in the choruses and from the bridge on."""
        return part(stem, SECOND, long=True, tail=0.9, ring=ring)

    kick = [eq(30.0, (60.0, 2.5), (320.0, -4.0), (3800.0, 3.0)), dyn("compressor", (-16.0, 4.0, 20.0, 80.0), 1.5)]
    snare = [eq(85.0, (200.0, 1.5), (900.0, -2.0)), dyn("compressor", (-15.0, 4.0, 12.0, 90.0), 2.0)]
    under = [flip(), eq(220.0, (5200.0, 2.0))]
    over = [eq(260.0, (3200.0, -1.5))]
    return [
        track("a_kik", "A Kick", (1, -5.0, -8.0), "kit_a", clips=live("a_kik", 1.0), inserts=list(kick)),
        track("a_sst", "A Snr Top", (1, -6.0, -15.0), "kit_a", clips=live("a_sst", 1.0), inserts=list(snare),
              sends=[send("verb", -16.0)]),
        track("a_ssb", "A Snr Bot", (1, -13.0, -15.0), "kit_a", clips=live("a_ssb", 1.0), inserts=list(under)),
        track("a_rck", "A Rack", (1, -7.0, -50.0), "kit_a", clips=live("a_rck", 1.0),
              inserts=[gate(-31.0, -16.0), eq(60.0, (420.0, -3.5))]),
        track("a_flr", "A Floor", (1, -7.0, 10.0), "kit_a", clips=live("a_flr", 1.0),
              inserts=[gate(-33.0, -16.0), eq(45.0, (380.0, -4.0))]),
        track("a_ohl", "A OH L", (1, -9.0, -90.0), "kit_a", clips=live("a_ohl"), inserts=list(over)),
        track("a_ohr", "A OH R", (1, -9.0, 30.0), "kit_a", clips=live("a_ohr"), inserts=list(over)),
        track("b_kik", "B Kick", (1, -6.0, 8.0), "kit_b", clips=second("b_kik", 1.0), inserts=list(kick),
              comment="choruses, then all from the bridge"),
        track("b_sst", "B Snr Top", (1, -7.0, 15.0), "kit_b", clips=second("b_sst", 1.0), inserts=list(snare),
              sends=[send("verb", -16.0)]),
        track("b_ssb", "B Snr Bot", (1, -14.0, 15.0), "kit_b", clips=second("b_ssb", 1.0), inserts=list(under)),
        track("b_flr", "B Floor", (1, -7.5, 60.0), "kit_b", clips=second("b_flr", 1.0),
              inserts=[gate(-32.0, -16.0), eq(45.0, (360.0, -4.0))]),
        track("b_ohl", "B OH L", (1, -10.0, -30.0), "kit_b", clips=second("b_ohl"), inserts=list(over)),
        track("b_ohr", "B OH R", (1, -10.0, 90.0), "kit_b", clips=second("b_ohr"), inserts=list(over)),
        track("room", "Drm Room", (2, -11.0, 0.0), "drums", parent="vca_d", clips=live("room"),
              comment="both kits, wide pair at the door",
              inserts=[eq(50.0), dyn("compressor", (-24.0, 6.0, 5.0, 120.0), 3.0)]),
    ]  # fmt: skip


def strings() -> list[Session]:
    """Bass, the layered guitars and their VCA lane."""
    riff = "od1: INTRO | od1: PC1 C1 | od1: PC2 C2 | od1: SOLO C3 OUT"
    wall = "od2: C1 | od2: C2 | od2: SOLO C3 OUT"
    loud, gtr = FEEDBACK, {"parent": "vca_g"}
    tone, sims = [eq(90.0, (280.0, -2.0), (2600.0, 1.0))], [amp(), eq(110.0, (350.0, -2.5), (4200.0, -1.5))]
    return [
        track("bdi", "Bass DI", (1, -9.0, 0.0), "bass", clips=part("bdi", LIVE, long=True, ring=3.0),
              inserts=[fx("utility", "Time", {"delay": (1.3, "ms")}), eq(35.0, (700.0, 1.5)),
                       dyn("compressor", (-22.0, 4.0, 8.0, 110.0), 3.0)]),
        track("bam", "Bass Amp", (1, -7.0, 0.0), "bass", clips=part("bam", LIVE, long=True, ring=3.0),
              comment="DI is delayed to this one", inserts=[eq(40.0, (240.0, -2.0), (1200.0, 2.0))]),
        track("r1l", "Rhy 1 L", (1, -8.0, -100.0), "gtrs", **gtr, clips=part("r1l", riff, ring=loud),
              inserts=list(tone)),
        track("r1r", "Rhy 1 R", (1, -8.0, 100.0), "gtrs", **gtr, clips=part("r1r", riff, ring=loud),
              inserts=list(tone)),
        track("r2l", "Rhy 2 L", (1, -11.0, -75.0), "gtrs", **gtr, clips=part("r2l", wall, ring=loud),
              comment="DI, amp in the box", inserts=list(sims)),
        track("r2r", "Rhy 2 R", (1, -11.0, 75.0), "gtrs", **gtr, clips=part("r2r", wall, ring=loud),
              comment="DI, amp in the box", inserts=list(sims)),
        track("arp", "Arp Gtr", (1, -10.0, 35.0), "gtrs", **gtr,
              clips=part("arp", "od1: V1 | od1: V2 | od1: BR", tail=0.9),
              inserts=[eq(140.0, (1800.0, 1.5)), fx("modulation", "Chorus", {"rate": (0.4, "Hz"), "mix": (35, "%")})],
              sends=[send("dly", -12.0), send("verb", -18.0)]),
        track("led", "Lead Gtr", (1, -7.5, 0.0), "gtrs", **gtr, clips=part("led", "od1: SOLO | od2: OUT", tail=1.2),
              comment="solo on od1, outro line on od2", inserts=[eq(120.0, (2200.0, 1.5))],
              sends=[send("dly", -14.0), send("verb", -15.0)]),
    ]  # fmt: skip


def keys() -> list[Session]:
    """The pad as notes and as a print, and the lead synthesizer."""
    where = "prt: PC1 C1 | prt: PC2 C2 BR | prt: C3"
    printed = part("pad", where, tail=1.8)
    notes = [
        {"start_s": at(s), "end_s": at(NEXT[s]), "name": f"pad {s}", "plays": "notes", "file": None, "on": True}
        for s in ("PC1", "C1", "PC2", "C2", "BR", "C3")
    ]
    return [
        track("pdm", "Syn Pad MIDI", (2, -12.0, 0.0), "mix", plays=["notes"], mute=True, clips=notes,
              comment="printed to Syn Pad, keep muted", sends=[send("verb", -14.0)],
              inserts=[fx("instrument", "Poly synth", {"patch": ("slow saws 3", "")}), eq(180.0, (600.0, -2.0))]),
        track("pad", "Syn Pad", (2, -12.0, 0.0), "mix", clips=printed, comment="print of the MIDI, EQ printed too",
              sends=[send("verb", -14.0)], inserts=[]),
        track("syl", "Syn Lead", (2, -13.5, 0.0), "mix", clips=part("syl", "od1: INTRO | od1: BR | od1: OUT"),
              inserts=[eq(200.0, (2800.0, -1.5))], sends=[send("dly", -18.0)]),
    ]  # fmt: skip


def voices() -> list[Session]:
    """Lead, double, backing pair and the old scratch."""
    comp = "v3: V1 PC1 C1 | v5: V2 PC2 | v3: C2 | v3: C3"
    throw = [(0.0, -14.0)]
    for section in ("C1", "C2"):
        last = at(NEXT[section])
        throw += [(last - 2.0, -14.0), (last - 1.8, -6.0), (last + 0.4, -6.0), (last + 0.6, -14.0)]
    chain = [
        eq(100.0, (280.0, -2.5), (3400.0, 1.5)),
        dyn("de-esser", (-28.0, 4.0, 1.0, 50.0)),
        dyn("compressor", (-22.0, 4.0, 4.0, 90.0), 4.0),
    ]
    choir = [eq(160.0, (300.0, -3.0)), dyn("compressor", (-24.0, 4.0, 6.0, 100.0), 3.0)]
    backing = "od1: C1 | od1: C2 | od1: BR | od1: C3"
    level = steps(-5.5, ("C1", -4.5), ("V2", -5.5), ("C2", -4.3), ("C3", -4.0))
    return [
        track("vox", "Ld Vox", (1, -5.5, 0.0), "vox_b", clips=part("vox", comp, tail=0.6), inserts=chain,
              sends=[send("verb", -15.0), send("dly", -14.0)],
              automation=[level, ride(throw, "send:1:level")]),
        track("dbl", "Ld Vox Dbl", (1, -14.0, 0.0), "vox_b", inserts=list(choir), sends=[send("verb", -13.0)],
              clips=part("dbl", "od1: C1 | od1: C2 | od2: C3", tail=0.4)),
        track("bvl", "BV Lo", (1, -12.0, -40.0), "vox_b", inserts=list(choir), sends=[send("verb", -12.0)],
              clips=part("bvl", backing, tail=0.5)),
        track("bvh", "BV Hi", (1, -12.5, 40.0), "vox_b", inserts=list(choir), sends=[send("verb", -12.0)],
              clips=part("bvh", backing, tail=0.5)),
        track("scr", "Scratch", (1, -8.0, 0.0), "mix", mute=True, comment="gtr + vox guide from rehearsal, not in mix",
              clips=part("scr", "ref: INTRO V1 PC1 C1 V2 PC2 C2", long=True)),
    ]  # fmt: skip


def buses() -> list[Session]:
    """Groups, returns, VCAs and the mix bus."""
    glue = dyn("compressor", (-12.0, 2.0, 30.0, 120.0), 1.0)
    fade = ride([(0.0, 0.0), (at("END") + 2.5, 0.0), (at("END") + FEEDBACK, -70.0)])
    guitars = steps(-1.5, ("C1", 0.0), ("V2", -1.5), ("C2", 0.0), ("BR", -1.5), ("SOLO", 0.0), ("C3", 0.5))
    room_eq = fx("monitor", "Room EQ (speakers)", {"profile": ("desk, small pair", "")})
    room_eq["on"] = False
    limiter = dyn("limiter", (-3.0, 20.0, 0.5, 80.0))
    limiter["parameters"] = [{"id": "ceiling", "name": "ceiling", "value": -1.0, "unit": "dB"}]
    return [
        strip("kit_a", "KIT A", "group", (2, -1.0, 0.0), "drums", parent="vca_d", sends=[send("crush", -8.0)]),
        strip("kit_b", "KIT B", "group", (2, -2.0, 0.0), "drums", parent="vca_d", sends=[send("crush", -8.0)]),
        strip("drums", "DRUMS", "group", (2, 0.0, 0.0), "mix", inserts=[glue]),
        strip("bass", "BASS", "group", (2, -1.0, 0.0), "mix", inserts=[dyn("compressor", (-15.0, 2.5, 25.0, 150.0))]),
        strip("gtrs", "GTRS", "group", (2, -1.5, 0.0), "mix", inserts=[eq(75.0, (3300.0, -1.0))]),
        strip("vox_b", "VOX", "group", (2, 0.0, 0.0), "mix", inserts=[dyn("compressor", (-14.0, 1.8, 20.0, 180.0))]),
        strip("crush", "Drm Crush", "return", (2, -9.0, 0.0), "drums", comment="parallel, all wet",
              inserts=[dyn("compressor", (-34.0, 10.0, 1.0, 60.0), 6.0), eq(40.0, (400.0, -2.0))]),
        strip("verb", "Verb", "return", (2, -3.0, 0.0), "mix",
              inserts=[eq(240.0), fx("reverb", "Plate", {"decay": (1.6, "s")}, wet=100.0, pre_delay_ms=22.0)]),
        strip("dly", "Dly", "return", (2, -4.0, 0.0), "mix", sends=[send("verb", -12.0)],
              inserts=[fx("delay", "Echo", {"time": ("1/8 dotted", "note"), "feedback": (32, "%")}, wet=100.0),
                       eq(300.0, (2500.0, -2.0))]),
        vca("vca_d", "VCA Drm", steps(0.0, ("C3", 0.7), ("OUT", 0.4))),
        vca("vca_g", "VCA Gtr", guitars,
            "lifts for the choruses are here"),
        {
            "id": "mix", "name": "Mix", "kind": "master", "legs": 2, "fader_db": 0.0, "pan": 0.0, "mute": False,
            "solo": False,
            "comment": "room EQ only for listening here, bypass for the bounce",
            "inserts": [eq(26.0, (11000.0, 1.0)), dyn("compressor", (-13.0, 2.0, 30.0, 100.0), 1.0),
                        fx("distortion", "Tape", {"drive": (2.0, "dB")}), limiter, fx("analyser", "Meter"), room_eq],
            "automation": [fade],
        },
    ]  # fmt: skip


def files(channels: list[Session]) -> list[Session]:
    """The media list: every file that a clip plays, as wide as its channel."""
    found: dict[str, Session] = {}
    for strip_ in channels:
        for clip in strip_.get("clips", []):
            ident = clip["file"]
            if ident is not None and ident not in found:
                take = ident.split("_")[-1]
                extra = 0.0 if take in ("t4", "t6") else sum(map(ord, ident)) % 37 / 10.0
                found[ident] = {
                    "id": ident,
                    "path": f"audio/{ident}.wav",
                    "place": "beside",
                    "present": True,
                    "legs": strip_["legs"],
                    "sample_rate_hz": RATE,
                    "duration_s": round(TAKES[take][1] + extra, 2),
                }
    return list(found.values())


def good() -> Session:
    """The session as it should be bounced."""
    channels = kits() + strings() + keys() + voices() + buses()
    return {
        "format": "mixlint-session/1",
        "title": "Paper Weather Machine MIX 7",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": at(s), "name": label} for s, label in zip(BARS, LABELS, strict=True)],
        "channels": channels,
        "media": files(channels),
    }


def channel(session: Session, name: str) -> Session:
    """The channel of a name."""
    found: Session = next(c for c in session["channels"] if c["name"] == name)
    return found


def insert_of(session: Session, name: str, label: str) -> Session:
    """A channel's processor by its name."""
    found: Session = next(i for i in channel(session, name)["inserts"] if i["name"] == label)
    return found


def scratch_open(session: Session) -> None:
    """The scratch was unmuted for a look at the form."""
    channel(session, "Scratch")["mute"] = False


def pad_twice(session: Session) -> None:
    """The notes of the pad play beside their print."""
    channel(session, "Syn Pad MIDI")["mute"] = False


def left_the_vca(session: Session) -> None:
    """One of the rhythm guitars has left the VCA."""
    channel(session, "Rhy 2 R")["parent"] = None


def overhead_low(session: Session) -> None:
    """The right overhead of kit B was left where it was pulled to."""
    channel(session, "B OH R")["fader_db"] = -19.0


def group_balance(session: Session) -> None:
    """The guitar group's balance was bumped."""
    channel(session, "GTRS")["pan"] = -24.0


def snare_not_flipped(session: Session) -> None:
    """The bottom microphone of kit B's snare is not turned."""
    insert_of(session, "B Snr Bot", "Pol")["parameters"][0]["value"] = False


def amp_off(session: Session) -> None:
    """The amplifier of one dry guitar is bypassed."""
    insert_of(session, "Rhy 2 R", "Amp sim")["on"] = False


def returns_in_a_ring(session: Session) -> None:
    """The reverb feeds the delay that feeds it."""
    channel(session, "Verb")["sends"] = [send("dly", -4.0)]


def solo_off(session: Session) -> None:
    """The clip of the solo stayed muted after comping."""
    channel(session, "Lead Gtr")["clips"][0]["on"] = False


def room_eq_on(session: Session) -> None:
    """The speaker correction is still on."""
    insert_of(session, "Mix", "Room EQ (speakers)")["on"] = True


def tempo_not_back(session: Session) -> None:
    """The tempo after the bridge was deleted."""
    session["timeline"]["tempos"].pop()


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["A OH L", "A OH R", "A Rack", "A Floor", "B OH L", "B OH R", "B Floor"],
        "why": "kit A sits left and kit B right, so each kit's own picture is off the middle",
    },
    {"channels": ["Syn Pad MIDI", "Scratch"], "why": "muted on purpose, with a comment that says so"},
    {"channels": ["Mix"], "why": "the room EQ is bypassed as the comment wants; the fader fades the feedback out"},
    {"channels": ["Dly"], "why": "the echoes get a little reverb by a send from their return"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "scratch-open",
        "class": "audible-that-should-not-be",
        "channels": ["Scratch"],
        "grade": "hold",
        "says": "Scratch is open although its comment says that the rehearsal guide is not in the mix.",
        "plant": scratch_open,
    },
    {
        "id": "pad-twice",
        "class": "twice",
        "channels": ["Syn Pad MIDI", "Syn Pad"],
        "grade": "hold",
        "says": "Syn Pad MIDI plays beside Syn Pad, its own print; the pad is there twice.",
        "plant": pad_twice,
    },
    {
        "id": "left-the-vca",
        "class": "routing",
        "channels": ["Rhy 2 R", "VCA Gtr"],
        "grade": "look",
        "says": "Rhy 2 R is the one guitar not under VCA Gtr; it misses the lifts that its partner gets.",
        "plant": left_the_vca,
    },
    {
        "id": "overhead-low",
        "class": "level",
        "channels": ["B OH R"],
        "grade": "look",
        "says": "B OH R is 9 dB below B OH L, while kit A's overheads are level with each other.",
        "plant": overhead_low,
    },
    {
        "id": "group-balance",
        "class": "place",
        "channels": ["GTRS"],
        "grade": "look",
        "says": "The group GTRS leans to -24 where every group is at the middle; the paired guitars tilt left.",
        "plant": group_balance,
    },
    {
        "id": "snare-not-flipped",
        "class": "phase",
        "channels": ["B Snr Bot"],
        "grade": "look",
        "says": "The polarity switch on B Snr Bot does not invert, A Snr Bot's does; it works against B Snr Top.",
        "plant": snare_not_flipped,
    },
    {
        "id": "amp-off",
        "class": "processors",
        "channels": ["Rhy 2 R"],
        "grade": "hold",
        "says": "The amp sim on Rhy 2 R is bypassed; a bare DI guitar plays against Rhy 2 L's amplifier.",
        "plant": amp_off,
    },
    {
        "id": "returns-in-a-ring",
        "class": "ambience",
        "channels": ["Verb", "Dly"],
        "grade": "hold",
        "says": "Verb sends to Dly and Dly sends to Verb: the two returns feed each other.",
        "plant": returns_in_a_ring,
    },
    {
        "id": "solo-off",
        "class": "inaudible",
        "channels": ["Lead Gtr"],
        "grade": "hold",
        "says": "Lead Gtr's clip in the solo is muted; the section of that name has no solo.",
        "plant": solo_off,
    },
    {
        "id": "room-eq-on",
        "class": "hand-over",
        "channels": ["Mix"],
        "grade": "hold",
        "says": "The speakers' room EQ is on in the mix bus; its comment wants it bypassed for the bounce.",
        "plant": room_eq_on,
    },
    {
        "id": "tempo-not-back",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The tempo stays at 126 after the bridge; behind the solo's start, markers and clips are off the bars.",
        "plant": tempo_not_back,
    },
]
