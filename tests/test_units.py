"""The one writer of values: numbers, positions and distances, lists and ranges, with and without their unit."""

from __future__ import annotations

import pytest

from mixlint.units import DIFFERENCES, UNITS, difference_unit, few_text, number_text, value_text


@pytest.mark.parametrize(
    ("value", "unit", "full", "bare"),
    [
        (-9.5424, "dB", "−9.54 dB", "−9.54"),
        (-200.0, "dBFS", "−∞ dBFS", "−∞"),
        (1250.0, "Hz", "1 250 Hz", "1 250"),
        (4.0, ":1", "4:1", "4"),
        (50.0, "%", "50 %", "50"),
        (3, "", "3", "3"),
        (-50.0, "pan", "50 left", "50 left"),
        (20.0, "pan distance", "20", "20"),
        (-0.0, "pan distance", "0", "0"),
        (True, "", "yes", "yes"),
        ("sail", "", "sail", "sail"),
        (None, "dB", "not known", "not known"),
        ((), "Hz", "none", "none"),
        ((440.0, 1250.0), "Hz", "440, 1 250 Hz", "440, 1 250"),
        ((2.0, 4.0), ":1", "2, 4:1", "2, 4"),
        ((-30.0, 30.0), "pan", "30 left, 30 right", "30 left, 30 right"),
        (("red", "green"), "", "red, green", "red, green"),
    ],
)
def test_one_value(value: object, unit: str, full: str, bare: str) -> None:
    """A true minus, no trailing zeros, the unit once; a position as a side and a distance as a number."""
    assert value_text(value, unit) == full  # type: ignore[arg-type]
    assert value_text(value, unit, bare=True) == bare  # type: ignore[arg-type]


def test_two_ends_of_a_range_are_no_list() -> None:
    """Two numbers of a limit; three numbers, or two words, are a list whatever is said."""
    assert value_text((-6.0, -1.0), "dB", ends=True) == "−6 … −1 dB"
    assert value_text((-6.0, -1.0), "dB", ends=True, bare=True) == "−6 … −1"
    assert value_text((1.0, 2.0, 3.0), "s", ends=True) == "1, 2, 3 s"
    assert value_text(("a", "b"), "", ends=True) == "a, b"


def test_who_writes_says_what_stands_for_the_unknown() -> None:
    assert value_text(None, "dB", unknown="not seen") == "not seen"


def test_how_far_two_values_lie_apart_has_a_unit() -> None:
    """Loudness differs by LU (EBU Tech 3341, 2.2: 1 LU = 1 dB); two positions by a distance."""
    assert [difference_unit(unit) for unit in ("LUFS", "dBFS", "pan", "dB", "")] == [
        "LU", "dB", "pan distance", "dB", "",
    ]  # fmt: skip
    assert all({unit, *units} <= set(UNITS) for unit, units in DIFFERENCES.items())
    assert number_text(5.0, "pan distance") == "5"


@pytest.mark.parametrize(
    ("count", "most", "between", "said"),
    [
        (0, 3, ", ", "none"),
        (1, 3, ", ", "t0"),
        (3, 3, ", ", "t0, t1, t2"),
        (4, 3, ", ", "t0, t1, t2 and 1 more"),
        (9, 2, "; ", "t0; t1; and 7 more"),
    ],
)
def test_the_first_few_and_how_many_more(count: int, most: int, between: str, said: str) -> None:
    assert few_text([f"t{n}" for n in range(count)], most, between=between) == said
