"""Sessions with real audio: files written for one test, and channels that play them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import soundfile

from mixlint.facts import SessionContext
from mixlint.media import Library
from mixlint.session import Channel, MediaFile, Session, Source, Tempo, Timeline

RATE = 48_000


def sine(hz: float, seconds: float, peak: float = 0.5, phase: float = 0.0) -> np.ndarray:
    """A sine from ``phase`` (radians): (n,)."""
    return peak * np.sin(2.0 * np.pi * hz * np.arange(round(seconds * RATE)) / RATE + phase)


def write(folder: Path, name: str, samples: np.ndarray, *, rate: int = RATE, subtype: str = "PCM_24") -> MediaFile:
    """Write (n,) or (n, legs) samples and list the file without saying what it holds."""
    soundfile.write(folder / name, samples, rate, subtype=subtype)
    return MediaFile(id=name, path=name)


def audio_context(
    folder: Path, media: list[MediaFile], *channels: Channel, importer: str = "json", **more: Any
) -> SessionContext:
    """A session over files in ``folder`` with its audio open."""
    session = Session(
        title="Harrow Gate",
        source=Source(importer=importer),
        timeline=Timeline(tempos=(Tempo(bpm=120.0),)),
        media=tuple(media),
        channels=channels,
        **more,
    )
    beside = folder / "song.session.json"
    if importer == "json":
        beside.write_text(session.json_text(), encoding="utf-8")
    return SessionContext(session, None, Library(session, beside if importer == "json" else folder))
