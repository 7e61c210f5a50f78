"""The table ``track``: every track, with its clips taken together: edges, joins, takes, leftovers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from mixlint.facts.declare import Answer, Row, Table
from mixlint.facts.tables import channel as channel_facts
from mixlint.facts.tables.common import channel_row
from mixlint.naming.words import FAMILIES, ROLES
from mixlint.routing import passes
from mixlint.session import Channel, Clip, Unknown, is_known
from mixlint.study.activity import has_arrangement, stretch_text
from mixlint.study.desk import Desk
from mixlint.study.edges import Step, steps
from mixlint.study.instrument_prints import instrument_print
from mixlint.study.media_use import in_play
from mixlint.study.parts import feeds_content, is_aside, sounds
from mixlint.study.takes import layers, sibling_takes
from mixlint.units import SILENCE_DB, clock_text, number_text

FEW: Final = 3
"""How many places a text names before it counts the rest."""


def _rows(desk: Desk) -> Iterator[Row]:
    return (
        channel_row(desk, channel, "track")
        for channel in desk.session.channels
        if channel.kind == "track" or (isinstance(channel.kind, Unknown) and channel.clips)
    )


TRACK: Table[Row] = Table("track", "Every track, with its clips taken together: edges, joins, takes.", _rows)

TRACK.fact("text", "The channel's name.")(channel_facts.name)
TRACK.fact("word", "The part it plays.", how="derived", words=ROLES)(channel_facts.role)


@TRACK.fact("word", "The family of parts its role belongs to.", how="derived", words=FAMILIES)
def family(row: Row) -> Answer | Unknown:
    return channel_facts.CHANNEL.answer(row, "family")


@TRACK.fact("switch", "It is not part of the song: a cue mix, click, guide, reference or utility channel.")
def aside(row: Row) -> bool:
    return is_aside(row.desk, row.item)


@TRACK.fact("switch", "It is not muted, nor is anything it has to pass on its way to the mix bus.", how="derived")
def audible(row: Row) -> bool | Unknown:
    return sounds(row.desk, row.item)


@TRACK.fact("number", "How many of its clips are switched on.", how="derived")
def clips_on(row: Row) -> int:
    channel: Channel = row.item
    return sum(clip.on is not False for clip in channel.clips)


@TRACK.fact("switch", "An audio clip on it sounds.", how="derived")
def plays_audio(row: Row) -> bool:
    channel: Channel = row.item
    return any(clip.plays == "audio" and in_play(channel, clip) for clip in channel.clips)


@TRACK.fact("switch", "The export holds any clips at all, so that an empty track is known to be empty.", how="derived")
def arranged(row: Row) -> bool:
    return has_arrangement(row.desk)


@TRACK.fact("switch", "It is loaded, and a clip on it is switched on or something that plays feeds it.", how="derived")
def in_use(row: Row) -> bool | Answer | Unknown:
    channel: Channel = row.item
    if channel.loaded is False:
        return Answer(False, "declared", channel.where, "it was not loaded where the export was made")
    if channel.clips and not any(clip.on is not False for clip in channel.clips):
        return Answer(False, "derived", channel.where, "all its clips are muted")
    if channel.clips or feeds_content(row.desk, channel.id):
        return True
    if _holds_instrument(row) and _notes_elsewhere(row):
        return Unknown(
            unknown="an instrument sits on it, and notes may come from another channel", settle="look what plays it"
        )
    return Answer(False, "derived", channel.where, "it holds no clips and nothing feeds it")


@TRACK.fact("text", "Why it counts as not in use.", how="derived")
def in_use_how(row: Row) -> str:
    said = TRACK.answer(row, "in_use")
    return said.note or "it is in use" if isinstance(said, Answer) else said.unknown


def _steps(row: Row, joins: bool) -> tuple[Step, ...]:
    return tuple(s for s in steps(row.desk, row.item) if (s.edge.kind == "join") == joins)


def _loudest(found: Iterable[Step]) -> Step | None:
    return max((s for s in found if is_known(s.level_db)), key=_level, default=None)


def _level(step: Step) -> float:
    return step.level_db if is_known(step.level_db) else SILENCE_DB


def _largest(row: Row, found: Iterable[Step]) -> Answer:
    """The largest step that was measured, with its place."""
    worst = _loudest(found)
    if worst is None or worst.level_db == SILENCE_DB:
        return Answer(SILENCE_DB, "measured", row.subject.where)
    clip = worst.edge.after or worst.edge.before
    assert clip is not None
    return Answer(_level(worst), "measured", clip.where or row.subject.where, f"at {clock_text(worst.edge.at_s)}")


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
def edge_step_dbfs(row: Row) -> Answer:
    return _largest(row, (s for s in _steps(row, False) if s.fade_told))


@TRACK.fact(
    "number", "The largest step at a clip edge for which the export gives no fade.", unit="dBFS", how="measured"
)
def unsure_edge_dbfs(row: Row) -> Answer:
    return _largest(row, (s for s in _steps(row, False) if not s.fade_told))


@TRACK.fact("switch", "Every edge that no fade covers was measured.", how="measured")
def edges_measured(row: Row) -> bool | Unknown:
    return _all_measured(_steps(row, False))


@TRACK.fact("switch", "The export gives the fade of every edge.")
def edge_fades_given(row: Row) -> bool | Unknown:
    return _fades_told(_steps(row, False))


@TRACK.fact("text", "Where clips start or stop abruptly, the largest step first.", how="measured")
def abrupt_edges(row: Row) -> str:
    return _places(_steps(row, False), NAMED_OVER_DB)


@TRACK.fact("number", "The largest step where two clips meet without a crossfade.", unit="dBFS", how="measured")
def join_step_dbfs(row: Row) -> Answer:
    return _largest(row, (s for s in _steps(row, True) if s.fade_told))


@TRACK.fact("number", "The largest step at a join for which the export gives no fade.", unit="dBFS", how="measured")
def unsure_join_dbfs(row: Row) -> Answer:
    return _largest(row, (s for s in _steps(row, True) if not s.fade_told))


@TRACK.fact("switch", "Every join that no crossfade covers was measured.", how="measured")
def joins_measured(row: Row) -> bool | Unknown:
    return _all_measured(_steps(row, True))


@TRACK.fact("switch", "The export gives the fades at every join.")
def join_fades_given(row: Row) -> bool | Unknown:
    return _fades_told(_steps(row, True))


@TRACK.fact("text", "Where clips meet with a jump, the largest first.", how="measured")
def abrupt_joins(row: Row) -> str:
    return _places(_steps(row, True), NAMED_OVER_DB)


@TRACK.fact("number", "How many places there are where two of its clips meet.", how="derived")
def joins(row: Row) -> int:
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
def muted_clips(row: Row) -> int:
    return len(_muted(row.item))


@TRACK.fact("text", "Where they stand.", how="derived")
def muted_at(row: Row) -> str:
    found = _muted(row.item)
    said = [stretch_text(row.desk, c.start_s, c.end_s) for c in found[:FEW]]
    more = len(found) - FEW
    return "; ".join(said) + (f"; and {more} more" if more > 0 else "") if said else "nowhere"


@TRACK.fact(
    "number", "For how long two of its audio clips lie over each other, crossfades aside.", unit="s", how="derived"
)
def layered_s(row: Row) -> Answer:
    found = layers(row.desk, row.item)
    where = stretch_text(row.desk, *found[0]) if found else ""
    return Answer(sum(end - start for start, end in found), "derived", where)


@TRACK.fact("text", "Where that begins.", how="derived")
def layered_at(row: Row) -> str:
    found = layers(row.desk, row.item)
    return stretch_text(row.desk, *found[0]) if found else "nowhere"


@TRACK.fact(
    "list", "Earlier channels with a take of the same part, panned alike, that play together with it.", how="derived"
)
def other_takes(row: Row) -> tuple[str, ...]:
    return tuple(row.desk.name(one) for one in sibling_takes(row.desk, row.item))


@TRACK.fact(
    "switch", "It sounds by an instrument: notes play on it, or an instrument sits in an insert.", how="derived"
)
def by_instrument(row: Row) -> bool:
    channel: Channel = row.item
    if any(clip.plays == "notes" and in_play(channel, clip) for clip in channel.clips):
        return True
    played = not channel.clips or any(clip.plays == "notes" for clip in channel.clips)
    return played and _holds_instrument(row)


def _holds_instrument(row: Row) -> bool:
    channel: Channel = row.item
    kinds = row.desk.kinds[channel.id]
    return any(kinds.get(at) == "instrument" and passes(insert) for at, insert in enumerate(channel.inserts))


def _notes_elsewhere(row: Row) -> bool:
    return any(
        clip.plays == "notes" and in_play(channel, clip)
        for channel in row.desk.session.channels
        for clip in channel.clips
    )


@TRACK.fact("switch", "An audio print of what its instrument plays is in the session.", how="derived")
def printed(row: Row) -> bool | Answer | Unknown:
    found = instrument_print(row.desk, row.item)
    if isinstance(found, Unknown):
        return found
    return Answer(found is not None, "derived", row.subject.where, f"on {found}" if found else "")
