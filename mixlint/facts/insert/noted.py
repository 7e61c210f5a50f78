"""Whether a processor is switched as the comment of its channel, or its own name, says."""

from __future__ import annotations

from typing import Final, Literal

from mixlint.analysis.context import SessionContext, per_session
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.naming.comment_reading import parts_of, sentences_of, switch_in
from mixlint.naming.fold import as_read
from mixlint.session import Channel, Insert, Target, Unknown, control_of

FACTS: Facts[ChannelInsert] = Facts()

SHORTEST: Final = 3
"""A shorter word of a processor's name is none that a comment calls it by: wording."""


@per_session
def _noted_switches(context: SessionContext, channel: Channel) -> dict[int, tuple[Literal["on", "off"], str]]:
    """Place of an insert → whether it is noted as on or off, and the sentence or the name that says so.

    A sentence counts where it names one processor of the channel alone, by a word of its name or by its kind, before
    what it says of it.
    """
    words = context.house.vocabulary
    found: dict[int, tuple[Literal["on", "off"], str]] = {}
    for sentence in sentences_of(channel.comment) if channel.inserts else ():
        read = " ".join(parts_of(sentence))
        states = [state for part in parts_of(sentence) if (state := switch_in(part, words)) is not None]
        named = [place for place in range(len(channel.inserts)) if _is_named(context, channel, place, read)]
        if len(states) == len(named) == 1:
            found[named[0]] = states[0], sentence
    for place, insert in enumerate(channel.inserts):
        if control_of(channel, Target.insert(place, "on")).moves:
            found.pop(place, None)
            continue
        own = switch_in(as_read(insert.name), words) if len(as_read(insert.name).split()) > 1 else None
        if own is not None:
            found[place] = own, insert.name
    return found


def _is_named(context: SessionContext, channel: Channel, place: int, read: str) -> bool:
    """True where a text names the insert by a word that no other insert of its channel bears, or by its kind."""
    words = read.split()
    said = {" ".join(words[at : at + length]) for length in (1, 2) for at in range(len(words))}
    others = {word for at, one in enumerate(channel.inserts) if at != place for word in _words(one)}
    if (_words(channel.inserts[place]) - others) & said:
        return True
    kinds = context.processors[channel.id]
    kind, known = kinds[place].word, context.house.vocabulary.processors.phrases
    alone = sum(one.word == kind for one in kinds) == 1
    return kind is not None and alone and any(known.get(word) == kind for word in said)


def _words(insert: Insert) -> set[str]:
    return {word for word in as_read(insert.name).split() if len(word) >= SHORTEST}


@FACTS.fact(
    "word",
    "How it is noted in the comment of its channel, or in its own name: on, off, or neither.",
    words=("on", "off", "neither"),
)
def noted_switch(row: Row[ChannelInsert]) -> FactValue:
    noted = _noted_switches(row.context, row.item.channel).get(row.item.place)
    return FactValue(noted[0] if noted else "neither", "declared", row.subject.where, noted[1] if noted else "")


@FACTS.fact("switch", "It is switched as it is noted.")
def switched_as_noted(row: Row[ChannelInsert]) -> bool | Unknown:
    on = row.item.insert.on
    return on if isinstance(on, Unknown) else on == (row.need("noted_switch").value == "on")
