"""Il mulino di sopra: a folk ballad in three-four for two steel-string guitars, two voices, cello and double bass.

Guitars and double bass played together in one wooden room, to a click as far as the last refrain; the coda was led by
hand and the tempo map drawn afterwards. Take 3 is the body of the song, take 5 gives the second verse and its refrain,
cut at the same bars on every live microphone. Guitar A stands left, guitar B right, each with one microphone at the
twelfth fret and one at the bridge; the reverb of each guitar comes back from the other side. The voices were sung
afterwards, Lia verses one and three, Dario verse two, both the refrains; the cello came last, close and far
microphone together. The engineer mixes with few processors, rides the voices phrase by phrase, cuts clips by section
and fades the room by hand at the very end.
"""

from __future__ import annotations

from typing import Any

Session = dict[str, Any]
Row = dict[str, Any]

RATE = 48000.0
TEMPOS = [(0.0, 92.0), (318.0, 88.0), (336.0, 76.0)]
XFADE = 0.03
TAKE_SHIFT = {"T3": 0.0, "T5": 1.25}
TAKE_LENGTH = {"T3": 246.2, "T5": 243.4}
SECTIONS = [
    (1, "conteggio"),
    (3, "Intro"),
    (11, "Strofa 1"),
    (27, "Rit 1"),
    (39, "Strofa 2 (Dario)"),
    (55, "Rit 2"),
    (67, "Ponte - solo cello"),
    (79, "Strofa 3"),
    (95, "Rit 3"),
    (107, "Coda"),
    (113, "ultimo accordo"),
]

# file id: path, legs, song second at which the recording began, length
OVERDUBS: dict[str, tuple[str, int, float, float]] = {
    "cello_v_1": ("audio/Cello_vicino_01.wav", 1, 48.0, 183.5),
    "cello_l_1": ("audio/Cello_lontano_01.wav", 1, 48.0, 183.5),
    "cello_v_solo": ("audio/Cello_vicino_solo_04.wav", 1, 124.0, 34.6),
    "cello_l_solo": ("audio/Cello_lontano_solo_04.wav", 1, 124.0, 34.6),
    "lia_2": ("audio/VoceLia_02.wav", 1, 14.0, 66.0),
    "lia_4": ("audio/VoceLia_04.wav", 1, 101.5, 31.0),
    "lia_5": ("audio/VoceLia_05.wav", 1, 146.0, 86.0),
    "dario_1": ("audio/VoceDario_01.wav", 1, 45.0, 34.0),
    "dario_3": ("audio/VoceDario_03.wav", 1, 69.0, 66.5),
    "dario_4": ("audio/VoceDario_04.wav", 1, 178.0, 54.0),
    "dario_prova": ("audio/VoceDario_prova_pom.wav", 1, 68.0, 64.0),
}

# channel id: file stem, legs
LIVE: dict[str, tuple[str, int]] = {
    "ca_t": ("ChitA_tasto", 1),
    "ca_p": ("ChitA_ponte", 1),
    "cb_t": ("ChitB_tasto", 1),
    "cb_p": ("ChitB_ponte", 1),
    "bs_m": ("Contrabb_mic", 1),
    "bs_d": ("Contrabb_DI", 1),
    "stz": ("Stanza", 2),
}


def seconds(beat: float) -> float:
    """The song time of a beat under the tempo map."""
    total = 0.0
    for index, (start, bpm) in enumerate(TEMPOS):
        stop = TEMPOS[index + 1][0] if index + 1 < len(TEMPOS) else beat
        if beat <= start:
            break
        total += (min(beat, stop) - start) * 60.0 / bpm
    return total


def bar(number: float) -> float:
    """The song time of the beginning of a bar, in seconds."""
    return round(seconds((number - 1.0) * 3.0), 4)


FINE = bar(115)


