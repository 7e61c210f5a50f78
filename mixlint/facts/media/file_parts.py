"""Files whose names tell another part than the channel that plays them: a wrong one was linked, or two were swapped."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse, file_name
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, Row
from mixlint.facts.media.file_marks import PlayedFile, heard_files, played_files
from mixlint.naming import part_of_file, says_complete, says_left_out, side_of
from mixlint.naming.fold import without_asides
from mixlint.session import Channel

FACTS: Facts[MediaUse] = Facts()

NAMED_ALIKE: Final = share_setting(
    "file_parts.named_alike",
    60.0,
    "Least share of channels whose files are called as they are, so that a file called as another channel is wrong.",
)
LEAST_SIDES: Final = Setting(
    "file_parts.least_sides",
    2.0,
    "",
    "So many other files have to tell the side that their channels tell, and none another, so that one that does is "
    "wrong.",
    lowest=1.0,
)
PART_SETTINGS: Final = (NAMED_ALIKE, LEAST_SIDES)


@per_session
def named_for_others(context: SessionContext) -> dict[str, str]:
    """Media id → the channel that it is called as, and which is not the one that plays it."""
    words = context.house.vocabulary
    shared = _shared_beginning(context)
    by_part: dict[str, list[Channel]] = {}
    for channel in context.session.channels:
        if channel.kind == "track":
            by_part.setdefault(_part(context, channel), []).append(channel)
    alike: set[str] = set()
    odd: list[tuple[PlayedFile, Channel]] = []
    for one in played_files(context):
        own, part = _part(context, one.channel), part_of_file(one.name.removeprefix(shared), words)
        if part == own:
            alike.add(one.channel.id)
        elif len(by_part.get(part, ())) == 1 and part not in own:
            odd.append((one, by_part[part][0]))
    channels = {one.channel.id for one in played_files(context)}
    if 100.0 * len(alike | {one.channel.id for one, _ in odd}) < context.setting(NAMED_ALIKE) * len(channels):
        return {}
    if len(alike) < len(odd):
        return {}
    # Where the other channel is heard with this file too, it is one recording twice, which other rules tell.
    return {
        one.use.media.id: context.name(other.id)
        for one, other in odd
        if other.id not in one.use.users or not is_heard(context, other)
    }


def _part(context: SessionContext, channel: Channel) -> str:
    """The part that a channel's name tells, without what it adds in brackets."""
    words = context.house.vocabulary
    return part_of_file(without_asides(channel.name) or channel.name, words)


def _shared_beginning(context: SessionContext) -> str:
    """The word that nearly every file begins with, and what stands behind it: a song's code."""
    names = [one.name for one in played_files(context)]
    if not names:
        return ""
    first = names[len(names) // 2].partition("_")[0] + "_"
    return first if sum(name.startswith(first) for name in names) > 0.7 * len(names) else ""


@per_session
def named_for_other_side(context: SessionContext) -> dict[str, str]:
    """Media id → the side that its name tells, where the channel's name tells the other one and no third file does."""
    words = context.house.vocabulary
    odd: dict[str, str] = {}
    agree = 0
    strangers: set[str] = set()
    for one in played_files(context):
        of_channel, of_file = side_of(one.channel.name, words), side_of(one.name.rpartition(".")[0], words)
        if of_channel and of_file == of_channel:
            agree += 1
        elif of_channel and of_file and {of_channel, of_file} == {"left", "right"}:
            odd[one.use.media.id] = of_file
            strangers.add(one.channel.id)
    return odd if len(strangers) <= 2 and agree >= context.setting(LEAST_SIDES) else {}


def complete_for(context: SessionContext, use: MediaUse) -> list[str]:
    """What tells that a file holds what the channels that play it leave out by their names: the words of both."""
    words = context.house.vocabulary
    name = file_name(use.media.path)
    complete = says_complete(name, words)
    if not complete or says_left_out(name, words):
        return []
    names = [context.name(one) for one in use.users if is_heard(context, context.channels[one])]
    return [
        f"{complete}, where {one} says {said}"
        for one in names
        if (said := says_left_out(one, words)) and not says_complete(one, words)
    ]


def utility_plays_it(context: SessionContext, use: MediaUse) -> list[str]:
    """The guide, the reference or the click whose own file a heard part of the song plays."""
    if use.media.id not in heard_files(context):
        return []
    return [context.name(one) for one in use.users if is_utility(context, context.channels[one])]


@FACTS.fact(
    "list",
    "What tells that it is the file of another channel: it is called as that one, or for the other side, it holds what "
    "its channel leaves out, or the guide or the reference plays it too.",
    how="derived",
    settings=PART_SETTINGS,
)
def other_part(row: Row[MediaUse]) -> tuple[str, ...]:
    media = row.item.media.id
    other = named_for_others(row.context).get(media)
    found = [f"called as {other} is"] if other else []
    side = named_for_other_side(row.context).get(media)
    if side and not found:
        found.append(f"called for the {side}")
    found += [f"called {told}" for told in complete_for(row.context, row.item)]
    found += [f"the file of {one}" for one in utility_plays_it(row.context, row.item)]
    return tuple(found)
