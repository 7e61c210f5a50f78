"""The one pass over a file. Whatever the blocks it comes in, the result is the same to the last bit."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, BinaryIO, Final

from mixlint.media.audio import BLOCK_FRAMES, AudioFile
from mixlint.media.gathering import Bends, Bursts, LegPair, Pitches, RestStore, WordLength
from mixlint.media.header import Header
from mixlint.media.measure import BLOCK_S, MARKS, Mark, Measure, decibels, in_decibels, programme_lufs
from mixlint.media.watch import LegWatch, marked
from mixlint.media.weighting import Weighting
from mixlint.media.whole import whole_blocks
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

CELLS: Final = 10
"""Peak cells in an energy block."""

EDGE_S: Final = 0.05
LOUDEST: Final = 1e5
"""Beyond this amplitude (+100 dBFS) a floating-point sample is taken for damage."""


def measure_audio(audio: AudioFile) -> Measure:
    """Read an open file once, from its beginning to its end.

    Raises:
        BrokenFile: decoding stops before the end, or the samples are not those the file was made of.
    """
    return meter(audio.header, whole_blocks(audio))


def measure_source(source: str | os.PathLike[str] | BinaryIO, *, name: str = "") -> Measure:
    """Open and measure a file; see :class:`AudioFile` for arguments and errors."""
    with AudioFile(source, name=name) as audio:
        return measure_audio(audio)


def meter(header: Header, blocks: Iterable[NDArray[np.float32]]) -> Measure:
    """Measure samples that come in blocks (legs, n) of any length."""
    run = _Pass(header)
    for chunk in _even(blocks, header.legs, run.chunk):
        run.feed(chunk)
    return run.result()


def _even(blocks: Iterable[NDArray[np.float32]], legs: int, size: int) -> Iterator[NDArray[np.float32]]:
    """The same samples in chunks of ``size`` but for the last; a chunk is valid until the next is taken."""
    import numpy as np

    buffer = np.empty((legs, size), dtype=np.float32)
    filled = 0
    for block in blocks:
        at = 0
        while at < block.shape[1]:
            take = min(size - filled, block.shape[1] - at)
            buffer[:, filled : filled + take] = block[:, at : at + take]
            filled, at = filled + take, at + take
            if filled == size:
                yield buffer
                filled = 0
    if filled:
        yield buffer[:, :filled]


def mend(samples: NDArray[np.float32]) -> NDArray[np.bool_] | None:
    """Silence, in place, what is no number or lies beyond +100 dBFS; where that was, None for nowhere."""
    import numpy as np

    fine = np.abs(samples) <= LOUDEST  # false for what is no number, too
    if fine.all():
        return None
    samples[~fine] = 0.0
    return ~fine


class _Pass:
    def __init__(self, header: Header) -> None:
        from mixlint.signal.octave_bands import OctaveMeter

        self.header = header
        self.hop = max(1, round(BLOCK_S * header.sample_rate_hz))
        self.chunk = self.hop * max(1, round(min(BLOCK_FRAMES, BLOCK_FRAMES * 4 // header.legs) / self.hop))
        self.frames = 0
        self.bad = 0
        self._cells = 0
        self._bad: list[Mark] = []
        self._watch = [LegWatch(leg, header.sample_rate_hz) for leg in range(header.legs)]
        self._pair = LegPair(header.sample_rate_hz)
        self._rests = RestStore(header.legs)
        self._pitches = Pitches(header.sample_rate_hz)
        self._word = WordLength(header)
        self._bursts = Bursts(header.legs)
        self._bends = Bends(header.legs)
        self._tables: dict[str, list[NDArray[np.float64]]] = {n: [] for n in ("power", "product", "mean", "apart")}
        self._peaks: list[NDArray[np.float32]] = []
        self._edge = max(1, round(EDGE_S * header.sample_rate_hz))
        self._head: NDArray[np.float32] | None = None
        self._tail: NDArray[np.float32] | None = None
        self._first: tuple[float, ...] = (0.0,) * header.legs
        self._weighting = Weighting(header.legs, header.sample_rate_hz, self.hop)
        self._octaves = OctaveMeter(header.legs, header.sample_rate_hz, self.hop)

    def feed(self, chunk: NDArray[np.float32]) -> None:
        import numpy as np

        size = chunk.shape[1]
        if self.header.is_float:
            self._mend(chunk)
        self._word.feed(chunk)
        for leg, samples in zip(self._watch, chunk, strict=True):
            leg.feed(samples)
        if self.frames == 0:
            self._first = tuple(float(value) for value in chunk[:, 0])
        if self._head is None or self._head.shape[1] < self._edge:
            so_far = chunk if self._head is None else np.concatenate((self._head, chunk), axis=1)
            self._head = so_far[:, : self._edge].copy()
        self._tail = (
            chunk[:, -self._edge :].copy()
            if self._tail is None or size >= self._edge
            else np.concatenate((self._tail, chunk), axis=1)[:, -self._edge :]
        )
        self.frames += size
        whole = -(-size // self.hop) * self.hop
        if whole != size:  # the last chunk: its last block is filled up with silence
            chunk = np.pad(chunk, ((0, 0), (0, whole - size)))
        self._weighting.feed(chunk)
        self._octaves.feed(chunk)
        self._table(chunk.reshape(self.header.legs, -1, self.hop))
        powers, peaks = self._tables["power"][-1], self._peaks[-1]
        self._bursts.feed(chunk, peaks, self._cells, self.hop, CELLS)
        self._bends.feed(chunk, self.hop, CELLS)
        self._cells += peaks.shape[1]
        self._rests.feed(chunk, powers, self.hop)
        self._pitches.feed(chunk, powers, self.hop, self.frames - size)
        if self.header.legs == 2:
            self._pair.feed(chunk, powers, self.hop, self.frames - size)

    def _mend(self, chunk: NDArray[np.float32]) -> None:
        import numpy as np

        wrong = mend(chunk)
        if wrong is None:
            return
        self.bad += int(np.count_nonzero(wrong))
        rate = self.header.sample_rate_hz
        for leg, row in enumerate(wrong):
            at = np.flatnonzero(row)[: max(0, MARKS - len(self._bad))]
            self._bad += [Mark("bad", leg, (self.frames + one) / rate, 1 / rate, SILENCE_DB) for one in at.tolist()]

    def _table(self, blocks: NDArray[np.float32]) -> None:
        import numpy as np

        self._tables["power"].append(np.einsum("lbn,lbn->lb", blocks, blocks).astype(np.float64) / self.hop)
        self._tables["mean"].append(blocks.mean(axis=2, dtype=np.float64))
        if self.header.legs == 2:
            self._tables["product"].append(np.einsum("bn,bn->b", *blocks).astype(np.float64) / self.hop)
            apart = blocks[0] - blocks[1]
            self._tables["apart"].append(np.einsum("bn,bn->b", apart, apart).astype(np.float64) / self.hop)
        # A block that does not divide by ten gets cells that differ by one sample, the same in every block.
        starts = np.arange(CELLS) * self.hop // CELLS
        self._peaks.append(np.maximum.reduceat(np.abs(blocks), starts, axis=2).reshape(self.header.legs, -1))

    def result(self) -> Measure:
        import numpy as np

        legs, rate = self.header.legs, self.header.sample_rate_hz
        for leg in self._watch:
            leg.feed(np.zeros(0, np.float32), last=True)
        tables = {
            name: np.concatenate(parts, axis=-1) if parts else np.zeros((legs, 0))
            for name, parts in self._tables.items()
        }
        blocks = tables["power"].shape[1]
        peak = np.concatenate(self._peaks, axis=1) if self._peaks else np.zeros((legs, 0), np.float32)
        energy, cross = self._weighting.result()
        silent = np.zeros((legs, 1), np.float32)
        head, tail = (silent if part is None else part for part in (self._head, self._tail))
        cell_s = self.hop / CELLS / rate
        bands = self._octaves.finish()
        others = self._bad + self._bursts.result(peak, cell_s)
        used_bits = self._word.result()
        counts, marks = marked(self._watch, peak, cell_s, others, used_bits)
        return Measure(
            header=self.header,
            frames=self.frames,
            block_s=self.hop / rate,
            cell_s=cell_s,
            energy=energy,
            cross=cross,
            power=tables["power"],
            product=tables["product"] if legs == 2 and blocks else np.zeros(blocks),
            mean=tables["mean"],
            bands=bands,
            peak=peak,
            sample_peak_db=tuple(decibels(float(row.max(initial=0.0))) for row in peak),
            integrated_lufs=programme_lufs(energy[:, : self.frames // self.hop]),  # BS.1770-5 drops an incomplete block
            head_peak_db=tuple(decibels(float(np.abs(row).max())) for row in head),
            tail_peak_db=tuple(decibels(float(np.abs(row).max())) for row in tail),
            first=self._first,
            last=tuple(float(value) for value in tail[:, -1]),
            apart=tables["apart"] if legs == 2 and blocks else np.zeros(blocks),
            lags=self._pair.result(),
            spectrum=self._octaves.spectrum(),
            course=in_decibels(self._octaves.course()[:, :blocks]),
            lines_hz=(lines := self._octaves.lines()[:, :, :blocks])[0].astype(np.float32),
            lines=in_decibels(lines[1]),
            bends=self._bends.result(),
            pitches=self._pitches.result(),
            rests=self._rests.result(rate),
            used_bits=used_bits,
            marks=marks,
            mark_counts=counts,
            bad_samples=self.bad,
        )
