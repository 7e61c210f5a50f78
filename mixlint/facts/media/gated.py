"""Voices whose words were chopped by a gate before they came into the session."""

from __future__ import annotations

from typing import Final

from mixlint.analysis.media_use import MediaUse
from mixlint.analysis.settings import Setting
from mixlint.facts.declare import Facts, FactValue, Row
from mixlint.facts.media.heard import SHOWN, played, players
from mixlint.units import few_text

FACTS: Facts[MediaUse] = Facts()

DROP: Final = Setting(
    "chops.drop", 35.0, "dB", "By so much a sound falls at once where a gate shuts on it.", lowest=20.0, highest=300.0
)
UNDER: Final = Setting(
    "chops.under", 16.0, "dB",
    "What lies so far under the loudest places has died away, and may be cut off.", lowest=0.0, highest=60.0,
    basis="tried: voices, strings and winds of 16 good songs break off twice at most; two gated voices 19 and 20 times",
)  # fmt: skip

BREATHING: Final = frozenset({"vocals", "speech", "strings", "winds", "brass"})
"""Families that end their notes with breath, bow or room: a definition. Drums and guitars are gated on purpose."""


@FACTS.fact("switch", "All heard parts that play it sing, speak, blow or bow.", how="derived")
def of_breath_or_bow(row: Row[MediaUse]) -> bool:
    families = {row.context.family(one.id) for one in players(row)}
    return bool(families) and families <= BREATHING


@FACTS.fact(
    "number",
    "How often it breaks off from sound to nothing within two hundredths of a second, or in, whichever is rarer.",
    how="measured",
    settings=(DROP, UNDER),
)
def chops(row: Row[MediaUse]) -> FactValue:
    from mixlint.media.measure import peak_levels
    from mixlint.signal.chops import chops as chopped

    one = played(row)
    cells = one.cells()
    peak = peak_levels(one.measure.peak.max(axis=0))
    ends, begins = (
        [at for at in found if cells[at]]
        for found in chopped(peak, row.context.setting(DROP), row.context.setting(UNDER))
    )
    loudest = sorted(ends, key=lambda at: -peak[at])[:SHOWN]
    texts = [one.place(row.context, at * one.measure.cell_s) for at in sorted(loudest)]
    note = few_text(texts, SHOWN, between="; ") or "none"
    return FactValue(min(len(ends), len(begins)), "measured", row.subject.where, note)
