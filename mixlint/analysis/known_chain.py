"""What a part's known processors make of its own sound, one after another, sample by sample.

Known are equalizers whose bands are shown, compressors, limiters and gates whose threshold, ratio or range and times
are, plain gains, and meters. An equalizer is read as the W3C Audio EQ Cookbook has its settings; a compressor as
Giannoulis, Massberg & Reiss (JAES 60(6), 2012) have it: peaks of both legs together, gain computer, smooth branching
detector. Its knee and its detector are not in an export: with one that evens out the level, or takes its mean, before
the curve, the reduction of strings, voices and drums at 2:1 to 8:1 lay within half a decibel and a quarter of itself in
19 cases of 20. The hold of a gate is not in one either; none is taken.

Of a long part a minute is run, in short stretches that lie evenly over its sounding time.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil, inf
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on, merged, sounding_clips
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.inserts import active_bands, is_keyed, processor_name
from mixlint.analysis.laid_clips import SongStretch, even_stretches, files_of, is_followed, laid_clips
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.naming.setting_reading import listed_db
from mixlint.routing import acting_inserts
from mixlint.session import Channel, Dynamics, Insert, Unknown, is_known
from mixlint.session.control import settings_move

if TYPE_CHECKING:
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

LOOKED_AT: Final = 300
"""So many frequencies of an equalizer are looked at for the highest, thirty an octave."""

AHEAD_S: Final = 1.0
RELEASES: Final = 3.0
MOST_AHEAD_S: Final = 5.0
"""What is run before each stretch and not counted, so that filters and compressors are as they are in the song: a
second, or so many times the longest release."""

AT_ONCE_S: Final = 36.0
"""So much is read in one pass: a bound of memory, some 30 MB."""

RING_S: Final = 0.5
"""What rings longer than this in a filter has died away by far."""

CONTROL_HZ: Final = 12_000.0
"""About how often a compressor looks. Against every sample of 48 kHz its reduction came out within 0.15 dB on plucked
strings, voices and drums, at 1/50 to 30/300 ms."""

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

BY_EAR: Final = "compare it with its bypass by ear, at one loudness"

HELD_S: Final = 0.01
SHUT_DB: Final = 80.0
"""How long a gate looks back, and what one with a ratio and without a range takes at the most: definitions."""

QUIETEST: Final = 1e-10

COMPRESSORS: Final = frozenset({"compressor", "limiter"})
EQUALIZERS: Final = frozenset({"equalizer", "filter"})
LIMITERS: Final = frozenset({"limiter"})
PASSING: Final = frozenset({"analyser"})
PASS_BANDS: Final = frozenset({"high-pass", "low-pass"})
GATES: Final = frozenset({"gate", "expander"})


class Taken(NamedTuple):
    """What a compressor takes away, value by value.

    Args:
        db: (n,) taken away, 0 or more.
        level_db: (n,) the larger of both legs, dBFS, with the processor's input gain.
        step_s: from value to value.
    """

    db: Floats
    level_db: Floats
    step_s: float

    def after(self, seconds: float) -> Taken:
        """The same without its first seconds."""
        first = round(seconds / self.step_s)
        return Taken(self.db[first:], self.level_db[first:], self.step_s)


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


def why_unknown(context: SessionContext, channel: Channel, place: int, insert: Insert) -> str:
    """Why what a processor does to a signal is not known, for a reader; empty where it is."""
    kind = context.kinds[channel.id].get(place)
    if settings_move(channel, place):
        return "is automated"
    if insert.equalizer is not None and insert.dynamics is not None:
        return "holds an equalizer and a compressor, whose order is not in the export"
    if insert.equalizer is not None:
        if insert.opaque and kind not in (None, *EQUALIZERS):
            return "hides its settings"
        gains = (insert.equalizer.input_gain_db, insert.equalizer.output_gain_db)
        bands = [value for band in active_bands(insert) for value in (band.freq_hz, band.gain_db)]
        return "" if all(map(is_known, (*gains, *bands))) else "hides a setting"
    if insert.dynamics is not None and not insert.opaque:
        return _why_unknown_dynamics(kind, insert, insert.dynamics)
    if kind in PASSING or (insert.kind == "utility" and listed_db(insert, "trim-gain") is not None):
        return ""
    return "hides its settings"


def _why_unknown_dynamics(kind: str | None, insert: Insert, own: Dynamics) -> str:
    if kind not in (*COMPRESSORS, *GATES):
        return "is no compressor of the whole sound, as far as is told"
    if is_keyed(insert):
        return "is keyed by another channel"
    if own.auto_makeup is True:
        return "makes up for what it takes by itself"
    needed = [own.threshold_db, own.release_ms, own.input_gain_db, own.output_gain_db]
    if kind not in LIMITERS:
        needed.append(own.attack_ms)
    if kind in COMPRESSORS - LIMITERS or (kind in GATES and isinstance(own.range_db, Unknown)):
        needed.append(own.ratio)
    missing = next((one.unknown for one in needed if isinstance(one, Unknown)), None)
    return "" if missing is None else f"is not shown in full ({missing})"


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


def most_gain_db(insert: Insert) -> float:
    """The most that a known processor can add to whatever passes it, dB: its gains, and the highest of its boosts."""
    import numpy as np

    from mixlint.routing.strips import ASSUMED_RATE_HZ, filter_response, insert_gain

    if insert.equalizer is not None:
        at_hz = np.asarray(np.geomspace(20.0, 20_000.0, LOOKED_AT), dtype=np.float64)
        most = float(np.abs(filter_response(insert, at_hz, ASSUMED_RATE_HZ)).max())
    else:
        most = insert_gain(insert)
    share = insert.wet / 100.0 if is_known(insert.wet) else 1.0
    return float(20.0 * np.log10(max(share * most + 1.0 - share, QUIETEST)))


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
    stages = _run(context.audio, part, known, kinds, stretches, float(rate), legs) if known else ()
    return stages if isinstance(stages, Unknown) else ChainRun(stages, stopped, seconds, whole)


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
    part: Channel,
    known: dict[int, Insert],
    kinds: dict[int, str],
    stretches: list[SongStretch],
    rate: float,
    legs: int,
) -> tuple[Stage, ...] | Unknown:
    """Some processors of a part run on stretches of it."""
    import numpy as np

    energies: list[list[Floats]] = [[] for _ in range(len(known) + 1)]
    taken: dict[int, list[Taken]] = {}
    for batch in _batches(stretches):
        laid = laid_clips(audio, clips_on(part), batch, rate)
        if isinstance(laid, Unknown):
            return laid
        for stretch, both in zip(batch, laid, strict=True):
            if both is None:
                continue
            samples = both.mean(axis=0, keepdims=True) if legs == 1 else both
            ahead = stretch.from_s - stretch.start_s
            energies[0].append(gating_blocks(samples, rate, ahead))
            for number, (place, insert) in enumerate(known.items()):
                samples, takes = run_through(insert, kinds.get(place), samples, rate)
                if takes is not None:
                    taken.setdefault(place, []).append(takes.after(ahead))
                energies[number + 1].append(gating_blocks(samples, rate, ahead))
    if not energies[0]:
        return Unknown(unknown="nothing of it can be read")
    whole = [np.concatenate(ones) for ones in energies]
    return tuple(
        Stage(place, insert, whole[n], whole[n + 1], joined(taken.get(place, [])), assumed_of(insert))
        for n, (place, insert) in enumerate(known.items())
    )


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


def assumed_of(insert: Insert, *, but_knee: bool = False) -> str:
    """What is taken of a processor for lack of anything in the export; ``but_knee`` leaves a compressor's knee out."""
    own = insert.dynamics
    if own is not None:
        hard = isinstance(own.knee_db, Unknown) and not but_knee
        no_makeup = isinstance(own.auto_makeup, Unknown)
        return " and ".join(
            text for text, there in (("a hard knee", hard), ("no automatic make-up", no_makeup)) if there
        )
    bands = active_bands(insert)
    steep = any(isinstance(band.slope_db_per_oct, Unknown) for band in bands if band.kind in PASS_BANDS)
    wide = any(isinstance(band.q, Unknown) for band in bands if band.kind not in PASS_BANDS)
    return " and ".join(text for text, there in (("12 dB per octave", steep), ("a Q of 0.71", wide)) if there)


