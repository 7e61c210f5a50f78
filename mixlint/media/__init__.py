"""Audio from files and ZIP members, in blocks; each file is measured once.

It knows no channel.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from mixlint.media.audio import AudioFile, read_header
    from mixlint.media.container import Container, open_container
    from mixlint.media.header import Header
    from mixlint.media.library import Library
    from mixlint.media.measure import Measure
    from mixlint.media.meter import measure_source

__all__ = [
    "AudioFile",
    "Container",
    "Header",
    "Library",
    "Measure",
    "measure_source",
    "open_container",
    "read_header",
]

_HOMES = {
    "AudioFile": "audio",
    "Container": "container",
    "Header": "header",
    "Library": "library",
    "Measure": "measure",
    "measure_source": "meter",
    "open_container": "container",
    "read_header": "audio",
}


def __getattr__(name: str) -> Any:
    """Import what is asked for, when it is asked for: a review without audio must not pay for audio."""
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"mixlint.media.{home}"), name)
