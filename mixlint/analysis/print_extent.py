"""Whether the print of an ambience runs with what feeds it: where it is silent while that sounds, and how it ends.

Read from the measures of the files, over the whole song; nothing is opened again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import time_grid
from mixlint.analysis.ambience_prints import AmbiencePrint, gain_over
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import measured_energy
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.return_prints import LEAST_SHARE, feeds_of
from mixlint.analysis.settings import Setting
from mixlint.session import Unknown, is_known
from mixlint.units import SILENCE_DB

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SOUNDS: Final = Setting(
    "prints.source_sounds",
    -20.0,
    "dB",
    "What feeds an ambience asks for one while it is within so much of its loudest.",
    lowest=-60.0,
    highest=0.0,
)

MISSING: Final = Setting(
    "prints.missing_below",
    -35.0,
    "dB",
    "A print is missing where it lies so far under what its sources call for elsewhere.",
    lowest=-100.0,
    highest=-10.0,
)

CLOSING_FADE: Final = Setting(
    "prints.closing_fade",
    100.0,
    "ms",
    "A shorter fade at the end of a print is there for the click alone, and lets no tail die away.",
    lowest=1.0,
)

EXTENT_SETTINGS: Final = (SOUNDS, MISSING, LEAST_SHARE)

SILENT_DB: Final = -90.0
"""Energy under which a file is silent, dB: a definition."""


class Missing(NamedTuple):
    """The longest stretch in which what feeds an ambience sounds and its print does not.

    Args:
        start_s, end_s: where it lies in the song; equal where there is none.
        place: at the ``start``, at the ``end`` or in the ``middle`` of what its sources play; all of it is ``silent``.
    """

    start_s: float
    end_s: float
    place: str


@per_session
def missing_stretch(context: SessionContext, printed: AmbiencePrint) -> Missing | Unknown:
    """Where a print is missing.

    Unknown where the audio of the print, or of no part that feeds it, could be measured.
    """
    import numpy as np

    own = measured_energy(context, printed.track)
    if own is None:
        return Unknown(unknown="the print could not be measured", settle="review it with its audio")
    edges = time_grid(context)
    middles = (edges[:-1] + edges[1:]) / 2.0
    feeding = np.zeros(middles.size)
    fed = False
    for feed in feeds_of(context, printed):
        energy = measured_energy(context, feed.part)
        if energy is not None:
            fed = True
            feeding += energy.legs.sum(axis=0) * gain_over(context, feed, middles) ** 2
    if not fed:
        return Unknown(unknown="no part that feeds it could be measured", settle="review it with its audio")
    level = own.legs.sum(axis=0)
    if 10.0 * np.log10(float(level.max(initial=0.0)) + 1e-30) < SILENT_DB:
        return Missing(float(edges[0]), float(edges[-1]), "silent")
    asked = feeding > 10.0 ** (context.setting(SOUNDS) / 10.0) * float(feeding.max(initial=0.0))
    heard = asked & (level > 0.0)
    if not heard.any():
        return Missing(float(edges[0]), float(edges[-1]), "silent")
    usual = float(np.median(level[heard] / feeding[heard]))
    short = asked & (level < 10.0 ** (context.setting(MISSING) / 10.0) * usual * feeding)
    return _longest(edges, asked, short)


def _longest(edges: Floats, asked: NDArray[np.bool_], short: NDArray[np.bool_]) -> Missing:
    """The longest run of ``short`` steps; steps that ask for nothing neither break nor lengthen it."""
    import numpy as np

    best, length = (0, 0), 0.0
    places = np.flatnonzero(asked)
    begun: int | None = None
    run = 0.0
    for place in places:
        if short[place]:
            begun = int(place) if begun is None else begun
            run += float(edges[place + 1] - edges[place])
            if run > length:
                best, length = (begun, int(place) + 1), run
        else:
            begun, run = None, 0.0
    if length == 0.0:
        return Missing(0.0, 0.0, "")
    first, last = best
    where = "start" if first == places[0] else "end" if last == places[-1] + 1 else "middle"
    return Missing(float(edges[first]), float(edges[first]) + length, where)


@per_session
def end_level_db(context: SessionContext, printed: AmbiencePrint) -> tuple[float, float] | Unknown:
    """How loud a print is where its last clip ends, against its loudest sample, dB; and when that is, seconds.

    Silence where a fade closes it, and no short one against a click. Unknown where it could not be measured.
    """
    clips = plain_clips(printed.track)
    last = max(clips, key=lambda clip: clip.end_s)
    if context.audio is None or last.file is None or not is_known(last.offset_s):
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    if is_known(last.fade_out_s) and 1000.0 * last.fade_out_s >= context.setting(CLOSING_FADE):
        return SILENCE_DB, last.end_s
    measure = context.audio.measure(last.file)
    if isinstance(measure, Unknown):
        return measure
    ends = min(last.offset_s + last.end_s - last.start_s, measure.frames / measure.header.sample_rate_hz)
    at_end = measure.peak_db_between(ends - 0.05, ends)
    loudest = max(measure.sample_peak_db)
    return (at_end - loudest if at_end > SILENCE_DB else SILENCE_DB), last.end_s


@per_session
def lean_db(context: SessionContext, printed: AmbiencePrint) -> float | Unknown:
    """How far a print leans to the left (K-weighted energy left over right), dB; Unknown for one of one leg."""
    import numpy as np

    if context.audio is None:
        return Unknown(unknown="the audio was not opened", settle="review it with its audio")
    total = np.zeros(2)
    for clip in plain_clips(printed.track):
        if clip.file is None or not is_known(clip.offset_s):
            continue
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return measure
        if measure.legs != 2:
            return Unknown(unknown="the print has one leg")
        length = clip.end_s - clip.start_s
        total += measure.energy_at(np.array([clip.offset_s, clip.offset_s + length]))[:, 0] * length
    if not total.any():
        return Unknown(unknown="the print is silent")
    return float(10.0 * np.log10((total[0] + 1e-12) / (total[1] + 1e-12)))
