"""In what two parts of a pair differ: the angles they stand at, their levels at the mix bus, and their equalizers."""

from __future__ import annotations

from typing import NamedTuple

from mixlint.analysis.automation_range import position_of
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.counterparts import level_difference_db as level_difference
from mixlint.analysis.energy import damaged_file
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.analysis.tone import eq_curve_db, hidden_on, strips_on_the_path, third_octaves
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.pair.pairs import PartPair
from mixlint.naming import lies_under
from mixlint.session import NotKnown, Unknown, known
from mixlint.units import number_text

FACTS: Facts[PartPair] = Facts()


def _pans(row: Row[PartPair]) -> tuple[float, float]:
    """Where both stand, −100 … +100."""
    one, other = (position_of(row.context, part) for part in (row.item.one, row.item.other))
    return known(one), known(other)


@FACTS.fact(
    "number", "The difference of their angles, sides aside.", unit="pan distance", how="derived", once="angle_apart"
)
def angle_difference(row: Row[PartPair]) -> float:
    one, other = _pans(row)
    return abs(abs(one) - abs(other))


@FACTS.fact("number", "How far apart they stand.", unit="pan distance", how="derived")
def distance(row: Row[PartPair]) -> float:
    one, other = _pans(row)
    return abs(one - other)


@FACTS.fact("number", "The angle of the narrower one.", unit="pan distance", how="derived")
def narrow_angle(row: Row[PartPair]) -> float:
    return min(map(abs, _pans(row)))


@FACTS.fact("number", "The angle of the wider one.", unit="pan distance", how="derived")
def wide_angle(row: Row[PartPair]) -> float:
    return max(map(abs, _pans(row)))


@FACTS.fact("text", "Where both stand.")
def places(row: Row[PartPair]) -> str:
    return " and ".join(number_text(pan, "pan") for pan in _pans(row))


@FACTS.fact(
    "number",
    "The difference of their levels at the mix bus.",
    unit="dB",
    how="derived",
    once="level_apart_db",
    settings=SPECTRUM_SETTINGS,
)
def level_difference_db(row: Row[PartPair]) -> FactValue | Unknown:
    pair = row.item
    damaged = damaged_file(row.context, [pair.one, pair.other])
    if damaged is not None:
        return damaged
    difference = level_difference(row.context, pair.one, pair.other)
    if difference is None:
        return Unknown(unknown="the level of one of them is not known", settle="export it again")
    louder = pair.one if difference >= 0.0 else pair.other
    return FactValue(abs(difference), "derived", row.subject.where, f"{row.context.name(louder.id)} is louder")


@FACTS.fact(
    "number",
    "How much louder the microphone underneath a snare drum arrives than the one on top; negative where it is softer. "
    "0 for other pairs.",
    unit="dB",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def under_over_top_db(row: Row[PartPair]) -> FactValue:
    context, pair = row.context, row.item
    words = context.house.vocabulary
    if any(context.role(part.id) != "snare" for part in (pair.one, pair.other)):
        return FactValue(0.0, "derived", row.subject.where)
    for under, top in ((pair.one, pair.other), (pair.other, pair.one)):
        if lies_under(under.name, top.name, words):
            over = level_difference(context, under, top)
            if over is None:
                raise NotKnown(Unknown(unknown="the level of one of them is not known", settle="export it again"))
            return FactValue(over, "derived", row.subject.where, context.name(under.id))
    return FactValue(0.0, "derived", row.subject.where)


class ToneDifference(NamedTuple):
    """Where two equalizer curves differ most, their common level aside.

    Args:
        db: the difference there, dB, 0 or more.
        at_hz: the frequency, hertz.
    """

    db: float
    at_hz: float


@per_session
def tone_difference(context: SessionContext, pair: PartPair) -> ToneDifference | Unknown:
    """The greatest difference of the two parts' equalizer curves, those of the groups that one of them passes included.

    A bus that both pass changes both alike, whatever it holds.

    The curves are taken at the third octaves from 80 Hz to 8 kHz, and the median of their difference is taken out of
    it, since that is level and not tone.

    Returns:
        the difference; Unknown where a filter on either path has hidden settings.
    """
    import numpy as np

    from mixlint.signal.median import median

    paths = [strips_on_the_path(context, part) for part in (pair.one, pair.other)]
    shared = {strip.id for strip in paths[0]} & {strip.id for strip in paths[1]}
    own = [[strip for strip in path if strip.id not in shared] for path in paths]
    hidden = dict.fromkeys(name for strips in own for name in hidden_on(context, strips))
    if hidden:
        return Unknown(
            unknown=f"the settings of {', '.join(hidden)} are hidden in the export",
            settle="compare the equalizers of both by eye",
        )
    at = third_octaves()
    one, other = (eq_curve_db(context, strips, at, passes_too=True) for strips in own)
    difference = one - other
    difference = np.abs(difference - median(difference))
    worst = int(np.argmax(difference))
    return ToneDifference(float(difference[worst]), float(at[worst]))


@FACTS.fact(
    "number",
    "The greatest difference of their equalizer curves, 80 Hz to 8 kHz.",
    unit="dB",
    how="derived",
    once="tone_apart_db",
)
def tone_difference_db(row: Row[PartPair]) -> FactValue:
    tone = known(tone_difference(row.context, row.item))
    return FactValue(tone.db, "derived", row.subject.where, f"at {number_text(tone.at_hz, 'Hz')}")


@FACTS.fact(
    "text",
    "In what they differ: angle, level and tone, as far as they are known.",
    how="derived",
    settings=SPECTRUM_SETTINGS,
)
def differences(row: Row[PartPair]) -> str:
    found = [str(row.need("places").value)]
    level, tone = row.value("level_difference_db"), row.value("tone_difference_db")
    if isinstance(level, FactValue):
        found.append(f"{number_text(level.number)} dB apart in level")
    if isinstance(tone, FactValue):
        found.append(f"{number_text(tone.number)} dB apart in tone {tone.note}")
    return ", ".join(found)
