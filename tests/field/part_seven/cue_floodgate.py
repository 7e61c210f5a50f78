"""A film cue, reel 4, "4M07 Floodgate": sampled orchestra in sections, live strings on top, synth pulses below.

The composer's sample tracks came as stereo prints (version 6, all of them from bar 1, all of the same length). The
strings were recorded afterwards with a tree, two outriggers and five spots in four takes; every microphone is cut at
the same places. Pulses and drone still run from notes. Four stems go to the dub stage, each with its own reverb, so
that the stems add up to the mix; the same catch limiter sits on each stem and nothing but a meter on the sum. Click,
dialogue guide and the composer's mock-up hang on a bus that goes to the headphones only. The engineer rides the parts
that sit under the line in bars 19 to 22 and leaves the stem faders at zero.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Dict = dict[str, Any]

RATE = 48000.0
TEMPOS: list[tuple[float, float]] = [(0.0, 96.0), (56.0, 104.0), (109.0, 112.0), (189.0, 72.0)]
PRINT_LENGTH = 158.0
JOIN = 0.03


def beat_of(bar: float) -> float:
    """The beat on which a bar begins; bar 27 has five beats, all the others four."""
    return (bar - 1.0) * 4.0 if bar <= 27.0 else 109.0 + (bar - 28.0) * 4.0


def at(bar: float) -> float:
    """The second at which a bar begins, by the tempo map."""
    beat, seconds = beat_of(bar), 0.0
    for number, (start, bpm) in enumerate(TEMPOS):
        stop = TEMPOS[number + 1][0] if number + 1 < len(TEMPOS) else float("inf")
        if beat > start:
            seconds += (min(beat, stop) - start) * 60.0 / bpm
    return round(seconds, 6)


def clip(start: float, end: float, name: str, file: str | None, offset: float, fades: tuple[float, float]) -> Dict:
    """One clip; without a file it holds notes."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio" if file else "notes",
        "file": file,
        "offset_s": round(offset, 6),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7) -> Dict:
    """A shelf or a bell."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def low_cut(freq: float, slope: float = 12.0) -> Dict:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "q": 0.7, "on": True}


def eq(*bands: Dict) -> Dict:
    """A channel equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(threshold: float, ratio: float, attack: float, release: float, makeup: float = 0.0) -> Dict:
    """A compressor."""
    return {
        "name": "Comp",
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": makeup,
            "auto_makeup": False,
        },
    }


def catch() -> Dict:
    """The catch limiter that stands on every stem."""
    return {
        "name": "Catch limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.5, "release_ms": 80.0, "auto_makeup": False},
    }


def utility(name: str, ident: str, label: str, value: float, unit: str) -> Dict:
    """A small tool with one knob."""
    knob = {"id": ident, "name": label, "value": value, "unit": unit}
    return {"name": name, "kind": "utility", "on": True, "opaque": False, "parameters": [knob]}


def instrument(name: str) -> Dict:
    """A synthesizer whose patch the export does not show."""
    return {"name": name, "kind": "instrument", "on": True, "opaque": True}


def hall(name: str, decay: float, pre_delay: float) -> Dict:
    """A reverb for a return."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "decay", "name": "Decay", "value": decay, "unit": "s", "low": 0.2, "high": 12.0}],
    }


def send(to: str, level: float) -> Dict:
    """A post-fader send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(*points: tuple[float, float], target: str = "fader") -> Dict:
    """A drawn ride in decibels."""
    times = [round(p[0], 3) for p in points]
    return {"target": target, "scale": "dB", "shape": "linear", "t": times, "v": [p[1] for p in points]}


def under_the_line(level: float, depth: float) -> Dict:
    """The dip under the dialogue in bars 19 to 22."""
    low = level - depth
    return ride((at(19) - 0.6, level), (at(19) + 0.2, low), (at(23) - 0.5, low), (at(23) + 0.3, level))


def strip(ident: str, name: str, kind: str, legs: int, fader: float, output: str | None, **more: Any) -> Dict:
    """A channel with its usual fields."""
    made: Dict = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": legs,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    made.update(more)
    return made


