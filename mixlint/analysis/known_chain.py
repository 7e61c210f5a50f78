"""What a part's known processors make of its own sound, one after another (:mod:`mixlint.analysis.known_processor`).

Of a long part a minute is run, in short stretches that lie evenly over its sounding time.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil, inf
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on, merged, sounding_clips
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import processor_name
from mixlint.analysis.known_processor import BY_EAR, Taken, assumed_of, run_through, why_unknown, worked_by
from mixlint.analysis.laid_clips import SongStretch, even_stretches, files_of, is_followed, laid_clips
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.sound_memory import remembered
from mixlint.routing import acting_inserts
from mixlint.session import Channel, Clip, Insert, Unknown, is_known

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library

    Floats = NDArray[np.float64]

MOST_S: Final = 60.0
"""How much of a part is run, seconds: a bound of work."""

STRETCH_S: Final = 2.5
"""How long each stretch of a longer part is: many short ones tell more than a few long ones."""

LONGEST_S: Final = 20.0
"""No stretch is longer: a bound of memory."""

AHEAD_S: Final = 1.0
RELEASES: Final = 3.0
MOST_AHEAD_S: Final = 5.0
"""What is run before each stretch and not counted, so that filters and compressors are as they are in the song: a
second, or so many times the longest release."""

AT_ONCE_S: Final = 36.0
"""So much is read in one pass: a bound of memory, some 30 MB."""

UNTOLD_DB: Final = 0.5
UNTOLD_SHARE: Final = 0.25
"""How far another detector may lie from this one: so many decibels, and such a share of the reduction."""

FILTER_LU: Final = 0.1
SAMPLED_LU: Final = 0.3
"""How far a loudness may be off by what filters differ in near half the sample rate, and where a part is not run whole:
of two dozen voices, strings and drums of five minutes whose phrases differed by up to 18 dB, 0.28 LU at most."""

BLOCK_S: Final = 0.1
GATING: Final = 4
"""Tenths of a second in a gating block (ITU-R BS.1770-5)."""


class Stage(NamedTuple):
    """One processor run.

    Args:
        place: its place on the channel, from 0.
        insert: the processor.
        before, after: (blocks,) K-weighted energy of all legs of gating blocks, what goes in and what comes out.
        taken: of a compressor or limiter.
        assumed: what was taken for lack of anything in the export, for a reader; empty for nothing.
    """

    place: int
    insert: Insert
    before: Floats
    after: Floats
    taken: Taken | None
    assumed: str

    def louder_lu(self) -> float | Unknown:
        """How much louder the part comes out of it than it goes in, LU."""
        return louder_lu(self.before, self.after)


class ChainRun(NamedTuple):
    """The processors of a part, run in their order as far as they are known.

    Args:
        stages: those that were run.
        stopped: why the others were not; None where all were.
        seconds: how much of the part was run.
        whole: all of the part was.
    """

    stages: tuple[Stage, ...]
    stopped: Unknown | None
    seconds: float
    whole: bool

    def louder_lu(self) -> float | Unknown:
        """How much louder the part comes out of all its processors than it went in, LU; Unknown where one is not."""
        if self.stopped is not None:
            return self.stopped
        return louder_lu(self.stages[0].before, self.stages[-1].after) if self.stages else 0.0

    def error_lu(self) -> float:
        """How far that may be off, LU: by another detector of each compressor, and by what was not run."""
        if not self.stages:
            return 0.0
        off = FILTER_LU + (0.0 if self.whole else SAMPLED_LU)
        for one in self.stages:
            louder, own = one.louder_lu(), one.insert.dynamics
            if own is not None and not isinstance(louder, Unknown):
                gains = sum(gain for gain in (own.input_gain_db, own.output_gain_db) if is_known(gain))
                off += UNTOLD_DB + UNTOLD_SHARE * max(0.0, gains - louder)
        return off

    def stage(self, place: int) -> Stage | Unknown:
        """The processor at a place of the channel, from 0; Unknown where it was not run."""
        for one in self.stages:
            if one.place == place:
                return one
        return self.stopped or Unknown(unknown="it is switched off")


def known_inserts(context: SessionContext, channel: Channel) -> tuple[dict[int, Insert], Unknown | None]:
    """The processors acting on a channel up to the first that is not known, by place, and why that one is not."""
    known: dict[int, Insert] = {}
    for place, insert in acting_inserts(channel).items():
        why = why_unknown(context, channel, place, insert)
        if why:
            return known, Unknown(unknown=f"{processor_name(insert)} {why}", settle=BY_EAR)
        known[place] = insert
    return known, None


def why_unread(context: SessionContext, part: Channel) -> Unknown | None:
    """Why the clips of a part cannot be laid on the song; None where they can."""
    clips = clips_on(part)
    if context.audio is None:
        return NOT_OPENED
    if not clips:
        return Unknown(unknown="no audio clip plays on it")
    if all(map(is_followed, clips)):
        return None
    return Unknown(unknown="not every clip names its file, its place there and its gain", settle="export it again")


@per_session
def chain_run(context: SessionContext, part: Channel) -> ChainRun | Unknown:
    """A part's processors run on its own sound.

    Unknown on a bus, without audio, and where a clip cannot be laid on the song.
    """
    if not is_source(context, part):
        return Unknown(unknown="it works on a sum of parts", settle=BY_EAR)
    why, clips = why_unread(context, part), clips_on(part)
    if why is not None or context.audio is None:
        return why or NOT_OPENED
    from mixlint.media.excerpt_comparison import rate_of

    rate = rate_of(context.audio, files_of(clips))
    if isinstance(rate, Unknown):
        return rate
    known, stopped = known_inserts(context, part)
    stretches, whole = _stretches(sounding_clips(part), _ahead_s(known))
    seconds = sum(one.end_s - one.from_s for one in stretches)
    legs = context.routing.legs[part.id]
    kinds = context.kinds[part.id]
    steps = [(insert, kinds.get(place)) for place, insert in known.items()]
    if not steps:
        return ChainRun((), stopped, seconds, whole)
    audio, at_hz = context.audio, float(rate)
    ran = remembered(
        context,
        "a chain run",
        [part],
        (at_hz, legs, tuple(stretches), *(worked_by(*step) for step in steps)),
        lambda: _run(audio, clips, steps, stretches, at_hz, legs),
    )
    if isinstance(ran, Unknown):
        return ran
    energies, taken = ran
    stages = tuple(
        Stage(place, insert, energies[n], energies[n + 1], taken[n], assumed_of(insert))
        for n, (place, insert) in enumerate(known.items())
    )
    return ChainRun(stages, stopped, seconds, whole)


def _ahead_s(known: dict[int, Insert]) -> float:
    """How much is run before each stretch."""
    releases = [one.dynamics.release_ms for one in known.values() if one.dynamics is not None]
    longest = max((one for one in releases if is_known(one)), default=0.0)
    return max(AHEAD_S, min(MOST_AHEAD_S, RELEASES * longest / 1000.0))


def _stretches(spans: list[tuple[float, float]], ahead_s: float) -> tuple[list[SongStretch], bool]:
    """What is run of a part that sounds in some spans, and whether that is all of it."""
    sounding = merged(spans)
    total = sum(end - start for start, end in sounding)
    if total <= MOST_S:
        near = merged([(start, end + ahead_s) for start, end in sounding])
        return [piece for start, end in near for piece in _pieces(start, end - ahead_s, ahead_s)], True
    return even_stretches(sounding, int(MOST_S / STRETCH_S), STRETCH_S, ahead_s), False


def _pieces(start_s: float, end_s: float, ahead_s: float) -> list[SongStretch]:
    """A span cut into pieces that may be held at one time."""
    count = max(1, ceil((end_s - start_s) / LONGEST_S))
    edges = [start_s + number * (end_s - start_s) / count for number in range(count + 1)]
    return [SongStretch(max(0.0, a - ahead_s), a, b) for a, b in pairwise(edges)]


def _run(
    audio: Library,
    clips: Sequence[Clip],
    steps: Sequence[tuple[Insert, str | None]],
    stretches: list[SongStretch],
    rate: float,
    legs: int,
) -> tuple[tuple[Floats, ...], tuple[Taken | None, ...]] | Unknown:
    """Some processors of a part, each with its kind, run on stretches of it.

    Returns:
        the energies (blocks,) of gating blocks before them all and behind each, and what each takes away.
    """
    import numpy as np

    energies: list[list[Floats]] = [[] for _ in range(len(steps) + 1)]
    taken: list[list[Taken]] = [[] for _ in steps]
    for batch in _batches(stretches):
        laid = laid_clips(audio, clips, batch, rate)
        if isinstance(laid, Unknown):
            return laid
        for stretch, both in zip(batch, laid, strict=True):
            if both is None:
                continue
            samples = both.mean(axis=0, keepdims=True) if legs == 1 else both
            ahead = stretch.from_s - stretch.start_s
            energies[0].append(gating_blocks(samples, rate, ahead))
            for number, (insert, kind) in enumerate(steps):
                samples, takes = run_through(insert, kind, samples, rate)
                if takes is not None:
                    taken[number].append(takes.after(ahead))
                energies[number + 1].append(gating_blocks(samples, rate, ahead))
    if not energies[0]:
        return Unknown(unknown="nothing of it can be read")
    return tuple(map(np.concatenate, energies)), tuple(map(joined, taken))


def _batches(stretches: list[SongStretch]) -> list[list[SongStretch]]:
    """The stretches, as many in one pass over a file as may be held at one time."""
    found: list[list[SongStretch]] = []
    held = inf
    for one in stretches:
        held += one.end_s - one.start_s
        if held > AT_ONCE_S:
            found.append([])
            held = one.end_s - one.start_s
        found[-1].append(one)
    return found


def joined(ones: list[Taken]) -> Taken | None:
    """What is taken away in one stretch after another; None where nothing is."""
    import numpy as np

    if not ones:
        return None
    return Taken(
        np.concatenate([one.db for one in ones]), np.concatenate([one.level_db for one in ones]), ones[0].step_s
    )


def gating_blocks(samples: Floats, rate: float, ahead_s: float) -> Floats:
    """The K-weighted energy (blocks,) of samples (legs, n) in gating blocks, all legs, from ``ahead_s`` on."""
    import numpy as np

    from mixlint.signal.loudness import EnergyMeter, sliding_mean, weighted_sum

    meter = EnergyMeter(samples.shape[0], rate, BLOCK_S)
    meter.feed(samples.astype(np.float32))  # 140 dB over its rounding, in half the time
    hops = meter.finish() / (BLOCK_S * rate)
    return sliding_mean(weighted_sum(hops), GATING)[round(ahead_s / BLOCK_S) :]


def louder_lu(before: Floats, after: Floats) -> float | Unknown:
    """How much louder what comes out is than what goes in, LU, over the gating blocks in which the latter counts.

    Those are the blocks that pass both gates of ITU-R BS.1770-5 before the processors, the same for both sides.
    """
    import numpy as np

    from mixlint.signal.loudness import passes

    passed = passes(before)
    if not passed.any():
        return Unknown(unknown="nothing of it is loud enough to have a loudness")
    if not after[passed].any():
        return Unknown(unknown="nothing comes out of it")
    return float(10.0 * np.log10(after[passed].mean() / before[passed].mean()))
