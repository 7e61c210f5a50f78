"""A known value and how it is known."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

How = Literal["declared", "measured", "derived", "assumed"]
"""Declared in the export, measured from audio, derived by computation, or resting on a named assumption."""

Scalar = float | int | bool | str
Value = Scalar | tuple[Scalar, ...]


@dataclass(frozen=True, slots=True)
class FactValue:
    """A known value, how it is known, where it stands in the export or the song, and what to add for a reader."""

    value: Value
    how: How
    where: str = ""
    note: str = ""

    @property
    def number(self) -> float:
        """The value of a fact that is declared as a number.

        Raises:
            TypeError: it is none: the fact answered with another kind than it declares.
        """
        if isinstance(self.value, bool) or not isinstance(self.value, int | float):
            raise TypeError(f"{self.value!r} is no number")
        return float(self.value)
