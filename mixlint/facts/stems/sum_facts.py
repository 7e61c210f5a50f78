"""What the stems of a set add up to, held against the print of their mix."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import file_name, header
from mixlint.analysis.mix_prints import mix_prints, stem_files, sum_of_stems
from mixlint.analysis.stem_levels import ABSENT
from mixlint.analysis.stem_sum import StemSum, is_processed, left_bands
from mixlint.errors import InputError
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import MediaFile, Unknown, is_known, known
from mixlint.units import clock_text, few_text, number_text

if TYPE_CHECKING:
    from collections.abc import Iterator

FACTS: Facts[tuple[MediaFile, ...]] = Facts()

StemRow = Row[tuple[MediaFile, ...]]

LOUDEST_SHARE = 0.8
"""The stretches that hold this share of what is left over are named: wording."""


@FACTS.fact("switch", "There is a print of the mix to hold them against, and it was opened.", how="measured")
def has_print(row: StemRow) -> bool:
    return row.context.audio is not None and bool(mix_prints(row.context))


@FACTS.fact("text", "The print of the mix, and how it is known to be one.", how="derived")
def print_name(row: StemRow) -> FactValue:
    found = mix_prints(row.context)
    if not found:
        return FactValue("none", "derived")
    how = {"named": "named for this review", "sound": "it holds the sum of the others"}.get(found[0].how, "by its name")
    return FactValue(file_name(found[0].media.path), "derived", found[0].media.path, how)


@FACTS.fact(
    "number",
    "What is left over of the print when the stems are taken away as they are, at their common level.",
    unit="dB",
    how="measured",
)
def plain_sum_db(row: StemRow) -> float:
    return known(sum_of_stems(row.context)).plain_db


@FACTS.fact(
    "number",
    "What is left over of the print when each stem is taken away at its best level, time and polarity.",
    unit="dB",
    how="measured",
)
def best_sum_db(row: StemRow) -> float:
    return known(sum_of_stems(row.context)).left_db


@FACTS.fact(
    "number",
    "What of the print no stem holds. Not known where a mix bus, a coding or a stem that is wrong can be the reason.",
    unit="dB",
    how="measured",
)
def missing_db(row: StemRow) -> FactValue | Unknown:
    context = row.context
    found = known(sum_of_stems(context))
    reason = _other_reason(context, found)
    if found.left_db > REASONED_DB and reason is not None:
        return reason
    return FactValue(found.left_db, "measured", "", _where_left(context, found))


REASONED_DB = -60.0
"""Less than this is rounding, for which nobody asks a reason. A definition."""


def _other_reason(context: SessionContext, found: StemSum) -> Unknown | None:
    """What else than a missing stem can leave something over."""
    left = number_text(found.left_db, "dB")
    for media in stem_files(context):
        if media.id not in found.stems:
            return Unknown(
                unknown=f"{file_name(media.path)} cannot be read, and {left} are left over without it",
                settle="print that stem again",
            )
    wrong = [one for one in found.stems.values() if one.differs]
    if wrong:
        names = few_text([file_name(one.media) for one in wrong])
        return Unknown(unknown=f"{names} fits in parts only, and {left} are left over", settle="print that stem again")
    printed = header(context, mix_prints(context)[0].media.id)
    if is_known(printed) and printed.lossy:
        return Unknown(
            unknown=f"the print is coded with loss, and {left} are left over",
            settle="hold it against a linear print",
        )
    if is_processed(found):
        return Unknown(
            unknown=f"{left} are left over, as of a print that was limited, compressed or filtered as a whole",
            settle="print the mix once more without what stands on its bus",
        )
    return None


def _where_left(context: SessionContext, found: StemSum) -> str:
    """``between 0:12.0 and 0:31.5, most of it from 90 to 400 Hz``: where most of what is left over stands."""
    if found.left_db <= REASONED_DB:
        return "nothing but rounding is left over"
    spans = [f"{clock_text(start)} to {clock_text(end)}" for start, end in _loudest(found)]
    bands = _bands(context)
    where = f", most of it from {bands[0]} to {number_text(bands[1], 'Hz')}" if is_known(bands) else ""
    return f"{few_text(spans, joint=', ')}{where}"


def _loudest(found: StemSum) -> Iterator[tuple[float, float]]:
    """The stretches in which most of what is left over stands, in their order; short gaps are bridged."""
    import numpy as np

    left = found.left
    order = np.argsort(-left)
    reached = np.cumsum(left[order])
    picked = np.sort(order[: int(np.searchsorted(reached, LOUDEST_SHARE * reached[-1])) + 1])
    bridge = max(1, round(4.0 / found.block_s))
    start = last = int(picked[0])
    for at in picked[1:]:
        if at - last > bridge:
            yield start * found.block_s, (last + 1) * found.block_s
            start = int(at)
        last = int(at)
    yield start * found.block_s, (last + 1) * found.block_s


@per_session
def _bands(context: SessionContext) -> tuple[str, float] | Unknown:
    """The range of frequencies that holds most of what is left over, where that is loudest."""
    found = known(sum_of_stems(context))
    assert context.audio is not None  # there is a sum
    try:
        low, high = left_bands(context.audio, mix_prints(context)[0].media.id, found)
    except InputError as fault:
        return Unknown(unknown=fault.what, settle=fault.do)
    return number_text(low), high


@FACTS.fact("switch", "The print was limited, compressed or filtered as a whole, by what is left over.", how="measured")
def bus_processed(row: StemRow) -> FactValue:
    found = known(sum_of_stems(row.context))
    made = found.processing
    if made is None:
        return FactValue(False, "measured")
    plain, treated, over = (number_text(one, "dB") for one in (made.plain_db, made.treated_db, made.over_db))
    said = (
        f"{plain} are left over of the plain sum, {treated} behind a common filter and moves of gain; "
        f"the sum's peaks stand {over} over the print's"
    )
    return FactValue(is_processed(found), "measured", "", said)


@FACTS.fact("number", "How much louder the print is than the stems together.", unit="dB", how="measured")
def print_louder_db(row: StemRow) -> float:
    return known(sum_of_stems(row.context)).common_db


@FACTS.fact("number", "How much later all stems lie than the print.", unit="ms", how="measured")
def all_late_ms(row: StemRow) -> FactValue:
    found = known(sum_of_stems(row.context))
    ms = 1000.0 * found.common_lag / found.rate_hz
    way = "earlier" if ms > 0.0 else "later"
    return FactValue(ms, "measured", "", f"{number_text(abs(ms), 'ms')} {way} ({abs(found.common_lag)} samples)")


@FACTS.fact("switch", "Left and right of the print are those of the stems.", how="measured")
def print_sides_kept(row: StemRow) -> bool | Unknown:
    found = known(sum_of_stems(row.context))
    inside = [one for one in found.stems.values() if one.sounds and one.copy_of is None and abs(one.gain) >= ABSENT]
    if not inside:
        return Unknown(unknown="no stem is found in the print")
    return sum(one.swapped for one in inside) * 2 <= len(inside)
