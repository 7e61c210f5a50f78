"""Recordings in which something feeds itself: a microphone that howls, an effect that runs away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from mixlint.analysis.audibility import is_heard
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.media_use import NOT_OPENED, MediaUse
from mixlint.analysis.played_stretches import Played, stretches
from mixlint.analysis.settings import Setting
from mixlint.errors import InputError
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import played
from mixlint.session import Channel, Unknown, known
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mixlint.signal.rings import Repeats, Ring

FACTS: Facts[MediaUse] = Facts()

LASTS: Final = Setting("howl.lasts", 0.8, "s", "So long a tone has to grow to be feedback.", lowest=0.4, highest=5.0)
GROWS: Final = Setting(
    "howl.grows", 15.0, "dB", "By so much it has to grow evenly on one frequency.", lowest=8.0, highest=60.0,
    basis="tried: 346 good files and recordings hold one that grows so far, a pad, and not evenly",
)  # fmt: skip
LOUD: Final = Setting("howl.loud", -50.0, "dBFS", "It has to become so loud.", lowest=-80.0, highest=0.0)
HOWL: Final = (LASTS, GROWS, LOUD)

ALIKE: Final = Setting(
    "runaway.alike", 0.9, "", "Six seconds of an effect correlate so with themselves a repeat later.", lowest=0.5,
    highest=1.0, basis="tried: printed delays and reverbs of 16 songs reach 0.67 but for one throw, 0.94",
)  # fmt: skip
GAIN: Final = Setting(
    "runaway.gain", 1.01, "", "And each repeat is so many times larger.", lowest=0.9, highest=2.0,
    basis="tried: the throw that reaches 0.94 dies away with 0.41",
)  # fmt: skip
TIMES: Final = Setting("runaway.times", 2.0, "", "In so many stretches of six seconds, by halves.", lowest=1.0)
RUNAWAY: Final = (ALIKE, GAIN, TIMES)

EFFECTS: Final = frozenset({"returns"})
LINES: Final = slice(3, 8)
"""The octaves whose strongest lines a measure keeps: a definition (signal.octave_bands)."""

LONGEST_S: Final = 600.0
"""So much of a print is looked at, block by block: a bound of work."""


@per_session
def _rings(context: SessionContext, media_id: str) -> list[Ring]:
    import numpy as np

    from mixlint.signal.rings import rings

    assert context.audio is not None
    measure = context.audio.measure(media_id)
    if isinstance(measure, Unknown):
        return []
    hz, level, bands = (table.astype(np.float64) for table in (measure.lines_hz, measure.lines, measure.course[LINES]))
    least = max(4, round(context.setting(LASTS) / measure.block_s))
    return rings(hz, level, bands, least, context.setting(GROWS), context.setting(LOUD))


@FACTS.fact(
    "number",
    "How loud a tone becomes in it that grows evenly on one frequency and has no partials, as feedback does; −200 for "
    "none.",
    unit="dBFS",
    how="measured",
    settings=HOWL,
)
def howl_dbfs(row: Row[MediaUse]) -> FactValue:
    one = played(row)
    block = one.measure.block_s
    found = [ring for ring in _rings(row.context, row.item.media.id) if one.plays(ring.end * block, block)]
    if not found:
        return FactValue(-200.0, "measured", row.subject.where, "none")
    worst = max(found, key=lambda ring: ring.level_db)
    note = (
        f"a tone at {number_text(round(worst.hz), 'Hz')} grows by {number_text(worst.grows_db, 'dB')} to "
        f"{number_text(worst.level_db, 'dBFS')} from {one.place(row.context, worst.start * block)} to "
        f"{one.place(row.context, worst.end * block)}"
    )
    return FactValue(worst.level_db, "measured", row.subject.where, note)


@FACTS.fact("switch", "An effect's return plays it: a printed delay or reverb.", how="derived")
def of_an_effect(row: Row[MediaUse]) -> bool:
    return any(_effects(row))


def _effects(row: Row[MediaUse]) -> Iterator[Channel]:
    """The returns that play a row's file and are heard; a return is no source, so that it is none of its players."""
    for one in row.item.users:
        channel = row.context.channels[one]
        if row.context.family(one) in EFFECTS and is_heard(row.context, channel):
            yield channel


@per_session
def _repeats(context: SessionContext, media_id: str) -> tuple[Repeats, ...] | Unknown:
    from mixlint.signal.rings import coarse, repeats

    assert context.audio is not None
    header = context.audio.header(media_id)
    if isinstance(header, Unknown):
        return header
    try:
        with context.audio.side_by_side([media_id]) as (file,):
            samples, rate = coarse(_first(file.blocks(), LONGEST_S * header.sample_rate_hz), header.sample_rate_hz)
    except InputError as fault:
        return Unknown(unknown=fault.what, settle=fault.do)
    return tuple(repeats(samples, rate))


def _first(blocks: Iterator[NDArray[np.float32]], frames: float) -> Iterator[NDArray[np.float32]]:
    """Blocks (legs, n) up to so many frames."""
    read = 0
    for block in blocks:
        yield block[:, : max(0, round(frames) - read)]
        read += block.shape[1]
        if read >= frames:
            return


@FACTS.fact(
    "switch",
    "It is of an effect whose repeats grow from one to the next, for some seconds.",
    how="measured",
    settings=RUNAWAY,
)
def runs_away(row: Row[MediaUse]) -> FactValue | Unknown:
    media_id = row.item.media.id
    if row.context.audio is None:
        return NOT_OPENED
    channel = next(_effects(row), None)
    if channel is None:
        return FactValue(False, "measured", row.subject.where, "no effect")
    found = _repeats(row.context, media_id)
    if isinstance(found, Unknown):
        return found
    one = Played(known(row.context.audio.measure(media_id)), stretches(row.context, channel).get(media_id, []))
    like, gain = row.context.setting(ALIKE), row.context.setting(GAIN)
    growing = [part for part in found if part.like >= like and part.gain >= gain and one.plays(part.at_s, 6.0)]
    if len(growing) < row.context.setting(TIMES):
        return FactValue(False, "measured", row.subject.where, "they die away")
    note = f"every {number_text(growing[0].every_s, 's')} from {one.place(row.context, growing[0].at_s)} on"
    return FactValue(True, "measured", row.subject.where, note)
