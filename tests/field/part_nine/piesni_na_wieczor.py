"""Chamber choir with positive organ and cello, three songs, recorded in a church, edited from takes; names in Polish.

Every microphone of a take is cut at the same places (group edit), each take has one file per microphone, and takes
that were sung louder or softer are levelled by clip gain, again on all microphones alike. Before, between the songs
lies room tone ("cisza"), so it never gets digitally silent. A spaced main pair ("Główny"), outriggers ("Boczny") and a
hall pair make the picture; spots ("podpórki") are delayed by their distance to the main pair and get a little reverb.
L is left (lewy), P is right (prawy). Organ and cello rest in the second song, their spots are cut out there. The slate
microphone ("Komendy") runs along, muted.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Row = dict[str, Any]

RATE = 96000.0
WIDE = 1.1  # crossfade between a song and the room tone

# take: where bar 1 of the song would lie in its files, how long the files are
TAKES: dict[str, tuple[float, float]] = {
    "RT": (0.0, 62.4),
    "T03": (11.42, 191.7),
    "T05": (10.87, 190.2),
    "T06": (-84.3, 58.9),
    "T11": (12.06, 171.3),
    "T12": (9.51, 170.8),
    "T14": (-41.6, 74.1),
    "T21": (14.33, 239.6),
    "T22": (10.2, 236.5),
    "T24": (-96.75, 47.2),
}
LEVELLED = {"T06": 0.6, "T12": -0.4, "T14": 0.5, "T24": 0.8}

# song, take, length, crossfade into it, how far the take ran ahead or behind
PLAN: list[tuple[str, str, float, float, float]] = [
    ("cisza", "RT", 1.6, 0.8, 4.0),
    ("I", "T03", 41.18, WIDE, 0.0),
    ("I", "T05", 24.66, 0.03, 0.21),
    ("I", "T03", 37.9, 0.045, 0.06),
    ("I", "T06", 25.41, 0.02, 0.0),
    ("I", "T05", 44.05, 0.03, 0.4),
    ("cisza", "RT", 5.5, WIDE, 14.0),
    ("II", "T11", 58.3, WIDE, 0.0),
    ("II", "T14", 33.72, 0.035, 0.0),
    ("II", "T11", 22.9, 0.05, -0.33),
    ("II", "T12", 39.6, 0.025, 0.18),
    ("cisza", "RT", 5.8, WIDE, 31.0),
    ("III", "T21", 47.75, WIDE, 0.0),
    ("III", "T22", 61.2, 0.03, 0.12),
    ("III", "T24", 18.34, 0.04, 0.0),
    ("III", "T22", 39.9, 0.025, 0.27),
    ("III", "T21", 50.8, 0.06, -0.15),
]
LAST_FADE = 4.5

# id, name, how the files call it, number in the files
MICS: list[tuple[str, str, str]] = [
    ("gl", "Główny L", "01_Glowny_L"),
    ("gp", "Główny P", "02_Glowny_P"),
    ("bl", "Boczny L", "03_Boczny_L"),
    ("bp", "Boczny P", "04_Boczny_P"),
    ("sl", "Sala L", "05_Sala_L"),
    ("sp", "Sala P", "06_Sala_P"),
    ("sop", "Sopran", "07_Sopran"),
    ("alt", "Alt", "08_Alt"),
    ("ten", "Tenor", "09_Tenor"),
    ("bas", "Bas", "10_Bas"),
    ("solo", "Solo S", "11_Solo"),
    ("poz", "Pozytyw", "12_Pozytyw"),
    ("wcz", "Wiolonczela", "13_Wcz"),
    ("xy", "Rezerwa XY", "14-15_XY"),
    ("kom", "Komendy", "16_Komendy"),
]
NAMES = {cid: name for cid, name, _ in MICS}
CONTINUO = {"poz", "wcz"}


def starts() -> list[float]:
    """Where each stretch of the plan begins."""
    found = [0.0]
    for _, _, length, _, _ in PLAN:
        found.append(found[-1] + length)
    return found


def song(name: str) -> float:
    """Where a song begins."""
    return starts()[next(i for i, row in enumerate(PLAN) if row[0] == name)]


def spot(name: str, seconds: float) -> float:
    """A place in a song, counted from its beginning."""
    return round(song(name) + seconds, 3)


def recorded(mic: str, section: str) -> bool:
    """Whether a microphone takes part in a stretch."""
    if mic in CONTINUO:
        return section in ("I", "III")
    return mic != "kom" or section != "cisza"


def take_place(index: int, take: str) -> float:
    """Where the file of a take stands when a stretch of the plan begins."""
    section, _, _, _, drift = PLAN[index]
    if section == "cisza":
        return drift
    return TAKES[take][0] + starts()[index] - song(section) + drift


def clips(mic: str) -> list[Row]:
    """The edited takes on one microphone; neighbours overlap by the crossfade."""
    found = []
    edges = starts()
    for i, (section, take, _, fade, _) in enumerate(PLAN):
        if not recorded(mic, section):
            continue
        after = PLAN[i + 1][3] if i + 1 < len(PLAN) else 0.0
        before = fade / 2 if i else 0.0
        found.append(
            {
                "start_s": round(edges[i] - before, 4),
                "end_s": round(edges[i + 1] + after / 2, 4),
                "name": f"{section} {take} {NAMES[mic]}",
                "plays": "audio",
                "file": f"{take}_{mic}",
                "offset_s": round(take_place(i, take) - before, 4),
                "speed": 1.0,
                "fade_in_s": fade,
                "fade_out_s": after or LAST_FADE,
                "gain_db": LEVELLED.get(take, 0.0),
                "on": True,
            }
        )
    return found


def media() -> list[Row]:
    """One file per take and microphone, as far as the plan uses them."""
    used = sorted({(take, section) for section, take, _, _, _ in PLAN})
    return [
        {
            "id": f"{take}_{mic}",
            "path": f"Nagrania/{take}/{take}_{tag}.wav",
            "place": "beside",
            "present": True,
            "legs": 2 if mic == "xy" else 1,
            "sample_rate_hz": RATE,
            "duration_s": TAKES[take][1],
        }
        for take, section in used
        for mic, _, tag in MICS
        if recorded(mic, section)
    ]


def high_pass(hz: float, *bells: tuple[float, float, float]) -> Row:
    """The channel equalizer: a high-pass and perhaps bells."""
    bands: list[Row] = [{"kind": "high-pass", "freq_hz": hz, "slope_db_per_oct": 12.0}]
    bands += [{"kind": "bell", "freq_hz": f, "gain_db": g, "q": q} for f, g, q in bells]
    return {"name": "Korekcja", "kind": "equalizer", "opaque": False, "on": True, "equalizer": {"bands": bands}}


def align(metres: float) -> Row:
    """The delay of a spot, by its distance to the main pair."""
    value = round(metres / 0.343, 1)
    listed = [{"id": "delay", "name": "Opóźnienie", "value": value, "unit": "ms", "low": 0.0, "high": 60.0}]
    return {"name": "Wyrównanie czasowe", "kind": "utility", "opaque": False, "on": True, "parameters": listed}


def lane(points: list[tuple[float, float]]) -> Row:
    """A fader ride in straight lines."""
    return {
        "target": "fader",
        "scale": "dB",
        "shape": "linear",
        "t": [at for at, _ in points],
        "v": [level for _, level in points],
    }


def strip(mic: str, fader: float, pan: float, output: str, **more: Any) -> Row:
    """A microphone's channel."""
    row: Row = {
        "id": mic,
        "name": NAMES[mic],
        "kind": "track",
        "plays": ["audio"],
        "legs": 1,
        "fader_db": fader,
        "pan": pan,
        "mute": False,
        "solo": False,
        "output": output,
        "folder": ["Pary"] if output == "pary" else ["Podpórki"],
        "sends": [],
        "inserts": [],
        "clips": clips(mic),
        "automation": [],
    }
    row.update(more)
    return row


