"""Seconds of the song in which two channels both sound, read from their files: what is needed to hold them together.

Where to look is chosen from the energy blocks that every measure holds, so that little is read: of the song in equal
parts the loudest second of each.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import plain_clips
from mixlint.session import Channel, Clip, Unknown, is_known, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

STEP_S: Final = 0.1
LOOK_S: Final = 1.0
SNAP: Final = 5
"""Looks begin on a grid of so many steps, so that what was read for one pair serves another: a bound of work."""

LONGEST_S: Final = 1800.0
"""So much of the song is looked at from its first clip on: a bound of work."""

QUIET_DB: Final = 10.0
"""A look that lies further under the loudest is left out: no setting, it decides no verdict."""

QUIETEST: Final = 1e-9
"""Mean square (−90 dBFS) under which nothing sounds."""


@per_session
def first_s(context: SessionContext) -> float:
    """Where the first clip of the session begins, seconds."""
    return min((clip.start_s for c in context.session.channels for clip in plain_clips(c)), default=0.0)


@per_session
def levels(context: SessionContext, channel: Channel) -> Floats | Unknown:
    """(T,) the mean square of what a channel's files hold at each step of the song; 0 where none plays.

    Unknown where the audio is not open or a file cannot be measured.
    """
    import numpy as np

    assert context.audio is not None
    begin = first_s(context)
    clips = plain_clips(channel)
    end = min(max((clip.end_s for clip in clips), default=begin), begin + LONGEST_S)
    out = np.zeros(max(0, int((end - begin) / STEP_S)))
    for clip in clips:
        assert clip.file is not None
        measure = known(context.audio.measure(clip.file))
        first, last = int(np.ceil((clip.start_s - begin) / STEP_S)), int((min(clip.end_s, end) - begin) / STEP_S)
        if last <= first:
            continue
        offset = known(clip.offset_s) + begin + first * STEP_S - clip.start_s
        edges = offset + np.arange(last - first + 1) * STEP_S
        power = measure.power_at(edges).mean(axis=0)
        out[first:last] = np.maximum(out[first:last], power)
    return out


def shared_s(context: SessionContext, one: Channel, other: Channel) -> float:
    """For how long both channels play plain audio, seconds.

    Raises:
        NotKnown: a file cannot be measured.
    """
    import numpy as np

    first, second = known(levels(context, one)), known(levels(context, other))
    size = min(first.size, second.size)
    return float(np.count_nonzero((first[:size] > 0.0) & (second[:size] > 0.0))) * STEP_S


def looks_at(context: SessionContext, one: Channel, other: Channel, count: int) -> tuple[float, ...] | Unknown:
    """When, in seconds of the song, both channels sound: of ``count`` equal parts the loudest second of each.

    Those much quieter than the loudest are left out, where enough are left.
    """
    import numpy as np

    first, second = known(levels(context, one)), known(levels(context, other))
    size = min(first.size, second.size)
    width = round(LOOK_S / STEP_S)
    if size < width:
        return ()
    sums = [np.convolve(row[:size], np.ones(width), "valid") / width for row in (first, second)]
    both = np.sqrt(sums[0] * sums[1])
    both[(sums[0] < QUIETEST) | (sums[1] < QUIETEST)] = 0.0
    both = both * _unbroken(context, one, both.size) * _unbroken(context, other, both.size)
    places = np.arange(0, both.size, SNAP if both.size > 4 * SNAP * count else 1)
    places = places[both[places] > 0.0]
    if places.size == 0:
        return ()
    chosen: list[int] = []
    for part in np.array_split(places, min(count, max(1, places.size))):
        free = part[part >= chosen[-1] + width] if chosen else part
        if free.size:
            chosen.append(int(free[np.argmax(both[free])]))
    top = max(both[place] for place in chosen)
    loud = [place for place in chosen if both[place] >= top * 10.0 ** (-QUIET_DB / 10.0)]
    begin = first_s(context)
    return tuple(begin + place * STEP_S for place in loud)


@per_session
def _unbroken(context: SessionContext, channel: Channel, size: int) -> NDArray[np.bool_]:
    """(size,) True for the looks that lie within one clip of the channel."""
    import numpy as np

    begin = first_s(context)
    starts = begin + np.arange(size) * STEP_S
    edges = np.array(sorted({edge for clip in plain_clips(channel) for edge in (clip.start_s, clip.end_s)}))
    here = np.searchsorted(edges, starts + 1e-6, side="right")
    there = np.searchsorted(edges, starts + LOOK_S - 1e-6, side="right")
    return np.asarray(here == there)


def _clip_at(channel: Channel, at_s: float) -> Clip | None:
    return next((c for c in plain_clips(channel) if c.start_s - 1e-6 <= at_s < c.end_s), None)


def legs_at(
    context: SessionContext, channel: Channel, starts_s: tuple[float, ...], seconds: float
) -> tuple[list[Floats | None], float]:
    """What a channel plays at moments of the song, leg by leg.

    Returns:
        samples (legs, n) for each moment, None where no clip plays there; and their sample rate in Hz.

    Raises:
        NotKnown: a file cannot be read, or files of several sample rates play.
    """
    import numpy as np

    assert context.audio is not None
    wanted: dict[str, list[tuple[int, float]]] = {}
    for place, at in enumerate(starts_s):
        clip = _clip_at(channel, at)
        if clip is not None and clip.file is not None and is_known(clip.offset_s):
            wanted.setdefault(clip.file, []).append((place, clip.offset_s + at - clip.start_s))
    found: list[Floats | None] = [None] * len(starts_s)
    rates = set()
    for file, places in wanted.items():
        rates.add(known(context.audio.header(file)).sample_rate_hz)
        read = known(context.audio.excerpts(file, [(at, seconds) for _, at in places]))
        for (place, _), samples in zip(places, read, strict=True):
            found[place] = np.asarray(samples, dtype=np.float64)
    if len(rates) > 1:
        known(Unknown(unknown="their files have different sample rates", settle="bring them to one rate"))
    return found, float(rates.pop()) if rates else 0.0


def read_at(
    context: SessionContext, channel: Channel, starts_s: tuple[float, ...], seconds: float
) -> tuple[list[Floats | None], float]:
    """The same with the legs folded to one: samples (n,) for each moment.

    A file of two legs that are turned over against each other, which would fold to nothing, is read by its first.
    """
    found, rate = legs_at(context, channel, starts_s, seconds)
    return [None if one is None else folded(one) for one in found], rate


def folded(samples: Floats) -> Floats:
    """Legs (legs, n) as one (n,): their mean, or the first where they are turned over against each other."""
    import numpy as np

    if samples.shape[0] == 1:
        only: Floats = samples[0]
        return only
    mean = np.asarray(samples.mean(axis=0))
    power = np.einsum("ln,ln->l", samples, samples)
    if float(np.einsum("n,n->", mean, mean)) < 0.1 * float(power.mean()):
        loudest: Floats = samples[int(np.argmax(power))]
        return loudest
    return mean
