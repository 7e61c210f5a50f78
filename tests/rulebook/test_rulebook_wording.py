"""How facts are written in the middle of a sentence."""

from __future__ import annotations

from typing import Any

import pytest
from toytables import BOAT, HIDDEN, toy_row

from mixlint.facts.declare import FactValue
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.values import Limit
from mixlint.rulebook.wording import read_wording

LIMITS = {"deepest": Limit(value=-6.0, unit="dB"), "off_centre": Limit(value=30.0, unit="pan distance"),
          "range": Limit(value=(-6.0, -1.0), unit="dB")}  # fmt: skip


def filled(text: str, **given: Any) -> str:
    faults = Faults()
    wording = read_wording(text, "says", BOAT, LIMITS, faults.of("toy"), {})
    faults.stop()
    return wording.filled(BOAT, toy_row(**given))


@pytest.mark.parametrize(
    ("text", "given", "said"),
    [
        ("{channel} is {name}", {"name": "Gull"}, "Gull is Gull"),
        ("passes {depth_db} dB", {"depth_db": -9.5424}, "passes −9.54 dB"),
        ("passes {depth_db} dB", {"depth_db": -40.0}, "passes −40 dB"),
        ("passes {depth_db} dB", {"depth_db": -200.0}, "passes −∞ dB"),
        ("passes {depth_db} dB", {"depth_db": -0.0}, "passes 0 dB"),
        ("sounds at {horn_lufs} LUFS", {"horn_lufs": FactValue(-14.25, "measured")}, "sounds at −14.2 LUFS"),
        ("lies {pan}", {"pan": -50.0}, "lies 50 left"),
        ("lies {pan}", {"pan": 0.2}, "lies centre"),
        ("{off_centre} from the middle, {limits.off_centre} at most", {"off_centre": 50.0},
         "50 from the middle, 30 at most"),
        ("{oars} oars", {"oars": 3}, "3 oars"),
        ("afloat: {afloat}", {"afloat": False}, "afloat: no"),
        ("{drive}, {motto}", {"drive": "sail", "motto": "fair {wind}"}, "sail, fair {wind}"),
        ("flies {flags}", {"flags": ("red", "green")}, "flies red, green"),
        ("flies {flags}", {"flags": ()}, "flies none"),
        ("rings {bells}", {"bells": (440.0, 1250.0)}, "rings 440, 1 250"),
        ("at most {limits.deepest} dB", {}, "at most −6 dB"),
        ("passes {depth_db} dB", {"depth_db": HIDDEN}, "passes unknown dB"),
        ("{depth_db.note}", {"depth_db": FactValue(3.0, "measured", "log:7", "at low tide")}, "at low tide"),
        ("{depth_db.where}", {"depth_db": FactValue(3.0, "measured", "log:7", "at low tide")}, "log:7"),
        ("{depth_db.note}, {depth_db.where}", {"depth_db": FactValue(3.0, "measured")}, "3, 3"),
        ("{afloat.note}", {"afloat": True}, "yes"),
        ("{depth_db.note}", {"depth_db": HIDDEN}, "unknown"),
        ("between {limits.range}", {}, "between −6 … −1"),
        ("a {{brace}}", {}, "a {brace}"),
        ("nothing to fill", {}, "nothing to fill"),
    ],
)  # fmt: skip
def test_filled(text: str, given: dict[str, Any], said: str) -> None:
    """Numbers without their unit, a true minus, no trailing zeros; positions as a desk is read."""
    assert filled(text, **given) == said


def test_the_name_of_a_fact_that_went_is_still_read_with_a_word_about_it() -> None:
    """It repeated another one's note or place, which a text names itself now."""
    faults = Faults()
    text = "{channel}: {depth_how} {depth_at} {depth_how}"
    wording = read_wording(text, "says", BOAT, LIMITS, faults.of("a.toml"), {})
    faults.stop()
    row = toy_row(depth_db=FactValue(3.0, "measured", "log:7", "at low tide"))
    assert wording.filled(BOAT, row) == "Boat 1: at low tide log:7 at low tide"
    assert wording.facts == ("depth_db",)
    assert [str(notice) for notice in dict.fromkeys(faults.notices)] == [
        "a.toml: says: {depth_how} of the table boat is read until version 0.3 (write {depth_db.note})",
        "a.toml: says: {depth_at} of the table boat is read until version 0.3 (write {depth_db.where})",
    ]


def test_the_facts_of_a_text_are_those_it_names() -> None:
    """Notes and places count for their fact; the name, limits and braces are none."""
    faults = Faults()
    text = "{channel} {depth_db.note} {drive} {depth_db} {limits.deepest} {{motto}}"
    assert read_wording(text, "says", BOAT, LIMITS, faults.of("a.toml"), {}).facts == ("depth_db", "drive")
