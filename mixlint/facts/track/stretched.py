"""Clips that are stretched to the tempo, and those among them that keep the speed of another one.

A clip that is stretched plays at the tempo in force over the tempo that it was made at: the *home tempo* of a clip is
the tempo it lies at over its speed, and it is one for all clips of a file that follow the tempo. A clip that keeps its
speed over a change has another home tempo behind it than before. Alone that may be meant, as that of a sound that is
tuned by its speed is; beside another loop that follows the same change it was forgotten.
"""

from __future__ import annotations

from collections import defaultdict
from itertools import combinations
from typing import Final, NamedTuple

from mixlint.analysis.activity import moment_text
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import audio_clips
from mixlint.analysis.settings import Setting, share_setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.session.clip_grid import in_force
from mixlint.session import Channel, Timeline, Unknown, is_known, known
from mixlint.units import few_text, number_text

LEAST_AGREED: Final = Setting(
    "stretched.least_agreed",
    3.0,
    "",
    "So many clips of one file that follow the tempo tell how it is stretched.",
    lowest=2.0,
)
OF_AGREED: Final = share_setting(
    "stretched.of_agreed", 75.0, "They are this share of the clips of the file on the channel."
)
STRETCHED_SETTINGS: Final = (LEAST_AGREED, OF_AGREED)

SAME: Final = 1e-3
"""Speeds and tempos this near, as a share, are one: rounding of the export."""

WHOLE_S: Final = 0.02
"""A clip that ends this near to a whole number of beats behind its start is cut to beats, with its fades: rounding."""


MOST_STATES: Final = 12
"""So many pairs of a tempo and a speed are compared at the most: a bound of work."""


class _Stretch(NamedTuple):
    """A clip of a known speed, at one tempo throughout.

    Args:
        start_s: where it begins, seconds.
        speed: seconds of the file per second of the song.
        bpm: the tempo it lies at.
        on_beats: it lasts a whole number of beats of that tempo.
    """

    start_s: float
    speed: float
    bpm: float
    on_beats: bool

    @property
    def home(self) -> float:
        """The tempo at which its file would play at its own speed."""
        return self.bpm / self.speed


class Kept(NamedTuple):
    """Clips of a channel that keep the speed of another tempo.

    Args:
        number: how many.
        at_s: where the first one begins, seconds.
        text: what they do, and what shows that they should not, for a reader.
    """

    number: int
    at_s: float
    text: str


NOTHING_KEPT: Final = Kept(0, 0.0, "")


def _same(one: float, two: float) -> bool:
    return abs(one / two - 1.0) <= SAME


@per_session
def _stretches(context: SessionContext) -> dict[tuple[str, str], list[_Stretch]] | Unknown:
    """Channel and file → its clips that lie at one tempo each, in order of time; Unknown without a tempo."""
    timeline = known(context.session.timeline)
    found: dict[tuple[str, str], list[_Stretch]] = defaultdict(list)
    for channel in context.session.channels:
        if not is_source(context, channel):
            continue
        for clip in audio_clips(channel):
            if clip.file is None or not is_known(clip.speed) or clip.speed <= 0.0:
                continue
            one = _stretch(timeline, clip.start_s, clip.end_s, clip.speed)
            if one is not None:
                found[channel.id, clip.file].append(one)
    for clips in found.values():
        clips.sort()
    return dict(found)


def _stretch(timeline: Timeline, start_s: float, end_s: float, speed: float) -> _Stretch | None:
    """A clip against the tempo it lies at; None where the tempo changes inside it."""
    begins, ends = timeline.beat(start_s), timeline.beat(end_s)
    tempo = in_force(timeline.tempos, begins)
    if tempo.ramp or any(begins + 0.1 < other.beat < ends - 0.1 for other in timeline.tempos):
        return None
    beats = (end_s - start_s) * tempo.bpm / 60.0
    on_beats = round(beats) > 0 and abs(beats - round(beats)) * 60.0 / tempo.bpm <= WHOLE_S
    return _Stretch(start_s, speed, tempo.bpm, on_beats)


def _follows(clips: list[_Stretch], one: float, two: float) -> bool:
    """True where all clips of a file have one home tempo, and some of them lie at each of two tempos."""
    if not all(_same(clip.home, clips[0].home) for clip in clips):
        return False
    return all(any(_same(clip.bpm, bpm) for clip in clips) for bpm in (one, two))


