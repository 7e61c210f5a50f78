"""A slow folk song at 96 in four: two acoustic guitars hard apart, each with a small mono reverb that answers from the
other side, one singer, four backing voices in the choruses, an upright piano, bass and a soft kit in the middle.
The engineer types short sloppy lower-case names, writes buses in capitals, keeps the old guide and the click in the
session, crushes the kit in parallel for the choruses only, and rides the singer by hand. Takes run from the top of
the session."""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]

BAR = 2.5
TOP, V1, C1, V2, C2, BRIDGE, C3, OUTRO, LAST, END = 5.0, 25.0, 65.0, 85.0, 115.0, 135.0, 155.0, 175.0, 187.5, 195.0
FILE_LENGTH = 200.0


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.8, slope: float | None = None) -> dict[str, Any]:
    """One equalizer band."""
    made: dict[str, Any] = {"kind": kind, "freq_hz": freq, "on": True}
    if slope is None:
        made.update(gain_db=gain, q=q)
    else:
        made["slope_db_per_oct"] = slope
    return made


def eq(name: str, *bands: dict[str, Any]) -> dict[str, Any]:
    """An equalizer with open settings."""
    return {
        "name": name,
        "kind": "equalizer",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "equalizer": {"bands": list(bands), "input_gain_db": 0.0, "output_gain_db": 0.0},
    }


def comp(
    name: str,
    threshold: float,
    ratio: float,
    attack: float,
    release: float,
    makeup: float = 0.0,
    kind: str = "compressor",
    key: str = "",
) -> dict[str, Any]:
    """A compressor or limiter, with a key input if one is named."""
    made: dict[str, Any] = {
        "name": name,
        "kind": kind,
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "input_gain_db": 0.0,
            "output_gain_db": makeup,
            "auto_makeup": False,
        },
    }
    if key:
        made["parameters"] = [{"id": "key", "name": "Key", "value": key}]
    return made


def reverb(name: str, pre_delay: float, seconds: float) -> dict[str, Any]:
    """A reverb for a return: wholly wet."""
    return {
        "name": name,
        "kind": "reverb",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "pre_delay_ms": pre_delay,
        "parameters": [{"id": "time", "name": "Decay", "value": seconds, "unit": "s", "low": 0.1, "high": 10.0}],
    }


def polarity(invert: bool) -> dict[str, Any]:
    """A utility with a polarity switch."""
    return {
        "name": "flip",
        "kind": "utility",
        "on": True,
        "opaque": False,
        "wet": 100.0,
        "parameters": [{"id": "invert", "name": "Invert", "value": invert}],
    }


def send(to: str, level: float) -> dict[str, Any]:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def clip(
    file: str, start: float, end: float, fade_in: float = 0.02, fade_out: float = 0.05, gain: float = 0.0
) -> dict[str, Any]:
    """A stretch of a take that was recorded from the top of the session, so it plays where it was sung."""
    return {
        "start_s": start,
        "end_s": end,
        "name": f"{file} {start:g}",
        "plays": "audio",
        "file": file,
        "offset_s": start,
        "speed": 1.0,
        "fade_in_s": fade_in,
        "fade_out_s": fade_out,
        "gain_db": gain,
        "on": True,
    }


def track(
    ident: str, name: str, output: str | None, fader: float, pan: float = 0.0, legs: int = 1, **more: Any
) -> dict[str, Any]:
    """A track; whatever else it has comes by keyword."""
    return {
        "id": ident,
        "name": name,
        "kind": "track",
        "plays": ["audio"],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        **more,
    }


def bus(
    ident: str,
    name: str,
    kind: str,
    output: str | None,
    fader: float = 0.0,
    pan: float = 0.0,
    legs: int = 2,
    **more: Any,
) -> dict[str, Any]:
    """A group, a return, a VCA or the master."""
    return {
        "id": ident,
        "name": name,
        "kind": kind,
        "plays": [],
        "legs": legs,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        **more,
    }


def lane(target: str, scale: str, points: list[tuple[float, float]], shape: str = "hold") -> dict[str, Any]:
    """An automation lane from (time, value) points."""
    return {"target": target, "scale": scale, "shape": shape, "t": [p[0] for p in points], "v": [p[1] for p in points]}


