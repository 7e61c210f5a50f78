"""At which tempo each part plays, and when voices that sing together begin: told by the rises of their levels."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.performances import CELL_S, heard_parts, rises
from mixlint.analysis.settings import Setting
from mixlint.analysis.shared_looks import first_s
from mixlint.session import Channel, Timeline, Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STEADY: Final = Setting(
    "played_tempo.steady",
    0.6,
    "",
    "A part tells a tempo where its strokes lie on a grid of it by so much: 0 is anywhere, 1 each of them.",
    basis="tried: parts of 16 songs reach 0.4 to 0.99 at the song's tempo, and 0.3 at others",
    lowest=0.4,
    highest=0.95,
)
ALIKE: Final = Setting("played_tempo.alike", 0.4, "%", "Parts within this play at one tempo.", lowest=0.1, highest=2.0)
STROKES: Final = Setting("played_tempo.strokes", 16.0, "", "A part of fewer strokes tells no tempo.", lowest=8.0)
SURE: Final = Setting(
    "played_tempo.sure",
    0.75,
    "",
    "A part is told to play at another tempo than the others where its own strokes lie on its grid by so much.",
    lowest=0.5,
    highest=0.98,
)
TEMPO_SETTINGS: Final = (STEADY, ALIKE, STROKES, SURE)

FREE: Final = frozenset({"speech", "sound-effects", "returns", "room-microphones"})
"""Families that keep no tempo of their own."""

LEAST_TOGETHER: Final = 3
"""So many parts at one tempo are the song's: of two it could not be told who is off."""

EDGE: Final = 0.098
"""At the edge of what is tried a curve may still rise: no tempo is told there."""

STRONG: Final = 0.25
"""Rises that come up to a quarter of the strongest are strokes: what is smaller is the wave itself."""

LONGEST_S: Final = 300.0
"""So much of the song is looked at: a bound of work, and enough for a tempo."""

SLOWEST_BPM: Final = 70.0
FASTEST_BPM: Final = 140.0


class PartTempo(NamedTuple):
    """The tempo of a part.

    Args:
        channel: the part.
        ratio: its tempo relative to the session's.
        steady: how well its strokes lie on its grid, 0 to 1.
    """

    channel: Channel
    ratio: float
    steady: float


class SongTempo(NamedTuple):
    """The tempo that most parts play at.

    Args:
        ratio: relative to the session's, or to the one found where the session has none.
        bpm: in beats a minute; Unknown where the session changes its tempo.
        parts: those that play at it.
        others: those that play at another, each steady at its own and not at this.
    """

    ratio: float
    bpm: float | Unknown
    parts: tuple[PartTempo, ...]
    others: tuple[PartTempo, ...]


@per_session
def _strokes(context: SessionContext, channel: Channel) -> tuple[Floats, Floats]:
    """When a part's level rises, seconds of the song, and how much."""
    import numpy as np

    found = rises(context, channel)
    if isinstance(found, Unknown):
        return np.zeros(0), np.zeros(0)
    rise = found[: int(LONGEST_S / CELL_S)].astype(np.float64)
    rise = rise - float(rise.min(initial=0.0))
    at = np.flatnonzero(rise > STRONG * rise.max(initial=0.0))
    return np.asarray(first_s(context) + at * CELL_S, np.float64), rise[at]


@per_session
def _base(context: SessionContext) -> Timeline | float:
    """What tempos are told against: the session's timeline, or the tempo on which most strokes lie, bpm."""
    import numpy as np

    from mixlint.signal.pulse import pulse

    if isinstance(context.session.timeline, Timeline):
        return context.session.timeline
    tried = np.arange(SLOWEST_BPM, FASTEST_BPM, 0.1) / 60.0
    total = np.zeros(tried.size)
    for channel in heard_parts(context):
        times, weights = _strokes(context, channel)
        if times.size >= context.setting(STROKES):
            first = times < times[0] + 60.0
            total += pulse(times[first], weights[first], tried)
    return 60.0 * float(tried[int(total.argmax())])


