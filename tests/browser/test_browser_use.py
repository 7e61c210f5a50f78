"""The page in use: what is seen first, the keyboard, filters, links and lines that are copied, and without a script."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from mixlint.analysis.context import SessionContext
from mixlint.cli.app import app
from mixlint.reports.page.document import review_html
from mixlint.reports.pictures import pictures_of
from mixlint.reports.pictures.picture import Scene
from tests.benchmarks.bench_facts import large
from tests.browser.conftest import EXAMPLES, Open, review
from tests.browser.rig import PAPER_PX, WIDTHS, Opened, told
from tests.reports.hostile import session_body
from tests.reports.reportsamples import HARBOUR, HOSTILE, LULLABY, report

if TYPE_CHECKING:
    from playwright.sync_api import Page

FOCUSED = """
() => {
  const e = document.activeElement;
  const s = getComputedStyle(e);
  const all = [...document.querySelectorAll('*')];
  return { at: all.indexOf(e), what: e.tagName, seen: s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2,
           box: e.getBoundingClientRect().width };
}
"""
REACHED = """
() => {
  const all = [...document.querySelectorAll('*')];
  return [...document.querySelectorAll('a[href], button, select, input, summary, .scroll')]
    .filter(e => e.checkVisibility({ contentVisibilityAuto: true })).map(e => all.indexOf(e));
}
"""


def filtered(opened: Opened, *, typed: bool = False) -> str:
    """What the filter tells, once it has; it waits until nothing more is typed."""
    opened.page.wait_for_timeout(350 if typed else 30)
    return opened.page.inner_text("form.filter output")


def tells(page: Page, text: str) -> None:
    """The live region says so, within a moment."""
    from playwright.sync_api import expect

    expect(page.locator("#said")).to_have_text(text)


def visible_rows(page: Page) -> int:
    return sum(one.is_visible() for one in page.locator(".row").all())


@pytest.mark.parametrize(("width", "within"), [(1280, 800), (768, 900)])
def test_outcome_counts_and_what_to_do_first_are_seen_at_once(
    held: Path, open_file: Open, width: int, within: int
) -> None:
    """Whoever opens the page scrolls nothing to know whether to bounce, what to mend and on which channel."""
    opened = open_file(held)
    opened.wide(width)
    for what in (".outcome", ".counts", ".first li:nth-child(1)", ".first li:nth-child(3)"):
        box = opened.page.locator(what).bounding_box()
        assert box is not None
        assert box["y"] + box["height"] < within, what
    first = opened.page.locator(".first li").first.inner_text()
    assert (
        " ".join(first.split())
        == "hold Shaker channel 6 in Drums Shaker is soloed. Take the solo off before the bounce."
    )


def test_the_keyboard_reaches_everything_in_order_and_is_seen_where_it_is(held: Path, open_file: Open) -> None:
    """Every link, field, button, fold and region that scrolls, in the order of the page, and out again at its end."""
    page = open_file(held).page
    wanted = page.evaluate(REACHED)
    met = []
    for _ in range(len(wanted) + 20):
        page.keyboard.press("Tab")
        here = page.evaluate(FOCUSED)
        if here["what"] == "BODY":
            break
        assert here["seen"], here
        assert here["box"] > 2, here  # what is not seen until it has the focus is seen then
        met.append(here["at"])
    assert met == sorted(met)
    assert set(wanted) <= set(met)


def test_rows_are_filtered_by_the_keyboard_and_counted_aloud(held: Path, open_file: Open) -> None:
    """Grade by its letter, channel by what is typed, and Escape shows all again."""
    opened = open_file(held)
    page = opened.page
    rows = page.locator(".row").count()
    page.locator("select[name=grade]").focus()
    page.keyboard.press("h")
    held_rows = page.locator(".row[data-grade=hold]").count()
    assert filtered(opened) == f"{held_rows} of {rows} rows shown"
    assert visible_rows(page) == held_rows
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.type("shaker")
    assert filtered(opened, typed=True) == f"1 of {rows} rows shown"
    assert page.locator(".row:visible .channel").all_inner_texts() == ["Shaker"]
    page.keyboard.press("Escape")
    assert filtered(opened) == ""
    assert visible_rows(page) == rows
    assert page.get_by_role("status").count() == 2  # the count, and what was copied


def test_every_choice_of_a_filter_shows_as_many_rows_as_it_says(held: Path, open_file: Open) -> None:
    opened = open_file(held)
    page = opened.page
    for name in ("grade", "area", "family"):
        choices = page.locator(f"select[name={name}] option").all_inner_texts()[1:]
        assert choices
        for choice in choices:
            page.select_option(f"select[name={name}]", label=choice)
            number = int(choice.rpartition("(")[2].rstrip(")"))
            assert filtered(opened).startswith(f"{number} of ")
            assert page.locator(".row:not(.off)").count() == number
        page.select_option(f"select[name={name}]", "")


def test_a_link_to_a_row_is_copied_by_one_click_and_leads_there(held: Path, open_file: Open) -> None:
    opened = open_file(held, permissions=["clipboard-read", "clipboard-write"])
    page = opened.page
    link = page.locator("a.anchor").nth(3)
    anchor = link.get_attribute("href")
    link.click()
    tells(page, "Link to this row copied")
    assert link.inner_text() == "copied"
    copied = page.evaluate("navigator.clipboard.readText()")
    assert copied == f"{opened.url}{anchor}"
    page.evaluate("document.activeElement.blur()")
    page.goto(copied)  # the same page with another end: the script hears of it
    page.reload()
    assert page.evaluate("document.activeElement.id") == str(anchor)[1:]


def test_a_link_to_a_row_that_is_filtered_out_shows_it_again(held: Path, open_file: Open) -> None:
    opened = open_file(held)
    page = opened.page
    page.select_option("select[name=grade]", "look")
    assert filtered(opened) != ""
    page.locator(".first a.channel").first.click()
    page.wait_for_timeout(200)
    assert page.locator(".row:focus .channel").inner_text() == "Shaker"
    assert filtered(opened) == ""


def test_the_line_that_signs_is_copied_and_the_command_takes_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, open_file: Open
) -> None:
    """With a reason and initials in it; empty as it stands it is refused."""
    session = tmp_path / "weather vane.session.json"
    session.write_bytes((EXAMPLES / "sixpenny-weathervane-flawed.session.json").read_bytes())
    page = open_file(review(tmp_path, str(session)), permissions=["clipboard-read", "clipboard-write"]).page
    page.locator(".row .rest summary").nth(1).focus()
    page.keyboard.press("Enter")
    page.locator("button.copy:visible").wait_for()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "copy the line for Bass"
    page.keyboard.press("Enter")
    tells(page, "Line copied")
    line = page.evaluate("navigator.clipboard.readText()")
    words = shlex.split(line)
    assert words[:2] == ["mixlint", "sign"]
    assert CliRunner().invoke(app, words[1:]).exit_code == 2
    filled = [{"--because": "intended sound", "--by": "RM"}.get(words[n - 1], word) for n, word in enumerate(words)]
    done = CliRunner().invoke(app, filled[1:])
    assert done.exit_code == 0, done.output
    signed = "".join(one.read_text("utf-8") for one in tmp_path.iterdir() if one.suffix != ".html" and one != session)
    assert "reaches-mix-bus" in signed


def test_without_a_script_all_rows_are_read_and_no_filter_is_there(held: Path, open_file: Open) -> None:
    opened = open_file(held, script=False)
    page = opened.page
    assert page.locator(".row").count() > 10
    assert visible_rows(page) == page.locator(".row").count()
    assert not page.locator("form.filter").is_visible()
    assert page.locator("button:visible").count() == 0
    page.locator(".first a.channel").first.click()
    assert page.locator(".row:target .channel").inner_text() == "Shaker"


@pytest.mark.parametrize("looks", [{}, {"dark": True}, {"paper": True}, {"forced_colors": "active"}])
def test_grades_differ_by_word_and_by_shape(held: Path, open_file: Open, looks: dict[str, Any]) -> None:
    """Each has a word; the marks of hold, look, note and question are four pictures, whatever the colours."""
    opened = open_file(held)
    opened.look(**looks)
    marks = {kind: opened.page.locator(f".counts .mark.{kind}") for kind in ("hold", "look", "note", "asked")}
    assert len({mark.screenshot() for mark in marks.values()}) == 4
    assert [one.split()[1] for one in opened.page.locator(".counts li").all_inner_texts()[:4]] == [
        "hold", "look", "notes", "questions",
    ]  # fmt: skip


def test_nothing_moves(held: Path, open_file: Open) -> None:
    """Nobody has to ask for less motion: there is no transition, no animation and no smooth scrolling."""
    opened = open_file(held)
    opened.look(reduced_motion="no-preference")
    moving = opened.page.evaluate(
        "[...document.querySelectorAll('*')].filter(e => { const s = getComputedStyle(e); return "
        "s.scrollBehavior !== 'auto' || s.animationName !== 'none' || parseFloat(s.transitionDuration) > 0; }).length"
    )
    assert moving == 0


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a session whose every text is hostile."""
    folder = tmp_path_factory.mktemp("hostile")
    path = folder / "strange.session.json"
    path.write_text(json.dumps(session_body()), encoding="utf-8")
    return review(folder, str(path))


