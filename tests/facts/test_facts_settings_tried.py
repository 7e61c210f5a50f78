"""Every number that decides a fact of pairs, clips, tracks, files and hand-over is one that a house can set."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
from scipy import signal

from mixlint.facts import TABLES, House, SessionContext
from mixlint.media.made_sounds import write_sounds
from mixlint.media.recipe import Recipe
from mixlint.session import Channel, Clip, Equalizer, EqualizerBand, Insert, Marker, MediaFile, Unknown
from mixlint.signal.k_weighting import TABLES_AT_48K
from tests.facts.audio_sessions import RATE, audio_context, sine, write
from tests.facts.settings_by_example import BY_EXAMPLE
from tests.facts.small_sessions import ask, bus, context, mix, send, track

UNFADED = {"fade_in_s": 0.0, "fade_out_s": 0.0}
TRIED = ("pair", "clip", "track", "media", "stems", "handover", "change", "loop", "split")
"""The tables whose settings are tried here."""


class Case(NamedTuple):
    """A session in which one setting decides one fact: the value as shipped, and with the house's number."""

    make: Callable[[Path], SessionContext]
    row: tuple[str, str]
    fact: str
    shipped: Any
    set_to: float
    then: Any


def song(*others: Clip, markers: tuple[Marker, ...] = ()) -> Callable[[Path], SessionContext]:
    """A guitar of 180 s, and a voice with clips named in order."""
    clips = tuple(c.model_copy(update={"name": f"clip {n}"}) for n, c in enumerate(others))
    return lambda _: context(track("Guitar", at=(0.0, 180.0)), track("Vocal", clips=clips), mix(), markers=markers)


def at(start_s: float, end_s: float, **more: Any) -> Clip:
    return Clip(start_s=start_s, end_s=end_s, **more)


def played(file_hz: float, session_hz: float, file_s: float, clip_s: float, speed: float = 1.0):
    """One clip of one file, from its beginning."""
    media = (MediaFile(id="a", path="a.wav", sample_rate_hz=file_hz, duration_s=file_s),)
    clip = at(0.0, clip_s, file="a", speed=speed)
    return lambda _: context(track("A", clips=(clip,)), mix(), media=media, sample_rate_hz=session_hz)


def takes(start_s: float, end_s: float, pan: float = 0.0) -> Callable[[Path], SessionContext]:
    """A voice of 60 s in the centre, and another take of it."""
    return lambda _: context(track("Vox"), track("Vox take 2", at=(start_s, end_s), pan=pan), mix())


def section(*names: str) -> Callable[[Path], SessionContext]:
    """Channels that each play one clip of their own, from the same place."""
    clips = (at(20.0, 60.0, offset_s=20.0),)
    return lambda _: context(*(track(name, clips=clips) for name in names), mix())


MICS = ("pair", "Fiddle Mic and Fiddle DI")


def moved(*late_ms: float) -> Callable[[Path], SessionContext]:
    """A microphone and a direct signal, two clips of 20 s each, those of the latter moved late."""
    clips = [at(40.0 * n, 40.0 * n + 20.0, file="a", offset_s=40.0 * n) for n in range(2)]
    late = [
        at(c.start_s + ms / 1000.0, c.end_s, file="b", offset_s=c.offset_s)
        for c, ms in zip(clips, late_ms, strict=True)
    ]
    media = (MediaFile(id="a", path="a.wav"), MediaFile(id="b", path="b.wav"))
    mics = (track("Fiddle Mic", clips=tuple(clips)), track("Fiddle DI", clips=tuple(late)))
    return lambda _: context(*mics, mix(), media=media)


def layered(*clips: Clip) -> Callable[[Path], SessionContext]:
    return lambda _: context(track("Vocal", clips=clips), mix())


def crest(peak: float = 0.25, **fades: float) -> Callable[[Path], SessionContext]:
    """A sine of 100 Hz that starts at its crest and ends faded."""

    def made(folder: Path) -> SessionContext:
        file = write(folder, "crest.wav", np.stack([sine(100.0, 1.0, peak, np.pi / 2.0)] * 2, axis=1))
        clip = at(0.0, 1.0, file=file.id, **{"fade_in_s": 0.0, "fade_out_s": 0.1} | fades)
        return audio_context(folder, [file], track("Vocal", clips=(clip,), legs=2), mix())

    return made


