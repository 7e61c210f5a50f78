"""A folk-rock song in Italian, "Lampare di marzo", by an invented group: two acoustic guitars, a third one picking,
mandolin, accordion, double bass, kit, a woman and a man who share the verses and sing the refrains together, and
friends for a choir. The band played together to a click after two bars of count-in; the voices were done afterwards
from two takes. The engineer names in Italian and in a hurry (sx is left, dx is right), gives every family a group
that its members are nested under, squeezes the kit on a parallel group, has one plate and one echo, and keeps click
and guide vocal muted at the bottom of the tracks. No fade: the last chord rings."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

BPM = 112.0
RATE = 48000.0
LENGTH = 224.0  # of every band file
RING = 217.0  # the last chord has died away


def bar(number: float) -> float:
    """Seconds at which a bar begins (bar 1 is the count-in)."""
    return round((number - 1) * 4 * 60.0 / BPM, 4)


BEGIN = round(bar(3) - 0.12, 4)
VERSE1, REF1, VERSE2, REF2, BRIDGE, REF3, CODA, LAST = (bar(n) for n in (11, 27, 35, 51, 59, 75, 91, 99))


def point(kind: str, freq: float, gain: float = 0.0, q: float = 0.7, slope: float | None = None) -> dict[str, Any]:
    band: dict[str, Any] = {"kind": kind, "freq_hz": freq}
    if slope is None:
        band |= {"gain_db": gain, "q": q}
    else:
        band["slope_db_per_oct"] = slope
    return band


def hp(freq: float, slope: float = 12.0) -> dict[str, Any]:
    return point("high-pass", freq, slope=slope)


def eq(*bands: dict[str, Any]) -> dict[str, Any]:
    return {"name": "Equalizzatore", "kind": "equalizer", "opaque": False, "equalizer": {"bands": list(bands)}}


def dyn(
    threshold: float, ratio: float, attack: float, release: float, gain: float = 0.0, name: str = "Compressore"
) -> dict[str, Any]:
    return {
        "name": name,
        "kind": "compressor",
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": gain,
            "auto_makeup": False,
        },
    }


def gate(threshold: float, deepest: float) -> dict[str, Any]:
    return {
        "name": "Gate",
        "kind": "gate",
        "opaque": False,
        "dynamics": {"threshold_db": threshold, "range_db": deepest, "attack_ms": 0.5, "release_ms": 220.0},
    }


def flip() -> dict[str, Any]:
    return {
        "name": "Inverti fase",
        "kind": "utility",
        "opaque": False,
        "parameters": [{"id": "invert", "name": "Inverti polarità", "value": True}],
    }


def send(to: str, level: float, **more: Any) -> dict[str, Any]:
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True} | more


def clip(
    file: str, start: float, end: float, fade_in: float = 0.02, fade_out: float = 0.05, gain: float = 0.0
) -> dict[str, Any]:
    """A clip that lies where it was recorded: the file begins at second 0 of the song."""
    return {
        "start_s": start,
        "end_s": end,
        "name": file,
        "file": f"f-{file}",
        "offset_s": start,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": gain,
    }


def auto(target: str, scale: str, points: list[tuple[float, float]], shape: str = "linear") -> dict[str, Any]:
    return {
        "target": target,
        "scale": scale,
        "shape": shape,
        "t": [round(time, 4) for time, _ in points],
        "v": [value for _, value in points],
    }


def track(
    ident: str,
    name: str,
    group: str | None,
    fader: float,
    pan: float,
    clips: list[dict[str, Any]],
    inserts: list[dict[str, Any]],
    sends: list[dict[str, Any]] | None = None,
    legs: int = 1,
    **more: Any,
) -> dict[str, Any]:
    return {
        "id": ident,
        "name": name,
        "kind": "track",
        "parent": group,
        "plays": ["audio"],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": group,
        "sends": sends or [],
        "inserts": inserts,
        "clips": clips,
    } | more


def bus(ident: str, name: str, kind: str, fader: float, inserts: list[dict[str, Any]], **more: Any) -> dict[str, Any]:
    strip: dict[str, Any] = {
        "id": ident,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "inserts": inserts,
    }
    if kind != "master":
        strip["output"] = "master"
    return strip | more


def whole(file: str) -> list[dict[str, Any]]:
    return [clip(file, BEGIN, RING, 0.02, 1.5)]


def mandolin(file: str) -> list[dict[str, Any]]:
    """The mandolin rests in the verses; both of its microphones were cut at the same places."""
    spans = ((BEGIN, VERSE1 + 0.6), (REF1 - 0.3, VERSE2 + 0.6), (REF2 - 0.3, RING))
    return [clip(file, start, end, 0.02, 1.5 if end == RING else 0.3) for start, end in spans]


def ride(low: float) -> list[dict[str, Any]]:
    """The mandolin comes forward by 3 dB for its solo over the bridge."""
    high = low + 3.0
    return [
        auto("fader", "dB", [(0.0, low), (BRIDGE - 0.5, low), (BRIDGE, high), (REF3 - 0.5, high), (REF3, low)]),
    ]


def tracks() -> list[dict[str, Any]]:
    her_join = bar(19)
    return [
        track(
            "t01",
            "Cassa",
            "batt",
            -4.0,
            0.0,
            whole("cassa"),
            [eq(hp(30.0), point("bell", 320.0, -4.0, 1.2), point("bell", 3600.0, 2.5, 1.0)), dyn(-16, 4, 25, 90, 2.0)],
            [send("par", -6.0)],
        ),
        track(
            "t02",
            "Rull sopra",
            "batt",
            -5.0,
            0.0,
            whole("rull_sopra"),
            [eq(hp(80.0), point("bell", 210.0, 2.0, 1.0)), dyn(-15, 3, 12, 110, 1.5)],
            [send("par", -5.0), send("piastra", -15.0)],
        ),
        track("t03", "Rull sotto", "batt", -11.0, 0.0, whole("rull_sotto"), [flip(), eq(hp(160.0))]),
        track(
            "t04",
            "Timpano",
            "batt",
            -6.0,
            32.0,
            whole("timpano"),
            [gate(-36.0, -20.0), eq(hp(45.0), point("bell", 420.0, -3.5, 1.1))],
            [send("par", -8.0)],
        ),
        track("t05", "Pano sx", "batt", -6.0, -85.0, whole("pano_sx"), [eq(hp(200.0))]),
        track("t06", "Pano dx", "batt", -6.0, 85.0, whole("pano_dx"), [eq(hp(200.0))]),
        track("t07", "Stanza batt", "batt", -15.0, 0.0, whole("stanza"), [eq(hp(60.0)), dyn(-24, 4, 10, 160)], legs=2),
        track(
            "t08",
            "Cbasso mic",
            "basso",
            -5.0,
            0.0,
            whole("cb_mic"),
            [eq(hp(35.0), point("bell", 180.0, -2.0, 1.0))],
        ),
        track(
            "t09",
            "Cbasso DI",
            "basso",
            -9.0,
            0.0,
            whole("cb_di"),
            [eq(hp(35.0), point("low-pass", 4200.0, slope=12.0))],
        ),
        track(
            "t10",
            "Ac sx",
            "strum",
            -8.0,
            -75.0,
            whole("ac_sx"),
            [eq(hp(110.0)), dyn(-18, 2.5, 15, 120, 1.0)],
            [send("piastra", -21.0)],
        ),
        track(
            "t11",
            "Ac dx",
            "strum",
            -8.0,
            75.0,
            whole("ac_dx"),
            [eq(hp(110.0)), dyn(-18, 2.5, 15, 120, 1.0)],
            [send("piastra", -21.0)],
        ),
        track(
            "t12",
            "Ac arpeggio",
            "strum",
            -10.0,
            -30.0,
            [
                clip("ac_arp", VERSE1 - 0.1, REF1 + 0.4, 0.02, 0.3),
                clip("ac_arp", VERSE2 - 0.1, REF2 + 0.4, 0.02, 0.3),
                clip("ac_arp", CODA - 0.1, RING, 0.02, 1.5),
            ],
            [eq(hp(120.0), point("high-shelf", 9000.0, 1.5))],
            [send("piastra", -16.0)],
        ),
        track(
            "t13",
            "Mando vicino",
            "strum",
            -8.0,
            40.0,
            mandolin("mando_vic"),
            [eq(hp(170.0), point("bell", 2800.0, -1.5, 1.4))],
            [send("piastra", -16.0)],
            automation=ride(-8.0),
        ),
        track(
            "t14",
            "Mando lontano",
            "strum",
            -14.0,
            40.0,
            mandolin("mando_lon"),
            [eq(hp(170.0))],
            automation=ride(-14.0),
        ),
        track(
            "t15",
            "Fisa",
            "strum",
            -7.0,
            -22.0,
            [clip("fisa", BEGIN, BRIDGE + 0.8, 0.02, 0.5), clip("fisa", REF3 - 0.4, RING, 0.1, 1.5)],
            [eq(hp(90.0), point("bell", 900.0, -2.0, 0.9)), dyn(-20, 2, 20, 200, 1.0)],
            [send("piastra", -17.0)],
        ),
        track(
            "t16",
            "Voce Lei",
            "voci",
            -3.0,
            -12.0,
            [
                # the first verse is put together from takes 2 and 5, crossfaded on a breath
                clip("lei_2", VERSE1 - 0.4, her_join + 0.02, 0.02, 0.02),
                clip("lei_5", her_join, VERSE2 - 0.6, 0.02, 0.1),
                clip("lei_5", REF2 - 0.5, BRIDGE + 0.7, 0.02, 0.1),
                clip("lei_2", REF3 - 0.5, LAST + 2.4, 0.02, 0.4),
            ],
            [
                eq(hp(95.0), point("bell", 310.0, -2.0, 1.0), point("high-shelf", 10500.0, 2.0)),
                dyn(-20, 3, 8, 90, 3.0),
                {"name": "De-esser", "kind": "de-esser", "opaque": True},
            ],
            [send("piastra", -12.0), send("eco", -14.0, on=False)],
            automation=[
                auto("fader", "dB", [(0.0, -3.0), (REF1 - 1.0, -3.0), (REF1, -2.0)]),
                # an echo after the last word of her verse
                auto("send:1:on", "switch", [(0.0, 0.0), (REF1 - 1.6, 1.0), (REF1 - 0.3, 0.0)], "hold"),
            ],
        ),
        track(
            "t17",
            "Voce Lui",
            "voci",
            -3.5,
            12.0,
            [
                clip("lui_1", REF1 - 0.5, BRIDGE + 0.7, 0.02, 0.1),
                clip("lui_1", REF3 - 0.5, LAST + 2.4, 0.02, 0.4),
            ],
            [eq(hp(80.0), point("bell", 260.0, -2.5, 1.0)), dyn(-20, 3, 10, 100, 3.0)],
            [send("piastra", -12.0), send("eco", -14.0, on=False)],
            automation=[auto("send:1:on", "switch", [(0.0, 0.0), (REF2 - 1.6, 1.0), (REF2 - 0.3, 0.0)], "hold")],
        ),
        track(
            "t18",
            "Doppia Lei",
            "voci",
            -14.0,
            -12.0,
            [
                clip("lei_dopp", REF1 - 0.4, VERSE2 - 0.6, 0.02, 0.1),
                clip("lei_dopp", REF2 - 0.4, BRIDGE + 0.5, 0.02, 0.1),
                clip("lei_dopp", REF3 - 0.4, CODA + 0.5, 0.02, 0.2),
            ],
            [eq(hp(150.0)), dyn(-24, 4, 5, 80, 2.0)],
            [send("piastra", -10.0)],
        ),
        track(
            "t19",
            "Coro amici",
            "voci",
            -10.0,
            0.0,
            [clip("coro", REF2 - 0.4, BRIDGE + 0.7, 0.05, 0.3), clip("coro", REF3 - 0.4, LAST + 2.6, 0.05, 0.5)],
            [eq(hp(140.0)), dyn(-22, 2.5, 15, 150, 1.0)],
            [send("piastra", -11.0)],
            legs=2,
        ),
        track(
            "t20",
            "Tamburello",
            "batt",
            -13.0,
            -45.0,
            [
                clip("tamburello", REF1 - 0.1, VERSE2 + 0.3, 0.01, 0.1),
                clip("tamburello", REF2 - 0.1, BRIDGE + 0.3, 0.01, 0.1),
                clip("tamburello", REF3 - 0.1, LAST + 1.0, 0.01, 0.3),
            ],
            [eq(hp(350.0))],
            [send("piastra", -18.0)],
        ),
        track("t21", "Click", None, -12.0, 0.0, [clip("click", 0.0, LAST, 0.0, 0.0)], [], mute=True),
        track(
            "t22",
            "Guida voce",
            None,
            -8.0,
            0.0,
            [clip("guida", BEGIN, LAST + 2.0, 0.02, 0.1)],
            [],
            mute=True,
            output="master",
            comment="voce guida della base, non usare",
        ),
    ]


def buses() -> list[dict[str, Any]]:
    return [
        bus("batt", "BATT", "group", -1.0, [dyn(-14, 2, 30, 120, 1.0)]),
        bus("par", "Batt parallela", "group", -13.0, [dyn(-30, 10, 3, 90, 4.0), eq(hp(50.0))]),
        bus("basso", "CBASSO", "group", -1.0, [dyn(-18, 3, 25, 140, 2.0)]),
        bus("strum", "STRUM", "group", -1.5, [eq(point("bell", 250.0, -1.0, 0.8))]),
        bus("voci", "VOCI", "group", 0.0, [dyn(-14, 1.8, 20, 160, 1.0)]),
        bus(
            "piastra",
            "Riv Piastra",
            "return",
            -4.0,
            [
                eq(hp(280.0), point("low-pass", 8500.0, slope=12.0)),
                {
                    "name": "Riverbero a piastra",
                    "kind": "reverb",
                    "opaque": False,
                    "wet": 100.0,
                    "pre_delay_ms": 28.0,
                    "parameters": [{"id": "decay", "name": "Decadimento", "value": 1.9, "unit": "s"}],
                },
            ],
        ),
        bus(
            "eco",
            "Eco 1/4",
            "return",
            -6.0,
            [
                {
                    "name": "Eco",
                    "kind": "delay",
                    "opaque": False,
                    "wet": 100.0,
                    "parameters": [
                        {"id": "time", "name": "Tempo", "value": round(60000.0 / BPM, 2), "unit": "ms"},
                        {"id": "feedback", "name": "Ripetizioni", "value": 22.0, "unit": "%"},
                    ],
                },
                eq(hp(300.0), point("low-pass", 4500.0, slope=12.0)),
            ],
            sends=[send("piastra", -16.0)],
        ),
        bus(
            "master",
            "MASTER",
            "master",
            0.0,
            [
                eq(point("high-shelf", 12000.0, 1.0)),
                dyn(-12, 1.8, 30, 180, 0.5),
                {
                    "name": "Limiter",
                    "kind": "limiter",
                    "opaque": False,
                    "dynamics": {"threshold_db": -1.0, "attack_ms": 0.1, "release_ms": 90.0},
                },
            ],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = tracks() + buses()
    wide = {channel["name"] for channel in channels if channel["legs"] == 2}
    media: dict[str, dict[str, Any]] = {}
    for channel in channels:
        for part in channel.get("clips", []):
            media[part["file"]] = {
                "id": part["file"],
                "path": f"registrazioni/{part['name']}.wav",
                "place": "beside",
                "present": True,
                "legs": 2 if channel["name"] in wide else 1,
                "sample_rate_hz": RATE,
                "duration_s": LENGTH,
            }
    names = ("Intro", "Strofa 1 lei", "Rit 1", "Strofa 2 lui", "Rit 2", "Ponte", "Rit 3", "Coda", "Ultimo accordo")
    times = (bar(3), VERSE1, REF1, VERSE2, REF2, BRIDGE, REF3, CODA, LAST)
    return {
        "format": "mixlint-session/1",
        "title": "Lampare di marzo - mix 4",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": 0.0, "bpm": BPM}],
            "meters": [{"beat": 0.0, "beats": 4, "unit": 4}],
        },
        "markers": [{"time_s": time, "name": name} for time, name in zip(times, names, strict=True)],
        "channels": channels,
        "media": list(media.values()),
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    for channel in session["channels"]:
        if channel["name"] == name:
            found: dict[str, Any] = channel
            return found
    raise KeyError(name)


def same_side(session: Session) -> None:
    chan(session, "Ac dx")["pan"] = -75.0


def plate_half_dry(session: Session) -> None:
    chan(session, "Riv Piastra")["inserts"][1]["wet"] = 30.0


def accordion_plus(session: Session) -> None:
    chan(session, "Fisa")["fader_db"] = 7.0


def solo_ride_stays(session: Session) -> None:
    line = chan(session, "Mando vicino")["automation"][0]
    del line["t"][3:], line["v"][3:]


def he_goes_to_the_drums(session: Session) -> None:
    chan(session, "Voce Lui")["output"] = "batt"


def double_is_a_copy(session: Session) -> None:
    """The second refrain of the double was filled from the lead's take while looking for something."""
    chan(session, "Doppia Lei")["clips"][1] |= {"file": "f-lei_5", "name": "lei_5"}


