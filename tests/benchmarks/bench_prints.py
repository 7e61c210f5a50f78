"""How true the reading of printed ambiences is: ``python -m tests.benchmarks.bench_prints --cases 200``.

Parts of four kinds, one to six at a time at levels that have moved since, through noise rooms and halls with early
reflections, dry signal from none to −6 dB, prints up to 100 ms early or late, pre-delay known or not. The answers are
known since scipy made the prints. Exit status 1 where a clean print is flagged, a leak of −36 dB or louder is called
clear, or a lag is told that is wrong.
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter, defaultdict

import numpy as np
from scipy.signal import fftconvolve

from mixlint.signal import synthesis
from mixlint.signal.dry_leak import LeakEstimate, estimate_leak
from mixlint.signal.print_fit import source_gains

FS = 48_000
SECONDS = 8.0
KINDS = (("strum",), ("voice",), ("bass",), ("drums",), ("strum", "voice"), ("drums", "bass", "voice"), tuple("sv" * 3))
MAKERS = {
    "strum": lambda seed: synthesis.pluck(196.0, seed, SECONDS, FS),
    "voice": lambda seed: synthesis.voice(220.0, seed, SECONDS, FS),
    "bass": lambda seed: synthesis.pluck(55.0, seed, SECONDS, FS),
    "drums": lambda seed: synthesis.kit(seed, SECONDS, FS),
    "s": lambda seed: synthesis.pluck(165.0, seed, SECONDS, FS),
    "v": lambda seed: synthesis.voice(180.0, seed, SECONDS, FS),
}
LEAKS = (None, None, None, -6.0, -12.0, -20.0, -30.0, -36.0)


def response(random: np.random.Generator, decay_s: float, pre_delay_s: float, *, hall: bool) -> np.ndarray:
    """A leg of decaying noise, of a hall with a tail that builds up behind ten reflections."""
    t = np.arange(round(1.1 * decay_s * FS)) / FS
    tail = random.standard_normal(t.size) * 10.0 ** (-3.0 * t / decay_s)
    if hall:
        tail *= np.minimum(1.0, t / 0.03)
        tail /= np.sqrt((tail**2).sum())
        for at_s in random.uniform(0.003, 0.08, 10):
            tail[int(at_s * FS)] += random.choice([-1.0, 1.0]) * random.uniform(0.1, 0.35) / (1.0 + 20.0 * at_s)
    return np.concatenate([np.zeros(round(pre_delay_s * FS)), tail / np.sqrt((tail**2).sum())])


def verdict(found: LeakEstimate) -> str:
    if found.dry_db is not None:
        return "flagged" if found.dry_db > -40.0 else "clear"
    return "clear" if found.at_most_db is not None and found.at_most_db <= -40.0 else "open"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=60)
    parser.add_argument("--clean", action="store_true", help="clean prints alone")
    options = parser.parse_args()
    table: dict[str, Counter[str]] = defaultdict(Counter)
    apart: dict[str, list[float]] = defaultdict(list)
    wrong = 0
    for case in range(options.cases):
        random = np.random.default_rng(case)
        kinds = KINDS[int(random.integers(len(KINDS)))]
        parts = np.stack([0.3 * MAKERS[kind](100 * case + n) for n, kind in enumerate(kinds)])
        parts = np.pad(parts, ((0, 0), (round(0.15 * FS), round(0.3 * FS))))
        sent = np.einsum("i,in->n", 10.0 ** (random.uniform(-9.0, 3.0, len(kinds)) / 20.0), parts)
        pre_delay_s, decay_s = random.choice([0, 5, 10, 20, 30, 60]) / 1000.0, float(random.choice([0.6, 1.2, 2.5]))
        late_ms = float(random.choice([0, 0, 0, 3, 20, 100, -10, -50, -100]))
        leak = None if options.clean else LEAKS[int(random.integers(len(LEAKS)))]
        known, hall = bool(random.integers(2)), bool(random.integers(2))
        legs = [response(random, decay_s, pre_delay_s, hall=hall) for _ in range(2)]
        wet = np.stack([fftconvolve(sent, leg)[: sent.size] for leg in legs])
        dry = 0.0 if leak is None else 10.0 ** (leak / 20.0) * np.sqrt((wet**2).mean() / (sent**2).mean())
        printed = np.stack([synthesis.late(leg, round(late_ms * FS / 1000.0)) for leg in wet + dry * sent])
        fed = np.einsum("i,in->n", source_gains(parts, printed[0], FS), parts)
        found = estimate_leak(fed, printed, FS, pre_delay_s=pre_delay_s if known else None)
        said = verdict(found)
        place = "in place" if late_ms == 0.0 else "early" if late_ms < 0.0 else "late"
        table[f"{'clean' if leak is None else f'{leak:.0f} dB'} {place}{' pre-delay known' if known else ''}"][
            said
        ] += 1
        off = None if found.lag_s is None else 1000.0 * found.lag_s - late_ms
        told = "none" if off is None else "right" if abs(off) < 1.0 else "at least"
        if told == "at least" and found.lag_by in ("at-once", "pre-delay") and hall and late_ms < 0.0:
            told = "by chance"  # early by just the time of its first reflection
        if off is not None and told == "at least" and not (found.lag_by == "before-its-source" and off > 0.0):
            told = "wrong"
        table[f"lag {place}"][told] += 1
        if (leak is None and said == "flagged") or (leak is not None and said == "clear") or told == "wrong":
            wrong += 1
            print("WRONG", case, kinds, pre_delay_s, late_ms, leak, hall, known, found, flush=True)
        if leak is not None and leak >= -30.0 and found.dry_db is not None:
            apart["dry level, dB"].append(abs(found.dry_db - leak))
        begins = min(int(np.argmax(np.abs(leg) >= 0.1 * np.abs(leg).max())) for leg in legs) / FS
        if begins >= 0.005 and off is not None and told == "right" and found.onset_s is not None:
            apart["pre-delay, ms"].append(abs(1000.0 * (found.onset_s - begins) - late_ms))
        if found.decay_s is not None:
            apart["decay, %"].append(100.0 * abs(found.decay_s / decay_s - 1.0))
        table["decay"]["read" if found.decay_s is not None else "not read"] += 1
    for name in sorted(table):
        print(f"{name:40}", dict(table[name]))
    for name, values in apart.items():
        print(f"{name:40} {len(values)} cases, 95 % within {np.percentile(values, 95):.2f}, most {max(values):.2f}")
    print("wrong:", wrong)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
