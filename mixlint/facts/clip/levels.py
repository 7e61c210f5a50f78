"""Clips of one part against each other: their gains, their measured levels, steps between them, and their fades."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from itertools import pairwise
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import song_end_s, time_grid
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.gain_to_mix_bus import audible_power_gain
from mixlint.analysis.media_use import NOT_OPENED, is_active_clip
from mixlint.analysis.settings import Setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.clip.clip_regions import ClipRegion
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.shared import UNREAD
from mixlint.naming import ROLES
from mixlint.session import Channel, Clip, NotKnown, Unknown, is_known, known
from mixlint.signal.median import Ordered
from mixlint.units import clock_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[ClipRegion] = Facts()

ADJOINING: Final = Setting(
    "phrases.adjoining", 50.0, "ms", "Two clips of a part with no more than this between them adjoin.", lowest=0.0
)
SHORTEST: Final = Setting(
    "phrases.shortest", 3.0, "s", "A clip shorter than this has no level of its own that others are held against."
)
HEARD_AT_JOIN: Final = Setting(
    "phrases.heard_at_join", 3.0, "s", "So much on either side of a join is measured, to tell whether it is even."
)
QUIET_HEAD: Final = Setting(
    "fades.quiet_head",
    20.0,
    "dB",
    "Where the first half of a fade-in lies so far under what follows, there is nothing for the fade to eat.",
)

OUT_OF_THE_MIX: Final = 1e-6
TAKEN_OUT_DB: Final = 30.0
"""A clip that arrives with less power than the first, −60 dB, or so far under the loudest of its part, is taken out of
the mix: other rules ask about that."""

ONE_OTHER: Final = 1
"""With one other clip nothing tells which of the two is wrong: the quieter one is named."""


@per_session
def _clips(_: SessionContext, channel: Channel) -> list[Clip]:
    """The clips of a channel that sound, in order of time."""
    return sorted((c for c in channel.clips if is_active_clip(channel, c)), key=lambda c: (c.start_s, c.end_s))


def _members(context: SessionContext, region: ClipRegion) -> list[Clip]:
    """The region's own clips that sound: the others of its channel are no repeats of it."""
    clips = _clips(context, region.channel)
    length = region.clip.end_s - region.clip.start_s
    found: list[Clip] = []
    for start in sorted(set(region.starts)):
        there = clips[bisect_left(clips, start, key=_start) : bisect_right(clips, start, key=_start)]
        found.extend(one for one in there if abs(one.end_s - one.start_s - length) <= SAME_LENGTH_S)
    return found


def _start(clip: Clip) -> float:
    return clip.start_s


SAME_LENGTH_S: Final = 1e-6
"""Clips of one region are as long as each other but for the rounding of sums."""


class _Values(NamedTuple):
    """What is known of the clips of a channel: the values by the identity of the clip, and all of them in order."""

    of: dict[int, float]
    ordered: Ordered


def _values(of: dict[int, float]) -> _Values:
    return _Values(of, Ordered(of.values()))


def _others(context: SessionContext, region: ClipRegion, values: _Values) -> tuple[float | None, int]:
    """Of the other clips of a region's part: the median of what is asked of them, and how many show it."""
    own = [values.of[id(clip)] for clip in _members(context, region) if id(clip) in values.of]
    return values.ordered.median_without(own), len(values.ordered) - len(own)


@per_session
def _gains(context: SessionContext, channel: Channel) -> _Values:
    """The gains of the clips, dB, where known."""
    return _values({id(clip): clip.gain_db for clip in _clips(context, channel) if is_known(clip.gain_db)})


@FACTS.fact(
    "number",
    "How far its gain lies from the median of the other clips of its part, either way; of two the stranger counts.",
    unit="dB",
)
def gain_off_part_db(row: Row[ClipRegion]) -> FactValue | Unknown:
    own = known(row.item.clip.gain_db)
    usual, count = _others(row.context, row.item, _gains(row.context, row.item.channel))
    if usual is None:
        return Unknown(unknown="its part has no other clip")
    note = f"the others have {number_text(usual, 'dB')}"
    session = _usual_gain_db(row.context)
    if count == ONE_OTHER and abs(own - session) < abs(usual - session):
        return FactValue(0.0, "declared", row.subject.where, note)
    return FactValue(abs(own - usual), "declared", row.subject.where, note)


ALONE_AMONG: Final = Setting(
    "phrases.alone_among",
    3.0,
    "",
    "So many other clips that have one gain show that this one alone was touched.",
    lowest=2.0,
)


