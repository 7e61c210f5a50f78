"""Channels that are cut as one, clip for clip, and the one that differs from all others at a single cut.

Microphones on one performance are selected together and cut together, so that their clips begin at the same times all
through the song. What is then done to a clip is done to all of them: another take is taken on each, its level is
matched by one clip gain, and a microphone that is moved to fit the others is moved on every clip. One clip on which
that was forgotten differs from what all others have there, and from what its own channel has everywhere else.
"""

from __future__ import annotations

from collections import Counter
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.at_one_time import at_one_time
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.cut_lines import take_of_clip
from mixlint.analysis.media_use import audio_clips, origin_s
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import pair_kind
from mixlint.session import Channel, Clip, is_known

LEAST_CHANNELS: Final = Setting(
    "cut_as_one.least_channels", 3.0, "", "So many channels that are cut at the same times are cut as one.", lowest=3.0
)
LEAST_CUTS: Final = Setting(
    "cut_as_one.least_cuts", 3.0, "", "So many clips on each show that they are cut as one, and what one of them has.",
    lowest=3.0,
)  # fmt: skip
FARTHEST: Final = Setting(
    "cut_as_one.farthest",
    100.0,
    "ms",
    "A clip that lies further off than this plays another passage.",
)
CUT_AS_ONE: Final = (LEAST_CHANNELS, LEAST_CUTS)

SAME_CUT_S: Final = 0.1
"""Clips that begin this near were cut at one time: a crossfade has a length."""
SAME_PLACE_S: Final = 2e-4
"""Places this near are one: rounding of the export."""
SAME_GAIN_DB: Final = 0.05
"""Gains this near are one: rounding of the export."""


class CutAsOne(NamedTuple):
    """Channels whose clips begin at the same times.

    Args:
        channels: the channels in desk order.
        clips: their clips in order of time, as many of each.
    """

    channels: tuple[Channel, ...]
    clips: tuple[tuple[Clip, ...], ...]


@per_session
def cut_as_one(context: SessionContext) -> tuple[CutAsOne, ...]:
    """All channels that are cut as one, in groups."""
    parts = [c for c in context.session.channels if is_source(context, c)]
    clips = {c.id: tuple(sorted(audio_clips(c), key=lambda one: one.start_s)) for c in parts}
    starts = sorted((clip.start_s, one, at) for one, own in clips.items() for at, clip in enumerate(own))
    pattern: dict[str, list[int]] = {}
    for number, together in enumerate(at_one_time(starts, lambda start: start[0], SAME_CUT_S)):
        for _, one, _ in together:
            pattern.setdefault(one, []).append(number)
    alike: dict[tuple[int, ...], list[Channel]] = {}
    for channel in parts:
        cuts = pattern.get(channel.id, [])
        if len(cuts) >= context.setting(LEAST_CUTS) and len(set(cuts)) == len(cuts):
            alike.setdefault(tuple(cuts), []).append(channel)
    return tuple(
        CutAsOne(tuple(channels), tuple(clips[c.id] for c in channels))
        for channels in alike.values()
        if len(channels) > 1
    )


class Odd(NamedTuple):
    """A clip on which one of several channels has something else than all others.

    Args:
        at_s: where it begins, seconds.
        own: what it has.
        theirs: what the others have.
        beside: one of the others.
    """

    at_s: float
    own: float
    theirs: float
    beside: Channel


def _the_odd_one(values: list[list[float]], within: float) -> list[tuple[int, int, float, float]]:
    """Where one row alone differs from all others, which agree: (row, column, its own, theirs).

    A row counts that agrees with the others in all columns but one.
    """
    found: list[tuple[int, int, float, float]] = []
    for column in range(len(values[0])):
        here = [row[column] for row in values]
        theirs = Counter(round(value / within) for value in here).most_common(1)[0][0] * within
        off = [row for row, value in enumerate(here) if abs(value - theirs) > 1.5 * within]
        if len(off) == 1:
            found.append((off[0], column, here[off[0]], here[0 if off[0] else 1]))
    rows = Counter(row for row, *_ in found)
    return [one for one in found if rows[one[0]] == 1]


# --- places


@per_session
def _left_in_place(context: SessionContext) -> dict[str, Odd]:
    """Channel id → the clip that lies elsewhere against the others than all its other clips do, in seconds."""
    found: dict[str, Odd] = {}
    for group in cut_as_one(context):
        if len(group.channels) < context.setting(LEAST_CHANNELS):
            continue
        origins = [[_origin(clip) for clip in own] for own in group.clips]
        known_ones = [[value for value in row if value is not None] for row in origins]
        if any(len(row) != len(known_ones[0]) or len(row) != len(group.clips[0]) for row in known_ones):
            continue
        # Against the first channel, less what is usual: so that a microphone that is moved throughout lies in place.
        apart = [[value - first for value, first in zip(row, known_ones[0], strict=True)] for row in known_ones]
        usual = [_usual(row) for row in apart]
        if any(value is None for value in usual):
            continue
        placed = [[value - (mid or 0.0) for value in row] for row, mid in zip(apart, usual, strict=True)]
        for row, column, own, theirs in _the_odd_one(placed, SAME_PLACE_S):
            if abs(own - theirs) <= context.setting(FARTHEST) / 1000.0:
                clip, other = group.clips[row][column], group.channels[0 if row else 1]
                found.setdefault(group.channels[row].id, Odd(clip.start_s, own, theirs, other))
    return found


