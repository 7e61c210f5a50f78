"""What the parts come to at the mix bus: peaks, loudness, and what is left of it in mono."""

from __future__ import annotations

from mixlint.analysis.activity import moment_text, span_text
from mixlint.analysis.low_balance import low_shares, task_over_db
from mixlint.analysis.mix_loudness import MixLoudness, mix_loudness
from mixlint.analysis.mono_fold import SETTINGS, mix_fold, mix_low_fold_db
from mixlint.facts.channel.bus_sums import settled_sum, sum_text
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown, known
from mixlint.units import number_text

FACTS: Facts[Channel | Unknown] = Facts()


@FACTS.fact(
    "number",
    "Its highest peak, of the parts added sample by sample without their ambience; not known where a processor on the "
    "way may change it.",
    unit="dBFS",
    how="measured",
)
def summed_peak_dbfs(row: Row[Channel | Unknown]) -> FactValue:
    found = settled_sum(row.context, known(row.item))
    return FactValue(found.dbfs, "measured", moment_text(row.context, found.at_s), sum_text(row.context, found))


@FACTS.fact(
    "number", "Its true peak, of the same (ITU-R BS.1770-5, Annex 2).", unit="dBTP", how="measured"
)  # fmt: skip
def summed_true_peak_dbtp(row: Row[Channel | Unknown]) -> FactValue:
    found = settled_sum(row.context, known(row.item))
    return FactValue(found.true_dbtp, "measured", moment_text(row.context, found.at_s), sum_text(row.context, found))


def _loudness(row: Row[Channel | Unknown]) -> MixLoudness:
    return known(mix_loudness(row.context))


@FACTS.fact(
    "number",
    "Programme loudness of the mix, its parts' energies added; good to about 1 LU where no processor changes levels.",
    unit="LUFS",
    how="derived",
    settings=SETTINGS,
)
def integrated_lufs(row: Row[Channel | Unknown]) -> float:
    return _loudness(row).integrated_lufs


@FACTS.fact("number", "The loudest three seconds, as above.", unit="LUFS", how="derived", settings=SETTINGS)
def loudest_short_term_lufs(row: Row[Channel | Unknown]) -> FactValue:
    found = _loudness(row)
    where = span_text(row.context, *found.span)
    return FactValue(found.short_term_lufs, "derived", where, where)


@FACTS.fact("number", "Loudness range of the mix, as above.", unit="LU", how="derived", settings=SETTINGS)
def loudness_range_lu(row: Row[Channel | Unknown]) -> float:
    return _loudness(row).range_lu


@FACTS.fact(
    "number",
    "What the mix loses when left and right are brought together, against the mean of both sides.",
    unit="dB",
    how="derived",
    settings=SETTINGS,
)
def mono_loss_db(row: Row[Channel | Unknown]) -> float:
    return -known(mix_fold(row.context)).db


@FACTS.fact("number", "The same in the five seconds where it loses most.", unit="dB", how="derived", settings=SETTINGS)
def worst_mono_loss_db(row: Row[Channel | Unknown]) -> FactValue:
    found = known(mix_fold(row.context))
    where = span_text(row.context, *found.span)
    return FactValue(-found.worst_db, "derived", where, where)


@FACTS.fact("number", "What the low end of the mix up to 120 Hz loses so.", unit="dB", how="derived")
def low_mono_loss_db(row: Row[Channel | Unknown]) -> float:
    return -known(mix_low_fold_db(row.context))


@FACTS.fact("text", "What the mix loses in mono, for a reader.", how="derived", settings=SETTINGS)
def mono_text(row: Row[Channel | Unknown]) -> str:
    whole, worst = row.need("mono_loss_db"), row.need("worst_mono_loss_db")
    low = row.value("low_mono_loss_db")
    text = f"loses {number_text(whole.number, 'dB')} in mono, {number_text(worst.number, 'dB')} in {worst.note}"
    return text if isinstance(low, Unknown) else f"{text}, and {number_text(low.number, 'dB')} of its low end"


@FACTS.fact(
    "number",
    "How far kick and bass lie over voices, guitars and winds together under 90 Hz, where nobody expects these.",
    unit="dB",
    how="derived",
)
def low_end_over_others_db(row: Row[Channel | Unknown]) -> FactValue | Unknown:
    shares = known(low_shares(row.context))
    found = task_over_db(shares, ("kick", "bass"), ("clear",))
    if isinstance(found, Unknown):
        return found
    strongest = next(share for share in shares if share.task == "clear")
    return FactValue(found, "derived", row.subject.where, row.context.name(strongest.channel))


@FACTS.fact("number", "How far the kick lies over the bass there; under it is negative.", unit="dB", how="derived")
def kick_over_bass_low_db(row: Row[Channel | Unknown]) -> float | Unknown:
    return task_over_db(known(low_shares(row.context)), ("kick",), ("bass",))


@FACTS.fact("text", "Who holds the low end, for a reader.", how="derived")
def low_end_text(row: Row[Channel | Unknown]) -> str:
    found = []
    over, kick = row.value("low_end_over_others_db"), row.value("kick_over_bass_low_db")
    if isinstance(over, FactValue):
        way = "over" if over.number >= 0.0 else "under"
        text = f"kick and bass lie {number_text(abs(over.number), 'dB')} {way} voices, guitars and winds"
        found.append(f"{text} (most of it {over.note})")
    if isinstance(kick, FactValue):
        way = "over" if kick.number >= 0.0 else "under"
        found.append(f"the kick lies {number_text(abs(kick.number), 'dB')} {way} the bass")
    return " and ".join(found) or "nothing tells"