def attack(folder: Path) -> SessionContext:
    """A sample of 0.02 that starts, and a crest of 0.9 that comes 4.2 ms later: 45 times as much."""
    file = write(folder, "hit.wav", np.stack([sine(60.0, 0.5, 0.9, np.arcsin(0.02 / 0.9))] * 2, axis=1))
    clip = at(0.0, 0.5, file=file.id, fade_in_s=0.0, fade_out_s=0.1)
    return audio_context(folder, [file], track("Kick", clips=(clip,), legs=2), mix())


def strokes(seed: int, seconds: float = 2.0) -> np.ndarray:
    """Decaying strokes of noise."""
    noise = np.random.default_rng(seed)
    out = np.zeros(round(seconds * RATE))
    for start in range(0, out.size - RATE // 8, RATE // 8):
        out[start : start + RATE // 8] += noise.standard_normal(RATE // 8) * np.exp(-np.arange(RATE // 8) / 2400.0)
    return 0.1 * out


def guitars(
    *, room: float = 0.0, late: int = 0, half: bool = False, second: int = 1
) -> Callable[[Path], SessionContext]:
    """One take on both sides, the right one ``late`` samples late and with a share ``room`` of another take in it.

    With ``half`` the two are longer, and the second half of the right one is another take.
    """

    def made(folder: Path) -> SessionContext:
        seconds = 8.0 if half else 2.0
        take = strokes(1, seconds)
        other = np.concatenate([np.zeros(late), strokes(second, seconds)])[: take.size] + room * strokes(2, seconds)
        if half:
            other[take.size // 2 :] = strokes(3, seconds)[take.size // 2 :]
        files = [write(folder, "l.wav", take), write(folder, "r.wav", other)]
        parts = [
            track(f"Gtr {side}", pan=pan, clips=(at(0.0, seconds, file=file.id),))
            for side, pan, file in zip("LR", (-50.0, 50.0), files, strict=True)
        ]
        return audio_context(folder, files, *parts, mix())

    return made


def one_file_twice(_: Path) -> SessionContext:
    """The same file on both sides, the right one 60 ms further on."""
    media = (MediaFile(id="a", path="a.wav"),)
    left, right = (
        track(f"Gtr {side}", pan=pan, clips=(at(0.0, 20.0, file="a", offset_s=offset),))
        for side, pan, offset in (("L", -50.0, 0.0), ("R", 50.0, 0.06))
    )
    return context(left, right, mix(), media=media)


def stand_in(name: str = "Solo Gtr") -> Callable[[Path], SessionContext]:
    """While the right one of a pair rests for ten bars, a like part plays at four fifths of its angle."""
    right: Channel = track("Acoustic Gtr R", pan=50.0, clips=(at(0.0, 20.0), at(40.0, 60.0)))
    solo = track(name, pan=40.0, at=(20.0, 40.0))
    return lambda _: context(track("Acoustic Gtr L", pan=-50.0), right, solo, mix())


def unfed_groups(_: Path) -> SessionContext:
    """Four tracks, the first of which goes nowhere, and two groups that nothing goes out to."""
    tracks = (track("Vocal", output=None), track("Gtr"), track("Bass"), track("Keys"))
    return context(*tracks, bus("Drums"), bus("Strings"), mix())


def filtered(name: str, cut_hz: float) -> Callable[[Path], SessionContext]:
    """A pair of which the left one passes a low-pass of 12 dB per octave at ``cut_hz``, the right one nothing."""
    band = EqualizerBand(kind="low-pass", freq_hz=cut_hz, slope_db_per_oct=12.0)
    cut = Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)))
    left = track(f"{name} L", pan=-50.0, inserts=(cut,))
    return lambda _: context(left, track(f"{name} R", pan=50.0), mix())


