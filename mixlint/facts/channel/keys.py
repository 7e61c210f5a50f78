"""Channels that key a compressor or gate on others: which ones they key, and whether anything plays in them."""

from __future__ import annotations

from mixlint.analysis.channel_purpose import carries_content, holds_clips
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gaps import GAP_SETTINGS, unknown_by_gap
from mixlint.analysis.key_inputs import channels_by_key
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import keys_named
from mixlint.routing import acting_inserts
from mixlint.session import Channel, Unknown
from mixlint.units import few_text

FACTS: Facts[Channel] = Facts()


@per_session
def _keyed_by(context: SessionContext) -> dict[str, tuple[str, ...]]:
    """Channel id → the names of the channels on which a processor that acts is keyed from it, each once."""
    named = channels_by_key(context)
    found: dict[str, dict[str, None]] = {}
    for channel in context.session.channels:
        if not carries_content(context, channel.id):
            continue
        for place, insert in acting_inserts(channel).items():
            if context.processors[channel.id][place].word == "pitch":
                continue  # the key it lists is one of music
            for key in keys_named(insert):
                if key in named and named[key].id != channel.id:
                    found.setdefault(named[key].id, {})[context.name(channel.id)] = None
    return {one: tuple(names) for one, names in found.items()}


@FACTS.fact("list", "The channels on which a processor is keyed from it, as its parameters say.", how="derived")
def keyed_channels(row: Row[Channel]) -> tuple[str, ...]:
    return _keyed_by(row.context).get(row.subject.id, ())


@FACTS.fact(
    "switch",
    "It plays something, or something that plays is sent to it, and neither of them is muted.",
    how="derived",
    settings=GAP_SETTINGS,
)
def key_plays(row: Row[Channel]) -> FactValue | Unknown:
    context, own = row.context, row.subject.id
    wiring = context.routing.wiring
    if own in wiring.muted:
        return FactValue(False, "derived", row.subject.where, "it is muted")
    feeding = [one for one in wiring.upstream([own], wiring.audible) if one not in wiring.muted]
    if any(holds_clips(context, context.channels[one]) for one in feeding):
        return FactValue(True, "derived", row.subject.where, "it plays")
    gap = unknown_by_gap(context, "sends", "outputs", "groups")
    if gap is not None:
        return gap
    shut = [context.name(one.source) for one in wiring.loose if _leads_to(context, one.source, one.send, own)]
    text = f"the send of {few_text(shut)} to it is shut" if shut else "nothing that plays is sent to it"
    return FactValue(False, "derived", row.subject.where, text)


def _leads_to(context: SessionContext, source: str, send: int, to: str) -> bool:
    sends = context.channels[source].sends
    return send < len(sends) and sends[send].to == to


@FACTS.fact("text", "What is keyed from it and why nothing plays in it, for a reader.", how="derived",
            settings=GAP_SETTINGS)  # fmt: skip
def key_text(row: Row[Channel]) -> str:
    names = _keyed_by(row.context).get(row.subject.id, ())
    what = f"keys a processor on {few_text(list(names))}" if names else "is a key input"
    return f"{what}, and {row.need('key_plays').note}"