def clip(name: str, file: str, start: float, end: float, offset: float, fin: float, fout: float) -> Row:
    """One audio clip at its recorded speed."""
    return {
        "start_s": round(start, 4),
        "end_s": round(end, 4),
        "name": name,
        "plays": "audio",
        "file": file,
        "offset_s": round(offset, 4),
        "speed": 1.0,
        "fade_in_s": fin,
        "fade_out_s": fout,
        "gain_db": 0.0,
        "on": True,
    }


def live_clips(channel_id: str) -> list[Row]:
    """The three pieces of the live takes, crossfaded at the same bars on every microphone."""
    stem = LIVE[channel_id][0]
    half = XFADE / 2.0
    plan = [
        ("T3", bar(3) - 0.45, bar(39) + half, 0.2, XFADE),
        ("T5", bar(39) - half, bar(67) + half, XFADE, XFADE),
        ("T3", bar(67) - half, FINE + 9.0, XFADE, 1.5),
    ]
    return [
        clip(f"{stem} {take}", f"{channel_id}_{take}", start, end, start + TAKE_SHIFT[take], fin, fout)
        for take, start, end, fin, fout in plan
    ]


def over(file: str, first: float, last: float, name: str, lead: float = 0.3, tail: float = 0.45) -> Row:
    """A piece of an overdub from one bar to another, with some air before and after."""
    start, end = bar(first) - lead, bar(last) - tail
    return clip(name, file, start, end, start - OVERDUBS[file][2], 0.03, 0.12)


def bell(freq: float, gain: float, q: float) -> Row:
    """A bell band."""
    return {"kind": "bell", "freq_hz": freq, "gain_db": gain, "q": q, "on": True}


def shelf(kind: str, freq: float, gain: float) -> Row:
    """A shelving band."""
    return {"kind": kind, "freq_hz": freq, "gain_db": gain, "q": 0.7, "on": True}


def low_cut(freq: float, slope: float = 12.0) -> Row:
    """A high-pass band."""
    return {"kind": "high-pass", "freq_hz": freq, "slope_db_per_oct": slope, "on": True}


def insert(name: str, kind: str, **more: Any) -> Row:
    """A processor whose settings the export shows."""
    return {"name": name, "kind": kind, "on": True, "loaded": True, "opaque": False, **more}


def eq(*bands: Row) -> Row:
    """An equalizer of these bands."""
    return insert("equalizz.", "equalizer", equalizer={"bands": list(bands)})


def comp(threshold: float, ratio: float, attack: float, release: float, out: float = 0.0) -> Row:
    """A compressor."""
    dynamics = {
        "threshold_db": threshold,
        "ratio": ratio,
        "attack_ms": attack,
        "release_ms": release,
        "knee_db": 6.0,
        "output_gain_db": out,
        "auto_makeup": False,
    }
    return insert("compr.", "compressor", dynamics=dynamics)


def value(name: str, amount: float, unit: str) -> Row:
    """A listed parameter."""
    return {"id": name, "name": name, "value": amount, "unit": unit}


def deess(freq: float, threshold: float) -> Row:
    """A de-esser."""
    return insert("de-esser", "de-esser", parameters=[value("freq", freq, "Hz"), value("soglia", threshold, "dB")])


def reverb(name: str, decay: float, pre_delay: float) -> Row:
    """A reverb on a return, wholly wet."""
    return insert(name, "reverb", wet=100.0, pre_delay_ms=pre_delay, parameters=[value("decadimento", decay, "s")])


def send(to: str, level: float) -> Row:
    """A send taken after the fader."""
    return {"to": to, "level_db": level, "pan": 0.0, "tap": "post", "on": True}


def ride(points: list[tuple[float, float]], target: str = "fader", shape: str = "hold") -> Row:
    """A ride in decibels as (second, value)."""
    times = [round(t, 4) for t, _ in points]
    return {"target": target, "scale": "dB", "shape": shape, "t": times, "v": [v for _, v in points]}


