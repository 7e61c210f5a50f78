"""The page of a review as a browser shows it: nothing asked for, nothing cut, no barrier, on screens and on paper."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Open
from tests.browser.rig import PAPER_PX, WIDTHS, told

PAGES = ("held", "clear")


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


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize("name", PAGES)
def test_there_is_no_barrier(request: pytest.FixtureRequest, open_file: Open, axe: str, name: str, width: int) -> None:
    """By every rule of axe-core, in light, in dark and on paper."""
    opened = open_file(request.getfixturevalue(name))
    opened.wide(width)
    for looks in ({}, {"dark": True}, {"paper": True}):
        opened.look(**looks)
        found = opened.barriers(axe)
        assert not found, (looks, told(found))
