"""What else tells of the tempo: markers, what lies behind a change of it, and files that are named for a tempo."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise
from math import inf
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import file_name, is_active_clip
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.session.clip_grid import (
    GRID_SETTINGS,
    LEAST_STARTS,
    TOLERANCE,
    clip_starts_s,
    in_force,
    on_bar,
    widest_grid,
)
from mixlint.session import Channel, Clip, Session, Timeline, Unknown, is_known, known
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[Session] = Facts()

NEAR_TEMPO: Final = Setting(
    "tempo.near", 0.5, "%", "A tempo in a name this near to the session's is the session's.", lowest=0.0
)


class MarkerGrid(NamedTuple):
    """How the markers stand to the bars of the session.

    Args:
        number: how many there are at times of their own, the beginning of the song aside.
        on_bars: the share of them on its bars, 0 … 1.
        on_other: the share on the widest grid of another tempo, 0 … 1.
        text: that grid and the tempo that it fits, for a reader.
    """

    number: int
    on_bars: float
    on_other: float
    text: str


@per_session
def marker_grid(context: SessionContext) -> MarkerGrid | Unknown:
    """The markers against the bars, in the whole song or one tempo of it; Unknown without a tempo."""
    timeline = known(context.session.timeline)
    times = sorted({round(marker.time_s, 3) for marker in context.session.markers if marker.time_s > 0.0})
    if not times:
        return MarkerGrid(0, 1.0, 0.0, "")
    found = [_marker_grid(context, timeline, 0.0, times)]
    starts = [timeline.seconds(tempo.beat) for tempo in timeline.tempos]
    for since, until in pairwise([*starts, inf] if len(starts) > 1 else []):
        # One tempo of a map may be off the song, where speech or a free introduction before it lies on no bar.
        within = [t for t in times if since < t <= until]
        if len(within) >= context.setting(LEAST_STARTS):
            found.append(_marker_grid(context, timeline, since, within))
    return max(found, key=lambda grid: grid.on_other - grid.on_bars)


def _marker_grid(context: SessionContext, timeline: Timeline, since: float, times: list[float]) -> MarkerGrid:
    """The markers of a stretch that begins at a time in seconds, against its bars."""
    import numpy as np

    near = context.setting(TOLERANCE) / 1000.0
    at = timeline.beat(since if since > 0.0 else times[0])
    bpm, quarters = in_force(timeline.tempos, at).bpm, in_force(timeline.meters, at).bar_length
    found = widest_grid(context, np.array([since, *times]), quarters, bpm)
    return MarkerGrid(len(times), _on_bars(timeline, times, near), found.share, found.text)


def _on_bars(timeline: Timeline, times: list[float], near_s: float) -> float:
    """The share (0 … 1) of some times that lie on a bar of a timeline."""
    if not times:
        return 1.0
    return sum(on_bar(timeline, t, near_s) for t in times) / len(times)


class ChangeUnheeded(NamedTuple):
    """A change of the tempo that nothing behind it follows.

    Args:
        number: how many clips and markers begin behind it, at times of their own.
        on_bars: the share of them on the bars of the session, 0 … 1.
        on_first: the share on the bars that the tempo before would have had, 0 … 1.
        text: the change, for a reader.
    """

    number: int
    on_bars: float
    on_first: float
    text: str


LEAST_BEHIND: Final = 3
"""Fewer markers are no grid of their own and are counted with the clips: the rule's limit asks for more."""

NO_CHANGE: Final = ChangeUnheeded(0, 1.0, 0.0, "")


