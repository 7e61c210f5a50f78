"""A print of an ambience held against what feeds it: where it lies, the dry signal in it, what of it comes from there.

Costs seconds for each print, so nothing here happens unless a fact asks for it. The stretch that is looked at is the
one in which the sources sound most while the print lies there.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.media.excerpt_comparison import Excerpt, busiest, lay, rate_of, shared
from mixlint.session import Unknown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.library import Library
    from mixlint.signal.dry_leak import LeakEstimate, LeakFault

    Floats = NDArray[np.float64]
    Gain = Callable[[Floats], Floats]

LONGEST_S: Final = 24.0
"""How much of the song is looked at, seconds."""

_STEP_S: Final = 0.01
"""How finely a gain that moves is read, seconds."""

_WIDE: Final = 0.03
"""Legs of a source whose difference holds less than this share of their energy are taken for one."""

_FORETOLD: Final = 0.6
_OTHER: Final = 0.4
"""Shares of a second's energy: what comes from its sources reached 0.65, another take of a voice up to 0.33."""

AGAIN: Final = "print the return alone, over a busy stretch"


@dataclass(frozen=True)
class PrintSource:
    """One source of an ambience.

    Args:
        pieces: its clips on the timeline of the song.
        gain: its amplitude at what feeds the ambience at times (T,) of the song, (T,) or (1,).
    """

    pieces: Sequence[Excerpt]
    gain: Gain


@dataclass(frozen=True, eq=False)
class PrintPair:
    """Sources and print over one stretch of the song.

    Args:
        sources: (k, legs, n): two legs where a source has two that differ, else one.
        printed: (legs, n).
        rate_hz: sample rate.
        start_s: where the stretch begins in the song.
    """

    sources: Floats
    printed: Floats
    rate_hz: int
    start_s: float


@dataclass(frozen=True, eq=False)
class PrintReading:
    """What one print shows.

    Args:
        leak: the dry signal in it, where it lies, its beginning and decay.
        share: how much of it, 0 … 1, comes from its sources by a response that one half of it foretells of the other.
        gains: (k,) of each source, relative to how it stands now; the weightiest is 1.
    """

    leak: LeakEstimate
    share: float
    gains: Floats


def print_pair(library: Library, sources: Sequence[PrintSource], printed: Sequence[Excerpt]) -> PrintPair | Unknown:
    """The audio of sources and print where the sources sound most while the print lies there."""
    import numpy as np

    pieces = [piece for source in sources for piece in source.pieces]
    rate = rate_of(library, (piece.media for piece in (*pieces, *printed)))
    if isinstance(rate, Unknown):
        return rate
    stretch = busiest(library, shared(pieces, printed), LONGEST_S)
    if isinstance(stretch, Unknown):
        return stretch
    start_s, duration_s = stretch
    print_samples = lay(library, printed, start_s, duration_s)
    if isinstance(print_samples, Unknown):
        return print_samples
    laid = []
    times = start_s + np.arange(print_samples.shape[1]) / rate
    coarse = start_s + np.arange(0.0, duration_s + _STEP_S, _STEP_S)
    for source in sources:
        samples = lay(library, source.pieces, start_s, duration_s)
        if isinstance(samples, Unknown):
            return samples
        gain = source.gain(coarse)
        laid.append(samples * (np.interp(times, coarse, gain) if gain.size > 1 else gain[0]))
    wide = print_samples.shape[0] == 2 and any(_is_wide(one) for one in laid)
    return PrintPair(np.stack([_on_legs(one, wide) for one in laid]), print_samples.astype(np.float64), rate, start_s)


def _is_wide(samples: Floats) -> bool:
    if samples.shape[0] == 1:
        return False
    apart = float(((samples[0] - samples[1]) ** 2).sum())
    return apart > _WIDE * 2.0 * float((samples * samples).sum())


def _on_legs(samples: Floats, wide: bool) -> Floats:
    import numpy as np

    if wide:
        return np.asarray(np.broadcast_to(samples, (2, samples.shape[1])), dtype=np.float64)
    return np.asarray(samples.mean(axis=0, keepdims=True), dtype=np.float64)