class Shelf:
    """The media list as it grows with the clips."""

    def __init__(self) -> None:
        """Nothing yet."""
        self.media: list[Dict] = []

    def file(self, ident: str, folder: str, legs: int, length: float) -> str:
        """Puts a file on the list, once, and gives its id."""
        if all(m["id"] != ident for m in self.media):
            self.media.append(
                {
                    "id": ident,
                    "path": f"{folder}/4M07_{ident}.wav",
                    "place": "beside",
                    "present": True,
                    "legs": legs,
                    "sample_rate_hz": RATE,
                    "duration_s": round(length, 3),
                }
            )
        return ident

    def printed(
        self, stem: str, *spans: tuple[float, float], ring: float = 1.5, folder: str = "prints_v6"
    ) -> list[Dict]:
        """Clips out of one print that begins with the session; the last note rings unless the next clip joins on."""
        file = self.file(stem, folder, 2, PRINT_LENGTH)
        clips = []
        for number, (first, last) in enumerate(spans):
            joined = number + 1 < len(spans) and spans[number + 1][0] == last
            end = at(last) + (0.0 if joined else ring)
            fades = (0.01, 0.01 if joined else min(0.8, ring))
            clips.append(clip(at(first), end, stem, file, at(first), fades))
        return clips

    def live(self, mic: str) -> list[Dict]:
        """The cut of the live strings on one microphone: four takes, joined with short crossfades."""
        clips = []
        for take, rolls, first, last in TAKES:
            name = f"LS_{take}_{mic}"
            file = self.file(name, "live", 1, at(last) - at(rolls) + 6.0)
            opening, closing = first == TAKES[0][2], last == TAKES[-1][3]
            start = at(first) - (0.0 if opening else JOIN)
            fades = (0.25 if opening else JOIN, 3.0 if closing else JOIN)
            clips.append(clip(start, at(last), name, file, start - at(rolls), fades))
        return clips


TAKES: list[tuple[str, float, float, float]] = [
    ("T05", 1, 3, 19),
    ("T08", 17, 19, 28),
    ("T07", 26, 28, 48),
    ("T09", 46, 48, 61.5),
]


def guides(shelf: Shelf) -> list[Dict]:
    """Click, dialogue and mock-up on a bus that is never printed."""
    folder = ["GUIDES no print"]
    click = shelf.file("click_v6", "guides", 1, PRINT_LENGTH)
    dx = shelf.file("DX_guide_r4v6", "guides", 1, PRINT_LENGTH)
    ref = shelf.file("mockup_v6", "guides", 2, PRINT_LENGTH)
    return [
        strip(
            "click", "CLICK", "track", 1, -10.0, "guide", folder=folder, plays=["audio"],
            clips=[clip(0.0, at(60), "click_v6", click, 0.0, (0.0, 0.0))],
        ),
        strip(
            "dx", "DX guide", "track", 1, -6.0, "guide", folder=folder, plays=["audio"],
            clips=[clip(0.0, at(62), "DX_guide_r4v6", dx, 0.0, (0.0, 0.5))],
            comment="line b19-22",
        ),
        strip(
            "ref", "REF mockup v6", "track", 2, -4.0, "guide", folder=folder, plays=["audio"], mute=True,
            clips=[clip(0.0, at(62), "mockup_v6", ref, 0.0, (0.0, 0.5))],
            comment="composer's mock-up, A/B only",
        ),
        strip("guide", "GUIDE", "group", 2, 0.0, None, folder=folder, comment="cans + control room, never printed"),
    ]  # fmt: skip


