"""The pictures of the mix, its tone and its levels can be drawn of any session."""

from __future__ import annotations

import pytest
from drawn import collisions, geometry, picture, svg_of
from hypothesis import HealthCheck, given, settings
from lxml import etree

from mixlint.reports.pictures.picture import Missing, Picture
from mixlint.session import Session
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
