"""What an automation lane can move: parameters by their id, with the way their figures are to be read."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from mixlint.importers.dawproject.values import Real
from mixlint.importers.dawproject.xml_tree import Node


@dataclass(frozen=True, slots=True)
class Target:
    """One parameter: the channel it is on, its name in the model, and its unit and range as written.

    ``raise_by`` multiplies linear levels, where a writer is known to store them low, and shares written as 0 to 1.
    """

    channel: str
    name: str
    kind: Literal["level", "pan", "switch", "plain"]
    parameter: Real
    raise_by: float = 1.0


class Targets:
    """All parameters of the file by id; the first of duplicates counts."""

    def __init__(self) -> None:
        self._by_id: dict[str, Target] = {}
        self._id_of: dict[tuple[str, str], str] = {}

    def add(self, node: Node | None, target: Target) -> None:
        """Remember a parameter, if it has an id."""
        if node is not None and node.has("id"):
            self._by_id.setdefault(node.get("id"), target)
            self._id_of.setdefault((target.channel, target.name), node.get("id"))

    def find(self, reference: str) -> Target | None:
        """The parameter a lane means."""
        return self._by_id.get(reference.strip())

    def rename(self, name: str, channel: str, new_name: str, factor: float) -> None:
        """Give a parameter its name in the model; ``factor`` turns its figures into the model's unit."""
        key = self._id_of.get((channel, name))
        if key is not None:
            self._by_id[key] = replace(self._by_id[key], name=new_name, raise_by=factor)
