"""Microphones of one performance against each other: does one of them end before, or open before, all the others?

What was recorded together is cut together: its clips begin and end at the same moments on every channel. The one edge
that lies elsewhere was dragged, and lets something out, or something in, that the others do not.
"""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import moment_text, span_text
from mixlint.analysis.audibility import is_audible
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips, origin_s
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import is_aside
from mixlint.session import Channel, is_known

EDGES_AGREE: Final = Setting(
    "performance.edges_agree", 0.05, "s", "Edges of clips no farther apart lie at one moment.", lowest=0.001
)
LEAST_AGREE: Final = Setting(
    "performance.least_microphones", 3.0, "", "So many other microphones that end together show one that does not.",
    lowest=2.0,
)  # fmt: skip
LEAST_SHORT: Final = Setting(
    "performance.least_short", 0.7, "s", "A microphone that ends so much before all the others was cut.", lowest=0.1
)
SHORT_SETTINGS: Final = (EDGES_AGREE, LEAST_AGREE, LEAST_SHORT)

LEAST_TOGETHER: Final = Setting(
    "performance.least_together", 5.0, "", "So many other parts that begin together show one that does not.",
    lowest=2.0,
)  # fmt: skip
BEGIN_TOGETHER: Final = Setting(
    "performance.begin_together", 0.2, "s", "Parts that begin within so much of each other begin together.", lowest=0.0
)
LEAST_OPEN: Final = Setting(
    "performance.least_open", 2.0, "s", "A part that begins so much before all others and before the song's first "
    "marker lets through what came before it.", lowest=0.1,
)  # fmt: skip
NEAR_MARKER: Final = Setting(
    "performance.near_marker", 1.0, "s", "Parts that begin no farther from a marker begin at it.", lowest=0.0
)
OPEN_SETTINGS: Final = (LEAST_TOGETHER, BEGIN_TOGETHER, LEAST_OPEN, NEAR_MARKER)

HEAR_THE_KIT: Final = frozenset({"overheads", "drum-room"})
"""Roles that only a microphone in front of a kit has: without one the drums may come from a machine."""

TRIMMED: Final = frozenset({"toms", "percussion", "sound-effects"})
"""Roles of which each channel is trimmed to its own hits, however the others are cut."""

ONE_SOUND: Final = frozenset({"drums", "strings", "winds", "guitars", "keys"})
"""Families of which several channels that are cut alike are microphones of one performance; voices end on own words."""

EARLIER_MEANT: Final = frozenset({"audience", "room", "main-pair", "sound-effects", "speech", "backing-track", "synth"})
"""Roles that may sound before the song does: the hall, an announcement, a noise that leads into it."""


@per_session
def _clip_edges(context: SessionContext) -> dict[str, tuple[tuple[float, float], ...]]:
    """Id of an audible part → where its audio clips begin and end, in order; parts without any are left out."""
    found = {}
    for channel in context.session.channels:
        if is_source(context, channel) and is_audible(context, channel):
            clips = sorted((clip.start_s, clip.end_s) for clip in audio_clips(channel))
            if clips:
                found[channel.id] = tuple(clips)
    return found


def _cut_alike(one: tuple[tuple[float, float], ...], other: tuple[tuple[float, float], ...], within_s: float) -> bool:
    """True for two parts of several clips of which all edges agree, the last end aside."""
    if len(one) != len(other) or len(one) < 2:  # one clip alone says nothing
        return False
    mine = [edge for clip in one for edge in clip][:-1]
    theirs = [edge for clip in other for edge in clip][:-1]
    return all(abs(a - b) <= within_s for a, b in zip(mine, theirs, strict=True))


