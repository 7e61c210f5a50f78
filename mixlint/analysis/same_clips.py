"""Channels with the very same clips: the other half of a pair, or the rest of a section, whatever becomes of either."""

from __future__ import annotations

from typing import Final, TypeAlias

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting
from mixlint.session import Channel, is_known, known

LEAST_ALIKE: Final = Setting(
    "same_clips.least_alike", 2.0, "", "So many channels of its family with the same clips, processors and sends show "
    "that a channel belongs to them, where no name calls it the other half of one.", lowest=2.0,
)  # fmt: skip

HALVES: Final = frozenset({"sides", "microphones", "registers"})
"""How names go together that call two channels the halves of one."""
Keys: TypeAlias = tuple[tuple[str, float, float, float], ...]
"""Clips by what they play, edges and place in the file, rounded, seconds."""


@per_session
def _keys(_context: SessionContext, channel: Channel) -> Keys:
    """The clips of a channel that are switched on, whether it was loaded or not; none where one place is unknown."""
    clips = [clip for clip in channel.clips if clip.on is not False]
    if not all(clip.plays == "audio" and is_known(clip.offset_s) for clip in clips):
        return ()
    return tuple(sorted((c.plays, round(c.start_s, 2), round(c.end_s, 2), round(known(c.offset_s), 2)) for c in clips))


@per_session
def _heard(context: SessionContext) -> dict[Keys, list[Channel]]:
    found: dict[Keys, list[Channel]] = {}
    for channel in context.session.channels:
        keys = _keys(context, channel)
        if keys and channel.kind == "track" and is_heard(context, channel):
            found.setdefault(keys, []).append(channel)
    return found


def _set_up(channel: Channel) -> tuple[list[str], list[str]]:
    """Which processors a channel has and where it is sent."""
    return [str(insert.kind) for insert in channel.inserts], [str(send.to) for send in channel.sends]


@per_session
def heard_with_its_clips(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """Those that are heard with the clips of a channel: its other half by name, or several of its family set up as it.

    What is silent beside them is missed: nobody cuts, moves and treats a channel with its like to leave it out.
    """
    alike = [one for one in _heard(context).get(_keys(context, channel), ()) if one is not channel]
    half = partners(context).get(channel.id)
    if half is None:
        halves = {other.id for other, kind in paired_by_name(context, channel) if kind in HALVES}
        half = next((one for one in alike if one.id in halves), None)
    if half is not None:
        return (half,) if half in alike else ()
    family = context.family(channel.id)
    like = [c for c in alike if context.family(c.id) == family and _set_up(c) == _set_up(channel)]
    if family != "drums":  # a kit is heard whole; of voices a harmony may be left out that the lead sings with
        like = [c for c in like if context.role(c.id) == context.role(channel.id)]
    return tuple(like) if family is not None and len(like) >= context.setting(LEAST_ALIKE) else ()
