"""How much of a recording lies under its lowest note: rumble, handling and air."""

from __future__ import annotations

from math import log10
from typing import Final

from mixlint.analysis.activity import span_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.low_end import low_windows, sounding_level
from mixlint.analysis.pitches import LOWEST_NOTES, WEIGHT, lowest_hz
from mixlint.analysis.settings import Setting
from mixlint.analysis.value import FactValue
from mixlint.session import Channel, Unknown
from mixlint.units import SILENCE_DB

UNDER: Final = Setting(
    "rumble.under", 75.0, "%", "Rumble is looked for under this share of the frequency of a part's lowest note."
)

NO_NOTE: Final = Setting(
    "rumble.no_note", 80.0, "Hz", "Taken as the lowest note of parts without one, such as cymbals."
)


def rumble_under_hz(context: SessionContext, channel: Channel) -> float:
    """The frequency under which a part has no note, hertz: a share of its lowest one, or of ``rumble.no_note``.

    The weight of kick and bass is no lowest note, so that they have none.
    """
    role = context.role(channel.id) or ""
    lowest = lowest_hz(context, role) if LOWEST_NOTES.get(role) is not WEIGHT else None
    return context.setting(UNDER) / 100.0 * (lowest or context.setting(NO_NOTE))


@per_session
def rumble_db(context: SessionContext, channel: Channel) -> FactValue | Unknown:
    """The energy of a recording from 10 Hz to :func:`rumble_under_hz` where it is highest, relative to all of it, dB.

    Read from end to end in windows of 12 s at most, unweighted, before any processor; what is rested in between is held
    against what plays. Unknown without audio, without a clip whose samples can be read, and where it is silent.
    """
    windows = low_windows(context, channel, rumble_under_hz(context, channel))
    if isinstance(windows, Unknown):
        return windows
    level = sounding_level(windows)
    if level <= 10.0 ** (SILENCE_DB / 20.0):
        return Unknown(unknown="the recording is silent", settle="listen to its low end")
    worst = max(windows, key=lambda window: window.rumble / max(level, window.whole))
    ratio = worst.rumble / max(level, worst.whole)
    where = f"most of it in {span_text(context, worst.song_s, worst.song_s + worst.length_s)}"
    return FactValue(max(SILENCE_DB, 10.0 * log10(max(ratio, 1e-20))), "measured", where, where)
