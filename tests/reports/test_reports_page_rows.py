"""The rows of the page: what is to be done first, an anchor for each, and what filters and folds."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from reportsamples import ANSWER, BALANCE, CLEAR, HARBOUR, HOSTILE_NAME, LULLABY, OPEN, PLATE, SIGNED, report

from mixlint.reports.anchors import anchors, session_anchors
from mixlint.reports.choice import things_to_do
from mixlint.reports.page.document import review_html
from mixlint.reports.page.rows import FOLD
from mixlint.review.engine import counts, outcome
from mixlint.review.findings import Finding, Grade, SessionReview, SubjectRef
from mixlint.review.fingerprint import fingerprint


def finding(number: int, name: str, *, grade: Grade = "hold", cause: str = "", verdict: str = "flagged") -> Finding:
    """An invented row of a channel, with a fingerprint as the review gives it."""
    return PLATE.model_copy(
        update={
            "subject": SubjectRef(table="return", id=f"id{number}", name=name),
            "fingerprint": fingerprint(("return-fully-wet", "return", name.casefold(), "1")),
            "order": number,
            "grade": grade,
            "cause": cause,
            "verdict": verdict,
        }
    )


def page_of(findings: Sequence[Finding], **more: object) -> etree._Element:
    """The page of a review with these findings."""
    rows = tuple(findings)
    review = HARBOUR.model_copy(
        update={"findings": rows, "counts": counts(rows), "outcome": outcome(rows, "hold"), **more}
    )
    return parsed(review_html(report(review)))


def parsed(text: str) -> etree._Element:
    """A page, read as XML."""
    return etree.fromstring(text.split("\n", 1)[1].encode("utf-8"), etree.XMLParser(huge_tree=True))


def words_of(element: etree._Element) -> str:
    """What an element says, on one line."""
    return " ".join("".join(str(part) for part in element.itertext()).split())


def with_class(root: etree._Element, name: str) -> list[etree._Element]:
    """Elements of a class."""
    return [e for e in root.iter() if name in str(e.get("class", "")).split()]


def rows_in(root: etree._Element) -> list[etree._Element]:
    return with_class(root, "row")


def test_three_things_come_first_by_grade_then_by_what_they_explain_then_in_desk_order() -> None:
    """A look stands behind every hold; a hold that explains two rows before one that explains none."""
    explained = [finding(20 + n, f"Under Hall {n}", grade="look", cause="ha11") for n in range(2)]
    hall = finding(9, "Hall").model_copy(update={"fingerprint": "ha11"})
    rows = [BALANCE, finding(2, "Bass"), finding(3, "Kick"), finding(4, "Snare"), hall, *explained]
    first = [one.head.subject.name for one in things_to_do(rows)]
    assert first == ["Hall", "Bass", "Kick", "Snare", "Evening Harbour"]
    said = [words_of(e) for e in with_class(page_of(rows), "first")[0].iter("li")]
    assert [one.split()[0:2] for one in said] == [["hold", "Hall"], ["hold", "Bass"], ["hold", "Kick"]]
    assert "2 more rows follow from it" in said[0]
    assert "Set the effect to 100 % wet" in said[0]
    assert words_of(with_class(page_of(rows), "first")[0]).count("Then 2 more, below.") == 1


def test_a_question_that_could_hold_stands_behind_what_holds_and_before_what_is_looked_at() -> None:
    ask = OPEN.model_copy(update={"grade": "hold"})
    assert [one.head.verdict for one in things_to_do([BALANCE, ask, PLATE])] == ["flagged", "open", "flagged"]
    said = words_of(with_class(page_of([ask]), "first")[0])
    assert "Plate Is the low end cut before or after Plate? The settings of Valley EQ are hidden" in said
    assert "To settle it: print the return alone, or look at its equaliser." in said


grades = st.sampled_from(["hold", "look", "note"])
verdicts = st.sampled_from(["flagged", "open", "signed", "clear"])


@given(st.lists(st.tuples(grades, verdicts), max_size=6), grades)
def test_nothing_is_to_be_done_exactly_where_the_outcome_is_clear(
    rows: list[tuple[Grade, str]], hold_on: Grade
) -> None:
    """Whatever holds: the outcome and the list say one thing."""
    found = [finding(n, f"Part {n}", grade=grade, verdict=verdict) for n, (grade, verdict) in enumerate(rows)]
    assert (outcome(found, hold_on) == "clear") == (not things_to_do(found, hold_on))


def test_a_clear_session_has_nothing_to_do() -> None:
    said = words_of(parsed(review_html(report(LULLABY))))
    assert "Clear to bounce" in said
    assert "Nothing to do before the bounce." in said


names = st.one_of(
    st.text(max_size=60), st.sampled_from(["Gtr L", "gtr-l", "Gtr  L", "GTR L", "絵", "", "rows", "hold"])
)


@settings(max_examples=40)
@given(st.lists(st.tuples(names, verdicts.filter(lambda v: v != "clear")), max_size=12))
def test_every_row_has_an_anchor_of_its_own(rows: list[tuple[str, str]]) -> None:
    """Whatever names say, and however alike they are: one id a row, a link to it, and no id twice on the page."""
    found = [finding(n, name, verdict=verdict) for n, (name, verdict) in enumerate(rows)]
    root = page_of(found)
    ids = [str(e.get("id")) for e in root.iter() if e.get("id") is not None]
    assert len(set(ids)) == len(ids)
    shown = rows_in(root)
    assert len(shown) == len(found)
    linked = {str(e.get("href")) for e in with_class(root, "anchor")}
    for row in shown:
        assert re.fullmatch("[a-z0-9]+(-{1,2}[a-z0-9]+)*", str(row.get("id")))
        assert f"#{row.get('id')}" in linked
    targets = {str(e.get("href"))[1:] for e in root.iter() if e.get("href") is not None}
    assert targets <= set(ids)


def test_an_anchor_is_made_of_rule_and_name_and_outlives_order_and_ids() -> None:
    """The same row in another review: other rows around it, another id, another place on the desk."""
    rows = [finding(n, name) for n, name in enumerate(("Hall", "Plate Été", "絵"))]
    before = anchors(rows)
    assert before[id(rows[1])].startswith("return-fully-wet--plate-ete--")
    again = [finding(n + 40, one.subject.name) for n, one in enumerate(reversed(rows))]
    assert sorted(anchors(again).values()) == sorted(before.values())
    alone = finding(7, "絵")
    assert anchors([alone])[id(alone)] == before[id(rows[2])]


def test_rows_that_agree_in_all_are_still_told_apart() -> None:
    twice = [finding(1, "Hall"), finding(2, "Hall"), finding(2, "Hall")]
    assert len(set(anchors(twice).values())) == 3


def test_two_sessions_of_one_name_share_no_anchor() -> None:
    """Nor does the same file, reviewed twice."""
    assert len(set(session_anchors([HARBOUR, HARBOUR, LULLABY]))) == 3
    assert session_anchors([HARBOUR]) == [""]
    root = parsed(review_html(report(HARBOUR, HARBOUR)))
    ids = [str(e.get("id")) for e in root.iter() if e.get("id") is not None]
    assert len(set(ids)) == len(ids)


@settings(max_examples=40)
@given(st.text(min_size=1, max_size=80))
def test_no_name_breaks_out_of_text_and_attributes(name: str) -> None:
    """Of the elements and attributes of a page only those of the template are there, whatever a name holds."""
    hostile = f"{name}\"'><script>alert(1)</script><b onclick=x>{HOSTILE_NAME}"
    plain, bad = (page_of([finding(1, one), finding(2, one, verdict="open")], title=one) for one in ("Hall", hostile))
    shape = [[(e.tag, sorted(e.attrib)) for e in root.iter()] for root in (plain, bad)]
    assert shape[0] == shape[1]


@pytest.mark.parametrize("many", [FOLD, FOLD + 1])
def test_many_rows_are_folded_by_family_and_few_are_not(many: int) -> None:
    """They stand open in the page itself: its script folds them, and whoever runs none reads them all."""
    rows = [finding(n, f"Part {n}") for n in range(many)]
    root = page_of(rows)
    folds = with_class(root, "fold")
    assert bool(folds) == (many > FOLD)
    assert all(e.get("open") is not None for e in folds)
    assert len(rows_in(root)) == many


def test_filters_offer_what_there_is_with_its_number() -> None:
    root = page_of([PLATE, BALANCE, ANSWER, OPEN, SIGNED, CLEAR])
    offered = {
        str(e.get("name")): [(str(o.get("value")), o.text) for o in e.iter("option")] for e in root.iter("select")
    }
    assert offered["grade"] == [("", "all"), ("hold", "hold (2)"), ("look", "look (3)")]
    assert offered["area"] == [("", "all"), ("ambience", "ambience (2)"), ("prep", "prep (1)"), ("width", "width (2)")]
    assert len(rows_in(root)) == 5
    assert [e.get("hidden") for e in with_class(root, "filter")] == ["hidden"]


def test_the_line_that_signs_stands_with_each_row_that_can_be_signed() -> None:
    """Flagged and open rows, not those that are signed; whatever is in it is text."""

    def sign(review: SessionReview, row: Finding) -> str:
        return f"mixlint sign {review.source} {row.rule} --on '<b>{row.subject.name}'"

    text = review_html(report(HARBOUR), sign=sign)
    lines = [words_of(e) for e in parsed(text).iter("code")]
    assert len(lines) == 4
    assert "mixlint sign evening-harbour.json return-fully-wet --on '<b>Plate'" in lines
    assert "<code" not in review_html(report(HARBOUR))
