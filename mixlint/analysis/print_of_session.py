"""The print of the mix against what the session computes to: where it lies in the song, how loud, how alike.

A print on a track lies where its clip does; any other is laid by how both go up and down, and by the first clip.
Within a third of a second its place is found to the sample, by the phases that both have in common
(:func:`mixlint.signal.sum_fit.find_lag`). Loudness is told over the same gating blocks of both.
"""

from __future__ import annotations

from math import log10
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import clips_on, time_grid
from mixlint.analysis.audibility import is_heard
from mixlint.analysis.computed_mix import ComputedMix, computed_mix
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix
from mixlint.analysis.known_chain import gating_blocks, louder_lu
from mixlint.analysis.media_use import NOT_OPENED, audio_clips, origin_s
from mixlint.analysis.mix_prints import MixPrint, is_set_of_stems
from mixlint.session import NotKnown, Unknown, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.media import Library
    from mixlint.signal.sum_fit import Lag

    Floats = NDArray[np.float64]

REACH_S: Final = 0.3
"""How far a print may lie off where it is looked for."""

CLEAR: Final = 2.0
"""A place has to stand out so many times as high as any other, as for stems: a definition."""

LONGEST_LEAD_S: Final = 60.0
SEEK_S: Final = 0.1
"""A print may begin so long before the song or into it; it is looked for in such steps."""

LEAST_STEPS: Final = 8
LEAST_SHARE: Final = 0.5
EVEN: Final = 1e-3
CANDIDATES: Final = 5
"""So many places are looked at closely, of those at which half of the song or more goes up and down with the print."""

BY_EAR: Final = "play the print beside the session"


class SessionMatch(NamedTuple):
    """A print against the session.

    Args:
        louder_lu: how much louder it is than what the session computes to, LU.
        off_lu: how far that may be off by what the export does not tell of the compressors that were run.
        gain_db: the gain at which the computed mix is in it, dB.
        turned: it is the computed mix turned over.
        left_db: what is left over of it when the computed mix is taken away at that gain, dB relative to the print.
        origin_s: where it begins in the song, seconds.
        late_s: how much later it lies on its track than the session has it; None for one that lies on none.
        hidden: what the session does not show of its mix.
        assumed: what was taken for lack of anything in the export or the standard.
    """

    louder_lu: float
    off_lu: float
    gain_db: float
    turned: bool
    left_db: float
    origin_s: float
    late_s: float | None
    hidden: tuple[str, ...]
    assumed: tuple[str, ...]


@per_session
def session_match(context: SessionContext, printed: MixPrint) -> SessionMatch | Unknown:
    """A print against what the session computes to.

    Unknown for stems, without audio, where the mix cannot be computed, and where the print cannot be laid on the song.
    """
    import numpy as np

    if is_set_of_stems(context):
        return Unknown(unknown="there is no session, but a folder of stems")
    audio = context.audio
    if audio is None:
        return NOT_OPENED
    if printed.channel and is_heard(context, context.channels[printed.channel]):
        return Unknown(unknown="it plays along in the mix that it is held against", settle="mute its track")
    mixed, header = known(computed_mix(context)), known(audio.header(printed.media.id))
    if header.sample_rate_hz != mixed.rate_hz:
        return Unknown(
            unknown=f"it runs at {header.sample_rate_hz} Hz and the session's audio at {mixed.rate_hz:g} Hz",
            settle="convert a copy of it",
        )
    place = _place(context, audio, printed, mixed)
    if place is None:
        return Unknown(unknown="nothing in it lies where the session has it", settle=BY_EAR)
    origin, lag = place
    true_origin = origin + lag.samples / mixed.rate_hz
    own = shared = whole = 0.0
    before: list[Floats] = []
    after: list[Floats] = []
    for start, samples in zip(mixed.starts_s, mixed.samples, strict=True):
        there = _read(audio, printed, start - true_origin, samples.shape[1], mixed.rate_hz)
        here = _on_legs(samples.astype(np.float64), there.shape[0])
        # Where the print has not begun, or has ended, nothing is held against it: other rules ask about that.
        first = round((true_origin - start) * mixed.rate_hz)
        here[:, : max(0, first)] = 0.0
        here[:, max(0, first + header.frames) :] = 0.0
        own += float((here * here).sum())
        shared += float((here * there).sum())
        whole += float((there * there).sum())
        before.append(gating_blocks(here, mixed.rate_hz, 0.0))
        after.append(gating_blocks(there, mixed.rate_hz, 0.0))
    if own <= 0.0 or whole <= 0.0 or shared == 0.0:
        return Unknown(unknown="it is silent where the session sounds", settle="print the mix again")
    louder = known(louder_lu(np.concatenate(before), np.concatenate(after)))
    left = max(1e-20, 1.0 - shared * shared / (own * whole))
    late = None if not printed.channel else -lag.samples / mixed.rate_hz
    gain = 20.0 * log10(abs(shared) / own)
    return SessionMatch(
        louder, mixed.off_lu, gain, shared < 0.0, 10.0 * log10(left), true_origin, late, mixed.hidden, mixed.assumed
    )


