"""Runs without spaces: Japanese, Korean and Chinese names taken apart (common practice, no source)."""

from __future__ import annotations

import re
import unicodedata

import pytest

from mixlint.naming import SHIPPED, read_roles
from mixlint.naming.fold import tokens
from mixlint.naming.runs import any_word, is_unspaced, pieces_of_run
from mixlint.naming.splitting import words
from mixlint.session import Channel, Session


@pytest.mark.parametrize("char", "主樂々キひー킥힣")
def test_scripts_without_spaces(char: str) -> None:
    """By their names in the Unicode Standard."""
    assert is_unspaced(char)
    assert unicodedata.name(char).startswith(("CJK", "IDEOGRAPHIC", "KATAKANA", "HIRAGANA", "HANGUL"))


@pytest.mark.parametrize("char", "aßěя5ηİ ")
def test_scripts_with_spaces(char: str) -> None:
    assert not is_unspaced(char)


@pytest.mark.parametrize(
    ("run", "pieces"),
    [
        ("主唱左", ["主唱", "左"]),
        ("新主唱", ["新", "主唱"]),
        ("킥인", ["킥", "인"]),
        ("킥보드", ["킥보드"]),
        ("남보컬", ["남", "보컬"]),
        ("主歌人声", ["主歌人声"]),
    ],
)
def test_pieces_are_the_longest_known_words(run: str, pieces: list[str]) -> None:
    """And together they are the run; a syllable alone is a word only where nothing is left over."""
    known = {"主唱", "左", "킥", "인", "보컬"}
    found = pieces_of_run(run, known.__contains__)
    assert [piece for piece, _ in found] == pieces
    assert [is_word for _, is_word in found] == [piece in known for piece in pieces]


@pytest.mark.parametrize(
    ("name", "concepts"),
    [
        ("主唱左", ["lead-vocal"]),
        ("남보컬2", ["vocal"]),
        ("드럼룸", ["drum-room"]),
        ("어쿠스틱기타 R", ["acoustic-guitar"]),
        ("钢琴左声道", ["keys"]),
        ("脚步声", ["sound-effects"]),
        ("ドラムルーム", ["drum-room"]),
        ("킥보드", []),
    ],
)
def test_words_of_a_run(name: str, concepts: list[str]) -> None:
    assert [concept for word in words(name, SHIPPED) for concept in word.concepts] == concepts


def test_a_run_ends_where_the_script_changes() -> None:
    assert [token.plain for token in tokens("베이스DI 2左Bass")] == ["베이스", "di", "2", "左", "bass"]


def test_a_word_of_a_pattern_stands_alone_or_within_a_run() -> None:
    found = re.compile(any_word(["print", "导出", "印"], r"\b", r"\b", within=2))
    assert [found.search(text) is not None for text in ("a print", "sprint", "主唱导出", "印", "印象")] == [
        True,
        False,
        True,
        True,
        False,
    ]
    assert re.search(any_word([], r"\b", r"\b"), "anything") is None


def test_what_is_spoken_lies_in_a_folder_of_voices_and_goes_out_as_speech() -> None:
    for folder, bus in (("Voices", "Dialogue"), ("Hlasy", "DIALOG")):
        speaker = Channel(id="it", name="Anežka", kind="track", folder=(folder,), output="bus")
        group = Channel(id="bus", name=bus, kind="group")
        assert read_roles(Session(channels=(speaker, group)))["it"].word == "speech"
