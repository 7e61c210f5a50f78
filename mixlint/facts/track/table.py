"""The table ``track``: every track, with its clips taken together: edges, joins, takes, leftovers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from mixlint.analysis.activity import has_arrangement, stretch_text
from mixlint.analysis.audibility import feeds_content, is_aside, sounds
from mixlint.analysis.context import SessionContext
from mixlint.analysis.media_use import in_play
from mixlint.facts.channel import table as channel_facts
from mixlint.facts.declare import FactValue, Row, Subject, Table
from mixlint.facts.shared import channel_subject
from mixlint.facts.track import clips
from mixlint.facts.track.clip_boundaries import Step, steps
from mixlint.facts.track.instrument_prints import instrument_print
from mixlint.facts.track.takes import layers, sibling_takes
from mixlint.naming.words import FAMILIES, ROLES
from mixlint.routing import passes
from mixlint.session import Channel, Clip, Unknown, is_known
from mixlint.units import SILENCE_DB, clock_text, number_text

FEW: Final = 3
"""How many places a text names before it counts the rest."""


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Channel]]:
    return (
        (channel_subject(context, channel, "track"), channel)
        for channel in context.session.channels
        if channel.kind == "track" or (isinstance(channel.kind, Unknown) and channel.clips)
    )


TRACK: Table[Channel] = Table(
    "track", "Every track, with its clips taken together: edges, joins, takes.", _rows, (clips.FACTS,)
)

TRACK.fact("text", "The channel's name.")(channel_facts.name)
TRACK.fact("word", "The part it plays.", how="derived", words=ROLES)(channel_facts.role)


@TRACK.fact("word", "The family of parts its role belongs to.", how="derived", words=FAMILIES)
def family(row: Row[Channel]) -> str | Unknown:
    return channel_facts.family(row)


@TRACK.fact("switch", "It is not part of the song: a cue mix, click, guide, reference or utility channel.")
def aside(row: Row[Channel]) -> bool:
    return is_aside(row.context, row.item)


@TRACK.fact("switch", "It is not muted, nor is anything it has to pass on its way to the mix bus.", how="derived")
def audible(row: Row[Channel]) -> bool | Unknown:
    return sounds(row.context, row.item)


@TRACK.fact("number", "How many of its clips are switched on.", how="derived")
def clips_on(row: Row[Channel]) -> int:
    channel = row.item
    return sum(clip.on is not False for clip in channel.clips)


@TRACK.fact("switch", "An audio clip on it sounds.", how="derived")
def plays_audio(row: Row[Channel]) -> bool:
    channel = row.item
    return any(clip.plays == "audio" and in_play(channel, clip) for clip in channel.clips)


@TRACK.fact("switch", "The export holds any clips at all, so that an empty track is known to be empty.", how="derived")
def arranged(row: Row[Channel]) -> bool:
    return has_arrangement(row.context)


@TRACK.fact("switch", "It is loaded, and a clip on it is switched on or something that plays feeds it.", how="derived")
def in_use(row: Row[Channel]) -> bool | FactValue | Unknown:
    channel = row.item
    if channel.loaded is False:
        return FactValue(False, "declared", channel.where, "it was not loaded where the export was made")
    if channel.clips and not any(clip.on is not False for clip in channel.clips):
        return FactValue(False, "derived", channel.where, "all its clips are muted")
    if channel.clips or feeds_content(row.context, channel.id):
        return True
    if _holds_instrument(row) and _notes_elsewhere(row):
        return Unknown(
            unknown="an instrument sits on it, and notes may come from another channel", settle="look what plays it"
        )
    return FactValue(False, "derived", channel.where, "it holds no clips and nothing feeds it")


@TRACK.fact("text", "Why it counts as not in use.", how="derived")
def in_use_how(row: Row[Channel]) -> str:
    said = row.value("in_use")
    return said.note or "it is in use" if isinstance(said, FactValue) else said.unknown


def _steps(row: Row[Channel], joins: bool) -> tuple[Step, ...]:
    return tuple(s for s in steps(row.context, row.item) if (s.edge.kind == "join") == joins)


def _loudest(found: Iterable[Step]) -> Step | None:
    return max((s for s in found if is_known(s.level_db)), key=_level, default=None)


def _level(step: Step) -> float:
    return step.level_db if is_known(step.level_db) else SILENCE_DB


def _largest(row: Row[Channel], found: Iterable[Step]) -> FactValue:
    """The largest step that was measured, with its place."""
    worst = _loudest(found)
    if worst is None or worst.level_db == SILENCE_DB:
        return FactValue(SILENCE_DB, "measured", row.subject.where)
    clip = worst.edge.after or worst.edge.before
    assert clip is not None
    return FactValue(_level(worst), "measured", clip.where or row.subject.where, f"at {clock_text(worst.edge.at_s)}")


def _all_measured(found: Iterable[Step]) -> bool | Unknown:
    return next((s.level_db for s in found if isinstance(s.level_db, Unknown)), True)


def _fades_told(found: Iterable[Step]) -> bool | Unknown:
    missing = sum(not step.fade_told for step in found)
    if not missing:
        return True
    edges = "one edge" if missing == 1 else f"{missing} edges"
    return Unknown(
        unknown=f"the export gives no fade at {edges}, and some exporters leave out the small fades a program adds",
        settle="listen to the edges, or look at their fades",
    )


def _places(found: Iterable[Step], over_db: float) -> str:
    """Where the steps over ``over_db`` stand, the largest first."""
    loud = sorted((s for s in found if _level(s) > over_db), key=_level, reverse=True)
    said = [
        f"{_KINDS[s.edge.kind]} at {clock_text(s.edge.at_s)} ({number_text(_level(s), 'dBFS')})" for s in loud[:FEW]
    ]
    more = len(loud) - FEW
    return ", ".join(said) + (f" and {more} more" if more > 0 else "") if said else "none"


_KINDS: Final = {"start": "a start", "stop": "a stop", "join": "a join"}
NAMED_OVER_DB: Final = -60.0
"""Steps under this are not named."""


@TRACK.fact("number", "The largest step at a clip edge without a fade, at the mix bus.", unit="dBFS", how="measured")
def edge_step_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _steps(row, False) if s.fade_told))


@TRACK.fact(
    "number", "The largest step at a clip edge for which the export gives no fade.", unit="dBFS", how="measured"
)
def unsure_edge_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _steps(row, False) if not s.fade_told))


@TRACK.fact("switch", "Every edge that no fade covers was measured.", how="measured")
def edges_measured(row: Row[Channel]) -> bool | Unknown:
    return _all_measured(_steps(row, False))


@TRACK.fact("switch", "The export gives the fade of every edge.")
def edge_fades_given(row: Row[Channel]) -> bool | Unknown:
    return _fades_told(_steps(row, False))


@TRACK.fact("text", "Where clips start or stop abruptly, the largest step first.", how="measured")
def abrupt_edges(row: Row[Channel]) -> str:
    return _places(_steps(row, False), NAMED_OVER_DB)


@TRACK.fact("number", "The largest step where two clips meet without a crossfade.", unit="dBFS", how="measured")
def join_step_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _steps(row, True) if s.fade_told))


@TRACK.fact("number", "The largest step at a join for which the export gives no fade.", unit="dBFS", how="measured")
def unsure_join_dbfs(row: Row[Channel]) -> FactValue:
    return _largest(row, (s for s in _steps(row, True) if not s.fade_told))


@TRACK.fact("switch", "Every join that no crossfade covers was measured.", how="measured")
def joins_measured(row: Row[Channel]) -> bool | Unknown:
    return _all_measured(_steps(row, True))


@TRACK.fact("switch", "The export gives the fades at every join.")
def join_fades_given(row: Row[Channel]) -> bool | Unknown:
    return _fades_told(_steps(row, True))


@TRACK.fact("text", "Where clips meet with a jump, the largest first.", how="measured")
def abrupt_joins(row: Row[Channel]) -> str:
    return _places(_steps(row, True), NAMED_OVER_DB)


@TRACK.fact("number", "How many places there are where two of its clips meet.", how="derived")
def joins(row: Row[Channel]) -> int:
    return len(_steps(row, True))


def _muted(channel: Channel) -> list[Clip]:
    """Audio and note clips that are muted with nothing of their channel sounding in their place."""
    on = [c for c in channel.clips if c.on is True]
    return sorted(
        (
            clip
            for clip in channel.clips
            if clip.on is False and not any(o.start_s < clip.end_s and o.end_s > clip.start_s for o in on)
        ),
        key=lambda c: c.start_s,
    )


@TRACK.fact("number", "How many of its clips are muted with nothing sounding in their place.", how="derived")
def muted_clips(row: Row[Channel]) -> int:
    return len(_muted(row.item))


@TRACK.fact("text", "Where they stand.", how="derived")
def muted_at(row: Row[Channel]) -> str:
    found = _muted(row.item)
    said = [stretch_text(row.context, c.start_s, c.end_s) for c in found[:FEW]]
    more = len(found) - FEW
    return "; ".join(said) + (f"; and {more} more" if more > 0 else "") if said else "nowhere"


@TRACK.fact(
    "number", "For how long two of its audio clips lie over each other, crossfades aside.", unit="s", how="derived"
)
def layered_s(row: Row[Channel]) -> FactValue:
    found = layers(row.context, row.item)
    where = stretch_text(row.context, *found[0]) if found else ""
    return FactValue(sum(end - start for start, end in found), "derived", where)


@TRACK.fact("text", "Where that begins.", how="derived")
def layered_at(row: Row[Channel]) -> str:
    found = layers(row.context, row.item)
    return stretch_text(row.context, *found[0]) if found else "nowhere"


@TRACK.fact(
    "list", "Earlier channels with a take of the same part, panned alike, that play together with it.", how="derived"
)
def other_takes(row: Row[Channel]) -> tuple[str, ...]:
    return tuple(row.context.name(one) for one in sibling_takes(row.context, row.item))


@TRACK.fact(
    "switch", "It sounds by an instrument: notes play on it, or an instrument sits in an insert.", how="derived"
)
def by_instrument(row: Row[Channel]) -> bool:
    channel = row.item
    if any(clip.plays == "notes" and in_play(channel, clip) for clip in channel.clips):
        return True
    played = not channel.clips or any(clip.plays == "notes" for clip in channel.clips)
    return played and _holds_instrument(row)


def _holds_instrument(row: Row[Channel]) -> bool:
    channel = row.item
    kinds = row.context.kinds[channel.id]
    return any(kinds.get(at) == "instrument" and passes(insert) for at, insert in enumerate(channel.inserts))


def _notes_elsewhere(row: Row[Channel]) -> bool:
    return any(
        clip.plays == "notes" and in_play(channel, clip)
        for channel in row.context.session.channels
        for clip in channel.clips
    )


@TRACK.fact("switch", "An audio print of what its instrument plays is in the session.", how="derived")
def printed(row: Row[Channel]) -> bool | FactValue | Unknown:
    found = instrument_print(row.context, row.item)
    if isinstance(found, Unknown):
        return found
    return FactValue(found is not None, "derived", row.subject.where, f"on {found}" if found else "")
