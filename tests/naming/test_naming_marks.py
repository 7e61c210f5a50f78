"""What names say besides the part. The cases are common practice, no source, where none is named."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.naming import (
    SHIPPED,
    Vocabulary,
    ends_song,
    is_chorus,
    is_direct,
    is_dry,
    is_frozen,
    is_instrument_audio,
    is_placeholder,
    is_print,
    is_take_of,
    is_untitled,
    reaches_low,
    section_kind,
    take_of,
    takes_turns,
    without_print_number,
    without_print_words,
    words_without_print,
)
from mixlint.naming.house_words import house_vocabulary
from mixlint.naming.word_files import read_word_file


@pytest.mark.parametrize(
    "name", ["", "  ", "7", "#3", "Audio 3", "AUDIO_TRACK 1", "spår", "Piste 04", "FX 2", "Raita 3", "트랙 1", "音轨 2"]
)
def test_a_name_that_a_program_gave_is_a_placeholder(name: str) -> None:
    assert is_placeholder(name)


@pytest.mark.parametrize("name", ["FX", "Audio Gtr", "New Verse", "Track Suit Vox", "Kick", "Stopa"])
def test_a_name_that_somebody_chose_is_none(name: str) -> None:
    assert not is_placeholder(name)


@pytest.mark.parametrize("title", ["", "Untitled", "New Project 2", "Sin título", "Namnlös", "Song_03", "Mix"])
def test_a_title_that_a_program_gave(title: str) -> None:
    assert is_untitled(title)


@pytest.mark.parametrize("title", ["12", "Song for Ada", "Heron on the Slipway", "New Year"])
def test_a_title_of_its_own(title: str) -> None:
    assert not is_untitled(title)


@pytest.mark.parametrize(
    ("name", "says", "without"),
    [
        ("Plate (print)", True, "plate"),
        ("Plate_Print", True, "plate"),
        ("PRT Hall 2", True, "hall 2"),
        ("Sprint", False, "sprint"),
        ("Piano audio", False, "piano audio"),
    ],
)
def test_a_print_bears_the_name_of_what_it_prints(name: str, says: bool, without: str) -> None:
    assert is_print(name) is says
    assert without_print_words(name) == without


@pytest.mark.parametrize(
    ("name", "frozen", "audio"),
    [
        ("Pad frozen", True, False),
        ("PAD_FREEZE", True, False),
        ("Piano audio", False, True),
        ("Unfreeze", False, False),
    ],
)
def test_words_for_what_was_rendered(name: str, frozen: bool, audio: bool) -> None:
    assert (is_frozen(name), is_instrument_audio(name)) == (frozen, audio)


@pytest.mark.parametrize(
    ("name", "without"),
    [
        ("Pad Print 2", "pad print"),
        ("Pad (bounce #3)", "pad (bounce"),
        ("Gtr 2 print", "gtr 2 print"),
        ("Pad 2", "pad 2"),
    ],
)
def test_the_number_of_a_print_is_not_that_of_the_part(name: str, without: str) -> None:
    assert without_print_number(name) == without


@pytest.mark.parametrize(
    ("name", "direct"), [("Bass DI", True), ("Gtr_direct", True), ("Dido", False), ("Bass Amp", False)]
)
def test_a_direct_signal_is_told_by_its_name(name: str, direct: bool) -> None:
    assert is_direct(name) is direct


@pytest.mark.parametrize(
    ("name", "chorus"),
    [
        ("Chorus", True),
        ("CHORUS 2", True),
        ("Last Chorus", True),
        ("3. Refrain", True),
        ("Refräng", True),
        ("Pre-Chorus", False),
        ("Chorus Pedal On", False),
        ("Verse 2", False),
        ("", False),
    ],
)
def test_a_marker_at_a_chorus(name: str, chorus: bool) -> None:
    assert is_chorus(name) is chorus


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Chorus 2", ("chorus", 2)),
        ("Last Chorus", ("chorus", None)),
        ("Refrão final", ("chorus", None)),
        ("V2 Joost", ("v", 2)),
        ("verse2", ("verse", 2)),
        ("Verse III (her)", ("verse", 3)),
        ("HK1", ("hk", 1)),
        ("Last vamp", ("vamp", None)),
        ("Vamp (up a step)", ("vamp", None)),
        ("edit T5", ("edit t5", None)),
        ("", ("", None)),
    ],
)
def test_what_kind_of_section_a_marker_begins(name: str, kind: tuple[str, int | None]) -> None:
    assert section_kind(name) == kind


def test_the_audio_of_an_instrument_is_its_print() -> None:
    assert without_print_words("Piano MIDI", of_instrument=True) == without_print_words("Piano", of_instrument=True)
    assert without_print_words("Piano_audio", of_instrument=True) == without_print_words("Piano", of_instrument=True)


def test_a_part_without_a_number_is_one_of_its_takes() -> None:
    part = take_of("Lead Vox take 2")
    assert part is not None
    assert is_take_of("LEAD  VOX", part)
    assert is_take_of("Lead Vox_tk03", part)
    assert not is_take_of("Lead Vox Dbl take 1", part)


@pytest.mark.parametrize(
    ("name", "ends"),
    [
        ("End", True),
        ("— Ende —", True),
        ("End of song", True),
        ("b62 END print", True),
        ("Outro", False),
        ("Weekend", False),
    ],
)
def test_a_marker_says_where_the_song_ends(name: str, ends: bool) -> None:
    assert ends_song(name) is ends


@pytest.mark.parametrize(("name", "dry"), [("Vox_dry", True), ("DRY Gtr", True), ("Laundry", False), ("Sec Vox", True)])
def test_a_stem_says_that_it_is_dry(name: str, dry: bool) -> None:
    assert is_dry(name) is dry


HOUSE = """
[mark.placeholder]
en = 'slot'
[mark.untitled]
en = 'heft'
[mark.print]
en = 'pressed'
[mark.take]
en = 'pass, gång'
[mark.layer]
en = 'blanket'
[mark.song-end]
en = 'lights out'
[mark.dry]
en = 'bone'
"""


@pytest.fixture
def ours(tmp_path: Path) -> Vocabulary:
    path = tmp_path / "ours.toml"
    path.write_text(HOUSE, encoding="utf-8")
    faults: list = []
    file = read_word_file(path, path.name, faults)
    assert file is not None
    found = house_vocabulary([(file,)], faults)
    assert faults == []
    return found


def test_a_house_adds_its_own(ours: Vocabulary) -> None:
    for words, known in ((ours, True), (SHIPPED, False)):
        assert is_placeholder("Slot 3", words) is known
        assert is_untitled("Heft 12", words) is known
        assert is_print("Plate pressed", words) is known
        assert (take_of("Vox gång 2", words) == "vox") is known
        assert ends_song("Lights Out", words) is known
        assert is_dry("Gtr bone", words) is known
        assert (take_of("Vox blanket take 2", words) is None) is known


def test_what_mixlint_knows_stays(ours: Vocabulary) -> None:
    assert is_placeholder("Audio 3", ours)
    assert take_of("Vox take 2", ours) == "vox"


@pytest.mark.parametrize("name", ["Baritone Gtr", "Frame Drum", "EGtr drop D", "Taiko 2", "Big_Drum", "Gran Cassa"])
def test_a_name_says_that_a_part_reaches_low(name: str) -> None:
    assert reaches_low(name)


@pytest.mark.parametrize("name", ["Shaker", "Slow Gtr", "Flow Pad", "Raindrops", "Tambourine"])
def test_a_word_inside_another_does_not(name: str) -> None:
    assert not reaches_low(name)


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("Adlib 2", True),
        ("Ad-Lib L", True),
        ("AdLibs", True),
        ("Answer Vox", True),
        ("Lead Vox", False),
        ("Callum", False),
    ],
)
def test_a_name_says_that_a_part_takes_turns(name: str, told: bool) -> None:
    assert takes_turns(name) is told


def test_a_print_and_its_source_have_their_words_in_common() -> None:
    assert words_without_print("Drum Bus") == words_without_print("Drums (bounce)") == {"drum"}
    assert words_without_print("Bass") == {"bass"}
    assert words_without_print("Gtr 2 print") != words_without_print("Gtr 1")


@pytest.mark.parametrize(
    ("name", "says"),
    [("主唱导出", True), ("보컬 바운스", True), ("보컬바운스", True), ("ZPĚV vyexportováno", True), ("主唱", False)],
)
def test_a_word_is_found_within_a_run_without_spaces(name: str, says: bool) -> None:
    assert is_print(name) is says


@pytest.mark.parametrize("name", ["KONEC", "Loppu", "ΤΕΛΟΣ", "Bitiş", "끝", "结束"])
def test_the_end_of_the_song_in_more_languages(name: str) -> None:
    assert ends_song(name)


@pytest.mark.parametrize("name", ["Refrén 2", "Kertosäe", "ΡΕΦΡΕΝ", "Nakarat 1", "후렴 2", "副歌"])
def test_a_chorus_in_more_languages(name: str) -> None:
    assert is_chorus(name)
