"""How loud the mix is over time, and where it peaks: of its print, else of its parts as they add up.

Loudness is short-term, over three seconds (EBU Tech 3341). A print's peaks are read from it; the true peak is looked
for between the samples about the highest of them (ITU-R BS.1770-5, Annex 2).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.bus_sums import FULL_SCALE_DB, bus_sum
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED, audio_clips, file_name, origin_s
from mixlint.analysis.mix_loudness import SHORT_TERM_S, short_term
from mixlint.analysis.mix_prints import MixPrint, is_set_of_stems, mix_prints
from mixlint.analysis.print_of_session import session_match
from mixlint.session import Unknown, is_known, known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media.measure import Measure

    Floats = NDArray[np.float64]

LOOKED_AT: Final = 24
"""About so many of a print's highest samples the true peak is looked for: a bound of work."""

AROUND_S: Final = 0.02
"""What is read on either side of each, seconds; the interpolator reaches over less than a millisecond."""


class HighestPeak(NamedTuple):
    """The highest peak of the mix.

    Args:
        db: its level.
        unit: ``dBTP`` between the samples, ``dBFS`` on them.
        at_s: where, seconds of the song.
    """

    db: float
    unit: str
    at_s: float


class LevelOverTime(NamedTuple):
    """The level of the mix over the song.

    Args:
        print_name: the file that was measured; empty where the energies of the parts were added up.
        laid: it is known where in the song the print lies; else it is taken to begin with the session.
        middles_s: (W,) the middles of windows of three seconds, seconds of the song.
        lufs: (W,) the loudness there; NaN for silence.
        peak_s: (C,) places of peaks, seconds of the song; none where the parts were added up.
        peak_dbfs: (C,) the highest sample about each.
        highest: the highest peak, or why it is not known.
    """

    print_name: str
    laid: bool
    middles_s: Floats
    lufs: Floats
    peak_s: Floats
    peak_dbfs: Floats
    highest: HighestPeak | Unknown


@per_session
def level_over_time(context: SessionContext) -> LevelOverTime | Unknown:
    """The level of the mix over time; Unknown without a print that can be read, and where a part is not measured."""
    import numpy as np

    if context.audio is None:
        return NOT_OPENED
    for printed in mix_prints(context)[:1]:
        measure = context.audio.measure(printed.media.id)
        if is_known(measure):
            return _of_print(context, printed, measure)
    found = known(short_term(context))
    none = np.zeros(0)
    starts, energy = found.starts_s, found.energy
    return LevelOverTime("", True, starts + SHORT_TERM_S / 2.0, _lufs(energy), none, none, _summed_peak(context))


def _lufs(energy: Floats) -> Floats:
    """Loudness (W,) of energies; NaN for silence."""
    import numpy as np

    from mixlint.signal.loudness import loudness

    return np.asarray(np.where(energy > 0.0, loudness(np.maximum(energy, 1e-30)), np.nan))


@per_session
def _summed_peak(context: SessionContext) -> HighestPeak | Unknown:
    """The highest true peak of the parts added sample by sample, without their ambience."""
    bus = context.channels[known(context.routing.wiring.mix_bus)]
    found = known(bus_sum(context, bus))
    if not found.proven and found.dbfs <= FULL_SCALE_DB < found.rest_dbfs:
        return Unknown(unknown="not every place that may be the highest was added up", settle="watch its meter")
    return HighestPeak(found.true_dbtp, "dBTP", found.at_s)


def _of_print(context: SessionContext, printed: MixPrint, measure: Measure) -> LevelOverTime:
    import numpy as np

    from mixlint.media.measure import peak_levels
    from mixlint.signal.loudness import sliding_mean, weighted_sum

    begins = _begins_s(context, printed)
    origin = begins if is_known(begins) else 0.0
    width = max(1, round(SHORT_TERM_S / measure.block_s))
    energy = sliding_mean(weighted_sum(measure.energy), width)
    middles = np.asarray(origin + np.arange(energy.size) * measure.block_s + SHORT_TERM_S / 2.0, dtype=np.float64)
    cells = measure.peak.max(axis=0, initial=0.0)
    levels = peak_levels(cells)
    places = origin + (np.arange(cells.size) + 0.5) * measure.cell_s
    highest = _true_peak(context, printed, cells, measure.cell_s)
    if is_known(highest):
        highest = highest._replace(at_s=origin + highest.at_s)
    name = file_name(printed.media.path)
    return LevelOverTime(name, is_known(begins), middles, _lufs(energy), places, levels, highest)


def _begins_s(context: SessionContext, printed: MixPrint) -> float | Unknown:
    """Where a print begins in the song: by its clip, or by its sound; stems begin with their print."""
    if is_set_of_stems(context):
        return 0.0
    if printed.channel:
        clips = [one for one in audio_clips(context.channels[printed.channel]) if one.file == printed.media.id]
        placed = [one for one in clips if is_known(one.offset_s)]
        if placed:
            return origin_s(max(placed, key=lambda clip: clip.end_s - clip.start_s))
    found = session_match(context, printed)
    return found if isinstance(found, Unknown) else found.origin_s


def _true_peak(
    context: SessionContext, printed: MixPrint, cells: NDArray[np.float32], cell_s: float
) -> HighestPeak | Unknown:
    """The highest true peak of a print, in seconds of its file."""
    import numpy as np

    from mixlint.media.meter import mend
    from mixlint.signal.decibel import to_db
    from mixlint.signal.true_peak import true_peak

    if context.audio is None or not cells.size or cells.max() <= 0.0:
        return Unknown(unknown="it is silent")
    header = known(context.audio.header(printed.media.id))
    spans: list[tuple[float, float]] = []
    for cell in sorted(np.argsort(cells, kind="stable")[::-1][:LOOKED_AT].tolist()):
        start, end = max(0.0, cell * cell_s - AROUND_S), (cell + 1) * cell_s + AROUND_S
        if spans and start <= spans[-1][1]:
            spans[-1] = (spans[-1][0], end)
        else:
            spans.append((start, end))
    pieces = known(context.audio.excerpts(printed.media.id, [(start, end - start) for start, end in spans]))
    best = HighestPeak(SILENCE_DB, "dBTP", 0.0)
    for (start, _), piece in zip(spans, pieces, strict=True):
        mend(piece)
        if not piece.any():
            continue
        level = to_db(true_peak(piece, float(header.sample_rate_hz), cut_before=start > 0.0, cut_behind=True))
        if level > best.db:
            at = int(np.abs(piece).max(axis=0).argmax())
            best = HighestPeak(level, "dBTP", start + at / header.sample_rate_hz)
    return best