def duller(cut_hz: float, start: float, end: float) -> float:
    """By how much the low-pass of :func:`filtered` takes a part down, dB, with a spectrum in these octaves.

    Worked out apart: equal energy per octave from ``start`` to ``end``, 12 dB per octave less below and 6 above; the
    filter and the K-weighting (tables of ITU-R BS.1770-5) by scipy.
    """
    octaves = 1000.0 * 10.0 ** (0.3 * np.arange(-5, 5))
    energy = np.minimum(octaves / start, 1.0) ** 4 * np.minimum(end / octaves, 1.0) ** 2
    energy *= np.abs(signal.sosfreqz(TABLES_AT_48K, octaves, fs=48_000.0)[1]) ** 2
    low_pass = signal.butter(2, cut_hz, fs=48_000.0, output="sos")
    kept = energy * np.abs(signal.sosfreqz(low_pass, octaves, fs=48_000.0)[1]) ** 2
    return float(-10.0 * np.log10(kept.sum() / energy.sum()))


def parallel(_: Path) -> SessionContext:
    """A path with a low cut of 12 dB per octave at 400 Hz, and one 40 dB down without.

    By the Butterworth high-pass of second order, −r² / (1 − r² + j √2 r) with r = f / 400 Hz: at 39.4 Hz the first path
    is 0.0097 and all but turned over, so that 0.0014 are left of it and the second one's 0.01, a dip of 17 dB. At the
    lowest sixth of an octave at which it is no more than 20 dB down, 140 Hz, it is 0.123, and the second takes 0.64 dB.
    """
    band = EqualizerBand(kind="high-pass", freq_hz=400.0, slope_db_per_oct=12.0)
    cut = Insert(name="Desk EQ", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(band,)))
    return context(
        track("Kick", output="Low", sends=(send("Crush", -40.0),)),
        bus("Low", inserts=(cut,)),
        bus("Crush", kind="return"),
        mix(),
    )


def sung(*levels: float) -> Callable[[Path], SessionContext]:
    """A voice of clips of four seconds, one after another, each a sine of 1 kHz at one of these peaks."""

    def made(folder: Path) -> SessionContext:
        files = [write(folder, f"{n}.wav", sine(1000.0, 4.0, peak)) for n, peak in enumerate(levels)]
        clips = tuple(at(4.0 * n, 4.0 * n + 4.0, file=file.id, name=f"clip {n}") for n, file in enumerate(files))
        return audio_context(folder, files, track("Vocal", clips=clips), mix())

    return made


def joined(gap_s: float, gain_db: float) -> Callable[[Path], SessionContext]:
    """Two clips with a gap between them, the second with a gain."""
    clips = (at(0.0, 4.0, name="clip 0"), at(4.0 + gap_s, 8.0, name="clip 1", gain_db=gain_db))
    return lambda _: context(track("Vocal", clips=clips), mix())


def falling(folder: Path) -> SessionContext:
    """A clip that ends a second at −12 dB, and one 6 dB quieter that its gain brings up to the level before.

    Over three seconds before the join the first has 10 log10((2 + 0.063) / 3) = −1.6 dB, nearer to 0 than to −6: the
    gain evens both. Over one second it has −12, and without the gain both are nearer.
    """
    one = sine(1000.0, 6.0)
    one[5 * RATE :] *= 10.0 ** (-12.0 / 20.0)
    files = [write(folder, "0.wav", one), write(folder, "1.wav", sine(1000.0, 6.0, 0.5 * 10.0 ** (-6.0 / 20.0)))]
    clips = (at(0.0, 6.0, file="0.wav", name="clip 0"), at(6.0, 12.0, file="1.wav", name="clip 1", gain_db=6.0))
    return audio_context(folder, files, track("Vocal", clips=clips), mix())


def swelling(folder: Path) -> SessionContext:
    """A clip whose recording begins 15 dB down for a second, under a fade-in of two."""
    samples = sine(1000.0, 6.0)
    samples[:RATE] *= 10.0 ** (-15.0 / 20.0)
    clip = at(0.0, 6.0, file="0.wav", name="clip 0", fade_in_s=2.0)
    return audio_context(folder, [write(folder, "0.wav", samples)], track("Vocal", clips=(clip,)), mix())


