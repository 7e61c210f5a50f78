"""The table ``track``: every track, with its clips taken together: edges, joins, takes, leftovers."""

from __future__ import annotations

from collections.abc import Iterator

from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import Subject, Table
from mixlint.facts.shared import channel_subject
from mixlint.facts.track import (
    beside_its_like,
    clip_boundaries,
    clip_names,
    clips,
    clips_beside_like,
    cut_as_one,
    cut_notes,
    displaced,
    endings,
    fades_and_lengths,
    flown,
    foreign_clips,
    instrument_prints,
    named_out,
    noted,
    one_clip_apart,
    print_lengths,
    speeds,
    stretched,
    takes,
    takes_in_step,
    use,
)
from mixlint.session import Channel, Unknown


def _rows(context: SessionContext) -> Iterator[tuple[Subject, Channel]]:
    return (
        (channel_subject(context, channel, "track"), channel)
        for channel in context.session.channels
        if channel.kind == "track" or (isinstance(channel.kind, Unknown) and channel.clips)
    )


TRACK: Table[Channel] = Table(
    "track",
    "Every track, with its clips taken together: edges, joins, takes.",
    _rows,
    (
        use.FACTS,
        clips.FACTS,
        clip_boundaries.FACTS,
        takes.FACTS,
        instrument_prints.FACTS,
        named_out.FACTS,
        displaced.FACTS,
        cut_as_one.FACTS,
        cut_notes.FACTS,
        takes_in_step.FACTS,
        beside_its_like.FACTS,
        clips_beside_like.FACTS,
        endings.FACTS,
        fades_and_lengths.FACTS,
        flown.FACTS,
        foreign_clips.FACTS,
        clip_names.FACTS,
        print_lengths.FACTS,
        speeds.FACTS,
        stretched.FACTS,
        noted.FACTS,
        one_clip_apart.FACTS,
    ),
)
