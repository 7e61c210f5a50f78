"""Prints side by side: whether one of several that were printed together is shorter than the others."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.activity import moment_text
from mixlint.analysis.context import SessionContext, per_session
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.naming import is_print
from mixlint.session import Channel

LEAST_PRINTS: Final = Setting(
    "prints.least_together", 3.0, "", "So many prints that run to one end were printed together.", lowest=2.0
)
SAME_END: Final = Setting("prints.same_end", 0.5, "s", "Ends this near are one.", lowest=0.0)


def _end_s(channel: Channel) -> float | None:
    """When the last clip of a print ends, muted or not; None for a channel that is no print, or empty."""
    return max((clip.end_s for clip in channel.clips if clip.plays == "audio"), default=None)


@per_session
def short_prints(context: SessionContext) -> dict[str, tuple[float, float]]:
    """Channel id → by how much a print ends before the others, and where, seconds."""
    words = context.house.vocabulary
    prints = [c for c in context.session.channels if c.kind == "track" and is_print(c.name, words)]
    ends = {c.id: end for c in prints if (end := _end_s(c)) is not None}
    if not ends:
        return {}
    last, near = max(ends.values()), context.setting(SAME_END)
    together = sum(last - end <= near for end in ends.values())
    if together < context.setting(LEAST_PRINTS) or 2 * together <= len(ends):
        return {}
    return {one: (last - end, end) for one, end in ends.items() if last - end > near}


FACTS: Facts[Channel] = Facts()


@FACTS.fact(
    "number",
    "By how much it ends before the other prints, for a print among several that run to one end; 0 otherwise.",
    unit="s",
    how="derived",
    settings=(LEAST_PRINTS, SAME_END),
)
def print_short_s(row: Row[Channel]) -> FactValue:
    found = short_prints(row.context).get(row.subject.id)
    if found is None:
        return FactValue(0.0, "derived", row.subject.where)
    short, end = found
    return FactValue(short, "derived", moment_text(row.context, end), moment_text(row.context, end))