def strip(channel_id: str, name: str, kind: str, fader: float, pan: float, legs: int, output: str, **more: Any) -> Row:
    """A channel strip; the parts that vary come by keyword."""
    row: Row = {
        "id": channel_id,
        "name": name,
        "kind": kind,
        "legs": legs,
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
        row["plays"] = ["audio"]
    row.update(more)
    return row


def live_strips() -> list[Row]:
    """The seven microphones of the room."""
    return [
        strip(
            "ca_t", "Chit A tasto", "track", -8.0, -75.0, 1, "gr_chit",
            inserts=[eq(low_cut(75.0), bell(210.0, -2.5, 1.2), shelf("high-shelf", 9000.0, 1.0))],
            sends=[send("riv_a", -13.0)], clips=live_clips("ca_t"),
            comment="12o tasto, 25 cm",
        ),
        strip(
            "ca_p", "Chit A ponte", "track", -11.5, -45.0, 1, "gr_chit",
            inserts=[eq(low_cut(75.0), bell(320.0, -2.0, 1.4))],
            sends=[send("riv_a", -15.0)], clips=live_clips("ca_p"),
        ),
        strip(
            "cb_t", "Chit B tasto", "track", -8.5, 75.0, 1, "gr_chit",
            inserts=[eq(low_cut(80.0), bell(190.0, -3.0, 1.2), shelf("high-shelf", 9500.0, 0.5))],
            sends=[send("riv_b", -13.0)], clips=live_clips("cb_t"),
        ),
        strip(
            "cb_p", "Chit B ponte", "track", -12.0, 45.0, 1, "gr_chit",
            inserts=[eq(low_cut(80.0), bell(350.0, -1.5, 1.4))],
            sends=[send("riv_b", -15.5)], clips=live_clips("cb_p"),
        ),
        strip(
            "bs_m", "Contrabb mic", "track", -7.0, 0.0, 1, "gr_archi",
            inserts=[
                eq(low_cut(34.0), bell(160.0, -2.0, 1.0), bell(850.0, 1.5, 0.9)),
                comp(-22.0, 3.0, 25.0, 160.0, 2.0),
            ],
            clips=live_clips("bs_m"),
        ),
        strip(
            "bs_d", "Contrabb DI", "track", -13.0, 0.0, 1, "gr_archi",
            inserts=[
                insert("ritardo camp.", "utility", parameters=[value("ritardo", 2.3, "ms")]),
                eq(low_cut(34.0), shelf("high-shelf", 2500.0, -5.0)),
                comp(-24.0, 4.0, 15.0, 140.0, 2.5),
            ],
            clips=live_clips("bs_d"),
            comment="DI ritardata di 2,3 ms sul microfono (80 cm)",
        ),
        strip(
            "stz", "Stanza", "track", -18.0, 0.0, 2, "gr_chit",
            inserts=[eq(low_cut(110.0), bell(400.0, -2.0, 1.0))], clips=live_clips("stz"),
            comment="coppia alta, solo un velo",
        ),
    ]  # fmt: skip


def cello_clips(which: str) -> list[Row]:
    """What the cello plays, on the close (v) or the far (l) microphone."""
    file, solo = f"cello_{which}_1", f"cello_{which}_solo"
    return [
        over(file, 27, 39, f"cello {which} rit1"),
        over(file, 47, 55, f"cello {which} str2"),
        over(file, 55, 67, f"cello {which} rit2", 0.2, 0.5),
        over(solo, 67, 79, f"cello {which} SOLO", 0.3, 0.5),
        over(file, 87, 95, f"cello {which} str3"),
        over(file, 95, 107, f"cello {which} rit3", 0.2),
        clip(f"cello {which} coda", file, bar(107) - 0.2, FINE + 4.0, bar(107) - 48.2, 0.03, 1.2),
    ]


def voice_inserts(cut: float, presence: float, ess: float, threshold: float) -> list[Row]:
    """The usual chain of a voice: equalizer, de-esser, compressor."""
    return [
        eq(low_cut(cut, 18.0), bell(280.0, -2.0, 1.3), bell(presence, 1.5, 0.8)),
        deess(ess, -28.0),
        comp(threshold, 2.5, 12.0, 110.0, 3.0),
    ]


def overdub_strips() -> list[Row]:
    """Cello and voices."""
    lia_ride = [
        (0.0, -7.0), (bar(19) - 0.4, -6.5), (bar(27) - 0.4, -8.0), (bar(33) - 0.4, -7.5), (bar(55) - 0.4, -8.0),
        (bar(61) - 0.4, -7.0), (bar(79) - 0.4, -7.0), (bar(87) - 0.4, -6.5), (bar(95) - 0.4, -8.0),
        (bar(101) - 0.4, -7.0), (bar(107) - 0.4, -9.0),
    ]  # fmt: skip
    dario_ride = [
        (0.0, -10.0), (bar(39) - 0.4, -7.5), (bar(47) - 0.4, -7.0), (bar(55) - 0.4, -10.0), (bar(61) - 0.4, -9.5),
        (bar(95) - 0.4, -10.0), (bar(101) - 0.4, -9.0), (bar(107) - 0.4, -10.5),
    ]  # fmt: skip
    echo = [(0.0, -40.0), (bar(38), -16.0), (bar(39), -40.0), (bar(66), -16.0), (bar(67), -40.0)]
    echo += [(bar(106), -14.0), (bar(107), -40.0)]
    cello_ride = [(0.0, -11.0), (bar(67) - 0.5, -7.0), (bar(79) - 0.3, -11.0)]
    return [
        strip(
            "ce_v", "Cello vicino", "track", -11.0, 18.0, 1, "gr_archi",
            inserts=[
                eq(low_cut(55.0), bell(240.0, -1.5, 1.1), bell(2600.0, -1.5, 1.6)),
                comp(-20.0, 2.0, 30.0, 200.0, 1.0),
            ],
            sends=[send("riv_v", -15.0)], clips=cello_clips("v"), automation=[ride(cello_ride)],
        ),
        strip(
            "ce_l", "Cello lontano", "track", -16.0, 24.0, 1, "gr_archi",
            inserts=[eq(low_cut(60.0))], sends=[send("riv_v", -20.0)], clips=cello_clips("l"),
            comment="2 m, dietro il leggio",
        ),
        strip(
            "lia", "Voce Lia", "track", -7.0, -10.0, 1, "gr_voci",
            inserts=voice_inserts(95.0, 3400.0, 7200.0, -23.0),
            sends=[send("riv_v", -12.0), send("eco", -40.0)],
            clips=[
                over("lia_2", 11, 19, "lia str1a"), over("lia_2", 19, 27, "lia str1b"),
                over("lia_2", 27, 33, "lia rit1a"), over("lia_2", 33, 39, "lia rit1b", 0.2, 0.1),
                over("lia_4", 55, 61, "lia rit2a"), over("lia_4", 61, 67, "lia rit2b", 0.2, 0.1),
                over("lia_5", 79, 87, "lia str3a"), over("lia_5", 87, 95, "lia str3b"),
                over("lia_5", 95, 101, "lia rit3a"), over("lia_5", 101, 107, "lia rit3b", 0.2, 0.1),
                over("lia_5", 108, 113, "lia coda mmm", 0.3, -1.6),
            ],
            automation=[ride(lia_ride), ride(echo, "send:1:level")],
            comment="comp. da T2/T4/T5",
        ),
        strip(
            "dar", "Voce Dario", "track", -10.0, 12.0, 1, "gr_voci",
            inserts=voice_inserts(85.0, 3000.0, 6400.0, -24.0),
            sends=[send("riv_v", -12.5), send("eco", -40.0)],
            clips=[
                over("dario_1", 27, 33, "dario rit1a"), over("dario_1", 33, 39, "dario rit1b", 0.2),
                over("dario_3", 39, 47, "dario str2a"), over("dario_3", 47, 55, "dario str2b"),
                over("dario_3", 55, 61, "dario rit2a"), over("dario_3", 61, 67, "dario rit2b", 0.2, 0.1),
                over("dario_4", 95, 101, "dario rit3a"), over("dario_4", 101, 107, "dario rit3b", 0.2, 0.1),
                over("dario_4", 108, 113, "dario coda mmm", 0.3, -1.6),
            ],
            automation=[ride(dario_ride), ride(echo, "send:1:level")],
        ),
        strip(
            "dar_s", "Dario scorta", "track", -9.0, 12.0, 1, "gr_voci",
            mute=True, sends=[send("riv_v", -12.5)],
            clips=[
                over("dario_prova", 39, 47, "prova str2a"), over("dario_prova", 47, 55, "prova str2b"),
                over("dario_prova", 55, 67, "prova rit2"),
            ],
            comment="prova del pomeriggio, raffreddato - NON USARE",
        ),
    ]  # fmt: skip


def bus_strips() -> list[Row]:
    """Groups, returns and the mix."""
    chit_ride = [(0.0, 0.0), (bar(11), -1.5), (bar(27), -0.5), (bar(39), -1.5), (bar(55), -0.5), (bar(67), -2.0)]
    chit_ride += [(bar(79), -1.5), (bar(95), 0.0)]
    fade = [(0.0, 0.0), (FINE + 3.0, 0.0), (FINE + 6.0, -14.0), (FINE + 8.0, -40.0), (FINE + 8.6, -200.0)]
    limiter = {"threshold_db": -1.5, "release_ms": 120.0, "output_gain_db": 0.0}
    mix_inserts = [
        eq(low_cut(24.0), shelf("low-shelf", 90.0, 0.5), shelf("high-shelf", 11000.0, 0.8)),
        comp(-12.0, 1.5, 30.0, 250.0, 0.5),
        insert("limitatore", "limiter", dynamics=limiter),
    ]
    return [
        strip(
            "gr_chit", "Gr Chit", "group", 0.0, 0.0, 2, "mix",
            inserts=[comp(-16.0, 1.8, 30.0, 180.0, 1.0)], automation=[ride(chit_ride)],
        ),
        strip(
            "gr_archi", "Gr Archi", "group", -0.5, 0.0, 2, "mix",
            inserts=[eq(bell(300.0, -1.0, 0.8))], comment="contrabbasso + cello",
        ),
        strip(
            "gr_voci", "Gr Voci", "group", 0.5, 0.0, 2, "mix",
            inserts=[comp(-18.0, 2.0, 20.0, 150.0, 1.0), eq(shelf("high-shelf", 10000.0, 1.5))],
        ),
        strip(
            "riv_a", "Riv Chit A", "return", -9.0, 70.0, 1, "mix",
            inserts=[eq(low_cut(180.0)), reverb("camera legno", 1.1, 18.0)],
            comment="ritorno incrociato: A torna da dx",
        ),
        strip(
            "riv_b", "Riv Chit B", "return", -9.0, -70.0, 1, "mix",
            inserts=[eq(low_cut(180.0)), reverb("camera legno", 1.1, 21.0)],
            comment="ritorno incrociato: B torna da sx",
        ),
        strip(
            "riv_v", "Riv Voci", "return", -6.0, 0.0, 2, "mix",
            inserts=[eq(low_cut(220.0), shelf("high-shelf", 7000.0, -3.0)), reverb("lastra", 1.9, 45.0)],
        ),
        strip(
            "eco", "Eco voci", "return", -8.0, 0.0, 2, "mix",
            inserts=[
                insert(
                    "eco nastro", "delay", wet=100.0,
                    parameters=[value("tempo", 326.1, "ms"), value("ritorno", 24.0, "%")],
                ),
                eq(low_cut(250.0), shelf("high-shelf", 4500.0, -6.0)),
            ],
            sends=[send("riv_v", -14.0)], comment="solo fine ritornello (ottavo)",
        ),
        {
            "id": "mix", "name": "MIX", "kind": "master", "legs": 2, "fader_db": 0.0, "pan": 0.0,
            "mute": False, "solo": False, "inserts": mix_inserts, "automation": [ride(fade, shape="linear")],
        },
    ]  # fmt: skip


def media() -> list[Row]:
    """The files of both live takes and of the overdubs."""
    rows: list[tuple[str, str, int, float]] = [
        (f"{cid}_{take}", f"audio/{take}_{stem}.wav", legs, TAKE_LENGTH[take])
        for take in ("T3", "T5")
        for cid, (stem, legs) in LIVE.items()
    ]
    rows += [(fid, path, legs, length) for fid, (path, legs, _, length) in OVERDUBS.items()]
    return [
        {
            "id": fid,
            "path": path,
            "place": "beside",
            "present": True,
            "legs": legs,
            "sample_rate_hz": RATE,
            "duration_s": length,
        }
        for fid, path, legs, length in rows
    ]


def good() -> Session:
    """The session as it should be bounced."""
    return {
        "format": "mixlint-session/1",
        "title": "Il mulino di sopra - mix 4",
        "sample_rate_hz": RATE,
        "timeline": {
            "tempos": [{"beat": beat, "bpm": bpm} for beat, bpm in TEMPOS],
            "meters": [{"beat": 0.0, "beats": 3, "unit": 4}],
        },
        "markers": [
            *({"time_s": bar(number), "name": name} for number, name in SECTIONS),
            {"time_s": FINE, "name": "fine battute"},
        ],
        "channels": [*live_strips(), *overdub_strips(), *bus_strips()],
        "media": media(),
        "metadata": {"consegna": "48 kHz, 24 bit", "nota": "la stanza respira fino in fondo, sfumare a mano"},
    }


def channel(session: Session, name: str) -> Row:
    """The channel of a name."""
    found: Row = next(c for c in session["channels"] if c["name"] == name)
    return found


def reverb_uncrossed(session: Session) -> None:
    """The reverb of guitar B comes from the side of guitar B."""
    channel(session, "Riv Chit B")["pan"] = 70.0


def bridge_not_cut(session: Session) -> None:
    """One guitar microphone was not in the edit group and runs on in take 3."""
    row = channel(session, "Chit A ponte")
    first, _, last = row["clips"]
    first["end_s"] = last["end_s"]
    first["fade_out_s"] = last["fade_out_s"]
    row["clips"] = [first]


def bridge_slipped(session: Session) -> None:
    """The contents of one guitar clip slipped by fourteen milliseconds."""
    piece = channel(session, "Chit B ponte")["clips"][1]
    piece["offset_s"] = round(piece["offset_s"] + 0.014, 4)


def ride_sign(session: Session) -> None:
    """One phrase of the ride was typed without its minus."""
    lane = channel(session, "Voce Lia")["automation"][0]
    place = lane["t"].index(round(bar(87) - 0.4, 4))
    lane["v"][place] = -lane["v"][place]


def bass_clip_gain(session: Session) -> None:
    """The clip gain of one bass clip was pulled up."""
    channel(session, "Contrabb mic")["clips"][1]["gain_db"] = 11.0


def spare_open(session: Session) -> None:
    """The spare voice is open."""
    channel(session, "Dario scorta")["mute"] = False


def send_to_other_reverb(session: Session) -> None:
    """One microphone of guitar A feeds the reverb of guitar B."""
    channel(session, "Chit A tasto")["sends"][0]["to"] = "riv_b"


def bass_into_voices(session: Session) -> None:
    """The bass DI goes into the voice group."""
    channel(session, "Contrabb DI")["output"] = "gr_voci"


def solo_file_rate(session: Session) -> None:
    """One file of the cello solo was delivered at another sample rate."""
    file = next(f for f in session["media"] if f["id"] == "cello_v_solo")
    file["sample_rate_hz"] = 44100.0


def low_cut_typed(session: Session) -> None:
    """A zero too many in a low cut."""
    channel(session, "Voce Dario")["inserts"][0]["equalizer"]["bands"][0]["freq_hz"] = 850.0


def fade_early(session: Session) -> None:
    """The last fade stayed where the song ended before the coda was lengthened."""
    lane = channel(session, "MIX")["automation"][0]
    lane["t"] = [lane["t"][0], *(round(t - 13.0, 4) for t in lane["t"][1:])]


ACCEPTED: list[dict[str, Any]] = [
    {"channels": ["Riv Chit A", "Riv Chit B"], "why": "each guitar's reverb stands on the other side on purpose"},
    {"channels": ["Dario scorta"], "why": "a muted spare with clips, kept and labelled as such"},
    {"channels": ["Contrabb DI"], "why": "delayed on purpose to meet the microphone"},
    {"channels": ["Eco voci"], "why": "fed only at the ends of the refrains, and itself sends to the plate"},
]

FAULTS: list[dict[str, Any]] = [
    {
        "id": "reverb-uncrossed",
        "class": "place",
        "channels": ["Riv Chit B"],
        "grade": "look",
        "says": "Riv Chit B stands at +70, guitar B's own side and on top of Riv Chit A; its comment says left.",
        "plant": reverb_uncrossed,
    },
    {
        "id": "bridge-not-cut",
        "class": "edits",
        "channels": ["Chit A ponte"],
        "grade": "hold",
        "says": "Chit A ponte plays take 3 from bar 39 to 67 while every other live microphone has take 5 there.",
        "plant": bridge_not_cut,
    },
    {
        "id": "bridge-slipped",
        "class": "phase",
        "channels": ["Chit B ponte"],
        "grade": "look",
        "says": "The take 5 clip of Chit B ponte lies 14 ms off against Chit B tasto and all microphones of that take.",
        "plant": bridge_slipped,
    },
    {
        "id": "ride-sign",
        "class": "automation",
        "channels": ["Voce Lia"],
        "grade": "hold",
        "says": "The ride of Voce Lia jumps to +6.5 dB in verse 3, between points around -7: the minus is missing.",
        "plant": ride_sign,
    },
    {
        "id": "bass-clip-gain",
        "class": "level",
        "channels": ["Contrabb mic"],
        "grade": "look",
        "says": "The take 5 clip of Contrabb mic has +11 dB clip gain; its other clips, the DI and the room have none.",
        "plant": bass_clip_gain,
    },
    {
        "id": "spare-open",
        "class": "audible-that-should-not-be",
        "channels": ["Dario scorta"],
        "grade": "hold",
        "says": "Dario scorta, the afternoon rehearsal marked not to be used, is open and sings along with Voce Dario.",
        "plant": spare_open,
    },
    {
        "id": "send-to-other-reverb",
        "class": "ambience",
        "channels": ["Chit A tasto"],
        "grade": "look",
        "says": "Chit A tasto sends to Riv Chit B while its partner feeds Riv Chit A: its reverb sits on its own side.",
        "plant": send_to_other_reverb,
    },
    {
        "id": "bass-into-voices",
        "class": "routing",
        "channels": ["Contrabb DI"],
        "grade": "hold",
        "says": "Contrabb DI goes into Gr Voci, not Gr Archi like its microphone, and works the voices' compressor.",
        "plant": bass_into_voices,
    },
    {
        "id": "solo-file-rate",
        "class": "files",
        "channels": ["Cello vicino"],
        "grade": "look",
        "says": "The solo file of Cello vicino is at 44.1 kHz; the session and the far microphone's file are at 48.",
        "plant": solo_file_rate,
    },
    {
        "id": "low-cut-typed",
        "class": "processors",
        "channels": ["Voce Dario"],
        "grade": "look",
        "says": "The low cut of Voce Dario stands at 850 Hz, Voce Lia's at 95: a zero too many, no body left.",
        "plant": low_cut_typed,
    },
    {
        "id": "fade-early",
        "class": "end",
        "channels": ["MIX"],
        "grade": "hold",
        "says": "The mix fades out in the coda and is down as the last chord arrives; all clips run on to the tail.",
        "plant": fade_early,
    },
]
