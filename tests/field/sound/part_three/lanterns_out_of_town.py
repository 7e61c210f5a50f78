"""Session of "Lanterns Out Of Town", an indie song of two collaborators in two towns, 112 BPM, 44.1 kHz.

Programmed drums and a synth bass came as printed audio from one town, guitars and voices from the other; the lead
vocal is a comp of three takes; plate and delay are printed and play on their return channels, with the sends parked;
last week's print of the mix lies beside it, muted.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from tests.field.sound import sounds_by_d as d
from tests.field.sound.sounds_by_d import Sound, a, b

KIND = "session"
RATE = 44100
BPM = 112.0
BEAT = 60.0 / BPM
BAR = 4 * BEAT
LENGTH = 26.0
N = int(LENGTH * RATE)
SEAM_1, SEAM_2 = 5 * BAR - 0.7 * BEAT, 8 * BAR - 0.38 * BEAT
PRINT = "Lanterns_mixprint_lastweek.wav"
CHORDS = [(45, 52, 57, 60, 64), (41, 48, 53, 57, 60), (48, 52, 55, 60, 64), (43, 50, 55, 59, 62)]
LEAD = [
    (8.5, 0.45, 64, "e", "h"),
    (9.0, 0.9, 69, "a", "t"),
    (10.0, 0.4, 67, "i", "s"),
    (10.5, 1.1, 64, "o", "n"),
    (12.5, 0.4, 64, "u", "f"),
    (13.0, 0.9, 69, "e", "k"),
    (14.0, 0.4, 71, "a", ""),
    (14.5, 0.9, 67, "i", "t"),
    (15.5, 0.4, 64, "e", "s"),
    (16.0, 1.3, 62, "o", "m"),
    (20.5, 0.4, 64, "a", "h"),
    (21.0, 0.9, 72, "a", "s"),
    (22.0, 0.4, 71, "e", "t"),
    (22.5, 1.0, 69, "i", ""),
    (24.0, 0.9, 67, "o", "k"),
    (25.0, 0.45, 69, "a", "p"),
    (25.5, 0.45, 67, "e", "t"),
    (26.0, 1.6, 64, "u", "f"),
    (28.5, 0.4, 64, "i", "s"),
    (29.0, 0.9, 69, "a", "ch"),
    (30.0, 0.9, 67, "o", "n"),
    (31.0, 0.5, 64, "e", "t"),
    (32.5, 0.45, 69, "a", "h"),
    (33.0, 0.9, 76, "a", "s"),
    (34.0, 0.45, 74, "e", "t"),
    (34.5, 1.1, 72, "i", "l"),
    (36.0, 0.9, 71, "o", "k"),
    (37.0, 0.4, 69, "a", ""),
    (37.5, 0.4, 67, "e", "t"),
    (38.0, 1.7, 69, "a", "m"),
]
OLD = [
    (8.0, 1.8, 69, "o", "s"),
    (10.0, 1.3, 67, "a", "t"),
    (11.7, 1.2, 72, "i", "k"),
    (13.3, 0.8, 71, "u", "f"),
    (17.5, 1.2, 67, "e", "t"),
    (19.0, 1.3, 69, "a", "s"),
    (21.7, 0.9, 64, "u", "n"),
    (23.2, 1.6, 72, "o", "k"),
    (27.2, 1.2, 71, "e", "t"),
    (29.6, 1.2, 64, "i", "s"),
    (31.2, 1.2, 67, "o", "h"),
    (35.1, 2.0, 64, "u", "t"),
]
FILES = {
    "kick": "DRM_Kick_print.wav",
    "snare": "DRM_Snare_print.wav",
    "hats": "DRM_Hats_print.wav",
    "bass": "SynthBass_print.wav",
    "gl": "Gtr_rhythm_L.wav",
    "gr": "Gtr_rhythm_R.wav",
    "arp": "Gtr_arp.wav",
    "lv2": "LeadVox_tk2.wav",
    "lv4": "LeadVox_tk4.wav",
    "lv5": "LeadVox_tk5.wav",
    "bvh": "BV_high_comp.wav",
    "bvl": "BV_low_comp.wav",
    "plate": "RTN_VoxPlate_print.wav",
    "delay": "RTN_VoxDelay_print.wav",
    "print": PRINT,
}
LEVELS = {  # channel id: (fader dB, pan)
    "kick": (-2.0, 0),
    "snare": (0.0, 0),
    "hats": (0.0, 0),
    "bass": (-3.5, 0),
    "gl": (-4.0, -75),
    "gr": (-4.0, 75),
    "arp": (-5.0, 18),
    "lead": (-1.5, 0),
    "bvh": (-5.0, -40),
    "bvl": (-5.0, 40),
    "plate": (-6.0, 0),
    "delay": (-8.0, 0),
}


def _drums(bpm: float) -> dict[str, Sound]:
    """The machine's bars, printed at a tempo: kick, snare with clap, hats with a shaker."""
    rng = np.random.default_rng(31)
    beat = 60.0 / bpm
    hit_k, hit_s = a.drum("kick", 0.9, RATE, rng), a.drum("snare", 0.8, RATE, rng)
    clap = b.butter(rng.standard_normal(int(0.2 * RATE)), RATE, "bandpass", (900.0, 6500.0))
    clap *= sum(
        np.where(np.arange(len(clap)) >= int(o * RATE), np.exp(-np.clip(np.arange(len(clap)) / RATE - o, 0, 1) / s), 0)
        for o, s in ((0.0, 0.004), (0.011, 0.004), (0.021, 0.045))
    )
    clap[-400:] *= np.linspace(1, 0, 400)
    a.lay(hit_s, 0.28 * clap, 0)
    hats, opened = a.drum("hat", 0.8, RATE, rng), a.drum("open", 0.7, RATE, rng)
    shake = d.shaker(RATE, rng, 0.35)
    kick, snare, top = np.zeros(N), np.zeros(N), np.zeros((N, 2))
    for bar in range(1, 10):
        for s, v in ((0, 1.0), (1.5, 0.7), (2.5, 0.95)) if bar % 2 else ((0, 1.0), (0.75, 0.5), (2.5, 0.9), (3.5, 0.6)):
            a.lay(kick, v * hit_k, int((BAR + ((bar - 1) * 4 + s) * beat) * RATE))
        for s, v in ((1, 0.9), (3, 1.0)) if bar % 4 else ((1, 0.9), (3, 1.0), (3.5, 0.35), (3.75, 0.5)):
            a.lay(snare, v * hit_s, int((BAR + ((bar - 1) * 4 + s) * beat) * RATE))
        for i in range(8):
            at = int((BAR + ((bar - 1) * 4 + i / 2) * beat) * RATE)
            piece = opened if i == 7 and bar % 2 == 0 else hats
            a.lay(top, b.spread(piece * (0.75 if i % 2 else 1.0), -0.3), at)
            if bar > 4:
                for o in (0.0, 0.25):
                    a.lay(top, b.spread(shake * (0.6 if o else 1.0), 0.5), at + int(o * beat * RATE))
    a.lay(kick, hit_k, int((BAR + 36 * beat) * RATE))
    a.lay(top, b.spread(a.drum("crash", 0.35, RATE, rng), -0.1), int((BAR + 36 * beat) * RATE))
    room = b.room(rng, RATE, 0.3, 0.2, 1, 0.002, 4.0)
    snare = snare + 0.2 * b.reverb(snare, room, N)
    found = {"kick": a.to_peak(kick, -8.0), "snare": a.to_peak(snare, -7.0), "hats": a.to_peak(top, -15.0)}
    return {name: b.fade(x, RATE, 0.01, 0.4) for name, x in found.items()}


