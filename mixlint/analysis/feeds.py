"""What feeds stems, tracks for prints and cue mixes by sends: the one feed that is not set as all the others are."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from mixlint.analysis.channel_purpose import carries_content, is_cue, is_return
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.peers import LEAST_PEERS
from mixlint.naming import is_stem, words_without_print
from mixlint.session import Channel, channel_now, is_known
from mixlint.session.control import moves
from mixlint.units import number_text


class Feed(NamedTuple):
    """One send that feeds a stem, a track for a print, or a cue mix.

    Args:
        channel: the channel it leaves.
        number: its place there, counted from 0.
        to: where it leads.
        settings: what can be compared of it, by what it is called: switched on or off, where it is taken, and of what
            feeds no cue mix its level and its pan.
    """

    channel: Channel
    number: int
    to: Channel
    settings: dict[str, str]


@per_session
def _feeds(context: SessionContext) -> dict[str, list[Feed]]:
    """``stems`` and ``cue mixes`` → what feeds them; sends that automation moves are left out."""
    found: dict[str, list[Feed]] = {}
    for channel in context.session.channels:
        if not channel.sends or not carries_content(context, channel.id):
            continue
        moved = {lane.target.place for lane in channel.automation if lane.target.kind in SENDS and moves(lane)}
        for number, send in enumerate(channel_now(channel).sends):
            to = context.channels.get(send.to) if isinstance(send.to, str) else None
            if to is None or number in moved or is_return(context, to):
                continue
            settings: dict[str, str] = {}
            if is_known(send.on):
                settings["switch"] = "is switched on" if send.on else "is switched off"
            if is_known(send.tap):
                settings["tap"] = f"is taken {TAPS[send.tap]} the fader"
            if is_cue(context, to):
                found.setdefault("cue mixes", []).append(Feed(channel, number, to, settings))
            elif to.kind == "track" or is_stem(to.name, context.house.vocabulary):
                if is_known(send.level_db):
                    settings["level"] = f"stands at {number_text(send.level_db, 'dB')}"
                if is_known(send.pan):
                    settings["pan"] = f"is panned {number_text(send.pan, 'pan')}"
                found.setdefault("stems", []).append(Feed(channel, number, to, settings))
    return found


SENDS: Final = frozenset({"send-level", "send-switch", "send-pan"})
TAPS: Final = {"pre": "before", "post": "behind"}


@per_session
def feeds_apart(context: SessionContext) -> dict[tuple[str, int], str]:
    """Channel id and place of a send that is not set as all its like, or leads to the stem of another → how."""
    found: dict[tuple[str, int], str] = {}
    for what, feeds in _feeds(context).items():
        for at, text in _unlike(context, what, feeds):
            found.setdefault(at, text)
        for at, text in _led_astray(context, feeds):
            found.setdefault(at, text)
    return found


def _unlike(context: SessionContext, what: str, feeds: list[Feed]) -> Iterator[tuple[tuple[str, int], str]]:
    """Of feeds that all agree in a setting but for one that one."""
    for setting in ("switch", "level", "tap", "pan"):
        values: dict[str, list[Feed]] = {}
        for feed in feeds:
            values.setdefault(feed.settings.get(setting, ""), []).append(feed)
        if len(values) != 2 or "" in values:
            continue
        (own, alone), (usual, others) = sorted(values.items(), key=lambda pair: len(pair[1]))
        if len(alone) == 1 and len(others) >= context.setting(LEAST_PEERS):
            yield (alone[0].channel.id, alone[0].number), f"{own}; of all {len(others)} others into {what} each {usual}"


def _led_astray(context: SessionContext, feeds: list[Feed]) -> Iterator[tuple[tuple[str, int], str]]:
    """What leads to the stem that is called after another, while nothing leads to its own."""
    words = context.house.vocabulary
    targets = [(c, words_without_print(c.name, words) - STEM_WORDS) for c in context.session.channels]
    fed = {feed.to.id for feed in feeds}
    said_by: dict[frozenset[str], set[str]] = {}
    for feed in feeds:
        said_by.setdefault(frozenset(words_without_print(feed.channel.name, words)), set()).add(feed.channel.id)
    for feed in feeds:
        own = words_without_print(feed.channel.name, words)
        there = words_without_print(feed.to.name, words) - STEM_WORDS
        if not is_stem(feed.to.name, words) or there == own or not said_by.get(there, set()) - {feed.channel.id}:
            continue
        for target, said in targets:
            if said == own and target.id not in fed and is_stem(target.name, words):
                yield (feed.channel.id, feed.number), f"leads to {feed.to.name}, and nothing leads to {target.name}"


STEM_WORDS: Final = frozenset({"stem", "stems"})
"""What is left of the words for stems where others than those for prints are taken out of a name."""
