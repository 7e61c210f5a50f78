"""What the one pass gathers beside its tables: quiet stretches, how two legs go together, the bits that are used."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.media.header import Header
from mixlint.media.measure import MARKS, Mark, RestLevels, decibels, in_decibels
from mixlint.session import Unknown
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

REST_BLOCKS: Final = 3
"""A rest is looked at in stretches of so many blocks, a third of a second: 3 Hz from line to line, and short enough for
the breath between two phrases."""

RESTS: Final = 8
"""So many of the quietest stretches are kept, whatever the length of the file."""

EVEN: Final = 2.5
"""The blocks of a rest are as loud as each other within 4 dB: what decays is a note."""

ALIKE: Final = 2.5
"""Rests that are louder than the quietest by more than 4 dB are music that was played softly."""


class RestStore:
    """Keeps the quietest even stretches of a file."""

    def __init__(self, legs: int) -> None:
        self._legs = legs
        self._kept: list[tuple[float, NDArray[np.float32]]] = []

    def feed(self, chunk: NDArray[np.float32], powers: NDArray[np.float64], hop: int) -> None:
        """Take a chunk (legs, n) and its mean squares (legs, blocks): the quietest stretch of it may be kept."""
        import numpy as np

        together = powers.sum(axis=0)
        if together.size < REST_BLOCKS:
            return
        windows = np.lib.stride_tricks.sliding_window_view(together, REST_BLOCKS)
        loud, quiet = windows.max(axis=1), windows.min(axis=1)
        fine = np.flatnonzero((quiet > 1e-16) & (loud <= EVEN * quiet))
        if not fine.size:
            return
        best = int(fine[loud[fine].argmin()])
        level = float(loud[best])
        if len(self._kept) == RESTS and level >= self._kept[-1][0]:
            return
        self._kept.append((level, chunk[:, best * hop : (best + REST_BLOCKS) * hop].copy()))
        self._kept.sort(key=lambda one: one[0])
        del self._kept[RESTS:]

    def result(self, rate_hz: int) -> tuple[RestLevels, ...]:
        """What each leg holds in the rests; nothing where there are none."""
        import numpy as np

        from mixlint.signal.decibel import power_to_db
        from mixlint.signal.rest_noise import rest_noise

        if not self._kept:
            return ()
        lowest = self._kept[0][0]
        rests = np.stack([samples for level, samples in self._kept if level <= ALIKE * lowest])
        found = []
        for leg in range(self._legs):
            one = rest_noise(rests[:, leg], float(rate_hz))
            level = float(np.median(np.mean(rests[:, leg].astype(np.float64) ** 2, axis=1)))
            found.append(
                RestLevels(
                    power_to_db(one.power),
                    power_to_db(one.hum),
                    one.hum_hz,
                    one.flat,
                    max(SILENCE_DB, power_to_db(level)),
                )
            )
        return tuple(found)


class LegPair:
    """How the two legs of a file go together, asked once in every chunk where it is loudest."""

    def __init__(self, rate_hz: int) -> None:
        self._rate = rate_hz
        self._found: list[tuple[float, float, float]] = []

    def feed(self, chunk: NDArray[np.float32], powers: NDArray[np.float64], hop: int, at: int) -> None:
        """Take a chunk (2, n) and its mean squares (2, blocks); ``at`` is its place in the file."""
        from mixlint.signal.leg_lag import leg_lag

        loudest = int(powers.min(axis=0).argmax())
        if float(powers[:, loudest].min()) < 1e-7:
            return
        long = min(8192, chunk.shape[1])
        start = max(0, min(loudest * hop, chunk.shape[1] - long))
        lag, like = leg_lag(chunk[0, start : start + long], chunk[1, start : start + long], self._rate)
        self._found.append(((at + start) / self._rate, lag, like))

    def result(self) -> NDArray[np.float64]:
        """(n, 3): seconds, samples by which the right leg is later, correlation."""
        import numpy as np

        return np.array(self._found, np.float64).reshape(-1, 3)


class WordLength:
    """How many bits of a word are ever used: 16 in one of 24 say that the file was padded."""

    def __init__(self, header: Header) -> None:
        depth = header.bit_depth
        self._asked = not isinstance(depth, Unknown) and not header.lossy and depth > 8
        self._bits = 24
        self._used = 0
        self._full = 0 if isinstance(depth, Unknown) else min(24, depth)

    def feed(self, chunk: NDArray[np.float32]) -> None:
        """Take a chunk (legs, n)."""
        import numpy as np

        if not self._asked:
            return
        scaled = chunk * np.float32(8_388_608.0)
        words = scaled.astype(np.int32)
        if not np.array_equal(words, scaled):
            self._asked, self._used = False, 0  # no words of 24 bits
            return
        self._used |= int(np.bitwise_or.reduce(words, axis=None))
        # Once the last bit that the file has is used, nothing more is to be learnt.
        self._asked = not self._used >> (24 - self._full) & 1

    def result(self) -> int:
        """The bits from the highest down to the last one used; 0 where there are no words, or only silence."""
        return 0 if not self._used else 24 - ((self._used & -self._used).bit_length() - 1)


LOUD: Final = 0.85
WHITE: Final = 0.8
"""The mean step over the mean size of a cell: 1.4 for white noise. Of 165 recorded sounds half stay under 0.2 where
they are loud; cymbals reach 1.4, but are as loud elsewhere in their file."""

ABOVE: Final = 3.2
"""A burst is 10 dB over what the file holds otherwise."""

LOOKED_AT: Final = 64


class Bursts:
    """Full-scale noise where there is otherwise none: what a converter or a damaged disk puts into a file."""

    def __init__(self, legs: int) -> None:
        self._cells: list[list[int]] = [[] for _ in range(legs)]

    def feed(self, chunk: NDArray[np.float32], peaks: NDArray[np.float32], first: int, hop: int, cells: int) -> None:
        """Take a chunk (legs, whole blocks), its peak cells (legs, n) and the number of the first of them."""
        import numpy as np

        for leg, row in enumerate(peaks):
            for cell in np.flatnonzero(row >= LOUD)[:LOOKED_AT].tolist():
                block, part = divmod(cell, cells)
                start, end = block * hop + part * hop // cells, block * hop + (part + 1) * hop // cells
                here = chunk[leg, start:end].astype(np.float64)
                if np.abs(np.diff(here)).sum() >= WHITE * np.abs(here).sum():
                    self._cells[leg].append(first + cell)

    def result(self, peak: NDArray[np.float32], cell_s: float) -> list[Mark]:
        """The bursts of a file whose peak cells are (legs, cells)."""
        import numpy as np

        from mixlint.signal.runs import groups

        found: list[Mark] = []
        for leg, cells in enumerate(self._cells):
            if not cells:
                continue
            others = np.ones(peak.shape[1], np.bool_)
            for cell in cells:
                others[max(0, cell - 1) : cell + 2] = False
            usual = float(np.quantile(peak[leg, others], 0.995)) if others.any() else 1.0
            if usual * ABOVE > LOUD:
                continue
            for run in groups(np.array(cells), 2):
                if run.size >= 2 and len(found) < MARKS:
                    level = float(peak[leg, run].max())
                    length = float(run[-1] - run[0] + 1) * cell_s
                    found.append(Mark("burst", leg, float(run[0]) * cell_s, length, decibels(level)))
        return found


class Bends:
    """How sharply a wave bends: a crackle by far more than all around it, noise and drums as they do throughout."""

    def __init__(self, legs: int) -> None:
        import numpy as np

        self._before = np.zeros((legs, 2), np.float32)
        self._found: list[NDArray[np.float64]] = []

    def feed(self, chunk: NDArray[np.float32], hop: int, cells: int) -> None:
        """Take a chunk (legs, whole blocks)."""
        import numpy as np

        # In place: three passes over samples that lie in the processor's cache are a few per cent of the whole.
        step = np.diff(np.concatenate((self._before, chunk), axis=1), axis=1)
        bend = step[:, 1:] - step[:, :-1]
        np.abs(bend, out=bend)
        self._before = chunk[:, -2:].copy()
        if hop % cells:  # cells that differ by a sample: slower, and rates like that are rare
            blocks, starts = bend.reshape(len(chunk), -1, hop), np.arange(cells) * hop // cells
            most = np.maximum.reduceat(blocks, starts, axis=2).reshape(len(chunk), -1)
            mean = np.add.reduceat(blocks, starts, axis=2).reshape(len(chunk), -1) * np.float32(cells / hop)
        else:
            parts = bend.reshape(len(chunk), -1, hop // cells)
            most, mean = parts.max(axis=2), parts.mean(axis=2)
        self._found.append(np.stack((most, mean)).astype(np.float64))

    def result(self) -> NDArray[np.float16]:
        """(2, legs, cells) the largest and the mean bend of each cell, dB re full scale."""
        import numpy as np

        if not self._found:
            return np.zeros((2, len(self._before), 0), np.float16)
        return in_decibels(np.concatenate(self._found, axis=2) ** 2)


PITCHES_S: Final = 2.5
"""Notes are gathered over so many seconds each."""

LONG_S: Final = 60.0
"""After the first minute every second window is enough."""


class Pitches:
    """Which notes sound, in stretches of two and a half seconds: window after window."""

    def __init__(self, rate_hz: int) -> None:
        self._rate = rate_hz
        self._found: list[NDArray[np.float64]] = []

    def feed(self, chunk: NDArray[np.float32], powers: NDArray[np.float64], hop: int, at: int) -> None:
        """Take a chunk (legs, n) and its mean squares (legs, blocks); ``at`` is its place in the file."""
        import numpy as np

        from mixlint.signal.tuning import BINS, note_weights, window_size

        size = window_size(self._rate)
        every = 2 * size if self._rate * LONG_S < at else size
        for start in range(0, chunk.shape[1] - size + 1, every):
            level = float(powers[:, start // hop : (start + size) // hop].max(initial=0.0)) ** 0.5
            if level < 1e-4:
                continue
            section = int((at + start) / self._rate / PITCHES_S)
            while len(self._found) <= section:
                self._found.append(np.zeros(BINS))
            window = chunk[:, start : start + size].mean(axis=0).astype(np.float64)
            self._found[section] += level * note_weights(window, self._rate)

    def result(self) -> NDArray[np.float64]:
        """(stretches, 120): the weight of each tenth of a semitone in every 2.5 s up to the last that sounds."""
        import numpy as np

        from mixlint.signal.tuning import BINS

        return np.array(self._found, np.float64).reshape(-1, BINS)
