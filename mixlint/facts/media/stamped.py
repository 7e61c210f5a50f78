"""Where the clips of a file lie, against the files that were recorded with it by their time stamps (EBU Tech 3285).

A stamp counts samples from midnight. Files whose stretches of the day lie over each other ran in one recorder, and keep
their distances wherever the song is laid; a file of which all clips lie at another distance was moved. Copies and
flown passages lie at several places, and say nothing.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.file_cues import begins_s
from mixlint.analysis.media_use import NOT_OPENED, MediaUse, media_uses
from mixlint.analysis.mix_prints import is_set_of_stems
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Unknown, is_known

FACTS: Facts[MediaUse] = Facts()

LEAST_TOGETHER: Final = Setting(
    "off_stamp.least_together",
    3.0,
    "",
    "So many other files have to be of its run by their stamps, and to lie together, so that it is the one that moved.",
    lowest=2.0,
)
OVERLAP: Final = share_setting(
    "off_stamp.overlap", 50.0, "Files of which the shorter ran for this share beside the longer are of one run."
)
FARTHEST: Final = Setting(
    "off_stamp.farthest",
    2.0,
    "s",
    "What lies further off was laid elsewhere in the song on purpose.",
    lowest=0.01,
)
SETTINGS: Final = (LEAST_TOGETHER, OVERLAP, FARTHEST)

SAME_S: Final = 1.5e-3
"""Places and stamps that lie no further apart are one: rounding of the export."""


class Stamped(NamedTuple):
    """A file with a stamp and one place in the song: media id, seconds since midnight, length and beginning."""

    media: str
    stamp_s: float
    length_s: float
    begins_s: float

    @property
    def apart_s(self) -> float:
        """How far its place lies off its stamp, seconds: the same for all that lie as they were recorded."""
        return self.begins_s - self.stamp_s


@per_session
def _stamped(context: SessionContext) -> dict[str, Stamped]:
    """The recordings of parts that have a stamp and one place in the song, by media id. Midnight itself is no stamp."""
    audio = context.audio
    found: dict[str, Stamped] = {}
    for use in media_uses(context) if audio is not None and not is_set_of_stems(context) else ():
        players = [context.channels[one] for one in use.users]
        if audio is None or not any(is_source(context, one) and not is_utility(context, one) for one in players):
            continue
        head, begins = audio.header(use.media.id), begins_s(context, use.media.id)
        if is_known(head) and is_known(begins) and is_known(head.time_reference) and head.time_reference:
            stamp_s = head.time_reference / head.sample_rate_hz
            found[use.media.id] = Stamped(use.media.id, stamp_s, head.duration_s, begins)
    return found


def _ran_beside(context: SessionContext, one: Stamped, other: Stamped) -> bool:
    until = min(one.stamp_s + one.length_s, other.stamp_s + other.length_s)
    shorter = min(one.length_s, other.length_s)
    return 100.0 * (until - max(one.stamp_s, other.stamp_s)) >= context.setting(OVERLAP) * shorter > 0.0


@per_session
def _company(context: SessionContext, media_id: str) -> tuple[Stamped, list[Stamped]] | Unknown:
    """A file and those of its run, which all lie together."""
    if context.audio is None:
        return NOT_OPENED
    every = _stamped(context)
    own = every.get(media_id)
    if own is None:
        return Unknown(unknown="it has no time stamp, or no one place in the song")
    others = [one for one in every.values() if one is not own and _ran_beside(context, own, one)]
    if len(others) < context.setting(LEAST_TOGETHER):
        return Unknown(unknown="too few other files were recorded beside it by their time stamps")
    places = [one.apart_s for one in others]
    if max(places) - min(places) > SAME_S:
        return Unknown(unknown="the files that were recorded beside it do not lie together")
    return own, others


@FACTS.fact(
    "number",
    "How far its clips lie off the files that were recorded beside it by their time stamps, either way.",
    unit="ms",
    how="measured",
    settings=SETTINGS,
)
def off_stamp_ms(row: Row[MediaUse]) -> FactValue | Unknown:
    found = _company(row.context, row.item.media.id)
    if isinstance(found, Unknown):
        return found
    own, others = found
    places = sorted(one.apart_s for one in others)
    off = own.apart_s - places[len(places) // 2]
    if abs(off) > row.context.setting(FARTHEST):
        return Unknown(unknown="it was laid elsewhere in the song")
    way = "late" if off > 0.0 else "early"
    where = f"{way} against the {len(others)} files that were recorded beside it"
    return FactValue(1000.0 * abs(off) if abs(off) > SAME_S else 0.0, "measured", row.subject.where, where)


@FACTS.fact(
    "switch",
    "Its time stamp is that of most files that were recorded beside it: they were begun in one pass.",
    how="measured",
    settings=(LEAST_TOGETHER, OVERLAP),
)
def begun_with_others(row: Row[MediaUse]) -> bool | Unknown:
    found = _company(row.context, row.item.media.id)
    if isinstance(found, Unknown):
        return found
    own, others = found
    return 2 * sum(abs(one.stamp_s - own.stamp_s) <= SAME_S for one in others) > len(others)
