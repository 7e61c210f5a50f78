"""What an automation lane can move: parameters by their id, with the way their figures are to be read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from mixlint.importers.dawproject.values import Real
from mixlint.importers.dawproject.xml_tree import Node
from mixlint.session import Target, Unknown

ReadFigure: TypeAlias = Callable[[Real], float | Unknown]
"""A figure as written to one in the model's unit; Unknown where its unit is not read."""


@dataclass(frozen=True, slots=True)
class AutomatedParameter:
    """One parameter: the channel it is on, the control it is in the model, and its unit and range as written.

    Args:
        channel: id of the channel.
        target: the control.
        kind: how its figures are read; a gain is a level that is in dB where no unit is given, and of one that is
            doubted they cannot be told.
        parameter: unit, range and value as written.
        raise_by: multiplies linear levels, where a writer is known to store them low, and shares written as 0 to 1.
        read: turns figures of a plain setting into the model's unit; None where they are taken as they are.
    """

    channel: str
    target: Target
    kind: Literal["level", "gain", "pan", "switch", "plain", "doubted"]
    parameter: Real
    raise_by: float = 1.0
    read: ReadFigure | None = None


class AutomatedParameters:
    """All parameters of the file by id; the first of duplicates counts."""

    def __init__(self) -> None:
        self._by_id: dict[str, AutomatedParameter] = {}
        self._id_of: dict[tuple[str, Target], str] = {}

    def add(self, node: Node | None, parameter: AutomatedParameter) -> None:
        """Remember a parameter, if it has an id."""
        if node is not None and node.has("id"):
            self._by_id.setdefault(node.get("id"), parameter)
            self._id_of.setdefault((parameter.channel, parameter.target), node.get("id"))

    def find(self, reference: str) -> AutomatedParameter | None:
        """The parameter a lane means."""
        return self._by_id.get(reference.strip())

    def rename(self, channel: str, target: Target, now: Target, factor: float) -> None:
        """Give a parameter its control in the model; ``factor`` turns its figures into the model's unit."""
        key = self._id_of.get((channel, target))
        if key is not None:
            self._by_id[key] = replace(self._by_id[key], target=now, raise_by=factor)