def _rhythm(seed: int, cents: float) -> Sound:
    """Strummed electric guitar through a small amplifier; a hand of its own by the seed."""
    rng = np.random.default_rng(seed)
    x = np.zeros(N)
    for bar in range(1, 10):
        chord = [m + cents / 100.0 for m in CHORDS[(bar - 1) % 4]]
        for s, length, down, vel in (
            (0, 1.4, True, 0.8),
            (1.5, 0.45, False, 0.5),
            (2, 0.9, True, 0.7),
            (3, 0.45, True, 0.6),
            (3.5, 0.45, False, 0.5),
        ):
            at = bar * BAR + s * BEAT + rng.normal(0, 0.007)
            b.strum(rng, RATE, x, at, length * BEAT, chord, vel * rng.uniform(0.85, 1.12), down, 0.9, 1.0, 0.21)
    b.strum(
        rng,
        RATE,
        x,
        10 * BAR + rng.normal(0, 0.007),
        3.6,
        [m + cents / 100.0 for m in CHORDS[0]],
        0.8,
        True,
        0.9,
        1.2,
        0.21,
    )
    x = b.amp(x + b.hiss(rng, N, -72.0), RATE, 1.3, 4800.0)
    return b.fade(a.to_peak(x, -9.0) + b.hiss(rng, N, -74.0), RATE, 0.02, 0.5)


