"""One channel's way to the mix bus as text: every arrival, stage by stage."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from mixlint.reports.plain import Page, in_columns, neutral, wrapped
from mixlint.reports.words import value_text
from mixlint.units import number_text

if TYPE_CHECKING:
    from mixlint.routing.trace_model import Arrival, Trace

_LEVEL = 9
_NARROW = 64
"""On a page narrower than this, strip and stage share a column."""
_NEVER = "It never arrives: no path leads to the mix bus, or something on every path is fully down or muted."


def trace_text(trace: Trace, page: Page, unseen: Iterable[str] = ()) -> str:
    """The trace; gains are dB re the channel's own signal.

    Args:
        trace: the arrivals, the strongest first.
        page: the width, and whether bold and dim can be used.
        unseen: what is not known on the channel's ways, so that the levels, or the ways, may be others.
    """
    name = neutral(trace.channel) or "(no name)"
    at = number_text(trace.at_hz, "Hz")
    lines = wrapped(f"{name} to the mix bus at {at}", page.width, "  ")
    reasons = [neutral(one) for one in unseen]
    if not trace.arrivals and not reasons:
        lines += ["", *wrapped(_NEVER, page.width, "")]
    if reasons:
        lines += ["", page.bold("cannot be seen in this export")]
        for one in reasons:
            lines += wrapped(one, page.width, "      ", "    ")
    for arrival in trace.arrivals:
        lines += ["", *_arrival(arrival, page)]
    if trace.arrivals:
        lines += ["", *wrapped("Gains in dB re the channel's own signal, left and right.", page.width, "")]
    return "\n".join(lines) + "\n"


def _arrival(arrival: Arrival, page: Page) -> list[str]:
    narrow = page.width < _NARROW
    free = page.width - 2 * _LEVEL - (4 if narrow else 6)
    widths = (free,) if narrow else (free * 4 // 10, free - free * 4 // 10)

    def row(at: str, stage: str, left: str, right: str) -> list[str]:
        """One line; where the page is narrow the stage stands below the strip that it is on."""
        places = [f"{at}, {stage}" if at and stage else at or stage] if narrow else [at, stage]
        return in_columns([*places, left, right], [*widths, _LEVEL, _LEVEL], {len(widths), len(widths) + 1})

    lines = wrapped(f"{arrival.kind}: {' → '.join(neutral(n) or '(no name)' for n in arrival.path)}", page.width, "  ")
    lines = [page.bold(line) for line in lines]
    lines += page.dims(row("at", "after", "left", "right"))
    lines.append(page.line)
    before = None
    for one in arrival.stages:
        said = neutral(one.at) if one.at != before else ""
        before = one.at
        lines += row(said, neutral(one.stage), value_text(one.left_db, "dB"), value_text(one.right_db, "dB"))
    lines.append(page.line)
    return [*lines, *row("arrives", "", value_text(arrival.left_db, "dB"), value_text(arrival.right_db, "dB"))]
