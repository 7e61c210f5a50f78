"""The stereo balance of the mix in its lows, its middle and its highs: where one of them leans, the whole may hide it.

Twice: by the energies of the parts, each with the octaves of its own files leg by leg and its gains there as they stand
now, which needs no sample; and by the samples of the computed mix (:mod:`mixlint.analysis.computed_mix`), where parts
that have something in common add as they do. On songs of unlike parts the two lay within half a decibel of each other.
Energies are K-weighted. Balance is 10 log10(left / right): 0 is even, positive is heavier on the left.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on, span_text, time_grid
from mixlint.analysis.balance import QUIET, STRETCH, balance_curve, windows
from mixlint.analysis.computed_mix import computed_mix
from mixlint.analysis.context import BANDS, SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix, measured_energy
from mixlint.analysis.gain_to_mix_bus import power_ratio_db
from mixlint.analysis.settings import Setting
from mixlint.analysis.spectrum import spectrum_of
from mixlint.session import Unknown, is_known
from mixlint.units import clock_text, few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Singles = NDArray[np.float32]

LEAST: Final = Setting(
    "bands.least",
    -20.0,
    "dB",
    "Lows, middle or highs this far under the whole mix, K-weighted, are not judged by themselves.",
    lowest=-60.0,
    highest=0.0,
)

NAMES: Final = ("low", "mid", "high")
OCTAVES: Final = (slice(0, 3), slice(3, 7), slice(7, 10))
TEXTS: Final = ("under 180 Hz", "between 180 Hz and 2.8 kHz", "over 2.8 kHz")
"""Lows, middle and highs by octaves (IEC 61260-1): up to that of 125 Hz, up to that of 2 kHz, and above."""

SHOWN: Final = 2
"""So many parts are named as what leans: wording."""

LEAST_PULL: Final = 0.1
"""A part with less than this share of what leans is not named: wording."""

EVEN: Final = "even"
FRAME_S: Final = 0.1
EDGE_S: Final = 0.05


class BandBalance(NamedTuple):
    """The balance of lows, middle or highs.

    Args:
        name: one of :data:`NAMES`.
        db: over the song, dB.
        share_db: its energy re that of the whole mix, dB.
        beyond_db: how much further it leans to its side than the whole mix does, 0 or more.
        text: where and to which side, for a reader.
    """

    name: str
    db: float
    share_db: float
    beyond_db: float
    text: str


class WorstBand(NamedTuple):
    """The stretch in which lows, middle or highs lean furthest beyond the whole mix.

    Args:
        beyond_db: by how much, dB.
        text: which, where and to which side, for a reader.
    """

    beyond_db: float
    text: str


class _Parts(NamedTuple):
    """The energy of the parts at the mix bus.

    Args:
        ids: their ids.
        sides: (2, parts, bands, T) left and right.
    """

    ids: tuple[str, ...]
    sides: Floats


@per_session
def _parts_in_bands(context: SessionContext) -> _Parts | Unknown:
    """The parts in lows, middle and highs over the song; Unknown where one is not measured."""
    import numpy as np

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    if not parts or not all(part.measured for part in parts):
        return Unknown(unknown="not every part is measured", settle="look at a meter of both sides in bands")
    found = np.zeros((2, len(parts), len(NAMES), time_grid(context).size - 1))
    for number, part in enumerate(parts):
        octaves = _octaves_at_mix(context, part.channel)
        for side, energy in enumerate((part.left, part.right)):
            whole = octaves[side].sum()
            for band, inside in enumerate(OCTAVES):
                share = octaves[side, inside].sum() / whole if whole > 0.0 else 0.0
                found[side, number, band] = energy * share
    return _Parts(tuple(part.channel for part in parts), found)


def _octaves_at_mix(context: SessionContext, channel_id: str) -> Floats:
    """The energy (2, 10) of a part left and right at the mix bus in octaves, in any unit, at its present gains."""
    import numpy as np

    legs = _octaves_of_legs(context, channel_id)
    energy = measured_energy(context, context.channels[channel_id])
    assert energy is not None
    if legs.shape[0] == 1:
        shared = legs[0]
        legs = np.repeat(legs, 2, axis=0)
    else:
        of_each = float(np.sqrt(energy.legs[0].sum() * energy.legs[1].sum()))
        alike = float(energy.cross.sum()) / of_each if of_each > 0.0 else 0.0
        shared = max(-1.0, min(1.0, alike)) * np.sqrt(legs[0] * legs[1])
    direct = context.gains_now.direct[channel_id][0, BANDS]  # (10, side, leg)
    ambience = context.gains_now.ambience[channel_id][0, BANDS]  # (10, side, leg, leg)
    form = (direct[..., :, :, None].conj() * direct[..., :, None, :]).real + ambience
    sides = (
        form[..., 0, 0] * legs[0][:, None]
        + form[..., 1, 1] * legs[1][:, None]
        + 2.0 * form[..., 0, 1] * shared[:, None]
    )
    return np.asarray(np.clip(sides, 0.0, None).T)


def _octaves_of_legs(context: SessionContext, channel_id: str) -> Floats:
    """The K-weighted energy (1 or 2, 10) of each leg of a part's files in octaves, each as long as it plays."""
    import numpy as np

    channel = context.channels[channel_id]
    if context.routing.legs[channel_id] == 1 or context.audio is None:
        return spectrum_of(context, channel_id)[None]
    total = np.zeros((2, spectrum_of(context, channel_id).size))
    for clip in clips_on(channel):
        measure = context.audio.measure(clip.file) if clip.file is not None else None
        if measure is None or isinstance(measure, Unknown):
            continue
        gain = 10.0 ** ((clip.gain_db if is_known(clip.gain_db) else 0.0) / 10.0) * (clip.end_s - clip.start_s)
        bands = np.repeat(measure.bands, 2, axis=0) if measure.legs == 1 else measure.bands[:2]
        total += bands * (gain / max(measure.header.duration_s, 1e-9))
    return total


