"""Sends that feed the tracks on which stems are printed: one that differs from all others, or is missing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.naming import is_print, is_stem
from mixlint.session import Channel, Target, control_of, is_known
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    from collections.abc import Iterator

LEAST_FEEDS: Final = Setting(
    "prints.least_feeds", 3.0, "", "So many other sends into tracks of stems show how these are fed.", lowest=2.0
)
FEED_APART: Final = Setting(
    "prints.feed_apart", 0.5, "dB", "A send so far off the others feeds its stem at another level.", lowest=0.1
)


class _Feed(NamedTuple):
    """A send into a track that holds a print: its channel and number, and how it stands."""

    channel: Channel
    number: int
    level_db: float
    pan: float
    tap: str
    on: bool


def _feeds(context: SessionContext) -> Iterator[_Feed]:
    words = context.house.vocabulary
    prints = {
        one.id
        for one in context.session.channels
        if one.kind == "track" and (is_stem(one.name, words) or is_print(one.name, words))
    }
    for channel in context.session.channels:
        for number, send in enumerate(channel.sends):
            if send.to not in prints or channel.id in prints:
                continue
            level, pan, on = (control_of(channel, Target.send(number, word)) for word in ("level", "pan", "on"))
            if level.moves or pan.moves or on.moves or not is_known(level.now) or not is_known(send.tap):
                continue
            at = pan.now if is_known(pan.now) else 0.0
            yield _Feed(channel, number, level.now, at, send.tap, on.can_be_on is not False)


@per_session
def odd_feeds(context: SessionContext) -> dict[tuple[str, int], str]:
    """Channel id and number of a send → in what it differs from all other sends into tracks of stems, for a reader."""
    feeds = tuple(_feeds(context))
    if len(feeds) <= context.setting(LEAST_FEEDS):
        return {}
    apart = context.setting(FEED_APART)
    found: dict[tuple[str, int], str] = {}
    for own in feeds:
        others = [other for other in feeds if other is not own]
        said = []
        if max(o.level_db for o in others) - min(o.level_db for o in others) < apart:
            usual = others[0].level_db
            if abs(own.level_db - usual) >= apart:
                said.append(f"at {number_text(own.level_db, 'dB')}, the others at {number_text(usual, 'dB')}")
        if own.pan != 0.0 and all(other.pan == 0.0 for other in others):
            said.append("panned, the others in the centre")
        if all(other.tap != own.tap for other in others):
            said.append(f"taken {own.tap}-fader, the others {others[0].tap}-fader")
        if not own.on and all(other.on for other in others):
            said.append("switched off, the others on")
        if said:
            found[own.channel.id, own.number] = few_text(said, joint="; ")
    # Where two differ, from each other or from the rest, they were set so.
    return found if len(found) == 1 else {}
