"""Where in the song a finding lies, and the mark that stands for it.

A finding tells its place in words, with times as :func:`mixlint.units.clock_text` writes them; they are read back here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final, NamedTuple

from mixlint.reports.words import parts_of_name, with_unit
from mixlint.review.findings import Finding
from mixlint.units import MINUS

_CLOCK: Final = rf"(?<![\w:.]){MINUS}?\d+:[0-5]\d\.\d(?![\d:])"
_SPAN: Final = re.compile(rf"({_CLOCK})(?: to ({_CLOCK}))?(?! of the file)")


class Place(NamedTuple):
    """A stretch of the song, seconds; both ends are the same for a moment."""

    start_s: float
    end_s: float


def place_of(finding: Finding) -> Place | None:
    """The first place in the song that a finding names; None where it names none.

    Times in names are none: names are taken out of the message first.
    """
    return next((place for text in _texts(finding) if (place := place_in(text)) is not None), None)


def place_in(text: str) -> Place | None:
    """The first place in the song that a text names; times of a file are passed over."""
    found = _SPAN.search(text)
    if found is None:
        return None
    start = seconds_of(found[1])
    return Place(start, max(start, seconds_of(found[2])) if found[2] else start)


def seconds_of(clock: str) -> float:
    """Seconds of a time as it is written: ``2:05.3`` is 125.3."""
    minutes, rest = clock.removeprefix(MINUS).split(":")
    seconds = 60.0 * int(minutes) + float(rest)
    return -seconds if clock.startswith(MINUS) else seconds


def _texts(finding: Finding) -> Iterator[str]:
    yield finding.where
    for one in finding.evidence:
        if one.limit is not None:
            yield one.where
            yield one.note
            if isinstance(one.value, str):
                yield with_unit(one.value)
    message = finding.message
    for name in parts_of_name(finding):
        message = message.replace(name, " ")
    yield message
