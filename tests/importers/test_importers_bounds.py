"""Names of 100,000 characters: cut where they are read, told apart, and no report is larger than somebody can open."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import mixlint
from mixlint.importers.bounds import ID, NAME, PATH, bounded, shortened
from mixlint.reports.forms import REVIEW_FORMS

SONG = Path(__file__).parents[2] / "example_sessions" / "sixpenny-weathervane.session.json"
LONG = 100_000


@pytest.fixture(scope="module")
def long(tmp_path_factory: pytest.TempPathFactory) -> Path:
    body = json.loads(SONG.read_text("utf-8"))
    for number, channel in enumerate(body["channels"]):
        channel["name"] += "x y"[number % 3] * LONG
        channel["comment"] = "c" * LONG
        for insert in channel.get("inserts", []):
            insert["name"] += "z" * LONG
    body["title"] = "t" * LONG
    path = tmp_path_factory.mktemp("long") / "long.json"
    path.write_text(json.dumps(body), "utf-8")
    return path


def test_a_long_name_is_cut_with_a_mark(long: Path) -> None:
    session = mixlint.read(long)
    assert session.title.startswith("t" * NAME + "… (100,000 characters, ")
    assert all(len(one.name) < NAME + 60 and len(one.comment) < PATH + 60 for one in session.channels)
    assert any("up to 100,0" in note.text and note.loses for note in session.notes)


def test_what_begins_alike_is_told_apart_and_an_id_finds_its_channel(tmp_path: Path) -> None:
    ids = ["i" * LONG + end for end in "ab"]
    body = {
        "format": "mixlint-session/1",
        "channels": [
            {"id": ids[0], "name": "n" * LONG + "a", "kind": "track", "output": ids[1]},
            {"id": ids[1], "name": "n" * LONG + "b", "kind": "master", "output": None},
        ],
    }
    path = tmp_path / "a.json"
    path.write_text(json.dumps(body))
    one, two = mixlint.read(path).channels
    assert one.output == two.id != one.id
    assert one.name != two.name
    assert len(two.id) < ID + 60


def test_a_session_of_usual_names_is_the_very_same() -> None:
    session = mixlint.read(SONG)
    assert bounded(session) is session
    assert shortened("Kick", NAME) == "Kick"


@pytest.mark.slow
def test_a_report_of_long_names_can_be_opened(long: Path) -> None:
    """Against 24 to 290 MB for a session of as many channels before; with everything in it 1.2 to 8.4 MB were seen."""
    review = mixlint.check(long, audio=False, everything=True, pictures=True, areas=["routing", "prep"])
    for form in REVIEW_FORMS:
        assert len(mixlint.report([review], form)) < 3_000_000, form
