"""Names taken apart. The names are common practice, no source: what engineers write together, and what they add."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.naming import SHIPPED, pair_kind, read_roles, side_of
from mixlint.naming.splitting import pieces, taken_apart, words
from mixlint.session import Channel, Clip, Session


@pytest.mark.parametrize(
    ("name", "texts"),
    [
        ("KickIn", ["kick", "in"]),
        ("SnareDown", ["snare", "down"]),
        ("snaredown", ["snare", "down"]),
        ("BassDI", ["bass", "di"]),
        ("LeadVoxDT", ["lead", "vox", "dt"]),
        ("GtrL", ["gtr", "l"]),
        ("LGtr", ["l", "gtr"]),
        ("OHR", ["oh", "r"]),
        ("AGL", ["ag", "l"]),
        ("Gtr2", ["gtr", "2"]),
        ("Snare Top K57", ["snare", "top", "k57"]),
        ("01_Kick.wav", ["kick"]),
        ("Overhead", ["overhead"]),
        ("Sampler", ["sampler"]),
        ("主唱左", ["主唱", "左"]),
        ("", []),
    ],
)
def test_pieces_stand_where_a_writer_put_one_beside_another(name: str, texts: list[str]) -> None:
    assert [piece.text for piece in pieces(name, SHIPPED)] == texts


@pytest.mark.parametrize(
    ("name", "rest", "marks"),
    [
        ("Lead Vox take 3", "Lead Vox", {"take": {"3"}}),
        ("Gtr_T02", "Gtr", {"take": {"2"}}),
        ("Drum T2", "Drum T2", {}),
        ("Tom T2 floor", "Tom T2 floor", {}),
        ("Gtr_v2_48k", "Gtr", {"version": {"2"}, "storage": {"48k"}}),
        ("Kick_2024-11-03.wav", "Kick", {"suffix": {".wav"}, "date": {"2024-11-03"}}),
        ("Loop 92bpm", "Loop", {"tempo": {"92bpm"}}),
        ("Rev 2", "Rev 2", {}),
        ("808", "808", {}),
        ("48k", "48k", {}),
    ],
)
def test_marks_come_apart_from_the_name(name: str, rest: str, marks: dict[str, set[str]]) -> None:
    found = taken_apart(name, SHIPPED)
    assert " ".join(found.rest.replace("_", " ").split()) == rest
    assert {kind: set(said) for kind, said in found.marks.items()} == marks


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("Gtr T1", "Gtr T2"),
        ("Gtr_v1", "Gtr_v2"),
        ("Vox Verse 1", "Vox Verse 2"),
        ("Gtr 6 str", "Gtr 12 str"),
        ("Gtr 44.1k", "Gtr 48k"),
        ("Piano left hand", "Piano right hand"),
        ("Tom 1", "Tom 3"),
        ("LeadVox1DT1", "LeadVox2DT1"),
    ],
)
def test_what_differs_in_a_mark_or_a_count_of_something_else_is_no_pair(one: str, two: str) -> None:
    assert pair_kind(one, two) is None
    assert pair_kind(two, one) is None


@pytest.mark.parametrize(
    ("one", "two", "kind"),
    [
        ("KickIn", "KickOut", "microphones"),
        ("SnareUp", "SnareDown", "microphones"),
        ("BassDI", "BassAmp", "microphones"),
        ("Snare Top K57", "Snare Bot M21", "microphones"),
        ("GtrMic1", "GtrMic2", "microphones"),
        ("Gtr2DI", "Gtr2Mic1", "microphones"),
        ("LeadVox", "LeadVoxDT1", "doubles"),
        ("OH_L.wav", "OH_R.wav", "sides"),
    ],
)
def test_names_written_together_pair_as_those_apart(one: str, two: str, kind: str) -> None:
    assert pair_kind(one, two) == kind
    assert pair_kind(two, one) == kind


def _role(name: str, **more: object) -> str | None:
    clips = (Clip(start_s=0.0, end_s=9.0),)
    channel = Channel(id="it", name=name, kind="track", plays=("audio",), clips=clips, output="m", **more)  # type: ignore[arg-type]
    mix = Channel(id="m", name="Mix Bus", kind="master", output=None)
    return read_roles(Session(channels=(channel, mix)))["it"].word


@pytest.mark.parametrize("initials", ["TB", "SC", "TC", "GD"])
@pytest.mark.parametrize(("name", "role"), [("Kick", "kick"), ("Piano", "keys"), ("Cello", "strings")])
def test_initials_never_outweigh_a_word(name: str, role: str, initials: str) -> None:
    """A recorded track that goes on to the mix is no talkback because somebody signed it."""
    assert _role(f"{name} {initials}") == role


@pytest.mark.parametrize("mark", ["take 2", "t3", "v2", "48k", "24bit", "2024-11-03", "K87"])
@pytest.mark.parametrize(("name", "role"), [("Kick", "kick"), ("Lead Vox", "lead-vocal"), ("Cello", "strings")])
def test_marks_change_no_role(name: str, role: str, mark: str) -> None:
    assert _role(f"{name} {mark}") == role
    assert _role(f"{name}_{mark}".replace(" ", "_")) == role


@given(st.text(max_size=60))
def test_any_name_comes_apart_without_losing_its_letters(name: str) -> None:
    """Whatever stands in a name: pieces are never empty, and what is left of it holds a letter if the name does."""
    found = pieces(name, SHIPPED)
    assert all(piece.text for piece in found)
    assert any(char.isalnum() for char in taken_apart(name, SHIPPED).rest) == any(char.isalnum() for char in name)
    assert words(name, SHIPPED) == words(name, SHIPPED)
    assert side_of(name) in (None, "left", "right")
