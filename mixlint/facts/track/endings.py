"""How a part ends: whether its last clip is cut off while its recording goes on and the others ring out."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import groups_on_the_path
from mixlint.analysis.media_use import audio_clips, duration_s, is_active_clip, media_of
from mixlint.analysis.partners import partners
from mixlint.analysis.settings import Setting, share_setting
from mixlint.analysis.song_end import LEAST_PARTS, runs_on_alone
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import FADER, Channel, Clip, control_of, is_known
from mixlint.units import clock_text, few_text

LEAST_LEFT: Final = Setting(
    "endings.least_left", 1.0, "s", "A recording that goes on for so long behind its last clip was cut off.", lowest=0.0
)
NO_FADE: Final = Setting("endings.no_fade", 10.0, "ms", "A fade-out up to this is there for the click alone.")
ROOM_FADE: Final = Setting("endings.room_fade", 300.0, "ms", "A room that ends within less is cut off.")
HABIT: Final = share_setting(
    "endings.habit", 60.0, "Where this share of the other parts fades out or rings to the end, a cut stands out."
)
FADED: Final = Setting("endings.faded", 100.0, "ms", "From here on a fade-out lets a sound die away.")
ENDING_SETTINGS: Final = (LEAST_LEFT, NO_FADE, ROOM_FADE, HABIT, FADED)

ROOMS: Final = frozenset({"main-pair", "room", "audience"})
"""Roles of microphones that hear the room die away."""

SHORT: Final = frozenset({"percussion", "sound-effects", "hi-hat", "kick", "snare", "toms", "drums", "lead-vocal",
                          "vocal", "vocal-double", "backing-vocals", "speech"})  # fmt: skip
"""Roles whose last sound is short, or is trimmed to its last word."""


SUNG: Final = frozenset({"lead-vocal", "vocal", "vocal-double", "backing-vocals", "speech"})
"""Of these not even a partner that goes on longer shows a cut: each is trimmed to its own last word."""


class Ending(NamedTuple):
    """How the last clip of a part ends.

    Args:
        clip: that clip.
        fade_s: its fade-out; None where the export gives none.
        left_s: how much of its recording lies behind it; None where that is not known.
    """

    clip: Clip
    fade_s: float | None
    left_s: float | None


@per_session
def _ending(context: SessionContext, channel: Channel) -> Ending | None:
    """How a part's last audio clip ends; None without one."""
    clips = audio_clips(channel)
    if not clips:
        return None
    last = max(clips, key=lambda c: c.end_s)
    fade = last.fade_out_s if is_known(last.fade_out_s) else None
    media = media_of(context, last.file) if last.file is not None else None
    whole = duration_s(context, media) if media is not None else None
    left = None
    if whole is not None and is_known(whole) and is_known(last.offset_s) and is_known(last.speed):
        left = whole - last.offset_s - (last.end_s - last.start_s) * last.speed
    return Ending(last, fade, left)


LEAST_LATER: Final = 3
"""So many others that ring on longer show that a part stops short: fewer may be the arrangement. A definition."""

DOWN_DB: Final = -30.0
"""A fader that automation has brought down to this by the end has faded the part out: a definition."""


def _faded_by_automation(context: SessionContext, channel: Channel, at_s: float) -> bool:
    """True where a fader on the path of a part, its own or that of the mix bus among them, is down at its end."""
    import numpy as np

    mix_bus = context.routing.wiring.mix_bus
    path = [channel.id, *groups_on_the_path(context, channel.id), *([mix_bus] if isinstance(mix_bus, str) else [])]
    for one in path:
        fader = control_of(context.channels[one], FADER)
        if fader.moves and float(fader.at(np.array([at_s]))[0]) <= DOWN_DB:
            return True
    return False


class CutOff(NamedTuple):
    """A part whose end is cut off.

    Args:
        left_s: how much of its recording lies behind the cut, seconds; 0 where it is none.
        text: where, and what tells, for a reader.
    """

    left_s: float
    text: str


