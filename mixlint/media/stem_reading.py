"""Stems and the print of their mix, read side by side, block by block, and their products taken."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.errors import InputError
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.audio import AudioFile
    from mixlint.media.library import Library
    from mixlint.signal.sum_fit import Lag, Products

    Samples = NDArray[np.float32]

BLOCK_S: Final = 0.5
MOST_BLOCKS: Final = 1200
"""Blocks of half a second up to ten minutes, longer ones beyond: the products of each block are kept."""

MOST_STEMS: Final = 96
"""So many stems are held against a print at once; their products take 9216 numbers a block."""

REACH_S: Final = 0.1
"""How far a stem may lie off the print and still be found there."""

WINDOW_S: Final = 5.0
"""The stretch in which a stem's place in the print is looked for: fifty times the reach."""

IN_PLACE: Final = (1.0, 1.0)
"""The gains of a stem that stands on the print's legs as it is."""


@dataclass(frozen=True, slots=True)
class StemAt:
    """A stem and where its samples are taken to belong.

    Args:
        media: its file.
        lag: by how many samples it is later than it should be.
        swapped: its legs are taken the other way round.
        sides: the gains at which its legs, or its only one, stand on the print's two.
    """

    media: str
    lag: int = 0
    swapped: bool = False
    sides: tuple[float, float] = IN_PLACE


def products(library: Library, printed: str, stems: Sequence[StemAt]) -> Products | Unknown:
    """The products of all stems with each other and with a print of their mix, over the length of the longest.

    A file of one leg stands on both; where the print has one, the stems are folded to ½ (left + right).
    """
    import numpy as np

    from mixlint.signal.sum_fit import Products, products_of

    own, shared, whole = [], [], []
    try:
        with library.side_by_side([printed, *(stem.media for stem in stems)]) as files:
            why = _unlike(files)
            if why is not None:
                return why
            rate = files[0].header.sample_rate_hz
            longest = max(file.header.frames for file in files)
            size = max(round(BLOCK_S * rate), -(-longest // MOST_BLOCKS))
            for start in range(0, max(longest, 1), size):
                total, parts = _stretch(files, stems, start, size)
                one, with_print, energy = products_of(total, parts)
                own.append(one)
                shared.append(with_print)
                whole.append(energy)
    except InputError as fault:
        return Unknown(unknown=f"{fault.where}: {fault.what}", settle=fault.do)
    return Products(np.array(own), np.array(shared), np.array(whole), size / rate)


def lags(
    library: Library, printed: str, stems: Sequence[StemAt], starts_s: Sequence[float]
) -> list[Lag | None] | Unknown:
    """Where each stem lies in the print, each in the stretch that begins at its own time."""
    from mixlint.signal.sum_fit import find_lag

    found: list[Lag | None] = []
    try:
        for stem, start_s in zip(stems, starts_s, strict=True):
            with library.side_by_side([printed, stem.media]) as files:
                rate = files[0].header.sample_rate_hz
                total, parts = _stretch(files, [StemAt(stem.media)], round(start_s * rate), round(WINDOW_S * rate))
                found.append(find_lag(total, parts[0], round(REACH_S * rate)))
    except InputError as fault:
        return Unknown(unknown=f"{fault.where}: {fault.what}", settle=fault.do)
    return found


def stretches(
    library: Library, printed: str, stems: Sequence[StemAt], starts_s: Sequence[float], length_s: float
) -> Iterator[tuple[Samples, list[Samples]]]:
    """The print and all stems over some stretches, each (legs, n).

    Raises:
        InputError: one of the files cannot be read.
    """
    with library.side_by_side([printed, *(stem.media for stem in stems)]) as files:
        rate = files[0].header.sample_rate_hz
        for start_s in starts_s:
            yield _stretch(files, stems, round(start_s * rate), round(length_s * rate))


def _unlike(files: Sequence[AudioFile]) -> Unknown | None:
    rates = {file.header.sample_rate_hz for file in files}
    if len(rates) > 1:
        told = ", ".join(f"{rate} Hz" for rate in sorted(rates))
        return Unknown(
            unknown=f"the stems and the print do not share one sample rate ({told})",
            settle="print the stems and the mix at one sample rate",
        )
    wide = next((file.name for file in files if file.header.legs > 2), None)
    if wide is not None:
        return Unknown(unknown=f"{wide} has more than two legs", settle="print it as mono or stereo")
    return None


def _stretch(
    files: Sequence[AudioFile], stems: Sequence[StemAt], start: int, size: int
) -> tuple[Samples, list[Samples]]:
    """The print and the stems over one stretch, on as many legs as the print has."""
    total = _read(files[0], start, size)
    parts = []
    for file, stem in zip(files[1:], stems, strict=True):
        parts.append(_on_legs(_read(file, start + stem.lag, size), total.shape[0], stem))
    return total, parts


def _read(file: AudioFile, start: int, size: int) -> Samples:
    samples = file.excerpt(start, size)
    if file.header.is_float:
        samples = samples.copy()
        from mixlint.media.meter import mend

        mend(samples)
    return samples


def _on_legs(samples: Samples, legs: int, stem: StemAt) -> Samples:
    import numpy as np

    if legs == 1:
        return samples if samples.shape[0] == 1 else np.asarray(samples.mean(axis=0, keepdims=True), dtype=np.float32)
    if samples.shape[0] == 1:
        samples = np.repeat(samples, 2, axis=0)
    elif stem.swapped:
        samples = samples[::-1]
    return samples if stem.sides == IN_PLACE else samples * np.asarray(stem.sides, dtype=np.float32)[:, None]
