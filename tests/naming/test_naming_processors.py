"""What processors do: against labelled names, and against the open standards' category words."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint.naming import read_processor
from mixlint.session import Insert

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
    assert reading.word == "compressor"
    assert reading.grounds == ("a built-in device of this type",)


def test_house_table_beats_everything_and_its_first_fit_wins() -> None:
    insert = Insert(name="Big ECHO 2", kind="compressor", categories=("reverb",))
    reading = read_processor(insert, {"big e*": "distortion", "*echo*": "delay"})
    assert reading.word == "distortion"
