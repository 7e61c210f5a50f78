"""Velvet Ohm: synth-pop at 118, mix 7, 48 kHz.

The singer's producer sent four stems (delivery v5, all consolidated from bar 1) and the note tracks of the rest;
I run those live except for the warm pad, which was too heavy and has been printed. The kick feeds a key bus that goes
nowhere, and the basses, the pad, the strings and the synth group pump from it. The lead is one comp, cut by section
with a beat of pick-up; doubles in pre and chorus, a stack of six backing voices. The stack of chorus 2 is flown in from
chorus 1, chorus 3 was sung anew. Throws are drawn on the lead's third send. The client gets a print with the limiter.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

RATE = 48000.0
BPM = 118.0
BEAT = 60.0 / BPM
KEY = "SC KICK"
SPANS: dict[str, tuple[int, int]] = {
    "IN": (1, 9), "V1": (9, 25), "P1": (25, 33), "C1": (33, 49), "V2": (49, 65), "P2": (65, 73), "C2": (73, 89),
    "BR": (89, 105), "C3": (105, 121), "OUT": (121, 129), "V1b": (17, 25), "V2b": (57, 65), "BRa": (89, 97),
    "BRb": (97, 105), "OUTa": (121, 125), "fill1": (32, 33), "fill2": (72, 73), "fill3": (104, 105),
    "rise1": (31, 35), "rise2": (71, 75), "rise3": (103, 107), "swell": (127, 131),
}  # fmt: skip
LEAD: list[tuple[str, int, int, float]] = [
    ("V1a", 9, 17, 0.0), ("V1b", 17, 25, -1.0), ("P1", 25, 33, 0.5), ("C1a", 33, 41, -0.5), ("C1b", 41, 49, -0.5),
    ("V2a", 49, 57, 0.0), ("V2b", 57, 65, 1.0), ("P2", 65, 73, 0.5), ("C2a", 73, 81, -0.5), ("C2b", 81, 89, -0.5),
    ("BRb", 97, 105, 1.5), ("C3a", 105, 113, -1.0), ("C3b", 113, 121, -1.0), ("OUT", 121, 125, 0.0),
]  # fmt: skip
THROW_BARS = [24, 32, 48, 64, 72, 88, 120, 124]


def at(bar: float, beat: float = 1.0) -> float:
    """The second at which a beat of a bar falls."""
    return round(((bar - 1.0) * 4.0 + beat - 1.0) * BEAT, 6)


def audio(name: str, file: str, start: float, end: float, offset: float, gain: float = 0.0) -> Item:
    """A clip of a file, as recorded."""
    return {
        "start_s": start, "end_s": end, "name": name, "plays": "audio", "file": file, "offset_s": offset, "speed": 1.0,
        "fade_in_s": 0.01, "fade_out_s": 0.04, "gain_db": gain, "on": True,
    }  # fmt: skip


def notes(part: str, spans: str) -> list[Item]:
    """One clip of notes for each span."""
    return [
        {"start_s": at(SPANS[s][0]), "end_s": at(SPANS[s][1]), "name": f"{part} {s}", "plays": "notes", "file": None}
        for s in spans.split()
    ]


def stem(part: str, file: str, spans: str) -> list[Item]:
    """The spans of a stem that was consolidated from bar 1."""
    return [audio(part, file, at(SPANS[s][0]), at(SPANS[s][1]), at(SPANS[s][0])) for s in spans.split()]


def sung(part: str, file: str, spans: str) -> list[Item]:
    """Clips of a sung comp with a beat of pick-up, cut where the lead is cut."""
    clips = []
    for name, first, last, gain in LEAD:
        if any(name.startswith(s) for s in spans.split()):
            start = round(at(first) - BEAT, 6)
            clips.append(audio(f"{part} {name}", file, start, round(at(last) - BEAT, 6), start, gain))
    return clips


def stacked(part: str, file: str) -> list[Item]:
    """The choruses of a backing voice: chorus 2 is chorus 1 again."""
    clips = []
    for span, source in (("C1", "C1"), ("C2", "C1"), ("C3", "C3")):
        end = round(at(SPANS[span][1]) - 0.5 * BEAT, 6)
        clips.append(audio(f"{part} {span}", file, at(SPANS[span][0]), end, at(SPANS[source][0])))
    return clips


def insert(name: str, kind: str, **more: Any) -> Item:
    """A processor whose settings can be read."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, **more}