def read_print(
    pair: PrintPair, *, pre_delay_s: float | None = None, repeats: bool = False, reach_s: float = 0.1
) -> PrintReading | Unknown:
    """What a print shows against its sources, their gains as they were when it was made.

    Args:
        pair: sources and print.
        pre_delay_s, repeats, reach_s: as of :func:`mixlint.signal.dry_leak.estimate_leak`.
    """
    import numpy as np

    from mixlint.signal.dry_leak import SHORTEST_S, estimate_leak
    from mixlint.signal.print_fit import explained, source_gains

    if pair.printed.shape[1] < SHORTEST_S * pair.rate_hz:
        return Unknown(unknown=_reasons()["too-short"], settle=AGAIN)
    folded = pair.sources.mean(axis=1)
    leg = int(_energies(pair.printed).argmax())
    heard = pair.printed[leg]
    gains = source_gains(folded, heard, pair.rate_hz)
    summed = np.einsum("i,iln->ln", gains, pair.sources)
    dry = summed.mean(axis=0, keepdims=True)
    share = explained(dry[0], heard, pair.rate_hz)
    if summed.shape[0] == 2:
        # Either a reverb of one input, or one whose legs come from the legs that feed it.
        by_leg = explained(summed[leg], pair.printed[leg], pair.rate_hz)
        if by_leg > share:
            dry, share = summed, by_leg
    found = estimate_leak(dry, pair.printed, pair.rate_hz, pre_delay_s=pre_delay_s, repeats=repeats, reach_s=reach_s)
    if found.fault is not None:
        return Unknown(unknown=_reasons()[found.fault], settle=AGAIN)
    return PrintReading(found, share, gains)


def _energies(samples: Floats) -> Floats:
    energies: Floats = (samples * samples).sum(axis=1)
    return energies


def _reasons() -> dict[LeakFault, str]:
    from mixlint.signal.dry_leak import SHORTEST_S

    return {
        "too-short": f"the signals share less than {SHORTEST_S:g} s",
        "dry-silent": "the dry signal is silent",
        "print-silent": "the printed return is silent",
        "narrow-band": "the dry signal fills too little of the spectrum",
        "no-common-leg": "no leg has both a dry signal and a print",
    }


def low_cut_db(pair: PrintPair, gains: Floats, low_hz: float, mid_hz: float) -> tuple[float, float]:
    """How much less a print holds at ``low_hz`` re ``mid_hz`` than its sources do, and what these hold there, dB.

    Both are read in third-octave bands.
    """
    import numpy as np

    from mixlint.signal.band_levels import band_levels_db

    dry = band_levels_db(np.einsum("i,iln->ln", gains, pair.sources), pair.rate_hz, [low_hz, mid_hz], 1.0 / 3.0)
    wet = band_levels_db(pair.printed, pair.rate_hz, [low_hz, mid_hz], 1.0 / 3.0)
    holds = float(dry[0] - dry[1])
    return holds - float(wet[0] - wet[1]), holds


def share_of(library: Library, source: Sequence[Excerpt], printed: Sequence[Excerpt]) -> float | Unknown:
    """How much of a print comes from one source, 0 … 1 (:func:`mixlint.signal.print_fit.explained`)."""
    import numpy as np

    from mixlint.signal.print_fit import explained

    pair = print_pair(library, [PrintSource(source, lambda _: np.ones(1))], printed)
    if isinstance(pair, Unknown):
        return pair
    leg = int(_energies(pair.printed).argmax())
    return explained(pair.sources[0].mean(axis=0), pair.printed[leg], pair.rate_hz)


def unforetold(pair: PrintPair, gains: Floats) -> list[tuple[float, float]]:
    """The stretches of the song in which print and sources sound and the one does not come from the other, seconds.

    The response of the third that foretells its neighbourhood best is held against blocks of a second. None where the
    better half of these are not foretold either.
    """
    import numpy as np

    from mixlint.signal.print_fit import foretold

    leg = int(_energies(pair.printed).argmax())
    dry = np.einsum("i,iln->n", gains, pair.sources)
    made = foretold(dry, pair.printed[leg], pair.rate_hz)
    step = pair.rate_hz
    count = made.size // step
    found: list[tuple[float, float]] = []
    if count < 2:
        return found
    a = made[: count * step].reshape(count, step)
    b = pair.printed[leg][: count * step].reshape(count, step)
    both, of_a, of_b = (a * b).sum(axis=1), (a * a).sum(axis=1), (b * b).sum(axis=1)
    alike = np.where(both > 0.0, both**2 / np.maximum(of_a * of_b, 1e-30), 0.0)
    sounds = (of_a > 0.03 * of_a.max()) & (of_b > 0.03 * of_b.max())
    if not sounds.any() or float(np.percentile(alike[sounds], 75)) < _FORETOLD:
        return found
    for at in np.flatnonzero(sounds & (alike < _OTHER)):
        start = pair.start_s + float(at)
        if found and abs(found[-1][1] - start) < 1e-6:
            found[-1] = (found[-1][0], start + 1.0)
        else:
            found.append((start, start + 1.0))
    return found
