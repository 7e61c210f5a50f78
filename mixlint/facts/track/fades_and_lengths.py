"""Fades that are as long as their clip: what was trimmed after its fade was drawn, or faded from end to end."""

from __future__ import annotations

from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Clip, is_known
from mixlint.units import number_text

FILLS: Final = share_setting(
    "fades_and_lengths.fills", 90.0, "A fade over this share of its clip leaves nothing of it."
)
USUAL: Final = share_setting(
    "fades_and_lengths.usual", 50.0, "Where another clip fades over this share of it, the part is made to swell."
)
LEAST_OTHERS: Final = Setting(
    "fades_and_lengths.least_others", 2.0, "", "So many other clips show how a part is faded.", lowest=1.0
)
SETTINGS: Final = (FILLS, USUAL, LEAST_OTHERS)

TRIMMED: Final = 1.2
"""So many times as long as its clip the fade at the very start or end of a part may be; more is a slip."""

SHORTEST_S: Final = 0.3
"""A clip that is shorter than this is a single hit, or a breath: a definition."""


class Fades(NamedTuple):
    """The fades of a clip, seconds, 0 where it has none."""

    into: float
    out: float


def _fades(clip: Clip) -> Fades:
    into, out = (fade if is_known(fade) else 0.0 for fade in (clip.fade_in_s, clip.fade_out_s))
    return Fades(max(0.0, into), max(0.0, out))


class Filled(NamedTuple):
    """A clip of which a fade takes all.

    Args:
        clip: the clip.
        fade_s: the fade, or both together, seconds.
        way: which of them, for a reader.
    """

    clip: Clip
    fade_s: float
    way: str


@per_session
def _filled(context: SessionContext, channel: Channel) -> Filled | None:
    """The one clip of a channel that its fades take up, where no other's do."""
    clips = sorted(audio_clips(channel), key=lambda clip: clip.start_s)
    if len(clips) <= context.setting(LEAST_OTHERS):
        return None
    found = [one for at, clip in enumerate(clips) if (one := _of_clip(context, clips, at)) is not None]
    if len(found) != 1:
        return None
    usual = context.setting(USUAL) / 100.0
    others = (clip for clip in clips if clip is not found[0].clip)
    swells = any(max(_fades(clip)) > usual * (clip.end_s - clip.start_s) for clip in others)
    return None if swells else found[0]


def _of_clip(context: SessionContext, clips: list[Clip], at: int) -> Filled | None:
    clip = clips[at]
    length, fades = clip.end_s - clip.start_s, _fades(clip)
    if length < SHORTEST_S:
        return None
    most = length * context.setting(FILLS) / 100.0
    # The first clip may rise and the last die away for as long as they last, or be trimmed a little in their fade.
    at_an_end = length * TRIMMED
    if fades.out > (at_an_end if at == len(clips) - 1 else most):
        return Filled(clip, fades.out, "a fade-out")
    if fades.into > (at_an_end if at == 0 else most):
        return Filled(clip, fades.into, "a fade-in")
    both = at_an_end if at in (0, len(clips) - 1) else 1.01 * length
    return Filled(clip, sum(fades), "two fades") if sum(fades) > both else None


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "How long the fade of one of its clips is, where it takes up the whole clip and no other's does; 0 without one.",
    unit="s",
    how="declared",
    settings=SETTINGS,
)
def filled_by_fade_s(row: Row[Channel]) -> FactValue:
    found = _filled(row.context, row.item)
    if found is None:
        return FactValue(0.0, "declared", row.subject.where)
    clip = found.clip
    where = moment_text(row.context, clip.start_s)
    length = number_text(clip.end_s - clip.start_s)
    return FactValue(found.fade_s, "declared", where, f"a clip of {length} s with {found.way}")
