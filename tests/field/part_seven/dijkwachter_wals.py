"""Dijkwachter (wals): a waltz round two acoustic guitars, sung in Dutch.

Two steel-string guitars were played together with bass and a small brushed kit to a click (114, a slower bridge, a
hand-made rit. at the end). Each guitar sits far to one side and sends to a mono reverb of its own that comes back on
the other side. Lead vocal and second voice were overdubbed. The engineer cuts section by section with short
crossfades, writes comments in Dutch, puts the equalizer before the compressor, de-esser last, and rides in decibels.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]

# (bar, bpm), bars counted from 0, three beats to the bar
TEMPI: list[tuple[int, float]] = [(0, 114.0), (98, 108.0), (114, 114.0), (146, 104.0), (148, 94.0)]
XF = 0.01  # half a crossfade
TAKE = 254.8  # length of the files of the basic take


def at(bar: float, beat: float = 0.0) -> float:
    """Seconds at a bar and a beat of the tempo map."""
    want = bar * 3 + beat
    total = 0.0
    for i, (first, bpm) in enumerate(TEMPI):
        start = first * 3.0
        stop = TEMPI[i + 1][0] * 3.0 if i + 1 < len(TEMPI) else 1e9
        if want > start:
            total += (min(want, stop) - start) * 60.0 / bpm
    return round(total, 6)


RING = at(150) + 6.0  # where the last chord has died away

SECTIONS: list[tuple[int, str]] = [
    (0, "tel"),
    (2, "Intro"),
    (10, "Couplet 1"),
    (34, "Refrein 1"),
    (50, "Tussenspel"),
    (58, "Couplet 2"),
    (82, "Refrein 2"),
    (98, "Brug (108)"),
    (114, "Refrein 3"),
    (138, "Outro"),
    (150, "Slot"),
]


def clip(start: float, end: float, file: str, origin: float, name: str, **more: float) -> dict[str, Any]:
    """A clip that plays a file lying on the timeline from origin on."""
    return {
        "start_s": round(start, 6),
        "end_s": round(end, 6),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start - origin + more.get("slip", 0.0), 6),
        "speed": 1.0,
        "fade_in_s": more.get("fin", 0.01),
        "fade_out_s": more.get("fout", 0.05),
        "gain_db": more.get("gain", 0.0),
        "on": True,
    }


def takes(
    file: str,
    spans: list[tuple[float, float]],
    *,
    tail: tuple[float, float],
    gains: dict[float, float] | None = None,
    slip: float = 0.0,
) -> list[dict[str, Any]]:
    """Clips of one basic take by sections, crossfaded where they meet; tail is (end, fade) of the last one."""
    out: list[dict[str, Any]] = []
    for i, (a, b) in enumerate(spans):
        joined_before = i > 0 and spans[i - 1][1] == a
        joined_after = i + 1 < len(spans) and spans[i + 1][0] == b
        last = i + 1 == len(spans)
        start = at(a) - (XF if joined_before else 0.04)
        end = tail[0] if last else at(b) + (XF if joined_after else 0.3)
        fin = 2 * XF if joined_before else 0.01
        fout = tail[1] if last else (2 * XF if joined_after else 0.2)
        gain = (gains or {}).get(a, 0.0)
        out.append(clip(start, end, file, 0.0, f"{file}-{i + 1:02d}", fin=fin, fout=fout, gain=gain, slip=slip))
    return out


def phrases(
    file: str, origin: float, label: str, spans: list[tuple[float, float]], gains: list[float]
) -> list[dict[str, Any]]:
    """Sung phrases, each with its breath before it."""
    return [
        clip(at(a) - 0.35, at(b), file, origin, f"{label}-{i + 1}", fin=0.03, fout=0.12, gain=gains[i % len(gains)])
        for i, (a, b) in enumerate(spans)
    ]


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.7, slope: float = 12.0) -> dict[str, Any]:
    """One band of an equalizer."""
    made: dict[str, Any] = {"kind": kind, "freq_hz": freq, "on": True}
    if kind.endswith("-pass"):
        made["slope_db_per_oct"] = slope
    else:
        made |= {"gain_db": gain, "q": q}
    return made


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    """An equalizer."""
    return {"name": "EQ", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0) -> dict[str, Any]:
    """A compressor."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "output_gain_db": gain,
        "auto_makeup": False,
    }
    return {"name": "Compressor", "kind": "compressor", "on": True, "opaque": False, "dynamics": dynamics}