def to_reverb(level: float) -> list[Row]:
    """The send to the one reverb."""
    return [{"to": "poglos", "level_db": level, "pan": 0.0, "tap": "post", "on": True}]


def pair(left: tuple[str, float], right: tuple[str, float], low: float, send: float | None, comment: str) -> list[Row]:
    """A spaced pair, both sides set alike."""
    return [
        strip(
            mic,
            fader,
            pan,
            "pary",
            inserts=[high_pass(low)],
            sends=[] if send is None else to_reverb(send),
            comment=comment,
        )
        for (mic, fader), pan in ((left, -100.0), (right, 100.0))
    ]


def spots() -> list[Row]:
    """The spots of choir, soloist and continuo."""
    solo_ride = [
        (0.0, -13.0),
        (spot("II", 58.0), -13.0),
        (spot("II", 59.8), -6.5),
        (spot("II", 91.0), -6.5),
        (spot("II", 93.0), -13.0),
        (spot("III", 108.8), -13.0),
        (spot("III", 110.4), -6.0),
        (spot("III", 126.6), -6.0),
        (spot("III", 128.5), -13.0),
    ]
    cello_ride = [
        (0.0, -12.5),
        (spot("III", 0.5), -12.5),
        (spot("III", 1.5), -10.5),
        (spot("III", 11.0), -10.5),
        (spot("III", 13.0), -12.5),
    ]
    de_esser = {
        "name": "De-esser",
        "kind": "de-esser",
        "opaque": False,
        "on": True,
        "dynamics": {"threshold_db": -34.0, "ratio": 2.0, "attack_ms": 1.0, "release_ms": 60.0, "range_db": -4.0},
    }
    choir = [
        ("sop", -12.0, -44.0, 4.6, 110.0, "4,6 m od pary, pierwszy głos od lewej"),
        ("alt", -11.4, -15.0, 4.8, 100.0, "4,8 m"),
        ("ten", -11.8, 15.0, 4.8, 90.0, "4,8 m"),
        ("bas", -12.2, 44.0, 4.7, 70.0, "4,7 m"),
    ]
    return [
        *(
            strip(
                mic,
                fader,
                pan,
                "podp",
                inserts=[align(metres), high_pass(low)],
                sends=to_reverb(-17.0),
                comment=comment,
            )
            for mic, fader, pan, metres, low, comment in choir
        ),
        strip(
            "solo",
            -13.0,
            0.0,
            "podp",
            inserts=[align(3.9), high_pass(120.0, (2900.0, -1.0, 1.0)), de_esser],
            sends=to_reverb(-14.0),
            automation=[lane(solo_ride)],
            comment="3,9 m; w górę tylko na solo (II od 0:59, III od 1:50), poza tym śpiewa z chórem",
        ),
        strip(
            "poz",
            -11.0,
            26.0,
            "podp",
            inserts=[align(3.2), high_pass(45.0, (520.0, -1.5, 0.8))],
            sends=to_reverb(-19.0),
            comment="3,2 m; w II tacet - wycięty",
        ),
        strip(
            "wcz",
            -12.5,
            -8.0,
            "podp",
            inserts=[align(2.9), high_pass(50.0, (210.0, -1.5, 1.2))],
            sends=to_reverb(-18.0),
            automation=[lane(cello_ride)],
            comment="2,9 m; w II tacet - wycięta; wstęp w III",
        ),
    ]


