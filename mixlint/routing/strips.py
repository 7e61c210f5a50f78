"""One channel strip in numbers: what its inserts, fader and pan do to a signal.

A strip passes its signal in this order: inserts, the pre-fader tap, fader, pan, the post-fader tap. Two-leg signals
are columns ``[left, right]``; a mono signal stands on both legs alike, as the W3C Web Audio up-mix has it, and a mono
strip folds its input with 0.5 (L + R), the W3C down-mix, before its pan law makes two legs of it again.

Known equalizers act with their response, compressors, limiters and gates with their input and output gains, utilities
with the gain they list; what is taken away by level is left out. Opaque processors are taken at unity gain. A
processor with time effect (reverb, delay) splits the signal into dry ``1 − x`` and wet ``x`` for a wet share ``x``; a
wet share that is not known is taken as wholly wet. Each of these is named by
:func:`mixlint.routing.network.assumptions`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import prod
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.naming.setting_reading import listed_db
from mixlint.session import (
    FADER,
    MUTE,
    Channel,
    Control,
    EqualizerBand,
    Insert,
    Session,
    Unknown,
    control_of,
    inserts_now,
    is_known,
)
from mixlint.session.control import ON, lane_values
from mixlint.session.partial import seen_clips
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Complexes = NDArray[np.complex128]

TIME_EFFECTS: Final = frozenset({"reverb", "delay"})
"""Processors whose output is ambience: the signal later, not the signal itself."""

UNREAD_EFFECT: Final = "unread effect"
"""The kind of a processor on an effect return that nothing tells of, where no reverb or delay is seen beside it."""

AMBIENT: Final = TIME_EFFECTS | {UNREAD_EFFECT}
"""Kinds of insert past which a signal counts as ambience."""

ASSUMED_RATE_HZ: Final = 48_000.0
ASSUMED_SLOPE_DB_PER_OCT: Final = 12.0
ASSUMED_Q: Final = 0.7071067811865476


@dataclass(frozen=True, slots=True)
class Laws:
    """The pan laws in force: one for mono sources, one for stereo sources (names as in ``signal.pan``)."""

    mono: str = "equal-power"
    stereo: str = "balance"


def acting_inserts(channel: Channel) -> dict[int, Insert]:
    """The processors that act on the signal now, with every control of theirs as it stands, in signal order.

    Returns:
        Place among the channel's inserts, from 0 → the processor; those are left out that are switched off or were not
        loaded, as far as the export shows.
    """
    inserts = enumerate(inserts_now(channel))
    return {place: insert for place, insert in inserts if insert.loaded is not False and insert.on is not False}


def wet_share(insert: Insert) -> float:
    """The wet share of an effect, 0 … 1; one that is not known counts as wholly wet."""
    return 1.0 if isinstance(insert.wet, Unknown) else insert.wet / 100.0


def legs_of(channel: Channel, session: Session, media_legs: Mapping[str, int] | None = None) -> int:
    """1 for a strip that carries one leg, 2 otherwise.

    The files a channel plays say more than its declared width: two declared legs are no proof of stereo content.
    """
    if channel.legs == 1:
        return 1
    widths_of = media_legs or {m.id: m.legs for m in session.media if is_known(m.legs)}
    files = {clip.file for clip in seen_clips(channel) if clip.file is not None and clip.on is not False}
    widths = [widths_of.get(file) for file in files]
    if widths and all(width == 1 for width in widths):
        return 1
    return 2


def amplitude(level_db: object) -> float:
    """A level in dB as amplitude: silence is 0.0; a level that is not known counts as unity."""
    if not isinstance(level_db, int | float):
        return 1.0
    return 0.0 if level_db <= SILENCE_DB else float(10.0 ** (level_db / 20.0))


def fader_db(channel: Channel) -> float | Unknown:
    """Where the fader stands now, dB."""
    return control_of(channel, FADER).now


def unmuted(channel: Channel) -> bool:
    """True when no mute silences the channel now; a mute that is not known counts as open."""
    mute = control_of(channel, MUTE).now
    return isinstance(mute, Unknown) or mute < ON


def amplitude_over(control: Control, times: Floats) -> Floats:
    """A level over ``times`` (T,) seconds as linear amplitude (T,), or (1,) where nothing automates it."""
    import numpy as np

    return np.array([amplitude(control.static)]) if control.lane is None else lane_values(control.lane, times)


def switch_over(control: Control, times: Floats, *, otherwise: bool) -> NDArray[np.bool_]:
    """A switch over ``times`` (T,) seconds, (T,) or (1,) where nothing automates it; ``otherwise`` where unknown."""
    import numpy as np

    if control.lane is None:
        return np.array([otherwise if isinstance(control.static, Unknown) else control.static >= ON])
    return np.asarray(lane_values(control.lane, times) >= ON)


def pan_matrix(pan: Floats, legs: int, laws: Laws) -> Floats:
    """The pan law as matrices (T, 2, 2) for pan (T,)."""
    import numpy as np

    from mixlint.signal.pan import mono_gains, stereo_matrix

    if legs == 1:
        left, right = mono_gains(pan, laws.mono)
        half = np.stack([np.asarray(left), np.asarray(right)], axis=-1)[..., None] * 0.5
        return np.asarray(np.broadcast_to(half, (*half.shape[:-1], 2)), dtype=np.float64)
    return np.asarray(stereo_matrix(pan, laws.stereo), dtype=np.float64)


def filter_response(insert: Insert, at_hz: Floats, rate_hz: float) -> Complexes:
    """The response (F,) of a known equalizer or filter; unity where there is nothing known."""
    import numpy as np

    total = np.ones(at_hz.shape, dtype=np.complex128)
    if insert.equalizer is None:
        return total
    total *= amplitude(insert.equalizer.input_gain_db) * amplitude(insert.equalizer.output_gain_db)
    for band in insert.equalizer.bands:
        total *= band_response(band, at_hz, rate_hz)
    return total


def band_response(band: EqualizerBand, at_hz: Floats, rate_hz: float) -> Complexes:
    """The response (F,) of one band: Q 0.71 and 12 dB per octave where the export gives none."""
    import numpy as np

    from mixlint.signal.filters import band_response as response

    if band.on is False or not is_known(band.freq_hz):
        return np.ones(at_hz.shape, dtype=np.complex128)
    return response(
        band.kind,
        band.freq_hz,
        band.gain_db if is_known(band.gain_db) else 0.0,
        band.q if is_known(band.q) else ASSUMED_Q,
        band.slope_db_per_oct if is_known(band.slope_db_per_oct) else ASSUMED_SLOPE_DB_PER_OCT,
        at_hz,
        rate_hz,
    )


def dynamics_gain(insert: Insert) -> float:
    """The linear gain of a compressor, limiter or gate for what stays under its threshold: input times output gain.

    A gain that is not known counts as unity. An auto make-up is taken to give back just what is taken away.
    """
    own = insert.dynamics
    return 1.0 if own is None else amplitude(own.input_gain_db) * amplitude(own.output_gain_db)


def trim_gain(insert: Insert) -> float:
    """The linear gain that a utility lists among its parameters, in decibels; 1 where it lists none."""
    listed = listed_db(insert, "trim-gain") if insert.kind == "utility" else None
    return 1.0 if listed is None else amplitude(listed)


def level_gain(channel: Channel) -> float:
    """The linear gain of a channel's acting inserts but for filters: the input and output gains that are known."""
    return prod((insert_gain(insert) for insert in acting_inserts(channel).values()), start=1.0)


