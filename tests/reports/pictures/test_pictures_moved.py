"""Two revisions as pictures: what moved has an arrow and a slope, and what did not has none."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mixlint.analysis.contributions import Contribution, contributions
from mixlint.comparison import compare
from mixlint.facts import SessionContext
from mixlint.reports.page.compared import comparison_html, outcome_text
from mixlint.reports.pictures.moved import Move, Revisions, moves, together_db
from mixlint.reports.pictures.moved import levels as level_picture
from mixlint.reports.pictures.moved import places as place_picture
from mixlint.reports.pictures.picture import Missing, Picture
from mixlint.review.compare import ComparisonReport
from mixlint.session import Channel, Clip, Insert, Send, Session, Unknown
from mixlint.units import SILENCE_DB
from tests.comparison.revised import told_apart
from tests.facts.small_sessions import bus, context, mix, track
from tests.importers.made_sessions import sessions
from tests.reports.pictures.read_again import markup, outside, overlaps, svg
from tests.reports.pictures.test_pictures_pairs import NAMES

GUITARS = ("Acoustic Gtr L", "Acoustic Gtr R")
SIDES = {"Acoustic Gtr L": -60.0, "Acoustic Gtr R": 60.0}


def song(**changes: dict[str, Any]) -> Session:
    """Two guitars, each with its own reverb on the other side, vocal and bass in the middle; ``changes`` by name."""
    made: list[tuple[str, Callable[..., Channel], dict[str, Any]]] = []
    for name in (*GUITARS, "Vocal", "Bass"):
        own: dict[str, Any] = {"pan": SIDES.get(name, 0.0), "clips": (Clip(start_s=0.0, end_s=60.0),)}
        if name in SIDES:
            own["sends"] = (Send(to=f"Verb {name[-1]}", level_db=-12.0),)
        made.append((name, track, own))
    for side, pan in (("L", 60.0), ("R", -60.0)):
        own = {"pan": pan, "inserts": (Insert(name="Quarry Hall", kind="reverb"),)}
        made.append((f"Verb {side}", partial(bus, kind="return"), own))
    channels = []
    for name, make, own in made:
        if changes.get(name.replace(" ", "_"), {}) is None:
            continue
        channels.append(make(name, **{**own, **changes.get(name.replace(" ", "_"), {})}))
    return context(*channels, mix(**changes.get("Mix", {}))).session


def both(old: Session, new: Session) -> tuple[tuple[Move, ...], ComparisonReport, Revisions]:
    found = compare(old, new)
    revisions = Revisions(SessionContext(old), SessionContext(new), found.same)
    report = ComparisonReport(old="a", new="b", standard="pre-bounce", changes=found.changes, unseen=found.unseen)
    return moves(revisions), report, revisions


def moved(found: tuple[Move, ...]) -> dict[str, str]:
    return {move.name: move.text for move in found if move.moved}


def test_a_fader_and_a_pan_move_what_they_move_and_nothing_else() -> None:
    found, report, _ = both(song(), song(Vocal={"fader_db": 3.0}, Acoustic_Gtr_R={"pan": 30.0}))
    assert moved(found) == {"Vocal": "3 dB up", "Acoustic Gtr R": "from 60 right to 30 right"}
    places = place_picture.draw(found, "moved_places", "x")
    assert isinstance(places, Picture)
    arrows = {arrow.title.partition(":")[0]: arrow for arrow in places.drawing.arrows}  # type: ignore[attr-defined]
    assert set(arrows) == {"Vocal", "Acoustic Gtr R"}
    assert arrows["Acoustic Gtr R"].x2 < arrows["Acoustic Gtr R"].x1
    assert arrows["Vocal"].y2 < arrows["Vocal"].y1
    assert arrows["Vocal"].x2 == arrows["Vocal"].x1
    assert places.answer == "1 inwards, 1 up; first Vocal, 3 dB up."
    levels = level_picture.draw(found, "moved_levels", "x")
    assert isinstance(levels, Picture)
    assert [row[0] for row in levels.words.rows] == ["Vocal"]
    assert outcome_text(report, found).startswith("What moves the mix most: Vocal, 3 dB up (")


def test_the_caption_says_which_way_parts_went() -> None:
    """Outwards, inwards and across the middle by pans, the others by level and by what came and went."""
    new = song(
        Acoustic_Gtr_L={"pan": 40.0}, Acoustic_Gtr_R={"pan": 90.0}, Vocal={"mute": True}, Bass=None,
        Verb_L={"fader_db": -5.0},
    )  # fmt: skip
    found, _, _ = both(song(), new)
    picture = place_picture.draw(found, "moved_places", "x")
    assert isinstance(picture, Picture)
    assert picture.answer.startswith("1 outwards, 1 to the other side, 1 down, 1 silent now, 1 removed; first ")


def test_shares_follow_the_energy() -> None:
    """Four parts at one loudness (no audio), two of them in the middle: 3 dB of one are about its own energy again."""
    found, _, _ = both(song(), song(Vocal={"fader_db": 3.0103}))
    share = {move.name: move.share for move in found}
    energies = {one.channel: (one.left or 0.0) + (one.right or 0.0) for one in contributions(SessionContext(song()))}
    assert share["Vocal"] == pytest.approx(energies["Vocal"] / sum(energies.values()), rel=1e-3)
    assert share["Bass"] == pytest.approx(0.0, abs=1e-9)


def test_what_comes_goes_and_falls_silent() -> None:
    found, report, _ = both(song(), song(Vocal={"mute": True}, Bass=None))
    assert moved(found) == {"Vocal": "silent now", "Bass": "removed"}
    again, _, _ = both(song(Vocal={"mute": True}, Bass=None), song())
    assert moved(again) == {"Vocal": "sounds now", "Bass": "added"}
    assert "1 channel removed, 1 mute switched" in outcome_text(report, found)
    for one in (found, again):
        picture = place_picture.draw(one, "moved_places", "x")
        assert ("removed part" in str(picture)) is (one is found)
        assert 'class="sign"' in markup(picture)


def test_all_parts_together_are_told_as_one() -> None:
    found, report, _ = both(song(), song(Mix={"fader_db": -3.0}))
    assert together_db(found) == pytest.approx(-3.0)
    assert outcome_text(report, found).startswith("The parts are 3 dB down together.")


def test_a_send_alone_moves_ambience_and_no_arrow() -> None:
    found, report, _ = both(song(), song(Acoustic_Gtr_L={"sends": ()}))
    assert moved(found) == {}
    assert isinstance(place_picture.draw(found, "moved_places", "x"), Missing)
    assert "1 send removed." in outcome_text(report, found)


def test_a_level_that_is_not_seen_is_told_and_not_drawn() -> None:
    hidden = Unknown(unknown="the export shows no fader", settle="look at it")
    found, _, _ = both(song(), song(Vocal={"fader_db": hidden}, Bass={"fader_db": 4.0}))
    assert moved(found) == {"Bass": "4 dB up"}
    levels = level_picture.draw(found, "moved_levels", "x")
    assert isinstance(levels, Picture)
    assert "1 level not seen." in levels.answer
    assert ("Vocal", "0 dB", "not seen") in {row[:3] for row in levels.words.rows} or any(
        row[0] == "Vocal" and row[2] == "not seen" for row in levels.words.rows
    )


def test_the_page_says_when_nothing_changed() -> None:
    found, report, revisions = both(song(), song())
    page = comparison_html(report, revisions)
    assert outcome_text(report, found) == "Nothing changed."
    assert "Nothing changed." in page
    assert "<svg" not in page


def test_the_page_has_what_the_text_has() -> None:
    from lxml import etree

    from mixlint.reports.compare import comparison_text
    from mixlint.reports.plain import Page

    old = song()
    new = song(
        Vocal={"fader_db": 3.0, "inserts": (Insert(name="Slate Limiter", kind="limiter"),)},
        Acoustic_Gtr_L={"sends": (), "pan": -80.0}, Bass={"solo": True}, Verb_R={"mute": True},
    )  # fmt: skip
    _, report, revisions = both(old, new)
    page = comparison_html(report, revisions)
    root = etree.fromstring(page.split("\n", 1)[1].encode())
    said = " ".join("".join(root.itertext()).split())
    assert len(report.changes) >= 6
    assert all(change.says in said for change in report.changes)
    lines = comparison_text(report, Page(2000)).splitlines()
    assert all(line.strip() in said for line in lines[4:] if line.strip() and "─" not in line)
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    listed = "".join(root.xpath("//section[h2='Added, removed and switched']//text()"))
    assert "insert Slate Limiter added" in " ".join(listed.split())
    assert "fader" not in listed


STANDING = st.builds(
    Contribution, channel=st.just("x"), a_return=st.booleans(), pan=st.floats(-100.0, 100.0),
    level_db=st.floats(-90.0, 12.0) | st.just(SILENCE_DB), left=st.none(), right=st.none(), measured=st.booleans(),
)  # fmt: skip


@st.composite
def some_moves(draw: st.DrawFn) -> list[Move]:
    found = []
    for _ in range(draw(st.integers(1, 50))):
        was, now = draw(st.none() | STANDING), draw(STANDING)
        name = _plain(draw(NAMES)) or "a"
        found.append(Move(name, draw(st.booleans()), was, now, draw(st.none() | st.floats(0, 3)), draw(st.booleans())))
    return found


def _plain(text: str) -> str:
    from mixlint.reports.plain import neutral

    return neutral("".join(char for char in text if ord(char) < 0xD800 or ord(char) > 0xFFFF)).strip()


SOME = settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)


@pytest.mark.slow
@SOME
@given(some_moves())
def test_no_text_lies_on_another_or_leaves_the_picture(found: list[Move]) -> None:
    for draw_one, name in ((place_picture.draw, "moved_places"), (level_picture.draw, "moved_levels")):
        picture = draw_one(found, name, "x")
        if isinstance(picture, Picture):
            drawing = svg(picture)
            assert overlaps(drawing) == []
            assert outside(drawing) == []


@pytest.mark.slow
@SOME
@given(some_moves())
def test_marks_stay_inside_and_no_two_arrows_share_their_ends(found: list[Move]) -> None:
    picture = place_picture.draw(found, "moved_places", "x")
    if isinstance(picture, Missing):
        return
    drawing: Any = picture.drawing
    for arrow in drawing.arrows:
        assert drawing.left - 12 <= min(arrow.x1, arrow.x2) <= max(arrow.x1, arrow.x2) <= drawing.right + 12
        assert drawing.top - 0.1 <= min(arrow.y1, arrow.y2) <= max(arrow.y1, arrow.y2) <= drawing.foot
    assert len(drawing.labels) == min(len([m for m in found if m.moved]), place_picture.LABELLED)


@pytest.mark.slow
@settings(max_examples=15, deadline=None, suppress_health_check=list(HealthCheck))
@given(told_apart(), sessions())
def test_any_two_sessions_make_a_page(one: Session, other: Session) -> None:
    from lxml import etree

    for old, new in ((one, other), (one, one)):
        _, report, revisions = both(old, new)
        page = comparison_html(report, revisions)
        etree.fromstring(page.split("\n", 1)[1].encode())
        assert ("<svg" in page) <= bool(report.changes)


def test_a_bus_moves_what_passes_it() -> None:
    """A group's fader moves its parts, not itself: they are what is heard."""

    def with_bus(db: float) -> Session:
        parts = [track(name, output="Guitars", clips=(Clip(start_s=0.0, end_s=60.0),)) for name in GUITARS]
        return context(*parts, bus("Guitars", fader_db=db), mix()).session

    found, _, _ = both(with_bus(0.0), with_bus(-4.0))
    assert moved(found) == dict.fromkeys(GUITARS, "4 dB down")
