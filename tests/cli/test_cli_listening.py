"""Audio is measured before the review, with a word to whoever looks on."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from mixlint.cli.progress import Progress
from mixlint.facts import SessionContext
from mixlint.media import Library
from mixlint.review import review
from mixlint.review.findings import SessionReview
from mixlint.rulebook import load_standard
from mixlint.runs import listening
from mixlint.runs.listening import listen_ahead
from mixlint.session import Channel, Clip, MediaFile, Session

STANDARD = load_standard("pre-bounce")


def session(folder: Path) -> Session:
    """Two parts, one of them soloed, with a file each; a third file plays nowhere."""
    for name in "abc":
        soundfile.write(folder / f"{name}.wav", 0.1 * np.ones(4800), 48_000)
    parts = [
        Channel(id=name, name=name, kind="track", output="mix", solo=name == "a",
                clips=(Clip(start_s=0.0, end_s=0.1, file=name),))
        for name in "ab"
    ]  # fmt: skip
    media = tuple(MediaFile(id=name, path=f"{name}.wav") for name in "abc")
    return Session(channels=(*parts, Channel(id="mix", name="Mix Bus", kind="master", output=None)), media=media)


class Watched(Progress):
    """A progress that somebody looks at, and that keeps what it was told."""

    def __init__(self) -> None:
        super().__init__(1)
        self.told: list[str] = []
        self.watched = True

    def doing(self, what: str) -> None:
        self.told.append(what)


@pytest.mark.parametrize("long", [True, False])
def test_what_is_known_already_is_told_while_audio_is_measured(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], long: bool
) -> None:
    """Only where measuring takes long; the files that play are measured, in a stated number, and no others."""
    monkeypatch.setattr(listening, "LONG_S", 0.0 if long else 600.0)
    made, progress = session(tmp_path), Watched()

    def unheard() -> SessionReview:
        return review(SessionContext(made, STANDARD.house), STANDARD, source="", digest="", everything=False)

    with Library(made, tmp_path) as audio:
        listen_ahead(SessionContext(made, STANDARD.house, audio), progress, unheard)
    assert progress.told == ["measuring 2 files", "measured a.wav, 1 of 2 files", "measured b.wav, 2 of 2 files", ""]
    said = capsys.readouterr().err
    assert ("before the audio is measured: held: do not bounce yet" in said) is long
    assert ("a is soloed." in said) is long