@per_session
def song_tempo(context: SessionContext) -> SongTempo | None:
    """The tempo that most parts play at, and who plays at another; None where no two agree on one."""
    import numpy as np

    from mixlint.signal.pulse import pulse, ratios

    if context.audio is None:
        return None
    base = _base(context)
    curves: list[tuple[Channel, Floats, Floats]] = []
    for channel in heard_parts(context):
        times, weights = _strokes(context, channel)
        if times.size < context.setting(STROKES) or context.family(channel.id) in FREE:
            continue
        beats = (
            np.array([base.beat(float(at)) for at in times]) if isinstance(base, Timeline) else (times * base / 60.0)
        )
        tried = ratios(float(beats[-1] - beats[0]))
        curves.append((channel, tried, pulse(beats, weights, tried)))
    found = [
        PartTempo(channel, float(tried[int(curve.argmax())]), float(curve.max())) for channel, tried, curve in curves
    ]
    steady = [one for one in found if one.steady >= context.setting(STEADY)]
    alike = context.setting(ALIKE) / 100.0
    groups = [tuple(other for other in steady if abs(other.ratio - one.ratio) <= alike) for one in steady]
    most = max(groups, key=lambda group: (len(group), -abs(group[0].ratio - 1.0)), default=())
    if len(most) < LEAST_TOGETHER:
        return None
    ratio = float(np.median([one.ratio for one in most]))
    there = {channel.id: float(np.interp(ratio, tried, curve)) for channel, tried, curve in curves}
    others = tuple(one for one in steady if abs(one.ratio - ratio) > alike and there[one.channel.id] < one.steady / 2.0)
    bpm: float | Unknown = Unknown(unknown="the session changes its tempo")
    if not isinstance(base, Timeline):
        bpm = base * ratio
    elif len(base.tempos) == 1:
        bpm = base.tempos[0].bpm * ratio
    return SongTempo(ratio, bpm, most, others)


REACH_S: Final = 0.4
"""Voices are looked for this far apart: what answers comes later."""

AGREE: Final = Setting(
    "voices.agree",
    0.3,
    "",
    "Two voices sing together where the rises of their levels correlate by so much.",
    basis="tried: voices that sing together in 10 songs 0.29 to 0.64",
    lowest=0.2,
    highest=0.9,
)
TIGHT: Final = Setting(
    "voices.tight", 60.0, "ms", "Voices that sing together begin within this. Tried: within 30 ms.", lowest=20.0
)
VOICE_SETTINGS: Final = (AGREE, TIGHT)


class Beside(NamedTuple):
    """One voice beside another.

    Args:
        other: the other.
        late_s: how much later this one sings, seconds.
    """

    other: Channel
    late_s: float


@per_session
def voices_beside(context: SessionContext, channel: Channel) -> tuple[Beside, ...]:
    """The voices that a voice sings together with, and how much later it sings than each."""
    if context.audio is None or context.family(channel.id) != "vocals":
        return ()
    found = []
    for other in heard_parts(context):
        if other.id == channel.id or context.family(other.id) != "vocals":
            continue
        one, two = sorted((channel, other), key=lambda c: context.order[c.id])
        lag = _lag_s(context, one, two)
        if lag is not None:
            found.append(Beside(other, -lag if one is channel else lag))
    return tuple(found)


@per_session
def _lag_s(context: SessionContext, one: Channel, other: Channel) -> float | None:
    """How much later the second of two voices sings; None where they do not sing together."""
    import numpy as np

    first, second = rises(context, one), rises(context, other)
    if isinstance(first, Unknown) or isinstance(second, Unknown):
        return None
    size = min(first.size, second.size)
    a, b = (row[:size].astype(np.float64) for row in (first, second))
    scale = float(np.sqrt((a * a).sum() * (b * b).sum()))
    if scale <= 0.0:
        return None
    reach = round(REACH_S / CELL_S)
    n = 1 << (2 * size).bit_length()
    curve = np.fft.irfft(np.conj(np.fft.rfft(a, n)) * np.fft.rfft(b, n), n) / scale
    curve = np.concatenate((curve[-reach:], curve[: reach + 1]))
    best = int(curve.argmax())
    tight = round(context.setting(TIGHT) / 1000.0 / CELL_S / 2.0)
    together = float(curve[reach - tight : reach + tight + 1].max())
    if curve[best] < context.setting(AGREE):
        return None
    # Where they agree nearly as well at once, the later peak is the metre of the song.
    return 0.0 if together >= 0.5 * curve[best] else (best - reach) * CELL_S


@per_session
def late_voice(context: SessionContext, channel: Channel) -> Beside | None:
    """The voice that one sings after, when it does so beside most of those it sings with; the lead leads."""
    beside = voices_beside(context, channel)
    tight = context.setting(TIGHT) / 1000.0
    late = [one for one in beside if one.late_s >= tight]
    early = [one for one in beside if one.late_s <= -tight]
    lead = context.role(channel.id) == "lead-vocal"
    if len(late) * 2 > len(beside) and not (lead and len(beside) == 1):
        return max(late, key=lambda one: one.late_s)
    if len(early) * 2 > len(beside) and len(beside) > 1:
        return min(early, key=lambda one: one.late_s)
    return None