def inst(name: str) -> Item:
    """An instrument; its sound sits in a blob."""
    return {"name": name, "kind": "instrument", "on": True, "opaque": True}


def par(name: str, value: float | str | bool, unit: str = "") -> Item:
    """A listed parameter."""
    return {"id": name.replace(" ", "_"), "name": name, "value": value, "unit": unit}


def cut(freq: float, kind: str = "high-pass", slope: float = 12.0) -> Item:
    """A high-pass or low-pass band."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def bell(freq: float, gain: float, q: float = 1.0, kind: str = "bell") -> Item:
    """A band with a gain."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def eq(*bands: Item, name: str = "EQ", kind: str = "equalizer") -> Item:
    """An equalizer."""
    return insert(name, kind, equalizer={"bands": list(bands)})


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0, key: str = "") -> Item:
    """A compressor, keyed if a key is named."""
    dynamics = {
        "threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release, "output_gain_db": out,
        "auto_makeup": False,
    }  # fmt: skip
    return insert(
        "Pump" if key else "Comp", "compressor", dynamics=dynamics, parameters=[par("key", key or "internal")]
    )


def tune(speed: float) -> Item:
    """The pitch corrector in the song's key."""
    return insert("Tune", "pitch", parameters=[par("key", "F# minor"), par("speed", speed, "ms")])


def deess(amount: float) -> Item:
    """A de-esser."""
    return insert("De-esser", "de-esser", parameters=[par("freq", 6800.0, "Hz"), par("range", amount, "dB")])


def to(target: str, level: float, tap: str = "post") -> Item:
    """A send."""
    return {"to": target, "level_db": level, "pan": 0.0, "tap": tap, "on": True}


def draw(target: str, scale: str, shape: str, *points: tuple[float, float]) -> Item:
    """An automation lane from points of time and value."""
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def strip(ident: str, name: str, out: str | None, fader: float, pan: float = 0.0, **more: Any) -> Item:
    """A channel with whatever differs from the plain one."""
    made: Item = {
        "id": ident, "name": name, "kind": "track", "legs": 2, "fader_db": fader, "pan": pan, "mute": False,
        "solo": False, "output": out, "sends": [], "inserts": [], "clips": [], "automation": [],
    }  # fmt: skip
    if out in {"drums", "bass", "synths", "vox", "bvs"}:
        made["parent"] = out
    made.update(more)
    return made


def played(ident: str, name: str, out: str, fader: float, pan: float, spans: str, **more: Any) -> Item:
    """A note track."""
    return strip(ident, name, out, fader, pan, plays=["notes"], clips=notes(name, spans), **more)


def group(ident: str, name: str, out: str, fader: float, inserts: list[Item], **more: Any) -> Item:
    """A group."""
    return strip(ident, name, out, fader, kind="group", inserts=inserts, **more)


def effect(ident: str, name: str, fader: float, inserts: list[Item], **more: Any) -> Item:
    """A return into the mix."""
    return strip(ident, name, "mix", fader, kind="return", inserts=inserts, **more)


