"""Three songs out of a set in a small club: a singer with an acoustic guitar, an electric guitarist who sings
harmony, an upright bass; from the second song on a friend of theirs plays brushes.

No click, no overdubs. The recorder ran through the whole second set, one long file per microphone, and the mix takes
three stretches of it one after the other; the applause of the audience microphones bridges the joins. The close
microphones are cut to the songs, the singers to their phrases; the drums are left whole and shut by mutes between the
songs. The second microphone stands behind the guitar amplifier and is flipped; the audience microphones are
pulled 21 ms earlier to meet the stage. What is said between the songs stays if it helps, and is switched off if it does
not. The engineer comments little and lets pairs carry the same settings.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Part = dict[str, Any]
Span = tuple[float, float]

RATE = 48000.0
RECORDED = 2890.0
AUDIENCE_PULL = 0.021
END = 712.0

# where a stretch begins and ends in the mix, and by how much the recording runs ahead of it
STRETCHES: dict[str, tuple[float, float, float]] = {
    "low water": (0.0, 234.0, 304.0),
    "tin roof": (234.0, 478.0, 330.25),
    "long quay": (478.0, END, 1961.7),
}
SONGS: dict[str, Span] = {"low water": (4.5, 224.0), "tin roof": (244.5, 468.0), "long quay": (482.5, 700.5)}

LINES: list[tuple[str, str]] = [
    ("vox", "01_vox"),
    ("harm", "02_harm"),
    ("acdi", "03_ac_di"),
    ("acmic", "04_ac_mic"),
    ("elcl", "05_el_close"),
    ("elbk", "06_el_back"),
    ("bsdi", "07_bass_di"),
    ("bsmic", "08_bass_mic"),
    ("bd", "09_bd"),
    ("sn", "10_sn_brush"),
    ("ohl", "11_oh_l"),
    ("ohr", "12_oh_r"),
    ("audl", "15_aud_l"),
    ("audr", "16_aud_r"),
]


def stretch_of(second: float) -> str:
    """The stretch in which a second of the mix lies."""
    return next(name for name, (start, end, _) in STRETCHES.items() if start <= second < end)


def slice_of(line: str, start: float, end: float, song: str, fades: Span, pull: float = 0.0, name: str = "") -> Part:
    """A clip out of the long recording of a line, at the place where it was played."""
    return {
        "start_s": start,
        "end_s": end,
        "name": name or f"{dict(LINES).get(line, line)} {song}",
        "plays": "audio",
        "file": f"rec_{line}",
        "offset_s": round(start + STRETCHES[song][2] + pull, 4),
        "speed": 1.0,
        "fade_in_s": fades[0],
        "fade_out_s": fades[1],
        "gain_db": 0.0,
        "on": True,
    }


def per_song(line: str) -> list[Part]:
    """An instrument that plays in all three songs."""
    return [slice_of(line, start, end, song, (0.3, 1.0)) for song, (start, end) in SONGS.items()]


def phrases(line: str, *spans: Span) -> list[Part]:
    """A singer, cut to the phrases: a short fade before the breath, a longer one after the last syllable."""
    return [slice_of(line, start, end, stretch_of(start), (0.06, 0.25)) for start, end in spans]


def drums(line: str) -> list[Part]:
    """A drum microphone, whole through the second and the third stretch."""
    return [
        slice_of(line, STRETCHES[song][0], STRETCHES[song][1], song, (0.02, 0.02)) for song in ("tin roof", "long quay")
    ]


def audience(line: str) -> list[Part]:
    """An audience microphone: all of it, with three seconds of crossfade in the applause."""
    made = []
    for number, (song, (start, end, _)) in enumerate(STRETCHES.items()):
        first, last = number == 0, number == len(STRETCHES) - 1
        begin, stop = start if first else start - 1.5, end if last else end + 1.5
        fades = (2.0 if first else 3.0, 0.5 if last else 3.0)
        made.append(slice_of(line, begin, stop, song, fades, AUDIENCE_PULL))
    return made


def cut(freq: float) -> Part:
    """A high-pass band of 12 dB per octave."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": 12.0, "on": True}


