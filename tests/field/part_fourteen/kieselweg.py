"""Kieselweg: a singer with one guitar, live in one room, a few overdubs; German names, 96 kHz, three in a bar.

Voice and guitar were played together: one microphone for the voice, two for the guitar (neck and bridge), a spaced
pair in the room. Take 3 is the base, verse 2 and the bridge come from take 5; every splice goes through all live
microphones at the same place, because each hears everything. The tempo map was laid under the take.
Overdubs: a second voice in the refrains, a cello sent from home, plucked double bass, a shaker. The engineer rides the
voice a little, opens the hall on last words, and writes down what was measured or agreed.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

Session = dict[str, Any]
Item = dict[str, Any]

TEMPI = (
    (1, 92.0),
    (27, 93.5),
    (43, 92.0),
    (83, 90.0),
    (91, 93.0),
    (111, 91.0),
    (112, 89.0),
    (113, 86.0),
    (114, 82.0),
    (115, 78.0),
    (116, 72.0),
)
MARKEN = (
    (1, "Vorzähler"),
    (3, "Intro"),
    (11, "Strophe 1"),
    (27, "Refrain 1"),
    (43, "Zwischenspiel"),
    (51, "Strophe 2"),
    (67, "Refrain 2"),
    (83, "Brücke"),
    (91, "Refrain 3"),
    (111, "Ausklang"),
    (120, "Ende"),
)
SPLICES = ((3, "T3"), (51, "T5"), (67, "T3"), (83, "T5"), (91, "T3"), (120, ""))
LATER = {"T3": 0.0, "T5": 7.83}
SEAM = 0.03


def takt(number: int, beats: float = 0.0) -> float:
    """The time of a bar by the tempo map, and so many beats into it."""
    wanted = (number - 1) * 3.0 + beats
    time = 0.0
    steps = [*((first, bpm) for first, bpm in TEMPI), (10_000, 60.0)]
    for (first, bpm), (following, _) in pairwise(steps):
        start, stop = (first - 1) * 3.0, (following - 1) * 3.0
        if wanted <= start:
            break
        time += (min(wanted, stop) - start) * 60.0 / bpm
    return round(time, 4)


def clip(file: str, name: str, start: float, end: float, **fields: Any) -> Item:
    """A clip whose place in the file is its place in the song, unless told otherwise."""
    made: Item = {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(start, 4),
        "speed": 1.0,
        "fade_in_s": 0.02,
        "fade_out_s": 0.08,
        "gain_db": 0.0,
        "on": True,
    }
    made.update(fields)
    return made


def live(mic: str, gain_take_5: float = 0.0) -> list[Item]:
    """The live takes on one microphone: the same splices on each, a little before the upbeat."""
    made = []
    for number, ((first, take), (stop, following)) in enumerate(pairwise(SPLICES)):
        start = takt(first) - (0.8 if number == 0 else 0.12 + SEAM / 2)
        end = takt(stop) - (0.12 - SEAM / 2 if following else 0.0)
        made.append(
            clip(
                f"{mic}_{take}",
                f"{mic} {take}",
                start,
                end,
                offset_s=round(start + LATER[take], 4),
                fade_in_s=0.4 if number == 0 else SEAM,
                fade_out_s=SEAM if following else 4.0,
                gain_db=gain_take_5 if take == "T5" else 0.0,
            )
        )
    return made


def overdub(
    file: str, *spans: tuple[int, int, str], lead: float = 0.3, gap: float = 0.35, out: float = 3.5
) -> list[Item]:
    """One clip for each span of an overdub; what runs to the end dies away under a long fade."""
    made = []
    for first, stop, name in spans:
        last = stop == 120
        end = takt(stop) - (0.0 if last else gap)
        made.append(clip(file, name, takt(first) - lead, end, fade_in_s=0.03, fade_out_s=out if last else 0.15))
    return made


def band(kind: str, freq: float, gain: float = 0.0, q: float = 0.9) -> Item:
    """A bell or a shelf."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def cut(kind: str, freq: float, slope: float = 12.0) -> Item:
    """A high-pass or a low-pass."""
    return {"kind": kind, "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def klang(*bands: Item, name: str = "Entzerrer") -> Item:
    """An equalizer."""
    return {"name": name, "kind": "equalizer", "on": True, "opaque": False, "equalizer": {"bands": list(bands)}}


def kompressor(threshold: float, ratio: float, attack: float, release: float, gain: float) -> Item:
    """A compressor."""
    return {
        "name": "Kompressor",
        "kind": "compressor",
        "on": True,
        "opaque": False,
        "dynamics": {
            "threshold_db": threshold,
            "ratio": ratio,
            "attack_ms": attack,
            "release_ms": release,
            "knee_db": 6.0,
            "output_gain_db": gain,
        },
    }


def geraet(name: str, kind: str, *settings: tuple[str, str, float, str], **fields: Any) -> Item:
    """Any other processor with the parameters that the export lists."""
    listed = [{"id": key, "name": label, "value": value, "unit": unit} for key, label, value, unit in settings]
    made: Item = {"name": name, "kind": kind, "on": True, "opaque": False, "parameters": listed}
    made.update(fields)
    return made


def deesser(threshold: float) -> Item:
    """A de-esser."""
    return geraet("De-Esser", "de-esser", ("f", "Frequenz", 7200.0, "Hz"), ("s", "Schwelle", threshold, "dB"))


def stimmkette() -> list[Item]:
    """What the lead voice goes through."""
    return [
        klang(cut("high-pass", 85.0), band("bell", 240.0, -2.0, 1.1), band("high-shelf", 9500.0, 1.5, 0.7)),
        kompressor(-21.0, 3.0, 8.0, 120.0, 3.0),
        deesser(-28.0),
    ]


def send(to: str, level: float) -> Item:
    """A send after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def zug(key: str, name: str, kind: str = "track", **fields: Any) -> Item:
    """A strip of the desk."""
    made: Item = {
        "id": key,
        "name": name,
        "kind": kind,
        "plays": ["audio"] if kind == "track" else [],
        "legs": 1 if kind == "track" else 2,
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


def lane(target: str, shape: str, points: list[tuple[float, float]]) -> Item:
    """A lane in decibels."""
    return {
        "target": target,
        "scale": "dB",
        "shape": shape,
        "t": [round(time, 4) for time, _ in points],
        "v": [value for _, value in points],
    }


def gesang_fahrt() -> list[Item]:
    """The voice's rides: the fader by section and line, the hall wider in refrains and open on last words."""
    fader = [(0.0, -4.0)]
    values = (
        (15, -3.4),
        (19, -4.2),
        (23, -3.6),
        (27, -2.9),
        (35, -2.5),
        (43, -4.0),
        (51, -4.3),
        (59, -3.7),
        (67, -2.8),
    )
    for (number, value), before in zip(
        (*values, (75, -2.4), (83, -4.5), (91, -2.7), (103, -2.2), (111, -3.8)),
        (-4.0, *(value for _, value in values), -2.4, -4.5, -2.7, -2.2),
        strict=True,
    ):
        fader += [(takt(number) - 0.6, before), (takt(number) - 0.3, value)]
    hall = [(0.0, -14.0)]
    for first, stop in ((27, 43), (67, 83), (91, 111)):
        hall += [(takt(first, -0.5), -12.0), (takt(stop - 1, 0.5), -5.0), (takt(stop, 1.5), -14.0)]
    return [lane("fader", "linear", fader), lane("send:0:level", "hold", hall)]


def live_zuege() -> list[Item]:
    """Voice, spare voice, guitar microphones, room pair and the guitar's bus."""
    ansage = clip("Ges_T3", "Ansage T3", 0.3, 2.7, fade_in_s=0.01, fade_out_s=0.05, on=False)
    return [
        zug(
            "ges",
            "Gesang",
            folder=["Live"],
            fader_db=-4.0,
            output="summe",
            inserts=stimmkette(),
            sends=[send("hall", -14.0), send("slap", -21.0)],
            clips=[ansage, *live("Ges", 0.8)],
            automation=gesang_fahrt(),
            comment="Übersprechen gehört zum Klang, nichts freischneiden. Ansage bleibt stumm.",
        ),
        zug(
            "ges-t1",
            "Ges Ersatz T1",
            folder=["Live"],
            fader_db=-4.0,
            mute=True,
            output="summe",
            clips=[clip("Ges_T1", "Ges T1 S1", takt(11) - 0.5, takt(27) - 0.4)],
            comment="nur falls der Konsonant in Strophe 1 doch stört. Stumm lassen!",
        ),
        zug(
            "git-hals",
            "Git Hals",
            folder=["Live"],
            fader_db=-8.0,
            pan=-32.0,
            output="git",
            inserts=[klang(cut("high-pass", 70.0), band("bell", 190.0, -2.5, 1.3))],
            clips=live("GitHals"),
        ),
        zug(
            "git-steg",
            "Git Steg",
            folder=["Live"],
            fader_db=-9.0,
            pan=32.0,
            output="git",
            inserts=[
                geraet(
                    "Laufzeit", "utility", ("delay", "Verzögerung", 0.42, "ms"), ("inv", "Polarität gedreht", 0.0, "")
                ),
                klang(cut("high-pass", 90.0), band("bell", 3200.0, -1.5, 1.2)),
            ],
            clips=live("GitSteg"),
            comment="0,42 ms gegen Hals eingemessen, Laufzeit an lassen",
        ),
        zug(
            "raum",
            "Raum AB",
            folder=["Live"],
            legs=2,
            fader_db=-17.0,
            output="summe",
            inserts=[klang(cut("high-pass", 120.0), band("bell", 420.0, -2.0, 0.8))],
            clips=live("RaumAB"),
            comment="volle Breite, nur Luft",
        ),
        zug(
            "git",
            "GIT",
            "group",
            folder=["Live"],
            fader_db=-0.5,
            output="summe",
            inserts=[kompressor(-18.0, 2.0, 25.0, 180.0, 1.0), klang(band("high-shelf", 10000.0, 1.0, 0.7))],
            sends=[send("hall", -18.0)],
        ),
    ]


def overdub_zuege() -> list[Item]:
    """What came later."""
    zweite = [
        (27, 35, "R1 a"),
        (35, 43, "R1 b"),
        (67, 75, "R2 a"),
        (75, 83, "R2 b"),
        (91, 99, "R3 a"),
        (99, 111, "R3 b"),
    ]
    pizz = [(27, 43, "Kb R1"), (51, 67, "Kb S2"), (67, 83, "Kb R2"), (91, 111, "Kb R3"), (111, 120, "Kb Schluss")]
    cello = [
        (51, 67, "Cello S2"),
        (67, 83, "Cello R2"),
        (83, 91, "Cello Br"),
        (91, 111, "Cello R3"),
        (111, 120, "Cello Ende"),
    ]
    return [
        zug(
            "zweite",
            "2. Stimme",
            folder=["Overdubs"],
            fader_db=-13.5,
            pan=-16.0,
            output="summe",
            inserts=[
                klang(cut("high-pass", 140.0), band("high-shelf", 8000.0, -1.0, 0.7)),
                kompressor(-24.0, 3.0, 6.0, 100.0, 3.0),
                deesser(-31.0),
            ],
            sends=[send("hall", -10.0)],
            clips=overdub("Zweite", *zweite),
            comment="nur Refrains, leise drunter, gut 10 dB unter Gesang",
        ),
        zug(
            "cello",
            "Cello",
            folder=["Overdubs"],
            fader_db=-11.5,
            pan=24.0,
            output="summe",
            inserts=[klang(cut("high-pass", 60.0), band("bell", 310.0, -1.5, 1.0), band("bell", 2400.0, -1.0, 1.2))],
            sends=[send("hall", -12.0)],
            clips=overdub("Cello", *cello, lead=0.1, gap=0.12),
            automation=[
                lane(
                    "fader",
                    "linear",
                    [
                        (0.0, -11.5),
                        (takt(83) - 0.5, -11.5),
                        (takt(83), -9.5),
                        (takt(91) - 0.5, -9.5),
                        (takt(91), -11.0),
                    ],
                )
            ],
            comment="von zu Hause geschickt, auf 96k gewandelt und angelegt",
        ),
        zug(
            "kb",
            "Kb pizz",
            folder=["Overdubs"],
            fader_db=-10.0,
            output="summe",
            inserts=[
                klang(cut("high-pass", 34.0), band("bell", 85.0, 1.5, 0.8), band("bell", 750.0, 1.5, 1.0)),
                kompressor(-20.0, 3.0, 20.0, 160.0, 2.0),
            ],
            clips=overdub("KbPizz", *pizz, lead=0.06, gap=0.08),
        ),
        zug(
            "shaker",
            "Shaker",
            folder=["Overdubs"],
            fader_db=-20.0,
            pan=-44.0,
            output="summe",
            inserts=[klang(cut("high-pass", 500.0))],
            sends=[send("hall", -16.0)],
            clips=overdub("Shaker", (67, 83, "Shaker R2"), (91, 111, "Shaker R3")),
        ),
    ]


def wege() -> list[Item]:
    """Hall, slap and the mix bus."""
    hall = geraet(
        "Hallplatte",
        "reverb",
        ("zeit", "Nachhall", 2.4, "s"),
        ("hoehen", "Höhendämpfung", 6500.0, "Hz"),
        wet=100.0,
        pre_delay_ms=34.0,
    )
    slap = geraet("Echo", "delay", ("zeit", "Zeit", 118.0, "ms"), ("rueck", "Rückführung", 0.0, "%"), wet=100.0)
    begrenzer: Item = {
        "name": "Begrenzer",
        "kind": "limiter",
        "on": True,
        "opaque": False,
        "dynamics": {"threshold_db": -1.0, "release_ms": 150.0, "input_gain_db": 1.5, "output_gain_db": 0.0},
        "parameters": [{"id": "grenze", "name": "Obergrenze", "value": -1.0, "unit": "dBTP"}],
    }
    return [
        zug(
            "hall",
            "Hall",
            "return",
            fader_db=-3.0,
            output="summe",
            inserts=[klang(cut("high-pass", 200.0)), hall],
        ),
        zug(
            "slap",
            "Slap",
            "return",
            fader_db=-6.0,
            output="summe",
            inserts=[slap, klang(cut("high-pass", 220.0), cut("low-pass", 4200.0))],
            sends=[send("hall", -15.0)],
        ),
        zug(
            "summe",
            "Summe",
            "master",
            inserts=[
                klang(band("low-shelf", 90.0, 0.5, 0.7), band("high-shelf", 11000.0, 0.8, 0.7)),
                kompressor(-14.0, 1.5, 40.0, 200.0, 0.8),
                begrenzer,
            ],
            automation=[
                lane("fader", "linear", [(0.0, 0.0), (takt(118), 0.0), (takt(119), -14.0), (takt(120), -80.0)]),
            ],
            comment="Blende von Hand am letzten Akkord, T. 118 bis 120",
        ),
    ]


def good() -> Session:
    """The session as it should be bounced."""
    channels = [*live_zuege(), *overdub_zuege(), *wege()]
    lengths = {"T1": 236.5, "T3": 247.2, "T5": 254.6}
    media: list[Item] = []
    for strip in channels:
        files = sorted({item["file"] for item in strip["clips"]})
        media.extend(
            {
                "id": file,
                "path": f"Audiodateien/{file}{'_96k' if file == 'Cello' else ''}.wav",
                "place": "beside",
                "present": True,
                "legs": strip["legs"],
                "sample_rate_hz": 96000.0,
                "duration_s": lengths.get(file[-2:], 246.0),
            }
            for file in files
        )
    return {
        "format": "mixlint-session/1",
        "title": "Kieselweg",
        "sample_rate_hz": 96000.0,
        "timeline": {
            "tempos": [{"beat": (number - 1) * 3.0, "bpm": bpm} for number, bpm in TEMPI],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [{"time_s": takt(number), "name": name} for number, name in MARKEN],
        "channels": channels,
        "media": media,
        "metadata": {"Stand": "Mischung 3", "Bemerkung": "Tempokarte von Hand unter Take 3 gelegt"},
    }


def channel(session: Session, name: str) -> Item:
    """The channel of a name."""
    found: Item = next(c for c in session["channels"] if c["name"] == name)
    return found


def bridge_mic_left_on_take_3(session: Session) -> None:
    """The verse 2 splice was forgotten on the bridge microphone: take 3 goes on there."""
    clips = channel(session, "Git Steg")["clips"]
    clips[1].update(file="GitSteg_T3", name="GitSteg T3", offset_s=clips[1]["start_s"])


def delay_bypassed(session: Session) -> None:
    """The measured delay was switched off to listen and not switched on again."""
    channel(session, "Git Steg")["inserts"][0]["on"] = False


def room_in_mono(session: Session) -> None:
    """The room pair sits on a mono strip."""
    channel(session, "Raum AB")["legs"] = 1


def hall_left_open(session: Session) -> None:
    """The point that closes the hall after refrain 1 is missing."""
    points = channel(session, "Gesang")["automation"][1]
    index = points["t"].index(takt(43, 1.5))
    del points["t"][index], points["v"][index]


def second_voice_sign_lost(session: Session) -> None:
    """The second voice's fader reads +13.5."""
    strip = channel(session, "2. Stimme")
    strip["fader_db"] = -strip["fader_db"]


def slate_sounds(session: Session) -> None:
    """The slate before the song is no longer muted."""
    channel(session, "Gesang")["clips"][0]["on"] = True


def bass_clip_muted(session: Session) -> None:
    """The double bass in refrain 2 was muted as a clip."""
    next(c for c in channel(session, "Kb pizz")["clips"] if c["name"] == "Kb R2")["on"] = False


def fade_too_soon(session: Session) -> None:
    """The closing fade stands where an earlier, shorter ending had it."""
    points = channel(session, "Summe")["automation"][0]
    points["t"] = [0.0, takt(104), takt(105), takt(106)]


def cello_unconverted(session: Session) -> None:
    """The cello's file is the one that was sent, not the converted one."""
    found = next(m for m in session["media"] if m["id"] == "Cello")
    found["sample_rate_hz"] = 48000.0
    found["path"] = "Audiodateien/Cello_48k.wav"


def voice_chain_on_bass(session: Session) -> None:
    """The voice's chain was pasted over the double bass's."""
    channel(session, "Kb pizz")["inserts"] = stimmkette()


def four_in_a_bar(session: Session) -> None:
    """The metre map was reset to 4/4."""
    session["timeline"]["meters"] = [{"beat": 0.0, "beats": 4, "unit": 4}]


ACCEPTED: list[Item] = [
    {"channels": ["Ges Ersatz T1"], "why": "a spare of verse 1, muted on purpose and said so in its comment"},
    {
        "channels": ["Gesang"],
        "why": "its first clip is the spoken slate, muted on purpose; the voice is never cut free",
    },
]

FAULTS: list[Item] = [
    {
        "id": "bridge-mic-left-on-take-3",
        "class": "edits",
        "channels": ["Git Steg"],
        "grade": "hold",
        "says": "In verse 2 Git Steg plays take 3 while voice, Git Hals and Raum AB play take 5.",
        "plant": bridge_mic_left_on_take_3,
    },
    {
        "id": "delay-bypassed",
        "class": "phase",
        "channels": ["Git Steg"],
        "grade": "look",
        "says": "The delay that lines Git Steg up with Git Hals is bypassed; the comment says to leave it on.",
        "plant": delay_bypassed,
    },
    {
        "id": "room-in-mono",
        "class": "place",
        "channels": ["Raum AB"],
        "grade": "look",
        "says": "Raum AB is a mono strip but plays stereo files of a spaced pair; the room loses its width.",
        "plant": room_in_mono,
    },
    {
        "id": "hall-left-open",
        "class": "automation",
        "channels": ["Gesang"],
        "grade": "look",
        "says": "The voice's hall send opens to -5 on the last word of refrain 1 and stays there through verse 2.",
        "plant": hall_left_open,
    },
    {
        "id": "second-voice-sign-lost",
        "class": "level",
        "channels": ["2. Stimme"],
        "grade": "hold",
        "says": "2. Stimme stands at +13.5 dB, far above the lead voice under which it should lie.",
        "plant": second_voice_sign_lost,
    },
    {
        "id": "slate-sounds",
        "class": "audible-that-should-not-be",
        "channels": ["Gesang"],
        "grade": "hold",
        "says": "The slate clip (Ansage T3) before the intro is on and will be heard.",
        "plant": slate_sounds,
    },
    {
        "id": "bass-clip-muted",
        "class": "inaudible",
        "channels": ["Kb pizz"],
        "grade": "look",
        "says": "The double bass's clip in refrain 2 is muted; it plays in refrains 1 and 3.",
        "plant": bass_clip_muted,
    },
    {
        "id": "fade-too-soon",
        "class": "end",
        "channels": ["Summe"],
        "grade": "hold",
        "says": "The fade on Summe ends in refrain 3; the song goes on unheard for fourteen bars.",
        "plant": fade_too_soon,
    },
    {
        "id": "cello-unconverted",
        "class": "files",
        "channels": ["Cello"],
        "grade": "look",
        "says": "The cello's file has 48 kHz in a session of 96; the comment says that it was converted.",
        "plant": cello_unconverted,
    },
    {
        "id": "voice-chain-on-bass",
        "class": "processors",
        "channels": ["Kb pizz"],
        "grade": "look",
        "says": "Kb pizz carries the lead voice's chain: high-pass at 85 Hz and a de-esser on a plucked double bass.",
        "plant": voice_chain_on_bass,
    },
    {
        "id": "four-in-a-bar",
        "class": "tempo",
        "channels": ["Summe"],
        "grade": "note",
        "says": "The metre reads 4/4, but all markers and splices fall on bars of three.",
        "plant": four_in_a_bar,
    },
]
