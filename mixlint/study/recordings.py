"""What two channels play, side by side: the same file, or two microphones on one performance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.session import Channel, Clip, Unknown, is_known
from mixlint.study.desk import Desk

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.alignment import Alignment, AlignmentFault

SAME_WITHIN_S: Final = 0.04
"""Two plays of one file count as one recording up to this offset: later is an echo (common practice, no source)."""

EXCERPT_S: Final = 20.0
SHORTEST_S: Final = 1.0
MOST_DELAY_S: Final = 0.02
SAME_TAKE: Final = 0.9


@dataclass(frozen=True, slots=True)
class Shared:
    """A stretch that two channels both play, seconds: the song's, and the place in either file."""

    start_s: float
    end_s: float
    one: Clip
    other: Clip

    def offset_s(self, clip: Clip) -> float:
        """The place in the clip's file at which the stretch begins."""
        assert is_known(clip.offset_s)
        return clip.offset_s + (self.start_s - clip.start_s)


def plain_clips(channel: Channel) -> list[Clip]:
    """Clips that play a named file at its own speed from a known place."""
    return [
        c
        for c in channel.clips
        if c.on is not False and c.file is not None and is_known(c.offset_s) and c.speed == 1.0 and c.end_s > c.start_s
    ]


def shared(one: Channel, other: Channel) -> list[Shared]:
    """The stretches in which both play a file."""
    found = []
    for a in plain_clips(one):
        for b in plain_clips(other):
            start, end = max(a.start_s, b.start_s), min(a.end_s, b.end_s)
            if end > start:
                found.append(Shared(start, end, a, b))
    return found


def same_recording(desk: Desk, one: Channel, other: Channel) -> tuple[bool, str] | Unknown:
    """Whether two channels play one and the same recording, and how that shows.

    One file on both, a copy of it to the byte, or with audio two files that agree nearly everywhere.
    """
    if not plain_clips(one) or not plain_clips(other):
        return Unknown(unknown="the clips name no audio file", settle="listen to each of them alone")
    stretches = shared(one, other)
    for stretch in stretches:
        a, b = stretch.one, stretch.other
        lag = stretch.offset_s(a) - stretch.offset_s(b)
        if abs(lag) <= SAME_WITHIN_S and _one_file(desk, a, b):
            return True, "both play one file" if lag == 0.0 else f"both play one file, {abs(1000.0 * lag):.1f} ms apart"
    found = alignment(desk, one, other)
    if isinstance(found, Unknown) or found.correlation is None:
        return False, "they play different files"
    if abs(found.correlation) >= SAME_TAKE and found.delay_s is not None:
        return True, f"two files that agree by {abs(found.correlation):.2f}, {abs(1000.0 * found.delay_s):.1f} ms apart"
    return False, f"two files that agree by {abs(found.correlation):.2f}"


def _one_file(desk: Desk, a: Clip, b: Clip) -> bool:
    if a.file == b.file:
        return True
    if desk.audio is None or a.file is None or b.file is None:
        return False
    first, second = desk.audio.header(a.file), desk.audio.header(b.file)
    if isinstance(first, Unknown) or isinstance(second, Unknown) or first.duration_s != second.duration_s:
        return False
    one, other = desk.audio.digest(a.file), desk.audio.digest(b.file)
    return not isinstance(one, Unknown) and one == other


def why_unaligned(found: Alignment) -> str:
    """Why the delay and the polarity of two recordings cannot be told."""
    reasons: dict[AlignmentFault, str] = {
        "too-short": "the signals share too short a stretch",
        "silent": "one of the two is silent",
        "unlike": "the two have too little in common",
        "no-clear-delay": "the two have no clear delay in common",
        "ambiguous": "several delays fit nearly alike",
    }
    return reasons[found.fault] if found.fault else "the polarity cannot be told"


def alignment(desk: Desk, one: Channel, other: Channel) -> Alignment | Unknown:
    """The delay and polarity of the second channel's files against the first's, over the longest stretch they share."""
    return desk.remembered(f"alignment {one.id} {other.id}", lambda: _alignment(desk, one, other))


def _alignment(desk: Desk, one: Channel, other: Channel) -> Alignment | Unknown:
    from mixlint.signal.alignment import align

    if desk.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio, or listen in mono")
    stretches = shared(one, other)
    longest = max(stretches, key=lambda s: s.end_s - s.start_s, default=None)
    if longest is None or longest.end_s - longest.start_s < SHORTEST_S:
        return Unknown(unknown="they share no stretch of plain audio", settle="listen to both in mono")
    a, b = _samples(desk, longest, longest.one), _samples(desk, longest, longest.other)
    if isinstance(a, Unknown):
        return a
    if isinstance(b, Unknown):
        return b
    if a[1] != b[1]:
        return Unknown(unknown="their files have different sample rates", settle="bring them to one rate")
    return align(a[0], b[0], a[1], MOST_DELAY_S)


def _samples(desk: Desk, stretch: Shared, clip: Clip) -> tuple[NDArray[np.float64], float] | Unknown:
    """The stretch of one clip's file, its legs folded to one, and its sample rate."""
    import numpy as np

    assert desk.audio is not None
    assert clip.file is not None
    header = desk.audio.header(clip.file)
    if isinstance(header, Unknown):
        return header
    length = min(EXCERPT_S, stretch.end_s - stretch.start_s)
    samples = desk.audio.excerpt(clip.file, stretch.offset_s(clip), length)
    if isinstance(samples, Unknown):
        return samples
    return np.asarray(samples, dtype=np.float64).mean(axis=0), float(header.sample_rate_hz)
