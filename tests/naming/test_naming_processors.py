"""What processors do: against labelled names, and against the open standards' category words."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest

from mixlint.naming import read_processor
from mixlint.session import Insert, ProcessorKind

LINES = [
    (*line.split("\t"), "")[:3]
    for line in (Path(__file__).parent / "processor_names.tsv").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]


@pytest.mark.parametrize(("label", "name", "context"), LINES, ids=lambda text: text or "-")
def test_labelled_processor(label: str, name: str, context: str) -> None:
    """Common practice, no source, for names; the category words are those of the standards named in the list."""
    on = context.removeprefix("on=") if context.startswith("on=") else None
    categories = tuple(context.split(",")) if context and on is None else ()
    reading = read_processor(Insert(name=name, categories=categories), on=on)  # type: ignore[arg-type]
    assert reading.word == (None if label == "ask" else label), reading
    assert reading.grounds
    assert all(reading.grounds)


def test_declared_kind_beats_the_name() -> None:
    reading = read_processor(Insert(name="Echo", kind="compressor", ground="a built-in device of this type"))
    assert (reading.word, reading.confidence) == ("compressor", 1.0)
    assert reading.grounds == ("a built-in device of this type",)


def test_house_table_beats_everything_and_its_first_fit_wins() -> None:
    insert = Insert(name="Big ECHO 2", kind="compressor", categories=("reverb",))
    reading = read_processor(insert, {"big e*": "distortion", "*echo*": "delay"})
    assert (reading.word, reading.confidence) == ("distortion", 1.0)


def test_every_word_of_the_tables_is_a_processor_kind() -> None:
    from mixlint.naming.tables.categories import CATEGORIES
    from mixlint.naming.tables.processors import OUTRANKS, PROCESSORS, SETTLED_ON

    kinds = set(get_args(ProcessorKind))
    assert set(PROCESSORS) <= kinds
    assert set(CATEGORIES.values()) <= kinds
    assert {k for pair in OUTRANKS for k in pair} <= kinds
    assert {kind for _, kind in SETTLED_ON.values()} <= kinds


def test_no_word_is_listed_for_two_processor_kinds() -> None:
    from mixlint.naming.tables.processors import AMBIGUOUS_PROCESSORS, PROCESSORS

    home: dict[str, str] = {}
    for kind, languages in PROCESSORS.items():
        for words in languages.values():
            for word in words.split(", "):
                assert home.setdefault(word, kind) == kind, f"{word!r} is under {home[word]} and {kind}"
                assert word not in AMBIGUOUS_PROCESSORS
