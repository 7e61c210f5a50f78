"""What the parts of a bus come to when they are added up sample by sample."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import moment_text
from mixlint.analysis.bus_sums import FULL_SCALE_DB, BusSum, bus_sum
from mixlint.analysis.context import SessionContext
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import Channel, NotKnown, Unknown, known
from mixlint.units import number_text

FACTS: Facts[Channel] = Facts()

NAMED: Final = 3
"""So many parts are named: wording."""

LEAST_NAMED: Final = 10.0
"""A part with less of the peak than this is not named, %: wording."""


def settled_sum(context: SessionContext, bus: Channel) -> BusSum:
    """The sum of a bus.

    Raises:
        NotKnown: the parts cannot be added up, or places are left that were not and may come over full scale.
    """
    found = known(bus_sum(context, bus))
    if not found.proven and found.dbfs <= FULL_SCALE_DB < found.rest_dbfs:
        raise NotKnown(
            Unknown(
                unknown=f"its loudest places come to {number_text(found.dbfs, 'dBFS')}, and what was not added up "
                f"could come to {number_text(found.rest_dbfs, 'dBFS')}",
                settle="watch its meter",
            )
        )
    return found


def sum_text(context: SessionContext, found: BusSum) -> str:
    """When a bus is highest, and by whom."""
    whose = [
        f"{context.name(share.channel)} {share.percent:.0f} %"
        for share in found.shares[:NAMED]
        if share.percent >= LEAST_NAMED
    ]
    by = f", made by {', '.join(whose)}" if whose else ""
    return f"{moment_text(context, found.at_s)}{by}"


@FACTS.fact(
    "number",
    "The highest peak behind its fader, of its parts added sample by sample without their ambience; not known where a "
    "processor on the way may change it.",
    unit="dBFS",
    how="measured",
)
def summed_peak_dbfs(row: Row[Channel]) -> FactValue:
    found = settled_sum(row.context, row.item)
    return FactValue(found.dbfs, "measured", moment_text(row.context, found.at_s), sum_text(row.context, found))


@FACTS.fact(
    "number",
    "The true peak there (ITU-R BS.1770-5, Annex 2): the highest between the samples.",
    unit="dBTP",
    how="measured",
)
def summed_true_peak_dbtp(row: Row[Channel]) -> FactValue:
    found = settled_sum(row.context, row.item)
    return FactValue(found.true_dbtp, "measured", moment_text(row.context, found.at_s), sum_text(row.context, found))
