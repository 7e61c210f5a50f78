"""A channel held against those that are cut as it is: the one place in which its clips are not as theirs.

Microphones of one performance are cut together, and so are a section of horns, the legs of a choir, doubles that were
trimmed together. Where several of them agree from beginning to end, and one of their like agrees with them but for one
place, somebody dragged, muted, slipped or left out a clip there. What an arranger does is whole: a part that rests for
a section, or plays one alone, has no clip there, or one of its own, and is left aside.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text, span_text
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.cut_lines import (
    ONE_PLACE_S,
    SAME_EDGE_S,
    SAME_SPEED,
    CutSet,
    Parting,
    Piece,
    as_set,
    cut_sets,
    in_one_place,
    line_of,
    partings,
    usual_shift,
)
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.track.displaced import first_bar_s
from mixlint.session import Channel, Timeline
from mixlint.units import few_text, number_text

LEAST_ENSEMBLE: Final = Setting(
    "beside_its_like.least_ensemble", 3.0, "", "So many channels of one cut, spliced together, are one ensemble.",
    lowest=2.0,
)  # fmt: skip
LEAST_LIKE: Final = Setting(
    "beside_its_like.least_like", 2.0, "", "So many like parts of one cut show how their section is edited.", lowest=2.0
)
LEAST_ALIKE: Final = share_setting(
    "beside_its_like.least_alike", 40.0, "For this share of what the others play it has to play the same."
)
LEAST_CLIPS: Final = Setting(
    "beside_its_like.least_clips", 3.0, "", "Like parts that are no ensemble need so many clips to show it.", lowest=2.0
)
SETTINGS: Final = (LEAST_ENSEMBLE, LEAST_LIKE, LEAST_ALIKE, LEAST_CLIPS)

LEAST_EVENTS: Final = 2
"""So many edges of the others have to be its own too: a definition."""
FARTHEST_SHIFT_S: Final = 0.15
"""What begins further off than this was recorded in a pass of its own: a definition."""
SHORTEST_HOLE_S: Final = 0.03
"""Less is no hole but a rounding of the export."""
SHORTEST_EDGE_S: Final = 0.25
"""An edge that is nearer to the others' was trimmed by ear: a definition."""
CROSSFADE_S: Final = 0.2
"""A crossfade is no longer: a definition."""
SLIP_S: Final = 2.0
"""A recording that lies further off plays another passage, or another take: a definition."""

KIT_MICROPHONES: Final = frozenset({"overheads", "drum-room"})
"""Roles that only a microphone in front of a kit has."""

SECTIONS: Final = frozenset({"vocals", "winds", "brass", "strings"})
"""Families whose parts play as a section, whatever their roles."""
LOOSE: Final = frozenset({"synth", "sound-effects", "percussion", "keys", "backing-track"})
"""Roles of which one comes and goes without the other."""
MOST_CHANNELS: Final = 64
"""Of more channels with one cut each is not held against all others: a bound of work."""
LIKE_NAMES: Final = frozenset({"sides", "microphones", "numbers", "registers", "doubles"})

KINDS: Final = ("none", "moved", "slipped", "stretched", "other-take", "muted", "hole", "starts-late", "stops-early",
                "runs-on")  # fmt: skip


class Unlike(NamedTuple):
    """The one place in which a channel is not as its like.

    Args:
        kind: one of :data:`KINDS`.
        seconds: by how much, or for how long.
        where: where, for a reader.
        text: what it does there and who does otherwise, for a reader.
        beside: the id of the one channel that it is held against; empty where they are several.
    """

    kind: str
    seconds: float
    where: str
    text: str
    beside: str = ""


NOWHERE: Final = Unlike("none", 0.0, "", "as its like")


@per_session
def _unlike(context: SessionContext) -> dict[str, Unlike]:
    """Channel id → the place in which it alone is not as its like."""
    sets = cut_sets(context)
    found: dict[str, Unlike] = {}
    for own in sets:
        for channel in own.channels:
            if not is_heard(context, channel):
                continue
            held = (_against(context, channel, other) for other in _held_against(context, channel, own, sets))
            first = next((one for one in held if one is not None), None)
            if first is not None:
                found[channel.id] = first
    for one, unlike in tuple(found.items()):
        # Of two that are held against each other alone one row is enough: it names both.
        if unlike.beside in found and found[unlike.beside].beside == one and one in found:
            del found[max(one, unlike.beside, key=context.order.__getitem__)]
    return found