def winds(shelf: Shelf) -> list[Dict]:
    """Woodwind, brass and harp prints."""
    audio: Dict = {"plays": ["audio"], "parent": "stem_b"}
    return [
        strip(
            "fl", "smp Fl+Cl", "track", 2, -9.0, "stem_b", **audio, pan=-8.0, sends=[send("rv_b", -12.0)],
            clips=shelf.printed("smp_FlCl_v6", (5, 15), (19, 27), (50, 60)),
            inserts=[eq(low_cut(120.0), band("high-shelf", 9000.0, -1.5))],
        ),
        strip(
            "bsn", "smp Bsns", "track", 2, -10.5, "stem_b", **audio, pan=10.0, sends=[send("rv_b", -13.0)],
            clips=shelf.printed("smp_Bsns_v6", (15, 27), (28, 48)),
            inserts=[eq(low_cut(50.0), band("bell", 320.0, -2.0, 1.1))],
        ),
        strip(
            "hns", "smp Hns a6", "track", 2, -7.5, "stem_b", **audio, pan=-12.0, sends=[send("rv_b", -10.5)],
            clips=shelf.printed("smp_Hns_v6", (19, 28), (28, 48), (52, 60)),
            inserts=[eq(low_cut(45.0), band("bell", 420.0, -1.5, 1.0), band("high-shelf", 6500.0, 1.5))],
            automation=[ride((at(36), -7.5), (at(40), -5.5), (at(47), -5.5), (at(48) + 1.0, -7.5))],
        ),
        strip(
            "tpt", "smp Tpts", "track", 2, -9.5, "stem_b", **audio, pan=12.0, sends=[send("rv_b", -11.0)],
            clips=shelf.printed("smp_Tpts_v6", (28, 36), (40, 48)),
            inserts=[eq(low_cut(110.0), band("bell", 2800.0, -2.0, 1.4))],
        ),
        strip(
            "tbn", "smp Tbns low", "track", 2, -8.5, "stem_b", **audio, pan=15.0, sends=[send("rv_b", -12.5)],
            clips=shelf.printed("smp_Tbns_v6", (27, 36), (36, 48)),
            inserts=[eq(low_cut(35.0), band("bell", 250.0, -2.5, 1.0)), comp(-18.0, 2.0, 30.0, 180.0)],
        ),
        strip(
            "hrp", "smp Hrp", "track", 2, -11.0, "stem_b", **audio, pan=-25.0, sends=[send("rv_b", -10.0)],
            clips=shelf.printed("smp_Hrp_v6", (3, 13), (48, 60), ring=4.0),
            inserts=[eq(low_cut(60.0))],
        ),
    ]  # fmt: skip


def sampled_strings(shelf: Shelf) -> list[Dict]:
    """The sampled string sections, under the live ones."""
    audio: Dict = {"plays": ["audio"], "parent": "str_smp"}
    tilt = band("high-shelf", 7000.0, -3.0)
    return [
        strip(
            "s_vln", "smp Vln long", "track", 2, -10.0, "str_smp", **audio, sends=[send("rv_a", -13.0)],
            clips=shelf.printed("smp_VlnLong_v6", (3, 27), (28, 48), (48, 60)), inserts=[eq(low_cut(150.0), tilt)],
        ),
        strip(
            "s_va", "smp Va long", "track", 2, -10.5, "str_smp", **audio, sends=[send("rv_a", -13.0)],
            clips=shelf.printed("smp_VaLong_v6", (7, 27), (28, 48), (48, 60)), inserts=[eq(low_cut(100.0), tilt)],
        ),
        strip(
            "s_vc", "smp Vc+Cb long", "track", 2, -9.0, "str_smp", **audio, sends=[send("rv_a", -15.0)],
            clips=shelf.printed("smp_VcCbLong_v6", (3, 27), (28, 48), (48, 60)), inserts=[eq(low_cut(32.0), tilt)],
        ),
        strip(
            "s_spc", "smp Str spicc", "track", 2, -8.0, "str_smp", **audio, sends=[send("rv_a", -14.0)],
            clips=shelf.printed("smp_Spicc_v6", (15, 27), (28, 48)),
            inserts=[eq(low_cut(80.0), band("bell", 3500.0, 1.5, 0.9))],
        ),
        strip(
            "str_smp", "STR SMP", "group", 2, -4.0, "stem_a", parent="stem_a", comment="tucked under the live strings",
            automation=[ride((0.0, -4.0), (at(27), -4.0), (at(28), -2.5), (at(47), -2.5), (at(48) + 1.0, -5.5))],
        ),
    ]  # fmt: skip


