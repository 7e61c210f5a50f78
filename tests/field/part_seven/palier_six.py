"""Palier 6: a rap track in French, mixed by the rapper's own engineer in a small room.

The beat came as a two-track without its 808 and kick, plus stems of those two and of the melody (intro and outro
are made of the melody alone). Lead couplets and hook are comped, the hook was recorded once and copied. Doubles sit
on the ends of lines, ad-libs left and right; the throws are copies of last words on a track that feeds only the
delay. The beat is cut on some line ends by mute automation, the same on its three channels. Session at 142, felt at
half; the beat's files are turned down by 6 dB at the clip.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

BPM = 142.0
BEAT = 60.0 / BPM
RATE = 44100.0


def at(bar: float, beat: float = 0.0) -> float:
    """Seconds at a bar and a beat, both from 0."""
    return round((bar * 4 + beat) * BEAT, 6)


SECTIONS: list[tuple[int, str]] = [
    (0, "Intro"),
    (8, "Refrain 1"),
    (24, "Couplet 1"),
    (56, "Refrain 2"),
    (72, "Couplet 2 (sans 808)"),
    (80, "C2 suite"),
    (104, "Refrain 3"),
    (120, "Outro"),
    (128, "FIN"),
]
HOOKS = (8, 56, 104)
# line ends on which the beat falls away: (bar, first beat, beats)
CUTS: list[tuple[int, float, float]] = [(39, 2, 2), (55, 2, 2), (87, 3, 1), (103, 2, 2)]

# where each file lies on the timeline, its legs, its length
FILES: dict[str, tuple[str, float, int, float]] = {
    "f_2trk": ("prod/prod_v3_sans808sanskick_142.wav", 0.0, 2, 219.4),
    "f_full": ("prod/prod_v3_full_142.wav", 0.0, 2, 219.4),
    "f_808": ("prod/prod_v3_stem_808.wav", 0.0, 2, 219.4),
    "f_kick": ("prod/prod_v3_stem_kick.wav", 0.0, 2, 219.4),
    "f_melo": ("prod/prod_v3_stem_melo.wav", 0.0, 2, 221.0),
    "f_c1": ("voix/lead_c1_comp.wav", at(22), 1, 59.5),
    "f_c2": ("voix/lead_c2_comp.wav", at(70), 1, 59.5),
    "f_ref": ("voix/lead_ref_comp.wav", at(6), 1, 32.0),
    "f_dc1": ("voix/dbl_c1_tk2.wav", at(22), 1, 59.5),
    "f_dc2": ("voix/dbl_c2_tk1.wav", at(70), 1, 59.5),
    "f_rg": ("voix/dbl_ref_tk4.wav", at(6), 1, 32.0),
    "f_rd": ("voix/dbl_ref_tk5.wav", at(6), 1, 32.0),
    "f_ad1": ("voix/adlib_tk1.wav", at(6), 1, 196.0),
    "f_ad2": ("voix/adlib_tk2.wav", at(6), 1, 196.0),
}


def clip(file: str, name: str, start: float, end: float, **more: float) -> dict[str, Any]:
    """A clip; source is the place on the timeline where its sound was recorded, if it was copied from elsewhere."""
    source = more.get("source", start)
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(source - FILES[file][1], 6),
        "speed": 1.0,
        "fade_in_s": more.get("fin", 0.008),
        "fade_out_s": more.get("fout", 0.03),
        "gain_db": more.get("gain", 0.0),
        "on": True,
    }


def param(ident: str, name: str, value: float | str | bool, unit: str = "") -> dict[str, Any]:
    """A listed parameter."""
    return {"id": ident, "name": name, "value": value, "unit": unit}


def fx(name: str, kind: str, *parameters: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A processor of a kind."""
    made: dict[str, Any] = {"name": name, "kind": kind, "on": True, "opaque": not parameters and not more}
    if parameters:
        made["parameters"] = list(parameters)
    return made | more


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> dict[str, Any]:
    """A compressor."""
    dynamics = {"threshold_db": threshold, "ratio": ratio, "attack_ms": attack, "release_ms": release}
    return fx(name, "compressor", dynamics=dynamics | {"output_gain_db": out, "auto_makeup": False})


