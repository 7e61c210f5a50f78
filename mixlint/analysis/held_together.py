"""What two channels have in common by their sound: one recording, one performance, strokes alone, or nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.settings import Setting, share_setting
from mixlint.analysis.shared_looks import LOOK_S, first_s, levels, looks_at, read_at, shared_s
from mixlint.analysis.sound_memory import remembered
from mixlint.session import Channel, Unknown, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.common_sound import Common, Look

    Floats = NDArray[np.float64]

SHORTEST_STRETCH: Final = Setting(
    "recordings.shortest_stretch", 1.0, "s", "Two recordings that share less than this are not compared.", lowest=1.0
)
MOST_DELAY: Final = Setting(
    "recordings.most_delay", 100.0, "ms", "The longest delay between two recordings that is looked for.",
    lowest=5.0, highest=250.0,
)  # fmt: skip
LEAST_AGREEMENT: Final = Setting(
    "recordings.least_agreement",
    0.96,
    "",
    "Least mean coherence, with the delay taken out, at which two files are taken for one recording: processing that "
    "keeps every stroke leaves at least as much, two microphones in a room do not.",
    lowest=0.5,
    highest=1.0,
)
LEAST_IN_STEP: Final = share_setting(
    "recordings.least_in_step",
    60.0,
    "Two recordings that agree at one delay in this share of the seconds compared are of one performance.",
)
LEAST_COPIED: Final = share_setting(
    "recordings.least_copied",
    20.0,
    "Where two recordings agree as copies in this share of the seconds compared, a part of one was copied.",
)
STROKES_ALIKE: Final = Setting(
    "recordings.strokes_alike",
    0.75,
    "",
    "From this correlation of their strokes on, to the millisecond, two recordings may be one performance; two takes "
    "by one player stay under it.",
    lowest=0.1,
    highest=1.0,
)
COMPARED: Final = (SHORTEST_STRETCH, MOST_DELAY, LEAST_AGREEMENT, LEAST_IN_STEP, LEAST_COPIED, STROKES_ALIKE)

LOOKS: Final = 20
"""How many seconds of two parts are compared at most: a bound of work."""

STRETCH_S: Final = 6.0
"""How long the stretch is whose strokes are compared under a map of time: a bound of work."""

WORTH_WAVES: Final = 0.5
"""Strokes that agree less than this are of two performances, and their waves are not compared: a bound of work. Copies
of plucked strings and of voices that were tuned by their speed come to 0.6 to 0.75, two takes to 0.4 at most."""

GLANCES: Final = 7
"""So many of these seconds are compared first, and the others only where they leave it open: a bound of work."""

NOTHING: Final = 0.05
"""Where the glances agree less than this at their best delay, and no two of them have one in common, nothing does."""

LEAST_CENTS: Final = 0.2
"""A speed nearer to that of the other is the same one, at which the waves have been compared: a definition."""

LEAST_STRENGTH: Final = 0.1
LEAST_ALIKE: Final = 0.15
"""Two that agree less than this at their best delay share a key and a rhythm, and no air."""

LEAST_LOOKS: Final = 3
"""No verdict on fewer seconds than this: a chance delay can be shared by two."""

Sound = Literal["copy", "copy-in-part", "copy-at-another-speed", "one-performance", "same-strokes", "two-takes"]


class Held(NamedTuple):
    """What two channels have in common.

    Args:
        sound: what they are to each other.
        found: what was measured.
        looks_s: when the seconds began that were compared, seconds of the song.
        cents: by how much the second one is tuned, where it is a copy at another speed.
        alike: how far their strokes agree to the millisecond, where that was asked.
    """

    sound: Sound
    found: Common
    looks_s: tuple[float, ...]
    cents: float = 0.0
    alike: float = 0.0


@per_session
def held_together(context: SessionContext, one: Channel, other: Channel) -> Held | Unknown:
    """What two channels have in common by their sound, up to the longest delay looked for."""
    common, looks_s = known(common_of(context, one, other))
    sound = by_waves(context, common)
    if sound is not None:
        return Held(sound, common, looks_s)
    alike, cents, agreement = known(strokes_of(context, one, other))
    if agreement >= context.setting(LEAST_AGREEMENT) and abs(cents) >= LEAST_CENTS:
        return Held("copy-at-another-speed", common, looks_s, cents, alike)
    if alike >= context.setting(STROKES_ALIKE) or partly(common):
        return Held("same-strokes", common, looks_s, 0.0, alike)
    return Held("two-takes", common, looks_s, 0.0, alike)


def partly(common: Common) -> bool:
    """True where too many seconds agree at one delay for chance, and too few to tell what the two are."""
    alike = common.strength >= LEAST_STRENGTH and common.agreement >= LEAST_ALIKE
    return alike and sum(common.together) > LEAST_LOOKS and common.share >= 0.3


def by_waves(context: SessionContext, common: Common) -> Sound | None:
    """What two channels are to each other where their waves alone tell it."""
    together = sum(common.together)
    copied = common.agreement >= context.setting(LEAST_AGREEMENT)
    alike = common.strength >= LEAST_STRENGTH and common.agreement >= LEAST_ALIKE
    in_step = 100.0 * common.share >= context.setting(LEAST_IN_STEP) and alike
    short = len(common.together) < LEAST_LOOKS and common.share == 1.0
    if in_step and (together >= LEAST_LOOKS or short):
        return "copy" if copied else "one-performance"
    if together >= LEAST_LOOKS and copied and 100.0 * common.share >= context.setting(LEAST_COPIED):
        return "copy-in-part"
    return None


@per_session
def common_of(context: SessionContext, one: Channel, other: Channel) -> tuple[Common, tuple[float, ...]] | Unknown:
    """What two channels have in common in the seconds in which both sound most."""
    if context.audio is None:
        return Unknown(unknown=NOT_OPENED.unknown, settle="review it with its audio, or listen in mono")
    shortest_s, reach_s = context.setting(SHORTEST_STRETCH), context.setting(MOST_DELAY) / 1000.0
    return remembered(
        context,
        "what two have in common",
        [one, other],
        (first_s(context), shortest_s, reach_s),
        lambda: _common_of(context, one, other, shortest_s, reach_s),
    )


def _common_of(
    context: SessionContext, one: Channel, other: Channel, shortest_s: float, reach_s: float
) -> tuple[Common, tuple[float, ...]] | Unknown:
    from mixlint.signal.common_sound import common

    if shared_s(context, one, other) < shortest_s:
        return Unknown(unknown="they share no stretch of plain audio", settle="listen to both in mono")
    starts = known(looks_at(context, one, other, LOOKS))
    if not starts:
        return Unknown(unknown="they share no second of plain audio in which both sound", settle="listen to both")
    if len(starts) > 2 * GLANCES:
        looks, rate = read_looks(context, one, other, starts[:: len(starts) // GLANCES], LOOK_S)
        found = common(looks, rate, reach_s)
        if found is not None and found.strength < NOTHING and sum(found.together) <= 1:
            return found, starts  # unrelated: the other seconds are spared
    looks, rate = read_looks(context, one, other, starts, LOOK_S)
    found = common(looks, rate, reach_s)
    if found is None:
        return Unknown(unknown="one of the two is silent", settle="listen to both")
    return found, starts


def read_looks(
    context: SessionContext, one: Channel, other: Channel, starts: tuple[float, ...], seconds: float
) -> tuple[list[Look], float]:
    """Both channels at some moments of the song, and their sample rate in Hz.

    Raises:
        NotKnown: a file cannot be read, or their sample rates differ.
    """
    from mixlint.signal.common_sound import Look

    first, rate = read_at(context, one, starts, seconds)
    second, other_rate = read_at(context, other, starts, seconds)
    if rate != other_rate:
        known(Unknown(unknown="their files have different sample rates", settle="bring them to one rate"))
    return [
        Look(at, a, b) for at, a, b in zip(starts, first, second, strict=True) if a is not None and b is not None
    ], rate


@per_session
def strokes_of(context: SessionContext, one: Channel, other: Channel) -> tuple[float, float, float] | Unknown:
    """How far the strokes of two channels agree under a map of time, the cents of it, and how well the waves do then.

    Two stretches are read: the first in which both sound, where a copy at another speed has not run far off, and the
    loudest.
    """
    return remembered(
        context, "how strokes agree", [one, other], (first_s(context),), lambda: _strokes_of(context, one, other)
    )


def _strokes_of(context: SessionContext, one: Channel, other: Channel) -> tuple[float, float, float]:
    import numpy as np

    from mixlint.signal.strokes import same_at_another_speed, strokes

    best = (0.0, 0.0, 0.0)
    for start in _stretches(context, one, other):
        looks, rate = read_looks(context, one, other, (start,), STRETCH_S)
        for look in looks:
            if not (np.any(look.one) and np.any(look.other)):
                continue
            found = strokes(look.one, look.other, rate)
            if found.alike < WORTH_WAVES:
                best = max(best, (found.alike, 0.0, 0.0))
                continue
            agreement, cents = same_at_another_speed(look.one, look.other, rate, found)
            if agreement >= best[2]:
                best = (found.alike, cents, agreement)
    return best


def _stretches(context: SessionContext, one: Channel, other: Channel) -> tuple[float, ...]:
    """Where the first and the loudest stretch begin in which both sound, seconds of the song."""
    import numpy as np

    from mixlint.analysis.shared_looks import QUIETEST, STEP_S

    first, second = known(levels(context, one)), known(levels(context, other))
    size = min(first.size, second.size)
    both = np.sqrt(first[:size] * second[:size])
    sounding = np.flatnonzero(both > max(QUIETEST, 1e-3 * float(both.max(initial=0.0))))
    if sounding.size == 0:
        return ()
    width = min(size, round(STRETCH_S / STEP_S))
    running = np.concatenate(([0.0], np.cumsum(both)))
    loudest = int(np.argmax(running[width:] - running[:-width]))
    begin = first_s(context)
    return tuple(begin + place * STEP_S for place in dict.fromkeys((int(sounding[0]), loudest)))