@per_session
def change_unheeded(context: SessionContext) -> ChangeUnheeded | Unknown:
    """The change of tempo that most of what lies behind it does not follow; Unknown without a tempo."""
    timeline = known(context.session.timeline)
    near = context.setting(TOLERANCE) / 1000.0
    markers = {round(marker.time_s, 3) for marker in context.session.markers}
    clips = {round(start, 3) for start in clip_starts_s(context)}
    worst = NO_CHANGE
    for number, tempo in enumerate(timeline.tempos[1:], start=1):
        since = timeline.seconds(tempo.beat)
        before = Timeline(tempos=timeline.tempos[:number], meters=timeline.meters)
        was, now = (number_text(one.bpm) for one in (timeline.tempos[number - 1], tempo))
        text = f"from {was} to {now} bpm at {moment_text(context, since)}"
        for times in (markers, markers | clips):  # markers alone are set on bars; clips are cut where they have to be
            behind = [t for t in sorted(times) if t > since + near]
            on_first, on_bars = _on_bars(before, behind, near), _on_bars(timeline, behind, near)
            if len(behind) >= LEAST_BEHIND and on_first - on_bars > worst.on_first - worst.on_bars:
                worst = ChangeUnheeded(len(behind), on_bars, on_first, text)
    return worst


_SAYS_BPM: Final = re.compile(r"(?<!\d)(\d{2,3}(?:[.,]\d{1,2})?)[\s_\-]*bpm(?![a-z])", re.IGNORECASE)
"""A tempo in a name: digits before the letters bpm."""

_LOOP_NUMBER: Final = re.compile(
    r"(?:^|[\s_\-.(])(?:loop|groove|beat)s?(?![a-z])[a-z\s_\-.]*?[\s_\-.](?:at[\s_\-]*)?(\d{2,3})(?!\d)", re.IGNORECASE
)
"""A number somewhere behind the word loop: the tempo at which it was played, where it can be one."""

_SLOWEST_BPM: Final = 60.0
_FASTEST_BPM: Final = 200.0
"""Between these a number behind the word loop is taken for a tempo: others count takes. A definition."""


_BARE_NUMBER: Final = re.compile(r"(?<![0-9A-Za-z.,])(\d{2,3})\Z")
"""A number alone at the end of a name, its ending aside: a tempo where several names end with the session's."""

_LEAST_BARE: Final = 3
"""So many channels whose files end with the session's tempo make it a habit of the session: what a habit is."""


@per_session
def _ends_with_tempo(context: SessionContext) -> bool:
    """True where the names of several channels' files end with the number of the session's tempo."""
    timeline = known(context.session.timeline)
    tempos = {number_text(tempo.bpm) for tempo in timeline.tempos}
    paths = {one.id: one.path for one in context.session.media}
    ends = {
        channel.id
        for channel in context.session.channels
        for clip in (channel.clips if is_source(context, channel) else ())
        if (number := _bare_number(paths.get(clip.file or "", ""))) is not None and number in tempos
    }
    return len(ends) >= _LEAST_BARE


def _bare_number(path: str) -> str | None:
    """The number alone at the end of a file's name that can be a tempo."""
    said = _BARE_NUMBER.search(file_name(path).rpartition(".")[0])
    return said.group(1) if said and _SLOWEST_BPM <= float(said.group(1)) <= _FASTEST_BPM else None


def named_bpm(channel: Channel, clip: Clip, path: str) -> float | None:
    """The tempo that the name of a clip's file, of the clip or of its channel tells; None where none does."""
    for name in (file_name(path), clip.name, channel.name):
        said = _SAYS_BPM.search(name)
        if said:
            return float(said.group(1).replace(",", "."))
    for name in (file_name(path), clip.name, channel.name):
        loop = _LOOP_NUMBER.search(name)
        if loop and _SLOWEST_BPM <= float(loop.group(1)) <= _FASTEST_BPM:
            return float(loop.group(1))
    return None