@FACTS.fact("switch", "All other clips of its part have one gain, and it has another.", settings=(ALONE_AMONG,))
def alone_in_gain(row: Row[ClipRegion]) -> bool:
    counts, members = _gain_counts(row.context, row.item.channel), _members(row.context, row.item)
    own = Counter(clip.gain_db for clip in members if is_known(clip.gain_db))
    if len(counts) > len(own) + 1 or own.total() < len(members):
        return False  # the others have several gains, or its own is not known
    others = [gain for gain, times in counts.items() if times > own[gain]]
    least = row.context.setting(ALONE_AMONG)
    return len(others) == 1 and counts[others[0]] >= least and others[0] not in own


@per_session
def _gain_counts(context: SessionContext, channel: Channel) -> Counter[float]:
    """The known gains of a channel's clips, dB → how many have them."""
    return Counter(_gains(context, channel).of.values())


@FACTS.fact(
    "number",
    "How far its gain with that of its faders over its time lies from the median of the other clips of its part, "
    "either way.",
    unit="dB",
    how="derived",
    settings=(SHORTEST, *SPECTRUM_SETTINGS),
)
def ridden_off_part_db(row: Row[ClipRegion]) -> FactValue | Unknown:
    gains = known(_ridden_gains(row.context, row.item.channel))
    own = gains.of.get(id(row.item.clip))
    usual, count = _others(row.context, row.item, gains)
    if own is None or usual is None or count <= ONE_OTHER:
        return Unknown(unknown="its part has too few clips that are long enough")
    note = f"{number_text(abs(own - usual), 'dB')} {'over' if own > usual else 'under'} the others"
    return FactValue(abs(own - usual), "derived", row.subject.where, note)


@per_session
def _ridden_gains(context: SessionContext, channel: Channel) -> _Values | Unknown:
    """Identity of a clip → its gain with that of the part to the mix bus over its time, dB, for clips long enough.

    Clips that a fader takes out, and those of a part whose gain is not known, are left out.
    """
    import numpy as np

    why = context.routing.unknown_on_the_path.get(channel.id, ())
    if why:
        return Unknown(unknown=why[0], settle="export it again")
    edges = time_grid(context)
    middles = (edges[:-1] + edges[1:]) / 2.0
    curve = np.broadcast_to(_gain_before_mix(context, channel), middles.shape)
    found = {}
    for clip in _clips(context, channel):
        inside = (middles >= clip.start_s) & (middles < clip.end_s)
        if clip.end_s - clip.start_s < context.setting(SHORTEST) or not inside.any() or not is_known(clip.gain_db):
            continue
        power = float(curve[inside].mean())
        if power > OUT_OF_THE_MIX:
            found[id(clip)] = clip.gain_db + 10.0 * float(np.log10(power))
    top = max(found.values(), default=0.0)
    return _values({one: gain for one, gain in found.items() if gain > top - TAKEN_OUT_DB})


def _gain_before_mix(context: SessionContext, channel: Channel) -> Floats:
    """The power gain (T or 1,) of a part up to the mix bus: what the mix bus itself does is the same for all."""
    import numpy as np

    gain, mix_bus = audible_power_gain(context, channel.id), context.routing.wiring.mix_bus
    if isinstance(mix_bus, Unknown):
        return gain
    common = audible_power_gain(context, mix_bus)
    return np.asarray(np.where(common > 0.0, gain / np.maximum(common, 1e-20), 0.0))


@FACTS.fact("word", "The part its channel plays, or unread.", how="derived", words=(*ROLES, UNREAD))
def part(row: Row[ClipRegion]) -> str:
    return row.context.role_word(row.item.channel.id) or UNREAD


@FACTS.fact("number", "How many other clips its part has.", how="derived")
def other_clips(row: Row[ClipRegion]) -> int:
    return len(_clips(row.context, row.item.channel)) - len(_members(row.context, row.item))


@FACTS.fact("number", "How far its gain lies from what parts of this session have, either way.", unit="dB")
def gain_off_session_db(row: Row[ClipRegion]) -> FactValue:
    own, usual = known(row.item.clip.gain_db), _usual_gain_db(row.context)
    note = f"parts of this session have {number_text(usual, 'dB')}"
    return FactValue(abs(own - usual), "declared", row.subject.where, note)