def drum_channels() -> list[Item]:
    """Drums, the producer's loop and percussion, the key bus."""
    snare_plate = draw(
        "send:0:level", "dB", "hold", (0.0, -12.0), (at(33), -8.0), (at(49), -12.0), (at(73), -8.0), (at(89), -12.0),
        (at(105), -7.0),
    )  # fmt: skip
    group_filter = draw(
        "insert:0:band:1:freq", "plain", "linear", (0.0, 20.0), (at(31), 20.0), (at(33), 320.0), (at(33), 20.0),
        (at(71), 20.0), (at(73), 320.0), (at(73), 20.0), (at(103), 20.0), (at(105), 420.0), (at(105), 20.0),
    )  # fmt: skip
    return [
        played("kick", "KICK", "drums", -6.0, 0.0, "V1 P1 C1 V2 P2 C2 BRb C3 OUTa", folder=["Beat"],
               inserts=[inst("Drum synth"), eq(bell(55, 2.0), bell(320, -3.5, 1.4), bell(3800, 2.0)),
                        comp(-14, 4, 12, 80, 1.5)],
               sends=[to("key", 0.0, "pre")]),
        played("snare", "SNARE", "drums", -7.5, 0.0, "V1 P1 C1 V2 P2 C2 C3", folder=["Beat"],
               inserts=[inst("Drum sampler"), eq(cut(110), bell(210, 2.0), bell(5200, 2.5)),
                        comp(-16, 3.5, 18, 120, 2)],
               sends=[to("gated", -12.0), to("plate", -22.0)], automation=[snare_plate]),
        played("hh", "HH seq", "drums", -15.5, 18.0, "V1 P1 C1 V2 P2 C2 C3 OUT", folder=["Beat"],
               inserts=[inst("Drum synth"), eq(cut(420))]),
        played("toms", "Toms fills", "drums", -10.0, 0.0, "fill1 fill2 fill3", folder=["Beat"],
               inserts=[inst("Drum sampler"), eq(cut(60), bell(400, -3.0))], sends=[to("gated", -9.0)]),
        strip("ploop", "PROD loop", "drums", -14.0, plays=["audio"], folder=["PROD stems"],
              inserts=[eq(cut(180, slope=24), bell(7000, 1.5, kind="high-shelf"))],
              clips=stem("PROD_loop_v5", "f_loop", "C1 V2 C2 C3")),
        strip("pperc", "PROD perc", "drums", -16.0, plays=["audio"], folder=["PROD stems"], inserts=[eq(cut(200))],
              sends=[to("hall", -20.0)], clips=stem("PROD_perc_v5", "f_perc", "IN V1 C1 V2 C2 C3 OUT")),
        group("drums", "DRUMS", "mix", -2.0,
              [eq(cut(20), name="DJ cut", kind="filter"), comp(-12, 2, 30, 110, 1.0),
               insert("Sat", "distortion", wet=25.0)], automation=[group_filter]),
        strip("key", KEY, None, 0.0, kind="group", legs=1, inserts=[eq(cut(150, "low-pass"))],
              comment="key for the pumps, not to be heard, no output on purpose"),
    ]  # fmt: skip


def bass_channels() -> list[Item]:
    """Two basses and their group."""
    return [
        played("sub", "Sub", "bass", -11.0, 0.0, "C1 V2 C2 C3", legs=1,
               inserts=[inst("Sine synth"), eq(cut(90, "low-pass", 24)), comp(-28, 4, 2, 140, key=KEY)]),
        played("seqb", "Seq bass", "bass", -8.5, 0.0, "V1 P1 C1 V2 P2 C2 BRb C3 OUTa",
               inserts=[inst("Analog-style mono"), eq(cut(45), bell(750, 1.5), bell(220, -2.0)),
                        comp(-20, 3, 15, 90, 2), comp(-26, 3, 3, 160, key=KEY)],
               sends=[to("plate", -30.0)],
               automation=[draw("insert:1:band:2:gain", "dB", "hold", (0.0, 1.5), (at(33), 3.0), (at(49), 1.5),
                                (at(73), 3.0), (at(89), 1.5), (at(105), 3.0))]),
        group("bass", "BASS", "mix", -1.5, [comp(-15, 2.5, 25, 130, 1), insert("Sat", "distortion", wet=18.0)]),
    ]  # fmt: skip


