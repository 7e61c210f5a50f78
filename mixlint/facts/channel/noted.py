"""What the comment or name of a channel notes of it, against what it does: kept out, without an output, closed."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from mixlint.analysis.activity import merged, song_end_s, sounding_clips, sounding_spans, within_s
from mixlint.analysis.audibility import audibility, is_heard
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming.comment_reading import fade_noted, kept_out, named_out_of_mix, open_for_a_time
from mixlint.routing import acting_inserts
from mixlint.session import FADER, MUTE, Automation, Channel, Unknown, control_of, is_known
from mixlint.session.control import moves as lane_moves

FACTS: Facts[Channel] = Facts()

CLOSED_DB: Final = Setting("noted.closed", -40.0, "dB", "A fader that goes down to this closes its channel.")
LEAST_REST: Final = Setting(
    "noted.least_rest", 4.0, "s", "A gap of this length between clips closes a channel.", lowest=0.0
)
CLOSING: Final = (CLOSED_DB, LEAST_REST)

LONG_FADE: Final = Setting(
    "noted.long_fade", 1.0, "s", "A last clip whose fade lasts so long fades its part.", lowest=0.1
)

OF_SONG: Final = 0.1
"""A part that begins or ends by this share of the song within it rests there: a definition."""


@per_session
def noted_out_of_mix(context: SessionContext, channel: Channel) -> tuple[str, str]:
    """What keeps a channel out of the mix by its comment or name, and the words that say so; empty where nothing."""
    words = context.house.vocabulary
    said = kept_out(channel.comment, words)
    if said is not None:
        return said
    named = named_out_of_mix(channel.name, words)
    return ("name", named) if named else ("", "")


@FACTS.fact("switch", "Its comment or its name says that it is not for the mix, or that it has no output.")
def noted_out(row: Row[Channel]) -> FactValue:
    what, said = noted_out_of_mix(row.context, row.item)
    return FactValue(bool(what), "declared", row.subject.where, said)


@FACTS.fact("switch", "It is its comment that says so, not its name alone.")
def noted_out_by_comment(row: Row[Channel]) -> bool:
    return noted_out_of_mix(row.context, row.item)[0] not in ("", "name")


@FACTS.fact(
    "switch",
    "It is heard as its comment says that it should not be: at all, or by an output that it should not have.",
    how="derived",
    settings=GAP_SETTINGS,
)
def heard_against_note(row: Row[Channel]) -> bool | Unknown:
    context, channel = row.context, row.item
    found = audibility(context, channel)
    if isinstance(found, Unknown):
        return found
    if not found or not is_heard(context, channel):
        return False
    if noted_out_of_mix(context, channel)[0] != "unconnected":
        return True
    if isinstance(channel.output, Unknown):
        return channel.output
    # Its sends may go where they should; its output is what should lead nowhere.
    return channel.output is not None and is_heard(context, context.channels[channel.output])


@FACTS.fact("switch", "Its comment says that it is open for a time only, or closed for one.")
def noted_closed(row: Row[Channel]) -> FactValue:
    said = open_for_a_time(row.item.comment, row.context.house.vocabulary)
    return FactValue(bool(said), "declared", row.subject.where, said)


@FACTS.fact(
    "switch",
    "A mute, a fader, a gate or a gap between its clips closes it, or what it has to pass, for a part of the song.",
    how="derived",
    settings=CLOSING,
)
def ever_closed(row: Row[Channel]) -> bool:
    context, own = row.context, row.subject.id
    passed = [context.channels[one] for one in context.routing.wiring.downstream([own]) | {own}]
    master = context.routing.wiring.mix_bus
    return any(_closes(context, one) for one in passed if one.id != master) or _rests(context, row.item)


@FACTS.fact("switch", "Its comment says that it fades at a place of the song.")
def noted_fade(row: Row[Channel]) -> FactValue:
    said = fade_noted(row.item.comment, row.context.house.vocabulary)
    return FactValue(bool(said), "declared", row.subject.where, said)


@FACTS.fact(
    "switch",
    "Automation moves a fader, a mute or a processor of it or of what it has to pass, or a VCA, or the last clips of "
    "half of what comes to it fade long.",
    how="derived",
    settings=(LONG_FADE,),
)
def ever_fades(row: Row[Channel]) -> bool:
    context, own = row.context, row.subject.id
    if any(one.kind == "vca" and one.automation for one in context.session.channels):
        return True
    passed = [context.channels[one] for one in context.routing.wiring.downstream([own]) | {own}]
    if any(lane_moves(lane) and _may_fade(lane) for one in passed for lane in one.automation):
        return True
    # What a bus is to fade may be faded by all that come to it.
    coming = [context.channels[one] for one in context.routing.wiring.upstream([own])]
    if len(coming) > 1 and all(control_of(one, FADER).moves for one in coming if one.clips):
        return True
    long_s = context.setting(LONG_FADE)
    last = [max(one.clips, key=lambda clip: clip.end_s).fade_out_s for one in coming if one.clips]
    long = sum(not is_known(fade) or fade >= long_s for fade in last)
    return 2 * long >= len(last)


def _may_fade(lane: Automation) -> bool:
    return lane.target.kind in ("fader", "mute") or lane.target.of_insert


def _closes(context: SessionContext, channel: Channel) -> bool:
    """True where automation or a gate closes a channel."""
    if control_of(channel, MUTE).moves:
        return True
    fader = control_of(channel, FADER)
    if fader.moves and (not is_known(fader.lowest) or fader.lowest <= context.setting(CLOSED_DB)):
        return True
    kinds = context.processors[channel.id]
    return any(kinds[place].word in ("gate", "expander", None) for place in acting_inserts(channel))


def _rests(context: SessionContext, channel: Channel) -> bool:
    """True where a clip of a channel is off, or what sounds on it leaves a gap in which others play."""
    spans = merged(sounding_spans(context, channel.id))
    if not spans or any(clip.on is False for clip in channel.clips):
        return True
    least, end = context.setting(LEAST_REST), song_end_s(context)
    at_ends = max(least, OF_SONG * end)
    if spans[0][0] >= at_ends or end - spans[-1][1] >= at_ends:
        return True
    return any(
        _played(context, before, after) >= least
        for (_, before), (after, _) in pairwise(spans)
        if after - before >= least
    )


def _played(context: SessionContext, start_s: float, end_s: float) -> float:
    """For how long anything plays in a stretch, seconds."""
    return within_s(_all_spans(context), start_s, end_s)


@per_session
def _all_spans(context: SessionContext) -> list[tuple[float, float]]:
    return merged([span for channel in context.session.channels for span in sounding_clips(channel)])
