"""What cables, radio links and telephones leave in a recording, again and again."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.settings import Setting
from mixlint.analysis.sound_memory import remembered
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import SHOWN, played
from mixlint.session import Unknown
from mixlint.units import few_text, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.measure import Measure
    from mixlint.signal.crackles import Burst

    Floats = NDArray[np.float64]

FACTS: Facts[MediaUse] = Facts()

SHARP: Final = Setting(
    "crackle.sharp", 27.0, "dB", "A crackle bends the wave so much more sharply than it bends around it.", lowest=20.0,
    highest=90.0, basis="tried: bursts in 346 good files and recordings reach 26 dB, planted crackle 32 to 45 dB",
)  # fmt: skip
OVER: Final = Setting(
    "crackle.over", 10.0, "dB", "And so much more than the sharpest tenth of the file.", lowest=3.0, highest=90.0
)
CELLS: Final = Setting(
    "crackle.cells", 4.0, "", "So many hundredths of a second close together make a burst of it.", lowest=2.0
)
CRACKLE: Final = (SHARP, OVER, CELLS)
DROP: Final = Setting(
    "drops.drop", 18.0, "dB", "A leg drops out where it lies so much further under the other than usual.", lowest=10.0
)

BUZZ_SHARP_DB: Final = 14.0
BUZZ_OVER_DB: Final = -8.0
BUZZ_CELLS: Final = 15
BUZZ_LOOKS: Final = 3
BUZZ_S: Final = 1.0
"""Where a telephone may be looked for: the longest stretches that bend a little more sharply, a second of each. A bound
of work; what decides is how exactly they repeat."""


ONE_EVENT_S: Final = 0.05
"""What happens on both legs at once is one event: rounding."""


class Place(NamedTuple):
    """A burst in one leg of a file: the leg, seconds of the file, how long, and its level, dBFS."""

    leg: int
    start_s: float
    length_s: float
    level_db: float


def _levels(measure: Measure) -> tuple[Floats, Floats]:
    """Peaks (legs, cells) and bends (2, legs, cells), dB."""
    import numpy as np

    from mixlint.media.measure import peak_levels

    return peak_levels(measure.peak), measure.bends.astype(np.float64)


def _measure(context: SessionContext, media_id: str) -> Measure | None:
    assert context.audio is not None
    measure = context.audio.measure(media_id)
    return None if isinstance(measure, Unknown) else measure


def _places(measure: Measure, leg: int, bursts: list[Burst]) -> list[Place]:
    cell = measure.cell_s
    return [Place(leg, one.start * cell, one.length * cell, one.level_db) for one in bursts]


@per_session
def _crackles(context: SessionContext, media_id: str) -> list[Place]:
    from mixlint.signal.crackles import crackles

    measure = _measure(context, media_id)
    if measure is None:
        return []
    peak, bends = _levels(measure)
    sharp, over, least = (context.setting(one) for one in CRACKLE)
    return [
        place
        for leg in range(measure.legs)
        for place in _places(measure, leg, crackles(bends[0, leg], bends[1, leg], peak[leg], sharp, over, round(least)))
    ]


@per_session
def _noises(context: SessionContext, media_id: str) -> list[Place]:
    from mixlint.signal.crackles import noise_bursts

    measure = _measure(context, media_id)
    if measure is None:
        return []
    peak, bends = _levels(measure)
    legs = range(measure.legs)
    return [one for leg in legs for one in _places(measure, leg, noise_bursts(bends[1, leg], peak[leg]))]


@per_session
def _drops(context: SessionContext, media_id: str) -> list[Place]:
    from mixlint.signal.crackles import drops

    measure = _measure(context, media_id)
    if measure is None or measure.legs != 2:
        return []
    peak, _ = _levels(measure)
    limit = context.setting(DROP)
    return [one for leg in (0, 1) for one in _places(measure, leg, drops(peak[leg], peak[1 - leg], limit))]


@per_session
def _telephone(context: SessionContext, media_id: str) -> Place | None:
    """Where a telephone is heard in a file; read only where its wave bends sharply for a while."""
    return remembered(context, "a telephone", [media_id], (), lambda: _telephone_in(context, media_id))


def _telephone_in(context: SessionContext, media_id: str) -> Place | None:
    import numpy as np

    from mixlint.signal.crackles import crackles, of_a_telephone

    measure = _measure(context, media_id)
    if measure is None or context.audio is None:
        return None
    peak, bends = _levels(measure)
    for leg in range(measure.legs):
        likely = crackles(bends[0, leg], bends[1, leg], peak[leg], BUZZ_SHARP_DB, BUZZ_OVER_DB, BUZZ_CELLS)
        for one in _places(measure, leg, sorted(likely, key=lambda one: -one.length)[:BUZZ_LOOKS]):
            samples = context.audio.excerpt(media_id, one.start_s, BUZZ_S)
            if isinstance(samples, Unknown):
                return None
            if of_a_telephone(np.asarray(samples[leg], np.float64), float(measure.header.sample_rate_hz)):
                return one
    return None


def _told(row: Row[MediaUse], found: list[Place]) -> FactValue:
    one = played(row)
    heard: list[Place] = []
    for place in sorted(found):
        both = any(abs(place.start_s - other.start_s) < ONE_EVENT_S for other in heard)
        if one.plays(place.start_s, place.length_s) and not both:
            heard.append(place)
    worst = sorted(heard, key=lambda place: -place.level_db)[:SHOWN]
    texts = []
    for place in sorted(worst, key=lambda place: place.start_s):
        leg = one.leg_name(place.leg)
        length = number_text(place.length_s * 1000.0, "ms")
        texts.append(f"{one.place(row.context, place.start_s)}{', ' if leg else ''}{leg}, {length}")
    more = f"; and {len(heard) - len(texts)} more" if len(heard) > len(texts) else ""
    return FactValue(len(heard), "measured", row.subject.where, few_text(texts, SHOWN, between="; ") + more or "none")


@FACTS.fact(
    "number",
    "Bursts of crackle in what is heard of it: sharp clicks close together, far sharper than all the rest.",
    how="measured",
    settings=CRACKLE,
)
def crackles(row: Row[MediaUse]) -> FactValue:
    played(row)
    return _told(row, _crackles(row.context, row.item.media.id))


@FACTS.fact(
    "number",
    "How often one of its two legs drops out for a moment and is back at once, while the other goes on.",
    how="measured",
    settings=(DROP,),
)
def drops(row: Row[MediaUse]) -> FactValue:
    played(row)
    return _told(row, _drops(row.context, row.item.media.id))


@FACTS.fact("text", "How it crackles, and how often a side drops out.", how="measured", settings=(*CRACKLE, DROP))
def cable_text(row: Row[MediaUse]) -> str:
    bursts, gone = row.need("crackles"), row.need("drops")
    texts = []
    if bursts.number:
        word = "bursts" if bursts.number > 1 else "burst"
        texts.append(f"{number_text(bursts.number)} {word} of crackle ({bursts.note})")
    if gone.number:
        texts.append(f"a side that drops out {number_text(gone.number)} times ({gone.note})")
    return " and ".join(texts) or "nothing"


@FACTS.fact(
    "number",
    "Short bursts of even white noise that begin and end at once in a sound that is not white.",
    how="measured",
)
def noise_bursts(row: Row[MediaUse]) -> FactValue:
    played(row)
    return _told(row, _noises(row.context, row.item.media.id))


@FACTS.fact(
    "switch",
    "A mobile telephone is heard in it: bursts 216.67 times a second, as it sends (ETSI TS 100 908, clause 5).",
    how="measured",
)
def telephone(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    found = _telephone(row.context, row.item.media.id)
    if found is None or not one.plays(found.start_s, found.length_s):
        return FactValue(False, "measured", row.subject.where, "nowhere")
    return FactValue(True, "measured", row.subject.where, one.place(row.context, found.start_s))
