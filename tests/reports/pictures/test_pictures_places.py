"""Where in the song a finding lies, read back from its words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint.reports.pictures.places import Place, place_in, place_of, seconds_of
from mixlint.review.findings import Evidence, Finding, SubjectRef
from mixlint.units import clock_text


@given(st.floats(-4000.0, 40_000.0))
def test_a_time_is_read_as_it_is_written(seconds: float) -> None:
    """The inverse of the one writer of times, to the tenth that it writes."""
    assert seconds_of(clock_text(seconds)) == pytest.approx(round(seconds, 1), abs=0.051)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("bars 5 to 8, 0:08.0 to 0:16.0", Place(8.0, 16.0)),
        ("bar 5, 2:05.3", Place(125.3, 125.3)),
        ("0:03.0 of the file (bar 6, 0:10.0)", Place(10.0, 10.0)),
        ("0:03.0 of the file", None),
        ("song.session.json:12", None),
        ("a 2:1 ratio at 1:99.0", None),
        ("", None),
    ],
)
def test_places_in_words(text: str, place: Place | None) -> None:
    assert place_in(text) == place


def finding(name: str, message: str, **more: object) -> Finding:
    subject = SubjectRef(table="channel", id="a", name=name)
    return Finding(
        rule="r", area="edits", grade="look", verdict="flagged", subject=subject, message=message, fingerprint="f",
        **more,
    )  # fmt: skip


def test_a_time_in_a_name_is_no_place() -> None:
    assert place_of(finding("Take 0:05.0", "Take 0:05.0 is muted.")) is None
    assert place_of(finding("Take 0:05.0", "Take 0:05.0 is muted from 0:20.0 on.")) == Place(20.0, 20.0)


def test_what_decided_comes_before_what_only_applies() -> None:
    """Evidence without a limit says that a rule applies, and is no place of the fault."""
    applies = Evidence(fact="plays", value=True, known="declared", where="0:01.0")
    decides = Evidence(fact="dip_db", value=9.0, limit=6.0, known="declared", where="bar 3, 0:09.0")
    assert place_of(finding("a", "It dips.", evidence=(applies, decides))) == Place(9.0, 9.0)
    assert place_of(finding("a", "It dips.", evidence=(applies,))) is None