def passes(low: float, high: float | None = None) -> dict[str, Any]:
    """A high-pass, and a low-pass if wanted."""
    bands: list[dict[str, Any]] = [{"kind": "high-pass", "freq_hz": low, "slope_db_per_oct": 12.0, "on": True}]
    if high is not None:
        bands.append({"kind": "low-pass", "freq_hz": high, "slope_db_per_oct": 12.0, "on": True})
    return fx("EQ", "equalizer", equalizer={"bands": bands})


def tune(speed: float) -> dict[str, Any]:
    """The pitch correction, in the key of the song."""
    return fx("Correction", "pitch", param("key", "Tonalité", "do# mineur"), param("speed", "Vitesse", speed, "ms"))


def voice_chain(speed: float, threshold: float, low: float = 90.0) -> list[dict[str, Any]]:
    """The chain of every voice: correction, equalizer, compressor, de-esser."""
    return [
        tune(speed),
        passes(low),
        comp("Comp", threshold, 4.0, 4.0, 70.0, 3.0),
        fx("De-ess", "de-esser", param("freq", "Fréquence", 7200.0, "Hz"), param("thr", "Seuil", -30.0, "dB")),
    ]


def send(to: str, level: float, tap: str = "post") -> dict[str, Any]:
    """A send."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": tap, "on": True}


def strip(ident: str, name: str, fader: float, pan: float, output: str | None, **more: Any) -> dict[str, Any]:
    """A channel; a mono voice unless more says otherwise."""
    made: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": 1,
        "plays": ["audio"],
        "parent": output if output in ("busprod", "busvoix") else None,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
    }
    return made | more


def bus(ident: str, name: str, kind: str, fader: float, output: str, **more: Any) -> dict[str, Any]:
    """A stereo group or return."""
    return strip(ident, name, fader, 0.0, output, kind=kind, legs=2, plays=[], **more)


def cuts() -> dict[str, Any]:
    """The mute automation of the beat's drop-outs."""
    times = [0.0]
    values = [0.0]
    for bar, beat, length in CUTS:
        times += [at(bar, beat), at(bar, beat + length)]
        values += [1.0, 0.0]
    return {"target": "mute", "scale": "switch", "shape": "hold", "t": times, "v": values}


def levels(points: list[tuple[float, float]], glide: float = 0.2) -> dict[str, Any]:
    """A fader written by bars, gliding just before each."""
    times: list[float] = []
    values: list[float] = []
    for bar, level in points:
        if times:
            times.append(round(at(bar) - glide, 6))
            values.append(values[-1])
        times.append(at(bar))
        values.append(level)
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": values}


def beat_part(file: str, label: str, spans: list[tuple[int, int]], gain: float) -> list[dict[str, Any]]:
    """Clips of a beat file, split at the sections without moving anything."""
    out = []
    for i, (a, b) in enumerate(spans):
        fin = 0.0 if i and spans[i - 1][1] == a else 0.005
        fout = 0.0 if i + 1 < len(spans) and spans[i + 1][0] == b else 0.02
        out.append(clip(file, f"{label}-{i + 1:02d}", at(a), at(b), fin=fin, fout=fout, gain=gain))
    return out


def lines(file: str, label: str, first: int, count: int, source: int, **more: Any) -> list[dict[str, Any]]:
    """Lines of four bars, each with its breath; source is the bar at which the first was recorded."""
    gains: list[float] = more.get("gains", [0.0])
    nudges: list[float] = more.get("nudges", [0.0])
    out = []
    for i in range(count):
        start = at(first + 4 * i) - 0.19
        end = at(first + 4 * i + 4) - 0.27 - 0.02 * (i % 3)
        recorded = at(source + 4 * i) - 0.19 + nudges[i % len(nudges)]
        gain = gains[i % len(gains)]
        out.append(clip(file, f"{label}-{i + 1}", start, end, source=recorded, gain=gain, fin=0.02))
    return out


def hook(file: str, label: str, **more: Any) -> list[dict[str, Any]]:
    """The hook as sung the first time, copied to all three."""
    return [c for n, bar in enumerate(HOOKS) for c in lines(file, f"{label} r{n + 1}", bar, 4, 8, **more)]


def words(file: str, label: str, places: list[tuple[int, float, float]], nudges: list[float]) -> list[dict[str, Any]]:
    """Short clips of some beats each, nudged a few milliseconds against where they were recorded."""
    out = []
    for i, (bar, beat, length) in enumerate(places):
        start = at(bar, beat) - 0.06
        end = at(bar, beat + length) - 0.02
        out.append(clip(file, f"{label}-{i + 1}", start, end, source=start + nudges[i % len(nudges)]))
    return out