@per_session
def _usual_gain_db(context: SessionContext) -> float:
    """The median over the parts of the median gain of their clips, dB; 0 without a clip."""
    medians = [_gains(context, channel).ordered.median_without(()) for channel in context.session.channels]
    return Ordered([usual for usual in medians if usual is not None]).median_without(()) or 0.0


# --- measured levels


@FACTS.fact(
    "number",
    "How far its level at the mix bus lies over the median of the other clips of its part; of two the quieter counts.",
    unit="dB",
    how="measured",
    settings=(SHORTEST, *SPECTRUM_SETTINGS),
)
def level_off_part_db(row: Row[ClipRegion]) -> FactValue | Unknown:
    region = row.item
    levels = known(_clip_levels(row.context, region.channel))
    own = levels.of.get(id(region.clip))
    if own is None:
        return Unknown(unknown="it is too short, or silent, to have a level of its own")
    usual, count = _others(row.context, region, levels)
    if usual is None:
        return Unknown(unknown="its part has no other clip long enough")
    off = min(0.0, own - usual) if count == ONE_OTHER else own - usual
    return FactValue(off, "measured", row.subject.where, "under the others" if off < 0.0 else "over the others")


@per_session
def _clip_levels(context: SessionContext, channel: Channel) -> _Values | Unknown:
    """Identity of a clip → its K-weighted level at the mix bus, dB, for those that are long enough and not silent.

    Clip gains, faders and automation are carried. Unknown without audio, and where a clip cannot be followed.
    """
    import numpy as np

    edges = time_grid(context)
    gain = _gain_before_mix(context, channel)
    middles = (edges[:-1] + edges[1:]) / 2.0
    found = {}
    for clip in _clips(context, channel):
        length = clip.end_s - clip.start_s
        if length < context.setting(SHORTEST):
            continue
        power = _power(context, clip, 0.0, length)
        inside = (middles >= clip.start_s) & (middles < clip.end_s)
        ridden = float(np.broadcast_to(gain, middles.shape)[inside].mean()) if inside.any() else float(gain.mean())
        if power * ridden > 1e-12:
            found[id(clip)] = float(10.0 * np.log10(power * ridden))
    return _values(found)


def _power(context: SessionContext, clip: Clip, from_s: float, to_s: float) -> float:
    """The mean K-weighted energy of a clip with its gain between two times from its start, its legs' mean.

    Raises:
        NotKnown: no audio was opened, or the clip cannot be followed.
    """
    if context.audio is None or clip.file is None:
        raise NotKnown(NOT_OPENED)
    offset, gain, speed = known(clip.offset_s), known(clip.gain_db), known(clip.speed)
    if speed <= 0.0:
        raise NotKnown(Unknown(unknown="it plays backwards"))
    measure = known(context.audio.measure(clip.file))
    energy = measure.energy_at([offset + from_s * speed, offset + to_s * speed])
    return float(energy.mean() * 10.0 ** (gain / 10.0))


# --- steps between clips that adjoin


class GainStep(NamedTuple):
    """A step of the gain from one clip to the next one that adjoins.

    Args:
        db: how far the gain steps, either way, dB; 0 where it makes two levels even.
        at_s: where, seconds.
    """

    db: float
    at_s: float


@FACTS.fact(
    "number",
    "How far the gain steps from the clip before, which adjoins it; 0 where none does, or where it evens two levels.",
    unit="dB",
    how="derived",
    settings=(ADJOINING, HEARD_AT_JOIN),
)
def gain_step_db(row: Row[ClipRegion]) -> FactValue:
    worst = max(_own_steps(row), key=_step_db, default=None)
    if worst is None:
        return FactValue(0.0, "derived", row.subject.where, "no clip adjoins it")
    return FactValue(worst.db, "derived", row.subject.where, clock_text(worst.at_s))


@FACTS.fact(
    "number",
    "The median of the gain steps at the other joins of its part; 0 where there is none.",
    unit="dB",
    how="derived",
    settings=(ADJOINING, HEARD_AT_JOIN),
)
def usual_gain_step_db(row: Row[ClipRegion]) -> float:
    ordered = _ordered_steps(row.context, row.item.channel)
    return ordered.median_without([step.db for step in _own_steps(row)]) or 0.0


@per_session
def _ordered_steps(context: SessionContext, channel: Channel) -> Ordered:
    """All steps of clip gain on a channel, dB."""
    return Ordered([step.db for steps in _gain_steps(context, channel).values() for step in steps])


