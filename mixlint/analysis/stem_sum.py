"""Whether stems add up to the print of their mix, and where each of them lies in it.

Gains, times and polarities come of the sound alone (:mod:`mixlint.signal.sum_fit`). What is left over of the print when
every stem is taken at its best is either a part that is missing, or what the mix bus did to all of them: a limiter or
an equalizer moves all stems together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from mixlint.analysis.stem_levels import ABSENT, common_gains, in_stretches, of_sides
from mixlint.errors import InputError
from mixlint.media.stem_reading import (
    IN_PLACE,
    MOST_STEMS,
    REACH_S,
    WINDOW_S,
    StemAt,
    lags,
    products,
    stretches,
)
from mixlint.session import Unknown
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library
    from mixlint.signal.sum_fit import Processing, Products, SumFit

    Floats = NDArray[np.float64]

ROUNDING_DB: Final = -60.0
"""What is left over at this or less is rounding, and nothing is looked for. No verdict rests on it."""

CLEAR: Final = 2.0
"""A place in the print has to stand out so many times as high as any other: steady tones and loops fit at many."""

OVER_DB: Final = 1.0
EXPLAINED_DB: Final = 3.0
"""A print was processed as a whole where its peaks stand so much under those of the sum, or where a common filter and
moves of gain leave so much less: definitions. Prints with a part missing gave −6 to 0 dB and 0 to 0.4 dB, prints behind
a compressor, an equalizer, a limiter or a clipper 4.4 to 5.3 dB, or 9 dB."""

ROUNDED_DB: Final = 0.02
"""A level is told no nearer than this."""

SWAPPED: Final = 0.25
"""Legs are swapped where so much less is left over of the print when they are taken the other way round."""

MOST_CLOSER: Final = 24
"""So many stems at most are looked at again by what is left over: a bound of work."""


@dataclass(frozen=True, slots=True)
class StemFit:
    """One stem in the print.

    Args:
        media: its file.
        sounds: it is not silent throughout.
        lag: by how many samples it is later than the print; None where nothing tells.
        gain: at which gain the print has it, what is common to all taken out; negative where it is turned over.
        error: the standard error of that.
        swapped: its legs are the other way round in the print.
        sides: the gains of its legs, or of its only one, on the print's left and right, the higher one 1.
        share_db: its energy in the print, relative to the print's.
        copy_of: the stem that it cannot be told apart from; nothing else is told of it then.
        differs: stretches (start, end) in seconds in which it sounds and the print holds something else in its place.
        matched_s: for how long it was told that it is there, seconds.
    """

    media: str
    sounds: bool
    lag: int | None
    gain: float
    error: float
    swapped: bool
    sides: tuple[float, float]
    share_db: float
    copy_of: str | None
    differs: tuple[tuple[float, float], ...]
    matched_s: float


@dataclass(frozen=True, slots=True, eq=False)
class StemSum:
    """How a set of stems adds up to the print of its mix.

    Args:
        rate_hz: the sample rate of all.
        stems: what was found of each, by its file.
        plain_db: what is left over of the print when the stems are summed as they are, their common level fitted.
        left_db: what is left over when each is taken at its best.
        common_db: how much louder the print is than the sum.
        common_lag: by how many samples all stems are later than the print.
        processing: what a common treatment of the sum explains; None where nothing is left over.
        left: (blocks,) what is left over in each block, as energy.
        whole: (blocks,) the print's energy.
        block_s: the length of a block.
        placed: the stems as they were taken at last.
        taken: the gain at which each was taken away, by its file.
    """

    rate_hz: float
    stems: dict[str, StemFit]
    plain_db: float
    left_db: float
    common_db: float
    common_lag: int
    processing: Processing | None
    left: Floats
    whole: Floats
    block_s: float
    placed: tuple[StemAt, ...]
    taken: dict[str, float]


def stem_sum(library: Library, printed: str, stems: Sequence[str]) -> StemSum | Unknown:
    """Hold a set of stems against the print of its mix.

    Args:
        library: the audio.
        printed: the id of the print's file.
        stems: the ids of the stems' files, those that can be read.
    """
    if not stems:
        return Unknown(unknown="there are no stems beside the print")
    if len(stems) > MOST_STEMS:
        return Unknown(unknown=f"more than {MOST_STEMS} stems are not held against a print", settle="sum them by hand")
    header = library.header(printed)
    if isinstance(header, Unknown):
        return header
    placed = [StemAt(one) for one in stems]
    first = products(library, printed, placed)
    if isinstance(first, Unknown):
        return first
    if float(first.whole.sum()) <= 0.0:
        return Unknown(unknown="the print of the mix is silent", settle="print the mix again")
    try:
        placed, found, fitted, told = _placed(library, printed, placed, first)
        treated = _treated(library, printed, placed, found, fitted)
    except InputError as fault:
        return Unknown(unknown=f"{fault.where}: {fault.what}", settle=fault.do)
    one_leg = [not isinstance(h, Unknown) and h.legs == 1 for h in map(library.header, stems)]
    shared_lag = _shared_lag(placed, told)
    common = common_gains(fitted, found, placed, one_leg)
    fits = {
        stem.media: _stem_fit(at, placed, found, fitted, common[1 if one_leg[at] else 0], told, shared_lag)
        for at, stem in enumerate(placed)
    }
    return StemSum(
        rate_hz=float(header.sample_rate_hz),
        stems=fits,
        plain_db=_plain_db(first),
        left_db=_inside_db(fitted, found, placed),
        common_db=_db(common[0] ** 2),
        common_lag=shared_lag,
        processing=treated,
        left=fitted.left,
        whole=found.whole,
        block_s=found.block_s,
        placed=tuple(placed),
        taken={stem.media: float(gain) for stem, gain in zip(placed, fitted.gains, strict=True)},
    )


def is_processed(found: StemSum) -> bool:
    """True where what is left over is what a mix bus does: the print was limited, compressed or filtered as a whole."""
    made = found.processing
    if made is None:
        return False
    return made.over_db >= OVER_DB or made.plain_db - made.treated_db >= EXPLAINED_DB


def level_error_db(found: StemSum, stem: StemFit) -> float:
    """Within how many dB the level of a stem in the print is told.

    Behind a limiter or a compressor every stem is moved by what the others do, a quiet one more than a loud one.
    """
    from math import log10

    part = stem.error / max(abs(stem.gain), 1e-6)
    if is_processed(found):
        part = max(part, 0.5 * 10.0 ** ((found.left_db - stem.share_db) / 20.0) / 3.0)
    return 20.0 * log10(1.0 + 3.0 * min(part, 1e3)) + ROUNDED_DB


def _db(power: float) -> float:
    from math import log10

    return max(SILENCE_DB, 10.0 * log10(power)) if power > 0.0 else SILENCE_DB


def _share_db(part: float, whole: float) -> float:
    return max(_db(part / whole), -140.0)  # less than the rounding of a file of 24 bits is no measurement


def _inside_db(fitted: SumFit, found: Products, placed: Sequence[StemAt]) -> float:
    """What is left over, dB, without the edges where a stem that was moved holds nothing."""
    left, whole = fitted.left, found.whole
    edge = max(1, round(REACH_S / found.block_s))
    if any(stem.lag for stem in placed) and whole.size > 3 * edge and whole[edge:-edge].any():
        left, whole = left[edge:-edge], whole[edge:-edge]
    return _share_db(float(left.sum()), float(whole.sum()))


def _plain_db(found: Products) -> float:
    own, shared = float(found.own.sum()), float(found.shared.sum())
    whole = float(found.whole.sum())
    return _share_db(whole - shared**2 / own if own > 0.0 else whole, whole)


def _placed(
    library: Library, printed: str, placed: list[StemAt], first: Products
) -> tuple[list[StemAt], Products, SumFit, set[int]]:
    """The stems where they lie in the print, their products and fit there, and those whose place was heard."""
    from mixlint.signal.sum_fit import fit

    fitted = fit(first)
    if _left_db(fitted, first) <= ROUNDING_DB:
        return placed, first, fitted, set(range(len(placed)))
    places = [_busiest(first, at) for at in range(len(placed))]
    heard = lags(library, printed, placed, places)
    if isinstance(heard, Unknown):
        return placed, first, fitted, set()
    told = {at for at, one in enumerate(heard) if one is not None and one.clear >= CLEAR}
    moved = [
        replace(stem, lag=one.samples) if at in told and one is not None else stem
        for at, (stem, one) in enumerate(zip(placed, heard, strict=True))
    ]
    shared_lag = _shared_lag(moved, told)
    moved = [stem if at in told else replace(stem, lag=shared_lag) for at, stem in enumerate(moved)]
    placed, first, fitted = _better(library, printed, placed, moved, first, fitted)
    if _left_db(fitted, first) > ROUNDING_DB:
        turned = [replace(stem, swapped=not stem.swapped) for stem in placed]
        placed, first, fitted = _better(library, printed, placed, turned, first, fitted, SWAPPED)
    for _ in range(2):
        if _left_db(fitted, first) <= ROUNDING_DB:
            break
        before = _left_db(fitted, first)
        closer, more = _closer(library, printed, placed, first, fitted)
        told |= more
        placed, first, fitted = _better(library, printed, placed, closer, first, fitted)
        if _left_db(fitted, first) > before - 0.5:
            break
    return placed, first, fitted, told


def _shared_lag(placed: Sequence[StemAt], told: set[int]) -> int:
    """The lag of most stems whose place was heard, where these are most of the set: the print begins elsewhere."""
    lags_of = [placed[at].lag for at in sorted(told)]
    most = max(dict.fromkeys(lags_of), key=lags_of.count, default=0)
    return most if len(lags_of) > 1 and 2 * lags_of.count(most) > len(placed) else 0


def _left_db(fitted: SumFit, found: Products) -> float:
    return _share_db(float(fitted.left.sum()), float(found.whole.sum()))


def _better(
    library: Library,
    printed: str,
    placed: list[StemAt],
    moved: list[StemAt],
    found: Products,
    fitted: SumFit,
    share: float = 1.0,
) -> tuple[list[StemAt], Products, SumFit]:
    """The stems as moved, where less than ``share`` of what was left over is left then; else as they were."""
    from mixlint.signal.sum_fit import fit

    if moved == placed:
        return placed, found, fitted
    again = products(library, printed, moved)
    if isinstance(again, Unknown):
        return placed, found, fitted
    refitted = fit(again)
    if float(refitted.left.sum()) >= share * float(fitted.left.sum()):
        return placed, found, fitted
    return moved, again, refitted


def _busiest(found: Products, at: int) -> float:
    """Where in the song a stem stands out most from the print, seconds: the start of a window."""
    import numpy as np

    own = found.own[:, at, at]
    others = np.maximum(found.whole - own, 0.0)
    score = own * own / (own + others + 1e-30)
    count = max(1, min(score.size, round(WINDOW_S / found.block_s)))
    running = np.concatenate(([0.0], np.cumsum(score)))
    return float(np.argmax(running[count:] - running[:-count])) * found.block_s


def _closer(
    library: Library, printed: str, placed: list[StemAt], found: Products, fitted: SumFit
) -> tuple[list[StemAt], set[int]]:
    """The stems that do not fit where they sound most, held against what the others leave of the print there."""
    import numpy as np

    from mixlint.signal.sum_fit import find_lag

    rate = _rate(library, printed)
    energy = np.einsum("bii->bi", found.own)
    window = max(1, round(WINDOW_S / found.block_s))
    due = []
    for at in range(len(placed)):
        if at in fitted.copies or not energy[:, at].any():
            continue
        start = round(_busiest(found, at) / found.block_s)
        left, own = fitted.left[start : start + window].sum(), energy[start : start + window, at].sum()
        if left > 1e-3 * own:
            due.append((float(own / (left + 1e-30)), at))
    closer, told = list(placed), set()
    order = [at for _, at in sorted(due)[:MOST_CLOSER]]
    starts = [_busiest(found, at) for at in order]
    for at, (total, parts) in zip(order, stretches(library, printed, placed, starts, WINDOW_S), strict=True):
        left = total.astype(np.float64)
        for other, part in enumerate(parts):
            if other != at and fitted.gains[other]:
                left -= fitted.gains[other] * part
        lag = find_lag(left, parts[at], round(REACH_S * rate))
        if lag is not None and lag.clear >= CLEAR:
            told.add(at)
            if lag.samples:
                closer[at] = replace(placed[at], lag=placed[at].lag + lag.samples)
                continue
        if total.shape[0] == 2:
            closer[at] = _on_other_sides(placed[at], left, parts[at], library)
    return closer, told


def _rate(library: Library, media_id: str) -> float:
    header = library.header(media_id)
    return 48_000.0 if isinstance(header, Unknown) else float(header.sample_rate_hz)


def _on_other_sides(stem: StemAt, left: Floats, part: NDArray[np.float32], library: Library) -> StemAt:
    """A stem with its legs swapped, or panned, where more of the print is told by it then."""
    import numpy as np

    from mixlint.signal.sum_fit import gain_and_rest

    header = library.header(stem.media)
    if isinstance(header, Unknown):
        return stem
    if header.legs == 1:
        sides = _sides(stem, left, part)
        return stem if sides is None else replace(stem, sides=sides)
    _, straight = gain_and_rest(left, part)
    gain, crossed = gain_and_rest(left, part[::-1])
    if crossed < SWAPPED * straight and abs(gain) > ABSENT:
        return replace(stem, swapped=not stem.swapped)
    sides = _sides(stem, left, part) if stem.sides == IN_PLACE else None
    if sides is not None:
        _, panned = gain_and_rest(left, part * np.array(sides)[:, None])
        if panned < SWAPPED * straight:
            return replace(stem, sides=sides)
    return stem


def _sides(stem: StemAt, left: Floats, part: NDArray[np.float32]) -> tuple[float, float] | None:
    """The gains of a stem on the print's two legs, the higher one 1; None where they are alike."""
    from mixlint.signal.sum_fit import gain_and_rest

    gains = [gain_and_rest(left[leg : leg + 1], part[leg : leg + 1])[0] * stem.sides[leg] for leg in (0, 1)]
    highest = max(map(abs, gains))
    if highest > 0.0 and abs(abs(gains[0]) - abs(gains[1])) > 0.05 * highest:
        return gains[0] / highest, gains[1] / highest
    return None