MICS: list[tuple[str, str, float, float, float | None, float | None, float]] = [
    # name, microphone, pan, fader, send, alignment in ms, low cut
    ("LS Tree L", "TreeL", -100.0, -3.0, -18.0, None, 25.0),
    ("LS Tree C", "TreeC", 0.0, -6.0, -18.0, None, 25.0),
    ("LS Tree R", "TreeR", 100.0, -3.0, -18.0, None, 25.0),
    ("LS Outr L", "OutrL", -100.0, -8.0, None, None, 25.0),
    ("LS Outr R", "OutrR", 100.0, -8.0, None, None, 25.0),
    ("LS Vln I spot", "Vn1Spot", -48.0, -13.0, -11.0, 8.4, 140.0),
    ("LS Vln II spot", "Vn2Spot", -18.0, -13.5, -11.0, 10.1, 140.0),
    ("LS Vla spot", "VlaSpot", 20.0, -12.5, -11.0, 11.3, 90.0),
    ("LS Vc spot", "VcSpot", 42.0, -14.0, -12.0, 9.7, 50.0),
    ("LS Cb spot", "CbSpot", 55.0, -13.5, -16.0, 12.6, 28.0),
]


def live_strings(shelf: Shelf) -> list[Dict]:
    """Tree, outriggers and spots of the live strings, with their bus and a spare."""
    made = []
    for name, mic, pan, fader, wet, align, cut in MICS:
        inserts = [eq(low_cut(cut))]
        if align is not None:
            inserts.insert(0, utility("Align to tree", "delay", "Delay", align, "ms"))
        channel_id = "ls_" + mic.lower()
        sends = [send("rv_a", wet)] if wet is not None else []
        made.append(
            strip(
                channel_id, name, "track", 1, fader, "live", plays=["audio"], parent="live", pan=pan,
                clips=shelf.live(mic), inserts=inserts, sends=sends,
            )
        )  # fmt: skip
    spare = strip(
        "ls_vn1alt", "LS Vln I spot B", "track", 1, -13.0, "live", plays=["audio"], parent="live", pan=-48.0, mute=True,
        clips=shelf.live("Vn1SpotB"), comment="spare, chair noise in T08 - not used",
        inserts=[utility("Align to tree", "delay", "Delay", 8.0, "ms"), eq(low_cut(140.0))],
    )  # fmt: skip
    bus = strip(
        "live", "LIVE STR", "group", 2, -1.5, "stem_a", parent="stem_a",
        inserts=[eq(band("bell", 2200.0, -1.0, 0.8), band("high-shelf", 11000.0, 1.0)), comp(-14.0, 1.5, 40.0, 250.0)],
        automation=[ride((0.0, -1.5), (at(27), -1.5), (at(28), 0.0), (at(47), 0.0), (at(49), -2.0), (at(61), -2.0))],
    )  # fmt: skip
    return [*made, spare, bus]


def percussion(shelf: Shelf) -> list[Dict]:
    """The percussion prints."""
    audio: Dict = {"plays": ["audio"], "parent": "stem_c"}
    return [
        strip(
            "lowdr", "smp Low drums", "track", 2, -8.0, "stem_c", **audio, sends=[send("rv_c", -14.0)],
            clips=shelf.printed("smp_LowDrums_v6", (15, 27), (28, 48)), comment="dip under the line",
            inserts=[eq(low_cut(28.0), band("bell", 180.0, -2.0, 1.0)), comp(-16.0, 2.5, 25.0, 120.0)],
            automation=[under_the_line(-8.0, 5.0)],
        ),
        strip(
            "timp", "smp Timp", "track", 2, -10.0, "stem_c", **audio, pan=-6.0, sends=[send("rv_c", -12.0)],
            clips=shelf.printed("smp_Timp_v6", (23, 28), (28, 48), ring=2.5), inserts=[eq(low_cut(35.0))],
        ),
        strip(
            "bd", "smp Gr cassa", "track", 2, -9.0, "stem_c", **audio, sends=[send("rv_c", -11.0)],
            clips=shelf.printed("smp_GrCassa_v6", (27, 48), (59, 60), ring=4.0), inserts=[eq(low_cut(22.0))],
        ),
        strip(
            "met", "smp Metals", "track", 2, -12.5, "stem_c", **audio, pan=6.0, sends=[send("rv_c", -13.0)],
            clips=shelf.printed("smp_Metals_v6", (27, 30), (36, 48), ring=4.0), comment="tam + susp cym",
            inserts=[eq(low_cut(180.0), band("high-shelf", 10000.0, -2.0))],
        ),
    ]  # fmt: skip


