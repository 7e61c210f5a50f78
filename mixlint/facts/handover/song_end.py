"""Where the song ends: its end marker, and the room that leaves for the tail after the last clip."""

from __future__ import annotations

from mixlint.analysis.activity import song_end_s
from mixlint.analysis.ambience import effect_of
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_return
from mixlint.analysis.song_end import LEAST_PARTS, PAST_S, ends_of_parts, runs_on_alone
from mixlint.analysis.song_end import end_marker as end_marker_of
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Session, Unknown
from mixlint.units import clock_text, few_text

FACTS: Facts[Session] = Facts()


@FACTS.fact("switch", "A reverb or delay return sounds, so that the song ends after its last clip.", how="derived")
def has_tail(row: Row[Session]) -> bool:
    context = row.context
    return any(
        is_return(context, channel)
        and is_audible(context, channel)
        and effect_of(context, channel) in ("reverb", "delay")
        for channel in context.session.channels
    )


@FACTS.fact("switch", "A marker says where the song ends.")
def end_marked(row: Row[Session]) -> bool:
    return end_marker_of(row.context) is not None


@FACTS.fact(
    "number",
    "How long the end marker leaves after the last clip; one part that runs past it alone does not count.",
    unit="s",
    how="derived",
    settings=(LEAST_PARTS,),
)
def room_s(row: Row[Session]) -> FactValue | Unknown:
    context = row.context
    marker = end_marker_of(context)
    if marker is None:
        return Unknown(unknown="no marker says where the song ends", settle="look at the range of the bounce")
    alone = runs_on_alone(context)
    ends = [end for one, end in ends_of_parts(context).items() if one not in alone]
    last = max(ends, default=song_end_s(context))
    return FactValue(
        marker.time_s - last, "derived", clock_text(marker.time_s), f"the last clip ends at {clock_text(last)}"
    )


@FACTS.fact("text", "The parts that play on behind the end marker, for a reader.", how="derived")
def plays_on(row: Row[Session]) -> str:
    context = row.context
    marker = end_marker_of(context)
    past = [one for one, end in ends_of_parts(context).items() if marker is not None and end > marker.time_s + PAST_S]
    names = few_text([context.name(one) for one in past], none="no part")
    return f"{names} {'play' if len(past) > 1 else 'plays'} on behind it"


@FACTS.fact("switch", "The print runs on behind the end marker until the last note has died away.")
def print_runs_on(_: Row[Session]) -> Unknown:
    return Unknown(unknown="the export does not show the range of the print", settle="look at the range of the bounce")


@FACTS.fact("text", "The end marker and its place.", how="derived")
def end_marker(row: Row[Session]) -> str:
    marker = end_marker_of(row.context)
    return f"{marker.name} at {clock_text(marker.time_s)}" if marker else "none"
