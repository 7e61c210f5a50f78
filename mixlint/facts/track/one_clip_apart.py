"""A channel that has clip for clip what its like has, place in the file and all, save in one place.

Two microphones of one take, the sides of a pair and the parts of a section that was recorded in one pass have the same
clips to the sample, since they are cut, moved and copied in one hand. That is stronger evidence than cuts alone: one
clip that lies elsewhere, plays another place or another file, runs at another speed or is not there was touched by
itself, however few clips there are.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from dataclasses import dataclass
from typing import Final, NamedTuple, TypeAlias

from mixlint.analysis.activity import span_text
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source, is_utility
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.cut_lines import SAME_SPEED
from mixlint.analysis.media_use import audio_clips, origin_s
from mixlint.analysis.named_pairs import paired_by_name
from mixlint.analysis.partners import partners
from mixlint.analysis.same_clips import HALVES
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import pair_kind
from mixlint.session import Channel, Clip, is_known, known
from mixlint.units import few_text, number_text

LEAST_PEERS: Final = Setting(
    "one_clip_apart.least_peers", 2.0, "", "So many channels with the same clips show what another should have, where "
    "no name calls it the other half of one.", lowest=2.0,
)  # fmt: skip
LEAST_SAME: Final = Setting(
    "one_clip_apart.least_same", 2.0, "", "So many clips it then has to share with all of them.", lowest=1.0
)
SETTINGS: Final = (LEAST_PEERS, LEAST_SAME)

SAME_S: Final = 0.002
"""Edges and places this near are one: rounding of the export."""
TRIMMED_S: Final = 0.14
"""An edge that is nearer to the others' was trimmed by ear: a definition."""
NUDGED_S: Final = 0.003
"""A clip that lies nearer to its place lies there: a definition."""
SHORTEST_S: Final = 1.0
"""A clip that is shorter than this is a breath or a single note, which may be missing: a definition."""

LONGEST_EDGE_S: Final = 6.0
"""A part that enters later than this after its like, or leaves sooner, rests there: a definition."""

EDGES: Final = frozenset({"starts-early", "starts-late", "stops-early", "runs-on"})
NEAR_BY: Final = 3
"""So many clips to either side are looked at for one at the same place: bounds the work."""
MEANT_FILES: Final = 2
"""A channel that plays so many files chooses between them: a definition."""

TRUE_HALVES: Final = frozenset({"sides", "microphones"})
"""Halves of one part, of which neither rests for a section by itself; a high and a low voice are two parts."""
ONE_INSTRUMENT: Final = frozenset({"drums", "percussion", "keys"})
"""Families in which high and low are the microphones of one instrument: a definition."""
KINDS: Final = ("none", "missing", "moved", "left-behind", "slipped", "copied", "speed", "other-take", "swapped",
                "starts-early", "starts-late", "stops-early", "runs-on")  # fmt: skip


Keys: TypeAlias = tuple[tuple[float, float, float], ...]
"""Clips by start, end and place in the file, rounded, seconds."""


class Apart(NamedTuple):
    """The place in which a channel has not what its like has.

    Args:
        kind: one of :data:`KINDS`.
        seconds: by how much, or for how long.
        at_s: where, seconds.
        until_s: until where, seconds.
        text: what the channel does, for a reader, with places for where that is and who its like are.
        own: the channel is the one of two that leaves what it has elsewhere.
    """

    kind: str
    seconds: float
    at_s: float
    until_s: float
    text: str
    own: bool = True


NOT_APART: Final = Apart("none", 0.0, 0.0, 0.0, "")


@per_session
def _clips(_context: SessionContext, channel: Channel) -> tuple[Clip, ...]:
    """The audio clips of a channel in order; none where the export does not say what one of them plays."""
    clips = sorted(audio_clips(channel), key=lambda clip: (clip.start_s, clip.end_s))
    whole = len(clips) == len(channel.clips)
    return tuple(clips) if whole and all(c.file is not None and is_known(c.offset_s) for c in clips) else ()


def _speed(clip: Clip) -> float:
    return clip.speed if is_known(clip.speed) else 1.0


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_S