@per_session
def cut_off(context: SessionContext, channel: Channel) -> CutOff:
    """Whether a part's last clip is cut off.

    It is where it ends without a fade while its recording goes on for a while, and where either its partner by name or
    several parts go on and end later, or nearly all other parts let their last sound die away; a room is where it ends
    within a moment.
    """
    whole = CutOff(0.0, "")
    own, role = _ending(context, channel), context.role(channel.id)
    if own is None or own.fade_s is None or own.left_s is None or own.left_s < context.setting(LEAST_LEFT):
        return whole
    if _faded_by_automation(context, channel, own.clip.end_s):
        return whole
    fade_ms, where = 1000.0 * own.fade_s, moment_text(context, own.clip.end_s)
    if role in ROOMS and fade_ms < context.setting(ROOM_FADE):
        longer = [
            c for c in channel.clips if is_known(c.fade_out_s) and 1000.0 * c.fade_out_s >= context.setting(ROOM_FADE)
        ]
        return whole if longer else CutOff(own.left_s, f"at {where}")
    partner = partners(context).get(channel.id)
    if fade_ms > context.setting(NO_FADE) or (role in SHORT and (partner is None or role in SUNG)):
        return whole
    after_s = own.clip.end_s + context.setting(LEAST_LEFT)
    ends = _endings(context)
    if partner is not None and partner.id in ends and ends[partner.id].clip.end_s > after_s:
        return CutOff(own.left_s, f"at {where}, where {context.name(partner.id)} rings on")
    lasting = _lasting(context)
    if role in SHORT or len(lasting.ends_s) - bisect_right(lasting.ends_s, after_s) < LEAST_LATER:
        return whole
    # Among the others the part itself does not count, and its partner does, whatever its role.
    many, faded = len(lasting.ends_s), lasting.faded
    for one, count in ((channel, -1), (partner, 1)):
        end = ends.get(one.id) if one is not None else None
        if one is not None and end is not None and (context.role(one.id) in SHORT) is (count > 0):
            many, faded = many + count, faded + count * _dies_away(context, end)
    if 100.0 * faded < context.setting(HABIT) * many:
        return whole
    later = [one for one, end in ends.items() if end.clip.end_s > after_s and context.role(one) not in SHORT]
    return CutOff(own.left_s, f"at {where}, where {few_text([context.name(one) for one in later])} ring on")


@per_session
def _endings(context: SessionContext) -> dict[str, Ending]:
    """Ids of the heard parts, in desk order, with their endings."""
    found = {}
    for channel in context.session.channels:
        if is_source(context, channel) and is_heard(context, channel):
            end = _ending(context, channel)
            if end is not None:
                found[channel.id] = end
    return found


class _Lasting(NamedTuple):
    """The endings of the parts whose last sound lasts: when they are, seconds, in order, and how many die away."""

    ends_s: list[float]
    faded: int


@per_session
def _lasting(context: SessionContext) -> _Lasting:
    found = [end for one, end in _endings(context).items() if context.role(one) not in SHORT]
    return _Lasting(sorted(end.clip.end_s for end in found), sum(_dies_away(context, end) for end in found))


def _dies_away(context: SessionContext, end: Ending) -> bool:
    return end.fade_s is not None and 1000.0 * end.fade_s >= context.setting(FADED)


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "How much of its recording lies behind its last clip, where that is cut off: without a fade, while others ring on "
    "or fade out; 0 where it is not.",
    unit="s",
    how="derived",
    settings=ENDING_SETTINGS,
)
def cut_off_s(row: Row[Channel]) -> FactValue:
    found = cut_off(row.context, row.item)
    return FactValue(found.left_s, "derived", row.subject.where, found.text)


@FACTS.fact(
    "number",
    "By how much its last clip runs past the marker at the end of the song, where all other parts keep to it; 0 "
    "otherwise.",
    unit="s",
    how="derived",
    settings=(LEAST_PARTS,),
)
def past_end_marker_s(row: Row[Channel]) -> FactValue:
    past = runs_on_alone(row.context).get(row.subject.id, 0.0)
    last = max((clip.end_s for clip in row.item.clips if clip.on is not False), default=0.0)
    return FactValue(past, "derived", row.subject.where, clock_text(last) if past else "")


