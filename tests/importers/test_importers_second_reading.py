"""Whatever is read of a file, a second reading by lxml alone reads the same: nothing comes out differently.

It runs on the example sessions, on sessions in every exporter's style, on small files that hold what was found in files
of others, and on every file in the folder that MIXLINT_SAMPLES names.
"""

from __future__ import annotations

import os
from pathlib import Path
from random import Random
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


TEMPO = (
    '<TempoAutomation timeUnit="beats"><Target parameter="tempo"/><RealPoint time="0" value="90" interpolation="{}"/>'
    '<RealPoint time="16" value="150" interpolation="hold"/></TempoAutomation>'
)


@pytest.mark.parametrize("shape", ["hold", "linear"])
def test_times_under_a_tempo_that_changes(shape: str, tmp_path: Path) -> None:
    """Markers, clips and automation in beats; the second reading integrates 60 / tempo by itself."""
    clips = '<Clip time="2.5" duration="20"><Notes/></Clip><Clip time="30" duration="4"><Notes/></Clip>'
    points = '<Points><Target parameter="v"/>' + "".join(
        f'<RealPoint time="{beat}" value="{1 / (1 + beat)}" interpolation="hold"/>' for beat in (0, 3, 15, 16, 40)
    )
    marks = '<markers><Marker time="17" name="B"/></markers>'
    lanes = f'<Lanes track="t:Part"><Clips>{clips}</Clips>{points}</Points></Lanes>{marks}'
    text = document(track("Part", '<Volume id="v" unit="linear" min="0" max="2" value="1"/>'), lanes)
    path = tmp_path / "project.xml"
    path.write_text(text.replace("</Arrangement>", TEMPO.format(shape) + "</Arrangement>"), encoding="utf-8")
    found = compared(path)
    assert (found.apart, found.left_open) == ([], [])
    assert (found.counts["point's time"], found.counts["marker"], found.counts["clip's end"]) == (5, 1, 2)


def made_clip(random: Random, depth: int = 0) -> str:
    """A clip of any kind: in either unit, cut, looped, in a lane, with clips in it that reach out of it."""

    def time(low: float, high: float) -> float:
        return round(random.uniform(low, high), random.choice((0, 1, 2)))

    says = f'<Clip time="{time(0, 12)}"'
    if random.random() < 0.1:
        says += f' playStart="0" playStop="{time(1, 6)}"'
    else:
        says += f' duration="{max(0.5, time(0.5, 12))}"'
        says += f' playStart="{time(0, 3)}"' if random.random() < 0.4 else ""
        if random.random() < 0.3:
            start = time(0, 2)
            says += f' loopStart="{start}" loopEnd="{start + max(0.7, time(0.7, 4))}"'
    says += f' contentTimeUnit="{random.choice(("beats", "seconds"))}"' if random.random() < 0.4 else ""
    if depth > 2 or random.random() < 0.4:
        held = random.choice(("<Notes/>", '<Audio channels="1" sampleRate="48000" duration="60"/>'))
        return f"{says}>{f'<Lanes>{held}</Lanes>' if random.random() < 0.3 else held}</Clip>"
    unit = f' timeUnit="{random.choice(("beats", "seconds"))}"' if random.random() < 0.2 else ""
    inner = "".join(made_clip(random, depth + 1) for _ in range(random.randint(1, 3)))
    return f"{says}><Clips{unit}>{inner}</Clips></Clip>"


@pytest.mark.parametrize("seed", range(8))
def test_any_nesting_of_clips(seed: int, tmp_path: Path) -> None:
    random, path, counted = Random(seed), tmp_path / "project.xml", 0
    for _ in range(25):
        clips = "".join(made_clip(random) for _ in range(random.randint(1, 3)))
        text = document(track("Part"), f'<Lanes track="t:Part"><Clips>{clips}</Clips></Lanes>')
        if random.random() < 0.4:
            shape = random.choice(("hold", "linear"))
            text = text.replace("</Arrangement>", TEMPO.format(shape) + "</Arrangement>")
        path.write_text(text, encoding="utf-8")
        found = compared(path)
        assert found.apart == [], clips
        counted += found.counts.get("clip's start", 0)
    assert counted > 20


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
