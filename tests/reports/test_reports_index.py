"""The index of several sessions, and the small picture in each of its rows."""

from __future__ import annotations

import math
import re
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from reportsamples import HARBOUR, HOSTILE, HOSTILE_NAME, LULLABY

from mixlint.analysis.context import SessionContext
from mixlint.importers import read
from mixlint.reports.page.index import Entry, Lost, in_order, index_html
from mixlint.reports.pictures.small_balance import EDGE, HEIGHT, WIDTH, SmallBalance, drawn, lean_text, small_balance
from mixlint.review.findings import SessionReview
from mixlint.session import Channel, Session

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
NAN = float("nan")


def entry(review: SessionReview, page: str, **changes: object) -> Entry:
    one = review.model_copy(update=changes)
    return Entry(page, one.title, one.source, one.outcome, one.counts, SmallBalance("even throughout; estimated"))


def tree(page: str) -> etree._Element:
    return etree.fromstring(page.split("\n", 1)[1].encode("utf-8"))


def test_the_index_counts_and_sorts() -> None:
    again = entry(HARBOUR, "b.html", title="another Harbour")
    page = index_html(
        [entry(LULLABY, "c.html"), entry(HARBOUR, "a.html"), again], [Lost("x.json", "it is empty.")], "1"
    )
    assert [one.page for one in in_order([entry(LULLABY, "c.html"), entry(HARBOUR, "a.html"), again])] == [
        "b.html", "a.html", "c.html",
    ]  # fmt: skip
    said = " ".join("".join(tree(page).itertext()).split())
    assert "4 sessions: review before the bounce" in said
    assert "2 are held: another Harbour, Evening Harbour; 1 clear to bounce; 1 could not be reviewed." in said
    assert "x.json it is empty." in said
    assert [str(one) for one in tree(page).xpath("//@href")] == ["b.html", "a.html", "c.html"]
    assert page == index_html(
        [again, entry(HARBOUR, "a.html"), entry(LULLABY, "c.html")], [Lost("x.json", "it is empty.")], "1"
    )


def test_without_a_session_there_is_still_an_index() -> None:
    said = "".join(tree(index_html([], [Lost("x.json", "it is empty.")], "1")).itertext())
    assert "None is held; 1 could not be reviewed." in said


def test_names_and_messages_are_text() -> None:
    page = index_html([entry(HOSTILE, "a.html")], [Lost(HOSTILE_NAME, HOSTILE_NAME)], "1")
    said = "".join(tree(page).itertext())
    assert "<b>Walk</b>" in said
    assert "<script>alert(1)</script>" in said
    assert "{{ 7*7 }}" in said
    assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e]", page)


def places(piece: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in (point.split() for point in re.split("[ML]", piece)[1:])]


@given(st.lists(st.one_of(st.floats(-80.0, 80.0), st.just(NAN)), min_size=1, max_size=400))
def test_the_small_line_stays_inside_and_breaks_where_nothing_is_judged(curve: list[float]) -> None:
    pieces, dots = drawn([float(n) for n in range(len(curve))], curve)
    points = [*dots, *(place for piece in pieces for place in places(piece))]
    assert all(0 <= x <= WIDTH and EDGE - 0.1 <= y <= HEIGHT - EDGE + 0.1 for x, y in points)
    assert len(points) <= 2 * 80 + len(curve) - sum(map(math.isfinite, curve)) + 1
    runs = re.findall("x+", "".join("x" if math.isfinite(one) else " " for one in curve))
    assert len(pieces) + len(dots) <= 2 * len(runs)
    assert bool(points) == bool(runs)


def test_left_is_up_and_the_scale_is_the_same_for_all() -> None:
    """6 dB to each side, and no further."""
    (left,), _ = drawn([0.0, 1.0], [3.0, 3.0])
    (right,), _ = drawn([0.0, 1.0], [-60.0, -6.0])
    assert {y for _, y in places(left)} == {HEIGHT / 2 - (HEIGHT / 2 - EDGE) / 2}
    assert {y for _, y in places(right)} == {HEIGHT - EDGE}
    assert drawn([], []) == ((), ())


def test_the_words_say_what_the_line_shows() -> None:
    assert [lean_text(db) for db in (0.001, 2.0, -2.0)] == ["even", "2 dB left", "2 dB right"]
    flawed = small_balance(SessionContext(read(EXAMPLES / "sixpenny-weathervane-flawed.session.json")))
    assert re.fullmatch(
        r"[\d.]+ dB left over the song; at most [\d.]+ dB left, \d:\d\d to \d:\d\d; estimated", flawed.said
    )
    assert flawed.pieces
    nothing = small_balance(
        SessionContext(Session(channels=(Channel(id="m", name="Mix", kind="master", output=None),)))
    )
    assert nothing.said.startswith("not known: ")
    assert not nothing.pieces
