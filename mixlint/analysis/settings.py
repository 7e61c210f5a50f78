"""Settings: numbers that decide what an analysis takes for what, shared by the rules that rest on it.

Each stands beside the analysis that uses it and is named by the facts that rest on it, so that a rule's page, the
evidence of a finding and a house's standard all know of it. What only one rule asks is a limit of that rule instead.
"""

from __future__ import annotations

from dataclasses import dataclass

from mixlint.units import UNITS


@dataclass(frozen=True, slots=True)
class Setting:
    """One number that a house may change under ``[settings]`` of its standard.

    Args:
        name: what a standard calls it: a subject and a name, such as ``matching.least_together``.
        value: what holds where no standard says otherwise.
        unit: one of :data:`mixlint.units.UNITS`.
        meaning: what it decides, as a sentence.
        basis: what it rests on: ``common practice, no source``, or a published text.

    Raises:
        ValueError: the unit is none that mixlint writes.
    """

    name: str
    value: float
    unit: str
    meaning: str
    basis: str = "common practice, no source"

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise ValueError(f"{self.unit!r} is not a unit of mixlint.units")