def bus(cid: str, name: str, kind: str, fader: float, output: str | None, inserts: list[Row], comment: str) -> Row:
    """A group, the return or the master."""
    row: Row = {
        "id": cid,
        "name": name,
        "kind": kind,
        "legs": 2,
        "fader_db": fader,
        "pan": 0.0,
        "mute": False,
        "solo": False,
        "inserts": inserts,
        "comment": comment,
    }
    if kind != "master":
        row["output"] = output
    return row


def reverb() -> Row:
    """The reverb on the return."""
    listed: list[Row] = [
        {"id": "decay", "name": "Czas pogłosu", "value": 2.4, "unit": "s"},
        {"id": "damp", "name": "Tłumienie góry", "value": 5200.0, "unit": "Hz"},
    ]
    return {
        "name": "Pogłos splotowy",
        "kind": "reverb",
        "opaque": False,
        "on": True,
        "wet": 100.0,
        "pre_delay_ms": 28.0,
        "parameters": listed,
    }


def suma() -> Row:
    """The mix bus: a little air, a limiter for safety, the meter, and what only the engineer's headphones need."""
    air: Row = {"kind": "high-shelf", "freq_hz": 11000.0, "gain_db": 0.8, "q": 0.7}
    tone: Row = {"name": "Korekcja sumy", "kind": "equalizer", "opaque": False, "on": True}
    tone["equalizer"] = {"bands": [air]}
    limiter: Row = {"name": "Limiter", "kind": "limiter", "opaque": False, "on": True}
    limiter["dynamics"] = {"threshold_db": -1.0, "attack_ms": 1.0, "release_ms": 180.0, "output_gain_db": 0.0}
    meter: Row = {"name": "Miernik głośności", "kind": "analyser", "on": True}
    phones: Row = {"name": "Korekta słuchawek", "kind": "monitor", "on": False}
    comment = "korekta słuchawek tylko do odsłuchu - do zgrania zawsze wyłączona"
    return bus("suma", "SUMA", "master", 0.0, None, [tone, limiter, meter, phones], comment)