def synth_channels() -> list[Item]:
    """Arps, pads, stabs, leads and the producer's strings and effects."""
    sweep = draw(
        "insert:1:band:1:freq", "plain", "linear", (0.0, 400.0), (at(9), 1100.0), (at(25), 1100.0), (at(33), 9000.0),
        (at(33), 15000.0), (at(49), 15000.0), (at(65), 700.0), (at(73), 9000.0), (at(73), 15000.0), (at(89), 15000.0),
        (at(89), 500.0), (at(105), 8000.0), (at(105), 15000.0), (at(121), 15000.0), (at(129), 300.0),
    )  # fmt: skip
    arp_hall = draw("send:0:level", "dB", "linear", (0.0, -18.0), (at(89), -18.0), (at(101), -7.0), (at(105), -7.0),
                    (at(105), -18.0), (at(121), -18.0), (at(129), -8.0))  # fmt: skip
    string_ride = draw("fader", "dB", "linear", (0.0, -15.0), (at(33), -13.0), (at(49), -15.0), (at(73), -13.0),
                       (at(89), -15.0), (at(97), -15.0), (at(105), -12.5))  # fmt: skip
    return [
        played("arp", "Arp", "synths", -11.0, -24.0, "IN V1 P1 C1 P2 C2 BR C3 OUT",
               inserts=[inst("Analog-style poly"), eq(cut(400, "low-pass", 24), name="Filter", kind="filter"),
                        eq(cut(160), bell(2600, -1.5))],
               sends=[to("hall", -18.0), to("dot", -16.0)], automation=[sweep, arp_hall]),
        played("arp8", "Arp 8va", "synths", -16.0, 32.0, "C1 C2 C3",
               inserts=[inst("Analog-style poly"), eq(cut(400))], sends=[to("hall", -16.0), to("dot", -14.0)]),
        played("padn", "Pad warm", "synths", -14.0, 0.0, "V1b P1 C1 V2 P2 C2 BR C3 OUT", mute=True,
               inserts=[inst("Wavetable synth"), eq(cut(140)), comp(-24, 2.5, 5, 220, key=KEY)],
               sends=[to("hall", -15.0)], comment="printed -> Pad warm PRINT (cpu). keep for recalls only"),
        strip("padp", "Pad warm PRINT", "synths", -14.0, plays=["audio"],
              inserts=[eq(cut(140)), comp(-24, 2.5, 5, 220, key=KEY)], sends=[to("hall", -15.0)],
              clips=stem("Pad_warm_print_02", "f_pad", "V1b P1 C1 V2 P2 C2 BR C3 OUT")),
        strip("pstr", "PROD strings", "synths", -15.0, plays=["audio"], folder=["PROD stems"],
              inserts=[eq(cut(220), bell(3200, -2.0)), comp(-25, 2, 6, 200, key=KEY)], sends=[to("hall", -13.0)],
              clips=stem("PROD_strings_v5", "f_str", "P1 C1 P2 C2 BR C3"), automation=[string_ride]),
        played("stl", "Stabs L", "synths", -14.5, -64.0, "C1 C2 C3",
               inserts=[inst("FM synth"), eq(cut(250))], sends=[to("plate", -17.0)]),
        played("str", "Stabs R", "synths", -14.5, 64.0, "C1 C2 C3", comment="other patch, +7 ct",
               inserts=[inst("FM synth"), eq(cut(250))], sends=[to("plate", -17.0)]),
        played("ldsy", "Lead syn", "synths", -12.0, 0.0, "IN BRb C3 OUT",
               inserts=[inst("Analog-style mono"), eq(cut(220), bell(1800, -2.0)),
                        insert("Chorus", "modulation", wet=40.0)],
               sends=[to("dot", -13.0), to("hall", -17.0)],
               automation=[draw("fader", "dB", "hold", (0.0, -12.0), (at(105), -15.0), (at(121), -12.0))]),
        played("bell", "Bell", "synths", -18.0, 48.0, "V2 P2 OUT", inserts=[inst("FM synth"), eq(cut(600))],
               sends=[to("hall", -10.0), to("dot", -18.0)]),
        strip("pfx", "PROD FX", "synths", -13.0, plays=["audio"], folder=["PROD stems"], inserts=[eq(cut(70))],
              sends=[to("hall", -12.0)], clips=stem("PROD_fx_v5", "f_fx", "rise1 rise2 rise3 swell")),
        group("synths", "SYNTHS", "mix", -2.5, [eq(bell(300, -1.0), bell(10000, 1.0, kind="high-shelf")),
                                                comp(-22, 1.8, 8, 180, key=KEY)]),
    ]  # fmt: skip


