"""What must hold for every name."""

from __future__ import annotations

import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.naming import (
    FAMILIES,
    ROLES,
    Reading,
    family_of,
    pair_kind,
    read_processor,
    read_roles,
    side_of,
    stem_of,
)
from mixlint.session import Channel, Insert, Send, Session
from mixlint.session.processor import PROCESSOR_KINDS

WORDS = [
    "kick",
    "snare",
    "top",
    "bot",
    "oh",
    "l",
    "r",
    "gtr",
    "lead",
    "vox",
    "bass",
    "di",
    "amp",
    "piano",
    "verb",
    "plate",
    "delay",
    "bus",
    "rhythm",
    "ac",
    "acoustic",
    "egtr",
    "room",
    "drum",
    "bgv",
    "choir",
    "synth",
    "pad",
    "strings",
    "brass",
    "click",
    "guide",
    "master",
    "print",
    "gitarre",
    "voix",
    "bateria",
    "chitarra",
    "violao",
    "hall",
    "echo",
    "double",
    "high",
    "low",
    "mic",
    "dist",
    "clean",
    "перкуссия",
    "бас",
    "ドラム",
    "アコギ",
    "perc",
    "loop",
]
KINDS = st.sampled_from(["track", "group", "return", "master", "vca"])


def role(name: str, kind: str = "track", **more: object) -> Reading:
    """The reading of one channel alone in a session."""
    return read_roles(Session(channels=(Channel(id="it", name=name, kind=kind, **more),)))["it"]  # type: ignore[arg-type]


phrases = st.lists(st.sampled_from(WORDS), min_size=1, max_size=4)


@given(phrases, KINDS)
def test_case_does_not_count(words: list[str], kind: str) -> None:
    name = " ".join(words)
    assert role(name, kind).word == role(name.upper(), kind).word == role(name.title(), kind).word


@given(phrases, KINDS, st.sampled_from(["_", "-", ".", " / ", " - ", "  "]))
def test_separators_do_not_count(words: list[str], kind: str, between: str) -> None:
    assert role(" ".join(words), kind).word == role(between.join(words), kind).word


@given(phrases, KINDS, st.integers(1, 99), st.sampled_from(["_", " ", "-", ". "]))
def test_leading_order_numbers_do_not_count(words: list[str], kind: str, number: int, between: str) -> None:
    """But for the numbers that are part of a word: ``2 bus``."""
    if (number, words[0]) == (2, "bus"):
        return
    assert role(" ".join(words), kind).word == role(f"{number:02d}{between}{' '.join(words)}", kind).word


@given(st.text(max_size=80), KINDS)
def test_house_table_wins_over_every_name_and_kind(name: str, kind: str) -> None:
    session = Session(channels=(Channel(id="it", name=name, kind=kind),))  # type: ignore[arg-type]
    reading = read_roles(session, {"*": "keys", "?*": "synth"})["it"]
    assert reading.word == "keys"
    assert read_processor(Insert(name=name, kind="gate"), {"*": "delay"}).word == "delay"


@given(st.text(max_size=300), st.text(max_size=60), KINDS)
def test_any_text_gives_a_reading_with_grounds(name: str, other: str, kind: str) -> None:
    channels = (
        Channel(
            id="it",
            name=name,
            kind=kind,  # type: ignore[arg-type]
            folder=(other,),
            parent="up",
            output="up",
            sends=(Send(to="up"),),
            inserts=(Insert(name=other),),
        ),
        Channel(id="up", name=other, kind="group", parent="it"),
    )
    for reading in read_roles(Session(channels=channels)).values():
        assert reading.word is None or reading.word in ROLES
        assert reading.grounds
        assert all(reading.grounds)
    processor = read_processor(Insert(name=name, categories=(other,)))
    assert processor.word is None or processor.word in PROCESSOR_KINDS
    assert processor.grounds
    assert side_of(name) in ("left", "right", None)
    assert isinstance(stem_of(name), str)
    assert pair_kind(name, other) == pair_kind(other, name)
    assert pair_kind(name, name) is None