def drums() -> list[dict[str, Any]]:
    """Kick, snare from both sides, a pair over the kit; they play from the first verse to the last chord."""

    def whole(file: str) -> list[dict[str, Any]]:
        return [clip(file, V1 - BAR, END, fade_out=2.0)]

    common: dict[str, Any] = {"parent": "drms"}
    return [
        track(
            "kik",
            "kik",
            "drms",
            -6.0,
            inserts=[
                eq("eq", band("low-shelf", 70.0, 2.0), band("bell", 350.0, -3.5, 1.2)),
                comp("cmp", -18.0, 3.0, 25.0, 120.0),
            ],
            sends=[send("smash", -10.0)],
            clips=whole("kik_t4"),
            **common,
        ),
        track(
            "snt",
            "snr top",
            "drms",
            -7.5,
            inserts=[eq("eq", band("high-pass", 90.0, slope=12.0), band("bell", 200.0, 1.5))],
            sends=[send("smash", -8.0), send("plate", -19.0)],
            clips=whole("snt_t4"),
            **common,
        ),
        track(
            "snb",
            "snr btm",
            "drms",
            -15.0,
            inserts=[polarity(True), eq("eq", band("high-pass", 220.0, slope=12.0))],
            clips=whole("snb_t4"),
            **common,
        ),
        track(
            "ohl",
            "oh L",
            "drms",
            -8.0,
            -80.0,
            inserts=[eq("eq", band("high-pass", 160.0, slope=12.0))],
            sends=[send("smash", -14.0)],
            clips=whole("ohl_t4"),
            **common,
        ),
        track(
            "ohr",
            "oh R",
            "drms",
            -8.0,
            80.0,
            inserts=[eq("eq", band("high-pass", 160.0, slope=12.0))],
            sends=[send("smash", -14.0)],
            clips=whole("ohr_t4"),
            **common,
        ),
    ]


def players() -> list[dict[str, Any]]:
    """Bass by wire and by amp, the two guitars, the piano."""

    def guitar_lane() -> dict[str, Any]:
        return lane("send:0:level", "dB", [(0.0, -11.0), (BRIDGE, -8.0), (C3, -11.0)])

    return [
        track(
            "bdi",
            "bs di",
            "bass",
            -9.0,
            parent="bass",
            inserts=[eq("eq", band("low-pass", 3500.0, slope=12.0))],
            clips=[clip("bdi_t2", V1 - BAR, END, fade_out=2.5)],
        ),
        track(
            "bam",
            "bs amp",
            "bass",
            -7.0,
            parent="bass",
            inserts=[eq("eq", band("bell", 800.0, 1.5))],
            clips=[clip("bam_t2", V1 - BAR, END, fade_out=2.5)],
        ),
        track(
            "ac1",
            "ac1 (L)",
            "acs",
            -6.5,
            -78.0,
            parent="acs",
            sends=[send("v1", -11.0)],
            automation=[guitar_lane()],
            inserts=[
                eq("eq", band("high-pass", 95.0, slope=12.0), band("bell", 220.0, -2.0, 1.0)),
                comp("cmp", -20.0, 2.0, 20.0, 150.0, 1.0),
            ],
            clips=[
                clip("ac1_t7", TOP, C1 - 0.3),
                clip("ac1_t9", C1 - 0.3, BRIDGE - 0.2),
                clip("ac1_t7", BRIDGE - 0.2, END, fade_out=3.0),
            ],
        ),
        track(
            "ac2",
            "ac2 (R)",
            "acs",
            -6.0,
            78.0,
            parent="acs",
            sends=[send("v2", -11.0)],
            automation=[guitar_lane()],
            inserts=[
                eq("eq", band("high-pass", 100.0, slope=12.0), band("bell", 180.0, -2.0, 1.0)),
                comp("cmp", -20.0, 2.0, 20.0, 150.0, 1.0),
            ],
            clips=[clip("ac2_t3", TOP + 4 * BAR, C1 - 0.3), clip("ac2_t5", C1 - 0.3, END, fade_out=3.0)],
        ),
        track(
            "pno",
            "pno",
            "mst",
            -8.5,
            legs=2,
            sends=[send("plate", -15.0)],
            inserts=[eq("eq", band("high-pass", 120.0, slope=12.0), band("bell", 400.0, -2.0))],
            clips=[clip("pno_t1", C1, V2, fade_out=0.6), clip("pno_t1", C2, END, fade_out=3.0)],
        ),
    ]


