"""The page of a review as a browser shows it: nothing asked for, nothing cut, no barrier, on screens and on paper."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Open
from tests.browser.rig import PAPER_PX, WIDTHS, told

PAGES = ("held", "clear", "surveyed")


@pytest.mark.parametrize("name", PAGES)
def test_nothing_is_cut_at_the_sides(request: pytest.FixtureRequest, open_file: Open, name: str) -> None:
    """From 320 px on (WCAG 2.2, 1.4.10), in both colours; and on A4, where nothing scrolls."""
    opened = open_file(request.getfixturevalue(name))
    for width in WIDTHS:
        opened.wide(width)
        assert not opened.cut(), (width, told(opened.cut()))
    opened.look(paper=True)
    opened.wide(PAPER_PX)
    assert not opened.cut(), told(opened.cut())


@pytest.mark.parametrize("name", PAGES)
def test_there_is_no_barrier(request: pytest.FixtureRequest, open_file: Open, axe: str, name: str) -> None:
    """By every rule of axe-core, in light, in dark and on paper, and in a window as narrow as they come."""
    opened = open_file(request.getfixturevalue(name))
    for width, looks in ((1280, {}), (1280, {"dark": True}), (1280, {"paper": True}), (320, {})):
        opened.wide(width)
        opened.look(**looks)
        found = opened.barriers(axe)
        assert not found, (width, looks, told(found))