SECTION_SPANS = [(8, 24), (24, 56), (56, 72), (72, 80), (80, 104), (104, 120)]
LOW_SPANS = [(8, 24), (24, 56), (56, 72), (80, 104), (104, 120)]
DOUBLES_C1: list[tuple[int, float, float]] = [(b, 1.5, 2) for b in (25, 27, 29, 31, 33, 35, 39, 43, 45, 47, 51, 54)]
DOUBLES_C2: list[tuple[int, float, float]] = [(b, 1.5, 2) for b in (73, 75, 79, 81, 83, 87, 89, 91, 95, 99, 101, 102)]
SHOUTS_1: list[tuple[int, float, float]] = [
    (11, 3, 3),
    (19, 3, 3),
    (28, 0, 2),
    (36, 0, 3),
    (44, 0, 2),
    (52, 0, 2),
    (59, 3, 3),
    (67, 3, 3),
    (76, 0, 2),
]
SHOUTS_1 += [(84, 0, 3), (92, 0, 2), (100, 0, 2), (107, 3, 3), (111, 3, 3), (115, 3, 3)]
SHOUTS_2: list[tuple[int, float, float]] = [
    (15, 3, 3),
    (23, 1, 2),
    (32, 0, 2),
    (40, 0, 3),
    (48, 0, 2),
    (63, 3, 3),
    (71, 1, 2),
    (80, 0, 2),
    (88, 0, 3),
]
SHOUTS_2 += [(96, 0, 2), (107, 3.5, 2.5), (111, 3.5, 2.5), (119, 1, 2)]
THROWN_C1 = [31, 39, 47, 55]
THROWN_C2 = [79, 87, 95, 103]
BOUNCE = "prod_v3_sans808sanskick_142"


def beat() -> list[dict[str, Any]]:
    """Two-track, stems, the reference and the group of the beat."""
    melody = [
        clip("f_melo", "prod_v3_stem_melo-01", at(0), at(8), fout=0.01, gain=-6.0),
        clip("f_melo", "prod_v3_stem_melo-02", at(120), at(128) + 3.6, fin=0.005, fout=3.4, gain=-6.0),
    ]
    opening = {
        "target": "insert:0:band:2:freq",
        "scale": "plain",
        "shape": "linear",
        "t": [0.0, at(7, 3), at(120), at(127)],
        "v": [700.0, 9000.0, 9000.0, 1200.0],
    }
    return [
        strip(
            "p2trk",
            "PROD 2TRK (sans 808/kick)",
            -2.0,
            0.0,
            "busprod",
            legs=2,
            inserts=[passes(30.0)],
            clips=beat_part("f_2trk", BOUNCE, SECTION_SPANS, -6.0),
            automation=[cuts()],
            comment="bounce du beatmaker sans basse ni kick, -6 car très fort",
        ),
        strip(
            "p808",
            "Stem 808",
            -3.5,
            0.0,
            "busprod",
            legs=2,
            inserts=[passes(26.0), fx("Saturation", "distortion"), comp("Comp", -14.0, 3.0, 15.0, 90.0)],
            clips=beat_part("f_808", "prod_v3_stem_808", LOW_SPANS, -6.0),
            automation=[cuts()],
        ),
        strip(
            "pkick",
            "Stem Kick",
            -4.0,
            0.0,
            "busprod",
            legs=2,
            inserts=[passes(28.0)],
            clips=beat_part("f_kick", "prod_v3_stem_kick", LOW_SPANS, -6.0),
            automation=[cuts()],
        ),
        strip(
            "pmelo",
            "Stem Melo",
            -4.0,
            0.0,
            "busprod",
            legs=2,
            inserts=[passes(40.0, 700.0)],
            clips=melody,
            sends=[send("rev", -20.0)],
            automation=[opening],
            comment="intro + outro seulement, déjà dans le 2trk",
        ),
        strip(
            "pfull",
            "Prod v3 full (écoute)",
            -6.0,
            0.0,
            "busprod",
            legs=2,
            mute=True,
            clips=[clip("f_full", "prod_v3_full_142", at(0), at(128) + 2.0, gain=-6.0)],
            comment="réf du beatmaker, reste coupée",
        ),
        bus(
            "busprod",
            "BUS PROD",
            "group",
            -1.0,
            "master",
            inserts=[fx("EQ dyn 2-4k", "equalizer"), fx("Largeur", "spatial", param("width", "Largeur", 100.0, "%"))],
            automation=[levels([(0, -1.0), (8, -0.4), (24, -1.6), (56, -0.4), (72, -1.6), (104, -0.2), (120, -1.0)])],
        ),
    ]