def _held_against(context: SessionContext, channel: Channel, own: CutSet, sets: tuple[CutSet, ...]) -> list[CutSet]:
    """The sets that a channel is held against: those of other cuts, and the others of its own."""
    if len(own.channels) > MOST_CHANNELS and not _alone(context, own):
        return []
    if len(own.channels) > 1 and not (own.recorded_together and _same_pace(context, own)):
        rest = as_set(context, tuple(one for one in own.channels if one is not channel))
        within = [rest] if rest.recorded_together else []
    else:
        within = []
    if not _alone(context, own):
        return within
    least = 2 * len(own.channels) - 1
    near = (sets[at] for at in _may_be_like(context, channel))
    return within + [one for one in near if one is not own and len(one.channels) >= least]


def _may_be_like(context: SessionContext, channel: Channel) -> list[int]:
    """The places of the sets that a channel can be held against at all, in order.

    Most sets of a large session are one channel each that has nothing to do with this one.
    """
    index = _where_alike(context)
    paired = (index.of_channel.get(other.id) for other, _ in paired_by_name(context, channel))
    role, family = context.role(channel.id), context.family(channel.id)
    places = (*index.ensembles, *index.of_role.get(role, ()), *index.of_family.get(family, ()))
    return sorted({*places, *(at for at in paired if at is not None)})


class _Alike(NamedTuple):
    """The places of sets by what makes a channel like them.

    Args:
        ensembles: those that may be an ensemble.
        of_channel: that of each channel.
        of_role: those with several channels of a role.
        of_family: those with several channels of a family.
    """

    ensembles: list[int]
    of_channel: dict[str, int]
    of_role: dict[str | None, list[int]]
    of_family: dict[str | None, list[int]]


@per_session
def _where_alike(context: SessionContext) -> _Alike:
    found = _Alike([], {}, {}, {})
    for at, one in enumerate(cut_sets(context)):
        if one.recorded_together and len(one.channels) + 1 > context.setting(LEAST_ENSEMBLE):
            found.ensembles.append(at)
        found.of_channel.update((channel.id, at) for channel in one.channels)
        for places, told in ((found.of_role, context.role), (found.of_family, context.family)):
            for what, count in Counter(told(channel.id) for channel in one.channels).items():
                if count > 1:  # one alone is like another by its name
                    places.setdefault(what, []).append(at)
    return found


def _same_pace(context: SessionContext, own: CutSet) -> bool:
    """True where all channels of a set play the same takes at one speed."""
    lines = [line_of(context, channel) for channel in own.channels]
    return all(len({(piece.speed, piece.take) for piece in column}) == 1 for column in zip(*lines, strict=True))


def _alone(context: SessionContext, own: CutSet) -> bool:
    """True for a channel whose cut no other has, or the two sides of a pair."""
    if len(own.channels) == 1:
        return True
    return len(own.channels) == 2 and partners(context).get(own.channels[0].id) is own.channels[1]


def _like(context: SessionContext, one: Channel, other: Channel) -> bool:
    """True for parts that are edited alike when they are edited: one role or section, or names that go together."""
    if _named_with(context, one, other):
        return True
    role, family = context.role(one.id), context.family(one.id)
    if role is not None and role not in LOOSE and role == context.role(other.id):
        return True
    return family in SECTIONS and family == context.family(other.id)


