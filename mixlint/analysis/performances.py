"""Which channels hear one performance: chosen cheaply by the rises of their levels and by names, told by their waves.

Every channel's peaks are there from its measure, a hundred a second. Channels whose levels rise together may hear one
performance; each has its likeliest few partners held against it wave by wave.
"""

from __future__ import annotations

from itertools import combinations
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.channel_purpose import is_source
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.held_together import Sound, by_waves, common_of, partly
from mixlint.analysis.media_use import plain_clips
from mixlint.analysis.shared_looks import LONGEST_S, first_s
from mixlint.naming import fold_name, pair_kind
from mixlint.session import Channel, Unknown, known

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.common_sound import Common

    Floats = NDArray[np.float32]

CELL_S: Final = 0.01
AROUND: Final = 6
"""Rises this many cells apart are of one stroke: 60 ms of air and a cell."""

PARTNERS: Final = 4
"""With so many channels of like rises each one is compared, beside those its name puts it with: a bound of work."""

LEAST_ALIKE: Final = 0.2
"""Channels whose rises have less in common hear no one performance: a bound of work, the waves decide."""

MOST_COMPARED: Final = 2.0
"""No more pairs than so many times the channels are compared for their rises alone: a bound of work."""

MOST_CHANNELS: Final = 120
"""Of more channels the rises are not compared, and names alone tell who may belong together: a bound of work."""


HEAR_ALL: Final = frozenset({"overheads", "drum-room"})
"""Roles of microphones that hear a whole kit, against which its other microphones lie."""

KIT: Final = frozenset({"drums", "room-microphones"})

MOST_WIDE: Final = 4
"""Every microphone of a kit is held against so many overheads and rooms: a bound of work."""


MIC_WORDS: Final = frozenset({"mic", "mics", "mike", "micro", "mikro", "mikrofon", "microfono"})


def are_microphones(context: SessionContext, one: Channel, other: Channel) -> bool:
    """True where two names are those of two microphones on one performance: in and out, near and far, mic 1 and 2."""
    kind = pair_kind(one.name, other.name, context.house.vocabulary)
    if kind == "microphones":
        return True
    said = [set(fold_name(part.name, separators=True).split()) & MIC_WORDS for part in (one, other)]
    return kind == "numbers" and all(said)


@per_session
def heard_parts(context: SessionContext) -> tuple[Channel, ...]:
    """The parts of the song that are heard in the mix and play plain audio, in desk order."""
    return tuple(
        c for c in context.session.channels if is_source(context, c) and is_heard(context, c) and plain_clips(c)
    )


@per_session
def rises(context: SessionContext, channel: Channel) -> Floats | Unknown:
    """How much a channel's level rises at each hundredth of a second of the song: (T,), of mean 0 and square sum 1."""
    import numpy as np

    assert context.audio is not None
    begin = first_s(context)
    clips = plain_clips(channel)
    end = min(max((clip.end_s for clip in clips), default=begin), begin + LONGEST_S)
    level = np.full(max(1, int((end - begin) / CELL_S)), -90.0, dtype=np.float32)
    for clip in clips:
        assert clip.file is not None
        measure = known(context.audio.measure(clip.file))
        peak = measure.peak.max(axis=0)
        first, last = round((clip.start_s - begin) / CELL_S), round((min(clip.end_s, end) - begin) / CELL_S)
        places = known(clip.offset_s) + (np.arange(first, min(last, level.size)) - first) * CELL_S
        cells = np.minimum((places / measure.cell_s).astype(np.int64), peak.size - 1)
        if cells.size and peak.size:
            level[first : first + cells.size] = 20.0 * np.log10(np.maximum(peak[cells], 3e-5))
    level = np.maximum(level, float(level.max()) - 40.0)
    out = np.zeros(level.size, dtype=np.float32)
    out[2:] = np.clip(level[2:] - level[:-2], 0.0, 20.0)
    out -= out.mean()
    size = float(np.sqrt(np.einsum("n,n->", out, out)))
    return out / size if size > 0.0 else out


@per_session
def likely_pairs(context: SessionContext) -> tuple[tuple[Channel, Channel], ...]:
    """Pairs of channels that may hear one performance, the likeliest first, bounded in number."""
    parts = heard_parts(context)
    named = {
        (one.id, other.id)
        for one, other in combinations(parts, 2)
        if len(parts) <= MOST_CHANNELS or context.family(one.id) == context.family(other.id)
        if are_microphones(context, one, other) or pair_kind(one.name, other.name, context.house.vocabulary) == "sides"
    }

    def place(channel: Channel) -> int:
        return context.order[channel.id]

    alike = _alike(context, parts)
    order = sorted(alike, key=lambda pair: (-alike[pair], pair))
    wide = [part for part in parts if context.role(part.id) in HEAR_ALL][:MOST_WIDE]
    kit = {
        (min(pair, key=place).id, max(pair, key=place).id)
        for far in wide
        for part in parts
        if part is not far and context.family(part.id) in KIT
        for pair in ((part, far),)
    }
    first = sorted(named | (kit if len(parts) <= MOST_CHANNELS else set()))
    most = max(8, int(MOST_COMPARED * len(parts)))
    chosen = dict.fromkeys([*first[: 4 * most], *order[:most]])
    return tuple((context.channels[one], context.channels[other]) for one, other in chosen)


def _alike(context: SessionContext, parts: tuple[Channel, ...]) -> dict[tuple[str, str], float]:
    """Pairs of ids → how much of their rises they have in common: for each channel its likeliest partners."""
    import numpy as np

    rows = [(part, rise) for part in parts if not isinstance(rise := rises(context, part), Unknown)]
    if len(rows) < 2 or len(rows) > MOST_CHANNELS:
        return {}
    longest = max(rise.size for _, rise in rows)
    table = np.zeros((len(rows), longest + 2 * AROUND), dtype=np.float32)
    for row, (_, rise) in zip(table, rows, strict=True):
        row[AROUND : AROUND + rise.size] = rise
    middle = table[:, AROUND : AROUND + longest]
    best = np.zeros((len(rows), len(rows)), dtype=np.float32)
    for by in range(-AROUND, AROUND + 1):
        np.maximum(best, middle @ table[:, AROUND + by : AROUND + by + longest].T, out=best)
    best = np.maximum(best, best.T)
    np.fill_diagonal(best, 0.0)
    found: dict[tuple[str, str], float] = {}
    for at in range(len(rows)):
        for other in np.argsort(-best[at])[:PARTNERS]:
            if best[at, other] >= LEAST_ALIKE:
                first, second = sorted((at, int(other)))
                found[rows[first][0].id, rows[second][0].id] = float(best[at, other])
    return found


class Related(NamedTuple):
    """Two channels that hear one performance, in desk order.

    Args:
        one, other: the channels.
        sound: what they are to each other by their waves; None where too few seconds agree to say it.
        found: what was measured.
    """

    one: Channel
    other: Channel
    sound: Sound | None
    found: Common

    @property
    def weight(self) -> float:
        """How clear the relation is."""
        return self.found.strength * self.found.share


@per_session
def related(context: SessionContext) -> tuple[Related, ...]:
    """Every pair of channels that was found to hear one performance or play one recording, of those compared."""
    from mixlint.signal.lag_course import course

    if context.audio is None:
        return ()
    found = []
    for one, other in likely_pairs(context):
        pair = common_of(context, one, other)
        if isinstance(pair, Unknown):
            continue
        common, _ = pair
        sound = by_waves(context, common)
        if sound is not None or partly(common) or course(common.seen) is not None:
            found.append(Related(one, other, sound, common))
    return tuple(found)