GTRS = ("pair", "Gtr L and Gtr R")
VOX = ("track", "Vocal")
FILE = ("clip", "A: a.wav")
CLIP = ("clip", "Vocal: clip 0")
PAIR = ("pair", "Acoustic Gtr L and Acoustic Gtr R")


def spectrum_case(
    name: str, shipped: tuple[float, float], moved: tuple[float, float], to: float, cut_hz: float = 1000.0
) -> Case:
    """A setting of a spectrum that decides how much duller the left one of a pair is taken to be."""
    values = [pytest.approx(duller(cut_hz, a, b), abs=1e-6) for a, b in (shipped, moved)]
    return Case(
        filtered(name, cut_hz), ("pair", f"{name} L and {name} R"), "level_difference_db", values[0], to, values[1]
    )


CUT_AT = 1.3


def cut(
    *steps: tuple[float, float], peak: float = 0.5, fade_s: float = 0.0, others: int = 0
) -> Callable[[Path], SessionContext]:
    """A tone that a clip cuts at 1.3 s; from each time on it goes on at another level, dB, the first from 0 s."""

    def make(folder: Path) -> SessionContext:
        tone = sine(440.0, 3.0, peak)
        for start, level_db in steps:
            tone[round(start * RATE) :] = sine(440.0, 3.0, peak)[round(start * RATE) :] * 10.0 ** (level_db / 20.0)
        clips = (Clip(start_s=0.0, end_s=CUT_AT, file="a.wav", fade_out_s=fade_s),)
        late = (Clip(start_s=0.0, end_s=CUT_AT + 0.02, file="a.wav", fade_out_s=0.5),)
        more = [track(f"Other {n}", output="mix", clips=late) for n in range(others)]
        return audio_context(
            folder, [write(folder, "a.wav", tone)], track("Vox", output="mix", clips=clips), *more, bus("mix")
        )

    return make


def cut_case(make: Callable[[Path], SessionContext], shipped: int, set_to: float) -> Case:
    return Case(make, ("track", "Vox"), "edges_inside_sounds", shipped, set_to, 1 - shipped)


def dulled(folder: Path) -> SessionContext:
    """A voice that is 9 dB lower from its middle on, and has nothing over 1.5 kHz."""
    slips = {"from_s": {"at_s": 6.0, "gain_db": -9.0, "high_cut_hz": 1500.0}}
    recipe = {"plays": "voice", "seconds": 12.0, "then": [{"hiss_dbfs": -66.0}, slips]}
    write_sounds({"take.wav": Recipe.model_validate(recipe)}, folder)
    clip = at(0.0, 12.0, file="take.wav", offset_s=0.0)
    return audio_context(folder, [MediaFile(id="take.wav", path="take.wav")], track("Vocal", clips=(clip,)), mix())