@per_session
def _named_tempos(context: SessionContext) -> tuple[dict[float, set[str]], list[str]] | Unknown:
    """Tempos that names tell and at which the session does not play them, each with the channels; and all others."""
    timeline = known(context.session.timeline)
    near = context.setting(NEAR_TEMPO) / 100.0
    paths = {one.id: one.path for one in context.session.media}
    odd: dict[float, set[str]] = {}
    fine: list[str] = []
    for channel in context.session.channels:
        for clip in channel.clips if is_source(context, channel) else ():
            if clip.file is None or not is_active_clip(channel, clip) or not is_known(clip.speed):
                continue
            path = paths.get(clip.file, "")
            named = named_bpm(channel, clip, path)
            if named is None and _ends_with_tempo(context) and (number := _bare_number(path)) is not None:
                named = float(number)
            if named is None or clip.speed <= 0.0:
                continue
            plays = named * clip.speed
            now = in_force(timeline.tempos, timeline.beat(clip.start_s)).bpm
            fits = any(abs(plays * factor / now - 1.0) <= near for factor in (0.5, 1.0, 2.0))
            if fits:
                fine.append(channel.id)
            else:
                odd.setdefault(named, set()).add(channel.id)
    return odd, fine


_TEMPO_KEY: Final = re.compile(
    r"(?<![a-zà-ÿ])"
    r"(?:bpm|tempo|tempi|andamento|темп|click|clic|klick|klik|klikk|claqueta|metronom[eo]?|клик|метроном)"
    r"(?![a-zà-ÿ])",
    re.IGNORECASE,
)
"""What an entry of the session's own data is called that tells its tempo, or that of the click."""

_NUMBER: Final = re.compile(
    r"(?:\b(bars?|takt\w*|mesures?|comp[aá]s\w*|compassos?|battut[ae]|maat|maten|такт\w*)\s*)?"
    r"(?<![\d.,/:])(\d{2,3}(?:[.,]\d{1,3})?)"
    r"(?![\d/:]|[.,]\d|\s*(?:k|hz|bits?|ms|%|fps|db|lu|s(?![a-zà-ÿ])|sec|sek|min))",
    re.IGNORECASE,
)
"""A number in such an entry that can be a tempo: no metre, rate, time or clock, no level, and no bar of the song."""

_SLOWEST_TOLD: Final = 30.0
_FASTEST_TOLD: Final = 300.0
"""Between these it is taken for one. A definition."""


class Noted(NamedTuple):
    """A tempo that the session's own data tell.

    Args:
        bpm: the tempos told there.
        text: the entry, for a reader.
    """

    bpm: tuple[float, ...]
    text: str


def _noted_tempos(session: Session) -> list[Noted]:
    """The tempos that the entries of a session's data and its title tell."""
    found = []
    for key, value in session.metadata.items():
        numbers = (text for place, text in _NUMBER.findall(value) if not place)
        said = list(numbers) if _TEMPO_KEY.search(key) else _SAYS_BPM.findall(value)
        bpm = tuple(one for one in (float(text.replace(",", ".")) for text in said) if _can_be_told(one))
        if bpm:
            found.append(Noted(bpm, f"{key}: {value}"))
    title = tuple(float(text.replace(",", ".")) for text in _SAYS_BPM.findall(session.title))
    return [*found, Noted(title, f"title: {session.title}")] if title else found


def _can_be_told(bpm: float) -> bool:
    return _SLOWEST_TOLD <= bpm <= _FASTEST_TOLD


@per_session
def _noted_otherwise(context: SessionContext) -> tuple[str, ...] | Unknown:
    """The entries that tell no tempo of the session's, for a reader; Unknown without a tempo where any tells one.

    One between the slowest and the fastest tempo is the usual one of a map that breathes.
    """
    noted = _noted_tempos(context.session)
    if not noted:
        return ()
    bpm = [one.bpm for one in known(context.session.timeline).tempos]
    near = context.setting(NEAR_TEMPO) / 100.0
    lowest, highest = min(bpm) * (1.0 - near), max(bpm) * (1.0 + near)
    octaves = (0.5, 1.0, 2.0)
    return tuple(
        entry.text
        for entry in noted
        if not any(lowest <= one * factor <= highest for one in entry.bpm for factor in octaves)
    )


@FACTS.fact(
    "list",
    "Entries of the session's own data, or its title, that tell a tempo and none of the session's.",
    how="derived",
    settings=(NEAR_TEMPO,),
)
def noted_otherwise(row: Row[Session]) -> tuple[str, ...]:
    return known(_noted_otherwise(row.context))


