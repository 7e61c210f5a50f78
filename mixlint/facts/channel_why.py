"""Why a channel is read as it is: what was read, what comes next, everything that speaks for a role, how to overrule.

The models are the JSON form ``mixlint-why/1``.
"""

from __future__ import annotations

from typing import Literal

from mixlint.analysis.context import SessionContext
from mixlint.errors import InputError, near
from mixlint.naming import fold_name, side_of
from mixlint.session import Channel
from mixlint.session.maybe import Frozen


class WhyEvidence(Frozen):
    """One thing that speaks for what a channel is: where it comes from, for which families, and what it is."""

    kind: str
    families: tuple[str, ...]
    text: str


class WhyChannel(Frozen):
    """The reading of one channel. ``role`` None means: it is asked about, and ``grounds`` say why.

    ``second`` is the role or family that comes next, ``deciding`` the words of the name without any of which it would
    be read otherwise, ``overrule`` the line of a standard's ``[roles]`` table that settles it.
    """

    id: str
    name: str
    role: str | None
    grounds: tuple[str, ...]
    side: Literal["left", "right"] | None
    second: str | None
    deciding: tuple[str, ...]
    evidence: tuple[WhyEvidence, ...]
    overrule: str


class Why(Frozen):
    """The readings of every channel that was asked about: ``mixlint-why/1``."""

    format: Literal["mixlint-why/1"] = "mixlint-why/1"
    channels: tuple[WhyChannel, ...]


def why(context: SessionContext, asked: str) -> Why:
    """Why the channels of a name, or with an id, are read as they are.

    Args:
        context: the session.
        asked: a name, in small or capital letters, or an id.

    Raises:
        InputError: no channel is called so.
    """
    wanted = fold_name(asked)
    found = [c for c in context.session.channels if wanted in (fold_name(c.name), fold_name(c.id))]
    if not found:
        names = [channel.name for channel in context.session.channels]
        do = near(asked, names) or "take a name or id from mixlint sheet"
        raise InputError(f"no channel is called {asked[:60]!r}", where="--why", do=do)
    return Why(channels=tuple(_of_channel(context, channel) for channel in found))


def _of_channel(context: SessionContext, channel: Channel) -> WhyChannel:
    reading = context.roles[channel.id]
    return WhyChannel(
        id=channel.id,
        name=channel.name,
        role=reading.word,
        grounds=reading.grounds,
        side=side_of(channel.name, context.house.vocabulary),
        second=reading.second,
        deciding=reading.deciding,
        evidence=tuple(
            WhyEvidence(kind=one.kind, families=tuple(sorted(one.families)), text=one.text) for one in reading.evidence
        ),
        overrule=line_for(context, channel),
    )


def line_for(context: SessionContext, channel: Channel) -> str:
    """The line of a standard's ``[roles]`` table that settles what a channel is, with what comes next as a guess.

    Args:
        context: the session.
        channel: the channel.
    """
    return overruling_line(channel.name, _a_role(context, context.roles[channel.id].second))


def _a_role(context: SessionContext, told: str | None) -> str | None:
    """What comes next where that is a role, which a standard can say; a family is none."""
    return told if told is not None and context.house.vocabulary.family_of(told) is not None else None


def overruling_line(name: str, role: str | None = None) -> str:
    """The line of a standard's ``[roles]`` table that says what a channel of a name is.

    Characters that stand for others in a pattern are set in brackets, so that the line fits this name alone.

    Args:
        name: the channel's name.
        role: what it is; a gap to fill in without it.
    """
    pattern = "".join(f"[{char}]" if char in "*?[" else char for char in name)
    escaped = pattern.replace("\\", "\\\\").replace('"', '\\"')
    plain = "".join(char if char.isprintable() else _escape(char) for char in escaped)
    return f'"{plain}" = "{role or "?"}"'


def _escape(char: str) -> str:
    """A character that cannot be seen, as TOML writes it."""
    return f"\\u{ord(char):04x}" if ord(char) < 0x10000 else f"\\U{ord(char):08x}"
