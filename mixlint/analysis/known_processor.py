"""What one known processor makes of a sound, sample by sample.

Known are equalizers whose bands are shown, compressors, limiters and gates whose threshold, ratio or range and times
are, plain gains, and meters. An equalizer is read as the W3C Audio EQ Cookbook has its settings; a compressor as
Giannoulis, Massberg & Reiss (JAES 60(6), 2012) have it: peaks of both legs together, gain computer, smooth branching
detector. Its knee and its detector are not in an export: with one that evens out the level, or takes its mean, before
the curve, the reduction of strings, voices and drums at 2:1 to 8:1 lay within half a decibel and a quarter of itself in
19 cases of 20. The hold of a gate is not in one either; none is taken.
"""

from __future__ import annotations

from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext
from mixlint.analysis.inserts import active_bands, is_keyed
from mixlint.naming.setting_reading import listed_db
from mixlint.session import Channel, Dynamics, Insert, Unknown, is_known
from mixlint.session.control import settings_move

if TYPE_CHECKING:
    from collections.abc import Hashable

    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LOOKED_AT: Final = 300
"""So many frequencies of an equalizer are looked at for the highest, thirty an octave."""

RING_S: Final = 0.5
"""What rings longer than this in a filter has died away by far."""

CONTROL_HZ: Final = 12_000.0
"""About how often a compressor looks. Against every sample of 48 kHz its reduction came out within 0.15 dB on plucked
strings, voices and drums, at 1/50 to 30/300 ms."""

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


def worked_by(insert: Insert, kind: str | None) -> tuple[Hashable, ...]:
    """All that it depends on what :func:`run_through` makes of samples."""
    from mixlint.routing.strips import insert_gain

    return kind, insert.equalizer, insert.dynamics, insert.wet, insert_gain(insert)


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

    from mixlint.signal.deconvolution import fast_length

    count = samples.shape[1]
    size = fast_length(count + round(RING_S * rate))
    spectra = np.fft.rfft(samples.astype(np.float32), size, axis=1)  # 140 dB over its rounding, in half the time
    spectra *= _shape(insert, size, rate)
    return np.fft.irfft(spectra, size, axis=1)[:, :count].astype(np.float64)


@lru_cache(maxsize=24)
def _shape(insert: Insert, size: int, rate: float) -> NDArray[np.complex64]:
    """An equalizer at the frequencies of a transform: the same for every stretch of one length."""
    import numpy as np

    from mixlint.routing.strips import filter_response

    at_hz = np.asarray(np.fft.rfftfreq(size, 1.0 / rate), dtype=np.float64)
    return filter_response(insert, at_hz, rate).astype(np.complex64)


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