def bell(freq: float, gain: float, q: float = 1.0) -> Part:
    """A bell."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def shelf(freq: float, gain: float) -> Part:
    """A high shelf."""
    return {"kind": "high-shelf", "freq_hz": freq, "gain_db": gain, "on": True}


def notch(freq: float) -> Part:
    """A narrow notch against a ringing note."""
    return {"kind": "notch", "freq_hz": freq, "q": 12.0, "on": True}


def eq(*bands: Part) -> Part:
    """An equalizer."""
    return {"name": "eq", "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def comp(name: str, threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0) -> Part:
    """A compressor."""
    return {
        "name": name,
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "output_gain_db": gain,
        },
    }


def setting(ident: str, value: Any, unit: str = "") -> Part:
    """A listed parameter."""
    return {"id": ident, "name": ident.replace("_", " "), "value": value, "unit": unit}


def tool(name: str, kind: str, *settings: Part) -> Part:
    """A processor with a few listed settings."""
    return {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": list(settings)}


def wet_tool(name: str, kind: str, pre_delay: float | None, *settings: Part) -> Part:
    """A reverb or a delay for a return, wholly wet."""
    made = {**tool(name, kind, *settings), "wet": 100.0}
    if pre_delay is not None:
        made["pre_delay_ms"] = pre_delay
    return made


def aux(to: str, level: float) -> Part:
    """A send behind the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(*points: Span) -> Part:
    """A fader ride."""
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [time for time, _ in points],
        "v": [value for _, value in points],
    }


def chan(ident: str, name: str, kind: str, fader: float, pan: float, output: str | None, **more: Any) -> Part:
    """A channel; tracks are mono unless told otherwise, all the rest is stereo."""
    made: Part = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 1 if kind == "track" else 2,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "sends": [],
        "inserts": [],
        "clips": [],
        "automation": [],
    }
    if kind == "track":
        made.update(plays=["audio"], parent=output if output != "mix" else None)
    made.update(more)
    return made


def singers() -> list[Part]:
    """The lead with what she says between the songs, and the harmony."""
    lead = phrases("vox", (19.6, 118.0), (131.2, 219.4), (236.0, 243.4), (257.8, 361.5), (391.0, 464.2))
    lead[2]["name"] = "01_vox intro talk"
    chat = slice_of("vox", 468.4, 475.6, "tin roof", (0.06, 0.25), name="01_vox chat w/ bar, OUT")
    chat["on"] = False
    lead += [chat, *phrases("vox", (486.2, 597.0), (622.4, 697.0), (700.9, 703.2))]
    lead[-1]["name"] = "01_vox thank you"
    harmony = phrases(
        "harm", (62.3, 92.0), (150.1, 180.4), (196.0, 219.4), (288.2, 316.6), (336.0, 361.5), (420.3, 464.2),
        (520.5, 548.4), (571.1, 597.0), (650.2, 697.0),
    )  # fmt: skip
    return [
        chan(
            "vox", "Vox", "track", -3.5, 0.0, "g_vox", clips=lead,
            inserts=[
                eq(cut(95.0), bell(240.0, -2.5), notch(412.0), shelf(9500.0, 1.5)),
                comp("comp fast", -22.0, 3.5, 3.0, 70.0, 3.0),
                tool("de-ess", "de-esser", setting("frequency", 6900.0, "Hz"), setting("threshold", -27.0, "dB")),
                comp("comp slow", -18.0, 2.0, 20.0, 250.0, 1.0),
            ],
            sends=[aux("plate", -13.0), aux("slap", -19.0)],
            automation=[
                ride(
                    (0.0, -3.5), (235.5, -3.5), (236.0, -6.0), (243.5, -6.0), (244.0, -3.5), (419.0, -3.5),
                    (420.5, -2.5), (464.0, -2.5), (466.0, -3.5), (649.0, -3.5), (650.5, -2.0),
                    (697.0, -2.0), (699.0, -4.0),
                ),
            ],
        ),
        chan(
            "harm", "Harm (El gtr)", "track", -7.5, 16.0, "g_vox", clips=harmony,
            inserts=[
                eq(cut(120.0), bell(300.0, -3.0), shelf(8000.0, 1.0)),
                comp("comp fast", -22.0, 3.5, 4.0, 80.0, 2.5),
                tool("de-ess", "de-esser", setting("frequency", 6500.0, "Hz"), setting("threshold", -26.0, "dB")),
            ],
            sends=[aux("plate", -12.0)],
        ),
    ]  # fmt: skip