def _same(one: Clip, other: Clip) -> bool:
    """True for clips with the same edges, place and speed."""
    return (
        _near(one.start_s, other.start_s)
        and _near(one.end_s, other.end_s)
        and _near(known(one.offset_s), known(other.offset_s))
        and abs(_speed(one) - _speed(other)) <= SAME_SPEED
    )


def _compared(own: tuple[Clip, ...], theirs: tuple[Clip, ...]) -> Apart | None:
    """The one place in which two rows of clips differ; None where they do nowhere, or in several."""
    if len(own) == len(theirs) - 1:
        return _missing(own, theirs)
    if len(own) != len(theirs) or not own:
        return None
    off = [at for at, pair in enumerate(zip(own, theirs, strict=True)) if not _same(*pair)]
    if len(off) == 1:
        return _one(own, theirs, off[0])
    if off and off[0] > 0 and off == list(range(off[0], len(own))):
        return _left_behind(own, theirs, off[0])
    return None if off else _files(own, theirs)


def _missing(own: tuple[Clip, ...], theirs: tuple[Clip, ...]) -> Apart | None:
    at = next((at for at, clip in enumerate(own) if not _same(clip, theirs[at])), len(own))
    gone = theirs[at]
    if not own or gone.end_s - gone.start_s < SHORTEST_S:
        return None
    if not all(_same(one, other) for one, other in zip(own, theirs[:at] + theirs[at + 1 :], strict=True)):
        return None
    return Apart(
        "missing", gone.end_s - gone.start_s, gone.start_s, gone.end_s, "has no clip in {where}, where {names} {play}"
    )


def _one(own: tuple[Clip, ...], theirs: tuple[Clip, ...], at: int) -> Apart | None:
    """What it comes to that one clip is not as the other's."""
    mine, other = own[at], theirs[at]
    starts, ends = mine.start_s - other.start_s, mine.end_s - other.end_s
    slip = known(mine.offset_s) - known(other.offset_s)
    if abs(_speed(mine) - _speed(other)) > SAME_SPEED:
        if not _near(starts, 0.0):
            return None
        text = f"plays at {number_text(100.0 * _speed(mine))} % of its speed in {{where}}, unlike {{names}}"
        apart = abs(_speed(mine) - _speed(other)) * (mine.end_s - mine.start_s)
        faster = abs(_speed(mine) - 1.0) > abs(_speed(other) - 1.0)
        return Apart("speed", apart, mine.start_s, mine.end_s, text, own=faster)
    if _speed(mine) != 1.0:
        return None
    if _near(starts, ends) and _near(slip, 0.0):
        text = f"lies {_apart_text(starts)} than {{names}} in {{where}}"
        if len(own) == 1 or abs(starts) < NUDGED_S:
            return None  # nothing of its own shows where it belongs
        return Apart("moved", abs(starts), mine.start_s, mine.end_s, text, own=_leaves(own, theirs, at))
    if _near(starts, 0.0) and _near(ends, 0.0):
        return _elsewhere(own, theirs, at, slip) if len(own) > 1 and abs(slip) >= NUDGED_S else None
    odd = _trimmed(mine, other, starts, ends) if _near(starts, slip) else None
    # Within the song a beginning or an end is missing on the one; before and behind it the other was left open.
    inside = odd is not None and ((odd.kind == "starts-early" and at) or (odd.kind == "runs-on" and at + 1 < len(own)))
    return odd._replace(own=False) if odd is not None and inside else odd


def _elsewhere(own: tuple[Clip, ...], theirs: tuple[Clip, ...], at: int, slip_s: float) -> Apart | None:
    """What it comes to that one clip with the other's edges plays another place of its file."""
    mine = own[at]
    if _plays_again(own, at):
        text = "plays in {where} what it plays elsewhere too, unlike {names}"
        return Apart("copied", abs(slip_s), mine.start_s, mine.end_s, text)
    if _plays_again(theirs, at):
        return None  # it is the other one that repeats itself
    text = f"plays its file {_apart_text(-slip_s)} than {{names}} in {{where}}"
    return Apart("slipped", abs(slip_s), mine.start_s, mine.end_s, text, own=_leaves(own, theirs, at))


