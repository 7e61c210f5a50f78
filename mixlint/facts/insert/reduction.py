"""What a known compressor takes away from the recording it is fed: by its times where shown, else by its static curve.

With attack and release in the export it is run sample by sample (:mod:`mixlint.analysis.known_chain`). Else the level
is that of the part's files: unweighted mean squares of a tenth of a second, read as a sine of that power would be
(+3.01 dB), with the gains of clips and of the known processors before it. The curve is that of Giannoulis, Massberg &
Reiss, JAES 60(6), 2012. Against a gain smoothed by 1/50 to 30/300 ms the result lies within 2 to 3 dB on plucked
strings, voices, drums and basses; a detector of peaks takes up to 4 dB more of what has hard attacks, and
:func:`peak_reduction_db` is the most that any can take.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.computed_mix import bus_taken
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.known_chain import UNTOLD_DB, UNTOLD_SHARE, chain_run
from mixlint.analysis.known_processor import Taken
from mixlint.analysis.media_use import NOT_OPENED
from mixlint.analysis.settings import Setting
from mixlint.facts.insert.processing import ChannelInsert
from mixlint.routing import acting_inserts
from mixlint.session import Clip, Dynamics, Insert, Unknown, is_known
from mixlint.units import SILENCE_DB, number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Measure

    Floats = NDArray[np.float64]

STEP_S: Final = 0.1
"""The window in which levels are read, seconds: the measure by which the reduction is defined, so no setting."""

HALF: Final = 50.0
STATIC_DB: Final = 3.0
"""How far the static curve may lie from a gain that is evened out, dB."""

SINE_DB: Final = 3.0102999566398120
"""The peak of a sine over its mean square: 10 log10 2 dB."""

QUIET: Final = Setting("compression.quiet", -50.0, "dBFS", "What stays under this does not count as sounding.")
BELOW_LOUDEST: Final = Setting(
    "compression.below_loudest", 30.0, "dB", "What lies further than this under the loudest does not count as sounding."
)
LOUDEST_SHARE: Final = Setting(
    "compression.loudest_share",
    5.0,
    "%",
    "The gain reduction that counts is exceeded in this share of the sounding time.",
)
REDUCTION_SETTINGS: Final = (QUIET, BELOW_LOUDEST, LOUDEST_SHARE)
TRANSPARENT: Final = frozenset({"equalizer", "filter", "analyser", "utility", "de-esser", "restoration"})
"""Processors before a compressor that are taken to leave the level as it is."""


class Reduction(NamedTuple):
    """What a compressor takes away while its part sounds.

    Args:
        loudest_db: exceeded in the share ``compression.loudest_share`` of that time, dB, 0 or more.
        usual_db: exceeded in half of it.
        off_db: how far the first may be off, by what the export does not tell of the compressor.
        how: how it was found, for a reader.
    """

    loudest_db: float
    usual_db: float
    off_db: float
    how: str


@per_session
def gain_reduction(context: SessionContext, at: ChannelInsert) -> Reduction | Unknown:
    """What a compressor takes away; 0 where nothing counts as sounding.

    Unknown where the compressor, or a processor before it that may change the level, hides its settings, on a bus that
    is fed by what the session does not show, and without audio that can be followed.
    """
    own = at.insert.dynamics
    taken = _taken(context, at) if own is not None and not at.insert.opaque else None
    if isinstance(taken, Unknown) and not is_source(context, at.channel):
        return taken
    if own is None or not isinstance(taken, Taken):
        return _static_reduction(context, at)
    loudest, usual = _of_sounding(context, taken)
    attack, release = (number_text(one if is_known(one) else 0.0, "ms") for one in (own.attack_ms, own.release_ms))
    off = UNTOLD_DB + UNTOLD_SHARE * loudest if loudest > 0.0 else 0.0
    return Reduction(loudest, usual, off, f"by its attack of {attack} and its release of {release}")


def _taken(context: SessionContext, at: ChannelInsert) -> Taken | Unknown | None:
    """What a compressor takes away, run on the sound of its part or on the sum that comes to its bus."""
    if not is_source(context, at.channel):
        return bus_taken(context, at.channel, at.place)
    run = chain_run(context, at.channel)
    stage = run if isinstance(run, Unknown) else run.stage(at.place)
    return stage if isinstance(stage, Unknown) else stage.taken


def _static_reduction(context: SessionContext, at: ChannelInsert) -> Reduction | Unknown:
    loudest, usual = (_reduction(context, at, part_levels, share) for share in (context.setting(LOUDEST_SHARE), HALF))
    if isinstance(loudest, Unknown):
        return loudest
    return Reduction(loudest, usual if is_known(usual) else 0.0, STATIC_DB, "by its static curve")


def _of_sounding(context: SessionContext, taken: Taken) -> tuple[float, float]:
    """What is exceeded in the loudest share and in half of the sounding time of a compressor that was run, dB."""
    import numpy as np

    step = min(taken.db.size, max(1, round(STEP_S / taken.step_s)))
    if not step:
        return 0.0, 0.0
    count = taken.db.size // step
    power = (10.0 ** (taken.level_db[: count * step].reshape(count, -1) / 10.0)).mean(axis=1)
    sounding = _is_sounding(context, 10.0 * np.log10(np.maximum(power, 1e-20)) + SINE_DB)
    if not sounding.any():
        return 0.0, 0.0
    own = taken.db[: count * step].reshape(count, -1)[sounding].ravel()
    return (
        float(np.percentile(own, 100.0 - context.setting(LOUDEST_SHARE))),
        float(np.percentile(own, 100.0 - HALF)),
    )


def _is_sounding(context: SessionContext, levels: Floats) -> NDArray[np.bool_]:
    """Which levels (n,) in dBFS count as sounding."""
    import numpy as np

    most = levels.max(initial=SILENCE_DB) - context.setting(BELOW_LOUDEST)
    return np.asarray((levels > context.setting(QUIET)) & (levels > most))


@per_session
def peak_reduction_db(context: SessionContext, at: ChannelInsert) -> float | Unknown:
    """What is exceeded in the loudest share by a detector that follows every peak at once: the most, dB."""
    return _reduction(context, at, part_peaks, context.setting(LOUDEST_SHARE))


def _reduction(
    context: SessionContext,
    at: ChannelInsert,
    read: Callable[[SessionContext, ChannelInsert], Floats | Unknown],
    share: float,
) -> float | Unknown:
    """The gain reduction by the static curve, at levels as ``read`` reads them, exceeded in a share of the time."""
    own = at.insert.dynamics
    if own is None or at.insert.opaque:
        return Unknown(
            unknown=f"the settings of {at.insert.name or 'the compressor'} are hidden in the export",
            settle="watch its meter through the loudest part",
        )
    if not is_known(own.threshold_db) or not is_known(own.ratio):
        why = own.threshold_db if isinstance(own.threshold_db, Unknown) else own.ratio
        assert isinstance(why, Unknown)
        return why
    if not is_source(context, at.channel):
        return Unknown(unknown="it works on a sum of parts", settle="watch its meter through the loudest part")
    levels = read(context, at)
    if isinstance(levels, Unknown):
        return levels
    for place, insert in acting_inserts(at.channel).items():
        if place >= at.place:
            break
        known = levels_after(insert, levels)
        if known is None and context.kinds[at.channel.id].get(place) not in TRANSPARENT:
            return Unknown(
                unknown=f"{insert.name or 'a processor'} before it hides its settings",
                settle="watch its meter through the loudest part",
            )
        levels = levels if known is None else known
    import numpy as np

    sounding = levels[_is_sounding(context, levels)]
    if not sounding.size:
        return 0.0
    gain = own.input_gain_db if is_known(own.input_gain_db) else 0.0
    return float(-np.percentile(_gain_change(own, sounding + gain), share))


def _gain_change(settings: Dynamics, levels: Floats) -> Floats:
    """The gain (N,) of a static curve at levels (N,) in dBFS, dB; a hard knee where the export gives none."""
    from mixlint.signal.dynamics import gain_change_db

    assert is_known(settings.threshold_db)
    assert is_known(settings.ratio)
    knee = settings.knee_db if is_known(settings.knee_db) else 0.0
    return gain_change_db(levels, settings.threshold_db, max(1.0, settings.ratio), knee)


def levels_after(insert: Insert, levels: Floats) -> Floats | None:
    """Levels (N,) in dBFS after a compressor or equalizer fed with ``levels`` (N,); None where its settings are hidden.

    Of an equalizer only the input and output gains count, since its bands move the level of the whole by little
    (common practice, no source).
    """
    if insert.equalizer is not None:
        gains = (insert.equalizer.input_gain_db, insert.equalizer.output_gain_db)
        return levels + sum(gain for gain in gains if is_known(gain))
    settings = insert.dynamics
    if settings is None or insert.opaque or not is_known(settings.threshold_db) or not is_known(settings.ratio):
        return None
    before = settings.input_gain_db if is_known(settings.input_gain_db) else 0.0
    after = settings.output_gain_db if is_known(settings.output_gain_db) else 0.0
    levels = levels + before
    return levels + _gain_change(settings, levels) + after


def _measured_clips(context: SessionContext, at: ChannelInsert) -> list[tuple[Clip, float, float, Measure]] | Unknown:
    """The channel's clips, each with its offset in seconds, its gain in dB and the measure of its file.

    Unknown without audio, without a clip, and where a clip cannot be followed.
    """
    if context.audio is None:
        return NOT_OPENED
    found = []
    for clip in clips_on(at.channel):
        if clip.file is None or not is_known(clip.offset_s) or not is_known(clip.gain_db):
            return Unknown(unknown="not every clip names its file and its place there", settle="export it again")
        measure = context.audio.measure(clip.file)
        if isinstance(measure, Unknown):
            return measure
        found.append((clip, clip.offset_s, clip.gain_db, measure))
    return found or Unknown(unknown="no audio clip plays on it", settle="watch its meter through the loudest part")


def part_levels(context: SessionContext, at: ChannelInsert) -> Floats | Unknown:
    """The level (N,) of the channel's clips, one after another in windows of a tenth of a second, dBFS.

    Of two legs the louder one counts. Unknown as for :func:`_measured_clips`.
    """
    import numpy as np

    clips = _measured_clips(context, at)
    if isinstance(clips, Unknown):
        return clips
    found: list[Floats] = []
    for clip, offset_s, gain_db, measure in clips:
        length = clip.end_s - clip.start_s
        steps = max(1, round(length / STEP_S))
        edges = offset_s + np.linspace(0.0, length * _speed(clip), steps + 1)
        power = measure.power_at(edges).max(axis=0)
        found.append(10.0 * np.log10(np.maximum(power, 1e-20)) + SINE_DB + gain_db)
    return np.concatenate(found)


def part_peaks(context: SessionContext, at: ChannelInsert) -> Floats | Unknown:
    """The peaks (N,) of the channel's clips in each hundredth of a second, dBFS; Unknown as for levels."""
    import numpy as np

    clips = _measured_clips(context, at)
    if isinstance(clips, Unknown):
        return clips
    found: list[Floats] = []
    for clip, offset_s, gain_db, measure in clips:
        first = max(0, round(offset_s / measure.cell_s))
        last = round((offset_s + (clip.end_s - clip.start_s) * _speed(clip)) / measure.cell_s)
        cells = measure.peak[:, first:last].max(axis=0).astype(np.float64)
        found.append(20.0 * np.log10(np.maximum(cells, 1e-10)) + gain_db)
    return np.concatenate(found)


def _speed(clip: Clip) -> float:
    return clip.speed if is_known(clip.speed) else 1.0
