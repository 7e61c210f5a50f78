"""The one clip of a part that bears the name of another part's clips, while it plays the part's own recording."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips, file_name, media_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming.fold import as_read
from mixlint.session import Channel, Clip

FACTS: Facts[Channel] = Facts()

LEAST_LETTERS: Final = 3
"""Names that share fewer letters from their beginning tell nothing of whose they are: a definition."""


class Stranger(NamedTuple):
    """A clip that is named after another part.

    Args:
        clip: the clip.
        other: the part whose clips are named so.
    """

    clip: Clip
    other: Channel


@FACTS.fact(
    "text",
    "The part after which one clip of it is named, that plays its own recording, while all its others are named after "
    "it; or none.",
    how="derived",
)
def clip_named_for(row: Row[Channel]) -> FactValue:
    found = _strangers(row.context).get(row.subject.id)
    if found is None:
        return FactValue("none", "derived", row.subject.where)
    where = f"the clip at {moment_text(row.context, found.clip.start_s)} is named {found.clip.name}"
    return FactValue(row.context.name(found.other.id), "derived", row.subject.where, where)


@per_session
def _strangers(context: SessionContext) -> dict[str, Stranger]:
    """Channel id → its clip that is named after another part."""
    bearing: dict[str, dict[str, list[Clip]]] = {}
    parts = [c for c in context.session.channels if is_source(context, c) and is_heard(context, c)]
    for part in parts:
        for clip in audio_clips(part):
            if clip.name and clip.file is not None:
                bearing.setdefault(clip.name, {}).setdefault(part.id, []).append(clip)
    found: dict[str, Stranger] = {}
    for bearers in bearing.values():
        # A name on more channels than two is that of a section or a take.
        if len(bearers) == 2:
            for one, other in (tuple(bearers), tuple(reversed(bearers))):
                if len(bearers[one]) == 1 and _is_of(context, bearers[one][0], one, other):
                    found.setdefault(one, Stranger(bearers[one][0], context.channels[other]))
    return found


def _is_of(context: SessionContext, clip: Clip, one: str, other: str) -> bool:
    """True where the name of a clip begins as those of another part, and the part's other clips agree in another."""
    channel, rival = context.channels[one], context.channels[other]
    if any(theirs.file == clip.file for theirs in rival.clips):
        return False
    own = _shared([mine.name for mine in channel.clips if mine is not clip and mine.name])
    theirs = _shared([their.name for their in rival.clips if their.name])
    name = _squeezed(clip.name)
    if min(len(own), len(theirs)) < LEAST_LETTERS or not name.startswith(theirs):
        return False
    if name.startswith(own) or own.startswith(theirs):
        return False
    told = _told(context, clip.name, rival)
    return told >= LEAST_LETTERS and told > _told(context, clip.name, channel)


def _squeezed(name: str) -> str:
    return as_read(name).replace(" ", "")


def _shared(names: list[str]) -> str:
    """The letters with which all of some names begin; of one name all but its number at the end."""
    read = [_squeezed(name) for name in names]
    # What the first and the last in the order of the alphabet share, all share.
    both = _beginning(min(read, default=""), max(read, default=""))
    return both.rstrip("0123456789") if len(read) == 1 else both


def _beginning(one: str, other: str) -> str:
    """The letters with which both of two texts begin."""
    length = next((place for place, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), None)
    return one[: min(len(one), len(other)) if length is None else length]


def _told(context: SessionContext, name: str, channel: Channel) -> int:
    """How many letters a name begins with as a channel, or one of the files that it plays, does."""
    files = (media_of(context, one) for one in dict.fromkeys(clip.file for clip in channel.clips) if one is not None)
    called = [file_name(one.path).rpartition(".")[0] or one.path for one in files if one is not None]
    return max(len(_beginning(_squeezed(name), _squeezed(one))) for one in (channel.name, *called))
