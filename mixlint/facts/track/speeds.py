"""Clips that were cut as one on several tracks, of which one plays at a speed of its own."""

from __future__ import annotations

from typing import NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, is_known
from mixlint.units import few_text

FACTS: Facts[Channel] = Facts()

SAME = 1e-5
"""Speeds this near, as a share, are one: a thousandth is heard within seconds."""


class OddSpeed(NamedTuple):
    """A clip that plays at another speed than those that begin and end with it.

    Args:
        percent: its speed, %.
        at_s: where it begins, seconds.
        beside: ids of the tracks with the others, which play at their own speed.
    """

    percent: float
    at_s: float
    beside: tuple[str, ...]


@per_session
def _odd_speeds(context: SessionContext) -> dict[str, OddSpeed]:
    """Channel id → its first clip that plays at a speed of its own beside clips of one family and cut, at theirs."""
    cut: dict[tuple[str, str, float, float], list[tuple[Channel, float]]] = {}
    for channel in context.session.channels:
        family = context.family(channel.id)
        if family is None or not is_source(context, channel) or not is_audible(context, channel):
            continue
        for clip in audio_clips(channel):
            if is_known(clip.speed):
                key = (family, str(channel.output), round(clip.start_s, 3), round(clip.end_s, 3))
                cut.setdefault(key, []).append((channel, clip.speed))
    found: dict[str, OddSpeed] = {}
    for key, several in cut.items():
        odd = [(channel, speed) for channel, speed in several if abs(speed - 1.0) > SAME]
        others = [channel.id for channel, speed in several if abs(speed - 1.0) <= SAME]
        if len(odd) == 1 and others:
            ((channel, speed),) = odd
            found.setdefault(channel.id, OddSpeed(100.0 * speed, key[2], tuple(others)))
    return found


@FACTS.fact(
    "text",
    "The speed of a clip that begins and ends with clips of its family on other tracks of its group, which play at "
    "their own, where it does not; the note names these tracks; or none.",
    how="derived",
)
def speed_apart(row: Row[Channel]) -> FactValue:
    found = _odd_speeds(row.context).get(row.subject.id)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    names = few_text([row.context.name(one) for one in found.beside])
    shown = f"{found.percent:.3f}".rstrip("0").rstrip(".")
    return FactValue(f"{shown} %", "derived", moment_text(row.context, found.at_s), names)