def gating_blocks(samples: Floats, rate: float, ahead_s: float) -> Floats:
    """The K-weighted energy (blocks,) of samples (legs, n) in gating blocks, all legs, from ``ahead_s`` on."""
    from mixlint.signal.loudness import EnergyMeter, sliding_mean, weighted_sum

    meter = EnergyMeter(samples.shape[0], rate, BLOCK_S)
    meter.feed(samples)
    hops = meter.finish() / (BLOCK_S * rate)
    return sliding_mean(weighted_sum(hops), GATING)[round(ahead_s / BLOCK_S) :]


# --- one processor


def run_through(insert: Insert, kind: str | None, samples: Floats, rate: float) -> tuple[Floats, Taken | None]:
    """What a known processor of a kind makes of samples (legs, n), and what a compressor takes away."""
    import numpy as np

    taken = None
    if insert.equalizer is not None:
        out = _filtered(insert, samples, rate)
    elif insert.dynamics is not None:
        out, taken = _controlled(insert.dynamics, samples, rate, gates=kind in GATES)
        taken = None if kind in GATES else taken
    else:
        from mixlint.routing.strips import insert_gain

        out = samples * insert_gain(insert)
    share = insert.wet / 100.0 if is_known(insert.wet) else 1.0
    return (out if share == 1.0 else np.asarray(share * out + (1.0 - share) * samples)), taken


