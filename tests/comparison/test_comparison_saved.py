"""Saved settings that nobody reads, in two revisions: that they changed is told, and what changed never."""

from __future__ import annotations

from typing import Any

import pytest

from mixlint.comparison import compare
from mixlint.comparison.digest import mix_digest
from mixlint.session import Automation, Channel, Insert, SavedSettings, Session, Unknown

TOO_LARGE = Unknown(unknown="the file of its settings holds 9 bytes, more than the 8 that are read")


def plate(content: str | Unknown | None = "sha256:aa", *, plugin: str = "", path: str = "a.bin", **more: Any) -> Insert:
    """A plug-in with saved settings; None: without."""
    saved = None if content is None else SavedSettings(path=path, present=True, content=content, plugin=plugin)
    return Insert(name="Tall Plate", saved=saved, **more)


def song(*inserts: Insert, lanes: tuple[Automation, ...] = ()) -> Session:
    spare = Insert(name="Spare", saved=SavedSettings(path="s.bin", present=True, content="sha256:00"))
    vox = Channel(id="v", name="Vox", kind="track", output="m", inserts=inserts, automation=lanes)
    mix = Channel(id="m", name="Mix", kind="master", output=None, inserts=(spare,))
    return Session(channels=(vox, mix))


def told(old: Session, new: Session) -> tuple[list[str], list[str]]:
    found = compare(old, new)
    return [one.says for one in found.changes], [one.why for one in found.unseen]


def test_changed_settings_are_told_and_nothing_else_of_them() -> None:
    changes, unseen = told(song(plate()), song(plate("sha256:bb")))
    assert changes == ["settings of Tall Plate changed; what changed cannot be read"]
    assert unseen == []
    assert mix_digest(song(plate())) != mix_digest(song(plate("sha256:bb")))


def test_the_same_settings_in_another_file_are_no_change() -> None:
    assert told(song(plate()), song(plate(path="elsewhere/b.bin"))) == ([], [])
    assert mix_digest(song(plate())) == mix_digest(song(plate(path="elsewhere/b.bin")))


def test_what_is_shown_is_named_and_the_rest_is_said_to_be_hidden() -> None:
    (change,), _ = told(song(plate(wet=100.0)), song(plate("sha256:bb", wet=60.0)))
    assert change == (
        "insert Tall Plate set otherwise: wet 60 %, was 100 %; what else changed in its saved settings cannot be read"
    )


def test_another_plugin_of_the_same_name_is_told_as_such() -> None:
    changes, _ = told(song(plate(plugin="A" * 32)), song(plate("sha256:bb", plugin="B" * 32)))
    assert changes == ["insert Tall Plate is another plug-in of this name; its settings cannot be compared"]


@pytest.mark.parametrize(
    ("was", "now", "why"),
    [
        ("sha256:aa", TOO_LARGE, "the newer revision does not show the settings of Tall Plate: the file of its"),
        (TOO_LARGE, TOO_LARGE, "neither revision shows the settings of Tall Plate: the file of its settings holds"),
        (None, "sha256:aa", "the older revision does not show the settings of Tall Plate: it holds no saved settings"),
        (None, None, ""),
    ],
)
def test_what_cannot_be_compared_is_told_as_not_seen(was: Any, now: Any, why: str) -> None:
    changes, unseen = told(song(plate(was)), song(plate(now)))
    assert changes == []
    assert [one.startswith(why) for one in unseen] == ([True] if why else [])


def test_a_revision_that_saves_nothing_is_told_once() -> None:
    """As an approval that an older version of the program wrote, or the export of another program."""
    new = song(plate(), plate("sha256:cc"))
    old = new.model_copy(
        update={"channels": tuple(c.model_copy(update={"inserts": tuple(
            i.model_copy(update={"saved": None}) for i in c.inserts)}) for c in new.channels)}
    )  # fmt: skip
    assert told(old, new) == (
        [], ["the older revision holds no saved settings of plug-ins, so that it cannot be told whether any changed"]
    )  # fmt: skip
    assert [one.channel for one in compare(old, new).unseen] == [""]


@pytest.mark.parametrize(("target", "hides"), [("insert:0:17", True), ("insert:0:wet", True), ("insert:0:on", False)])
def test_what_automation_moves_is_saved_as_it_stood_at_the_export(target: str, hides: bool) -> None:
    """So that a difference says nothing: it is no change, it is not hidden, and the hash of the mix does not move."""
    lane = Automation(target=target, scale="plain", t=(0.0, 1.0), v=(0.0, 1.0))
    old, new = (song(plate(one), lanes=(lane,)) for one in ("sha256:aa", "sha256:bb"))
    changes, unseen = told(old, new)
    assert bool(changes) is not hides
    assert bool(unseen) is hides
    assert (mix_digest(old) == mix_digest(new)) is hides
