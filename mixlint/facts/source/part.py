"""What a part is: its name and role, what it plays, and what is meant."""

from __future__ import annotations

from mixlint.analysis.context import SessionContext
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.shared import HOUSE_LETS, INTENTS, UNREAD, house_lets, intents
from mixlint.naming import FAMILIES, PERMISSIONS, ROLES, is_direct
from mixlint.session import Channel, Unknown

FACTS: Facts[Channel] = Facts()


FACTS.fact("text", "The channel's name.")(channel_facts.name)


FACTS.fact("word", "The part it plays.", how="derived", words=ROLES)(channel_facts.role)


@FACTS.fact("word", "The family of parts its role belongs to.", how="derived", words=FAMILIES)
def family(row: Row[Channel]) -> str | Unknown:
    return channel_facts.family(row)


FACTS.fact("number", "Fader position; −200 is fully down.", unit="dB")(channel_facts.fader_db)


FACTS.fact("list", INTENTS)(intents)


FACTS.fact("list", HOUSE_LETS, words=PERMISSIONS)(house_lets)


@FACTS.fact("word", "The part it plays, or unread where its name does not tell.", how="derived", words=(*ROLES, UNREAD))
def part(row: Row[Channel]) -> str:
    return row.context.role_word(row.subject.id) or UNREAD


@FACTS.fact(
    "word", "The family of the part, or unread where its name does not tell.", how="derived", words=(*FAMILIES, UNREAD)
)
def part_family(row: Row[Channel]) -> str:
    return row.context.family(row.subject.id) or UNREAD


@FACTS.fact("switch", "It plays recordings, and not notes alone.")
def recorded(row: Row[Channel]) -> bool:
    channel = row.item
    kinds = {clip.plays for clip in channel.clips if clip.on is not False} or set(channel.plays)
    return not kinds or bool(kinds - {"notes"})


@FACTS.fact("number", "Its legs: 1 for mono, 2 for stereo. Two declared legs without a file to show them are no proof.")
def legs(row: Row[Channel]) -> float | FactValue | Unknown:
    channel = row.item
    if channel.legs == 1:
        return 1
    widths = file_legs(row.context, channel)
    if widths:
        return FactValue(min(2, max(widths)), "declared", row.subject.where, "by its files")
    return Unknown(
        unknown="two declared legs are no proof of a stereo part, and its files are not at hand",
        settle="look at its file",
    )


def file_legs(context: SessionContext, channel: Channel) -> list[int]:
    """The widths of the files the channel plays, where all of them are known; otherwise none."""
    declared = {media.id: media.legs for media in context.session.media}
    found = []
    for file in dict.fromkeys(clip.file for clip in channel.clips if clip.file is not None and clip.on is not False):
        width: int | Unknown = declared.get(file, Unknown(unknown="no such file"))
        if isinstance(width, Unknown) and context.audio is not None:
            header = context.audio.header(file)
            width = header if isinstance(header, Unknown) else header.legs
        if isinstance(width, Unknown):
            return []
        found.append(width)
    return found


@FACTS.fact("switch", "Its name calls it a direct signal: the second voice of an instrument.")
def direct(row: Row[Channel]) -> bool:
    return is_direct(row.item.name, row.context.house.vocabulary)