CASES: dict[str, Case] = {
    "changes.tone": Case(dulled, ("media", "take.wav"), "change_of_tone", "duller", 190.0, "none"),
    "cut_notes.goes_on": cut_case(cut((CUT_AT + 0.25, -90.0)), 1, 400.0),
    "cut_notes.as_loud": cut_case(cut((CUT_AT, -12.0)), 0, 15.0),
    "cut_notes.onset": cut_case(cut((CUT_AT, 6.0), peak=0.3), 0, 8.0),
    "cut_notes.loud_enough": cut_case(cut((0.5, -24.0)), 0, 30.0),
    "cut_notes.quietest": cut_case(cut(peak=0.003), 0, -60.0),
    "cut_notes.on_purpose": cut_case(cut(fade_s=0.05), 0, 100.0),
    "cut_notes.together": cut_case(cut(others=2), 0, 5.0),
    "spectrum.low_from": spectrum_case("Synth Bass", (40.0, 160.0), (120.0, 160.0), 120.0),
    "spectrum.low_to": spectrum_case("Synth Bass", (40.0, 160.0), (40.0, 2000.0), 2000.0),
    "spectrum.middle_from": spectrum_case("Acoustic Gtr", (125.0, 1000.0), (800.0, 1000.0), 800.0),
    "spectrum.middle_to": spectrum_case("Acoustic Gtr", (125.0, 1000.0), (125.0, 3000.0), 3000.0),
    "spectrum.bright_from": spectrum_case("Hi-Hat", (2500.0, 10_000.0), (500.0, 10_000.0), 500.0, 6000.0),
    "spectrum.bright_to": spectrum_case("Shaker", (40.0, 10_000.0), (40.0, 3000.0), 3000.0),
    "same_clips.least_alike": Case(
        section("Trumpet", "Trombone", "Tuba"), ("track", "Tuba"), "heard_with_its_clips", "Trumpet", 3.0, "none"
    ),
    "strays.least_gap": Case(song(at(195.0, 196.0)), CLIP, "stray", True, 20.0, False),
    "strays.least_share": Case(song(at(195.0, 200.0)), CLIP, "stray", True, 2.0, False),
    "strays.marker_lead": Case(
        song(at(195.0, 196.0), markers=(Marker(time_s=192.0, name="Coda"),)),
        CLIP,
        "stray",
        True,
        4.0,
        False,
    ),
    "strays.snippet": Case(song(at(20.0, 20.08)), CLIP, "stray", False, 100.0, True),
    "strays.snippet_alone": Case(song(at(20.0, 20.02), at(20.5, 30.0)), CLIP, "stray", False, 0.2, True),
    "speed.rate_tolerance": Case(played(44100.0, 48000.0, 20.0, 10.0, 1.09), FILE, "wrong_rate", False, 0.5, True),
    "speed.shortest_file": Case(played(48000.0, 44100.0, 0.441, 0.48), FILE, "wrong_rate", False, 0.1, True),
    "takes.longest_crossfade": Case(layered(at(0.0, 5.0), at(2.0, 6.0)), VOX, "layered_s", 3.0, 4.0, 0.0),
    "takes.least_overlap": Case(layered(at(0.0, 10.0), at(6.0, 16.0)), VOX, "layered_s", 0.0, 30.0, 4.0),
    "takes.most_angle": Case(takes(0.0, 60.0, 30.0), ("track", "Vox take 2"), "other_takes", (), 40.0, ("Vox",)),
    "takes.least_together": Case(takes(40.0, 100.0), ("track", "Vox take 2"), "other_takes", (), 30.0, ("Vox",)),
    "boundaries.shortest_fade": Case(
        crest(fade_in_s=0.0005), VOX, "edge_step_dbfs", pytest.approx(-12.04, abs=0.01), 0.4, -200.0
    ),
    "boundaries.meeting": Case(layered(at(0.0, 1.0), at(1.005, 2.0)), VOX, "joins", 0, 10.0, 1),
    "boundaries.attack_window": Case(
        attack, ("track", "Kick"), "edge_step_dbfs", -200.0, 0.1, pytest.approx(-33.98, abs=0.01)
    ),
    "boundaries.attack_factor": Case(
        attack, ("track", "Kick"), "edge_step_dbfs", -200.0, 50.0, pytest.approx(-33.98, abs=0.01)
    ),
    "prints.least_covered": Case(
        lambda _: context(
            track("Piano", clips=(at(0.0, 60.0, plays="notes"),)), track("Piano_print", at=(0.0, 40.0)), mix()
        ),
        ("track", "Piano"),
        "printed",
        False,
        60.0,
        True,
    ),
    "prints.least_beside": Case(
        lambda _: context(track("Pad"), track("Pad print", at=(40.0, 100.0)), mix()),
        ("track", "Pad print"),
        "beside_its_source",
        True,
        50.0,
        False,
    ),
    "counterparts.least_angle_ratio": Case(stand_in(), PAIR, "alone_bars", 0.0, 90.0, 10.0),
    "counterparts.same_role": Case(stand_in("Acoustic Chorus"), PAIR, "alone_bars", 0.0, 0.0, 10.0),
    "counterparts.same_family": Case(stand_in("Electric Gtr"), PAIR, "alone_bars", 0.0, 0.0, 10.0),
    "export.least_groups": Case(unfed_groups, VOX, "audible", "groups that no channel goes out to", 3.0, False),
    "recordings.most_offset": Case(one_file_twice, GTRS, "one_recording", False, 80.0, True),
    "recordings.least_agreement": Case(guitars(room=0.6), GTRS, "one_recording", "are one performance", 0.5, True),
    "recordings.least_in_step": Case(
        guitars(room=0.6, half=True), GTRS, "one_recording", "strokes fall together", 40.0, "are one performance"
    ),
    "recordings.least_copied": Case(guitars(half=True), GTRS, "one_recording", True, 90.0, "strokes fall together"),
    "recordings.strokes_alike": Case(guitars(second=2), GTRS, "one_recording", "strokes fall together", 1.0, False),
    "recordings.shortest_stretch": Case(guitars(), GTRS, "same_polarity", True, 3.0, "they share no stretch"),
    "recordings.most_delay": Case(
        guitars(late=1440), GTRS, "delay_ms", pytest.approx(30.0, abs=0.05), 10.0, "no delay in common"
    ),
    "pairs.same_move": Case(
        moved(14.0, 15.0), MICS, "clips_shifted_ms", "in more than one way", 2.0, pytest.approx(14.5)
    ),
    "pairs.farthest_move": Case(
        moved(140.0, 140.0), MICS, "clips_shifted_ms", "two takes", 200.0, pytest.approx(140.0)
    ),
    "pairs.same_edge": Case(moved(60.0, 0.0), MICS, "clips_apart_s", pytest.approx(0.06), 80.0, 0.0),
    "pairs.least_edges": Case(
        moved(600.0, 600.0), MICS, "clips_apart_s", "not edited as one", 50.0, pytest.approx(0.6)
    ),
    "split.least_level": Case(
        parallel, ("split", "Kick"), "dip_db", pytest.approx(0.64, abs=0.02), -60.0, pytest.approx(17.0, abs=0.3)
    ),
    "phrases.shortest": Case(
        sung(0.4, 0.1),
        ("clip", "Vocal: clip 1"),
        "level_off_part_db",
        pytest.approx(-12.04, abs=0.1),
        5.0,
        "too short",
    ),
    "phrases.adjoining": Case(joined(0.04, 9.0), ("clip", "Vocal: clip 1"), "gain_step_db", 9.0, 10.0, 0.0),
    "phrases.heard_at_join": Case(falling, ("clip", "Vocal: clip 1"), "gain_step_db", 0.0, 1.0, 6.0),
    "fades.quiet_head": Case(swelling, ("clip", "Vocal: clip 0"), "faded_start_s", 2.0, 10.0, 0.0),
    "clip_sound.silent": Case(sung(10.0 ** (-66.0 / 20.0)), CLIP, "silent_percent", 100.0, -70.0, 0.0),
    "file_names.longest": Case(
        lambda _: context(track("A"), mix(), media=(MediaFile(id="a", path="a" * 66 + ".wav"),)),
        ("handover", "Harrow Gate"),
        "unportable",
        1,
        80.0,
        0,
    ),
}