def good() -> Session:
    """The session as it should be bounced."""
    reserve = "zapas na wypadek awarii pary głównej, nie zgrywać"
    slate = "mikrofon reżyserski i numery ujęć - nie zgrywać"
    return {
        "format": "mixlint-session/1",
        "title": "Trzy pieśni na wieczór - montaż 5",
        "sample_rate_hz": RATE,
        "timeline": {"unknown": "nagranie bez siatki tempa"},
        "markers": [
            {"time_s": spot("I", 0.0), "name": "I. Zmierzch"},
            {"time_s": spot("II", 0.0), "name": "II. Sen trzciny (a cappella)"},
            {"time_s": spot("II", 59.0), "name": "II solo"},
            {"time_s": spot("II", 92.0), "name": "II tutti"},
            {"time_s": spot("III", 0.0), "name": "III. Lampa w oknie"},
            {"time_s": spot("III", 110.0), "name": "III solo"},
            {"time_s": spot("III", 127.3), "name": "III tutti"},
            {"time_s": spot("III", 211.4), "name": "ostatni akord puszczony"},
        ],
        "channels": [
            *pair(("gl", -3.0), ("gp", -3.0), 28.0, -23.0, "AB 60 cm"),
            *pair(("bl", -8.5), ("bp", -8.5), 32.0, None, "3,2 m od środka"),
            *pair(("sl", -14.0), ("sp", -14.0), 60.0, None, "pod chórem organowym, bez wyrównania"),
            *spots(),
            strip("xy", -3.0, 0.0, "pary", legs=2, mute=True, folder=["Zapas"], comment=reserve),
            strip("kom", -6.0, 0.0, "suma", mute=True, folder=["Zapas"], comment=slate),
            bus("pary", "PARY", "group", 0.0, "suma", [], ""),
            bus("podp", "PODPÓRKI", "group", -1.5, "suma", [high_pass(60.0)], "grupa mikrofonów bliskich"),
            bus(
                "poglos", "Pogłos", "return", -4.0, "suma", [high_pass(140.0), reverb()], "tylko podpórki i trochę pary"
            ),
            suma(),
        ],
        "media": media(),
        "metadata": {"sala": "kościół, ok. 2,4 s", "zgranie": "96 kHz / 24 bit, jeden plik, cięcie na ścieżki później"},
    }


def channel(session: Session, name: str) -> Row:
    """The channel of a name."""
    found: Row = next(c for c in session["channels"] if c["name"] == name)
    return found


def piece(session: Session, name: str, label: str, nth: int = 0) -> Row:
    """The n-th clip of a channel whose name begins so."""
    found: list[Row] = [c for c in channel(session, name)["clips"] if c["name"].startswith(label)]
    return found[nth]


def bass_unaligned(session: Session) -> None:
    """The alignment of one spot was bypassed for comparing and stayed so."""
    channel(session, "Bas")["inserts"][0]["on"] = False


def other_take(session: Session) -> None:
    """After undoing a group edit one microphone still holds the earlier take."""
    index = next(i for i, row in enumerate(PLAN) if row[:3] == ("III", "T22", 39.9))
    piece(session, "Boczny P", "III T22", 1).update(
        name="III T21 Boczny P", file="T21_bp", offset_s=round(take_place(index, "T21") - PLAN[index][3] / 2, 4)
    )


def outriggers_crossed(session: Session) -> None:
    """The pans of the outriggers are crossed."""
    channel(session, "Boczny L")["pan"] = 100.0
    channel(session, "Boczny P")["pan"] = -100.0


def slate_open(session: Session) -> None:
    """The slate microphone was opened to find a take number."""
    channel(session, "Komendy")["mute"] = False


def tenor_swims(session: Session) -> None:
    """The decimal point slipped in one send."""
    channel(session, "Tenor")["sends"][0]["level_db"] = -1.7