def notes_clip(name: str, first: float, last: float) -> Dict:
    """A clip of notes from bar to bar."""
    return clip(at(first), at(last), name, None, 0.0, (0.0, 0.0))


def synths(shelf: Shelf) -> list[Dict]:
    """The pulses and the drone from notes, one texture from a print."""
    return [
        strip(
            "pls1", "Pulse 8ths", "track", 2, -12.0, "stem_d", plays=["notes"], parent="stem_d", pan=-35.0,
            clips=[notes_clip("pulse 8 b15", 15, 27), notes_clip("pulse 8 b28", 28, 48)],
            inserts=[instrument("Poly synth"), eq(low_cut(90.0), band("bell", 1200.0, -2.0, 1.2))],
            sends=[send("dly_d", -12.0), send("rv_d", -18.0)], automation=[under_the_line(-12.0, 5.0)],
            comment="dip under the line",
        ),
        strip(
            "pls2", "Pulse offs", "track", 2, -13.0, "stem_d", plays=["notes"], parent="stem_d", pan=35.0,
            clips=[notes_clip("pulse off b15", 15, 27), notes_clip("pulse off b28", 28, 48)],
            inserts=[instrument("Poly synth"), eq(low_cut(90.0), band("bell", 900.0, -1.5, 1.2))],
            sends=[send("dly_d", -13.0), send("rv_d", -18.0)], automation=[under_the_line(-13.0, 5.0)],
            comment="dip under the line",
        ),
        strip(
            "sub", "Sub drone", "track", 1, -14.0, "stem_d", plays=["notes"], parent="stem_d",
            clips=[notes_clip("drone b3", 3, 27), notes_clip("drone b28", 28, 48), notes_clip("drone b48", 48, 60)],
            inserts=[instrument("Mono synth"), eq(low_cut(24.0), band("high-shelf", 1500.0, -6.0))],
        ),
        strip(
            "tex", "Texture", "track", 2, -16.0, "stem_d", plays=["audio"], parent="stem_d",
            clips=shelf.printed("Texture_v6", (3, 15), (48, 60), ring=3.0), sends=[send("rv_d", -10.0)],
            inserts=[eq(low_cut(200.0)), utility("Width", "width", "Width", 120.0, "%")],
        ),
    ]  # fmt: skip


