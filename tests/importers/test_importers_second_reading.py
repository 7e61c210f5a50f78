"""Whatever is read of a file, a second reading by lxml alone reads the same: nothing comes out differently.

It runs on the example sessions, on sessions in every exporter's style, on small files that hold what was found in files
of others, and on every file in the folder that MIXLINT_SAMPLES names.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from mixlint import importers
from mixlint.errors import NotASession
from mixlint.session import Session
from tests.importers.documents import document, track
from tests.importers.exporters import STYLES, Style
from tests.importers.readings_apart import Compared
from tests.importers.second_reading import document_of, second_reading
from tests.mutation.clean import clean_sessions
from tests.mutation.writing import Written

EXAMPLES = Path(__file__).resolve().parents[2] / "example_sessions"
FOLDER = os.environ.get("MIXLINT_SAMPLES", "")


def compared(path: Path) -> Compared:
    return Compared(importers.read(path), second_reading(document_of(path)))


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.dawproject")), ids=lambda path: path.stem)
def test_the_example_sessions(path: Path) -> None:
    found = compared(path)
    assert (found.apart, found.left_open) == ([], [])
    assert sum(found.counts.values()) > 1900
    assert {"fader", "pan", "mute", "solo", "output", "send's level", "insert's name", "band's frequency",
            "clip's start", "tempo", "marker", "point's value"} <= set(found.counts)  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.name)
def test_every_exporters_style(style: Style, tmp_path: Path) -> None:
    path = tmp_path / "song.dawproject"
    for clean in clean_sessions(1):
        path.write_bytes(Written(clean.session, style).archive())
        assert compared(path).apart == [], clean.name


@pytest.mark.skipif(not FOLDER, reason="MIXLINT_SAMPLES names no folder")
def test_files_that_nobody_here_wrote() -> None:
    read = 0
    for path in sorted(Path(FOLDER).glob("*")):
        if path.suffix not in (".dawproject", ".xml"):
            continue
        try:
            found = compared(path)
        except NotASession:
            continue  # the form before 1.0, or another kind of document
        assert found.apart == [], path.name
        read += 1
    assert read


CLIPS = {
    "a loop, entered in its middle": (
        '<Clip time="4" duration="10" playStart="1" loopStart="0" loopEnd="4"><Audio channels="1" sampleRate="48000"'
        ' duration="2"><File path="a.wav"/></Audio></Clip>'
    ),
    "content in seconds under a time in beats": (
        '<Clip time="2" duration="6" contentTimeUnit="seconds" playStart="0.25"><Clips><Clip time="0.5" duration="1">'
        '<Audio channels="1" sampleRate="48000" duration="2"><File path="a.wav"/></Audio></Clip></Clips></Clip>'
    ),
    "a clip in another lane of its own": (
        '<Clip time="0" duration="4"><Lanes><Notes/></Lanes></Clip><Clip time="8" playStart="1" playStop="3"><Notes/>'
        "</Clip>"
    ),
    "an inner clip that reaches past the outer one": (
        '<Clip time="4" duration="2"><Clips><Clip time="1" duration="9"><Notes/></Clip></Clips></Clip>'
    ),
    "an alias": (
        '<Clip time="0" duration="4"><Notes id="n"/></Clip><Clip time="16" duration="4" reference="n"/>'
    ),
}  # fmt: skip


@pytest.mark.parametrize("clips", CLIPS.values(), ids=list(CLIPS))
@pytest.mark.parametrize("unit", ["beats", "seconds"])
def test_clips_in_every_nesting(clips: str, unit: str, tmp_path: Path) -> None:
    lane = f'<Lanes track="t:Part" timeUnit="{unit}"><Clips>{clips}</Clips></Lanes>'
    path = tmp_path / "project.xml"
    path.write_text(document(track("Part"), lane), encoding="utf-8")
    found = compared(path)
    assert found.apart == []
    assert found.counts["clip's start"] >= 1


@pytest.mark.parametrize(
    "change",
    [
        {"fader_db": -3.0}, {"pan": 1.0}, {"mute": True}, {"solo": True}, {"sends": ()}, {"inserts": ()}, {"clips": ()},
        {"automation": ()},
    ],
    ids=lambda change: next(iter(change)),
)  # fmt: skip
def test_a_misreading_is_noticed(change: dict[str, Any]) -> None:
    path = next(iter(sorted(EXAMPLES.glob("*.dawproject"))))
    session: Session = importers.read(path)
    (name,) = change
    place = next(n for n, one in enumerate(session.channels) if getattr(one, name) != change[name])
    wrong = session.channels[place].model_copy(update=change)
    channels = (*session.channels[:place], wrong, *session.channels[place + 1 :])
    found = Compared(session.model_copy(update={"channels": channels}), second_reading(document_of(path)))
    assert found.apart
