"""Which gains its sources had when an ambience was printed, and how much of the print comes from them.

A return's print is one response applied to the sum of what feeds it: y = h * Σ gᵢ sᵢ. Levels may have moved since, so
the gains are looked for together with the response, each by least squares from the other in turn; the response by
preconditioned conjugate gradients, whose steps stay within the lags that count. How much of the print that explains is
told by cross-validation: the response learnt from one half of the stretch has to foretell the other half.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from mixlint.signal.deconvolution import fast_length

Floats = NDArray[np.float64]
Spectra = NDArray[np.complex64]

BEFORE_S: Final = 0.12
AFTER_S: Final = 1.5
"""The lags that count: from prints that lie early to most of a tail."""

UP_TO_HZ: Final = 3000.0
"""Gains are told from what lies under this: a quarter of the work, and most of the energy."""

ROUNDS: Final = 24
STEPS: Final = 6
SETTLED: Final = 0.003
"""Gains that move by less than 0.3 % in a round have settled."""

EPSILON: Final = 1e-4


def source_gains(sources: Floats, printed: Floats, fs: float) -> Floats:
    """The gains (k,) of ``sources`` (k, n) in a print (n,), relative to how they are given; the weightiest is 1.0."""
    gains = np.ones(sources.shape[0])
    if gains.size == 1 or not printed.any():
        return gains
    fit = _Fit.of(sources, printed, fs)
    response: Floats | None = None
    before: Floats | None = None
    for _ in range(ROUNDS):
        response = fit.response(gains, response)
        if response is None:
            return np.ones_like(gains)
        found = fit.gains(response, gains)
        step = found - gains
        if float(np.abs(step / np.maximum(np.abs(found), 1e-3)).max()) < SETTLED:
            return found
        gains, before = _ahead(found, step, before)
    return gains


def _ahead(found: Floats, step: Floats, before: Floats | None) -> tuple[Floats, Floats | None]:
    """The gains after a round: two steps of one direction are carried on to where they lead (Aitken)."""
    if before is None:
        return found, step
    shrinks = float((before * step).sum() / ((before * before).sum() + 1e-30))
    if not 0.2 < shrinks < 0.97:
        return found, step
    far = found + step * shrinks / (1.0 - shrinks)
    return np.where(np.sign(far) == np.sign(found), far, found / 2.0), None


class _Fit:
    """Sources and print as spectra up to ``UP_TO_HZ``, and the lags that count."""

    def __init__(self, sources: Spectra, printed: Spectra, size: int, lags: NDArray[np.bool_]) -> None:
        self.sources, self.printed, self.size, self.lags = sources, printed, size, lags

    @classmethod
    def of(cls, sources: Floats, printed: Floats, fs: float) -> _Fit:
        whole = fast_length(sources.shape[1] + round(AFTER_S * fs))
        size = min(whole, fast_length(2 * int(UP_TO_HZ / fs * whole)))
        bins, rate = size // 2 + 1, fs * size / whole
        lags = np.zeros(size, dtype=bool)
        lags[: min(size // 2, round(AFTER_S * rate))] = True
        lags[size - min(size // 4, round(BEFORE_S * rate)) :] = True
        spectra = np.stack([np.fft.rfft(one, whole)[:bins].astype(np.complex64) for one in sources])
        return cls(spectra, np.fft.rfft(printed, whole)[:bins].astype(np.complex64), size, lags)

    def response(self, gains: Floats, begun: Floats | None) -> Floats | None:
        """The response within the lags that count, improved from ``begun``; None where nothing excites it."""
        summed = np.einsum("i,if->f", gains.astype(np.float32), self.sources)
        power = np.abs(summed) ** 2
        highest = float(power.max(initial=0.0))
        if highest == 0.0:
            return None
        inverse = 1.0 / (power + EPSILON * highest)

        def within(spectrum: NDArray[np.complex64]) -> Floats:
            return np.asarray(np.fft.irfft(spectrum, self.size) * self.lags)

        wanted = np.conj(summed) * self.printed
        h = within(wanted * inverse) if begun is None else begun
        left = within(wanted) - within(power * np.fft.rfft(h))
        way = eased = within(inverse * np.fft.rfft(left))
        size = float((left * eased).sum())
        for _ in range(STEPS):
            made = within(power * np.fft.rfft(way))
            along = float((way * made).sum())
            if not along > 0.0 or not size > 0.0:
                break
            h = h + size / along * way
            left = left - size / along * made
            eased = within(inverse * np.fft.rfft(left))
            after = float((left * eased).sum())
            way, size = eased + after / size * way, after
        return h

    def gains(self, response: Floats, gains: Floats) -> Floats:
        """The gains that fit best once the response is known."""
        made = self.sources * np.fft.rfft(response).astype(np.complex64)
        products = np.real(np.einsum("if,jf->ij", np.conj(made), made)).astype(np.float64)
        target = np.real(np.einsum("if,f->i", np.conj(made), self.printed)).astype(np.float64)
        # A little on the diagonal keeps a source that hardly sounds where it was.
        stay = 1e-5 * float(np.trace(products)) / gains.size + 1e-30
        found = np.linalg.solve(products + stay * np.eye(gains.size), target + stay * gains)
        top = found[int(np.argmax(np.abs(found) * np.sqrt(np.diag(products))))]
        return np.asarray(found / top) if top else gains


def foretold(dry: Floats, printed: Floats, fs: float) -> Floats:
    """What the response of a print (n,) makes of what feeds it (n,), learnt where it foretells most."""
    pairs = list(_neighbours(dry.size, 3))
    learn, _ = max(pairs, key=lambda pair: _foretells(dry, printed, pair[0], pair[1], fs))
    size = fast_length(dry.size + round(AFTER_S * fs))
    # Only what sounds in that third excites it; the rest of the stretch is foretold by it.
    parts = [np.zeros(dry.size), np.zeros(dry.size)]
    for part, whole in zip(parts, (dry, printed), strict=True):
        part[learn] = whole[learn]
    response = _learnt(np.fft.rfft(parts[0], size), np.fft.rfft(parts[1], size), size, fs)
    return np.zeros(dry.size) if response is None else np.fft.irfft(response * np.fft.rfft(dry, size), size)[: dry.size]


def _neighbours(count: int, parts: int) -> Iterator[tuple[slice, slice]]:
    """Each of some equal parts with each of its neighbours."""
    step = count // parts
    spans = [slice(k * step, (k + 1) * step) for k in range(parts)]
    for one, other in pairwise(spans):
        yield one, other
        yield other, one


def _learnt(
    dry: NDArray[np.complex128], printed: NDArray[np.complex128], size: int, fs: float
) -> NDArray[np.complex128] | None:
    """The spectrum of the response within the lags that count; None where nothing excites it."""
    power = np.abs(dry) ** 2
    highest = float(power.max(initial=0.0))
    if highest == 0.0:
        return None
    taps = np.fft.irfft(printed * np.conj(dry) / (power + EPSILON * highest), size)
    taps[min(round(AFTER_S * fs), size // 2) : size - min(round(BEFORE_S * fs), size // 4)] = 0.0
    return np.fft.rfft(taps)


def explained(dry: Floats, printed: Floats, fs: float) -> float:
    """The share of a print's energy (n,) that a response learnt from one part of it foretells in another, 0 … 1.

    One half foretells the other, and where that tells nothing a third its neighbour: of these the best counts, since a
    part may rest in one, or have been played again.
    """
    best = 0.0
    for parts in (2, 3):
        best = max(best, *(_foretells(dry, printed, pair[0], pair[1], fs) for pair in _neighbours(dry.size, parts)))
        if best >= ENOUGH:
            break
    return best


ENOUGH: Final = 0.1
"""A share from which on no smaller parts are tried."""


def _foretells(dry: Floats, printed: Floats, learn: slice, hold: slice, fs: float) -> float:
    """The share of the print in ``hold`` that the response learnt in ``learn`` foretells there."""
    count = learn.stop - learn.start
    size = fast_length(count + min(round(AFTER_S * fs), count))
    response = _learnt(np.fft.rfft(dry[learn], size), np.fft.rfft(printed[learn], size), size, fs)
    if response is None:
        return 0.0
    truth = printed[hold]
    made = np.fft.irfft(response * np.fft.rfft(dry[hold], size), size)[: truth.size]
    both = float(np.einsum("n,n->", made, truth))
    of_each = float(np.einsum("n,n->", made, made)) * float(np.einsum("n,n->", truth, truth))
    return both * both / of_each if of_each > 0.0 and both > 0.0 else 0.0
