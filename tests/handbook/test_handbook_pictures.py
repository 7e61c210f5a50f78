"""The pictures of README and of the handbook are those that the page shows now, and stand alone."""

from __future__ import annotations

import re

import pytest
from lxml import etree

from mixlint.reports.pictures import KINDS
from tests.readme_pictures import COMMAND, FOLDER, PAGES, TOP, drawn, made, pictures

STALE = f"the pictures of README and the handbook have drifted; run: {COMMAND}"


@pytest.mark.slow
def test_the_pictures_are_those_that_are_drawn_now() -> None:
    wanted = made()
    assert {place: place.read_text(encoding="utf-8") if place.exists() else None for place in wanted} == wanted, STALE
    assert set(FOLDER.iterdir()) == {place for place in wanted if place.suffix == ".svg"}, STALE
    assert {one.name for one in pictures()} <= {kind.name for kind in KINDS}


@pytest.mark.slow
def test_they_stand_alone_for_light_and_dark() -> None:
    """No file, script or font is asked for; the colours of the page come along."""
    for place in FOLDER.glob("*.svg"):
        text = place.read_text(encoding="utf-8")
        root = etree.fromstring(text.encode("utf-8"))
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        names = {etree.QName(one).localname for one in root.iter() if isinstance(one.tag, str)}
        assert not names & {"script", "image", "use", "a", "foreignObject", "div"}
        assert not re.search(r"url\((?!#)|@import|https?:", text.replace("http://www.w3.org/2000/svg", ""))
        assert "prefers-color-scheme: dark" in text
        used = set(re.findall(r"var\((--[a-z-]+)\)", text))
        assert used <= set(re.findall(r"(--[a-z-]+):", text)), place
        assert len(text) < 150_000


@pytest.mark.slow
def test_each_is_shown_with_its_answer() -> None:
    """Whoever sees no picture reads what it says."""
    page = (PAGES / "pictures.md").read_text(encoding="utf-8")
    for one in drawn():
        assert f"(pictures/{one.name}.svg)" in page
        assert one.answer in page
    shown = re.findall(
        r"!\[([^\n]*)\]\((\.handbook/pages/pictures/[a-z_]+\.svg)\)", (TOP / "README.md").read_text("utf-8")
    )
    assert shown
    for said, place in shown:
        assert (TOP / place).is_file()
        assert len(said.split()) >= 5
