"""The strongly connected parts of a graph to which one edge after another is added.

When the ends of each edge come to lie in one part is found for all edges together, by halving the time: edges whose
ends lie together halfway were joined before it, all others come later, and what is joined is one node from there on. So
each edge is looked at as often as the number of edges can be halved, where finding the parts anew after each edge would
look at all of them each time.
"""

from __future__ import annotations

from collections.abc import Sequence


class Joined:
    """Nodes that are joined to parts, one pair after another.

    Args:
        count: how many nodes there are.
    """

    def __init__(self, count: int) -> None:
        self._above = list(range(count))

    def of(self, node: int) -> int:
        """The node that stands for the part that a node lies in."""
        above = self._above
        while above[node] != node:
            above[node] = above[above[node]]
            node = above[node]
        return node

    def join(self, one: int, other: int) -> None:
        """Make one part of those of two nodes."""
        self._above[self.of(one)] = self.of(other)


def joining_times(count: int, edges: Sequence[tuple[int, int]]) -> dict[int, int]:
    """When the ends of edges come to lie in one strongly connected part, where they do.

    Args:
        count: how many nodes there are.
        edges: the nodes that each edge leads from and to, in the order in which the edges are added.

    Returns:
        Number of an edge → number of the edge with which its ends are joined, no less than its own.
    """
    found: dict[int, int] = {}
    joined = Joined(count)
    # From when to when edges are joined, and which; the earlier are joined before the later are looked at.
    todo = [(0, len(edges), list(range(len(edges))))]
    while todo:
        first, last, numbers = todo.pop()
        if first == last:
            for number in numbers if first < len(edges) else ():  # what is left in the end is never joined
                found[number] = first
                joined.join(*edges[number])
            continue
        middle = (first + last) // 2
        ends = {number: tuple(map(joined.of, edges[number])) for number in numbers}
        part_of = parts([(one, other) for number, (one, other) in ends.items() if number <= middle])
        early: list[int] = []
        late: list[int] = []
        for number, (one, other) in ends.items():
            (early if number <= middle and part_of[one] == part_of[other] else late).append(number)
        todo += [(middle + 1, last, late), (first, middle, early)]
    return found


def parts(edges: Sequence[tuple[int, int]]) -> dict[int, int]:
    """The strongly connected parts of a graph (Tarjan 1972, SIAM Journal on Computing 1, 146–160), without recursion.

    Args:
        edges: the nodes that each edge leads from and to.

    Returns:
        Each node of an edge → the number of its part.
    """
    leads: dict[int, list[int]] = {}
    for one, other in edges:
        leads.setdefault(one, []).append(other)
        leads.setdefault(other, [])
    number: dict[int, int] = {}
    lowest: dict[int, int] = {}
    part: dict[int, int] = {}
    open_nodes: list[int] = []
    for root in leads:
        if root in number:
            continue
        number[root] = lowest[root] = len(number)
        open_nodes.append(root)
        way = [(root, iter(leads[root]))]
        while way:
            node, ahead = way[-1]
            for there in ahead:
                if there not in number:
                    number[there] = lowest[there] = len(number)
                    open_nodes.append(there)
                    way.append((there, iter(leads[there])))
                    break
                if there not in part:
                    lowest[node] = min(lowest[node], number[there])
            else:
                way.pop()
                if way:
                    lowest[way[-1][0]] = min(lowest[way[-1][0]], lowest[node])
                if lowest[node] == number[node]:
                    while node not in part:
                        part[open_nodes.pop()] = number[node]
    return part