def _treated(
    library: Library, printed: str, placed: list[StemAt], found: Products, fitted: SumFit
) -> Processing | None:
    """What a common treatment explains, over the busiest stretch of the print; None where nothing is left over."""
    import numpy as np

    from mixlint.signal.sum_fit import processing

    if _left_db(fitted, found) <= ROUNDING_DB:
        return None
    count = max(1, min(found.whole.size, round(2.0 * WINDOW_S / found.block_s)))
    running = np.concatenate(([0.0], np.cumsum(found.whole)))
    start = float(np.argmax(running[count:] - running[:-count])) * found.block_s
    for total, parts in stretches(library, printed, placed, [start], 2.0 * WINDOW_S):
        summed = np.zeros(total.shape)
        for gain, part in zip(fitted.gains, parts, strict=True):
            summed += gain * part
        return processing(total, summed, _rate(library, printed))
    return None


def _stem_fit(
    at: int,
    placed: Sequence[StemAt],
    found: Products,
    fitted: SumFit,
    common: float,
    told: set[int],
    shared_lag: int,
) -> StemFit:
    import numpy as np

    own, stem = found.own[:, at, at], placed[at]
    sounds = bool(own.sum() > 0.0)
    scale = of_sides(stem) / common
    gain, error = float(fitted.gains[at]) * scale, float(fitted.spread[at]) * scale
    copy = fitted.copies.get(at)
    differs, matched = ((), 0.0) if copy is not None or not sounds else in_stretches(at, found, fitted)
    fits_here = abs(abs(gain) - 1.0) < 0.02 and error < 0.05
    return StemFit(
        media=stem.media,
        sounds=sounds,
        lag=stem.lag - shared_lag if at in told or fits_here else None,
        gain=gain,
        error=error if np.isfinite(error) else 1e9,
        swapped=stem.swapped,
        sides=stem.sides,
        share_db=_share_db(float(own.sum()) * float(fitted.gains[at]) ** 2, float(found.whole.sum())),
        copy_of=placed[copy].media if copy is not None else None,
        differs=differs,
        matched_s=matched,
    )


def left_bands(library: Library, printed: str, found: StemSum) -> tuple[float, float]:
    """From where to where most of what is left over reaches, hertz, in the stretch in which it is loudest.

    Raises:
        InputError: a file cannot be read.
    """
    import numpy as np

    count = max(1, min(found.left.size, round(WINDOW_S / found.block_s)))
    running = np.concatenate(([0.0], np.cumsum(found.left)))
    start = float(np.argmax(running[count:] - running[:-count])) * found.block_s
    for total, parts in stretches(library, printed, found.placed, [start], WINDOW_S):
        left = total.astype(np.float64)
        for stem, part in zip(found.placed, parts, strict=True):
            left -= found.taken[stem.media] * part
        power = (np.abs(np.fft.rfft(left * np.hanning(left.shape[1]), axis=1)) ** 2).sum(axis=0)
        reached = np.cumsum(power) / max(float(power.sum()), 1e-300)
        low, high = np.searchsorted(reached, (0.1, 0.9))
        step = found.rate_hz / left.shape[1]
        return _rounded(float(low) * step), _rounded(float(high) * step)
    return 0.0, 0.0


def _rounded(hz: float) -> float:
    """To two figures."""
    return float(f"{hz:.2g}")