def outputs() -> list[Dict]:
    """The returns, the stems and the sum."""
    delay: Dict = {
        "name": "Stereo delay",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [
            {"id": "sync", "name": "Note", "value": "1/8D", "unit": ""},
            {"id": "feedback", "name": "Feedback", "value": 22.0, "unit": "%", "low": 0.0, "high": 100.0},
        ],
    }
    meter: Dict = {"name": "Loudness meter", "kind": "analyser", "on": True}
    return [
        strip("rv_a", "RV A str", "return", 2, -5.0, "stem_a", inserts=[hall("Hall", 2.3, 28.0), eq(low_cut(160.0))]),
        strip("rv_b", "RV B ww/br", "return", 2, -5.5, "stem_b", inserts=[hall("Hall", 2.3, 28.0), eq(low_cut(140.0))]),
        strip("rv_c", "RV C perc", "return", 2, -6.0, "stem_c", inserts=[hall("Hall", 2.0, 20.0), eq(low_cut(120.0))]),
        strip("rv_d", "RV D syn", "return", 2, -6.0, "stem_d", inserts=[hall("Plate", 2.8, 12.0), eq(low_cut(250.0))]),
        strip("dly_d", "DLY D pulse", "return", 2, -7.0, "stem_d", inserts=[delay, eq(low_cut(300.0))]),
        strip("stem_a", "STEM A STR", "group", 2, 0.0, "mix", inserts=[catch()], comment="stem 1 of 4"),
        strip("stem_b", "STEM B WW/BR/HRP", "group", 2, 0.0, "mix", inserts=[catch()], comment="stem 2 of 4"),
        strip("stem_c", "STEM C PERC", "group", 2, 0.0, "mix", inserts=[catch()], comment="stem 3 of 4"),
        strip("stem_d", "STEM D SYN", "group", 2, 0.0, "mix", inserts=[catch()], comment="stem 4 of 4"),
        strip(
            "mix",
            "4M07 MIX",
            "master",
            2,
            0.0,
            None,
            inserts=[meter],
            comment="sum of A-D, no processing so that stems null",
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    shelf = Shelf()
    channels = guides(shelf) + winds(shelf) + sampled_strings(shelf) + live_strings(shelf) + percussion(shelf)
    channels += synths(shelf) + outputs()
    return {
        "format": "mixlint-session/1",
        "title": "4M07 Floodgate mix 3",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [
                {"beat": 0.0, "beats": 4, "unit": 4},
                {"beat": beat_of(27), "beats": 5, "unit": 4},
                {"beat": beat_of(28), "beats": 4, "unit": 4},
            ],
        },
        "markers": [
            {"time_s": at(1), "name": "count 2 bars"},
            {"time_s": at(3), "name": "b3 A arrival"},
            {"time_s": at(15), "name": "b15 B gate"},
            {"time_s": at(19), "name": "b19 DX line"},
            {"time_s": at(27), "name": "b27 hit (5/4)"},
            {"time_s": at(28), "name": "b28 C flood"},
            {"time_s": at(48), "name": "b48 D after"},
            {"time_s": at(60), "name": "b60 last note"},
            {"time_s": at(62), "name": "b62 END print"},
        ],
        "channels": channels,
        "media": shelf.media,
        "metadata": {
            "cue": "4M07",
            "picture": "reel 4, cut v6, 24 fps",
            "bar_3_timecode": "04:11:07:14",
            "delivery": "mix + stems A-D, 48 kHz 24 bit, b1 to b62",
        },
    }


def channel(session: Session, name: str) -> Dict:
    """The channel of a name."""
    found: Dict = next(c for c in session["channels"] if c["name"] == name)
    return found


def reverb_in_wrong_stem(session: Session) -> None:
    """The strings' reverb goes to the winds' stem."""
    channel(session, "RV A str")["output"] = "stem_b"


def click_to_mix(session: Session) -> None:
    """The click was put through to the sum for a playback and stayed there."""
    channel(session, "CLICK")["output"] = "mix"


def dip_never_ends(session: Session) -> None:
    """The last point of the dip under the dialogue is gone."""
    curve = channel(session, "Pulse 8ths")["automation"][0]
    curve["t"].pop()
    curve["v"].pop()


def spot_at_zero(session: Session) -> None:
    """A spot fader was reset to zero."""
    channel(session, "LS Cb spot")["fader_db"] = 0.0


def outriggers_one_side(session: Session) -> None:
    """The right outrigger is panned left, like its partner."""
    channel(session, "LS Outr R")["pan"] = -100.0


def return_half_dry(session: Session) -> None:
    """The percussion reverb lets most of the dry sound through."""
    channel(session, "RV C perc")["inserts"][0]["wet"] = 30.0


def cello_cut_thin(session: Session) -> None:
    """A nought too many in the low cut of the cello spot."""
    channel(session, "LS Vc spot")["inserts"][1]["equalizer"]["bands"][0]["freq_hz"] = 500.0


def old_horn_print(session: Session) -> None:
    """The horns were relinked to the print of the former picture cut."""
    for item in session["media"]:
        if item["id"] == "smp_Hns_v6":
            item.update(id="smp_Hns_v5", path="prints_v5/4M07_smp_Hns_v5.wav")
    for piece in channel(session, "smp Hns a6")["clips"]:
        piece.update(file="smp_Hns_v5", name="smp_Hns_v5")


def drone_past_end(session: Session) -> None:
    """The last clip of the drone was drawn far too long."""
    channel(session, "Sub drone")["clips"][-1]["end_s"] = at(70)


def tempo_digits_swapped(session: Session) -> None:
    """112 was typed as 121."""
    session["timeline"]["tempos"][2]["bpm"] = 121.0


def metals_twice(session: Session) -> None:
    """A send at unity to the stem into which the channel goes anyway."""
    channel(session, "smp Metals")["sends"].append(send("stem_c", 0.0))


ACCEPTED: list[Dict] = [
    {"channels": ["GUIDE", "CLICK", "DX guide"], "why": "guides for headphones; their bus goes nowhere on purpose"},
    {"channels": ["REF mockup v6"], "why": "reference, muted and on the guide bus"},
    {"channels": ["LS Vln I spot B"], "why": "muted spare, said so in the comment"},
    {
        "channels": ["4M07 MIX"],
        "why": "no limiter on the sum on purpose; five-four bar and tempo steps belong to the cue",
    },
    {"channels": ["Texture"], "why": "printed a little wider than normal on purpose"},
]

FAULTS: list[Dict] = [
    {
        "id": "str-reverb-in-winds-stem",
        "class": "routing",
        "channels": ["RV A str"],
        "grade": "hold",
        "says": "The strings' reverb return goes to STEM B instead of STEM A; their hall lands in the winds' stem.",
        "plant": reverb_in_wrong_stem,
    },
    {
        "id": "click-in-mix",
        "class": "audible-that-should-not-be",
        "channels": ["CLICK"],
        "grade": "hold",
        "says": "CLICK goes straight to the mix instead of the guide bus; the click will be in the bounce.",
        "plant": click_to_mix,
    },
    {
        "id": "pulse-dip-not-returned",
        "class": "automation",
        "channels": ["Pulse 8ths"],
        "grade": "look",
        "says": "The dip under bars 19-22 never comes back up on Pulse 8ths, as it does on Pulse offs and drums.",
        "plant": dip_never_ends,
    },
    {
        "id": "cb-spot-at-unity",
        "class": "level",
        "channels": ["LS Cb spot"],
        "grade": "look",
        "says": "LS Cb spot stands at 0 dB while the other spots stand around -13; the fader was probably reset.",
        "plant": spot_at_zero,
    },
    {
        "id": "outriggers-both-left",
        "class": "place",
        "channels": ["LS Outr R", "LS Outr L"],
        "grade": "look",
        "says": "Both outriggers are panned hard left; LS Outr R belongs on the right.",
        "plant": outriggers_one_side,
    },
    {
        "id": "perc-reverb-not-fully-wet",
        "class": "ambience",
        "channels": ["RV C perc"],
        "grade": "look",
        "says": "The reverb on RV C is only 30 % wet, so dry percussion comes back too; the others are at 100 %.",
        "plant": return_half_dry,
    },
    {
        "id": "vc-spot-low-cut-500",
        "class": "processors",
        "channels": ["LS Vc spot"],
        "grade": "look",
        "says": "The low cut of the cello spot is at 500 Hz, above the violins' own 140 Hz; 50 Hz was probably meant.",
        "plant": cello_cut_thin,
    },
    {
        "id": "horns-old-print",
        "class": "files",
        "channels": ["smp Hns a6"],
        "grade": "look",
        "says": "The horns play a v5 print while every other print and the picture are v6.",
        "plant": old_horn_print,
    },
    {
        "id": "drone-past-end",
        "class": "end",
        "channels": ["Sub drone"],
        "grade": "look",
        "says": "The last drone clip runs on for half a minute after the last note and past the END marker.",
        "plant": drone_past_end,
    },
    {
        "id": "tempo-121-for-112",
        "class": "tempo",
        "channels": ["4M07 MIX"],
        "grade": "look",
        "says": "With 121 bpm from bar 28 the markers and clips from bar 48 on miss their bars; 112 fits.",
        "plant": tempo_digits_swapped,
    },
    {
        "id": "metals-sent-into-own-stem",
        "class": "twice",
        "channels": ["smp Metals"],
        "grade": "look",
        "says": "smp Metals goes to STEM C by its output and once more by a send at 0 dB; it sounds twice.",
        "plant": metals_twice,
    },
]