def guitars() -> list[Part]:
    """Two guitars, two lines each."""
    solo = [(363.0, 0.0), (364.2, 2.5), (389.0, 2.5), (391.0, 0.0)]
    return [
        chan(
            "acdi", "Ac gtr DI", "track", -11.0, -24.0, "g_gtr", clips=per_song("acdi"),
            inserts=[
                tool("de-hum", "restoration", setting("base", 50.0, "Hz"), setting("depth", -18.0, "dB")),
                tool("align", "utility", setting("delay", 0.9, "ms")),
                eq(cut(75.0), bell(1800.0, -3.5, 1.4), bell(190.0, -2.0)),
            ],
        ),
        chan(
            "acmic", "Ac gtr mic", "track", -8.5, -24.0, "g_gtr", clips=per_song("acmic"),
            inserts=[eq(cut(100.0), notch(187.0), shelf(10000.0, 1.5)), comp("comp", -20.0, 2.0, 20.0, 110.0, 1.0)],
            sends=[aux("plate", -20.0)],
        ),
        chan(
            "elcl", "El gtr close", "track", -9.0, 34.0, "g_gtr", clips=per_song("elcl"),
            inserts=[eq(cut(80.0), bell(3300.0, -1.5, 1.2)), comp("comp", -17.0, 2.5, 15.0, 120.0, 1.0)],
            sends=[aux("spring", -12.0)],
            automation=[ride((0.0, -9.0), *[(time, -9.0 + lift) for time, lift in solo])],
        ),
        chan(
            "elbk", "El gtr back", "track", -15.0, 34.0, "g_gtr", clips=per_song("elbk"),
            inserts=[tool("trim", "utility", setting("polarity_invert", True)), eq(cut(70.0), bell(420.0, -2.0))],
            automation=[ride((0.0, -15.0), *[(time, -15.0 + lift) for time, lift in solo])],
            comment="behind the open-back amp, flipped against close",
        ),
    ]  # fmt: skip


def basses() -> list[Part]:
    """The upright bass by pickup and by microphone, both up for the solo of the third song."""
    solo = [(597.0, 0.0), (598.5, 3.0), (621.0, 3.0), (623.0, 0.0)]
    return [
        chan(
            "bsdi", "Bass DI", "track", -8.0, 0.0, "g_bass", clips=per_song("bsdi"),
            inserts=[
                tool("align", "utility", setting("delay", 1.4, "ms")),
                eq(cut(34.0), bell(900.0, -3.0, 0.9)),
                comp("comp", -21.0, 4.0, 18.0, 140.0, 2.0),
            ],
            automation=[ride((0.0, -8.0), *[(time, -8.0 + lift) for time, lift in solo])],
        ),
        chan(
            "bsmic", "Bass mic", "track", -9.5, 0.0, "g_bass", clips=per_song("bsmic"),
            inserts=[eq(cut(40.0), bell(160.0, -2.0), bell(1500.0, 2.0)), comp("comp", -21.0, 3.0, 22.0, 140.0, 1.5)],
            automation=[ride((0.0, -9.5), *[(time, -9.5 + lift) for time, lift in solo])],
        ),
    ]  # fmt: skip


