"""What a part is made of in octave bands: measured in its files, else the spectrum usual for its kind of part.

A spectrum is K-weighted (ITU-R BS.1770-5): the shares of the bands in the energy by which loudness and balance are
told. The bands are those of :mod:`mixlint.signal.octave_bands`.

Without audio a part is taken to have equal energy in every octave from one frequency to another, to fall by 12 dB per
octave below and by 6 above. Speech is so from about 125 Hz to 1 kHz, for both sexes and in twelve languages: Byrne and
others, "An international comparison of long-term average speech spectra", J. Acoust. Soc. Am. 96(4), 2108-2120, 1994
(its table from memory). That other middle parts are alike, and the ranges of low and bright ones, are common practice,
no source. It is an assumption, and :data:`SPECTRUM_TEXT` says it to a reader.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Literal

from mixlint.analysis.activity import clips_on
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.naming import family_of
from mixlint.session import Channel, Unknown, is_known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SPECTRUM_TEXT: Final = "with the spectrum usual for its kind of part"

LOW_FROM: Final = Setting(
    "spectrum.low_from",
    40.0,
    "Hz",
    "From here on a kick or a bass without measured audio is taken to sound.",
    lowest=20.0,
    highest=20_000.0,
)
LOW_TO: Final = Setting(
    "spectrum.low_to", 160.0, "Hz", "Up to here a kick or a bass is taken to sound.", lowest=20.0, highest=20_000.0
)
MIDDLE_FROM: Final = Setting(
    "spectrum.middle_from",
    125.0,
    "Hz",
    "From here on a voice, or an instrument of the middle, is taken to sound.",
    "Byrne and others 1994 for voices; common practice, no source, for the others",
    lowest=20.0,
    highest=20_000.0,
)
MIDDLE_TO: Final = Setting(
    "spectrum.middle_to",
    1000.0,
    "Hz",
    "Up to here a voice, or an instrument of the middle, is taken to sound.",
    "Byrne and others 1994 for voices; common practice, no source, for the others",
    lowest=20.0,
    highest=20_000.0,
)
BRIGHT_FROM: Final = Setting(
    "spectrum.bright_from", 2500.0, "Hz", "From here on a hi-hat is taken to sound.", lowest=20.0, highest=20_000.0
)
BRIGHT_TO: Final = Setting(
    "spectrum.bright_to",
    10_000.0,
    "Hz",
    "Up to here a hi-hat is taken to sound; a kit, percussion or a sound effect from the lowest kick up to here.",
    lowest=20.0,
    highest=20_000.0,
)
SPECTRUM_SETTINGS: Final = (LOW_FROM, LOW_TO, MIDDLE_FROM, MIDDLE_TO, BRIGHT_FROM, BRIGHT_TO)
"""What decides the spectrum of a part that is not measured."""

SpectrumShape = Literal["low", "middle", "bright", "wide"]

_RANGES: Final[dict[SpectrumShape, tuple[Setting, Setting]]] = {
    "low": (LOW_FROM, LOW_TO),
    "middle": (MIDDLE_FROM, MIDDLE_TO),
    "bright": (BRIGHT_FROM, BRIGHT_TO),
    "wide": (LOW_FROM, BRIGHT_TO),
}
_OF_ROLES: Final[dict[str, SpectrumShape]] = {"kick": "low", "hi-hat": "bright"}
_OF_FAMILIES: Final[dict[str, SpectrumShape]] = {
    "bass": "low",
    "drums": "wide",
    "percussion": "wide",
    "sound-effects": "wide",
    "backing-tracks": "wide",
    "room-microphones": "wide",
}


def usual_spectrum(context: SessionContext, channel: Channel) -> Floats:
    """The shares (10,) of the bands that are taken for a part's K-weighted energy, from its role; they add up to 1."""
    role = context.role(channel.id) or ""
    shape = _OF_ROLES.get(role) or _OF_FAMILIES.get(family_of(role) or "", "middle")
    return _usual(context, shape)


@per_session
def _usual(context: SessionContext, shape: SpectrumShape) -> Floats:
    """The same for a shape."""
    import numpy as np

    from mixlint.signal.octave_bands import CENTRES_HZ, k_weights

    first, last = sorted(context.setting(one) for one in _RANGES[shape])
    below, above = (np.minimum(CENTRES_HZ / first, 1.0)) ** 4, (np.minimum(last / CENTRES_HZ, 1.0)) ** 2
    energy = below * above * k_weights(CENTRES_HZ)
    return np.asarray(energy / energy.sum())


@per_session
def spectrum_of(context: SessionContext, channel_id: str) -> Floats:
    """The shares (10,) of the bands in a part's K-weighted energy at the input of its strip; they add up to 1.

    They are measured over the whole of the files that its clips play, each as long as it plays; without audio, or
    where any of them cannot be read or is silent, they are those of :func:`usual_spectrum`.
    """
    channel = context.channels[channel_id]
    measured = measured_spectrum(context, channel)
    return usual_spectrum(context, channel) if measured is None else measured


@per_session
def measured_spectrum(context: SessionContext, channel: Channel) -> Floats | None:
    """The measured shares (10,) of a part's files, None where they cannot be told."""
    if context.audio is None or not clips_on(channel):
        return None
    import numpy as np

    total = np.zeros(0)
    for clip in clips_on(channel):
        measure = None if clip.file is None else context.audio.measure(clip.file)
        if measure is None or isinstance(measure, Unknown):
            return None
        gain = 10.0 ** ((clip.gain_db if is_known(clip.gain_db) else 0.0) / 10.0)
        bands = measure.bands.sum(axis=0) * (gain * (clip.end_s - clip.start_s))
        total = bands if not total.size else total + bands
    whole = float(total.sum())
    return np.asarray(total / whole) if whole > 0.0 else None
