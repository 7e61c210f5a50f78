"""What stands under the music in a file: offset, hum and noise in the rests, and what of its word and band is used."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.settings import Setting
from mixlint.analysis.sound_memory import remembered
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import played
from mixlint.session import Unknown
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.measure import Measure, RestLevels

    Floats = NDArray[np.float64]

FACTS: Facts[MediaUse] = Facts()

REST: Final = Setting(
    "rests.under",
    15.0,
    "dB",
    "The quietest stretches of a file are rests where they lie so far under its loud tenths of a second.",
    lowest=6.0,
)
NOISY: Final = Setting(
    "rests.noisy",
    0.4,
    "",
    "What is left in the rests is noise from this spectral flatness on; what has less is the tail of a note, or what "
    "other instruments leave in the microphone.",
    basis="tried: white noise has 0.76; of 35 recorded sounds with rests two have more than 0.36, steam and a floor of "
    "−88 dBFS",
    lowest=0.05,
    highest=0.9,
)

LOW_SHELF: Final = Setting(
    "shelf.lowest",
    2000.0,
    "Hz",
    "From here on a spectrum that ends abruptly is looked for.",
    lowest=1000.0,
    highest=9000.0,
)
DEEP: Final = Setting(
    "shelf.deep",
    45.0,
    "dB",
    "Under 9 kHz it has to fall by so much within 400 Hz, since dark parts fall steeply there, too.",
    basis="tried: basses, organs and reverbs of 16 good songs fall by 37 dB at most, three coded sources by 90",
    lowest=26.0,
    highest=200.0,
)


@FACTS.fact(
    "number",
    "Its offset in full scale: how far its middle lies from zero, told where it is quiet, so that a wave that is "
    "higher on one side is none.",
    unit="%",
    how="measured",
)
def offset_percent(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    offset, leg = one.offset()
    name = one.leg_name(leg)
    where = f"on the {name} leg" if name else "on its only leg"
    return FactValue(100.0 * abs(offset), "measured", row.subject.where, where)


def _rest(row: Row[MediaUse]) -> tuple[RestLevels, float] | Unknown:
    """What the noisiest leg holds in the rests, and the level of its loud tenths of a second, dBFS."""
    import numpy as np

    from mixlint.signal.decibel import power_to_db

    one = played(row)
    measure: Measure = one.measure
    if not measure.rests:
        return Unknown(unknown="no stretch of it is quiet and even")
    leg = max(range(measure.legs), key=lambda number: measure.rests[number].level_db)
    power = measure.power[leg, one.blocks()]
    power = power[power > 0.0]
    if not power.size:
        return Unknown(unknown="it is silent")
    loud = power_to_db(float(np.quantile(power, 0.9)))
    return measure.rests[leg], loud


@FACTS.fact(
    "switch",
    "It has rests: stretches of a third of a second or more that are even, far under its music, and no digital "
    "silence.",
    how="measured",
    settings=(REST,),
)
def has_rests(row: Row[MediaUse]) -> bool:
    found = _rest(row)
    if isinstance(found, Unknown):
        return False
    # Hum fills its rests itself: where its lines stand there, half the distance is enough.
    least = row.context.setting(REST) / (2.0 if found[0].hum_hz else 1.0)
    return found[1] - found[0].level_db >= least


@FACTS.fact("number", "The level of the mains hum in its rests; −200 for none.", unit="dBFS", how="measured")
def hum_dbfs(row: Row[MediaUse]) -> FactValue | Unknown:
    found = _rest(row)
    if isinstance(found, Unknown):
        return found
    hz = found[0].hum_hz
    note = f"{number_text(hz, 'Hz')} and its multiples" if hz else "none"
    return FactValue(found[0].hum_db, "measured", row.subject.where, note)


@FACTS.fact("number", "How far the hum lies under the music.", unit="dB", how="measured")
def hum_under_db(row: Row[MediaUse]) -> float | Unknown:
    found = _rest(row)
    return found if isinstance(found, Unknown) else found[1] - found[0].hum_db


@FACTS.fact(
    "number",
    "The level of the noise in its rests, hum aside; −200 where what is left there is no noise.",
    unit="dBFS",
    how="measured",
    settings=(NOISY,),
)
def noise_dbfs(row: Row[MediaUse]) -> float | Unknown:
    found = _rest(row)
    if isinstance(found, Unknown):
        return found
    return found[0].floor_db if found[0].flat >= row.context.setting(NOISY) else -200.0


@FACTS.fact("number", "How far the noise lies under the music.", unit="dB", how="measured", settings=(NOISY,))
def noise_under_db(row: Row[MediaUse]) -> float | Unknown:
    found, noise = _rest(row), row.value("noise_dbfs")
    if isinstance(found, Unknown):
        return found
    return noise if isinstance(noise, Unknown) else found[1] - noise.number


@FACTS.fact("number", "How many bits of its word are ever used; 0 for floating point and silence.", how="measured")
def used_bits(row: Row[MediaUse]) -> int:
    return played(row).measure.used_bits


@FACTS.fact(
    "number",
    "Where its spectrum ends abruptly, far under half the sample rate, as after coding with loss or from a lower rate; "
    "0 where it does not.",
    unit="Hz",
    how="measured",
    settings=(DEEP, LOW_SHELF),
)
def shelf_hz(row: Row[MediaUse]) -> float:
    spectrum = played(row).measure.spectrum
    deep, low = row.context.setting(DEEP), row.context.setting(LOW_SHELF)
    media_id = row.item.media.id
    return remembered(row.context, "a shelf", [media_id], (deep, low), lambda: _shelf_hz(spectrum, deep, low))


def _shelf_hz(spectrum: Floats, deep: float, low: float) -> float:
    """Where a spectrum in steps of 100 Hz ends abruptly; 0 for nowhere."""
    import numpy as np

    level = 10.0 * np.log10(spectrum + 1e-20)
    total = float(10.0 * np.log10(spectrum.sum() + 1e-20))
    count = level.size
    first = max(10, round(low / 100.0))
    for band in range(first, round(HIGHEST_SHELF * count)):
        steep = STEEP_DB if band * 100.0 >= LOWEST_SHELF_HZ else max(STEEP_DB, deep)
        below = float(np.median(level[band - 10 : band]))
        above = level[band + 4 : band + 24]
        if above.size < 10 or below < total - BRIGHT_DB or below - float(np.median(above)) < steep:
            continue
        # Everything above stays down: what comes up again was a notch, or a note.
        if below - float(level[band + 4 :].max()) >= steep - 6.0:
            edge = next((at for at in range(band + 3, band, -1) if level[at] > below - steep / 2.0), band)
            return (edge + 1) * 100.0
    return 0.0


LOWEST_SHELF_HZ: Final = 9000.0
HIGHEST_SHELF: Final = 0.86
"""Of half the rate: beyond it the converters' own filters end the spectrum."""

BRIGHT_DB: Final = 75.0
STEEP_DB: Final = 26.0
"""Within 400 Hz. Of 165 recorded sounds seven fall as steeply, and all seven have nothing above."""
