"""The parts of a bus added sample by sample, where it is loudest: its peak, its true peak, and who makes it.

Nothing but the parts' own files, clip gains, fades, faders, pans, mutes, sends and shown equalizers may lie on the way:
then the sum is what the bus holds, ambience aside. A song is not added up from end to end. The peaks that every file
has in each hundredth of a second say how high the bus can come at most there; the highest such places are added up,
round by round, until no other can come higher, or enough have been.

Fades are taken as straight lines, and an equalizer as the public reading of its settings has it. Where one filters, the
phases of what it passes may make a peak higher than any that is looked for, by some tenths of a decibel.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on, song_end_s
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.dry_paths import DryWay, dry_ways, is_dry, matrices_of, response_of, unknown_processor
from mixlint.analysis.laid_clips import SongStretch, files_of, is_followed, laid_clips, moved
from mixlint.session import Channel, Clip, Unknown, is_known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library

    Floats = NDArray[np.float64]

CELL_S: Final = 0.01
"""The step in which peaks are looked for, seconds: that in which a file's peaks are kept."""

BESIDE: Final = 2
"""The cells on either side of one that are read with it."""

COVERED: Final = 2 * BESIDE + 1

AROUND_S: Final = BESIDE * CELL_S

RING_S: Final = 0.3
"""What is read before it where a filter rings, seconds."""

ROUNDS: Final = (24, 48, 96)
"""How many places are added up in each round: a bound of work, some seconds of a song in all."""

MOST_CELLS: Final = 3000
"""How many cells more are added up to settle whether a bus comes over full scale: half a minute, a bound of work."""

APART: Final = 10
"""Cells no further from each other than this are read in one."""

FULL_SCALE: Final = 1.0
FULL_SCALE_DB: Final = 0.0

MOST_BETWEEN: Final = 3.0
"""No stretch goes so many times higher between its samples than on them: a bound, far over what the filter can do."""

LONGEST_CELLS: Final = 600_000
"""The longest song that is looked through, in cells: a hundred minutes, a bound of work."""


class Share(NamedTuple):
    """What a part has in the highest sample of a bus: its channel, and its share of the sum in percent."""

    channel: str
    percent: float


class BusSum(NamedTuple):
    """The parts of a bus added up, behind its fader.

    Args:
        dbfs: the highest sample that was found, dBFS.
        true_dbtp: the highest true peak that was found, dBTP.
        at_s: where, seconds of the song.
        side: 0 for the left leg, 1 for the right.
        shares: what the parts have in it, the greatest first.
        rest_dbfs: how high the rest of the song can come at most, dBFS; SILENCE_DB where all of it was added up.
    """

    dbfs: float
    true_dbtp: float
    at_s: float
    side: int
    shares: tuple[Share, ...]
    rest_dbfs: float

    @property
    def proven(self) -> bool:
        """No other place can come higher."""
        return self.rest_dbfs <= self.dbfs


class _Found(NamedTuple):
    """The highest so far: its peak and its true peak, 1.0 for full scale, its time in seconds, and its side."""

    peak: float
    between: float
    at_s: float
    side: int


class _Voice(NamedTuple):
    """A part on one way to a bus: its clips, whether it filters, and its matrix (2, 2) where nothing moves it."""

    part: Channel
    clips: tuple[Clip, ...]
    way: DryWay
    filters: bool
    still: Floats | None


@per_session
def bus_sum(context: SessionContext, bus: Channel, to_input: bool = False) -> BusSum | Unknown:
    """The highest peak of a bus by the samples of its parts, behind its fader or, ``to_input``, before its processors.

    Unknown without audio, and where a clip, a gain or a processor on the way of one of its parts is not known.
    """
    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    voices = _voices(context, bus, to_input)
    if isinstance(voices, Unknown):
        return voices
    from mixlint.media.excerpt_comparison import rate_of

    rate = rate_of(context.audio, files_of(clip for voice in voices for clip in voice.clips))
    return rate if isinstance(rate, Unknown) else _highest(context, context.audio, voices, float(rate))


def _voices(context: SessionContext, bus: Channel, to_input: bool) -> list[_Voice] | Unknown:
    """The parts that go through a bus, way by way; Unknown where one of them cannot be added to the sample."""
    import numpy as np

    routing = context.routing
    through = routing.wiring.upstream([bus.id], partial(is_dry, context))
    found: list[_Voice] = []
    for part in context.session.channels:
        if part.id not in through or not is_source(context, part) or not clips_on(part):
            continue
        why = routing.unknown_on_the_path.get(part.id, ())
        if why:
            return Unknown(unknown=why[0], settle="export it again")
        clips = tuple(clips_on(part))
        if not all(map(is_followed, clips)):
            return Unknown(unknown=f"a clip of {context.name(part.id)} cannot be followed", settle="watch its meter")
        ways = dry_ways(context, part, bus)
        if isinstance(ways, Unknown):
            return ways
        for way in (one._replace(to_input=to_input) for one in ways):
            hidden = unknown_processor(context, way)
            if hidden is not None:
                who = f"{hidden[1].name or 'a processor'} on {context.name(hidden[0].id)}"
                return Unknown(unknown=f"{who} may change the peaks", settle="watch the meter of the bus")
            filters = any(channel.inserts for channel in way.strips)
            curve = matrices_of(context, way, np.array([0.0, song_end_s(context)]))
            found.append(_Voice(part, clips, way, filters, curve[0] if curve.shape[0] == 1 else None))
    return found or Unknown(unknown="nothing plays through it")