@per_session
def bands_by_energy(context: SessionContext) -> tuple[BandBalance, ...] | Unknown:
    """The balance of lows, middle and highs over the song, by the energies of the parts."""
    parts = _parts_in_bands(context)
    if isinstance(parts, Unknown):
        return parts
    left, right = parts.sides.sum(axis=3)  # each (parts, bands)
    found = _balances(context, left.sum(axis=0), right.sum(axis=0))
    if isinstance(found, Unknown):
        return found
    return tuple(
        one
        if one.text.startswith(EVEN)
        else one._replace(text=f"{one.text}{_by(context, parts.ids, left[:, band] - right[:, band])}")
        for band, one in enumerate(found)
    )


def _by(context: SessionContext, ids: tuple[str, ...], surplus: Floats) -> str:
    """Which parts lean a band to its side, by what they have more there than on the other (parts,)."""
    towards = surplus if surplus.sum() > 0.0 else -surplus
    whole = float(towards.sum())
    order = sorted(range(len(ids)), key=lambda one: -towards[one])
    names = [context.name(ids[one]) for one in order if whole > 0.0 and towards[one] >= LEAST_PULL * whole]
    return f", by {' and '.join(names[:SHOWN])}" if names else ""


def _balances(context: SessionContext, left: Floats, right: Floats) -> tuple[BandBalance, ...] | Unknown:
    """The balances by the energies (bands,) of both sides."""
    whole_l, whole_r = float(left.sum()), float(right.sum())
    if not whole_l + whole_r > 0.0:
        return Unknown(unknown="nothing sounds at the mix bus")
    whole = power_ratio_db(whole_l, whole_r)
    found = []
    for band, name in enumerate(NAMES):
        db = power_ratio_db(float(left[band]), float(right[band]))
        share = power_ratio_db(float(left[band] + right[band]), whole_l + whole_r)
        beyond = _beyond(db, whole) if share >= context.setting(LEAST) else 0.0
        found.append(BandBalance(name, db, share, beyond, f"{_leaning(db)} {TEXTS[band]}"))
    return tuple(found)


def _leaning(db: float) -> str:
    """``4.2 dB to the left``, or ``even``."""
    shown = number_text(abs(db), "dB")
    return EVEN if shown == "0 dB" else f"{shown} to the {'left' if db > 0.0 else 'right'}"