@per_session
def short_of_the_others(context: SessionContext, channel: Channel) -> tuple[float, str]:
    """By how much a microphone ends before all others of its performance, seconds, and where; 0 where it does not.

    Its performance is a kit that is recorded by a microphone in front of it, where the last clips begin together, or
    several channels of one family that are cut alike throughout. All others have to end together.
    """
    edges, within = _clip_edges(context), context.setting(EDGES_AGREE)
    own, role, family = edges.get(channel.id), context.role(channel.id), context.family(channel.id)
    if own is None or role in TRIMMED or family not in ONE_SOUND:
        return 0.0, ""
    kin = [one for one in edges if one != channel.id and context.family(one) == family]
    kin = [one for one in kin if context.role(one) not in TRIMMED]
    if family == "drums" and {role, *(context.role(one) for one in kin)} & HEAR_THE_KIT:
        # A microphone that hears the whole kit ends with it, however its last clip begins.
        with_it = [one for one in kin if role in HEAR_THE_KIT or abs(edges[one][-1][0] - own[-1][0]) <= within]
    else:
        with_it = [one for one in kin if _cut_alike(edges[one], own, within)]
    ends = sorted(edges[one][-1][1] for one in with_it)
    if len(ends) < context.setting(LEAST_AGREE) or ends[-1] - ends[0] > 2.0 * within:
        return 0.0, ""
    early = ends[0] - own[-1][1]
    if early < context.setting(LEAST_SHORT):
        return 0.0, ""
    return early, f"at {moment_text(context, own[-1][1])}"


@per_session
def open_before_the_song(context: SessionContext) -> tuple[str, float, str] | None:
    """The one part whose first clip is open before the song: its id, for how long, seconds, and when; None without one.

    The others begin together at the first marker of the song, or near it, and it begins well before both, with a clip
    that runs on into the song. An intro that one plays alone has a marker where it begins.
    """
    starts = sorted((clips[0][0], one) for one, clips in _clip_edges(context).items())
    words = context.house.vocabulary
    # "Count-off (cut)" is a count: what stands in brackets says what became of it.
    marks = [m.time_s for m in context.session.markers if not is_aside(m.name.partition("(")[0], words)]
    least = int(context.setting(LEAST_TOGETHER))
    if len(starts) <= least or not marks:
        return None
    (own, part), first, last = starts[0], starts[1][0], starts[least][0]
    together = last - first <= context.setting(BEGIN_TOGETHER)
    at_a_marker = min(abs(first - mark) for mark in marks) <= context.setting(NEAR_MARKER)
    if not together or not at_a_marker or context.role(part) in EARLIER_MEANT:
        return None
    before = _clip_edges(context)[part][0][1] <= first
    if min(first, *marks) - own < (LEAST_ALONE_S if before else context.setting(LEAST_OPEN)):
        return None
    if before and not _heads_its_take(context, part):
        return None
    return part, first - own, span_text(context, own, first)


def _heads_its_take(context: SessionContext, part: str) -> bool:
    """True where the first clip of a part is the beginning of the recording that its next one goes on with.

    What lies at the head of a take, before the first note, is its announcement, a count or talk.
    """
    clips = sorted(audio_clips(context.channels[part]), key=lambda clip: clip.start_s)
    if len(clips) < LEAST_CLIPS or not all(is_known(clip.offset_s) for clip in clips[:2]):
        return False
    same = clips[0].file is not None and clips[0].file == clips[1].file
    return same and abs(origin_s(clips[0]) - origin_s(clips[1])) <= context.setting(EDGES_AGREE)


LEAST_ALONE_S: Final = 0.5
"""A clip of its own before the song begins so long before it: a definition."""
LEAST_CLIPS: Final = 3
"""A part of fewer clips may begin with a sound before the song: a definition."""


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "How long before all other microphones of its performance, which end together, it ends; 0 where it does not.",
    unit="s",
    how="derived",
    settings=SHORT_SETTINGS,
)
def ends_short_s(row: Row[Channel]) -> FactValue:
    early, text = short_of_the_others(row.context, row.item)
    return FactValue(early, "derived", text or row.subject.where, text)


@FACTS.fact(
    "number",
    "How long before all other parts, which begin together with the song, its first clip opens; 0 where it does not.",
    unit="s",
    how="derived",
    settings=OPEN_SETTINGS,
)
def opens_before_song_s(row: Row[Channel]) -> FactValue:
    found = open_before_the_song(row.context)
    if found is None or found[0] != row.subject.id:
        return FactValue(0.0, "derived", row.subject.where)
    return FactValue(found[1], "derived", found[2], found[2])
