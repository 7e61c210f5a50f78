"""Which tracks play by an instrument, and whether an audio print of what it plays is in the session."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import coverage, time_grid
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import is_active_clip
from mixlint.analysis.prints import LEAST_BESIDE, live_source, source_of_print
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import without_print_words
from mixlint.routing import acting_inserts
from mixlint.session import Channel, Unknown, known

LEAST_COVERED: Final = Setting(
    "prints.least_covered", 90.0, "%", "Audio is the print of notes from this share of their time on that it covers."
)


def instrument_print(context: SessionContext, channel: Channel) -> str | Unknown | None:
    """The name of the channel whose audio is the print of this one's notes: itself or one of like name; or None.

    Muted prints count. Unknown where the export holds no note clips, so that nothing says where the notes play.
    """
    notes = [(c.start_s, c.end_s) for c in channel.clips if c.plays == "notes" and is_active_clip(channel, c)]
    if not notes:
        return Unknown(
            unknown="the export does not show where its instrument plays", settle="look whether its audio is printed"
        )
    name = _name_without_print(context, channel)
    edges = time_grid(context)
    played = coverage(notes, edges)
    least = context.setting(LEAST_COVERED) / 100.0 * float(played.sum())
    for other in context.session.channels:
        if other.id != channel.id and _name_without_print(context, other) != name:
            continue
        # A print is often muted while its instrument still plays, so that muted clips count here.
        audio = [(c.start_s, c.end_s) for c in other.clips if c.plays == "audio"]
        if audio and float(coverage(audio, edges)[played > 0.0].sum()) >= least:
            return context.name(other.id)
    return None


def holds_instrument(context: SessionContext, channel: Channel) -> bool:
    """True when an instrument that is switched on and loaded sits in one of the channel's inserts."""
    kinds = context.kinds[channel.id]
    return any(kinds.get(place) == "instrument" for place in acting_inserts(channel))


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "switch", "It sounds by an instrument: notes play on it, or an instrument sits in an insert.", how="derived"
)
def by_instrument(row: Row[Channel]) -> bool:
    channel = row.item
    if any(clip.plays == "notes" and is_active_clip(channel, clip) for clip in channel.clips):
        return True
    played = not channel.clips or any(clip.plays == "notes" for clip in channel.clips)
    return played and holds_instrument(row.context, channel)


@FACTS.fact(
    "switch",
    "An audio print of what its instrument plays is in the session.",
    how="derived",
    settings=(LEAST_COVERED,),
)
def printed(row: Row[Channel]) -> FactValue:
    found = known(instrument_print(row.context, row.item))
    return FactValue(found is not None, "derived", row.subject.where, f"on {found}" if found else "")


@FACTS.fact(
    "switch",
    "Nothing but notes plays on it.",
    how="derived",
)
def notes_alone(row: Row[Channel]) -> bool:
    plays = {clip.plays for clip in row.item.clips if is_active_clip(row.item, clip)}
    return plays == {"notes"}


@FACTS.fact(
    "switch",
    "An instrument, switched on or not, sits on it or on what its notes go to, or a print of it is heard.",
    how="derived",
    settings=(LEAST_COVERED,),
)
def has_instrument(row: Row[Channel]) -> bool | Unknown:
    context, channel = row.context, row.item
    reached = context.routing.wiring.downstream([channel.id])
    if any(_may_play(context, context.channels[one]) for one in reached):
        return True
    if notes_printed(context, channel):
        return True
    if not any(other.inserts for other in context.session.channels):
        return Unknown(unknown="the export shows no processor at all", settle="look what plays its notes")
    # An instrument on a channel without notes of its own may take them from here.
    idle = any(
        "instrument" in context.kinds[other.id].values() and not other.clips for other in context.session.channels
    )
    return Unknown(unknown="its notes may go to another channel's instrument") if idle else False


def _may_play(context: SessionContext, channel: Channel) -> bool:
    """True where an instrument sits on a channel, or on a track something whose kind is not known and may be one."""
    kinds = set(context.kinds[channel.id].values())
    unread = channel.kind == "track" and len(kinds) < len(channel.inserts)
    return "instrument" in kinds or unread or (channel.kind == "track" and None in kinds)


def notes_printed(context: SessionContext, channel: Channel) -> bool:
    """True where a heard channel of its name holds audio over the time of its notes."""
    found = instrument_print(context, channel)
    return isinstance(found, str) and any(
        context.name(one.id) == found and is_heard(context, one) and any(c.plays == "audio" for c in one.clips)
        for one in context.session.channels
    )


@FACTS.fact("text", "The channel that it is a print of by its name, or none.", how="derived")
def print_of(row: Row[Channel]) -> str:
    source = source_of_print(row.context, row.item)
    return "none" if source is None else row.context.name(source.id)


@FACTS.fact(
    "switch",
    "What it is a print of is heard in the mix too, at the same time.",
    how="derived",
    settings=(LEAST_BESIDE,),
)
def beside_its_source(row: Row[Channel]) -> bool:
    return live_source(row.context, row.item) is not None


def _name_without_print(context: SessionContext, channel: Channel) -> str:
    """The name that a track and the print of its instrument have in common."""
    return without_print_words(channel.name, context.house.vocabulary, of_instrument=True)
