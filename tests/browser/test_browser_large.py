"""The page of a large session: how much it weighs, how soon it stands, that it folds and still filters."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest

import mixlint
from mixlint.analysis.context import SessionContext
from mixlint.reports.page.document import review_html
from mixlint.reports.pictures import pictures_of
from mixlint.reports.pictures.picture import Scene
from mixlint.review.engine import counts
from mixlint.review.findings import Finding, Report, SessionReview, SubjectRef
from mixlint.review.fingerprint import fingerprint
from tests.benchmarks.bench_facts import large
from tests.browser.conftest import Open
from tests.browser.rig import told

MOST_KB = 500
"""Of the page of 60 channels: it goes by mail, beside the export."""

SOON_S = 5.0
"""Within which the page of 1,000 channels stands, on a machine shared with others; alone it takes about a second."""


def test_the_page_of_60_channels_is_light(tmp_path: Path, open_file: Open, record_property: Any) -> None:
    """With three rows a strip and their lines to sign, two sends a part, and every picture; more sends weigh more."""
    session = large(60, 2)
    made = mixlint.check(session, audio=False, pictures=True)

    def sign(review: SessionReview, finding: Finding) -> str:
        named = f"--on '{finding.subject.name}'"
        return f"mixlint sign sessions/large.session.json {finding.rule} {named} --because '' --by ''"

    path = tmp_path / "sixty.html"
    path.write_text(mixlint.report(made, "html", sign=sign), encoding="utf-8")
    weight = path.stat().st_size / 1000
    record_property("kilobytes", weight)
    assert made.counts.flagged + made.counts.open > 150
    assert weight < MOST_KB, f"{weight:.0f} kB"
    opened = open_file(path)
    assert opened.page.locator(".row").count() == made.counts.flagged + made.counts.open


@pytest.fixture(scope="module")
def thousand(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of 1,000 channels with two rows and a question each, in every family that their names tell."""
    session = large(1000, 2)
    context = SessionContext(session)
    rows = []
    for number, channel in enumerate(session.channels):
        for rule, grade, verdict in (("a", "hold", "flagged"), ("b", "look", "flagged"), ("c", "look", "open")):
            rows.append(
                Finding(
                    rule=f"lamp-{rule}",
                    area="prep" if rule == "a" else "levels",
                    grade="note" if number % 7 and grade == "hold" else grade,
                    verdict=verdict,
                    subject=SubjectRef(table="channel", id=channel.id, name=channel.name),
                    message=f"{channel.name} stands 9.5 dB over the others, in bars 17 to 24 and 33 to 40.",
                    remedy=f"Turn {channel.name} down, or sign it off.",
                    question=f"Is {channel.name} whole?" if verdict == "open" else "",
                    order=number,
                    channels=(channel.id,),
                    fingerprint=fingerprint((rule, "channel", channel.name, "1")),
                )
            )
    review = SessionReview(
        source="large.json", title="Large", importer="json", digest="", standard="pre-bounce", outcome="held",
        counts=counts(rows), findings=tuple(rows),
    )  # fmt: skip
    path = tmp_path_factory.mktemp("thousand") / "page.html"
    text = review_html(Report(version="0", sessions=(review,)), [pictures_of(Scene(context, review.findings))])
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.slow
def test_the_page_of_1000_channels_stands_soon_and_folds_by_family(
    thousand: Path, open_file: Open, record_property: Any
) -> None:
    """From the call to two frames painted. What stands open then is what is to be done first, and a line a family."""
    begun = time.perf_counter()
    opened = open_file(thousand)
    page = opened.page
    page.evaluate("() => new Promise(r => requestAnimationFrame(() => requestAnimationFrame(r)))")
    took = time.perf_counter() - begun
    record_property("seconds", took)
    assert took < SOON_S
    print(f"{took:.2f} s, {thousand.stat().st_size / 1e6:.1f} MB")
    assert page.locator(".row").count() == 3000
    assert page.evaluate("[...document.querySelectorAll('.row')].filter(e => e.checkVisibility()).length") == 0
    assert page.locator(".first li").count() == 3
    summaries = page.locator("details.fold > summary:visible").all_inner_texts()
    assert any(one.startswith("guitars") for one in summaries)
    assert len(summaries) < 60
    opened.wide(320)
    assert not opened.cut(), told(opened.cut())


@pytest.mark.slow
def test_a_link_into_a_fold_opens_it_and_a_filter_opens_what_it_finds(thousand: Path, open_file: Open) -> None:
    page = open_file(thousand).page
    page.locator(".first a.channel").nth(1).click()
    page.wait_for_timeout(300)
    assert page.locator(".row:focus").is_visible()
    page.fill("input[name=channel]", "bass 17")
    page.wait_for_timeout(1500)
    assert page.inner_text("form.filter output") == "3 of 3000 rows shown"
    assert page.locator(".row:visible").count() == 3