def _arpeggio(rng: np.random.Generator) -> Sound:
    """A clean arpeggio from bar five on."""
    x = np.zeros(N)
    for bar in range(5, 10):
        chord = CHORDS[(bar - 1) % 4]
        for i, k in enumerate((1, 2, 3, 4, 3, 2, 4, 3)):
            at = bar * BAR + i * BEAT / 2 + rng.normal(0, 0.006)
            b.place(
                x,
                RATE,
                at,
                b.pluck(rng, RATE, b.hertz(chord[k] + 12), 1.3 * BEAT, 1.1, 1.0, 0.12, 0.09),
                rng.uniform(0.5, 0.75),
            )
    x = d.squeeze(a.to_peak(b.butter(x, RATE, "bandpass", (110.0, 6000.0), 1), -3.0), RATE, -20.0, 2.5)
    return b.fade(a.to_peak(x, -11.0) + b.hiss(rng, N, -75.0), RATE, 0.02, 0.5)


def _line(
    score: Sequence[tuple[float, float, float, str, str]], rng: np.random.Generator, ms: float = 12.0, up: float = 0.0
) -> list[b.Note]:
    """Beats to seconds, as one sings it this time."""
    out: list[b.Note] = []
    for t, n, m, v, c in score:
        at = t * BEAT + rng.normal(0, 0.001 * ms)
        out.append((at, n * BEAT * rng.uniform(0.93, 1.0), m + up + rng.normal(0, 0.05), v, c))
    return out


def _take(seed: int) -> Sound:
    """One take of the lead vocal, all through."""
    rng = np.random.default_rng(seed)
    x = b.voice(rng, RATE, N, _line(LEAD, rng), 1.1, rng.uniform(0.2, 0.3), breathy=0.07)
    x = d.squeeze(a.to_peak(x, -3.0), RATE, -14.0, 2.0)
    small = b.reverb(x, b.room(np.random.default_rng(5), RATE, 0.18, 0.1, 1, 0.002, 2.5), N)
    x = x + 0.04 * small
    return b.fade(x * a.db(-22.0) / np.sqrt(np.mean(x**2)) + b.hiss(rng, N, -76.0), RATE, 0.02, 0.3)


def _backing(seed: int, up: float) -> Sound:
    """A backing voice in the second half."""
    rng = np.random.default_rng(seed)
    score = [
        (t, n * 1.15, 69 + (m - 69) * 0.5, v, "" if c in ("s", "t", "k", "ch") else c)
        for t, n, m, v, c in LEAD
        if t >= 20.0
    ]
    x = b.voice(rng, RATE, N, _line(score, rng, 16.0, up), 1.04 if up > 0 else 0.96, 0.2, breathy=0.1)
    return b.fade(
        a.to_peak(d.squeeze(a.to_peak(x, -3.0), RATE, -16.0, 2.5), -10.0) + b.hiss(rng, N, -76.0), RATE, 0.02, 0.3
    )


