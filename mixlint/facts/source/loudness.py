"""How loud a part is by itself: its peaks and loudness as recorded, and as it arrives at the mix bus."""

from __future__ import annotations

from math import log10

from mixlint.analysis.activity import clips_on, moment_text
from mixlint.analysis.bus_sums import bus_sum
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.mono_fold import SETTINGS
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown, is_known, known
from mixlint.units import SILENCE_DB

FACTS: Facts[Channel] = Facts()


@per_session
def _recorded_peak(context: SessionContext, part: Channel) -> tuple[float, float] | Unknown:
    """The highest sample of a part's clips with their gains, dBFS, and when, seconds of the song."""
    if context.audio is None:
        return NOT_OPENED
    best = (SILENCE_DB, 0.0)
    for clip in clips_on(part):
        if clip.file is None or not is_known(clip.offset_s) or not is_known(clip.gain_db) or not is_known(clip.speed):
            return Unknown(unknown="a clip cannot be followed", settle="watch its meter")
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return measure
        first = max(0, int(clip.offset_s / measure.cell_s))
        end_s = clip.offset_s + (clip.end_s - clip.start_s) * abs(clip.speed)
        cells = measure.peak[:, first : max(first + 1, int(end_s / measure.cell_s))].max(axis=0)
        if cells.size and float(cells.max()) > 0.0:
            level = 20.0 * log10(float(cells.max())) + clip.gain_db
            at_s = clip.start_s + int(cells.argmax()) * measure.cell_s
            best = max(best, (level, at_s))
    return best


@FACTS.fact("number", "The highest sample of its clips, their gains included.", unit="dBFS", how="measured")
def recorded_peak_dbfs(row: Row[Channel]) -> FactValue:
    level, at_s = known(_recorded_peak(row.context, row.item))
    where = moment_text(row.context, at_s)
    return FactValue(level, "measured", where, where)


@FACTS.fact(
    "number",
    "Its peak at the output of its strip, by its samples; not known where a processor on it may change it.",
    unit="dBFS",
    how="measured",
)
def strip_peak_dbfs(row: Row[Channel]) -> FactValue:
    found = known(bus_sum(row.context, row.item))
    where = moment_text(row.context, found.at_s)
    return FactValue(found.dbfs, "measured", where, where)


@FACTS.fact(
    "number",
    "Its loudness as it arrives at the mix bus, gated (ITU-R BS.1770-5, on a grid of half a second).",
    unit="LUFS",
    how="measured",
    settings=SETTINGS,
)
def arrives_at_lufs(row: Row[Channel]) -> float | Unknown:
    from mixlint.signal.loudness import integrated

    own = next((part for part in known(energy_at_mix(row.context)) if part.channel == row.subject.id), None)
    if own is None or not own.measured:
        return Unknown(unknown="it is not measured", settle="review it with its audio")
    found = integrated(own.left + own.right)
    return SILENCE_DB if found is None else found