def backing(ident: str, name: str, fader: float, pan: float, file: str, low: float, plate: float) -> Item:
    """One voice of the chorus stack."""
    return strip(
        ident, name, "bvs", fader, pan, legs=1, plays=["audio"], inserts=[eq(cut(low)), tune(8.0), deess(-6.0)],
        sends=[to("plate", plate)], clips=stacked(name, file),
    )  # fmt: skip


def oohs(ident: str, name: str, pan: float, file: str) -> Item:
    """One voice of the ooh pad."""
    clips = [
        audio(f"{name} {s}", file, at(SPANS[s][0]), at(SPANS[s][1]), at(SPANS[s][0])) for s in ("V2b", "BRa", "OUT")
    ]
    for clip in clips:
        clip["fade_in_s"], clip["fade_out_s"] = 0.3, 0.8
    return strip(ident, name, "bvs", -16.0, pan, legs=1, plays=["audio"], clips=clips,
                 inserts=[eq(cut(220)), tune(8.0)], sends=[to("hall", -11.0)])  # fmt: skip


def vocal_channels() -> list[Item]:
    """Lead, doubles, the stack and the two vocal groups."""
    throws = draw(
        "send:2:level", "dB", "hold", (0.0, -200.0),
        *[point for bar in THROW_BARS for point in ((at(bar, 2.5), -7.0), (at(bar, 4.0), -200.0))],
    )  # fmt: skip
    ride = draw(
        "fader", "dB", "linear", (0.0, -6.0), (at(25), -6.0), (at(32), -5.2), (at(33), -4.8), (at(48), -4.8),
        (at(49), -6.0), (at(60), -5.6), (at(65), -5.6), (at(73), -4.8), (at(88), -4.8), (at(97), -6.5), (at(104), -5.5),
        (at(105), -4.4), (at(120), -4.4), (at(121), -5.5),
    )  # fmt: skip
    bv_ride = draw("fader", "dB", "hold", (0.0, -4.0), (at(33), -3.0), (at(49), -4.0), (at(73), -3.0), (at(89), -4.0),
                   (at(105), -2.2), (at(121), -4.0))  # fmt: skip
    air = eq(bell(3400, 1.5), bell(12000, 2.5, kind="high-shelf"), name="EQ air")
    chain = [eq(cut(95, slope=18), bell(280, -2.5, 1.6)), tune(22.0), comp(-22, 4, 3, 70, 3), deess(-5.0),
             comp(-18, 2, 20, 250, 2), air]  # fmt: skip
    doubled = [strip(i, n, "vox", -15.0, p, legs=1, plays=["audio"], clips=sung(n, f, "P C"),
                     inserts=[eq(cut(180), bell(5000, -1.5)), tune(10.0), comp(-24, 5, 2, 80, 2), deess(-8.0)],
                     sends=[to("plate", -19.0)])
               for i, n, p, f in (("dl", "LD DBL L", -36.0, "f_dl"), ("dr", "LD DBL R", 36.0, "f_dr"))]  # fmt: skip
    return [
        strip("lead", "LD VOX", "vox", -6.0, legs=1, plays=["audio"], inserts=chain,
              clips=sung("LD", "f_ld", "V P C BR OUT"),
              sends=[to("plate", -15.0), to("dot", -21.0), to("throw", -200.0)], automation=[ride, throws],
              comment="comp v3, throws on send 3"),
        strip("alt", "LD VOX alt C3", "vox", -6.0, legs=1, plays=["audio"], mute=True,
              inserts=[eq(cut(95)), tune(22.0)],
              clips=sung("LD alt", "f_alt", "C3"), comment="alt last chorus, singer wants the main take. leave muted"),
        *doubled,
        backing("hl", "BV hi L", -13.0, -72.0, "f_hl", 190, -13.0),
        backing("hr", "BV hi R", -13.0, 72.0, "f_hr", 190, -13.0),
        backing("ll", "BV lo L", -14.0, -45.0, "f_ll", 150, -14.0),
        backing("lr", "BV lo R", -14.0, 45.0, "f_lr", 150, -14.0),
        oohs("ol", "BV oo L", -88.0, "f_ol"),
        oohs("or", "BV oo R", 88.0, "f_or"),
        group("bvs", "BVs", "vox", -4.0, [comp(-20, 3, 8, 120, 2), eq(bell(9000, 1.5, kind="high-shelf"))],
              automation=[bv_ride], comment="C2 flown from C1, C3 own takes"),
        group("vox", "VOX", "mix", -1.0, [comp(-14, 1.8, 20, 160, 0.5)]),
    ]  # fmt: skip


