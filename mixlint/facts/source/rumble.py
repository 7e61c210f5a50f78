"""How much of a recording lies under its lowest note: rumble, handling and air."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.pitches import LOWEST_NOTES, WEIGHT, lowest_hz
from mixlint.analysis.settings import Setting
from mixlint.session import Channel, Unknown, is_known
from mixlint.units import SILENCE_DB

FLOOR_HZ: Final = 10.0
TOP_HZ: Final = 20_000.0
"""The band that counts as all of a recording, hertz: a definition, the range of hearing and an octave below it."""

UNDER: Final = Setting(
    "rumble.under", 75.0, "%", "Rumble is looked for under this share of the frequency of a part's lowest note."
)

NO_NOTE: Final = Setting(
    "rumble.no_note", 80.0, "Hz", "Taken as the lowest note of parts without one, such as cymbals."
)

EXCERPT_S: Final = 12.0
"""How much of a recording is read, seconds: a bound of work."""


def rumble_under_hz(context: SessionContext, channel: Channel) -> float:
    """The frequency under which a part has no note, hertz: a share of its lowest one, or of ``rumble.no_note``.

    The weight of kick and bass is no lowest note, so that they have none.
    """
    role = context.role(channel.id) or ""
    lowest = lowest_hz(context, role) if LOWEST_NOTES.get(role) is not WEIGHT else None
    return context.setting(UNDER) / 100.0 * (lowest or context.setting(NO_NOTE))


@per_session
def rumble_db(context: SessionContext, channel: Channel) -> float | Unknown:
    """The energy of a recording from 10 Hz to :func:`rumble_under_hz` relative to that up to 20 kHz, dB.

    Read from the middle of the longest clip, 12 s at most, unweighted, before any processor. Unknown without audio,
    without a clip whose samples can be read, and where the excerpt is silent.
    """
    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio, or listen to its low end")
    clips = plain_clips(channel)
    if not clips:
        return Unknown(unknown="no clip of plain audio plays on it", settle="listen to its low end")
    longest = max(clips, key=lambda clip: clip.end_s - clip.start_s)
    length = min(EXCERPT_S, longest.end_s - longest.start_s)
    assert longest.file is not None
    assert is_known(longest.offset_s)
    middle = longest.offset_s + (longest.end_s - longest.start_s - length) / 2.0
    header = context.audio.header(longest.file)
    if isinstance(header, Unknown):
        return header
    samples = context.audio.excerpt(longest.file, middle, length)
    if isinstance(samples, Unknown):
        return samples
    from math import log2, sqrt

    import numpy as np

    from mixlint.signal.band_levels import band_levels_db

    edge = rumble_under_hz(context, channel)
    levels = []
    for low, high in ((FLOOR_HZ, edge), (FLOOR_HZ, min(TOP_HZ, header.sample_rate_hz / 2.0))):
        found = band_levels_db(
            np.asarray(samples, dtype=np.float64), header.sample_rate_hz, [sqrt(low * high)], log2(high / low)
        )
        levels.append(float(found[0]))
    if levels[1] <= SILENCE_DB / 2.0:
        return Unknown(unknown="the stretch that was read is silent", settle="listen to its low end")
    return levels[0] - levels[1]