def kit() -> list[Part]:
    """Bass drum, brushed snare, a pair above."""
    over = [cut(160.0), bell(480.0, -2.0), shelf(11000.0, 1.0)]
    pair = comp("comp", -18.0, 2.0, 25.0, 120.0)
    return [
        chan(
            "bd", "BD", "track", -9.0, 0.0, "g_drums", clips=drums("bd"),
            inserts=[eq(cut(32.0), bell(330.0, -4.0, 1.2)), comp("comp", -18.0, 3.0, 25.0, 90.0, 1.0)],
        ),
        chan(
            "sn", "Sn brush", "track", -8.0, -6.0, "g_drums", clips=drums("sn"),
            inserts=[eq(cut(110.0), bell(620.0, -2.0), shelf(7000.0, 1.5))], sends=[aux("plate", -17.0)],
        ),
        chan(
            "ohl", "OH L", "track", -7.0, -70.0, "g_drums", clips=drums("ohl"), sends=[aux("plate", -23.0)],
            inserts=[eq(*[dict(b) for b in over]), {**pair, "dynamics": dict(pair["dynamics"])}],
        ),
        chan(
            "ohr", "OH R", "track", -7.0, 70.0, "g_drums", clips=drums("ohr"), sends=[aux("plate", -23.0)],
            inserts=[eq(*[dict(b) for b in over]), {**pair, "dynamics": dict(pair["dynamics"])}],
        ),
    ]  # fmt: skip


def house() -> list[Part]:
    """The audience pair and the recording of the house desk."""
    made = []
    for ident, name, pan in (("audl", "Aud L", -100.0), ("audr", "Aud R", 100.0)):
        filters = eq(cut(140.0), bell(420.0, -3.0, 0.8), shelf(6000.0, -1.5))
        made.append(chan(ident, name, "track", -6.0, pan, "g_aud", clips=audience(ident), inserts=[filters]))
    board = []
    for song, (start, end, _) in STRETCHES.items():
        board.append(slice_of("foh", start, end, song, (0.02, 0.02), 7.42, f"house 2trk {song}"))
    made.append(
        chan(
            "foh", "FOH 2trk", "track", -8.0, 0.0, "mix", legs=2, mute=True, clips=board, comment="to compare with only"
        )
    )
    return made


def sums() -> list[Part]:
    """Groups, returns, mix."""
    gate = {
        "target": "mute",
        "scale": "switch",
        "shape": "hold",
        "t": [0.0, 244.2, 468.2, 482.2, 701.0],
        "v": [1.0, 0.0, 1.0, 0.0, 1.0],
    }
    applause = ride(
        (0.0, -2.0), (5.0, -2.0), (7.5, -9.0), (222.0, -9.0), (225.0, -2.0), (235.0, -3.0), (236.5, -7.0),
        (243.0, -7.0), (245.0, -9.0), (466.0, -9.0), (469.0, -2.0), (482.0, -2.0), (485.0, -9.0),
        (698.5, -9.0), (701.0, -1.5),
    )  # fmt: skip
    limiter = {
        "name": "limiter",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "release_ms": 120.0, "input_gain_db": 1.5, "output_gain_db": 0.0},
    }
    plate = wet_tool("plate", "reverb", 35.0, setting("decay", 1.9, "s"))
    spring = wet_tool("spring", "reverb", 0.0, setting("decay", 2.4, "s"))
    slap = wet_tool("delay", "delay", None, setting("time", 118.0, "ms"), setting("feedback", 5.0, "%"))
    return [
        chan("g_vox", "VOX", "group", -1.0, 0.0, "mix", inserts=[comp("bus comp", -16.0, 1.8, 20.0, 150.0, 0.5)]),
        chan("g_gtr", "GTR", "group", -2.0, 0.0, "mix", inserts=[eq(bell(260.0, -1.0, 0.7))]),
        chan("g_bass", "BASS", "group", -2.0, 0.0, "mix"),
        chan(
            "g_drums", "DRUMS", "group", -3.0, 0.0, "mix", inserts=[comp("bus comp", -15.0, 1.5, 30.0, 120.0)],
            automation=[gate], comment="mutes shut the open mics between the songs; nobody on the kit in Low Water",
        ),
        chan("g_aud", "AUD", "group", -2.0, 0.0, "mix", automation=[applause], comment="pulled 21 ms early"),
        chan("plate", "Plate", "return", -6.0, 0.0, "mix", inserts=[plate, eq(cut(240.0), shelf(7500.0, -2.0))]),
        chan("spring", "Spring", "return", -8.0, 12.0, "mix", inserts=[spring, eq(cut(200.0))]),
        chan("slap", "Slap", "return", -9.0, 0.0, "mix", inserts=[slap, eq(cut(300.0), shelf(4500.0, -5.0))],
             sends=[aux("plate", -15.0)]),
        chan(
            "mix", "MIX", "master", 0.0, 0.0, None,
            inserts=[
                eq(cut(24.0), shelf(12000.0, 0.5)), comp("glue", -13.0, 1.5, 30.0, 200.0), limiter,
                {"name": "meter", "kind": "analyser", "on": True},
            ],
            automation=[ride((0.0, 0.0), (703.5, 0.0), (711.5, -80.0))],
            comment="limiter for single claps only. fade out in the applause",
        ),
    ]  # fmt: skip