def _against(context: SessionContext, channel: Channel, others: CutSet) -> Unlike | None:
    """What a channel does otherwise than a set, where it is as they are but for one place."""
    theirs, own = others.line, line_of(context, channel)
    like = [one for one in others.channels if _like(context, channel, one)]
    several = len(theirs) >= context.setting(LEAST_CLIPS)
    ensemble = others.recorded_together and _is_ensemble(context, channel, others)
    section = several and len(like) >= context.setting(LEAST_LIKE)
    partner = next((one for one in others.channels if _named_with(context, channel, one)), None) if several else None
    if not (ensemble or section or partner is not None) or not _meet(theirs, own):
        return None
    shift = usual_shift(theirs, own)
    ensemble = ensemble and shift is not None
    if (shift is not None and abs(shift) > FARTHEST_SHIFT_S) or not (ensemble or section or partner is not None):
        return None
    found = _but_for_crossfades(partings(theirs, own, shift if others.recorded_together else None))
    muted = _muted(context, channel, others) if ensemble else None
    if muted is not None:
        return muted
    if not found or not in_one_place(found) or not _agree(context, theirs, found):
        return None
    beside = others.channels if ensemble else tuple(like) if section or partner is None else (partner,)
    case = Case(
        channel, theirs, own, ensemble, shift is not None, few_text([context.name(one.id) for one in beside], 3)
    )
    judged = _judged(context, case, found)
    return judged._replace(beside=beside[0].id) if judged is not None and len(beside) == 1 else judged


def _is_ensemble(context: SessionContext, channel: Channel, others: CutSet) -> bool:
    """True for a set that was recorded in one pass and spliced together, and for the microphones of one kit."""
    least = context.setting(LEAST_ENSEMBLE)
    if others.spliced and len(others.channels) >= least:
        return True
    kit = [one for one in (channel, *others.channels) if context.family(one.id) == "drums"]
    return channel in kit and len(kit) > least and any(context.role(one.id) in KIT_MICROPHONES for one in kit)


def _named_with(context: SessionContext, one: Channel, other: Channel) -> bool:
    return other.id in _named_like(context, one)


@per_session
def _named_like(context: SessionContext, channel: Channel) -> frozenset[str]:
    """Ids of the channels whose names go together with that of a channel."""
    return frozenset(other.id for other, kind in paired_by_name(context, channel) if kind in LIKE_NAMES)


class Case(NamedTuple):
    """A channel beside its like.

    Args:
        channel: the channel.
        theirs: the line of the others.
        own: its line.
        ensemble: they were recorded and cut as one.
        together: most of their recordings begin at one distance to each other.
        names: the others, for a reader.
    """

    channel: Channel
    theirs: tuple[Piece, ...]
    own: tuple[Piece, ...]
    ensemble: bool
    together: bool
    names: str


def _but_for_crossfades(found: list[Parting]) -> list[Parting]:
    """Differences without the tails of crossfades that are left where the second clip is missing.

    Such a tail belongs to the silence behind it, which then begins where the others go over.
    """
    kept: list[Parting] = []
    for at, part in enumerate(found):
        after = found[at + 1] if at + 1 < len(found) else None
        tail = part.what == "other" and part.end_s - part.start_s <= CROSSFADE_S
        if tail and after is not None and after.what == "silent" and after.start_s - part.end_s <= SAME_EDGE_S:
            found[at + 1] = after._replace(start_s=part.start_s)
        else:
            kept.append(part)
    return kept


def _muted(context: SessionContext, channel: Channel, others: CutSet) -> Unlike | None:
    """A clip of an ensemble that is muted on one channel, which plays with the others on both sides of it."""
    theirs, own = others.channels[0], line_of(context, channel)
    whole = [clip for clip in theirs.clips if clip.on is not False]
    for clip in channel.clips:
        if clip.on is not False or clip.plays != "audio":
            continue
        if not any(
            abs(c.start_s - clip.start_s) <= SAME_EDGE_S and abs(c.end_s - clip.end_s) <= SAME_EDGE_S for c in whole
        ):
            continue
        before = any(abs(piece.end_s - clip.start_s) <= CROSSFADE_S for piece in own)
        after = any(abs(piece.start_s - clip.end_s) <= CROSSFADE_S for piece in own)
        rests = not any(
            piece.start_s < clip.end_s - CROSSFADE_S and piece.end_s > clip.start_s + CROSSFADE_S for piece in own
        )
        if before and after and rests:
            where = span_text(context, clip.start_s, clip.end_s)
            names = few_text([context.name(one.id) for one in others.channels], 3)
            return Unlike("muted", clip.end_s - clip.start_s, where, f"has a muted clip in {where}, where {names} play")
    return None


