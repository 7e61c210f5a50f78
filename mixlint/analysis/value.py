"""The value of a fact and how it is known; what is not known is a :class:`mixlint.session.Unknown` instead."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

How = Literal["declared", "measured", "derived", "assumed"]
"""Declared in the export, measured from audio, derived by computation, or resting on a named assumption."""

Scalar = float | int | bool | str
Value = Scalar | tuple[Scalar, ...]


@dataclass(frozen=True, slots=True)
class FactValue:
    """A known value.

    Args:
        value: a number, switch, text or a list of these, in the unit that the fact declares.
        how: how it is known.
        where: its place in the export or the song, for a reader; empty for none.
        note: what to add to it for a reader; empty for nothing.
    """

    value: Value
    how: How
    where: str = ""
    note: str = ""

    @property
    def number(self) -> float:
        """The value of a fact that is declared as a number, in the fact's unit.

        Raises:
            TypeError: it is no number: the fact gave another kind of value than it declares.
        """
        if isinstance(self.value, bool) or not isinstance(self.value, int | float):
            raise TypeError(f"{self.value!r} is no number")
        return float(self.value)
