"""What the names of stems and of their folders say; common practice, no source."""

from __future__ import annotations

import pytest

from mixlint.naming.stem_names import is_kind_of_folder, read_stem_names


def kinds(*names: str, title: str = "") -> dict[str, str]:
    return {name: said.kind for name, said in read_stem_names([f"{n}.wav" for n in names], title).items()}


def test_what_all_names_share_is_no_part() -> None:
    names = ["Song_v3_GTR L_24b.wav", "Song_v3_GTR R_24b.wav", "Song_v3_Lead Vox_24b.wav", "Song_v3_MIX_24b.wav"]
    said = read_stem_names(names)
    assert [one.part for one in said.values()] == ["GTR L", "GTR R", "Lead Vox", "MIX"]
    assert [one.kind for one in said.values()] == ["part", "part", "part", "mix"]
    assert {one.version for one in said.values()} == {3}


def test_shared_words_that_tell_a_part_stay() -> None:
    said = read_stem_names(["Gtr 1.wav", "Gtr 2.wav", "Gtr 3.wav"])
    assert [one.part for one in said.values()] == ["Gtr 1", "Gtr 2", "Gtr 3"]
    assert read_stem_names(["Drums.wav"])["Drums.wav"].part == "Drums"


def test_days_tempos_numbers_and_storage_go() -> None:
    said = read_stem_names(["01_Kick 2026-03-14 120bpm 48k24bit.wav", "02_Pad 2026-03-14 120bpm 48k24bit.wav"])
    assert [one.part for one in said.values()] == ["Kick", "Pad"]


@pytest.mark.parametrize(
    "name",
    [
        "Mix", "Mixdown 2026-03-14 48k24bit", "Full Mix", "Master", "Bounce", "Final Mix v12", "Mix Print", "Endmix",
        "Summe", "Mezcla", "ミックス", "2 Bus", "Lantern Master (44.1k 16bit)",
    ],
)  # fmt: skip
def test_the_whole_mix(name: str) -> None:
    assert read_stem_names([f"{name}.wav"], "Lantern")[f"{name}.wav"].kind == "mix"


@pytest.mark.parametrize(
    "name", ["Instrumental", "A Cappella", "TV Mix", "Mix no vox", "Lantern Karaoke v2", "Strumentale"]
)
def test_another_version_of_the_mix(name: str) -> None:
    assert read_stem_names([f"{name}.wav"], "Lantern")[f"{name}.wav"].kind == "version"


@pytest.mark.parametrize(
    "name",
    [
        "Drums", "Full Drum Mix", "Mixed Percussion", "Mix Gtr", "Print Drums", "Drum Bus", "Verb", "Vocal Master",
        "Other Song Mix", "Room", "FX",
    ],
)  # fmt: skip
def test_parts_are_no_mix(name: str) -> None:
    assert read_stem_names([f"{name}.wav"], "Lantern")[f"{name}.wav"].kind == "part"


def test_a_mix_to_compare_with() -> None:
    assert kinds("Rough Mix", "Referenz", "Drums") == {
        "Rough Mix.wav": "reference",
        "Referenz.wav": "reference",
        "Drums.wav": "part",
    }


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("Drums", True), ("02 Vocals", True), ("Stems", True), ("Mono Stems", True), ("Prints 24bit", True),
        ("Keys & Synths", True), ("Verbs", True), ("Song A", False), ("Lantern", False), ("Night Drums", False),
    ],
)  # fmt: skip
def test_folders_of_one_song_and_of_several(name: str, kind: bool) -> None:
    assert is_kind_of_folder(name) is kind
