"""The channel sheet, the trace, the vocabulary and the notes of a conversion as text."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from reportsamples import HOSTILE_NAME

from mixlint.facts import TABLES, SessionContext
from mixlint.facts.channel_sheet import MixPlace, Sheet, SheetInsert, SheetRow, SheetSend, ToMix, sheet
from mixlint.reports.fact_list import fact_list, fact_list_text
from mixlint.reports.json import model_json
from mixlint.reports.notes import conversion_text
from mixlint.reports.plain import Page, columns
from mixlint.reports.sheet import sheet_text
from mixlint.reports.trace import trace_text
from mixlint.routing.trace_model import Arrival, Stage, Trace
from mixlint.session import Channel, Insert, Note, Session, Unknown

HIDDEN = Unknown(unknown="hidden in the export", settle="look at it")

SHEET = Sheet(
    channels=(
        SheetRow(
            id="t1",
            name="Lead Voice",
            kind="track",
            role="lead-vocal",
            output="m",
            fader_db=-3.5,
            pan=-20.0,
            muted=True,
            soloed=HIDDEN,
            sends=(
                SheetSend(to="r", level_db=-12.0, pan=30.0, tap="pre", on=False),
                SheetSend(to=HIDDEN, level_db=HIDDEN, pan=HIDDEN, tap=HIDDEN, on=HIDDEN),
            ),
            inserts=(
                SheetInsert(name="Valley EQ", kind="equalizer", on=False),
                SheetInsert(name="", kind=HIDDEN, on=HIDDEN),
            ),
            to_mix=ToMix(left_db=-4.25, right_db=-200.0),
            place=MixPlace(at=-100.0, left=-100.0, right=-100.0, level_db=-4.25),
        ),
        SheetRow(
            id="r",
            name=HOSTILE_NAME,
            kind="return",
            role=HIDDEN,
            output=None,
            fader_db=HIDDEN,
            pan=HIDDEN,
            muted=False,
            soloed=False,
            to_mix=None,
        ),
        SheetRow(
            id="m", name="Mix", kind="master", role="mix-bus", output=None, fader_db=0.0, pan=0.0, muted=False,
            soloed=False, to_mix=HIDDEN, place=HIDDEN,
        ),
    ),
    assumptions=("pan law: equal power, −3.01 dB centre",),
)  # fmt: skip

TRACE = Trace(
    channel="Gtr L",
    at_hz=12_000.0,
    arrivals=(
        Arrival(
            path=("Gtr L", "Music", "Mix"),
            kind="direct",
            left_db=-3.0103,
            right_db=-200.0,
            stages=(
                Stage(at="Gtr L", stage="fader", left_db=-1.5, right_db=-1.5),
                Stage(at="Gtr L", stage="pan", left_db=-3.0103, right_db=-200.0),
                Stage(at="Mix", stage="fader", left_db=-3.0103, right_db=-200.0),
            ),
        ),
        Arrival(path=("Gtr L", "Hall", "Mix"), kind="ambience", left_db=-20.0, right_db=HIDDEN),
    ),
)


def test_the_sheet_says_levels_places_and_what_is_not_seen() -> None:
    """Every value of the first strip is on its rows, the unknown ones as *not seen*."""
    text = sheet_text(SHEET, "Lamp Song", Page(110))
    row = next(line for line in text.splitlines() if line.startswith("Lead Voice"))
    assert row.split() == ["Lead", "Voice", "lead-vocal", "Mix", "−3.5", "20", "left", "−4.25", "−∞"]
    assert "muted, soloed: not seen" in text
    assert "Valley EQ (equalizer, off), (no name) (kind not seen, on or off not seen)" in text
    assert "−12 dB, pre-fader, 30 right, off; target not seen, level not seen, tap not seen" in " ".join(text.split())
    assert "(mix bus out)" in text
    assert "nowhere" in text
    assert "pan law: equal power" in text


@pytest.mark.parametrize("width", [40, 50, 75, 76, 80, 100, 140])
@pytest.mark.parametrize("text_of", [lambda p: sheet_text(SHEET, "Lamp", p), lambda p: trace_text(TRACE, p)])
def test_tables_fit_the_page(width: int, text_of: Callable[[Page], str]) -> None:
    """No line is wider than the page, and nothing in it can move a cursor."""
    text = text_of(Page(width))
    assert all(columns(line) <= width for line in text.splitlines())
    assert "\x1b" not in text


def test_sheet_json_has_the_agreed_keys() -> None:
    """The form ``mixlint-sheet/1``; a channel that never arrives has ``to_mix`` null."""
    body = json.loads(model_json(SHEET))
    assert body["format"] == "mixlint-sheet/1"
    first, second = body["channels"][:2]
    assert set(first) == {
        "id", "name", "kind", "role", "output", "fader_db", "pan", "muted", "soloed", "sends", "inserts", "to_mix",
        "place", "inserts_not_shown",
    }  # fmt: skip
    assert first["to_mix"] == {"left_db": -4.25, "right_db": -200.0}
    assert set(first["sends"][0]) == {"to", "level_db", "pan", "tap", "on"}
    assert first["place"] == {"at": -100.0, "left": -100.0, "right": -100.0, "level_db": -4.25, "wet": False}
    assert second["to_mix"] is None
    assert second["fader_db"] == {"unknown": "hidden in the export", "settle": "look at it"}


def test_the_trace_shows_every_stage() -> None:
    """Each channel is named once, each stage with left and right, and the arrival at the end."""
    text = trace_text(TRACE, Page(100))
    assert "Gtr L to the mix bus at 12 000 Hz" in text
    assert "direct: Gtr L → Music → Mix" in text
    assert text.count("arrives") == 2
    rows = [line.split() for line in text.splitlines()]
    assert ["Gtr", "L", "fader", "−1.5", "−1.5"] in rows
    assert ["pan", "−3.01", "−∞"] in rows
    assert ["arrives", "−20", "not", "seen"] in rows


def test_a_trace_without_arrivals_says_so() -> None:
    """A channel that goes nowhere."""
    assert "It never arrives" in trace_text(Trace(channel="Spare", at_hz=1000.0), Page(100))


def test_the_vocabulary_shows_every_declared_fact() -> None:
    """Names, units and meanings come from the declarations, none left out."""
    said = fact_list(TABLES.values())
    text = fact_list_text(said, Page(100))
    for table in TABLES.values():
        for fact in table.facts.values():
            assert f"    {fact.name}  " in text
            assert fact.meaning.split()[0] in text
    body = json.loads(model_json(said))
    assert body["format"] == "mixlint-facts/1"
    assert {(f["table"], f["name"]) for f in body["facts"]} == {(t.name, f) for t in TABLES.values() for f in t.facts}


def test_a_conversion_says_first_what_is_lost() -> None:
    """Notes that lose something stand before assumptions; channels are named, not numbered."""
    session = Session(
        title="Lamp Song",
        channels=(Channel(id="x", name="Voice", kind="track"),),
        notes=(Note(text="taken as mono", about="x"), Note(text="video is not carried over", loses=True)),
    )
    text = conversion_text(session, "lamp.json", Page(100))
    assert text.splitlines()[0] == "lamp.json: Lamp Song, 1 channel"
    assert text.index("video is not carried over") < text.index("Voice: taken as mono")


def test_a_trace_says_what_is_not_seen_on_the_way() -> None:
    """Then *never arrives* is not claimed."""
    text = trace_text(Trace(channel="Spare", at_hz=1000.0), Page(100), ["the export shows no mix bus"])
    assert "never arrives" not in text
    assert "the export shows no mix bus" in text


def test_a_sheet_says_so_where_inserts_on_the_way_are_not_shown():
    """A part whose own direct gain is nothing may be all ambience; the list of its inserts may hide which."""
    wet = Insert(name="Barn Room", kind="reverb", wet=HIDDEN, on=True)
    lute = Channel(
        id="lute", name="Lute", kind="track", legs=1, output="mix", inserts=(wet,), fader_db=-200.0,
        missing={"inserts": HIDDEN},
    )  # fmt: skip
    session = Session(channels=(lute, Channel(id="mix", name="Mix", kind="master", legs=2, output=None)))
    (row, _) = sheet(SessionContext(session)).channels
    assert isinstance(row.to_mix, Unknown)
    assert "hidden in the export" in row.to_mix.unknown
