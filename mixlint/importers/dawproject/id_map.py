"""Ids and references: one map over all elements, forgiving of duplicates and of references that lead nowhere."""

from __future__ import annotations

from mixlint.importers.dawproject.xml_tree import Node


class IdMap:
    """Every element that has an id; where two share one, the first counts.

    Args:
        root: the document.
    """

    def __init__(self, root: Node) -> None:
        self._nodes: dict[str, Node] = {}
        self.duplicates: dict[str, int] = {}
        for node in root.walk():
            one = node.attrs.get("id")
            if not one:
                continue
            if one in self._nodes:
                self.duplicates[one] = self.duplicates.get(one, 1) + 1
            else:
                self._nodes[one] = node

    def node(self, reference: str) -> Node | None:
        """The element a reference means, or None."""
        return self._nodes.get(reference.strip())