def return_channels() -> list[Item]:
    """Reverbs and delays, all wholly wet."""
    return [
        effect("plate", "RV PLATE", -8.0, [insert("Plate", "reverb", wet=100.0, pre_delay_ms=28.0,
                                                  parameters=[par("decay", 1.7, "s")]),
                                           eq(cut(240), cut(9500, "low-pass"))]),
        effect("hall", "RV HALL", -9.0, [insert("Hall", "reverb", wet=100.0, pre_delay_ms=45.0,
                                                parameters=[par("decay", 3.4, "s")]),
                                         eq(cut(300), cut(8000, "low-pass"))]),
        effect("gated", "RV GATE", -10.0,
               [insert("Room", "reverb", wet=100.0, pre_delay_ms=0.0, parameters=[par("decay", 2.2, "s")]),
                insert("Gate", "gate", dynamics={"threshold_db": -32.0, "attack_ms": 0.5, "release_ms": 60.0,
                                                 "range_db": -70.0}, parameters=[par("hold", 260.0, "ms")]),
                eq(cut(150))]),
        effect("dot", "DL 1/8D", -8.0,
               [insert("Delay", "delay", wet=100.0,
                       parameters=[par("time", round(750.0 * BEAT, 1), "ms"), par("feedback", 28.0, "%")]),
                eq(cut(320), cut(6500, "low-pass"))],
               sends=[to("plate", -20.0)], comment="dotted eighth, free ms"),
        effect("throw", "DL THROW", -6.0,
               [insert("Delay", "delay", wet=100.0,
                       parameters=[par("time", round(1000.0 * BEAT, 1), "ms"), par("feedback", 46.0, "%")]),
                eq(cut(380), cut(5000, "low-pass")), insert("Chorus", "modulation", wet=30.0)],
               sends=[to("hall", -12.0)], comment="quarter, free ms"),
    ]  # fmt: skip


def mix_channel() -> Item:
    """The mix bus."""
    limit = {"threshold_db": -1.0, "release_ms": 80.0, "input_gain_db": 3.0, "output_gain_db": 0.0}
    return strip(
        "mix", "MIX", None, 0.0, kind="master",
        inserts=[eq(cut(24), bell(60, 0.5, kind="low-shelf"), bell(11000, 0.8, kind="high-shelf")),
                 comp(-10, 1.6, 30, 120, 0.5), insert("Limiter", "limiter", dynamics=limit),
                 insert("A/B trim", "utility", on=False, parameters=[par("gain", 4.5, "dB")]),
                 insert("Meter", "analyser")],
        comment="A/B trim only against the reference, off for print",
    )  # fmt: skip


