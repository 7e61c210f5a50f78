"""A metronome, or another clock, that is heard in a part: short sounds in its rests, at one distance, all alike."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import played, players
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.signal.ticks import Regular

FACTS: Facts[MediaUse] = Facts()

STRIKING: Final = frozenset(
    {"drums", "percussion", "keys", "synths", "plucked", "sound-effects", "backing-tracks", "buses", "utility"}
)
"""Families that play short sounds at one distance themselves; what is not told by its name is left out with them."""

TICKS: Final = Setting(
    "metronome.ticks", 8.0, "", "So many ticks at one distance are a clock.", lowest=5.0, basis="common practice"
)
SHARE: Final = Setting(
    "metronome.share",
    60.0,
    "%",
    "Of all short sounds that stand alone in a part so many lie on its places.",
    basis="tried: 81 parts of 16 songs that strike nothing hold 21 short sounds at most, of which 43 % lie so",
    lowest=30.0,
    highest=100.0,
)
JITTER: Final = Setting(
    "metronome.jitter", 4.0, "ms", "A clock is as exact; hands are not.", lowest=0.1, highest=8.0,
    basis="tried: planted metronomes 2.7 ms, read to 10 ms; notes that are played 3 to 7 ms",
)  # fmt: skip
SPREAD: Final = Setting(
    "metronome.spread", 2.5, "dB", "A clock is as even in level.", lowest=0.01, highest=6.0,
    basis="tried: planted metronomes 0.7 to 1.4 dB; what leaks from drums 3.8 dB and more",
)  # fmt: skip
SETTINGS: Final = (TICKS, SHARE, JITTER, SPREAD)


def _clock(row: Row[MediaUse]) -> Regular | None:
    from mixlint.signal.ticks import regular, ticks

    one, context = played(row), row.context
    found = ticks(one.measure.peak.max(axis=0), one.measure.cell_s)
    clock = regular(found)  # of the whole file: what a clip leaves out shows the clock as well
    heard = one.cells()[(found[:, 0] / one.measure.cell_s + 0.5).astype(int)] if found.size else found
    if not heard.any():
        return None
    if clock is None or clock.places < context.setting(TICKS) or 100.0 * clock.share < context.setting(SHARE):
        return None
    exact = 1000.0 * clock.jitter_s <= context.setting(JITTER) and clock.spread_db <= context.setting(SPREAD)
    return clock if exact else None


@FACTS.fact("switch", "Its part strikes nothing itself: a voice, strings, winds, a guitar or a bass.", how="derived")
def strikes_nothing(row: Row[MediaUse]) -> bool:
    families = {row.context.family(one.id) for one in players(row)}
    return bool(families) and not families & (STRIKING | {None})


@FACTS.fact(
    "number",
    "Short sounds that stand alone in it, all alike and at one distance, as those of a metronome; 0 without any.",
    how="measured",
    settings=SETTINGS,
)
def ticks(row: Row[MediaUse]) -> FactValue:
    clock = _clock(row)
    if clock is None:
        return FactValue(0.0, "measured", row.subject.where, "no short sounds come at one distance")
    place = played(row).place
    note = (
        f"every {number_text(clock.every_s, 's')}, which is {number_text(60.0 / clock.every_s)} a minute, "
        f"from {place(row.context, clock.first_s)} to {place(row.context, clock.last_s)}, "
        f"at {number_text(clock.level_db, 'dBFS')}"
    )
    return FactValue(float(clock.places), "measured", row.subject.where, note)
