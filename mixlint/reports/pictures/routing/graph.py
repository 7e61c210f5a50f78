"""Which line runs forwards and which back, and the layer in which each box stands.

Boxes are numbered from 0 in desk order; a link leads from one box to another, or to itself.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence, Set
from typing import NamedTuple


class Link(NamedTuple):
    """One line that is to be drawn.

    Args:
        source, to: numbers of the boxes.
        alike: lines to one box that share it run together over the layers between; None runs alone.
    """

    source: int
    to: int
    alike: Hashable = None


def leading_back(count: int, links: Sequence[Link], weakest: Set[int] = frozenset()) -> frozenset[int]:
    """The places of the links that are drawn backwards, so that all others run one way.

    The rule: a ring is broken at the link that ``weakest`` names; one of which it names none, at the link that leads
    back to a box on the way that a search in depth, in the order of the boxes, has come. What is then found to close
    no ring runs forwards after all, so that none is turned in vain (Eades, Lin and Smyth, "A fast and effective
    heuristic for the feedback arc set problem", 1993, call such a set minimal).
    """
    own = {n for n, link in enumerate(links) if link.source == link.to}
    turned = {n for n in weakest if n not in own}
    turned |= _closing(count, links, own | turned)
    order = _in_order(count, [link for n, link in enumerate(links) if n not in own and n not in turned])
    reach = [0] * count  # a bit for each box that can be come to
    onward: list[set[int]] = [set() for _ in range(count)]
    for n, link in enumerate(links):
        if n not in own and n not in turned:
            onward[link.source].add(link.to)
    for here in reversed(order):
        for there in onward[here]:
            reach[here] |= reach[there] | 1 << there
    for n in sorted(turned):
        source, to, _ = links[n]
        if reach[to] >> source & 1:
            continue
        turned.discard(n)
        more = reach[to] | 1 << to
        for one in range(count):
            if one == source or reach[one] >> source & 1:
                reach[one] |= more
    return frozenset(own | turned)


def _closing(count: int, links: Sequence[Link], without: Set[int]) -> set[int]:
    """The links that lead to a box from which a search in depth, in the order of the boxes, is still under way."""
    leaving: list[list[int]] = [[] for _ in range(count)]
    for n, link in enumerate(links):
        if n not in without:
            leaving[link.source].append(n)
    found: set[int] = set()
    state = [0] * count  # 1 under way, 2 done
    for start in range(count):
        if state[start]:
            continue
        state[start] = 1
        way = [(start, iter(leaving[start]))]
        while way:
            here, rest = way[-1]
            for n in rest:
                there = links[n].to
                if state[there] == 1:
                    found.add(n)
                elif not state[there]:
                    state[there] = 1
                    way.append((there, iter(leaving[there])))
                    break
            else:
                state[here] = 2
                way.pop()
    return found


def _in_order(count: int, links: Iterable[Link]) -> list[int]:
    """The boxes, each before all that it feeds."""
    left = [0] * count
    leaving: list[list[int]] = [[] for _ in range(count)]
    for link in links:
        left[link.to] += 1
        leaving[link.source].append(link.to)
    found = [one for one in range(count) if not left[one]]
    for here in found:
        for there in leaving[here]:
            left[there] -= 1
            if not left[there]:
                found.append(there)
    return found


def layers_of(count: int, links: Sequence[Link], back: Set[int], most: int = 0) -> list[int]:
    """The layer of each box, from 0, so that every link that is not in ``back`` leads to a later one.

    A box stands as many layers in as the longest way to it has lines. What nothing feeds stands right before the
    first that it feeds, so that its line is short. A box without any line fills the layer that has the fewest boxes.

    Args:
        count: how many boxes there are.
        links: the lines.
        back: places of the lines that run backwards.
        most: how many boxes without any line a layer of theirs takes before there is another.
    """
    ahead = [link for n, link in enumerate(links) if n not in back]
    layer = [0] * count
    leaving: list[list[int]] = [[] for _ in range(count)]
    fed = [False] * count
    for link in ahead:
        leaving[link.source].append(link.to)
        fed[link.to] = True
    for here in _in_order(count, ahead):
        for there in leaving[here]:
            layer[there] = max(layer[there], layer[here] + 1)
    touched = {one for link in links for one in link[:2]}
    for here in range(count):
        if leaving[here] and not fed[here]:
            layer[here] = min(layer[there] for there in leaving[here]) - 1
    alone = [one for one in range(count) if one not in touched]
    if alone:
        height: dict[int, int] = dict.fromkeys(range(max(layer, default=0) + 1), 0)
        for one in touched:
            height[layer[one]] += 1
        if most:
            height |= dict.fromkeys(range(len(height), min(LAYERS_ALONE, -(-len(alone) // most))), 0)
        for one in alone:
            layer[one] = min(height, key=lambda k: (height[k], k))
            height[layer[one]] += 1
        used = sorted(set(layer))
        layer = [used.index(k) for k in layer]
    return layer


LAYERS_ALONE = 4
"""Boxes without any line are spread over so many layers, so that a session without outputs is no single column."""