def _highest(context: SessionContext, audio: Library, voices: Sequence[_Voice], rate: float) -> BusSum | Unknown:
    """Add up the highest places until no other can come higher, or over full scale."""
    import numpy as np

    bounds = _bounds(context, audio, voices)
    if isinstance(bounds, Unknown):
        return bounds
    left = bounds.max(axis=0)
    best = _Found(0.0, 0.0, 0.0, 0)
    for count in ROUNDS:
        order = np.argsort(left)[::-1]
        cells = _chosen(order[left[order] > best.peak][: COVERED * count].tolist(), count)
        found = _added(context, audio, voices, cells, rate, best)
        if isinstance(found, Unknown):
            return found
        best = found
        for cell in cells:
            left[max(0, cell - BESIDE) : cell + BESIDE + 1] = 0.0
        rest = float(left.max(initial=0.0))
        if rest <= best.peak or (count > ROUNDS[0] and rest <= FULL_SCALE):
            break
    # Whether it comes over full scale is settled in what is left, where that is not too much.
    over = np.flatnonzero(left > max(FULL_SCALE, best.peak))
    if best.peak <= FULL_SCALE and 0 < over.size <= MOST_CELLS:
        found = _added(context, audio, voices, over.tolist(), rate, best)
        if isinstance(found, Unknown):
            return found
        best = found
        left[over] = 0.0
    if best.peak <= 0.0:
        return Unknown(unknown="nothing sounds there")
    shares = _shares(context, audio, voices, best, rate)
    if isinstance(shares, Unknown):
        return shares
    rest_db = _db(float(left.max(initial=0.0)))
    return BusSum(round(_db(best.peak), 3), round(_db(best.between), 3), best.at_s, best.side, shares, rest_db)


def _chosen(cells: Sequence[int], most: int) -> list[int]:
    """The first of some cells, up to ``most``, without those that are read with one before."""
    found: list[int] = []
    covered: set[int] = set()
    for cell in cells:
        if cell not in covered and len(found) < most:
            found.append(cell)
            covered.update(range(cell - BESIDE, cell + BESIDE + 1))
    return found


def _bounds(context: SessionContext, audio: Library, voices: Iterable[_Voice]) -> Floats | Unknown:
    """How high each side (2, cells) of a bus can come in each cell of the song: the amplitudes of all its parts."""
    import numpy as np

    from mixlint.signal.octave_bands import CENTRES_HZ

    count = int(np.ceil(song_end_s(context) / CELL_S))
    if count > LONGEST_CELLS:
        return Unknown(unknown="the song is too long to be added up")
    times = np.asarray((np.arange(count) + 0.5) * CELL_S, dtype=np.float64)
    total = np.zeros((2, count))
    for voice in voices:
        peaks = _part_cells(audio, voice, count)
        if isinstance(peaks, Unknown):
            return peaks
        shape = response_of(context, voice.way, CENTRES_HZ, context.routing.rate_hz)
        most = 1.0 if shape is None else float(np.abs(shape).max())
        curve = matrices_of(context, voice.way, times) if voice.still is None else voice.still[None]
        moved = np.abs(curve) * most
        total += np.einsum("tij,jt->it", np.broadcast_to(moved, (count, 2, 2)), peaks)
    return total


def _part_cells(audio: Library, voice: _Voice, count: int) -> Floats | Unknown:
    """The peaks (2, cells) of a part's clips in each cell of the song, its clip gains among them."""
    import numpy as np

    found = np.zeros((2, count))
    for clip in voice.clips:
        assert clip.file is not None
        assert is_known(clip.offset_s)
        assert is_known(clip.gain_db)
        measure = audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return measure
        if not measure.peak.shape[1]:
            continue
        first = max(0, int(clip.start_s / CELL_S))
        last = min(count, int(np.ceil(clip.end_s / CELL_S)))
        starts = clip.offset_s + np.arange(first, last) * CELL_S - clip.start_s
        peak = measure.peak if measure.legs > 1 else np.repeat(measure.peak, 2, axis=0)
        padded = np.pad(peak[:2].astype(np.float64), ((0, 0), (1, 2)))
        at = np.clip((starts / measure.cell_s + 1e-6).astype(int) + 1, 0, padded.shape[1] - 2)
        found[:, first:last] += np.maximum(padded[:, at], padded[:, at + 1]) * 10.0 ** (clip.gain_db / 20.0)
    return found


