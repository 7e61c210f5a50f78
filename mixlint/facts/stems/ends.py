"""How the stems of a set begin and end, and which of them hold nothing."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.file_ends import FileEnds, file_ends
from mixlint.analysis.media_use import NOT_OPENED, file_name
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.session import MediaFile, Unknown
from mixlint.units import few_text, number_text

FACTS: Facts[tuple[MediaFile, ...]] = Facts()

FULL_DB: Final = Setting(
    "stems.full_sound",
    -45.0,
    "dBFS",
    "A stem whose last 10 ms, or whose first millisecond, are louder than this is cut off in its sound.",
    lowest=-90.0,
    highest=0.0,
)
UNDER_PEAK_DB: Final = 40.0
"""So much under the stem's own highest sample its end is a tail that dies away, or noise: a definition."""

FALLS_DB: Final = 20.0
"""So much under the half second before it an end is a fade: a definition."""

STEADY_DB: Final = 6.0
"""A beginning that is within this of what follows begins in the middle of a sound; an attack grows by more."""

STEP: Final = 0.1
"""And its first sample is more than this share of the first 5 ms; a drum that was trimmed begins near zero."""


def _ends(row: Row[tuple[MediaFile, ...]]) -> dict[str, FileEnds]:
    """File name to how it begins and ends; files that cannot be read are told of as such elsewhere."""
    found = {}
    for media in row.item:
        one = file_ends(row.context, media.id)
        if not isinstance(one, Unknown):
            found[file_name(media.path)] = one
    return found


def _listed(found: list[tuple[float, str]], row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    if row.context.audio is None:
        return NOT_OPENED
    worst = [text for _, text in sorted(found, reverse=True)]
    return FactValue(tuple(worst), "measured", "", few_text(worst))


@FACTS.fact(
    "list", "Stems that end in the middle of their sound, the loudest first.", how="measured", settings=(FULL_DB,)
)
def cut_at_end(row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    least = row.context.setting(FULL_DB)
    return _listed(
        [
            (one.last_dbfs, f"{name} ({number_text(one.last_dbfs, 'dBFS')} at its last sound)")
            for name, one in _ends(row).items()
            if one.last_dbfs > max(least, one.peak_dbfs - UNDER_PEAK_DB, one.before_dbfs - FALLS_DB)
        ],
        row,
    )


@FACTS.fact(
    "list", "Stems that begin in the middle of their sound, the loudest first.", how="measured", settings=(FULL_DB,)
)
def cut_at_start(row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    least = row.context.setting(FULL_DB)
    return _listed(
        [
            (one.first_dbfs, f"{name} ({number_text(one.first_dbfs, 'dBFS')} in its first millisecond)")
            for name, one in _ends(row).items()
            if one.first_dbfs > max(least, one.after_dbfs - STEADY_DB) and one.step > STEP
        ],
        row,
    )


@FACTS.fact("text", "Which stems are cut, and at which end.", how="measured", settings=(FULL_DB,))
def cut_text(row: Row[tuple[MediaFile, ...]]) -> str:
    ends, starts = row.need("cut_at_end"), row.need("cut_at_start")
    texts = [f"{what}: {fact.note}" for what, fact in (("at the end", ends), ("at the start", starts)) if fact.value]
    return "; ".join(texts) or "none"


@FACTS.fact("list", "Stems that are silent from beginning to end.", how="measured")
def silent(row: Row[tuple[MediaFile, ...]]) -> FactValue | Unknown:
    found = [(-one.length_s, name) for name, one in _ends(row).items() if one.peak_dbfs <= SILENT_DBFS]
    return _listed(found, row)


SILENT_DBFS: Final = -80.0
"""A stem with no sample over this holds no part: what is left is hiss or dither. A definition."""
