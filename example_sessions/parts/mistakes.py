"""The flawed twin: the clean song with eight mistakes, each of a kind that happens in real work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from mixlint.session import Channel, Session

from .desk import bus, reverb, send


@dataclass(frozen=True)
class Mistake:
    """One planted mistake.

    Args:
        name: a short name, as the read-me has it.
        channel: id of the channel it sits on.
        story: how it came about.
        plant: makes the mistake in that channel.
    """

    name: str
    channel: str
    story: str
    plant: Callable[[Channel], Channel]


def _change(**changes: object) -> Callable[[Channel], Channel]:
    return lambda channel: channel.model_copy(update=changes)


def _half_wet(channel: Channel) -> Channel:
    swapped = tuple(reverb(i.name, 50.0) if i.kind == "reverb" else i for i in channel.inserts)
    return channel.model_copy(update={"inserts": swapped})


def _without_low_cut(channel: Channel) -> Channel:
    return channel.model_copy(update={"inserts": tuple(i for i in channel.inserts if i.kind != "equalizer")})


def _sent_back(channel: Channel) -> Channel:
    return channel.model_copy(update={"sends": (*channel.sends, send("vocal-delay", -18.0))})


MISTAKES = (
    Mistake("half-wet reverb", "gtr-r-verb", "the plug-in came up with its default mix", _half_wet),
    Mistake(
        "return without low cut", "gtr-l-verb", "the equalizer was taken off to hear the low end", _without_low_cut
    ),
    Mistake("unanswered guitar", "acoustic-gtr-r", "the right guitar went to the middle for a check", _change(pan=0.0)),
    Mistake("leaning mix", "acoustic-gtr-l", "the left guitar was pushed up for the intro", _change(fader_db=-1.0)),
    Mistake("solo left on", "shaker", "the shaker was soloed to hear an edit", _change(solo=True)),
    Mistake("muted voice", "harmony-vocal", "the harmony was muted to tune the lead", _change(mute=True)),
    Mistake(
        "part that goes nowhere",
        "bass",
        "the bass was put out to the headphones to hear its tuning",
        _change(output="headphones"),
    ),
    Mistake("loop between returns", "vocal-verb", "a send back to the delay was opened", _sent_back),
)

HEADPHONES = bus("headphones", "Headphones 3-4", "group", output=None, declared_role="master")
"""A second pair of sockets on the back of the desk: what goes out here leaves the mix."""


def flawed(clean: Session) -> Session:
    """``clean`` with every mistake planted."""
    channels = {channel.id: channel for channel in clean.channels}
    for mistake in MISTAKES:
        channels[mistake.channel] = mistake.plant(channels[mistake.channel])
    return clean.model_copy(
        update={
            "title": f"{clean.title} (flawed)",
            "channels": (*channels.values(), HEADPHONES),
            "metadata": {**clean.metadata, "title": f"{clean.title} (flawed)"},
        }
    )