def solo_too_far(session: Session) -> None:
    """The minus was lost when the second solo's level was typed."""
    ride = channel(session, "Solo S")["automation"][0]
    ride["v"] = [6.0 if level == -6.0 else level for level in ride["v"]]


def cello_stretch_off(session: Session) -> None:
    """One stretch of the cello is muted as a clip."""
    piece(session, "Wiolonczela", "III T22")["on"] = False


def hall_cut(session: Session) -> None:
    """One hall microphone ends at the last chord."""
    last = channel(session, "Sala L")["clips"][-1]
    last["end_s"] = round(last["end_s"] - 5.2, 4)
    last["fade_out_s"] = 0.05


def alto_rate(session: Session) -> None:
    """One file came back from cleaning at another sample rate."""
    next(m for m in session["media"] if m["id"] == "T12_alt")["sample_rate_hz"] = 48000.0


def headphone_curve(session: Session) -> None:
    """The headphone correction is in."""
    channel(session, "SUMA")["inserts"][3]["on"] = True


def main_side_down(session: Session) -> None:
    """One stretch of the right main microphone was pulled down alone."""
    piece(session, "Główny P", "II T11", 1)["gain_db"] = -7.5


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Komendy"], "why": "The slate microphone runs along with every take, muted on purpose."},
    {"channels": ["Rezerwa XY"], "why": "A spare pair, muted and commented."},
    {"channels": ["SUMA"], "why": "The headphone correction stands there bypassed, as its comment says."},
    {"channels": ["Pozytyw", "Wiolonczela"], "why": "They rest in the second song and are cut out there."},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "bass-unaligned",
        "class": "phase",
        "channels": ["Bas"],
        "grade": "look",
        "says": "The time alignment of the Bas spot is bypassed, that of all other spots is on: it speaks 14 ms early.",
        "plant": bass_unaligned,
    },
    {
        "id": "other-take",
        "class": "edits",
        "channels": ["Boczny P"],
        "grade": "hold",
        "says": "In one stretch of III Boczny P plays take 21 while all other microphones play take 22.",
        "plant": other_take,
    },
    {
        "id": "outriggers-crossed",
        "class": "place",
        "channels": ["Boczny L", "Boczny P"],
        "grade": "hold",
        "says": "The outriggers are crossed: Boczny L is right, Boczny P is left, against the main and hall pairs.",
        "plant": outriggers_crossed,
    },
    {
        "id": "slate-open",
        "class": "audible-that-should-not-be",
        "channels": ["Komendy"],
        "grade": "hold",
        "says": "The slate microphone is not muted, though its comment says that it must not be bounced.",
        "plant": slate_open,
    },
    {
        "id": "tenor-swims",
        "class": "ambience",
        "channels": ["Tenor"],
        "grade": "look",
        "says": "Tenor sends -1.7 dB to the reverb, the other three voices -17 dB.",
        "plant": tenor_swims,
    },
    {
        "id": "solo-too-far",
        "class": "automation",
        "channels": ["Solo S"],
        "grade": "hold",
        "says": "The soloist's spot rises to +6 dB for the solo in III, for that in II only to -6.5 dB: a lost minus.",
        "plant": solo_too_far,
    },
    {
        "id": "cello-stretch-off",
        "class": "inaudible",
        "channels": ["Wiolonczela"],
        "grade": "hold",
        "says": "One stretch of the cello spot in III is muted as a clip between stretches that sound.",
        "plant": cello_stretch_off,
    },
    {
        "id": "hall-cut",
        "class": "end",
        "channels": ["Sala L"],
        "grade": "hold",
        "says": "Sala L is cut off just after the last chord, while all others ring out five seconds longer.",
        "plant": hall_cut,
    },
    {
        "id": "alto-rate",
        "class": "files",
        "channels": ["Alt"],
        "grade": "look",
        "says": "The Alt file of take 12 is at 48 kHz, the session and all its other files are at 96 kHz.",
        "plant": alto_rate,
    },
    {
        "id": "headphone-curve",
        "class": "hand-over",
        "channels": ["SUMA"],
        "grade": "hold",
        "says": "The headphone correction on the mix bus is on and would be printed.",
        "plant": headphone_curve,
    },
    {
        "id": "main-side-down",
        "class": "level",
        "channels": ["Główny P"],
        "grade": "hold",
        "says": "In one stretch of II Główny P is 7.5 dB down, Główny L and all others are not: the picture tips left.",
        "plant": main_side_down,
    },
]