def leads() -> list[dict[str, Any]]:
    """The three leads."""
    sends = (("rev", -17.0), ("slap", -19.0), ("para", -9.0))
    verse = [0.0, 0.5, -0.6, 0.0, 0.9, 0.0, -0.4, 0.3]
    return [
        strip(
            "leadc1",
            "Lead C1",
            -3.0,
            0.0,
            "busvoix",
            inserts=voice_chain(35.0, -21.0),
            clips=lines("f_c1", "lead c1", 24, 8, 24, gains=verse),
            sends=[send(to, level) for to, level in sends],
            automation=[levels([(0, -3.0), (40, -2.6), (54, -2.2)])],
        ),
        strip(
            "leadc2",
            "Lead C2",
            -2.8,
            0.0,
            "busvoix",
            inserts=voice_chain(35.0, -21.5),
            clips=lines("f_c2", "lead c2", 72, 8, 72, gains=[0.4, 0.0, 0.0, -0.7, 0.0, 0.6]),
            sends=[send(to, level) for to, level in sends],
            automation=[levels([(0, -2.8), (80, -2.2), (96, -1.8)])],
        ),
        strip(
            "leadref",
            "Lead Ref",
            -3.6,
            0.0,
            "busvoix",
            inserts=voice_chain(12.0, -22.0),
            clips=hook("f_ref", "ref", gains=[0.0, 0.5, 0.0, -0.5]),
            sends=[send("rev", -13.0), send("slap", -19.0), send("para", -9.0)],
            automation=[levels([(0, -3.6), (56, -3.3), (104, -2.8)])],
            comment="chanté une fois, copié sur R2 et R3",
        ),
    ]


def around() -> list[dict[str, Any]]:
    """Doubles, ad-libs, throws and the group of the voices."""
    tight = [0.004, -0.007, 0.011, 0.0, -0.012, 0.006, 0.009]
    doubles = words("f_dc1", "dbl c1", DOUBLES_C1, tight) + words("f_dc2", "dbl c2", DOUBLES_C2, tight)
    thrown = [("f_c1", bar) for bar in THROWN_C1] + [("f_c2", bar) for bar in THROWN_C2]
    return [
        strip(
            "dblc",
            "Doubles C",
            -11.0,
            0.0,
            "busvoix",
            inserts=voice_chain(20.0, -25.0, 140.0),
            clips=doubles,
            sends=[send("slap", -16.0)],
            comment="fins de phrases, recalées à l'oreille (max 15 ms)",
        ),
        strip(
            "dblg",
            "Dbl Ref G",
            -10.5,
            -62.0,
            "busvoix",
            inserts=voice_chain(8.0, -25.0, 140.0),
            clips=hook("f_rg", "dbl G", nudges=[0.005, -0.009, 0.0, 0.012]),
            sends=[send("rev", -12.0)],
        ),
        strip(
            "dbld",
            "Dbl Ref D",
            -10.5,
            62.0,
            "busvoix",
            inserts=voice_chain(8.0, -25.0, 140.0),
            clips=hook("f_rd", "dbl D", nudges=[-0.006, 0.008, 0.003, -0.011]),
            sends=[send("rev", -12.0)],
        ),
        strip(
            "ad1",
            "Adlibs 1",
            -12.5,
            -38.0,
            "busvoix",
            inserts=[*voice_chain(5.0, -26.0, 220.0), fx("Saturation", "distortion")],
            clips=words("f_ad1", "adlib 1", SHOUTS_1, [0.0]),
            sends=[send("rev", -11.0), send("delai", -15.0)],
        ),
        strip(
            "ad2",
            "Adlibs 2",
            -12.5,
            38.0,
            "busvoix",
            inserts=[*voice_chain(5.0, -26.0, 220.0), fx("Saturation", "distortion")],
            clips=words("f_ad2", "adlib 2", SHOUTS_2, [0.0]),
            sends=[send("rev", -11.0), send("delai", -15.0)],
        ),
        strip(
            "throws",
            "Throws",
            -3.0,
            0.0,
            None,
            inserts=[passes(250.0)],
            clips=[
                clip(file, f"throw {bar + 1}", at(bar, 2), at(bar + 1) - 0.32, fin=0.015, fout=0.05)
                for file, bar in thrown
            ],
            sends=[send("delai", -3.0)],
            comment="sans sortie exprès : copies du lead qui ne vont qu'au délai",
        ),
        bus(
            "busvoix",
            "BUS VOIX",
            "group",
            0.0,
            "master",
            inserts=[fx("EQ", "equalizer"), comp("Comp bus", -15.0, 2.0, 20.0, 120.0, 1.0), fx("De-ess", "de-esser")],
        ),
    ]