def _agree(context: SessionContext, theirs: tuple[Piece, ...], found: list[Parting]) -> bool:
    """True where a line is as the others' for long enough."""
    length = sum(piece.end_s - piece.start_s for piece in theirs)
    apart = sum(part.end_s - part.start_s for part in found if part.what != "extra")
    return 100.0 * (length - apart) >= context.setting(LEAST_ALIKE) * length


def _meet(theirs: tuple[Piece, ...], own: tuple[Piece, ...]) -> bool:
    """True for two lines with several edges in common."""
    edges = sorted({edge for piece in own for edge in (piece.start_s, piece.end_s)})
    common = 0
    for edge in {edge for piece in theirs for edge in (piece.start_s, piece.end_s)}:
        at = bisect_left(edges, edge - SAME_EDGE_S)
        common += at < len(edges) and edges[at] <= edge + SAME_EDGE_S
        if common >= LEAST_EVENTS:
            return True
    return False


def _is_edge(line: tuple[Piece, ...], at_s: float) -> bool:
    return any(abs(edge - at_s) <= SAME_EDGE_S for piece in line for edge in (piece.start_s, piece.end_s))


def _judged(context: SessionContext, case: Case, found: list[Parting]) -> Unlike | None:
    """What the differences in one place come to; None where they may be meant."""
    silent = [part for part in found if part.what == "silent"]
    extra = [part for part in found if part.what == "extra"]
    other = [part for part in found if part.what == "other"]
    start, end = found[0].start_s, found[-1].end_s
    where = span_text(context, start, end)
    if other:
        return _other(context, case, other, where, moved=bool(silent or extra))
    if silent and extra:
        return _moved(context, silent, extra, where, case.names)
    if extra:
        between = case.theirs[0].start_s < start and end < case.theirs[-1].end_s
        fills = len(extra) == 1 and _is_edge(case.theirs, start) and _is_edge(case.theirs, end)
        if not (case.ensemble and between and fills):
            return None
        return Unlike("runs-on", end - start, where, f"runs on in {where}, where {case.names} rest")
    return _silent(context, case, (start, end))


def _other(context: SessionContext, case: Case, other: list[Parting], where: str, *, moved: bool) -> Unlike | None:
    """What it comes to that a line plays something else than the others do."""
    longest = max(other, key=lambda part: part.end_s - part.start_s)
    mine, theirs = longest.own, longest.theirs
    assert mine is not None
    assert theirs is not None
    length = sum(part.end_s - part.start_s for part in other)
    if mine.speed is not None and theirs.speed is not None and abs(mine.speed - theirs.speed) > SAME_SPEED:
        return Unlike("stretched", length, where, f"runs at another speed in {where} than {case.names}")
    if mine.origin_s is None or theirs.origin_s is None:
        return None
    late = mine.origin_s - theirs.origin_s
    file_elsewhere = any(piece is not mine and piece.clip.file == mine.clip.file for piece in case.own)
    same_take = mine.take is None or theirs.take is None or mine.take == theirs.take
    spans = mine.start_s < other[0].start_s - ONE_PLACE_S or mine.end_s > other[-1].end_s + ONE_PLACE_S
    theirs_alone = not any(piece is not theirs and piece.clip.file == theirs.clip.file for piece in case.theirs)
    stays = theirs_alone and (spans or file_elsewhere)  # they go over to another file there, and it does not
    near = not (case.ensemble and stays) and 0.0 < abs(late) <= _reach(context, longest)
    if same_take and near and (case.ensemble or (file_elsewhere and (moved or case.together))):
        way = "late" if late > 0.0 else "early"
        text = f"lies {_long(abs(late))} {way} in {where}, against {case.names}"
        return Unlike("moved" if moved else "slipped", abs(late), where, text)
    if not case.ensemble:
        return None
    return Unlike("other-take", length, where, f"plays another take in {where} than {case.names}")


def _reach(context: SessionContext, part: Parting) -> float:
    """How far a hand drags a clip that still plays the same passage, seconds: two bars."""
    return max(SLIP_S, _bars(context, part.start_s, 2.02))


def _bars(context: SessionContext, at_s: float, bars: float) -> float:
    """How long some bars of the song's first metre last at a time, seconds; four where the tempo is not known."""
    timeline = context.session.timeline
    if not isinstance(timeline, Timeline):
        return 4.0
    return bars * first_bar_s(timeline, at_s)