@per_session
def _kept(context: SessionContext) -> dict[str, Kept] | Unknown:
    """Channel id → its clips that keep the speed of another tempo; Unknown without a tempo."""
    groups = known(_stretches(context))
    found: dict[str, Kept] = {}
    for (channel, file), clips in groups.items():
        kept = _against_its_own(context, clips)
        if not kept.number:
            others = [(at, other) for at, other in groups.items() if at != (channel, file)]
            kept = _against_others(context, clips, others)
        if kept.number > found.get(channel, NOTHING_KEPT).number:
            found[channel] = kept
    return found


def _against_its_own(context: SessionContext, clips: list[_Stretch]) -> Kept:
    """Few clips of a file at their own speed, or at that of another tempo of the song, among many that follow."""
    if all(_same(clip.home, clips[0].home) for clip in clips):
        return NOTHING_KEPT
    home, agreed = 0.0, 0
    for one in {round(clip.home, 2): clip.home for clip in clips}.values():
        number = sum(_same(clip.home, one) for clip in clips)
        home, agreed = max((home, agreed), (one, number), key=lambda at: at[1])
    follow = [clip for clip in clips if _same(clip.home, home)]
    odd = [clip for clip in clips if not _same(clip.home, home)]
    if agreed < context.setting(LEAST_AGREED) or 100.0 * agreed < context.setting(OF_AGREED) * len(clips):
        return NOTHING_KEPT
    tempos = {clip.bpm for clip in clips}
    told = len({clip.bpm for clip in follow}) > 1
    for clip in odd:
        here = clip.bpm / home
        # Half and double the speed are an effect, and so is any speed that no tempo of the song explains.
        meant = not clip.on_beats or not any(_same(clip.speed, bpm / home) for bpm in (home, *tempos))
        shown = told or any(_same(one.bpm, clip.bpm) for one in follow)
        if meant or not shown or any(_same(clip.speed, here * octave) for octave in (0.5, 2.0)):
            return NOTHING_KEPT
    first = odd[0]
    text = (
        f"at {moment_text(context, first.start_s)} it plays at {number_text(100.0 * first.speed, '%')} of its speed, "
        f"and {agreed} other clips of its file are stretched so that {number_text(100.0 * first.bpm / home, '%')} "
        f"would be in time there"
    )
    return Kept(len(odd), first.start_s, text)


def _against_others(
    context: SessionContext, clips: list[_Stretch], others: list[tuple[tuple[str, str], list[_Stretch]]]
) -> Kept:
    """Clips that are stretched alike before and behind a change of tempo that other stretched clips follow."""
    states: dict[tuple[float, float], list[_Stretch]] = defaultdict(list)
    for clip in clips:
        states[clip.bpm, clip.speed].append(clip)
    for before, after in combinations(list(states.values())[:MOST_STATES], 2):
        one, two = before[0], after[0]
        # What plays at its own speed was mostly recorded along the tempo map.
        if _same(one.bpm, two.bpm) or not _same(one.speed, two.speed) or _same(one.speed, 1.0):
            continue
        peers = [(at, other) for at, other in others if _follows(other, one.bpm, two.bpm)]
        # A sound that is tuned by its speed follows no tempo: a loop is cut to beats, or made at the others' tempo.
        cut = all(clip.on_beats for clip in before)
        if not peers or not (cut or any(_same(other[0].home, one.home) for _, other in peers)):
            continue
        names = list(dict.fromkeys(context.name(channel) for (channel, _), _ in peers))
        text = (
            f"it keeps {number_text(100.0 * one.speed, '%')} of its speed where the tempo goes from "
            f"{number_text(one.bpm)} to {number_text(two.bpm, 'bpm')}, which {few_text(names, joint=', ')} "
            f"{'follows' if len(names) == 1 else 'follow'}"
        )
        return Kept(len(after), two.start_s, text)
    return NOTHING_KEPT


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "How many of its stretched clips keep the speed of another tempo, while others of the file, or other stretched "
    "clips, follow the tempo; 0 where none does.",
    how="derived",
    settings=STRETCHED_SETTINGS,
)
def off_stretch(row: Row[Channel]) -> FactValue:
    stretched = any(is_known(clip.speed) and not _same(clip.speed, 1.0) for clip in audio_clips(row.item))
    kept = known(_kept(row.context)).get(row.subject.id, NOTHING_KEPT) if stretched else NOTHING_KEPT
    where = moment_text(row.context, kept.at_s) if kept.number else ""
    return FactValue(kept.number, "derived", where, kept.text)
