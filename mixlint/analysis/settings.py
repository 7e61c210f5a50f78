"""Settings: numbers by which an analysis decides, shared by all the rules whose facts use it.

Each is declared beside the analysis that reads it and named by the facts that depend on it, so that a rule's page, the
evidence of a finding and a house's standard all know of it. What only one rule asks is a limit of that rule instead.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from mixlint.units import UNITS


@dataclass(frozen=True, slots=True)
class Setting:
    """One number that a house may change under ``[settings]`` of its standard.

    Args:
        name: what a standard calls it: a subject and a name, such as ``counterparts.least_together``.
        value: what holds where no standard says otherwise.
        unit: one of :data:`mixlint.units.UNITS`.
        meaning: what it decides, as a sentence.
        basis: its source: ``common practice, no source``, or a published text.
        lowest: the least value a house may give it, in its unit.
        highest: the greatest value a house may give it.

    Raises:
        ValueError: the unit is none that mixlint writes, or the value is out of its own range.
    """

    name: str
    value: float
    unit: str
    meaning: str
    basis: str = "common practice, no source"
    lowest: float = -inf
    highest: float = inf

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise ValueError(f"{self.unit!r} is not a unit of mixlint.units")
        if not self.lowest <= self.value <= self.highest:
            raise ValueError(f"{self.name}: {self.value} lies out of {self.lowest} to {self.highest}")


def share_setting(name: str, percent: float, meaning: str, basis: str = "common practice, no source") -> Setting:
    """A setting that is a share: in ``%``, 0 to 100; the arguments are those of :class:`Setting`."""
    return Setting(name, percent, "%", meaning, basis, 0.0, 100.0)
