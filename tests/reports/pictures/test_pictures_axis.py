"""Scales, ticks and labels of the pictures: inside the frame, apart from each other, and where they are wished."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixlint.reports.pictures.axis import (
    FREQUENCIES_HZ,
    STRAIGHT,
    Scale,
    fitted,
    frequency_text,
    laid_out,
    path_of,
    pieces_of,
    straightened,
    text_width,
    thinned,
    time_ticks,
)

LOW, HIGH = 168.0, 884.0
WISHES = st.lists(st.tuples(st.floats(LOW, HIGH), st.text(max_size=40)), max_size=25)


@settings(max_examples=50)
@given(WISHES, st.booleans(), st.booleans(), st.integers(1, 3))
def test_labels_keep_apart_and_inside(wishes: list[tuple[float, str]], bold: bool, lines: bool, rows: int) -> None:
    """No two of a row touch, none leaves the frame, and no line that comes down from a row over it crosses one."""
    labels = laid_out(wishes, LOW, HIGH, rows=rows, most=150, bold=bold, lines=lines)
    placed = [(wish, one) for (wish, _), one in zip(wishes, labels, strict=True) if one is not None]
    for _, one in placed:
        assert one.text
        assert one.x >= LOW - 0.1
        assert one.x + text_width(one.text, bold=bold) <= HIGH + 0.1
        assert 0 <= one.row < rows
    for (_, one), (_, other) in combinations(placed, 2):
        if one.row == other.row:
            left, right = sorted((one, other), key=lambda label: label.x)
            assert left.x + text_width(left.text, bold=bold) <= right.x
    if lines:
        for wish, above in placed:
            for _, one in placed:
                if one.row >= above.row:
                    assert not one.x + 0.1 < wish < one.x + text_width(one.text, bold=bold) - 0.1


@given(st.text(max_size=60), st.floats(0.0, 300.0))
def test_a_text_is_cut_to_its_room(text: str, room: float) -> None:
    cut = fitted(text, room)
    assert text_width(cut) <= room
    assert text.startswith(cut.removesuffix("…"))


def test_scales_by_ratio_and_by_difference() -> None:
    """Equal ratios take equal room on a logarithmic axis; what lies beyond an end lies at it."""
    log = Scale(20.0, 20000.0, 0.0, 300.0, log=True)
    assert [log.at(hz) for hz in (20.0, 200.0, 2000.0, 20000.0)] == [0.0, 100.0, 200.0, 300.0]
    assert log.at(5.0) == 0.0
    down = Scale(-6.0, 6.0, 100.0, 0.0)
    assert [down.at(db) for db in (-6.0, 0.0, 6.0, 9.0)] == [100.0, 50.0, 0.0, 0.0]


@pytest.mark.parametrize(("end", "most"), [(3.0, 2), (179.7, 13), (600.0, 13), (20_000.0, 13), (1e6, 13)])
def test_times_are_round_and_not_too_many(end: float, most: int) -> None:
    ticks = time_ticks(0.0, end)
    assert 1 <= len(ticks) <= most
    assert all(0.0 <= t <= end for t, _ in ticks)
    assert len({said for _, said in ticks}) == len(ticks)


def test_frequencies_as_they_are_written() -> None:
    assert [frequency_text(hz) for hz in FREQUENCIES_HZ][::3] == ["20", "200", "2k", "20k"]


def test_a_curve_breaks_where_a_value_is_no_number() -> None:
    nan = float("nan")
    runs = pieces_of([(0.0, 1.0), (1.0, 2.0), (2.0, nan), (3.0, nan), (4.0, 5.0)])
    assert runs == [[(0.0, 1.0), (1.0, 2.0)], [(4.0, 5.0)]]
    assert path_of(runs[1]) == "M4 5h.1"
    assert pieces_of([]) == []


RUNS = st.lists(st.tuples(st.integers(0, 4000), st.integers(0, 1000)), min_size=1, max_size=200).map(
    lambda points: [(x / 10.0, y / 10.0) for x, y in sorted(points)]
)


@given(RUNS)
def test_a_thinned_curve_keeps_its_ends_and_extremes(run: list[tuple[float, float]]) -> None:
    kept = thinned(run)
    assert len(kept) <= 2 * (run[-1][0] - run[0][0] + 2) + 1
    assert {min(y for _, y in kept), max(y for _, y in kept)} == {min(y for _, y in run), max(y for _, y in run)}
    assert kept[-1] == run[-1] or len(run) == 1


@given(RUNS)
def test_what_is_straightened_away_lies_on_the_line(run: list[tuple[float, float]]) -> None:
    """Every point that was left out lies within the tolerance of the line between the kept ones around it."""
    kept = straightened(run)
    assert kept[0] == run[0]
    assert kept[-1] == run[-1]
    places = [run.index(kept[0])]
    for point in kept[1:]:
        places.append(run.index(point, places[-1] + 1) if point in run[places[-1] + 1 :] else places[-1])
    for first, last in zip(places, places[1:], strict=False):
        (x1, y1), (x2, y2) = run[first], run[last]
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 or 1.0
        for x, y in run[first + 1 : last]:
            assert abs((y - y1) * (x2 - x1) - (x - x1) * (y2 - y1)) / length <= STRAIGHT + 1e-9
