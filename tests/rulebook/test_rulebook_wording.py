"""How facts are written in the middle of a sentence."""

from __future__ import annotations

from typing import Any

import pytest
from toytables import BOAT, HIDDEN, toy_row

from mixlint.facts.declare import FactValue
from mixlint.rulebook.faults import Faults
from mixlint.rulebook.values import Limit
from mixlint.rulebook.wording import read_wording

LIMITS = {"deepest": Limit(value=-6.0, unit="dB"), "off_centre": Limit(value=30.0, unit="pan distance")}


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
        ("a {{brace}}", {}, "a {brace}"),
        ("nothing to fill", {}, "nothing to fill"),
    ],
)  # fmt: skip
def test_filled(text: str, given: dict[str, Any], said: str) -> None:
    """Numbers without their unit, a true minus, no trailing zeros; positions as a desk is read."""
    assert filled(text, **given) == said
