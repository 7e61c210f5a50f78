"""The number of a mix, and how long what is signed until a mix holds."""

from __future__ import annotations

import json
import os
from contextlib import chdir
from pathlib import Path
from unittest.mock import patch

import pytest
from typer.testing import CliRunner

from mixlint.cli.app import app
from mixlint.comparison import Approval
from mixlint.comparison.paths import approval_beside
from mixlint.facts import SessionContext
from mixlint.session import Channel, Insert, SavedSettings, Session
from mixlint.signoffs.session import content_of, mix_number


def song(title: str = "Ferry Lane", fader: float = 0.0) -> Session:
    return Session(title=title, channels=(Channel(id="a", name="Bass", kind="track", fader_db=fader),))


@pytest.mark.parametrize(
    ("name", "title", "number"),
    [
        ("ferry-lane_mix07.dawproject", "", 7),
        ("ferry lane Mix 12.json", "Ferry Lane mix 3", 12),
        ("ferry-lane.json", "Ferry Lane mix 3", 3),
        ("remix4.json", "", None),
        ("mix.json", "", None),
        ("ferry-lane.json", "Ferry Lane", None),
    ],
)
def test_the_number_is_read_from_the_name_then_the_title(name: str, title: str, number: int | None) -> None:
    assert mix_number(Path(name), SessionContext(song(title))) == number


def test_else_it_follows_from_the_approval() -> None:
    """As approved it is that mix; changed since, it is on the way to the next."""
    approved = Approval(mix=4, by="RM", on="2026-03-14", standard="x", session=song())
    assert mix_number(Path("ferry-lane.json"), SessionContext(song(), approved=approved)) == 4
    assert mix_number(Path("ferry-lane.json"), SessionContext(song(fader=-3.0), approved=approved)) == 5


def test_an_approval_from_before_settings_were_kept_keeps_its_number() -> None:
    """It holds no hashes of saved settings, so that the session's own say nothing against it."""
    plate = Insert(name="Plate", saved=SavedSettings(path="a", present=True, content="sha256:1"))
    voice = Channel(id="a", name="Bass", kind="track", inserts=(plate,))
    bare = voice.model_copy(update={"inserts": (plate.model_copy(update={"saved": None}),)})
    was, now = (Session(title="Ferry Lane", channels=(one,)) for one in (bare, voice))
    approved = Approval(mix=4, by="RM", on="2026-03-14", standard="x", session=was)
    assert mix_number(Path("ferry-lane.json"), SessionContext(now, approved=approved)) == 4


def test_without_audio_the_content_says_so() -> None:
    assert content_of(SessionContext(song())).endswith("/unheard")
    assert content_of(SessionContext(song())) != content_of(SessionContext(song(fader=-3.0)))


def test_no_approval_is_none(tmp_path: Path) -> None:
    assert approval_beside(tmp_path / "ferry-lane.json") is None


def test_signed_until_a_mix_it_ends_with_the_next(tmp_path: Path) -> None:
    """A solo signed until mix 4: it holds while mix 4 is approved as it is, and lapses once it is worked on again."""
    path = tmp_path / "ferry.json"

    def write(fader: float) -> None:
        channels = [
            {"id": "b", "name": "Bass", "kind": "track", "solo": True, "fader_db": fader, "output": "m",
             "clips": [{"start_s": 0.0, "end_s": 60.0, "plays": "notes"}]},
            {"id": "m", "name": "Mix Bus", "kind": "master", "output": None},
        ]  # fmt: skip
        path.write_text(json.dumps({"format": "mixlint-session/1", "channels": channels}), encoding="utf-8")

    def run(*arguments: str) -> tuple[int, str]:
        with chdir(tmp_path), patch.dict(os.environ, {"MIXLINT_CACHE": ""}):
            result = CliRunner().invoke(app, arguments)
        return result.exit_code, " ".join(result.output.split())

    write(-6.0)
    assert run("sign", "ferry.json", "--approve", "--mix", "4", "--by", "RM")[0] == 0
    assert run("sign", "ferry.json", "nothing-soloed", "--because", "later", "--by", "RM", "--until", "mix 4")[0] == 0
    status, said = run("review", "ferry.json", "--area", "prep")
    assert (status, "it ends with this mix, mix 4" in said) == (0, True)
    write(-3.0)
    status, said = run("review", "ferry.json", "--area", "prep")
    assert (status, "it held until mix 4, and this is mix 5" in said) == (1, True)
