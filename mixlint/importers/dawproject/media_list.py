"""The audio files a session refers to, each once."""

from __future__ import annotations

import re
from math import isfinite
from typing import Any, Final, Literal
from urllib.parse import unquote

from mixlint.importers.dawproject.values import finite
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.media.container import Container
from mixlint.media.zip_directory import clean_name
from mixlint.session import MediaFile, Unknown

ABSOLUTE: Final = re.compile(r"^([/\\]|[A-Za-z]:|[a-z]+://)")
"""How a path begins that leads out of the session's folder wherever that lies."""


class MediaList:
    """Collects media files by path.

    Args:
        container: where the session lies.
        packed: true when it is an archive, so that plain paths lie inside it.
        beside: the folder the session lies in, as a container, for files that travel beside an archive.
    """

    def __init__(self, container: Container, packed: bool, beside: Container) -> None:
        self._container = container
        self._packed = packed
        self._beside = beside
        self._files: dict[str, MediaFile] = {}
        self._entered: dict[tuple[str | None, ...], str] = {}
        """What an audio element says → the file it is: a file is looked for once, however many clips play it."""

    def add(self, audio: Node) -> str | None:
        """Enter the file that an audio element plays.

        Args:
            audio: the element; what it says of legs, sample rate and duration fills what is not yet known of the file.

        Returns:
            The file's id, or None when the element names none.
        """
        file = audio.child("File")
        path = file.get("path") if file is not None else ""
        if file is None or not path:
            return None
        said = (path, file.attrs.get("external"), *map(audio.attrs.get, ("channels", "sampleRate", "duration")))
        if said not in self._entered:
            self._entered[said] = self._enter(audio, path, file.get("external").lower() in ("true", "1"))
        return self._entered[said]

    def _enter(self, audio: Node, path: str, external: bool) -> str:
        place, path, present = self._find(path, external)
        known = self._files.get(path)
        facts = _facts(audio)
        if known is None:
            self._files[path] = MediaFile(id=path, path=path, place=place, present=present, **facts)
        else:
            missing = {key: value for key, value in facts.items() if isinstance(getattr(known, key), Unknown)}
            if missing:
                self._files[path] = known.model_copy(update=missing)
        return path

    def get(self, media_id: str) -> MediaFile | None:
        """A file by its id."""
        return self._files.get(media_id)

    def files(self) -> tuple[MediaFile, ...]:
        """All files in the order they were met."""
        return tuple(self._files.values())

    def _find(self, path: str, external: bool) -> tuple[Literal["inside", "beside", "outside"], str, bool | Unknown]:
        """Place, cleaned path, and whether the file is there; outside files are never looked for."""
        clean = clean_name(path)
        if clean is None or ABSOLUTE.match(path):
            return (
                "outside",
                path,
                Unknown(
                    unknown="the file lies outside the session's folder and was not looked for",
                    settle="copy it into the session's folder and export again",
                ),
            )
        # A path may be written with percent escapes; the literal name comes first.
        spellings = [clean, *([unquoted] if (unquoted := clean_name(unquote(clean))) not in (None, clean) else [])]
        home = self._beside if external or not self._packed else self._container
        place: Literal["inside", "beside"] = "inside" if home is self._container and self._packed else "beside"
        for one in spellings:
            if one is not None and home.has(one):
                return place, one, True
        return place, clean, False


def _facts(audio: Node) -> dict[str, Any]:
    facts: dict[str, Any] = {}
    legs = finite(audio.attrs.get("channels"))
    if legs is not None and 1 <= legs <= 1024 and legs.is_integer():
        facts["legs"] = int(legs)
    rate = finite(audio.attrs.get("sampleRate"))
    if rate is not None and rate > 0.0:
        facts["sample_rate_hz"] = rate
    duration = finite(audio.attrs.get("duration"))
    if duration is not None and duration >= 0.0 and isfinite(duration):
        facts["duration_s"] = duration
    return facts
