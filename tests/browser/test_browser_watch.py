"""The page of ``mixlint watch --page`` in a browser: a row is signed in it, and it renews itself."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

from tests.browser.conftest import EXAMPLES
from tests.browser.rig import Opened
from tests.cli.watched import DEADLINE_S, Watched

if TYPE_CHECKING:
    from playwright.sync_api import Browser

WAIT_MS = DEADLINE_S * 1000.0


def test_a_row_is_signed_on_the_page_and_cured_rows_are_told(browser: Browser, axe: str, tmp_path: Path) -> None:
    """The reason and the initials land in the file of sign-offs; the next export is told on top of the page.

    That part stands on no other page: axe-core finds no barrier in it either, and nothing is cut at the sides.
    """
    song = tmp_path / "song.session.json"
    shutil.copy(EXAMPLES / "sixpenny-weathervane-flawed.session.json", song)
    page = browser.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda said: faults.append(said.text) if said.type in ("error", "warning") else None)
    with Watched(tmp_path, song, "--no-audio", "--page") as watched:
        watched.until_stands(1)
        address = re.search(r"http://\S+", watched.said())
        assert address
        page.goto(address[0])
        row = page.locator("[data-fingerprint]", has_text="Bass does not reach the mix bus").first
        row.locator("summary", has_text="sign it off here").click(timeout=WAIT_MS)
        row.get_by_label("because").fill("only for the talk back <b>&")
        row.get_by_label("initials").fill("RM")
        row.get_by_role("button", name="sign").click()
        page.get_by_text("1 signed off").first.wait_for(timeout=WAIT_MS)
        (kept,) = tmp_path.glob("*.signed.txt")
        assert "only for the talk back <b>&" in kept.read_text("utf-8")
        body = json.loads(song.read_text("utf-8"))
        for channel in body["channels"]:
            channel["solo"] = False
        half = tmp_path / "half"
        half.write_text(json.dumps(body), encoding="utf-8")
        half.replace(song)
        page.get_by_text("1 cured").first.wait_for(timeout=WAIT_MS)
        assert page.get_by_text("Shaker is soloed").first.is_visible()
        opened = Opened(page, page.url)
        for dark in (False, True):
            opened.look(dark=dark)
            assert opened.barriers(axe) == []
        opened.wide(320)
        assert opened.cut() == []
    assert not faults
    page.close()