def param(name: str, value: float | str | bool, unit: str = "") -> dict[str, Any]:
    """A listed parameter."""
    return {"id": name.lower().replace(" ", "_"), "name": name, "value": value, "unit": unit}


def deesser(freq: float, threshold: float) -> dict[str, Any]:
    """A de-esser."""
    pars = [param("Frequentie", freq, "Hz"), param("Drempel", threshold, "dB")]
    return {"name": "De-esser", "kind": "de-esser", "on": True, "opaque": False, "parameters": pars}


def reverb(name: str, decay: float, pre: float) -> dict[str, Any]:
    """A reverb on a return, wholly wet."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre,
        "parameters": [param("Nagalmtijd", decay, "s")],
    }


def polarity() -> dict[str, Any]:
    """A trim with its polarity switch out."""
    pars = [param("Polariteit omkeren", False), param("Trim", 0.0, "dB")]
    return {"name": "Trim", "kind": "utility", "on": True, "opaque": False, "parameters": pars}


def send(to: str, level: float) -> dict[str, Any]:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def strip(ident: str, name: str, fader: float, pan: float, output: str, **more: Any) -> dict[str, Any]:
    """A mono track, or what more says."""
    made: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": "track",
        "legs": 1,
        "plays": ["audio"],
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
        "comment": "",
    }
    made |= more
    return made


def bus(ident: str, name: str, kind: str, fader: float, **more: Any) -> dict[str, Any]:
    """A group or a return, in stereo unless more says otherwise."""
    return strip(ident, name, fader, more.pop("pan", 0.0), "mix", **({"kind": kind, "legs": 2, "plays": []} | more))


def ride(levels: dict[float, float], glide: float = 0.4) -> dict[str, Any]:
    """Fader levels by bars, gliding from one to the next just before the bar."""
    times: list[float] = []
    values: list[float] = []
    for bar, level in levels.items():
        if times:
            times.append(round(at(bar) - glide, 6))
            values.append(values[-1])
        times.append(at(bar))
        values.append(level)
    return {"target": "fader", "scale": "dB", "shape": "linear", "t": times, "v": values}


def steps(target: str, scale: str, values: dict[float, float]) -> dict[str, Any]:
    """Values by bars that hold until the next."""
    times = [at(bar) for bar in values]
    return {"target": target, "scale": scale, "shape": "hold", "t": times, "v": list(values.values())}


EDGES = [2, 10, 34, 50, 58, 82, 98, 114, 138, 150]
FULL: list[tuple[float, float]] = list(pairwise(EDGES))
KIT: list[tuple[float, float]] = [(22, 34), (34, 50), (50, 58), (58, 82), (82, 98), (114, 138), (138, 150)]
BASS: list[tuple[float, float]] = FULL[1:]
SUNG_FROM = [10, 18, 26, 34, 42, 58, 66, 74, 82, 90, 98, 106, 114, 122, 130, 142]
SUNG_FOR = [7.5, 7.6, 7.5, 7.6, 7.4, 7.5, 7.6, 7.5, 7.6, 7.4, 7.5, 7.4, 7.6, 7.5, 7.7, 4.5]
SUNG: list[tuple[float, float]] = [(a, a + b) for a, b in zip(SUNG_FROM, SUNG_FOR, strict=True)]
THROWS: dict[float, float] = {0: -60.0}
for first, last in ((32.5, 34.0), (48.4, 50.0), (80.5, 82.0), (136.6, 138.0)):
    THROWS |= {first: -8.0, last: -60.0}


def drums() -> list[dict[str, Any]]:
    """The small kit, its shaker and its group."""
    short = (at(150) + 1.6, 0.6)
    long = (RING, 3.5)
    overhead = [polarity(), eq(band("high-pass", 140.0), band("high-shelf", 9000.0, 1.5))]
    return [
        strip(
            "kick",
            "Kick",
            -9.0,
            0.0,
            "drums",
            inserts=[polarity(), eq(band("high-pass", 35.0), band("bell", 320.0, -3.0, 1.2)), comp(-16, 3, 20, 90)],
            clips=takes("kick_t4", KIT, tail=short),
        ),
        strip(
            "snare",
            "Snare (brushes)",
            -10.5,
            0.0,
            "drums",
            inserts=[polarity(), eq(band("high-pass", 110.0), band("bell", 900.0, -1.5, 1.0)), comp(-20, 2.5, 12, 120)],
            clips=takes("snare_t4", KIT, tail=short, gains={50: -1.0}),
            sends=[send("kamer", -13.0)],
        ),
        strip(
            "oh_l",
            "OH L",
            -12.0,
            -70.0,
            "drums",
            inserts=overhead,
            clips=takes("oh_l_t4", KIT, tail=long),
            sends=[send("kamer", -20.0)],
        ),
        strip(
            "oh_r",
            "OH R",
            -12.0,
            70.0,
            "drums",
            inserts=[polarity(), eq(band("high-pass", 140.0), band("high-shelf", 9000.0, 1.5))],
            clips=takes("oh_r_t4", KIT, tail=long),
            sends=[send("kamer", -20.0)],
        ),
        strip(
            "shaker",
            "Shaker",
            -17.5,
            32.0,
            "drums",
            inserts=[eq(band("high-pass", 400.0))],
            clips=takes("shaker_od", [(34, 50), (82, 98), (114, 138)], tail=(at(138) + 0.3, 0.2)),
            sends=[send("kamer", -16.0)],
            comment="overdub, alleen refreinen",
        ),
        bus(
            "drums",
            "Drums",
            "group",
            -0.5,
            inserts=[comp(-14, 2, 30, 160, 1.0)],
            automation=[ride({0: -0.5, 34: 0.3, 50: -0.5, 82: 0.3, 138: -0.5})],
        ),
    ]


def bass() -> list[dict[str, Any]]:
    """Bass direct and by its amplifier, and their group."""
    tail = (at(150) + 4.0, 2.5)
    return [
        strip(
            "bas_di",
            "Bas DI",
            -10.0,
            0.0,
            "bas",
            inserts=[eq(band("high-pass", 35.0), band("bell", 250.0, -2.0, 1.0))],
            clips=takes("bas_di_t4", BASS, tail=tail),
        ),
        strip(
            "bas_amp",
            "Bas Amp",
            -8.5,
            0.0,
            "bas",
            inserts=[eq(band("high-pass", 40.0), band("low-pass", 4500.0))],
            clips=takes("bas_amp_t4", BASS, tail=tail, slip=0.0021),
            comment="overal 2,1 ms naar voren t.o.v. DI (afstand mic)",
        ),
        bus("bas", "Bas", "group", 0.0, legs=1, inserts=[comp(-18, 3, 25, 180, 2.0)]),
    ]


def guitars() -> list[dict[str, Any]]:
    """The two guitars, a spare and their group."""
    tail = (RING, 4.0)
    return [
        strip(
            "git_l",
            "Git L",
            -7.0,
            -80.0,
            "gitaren",
            inserts=[eq(band("high-pass", 80.0), band("bell", 210.0, -2.5, 1.1)), comp(-20, 2, 25, 150, 1.0)],
            clips=takes("git_l_t4", FULL, tail=tail, gains={98: 1.0}),
            sends=[send("galm_lr", -9.0)],
            comment="plukt; mic 12e fret",
        ),
        strip(
            "git_r",
            "Git R",
            -7.4,
            80.0,
            "gitaren",
            inserts=[eq(band("high-pass", 85.0), band("bell", 180.0, -2.0, 1.1)), comp(-19, 2, 25, 150, 1.0)],
            clips=takes("git_r_t4", FULL, tail=tail, gains={98: 1.0}),
            sends=[send("galm_rl", -9.0)],
            comment="slaat; mic 12e fret",
        ),
        strip(
            "git_l_di",
            "Git L DI (reserve)",
            -12.0,
            -80.0,
            "gitaren",
            mute=True,
            clips=[clip(at(2) - 0.04, RING, "git_l_di_t4", 0.0, "git_l_di_t4-01", fout=1.0)],
            comment="reserve, element klinkt plastic; blijft uit",
        ),
        bus(
            "gitaren",
            "Gitaren",
            "group",
            0.0,
            inserts=[eq(band("high-shelf", 10000.0, 1.0))],
            automation=[ride({0: 0.0, 10: -0.8, 50: 1.2, 58: -0.8, 98: 0.8, 114: -0.4, 138: 0.8})],
        ),
    ]


def voices() -> list[dict[str, Any]]:
    """Lead, second voice, its double in the last chorus, the guide and the group."""
    harmony = [
        eq(band("high-pass", 130.0), band("bell", 400.0, -1.5, 1.0)),
        comp(-22, 3, 10, 110, 2.0),
        deesser(6800, -28),
    ]
    return [
        strip(
            "zang",
            "Zang",
            -4.0,
            0.0,
            "stemmen",
            inserts=[
                eq(band("high-pass", 95.0), band("bell", 300.0, -2.0, 1.2), band("high-shelf", 11000.0, 2.0)),
                comp(-22, 3, 12, 100, 3.0),
                deesser(6500, -30),
            ],
            clips=phrases("zang_comp_v2", at(8), "zang", SUNG, [0.0, 0.8, -0.5, 0.0, 1.2, 0.0, -1.0]),
            sends=[send("plaat", -11.0), send("echo", -60.0)],
            automation=[
                ride({0: -4.0, 34: -3.2, 50: -4.2, 74: -3.6, 82: -3.0, 98: -4.8, 114: -2.7, 138: -4.4}),
                steps("send:1:level", "dB", THROWS),
            ],
        ),
        strip(
            "stem2",
            "2e stem",
            -11.0,
            14.0,
            "stemmen",
            inserts=harmony,
            clips=[clip(at(32), at(141), "2e_stem_t3", at(31), "2e_stem_t3-01", fin=0.05, fout=0.3)],
            sends=[send("plaat", -9.5)],
            automation=[
                steps("mute", "switch", {0: 1.0, 33.7: 0.0, 50: 1.0, 81.7: 0.0, 98: 1.0, 113.7: 0.0, 138: 1.0})
            ],
            comment="hele take laten staan, mute-automatie opent de drie refreinen",
        ),
        strip(
            "stem2_dub",
            "2e stem dubbel",
            -14.0,
            -14.0,
            "stemmen",
            inserts=[
                eq(band("high-pass", 150.0), band("bell", 400.0, -1.5, 1.0)),
                comp(-24, 3, 10, 110, 2.0),
                deesser(6800, -28),
            ],
            clips=phrases("2e_stem_dub_t1", at(112), "2e stem dub r3", SUNG[12:15], [0.0]),
            sends=[send("plaat", -9.5)],
            comment="alleen laatste refrein",
        ),
        strip(
            "gids",
            "Gids zang",
            -8.0,
            0.0,
            "stemmen",
            mute=True,
            clips=[clip(0.0, at(147), "gids_t4", 0.0, "gids_t4-01", fout=0.5)],
            comment="gids van de opname, NIET in de mix",
        ),
        bus("stemmen", "Stemmen", "group", 0.0, inserts=[comp(-16, 1.8, 30, 200)]),
    ]


def returns() -> list[dict[str, Any]]:
    """The effects and the mix bus."""
    echo = {
        "name": "Echo",
        "kind": "delay",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [param("Tijd", 526.3, "ms"), param("Terugkoppeling", 28.0, "%")],
    }
    limiter = {
        "name": "Limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -2.0, "release_ms": 120.0},
        "parameters": [param("Plafond", -1.0, "dB")],
    }
    return [
        bus(
            "galm_lr",
            "Galm Git L>R",
            "return",
            -6.0,
            legs=1,
            pan=80.0,
            inserts=[eq(band("high-pass", 200.0), band("low-pass", 7500.0)), reverb("Kleine zaal", 1.6, 24.0)],
            comment="mono, galm van L komt rechts terug",
        ),
        bus(
            "galm_rl",
            "Galm Git R>L",
            "return",
            -6.0,
            legs=1,
            pan=-80.0,
            inserts=[eq(band("high-pass", 200.0), band("low-pass", 7500.0)), reverb("Kleine zaal", 1.6, 24.0)],
            comment="mono, galm van R komt links terug",
        ),
        bus("plaat", "Plaat Zang", "return", -5.0, inserts=[eq(band("high-pass", 250.0)), reverb("Plaat", 1.9, 38.0)]),
        bus(
            "echo",
            "Echo Zang",
            "return",
            -7.0,
            inserts=[eq(band("high-pass", 300.0), band("low-pass", 4200.0)), echo],
            sends=[send("plaat", -14.0)],
        ),
        bus("kamer", "Kamer Drums", "return", -8.0, inserts=[eq(band("high-pass", 160.0)), reverb("Kamer", 0.7, 6.0)]),
        {
            "id": "mix",
            "name": "Mix",
            "kind": "master",
            "legs": 2,
            "fader_db": 0.0,
            "pan": 0.0,
            "mute": False,
            "solo": False,
            "inserts": [
                eq(band("high-pass", 24.0), band("high-shelf", 12000.0, 0.8)),
                comp(-12, 1.5, 40, 220, 0.5),
                limiter,
                {"name": "Meter", "kind": "analyser", "on": True},
            ],
            "comment": "bounce van 0 tot einde galm, 24 bit",
        },
    ]


def media() -> list[dict[str, Any]]:
    """The files: the basic take from bar 0 on, the overdubs from where they were recorded."""
    basic = ("kick", "snare", "oh_l", "oh_r", "bas_di", "bas_amp", "git_l", "git_r", "git_l_di", "gids")
    lengths: dict[str, float] = {f"{name}_t4": TAKE for name in basic}
    lengths |= {
        "shaker_od": round(at(140), 3),
        "zang_comp_v2": round(at(148) - at(8), 3),
        "2e_stem_t3": round(at(142) - at(31), 3),
        "2e_stem_dub_t1": round(at(140) - at(112), 3),
    }
    return [
        {
            "id": name,
            "path": f"audio/{name}.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": 48000.0,
            "duration_s": length,
        }
        for name, length in lengths.items()
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Dijkwachter (wals) - mix 5",
        "sample_rate_hz": 48000.0,
        "timeline": {
            "tempos": [{"beat": bar * 3.0, "bpm": bpm} for bar, bpm in TEMPI],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [{"time_s": at(bar), "name": name} for bar, name in SECTIONS],
        "channels": [*drums(), *bass(), *guitars(), *voices(), *returns()],
        "media": media(),
    }


def channel(session: Session, name: str) -> dict[str, Any]:
    """The channel of a name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def return_own_side(session: Session) -> None:
    """The reverb of the right guitar comes back on the right."""
    channel(session, "Galm Git R>L")["pan"] = 80.0


