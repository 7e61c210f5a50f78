"""The word files that come with mixlint: of one form, in order, without conflicts, and with nothing nobody reads."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

import mixlint.naming
from mixlint import resources
from mixlint.errors import Fault, RulebookError
from mixlint.naming import ROLES, SHIPPED, Vocabulary
from mixlint.naming.fold import strip_accents
from mixlint.naming.house_words import concepts
from mixlint.naming.word_files import SECTIONS, listed, read_word_file, rows, shipped_file
from mixlint.naming.word_index import CHANNEL_SECTIONS, FILES, gathered, languages_in, looked_up_as
from mixlint.session.processor import PROCESSOR_KINDS

FOLDER = resources.folder("rules") / "words"
STEMS = sorted(path.stem for path in FOLDER.glob("*.toml"))
CODES = languages_in([shipped_file("languages")])
WORDS = ("part", "playing", "strip", "processor", "side", "pair", "mark")
"""Sections whose texts are words by language."""


def lines(stem: str, *sections: str) -> list[tuple[str, str, list[str]]]:
    """Section, key and words of every text of a file."""
    file = shipped_file(stem)
    return [(s, ".".join(keys), listed(text)) for s in sections for keys, text in file.texts(s)]


def test_there_are_the_files_that_are_read_and_no_others() -> None:
    assert set(STEMS) == {stem for stems in FILES.values() for stem in stems} | {"languages", "precision", "roles"}


@pytest.mark.parametrize("stem", STEMS)
def test_a_shipped_file_is_valid_and_says_how_it_is_read(stem: str) -> None:
    faults: list[Fault] = []
    assert read_word_file(FOLDER / f"{stem}.toml", stem, faults, shipped=True) is not None, faults
    text = (FOLDER / f"{stem}.toml").read_text(encoding="utf-8")
    head = text.partition("\n[")[0]
    assert "How it is read" in head
    assert ("=" in "".join(word for _, _, words in lines(stem, *WORDS) for word in words)) <= (
        "An = before a word" in head
    )


def test_shipped_files_hold_no_conflict() -> None:
    """One word of one language stands for one part, one kind of processor, one side; a concept stands in one file."""
    faults: list[Fault] = []
    for section, stems in FILES.items():
        gathered([shipped_file(stem) for stem in stems], (section,), CODES, faults)
    assert faults == []


@pytest.mark.parametrize("stem", STEMS)
def test_words_are_written_as_they_are_read(stem: str) -> None:
    """Shipped words are looked up as they stand: small letters, one space, nothing that a name is rid of."""
    for section, key, words in lines(stem, *WORDS):
        for word in words:
            bare = word.removeprefix("=")
            assert strip_accents(bare) == looked_up_as(bare, section), f"{key}: {word}"
            assert bare == bare.lower() == " ".join(bare.split()), f"{key}: {word}"


@pytest.mark.parametrize("stem", STEMS)
def test_words_stand_in_order_and_once(stem: str) -> None:
    """In the order of the alphabet, accents aside."""
    for _, key, words in lines(stem, *WORDS, "side-place", "language-clue", "settled", "category"):
        keys = [(strip_accents(word.removeprefix("=")), word[0] != "=") for word in words]
        assert len(keys) == len(set(keys)), key
        assert keys == sorted(keys), key


@pytest.mark.parametrize("stem", STEMS)
def test_languages_stand_in_the_order_of_the_languages_file(stem: str) -> None:
    for section in set(WORDS) & set(shipped_file(stem).sections):
        for concept, under in shipped_file(stem).sections[section].items():
            assert list(under) == [code for code in CODES if code in under], concept


ROOM = Path(mixlint.naming.__file__).parent
NOT_ALONE = {"time"}
"""Concepts that only say that a word is known, so that it is not taken apart or asked about."""


def test_every_concept_is_read_by_the_room() -> None:
    """A concept that no reading speaks of would be words for nothing."""
    spoken = set(re.findall(r'"([a-z0-9-]+)"', "".join(p.read_text(encoding="utf-8") for p in ROOM.glob("*.py"))))
    for section in (*CHANNEL_SECTIONS, "side", "pair"):
        assert set(concepts(section)) - spoken <= NOT_ALONE, section


def test_kinds_of_processors_are_those_of_the_session() -> None:
    file, kinds = shipped_file("processors"), set(PROCESSOR_KINDS)
    assert set(file.sections["processor"]) <= kinds
    assert set(shipped_file("categories").sections["category"]) <= kinds
    assert {kind for row in SHIPPED.processors.outranks for kind in row} <= kinds
    assert {len(row) for row in SHIPPED.processors.outranks} == {2}
    assert {kind for settled in SHIPPED.processors.settled.values() for kind in settled.values()} <= kinds


def test_what_is_ambiguous_is_a_role_and_stands_nowhere_else() -> None:
    channels, processors = SHIPPED.channels, SHIPPED.processors
    assert {role for roles in channels.roles.values() for role in roles} <= set(ROLES)
    assert not channels.roles.keys() & channels.phrases.keys()
    assert not processors.doubts.keys() & processors.phrases.keys()
    assert {word for settled in processors.settled.values() for word in settled} <= processors.doubts.keys()


def test_opposites_come_in_pairs() -> None:
    assert {len(row) for row in SHIPPED.pairs.microphones} == {2}
    assert all(len(row) == 2 and not set(row) & SHIPPED.sides.last for row in SHIPPED.sides.letters.values())
    assert SHIPPED.sides.letters.keys() <= set(CODES)
    assert SHIPPED.sides.not_first | SHIPPED.sides.last <= SHIPPED.sides.sides.keys()


@pytest.mark.parametrize(
    ("stem", "line", "said"),
    [
        ("languages", "links = ", "compound.links: it is missing (put it back)"),
        ("sides", "last = ", "side-place.last: it is missing (put it back)"),
        ("processors", "fr = ", "processor.gate.xx: there is no language xx"),
        ("drums", "", "part.kick: kick stands in rules/words/drums.toml already (put the words there)"),
        ("voices", "[part.vocal]", "line "),
    ],
)
def test_a_damaged_shipped_file_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stem: str, line: str, said: str
) -> None:
    """Whoever edits the shipped files sees the same faults as a house does."""
    shutil.copytree(FOLDER, tmp_path / "words")
    file = tmp_path / "words" / f"{stem}.toml"
    text = file.read_text(encoding="utf-8")
    if line == "":
        (tmp_path / "words" / "voices.toml").write_text("[part.kick]\nen = 'silo'\n", encoding="utf-8")
    elif line == "fr = ":
        file.write_text(text.replace("fr = 'porte, porte de bruit'", "xx = 'porte'"), encoding="utf-8")
    elif line.startswith("["):
        file.write_text(text.replace(line, "[part.vocal"), encoding="utf-8")
    else:
        file.write_text(re.sub(f"^{line}.*\n", "", text, flags=re.MULTILINE), encoding="utf-8")
    monkeypatch.setattr("mixlint.naming.word_files.folder", lambda _: tmp_path)
    shipped_file.cache_clear()
    damaged = Vocabulary()
    try:
        with pytest.raises(RulebookError) as caught:
            _ = (damaged.channels, damaged.processors, damaged.sides)
    finally:
        shipped_file.cache_clear()
    assert [str(fault).partition(": ")[2].startswith(said) for fault in caught.value.faults] == [True]


def test_every_section_is_used_by_a_shipped_file() -> None:
    """All but that of roles, which are a house's own; the handbook shows one."""
    assert {section for stem in STEMS for section in shipped_file(stem).sections} == set(SECTIONS) - {"role"}


def test_words_may_stand_between_commas_or_on_lines_of_their_own() -> None:
    assert listed("kick, kick drum,\n bd\nkik,\n") == ["kick", "kick drum", "bd", "kik"]
    assert rows("top / bottom,\ni / ii / iii") == [("top", "bottom"), ("i", "ii", "iii")]
