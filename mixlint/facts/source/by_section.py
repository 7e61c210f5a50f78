"""How loud a part arrives section by section: against everything else, and against its like sections.

A part is measured while it sounds: steps of the grid in which it lies far under its own loudest are rests, breaths and
spill. Levels are K-weighted energies, so that their differences are LU.
"""

from __future__ import annotations

from math import log10
from typing import TYPE_CHECKING, Final, NamedTuple

from mixlint.analysis.activity import span_text, time_grid
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.energy import energy_at_mix, measured_energy
from mixlint.analysis.gaps import GAP_SETTINGS
from mixlint.analysis.like_sections import Section, like_sections, marked_sections
from mixlint.analysis.settings import Setting, share_setting
from mixlint.analysis.spectrum import SPECTRUM_SETTINGS
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, Unknown, known
from mixlint.signal.median import median
from mixlint.units import number_text

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FACTS: Facts[Channel] = Facts()

REST: Final = Setting(
    "by_section.rest", 30.0, "dB", "What lies this far under the loudest of a part is a rest or spill.", lowest=10.0
)
LEAST_SUNG: Final = Setting(
    "by_section.least_sung", 3.0, "s", "A section in which a part sounds for less has no level of its own.", lowest=0.5
)
LEAST_SHARE: Final = share_setting(
    "by_section.least_share", 40.0, "Like sections are compared where a part sounds in this share of each."
)
AGREE: Final = Setting(
    "by_section.agree", 5.0, "dB", "The other like sections have to lie this close for one to stand out.", lowest=1.0
)
LEVELS: Final = (REST, LEAST_SUNG, *SPECTRUM_SETTINGS, *GAP_SETTINGS)
LIKES: Final = (REST, LEAST_SUNG, LEAST_SHARE, AGREE, *SPECTRUM_SETTINGS, *GAP_SETTINGS)


class SectionLevel(NamedTuple):
    """A part in one section.

    Args:
        section: which.
        arrives_db: its level at the mix bus while it sounds there.
        recorded_db: the same at the input of its strip.
        over_rest_db: how far that at the mix bus lies over all other parts together in those steps; None where none
            of them plays.
        share: how much of the section it sounds in, 0 to 1.
    """

    section: Section
    arrives_db: float
    recorded_db: float
    over_rest_db: float | None
    share: float


@per_session
def section_levels(context: SessionContext, part: Channel) -> tuple[SectionLevel, ...] | Unknown:
    """The levels of a part in the sections that the markers name, where it sounds; Unknown without measured parts."""
    import numpy as np

    parts = energy_at_mix(context)
    if isinstance(parts, Unknown):
        return parts
    own = next((one for one in parts if one.channel == part.id), None)
    source = measured_energy(context, part)
    if own is None or source is None or not all(one.measured for one in parts):
        return Unknown(unknown="not every part is measured", settle="listen section by section")
    role = context.role(part.id)
    rest = np.zeros(own.left.shape)
    for one in parts:
        if context.role(one.channel) != role:
            rest = rest + one.left + one.right
    mine, fed = own.left + own.right, source.legs.sum(axis=0)
    edges = time_grid(context)
    middles = (edges[:-1] + edges[1:]) / 2.0
    sounds = fed > fed.max(initial=0.0) * 10.0 ** (-context.setting(REST) / 10.0)
    found = []
    for section in marked_sections(context):
        inside = (middles >= section.start_s) & (middles < section.end_s)
        here = inside & sounds
        if here.sum() * (edges[1] - edges[0]) < context.setting(LEAST_SUNG) or not mine[here].sum() > 0.0:
            continue
        level, against = float(mine[here].mean()), float(rest[here].mean())
        over = 10.0 * log10(level / against) if against > 0.0 else None
        share = float(here.sum() / max(1, inside.sum()))
        found.append(SectionLevel(section, 10.0 * log10(level), 10.0 * log10(float(fed[here].mean())), over, share))
    return tuple(found)


def _place(context: SessionContext, section: Section) -> str:
    return f"{section.name} ({span_text(context, section.start_s, section.end_s)})"


def _over_rest(row: Row[Channel]) -> list[tuple[float, Section]]:
    """How far a part lies over all others in each section, the lowest first."""
    levels = known(section_levels(row.context, row.item))
    found = [(one.over_rest_db, one.section) for one in levels if one.over_rest_db is not None]
    return sorted(found, key=lambda item: item[0])