def insert_gain(insert: Insert) -> float:
    """The linear gain that one insert adds but for filters: the input and output gains that are known."""
    gain = dynamics_gain(insert) * trim_gain(insert)
    if insert.equalizer is not None:
        gain *= amplitude(insert.equalizer.input_gain_db) * amplitude(insert.equalizer.output_gain_db)
    return gain


class InsertChain(NamedTuple):
    """What the inserts make of a signal at each frequency (F,).

    Args:
        dry: complex gain of what passes without a time effect.
        wet: power gain of what comes out of a time effect.
        spread: True when a reverb makes the wet part, so that either side feeds both.
    """

    dry: Complexes
    wet: Floats
    spread: bool


def insert_chain(channel: Channel, kinds: Mapping[int, str], at_hz: Floats, rate_hz: float) -> InsertChain:
    """Run the inserts of ``channel``; ``kinds`` maps an insert's position to what it does, where that is known."""
    import numpy as np

    dry = np.ones(at_hz.shape, dtype=np.complex128)
    wet = np.zeros(at_hz.shape, dtype=np.float64)
    spread = False
    for place, insert in acting_inserts(channel).items():
        if kinds.get(place) in AMBIENT:
            share = wet_share(insert)
            # What is wet already passes the mix control of a later effect on both of its paths, in power.
            wet = wet * ((1.0 - share) ** 2 + share**2) + share**2 * np.abs(dry) ** 2
            dry = dry * (1.0 - share)
            spread = spread or (kinds[place] == "reverb" and share > 0.0)
        elif insert.equalizer is not None:
            response = filter_response(insert, at_hz, rate_hz)
            dry = dry * response
            wet = wet * np.abs(response) ** 2
        else:
            gain = dynamics_gain(insert) * trim_gain(insert)
            dry, wet = dry * gain, wet * gain**2
    return InsertChain(dry, wet, spread)
