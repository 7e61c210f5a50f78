"""The labelled cue points of a file, against the markers of the session or what the other stems of a set have."""

from __future__ import annotations

from collections import Counter
from typing import Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.file_cues import FileCue, file_cues
from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.mix_prints import is_set_of_stems
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Unknown, is_known, known
from mixlint.units import clock_text

FACTS: Facts[MediaUse] = Facts()

LEAST_ALIKE: Final = Setting(
    "cues.least_alike",
    2.0,
    "",
    "So many other stems, and most of those that have a cue point of that name, have to have it at one place.",
    lowest=1.0,
)

SAME_S: Final = 1e-3
"""Cue points that lie no further apart are at one place: rounding of the rates of files."""


def _cues(context: SessionContext, media_id: str) -> tuple[FileCue, ...]:
    return known(file_cues(context)).get(media_id, ())


@FACTS.fact("list", "Its labelled cue points, with the time in the file.", how="measured")
def cues(row: Row[MediaUse]) -> tuple[str, ...]:
    return tuple(f"{one.name} at {clock_text(one.in_file_s)}" for one in _cues(row.context, row.item.media.id))


@FACTS.fact(
    "number",
    "The most that one of its labelled cue points stands off the marker of that name in the session; of a stem, off "
    "where most other stems have it. Unknown where none has a name in common.",
    unit="s",
    how="measured",
    settings=(LEAST_ALIKE,),
)
def cues_off_s(row: Row[MediaUse]) -> FactValue | Unknown:
    context, own = row.context, _cues(row.context, row.item.media.id)
    if not own:
        return Unknown(unknown="it has no labelled cue points")
    stems = is_set_of_stems(context)
    most: tuple[float, str] | None = None
    missing: Unknown | None = None
    for cue in own:
        places = _among_stems(context, cue, own) if stems else _markers(context).get(_folded(cue.name), ())
        if not places:
            continue
        at_s = cue.at_s
        if isinstance(at_s, Unknown):
            missing = at_s
            continue
        nearest = min(places, key=lambda place: abs(place - at_s))
        off = abs(nearest - at_s)
        if most is None or off > most[0]:
            there = "most other stems have it" if stems else "the session marks it"
            most = (off, f"{cue.name} at {clock_text(at_s)}, where {there} at {clock_text(nearest)}")
    if most is None:
        return missing or Unknown(unknown="none of its cue points has a name in common with others")
    return FactValue(most[0], "measured", row.subject.where, most[1])


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())


@per_session
def _markers(context: SessionContext) -> dict[str, tuple[float, ...]]:
    """Name of a marker of the session to the times at which it stands."""
    found: dict[str, tuple[float, ...]] = {}
    for marker in context.session.markers:
        name = _folded(marker.name)
        found[name] = (*found.get(name, ()), marker.time_s)
    return found


@per_session
def _places(context: SessionContext) -> dict[str, dict[str, list[float]]]:
    """Name of a cue point to the files that have it, and to the times at which it stands in the song."""
    found: dict[str, dict[str, list[float]]] = {}
    for media_id, theirs in known(file_cues(context)).items():
        for cue in theirs:
            if is_known(cue.at_s):
                found.setdefault(_folded(cue.name), {}).setdefault(media_id, []).append(cue.at_s)
    return found


def _among_stems(context: SessionContext, cue: FileCue, own: tuple[FileCue, ...]) -> tuple[float, ...]:
    """Where most other stems have a cue point of that name, seconds; none where a file has it twice."""
    if sum(_folded(one.name) == _folded(cue.name) for one in own) > 1:
        return ()
    files = _places(context).get(_folded(cue.name), {})
    others = [times[0] for media_id, times in files.items() if media_id != cue.media.id and len(times) == 1]
    if not others:
        return ()
    place, times = Counter(round(one / SAME_S) for one in others).most_common(1)[0]
    enough = times >= context.setting(LEAST_ALIKE) and 2 * times > len(others)
    return (place * SAME_S,) if enough else ()