def guide_open(session: Session) -> None:
    chan(session, "Guida voce")["mute"] = False


def bass_mic_slid(session: Session) -> None:
    part = chan(session, "Cbasso mic")["clips"][0]
    part["start_s"] = round(part["start_s"] + 0.009, 4)
    part["end_s"] = round(part["end_s"] + 0.009, 4)


def hole_in_the_verse(session: Session) -> None:
    part = chan(session, "Voce Lei")["clips"][1]
    part["start_s"] = round(part["start_s"] + 0.38, 4)
    part["offset_s"] = round(part["offset_s"] + 0.38, 4)
    part["fade_in_s"] = 0.0


def accordion_at_44(session: Session) -> None:
    for file in session["media"]:
        if file["id"] == "f-fisa":
            file["sample_rate_hz"] = 44100.0


def cymbals_cut_left(session: Session) -> None:
    part = chan(session, "Pano sx")["clips"][0]
    part["end_s"] = round(LAST + 0.45, 4)
    part["fade_out_s"] = 0.0


ACCEPTED: list[dict[str, Any]] = [
    {
        "channels": ["Voce Lei", "Voce Lui", "Doppia Lei"],
        "why": "the leads stand a little apart on purpose, her double with her; taste",
    },
    {
        "channels": ["Click", "Guida voce"],
        "why": "kept in the session, both muted, and the click has no output either; harmless",
    },
    {
        "channels": ["Ac arpeggio", "Tamburello", "Fisa"],
        "why": "they sit left of the middle with the mandolin alone on the right; a matter of taste",
    },
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "ac-dx-on-the-left",
        "class": "place",
        "channels": ["Ac dx", "Ac sx"],
        "grade": "hold",
        "says": "Ac dx is panned 75 left, on top of Ac sx: both strummed guitars are on the left, none right.",
        "plant": same_side,
    },
    {
        "id": "plate-30-wet",
        "class": "ambience",
        "channels": ["Riv Piastra"],
        "grade": "hold",
        "says": "The plate on the return is only 30 % wet, so the return adds mostly dry sound and hardly any reverb.",
        "plant": plate_half_dry,
    },
    {
        "id": "fisa-plus-seven",
        "class": "level",
        "channels": ["Fisa"],
        "grade": "hold",
        "says": "The accordion's fader is at +7 where all round it is near -8: a lost minus sign, it drowns the song.",
        "plant": accordion_plus,
    },
    {
        "id": "mando-ride-stays-up",
        "class": "automation",
        "channels": ["Mando vicino", "Mando lontano"],
        "grade": "look",
        "says": "The close mandolin's solo ride never comes back down after the bridge, though the far microphone's does.",
        "plant": solo_ride_stays,
    },
    {
        "id": "lui-into-drums",
        "class": "routing",
        "channels": ["Voce Lui"],
        "grade": "hold",
        "says": "Voce Lui goes out to BATT instead of VOCI: his voice runs through the drum compressor.",
        "plant": he_goes_to_the_drums,
    },
    {
        "id": "double-copies-lead",
        "class": "twice",
        "channels": ["Doppia Lei", "Voce Lei"],
        "grade": "hold",
        "says": "In the second refrain Doppia Lei plays the lead's own take at the same spot: no double, the lead twice.",
        "plant": double_is_a_copy,
    },
    {
        "id": "guide-vocal-open",
        "class": "audible-that-should-not-be",
        "channels": ["Guida voce"],
        "grade": "hold",
        "says": "The guide vocal is not muted and goes to the master: it will be heard under the real voices all through.",
        "plant": guide_open,
    },
    {
        "id": "bass-mic-9-ms-late",
        "class": "phase",
        "channels": ["Cbasso mic", "Cbasso DI"],
        "grade": "hold",
        "says": "The double bass microphone was dragged 9 ms later than its DI: the two cancel in the low end.",
        "plant": bass_mic_slid,
    },
    {
        "id": "hole-in-her-verse",
        "class": "edits",
        "channels": ["Voce Lei"],
        "grade": "hold",
        "says": "The join of the two takes in her verse has come open: 0.36 s of nothing and a hard start at bar 19.",
        "plant": hole_in_the_verse,
    },
    {
        "id": "fisa-44k1",
        "class": "files",
        "channels": ["Fisa"],
        "grade": "hold",
        "says": "The accordion's file is 44.1 kHz in a 48 kHz session and is not converted: it would play fast and sharp.",
        "plant": accordion_at_44,
    },
    {
        "id": "left-cymbals-cut",
        "class": "end",
        "channels": ["Pano sx", "Pano dx"],
        "grade": "hold",
        "says": "Pano sx is chopped half a second after the last chord without a fade while Pano dx and the rest ring.",
        "plant": cymbals_cut_left,
    },
]