def _beyond(db: float, whole_db: float) -> float:
    """How much further a band of balance ``db`` leans to its side than the whole mix."""
    to_its_side = whole_db if db > 0.0 else -whole_db
    return max(0.0, abs(db) - max(0.0, to_its_side))


@per_session
def worst_band(context: SessionContext) -> WorstBand | Unknown:
    """The stretch (setting ``balance.stretch``) in which a band leans furthest beyond the whole, by energies.

    Unknown where a part is not measured, or the song is shorter than the stretch.
    """
    import numpy as np

    parts = _parts_in_bands(context)
    if isinstance(parts, Unknown):
        return parts
    edges = time_grid(context)
    width = max(1, round(context.setting(STRETCH) / float(edges[1] - edges[0])))
    left, right = (windows(one.sum(axis=0), width) for one in parts.sides)  # each (bands, W)
    if not left.shape[1]:
        return Unknown(unknown="the song is shorter than the stretch that is judged")
    whole = balance_curve(left.sum(axis=0), right.sum(axis=0), context.setting(QUIET))
    total = left.sum(axis=0) + right.sum(axis=0)
    best = WorstBand(0.0, "none leans beyond the whole")
    for band, text in enumerate(TEXTS):
        judged = ~np.isnan(whole) & (left[band] + right[band] >= total * 10.0 ** (context.setting(LEAST) / 10.0))
        for at in np.flatnonzero(judged):
            db = power_ratio_db(float(left[band, at]), float(right[band, at]))
            beyond = _beyond(db, float(whole[at]))
            if beyond > best.beyond_db:
                span = span_text(context, float(edges[at]), float(edges[at + width]))
                best = WorstBand(beyond, f"{_leaning(db)} {text} in {span}")
    return best


@per_session
def bands_by_samples(context: SessionContext) -> tuple[BandBalance, ...] | Unknown:
    """The balance of lows, middle and highs by the samples of the computed mix.

    Unknown where the session does not show all of the mix.
    """
    import numpy as np

    from mixlint.signal.octave_bands import OctaveMeter

    mixed = computed_mix(context)
    if isinstance(mixed, Unknown):
        return mixed
    if mixed.hidden:
        return Unknown(
            unknown=f"not all of the mix is shown: {few_text(mixed.hidden)}", settle="look at a meter in bands"
        )
    total = np.zeros((2, OCTAVES[-1].stop))
    stretches: list[tuple[float, Floats]] = []
    for start, samples in zip(mixed.starts_s, mixed.samples, strict=True):
        meter = OctaveMeter(2, mixed.rate_hz, round(FRAME_S * mixed.rate_hz))
        meter.feed(_faded(samples, round(EDGE_S * mixed.rate_hz)))
        bands = meter.finish() * samples.shape[1]
        stretches.append((start, bands))
        total += bands
    found = _balances(context, *_grouped(total))
    if isinstance(found, Unknown):
        return found
    return tuple(one._replace(text=f"{one.text}{_most(stretches, band, one.db)}") for band, one in enumerate(found))


def _faded(samples: Singles, count: int) -> Singles:
    """Samples (2, n) with soft edges: where a stretch is cut out of a bass, the step would count as highs."""
    import numpy as np

    count = min(count, samples.shape[1] // 2)
    ramp = (0.5 - 0.5 * np.cos(np.pi * np.arange(count) / max(1, count))).astype(np.float32)
    soft = samples.copy()
    soft[:, :count] *= ramp
    soft[:, soft.shape[1] - count :] *= ramp[::-1]
    return soft


def _grouped(octaves: Floats) -> tuple[Floats, Floats]:
    """Energies (bands,) left and right of octaves (2, 10)."""
    import numpy as np

    both = np.stack([octaves[:, inside].sum(axis=1) for inside in OCTAVES], axis=1)
    return both[0], both[1]


def _most(stretches: list[tuple[float, Floats]], band: int, db: float) -> str:
    """Where a band leans most to its side, of the stretches that were added up."""
    if len(stretches) < 2 or _leaning(db) == EVEN:
        return ""
    leans = []
    for start, octaves in stretches:
        left, right = _grouped(octaves)
        leans.append((power_ratio_db(float(left[band]), float(right[band])), start))
    most = max(leans) if db > 0.0 else min(leans)
    return f", most about {clock_text(most[1])}"
