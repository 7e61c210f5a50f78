"""Stretches at which a fader stands far over all that it is anywhere else: a sign that was lost, or a digit.

The mirror of a sunk stretch. Solos stand over the rest on purpose, so that one counts for a lead, or where the level
with its sign turned over would lie among the others.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import span_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.lane.lanes import SILENT, ChannelLane
from mixlint.facts.lane.rides import CLOSED, readings
from mixlint.naming import plays_solo
from mixlint.session import FADER, Automation, Channel
from mixlint.session.control import is_readable, moves
from mixlint.signal.runs import runs

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[ChannelLane] = Facts()

TOWERS: Final = Setting(
    "towers.over", 5.0, "dB", "A stretch so far over all others of a lead's fader stands out.", lowest=1.0
)
SIGN_LOST: Final = Setting(
    "towers.sign_lost",
    3.0,
    "dB",
    "The same for any fader that stands over 0 dB nowhere else, where its level with a minus lies among the others.",
    lowest=1.0,
)
LEAST_TOWER: Final = Setting("towers.least", 4.0, "s", "A stretch has to last so long to be no spike.", lowest=0.5)
TOWER_SETTINGS: Final = (TOWERS, SIGN_LOST, LEAST_TOWER, CLOSED, SILENT)

LEADS: Final = ("lead-vocal", "speech")
"""Parts whose level over the song is one, but for a few decibels."""

FITS_DB: Final = 0.5
"""A level within this of the others lies among them: no setting, lanes are written to the half decibel."""


class Tower(NamedTuple):
    """The highest stretch of a fader.

    Args:
        db: how far it stands over all else.
        level: where it stands, dB.
        start_s, end_s: from when to when, seconds.
    """

    db: float
    level: float
    start_s: float
    end_s: float


@per_session
def tower(context: SessionContext, channel: Channel, lane: Automation) -> Tower | None:
    """The one stretch that stands far over all else of a fader, before and after which it plays; None for none."""
    read = readings(context, channel, lane)
    if not read.sounding.any():
        return None
    heard = read.levels[read.sounding]
    top = float(heard.max())
    high = read.sounding & (read.levels >= top - FITS_DB)
    found = runs(read.levels >= top - FITS_DB)
    first, last = max(found, key=lambda run: run[1] - run[0])
    # The rise to it and the fall from it belong to it.
    margin = max(1, round(1.0 / read.step_s))
    rest = read.sounding.copy()
    for start, end in found:
        if (start, end) == (first, last):
            rest[max(0, start - margin) : end + 1 + margin] = False
    sounds = int(high[first : last + 1].sum()) * read.step_s
    # Where a part is shut, its fader stands nowhere.
    rest &= read.levels > context.setting(CLOSED)
    around = 4 * int(rest.sum()) >= heard.size and rest[:first].any() and rest[last:].any()
    if not around or sounds < context.setting(LEAST_TOWER) or sounds > 0.4 * heard.size * read.step_s:
        return None
    others = read.levels[rest]
    low, up = _lowest_but_few(others), float(others.max())
    over = top - up
    soloist = plays_solo(channel.name, context.house.vocabulary)
    fits = top > 0.0 >= up and low - FITS_DB <= -top <= up + FITS_DB
    if fits and over >= context.setting(SIGN_LOST):
        return Tower(over, top, float(read.times[first]), float(read.times[last]))
    if over >= context.setting(TOWERS) and context.role(channel.id) in LEADS and not soloist:
        return Tower(over, top, float(read.times[first]), float(read.times[last]))
    return None


def _lowest_but_few(levels: Floats) -> float:
    """The level over which 95 % of some levels (N,) lie, dB, between two of them in proportion.

    ``np.percentile`` loads on its first call what takes longer than the reading of a lane.
    """
    import numpy as np

    ordered = np.sort(levels)
    return float(np.interp(0.05 * (ordered.size - 1), np.arange(ordered.size), ordered))


@FACTS.fact(
    "number",
    "How far the one stretch that stands out of a lead's fader, or of one that lost its sign, lies over all else; 0 "
    "where none does.",
    unit="dB",
    how="derived",
    settings=TOWER_SETTINGS,
)
def towers_db(row: Row[ChannelLane]) -> FactValue:
    lane, context = row.item.lane, row.context
    none = FactValue(0.0, "derived", row.subject.where)
    if lane.target != FADER or not is_readable(lane) or not moves(lane):
        return none
    found = tower(context, row.item.channel, lane)
    if found is None:
        return none
    where = span_text(context, found.start_s, found.end_s)
    return FactValue(found.db, "derived", where, where)


@FACTS.fact(
    "number",
    "The level of the stretch that stands out; 0 where none does.",
    unit="dB",
    how="derived",
    settings=TOWER_SETTINGS,
)
def towers_at_db(row: Row[ChannelLane]) -> float:
    if not row.need("towers_db").number:
        return 0.0
    found = tower(row.context, row.item.channel, row.item.lane)
    return found.level if found is not None else 0.0
