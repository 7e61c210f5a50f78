"""The tone of a part on its way to the mix bus: its low cuts, its equalizers, and what its group does against them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from mixlint.analysis.ambience import FILTER_KINDS
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.groups import groups_on_the_path
from mixlint.analysis.settings import Setting
from mixlint.naming.reading import Reading
from mixlint.routing import passes
from mixlint.routing.strips import ASSUMED_RATE_HZ, band_response
from mixlint.session import Channel, EqualizerBand, Insert, Unknown, is_known
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

ACTING_ON_LEVEL: Final = frozenset({"compressor", "limiter"})
PASS_BANDS: Final = frozenset({"high-pass", "low-pass", "band-pass"})


def strips_on_the_path(context: SessionContext, channel: Channel) -> tuple[Channel, ...]:
    """The channel and the groups its main output passes, the mix bus left out."""
    return (channel, *(context.channels[group] for group in groups_on_the_path(context, channel.id)))


def active_inserts(context: SessionContext, channel: Channel) -> list[tuple[Insert, Reading]]:
    """The channel's inserts that are switched on and loaded, with what each does."""
    both = zip(channel.inserts, context.processors[channel.id], strict=True)
    return [(insert, reading) for insert, reading in both if passes(insert)]


def may_hide_filter(insert: Insert, reading: Reading) -> bool:
    """True for a processor that may hold a filter which the export does not show."""
    if insert.equalizer is not None:
        return any(band.on is not False and not is_known(band.freq_hz) for band in insert.equalizer.bands)
    return reading.word in FILTER_KINDS or (reading.word is None and insert.opaque)


@dataclass(frozen=True, slots=True)
class LowCuts:
    """The low cuts on a part's way.

    Args:
        bands: those that can be seen, with the name of their processor.
        hidden: names of processors that may hold another.
    """

    bands: tuple[tuple[EqualizerBand, str], ...]
    hidden: tuple[str, ...]

    @property
    def highest_hz(self) -> float:
        """The highest corner among those that can be seen, hertz; 0 where there is none."""
        return max((band.freq_hz for band, _ in self.bands if is_known(band.freq_hz)), default=0.0)


@per_session
def low_cuts(context: SessionContext, channel: Channel) -> LowCuts:
    """The low cuts on the channel and on the groups it passes."""

    bands: list[tuple[EqualizerBand, str]] = []
    hidden: list[str] = []
    for strip in strips_on_the_path(context, channel):
        for insert, reading in active_inserts(context, strip):
            called = _called(context, insert, strip, channel)
            bands += [(band, called) for band in high_passes(insert)]
            if may_hide_filter(insert, reading):
                hidden.append(called)
    return LowCuts(tuple(bands), tuple(dict.fromkeys(hidden)))


def _called(context: SessionContext, insert: Insert, strip: Channel, channel: Channel) -> str:
    name = insert.name or "an unnamed processor"
    return name if strip.id == channel.id else f"{name} on {context.name(strip.id)}"


def high_passes(insert: Insert) -> list[EqualizerBand]:
    """The high-pass bands of an insert that act at a known frequency."""
    if insert.equalizer is None:
        return []
    return [b for b in insert.equalizer.bands if b.kind == "high-pass" and b.on is not False and is_known(b.freq_hz)]


def low_cut_attenuation_db(context: SessionContext, channel: Channel, hz: float) -> float:
    """What the low cuts that can be seen on the way take at ``hz``, dB (0 or more)."""
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
    """True for a telephone effect: a low cut and a high cut on the path that leave no more than a telephone does."""
    bands = [
        b
        for strip in strips_on_the_path(context, channel)
        for i, _ in active_inserts(context, strip)
        for b in active_bands(i)
    ]
    low, high = context.setting(TELEPHONE_LOW), context.setting(TELEPHONE_HIGH)
    cut_low = any(b.kind == "high-pass" and is_known(b.freq_hz) and b.freq_hz >= low for b in bands)
    cut_high = any(b.kind == "low-pass" and is_known(b.freq_hz) and b.freq_hz <= high for b in bands)
    return cut_low and cut_high


def active_bands(insert: Insert) -> list[EqualizerBand]:
    """The bands of an insert that are switched on."""
    return [b for b in insert.equalizer.bands if b.on is not False] if insert.equalizer else []


def low_cut_place(context: SessionContext, channel: Channel) -> str | Unknown:
    """Where the channel's own low cut stands: before or after its first compressor.

    ``none`` where no low cut can be seen, ``no compressor`` where nothing acts on the level.
    """
    seen = ""
    hidden: list[str] = []
    for insert, reading in active_inserts(context, channel):
        if high_passes(insert):
            if seen:
                return _order_after(seen, hidden)
            return "before" if _compressed(context, channel) else "no compressor"
        if not seen and may_hide_filter(insert, reading):
            hidden.append(insert.name or "an unnamed processor")
        if not seen and reading.word in ACTING_ON_LEVEL:
            seen = insert.name or "the compressor"
            if insert.opaque:
                hidden.append(f"the side-chain of {seen}")
    return "none" if _compressed(context, channel) else "no compressor"


def _order_after(compressor: str, hidden: list[str]) -> str | Unknown:
    if not hidden:
        return "after"
    return Unknown(
        unknown=f"{', '.join(dict.fromkeys(hidden))} may hold a low cut that is hidden, ahead of {compressor}",
        settle="look at its filter",
    )


def _compressed(context: SessionContext, channel: Channel) -> bool:
    return any(reading.word in ACTING_ON_LEVEL for _, reading in active_inserts(context, channel))


@dataclass(frozen=True, slots=True)
class EqConflict:
    """Where a channel's equalizer and its groups' work against each other most: the lesser of the two moves, dB."""

    db: float
    text: str


@per_session
def eq_conflict(context: SessionContext, channel: Channel) -> EqConflict:
    """The strongest tug of war between the channel's bells and shelves and those of the groups it passes.

    At each third of an octave from 80 Hz to 8 kHz the moves have opposite signs, and the lesser one counts.
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
    return ("+" if db > 0 else "") + number_text(float(db), "dB")


def third_octaves() -> Floats:
    """Third-octave centres from 80 Hz to 8 kHz, base ten (IEC 61260-1), hertz (21,)."""
    import numpy as np

    return np.asarray(1000.0 * 10.0 ** (np.arange(-11, 10) / 10.0))


def eq_curve_db(context: SessionContext, strips: list[Channel], at_hz: Floats, *, passes_too: bool = False) -> Floats:
    """The known equalizer curves of ``strips`` together, dB (F,).

    Args:
        context: the session context.
        strips: the channels whose inserts count.
        at_hz: frequencies (F,), hertz.
        passes_too: count high-pass, low-pass and band-pass bands as well as bells and shelves.
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


def hidden_filters(context: SessionContext, channel: Channel) -> tuple[str, ...]:
    """Names of the processors on the way that may hold filters which the export does not show."""
    return low_cuts(context, channel).hidden