@FACTS.fact(
    "number",
    "How far it lies over all other parts together in the marked section where it is lowest, while it sounds.",
    unit="dB",
    how="measured",
    settings=LEVELS,
)
def lowest_section_over_rest_db(row: Row[Channel]) -> FactValue | Unknown:
    found = _over_rest(row)
    if not found:
        return Unknown(unknown="no marker names a section in which it sounds long enough")
    where = _place(row.context, found[0][1])
    return FactValue(found[0][0], "measured", where, where)


@FACTS.fact("number", "The same where it is highest.", unit="dB", how="measured", settings=LEVELS)
def highest_section_over_rest_db(row: Row[Channel]) -> FactValue | Unknown:
    found = _over_rest(row)
    if not found:
        return Unknown(unknown="no marker names a section in which it sounds long enough")
    where = _place(row.context, found[-1][1])
    return FactValue(found[-1][0], "measured", where, where)


@FACTS.fact("text", "Where it is lowest and highest against all others, for a reader.", how="measured", settings=LEVELS)
def sections_text(row: Row[Channel]) -> str:
    low, high = row.need("lowest_section_over_rest_db"), row.need("highest_section_over_rest_db")
    texts = [
        f"{number_text(abs(one.number), 'dB')} {'over' if one.number >= 0.0 else 'under'} everything else in {one.note}"
        for one in ((low, high) if low.note != high.note else (low,))
    ]
    return f"lies {', and '.join(texts)}"


@FACTS.fact(
    "number",
    "How far the section where it is lowest against the others lies under the median of its sections.",
    unit="dB",
    how="measured",
    settings=LEVELS,
)
def section_dip_db(row: Row[Channel]) -> float | Unknown:
    found = [over for over, _ in _over_rest(row)]
    return median(found) - found[0] if len(found) > 1 else Unknown(unknown="it sounds in one section alone")


class _Off(NamedTuple):
    """A section in which a part is recorded at another level than in the like ones, and by how much, dB."""

    db: float
    section: Section
    others: tuple[Section, ...]


@per_session
def _off_its_like(context: SessionContext, part: Channel) -> _Off | Unknown | None:
    """The section that stands out most among three or more like ones, of which the others agree; None where none does.

    The first of them may be held back and the last one lifted. What the faders make even again is no matter: it has to
    arrive at another level as well.
    """
    levels = section_levels(context, part)
    if isinstance(levels, Unknown):
        return levels
    by_start = {one.section.start_s: one for one in levels if one.share * 100.0 >= context.setting(LEAST_SHARE)}
    worst: _Off | None = None
    compared = False
    for like in like_sections(context):
        alike = [by_start[s.start_s] for s in like.sections if s.start_s in by_start]
        for place, one in enumerate(alike):
            others = [other for other in alike if other is not one]
            if len(others) < FEWEST_OTHERS:
                continue
            compared = True
            recorded = [other.recorded_db for other in others]
            if max(recorded) - min(recorded) > context.setting(AGREE):
                continue
            off = one.recorded_db - median(recorded)
            arrives = one.arrives_db - median([other.arrives_db for other in others])
            held_back, lifted = place == 0 and off < 0.0, place == len(alike) - 1 and off > 0.0
            least = min(off, arrives, key=abs) if off * arrives > 0.0 else 0.0
            if not held_back and not lifted and (worst is None or abs(least) > abs(worst.db)):
                worst = _Off(least, one.section, tuple(other.section for other in others))
    return worst if compared else Unknown(unknown="it sounds in no three like sections")


FEWEST_OTHERS: Final = 2
"""Of two sections nothing tells which is out of line: a definition."""


@FACTS.fact(
    "number",
    "How far it is recorded, and arrives, over the like sections in the one that stands out; under them is negative.",
    unit="dB",
    how="measured",
    settings=LIKES,
)
def recorded_off_like_sections_db(row: Row[Channel]) -> FactValue:
    found = known(_off_its_like(row.context, row.item))
    if found is None:
        return FactValue(0.0, "measured", row.subject.where)
    where = _place(row.context, found.section)
    names = " and ".join(dict.fromkeys(one.name for one in found.others[:FEWEST_OTHERS]))
    way = "over" if found.db > 0.0 else "under"
    return FactValue(found.db, "measured", where, f"{number_text(abs(found.db), 'dB')} {way} {names} in {where}")