BARE_MS: Final = Setting("edges.bare", 0.5, "ms", "A fade up to this is none.", lowest=0.0)
MOST_FADED: Final = share_setting(
    "edges.most_faded", 90.0, "Where this share of the session's clip edges is faded, a bare one stands out."
)
LEAST_EDGES: Final = Setting("edges.least", 20.0, "", "So many edges show how a session is edited.", lowest=4.0)
WITHIN_FILE: Final = Setting(
    "edges.within_file", 0.2, "s", "An edge this far inside its recording cuts into sound; files begin and end still.",
    lowest=0.0,
)  # fmt: skip
EDGE_SETTINGS: Final = (BARE_MS, MOST_FADED, LEAST_EDGES, WITHIN_FILE)


class Edge(NamedTuple):
    """One edge of a clip: when, seconds, whether it is faded, and whether it lies inside its recording."""

    at_s: float
    faded: bool
    inside: bool


@per_session
def _edges(context: SessionContext, channel: Channel) -> tuple[Edge, ...]:
    """The edges of a channel's audio clips of which the fades are known, in order; where clips meet there is none."""
    bare, within = context.setting(BARE_MS) / 1000.0, context.setting(WITHIN_FILE)
    clips = sorted((c for c in audio_clips(channel) if c.file is not None), key=lambda c: c.start_s)
    starts, ends = [c.start_s for c in clips], sorted(c.end_s for c in clips)
    found = []
    for clip in clips:
        media = media_of(context, clip.file) if clip.file is not None else None
        whole = duration_s(context, media) if media is not None else None
        for fade, at_s, begins in ((clip.fade_in_s, clip.start_s, True), (clip.fade_out_s, clip.end_s, False)):
            if not is_known(fade) or not is_known(clip.offset_s) or not is_known(clip.speed):
                continue
            meets = (
                bisect_right(starts, at_s) - bisect_left(ends, at_s) > 1
            )  # of the clips that cover it one is its own
            played = clip.offset_s + (clip.end_s - clip.start_s) * clip.speed
            left = clip.offset_s if begins else (whole - played if whole is not None and is_known(whole) else 0.0)
            if not meets:
                found.append(Edge(at_s, abs(fade) > bare, left >= within))
    return tuple(found)


@per_session
def _edited_with_fades(context: SessionContext) -> bool:
    """True where nearly all clip edges of the song's parts are faded."""
    edges = [edge for c in context.session.channels if is_source(context, c) for edge in _edges(context, c)]
    faded = sum(edge.faded for edge in edges)
    return len(edges) >= context.setting(LEAST_EDGES) and 100.0 * faded >= context.setting(MOST_FADED) * len(edges)


@FACTS.fact(
    "list",
    "Where its clips start or stop without a fade inside their recordings, in a session in which nearly all are faded.",
    how="derived",
    settings=EDGE_SETTINGS,
)
def bare_edges(row: Row[Channel]) -> tuple[str, ...]:
    if not _edited_with_fades(row.context):
        return ()
    bare = [edge for edge in _edges(row.context, row.item) if not edge.faded and edge.inside]
    return tuple(moment_text(row.context, edge.at_s) for edge in bare)


@FACTS.fact(
    "switch",
    "The last of its ends is one of these, while all its clips before it die away in long fades.",
    how="derived",
    settings=EDGE_SETTINGS,
)
def last_end_unlike_its_own(row: Row[Channel]) -> bool:
    if not row.need("bare_edges").value:
        return False
    clips = sorted(audio_clips(row.item), key=lambda clip: clip.end_s)
    bare = {edge.at_s for edge in _edges(row.context, row.item) if not edge.faded and edge.inside}
    fades = [clip.fade_out_s for clip in clips[:-1]]
    return len(fades) > 0 and clips[-1].end_s in bare and all(is_known(f) and abs(f) >= LONG_FADE_S for f in fades)


LONG_FADE_S: Final = 0.5
"""A fade so long is no edge but an ending: a definition."""


@FACTS.fact(
    "switch",
    "One of these follows a short hole: a join that has come open.",
    how="derived",
    settings=EDGE_SETTINGS,
)
def join_open(row: Row[Channel]) -> bool:
    if not row.need("bare_edges").value:
        return False
    bare = {edge.at_s for edge in _edges(row.context, row.item) if not edge.faded and edge.inside}
    ends = [c.end_s for c in row.item.clips if is_active_clip(row.item, c)]
    return any(0.02 < start - end < LONGEST_HOLE_S for start in bare for end in ends)


LONGEST_HOLE_S: Final = 0.8
"""A rest is longer than a join that came open: a definition."""
