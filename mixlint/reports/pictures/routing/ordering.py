"""The order of what stands in each layer, so that few lines cross.

Lines over several layers pass a place of their own in each. The order follows Sugiyama, Tagawa and Toda, "Methods for
visual understanding of hierarchical system structures" (1981): sweeps over the layers that put each place where the
barycentre of its neighbours lies, or by turns their median (Eades and Wormald, "Edge crossings in drawings of
bipartite graphs", 1994), neighbours then changing places where it helps (Gansner, Koutsofios, North and Vo, "A
technique for drawing directed graphs", 1993). Crossings are counted with the accumulator tree of Barth, Jünger and
Mutzel, "Simple and efficient bilayer cross counting" (2002).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

SWEEPS: Final = 24
"""Sweeps at the most."""

PATIENCE: Final = 4
"""Sweeps without fewer crossings after which the search ends."""


class Places(NamedTuple):
    """What is to be put in order: places (boxes and the turns of long lines) and the pieces of lines between them.

    Args:
        layer: the layer of each place.
        pieces: pairs of places in neighbouring layers, the one of the earlier layer first.
    """

    layer: Sequence[int]
    pieces: Sequence[tuple[int, int]]


def ordered(places: Places) -> list[list[int]]:
    """The places of each layer from top to bottom, with few crossings; the same places always come out alike."""
    before: list[list[int]] = [[] for _ in places.layer]
    after: list[list[int]] = [[] for _ in places.layer]
    for a, b in places.pieces:
        after[a].append(b)
        before[b].append(a)
    count = max(places.layer, default=-1) + 1
    best: list[list[int]] = []
    fewest = -1
    for start in range(2):
        layers = _first(places, count, before if start == 0 else after, backwards=start == 1)
        crossed = crossings(layers, after)
        if fewest < 0 or crossed < fewest:
            best, fewest = [list(one) for one in layers], crossed
        waited = 0
        for sweep in range(SWEEPS):
            if fewest == 0 or waited >= PATIENCE:
                break
            downwards = sweep % 2 == 0
            _sweep(layers, before if downwards else after, downwards=downwards, median=sweep % 4 >= 2)
            _exchanged(layers, before, after)
            crossed = crossings(layers, after)
            waited += 1
            if crossed < fewest:
                best, fewest, waited = [list(one) for one in layers], crossed, 0
    return best


def crossings(layers: Sequence[Sequence[int]], after: Sequence[Sequence[int]]) -> int:
    """How many pairs of pieces cross; ``after`` gives the neighbours of a place in the next layer."""
    total = 0
    for here, there in pairwise(layers):
        at = {one: place for place, one in enumerate(there)}
        total += _inverted([place for one in here for place in sorted(at[n] for n in after[one])], len(there))
    return total


def _inverted(ends: list[int], size: int) -> int:
    """How many pairs of ``ends``, each below ``size``, stand in the wrong order."""
    first = 1
    while first < size:
        first *= 2
    tree = [0] * (2 * first)
    total = 0
    for end in ends:
        at = end + first
        tree[at] += 1
        while at > 1:
            if at % 2 == 0:
                total += tree[at + 1]
            at //= 2
            tree[at] += 1
    return total


def _first(places: Places, count: int, seen: Sequence[Sequence[int]], *, backwards: bool) -> list[list[int]]:
    """A first order: that of the numbers in the layer it begins with, then by the barycentre of what was placed."""
    layers: list[list[int]] = [[] for _ in range(count)]
    for place, k in enumerate(places.layer):
        layers[k].append(place)
    at: dict[int, float] = {}
    for k in range(count)[::-1] if backwards else range(count):
        here = layers[k]
        wish = {one: _mean([at[n] for n in seen[one]], row) for row, one in enumerate(here)}
        here.sort(key=lambda one, wish=wish: wish[one])  # type: ignore[misc]
        at |= {one: float(row) for row, one in enumerate(here)}
    return layers


def _sweep(layers: list[list[int]], seen: Sequence[Sequence[int]], *, downwards: bool, median: bool) -> None:
    """Put every layer in the order of its neighbours in the one before, as the sweep runs; what has none stays."""
    order = range(1, len(layers)) if downwards else range(len(layers) - 2, -1, -1)
    for k in order:
        beside = layers[k - 1 if downwards else k + 1]
        at = {one: place for place, one in enumerate(beside)}
        middle = _median if median else _mean
        wish = {one: middle([float(at[n]) for n in seen[one]], -1.0) for one in layers[k]}
        moving = iter(sorted((one for one in layers[k] if wish[one] >= 0.0), key=lambda one: wish[one]))
        layers[k] = [one if wish[one] < 0.0 else next(moving) for one in layers[k]]


def _mean(values: list[float], otherwise: float) -> float:
    return sum(values) / len(values) if values else otherwise


def _median(values: list[float], otherwise: float) -> float:
    """The median; of an even number the mean of both middle ones, drawn towards where they lie closer (Gansner)."""
    if not values:
        return otherwise
    values.sort()
    half = len(values) // 2
    if len(values) % 2:
        return values[half]
    if len(values) == 2:
        return (values[0] + values[1]) / 2.0
    left, right = values[half - 1] - values[0], values[-1] - values[half]
    if not left + right:
        return (values[half - 1] + values[half]) / 2.0
    return (values[half - 1] * right + values[half] * left) / (left + right)


def _exchanged(layers: list[list[int]], before: Sequence[Sequence[int]], after: Sequence[Sequence[int]]) -> None:
    """Exchange neighbours in a layer as long as that saves crossings."""
    at = {one: row for layer in layers for row, one in enumerate(layer)}
    ends = {one: (_sorted(before[one], at), _sorted(after[one], at)) for layer in layers for one in layer}
    todo = set(range(len(layers)))
    while todo:
        k = min(todo)
        todo.discard(k)
        layer = layers[k]
        for one in layer:
            ends[one] = (_sorted(before[one], at), _sorted(after[one], at))
        changed = True
        moved = False
        while changed:
            changed = False
            for row in range(len(layer) - 1):
                upper, lower = layer[row], layer[row + 1]
                (u, w), (v, x) = ends[upper], ends[lower]
                if not ((u and v and u[-1] > v[0]) or (w and x and w[-1] > x[0])):
                    continue  # nothing of theirs crosses
                if _gain(u, v) + _gain(w, x) > 0:
                    layer[row], layer[row + 1] = lower, upper
                    at[upper], at[lower] = row + 1, row
                    changed = moved = True
        if moved:
            todo |= {n for n in (k - 1, k + 1) if 0 <= n < len(layers)}


def _sorted(neighbours: Sequence[int], at: dict[int, int]) -> list[int]:
    return sorted(at[n] for n in neighbours)


def _gain(upper: list[int], lower: list[int]) -> int:
    """How many crossings fewer there are if the upper of two places, with these ends, goes below the lower."""
    total = below = above = 0
    for end in upper:
        while below < len(lower) and lower[below] < end:
            below += 1
        while above < len(lower) and lower[above] <= end:
            above += 1
        total += below - (len(lower) - above)
    return total
