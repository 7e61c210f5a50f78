"""Sections of one kind by the session's markers: the choruses, the verses, whatever is named alike and comes again."""

from __future__ import annotations

from itertools import pairwise
from typing import Final, NamedTuple

from mixlint.analysis.activity import song_end_s
from mixlint.analysis.context import SessionContext, per_session
from mixlint.naming import is_chorus_kind, section_kind

LEAST_ALIKE: Final = 3
"""So many sections of a kind, that one of them can stand against two that agree. No setting: two tell nothing."""


class Section(NamedTuple):
    """One section.

    Args:
        start_s, end_s: from its marker to the next, or to the end of what plays, seconds.
        name: as its marker is named.
    """

    start_s: float
    end_s: float
    name: str


class LikeSections(NamedTuple):
    """Three sections or more of one kind, in order of time; ``choruses`` where that is what they are."""

    sections: tuple[Section, ...]
    choruses: bool


@per_session
def like_sections(context: SessionContext) -> tuple[LikeSections, ...]:
    """The kinds of sections that come three times or more.

    Sections that are numbered have to be numbered in order: ``b3``, ``b15`` and ``b19`` are bars.
    """
    markers = sorted(context.session.markers, key=lambda marker: marker.time_s)
    ends = [*(marker.time_s for marker in markers[1:]), song_end_s(context)]
    words = context.house.vocabulary
    found: dict[str, list[tuple[Section, int | None]]] = {}
    for marker, end in zip(markers, ends, strict=False):
        kind, number = section_kind(marker.name, words)
        if end > marker.time_s and kind:
            found.setdefault(kind, []).append((Section(marker.time_s, end, marker.name), number))
    return tuple(
        LikeSections(tuple(section for section, _ in alike), is_chorus_kind(kind, words))
        for kind, alike in found.items()
        if len(alike) >= LEAST_ALIKE and _in_order([number for _, number in alike if number is not None])
    )


def _in_order(numbers: list[int]) -> bool:
    """True where numbers go up by one, or where there are none."""
    return not numbers or (numbers[0] <= 2 and all(b - a == 1 for a, b in pairwise(numbers)))