def media() -> list[Item]:
    """The files: stems, the pad print, the voices."""
    rows = [
        ("f_loop", "stems_v5/PROD_loop_v5.wav", 2, 268.5), ("f_perc", "stems_v5/PROD_perc_v5.wav", 2, 268.5),
        ("f_str", "stems_v5/PROD_strings_v5.wav", 2, 268.5), ("f_fx", "stems_v5/PROD_fx_v5.wav", 2, 268.5),
        ("f_pad", "prints/Pad_warm_print_02.wav", 2, 266.8), ("f_ld", "vox/LD_comp_v3.wav", 1, 262.7),
        ("f_alt", "vox/LD_alt_C3.wav", 1, 262.7), ("f_dl", "vox/LD_dbl_L.wav", 1, 261.9),
        ("f_dr", "vox/LD_dbl_R.wav", 1, 262.3), ("f_hl", "vox/BV_hi_L.wav", 1, 261.2),
        ("f_hr", "vox/BV_hi_R.wav", 1, 261.4), ("f_ll", "vox/BV_lo_L.wav", 1, 260.8),
        ("f_lr", "vox/BV_lo_R.wav", 1, 261.0), ("f_ol", "vox/BV_oo_L.wav", 1, 262.1),
        ("f_or", "vox/BV_oo_R.wav", 1, 262.5),
    ]  # fmt: skip
    return [
        {"id": i, "path": p, "place": "beside", "present": True, "legs": n, "sample_rate_hz": RATE, "duration_s": d}
        for i, p, n, d in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    mix = mix_channel()
    del mix["output"]
    marks = [(s, SPANS[s][0]) for s in ("IN", "V1", "P1", "C1", "V2", "P2", "C2", "BR", "C3", "OUT")]
    return {
        "format": "mixlint-session/1",
        "title": "Velvet Ohm mix 7",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": at(bar), "name": name} for name, bar in [*marks, ("END of print", 132)]],
        "channels": [
            *drum_channels(), *bass_channels(), *synth_channels(), *vocal_channels(), *return_channels(), mix,
        ],
        "media": media(),
        "metadata": {"version": "mix 7", "print": "48/24, limiter on, ceiling -1", "key": "F# minor"},
    }  # fmt: skip


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def low_voice_centred(session: Session) -> None:
    """The pan of one low voice was reset."""
    channel(session, "BV lo R")["pan"] = 0.0


def sweep_lost(session: Session) -> None:
    """The points of the second opening were erased, from the end of the pre-chorus on."""
    lane = channel(session, "Arp")["automation"][0]
    keep = [k for k, t in enumerate(lane["t"]) if not (at(73) <= t <= at(89)) or lane["v"][k] == 500.0]
    lane["t"], lane["v"] = [lane["t"][k] for k in keep], [lane["v"][k] for k in keep]


def pad_source_on(session: Session) -> None:
    """The note track of the printed pad was opened for a look and stayed open."""
    channel(session, "Pad warm")["mute"] = False


def key_heard(session: Session) -> None:
    """The key bus got the default output."""
    channel(session, KEY)["output"] = "mix"


def delay_of_old_tempo(session: Session) -> None:
    """The dotted eighth still has the time of a demo at 112."""
    channel(session, "DL 1/8D")["inserts"][0]["parameters"][0]["value"] = round(45000.0 / 112.0, 1)


def tuned_to_another_key(session: Session) -> None:
    """The corrector of one voice stands one entry further in the menu."""
    channel(session, "BV hi L")["inserts"][1]["parameters"][0]["value"] = "F minor"


def key_send_off(session: Session) -> None:
    """The send to the key bus was switched off."""
    channel(session, "KICK")["sends"][0]["on"] = False


def old_stem(session: Session) -> None:
    """One stem was relinked to the earlier delivery."""
    file = next(f for f in session["media"] if f["id"] == "f_perc")
    file["path"] = "stems_v3/PROD_perc_v3.wav"


def flown_late(session: Session) -> None:
    """One flown chorus was dropped a beat late."""
    clip = channel(session, "BV lo L")["clips"][1]
    clip["start_s"], clip["end_s"] = round(clip["start_s"] + BEAT, 6), round(clip["end_s"] + BEAT, 6)


def stray_riser(session: Session) -> None:
    """A copied riser was parked behind the song."""
    channel(session, "PROD FX")["clips"].append(audio("PROD_fx_v5", "f_fx", at(150), at(154), at(31)))


def trim_left_on(session: Session) -> None:
    """The trim for comparing stayed on after the limiter."""
    channel(session, "MIX")["inserts"][3]["on"] = True


ACCEPTED: list[dict[str, Any]] = [
    {"channels": [KEY], "why": "a key bus without an output, on purpose; it only feeds side chains"},
    {"channels": ["Pad warm"], "why": "muted source of the printed pad, kept for recalls"},
    {"channels": ["LD VOX alt C3"], "why": "muted alternative take, said so in its comment"},
    {"channels": ["MIX"], "why": "a bypassed trim after the limiter, only used against the reference"},
    {"channels": ["BVs"], "why": "the stack of chorus 2 is chorus 1 again, on purpose"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "low-voice-centred",
        "class": "place",
        "channels": ["BV lo R"],
        "grade": "look",
        "says": "BV lo R sits in the middle although its partner BV lo L is at 45 left.",
        "plant": low_voice_centred,
    },
    {
        "id": "sweep-lost",
        "class": "automation",
        "channels": ["Arp"],
        "grade": "hold",
        "says": "The arp's low-pass opens into choruses 1 and 3, but stays at 500 to 700 Hz all through chorus 2.",
        "plant": sweep_lost,
    },
    {
        "id": "pad-source-on",
        "class": "twice",
        "channels": ["Pad warm", "Pad warm PRINT"],
        "grade": "hold",
        "says": "Pad warm plays along with its own print; by its comment only the print should sound.",
        "plant": pad_source_on,
    },
    {
        "id": "key-heard",
        "class": "audible-that-should-not-be",
        "channels": [KEY],
        "grade": "hold",
        "says": "The key bus SC KICK goes to the mix, so a second, dull kick is heard; it should have no output.",
        "plant": key_heard,
    },
    {
        "id": "delay-of-old-tempo",
        "class": "ambience",
        "channels": ["DL 1/8D"],
        "grade": "look",
        "says": "DL 1/8D repeats after 401.8 ms, which is a dotted eighth at 112; at 118 it would be 381.4 ms.",
        "plant": delay_of_old_tempo,
    },
    {
        "id": "tuned-to-another-key",
        "class": "processors",
        "channels": ["BV hi L"],
        "grade": "hold",
        "says": "The pitch corrector of BV hi L is in F minor, that of all other voices in F# minor.",
        "plant": tuned_to_another_key,
    },
    {
        "id": "key-send-off",
        "class": "routing",
        "channels": ["KICK", KEY],
        "grade": "hold",
        "says": "The kick's send to SC KICK is off, so that nothing feeds the key of any of the pumping compressors.",
        "plant": key_send_off,
    },
    {
        "id": "old-stem",
        "class": "files",
        "channels": ["PROD perc"],
        "grade": "look",
        "says": "PROD perc plays the stem of delivery v3, while its clips are named v5 and all other stems are v5.",
        "plant": old_stem,
    },
    {
        "id": "flown-late",
        "class": "edits",
        "channels": ["BV lo L"],
        "grade": "hold",
        "says": "The chorus 2 clip of BV lo L starts a beat later than that of the other voices flown from chorus 1.",
        "plant": flown_late,
    },
    {
        "id": "stray-riser",
        "class": "end",
        "channels": ["PROD FX"],
        "grade": "look",
        "says": "A copy of the first riser lies 37 s behind the end marker and would be in the print.",
        "plant": stray_riser,
    },
    {
        "id": "trim-left-on",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The A/B trim of +4.5 dB after the limiter is on; the print would run into full scale.",
        "plant": trim_left_on,
    },
]
