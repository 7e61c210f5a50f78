"""Files that describe their legs: what is told of them, of their programmes and of their objects."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from mixlint.facts import SessionContext
from mixlint.importers.entry import read
from mixlint.media import Library
from mixlint.session import MediaFile, Unknown
from tests.facts.audio_sessions import RATE, audio_context, sine
from tests.facts.small_sessions import ask, mix, track, value
from tests.media.described import SURROUND, bed, chna, document, entry, wave, write

SECONDS = 4.0


def tones(*peaks_dbfs: float | None, hz: float = 1000.0) -> np.ndarray:
    """A sine a leg at these peaks; None for a silent leg."""
    levels = [0.0 if peak is None else 10.0 ** (peak / 20.0) for peak in peaks_dbfs]
    return np.stack([sine(hz, SECONDS, level) for level in levels])


def file_with(folder: Path, samples: np.ndarray, text: str, body: bytes | None = None) -> SessionContext:
    write(
        folder,
        "film.wav",
        wave(samples, (b"chna", chna(*SURROUND) if body is None else body), (b"axml", text.encode())),
    )
    return audio_context(folder, [MediaFile(id="film.wav", path="film.wav")], track("film"), mix())


TECH_3341_CASE_6 = (-28.0, -28.0, -24.0, None, -30.0, -30.0)
"""EBU Tech 3341, test 6: 1 kHz in five legs, 20 s in the original; −23.0 ± 0.1 LUFS."""


def test_the_loudness_of_a_bed_is_that_of_its_loudspeakers(tmp_path):
    at = file_with(tmp_path, tones(*TECH_3341_CASE_6), bed())
    assert value(at, "programme", "Lantern", "loudness_lufs") == pytest.approx(-23.0, abs=0.1)


def test_what_stands_in_the_low_end_does_not_count(tmp_path):
    """ITU-R BS.1770-5, Annex 1: the LFE is left out."""
    at = file_with(tmp_path, tones(*TECH_3341_CASE_6[:3], -6.0, *TECH_3341_CASE_6[4:]), bed())
    assert value(at, "programme", "Lantern", "loudness_lufs") == pytest.approx(-23.0, abs=0.1)


@pytest.mark.parametrize(
    ("legs", "expected"),
    [
        ((-20.0, None, None, None, None, None), -23.0),  # a sine of −20 dBFS in one leg of weight 1: −23.01 LKFS
        ((None, None, None, None, -20.0, None), -21.5),  # weight 1.41 is +1.49 dB
    ],
)
def test_weights_of_single_loudspeakers(tmp_path, legs, expected):
    """ITU-R BS.1770-5, Annex 1: a sine of 997 Hz at 0 dBFS in one front leg has −3.01 LKFS; 1 kHz reads a hair more."""
    at = file_with(tmp_path, tones(*legs, hz=997.0), bed())
    assert value(at, "programme", "Lantern", "loudness_lufs") == pytest.approx(expected, abs=0.05)


def test_gain_mute_and_time_of_an_object_count(tmp_path):
    legs = tones(*TECH_3341_CASE_6)
    softer = file_with(tmp_path / "a", legs, bed(more='<gain gainUnit="dB">-6</gain>'))
    assert value(softer, "programme", "Lantern", "loudness_lufs") == pytest.approx(-29.0, abs=0.1)
    muted = file_with(tmp_path / "b", legs, bed(more="<mute>1</mute>"))
    assert "nothing plays in it" in ask(muted, "programme", "Lantern", "loudness_lufs").unknown
    loud_then = legs.copy()
    loud_then[:, 2 * RATE :] *= 10.0
    first_half = bed(attrs=' start="00:00:00.00000" duration="00:00:02.00000"')
    only = file_with(tmp_path / "c", loud_then, first_half)
    # Of twenty blocks of 0.4 s that pass the gates 17 are full, and three hold ¾, ½ and ¼ of the sine.
    expected = -23.0 + 10.0 * np.log10(18.5 / 20.0)
    assert value(only, "programme", "Lantern", "loudness_lufs") == pytest.approx(expected, abs=0.1)


def test_two_legs_for_one_loudspeaker_add_up(tmp_path):
    """Two equal sines in one place are 6.02 dB louder than one, not 3.01."""
    two = (
        '<audioProgramme audioProgrammeID="APR_1001" audioProgrammeName="Lantern">'
        "<audioContentIDRef>ACO_1001</audioContentIDRef></audioProgramme>"
        '<audioContent audioContentID="ACO_1001" audioContentName="Both"><audioObjectIDRef>AO_1001</audioObjectIDRef>'
        '</audioContent><audioObject audioObjectID="AO_1001" audioObjectName="Both">'
        "<audioObjectIDRef>AO_1002</audioObjectIDRef><audioObjectIDRef>AO_1003</audioObjectIDRef></audioObject>"
    ) + "".join(
        f'<audioObject audioObjectID="AO_100{n}" audioObjectName="Part {n}"><audioPackFormatIDRef>AP_00010001'
        f"</audioPackFormatIDRef><audioTrackUIDRef>ATU_0000000{n - 1}</audioTrackUIDRef></audioObject>"
        for n in (2, 3)
    )
    body = chna(*(entry(leg, f"ATU_0000000{leg}", "AT_00010003_01", "AP_00010001") for leg in (1, 2)))
    at = file_with(tmp_path, tones(-26.0, -26.0, None), document(two), body)
    assert value(at, "programme", "Lantern", "loudness_lufs") == pytest.approx(-29.01 + 6.02, abs=0.1)
    assert value(at, "object", "Both", "holds_others") is True
    assert value(at, "object", "Part 3", "contents") == ("Both",)
    assert value(at, "delivery", "film.wav", "legs_unnamed") == (3,)


STATED = (
    '<loudnessMetadata loudnessMethod="{}"><integratedLoudness>-20.0</integratedLoudness>'
    "<maxTruePeak>-24.0</maxTruePeak></loudnessMetadata>"
)


def test_stated_loudness_is_held_against_what_is_measured(tmp_path):
    at = file_with(tmp_path / "a", tones(*TECH_3341_CASE_6), bed(STATED.format("ITU-R BS.1770-4")))
    off = ask(at, "programme", "Lantern", "loudness_off_lu")
    assert off.value == pytest.approx(3.0, abs=0.1)
    assert off.note == "integrated −20 LUFS stated and −23 LUFS measured"
    assert value(at, "programme", "Lantern", "true_peak_off_db") == pytest.approx(0.0, abs=0.1)
    assert value(at, "programme", "Lantern", "range_off_lu") == 0.0
    other = file_with(tmp_path / "b", tones(*TECH_3341_CASE_6), bed(STATED.format("our own")))
    assert "another method (our own)" in ask(other, "programme", "Lantern", "loudness_off_lu").unknown


@pytest.mark.parametrize(
    ("figure", "stated", "fact", "off"),
    [
        ("integratedLoudness", -20.0, "loudness_off_lu", 3.0),
        ("maxMomentary", -18.0, "loudness_off_lu", 5.0),
        ("maxShortTerm", -25.0, "loudness_off_lu", 2.0),
        ("loudnessRange", 8.0, "range_off_lu", 8.0),
        ("maxTruePeak", -4.0, "true_peak_off_db", 20.0),
    ],
)
def test_each_of_the_five_figures_is_held_against_the_sound(tmp_path, figure, stated, fact, off):
    """ITU-R BS.2076: children of loudnessMetadata. A steady tone is -23 LUFS by all three meters, and has no range."""
    text = f"<loudnessMetadata><{figure}>{stated}</{figure}></loudnessMetadata>"
    at = file_with(tmp_path, tones(*TECH_3341_CASE_6), bed(text))
    for one in ("loudness_off_lu", "range_off_lu", "true_peak_off_db"):
        assert value(at, "programme", "Lantern", one) == pytest.approx(off if one == fact else 0.0, abs=0.1)


def test_what_takes_a_renderer_is_left_open(tmp_path):
    """ITU-R BS.2127 says what an object comes to; alternatives are chosen by whoever plays the file."""
    voice = bed().replace("AP_00010003", "AP_00031001")
    own = tuple(entry(leg, f"ATU_{leg:08X}", "AT_00031001_01", "AP_00031001") for leg in range(1, 7))
    formats = (
        '<audioPackFormat audioPackFormatID="AP_00031001" audioPackFormatName="V" typeLabel="0003"/>'
        '<audioChannelFormat audioChannelFormatID="AC_00031001" audioChannelFormatName="V" typeLabel="0003">'
        '<audioBlockFormat audioBlockFormatID="AB_00031001_00000001"/></audioChannelFormat>'
    )
    text = voice.replace("</audioFormatExtended>", f"{formats}</audioFormatExtended>")
    at = file_with(tmp_path / "a", tones(*TECH_3341_CASE_6), text, chna(*own))
    assert "is no bed" in ask(at, "programme", "Lantern", "loudness_lufs").unknown
    assert value(at, "object", "Bed", "kind") == "object"
    instead = bed(more="<audioComplementaryObjectIDRef>AO_1001</audioComplementaryObjectIDRef>")
    at = file_with(tmp_path / "b", tones(*TECH_3341_CASE_6), instead)
    assert "play in its place" in ask(at, "programme", "Lantern", "loudness_lufs").unknown


def test_objects_in_a_ring_end(tmp_path):
    at = file_with(tmp_path, tones(*TECH_3341_CASE_6), bed(more="<audioObjectIDRef>AO_1001</audioObjectIDRef>"))
    assert value(at, "programme", "Lantern", "loudness_lufs") == pytest.approx(-23.0, abs=0.1)


def test_what_an_object_is_and_how_loud_its_legs_are(tmp_path):
    attrs = ' start="00:00:01.00000" duration="00:00:05.00000" importance="4"'
    at = file_with(tmp_path, tones(-20.0, None, None, -6.0, None, None), bed(attrs=attrs, more="<gain>0.5</gain>"))
    facts = {
        name: value(at, "object", "Bed", name)
        for name in (
            "kind",
            "legs",
            "importance",
            "start_s",
            "end_s",
            "past_end_s",
            "in_programme",
            "named",
            "contents",
        )
    }
    assert facts == {
        "kind": "speakers",
        "legs": (1, 2, 3, 4, 5, 6),
        "importance": 4,
        "start_s": 1.0,
        "end_s": 6.0,
        "past_end_s": 2.0,
        "in_programme": True,
        "named": True,
        "contents": ("Music",),
    }
    assert value(at, "object", "Bed", "peak_dbfs") == pytest.approx(-12.02, abs=0.05)
    assert value(at, "object", "Bed", "gain_db") == pytest.approx(-6.02, abs=0.01)


def test_a_folder_keeps_it_apart_from_the_stems(tmp_path):
    folder = tmp_path / "Lantern stems"
    legs = tones(*TECH_3341_CASE_6)
    write(folder, "film.wav", wave(legs, (b"chna", chna(*SURROUND)), (b"axml", bed().encode())))
    for name, hz in (("Bass.wav", 80.0), ("Keys.wav", 400.0)):
        write(folder, name, wave(sine(hz, SECONDS)[None]))
    session = read(folder)
    film = next(channel for channel in session.channels if channel.name == "film")
    assert (film.output, film.declared_role, film.legs) == (None, "delivery", 6)
    assert any("a delivery with legs of its own (ADM)" in note.text for note in session.notes)
    with Library(session, folder) as audio:
        at = SessionContext(session, audio=audio)
        assert value(at, "delivery", "film.wav", "stems_beside") == 2
        assert value(at, "delivery", "film.wav", "holds") == "1 programme, 1 content, 1 bed"
        assert value(at, "stem", "film.wav", "kind") == "delivery"
        assert "6 legs are not folded" in ask(at, "delivery", "film.wav", "judged_as_mix").unknown
    shut = SessionContext(session)
    assert isinstance(ask(shut, "delivery", "film.wav", "legs_unnamed"), Unknown)
    assert value(shut, "delivery", "film.wav", "stems_beside") == 2


def test_a_described_stereo_file_stays_a_stem(tmp_path):
    """Left and right are what they are, described or not."""
    folder = tmp_path / "stems"
    body = chna(*(entry(leg, f"ATU_0000000{leg}", f"AT_0001000{leg}_01", "AP_00010002") for leg in (1, 2)))
    write(folder, "Keys.wav", wave(tones(-20.0, -21.0), (b"chna", body)))
    write(folder, "Bass.wav", wave(sine(80.0, SECONDS)[None]))
    session = read(folder)
    assert {channel.declared_role for channel in session.channels} == {""}
    with Library(session, folder) as audio:
        at = SessionContext(session, audio=audio)
        assert value(at, "stem", "Keys.wav", "kind") == "part"
        assert value(at, "delivery", "Keys.wav", "judged_as_mix") is True
        assert value(at, "delivery", "Keys.wav", "legs_unnamed") == ()


def test_legs_that_are_not_named_once_are_told(tmp_path):
    entries = [*SURROUND[:4], SURROUND[0], entry(9, "ATU_00000005", "AT_00010005_01", "AP_00010003")]
    at = file_with(tmp_path, tones(*TECH_3341_CASE_6), bed(), chna(*entries))
    assert value(at, "delivery", "film.wav", "legs_unnamed") == (5, 6)
    assert value(at, "delivery", "film.wav", "numbers_twice") == ("ATU_00000001",)
    assert value(at, "delivery", "film.wav", "numbers_without_leg") == ("ATU_00000005",)
    assert value(at, "delivery", "film.wav", "numbers_missing") == ("ATU_00000006",)
    track_rate = '<audioTrackUID UID="ATU_00000001" sampleRate="44100"/></audioFormatExtended>'
    rated = file_with(tmp_path / "b", tones(*TECH_3341_CASE_6), bed().replace("</audioFormatExtended>", track_rate))
    assert value(rated, "delivery", "film.wav", "rates_otherwise") == (44_100.0,)
