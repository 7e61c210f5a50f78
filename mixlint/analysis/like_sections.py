"""Sections by the session's markers, and those of one kind: choruses, verses, whatever is named alike."""

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
def marked_sections(context: SessionContext) -> tuple[Section, ...]:
    """Each marker's section, in order of time; one whose marker shares its time with the next is none."""
    markers = sorted(context.session.markers, key=lambda marker: marker.time_s)
    ends = [*(marker.time_s for marker in markers[1:]), song_end_s(context)]
    return tuple(
        Section(marker.time_s, end, marker.name)
        for marker, end in zip(markers, ends, strict=False)
        if end > marker.time_s
    )


@per_session
def like_sections(context: SessionContext) -> tuple[LikeSections, ...]:
    """The kinds of sections that come three times or more.

    Sections that are numbered have to be numbered in order: ``b3``, ``b15`` and ``b19`` are bars.
    """
    words = context.house.vocabulary
    found: dict[str, list[tuple[Section, int | None]]] = {}
    for section in marked_sections(context):
        kind, number = section_kind(section.name, words)
        if kind:
            found.setdefault(kind, []).append((section, number))
    return tuple(
        LikeSections(tuple(section for section, _ in alike), is_chorus_kind(kind, words))
        for kind, alike in found.items()
        if len(alike) >= LEAST_ALIKE and _in_order([number for _, number in alike if number is not None])
    )


def _in_order(numbers: list[int]) -> bool:
    """True where numbers go up by one, or where there are none."""
    return not numbers or (numbers[0] <= 2 and all(b - a == 1 for a, b in pairwise(numbers)))