def voices() -> list[dict[str, Any]]:
    """The singer, comped from two takes; four backing voices in the choruses; the old guide, muted."""

    def backing(ident: str, name: str, fader: float, pan: float) -> dict[str, Any]:
        return track(
            ident,
            name,
            "bvs",
            fader,
            pan,
            parent="bvs",
            inserts=[eq("eq", band("high-pass", 140.0, slope=12.0))],
            clips=[clip(f"{ident}_t1", a, b, 0.1, 0.4) for a, b in ((C1, V2), (C2, BRIDGE), (C3, OUTRO + BAR))],
        )

    ride = [
        (0.0, -5.0),
        (V1, -5.0),
        (C1, -5.0),
        (C1, -4.0),
        (V2, -4.0),
        (V2, -5.0),
        (C2, -5.0),
        (C2, -4.0),
        (C3 - 3.0, -4.0),
        (C3 - 3.0, -18.0),
        (C3 - 0.6, -18.0),
        (C3 - 0.6, -3.5),
        (END, -3.5),
    ]
    throws = [(0.0, -17.0), (V2 - 2.0, -9.0), (V2, -17.0), (BRIDGE - 2.0, -9.0), (BRIDGE, -17.0)]
    return [
        track(
            "vox",
            "LD VOX",
            "mst",
            -5.0,
            parent="vca",
            sends=[send("plate", -12.0), send("slap", -17.0)],
            inserts=[
                eq(
                    "eq",
                    band("high-pass", 85.0, slope=12.0),
                    band("bell", 280.0, -2.0),
                    band("high-shelf", 9000.0, 2.0),
                ),
                comp("cmp", -22.0, 3.0, 8.0, 90.0, 3.0),
                {"name": "ess", "kind": "de-esser", "on": True, "opaque": True, "wet": 100.0},
            ],
            clips=[
                clip("vox_t2", V1 - 0.8, C1 - 0.5),
                clip("vox_t5", C1 - 0.5, V2 - 0.4),
                clip("vox_t2", V2 - 0.4, C2 - 0.5, gain=1.0),
                clip("vox_t5", C2 - 0.5, OUTRO + 2 * BAR, fade_out=0.4),
            ],
            automation=[lane("fader", "dB", ride, "linear"), lane("send:1:level", "dB", throws)],
        ),
        backing("bhl", "bv hi L", -10.5, -55.0),
        backing("bhr", "bv hi R", -10.5, 55.0),
        backing("bll", "bv lo L", -9.5, -38.0),
        backing("blr", "bv lo R", -9.5, 38.0),
        {**track("gde", "guide vox OLD", "mst", -6.0, clips=[clip("gde_t1", V1 - 0.8, OUTRO + BAR)]), "mute": True},
        {
            **track("clk", "click", None, -12.0, clips=[]),
            "plays": ["notes"],
            "clips": [{"start_s": 0.0, "end_s": LAST, "name": "click", "plays": "notes", "file": None, "on": True}],
            "comment": "phones only",
        },
    ]