@pytest.fixture(scope="module")
def several(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One page of four sessions, two of one name; one with pictures, one hostile."""
    drawn = pictures_of(Scene(SessionContext(large(12, 2))))
    path = tmp_path_factory.mktemp("several") / "page.html"
    path.write_text(review_html(report(HARBOUR, LULLABY, HOSTILE, HARBOUR), [drawn], everything=True), encoding="utf-8")
    return path


def test_hostile_names_do_nothing(hostile: Path, open_file: Open, axe: str) -> None:
    """No script of theirs runs, nothing is asked for, nothing is cut; filters and links work beside them."""
    opened = open_file(hostile)
    for width in WIDTHS:
        opened.wide(width)
        assert not opened.cut(), (width, told(opened.cut()))
    assert not opened.barriers(axe)
    opened.page.fill("input[name=channel]", "<script>")
    assert " of " in filtered(opened, typed=True)
    assert opened.page.evaluate("window.owned === undefined")
    assert opened.page.locator("main script, main img, main iframe").count() == 0


def test_several_sessions_on_one_page(several: Path, open_file: Open, axe: str) -> None:
    """Each has its own filter, and all the page is as free of barriers as one alone."""
    opened = open_file(several)
    for width in (320, 1280):
        opened.wide(width)
        assert not opened.cut(), told(opened.cut())
    found = opened.barriers(axe)
    assert not found, told(found)
    page = opened.page
    page.locator("select[name=grade]").first.select_option("hold")
    opened.page.wait_for_timeout(300)
    told_of = page.locator("form.filter output").all_inner_texts()
    assert " of " in told_of[0]
    assert told_of[1:] == [""] * (len(told_of) - 1)
    opened.look(paper=True)
    opened.wide(PAPER_PX)
    assert not opened.cut(), told(opened.cut())
