"""Levels as a picture: they follow the session's faders, clips, markers and buses."""

from __future__ import annotations

from typing import Any

import pytest
from drawn import collisions, geometry, picture, session, strip, svg_of
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from mixlint.reports.pictures.levels import FIRST, SONG_AT
from mixlint.reports.pictures.picture import Missing, Picture
from mixlint.reports.pictures.shapes import BIGGEST
from mixlint.session import Clip, Insert, Marker, Unknown

VOICE = strip("Lead Vocal")
SECTIONS = (Marker(time_s=0.0, name="Verse"), Marker(time_s=30.0, name="Chorus"))


def row(made: Any, name: str) -> tuple[str, ...]:
    """The row of a part in the table."""
    return next(one for one in made.words.rows if one[0] == name)


def test_a_fader_moves_a_level_by_as_much() -> None:
    made = picture("levels", session(VOICE, strip("Fiddle", fader_db=-10.0)))
    assert isinstance(made, Picture)
    assert row(made, "Fiddle")[1] == "−10 dB"
    assert made.answer.startswith(
        "Lead Vocal is the loudest, Fiddle 10 dB under it (from gains alone, nothing measured)."
    )
    big, small = sorted((one.r for one in geometry(made).spots), reverse=True)
    assert (small / big) ** 2 == pytest.approx(0.5, abs=0.02)
    assert big == BIGGEST


def test_a_part_stands_in_the_sections_in_which_it_plays() -> None:
    late = strip("Fiddle", clips=(Clip(start_s=30.0, end_s=60.0),))
    made = picture("levels", session(VOICE, late, markers=SECTIONS))
    assert isinstance(made, Picture)
    assert [bool(cell) for cell in row(made, "Fiddle")[1:4]] == [True, False, True]
    spots = geometry(made).spots
    assert sum(one.x == SONG_AT for one in spots) == 2
    assert len([one for one in spots if one.x >= FIRST]) == 3
    assert "Chorus is the loudest section, 3 dB over Verse, the softest." in made.answer


def test_without_markers_no_sections_are_made_up() -> None:
    made = picture("levels", session(VOICE))
    assert isinstance(made, Picture)
    assert "The session has no markers" in made.answer
    assert {one.x for one in geometry(made).spots} == {SONG_AT}


def test_what_a_bus_is_driven_with_takes_its_room() -> None:
    """A fader that goes down by 6 dB leaves 6 dB more room."""

    def room(fader_db: float) -> tuple[float, str]:
        made = picture("levels", session(strip("Kick", output="g", fader_db=fader_db), strip("g", "group")))
        text = row(made, "mix")[-1]
        (found,) = [one for one in geometry(made).rooms if one.title.startswith("mix")]
        assert found.assumed
        return float(text.split(" ")[0]), text

    (near, text), (far, _) = room(0.0), room(-6.0)
    assert far - near == pytest.approx(6.0, abs=0.11)
    assert text.endswith("of room, peaks assumed")


def test_over_full_scale_is_said_so() -> None:
    made = picture(
        "levels", session(strip("Kick", fader_db=6.0), strip("Snare", fader_db=6.0), strip("Bass", fader_db=6.0))
    )
    assert isinstance(made, Picture)
    assert "If parts peak as they are taken to, mix goes over full scale by" in made.answer
    assert [one.over for one in geometry(made).rooms] == [True]


def test_what_is_not_known_is_told_with_its_reason() -> None:
    lost = strip("Fiddle", fader_db=Unknown(unknown="the list gives no level"))
    made = picture("levels", session(VOICE, lost, strip("g", "group")))
    assert isinstance(made, Picture)
    assert "level" in row(made, "Fiddle")[-1]
    assert any(one.text.startswith("not known:") for one in geometry(made).labels)
    limited = strip("Kick", inserts=(Insert(name="Squeeze", kind="compressor"),))
    made = picture("levels", session(limited))
    assert row(made, "mix")[-1].startswith("not known: Squeeze on Kick may change the peaks")
    assert geometry(made).rooms == ()
    assert isinstance(picture("levels", session(lost)), Missing)
    assert picture("levels", session()) is None


NAMES = st.sampled_from(("Lead Vocal", "Kick", "W" * 60, "東京のギター", "<b>", "Fiddle", "{{ 7 }}", "Mm" * 9))


@pytest.mark.slow
@settings(deadline=None, max_examples=20)
@given(
    st.lists(st.tuples(NAMES, st.floats(-60.0, 12.0), st.integers(0, 9)), min_size=1, max_size=34),
    st.lists(st.tuples(NAMES, st.integers(0, 58)), max_size=18),
)
def test_nothing_lies_on_anything_else(parts: list[Any], marks: list[Any]) -> None:
    strips = [
        strip(f"p{n}", name=name, fader_db=level, output="g", clips=(Clip(start_s=5.0 * at, end_s=60.0),))
        for n, (name, level, at) in enumerate(parts)
    ]
    markers = tuple(Marker(time_s=float(at), name=name) for name, at in marks)
    made = picture("levels", session(*strips, strip("g", "group", name="G" * 50), markers=markers))
    assert isinstance(made, Picture)
    d = geometry(made)
    assert collisions(d) == []
    for label in d.labels:
        for room in d.rooms:
            assert label.x1 <= room.x0 or label.x0 >= max(room.x1, d.full) or abs(label.y - room.y) >= d.half
    etree.fromstring(svg_of(made))
    assert len(svg_of(made)) < 60_000