def guitar_wrong_return(session: Session) -> None:
    """The right guitar sends to the reverb of the left one."""
    channel(session, "Git R")["sends"][0]["to"] = "galm_lr"


def harmony_stays_shut(session: Session) -> None:
    """The second chorus was never opened in the mute automation."""
    line = channel(session, "2e stem")["automation"][0]
    del line["t"][3:5], line["v"][3:5]


def guide_on(session: Session) -> None:
    """The guide was listened to and left on."""
    channel(session, "Gids zang")["mute"] = False


def double_is_copy(session: Session) -> None:
    """The double plays clips copied down from the second voice."""
    for i, c in enumerate(channel(session, "2e stem dubbel")["clips"]):
        c["file"] = "2e_stem_t3"
        c["name"] = f"2e_stem_t3-0{i + 2}"
        c["offset_s"] = round(c["start_s"] - at(31), 6)


def plate_half_dry(session: Session) -> None:
    """The plate was tried as an insert; its mix control stayed there."""
    channel(session, "Plaat Zang")["inserts"][1]["wet"] = 35.0


def amp_slipped(session: Session) -> None:
    """One clip of the amplifier was nudged by the wrong step."""
    mine = channel(session, "Bas Amp")["clips"][4]
    di = channel(session, "Bas DI")["clips"][4]
    mine["offset_s"] = round(di["offset_s"] + 0.021, 6)


