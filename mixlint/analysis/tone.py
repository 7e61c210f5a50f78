"""The tone of a part on its path to the mix bus: its low cuts, its equalizers, and what its groups do against them.

Filters count on the part's own channel and on the groups that its main output passes, with the responses of
:func:`mixlint.routing.strips.band_response` at the session's sample rate.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import groups_on_the_path
from mixlint.analysis.inserts import active_bands, active_inserts, may_hide_filter, processor_name, processor_on
from mixlint.analysis.settings import Setting
from mixlint.routing.strips import ASSUMED_RATE_HZ, band_response
from mixlint.session import Channel, EqualizerBand, Insert, NotKnown, Unknown, is_known
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LEVEL_PROCESSORS: Final = frozenset({"compressor", "limiter"})
"""Processors for which it matters what low end reaches them."""

PASS_BANDS: Final = frozenset({"high-pass", "low-pass", "band-pass"})
"""Bands that cut off an end of the spectrum; bells and shelves move a part of it."""


def strips_on_the_path(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The channel and the groups its main output passes, in signal order; the mix bus is left out."""
    return (channel, *(context.channels[group] for group in groups_on_the_path(context, channel.id)))


class LowCuts(NamedTuple):
    """The low cuts on a part's path to the mix bus.

    Args:
        bands: the high-pass bands that the export shows, with the name of the processor for a reader.
        hidden: names of processors that may hold another.
    """

    bands: tuple[tuple[EqualizerBand, str], ...]
    hidden: tuple[str, ...]

    @property
    def highest_hz(self) -> float:
        """The highest corner frequency among the bands shown, hertz; 0 where there is none."""
        return max((band.freq_hz for band, _ in self.bands if is_known(band.freq_hz)), default=0.0)


@per_session
def low_cuts(context: SessionContext, channel: Channel) -> LowCuts:
    """The low cuts on a channel and on the groups it passes, in signal order."""
    bands: list[tuple[EqualizerBand, str]] = []
    hidden: list[str] = []
    for strip in strips_on_the_path(context, channel):
        for insert, reading in active_inserts(context, strip):
            called = processor_on(context, insert, strip, channel)
            bands += [(band, called) for band in high_passes(insert)]
            if may_hide_filter(insert, reading):
                hidden.append(called)
    return LowCuts(tuple(bands), tuple(dict.fromkeys(hidden)))


def high_passes(insert: Insert) -> list[EqualizerBand]:
    """The high-pass bands of an insert that are switched on and have a known corner frequency."""
    return [b for b in active_bands(insert) if b.kind == "high-pass" and is_known(b.freq_hz)]


def low_cut_attenuation_db(context: SessionContext, channel: Channel, hz: float) -> float:
    """The attenuation at ``hz`` of the low cuts that the export shows on a part's path, dB; 0 without any.

    It is no more than 200 dB.
    """
    import numpy as np

    rate = context.routing.rate_hz or ASSUMED_RATE_HZ
    total = np.ones(1, dtype=np.complex128)
    for band, _ in low_cuts(context, channel).bands:
        total = total * band_response(band, np.array([hz]), rate)
    return float(-20.0 * np.log10(max(abs(total[0]), 1e-10)))


TELEPHONE_LOW: Final = Setting(
    "tone.telephone_low", 200.0, "Hz", "A low cut this high, with a high cut, is a telephone effect."
)
TELEPHONE_HIGH: Final = Setting(
    "tone.telephone_high", 5000.0, "Hz", "A high cut this low, with a low cut, is a telephone effect."
)
TELEPHONE: Final = (TELEPHONE_LOW, TELEPHONE_HIGH)


def is_telephone_effect(context: SessionContext, channel: Channel) -> bool:
    """True for a telephone effect: a low cut and a high cut on the path, as high and as low as the settings say.

    Shipped, they leave no more than 200 Hz to 5 kHz (common practice, no source).
    """
    bands = [
        b
        for strip in strips_on_the_path(context, channel)
        for i, _ in active_inserts(context, strip)
        for b in active_bands(i)
    ]
    return _narrowed(context, bands)


def narrows(context: SessionContext, insert: Insert) -> bool:
    """True for an insert that makes a telephone effect by itself, as :func:`is_telephone_effect`; on or off."""
    return _narrowed(context, active_bands(insert))


def _narrowed(context: SessionContext, bands: list[EqualizerBand]) -> bool:
    """True where a low cut and a high cut are as high and as low as the settings say."""
    low, high = context.setting(TELEPHONE_LOW), context.setting(TELEPHONE_HIGH)
    cut_low = any(b.kind == "high-pass" and is_known(b.freq_hz) and b.freq_hz >= low for b in bands)
    cut_high = any(b.kind == "low-pass" and is_known(b.freq_hz) and b.freq_hz <= high for b in bands)
    return cut_low and cut_high


def low_cut_place(context: SessionContext, channel: Channel) -> str | Unknown:
    """Whether a channel's own first low cut comes before or after its first compressor or limiter.

    Returns:
        ``before`` or ``after``; ``none`` where the export shows no low cut, ``no compressor`` where nothing acts on
        the level. Unknown for one after a compressor, where a processor ahead of it may hide another.
    """
    seen = ""
    hidden: list[str] = []
    for insert, reading in active_inserts(context, channel):
        if high_passes(insert):
            if seen:
                return _order_after(seen, hidden)
            return "before" if _compressed(context, channel) else "no compressor"
        if not seen and may_hide_filter(insert, reading):
            hidden.append(processor_name(insert))
        if not seen and reading.word in LEVEL_PROCESSORS:
            seen = insert.name or "the compressor"
            if insert.opaque:
                hidden.append(f"the side-chain of {seen}")
    return "none" if _compressed(context, channel) else "no compressor"


