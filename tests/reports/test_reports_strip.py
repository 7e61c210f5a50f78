"""The place of a channel drawn with characters: read back from the line, it is where the channel stands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportsamples import HOSTILE_NAME

from mixlint.analysis.context import SessionContext
from mixlint.facts.channel_sheet import MixPlace, Sheet, SheetRow, sheet
from mixlint.importers import read
from mixlint.reports.plain import Page, columns, encodable, neutral
from mixlint.reports.sheet import sheet_text
from mixlint.reports.strip import MARKS, place_line, place_text
from mixlint.session import Unknown

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
DRAWN = {mark for _, *marks in MARKS for mark in marks}
places = st.floats(min_value=-100.0, max_value=100.0)


def mono(at: float, level_db: float = 0.0, *, wet: bool = False) -> MixPlace:
    return MixPlace(at=at, left=at, right=at, level_db=level_db, wet=wet)


@given(places, st.integers(min_value=10, max_value=40))
def test_the_mark_stands_where_the_channel_does(at: float, half: int) -> None:
    """To half a column; and its mirror image on the other side as far from the centre."""
    width = 2 * half + 1
    line = place_line(mono(at), width)
    assert len(line) == columns(line) == width
    (column,) = (n for n, sign in enumerate(line) if sign in DRAWN)
    assert (column - half) / half * 100.0 == pytest.approx(at, abs=50.0 / half + 1e-9)
    assert place_line(mono(-at), width) == line[::-1]


@given(places, places, places, st.floats(min_value=-300.0, max_value=40.0), st.booleans())
def test_there_is_one_mark_whatever_else_stands_there(
    at: float, left: float, right: float, level_db: float, wet: bool
) -> None:
    line = place_line(MixPlace(at=at, left=left, right=right, level_db=level_db, wet=wet), 41)
    assert len(line) == 41
    assert sum(sign in DRAWN for sign in line) == 1
    assert set(line) <= DRAWN | set(" |()")


def test_the_louder_the_heavier_and_effects_are_hollow() -> None:
    drawn = [
        "".join(set(place_line(mono(50.0, level, wet=wet), 41)) & DRAWN)
        for wet in (False, True)
        for level in (0.0, -10.1, -20.1)
    ]
    assert drawn == ["●", "•", "∙", "○", "◦", "∘"]


def test_where_the_encoding_has_no_such_marks_letters_stand_for_them() -> None:
    line = place_line(MixPlace(at=0.0, left=-100.0, right=100.0, level_db=-3.0), 21)
    assert encodable(line, "ascii") == "(         O         )"
    marks = "".join(mark for _, *both in MARKS for mark in both)
    assert encodable(marks, "ascii") == "OWow.,"
    assert "?" not in encodable(marks, "cp437")


def test_words_say_the_same() -> None:
    assert place_text(mono(-30.0)) == "30 left"
    assert place_text(MixPlace(at=0.0, left=-100.0, right=100.0, level_db=0.0, wet=True)) == (
        "centre, 100 left to 100 right, by effects alone"
    )
    assert place_text(None) == "never reaches the mix bus"
    assert place_text(Unknown(unknown="the pan of Gtr is hidden")) == "not seen: the pan of Gtr is hidden"


@pytest.mark.parametrize("width", [40, 41, 60, 75, 76, 100])
def test_the_sheet_of_the_example_draws_every_channel_and_cuts_nothing(width: int) -> None:
    """Of the flawed example: each strip but the mix bus has its line or is told to have none."""
    session = read(EXAMPLES / "sixpenny-weathervane-flawed.session.json")
    found = sheet(SessionContext(session))
    text = sheet_text(found, session.title, Page(width))
    assert all(columns(line) <= width for line in text.splitlines())
    assert "…" not in text
    drawn = [line for line in text.splitlines() if re.match(r"    place    .*[●•∙○◦∘]", line)]
    told = " ".join(text.split()).count("never reaches the mix bus")
    assert len(drawn) + told == len(found.channels) - 1
    assert len(drawn) == sum(isinstance(row.place, MixPlace) for row in found.channels) - 1


@pytest.mark.parametrize("width", [40, 76, 120])
def test_long_and_hostile_names_stand_whole(width: int) -> None:
    row = SheetRow(
        id="x", name=f"{HOSTILE_NAME} {'very long ' * 20}", kind="track", role="acoustic-guitar-of-the-second-verse",
        output="y", fader_db=0.0, pan=0.0, muted=False, soloed=False, place=mono(10.0),
    )  # fmt: skip
    other = row.model_copy(
        update={"id": "y", "name": "Bus " * 30, "output": None, "place": Unknown(unknown="why " * 30)}
    )
    text = sheet_text(Sheet(channels=(row, other)), HOSTILE_NAME, Page(width))
    assert all(columns(line) <= width for line in text.splitlines())
    assert "…" not in text
    if width == 40:
        said = re.sub(r"\s", "", text)
        assert re.sub(r"\s", "", neutral(row.name)) in said
        assert re.sub(r"\s", "", other.name) in said