def _comp(takes: dict[str, Sound]) -> Sound:
    """The comp as its clips play it: two crossfades in rests."""
    t = np.arange(N) / RATE
    first = np.clip((SEAM_1 - t) / 0.02 + 0.5, 0, 1)
    second = np.clip((SEAM_2 - t) / 0.02 + 0.5, 0, 1)
    return takes["lv2"] * first + takes["lv4"] * (second - first) + takes["lv5"] * (1 - second)


def _plate(voice: Sound) -> Sound:
    """The plate, wholly wet."""
    rng = np.random.default_rng(77)
    x = b.reverb(b.butter(voice, RATE, "highpass", 250.0), b.room(rng, RATE, 1.8, 1.2, 2, 0.02, 5.0), N)
    return b.fade(x, RATE, 0.01, 0.6)


def _delay(voice: Sound, feedback: Sound) -> Sound:
    """Dotted eighths to and fro, with a feedback that may move."""
    sent = b.butter(voice, RATE, "bandpass", (300.0, 3800.0), 1)
    lag, part = int(0.75 * BEAT * RATE), np.zeros((N, 2))
    loop = np.zeros(N)
    for k in range(-(-N // lag)):
        i, j = k * lag, min((k + 1) * lag, N)
        if k == 0:
            continue
        back = sent[i - lag : j - lag] + feedback[i:j] * loop[i - lag : j - lag]
        loop[i:j] = 1.6 * np.tanh(back / 1.6)
        part[i:j, 0] = loop[i:j] * (0.9 if k % 2 else 0.35)
        part[i:j, 1] = loop[i:j] * (0.35 if k % 2 else 0.9)
    return b.fade(part, RATE, 0.01, 0.4)


def _steady() -> Sound:
    return np.full(N, 0.42)


def make(folder: Path) -> None:
    """Write the audio files and the session."""
    rng = np.random.default_rng(912)
    sounds: dict[str, Sound] = _drums(BPM)
    roots = [33, 29, 36, 31]
    notes = []
    for bar in range(1, 10):
        steps = ((0, 1.3, 0), (1.5, 0.8, 0), (2.5, 0.45, 0), (3, 0.4, 12), (3.5, 0.4, 7))
        notes += [
            (bar * BAR + s * BEAT, n * BEAT, roots[(bar - 1) % 4] + u, 0.9 if s == 0 else 0.75) for s, n, u in steps
        ]
    notes.append((10 * BAR, 2.6, 33.0, 0.9))
    sounds["bass"] = b.fade(a.to_peak(d.synth_bass(notes, N, RATE), -10.0), RATE, 0.01, 0.4)
    sounds["gl"], sounds["gr"] = _rhythm(21, 0.0), _rhythm(22, 2.0)
    sounds["arp"] = _arpeggio(rng)
    takes = {"lv2": _take(42), "lv4": _take(44), "lv5": _take(45)}
    sounds |= takes
    sounds["bvh"], sounds["bvl"] = _backing(51, 4.0), _backing(52, -5.0)
    voice = _comp(takes)
    sounds["plate"] = a.to_peak(_plate(voice), -16.0)
    sounds["delay"] = 0.5 * _delay(voice, _steady())
    total = np.zeros((N, 2))
    for name, (level, where) in LEVELS.items():
        x = voice if name == "lead" else sounds[name]
        last_week = level + {"lead": -0.7, "arp": 0.6, "bvh": 0.5}.get(name, 0.0)
        total += a.db(last_week) * (x if x.ndim == 2 else a.pan(x, where))
    sounds["print"] = a.to_peak(total, -2.0)
    (folder / "audio").mkdir(parents=True, exist_ok=True)
    for name, file in FILES.items():
        b.write(folder / "audio" / file, sounds[name], RATE)
    (folder / "Lanterns Out Of Town.session.json").write_text(json.dumps(_session(folder), indent=1))


def _row(ident: str, name: str, output: str, **more: Any) -> dict[str, Any]:
    level, where = LEVELS.get(ident, (0.0, 0))
    clips = [a.clip(ident, 0.0, LENGTH, fade_in_s=0.01, fade_out_s=0.05)] if ident in FILES else []
    return a.channel(ident, name, output=output, fader_db=level, pan=where, clips=clips) | more


def _session(folder: Path) -> dict[str, Any]:
    """The desk."""
    parked = [
        {"to": "plate", "level_db": -12.0, "tap": "post", "on": False},
        {"to": "delay", "level_db": -15.0, "tap": "post", "on": False},
    ]
    h = 0.01
    comp = [
        a.clip("lv2", 3.2, SEAM_1 + h, fade_in_s=0.02, fade_out_s=0.02),
        a.clip("lv4", SEAM_1 - h, SEAM_2 + h, fade_in_s=0.02, fade_out_s=0.02),
        a.clip("lv5", SEAM_2 - h, 23.0, fade_in_s=0.02, fade_out_s=0.02),
    ]

    def insert(name: str, kind: str) -> dict[str, Any]:
        return {"name": name, "kind": kind, "on": False, "wet": 100.0}

    def bus(ident: str, name: str) -> dict[str, Any]:
        return a.channel(ident, name, "group", "mix", legs=2, fader_db=0.0, pan=0)

    rows = [
        bus("drums", "DRUMS"),
        _row("kick", "DRM Kick", "drums", legs=1),
        _row("snare", "DRM Snare", "drums", legs=1),
        _row("hats", "DRM Hats", "drums", legs=2),
        _row("bass", "Synth Bass", "mix", legs=1),
        bus("gtrs", "GTRS"),
        _row("gl", "Gtr L", "gtrs", legs=1),
        _row("gr", "Gtr R", "gtrs", legs=1),
        _row("arp", "Gtr Arp", "gtrs", legs=1),
        bus("vox", "VOX"),
        _row("lead", "Lead Vox Comp", "vox", legs=1, clips=comp, sends=parked),
        _row("bvh", "BV High", "vox", legs=1),
        _row("bvl", "BV Low", "vox", legs=1),
        _row(
            "plate",
            "Vox Plate (printed)",
            "mix",
            kind="return",
            legs=2,
            plays=["audio"],
            inserts=[insert("plate", "reverb")],
            comment="printed; send parked, insert bypassed",
        ),
        _row(
            "delay",
            "Vox Delay (printed)",
            "mix",
            kind="return",
            legs=2,
            plays=["audio"],
            inserts=[insert("echo 1/8.", "delay")],
            comment="printed; send parked, insert bypassed",
        ),
        _row("print", "Mix print last week", "mix", legs=2, mute=True, comment="for comparison only"),
        a.channel("mix", "MIX", "master", None, legs=2, fader_db=-2.0, pan=0),
    ]
    return {
        "format": "mixlint-session/1",
        "title": "Lanterns Out Of Town",
        "sample_rate_hz": RATE,
        "timeline": {"tempos": [{"beat": 0.0, "bpm": BPM}], "meters": [{"beat": 0.0, "beats": 4, "unit": 4}]},
        "markers": [
            {"time_s": BAR, "name": "Intro"},
            {"time_s": 2 * BAR, "name": "Verse"},
            {"time_s": 5 * BAR, "name": "Chorus"},
            {"time_s": 8 * BAR, "name": "Chorus 2"},
            {"time_s": 10 * BAR, "name": "End"},
        ],
        "channels": rows,
        "media": [
            {**row, "id": ident} for ident, row in zip(FILES, a.media(folder, list(FILES.values()), RATE), strict=True)
        ],
    }


def _file(folder: Path, name: str) -> Path:
    return folder / "audio" / FILES[name]


def _take_low(folder: Path) -> None:
    d.alter(_file(folder, "lv4"), lambda x, rate: a.db(-10.0) * b.butter(x, rate, "lowpass", 4500.0, 1))


def _dc(folder: Path) -> None:
    d.alter(_file(folder, "bass"), lambda x, rate: x + 0.14)


def _other_tempo(folder: Path) -> None:
    for name, x in _drums(110.0).items():
        b.write(_file(folder, name), x, RATE)


def _out_of_tune(folder: Path) -> None:
    b.write(_file(folder, "gr"), _rhythm(22, 38.0), RATE)


def _overdriven(folder: Path) -> None:
    d.alter(_file(folder, "bvh"), lambda x, rate: a.db(-14.0) * np.clip(x * a.db(19.0), -1.0, 1.0))


def _old_voice(folder: Path) -> None:
    rng = np.random.default_rng(61)
    old = b.voice(rng, RATE, N, _line(OLD, rng), 1.1, 0.25, breathy=0.07)
    now, _ = b.read(_file(folder, "plate"))
    wet = _plate(old)
    b.write(_file(folder, "plate"), wet * np.sqrt(np.mean(now**2) / np.mean(wet**2)), RATE)


def _runaway(folder: Path) -> None:
    takes = {name: b.read(_file(folder, name))[0] for name in ("lv2", "lv4", "lv5")}
    t = np.arange(N) / RATE
    moved = np.interp(t, [0.0, 13.5, 14.5, LENGTH], [0.42, 0.42, 1.15, 1.15])
    b.write(_file(folder, "delay"), np.clip(0.5 * _delay(_comp(takes), moved), -0.99, 0.99), RATE)


def _click_bleed(folder: Path) -> None:
    rng = np.random.default_rng(3)

    def bleed(x: Sound, rate: int) -> Sound:
        n = int(0.03 * rate)
        t = np.arange(n) / rate
        for beat in range(4, 44):
            f = 2640.0 if beat % 4 == 0 else 1980.0
            tick = np.sin(2 * np.pi * f * t) * np.exp(-t / 0.007) * np.minimum(1, t / 0.0005)
            level = a.db(-29.0) * (1.3 if beat % 4 == 0 else 1.0) * rng.uniform(0.9, 1.1)
            a.lay(x, level * tick, int((beat * BEAT + 0.004) * rate))
        return x

    for name in ("lv2", "lv4", "lv5"):
        d.alter(_file(folder, name), bleed)


def _bad_seam(folder: Path) -> None:
    def cut(x: Sound, rate: int) -> Sound:
        for beat in (21.45, 26.6, 33.5):
            i = int(beat * BEAT * rate)
            i += int(np.argmax(np.abs(x[i : i + 600])))
            back = int(0.31 * rate)
            low = i - back + int(np.argmin(x[i - back : i - back + 600] * np.sign(x[i])))
            m = int(0.14 * rate)
            x[i : i + m] = x[low : low + m].copy()
        return x

    d.alter(_file(folder, "bvl"), cut)


def _print_on(folder: Path) -> None:
    def on(told: dict) -> None:
        b.channel_of(told, "Mix print last week")["mute"] = False

    b.change_session(folder, on)


ACCEPTED: list[dict[str, Any]] = [
    {
        "names": ["Vox Plate (printed)", "Vox Delay (printed)", "Lead Vox Comp"],
        "why": "the returns are printed: their sends are parked and their processors bypassed on purpose",
    },
    {
        "names": ["Mix print last week"],
        "why": "a muted print for comparison; it differs by a few tenths of a decibel from today",
    },
    {
        "names": ["DRM Kick", "DRM Snare", "DRM Hats", "Synth Bass"],
        "why": "machine parts: equal strokes, digital silence in rests",
    },
    {"names": ["BV High", "BV Low", "Gtr Arp"], "why": "they come in with the chorus and carry only noise before"},
]
FAULTS: list[dict[str, Any]] = [
    {
        "id": "take-low-and-dull",
        "class": "comp takes do not match",
        "names": ["Lead Vox Comp", "LeadVox_tk4.wav"],
        "grade": "look",
        "says": "Take 4 in the comp (first chorus) is 10 dB lower and duller above 4.5 kHz than takes 2 and 5: "
        "the voice drops back at the seam.",
        "time_s": (SEAM_1, SEAM_2),
        "cure": "Match take 4 or ask for the right file.",
        "plant": _take_low,
    },
    {
        "id": "bass-dc",
        "class": "offset",
        "names": ["Synth Bass", "SynthBass_print.wav"],
        "grade": "hold",
        "says": "The synth bass print sits on a constant offset of +0.14 of full scale (-17 dBFS), also in its "
        "rests: it eats headroom, thumps at the clip's ends and works every compressor.",
        "time_s": (0.0, LENGTH),
        "cure": "High-pass it at 20 Hz or print it again.",
        "plant": _dc,
    },
    {
        "id": "drums-other-tempo",
        "class": "tempo",
        "grade": "hold",
        "names": ["DRM Kick", "DRM Snare", "DRM Hats", "DRUMS", *[FILES[k] for k in ("kick", "snare", "hats")]],
        "says": "All three drum prints run at 110 instead of 112 beats a minute: together at bar 2, 0.35 s "
        "behind the guitars and the bass at the end.",
        "time_s": (6.0, LENGTH),
        "cure": "Print the drums at 112.",
        "plant": _other_tempo,
    },
    {
        "id": "guitar-out-of-tune",
        "class": "tuning",
        "names": ["Gtr R", "Gtr_rhythm_R.wav", "Gtr L"],
        "grade": "hold",
        "says": "The right rhythm guitar is tuned 38 cents sharp of the left one, the bass and the voices.",
        "time_s": (BAR, LENGTH),
        "cure": "Retune it or record it again.",
        "plant": _out_of_tune,
    },
    {
        "id": "backing-overdriven",
        "class": "overload at the input",
        "names": ["BV High", "BV_high_comp.wav"],
        "grade": "hold",
        "says": "The high backing voice was cut off at the converter by about 9 dB and turned down after: flat "
        "tops at -14 dBFS, harsh.",
        "time_s": (20.5 * BEAT, 40 * BEAT),
        "cure": "Sing it again, or repair the flat tops.",
        "plant": _overdriven,
    },
    {
        "id": "plate-of-old-vocal",
        "class": "return of something else",
        "grade": "hold",
        "names": ["Vox Plate (printed)", "RTN_VoxPlate_print.wav", "Lead Vox Comp"],
        "says": "The plate print is that of last month's guide vocal: other notes at other places; it sings on "
        "through the lead's rest at 9.4 to 10.9 s and has nothing for the last word from 20.3 s on.",
        "time_s": (4.2, 22.0),
        "cure": "Print the plate from the present comp.",
        "plant": _old_voice,
    },
    {
        "id": "delay-runs-away",
        "class": "feedback",
        "names": ["Vox Delay (printed)", "RTN_VoxDelay_print.wav", "Lead Vox Comp"],
        "grade": "hold",
        "says": "The delay's feedback went over unity from 14 s on: the repeats grow by about 1 dB each until "
        "they drown the lead, and do not die away at the end.",
        "time_s": (14.5, LENGTH),
        "cure": "Print the delay at its right feedback.",
        "plant": _runaway,
    },
    {
        "id": "click-in-vocal",
        "class": "headphone bleed",
        "grade": "look",
        "names": ["Lead Vox Comp", *[FILES[k] for k in ("lv2", "lv4", "lv5")]],
        "says": "The metronome spills from the headphones into all three takes, peaks at about -29 dBFS on "
        "every beat, bare in the rests and after the last word.",
        "time_s": (BAR, 44 * BEAT),
        "cure": "Cut or gate the rests, repair the exposed ticks.",
        "plant": _click_bleed,
    },
    {
        "id": "backing-bad-seams",
        "class": "bad edit",
        "names": ["BV Low", "BV_low_comp.wav"],
        "grade": "hold",
        "says": "Three hard cuts in held notes of the low backing comp at 11.5, 14.3 and 17.9 s: steps without "
        "a crossfade and 0.14 s stuttered from before.",
        "time_s": (11.3, 18.3),
        "cure": "Edit the seams anew with crossfades.",
        "plant": _bad_seam,
    },
    {
        "id": "print-plays-along",
        "class": "reference left on",
        "names": ["Mix print last week", "MIX", PRINT],
        "grade": "hold",
        "says": "Last week's print of the mix is unmuted and plays into the mix on top of the session.",
        "time_s": (0.0, LENGTH),
        "cure": "Mute it or take it out of the mix path.",
        "plant": _print_on,
    },
]