@FACTS.fact(
    "switch", "Some of its parts play notes or stretched clips, which run with the tempo, and others recordings."
)
def runs_with_tempo(row: Row[Session]) -> bool:
    follows = stays = False
    for channel in row.item.channels:
        for clip in channel.clips if is_source(row.context, channel) else ():
            if is_active_clip(channel, clip):
                stretched = is_known(clip.speed) and clip.speed != 1.0
                follows = follows or clip.plays == "notes" or stretched
                stays = stays or (clip.plays == "audio" and clip.speed == 1.0)
    return follows and stays


@FACTS.fact(
    "number", "How many markers stand at times of their own, the beginning of the song aside.", settings=GRID_SETTINGS
)
def markers(row: Row[Session]) -> int:
    return known(marker_grid(row.context)).number


@FACTS.fact("number", "How many of them lie on the session's bars.", unit="%", how="derived", settings=GRID_SETTINGS)
def markers_on_bars(row: Row[Session]) -> float:
    return 100.0 * known(marker_grid(row.context)).on_bars


@FACTS.fact(
    "number", "How many of them lie on the bars of another tempo.", unit="%", how="derived", settings=GRID_SETTINGS
)
def markers_on_other_bars(row: Row[Session]) -> FactValue:
    grid = known(marker_grid(row.context))
    return FactValue(100.0 * grid.on_other, "derived", "", grid.text)


@FACTS.fact(
    "number",
    "How many clips and markers begin behind the change of tempo that they follow least, at times of their own; 0 "
    "where there is no such change.",
    how="derived",
    settings=GRID_SETTINGS,
)
def behind_change(row: Row[Session]) -> FactValue:
    found = known(change_unheeded(row.context))
    return FactValue(found.number, "derived", "", found.text)


@FACTS.fact("number", "How many of them lie on the session's bars.", unit="%", how="derived", settings=GRID_SETTINGS)
def behind_on_bars(row: Row[Session]) -> float:
    return 100.0 * known(change_unheeded(row.context)).on_bars


@FACTS.fact(
    "number",
    "How many of them lie on the bars that the tempo before the change would have had.",
    unit="%",
    how="derived",
    settings=GRID_SETTINGS,
)
def behind_on_first_bars(row: Row[Session]) -> float:
    return 100.0 * known(change_unheeded(row.context)).on_first


@FACTS.fact(
    "list",
    "Files that are named for a tempo, and are not played at the session's: the tempo and the channels.",
    how="derived",
    settings=(NEAR_TEMPO,),
)
def named_for_other_tempos(row: Row[Session]) -> tuple[str, ...]:
    odd, _ = known(_named_tempos(row.context))
    said = []
    for bpm, channels in sorted(odd.items()):
        names = few_text(
            [row.context.name(one) for one in sorted(channels, key=row.context.order.__getitem__)], joint=", "
        )
        said.append(f"{number_text(bpm, 'bpm')} ({names})")
    return tuple(said)


@FACTS.fact(
    "number",
    "How many channels play files named for a tempo, and not at the session's.",
    how="derived",
    settings=(NEAR_TEMPO,),
)
def named_otherwise(row: Row[Session]) -> int:
    odd, _ = known(_named_tempos(row.context))
    return len({one for channels in odd.values() for one in channels})


@FACTS.fact(
    "number",
    "How many channels play files named for a tempo, and at the session's.",
    how="derived",
    settings=(NEAR_TEMPO,),
)
def named_for_its_tempo(row: Row[Session]) -> int:
    _, fine = known(_named_tempos(row.context))
    return len(Counter(fine))


@FACTS.fact("text", "The tempos of the session.")
def tempos(row: Row[Session]) -> str | Unknown:
    timeline = row.item.timeline
    if isinstance(timeline, Unknown):
        return timeline
    bpm = list(dict.fromkeys(number_text(tempo.bpm) for tempo in timeline.tempos))
    return f"{few_text(bpm, joint=', ')} bpm"
