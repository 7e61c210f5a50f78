"""The pictures of the mix, its tone and its levels can be drawn of any session."""

from __future__ import annotations

import pytest
from drawn import collisions, geometry, picture, svg_of
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree

from mixlint.analysis.context import SessionContext
from mixlint.reports.pictures import pictures_of
from mixlint.reports.pictures.picture import Missing, Picture, Scene
from mixlint.session import Session, Unknown
from tests.importers.made_sessions import sessions


@pytest.mark.slow
@settings(deadline=None, max_examples=30, suppress_health_check=[HealthCheck.too_slow])
@given(sessions())
def test_any_session_is_drawn_or_told_why_not(of: Session) -> None:
    for name in ("stereo", "tone", "levels"):
        made = picture(name, of)
        if isinstance(made, Picture):
            assert collisions(geometry(made)) == []
            assert made.answer
            assert all(len(row) == len(made.words.head) for row in made.words.rows)
            etree.fromstring(svg_of(made))
        elif isinstance(made, Missing):
            assert made.why


HIDDEN = Unknown(unknown="cells of row 12 stand under other headings than theirs", settle="export it again")


@pytest.mark.slow
@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow])
@given(sessions(), st.data())
def test_a_session_is_drawn_whatever_lists_of_its_channels_are_not_shown(of: Session, data: st.DataObject) -> None:
    """As lists of channels leave them: each picture is drawn, or says what is missing."""
    lists = st.sets(st.sampled_from(("inserts", "clips", "sends")))
    channels = tuple(one.model_copy(update={"missing": dict.fromkeys(data.draw(lists), HIDDEN)}) for one in of.channels)
    made = pictures_of(Scene(SessionContext(of.model_copy(update={"channels": channels})), (), ()))
    assert all(one.why for one in made.drawn if isinstance(one, Missing))
    assert made.balance is not None
