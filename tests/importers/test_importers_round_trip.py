"""Made sessions written in every exporter style, and in the native form, come back the same."""

from __future__ import annotations

from math import log10
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from mixlint import importers
from mixlint.importers.native import parse
from mixlint.session import Automation, Session
from mixlint.units import SILENCE_DB
from tests.importers.exporters import STYLES, Exporter, Style
from tests.importers.made_sessions import essence, sessions

pytestmark = pytest.mark.slow


def prepared(session: Session, style: Style) -> Session:
    """Some styles can only be told by a mark that the file must bear; give it one."""
    if style.pan == "-1..1 no range":
        first = session.channels[0].model_copy(update={"pan": -40.0})
        return session.model_copy(update={"channels": (first, *session.channels[1:])})
    if style.groups == "inner master":
        # The channel inside a folder that is its master cannot have a VCA's or return's place; nothing to change.
        return session
    return session


def level_db(automation: Automation, value: float) -> float:
    if automation.scale != "amplitude":
        return value
    return SILENCE_DB if value <= 0.0 else max(SILENCE_DB, 20.0 * log10(value))


def check_automation(written: Session, read: Session) -> None:
    """Every written point is there, in order; points may be added where the tempo changes."""
    for before, after in zip(written.channels, read.channels, strict=True):
        lanes = {str(one.target): one for one in after.automation}
        assert set(lanes) == {str(one.target) for one in before.automation}
        for lane in before.automation:
            found = lanes[str(lane.target)]
            if len(lane.t) > 1:
                assert found.shape == lane.shape
            points = iter(zip(found.t, found.v, strict=True))
            for time, value in zip(lane.t, lane.v, strict=True):
                assert any(abs(t - time) < 1e-6 and abs(level_db(found, v) - value) < 1e-3 for t, v in points), (
                    f"{lane.target} at {time} s: {value} is missing in {found}"
                )


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)
@given(session=sessions())
def test_a_written_session_comes_back(style: Style, session: Session, tmp_path: Path) -> None:
    session = prepared(session, style)
    path = tmp_path / "made.dawproject"
    path.write_bytes(Exporter(session, style).archive())
    read = importers.read(path)
    expected, got = essence(session), essence(read)
    if style.phantom_sends:
        for channel in got["channels"]:
            channel["sends"] = [send for send in channel["sends"] if not (send[1] == SILENCE_DB and send[4] is False)]
        for channel in expected["channels"]:
            channel["sends"] = [send for send in channel["sends"] if not (send[1] == SILENCE_DB and send[4] is False)]
    assert got == expected
    check_automation(session, read)


@settings(max_examples=60, deadline=None)
@given(session=sessions())
def test_the_native_form_loses_nothing(session: Session) -> None:
    assert parse(session.json_text(), "made.json") == session


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(session=sessions())
def test_what_was_read_survives_the_native_form_to_the_byte(session: Session, tmp_path: Path) -> None:
    path = tmp_path / "made.dawproject"
    path.write_bytes(Exporter(session, STYLES[0]).archive())
    read = importers.read(path)
    text = read.json_text()
    assert parse(text, "made.json") == read
    assert parse(text, "made.json").json_text() == text