def _trimmed(mine: Clip, other: Clip, starts: float, ends: float) -> Apart | None:
    """What it comes to that one edge of a clip lies elsewhere."""
    if _near(ends, 0.0) and abs(starts) >= TRIMMED_S:
        kind = "starts-late" if starts > 0.0 else "starts-early"
        text = f"starts {_apart_text(starts)} than {{names}} in {{where}}"
        return Apart(kind, abs(starts), min(mine.start_s, other.start_s), max(mine.start_s, other.start_s), text)
    if _near(starts, 0.0) and abs(ends) >= TRIMMED_S:
        kind = "runs-on" if ends > 0.0 else "stops-early"
        text = f"stops {_apart_text(ends)} than {{names}} in {{where}}"
        return Apart(kind, abs(ends), min(mine.end_s, other.end_s), max(mine.end_s, other.end_s), text)
    return None


def _apart_text(late_s: float) -> str:
    """By how much something is late, for a reader."""
    much = f"{number_text(abs(late_s))} s" if abs(late_s) >= 1.0 else f"{number_text(1000.0 * abs(late_s))} ms"
    return f"{much} {'later' if late_s > 0.0 else 'earlier'}"


def _leaves(own: tuple[Clip, ...], theirs: tuple[Clip, ...], at: int) -> bool:
    """True where the first of two leaves at one clip where all its others were recorded, or neither does."""
    rest = [origin_s(clip) for place, clip in enumerate(own) if place != at]
    middle = sorted(rest)[len(rest) // 2]
    return abs(origin_s(own[at]) - middle) >= abs(origin_s(theirs[at]) - middle)


def _plays_again(clips: tuple[Clip, ...], at: int) -> bool:
    """True where half of what a clip plays is played by another of its channel."""
    clip = clips[at]
    start, length = known(clip.offset_s), clip.end_s - clip.start_s
    return any(
        2.0 * (min(start + length, known(o.offset_s) + o.end_s - o.start_s) - max(start, known(o.offset_s))) >= length
        for place, o in enumerate(clips)
        if place != at and o.file == clip.file
    )


def _left_behind(own: tuple[Clip, ...], theirs: tuple[Clip, ...], first: int) -> Apart | None:
    """From one clip on all lie by one and the same time off the others', with the same places of their files."""
    late = own[first].start_s - theirs[first].start_s
    if abs(late) < NUDGED_S or not all(
        _near(mine.start_s - other.start_s, late)
        and _near(mine.end_s - other.end_s, late)
        and _near(known(mine.offset_s), known(other.offset_s))
        and mine.speed == other.speed
        for mine, other in zip(own[first:], theirs[first:], strict=True)
    ):
        return None
    text = f"lies {_apart_text(late)} than {{names}} in {{where}}"
    leaves = _leaves(own, theirs, first)
    return Apart("left-behind", abs(late), own[first].start_s, own[-1].end_s, text, own=leaves)


def _files(own: tuple[Clip, ...], theirs: tuple[Clip, ...]) -> Apart | None:
    """The clip on which a channel plays another of its files than goes with the other's there."""
    files = [(one.file, other.file) for one, other in zip(own, theirs, strict=True)]
    match: dict[str | None, str | None] = {}
    for (mine, its), _ in Counter(files).most_common():
        if mine not in match and its not in match.values():
            match[mine] = its
    off = [at for at, (mine, its) in enumerate(files) if match.get(mine) != its]
    if len(off) != 1 or own[off[0]].end_s - own[off[0]].start_s < SHORTEST_S:
        return None
    (at,) = off
    mine, its = files[at]
    start, end = own[at].start_s, own[at].end_s
    if any(clip.file == mine for clip in theirs) and any(clip.file == its for clip in own):
        text = "has the recording of {names} in {where}, and {names} its own"
        return Apart("swapped", end - start, start, end, text)
    if mine == its or mine not in match or len({clip.file for clip in theirs}) < MEANT_FILES:
        return None
    text = "goes over to another of its recordings than {names} in {where}"
    return Apart("other-take", end - start, start, end, text)


# --- beside whom


@per_session
def _keys(context: SessionContext, channel: Channel) -> Keys:
    """The clips of a channel by edges and place, rounded, so that like ones are found without comparing all."""
    return tuple(
        (round(clip.start_s, 2), round(clip.end_s, 2), round(known(clip.offset_s), 2))
        for clip in _clips(context, channel)
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Same:
    """Heard parts with the very same clips; told from others by its identity, as the clips may be thousands."""

    keys: Keys
    channels: list[Channel]


@per_session
def _all_same(context: SessionContext) -> tuple[_Same, ...]:
    """The heard parts by their clips."""
    found: dict[Keys, _Same] = {}
    for channel in context.session.channels:
        keys = _keys(context, channel)
        if keys and is_source(context, channel) and not is_utility(context, channel) and is_heard(context, channel):
            found.setdefault(keys, _Same(keys, [])).channels.append(channel)
    return tuple(found.values())


@per_session
def _same_of(context: SessionContext) -> dict[str, _Same]:
    """Id of a heard part → the parts with its clips, itself among them."""
    return {channel.id: same for same in _all_same(context) for channel in same.channels}


@per_session
def _by_clip(context: SessionContext) -> dict[tuple[float, float, float], list[_Same]]:
    """A clip by edges and place → who holds it."""
    found: dict[tuple[float, float, float], list[_Same]] = {}
    for same in _all_same(context):
        for key in dict.fromkeys(same.keys):
            found.setdefault(key, []).append(same)
    return found


@per_session
def _apart(context: SessionContext) -> dict[str, tuple[Apart, tuple[Channel, ...], bool]]:
    """Channel id → where it is not as its like, who these are, and whether they are one other half."""
    found: dict[str, tuple[Apart, tuple[Channel, ...], bool]] = {}
    for same in _all_same(context):
        for channel in same.channels:
            half = _other_half(context, channel, same)
            odd = _compared(_clips(context, channel), _clips(context, half)) if half is not None else None
            if half is not None and odd is not None:
                if odd.own and half.id not in found and not _arranged_of_halves(context, channel, half, odd):
                    found[channel.id] = odd, (half,), True
                continue
            if half is None or half not in same.channels:
                beside = _beside_several(context, channel, same)
                if beside is not None:
                    found[channel.id] = *beside, False
    return found


@per_session
def _shared(context: SessionContext, same: _Same) -> Counter[_Same]:
    """Others → how many clips those with the same share with each."""
    counted = Counter(other for key in dict.fromkeys(same.keys) for other in _by_clip(context)[key])
    del counted[same]
    return counted


def _other_half(context: SessionContext, channel: Channel, same: _Same) -> Channel | None:
    """The channel whose name makes it the other half of one, and that is not like it in all."""
    named = partners(context).get(channel.id)
    if named is not None:
        return named if named.id in _same_of(context) else None
    halves = {other.id for other, kind in paired_by_name(context, channel) if kind in HALVES}
    if not halves:
        return None
    close = [one for one in same.channels if one is not channel]
    for other in _shared(context, same):
        close += other.channels if abs(len(other.keys) - len(same.keys)) <= 1 else ()
    return next((one for one in close if one.id in halves), None)


def _beside_several(context: SessionContext, channel: Channel, same: _Same) -> tuple[Apart, tuple[Channel, ...]] | None:
    """What a channel has otherwise than several that agree, and these."""
    if len(same.channels) >= context.setting(LEAST_PEERS):
        return None
    for other, shared in _shared(context, same).most_common():
        if shared < context.setting(LEAST_SAME):
            return None
        family = context.family(channel.id)
        like = tuple(one for one in other.channels if family is not None and context.family(one.id) == family)
        if len(like) < context.setting(LEAST_PEERS):
            continue
        odd = _compared(_clips(context, channel), _clips(context, like[0]))
        if odd is None or _arranged(context, channel, odd) or _shared_by_another(context, channel, like, odd):
            continue
        return odd, like
    return None


def _rests(odd: Apart) -> bool:
    """True where one has no clip, or comes in a section later or leaves one sooner."""
    return odd.kind == "missing" or (odd.kind in EDGES and odd.seconds > LONGEST_EDGE_S)


def _arranged(context: SessionContext, channel: Channel, odd: Apart) -> bool:
    """True where a part may rest or play alone, as the microphones of a kit cannot: for a section, or a whole clip."""
    return _rests(odd) and context.family(channel.id) != "drums"


def _arranged_of_halves(context: SessionContext, channel: Channel, half: Channel, odd: Apart) -> bool:
    """True where one of two halves may rest: a register always, a side as long as it has not come in yet."""
    named = partners(context).get(channel.id)
    kind = "sides" if named is half else pair_kind(channel.name, half.name, context.house.vocabulary)
    if kind not in TRUE_HALVES and context.family(channel.id) not in ONE_INSTRUMENT:
        return _arranged(context, channel, odd)
    waits = odd.at_s <= min(clip.start_s for clip in _clips(context, channel))
    return kind == "sides" and waits and _arranged(context, channel, odd)


def _shared_by_another(context: SessionContext, channel: Channel, like: tuple[Channel, ...], apart: Apart) -> bool:
    """True where another of its family has what it has otherwise than its like, as near as parts are trimmed by ear.

    Of a clip that lies or plays elsewhere that is such a clip; of one that is missing, silence where its like play, in
    a part that otherwise plays where the channel plays. What two of a family do was written for both.
    """
    own, theirs = _clips(context, channel), _clips(context, like[0])
    family, both = context.family(channel.id), {channel.id, *(one.id for one in like)}
    if family is None:
        return False
    usual = set(_keys(context, like[0]))
    odd = [clip for clip, key in zip(own, _keys(context, channel), strict=True) if key not in usual]
    gone = next((clip for clip in theirs if clip.start_s == apart.at_s), None) if apart.kind == "missing" else None
    near = min(TRIMMED_S, apart.seconds / 2.0)
    others = [context.channels[one] for one in _same_of(context) if one not in both]
    for other in others:
        clips = _clips(context, other) if context.family(other.id) == family else ()
        if gone is not None:
            meant = not _covered(clips, gone) and all(_covered(clips, one) for one in own)
        else:
            meant = bool(odd) and all(_has_alike(clips, one, near) for one in odd)
        if clips and meant:
            return True
    return False


def _near_by(clips: tuple[Clip, ...], one: Clip) -> tuple[Clip, ...]:
    """The few clips of a channel that begin about where one does."""
    at = bisect_left(clips, one.start_s, key=lambda clip: clip.start_s)
    return clips[max(at - NEAR_BY, 0) : at + NEAR_BY]


def _has_alike(clips: tuple[Clip, ...], one: Clip, near_s: float) -> bool:
    """True where one of the clips is another but for trimming: its edges, its place in the file, its speed."""
    return any(
        max(abs(clip.start_s - one.start_s), abs(clip.end_s - one.end_s)) < near_s
        and abs(known(clip.offset_s) - known(one.offset_s)) < near_s
        and abs(_speed(clip) - _speed(one)) <= SAME_SPEED
        for clip in _near_by(clips, one)
    )


def _covered(clips: tuple[Clip, ...], one: Clip) -> bool:
    """True where one of the clips plays during most of another."""
    return any(
        2.0 * (min(clip.end_s, one.end_s) - max(clip.start_s, one.start_s)) > one.end_s - one.start_s
        for clip in _near_by(clips, one)
    )


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "word",
    "What it has otherwise than its like, which have all its other clips to the sample; none where nothing.",
    how="derived",
    words=KINDS,
    settings=SETTINGS,
)
def one_clip_apart(row: Row[Channel]) -> FactValue:
    context = row.context
    odd, beside, _ = _apart(context).get(row.subject.id, (NOT_APART, (), False))
    if odd.kind == "none":
        return FactValue("none", "derived", row.subject.where)
    where = span_text(context, odd.at_s, odd.until_s)
    names = few_text([context.name(one.id) for one in beside], 3)
    text = odd.text.format(where=where, names=names, play="plays" if len(beside) == 1 else "play")
    return FactValue(odd.kind, "derived", where, text)


@FACTS.fact("number", "By how much, or for how long.", unit="s", how="derived", settings=SETTINGS)
def one_clip_apart_s(row: Row[Channel]) -> float:
    odd, _, _ = _apart(row.context).get(row.subject.id, (NOT_APART, (), False))
    return odd.seconds


@FACTS.fact("switch", "It is held against its other half by name.", how="derived", settings=SETTINGS)
def apart_from_its_half(row: Row[Channel]) -> bool:
    return row.subject.id in _apart(row.context) and _apart(row.context)[row.subject.id][2]