def returns() -> list[dict[str, Any]]:
    """Effects, the parallel compressor and the master."""
    quarter = round(BEAT * 1000.0, 1)
    sixteenth = round(BEAT * 250.0, 1)
    room = fx("Réverb", "reverb", param("decay", "Durée", 0.6, "s"), wet=100.0, pre_delay_ms=12.0)
    delay = fx(
        "Délai", "delay", param("time", "Temps", quarter, "ms"), param("feedback", "Réinjection", 36.0, "%"), wet=100.0
    )
    slap = fx("Délai", "delay", param("time", "Temps", sixteenth, "ms"), param("feedback", "Réinjection", 4.0, "%"))
    return [
        bus("rev", "Rev courte", "return", -4.0, "master", inserts=[passes(300.0, 9000.0), room]),
        bus(
            "delai",
            "Délai 1/4",
            "return",
            -6.0,
            "master",
            inserts=[passes(400.0, 5000.0), delay],
            sends=[send("rev", -14.0)],
            comment="noire à 142",
        ),
        bus("slap", "Slap 1/16", "return", -7.0, "master", inserts=[passes(250.0, 7000.0), slap | {"wet": 100.0}]),
        bus("para", "Para voix", "return", -9.0, "busvoix", inserts=[comp("Comp //", -32.0, 10.0, 1.0, 50.0, 6.0)]),
        {
            "id": "master",
            "name": "MASTER",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [
                fx("EQ", "equalizer"),
                comp("Glue", -10.0, 1.5, 30.0, 150.0),
                fx(
                    "Limiteur",
                    "limiter",
                    param("ceiling", "Plafond", -1.0, "dB"),
                    dynamics={"threshold_db": -4.0, "release_ms": 80.0},
                ),
                fx("Mono (contrôle)", "utility", param("mono", "Mono", True)) | {"on": False},
            ],
            "comment": "contrôle mono : à couper avant l'export",
        },
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Palier 6 - mix 3",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECTIONS],
        "channels": [*beat(), *leads(), *around(), *returns()],
        "media": [
            {
                "id": ident,
                "path": path,
                "place": "beside",
                "present": True,
                "legs": legs,
                "sample_rate_hz": RATE,
                "duration_s": length,
            }
            for ident, (path, _, legs, length) in FILES.items()
        ],
        "metadata": {"tonalite": "do# mineur", "export": "wav 24 bits, 44.1"},
    }


def channel(session: Session, name: str) -> dict[str, Any]:
    """The channel of a name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def throws_heard(session: Session) -> None:
    """The throws got the output of the track they were duplicated from."""
    track = channel(session, "Throws")
    track["output"] = "busvoix"
    track["parent"] = "busvoix"


def full_beat(session: Session) -> None:
    """The two-track was exchanged for the beat maker's full bounce."""
    for i, c in enumerate(channel(session, "PROD 2TRK (sans 808/kick)")["clips"]):
        c["file"] = "f_full"
        c["name"] = f"prod_v3_full_142-{i + 1:02d}"


def mono_left_on(session: Session) -> None:
    """The mono check was not switched off again."""
    channel(session, "MASTER")["inserts"][3]["on"] = True


def drop_a_bar_late(session: Session) -> None:
    """The last drop-out of the 808 was pasted a bar late."""
    times = channel(session, "Stem 808")["automation"][0]["t"]
    times[7:9] = [round(t + 4 * BEAT, 6) for t in times[7:9]]


def old_delay_time(session: Session) -> None:
    """The delay still has the time of the song before, at 120."""
    channel(session, "Délai 1/4")["inserts"][1]["parameters"][0]["value"] = 500.0


def long_short_room(session: Session) -> None:
    """A decimal point slipped in the decay of the short reverb."""
    channel(session, "Rev courte")["inserts"][1]["parameters"][0]["value"] = 6.0