def _order_after(compressor: str, hidden: list[str]) -> str | Unknown:
    """``after``, unless one of ``hidden`` may hold a low cut ahead of the compressor."""
    if not hidden:
        return "after"
    return Unknown(
        unknown=f"{', '.join(dict.fromkeys(hidden))} may hold a low cut that is hidden, ahead of {compressor}",
        settle="look at its filter",
    )


def _compressed(context: SessionContext, channel: Channel) -> bool:
    """True when a compressor or limiter acts on the channel."""
    return any(reading.word in LEVEL_PROCESSORS for _, reading in active_inserts(context, channel))


class EqConflict(NamedTuple):
    """Where a channel's equalizer and its groups' work against each other most.

    Args:
        db: the lesser of the two opposite moves there, dB; 0 where they nowhere oppose.
        text: both moves, their strips and the frequency, for a reader.
    """

    db: float
    text: str


@per_session
def eq_conflict(context: SessionContext, channel: Channel) -> EqConflict:
    """The strongest conflict between the bells and shelves of a channel and those of the groups it passes.

    Moves conflict where they have opposite signs; of the two the lesser one counts, as that much is undone. Frequencies
    are those of :func:`third_octaves`. Bands that the export hides do not count.
    """
    import numpy as np

    at = third_octaves()
    own = eq_curve_db(context, [channel], at)
    groups = strips_on_the_path(context, channel)[1:]
    theirs = eq_curve_db(context, list(groups), at)
    against = np.where(own * theirs < 0.0, np.minimum(np.abs(own), np.abs(theirs)), 0.0)
    where = int(np.argmax(against))
    if against[where] <= 0.0:
        return EqConflict(0.0, "nowhere")
    names = " and ".join(
        context.name(g.id) for g in groups if any(active_bands(i) for i, _ in active_inserts(context, g))
    )
    text = (
        f"{_signed(own[where])} on {context.name(channel.id)} against {_signed(theirs[where])} on {names}"
        f" at {number_text(float(at[where]), 'Hz')}"
    )
    return EqConflict(float(against[where]), text)


def _signed(db: float) -> str:
    """A gain for a reader, with its sign."""
    return ("+" if db > 0 else "") + number_text(float(db), "dB")


def third_octaves() -> Floats:
    """Third-octave midband frequencies from 80 Hz to 8 kHz, hertz (21,): 1000 · 10^(n / 10), base ten (IEC 61260-1).

    No setting: it is the grid on which curves are compared, across the range in which bells and shelves are used.
    """
    import numpy as np

    return np.asarray(1000.0 * 10.0 ** (np.arange(-11, 10) / 10.0))


def eq_curve_db(context: SessionContext, strips: list[Channel], at_hz: Floats, *, passes_too: bool = False) -> Floats:
    """The equalizer curves of several strips in series, as far as the export shows them.

    Args:
        context: the session context.
        strips: the channels whose active inserts count.
        at_hz: frequencies (F,), hertz.
        passes_too: count high-pass, low-pass and band-pass bands as well as bells and shelves.

    Returns:
        The gain (F,), dB, no lower than −200.
    """
    import numpy as np

    rate = context.routing.rate_hz or ASSUMED_RATE_HZ
    total = np.ones(at_hz.shape, dtype=np.complex128)
    for strip in strips:
        for insert, _ in active_inserts(context, strip):
            for band in active_bands(insert):
                if passes_too or band.kind not in PASS_BANDS:
                    total = total * band_response(band, at_hz, rate)
    return np.asarray(20.0 * np.log10(np.maximum(np.abs(total), 1e-10)))


def hidden_on(context: SessionContext, strips: list[Channel]) -> list[str]:
    """Names of the processors on some strips that may hold filters which the export does not show, with the strip.

    Args:
        context: the session context.
        strips: a part and groups it passes, in signal order; what sits on the first is named without it.
    """
    return [
        processor_on(context, insert, strip, strips[0])
        for strip in strips
        for insert, reading in active_inserts(context, strip)
        if may_hide_filter(insert, reading)
    ]


class KnownResponse(NamedTuple):
    """What equalizers and filters make of a signal on its path, as far as the export shows.

    Args:
        db: (F,) the gain of all shown bands, dB, no lower than −200.
        shown: True where any band that does something is shown.
        hidden: names of processors on the path that may hold other filters.
    """

    db: Floats
    shown: bool
    hidden: tuple[str, ...]


def known_response(context: SessionContext, strips: list[Channel], at_hz: Floats) -> KnownResponse | Unknown:
    """The response of several strips in series, high-pass and low-pass bands among it.

    Args:
        context: the session context.
        strips: a part and the groups it passes, or the path of a return's ambience.
        at_hz: frequencies (F,), hertz.

    Returns:
        Unknown where the export does not show the inserts of one of them.
    """
    import numpy as np

    try:
        db = eq_curve_db(context, strips, at_hz, passes_too=True)
        hidden = hidden_on(context, strips)
    except NotKnown as lost:
        return lost.unknown
    return KnownResponse(db, bool((np.abs(db) >= FLAT_DB).any()), tuple(dict.fromkeys(hidden)))


FLAT_DB: Final = 0.05
"""A response that nowhere moves by as much is flat: drawing alone."""