@pytest.mark.parametrize("text", ["drum", "ab", "ドラ", "aB", "1/8 ", "gitarre", "é", "-", "x1", "ﷺ"])
def test_time_is_bounded_on_a_name_of_ten_thousand_characters(text: str) -> None:
    """Far under a second, whatever the name is made of."""
    name = (text * 10_000)[:10_000]
    begun = time.perf_counter()
    role(name)
    read_processor(Insert(name=name))
    side_of(name)
    stem_of(name)
    pair_kind(name, name[1:])
    assert time.perf_counter() - begun < 1.0


def test_families() -> None:
    assert family_of("acoustic-guitar") == family_of("electric-guitar") == "guitars"
    assert family_of("lead-vocal") == "vocals"
    assert family_of("no such role") is None
    assert {family_of(r) for r in ROLES} == set(FAMILIES)


def test_what_all_tracks_share_is_left_out() -> None:
    """A song title in front of every stem tells nothing about the part."""
    names = [
        "Bass Culture 120bpm Kick",
        "Bass Culture 120bpm Snare",
        "Bass Culture 120bpm Gtr L",
        "Bass Culture 120bpm Pno",
    ]
    session = Session(channels=tuple(Channel(id=n, name=n, kind="track") for n in names))
    assert [r.word for r in read_roles(session).values()] == ["kick", "snare", "guitar", "keys"]


def test_what_all_tracks_share_is_kept_when_it_is_all_they_tell() -> None:
    session = Session(channels=tuple(Channel(id=str(n), name=f"Gtr {n}", kind="track") for n in range(1, 6)))
    assert {r.word for r in read_roles(session).values()} == {"guitar"}


def test_a_lone_voice_leads_and_two_do_not() -> None:
    def words(*names: str) -> list[str | None]:
        session = Session(channels=tuple(Channel(id=n, name=n, kind="track") for n in names))
        return [r.word for r in read_roles(session).values()]

    assert words("Kick", "Vox", "BGV") == ["kick", "lead-vocal", "backing-vocals"]
    assert words("Vox 1", "Vox 2") == ["vocal", "vocal"]
    assert words("Vox", "Lead Vox") == ["vocal", "lead-vocal"]


def test_parent_and_output_names_count_like_folders() -> None:
    group = Channel(id="g", name="Guitars", kind="group")
    for more in ({"parent": "g"}, {"output": "g"}):
        lead = Channel(id="it", name="Lead", kind="track", **more)  # type: ignore[arg-type]
        assert read_roles(Session(channels=(lead, group)))["it"].word == "electric-guitar"


@pytest.mark.parametrize("name", ["Bass Trumpet Synth", "Synth Horns Bass", "Pad, Sax, Bass"])
def test_parts_that_give_way_in_a_ring_are_asked_about(name: str) -> None:
    """Bass gives way to winds, winds to a synthesiser, a synthesiser to bass: none of the three is the answer."""
    reading = role(name)
    assert reading.word is None
    assert "could be" in reading.grounds[0]


@pytest.mark.parametrize("on", [True, False])
def test_an_effect_tells_what_its_return_is_for_even_when_switched_off(on: bool) -> None:
    """A return whose reverb is bypassed is still the reverb return, and passes dry signal."""
    assert role("Aux 1", "return", inserts=(Insert(name="Plate", on=on),)).word == "reverb-return"


def test_a_strip_fed_by_sends_alone_with_an_effect_is_a_return() -> None:
    """Some exports declare every bus a group."""
    voice = Channel(id="v", name="Vox", kind="track", output="m", sends=(Send(to="it"),))
    aux = Channel(id="it", name="Bus 5", kind="group", output="m", inserts=(Insert(name="Delay"),))
    master = Channel(id="m", name="Master", kind="master", output=None)
    drums = Channel(id="d", name="Kick", kind="track", output="it")
    assert read_roles(Session(channels=(voice, aux, master)))["it"].word == "delay-return"
    assert read_roles(Session(channels=(voice, aux, master, drums)))["it"].word == "group"


def test_the_house_names_of_processors_tell_what_a_return_is_for() -> None:
    session = Session(channels=(Channel(id="it", name="Aux", kind="return", inserts=(Insert(name="Nordwind"),)),))
    assert read_roles(session)["it"].word == "effect-return"
    assert read_roles(session, processors={"nord*": "delay"})["it"].word == "delay-return"