def _long(seconds: float) -> str:
    return number_text(1000.0 * seconds, "ms") if seconds < 1.0 else number_text(seconds, "s")


def _moved(
    context: SessionContext, silent: list[Parting], extra: list[Parting], where: str, names: str
) -> Unlike | None:
    """A clip that was moved by more than its own length, or one whose place in its file is not compared."""
    lost = sum(part.end_s - part.start_s for part in silent)
    won = sum(part.end_s - part.start_s for part in extra)
    if abs(lost - won) > SAME_EDGE_S or len(silent) != 1 or len(extra) != 1 or lost < SHORTEST_EDGE_S:
        return None
    way = "late" if silent[0].start_s < extra[0].start_s else "early"
    at = moment_text(context, min(silent[0].start_s, extra[0].start_s))
    return Unlike("moved", lost, where, f"comes {_long(lost)} {way} at {at}, against {names}")


def _silent(context: SessionContext, case: Case, span: tuple[float, float]) -> Unlike | None:
    """What a silence comes to in which the others play.

    One with both edges inside a clip of the others was cut out on purpose: a cough, a chair.
    """
    (start, end), theirs, names = span, case.theirs, case.names
    where, length = span_text(context, start, end), end - start
    begins, ends = _is_edge(theirs, start), _is_edge(theirs, end)
    if not begins and not ends:
        return None
    off = any(
        clip.on is False and clip.start_s <= start + ONE_PLACE_S and clip.end_s >= end - ONE_PLACE_S
        for clip in case.channel.clips
    )
    if off:
        text = f"has a muted clip in {where}, where {names} play"
        return Unlike("muted", length, where, text) if begins and ends else None
    first, last = theirs[0].start_s, theirs[-1].end_s
    inside = first + SAME_EDGE_S < start and end < last - SAME_EDGE_S
    if case.ensemble and inside and length >= SHORTEST_HOLE_S and _joins(theirs, start, end):
        return Unlike("hole", length, where, f"has a hole of {_long(length)} in {where}, where {names} play on")
    if begins and ends:
        # A part that rests for a section may be arranged so; a microphone of an ensemble is not.
        silent = case.ensemble and inside
        return Unlike("hole", length, where, f"is silent in {where}, where {names} play") if silent else None
    # A part of a section may come in later, or rest for some bars, where it is arranged so.
    written = not case.ensemble and (start <= first or length > _bars(context, start, 4.0))
    if length < SHORTEST_EDGE_S or written:
        return None
    if ends:
        at = moment_text(context, start)
        return Unlike("stops-early", length, where, f"stops {_long(length)} before {names} at {at}")
    at = moment_text(context, end)
    return Unlike("starts-late", length, where, f"starts {_long(length)} after {names} at {at}")


def _joins(line: tuple[Piece, ...], start_s: float, end_s: float) -> bool:
    """True where two clips of a line meet at one of two times: a splice."""
    return any(
        after.start_s - before.end_s <= SAME_EDGE_S
        and min(abs(after.start_s - start_s), abs(after.start_s - end_s)) <= 0.15
        for before, after in pairwise(line)
    )


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "word",
    "What its clips do in the one place where they are not as those of the channels that are cut as it is; none where "
    "they are, or where there are no such channels.",
    how="derived",
    words=KINDS,
    settings=SETTINGS,
)
def unlike_its_like(row: Row[Channel]) -> FactValue:
    found = _of(row)
    return FactValue(found.kind, "derived", found.where or row.subject.where, found.text)


@FACTS.fact(
    "number", "By how much, or for how long, it is not as they are there; 0 where it is.", unit="s", how="derived",
    settings=SETTINGS,
)  # fmt: skip
def unlike_its_like_s(row: Row[Channel]) -> FactValue:
    found = _of(row)
    return FactValue(found.seconds, "derived", found.where or row.subject.where, found.text)


def _of(row: Row[Channel]) -> Unlike:
    if not is_source(row.context, row.item):
        return NOWHERE
    return _unlike(row.context).get(row.subject.id, NOWHERE)
