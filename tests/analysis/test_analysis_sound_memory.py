"""What is kept of sound: a review that remembers is the review that does not, whatever was changed in between."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixlint import check
from mixlint.analysis.sound_memory import LEAST_BYTES, SoundMemory
from mixlint.reports.plain import Page
from mixlint.rulebook import load_standard
from mixlint.runs.listening import Watch
from mixlint.session import Clip, Dynamics, Equalizer, EqualizerBand, Insert, Session, Source, Tempo, Timeline
from mixlint.signal import synthesis
from mixlint.watching import reviewing
from mixlint.watching.reviewing import Wanted
from tests.facts.audio_sessions import RATE, write
from tests.facts.small_sessions import bus, mix, track

SECONDS = 3.0


class Counting(SoundMemory):
    """Counts what had to be made."""

    def __init__(self, most_bytes: int = 1 << 30) -> None:
        super().__init__(most_bytes)
        self.made: list[Any] = []

    def of(self, key: Any, make: Callable[[], Any]) -> Any:
        def counted() -> Any:
            self.made.append(key)
            return make()

        return super().of(key, counted)


# --- the memory itself


def test_what_was_made_once_is_given_again():
    memory = SoundMemory()
    first = memory.of("a", lambda: (np.arange(4.0), None))
    assert memory.of("a", lambda: pytest.fail("made again")) is first
    with pytest.raises(ValueError, match="read-only"):
        first[0][0] = 1.0


def test_what_fails_is_not_kept():
    memory = SoundMemory()
    with pytest.raises(KeyError):
        memory.of("a", lambda: {}["b"])
    assert memory.of("a", lambda: 3) == 3


@given(st.lists(st.lists(st.integers(0, 9), max_size=12), max_size=8), st.integers(1, 12))
def test_it_never_holds_more_than_it_may_and_a_small_session_is_kept_whole(reviews, most):
    """Things of equal size: of a review that asks for no more than the bound, the next one makes nothing again."""
    memory = Counting(most * LEAST_BYTES)
    before: set[int] = set()
    for asked in reviews:
        memory.begin()
        memory.made.clear()
        for one in asked:
            assert memory.of(one, lambda one=one: one) == one
        assert memory._held <= most * LEAST_BYTES
        if len(before) <= most and set(asked) <= before:
            assert not memory.made
        before = set(asked)


def test_a_session_larger_than_the_bound_gains_by_a_part_of_it():
    """Where all are asked for by turns, each pushing out the next would leave nothing to be found."""
    memory = Counting(4 * LEAST_BYTES)
    for _ in range(3):
        memory.begin()
        memory.made.clear()
        for one in range(8):
            memory.of(one, lambda one=one: one)
    assert len(memory.made) == 4


# --- reviews

LOW_CUT = EqualizerBand(kind="high-pass", freq_hz=90.0, slope_db_per_oct=12.0, q=0.7)
SQUEEZE = Dynamics(threshold_db=-24.0, ratio=3.0, attack_ms=10.0, release_ms=120.0, output_gain_db=2.0)


def song(folder: Path) -> Session:
    """A voice behind two processors and two guitars into a bus."""
    sounds = {
        "vox.wav": 0.2 * synthesis.voice(220.0, 1, SECONDS, RATE),
        "left.wav": 0.2 * synthesis.pluck(147.0, 2, SECONDS, RATE),
        "right.wav": 0.2 * synthesis.pluck(147.0, 3, SECONDS, RATE),
    }
    media = tuple(write(folder, name, samples) for name, samples in sounds.items())
    processors = (
        Insert(name="Low Cut", kind="equalizer", opaque=False, equalizer=Equalizer(bands=(LOW_CUT,))),
        Insert(name="Squeeze", kind="compressor", opaque=False, dynamics=SQUEEZE),
    )

    def part(name: str, file: str, **more: Any) -> Any:
        return track(name, clips=(Clip(start_s=0.0, end_s=SECONDS, file=file),), legs=1, **more)

    return Session(
        title="Harrow Gate",
        source=Source(importer="json"),
        timeline=Timeline(tempos=(Tempo(bpm=120.0),)),
        media=media,
        channels=(
            part("Lead Vocal", "vox.wav", inserts=processors),
            part("Nylon Gtr L", "left.wav", pan=-60.0, output="Guitars"),
            part("Nylon Gtr R", "right.wav", pan=60.0, output="Guitars"),
            bus("Guitars"),
            mix(),
        ),
    )


def with_first(session: Session, **changes: Any) -> Session:
    """The same with something else of its first channel."""
    first, *others = session.channels
    return session.model_copy(update={"channels": (first.model_copy(update=changes), *others)})


def with_clip(session: Session, **changes: Any) -> Session:
    (clip,) = session.channels[0].clips
    return with_first(session, clips=(clip.model_copy(update=changes),))


def with_insert(session: Session, place: int, **changes: Any) -> Session:
    inserts = list(session.channels[0].inserts)
    inserts[place] = inserts[place].model_copy(update=changes)
    return with_first(session, inserts=tuple(inserts))


SAME_SOUND: dict[str, Callable[[Session], Session]] = {
    "nothing": lambda s: s,
    "a fader": lambda s: with_first(s, fader_db=-4.0),
    "a pan": lambda s: with_first(s, pan=20.0),
    "a mute": lambda s: with_first(s, mute=True),
    "a name of a clip, and its line": lambda s: with_clip(s, name="Take 7", where="line 8"),
    "a name of a processor": lambda s: with_insert(s, 0, name="Rumble"),
    "another order of the files": lambda s: s.model_copy(update={"media": s.media[::-1]}),
}
"""Nothing that is heard on a track by itself is another."""

OTHER_SOUND: dict[str, Callable[[Session], Session]] = {
    "a clip moved": lambda s: with_clip(s, start_s=0.5, end_s=SECONDS + 0.5),
    "a clip shortened": lambda s: with_clip(s, end_s=SECONDS - 1.0),
    "another place in the file": lambda s: with_clip(s, end_s=SECONDS - 1.0, offset_s=0.7),
    "a clip gain": lambda s: with_clip(s, gain_db=-7.0),
    "a fade": lambda s: with_clip(s, fade_in_s=1.5),
    "another file": lambda s: with_clip(s, file="left.wav"),
    "a clip muted": lambda s: with_clip(s, on=False),
    "a processor off": lambda s: with_insert(s, 1, on=False),
    "a threshold": lambda s: with_insert(s, 1, dynamics=SQUEEZE.model_copy(update={"threshold_db": -40.0})),
    "a corner": lambda s: with_insert(
        s, 0, equalizer=Equalizer(bands=(LOW_CUT.model_copy(update={"freq_hz": 300.0}),))
    ),
    "a share": lambda s: with_insert(s, 1, wet=50.0),
    "both processors by turns": lambda s: with_first(s, inserts=s.channels[0].inserts[::-1]),
    "a track of two legs": lambda s: with_first(s, legs=2),
    "a track that was not loaded": lambda s: with_first(s, loaded=False),
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("song")


@pytest.fixture(scope="module")
def plain(folder: Path) -> Session:
    return song(folder)


@pytest.fixture(scope="module")
def known(folder: Path, plain: Session) -> Callable[[], Counting]:
    """A memory that has heard the song, as often as one is asked for."""
    heard = Counting()
    reviewed(plain, folder, heard)

    def again() -> Counting:
        memory = Counting()
        memory._kept, memory._held = dict(heard._kept), heard._held
        return memory

    return again


@pytest.fixture(autouse=True)
def _cache(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    monkeypatch.setenv("MIXLINT_CACHE", str(tmp_path_factory.getbasetemp() / "measures"))


LISTENING = (
    "bands-balanced", "bus-under-full-scale", "compression-gentle", "doubles-are-second-takes",
    "microphone-lives-to-the-end", "processing-level-matched", "recording-stays-as-it-was",
    "spectrum-goes-to-its-end", "telephone-stays-away",
)  # fmt: skip
"""Rules that ask for all that is remembered; the others would take most of the time."""


STANDARD = lru_cache(load_standard)


def reviewed(session: Session, folder: Path, memory: SoundMemory | None) -> str:
    made = check(session, standard=STANDARD(), files=folder, everything=True, only=LISTENING, memory=memory)
    return made.result.model_dump_json()


@pytest.mark.slow
@pytest.mark.parametrize("change", [*SAME_SOUND, *OTHER_SOUND])
def test_a_review_that_remembers_is_the_one_that_does_not(change, plain, folder, known):
    """Where the sound is as it was, nothing is heard again."""
    session, memory = (SAME_SOUND | OTHER_SOUND)[change](plain), known()
    assert reviewed(session, folder, memory) == reviewed(session, folder, None)
    assert change in OTHER_SOUND or not memory.made


@pytest.mark.slow
def test_another_sound_under_an_old_name_is_heard(plain, tmp_path, folder, known):
    other = song(tmp_path)
    write(tmp_path, "vox.wav", 0.1 * synthesis.voice(180.0, 7, SECONDS, RATE))
    assert reviewed(other, tmp_path, known()) == reviewed(other, tmp_path, None)
    assert reviewed(other, tmp_path, None) != reviewed(plain, folder, None)


@pytest.mark.slow
def test_a_watched_session_is_heard_once(plain, folder, monkeypatch):
    """The process beside a watch remembers from one export to the next."""
    memory = Counting()
    monkeypatch.setattr(reviewing, "_MEMORY", memory)
    path = folder / "song.json"
    made = []
    for session in (plain, SAME_SOUND["a fader"](plain), SAME_SOUND["a mute"](plain)):
        path.write_text(session.json_text(), encoding="utf-8")
        memory.made.clear()
        reviewing.watch_here(Wanted({"only": LISTENING}, None, Page(), False, "", 0).task(path, None), Watch())
        made.append(len(memory.made))
    assert made[0] > 0
    assert made[1:] == [0, 0]