def _place(context: SessionContext, audio: Library, printed: MixPrint, mixed: ComputedMix) -> tuple[float, Lag] | None:
    """Where a print was looked for, seconds of the song, and how far off it lies; None where nothing stands out."""
    import numpy as np

    from mixlint.signal.sum_fit import find_lag

    loudest = max(range(len(mixed.samples)), key=lambda one: float((mixed.samples[one] ** 2).sum()))
    samples, start = mixed.samples[loudest], mixed.starts_s[loudest]
    reach = min(round(REACH_S * mixed.rate_hz), samples.shape[1] // 4)
    best: tuple[float, Lag] | None = None
    for origin in _origins(context, audio, printed):
        there = _read(audio, printed, start - origin, samples.shape[1], mixed.rate_hz)
        lag = find_lag(there, _on_legs(samples.astype(np.float64), there.shape[0]), reach)
        if lag is not None and lag.clear >= CLEAR and (best is None or lag.height > best[1].height):
            best = origin, lag
    return best


def _origins(context: SessionContext, audio: Library, printed: MixPrint) -> list[float]:
    """Where a print may begin, seconds of the song."""
    if printed.channel:
        clips = [clip for clip in audio_clips(context.channels[printed.channel]) if clip.file == printed.media.id]
        return [origin_s(clip) for clip in clips]
    firsts = [clip.start_s for one in context.session.channels if is_heard(context, one) for clip in clips_on(one)]
    return list(dict.fromkeys([0.0, min(firsts, default=0.0), *_by_level(context, audio, printed)]))


def _by_level(context: SessionContext, audio: Library, printed: MixPrint) -> list[float]:
    """Where a print may begin by how the levels of both go up and down; none where the session's is not known."""
    import numpy as np

    parts, measure = energy_at_mix(context), audio.measure(printed.media.id)
    if isinstance(parts, Unknown) or isinstance(measure, Unknown) or not parts:
        return []
    edges = time_grid(context)
    level = _levels(np.sum([one.left + one.right for one in parts], axis=0))
    length = measure.header.duration_s
    found: list[tuple[float, float]] = []
    for origin in np.arange(-LONGEST_LEAD_S, LONGEST_LEAD_S + SEEK_S / 2.0, SEEK_S):
        inside = (edges[:-1] >= origin) & (edges[1:] <= origin + length)
        if inside.sum() < max(LEAST_STEPS, LEAST_SHARE * level.size):
            continue
        own, other = level[inside], _levels(measure.energy_at(edges - origin).sum(axis=0))[inside]
        if min(float(own.std()), float(other.std())) > EVEN:
            found.append((float(np.corrcoef(own, other)[0, 1]), float(origin)))
    # Neighbours of the best go up and down as it does: each place within reach is looked at once.
    best: list[float] = []
    for _, origin in sorted(found, reverse=True):
        if all(abs(origin - one) > REACH_S for one in best) and len(best) < CANDIDATES:
            best.append(origin)
    return best


def _levels(energy: Floats) -> Floats:
    """Levels (T,) in bels, no further than 60 dB under the loudest."""
    import numpy as np

    return np.asarray(np.log10(np.maximum(energy, 1e-6 * float(energy.max(initial=0.0)) + 1e-20)))


def _read(audio: Library, printed: MixPrint, at_s: float, count: int, rate: float) -> Floats:
    """The samples (1 or 2, count) of a print from a place in its file on; silence beyond its ends.

    Raises:
        NotKnown: it cannot be read.
    """
    import numpy as np

    from mixlint.media.meter import mend

    found = audio.excerpt(printed.media.id, at_s, count / rate)
    if isinstance(found, Unknown):
        raise NotKnown(found)
    mend(found)
    return np.asarray(found[:2, :count], dtype=np.float64)


def _on_legs(samples: Floats, legs: int) -> Floats:
    """Two legs folded to ½ (left + right) for a print of one."""
    import numpy as np

    return np.asarray(samples.mean(axis=0, keepdims=True)) if legs == 1 else samples