def media() -> list[Part]:
    """The long files of the set."""
    made = [
        {
            "id": f"rec_{line}",
            "path": f"multitrack/set2_{stem}.wav",
            "place": "beside",
            "present": True,
            "legs": 1,
            "sample_rate_hz": RATE,
            "duration_s": RECORDED,
        }
        for line, stem in LINES
    ]
    made.append({**made[0], "id": "rec_foh", "path": "house/set2_2trk.wav", "legs": 2, "duration_s": 2913.6})
    return made


def good() -> Session:
    """The session as it should be bounced."""
    marks = [
        (0.0, "room, fade in"), (6.0, "Low Water"), (224.0, "applause"), (236.0, "she announces Tin Roof"),
        (245.0, "Tin Roof (brushes count in)"), (364.0, "el gtr solo"), (466.5, "applause, retuning"),
        (484.0, "Long Quay"), (598.0, "bass solo"), (699.0, "last chord gone, applause"), (END, "end"),
    ]  # fmt: skip
    return {
        "format": "mixlint-session/1",
        "title": "Back room, second set: three songs",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "played without a click, no tempo map", "settle": ""},
        "markers": [{"time_s": time, "name": name} for time, name in marks],
        "channels": [*singers(), *guitars(), *basses(), *kit(), *house(), *sums()],
        "media": media(),
        "metadata": {
            "recorded": "second set, 16 tracks from the stage split",
            "delivery": "one continuous stereo file",
        },
    }


def channel(session: Session, name: str) -> Part:
    """The channel of a name."""
    found: Part = next(c for c in session["channels"] if c["name"] == name)
    return found


def flip_lost(session: Session) -> None:
    """The flip of the microphone behind the amplifier is not engaged."""
    channel(session, "El gtr back")["inserts"][0]["parameters"][0]["value"] = False


def fade_over_first_line(session: Session) -> None:
    """The fade-in of the first phrase of the third song was dragged to six seconds."""
    channel(session, "Vox")["clips"][6]["fade_in_s"] = 6.0


def chat_back_on(session: Session) -> None:
    """The private chat between the songs is switched on."""
    channel(session, "Vox")["clips"][5]["on"] = True


def solo_left(session: Session) -> None:
    """A solo button stayed pressed."""
    channel(session, "Bass mic")["solo"] = True


def overhead_to_guitars(session: Session) -> None:
    """The right overhead goes to the group above in the list."""
    channel(session, "OH R")["output"] = "g_gtr"


def audience_filter_off(session: Session) -> None:
    """One of the pair's equalizers is bypassed."""
    channel(session, "Aud R")["inserts"][0]["on"] = False


def drums_open_late(session: Session) -> None:
    """The point that opens the drums for the second song sits far too late."""
    channel(session, "DRUMS")["automation"][0]["t"][1] = 268.2


def audience_into_plate(session: Session) -> None:
    """A send that was meant for another channel landed on an audience microphone."""
    channel(session, "Aud L")["sends"].append(aux("plate", -8.0))


def limiter_driven(session: Session) -> None:
    """A digit too many in the limiter's input gain."""
    channel(session, "MIX")["inserts"][2]["dynamics"]["input_gain_db"] = 11.5