def answer(made: SessionContext, case: Case) -> Any:
    """The fact's value, or the reason why it is not known."""
    found = ask(made, *case.row, case.fact)
    return found.unknown if isinstance(found, Unknown) else found.value


@pytest.mark.parametrize("name", CASES)
def test_a_house_that_sets_the_number_decides_the_fact(tmp_path, name):
    case = CASES[name]
    shipped = case.make(tmp_path)
    house = House(settings={name: case.set_to})
    moved = SessionContext(shipped.session, house, shipped.audio)
    for found, expected in ((answer(shipped, case), case.shipped), (answer(moved, case), case.then)):
        if isinstance(expected, str):
            assert expected in found
        else:
            assert found == expected


@pytest.mark.parametrize("name", CASES)
def test_the_fact_names_the_setting_it_rests_on(name):
    case = CASES[name]
    assert name in {setting.name for setting in TABLES[case.row[0]].facts[case.fact].settings}


def test_every_setting_of_these_tables_is_tried_here():
    named = {setting.name for table in TRIED for fact in TABLES[table].facts.values() for setting in fact.settings}
    elsewhere = {"counterparts.least_angle", "counterparts.least_together", "counterparts.most_level_difference_db"}
    assert named - elsewhere - {"export.least_channels"} == set(CASES) | set(BY_EXAMPLE)