def _origin(clip: Clip) -> float | None:
    """When the recording of a clip would begin, seconds of the song; None where that is not known."""
    if clip.file is None or not is_known(clip.offset_s) or clip.speed != 1.0:
        return None
    return origin_s(clip)


def _usual(values: list[float]) -> float | None:
    """The value that all but one have; None where there is none."""
    for value in values[:3]:
        if sum(abs(other - value) <= SAME_PLACE_S for other in values) >= len(values) - 1:
            return value
    return None


# --- takes


@per_session
def _other_take(context: SessionContext) -> dict[str, Odd]:
    """Channel id → the clip of which the file bears the number of another take than those of all others there."""
    found: dict[str, Odd] = {}
    for group in cut_as_one(context):
        rows = [[take_of_clip(context, clip) for clip in own] for own in group.clips]
        read = [at for at, row in enumerate(rows) if None not in row]
        takes = [[float(value or 0) for value in rows[at]] for at in read]
        if len(read) >= context.setting(LEAST_CHANNELS):
            odd = _the_odd_one(takes, 1.0)
        elif len(read) == 2 and _microphones(context, *(group.channels[at] for at in read)):
            odd = _apart(takes, context.setting(LEAST_CUTS))
        else:
            continue
        for row, column, own, theirs in odd:
            channel, other = group.channels[read[row]], group.channels[read[0 if row else 1]]
            found.setdefault(channel.id, Odd(group.clips[read[row]][column].start_s, own, theirs, other))
    return found


def _apart(takes: list[list[float]], least: float) -> list[tuple[int, int, float, float]]:
    """The one column in which two rows differ that agree in so many others; the row that stays as it was is the odd."""
    off = [column for column, (one, other) in enumerate(zip(*takes, strict=True)) if one != other]
    if len(off) != 1 or len(takes[0]) - 1 < least:
        return []
    column = off[0]
    stays = 0 if column and takes[0][column] == takes[0][column - 1] else 1
    return [(stays, column, takes[stays][column], takes[1 - stays][column])]


def _microphones(context: SessionContext, one: Channel, other: Channel) -> bool:
    """True for two microphones on one performance, or the two sides of a pair, by name."""
    return pair_kind(one.name, other.name, context.house.vocabulary) in ("microphones", "sides")


# --- gains


@per_session
def _gain_left_out(context: SessionContext) -> dict[str, Odd]:
    """Channel id → the clip that has not the gain which all others have there, but its own of elsewhere, or a slip."""
    found: dict[str, Odd] = {}
    for group in cut_as_one(context):
        if len(group.channels) < context.setting(LEAST_CHANNELS) + 1:
            continue
        rows = [[clip.gain_db if is_known(clip.gain_db) else None for clip in own] for own in group.clips]
        read = [at for at, row in enumerate(rows) if None not in row]
        gains = [[float(value or 0.0) for value in rows[at]] for at in read]
        if len(read) <= context.setting(LEAST_CHANNELS):
            continue
        for row, column, own, theirs in _the_odd_one(gains, SAME_GAIN_DB):
            others = [value for at, value in enumerate(gains[row]) if at != column]
            stayed = sum(abs(value - own) <= SAME_GAIN_DB for value in others)
            # It has what it has elsewhere, where all others have something else: it was forgotten, not chosen. So is
            # theirs with the other sign, or with its point in another place.
            forgotten = 2 * stayed >= len(others)
            slipped = any(abs(own - times * theirs) <= SAME_GAIN_DB for times in (-1.0, 10.0, 0.1))
            if forgotten or (slipped and abs(theirs) > SAME_GAIN_DB):
                channel, other = group.channels[read[row]], group.channels[read[0 if row else 1]]
                found.setdefault(channel.id, Odd(group.clips[read[row]][column].start_s, own, theirs, other))
    return found


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "By how much one of its clips lies off its usual place against the channels that are cut as one with it, either "
    "way; 0 where none does.",
    unit="ms",
    how="derived",
    settings=(*CUT_AS_ONE, FARTHEST),
)
def off_usual_place_ms(row: Row[Channel]) -> FactValue:
    odd = _left_in_place(row.context).get(row.subject.id)
    if odd is None:
        return FactValue(0.0, "derived", row.subject.where)
    late = odd.own - odd.theirs
    where = moment_text(row.context, odd.at_s)
    return FactValue(1000.0 * abs(late), "derived", where, "late" if late > 0.0 else "early")


@FACTS.fact(
    "number",
    "The number of the take that one of its clips plays where the channels that are cut as one with it play another; "
    "0 where none does.",
    how="derived",
    settings=CUT_AS_ONE,
)
def odd_take(row: Row[Channel]) -> FactValue:
    odd = _other_take(row.context).get(row.subject.id)
    if odd is None:
        return FactValue(0, "derived", row.subject.where)
    where = moment_text(row.context, odd.at_s)
    return FactValue(int(odd.own), "derived", where, f"{row.context.name(odd.beside.id)} plays take {int(odd.theirs)}")


@FACTS.fact(
    "number",
    "How far the gain of one of its clips lies from that which all channels that are cut as one with it have there, "
    "where it has it not; 0 where it has.",
    unit="dB",
    how="derived",
    settings=CUT_AS_ONE,
)
def gain_left_out_db(row: Row[Channel]) -> FactValue:
    odd = _gain_left_out(row.context).get(row.subject.id)
    if odd is None:
        return FactValue(0.0, "derived", row.subject.where)
    where = moment_text(row.context, odd.at_s)
    return FactValue(abs(odd.theirs - odd.own), "derived", where, row.context.name(odd.beside.id))
