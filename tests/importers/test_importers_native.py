"""The native form: every misfit is named by its key, and nothing slips in or gets lost."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from mixlint import importers
from mixlint.errors import BrokenFile, MixlintError, NotASession
from mixlint.importers.native import parse
from mixlint.session import Channel, Session, Unknown

CHANNEL = {"id": "a", "name": "A", "kind": "track"}


def refusal(body: Any) -> MixlintError:
    text = body if isinstance(body, str | bytes) else json.dumps({"format": "mixlint-session/1", **body})
    with pytest.raises(MixlintError) as caught:
        parse(text, "song.json")
    assert caught.value.where.startswith("song.json")
    assert caught.value.do
    return caught.value


@pytest.mark.parametrize(
    ("body", "says"),
    [
        ({"channels": [{**CHANNEL, "fader_db": "loud"}]}, "channels[0].fader_db: "),
        ({"channels": [CHANNEL, {"id": "b", "name": "B"}]}, "channels[1].kind: this key is missing"),
        ({"channels": [{**CHANNEL, "volume": 1}]}, "channels[0].volume: there is no such key"),
        ({"channels": [{**CHANNEL, "sends": [{"to": "b", "tap": "mid"}]}]}, "channels[0].sends[0].tap: "),
        ({"channels": [CHANNEL, CHANNEL]}, "two channel entries share the id 'a'"),
        ({"channels": [{**CHANNEL, "clips": [{"start_s": 2, "end_s": 1}]}]}, "channels[0].clips[0]: the clip ends"),
        ({"channels": 3}, "channels: "),
        ({"timeline": {"tempos": [{"beat": 1, "bpm": 100}]}}, "must start at beat 0"),
    ],
)
def test_a_misfit_is_named_by_its_key(body: dict[str, Any], says: str) -> None:
    fault = refusal(body)
    assert isinstance(fault, BrokenFile)
    assert says in fault.what


def test_many_misfits_are_counted_not_listed() -> None:
    fault = refusal({"channels": [{**CHANNEL, "id": str(n), "pan": "left"} for n in range(20)]})
    assert fault.what.endswith("and 17 more")


def test_a_broken_line_is_given(tmp_path: Path) -> None:
    path = tmp_path / "song.json"
    path.write_text('{"format": "mixlint-session/1",\n "title": "x",,\n}', encoding="utf-8")
    with pytest.raises(BrokenFile, match=r"song\.json:2: "):
        importers.read(path)


@pytest.mark.parametrize("text", ["[]", "3", '"mixlint-session/1"', "{}", '{"format": 1}'])
def test_other_json_is_no_session(text: str) -> None:
    assert isinstance(refusal(text), NotASession)


def test_a_byte_order_mark_and_any_suffix_are_taken(tmp_path: Path) -> None:
    path = tmp_path / "song.mix"
    path.write_bytes(b"\xef\xbb\xbf" + b'\n {"title": "x",  "format": "mixlint-session/1"}')
    assert importers.read(path) == Session(title="x")


def test_what_is_unknown_and_what_goes_nowhere_come_back(tmp_path: Path) -> None:
    why = Unknown(unknown="hidden", settle="look")
    session = Session(
        channels=(
            Channel(id="a", name="A", kind="track", fader_db=why, output=None),
            Channel(id="b", name="B", kind=why),
        )
    )
    path = tmp_path / "song.json"
    path.write_text(session.json_text(), encoding="utf-8")
    assert importers.read(path) == session