def _filtered(insert: Insert, samples: Floats, rate: float) -> Floats:
    import numpy as np

    from mixlint.routing.strips import filter_response
    from mixlint.signal.deconvolution import fast_length

    count = samples.shape[1]
    size = fast_length(count + round(RING_S * rate))
    shape = filter_response(insert, np.asarray(np.fft.rfftfreq(size, 1.0 / rate), dtype=np.float64), rate)
    return np.asarray(np.fft.irfft(np.fft.rfft(samples, size, axis=1) * shape, size, axis=1)[:, :count])


def _controlled(own: Dynamics, samples: Floats, rate: float, *, gates: bool) -> tuple[Floats, Taken]:
    """Samples (legs, n) behind a compressor, limiter or gate, and what it takes away."""
    import numpy as np

    from mixlint.signal.dynamics import expansion_db, gain_change_db, smoothed

    assert is_known(own.threshold_db)
    before = own.input_gain_db if is_known(own.input_gain_db) else 0.0
    after = own.output_gain_db if is_known(own.output_gain_db) else 0.0
    ratio = max(1.0, own.ratio) if is_known(own.ratio) else inf
    knee = max(0.0, own.knee_db) if is_known(own.knee_db) else 0.0
    attack, release = ((one / 1000.0 if is_known(one) else 0.0) for one in (own.attack_ms, own.release_ms))
    every = max(1, round(rate / CONTROL_HZ))
    level = 20.0 * np.log10(np.maximum(np.abs(samples[:, ::every]).max(axis=0), QUIETEST)) + before
    step = every / rate
    if gates:
        # It opens with its attack and shuts with its release, and looks at the highest of some milliseconds, so that it
        # does not shut between two waves.
        count = max(1, round(HELD_S / step))
        held = np.lib.stride_tricks.sliding_window_view(np.pad(level, (count - 1, 0), mode="edge"), count).max(axis=1)
        most = abs(own.range_db) if is_known(own.range_db) else SHUT_DB
        taken = smoothed(expansion_db(held, own.threshold_db, ratio, most), release, attack, step)
    else:
        taken = smoothed(-gain_change_db(level, own.threshold_db, ratio, knee), attack, release, step)
    gain = 10.0 ** ((before + after - taken) / 20.0)
    at = np.arange(samples.shape[1])
    return samples * np.interp(at, at[::every], gain), Taken(taken, level, step)


# --- what comes of it


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