def _stretches(cells: Sequence[int], before_s: float) -> list[SongStretch]:
    """The stretches of the song to be read for some cells, those that lie close brought together."""
    found: list[list[int]] = []
    for cell in sorted(cells):
        if found and cell - found[-1][1] <= APART:
            found[-1][1] = cell
        else:
            found.append([cell, cell])
    return [
        SongStretch(
            max(0.0, a * CELL_S - AROUND_S - before_s), max(0.0, a * CELL_S - AROUND_S), (b + 1) * CELL_S + AROUND_S
        )
        for a, b in found
    ]


def _added(
    context: SessionContext, audio: Library, voices: Sequence[_Voice], cells: Sequence[int], rate: float, best: _Found
) -> _Found | Unknown:
    """The highest sample of a bus in some cells, or ``best`` where that is higher."""
    import numpy as np

    from mixlint.signal.true_peak import true_peak

    stretches = _stretches(cells, RING_S if any(voice.filters for voice in voices) else 0.0)
    totals = [np.zeros((2, stretch.samples(rate))) for stretch in stretches]
    for voice in voices:
        laid = laid_clips(audio, voice.clips, stretches, rate)
        if isinstance(laid, Unknown):
            return laid
        shapes: Shapes = {}
        for total, stretch, samples in zip(totals, stretches, laid, strict=True):
            if samples is not None:
                total += _on_bus(context, voice, samples, stretch.start_s, rate, shapes)
    for total, stretch in zip(totals, stretches, strict=True):
        judged = total[:, round((stretch.from_s - stretch.start_s) * rate) :]
        if not judged.size:
            continue
        side, at = np.unravel_index(int(np.abs(judged).argmax()), judged.shape)
        peak = float(np.abs(judged[side, at]))
        if peak > best.peak:
            best = _Found(peak, best.between, stretch.from_s + int(at) / rate, int(side))
        if peak * MOST_BETWEEN > best.between:
            between = true_peak(judged, rate, cut_before=stretch.from_s > 0.0, cut_behind=True)
            best = best._replace(between=max(best.between, between, peak))
    return best


def _shares(
    context: SessionContext, audio: Library, voices: Sequence[_Voice], best: _Found, rate: float
) -> tuple[Share, ...] | Unknown:
    """What each part has in the highest sample, the greatest first."""
    stretches = _stretches([int(best.at_s / CELL_S)], RING_S)
    at = round((best.at_s - stretches[0].start_s) * rate)
    values: dict[str, float] = {}
    for voice in voices:
        laid = laid_clips(audio, voice.clips, stretches, rate)
        if isinstance(laid, Unknown):
            return laid
        if laid[0] is not None:
            sample = _on_bus(context, voice, laid[0], stretches[0].start_s, rate, {})[best.side, at]
            values[voice.part.id] = values.get(voice.part.id, 0.0) + float(sample)
    total = sum(values.values())
    return tuple(sorted((Share(one, 100.0 * own / total) for one, own in values.items()), key=lambda s: -s.percent))


Shapes = dict[int, "NDArray[np.complex64] | None"]
"""What the equalizers on a way make of each frequency, by the length of the transform: most stretches have one."""


def _on_bus(
    context: SessionContext, voice: _Voice, samples: Floats, start_s: float, rate: float, shapes: Shapes
) -> Floats:
    """What a part's samples (2, n) from ``start_s`` on are behind the bus's fader, (2, n)."""
    import numpy as np

    from mixlint.signal.deconvolution import fast_length

    count = samples.shape[1]
    if voice.filters and count:
        size = fast_length(2 * count)
        if size not in shapes:
            at_hz = np.asarray(np.fft.rfftfreq(size, 1.0 / rate), dtype=np.float64)
            response = response_of(context, voice.way, at_hz, rate)
            shapes[size] = None if response is None else response.astype(np.complex64)
        shape = shapes[size]
        if shape is not None:  # single precision lies 140 dB over its rounding, and takes half the time
            legs = samples[:1] if np.array_equal(samples[0], samples[1]) else samples  # most files have one leg
            spectra = np.fft.rfft(legs.astype(np.float32), size, axis=1) * shape
            coloured = np.fft.irfft(spectra, size, axis=1)[:, :count].astype(np.float64)
            samples = np.broadcast_to(coloured, (2, count))
    stretch = SongStretch(start_s, start_s, start_s + count / rate)
    times = start_s + np.arange(0, count + 1, max(1, round(0.005 * rate))) / rate
    curve = matrices_of(context, voice.way, times) if voice.still is None else voice.still[None]
    return moved(samples, curve, times, stretch, rate)


def _db(amplitude: float) -> float:
    """An amplitude in dBFS, never under SILENCE_DB."""
    from math import log10

    return max(SILENCE_DB, 20.0 * log10(amplitude)) if amplitude > 0.0 else SILENCE_DB
