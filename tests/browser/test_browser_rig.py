"""The rig itself: what it is there to find, it finds."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.browser.rig import open_page

if TYPE_CHECKING:
    from playwright.sync_api import Browser

HEAD = "<!DOCTYPE html><html lang='en'><head><meta charset='utf-8'><title>Lamp</title>"
START = f"{HEAD}</head><body>"
POLICY = "<meta http-equiv='Content-Security-Policy' content=\"default-src 'none'\">"


@pytest.mark.parametrize(
    ("body", "fault"),
    [
        ("<img src='https://nowhere.invalid/a.png' alt=''>", "asks for https://nowhere.invalid/a.png"),
        ("<link rel='stylesheet' href='beside.css'>", "asks for file:"),
        ("<script>console.error('no')</script>", "error of the console: no"),
        ("<script>nothing()</script>", "a script fails: nothing is not defined"),
        ("<script>alert('owned')</script>", "a dialog: owned"),
        (f"{POLICY}<script>1</script>", "error of the console: "),
    ],
)
def test_what_leaves_the_page_or_fails_in_it_is_a_fault(
    browser: Browser, tmp_path: Path, body: str, fault: str
) -> None:
    path = tmp_path / "page.html"
    path.write_text(f"{HEAD}{body}</head><body></body></html>", encoding="utf-8")
    opened, context = open_page(browser, path)
    context.close()
    assert any(one.startswith(fault) for one in opened.faults), opened.faults


def test_what_is_cut_at_the_sides_is_told_and_what_scrolls_is_not(browser: Browser, tmp_path: Path) -> None:
    """On paper nothing scrolls."""
    path = tmp_path / "page.html"
    wide = "<div style='width:60rem'>Kick</div>"
    path.write_text(
        f"{START}<div style='overflow-x:auto'>{wide}</div><div style='overflow:hidden'>{wide}</div></body></html>",
        encoding="utf-8",
    )
    opened, context = open_page(browser, path)
    assert opened.cut() == []
    opened.wide(400)
    assert [one.partition(":")[0] for one in opened.cut()] == ["cut", "outside"]
    opened.look(paper=True)
    assert len(opened.cut()) == 3
    context.close()


def test_barriers_are_told(browser: Browser, tmp_path: Path, axe: str) -> None:
    """A grey too faint, a picture without a word, a heading out of order."""
    path = tmp_path / "page.html"
    path.write_text(
        f"{START}<main><h1>Lamp</h1><h4>Hall</h4><p style='color:#bbb'>faint</p><svg role='img'></svg></main></body>",
        encoding="utf-8",
    )
    opened, context = open_page(browser, path)
    found = {one.partition(" ")[0] for one in opened.barriers(axe)}
    context.close()
    assert found == {"color-contrast", "heading-order", "svg-img-alt"}