def lead_past_bus(session: Session) -> None:
    """The second couplet's lead was sent straight to the master for a comparison."""
    channel(session, "Lead C2")["output"] = "master"


def wrong_key(session: Session) -> None:
    """The correction of one double still stands in another key."""
    channel(session, "Dbl Ref G")["inserts"][0]["parameters"][0]["value"] = "do mineur"


def double_dragged(session: Session) -> None:
    """One word of the doubles was dragged two beats off with the hand."""
    word = next(c for c in channel(session, "Doubles C")["clips"] if c["name"] == "dbl c2-9")
    word["start_s"] = round(word["start_s"] + 2 * BEAT, 6)
    word["end_s"] = round(word["end_s"] + 2 * BEAT, 6)


def double_too_loud(session: Session) -> None:
    """The first digit of a fader value was lost."""
    channel(session, "Dbl Ref D")["fader_db"] = -0.5


def master_up(session: Session) -> None:
    """The master fader, behind the limiter, was pushed for the client in the room."""
    channel(session, "MASTER")["fader_db"] = 3.0


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Throws"], "why": "no output on purpose, copies of the leads that feed the delay only"},
    {"channels": ["Prod v3 full (écoute)"], "why": "muted reference of the beat, as its comment says"},
    {"channels": ["Lead Ref", "Dbl Ref G", "Dbl Ref D"], "why": "the hook was sung once and copied to all three"},
    {"channels": ["MASTER"], "why": "carries a bypassed mono check"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "throws-heard",
        "class": "twice",
        "channels": ["Throws"],
        "grade": "hold",
        "says": "Throws goes to BUS VOIX: its copies of the leads' words sound dry on top of the leads.",
        "plant": throws_heard,
    },
    {
        "id": "full-beat",
        "class": "files",
        "channels": ["PROD 2TRK (sans 808/kick)"],
        "grade": "hold",
        "says": "PROD 2TRK (sans 808/kick) plays the full beat with 808 and kick, which the stems then double.",
        "plant": full_beat,
    },
    {
        "id": "mono-left-on",
        "class": "place",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "The mono check on MASTER is on; its comment says it must be off before the export.",
        "plant": mono_left_on,
    },
    {
        "id": "drop-a-bar-late",
        "class": "automation",
        "channels": ["Stem 808"],
        "grade": "look",
        "says": "Stem 808 sounds on in the last cut of couplet 2 and drops a bar later, against two-track and kick.",
        "plant": drop_a_bar_late,
    },
    {
        "id": "old-delay-time",
        "class": "tempo",
        "channels": ["Délai 1/4"],
        "grade": "look",
        "says": "Délai 1/4 stands at 500 ms, a quarter at 120; at 142 it is 422.5 ms, as name and comment want.",
        "plant": old_delay_time,
    },
    {
        "id": "long-short-room",
        "class": "ambience",
        "channels": ["Rev courte"],
        "grade": "look",
        "says": "Rev courte has a decay of 6 s, though it is named the short reverb.",
        "plant": long_short_room,
    },
    {
        "id": "lead-past-bus",
        "class": "routing",
        "channels": ["Lead C2"],
        "grade": "look",
        "says": "Lead C2 goes straight to MASTER, every other voice through BUS VOIX.",
        "plant": lead_past_bus,
    },
    {
        "id": "wrong-key",
        "class": "processors",
        "channels": ["Dbl Ref G"],
        "grade": "look",
        "says": "The pitch correction of Dbl Ref G is set to do mineur, all others and the song are in do# mineur.",
        "plant": wrong_key,
    },
    {
        "id": "double-dragged",
        "class": "edits",
        "channels": ["Doubles C"],
        "grade": "look",
        "says": "Clip dbl c2-9 lies two beats late against where it was recorded; all the others stay within 15 ms.",
        "plant": double_dragged,
    },
    {
        "id": "double-too-loud",
        "class": "level",
        "channels": ["Dbl Ref D"],
        "grade": "look",
        "says": "Dbl Ref D stands at -0.5 dB, its partner Dbl Ref G at -10.5 dB, and even the lead is lower.",
        "plant": double_too_loud,
    },
    {
        "id": "master-up",
        "class": "headroom",
        "channels": ["MASTER"],
        "grade": "hold",
        "says": "The master fader is at +3 dB behind a limiter with its ceiling at -1 dB: the bounce clips.",
        "plant": master_up,
    },
]