def _own_steps(row: Row[ClipRegion]) -> list[GainStep]:
    """The steps at which the clips of a region begin."""
    steps = _gain_steps(row.context, row.item.channel)
    return [step for start in set(row.item.starts) for step in steps.get(start, ())]


def _step_db(step: GainStep) -> float:
    return step.db


@per_session
def _gain_steps(context: SessionContext, channel: Channel) -> dict[float, list[GainStep]]:
    """When, seconds → the steps of clip gain on a channel at that time, 0 dB ones among them."""
    clips = _clips(context, channel)
    apart = context.setting(ADJOINING) / 1000.0
    found: dict[float, list[GainStep]] = {}
    for before, after in pairwise(clips):
        if not abs(after.start_s - before.end_s) <= apart:
            continue
        if is_known(before.gain_db) and is_known(after.gain_db):
            step = after.gain_db - before.gain_db
            evened = step != 0.0 and _evens_out(context, before, after, step)
            found.setdefault(after.start_s, []).append(GainStep(0.0 if evened else abs(step), after.start_s))
    return found


def _evens_out(context: SessionContext, before: Clip, after: Clip, step_db: float) -> bool:
    """True where two adjoining clips are measured to be nearer in level with their gains than without."""
    from math import log10

    heard = context.setting(HEARD_AT_JOIN)
    length = before.end_s - before.start_s
    try:
        one = _power(context, before, max(0.0, length - heard), length)
        other = _power(context, after, 0.0, min(heard, after.end_s - after.start_s))
    except NotKnown:
        return False
    if one <= 0.0 or other <= 0.0:
        return False
    apart = 10.0 * log10(other / one)
    return abs(apart) < abs(apart - step_db)


# --- fades


@FACTS.fact(
    "number",
    "For how long its fade-in holds down what already sounds; 0 where the recording begins as quietly.",
    unit="s",
    how="derived",
    settings=(QUIET_HEAD,),
)
def faded_start_s(row: Row[ClipRegion]) -> FactValue:
    from math import log10

    clip = row.item.clip
    fade = known(clip.fade_in_s)
    length = clip.end_s - clip.start_s
    if fade <= 0.0:
        return FactValue(0.0, "declared", row.subject.where)
    if _crossfaded(row.context, row.item, fade):
        return FactValue(0.0, "declared", row.subject.where, "the clip before plays on under it: a crossfade")
    try:
        head = _power(row.context, clip, 0.0, min(fade, length) / 2.0)
        rest = _power(row.context, clip, min(fade, length) / 2.0, length)
    except NotKnown:
        return FactValue(fade, "declared", row.subject.where)
    if rest > 0.0 and (head <= 0.0 or 10.0 * log10(rest / head) >= row.context.setting(QUIET_HEAD)):
        return FactValue(0.0, "measured", row.subject.where, "the recording begins as quietly")
    return FactValue(fade, "measured", row.subject.where)


def _crossfaded(context: SessionContext, region: ClipRegion, fade_s: float) -> bool:
    """True where the clip before a region's first one sounds on for most of its fade-in."""
    clips, clip = _clips(context, region.channel), region.clip
    at = bisect_left(clips, clip.start_s, key=_start)
    return at > 0 and clips[at - 1].end_s >= clip.start_s + CROSSED * fade_s


CROSSED: Final = 0.8
"""Two clips whose overlap is this share of the fade-in are crossfaded: the export rounds its edges."""


@FACTS.fact("number", "The median of the fade-ins of the other clips of its part; 0 where none is known.", unit="s")
def usual_fade_in_s(row: Row[ClipRegion]) -> float:
    usual, _ = _others(row.context, row.item, _fade_ins(row.context, row.item.channel))
    return usual or 0.0


@per_session
def _fade_ins(context: SessionContext, channel: Channel) -> _Values:
    """The fade-ins of the clips, seconds, where known."""
    clips = _clips(context, channel)
    return _values({id(clip): max(0.0, clip.fade_in_s) for clip in clips if is_known(clip.fade_in_s)})


@FACTS.fact(
    "number", "How long after the first sound of the song it starts, its first repeat.", unit="s", how="derived"
)
def after_song_start_s(row: Row[ClipRegion]) -> float:
    return row.item.starts[0] - _song_start_s(row.context)


@per_session
def _song_start_s(context: SessionContext) -> float:
    """Where the first clip of the session starts, seconds."""
    starts = [clip.start_s for channel in context.session.channels for clip in _clips(context, channel)]
    return min(starts, default=song_end_s(context))