def bass_cut_away(session: Session) -> None:
    """A nought too many in the high-pass of the bass."""
    channel(session, "Bas DI")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 350.0


def last_chord_cut(session: Session) -> None:
    """The last clip of the left guitar was trimmed before its chord has rung out."""
    last = channel(session, "Git L")["clips"][-1]
    last["end_s"] = round(at(149) + 0.3, 6)
    last["fade_out_s"] = 0.01


def hole_before_chorus(session: Session) -> None:
    """A joint of the right guitar was pulled open and not closed again."""
    verse = channel(session, "Git R")["clips"][4]
    verse["end_s"] = round(verse["end_s"] - 0.43, 6)
    verse["fade_out_s"] = 0.005


def tempo_swapped(session: Session) -> None:
    """Two digits of the first tempo changed places."""
    session["timeline"]["tempos"][0]["bpm"] = 141.0


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Galm Git L>R", "Galm Git R>L"],
        "why": "mono reverbs panned against their guitars, on purpose; the names and comments say so",
    },
    {"channels": ["2e stem"], "why": "one long clip, opened by mute automation in the choruses, as the comment says"},
    {"channels": ["Bas Amp"], "why": "lies 2.1 ms earlier than the DI throughout, as the comment says"},
    {"channels": ["Gids zang", "Git L DI (reserve)"], "why": "muted spares, each with a comment"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "return-own-side",
        "class": "place",
        "channels": ["Galm Git R>L"],
        "grade": "look",
        "says": "Galm Git R>L is panned right like Galm Git L>R, though its name and comment say left.",
        "plant": return_own_side,
    },
    {
        "id": "guitar-wrong-return",
        "class": "routing",
        "channels": ["Git R", "Galm Git R>L"],
        "grade": "look",
        "says": "Git R sends to Galm Git L>R, the reverb of the other guitar; Galm Git R>L gets nothing at all.",
        "plant": guitar_wrong_return,
    },
    {
        "id": "harmony-stays-shut",
        "class": "automation",
        "channels": ["2e stem"],
        "grade": "hold",
        "says": "The mute automation of 2e stem opens in choruses 1 and 3 but not in chorus 2; the comment says three.",
        "plant": harmony_stays_shut,
    },
    {
        "id": "guide-on",
        "class": "audible-that-should-not-be",
        "channels": ["Gids zang"],
        "grade": "hold",
        "says": "The guide vocal is not muted, although its comment says it must not be in the mix.",
        "plant": guide_on,
    },
    {
        "id": "double-is-copy",
        "class": "twice",
        "channels": ["2e stem dubbel", "2e stem"],
        "grade": "hold",
        "says": "2e stem dubbel plays the same file at the same place as 2e stem; its own take is used nowhere.",
        "plant": double_is_copy,
    },
    {
        "id": "plate-half-dry",
        "class": "ambience",
        "channels": ["Plaat Zang"],
        "grade": "look",
        "says": "The plate on the return is only 35 % wet, so it adds dry vocal; every other return is 100 % wet.",
        "plant": plate_half_dry,
    },
    {
        "id": "amp-slipped",
        "class": "phase",
        "channels": ["Bas Amp"],
        "grade": "look",
        "says": "In chorus 2 Bas Amp lies 21 ms before the DI, everywhere else 2.1 ms.",
        "plant": amp_slipped,
    },
    {
        "id": "bass-cut-away",
        "class": "processors",
        "channels": ["Bas DI"],
        "grade": "look",
        "says": "The high-pass of Bas DI stands at 350 Hz (Bas Amp has 40 Hz): the bass has lost its bottom.",
        "plant": bass_cut_away,
    },
    {
        "id": "last-chord-cut",
        "class": "end",
        "channels": ["Git L"],
        "grade": "hold",
        "says": "Git L breaks off before the last chord with a 10 ms fade, while Git R rings on for over 7 s.",
        "plant": last_chord_cut,
    },
    {
        "id": "hole-before-chorus",
        "class": "edits",
        "channels": ["Git R"],
        "grade": "hold",
        "says": "Git R has a hole of 0.4 s before chorus 2; all its other joints, and those of Git L, are crossfaded.",
        "plant": hole_before_chorus,
    },
    {
        "id": "tempo-swapped",
        "class": "tempo",
        "channels": ["Mix"],
        "grade": "look",
        "says": "The song starts at 141 in the tempo map, but markers, clips and the return to 114 all speak for 114.",
        "plant": tempo_swapped,
    },
]
