"""A document of several sessions put together from parts is the one that is written of all at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixlint import __version__
from mixlint.reports.parts import part_of
from mixlint.reports.plain import Page
from mixlint.reports.review_output import ReviewOutput
from mixlint.reports.several import DOCUMENTS
from mixlint.review.findings import Report
from mixlint.runs.check import Review, check
from mixlint.runs.report import report
from mixlint.runs.stream import pieces

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
NAMES = (
    "voice-and-one-guitar.session.json", "sixpenny-weathervane-flawed.dawproject",
    "sixpenny-weathervane-flawed.dawproject", "voice-and-one-guitar.session.json",
)  # fmt: skip


@pytest.fixture(scope="module")
def reviews() -> list[Review]:
    """Of which two bear one title, and one needs the caution."""
    areas = ("ambience", "prep")
    return [check(EXAMPLES / one, audio=False, areas=areas, clear_named=True, pictures=True) for one in NAMES]


@pytest.mark.slow
@pytest.mark.parametrize(
    "page", [Page(), Page(44), Page(100, weights=True, colours=True)], ids=["wide", "narrow", "bold"]
)
@pytest.mark.parametrize("number", [0, 2, 4])
def test_parts_make_the_whole(reviews: list[Review], number: int, page: Page) -> None:
    some = reviews[:number]
    for form, document in DOCUMENTS.items():
        parts = []
        for one in some:
            output = ReviewOutput(
                report=Report(version=__version__, sessions=(one.result,)),
                page=page,
                hold_on=one.hold_on,
                rules=one.rules,
                passed=[one.passed or ()],
                pictures=[] if one.pictures is None else [one.pictures],
            )
            parts.append(part_of(output, form))
        text = "".join(pieces(document(__version__, page), parts))
        assert text == (report(some, form, page=page, everything=False) if some else ""), form


@pytest.mark.slow
def test_junit_with_clear_rows_by_name_is_that_with_all_they_rest_on(reviews: list[Review]) -> None:
    whole = [check(EXAMPLES / one, audio=False, areas=("ambience", "prep"), everything=True) for one in NAMES[:2]]
    assert report(whole, "junit", everything=False) == report(reviews[:2], "junit", everything=False)


def test_what_a_page_could_confuse_is_told_apart() -> None:
    """Two sessions whose anchors open alike."""
    from dataclasses import replace

    from mixlint.reports.several import Html, Told

    counts = {"flagged_by_grade": {"hold": 0, "look": 0, "note": 0}, "open": 0}
    told = Told("a", "Lamp", "clear", counts, opens="lamp--12345678--")
    document = Html(__version__, Page())
    text = '<a href="#lamp--12345678--rows"> \x00number\x00 \x00label\x00'
    parts = [(told, text), (replace(told, source="b"), text), (replace(told, source="c", opens="x--"), text)]
    page = "".join(pieces(document, parts))
    assert '<a href="#lamp--12345678--rows"> 1 Lamp (1)<a href="#lamp--12345678--2--rows"> 2 Lamp (2)' in page
    assert "\x00" not in page