def buses() -> list[dict[str, Any]]:
    """Groups, the parallel crush, the crossed guitar reverbs, the singer's plate and slap, the VCA and the master."""
    choruses = [(0.0, 1.0), (C1, 0.0), (V2, 1.0), (C2, 0.0), (BRIDGE, 1.0), (C3, 0.0), (OUTRO, 1.0)]
    return [
        bus("drms", "DRMS", "group", "mst", -1.0, inserts=[comp("glue", -16.0, 2.0, 30.0, 180.0, 1.0)]),
        bus(
            "bass", "BASS", "group", "mst", -2.0, legs=1, inserts=[comp("cmp", -20.0, 4.0, 18.0, 120.0, 2.0, key="kik")]
        ),
        bus("acs", "ACS", "group", "mst", -1.0, inserts=[eq("tilt", band("high-shelf", 8000.0, 1.0))]),
        bus(
            "bvs",
            "BVS",
            "group",
            "mst",
            -3.0,
            parent="vca",
            sends=[send("plate", -9.0)],
            inserts=[comp("cmp", -20.0, 2.5, 12.0, 140.0, 1.5)],
        ),
        bus(
            "smash",
            "drm smash",
            "return",
            "mst",
            -13.0,
            inserts=[comp("smash", -34.0, 10.0, 2.0, 80.0, 4.0)],
            automation=[lane("mute", "switch", choruses)],
        ),
        bus("v1", "verb ac1 > R", "return", "acs", -4.0, 72.0, 1, inserts=[reverb("chamber", 18.0, 1.3)]),
        bus("v2", "verb ac2 > L", "return", "acs", -4.0, -72.0, 1, inserts=[reverb("chamber", 18.0, 1.3)]),
        bus(
            "plate",
            "vox plate",
            "return",
            "mst",
            -5.0,
            inserts=[eq("eq", band("high-pass", 250.0, slope=12.0)), reverb("plate", 30.0, 1.9)],
        ),
        bus(
            "slap",
            "vox slap",
            "return",
            "mst",
            -7.0,
            inserts=[
                {
                    "name": "slap",
                    "kind": "delay",
                    "on": True,
                    "opaque": False,
                    "wet": 100.0,
                    "parameters": [
                        {"id": "time", "name": "Time", "value": 125.0, "unit": "ms"},
                        {"id": "feedback", "name": "Feedback", "value": 8.0, "unit": "%"},
                    ],
                },
                eq("dark", band("low-pass", 4500.0, slope=6.0)),
            ],
        ),
        bus("vca", "VCA vox", "vca", None, 0.0),
        bus(
            "mst",
            "MASTER",
            "master",
            None,
            0.0,
            inserts=[
                eq("eq", band("high-pass", 25.0, slope=12.0)),
                comp("glue", -12.0, 1.5, 30.0, 250.0, 1.0),
                comp("brick", -1.0, 100.0, 0.5, 60.0, kind="limiter"),
            ],
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = drums() + players() + voices() + buses()
    files = sorted({c["file"] for ch in channels for c in ch.get("clips", []) if c["file"]})
    return {
        "format": "mixlint-session/1",
        "title": "Slate River",
        "sample_rate_hz": 48000.0,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": 96.0}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [
            {"time_s": t, "name": n}
            for t, n in (
                (TOP, "intro"),
                (V1, "v1"),
                (C1, "ch1"),
                (V2, "v2"),
                (C2, "ch2"),
                (BRIDGE, "bridge"),
                (C3, "ch3"),
                (OUTRO, "outro"),
                (END + 2.5, "end"),
            )
        ],
        "channels": channels,
        "media": [
            {
                "id": f,
                "path": f"audio/{f}.wav",
                "place": "beside",
                "present": True,
                "legs": 2 if f.startswith("pno") else 1,
                "sample_rate_hz": 48000.0,
                "duration_s": FILE_LENGTH,
            }
            for f in files
        ],
        "metadata": {"title": "Slate River", "bounce": "48 kHz 24 bit, from intro to end"},
    }


def chan(session: Session, name: str) -> dict[str, Any]:
    """The channel of that name."""
    found: dict[str, Any] = next(c for c in session["channels"] if c["name"] == name)
    return found


def return_on_own_side(session: Session) -> None:
    """The pan of the second guitar's reverb lost its minus."""
    chan(session, "verb ac2 > L")["pan"] = 72.0


def return_not_wet(session: Session) -> None:
    """The first guitar's reverb came up with the mix of a preset."""
    chan(session, "verb ac1 > R")["inserts"][0]["wet"] = 40.0


def piano_up(session: Session) -> None:
    """The piano's fader typed without its minus."""
    chan(session, "pno")["fader_db"] = 8.5


def ride_not_back(session: Session) -> None:
    """The points that bring the singer back after the cough before the last chorus were deleted."""
    ride = chan(session, "LD VOX")["automation"][0]
    del ride["t"][-2:], ride["v"][-2:]


def snare_past_the_group(session: Session) -> None:
    """The upper snare microphone goes to the master."""
    chan(session, "snr top")["output"] = "mst"


def amp_plays_di(session: Session) -> None:
    """The amp's clip was relinked to the file of the wire."""
    chan(session, "bs amp")["clips"][0]["file"] = "bdi_t2"


def guide_open(session: Session) -> None:
    """The guide was listened to and left open."""
    chan(session, "guide vox OLD")["mute"] = False


def backing_clip_off(session: Session) -> None:
    """One clip of one backing voice was muted in the second chorus."""
    chan(session, "bv lo L")["clips"][1]["on"] = False


def snare_polarity(session: Session) -> None:
    """The flip of the lower snare microphone was switched back."""
    chan(session, "snr btm")["inserts"][0]["parameters"][0]["value"] = False


def guitar_thin(session: Session) -> None:
    """One nought too many at the high-pass."""
    chan(session, "ac2 (R)")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 1000.0


def last_chord_cut(session: Session) -> None:
    """The last clip of the first guitar was pulled in just after the last chord is struck."""
    chan(session, "ac1 (L)")["clips"][-1].update(end_s=LAST + 0.9, fade_out_s=0.005)


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["guide vox OLD"], "why": "An old guide is still in the session; it is muted and does no harm."},
    {"channels": ["click"], "why": "The click goes to the phones only; it has no output on purpose."},
    {"channels": ["drm smash"], "why": "The crush passes the drum group and is open in the choruses only, as meant."},
    {"channels": ["snr btm"], "why": "Turned in polarity against the upper microphone, as it should be."},
    {
        "channels": ["verb ac1 > R", "verb ac2 > L", "ac1 (L)", "ac2 (R)"],
        "why": "Each guitar's reverb stands across from it, in mono, as meant; the first guitar is alone for four bars.",
    },
    {
        "channels": ["LD VOX"],
        "why": "A deep dip of the ride over a cough before the last chorus; clips meet in the rests.",
    },
]
FAULTS: list[dict[str, Any]] = [
    {
        "id": "ac2-verb-own-side",
        "class": "place",
        "channels": ["verb ac2 > L", "ac2 (R)", "verb ac1 > R"],
        "grade": "hold",
        "says": "The reverb of ac2 is panned right, to the guitar's own side; both guitar reverbs now stand right.",
        "plant": return_on_own_side,
    },
    {
        "id": "ac1-verb-half-dry",
        "class": "ambience",
        "channels": ["verb ac1 > R", "ac1 (L)"],
        "grade": "hold",
        "says": "The reverb on the return of ac1 is only 40 % wet, so the dry left guitar comes back on the right.",
        "plant": return_not_wet,
    },
    {
        "id": "piano-without-minus",
        "class": "level",
        "channels": ["pno"],
        "grade": "hold",
        "says": "The piano's fader stands at +8.5 dB, far above everything else; it looks like -8.5 without its minus.",
        "plant": piano_up,
    },
    {
        "id": "lead-ride-stays-down",
        "class": "automation",
        "channels": ["LD VOX"],
        "grade": "hold",
        "says": "The singer's ride drops to -18 dB before the last chorus and never comes back.",
        "plant": ride_not_back,
    },
    {
        "id": "snare-past-drum-group",
        "class": "routing",
        "channels": ["snr top", "DRMS"],
        "grade": "hold",
        "says": "The snare's top microphone goes straight to the master while the rest of the kit goes through DRMS.",
        "plant": snare_past_the_group,
    },
    {
        "id": "amp-plays-di-file",
        "class": "twice",
        "channels": ["bs amp", "bs di"],
        "grade": "hold",
        "says": "The bass amp plays the same file as the DI, so the DI is heard twice and the amp not at all.",
        "plant": amp_plays_di,
    },
    {
        "id": "guide-left-open",
        "class": "audible-that-should-not-be",
        "channels": ["guide vox OLD", "LD VOX"],
        "grade": "hold",
        "says": "The old guide voice is not muted and sings along with the lead.",
        "plant": guide_open,
    },
    {
        "id": "backing-voice-missing",
        "class": "inaudible",
        "channels": ["bv lo L"],
        "grade": "hold",
        "says": "The clip of bv lo L in the second chorus is muted; its three partners sing there.",
        "plant": backing_clip_off,
    },
    {
        "id": "snare-bottom-not-turned",
        "class": "phase",
        "channels": ["snr btm", "snr top"],
        "grade": "hold",
        "says": "The bottom snare's polarity is not inverted, so it cancels the body of the top microphone.",
        "plant": snare_polarity,
    },
    {
        "id": "guitar-high-pass-at-1k",
        "class": "processors",
        "channels": ["ac2 (R)", "ac1 (L)"],
        "grade": "hold",
        "says": "The high-pass of ac2 stands at 1000 Hz where ac1 has 95 Hz; the right guitar has lost its body.",
        "plant": guitar_thin,
    },
    {
        "id": "last-chord-cut-left",
        "class": "end",
        "channels": ["ac1 (L)"],
        "grade": "hold",
        "says": "The left guitar breaks off under a second into the last chord while all the others ring out.",
        "plant": last_chord_cut,
    },
]
