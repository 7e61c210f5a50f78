"""What other systems are like, on this one."""

from __future__ import annotations

import builtins
import io
import os
import wave
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from unittest.mock import patch

HOUSE = 'name = "lamp-house"\ntakes = ["nothing-soloed", "reaches-mix-bus", "media-present"]\n'
"""A house that takes few rules, so that these tests do not hang on how long the shipped checklist is."""


def session_text(media: str = "Audio/Räum voice.wav") -> str:
    """A session in the neutral form: a soloed voice whose file lies in a folder beside it."""
    return f"""{{
 "format": "mixlint-session/1", "title": "Lied – ünï", "sample_rate_hz": 48000,
 "channels": [
  {{"id": "v", "name": "Stimme ä", "kind": "track", "output": "m", "solo": true,
   "clips": [{{"start_s": 0.0, "end_s": 1.0, "file": "f"}}]}},
  {{"id": "m", "name": "Mix Bus", "kind": "master", "output": null}}
 ],
 "media": [{{"id": "f", "path": {_quoted(media)}, "place": "beside"}}]
}}
"""


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\") + '"'


def write_song(folder: Path, name: str = "song.json", media: str = "Audio/Räum voice.wav") -> Path:
    """The session with its file and its house in a folder; the session's path."""
    (folder / "Audio").mkdir(parents=True, exist_ok=True)
    (folder / "mixlint-standard.toml").write_text(HOUSE, encoding="utf-8")
    with wave.open(str(folder / "Audio" / "Räum voice.wav"), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(48000)
        file.writeframes(b"\x00\x10\x00\xf0" * 24000)
    path = folder / name
    path.write_text(session_text(media), encoding="utf-8")
    return path


@contextmanager
def case_ignored() -> Iterator[None]:
    """A file system that keeps the case of names and does not tell them apart by it, as two of three systems have."""
    lstat, listdir = os.lstat, os.listdir

    def actual(path: Any) -> Any:
        if not isinstance(path, str | os.PathLike) or not isinstance(text := os.fspath(path), str):
            return path
        try:
            lstat(text)
            return path
        except (OSError, ValueError):
            parent, name = os.path.split(text)
        if not name or parent == text:
            return path
        parent = actual(parent) if parent else ""
        try:
            alike = [one for one in listdir(parent or ".") if one.casefold() == name.casefold()]
        except OSError:
            return path
        return os.path.join(parent, alike[0] if alike else name)

    def seen(real: Callable[..., Any]) -> Callable[..., Any]:
        return lambda *paths, **more: real(*map(actual, paths[:1]), *paths[1:], **more)

    def both(real: Callable[..., Any]) -> Callable[..., Any]:
        return lambda one, other, **more: real(actual(one), actual(other), **more)

    names = ("stat", "lstat", "open", "scandir", "listdir", "access", "chmod", "unlink", "mkdir", "readlink")
    changed = [patch.object(os, name, seen(getattr(os, name))) for name in names]
    changed += [patch.object(os, name, both(getattr(os, name))) for name in ("replace", "rename")]
    changed += [patch.object(io, "open", seen(io.open)), patch.object(builtins, "open", seen(builtins.open))]
    for one in changed:
        one.start()
    try:
        yield
    finally:
        for one in changed:
            one.stop()
