"""The entry of a session for an audio file whose header was read."""

from __future__ import annotations

from mixlint.media import Header
from mixlint.session import MediaFile


def media_file(name: str, header: Header) -> MediaFile:
    """Legs, rate and length of a file that lies beside the session, by its header; its name is its id."""
    return MediaFile(
        id=name,
        path=name,
        present=True,
        legs=header.legs,
        sample_rate_hz=float(header.sample_rate_hz),
        duration_s=round(header.frames / header.sample_rate_hz, 9),
    )
