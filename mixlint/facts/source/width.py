"""Whether the files of a part are as wide as its strip, where those of all other parts are."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import active_inserts
from mixlint.analysis.media_use import file_name, media_of
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.source.part import file_legs
from mixlint.session import Channel, is_known

FACTS: Facts[Channel] = Facts()

LEAST_FITTING: Final = Setting(
    "width.least_fitting",
    3.0,
    "",
    "For each part whose files are not as wide as its strip so many others have to play files that are, "
    "so that a strip's width is seen to be meant.",
    lowest=2.0,
)

WIDENING: Final = frozenset({"reverb", "delay", "modulation", "multi-effect", "instrument", None})
"""Processors that can make two legs of one, for which a mono recording is put on a stereo strip."""


@FACTS.fact(
    "word",
    "How its files differ in width from its strip, where those of the other parts fit theirs.",
    how="derived",
    words=("stereo on mono", "mono on stereo", "none"),
    settings=(LEAST_FITTING,),
)
def file_width(row: Row[Channel]) -> FactValue:
    found = _unfitting(row.context).get(row.subject.id)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    return FactValue(found, "derived", row.subject.where, _odd_file(row.context, row.item))


def _odd_file(context: SessionContext, channel: Channel) -> str:
    """The name of the first file of a part that is not as wide as its strip."""
    files = (media_of(context, clip.file) for clip in channel.clips if clip.file is not None and clip.on is not False)
    return next((file_name(one.path) for one in files if one is not None and one.legs != channel.legs), "its file")


@per_session
def _unfitting(context: SessionContext) -> dict[str, str]:
    """Part id → how its files differ from its strip. Nothing where that is frequent, or the strips all look alike."""
    found: dict[str, str] = {}
    fitting: set[int] = set()
    fits = 0
    for part in context.session.channels:
        if not is_source(context, part) or not is_known(part.legs):
            continue
        widths = set(file_legs(context, part))
        if widths == {part.legs}:
            fits += 1
            fitting.add(part.legs)
        elif widths and is_audible(context, part):
            if part.legs == 1 and max(widths) > 1:
                found[part.id] = "stereo on mono"
            elif part.legs == 2 and min(widths) == 1:
                found[part.id] = "mono on stereo"
    if fits < context.setting(LEAST_FITTING) * len(found):
        return {}
    # An export that gives every strip two legs says nothing by them: strips of one leg have to be seen to fit.
    meant = 1 in fitting
    return {
        part: how
        for part, how in found.items()
        if how == "stereo on mono" or (meant and not _widened(context, context.channels[part]))
    }


def _widened(context: SessionContext, part: Channel) -> bool:
    return any(reading.word in WIDENING for _, reading in active_inserts(context, part))