def snare_file_short(session: Session) -> None:
    """The copy of the snare's file broke off."""
    for item in session["media"]:
        if item["id"] == "rec_sn":
            item["duration_s"] = 2538.4


def fade_too_early(session: Session) -> None:
    """The final fade sits in the last refrain."""
    curve = channel(session, "MIX")["automation"][0]
    curve["t"] = [0.0, 681.5, 689.5]


ACCEPTED: list[Part] = [
    {"channels": ["FOH 2trk"], "why": "muted recording of the house desk, kept to compare with"},
    {"channels": ["Vox"], "why": "the chat between the songs is switched off on purpose"},
    {
        "channels": ["DRUMS", "BD", "Sn brush", "OH L", "OH R"],
        "why": "muted between songs and silent in the first song",
    },
    {
        "channels": ["Aud L", "Aud R", "AUD"],
        "why": "pulled 21 ms early on purpose, and overlapping where the songs join",
    },
    {"channels": ["El gtr back"], "why": "flipped on purpose, it stands behind the amplifier"},
    {"channels": ["MIX"], "why": "fades out in the applause"},
]

FAULTS: list[Part] = [
    {
        "id": "back-mic-not-flipped",
        "class": "phase",
        "channels": ["El gtr back", "El gtr close"],
        "grade": "look",
        "says": "El gtr back is to be flipped, as its comment says, but its polarity is not inverted.",
        "plant": flip_lost,
    },
    {
        "id": "six-second-fade-on-first-line",
        "class": "edits",
        "channels": ["Vox"],
        "grade": "look",
        "says": "The first phrase of Long Quay fades in over 6 s, all others over 0.06 s; the first line is swallowed.",
        "plant": fade_over_first_line,
    },
    {
        "id": "private-chat-audible",
        "class": "audible-that-should-not-be",
        "channels": ["Vox"],
        "grade": "look",
        "says": "The clip that is named OUT (chat with the bar, 468 to 476 s) is switched on.",
        "plant": chat_back_on,
    },
    {
        "id": "solo-left-on",
        "class": "inaudible",
        "channels": ["Bass mic"],
        "grade": "hold",
        "says": "Bass mic is soloed; everything else is silent.",
        "plant": solo_left,
    },
    {
        "id": "overhead-in-guitar-group",
        "class": "routing",
        "channels": ["OH R"],
        "grade": "look",
        "says": "OH R goes to GTR while OH L and the rest of the kit go to DRUMS.",
        "plant": overhead_to_guitars,
    },
    {
        "id": "audience-eq-one-side",
        "class": "processors",
        "channels": ["Aud R", "Aud L"],
        "grade": "note",
        "says": "The equalizer of Aud R is bypassed, its partner's is on with the same settings.",
        "plant": audience_filter_off,
    },
    {
        "id": "drums-open-late",
        "class": "automation",
        "channels": ["DRUMS"],
        "grade": "look",
        "says": "The drums stay muted until 268 s although the brushes count in Tin Roof at 245 s.",
        "plant": drums_open_late,
    },
    {
        "id": "audience-left-in-plate",
        "class": "ambience",
        "channels": ["Aud L"],
        "grade": "look",
        "says": "Aud L feeds the plate at -8 dB, more than any singer, and Aud R does not; the send is misplaced.",
        "plant": audience_into_plate,
    },
    {
        "id": "limiter-input-eleven",
        "class": "headroom",
        "channels": ["MIX"],
        "grade": "look",
        "says": "The limiter is driven by 11.5 dB although it is there for single claps only; 1.5 was probably meant.",
        "plant": limiter_driven,
    },
    {
        "id": "snare-file-breaks-off",
        "class": "files",
        "channels": ["Sn brush"],
        "grade": "hold",
        "says": "The snare's file is shorter than all others and ends 135 s before its last clip does; a broken copy.",
        "plant": snare_file_short,
    },
    {
        "id": "final-fade-in-the-song",
        "class": "end",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The final fade is down at 690 s, while the song goes on to 699 s and the applause to 712 s.",
        "plant": fade_too_early,
    },
]
